"""Tasks on lesson 03, flow and the ring test."""

from gypsumkit.marking.task_bank.asking import PEOPLE, ROUNDED, predicted, value
from gypsumkit.marking.tasks import AllThatApply, Number, OneOf, Task
from gypsumkit.powders import POURS_ABOVE_PA, POURS_BELOW_PA
from gypsumkit.quiz.questions import Option, Slip
from gypsumkit.science.ring import RING_MM, pressure_at_foot_pa, standing_stiffness, stiffness_number

STANDS_FROM = round(float(standing_stiffness(*RING_MM)), 2)
ASKED_ML = {"model plaster": (38, 68), "dental stone": (21, 40), "improved stone": (17, 31)}


def _ring(draw):
    powder, low, high = draw.choice([("model plaster", 38, 60), ("dental stone", 22, 36), ("improved stone", 18, 28)])
    return {"powder": powder, "per_100_ml": draw.randint(low, high), "height_mm": draw.choice([35, 45, 55, 65])}


def _stress(p):
    return predicted("yield_stress_pa", p.powder, p.per_100_ml / 100)


def _stiffness(p):
    return float(stiffness_number(p.stress_pa, p.density, p.height_mm))


def _named_mix(draw):
    powder = draw.choice(list(ASKED_ML))
    return {"powder": powder, "per_100_ml": draw.randint(*ASKED_ML[powder]), "who": draw.choice(PEOPLE)}


def _away_from_limits(stress):
    return all(not 0.85 < stress / limit.value < 1.18 for limit in (POURS_BELOW_PA, POURS_ABOVE_PA))


TASKS = [
    Task(
        id="T03-1", objective="L03-O2", level="apply", difficulty=0.6, title="Does the mix stand or spread?",
        text="A mix of {powder} has a density of {density} g/cm³ and a yield stress of {stress_pa} Pa. It fills a ring {height_mm} mm high. In the model a mix stands when its "
             "stiffness number, yield stress ÷ pressure at the foot of the ring, is {limit} or more. Take 9.81 m/s² for gravity.",
        parameters=_ring, digits={"per_100_ml": None, "height_mm": 2},
        computed={"density": lambda p: round(value("wet_density_g_cm3", p.powder, p.per_100_ml / 100), 2), "stress_pa": lambda p: round(_stress(p).value),
                  "limit": lambda p: STANDS_FROM},
        trusted=lambda p: (_stress(p),), clear=lambda p: not 0.88 < _stiffness(p) / STANDS_FROM < 1.14,
        parts=(
            Number(prompt="What is the pressure at the foot in Pa?", marks=1, name="pressure_pa", compute=lambda p: float(pressure_at_foot_pa(p.density, p.height_mm)), unit="Pa",
                   band=(500, 1500), relative_tolerance=0.025, tolerance_why="9.81 may be rounded to 10.", working="{density} × 9.81 × {height_mm} = {key}",
                   slips=(Slip(lambda p: p.density * p.height_mm, "You left out 9.81 m/s², which turns mass into weight."),
                          Slip(lambda p: float(pressure_at_foot_pa(p.density, p.height_mm)) * 1000, "With g/cm³ and mm the thousands cancel: the number is 1000 times too large."))),
            Number(prompt="What is the stiffness number?", marks=1, name="stiffness", compute=lambda p: p.stress_pa / p.pressure_pa, unit="", band=(0.25, 1.5),
                   relative_tolerance=0.03, tolerance_why=ROUNDED, working="{stress_pa} Pa ÷ {pressure_pa} Pa = {key}",
                   slips=(Slip(lambda p: p.pressure_pa / p.stress_pa, "Upside down: yield stress divided by pressure."),)),
            OneOf(prompt="What does the mix do when the ring is lifted?", marks=1, shown=3, options=(
                Option("It stands.", "A mix stands when its stiffness number is {limit} or more.", correct=lambda p: p.stiffness >= STANDS_FROM),
                Option("It spreads.", "A mix spreads when its stiffness number is below {limit}.", correct=lambda p: p.stiffness < STANDS_FROM),
                Option("That cannot be said without the diameter of the ring.", "The rule given compares yield stress and pressure; the diameter is not in it."),
            )),
        )),
    Task(
        id="T03-2", objective="L03-O2", level="apply", difficulty=0.85, title="Reading the spread",
        text="The ring is {ring_mm} mm wide inside. After it is lifted you read {first_mm} mm and, at right angles, {second_mm} mm.",
        parameters=lambda draw: (lambda first: {"first_mm": first, "second_mm": first + draw.choice([-5, -4, -3, 3, 4, 5]), "ring_mm": round(RING_MM[0])})(draw.randrange(56, 99)),
        digits={"first_mm": None, "second_mm": None, "ring_mm": None},
        parts=(
            Number(prompt="What spread in mm do you write down?", marks=1, name="spread_mm", compute=lambda p: (p.first_mm + p.second_mm) / 2, unit="mm", band=(50, 105),
                   relative_tolerance=0, absolute_tolerance=0.6, tolerance_why="a spread is read with a ruler to about 1 mm.", working="({first_mm} mm + {second_mm} mm) ÷ 2 = {key}",
                   slips=(Slip(lambda p: p.first_mm + p.second_mm, "That is the sum; the mean is half of it."),
                          Slip(lambda p: max(p.first_mm, p.second_mm), "That is the larger reading alone. Take the mean of both."))),
            Number(prompt="How many times the diameter of the ring is that?", marks=1, name="times", compute=lambda p: p.spread_mm / p.ring_mm, unit="", band=(1.4, 3.1),
                   relative_tolerance=0.015, tolerance_why=ROUNDED, working="{spread_mm} mm ÷ {ring_mm} mm = {key}",
                   slips=(Slip(lambda p: p.ring_mm / p.spread_mm, "Upside down: spread divided by ring."),
                          Slip(lambda p: (p.spread_mm - p.ring_mm) / p.ring_mm, "That is only how much wider it has become, in parts of the ring."))),
        )),
    Task(
        id="T03-3", objective="L03-O3", level="explain/judge", difficulty=0.6, title="Name the consistency",
        text="{who} mixes {powder} by hand with {per_100_ml} mL of water per 100 g and does the ring test at 2 min: the spread is {spread_mm} mm, and in the model the yield stress is {stress_pa} Pa. "
             "A mix pours from {least} to {most} Pa.",
        parameters=_named_mix, digits={"per_100_ml": None},
        computed={"stress_pa": lambda p: round(_stress(p).value), "spread_mm": lambda p: round(value("spread_mm", p.powder, p.per_100_ml / 100)),
                  "least": lambda p: round(POURS_ABOVE_PA.value), "most": lambda p: round(POURS_BELOW_PA.value)},
        trusted=lambda p: (_stress(p),), clear=lambda p: _away_from_limits(p.stress_pa),
        parts=(OneOf(prompt="What do you write down, and what do you do with the next mix of this powder?", marks=1, options=(
            Option("Too stiff to pour: a little more water next time.", "A mix is too stiff above {most} Pa; this one has {stress_pa} Pa.", correct=lambda p: p.stress_pa > POURS_BELOW_PA.value),
            Option("It pours: keep the ratio.", "A mix pours from {least} to {most} Pa; this one has {stress_pa} Pa.",
                   correct=lambda p: POURS_ABOVE_PA.value <= p.stress_pa <= POURS_BELOW_PA.value),
            Option("Runny: less water next time.", "A mix is runny below {least} Pa; this one has {stress_pa} Pa.", correct=lambda p: p.stress_pa < POURS_ABOVE_PA.value),
            Option("Nothing: the ring test says nothing about pouring.", "It compares yield stress and weight, which is what pouring is about."),
        )),)),
    Task(
        id="T03-4", objective="L03-O4", level="recall", difficulty=0.7, title="What changes the spread",
        text="The same powder, the same plate, the standard ring of 35 × 50 mm.",
        parts=(AllThatApply(prompt="Which of these make the mix spread **more** in the ring test?", marks=2, options=(
            Option("More water for the same powder.", "The grains stand further apart and slide more easily.", correct=True),
            Option("A plate that is vibrated.", "It lowers the yield stress as long as it runs.", correct=True),
            Option("A ring that is lifted at 2 min and not at 5 min.", "The mix thickens from minute to minute.", correct=True),
            Option("A taller ring of the same width.", "More height presses more on the foot.", correct=True),
            Option("A powder with compact grains, with the same mL per 100 g.", "Compact grains leave more of the water free to let the mix move.", correct=True),
            Option("Less water for the same powder.", "The grains stand closer, and more stress is needed to move them."),
            Option("Waiting for three more minutes.", "The first crystals hold the grains: the mix has thickened."),
            Option("A larger batch in the bowl, with the same ratio.", "Only what is in the ring counts."),
            Option("A lower ring of the same width.", "It presses less on its foot."),
            Option("Crumbs of set gypsum left in the bowl.", "They are seeds: the mix thickens sooner."),
        )),)),
]
