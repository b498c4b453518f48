"""Lesson 11, bench day: what it asks, explains and sets as work."""

import math

import numpy as np

from gypsumkit.bench.own_data import compare
from gypsumkit.bench.own_lines import flow_curve
from gypsumkit.bench.records import Records
from gypsumkit.bench.sample import sample_class
from gypsumkit.bench.weighing import Tools, shares, weighed
from gypsumkit.powders import POWDERS
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, SeveralChoices, Slip
from gypsumkit.units import say_number


def _as_said(value):
    """A result as it is printed, so that the next step can be done with a calculator."""
    return float(say_number(value))


def _crushed_mpa(load_n, diameter_mm):
    return float(Records({"crush_load_n": [load_n], "cylinder_diameter_mm": [diameter_mm]}).strength_mpa[0])


def _grown_percent(change_um, length_mm):
    return float(Records({"length_change_um": [change_um], "gauge_length_mm": [length_mm]}).expansion_percent[0])


def _weighing_percent(powder, powder_g, class_g, quantity="strength_mpa"):
    """Share of the variance that weighing has in a batch of so much powder, when all else stays as in the invented class."""
    usual = POWDERS[powder].recommended_ratio.value
    chosen, of_class = (weighed(powder, usual, grams, Tools(1.0, 1.0), quantity).percent for grams in (powder_g, class_g))
    return shares(compare(sample_class(), quantity), powder, chosen, of_class).weighing


def _stiffness_pa(powder, leave_out):
    """Own stiffness constant of the invented class with its 95 % band, with or without the value farthest off."""
    compared = compare(sample_class(), "spread_mm").of_powder(powder)
    return flow_curve(compared, powder, (compared.suspect().place,) if leave_out else ()).stiffness_pa


OBJECTIVES = [
    Objective("L11-O1", "Plan a session: powder, water and minutes for a group that shares scales and a vibrator."),
    Objective("L11-O2", "Record a mix with its units, and find a typing error before it is saved."),
    Objective("L11-O3", "Compare own measurements with a prediction and its range, and deal fairly with a value that lies far off."),
    Objective("L11-O4", "Say which part of a scatter the scale can explain, and which it cannot."),
    Objective("L11-O5", "Judge a batch by a limit, and say when the number of specimens does not decide."),
]

PREDICTIONS = [
    Choice(
        id="L11-P1", objective="L11-O4",
        prompt="24 students mix {class_g} g of dental stone each, on a scale that reads to 1 g, with a cylinder that reads to 1 mL. Of the variance of their strengths, weighing makes {before:.0f} %. "
               "What if each had mixed only {small_g} g, with the same scale and cylinder?",
        parameters={"class_g": 100, "small_g": 20},
        computed={"before": lambda p: _weighing_percent("dental stone", p.class_g, p.class_g), "after": lambda p: _weighing_percent("dental stone", p.small_g, p.class_g)},
        explanation="In a fifth of the powder the same step is five times as large a part. Its variance grows with the square, 25 times. The rest of the scatter stays. So weighing becomes "
                    "about {after:.0f} % of the whole.",
        options=(
            Option("It stays near {before:.0f} %: the scale is the same.", "The step is the same, but the batch is smaller: 1 g is five times as large a part of it.",
                   correct=lambda p: p.after < 2 * p.before),
            Option("It becomes about five times as large, near 18 %.", "The standard deviation from weighing becomes five times as large. The variance grows with its square.",
                   correct=lambda p: 2 * p.before <= p.after < 30),
            Option("It becomes about half of the whole variance.", "25 times a small part, beside the rest that stays: about as much as all other causes together.",
                   correct=lambda p: 30 <= p.after <= 70),
            Option("Nearly all: the other causes no longer count.", "Hands and moments scatter as before. They do not become smaller because the batch does.", correct=lambda p: p.after > 70),
        )),
    Choice(
        id="L11-P2", objective="L11-O3",
        prompt="In an invented class one spread of model plaster lies far off all others. A curve is fitted to all spreads of this powder. Then it is fitted once more without that value. "
               "What happens to the band in which the curve may lie, 95 times in 100?",
        parameters={}, computed={"all": lambda p: _stiffness_pa("model plaster", False), "rest": lambda p: _stiffness_pa("model plaster", True),
                                 "width": lambda p: p.all[2] / p.all[1], "narrow": lambda p: p.rest[2] / p.rest[1]},
        explanation="With all values the highest stiffness in the band is {width:.1f} times the lowest, without the one only {narrow:.1f} times. One value alone can make a fit look uncertain, and pull it. "
                    "That is why its cause is looked for, and why a fair report gives both.",
        options=(
            Option("It becomes wider: there is one value less.", "One value less widens the band a little. But this value made most of the scatter, and that counts far more.",
                   correct=lambda p: p.narrow > 1.05 * p.width),
            Option("It hardly changes: one among many does not count.", "It would, if the value were like the others. The scatter is made of squares, and one far value makes most of their sum.",
                   correct=lambda p: abs(p.narrow / p.width - 1) <= 0.05),
            Option("It becomes clearly narrower.", "The one value made most of the scatter.", correct=lambda p: p.narrow < 0.95 * p.width),
        )),
]

NOTES = [
    Note("L11-N1",
         "Your three mixes of one recipe spread to 61, 66 and 74 mm. The model says 64 mm, with a range of 55 to 75 mm. Explain what you may say, and what you may not. "
         "Use the words range, repeatability and scatter.",
         "All three lie inside the plausible range, so they do not speak against the model. They do not prove it either: the range is wide. The scatter among my own mixes, "
         "13 mm from the least to the largest, is my repeatability: same recipe, same hands. It is larger than what a good scale explains, so part of it is how I mix, when I lift the "
         "ring and how I read. With three values I know the mean only roughly. I would mix again, with more powder in the bowl, and lift the ring at the same second.", objectives=("L11-O3",)),
    Note("L11-N2",
         "A neighbour wants to delete one value: “It is an outlier, the test says so.” What do you answer?",
         "The test says that such a value would be rare if all values came from one scatter. It does not say why it is there. First look for the cause: a typing error, a wrong unit, "
         "another powder, an old lot, a ring lifted late. If a cause is found, say so beside the value and count without it. If none is found, the value stays, and the result is given "
         "both with it and without it. Nothing is deleted in silence: the odd value may be the only one that shows what can go wrong.", objectives=("L11-O3",)),
]

QUESTIONS = [
    NumberWithUnit(
        id="L11-Q1", objective="L11-O3",
        prompt="A cylinder of {diameter_mm} mm breaks at {load_n} N. What is its compressive strength in MPa? (1 MPa is 1 N on each mm².)",
        parameters={"diameter_mm": 20, "load_n": 6600},
        computed={"area_mm2": lambda p: math.pi / 4 * p.diameter_mm ** 2},
        key=lambda p: _crushed_mpa(p.load_n, p.diameter_mm), unit="MPa", relative_tolerance=0.02,
        tolerance_why="π may be taken as 3.14, and the diameter is known to 0.2 mm.",
        slips=(
            Slip(lambda p: p.load_n / (math.pi * p.diameter_mm ** 2), "You took the diameter for the radius. The area is π times the square of half the diameter."),
            Slip(lambda p: p.load_n / p.diameter_mm ** 2, "That is the area of a square. The cylinder is round: times π ÷ 4."),
            Slip(lambda p: p.load_n / (math.pi * p.diameter_mm), "You divided by the way round the cylinder. Strength is load on an area."),
        ),
        hint="First the area of the round end, in mm².",
        explanation="The end has π ÷ 4 × {diameter_mm}² = {area_mm2:.0f} mm². {load_n} N ÷ {area_mm2:.0f} mm² = {key}."),
    Choice(
        id="L11-Q2", objective="L11-O2",
        prompt="The ring is 35 mm wide inside. In the column “Spread (mm)” somebody typed 6.5. What does a good record do?",
        explanation="6.5 mm cannot be: the mix cannot be narrower than its ring. It was probably read in cm. But only the person who measured knows.",
        options=(
            Option("Change it to 65 without a word: everybody sees what was meant.", "It may just as well have been 56 or 85, misread. A silent change hides that nobody asked."),
            Option("Ask: is it 6.5 cm, so 65 mm?", "The question costs a second, and the answer comes from the one who held the ruler.", correct=True),
            Option("Delete the whole mix.", "The powder, the water and the times of this mix are still good. Only one cell is in doubt."),
            Option("Keep it: a record takes what is typed.", "Then every mean and every picture made from it is wrong, and nobody sees why."),
        )),
    Choice(
        id="L11-Q3", objective="L11-O3",
        prompt="Eight groups mix the same recipe. Seven spreads lie between 60 and 68 mm, one is 102 mm. What is done first?",
        explanation="A value far off is a question, not a verdict. Its cause is looked for before anything is left out.",
        options=(
            Option("Leave it out: a test for outliers would reject it.", "The test only says that it is rare. Left out without a cause, the best warning of the day is thrown away."),
            Option("Take the mean of all eight and go on.", "The mean is then moved by one value, and it describes neither the seven nor the one."),
            Option("Ask that group for its weights, its water and the moment of the lift.", "Too much water, or a ring lifted with the vibrator on, would explain it, and can be written beside it.",
                   correct=True),
            Option("Let the group mix again, and keep only the second value.", "Mixing again is good. But the first value happened; keep both, with a remark."),
        )),
    NumberWithUnit(
        id="L11-Q4", objective="L11-O3",
        prompt="A bar of {length_mm} mm at the loss of gloss has become {change_um} µm longer at 2 h. What is its setting expansion in %?",
        parameters={"length_mm": 80, "change_um": 96},
        key=lambda p: _grown_percent(p.change_um, p.length_mm), unit="%", relative_tolerance=0.02, tolerance_why="a dial reads to about 2 µm.",
        slips=(
            Slip(lambda p: p.change_um / p.length_mm, "µm divided by mm is not yet percent: 10 µm on 1 mm are 1 %."),
            Slip(lambda p: p.change_um / 1000, "That is the growth in mm. Divide it by the length, then times 100."),
            Slip(lambda p: p.change_um / 1000 / p.length_mm, "That is the growth as a part of 1. Times 100 for percent."),
        ),
        hint="Both in mm first.",
        explanation="{change_um} µm ÷ 1000 = the growth in mm. Divided by {length_mm} mm and times 100: {key}."),
    SeveralChoices(
        id="L11-Q5", objective="L11-O4",
        prompt="The weighing explains little of the scatter of your class. Which of these can make the scatter smaller?",
        explanation="What the scale does not explain comes from hands, moments and readings. Those must become alike.",
        options=(
            Option("Everybody lifts the ring at the same second after the powder met the water.", "A mix thickens from minute to minute: the same moment makes rings alike.", correct=True),
            Option("Everybody gives the same number of turns.", "Turns change the air and the speed of setting.", correct=True),
            Option("A scale that reads to 0.001 g.", "The scale was not the reason, so a better one changes nothing that can be seen."),
            Option("The spread is read in two directions and the mean is taken.", "A mix that has spread to one side is read too wide or too narrow in one direction.", correct=True),
            Option("The two values farthest off are left out each time.", "Then the scatter only looks smaller. The next mix will scatter as before."),
        )),
    Choice(
        id="L11-Q6", objective="L11-O5",
        prompt="Three cylinders of a stone break at 21, 24 and 19 MPa, wet, at 1 h. The limit that you remember for its type is 20 MPa. The rule asks for five specimens. What do you write?",
        explanation="Three specimens cannot meet a rule for five, one of them lies below, and the limit itself is remembered.",
        options=(
            Option("Pass: the mean is 21.3 MPa.", "The rule looks at the specimens, not at the mean, and asks for five."),
            Option("Fail: one specimen lies below.", "With five, one below may still be allowed. Three do not decide that."),
            Option("Not decided: two more specimens, and look the limit up.", "That is what can be said: the number does not decide, and a remembered limit is no limit.", correct=True),
            Option("Pass, for two out of three lie above.", "Two out of three is not the rule. Nobody agreed on it before the test."),
        )),
    NumberWithUnit(
        id="L11-Q7", objective="L11-O1",
        prompt="{students} students work in pairs, one bowl for each pair. There are {scales} scales, and to weigh for one bowl takes {minutes} min. After how many min has the last pair weighed?",
        parameters={"students": 24, "scales": 2, "minutes": 3}, computed={"bowls": lambda p: p.students / 2},
        key=lambda p: p.bowls / p.scales * p.minutes, unit="min", relative_tolerance=0.001, tolerance_why="it is a whole number.",
        slips=(Slip(lambda p: p.bowls * p.minutes, "That is with one scale, or with one bowl for each student. Here {scales} scales work side by side for {bowls} bowls."),
               Slip(lambda p: p.students * p.minutes, "That is one scale, and every student weighing. Count bowls, and divide them among the scales."),
               Slip(lambda p: (p.bowls / p.scales - 1) * p.minutes, "Then the last pair begins to weigh. It is done one turn later.")),
        hint="How many bowls come to each scale, one after the other?",
        explanation="{bowls} bowls at {scales} scales are {bowls} ÷ {scales} turns of {minutes} min: {key}. So the bowls start one after the other, and so does everything that follows."),
]


def _session(draw):
    return {"students": draw.choice([16, 20, 24, 30]), "powder_g": draw.choice([80, 100, 120]), "waste_percent": draw.choice([10, 15, 20]),
            "powder": draw.choice(["model plaster", "dental stone", "improved stone"]), "vibrate_s": draw.choice([40, 60, 90])}


def _crushing(draw):
    loads = draw.choice([(6100, 6500, 6900), (2900, 3300, 3400), (9800, 11200, 10500), (4200, 4600, 5300)])
    return {"one_n": loads[0], "two_n": loads[1], "three_n": loads[2], "diameter_mm": 20}


EXERCISES = [
    Exercise(
        id="L11-E1", objective="L11-O1", fade=2,
        situation="{students} students each make one cast of {powder}: {powder_g} g of powder, {per_100_ml} mL of water per 100 g. {waste_percent} % is added for what stays in the bowl and for "
                  "mixes that fail. There is one vibrator, and each cast needs it for {vibrate_s} s.",
        parameters=_session,
        computed={"per_100_ml": lambda p: round(100 * POWDERS[p.powder].recommended_ratio.value)},
        steps=(
            Step(name="powder_kg", say="How much powder in kg is needed for all, waste included?",
                 compute=lambda p: _as_said(p.students * p.powder_g * (1 + p.waste_percent / 100) / 1000), unit="kg",
                 working="{students} × {powder_g} g × (1 + {waste_percent} ÷ 100) ÷ 1000 = {answer}", hint="First all casts, then the waste on top.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.students * p.powder_g / 1000, "Add the waste on top."),
                        Slip(lambda p: p.students * p.powder_g * (1 + p.waste_percent / 100), "That is in g. 1000 g are 1 kg."))),
            Step(name="water_l", say="And how much water, in L?", compute=lambda p: _as_said(p.powder_kg * p.per_100_ml / 100), unit="L",
                 working="{powder_kg} kg × {per_100_ml} ÷ 100 = {answer}", hint="{per_100_ml} mL for 100 g are as many L for 100 kg.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.powder_kg * 100 / p.per_100_ml, "Upside down: there is less water than powder."),)),
            Step(name="vibrator_min", say="For how many minutes is the vibrator in use, without a pause?", compute=lambda p: _as_said(p.students * p.vibrate_s / 60), unit="min",
                 working="{students} × {vibrate_s} s ÷ 60 = {answer}", hint="One cast after the other.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.students * p.vibrate_s, "That is in s. 60 s are 1 min."),)),
            Step(name="late_min", say="All begin to mix at the same minute. How long after the first must the last student wait for the vibrator, in min?",
                 compute=lambda p: (p.students - 1) * p.vibrate_s / 60, unit="min", working="({students} − 1) × {vibrate_s} s ÷ 60 = {answer}",
                 hint="All the others come first.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.students * p.vibrate_s / 60, "The last one does not wait for the own turn: one less."),)),
        )),
    Exercise(
        id="L11-E2", objective="L11-O3", fade=3,
        situation="Three wet cylinders of one mix, {diameter_mm} mm in diameter, break at {one_n}, {two_n} and {three_n} N. (1 MPa is 1 N/mm².)",
        parameters=_crushing,
        steps=(
            Step(name="area_mm2", say="What is the area of the round end, in mm²?", compute=lambda p: _as_said(math.pi / 4 * p.diameter_mm ** 2), unit="mm²",
                 working="π ÷ 4 × {diameter_mm}² = {answer}", hint="π ÷ 4 times the square of the diameter.", tolerance_why="π may be taken as 3.14.",
                 slips=(Slip(lambda p: math.pi * p.diameter_mm ** 2, "Half the diameter is the radius: π ÷ 4 times the square of the diameter."),)),
            Step(name="mean_n", say="What is the mean load, in N?", compute=lambda p: _as_said((p.one_n + p.two_n + p.three_n) / 3), unit="N",
                 working="({one_n} + {two_n} + {three_n}) ÷ 3 = {answer}", hint="The sum, divided by how many there are.",
                 slips=(Slip(lambda p: p.two_n, "That is only the second of the three loads. Add all three, then divide by 3."),)),
            Step(name="mean_mpa", say="What is the mean strength, in MPa?", compute=lambda p: _as_said(p.mean_n / p.area_mm2), unit="MPa",
                 working="{mean_n} N ÷ {area_mm2} mm² = {answer}", hint="Load on an area."),
            Step(name="scatter_n", say="What is the standard deviation of the loads, in N? (Square the three differences from the mean, add, divide by 2, take the root.)",
                 compute=lambda p: _as_said(float(np.std([p.one_n, p.two_n, p.three_n], ddof=1))), unit="N",
                 working="√((({one_n} − {mean_n})² + ({two_n} − {mean_n})² + ({three_n} − {mean_n})²) ÷ 2) = {answer}",
                 hint="Three values leave two free differences, so divide by 2.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: float(np.std([p.one_n, p.two_n, p.three_n])), "Divide by 2, not by 3: the mean was worked out from the same three values."),)),
            Step(name="scatter_percent", say="What part of the mean is that, in %?", compute=lambda p: 100 * p.scatter_n / p.mean_n, unit="%",
                 working="{scatter_n} N ÷ {mean_n} N = {answer}", hint="Standard deviation divided by the mean.", relative_tolerance=0.03),
        )),
]

BENCH_TASKS = [
    BenchTask(
        "L11-B1", "Bench day: your own numbers",
        do=(
            "Make the plan with your group in the panel above. Print the card. Each group begins at its own minute.",
            "Check the scale with a mass that you know, and set it to zero with the dry bowl on it.",
            "Weigh and measure as the card says. Powder into water, let it soak, spatulate for a minute, count the turns.",
            "Fill the ring. Lift it at 2 minutes. Measure the spread in two directions that cross.",
            "Put the rest into the bar with its two marks, and into cylinder moulds if you have them. Vibrate.",
            "Watch for the loss of gloss and the needle marks. Write down each moment at once, in the table of this lesson or on the card.",
            "At 2 h measure the bar. Have the cylinders crushed, wet, at 1 h, by the person who is trained on the press.",
            "Mix the same recipe twice more. Three mixes of one recipe are worth more than three recipes mixed once.",
        ),
        record=(
            "powder in g and water in mL, as they were, not as they were meant",
            "turns, temperatures of water and room, lot of the powder",
            "spread in two directions in mm, and whether the vibrator ran",
            "loss of gloss, light and heavy needle, in min from the start of mixing",
            "length at the loss of gloss in mm, change at 2 h in µm",
            "diameter of the cylinder in mm, load in N, hours after mixing, wet or dry",
            "everything that went otherwise than planned",
        ),
        cautions=(
            "Wear a mask and eye protection. Dry powder makes dust: pour it slowly and low. Use the dust extraction.",
            "Never put a finger, a hand or any part of the body into a setting mass: it gets hot.",
            "Keep hands, hair and sleeves away from spinning mixers. Check a vacuum vessel for cracks.",
            "The press is worked behind its guard, by trained persons only. Splinters fly: eye protection for all who watch.",
            "Impressions are contaminated until they have been disinfected by the maker's instructions.",
            "Gypsum goes into the waste bin, never down the drain. The instructions of the product and of your laboratory come first.",
        ), objectives=("L11-O1", "L11-O2", "L11-O3", "L11-O5")),
]
