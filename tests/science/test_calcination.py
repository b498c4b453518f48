"""Heating gypsum: the mass lost against a chemistry library, and the way there and back."""

import periodictable
import pytest

from gypsumkit.science import calcination, hydration


def test_mass_lost_on_heating_agrees_with_a_chemistry_library():
    steam = 1.5 * periodictable.formula("H2O").mass / periodictable.formula("CaSO4(H2O)2").mass
    assert calcination.steam_g(100.0) == pytest.approx(100 * steam, rel=1e-3)
    assert round(float(calcination.steam_g(100.0)), 1) == 15.7       # as handbooks print it


def test_there_and_back_gives_the_same_gypsum():
    powder = calcination.powder_g(250.0)
    assert calcination.gypsum_g(powder) == pytest.approx(250.0, rel=1e-12)
    assert calcination.steam_g(250.0) == pytest.approx(hydration.theoretical_water_g(powder), rel=1e-12)
