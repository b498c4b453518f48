"""Lesson 04, where the water goes: what it asks, explains and sets as work."""

from gypsumkit.mix import Mix
from gypsumkit.powders import DRY_OVER_WET, GYPSUM_DENSITY, POWDERS
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip
from gypsumkit.recipe import Recipe
from gypsumkit.science import calcination, drying, hydration

ROUNDED = "18.6 is itself rounded."
PLASTER_DENSITY = float(POWDERS["model plaster"].density_g_cm3)
CRYSTAL_DENSITY = float(GYPSUM_DENSITY)


def _porosity_percent(powder, ratio):
    return 100 * Mix(Recipe(powder, ratio)).porosity.value


def _gain_percent(ratio, gone_percent):
    """How much of the way from wet to dry strength is done when so much free water has dried off."""
    wet = drying.free_water_g_per_g_dry(ratio, 1.0)
    factor = drying.strength_over_wet(1 - gone_percent / 100, wet, float(DRY_OVER_WET))
    return 100 * (factor - 1) / (float(DRY_OVER_WET) - 1)


OBJECTIVES = [
    Objective("L04-O1", "Compute how much of the water is bound and how much stays free."),
    Objective("L04-O2", "Explain why a model does not shrink, although crystals take less room than powder and water."),
    Objective("L04-O3", "Compute the weight and the density of a dried model."),
    Objective("L04-O4", "Predict weight and strength while a model dries, and say how to dry it safely."),
]

PREDICTIONS = [
    Choice(
        id="L04-P1", objective="L04-O1",
        prompt="Ines mixes model plaster with {per_100_ml} mL of water per 100 g. It sets and dries. It looks solid. What part of its volume is empty?",
        parameters={"per_100_ml": 60},
        computed={"empty": lambda p: _porosity_percent("model plaster", p.per_100_ml / 100)},
        explanation="The model says that about {empty:.0f} % of the volume is empty. Free water filled most of it before.",
        options=(
            Option("Less than a tenth.", "It feels solid, but the free water took much room, and all of it has dried off.", correct=lambda p: p.empty < 10),
            Option("About a quarter.", "That is a good guess for dental stone. Plaster is mixed with far more water.", correct=lambda p: 18 <= p.empty < 32),
            Option("About a half.", "The pores are too fine to see. They were full of free water.", correct=lambda p: 40 <= p.empty < 60),
            Option("About three quarters.", "That is too much. The crystals fill about half of the volume.", correct=lambda p: p.empty > 68),
        )),
    Choice(
        id="L04-P2", objective="L04-O4",
        prompt="A model of model plaster, mixed with {per_100_ml} mL per 100 g, is drying. {gone} % of its free water has gone. Dry, it will be about "
               "twice as strong as wet. How strong is it now?",
        parameters={"per_100_ml": 55, "gone": 60},
        computed={"gain": lambda p: _gain_percent(p.per_100_ml / 100, p.gone)},
        explanation="The strength has hardly moved: {gain:.0f} % of the way from wet to dry. Most of the gain comes with the last water.",
        options=(
            Option("A little more than half of the way from wet to dry strength.", "That would be so if each gram of water counted alike. The last water, at "
                   "the contacts of the crystals, counts most.", correct=lambda p: 45 <= p.gain <= 75),
            Option("Hardly stronger than wet.", "The water that weakens the contacts of the crystals leaves last.", correct=lambda p: p.gain < 15),
            Option("Already as strong as dry.", "A surface that looks dry tells little. Inside, the contacts of the crystals are still wet.",
                   correct=lambda p: p.gain > 90),
        )),
]

NOTES = [
    Note("L04-N1",
         "Crystals take less room than the powder and water they are made of. Still, the model does not shrink. Why not, and where is the missing room?",
         "The crystals grow into each other early and form a stiff frame. The frame keeps its outer size. Later, powder and water go on turning into "
         "crystals that take less room. The missing room cannot come from outside, so it opens inside, as small empty pores. Water that stood there "
         "has become part of the crystals.", objectives=("L04-O2",)),
    Note("L04-N2",
         "A model feels dry on the outside. How can you find out whether it is dry inside, and why does it matter for its strength?",
         "Weigh it, wait a day, and weigh it again. When the weight stays the same, the free water has gone. It matters because most of the strength "
         "comes with the last few per cent of the free water.", objectives=("L04-O4",)),
]

QUESTIONS = [
    NumberWithUnit(
        id="L04-Q1", objective="L04-O1",
        prompt="A plaster is mixed with {per_100_ml} mL of water per 100 g of powder. All of it sets. What part of this water stays free, in %?",
        parameters={"per_100_ml": 50},
        computed={"bound": lambda p: hydration.theoretical_water_g(100), "free": lambda p: p.per_100_ml - hydration.theoretical_water_g(100)},
        key=lambda p: 100 * p.free / p.per_100_ml, unit="%", relative_tolerance=0.01, tolerance_why=ROUNDED,
        slips=(
            Slip(lambda p: 100 * p.bound / p.per_100_ml, "That is the part that is bound. The question asks for the rest."),
            Slip(lambda p: p.free, "That is the free water in mL for 100 g of powder. Divide it by all the water."),
            Slip(lambda p: 100 * p.free / (100 + p.per_100_ml), "You divided by the weight of the whole mix. Divide by the water."),
            Slip(lambda p: 100 - p.bound, "You took 18.6 % off. It is 18.6 mL for 100 g of powder, not 18.6 % of the water."),
        ),
        hint="First find the free water in mL: all of it minus 18.6 mL.",
        explanation="{per_100_ml} mL minus {bound} mL leave {free} mL free. That is {key} of the water."),
    Choice(
        id="L04-Q2", objective="L04-O2",
        prompt="Crystals take 7 to 10 % less room than the powder and water that react. Why does the outside of a model not shrink by so much?",
        options=(
            Option("The free water swells and fills the missing room.", "Water does not swell. There is even less of it, since a part became bound."),
            Option("Crystals form a stiff frame early; after that the missing room opens inside.", "The frame keeps its outer size. The missing room becomes "
                   "small empty pores.", correct=True),
            Option("The model does shrink by so much, but nobody notices.", "That would be 2 to 3 % in each direction, more than 1 mm on a dental arch. "
                   "In truth a model even grows a little when it sets."),
            Option("The mass gets lighter instead.", "Nothing leaves while it sets, so the weight stays. Only drying makes it lighter."),
        ),
        hint="When does the mass become stiff: before most of it has reacted, or after?",
        explanation="The growing crystals support each other early, so the outside keeps its size and the missing room opens inside."),
    SeveralChoices(
        id="L04-Q3", objective="L04-O1",
        prompt="A model has set and dried. Where do its empty pores come from?",
        options=(
            Option("From free water that dried off.", "This is by far the largest part in plaster.", correct=True),
            Option("From the room that crystals do not need.", "The reaction opens about 6 % of the outer volume in the usual mixes.", correct=True),
            Option("From air bubbles of mixing and pouring.", "Usually about 1 %; much more when the mix is beaten or too stiff.", correct=True),
            Option("From bound water that dried off.", "Bound water is a part of the crystals. It stays, unless the model gets hot."),
            Option("From crystals that shrink on drying.", "The crystals keep their size. Only the water between them leaves."),
        ),
        explanation="Free water, the room that the reaction opens, and bubbles: these three make the pores."),
    PutInOrder(
        id="L04-Q4", objective="L04-O4",
        prompt="Put in order what happens to the water, from the bowl to the dry model.",
        steps=(
            Place("All of the water is free.", "In the fresh mix nothing is bound beyond the half water of the powder."),
            Place("A part of it is bound in growing crystals.", "Binding needs powder that has dissolved, so it comes after mixing."),
            Place("Setting is complete; the rest of the water fills the pores.", "All the powder has set. What is left is free water."),
            Place("Water from wide pores dries off; the model gets lighter, not stronger.", "Drying comes after setting. The wide pores empty first, and the contacts are still wet."),
            Place("The last water leaves the contacts of the crystals; the strength rises.", "The finest gaps hold the water longest. Most of the strength comes here."),
        ),
        explanation="Free, then bound, then the free rest dries, and with the last of it the strength rises."),
    NumberWithUnit(
        id="L04-Q5", objective="L04-O3",
        prompt="Ines pours a block from {powder_g} g of dental stone and {water_ml} mL of water. Nothing is lost. What does the block weigh in g when it is "
               "set and dry?",
        parameters={"powder_g": 200, "water_ml": 60},
        computed={"bound": lambda p: hydration.theoretical_water_g(p.powder_g)},
        key=lambda p: p.powder_g + p.bound, unit="g", relative_tolerance=0.008, tolerance_why=ROUNDED,
        slips=(
            Slip(lambda p: p.powder_g + p.water_ml, "That is its weight when wet. The free water has dried off."),
            Slip(lambda p: p.powder_g, "That is the powder alone. The crystals keep the water that they bind."),
            Slip(lambda p: p.powder_g + hydration.theoretical_water_g(100), "You added the bound water of 100 g. Here are {powder_g} g."),
            Slip(lambda p: p.powder_g + p.water_ml - p.bound, "You took the bound water off. The bound water stays; the free water leaves."),
        ),
        hint="Powder, and 18.6 g of bound water for each 100 g of it.",
        explanation="{powder_g} g of powder and {bound} g of bound water make {key}."),
    Choice(
        id="L04-Q6", objective="L04-O4",
        prompt="A model has to be dry tomorrow. What should Ines do?",
        options=(
            Option("Put it into an oven at 100 °C.", "That is dry heat far above 60 °C. The crystals lose bound water, and the model turns weak and chalky."),
            Option("Put it into moving, lukewarm air, below 45 °C, and weigh it until the weight stays.",
                   "Moving air carries the water away, and the crystals keep their bound water.", correct=True),
            Option("Keep it in a closed bag, so that it dries slowly.", "In a closed bag the air fills with water, and nothing dries."),
            Option("Wipe it and lay it on a hot plate.", "The side on the plate gets hot and chalky, while the inside stays wet."),
        ),
        hint="How warm may gypsum become?",
        explanation="Take moving air and gentle warmth, below about 45 °C. Let the balance decide when it is dry."),
]


def _reacting(draw):
    return {"powder_g": draw.choice([80, 100, 120, 150, 200])}


def _block(draw):
    powder_g = draw.choice([100, 150, 200, 250, 300])
    return {"powder_g": powder_g, "per_100_ml": draw.choice([50, 55, 60])}


def _block_cm3(p):
    """Outer volume of a set block without bubbles, 1 g of water counted as 1 cm3."""
    return p.powder_g / PLASTER_DENSITY + p.powder_g * p.per_100_ml / 100


EXERCISES = [
    Exercise(
        id="L04-E1", objective="L04-O2", fade=2,
        situation="All of {powder_g} g of model plaster sets. Its grains have a density of {grain} g/cm³, the crystals {crystal} g/cm³. "
                  "1 g of water takes 1 cm³. Only the water that is bound counts here.",
        parameters=_reacting, computed={"grain": lambda p: PLASTER_DENSITY, "crystal": lambda p: CRYSTAL_DENSITY},
        steps=(
            Step(name="before_cm3", say="What volume in cm³ do the powder and the water that it binds fill before they react?",
                 compute=lambda p: p.powder_g / p.grain + hydration.theoretical_water_g(p.powder_g), unit="cm³",
                 working="{powder_g} g ÷ {grain} g/cm³ + {powder_g} × 18.6 ÷ 100 = {answer}",
                 hint="Volume is mass divided by density. 100 g of powder bind 18.6 g.",
                 slips=(Slip(lambda p: p.powder_g * p.grain + hydration.theoretical_water_g(p.powder_g), "You multiplied by the density. Divide: volume is mass ÷ density."),
                        Slip(lambda p: p.powder_g / p.grain, "That is the powder alone. Add the water that it binds."))),
            Step(name="crystals_cm3", say="What volume in cm³ do the crystals fill?", compute=lambda p: calcination.gypsum_g(p.powder_g) / p.crystal, unit="cm³",
                 working="{powder_g} g × 1.186 ÷ {crystal} g/cm³ = {answer}", hint="The crystals weigh as much as powder and bound water: 118.6 g for 100 g.",
                 slips=(Slip(lambda p: p.powder_g / p.crystal, "The crystals weigh more than the powder: add the bound water."),
                        Slip(lambda p: calcination.gypsum_g(p.powder_g) / p.grain, "You took the density of the grains. The crystals have their own."))),
            Step(name="missing_percent", say="What part of the first volume is missing in the end, in %?", compute=lambda p: 100 * (p.before_cm3 - p.crystals_cm3) / p.before_cm3,
                 unit="%", working="({before_cm3} − {crystals_cm3}) ÷ {before_cm3} × 100 = {answer}", hint="What is missing, divided by what was there before.",
                 absolute_tolerance=0.4, tolerance_why="the difference of two rounded numbers is less exact than they are.",
                 slips=(Slip(lambda p: 100 * p.crystals_cm3 / p.before_cm3,
                             "That is the part that is still filled. The question asks for what is missing."),)),
        )),
    Exercise(
        id="L04-E2", objective="L04-O3", fade=2,
        situation="Ines pours a block from {powder_g} g of model plaster with {per_100_ml} mL of water per 100 g. It keeps its outer volume of {outer_cm3} cm³. "
                  "Count 1 mL of water as 1 g.",
        parameters=_block, computed={"outer_cm3": _block_cm3},
        steps=(
            Step(name="wet_g", say="What does the wet block weigh in g?", compute=lambda p: p.powder_g * (1 + p.per_100_ml / 100), unit="g",
                 working="{powder_g} g + {powder_g} g × {per_100_ml} ÷ 100 = {answer}", hint="Powder and all of the water.",
                 slips=(Slip(lambda p: p.powder_g * p.per_100_ml / 100, "That is the water alone. Add the powder."),)),
            Step(name="dry_g", say="What does it weigh in g when it is dry?", compute=lambda p: calcination.gypsum_g(p.powder_g), unit="g",
                 working="{powder_g} g + {powder_g} g × 18.6 ÷ 100 = {answer}", hint="Powder and bound water stay.",
                 slips=(Slip(lambda p: p.powder_g, "That is the powder alone. Bound water does not dry off."),
                        Slip(lambda p: p.wet_g - hydration.theoretical_water_g(p.powder_g), "You took off the bound water. It stays. Take off the free water."))),
            Step(name="dry_density", say="What is its dry density in g/cm³?", compute=lambda p: p.dry_g / p.outer_cm3, unit="g/cm³",
                 working="{dry_g} g ÷ {outer_cm3} cm³ = {answer}", hint="Dry mass over outer volume. The outside has not changed.",
                 slips=(Slip(lambda p: p.outer_cm3 / p.dry_g, "You turned it upside down: density is mass ÷ volume."),
                        Slip(lambda p: p.wet_g / p.outer_cm3, "That is the density when wet."))),
            Step(name="lost_percent", say="What part in % of its wet weight does it lose on drying?", compute=lambda p: 100 * (p.wet_g - p.dry_g) / p.wet_g, unit="%",
                 working="({wet_g} − {dry_g}) ÷ {wet_g} × 100 = {answer}", hint="The loss, divided by the wet weight.",
                 absolute_tolerance=0.3, tolerance_why="the difference of two rounded numbers is less exact than they are.",
                 slips=(Slip(lambda p: 100 * (p.wet_g - p.dry_g) / p.dry_g, "You divided by the dry weight. Divide by the wet weight."),
                        Slip(lambda p: 100 * p.dry_g / p.wet_g, "That is the part that stays."))),
        )),
]

BENCH_TASKS = [
    BenchTask(
        "L04-B1", "Weigh a block before and after drying",
        do=(
            "Mix 100 g of model plaster with 50 mL of water and fill a mould.",
            "After one hour take the block out and weigh it. Measure its length with a calliper, at a place that you mark.",
            "Lay it on a rack in a room with moving air. Do not heat it.",
            "Weigh it every day at the same hour, until two weights are the same within 0.5 g. Measure the marked length again.",
            "At each weighing scratch the block with a fingernail, at a hidden place.",
        ),
        record=(
            "date, hour, weight in g and length in mm, each time",
            "weight lost, in % of the weight after one hour; compare it with the picture, at 100 % dried off",
            "on which day the surface felt dry, and on which day the weight stopped falling",
            "how the scratch changed, and whether the length did",
        ),
        cautions=(
            "Wear a mask and eye protection when you weigh and mix the powder.",
            "Never a hot oven: in dry heat above about 45 to 60 °C the crystals lose bound water, and the block turns weak and chalky.",
            "Never put a finger, a hand or any part of the body into a setting mass. It gets hot.",
            "Gypsum goes into the waste bin, never down the drain.",
            "Follow the instructions of the product and of your laboratory where they differ from this page.",
        ), objectives=("L04-O3", "L04-O4")),
]
