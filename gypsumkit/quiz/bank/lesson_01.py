"""Lesson 01, from rock to powder and back: what it asks, explains and sets as work."""

from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip
from gypsumkit.science import calcination, hydration, solubility

ROUNDED = "18.6 and 15.7 are themselves rounded."


def _gap(temperature_c):
    """Gap between the solubilities, mmol/kg."""
    return float(solubility.solubility_gap_mmol_kg(temperature_c))


def _held(temperature_c):
    """What 100 g of water hold beside powder and beside crystals, g of CaSO4."""
    return tuple(float(solubility.dissolved_g_per_100_g(law(temperature_c))) for law in (
        solubility.hemihydrate_solubility_mmol_kg, solubility.gypsum_solubility_mmol_kg))


OBJECTIVES = [
    Objective("L01-O1", "Describe what heat does to gypsum rock, and what water does to the powder."),
    Objective("L01-O2", "Compute the steam that leaves the rock, the water that the powder binds, and the weight of the dried model."),
    Objective("L01-O3", "Explain with two solubilities why the mix sets."),
    Objective("L01-O4", "Predict when setting stops: too little water, or too much heat."),
]

PREDICTIONS = [
    Choice(
        id="L01-P1", objective="L01-O2",
        prompt="Ines mixes {powder_g} g of model plaster with {water_ml} mL of water. It sets. Then it dries until no free water is left. "
               "What does the dry model weigh?",
        parameters={"powder_g": 150, "water_ml": 60},
        computed={"dry_g": lambda p: calcination.gypsum_g(p.powder_g), "all_g": lambda p: p.powder_g + p.water_ml,
                  "bound_g": lambda p: hydration.theoretical_water_g(p.powder_g)},
        explanation="It weighs {dry_g} g: the powder, and the {bound_g} g of water that the crystals bind. Only the rest of the water dries off.",
        options=(
            Option("{powder_g} g: all the water dries off.",
                   "Not all of it. A part of the water becomes part of the crystals, and does not dry off at room temperature.",
                   correct=lambda p: abs(p.dry_g - p.powder_g) < 5),
            Option("About {dry_g:.0f} g: a part of the water stays in the crystals.",
                   "The crystals keep the water that they bind. The rest dries off.",
                   correct=lambda p: p.powder_g + 5 < p.dry_g < p.all_g - 5),
            Option("{all_g} g: all the water stays in the crystals.",
                   "The crystals can bind only 18.6 g of water for 100 g of powder. The rest stays free and dries off.",
                   correct=lambda p: abs(p.dry_g - p.all_g) < 5),
        )),
    Choice(
        id="L01-P2", objective="L01-O4",
        prompt="The mix sets too slowly for Ines. She wants to mix the next one with water of {hot_c} °C. How strong is the drive to set then?",
        parameters={"hot_c": 95, "room_c": 23},
        computed={"share": lambda p: 100 * _gap(p.hot_c) / _gap(p.room_c)},
        explanation="At {hot_c} °C the gap between the two solubilities is only about {share:.0f} % of the gap at {room_c} °C. Hardly anything "
                    "drives the setting.",
        options=(
            Option("Much stronger: heat speeds everything up.",
                   "Heat makes everything move faster, but here it also takes away what drives the setting: the powder dissolves far less in hot water.",
                   correct=lambda p: p.share > 150),
            Option("Almost nothing: near boiling the powder dissolves hardly better than the crystals.",
                   "Both hold nearly the same amount dissolved, so nothing is left over to come out as crystals.",
                   correct=lambda p: p.share < 20),
            Option("As strong as at room temperature: the reaction is the same.",
                   "The reaction is the same, but its drive is not. It depends on the temperature.",
                   correct=lambda p: 20 <= p.share <= 150),
        )),
]

NOTES = [
    Note("L01-N1",
         "A dried model weighs more than the powder it was made of, but less than powder and water together. Why? Use the words bound and free.",
         "The powder is gypsum that has lost three quarters of its water. When it sets, it takes this water back: 18.6 g for 100 g of powder. "
         "This water is bound in the crystals and does not dry off. So the model weighs more than the powder. The mix held more water than "
         "that. The rest is free water. It dries off, so the model weighs less than powder and water together.", objectives=("L01-O2",)),
    Note("L01-N2",
         "Explain to a friend why plaster sets. Use the words dissolve, more than, crystals.",
         "The powder dissolves in the water. Beside powder, water holds about four times more than beside crystals. So the water soon holds more "
         "than crystals allow. What is too much comes out as gypsum crystals. Then the water has room again, and more powder dissolves. This goes "
         "on until the powder is used up. The crystals grow into each other, and the mass becomes hard.", objectives=("L01-O3",)),
]

QUESTIONS = [
    NumberWithUnit(
        id="L01-Q1", objective="L01-O2",
        prompt="How much water in g do {powder_g} g of powder bind when all of it sets?",
        parameters={"powder_g": 250},
        key=lambda p: hydration.theoretical_water_g(p.powder_g), unit="g", relative_tolerance=0.01, tolerance_why=ROUNDED,
        slips=(
            Slip(lambda p: calcination.steam_g(p.powder_g), "You took 15.7 g for 100 g. That is the steam that leaves 100 g of rock. Powder "
                 "binds 18.6 g for 100 g of powder."),
            Slip(lambda p: hydration.theoretical_water_g(100), "That is the water for 100 g. Here there are {powder_g} g."),
            Slip(lambda p: 0.5 * p.powder_g, "That is about the water that one mixes with plaster. The powder binds only a part of it."),
            Slip(lambda p: calcination.gypsum_g(p.powder_g), "That is the weight of powder and bound water together. Asked is the water alone."),
        ),
        hint="100 g of powder bind 18.6 g.",
        explanation="{powder_g} g × 18.6 g ÷ 100 g is {key}."),
    Choice(
        id="L01-Q2", objective="L01-O1",
        prompt="A mill heats gypsum rock and makes plaster from it. What leaves the rock?",
        options=(
            Option("Moisture that was in the pores of the rock.", "Drying removes moisture and leaves gypsum. The mill does more: it takes water "
                   "out of the crystals themselves."),
            Option("Three quarters of the water in its crystals, as steam.", "Each unit of gypsum holds two waters. One and a half leave, a half stays. "
                   "That is why the powder is called hemihydrate.", correct=True),
            Option("All of the water in its crystals.", "That happens only at a higher temperature. It gives anhydrite, which is another powder."),
            Option("Sulfur, as a gas.", "Calcium and sulfate stay together in rock, powder and model. Only water comes and goes."),
        ),
        hint="Half a water stays: hemi means half.",
        explanation="Gypsum has two waters for each calcium sulfate, hemihydrate has a half. One and a half of two is three quarters."),
    PutInOrder(
        id="L01-Q3", objective="L01-O3",
        prompt="Put in order what happens after powder meets water.",
        steps=(
            Place("Powder dissolves into the water.", "Nothing can crystallise before something is dissolved."),
            Place("The water holds more than crystals allow.", "Beside powder, water holds about four times as much as beside crystals."),
            Place("The first gypsum crystals form.", "What is too much comes out of the water."),
            Place("The crystals grow, and more powder dissolves.", "Each gram that comes out makes room for more powder to dissolve."),
            Place("The crystals lock into each other, and the mass is hard.", "Needles that grow into each other hold the mass together."),
        ),
        explanation="Powder dissolves, the water holds too much, crystals form and grow, and at last they lock."),
    SeveralChoices(
        id="L01-Q4", objective="L01-O3",
        prompt="Which of these are true of water at room temperature?",
        computed={"powder": lambda p: _held(23)[0], "crystals": lambda p: _held(23)[1]},
        options=(
            Option("Beside powder it holds several times as much calcium sulfate as beside crystals.",
                   "About {powder:.2f} g against {crystals:.2f} g in 100 g of water. This gap drives the setting.",
                   correct=lambda p: p.powder > 2 * p.crystals),
            Option("All the powder of a mix dissolves at once.",
                   "100 g of water hold less than 2 g. The powder dissolves little by little, as crystals make room.",
                   correct=lambda p: p.powder > 50),
            Option("In boiling water the gap is nearly gone.",
                   "The powder dissolves less in hot water. Near 100 °C both dissolve about alike.", correct=lambda p: _gap(95) < 0.2 * _gap(23)),
            Option("The powder dissolves better the hotter the water is.",
                   "That is true of sugar. This powder does the opposite: it dissolves best in cold water.",
                   correct=lambda p: _held(60)[0] > _held(23)[0]),
            Option("A set model can be washed away a little by water.",
                   "Crystals dissolve too, about {crystals:.1f} g in 100 g of water. Do not leave a model in running water.",
                   correct=lambda p: p.crystals > 0.1),
        ),
        explanation="Much is held beside powder and little beside crystals; the gap shrinks with heat; and even crystals dissolve a little."),
    NumberWithUnit(
        id="L01-Q5", objective="L01-O2",
        prompt="A mill heats {rock_kg} kg of pure gypsum rock until all of it is powder. How much powder in kg does it get?",
        parameters={"rock_kg": 40},
        key=lambda p: calcination.powder_g(p.rock_kg), unit="kg", relative_tolerance=0.01, tolerance_why=ROUNDED,
        slips=(
            Slip(lambda p: p.rock_kg - hydration.theoretical_water_g(p.rock_kg), "You took off 18.6 %. That is the water for 100 g of powder. "
                 "100 g of rock lose 15.7 g."),
            Slip(lambda p: calcination.steam_g(p.rock_kg), "That is the steam that leaves. Asked is the powder that stays."),
            Slip(lambda p: calcination.gypsum_g(p.rock_kg), "You added water. Heat takes water away, so the powder weighs less than the rock."),
            Slip(lambda p: p.rock_kg / 4, "You took off three quarters of the weight. Three quarters of the water leave, and water is only a part of the rock."),
        ),
        hint="100 g of rock give off 15.7 g of steam.",
        explanation="{rock_kg} kg less 15.7 % of it is {key}."),
    Choice(
        id="L01-Q6", objective="L01-O4",
        prompt="Ines wants a dry model quickly. She puts it into an oven at 120 °C for the night. What does she find in the morning?",
        options=(
            Option("A dry and very strong model.", "Gentle drying makes it stronger. An oven at 120 °C goes on after the free water has gone, and takes "
                   "the bound water."),
            Option("A model that is soft and chalky.", "At this heat the crystals lose bound water and turn back into powder. Above about 45 to 60 °C "
                   "this begins, slowly.", correct=True),
            Option("A model of the same strength, only warmer.", "Heat changes the crystals: they lose bound water, as the rock did in the mill."),
        ),
        hint="What did the mill do to the rock?",
        explanation="A hot oven does to the model what the mill did to the rock."),
]


def _weighed(draw):
    per_100_ml, powder_g = draw.choice([45, 50, 55]), draw.choice([60, 80, 120, 140, 180, 240])
    return {"powder_g": powder_g, "water_ml": powder_g * per_100_ml / 100}


def _rock(draw):
    return {"rock_g": draw.choice([700, 750, 800, 900, 950]), "per_100_ml": draw.choice([45, 50, 55])}


EXERCISES = [
    Exercise(
        id="L01-E1", objective="L01-O2", fade=2,
        situation="Ines mixes {powder_g} g of model plaster with {water_ml} mL of water. Count 1 mL of water as 1 g.",
        parameters=_weighed,
        steps=(
            Step(name="bound_g", say="How much water in g do the crystals bind?", compute=lambda p: hydration.theoretical_water_g(p.powder_g), unit="g",
                 working="{powder_g} g × 18.6 g ÷ 100 g = {answer}", hint="100 g of powder bind 18.6 g.",
                 slips=(Slip(lambda p: calcination.steam_g(p.powder_g), "15.7 g belongs to 100 g of rock. 100 g of powder bind 18.6 g."),
                        Slip(lambda p: 0.186 * p.water_ml, "You took 18.6 % of the water. It is 18.6 g for 100 g of powder."))),
            Step(name="free_g", say="How much water in g stays free?", compute=lambda p: p.water_ml - p.bound_g, unit="g",
                 working="{water_ml} g − {bound_g} g = {answer}", hint="All the water, less what is bound.",
                 slips=(Slip(lambda p: p.water_ml + p.bound_g, "You added. Bound water is a part of the water that was poured in, so take it off."),)),
            Step(name="dry_g", say="What does the model weigh in g when it is set and dry?", compute=lambda p: p.powder_g + p.bound_g, unit="g",
                 working="{powder_g} g + {bound_g} g = {answer}", hint="The free water dries off. Powder and bound water stay.",
                 slips=(Slip(lambda p: p.powder_g + p.water_ml, "That is the weight of the fresh mix. The free water has dried off."),
                        Slip(lambda p: p.powder_g + p.free_g, "You kept the free water and took off the bound water. It is the other way round."),
                        Slip(lambda p: p.powder_g, "That is the powder alone. The crystals keep the water that they bind."))),
        )),
    Exercise(
        id="L01-E2", objective="L01-O2", fade=2,
        situation="A mill heats {rock_g} g of pure gypsum rock to powder. The powder is mixed with {per_100_ml} mL of water per 100 g of powder.",
        parameters=_rock,
        steps=(
            Step(name="steam_g", say="How much steam in g leaves the rock?", compute=lambda p: calcination.steam_g(p.rock_g), unit="g",
                 working="{rock_g} g × 15.7 g ÷ 100 g = {answer}", hint="100 g of rock lose 15.7 g.",
                 slips=(Slip(lambda p: hydration.theoretical_water_g(p.rock_g), "18.6 g belongs to 100 g of powder. 100 g of rock lose 15.7 g."),)),
            Step(name="powder_g", say="How much powder in g is left?", compute=lambda p: p.rock_g - p.steam_g, unit="g",
                 working="{rock_g} g − {steam_g} g = {answer}", hint="What is not steam stays.",
                 slips=(Slip(lambda p: p.rock_g + p.steam_g, "You added the steam. It has left the rock."),)),
            Step(name="water_ml", say="How much water in mL does this powder get?", compute=lambda p: p.powder_g * p.per_100_ml / 100, unit="mL",
                 working="{powder_g} g × {per_100_ml} mL ÷ 100 g = {answer}", hint="{per_100_ml} mL for each 100 g of powder.",
                 slips=(Slip(lambda p: p.rock_g * p.per_100_ml / 100, "You took the water for the rock. Take it for the powder."),)),
            Step(name="dry_g", say="The mix sets and dries. What does the model weigh in g?", compute=lambda p: p.rock_g, unit="g",
                 working="{powder_g} g of powder take the {steam_g} g of water back: {answer}, the weight of the rock",
                 hint="The powder takes back exactly the water that it lost in the mill.",
                 slips=(Slip(lambda p: p.powder_g + p.water_ml, "That is the fresh mix. The free water dries off."),
                        Slip(lambda p: p.powder_g, "That is the powder alone. It binds water when it sets."))),
        )),
]

BENCH_TASKS = [
    BenchTask(
        "L01-B1", "Can a set model set again?",
        do=(
            "Weigh an empty paper cup, to 1 g. Write it down.",
            "Put 25 mL of water into it. Weigh 50 g of model plaster and sift it in. Let it soak for half a minute, then mix for one minute. Weigh the cup, then leave it. Write down the time.",
            "Touch the outside of the cup every five minutes, with one finger, for a short moment. Write down when it feels warmest.",
            "After one hour weigh the cup again.",
            "Take an old, set piece of plaster. Wet it, and break it under water into small grains, in a strong bag.",
            "Pour off the water. Put the wet grains into a second cup and press them together. Leave them.",
            "After one hour try both cups with a fingernail.",
        ),
        record=(
            "weight of the cup, of cup with powder and water, and of the cup after one hour",
            "when it was warmest",
            "which cup became hard, and why the other one did not",
        ),
        cautions=(
            "Wear a mask and eye protection. Break old plaster only when it is wet: dry breaking makes dust.",
            "Touch only the outside of the cup. Never put a finger, a hand or any part of the body into a setting mass. It gets hot.",
            "Use water at room temperature. Do not heat gypsum or plaster yourself: this is done in a mill.",
            "Gypsum goes into the waste bin, never down the drain.",
            "Follow the instructions of the product and of your laboratory where they differ from this page.",
        ), objectives=("L01-O1", "L01-O4")),
]
