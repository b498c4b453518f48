"""The window that pours and carries, against the predictions it stands on."""

import numpy as np
import pytest

from gypsumkit import Problem, predict
from gypsumkit.studies.compromise import compromise
from gypsumkit.mix import consistency, pourable_ratios
from gypsumkit.powders import POWDERS


@pytest.mark.parametrize("powder, wanted, dried", [("model plaster", 10.0, False), ("dental stone", 27.0, False), ("improved stone", 30.0, False),
                                                   ("improved stone", 70.0, True), ("impression plaster", 8.0, False)])
def test_inside_the_window_both_hold_and_outside_one_fails(powder, wanted, dried):
    first, last = compromise(powder, wanted, dried).both
    name = "dry_strength_mpa" if dried else "wet_strength_mpa"
    for share in (0.02, 0.3, 0.98):
        there = predict(powder, first + share * (last - first))
        assert there[name].value >= wanted * 0.999 and consistency(there["yield_stress_pa"].value) == "pours"
    for ratio in (first - 0.004, last + 0.004):
        there = predict(powder, ratio)
        assert there[name].value < wanted or consistency(there["yield_stress_pa"].value) != "pours"


@pytest.mark.parametrize("powder, wanted", [("model plaster", 30.0), ("dental stone", 60.0), ("improved stone", 95.0)])
def test_no_ratio_does_both_when_too_much_is_wanted(powder, wanted):
    found = compromise(powder, wanted)
    assert found.both is None and found.pours == pytest.approx(pourable_ratios(powder))


def test_a_powder_may_carry_only_where_it_no_longer_pours():
    found = compromise("model plaster", 12.5)
    assert found.carries is not None and found.both is None and found.carries[1] < found.pours[0]


def test_surely_is_never_wider_and_dry_never_narrower():
    for powder in POWDERS:
        for wanted in (6.0, 12.0, 25.0, 35.0):
            wide = compromise(powder, wanted).both
            sure, dry = compromise(powder, wanted, surely=True).both, compromise(powder, wanted, dried=True).both
            width = [0.0 if window is None else window[1] - window[0] for window in (sure, wide, dry)]
            assert width[0] <= width[1] + 1e-12 <= width[2] + 2e-12


def test_the_window_shrinks_as_more_is_wanted():
    widths = [np.diff(compromise("improved stone", wanted).both)[0] for wanted in (28.0, 32.0, 36.0, 40.0)]
    assert np.all(np.diff(widths) < 0)


@pytest.mark.parametrize("wanted", [0, -3, float("nan"), float("inf")])
def test_a_wanted_strength_that_cannot_be_is_refused(wanted):
    with pytest.raises(Problem, match="more than 0"):
        compromise("model plaster", wanted)
