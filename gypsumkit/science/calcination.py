"""The way from rock to powder: heat drives three quarters of the crystal water off as steam.

    CaSO4.2 H2O  ->  CaSO4.1/2 H2O  +  1 1/2 H2O
"""

import numpy as np

from gypsumkit.science.hydration import GYPSUM_G_PER_G_POWDER

STEAM_G_PER_G_GYPSUM = 1.0 - 1.0 / GYPSUM_G_PER_G_POWDER


def steam_g(gypsum_g):
    """Water that gypsum gives off when all of it becomes hemihydrate.

    Parameters
    ----------
    gypsum_g : float or array, g of pure gypsum, any shape, 0 or more

    Returns
    -------
    float or array, g, same shape; 15.7 g from 100 g

    Notes
    -----
    1.5 M(water) / M(gypsum), from the reaction and the atomic weights [iupac_weights].
    """
    return np.asarray(gypsum_g, dtype=float) * STEAM_G_PER_G_GYPSUM


def powder_g(gypsum_g):
    """Powder that is left when gypsum has been heated.

    Parameters
    ----------
    gypsum_g : float or array, g of pure gypsum, any shape, 0 or more

    Returns
    -------
    float or array, g of hemihydrate, same shape; 84.3 g from 100 g

    Notes
    -----
    gypsum - steam, a mass balance [iupac_weights].
    """
    return np.asarray(gypsum_g, dtype=float) - steam_g(gypsum_g)


def gypsum_g(powder_g):
    """Gypsum that has to be heated to make so much powder; the same that sets from this powder.

    Parameters
    ----------
    powder_g : float or array, g of pure hemihydrate, any shape, 0 or more

    Returns
    -------
    float or array, g of gypsum, same shape; 118.6 g for 100 g

    Notes
    -----
    powder x M(gypsum) / M(hemihydrate), from the atomic weights [iupac_weights].
    """
    return np.asarray(powder_g, dtype=float) * GYPSUM_G_PER_G_POWDER
