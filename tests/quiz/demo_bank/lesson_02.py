"""Demonstration content for the tests: one of each kind."""

from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip

OBJECTIVES = [Objective("L02-O1", "Compute how much water a batch needs."), Objective("L02-O2", "Explain what more water does.")]

WATER = NumberWithUnit(
    id="L02-Q1", objective="L02-O1",
    prompt="How much water in mL do {powder_g} g of powder need at {ratio} mL/g?",
    parameters=lambda draw: {"powder_g": draw.choice([80, 120, 150, 200]), "ratio": draw.choice([0.30, 0.52, 0.55])},
    key=lambda p: p.powder_g * p.ratio, unit="mL",
    relative_tolerance=0.01, tolerance_why="a measuring cylinder is read to about 1 %.",
    slips=(Slip(lambda p: p.powder_g / p.ratio, "You divided; the ratio is water for each gram of powder, so multiply."),
           Slip(lambda p: p.ratio * 100, "That is the water for 100 g, not for {powder_g} g.")),
    explanation="{ratio} mL for each gram times {powder_g} g is {key}.",
    hint="How much water does one gram need?")

RATIO = NumberWithUnit(
    id="L02-Q2", objective="L02-O1",
    prompt="You weighed {powder_g} g of powder and measured {water_ml} mL of water. What is the ratio of this mix?",
    parameters={"powder_g": 50, "water_ml": 27},
    key=lambda p: 100 * p.water_ml / p.powder_g, unit="mL per 100 g",
    relative_tolerance=0.02, tolerance_why="weighing and measuring are good to about 2 %.",
    slips=(Slip(lambda p: 100 * p.powder_g / p.water_ml, "The ratio is upside down: water stands above, powder below."),
           Slip(lambda p: p.water_ml, "That is the water for {powder_g} g; the ratio is given for 100 g.")),
    explanation="{water_ml} mL for {powder_g} g is twice as much for 100 g: {key}.")

LONG = ("The mix pours more easily, yet the set plaster has more pores where the extra water was, so it is weaker, "
        "more porous and it wears faster when the technician carves, trims and polishes it at the bench")

POROUS = Choice(
    id="L02-Q3", objective="L02-O2", prompt="You add water beyond the recommended ratio. What happens?",
    options=(
        Option(LONG, "Water that is not bound leaves pores, and pores carry no load.", correct=True),
        Option("The set plaster is stronger, because more water binds more powder",
               "All powder is bound already; surplus water binds nothing and leaves pores."),
        Option("Nothing, since surplus water dries out again", "It does dry out, but it leaves its space behind as pores."),
        Option("It sets <b>faster</b> & harder", "More water thins the crystals out in the bowl, so setting is later."),
    ),
    explanation="Surplus water leaves its volume behind as pores.")

SEVERAL = SeveralChoices(
    id="L02-Q4", objective="L02-O2", prompt="Which of these grow when you add water?",
    options=(
        Option("Porosity", "The space of the surplus water stays open.", correct=True),
        Option("Spread in the ring test", "More water lets the particles slide.", correct=True),
        Option("Dry strength", "Strength falls, since pores carry no load."),
        Option("Theoretical water", "That follows from the reaction, not from your measuring.",
               correct=lambda p: p.grows),
    ),
    parameters={"grows": False},
    explanation="Pores and flow grow, strength falls.")

ORDER = PutInOrder(
    id="L02-Q5", objective="L02-O1", prompt="In which order do you make a mix of {powder_g} g?",
    parameters={"powder_g": 100},
    steps=(
        Place("Measure the water into the bowl", "Water goes first, so that the powder sinks in and no dry lump stays."),
        Place("Sprinkle the {powder_g} g of powder in", "Powder must be wetted before it is stirred."),
        Place("Let it soak, then stir by hand", "Soaking lets air out of the powder before it is stirred in."),
        Place("Vibrate and pour", "Only a stirred mix can be poured."),
    ),
    explanation="Water, powder, soak and stir, pour.")

QUESTIONS = [WATER, RATIO, POROUS, SEVERAL, ORDER]

PREDICTIONS = [
    Choice(id="L02-P1", objective="L02-O2", prompt="From 50 to 60 mL per 100 g: what will the spread do?",
           options=(Option("Grow", "More water, more flow.", correct=lambda p: p.after > p.before),
                    Option("Stay the same", "The ring test reacts to a few mL of water."),
                    Option("Shrink", "Less water would make it shrink.")),
           parameters={"before": 50, "after": 60}, explanation="The spread grows with water."),
]

NOTES = [Note("L02-N1", "Why is a runny mix weak?", "Its surplus water leaves pores, and pores carry no load.")]

EXERCISES = [Exercise(
    id="L02-E1", objective="L02-O1",
    situation="At the Millbrook Lane practice laboratory (invented) a technician mixes {powder_g} g at {ratio} mL/g.",
    parameters=lambda draw: {"powder_g": draw.choice([100, 150, 200, 250, 300]), "ratio": draw.choice([0.3, 0.5, 0.55])},
    steps=(
        Step(name="water_ml", say="How much water in mL?", compute=lambda p: p.powder_g * p.ratio, unit="mL",
             working="{powder_g} g × {ratio} mL/g = {answer}", hint="Every gram needs {ratio} mL.",
             slips=(Slip(lambda p: p.powder_g / p.ratio, "You divided; multiply instead."),)),
        Step(name="batch_g", say="What does the whole batch weigh in g?", compute=lambda p: p.powder_g + p.water_ml, unit="g",
             working="{powder_g} g powder + {water_ml} g water = {answer}", hint="1 mL of water weighs 1 g."),
        Step(name="water_share", say="Which share of the batch is water, in %?", compute=lambda p: 100 * p.water_ml / p.batch_g, unit="%",
             working="{water_ml} g of {batch_g} g = {answer}", hint="Water divided by the whole batch."),
    ))]
