"""Etching: what water takes from the surface of a set cast, between what it can hold and what it has time for.

Two things stand between crystal and water, one after the other: the crystal must let its ions go, and the ions must get through
the thin layer of water that hardly moves at the surface. What the water holds already slows both.
"""

import numpy as np

from gypsumkit.science.hydration import GYPSUM_G_MOL
from gypsumkit.science.solubility import gypsum_solubility_mmol_kg
from gypsumkit.science.water import water_density_g_cm3, water_viscosity_pa_s

DIFFUSION_M2_S = 1.0e-9                         # of calcium sulfate in water at 25 °C                             [colombani_2007]
SLOW_SURFACE_MOL_M2_S = 4.0e-5                  # what a crystal gives up to pure water, the least published       [colombani_2007]
QUICK_SURFACE_MOL_M2_S = 1.3e-3                 # and the most                                                     [jeschke_2001]
RUNNING_FILM_UM = (10.0, 200.0)                 # layer that hardly moves, under running water                     [gypsumkit]
STILL_FILM_UM = (150.0, 1000.0)                 # and in a bowl that stands                                        [gypsumkit]


def most_dissolved_mmol(water_l, temperature_c):
    """Calcium sulfate that so much pure water can take up at all.

    Parameters
    ----------
    water_l : float or array, L, 0 or more
    temperature_c : float or array, °C, 0 to 99

    Returns
    -------
    float or array, mmol

    Notes
    -----
    volume x density x solubility of gypsum [thermoddem]: no cast can lose more, however long it is wet.
    """
    return np.asarray(water_l, dtype=float) * water_density_g_cm3(temperature_c) * gypsum_solubility_mmol_kg(temperature_c)


def depth_um(dissolved_mmol, area_cm2, porosity, gypsum_density_g_cm3):
    """Thickness of the layer that holds so much gypsum, pores included.

    Parameters
    ----------
    dissolved_mmol : float or array, mmol of calcium sulfate
    area_cm2 : float or array, cm², above 0, wetted surface
    porosity : float or array, 0 to below 1
    gypsum_density_g_cm3 : float, g/cm³, of the crystals

    Returns
    -------
    float or array, µm, if all of the surface loses alike

    Notes
    -----
    amount x M / density / (area (1 - porosity)), a mass balance [iupac_weights].
    """
    solid_cm3 = np.asarray(dissolved_mmol, dtype=float) * 1e-3 * GYPSUM_G_MOL / gypsum_density_g_cm3
    return 1e4 * solid_cm3 / (np.asarray(area_cm2, dtype=float) * (1.0 - np.asarray(porosity, dtype=float)))


def tip_um(depth, edge_degrees):
    """How far the tip of a sharp edge moves back when both of its sides lose the same depth.

    Parameters
    ----------
    depth : float or array, µm, lost at right angles from each side
    edge_degrees : float, °, above 0 to 180, angle between the two sides; 180 is a flat surface

    Returns
    -------
    float or array, µm

    Notes
    -----
    depth / sin(half the angle), geometry: the edge stays as sharp and moves back. In truth a tip gives its ions up more easily than
    a flat surface, so it loses this or more [gypsumkit].
    """
    return np.asarray(depth, dtype=float) / np.sin(np.radians(edge_degrees) / 2.0)


def diffusion_m2_s(temperature_c):
    """How fast dissolved calcium sulfate spreads in still water.

    Parameters
    ----------
    temperature_c : float or array, °C, 0 to 99

    Returns
    -------
    float or array, m²/s

    Notes
    -----
    1.0e-9 at 25 °C, measured [colombani_2007], in proportion to absolute temperature over viscosity (Stokes and Einstein) [kestin_1978].
    """
    kelvin = np.asarray(temperature_c, dtype=float) + 273.15
    return DIFFUSION_M2_S * kelvin / 298.15 * water_viscosity_pa_s(25.0) / water_viscosity_pa_s(temperature_c)


def rate_mol_m2_s(surface_mol_m2_s, film_um, temperature_c):
    """What a square metre of surface gives up each second to water that holds nothing yet.

    Parameters
    ----------
    surface_mol_m2_s : float or array, mol/m² s, what the crystal alone would give up
    film_um : float or array, µm, layer of water that hardly moves
    temperature_c : float or array, °C, 0 to 99

    Returns
    -------
    float or array, mol/m² s

    Notes
    -----
    1/(1/surface + film/(D c)), two resistances in line [colombani_2007], c the solubility in mol/m³. How the surface rate changes with
    temperature is left out. Published surface rates differ by a factor of thirty [jeschke_2001].
    """
    held_mol_m3 = gypsum_solubility_mmol_kg(temperature_c) * water_density_g_cm3(temperature_c)
    through_water = diffusion_m2_s(temperature_c) * held_mol_m3 / (np.asarray(film_um, dtype=float) * 1e-6)
    return 1.0 / (1.0 / np.asarray(surface_mol_m2_s, dtype=float) + 1.0 / through_water)


def dissolved_running_mmol(rate, area_cm2, minutes, litres_per_min, temperature_c):
    """Calcium sulfate that water takes with it while it runs over a cast.

    Parameters
    ----------
    rate : float or array, mol/m² s, as `rate_mol_m2_s`
    area_cm2 : float or array, cm²
    minutes : float or array, min
    litres_per_min : float or array, L/min, above 0
    temperature_c : float or array, °C

    Returns
    -------
    float or array, mmol

    Notes
    -----
    held n/(1 + n), n = what the surface could give up over what the water could hold, per minute; the water mixed on its way, a mass
    balance [gypsumkit]. Never more than `most_dissolved_mmol`.
    """
    could_give = _given_mmol_min(rate, area_cm2)
    could_hold = most_dissolved_mmol(litres_per_min, temperature_c)
    return np.asarray(minutes, dtype=float) * could_hold * could_give / (could_hold + could_give)


def dissolved_still_mmol(rate, area_cm2, minutes, water_l, temperature_c):
    """Calcium sulfate that a bowl of water takes up while a cast lies in it.

    Parameters
    ----------
    rate : float or array, mol/m² s, as `rate_mol_m2_s`
    area_cm2 : float or array, cm²
    minutes : float or array, min
    water_l : float or array, L, above 0
    temperature_c : float or array, °C

    Returns
    -------
    float or array, mmol

    Notes
    -----
    held (1 - exp(-given/held)), given = what the surface would give up to fresh water [gypsumkit]: the fuller the water, the slower.
    """
    could_hold = most_dissolved_mmol(water_l, temperature_c)
    return could_hold * -np.expm1(-_given_mmol_min(rate, area_cm2) * np.asarray(minutes, dtype=float) / could_hold)


def _given_mmol_min(rate, area_cm2):
    return np.asarray(rate, dtype=float) * 1e3 * 60.0 * np.asarray(area_cm2, dtype=float) * 1e-4
