"""The bench clock on the page: its buttons, what it says, its tick, and the time in what is sent."""

import json
import re

import pytest

from gypsumkit.bench import bench_clock
from gypsumkit.bench.bench_clock import FILE, SPEEDS
from gypsumkit.bench.mix_phases import phases
from gypsumkit.figures.running_digits import STEP_S
from gypsumkit.live.panels import panel_class
from gypsumkit.live.panels.clock_panel import AHEAD_S, ClockPanel
from tests.figures.test_running_digits import seen_after


class World:
    """Wall clock, steady clock and event loop in one, moved by the test."""

    def __init__(self):
        self.now, self.waiting = 1_800_000_000.0, []

    def call_later(self, seconds, method):
        handle = Handle(self, self.now + seconds, method)
        self.waiting.append(handle)
        return handle

    def pass_time(self, seconds, free=True):
        """Let time go by; a kernel that is busy meanwhile does what waits afterwards."""
        end = self.now + seconds
        if not free:
            self.now = end
        while self.waiting and min(one.at for one in self.waiting) <= end:
            first = min(self.waiting, key=lambda one: one.at)
            self.now = max(self.now, first.at)
            self.waiting.remove(first)
            first.method()
        self.now = end


class Handle:
    def __init__(self, world, at, method):
        self.world, self.at, self.method = world, at, method

    def cancel(self):
        if self in self.world.waiting:
            self.world.waiting.remove(self)


@pytest.fixture
def world():
    return World()


@pytest.fixture
def panel(world, tmp_path):
    return make(world, tmp_path)


def make(world, folder, **rest):
    return ClockPanel(folder=folder, now=lambda: world.now, steady=lambda: world.now, loop=world, **rest)


def on_page(panel):
    """All text of the page without tags."""
    areas = (panel.message, panel.doing, panel.left, panel.mix_now)
    return re.sub(r"<[^>]+>", " ", " ".join(area.get_state("value")["value"] for area in areas))


def digits(panel):
    return seen_after(panel.digits.get_state("value")["value"], 0.0)


def test_it_is_found_by_its_name():
    assert panel_class("bench clock") is ClockPanel


def test_before_the_start_it_stands_says_what_will_be_done_and_its_words_hold_no_time(panel, world, tmp_path):
    before = panel.words()
    assert "has not been started" in before and "Lift the ring" in before and "For teaching only" in before
    assert digits(panel) == "00:00" and world.waiting == [] and "Ready" in on_page(panel)
    world.pass_time(1000)
    other = make(world, tmp_path / "elsewhere")
    assert panel.words() == other.words() == before
    assert not (tmp_path / FILE).exists(), "nothing is written before the start"
    assert panel.picture_png().startswith(b"\x89PNG")


def test_start_counts_and_the_page_follows_the_phases(panel, world):
    panel.speed.value = 10
    panel.start_button.click()
    assert panel.errors == []
    seen = []
    for _ in range(50 * 6):
        world.pass_time(1.0)
        name = re.search(r"Now: ([^<]+)<", panel.doing.value).group(1)
        if not seen or seen[-1] != name:
            seen.append(name)
    assert seen == [one.name for one in phases(panel.clock.recipe)]
    assert panel.errors == [] and len(world.waiting) == 1


def test_the_phase_changes_when_it_is_time(panel, world):
    panel.start_button.click()
    for one in phases(panel.clock.recipe)[:-1]:
        world.pass_time(60 * one.end_min - (world.now - panel.clock.started_at) - 0.05)
        assert f"Now: {one.name}<" in panel.doing.value
        world.pass_time(0.15)
        assert f"Now: {one.name}<" not in panel.doing.value


@pytest.mark.parametrize("speed", SPEEDS)
def test_digits_are_sent_between_two_changes_so_that_none_jumps_back(world, tmp_path, speed, monkeypatch):
    panel = make(world, tmp_path, speed=speed)
    panel.start_button.click()
    sent = []
    monkeypatch.setattr(panel.digits, "send_now", lambda: sent.append(60 * panel.clock.minute() / speed))
    world.pass_time(60)
    step = STEP_S[speed] / speed
    assert len(sent) > 30
    assert all(min(moment % step, step - moment % step) > 0.1 for moment in sent)


@pytest.mark.parametrize("speed", SPEEDS)
def test_what_is_sent_is_less_than_a_fifth_of_a_second_off_over_an_hour(world, tmp_path, speed):
    panel = make(world, tmp_path, speed=speed)
    panel.start_button.click()
    began = world.now
    sent = {"at": world.now, "svg": panel.digits.get_state("value")["value"]}
    for turn in range(24):
        world.pass_time(149.93 if turn % 2 else 151.07, free=turn % 8 == 0)
        if world.now - began > 3600 or 60 * panel.clock.minute() > 11 * 3600:
            break
        sent = {"at": world.now, "svg": panel.digits.get_state("value")["value"]}
        for later in (0.0, 0.4, 7.3):
            true = (world.now - began + later) * speed
            shown = seen_after(sent["svg"], later)
            minutes, seconds = map(int, shown.split(":"))
            # The reading is the last whole step; it may be off by 0.2 s of true time.
            assert true - STEP_S[speed] - 0.2 * speed <= 60 * minutes + seconds <= true + 0.2 * speed


def test_a_page_that_is_reloaded_gets_the_time_of_that_moment_even_if_nothing_was_sent_since(panel, world):
    panel.start_button.click()
    world.now += 185.5                                # the kernel was busy: no tick
    state = panel.digits.get_state()
    assert seen_after(state["value"], 0.0) == "03:05"
    assert "Next in" in panel.left.get_state()["value"]


def test_after_a_restart_of_the_kernel_a_new_panel_goes_on(panel, world, tmp_path):
    panel.start_button.click()
    world.pass_time(200)
    panel.close()
    world.pass_time(41.4)
    again = make(world, tmp_path, powder="dental stone")
    assert digits(again) == "04:01" and again.clock.recipe == panel.clock.recipe
    assert again.powder.value == "model plaster" and again.ratio.value == pytest.approx(0.5)
    assert "Now: Wait for the gloss to go" in again.doing.value and len(world.waiting) == 1
    assert again.message.value == "" and again.errors == []


def test_the_tick_never_piles_up_and_ends_with_the_clock_and_the_block(panel, world):
    panel.start_button.click()
    for _ in range(5):
        panel.show_all()
        panel.start_button.click()
        assert len(world.waiting) == 1
    world.pass_time(120, free=False)
    assert len(world.waiting) == 1
    panel.stop_button.click()
    assert world.waiting == []
    panel.undo_button.click()
    assert len(world.waiting) == 1
    panel.close()
    assert world.waiting == []


def test_a_second_panel_takes_over_and_the_first_one_says_so_and_can_come_back(panel, world, tmp_path):
    panel.start_button.click()
    second = make(world, tmp_path)
    assert second.clock.running and len(world.waiting) == 1
    assert "followed by the panel" in on_page(panel)
    world.pass_time(8 * 60)
    panel.gloss_button.click()
    assert panel.clock.gloss_lost_min == pytest.approx(8) and len(world.waiting) == 1
    assert panel.message.value == "" and "followed by" in on_page(second)


def test_gloss_lost_is_shown_re_timed_and_undone(panel, world):
    panel.start_button.click()
    world.pass_time(9 * 60)
    panel.gloss_button.click()
    assert "Now: Light needle" in panel.doing.value and "Gloss lost at 9:00 min" in on_page(panel) and "law of ours" in on_page(panel)
    assert "no longer a paste" in on_page(panel) and "diamond" not in panel.words()
    panel.undo_button.click()
    assert "Now: Wait for the gloss to go" in panel.doing.value and "is taken back" in on_page(panel)


def test_unlikely_gloss_is_asked_about_and_both_answers_work(panel, world):
    panel.start_button.click()
    world.pass_time(5)
    panel.gloss_button.click()
    assert panel.asking.layout.display == "" and "before the mixing is over" in on_page(panel)
    panel.no_button.click()
    assert panel.asking.layout.display == "none" and panel.clock.gloss_lost_min is None
    panel.gloss_button.click()
    panel.yes_button.click()
    assert panel.asking.layout.display == "none" and panel.clock.gloss_lost_min is not None and panel.errors == []


def test_nothing_pressed_out_of_turn_loses_anything(panel, world):
    for press in (panel.gloss_button, panel.undo_button, panel.stop_button, panel.reset_button):
        press.click()
    assert panel.errors == [] and not panel.clock.running
    panel.start_button.click()
    world.pass_time(30)
    began = panel.clock.started_at
    panel.start_button.click()
    assert "is running" in on_page(panel)
    panel.reset_button.click()
    assert "Stop it first" in on_page(panel) and panel.clock.started_at == began
    panel.stop_button.click()
    panel.speed.value = 5
    assert panel.speed.value == 1 and "is stopped" in on_page(panel)
    panel.reset_button.click()
    assert digits(panel) == "00:00" and panel.making.layout.display == "" and panel.errors == []


def test_speed_is_for_a_rehearsal_and_says_so(panel, world):
    panel.start_button.click()
    world.pass_time(60)
    panel.speed.value = 10
    assert "Rehearsal: 10 times as fast as true time, its seconds in steps of 10" in re.sub(r"<[^>]+>", "", panel.doing.value)
    world.pass_time(30)
    assert panel.clock.minute() == pytest.approx(6) and digits(panel) == "06:00"


def test_the_recipe_is_chosen_before_the_start_and_the_phases_follow(panel, world, tmp_path):
    before = panel.words()
    panel.powder.value = "improved stone"
    assert panel.ratio.value == pytest.approx(0.23) and "is recommended for improved stone" in on_page(panel)
    panel.mixing.value = "machine under vacuum"
    panel.water.typed.value = "12 °C"
    assert panel.clock.recipe.water_temperature_c == 12 and "Mix by machine" in panel.words() and panel.words() != before
    panel.ratio.typed.value = "24 mL per 100 g"
    assert panel.clock.recipe.water_powder_ratio == pytest.approx(0.24)
    panel.water.typed.value = "warm"
    assert "cannot be read" in on_page(panel) and panel.clock.recipe.water_temperature_c == 12
    panel.start_button.click()
    assert panel.making.layout.display == "none"
    assert json.loads((tmp_path / FILE).read_text("utf-8"))["recipe"]["mixing"] == "machine under vacuum"


def test_other_conditions_are_kept(world, tmp_path):
    panel = make(world, tmp_path, powder="dental stone", additive="potassium sulfate", additive_percent=1.0, turns=100)
    assert "1 % potassium sulfate" in panel.words() and "100 turns" in panel.words()
    panel.mixing.value = "machine under vacuum"
    assert panel.clock.recipe.turns is None and panel.errors == [] and panel.message.value == ""


def test_a_full_disk_is_told_and_the_clock_runs(panel, world, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")
    monkeypatch.setattr(bench_clock, "write_whole", full)
    panel.start_button.click()
    assert "will not survive a restart" in on_page(panel) and panel.clock.running and len(world.waiting) == 1
    world.pass_time(10)
    assert "will not survive a restart" in on_page(panel), "the tick does not wipe the message away"


def test_a_damaged_file_is_told_on_the_page(world, tmp_path):
    (tmp_path / FILE).write_text("{", encoding="utf-8")
    panel = make(world, tmp_path)
    assert "set aside as" in on_page(panel) and panel.errors == []


def test_every_string_is_escaped_and_every_control_has_a_name(panel, world):
    panel.start_button.click()
    for press in (panel.start_button, panel.gloss_button, panel.undo_button, panel.stop_button, panel.reset_button, panel.yes_button, panel.no_button):
        assert press.description and press.tooltip
    assert panel.speed.description == "Speed" and AHEAD_S < 0.2


def test_a_fault_in_the_tick_is_told_and_the_tick_goes_on(panel, world, monkeypatch):
    panel.start_button.click()
    monkeypatch.setattr(panel, "show_time", lambda *_, **__: 1 / 0)
    world.pass_time(3)
    assert "ZeroDivisionError" in on_page(panel) and panel.errors and len(world.waiting) == 1
