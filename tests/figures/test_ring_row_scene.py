"""Rings side by side: labels, words, and a film that stays close to every computed run; bars of hands."""

import numpy as np
import pytest

from gypsumkit.figures.hands_scene import hands_scene
from gypsumkit.figures.ring_motion_scene import CLOSE_MM, SLOWED_DOWN
from gypsumkit.figures.ring_row_scene import HALF_MM, ring_row_film, ring_row_scene
from gypsumkit.figures.scene import Polygon, Text
from gypsumkit.studies.recipe_list import read_recipes
from gypsumkit.studies.ring_row import RingRow

FIVE = "42, 50, 55, 63 of model plaster; 30 of dental stone"


def _texts(picture):
    return [mark.string for panel in picture.panels for mark in (*panel.backdrop, *panel.moving) if isinstance(mark, Text)]


@pytest.fixture
def row():
    return RingRow(read_recipes(FIVE, 6))


def test_each_cylinder_is_labelled_by_its_recipe(row):
    pictures = ring_row_scene(row).pictures
    assert [(_texts(picture)[0], _texts(picture)[1]) for picture in pictures] == [
        ("42 mL", "model plaster"), ("50 mL", "model plaster"), ("55 mL", "model plaster"), ("63 mL", "model plaster"), ("30 mL", "dental stone")]
    assert {_texts(picture)[2] for picture in pictures} == {"35"}


@pytest.mark.parametrize("shaken", [False, True])
def test_between_its_scenes_the_film_is_close_to_every_computed_run(row, shaken):
    row.switch(True) if shaken else None
    row.lift()
    film = ring_row_film(row)
    at = np.array(film.seconds) / SLOWED_DOWN + row.begun_s
    for number, test in enumerate(row.tests):
        drawn = [0.5 * np.ptp(scene.pictures[number].panels[1].moving[0].x) for scene in film.scenes]
        moments = np.linspace(at[0], at[-1], 400)
        computed = [0.5 * test.mix.ring_mm[0] * test.run.at(moment).spread_ratio for moment in moments]
        assert np.abs(np.interp(moments, at, drawn) - computed).max() < CLOSE_MM + 0.02
    assert {test.mix.ring_mm for test in row.tests} == {(35.0, 50.0)}


def test_a_mix_wider_than_its_picture_is_said_to_be():
    row = RingRow(read_recipes("42, 80 of model plaster", 6))
    row.lift()
    row.switch(True)
    stands, runs = (_texts(picture) for picture in ring_row_scene(row, 60.0).pictures)
    assert row.tests[1].end_mm()[0] > 2 * HALF_MM
    assert "wider than drawn" in runs and "wider than drawn" not in stands


def test_the_words_say_where_each_goes(row):
    assert "From left to right: 42 mL, model plaster;" in ring_row_scene(row).words
    row.lift()
    assert "63 mL, model plaster: to 71.7 mm" in ring_row_scene(row).words


def test_bars_are_as_high_as_the_hands_and_the_right_one_is_named_only_when_told():
    scene = hands_scene("ABC", {"A": 12, "B": 7, "C": 3}, {}, "words")
    bars = [mark for mark in scene.pictures[0].panels[0].moving if isinstance(mark, Polygon)]
    assert [max(bar.y) for bar in bars] == [12, 7, 3]
    assert scene.pictures[0].panels[0].x_ticks == ((0, "A"), (1, "B"), (2, "C"))
    told = hands_scene("ABC", {"A": 12, "B": 7, "C": 3}, {"A": 0, "B": 22, "C": 0}, "words", "B", (("gain", "1.00"),))
    assert told.pictures[0].panels[0].x_ticks[1] == (1, "B: right") and told.numbers.rows == (("gain", "1.00"),)
