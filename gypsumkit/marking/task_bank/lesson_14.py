"""Tasks on lesson 14, the set cast."""

from gypsumkit.marking.task_bank.asking import EXACT, ROUNDED, drawn_mix, predicted
from gypsumkit.marking.tasks import AllThatApply, Number, OneOf, Task
from gypsumkit.quiz.questions import Option, Slip
from gypsumkit.remembering import remembered
from gypsumkit.science.hydration import GYPSUM_G_MOL, GYPSUM_G_PER_G_POWDER
from gypsumkit.science.solubility import dissolved_g_per_100_g, gypsum_solubility_mmol_kg
from gypsumkit.showing import rounded

ROOM_C = 20.0


@remembered(1)
def _holds_g_l():
    """Return the g of gypsum that a litre of water holds, as it is told to the candidate."""
    return float(rounded(10 * float(dissolved_g_per_100_g(gypsum_solubility_mmol_kg(ROOM_C), GYPSUM_G_MOL)), 2))


def _bowl(draw):
    return {**drawn_mix(draw), "litres": draw.randrange(31, 99) / 100, "area_cm2": draw.randrange(34, 97)}


def _drying(draw):
    powder_g, per_100_ml = 10 * draw.randrange(12, 35), draw.randrange(27, 56)
    wet_g = powder_g * (1 + per_100_ml / 100)
    dry_g = powder_g * GYPSUM_G_PER_G_POWDER
    return {"powder_g": powder_g, "water_ml": round(powder_g * per_100_ml / 100), "now_g": round(dry_g + draw.uniform(0.3, 0.8) * (wet_g - dry_g))}


def _oven(draw):
    powder_g = 10 * draw.randrange(12, 35)
    return {"powder_g": powder_g, "found_g": round(powder_g * GYPSUM_G_PER_G_POWDER * draw.choice([draw.uniform(0.91, 0.97), draw.uniform(1.03, 1.09)]))}


TASKS = [
    Task(
        id="T14-1", objective="L14-O2", level="apply", difficulty=0.6, title="Dry by its weight",
        text="A cast was made of {powder_g} g of powder and {water_ml} mL of water; nothing was lost. One gram of powder becomes {times:.3f} g of dry gypsum. Count 1 mL of water as 1 g. Now the cast weighs {now_g} g.",
        parameters=_drying, digits={"powder_g": 2, "water_ml": None, "now_g": None}, computed={"times": lambda p: float(rounded(GYPSUM_G_PER_G_POWDER, 4))},
        parts=(
            Number(prompt="What will it weigh dry, in g? Write four digits.", marks=1, name="dry_g", digits=4, compute=lambda p: p.powder_g * p.times, unit="g", band=(140, 415), relative_tolerance=0.003, tolerance_why=EXACT,
                   working="{powder_g} g × {times:.3f} = {key}", slips=(Slip(lambda p: p.powder_g + p.water_ml, "That is the wet weight. The free water leaves."),)),
            Number(prompt="How much free water in g was in the wet cast?", marks=1, name="free_g", compute=lambda p: p.powder_g + p.water_ml - p.dry_g, unit="g", band=(17, 100), relative_tolerance=0.03,
                   tolerance_why="a difference of two weights.", working="{powder_g} g + {water_ml} g − {dry_g:.4g} g = {key}", slips=(Slip(lambda p: p.water_ml, "A part of the water is bound in the crystals."),)),
            Number(prompt="What part in % of its free water is still in it?", marks=2, name="left_percent", compute=lambda p: 100 * (p.now_g - p.dry_g) / p.free_g, unit="%", band=(20, 90), relative_tolerance=0.05,
                   tolerance_why="a small difference of two large weights.", working="({now_g} − {dry_g:.4g}) g ÷ {free_g} g × 100 = {key}",
                   slips=(Slip(lambda p: 100 - 100 * (p.now_g - p.dry_g) / p.free_g, "That is the part that has left."),)),
        )),
    Task(
        id="T14-2", objective="L14-O1", level="apply", difficulty=0.55, title="Forgotten in tap water",
        text="A dried cast of {powder} lies in {litres} L of tap water at {room:.0f} °C. Water wets {area_cm2} cm² of it. A litre of water holds at most {holds} g of gypsum. The dry cast has a density of {dry_density} g/cm³.",
        parameters=_bowl, digits={"per_100_ml": None, "litres": 2, "area_cm2": 2},
        computed={"room": lambda p: ROOM_C, "holds": lambda p: _holds_g_l(), "dry_density": lambda p: float(rounded(predicted("dry_density_g_cm3", p.powder, p.per_100_ml / 100).value, 3))},
        trusted=lambda p: (predicted("dry_density_g_cm3", p.powder, p.per_100_ml / 100),),
        parts=(
            Number(prompt="How much gypsum in g can the water take up at most?", marks=1, name="most_g", compute=lambda p: p.litres * p.holds, unit="g", band=(0.7, 2.7), relative_tolerance=0.015, tolerance_why=ROUNDED,
                   working="{litres} L × {holds} g/L = {key}", slips=(Slip(lambda p: p.holds / p.litres, "More water takes more: multiply."),)),
            Number(prompt="How many cm³ of the cast is that?", marks=1, name="most_cm3", compute=lambda p: p.most_g / p.dry_density, unit="cm³", band=(0.37, 2.2), relative_tolerance=0.02, tolerance_why=ROUNDED,
                   working="{most_g} g ÷ {dry_density} g/cm³ = {key}", slips=(Slip(lambda p: p.most_g * p.dry_density, "Divide by the density."),)),
            Number(prompt="How thick in µm is the layer that is lost at most, when it is equally thick everywhere?", marks=2, name="deep_um", compute=lambda p: 1e4 * p.most_cm3 / p.area_cm2, unit="µm", band=(60, 350),
                   relative_tolerance=0.025, tolerance_why=ROUNDED, working="{most_cm3} cm³ ÷ {area_cm2} cm² × 10 000 µm/cm = {key}",
                   slips=(Slip(lambda p: 1e3 * p.most_cm3 / p.area_cm2, "1 cm is 10 000 µm. You took 1000."),)),
        )),
    Task(
        id="T14-3", objective="L14-O2", level="explain/judge", difficulty=0.6, title="A night in the oven",
        text="A cast from {powder_g} g of powder weighs {found_g} g after a night in the oven. One gram of powder becomes {times:.3f} g of dry gypsum. Nothing broke off.",
        parameters=_oven, digits={"powder_g": 2, "found_g": None}, computed={"times": lambda p: float(rounded(GYPSUM_G_PER_G_POWDER, 4))},
        parts=(OneOf(prompt="What do you know?", marks=1, options=(
            Option("It has lost crystal water: it was too hot.", "Compare it with the dry weight, powder × {times:.3f}. Only crystal water can make a cast lighter than that.",
                   correct=lambda p: p.found_g < 0.99 * p.powder_g * p.times),
            Option("There is free water left in it.", "Compare it with the dry weight, powder × {times:.3f}. What is more than that is free water.", correct=lambda p: p.found_g > 1.01 * p.powder_g * p.times),
            Option("It is dry, and as strong as it can be.", "Dry it would weigh powder × {times:.3f}."),
            Option("Nothing: the water that was mixed in is not known.", "For the dry weight only the powder counts, if there was enough water for it."),
        )),)),
    Task(
        id="T14-4", objective="L14-O4", level="recall", difficulty=0.7, title="How a cast lasts",
        text="A set cast is handled and stored.",
        parts=(AllThatApply(prompt="Which of these are right?", marks=2, options=(
            Option("Soak it in water that already holds gypsum.", "Such water takes nothing from the cast.", correct=True),
            Option("Let it dry before it is used.", "Water between the crystals makes it weak and soft.", correct=True),
            Option("Dry it warm in moving air, not hot.", "Above about 45 to 60 °C gypsum loses its water, weakens and chalks.", correct=True),
            Option("Keep it dry, in a box, away from heat.", "Damp makes it weak, and heat makes it chalk.", correct=True),
            Option("A wet margin is scratched more easily than a dry one.", "Strength and hardness are lower while water sits between the crystals.", correct=True),
            Option("Rinse it under the tap for half an hour to clean it.", "Running tap water takes gypsum from the surface, from edges first."),
            Option("Days in a warm oven make it stronger and stronger.", "When the free water has gone the oven takes crystal water."),
            Option("A dry cast that is wetted again stays as strong as dry.", "The strength goes again when the water comes back."),
            Option("Keep it in a closed bag with a wet cloth.", "Wet casts stay weak, and fungus grows on them."),
        )),)),
]
