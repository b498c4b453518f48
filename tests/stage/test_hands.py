"""Hands before and after discussion are read, refused in a sentence, and their gain is Hake's."""

import pytest

from gypsumkit.problems import Problem
from gypsumkit.stage.hands import Hands, gain_words, normalised_gain, percent_right, read_hands

LETTERS = ("A", "B", "C")


@pytest.mark.parametrize("before, after, gain", [
    # Worked by hand from the definition of R.R. Hake, American Journal of Physics 66 (1998) 64-74: actual over largest possible gain.
    (45, 75, 30 / 55), (30, 79, 0.7), (20, 100, 1.0), (60, 60, 0.0), (50, 25, -0.5),
])
def test_the_normalised_gain_is_the_part_of_the_possible_gain_that_was_reached(before, after, gain):
    assert normalised_gain(before, after) == pytest.approx(gain)


def test_where_all_were_right_before_there_is_no_gain_and_it_is_said():
    assert normalised_gain(100, 90) is None
    assert "not defined" in gain_words(100, 90)


@pytest.mark.parametrize("text", ["A 12, B 7, C 3", "a12 b7 c3", "A: 12; C=3, B 7", " A 12,B 7 ,C 3, "])
def test_hands_are_read_as_people_write_them(text):
    assert read_hands(text, LETTERS) == {"A": 12, "B": 7, "C": 3}


def test_a_letter_that_is_not_named_has_no_hands_and_nothing_is_nothing():
    assert read_hands("B 4", LETTERS) == {"A": 0, "B": 4, "C": 0}
    assert read_hands("  ", LETTERS) == {}


@pytest.mark.parametrize("text, words", [
    ("lots", "not a letter with a number"), ("A twelve", "not a letter with a number"), ("A -3", "not a letter with a number"), ("A 2.5", "not a letter"),
    ("A 3, Z 4", "no option Z"), ("A 3, A 4", "counted twice"), ("A 99999", "more than"), ("A 0", "No hand"), ("12, 7, 3", "not a letter"),
])
def test_nonsense_gets_a_sentence(text, words):
    with pytest.raises(Problem, match=words):
        read_hands(text, LETTERS)


def test_the_words_keep_the_right_option_until_it_is_revealed():
    hands = Hands(LETTERS, "B", read_hands("A 12, B 7, C 3", LETTERS), read_hands("A 3, B 17, C 2", LETTERS))
    assert "Right" not in hands.words(False)
    assert "Right (B): before 32 %, after 77 %." in hands.words(True)
    assert "Normalised gain 0.67" in hands.words(True)
    assert percent_right({}, "B") is None
