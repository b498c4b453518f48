"""An exercise on the page: worked, faded or asked, from one source."""

import dataclasses

import pytest

from gypsumkit.live.exercise_view import ExerciseView
from gypsumkit.problems import Problem
from gypsumkit.quiz.exercises import VARIANTS
from gypsumkit.quiz.progress import Progress
from tests.quiz.demo_bank.lesson_02 import EXERCISES

EXERCISE = EXERCISES[0]


def shown_html(view):
    return "\n".join(getattr(child, "value", "") for child in view.children)


def test_the_worked_example_shows_every_step_and_asks_nothing():
    view = ExerciseView(EXERCISE, "worked")
    for step in view.case.steps:
        assert f"Step {step.number}. {step.say}" in view.words() and step.working in view.words()
    assert view.views == {} and repr(view.every_option()) == "Nothing is asked here."
    with pytest.raises(Problem, match="Step 1 is not asked here: asked are none"):
        view.answer(1, "50 mL")


@pytest.mark.parametrize("variant, asked", [("faded", [3]), ("own", [1, 2, 3])])
def test_asked_steps_fold_hint_and_solution_away(variant, asked):
    view = ExerciseView(EXERCISE, variant)
    assert list(view.views) == asked
    for step in view.case.asked:
        assert step.working not in view.words()
        assert f"<details><summary>Solution of step {step.number}</summary><p>{step.working}</p></details>" in shown_html(view)
        assert f"<details><summary>Hint for step {step.number}</summary><p>{step.hint}</p></details>" in shown_html(view)
    assert "<details open" not in shown_html(view)


def test_every_step_is_judged_and_kept_under_its_own_id(tmp_path):
    progress = Progress(tmp_path)
    view = ExerciseView(EXERCISE, "own", progress)
    for step in view.case.steps:
        assert repr(view.answer(step.number, step.answer)) == f"Correct.\n{step.working}"
    assert list(progress.all_attempts()) == ["L02-E1-own-1", "L02-E1-own-2", "L02-E1-own-3"]
    numbers = view.case.steps[0].question.numbers
    assert "You divided; multiply instead." in repr(view.answer(1, f"{numbers.powder_g / numbers.ratio} mL"))
    assert repr(view.answer(2, "heavy")).startswith("Message: ")
    again = ExerciseView(EXERCISE, "own", Progress(tmp_path))
    assert again.views[3].marked.correct and not again.views[1].marked.correct


def test_every_option_tries_keys_and_slips_of_all_steps():
    said = str(ExerciseView(EXERCISE, "own").every_option())
    assert said.count("→ Correct.") == 3 and "You divided; multiply instead." in said


def test_the_three_variants_show_different_numbers():
    assert len({ExerciseView(EXERCISE, variant).case.situation for variant in VARIANTS}) == 3


def test_texts_are_shown_as_text():
    first = dataclasses.replace(EXERCISE.steps[0], say="How much <b>water</b> in mL?", working="<i>{powder_g}</i> = {answer}", hint="<script>alert(1)</script>")
    exercise = dataclasses.replace(EXERCISE, situation="<u>A case</u> with {powder_g} g", steps=(first, *EXERCISE.steps[1:]))
    for variant in VARIANTS:
        view = ExerciseView(exercise, variant)
        inner = [child.value for asked in view.views.values() for child in asked.children if hasattr(child, "value")]
        for tag in ("<b>", "<i>", "<u>", "<script"):
            assert tag not in shown_html(view) + "".join(inner)
