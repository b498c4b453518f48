"""Tasks on lesson 10, read the fault."""

from gypsumkit.marking.task_bank.asking import BY_CYLINDER, PEOPLE, ROUNDED, THREE, predicted, strength, usual
from gypsumkit.marking.tasks import AllThatApply, Number, OneOf, Task
from gypsumkit.quiz.questions import Option, Slip
from gypsumkit.remembering import remembered
from gypsumkit.studies.bayes import posterior
from gypsumkit.studies.faults import CAUSES, LEVELS, SIGNS, chance, level, read_faults

PAIRS = (("beaten", "poured without vibration", "bubbles on the tooth side"), ("too much water", "separated too early", "breaks on removal"),
         ("impression not rinsed", "soaked in tap water", "edges washed away"), ("too few turns", "retarder left in the bowl", "does not set"))
COMMON_SIGNS = tuple(sign for sign in SIGNS if sum(chance(cause, sign) >= LEVELS["often"] for cause in CAUSES) >= 2)


def _hundred(draw):
    first, second, sign = draw.choice(PAIRS)
    return {"first": first, "second": second, "sign": sign, "first_casts": draw.randrange(56, 90)}


def _suspects(draw):
    sign = draw.choice(COMMON_SIGNS)
    often = [cause for cause in CAUSES if chance(cause, sign) >= LEVELS["often"]]
    hardly = [cause for cause in CAUSES if chance(cause, sign) <= LEVELS["rarely"]]
    taken = draw.sample(often, 2) + draw.sample(hardly, 3)
    draw.shuffle(taken)
    return {"sign": sign, **{f"cause_{place}": cause for place, cause in enumerate(taken, start=1)}}


def _spilled(draw):
    return {"powder": draw.choice(THREE), "powder_g": draw.randrange(170, 290, 10), "extra_ml": draw.choice([9, 11, 12, 13, 14])}


def _spilled_ratio(p):
    return round(usual(p.powder) + p.extra_ml / p.powder_g, 4)


def _reading(draw):
    return {"who": draw.choice(PEOPLE), "sign": draw.choice(list(SIGNS))}


@remembered(64)
def _main(sign):
    """The main suspect after one sign, and how many of 100 such casts have it."""
    found = read_faults((sign,))
    cause = max(CAUSES, key=found.share)
    return cause, 100 * float(found.share(cause))


TASKS = [
    Task(
        id="T10-1", objective="L10-O2", level="apply", difficulty=0.5, title="Counting in 100 casts",
        text="A class counts 100 spoiled casts (invented). {first_casts} come from this cause: {first}. The other {second_casts} come from this one: {second}. Of 100 casts of the first cause "
             "{first_in_100} show this sign: {sign}. Of 100 casts of the second cause {second_in_100} show it. Your cast shows it.",
        parameters=_hundred, digits={"first_casts": 2},
        computed={"second_casts": lambda p: 100 - p.first_casts, "first_in_100": lambda p: round(100 * chance(p.first, p.sign)), "second_in_100": lambda p: round(100 * chance(p.second, p.sign))},
        parts=(
            Number(prompt="How many of the {first_casts} casts of the first cause show the sign? Write one digit after the point.", marks=1, name="first_show",
                   compute=lambda p: p.first_casts * p.first_in_100 / 100, unit="", band=(15, 83), relative_tolerance=0.015, tolerance_why="whole casts are good enough.",
                   absolute_tolerance=0.5, working="{first_casts} × {first_in_100} ÷ 100 = {key}", slips=()),
            Number(prompt="How many of the {second_casts} casts of the second cause show it? Write one digit after the point.", marks=1, name="second_show",
                   compute=lambda p: p.second_casts * p.second_in_100 / 100, unit="", band=(7, 40), relative_tolerance=0.015, absolute_tolerance=0.5,
                   tolerance_why="whole casts are good enough.", working="{second_casts} × {second_in_100} ÷ 100 = {key}", slips=()),
            Number(prompt="What part in % of all casts that show the sign has the first cause?", marks=2, name="share_percent", compute=lambda p: 100 * p.first_show / (p.first_show + p.second_show),
                   unit="%", band=(30, 92), relative_tolerance=0.02, absolute_tolerance=1.0, tolerance_why="whole casts may have been taken on the way.",
                   working="{first_show:.1f} ÷ ({first_show:.1f} + {second_show:.1f}) × 100 = {key}",
                   slips=(Slip(lambda p: 100 * p.first_in_100 / (p.first_in_100 + p.second_in_100), "You left out how common the two causes are."),
                          Slip(lambda p: 100 * p.second_show / (p.first_show + p.second_show), "That is the part of the second cause."))),
        ),
        clear=lambda p: abs(p.share_percent - 100 * posterior([p.first_casts, p.second_casts], [[p.first_in_100 / 100, p.second_in_100 / 100]])[0]) < 1e-6),
    Task(
        id="T10-2", objective="L10-O4", level="apply", difficulty=0.55, title="Extra water, worked out",
        text="The recipe says {ratio_ml} mL of water per 100 g of {powder}. Somebody weighs {powder_g} g and pours in {extra_ml} mL more than the recipe says. The model gives a wet strength of "
             "{usual_mpa} MPa by the recipe and {weak_mpa} MPa with the extra water.",
        parameters=_spilled, digits={"powder_g": 2, "extra_ml": None},
        computed={"ratio_ml": lambda p: round(100 * usual(p.powder)), "usual_mpa": lambda p: round(strength(p.powder, usual(p.powder)), 1), "weak_mpa": lambda p: round(strength(p.powder, _spilled_ratio(p)), 1)},
        trusted=lambda p: (predicted("wet_strength_mpa", p.powder, _spilled_ratio(p)),),
        parts=(
            Number(prompt="How many mL of water are in the bowl?", marks=1, name="water_ml", compute=lambda p: p.powder_g * p.ratio_ml / 100 + p.extra_ml, unit="mL", band=(45, 165),
                   tolerance_why=BY_CYLINDER, working="{powder_g} g × {ratio_ml} mL ÷ 100 g + {extra_ml} mL = {key}",
                   slips=(Slip(lambda p: p.powder_g * p.ratio_ml / 100, "That is the water of the recipe. {extra_ml} mL more went in."),
                          Slip(lambda p: p.ratio_ml + p.extra_ml, "The recipe is for 100 g. There are {powder_g} g."))),
            Number(prompt="How many mL per 100 g are that?", marks=1, name="wet_ml", compute=lambda p: 100 * p.water_ml / p.powder_g, unit="mL", also_unit="mL per 100 g", band=(26, 60), relative_tolerance=0.015,
                   tolerance_why=ROUNDED, working="{water_ml} mL ÷ {powder_g} g × 100 g = {key}",
                   slips=(Slip(lambda p: p.ratio_ml + p.extra_ml, "The {extra_ml} mL went into {powder_g} g, not into 100 g."),)),
            Number(prompt="What part in % of the strength is lost?", marks=1, name="lost_percent", compute=lambda p: 100 * (p.usual_mpa - p.weak_mpa) / p.usual_mpa, unit="%", band=(8, 35),
                   relative_tolerance=0.02, absolute_tolerance=0.3, tolerance_why="the strengths are given in three digits.", working="({usual_mpa} − {weak_mpa}) MPa ÷ {usual_mpa} MPa × 100 = {key}",
                   slips=(Slip(lambda p: 100 * (p.usual_mpa - p.weak_mpa) / p.weak_mpa, "You divided by the strength that is left. Divide by the one by the recipe."),
                          Slip(lambda p: 100 * p.weak_mpa / p.usual_mpa, "That is the part that is left. Take it off 100 %."))),
        )),
    Task(
        id="T10-3", objective="L10-O1", level="recall", difficulty=0.55, title="Causes of a sign",
        text="A cast shows this sign: {sign} ({look}).",
        parameters=_suspects, computed={"look": lambda p: SIGNS[p.sign].look, **{f"level_{place}": (lambda place: lambda p: level(p[f"cause_{place}"], p.sign))(place) for place in range(1, 6)}},
        parts=(AllThatApply(prompt="Which of these causes show it often or nearly always, by the table of the course?", marks=2, options=tuple(
            Option("{cause_%d}" % place, "By the table this cause shows it {level_%d}." % place, correct=(lambda place: lambda p: chance(p[f"cause_{place}"], p.sign) >= LEVELS["often"])(place))
            for place in range(1, 6))),)),
    Task(
        id="T10-4", objective="L10-O5", level="explain/judge", difficulty=0.65, title="What may be written down",
        text="{who} sees this sign on a cast: {sign}. The reading by the levels of the course says: {cause}, {casts:.0f} of 100 such casts.",
        parameters=_reading, computed={"cause": lambda p: _main(p.sign)[0], "casts": lambda p: _main(p.sign)[1]},
        parts=(OneOf(prompt="What may {who} write into the laboratory book?", marks=1, options=(
            Option("Main suspect by the levels of the course: {cause}. Next: a check that decides.", "It says what is suspected, on what ground, and what decides.", correct=True),
            Option("The cause was: {cause}.", "In some of 100 such casts it is something else. Check first."),
            Option("In this laboratory {casts:.0f} of 100 casts have this fault.", "Nothing was counted in this laboratory, and the number is about casts with this sign only."),
            Option("Nothing, since a reading is not certain.", "A suspect with its ground is worth writing down: it says what to check."),
        )),)),
]
