"""The time line of the bench clock: what stands still, what moves, and what it says."""

import math

import pytest

from gypsumkit.bench.bench_clock import BenchClock
from gypsumkit.bench.mix_phases import SEEN, phases
from gypsumkit.figures.bench_clock_scene import LOOKS, about, bench_clock_scene, phase_table
from gypsumkit.figures.matplotlib_renderer import static_png
from gypsumkit.figures.placing import places
from gypsumkit.figures.scene import Polygon, Rule, Text, still_part
from gypsumkit.mix import Mix
from gypsumkit.powders import MIXING_METHODS, POWDERS
from gypsumkit.recipe import Recipe

STONE = Recipe("dental stone", 0.30)
EVERY = [Recipe(name, powder.recommended_ratio.value, mixing=mixing) for name, powder in POWDERS.items() for mixing in MIXING_METHODS]
ODD = [Recipe("impression plaster", 0.6, additive="potassium sulfate", additive_percent=4), Recipe("dental stone", 0.3, turns=300),
       Recipe("dental stone", 0.3, water_temperature_c=98, room_temperature_c=98)]


def panels(recipe, minute=0.0, gloss=None):
    return bench_clock_scene(recipe, minute, gloss).pictures[0].panels


@pytest.mark.parametrize("recipe", EVERY + ODD, ids=str)
def test_every_phase_has_one_bar_where_it_is_and_its_name(recipe):
    bars = [mark for panel in panels(recipe) for mark in panel.backdrop if isinstance(mark, Polygon)]
    names = [mark.string for panel in panels(recipe) for mark in panel.backdrop if isinstance(mark, Text)]
    every = phases(recipe)
    assert names == [one.name for one in every] and len(bars) == len(every)
    for bar, one in zip(bars, every):
        assert bar.x.min() == pytest.approx(one.begin_min)
        assert bar.x.max() == pytest.approx(one.end_min) or math.isinf(one.end_min)
        assert bar.x.max() > bar.x.min()


@pytest.mark.parametrize("recipe", EVERY, ids=str)
def test_neighbours_differ_in_colour_and_in_pattern_and_each_name_stays_in_the_picture(recipe):
    for panel, place in zip(panels(recipe), places(bench_clock_scene(recipe).pictures[0])):
        bars = [mark for mark in panel.backdrop if isinstance(mark, Polygon)]
        for above, below in zip(bars, bars[1:]):
            assert above.fill != below.fill and above.hatch != below.hatch
        for text in (mark for mark in panel.backdrop if isinstance(mark, Text)):
            x, wide = place.across(text.x) + text.right, 0.62 * text.size * len(text.string)     # a letter of this font is at most so wide, on average
            assert (x if text.anchor == "start" else x - wide) >= 0 and (x + wide if text.anchor == "start" else x) <= 560


def test_only_the_marker_moves():
    first, later = (bench_clock_scene(STONE, minute).pictures[0] for minute in (1.0, 2.5))
    assert still_part(first) == still_part(later)
    assert [mark.x for mark in first.panels[0].moving if isinstance(mark, Rule)] == [1.0]
    assert [mark.x for mark in later.panels[0].moving if isinstance(mark, Rule)] == [2.5]
    assert bench_clock_scene(STONE, 20.0).pictures[0].panels[0].moving == () and bench_clock_scene(STONE, 20.0).pictures[0].panels[1].moving


def test_gloss_that_was_seen_moves_what_follows_and_is_called_measured():
    gloss = 0.8 * float(Mix(STONE).gloss_loss_min.value)
    before, after = phase_table(STONE), phase_table(STONE, gloss)
    row = next(row for row in after.rows if row[0] == "Wait for the gloss to go")
    assert row[2] == about(gloss) and row[3] == "" and row[-1] == SEEN
    assert before.rows[:5] == after.rows[:5] and before.rows[6] != after.rows[6]
    assert "law of ours" in bench_clock_scene(STONE, 9.0, gloss).words


def test_moments_are_said_as_precisely_as_they_are_worth():
    assert [about(minute) for minute in (0.5, 1.25, 3.816, 9.999, 13.004, 30.2, math.inf)] == ["0:30", "1:15", "3:50", "10:00", "13:00", "30:00", ""]


def test_no_moment_of_a_usual_mix_lies_on_the_edge_of_its_rounding():
    for recipe in EVERY:
        for one in phases(recipe)[:-1]:
            for minute in {one.end_min, one.end_low_min, one.end_high_min}:
                assert about(minute * (1 - 1e-7)) == about(minute * (1 + 1e-7)), (recipe, one.name)


def test_the_words_follow_the_clock_and_the_picture_can_be_stored(tmp_path):
    picture = bench_clock_scene(STONE, 1.0).pictures[0]
    assert "The clock stands at 1:00 min" in picture.words and "then separate" in picture.words
    assert static_png(bench_clock_scene(STONE)).startswith(b"\x89PNG")
    assert set(LOOKS) >= {one.name for recipe in EVERY + ODD for one in phases(recipe)}
    assert BenchClock(STONE, tmp_path).phase(1.0).name == "Spatulate"
