"""One batch, weighed and measured: its masses and volumes as rock, as powder, fresh, set and dried."""

from typing import NamedTuple

import numpy as np

from gypsumkit.science.calcination import gypsum_g, steam_g
from gypsumkit.science.hydration import final_degree_of_hydration, theoretical_water_g
from gypsumkit.science.pores import volumes


class Batch(NamedTuple):
    """What one batch holds, masses in g and volumes in cm3; air bubbles are left out."""

    rock_g: np.ndarray            # gypsum that was heated to make the powder
    steam_g: np.ndarray           # water that left it
    powder_g: np.ndarray
    water_g: np.ndarray
    theoretical_water_g: np.ndarray   # what all of the powder would bind
    bound_water_g: np.ndarray     # what is bound when the setting has ended
    free_water_g: np.ndarray
    crystals_g: np.ndarray
    powder_left_g: np.ndarray     # powder for which there was no water
    rock_cm3: np.ndarray
    powder_cm3: np.ndarray
    water_cm3: np.ndarray
    outer_cm3: np.ndarray         # fresh mix; the set mass keeps it
    crystals_cm3: np.ndarray
    powder_left_cm3: np.ndarray
    free_water_cm3: np.ndarray
    voids_cm3: np.ndarray         # empty room opened by the reaction


def batch(powder_g, water_g, powder_density_g_cm3, gypsum_density_g_cm3, water_density_g_cm3):
    """Balance one batch by mass and by volume, from the rock to the set mass.

    Parameters
    ----------
    powder_g : float or array, g of pure hemihydrate, above 0
    water_g : float or array, g, 0 or more
    powder_density_g_cm3, gypsum_density_g_cm3, water_density_g_cm3 : float or array, g/cm3

    Returns
    -------
    Batch
        All of it set as far as the water reaches.

    Notes
    -----
    Mass balance of the reaction [iupac_weights]; volumes from the densities [singh_2007], [gypsum_density], with the outer
    volume of the fresh mix kept by the set one [gypsumkit].
    """
    powder_g = np.asarray(powder_g, dtype=float)
    water_g = np.asarray(water_g, dtype=float)
    rock = gypsum_g(powder_g)
    degree = final_degree_of_hydration(water_g / powder_g)
    bound = np.minimum(theoretical_water_g(powder_g), water_g)      # so that nothing stays free, to the last digit, where water is short
    outer = powder_g / powder_density_g_cm3 + water_g / water_density_g_cm3
    shares = volumes(water_g / powder_g, degree, powder_density_g_cm3, gypsum_density_g_cm3, water_density_g_cm3)
    return Batch(
        rock_g=rock, steam_g=steam_g(rock), powder_g=powder_g, water_g=water_g,
        theoretical_water_g=theoretical_water_g(powder_g), bound_water_g=bound, free_water_g=water_g - bound,
        crystals_g=rock * degree, powder_left_g=powder_g * (1.0 - degree),
        rock_cm3=rock / gypsum_density_g_cm3, powder_cm3=powder_g / powder_density_g_cm3,
        water_cm3=water_g / water_density_g_cm3, outer_cm3=outer, crystals_cm3=shares.crystals * outer,
        powder_left_cm3=shares.powder * outer, free_water_cm3=(water_g - bound) / water_density_g_cm3,
        voids_cm3=shares.contraction_voids * outer)
