"""Lesson 12, choose and plan: what it asks, explains and sets as work."""

import math

from gypsumkit.bench.case_judging import MAY_MISS, MEETS, MISSES, judge
from gypsumkit.bench.cases import CASES
from gypsumkit.bench.cases import Choice as Taken
from gypsumkit.bench.prices import INVENTED_PER_KG
from gypsumkit.powders import POWDERS
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip
from gypsumkit.science.expansion import length_change_um
from gypsumkit.units import say_number

VACUUM, DRIED, AT_24_H = "machine under vacuum", "use at 48 h, in moving air", "use at 24 h, in still air"


def _judged(case, powder, ratio=None, mixing="by hand, 180 turns", schedule="use at 2 h, separate at 45 min"):
    return judge(CASES[case], Taken(powder, POWDERS[powder].recommended_ratio.value if ratio is None else ratio, mixing, schedule))


def _misses(judgement):
    """The aspects that are missed."""
    return {aspect for aspect in ("strength", "accuracy", "time", "cost") if judgement.verdict(aspect) == MISSES}


def _value(judgement, words):
    return next(check.value for check in judgement.checks if check.words.startswith(words))


def _as_said(value):
    """A result as it is printed, so that the next step can be done with a calculator."""
    return float(say_number(value))


WATER_ML = {"model plaster": 52, "dental stone": 30, "improved stone": 23}       # for 100 g


def _batch(powder, cast_ml, casts):
    kind = POWDERS[powder]
    return {"powder": powder, "cast_ml": cast_ml, "casts": casts, "waste": 10, "per_100_ml": WATER_ML[powder],
            "density": kind.density_g_cm3.value, "price": INVENTED_PER_KG[powder]}


def _session(pours_until, begin, each, casts, gap, final, final_high):
    return {"pours_until": pours_until, "begin": begin, "each": each, "casts": casts, "gap": gap, "final": final, "final_high": final_high}


OBJECTIVES = [
    Objective("L12-O1", "Turn a wish of the trade into numbers that can be checked."),
    Objective("L12-O2", "Choose powder, water, mixing and schedule for a case, and justify the choice with numbers and their ranges."),
    Objective("L12-O3", "Compute powder, water and cost of a batch, and compare a length change with a wish."),
    Objective("L12-O4", "Make a timetable from the time to pour and the final set, so that it holds although both are uncertain."),
]

PREDICTIONS = [
    Choice(
        id="L12-P1", objective="L12-O2",
        prompt="The study model is cast from improved stone at its recommended ratio ({per_100_ml} mL per 100 g), by hand, and trimmed at 2 h. In what does it miss the wishes?",
        parameters={"per_100_ml": 23},
        computed={"misses": lambda p: _misses(_judged("study model", "improved stone", p.per_100_ml / 100)),
                  "strength": lambda p: _value(_judged("study model", "improved stone", p.per_100_ml / 100), "strength"),
                  "cost": lambda p: _value(_judged("study model", "improved stone", p.per_100_ml / 100), "cost")},
        explanation="It carries {strength:.0f} MPa, four times what is wanted, and costs {cost:.2f} where 0.50 is the limit. Strength beyond the wish buys nothing here.",
        options=(
            Option("In strength.", "It is far stronger than wanted. Compare 9 MPa with what improved stone carries.", correct=lambda p: p.misses == {"strength"}),
            Option("In accuracy.", "It grows least of all. 300 µm on 60 mm are easy for it.", correct=lambda p: p.misses == {"accuracy"}),
            Option("In cost.", "A large cast of an expensive powder: that is where the money goes.", correct=lambda p: p.misses == {"cost"}),
            Option("In nothing: the strongest powder is good for everything.", "It is good, but not for everything: one of the wishes is about money.",
                   correct=lambda p: not p.misses),
        )),
    Choice(
        id="L12-P2", objective="L12-O2",
        prompt="The dies for the bridge are cast from high-expansion stone at its recommended ratio ({per_100_ml} mL per 100 g), under vacuum, and dried for two days. It is the "
               "strongest of the five powders. What happens?",
        parameters={"per_100_ml": 21},
        computed={"misses": lambda p: _misses(_judged("bridge dies", "high-expansion stone", p.per_100_ml / 100, VACUUM, DRIED)),
                  "change": lambda p: _value(_judged("bridge dies", "high-expansion stone", p.per_100_ml / 100, VACUUM, DRIED), "length")},
        explanation="It becomes {change:.0f} µm longer on 40 mm, where 40 µm are the most. Its growth makes up for castings that shrink. In a chain in balance nothing shrinks that "
                    "it could make up for, so the bridge is too long.",
        options=(
            Option("It meets every wish, and better than improved stone.", "It is stronger, but look at its name: what does it do to the distance between the dies?",
                   correct=lambda p: not p.misses),
            Option("It misses in accuracy: the dies stand too far apart.", "High strength does not help when the length is wrong.", correct=lambda p: p.misses == {"accuracy"}),
            Option("It misses in strength, since it is still wet.", "Two days in moving air dry a small die. And it is the strongest when dry.",
                   correct=lambda p: p.misses == {"strength"}),
            Option("It misses in time: two days are too long.", "The dies are wanted within three days.", correct=lambda p: p.misses == {"time"}),
        )),
]

NOTES = [
    Note("L12-N1",
         "Choose one of the three cases. Justify your choice to a colleague in five sentences: powder, water, mixing, schedule, and what is not sure. Give numbers with their ranges.",
         "For example, the working model: dental stone with 28 mL per 100 g, spatulated by hand, separated at 45 min. It carries about 27 MPa wet (22 to 32), and 22 are wanted, so the "
         "soaking before the flask does no harm. It grows by about 60 µm on 55 mm (53 to 67), and 90 are allowed. It pours until 2.6 min (2.0 to 3.1), so I pour at once and do not talk. A "
         "cast costs 0.42 in the invented prices. Not sure is the time to pour: its range ends just at the wish of 2 min, and the temperature of my water and my own hand move it. So I make a trial mix first.", objectives=("L12-O2",)),
    Note("L12-N2",
         "A colleague asks: “Which choice is the best one?” Explain why there are several good answers, and when one choice is still simply worse than another. Use the word beats.",
         "Strength, growth, time and cost pull in different directions: less water makes a cast stronger, but it grows more, stiffens sooner and takes more powder. So of two good choices each may be better in "
         "something, and which one to take depends on what the case needs most. One choice beats another only when it is no worse in all four and better in at least one. Then the other is a waste. "
         "A mix so dry that it no longer pours is an example: it traps air, and more water makes it stronger and cheaper at the same time.", objectives=("L12-O2",)),
]

EXERCISES = [
    Exercise(
        id="L12-E1", objective="L12-O3", fade=2,
        situation="{casts} casts of {cast_ml} mL each are made from {powder}, with {per_100_ml} mL of water per 100 g. The grains have a density of {density} g/cm³. {waste} % more than the casts take "
                  "is mixed, since some stays in the bowl. 1 kg costs {price} (invented). Air is not counted.",
        parameters=lambda draw: _batch(draw.choice(list(WATER_ML)), draw.choice([40, 60, 80, 100]), draw.choice([4, 6, 12, 24])),
        steps=(
            Step(name="mix_ml", say="How many mL of mix are needed for all casts, waste included?", compute=lambda p: p.casts * p.cast_ml * (1 + p.waste / 100), unit="mL",
                 working="{casts} × {cast_ml} mL × 1.{waste} = {answer}", hint="All casts together, and {waste} % more.", tolerance_why="plain arithmetic.", relative_tolerance=0.01,
                 slips=(Slip(lambda p: p.casts * p.cast_ml, "The waste is missing: {waste} % more."),
                        Slip(lambda p: p.cast_ml * (1 + p.waste / 100), "That is for one cast. There are {casts}."))),
            Step(name="per_100_mix_ml", say="How many mL of mix do 100 g of powder give?", compute=lambda p: _as_said(100 / p.density + p.per_100_ml), unit="mL",
                 working="100 g ÷ {density} g/cm³ + {per_100_ml} mL = {answer}", hint="The volume of the grains and the volume of the water.",
                 tolerance_why="the density is given in three digits.", relative_tolerance=0.01,
                 slips=(Slip(lambda p: 100 + p.per_100_ml, "That is the mass in g. Divide the powder by its density first."),
                        Slip(lambda p: 100 / p.density, "You left out the water."))),
            Step(name="powder_g", say="How much powder in g is that for all casts?", compute=lambda p: _as_said(100 * p.mix_ml / p.per_100_mix_ml), unit="g",
                 working="{mix_ml} mL ÷ {per_100_mix_ml} mL × 100 g = {answer}", hint="{per_100_mix_ml} mL of mix hold 100 g of powder.",
                 tolerance_why="a simple balance weighs to about 1 %.", relative_tolerance=0.015,
                 slips=(Slip(lambda p: p.mix_ml, "That counts 1 g of powder for each mL of mix."),)),
            Step(name="water_ml", say="How much water in mL?", compute=lambda p: _as_said(p.powder_g * p.per_100_ml / 100), unit="mL",
                 working="{powder_g} g ÷ 100 g × {per_100_ml} mL = {answer}", hint="{per_100_ml} mL for every 100 g.", tolerance_why="a cylinder is read to about 1 %.", relative_tolerance=0.015,
                 slips=(Slip(lambda p: 100 * p.powder_g / p.per_100_ml, "You divided by the ratio. There is less water than powder: multiply."),
                        Slip(lambda p: p.mix_ml - p.powder_g, "A mL of mix is not a g of powder. Take {per_100_ml} mL for every 100 g of powder."))),
            Step(name="cost", say="What does the powder for all casts cost? (In the same money.)", compute=lambda p: p.powder_g / 1000 * p.price, unit="",
                 working="{powder_g} g ÷ 1000 × {price} = {answer}", hint="The price is for 1000 g.", tolerance_why="a cent more or less does not matter.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.powder_g * p.price, "You took the price for 1 g. It is for 1 kg."),
                        Slip(lambda p: p.powder_g / 100 * p.price, "You took the price for 100 g. It is for 1 kg."))),
        )),
    Exercise(
        id="L12-E2", objective="L12-O4", fade=2,
        situation="A stone is mixed by machine. It pours until {pours_until} min after the start of mixing, in the worst case. Mixing ends at {begin} min, and to pour one impression takes {each} min. {casts} impressions are to be poured. "
                  "A new bowl is begun every {gap} min. The final set comes at {final} min, at the latest at {final_high} min.",
        parameters=lambda draw: _session(*draw.choice([(2.8, 1.2, 0.7, 5, 6, 15.5, 19.7), (4.1, 1.3, 0.8, 8, 7, 17, 22), (5.6, 1.4, 1.2, 10, 8, 20, 26), (3.7, 1.2, 0.6, 9, 6, 16, 21)])),
        steps=(
            Step(name="left_min", say="How many minutes are left to pour from one bowl?", compute=lambda p: p.pours_until - p.begin, unit="min",
                 working="{pours_until} min − {begin} min = {answer}", hint="From the end of mixing to the end of pouring.", tolerance_why="plain arithmetic.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.pours_until, "Mixing takes a part of this time. Take it off."),)),
            Step(name="per_bowl", say="How many whole impressions can be poured from one bowl?", compute=lambda p: math.floor(p.left_min / p.each + 1e-9), unit="",
                 working="{left_min} min ÷ {each} min, only the whole ones = {answer}", hint="Divide, and forget what stands after the point: an impression half filled is lost.",
                 tolerance_why="only the whole number counts.", absolute_tolerance=0.1,
                 slips=(Slip(lambda p: math.floor(p.left_min / p.each + 1e-9) + 1, "The last one would be poured from a mix that no longer flows. Round down."),)),
            Step(name="bowls", say="How many bowls are mixed?", compute=lambda p: math.ceil(p.casts / p.per_bowl - 1e-9), unit="",
                 working="{casts} ÷ {per_bowl}, rounded up = {answer}", hint="A bowl that is not full counts as a bowl.", tolerance_why="only the whole number counts.", absolute_tolerance=0.1,
                 slips=(Slip(lambda p: math.floor(p.casts / p.per_bowl + 1e-9), "Some impressions are left over. They need a bowl as well: round up."),)),
            Step(name="separate_min", say="The first bowl is begun at 0 min. When have the casts of the last bowl certainly set, so that they may be separated at the earliest? In min.",
                 compute=lambda p: (p.bowls - 1) * p.gap + p.final_high, unit="min", working="({bowls} − 1) × {gap} min + {final_high} min = {answer}",
                 hint="When does the last bowl begin? Add the latest final set to it.", tolerance_why="a minute more or less cannot be kept at the bench.", absolute_tolerance=0.6,
                 slips=(Slip(lambda p: (p.bowls - 1) * p.gap + p.final, "That is the value of the final set. To be sure, take its latest moment."),
                        Slip(lambda p: p.bowls * p.gap + p.final_high, "The first bowl begins at 0 min, so the last one begins one gap earlier than that."),
                        Slip(lambda p: p.final_high, "That is for the first bowl. The last one is begun later."))),
        )),
]

QUESTIONS = [
    SeveralChoices(
        id="L12-Q1", objective="L12-O1",
        prompt="Which of these wishes can be checked by a number?",
        explanation="A wish that can be checked has a number, a unit and a moment or a length.",
        options=(
            Option("At most 40 µm longer on 40 mm, at 2 h.", "A number, a unit, a length and a moment.", correct=True),
            Option("As exact as possible.", "Possible for whom, and on what length? This cannot be missed, so it cannot be met."),
            Option("At least 22 MPa, wet, when it is put into the flask.", "A number, a unit, a state and a moment.", correct=True),
            Option("Strong enough not to break.", "It is the right thought, but first ask: under what load, wet or dry, and when?"),
            Option("Ready to be trimmed 2 h after mixing.", "A moment that a clock can check.", correct=True),
        )),
    Choice(
        id="L12-Q2", objective="L12-O2",
        prompt="To pour the study model more easily, a student mixes model plaster with {per_100_ml} mL per 100 g, by hand, and trims at 2 h. What does the judgement say?",
        parameters={"per_100_ml": 65},
        computed={"judged": lambda p: _judged("study model", "model plaster", p.per_100_ml / 100), "misses": lambda p: _misses(p.judged),
                  "strength": lambda p: _value(p.judged, "strength"), "stress": lambda p: _value(p.judged, "yield")},
        explanation="It carries {strength:.1f} MPa, and 9 are wanted. With a yield stress of {stress:.0f} Pa it is runny: 115 Pa is the least for a mix that pours well.",
        options=(
            Option("It meets every wish: it only pours more easily.", "More water means more pores. Look at the strength, and at the word runny.", correct=lambda p: not p.misses),
            Option("It misses in cost.", "More water makes a cast cheaper: part of each mL is water.", correct=lambda p: p.misses == {"cost"}),
            Option("It misses in strength, and it is runny.", "Easy pouring is paid with pores.", correct=lambda p: p.misses == {"strength", "accuracy"}),
            Option("It misses in time: it does not set before it is separated.", "It sets later, but still before 45 min, by its value.", correct=lambda p: p.misses == {"time"}),
        )),
    NumberWithUnit(
        id="L12-Q3", objective="L12-O3",
        prompt="Dies may become at most {most_um} µm longer on {length_mm} mm. A stone grows by {percent} %. By how many µm is that too long?",
        parameters=lambda draw: draw.choice([{"most_um": 40, "length_mm": 40, "percent": 0.24}, {"most_um": 30, "length_mm": 35, "percent": 0.16}]),
        computed={"change": lambda p: float(length_change_um(p.percent, p.length_mm))},
        key=lambda p: float(length_change_um(p.percent, p.length_mm)) - p.most_um, unit="µm", relative_tolerance=0.02, tolerance_why="plain arithmetic.",
        slips=(Slip(lambda p: float(length_change_um(p.percent, p.length_mm)), "That is the whole change. Take off what is allowed."),
               Slip(lambda p: 100 * float(length_change_um(p.percent, p.length_mm)) - p.most_um, "The expansion is in percent: divide by 100.")),
        hint="1 % of 1 mm is 10 µm.", explanation="{percent} % of {length_mm} mm are {change:.0f} µm. {most_um} µm are allowed, so it is {key} too long."),
    Choice(
        id="L12-Q4", objective="L12-O2",
        prompt="Dies of dental stone, under vacuum and dried for two days: the model says {value:.0f} MPa, with a range from {low:.0f} to {high:.0f}. Wanted are at least 45 MPa. What do you write down?",
        parameters={}, computed={"check": lambda p: _judged("bridge dies", "dental stone", 0.30, VACUUM, DRIED).checks[0], "value": lambda p: p.check.value,
                                 "low": lambda p: p.check.low, "high": lambda p: p.check.high},
        explanation="The value decides what is likely, and the range says how sure it is. What may miss is tried before it is relied on.",
        options=(
            Option("It meets the wish, for {value:.0f} is more than 45.", "The value does. But the range begins at {low:.0f}, so a real cast may well carry less.",
                   correct=lambda p: p.check.verdict == MEETS),
            Option("It misses, for the range begins at {low:.0f}.", "A range that reaches out is not yet a miss. The value lies inside.", correct=lambda p: p.check.verdict == MISSES),
            Option("It meets by its value, but it may miss: crush a trial cylinder, or choose another.", "That is all that is known, and it says what to do next.",
                   correct=lambda p: p.check.verdict == MAY_MISS),
        )),
    Choice(
        id="L12-Q5", objective="L12-O4",
        prompt="Model plaster at 50 mL per 100 g: the final set comes at {value:.0f} min, with a range from {low:.0f} to {high:.0f} min. When do you plan to separate the casts of a class?",
        parameters={}, computed={"check": lambda p: next(check for check in _judged("study model", "model plaster", 0.50).checks if check.words == "final set"),
                                 "value": lambda p: p.check.value, "low": lambda p: p.check.low, "high": lambda p: p.check.high},
        explanation="A timetable for many casts takes the end of the range. A cast that is separated too soon bends or breaks, and no drying helps it.",
        options=(
            Option("At {low:.0f} min: some have set by then.", "Some. The others bend or break, and they keep no size."),
            Option("At {value:.0f} min exactly.", "Then about half of the casts may not be ready."),
            Option("At 45 min.", "After the whole range, with some minutes to spare for the last bowl.", correct=lambda p: p.high < 45),
            Option("The next day, to be quite sure.", "It is sure. But the study model is wanted within 2 h, and a wish about time counts like any other."),
        )),
    NumberWithUnit(
        id="L12-Q6", at_picture=True, objective="L12-O2",
        prompt="Find it with the explorer: bridge dies from dental stone, {per_100_ml} mL per 100 g, machine under vacuum, used at 48 h in moving air. By how many µm do they become longer on 40 mm?",
        parameters={"per_100_ml": 30},
        key=lambda p: _value(_judged("bridge dies", "dental stone", p.per_100_ml / 100, VACUUM, DRIED), "length"), unit="µm", relative_tolerance=0.03, tolerance_why="the gauge shows two digits.",
        slips=(Slip(lambda p: _value(_judged("bridge dies", "dental stone", p.per_100_ml / 100), "length"), "That is mixed by hand. Under vacuum the machine brings the crystals closer, and the cast grows a little more."),
               Slip(lambda p: _value(_judged("bridge dies", "improved stone", 0.23, VACUUM, DRIED), "length"), "That is improved stone. Set the powder to dental stone, and the ratio to 0.30.")),
        hint="Set all five controls. The row “accuracy: length change” of the table has the number.", explanation="They become {key} longer. That is just inside the wish of 40 µm, so it may miss."),
    PutInOrder(
        id="L12-Q7", objective="L12-O2",
        prompt="How do you come to a choice that you can justify? Put the steps in order.",
        explanation="First what is wanted, then what may do it, then how, then the check with its range, then the trial.",
        steps=(
            Place("Write down the wishes as numbers.", "Without wishes nothing can be met or missed."),
            Place("Drop the powders that cannot meet one of them.", "Growth, strength and price rule most of them out."),
            Place("Find a ratio and a mixing that pour.", "Only a mix that pours copies the impression."),
            Place("Judge with the range: what may miss?", "The value alone would promise too much."),
            Place("Make a trial mix and measure.", "The model knows neither your powder nor your hand."),
        )),
]

BENCH_TASKS = [
    BenchTask(
        "L12-B1", "Your own case",
        do=(
            "Think of a cast that you will really need. Write down its wishes: strength when used, longest change in µm on its length, minutes, and money.",
            "Choose powder, water, mixing and schedule. Write down in one sentence why, and what may miss.",
            "Compute powder and water with 10 % of waste. Write a timetable: begin, end of pouring, separate, use.",
            "Weigh, mix and pour one cast and two cylinders (20 mm wide, 40 mm high) from the same bowl.",
            "Write down when the gloss is lost and when the heavy needle leaves no mark. Wait 15 min more, then separate.",
            "Mark two points on the cast and on the model it copies. Measure both distances with a calliper.",
            "Let the demonstrator crush the cylinders at the moment at which the cast would be used.",
            "Judge each wish: met, not sure, or missed. Compare with what the model said.",
        ),
        record=(
            "the wishes, the choice, and what you expected to miss",
            "powder, water, turns, loss of gloss and final set, with the room temperature",
            "both distances in mm, and their difference in µm; also how far two readings of the calliper differ",
            "load at crushing and diameter of both cylinders, wet or dry, and how many hours after mixing",
            "the cost of the cast with the price of your own laboratory",
            "which wish was missed, and what you would change next time: one thing only",
        ),
        cautions=(
            "Wear a mask and eye protection. Powder into water, slowly.",
            "Never put a finger, a hand or any part of the body into a setting mass: it gets hot.",
            "Impressions from a mouth are disinfected first, by the instructions of their product. Use a clean training model.",
            "Mixer, vacuum and press only with the demonstrator. Splinters fly: keep the guard closed.",
            "Warm air dries a cast. A hot oven spoils it. Nothing down the drain.",
            "The instructions of the product and of your laboratory come first.",
        ), objectives=("L12-O1", "L12-O2", "L12-O3", "L12-O4")),
]
