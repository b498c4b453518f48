"""The few numbers that lesson 10 prints in its prose are those of the table and of the rule."""

import re

import pytest

from gypsumkit.studies.bayes import posterior
from gypsumkit.studies.faults import CHECKS, LEVELS, SIGNS
from tests.lessons.test_numbers_in_flow_and_strength import prose


def test_the_levels_in_the_words_are_those_of_the_table():
    listed = re.search(r"shows a sign: (.+?) \|", prose("10")).group(1)
    assert re.findall(r"([a-z ]+?) \((\d+)", listed.replace(", ", ",")) == [(words, f"{100 * share:.0f}") for words, share in LEVELS.items()]


def test_the_casts_counted_in_the_text_follow_the_rule():
    rows = {row[0].strip(): [int(x) for x in re.findall(r"\d+", "|".join(row[1:]))]
            for row in (line.strip(" |").split("|") for line in re.findall(r"\| (?:of 100|show the|are left|share)[^\n]+", prose("10")))}
    common, shown, left = rows["of 100 spoiled casts"][:2], rows["show the sign, of 100 of this cause"][-2:], rows["are left"]
    assert left == [common[0] * shown[0] / 100, common[1] * shown[1] / 100, sum(left[:2])]
    (first, whole, first_percent, second, _, second_percent, _) = rows["share of those left"]
    assert (first, second, whole) == tuple(left)
    assert 100 * posterior(common, [[one / 100 for one in shown]]) == pytest.approx([first_percent, second_percent], abs=0.5)
    assert f"From the first cause {100 - shown[0]} of 100 are kept, from the second only {100 - shown[1]} of 100" in prose("10")


def test_signs_and_checks_that_the_moves_name_can_be_chosen():
    moves = re.search(r"### Five moves to try.+?### Three moves to try.+?\*\*When there is no cast", prose("10"), re.DOTALL).group(0)
    named = set(re.findall(r"\*\*([a-z][^*]+)\*\*", moves))
    choices = {*SIGNS, "none", *(f"{name}: {outcome}" for name, check in CHECKS.items() for outcome in check.outcomes)}
    assert len(named) > 5 and named - choices == {"another"}
