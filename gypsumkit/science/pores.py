"""The same batch by volume: crystals, water, pores, and what that makes of the density.

Everything is counted for 1 g of powder mixed with `water_powder_ratio` g of water. The outer volume stays that of the
fresh paste, since the crystal network stands before most of the powder has reacted; crystals and bound water fill less
room than powder and water did, and the difference opens as empty voids inside.
"""

from typing import NamedTuple

import numpy as np

from gypsumkit.science.hydration import GYPSUM_G_PER_G_POWDER, THEORETICAL_WATER_G_PER_G


class Volumes(NamedTuple):
    """What fills the mass, each as a fraction of the outer volume; the five add up to 1."""

    powder: np.ndarray          # hemihydrate not yet reacted
    crystals: np.ndarray        # gypsum
    free_water: np.ndarray      # water still liquid, in the pores
    contraction_voids: np.ndarray   # empty pores opened by the reaction
    air: np.ndarray             # bubbles trapped in mixing


def paste_volume_cm3_per_g(water_powder_ratio, powder_density_g_cm3, water_density_g_cm3=1.0, air_fraction=0.0):
    """Outer volume of the fresh paste made with 1 g of powder.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, above 0; mL per g where the water's density is 1
    powder_density_g_cm3, water_density_g_cm3 : float or array, g/cm3
    air_fraction : float or array, 0 to below 1, of the outer volume

    Returns
    -------
    float or array, cm3 per g of powder

    Notes
    -----
    (1/powder density + ratio/water density) / (1 - air), a volume balance [gypsumkit].
    """
    solid_and_water = 1.0 / powder_density_g_cm3 + np.asarray(water_powder_ratio, dtype=float) / water_density_g_cm3
    return solid_and_water / (1.0 - np.asarray(air_fraction, dtype=float))


def volumes(water_powder_ratio, degree_of_hydration, powder_density_g_cm3, gypsum_density_g_cm3,
            water_density_g_cm3, air_fraction=0.0):
    """What fills the mass at a given degree of hydration.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, above 0
    degree_of_hydration : float or array, 0 (fresh) to 1 (all powder set)
    powder_density_g_cm3, gypsum_density_g_cm3, water_density_g_cm3 : float or array, g/cm3
    air_fraction : float or array, 0 to below 1, of the outer volume

    Returns
    -------
    Volumes
        Fractions of the outer volume, adding up to 1.

    Notes
    -----
    Mass balance of the reaction with fixed outer volume [gypsumkit]; densities [gypsum_density], [singh_2007].
    """
    a = np.asarray(degree_of_hydration, dtype=float)
    outer = paste_volume_cm3_per_g(water_powder_ratio, powder_density_g_cm3, water_density_g_cm3, air_fraction)
    powder = (1.0 - a) / powder_density_g_cm3 / outer
    crystals = a * GYPSUM_G_PER_G_POWDER / gypsum_density_g_cm3 / outer
    water = (np.asarray(water_powder_ratio, dtype=float) - a * THEORETICAL_WATER_G_PER_G) / water_density_g_cm3 / outer
    air = np.broadcast_to(np.asarray(air_fraction, dtype=float), np.shape(powder + water)) * 1.0
    # What is left of 1, written so that it is exactly nothing while nothing has reacted.
    voids = a * (1.0 / powder_density_g_cm3 + THEORETICAL_WATER_G_PER_G / water_density_g_cm3 - GYPSUM_G_PER_G_POWDER / gypsum_density_g_cm3) / outer
    return Volumes(powder, crystals, water, voids, air)


def porosity(water_powder_ratio, degree_of_hydration, powder_density_g_cm3, gypsum_density_g_cm3,
             water_density_g_cm3, air_fraction=0.0):
    """Everything that is not solid in the set, dried mass.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, above 0
    degree_of_hydration : float or array, 0 to 1
    powder_density_g_cm3, gypsum_density_g_cm3, water_density_g_cm3 : float or array, g/cm3
    air_fraction : float or array, 0 to below 1, of the outer volume

    Returns
    -------
    float or array, volume fraction 0 to 1

    Notes
    -----
    1 - solid volume / outer volume [gypsumkit]; 0.372 for a ratio of 0.45 with a powder of 2.75 g/cm3, no air.
    """
    v = volumes(water_powder_ratio, degree_of_hydration, powder_density_g_cm3, gypsum_density_g_cm3,
                water_density_g_cm3, air_fraction)
    return 1.0 - v.powder - v.crystals


def chemical_contraction_fraction(powder_density_g_cm3, gypsum_density_g_cm3, water_density_g_cm3):
    """Volume lost by powder and bound water when they become crystals.

    Parameters
    ----------
    powder_density_g_cm3, gypsum_density_g_cm3, water_density_g_cm3 : float or array, g/cm3

    Returns
    -------
    float or array, fraction of the reacting volume (about 0.07 to 0.10)

    Notes
    -----
    1 - V(gypsum) / [V(hemihydrate) + V(1 1/2 water)], a volume balance [gypsumkit]; handbooks print 7.1 %.
    """
    before = 1.0 / powder_density_g_cm3 + THEORETICAL_WATER_G_PER_G / water_density_g_cm3
    return 1.0 - GYPSUM_G_PER_G_POWDER / gypsum_density_g_cm3 / before


def dry_density_g_cm3(water_powder_ratio, degree_of_hydration, powder_density_g_cm3, water_density_g_cm3,
                      air_fraction=0.0):
    """Mass of the dried set mass over its outer volume.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, above 0
    degree_of_hydration : float or array, 0 to 1
    powder_density_g_cm3, water_density_g_cm3 : float or array, g/cm3
    air_fraction : float or array, 0 to below 1, of the outer volume

    Returns
    -------
    float or array, g/cm3

    Notes
    -----
    (1 + 0.186 degree) / outer volume, a mass and volume balance [gypsumkit].
    """
    outer = paste_volume_cm3_per_g(water_powder_ratio, powder_density_g_cm3, water_density_g_cm3, air_fraction)
    return (1.0 + THEORETICAL_WATER_G_PER_G * np.asarray(degree_of_hydration, dtype=float)) / outer


def wet_density_g_cm3(water_powder_ratio, powder_density_g_cm3, water_density_g_cm3, air_fraction=0.0):
    """Mass of powder and all water over the outer volume: the fresh paste, and the set mass before drying.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, above 0
    powder_density_g_cm3, water_density_g_cm3 : float or array, g/cm3
    air_fraction : float or array, 0 to below 1, of the outer volume

    Returns
    -------
    float or array, g/cm3

    Notes
    -----
    (1 + ratio) / outer volume, a mass and volume balance [gypsumkit].
    """
    outer = paste_volume_cm3_per_g(water_powder_ratio, powder_density_g_cm3, water_density_g_cm3, air_fraction)
    return (1.0 + np.asarray(water_powder_ratio, dtype=float)) / outer
