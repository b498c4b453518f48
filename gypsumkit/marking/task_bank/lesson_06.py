"""Tasks on lesson 06, powders compared."""

from gypsumkit.marking.task_bank.asking import BY_BALANCE, ROUNDED, THREE, density, usual
from gypsumkit.marking.tasks import AllThatApply, Coded, Number, OneOf, Task
from gypsumkit.quiz.questions import Option, Slip
from gypsumkit.remembering import remembered
from gypsumkit.science.packing import void_water_ml_g
from gypsumkit.studies.comparison import at_equal_consistency


@remembered(64)
def _three(spread_mm):
    return at_equal_consistency(float(spread_mm))


def _of(spread_mm, place, name):
    return float(_three(spread_mm)[place].predictions[name].value)


TASKS = [
    Task(
        id="T06-1", objective="L06-O3", level="apply", difficulty=0.55, title="What a cast costs",
        text="A piece of {cast_ml} mL is cast from {powder}, with {per_100_ml} mL of water per 100 g. The grains have a density of {density} g/cm³. 1 kg costs {price} (invented). "
             "Nothing is left in the bowl, and air is not counted.",
        parameters=lambda draw: {"powder": draw.choice(THREE), "cast_ml": draw.randrange(42, 130), "price": draw.choice([2.4, 3.2, 3.6, 4.5, 5.4, 6.2, 7.5])},
        digits={"cast_ml": None, "price": 2},
        computed={"per_100_ml": lambda p: round(100 * usual(p.powder)), "density": lambda p: density(p.powder)},
        parts=(
            Number(prompt="How many mL of mix do 100 g of powder give?", marks=1, name="mix_ml", compute=lambda p: 100 / p.density + p.per_100_ml, unit="mL", also_unit="mL per 100 g", band=(50, 95),
                   tolerance_why="the density is given in three digits.", working="100 g ÷ {density} g/cm³ + {per_100_ml} mL = {key}",
                   slips=(Slip(lambda p: 100 + p.per_100_ml, "That is the mass of the mix in g. The question asks for its volume: divide the powder by its density."),
                          Slip(lambda p: 100 / p.density, "You left out the water."))),
            Number(prompt="How much powder in g does the cast take?", marks=1, name="powder_g", compute=lambda p: 100 * p.cast_ml / p.mix_ml, unit="g", band=(45, 220),
                   relative_tolerance=0.015, tolerance_why=BY_BALANCE, working="{cast_ml} mL ÷ {mix_ml} mL × 100 g = {key}",
                   slips=(Slip(lambda p: p.cast_ml * p.density, "That would be a cast of grains without any water."),)),
            Number(prompt="What does the powder cost, in the same money?", marks=1, name="cost", compute=lambda p: p.powder_g / 1000 * p.price, unit="", band=(0.2, 1.2),
                   relative_tolerance=0.02, absolute_tolerance=0.006, tolerance_why="half a cent more or less does not matter.", working="{powder_g} g ÷ 1000 × {price} = {key}",
                   slips=(Slip(lambda p: p.powder_g * p.price, "You took the price for 1 g. It is for 1 kg."),
                          Slip(lambda p: p.powder_g / 100 * p.price, "You took the price for 100 g. It is for 1 kg."))),
        )),
    Task(
        id="T06-2", objective="L06-O1", level="apply", difficulty=0.45, title="Water that only fills the voids",
        text="Grains of a density of {grain} g/cm³ fill {percent} % of the room when they touch. The rest is void. 1 mL of water weighs 1 g.",
        parameters=lambda draw: {"grain": draw.choice([2.63, 2.64, 2.74, 2.75, 2.76]), "percent": draw.randrange(52, 76)}, digits={"grain": 3, "percent": 2},
        parts=(Number(prompt="How many mL of water fill the void between 100 g of these grains?", marks=2, name="void_ml",
                      compute=lambda p: 100 * float(void_water_ml_g(p.percent / 100, p.grain, 1.0)), unit="mL", band=(11, 36), relative_tolerance=0.02, tolerance_why=ROUNDED,
                      working="100 g ÷ {grain} g/cm³ is {percent} % of the room; what is left of the room is {key}",
                      slips=(Slip(lambda p: 100 / p.grain * (1 - p.percent / 100), "You took the void as a part of the grains. It is a part of the room, and the grains are {percent} % of the room."),
                             Slip(lambda p: 100 - p.percent, "That is the void in % of the room. The question asks for mL for 100 g of powder."),
                             Slip(lambda p: 100 * 100 / p.grain / p.percent, "That is the whole room. Take off the volume of the grains."))),)),
    Task(
        id="T06-3", objective="L06-O2", level="explain/judge", difficulty=0.6, title="Two powders at one consistency",
        text="Model plaster and improved stone are mixed to the same spread on the vibrator, {spread_mm} mm, and a piece of {cast_ml} mL is cast from each.",
        parameters=lambda draw: {"spread_mm": draw.randrange(66, 100), "cast_ml": draw.randrange(42, 98)}, digits={"spread_mm": None, "cast_ml": None},
        parts=(AllThatApply(prompt="Which of these are true of the improved stone, compared with the plaster?", marks=2, options=(
            Option("It is less porous when dry.", "Less water was needed, so fewer pores stay.", correct=lambda p: _of(p.spread_mm, 2, "porosity") < 0.9 * _of(p.spread_mm, 0, "porosity")),
            Option("It is stronger when wet.", "Fewer pores carry more.", correct=lambda p: _of(p.spread_mm, 2, "wet_strength_mpa") > 1.3 * _of(p.spread_mm, 0, "wet_strength_mpa")),
            Option("It grows more while it sets.", "It grows less: about a quarter of the plaster.",
                   correct=lambda p: _of(p.spread_mm, 2, "setting_expansion_percent") > _of(p.spread_mm, 0, "setting_expansion_percent")),
            Option("The piece takes more powder.", "Where there is less water, there is more powder in each mL.", correct=lambda p: _three(p.spread_mm)[2].powder_g > _three(p.spread_mm)[0].powder_g),
            Option("Each gram of it binds more water.", "The reaction is the same: 18.6 g for 100 g.", correct=False),
        )),)),
    Task(
        id="T06-4", objective="L06-O3", level="explain/judge", difficulty=0.75, title="When improved stone is worth its price",
        text="Improved stone costs several times as much as model plaster.",
        parts=(OneOf(prompt="For which of these does it pay?", marks=1, options=(
            Option("A die on which a crown is waxed and fitted again and again.", "Its edges must not crumble, and its size must be right.", correct=True),
            Option("A die with a thin preparation margin that is worked with instruments.", "Thin edges need strength.", correct=True),
            Option("The dies of a bridge that must stand apart exactly as in the mouth.", "A small growth keeps their distance right.", correct=True),
            Option("A study model that is photographed and put on the shelf.", "Nobody works on it. Model plaster does."),
            Option("The plaster that fixes a cast in an articulator (a frame that moves like the jaws) and is broken off later.", "It has to come off again, and needs little strength."),
            Option("A large base that nobody measures.", "The largest piece takes the most powder, and nothing is gained there."),
            Option("A model on which students practise how to trim.", "It is cut away: the cheapest powder does."),
            Option("A trial mix that shows how long a new powder can be poured.", "The trial has to be made with the powder that it is about, whatever it is."),
            Option("A block that fills the gap below a cast.", "Nobody measures it, and it takes much powder."),
        )),)),
    Task(
        id="T06-5", objective="L06-O3", level="apply", difficulty=0.5, title="A week of casts",
        text="A laboratory pours {many} casts of {cast_ml} mL each from {powder} in a week, with {per_100_ml} mL of water per 100 g. The grains have a density of {density} g/cm³. {waste} % more "
             "powder is needed for what stays in the bowl. Air is not counted.",
        parameters=lambda draw: {"many": draw.randrange(21, 60), "cast_ml": draw.randrange(42, 98), "powder": draw.choice(THREE), "waste": draw.choice([12, 14, 15, 16, 18])},
        digits={"many": None, "cast_ml": None, "waste": 2},
        computed={"per_100_ml": lambda p: round(100 * usual(p.powder)), "density": lambda p: density(p.powder)},
        parts=(Coded(prompt="How much powder in kg is that?", marks=3, name="powder_kg",
                     compute=lambda p: p.many * p.cast_ml / (1 / p.density + p.per_100_ml / 100) * (1 + p.waste / 100) / 1000, unit="kg", band=(1.6, 9), relative_tolerance=0.01,
                     tolerance_why="code does not round on the way.", working="{many} × {cast_ml} mL ÷ (1 ÷ {density} + {per_100_ml} ÷ 100) mL/g × 1.{waste} ÷ 1000 = {key}",
                     slips=(Slip(lambda p: p.many * p.cast_ml / (1 / p.density + p.per_100_ml / 100) / 1000, "The waste is missing: {waste} % more."),
                            Slip(lambda p: p.many * p.cast_ml / (1 / p.density + p.per_100_ml / 100) * (1 + p.waste / 100), "That is in g. 1000 g are 1 kg."),
                            Slip(lambda p: p.many * p.cast_ml * p.density * (1 + p.waste / 100) / 1000, "That would be casts of grains without any water."))),)),
]
