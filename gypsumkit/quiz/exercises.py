"""An exercise written once: its worked example, its faded example and the reader's own exercise.

The three share the steps, each has numbers of its own, and every result is computed, so they cannot drift apart.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from gypsumkit.problems import Problem
from gypsumkit.units import find_unit, say_quantity
from gypsumkit.quiz.questions import DRAWS, LESSON_SEED, Numbers, NumberWithUnit, Slip, draw, fill

WORKED, FADED, OWN = "worked", "faded", "own"
VARIANTS = (WORKED, FADED, OWN)


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step of an exercise.

    Parameters
    ----------
    name : str
        Name of its result, with the unit in it (``"water_ml"``); later steps and texts may use it.
    say : str
        What to find; states the unit, so that a bare number will do.
    compute : function of the numbers
        Computes the result from the parameters and the results of earlier steps.
    unit : str
        Unit of the result.
    working : str
        The arithmetic in plain words; {answer} is the result with its unit.
    hint : str
        What to think of, folded away until asked for.
    tolerance_why : str
        Why answers within the tolerance count.
    relative_tolerance, absolute_tolerance : float
        Accepted distance as in NumberWithUnit.
    slips : sequence of Slip
        Typical slips, each recognised and explained.
    """

    name: str
    say: str
    compute: Callable
    unit: str
    working: str
    hint: str
    tolerance_why: str = "earlier results may have been rounded to three digits."
    relative_tolerance: float = 0.01
    absolute_tolerance: float = 0.0
    slips: tuple = ()


@dataclass(frozen=True)
class CaseStep:
    """One step with its numbers: shown with its working, or asked as a question."""

    number: int
    say: str
    working: str
    hint: str
    answer: str
    asked: bool
    question: NumberWithUnit


@dataclass(frozen=True)
class Case:
    """One set of numbers of an exercise: the situation and its steps."""

    exercise_id: str
    variant: str
    situation: str
    steps: tuple

    @property
    def asked(self):
        """The steps that the reader has to do."""
        return tuple(step for step in self.steps if step.asked)


@dataclass(frozen=True, kw_only=True)
class Exercise:
    """An exercise written once, in three variants.

    Parameters
    ----------
    id : str
        ``"L02-E1"``.
    objective : str
        Id of the objective it trains.
    situation : str
        The case, with its numbers in braces.
    parameters : function of a ``random.Random``
        Draws the numbers; it must be able to draw three different sets.
    steps : sequence of Step
        Two to six steps.
    computed : mapping of str to function of the numbers
        Further numbers to name in texts.
    fade : int
        How many of the last steps the faded example asks for.
    """

    id: str
    objective: str
    situation: str
    parameters: Callable
    steps: tuple
    computed: Mapping = field(default_factory=dict)
    fade: int = 1

    def __post_init__(self):
        if not re.fullmatch(r"L\d{2}-E\d+", self.id):
            raise Problem(f"{self.id!r} is not an exercise id: write one like L02-E1.")
        if not 2 <= len(self.steps) <= 6:
            raise Problem(f"{self.id}: an exercise has two to six steps, this one has {len(self.steps)}.")
        if not 1 <= self.fade < len(self.steps):
            raise Problem(f"{self.id}: the faded example asks for at least one step and not for all.")
        names = [step.name for step in self.steps]
        if len(set(names)) != len(names):
            raise Problem(f"{self.id}: two steps have the same name.")
        for variant in VARIANTS:
            self.case(variant)

    def case(self, variant, seed=LESSON_SEED):
        """Return the exercise with the numbers of one variant.

        Parameters
        ----------
        variant : str
            ``"worked"`` (all steps shown), ``"faded"`` (the last ones asked) or ``"own"`` (all asked).
        seed : str or int
            What the numbers are drawn from; lessons keep the default.

        Returns
        -------
        Case
            The situation and its steps.

        Raises
        ------
        Problem
            When the variant is unknown or the parameters cannot give three different sets.
        """
        if variant not in VARIANTS:
            raise Problem(f"{variant!r} is not a variant of an exercise: choose worked, faded or own.")
        if seed not in self._cases:
            self._cases[seed] = self._draw_cases(seed)
        return self._cases[seed][variant]

    @cached_property
    def _cases(self):
        return {}

    def _draw_cases(self, seed):
        """Return the case of every variant, each with numbers that no other variant has and that serve."""
        cases, taken = {}, []
        for variant in VARIANTS:
            fault = Problem(f"{self.id}: its parameters do not give three different sets of numbers.")
            for attempt in range(DRAWS):
                numbers = draw(self.parameters, self.computed, f"{self.id}/{variant}/{seed}/{attempt}")
                if numbers in taken:
                    continue
                try:
                    cases[variant] = self._case(variant, numbers)
                except Problem as problem:
                    fault = problem
                    continue
                taken.append(numbers)
                break
            else:
                raise fault
        return cases

    def _case(self, variant, numbers):
        results, steps = Numbers(numbers), []
        first_asked = {WORKED: len(self.steps), FADED: len(self.steps) - self.fade, OWN: 0}[variant]
        for place, step in enumerate(self.steps):
            question = self._question(step, f"{self.id}-{variant}-{place + 1}", Numbers(results))
            results[step.name] = question.value
            said = {**results, "answer": say_quantity(question.value, find_unit(step.unit) if step.unit else "")}
            steps.append(CaseStep(place + 1, fill(step.say, results), fill(step.working, said), fill(step.hint, results),
                                  said["answer"], place >= first_asked, question))
        return Case(self.id, variant, fill(self.situation, numbers), tuple(steps))

    def _question(self, step, question_id, numbers):
        """Return the step as a question; the explanation is its working."""
        return NumberWithUnit(
            id=question_id, objective=self.objective, prompt=step.say, parameters=numbers,
            explanation=step.working.replace("{answer}", "{key}"), key=step.compute, unit=step.unit, slips=tuple(step.slips),
            relative_tolerance=step.relative_tolerance, absolute_tolerance=step.absolute_tolerance,
            tolerance_why=step.tolerance_why)


__all__ = ["Exercise", "Step", "Slip", "Case", "CaseStep", "VARIANTS"]
