"""Tasks on lesson 12, choose and justify."""

import math

from gypsumkit.marking.task_bank.asking import BY_BALANCE, EXACT, POURS, ROUNDED, THREE, among, carries, density, grows_at_most, predicted, strength, usual, value
from gypsumkit.marking.tasks import AllThatApply, Demand, FillRecipe, Number, Task
from gypsumkit.mix import pourable_ratios
from gypsumkit.quiz.questions import Option, Slip
from gypsumkit.remembering import remembered
from gypsumkit.science.expansion import length_change_um



def _batch(draw):
    return {"casts": draw.choice([6, 7, 8, 9]), "cast_ml": draw.randrange(42, 98), "powder": draw.choice(THREE), "waste": draw.choice([12, 14, 15, 16, 18]),
            "price": draw.choice([2.4, 3.2, 3.6, 4.5, 5.4, 6.2, 7.5])}


def _bowls(draw):
    begin, each, fitting = draw.choice([1.2, 1.3, 1.4]), draw.choice([0.6, 0.7, 0.8, 0.9]), draw.choice([2, 3])
    return {"begin": begin, "each": each, "pours_until": round(begin + fitting * each + draw.choice([0.2, 0.3, 0.4]), 1), "casts": draw.choice([11, 13, 14, 16, 17, 19]), "gap": draw.choice([6, 7, 8, 9]),
            "final_high": draw.choice([19, 21, 22, 23, 24, 26])}


def _wanted(draw):
    return {"least_mpa": draw.choice([17, 18, 19, 21, 22, 23, 24, 26, 27]), "most_percent": draw.choice([0.13, 0.14, 0.15, 0.16]), "cast_ml": draw.randrange(62, 160)}


@remembered(256)
def _choice(least_mpa, most_percent):
    """The powder and ratio of those that meet strength and growth that lies farthest inside what pours, or None."""
    found = []
    for powder in THREE:
        stiff, runny = pourable_ratios(powder)
        for step in range(1, 20):
            ratio = round(stiff + (runny - stiff) * step / 20, 4)
            if strength(powder, ratio) > 1.06 * least_mpa and value("setting_expansion_percent", powder, ratio) < 0.95 * most_percent:
                found.append((min(step, 20 - step), powder, ratio))
    return max(found)[1:] if found else None


def _paste_ml_per_g(powder, ratio):
    return 1 / density(powder) + ratio


def _solution(p):
    powder, ratio = _choice(p.least_mpa, p.most_percent)
    powder_g = math.ceil(1.08 * p.cast_ml / _paste_ml_per_g(powder, ratio) / 5) * 5
    return {"powder": powder, "powder_g": powder_g, "water_ml": ratio * powder_g, "mixing": "spatulated by hand"}


def _mix_ml(mix):
    return mix.recipe.powder_g * _paste_ml_per_g(mix.recipe.powder, mix.recipe.water_powder_ratio)


ENOUGH = Demand("There is enough for {cast_ml} mL and at most half as much again", lambda mix, p: 0.99 * p.cast_ml <= _mix_ml(mix) <= 1.5 * p.cast_ml,
                lambda mix, p: f"it makes {_mix_ml(mix):.0f} mL")


TASKS = [
    Task(
        id="T12-1", objective="L12-O3", level="apply", difficulty=0.5, title="A batch for all casts",
        text="{casts} casts of {cast_ml} mL each are made from {powder}, with {per_100_ml} mL of water per 100 g. The grains have a density of {density} g/cm³. {waste} % more than the casts take is mixed. "
             "1 kg costs {price} (invented). Air is not counted.",
        parameters=_batch, digits={"casts": 1, "cast_ml": None, "waste": 2, "price": 2}, computed={"per_100_ml": lambda p: round(100 * usual(p.powder)), "density": lambda p: density(p.powder)},
        parts=(
            Number(prompt="How many mL of mix are needed, waste included?", marks=1, name="mix_ml", compute=lambda p: p.casts * p.cast_ml * (1 + p.waste / 100), unit="mL", band=(280, 1050),
                   tolerance_why=EXACT, working="{casts} × {cast_ml} mL × 1.{waste} = {key}",
                   slips=(Slip(lambda p: p.casts * p.cast_ml, "The waste is missing: {waste} % more."), Slip(lambda p: p.cast_ml * (1 + p.waste / 100), "That is for one cast. There are {casts}."))),
            Number(prompt="How many mL of mix do 100 g of powder give?", marks=1, name="per_100_mix_ml", compute=lambda p: 100 / p.density + p.per_100_ml, unit="mL", also_unit="mL per 100 g", band=(50, 95),
                   tolerance_why="the density is given in three digits.", working="100 g ÷ {density} g/cm³ + {per_100_ml} mL = {key}",
                   slips=(Slip(lambda p: 100 + p.per_100_ml, "That is the mass in g. Divide the powder by its density first."), Slip(lambda p: 100 / p.density, "You left out the water."))),
            Number(prompt="How much powder in g is that?", marks=1, name="powder_g", compute=lambda p: 100 * p.mix_ml / p.per_100_mix_ml, unit="g", band=(310, 1800), relative_tolerance=0.015,
                   tolerance_why=BY_BALANCE, working="{mix_ml} mL ÷ {per_100_mix_ml} mL × 100 g = {key}", slips=()),
            Number(prompt="What does the powder cost, in the same money?", marks=1, name="cost", compute=lambda p: p.powder_g / 1000 * p.price, unit="", band=(1.6, 9.5), relative_tolerance=0.02,
                   tolerance_why=ROUNDED, working="{powder_g} g ÷ 1000 × {price} = {key}",
                   slips=(Slip(lambda p: p.powder_g * p.price, "You took the price for 1 g. It is for 1 kg."), Slip(lambda p: p.powder_g / 100 * p.price, "You took the price for 100 g. It is for 1 kg."))),
        )),
    Task(
        id="T12-2", objective="L12-O4", level="apply", difficulty=0.45, title="A timetable that holds",
        text="In the worst case a stone pours until {pours_until} min after the start of mixing. Mixing ends at {begin} min, and to pour one impression takes {each} min. {casts} impressions are to be "
             "poured. A new bowl is begun every {gap} min, the first at 0 min. The final set comes at the latest {final_high} min after the start of a bowl.",
        parameters=_bowls, digits={"begin": 2, "each": 1, "pours_until": 2, "casts": 2, "gap": 1, "final_high": 2},
        parts=(
            Number(prompt="How many minutes (min) are left to pour from one bowl?", marks=1, name="left_min", compute=lambda p: round(p.pours_until - p.begin, 6), unit="min", band=(1.0, 3.2),
                   tolerance_why=EXACT, working="{pours_until} min − {begin} min = {key}",
                   slips=(Slip(lambda p: p.pours_until + p.begin, "You added. Mixing takes a part of the time: take it off."),)),
            Number(prompt="How many whole impressions can be poured from one bowl?", marks=1, name="per_bowl", compute=lambda p: math.floor(p.left_min / p.each + 1e-9), unit="", band=(1.9, 3.2),
                   relative_tolerance=0.0, absolute_tolerance=0.05, tolerance_why="it is a whole number.", working="{left_min} min ÷ {each} min, rounded down to {key}",
                   slips=(Slip(lambda p: math.floor(p.left_min / p.each + 1e-9) + 1, "You rounded up. The last one would be poured too late."),)),
            Number(prompt="How many bowls are mixed?", marks=1, name="bowls", compute=lambda p: math.ceil(p.casts / p.per_bowl - 1e-9), unit="", band=(3.9, 10.5), relative_tolerance=0.0,
                   absolute_tolerance=0.05, tolerance_why="it is a whole number.", working="{casts} ÷ {per_bowl}, rounded up to {key}",
                   slips=(Slip(lambda p: math.ceil(p.casts / p.per_bowl - 1e-9) - 1, "You rounded down. Then some impressions get no stone."),)),
            Number(prompt="At what minute (min) may the casts of the last bowl be separated, to be sure?", marks=2, name="separate_min", compute=lambda p: (p.bowls - 1) * p.gap + p.final_high, unit="min",
                   band=(36, 110), relative_tolerance=0.005, absolute_tolerance=0.3, tolerance_why=EXACT, working="({bowls} − 1) × {gap} min + {final_high} min = {key}",
                   slips=(Slip(lambda p: p.bowls * p.gap + p.final_high, "The first bowl is begun at 0 min, so the last one begins one gap earlier."),
                          Slip(lambda p: (p.bowls - 1) * p.gap, "That is when the last bowl is begun. It still has to set."))),
        )),
    Task(
        id="T12-3", objective="L12-O2", level="explain/judge", difficulty=0.4, title="A recipe that meets four wishes",
        text="A working model of {cast_ml} mL is wanted. It must pour, carry {least_mpa} MPa wet at 1 h, and grow by at most {most_percent} % by 2 h. You mix by hand or by machine; powders: model plaster, "
             "dental stone, improved stone, high-expansion stone; ways of mixing: spatulated by hand, machine under vacuum.",
        parameters=_wanted, digits={"least_mpa": 2, "most_percent": 2, "cast_ml": None}, clear=lambda p: _choice(p.least_mpa, p.most_percent) is not None,
        trusted=lambda p: tuple(predicted(name, *_choice(p.least_mpa, p.most_percent)) for name in ("wet_strength_mpa", "setting_expansion_percent"))
        if _choice(p.least_mpa, p.most_percent) else (predicted("wet_strength_mpa", "dental stone", 0.3),),
        parts=(FillRecipe(prompt="Write a recipe that meets all of them.", marks=5, fields=("powder", "powder_g", "water_ml", "mixing"), solution=_solution,
                          demands=(among((*THREE, "high-expansion stone")), POURS, carries("least_mpa", 2), grows_at_most("most_percent"), ENOUGH),
                          slips=((lambda p: {"powder": "model plaster", "powder_g": p.cast_ml, "water_ml": 0.5 * p.cast_ml, "mixing": "spatulated by hand"},
                                  "Model plaster neither carries so much nor grows so little: take a stone."),
                                 (lambda p: {"powder": "high-expansion stone", "powder_g": 1.8 * p.cast_ml, "water_ml": 0.23 * 1.8 * p.cast_ml, "mixing": "spatulated by hand"},
                                  "It is strong, but it is made to grow: look at the wish about growth."))),)),
    Task(
        id="T12-4", objective="L12-O1", level="recall", difficulty=0.75, title="Wishes that can be checked",
        text="A dentist and a technician talk about what a cast must be able to do.",
        parts=(AllThatApply(prompt="Which of these wishes can be checked by a number?", marks=2, options=(
            Option("At most 40 µm longer on 40 mm, at 2 h.", "A number, a unit, a length and a moment.", correct=True),
            Option("At least 22 MPa, wet, when it is put into the flask.", "A number, a unit, a state and a moment.", correct=True),
            Option("Ready to be trimmed 2 h after mixing.", "A moment that a clock can check.", correct=True),
            Option("Powder for not more than 0.50 a cast.", "A price that a list can check.", correct=True),
            Option("It pours for 2 min after the end of mixing.", "A time that a clock can check.", correct=True),
            Option("As exact as possible.", "Possible for whom, and on what length?"),
            Option("Strong enough not to break.", "Under what load, wet or dry, and when?"),
            Option("Better than the last one.", "Better in what, and by how much?"),
            Option("Not too expensive.", "For whom? Say what it may cost."),
            Option("It should set nice and fast.", "Say by which minute, and by which sign of setting."),
        )),)),
    Task(
        id="T12-5", objective="L12-O3", level="apply", difficulty=0.6, title="Too long, or just right",
        text="Dies may become at most {most_um} µm longer on {length_mm} mm. A stone grows by {percent} % by 2 h.",
        parameters=lambda draw: {"most_um": draw.randrange(21, 39), "length_mm": draw.randrange(32, 59), "percent": draw.choice([0.13, 0.14, 0.16, 0.17, 0.18, 0.19, 0.21, 0.22])},
        digits={"most_um": None, "length_mm": None, "percent": 2},
        parts=(
            Number(prompt="By how many µm does it become longer on {length_mm} mm?", marks=1, name="change_um", compute=lambda p: float(length_change_um(p.percent, p.length_mm)), unit="µm",
                   band=(40, 130), tolerance_why=EXACT, working="{percent} ÷ 100 × {length_mm} mm × 1000 µm/mm = {key}",
                   slips=(Slip(lambda p: 100 * float(length_change_um(p.percent, p.length_mm)), "The expansion is in percent: divide by 100."),
                          Slip(lambda p: float(length_change_um(p.percent, p.length_mm)) / 10, "One millimetre is 1000 µm, not 100."))),
            Number(prompt="By how many µm is that too long?", marks=1, name="too_long_um", compute=lambda p: p.change_um - p.most_um, unit="µm", band=(18, 100), relative_tolerance=0.03,
                   absolute_tolerance=0.6, tolerance_why=ROUNDED, working="{change_um} µm − {most_um} µm = {key}",
                   slips=(Slip(lambda p: p.change_um + p.most_um, "You added. Take off what is allowed."),)),
            Number(prompt="What growth in % would be just allowed?", marks=2, name="allowed_percent", compute=lambda p: p.most_um / (10 * p.length_mm), unit="%", band=(0.035, 0.13),
                   relative_tolerance=0.02, tolerance_why=ROUNDED, working="{most_um} µm ÷ {length_mm} mm ÷ 10 = {key}",
                   slips=(Slip(lambda p: p.most_um / p.length_mm, "µm divided by mm is not yet percent: 10 µm on 1 mm are 1 %."),)),
        )),
]
