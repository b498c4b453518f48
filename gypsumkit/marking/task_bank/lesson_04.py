"""Tasks on lesson 04, water bound and free, volumes and drying."""

from gypsumkit.marking.task_bank.asking import BY_BALANCE, ROUNDED, density, drawn_mix
from gypsumkit.marking.tasks import AllThatApply, Number, OneOf, Task
from gypsumkit.quiz.questions import Option, Slip
from gypsumkit.science import calcination, hydration

BOUND = "18.6 g for 100 g is itself rounded."


def _bound(powder_g):
    return float(hydration.theoretical_water_g(powder_g))


def _block_cm3(p):
    return round(p.powder_g * (1 / density(p.powder) + p.per_100_ml / 100), 1)


TASKS = [
    Task(
        id="T04-1", objective="L04-O1", level="apply", difficulty=0.75, title="What part of the water stays free",
        text="{powder_g} g of {powder} are mixed with {per_100_ml} mL of water per 100 g. All of it sets. 100 g of powder bind 18.6 g. Count 1 mL of water as 1 g.",
        parameters=lambda draw: {**drawn_mix(draw), "powder_g": draw.randrange(110, 390, 10)}, digits={"powder_g": 2, "per_100_ml": None},
        parts=(
            Number(prompt="How much water in g was poured in?", marks=1, name="water_g", compute=lambda p: p.powder_g * p.per_100_ml / 100, unit="g", band=(36, 200),
                   relative_tolerance=0.005, tolerance_why=BY_BALANCE, working="{powder_g} g × {per_100_ml} ÷ 100 = {key}",
                   slips=(Slip(lambda p: p.powder_g * 100 / p.per_100_ml, "Upside down: there is less water than powder."),)),
            Number(prompt="How much of it in g is bound?", marks=1, name="bound_g", compute=lambda p: _bound(p.powder_g), unit="g", band=(20, 75), tolerance_why=BOUND,
                   working="{powder_g} g × 18.6 ÷ 100 = {key}",
                   slips=(Slip(lambda p: _bound(p.water_g), "You took 18.6 % of the water. It is 18.6 g for 100 g of powder."),)),
            Number(prompt="What part in % of the water stays free?", marks=2, name="free_percent", compute=lambda p: 100 * (p.water_g - p.bound_g) / p.water_g, unit="%",
                   band=(14, 70), relative_tolerance=0.02, absolute_tolerance=0.8, tolerance_why=ROUNDED, working="({water_g} − {bound_g}) g ÷ {water_g} g × 100 = {key}",
                   slips=(Slip(lambda p: 100 * (p.water_g - p.bound_g) / p.powder_g, "You divided by the powder. The question asks for a part of the water."),)),
        )),
    Task(
        id="T04-2", objective="L04-O3", level="apply", difficulty=0.6, title="A block, wet and dry",
        text="A block is poured from {powder_g} g of {powder} with {per_100_ml} mL of water per 100 g. It keeps its outer volume of {outer_cm3} cm³. 100 g of powder bind 18.6 g of water. "
             "Count 1 mL of water as 1 g.",
        parameters=lambda draw: {**drawn_mix(draw), "powder_g": draw.randrange(110, 390, 10)}, digits={"powder_g": 2, "per_100_ml": None}, computed={"outer_cm3": _block_cm3},
        parts=(
            Number(prompt="What does the wet block weigh in g?", marks=1, name="wet_g", compute=lambda p: p.powder_g * (1 + p.per_100_ml / 100), unit="g", band=(130, 620),
                   relative_tolerance=0.005, tolerance_why=BY_BALANCE, working="{powder_g} g + {powder_g} g × {per_100_ml} ÷ 100 = {key}",
                   slips=(Slip(lambda p: p.powder_g * p.per_100_ml / 100, "That is the water alone. Add the powder."),)),
            Number(prompt="What does it weigh in g when it is dry?", marks=1, name="dry_g", compute=lambda p: float(calcination.gypsum_g(p.powder_g)), unit="g",
                   other_ways=(lambda p: p.wet_g - (p.powder_g * p.per_100_ml / 100 - _bound(p.powder_g)),), band=(120, 470),
                   relative_tolerance=0.008, tolerance_why=BY_BALANCE, working="{powder_g} g + {powder_g} g × 18.6 ÷ 100 = {key}",
                   slips=(Slip(lambda p: p.wet_g - _bound(p.powder_g), "You took off the bound water. It stays. Take off the free water."),)),
            Number(prompt="What is its dry density in g/cm³?", marks=1, name="dry_density", compute=lambda p: p.dry_g / p.outer_cm3, unit="g/cm³", band=(1.1, 2.1),
                   relative_tolerance=0.015, tolerance_why=ROUNDED, working="{dry_g} g ÷ {outer_cm3} cm³ = {key}",
                   slips=(Slip(lambda p: p.wet_g / p.outer_cm3, "That is the density when wet."),
                          Slip(lambda p: p.outer_cm3 / p.dry_g, "Upside down: density is mass divided by volume."))),
            Number(prompt="What part in % of its wet weight does it lose on drying?", marks=1, name="lost_percent", compute=lambda p: 100 * (p.wet_g - p.dry_g) / p.wet_g, unit="%",
                   band=(4.5, 26), relative_tolerance=0.04, absolute_tolerance=0.5, tolerance_why="the difference of two rounded numbers is less exact than they are.",
                   working="({wet_g} − {dry_g}) g ÷ {wet_g} g × 100 = {key}",
                   slips=(Slip(lambda p: 100 * p.dry_g / p.wet_g, "That is the part that stays."),)),
        )),
    Task(
        id="T04-3", objective="L04-O2", level="explain/judge", difficulty=0.55, title="Why the model does not shrink",
        text="Crystals of gypsum take about 7 to 10 % less room than the powder and the water they came from. Still a model does not become smaller while it sets.",
        parts=(OneOf(prompt="Which sentence explains it?", marks=1, options=(
            Option("The needles lock early; what is lost in volume then becomes voids inside.", "Once the network stands, the outside keeps its size.", correct=True),
            Option("After the needles have locked, the missing volume shows as fine pores between them.", "Once the network stands, the outside keeps its size.", correct=True),
            Option("The missing volume is found inside as pores, since the locked crystals no longer move together.", "Once the network stands, the outside keeps its size.", correct=True),
            Option("The heat of setting expands the mass by as much as it shrinks.", "The heat goes within an hour, and the size stays."),
            Option("Free water fills the missing volume and stays there for ever.", "The free water dries off, and the model still keeps its size."),
            Option("Air from outside is sucked in and blows the mass up.", "Nothing blows it up: the network holds its size, also under water."),
            Option("The powder was weighed dry, so the numbers do not count.", "The volumes are those of powder and water, correctly counted."),
            Option("The mould holds the mass so firmly that it cannot shrink.", "A drop on a plate, without any mould, does not shrink either."),
            Option("The crystals become larger again when they dry.", "Drying takes away free water; it does not change the crystals."),
        )),)),
    Task(
        id="T04-4", objective="L04-O4", level="recall", difficulty=0.7, title="Drying a model",
        text="A model has set and is to be dried.",
        parts=(AllThatApply(prompt="Which of these statements are true?", marks=2, options=(
            Option("Moving air at room temperature dries it without harm.", "Only free water leaves.", correct=True),
            Option("Its strength rises much only when nearly all free water has gone.", "The last water between the crystals counts most.", correct=True),
            Option("A dry model is about twice as strong as a wet one.", "This is what handbooks say.", correct=True),
            Option("Its weight tells how far it has dried.", "When the weight stays the same, the free water has gone.", correct=True),
            Option("A large block dries more slowly than a small one.", "The way for the water is longer.", correct=True),
            Option("An oven at 120 °C makes it dry and stronger.", "It takes the bound water as well, and the model turns soft."),
            Option("A dry model weighs as much as the powder did.", "It keeps the bound water."),
            Option("It becomes clearly smaller when it dries.", "The crystals keep their network; the outside stays."),
            Option("Half of the free water gone means half of the gain in strength.", "Strength rises little until nearly all of it has gone."),
            Option("A model that feels dry outside is dry inside.", "The inside dries last; only weighing tells."),
        )),)),
]
