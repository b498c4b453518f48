"""What a way of mixing leaves and what the vibrator takes out: balances, directions, limits."""

import numpy as np
import pytest

from gypsumkit.studies import voids as of
from gypsumkit.mix import Mix
from gypsumkit.powders import MIXING_METHODS
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.science import bubbles

HABITS = list(of.HABITS)
TIMES = np.linspace(0, 300, 31)


@pytest.mark.parametrize("powder, ratio", [("model plaster", 0.50), ("dental stone", 0.30), ("improved stone", 0.23)])
def test_the_paste_is_that_of_the_mix_but_for_its_air(powder, ratio):
    mix, paste = Mix(Recipe(powder, ratio)), of.paste(powder, ratio)
    assert float(paste.yield_stress_pa) == pytest.approx(mix.yield_stress_pa.value)
    assert float(paste.viscosity_pa_s) == pytest.approx(mix.plastic_viscosity_pa_s.value)
    assert float(paste.density_g_cm3) * (1 - mix.air_fraction.value) == pytest.approx(mix.wet_density_g_cm3.value)


@pytest.mark.parametrize("habit", HABITS)
def test_air_only_ever_leaves_and_strength_and_surface_only_gain(habit):
    found = of.voids("model plaster", 0.50, habit, 20.0, TIMES)
    assert float(found.air_left[0]) == pytest.approx(of.HABITS[habit].air.value)
    assert np.all(np.diff(found.air_left) <= 1e-15) and np.all(np.diff(found.strength_kept) >= -1e-15)
    assert np.all(np.diff(found.chance_on_margin) <= 1e-15)
    assert np.all((found.air_left > 0) & (found.strength_kept < 1) & (found.chance_on_margin < 1))


@pytest.mark.parametrize("habit", HABITS)
def test_thinner_portions_and_longer_shaking_are_the_same_thing(habit):
    """Only depth over time counts: half the depth is as good as twice the time."""
    assert of.voids("dental stone", 0.30, habit, 10.0, 30.0).air_left == pytest.approx(of.voids("dental stone", 0.30, habit, 20.0, 60.0).air_left)


def test_air_left_against_bubbles_followed_one_by_one():
    way, depth, seconds = of.HABITS[HABITS[0]], 20.0, 30.0
    chance = np.random.default_rng(11)
    d = way.median_mm.value * np.exp(bubbles.SIZE_SPREAD * np.clip(chance.normal(size=200_000), -2.5, 2.5))     # each stands for as much air
    speed = bubbles.rise_speed_mm_s(d, *of.paste("model plaster", 0.50), vibrated=True)
    stays = np.mean(chance.uniform(0, depth, len(d)) > speed * seconds)
    assert of.voids("model plaster", 0.50, HABITS[0], depth, seconds).air_left / way.air.value == pytest.approx(stays, abs=0.015)


@pytest.mark.parametrize("air", [0.04, 0.25, 0.5])
def test_what_has_left_takes_its_room_with_it(air):
    """Of 1 cm3, the paste stays and only air goes: what is left is its share of a smaller volume."""
    trace = of.voids("model plaster", 0.50, HABITS[0], 20.0, 60.0, air=1e-9)      # so little that the room does not matter
    stays = trace.air_left / 1e-9
    assert 0.3 < stays < 0.95
    left_cm3, paste_cm3 = air * stays, 1.0 - air
    assert of.voids("model plaster", 0.50, HABITS[0], 20.0, 60.0, air=air).air_left == pytest.approx(left_cm3 / (paste_cm3 + left_cm3), rel=1e-6)


def test_ways_of_mixing_stand_in_the_order_of_practice():
    """Common practice, no source: under vacuum least, stropped little, lumps and beating most."""
    stropped, lumped, beaten, machine, vacuum = (of.HABITS[habit].air.value for habit in HABITS)
    assert vacuum < stropped < machine < lumped < beaten


def test_air_inside_lumps_stays_on_the_vibrator_and_only_there():
    """Our calibration: half of it; what is free leaves like any other bubble."""
    lumps = HABITS[1]
    assert np.all(of.voids("model plaster", 0.50, lumps, 10.0, TIMES).air_left > 0.5 * of.HABITS[lumps].air.value)
    left = {habit: of.voids("model plaster", 0.50, habit, 10.0, 3000.0).air_left / of.HABITS[habit].air.value for habit in HABITS}
    assert left.pop(lumps) == pytest.approx(0.5, abs=0.01) and max(left.values()) < 0.001


@pytest.mark.parametrize("depth_mm", [5.0, 20.0])
def test_no_vibrating_makes_lumps_or_a_machine_without_vacuum_better_than_stropping(depth_mm):
    stropped, lumped, _, machine, _ = (of.voids("model plaster", 0.50, habit, depth_mm, TIMES).air_left for habit in HABITS)
    assert np.all(lumped > stropped) and np.all(machine > stropped)


def test_shared_numbers_are_those_of_the_mixing_methods():
    assert of.HABITS["powder into water, stropped"].air is MIXING_METHODS["spatulated by hand"]
    assert of.HABITS["powder into water, beaten"].air is MIXING_METHODS["beaten by hand"]
    assert of.HABITS["machine under vacuum"].air is MIXING_METHODS["machine under vacuum"]


def test_bench_bubbles_of_a_millimetre_leave_in_seconds_and_fine_ones_hardly():
    """What the factor was chosen for (our calibration, not a validation)."""
    paste = of.paste("model plaster", 0.50)
    assert 3 < bubbles.seconds_to_surface(20.0, bubbles.rise_speed_mm_s(1.0, *paste, vibrated=True)) < 40
    assert bubbles.seconds_to_surface(20.0, bubbles.rise_speed_mm_s(0.1, *paste, vibrated=True)) > 600


def test_an_unknown_way_is_refused_with_the_nearest():
    with pytest.raises(Problem, match="machine under vacuum"):
        of.voids("model plaster", 0.5, "machine under vacum", 20.0, 0.0)
    with pytest.raises(Problem, match="the choice is"):
        of.find_habit("xyz")


def test_ten_thousand_random_bubbles_stay_finite_and_in_order():
    """Any paste, any bubble: no crash, nothing but finite numbers, held or rising, and larger bubbles never slower."""
    from gypsumkit.powders import POWDERS
    chance = np.random.default_rng(13)
    for name, kind in POWDERS.items():
        ratio = chance.uniform(kind.least_ratio, kind.most_ratio, 2000)
        diameter, depth = np.exp(chance.uniform(np.log(0.02), np.log(20), 2000)), chance.uniform(0.1, 100, 2000)
        paste = of.paste(name, ratio)
        for vibrated in (False, True):
            speed = bubbles.rise_speed_mm_s(diameter, *paste, vibrated=vibrated)
            larger = bubbles.rise_speed_mm_s(1.3 * diameter, *paste, vibrated=vibrated)
            assert np.all(np.isfinite(speed) & (speed >= 0) & (larger >= speed))
            seconds = bubbles.seconds_to_surface(depth, speed)
            assert np.all(np.isinf(seconds) == (speed == 0)) and np.all(seconds[speed > 0] > 0)
        assert np.all(bubbles.rise_speed_mm_s(diameter, *paste, vibrated=True) > 0)
    for _ in range(300):
        name = chance.choice(list(POWDERS))
        kind = POWDERS[name]
        found = of.voids(name, chance.uniform(kind.least_ratio, kind.most_ratio), chance.choice(HABITS), chance.uniform(1, 60), chance.uniform(0, 600))
        assert np.all(np.isfinite(found)) and 0 <= found.air_left <= found.air_at_first and 0 < found.strength_kept <= 1
