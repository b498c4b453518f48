"""How stiff the mix is: yield stress and plastic viscosity from how closely the powder grains are packed.

`crowding` is the volume share of powder in the paste over the share at which the grains jam. It is what a regular, dense
grain changes: improved stone jams at 0.73, plaster at 0.56, so the same water leaves stone far less crowded.
"""

import numpy as np

LOOSEST_CROWDING = 0.55      # grains no longer touch enough to hold a shape       [gypsumkit]
TIGHTEST_CROWDING = 0.97     # beyond it part of the powder stays dry              [gypsumkit]
VIBRATION_THINS_VISCOSITY = 1.0   # full vibration halves it                    [gypsumkit]


def powder_volume_fraction(water_powder_ratio, powder_density_g_cm3, water_density_g_cm3):
    """Volume share of powder in the fresh paste, air not counted.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, above 0
    powder_density_g_cm3, water_density_g_cm3 : float or array, g/cm3

    Returns
    -------
    float or array, 0 to 1

    Notes
    -----
    V(powder) / [V(powder) + V(water)], a volume balance [gypsumkit].
    """
    powder = 1.0 / np.asarray(powder_density_g_cm3, dtype=float)
    return powder / (powder + np.asarray(water_powder_ratio, dtype=float) / water_density_g_cm3)


def ratio_at_crowding(crowding, jamming_fraction, powder_density_g_cm3, water_density_g_cm3):
    """Water/powder ratio that gives a wanted crowding; the inverse of the volume balance.

    Parameters
    ----------
    crowding : float or array, above 0 and below 1 / jamming_fraction
    jamming_fraction : float or array, 0 to 1, volume share at which the grains jam
    powder_density_g_cm3, water_density_g_cm3 : float or array, g/cm3

    Returns
    -------
    float or array, g water per g powder

    Notes
    -----
    (1/fraction - 1) water density / powder density, fraction = crowding x jamming fraction [gypsumkit].
    """
    fraction = np.asarray(crowding, dtype=float) * jamming_fraction
    return (1.0 / fraction - 1.0) * water_density_g_cm3 / powder_density_g_cm3


def yield_stress_pa(crowding, stiffness_pa, vibration=0.0, vibration_thinning=5.0):
    """Stress the mix bears without flowing.

    Parameters
    ----------
    crowding : float or array, from 0.55 (below: 0 Pa) to 0.97; at 1 the grains jam
    stiffness_pa : float or array, Pa, the powder's own constant
    vibration : float or array, 0 (off) to 1 (strong vibrator)
    vibration_thinning : float or array, 0 or more; a strong vibrator divides the yield stress by 1 + this

    Returns
    -------
    float or array, Pa

    Notes
    -----
    stiffness x (x - 0.55)^2 / (1 - x) / (1 + thinning vibration), x the crowding. The form is that of [flatt_2006]; its
    constants and the effect of the vibrator are ours [gypsumkit], the direction of the latter published [hanotin_2012].
    Instruments disagree on the yield stress of cement pastes by one to two powers of ten: this one belongs to the
    35 x 50 mm ring.
    """
    x = np.asarray(crowding, dtype=float)
    still = stiffness_pa * x * np.maximum(x - LOOSEST_CROWDING, 0.0) ** 2 / (1.0 - x)
    return still / (1.0 + vibration_thinning * np.asarray(vibration, dtype=float))


def plastic_viscosity_pa_s(crowding, jamming_fraction, grain_roughness, water_viscosity_pa_s, vibration=0.0):
    """Resistance to fast flow once the mix has yielded.

    Parameters
    ----------
    crowding : float or array, 0 to below 1
    jamming_fraction : float or array, 0 to 1
    grain_roughness : float or array, 2.5 for spheres, 4 to 7 for angular grains
    water_viscosity_pa_s : float or array, Pa s
    vibration : float or array, 0 (off) to 1 (strong vibrator)

    Returns
    -------
    float or array, Pa s

    Notes
    -----
    water viscosity x (1 - crowding)^(-roughness x jamming fraction) / (1 + vibration), form [krieger_1959]; constants ours
    [gypsumkit]. It sets how fast the mix moves, not where it stops, and is hidden by inertia in the ring test.
    """
    x = np.asarray(crowding, dtype=float)
    still = water_viscosity_pa_s * (1.0 - x) ** (-np.asarray(grain_roughness, dtype=float) * jamming_fraction)
    return still / (1.0 + VIBRATION_THINS_VISCOSITY * np.asarray(vibration, dtype=float))


def thickening(time_min, gloss_loss_min, standard_time_min, standard_gloss_loss_min):
    """How many times stiffer the mix is at a moment than a standard mix at the moment of the standard ring test.

    Parameters
    ----------
    time_min : float or array, min from the start of mixing, 0 up to the loss of gloss
    gloss_loss_min : float or array, min, when the surface of this mix turns dull
    standard_time_min : float or array, min, moment of the ring test for which the stiffness was chosen
    standard_gloss_loss_min : float or array, min, when the same mix made under standard conditions turns dull

    Returns
    -------
    float or array, 1 at the standard moment under standard conditions; multiplies yield stress and plastic viscosity alike

    Notes
    -----
    g(time/gloss) / g(standard time/standard gloss), g = exp[u/3 + (max(u, 0)/6)^3], u = 13 share - 2 [gypsumkit]: gentle at
    first, then steep as the needles lock. It runs on the share of the way to loss of gloss, so whatever hastens the set also
    shortens the time to work. Our calibration, no measurement behind it.
    """
    def growth(share):
        u = 13.0 * np.minimum(share, 1.0) - 2.0
        return np.exp(u / 3.0 + (np.maximum(u, 0.0) / 6.0) ** 3)
    now = np.asarray(time_min, dtype=float) / gloss_loss_min
    standard = np.asarray(standard_time_min, dtype=float) / standard_gloss_loss_min
    return growth(now) / growth(standard)
