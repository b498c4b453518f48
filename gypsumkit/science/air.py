"""Air that stays in the mix: what mixing beats in, and what a mix too stiff to pour traps."""

import numpy as np

STIFF_MIX_AIR = 0.06            # how fast trapped air grows with stiffness           [gypsumkit]
MOST_AIR = 0.30                 # what stiffness alone can trap                       [gypsumkit]


def air_fraction(mixing_air_fraction, yield_stress_pa, pours_below_pa):
    """Air as a share of the outer volume.

    Parameters
    ----------
    mixing_air_fraction : float or array, 0 to 0.3, what the mixing method leaves in a mix that pours
    yield_stress_pa : float or array, Pa, of the still mix at the standard moment
    pours_below_pa : float or array, Pa, above 0; stiffer mixes no longer pour and trap air

    Returns
    -------
    float or array, 0 to below 0.60

    Notes
    -----
    mixing air + t, t = 0.30 (1 - exp(-y/0.30)), y = 0.06 ln(yield stress / limit)^2 above the limit [gypsumkit]. A teaching law: it makes the strength stop
    rising when less water no longer wets and fills, as every laboratory knows; nobody measured its numbers.
    """
    too_stiff = np.log(np.maximum(np.asarray(yield_stress_pa, dtype=float) / pours_below_pa, 1.0))
    return mixing_air_fraction + MOST_AIR * (1.0 - np.exp(-STIFF_MIX_AIR * too_stiff**2 / MOST_AIR))
