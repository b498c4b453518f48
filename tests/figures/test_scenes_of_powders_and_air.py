"""The pictures of lessons 06 and 07 say what the model says, and a slider move redraws no page."""

import re


import numpy as np
import pytest

from gypsumkit.studies.comparison import INVENTED_PRICES, THREE, at_equal_consistency
from gypsumkit.figures.bubble_scene import Bubble, bubble_scene, duration
from gypsumkit.figures.circles import circles
from gypsumkit.figures.packing_scene import packing_scene, spread_circles
from gypsumkit.figures.powders_scene import powders_scene
from gypsumkit.figures.scene import Line, Marker, Polygon, Text, still_part
from gypsumkit.figures.voids_scene import voids_scene
from gypsumkit.studies.grains import packed_grains, water_shares
from gypsumkit.science import packing
from gypsumkit.studies.voids import HABITS, voids

HABIT = next(iter(HABITS))


def panel(scene, picture, name):
    return next(p for pic in scene.pictures if pic.name == picture for p in pic.panels if p.name == name)


def of_kind(panel, kind):
    return [mark for mark in panel.moving if isinstance(mark, kind)]


@pytest.mark.parametrize("before, after", [
    (powders_scene(70.0, 60.0, INVENTED_PRICES), powders_scene(72.0, 61.0, INVENTED_PRICES)),
    (packing_scene("model plaster", 0.50), packing_scene("model plaster", 0.55)),
    (bubble_scene(Bubble("model plaster", 0.5, True, 2.0, 15.0)), bubble_scene(Bubble("model plaster", 0.5, False, 0.5, 30.0))),
    (voids_scene("model plaster", 0.5, HABIT, 20.0, 0.0), voids_scene("model plaster", 0.5, HABIT, 10.0, 30.0)),
])
def test_a_slider_move_redraws_no_page(before, after):
    assert [still_part(p) for p in before.pictures] == [still_part(p) for p in after.pictures]
    assert before.words != after.words
    assert all(p.words for p in after.pictures)


def test_bars_are_as_high_as_the_numbers():
    scene, casts = powders_scene(83.0, 60.0, INVENTED_PRICES), at_equal_consistency(83.0, 60.0, INVENTED_PRICES)
    for picture, name, of in (("water", "water", lambda c: 100 * c.ratio), ("use", "strength", lambda c: c.predictions["wet_strength_mpa"].value),
                              ("price", "cost", lambda c: c.cost)):
        heights = [bar.y.max() for bar in of_kind(panel(scene, picture, name), Polygon)]
        assert heights == pytest.approx([of(cast) for cast in casts])
    worth = of_kind(panel(scene, "price", "worth"), Marker)
    assert [(m.x, m.y) for m in worth] == [(pytest.approx(c.cost), pytest.approx(c.predictions["wet_strength_mpa"].value)) for c in casts]


def test_every_bar_stays_inside_its_panel_at_both_ends():
    for spread in (65.0, 100.0):
        scene = powders_scene(spread, 300.0, dict.fromkeys(THREE, 100.0))
        for picture in scene.pictures:
            for one in picture.panels:
                assert all(bar.y.max() <= one.y_range[1] for bar in of_kind(one, Polygon)), one.name


def test_columns_of_water_add_up_to_the_water():
    for ratio in (0.35, 0.50, 0.60):
        bars = of_kind(panel(packing_scene("model plaster", ratio), "water", "water"), Polygon)
        assert bars[-1].y.max() == pytest.approx(100 * ratio)
        shares = water_shares("model plaster", ratio)
        assert [bar.y.max() - bar.y.min() for bar in bars] == pytest.approx([100 * share for share in shares if share > 0])


def test_a_void_that_is_not_full_is_said():
    scene = packing_scene("model plaster", 0.30)
    assert "are missing" in scene.words and "stays dry" in scene.pictures[0].words


def test_touching_grains_are_cut_as_the_packing_says_and_water_moves_them_apart():
    grains = packed_grains("improved stone")
    drawn, model = spread_circles(grains, 1.0, window=0.5, height=0.5), packing.slice_circles(grains, 0.5, window=0.5)
    # The drawn square is a little wider than the window, so every circle of the window is among those drawn.
    for x, y, r, _ in model:
        assert np.any(np.all(np.isclose(drawn[:, :3], [x, y, r], atol=1e-9), axis=1))
    areas = []
    for times in (1.0, 1.1, 1.3):
        found = [spread_circles(grains, times, window=0.5, height=height) for height in np.linspace(0.05, 0.95, 19)]
        areas.append(np.mean([np.sum(np.pi * one[:, 2] ** 2) for one in found]))
    assert areas[0] > areas[1] > areas[2]


def test_many_circles_are_two_marks_with_the_area_of_all():
    area, outline = circles([0.0, 5.0], [0.0, 1.0], [1.0, 2.0], "white", corners=64)
    x, y = area.x, area.y
    enclosed = 0.5 * abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))
    assert enclosed == pytest.approx(np.pi * (1 + 4), rel=0.01)
    assert isinstance(outline, Line) and np.isnan(outline.x).sum() == 2
    assert circles([], [], [], "white") == []


def test_a_held_bubble_is_said_to_be_held_and_a_rising_one_stands_on_its_curve():
    held = bubble_scene(Bubble("model plaster", 0.5, False, 5.0, 10.0))
    assert "is held" in held.words and "never" in held.pictures[1].words
    bubble = Bubble("model plaster", 0.5, True, 1.0, 20.0)
    time = panel(bubble_scene(bubble), "time", "time")
    curve, point = of_kind(time, Line)[0], of_kind(time, Marker)[0]
    assert 10 ** point.y == pytest.approx(bubble.seconds)
    assert np.interp(point.x, curve.x, curve.y) == pytest.approx(point.y, abs=1e-3)
    low, high = bubble.seconds_range
    assert low < bubble.seconds < high


def test_a_runny_mix_lets_a_wide_bubble_go_even_when_still():
    """Beyond what pours, the yield stress nearly vanishes: then a still mix no longer holds it."""
    assert Bubble("model plaster", 0.82, False, 5.0, 10.0).rises and not Bubble("model plaster", 0.55, False, 5.0, 10.0).rises


@pytest.mark.parametrize("seconds, said", [(0.25, "0.25 s"), (12.3, "12 s"), (150, "2.5 min"), (7200, "2.0 h"), (1e7, "days"), (np.inf, "never")])
def test_times_as_a_person_says_them(seconds, said):
    assert duration(seconds) == said


def test_the_portion_loses_bubbles_as_it_is_vibrated_and_its_numbers_are_the_model():
    counts = []
    for seconds in (0.0, 30.0, 120.0):
        scene = voids_scene("dental stone", 0.30, HABIT, 20.0, seconds)
        counts.append(int(re.search(r"(\d+) of \d+ bubbles", scene.pictures[0].words).group(1)))
        marker = of_kind(panel(scene, "air", "air"), Marker)[0]
        assert marker.y == pytest.approx(100 * float(voids("dental stone", 0.30, HABIT, 20.0, seconds).air_left))
    assert counts[0] > counts[1] > counts[2]


def test_half_of_what_sits_in_lumps_is_drawn_to_the_end():
    def left(habit):
        said = voids_scene("model plaster", 0.5, habit, 5.0, 120.0).pictures[0].panels[0].moving[-1].string
        some, all_ = (int(number) for number in re.findall(r"\d+", said))
        return some / all_
    assert left("water onto powder, stropped") == pytest.approx(0.5, abs=0.15) and left("powder into water, beaten") < 0.15


def test_pins_are_named():
    kept = [(80.0, 60.0, INVENTED_PRICES), (90.0, 60.0, INVENTED_PRICES)]
    assert powders_scene(70.0, 60.0, INVENTED_PRICES, kept).numbers.heads[-2:] == ("pinned A (in this order)", "pinned B (in this order)")
    assert bubble_scene(Bubble("model plaster", 0.5, True, 1, 20), [Bubble("model plaster", 0.5, False, 1, 20)]).numbers.heads[-1] == "pinned A"
    assert voids_scene("model plaster", 0.5, HABIT, 20, 0, [("model plaster", 0.5, HABIT, 20.0, 30.0)]).numbers.heads[-1] == "pinned A"


@pytest.mark.parametrize("ratio", [0.32, 0.42, 0.50, 0.80])
@pytest.mark.parametrize("diameter, depth", [(0.1, 60.0), (5.0, 2.0)])
def test_no_point_of_a_bubble_lies_outside_its_panel(ratio, diameter, depth):
    scene = bubble_scene(Bubble("model plaster", ratio, True, diameter, depth))
    for picture, name in (("time", "time"), ("smallest", "smallest")):
        one = panel(scene, picture, name)
        assert all(one.y_range[0] <= mark.y <= one.y_range[1] for mark in of_kind(one, Marker)), (picture, ratio)
    said = [mark.string for mark in of_kind(panel(scene, "time", "time"), Text)]
    seconds = Bubble("model plaster", ratio, True, diameter, depth).seconds
    assert ("this bubble: more than a day" in said) == (seconds > 1e5)
    assert ("this bubble: less than 0.1 s" in said) == (seconds < 0.1)
