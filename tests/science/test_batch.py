"""One batch: nothing is lost by mass, the outer volume is filled, and too little water leaves powder."""

import numpy as np
import pytest

from gypsumkit.science import pores
from gypsumkit.science.batch import batch

BETA = (2.64, 2.32, 0.99754)


def test_masses_and_volumes_balance_for_random_batches():
    rng = np.random.default_rng(1867)
    powder, water = rng.uniform(10, 500, 3000), rng.uniform(0, 400, 3000)
    b = batch(powder, water, rng.uniform(2.6, 2.8, 3000), 2.32, 0.9975)
    assert np.allclose(b.crystals_g + b.powder_left_g + b.free_water_g, powder + water, rtol=1e-12)
    assert np.allclose(b.rock_g - b.steam_g, powder, rtol=1e-12)
    assert np.allclose(b.crystals_cm3 + b.powder_left_cm3 + b.free_water_cm3 + b.voids_cm3, b.outer_cm3, rtol=1e-12)
    assert np.all(b.free_water_g >= -1e-9) and np.all(b.voids_cm3 >= -1e-9)


def test_hundred_grams_of_powder_by_hand():
    b = batch(100.0, 50.0, *BETA)
    assert b.bound_water_g == pytest.approx(18.6, abs=0.05)
    assert b.free_water_g == pytest.approx(31.4, abs=0.05)
    assert b.crystals_g == pytest.approx(118.6, abs=0.05)
    assert b.outer_cm3 == pytest.approx(100 / 2.64 + 50 / 0.99754, rel=1e-12)
    assert b.crystals_cm3 == pytest.approx(118.618 / 2.32, rel=1e-4)


def test_with_too_little_water_powder_is_left():
    b = batch(100.0, 9.309, *BETA)
    assert b.powder_left_g == pytest.approx(50.0, abs=0.05)
    assert b.free_water_g == b.free_water_cm3 == 0.0
    short = batch(500.0, np.arange(0.0, 93.0, 0.5), *BETA)
    assert not short.free_water_g.any() and not short.free_water_cm3.any()         # 7e-15 g would be written down as such
    nothing = batch(100.0, 0.0, *BETA)
    assert nothing.powder_left_g == 100.0 and nothing.crystals_g == 0.0


def test_the_voids_are_the_contraction_of_what_reacted():
    b = batch(100.0, 50.0, *BETA)
    reacting = b.powder_cm3 + b.bound_water_g / BETA[2]
    assert b.voids_cm3 / reacting == pytest.approx(float(pores.chemical_contraction_fraction(*BETA)), rel=1e-9)
