"""Heat capacity and cooling of a cast, its Biot number, and setting expansion."""

import numpy as np
import pytest

from gypsumkit.powders import POWDERS
from gypsumkit.science import expansion, heat, setting


def test_cooling_time_of_a_cube_worked_by_hand():
    # 100 cm3 cube: surface 6 x 100^(2/3) cm2 = 129.3 cm2; 300 J/K over 15 W/m2K x 0.01293 m2 = 1547 s.
    assert heat.cooling_time_min(100.0, 300.0, 15.0) == pytest.approx(1547 / 60, rel=1e-3)


def test_a_large_lump_cools_slower_and_is_no_longer_of_one_temperature():
    small, large = 80.0, 8000.0
    assert heat.cooling_time_min(large, 3.0 * large, 15.0) > 4 * heat.cooling_time_min(small, 3.0 * small, 15.0)
    assert heat.biot_number(small, 15.0) < heat.LUMPED_BELOW_BIOT < heat.biot_number(200_000.0, 15.0)


@pytest.mark.parametrize("powder, low, high", [("model plaster", 0.2, 0.3), ("dental stone", 0.08, 0.10), ("improved stone", 0.05, 0.07)])
def test_expansion_constants_lie_in_the_published_range(powder, low, high):
    # Teaching sets (read): plaster 0.2-0.3, stone 0.08-0.10, improved stone 0.05-0.07 %.
    assert low <= POWDERS[powder].setting.expansion_percent.value <= high


def test_expansion_begins_at_loss_of_gloss_and_grows_with_closer_nuclei():
    assert expansion.setting_expansion_percent(0.25, 13.0, 13.0, 0.0) == 0.0
    assert expansion.setting_expansion_percent(0.25, 13.0, 9.0, 1.0) > expansion.setting_expansion_percent(0.25, 13.0, 13.0, 1.0) == 0.25


def test_expansion_with_closer_nuclei_worked_by_hand():
    """Our own calibration, no measurement: gloss lost in half the time, 2^0.66 = 1.580; in twice the time, 1 / 1.580 = 0.633."""
    assert expansion.setting_expansion_percent(0.10, 16.0, 8.0, 1.0) == pytest.approx(0.1580, abs=1e-4)
    assert expansion.setting_expansion_percent(0.10, 8.0, 16.0, 1.0) == pytest.approx(0.0633, abs=1e-4)
    assert expansion.setting_expansion_percent(0.10, 16.0, 8.0, 0.5, 0.625) == pytest.approx(0.1580 * 0.5 * 0.625, abs=1e-4)


def test_heat_capacity_worked_by_hand():
    # Half way, ratio 0.50: 0.5 g of powder x 0.823 + 0.5 x 1.18618 g of crystals x 1.080 + (0.50 - 0.5 x 0.18618) g of water x 4.18
    # = 0.4115 + 0.6405 + 1.7009 = 2.7529 J/g K.
    assert setting.heat_capacity_j_g_k(0.50) == pytest.approx(2.7529, abs=2e-4)
    # Ratio 0.15, too dry to set whole: half of the 0.15 / 0.18618 = 0.80567 that sets at all, 0.40284:
    # 0.59716 x 0.823 + 0.40284 x 1.18618 x 1.080 + 0.075 x 4.18 = 0.4915 + 0.5161 + 0.3135 = 1.3210 J/g K.
    assert setting.heat_capacity_j_g_k(0.15) == pytest.approx(1.3210, abs=2e-4)


def test_length_change():
    assert expansion.length_change_um(0.1, 10.0) == pytest.approx(10.0)       # 0.1 % of 10 mm is 10 micrometres
    assert np.allclose(expansion.length_change_um(np.array([0.05, 0.2]), 50.0), [25.0, 100.0])
