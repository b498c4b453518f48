"""Tasks on lesson 02, the water/powder ratio."""

from gypsumkit.marking.task_bank.asking import BY_BALANCE, BY_CYLINDER, POURS, strength
from gypsumkit.marking.tasks import Demand, FillRecipe, InOrder, Number, Task
from gypsumkit.mix import pourable_ratios
from gypsumkit.quiz.questions import Place, Slip

PLASTER = "model plaster"


def _batch(draw):
    return {"mix_g": draw.randrange(130, 500, 10), "per_100_ml": draw.randrange(22, 58)}


def _one_weight(draw):
    return {"powder_g": draw.randrange(120, 430, 10), "per_100_ml": draw.randrange(22, 58)}


def _strong_and_pours(draw):
    return {"powder_g": draw.randrange(120, 400, 10), "least_mpa": draw.choice([9, 9.5, 8.5])}


def _middle_of(least_mpa):
    """A ratio of model plaster that pours and carries the strength with something to spare at both ends."""
    stiff, _ = pourable_ratios(PLASTER)
    ratios = [stiff + 0.01 * step for step in range(1, 12)]
    good = [ratio for ratio in ratios if strength(PLASTER, ratio) > 1.03 * least_mpa]
    return good[len(good) // 2]


def _powder_in_mix(draw):
    return {"powder": draw.choice(["dental stone", "improved stone"]), "water_ml": draw.randrange(31, 88)}


TASKS = [
    Task(
        id="T02-1", objective="L02-O1", level="apply", difficulty=0.75, title="Powder and water for a wanted amount of mix",
        text="A cast needs {mix_g} g of mix, powder and water together, at {per_100_ml} mL of water per 100 g of powder. Count 1 mL of water as 1 g.",
        parameters=_batch, digits={"mix_g": 2, "per_100_ml": 2},
        parts=(
            Number(prompt="How much mix in g do 100 g of powder give?", marks=1, name="from_100_g", compute=lambda p: 100 + p.per_100_ml, unit="g",
                   band=(110, 170), relative_tolerance=0.005, tolerance_why=BY_BALANCE, working="100 g + {per_100_ml} g = {key}",
                   slips=(Slip(lambda p: 100 - p.per_100_ml, "You took the water off. The mix is powder and water together: add."),)),
            Number(prompt="How much powder in g does the wanted amount of mix need?", marks=2, name="powder_g",
                   compute=lambda p: 100 * p.mix_g / p.from_100_g, unit="g", band=(70, 420), relative_tolerance=0.015, tolerance_why=BY_BALANCE,
                   working="{mix_g} g ÷ {from_100_g} g × 100 g = {key}",
                   slips=(Slip(lambda p: p.mix_g * (1 - p.per_100_ml / 100), "You took {per_100_ml} % off the mix. The {per_100_ml} mL belong to 100 g of "
                               "powder, not to 100 g of mix."),
                          Slip(lambda p: p.mix_g * p.from_100_g / 100, "You multiplied. The powder is only a part of the mix: divide."))),
            Number(prompt="How much water in mL?", marks=1, name="water_ml", compute=lambda p: p.powder_g * p.per_100_ml / 100, unit="mL",
                   band=(24, 140), relative_tolerance=0.02, tolerance_why=BY_CYLINDER, working="{powder_g} g × {per_100_ml} mL ÷ 100 g = {key}",
                   slips=(Slip(lambda p: p.mix_g * p.per_100_ml / 100, "You took the water for the whole mix. Take it for the powder."),)),
        )),
    Task(
        id="T02-2", objective="L02-O1", level="apply", difficulty=0.85, title="Water for a weight of powder",
        text="A box says: {per_100_ml} mL of water per 100 g of powder. You have weighed {powder_g} g.",
        parameters=_one_weight, digits={"powder_g": 2, "per_100_ml": 2},
        parts=(
            Number(prompt="How much water in mL do you measure?", marks=1, name="water_ml", compute=lambda p: p.powder_g * p.per_100_ml / 100,
                   unit="mL", band=(42, 240), tolerance_why=BY_CYLINDER, working="{powder_g} g × {per_100_ml} mL ÷ 100 g = {key}",
                   slips=(Slip(lambda p: p.powder_g / (p.per_100_ml / 100), "You turned the ratio upside down: you divided by it. Multiply."),
                          Slip(lambda p: p.powder_g * p.per_100_ml / 50, "You took {per_100_ml} mL for each 50 g. The box says for each 100 g."),
                          Slip(lambda p: p.powder_g * p.per_100_ml, "You took {per_100_ml} mL for each gram. It is for 100 g: divide by 100."),
                          Slip(lambda p: p.per_100_ml + p.powder_g - 100, "You added the extra grams to the water. Powder and water keep their ratio, "
                               "not their difference."))),
        )),
    Task(
        id="T02-3", objective="L02-O4", level="explain/judge", difficulty=0.55, title="A mix that pours and carries",
        text="A study model of model plaster is poured from {powder_g} g of powder. The mix must pour, and the model must carry {least_mpa} MPa wet at 1 h.",
        parameters=_strong_and_pours, digits={"powder_g": 2, "least_mpa": None},
        parts=(
            FillRecipe(prompt="Fill in the water.", marks=3, fields=("water_ml",), given={"powder": PLASTER, "powder_g": lambda p: p.powder_g},
                       solution=lambda p: {"water_ml": p.powder_g * _middle_of(p.least_mpa)},
                       demands=(
                           POURS,
                           Demand("Carries {least_mpa} MPa wet", lambda mix, p: mix.wet_strength_mpa.value >= 0.98 * p.least_mpa,
                                  lambda mix, p: f"the library says {mix.wet_strength_mpa.value:.1f} MPa", marks=2),
                       ),
                       slips=((lambda p: {"water_ml": 0.63 * p.powder_g}, "So much water makes it easy to pour and weak: look at the strength as well."),
                              (lambda p: {"water_ml": 0.38 * p.powder_g}, "So little water makes a strong mass that no longer pours."))),
        )),
    Task(
        id="T02-4", objective="L02-O1", level="recall", difficulty=0.8, title="The order of a hand mix",
        text="A mix is made by hand and poured.",
        parts=(
            InOrder(prompt="Put these steps in order: write the letters, first step first.", marks=2, shown=5, steps=(
                Place("Wet the bowl and wipe it, so that no drops stand in it.", "A wet bowl takes no water from the mix; drops would add some."),
                Place("Weigh the powder and measure the water.", "Once water and powder meet, the clock runs. Everything must be ready."),
                Place("Put the water into the bowl.", "Water first. Powder at the bottom of a bowl stays dry and makes lumps."),
                Place("Sift the powder into the water.", "Powder into water, slowly, so that air can leave between the grains."),
                Place("Wait about half a minute for it to soak.", "Dry grains take up water by themselves. Stirring too early beats air in."),
                Place("Spatulate for about a minute, wiping the mix on the wall.", "Wiping presses lumps and bubbles out. It comes after soaking."),
                Place("Hold the bowl on the vibrator for some seconds.", "The vibrator brings bubbles up before the mix is poured."),
                Place("Pour small portions into the impression.", "Only a smooth mix without bubbles is poured."),
                Place("Let it stand until it is cold again before you separate it.", "Warmth says that it still sets."),
            )),
        )),
]
