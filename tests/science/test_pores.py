"""Volumes, porosity and density: balances, worked values, and dry densities of industrial plasters."""

import numpy as np
import pytest

from gypsumkit.powders import POWDERS
from gypsumkit.science import pores
from gypsumkit.science.hydration import GYPSUM_G_PER_G_POWDER, THEORETICAL_WATER_G_PER_G
from tests.published import table

GYPSUM, WATER = 2.32, 0.99754
DENSITY = {"beta": POWDERS["model plaster"].density_g_cm3.value, "alpha": POWDERS["dental stone"].density_g_cm3.value}


@pytest.mark.parametrize("ratio, expected", [(0.22, 0.125), (0.24, 0.154), (0.30, 0.230), (0.45, 0.372), (0.50, 0.409),
                                             (0.55, 0.441), (0.60, 0.470), (0.80, 0.561)])
def test_porosity_worked_by_hand_for_a_powder_of_2_75(ratio, expected):
    by_hand = 1 - (1.18618 / 2.32) / (1 / 2.75 + ratio / WATER)
    assert pores.porosity(ratio, 1.0, 2.75, GYPSUM, WATER) == pytest.approx(by_hand, rel=1e-4)
    assert by_hand == pytest.approx(expected, abs=6e-4)


def test_volumes_add_up_and_masses_are_kept_for_random_recipes():
    rng = np.random.default_rng(6873)
    ratio, degree = rng.uniform(0.19, 0.9, 2000), rng.uniform(0, 1, 2000)
    density, air = rng.uniform(2.6, 2.8, 2000), rng.uniform(0, 0.2, 2000)
    v = pores.volumes(ratio, degree, density, GYPSUM, WATER, air)
    assert np.allclose(sum(v), 1.0, rtol=1e-12)
    outer = pores.paste_volume_cm3_per_g(ratio, density, WATER, air)
    calcium_sulfate = v.powder * outer * density + v.crystals * outer * GYPSUM / GYPSUM_G_PER_G_POWDER
    assert np.allclose(calcium_sulfate, 1.0, rtol=1e-12)
    water = v.free_water * outer * WATER + degree * THEORETICAL_WATER_G_PER_G
    assert np.allclose(water, ratio, rtol=1e-12)
    assert np.all(v.contraction_voids >= -1e-12)


def test_porosity_grows_with_water_and_shrinks_with_hydration():
    ratios = np.linspace(0.2, 0.9, 50)
    assert np.all(np.diff(pores.porosity(ratios, 1.0, 2.64, GYPSUM, WATER)) > 0)
    degrees = np.linspace(0, 1, 50)
    assert np.all(np.diff(pores.porosity(0.5, degrees, 2.64, GYPSUM, WATER)) < 0)


def test_contraction_of_the_reacting_volume():
    # Handbooks print 7.1 % (from memory), which belongs to a powder near 2.75 g/cm3.
    assert 100 * pores.chemical_contraction_fraction(2.75, GYPSUM, WATER) == pytest.approx(7.1, abs=0.2)


MISSED = "high-strength gypsum cement"


def _density_off(row):
    ours = pores.dry_density_g_cm3(float(row["water_percent"]) / 100, 1.0, DENSITY[row["hemihydrate"]], WATER)
    return 1000 * ours / float(row["dry_density_kg_m3"]) - 1.0


@pytest.mark.parametrize("row", [row for row in table("industrial_plasters") if row["product"] != MISSED], ids=lambda row: row["product"])
def test_dry_density_of_industrial_plasters(row):
    """Outside check: nothing was fitted to these densities. Six of seven lie within 2 %; the seventh is the next test."""
    assert abs(_density_off(row)) < 0.02


def test_one_industrial_cement_is_heavier_than_water_and_powder_alone_can_make_it():
    """A miss that must stay known: 9 % lighter than printed. More gypsum than its water allows is in it, or something else."""
    (row,) = [row for row in table("industrial_plasters") if row["product"] == MISSED]
    assert -0.11 < _density_off(row) < -0.08


def test_wet_set_mass_weighs_what_went_in():
    ratio = np.array([0.23, 0.5])
    dry = pores.dry_density_g_cm3(ratio, 1.0, 2.7, WATER)
    wet = pores.wet_density_g_cm3(ratio, 2.7, WATER)
    assert np.allclose(wet / dry, (1 + ratio) / (1 + THEORETICAL_WATER_G_PER_G), rtol=1e-12)
