"""The ring scene: what is drawn is what is predicted, in every ring, at every moment, for every powder."""

import numpy as np
import pytest

from gypsumkit.figures.matplotlib_renderer import static_png
from gypsumkit.figures.ring_scene import RINGS, five_ratios, ring_of, ring_scene
from gypsumkit.figures.scene import Marker, Polygon, Text
from gypsumkit.mix import Mix, consistency, predict
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe

STANDARD, SMALL, TALL = RINGS


def scene_of(powder="model plaster", ratio=0.5, ring=STANDARD, time_min=None, vibrated=False, pins=()):
    return ring_scene(Mix(Recipe(powder, ratio), time_min, RINGS[ring].size_mm), vibrated, pins)


def marks_of(scene, picture, panel):
    return next(p for each in scene.pictures if each.name == picture for p in each.panels if p.name == panel).moving


@pytest.mark.parametrize("powder", POWDERS)
def test_the_five_mixes_go_from_too_stiff_over_three_that_pour_to_runny(powder):
    stress = predict(powder, five_ratios(powder))["yield_stress_pa"].value
    assert [consistency(one) for one in stress] == ["too stiff to pour", "pours", "pours", "pours", "runny"]
    assert np.all(np.diff(stress) < 0)


def test_the_five_mixes_of_plaster_are_those_of_the_trade():
    assert five_ratios("model plaster") == (0.42, 0.46, 0.50, 0.55, 0.63)


@pytest.mark.parametrize("ring", RINGS)
@pytest.mark.parametrize("vibrated", [False, True])
def test_the_drawn_heaps_are_as_wide_as_predicted_and_hold_the_volume_of_the_ring(ring, vibrated):
    scene = scene_of(ring=ring, vibrated=vibrated)
    size = RINGS[ring].size_mm
    name = "vibrated_spread_mm" if vibrated else "spread_mm"
    predicted = predict("model plaster", five_ratios("model plaster"), ring_mm=size)[name].value
    heaps = [mark for mark in marks_of(scene, "side", "side") if isinstance(mark, Polygon)]
    assert [np.ptp(heap.x) for heap in heaps] == pytest.approx(list(predicted), abs=0.02)
    own = next(mark for mark in marks_of(scene, "own", "section") if isinstance(mark, Polygon))
    half = own.x >= 0
    radius, height = own.x[half], own.y[half]
    volume = np.sum(np.diff(np.pi * radius**2) * 0.5 * (height[1:] + height[:-1]))
    assert volume == pytest.approx(np.pi * (0.5 * size[0])**2 * size[1], rel=0.04)      # drawn with few points


def test_the_circles_from_above_are_as_wide_as_the_heaps_or_say_that_they_are_not():
    scene = scene_of(ratio=0.63)
    circles = [mark for mark in marks_of(scene, "above", "above") if isinstance(mark, Polygon) and mark.edge == "vermillion"]
    predicted = [*predict("model plaster", five_ratios("model plaster"))["spread_mm"].value, Mix(Recipe("model plaster", 0.63)).spread_mm.value]
    assert [np.ptp(circle.x) for circle in circles] == pytest.approx(predicted, rel=1e-6)
    wide = marks_of(scene_of(ratio=0.75, vibrated=True), "above", "above")
    assert any(isinstance(mark, Text) and mark.string == "wider than drawn" for mark in wide)


def test_the_marker_lies_on_the_curve_and_the_squares_are_the_five():
    marks = marks_of(scene_of(ratio=0.58), "own", "curve")
    own = next(mark for mark in marks if isinstance(mark, Marker) and mark.shape == "circle")
    assert (own.x, own.y) == pytest.approx((0.58, Mix(Recipe("model plaster", 0.58)).spread_mm.value))
    assert sum(isinstance(mark, Marker) and mark.shape == "square" for mark in marks) == 5


def test_the_words_say_recipe_ring_moment_stresses_and_where_the_law_ends():
    words = scene_of("dental stone", 0.30, TALL, 3.0, True).words
    for said in ("Dental stone with 30 mL", "50 x 100 mm", "3 min", "on the vibrator", "Pressure at the foot", "Extrapolated", "times its ring"):
        assert said in words
    assert "Extrapolated" not in scene_of().words


def test_a_mix_that_is_no_longer_a_paste_stands_and_is_said_to():
    late = scene_of(ratio=0.40, time_min=9.0)
    assert late.numbers.rows[0][-1] == "no longer a paste"          # beside a spread of 35 mm "not predicted" would be untrue
    assert "begun to set" not in scene_of(ratio=0.32).words          # too dry is not too late
    assert "it stands as it was cast" in late.words and static_png(late).startswith(b"\x89PNG")


def test_pins_are_drawn_named_and_said():
    pinned = (Mix(Recipe("dental stone", 0.33), 2.0, RINGS[SMALL].size_mm), True)
    scene = scene_of(pins=[pinned])
    assert "Pinned A: Dental stone" in scene.words and any(row[0] == "pinned A" for row in scene.numbers.rows)
    assert any(isinstance(mark, Polygon) and mark.edge == "purple" for mark in marks_of(scene, "own", "section"))


def test_every_ring_powder_and_moment_can_be_drawn():
    for ring in RINGS:
        assert ring_of(RINGS[ring].size_mm).words == ring
        for powder, kind in POWDERS.items():
            for time_min in (0.5, kind.standard_time_min, 2.5):
                for ratio in (kind.least_ratio + 0.001, kind.most_ratio - 0.001):
                    assert scene_of(powder, ratio, ring, time_min, True).words


@pytest.mark.parametrize("ring", RINGS)
def test_what_runs_further_than_the_picture_stays_inside_it(ring):
    wet = Mix(Recipe("model plaster", 0.825), 2.0, RINGS[ring].size_mm)
    for scene in (ring_scene(wet, True), scene_of(ring=ring, time_min=2.0, pins=[(wet, True)])):
        for name in ("section", "curve"):
            this = next(p for p in scene.pictures[0].panels if p.name == name)
            for mark in this.moving:
                if isinstance(mark, (Marker, Polygon, Text)):
                    assert this.x_range[0] <= np.min(mark.x) and np.max(mark.x) <= this.x_range[1], mark
                    assert this.y_range[0] <= np.min(mark.y) and np.max(mark.y) <= this.y_range[1], mark
