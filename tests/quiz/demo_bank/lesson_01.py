"""Demonstration content for the tests: simple choices to be recalled later."""

from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, Option

OBJECTIVES = [Objective("L01-O1", "Name what sets.")]


def _choice(number):
    return Choice(
        id=f"L01-Q{number}", objective="L01-O1",
        prompt=f"What does the powder take up when it sets (question {number})?",
        options=(
            Option("Water", "Hemihydrate takes up water and becomes dihydrate.", correct=True),
            Option("Air", "Air only stays behind as bubbles; it takes no part in setting."),
            Option("Carbon dioxide", "That is how lime hardens, not gypsum."),
        ),
        explanation="Hemihydrate and water give dihydrate, whose crystals interlock.")


QUESTIONS = [_choice(number) for number in range(1, 5)]
NOTES = [Note("L01-N1", "Why does the bowl grow warm?", "Setting gives off heat as crystals form.")]
BENCH_TASKS = [BenchTask("L01-B1", "Feel the bowl", ("Mix 50 g.", "Hold the bowl."), ("Minute at which it grows warm",), ("Wear a mask.",))]
