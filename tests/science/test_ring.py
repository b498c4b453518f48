"""The ring law against its analytic limits, printed values of the limiting laws, and our own two-dimensional runs."""

import numpy as np
import pytest

from gypsumkit.science import ring

RADIUS_M, HEIGHT_M = 0.0175, 0.050
VOLUME_M3 = np.pi * RADIUS_M**2 * HEIGHT_M


@pytest.mark.parametrize("yield_stress_pa, diameter_mm", [(5, 134.48), (10, 117.08), (20, 101.92), (50, 84.85), (100, 73.87)])
def test_thin_spread_law_is_the_published_one(yield_stress_pa, diameter_mm):
    # Roussel and Coussot 2005: yield stress = 225 density g V^2 / (128 pi^2 R^5), density 1700 kg/m3.
    radius = (225 * 1700 * 9.81 * VOLUME_M3**2 / (128 * np.pi**2 * yield_stress_pa)) ** 0.2
    assert 2000 * radius == pytest.approx(diameter_mm, rel=1e-4)
    number = yield_stress_pa / (1700 * 9.81 * HEIGHT_M)
    assert ring.thin_spread_stiffness(radius / RADIUS_M) == pytest.approx(number, rel=1e-12)


def test_disc_law_in_the_picture_of_the_fifty_cent_rheometer():
    # The lowest disc, free to spread, bears the whole weight: sqrt(3) yield stress = density g H0 / s^2 (Pashias 1996, von Mises).
    assert ring.stack_of_discs_stiffness(1.0) == pytest.approx(1 / np.sqrt(3))
    assert ring.stack_of_discs_stiffness(1.3873) == pytest.approx(0.3, rel=1e-3)


def test_joined_law_tends_to_the_thin_law_for_runny_mixes():
    ratio = [float(ring.resting_stiffness(s) / ring.thin_spread_stiffness(s)) for s in (3, 6, 12, 50, 500)]
    assert np.all(np.diff(ratio) > 0) and ratio[-1] == pytest.approx(1.0, abs=1e-3)


@pytest.mark.parametrize("number, expected", [(0.10, 1.872), (0.02, 2.865), (0.30, 1.274)])
def test_spread_ratio_solves_the_joined_law(number, expected):
    solved = ring.spread_ratio(number)
    assert solved == pytest.approx(expected, abs=1.5e-3)
    assert ring.resting_stiffness(solved) == pytest.approx(number, rel=1e-5)


def test_a_stiff_mix_stands():
    assert ring.spread_ratio(0.54) == pytest.approx(1.0, abs=1e-9)
    assert ring.spread_mm(5000, 1.7) == pytest.approx(35.0)
    assert ring.slump_mm(1.0) == 0.0


OWN_RUNS = [  # slenderness R0/H0, stiffness number, spread ratio of an axisymmetric computation extrapolated in the grid
    (0.35, 0.50, 1.028), (0.35, 0.40, 1.109), (0.35, 0.30, 1.268), (0.35, 0.20, 1.498), (0.35, 0.10, 1.873),
    (0.35, 0.05, 2.295), (0.35, 0.02, 2.908), (0.35, 0.01, 3.404),
    (0.50, 0.30, 1.197), (0.50, 0.15, 1.556), (0.50, 0.07, 1.953),
]


@pytest.mark.parametrize("slenderness, number, computed", OWN_RUNS)
def test_joined_law_reproduces_our_two_dimensional_runs(slenderness, number, computed):
    """Reproduced, not validated: the joining exponent was picked on these runs, which are good to about 2 %."""
    assert ring.spread_ratio(number, 2 * slenderness * 50, 50) == pytest.approx(computed, rel=0.04)


def test_spread_falls_with_yield_stress_and_a_low_ring_makes_the_mix_look_stiffer():
    stress = np.linspace(5, 800, 60)
    assert np.all(np.diff(ring.spread_mm(stress, 1.7)) <= 0)
    tall = ring.spread_mm(100, 1.7, 35, 50) / 35
    low = ring.spread_mm(100, 1.7, 20, 20) / 20
    assert low < tall


@pytest.mark.parametrize("spread", [1.0, 1.03, 1.3, 1.7, 2.2, 3.0, 4.5])
def test_drawn_outline_holds_the_volume_of_the_ring(spread):
    r, h = ring.slumped_outline(spread, points=4000)
    volume = np.sum(np.diff(r**2) * 0.5 * (h[1:] + h[:-1]))        # over that of the ring
    assert volume == pytest.approx(1.0, rel=1e-3)
    assert np.all(np.diff(r) >= 0) and r[-1] == pytest.approx(max(spread, 1.0))


def test_arrays_equal_their_scalars():
    numbers = np.array([0.005, 0.05, 0.3, 0.6])
    assert ring.spread_ratio(numbers).tolist() == [float(ring.spread_ratio(n)) for n in numbers]
