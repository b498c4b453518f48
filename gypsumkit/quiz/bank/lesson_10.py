"""Lesson 10, read the fault: what it asks, explains and sets as work."""

from gypsumkit.mix import predict, predict_setting
from gypsumkit.powders import POWDERS
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, SeveralChoices, Slip
from gypsumkit.studies.bayes import doubt_bits, posterior
from gypsumkit.studies.fault_numbers import WARM_WATER_C, compared
from gypsumkit.studies.faults import LEVELS, chance, read_faults


def _casts(cause, seen, absent=(), checked=()):
    """Casts of 100 that have this cause, by our levels."""
    return 100 * read_faults(seen, absent, checked).share(cause)


def _gloss_min(cause):
    with_it, _ = compared(cause, "model plaster")["gloss_loss_min"]
    return float(with_it.value)


def _bits(check, *seen):
    return next(one.bits for one in read_faults(seen).checks if one.check == check)


BEST_OF = ("ask what came after", "weigh and measure again", "read the tin", "watch the next mix")


def _is_best(check):
    return lambda p: max(BEST_OF, key=lambda one: _bits(one, p.sign)) == check


def _counting_case(first, second, sign, first_casts):
    return {"first": first, "second": second, "sign": sign, "first_casts": first_casts, "second_casts": 100 - first_casts,
            "first_in_100": round(100 * chance(first, sign)), "second_in_100": round(100 * chance(second, sign))}


def _spilled_case(powder, powder_g):
    ratio, extra_ml = POWDERS[powder].recommended_ratio.value, 10
    usual, weak = (float(predict(powder, one)["wet_strength_mpa"].value) for one in (ratio, ratio + extra_ml / powder_g))
    return {"powder": powder, "powder_g": powder_g, "ratio_ml": round(100 * ratio), "extra_ml": extra_ml, "usual_mpa": round(usual, 1), "weak_mpa": round(weak, 1)}


OBJECTIVES = [
    Objective("L10-O1", "Name the signs of a spoiled cast, and for each the causes that come first."),
    Objective("L10-O2", "Count, in 100 casts, how likely a cause is after a sign was seen, or looked for and not found."),
    Objective("L10-O3", "Choose the one check that splits the suspects best, and say what each outcome would mean."),
    Objective("L10-O4", "Use a computed number to judge a suspect, and say where nothing is computed."),
    Objective("L10-O5", "Say what such a reading is worth, and what it is not."),
]

PREDICTIONS = [
    Choice(
        id="L10-P1", objective="L10-O2",
        prompt="A cast has a chalky surface. By our levels, too much water is then the cause in {before:.0f} of 100 such casts. Now you look once more: one hour after mixing a "
               "fingernail left no groove in the base. How does the share of too much water change?",
        parameters={}, computed={"hard_in_100": lambda p: 100 * (1 - chance("too much water", "soft after an hour")),
                                 "before": lambda p: _casts("too much water", ("chalky surface",)),
                                 "after": lambda p: _casts("too much water", ("chalky surface",), ("soft after an hour",))},
        explanation="It falls to {after:.0f} of 100. Too much water often makes the whole cast soft. This cast is not soft. So this suspect loses, and the faults at the impression gain.",
        options=(
            Option("It stays: nothing new was found.", "Something new was found: the base is hard. A sign that is not there also counts.",
                   correct=lambda p: 0.85 < p.after / p.before < 1.15),
            Option("It rises: the chalky surface is still there.", "The chalky surface was counted already. The new look shows a cast that is hard inside.",
                   correct=lambda p: p.after / p.before >= 1.15),
            Option("It falls to about a half.", "Of 100 casts with too much water, {hard_in_100:.0f} are hard after an hour. With most other causes nearly all are hard.",
                   correct=lambda p: 0.35 < p.after / p.before <= 0.65),
            Option("It falls to nothing: this proves that the water was right.", "Nothing is proved. Some casts with too much water pass the test with the fingernail.",
                   correct=lambda p: p.after / p.before < 0.1),
        )),
    Choice(
        id="L10-P2", objective="L10-O3",
        prompt="A mix sets in the bowl. The suspects are crumbs of set gypsum in the bowl, and damp powder. Ines mixes a little from the same tin in a new clean cup. "
               "This mix sets as usual. How does the share of the crumbs change?",
        parameters={}, computed={"before": lambda p: _casts("set gypsum left in the bowl", ("sets in the bowl",)),
                                 "after": lambda p: _casts("set gypsum left in the bowl", ("sets in the bowl",), (), (("small mix, clean bowl", "as usual"),))},
        explanation="It rises from {before:.0f} to {after:.0f} of 100. The check nearly clears the powder, and what it loses goes to the suspects that are left.",
        options=(
            Option("It falls: the small mix was good.", "The small mix was good in a clean cup. That clears the powder, not the old bowl.", correct=lambda p: p.after < 0.9 * p.before),
            Option("It stays: the crumbs were not checked.", "They were not checked. But another suspect was cleared, and the shares always add up to 100.",
                   correct=lambda p: 0.9 * p.before <= p.after <= 1.1 * p.before),
            Option("It rises, but crumbs are not proved.", "One suspect is nearly cleared. The others share what it loses.", correct=lambda p: 1.1 * p.before < p.after < 90),
            Option("The crumbs are proved now.", "Others are still left: too little water, or poured too late. Check the bowl itself.", correct=lambda p: p.after >= 90),
        )),
]

NOTES = [
    Note("L10-N1",
         "A sign that you looked for and did not find counts. A sign that you did not look for counts for nothing. Explain why to a friend, with one example from a cast.",
         "If I looked and it is not there, then the causes that nearly always show it become less likely. For example, I looked for bubbles all through the cast and found none: then it was "
         "hardly beaten. If I did not look, the bubbles may be there or not. I have learned nothing, so nothing may change. The danger is to write “not there” for “not looked”.", objectives=("L10-O2",)),
    Note("L10-N2",
         "Mr Okoro says: “Bad casts come from too much water. I need no checks.” Answer him. Use the words common, sign and check.",
         "Too much water is common, so it is right to think of it early. But a common cause must also show the sign. For a cast that broke on removal and is hard after an hour, taking it out too "
         "early leads, although it is less common. And a suspect is not a proof: one check, such as weighing and measuring again, costs five minutes. It tells more than any rule.", objectives=("L10-O3", "L10-O5")),
]

EXERCISES = [
    Exercise(
        id="L10-E1", objective="L10-O2", fade=2,
        situation="A class counts 100 spoiled casts (invented). {first_casts} of them come from this cause: {first}. The other {second_casts} come from this one: {second}. "
                  "Of 100 casts of the first cause {first_in_100} show this sign: {sign}. Of 100 casts of the second cause {second_in_100} show it. Your cast shows it.",
        parameters=lambda draw: _counting_case(*draw.choice([
            ("beaten", "poured without vibration", "bubbles on the tooth side"), ("too much water", "separated too early", "breaks on removal"),
            ("impression not rinsed", "soaked in tap water", "edges washed away"), ("too few turns", "retarder left in the bowl", "does not set")]),
            draw.choice([60, 80, 90])),
        steps=(
            Step(name="first_show", say="How many of the {first_casts} casts of the first cause show the sign?", compute=lambda p: p.first_casts * p.first_in_100 / 100, unit="",
                 working="{first_in_100} in 100 of {first_casts}: {first_casts} × {first_in_100} ÷ 100 = {answer}", hint="Take the number in 100, times the number of casts, divided by 100.",
                 slips=(Slip(lambda p: p.first_in_100, "That is for 100 casts of this cause. There are only {first_casts}."),)),
            Step(name="second_show", say="How many of the {second_casts} casts of the second cause show it?", compute=lambda p: p.second_casts * p.second_in_100 / 100, unit="",
                 working="{second_casts} × {second_in_100} ÷ 100 = {answer}", hint="The same way, with the numbers of the second cause.",
                 slips=(Slip(lambda p: p.second_in_100, "That is for 100 casts of this cause. There are only {second_casts}."),)),
            Step(name="all_show", say="How many casts show the sign in all?", compute=lambda p: p.first_show + p.second_show, unit="",
                 working="{first_show:.0f} + {second_show:.0f} = {answer}", hint="Only casts that look like yours count from here on."),
            Step(name="share_percent", say="What part of these casts has the first cause, in %?",
                 compute=lambda p: 100 * posterior([p.first_casts, p.second_casts], [[p.first_in_100 / 100, p.second_in_100 / 100]])[0], unit="%",
                 working="{first_show:.0f} ÷ {all_show:.0f} = {answer}", hint="Casts of the first cause that show it, divided by all that show it.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: 100 * p.first_in_100 / (p.first_in_100 + p.second_in_100), "You left out how common the two causes are."),
                        Slip(lambda p: p.first_casts, "That is the part before the sign was seen."))),
        )),
    Exercise(
        id="L10-E2", objective="L10-O4", fade=2,
        situation="The recipe says {ratio_ml} mL of water per 100 g of {powder}. Somebody weighs {powder_g} g and pours in {extra_ml} mL more water than the recipe says. The model "
                  "gives a wet strength of {usual_mpa} MPa by the recipe and {weak_mpa} MPa with the extra water.",
        parameters=lambda draw: _spilled_case(*draw.choice([("model plaster", 200), ("model plaster", 250), ("dental stone", 180), ("dental stone", 250), ("improved stone", 250)])),
        steps=(
            Step(name="recipe_ml", say="How many mL of water does the recipe ask for?", compute=lambda p: p.powder_g * p.ratio_ml / 100, unit="mL",
                 working="{powder_g} g × {ratio_ml} mL ÷ 100 g = {answer}", hint="The recipe is for 100 g.",
                 slips=(Slip(lambda p: p.ratio_ml + p.extra_ml, "You added the extra water too early, and for 100 g. First find the water of the recipe for {powder_g} g."),)),
            Step(name="wet_ml", say="How many mL per 100 g are in the bowl?", compute=lambda p: 100 * (p.recipe_ml + p.extra_ml) / p.powder_g, unit="mL",
                 working="({recipe_ml} + {extra_ml}) mL ÷ {powder_g} g × 100 g = {answer}", hint="All the water, divided by the powder, times 100 g.",
                 slips=(Slip(lambda p: p.recipe_ml + p.extra_ml, "That is for {powder_g} g of powder. The question asks for 100 g."),
                        Slip(lambda p: p.ratio_ml + p.extra_ml, "The {extra_ml} mL went into {powder_g} g, not into 100 g."))),
            Step(name="lost_percent", say="What part of the strength is lost, in %?", compute=lambda p: 100 * (p.usual_mpa - p.weak_mpa) / p.usual_mpa, unit="%",
                 working="({usual_mpa} − {weak_mpa}) MPa ÷ {usual_mpa} MPa = {answer}", hint="The loss, divided by the strength by the recipe.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: 100 * p.weak_mpa / p.usual_mpa, "That is the part that is left. Subtract it from 100 %."),)),
        )),
]

QUESTIONS = [
    Choice(
        id="L10-Q1", objective="L10-O4",
        prompt="A mix of plaster sets in the bowl. The water was at {warm:.0f} °C, and crumbs of the last mix were in the bowl. Which of the two makes it set sooner, by the model?",
        parameters={"warm": WARM_WATER_C},
        computed={"usual": lambda p: float(predict_setting("model plaster", 0.5)["gloss_loss_min"].value),
                  "hot": lambda p: _gloss_min("warm mixing water"), "seeded": lambda p: _gloss_min("set gypsum left in the bowl")},
        explanation="The gloss is lost at {usual:.0f} min as usual, at {hot:.0f} min with the warm water, and at {seeded:.0f} min with 1 % of set gypsum.",
        options=(
            Option("The warm water.", "Many people think so. From 20 to 50 °C the two effects of warmth nearly cancel: look at the minutes beside the cause.", correct=lambda p: p.hot < 0.95 * p.seeded),
            Option("The crumbs.", "Each crumb is a seed. The new crystals begin at once.", correct=lambda p: p.seeded < 0.95 * p.hot),
            Option("Both alike.", "They differ by several minutes in the model. Look at the numbers beside the two causes.", correct=lambda p: abs(p.seeded / p.hot - 1) <= 0.05),
        )),
    NumberWithUnit(
        id="L10-Q2", objective="L10-O3",
        prompt="Eight suspects are equally likely. One check would certainly name the right one. How many bits of doubt does this check take away?",
        key=lambda p: doubt_bits([1 / 8] * 8), unit="", absolute_tolerance=0.05, tolerance_why="it is a whole number.",
        slips=(Slip(lambda p: 8.0, "That counts the suspects. A bit is a question with yes or no: one question halves them."),
               Slip(lambda p: 7.0, "To ask about one suspect after the other takes up to seven questions. Faster: ask about half of them at once."),
               Slip(lambda p: 4.0, "Half of the suspects are four, but that is one question. Go on halving until one is left.")),
        hint="Halve the eight, and halve again, until one is left.", explanation="Eight, four, two, one: {key} questions with yes or no."),
    Choice(
        id="L10-Q3", objective="L10-O3",
        prompt="A tooth breaks off when the cast is taken out of the impression. That is all you know. Which of these checks splits the suspects best?",
        parameters={"sign": "breaks on removal"},
        computed={"best": lambda p: _bits(BEST_OF[0], p.sign), "second": lambda p: _bits(BEST_OF[1], p.sign)},
        explanation="It should take {best:.1f} bits away. Weighing and measuring again should take {second:.1f}. The first suspects lie in what came after pouring, and one question sorts them.",
        options=(
            Option("Ask when it was taken out, and where it has been since.", "Taken out too early leads here, and this question finds it.", correct=_is_best(BEST_OF[0])),
            Option("Weigh and measure one mix again.", "This is good for one suspect, too much water. It says nothing about the first one, taken out too early.", correct=_is_best(BEST_OF[1])),
            Option("Read the label and the date of the tin.", "Powder is among the suspects, but not among the first. Most likely the tin is right, and you know little more.",
                   correct=_is_best(BEST_OF[2])),
            Option("Let the same person mix again, and watch.", "Mixing has little to do with this sign. Most likely all looks as taught, and you know little more.", correct=_is_best(BEST_OF[3])),
        )),
    SeveralChoices(
        id="L10-Q4", objective="L10-O1",
        prompt="Which of these causes show bubbles on the tooth side often or nearly always, by the levels of lesson 10?",
        explanation="Air is folded in, or it is caught in the tips, or gas comes from the impression.",
        options=(
            Option("poured without vibration", "Air stays caught in the tips of the impression.", correct=lambda p: chance("poured without vibration", "bubbles on the tooth side") >= LEVELS["often"]),
            Option("beaten", "The air is everywhere, so it is at the teeth as well. Look at the base too.", correct=lambda p: chance("beaten", "bubbles on the tooth side") >= LEVELS["often"]),
            Option("silicone poured too soon", "Gas comes out of the impression just there.", correct=lambda p: chance("silicone poured too soon", "bubbles on the tooth side") >= LEVELS["often"]),
            Option("soaked in tap water", "Tap water rounds the edges. It makes no holes.", correct=lambda p: chance("soaked in tap water", "bubbles on the tooth side") >= LEVELS["often"]),
            Option("dried too hot", "Heat makes the cast chalky and cracks it. The bubbles were there before it dried.", correct=lambda p: chance("dried too hot", "bubbles on the tooth side") >= LEVELS["often"]),
        )),
    NumberWithUnit(
        id="L10-Q5", at_picture=True, objective="L10-O2",
        prompt="Find it with the explorer: a cast has edges that are washed away, and a chalky surface. Nothing was checked. In how many of 100 such casts was water left in the impression?",
        parameters={}, computed={"one": lambda p: _casts("water left in the impression", ("edges washed away",)), "other": lambda p: _casts("water left in the impression", ("chalky surface",)),
                                 "casts": lambda p: _casts("water left in the impression", ("edges washed away", "chalky surface"))},
        key=lambda p: _casts("water left in the impression", ("edges washed away", "chalky surface")), unit="", relative_tolerance=0.03,
        tolerance_why="the picture shows whole casts.",
        slips=(Slip(lambda p: p.one, "That is for the edges alone. Choose the chalky surface as well."),
               Slip(lambda p: p.other, "That is for the chalky surface alone. Choose the edges as well.")),
        hint="Seen: edges washed away. And seen: chalky surface. The other lists stay as they are at first.", explanation="It leads with {casts:.0f} of 100. Both signs speak for it."),
    Choice(
        id="L10-Q6", objective="L10-O5",
        prompt="The reading says: too much water, {casts:.0f} of 100. What may you write into the laboratory book?",
        parameters={}, computed={"casts": lambda p: _casts("too much water", ("chalky surface", "soft after an hour"))},
        explanation="Write all three: the suspect, the levels, the check. The check decides, not the reading.",
        options=(
            Option("The cause was too much water.", "In {casts:.0f} of 100 such casts, by our levels. In the others it was something else. Check first."),
            Option("In this laboratory {casts:.0f} of 100 casts get too much water.", "Nothing was counted in this laboratory. The levels are ours, and the number is only for casts with these signs."),
            Option("Main suspect by the levels of the course: too much water. Next: weigh and measure again.", "It says who is suspected, why, and what will decide.", correct=True),
        )),
    NumberWithUnit(
        id="L10-Q7", objective="L10-O2",
        prompt="Of 100 spoiled casts (invented) {first} were beaten, and {second} came from an impression that was not rinsed. Of 100 beaten casts {first_in_100} have a chalky surface. "
               "Of 100 casts from an impression not rinsed {second_in_100} have one. Your cast has a chalky surface. In how many of 100 such casts was the impression not rinsed?",
        parameters={"first": 80, "second": 20, "first_in_100": 10, "second_in_100": 90},
        computed={"first_show": lambda p: p.first * p.first_in_100 / 100, "second_show": lambda p: p.second * p.second_in_100 / 100},
        key=lambda p: 100 * posterior([p.first, p.second], [[p.first_in_100 / 100, p.second_in_100 / 100]])[1], unit="", relative_tolerance=0.02,
        tolerance_why="whole casts are near enough.",
        slips=(Slip(lambda p: float(p.second_in_100), "That is how often the cause shows the sign. The question is the other way round: how often is this cause behind the sign?"),
               Slip(lambda p: float(p.second), "That is the part before the sign was seen. The sign counts too."),
               Slip(lambda p: p.second_show, "That is how many are not rinsed and chalky. Divide by all that are chalky, and multiply by 100.")),
        hint="First count the chalky casts of each cause. Then look only at these.",
        explanation="{first_show:.0f} beaten casts and {second_show:.0f} not rinsed ones are chalky. {second_show:.0f} ÷ ({first_show:.0f} + {second_show:.0f}) × 100 = {key}."),
]

BENCH_TASKS = [
    BenchTask(
        "L10-B1", "One good cast and two spoiled ones",
        do=(
            "Take three equal moulds of rubber or silicone that your laboratory owns. No impression from a mouth.",
            "Cast 1: model plaster by the recipe, stropped for a minute, poured in small portions on the vibrator.",
            "Write four faults on slips of paper and draw two: 20 % more water; beaten like an egg; poured in one go without the vibrator; a teaspoon of crushed set plaster for each 100 g.",
            "Casts 2 and 3: do what the slip says, and only that. Mix up the casts and write A, B, C under them. Note what each one is, and keep the note in a closed envelope.",
            "After an hour take them out. Swap them with a neighbour, and tell each other what happened in the bowl. For each cast of your neighbour write down the signs that you see, and the "
            "signs that you looked for and did not find.",
            "Choose the signs in the explorer, and write down the first two suspects. Choose one check that can be made here, make it, and write down its outcome.",
            "Open the envelope.",
        ),
        record=(
            "For each cast: signs seen, signs looked for and not there, the first two suspects with their numbers, the check and its outcome.",
            "How often was the cause the first suspect? How often among the first two? After the check?",
            "Which sign misled you? Which of our levels would you change after the whole class has counted?",
        ),
        cautions=(
            "Wear a mask and eye protection. Crush set plaster wet or in a closed bag: its dust harms the lungs. Cut a cast only wet.",
            "Never put a finger, a hand or any part of the body into a setting mass: it gets hot.",
            "No borax and no other salts. Impressions from a mouth are contaminated: not for this task.",
            "Set gypsum and leftovers go into the waste bin, never down the drain. The instructions of the product and of your laboratory come first.",
        ), objectives=("L10-O1", "L10-O2", "L10-O3")),
]
