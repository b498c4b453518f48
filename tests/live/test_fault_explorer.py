"""The fault explorer: every control is followed, contradictions are answered, nothing moves when it cannot be, predictions are compared."""

import re

import pytest

from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.explorers.fault_explorer import NONE, OUTCOMES, UNCHECKED, FaultExplorer
from gypsumkit.live.lesson import Lesson
from gypsumkit.problems import Problem
from gypsumkit.studies.faults import SIGNS


def test_it_is_found_by_its_name_and_has_at_most_five_named_controls():
    explorer = explorer_class("faults")()
    assert isinstance(explorer, FaultExplorer) and len(explorer.controls) <= 5
    assert all(control.description for control in explorer.controls.values())


def test_each_control_changes_what_is_said():
    explorer = FaultExplorer()
    seen = {explorer.words()}
    for name, value in (("second", "layers"), ("absent", "bubbles all through"), ("checked", "read the tin: right and fresh"), ("powder", "dental stone"),
                        ("first", "chalky surface")):
        explorer.controls[name].value = value
        assert explorer.words() not in seen, name
        seen.add(explorer.words())
    assert explorer.errors == []


@pytest.mark.parametrize("sign", SIGNS)
def test_every_sign_can_be_chosen(sign):
    explorer = FaultExplorer()
    explorer.first.value = sign
    assert f"Seen: {sign}." in explorer.words() and explorer.errors == [] and explorer.message.value == ""


def test_every_outcome_of_every_check_can_be_chosen():
    explorer = FaultExplorer(first="breaks on removal")
    for outcome in OUTCOMES:
        explorer.checked.value = outcome
        assert "it showed: " in explorer.words() and explorer.errors == [] and explorer.message.value == ""


def test_a_sign_that_is_there_and_not_there_is_answered_and_the_choice_stays():
    explorer = FaultExplorer()
    before = explorer.words()
    explorer.absent.value = explorer.first.value
    assert "given as seen and as not there" in explorer.message.value and explorer.words() == before and explorer.errors == []
    assert explorer.absent.value == explorer.first.value
    explorer.absent.value = "layers"
    assert explorer.message.value == "" and "not there: layers" in explorer.words()


def test_the_same_sign_twice_counts_once():
    explorer = FaultExplorer()
    before = explorer.words()
    explorer.second.value = explorer.first.value
    assert explorer.words() == before


@pytest.mark.parametrize("asked, said", [({"first": "chalky surfaces"}, "did you mean chalky surface"), ({"frist": "layers"}, "no setting called 'frist'"),
                                         ({"absent": "bubbles on the tooth side"}, "seen and as not there"), ({"checked": "read the tin"}, "not among the choices")])
def test_what_cannot_be_is_refused_and_nothing_moves(asked, said):
    explorer = FaultExplorer()
    before = explorer.settings()
    with pytest.raises(Problem, match=said):
        explorer.go_to(**asked)
    assert explorer.settings() == before


def test_reset_goes_back():
    explorer = FaultExplorer(first="layers")
    before = explorer.words()
    explorer.go_to(first="distorted", second="die too large", checked="read the tin: another powder", powder="improved stone")
    explorer.reset_button.click()
    assert explorer.words() == before and explorer.second.value == NONE and explorer.checked.value == UNCHECKED


def test_limits_are_printed_and_words_hold_no_markup():
    said = FaultExplorer().words()
    assert "is ours" in said and "teaching only" in said and "one main cause" in said and not re.search(r"<\w", said)


@pytest.mark.parametrize("prediction, asked, said", [
    ("L10-P1", {"first": "chalky surface", "absent": "soft after an hour"}, "not there: soft after an hour"),
    ("L10-P2", {"first": "sets in the bowl", "checked": "small mix, clean bowl: as usual"}, "it showed: as usual")])
def test_a_prediction_is_compared_with_what_follows(prediction, asked, said):
    here = Lesson("10")
    question = here.predict(prediction)
    explorer = here.explorer("faults", prediction=prediction, asked=asked)
    explorer.compare_button.click()
    assert "First commit to your prediction" in explorer.message.value
    question.answer("A")
    explorer.compare_button.click()
    assert said in explorer.picture.scene.words and explorer.verdict.value and explorer.errors == []
