"""The main picture says what the model says: markers, outline, vessel, words."""

import numpy as np
import pytest

from gypsumkit import Mix, Recipe
from gypsumkit.figures.scene import Line, Marker, Polygon, Rule, Text, still_part
from gypsumkit.figures.water_scene import water_scene
from gypsumkit.science.hydration import THEORETICAL_WATER_G_PER_G


def scene_of(powder="model plaster", ratio=0.55, vibrated=False, pins=()):
    mix = Mix(Recipe(powder, ratio))
    return mix, water_scene(mix, vibrated, pins)


def panel(scene, picture, name):
    return next(p for pic in scene.pictures if pic.name == picture for p in pic.panels if p.name == name)


@pytest.mark.parametrize("powder, ratio", [("model plaster", 0.55), ("improved stone", 0.23), ("impression plaster", 0.6)])
@pytest.mark.parametrize("vibrated", [False, True])
def test_markers_stand_on_the_model(powder, ratio, vibrated):
    mix, scene = scene_of(powder, ratio, vibrated)
    expected = {"spread": (mix.vibrated_spread_mm if vibrated else mix.spread_mm).value, "porosity": 100 * mix.porosity.value,
                "strength": mix.wet_strength_mpa.value}
    for picture, name in (("flow", "spread"), ("porosity", "porosity"), ("strength", "strength")):
        marker = next(m for m in panel(scene, picture, name).moving if isinstance(m, Marker))
        assert (marker.x, marker.y) == (ratio, pytest.approx(expected[name], rel=1e-12))


@pytest.mark.parametrize("ratio", [0.45, 0.50, 0.55, 0.63, 0.70])
def test_the_marker_lies_on_the_drawn_curve(ratio):
    mix, scene = scene_of(ratio=ratio)
    curve = next(m for m in panel(scene, "flow", "spread").backdrop if isinstance(m, Line) and m.label == "still")
    assert np.interp(ratio, curve.x, curve.y) == pytest.approx(mix.spread_mm.value, abs=0.4)      # 160 mm high: under 1 px


def test_section_is_as_wide_as_the_spread_and_vessels_are_full():
    mix, scene = scene_of()
    heap = next(m for m in panel(scene, "flow", "section").moving if isinstance(m, Polygon))
    assert heap.x.max() - heap.x.min() == pytest.approx(mix.spread_mm.value, rel=1e-3)
    layers = [m for m in panel(scene, "porosity", "vessel").moving if isinstance(m, Polygon)]
    for left in (0, 50):
        heights = [m.y.max() - m.y.min() for m in layers if m.x.min() == left]
        assert sum(heights) == pytest.approx(100.0)


def test_theoretical_water_and_the_pourable_range_are_marked():
    _, scene = scene_of()
    backdrop = panel(scene, "porosity", "porosity").backdrop
    assert any(isinstance(m, Rule) and m.x == THEORETICAL_WATER_G_PER_G and m.label for m in backdrop)
    assert any(getattr(m, "label", "") == "pours" for m in backdrop)


def test_a_slider_move_redraws_no_page():
    (_, before), (_, after) = scene_of(ratio=0.50), scene_of(ratio=0.51)
    assert [still_part(p) for p in before.pictures] == [still_part(p) for p in after.pictures]


def test_words_and_alternative_texts_follow():
    mix, scene = scene_of()
    assert "55 mL of water per 100 g" in scene.words and "it pours" in scene.words
    assert all(picture.words for picture in scene.pictures)
    _, other = scene_of(ratio=0.63)
    assert "runny" in other.words and other.pictures[0].words != scene.pictures[0].words


def test_pins_are_named_in_picture_table_and_words():
    pins = [Mix(Recipe("dental stone", 0.30)), Mix(Recipe("improved stone", 0.23))]
    _, scene = scene_of(pins=pins)
    assert scene.numbers.heads[-2:] == ("pinned A", "pinned B")
    assert "Pinned A: Dental stone" in scene.words and "Pinned B: Improved stone" in scene.words
    names = [m.string for m in panel(scene, "strength", "strength").moving if isinstance(m, Text)]
    assert {"A", "B"} <= set(names)


def test_what_is_outside_its_range_is_said_in_the_words():
    _, scene = scene_of("improved stone", 0.50)
    assert "Outside its range" in scene.words and any("extrapolated" in row[2] for row in scene.numbers.rows)


@pytest.mark.parametrize("vibrated", [False, True])
def test_what_runs_further_than_the_picture_stays_inside_it(vibrated):
    wet = Mix(Recipe("model plaster", 0.825))
    for scene in (water_scene(wet, vibrated), water_scene(Mix(Recipe("model plaster", 0.50)), vibrated, [wet])):
        for name in ("spread", "section"):
            this = panel(scene, "flow", name)
            for mark in this.moving:
                if isinstance(mark, (Marker, Polygon, Text)):
                    assert np.min(mark.y) >= this.y_range[0] and np.max(mark.y) <= this.y_range[1], mark
                    assert np.min(mark.x) >= this.x_range[0] and np.max(mark.x) <= this.x_range[1], mark
    arrow = next(m for m in panel(water_scene(wet, vibrated), "flow", "spread").moving if isinstance(m, Marker))
    assert arrow.shape == "triangle" and any(m.string.startswith(f"{(wet.vibrated_spread_mm if vibrated else wet.spread_mm).value:.0f} mm")
                                             for m in panel(water_scene(wet, vibrated), "flow", "spread").moving if isinstance(m, Text))
