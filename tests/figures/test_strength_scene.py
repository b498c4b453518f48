"""The strength scene: curve, handbook values, misfit and windows are those of the library."""

import numpy as np
import pytest

from gypsumkit.studies.compromise import compromise
from gypsumkit.figures.matplotlib_renderer import static_png
from gypsumkit.figures.scene import Line, Marker, Polygon, Rule, Text
from gypsumkit.figures.strength_scene import SIGNS, law_with_range_mpa, strength_scene
from gypsumkit.studies.handbook import HANDBOOK_STRENGTHS, INDUSTRIAL_STRENGTHS
from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe


def scene_of(powder="model plaster", ratio=0.5, wanted=10.0, **rest):
    return strength_scene(Mix(Recipe(powder, ratio)), wanted, **rest)


def panel_of(scene, picture, panel):
    return next(p for each in scene.pictures if each.name == picture for p in each.panels if p.name == panel)


def test_the_nine_values_are_drawn_where_they_belong_each_powder_in_its_own_shape():
    markers = [mark for mark in panel_of(scene_of(), "porosity", "porosity").backdrop if isinstance(mark, Marker)]
    for each in HANDBOOK_STRENGTHS:
        assert any(mark.shape == SIGNS[each.name][0] and mark.x == pytest.approx(100 * each.porosity) and mark.y == each.strength_mpa
                   for mark in markers)
    assert len({shape for shape, _ in SIGNS.values()}) == 3


def test_the_misfit_panel_says_the_worst():
    backdrop = panel_of(scene_of(), "porosity", "misfit").backdrop
    assert sum(isinstance(mark, Marker) for mark in backdrop) == 9
    assert any(isinstance(mark, Text) and mark.string == "worst +17 %" for mark in backdrop)
    assert any(isinstance(mark, Text) and "not proved" in mark.string for mark in backdrop)


def test_industrial_plasters_are_open_and_only_there_when_asked_for():
    def open_squares(scene):
        return sum(isinstance(mark, Marker) and mark.hollow and mark.shape == "square" for mark in panel_of(scene, "porosity", "porosity").backdrop)
    assert open_squares(scene_of()) == 0
    assert open_squares(scene_of(industrial=True)) == len(INDUSTRIAL_STRENGTHS) + 1       # and the one of the key
    assert "nothing was fitted" in scene_of(industrial=True).words and "nothing was fitted" not in scene_of().words


@pytest.mark.parametrize("powder, ratio", [("model plaster", 0.50), ("dental stone", 0.30), ("improved stone", 0.24)])
def test_the_moving_point_lies_on_the_one_line_wet_and_dry(powder, ratio):
    for dried in (False, True):
        panel = panel_of(scene_of(powder, ratio, dried=dried), "porosity", "porosity")
        point = next(mark for mark in panel.moving if isinstance(mark, Marker))
        value, low, high = law_with_range_mpa(np.array([point.x / 100]), dried)
        assert point.y == pytest.approx(value[0], rel=1e-9) and low[0] < value[0] < high[0]
        line = next(mark for mark in panel.backdrop if isinstance(mark, Line) and mark.label == ("dry" if dried else "wet, 1 h"))
        assert point.y == pytest.approx(np.interp(point.x, line.x, line.y), rel=0.01)


def test_the_window_drawn_is_the_window_computed():
    first, last = compromise("improved stone", 30.0).both
    scene = scene_of("improved stone", 0.23, 30.0)
    drawn = next(mark for mark in panel_of(scene, "compromise", "ratio").moving if isinstance(mark, Polygon))
    assert (drawn.x.min(), drawn.x.max()) == pytest.approx((first, last))
    in_ml = f"{100 * first:.1f} to {100 * last:.1f} mL per 100 g"
    assert f"Both: {first:.3f} to {last:.3f} ({in_ml})" in scene.words
    assert any(isinstance(mark, Text) and mark.string == f"does both: {in_ml}" for mark in panel_of(scene, "compromise", "windows").moving)


def test_the_outline_of_the_recommended_ratio_lies_over_the_bar():
    moving = panel_of(scene_of(ratio=0.45), "relative", "bars").moving
    bar, outline = ([place for place, mark in enumerate(moving) if isinstance(mark, Polygon) and mark.dash == dash] for dash in ("solid", "dashed"))
    assert len(bar) == len(outline) == 2 and min(outline) > max(bar)
    assert all(moving[place].edge == "black" for place in outline)


def test_an_empty_window_is_said_and_not_drawn():
    scene = scene_of(wanted=40.0)
    moving = panel_of(scene, "compromise", "ratio").moving
    assert not any(isinstance(mark, Polygon) for mark in moving)
    assert "No ratio of this powder does both" in scene.words
    assert any(isinstance(mark, Text) and mark.string == "no ratio of this powder does both" for mark in panel_of(scene, "compromise", "windows").moving)
    assert any(isinstance(mark, Text) and "lies above" in mark.string for mark in moving) and not any(
        isinstance(mark, Rule) and mark.y is not None for mark in moving)


@pytest.mark.parametrize("ratio, said", [(0.48, "pours and carries it"), (0.55, "pours but does not carry it"), (0.44, "carries it but does not pour"),
                                         (0.70, "does neither")])
def test_what_your_ratio_does_is_said(ratio, said):
    assert f"your ratio {said}" in scene_of(ratio=ratio).words


def test_every_powder_can_be_drawn_from_end_to_end():
    for powder, kind in POWDERS.items():
        for ratio in (kind.least_ratio + 0.001, kind.most_ratio - 0.001):
            for dried in (False, True):
                scene = scene_of(powder, ratio, 20.0, dried=dried, industrial=dried, pins=[Mix(Recipe("dental stone", 0.3))])
                assert "Pinned A" in scene.words
    assert static_png(scene).startswith(b"\x89PNG")
