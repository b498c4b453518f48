"""Tasks on lesson 00, working safely and reading a number with its range."""

from gypsumkit.marking.task_bank.asking import PEOPLE, drawn_mix, predicted
from gypsumkit.marking.tasks import AllThatApply, InWords, OneOf, Task
from gypsumkit.quiz.questions import Option


def _strength(p):
    return predicted("wet_strength_mpa", p.powder, p.per_100_ml / 100)


TASKS = [
    Task(
        id="T00-1", objective="L00-O3", level="recall", difficulty=0.85, title="Safe work at the bench",
        text="You work with gypsum powder, water, a mixer and impressions.",
        parts=(AllThatApply(prompt="Which of these are safe work?", marks=2, options=(
            Option("Wear a mask and pour the powder slowly, close to the bowl.", "Less dust rises and less is breathed in.", correct=True),
            Option("Disinfect an impression as its product asks before you pour it.", "An impression is contaminated; products differ.", correct=True),
            Option("Look for cracks before you put a vessel under vacuum.", "A cracked vessel can burst inwards.", correct=True),
            Option("Collect what is left in the bowl in the waste bin.", "In the drain it sets, also under water.", correct=True),
            Option("Wear eye protection when set gypsum is cut or broken.", "Splinters fly when it breaks.", correct=True),
            Option("Follow the instructions of the product where they differ from this course.", "The product's instructions come first.", correct=True),
            Option("Rinse the last of the mix down the drain with much water.", "It sets under water too, and blocks the drain."),
            Option("Push the mix down with a spatula while a mixer turns.", "A turning mixer takes the spatula, and the hand with it."),
            Option("Sweep dry powder up with a brush and shake the brush out.", "That throws the dust into the air; wipe it up wet."),
            Option("Put a finger into the setting mass to feel how warm it is.", "No part of the body goes into a setting mass: it grows hot and holds fast."),
            Option("Blow powder off the bench with the air gun.", "That fills the room with dust."),
        )),)),
    Task(
        id="T00-2", objective="L00-O2", level="explain/judge", difficulty=0.7, title="A number and its range",
        text="{who} looks at a picture of {powder} with {per_100_ml} mL of water per 100 g. It says: wet strength {said:.0f} MPa ({low:.0f} to {high:.0f}).",
        parameters=lambda draw: {**drawn_mix(draw), "who": draw.choice(PEOPLE)}, digits={"per_100_ml": None},
        computed={"said": lambda p: _strength(p).value, "low": lambda p: _strength(p).low, "high": lambda p: _strength(p).high},
        trusted=lambda p: (_strength(p),),
        parts=(OneOf(prompt="How do you read this?", marks=1, options=(
            Option("A real powder of this kind may well lie anywhere from {low:.0f} to {high:.0f} MPa.", "The range says how far a real powder may lie from the value.", correct=True),
            Option("The first number is exact; the range is for bad work at the bench.", "The range holds for careful work as well: the constants behind the number are not known better."),
            Option("A product outside {low:.0f} to {high:.0f} MPa fails its standard.", "The range is what the model knows. It is no limit of a standard."),
            Option("The strength goes from {low:.0f} to {high:.0f} MPa while the mass sets.", "It is the range of one number, the strength at 1 h; it is not its course in time."),
        )),)),
    Task(
        id="T00-3", objective="L00-O3", level="explain/judge", difficulty=0.65, title="A friend's wish",
        text="{friend} asks you for a cast of a {part} and wants to press the {part} into a bowl of setting {powder}.",
        parameters=lambda draw: {"friend": draw.choice(PEOPLE), "part": draw.choice(["finger", "hand", "toe", "foot", "thumb", "wrist"]),
                                 "powder": draw.choice(["model plaster", "dental stone", "improved stone"])},
        parts=(InWords(prompt="What do you answer, and for which two reasons?", marks=3, look_for=(
            "No, never (1 mark).", "The mass grows hot while it sets, hot enough to burn (1 mark).",
            "The hard mass holds the body fast and cannot be taken off in time (1 mark).")),)),
]
