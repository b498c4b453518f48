"""Windows of ratios are true: inside a mix meets the wish, outside it does not; and what is in the way is really in the way."""

import numpy as np
import pytest

from gypsumkit.conditions import Conditions
from gypsumkit.mix import Mix, pourable_ratios
from gypsumkit.powders import POURS_ABOVE_PA, POURS_BELOW_PA, POWDERS
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.studies import wanted as w
from gypsumkit.studies.compromise import compromise

ASKED = w.checked_wishes(True, 16.0, 20.0, False, 0.10)
BEATEN = Conditions(mixing="beaten by hand", turns=60)


def meets(wish, wishes, mix, surely):
    """Written anew, from the words of the wishes."""
    if wish == "pours":
        p = mix.yield_stress_pa
        return POURS_ABOVE_PA.value <= (p.low if surely else p.value) and (p.high if surely else p.value) <= POURS_BELOW_PA.value
    if wish == "set":
        p = mix.final_set_min
        return p.value is not None and (p.high if surely else p.value) <= wishes.set_within_min
    if wish == "strength":
        p = mix.dry_strength_mpa if wishes.dried else mix.wet_strength_mpa
        return (p.low if surely else p.value) >= wishes.strength_mpa
    p = mix.setting_expansion_percent
    return p.value is not None and (p.high if surely else p.value) <= wishes.expansion_percent


def mixed(powder, ratio, conditions=None):
    made = conditions or Conditions()
    return Mix(Recipe(powder, ratio, mixing=made.mixing, turns=made.turns))


@pytest.mark.parametrize("conditions", [None, BEATEN])
@pytest.mark.parametrize("powder", POWDERS)
def test_each_end_of_a_window_is_where_a_mix_begins_or_ceases_to_meet_the_wish(powder, conditions):
    one, kind = w.recipes_wanted(ASKED, conditions, [powder])[0], POWDERS[powder]
    for surely, by_wish in ((False, one.by_wish), (True, one.surely_by_wish)):
        for wish, windows in by_wish.items():
            for low, high in windows:
                for end, outside in ((low, low - w.FOUND_WITHIN), (high, high + w.FOUND_WITHIN)):
                    assert meets(wish, ASKED, mixed(powder, end, conditions), surely), (wish, end)
                    if kind.least_ratio < outside < kind.most_ratio:
                        assert not meets(wish, ASKED, mixed(powder, outside, conditions), surely), (wish, outside)


@pytest.mark.parametrize("powder", POWDERS)
def test_a_ratio_drawn_anywhere_meets_all_exactly_when_it_lies_in_a_window(powder):
    one, kind = w.recipes_wanted(ASKED, powders=[powder])[0], POWDERS[powder]
    for ratio in np.random.default_rng(5).uniform(kind.least_ratio, kind.most_ratio, 25):
        ends = [end for windows in one.by_wish.values() for window in windows for end in window]
        if min((abs(ratio - end) for end in ends), default=1.0) < 2 * w.FOUND_WITHIN:
            continue
        mix = mixed(powder, float(ratio))
        assert any(low <= ratio <= high for low, high in one.all) == all(meets(wish, ASKED, mix, False) for wish in ASKED.asked())


@pytest.mark.parametrize("powder", POWDERS)
def test_surely_is_never_wider(powder):
    one = w.recipes_wanted(ASKED, powders=[powder])[0]
    assert all(any(a <= low + 1e-3 and high - 1e-3 <= b for a, b in one.all) for low, high in one.surely)


@pytest.mark.parametrize("powder", POWDERS)
def test_pouring_and_strength_agree_with_the_compromise(powder):
    """The compromise finds the same windows on a grid of its own."""
    wishes = w.checked_wishes(True, strength_mpa=20.0)
    one, other = w.recipes_wanted(wishes, powders=[powder])[0], compromise(powder, 20.0)
    assert one.by_wish["pours"][0] == pytest.approx(pourable_ratios(powder), abs=3e-4)
    assert bool(one.all) == (other.both is not None)
    if other.both:
        assert one.all[0] == pytest.approx(other.both, abs=1e-3)


def test_what_is_in_the_way_is_named_with_what_can_be_had():
    wishes = w.checked_wishes(True, 12.0, 30.0)
    for one in w.recipes_wanted(wishes):
        if one.all:
            continue
        assert one.relaxed or one.nearest is not None
        for relaxed in one.relaxed:
            given = {"pours": {"pours": False}, "set": {"set_within_min": relaxed.to and 1.001 * relaxed.to},
                     "strength": {"strength_mpa": relaxed.to and 0.999 * relaxed.to}}[relaxed.wish]
            assert w.recipes_wanted(wishes._replace(**given), powders=[one.powder])[0].all, (one.powder, relaxed)
    assert any(one.relaxed for one in w.recipes_wanted(wishes))


def test_a_single_wish_that_cannot_be_met_tells_the_best():
    one = w.recipes_wanted(w.checked_wishes(False, strength_mpa=199.0), powders=["model plaster"])[0]
    assert not one.all and one.relaxed[0].wish == "strength" and one.relaxed[0].to == pytest.approx(mixed("model plaster", one.relaxed[0].ratio).wet_strength_mpa.value)


def test_several_wishes_far_off_name_the_nearest_ratio():
    one = w.recipes_wanted(w.checked_wishes(True, 1.0, 199.0, False, 0.001), powders=["model plaster"])[0]
    assert not one.all and not one.relaxed and POWDERS["model plaster"].least_ratio <= one.nearest <= POWDERS["model plaster"].most_ratio


def test_a_window_outside_the_range_of_a_law_says_so():
    """The clock of improved stone is made for 0.21 to 0.28; a set within 12 min is found below."""
    found = {one.powder: one for one in w.recipes_wanted(w.checked_wishes(True, 12.0, 30.0))}
    assert not found["improved stone"].trusted and found["improved stone"].all[0][1] < 0.21
    assert not found["high-expansion stone"].trusted and w.recipes_wanted(w.checked_wishes(), powders=["dental stone"])[0].trusted


def test_water_in_the_bowl_and_powder_left():
    """60 mL at 0.50 is 120 g; 80 g at 0.30 is 24 mL."""
    assert w.powder_for("model plaster", 60).amount == 120.0 and w.water_for("dental stone", "80").amount == 24.0
    for powder in POWDERS:
        stiff, runny = pourable_ratios(powder)
        weighed, measured = w.powder_for(powder, 60.0, step_g=0.5), w.water_for(powder, 80.0)
        assert stiff <= 60.0 / weighed.most and 60.0 / weighed.least <= runny and stiff <= measured.least / 80.0 and measured.most / 80.0 <= runny
        assert weighed.ratio == pytest.approx(60.0 / weighed.amount) and (2 * weighed.amount) % 1 == pytest.approx(0.0)
        assert w.powder_for(powder, measured.amount).amount == pytest.approx(80.0, abs=0.5 / POWDERS[powder].recommended_ratio.value + 0.5)


@pytest.mark.parametrize("call, says", [
    (lambda: w.powder_for("model plaster", -3), "between"), (lambda: w.powder_for("model plaster", "a lot"), "must be a number"),
    (lambda: w.water_for("dental stone", 0.5), "finer scale"), (lambda: w.checked_wishes(False), "Nothing is wanted"),
    (lambda: w.checked_wishes(True, 0.0), "between 1 and 1,440 min"), (lambda: w.checked_wishes(True, None, 500.0), "wanted strength"),
    (lambda: w.recipes_wanted(ASKED, powders=["chalk"]), "no powder called")])
def test_bad_input_is_one_sentence(call, says):
    with pytest.raises(Problem, match=says):
        call()
