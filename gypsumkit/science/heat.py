"""How fast a cast loses its heat, and how warm a lump of it can become."""

import numpy as np

CUBE_SURFACE = 6.0               # surface of a compact body over its volume to the two thirds     [gypsumkit]
LUMPED_BELOW_BIOT = 0.3          # above it the middle is much warmer than the skin                [gypsumkit]
WET_GYPSUM_W_M_K = 1.0           # thermal conductivity of the wet mass                            [gypsumkit]


def cooling_time_min(volume_cm3, heat_capacity_j_k, film_w_m2_k):
    """Time in which a compact cast loses 63 % of its warmth to the room.

    Parameters
    ----------
    volume_cm3 : float or array, cm3, above 0
    heat_capacity_j_k : float or array, J per °C of the whole cast
    film_w_m2_k : float or array, W/m2 °C, above 0; about 15 in still air with radiation, less in a rubber mould

    Returns
    -------
    float or array, min

    Notes
    -----
    heat capacity / (film x surface), surface = 6 volume^(2/3), that of a cube [gypsumkit].
    """
    surface_m2 = CUBE_SURFACE * (np.asarray(volume_cm3, dtype=float) * 1e-6) ** (2.0 / 3.0)
    return np.asarray(heat_capacity_j_k, dtype=float) / (film_w_m2_k * surface_m2) / 60.0


def biot_number(volume_cm3, film_w_m2_k):
    """Whether the cast is of one temperature: resistance inside over resistance at the surface.

    Parameters
    ----------
    volume_cm3 : float or array, cm3, above 0, of a compact cast
    film_w_m2_k : float or array, W/m2 °C, above 0

    Returns
    -------
    float or array, pure number; below about 0.3 one temperature describes the cast

    Notes
    -----
    film x (volume / surface) / conductivity, conductivity 1 W/m °C of the wet mass [gypsumkit].
    """
    volume_m3 = np.asarray(volume_cm3, dtype=float) * 1e-6
    length = volume_m3 / (CUBE_SURFACE * volume_m3 ** (2.0 / 3.0))
    return film_w_m2_k * length / WET_GYPSUM_W_M_K
