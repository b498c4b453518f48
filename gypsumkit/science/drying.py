"""Drying: what a set mass still weighs, and how late its strength rises, as the free water leaves."""

import numpy as np

from gypsumkit.science.hydration import THEORETICAL_WATER_G_PER_G

LAST_WATER_G_PER_G = 0.010              # free water, g per g of dry mass, that still weakens the contacts      [gypsumkit]
LAST_WATER_RANGE = (0.005, 0.020)       # its plausible range                                                   [gypsumkit]


def free_water_g_per_g_dry(water_powder_ratio, free_water_left, degree_of_hydration=1.0):
    """Free water still in the pores, for each gram that the dry mass will weigh.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, above 0
    free_water_left : float or array, 1 (nothing dried yet) to 0 (dry), share of the free water
    degree_of_hydration : float or array, 0 to 1

    Returns
    -------
    float or array, g per g of dry mass

    Notes
    -----
    left x (ratio - 0.186 degree) / (1 + 0.186 degree), a mass balance [iupac_weights].
    """
    bound = THEORETICAL_WATER_G_PER_G * np.asarray(degree_of_hydration, dtype=float)
    free = np.maximum(np.asarray(water_powder_ratio, dtype=float) - bound, 0.0)
    return np.asarray(free_water_left, dtype=float) * free / (1.0 + bound)


def share_of_wet_mass(water_powder_ratio, free_water_left, degree_of_hydration=1.0):
    """Mass at a stage of drying over the mass before drying.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, above 0
    free_water_left : float or array, 1 (nothing dried yet) to 0 (dry), share of the free water
    degree_of_hydration : float or array, 0 to 1

    Returns
    -------
    float or array, above 0 to 1

    Notes
    -----
    1 - (1 - left) (ratio - 0.186 degree) / (1 + ratio), a mass balance [iupac_weights]. Since the outer size stays, the
    density falls in the same proportion.
    """
    ratio = np.asarray(water_powder_ratio, dtype=float)
    free = np.maximum(ratio - THEORETICAL_WATER_G_PER_G * np.asarray(degree_of_hydration, dtype=float), 0.0)
    return 1.0 - (1.0 - np.asarray(free_water_left, dtype=float)) * free / (1.0 + ratio)


def strength_over_wet(free_water_left, wet_free_water_g_per_g, dry_over_wet, last_water_g_per_g=LAST_WATER_G_PER_G):
    """Compressive strength at a stage of drying over that of the wet mass.

    Parameters
    ----------
    free_water_left : float or array, 1 (nothing dried yet) to 0 (dry), share of the free water
    wet_free_water_g_per_g : float or array, g of free water per g of dry mass before drying, 0 or more
    dry_over_wet : float or array, about 2, strength dry over strength wet
    last_water_g_per_g : float or array, g per g, above 0; how little water is enough to keep the mass weak

    Returns
    -------
    float or array, 1 (wet) to dry_over_wet (dry)

    Notes
    -----
    1 + (dry over wet - 1) (exp(-k left) - exp(-k)) / (1 - exp(-k)), k = wet free water / last water [gypsumkit]. Our form
    and our constant, chosen so that a plaster gains little before about 93 % of its free water has gone, as a maker's
    guide says [drying_guide]: that saying is reproduced, not checked. The water at the contacts of the crystals leaves
    last, and weakens most. The guide is about plaster; that a stone, with less water, gains earlier is our law's claim.
    """
    k = np.maximum(np.asarray(wet_free_water_g_per_g, dtype=float) / last_water_g_per_g, 1e-9)
    at_wet = np.expm1(-k)
    gained = 1.0 - np.expm1(-k * np.asarray(free_water_left, dtype=float)) / at_wet
    return 1.0 + (np.asarray(dry_over_wet, dtype=float) - 1.0) * gained
