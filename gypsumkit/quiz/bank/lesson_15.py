"""Lesson 15, the accuracy chain: what it asks, explains and sets as work."""

from gypsumkit.bench.accuracy_chain import FITS, MAY_FIT, Sizes
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, SeveralChoices, Slip
from gypsumkit.science.expansion import length_change_um

SPAN, CROWN, ALONE = "bridge span, nickel-chromium", "crown, gold alloy", "the cast alone"


def _um(percent, length_mm):
    return float(length_change_um(percent, length_mm))


def _span(stone):
    return Sizes("addition silicone", stone, SPAN, 40)


def _largest_doubt(p):
    shares = Sizes(work=CROWN).doubt_shares()
    return max(shares, key=shares.get)


OBJECTIVES = [
    Objective("L15-O1", "Name the links from tooth to work in order, and say of each whether it makes the work larger or smaller."),
    Objective("L15-O2", "Add changes in % to micrometres on a length, and add their ranges by the root of the sum of squares."),
    Objective("L15-O3", "Judge a chain against the room that is wanted, and say which link to measure first."),
    Objective("L15-O4", "Say when a stone of high expansion is right and when one of low expansion."),
]

PREDICTIONS = [
    Choice(
        id="L15-P1", objective="L15-O4",
        prompt="A bridge span of 40 mm, addition silicone, nickel-chromium alloy. On improved stone the chain ends too short. What does high-expansion stone do to it?",
        parameters={}, computed={"low": lambda p: _span("improved stone").room_um()[0], "high": lambda p: _span("high-expansion stone").room_um()[0],
                                 "gain": lambda p: _span("high-expansion stone").room_um()[0] - _span("improved stone").room_um()[0]},
        explanation="The end moves from {low:.0f} to {high:.0f} µm: nearer by {gain:.0f} µm, and still short. The range is much wider than this step. A stone corrects a part. It cannot replace an "
                    "investment that suits the alloy.",
        options=(
            Option("It closes the gap: then the span certainly fits.", "It moves the end by some tens of micrometres, and the range stays.", correct=lambda p: _span("high-expansion stone").verdict() == FITS),
            Option("It brings the end nearer, but does not make the fit certain.", "A part is corrected. The range stays wide.",
                   correct=lambda p: p.low < p.high < 0 and _span("high-expansion stone").verdict() == MAY_FIT),
            Option("It makes it worse: more expansion, more error.", "Here the other links leave it too short, so a longer cast helps.", correct=lambda p: p.high < p.low),
            Option("Nothing: the alloy shrinks by what it shrinks.", "The alloy shrinks the size that it is given. A larger die gives a larger casting.", correct=lambda p: abs(p.gain) < 5),
        )),
    Choice(
        id="L15-P2", objective="L15-O3",
        prompt="A crown of 8 mm, gold alloy, with lacquer on the die as a spacer. Every link has a range. Which link puts the largest doubt into the fit, with the ranges of this lesson?",
        parameters={}, computed={"share": lambda p: 100 * max(Sizes(work=CROWN).doubt_shares().values())},
        explanation="The spacer: {share:.0f} % of the squared range. On a short length a layer in µm counts more than percents. So check how the lacquer is brushed before you change the stone.",
        options=(
            Option("the stone", "Its range is about 0.02 %: two micrometres here.", correct=lambda p: _largest_doubt(p) == "stone"),
            Option("the impression", "The remembered range of an addition silicone is narrow.", correct=lambda p: _largest_doubt(p) == "impression"),
            Option("the alloy", "It shrinks most. But we know how much better than we know the thickness of a brushed layer.", correct=lambda p: _largest_doubt(p) == "alloy"),
            Option("the spacer", "It is brushed on by hand: 20 to 40 µm a side.", correct=lambda p: _largest_doubt(p) == "spacer"),
        )),
]

NOTES = [
    Note("L15-N1",
         "“Improved stone grows least, so it is always the most accurate.” Answer this sentence. Use the words chain, shrink and cancel.",
         "The cast is one link of a chain. When something is cast in metal, the wax and the alloy shrink and the investment grows. If the sum comes out too small, a stone that grows more can "
         "cancel a part of it. When the cast is the end, as for a study model or an appliance that is made on it, nothing comes after that could cancel its growth, so the smallest change is "
         "best, unless the impression has shrunk by about as much. So the right stone depends on the other links, and their ranges may be wider than the difference between two stones.", ("L15-O4", "L15-O1")),
    Note("L15-N2",
         "Mr Okoro says: “Do not measure what you can measure well. Measure what you doubt most.” Explain it with the ranges of one chain.",
         "Independent ranges add by squares, so the widest one decides. For a gold crown of 8 mm the spacer alone can be 30 µm more than usual, the wax 16 µm either way, the stone 1 µm. If I measure the stone ten "
         "times better, the range of the end hardly changes. If I measure the layer of lacquer, it becomes clearly narrower.", ("L15-O3",)),
]

EXERCISES = [
    Exercise(
        id="L15-E1", objective="L15-O2", fade=2,
        situation="A length of {length_mm} mm. The impression changes it by {impression} %, the stone by {stone} %, the wax by {wax} %, the investment by +{mould} % in all, and the alloy by {alloy} %. "
                  "Small percents may simply be added.",
        parameters=lambda draw: {"length_mm": draw.choice([8, 10, 25]), "impression": draw.choice([-0.12, -0.16]), "stone": draw.choice([0.06, 0.09, 0.22]), "wax": draw.choice([-0.2, -0.1]),
                                 **draw.choice([{"mould": 1.55, "alloy": -1.5}, {"mould": 2.15, "alloy": -2.3}])},
        steps=(
            Step(name="cast_percent", say="By how many % does the cast differ from the tooth?", compute=lambda p: p.impression + p.stone, unit="%", working="({impression} %) + {stone} % = {answer}",
                 hint="Impression and stone only, with their signs.", relative_tolerance=0.02),
            Step(name="cast_um", say="How many µm is that?", compute=lambda p: _um(p.cast_percent, p.length_mm), unit="µm", working="10 × {cast_percent:.3g} × {length_mm} µm = {answer}",
                 hint="1 % of 1 mm is 10 µm.", relative_tolerance=0.02, slips=(Slip(lambda p: 100 * _um(p.cast_percent, p.length_mm), "Divide by 100: it is in percent."),)),
            Step(name="all_percent", say="By how many % does the casting differ from the tooth?", compute=lambda p: p.cast_percent + p.wax + p.mould + p.alloy, unit="%",
                 working="({cast_percent:.3g} %) + ({wax} %) + {mould} % + ({alloy} %) = {answer}", hint="Add all links with their signs.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.wax + p.mould + p.alloy, "The cast comes first: add its change as well."),)),
            Step(name="all_um", say="How many µm is that?", compute=lambda p: _um(p.all_percent, p.length_mm), unit="µm", working="10 × {all_percent:.3g} × {length_mm} µm = {answer}",
                 hint="1 % of 1 mm is 10 µm.", relative_tolerance=0.02),
        )),
    Exercise(
        id="L15-E2", objective="L15-O2", fade=1,
        situation="A chain ends at {end} µm. Its links are independent. Each may be off either way: wax by {wax} µm, investment by {mould} µm, alloy by {alloy} µm.",
        parameters=lambda draw: dict(zip(("end", "wax", "mould", "alloy"), draw.choice([(30, 16, 14, 12), (60, 30, 40, 20), (-20, 9, 20, 12), (45, 12, 16, 21)]))),
        steps=(
            Step(name="worst", say="How far off is the end if all links are at their worst end together, in µm?", compute=lambda p: p.wax + p.mould + p.alloy, unit="µm", working="{wax} + {mould} + {alloy} = {answer}",
                 hint="Add them."),
            Step(name="likely", say="How far off is the end by the root of the sum of squares, in µm?", compute=lambda p: (p.wax ** 2 + p.mould ** 2 + p.alloy ** 2) ** 0.5, unit="µm",
                 working="√({wax}² + {mould}² + {alloy}²) = {answer}", hint="Square each, add, take the root.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.wax ** 2 + p.mould ** 2 + p.alloy ** 2, "Take the root at the end."),)),
            Step(name="low", say="What is the lower end of the range then, in µm?", compute=lambda p: p.end - p.likely, unit="µm", working="{end} − {likely:.3g} = {answer}", hint="End minus range.",
                 absolute_tolerance=0.5, slips=(Slip(lambda p: p.end - p.worst, "That is the worst case."),)),
        )),
]

QUESTIONS = [
    SeveralChoices(
        id="L15-Q1", objective="L15-O1",
        prompt="Which of these links make the casting larger?",
        explanation="The mould grows while it sets and while it is heated. A layer of lacquer makes the pattern wider. Wax and metal shrink.",
        options=(
            Option("The investment sets.", "Its binder, gypsum or phosphate, pushes outward while it sets: the mould grows.", correct=True),
            Option("The investment is heated.", "The silica in it grows, most of all at certain temperatures: the mould grows.", correct=True),
            Option("The wax cools.", "It shrinks while it cools."),
            Option("The alloy becomes solid and cools.", "It shrinks most of all links."),
            Option("Lacquer is brushed on the die.", "The wax pattern is made over the layer, so it becomes wider.", correct=True),
        )),
    NumberWithUnit(
        id="L15-Q2", objective="L15-O2",
        prompt="An impression shrinks by {impression} %, and the stone grows by {stone} %. How many µm longer is the cast than its {length_mm} mm? Give a minus sign when it is shorter.",
        parameters=lambda draw: draw.choice([{"impression": 0.15, "stone": 0.09, "length_mm": 40}, {"impression": 0.2, "stone": 0.06, "length_mm": 30}]),
        key=lambda p: _um(p.stone - p.impression, p.length_mm), unit="µm", relative_tolerance=0.02, tolerance_why="plain arithmetic.",
        slips=(Slip(lambda p: _um(p.stone + p.impression, p.length_mm), "One shrinks and one grows: mind the signs."),
               Slip(lambda p: _um(p.impression - p.stone, p.length_mm), "The sign is the other way round.")),
        hint="Add the percents with their signs; 1 % of 1 mm is 10 µm.", explanation="{key}: the cast is shorter than the tooth."),
    NumberWithUnit(
        id="L15-Q3", objective="L15-O2",
        prompt="Two independent links may be off by {a} µm and by {b} µm. By how many µm may their sum be off, by the root of the sum of squares?",
        parameters=lambda draw: draw.choice([{"a": 30, "b": 40}, {"a": 12, "b": 5}]),
        key=lambda p: (p.a ** 2 + p.b ** 2) ** 0.5, unit="µm", relative_tolerance=0.02, tolerance_why="plain arithmetic.",
        slips=(Slip(lambda p: float(p.a + p.b), "That is both at their worst end together."),),
        hint="Square, add, root.", explanation="{key}: less than the plain sum, because both are rarely at their worst end together."),
    Choice(
        id="L15-Q4", objective="L15-O4",
        prompt="For which work is a stone of low expansion the right choice, without asking about alloys?",
        explanation="Here the cast is the last link before the work. Nothing that shrinks comes after it.",
        options=(
            Option("A crown in an alloy that shrinks more than its investment grows.", "There a larger die may cancel a part."),
            Option("An appliance that is made directly on a cast from a steady impression.", "Nothing shrinks afterwards.", correct=True),
            Option("None: it is always the best.", "It grows least. Whether that is best depends on the other links."),
            Option("Any work longer than 30 mm.", "The length turns percents into micrometres. Whether more or less growth is wanted, the other links decide."),
        )),
    Choice(
        id="L15-Q5", objective="L15-O3",
        prompt="The range of a chain goes from 20 to 85 µm. Wanted is 50 to 100 µm. What do you write?",
        explanation="A part of the range lies inside: it may fit. Next, measure the link with the largest doubt.",
        options=(
            Option("It fits: the middle lies inside.", "Nearly half of the range does not."),
            Option("It is too small.", "A part of the range lies inside."),
            Option("It may fit; measure the link with the largest doubt.", "Then the range becomes narrower where it counts.", correct=True),
            Option("Choose another stone until the range lies inside.", "No stone makes the range of the other links narrower."),
        )),
    NumberWithUnit(
        id="L15-Q6", at_picture=True, objective="L15-O3",
        prompt="Find it with the explorer: polyether, improved stone, the cast alone, {length_mm} mm. By how many µm is the cast longer than between the teeth? Minus when shorter.",
        parameters={"length_mm": 50},
        key=lambda p: Sizes("polyether", "improved stone", ALONE, p.length_mm).room_um()[0], unit="µm", relative_tolerance=0.03, tolerance_why="the picture shows whole micrometres.",
        slips=(Slip(lambda p: -Sizes("polyether", "improved stone", ALONE, p.length_mm).room_um()[0], "It is shorter: minus."),),
        hint="Choose the four settings and read “in the end”.", explanation="{key}: the whole range lies below what was wanted here."),
]

BENCH_TASKS = [
    BenchTask(
        "L15-B1", "Your own chain, from mark to mark",
        do=(
            "Take a metal block or a ruled plate with two fine marks, 30 to 50 mm apart. Measure between the marks five times with a calliper or a microscope.",
            "Make an impression of it with a silicone of your laboratory, in a stiff tray. Follow its product sheet. Measure between the marks in the impression five times.",
            "Pour it in improved stone and, from a second impression, in high-expansion stone, by the schedule of lesson 13. Measure each cast at 2 h and the next day, five times.",
            "Type your own values into the explorer: impression and stone, in µm on your length. Read the end for the cast alone, then for a work of your laboratory.",
            "Ask who casts in your laboratory which expansion the sheet of the investment promises, and type it in.",
        ),
        record=(
            "Length, five readings each: block, impression, casts; mean and scatter of each",
            "Change of each link, in µm and in %. Is it larger than the scatter of your readings?",
            "Your chain against the chain of the lesson: which link differs, and by how much?",
            "Which link holds the largest doubt, and how would you measure it?",
        ),
        cautions=(
            "Wear a mask and eye protection with powder. Never put any part of the body into a setting mass: it gets hot.",
            "No impression from a mouth for this task.",
            "No casting of metal in this task: hot ovens, molten alloy and investment dust, which holds silica, only in trained hands with dust extraction. Dust of nickel alloys is harmful.",
            "Waste goes where your laboratory says, never down the drain.",
            "The instructions of the product and of your laboratory come first.",
        ), objectives=("L15-O2", "L15-O3")),
]
