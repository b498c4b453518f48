"""What a way of mixing leaves as bubbles in a portion, and what is left of them, of strength and of the surface after vibrating."""

from typing import NamedTuple

import numpy as np

from gypsumkit import powders
from gypsumkit.powders import MIXING_METHODS, find_powder
from gypsumkit.problems import Problem, nearest
from gypsumkit.science import bubbles, flow, hydration, pores, water
from gypsumkit.sources import Sourced


def _ours(value, unit, low, high, why):
    return Sourced(value, unit, low, high, "gypsumkit", why, "our calibration")


class Habit(NamedTuple):
    """A way of mixing: the air it leaves, the diameter that halves this air into smaller and larger bubbles, and what sits fast."""

    air: Sourced
    median_mm: Sourced
    held: Sourced                 # share of the air that no vibrating takes out


NONE_HELD = _ours(0.0, "1", 0.0, 0.0, "all bubbles are free to rise")

HABITS = {
    "powder into water, stropped": Habit(MIXING_METHODS["spatulated by hand"],
                                         _ours(0.40, "mm", 0.25, 0.60, "fine bubbles, the large ones pressed out"), NONE_HELD),
    "water onto powder, stropped": Habit(_ours(0.025, "1", 0.010, 0.050, "dry lumps hold air that no stropping reaches"),
                                         _ours(0.60, "mm", 0.40, 1.00, "air of the lumps"),
                                         _ours(0.50, "1", 0.20, 0.80, "air inside dry lumps is no bubble: vibrating does not reach it")),
    "powder into water, beaten": Habit(MIXING_METHODS["beaten by hand"], _ours(0.60, "mm", 0.40, 1.00, "air folded in from above"), NONE_HELD),
    "machine, no vacuum": Habit(_ours(0.015, "1", 0.006, 0.035, "fast blades draw air in"),
                                _ours(0.40, "mm", 0.20, 0.60, "as by hand: nothing measured says whether blades leave finer bubbles"), NONE_HELD),
    "machine under vacuum": Habit(MIXING_METHODS["machine under vacuum"], _ours(0.25, "mm", 0.15, 0.40, "what the pump leaves"), NONE_HELD),
}
MARGIN_MM2 = 10.0              # a strip of a preparation margin, 20 mm long and half a mm wide      [gypsumkit]


class Voids(NamedTuple):
    """A portion after vibrating; air as a share of the volume, strength over that of the same mix without any air."""

    air_at_first: float
    air_left: float
    strength_kept: float
    shown_per_mm2: float          # bubbles of at least 0.2 mm that a surface cuts
    chance_on_margin: float       # of at least one of them on 10 mm2


def find_habit(name):
    """Return the usual name of a way of mixing.

    Parameters
    ----------
    name : str
        A key of `HABITS`; capitals do not matter.

    Returns
    -------
    str

    Raises
    ------
    Problem
        When there is none; names the nearest.
    """
    wanted = " ".join(str(name).lower().split())
    if wanted in HABITS:
        return wanted
    guess = nearest(name, HABITS)
    raise Problem(f"There is no way of mixing called '{str(name)[:40]}'; " + (f"did you mean '{guess}'?" if guess else f"the choice is {'; '.join(HABITS)}."))


class Paste(NamedTuple):
    """What a bubble meets in a mix: yield stress (Pa), density (g/cm3), viscosity (Pa s), at the moment of the ring test."""

    yield_stress_pa: np.ndarray
    density_g_cm3: np.ndarray
    viscosity_pa_s: np.ndarray


def paste(powder, water_powder_ratio):
    """Return what a bubble meets in a fresh mix at 23 °C.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float or array
        mL per g.

    Returns
    -------
    Paste

    Raises
    ------
    Problem
        When the powder is unknown.
    """
    kind = find_powder(powder)
    water_density = water.water_density_g_cm3(powders.ROOM_C)
    crowding = flow.powder_volume_fraction(water_powder_ratio, kind.density_g_cm3.value, water_density) / kind.jamming_fraction.value
    return Paste(flow.yield_stress_pa(crowding, kind.stiffness_pa.value),
                 pores.wet_density_g_cm3(water_powder_ratio, kind.density_g_cm3.value, water_density),
                 flow.plastic_viscosity_pa_s(crowding, kind.jamming_fraction.value, kind.grain_roughness.value,
                                             water.water_viscosity_pa_s(powders.ROOM_C)))


def voids(powder, water_powder_ratio, habit, depth_mm, vibrated_s, air=None, median_mm=None, held=None, slower=None):
    """Return what is left in a portion that is poured to a depth and vibrated for a time.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float
        mL per g.
    habit : str
        A key of `HABITS`.
    depth_mm : float
        mm, above 0.
    vibrated_s : float or array
        s, 0 or more.
    air, median_mm, held, slower : float, optional
        Instead of the constants of the habit and of `bubbles.SLOWER_THAN_STOKES`.

    Returns
    -------
    Voids
        Arrays when the time is one.

    Raises
    ------
    Problem
        When powder or habit are unknown.
    """
    way = HABITS[find_habit(habit)]
    kind = find_powder(powder)
    air = way.air.value if air is None else air
    held = way.held.value if held is None else held
    slower = bubbles.SLOWER_THAN_STOKES.value if slower is None else slower
    sizes, shares = bubbles.sizes_mm(way.median_mm.value if median_mm is None else median_mm)
    speed = bubbles.rise_speed_mm_s(sizes, *paste(kind.name, water_powder_ratio), vibrated=True, slower=slower)
    free = bubbles.share_left(np.asarray(vibrated_s, dtype=float)[..., None], depth_mm, speed)
    left = shares * (held + (1.0 - held) * free)
    porosity = pores.porosity(water_powder_ratio, hydration.final_degree_of_hydration(water_powder_ratio), kind.density_g_cm3.value,
                              powders.GYPSUM_DENSITY.value, water.water_density_g_cm3(powders.ROOM_C))
    # What has left takes its room with it.
    air_left = air * left.sum(axis=-1) / (1.0 - air + air * left.sum(axis=-1))
    shown = np.where(sizes >= bubbles.SHOWS_FROM_MM, bubbles.cut_by_a_surface_per_mm2(air * left, sizes), 0.0).sum(axis=-1)
    return Voids(air, air_left, bubbles.strength_kept(air_left, porosity, powders.STRENGTH_LOSS_RATE.value), shown,
                 bubbles.chance_of_any(shown * MARGIN_MM2))
