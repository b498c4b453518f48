"""Lesson 14, the set cast: what it asks, explains and sets as work."""

from gypsumkit.powders import POWDERS
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, SeveralChoices, Slip
from gypsumkit.mix import predict
from gypsumkit.science.hydration import GYPSUM_G_MOL, GYPSUM_G_PER_G_POWDER
from gypsumkit.science.solubility import dissolved_g_per_100_g, gypsum_solubility_mmol_kg
from gypsumkit.studies.set_cast import RUNNING, STILL, Soak, strength_mpa, usual
from gypsumkit.units import say_number


def _lost(wetting, minutes, water_l, end):
    return float(Soak("dental stone", wetting, minutes, water_l).depth_um()[end])


def _holds_g_l(temperature_c):
    """Gypsum that a litre of water holds, g, as it is told to the reader."""
    return float(say_number(10 * float(dissolved_g_per_100_g(gypsum_solubility_mmol_kg(temperature_c), GYPSUM_G_MOL)), 2))


def _dry_density(powder):
    return round(float(predict(powder, POWDERS[powder].recommended_ratio.value)["dry_density_g_cm3"].value), 2)


def _times_wet(powder, left):
    mix = usual(powder)
    return float(strength_mpa(mix, left)[0] / strength_mpa(mix, 1.0)[0])


OBJECTIVES = [
    Objective("L14-O1", "Explain why a set cast is soaked only in water that already holds gypsum, and compute a bound for what other water takes."),
    Objective("L14-O2", "Dry a cast warm and not hot, and say from its weight how much water is left and how strong it is."),
    Objective("L14-O3", "Say what surface hardness, edges and scratching depend on, and how sure the published numbers are."),
    Objective("L14-O4", "Handle and store a cast so that it lasts for its use, and say which use ends it."),
]

PREDICTIONS = [
    Choice(
        id="L14-P1", objective="L14-O1",
        prompt="A set cast of dental stone is forgotten under the tap: {litres} L a minute, 20 °C, for {minutes} min. What may its surface lose?",
        parameters={"litres": 2, "minutes": 30},
        computed={"low": lambda p: _lost(RUNNING, p.minutes, p.litres, 0), "high": lambda p: _lost(RUNNING, p.minutes, p.litres, 1)},
        explanation="Between about {low:.0f} and {high:.0f} µm: certainly something, and perhaps more than the line that a stone must reproduce (50 µm). Sixty litres could hold far more; "
                    "the surface has no time to give it.",
        options=(
            Option("Nothing: set gypsum does not dissolve.", "A litre holds 2.6 g of it. It dissolves little, not nothing.", correct=lambda p: p.high < 0.1),
            Option("Certainly less than 1 µm.", "Even the lower bound is above that.", correct=lambda p: 0.1 <= p.high < 1),
            Option("Certainly a few µm, perhaps more than 50 µm.", "The bounds lie far apart, and the upper one matters.", correct=lambda p: p.low > 1 and 50 < p.high < 500),
            Option("Several millimetres.", "The water could hold so much, if every litre left full of gypsum. But it runs off long before that.", correct=lambda p: p.high > 1000),
        )),
    Choice(
        id="L14-P2", objective="L14-O2",
        prompt="A wet cast of dental stone dries. Half of its free water has gone. How strong is it, compared with wet?",
        parameters={}, computed={"times": lambda p: _times_wet("dental stone", 0.5)},
        explanation="{times:.2f} times as strong as wet, by the model: hardly more. The last water sits where the crystals touch, and it leaves last.",
        options=(
            Option("Hardly stronger.", "The strength comes back with the last water.", correct=lambda p: p.times < 1.15),
            Option("Half as strong again.", "Half of the water is not half of the strength: the last water counts most.", correct=lambda p: 1.3 < p.times < 1.7),
            Option("Twice as strong.", "That is the dry cast.", correct=lambda p: p.times > 1.8),
        )),
]

NOTES = [
    Note("L14-N1",
         "A friend rinses every cast under the tap and soaks it in a bowl of tap water before the next step. Tell your friend what to do instead, and why. Use the words dissolve, full and edge.",
         "Set gypsum dissolves a little: a litre of water takes up about 2.6 g and is then full. Water from the tap holds hardly any, so it takes from the surface, and an edge or a thin wall is "
         "reached from two sides. Nobody sees a few micrometres, but on a margin they count. Use water that is already full: keep lumps of set gypsum in a closed vessel for days and use "
         "the clear water above. It wets the cast and takes nothing.", objectives=("L14-O1",)),
    Note("L14-N2",
         "Ines wants the cast dry by noon and sets the oven to 150 °C. Explain to her what happens, how she would see it on the balance, and what she may do instead.",
         "Above about 45 to 60 °C gypsum begins to give off the water in its crystals, not only the free water in the pores. It turns back into powder from the surface inward: it chalks, shrinks, "
         "cracks and becomes weak, and wetting does not bring it back. On the balance the weight falls below 1.186 g for each gram of powder: that is less than a dry cast can weigh. "
         "Instead she may dry it in warm moving air, below 45 °C, until the weight no longer changes. A hot oven also burns hands.", objectives=("L14-O2",)),
]

EXERCISES = [
    Exercise(
        id="L14-E1", objective="L14-O1", fade=1,
        situation="A cast of {powder} lies in a bowl with {litres} L of tap water. A litre holds {holds} g of gypsum at most. The dry cast has a density of {density} g/cm³. Water wets "
                  "{area} cm² of it.",
        parameters=lambda draw: (lambda powder: {"powder": powder, "litres": draw.choice([0.5, 0.8, 1.2]), "area": draw.choice([40, 60, 90]), "holds": _holds_g_l(20.0),
                                                 "density": _dry_density(powder)})(draw.choice(["model plaster", "dental stone", "improved stone"])),
        steps=(
            Step(name="most_g", say="How many g of gypsum can the water take up at most?", compute=lambda p: p.litres * p.holds, unit="g", working="{litres} L × {holds} g/L = {answer}",
                 hint="Litres times grams in a litre.", slips=(Slip(lambda p: p.holds / p.litres, "More water takes more: multiply."),)),
            Step(name="most_cm3", say="How many cm³ of the cast is that?", compute=lambda p: p.most_g / p.density, unit="cm³", working="{most_g:.3g} g ÷ {density} g/cm³ = {answer}",
                 hint="Mass divided by density.", slips=(Slip(lambda p: p.most_g * p.density, "Divide by the density."),)),
            Step(name="deep_um", say="How deep is the layer that is lost at most, in µm?", compute=lambda p: 1e4 * p.most_cm3 / p.area, unit="µm",
                 working="{most_cm3:.3g} cm³ ÷ {area} cm² × 10 000 µm/cm = {answer}", hint="Volume divided by area is a thickness in cm; 1 cm is 10 000 µm.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: 1e3 * p.most_cm3 / p.area, "1 cm is 10 000 µm. You took 1000."),)),
        )),
    Exercise(
        id="L14-E2", objective="L14-O2", fade=2,
        situation="A cast was made of {powder_g} g of powder and {water_ml} mL of water (1 mL counts as 1 g); nothing was lost. Wet it weighs {wet_g} g. Now it weighs {now_g} g. One gram of powder becomes 1.186 g "
                  "of dry gypsum.",
        parameters=lambda draw: (lambda powder_g, water_ml, now_g: {"powder_g": powder_g, "water_ml": water_ml, "wet_g": powder_g + water_ml, "now_g": now_g})(
            *draw.choice([(100, 30, 121), (200, 100, 247), (150, 45, 181), (200, 46, 239), (120, 60, 160)])),
        steps=(
            Step(name="dry_g", say="What will it weigh dry, in g?", compute=lambda p: p.powder_g * GYPSUM_G_PER_G_POWDER, unit="g", working="{powder_g} g × 1.186 = {answer}",
                 hint="All the powder, and the water that it binds: grams of powder × 1.186.", relative_tolerance=0.003,
                 slips=(Slip(lambda p: p.powder_g, "The powder has bound water: the dry cast weighs more than the powder."),)),
            Step(name="free_g", say="How many g of free water were in the wet cast?", compute=lambda p: p.wet_g - p.dry_g, unit="g", working="{wet_g} g − {dry_g:.4g} g = {answer}",
                 hint="Wet minus dry.", relative_tolerance=0.03, slips=(Slip(lambda p: p.water_ml, "A part of the water is bound in the crystals."),)),
            Step(name="left_g", say="How many g of free water are left now?", compute=lambda p: p.now_g - p.dry_g, unit="g", working="{now_g} g − {dry_g:.4g} g = {answer}",
                 hint="Now minus dry.", relative_tolerance=0.05, tolerance_why="a small difference of two large weights.",
                 slips=(Slip(lambda p: p.wet_g - p.now_g, "That is what has left."),)),
            Step(name="left_percent", say="What part of its free water is left, in %?", compute=lambda p: 100 * p.left_g / p.free_g, unit="%",
                 working="{left_g:.3g} g ÷ {free_g:.3g} g × 100 = {answer}", hint="Left divided by what was there.", relative_tolerance=0.06,
                 tolerance_why="a small difference of two large weights.", slips=(Slip(lambda p: 100 * (p.wet_g - p.now_g) / p.free_g, "That is the part that has left."),)),
        )),
]

QUESTIONS = [
    Choice(
        id="L14-Q1", objective="L14-O1",
        prompt="Why does a cast lose nothing in water that is saturated with calcium sulfate?",
        explanation="Dissolving goes on until the water is full. This water is full before the cast comes in.",
        options=(
            Option("It is too thick to run into the pores.", "It is as thin as water and wets the cast just as well."),
            Option("The water already holds all the gypsum that it can.", "What leaves the surface and what comes back to it are equal.", correct=True),
            Option("The salt in it makes the surface harder.", "It adds nothing to the surface. It only takes nothing away."),
            Option("It holds hemihydrate, which sets on the cast.", "It holds ions of calcium and sulfate, whatever solid they came from. Fresh powder would set on it: a reason to use set gypsum."),
        )),
    NumberWithUnit(
        id="L14-Q2", objective="L14-O1",
        prompt="A litre of water holds {holds} g of gypsum. How many g can {litres} L of tap water take from a cast at most?",
        parameters=lambda draw: {"holds": _holds_g_l(20.0), "litres": draw.choice([0.4, 1.5, 5])},
        key=lambda p: p.holds * p.litres, unit="g", relative_tolerance=0.02, tolerance_why="plain arithmetic.",
        slips=(Slip(lambda p: p.holds * p.litres / 10, "A whole litre holds {holds} g. You divided by ten."),),
        hint="Grams in a litre times litres.", explanation="At most {key}. This is an upper bound: it is reached only when the cast lies there long enough."),
    Choice(
        id="L14-Q3", objective="L14-O2",
        prompt="A cast from 100 g of powder weighs 112 g after a night in the oven. What do you know?",
        computed={"dry": lambda p: 100 * GYPSUM_G_PER_G_POWDER},
        explanation="Dry it would weigh {dry:.1f} g. It weighs less, so crystal water has gone: it was too hot.",
        options=(
            Option("It is dry, and as strong as it can be.", "A dry cast from 100 g of powder weighs {dry:.1f} g. This one has lost more than its free water."),
            Option("There is free water left.", "Then it would weigh more than {dry:.1f} g."),
            Option("It has lost crystal water.", "It has begun to turn back into powder.", correct=True),
            Option("Nothing, without the water that was mixed in.", "For the dry weight only the powder counts. It binds the water that it needs, if there was enough of it."),
        )),
    SeveralChoices(
        id="L14-Q4", objective="L14-O3",
        prompt="Surface and edges of a cast: which of these are right?",
        explanation="Mix with less water, let the cast dry before you use it, keep tap water away, and keep tools away from margins.",
        options=(
            Option("A wet margin is scratched more easily than a dry one.", "Strength and hardness are lower while water sits between the crystals.", correct=True),
            Option("More mixing water makes a softer surface.", "More pores, fewer contacts.", correct=True),
            Option("A hardness measured in one laboratory holds for every stone.", "Products and methods differ. The published means lie far apart."),
            Option("Tap water sharpens worn edges.", "It takes from edges first, because water reaches them from two sides."),
        )),
    NumberWithUnit(
        id="L14-Q5", at_picture=True, objective="L14-O1",
        prompt="Find it with the explorer of wetting: still tap water, {litres} L, {hours} h, 20 °C, 60 cm². How many µm are lost at most?",
        parameters={"litres": 0.5, "hours": 12},
        key=lambda p: _lost(STILL, 60 * p.hours, p.litres, 1), unit="µm", relative_tolerance=0.05, tolerance_why="the picture shows two digits.",
        slips=(Slip(lambda p: _lost(STILL, 60 * p.hours, p.litres, 0), "That is the lower bound: the least that is lost."),
               Slip(lambda p: float(Soak("dental stone", STILL, 60 * p.hours, p.litres).most_um()), "That is what the water could hold. The surface has not given so much yet.")),
        hint="Choose still tap water, type 0.5 L and 12 h, and read the larger number for the surface.", explanation="At most {key}: more than a fine line. Overnight in tap water is too long."),
    Choice(
        id="L14-Q6", objective="L14-O4",
        prompt="You want to keep a study model for years. You want to use a die for a crown. How do you treat them?",
        explanation="Each use has its own danger: damp, heat and falls for the model; fittings, tools and tap water for the die.",
        options=(
            Option("Anything will do: gypsum is rock and lasts forever.", "This rock dissolves in water, chalks when it is hot and breaks when it falls."),
            Option("Keep the model dry, in a box, away from heat and water. Touch the die little, and make a second die when you need one for the last check.",
                   "Every fitting wears a die.", correct=True),
            Option("Keep both in a closed bag with a wet cloth, so that they do not crack.", "Wet casts stay weak, and fungus grows on them. Dried warm, they do not crack."),
            Option("Keep both in the warm oven until you need them.", "Days in heat take crystal water: they chalk."),
        )),
    Choice(
        id="L14-Q7", objective="L14-O2",
        prompt="A dry cast is dipped into saturated water, and then something is pressed against it. How strong is it, by the model of lesson 14?",
        parameters={}, computed={"times": lambda p: _times_wet("dental stone", 1.0)},
        explanation="As weak as wet. The water goes to the contacts of the crystals again. Let it dry before you load it.",
        options=(
            Option("As strong as dry: it has been dry once.", "Drying is not a second setting. The strength goes again when the water comes back."),
            Option("As weak as wet.", "The cast was stronger only because the water was missing.", correct=True),
            Option("Stronger than dry: the salt fills the pores.", "A litre holds only 2.6 g of gypsum. That fills no pores."),
        )),
]

BENCH_TASKS = [
    BenchTask(
        "L14-B1", "Tap water against saturated water",
        do=(
            "A week before: put lumps of old set gypsum into 1 L of tap water in a closed vessel. Shake it once a day. Use only the clear water.",
            "Cast four equal bars of dental stone, each against a glass plate with a fine scratch, so that every bar has a fine line. Dry them in air below 45 °C until the weight no longer changes. Weigh.",
            "Bar 1: 30 min in the clear saturated water. Bar 2: 30 min in 0.5 L of tap water. Bar 3: 30 min under a thin stream of tap water. Measure the litres a minute with a jug and a clock. Bar 4 lies beside bar 1 and is only for scratching.",
            "Dab off the drops with a cloth. Weigh bars 1 to 3 wet. Scratch bar 4 with a wooden stick. Dry all bars as before. Weigh bars 1 to 3 again, and scratch bar 4 once more with the same push.",
            "Look at the line and at an edge of bars 1 to 3, with a lens, in light from the side.",
        ),
        record=(
            "Weights: dry, wet, dry again; litres a minute; temperature of the water; area of a bar",
            f"Loss of each in g, and in µm: loss ÷ dry density ÷ area ({_dry_density('dental stone')} g/cm³ when mixed at 30 mL per 100 g). Is it between the bounds of the explorer? What is the smallest loss that your balance can see?",
            "Line and edge of each: sharp, round or gone",
            "Scratch on bar 4, wet and dry: how wide?",
        ),
        cautions=(
            "Wear a mask and eye protection with powder. Never put any part of the body into a setting mass: it gets hot.",
            "No dry trimming, sanding or blowing: the dust harms the lungs and may hold silica. Work wet, or with dust extraction and a mask.",
            "No hot oven, no microwave oven: steam inside can break a wet cast, and hot gypsum burns.",
            "Water and electric grinding wheels: dry hands, and the wheel only with the demonstrator.",
            "Water that held gypsum, and all waste, go where your laboratory says, never down the drain.",
            "The instructions of the product and of your laboratory come first.",
        ), objectives=("L14-O1", "L14-O2", "L14-O3")),
]
