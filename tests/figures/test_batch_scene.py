"""The picture of one batch: amounts drawn are amounts computed, and the words say what happens at the ends."""

import numpy as np
import pytest

from gypsumkit.figures.batch_scene import STAGES, batch_scene
from gypsumkit.figures.scene import Polygon


def heights(scene, picture, stage):
    """Heights of the parts drawn in one column, from the bottom."""
    (panel,) = scene.pictures[picture].panels
    middle = STAGES.index(stage) + 0.5
    return [np.ptp(mark.y) for mark in panel.moving if isinstance(mark, Polygon) and mark.x.min() < middle < mark.x.max()]


def test_columns_of_mass_balance():
    scene = batch_scene("model plaster", 120.0, 60.0)
    assert heights(scene, 0, "fresh") == pytest.approx([120, 60])
    assert sum(heights(scene, 0, "set")) == pytest.approx(180) and sum(heights(scene, 0, "powder")) == pytest.approx(heights(scene, 0, "rock")[0])
    assert heights(scene, 0, "dried")[0] == pytest.approx(heights(scene, 0, "rock")[0])


def test_columns_of_volume_keep_the_outside_and_show_the_missing_room():
    scene = batch_scene("dental stone", 100.0, 30.0)
    fresh, after, dried = (heights(scene, 1, stage) for stage in ("fresh", "set", "dried"))
    assert sum(fresh) == pytest.approx(sum(after)) == pytest.approx(sum(dried))
    assert len(after) == 3 and 0.02 * sum(after) < after[-1] < 0.10 * sum(after)


@pytest.mark.parametrize("water_ml, said", [(0, "too little water"), (10, "of powder stay powder"), (25, "no paste forms"), (50, "stay free"),
                                            (95, "sink to the bottom")])
def test_words_for_every_amount_of_water(water_ml, said):
    scene = batch_scene("model plaster", 100.0, water_ml)
    assert said in scene.words and "nan" not in scene.words
    assert scene.pictures[0].words.startswith("By mass") and "By volume" in scene.pictures[1].words


def test_nothing_drawn_leaves_its_panel():
    for powder_g in (10.0, 99.0, 500.0):
        for water_ml in (0.0, 33.0, 400.0):
            for picture in batch_scene("improved stone", powder_g, water_ml).pictures:
                (panel,) = picture.panels
                assert max(mark.y.max() for mark in panel.moving if isinstance(mark, Polygon)) <= panel.y_range[1]
