"""Setting expansion: growing needles push one another apart once they touch, though the reaction itself shrinks."""

import numpy as np

CLOSER_NUCLEI_POWER = 0.66       # how much more a mix grows whose needles meet sooner           [gypsumkit]
WET_TIMES = 2.0                  # expansion under water over that in air, from memory           [craig_handbook]
WET_TIMES_RANGE = (1.5, 2.5)     # its plausible range                                            [gypsumkit]


def setting_expansion_percent(reference_percent, reference_gloss_min, gloss_min, network_share, additive_factor=1.0):
    """Linear growth of a cast since it lost its gloss.

    Parameters
    ----------
    reference_percent : float or array, %, full expansion of this powder at its recommended ratio, hand mixed
    reference_gloss_min : float or array, min, loss of gloss of that mix
    gloss_min : float or array, min, loss of gloss of this mix, additives left out
    network_share : float or array, 0 (before loss of gloss) to 1
    additive_factor : float or array, above 0, what additives make of it

    Returns
    -------
    float or array, % of the length

    Notes
    -----
    reference x additive x (reference gloss / gloss)^0.66 x share [gypsumkit]: less water or more spatulation brings the needles
    closer and makes them push sooner, as handbooks say. Teaching law; no theory of the size of the effect exists.
    """
    closer = (np.asarray(reference_gloss_min, dtype=float) / gloss_min) ** CLOSER_NUCLEI_POWER
    return reference_percent * additive_factor * closer * np.asarray(network_share, dtype=float)


def length_change_um(expansion_percent, length_mm):
    """What an expansion does to a length.

    Parameters
    ----------
    expansion_percent : float or array, %
    length_mm : float or array, mm

    Returns
    -------
    float or array, micrometres

    Notes
    -----
    10 x percent x mm, unit conversion [gypsumkit].
    """
    return 10.0 * np.asarray(expansion_percent, dtype=float) * length_mm


def linear_shrinkage_percent(volume_fraction):
    """How much shorter a body becomes that loses a share of its volume alike in all directions.

    Parameters
    ----------
    volume_fraction : float or array, 0 to below 1, share of the volume lost

    Returns
    -------
    float or array, % of the length

    Notes
    -----
    100 (1 - (1 - share)^(1/3)), geometry [gypsumkit]; about a third of the share.
    """
    return 100.0 * (1.0 - np.cbrt(1.0 - np.asarray(volume_fraction, dtype=float)))
