"""Lesson 03, flow and the ring: what it asks, explains and sets as work."""

from gypsumkit.mix import Mix, pourable_ratios
from gypsumkit.powders import VIBRATION_THINNING
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip
from gypsumkit.recipe import Recipe
from gypsumkit.science.ring import GRAVITY_M_S2, RING_MM, pressure_at_foot_pa, standing_stiffness

SMALL_RING_MM = (20.0, 20.0)
STANDS_FROM = round(standing_stiffness(*RING_MM), 2)


def _mix(powder, ratio_ml, ring_mm=RING_MM, time_min=None):
    """The mix with `ratio_ml` mL of water per 100 g of powder."""
    return Mix(Recipe(powder, ratio_ml / 100), time_min, ring_mm)


def _spread_mm(powder, ratio_ml, ring_mm=RING_MM, time_min=None):
    return float(_mix(powder, ratio_ml, ring_mm, time_min).spread_mm.value)


def _vibrated_spread_mm(powder, ratio_ml):
    return float(_mix(powder, ratio_ml).vibrated_spread_mm.value)


def _yield_stress_pa(powder, ratio_ml, time_min=None):
    return round(float(_mix(powder, ratio_ml, time_min=time_min).yield_stress_pa.value))


def _density_g_cm3(powder, ratio_ml):
    return round(float(_mix(powder, ratio_ml).wet_density_g_cm3.value), 2)


def _in_a_ring(height_mm, powder, ratio_ml):
    return {"powder": powder, "ratio_ml": ratio_ml, "height_mm": height_mm, "limit": STANDS_FROM,
            "yield_stress_pa": _yield_stress_pa(powder, ratio_ml), "density_g_cm3": _density_g_cm3(powder, ratio_ml)}


def _two_readings(first_mm, further_mm):
    return {"ring_mm": RING_MM[0], "first_mm": first_mm, "second_mm": first_mm + further_mm}


ROUNDED_GRAVITY = "9.81 may be rounded to 10."
READ_WITH_A_RULER = "a spread is read with a ruler to about 1 mm."

OBJECTIVES = [
    Objective("L03-O1", "Explain what the yield stress of a mix does, and why a small ring makes the same mix look stiffer."),
    Objective("L03-O2", "Do a ring test: read the spread, and compare the yield stress with the pressure at the foot of the ring."),
    Objective("L03-O3", "Tell from the ring test whether a mix is too stiff, pours or is runny."),
    Objective("L03-O4", "Predict what the vibrator and what waiting do to the spread."),
]

PREDICTIONS = [
    Choice(
        id="L03-P1", objective="L03-O1",
        prompt="Dental stone with {ratio_ml} mL of water per 100 g is put into two rings: the standard ring, {large_mm:.0f} mm wide and "
               "50 mm high, and a small ring, {small_mm:.0f} mm wide and 20 mm high. In the standard ring it spreads. "
               "What does it do when the small ring is lifted?",
        parameters={"ratio_ml": 30, "large_mm": RING_MM[0], "small_mm": SMALL_RING_MM[0]},
        computed={"large": lambda p: _spread_mm("dental stone", p.ratio_ml) / p.large_mm,
                  "small": lambda p: _spread_mm("dental stone", p.ratio_ml, SMALL_RING_MM) / p.small_mm},
        explanation="In the standard ring it spreads to {large:.2f} times the ring, in the small one to {small:.2f} times. The mix is the "
                    "same; the small ring is lower, so less weight presses on its foot.",
        options=(
            Option("Compared with its ring, it spreads just as far.",
                   "That would need the same pressure at the foot. In a low ring the pressure is smaller.",
                   correct=lambda p: abs(p.small / p.large - 1) < 0.03),
            Option("It stands, or spreads much less than in the standard ring.",
                   "The same yield stress has less weight against it, so the mix looks stiffer.",
                   correct=lambda p: p.small / p.large < 0.97),
            Option("Compared with its ring, it spreads even further, because a small heap is easier to move.",
                   "A small heap also weighs less. Its own weight is the only thing that drives it.",
                   correct=lambda p: p.small / p.large > 1.03),
        )),
    Choice(
        id="L03-P2", objective="L03-O4",
        prompt="Model plaster with {ratio_ml} mL of water per 100 g is too stiff to fill a mould. When the ring is lifted still, it stands. "
               "Now the plate is put on a strong vibrator and the ring is lifted. What happens?",
        parameters={"ratio_ml": 42},
        computed={"still": lambda p: _spread_mm("model plaster", p.ratio_ml), "shaken": lambda p: _vibrated_spread_mm("model plaster", p.ratio_ml)},
        explanation="Still it keeps its {still:.0f} mm; on the vibrator the model lets it spread to about {shaken:.0f} mm. The vibrator lowers "
                    "the yield stress while it runs. It adds no water. And to creep is not yet to pour: so stiff a mix still traps air and "
                    "misses fine parts.",
        options=(
            Option("It still stands: too little water is too little water.",
                   "The water is the same, but shaking keeps the grains from holding on to each other.",
                   correct=lambda p: p.shaken < p.still + 5),
            Option("It spreads, but less than a runny mix does.",
                   "The vibrator lowers the yield stress while it runs, and the weight of the mix wins.",
                   correct=lambda p: p.still + 5 <= p.shaken < 90),
            Option("It runs out like water.",
                   "The vibrator lowers the yield stress, it does not take it away. Wide spreading needs more water.",
                   correct=lambda p: p.shaken >= 90),
        )),
]

NOTES = [
    Note("L03-N1",
         "A mix has one yield stress. Why does it stand in a small ring and slump in a tall one? Use the words weight and yield stress.",
         "The mix flows only where the stress in it is larger than its yield stress. The stress comes from its own weight, and it is largest at "
         "the foot, where all of the mix rests. A tall ring puts much weight on the foot: the stress there is larger than the yield stress, and "
         "the mix slumps. As it sinks and spreads, less height is left to press, until the stress is no longer larger than the yield stress; "
         "there it stops. In a small ring the weight may never be enough. So a spread says something about the mix only together with its ring.", objectives=("L03-O1",)),
    Note("L03-N2",
         "Ines says: “The vibrator makes the mix thinner, so next time I can take less water, and it does not matter.” What is right about it, and what is "
         "not?",
         "Right: while the vibrator runs, the grains cannot hold on to each other, the yield stress is lower, and a stiff mix flows. Not right: "
         "no water is added, and when the vibrator stops the yield stress is back. A mix that is too stiff still traps air, and it flows only "
         "where the shaking reaches. So take a ratio that pours, and use the vibrator to bring it into every corner and the bubbles out.", objectives=("L03-O4",)),
]

EXERCISES = [
    Exercise(
        id="L03-E1", objective="L03-O1", fade=2,
        situation="A mix of {powder}, {ratio_ml} mL of water per 100 g, has a yield stress of {yield_stress_pa} Pa and a density of "
                  "{density_g_cm3} g/cm³. It fills a ring {height_mm:.0f} mm high. A full ring of mix begins to flow when its yield stress is less "
                  "than about {limit} of the pressure at its foot.",
        parameters=lambda draw: _in_a_ring(draw.choice([20.0, 30.0, 40.0, 60.0]),
                                           *draw.choice([("model plaster", 48), ("dental stone", 28), ("improved stone", 22), ("model plaster", 52),
                                                         ("dental stone", 31), ("improved stone", 25)])),
        steps=(
            Step(name="foot_pa", say="What is the pressure at the foot of the full ring, in Pa?",
                 compute=lambda p: float(pressure_at_foot_pa(p.density_g_cm3, p.height_mm)), unit="Pa",
                 working="In kg/m³ the density is a number 1000 times larger. In m the height is a number 1000 times smaller. The two cancel: "
                         "{density_g_cm3} × 9.81 × {height_mm:.0f} = {answer}",
                 relative_tolerance=0.025, tolerance_why=ROUNDED_GRAVITY,
                 hint="Pressure = density × 9.81 m/s² × height. With the density in g/cm³ and the height in mm, the result is in Pa.",
                 slips=(Slip(lambda p: p.density_g_cm3 * p.height_mm, "You left out 9.81, which turns a mass into a weight."),)),
            Step(name="share", say="What share of that pressure is the yield stress, as a plain number?",
                 compute=lambda p: p.yield_stress_pa / p.foot_pa, unit="",
                 working="{yield_stress_pa} Pa ÷ {foot_pa:.0f} Pa = {answer}. Below {limit} the mix flows, above it stands.",
                 hint="Divide the yield stress by the pressure. Compare the result with {limit}.",
                 relative_tolerance=0.025, tolerance_why=ROUNDED_GRAVITY,
                 slips=(Slip(lambda p: p.foot_pa / p.yield_stress_pa, "That is upside down: pressure over yield stress."),)),
            Step(name="least_height_mm", say="How high must a ring be, in mm, so that this mix just begins to flow?",
                 compute=lambda p: p.yield_stress_pa / (p.limit * p.density_g_cm3 * GRAVITY_M_S2), unit="mm",
                 working="The pressure must reach {yield_stress_pa} Pa ÷ {limit}. Divided by {density_g_cm3} × 9.81 this is {answer}. A lower ring: "
                         "the mix stands. A higher ring: it flows.",
                 hint="The pressure at the foot grows with the height. It has to reach yield stress ÷ {limit}.",
                 relative_tolerance=0.03,
                 slips=(Slip(lambda p: p.yield_stress_pa / (p.density_g_cm3 * GRAVITY_M_S2),
                             "You took the whole pressure; the mix begins to flow already when its yield stress is {limit} of it."),)),
        )),
    Exercise(
        id="L03-E2", objective="L03-O2", fade=1,
        situation="The ring of {ring_mm:.0f} mm is lifted. The ruler shows {first_mm} mm one way and {second_mm} mm at right angles to it.",
        parameters=lambda draw: _two_readings(draw.choice([49, 52, 56, 63, 71]), draw.choice([-8, -4, 3, 5, 7])),
        steps=(
            Step(name="spread_mm", say="What spread in mm do you write down?", compute=lambda p: (p.first_mm + p.second_mm) / 2, unit="mm",
                 working="({first_mm} mm + {second_mm} mm) ÷ 2 = {answer}", hint="A spread is the mean of two diameters at right angles.",
                 absolute_tolerance=0.5, tolerance_why=READ_WITH_A_RULER,
                 slips=(Slip(lambda p: p.first_mm + p.second_mm, "That is the sum; the mean is half of it."),)),
            Step(name="times_ring", say="How many times the width of the ring is that, as a plain number?",
                 compute=lambda p: p.spread_mm / p.ring_mm, unit="", working="{spread_mm} mm ÷ {ring_mm:.0f} mm = {answer}",
                 hint="Divide the spread by the width of the ring.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.ring_mm / p.spread_mm, "That is upside down: the spread stands above."),)),
            Step(name="uneven_percent", say="By how much do the two readings differ, in % of the spread?",
                 compute=lambda p: 100 * abs(p.first_mm - p.second_mm) / p.spread_mm, unit="%",
                 working="The readings are {first_mm} mm and {second_mm} mm. Their difference, divided by {spread_mm} mm, is {answer}. More than "
                         "about 10 % means: the plate was not level, or the ring was pulled sideways. Repeat the test. (Common practice, no source.)",
                 hint="Larger reading − smaller reading. Divide it by the spread, then times 100.", relative_tolerance=0.03,
                 absolute_tolerance=0.3),
        )),
]

QUESTIONS = [
    NumberWithUnit(
        id="L03-Q1", objective="L03-O2",
        prompt="A mix of density {density_g_cm3} g/cm³ fills a ring {height_mm} mm high. What is the pressure at the foot in Pa?",
        parameters={"density_g_cm3": 1.9, "height_mm": 40},
        key=lambda p: float(pressure_at_foot_pa(p.density_g_cm3, p.height_mm)), unit="Pa", relative_tolerance=0.025,
        tolerance_why=ROUNDED_GRAVITY,
        slips=(Slip(lambda p: p.density_g_cm3 * p.height_mm, "You left out 9.81 m/s², which turns mass into weight."),
               Slip(lambda p: float(pressure_at_foot_pa(p.density_g_cm3)), "That is the pressure in the standard ring of 50 mm; this ring is lower.")),
        hint="Density × 9.81 m/s² × height. With the density in g/cm³ and the height in mm, the result is in Pa.",
        explanation="{density_g_cm3} × 9.81 × {height_mm} = {key}. Twice the height gives twice the pressure."),
    Choice(
        id="L03-Q2", objective="L03-O4",
        prompt="A stiff mix flows on the vibrator and stops when it is switched off. What did the vibrator change?",
        explanation="While it runs, a strong vibrator lowers the yield stress. The model divides it by about {factor:.0f}. Water and ratio stay as they were.",
        parameters={"factor": 1 + VIBRATION_THINNING.value},
        options=(
            Option("It lowered the yield stress while it ran.", "The grains are shaken loose from each other. When the shaking ends, they hold again.",
                   correct=True),
            Option("It brought water out of the powder, so the mix had more water.",
                   "Vibration adds no water and frees none. A mix that flows because it was shaken has the same ratio and the same pores from water."),
            Option("It made the mix lighter, because the air went out.", "A mix that loses air becomes heavier for its size, not lighter, and that changes little."),
            Option("It warmed the mix.", "The warmth is far too small to matter. The flow stops at once when the vibrator stops; warmth would stay."),
        )),
    SeveralChoices(
        id="L03-Q3", objective="L03-O3",
        prompt="Which of these make the same powder spread less in the ring test?",
        explanation="Less water and waiting raise the yield stress. A lower ring lowers the weight that works against it.",
        parameters={"ratio_ml": 58},
        computed={"standard": lambda p: _spread_mm("model plaster", p.ratio_ml), "later": lambda p: _spread_mm("model plaster", p.ratio_ml, RING_MM, 5.0)},
        options=(
            Option("Less water.", "The grains stand closer together, so more stress is needed to move them.", correct=True),
            Option("Lifting the ring at 5 min and not at 2 min.", "The first crystals already hold the grains: the mix has thickened.",
                   correct=lambda p: p.later < p.standard - 2),
            Option("A ring of 20 x 20 mm in place of 35 x 50 mm.", "It presses less on its foot, so the same mix spreads less beyond its ring.", correct=True),
            Option("Putting the plate on a vibrator.", "That lowers the yield stress while it runs. The mix spreads more."),
            Option("A larger batch in the bowl, at the same ratio.",
                   "Only what is in the ring counts. The size of the batch in the bowl does not change the mix."),
        )),
    PutInOrder(
        id="L03-Q4", objective="L03-O2", prompt="In which order do you do a ring test?",
        explanation="Level plate and wet ring first; the clock starts when the powder touches the water; lift at 2 min, and read two diameters.",
        steps=(
            Place("Wet the ring inside and stand it on a clean, level glass plate.", "Everything must stand ready before the clock runs."),
            Place("Sift the powder into the water and start the clock when it touches.", "The minutes count from here."),
            Place("Let it soak for half a minute, then mix for one minute.", "Dry grains take up water by themselves. Then you have half a minute "
                  "to fill the ring."),
            Place("Fill the ring and wipe it level.", "A ring half full has half the weight and looks stiff."),
            Place("Lift the ring straight up at 2 min.", "Later the mix is thicker; sideways it would be dragged."),
            Place("Read two diameters at right angles.", "Only when nothing moves any more."),
            Place("Write down the mean of the two.", "One number, with the ring and the minute beside it."),
        )),
    Choice(
        id="L03-Q5", objective="L03-O1",
        prompt="Two mixes come to rest at the same spread, in the same ring. One moved slowly, the other fast. What do they have in common?",
        explanation="Where a mix stops is decided by its yield stress and its weight. How fast it gets there is decided by its viscosity, and the ring test does not show that.",
        options=(
            Option("The same viscosity.", "The spread does not measure viscosity. Viscosity decides how fast a mix moves, not where it stops."),
            Option("Nearly the same yield stress, if their densities are alike.", "A mix stops where its weight can no longer overcome its yield stress.", correct=True),
            Option("The same water/powder ratio.", "Different powders reach the same spread with very different water: compare plaster and improved stone."),
        )),
    NumberWithUnit(
        id="L03-Q6", objective="L03-O2",
        prompt="After the ring is lifted you read {first_mm} mm and, at right angles, {second_mm} mm. What spread in mm do you write down?",
        parameters={"first_mm": 57, "second_mm": 53},
        key=lambda p: (p.first_mm + p.second_mm) / 2, unit="mm", absolute_tolerance=0.5, tolerance_why=READ_WITH_A_RULER,
        slips=(Slip(lambda p: p.first_mm, "That is the first reading alone. Take the mean of both."),
               Slip(lambda p: p.first_mm + p.second_mm, "That is the sum; the mean is half of it.")),
        hint="Two diameters at right angles: take the mean.",
        explanation="({first_mm} mm + {second_mm} mm) ÷ 2 = {key}."),
    Choice(
        id="L03-Q7", objective="L03-O3",
        prompt="Standard ring, lifted still at 2 min. The mix of model plaster rests at {spread_mm} mm. Which word fits it?",
        parameters={"spread_mm": 72},
        computed={"ring_mm": lambda p: RING_MM[0], "border_mm": lambda p: _spread_mm("model plaster", 100 * pourable_ratios("model plaster")[1])},
        explanation="In the model, model plaster pours up to a spread of about {border_mm:.0f} mm in this ring, at this minute. Wider than that it is runny.",
        options=(
            Option("Too stiff to pour.", "A mix that is too stiff stands: it keeps the {ring_mm:.0f} mm of its ring.", correct=lambda p: p.spread_mm <= p.ring_mm),
            Option("It pours.", "A mix that pours comes to rest at {border_mm:.0f} mm or less. At its stiff end it even stands when it is lifted still.",
                   correct=lambda p: p.ring_mm < p.spread_mm <= p.border_mm),
            Option("Runny.", "It is wider than about {border_mm:.0f} mm: its yield stress is too low. Its grains settle, and the set model is weak.",
                   correct=lambda p: p.spread_mm > p.border_mm),
            Option("Nobody can say: the viscosity is not known.", "Viscosity decides how fast a mix moves. The word depends on its yield stress, "
                   "and the spread shows that."),
        )),
]

BENCH_TASKS = [
    BenchTask(
        "L03-B1", "Five rings, and a small one",
        do=(
            "Use a smooth ring 35 mm wide and 50 mm high on a clean, level glass plate. A clean piece of plastic pipe of nearly that size will do; write down its real size.",
            "Weigh 100 g of model plaster for each mix. Measure 42, 46, 50, 55 and 63 mL of water.",
            "Wet the ring inside. Sift the powder into the water, and start the clock when the powder touches the water.",
            "Let it soak for half a minute. Mix for one minute by hand.",
            "Fill the ring, wipe it level, and lift it straight up at 2 min.",
            "When nothing moves, read two diameters at right angles, and the height of the middle.",
            "When a mix stands, put its plate on the vibrator. Does the mix flow?",
            "Make the mix with 55 mL three more times: once in a ring about 20 mm wide and 20 mm high, once with the ring lifted at 5 min, and once on the vibrator.",
            "Let everything set on the plate, then lift it off and put it in the waste bin.",
        ),
        record=(
            "For each mix: grams, millilitres, ring, minute of lifting, both diameters, height of the middle.",
            "The mean spread, and beside it the model's value and its plausible range.",
            "Which mixes you would call too stiff, pourable or runny, before you look at the model's word. A mix that stands may still pour on the vibrator.",
            "Where bench and model disagree by more than the range: the model's constants are a guess at practice. Your numbers are better.",
        ),
        cautions=(
            "Wear a mask and eye protection. Pour powder slowly, close to the bowl.",
            "Never put a finger, a hand or any part of the body into a setting mass: it gets hot. Never put a ring with mix over a finger: it holds the finger fast.",
            "Hold the plate at its edges on the vibrator. Do not use a glass plate with a crack.",
            "No plaster, wet or dry, in the drain. The instructions of the product and of your laboratory come first.",
        ), objectives=("L03-O2", "L03-O3")),
]
