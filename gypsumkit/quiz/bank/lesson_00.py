"""Lesson 00, start here: how a lesson works, how to read a predicted number, how to stay safe."""

from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS
from gypsumkit.quiz.notes import Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip
from gypsumkit.recipe import Recipe
from gypsumkit.showing import range_words, with_range


def _plaster(ratio):
    return Mix(Recipe("model plaster", ratio))


def _change(p, quantity):
    """A quantity of the wetter mix, as a share of that of the usual mix."""
    return getattr(_plaster(p.more_ml / 100), quantity).value / getattr(_plaster(p.usual_ml / 100), quantity).value


def _usual_strength(p):
    return _plaster(POWDERS["model plaster"].recommended_ratio.value).wet_strength_mpa


OBJECTIVES = [
    Objective("L00-O1", "Work through a lesson: predict, observe, explain, work it out, check yourself."),
    Objective("L00-O2", "Read a predicted number together with its plausible range."),
    Objective("L00-O3", "Name the dangers at the bench and what protects you."),
    Objective("L00-O4", "Say where your answers are kept and what to do when a picture does not move."),
]

PREDICTIONS = [
    Choice(
        id="L00-P1", objective="L00-O1",
        prompt="Model plaster is usually mixed with {usual_ml} mL of water per 100 g of powder. Now it is mixed with {more_ml} mL per 100 g. "
               "What happens?",
        parameters={"usual_ml": 50, "more_ml": 60},
        computed={"spread": lambda p: _change(p, "spread_mm"), "strength": lambda p: _change(p, "wet_strength_mpa"),
                  "wider": lambda p: 100 * (p.spread - 1), "weaker": lambda p: 100 * (1 - p.strength)},
        explanation="In the model the mix spreads about {wider:.0f} % wider, and the set mass loses about {weaker:.0f} % of its wet strength. "
                    "Lesson 02 shows why.",
        options=(
            Option("It flows more easily and sets weaker.", "More water lets the grains slide, and later leaves pores.",
                   correct=lambda p: p.spread > 1.05 and p.strength < 0.95),
            Option("It flows more easily and sets stronger.", "It flows more easily, yes. But the extra water is not used up by setting. It leaves pores.",
                   correct=lambda p: p.spread > 1.05 and p.strength > 1.05),
            Option("It flows less easily and sets weaker.", "It sets weaker, yes. But more water between the grains makes them slide more easily.",
                   correct=lambda p: p.spread < 0.95 and p.strength < 0.95),
            Option("Only the setting takes longer; the rest is the same.", "The time does change. But flow and strength change more than most people expect.",
                   correct=lambda p: 0.95 <= p.spread <= 1.05 and 0.95 <= p.strength <= 1.05),
        )),
]

NOTES = [
    Note("L00-N1",
         "What did you see when you moved the slider to the right? Did it agree with your prediction? Write one or two sentences.",
         "More water: the mix spreads wider, the porosity rises and the strength falls. If your prediction was wrong, you have just "
         "learned more than a reader who only looked.", objectives=("L00-O1",)),
]

QUESTIONS = [
    Choice(
        id="L00-Q1", objective="L00-O2",
        prompt="A picture says: wet strength {said}. How do you read this?",
        computed={"said": lambda p: with_range(_usual_strength(p)),
                  "range": lambda p: range_words(_usual_strength(p).low, _usual_strength(p).high)},
        explanation="The first number is the best guess, good for comparing two mixes. The range says how much to trust it.",
        options=(
            Option("A real powder of this kind may well lie anywhere from {range} MPa.",
                   "That is a plausible range: it says how well the model knows.", correct=True),
            Option("The first number is exact; the range is for bad work at the bench.",
                   "No model of gypsum is that exact. The range is the doubt of the model, even with perfect work."),
            Option("A product outside {range} MPa fails its standard.",
                   "A plausible range is not a tolerance. What a product must reach stands in its standard."),
            Option("The strength changes from {range} MPa while the mass sets.",
                   "The number is for one moment, 1 hour after mixing. The range is doubt, not time."),
        )),
    SeveralChoices(
        id="L00-Q2", objective="L00-O3",
        prompt="Which of these are safe work?",
        explanation="When in doubt: the instructions of the product, the rules of your laboratory, and your teacher come before this course.",
        options=(
            Option("Wear a mask and pour powder slowly, close to the bowl.", "Less dust rises, and less is breathed in. Gypsum powders may hold silica.",
                   correct=True),
            Option("Rinse the last of the mix down the drain with much water.", "It sets under water too, and blocks the drain. It goes into the waste bin."),
            Option("Disinfect an impression as its product asks before you pour it.", "An impression is contaminated. Products differ, so follow their instructions.",
                   correct=True),
            Option("Push the mix down with a spatula while a mixer turns.", "A turning mixer takes the spatula, and the hand with it. Stop it first."),
            Option("Look for cracks before you put a vessel under vacuum.", "A cracked vessel can burst inwards.", correct=True),
            Option("Follow this course where it differs from the instructions of the product.", "The other way round: the product's instructions come first."),
        )),
    PutInOrder(
        id="L00-Q3", objective="L00-O1",
        prompt="In what order does a lesson go?",
        explanation="You choose first, look second, say why third, and test yourself last.",
        steps=(
            Place("Commit to a prediction.", "It comes before the picture: once you have seen the answer, you cannot find out what you believed."),
            Place("Move the controls and watch the picture.", "Now you look, with your own prediction in mind."),
            Place("Explain in your own words what you saw.", "To explain is to find out what you have not understood yet. It comes before the model explanation."),
            Place("Check yourself.", "It comes last, so that you must take the answers out of your memory."),
        )),
    Choice(
        id="L00-Q4", objective="L00-O3",
        prompt="A friend wants a plaster cast of one finger and asks you to help. What do you say?",
        explanation="A setting mass grows hot and hard at the same time. Large masses reach 60 °C, and skin is harmed from about 45 °C.",
        options=(
            Option("No. Never enclose a finger, a hand or any part of the body in a setting mass.",
                   "It burns, and it cannot be pulled off.", correct=True),
            Option("Yes, with grease on the skin.", "Grease does not stop the heat, and the hard mass still holds the finger."),
            Option("Yes, but with a little more water, so that it stays cool.", "More water makes it less hot, not safe. And nobody knows beforehand how hot it gets."),
            Option("Yes, if we take it off before it is hard.", "It gets hot while it gets hard. When it hurts, it is already too hard."),
        )),
    NumberWithUnit(
        id="L00-Q5", objective="L00-O1",
        prompt="Model plaster is usually mixed with {ratio} mL of water for each gram of powder. How much is that in mL per 100 g?",
        parameters={}, computed={"ratio": lambda p: POWDERS["model plaster"].recommended_ratio.value},
        key=lambda p: 100 * p.ratio, unit="mL per 100 g", relative_tolerance=0.001, tolerance_why="the number is exact, up to rounding.",
        slips=(Slip(lambda p: 10 * p.ratio, "That is for 10 g. For 100 g, multiply by 100."),
               Slip(lambda p: 100 / p.ratio, "You turned the ratio upside down. Multiply by 100.")),
        hint="1 g needs {ratio} mL. How much do 100 g need?",
        explanation="100 g need 100 times as much as 1 g: {key}. You may write a comma or a point, and the unit in many ways."),
    Choice(
        id="L00-Q6", objective="L00-O4",
        prompt="In the middle of a lesson the picture stops following the slider, and you have already answered four questions. What do you do?",
        explanation="Answers are written into your work folder at once. A restart stops the calculation, and touches no answer.",
        options=(
            Option("Menu Kernel, then Restart Kernel and Run All Cells.", "The lesson begins to compute again. Your answers are in your work folder, and they come back.", correct=True),
            Option("Leave it: a restart would delete the four answers.", "Each answer was saved when you pressed the button. It lies in answers.json, not in the page."),
            Option("Send the answers to the teacher first, through the network.", "Nothing is sent anywhere. They are on your own computer already."),
            Option("Delete the work folder, so that the course starts clean.", "That is the one step that loses your answers and texts: they are kept in this folder."),
        )),
]
