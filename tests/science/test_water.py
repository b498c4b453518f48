"""Density and viscosity of water against CoolProp, a general property library (IAPWS-95)."""

import CoolProp.CoolProp as CoolProp
import numpy as np
import pytest

from gypsumkit.problems import Problem
from gypsumkit.science.water import water_density_g_cm3, water_viscosity_pa_s

TEMPERATURES_C = [1, 5, 10, 20, 23, 30, 40, 50, 80, 99]


@pytest.mark.parametrize("temperature_c", TEMPERATURES_C)
def test_density_agrees_with_a_property_library(temperature_c):
    expected = CoolProp.PropsSI("D", "T", temperature_c + 273.15, "P", 101325, "Water") / 1000
    assert water_density_g_cm3(temperature_c) == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize("temperature_c", TEMPERATURES_C)
def test_viscosity_agrees_with_a_property_library(temperature_c):
    expected = CoolProp.PropsSI("V", "T", temperature_c + 273.15, "P", 101325, "Water")
    assert water_viscosity_pa_s(temperature_c) == pytest.approx(expected, rel=0.01)


def test_arrays_equal_their_scalars():
    many = np.array(TEMPERATURES_C, float)
    assert water_density_g_cm3(many).tolist() == [float(water_density_g_cm3(t)) for t in TEMPERATURES_C]


@pytest.mark.parametrize("temperature_c", [-5, 101, float("nan")])
def test_water_that_is_not_liquid_is_refused(temperature_c):
    with pytest.raises(Problem, match="not liquid"):
        water_density_g_cm3(temperature_c)
