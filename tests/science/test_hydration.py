"""Molar masses and theoretical water against general chemistry libraries, and the balance of the reaction."""

import molmass
import periodictable
import pytest

from gypsumkit.science import hydration


@pytest.mark.parametrize("ours, formula", [
    (hydration.WATER_G_MOL, "H2O"),
    (hydration.HEMIHYDRATE_G_MOL, "CaSO4(H2O)0.5"),
    (hydration.GYPSUM_G_MOL, "CaSO4(H2O)2"),
])
def test_molar_masses_agree_with_two_chemistry_libraries(ours, formula):
    assert ours == pytest.approx(periodictable.formula(formula).mass, rel=2e-4)
    whole = {"CaSO4(H2O)0.5": ("Ca2S2O8(H2O)", 2)}.get(formula, (formula, 1))
    assert ours == pytest.approx(molmass.Formula(whole[0]).mass / whole[1], rel=2e-4)


def test_theoretical_water_agrees_with_a_chemistry_library():
    expected = 100 * 1.5 * molmass.Formula("H2O").mass / (molmass.Formula("Ca2S2O8(H2O)").mass / 2)
    assert hydration.theoretical_water_g(100) == pytest.approx(expected, rel=1e-3)
    assert round(float(hydration.theoretical_water_g(100)), 1) == 18.6        # as handbooks print it


def test_mass_is_kept_by_the_reaction():
    made = hydration.GYPSUM_G_PER_G_POWDER
    assert made == pytest.approx(1 + hydration.THEORETICAL_WATER_G_PER_G, rel=1e-12)


def test_too_little_water_leaves_powder_unset():
    assert hydration.final_degree_of_hydration(0.0930) == pytest.approx(0.5, rel=2e-3)
    assert hydration.final_degree_of_hydration(0.5) == 1.0


def test_free_water_is_what_drying_takes_away():
    assert hydration.free_water_fraction(0.50) == pytest.approx((0.50 - 0.18618) / 1.50, rel=1e-4)
    assert hydration.free_water_fraction(0.15, 0.15 / 0.18618) == pytest.approx(0.0, abs=1e-4)
