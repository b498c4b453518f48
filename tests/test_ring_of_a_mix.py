"""A mix in rings of other sizes and at other moments: equal to the laws behind it, and honest where they end."""

import numpy as np
import pytest

from gypsumkit import Mix, Problem, Recipe, predict
from gypsumkit.mix import pourable_ratios, ratio_at_yield_stress
from gypsumkit.powders import POURS_BELOW_PA, POWDERS
from gypsumkit.science import ring


def test_spread_in_another_ring_is_the_ring_law_of_that_ring():
    mix = Mix(Recipe("model plaster", 0.58), ring_mm=(20, 20))
    by_hand = ring.spread_mm(mix.yield_stress_pa.value, mix.wet_density_g_cm3.value, 20, 20)
    assert mix.spread_mm.value == pytest.approx(float(by_hand), rel=1e-9)
    assert mix.spread_mm.value > 20


def test_the_ring_changes_the_ring_test_and_nothing_else():
    standard, small = Mix(Recipe("dental stone", 0.30)), Mix(Recipe("dental stone", 0.30)).in_ring(20, 20)
    changed = {name for name in standard.predictions if standard.predictions[name].value != small.predictions[name].value}
    assert changed == {"spread_mm", "slump_mm", "vibrated_spread_mm", "vibrated_slump_mm"}


@pytest.mark.parametrize("powder, ratio", [("model plaster", 0.55), ("dental stone", 0.30), ("improved stone", 0.24)])
def test_the_same_mix_looks_stiffer_in_a_small_ring_and_runnier_in_a_tall_one(powder, ratio):
    times_its_ring = [Mix(Recipe(powder, ratio), ring_mm=size).vibrated_spread_mm.value / size[0]
                      for size in ((20, 20), (35, 50), (50, 100))]
    assert times_its_ring[0] < times_its_ring[1] < times_its_ring[2]


def test_a_mix_that_stands_is_never_narrower_than_its_ring():
    for size in ((20, 20), (35, 50)):
        many = predict("model plaster", np.linspace(0.40, 0.60, 30), ring_mm=size)
        assert np.all(many["spread_mm"].low >= size[0]) and np.all(many["slump_mm"].low >= 0)


def test_where_the_ring_law_was_not_compared_it_says_so():
    tall = Mix(Recipe("model plaster", 0.50), ring_mm=(50, 100))
    assert not tall.spread_mm.valid and "as wide as high" in tall.spread_mm.reason
    small = Mix(Recipe("model plaster", 0.50), ring_mm=(20, 20))
    assert small.spread_mm.valid and not small.slump_mm.valid and "heights" in small.slump_mm.reason


@pytest.mark.parametrize("size", [(35,), (35, 0), ("wide", 50), None, (float("nan"), 50), (35, 5000)])
def test_a_ring_that_cannot_be_is_refused_in_one_sentence(size):
    with pytest.raises(Problem) as problem:
        Mix(Recipe("model plaster", 0.50), ring_mm=size)
    assert "\n" not in str(problem.value)


@pytest.mark.parametrize("powder", POWDERS)
def test_ratio_at_yield_stress_inverts_the_prediction(powder):
    ratios = ratio_at_yield_stress(powder, [600.0, 250.0, 115.0])
    assert predict(powder, ratios)["yield_stress_pa"].value == pytest.approx([600.0, 250.0, 115.0], rel=2e-3)


def test_the_pourable_window_moves_to_more_water_as_the_mix_thickens():
    early, late = pourable_ratios("model plaster"), pourable_ratios("model plaster", 5.0)
    assert late[0] > early[0] and late[1] > early[1]
    at_the_edge = Mix(Recipe("model plaster", late[0]), time_min=5.0)
    assert at_the_edge.yield_stress_pa.value == pytest.approx(POURS_BELOW_PA.value, rel=2e-3)


@pytest.mark.parametrize("powder", POWDERS)
@pytest.mark.parametrize("time_min", [1.0, 1.5, 3.0, 5.0])
def test_a_drier_mix_is_never_runnier_at_any_moment(powder, time_min):
    kind = POWDERS[powder]
    many = predict(powder, np.linspace(kind.least_ratio + 0.001, kind.most_ratio - 0.001, 60), time_min=time_min)
    stress = many["yield_stress_pa"].value
    assert np.all(np.diff(np.log(stress[np.isfinite(stress)])) <= 1e-9)
    assert np.all(np.diff(many["spread_mm"].value) >= -1e-9) and np.all(np.diff(many["vibrated_spread_mm"].value) >= -1e-9)
