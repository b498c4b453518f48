"""Lesson 05, strength: what it asks, explains and sets as work."""

from gypsumkit.studies.compromise import compromise
from gypsumkit.studies.handbook import HANDBOOK_STRENGTHS, law_off_range_percent
from gypsumkit.mix import Mix
from gypsumkit.powders import DRY_OVER_WET, POWDERS, STRENGTH_AT_30_PERCENT, STRENGTH_LOSS_RATE
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip
from gypsumkit.recipe import Recipe
from gypsumkit.science.strength import MIDDLE_POROSITY, dry_strength_mpa, wet_strength_mpa


def _mix(powder, ratio_ml):
    """The mix with `ratio_ml` mL of water per 100 g of powder."""
    return Mix(Recipe(powder, ratio_ml / 100))


def _wet_mpa(powder, ratio_ml):
    return float(_mix(powder, ratio_ml).wet_strength_mpa.value)


def _porosity_percent(powder, ratio_ml):
    return round(100 * float(_mix(powder, ratio_ml).porosity.value), 1)


def _line_mpa(porosity_percent):
    """Wet strength of the line, with the constants of the course."""
    return float(wet_strength_mpa(porosity_percent / 100, STRENGTH_AT_30_PERCENT.value, STRENGTH_LOSS_RATE.value))


def _usual_ml(powder):
    return 100 * POWDERS[powder].recommended_ratio.value


def _loss_percent(powder, extra_ml):
    """Wet strength lost by so many mL per 100 g more than recommended, %."""
    return 100 * (1 - _wet_mpa(powder, _usual_ml(powder) + extra_ml) / _wet_mpa(powder, _usual_ml(powder)))


def _both(powder, wanted_mpa, dried=False):
    """The window of ratios that pour and carry, mL per 100 g; (0, 0) when there is none."""
    window = compromise(powder, wanted_mpa, dried).both
    return (0.0, 0.0) if window is None else (100 * window[0], 100 * window[1])


def _strength_case(powder, ratio_ml):
    return {"powder": powder, "ratio_ml": ratio_ml, "porosity_percent": _porosity_percent(powder, ratio_ml),
            "usual_mpa": round(_wet_mpa(powder, _usual_ml(powder)), 1), "at_30": round(STRENGTH_AT_30_PERCENT.value, 2),
            "rate": round(STRENGTH_LOSS_RATE.value, 3),
            "dry_over_wet": DRY_OVER_WET.value, "part": _porosity_percent(powder, ratio_ml) / 100,
            "away": _porosity_percent(powder, ratio_ml) / 100 - MIDDLE_POROSITY}


def _crushed(powder, ratio_ml, times):
    model = _wet_mpa(powder, ratio_ml)
    first, second, third = (round(times * share * model, 1) for share in (0.95, 1.0, 1.06))
    return {"powder": powder, "ratio_ml": ratio_ml, "model_mpa": round(model, 1), "first": first, "second": second, "third": third}


READ_FROM_CURVE = "a strength read from the line is good to a few percent."

OBJECTIVES = [
    Objective("L05-O1", "Explain why strength follows porosity, and why one line serves all powders."),
    Objective("L05-O2", "Compute wet, dry and relative strength, and say which of them a number is."),
    Objective("L05-O3", "Find the ratios of a powder that pour and carry a wanted strength, or say that there are none."),
    Objective("L05-O4", "Say how far a model is off, and what a fit does not prove."),
]

PREDICTIONS = [
    Choice(
        id="L05-P1", objective="L05-O3",
        prompt="A working model of dental stone has to carry {wanted_mpa} MPa, wet, 1 h after mixing. The recommended water is {usual_ml:.0f} mL "
               "per 100 g. Is there a ratio that pours and carries it?",
        parameters={"wanted_mpa": 27},
        computed={"usual_ml": lambda p: _usual_ml("dental stone"), "usual_mpa": lambda p: _wet_mpa("dental stone", p.usual_ml),
                  "first": lambda p: _both("dental stone", p.wanted_mpa)[0], "last": lambda p: _both("dental stone", p.wanted_mpa)[1]},
        explanation="At {usual_ml:.0f} mL the model gives {usual_mpa:.3g} MPa. Both conditions hold from {first:.1f} to {last:.1f} mL per 100 g: "
                    "a narrow window at the stiff end of what pours. The plausible range is wider than this window, so nobody should rely on it.",
        options=(
            Option("Yes, at the recommended ratio.", "There it pours well, but it carries less than what is wanted.",
                   correct=lambda p: p.first <= p.usual_ml <= p.last),
            Option("Yes, but only with less water than recommended.", "Less water leaves fewer pores, until the mix no longer pours.",
                   correct=lambda p: 0 < p.last < p.usual_ml),
            Option("Yes, with more water than recommended: then it fills the mould better.",
                   "It fills the mould better, but the extra water leaves pores, and the model is weaker.",
                   correct=lambda p: p.first > p.usual_ml),
            Option("No. Only another powder carries that.", "Almost: the window is narrow. But there is one.", correct=lambda p: p.last == 0),
        )),
    Choice(
        id="L05-P2", objective="L05-O1",
        prompt="Model plaster and improved stone are both mixed with {extra_ml} mL of water per 100 g more than recommended. Which loses the larger "
               "share of its wet strength?",
        parameters={"extra_ml": 5},
        computed={"plaster": lambda p: _loss_percent("model plaster", p.extra_ml), "improved": lambda p: _loss_percent("improved stone", p.extra_ml)},
        explanation="The model says: plaster loses about {plaster:.0f} %, improved stone about {improved:.0f} %. The same water makes more new pores, "
                    "as a share of the volume, where the mass is dense.",
        options=(
            Option("Model plaster, because it is the weaker one.",
                   "It is weaker to begin with, but it holds so much water that a little more changes its porosity less.",
                   correct=lambda p: p.plaster > 1.1 * p.improved),
            Option("Improved stone, because it holds so little water to begin with.",
                   "5 mL more is a large step for a powder that takes little water.",
                   correct=lambda p: p.improved > 1.1 * p.plaster),
            Option("Both lose the same share: one line serves all powders.",
                   "The line is the same, but the step along it is not: the same 5 mL moves the porosity of the dense stone further.",
                   correct=lambda p: max(p.plaster, p.improved) <= 1.1 * min(p.plaster, p.improved)),
        )),
]

NOTES = [
    Note("L05-N1",
         "Stone is stronger than plaster. Yet at 50 mL of water per 100 g a handbook gives nearly the same strength for plaster, stone and improved "
         "stone. How do the two facts fit together? Use the words porosity and water.",
         "Set plaster, stone and improved stone are made of the same crystals of gypsum. What differs is how many pores stand between the crystals, and "
         "the pores come from the water that is not bound. At the same ratio all three have nearly the same porosity, so nearly the same strength. Stone "
         "is stronger at its own ratio because its dense, regular grains pour with far less water: fewer pores, more strength. The powder does "
         "not bring the strength; it brings the small need for water.", objectives=("L05-O1",)),
    Note("L05-N2",
         "Our line meets nine handbook values within 18 %. Ines says: “So the line is proved.” What do you answer?",
         "The line was drawn through these same nine values: its two numbers were chosen so that it meets them. That it comes near them is no proof. "
         "It only shows that such a line is possible. A test needs values that were not used. The dry industrial plasters are such values. The dry line comes "
         "within about a fifth of five of them; that also tests the factor two from wet to dry. It misses the sixth, the strongest, by a third. And the picture "
         "shows where the line is too simple: each powder, close to its own ratio, weakens more steeply than the line.", objectives=("L05-O4",)),
]

EXERCISES = [
    Exercise(
        id="L05-E1", objective="L05-O2", fade=2,
        situation="A mix of {powder} at {ratio_ml} mL per 100 g has a porosity of {porosity_percent} %. At the recommended ratio the same powder has a wet "
                  "strength of {usual_mpa} MPa. The line of this course is S = {at_30:.2f} MPa × e to the power of [−{rate:.3f} × (porosity − 0.30)], with "
                  "the porosity as a part of 1. Dry strength is taken as {dry_over_wet} times the wet one.",
        parameters=lambda draw: _strength_case(*draw.choice([("model plaster", 55), ("model plaster", 60), ("dental stone", 35), ("dental stone", 40),
                                                             ("improved stone", 28), ("improved stone", 26)])),
        steps=(
            Step(name="wet_mpa", say="What is the wet strength in MPa?",
                 compute=lambda p: round(float(p.at_30 * wet_strength_mpa(p.porosity_percent / 100, 1.0, p.rate)), 2), unit="MPa",
                 working="{porosity_percent} % is the part {part:.3f}. {part:.3f} − 0.30 = {away:+.3f}. {at_30:.2f} MPa × e to the power of (−{rate:.3f} × {away:+.3f}) "
                         "= {answer}",
                 hint="First turn the porosity into a part of 1 and take 0.30 away. A calculator has a key e^x or exp.", relative_tolerance=0.02),
            Step(name="dry_mpa", say="What is the dry strength in MPa?", compute=lambda p: dry_strength_mpa(p.wet_mpa, p.dry_over_wet), unit="MPa",
                 working="{dry_over_wet} × {wet_mpa:.2f} MPa = {answer}", hint="Dry is about {dry_over_wet} times wet.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.wet_mpa / p.dry_over_wet, "Dry is stronger than wet: multiply."),)),
            Step(name="relative_percent", say="What is the relative strength, in % of that at the recommended ratio?",
                 compute=lambda p: 100 * p.wet_mpa / p.usual_mpa, unit="%", working="{wet_mpa:.2f} MPa ÷ {usual_mpa} MPa = {answer}",
                 hint="Wet strength here, divided by wet strength at the recommended ratio.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: 100 * p.dry_mpa / p.usual_mpa, "Compare wet with wet, not dry with wet."),
                        Slip(lambda p: 100 * p.usual_mpa / p.wet_mpa, "That is upside down: divide by the strength at the recommended ratio."))),
        )),
    Exercise(
        id="L05-E2", objective="L05-O4", fade=1,
        situation="A laboratory crushes three wet pieces of {powder}, mixed at {ratio_ml} mL per 100 g: {first} MPa, {second} MPa, {third} MPa. "
                  "The model says {model_mpa} MPa. (The laboratory is invented.)",
        parameters=lambda draw: _crushed(*draw.choice([("model plaster", 50), ("dental stone", 30), ("improved stone", 23), ("improved stone", 24)]),
                                         draw.choice([0.88, 1.07, 1.15])),
        steps=(
            Step(name="mean_mpa", say="What is the mean of the three in MPa?", compute=lambda p: round((p.first + p.second + p.third) / 3, 2), unit="MPa",
                 working="({first} + {second} + {third}) ÷ 3 = {answer} (the next step keeps one digit more)", hint="Add the three and divide by 3.",
                 slips=(Slip(lambda p: p.first + p.second + p.third, "That is the sum; divide it by 3."),)),
            Step(name="off_percent", say="By how much does the model differ from the mean, in % of the mean? Give it a minus sign when the model is too low.",
                 compute=lambda p: 100 * (p.model_mpa / p.mean_mpa - 1), unit="%", working="({model_mpa} − {mean_mpa:.2f}) ÷ {mean_mpa:.2f} = {answer}",
                 hint="Model minus mean, divided by the mean.", relative_tolerance=0.05, absolute_tolerance=0.7,
                 tolerance_why="a small difference of two rounded numbers is good to about 1 %.",
                 slips=(Slip(lambda p: -100 * (p.model_mpa / p.mean_mpa - 1), "The sign is the other way round: minus means that the model is too low."),)),
        )),
]


QUESTIONS = [
    Choice(
        id="L05-Q1", objective="L05-O1",
        prompt="“The less water, the stronger: the driest mix is always the best.” What is wrong with it?",
        explanation="Less water means fewer pores from water. A little below the stiff end the model still gains some strength, but the mix no longer "
                    "fills the mould. Still drier, trapped air makes it weak.",
        options=(
            Option("Nothing is wrong with it.", "That is the mistake “drier is always better”. A mix that does not pour does not fill the mould, and a very dry one is weak."),
            Option("A mix too stiff to pour does not fill the mould, and still drier it traps air that makes it weak.",
                   "A little below the stiff end it may still gain strength, but it is no longer a model of the mouth.", correct=True),
            Option("Less water means less reaction, so fewer crystals form at any usual ratio.",
                   "Every usual ratio holds more water than the powder can bind. Only far below that does powder stay unreacted."),
        )),
    NumberWithUnit(
        id="L05-Q2", objective="L05-O2",
        prompt="A model of improved stone has a wet strength of {wet_mpa} MPa at 1 h. What strength in MPa do you expect once it is dry?",
        parameters={"wet_mpa": 34, "dry_over_wet": DRY_OVER_WET.value},
        key=lambda p: float(dry_strength_mpa(p.wet_mpa, p.dry_over_wet)), unit="MPa", relative_tolerance=0.15,
        tolerance_why="the factor lies somewhere between 1.7 and 2.3.",
        slips=(Slip(lambda p: p.wet_mpa / p.dry_over_wet, "That is half. Drying makes gypsum stronger, not weaker."),
               Slip(lambda p: p.wet_mpa, "That is the wet strength itself. Water between the crystals weakens them; without it they carry more.")),
        hint="Dry is about twice wet.", explanation="About {dry_over_wet} times {wet_mpa} MPa is {key}."),
    SeveralChoices(
        id="L05-Q3", objective="L05-O4",
        prompt="The line of strength against porosity was fitted to nine handbook values. Which statements are right?",
        explanation="A fit reproduces what it was made from. Values from outside test it, and the misfit shows where it is too simple.",
        parameters={}, computed={"low": lambda p: -law_off_range_percent(HANDBOOK_STRENGTHS)[0], "high": lambda p: law_off_range_percent(HANDBOOK_STRENGTHS)[1]},
        options=(
            Option("That the line comes near the nine values does not prove it.", "It was chosen to come near them.", correct=True),
            Option("Values that were not used for the fit can test it.", "The dry industrial plasters are such values.", correct=True),
            Option("The line meets all nine values exactly.", "It does not: it lies up to {high:.0f} % above and {low:.0f} % below them."),
            Option("Near its own ratio each powder weakens more steeply than the line.",
                   "The misfit under the picture goes from below zero to above zero within a few mL.", correct=True),
            Option("A product of another maker must lie on the line.", "A real product differs. The range says how far one may lie off; the maker's own number is better."),
        )),
    Choice(
        id="L05-Q4", objective="L05-O1",
        prompt="At {ratio_ml} mL per 100 g plaster and improved stone are nearly equally strong. Why does the laboratory still pay more for improved stone?",
        explanation="Strength follows porosity. Improved stone pours with less than half the water of plaster, so it can have far fewer pores.",
        parameters={"ratio_ml": 50},
        options=(
            Option("Because it pours with far less water, and so can be much less porous.", "The gain is in the small need for water.", correct=True),
            Option("Because its crystals are of a stronger substance.", "The set substance is the same gypsum. What differs is how much of the volume it fills."),
            Option("Because it binds more water for each gram.", "Both bind the same 18.6 g per 100 g: the reaction is the same."),
        )),
    NumberWithUnit(
        id="L05-Q5", at_picture=True, objective="L05-O3",
        prompt="Find it with the explorer: what is the largest ratio, in mL per 100 g, at which model plaster still carries {wanted_mpa} MPa wet?",
        parameters={"wanted_mpa": 11}, key=lambda p: 100 * compromise("model plaster", p.wanted_mpa).carries[1], unit="mL per 100 g",
        absolute_tolerance=0.6, tolerance_why=READ_FROM_CURVE,
        slips=(Slip(lambda p: 100 * compromise("model plaster", p.wanted_mpa).pours[1], "That is where pouring ends; you want where the strength falls below the wanted one."),
               Slip(lambda p: 100 * compromise("model plaster", p.wanted_mpa, dried=True).carries[1],
                    "That is for the dry strength; the question asks for wet.")),
        hint="Choose model plaster, wet. Set the wanted strength, and read the right end of “strong enough”.",
        explanation="The window of what carries {wanted_mpa} MPa ends at {key}. More water leaves too many pores."),
    PutInOrder(
        id="L05-Q6", objective="L05-O3",
        prompt="In which order do you choose powder and ratio for a model that must carry a wanted strength?",
        explanation="Say what is needed, find a powder that can do it while it pours, stay away from the edges, then mix exactly, and test.",
        steps=(
            Place("Say which strength is wanted, and whether wet or dry.", "Without wet or dry the number may be out by a factor of two."),
            Place("Choose a powder with a window that pours and carries it.", "If there is no window, no ratio will help: take another powder."),
            Place("Choose a ratio inside the window, away from its edges.", "A slip of the balance or the cylinder must not carry you out."),
            Place("Weigh the powder, measure the water, and mix.", "A ratio judged by eye makes the choice worthless."),
            Place("Crush a few test pieces and compare with what was wanted.", "The model guides the choice; the test decides."),
        )),
]

BENCH_TASKS = [
    BenchTask(
        "L05-B1", "Three ratios, wet and dry",
        do=(
            "Mix model plaster with 45, 50 and 60 mL of water per 100 g, each from 100 g of powder, in the same way and for the same time.",
            "Fill four small moulds of equal shape from each mix, for example in an ice cube tray that is not used for food again. Tap out the bubbles.",
            "Take the pieces out after an hour, when they are cold again. Weigh each piece at once, and write a number on it.",
            "On the same day press the edge of a coin three times into two wet pieces of each mix, always with the same load of 1 kg. Measure the length of each mark.",
            "Leave the other two pieces of each mix in the air at room temperature. Weigh them each day, until the weight stays the same. Never dry in a hot oven: gypsum loses its bound water and weakens.",
            "Then press the coin into the dry pieces in the same way, and measure.",
            "If your laboratory has a press: the demonstrator crushes the pieces behind its guard.",
        ),
        record=(
            "For each mix: grams, millilitres, ratio, how it poured.",
            "For each piece: weight wet, weight on each day, weight dry. Weight lost ÷ weight wet is the free water that has gone.",
            "Length of the mark, wet and dry: the mean of three for each piece, and the difference between equal pieces.",
            "Is the order of the three mixes what the line says? Is the difference larger than the difference between equal pieces?",
        ),
        cautions=(
            "Wear a mask and eye protection. Broken gypsum flies: eye protection also when you crush or scratch.",
            "Only the demonstrator works the press, with its guard closed.",
            "No part of the body in a setting mass. No plaster in the drain.",
            "The instructions of the product and of your laboratory come first.",
        ), objectives=("L05-O2", "L05-O4")),
]
