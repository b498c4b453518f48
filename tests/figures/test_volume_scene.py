"""Where the water goes: everything drawn adds up, the three pictures agree, and drying takes weight and not size."""

import numpy as np
import pytest

from gypsumkit.figures.scene import Line, Marker, Polygon, Text
from gypsumkit.figures.volume_scene import Stage, volume_scene
from gypsumkit.mix import Mix
from gypsumkit.recipe import Recipe

RECIPES = [("model plaster", 0.50), ("model plaster", 0.80), ("dental stone", 0.30), ("improved stone", 0.23), ("impression plaster", 0.60)]


@pytest.mark.parametrize("powder, ratio", RECIPES)
@pytest.mark.parametrize("degree", [0.0, 0.4, 1.0])
def test_shares_fill_the_outer_volume(powder, ratio, degree):
    shares = Stage(powder, ratio, degree).shares
    assert sum(value for value, _, _ in shares.values()) == pytest.approx(100.0)
    assert all(low - 1e-9 <= value <= high + 1e-9 for value, low, high in shares.values())


@pytest.mark.parametrize("powder, ratio", RECIPES)
def test_set_and_dried_agrees_with_the_predictions_of_the_mix(powder, ratio):
    stage, mix = Stage(powder, ratio, 1.0, 1.0), Mix(Recipe(powder, ratio))
    solid = stage.shares["powder"][0] + stage.shares["crystals"][0]
    assert 100 - solid == pytest.approx(100 * mix.porosity.value)
    assert stage.density[0] == pytest.approx(mix.dry_density_g_cm3.value)
    assert stage.strength[0] == pytest.approx(mix.dry_strength_mpa.value)
    assert Stage(powder, ratio).strength[0] == pytest.approx(mix.wet_strength_mpa.value)
    assert 100 - stage.weight_left == pytest.approx(mix.free_water_percent.value)


def test_stacks_reach_the_top_and_the_marker_lies_on_the_drying_curve():
    scene = volume_scene(Stage("model plaster", 0.55, 1.0, 0.9))
    for picture in scene.pictures[:2]:
        areas = [mark for mark in picture.panels[0].moving if isinstance(mark, Polygon)]
        assert max(area.y.max() for area in areas) == pytest.approx(100.0, abs=0.01)
    strength = scene.pictures[2].panels[1].moving
    (curve,) = [mark for mark in strength if isinstance(mark, Line) and len(mark.x) > 2]
    (marker,) = [mark for mark in strength if isinstance(mark, Marker)]
    assert marker.y == pytest.approx(np.interp(marker.x, curve.x, curve.y), rel=0.02)


def test_drying_moves_water_to_empty_and_nothing_else():
    wet, half = Stage("model plaster", 0.50), Stage("model plaster", 0.50, 1.0, 0.5)
    assert wet.shares == half.shares and half.free_ml == pytest.approx(0.5 * wet.free_ml) and wet.bound_ml == half.bound_ml
    rows = {row[0]: row[1] for row in volume_scene(half).numbers.rows}
    assert rows["free water"] == rows["empty: left by drying"]


def test_what_cannot_set_or_is_still_setting_is_said():
    scene = volume_scene(Stage("improved stone", 0.155, 1.0))
    assert "There is water for only 83.3 % of the powder" in scene.words
    scene = volume_scene(Stage("model plaster", 0.50, 0.3))
    assert "no strength is predicted yet" in scene.words and "still setting" in scene.pictures[2].words


def test_fresh_mix_has_not_contracted():
    scene = volume_scene(Stage("model plaster", 0.50, 0.0))
    assert "Nothing has reacted yet." in scene.pictures[1].words
    assert Stage("model plaster", 0.50, 0.0).shares["voids"][0] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("powder, ratio", RECIPES)
def test_no_number_of_a_fresh_mix_is_a_remainder_of_the_arithmetic(powder, ratio):
    scene = volume_scene(Stage(powder, ratio, 0.0))
    rows = {row[0]: row[1:] for row in scene.numbers.rows}
    assert rows["empty: opened by the reaction"] == ("0 %", "") and " 0 % empty room that the reaction opened" in scene.words
    assert not any("-0" in text or "0000" in text for row in scene.numbers.rows for text in row)


def test_the_air_that_a_stiff_mix_traps_is_named_where_it_lies():
    def names(ratio):
        return [[mark.string for mark in picture.panels[0].moving if isinstance(mark, Text)] for picture in volume_scene(Stage("model plaster", ratio)).pictures[:2]]
    assert names(0.33)[0].count("air") == names(0.33)[1].count("air") == 1
    assert "air" not in names(0.50)[1] and "empty" in names(0.50)[1]


def test_missing_room_is_what_the_reaction_opens():
    stage = Stage("dental stone", 0.30, 0.7)
    reacted = 100 * 0.7 * (1 / 2.76 + 0.18618 / 0.99754)
    outer = 100 * (1 / 2.76 + 0.30 / 0.99754) / (1 - stage.shares["air"][0] / 100)
    by_hand = 1 - (1.18618 / 2.32) / (1 / 2.76 + 0.18618 / 0.99754)
    assert stage.shares["voids"][0] / 100 * outer / reacted == pytest.approx(by_hand, rel=1e-4)
    assert "6.9 %" in volume_scene(stage).pictures[1].words


def test_pins_stand_in_the_table_and_in_the_picture():
    scene = volume_scene(Stage("dental stone", 0.30), [Stage("model plaster", 0.50), Stage("improved stone", 0.23, 0.5)])
    assert scene.numbers.heads[-2:] == ("pinned A", "pinned B")
    assert sum(isinstance(mark, Marker) and mark.colour == "purple" for mark in scene.pictures[2].panels[0].moving) == 2
    assert sum(isinstance(mark, Marker) and mark.colour == "purple" for mark in scene.pictures[2].panels[1].moving) == 1
