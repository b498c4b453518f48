"""The setting reaction by mass: how much water the powder binds, and what it leaves free.

    CaSO4.1/2 H2O  +  1 1/2 H2O  ->  CaSO4.2 H2O
"""

import numpy as np

ATOMIC_WEIGHT_G_MOL = {"H": 1.008, "O": 15.999, "S": 32.06, "Ca": 40.078}   # [iupac_weights]

WATER_G_MOL = 2 * ATOMIC_WEIGHT_G_MOL["H"] + ATOMIC_WEIGHT_G_MOL["O"]
ANHYDROUS_G_MOL = ATOMIC_WEIGHT_G_MOL["Ca"] + ATOMIC_WEIGHT_G_MOL["S"] + 4 * ATOMIC_WEIGHT_G_MOL["O"]
HEMIHYDRATE_G_MOL = ANHYDROUS_G_MOL + 0.5 * WATER_G_MOL
GYPSUM_G_MOL = ANHYDROUS_G_MOL + 2.0 * WATER_G_MOL

THEORETICAL_WATER_G_PER_G = 1.5 * WATER_G_MOL / HEMIHYDRATE_G_MOL
GYPSUM_G_PER_G_POWDER = GYPSUM_G_MOL / HEMIHYDRATE_G_MOL


def theoretical_water_g(powder_g):
    """Water that the powder binds when all of it sets.

    Parameters
    ----------
    powder_g : float or array, g of pure hemihydrate, any shape, 0 or more

    Returns
    -------
    float or array, g, same shape; 18.6 g for 100 g

    Notes
    -----
    1.5 M(water) / M(hemihydrate), from the reaction and the atomic weights [iupac_weights].
    """
    return np.asarray(powder_g, dtype=float) * THEORETICAL_WATER_G_PER_G


def final_degree_of_hydration(water_powder_ratio):
    """Largest part of the powder that can set with the water there is.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, any shape, above 0

    Returns
    -------
    float or array, 0 to 1, same shape; 1 as soon as the ratio reaches 0.186

    Notes
    -----
    min(1, ratio / theoretical water), a mass balance [iupac_weights].
    """
    return np.minimum(1.0, np.asarray(water_powder_ratio, dtype=float) / THEORETICAL_WATER_G_PER_G)


def free_water_fraction(water_powder_ratio, degree_of_hydration=1.0):
    """Part of the wet mass that is water not bound in crystals.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, any shape, above 0
    degree_of_hydration : float or array, 0 to 1, broadcast against the ratio

    Returns
    -------
    float or array, g free water per g wet mass

    Notes
    -----
    (ratio - 0.186 degree) / (1 + ratio), a mass balance [iupac_weights]. It is the share of its weight that a
    fully wet set mass loses on drying.
    """
    ratio = np.asarray(water_powder_ratio, dtype=float)
    bound = THEORETICAL_WATER_G_PER_G * np.asarray(degree_of_hydration, dtype=float)
    return np.maximum(ratio - bound, 0.0) / (1.0 + ratio)
