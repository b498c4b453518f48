"""What water takes from set gypsum: the bound by its volume against an equilibrium library, the layer that rests against textbook formulas."""

import numpy as np
import pytest

from gypsumkit.science import etching
from gypsumkit.science.hydration import GYPSUM_G_MOL
from gypsumkit.science.solubility import GYPSUM_RANGE, gypsum_solubility_mmol_kg
from gypsumkit.science.water import water_density_g_cm3, water_viscosity_pa_s
from tests.science.test_solubility import from_equilibrium

DENSITY = 2.32


@pytest.mark.parametrize("temperature_c", [5, 20, 40, 60])
@pytest.mark.parametrize("database", ["phreeqc.dat", "pitzer.dat", "llnl.dat", "wateq4f.dat"])
def test_a_bowl_of_water_takes_what_an_equilibrium_library_says(database, temperature_c):
    """PHREEQC dissolves gypsum in a kilogram of water; the layer follows from the molar volume of mineral data sheets, 74.2 to 74.7 cm³/mol."""
    low, high = (1e4 * from_equilibrium(database, "Gypsum", temperature_c) * 1e-3 * volume / 60.0 for volume in (74.2, 74.7))
    ours = etching.depth_um(etching.most_dissolved_mmol(1.0 / water_density_g_cm3(temperature_c), temperature_c), 60.0, 0.0, DENSITY)
    assert GYPSUM_RANGE[0] * ours <= high and low <= GYPSUM_RANGE[1] * ours


def test_a_training_manual_has_the_same_solubility():
    """About 0.2 g in 100 cm³ (a manual of the U.S. Air Force, quoted by others); which of the solids is counted it leaves open: 0.2 to 0.3."""
    grams = etching.most_dissolved_mmol(0.1, 25.0) * 1e-3 * GYPSUM_G_MOL
    assert 0.2 <= grams <= 0.3


def leveque_film_um(length_m, shear_per_s, temperature_c):
    """Layer of a wall under a flow of constant shear (Leveque 1928, from memory): mean transfer 0.807 (D² shear / length)^(1/3)."""
    diffusion = etching.diffusion_m2_s(temperature_c)
    return 1e6 * diffusion / (0.807 * (diffusion ** 2 * shear_per_s / length_m) ** (1 / 3))


def free_convection_film_um(length_m, temperature_c):
    """Layer of an upright wall in still water (Churchill and Chu 1975, from memory): heavy full water sinks along it."""
    diffusion, viscosity = etching.diffusion_m2_s(temperature_c), water_viscosity_pa_s(temperature_c) / (1000 * water_density_g_cm3(temperature_c))
    heavier = gypsum_solubility_mmol_kg(temperature_c) * 1e-3 * 136.14 / 1000      # about what the dissolved salt adds to the density
    rayleigh, schmidt = 9.81 * heavier * length_m ** 3 / (viscosity * diffusion), viscosity / diffusion
    sherwood = 0.68 + 0.670 * rayleigh ** 0.25 / (1 + (0.492 / schmidt) ** (9 / 16)) ** (4 / 9)
    return 1e6 * length_m / sherwood


def test_the_resting_layers_are_those_of_textbook_formulas():
    """A film of water half a millimetre thick at 0.1 to 1 m/s over 1 to 5 cm; walls of 0.5 to 5 cm in a bowl."""
    thin, thick = etching.RUNNING_FILM_UM
    for speed in (0.1, 0.5, 1.0):
        for length in (0.01, 0.05):
            assert thin <= leveque_film_um(length, 3 * speed / 0.5e-3, 20.0) <= thick
    thin, thick = etching.STILL_FILM_UM
    for length in (0.005, 0.02, 0.05):
        assert thin <= free_convection_film_um(length, 20.0) <= thick


def test_the_two_surface_rates_are_the_published_ones():
    """4e-5 mol/m² s (Colombani and Bert 2007, abstract) and 1.3e-4 mmol/cm² s (Jeschke and others 2001, recalled)."""
    assert etching.SLOW_SURFACE_MOL_M2_S == 4e-5
    assert etching.QUICK_SURFACE_MOL_M2_S == pytest.approx(1.3e-4 * 1e-3 * 1e4)


def test_two_resistances_in_line():
    surface, film = 1e-4, 100.0
    rate = etching.rate_mol_m2_s(surface, film, 25.0)
    held = gypsum_solubility_mmol_kg(25.0) * water_density_g_cm3(25.0)
    at_surface = held * (1 - rate / surface)                       # what the surface sees, were the rate linear in it
    assert rate == pytest.approx(1.0e-9 * at_surface / (film * 1e-6), rel=1e-9)
    assert etching.rate_mol_m2_s(surface, 1e-6, 25.0) == pytest.approx(surface, rel=1e-4)


def test_a_bowl_follows_the_equation_solved_in_small_steps():
    rate, area, litres, minutes = 2e-4, 60.0, 0.5, 300.0
    held, given, dissolved, steps = etching.most_dissolved_mmol(litres, 20.0), rate * 60.0 * area * 0.1, 0.0, 30000
    for _ in range(steps):
        dissolved += given * (1 - dissolved / held) * minutes / steps
    assert etching.dissolved_still_mmol(rate, area, minutes, litres, 20.0) == pytest.approx(dissolved, rel=1e-3)


def test_running_water_balances():
    """What leaves with the water is what the surface gives to water of that fullness."""
    rate, area, litres = 4e-3, 60.0, 0.05
    each_minute = etching.dissolved_running_mmol(rate, area, 1.0, litres, 20.0)
    fullness = each_minute / etching.most_dissolved_mmol(litres, 20.0)
    assert 0.4 < fullness < 1 and each_minute == pytest.approx(rate * 60.0 * area * 0.1 * (1 - fullness), rel=1e-9)


@pytest.mark.parametrize("taken", [etching.dissolved_running_mmol, etching.dissolved_still_mmol])
def test_nothing_passes_what_the_water_holds(taken):
    minutes = np.geomspace(0.1, 1e5, 50)
    litres = 0.2 * minutes if taken is etching.dissolved_running_mmol else 0.2
    lost = taken(1e-2, 60.0, minutes, 0.2, 20.0)
    assert np.all(lost <= etching.most_dissolved_mmol(litres, 20.0) * (1 + 1e-12)) and np.all(np.diff(lost) >= 0)


def test_ions_spread_faster_in_warm_water():
    """Stokes and Einstein; 1.0e-9 m²/s at 25 °C is the published value."""
    assert etching.diffusion_m2_s(25.0) == pytest.approx(1.0e-9)
    assert etching.diffusion_m2_s(50.0) / etching.diffusion_m2_s(25.0) == pytest.approx(323.15 / 298.15 * 0.890 / 0.547, rel=0.01)   # viscosities of tables


@pytest.mark.parametrize("degrees", [30.0, 60.0, 90.0, 135.0, 180.0])
def test_the_tip_of_an_edge_lies_as_deep_below_both_sides(degrees):
    """The new tip, on the line that halves the edge, is the lost depth away from the old sides; distances from the two lines are taken here."""
    back = etching.tip_um(10.0, degrees)
    for side in (-1, 1):
        along = np.array([side * np.sin(np.radians(degrees / 2)), -np.cos(np.radians(degrees / 2))])       # unit vector down one side, the tip at 0
        tip = np.array([0.0, -back])
        assert abs(along[0] * tip[1] - along[1] * tip[0]) == pytest.approx(10.0)


def test_a_handbook_and_the_bounds_agree_on_running_water():
    """About 0.1 % of a length in 20 minutes of running water (a handbook, from memory): both ends of 10 to 60 mm of a cast lose a depth between the bounds."""
    from gypsumkit.studies.set_cast import RUNNING, Soak
    low, high = Soak("dental stone", RUNNING, 20.0).depth_um()
    for length_mm in (10.0, 30.0, 60.0):
        assert low <= 0.5 * 0.1 / 100 * 1000 * length_mm <= high
