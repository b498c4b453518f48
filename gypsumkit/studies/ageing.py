"""The first week of a cast: it sets, then it dries, and its strength follows both."""

from typing import NamedTuple

import numpy as np

from gypsumkit import powders
from gypsumkit.mix import predict, predict_timeline
from gypsumkit.science import drying, hydration

TAKEN_OUT_MIN = 60.0                     # taken from the mould; drying is counted from here          [trade]


class Week(NamedTuple):
    """A cast at many moments: arrays, one value a moment."""

    time_min: np.ndarray
    free_water_left: np.ndarray          # share of the free water, 1 to 0
    weight_share: np.ndarray             # weight over that before drying
    strength_mpa: np.ndarray
    strength_low_mpa: np.ndarray
    strength_high_mpa: np.ndarray


def free_water_left(time_min, half_dry_h):
    """Share of the free water still in the cast.

    Parameters
    ----------
    time_min : float or array, min from the start of mixing, 0 or more
    half_dry_h : float, h above 0, in which half of the free water leaves; np.inf when it is kept wet

    Returns
    -------
    float or array, 1 to 0

    Notes
    -----
    2^(-(t - 60 min)/half time) from 1 h on [gypsumkit]: each hour takes the same share of what is left. Our simplest assumption; a
    real cast dries evenly at first and slowly at the end, faster when it is small, warm or in moving air.
    """
    out = np.maximum(np.asarray(time_min, dtype=float) - TAKEN_OUT_MIN, 0.0)
    return 0.5 ** (out / (60.0 * half_dry_h))


def first_week(recipe, time_min, half_dry_h):
    """Predict free water, weight and strength of a cast while it sets and dries.

    Parameters
    ----------
    recipe : gypsumkit.recipe.Recipe
        The mix.
    time_min : array
        Moments, min from the start of mixing, rising.
    half_dry_h : float
        h above 0, in which half of the free water leaves; np.inf when kept wet.

    Returns
    -------
    Week

    Notes
    -----
    Strength = wet strength so far x strength dry over wet at the free water left [gypsumkit]. The range is that of the strength law
    and of dry over wet, with each taken at its low and at its high end and added as independent errors.
    """
    moments = np.asarray(time_min, dtype=float)
    powder, ratio = recipe.powder, recipe.water_powder_ratio
    line = predict_timeline(powder, ratio, moments, recipe, ranges=False)
    standard = predict(powder, ratio)["wet_strength_mpa"]
    left = free_water_left(moments, half_dry_h)
    end = float(hydration.final_degree_of_hydration(ratio))
    free = drying.free_water_g_per_g_dry(ratio, 1.0, end)
    dry, last = powders.DRY_OVER_WET, drying.LAST_WATER_RANGE

    def gained(times, water=drying.LAST_WATER_G_PER_G):
        return drying.strength_over_wet(left, free, times, water)
    usual = gained(dry.value)
    value = line["strength_mpa"].value * usual
    moved = [np.array([standard.low / standard.value - 1, standard.high / standard.value - 1])[:, np.newaxis] + np.zeros_like(value),
             np.array([gained(dry.low), gained(dry.high)]) / usual - 1, np.array([gained(dry.value, water) for water in last]) / usual - 1]
    low = value * (1 - np.sqrt(sum(np.minimum(x.min(axis=0), 0.0) ** 2 for x in moved)))
    high = value * (1 + np.sqrt(sum(np.maximum(x.max(axis=0), 0.0) ** 2 for x in moved)))
    return Week(moments, left, drying.share_of_wet_mass(ratio, left, end), value, low, high)
