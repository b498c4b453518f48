"""The picture of slips says what the model says of the batch that was really mixed."""

import numpy as np
import pytest

from gypsumkit import Mix, Recipe
from gypsumkit.figures.scene import Line, Marker, Text, still_part
from gypsumkit.figures.slip_scene import BATCHES_G, SlippedBatch, slip_scene
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem


def marks(scene, picture, kind):
    return [mark for one in scene.pictures if one.name == picture for mark in one.panels[0].moving if isinstance(mark, kind)]


@pytest.mark.parametrize("powder", POWDERS)
@pytest.mark.parametrize("batch, water, powder_g", [(50, 2.0, 0.0), (100, -1.0, 1.0), (400, 0.5, -3.0)])
def test_the_point_is_the_mix_that_was_weighed(powder, batch, water, powder_g):
    scene = slip_scene(SlippedBatch(powder, batch, water, powder_g))
    meant = POWDERS[powder].recommended_ratio.value
    mixed = Mix(Recipe.weighed(powder, batch + powder_g, meant * batch + water))
    as_meant = Mix(Recipe(powder, meant))
    for picture, value in (("ratio", 100 * mixed.recipe.water_powder_ratio), ("spread", mixed.spread_mm.value),
                           ("strength", 100 * mixed.wet_strength_mpa.value / as_meant.wet_strength_mpa.value)):
        (point,), (curve,) = marks(scene, picture, Marker), marks(scene, picture, Line)
        assert (point.x, point.y) == (pytest.approx(np.log2(batch)), pytest.approx(value, rel=1e-12))
        assert np.interp(point.x, curve.x, curve.y) == pytest.approx(point.y, rel=1e-12)


@pytest.mark.parametrize("powder", POWDERS)
def test_the_same_slip_harms_a_smaller_batch_more(powder):
    scene = slip_scene(SlippedBatch(powder, 100, 1.0))
    (curve,) = marks(scene, "strength", Line)
    assert np.all(np.diff(curve.y) > 0) and curve.y[-1] < 100


def test_no_slip_is_what_was_meant_for_every_size():
    scene = slip_scene(SlippedBatch("model plaster", 80))
    assert np.allclose(marks(scene, "strength", Line)[0].y, 100) and np.allclose(marks(scene, "ratio", Line)[0].y, 50)
    assert "No slip" in scene.words


def test_too_much_powder_is_like_too_little_water():
    assert SlippedBatch("model plaster", 100, 0, 2.0).ratio() == pytest.approx(50 / 102)
    assert SlippedBatch("model plaster", 100, -1.0, 0).ratio() == pytest.approx(49 / 100)


def test_where_there_is_no_paste_it_says_so_and_draws_no_point():
    scene = slip_scene(SlippedBatch("improved stone", 25, -3.0, 3.0))
    assert "no paste any more: the water cannot wet" in scene.words
    assert marks(scene, "strength", Marker) == [] and any(text.string == "no paste" for text in marks(scene, "strength", Text))
    assert np.isnan(marks(scene, "strength", Line)[0].y[0]) and np.isfinite(marks(scene, "strength", Line)[0].y[-1])
    assert [row[2] == "no paste" for row in scene.numbers.rows] == [True, False, False, False, False]


def test_the_table_is_the_model_in_five_batches():
    slipped = SlippedBatch("dental stone", 100, 1.0)
    for batch, row in zip(BATCHES_G, slip_scene(slipped).numbers.rows):
        mix = Mix(Recipe("dental stone", (0.3 * batch + 1) / batch))
        assert row[0] == f"{batch} g" and float(row[3].split()[0]) == pytest.approx(mix.spread_mm.value, abs=0.051)
        assert row[2] == mix.consistency


def test_a_slider_move_redraws_no_page():
    before, after = slip_scene(SlippedBatch("model plaster", 100, 0.5)), slip_scene(SlippedBatch("model plaster", 150, -1.0))
    assert [still_part(one) for one in before.pictures] == [still_part(one) for one in after.pictures]


@pytest.mark.parametrize("given, said", [(("plastr",), "did you mean"), (("model plaster", 10), "25 to 500 g"), (("model plaster", 600), "25 to 500 g"),
                                         (("model plaster", 100, 4), "-3 to 3 mL"), (("model plaster", 100, 0, -4), "-3 to 3 g"),
                                         (("model plaster", float("nan")), "25 to 500 g")])
def test_what_is_out_of_range_is_refused(given, said):
    with pytest.raises(Problem, match=said):
        SlippedBatch(*given)
