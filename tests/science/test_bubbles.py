"""Bubbles: the two definitions of 0.143 held apart, limits, directions, and what the bench knows."""

import numpy as np
import pytest

from gypsumkit.science import bubbles
from gypsumkit.sources import SOURCES
from tests.science.limit_of_a_ball import least_force


def test_0143_belongs_to_a_rigid_sphere_by_one_definition_and_to_a_bubble_by_another():
    """Validation by our own limit analysis, not by the papers: an upper bound of the force, so a lower bound of the number."""
    rigid, bubble = least_force(slips=False), least_force(slips=True)
    # Beris et al. 1985: 2 yield stress pi R^2 / weight = 0.143 for the rigid sphere.
    assert 0.95 * 0.143 <= 2.0 / rigid <= 1.005 * 0.143
    # Tsamopoulos et al. 2008: yield stress / (density g R) about 0.143 for a bubble; ours may slip but keeps its round shape.
    assert 0.88 * 0.143 <= 4.0 / (3.0 * bubble) <= 1.005 * 0.143
    # Mixed up, each would miss by a third or more.
    assert 4.0 / (3.0 * rigid) < 0.70 * 0.143 and 2.0 / bubble > 1.3 * 0.143
    # The rigid sphere, said in the bubble's terms, is the low end of the range that is used.
    assert 4.0 / (3.0 * rigid) == pytest.approx(bubbles.CRITICAL_NUMBER.low, rel=0.03)


def test_smallest_rising_bubble_by_hand():
    # 2 x 20 Pa / (0.143 x 1707 kg/m3 x 9.81 m/s2) = 16.7 mm; with a rigid skin 25.1 mm.
    assert bubbles.smallest_rising_mm(20.0, 1.707) == pytest.approx(16.7, abs=0.05)
    assert bubbles.smallest_rising_mm(20.0, 1.707, 0.143 * 2 / 3) == pytest.approx(25.1, abs=0.05)
    assert bubbles.smallest_rising_mm(0.0, 1.7) == 0.0


def test_the_force_balance_behind_it():
    """At that size, buoyancy over pi R^2 is 4/3 / 0.143 times the yield stress, whatever the numbers."""
    stress, density = 37.0, 1.9
    radius_m = bubbles.smallest_rising_mm(stress, density) / 2000
    buoyancy = 4 / 3 * np.pi * radius_m**3 * 1000 * density * 9.81
    assert buoyancy / (np.pi * radius_m**2 * stress) == pytest.approx(4 / 3 / 0.143, rel=1e-9)


def test_stokes_by_hand_and_its_square_law():
    # 1707 x 9.81 x (1 mm)^2 / (18 x 0.139 Pa s) = 6.69 mm/s
    assert bubbles.stokes_speed_mm_s(1.0, 1.707, 0.139) == pytest.approx(6.69, abs=0.01)
    assert bubbles.stokes_speed_mm_s(3.0, 1.7, 0.1) == pytest.approx(9 * bubbles.stokes_speed_mm_s(1.0, 1.7, 0.1))


def test_weight_of_displaced_mix_is_the_drag_of_a_ball():
    """Stokes' drag 6 pi viscosity R speed balances buoyancy at that speed."""
    d, density, viscosity = 0.8, 2.0, 0.2
    speed = bubbles.stokes_speed_mm_s(d, density, viscosity) / 1000
    drag = 6 * np.pi * viscosity * (d / 2000) * speed
    assert drag == pytest.approx(np.pi / 6 * (d / 1000) ** 3 * 1000 * density * 9.81)


def test_a_still_mix_holds_and_a_vibrated_one_frees():
    recipe = dict(yield_stress_pa=300.0, density_g_cm3=1.7, viscosity_pa_s=0.13)
    real = np.geomspace(0.05, 5, 30)
    assert np.all(bubbles.rise_speed_mm_s(real, **recipe, vibrated=False) == 0)
    shaken = bubbles.rise_speed_mm_s(real, **recipe, vibrated=True)
    assert np.all(shaken > 0) and np.all(np.diff(shaken) > 0)
    assert np.all(np.isinf(bubbles.seconds_to_surface(20.0, bubbles.rise_speed_mm_s(real, **recipe, vibrated=False))))


def test_the_thinning_of_the_ring_test_would_hold_every_bubble():
    """Why a law of its own: with a sixth of the yield stress bubbles of real size (under 5 mm) would all stay."""
    assert bubbles.smallest_rising_mm(300.0 / 6, 1.7) > 5 * 5


def test_without_yield_stress_the_still_law_is_stokes_over_the_factor():
    free = bubbles.rise_speed_mm_s(1.0, 0.0, 1.7, 0.1, vibrated=False)
    assert free == pytest.approx(bubbles.stokes_speed_mm_s(1.0, 1.7, 0.1) / 10)


def test_seconds_and_share_left():
    assert bubbles.seconds_to_surface(20.0, 2.0) == 10.0
    assert bubbles.share_left(0.0, 20.0, 2.0) == 1.0 and bubbles.share_left(5.0, 20.0, 2.0) == 0.5 and bubbles.share_left(99.0, 20.0, 2.0) == 0.0
    # Started evenly over the depth, so many have not arrived: counted one by one.
    starts = np.random.default_rng(3).uniform(0, 20, 20_000)
    assert np.mean(starts > 2.0 * 4.0) == pytest.approx(bubbles.share_left(4.0, 20.0, 2.0), abs=0.01)


def test_sizes_share_out_all_the_air_and_half_of_it_above_the_median():
    sizes, shares = bubbles.sizes_mm(0.4)
    assert shares.sum() == pytest.approx(1.0) and np.all(np.diff(sizes) > 0)
    assert shares[sizes > 0.4].sum() + 0.5 * shares[sizes == 0.4].sum() == pytest.approx(0.5, abs=1e-9)


def test_cut_bubbles_against_counting():
    """Balls thrown into a box, counted where a plane cuts them."""
    chance = np.random.default_rng(5)
    d, many, box = 0.5, 40_000, 30.0
    cut = np.abs(chance.uniform(0, box, many) - 0.5 * box) < 0.5 * d
    air = many * np.pi / 6 * d**3 / box**3
    assert cut.sum() / box**2 == pytest.approx(float(bubbles.cut_by_a_surface_per_mm2(air, d)), rel=0.08)


def test_chance_against_throwing():
    hits = np.random.default_rng(7).poisson(0.8, 50_000) > 0
    assert hits.mean() == pytest.approx(float(bubbles.chance_of_any(0.8)), abs=0.01)
    assert bubbles.chance_of_any(0.0) == 0.0


def test_strength_kept_is_the_strength_law_with_the_air_in_the_porosity():
    from gypsumkit.science.strength import wet_strength_mpa
    porosity, air, rate = 0.42, 0.03, 4.5
    with_air = 1 - (1 - porosity) * (1 - air)
    expected = wet_strength_mpa(with_air, 18.0, rate) / wet_strength_mpa(porosity, 18.0, rate)
    assert bubbles.strength_kept(air, porosity, rate) == pytest.approx(float(expected), rel=1e-12)


def test_sources_are_in_the_list():
    assert {"beris_1985", "tsamopoulos_2008", "stokes_1851", "wicksell_1925", "de_corato_2019"} <= set(SOURCES)
