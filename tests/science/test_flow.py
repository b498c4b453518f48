"""Yield stress and viscosity: limits, directions, and what the bench knows."""

import numpy as np
import pytest

from gypsumkit.science import flow


def test_volume_fraction_and_its_inverse():
    fraction = flow.powder_volume_fraction(0.50, 2.64, 1.0)
    assert fraction == pytest.approx(0.431, abs=5e-4)
    assert flow.ratio_at_crowding(fraction / 0.56, 0.56, 2.64, 1.0) == pytest.approx(0.50, rel=1e-12)


def test_yield_stress_vanishes_for_loose_grains_and_grows_without_bound_near_jamming():
    assert flow.yield_stress_pa(0.5, 1000.0) == 0.0
    crowded = flow.yield_stress_pa(np.array([0.6, 0.8, 0.9, 0.99]), 1000.0)
    assert np.all(np.diff(crowded) > 0) and crowded[-1] > 15_000


def test_viscosity_is_that_of_water_without_grains_and_follows_einstein_for_few():
    # Einstein: 1 + 2.5 volume fraction for a few spheres.
    assert flow.plastic_viscosity_pa_s(0.0, 0.64, 2.5, 0.001) == pytest.approx(0.001)
    few = 0.001
    assert flow.plastic_viscosity_pa_s(few / 0.64, 0.64, 2.5, 1.0) == pytest.approx(1 + 2.5 * few, rel=1e-5)


def test_the_vibrator_thins_the_mix():
    assert flow.yield_stress_pa(0.8, 1000.0, vibration=1.0) == pytest.approx(flow.yield_stress_pa(0.8, 1000.0) / 6)
    assert flow.plastic_viscosity_pa_s(0.8, 0.6, 5, 0.001, vibration=1.0) == pytest.approx(
        flow.plastic_viscosity_pa_s(0.8, 0.6, 5, 0.001) / 2)


def test_thickening_is_one_at_the_standard_moment_and_runs_with_the_set():
    assert flow.thickening(2.0, 13.0, 2.0, 13.0) == 1.0
    minutes = np.linspace(0.5, 13, 40)
    assert np.all(np.diff(flow.thickening(minutes, 13.0, 2.0, 13.0)) > 0)
    hastened, usual = flow.thickening(3.0, 7.0, 2.0, 13.0), flow.thickening(3.0, 13.0, 2.0, 13.0)
    assert hastened > usual > 1.0                    # whatever hastens the set shortens the time to work
