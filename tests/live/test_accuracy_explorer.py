"""The explorer of the accuracy chain: controls, own values, nonsense that stays written, reset and predictions."""

import pytest

from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.question_view import QuestionView
from gypsumkit.live.take_home import page_explorers
from gypsumkit.problems import Problem
from gypsumkit.quiz import bank


@pytest.fixture
def explorer():
    return explorer_class("accuracy")()


def test_every_control_is_heard_and_reset_goes_back(explorer):
    start, seen = explorer.words(), set()
    for move in ({"impression": "alginate"}, {"powder": "dental stone"}, {"work": "the cast alone"}, {"length_mm": 30}, {"own": "stone 0.1 %"}):
        seen.add(explorer.words())
        explorer.go_to(**move)
        assert explorer.words() not in seen, move
    explorer.reset()
    assert explorer.words() == start and explorer.picture_png().startswith(b"\x89PNG")


def test_an_own_value_is_used_and_said(explorer):
    explorer.own.value = "spacer 50 µm; stone 0,12 %"
    assert "Your own values: spacer, stone, taken as exact." in explorer.words() and "measured here" in explorer.words()


@pytest.mark.parametrize("text, said", [("ston 0.1 %", "did you mean stone"), ("stone 3", "needs a unit"), ("stone 0.1 kg", "needs a unit")])
def test_what_cannot_be_read_is_answered_stays_written_and_is_not_used(explorer, text, said):
    before = explorer.words()
    explorer.own.value = text
    assert said in explorer.message.value and "without own values" in explorer.message.value
    assert explorer.own.value == text and explorer.words() == before
    explorer.length_mm.typed.value = "12 mm"                       # the rest goes on working, and the sentence stays
    assert "12 mm" in explorer.words() and said in explorer.message.value
    explorer.own.value = ""
    assert said not in explorer.message.value


def test_a_link_that_the_work_has_not_is_answered(explorer):
    explorer.own.value = "spacer 40 µm"
    explorer.work.value = "the cast alone"
    assert "no link spacer" in explorer.message.value and "The cast alone" in explorer.words() and explorer.own.value == "spacer 40 µm"
    explorer.work.value = "crown, gold alloy"
    assert "Your own values: spacer" in explorer.words() and "no link" not in explorer.message.value


@pytest.mark.parametrize("question, asked", [("L15-P1", {"powder": "high-expansion stone", "length_mm": 40}), ("L15-P2", {"work": "crown, gold alloy", "length_mm": 8})])
def test_the_prediction_is_compared_at_its_own_settings(question, asked):
    view = QuestionView(bank.question(question), None, commit=True)
    explorer = explorer_class("accuracy")(prediction=view, asked=asked)
    with pytest.raises(Problem, match="First commit"):
        explorer.compare()
    view.answer(next(option.letter for option in view.question.shown_options if option.correct))
    explorer.compare()
    assert "Correct" in explorer.verdict.value and all(explorer.settings()[name] == value for name, value in asked.items())


def test_a_page_to_take_home_says_that_the_field_of_own_values_stays_empty():
    explorers, left_out = page_explorers([{"kind": "accuracy", "heading": "Chain", "settings": {"powder": "improved stone"}, "prediction": None, "moves": ""}])
    assert not left_out and len(explorers) == 1 and "the field “Own values” stays empty" in repr(explorers[0])
