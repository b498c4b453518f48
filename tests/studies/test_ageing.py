"""The first week of a cast: its ends are the wet and the dry mass of other rooms, and nothing runs the wrong way between them."""

import numpy as np
import pytest

from gypsumkit.studies.ageing import first_week, free_water_left
from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe

MOMENTS = np.geomspace(5, 10080, 60)


def usual(powder, **rest):
    return Recipe(powder, POWDERS[powder].recommended_ratio.value, **rest)


@pytest.mark.parametrize("powder", POWDERS)
def test_at_one_hour_it_is_the_wet_strength_and_dry_the_dry_one(powder):
    mix = Mix(usual(powder))
    hour, dry = first_week(usual(powder), np.array([60.0, 1e5]), 12.0).strength_mpa
    assert hour == pytest.approx(mix.wet_strength_mpa.value, rel=1e-9)
    # The rest of the powder sets after the hour as well, so dry is a little more than twice the strength at 1 h.
    assert mix.dry_strength_mpa.value <= dry < 1.3 * mix.dry_strength_mpa.value


def test_half_of_the_water_goes_in_each_half_time_from_one_hour_on():
    assert free_water_left(np.array([0.0, 60.0, 60.0 + 720.0, 60.0 + 1440.0]), 12.0) == pytest.approx([1.0, 1.0, 0.5, 0.25])
    assert free_water_left(5000.0, np.inf) == 1.0


def test_strength_never_falls_and_weight_never_rises():
    for powder in POWDERS:
        week = first_week(usual(powder), MOMENTS, 12.0)
        assert np.all(np.diff(week.strength_mpa) >= -1e-9) and np.all(np.diff(week.weight_share) <= 1e-12)
        assert np.all(week.strength_low_mpa <= week.strength_mpa) and np.all(week.strength_mpa <= week.strength_high_mpa)


def test_plaster_gains_little_before_93_percent_of_the_water_has_gone():
    """Reproduced: the law was made to say so."""
    week = first_week(usual("model plaster"), MOMENTS, 12.0)
    wet = first_week(usual("model plaster"), MOMENTS, np.inf)
    early = week.free_water_left > 0.07
    assert np.all(week.strength_mpa[early] <= 1.20 * wet.strength_mpa[early])
    assert week.strength_mpa[-1] > 1.9 * wet.strength_mpa[-1]


def test_kept_wet_it_stays_wet():
    week = first_week(usual("dental stone"), np.array([600.0, 10080.0]), np.inf)
    assert np.all(week.weight_share == 1.0) and week.strength_mpa[1] == pytest.approx(week.strength_mpa[0], rel=1e-3)


def test_at_final_set_a_cast_has_less_than_a_fifth_of_its_strength_at_one_hour():
    for powder in ("model plaster", "dental stone", "improved stone"):
        mix = Mix(usual(powder))
        at_set, hour = first_week(usual(powder), np.array([mix.final_set_min.value, 60.0]), 12.0).strength_mpa
        assert at_set < 0.2 * hour
