"""Tasks on lesson 09, expansion and the accuracy of a cast."""

from gypsumkit.marking.task_bank.asking import EXACT, ROUNDED, drawn_mix, predicted
from gypsumkit.marking.tasks import AllThatApply, Number, OneOf, Task
from gypsumkit.quiz.questions import Option, Slip
from gypsumkit.science.expansion import WET_TIMES, length_change_um
from gypsumkit.science.limits import EDITIONS, STANDING, expansion_limits

def _um(percent, length_mm):
    return float(length_change_um(percent, length_mm))


def _die(draw):
    return {**drawn_mix(draw, ("model plaster", "dental stone")), "length_mm": draw.randrange(12, 49)}


def _growth(p):
    return predicted("setting_expansion_percent", p.powder, p.per_100_ml / 100)


def _trough(draw):
    return {"start_um": draw.randrange(12, 58), "grown_um": draw.choice([*range(82, 132, 3), *range(172, 262, 4)]), "length_mm": draw.randrange(12, 49), "iso_type": draw.choice([3, 4]),
            "edition": draw.choice(EDITIONS)}


def _limit(p):
    return expansion_limits(p.iso_type, p.edition)[0].high_percent


TASKS = [
    Task(
        id="T09-1", objective="L09-O2", level="apply", difficulty=0.65, title="Percent and micrometres",
        text="A piece cast from {powder}, {per_100_ml} mL of water per 100 g, is {length_mm} mm long when it loses its gloss. In the model it grows by {percent} % by 2 h in air, and {times:.0f} times as much under water.",
        parameters=_die, digits={"length_mm": None, "per_100_ml": None, "percent": 3}, computed={"percent": lambda p: float(f"{float(_growth(p).value):.3g}"), "times": lambda p: WET_TIMES}, trusted=lambda p: (_growth(p),),
        parts=(
            Number(prompt="By how many µm does it grow in air?", marks=1, name="air_um", compute=lambda p: _um(p.percent, p.length_mm), unit="µm", band=(22, 120), tolerance_why=EXACT,
                   working="{percent} ÷ 100 × {length_mm} mm × 1000 µm/mm = {key}",
                   slips=(Slip(lambda p: 100 * _um(p.percent, p.length_mm), "Divide by 100: the expansion is in percent."),
                          Slip(lambda p: _um(p.percent, p.length_mm) / 10, "One millimetre is 1000 µm, not 100."))),
            Number(prompt="And by how many µm under water?", marks=1, name="wet_um", compute=lambda p: p.times * p.air_um, unit="µm", band=(44, 240), tolerance_why=ROUNDED,
                   working="{times:.0f} × {air_um} µm = {key}", slips=()),
            Number(prompt="What part of its length in % has it then grown under water?", marks=1, name="wet_percent", compute=lambda p: p.wet_um / (10 * p.length_mm), unit="%", band=(0.12, 0.7),
                   relative_tolerance=0.015, tolerance_why=ROUNDED, working="{wet_um} µm ÷ {length_mm} mm ÷ 10 = {key}",
                   slips=(Slip(lambda p: p.wet_um / p.length_mm, "µm divided by mm is not yet percent: 10 µm on 1 mm are 1 %."),)),
        )),
    Task(
        id="T09-2", objective="L09-O3", level="explain/judge", difficulty=0.6, title="A trough, a dial and a limit",
        text="A stone sets in a trough of 100 mm. The dial shows {start_um} µm when the gloss is lost and {end_um} µm at 2 h. The stone is sold as a type {iso_type}. The upper limit of the {edition} "
             "edition for this type is {limit_percent} % ({standing}).",
        parameters=_trough, digits={"start_um": None, "grown_um": None, "length_mm": None, "iso_type": None},
        computed={"end_um": lambda p: p.start_um + p.grown_um, "limit_percent": _limit, "standing": lambda p: STANDING[p.edition]},
        clear=lambda p: abs(p.grown_um / 1000 / p.limit_percent - 1) > 0.08,
        parts=(
            Number(prompt="What expansion in % is that?", marks=2, name="grown_percent", compute=lambda p: (p.end_um - p.start_um) / 1000, unit="%", band=(0.07, 0.3), relative_tolerance=0.015,
                   tolerance_why="a dial is read to about 2 µm.", working="({end_um} − {start_um}) µm ÷ 100 000 µm × 100 = {key}",
                   slips=(Slip(lambda p: p.end_um / 1000, "Take off what the dial showed at the beginning."),
                          Slip(lambda p: (p.end_um - p.start_um) / 10, "10 µm on 1 mm are 1 %: on 100 mm that are 1000 µm."))),
            Number(prompt="What does this expansion come to on {length_mm} mm, in µm?", marks=1, name="piece_um", compute=lambda p: _um(p.grown_percent, p.length_mm), unit="µm", band=(10, 60),
                   relative_tolerance=0.02, tolerance_why=ROUNDED, working="{grown_percent} % of {length_mm} mm = {key}", slips=()),
            OneOf(prompt="What do you write down?", marks=1, options=(
                Option("Below the limit that was remembered or quoted; look the limit up in the standard before it counts.", "Compare what was measured with {limit_percent} %; a limit that was remembered or quoted has to be looked up.",
                       correct=lambda p: p.grown_percent < p.limit_percent),
                Option("Above the limit that was remembered or quoted; look the limit up and test again.", "Compare what was measured with {limit_percent} %; a limit that was remembered or quoted has to be looked up.",
                       correct=lambda p: p.grown_percent >= p.limit_percent),
                Option("It passes the standard.", "The limit was not read in the standard, and one piece is no test series."),
                Option("It fails the standard.", "The limit was not read in the standard, and one piece is no test series."),
            )),
        )),
    Task(
        id="T09-3", objective="L09-O4", level="recall", difficulty=0.55, title="What makes a cast larger",
        text="A cast of model plaster is to keep its size as well as it can.",
        parts=(AllThatApply(prompt="Which of these make it grow **more**?", marks=2, options=(
            Option("Less water than recommended.", "The crystals start closer together and push sooner.", correct=True),
            Option("Many more turns of the spatula.", "More pieces of crystal, closer together.", correct=True),
            Option("Setting under water.", "Nothing holds the growing crystals back.", correct=True),
            Option("High-expansion stone in place of plaster's cousin, the dental stone.", "It is made to grow.", correct=True),
            Option("2 % of potassium sulfate.", "It hastens the set and still lowers the expansion."),
            Option("More water than recommended.", "The crystals start further apart and push later."),
            Option("Sodium citrate.", "It retards, and it lowers the expansion as well."),
            Option("Drying in moving air after it has set.", "Drying does not change the network of crystals."),
            Option("A heavier tray.", "The tray does not enter; what counts is the mix."),
        )),)),
]
