"""What the grains of each powder look like when packed, and how the mixing water is shared out among them."""

from typing import NamedTuple

from gypsumkit.powders import ROOM_C, find_powder
from gypsumkit.science import packing
from gypsumkit.science.water import water_density_g_cm3
from gypsumkit.sources import Sourced


def _held(value, low, high, why):
    return Sourced(value, "mL/g", low, high, "gypsumkit", why, "our calibration")


class Grains(NamedTuple):
    """Grains of one powder: their kind in `packing.SHAPES`, and the water they hold in pores and on surfaces."""

    kind: str
    held_water: Sourced


_POROUS = Grains("irregular", _held(0.030, 0.010, 0.060, "porous, ragged grains; with the packing it gives about the jamming fraction"))
_COMPACT = Grains("compact", _held(0.004, 0.001, 0.010, "dense grains, little surface"))

GRAINS = {
    "impression plaster": _POROUS,
    "model plaster": _POROUS,
    "dental stone": Grains("prisms", _held(0.006, 0.002, 0.015, "dense grains")),
    "improved stone": _COMPACT,
    "high-expansion stone": _COMPACT,
}


class WaterShares(NamedTuple):
    """Mixing water of 1 g of powder, mL: what fills the void, what the grains hold, and what is left for flow (may be negative)."""

    void: float
    held: float
    flow: float


def packed_grains(powder, seed=1):
    """Return the packed grains of a powder.

    Parameters
    ----------
    powder : str
        Name of a powder.
    seed : int
        Another seed is another handful.

    Returns
    -------
    gypsumkit.science.packing.Packing

    Raises
    ------
    Problem
        When the powder is unknown.
    """
    return packing.packed(GRAINS[find_powder(powder).kind].kind, seed)


def water_shares(powder, water_powder_ratio, seed=1):
    """Share out the mixing water: first the void between touching grains, then what the grains hold, then flow.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float
        mL per g.
    seed : int
        Which handful is packed.

    Returns
    -------
    WaterShares

    Raises
    ------
    Problem
        When the powder is unknown.
    """
    kind = find_powder(powder)
    void = float(packing.void_water_ml_g(packed_grains(kind.name, seed).solid_fraction, kind.density_g_cm3.value,
                                         float(water_density_g_cm3(ROOM_C))))
    held = GRAINS[kind.kind].held_water.value
    return WaterShares(void, held, float(packing.flow_water_ml_g(water_powder_ratio, void, held)))
