"""Lesson 07, mixing and air: what it asks, explains and sets as work."""

from gypsumkit.powders import POWDERS
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip
from gypsumkit.science.bubbles import rise_speed_mm_s, seconds_to_surface, smallest_rising_mm
from gypsumkit.studies.voids import HABITS, paste, voids


def _usual(powder):
    return POWDERS[powder].recommended_ratio.value


def _speed(powder, diameter_mm):
    """Speed of a bubble on the running vibrator in a mix with the recommended water, mm/s."""
    return float(rise_speed_mm_s(diameter_mm, *paste(powder, _usual(powder)), vibrated=True))


def _seconds(powder, diameter_mm, depth_mm):
    return float(seconds_to_surface(depth_mm, _speed(powder, diameter_mm)))


def _air_percent(habit, depth_mm=20, seconds=0):
    return 100 * float(voids("model plaster", _usual("model plaster"), habit, depth_mm, seconds).air_left)


STROPPED, LUMPED, BEATEN, MACHINE, VACUUM = HABITS

OBJECTIVES = [
    Objective("L07-O1", "Choose a way of mixing that brings little air into the mix, and say what each step does."),
    Objective("L07-O2", "Tell which bubbles leave a mix, and estimate how long they need on the vibrator."),
    Objective("L07-O3", "Explain why you pour in small portions and vibrate gently."),
    Objective("L07-O4", "Measure the air in a mix with a balance, and judge sources that disagree."),
]

PREDICTIONS = [
    Choice(
        id="L07-P1", objective="L07-O2",
        prompt="On the running vibrator a bubble of {large} mm, {depth} mm deep in model plaster, reaches the surface in about {large_s:.2g} s. Beside it "
               "lies a bubble of {small} mm, a quarter as wide. How long does the small one take?",
        parameters={"large": 2, "small": 0.5, "depth": 15},
        computed={"large_s": lambda p: _seconds("model plaster", p.large, p.depth), "small_s": lambda p: _seconds("model plaster", p.small, p.depth),
                  "times": lambda p: p.small_s / p.large_s},
        explanation="The model says about {small_s:.0f} s, {times:.0f} times as long. The speed goes with the diameter squared.",
        options=(
            Option("Just as long: all bubbles rise alike.", "A small bubble has little lift, and much surface for its lift. It is far slower.",
                   correct=lambda p: p.times < 1.5),
            Option("About 4 times as long.", "That would be right if the speed went with the diameter. It goes with the diameter times itself.",
                   correct=lambda p: 3 < p.times < 5),
            Option("About 16 times as long.", "A quarter of the diameter gives a sixteenth of the speed.", correct=lambda p: 14 < p.times < 18),
            Option("It never comes up, on any vibrator.", "On the running vibrator this model lets every bubble rise, but a fine one needs more time than you have.",
                   correct=lambda p: p.times > 1000),
        )),
    Choice(
        id="L07-P2", objective="L07-O3",
        prompt="Model plaster is mixed by hand, powder into water and stropped. It holds about {first:.1f} % air. Ines pours it in portions only {depth} mm "
               "deep, and vibrates each for {seconds} s. How much air is left?",
        parameters={"depth": 5, "seconds": 30},
        computed={"first": lambda p: _air_percent(STROPPED), "left": lambda p: _air_percent(STROPPED, p.depth, p.seconds), "part": lambda p: p.left / p.first},
        explanation="The model leaves about {left:.2f} % of the {first:.1f} %: in a thin portion the way to the surface is short.",
        options=(
            Option("Nearly all of it: the vibrator only makes the mix flow.", "On the vibrator each stroke loosens the mix, and bubbles rise.",
                   correct=lambda p: p.part > 0.8),
            Option("About half of it.", "That is what happens in a deep portion. In a thin one the way is short.", correct=lambda p: 0.4 < p.part < 0.65),
            Option("Less than a quarter of it.", "Most bubbles reach the near surface in time. Only the finest stay.", correct=lambda p: 0 < p.part < 0.25),
            Option("Nothing at all.", "The finest bubbles are so slow that they stay even in a thin portion.", correct=lambda p: p.part == 0),
        )),
]

NOTES = [
    Note("L07-N1",
         "A bubble of 1 mm stays in a bowl of mix for ten minutes, but leaves it within seconds on the vibrator. Explain. Use the words yield stress and viscosity.",
         "The still mix has a yield stress: it bears a small force without moving at all. The lift of a small bubble is less than that, so the bubble is held. "
         "On the vibrator each stroke loosens the mix round the bubble. Then only the viscosity slows the bubble, and it rises.", objectives=("L07-O2",)),
    Note("L07-N2",
         "Why do you let a small portion run down one side of the impression, and vibrate gently?",
         "A small portion is thin, so every bubble is near the surface and the way out is short. It pushes the air in front of it and does not close over it. "
         "Gently, because a vibrator that shakes too hard makes the mix jump, and new air comes in.", objectives=("L07-O3",)),
]

QUESTIONS = [
    SeveralChoices(
        id="L07-Q1", objective="L07-O1",
        prompt="Which of these bring more air into the mix?",
        computed={"stropped": lambda p: _air_percent(STROPPED), "lumped": lambda p: _air_percent(LUMPED), "beaten": lambda p: _air_percent(BEATEN),
                  "vacuum": lambda p: _air_percent(VACUUM)},
        explanation="Water onto powder makes lumps, and beating brings air in. Soaking and stropping keep air out.",
        options=(
            Option("Pouring the water onto the powder.", "Dry lumps form, wet outside and dry inside. They hold air that no spatula reaches.",
                   correct=lambda p: p.lumped > 1.5 * p.stropped),
            Option("Beating the mix like an egg.", "Each stroke brings air in from above.", correct=lambda p: p.beaten > 1.5 * p.stropped),
            Option("Letting the powder soak before you stir.", "Soaking lets the air between the grains leave upwards. It keeps air out.", correct=False),
            Option("Mixing by machine under vacuum.", "The pump draws air out while the blades turn. Little is left.", correct=lambda p: p.vacuum > p.stropped),
        )),
    Choice(
        id="L07-Q2", objective="L07-O2",
        prompt="Model plaster with the recommended water stands still in the bowl. There is a bubble of {diameter} mm in it. What happens in the next minutes?",
        parameters={"diameter": 1},
        computed={"smallest": lambda p: float(smallest_rising_mm(*paste("model plaster", _usual("model plaster"))[:2]))},
        explanation="The yield stress holds every bubble smaller than about {smallest:.0f} mm. That is far wider than any bubble in a bowl.",
        options=(
            Option("It rises slowly, because air is light.", "It is light, but its lift is too small to move a mix with a yield stress. It does not creep: it stays.",
                   correct=lambda p: p.diameter > p.smallest),
            Option("It stays where it is.", "Its lift is smaller than what the mix bears.", correct=lambda p: p.diameter < p.smallest),
            Option("It dissolves in the water.", "Only a trace of air dissolves in so little water. The bubble is there when the mix has set."),
        )),
    NumberWithUnit(
        id="L07-Q3", objective="L07-O2",
        prompt="On the vibrator a bubble rises at {speed} mm/s. It lies {depth} mm below the surface. After how many seconds (s) is it out?",
        parameters={"speed": 1.5, "depth": 18},
        key=lambda p: float(seconds_to_surface(p.depth, p.speed)), unit="s", relative_tolerance=0.02, tolerance_why="the numbers are given in two digits.",
        slips=(
            Slip(lambda p: p.depth * p.speed, "You multiplied. At {speed} mm each second, divide the way by the speed."),
            Slip(lambda p: p.speed / p.depth, "You turned it upside down: the way divided by the speed."),
        ),
        hint="How many times does {speed} mm go into {depth} mm?",
        explanation="{depth} mm ÷ {speed} mm/s = {key}."),
    NumberWithUnit(
        id="L07-Q4", objective="L07-O2",
        prompt="A bubble of 1 mm rises at {speed} mm/s on the vibrator. At how many mm/s does a bubble of {small} mm rise in the same mix?",
        parameters={"speed": 1.6, "small": 0.5},
        key=lambda p: p.speed * p.small**2, unit="mm/s", relative_tolerance=0.02, tolerance_why="the numbers are given in two digits.",
        slips=(
            Slip(lambda p: p.speed * p.small, "You took the diameter once. The speed goes with the diameter squared."),
            Slip(lambda p: p.speed / p.small**2, "A smaller bubble is slower, not faster: multiply by {small} squared."),
            Slip(lambda p: p.speed * p.small**3, "You took the volume. The lift goes with the volume, but the drag goes with the diameter: squared is left."),
        ),
        hint="The speed goes with the diameter squared.",
        explanation="{speed} mm/s × {small} × {small} = {key}."),
    PutInOrder(
        id="L07-Q5", objective="L07-O3",
        prompt="Put the steps of pouring an impression in order.",
        explanation="Wet, thin first, low vibration, then fill up: the air is pushed out in front of the mix.",
        steps=(
            Place("Rinse the disinfected impression and shake off the drops.", "Drops left behind weaken the surface. It comes before any mix."),
            Place("Hold the tray against the vibrator, set low.", "The vibrator must run before the first portion arrives."),
            Place("Put a small portion on one end.", "The vibrator runs before it. One end, so that the air has a way out at the other."),
            Place("Let it run along into each tooth.", "The thin front pushes the air out before it."),
            Place("Add further small portions at the same end.", "Always the same end, so that two fronts never close over air between them."),
            Place("Fill up the rest, vibrator off.", "The details are covered. More vibrating now brings nothing but slumping."),
        )),
    Choice(
        id="L07-Q6", objective="L07-O4",
        prompt="One study found that mixing under vacuum makes stone stronger. Another compared mixing methods and found differences in tensile strength (the pull that breaks "
               "a piece) and in the number of pores only. What do you take from that?",
        explanation="The sources disagree about strength and agree that the mixing changes the pores. Say both, and look at what your own cast needs.",
        options=(
            Option("Vacuum always makes a cast stronger.", "One study says so, another does not. A single study is not a law."),
            Option("Vacuum is useless.", "Both found that the mixing method matters for something. Fewer pores are worth a lot on a margin, even if crushing strength stays."),
            Option("It changes the pores; whether it changes crushing strength is not settled.", "That is what the two studies together say.", correct=True),
            Option("One of the two must be wrong.", "They used other products, shapes and tests. Both can be right for what they tested."),
        )),
]


def _rise(draw):
    return {"powder": draw.choice(["model plaster", "dental stone", "improved stone"]), "diameter": draw.choice([0.3, 0.4, 0.5]),
            "depth": draw.choice([8, 12, 20]), "seconds": draw.choice([20, 30])}


def _cup(draw):
    return {"powder": draw.choice(["model plaster", "dental stone"]), "cup_ml": draw.choice([25, 50, 100]), "air_percent": draw.choice([2, 3, 4])}


EXERCISES = [
    Exercise(
        id="L07-E1", objective="L07-O2", fade=2,
        situation="In {powder} with the recommended water a bubble of 1 mm rises at {one_mm:.2g} mm/s on the vibrator (read from the picture). Ines wants to get "
                  "rid of bubbles of {diameter} mm. One lies {depth} mm below the surface.",
        parameters=_rise,
        computed={"one_mm": lambda p: float(f"{_speed(p.powder, 1.0):.2g}")},
        steps=(
            Step(name="speed", say="At how many mm/s does the bubble of {diameter} mm rise?", compute=lambda p: p.one_mm * p.diameter**2, unit="mm/s",
                 working="{one_mm} mm/s × {diameter} × {diameter} = {answer}", hint="The speed goes with the diameter squared.",
                 tolerance_why="the picture is read to two digits.", relative_tolerance=0.03,
                 slips=(Slip(lambda p: p.one_mm * p.diameter, "You took the diameter once. The speed goes with the diameter squared."),
                        Slip(lambda p: p.one_mm, "That is the speed of the bubble of 1 mm."))),
            Step(name="time_s", say="After how many seconds (s) is it out?", compute=lambda p: p.depth / p.speed, unit="s",
                 working="{depth} mm ÷ {speed} mm/s = {answer}", hint="The way divided by the speed.",
                 tolerance_why="the picture is read to two digits.", relative_tolerance=0.03,
                 slips=(Slip(lambda p: p.depth * p.speed, "You multiplied. Divide the way by the speed."),
                        Slip(lambda p: p.depth / p.one_mm, "You took the speed of the bubble of 1 mm."))),
            Step(name="deepest_mm", say="How deep in mm may a portion be, so that all such bubbles are out after {seconds} s?",
                 compute=lambda p: p.speed * p.seconds, unit="mm",
                 working="{speed} mm/s × {seconds} s = {answer}", hint="How far does it rise in {seconds} s?",
                 tolerance_why="the picture is read to two digits.", relative_tolerance=0.03,
                 slips=(Slip(lambda p: p.one_mm * p.seconds, "You took the speed of the bubble of 1 mm."),
                        Slip(lambda p: p.depth, "That is where this one bubble lies. Which depth can it cross in {seconds} s?"))),
        )),
    Exercise(
        id="L07-E2", objective="L07-O4", fade=1,
        situation="Ines wants to know how much air is in her mix of {powder}, {per_100_ml} mL of water per 100 g. She fills a cup of {cup_ml} mL to the brim, wipes it "
                  "level and weighs: {mass_g:.1f} g of mix. The grains have a density of {density} g/cm³. 1 mL of water weighs 1 g.",
        parameters=_cup,
        computed={"per_100_ml": lambda p: round(100 * _usual(p.powder)), "density": lambda p: POWDERS[p.powder].density_g_cm3.value,
                  "mass_g": lambda p: round(p.cup_ml * (100 + p.per_100_ml) / (100 / p.density + p.per_100_ml) * (1 - p.air_percent / 100), 1),
                  "mix_density": lambda p: round((100 + p.per_100_ml) / (100 / p.density + p.per_100_ml), 3),
                  "cup_density": lambda p: round(p.mass_g / p.cup_ml, 4)},
        steps=(
            Step(name="airless", say="What density in g/cm³ has this mix without any air? Count 100 g of powder and its water.",
                 compute=lambda p: p.mix_density, unit="g/cm³",
                 working="(100 g + {per_100_ml} g) ÷ (100 ÷ {density} cm³ + {per_100_ml} cm³) = {mix_density:.3f} g/cm³, about {answer}", hint="Mass of both, divided by the volume of both.",
                 tolerance_why="the density is given in three digits.", relative_tolerance=0.005,
                 slips=(Slip(lambda p: p.density, "That is the density of the grains. The mix holds water too."),
                        Slip(lambda p: (p.density + 1) / 2, "You took the middle of the two densities. There is not as much water as powder."))),
            Step(name="weighed", say="What density in g/cm³ did she weigh?", compute=lambda p: p.cup_density, unit="g/cm³",
                 working="{mass_g:.1f} g ÷ {cup_ml} mL = {cup_density:.4f} g/cm³, about {answer}", hint="Mass divided by volume.", tolerance_why="a simple balance weighs to a few tenths of a g.",
                 relative_tolerance=0.005, slips=(Slip(lambda p: p.cup_ml / p.mass_g, "You turned it upside down. Density is mass divided by volume."),)),
            Step(name="air", say="How much air in % of the volume is in the mix?", compute=lambda p: 100 * (1 - p.weighed / p.airless), unit="%",
                 working="(1 − {cup_density:.4f} ÷ {mix_density:.3f}) × 100 = {answer}", hint="What share of the density is missing? Air weighs nothing.",
                 tolerance_why="a small difference of two densities is not known well.", absolute_tolerance=0.4, relative_tolerance=0.05,
                 slips=(Slip(lambda p: 100 * p.weighed / p.airless, "That is the share that is mix. The air is what is missing to 100 %."),)),
        )),
]

BENCH_TASKS = [
    BenchTask(
        "L07-B1", "Strop or beat: weigh the air, then pour two models",
        do=(
            "Find the volume of a small stiff cup of about 50 mL: weigh it empty, fill it with water to the brim and weigh it again. 1 g of water is 1 mL. Dry the cup.",
            "Mix 100 g of model plaster with 50 mL of water the careful way: powder into water, soak for half a minute, strop on the wall for a minute.",
            "Fill the cup without vibrating, wipe it level, weigh it. The mass of the mix is this mass minus that of the empty cup. Empty the cup into a mould.",
            "Vibrate the mould gently for half a minute. Watch the surface: bubbles come up and break.",
            "Mix a second 100 g in the same way, but beat it like an egg. Weigh it in the same cup, cleaned and dry. Pour it without vibrating.",
            "When both have set, look at both surfaces with a lens. Count the holes on 1 cm² of each.",
        ),
        record=(
            "the mass of the empty cup, of the cup with water, and of the cup with each mix; the air you compute from them",
            "how long bubbles kept coming up, in s",
            "holes on 1 cm², stropped and vibrated, and beaten and not vibrated",
            "whether your two numbers lie inside the plausible ranges of the picture",
        ),
        cautions=(
            "Wear a mask and eye protection.",
            "A mechanical mixer: close the lid and wait until the blades stand still before you open it. Keep hair, sleeves and fingers away.",
            "A vessel under vacuum: use only a sound one made for it, without cracks, and let the air in slowly before you open it. A cracked vessel can burst inwards.",
            "Impressions from a mouth are contaminated. Handle them only when they have been disinfected by the product's instructions.",
            "Never put a finger, a hand or any part of the body into a setting mass. Gypsum goes into the waste bin, never down the drain.",
        ), objectives=("L07-O1", "L07-O4")),
]
