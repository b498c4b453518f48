"""Tasks on lesson 02, the water/powder ratio."""

from gypsumkit.marking.task_bank.asking import BY_BALANCE, BY_CYLINDER, PEOPLE, POURS, ROUNDED, carries, predicted, strength
from gypsumkit.marking.tasks import Coded, FillRecipe, InOrder, InWords, Number, OneOf, Task
from gypsumkit.mix import pourable_ratios
from gypsumkit.quiz.questions import Option, Place, Slip

PLASTER = "model plaster"
SLIP_WATER = {"model plaster": 50, "dental stone": 30, "improved stone": 23}


def _middle_of(least_mpa):
    """A ratio of model plaster that pours and carries the strength with something to spare at both ends."""
    stiff, _ = pourable_ratios(PLASTER)
    good = [ratio for ratio in (stiff + 0.01 * step for step in range(1, 12)) if strength(PLASTER, ratio) > 1.03 * least_mpa]
    return good[len(good) // 2]


def _spilled(draw):
    powder = draw.choice(list(SLIP_WATER))
    return {"who": draw.choice(PEOPLE), "powder": powder, "per_100_ml": SLIP_WATER[powder], "powder_g": draw.randrange(60, 96, 5), "extra_ml": draw.choice([3, 4, 5, 6])}


def _spilled_ratio(p):
    return (p.per_100_ml / 100 * p.powder_g + p.extra_ml) / p.powder_g


def _two_batches(draw):
    return {"first": PEOPLE[draw.randrange(3)], "second": PEOPLE[3 + draw.randrange(3)], "first_g": draw.randrange(55, 95, 5), "second_g": draw.randrange(210, 420, 10),
            "first_extra_ml": draw.choice([2, 3, 4]), "second_extra_ml": draw.choice([5, 6, 7, 8])}


def _lost(powder_g, extra_ml):
    return 1 - strength(PLASTER, round(0.5 + extra_ml / powder_g, 4)) / strength(PLASTER, 0.5)


def _loss_apart(p):
    return _lost(p.first_g, p.first_extra_ml) - _lost(p.second_g, p.second_extra_ml)


def _table(draw):
    return {"per_100_ml": draw.randrange(23, 57), **{f"weight_{place}_g": draw.randrange(110, 490, 10) for place in range(1, 5)}}


TASKS = [
    Task(
        id="T02-1", objective="L02-O1", level="apply", difficulty=0.75, title="Powder and water for a wanted amount of mix",
        text="A cast needs {mix_g} g of mix, powder and water together, at {per_100_ml} mL of water per 100 g of powder. Count 1 mL of water as 1 g.",
        parameters=lambda draw: {"mix_g": draw.randrange(130, 500, 10), "per_100_ml": draw.randrange(22, 58)}, digits={"mix_g": 2, "per_100_ml": 2},
        parts=(
            Number(prompt="How much mix in g do 100 g of powder give?", marks=1, name="from_100_g", compute=lambda p: 100 + p.per_100_ml, unit="g", also_unit="g per 100 g",
                   band=(110, 170), relative_tolerance=0.005, tolerance_why=BY_BALANCE, working="100 g + {per_100_ml} g = {key}",
                   slips=(Slip(lambda p: 100 - p.per_100_ml, "You took the water off. The mix is powder and water together: add."),)),
            Number(prompt="How much powder in g does the wanted amount of mix need?", marks=2, name="powder_g",
                   compute=lambda p: 100 * p.mix_g / p.from_100_g, unit="g", band=(80, 410), relative_tolerance=0.015, tolerance_why=BY_BALANCE,
                   working="{mix_g} g ÷ {from_100_g} g × 100 g = {key}",
                   slips=(Slip(lambda p: p.mix_g * (1 - p.per_100_ml / 100), "You took {per_100_ml} % off the mix. The {per_100_ml} mL belong to 100 g of "
                               "powder, not to 100 g of mix."),
                          Slip(lambda p: p.mix_g * p.from_100_g / 100, "You multiplied. The powder is only a part of the mix: divide."))),
            Number(prompt="How much water in mL?", marks=1, name="water_ml", compute=lambda p: p.powder_g * p.per_100_ml / 100, unit="mL",
                   other_ways=(lambda p: p.mix_g - p.powder_g,),
                   band=(24, 140), relative_tolerance=0.02, tolerance_why=BY_CYLINDER, working="{powder_g} g × {per_100_ml} mL ÷ 100 g = {key}",
                   slips=(Slip(lambda p: p.mix_g * p.per_100_ml / 100, "You took the water for the whole mix. Take it for the powder."),)),
        )),
    Task(
        id="T02-2", objective="L02-O1", level="apply", difficulty=0.85, title="Water for a weight of powder",
        text="A box says: {per_100_ml} mL of water per 100 g of powder. You have weighed {powder_g} g.",
        parameters=lambda draw: {"powder_g": draw.randrange(120, 430, 10), "per_100_ml": draw.randrange(22, 58)}, digits={"powder_g": 2, "per_100_ml": 2},
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
        parameters=lambda draw: {"powder_g": draw.randrange(120, 400, 10), "least_mpa": draw.choice([9, 9.5, 8.5])}, digits={"powder_g": 2, "least_mpa": None},
        trusted=lambda p: (predicted("wet_strength_mpa", PLASTER, _middle_of(p.least_mpa)), predicted("yield_stress_pa", PLASTER, _middle_of(p.least_mpa))),
        parts=(
            FillRecipe(prompt="How much water do you take?", marks=3, fields=("water_ml",), given={"powder": PLASTER, "powder_g": lambda p: p.powder_g},
                       solution=lambda p: {"water_ml": p.powder_g * _middle_of(p.least_mpa)}, demands=(POURS, carries("least_mpa", 2)),
                       slips=((lambda p: {"water_ml": 0.63 * p.powder_g}, "So much water makes it easy to pour and weak: look at the strength as well."),
                              (lambda p: {"water_ml": 0.38 * p.powder_g}, "So little water makes a strong mass that no longer pours."))),
        )),
    Task(
        id="T02-4", objective="L02-O1", level="recall", difficulty=0.8, title="The order of a hand mix",
        text="A mix is made by hand and poured.",
        parts=(
            InOrder(prompt="Put these steps in order: the first one first.", marks=2, shown=5, steps=(
                Place("Weigh the powder and measure the water.", "Once water and powder meet, the clock runs. Everything must be ready."),
                Place("Put the water into the clean, damp bowl.", "Water first. Powder at the bottom of a bowl stays dry and makes lumps."),
                Place("Sift the powder into the water.", "Powder into water, slowly, so that air can leave between the grains."),
                Place("Wait about half a minute for it to soak.", "Dry grains take up water by themselves. Stirring too early beats air in."),
                Place("Spatulate for about a minute, wiping the mix along the wall of the bowl.", "Wiping presses lumps and bubbles out. It comes after soaking."),
                Place("Hold the bowl on the vibrator for some seconds.", "The vibrator brings bubbles up before the mix is poured."),
                Place("Pour small portions into the impression.", "Only a smooth mix without bubbles is poured."),
                Place("Separate the cast when it is cold again.", "Warmth says that it still sets."),
            )),
        )),
    Task(
        id="T02-5", objective="L02-O3", level="apply", difficulty=0.6, title="A few millilitres too much",
        text="{who} weighs {powder_g} g of {powder}, meant for {per_100_ml} mL of water per 100 g, and pours in {extra_ml} mL too much. The model says: {meant_mpa} MPa wet at 1 h "
             "as it was meant, {now_mpa} MPa as it was poured.",
        parameters=_spilled, digits={"powder_g": None, "per_100_ml": None, "extra_ml": 1},
        computed={"meant_mpa": lambda p: round(strength(p.powder, p.per_100_ml / 100), 1), "now_mpa": lambda p: round(strength(p.powder, round(_spilled_ratio(p), 4)), 1)},
        trusted=lambda p: (predicted("wet_strength_mpa", p.powder, p.per_100_ml / 100), predicted("wet_strength_mpa", p.powder, round(_spilled_ratio(p), 4))),
        parts=(
            Number(prompt="How much water in mL is in the bowl?", marks=1, name="water_ml", compute=lambda p: p.per_100_ml * p.powder_g / 100 + p.extra_ml, unit="mL",
                   band=(15, 60), tolerance_why=BY_CYLINDER, working="{powder_g} g × {per_100_ml} mL ÷ 100 g + {extra_ml} mL = {key}",
                   slips=(Slip(lambda p: p.per_100_ml + p.extra_ml, "You took the water for 100 g. There are {powder_g} g."),
                          Slip(lambda p: p.per_100_ml * p.powder_g / 100, "That is the water that was meant. {extra_ml} mL more went in."))),
            Number(prompt="How many mL of water per 100 g is that?", marks=1, name="now_ml", compute=lambda p: 100 * p.water_ml / p.powder_g, unit="mL", also_unit="mL per 100 g",
                   band=(25, 62), relative_tolerance=0.015, tolerance_why=ROUNDED, working="{water_ml} mL ÷ {powder_g} g × 100 g = {key}",
                   slips=(Slip(lambda p: p.per_100_ml + p.extra_ml, "You added the slip to the water for 100 g. It went into {powder_g} g."),)),
            Number(prompt="What part in % of the strength is lost?", marks=2, name="lost_percent", compute=lambda p: 100 * (p.meant_mpa - p.now_mpa) / p.meant_mpa, unit="%",
                   band=(12.5, 36), relative_tolerance=0.03, absolute_tolerance=0.3, tolerance_why="the strengths are given in three digits.",
                   working="({meant_mpa} − {now_mpa}) MPa ÷ {meant_mpa} MPa × 100 = {key}",
                   slips=(Slip(lambda p: 100 * (p.meant_mpa - p.now_mpa) / p.now_mpa, "You divided by the strength that is left. Divide by the one that was meant."),
                          Slip(lambda p: 100 * p.now_mpa / p.meant_mpa, "That is the part that is left."))),
        )),
    Task(
        id="T02-6", objective="L02-O3", level="explain/judge", difficulty=0.6, title="Two slips compared",
        text="{first} mixes {first_g} g of model plaster and pours in {first_extra_ml} mL of water too much. {second} mixes {second_g} g and pours in {second_extra_ml} mL too much. Both "
             "meant 50 mL per 100 g.",
        parameters=_two_batches, digits={"first_g": None, "second_g": 2, "first_extra_ml": 1, "second_extra_ml": 1},
        computed={"first_per_100": lambda p: 100 * p.first_extra_ml / p.first_g, "second_per_100": lambda p: 100 * p.second_extra_ml / p.second_g},
        clear=lambda p: abs(_loss_apart(p)) > 0.02,
        trusted=lambda p: tuple(predicted("wet_strength_mpa", PLASTER, 0.5 + one) for one in (p.first_extra_ml / p.first_g, p.second_extra_ml / p.second_g)),
        parts=(
            OneOf(prompt="Whose cast loses the larger part of its strength?", marks=1, shown=3, options=(
                Option("That of {first}.", "For each 100 g of powder the slip is {first_per_100:.1f} mL with {first} and {second_per_100:.1f} mL with {second}; the larger change costs more.", correct=lambda p: _loss_apart(p) > 0.02),
                Option("That of {second}.", "For each 100 g of powder the slip is {first_per_100:.1f} mL with {first} and {second_per_100:.1f} mL with {second}; the larger change costs more.", correct=lambda p: _loss_apart(p) < -0.02),
                Option("Both lose the same part.", "For each 100 g of powder the slip is {first_per_100:.1f} mL with {first} and {second_per_100:.1f} mL with {second}; the larger change costs more.", correct=lambda p: abs(_loss_apart(p)) <= 0.02),
            )),
            InWords(prompt="Give the reason in one sentence, with a number for each batch.", marks=2, look_for=(
                "Divides each slip by its powder, mL per g or per 100 g (1 mark).", "Says that strength follows the ratio, so the larger change of the ratio costs more (1 mark).")),
        )),
    Task(
        id="T02-7", objective="L02-O1", level="apply", difficulty=0.6, title="A table of batches",
        text="A box says {per_100_ml} mL of water per 100 g of powder. Four students have weighed {weight_1_g} g, {weight_2_g} g, {weight_3_g} g and {weight_4_g} g.",
        parameters=_table, digits={"per_100_ml": 2, **{f"weight_{place}_g": 2 for place in range(1, 5)}},
        parts=(Coded(prompt="How much water in mL do the four need together?", marks=2, name="water_ml",
                     compute=lambda p: sum(p[f"weight_{place}_g"] for place in range(1, 5)) * p.per_100_ml / 100, unit="mL", band=(160, 900), relative_tolerance=0.005,
                     tolerance_why="code does not round on the way.", working="the sum of the four weights × {per_100_ml} ÷ 100 = {key}",
                     slips=(Slip(lambda p: sum(p[f"weight_{place}_g"] for place in range(1, 5)) / p.per_100_ml * 100, "You divided by the ratio: there is less water than powder."),
                            Slip(lambda p: sum(p[f"weight_{place}_g"] for place in range(1, 5)) * p.per_100_ml / 400, "That is the mean of the four. Asked is the sum."),
                            Slip(lambda p: p.weight_4_g * p.per_100_ml / 100, "That is the water of the last one alone."))),)),
]
