"""How much of the powder and of the crystals water can dissolve: the gap between the two drives the setting.

Solubility is counted in mmol of calcium sulfate per kg of water, since both solids dissolve to the same ions. Grams depend
on what is counted: 15.2 mmol/kg is 0.207 g as CaSO4, 0.22 g as hemihydrate and 0.26 g as gypsum in 100 g of water.
"""

import numpy as np

from gypsumkit.problems import Problem
from gypsumkit.science.hydration import ANHYDROUS_G_MOL

COLDEST_C, WARMEST_C = 0.0, 99.0

# ln(mmol per kg) as a polynomial in temperature/100 °C, fitted by us to values computed with [thermoddem].
_HEMIHYDRATE = (4.3553, -1.0245, -1.4112, 0.5576)
_GYPSUM = (2.5831, 0.9537, -1.7747, 0.6116)

# Plausible range as multiples of the value: what other databases and a handbook give between 5 and 95 °C.   [gypsumkit]
HEMIHYDRATE_RANGE = (0.9, 2.1)
GYPSUM_RANGE = (0.97, 1.20)


def _fitted(coefficients, temperature_c):
    temperature = np.asarray(temperature_c, dtype=float)
    if not np.all((temperature >= COLDEST_C) & (temperature <= WARMEST_C)):
        raise Problem(f"The solubility at {temperature_c} °C is not known here; give a temperature from 0 to 99 °C.")
    x = temperature / 100.0
    a, b, c, d = coefficients
    return np.exp(a + x * (b + x * (c + x * d)))


def hemihydrate_solubility_mmol_kg(temperature_c):
    """Calcium sulfate in water that is in balance with the powder.

    Parameters
    ----------
    temperature_c : float or array, °C, any shape, 0 to 99

    Returns
    -------
    float or array, mmol per kg of water, same shape

    Raises
    ------
    Problem
        Outside 0 to 99 °C.

    Notes
    -----
    exp(4.3553 - 1.0245 x - 1.4112 x^2 + 0.5576 x^3), x = temperature / 100 °C, our fit to [thermoddem]. Databases
    disagree by a factor of two: 56 to 108 mmol/kg at 25 °C. Nobody can wait for the balance, because crystals form first.
    """
    return _fitted(_HEMIHYDRATE, temperature_c)


def gypsum_solubility_mmol_kg(temperature_c):
    """Calcium sulfate in water that is in balance with the crystals.

    Parameters
    ----------
    temperature_c : float or array, °C, any shape, 0 to 99

    Returns
    -------
    float or array, mmol per kg of water, same shape

    Raises
    ------
    Problem
        Outside 0 to 99 °C.

    Notes
    -----
    exp(2.5831 + 0.9537 x - 1.7747 x^2 + 0.6116 x^3), x = temperature / 100 °C, our fit to [thermoddem]. Databases agree
    within about 5 % from 20 to 40 °C and differ by up to 20 % near boiling.
    """
    return _fitted(_GYPSUM, temperature_c)


def solubility_gap_mmol_kg(temperature_c):
    """Calcium sulfate that water in touch with powder holds beyond what crystals allow: the drive of the setting.

    Parameters
    ----------
    temperature_c : float or array, °C, any shape, 0 to 99

    Returns
    -------
    float or array, mmol per kg of water, same shape

    Raises
    ------
    Problem
        Outside 0 to 99 °C.

    Notes
    -----
    Solubility of hemihydrate - solubility of gypsum [thermoddem]. The two come together near 100 °C, where nothing
    drives the setting any more; where exactly they cross, the sources disagree.
    """
    return hemihydrate_solubility_mmol_kg(temperature_c) - gypsum_solubility_mmol_kg(temperature_c)


def dissolved_g_per_100_g(dissolved_mmol_kg, molar_mass_g_mol=ANHYDROUS_G_MOL):
    """The same amount dissolved, in grams for 100 g of water.

    Parameters
    ----------
    dissolved_mmol_kg : float or array, mmol per kg of water, 0 or more
    molar_mass_g_mol : float, g/mol, of what is counted: CaSO4 unless said, or hemihydrate, or gypsum

    Returns
    -------
    float or array, g per 100 g of water

    Notes
    -----
    mmol/kg x molar mass / 10 000, unit conversion with the atomic weights [iupac_weights].
    """
    return np.asarray(dissolved_mmol_kg, dtype=float) * molar_mass_g_mol / 1.0e4
