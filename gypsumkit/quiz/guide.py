"""What the lecturer's guide holds: minutes, expected answers, misconceptions, a clock that runs otherwise, and ring data.

Answers and misconceptions come from the bank, minutes from the lessons, numbers from the library. Only the advice is written here: it is ours.
"""

import re
from dataclasses import dataclass

from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.quiz.questions import NumberWithUnit, PutInOrder, fill
from gypsumkit.recipe import Recipe
from gypsumkit.showing import bracketed, with_unit
from gypsumkit.studies.changes import conditions_with

RING_ML = (("model plaster", 42), ("model plaster", 46), ("model plaster", 50), ("model plaster", 55), ("model plaster", 63))
COMPARED_WITH = ("dental stone", 30)
CLOCK_POWDER = "model plaster"
CLOCK_CHANGES = (("nothing", None, "as usual"), ("ground set gypsum", 1.0, "1 % of crumbs of set gypsum, from a bowl that was not clean"),
                 ("water temperature", 35.0, "water of 35 °C"), ("temperature of everything", 15.0, "water, powder and room at 15 °C"),
                 ("turns of the spatula", 60.0, "only 60 turns"), ("turns of the spatula", 300.0, "300 turns"), ("long exposed powder", None, "powder from an old, open tin"))
AHEAD = (
    "Do not hurry the class. Take the next step that the mix itself is ready for: the signs come in the same order (it thickens, the gloss goes, the needle leaves no mark).",
    "Stiff before the pour: throw it away and mix again, from a clean bowl. Never add water. Ask the class meanwhile what may have hurried it.",
    "Ring not lifted at 2 min: lift it now and write down the minute. Set the same minute in the picture, and compare with that.",
    "The gloss is gone while you still explain: show the sign first, then explain it. The mix does not wait; the explanation does.",
    "Used as a question: which of the causes in the table below fits? Then look for it: crumbs in the bowl, warm water, the label of the tin.",
)
BEHIND = (
    "Go on with the next question or the note of the lesson, and come back to the mix at its next sign.",
    "Do not add powder, salt or warm water to the mix: it would be another mix.",
    "Nothing after twice the time of the picture: put the cup aside, mark it, and use the printed data. Likely causes: retarder or borax left in the bowl, old powder, cold room, too much water.",
    "Have a second cup, mixed 20 min before the class, to show the later signs on.",
    "The clock has a range. A mix inside its range is not late; that is a point worth making.",
)


def minutes_of(first_cell):
    """Return the minutes that a lesson says in its first cell.

    Parameters
    ----------
    first_cell : str
        Its text.

    Returns
    -------
    int

    Raises
    ------
    Problem
        When it says none.
    """
    found = re.search(r"(\d+) minutes", first_cell)
    if not found:
        raise Problem("The first cell of the lesson does not say how many minutes it takes.")
    return int(found.group(1))


@dataclass(frozen=True)
class Expected:
    """One question for the lecturer.

    Parameters
    ----------
    id, prompt, explanation : str
        As the reader sees them.
    answers : tuple of str
        What is right.
    misconceptions : tuple of (str, str)
        Wrong answers, each with what it shows.
    """

    id: str
    prompt: str
    answers: tuple
    misconceptions: tuple
    explanation: str


def expected(question):
    """Return a question with its right answer and its misconceptions.

    Parameters
    ----------
    question : Question
        Of any kind.

    Returns
    -------
    Expected
    """
    if isinstance(question, NumberWithUnit):
        answers = (f"{question.say(question.value)} (accepted within {question.say(question.tolerance)})",)
        wrong = tuple((question.say(value), fill(slip.why, question.numbers)) for slip, value in question.slip_values)
    elif isinstance(question, PutInOrder):
        answers = tuple(f"{place}. {text}" for place, text in enumerate(question.right_order, 1))
        wrong = tuple((f"“{fill(step.text, question.numbers)}” too early", fill(step.why, question.numbers)) for step in question.steps)
    else:
        answers = tuple(option.text for option in question.shown_options if option.correct)
        wrong = tuple((option.text, option.why) for option in question.shown_options if not option.correct)
    return Expected(question.id, question.shown_prompt, answers, wrong, question.shown_explanation)


@dataclass(frozen=True)
class Ring:
    """A ring test as the library computes it, in words for a table: mix, spread lifted still, on the vibrator, and what it does."""

    mix: str
    still: str
    shaken: str
    called: str


def ring_data():
    """Return the five rings of model plaster, and one of dental stone to compare.

    Returns
    -------
    tuple of Ring
    """
    return tuple(_ring(powder, ratio_ml) for powder, ratio_ml in (*RING_ML, COMPARED_WITH))


def _ring(powder, ratio_ml):
    mix = Mix(Recipe(powder, ratio_ml / 100))
    called = mix.consistency
    if mix.spread_mm.value <= mix.ring_mm[0] * 1.001:
        called += "; lifted still, it stands"
    return Ring(f"{powder}, {ratio_ml} mL per 100 g", _with_range(mix.spread_mm), _with_range(mix.vibrated_spread_mm), called)


def clock_data():
    """Return what moves the clock, as texts: what is done, loss of gloss and final set with their ranges.

    Returns
    -------
    tuple of (str, str, str)
    """
    usual = POWDERS[CLOCK_POWDER].recommended_ratio.value
    rows = []
    for change, amount, words in CLOCK_CHANGES:
        mix = Mix(Recipe(CLOCK_POWDER, usual, **conditions_with(change, amount)))
        rows.append((words, _with_range(mix.gloss_loss_min), _with_range(mix.final_set_min)))
    wetter = Mix(Recipe(CLOCK_POWDER, usual + 0.05))
    rows.append(("5 mL more water for 100 g", _with_range(wetter.gloss_loss_min), _with_range(wetter.final_set_min)))
    return tuple(rows)


def _with_range(prediction):
    return with_unit(prediction.value, prediction.unit, 2) + bracketed(prediction.low, prediction.high)
