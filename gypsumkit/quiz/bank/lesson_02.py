"""Lesson 02, the water/powder ratio: what it asks, explains and sets as work."""

from math import floor

from gypsumkit.mix import Mix, pourable_ratios
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip
from gypsumkit.recipe import Recipe


def _mix(powder, ratio):
    return Mix(Recipe(powder, ratio))


def _wet_strength(powder, ratio):
    return _mix(powder, ratio).wet_strength_mpa.value


def _loss_percent(powder, meant, now):
    """Wet strength lost by mixing at `now` in place of `meant`, % of what was meant."""
    return 100 * (1 - _wet_strength(powder, now) / _wet_strength(powder, meant))


READ_FROM_CYLINDER = "a measuring cylinder is read to about 1 %."
READ_FROM_BALANCE = "a simple balance weighs to about 1 %."

OBJECTIVES = [
    Objective("L02-O1", "Compute the water for a weight of powder, and powder and water for a wanted amount of mix."),
    Objective("L02-O2", "Predict how more or less water changes spread, porosity and strength."),
    Objective("L02-O3", "Estimate what a slip of 1 mL or 1 g does, and say why it harms a small batch more."),
    Objective("L02-O4", "Choose a ratio that pours and keeps as much strength as possible."),
]

PREDICTIONS = [
    Choice(
        id="L02-P1", objective="L02-O2",
        prompt="Dental stone is usually mixed with {usual_ml} mL of water per 100 g. Ines takes {more_ml} mL per 100 g, so that it "
               "pours more easily. What happens to its wet strength?",
        parameters={"usual_ml": 30, "more_ml": 35},
        computed={"loss": lambda p: _loss_percent("dental stone", p.usual_ml / 100, p.more_ml / 100)},
        explanation="The model says that the wet strength falls by about {loss:.0f} %. Water that is not bound leaves pores, "
                    "and a pore carries no load.",
        options=(
            Option("It stays nearly the same: 5 mL is very little water.",
                   "5 mL is little beside 100 g of powder, but much beside 30 mL of water. All of it becomes pores.",
                   correct=lambda p: 0 <= p.loss < 8),
            Option("It falls by roughly a fifth.",
                   "A small change of the water is a large change of the pores.",
                   correct=lambda p: 12 <= p.loss < 30),
            Option("It falls to less than half.",
                   "The loss is smaller. Half of the strength is lost only with far more water than this.",
                   correct=lambda p: p.loss > 50),
            Option("It rises: more water lets more powder set.",
                   "The usual water is already more than the powder can bind. Extra water binds nothing; it only takes up room.",
                   correct=lambda p: p.loss < 0),
        )),
    Choice(
        id="L02-P2", objective="L02-O3",
        prompt="Ines mixes two batches of model plaster, one with {small_g} g and one with {large_g} g of powder, both meant for "
               "{ratio_ml} mL per 100 g. In both she pours {slip_ml} mL too much. Which batch loses more of its strength?",
        parameters={"small_g": 50, "large_g": 400, "ratio_ml": 50, "slip_ml": 2},
        computed={
            "small_loss": lambda p: _loss_percent("model plaster", p.ratio_ml / 100, p.ratio_ml / 100 + p.slip_ml / p.small_g),
            "large_loss": lambda p: _loss_percent("model plaster", p.ratio_ml / 100, p.ratio_ml / 100 + p.slip_ml / p.large_g),
        },
        explanation="The model says that the small batch loses about {small_loss:.0f} % of its wet strength and the large one about "
                    "{large_loss:.0f} %. The same {slip_ml} mL is shared by fewer grams in the small batch.",
        options=(
            Option("The small batch.", "The slip is divided by the grams of powder. Few grams make a large change of the ratio.",
                   correct=lambda p: p.small_loss > 1.2 * p.large_loss),
            Option("The large batch.", "It holds more water in all, but its ratio hardly moves. Strength follows the ratio, not the amount.",
                   correct=lambda p: p.large_loss > 1.2 * p.small_loss),
            Option("Both lose the same.", "The slip is the same in mL, but not in mL for each gram of powder.",
                   correct=lambda p: max(p.small_loss, p.large_loss) <= 1.2 * min(p.small_loss, p.large_loss)),
        )),
]

NOTES = [
    Note("L02-N1",
         "Why does a mix with more water pour better, and why is it weaker when set? Use the words free water and pore.",
         "More water moves the grains further apart, so they slide past each other and the mix pours. The powder can bind only "
         "part of the water. The rest is free water. When the mass dries, the free water leaves, and pores stay where it was. "
         "A pore carries no load, so the mass is weaker.", objectives=("L02-O2",)),
    Note("L02-N2",
         "A friend says: 1 mL too much is nothing. When is that nearly right, and when is it wrong?",
         "1 mL in a large batch is shared by many grams, so the ratio hardly changes: nearly right. In a small batch, and in a "
         "powder that needs little water, the same 1 mL is a large part of the water. The ratio moves, and the strength falls.", objectives=("L02-O3",)),
]

QUESTIONS = [
    NumberWithUnit(
        id="L02-Q1", objective="L02-O1",
        prompt="A box says: {per_100_ml} mL of water per 100 g of powder. How much water in mL do you measure for {powder_g} g of powder?",
        parameters={"powder_g": 160, "per_100_ml": 52},
        computed={"for_1_g": lambda p: p.per_100_ml / 100, "extra_g": lambda p: p.powder_g - 100},
        key=lambda p: p.powder_g * p.per_100_ml / 100, unit="mL", relative_tolerance=0.01, tolerance_why=READ_FROM_CYLINDER,
        slips=(
            Slip(lambda p: p.powder_g / (p.per_100_ml / 100), "You turned the ratio upside down: you divided by it. Each gram needs "
                 "{for_1_g} mL, so multiply."),
            Slip(lambda p: p.powder_g * p.per_100_ml / 50, "You took {per_100_ml} mL for each 50 g. The box says for each 100 g."),
            Slip(lambda p: p.powder_g * p.per_100_ml, "You took {per_100_ml} mL for each gram. It is for 100 g: divide by 100."),
            Slip(lambda p: p.per_100_ml, "That is the water for 100 g. You have {powder_g} g."),
            Slip(lambda p: p.per_100_ml + p.powder_g - 100, "You added the extra grams to the water. {extra_g} g more powder do not need {extra_g} mL "
                 "more water."),
        ),
        hint="How much water does 1 g need?",
        explanation="{per_100_ml} mL for 100 g is {for_1_g} mL for each gram. Times {powder_g} g, that is {key}."),
    SeveralChoices(
        id="L02-Q2", objective="L02-O2",
        prompt="Model plaster is mixed with {more_ml} mL of water per 100 g in place of {usual_ml} mL. Which of these are true?",
        parameters={"usual_ml": 50, "more_ml": 56},
        explanation="More water: wider spread, more pores, less strength. The water that is bound stays the same.",
        options=(
            Option("The mix spreads wider when the ring is lifted.", "The grains stand further apart and slide more easily.",
                   correct=lambda p: _mix("model plaster", p.more_ml / 100).spread_mm.value
                   > 1.05 * _mix("model plaster", p.usual_ml / 100).spread_mm.value),
            Option("The dried model has more pores.", "The extra water is free water; where it was, a pore stays.",
                   correct=lambda p: _mix("model plaster", p.more_ml / 100).porosity.value
                   > 1.02 * _mix("model plaster", p.usual_ml / 100).porosity.value),
            Option("The set model is stronger.", "It is weaker. Pores carry no load.",
                   correct=lambda p: _wet_strength("model plaster", p.more_ml / 100) > _wet_strength("model plaster", p.usual_ml / 100)),
            Option("Each gram of powder binds more water.", "All the powder sets in both mixes, and each gram binds the same "
                   "water, fixed by the chemistry.",
                   correct=lambda p: _mix("model plaster", p.more_ml / 100).degree_of_hydration.value
                   > _mix("model plaster", p.usual_ml / 100).degree_of_hydration.value),
        )),
    PutInOrder(
        id="L02-Q3", objective="L02-O1",
        prompt="Put the steps of a hand mix in order.",
        explanation="Measure both first, water before powder, let it soak, then mix, then pour on the vibrator.",
        steps=(
            Place("Weigh the powder and measure the water.", "Once water and powder meet, the clock runs. Everything must be ready."),
            Place("Put the water into a clean, wet bowl.", "Water first. Powder at the bottom of a dry bowl stays dry and makes lumps."),
            Place("Sift the powder into the water.", "Powder into water, slowly, so that air can leave between the grains."),
            Place("Wait about half a minute for it to soak.", "Dry grains take up water by themselves. Stirring too early beats air in."),
            Place("Spatulate for about a minute, wiping the mix along the wall of the bowl.", "Wiping presses lumps and bubbles out. It comes after soaking."),
            Place("Vibrate the bowl and pour.", "The vibrator brings bubbles up and makes the mix flow. It comes last."),
        )),
    Choice(
        id="L02-Q4", objective="L02-O3",
        prompt="In which of these batches of model plaster, meant for {ratio_ml} mL per 100 g, does the slip cost most strength?",
        parameters={"ratio_ml": 50},
        computed={
            "few": lambda p: _loss_percent("model plaster", p.ratio_ml / 100, (0.5 * 60 + 3) / 60),
            "many": lambda p: _loss_percent("model plaster", p.ratio_ml / 100, (0.5 * 300 + 6) / 300),
            "dry": lambda p: _loss_percent("model plaster", p.ratio_ml / 100, 50 / 103),
        },
        explanation="A slip counts for each gram of powder. Divide the slip by the grams, then compare.",
        options=(
            Option("60 g of powder with 3 mL of water too much.", "3 mL on 60 g is 5 mL per 100 g: about {few:.0f} % of the wet strength is lost.",
                   correct=lambda p: p.few > max(p.many, p.dry)),
            Option("300 g of powder with 6 mL of water too much.", "6 mL is the larger slip, but on 300 g it is only 2 mL per 100 g: about "
                   "{many:.0f} % is lost. Compare for each gram, not in mL.", correct=lambda p: p.many > max(p.few, p.dry)),
            Option("100 g of powder with 3 g of powder too much.", "Too much powder is like too little water: the ratio falls, and the set mass "
                   "gets stronger, not weaker. The mix gets stiffer.", correct=lambda p: p.dry > max(p.few, p.many)),
        )),
    Choice(
        id="L02-Q5", objective="L02-O4",
        prompt="Mr Okoro wants a study model of model plaster. The mix must lie in the shaded range (it pours) and be as strong as that "
               "allows. Which water does he take?",
        computed={
            "stiff": lambda p: 100 * pourable_ratios("model plaster")[0],
            "runny": lambda p: floor(100 * pourable_ratios("model plaster")[1]),      # the last whole mL that still pours
            "at_48": lambda p: _wet_strength("model plaster", 0.48),
            "at_56": lambda p: _wet_strength("model plaster", 0.56),
            "at_40": lambda p: _wet_strength("model plaster", 0.40),
            "at_65": lambda p: _wet_strength("model plaster", 0.65),
        },
        explanation="In the model, model plaster pours from about {stiff:.0f} to {runny} mL per 100 g. The strongest mix that still pours is "
                    "near the stiff end, with a little room for a slip.",
        options=(
            Option("40 mL per 100 g", "It would be strong ({at_40:.1f} MPa wet), but it does not pour. A strong vibrator makes it creep, but it still "
                   "traps air and misses fine parts. The strongest number is not the best model.", correct=lambda p: p.stiff <= 40),
            Option("48 mL per 100 g", "It pours, and it keeps most of the strength: {at_48:.1f} MPa wet.",
                   correct=lambda p: p.stiff <= 48 <= p.runny and p.stiff > 40),
            Option("56 mL per 100 g", "It pours easily, but Mr Okoro wants strength too: {at_56:.1f} MPa wet, less than a drier mix that also pours.",
                   correct=lambda p: p.stiff > 48),
            Option("65 mL per 100 g", "It is runny: grains settle, and only {at_65:.1f} MPa wet is left. The easiest mix to pour makes the weakest model.",
                   correct=lambda p: p.stiff > 56),
        )),
    NumberWithUnit(
        id="L02-Q6", objective="L02-O1",
        prompt="You have measured {water_ml} mL of water for improved stone at {per_100_ml} mL per 100 g. How much powder in g do you weigh?",
        parameters={"water_ml": 36, "per_100_ml": 24},
        key=lambda p: p.water_ml / (p.per_100_ml / 100), unit="g", relative_tolerance=0.01, tolerance_why=READ_FROM_BALANCE,
        slips=(
            Slip(lambda p: p.water_ml * p.per_100_ml / 100, "You multiplied. That turns the ratio upside down: it would be less powder "
                 "than water: like milk, not a paste."),
            Slip(lambda p: p.water_ml / p.per_100_ml * 50, "You weighed 50 g for each {per_100_ml} mL. The ratio is for 100 g."),
            Slip(lambda p: p.water_ml / p.per_100_ml, "You left out the 100 g. How many times does {per_100_ml} mL go into {water_ml} mL? Weigh 100 g that often."),
            Slip(lambda p: 100 + p.water_ml - p.per_100_ml, "You added the extra mL to the powder. Water and powder must keep their ratio, not their difference."),
        ),
        hint="How many times does {per_100_ml} mL go into {water_ml} mL?",
        explanation="{water_ml} mL divided by {per_100_ml} mL, times 100 g, is {key}."),
]


def _batch(draw):
    return {"per_100_ml": draw.choice([24, 30, 45, 50, 55]), "mix_g": draw.choice([100, 150, 200, 400])}


def _slipped(draw):
    # Slips large enough that the loss, divided by the wrong strength, is another number than one read off the picture.
    powder_g, slip_ml = draw.choice([(50, 2), (80, 4), (50, 3), (100, 7), (80, 6), (50, 4)])
    return {"powder_g": powder_g, "per_100_ml": draw.choice([50, 52]), "slip_ml": slip_ml}


EXERCISES = [
    Exercise(
        id="L02-E1", objective="L02-O1", fade=2,
        situation="Ines needs {mix_g} g of mix, powder and water together, at {per_100_ml} mL of water per 100 g of powder. "
                  "1 mL of water weighs 1 g.",
        parameters=_batch,
        computed={"for_1_g": lambda p: p.per_100_ml / 100},
        steps=(
            Step(name="from_100_g", say="How much mix in g do 100 g of powder give?", compute=lambda p: 100 + p.per_100_ml, unit="g",
                 working="100 g of powder and {per_100_ml} g of water = {answer}", hint="Add the water to the powder.",
                 tolerance_why="a simple balance weighs to about 1 %.", relative_tolerance=0.005,
                 slips=(Slip(lambda p: 100, "You left out the water. The mix is powder and water together."),)),
            Step(name="powder_g", say="How much powder in g does Ines weigh?", compute=lambda p: 100 * p.mix_g / p.from_100_g, unit="g",
                 working="{mix_g} g ÷ {from_100_g} g × 100 g = {answer}",
                 hint="{from_100_g} g of mix hold 100 g of powder. How many times does {from_100_g} g go into {mix_g} g?",
                 slips=(Slip(lambda p: p.mix_g, "That is the whole mix. Part of it is water."),
                        Slip(lambda p: p.mix_g * p.per_100_ml / 100, "You took the ratio of the whole mix. The ratio counts water for each gram of powder."),
                        Slip(lambda p: p.mix_g - p.per_100_ml, "You took off the water of 100 g. The batch needs another amount of water."))),
            Step(name="water_ml", say="How much water in mL does Ines measure?", compute=lambda p: p.powder_g * p.per_100_ml / 100, unit="mL",
                 working="{powder_g} g × {per_100_ml} mL ÷ 100 g = {answer}", hint="Each gram of powder needs {for_1_g} mL.",
                 slips=(Slip(lambda p: p.mix_g * p.per_100_ml / 100, "You multiplied by the whole mix. Multiply by the powder alone."),
                        Slip(lambda p: p.powder_g * p.per_100_ml / 50, "You took {per_100_ml} mL for each 50 g. The ratio is for 100 g."),
                        Slip(lambda p: p.powder_g * 100 / p.per_100_ml, "You turned the ratio upside down."),
                        Slip(lambda p: p.powder_g * p.per_100_ml, "You took {per_100_ml} mL for each gram. It is for 100 g: divide by 100."))),
        )),
    Exercise(
        id="L02-E2", objective="L02-O3", fade=2,
        situation="Ines weighs {powder_g} g of model plaster for {per_100_ml} mL per 100 g. She reads the cylinder with her eye below the water, "
                  "and so pours {slip_ml} mL too much.",
        parameters=_slipped,
        computed={"meant": lambda p: p.per_100_ml / 100},
        steps=(
            Step(name="meant_ml", say="How much water in mL did she mean to pour?", compute=lambda p: p.powder_g * p.per_100_ml / 100, unit="mL",
                 working="{powder_g} g × {per_100_ml} mL ÷ 100 g = {answer}", hint="Each gram needs {meant} mL.",
                 slips=(Slip(lambda p: p.powder_g * p.per_100_ml / 50, "You took {per_100_ml} mL for each 50 g. The ratio is for 100 g."),
                        Slip(lambda p: p.powder_g * 100 / p.per_100_ml, "You turned the ratio upside down."))),
            Step(name="ratio_now", say="What is the water/powder ratio in mL/g now?", compute=lambda p: (p.meant_ml + p.slip_ml) / p.powder_g,
                 unit="mL/g", working="({meant_ml} mL + {slip_ml} mL) ÷ {powder_g} g = {answer}",
                 hint="Water really poured, divided by the powder.", relative_tolerance=0.005,
                 slips=(Slip(lambda p: p.powder_g / (p.meant_ml + p.slip_ml), "You turned the ratio upside down: powder over water."),
                        Slip(lambda p: p.meant_ml / (p.powder_g + p.slip_ml), "You added the slip to the powder. It was water that was too much."),
                        Slip(lambda p: (p.meant_ml - p.slip_ml) / p.powder_g, "You took the slip off. She poured too much, so add it."),
                        Slip(lambda p: p.meant, "That is the ratio she meant. It does not hold the slip yet."))),
            Step(name="loss_percent", say="By how many % does the wet strength fall? Type both ratios into the first picture of this lesson and read the wet strength.",
                 compute=lambda p: _loss_percent("model plaster", p.meant, p.ratio_now), unit="%",
                 working="The model gives the wet strength at {meant} and at {ratio_now} mL/g. The difference, divided by the first, is {answer}",
                 hint="(strength meant − strength now) ÷ strength meant × 100.",
                 tolerance_why="the picture is read to three digits.", absolute_tolerance=1.0, relative_tolerance=0.02,
                 slips=(Slip(lambda p: 100 - _loss_percent("model plaster", p.meant, p.ratio_now),
                             "That is the share of the strength that stays. The question asks for what is lost."),
                        Slip(lambda p: -_loss_percent("model plaster", p.ratio_now, p.meant),
                             "You divided by the new strength. A loss is counted from what was meant: divide by the strength meant."))),
        )),
]

BENCH_TASKS = [
    BenchTask(
        "L02-B1", "Weigh, measure, mix, and lift the ring at 2 min",
        do=(
            "Wet the ring (35 mm wide, 50 mm high) inside. Stand it on a clean, level glass plate.",
            "Put a dry paper cup on the balance and press zero. Weigh the powder into it, to 1 g. Write it down.",
            "Measure the water in a cylinder. Read it at eye height, at the lowest point of the water surface. Write it down.",
            "Pour the water into a clean, wet bowl. Sift the powder in. Start the clock when the powder touches the water.",
            "Let it soak for half a minute. Then mix for one minute with the spatula.",
            "Fill the ring to the top and wipe it level.",
            "At 2 min lift the ring straight up, slowly. Measure the spread across in two directions, at right angles.",
            "Repeat with 2 mL more water. Change nothing else.",
            "Scrape what is left into the waste bin before it sets hard.",
        ),
        record=(
            "powder in g, water in mL, and the ratio you compute from them",
            "both spreads in mm and their mean, for each of the two mixes",
            "how it looked: stands, slumps, or runs",
            "the spread that the picture above predicts for your own ratio, and whether yours lies in its plausible range",
        ),
        cautions=(
            "Wear a mask and eye protection. Pour powder slowly and close to the bowl, so that little dust rises.",
            "Never put a finger, a hand or any part of the body into a setting mass. It gets hot.",
            "Gypsum goes into the waste bin, never down the drain.",
            "Follow the instructions of the product and of your laboratory where they differ from this page.",
        ), objectives=("L02-O1", "L02-O2")),
]
