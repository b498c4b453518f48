"""The few numbers that lesson 13 prints in its prose, and in its model answers, are those of the library."""

import re

from gypsumkit.bench.cast_chain import HANG_MM, IMPRESSIONS, SHAKEN_TIMES, TOOTH_ML, Chain, steps, tooth_strength
from gypsumkit.bench.plan import MARGIN_MIN
from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS
from gypsumkit.quiz import bank
from gypsumkit.recipe import Recipe
from tests.lessons.test_numbers_in_flow_and_strength import prose


def usual(powder):
    return Recipe(powder, POWDERS[powder].recommended_ratio.value)


def test_constants_that_are_named_ours_are_those_of_the_library():
    assert f"{MARGIN_MIN} minutes after the final set, {HANG_MM:g} mm of hanging depth and a tooth of {TOOTH_ML:g} mL are **ours**" in prose("13")
    assert "six times as much" in prose("13") and SHAKEN_TIMES == 6.0
    assert f"window here ends at {IMPRESSIONS['alginate'].wait[2]:g} min, the doubt at {IMPRESSIONS['alginate'].wait[3]:g} min" in prose("13")


def test_two_drops_cost_half_of_the_strength_of_a_tooth():
    assert "Two drops in a tooth can cost half of its strength" in prose("13")
    lost = [1 - tooth_strength(usual(powder), 2).value / tooth_strength(usual(powder), 0).value for powder in POWDERS]
    assert 0.45 < max(lost) < 0.55


def test_the_schedule_in_the_model_answer_is_that_of_dental_stone():
    answer, mix, found = bank.note("L13-N2").model_answer, Mix(usual("dental stone")), steps(Chain(usual("dental stone")))
    likely, sure = re.search(r"until ([\d.]+) min, but perhaps only until ([\d.]+) min", answer).groups()
    assert likely == f"{mix.working_time_min.value:.1f}" and float(sure) == found[1].ends[2]
    final, high, margin, out = re.search(r"at (\d+) min, but perhaps only at (\d+) min.+wait (\d+) min more and separate at (\d+) min", answer).groups()
    assert (final, high, int(margin), float(out)) == (f"{mix.final_set_min.value:.0f}", f"{mix.final_set_min.high:.0f}", MARGIN_MIN, found[3].ends[1])


def test_what_the_moves_promise_happens():
    """The start of each explorer is spoiled, plaster loses less to drops than improved stone, and vacuum shortens the pour."""
    from gypsumkit.live.explorers import explorer_class
    assert "2 of 5 steps" in explorer_class("pour")(powder="model plaster", waits_min=45, poured_min=4).words()
    assert "3 of 5 steps" in explorer_class("separate")(powder="model plaster", base_min=4, separate_min=600, trim_min=900).words()
    by_hand, machine = (steps(Chain(Recipe("dental stone", 0.30, mixing=mixing)))[1].ends[2] for mixing in ("spatulated by hand", "machine under vacuum"))
    assert machine < by_hand
    plaster, stone = (tooth_strength(usual(powder), 2).value / tooth_strength(usual(powder), 0).value for powder in ("model plaster", "improved stone"))
    assert stone < plaster
