"""An exercise on the page: worked, faded, or the reader's own, all from one source."""

import html

from gypsumkit.live.block import Block, Words, paragraphs, text_area
from gypsumkit.live.question_view import QuestionView
from gypsumkit.problems import Problem

TITLES = {"worked": "Worked example", "faded": "Your turn at the end", "own": "Exercise"}


class ExerciseView(Block):
    """One variant of an exercise: steps shown with their working, or asked with hint and solution folded away.

    Parameters
    ----------
    exercise : Exercise
        The exercise.
    variant : str
        ``"worked"``, ``"faded"`` or ``"own"``.
    progress : Progress, optional
        Where answers are kept.
    """

    def __init__(self, exercise, variant, progress=None):
        self.exercise = exercise
        self.case = exercise.case(variant)
        self.title = TITLES[variant]
        self.views = {}
        children = [text_area(f"<p><strong>{self.title}</strong></p>{paragraphs(self.case.situation)}")]
        for step in self.case.steps:
            if step.asked:
                self.views[step.number] = QuestionView(step.question, progress, heading=f"Step {step.number}")
                children += [self.views[step.number], text_area(_folded(step))]
            else:
                children.append(text_area(f"<p><strong>Step {step.number}.</strong> {html.escape(step.say)}</p>"
                                          f"<blockquote>{paragraphs(step.working)}</blockquote>"))
        super().__init__(children)

    def answer(self, step_number, value):
        """Answer one of the asked steps and return its feedback in words.

        Parameters
        ----------
        step_number : int
            Number of the step, from 1.
        value : str or number
            What would be typed.

        Returns
        -------
        Words
            The feedback.

        Raises
        ------
        Problem
            When this step is not asked.
        """
        if step_number not in self.views:
            asked = ", ".join(map(str, self.views)) or "none"
            raise Problem(f"Step {step_number} is not asked here: asked are {asked}.")
        return self.views[step_number].answer(value)

    def every_option(self):
        """Return, in words, what the key and every slip of every asked step are told."""
        return Words("\n\n".join(f"Step {number}. {view.every_option()}" for number, view in self.views.items())
                     or "Nothing is asked here.")

    def words(self):
        """Return the situation, the steps shown and the steps asked, in plain words."""
        lines = [self.title, self.case.situation]
        for step in self.case.steps:
            if step.asked:
                lines += [self.views[step.number].words()]
            else:
                lines += [f"Step {step.number}. {step.say}", step.working]
        return "\n".join(lines)


def _folded(step):
    """Return the hint and the solution of a step, each folded away, as HTML."""
    return (f"<details><summary>Hint for step {step.number}</summary>{paragraphs(step.hint)}</details>"
            f"<details><summary>Solution of step {step.number}</summary>{paragraphs(step.working)}</details>")
