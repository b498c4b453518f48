"""Three powders mixed to the same consistency: the water each one needs, and what comes of it, price per cast included."""

from typing import NamedTuple

import numpy as np

from gypsumkit.mix import Prediction, predict, predict_setting
from gypsumkit.powders import POWDERS, ROOM_C, find_powder
from gypsumkit.problems import Problem
from gypsumkit.remembering import remembered
from gypsumkit.science import pores
from gypsumkit.science.water import water_density_g_cm3

THREE = ("model plaster", "dental stone", "improved stone")
INVENTED_PRICES = {"model plaster": 0.80, "dental stone": 2.50, "improved stone": 6.00}    # money per kg, invented; `bench.prices` adds to them
LEAST_SPREAD_MM, MOST_SPREAD_MM = 65.0, 100.0        # on the vibrator: from just pouring to runny
STEP_MM = 0.5
SAID = ("vibrated_spread_mm", "yield_stress_pa", "air_fraction", "porosity", "wet_strength_mpa", "dry_strength_mpa", "relative_strength",
        "setting_expansion_percent")


class Cast(NamedTuple):
    """One powder at the wanted consistency: its ratio, predictions at that ratio, and what a cast takes and costs."""

    powder: str
    ratio: float
    predictions: dict
    powder_g: float
    water_ml: float
    cost: float


def ratio_at_vibrated_spread(powder, vibrated_spread_mm):
    """Return the water/powder ratio at which the ring spreads so far on the vibrator.

    Parameters
    ----------
    powder : str
        Name of a powder.
    vibrated_spread_mm : float or array
        mm, 65 to 100, at the moment of the standard ring test, 23 °C, mixed by hand.

    Returns
    -------
    float or array
        mL per g.

    Raises
    ------
    Problem
        When the powder is unknown or the spread outside that range.
    """
    spread = np.asarray(vibrated_spread_mm, dtype=float)
    if not np.all((spread >= LEAST_SPREAD_MM) & (spread <= MOST_SPREAD_MM)):
        raise _outside(vibrated_spread_mm)
    ratios, spreads = _spreads(find_powder(powder).name)
    return np.interp(spread, spreads, ratios)[()]


def _outside(spread_mm):
    return Problem(f"A spread of {spread_mm} mm on the vibrator is asked for; powders are compared from {LEAST_SPREAD_MM:g} mm (just "
                   f"pouring) to {MOST_SPREAD_MM:g} mm (runny).")


def at_equal_consistency(vibrated_spread_mm, cast_cm3=60.0, prices=None):
    """Mix three powders to one spread on the vibrator and cast the same piece from each.

    Parameters
    ----------
    vibrated_spread_mm : float
        mm, 65 to 100.
    cast_cm3 : float
        Volume of the cast, cm3 (mL), above 0.
    prices : dict of str to float, optional
        Money per kg of each powder in `THREE`; an invented list when not given.

    Returns
    -------
    tuple of Cast

    Raises
    ------
    Problem
        When the spread, the volume or a price is out of range.
    """
    prices = INVENTED_PRICES if prices is None else prices
    if not LEAST_SPREAD_MM <= vibrated_spread_mm <= MOST_SPREAD_MM:
        raise _outside(vibrated_spread_mm)
    if not cast_cm3 > 0:
        raise Problem(f"The volume of the cast is given as {cast_cm3:g} mL; it must be more than 0 mL.")
    return tuple(_cast(powder, float(vibrated_spread_mm), float(cast_cm3), prices[powder]) for powder in THREE)


def powder_for_a_cast_g(powder, water_powder_ratio, cast_cm3, air_fraction=0.0):
    """Return how much powder a cast of a given volume takes, nothing left in the bowl.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float
        mL per g.
    cast_cm3 : float
        cm3, above 0.
    air_fraction : float
        Trapped air, 0 to below 1.

    Returns
    -------
    float
        g.

    Raises
    ------
    Problem
        When the powder is unknown.
    """
    return float(cast_cm3 / pores.paste_volume_cm3_per_g(water_powder_ratio, find_powder(powder).density_g_cm3.value,
                                                         float(water_density_g_cm3(ROOM_C)), air_fraction))


def _cast(powder, spread, cast_cm3, price):
    if not price >= 0:
        raise Problem(f"The price of {powder} is given as {price:g} for 1 kg; it must be 0 or more.")
    table = _table(powder)
    place = min(int((spread - LEAST_SPREAD_MM) / STEP_MM), len(table.ratios) - 2)
    share = (spread - LEAST_SPREAD_MM) / STEP_MM - place
    rows = (table.rows[:, place] + share * (table.rows[:, place + 1] - table.rows[:, place])).tolist()
    ratio = float(table.ratios[place] + share * (table.ratios[place + 1] - table.ratios[place]))
    nearest = place + int(share > 0.5)
    predictions = {}
    for name, (value, low, high), first in zip(SAID, rows, table.first):
        valid = bool(np.asarray(first.valid)[nearest])
        predictions[name] = Prediction(value, first.unit, low, high, valid, "" if valid else first.reason, first.source)
    powder_g = powder_for_a_cast_g(powder, ratio, cast_cm3, predictions["air_fraction"].value)
    return Cast(powder, ratio, predictions, powder_g, powder_g * ratio, powder_g / 1000.0 * price)


class _Table(NamedTuple):
    ratios: np.ndarray         # at spreads from the least to the most, step by step
    rows: np.ndarray           # quantity, spread, (value, low, high)
    first: tuple               # the predictions themselves, for unit, source and validity


@remembered(8)
def _table(powder):
    spreads = np.arange(LEAST_SPREAD_MM, MOST_SPREAD_MM + STEP_MM / 2, STEP_MM)
    ratios = ratio_at_vibrated_spread(powder, spreads)
    found = dict(predict(powder, ratios))
    # The clock takes longer to compute than the rest: fewer ratios, and straight lines between them.
    few = np.linspace(ratios[0], ratios[-1], 24)
    clock = predict_setting(powder, few)["setting_expansion_percent"]
    value, low, high = (np.interp(ratios, few, np.asarray(x, dtype=float)) for x in (clock.value, clock.low, clock.high))
    valid = np.interp(ratios, few, np.asarray(clock.valid, dtype=float)) > 0.5
    found["setting_expansion_percent"] = Prediction(value, clock.unit, low, high, valid, clock.reason, clock.source)
    first = tuple(found[name] for name in SAID)
    return _Table(ratios, np.array([np.stack([p.value, p.low, p.high], axis=1) for p in first]), first)


@remembered(8)
def _spreads(powder):
    kind = POWDERS[powder]
    ratios = np.linspace(kind.least_ratio, kind.most_ratio, 400)
    return ratios, predict(powder, ratios)["vibrated_spread_mm"].value
