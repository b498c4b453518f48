"""Pure water: density and viscosity at the temperature of the mixing water."""

import numpy as np

from gypsumkit.problems import Problem

COLDEST_C, WARMEST_C = 0.0, 100.0


def _checked(temperature_c):
    temperature = np.asarray(temperature_c, dtype=float)
    if not np.all((temperature >= COLDEST_C) & (temperature <= WARMEST_C)):
        raise Problem(f"Water at {temperature_c} °C is not liquid; give a temperature from 0 to 100 °C.")
    return temperature


def water_density_g_cm3(temperature_c):
    """Density of pure water at atmospheric pressure.

    Parameters
    ----------
    temperature_c : float or array, °C, any shape, 0 to 100

    Returns
    -------
    float or array, g/cm3, same shape

    Raises
    ------
    Problem
        Outside 0 to 100 °C.

    Notes
    -----
    Rational polynomial in temperature, [kell_1975] equation 16.
    """
    t = _checked(temperature_c)
    numerator = (999.83952 + 16.945176 * t - 7.9870401e-3 * t**2 - 46.170461e-6 * t**3
                 + 105.56302e-9 * t**4 - 280.54253e-12 * t**5)
    return numerator / (1.0 + 16.879850e-3 * t) / 1000.0


def water_viscosity_pa_s(temperature_c):
    """Dynamic viscosity of pure water at atmospheric pressure.

    Parameters
    ----------
    temperature_c : float or array, °C, any shape, 0 to 100

    Returns
    -------
    float or array, Pa s, same shape

    Raises
    ------
    Problem
        Outside 0 to 100 °C.

    Notes
    -----
    log10(viscosity / viscosity at 20 °C) = d/(t + 96) [1.2378 - 1.303e-3 d + 3.06e-6 d^2 + 2.55e-8 d^3] with d = 20 - t;
    viscosity at 20 °C 1.002 mPa s, [kestin_1978] equation 15.
    """
    t = _checked(temperature_c)
    d = 20.0 - t
    return 1.002e-3 * 10.0 ** (d / (t + 96.0) * (1.2378 - 1.303e-3 * d + 3.06e-6 * d**2 + 2.55e-8 * d**3))
