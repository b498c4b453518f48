"""What the tasks of all lessons share: predictions kept, since many candidates draw the same mix, and reasons for tolerances."""

from gypsumkit.marking.tasks import Demand
from gypsumkit.mix import Mix
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered

BY_BALANCE = "a simple balance weighs to about 1 %."
BY_CYLINDER = "a measuring cylinder is read to about 1 %."
ROUNDED = "earlier results may have been rounded to three digits."


@remembered(4096)
def mix(powder, ratio, **conditions):
    """Return the Mix of a recipe."""
    return Mix(Recipe(powder, ratio, **conditions))


@remembered(8192)
def predicted(name, powder, ratio, **conditions):
    """Return the Prediction of one quantity."""
    return mix(powder, ratio, **conditions).everything()[name] if name not in mix(powder, ratio, **conditions).predictions else \
        mix(powder, ratio, **conditions).predictions[name]


def value(name, powder, ratio, **conditions):
    """Return the predicted value of one quantity."""
    return float(predicted(name, powder, ratio, **conditions).value)


def strength(powder, ratio):
    """Return the wet strength at 1 h, MPa."""
    return value("wet_strength_mpa", powder, ratio)


def porosity(powder, ratio):
    """Return the porosity of the dried mass, 0 to 1."""
    return value("porosity", powder, ratio)


POURS = Demand("The mix pours", lambda mix, p: mix.consistency == "pours", lambda mix, p: f"the library calls it {mix.consistency}")
