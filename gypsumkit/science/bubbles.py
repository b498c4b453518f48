"""Air bubbles in a mix: which can rise, how fast, how many are left, and how many show on a surface.

A mix that stands still holds its bubbles as a jelly does: the yield stress carries them. On the vibrator the mix round a bubble
yields at every stroke. Two different laws are used for the vibrator, and this is a simplification: the factor by which it thins
the mix in the ring test would still hold every bubble of real size, against all practice. So here a bubble on a running vibrator
feels no yield stress at all (on or off, nothing between), and only the viscosity slows it.
"""

import numpy as np

from gypsumkit.science.flow import VIBRATION_THINS_VISCOSITY
from gypsumkit.sources import Sourced

GRAVITY_M_S2 = 9.81
CRITICAL_NUMBER = Sourced(0.143, "1", 0.095, 0.20, "tsamopoulos_2008",
                          "yield stress / (density g radius) that just holds a bubble; low end: a bubble with a rigid skin "
                          "[beris_1985]; high end: long bubbles, ours", "handbook, from memory")
SLOWER_THAN_STOKES = Sourced(10.0, "1", 3.0, 30.0, "gypsumkit",
                             "bubbles of about 1 mm leave a vibrated mix in some seconds, fine ones hardly do", "our calibration")
SIZE_SPREAD = 0.6               # of the logarithm of the bubble diameter, by volume       [gypsumkit]
SHOWS_FROM_MM = 0.2             # a smaller bubble on a surface is hardly seen             [gypsumkit]
_NODES = np.linspace(-2.5, 2.5, 41)
_WEIGHTS = np.exp(-0.5 * _NODES**2) / np.sum(np.exp(-0.5 * _NODES**2))


def smallest_rising_mm(yield_stress_pa, density_g_cm3, critical_number=CRITICAL_NUMBER.value):
    """Diameter of the smallest bubble that a still mix cannot hold.

    Parameters
    ----------
    yield_stress_pa : float or array, Pa, 0 or more
    density_g_cm3 : float or array, g/cm3, of the mix
    critical_number : float or array, above 0

    Returns
    -------
    float or array, mm

    Notes
    -----
    2 yield stress / (critical number x density x g). The number 0.143 is printed with two definitions, and both are right: for
    a bubble it is yield stress / (density g radius) [tsamopoulos_2008]; for a rigid sphere it is 3 yield stress / (2 density
    difference g radius), two thirds of it in the bubble's terms, 0.095 [beris_1985]. Our own limit analysis in the tests gives
    0.141 for the rigid sphere by its definition, 0.130 for a bubble that slips but keeps its round shape, by the bubble's.
    """
    stress, density = np.asarray(yield_stress_pa, dtype=float), np.asarray(density_g_cm3, dtype=float)
    return 1000.0 * 2.0 * stress / (critical_number * 1000.0 * density * GRAVITY_M_S2)


def stokes_speed_mm_s(diameter_mm, density_g_cm3, viscosity_pa_s):
    """Speed at which a small bubble rises through a liquid, its surface held still by grains and dirt.

    Parameters
    ----------
    diameter_mm : float or array, mm, above 0
    density_g_cm3 : float or array, g/cm3, of the liquid; the air weighs nothing beside it
    viscosity_pa_s : float or array, Pa s, above 0

    Returns
    -------
    float or array, mm/s

    Notes
    -----
    density g diameter^2 / (18 viscosity), [stokes_1851]; slow flow only (Reynolds number below about 1). A perfectly clean
    bubble would be 3/2 times as fast.
    """
    diameter_m = np.asarray(diameter_mm, dtype=float) / 1000.0
    return 1000.0 * 1000.0 * np.asarray(density_g_cm3, dtype=float) * GRAVITY_M_S2 * diameter_m**2 / (18.0 * np.asarray(viscosity_pa_s, dtype=float))


def rise_speed_mm_s(diameter_mm, yield_stress_pa, density_g_cm3, viscosity_pa_s, vibrated, slower=SLOWER_THAN_STOKES.value,
                    critical_number=CRITICAL_NUMBER.value):
    """Speed of a bubble in the mix, still or on the vibrator.

    Parameters
    ----------
    diameter_mm : float or array, mm, above 0
    yield_stress_pa : float or array, Pa, of the still mix
    density_g_cm3 : float or array, g/cm3
    viscosity_pa_s : float or array, Pa s, of the still mix
    vibrated : bool
    slower : float or array, above 0, how many times slower than the law of Stokes
    critical_number : float or array, above 0

    Returns
    -------
    float or array, mm/s; 0 for a bubble that is held

    Notes
    -----
    Vibrated: Stokes with half the viscosity, over the factor `slower` (about 10, 3 to 30), no yield stress. Still: Stokes
    times (1 - smallest rising diameter / diameter), over the same factor; 0 below [gypsumkit]. That shaking frees bubbles
    which a still mix holds is published [de_corato_2019]; the on/off law and the factor are ours.
    """
    if vibrated:
        return stokes_speed_mm_s(diameter_mm, density_g_cm3, viscosity_pa_s / (1.0 + VIBRATION_THINS_VISCOSITY)) / slower
    held = smallest_rising_mm(yield_stress_pa, density_g_cm3, critical_number) / np.asarray(diameter_mm, dtype=float)
    return stokes_speed_mm_s(diameter_mm, density_g_cm3, viscosity_pa_s) * np.maximum(1.0 - held, 0.0) / slower


def seconds_to_surface(depth_mm, speed_mm_s):
    """Time a bubble needs from its depth to the surface.

    Parameters
    ----------
    depth_mm : float or array, mm, 0 or more
    speed_mm_s : float or array, mm/s, 0 or more

    Returns
    -------
    float or array, s; infinite for a bubble that does not rise

    Notes
    -----
    depth / speed [gypsumkit]; the time to reach full speed is far below a second.
    """
    speed = np.asarray(speed_mm_s, dtype=float)
    with np.errstate(divide="ignore"):
        return np.where(speed > 0, np.asarray(depth_mm, dtype=float) / np.where(speed > 0, speed, 1.0), np.inf)[()]


def sizes_mm(median_mm):
    """Bubble diameters and the share of the air that each stands for.

    Parameters
    ----------
    median_mm : float, mm, above 0; half of the air is in larger bubbles

    Returns
    -------
    tuple of two arrays
        Diameters, mm; shares of the air, adding up to 1.

    Notes
    -----
    Lognormal with a spread of 0.6, cut at 2.5 times the spread [gypsumkit].
    """
    return median_mm * np.exp(SIZE_SPREAD * _NODES), _WEIGHTS


def share_left(time_s, depth_mm, speed_mm_s):
    """Share of bubbles, spread evenly over a portion, that have not reached its surface.

    Parameters
    ----------
    time_s : float or array, s, 0 or more
    depth_mm : float or array, mm, above 0, of the whole portion
    speed_mm_s : float or array, mm/s, 0 or more

    Returns
    -------
    float or array, 0 to 1

    Notes
    -----
    1 - speed x time / depth, not below 0 [gypsumkit]: those that started within speed x time of the surface are gone.
    """
    return np.maximum(1.0 - np.asarray(speed_mm_s, dtype=float) * time_s / np.asarray(depth_mm, dtype=float), 0.0)


def cut_by_a_surface_per_mm2(air_fraction, diameter_mm):
    """Bubbles that a plane cuts, on each mm2 of it.

    Parameters
    ----------
    air_fraction : float or array, 0 to 1, volume of such bubbles over the whole
    diameter_mm : float or array, mm, above 0

    Returns
    -------
    float or array, per mm2

    Notes
    -----
    bubbles per mm3 x diameter = 6 air / (pi diameter^2): a plane meets every ball whose middle is within a radius of it
    [wicksell_1925].
    """
    return 6.0 * np.asarray(air_fraction, dtype=float) / (np.pi * np.asarray(diameter_mm, dtype=float) ** 2)


def chance_of_any(expected_number):
    """Chance of at least one when so many are expected and each falls where it likes.

    Parameters
    ----------
    expected_number : float or array, 0 or more

    Returns
    -------
    float or array, 0 to 1

    Notes
    -----
    1 - exp(-expected), the law of Poisson [gypsumkit].
    """
    return 1.0 - np.exp(-np.asarray(expected_number, dtype=float))


def strength_kept(air_fraction, porosity_without_air, loss_rate):
    """Strength with air bubbles over the strength of the same mix without.

    Parameters
    ----------
    air_fraction : float or array, 0 to below 1, of the outer volume
    porosity_without_air : float or array, 0 to 1
    loss_rate : float or array, pure number, of the strength law

    Returns
    -------
    float or array, 0 to 1

    Notes
    -----
    exp[-loss rate x air (1 - porosity)]: air adds air x (1 - porosity) to the porosity, and strength follows porosity
    [ryshkewitch_1953]. Bubbles count as pores of any other size do; a large one just where it breaks counts more.
    """
    return np.exp(-loss_rate * np.asarray(air_fraction, dtype=float) * (1.0 - np.asarray(porosity_without_air, dtype=float)))
