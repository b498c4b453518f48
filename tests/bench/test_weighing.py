"""Weighing errors: random draws against exact distributions, published examples and first-order propagation; shares that add up."""

import math

import numpy as np
import pytest
import scipy.stats

from gypsumkit.bench.own_data import compare
from gypsumkit.bench.records import Records
from gypsumkit.bench.sample import sample_class
from gypsumkit.bench.weighing import (Tools, batch_curve, described, drawn_ratios, monte_carlo, quantity_at, ratio_deviation, shares, shares_words,
                                      weighed, weighed_words)
from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe


# ---- drawing at random

def sum_of_four(one, two, three, four):
    return one + two + three + four


def quantile_of_four_rectangles(share):
    """Exact quantile of the sum of four rectangular numbers of standard deviation 1 (Irwin and Hall)."""
    def below(x):
        return sum((-1) ** k * math.comb(4, k) * max(x - k, 0.0) ** 4 for k in range(5)) / 24.0
    low, high = 0.0, 4.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if below(middle) < share else (low, middle)
    return (low - 2.0) * math.sqrt(12.0)


def test_four_rectangles_of_the_supplement():
    """JCGM 101:2008, 9.2.3: four rectangular inputs of standard deviation 1: u = 2.00, 95 of 100 within -3.88 to 3.88 (from memory, and exact)."""
    half = math.sqrt(3.0)
    found = monte_carlo(sum_of_four, {name: ("rectangular", 0.0, half) for name in ("one", "two", "three", "four")}, 1_000_000)
    assert found.deviation == pytest.approx(2.0, abs=5 * found.deviation_error)
    assert found.deviation_error == pytest.approx(0.0013, rel=0.1)
    exact = quantile_of_four_rectangles(0.975)
    assert round(exact, 2) == 3.88
    assert (-found.low, found.high) == pytest.approx((exact, exact), abs=0.02)


def test_mass_calibration_of_the_supplement():
    """JCGM 101:2008, 9.3: a weight against a reference in air; 1.2341 mg, u = 0.0754 mg, shortest 95 % interval 1.0834 to 1.3825 mg (from memory)."""
    def deviation_mg(reference, shim, air, weight, standard):
        return (reference + shim) * (1.0 + (air - 1.2) * (1.0 / weight - 1.0 / standard)) - 100_000.0
    inputs = {"reference": ("normal", 100_000.0, 0.050), "shim": ("normal", 1.234, 0.020), "air": ("rectangular", 1.2, 0.1),
              "weight": ("rectangular", 8000.0, 1000.0), "standard": ("rectangular", 8000.0, 50.0)}
    found = monte_carlo(deviation_mg, inputs, 1_000_000)
    assert found.mean == pytest.approx(1.2341, abs=5e-4)
    assert found.deviation == pytest.approx(0.0754, abs=3e-4)
    assert (found.low, found.high) == pytest.approx((1.0834, 1.3825), abs=0.003)      # ours cuts 2.5 % at each end, theirs is the shortest


def test_a_weighing_worked_out_by_others():
    """University of Tartu, "Uncertainty of Simple Weighing" (ut.ee/katsekoda/GUM_examples, seen): repeatability 0.17 mg, drift within 0.2 mg, display
    within 0.05 mg: standard uncertainty 0.000207525 g."""
    inputs = {"repeated": ("normal", 0.3240, 0.00017), "drift": ("rectangular", 0.0, 0.0002), "display": ("rectangular", 0.0, 0.00005)}
    found = monte_carlo(lambda repeated, drift, display: repeated + drift + display, inputs, 1_000_000)
    assert found.mean == pytest.approx(0.324, abs=1e-6)
    assert found.deviation == pytest.approx(0.000207525, abs=4 * found.deviation_error)


def test_the_standard_error_of_the_deviation_is_how_far_it_is_off_by_chance():
    half = {"one": ("rectangular", 5.0, 3.0)}
    runs = [monte_carlo(lambda one: one, half, 1000, seed) for seed in range(300)]
    assert np.std([run.deviation for run in runs]) == pytest.approx(np.mean([run.deviation_error for run in runs]), rel=0.15)


def test_the_same_seed_draws_the_same():
    inputs = {"one": ("normal", 0.0, 1.0)}
    assert monte_carlo(lambda one: one, inputs, 500, 7) == monte_carlo(lambda one: one, inputs, 500, 7) != monte_carlo(lambda one: one, inputs, 500, 8)


@pytest.mark.parametrize("inputs, draws, said", [({"one": ("round", 0, 1)}, 1000, "'rectangular' or 'normal'"), ({"one": ("normal", 0, 1)}, 10,
                                                                                                                 "between 100"),
                                                 ({"one": ("normal", 0, 1)}, 10**7, "between 100")])
def test_what_cannot_be_drawn_is_said(inputs, draws, said):
    with pytest.raises(Problem, match=said):
        monte_carlo(lambda one: one, inputs, draws)


def test_described_is_numpy_and_scipy():
    x = np.random.default_rng(0).gamma(3.0, size=4000)
    found = described(x)
    assert (found.mean, found.deviation) == pytest.approx((np.mean(x), scipy.stats.tstd(x))) and (found.low,
                                                                                                  found.high) == pytest.approx(tuple(np.quantile(x,
                                                                                                                                                 [0.025, 0.975])))


# ---- scale and cylinder

@pytest.mark.parametrize("powder_g, water_ml, tools", [(100, 50, Tools(1, 1)), (50, 15, Tools(0.1, 1)), (200, 46, Tools(1, 0.5, 0.3)),
                                                       (60, 30, Tools(0.0, 1.0))])
def test_the_drawn_ratio_scatters_as_first_order_propagation_says(powder_g, water_ml, tools):
    """JCGM 100:2008, 5.1.2: for a quotient the relative variances add; small errors, so the first order holds."""
    drawn = described(drawn_ratios(powder_g, water_ml, tools, 200_000))
    assert drawn.deviation == pytest.approx(ratio_deviation(powder_g, water_ml, tools), rel=0.01)


def test_a_step_of_a_scale_is_a_rectangle():
    """JCGM 100:2008, F.2.2.1: an indication of resolution d has the standard uncertainty 0.29 d (from memory)."""
    assert ratio_deviation(100.0, 50.0, Tools(0.0, 1.0)) / 0.5 * 50.0 == pytest.approx(0.29, abs=0.002)
    assert ratio_deviation(100.0, 50.0, Tools(1.0, 0.0)) / 0.5 * 100.0 == pytest.approx(0.29 * math.sqrt(2), abs=0.003)     # read at zero and with the powder


@pytest.mark.parametrize("powder", ["model plaster", "dental stone", "improved stone"])
@pytest.mark.parametrize("quantity", ["spread_mm", "strength_mpa", "gloss_loss_min", "final_set_min", "expansion_percent"])
def test_drawn_and_first_order_agree_for_a_large_batch(powder, quantity):
    done = weighed(powder, POWDERS[powder].recommended_ratio.value, 200.0, Tools(), quantity)
    assert done.quantity.deviation == pytest.approx(done.first_order, rel=0.03)
    assert done.outside == 0.0


def test_the_curve_is_the_library():
    for powder, quantity, name in (("model plaster", "spread_mm", "spread_mm"), ("dental stone", "strength_mpa", "wet_strength_mpa"),
                                   ("improved stone", "gloss_loss_min", "gloss_loss_min")):
        for ratio in np.linspace(*POWDERS[powder].setting.trusted_ratio, 7)[1:-1]:
            exact = float(Mix(Recipe(powder, float(ratio))).everything()[name].value)
            assert quantity_at(powder, quantity, float(ratio)) == pytest.approx(exact, rel=1e-3)


def test_twice_the_batch_halves_the_scatter_of_weighing():
    one, two = batch_curve("dental stone", 0.3, [50.0, 100.0], Tools())
    assert two == pytest.approx(one / 2)


def test_finer_tools_scatter_less_and_perfect_ones_not_at_all():
    coarse, fine, none = (weighed("dental stone", 0.3, 100.0, tools).quantity.deviation for tools in (Tools(1, 1), Tools(0.1, 0.5), Tools(0, 0)))
    assert coarse > fine > none == 0.0
    assert "0 mm" in weighed_words(weighed("dental stone", 0.3, 100.0, Tools(0, 0)), "spread_mm")


@pytest.mark.parametrize("arguments, said", [
    (("dental stone", 0.3, 100.0, Tools(-1, 1)), "step of the scale"), (("dental stone", 0.3, 100.0, Tools(1, float("nan"))), "step of the cylinder"),
    (("dental stone", 0.3, 3.0, Tools(5, 1)), "cannot weigh 3 g"), (("dental stone", 0.3, 10.0, Tools(0.1, 200)), "no paste"),
    (("dental stone", 3.0, 100.0, Tools()), "looks|too wet"), (("dental stone", 0.3, 0.0, Tools()), "weight of the powder"),
    (("stony", 0.3, 100.0, Tools()), "no powder"),
    (("dental stone", 0.3, 100.0, Tools(), "colour"), "not among what is compared")])
def test_what_cannot_be_weighed_is_said(arguments, said):
    with pytest.raises(Problem, match=said):
        weighed(*arguments)


# ---- shares

def test_the_share_of_the_scale_is_found_in_an_invented_class_where_nothing_else_scatters():
    """A class whose bowls differ from the sheet by the steps of scale and cylinder alone: all its scatter is weighing."""
    tools, chance = Tools(1.0, 1.0), np.random.default_rng(4)
    ratios = drawn_ratios(60.0, 18.0, tools, 400, seed=99)
    strength = quantity_at("dental stone", "strength_mpa", ratios)
    rows = [{"powder": "dental stone", "powder_g": 60, "water_ml": 18, "made_by": f"bench {i % 40}", "crush_load_n": s * np.pi * 100,
             "cylinder_diameter_mm": 20,
             "crushed_at_h": 1, "crushed_state": "wet"} for i, s in enumerate(strength)]
    compared = compare(Records.of_rows(rows), "strength_mpa")
    alone = weighed("dental stone", 0.3, 60.0, tools, "strength_mpa").percent
    found = shares(compared, "dental stone", alone)
    assert found.weighing == pytest.approx(100, abs=15) and found.weighing_high >= found.weighing >= found.weighing_low
    hands = [{**one, "crush_load_n": one["crush_load_n"] * (1 + chance.normal(0, math.sqrt(3) * alone / 100))} for one in rows]
    found = shares(compare(Records.of_rows(hands), "strength_mpa"), "dental stone", alone)
    assert found.weighing == pytest.approx(25, abs=6) and found.weighing_low < 25 < found.weighing_high       # one part in four by construction


def test_shares_add_up_and_a_finer_weighing_takes_less_of_them():
    compared = compare(sample_class(), "gloss_loss_min")
    coarse, fine = (shares(compared, "dental stone", percent, 3.8) for percent in (7.6, 1.0))
    for found in (coarse, fine):
        assert found.weighing + found.within + found.between == pytest.approx(100) and found.split
        assert found.expected**2 == pytest.approx(found.seen**2 - 3.8**2 + (found.weighing / 100) * found.expected**2)
    assert coarse.weighing > fine.weighing and "95 % sure" in shares_words(coarse, "gloss_loss_min", "dental stone")


def test_a_class_that_scatters_less_than_its_scales_is_said():
    found = shares(compare(sample_class(), "spread_mm"), "dental stone", 30.0)
    assert found.weighing == 100 and "it weighed better" in found.reason


def test_too_few_results_are_said():
    found = shares(compare(sample_class(), "spread_mm"), "impression plaster", 3.0)
    assert "at least 5" in found.reason and np.isnan(found.weighing) and "not enough" in shares_words(found, "spread_mm", "impression plaster")


def test_one_mix_of_each_maker_does_not_tell_makers_apart():
    rows = [{"powder": "dental stone", "powder_g": 100, "water_ml": 30, "made_by": f"bench {i}", "gloss_loss_min": 10 + 0.3 * i} for i in range(6)]
    found = shares(compare(Records.of_rows(rows), "gloss_loss_min"), "dental stone", 1.0)
    assert not found.split and found.between == 0 and "cannot be told apart" in shares_words(found, "gloss_loss_min", "dental stone")
