"""One source gives the worked example, the faded example and the exercise, each with its own numbers."""

import dataclasses

import pytest

from gypsumkit.problems import Problem
from gypsumkit.quiz.exercises import VARIANTS, Step
from gypsumkit.quiz.questions import Slip
from tests.quiz.demo_bank.lesson_02 import EXERCISES

EXERCISE = EXERCISES[0]


def test_the_three_variants_have_numbers_of_their_own():
    for seed in ("lesson", *range(40)):
        situations = {EXERCISE.case(variant, seed).situation for variant in VARIANTS}
        assert len(situations) == 3
        assert situations == {EXERCISE.case(variant, seed).situation for variant in VARIANTS}


def test_worked_shows_all_faded_asks_the_last_own_asks_all():
    assert [step.asked for step in EXERCISE.case("worked").steps] == [False, False, False]
    assert [step.asked for step in EXERCISE.case("faded").steps] == [False, False, True]
    assert [step.asked for step in EXERCISE.case("own").steps] == [True, True, True]
    assert [step.asked for step in dataclasses.replace(EXERCISE, fade=2).case("faded").steps] == [False, True, True]


@pytest.mark.parametrize("variant", VARIANTS)
def test_every_result_follows_from_the_numbers_and_the_earlier_results(variant):
    for seed in range(10):
        case = EXERCISE.case(variant, seed)
        numbers = case.steps[0].question.numbers
        water, batch, share = (step.question for step in case.steps)
        assert water.value == numbers.powder_g * numbers.ratio
        assert batch.value == numbers.powder_g + water.value
        assert share.value == pytest.approx(100 * water.value / batch.value)
        for step in case.steps:
            assert step.working.endswith(f"= {step.answer}")
            assert step.question.mark(step.answer).correct
            assert step.question.shown_explanation == step.working


def test_slips_of_a_step_are_recognised():
    water = EXERCISE.case("own").steps[0].question
    wrong = water.numbers.powder_g / water.numbers.ratio
    assert "You divided; multiply instead." in water.mark(f"{wrong} mL").feedback


@pytest.mark.parametrize("changes, says", [
    (dict(id="E1"), "not an exercise id"),
    (dict(steps=EXERCISE.steps[:1]), "two to six steps"),
    (dict(fade=3), "not for all"),
    (dict(fade=0), "at least one step"),
    (dict(steps=EXERCISE.steps[:1] * 2), "the same name"),
    (dict(parameters=lambda draw: {"powder_g": 100, "ratio": draw.choice([0.3, 0.5])}), "three different sets"),
    (dict(situation="There are {grams} g."), "no number named 'grams'"),
    (dict(steps=(EXERCISE.steps[1], EXERCISE.steps[0])), "no number named 'water_ml'"),
])
def test_an_exercise_written_wrongly_is_refused(changes, says):
    with pytest.raises(Problem) as caught:
        dataclasses.replace(EXERCISE, **changes)
    assert says in str(caught.value)


def test_a_step_whose_text_names_an_unknown_number_is_refused():
    bad = Step(name="x", say="How many grams in g?", compute=lambda p: 5.0, unit="g", working="{nothing} = {answer}", hint="Think of nothing at all.")
    with pytest.raises(Problem, match="nothing"):
        dataclasses.replace(EXERCISE, steps=(EXERCISE.steps[0], bad))


def test_an_unknown_variant_is_refused():
    with pytest.raises(Problem, match="choose worked, faded or own"):
        EXERCISE.case("solved")


def test_numbers_whose_slip_would_look_right_are_drawn_again():
    first = dataclasses.replace(EXERCISE.steps[0], slips=(Slip(lambda p: 0.3 * p.powder_g, "You took the ratio of another powder."),))
    exercise = dataclasses.replace(EXERCISE, steps=(first, *EXERCISE.steps[1:]))
    ratios = {exercise.case(variant, seed).steps[0].question.numbers.ratio for variant in VARIANTS for seed in range(20)}
    assert ratios == {0.5, 0.55}
