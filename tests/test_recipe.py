"""How a person writes a water/powder ratio, and what is refused rather than guessed."""

import pytest

from gypsumkit import Mix, predict
from gypsumkit.checks import checked_number
from gypsumkit.mix import predict_setting, predict_timeline
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe, read_ratio


@pytest.mark.parametrize("typed, ratio", [
    ("0.52", 0.52), ("0,52", 0.52), (" 0.52 ", 0.52), ("52 mL per 100 g", 0.52), ("52 ml/100g", 0.52), ("52 mL water per 100 g powder", 0.52),
    ("52 mL of water per 100 g of powder", 0.52), ("52 g to 100 g", 0.52), ("52 for 100 grams", 0.52), ("52 %", 0.52), ("52 percent", 0.52),
    ("0.52 mL/g", 0.52), ("5.2e-1", 0.52), (0.52, 0.52)])
def test_ratios_as_written(typed, ratio):
    assert read_ratio(typed) == pytest.approx(ratio)


@pytest.mark.parametrize("typed", [
    "52 mL per 100 g or maybe 60", "52 per 100 g per 3", "52 mL / 100 ml", "52 to 100", "52:100", "", "wet", "1/2", "٥٢", "0.5.2", "--1",
    "52 mL per 1000 g", "0.52\x1b[31m", "5_2 %", "nan", "0x1", "52 mL per 100 g; 1"])
def test_what_might_mean_something_else_is_refused_in_one_line(typed):
    with pytest.raises(Problem) as problem:
        read_ratio(typed)
    assert "\n" not in str(problem.value)


@pytest.mark.parametrize("typed", ["1_0", "١٠", "ten", "", "inf", "1e999"])
def test_a_number_is_read_as_a_person_writes_it(typed):
    with pytest.raises(Problem):
        checked_number(typed, "The water", "mL")


def test_refusals_read_well():
    with pytest.raises(Problem, match=r"^There is no powder called 'qqq'\. The choice is impression plaster"):
        Recipe("qqq", 0.5)
    with pytest.raises(Problem, match=r"called '\?\[31mred'"):
        Recipe("\x1b[31mred", 0.5)
    with pytest.raises(Problem, match="no additive is chosen"):
        Recipe("model plaster", 0.5, additive_percent=1)
    with pytest.raises(Problem, match="between 0 and 4 %"):
        Recipe("model plaster", 0.5, additive="potassium sulfate", additive_percent=9)
    with pytest.raises(Problem, match="has its own speed"):
        Recipe("model plaster", 0.5, mixing="machine under vacuum", turns=100)


@pytest.mark.parametrize("ask", [
    lambda: Mix(Recipe("model plaster", 0.5), "abc"), lambda: Mix(Recipe("model plaster", 0.5), [1, 2]),
    lambda: Mix(Recipe("model plaster", 0.5), float("nan")), lambda: Mix(Recipe("model plaster", 0.5), -5),
    lambda: predict("model plaster", []), lambda: predict_setting("model plaster", []), lambda: predict("model plaster", [[0.5]]),
    lambda: predict_timeline("model plaster", 0.5, [3, 1]), lambda: predict_timeline("model plaster", 0.5, [float("nan")]),
    lambda: predict_timeline("model plaster", 0.5, []), lambda: predict_timeline("model plaster", 0.5, [-1, 2])])
def test_what_cannot_be_asked_is_a_problem_of_one_line(ask):
    with pytest.raises(Problem) as problem:
        ask()
    assert len(str(problem.value)) < 200 and "\n" not in str(problem.value)
