"""The explorer of slips: every control, typed nonsense, reset, a prediction."""

import pytest

from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.question_view import QuestionView
from gypsumkit.problems import Problem
from gypsumkit.quiz import bank


@pytest.fixture
def explorer():
    return explorer_class("slip")(question="Which batch?")


def test_every_control_is_heard(explorer):
    seen = {explorer.words()}
    explorer.water_slip_ml.slider.value = 1.0
    seen.add(explorer.words())
    explorer.powder_slip_g.slider.value = -1.0
    seen.add(explorer.words())
    explorer.batch_g.slider.value = 50
    seen.add(explorer.words())
    explorer.powder.value = "dental stone"
    seen.add(explorer.words())
    assert len(seen) == 5 and "Really 49 g and 16.0 mL" in explorer.words() and explorer.errors == []


def test_numbers_can_be_typed_with_a_comma_or_another_unit(explorer):
    explorer.water_slip_ml.typed.value = "1,5 mL"
    explorer.batch_g.typed.value = "0.06 kg"
    assert "Really 60 g and 31.5 mL" in explorer.words() and explorer.water_slip_ml.slider.value == 1.5


@pytest.mark.parametrize("typed, said", [("9", "from -3 to 3 mL"), ("much", "much"), ("1 g", "mL"), ("<b>", "&lt;b&gt;")])
def test_nonsense_is_answered_and_the_picture_stays(explorer, typed, said):
    before = explorer.words()
    explorer.water_slip_ml.typed.value = typed
    assert said in explorer.message.value and "<b>" not in explorer.message.value
    assert explorer.words() == before and explorer.water_slip_ml.typed.value == typed


def test_go_to_out_of_range_moves_nothing(explorer):
    before = explorer.words()
    with pytest.raises(Problem, match="-3 to 3 mL"):
        explorer.go_to(batch_g=50, water_slip_ml=7.0)
    assert explorer.words() == before and explorer.batch_g.value == 100


def test_reset_goes_back_to_no_slip(explorer):
    start = explorer.words()
    explorer.go_to(powder="improved stone", batch_g=25, water_slip_ml=-3.0, powder_slip_g=3.0)
    explorer.reset_button.click()
    assert explorer.words() == start


def test_a_prediction_is_compared_at_the_batch_it_asks_about():
    view = QuestionView(bank.question("L02-P2"), commit=True)
    explorer = explorer_class("slip")(prediction=view, asked={"batch_g": 50, "water_slip_ml": 2.0})
    explorer.compare_button.click()
    assert "First commit" in explorer.message.value
    view.answer("The large batch.")
    explorer.compare_button.click()
    assert explorer.batch_g.value == 50 and "Not as you predicted." in explorer.verdict.value and "strength follows the ratio" in explorer.verdict.value.lower()
