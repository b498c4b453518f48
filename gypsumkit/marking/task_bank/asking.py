"""What the tasks of all lessons share: predictions kept, since many candidates draw the same mix, and reasons for tolerances."""

from gypsumkit.marking.tasks import Demand
from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered
from gypsumkit.showing import with_unit

BY_BALANCE = "a simple balance weighs to about 1 %."
BY_CYLINDER = "a measuring cylinder is read to about 1 %."
ROUNDED = "earlier results may have been rounded to three digits."
EXACT = "plain arithmetic, up to rounding."
THREE = ("model plaster", "dental stone", "improved stone")
WATER_ML = {"model plaster": (46, 56), "dental stone": (27, 33), "improved stone": (22, 26)}      # mL per 100 g that are asked about
PEOPLE = ("Ines", "Mr Okoro", "Tarek", "Ms Lindqvist", "Yuki", "Paolo")              # of the invented laboratory


@remembered(4096)
def mix(powder, ratio, **conditions):
    """Return the Mix of a recipe."""
    return Mix(Recipe(powder, ratio, **conditions))


def predicted(name, powder, ratio, **conditions):
    """Return the Prediction of one quantity."""
    return getattr(mix(powder, round(ratio, 6), **conditions), name)


def value(name, powder, ratio, **conditions):
    """Return the predicted value of one quantity."""
    return float(predicted(name, powder, ratio, **conditions).value)


def strength(powder, ratio):
    """Return the wet strength at 1 h, MPa."""
    return value("wet_strength_mpa", powder, ratio)


def porosity(powder, ratio):
    """Return the porosity of the dried mass, 0 to 1."""
    return value("porosity", powder, ratio)


def usual(powder):
    """Return the recommended ratio of a powder, mL per g."""
    return POWDERS[powder].recommended_ratio.value


def density(powder):
    """Return the density of the grains, g/cm³."""
    return POWDERS[powder].density_g_cm3.value


def drawn_mix(draw, powders=THREE):
    """Draw a powder and its water: name and mL per 100 g."""
    powder = draw.choice(powders)
    return {"powder": powder, "per_100_ml": draw.randint(*WATER_ML[powder])}


CALLED = {"pours": "one that pours", "too stiff to pour": "too stiff to pour", "runny": "runny", "not predicted": "not predicted"}
POURS = Demand("The mix pours", lambda mix, p: mix.consistency == "pours", lambda mix, p: f"by its yield stress it is {CALLED[mix.consistency]}", leans_on="yield_stress_pa")


def carries(name, marks=1):
    """Return the demand for the wet strength that the number of this name says, MPa; 2 % less still counts."""
    return Demand("It carries {%s} MPa wet at 1 h" % name, lambda mix, p: _value(mix.wet_strength_mpa, 0.0) >= 0.98 * p[name],
                  lambda mix, p: f"the library says {with_unit(mix.wet_strength_mpa.value, 'MPa')}", marks, "wet_strength_mpa")


def grows_at_most(name, marks=1):
    """Return the demand for a setting expansion of at most the number of this name, %; 2 % more still counts."""
    return Demand("It grows by at most {%s} %%" % name, lambda mix, p: _value(mix.setting_expansion_percent, 9.0) <= 1.02 * p[name],
                  lambda mix, p: f"the library says {with_unit(mix.setting_expansion_percent.value, '%')}", marks, "setting_expansion_percent")


def among(powders):
    """Return the demand that the powder is one of those offered, without which a recipe earns nothing."""
    return Demand("The powder is one of those offered", lambda mix, p: mix.recipe.powder in powders, lambda mix, p: f"it is {mix.recipe.powder}", marks=0, needed=True)


def _value(prediction, where_none):
    return where_none if prediction.value is None else float(prediction.value)
