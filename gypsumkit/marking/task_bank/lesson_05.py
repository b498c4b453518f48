"""Tasks on lesson 05, strength and porosity."""

import math

from gypsumkit.marking.task_bank.asking import POURS, ROUNDED, WATER_ML, among, carries, drawn_mix, porosity, predicted, strength
from gypsumkit.marking.tasks import AllThatApply, FillRecipe, InWords, Number, OneOf, Task
from gypsumkit.mix import pourable_ratios
from gypsumkit.powders import DRY_OVER_WET
from gypsumkit.quiz.questions import Option, Slip
from gypsumkit.studies.compromise import compromise

CHOICE = ("model plaster", "dental stone", "improved stone")


def _crushed(draw):
    return {"diameter_mm": draw.choice([19, 21, 22, 24, 26]), "load_n": draw.randrange(2300, 9900, 100)}


def _two_mixes(draw):
    first, second = draw.sample(list(WATER_ML), 2)
    return {"first": first, "first_ml": draw.randint(*WATER_ML[first]), "second": second, "second_ml": draw.randint(*WATER_ML[second])}


def _apart(p):
    return strength(p.first, p.first_ml / 100) / strength(p.second, p.second_ml / 100)


def _wanted(draw):
    return {"least_mpa": draw.randrange(16, 34), "powder_g": draw.randrange(120, 390, 10)}


def _window(least_mpa):
    """The powder with the widest window that pours and carries the strength, and the middle of that window."""
    found = [(both[1] - both[0], powder, sum(both) / 2) for powder in CHOICE for both in [compromise(powder, 1.05 * least_mpa).both] if both]
    return max(found)[1:] if found else (CHOICE[-1], sum(pourable_ratios(CHOICE[-1])) / 2)


def _solution(p):
    powder, ratio = _window(p.least_mpa)
    return {"powder": powder, "water_ml": ratio * p.powder_g}


def _fair_window(p):
    powder, _ = _window(p.least_mpa)
    both = compromise(powder, 1.05 * p.least_mpa).both
    return both is not None and both[1] - both[0] > 0.01


TASKS = [
    Task(
        id="T05-1", objective="L05-O2", level="apply", difficulty=0.6, title="From the load to the strength",
        text="A wet cylinder of gypsum, {diameter_mm} mm in diameter, breaks at {load_n} N, 1 h after mixing. 1 MPa is 1 N/mm². Dry gypsum carries about {times:.0f} times as much as wet.",
        parameters=_crushed, digits={"diameter_mm": 2, "load_n": 2}, computed={"times": lambda p: DRY_OVER_WET.value},
        parts=(
            Number(prompt="What is the area of the round end in mm²?", marks=1, name="area_mm2", compute=lambda p: math.pi / 4 * p.diameter_mm ** 2, unit="mm²", band=(270, 540),
                   tolerance_why="π may be taken as 3.14.", working="π ÷ 4 × {diameter_mm}² = {key}",
                   slips=(Slip(lambda p: math.pi * p.diameter_mm ** 2, "You took the diameter for the radius: π ÷ 4 times the square of the diameter."),
                          Slip(lambda p: math.pi * p.diameter_mm, "That is the way round it. The area goes with the square of the diameter."))),
            Number(prompt="What is the wet strength in MPa?", marks=1, name="wet_mpa", compute=lambda p: p.load_n / p.area_mm2, unit="MPa", band=(6, 35), relative_tolerance=0.015,
                   tolerance_why=ROUNDED, working="{load_n} N ÷ {area_mm2} mm² = {key}", slips=()),
            Number(prompt="What strength in MPa do you expect when it is dry?", marks=1, name="dry_mpa", compute=lambda p: DRY_OVER_WET.value * p.wet_mpa, unit="MPa", band=(12, 70),
                   relative_tolerance=0.02, tolerance_why=ROUNDED, working="{times:.0f} × {wet_mpa} MPa = {key}",
                   slips=(Slip(lambda p: p.wet_mpa / DRY_OVER_WET.value, "That is half. Drying makes gypsum stronger, not weaker."),)),
        )),
    Task(
        id="T05-2", objective="L05-O3", level="explain/judge", difficulty=0.5, title="Choose powder and water",
        text="A working model has to carry {least_mpa} MPa wet at 1 h. You weigh {powder_g} g of powder and mix by hand. You may choose model plaster, dental stone or improved stone.",
        parameters=_wanted, digits={"least_mpa": 2, "powder_g": 2}, clear=_fair_window,
        trusted=lambda p: (predicted("wet_strength_mpa", *_window(p.least_mpa)), predicted("yield_stress_pa", *_window(p.least_mpa))),
        parts=(FillRecipe(prompt="Write a recipe that pours and carries it.", marks=4, fields=("powder", "water_ml"), given={"powder_g": lambda p: p.powder_g},
                          solution=_solution,
                          demands=(among(CHOICE), POURS, carries("least_mpa", 3)),
                          slips=((lambda p: {"powder": "model plaster", "water_ml": 0.5 * p.powder_g}, "Model plaster that pours does not carry so much: take a powder that needs less water."),
                                 (lambda p: {"powder": "improved stone", "water_ml": 0.30 * p.powder_g},
                                  "That is the water of dental stone: improved stone becomes runny with it, and weaker than it could be."))),)),
    Task(
        id="T05-3", objective="L05-O1", level="explain/judge", difficulty=0.7, title="Which of two is stronger",
        text="One cast is made of {first} with {first_ml} mL of water per 100 g, another of {second} with {second_ml} mL per 100 g. By the library {first_pores:.0f} % of the first and "
             "{second_pores:.0f} % of the second, dried, are pores.",
        parameters=_two_mixes, digits={"first_ml": None, "second_ml": None},
        computed={"first_pores": lambda p: 100 * porosity(p.first, p.first_ml / 100), "second_pores": lambda p: 100 * porosity(p.second, p.second_ml / 100)},
        trusted=lambda p: (predicted("wet_strength_mpa", p.first, p.first_ml / 100), predicted("wet_strength_mpa", p.second, p.second_ml / 100)),
        clear=lambda p: not 0.85 < _apart(p) < 1.18,
        parts=(OneOf(prompt="Which is the stronger one at 1 h, and why?", marks=1, options=(
            Option("That of {first}: it has fewer pores.", "Strength follows porosity: {first_pores:.0f} % of pores in {first}, {second_pores:.0f} % in {second}.", correct=lambda p: _apart(p) > 1.18),
            Option("That of {second}: it has fewer pores.", "Strength follows porosity: {first_pores:.0f} % of pores in {first}, {second_pores:.0f} % in {second}.", correct=lambda p: _apart(p) < 0.85),
            Option("Both alike: set gypsum is the same substance.", "The substance is the same. How much of the volume it fills is not.", correct=lambda p: 0.85 <= _apart(p) <= 1.18),
            Option("The one with more water: more of it has set.", "In both all of the powder sets. More water only leaves more pores."),
        )),)),
    Task(
        id="T05-4", objective="L05-O4", level="apply", difficulty=0.65, title="How far is the model off?",
        text="{powder} with {per_100_ml} mL of water per 100 g: the library predicts {said_mpa} MPa wet, with a range from {low_mpa} to {high_mpa} MPa. A class measures {measured_mpa} MPa (invented).",
        parameters=lambda draw: {**drawn_mix(draw), "off": draw.choice([-34, -27, -22, -18, -13, -9, 9, 13, 18, 22, 27, 34])}, digits={"per_100_ml": None, "off": None},
        computed={"said_mpa": lambda p: round(strength(p.powder, p.per_100_ml / 100), 1),
                  "low_mpa": lambda p: round(float(predicted("wet_strength_mpa", p.powder, p.per_100_ml / 100).low), 1),
                  "high_mpa": lambda p: round(float(predicted("wet_strength_mpa", p.powder, p.per_100_ml / 100).high), 1),
                  "measured_mpa": lambda p: round(strength(p.powder, p.per_100_ml / 100) * (1 + p.off / 100), 1)},
        trusted=lambda p: (predicted("wet_strength_mpa", p.powder, p.per_100_ml / 100),),
        clear=lambda p: all(abs(p.measured_mpa / end - 1) > 0.03 for end in (p.low_mpa, p.high_mpa)),
        parts=(
            Number(prompt="How far in MPa do prediction and measurement lie apart?", marks=1, name="apart_mpa", compute=lambda p: abs(p.said_mpa - p.measured_mpa), unit="MPa", band=(1, 6),
                   relative_tolerance=0.02, absolute_tolerance=0.06, tolerance_why=ROUNDED, working="the larger of {said_mpa} and {measured_mpa} MPa less the smaller: {key}",
                   slips=(Slip(lambda p: p.said_mpa + p.measured_mpa, "You added. Take the difference."),)),
            Number(prompt="What part in % of the **measured** strength is that?", marks=1, name="apart_percent", compute=lambda p: 100 * p.apart_mpa / p.measured_mpa, unit="%", band=(8, 45),
                   relative_tolerance=0.02, tolerance_why=ROUNDED, working="{apart_mpa} MPa ÷ {measured_mpa} MPa × 100 = {key}",
                   slips=(Slip(lambda p: 100 * p.apart_mpa / p.said_mpa, "You divided by the prediction. The question asks for a part of what was measured."),)),
            OneOf(prompt="What do you write down?", marks=1, options=(
                Option("The measurement lies within the range of the prediction; it does not speak against the model.", "The range goes from {low_mpa} to {high_mpa} MPa, and {measured_mpa} MPa were measured.",
                       correct=lambda p: p.low_mpa <= p.measured_mpa <= p.high_mpa),
                Option("The measurement lies outside the range: look at the weighing, the mixing and the test before anything else.", "The range goes from {low_mpa} to {high_mpa} MPa, and {measured_mpa} MPa were measured.",
                       correct=lambda p: not p.low_mpa <= p.measured_mpa <= p.high_mpa),
                Option("The measurement is wrong, since the model was fitted to published values.", "A model never makes a measurement wrong."),
                Option("The model is proved, since it gave a number of the right size.", "One value that comes near proves nothing."),
            )),
        )),
    Task(
        id="T05-5", objective="L05-O1", level="explain/judge", difficulty=0.6, title="Why more water weakens",
        text="Two casts of {powder}: one with {per_100_ml} mL of water per 100 g, the other with {more_ml} mL more. The second is weaker.",
        parameters=lambda draw: {**drawn_mix(draw), "more_ml": draw.choice([3, 4, 5, 6])}, digits={"per_100_ml": None, "more_ml": 1},
        parts=(InWords(prompt="Explain why. Use the words *free water* and *pore*.", marks=3, look_for=(
            "The powder binds the same water in both; the extra water is free water (1 mark).", "Where free water was, pores stay (1 mark).",
            "A pore carries no load, so more pores mean less strength (1 mark).")),)),
    Task(
        id="T05-6", objective="L05-O4", level="explain/judge", difficulty=0.55, title="What a fit proves",
        text="The line of strength against porosity in this course was chosen so that it comes near nine handbook values of three powders.",
        parts=(AllThatApply(prompt="Which of these statements are true?", marks=2, options=(
            Option("That the line comes near these nine values does not prove it.", "It was chosen to come near them.", correct=True),
            Option("Values that were not used for the choice can test it.", "Only what was not fitted tests.", correct=True),
            Option("A product of a maker may lie off the line.", "The range says how far.", correct=True),
            Option("The maker's own measured number is better than the line.", "It was measured on that product.", correct=True),
            Option("Outside the porosities of the nine values the line is a guess.", "It is extrapolated there, and the library says so.", correct=True),
            Option("The line meets all nine values exactly.", "It comes near them; it meets none exactly."),
            Option("Since the fit is good, no more tests are needed.", "A fit is no test."),
            Option("A measured value off the line is a wrong measurement.", "A model never makes a measurement wrong."),
            Option("More constants in the law would prove it.", "More constants come nearer to any nine values, true or not."),
        )),)),
]
