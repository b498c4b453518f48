"""Tasks on lesson 15, the accuracy chain."""

import math

from gypsumkit.marking.task_bank.asking import EXACT, ROUNDED
from gypsumkit.marking.tasks import AllThatApply, Number, OneOf, Task
from gypsumkit.quiz.questions import Option, Slip
from gypsumkit.science.expansion import length_change_um


def _um(percent, length_mm):
    return float(length_change_um(percent, length_mm))


def _links(draw):
    return {"length_mm": draw.randrange(12, 58), "impression": draw.randrange(15, 25) / 100, "stone": draw.randrange(4, 10) / 100, "wax": draw.randrange(11, 20) / 100,
            "mould": draw.randrange(155, 195) / 100, "alloy": draw.randrange(221, 240) / 100}


def _ranges(draw):
    return {"end": draw.randrange(52, 98), "wax": draw.randrange(12, 29), "mould": draw.randrange(12, 29), "alloy": draw.randrange(12, 29)}


def _fit(draw):
    low = draw.randrange(12, 74)
    return {"low": low, "high": low + draw.randrange(22, 58), "least": 50, "most": 100}


def _clear(p):
    return min(abs(one - edge) for one in (p.low, p.high) for edge in (p.least, p.most)) >= 6


TASKS = [
    Task(
        id="T15-1", objective="L15-O2", level="apply", difficulty=0.6, title="A chain, link by link",
        text="Between two teeth there are {length_mm} mm. The impression shrinks by {impression} %, the stone grows by {stone} %, the wax shrinks by {wax} %, the mould grows by {mould} % in all, and the alloy "
             "shrinks by {alloy} %. Small percents may simply be added.",
        parameters=_links, digits={"length_mm": None, "impression": 2, "stone": 1, "wax": 2, "mould": 3, "alloy": 3},
        parts=(
            Number(prompt="By how many % is the cast smaller than the mouth?", marks=1, name="cast_percent", compute=lambda p: p.impression - p.stone, unit="%", band=(0.05, 0.21), relative_tolerance=0.02, tolerance_why=EXACT,
                   working="{impression} % − {stone} % = {key}", slips=(Slip(lambda p: p.impression + p.stone, "One shrinks and one grows: mind the signs."),)),
            Number(prompt="How many µm is that on the {length_mm} mm?", marks=1, name="cast_um", compute=lambda p: _um(p.cast_percent, p.length_mm), unit="µm", band=(15, 88), relative_tolerance=0.02, tolerance_why=ROUNDED,
                   working="10 × {cast_percent} × {length_mm} µm = {key}", slips=(Slip(lambda p: 100 * _um(p.cast_percent, p.length_mm), "Divide by 100: it is in percent."),)),
            Number(prompt="By how many % is the casting smaller than the mouth?", marks=2, name="all_percent", compute=lambda p: p.cast_percent + p.wax + p.alloy - p.mould, unit="%", band=(0.3, 1.3), relative_tolerance=0.02,
                   tolerance_why=ROUNDED, working="{cast_percent} % + {wax} % + {alloy} % − {mould} % = {key}",
                   slips=(Slip(lambda p: p.wax + p.alloy - p.mould, "The cast comes first: add its change as well."), Slip(lambda p: p.cast_percent + p.wax + p.alloy + p.mould, "The mould grows: it takes away from the rest."))),
        )),
    Task(
        id="T15-2", objective="L15-O2", level="apply", difficulty=0.55, title="How sure is the end",
        text="A chain ends at {end} µm of room. Three links may be off, independently: the wax by {wax} µm, the mould by {mould} µm, the alloy by {alloy} µm, either way.",
        parameters=_ranges, digits={"end": 2, "wax": 2, "mould": 2, "alloy": 2}, clear=lambda p: len({p.wax, p.mould, p.alloy}) == 3,
        parts=(
            Number(prompt="By how many µm may the end be off when all three are at their worst together?", marks=1, name="worst_um", compute=lambda p: float(p.wax + p.mould + p.alloy), unit="µm", band=(36, 87),
                   tolerance_why=EXACT, working="{wax} µm + {mould} µm + {alloy} µm = {key}", slips=()),
            Number(prompt="By how many µm may it be off by the root of the sum of squares?", marks=1, name="likely_um", compute=lambda p: math.hypot(p.wax, p.mould, p.alloy), unit="µm", band=(20, 50), relative_tolerance=0.02,
                   tolerance_why="a root may be rounded.", working="√({wax}² + {mould}² + {alloy}²) = {key}", slips=(Slip(lambda p: p.wax**2 + p.mould**2 + p.alloy**2, "Take the root at the end."),)),
            Number(prompt="What is the lower end of the range then, in µm?", marks=1, name="low_um", compute=lambda p: p.end - p.likely_um, unit="µm", band=(13, 75), absolute_tolerance=0.6, relative_tolerance=0.02,
                   tolerance_why="the root may be rounded.", working="{end} µm − {likely_um} µm = {key}", slips=(Slip(lambda p: p.end + p.likely_um, "That is the upper end."),)),
        )),
    Task(
        id="T15-3", objective="L15-O1", level="recall", difficulty=0.65, title="Larger or smaller",
        text="From the mouth to the casting every link changes the size a little.",
        parts=(AllThatApply(prompt="Which of these make the casting **larger**?", marks=2, options=(
            Option("The stone sets.", "It grows, so the pattern on it becomes larger.", correct=True),
            Option("The investment sets.", "It grows, and the mould with it.", correct=True),
            Option("The investment is heated.", "Its silica grows.", correct=True),
            Option("Lacquer is brushed on the die.", "The pattern is made over the layer, so it is wider.", correct=True),
            Option("The wax cools.", "It shrinks while it cools."),
            Option("The casting is polished.", "A little metal is taken away."),
            Option("The alloy becomes solid and cools.", "It shrinks most of all links."),
            Option("The impression shrinks before it is poured.", "Then the cast becomes smaller too, and everything that is made on it."),
        )),)),
    Task(
        id="T15-4", objective="L15-O3", level="explain/judge", difficulty=0.6, title="Does it fit?",
        text="The range of a chain goes from {low} to {high} µm. Wanted is a room of {least} to {most} µm.",
        parameters=_fit, digits={"low": None, "high": None, "least": None, "most": None}, clear=_clear,
        parts=(OneOf(prompt="What do you write?", marks=1, options=(
            Option("It fits.", "Compare both ends of the range with both ends of what is wanted.", correct=lambda p: p.least <= p.low and p.high <= p.most),
            Option("It may fit; measure the link with the largest doubt.", "A part of the range lies inside and a part outside.", correct=lambda p: (p.low < p.least < p.high) or (p.low < p.most < p.high)),
            Option("It is too small.", "Then the whole range would lie below what is wanted.", correct=lambda p: p.high < p.least),
            Option("Nothing: a range cannot be compared with a range.", "Compare both ends of the range with both ends of what is wanted."),
        )),)),
    Task(
        id="T15-5", objective="L15-O4", level="explain/judge", difficulty=0.55, title="Which stone for which chain",
        text="Stones grow by different amounts while they set.",
        parts=(AllThatApply(prompt="Which of these are right?", marks=2, options=(
            Option("When nothing comes after the cast, the stone that grows least is right, if the impression keeps its size.", "Nothing that follows could cancel its growth.", correct=True),
            Option("When the casting ends too small, a stone that grows more cancels a part of it.", "A larger die gives a larger casting.", correct=True),
            Option("Which stone is right depends on the other links of the chain.", "They may shrink or grow more than the stones differ.", correct=True),
            Option("A stone of high expansion does not replace an investment that fits the alloy.", "The stone moves the end only by a part of what the alloy shrinks.", correct=True),
            Option("The stone that grows least is the best for every work.", "It grows least. Whether this is best depends on the other links."),
            Option("A stone that grows more makes the range of the chain narrower.", "It moves the end. The ranges of the other links stay."),
            Option("A stone of high expansion is right for every study model.", "After a study model nothing comes that could cancel its growth."),
            Option("A longer work needs a stone that grows less.", "The length makes micrometres of percents. Which sign is wanted, the chain decides."),
        )),)),
]
