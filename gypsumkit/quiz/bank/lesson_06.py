"""Lesson 06, three powders: what it asks, explains and sets as work."""

from gypsumkit.studies.comparison import at_equal_consistency
from gypsumkit.studies.grains import water_shares
from gypsumkit.powders import POWDERS
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.units import say_number
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip
from gypsumkit.science.packing import void_water_ml_g


def _three(spread_mm):
    """The three casts at one spread on the vibrator: plaster, stone, improved stone."""
    return at_equal_consistency(spread_mm)


def _as_said(value):
    """A result as it is printed, so that the next step can be done with a calculator."""
    return float(say_number(value))


def _of(cast, name):
    return cast.predictions[name].value


OBJECTIVES = [
    Objective("L06-O1", "Explain why powders with compact grains need less water for the same consistency."),
    Objective("L06-O2", "Compare porosity, strength and expansion of three powders at the same consistency."),
    Objective("L06-O3", "Compute the price of a cast, and decide when improved stone is worth it."),
]

PREDICTIONS = [
    Choice(
        id="L06-P1", objective="L06-O2",
        prompt="Ines mixes model plaster and improved stone to the same consistency: both spread to {spread} mm on the vibrator. How much water "
               "does each gram of improved stone take, compared with the plaster?",
        parameters={"spread": 90},
        computed={"plaster": lambda p: 100 * _three(p.spread)[0].ratio, "improved": lambda p: 100 * _three(p.spread)[2].ratio,
                  "part": lambda p: p.improved / p.plaster},
        explanation="The model says {plaster:.0f} mL per 100 g for the plaster and {improved:.0f} mL for the improved stone.",
        options=(
            Option("Just as much: both are the same chemical.", "The chemistry is the same, but the grains are not. Irregular grains leave more room between "
                   "them, and that room must be filled first.", correct=lambda p: 0.9 < p.part < 1.1),
            Option("A tenth less.", "The difference is far larger. The shape of the grains decides most of the water.", correct=lambda p: 0.8 < p.part < 0.9),
            Option("Less than half as much.", "Compact grains of many sizes leave little void, so little water is needed before they can slide.",
                   correct=lambda p: 0.3 < p.part < 0.5),
            Option("More: a stronger powder needs more water.", "It is the other way round: it is stronger because it needs less water.",
                   correct=lambda p: p.part > 1.1),
        )),
    Choice(
        id="L06-P2", objective="L06-O1",
        prompt="Model plaster is mixed with only {per_100_ml} mL of water per 100 g. How much of this water is left to make the mix flow?",
        parameters={"per_100_ml": 34},
        computed={"shares": lambda p: water_shares("model plaster", p.per_100_ml / 100), "flow": lambda p: 100 * p.shares.flow,
                  "void": lambda p: 100 * p.shares.void, "held": lambda p: 100 * p.shares.held, "part": lambda p: p.flow / p.per_100_ml},
        explanation="In the picture about {void:.1f} mL only fill the void between the touching grains and {held:.1f} mL are held in and on them. "
                    "{flow:.1f} mL are left for flow: together {per_100_ml} mL.",
        options=(
            Option("All of it: water is what makes a mix flow.", "Water first fills the void between the grains. Only what is left can move them apart.",
                   correct=lambda p: p.part > 0.9),
            Option("About half of it.", "The void between plaster grains is larger than that.", correct=lambda p: 0.35 < p.part < 0.65),
            Option("A small part, less than a fifth.", "Most of the water fills the void and the pores of the grains. So the mix stays stiff.",
                   correct=lambda p: 0 < p.part < 0.2),
            Option("None: the powder binds all of it at once.", "The powder binds water only later, while it sets. And it can bind 18.6 g per 100 g, no more.",
                   correct=lambda p: p.part <= 0),
        )),
]

NOTES = [
    Note("L06-N1",
         "Why does improved stone need so much less water than plaster, although both are the same chemical? Use the words grain, void and flow.",
         "The grains of plaster are irregular and porous. When they touch, much void is left between them. This void must be filled with water "
         "before anything can move. The grains of improved stone are compact, and small ones fit between large ones: little void. Only "
         "the water beyond that keeps the grains apart and makes the mix flow. So improved stone flows with less water.", objectives=("L06-O1",)),
    Note("L06-N2",
         "A friend says: use improved stone for everything, it is the strongest. What do you answer?",
         "Strength is worth its price only where it is needed: a die that is trimmed, waxed on and handled often, or a cast that must fit exactly. "
         "A study model that is looked at and kept needs neither that strength nor that accuracy, and a cast that has to be broken or cut "
         "away later should be weak. Save the money and the powder for the dies.", objectives=("L06-O3",)),
]

QUESTIONS = [
    Choice(
        id="L06-Q1", objective="L06-O1",
        prompt="Two powders have the same density. One has irregular grains of similar size, the other compact grains of many sizes. Which one needs more "
               "water to pour, and why?",
        explanation="The irregular grains leave more void when they touch. The void is filled first.",
        options=(
            Option("The irregular grains: they leave more void between them.", "The void must be full before water can move the grains apart.", correct=True),
            Option("The compact grains: they have more weight.", "The densities are the same. And weight is not what holds the grains together in a paste."),
            Option("Both the same: water is bound by the chemistry.", "Bound water is 18.6 g per 100 g for both. The water needed to pour is something else: it "
                   "fills the void and makes the mix flow."),
        )),
    NumberWithUnit(
        id="L06-Q2", objective="L06-O1",
        prompt="Grains of a density of {density} g/cm³ fill {percent} % of the room when they touch. How many mL of water fill the void between 100 g of them?",
        parameters={"density": 2.64, "percent": 60},
        computed={"grains_cm3": lambda p: 100 / p.density, "room_cm3": lambda p: 100 * p.grains_cm3 / p.percent},
        key=lambda p: 100 * float(void_water_ml_g(p.percent / 100, p.density, 1.0)), unit="mL", relative_tolerance=0.02,
        tolerance_why="the numbers are given in two or three digits.",
        slips=(
            Slip(lambda p: 100 / p.density * (1 - p.percent / 100), "You took {percent} % off the volume of the grains. The grains fill {percent} % of the "
                 "room, so the room is larger than the grains: divide by 0.{percent}."),
            Slip(lambda p: 100 - p.percent, "That is the void in % of the room. The question asks for mL for 100 g of powder."),
            Slip(lambda p: 100 / p.density, "That is the volume of the grains. The void is what is left of the room."),
            Slip(lambda p: 100 * 100 / p.density / p.percent, "That is the whole room. Take off the volume of the grains."),
        ),
        hint="First find the volume of the grains. It is {percent} % of the room. What is left of the room is void.",
        explanation="The grains have {grains_cm3:.1f} cm³. That is {percent} % of {room_cm3:.1f} cm³ of room. The rest, {key}, is void."),
    SeveralChoices(
        id="L06-Q3", objective="L06-O2",
        prompt="Model plaster and improved stone are mixed to the same spread on the vibrator, {spread} mm. Which of these are true of the improved stone?",
        parameters={"spread": 85},
        computed={"plaster": lambda p: _three(p.spread)[0], "improved": lambda p: _three(p.spread)[2]},
        explanation="Less water, so fewer pores and more strength. And it grows less while it sets.",
        options=(
            Option("It is less porous.", "Less water was needed, so less free water leaves pores.",
                   correct=lambda p: _of(p.improved, "porosity") < 0.9 * _of(p.plaster, "porosity")),
            Option("It is stronger when wet.", "Fewer pores carry more load.",
                   correct=lambda p: _of(p.improved, "wet_strength_mpa") > 1.3 * _of(p.plaster, "wet_strength_mpa")),
            Option("It grows more while it sets.", "It grows less: about a quarter as much as the plaster. Only the powder made for high expansion is different.",
                   correct=lambda p: _of(p.improved, "setting_expansion_percent") > _of(p.plaster, "setting_expansion_percent")),
            Option("A cast of the same volume takes less powder.", "It takes more: where there is less water, there is more powder in each mL.",
                   correct=lambda p: p.improved.powder_g < p.plaster.powder_g),
        )),
    NumberWithUnit(
        id="L06-Q4", objective="L06-O3",
        prompt="A cast takes {powder_g} g of a powder that costs {price} for 1 kg. What does the powder of this cast cost? (In the same money.)",
        parameters={"powder_g": 85, "price": 6},
        key=lambda p: p.powder_g / 1000 * p.price, unit="", relative_tolerance=0.02, tolerance_why="a cent more or less does not matter.",
        slips=(
            Slip(lambda p: p.powder_g * p.price, "You took the price for 1 g. It is for 1 kg, 1000 g."),
            Slip(lambda p: p.powder_g / p.price, "You divided by the price. More powder and a higher price both make it more expensive: multiply."),
            Slip(lambda p: p.powder_g / 100 * p.price, "You took the price for 100 g. It is for 1 kg, 1000 g."),
            Slip(lambda p: p.price, "That is the price of 1 kg. The cast takes less."),
        ),
        hint="How many kg is that?",
        explanation="{powder_g} g are {powder_g} ÷ 1000 kg. Times {price}, that is {key}."),
    Choice(
        id="L06-Q5", objective="L06-O3",
        prompt="For which of these does Mr Okoro open the box of improved stone?",
        explanation="A die is worked on with instruments and must fit to hundredths of a millimetre: strength and low expansion matter there.",
        options=(
            Option("A study model that is photographed and put on the shelf.", "Nobody works on it. Model plaster or stone is good enough and costs much less."),
            Option("A die on which a crown is waxed and fitted again and again.", "Its edges must not crumble, and its size must be right.", correct=True),
            Option("The plaster that fixes a cast in an articulator (a frame that moves like the jaws) and is broken off later.",
                   "It has to come off again, so a strong stone makes trouble there. What counts there is low expansion and little strength."),
            Option("A large base that nobody measures.", "The largest piece takes the most powder. Improved stone there costs most and helps least."),
        )),
    PutInOrder(
        id="L06-Q6", objective="L06-O2",
        prompt="Three powders are mixed to the same consistency. Put them in order, from the least porous to the most porous.",
        explanation="The least water gives the fewest pores: improved stone, then dental stone, then model plaster.",
        steps=(
            Place("improved stone", "Its compact grains of many sizes need the least water."),
            Place("dental stone", "Its grains are dense prisms: less water than plaster, more than improved stone."),
            Place("model plaster", "Its irregular, porous grains need the most water."),
        )),
]


def _cast(draw):
    return {"powder": draw.choice(["model plaster", "dental stone", "improved stone"]), "cast_ml": draw.choice([50, 60, 80, 120]),
            "price": draw.choice([3, 4, 8, 15])}


EXERCISES = [
    Exercise(
        id="L06-E1", objective="L06-O3", fade=2,
        situation="Ines casts a piece of {cast_ml} mL from {powder}, with {per_100_ml} mL of water per 100 g. The grains have a density of {density} g/cm³. "
                  "1 kg costs {price} (her money, an invented price). Nothing is left in the bowl, and she counts no air.",
        parameters=_cast,
        computed={"per_100_ml": lambda p: round(100 * POWDERS[p.powder].recommended_ratio.value), "density": lambda p: POWDERS[p.powder].density_g_cm3.value},
        steps=(
            Step(name="mix_ml", say="How many mL of mix do 100 g of powder give?", compute=lambda p: _as_said(100 / p.density + p.per_100_ml), unit="mL",
                 working="100 g ÷ {density} g/cm³ + {per_100_ml} mL = {answer}", hint="The volume of the grains and the volume of the water.",
                 tolerance_why="the density is given in three digits.", relative_tolerance=0.01,
                 slips=(Slip(lambda p: 100 + p.per_100_ml, "That is the mass of the mix in g. The question asks for its volume: divide the powder by its density."),
                        Slip(lambda p: 100 * p.density + p.per_100_ml, "You multiplied by the density. Volume is mass divided by density."),
                        Slip(lambda p: 100 / p.density, "You left out the water."))),
            Step(name="powder_g", say="How much powder in g does the cast take?", compute=lambda p: _as_said(100 * p.cast_ml / p.mix_ml), unit="g",
                 working="{cast_ml} mL ÷ {mix_ml} mL × 100 g = {answer}", hint="{mix_ml} mL of mix hold 100 g of powder.",
                 tolerance_why="a simple balance weighs to about 1 %.", relative_tolerance=0.015,
                 slips=(Slip(lambda p: p.cast_ml, "That counts 1 g of powder for each mL of cast. Part of each mL is water, and powder is denser than water."),
                        Slip(lambda p: p.cast_ml * p.density, "That would be a cast of grains without any water."))),
            Step(name="cost", say="What does the powder cost? (In the same money.)", compute=lambda p: p.powder_g / 1000 * p.price, unit="",
                 working="{powder_g} g ÷ 1000 × {price} = {answer}", hint="The price is for 1000 g.",
                 tolerance_why="half a cent more or less does not matter.", relative_tolerance=0.02, absolute_tolerance=0.006,
                 slips=(Slip(lambda p: p.powder_g * p.price, "You took the price for 1 g. It is for 1 kg."),
                        Slip(lambda p: p.powder_g / 100 * p.price, "You took the price for 100 g. It is for 1 kg."))),
        )),
]


BENCH_TASKS = [
    BenchTask(
        "L06-B1", "Two powders to one consistency",
        do=(
            "Weigh 100 g of model plaster and 100 g of dental stone, each into a dry cup.",
            "Mix the plaster with 50 mL of water: water first, powder into it, soak, spatulate for a minute.",
            "Fill the ring (35 mm inside, 50 mm high) and lift it at 2 minutes. Measure the spread. Then quickly cast a small bar from the rest of the mix, and write the powder on it.",
            "Now find the water with which the stone spreads as wide. Begin with 28 mL per 100 g. Take a fresh 100 g for each trial, and cast a bar from the rest each time.",
            "Keep the bar of the trial that spread like the plaster.",
            "The next day, break both bars by hand over an edge, under a cloth. Look at the broken faces with a lens.",
        ),
        record=(
            "the water that each powder needed for the same spread, in mL per 100 g",
            "both spreads, in mm",
            "which bar was harder to break, and how fine the broken faces look",
            "the price of 1 kg of each powder in your laboratory, and what each bar cost",
        ),
        cautions=(
            "Wear a mask and eye protection. Dry powder makes dust: pour it slowly and low.",
            "Break the bars under a cloth, with eye protection. Splinters fly.",
            "Never put a finger, a hand or any part of the body into a setting mass. It gets hot.",
            "Gypsum goes into the waste bin, never down the drain. Follow the product's instructions.",
        ), objectives=("L06-O1", "L06-O2", "L06-O3")),
]
