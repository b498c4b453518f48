"""The main explorer: every control, typed nonsense, pins, a prediction, and errors that reach the screen."""

import pytest

from gypsumkit.live.explorers import EXPLORERS, explorer_class
from gypsumkit.live.lesson import Lesson
from gypsumkit.live.question_view import QuestionView
from gypsumkit.problems import Problem
from gypsumkit.quiz.questions import Choice, Option


@pytest.fixture
def explorer():
    return explorer_class("water")(question="Where does it stop pouring?")


def spread(explorer):
    return next(row[1] for row in explorer.picture.scene.numbers.rows if row[0] == "ring spread, still")


def test_the_slider_moves_everything_that_is_said(explorer):
    before = explorer.words()
    explorer.ratio_slider.value = 0.60
    assert "60 mL of water" in explorer.words() and explorer.words() != before
    assert explorer.errors == [] and explorer.message.value == ""


@pytest.mark.parametrize("typed, ratio", [("0.56", 0.56), ("0,56", 0.56), ("56 mL per 100 g", 0.56), ("56 %", 0.56), ("0.523", 0.523)])
def test_a_ratio_can_be_typed(explorer, typed, ratio):
    explorer.ratio.typed.value = typed
    assert explorer.ratio.value == pytest.approx(ratio) and explorer.ratio_slider.value == pytest.approx(ratio)
    assert f"(ratio {ratio:.3g})" in explorer.picture.scene.words


@pytest.mark.parametrize("typed, said", [("54", "write 0.54"), ("nonsense", "not a water/powder ratio"), ("-1", "more than 0"),
                                         ("0.1", "too dry"), ("0.99", "too wet"), ("<b>0.5</b>", "not a water/powder ratio")])
def test_nonsense_is_answered_beside_the_control_and_nothing_is_lost(explorer, typed, said):
    before = explorer.picture.scene.words
    explorer.ratio.typed.value = typed
    assert said in explorer.message.value and "<b>" not in explorer.message.value
    assert explorer.ratio.typed.value == typed and explorer.picture.scene.words == before
    explorer.ratio_slider.value = 0.55
    assert explorer.message.value == ""


def test_another_powder_keeps_the_ratio_where_it_can_and_says_so_where_it_cannot(explorer):
    explorer.ratio_slider.value = 0.45
    explorer.powder.value = "dental stone"
    assert explorer.ratio.value == pytest.approx(0.45) and "usually mixed at 0.25 to 0.32" in explorer.message.value
    explorer.ratio_slider.value = 0.60
    explorer.powder.value = "improved stone"
    assert explorer.ratio.value == pytest.approx(0.23) and "is no paste" in explorer.message.value
    assert explorer.ratio_slider.max < 0.53 and "Improved stone with 23 mL" in explorer.picture.scene.words


def test_mixing_and_vibrator_are_heard(explorer):
    explorer.vibrated.value = True
    assert "on the vibrator" in explorer.picture.scene.pictures[0].words
    weak = explorer.mix().wet_strength_mpa.value
    explorer.mixing.value = "beaten by hand"
    assert explorer.mix().wet_strength_mpa.value < weak


def test_pins_up_to_three_then_a_sentence(explorer):
    for ratio in (0.45, 0.50, 0.55):
        explorer.ratio_slider.value = ratio
        explorer.pin_button.click()
    explorer.pin_button.click()
    assert "3 pins are the most" in explorer.message.value and len(explorer.pins) == 3
    explorer.clear_button.click()
    assert explorer.pins == [] and "Pinned" not in explorer.words()


def test_reset_goes_back_to_the_start(explorer):
    start = explorer.words()
    explorer.powder.value = "dental stone"
    explorer.ratio_slider.value = 0.35
    explorer.mixing.value = "beaten by hand"
    explorer.pin_button.click()
    explorer.reset_button.click()
    assert explorer.words() == start and explorer.pins == []


def test_a_prediction_is_compared_only_after_it_was_committed(tmp_path):
    question = Choice(id="L02-P1", objective="L02-O1", prompt="What happens at 60 mL per 100 g?", explanation="More water, more flow.",
                      options=(Option("it runs wide", "Right: the grains are far apart.", correct=True),
                               Option("it stands", "That is what less water does."), Option("it sets at once", "Water does not hasten the set.")))
    view = QuestionView(question, commit=True)
    explorer = explorer_class("water")(prediction=view, asked={"ratio": 0.60, "vibrated": False})
    explorer.compare_button.click()
    assert "commit to your prediction" in explorer.message.value
    view.answer("it runs wide")
    explorer.compare_button.click()
    assert explorer.ratio.value == 0.60 and "Correct." in explorer.verdict.value and "it runs wide" in explorer.verdict.value
    assert "60 mL of water" in view.feedback_words()


def test_an_error_in_a_callback_reaches_the_screen_and_the_tests(explorer, monkeypatch):
    monkeypatch.setattr(explorer, "scene", lambda: 1 / 0)
    explorer.ratio_slider.value = 0.6
    assert "This part of the lesson failed" in explorer.message.value
    assert [type(error) for error in explorer.errors] == [ZeroDivisionError]


def test_an_unknown_explorer_is_refused_in_a_sentence():
    with pytest.raises(Problem, match="did you mean water"):
        explorer_class("watr")


def test_an_explorer_run_before_its_prediction_asks_for_it():
    explorer = Lesson("02").explorer("water", prediction="L02-P1")
    explorer.compare_button.click()
    assert "commit to your prediction" in explorer.message.value and explorer.errors == []


@pytest.mark.parametrize("kind", EXPLORERS)
def test_every_explorer_has_at_most_five_controls_and_says_its_limits(kind):
    explorer = explorer_class(kind)()
    assert 1 <= len(explorer.controls) <= 5
    assert explorer.limits and explorer.limits in explorer.words()
    assert explorer.picture_png().startswith(b"\x89PNG")
