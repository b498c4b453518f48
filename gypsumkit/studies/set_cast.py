"""The set cast: what wetting takes from its surface, and what its weight says of the water in it."""

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from gypsumkit import powders
from gypsumkit.checks import checked_number
from gypsumkit.mix import predict
from gypsumkit.powders import POWDERS, find_powder, named
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.science import drying, etching, hydration
from gypsumkit.science.calcination import STEAM_G_PER_G_GYPSUM
from gypsumkit.science.solubility import GYPSUM_RANGE

RUNNING, STILL, SATURATED = "running tap water", "still tap water", "saturated water"
WETTINGS = (RUNNING, STILL, SATURATED)
LEAST_MIN, MOST_MIN = 0.1, 1440.0
LEAST_L, MOST_L = 0.1, 10.0
LEAST_CM2, MOST_CM2 = 5.0, 200.0
COLDEST_C, WARMEST_C = 5.0, 90.0
EDGE_DEGREES = 60.0                              # the sharp edge of a die that is drawn: both sides lose, so its tip moves back twice as far
RINSE_S = 10.0                                   # one rinse under the tap
CEMENT_UM, LINE_UM = 25.0, 50.0                  # a film of cement; the line that a stone must reproduce: both from memory
WARM_C, HOT_C = 45.0, 60.0                       # dry below the first; above the second it is too hot            [trade]


@dataclass(frozen=True)
class Soak:
    """A set cast that becomes wet.

    Parameters
    ----------
    powder : str
        What it is made of, at the recommended ratio.
    wetting : str
        One of `WETTINGS`.
    minutes : float
        For how long, min.
    water_l : float
        Water, L: from the tap each minute, or in the bowl.
    temperature_c : float
        Of the water, °C.
    area_cm2 : float
        Surface that is wetted, cm².

    Raises
    ------
    Problem
        When a name is unknown or a number out of range.
    """

    powder: str = "dental stone"
    wetting: str = RUNNING
    minutes: float = 10.0
    water_l: float = 2.0
    temperature_c: float = 20.0
    area_cm2: float = 60.0

    def __post_init__(self):
        object.__setattr__(self, "powder", find_powder(self.powder).name)
        object.__setattr__(self, "wetting", named(self.wetting, WETTINGS, "no way to wet a cast"))
        for name, what, unit, least, most in (("minutes", "The time in the water", "min", LEAST_MIN, MOST_MIN), ("water_l", "The water", "L", LEAST_L, MOST_L),
                                              ("temperature_c", "The temperature of the water", "°C", COLDEST_C, WARMEST_C),
                                              ("area_cm2", "The wetted surface", "cm²", LEAST_CM2, MOST_CM2)):
            object.__setattr__(self, name, checked_number(getattr(self, name), what, unit, least, most))

    @cached_property
    def porosity(self):
        """Porosity of the cast."""
        return float(predict(self.powder, POWDERS[self.powder].recommended_ratio.value)["porosity"].value)

    def held_l(self, minutes=None):
        """Return all the water that has touched the cast, L."""
        minutes = self.minutes if minutes is None else minutes
        return self.water_l * minutes if self.wetting == RUNNING else self.water_l + 0.0 * np.asarray(minutes)

    def _layer_um(self, dissolved_mmol):
        return etching.depth_um(dissolved_mmol, self.area_cm2, self.porosity, powders.GYPSUM_DENSITY.value)

    def most_um(self, minutes=None):
        """Return the depth that is lost when every litre leaves full, µm; nothing can lose more.

        Parameters
        ----------
        minutes : float or array, optional
            min; the time of this soak when not given.

        Returns
        -------
        float or array
        """
        if self.wetting == SATURATED:
            return 0.0 * np.asarray(self.minutes if minutes is None else minutes, dtype=float)
        held = GYPSUM_RANGE[1] * etching.most_dissolved_mmol(self.held_l(minutes), self.temperature_c)
        return self._layer_um(held)

    def depth_um(self, minutes=None):
        """Return the least and the most that the surface has lost, µm, were it to lose alike everywhere.

        Parameters
        ----------
        minutes : float or array, optional
            min; the time of this soak when not given.

        Returns
        -------
        tuple of float or array
        """
        minutes = self.minutes if minutes is None else minutes
        if self.wetting == SATURATED:
            nothing = 0.0 * np.asarray(minutes, dtype=float)
            return nothing, nothing
        thin, thick = etching.RUNNING_FILM_UM if self.wetting == RUNNING else etching.STILL_FILM_UM
        taken = etching.dissolved_running_mmol if self.wetting == RUNNING else etching.dissolved_still_mmol
        ends = [self._layer_um(taken(etching.rate_mol_m2_s(surface, film, self.temperature_c), self.area_cm2, minutes, self.water_l, self.temperature_c))
                for surface, film in ((etching.SLOW_SURFACE_MOL_M2_S, thick), (etching.QUICK_SURFACE_MOL_M2_S, thin))]
        return ends[0], ends[1]

    def tip_um(self, minutes=None):
        """Return how far the tip of a sharp edge has moved back at least and at most, µm, as its two sides lose alike.

        Parameters
        ----------
        minutes : float or array, optional
            min; the time of this soak when not given.

        Returns
        -------
        tuple of float or array
        """
        low, high = self.depth_um(minutes)
        return etching.tip_um(low, EDGE_DEGREES), etching.tip_um(high, EDGE_DEGREES)

    def minutes_until(self, depth_um):
        """Return when a depth is perhaps lost and when it is certainly lost, min; inf when never within the day.

        Parameters
        ----------
        depth_um : float
            The depth, µm.

        Returns
        -------
        tuple of float
        """
        moments = np.geomspace(LEAST_MIN, MOST_MIN, 4001)
        low, high = self.depth_um(moments)

        def first(depths):
            reached = depths >= depth_um
            return float(moments[np.argmax(reached)]) if reached.any() else np.inf
        return first(high), first(low)


class Dryness(NamedTuple):
    """What the weight of a cast says: one of the two shares is 0."""

    dry_percent: float               # weight of the dry cast, % of its wet weight
    least_percent: float             # weight when all crystal water that heat takes has gone, too
    free_water_left: float           # share of the free water, 1 to 0
    crystal_water_lost: float        # share of what heat takes, 0 to 1


def dryness(recipe, weight_percent):
    """Read the weight of a cast.

    Parameters
    ----------
    recipe : Recipe
        Its mix.
    weight_percent : float
        Weight, % of what the cast weighed wet, when it was taken out.

    Returns
    -------
    Dryness

    Raises
    ------
    Problem
        When it weighs more than wet, or less than powder.

    Notes
    -----
    A mass balance: first the free water leaves, then three quarters of the crystal water [iupac_weights].
    """
    end = float(hydration.final_degree_of_hydration(recipe.water_powder_ratio))
    dry = 100.0 * float(drying.share_of_wet_mass(recipe.water_powder_ratio, 0.0, end))
    set_part = end * hydration.GYPSUM_G_PER_G_POWDER / (end * hydration.GYPSUM_G_PER_G_POWDER + 1.0 - end)
    least = dry * (1.0 - set_part * STEAM_G_PER_G_GYPSUM)
    weight = checked_number(weight_percent, "The weight of the cast", "%")
    if not least - 1e-9 <= weight <= 100.0:
        raise Problem(f"The weight of the cast is given as {weight:g} % of its wet weight; this mix can weigh {np.ceil(10 * least) / 10:g} to 100 %.")
    left = max(weight - dry, 0.0) / (100.0 - dry) if dry < 100.0 else 0.0
    return Dryness(dry, least, left, max(dry - weight, 0.0) / (dry - least))


def strength_mpa(recipe, free_water_left):
    """Return the compressive strength of the set cast at a stage of drying, or after it was wetted again.

    Parameters
    ----------
    recipe : Recipe
        Its mix.
    free_water_left : float or array
        Share of the free water, 1 to 0.

    Returns
    -------
    tuple of array
        Value, low and high, MPa.

    Notes
    -----
    Wet strength x dry over wet, each range added as independent errors [gypsumkit]; the same on the way down and on the way up.
    """
    ratio, left = recipe.water_powder_ratio, np.asarray(free_water_left, dtype=float)
    wet = predict(recipe.powder, ratio)["wet_strength_mpa"]
    free = drying.free_water_g_per_g_dry(ratio, 1.0, float(hydration.final_degree_of_hydration(ratio)))
    dry, last = powders.DRY_OVER_WET, drying.LAST_WATER_RANGE

    def gained(times, water=drying.LAST_WATER_G_PER_G):
        return drying.strength_over_wet(left, free, times, water)
    usual = gained(dry.value)
    moved = [np.array([wet.low / wet.value - 1, wet.high / wet.value - 1]).reshape(2, *[1] * left.ndim) + 0 * usual,
             np.array([gained(dry.low), gained(dry.high)]) / usual - 1, np.array([gained(dry.value, water) for water in last]) / usual - 1]
    value = wet.value * usual
    low = value * (1 - np.sqrt(sum(np.minimum(x.min(axis=0), 0.0) ** 2 for x in moved)))
    high = value * (1 + np.sqrt(sum(np.maximum(x.max(axis=0), 0.0) ** 2 for x in moved)))
    return value, low, high


def usual(powder):
    """Return the mix of a powder at its recommended ratio."""
    kind = find_powder(powder)
    return Recipe(kind.name, kind.recommended_ratio.value)


def warmth_words(temperature_c):
    """Judge the temperature of the air in which a cast dries, in words.

    Parameters
    ----------
    temperature_c : float
        °C.

    Returns
    -------
    str
    """
    if temperature_c <= WARM_C:
        return "warm, not hot"
    return "in doubt" if temperature_c <= HOT_C else "too hot"
