"""A session planned: what is weighed, ordered and paid, that no machine is held twice, and that nothing could begin earlier."""

import math
from collections import Counter
from itertools import count

import numpy as np
import pytest

from gypsumkit.bench.plan import (MARGIN_MIN, OPENING_MIN, RINSE_MIN, SEPARATE_MIN, TIDY_MIN, WEIGH_MIN, Session, paste_cm3_per_g,
                                  plan_session, stagger)
from gypsumkit.bench.plan_words import plan_lines
from gypsumkit.mix import predict_setting
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.science.pores import paste_volume_cm3_per_g


# ---- mass, volume, money

def test_a_volume_worked_by_hand():
    """Dental stone of 2.76 g/cm³ at 0.30: 1 g fills 1/2.76 + 0.30 = 0.66232 cm³, with 1 % air 0.66901 cm³; 60 cm³ are 89.68 g.

    With 15 % waste 103.1 g, 103 g on a scale that reads 1 g; 30.9 mL, 31 mL in the cylinder: 0.301. 24 x 2 casts: 4.944 kg, 1.488 L.
    """
    plan = plan_session(24, 2, "dental stone", "0,30", cast_volume_cm3=60, waste_percent=15)
    assert paste_cm3_per_g("dental stone", 0.30) == pytest.approx(0.66901, rel=2e-3)
    assert (plan.batch.powder_g, plan.batch.water_ml) == (103.0, 31.0)
    assert plan.batch.water_powder_ratio == pytest.approx(0.3010, abs=5e-5)
    assert (plan.powder_kg, plan.water_l, plan.bags) == (pytest.approx(4.944), pytest.approx(1.488), 1)


@pytest.mark.parametrize("powder, ratio, density", [("model plaster", 0.50, 1.70), ("dental stone", 0.30, 1.96)])
def test_a_fresh_mix_weighs_what_its_parts_weigh(powder, ratio, density):
    """Outside check, from memory and wide: a plaster slurry at 0.50 weighs about 1.7, a stone slurry at 0.30 about 1.9 to 2.0 g/cm³."""
    assert (1 + ratio) / paste_cm3_per_g(powder, ratio) == pytest.approx(density, rel=0.04)


def test_water_counted_by_its_volume_and_by_its_mass_agree_within_the_density_of_water():
    assert paste_volume_cm3_per_g(0.5, 2.64) == 1 / 2.64 + 0.5
    assert paste_volume_cm3_per_g(0.5, 2.64) == pytest.approx(paste_volume_cm3_per_g(0.5, 2.64, 0.99754), rel=0.002)


def test_waste_of_a_weight_is_only_ordered_and_of_a_volume_weighed_along():
    by_weight = plan_session(10, 1, "model plaster", powder_g=100, waste_percent=20)
    assert by_weight.batch.powder_g == 100 and by_weight.powder_kg == pytest.approx(1.2) and by_weight.water_l == pytest.approx(0.6)
    by_volume = plan_session(10, 1, "model plaster", cast_volume_cm3=by_weight.cast_volume_cm3, waste_percent=20)
    assert by_volume.batch.powder_g == 120 and by_volume.powder_kg == pytest.approx(1.2)


def test_several_casts_from_a_bowl_and_what_is_left_over():
    plan = plan_session(3, 1, "model plaster", powder_g=80, group_size=3, casts_per_mix=2, waste_percent=0)
    assert [turn.casts for turn in plan.turns] == [2, 1]
    assert [batch.casts for batch in plan.batches] == [1, 2, 3] and plan.batch.powder_g == 160
    assert plan.powder_kg == pytest.approx(0.24)


def test_costs_are_for_the_same_casts_of_every_powder_with_the_readers_prices():
    plan = plan_session(20, 1, "dental stone", cast_volume_cm3=50, prices={"improved stone": "10"}, waste_percent=0, bag_kg=2)
    costs = {cost.powder: cost for cost in plan.costs}
    assert set(costs) == set(POWDERS) and [name for name, cost in costs.items() if cost.planned] == ["dental stone"]
    die = costs["improved stone"]
    # By hand: 1000 cm³ at 0.23: (1/2.76 + 0.23)/0.99 = 0.59831 cm³ a gram, 1.671 kg, at 10: 16.71; one bag of 2 kg: 20.
    assert (die.powder_kg, die.money, die.bags, die.money_for_bags, die.invented) == (
        pytest.approx(1.671, rel=2e-3), pytest.approx(16.71, rel=2e-3), 1, 20.0, False)
    assert costs["model plaster"].invented and costs["dental stone"].powder_kg == pytest.approx(plan.powder_kg)


def test_what_is_weighed_gives_back_the_ratio_over_random_sessions():
    rng = np.random.default_rng(11)
    for _ in range(60):
        powder = str(rng.choice(list(POWDERS)))
        plan = plan_session(int(rng.integers(1, 30)), int(rng.integers(1, 4)), powder, cast_volume_cm3=float(rng.uniform(20, 200)))
        for batch in plan.batches:
            assert batch.powder_g == round(batch.powder_g) and batch.water_ml == round(batch.water_ml)
            assert abs(batch.water_ml - plan.session.water_powder_ratio * batch.powder_g) <= 0.5 + 1e-9
            assert batch.water_powder_ratio == pytest.approx(batch.water_ml / batch.powder_g)
        assert plan.bags * plan.session.bag_kg >= plan.powder_kg - 1e-9 > (plan.bags - 1) * plan.session.bag_kg - 1e-6
        filled = plan.batches[0].powder_g / (1 + plan.session.waste_percent / 100) * paste_cm3_per_g(powder, plan.session.water_powder_ratio)
        assert filled == pytest.approx(plan.session.cast_volume_cm3, abs=1.0)


# ---- the clock

def test_the_moments_are_those_of_the_clock_for_what_is_weighed():
    plan = plan_session(4, 1, "model plaster", powder_g=150, water_temperature_c="30")
    recipe = Recipe.weighed("model plaster", 150, 75, water_temperature_c=30)
    events = predict_setting("model plaster", 0.5, recipe)
    assert plan.moments.final_set_min == pytest.approx(events["final_set_min"].value)
    assert plan.moments.gloss_loss_min == pytest.approx(events["gloss_loss_min"].value)
    assert plan.moments.pours_until_min == pytest.approx(events["working_time_min"].value)
    assert plan.moments.ring_min == 2.0 and plan.moments.poured_min <= plan.moments.pours_until_min


def test_casts_are_separated_at_the_later_of_the_two_moments():
    ours = plan_session(2, powder_g=100).moments
    assert ours.final_set_min + MARGIN_MIN <= ours.separate_min < ours.final_set_min + MARGIN_MIN + 1
    assert plan_session(2, powder_g=100, product_says_min="1 h").moments.separate_min == 60
    assert plan_session(2, powder_g=100, product_says_min=5).moments.separate_min == ours.separate_min


def test_a_mix_that_would_no_longer_pour_is_said():
    assert plan_session(2, powder_g=100).notes == ()
    late = plan_session(6, powder_g=100, group_size=3, casts_per_mix=3)
    assert any("pours only until" in note and "pour one cast from a bowl" in note for note in late.notes)
    assert any("belongs at 1.25 min" in note for note in plan_session(2, powder="impression plaster", powder_g=100).notes)


def test_without_the_ring_a_session_is_not_longer_though_pouring_then_begins_at_half_a_minute():
    asked = {"students": 12, "cast_volume_cm3": 60, "scales": 2}
    assert plan_session(**asked, ring_test=False).end_min <= plan_session(**asked).end_min


def test_somebody_alone_who_is_busy_when_the_gloss_goes_is_told():
    def told(size):
        return any("neighbour" in note for note in plan_session(2, 3, cast_volume_cm3=100, group_size=size, scales=2, ring_test=False).notes)
    assert told(1) and not told(2)
    assert not any("neighbour" in note for note in plan_session(2, 1, cast_volume_cm3=100, group_size=1).notes)


@pytest.mark.parametrize("asked, says", [({"session_min": "abc"}, "for example 12 min"), ({"prices": {"dental stone": "abc"}}, "for example 2.40")])
def test_a_number_that_cannot_be_read_is_answered_with_an_example_of_its_own_kind(asked, says):
    with pytest.raises(Problem, match=says):
        plan_session(2, powder_g=100, **asked)


# ---- who begins when

def _held(plan):
    """Every machine with the times from when to when it is held, in their order."""
    held = {}
    for entry in plan.timetable:
        if entry.with_machine:
            held.setdefault(entry.with_machine, []).append((entry.begin_min, entry.end_min))
    return {name: sorted(times) for name, times in held.items()}


def _random_sessions(how_many, seed):
    rng = np.random.default_rng(seed)
    for _ in range(how_many):
        machine = bool(rng.integers(2))
        yield dict(students=int(rng.integers(1, 40)), casts=int(rng.integers(1, 4)), powder=str(rng.choice(list(POWDERS))), powder_g=float(rng.integers(40, 200)),
                   group_size=int(rng.integers(1, 5)), casts_per_mix=int(rng.integers(1, 4)), vibrators=int(rng.integers(1, 4)), mixers=int(rng.integers(1, 3)),
                   scales=int(rng.integers(1, 5)), pour_min=float(rng.choice([0.5, 1.0, 1.3, 2.0])), ring_test=bool(rng.integers(2)),
                   separate_later=bool(rng.integers(2)), session_min=1000, **({"mixing": "machine under vacuum"} if machine else {"turns": float(rng.integers(60, 240))}))


def test_no_machine_is_held_by_two_mixes_at_once_and_no_hands_do_two_things():
    for asked in _random_sessions(120, 5):
        plan = plan_session(**asked)
        twice = [(name, one, other) for name, times in _held(plan).items() for one, other in zip(times, times[1:]) if one[1] > other[0] + 1e-6]
        assert not twice, (asked, twice[:3])
        numbers = set(_held(plan))
        assert len([name for name in numbers if name.startswith("vibrator")]) <= asked["vibrators"]
        assert len([name for name in numbers if name.startswith("scale")]) <= asked["scales"]
        for group in range(1, len(plan.session.groups) + 1):
            busy = Counter(entry.begin_min for entry in plan.timetable if entry.group == group and entry.does.startswith("weigh"))
            assert all(times == 1 for times in busy.values())
            spans = sorted((entry.begin_min, entry.end_min) for entry in plan.timetable
                           if entry.group == group and entry.end_min > entry.begin_min)
            assert all(later[0] >= earlier[1] - 1e-9 for earlier, later in zip(spans, spans[1:])), asked


def test_every_cast_is_made_once_and_none_is_separated_too_early():
    for asked in _random_sessions(60, 6):
        plan = plan_session(**asked)
        assert sum(turn.casts for turn in plan.turns) == asked["students"] * asked["casts"]
        assert sum(plan.session.groups) == asked["students"] and max(plan.session.groups) - min(plan.session.groups) <= 1
        if not asked["separate_later"]:
            assert all(plan.closing[turn.group][0] >= turn.start_min + plan.moments.separate_min for turn in plan.turns)
        assert plan.end_min == max(entry.end_min for entry in plan.timetable if entry.does.startswith("tidy"))


def _least_last_beginning(mixes_of_groups, shared, hands_min):
    """By trying every beginning of every mix: the earliest minute in which the last one can begin. Knows nothing of `stagger`."""
    def fits(begun):
        for copies, held in [*shared]:
            for minute, _ in begun:
                if sum(other <= minute < other + held for other, _ in begun) > copies:
                    return False
        return all(abs(one - other) >= hands_min for place, (one, mine) in enumerate(begun) for other, yours in begun[:place] if mine == yours)

    def can(begun, left, last):
        if not any(left):
            return True
        for minute in range(begun[-1][0] if begun else 0, last + 1):
            for group, mixes in enumerate(left):
                if mixes and fits(begun + [(minute, group)]) and can(begun + [(minute, group)], left[:group] + [mixes - 1] + left[group + 1:], last):
                    return True
        return False
    return next(last for last in count() if can([], list(mixes_of_groups), last))


@pytest.mark.parametrize("mixes_of_groups", [(1,), (3,), (1, 1, 1), (2, 2), (2, 1), (3, 2), (4, 2), (2, 2, 1), (1, 1, 1, 1, 1)])
@pytest.mark.parametrize("shared, hands_min", [
    ([(1, 2)], 4), ([(1, 1)], 6), ([(2, 3)], 4), ([(1, 1), (2, 3)], 5), ([(2, 4), (3, 5)], 3), ([(1, 3), (1, 2)], 7),
])
def test_no_other_order_begins_the_last_mix_earlier(mixes_of_groups, shared, hands_min):
    begun = stagger(mixes_of_groups, shared, hands_min)
    assert Counter(group for _, group in begun) == Counter({group: mixes for group, mixes in enumerate(mixes_of_groups)})
    assert max(minute for minute, _ in begun) == _least_last_beginning(mixes_of_groups, shared, hands_min)


@pytest.mark.parametrize("mixes, copies, held", [(7, 1, 3), (7, 2, 3), (8, 3, 2), (1, 1, 9)])
def test_alike_jobs_on_alike_machines_end_at_the_bound_of_the_textbook(mixes, copies, held):
    """Outside check, a textbook theorem from memory: n jobs of p minutes on m alike machines cannot end before ceil(n/m) p; one machine: n p."""
    begun = stagger([1] * mixes, [(copies, held)], 1)
    assert max(minute for minute, _ in begun) + held == math.ceil(mixes / copies) * held


def test_the_length_of_a_session_worked_by_hand():
    """8 students in 4 groups, one cast each, so 2 mixes a group; one scale held 2 min, hands 6 min: a mix begins every 2 min, the eighth at 14.

    Opening 5, weighing of the last 19 to 21, separating from 21 + 31 = 52, 2 mixes 4 min, tidying 5: 61 min.
    """
    plan = plan_session(8, 1, "dental stone", powder_g=100)
    assert [turn.weigh_min for turn in plan.turns] == [5, 7, 9, 11, 13, 15, 17, 19]
    assert plan.moments.separate_min == 31
    assert plan.end_min == OPENING_MIN + 14 + WEIGH_MIN + 31 + 2 * SEPARATE_MIN + TIDY_MIN == 61
    assert RINSE_MIN == 1


# ---- does it fit, and what would

def test_what_fits_needs_no_remedy():
    plan = plan_session(8, powder_g=100, session_min=61)
    assert plan.fits and plan.remedies == ()
    assert not plan_session(8, powder_g=100, session_min=60).fits


@pytest.mark.parametrize("asked, words, changed", [
    (dict(students=24, casts=1, powder_g=100, session_min=85), "use 2 scales instead of 1", {"scales": 2}),
    (dict(students=24, casts=2, powder_g=100, scales=4, pour_min=1.5, session_min=100), "use 2 vibrators instead of 1", {"vibrators": 2}),
    (dict(students=24, casts=2, powder_g=100, session_min=100), "make 1 instead of 2 casts each", {"casts": 1}),
    (dict(students=12, casts=1, powder="model plaster", powder_g=100, session_min=60), "separate the casts another day", {"separate_later": True}),
])
def test_each_remedy_is_what_planning_again_with_it_gives(asked, words, changed):
    plan = plan_session(**asked)
    found = {remedy.words: remedy.end_min for remedy in plan.remedies}
    assert not plan.fits and words in found
    again = plan_session(**{**asked, **changed})
    assert again.fits and again.end_min == found[words]


def test_where_no_single_change_is_enough_two_are_proposed_and_the_length_is_said():
    plan = plan_session(24, 2, powder_g=100)
    assert not plan.fits and sum(" and " in remedy.words for remedy in plan.remedies) >= 2
    assert all(remedy.end_min <= 90 for remedy in plan.remedies[:-1])
    assert plan.remedies[-1].words == f"take {plan.end_min} min"


def test_fewer_bowls_are_proposed_only_while_the_last_cast_still_pours():
    plan = plan_session(16, 2, powder_g=100, pour_min=0.5, session_min=70, scales=2)
    assert any("from each bowl" in remedy.words for remedy in plan.remedies)
    slow = plan_session(16, 2, powder_g=100, pour_min=1.5, session_min=70, scales=2)
    assert not any("from each bowl" in remedy.words for remedy in slow.remedies)


# ---- what cannot be

@pytest.mark.parametrize("asked, says", [
    ({"students": 0}, "whole number from 1 to 300"),
    ({"students": 12.5}, "students is given as 12.5; it must be a whole number"),
    ({"students": "many"}, "students must be a number"),
    ({"students": -3}, "whole number"),
    ({"students": 301}, "whole number from 1 to 300"),
    ({"students": True}, "not yes or no"),
    ({"students": float("nan")}, "ordinary number"),
    ({"casts": 0}, "casts of each student"),
    ({"casts": "1,5"}, "1.5; it must be a whole number"),
    ({"powder": "stone dental"}, "no powder called"),
    ({"water_powder_ratio": 50}, "too wet|looks like mL of water per 100 g"),
    ({"powder": "model plaster", "water_powder_ratio": 50}, "write 0.5"),
    ({"water_powder_ratio": "wet"}, "not a water/powder ratio"),
    ({"powder_g": None}, "either as powder in g or as volume in cm³."),
    ({"cast_volume_cm3": 60}, "not both"),
    ({"powder_g": "60 cm3"}, "60 cm3, which is a volume; it is a mass, in g"),
    ({"powder_g": None, "cast_volume_cm3": "60 g"}, "60 g, which is a mass; it is a volume, in cm³"),
    ({"powder_g": None, "cast_volume_cm3": 60000}, "If it is 60000 mm³, write 60"),
    ({"powder_g": 0.1}, "If it is 0.1 kg, write 100"),
    ({"powder_g": -5}, "between 1 and 5,000 g"),
    ({"waste_percent": 120}, "between 0 and 100 %"),
    ({"waste_percent": 0.15}, "for 15 % write 15"),
    ({"waste_percent": "-1"}, "between 0 and 100"),
    ({"vibrators": 0}, "vibrators is given as 0"),
    ({"mixers": 1.5}, "mixers is given as 1.5"),
    ({"scales": 0}, "scales is given as 0"),
    ({"group_size": 0}, "students at one bowl"),
    ({"casts_per_mix": 0}, "casts from one bowl"),
    ({"session_min": 5}, "between 10 and 1,440 min"),
    ({"session_min": "2 kg"}, "which is a mass; it is a time"),
    ({"bag_kg": 0}, "between 0.1 and 1,000 kg"),
    ({"prices": {"dental stone": "-2"}}, "The price of dental stone"),
    ({"prices": {"granite": "2"}}, "no powder called"),
    ({"mixing": "by magic"}, "no way of mixing"),
    ({"turns": 5000}, "between 20 and 300"),
    ({"powder_g": 2, "cylinder_step_ml": 5}, "finer one or mix more"),
    ({"powder_g": 20, "cylinder_step_ml": 5}, "the ratio becomes 0.25 instead of 0.3"),
    ({"powder_g": 100, "scale_step_g": 0}, "between 0.001"),
    ({"water_temperature_c": 97, "room_temperature_c": 97}, "does not set within a day"),
    ({"students": 300, "casts": 20}, "plans up to 2000"),
])
def test_bad_input_is_one_sentence_that_says_what_would_be_right(asked, says):
    with pytest.raises(Problem, match=says) as refused:
        plan_session(**{"students": 10, "powder_g": 100, **asked})
    assert "\n" not in str(refused.value) and len(str(refused.value)) < 300


def test_numbers_are_understood_with_comma_and_unit():
    plan = plan_session("10", "1", "Model plaster", "50 mL per 100 g", powder_g="0,1 kg", session_min="1.5 h", waste_percent="15 %", product_says_min="45 min")
    assert (plan.session.powder_g, plan.session.session_min, plan.session.waste_percent, plan.session.powder) == (100.0, 90.0, 15.0, "model plaster")


def test_a_session_is_checked_before_anything_is_planned():
    assert Session(students=5, powder_g=50).groups == (2, 2, 1)
    with pytest.raises(TypeError):
        Session(students=5, powder_g=50, pupils=3)


def test_the_beginnings_of_each_group_are_those_of_its_mixes():
    plan = plan_session(5, 2, "dental stone", cast_volume_cm3=60)
    assert [group for group, _ in plan.beginnings()] == list(range(1, len(plan.session.groups) + 1))
    assert sorted(minute for _, minutes in plan.beginnings() for minute in minutes) == sorted(turn.start_min for turn in plan.turns)
    said = "\n".join(plan_lines(plan))
    for group, minutes in plan.beginnings():
        assert len(minutes) == len(plan.session.mixes_of_groups[group - 1])
        assert f"  group {group}   {', '.join(map(str, minutes))}\n" in said
