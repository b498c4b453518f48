"""Texts taken apart, what lies between two of them, and the fewest that tell all others."""

import json

import numpy as np
import pytest

from gypsumkit.stage.coding import decode, encode, pack, shortened
from gypsumkit.stage.slots import misses, put_together, said_between, take_apart
from gypsumkit.stage.strips import CLOSE_DIGITS, CLOSE_UNITS, make_strip

TEXT = '<svg viewBox="0 0 9 9" aria-label="42 mm"><path d="M1.2 -3L4 5.5Z" fill="#0072B2" stroke-width="2"/><text x="7" y="8.1">9.96 MPa</text></svg><p>H2O, &#x27;5&#x27;, 10 %.</p>'


def test_only_places_and_said_numbers_are_taken_out():
    form, numbers = take_apart(TEXT)
    assert numbers == [42, 0, 12, -30, 40, 55, 70, 81, 996, 2, 5, 0, 10, 0] and put_together(form, numbers) == TEXT
    kept = "".join(form)
    assert all(words in kept for words in ('viewBox="0 0 9 9"', "#0072B2", 'stroke-width="2"', "H2O", "&#x27;"))


def test_a_text_that_holds_a_sign_is_refused():
    with pytest.raises(ValueError, match="may not hold"):
        take_apart("<p>¬ 5</p>")


@pytest.mark.parametrize("one, other, share, said", [
    ((403, 1), (413, 1), 0.5, "40.8"),           # as many digits behind the point on both sides
    ((996, 2), (101, 1), 0.2, "9.99"),           # 9.96 and 10.1: as many digits that count
    ((996, 2), (101, 1), 0.8, "10.1"),
    ((5, 1), (52, 2), 0.5, "0.51"),              # 0.5 and 0.52: written without last zeros
    ((5, 1), (505, 3), 0.0, "0.5"),
    ((-5, 1), (5, 1), 0.5, "0.0"),
    ((100, 0), (101, 0), 1.0, "101"),
])
def test_a_number_between_two_is_written_as_they_are(one, other, share, said):
    assert said_between(one, other, share) == said


def test_what_is_missed_is_counted_in_picture_units_and_last_digits():
    form, one = take_apart('<path d="M0 0"/><p>10.0</p>')
    place, said = misses(form, one, take_apart('<path d="M10 0"/><p>12.0</p>')[1], 0.5, take_apart('<path d="M5.7 0"/><p>11.3</p>')[1])
    assert place == pytest.approx(0.7) and said == pytest.approx(3)
    place, said = misses(form, take_apart('<path d="M0 0"/><p>1000</p>')[1], take_apart('<path d="M0 0"/><p>1200</p>')[1], 0.5,
                         take_apart('<path d="M0 0"/><p>1120</p>')[1])
    assert said == pytest.approx(2), "of a number with four digits the third counts"


def _curve(step):
    x = step / 100
    word = "pours" if step >= 37 else "stands"
    return f'<path d="M{100 * x:.2f} {200 * x * x:.2f}"/><p>{word} {1 + 50 * x ** 3:.3g}</p>'


def test_a_strip_keeps_few_steps_and_every_other_lies_between_them():
    strip = make_strip(_curve, 101, also=(50,))
    assert {0, 36, 37, 50, 100} <= set(strip.kept) and len(strip.kept) < 101
    texts = dict(zip(strip.kept, zip(strip.forms, strip.numbers)))
    for step in range(101):
        before, after = max(one for one in strip.kept if one <= step), min(one for one in strip.kept if one >= step)
        form, truth = take_apart(_curve(step))
        assert texts[before][0] == texts[after][0] == form, "words step where the curve's own words step"
        share = 0.0 if before == after else (step - before) / (after - before)
        place, said = misses(form, texts[before][1], texts[after][1], share, truth)
        assert place <= 2 * CLOSE_UNITS and said <= 2 * CLOSE_DIGITS + 1e-6


def test_a_coarser_strip_would_miss():
    (form, one), (_, other), (_, truth) = (take_apart(_curve(step)) for step in (40, 100, 70))
    place, said = misses(form, one, other, 0.5, truth)
    assert place > CLOSE_UNITS and said > CLOSE_DIGITS


def test_one_step_makes_a_strip():
    assert make_strip(_curve, 1).kept == (0,)


def test_whole_numbers_go_through_letters():
    generator = np.random.default_rng(4)
    for _ in range(50):
        numbers = generator.integers(-10 ** 6, 10 ** 6, 40) * (generator.random(40) < 0.5)
        assert decode(encode(numbers)) == numbers.tolist()
    assert encode([0] * 1000) == "Aof" and encode([1, -1, 2]) == "CBE"


def test_what_is_packed_is_plain_and_short():
    strips = [make_strip(_curve, 101), make_strip(_curve, 101)]
    packed = pack(strips)
    assert json.loads(json.dumps(packed)) == packed
    told = decode(packed["strips"])
    assert told[0] == len(strips[0].kept) and sum(form["height"] for form in packed["forms"]) == 2 * len(strips[0].kept)
    assert len(packed["forms"]) == 2, "one form for each word"


def test_corners_of_a_path_are_counted():
    form, _ = take_apart('<path d="M1 2L3 4L5 6L7 8L9 1Z"/>')
    assert shortened(form[0]) == '<path d="M¦ ¦¨4¨Z"/>'
