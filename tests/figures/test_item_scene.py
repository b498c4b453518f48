"""The pictures of the item statistics say what the statistics say, at any size of class and paper."""

import numpy as np
import pytest

from gypsumkit.figures.item_scene import MOST_PARTS, item_scene
from gypsumkit.figures.matplotlib_renderer import static_png
from gypsumkit.figures.scene import Line, Marker, Polygon, Rule, Text
from gypsumkit.figures.svg_renderer import overlay_svg
from gypsumkit.marking.grades import standing
from gypsumkit.marking.item_statistics import item_analysis
from gypsumkit.marking.marks import MarkRow, Marks
from tests.marking.invented_marks import invented_marks, invented_paper

PAPER = invented_paper()


def scene_of(marks):
    return item_scene(item_analysis(marks), [standing(marks, candidate, PAPER) for candidate in marks.candidates], PAPER)


def marks_in(picture, kind):
    return [mark for panel in picture.panels for mark in panel.moving if isinstance(mark, kind)]


def test_bars_count_every_candidate_and_the_pass_mark_stands_where_it_is():
    scene = scene_of(invented_marks(60))
    totals = scene.pictures[0]
    assert sum(float(max(bar.y)) for bar in marks_in(totals, Polygon)) == 60
    assert [mark.x for mark in marks_in(totals, Rule)] == [pytest.approx(50)]
    assert sum(int(mark.string) for mark in marks_in(totals, Text)) == 60


def test_places_are_those_of_the_statistics():
    marks = invented_marks(150)
    found, scene = item_analysis(marks), scene_of(marks)
    bars = marks_in(scene.pictures[1], Polygon)
    assert [float(max(bar.x)) for bar in bars] == pytest.approx([item.difficulty for item in found.items])
    points = marks_in(scene.pictures[2], Marker)
    assert [point.x for point in points] == pytest.approx([item.correlation for item in found.items])
    assert [float(line.x[0]) for line in marks_in(scene.pictures[2], Line)] == pytest.approx([item.correlation_low for item in found.items])
    doubtful = [point.shape == "diamond" for point in points]
    assert doubtful == [bool(item.verdict) for item in found.items] and sum(doubtful) == 1, "shape, not colour alone"
    assert "Diamonds, to be looked at: 3 (a)" in scene.pictures[2].words and "3 (a)" in scene.words


def test_few_answers_are_drawn_and_none_is_judged():
    scene = scene_of(invented_marks(10))
    assert all(point.shape == "circle" for point in marks_in(scene.pictures[2], Marker)) and "No question is judged" in scene.words


@pytest.mark.parametrize("count", [0, 1, 2, 3, 40, 3000])
def test_every_size_of_class_is_drawn(count):
    scene = scene_of(invented_marks(count) if count else Marks())
    assert static_png(scene)[:4] == b"\x89PNG" and all("NaN" not in overlay_svg(picture) and "nan" not in overlay_svg(picture) for picture in scene.pictures)


def test_a_long_paper_is_drawn_in_part_and_that_is_said():
    draw = np.random.default_rng(3)
    marks = Marks([MarkRow(str(i), task, f"T0{task % 9}-1", "a", float(draw.integers(0, 2)), 1.0) for i in range(40) for task in range(1, 31)])
    scene = scene_of(marks)
    assert f"The first {MOST_PARTS} of 30 parts" in scene.pictures[1].words and len(marks_in(scene.pictures[1], Polygon)) == MOST_PARTS
    assert len(scene.numbers.rows) == 30
