"""Tasks on lesson 07, mixing and air."""

from gypsumkit.marking.task_bank.asking import PEOPLE, ROUNDED, THREE, density, drawn_mix, usual
from gypsumkit.marking.tasks import AllThatApply, InOrder, Number, Task
from gypsumkit.quiz.questions import Option, Place, Slip
from gypsumkit.remembering import remembered
from gypsumkit.science.bubbles import rise_speed_mm_s
from gypsumkit.studies.voids import paste


@remembered(16)
def _one_mm(powder):
    return float(f"{float(rise_speed_mm_s(1.0, *paste(powder, usual(powder)), vibrated=True)):.2g}")


def _rise(draw):
    return {"powder": draw.choice(THREE), "diameter": draw.choice([0.6, 0.7, 0.8, 1.2, 1.3, 1.4]), "depth": draw.randrange(12, 29), "seconds": draw.choice([15, 18, 25, 35, 45])}


def _cup(draw):
    return {**drawn_mix(draw), "cup_ml": draw.choice([52, 58, 64, 66, 72, 78, 84]), "air_percent": draw.choice([1.6, 2.2, 2.7, 3.1, 3.6, 4.4, 4.8]), "who": draw.choice(PEOPLE)}


def _without_air(p):
    return (100 + p.per_100_ml) / (100 / p.density + p.per_100_ml)


TASKS = [
    Task(
        id="T07-1", objective="L07-O2", level="apply", difficulty=0.6, title="A bubble on the vibrator",
        text="In {powder} with the recommended water a bubble of 1 mm rises at {one_mm} mm/s on the vibrator. The speed goes with the square of the diameter. Other bubbles are {diameter} mm wide; "
             "one of them lies {depth} mm below the surface.",
        parameters=_rise, digits={"diameter": None, "depth": None, "seconds": 2}, computed={"one_mm": lambda p: _one_mm(p.powder)},
        parts=(
            Number(prompt="At what speed in mm/s does the bubble of {diameter} mm rise?", marks=1, name="speed", compute=lambda p: p.one_mm * p.diameter ** 2, unit="mm/s", band=(0.4, 1.5),
                   relative_tolerance=0.02, tolerance_why=ROUNDED, working="{one_mm} mm/s × {diameter} × {diameter} = {key}",
                   slips=(Slip(lambda p: p.one_mm * p.diameter, "You took the diameter once. The speed goes with its square."),
                          Slip(lambda p: p.one_mm / p.diameter ** 2, "You divided. A wider bubble rises faster."))),
            Number(prompt="After how many seconds (s) is it out?", marks=1, name="time_s", compute=lambda p: p.depth / p.speed, unit="s", band=(12, 70), relative_tolerance=0.025,
                   tolerance_why=ROUNDED, working="{depth} mm ÷ {speed} mm/s = {key}",
                   slips=(Slip(lambda p: p.depth * p.speed, "You multiplied. Divide the way by the speed."),
                          Slip(lambda p: p.depth / p.one_mm, "You took the speed of the bubble of 1 mm."))),
            Number(prompt="How deep in mm may a portion be, so that all bubbles of {diameter} mm are out after {seconds} s?", marks=1, name="deepest_mm",
                   compute=lambda p: p.speed * p.seconds, unit="mm", band=(7, 40), relative_tolerance=0.025, tolerance_why=ROUNDED, working="{speed} mm/s × {seconds} s = {key}",
                   slips=(Slip(lambda p: p.one_mm * p.seconds, "You took the speed of the bubble of 1 mm."),)),
        )),
    Task(
        id="T07-2", objective="L07-O4", level="apply", difficulty=0.45, title="Weigh the air",
        text="{who} fills a cup of {cup_ml} mL to the brim with a mix of {powder}, {per_100_ml} mL of water per 100 g, and weighs {mass_g} g of mix. The grains have a density of {density} g/cm³, "
             "water 1 g/cm³.",
        parameters=_cup, digits={"per_100_ml": None, "cup_ml": 2, "air_percent": 2},
        computed={"density": lambda p: density(p.powder), "mass_g": lambda p: round(p.cup_ml * _without_air(p) * (1 - p.air_percent / 100), 1)},
        parts=(
            Number(prompt="What density in g/cm³ would the mix have without any air? Use 100 g of powder and its water. Write four digits.", marks=1, name="airless", digits=4, compute=_without_air, unit="g/cm³",
                   band=(1.5, 2.2), relative_tolerance=0.004, tolerance_why="the density of the grains is given in three digits.",
                   working="(100 g + {per_100_ml} g) ÷ (100 ÷ {density} + {per_100_ml}) cm³ = {key}",
                   slips=(Slip(lambda p: p.density, "That is the density of the grains. The mix holds water too."),
                          Slip(lambda p: (p.density + 1) / 2, "You took the middle of the two densities. There is not as much water as powder."))),
            Number(prompt="What density in g/cm³ was weighed? Write four digits.", marks=1, name="weighed", digits=4, compute=lambda p: p.mass_g / p.cup_ml, unit="g/cm³", band=(1.45, 2.2),
                   relative_tolerance=0.004, tolerance_why="a simple balance weighs to a few tenths of a g.", working="{mass_g} g ÷ {cup_ml} mL = {key}",
                   slips=(Slip(lambda p: p.cup_ml / p.mass_g, "Upside down: density is mass divided by volume."),)),
            Number(prompt="How much air in % of the volume is in the mix?", marks=2, name="air_in_percent", compute=lambda p: 100 * (1 - p.weighed / p.airless), unit="%", band=(1.3, 5.2),
                   relative_tolerance=0.05, absolute_tolerance=0.4, tolerance_why="a small difference of two densities is not known well.",
                   working="(1 − {weighed} ÷ {airless}) × 100 = {key}",
                   slips=(Slip(lambda p: 100 * p.weighed / p.airless, "That is the share that is mix. The air is what is missing to 100 %."),)),
        )),
    Task(
        id="T07-3", objective="L07-O1", level="recall", difficulty=0.75, title="What brings air in and what keeps it out",
        text="A smooth mix holds little air.",
        parts=(AllThatApply(prompt="Which of these bring **more** air into the mix or leave it there?", marks=2, options=(
            Option("Pouring the water onto the powder.", "Dry lumps form that hold air inside.", correct=True),
            Option("Beating the mix like an egg.", "Each stroke folds air in from above.", correct=True),
            Option("Stirring before the powder has soaked.", "Air between dry grains is beaten in.", correct=True),
            Option("Mixing so stiff that it no longer pours.", "A stiff mix holds its bubbles, even on the vibrator.", correct=True),
            Option("Pouring one thick portion in place of thin ones.", "From deep below fine bubbles do not reach the surface in time.", correct=True),
            Option("Letting the powder soak for half a minute.", "Soaking lets the air between the grains leave."),
            Option("Wiping the mix on the wall of the bowl.", "It presses bubbles out."),
            Option("A machine under vacuum.", "The pump draws air out while the blades turn."),
            Option("Holding the bowl on the vibrator before pouring.", "It brings bubbles up."),
            Option("Sifting the powder slowly into the water.", "Air can leave upwards between the grains."),
        )),)),
    Task(
        id="T07-4", objective="L07-O3", level="recall", difficulty=0.65, title="Pouring an impression",
        text="A disinfected impression is poured with a fresh mix.",
        parts=(InOrder(prompt="Put these steps in order: the first one first.", marks=2, shown=5, steps=(
            Place("Rinse the disinfected impression.", "What is left of the disinfectant harms the surface. It comes before any mix."),
            Place("Shake off the drops.", "Drops left behind weaken the surface."),
            Place("Hold the tray against the vibrator, set low.", "The vibrator must run before the first portion arrives."),
            Place("Put a small portion on one end.", "One end, so that the air has a way out at the other."),
            Place("Let it run along into each tooth.", "The thin front pushes the air out before it."),
            Place("Add further small portions at the same end.", "Always the same end, so that two fronts never close over air."),
            Place("Fill up the rest, vibrator off.", "The details are covered. More vibrating brings only slumping."),
            Place("Leave it until it is cold again.", "While it is warm it still sets."),
        )),)),
]
