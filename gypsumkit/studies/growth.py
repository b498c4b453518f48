"""How much a cast grows from outside while its reaction shrinks inside."""

import numpy as np

from gypsumkit import powders
from gypsumkit.mix import predict_setting
from gypsumkit.powders import POWDERS
from gypsumkit.remembering import remembered
from gypsumkit.science import expansion, hydration, pores, water


@remembered(128)
def predicted_growth(recipe):
    """Return the prediction of the setting expansion at 2 h, in air.

    Parameters
    ----------
    recipe : Recipe
        The mix.

    Returns
    -------
    gypsumkit.mix.Prediction
    """
    return predict_setting(recipe.powder, recipe.water_powder_ratio, recipe)["setting_expansion_percent"]


@remembered(128)
def growth_percent(recipe, under_water=False):
    """Return the setting expansion at 2 h.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    under_water : bool
        It sets under water, not in air.

    Returns
    -------
    tuple of float
        Value, low and high, %; NaN when it does not set.
    """
    p = predicted_growth(recipe)
    if p.value is None:
        return np.nan, np.nan, np.nan
    value, low, high = float(p.value), float(p.low), float(p.high)
    if under_water:
        times, (least, most) = expansion.WET_TIMES, expansion.WET_TIMES_RANGE
        up, down = np.hypot(high / value - 1, most / times - 1), np.hypot(1 - low / value, 1 - least / times)
        value, low, high = times * value, times * value * max(1 - down, 0.0), times * value * (1 + up)
    return value, low, high


def reaction_shrinkage_percent(recipe):
    """Return how much the reaction alone shrinks the paste.

    Parameters
    ----------
    recipe : Recipe
        The mix.

    Returns
    -------
    tuple of float
        Of the volume and of a length, %.
    """
    ratio, kind = recipe.water_powder_ratio, POWDERS[recipe.powder]
    end = float(hydration.final_degree_of_hydration(ratio))
    lost = float(pores.volumes(ratio, end, kind.density_g_cm3.value, powders.GYPSUM_DENSITY.value,
                               float(water.water_density_g_cm3(powders.ROOM_C))).contraction_voids)
    return 100 * lost, float(expansion.linear_shrinkage_percent(lost))
