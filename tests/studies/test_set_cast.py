"""The set cast: bounds of a wetting, and what a weight says, against mass balances made here from atomic weights."""

import numpy as np
import pytest

from gypsumkit.mix import predict
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.studies.ageing import first_week
from gypsumkit.studies.set_cast import RUNNING, SATURATED, STILL, WETTINGS, Soak, dryness, strength_mpa, usual, warmth_words

HEMIHYDRATE, GYPSUM, WATER = 145.148, 172.171, 18.0153      # g/mol


@pytest.mark.parametrize("wetting", [RUNNING, STILL])
@pytest.mark.parametrize("litres, area_cm2, minutes", [(0.1, 200, 1440), (2, 60, 10), (10, 5, 0.1)])
def test_bounds_are_in_order_and_below_what_the_water_holds(wetting, litres, area_cm2, minutes):
    soak = Soak("dental stone", wetting, minutes, litres, 20, area_cm2)
    low, high = soak.depth_um()
    assert 0 < low < high <= soak.most_um()


def test_saturated_water_takes_nothing():
    soak = Soak(wetting=SATURATED, minutes=1440)
    assert soak.depth_um() == (0, 0) and soak.most_um() == 0 and soak.minutes_until(1.0) == (np.inf, np.inf)


def test_a_rinse_that_a_manual_allows_costs_less_than_a_film_of_cement_and_a_night_in_a_bowl_costs_more():
    """A manual of the U.S. Air Force, quoted by others: saturated water when a cast is wet for more than 1 or 2 minutes."""
    assert Soak(wetting=RUNNING, minutes=2).depth_um()[1] < 25
    assert Soak(wetting=STILL, minutes=720, water_l=0.5).depth_um()[0] > 25


def test_when_a_depth_is_lost_agrees_with_the_depth_then():
    soak = Soak(minutes=30)
    perhaps, surely = soak.minutes_until(50.0)
    assert soak.depth_um(perhaps)[1] == pytest.approx(50, rel=0.01) and soak.depth_um(surely)[0] == pytest.approx(50, rel=0.01)


def test_a_porous_cast_loses_more_depth():
    assert Soak("model plaster").depth_um()[1] > Soak("improved stone").depth_um()[1]


@pytest.mark.parametrize("powder", ["model plaster", "dental stone", "improved stone"])
def test_weights_follow_from_atomic_weights(powder):
    mix = usual(powder)
    found = dryness(mix, 100.0)
    dry = 100 * GYPSUM / HEMIHYDRATE / (1 + mix.water_powder_ratio)
    assert found.dry_percent == pytest.approx(dry, rel=1e-3)
    assert found.least_percent == pytest.approx(dry * (1 - 1.5 * WATER / GYPSUM), rel=1e-3)
    assert found.free_water_left == 1 and found.crystal_water_lost == 0
    half = dryness(mix, 0.5 * (100 + found.dry_percent))
    assert half.free_water_left == pytest.approx(0.5) and half.crystal_water_lost == 0
    burnt = dryness(mix, 0.5 * (found.dry_percent + found.least_percent))
    assert burnt.free_water_left == 0 and burnt.crystal_water_lost == pytest.approx(0.5)


@pytest.mark.parametrize("weight", [100.1, 60, float("nan"), "heavy"])
def test_a_weight_that_cannot_be_is_refused_in_a_sentence(weight):
    with pytest.raises(Problem, match="weight of the cast"):
        dryness(usual("dental stone"), weight)


def test_strength_is_that_of_the_first_week():
    """The same law as in the lesson on the clock, which follows it in time."""
    mix = usual("dental stone")
    week = first_week(mix, np.array([5000.0]), 24.0)
    ours = strength_mpa(mix, float(week.free_water_left[0]))
    assert [float(one) for one in ours] == pytest.approx([float(week.strength_mpa[0]), float(week.strength_low_mpa[0]), float(week.strength_high_mpa[0])], rel=1e-3)


def test_wet_is_the_wet_strength():
    mix = usual("improved stone")
    assert strength_mpa(mix, 1.0)[0] == pytest.approx(float(predict("improved stone", mix.water_powder_ratio)["wet_strength_mpa"].value))


def test_warmth():
    assert [warmth_words(air) for air in (20, 45, 50, 60, 61)] == ["warm, not hot", "warm, not hot", "in doubt", "in doubt", "too hot"]


@pytest.mark.parametrize("wrong, said", [({"wetting": "rain"}, "no way to wet"), ({"minutes": 0}, "time in the water"), ({"water_l": -1}, "The water"),
                                         ({"temperature_c": 99}, "temperature"), ({"area_cm2": "big"}, "wetted surface"), ({"powder": "chalk"}, "no powder")])
def test_nonsense_is_refused_in_a_sentence(wrong, said):
    with pytest.raises(Problem, match=said):
        Soak(**wrong)
    assert set(WETTINGS) == {RUNNING, STILL, SATURATED} and POWDERS
