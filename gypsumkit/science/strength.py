"""What the pores leave of the strength."""

import numpy as np

MIDDLE_POROSITY = 0.30


def wet_strength_mpa(porosity, strength_at_30_percent_mpa, loss_rate):
    """Compressive strength one hour after mixing, still wet.

    Parameters
    ----------
    porosity : float or array, volume fraction 0.13 to 0.50 (the fit spans 0.16 to 0.46), air included
    strength_at_30_percent_mpa : float or array, MPa, strength at a porosity of 0.30
    loss_rate : float or array, pure number; each further 0.01 of porosity takes about this many percent

    Returns
    -------
    float or array, MPa

    Notes
    -----
    strength at 0.30 x exp[-loss rate (porosity - 0.30)], form [ryshkewitch_1953]; both constants fitted by us to the nine
    handbook values of [craig_handbook], which they reproduce within 18 %; the measured values fall more steeply close to each
    powder's own ratio than any one law. Properties are published to follow (1 - porosity)^n, n 2.5 to 3.5 [sattler_1997].
    """
    return strength_at_30_percent_mpa * np.exp(-loss_rate * (np.asarray(porosity, dtype=float) - MIDDLE_POROSITY))


def dry_strength_mpa(wet_strength_mpa, dry_over_wet):
    """Compressive strength once all free water has gone.

    Parameters
    ----------
    wet_strength_mpa : float or array, MPa
    dry_over_wet : float or array, about 2

    Returns
    -------
    float or array, MPa

    Notes
    -----
    wet strength x ratio; about twice, from memory of [craig_handbook]; one cement 55 MPa at 1 h, 110 oven-dry [drying_guide].
    """
    return np.asarray(wet_strength_mpa, dtype=float) * dry_over_wet
