"""Tasks on lesson 13, pour, wait, separate."""

from gypsumkit.bench.cast_chain import DAY_MIN, DROP_ML, HOUR_MIN, IMPRESSIONS, TWO_HOURS_MIN
from gypsumkit.bench.plan import MARGIN_MIN
from gypsumkit.marking.task_bank.asking import EXACT, PEOPLE, ROUNDED, density, drawn_mix
from gypsumkit.marking.tasks import AllThatApply, InOrder, Number, Task
from gypsumkit.mix import predict_setting, predict_timeline
from gypsumkit.quiz.questions import Option, Place, Slip
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered
from gypsumkit.science.expansion import length_change_um


def _tooth(draw):
    return {**drawn_mix(draw), "tooth_ml": draw.randrange(46, 76) / 100, "drops": draw.choice([2, 3])}


@remembered(4096)
def _times(powder, per_100_ml, out_min):
    """Return what the model says of a cast until it is separated, as it is told to the candidate, and the predictions it stands on."""
    recipe = Recipe(powder, per_100_ml / 100)
    line = predict_timeline(recipe.powder, recipe.water_powder_ratio, [float(out_min), HOUR_MIN, TWO_HOURS_MIN], recipe, ranges=False)
    final = predict_setting(recipe.powder, recipe.water_powder_ratio, recipe)["final_set_min"]
    strong, grown = line["strength_mpa"].value, line["expansion_percent"].value
    return {"final": round(float(final.value), 1), "final_high": round(float(final.high), 1), "out_mpa": round(float(strong[0]), 1), "hour_mpa": round(float(strong[1]), 1),
            "out_percent": round(float(grown[0]), 3), "end_percent": round(float(grown[2]), 3)}, (final,)


def _told(name):
    return lambda p: _times(p.powder, p.per_100_ml, p.out_min)[0][name]


def _waits_a_day(material):
    return IMPRESSIONS[material].wait[2] >= DAY_MIN


def _um(percent, length_mm):
    return float(length_change_um(percent, length_mm))


TASKS = [
    Task(
        id="T13-1", objective="L13-O5", level="apply", difficulty=0.55, title="Drops in a tooth",
        text="A mix of {powder}, {per_100_ml} mL of water per 100 g, is poured into an impression that was not shaken. The grains have a density of {density} g/cm³. The imprint of one tooth holds "
             "{tooth_ml} mL, and {drops} drops of {drop_ml} mL each were left in it. They mix evenly with the mix that fills the tooth. Air is not counted.",
        parameters=_tooth, digits={"per_100_ml": None, "tooth_ml": 2, "drops": None}, computed={"density": lambda p: density(p.powder), "drop_ml": lambda p: DROP_ML},
        parts=(
            Number(prompt="What volume in mL do 100 g of powder and its water have?", marks=1, name="of_100_ml", compute=lambda p: 100 / p.density + p.per_100_ml, unit="mL", band=(57, 96), tolerance_why=ROUNDED,
                   working="100 g ÷ {density} g/cm³ + {per_100_ml} mL = {key}",
                   slips=(Slip(lambda p: 100 + p.per_100_ml, "That adds grams. Divide the powder by its density first."), Slip(lambda p: 100 / p.density, "You left out the water."))),
            Number(prompt="How much powder in g does the mix hold that fills the tooth?", marks=1, name="powder_g", compute=lambda p: 100 * p.tooth_ml / p.of_100_ml, unit="g", band=(0.4, 1.4), relative_tolerance=0.015,
                   tolerance_why=ROUNDED, working="{tooth_ml} mL ÷ {of_100_ml} mL × 100 g = {key}", slips=(Slip(lambda p: p.tooth_ml * p.of_100_ml / 100, "Upside down: {of_100_ml} mL hold 100 g."),)),
            Number(prompt="How much water in mL per 100 g does the tooth have, with the drops?", marks=2, name="ratio_ml", compute=lambda p: p.per_100_ml + 100 * p.drops * p.drop_ml / p.powder_g, unit="mL",
                   also_unit="mL per 100 g", band=(27, 92), relative_tolerance=0.02, tolerance_why=ROUNDED, working="{per_100_ml} mL + {drops} × {drop_ml} mL ÷ {powder_g} g × 100 g = {key}",
                   slips=(Slip(lambda p: 100 * p.drops * p.drop_ml / p.powder_g, "That are the drops alone. The mix has its own water."),)),
        )),
    Task(
        id="T13-2", objective="L13-O3", level="apply", difficulty=0.6, title="When the cast may come out",
        text="A cast of {powder}, {per_100_ml} mL of water per 100 g. By the model its final set comes at {final} min, at the latest at {final_high} min. At {out_min} min it carries {out_mpa} MPa and has grown by "
             "{out_percent} %. At 1 h it carries {hour_mpa} MPa. At 2 h it has grown by {end_percent} %. The laboratory separates {margin} min after the final set, and never before the latest final set.",
        parameters=lambda draw: {**drawn_mix(draw), "out_min": draw.randrange(21, 44), "length_mm": draw.randrange(31, 68)}, digits={"per_100_ml": None, "out_min": None, "length_mm": None},
        computed={name: _told(name) for name in ("final", "final_high", "out_mpa", "hour_mpa", "out_percent", "end_percent")} | {"margin": lambda p: MARGIN_MIN},
        trusted=lambda p: _times(p.powder, p.per_100_ml, p.out_min)[1],
        parts=(
            Number(prompt="From which minute (min) on may it be separated?", marks=1, name="separate_min", compute=lambda p: max(p.final + p.margin, p.final_high), unit="min", band=(23, 56), tolerance_why=EXACT,
                   working="the later one of {final} min + {margin} min and {final_high} min = {key}", slips=(Slip(lambda p: p.final, "That is the final set itself. Set is not strong: wait."),)),
            Number(prompt="What part in % of its strength at 1 h does it have at {out_min} min?", marks=1, name="share_percent", compute=lambda p: 100 * p.out_mpa / p.hour_mpa, unit="%", band=(16, 92),
                   relative_tolerance=0.02, tolerance_why=ROUNDED, working="{out_mpa} MPa ÷ {hour_mpa} MPa × 100 = {key}",
                   slips=(Slip(lambda p: 100 - 100 * p.out_mpa / p.hour_mpa, "That is the part that is still missing."),)),
            Number(prompt="By how many µm do {length_mm} mm of it still grow after {out_min} min, until 2 h?", marks=2, name="to_come_um", unit="µm", band=(9, 54), relative_tolerance=0.03,
                   compute=lambda p: _um(p.end_percent - p.out_percent, p.length_mm), tolerance_why="a small difference of two percents.", working="({end_percent} − {out_percent}) % of {length_mm} mm = {key}",
                   slips=(Slip(lambda p: _um(p.end_percent, p.length_mm), "That is the whole growth. A part of it is already done."),
                          Slip(lambda p: 100 * _um(p.end_percent - p.out_percent, p.length_mm), "The growth is in percent: divide by 100."))),
        )),
    Task(
        id="T13-3", objective="L13-O3", level="recall", difficulty=0.7, title="From the mouth to the trimmed cast",
        text="An alginate impression comes from the mouth.",
        parts=(InOrder(prompt="Put these steps in order: the first one first.", marks=2, shown=5, steps=(
            Place("Rinse the impression.", "Saliva and blood keep a disinfectant away from the surface."),
            Place("Disinfect it as its product says.", "Before that it is contaminated, and so is everything that it touches."),
            Place("Rinse again and shake the drops out.", "Drops, and what is left of the disinfectant, spoil the surface."),
            Place("Mix powder and water.", "The mix is made last, when the impression is ready for it: its time runs."),
            Place("Let small portions run in from one side.", "The drops must be gone before the first portion."),
            Place("Add the base when the gloss is lost.", "Turned over before that, the mix sags out of the tips."),
            Place("Separate after the final set and a wait.", "At the final set it has only a small part of its strength."),
            Place("Trim the cast wet.", "The wheel waits for the hour. Before that it tears out grains."),
        )),)),
    Task(
        id="T13-4", objective="L13-O1", level="recall", difficulty=0.65, title="Which impression may wait",
        text="{who} has impressions of four materials on the bench. Nobody can pour before tomorrow. Take the windows of the lesson; the instructions of the product come first.",
        parameters=lambda draw: {"who": draw.choice(PEOPLE)},
        parts=(AllThatApply(prompt="Which of these are right?", marks=2, options=(
            Option("Addition silicone may wait until tomorrow.", "It keeps its size for days.", correct=_waits_a_day("addition silicone")),
            Option("Polyether may wait until tomorrow when it is kept dry.", "Dry it is steady for days.", correct=_waits_a_day("polyether")),
            Option("Alginate may wait until tomorrow in a bag with a wet cloth.", "Even there water runs out of the gel, and it shrinks. It waits minutes.", correct=_waits_a_day("alginate")),
            Option("Condensation silicone may wait until tomorrow.", "Alcohol leaves it, and it shrinks for hours.", correct=_waits_a_day("condensation silicone")),
            Option("Alginate shrinks because it loses water.", "In air it dries, and water runs out of it even where the air is moist.", correct=True),
            Option("Condensation silicone shrinks because alcohol leaves it.", "It gives off alcohol while it sets, and after.", correct=True),
            Option("Polyether is best kept under water.", "In water it swells."),
            Option("The waiting time of the lesson counts more than the instructions of the product.", "The instructions of the product come first."),
        )),)),
]
