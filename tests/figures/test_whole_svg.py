"""Whole pictures as SVG: marks where the library puts them, ticks as matplotlib has them, hatching that points to a pattern."""

import re
from xml.etree import ElementTree

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from gypsumkit.figures.matplotlib_renderer import draw_picture
from gypsumkit.figures.placing import places
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Polygon, RightAxis, Span, Text
from gypsumkit.figures.whole_svg import pattern_names, pattern_svg, whole_svg

SVG = "{http://www.w3.org/2000/svg}"


def picture(**panel):
    return Picture("one", (Panel("a", **{"x_range": (0, 10), "y_range": (0, 100), **panel}),), "In words.")


def texts(svg):
    return [element.text for element in ElementTree.fromstring(svg).iter(SVG + "text")]


@pytest.mark.parametrize("x_range, y_range", [((0, 10), (0, 100)), ((-3, 3), (-20, 65)), ((0.1, 0.85), (0, 0.35)), ((0, 168), (2.2, 2.9))])
def test_ticks_are_those_of_matplotlib(x_range, y_range):
    one = picture(x_range=x_range, y_range=y_range, right_axis=RightAxis("right", 3.7))
    figure = Figure(figsize=(one.width / 72, one.height / 72), dpi=72)
    FigureCanvasAgg(figure)
    axes, = draw_picture(figure, one, moving=False)
    figure.canvas.draw()
    right, = axes.child_axes
    drawn = []
    for axis in (axes.xaxis, axes.yaxis, right.yaxis):
        low, high = sorted(axis.get_view_interval())
        room = 1e-9 * (high - low)
        drawn += [tick.get_text() for tick, value in zip(axis.get_ticklabels(), axis.get_ticklocs()) if low - room <= value <= high + room]
    assert [words for words in texts(whole_svg(one)) if re.fullmatch(r"[−\d.]+", words or "")] == drawn


def test_marks_lie_where_their_values_are():
    one = picture(backdrop=(Line([0, 5, 10], [0, 50, 100]),), moving=(Marker(5, 50),))
    place, = places(one)
    circle, = ElementTree.fromstring(whole_svg(one)).iter(SVG + "circle")
    assert (float(circle.get("cx")), float(circle.get("cy"))) == pytest.approx((place.across(5), place.down(50)), abs=0.01)


def test_hatched_areas_point_to_patterns_that_exist():
    one = picture(moving=(Polygon([1, 2, 2], [10, 10, 30], fill="pale orange", hatch="dots"), Band([0, 5], [1, 2], [5, 6], hatch="rising"),
                          Span(3, 4, hatch="crossed"), Polygon([1, 2, 2], [50, 50, 70], fill=None, edge="blue", hatch="level")))
    names = pattern_names(whole_svg(one))
    assert len(names) == 4
    for name in names:
        assert ElementTree.fromstring(pattern_svg(name)).get("id") == name


def test_what_is_not_a_number_is_not_drawn_and_words_are_escaped():
    svg = whole_svg(picture(title="<script>a</script>", moving=(Polygon([1, np.nan, 2], [1, 2, 3]), Text(1, 50, "a < b & c"))))
    ElementTree.fromstring(svg)
    assert "<script" not in svg and "nan" not in svg and "a &lt; b &amp; c" in svg
