"""Lesson 09, expansion and the accuracy of a cast: what it asks, explains and sets as work."""

from gypsumkit.studies.changes import conditions_with
from gypsumkit.studies.growth import growth_percent, reaction_shrinkage_percent
from gypsumkit.powders import POWDERS
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, SeveralChoices, Slip
from gypsumkit.recipe import Recipe
from gypsumkit.science.expansion import WET_TIMES, length_change_um
from gypsumkit.science.limits import expansion_limits


def _recipe(powder, ratio=None, change="nothing", amount=None):
    return Recipe(powder, POWDERS[powder].recommended_ratio.value if ratio is None else ratio, **conditions_with(change, amount))


def _growth(powder, ratio=None, change="nothing", amount=None, under_water=False):
    return growth_percent(_recipe(powder, ratio, change, amount), under_water)[0]


def _um(percent, length_mm):
    return float(length_change_um(percent, length_mm))


def _limit(iso_type, edition):
    return expansion_limits(iso_type, edition)[0].high_percent


def _die_case(powder, length_mm):
    return {"powder": powder, "length_mm": length_mm, "percent": round(_growth(powder), 2), "times": WET_TIMES}


def _trough_case(start_um, grown_percent, length_mm, iso_type, edition):
    return {"trough_mm": 100, "start_um": start_um, "end_um": start_um + round(1000 * grown_percent), "length_mm": length_mm, "iso_type": iso_type,
            "edition": edition, "limit_percent": _limit(iso_type, edition),
            "standing": "from memory" if edition == "1998" else "as quoted by others"}


OBJECTIVES = [
    Objective("L09-O1", "Explain why a cast grows from outside although its reaction shrinks."),
    Objective("L09-O2", "Turn an expansion in % into micrometres on a given length, and back."),
    Objective("L09-O3", "Judge an expansion by a limit, and say which edition and how sure the limit and the model are."),
    Objective("L09-O4", "Say what less water, more turns, additives and setting under water do to the size of a cast, and choose a powder for it."),
]

PREDICTIONS = [
    Choice(
        id="L09-P1", objective="L09-O4",
        prompt="A cast of model plaster sets in air and grows by {air:.2f} % by 2 h. The same mix is put under water as soon as it has lost its gloss. What does it do?",
        parameters={}, computed={"air": lambda p: _growth("model plaster"), "wet": lambda p: _growth("model plaster", under_water=True)},
        explanation="Under water it grows by about {wet:.2f} %, about twice as much. In air the water at the surface draws back between the crystals and holds "
                    "them together. Under water nothing holds them, so they push one another further apart.",
        options=(
            Option("It grows by the same: the reaction is the same.", "The reaction is the same, but under water nothing holds the growing crystals back.",
                   correct=lambda p: abs(p.wet / p.air - 1) < 0.1),
            Option("It grows less: the water presses on it.", "A few centimetres of water press far too little. What counts is the skin of water at the surface. Under water there is none.",
                   correct=lambda p: p.wet < 0.9 * p.air),
            Option("It grows clearly more.", "This is hygroscopic expansion. Some moulds for casting metal make use of it.", correct=lambda p: p.wet > 1.1 * p.air),
        )),
    Choice(
        id="L09-P2", objective="L09-O4",
        prompt="Model plaster is mixed with {less} mL of water per 100 g instead of {usual} mL. What happens to its setting expansion?",
        parameters={"less": 45, "usual": 50},
        computed={"before": lambda p: _growth("model plaster", p.usual / 100), "after": lambda p: _growth("model plaster", p.less / 100)},
        explanation="The model says: it grows by {after:.2f} % instead of {before:.2f} %. With less water the crystals begin closer together, so they meet earlier and push for longer.",
        options=(
            Option("It becomes smaller: less water, less of everything.", "The crystals grow as much as before, but they stand closer and push sooner.",
                   correct=lambda p: p.after < 0.97 * p.before),
            Option("It stays the same.", "That would be so if only the kind of powder counted. How close the crystals stand counts as well.",
                   correct=lambda p: 0.97 * p.before <= p.after <= 1.03 * p.before),
            Option("It becomes larger.", "Closer crystals meet earlier.", correct=lambda p: p.after > 1.03 * p.before),
        )),
]

NOTES = [
    Note("L09-N1",
         "The crystals of set gypsum take up less room than the powder and the water they came from. Yet a cast grows. Explain it to a friend. Use the words needle, push and void.",
         "The new crystals are needles that grow from many places. When they meet, they push one another apart and carry the whole mass outward a little. "
         "The room that they leave between them becomes larger, and since powder and water together take up less room than before, part of it fills with nothing: inner voids. "
         "So two things are true at once: the solid and the water together shrink by some percent, and the outside grows by a few tenths of a percent. The voids are the difference.", objectives=("L09-O1",)),
    Note("L09-N2",
         "A maker prints: “expansion 0.10 %, within the standard”. What do you ask before you use this for a bridge with three abutments?",
         "Which edition of the standard, which type, and is its limit from the standard itself? Measured when, at 2 hours or later, and at what ratio and mixing: less water and more turns "
         "make it larger. In air or in contact with a wet impression? How much is it on my length? 0.10 % of 30 mm are 30 micrometres. And how far do test pieces differ from one "
         "another? Last: do impression material, wax and alloy shrink, so that a stone that grows more is even wanted?", objectives=("L09-O3",)),
]

EXERCISES = [
    Exercise(
        id="L09-E1", objective="L09-O2", fade=2,
        situation="A cast of {powder} is {length_mm} mm long. In air this powder grows by {percent} % by 2 h. Under water it grows {times} times as much.",
        parameters=lambda draw: _die_case(draw.choice(["model plaster", "dental stone", "improved stone", "high-expansion stone"]), draw.choice([8, 12, 25, 40])),
        steps=(
            Step(name="air_um", say="By how many µm does it grow in air?", compute=lambda p: _um(p.percent, p.length_mm), unit="µm",
                 working="{percent} % of {length_mm} mm: {percent} ÷ 100 × {length_mm} mm × 1000 µm/mm = {answer}",
                 hint="1 % of 1 mm is 10 µm.", relative_tolerance=0.01,
                 slips=(Slip(lambda p: 100 * _um(p.percent, p.length_mm), "Divide by 100: the expansion is in percent."),
                        Slip(lambda p: _um(p.percent, p.length_mm) / 10, "One millimetre is 1000 µm, not 100."))),
            Step(name="wet_um", say="And under water, in µm?", compute=lambda p: p.times * p.air_um, unit="µm", working="{times} × {air_um:.3g} µm = {answer}",
                 hint="Multiply by {times}.", relative_tolerance=0.01),
            Step(name="wet_percent", say="And back: by how many % of its length has the cast grown under water?",
                 compute=lambda p: p.wet_um / (10 * p.length_mm), unit="%", working="{wet_um:.3g} µm ÷ ({length_mm} × 1000 µm) = {answer}",
                 hint="10 µm on 1 mm are 1 %.", relative_tolerance=0.01,
                 slips=(Slip(lambda p: p.wet_um / p.length_mm, "µm divided by mm is not yet percent: 10 µm on 1 mm are 1 %."),)),
        )),
    Exercise(
        id="L09-E2", objective="L09-O3", fade=2,
        situation="A stone sets in a trough of {trough_mm} mm. The dial shows {start_um} µm when the gloss is lost and {end_um} µm at 2 h. It is called a type {iso_type}. The "
                  "upper limit of the {edition} edition is {limit_percent} % ({standing}).",
        parameters=lambda draw: _trough_case(draw.choice([20, 35, 50]), *draw.choice([(0.09, 12, 3, "2013"), (0.17, 30, 4, "1998"), (0.12, 25, 4, "2013"),
                                                                                       (0.24, 10, 3, "1998")])),
        steps=(
            Step(name="grown_um", say="By how many µm has it grown?", compute=lambda p: p.end_um - p.start_um, unit="µm", working="{end_um} − {start_um} = {answer}",
                 hint="The dial did not begin at 0.", slips=(Slip(lambda p: p.end_um, "Subtract what the dial showed at the beginning."),)),
            Step(name="grown_percent", say="What expansion is that, in %?", compute=lambda p: 100 * p.grown_um / (1000 * p.trough_mm), unit="%",
                 working="{grown_um} µm ÷ ({trough_mm} × 1000 µm) = {answer}", hint="Turn both into the same unit, then divide.", relative_tolerance=0.01),
            Step(name="margin_percent", say="How far below the limit is it, in percentage points? Give it a minus sign when it is above.",
                 compute=lambda p: p.limit_percent - p.grown_percent, unit="%", working="{limit_percent} % − {grown_percent} % = {answer}",
                 hint="Limit minus measured.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.grown_percent - p.limit_percent, "The sign is the wrong way round: minus means above the limit."),)),
            Step(name="die_um", say="How many µm is this expansion on {length_mm} mm?", compute=lambda p: _um(p.grown_percent, p.length_mm), unit="µm",
                 working="{grown_percent} % of {length_mm} mm = {answer}", hint="1 % of 1 mm is 10 µm.", relative_tolerance=0.01),
        )),
]

QUESTIONS = [
    Choice(
        id="L09-Q1", objective="L09-O1",
        prompt="The reaction of plaster with water shrinks the volume by about {volume:.0f} %. Why does the cast still grow?",
        parameters={}, computed={"volume": lambda p: reaction_shrinkage_percent(_recipe("model plaster"))[0]},
        explanation="The needles push one another apart once they touch; what the reaction loses in volume becomes voids between them.",
        options=(
            Option("Because the mass becomes warm and stays that large.", "It cools down again within hours, but the growth stays. Warmth explains only a little of the growth, and only for a while."),
            Option("Because the growing needles push one another apart; the shrinkage stays inside as voids.", "Growth outside and shrinkage inside go together.", correct=True),
            Option("Because it takes up water from the air.", "It grows in a closed vessel as well. The water of the mix is enough."),
            Option("It does not grow: the number only says how far it has set.", "It can be measured with a dial: a few tenths of a percent of the length."),
        )),
    NumberWithUnit(
        id="L09-Q2", objective="L09-O2",
        prompt="An improved stone grows by {percent} %. How many µm are that on a die of {length_mm} mm?",
        parameters=lambda draw: {"percent": draw.choice([0.06, 0.08, 0.12]), "length_mm": draw.choice([7, 9, 12, 30])},
        key=lambda p: _um(p.percent, p.length_mm), unit="µm", relative_tolerance=0.02, tolerance_why="plain arithmetic.",
        slips=(Slip(lambda p: 100 * _um(p.percent, p.length_mm), "The expansion is in percent: divide by 100."),
               Slip(lambda p: _um(p.percent, p.length_mm) / 10, "You took 100 µm for 1 mm; it is 1000 µm.")),
        hint="1 % of 1 mm is 10 µm.", explanation="{percent} % of {length_mm} mm are {key}."),
    Choice(
        id="L09-Q3", objective="L09-O3",
        prompt="The model says 0.13 % with a plausible range from 0.10 to 0.17 %. The limit you remember for this type is 0.15 %. What may you write down?",
        explanation="Say the value, the range, the edition and where the limit comes from. Then the reader knows what it is worth.",
        options=(
            Option("It passes.", "The value lies below the limit, but the range reaches above it, and the limit is from memory. A pass needs the standard and a measurement."),
            Option("It fails, because the range reaches above the limit.", "The value lies below. A range is no measurement either."),
            Option("Inside at the value; the range reaches above; limit from memory: measure, and look the limit up.", "That is all that is known, and nothing more.", correct=True),
        )),
    SeveralChoices(
        id="L09-Q4", objective="L09-O4",
        prompt="Which of these make a cast grow more, in the model of lesson 09?",
        explanation="What brings the crystals closer together or lets them push freely makes the cast larger.",
        options=(
            Option("less water", "The crystals start closer together.", correct=lambda p: _growth("model plaster", 0.45) > _growth("model plaster")),
            Option("more turns of the spatula", "More pieces of crystal, closer together.",
                   correct=lambda p: _growth("model plaster", change="turns of the spatula", amount=300.0) > _growth("model plaster")),
            Option("potassium sulfate", "It makes the mix set sooner, and still it lowers the expansion. Makers use it for that.",
                   correct=lambda p: _growth("model plaster", change="potassium sulfate", amount=2.0) > _growth("model plaster")),
            Option("setting under water", "Nothing holds the crystals back.", correct=lambda p: _growth("model plaster", under_water=True) > _growth("model plaster")),
            Option("more water", "The crystals start further apart and push later.", correct=lambda p: _growth("model plaster", 0.55) > _growth("model plaster")),
        )),
    NumberWithUnit(
        id="L09-Q5", at_picture=True, objective="L09-O4",
        prompt="Find it with the explorer: by how many µm does an arch of {length_mm} mm grow in air when model plaster is mixed with {ratio_ml} mL per 100 g, 180 turns?",
        parameters={"length_mm": 50, "ratio_ml": 45}, computed={"usual_um": lambda p: _um(_growth("model plaster"), p.length_mm)},
        key=lambda p: _um(_growth("model plaster", p.ratio_ml / 100), p.length_mm), unit="µm", relative_tolerance=0.04,
        tolerance_why="the picture shows two digits.",
        slips=(Slip(lambda p: _um(_growth("model plaster"), p.length_mm), "That is at the recommended ratio. Set the ratio of the question."),
               Slip(lambda p: _um(_growth("model plaster", p.ratio_ml / 100, under_water=True), p.length_mm), "That is under water; the question asks for air.")),
        hint="Choose model plaster, type the ratio and the length, and read the number over the die.",
        explanation="It grows by {key}. At its recommended ratio it grows by {usual_um:.0f} µm."),
    Choice(
        id="L09-Q6", objective="L09-O4",
        prompt="Why do makers sell a stone that grows more, type 5, beside one that grows less, type 4?",
        explanation="Some alloys shrink more than others when they cool. A die that is a little too large makes up for it.",
        options=(
            Option("Because it is easier to make.", "Both are made with care from the same mineral. Salts in the powder set how much it grows."),
            Option("Because its growth makes up for the shrinkage of some castings.", "The errors of a chain of steps are meant to cancel.", correct=True),
            Option("Because a cast that grows is stronger.", "Strength follows porosity. Growth does not make a cast stronger."),
            Option("Because it becomes exact after drying.", "Drying does not take back the setting expansion."),
        )),
]

BENCH_TASKS = [
    BenchTask(
        "L09-B1", "How much does a bar grow?",
        do=(
            "Make a trough about 100 mm long with one end that can move. Line it with a thin greased film. Measure with a dial gauge, or with two marks and a calliper.",
            "Mix dental stone at its recommended ratio: let it soak for half a minute, then mix for 1 minute. Fill the trough. Set the dial to zero when the gloss is lost.",
            "Read it every 10 minutes for 2 hours, and once more the next day.",
            "Do the same with model plaster. If there is time: once more with 5 mL less water per 100 g.",
        ),
        record=(
            "Length at the start, readings with their times, room temperature.",
            "Expansion at 2 h and after a day, in %. Micrometres on a die of 10 mm.",
            "Is it inside the plausible range of the model? Which limit would you compare with, from which edition, and where did you read it?",
            "How far do two equal bars differ? Is the effect of the water larger than that?",
        ),
        cautions=(
            "Wear a mask and eye protection. Powder into water, slowly.",
            "Never put a finger, a hand or any part of the body into a setting mass: it gets hot.",
            "No salts at the bench without the demonstrator. No borax. Nothing down the drain.",
            "The instructions of the product and of your laboratory come first.",
        ), objectives=("L09-O2", "L09-O3", "L09-O4")),
]
