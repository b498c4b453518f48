"""The bench clock with faked clocks: it keeps time, survives restarts and set clocks, and its phases follow the recipe."""

import itertools
import json
import math
from dataclasses import replace

import numpy as np
import pytest

from gypsumkit.bench import bench_clock
from gypsumkit.bench.bench_clock import FILE, SPEEDS, BenchClock, NotSaved, Unlikely, state
from gypsumkit.bench.mix_phases import MARGIN_MIN, SEEN, left_out, phases
from gypsumkit.mix import Mix
from gypsumkit.powders import MIXING_METHODS, POWDERS
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe

STONE = Recipe("dental stone", 0.30)


class Computer:
    """A wall clock and a steady clock that a test moves."""

    def __init__(self):
        self.wall, self.steady = 1_800_000_000.0, 5000.0

    def pass_time(self, seconds):
        self.wall += seconds
        self.steady += seconds

    def set_wall_clock(self, seconds):
        self.wall += seconds

    def clock(self, folder, recipe=STONE, **rest):
        return BenchClock(recipe, folder, now=lambda: self.wall, steady=lambda: self.steady, **rest)

    def restart_of_kernel(self, seconds=0.0):
        self.pass_time(seconds)


@pytest.fixture
def computer():
    return Computer()


def on_disk(folder):
    return json.loads((folder / FILE).read_text("utf-8"))


# ---------------------------------------------------------------- time


@pytest.mark.parametrize("speed", SPEEDS)
def test_an_hour_is_an_hour_at_every_speed_whatever_is_asked_meanwhile(computer, tmp_path, speed):
    clock = computer.clock(tmp_path, speed=speed)
    clock.start()
    began, rng = computer.steady, np.random.default_rng(1)
    while computer.steady - began < 3600:
        computer.pass_time(float(rng.uniform(0.01, 30)))
        clock.look_at_wall_clock()
        clock.look_at_file()
        shown_s = 60 * clock.minute()
        assert shown_s / speed == pytest.approx(computer.steady - began, abs=0.001)
    assert abs(60 * clock.minute() / speed - (computer.steady - began)) < 0.2


def test_a_change_of_speed_keeps_the_reading(computer, tmp_path):
    clock = computer.clock(tmp_path)
    clock.start()
    for speed in (1, 30, 2, 10, 5, 1):
        before = clock.minute()
        clock.go_at(speed)
        assert clock.minute() == pytest.approx(before, abs=1e-9)
        computer.pass_time(6)
        assert clock.minute() == pytest.approx(before + 0.1 * speed, abs=1e-7)


def test_the_start_is_on_disk_at_once_as_seconds_since_1970_utc(computer, tmp_path):
    clock = computer.clock(tmp_path)
    assert not (tmp_path / FILE).exists()
    clock.start()
    kept = on_disk(tmp_path)
    assert kept["started_at"] == computer.wall and kept["speed"] == 1 and kept["gloss_lost_min"] == []
    assert kept["recipe"]["powder"] == "dental stone" and kept["recipe"]["water_powder_ratio"] == 0.30


@pytest.mark.parametrize("speed", SPEEDS)
def test_a_restart_of_the_kernel_goes_on_where_the_mix_is(computer, tmp_path, speed):
    first = computer.clock(tmp_path)
    first.start()
    computer.pass_time(100)
    first.go_at(speed)
    computer.pass_time(10)
    computer.steady = 17.0                                    # a steady clock begins anywhere
    computer.wall += 5
    second = computer.clock(tmp_path, Recipe("model plaster", 0.5))
    assert second.running and second.recipe == STONE and second.speed == speed
    assert 60 * second.minute() == pytest.approx(100 + 15 * speed, abs=1e-3)


def test_stopped_and_lost_gloss_survive_a_restart(computer, tmp_path):
    first = computer.clock(tmp_path)
    first.start()
    computer.pass_time(8 * 60)
    first.gloss_lost()
    computer.pass_time(60)
    first.stop()
    computer.pass_time(600)
    second = computer.clock(tmp_path)
    assert second.started and not second.running
    assert second.minute() == pytest.approx(9) and second.gloss_lost_min == pytest.approx(8)


# ---------------------------------------------------------------- clocks that are set


@pytest.mark.parametrize("step_s", [3600, -3600, 40, -7])
def test_a_wall_clock_that_is_set_is_noticed_and_not_followed(computer, tmp_path, step_s):
    clock = computer.clock(tmp_path)
    clock.start()
    computer.pass_time(120)
    computer.set_wall_clock(step_s)
    assert clock.minute() == pytest.approx(2)
    clock.look_at_wall_clock()
    assert clock.minute() == pytest.approx(2)
    (said,) = clock.take_messages()
    assert ("forward" if step_s > 0 else "back") in said and "did not follow" in said
    assert on_disk(tmp_path)["started_at"] == pytest.approx(computer.wall - 120), "so a restart reads the same"
    assert computer.clock(tmp_path).minute() == pytest.approx(2)
    clock.look_at_wall_clock()
    assert clock.take_messages() == []


def test_a_stop_is_taken_back_rightly_though_the_wall_clock_was_set_meanwhile(computer, tmp_path):
    clock = computer.clock(tmp_path)
    clock.start()
    computer.pass_time(60)
    clock.stop()
    computer.set_wall_clock(3600)
    computer.pass_time(60)
    clock.undo()
    assert clock.minute() == pytest.approx(2)


def test_the_small_steps_of_a_clock_kept_right_by_the_network_are_neither_told_nor_followed(computer, tmp_path):
    clock = computer.clock(tmp_path)
    clock.start()
    for _ in range(10):
        computer.pass_time(60)
        computer.set_wall_clock(0.15)
        clock.look_at_wall_clock()
    assert clock.minute() == pytest.approx(10, abs=1e-6) and clock.take_messages() == []


def test_a_sleep_of_the_computer_counts_since_the_mix_does_not_sleep(computer, tmp_path):
    clock = computer.clock(tmp_path)
    clock.start()
    computer.pass_time(1800)
    clock.look_at_wall_clock()
    assert clock.minute() == pytest.approx(30) and clock.take_messages() == []


def test_the_steady_clock_of_this_computer_runs():
    first = bench_clock.steady_clock()
    assert bench_clock.steady_clock() >= first


def test_a_start_in_the_future_is_set_aside_and_told(computer, tmp_path):
    computer.clock(tmp_path).start()
    computer.set_wall_clock(-600)
    clock = computer.clock(tmp_path)
    assert not clock.started and clock.minute() == 0
    assert "in the future" in clock.take_messages()[0]
    assert len(list(tmp_path.glob("bench-clock damaged*"))) == 1


def test_a_forgotten_clock_is_stopped(computer, tmp_path):
    computer.clock(tmp_path).start()
    computer.pass_time(13 * 3600)
    clock = computer.clock(tmp_path)
    assert not clock.running and "more than 12 hours" in clock.take_messages()[0]
    clock.reset()
    clock.start()
    computer.pass_time(13 * 3600)
    clock.look()
    assert not clock.running and clock.minute() == 12 * 60 and "more than 12 hours" in clock.take_messages()[0]


def test_a_clock_of_the_readers_own_powder_is_restored_though_nothing_was_loaded_yet(computer, tmp_path, monkeypatch):
    own = replace(POWDERS["dental stone"], name="our stone, lot 3")
    monkeypatch.setitem(POWDERS, own.name, own)
    computer.clock(tmp_path, Recipe(own.name, 0.30)).start()
    del POWDERS[own.name]
    monkeypatch.setattr(bench_clock, "load_own_powders", lambda folder: POWDERS.update({own.name: own}))
    clock = computer.clock(tmp_path)
    assert clock.running and clock.recipe.powder == own.name and clock.take_messages() == []
    del POWDERS[own.name]


def test_two_lessons_show_the_same_clock_and_a_set_clock_moves_it_once(computer, tmp_path):
    one, other = computer.clock(tmp_path), computer.clock(tmp_path)
    one.start()
    computer.pass_time(300)
    other.look_at_file()
    assert other.minute() == pytest.approx(5)
    computer.set_wall_clock(3600)
    one.look_at_wall_clock(), other.look_at_wall_clock(), one.look_at_file()
    assert one.minute() == pytest.approx(5) and other.minute() == pytest.approx(5)
    other.stop()
    other.reset()
    one.look_at_file()
    assert not one.started


# ---------------------------------------------------------------- disk


@pytest.mark.parametrize("raw", [b"", b"{", b"[]", b"\xff\xfe", b'{"format": 2}', b'{"format": 1}', b"null", b"[" * 50_000,
                                 b'{"format":1,"recipe":{"powder":"dental stone","water_powder_ratio":30},"started_at":1,"since_at":1,"since_min":0,"speed":1,'
                                 b'"gloss_lost_min":[],"stopped_min":null}',
                                 b'{"format":1,"recipe":{"powder":"dental stone","water_powder_ratio":0.3},"started_at":NaN,"since_at":1,"since_min":0,"speed":1,'
                                 b'"gloss_lost_min":[],"stopped_min":null}',
                                 b'{"format":1,"recipe":{"powder":"dental stone","water_powder_ratio":0.3},"started_at":1,"since_at":1,"since_min":0,"speed":7,'
                                 b'"gloss_lost_min":[],"stopped_min":null}'])
def test_a_damaged_file_is_set_aside_with_a_message_and_nothing_is_lost(computer, tmp_path, raw):
    (tmp_path / FILE).write_bytes(raw)
    clock = computer.clock(tmp_path)
    assert not clock.started
    assert "was damaged" in clock.take_messages()[0]
    (aside,) = tmp_path.glob("bench-clock damaged*")
    assert aside.read_bytes() == raw
    clock.start()
    assert on_disk(tmp_path)["started_at"] == computer.wall


def test_a_file_that_was_mended_meanwhile_is_read_not_set_aside(computer, tmp_path, monkeypatch):
    elsewhere = computer.clock(tmp_path)
    elsewhere.start()
    sound = (tmp_path / FILE).read_bytes()
    (tmp_path / FILE).write_bytes(b"{")
    move_aside = bench_clock.move_aside

    def mended_just_before(path, raw):
        path.write_bytes(sound)
        return move_aside(path, raw)
    monkeypatch.setattr(bench_clock, "move_aside", mended_just_before)
    clock = computer.clock(tmp_path)
    assert clock.running and clock.take_messages() == [] and not list(tmp_path.glob("*damaged*"))


def test_a_clock_that_cannot_be_saved_runs_and_says_so(computer, tmp_path, monkeypatch):
    clock = computer.clock(tmp_path)

    def full(*_):
        raise OSError(28, "No space left on device")
    monkeypatch.setattr(bench_clock, "write_whole", full)
    with pytest.raises(NotSaved, match="No space left.*not survive a restart"):
        clock.start()
    computer.pass_time(60)
    assert clock.running and clock.minute() == pytest.approx(1)
    monkeypatch.undo()
    clock.go_at(2)
    assert on_disk(tmp_path)["speed"] == 2, "the next change saves all"


# ---------------------------------------------------------------- what is done to it


def test_start_does_not_lose_a_running_clock_and_stop_can_be_taken_back(computer, tmp_path):
    clock = computer.clock(tmp_path)
    clock.start()
    computer.pass_time(60)
    with pytest.raises(Problem, match="running, at 1:00 min"):
        clock.start()
    with pytest.raises(Problem, match="Stop it first"):
        clock.reset()
    clock.stop()
    computer.pass_time(60)
    assert clock.minute() == pytest.approx(1)
    assert "taken back" in clock.undo()
    assert clock.minute() == pytest.approx(2)
    clock.stop()
    clock.reset(Recipe("model plaster", 0.5))
    assert not clock.started and clock.minute() == 0 and clock.recipe.powder == "model plaster"
    for wrong in (clock.stop, clock.undo, clock.gloss_lost):
        with pytest.raises(Problem):
            wrong()
    with pytest.raises(Problem, match="1, 2, 5, 10, 30"):
        clock.go_at(3)


def test_the_gloss_re_times_what_follows_and_undo_takes_it_back(computer, tmp_path):
    clock = computer.clock(tmp_path)
    clock.start()
    before = clock.phases()
    predicted = Mix(STONE).gloss_loss_min.value
    computer.pass_time(60 * 0.8 * predicted)
    clock.gloss_lost()
    after = {one.name: one for one in clock.phases()}
    for one in before:
        if one.name in ("Soak the powder", "Spatulate", "Fill the ring", "Lift the ring", "Pour and vibrate"):
            assert after[one.name] == one, "what is past stays"
        elif one.name in ("Light needle", "Heavy needle"):
            assert after[one.name].end_min == pytest.approx(0.8 * one.end_min)
            assert after[one.name].end_high_min == pytest.approx(0.8 * one.end_high_min)
    gloss = after["Wait for the gloss to go"]
    assert gloss.end_min == pytest.approx(0.8 * predicted) and gloss.standing == SEEN and gloss.end_low_min == gloss.end_high_min == gloss.end_min
    assert after["Leave it alone"].end_min == pytest.approx(0.8 * Mix(STONE).final_set_min.value + MARGIN_MIN)
    clock.undo()
    assert clock.phases() == before


def test_the_state_is_re_timed_by_the_same_law():
    predicted = float(Mix(STONE).gloss_loss_min.value)
    seen = 0.7 * predicted
    for share in (1.0, 1.5, 2.5):
        usual, now = state(STONE, share * predicted * (1 + 1e-9)), state(STONE, share * seen, seen)
        assert now.degree_of_hydration.value == pytest.approx(usual.degree_of_hydration.value, rel=1e-3)
        assert now.temperature_c.value == pytest.approx(usual.temperature_c.value, abs=0.05)
    assert state(STONE, seen, seen).consistency == "no longer a paste"


@pytest.mark.parametrize("minute, why", [(5 / 60, "before the mixing is over"), (4.0, "less than half"), (180.0, "more than twice")])
def test_nonsense_is_asked_about_and_can_be_insisted_on(computer, tmp_path, minute, why):
    clock = computer.clock(tmp_path)
    clock.start()
    computer.pass_time(60 * minute)
    with pytest.raises(Unlikely, match=why):
        clock.gloss_lost()
    assert clock.gloss_lost_min is None
    clock.gloss_lost(sure=True)
    assert clock.gloss_lost_min == pytest.approx(minute)
    assert_in_order(clock.phases())


def test_the_plausible_range_is_never_asked_about():
    for powder in POWDERS.values():
        gloss = Mix(Recipe(powder.name, powder.recommended_ratio.value)).gloss_loss_min
        assert bench_clock.UNLIKELY[0] * gloss.value < gloss.low and gloss.high < bench_clock.UNLIKELY[1] * gloss.value


def test_a_mix_that_does_not_set_cannot_be_re_timed_and_keeps_its_clock(computer, tmp_path):
    clock = computer.clock(tmp_path, Recipe("dental stone", 0.30, water_temperature_c=98, room_temperature_c=98))
    clock.start()
    computer.pass_time(600)
    with pytest.raises(Problem, match="nothing to re-time.*10:00"):
        clock.gloss_lost()
    assert clock.phase().name == "Pour and vibrate" and "does not set" in left_out(clock.recipe)


# ---------------------------------------------------------------- phases


def assert_in_order(every):
    assert every[0].begin_min == 0 and math.isinf(every[-1].end_min)
    for earlier, following in zip(every, every[1:]):
        assert earlier.end_min == following.begin_min > earlier.begin_min
    for one in every:
        assert one.do and one.look and one.end_low_min <= one.end_min <= one.end_high_min and one.begin_min <= one.end_low_min


RECIPES = [Recipe(name, powder.recommended_ratio.value * share, mixing=mixing, water_temperature_c=water, **added)
           for (name, powder), share, mixing, water, added in itertools.product(
               POWDERS.items(), (0.95, 1.05), MIXING_METHODS, (5, 23, 40), ({}, {"additive": "potassium sulfate", "additive_percent": 3.0},
                                                                           {"additive": "borax", "additive_percent": 0.8}))]


def test_phases_follow_one_another_without_gap_or_overlap_for_every_recipe_and_every_gloss():
    for recipe in RECIPES:
        every = phases(recipe)
        assert_in_order(every)
        names = [one.name for one in every]
        assert names == sorted(names, key=ORDER.index)
        if "Pour and vibrate" not in names:
            assert "no longer pours" in left_out(recipe)
    for recipe in RECIPES[::17]:
        for seen in (0.05, 1.0, 3.0, 12.0, 200.0):
            assert_in_order(phases(recipe, seen))


ORDER = ["Soak the powder", "Spatulate", "Mix by machine", "Fill the ring", "Lift the ring", "Pour and vibrate", "Wait for the gloss to go", "Light needle",
         "Heavy needle", "Leave it alone", "Separate"]


def ends(recipe):
    return {one.name: one.end_min for one in phases(recipe)}


@pytest.mark.parametrize("powder", POWDERS)
def test_moments_are_those_of_the_library(powder):
    recipe = Recipe(powder, POWDERS[powder].recommended_ratio.value)
    mix, end = Mix(recipe), ends(recipe)
    assert end["Pour and vibrate"] == mix.working_time_min.value and end["Wait for the gloss to go"] == mix.gloss_loss_min.value
    assert end["Light needle"] == mix.light_needle_min.value and end["Heavy needle"] == mix.final_set_min.value
    assert next(one.begin_min for one in phases(recipe) if one.name == "Lift the ring") == POWDERS[powder].standard_time_min


def test_the_ring_is_lifted_at_two_minutes_and_of_impression_plaster_at_one_minute_fifteen():
    # common practice, no source; 1 min 15 s: the fluidity of type 1 [iso_6873]
    lifted = {powder: next(one.begin_min for one in phases(Recipe(powder, POWDERS[powder].recommended_ratio.value)) if one.name == "Lift the ring")
              for powder in ("impression plaster", "model plaster", "dental stone", "improved stone")}
    assert lifted == {"impression plaster": 1.25, "model plaster": 2.0, "dental stone": 2.0, "improved stone": 2.0}


def test_phases_follow_accelerator_retarder_temperature_and_mixing():
    usual = ends(STONE)
    faster = ends(Recipe("dental stone", 0.30, additive="potassium sulfate", additive_percent=1.0))
    slower = ends(Recipe("dental stone", 0.30, additive="borax", additive_percent=0.5))
    cold = ends(Recipe("dental stone", 0.30, water_temperature_c=5, room_temperature_c=10))
    machine = ends(Recipe("dental stone", 0.30, mixing="machine under vacuum"))
    few = ends(Recipe("dental stone", 0.30, turns=60))
    for name in ("Wait for the gloss to go", "Light needle", "Heavy needle", "Leave it alone"):
        assert faster[name] < usual[name] < slower[name] and usual[name] < cold[name] and machine[name] < usual[name] < few[name]
    assert faster["Spatulate"] == usual["Spatulate"] and few["Spatulate"] < usual["Spatulate"] and machine["Mix by machine"] < usual["Spatulate"]


def test_a_hot_mass_is_warned_of_and_none_may_hold_a_hand():
    every = {one.name: one for one in phases(Recipe("improved stone", 0.23, powder_g=1000))}
    assert "do not touch" in every["Leave it alone"].caution
    for name in ("Wait for the gloss to go", "Light needle", "Heavy needle", "Leave it alone"):
        assert "no finger, hand or any part of the body" in every[name].caution


def test_the_state_is_that_of_the_time_line():
    line = Mix(STONE).timeline([4.0])
    now = state(STONE, 4.0)
    assert now.yield_stress_pa.value == line["yield_stress_pa"].value[0] and now.degree_of_hydration.low == line["degree_of_hydration"].low[0]
    assert [state(STONE, minute).consistency for minute in (0.2, 1.0, 6.0, 11.0)] == ["powder and water, not yet a paste", "pours", "too stiff to pour", "no longer a paste"]
