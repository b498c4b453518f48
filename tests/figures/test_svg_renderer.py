"""The SVG is well formed, safe, in the right place, and says in words what it shows."""

import io
import re
import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest
from matplotlib.image import imread

from gypsumkit.figures.matplotlib_renderer import backdrop_png, static_png
from gypsumkit.figures.placing import places
from gypsumkit.figures.scene import (DASHES, HATCHES, SHAPES, Band, Line, Marker, Panel, Picture, Polygon, Rule, Scene,
                                     Span, Text)
from gypsumkit.figures.svg_renderer import overlay_svg
from tests.figures.demo_scene import demo_scene

SVG = "{http://www.w3.org/2000/svg}"


def one_panel(*moving, **panel):
    settings = dict(name="p", x_range=(0, 10), y_range=(0, 10), moving=moving)
    return Picture("one", (Panel(**{**settings, **panel}),), "One panel.")


def drawn(picture):
    return ElementTree.fromstring(overlay_svg(picture))


def test_it_carries_its_words_and_its_size():
    picture = demo_scene(0.52).pictures[0]
    svg = drawn(picture)
    assert svg.get("role") == "img"
    assert svg.get("aria-label") == picture.words
    assert svg.get("viewBox") == "0 0 420 420"


def test_every_string_is_escaped():
    nasty = '<script>"&\''
    picture = Picture("one", (Panel("p", (0, 1), (0, 1), moving=(
        Text(0.5, 0.5, nasty), Line([0, 1], [0, 1], label=nasty), Rule(x=0.2, label=nasty), Span(0.1, 0.2, label=nasty))),
    ), words=nasty)
    assert "<script" not in overlay_svg(picture)
    svg = drawn(picture)
    assert svg.get("aria-label") == nasty
    assert [text.text for text in svg.iter(SVG + "text")] == [nasty] * 4


def test_every_kind_of_mark_and_every_look_is_drawn():
    marks = [Line([0, 5, 10], [1, 2, 3], dash=dash) for dash in DASHES]
    marks += [Polygon([1, 4, 4], [1, 1, 4], hatch=hatch) for hatch in HATCHES]
    marks += [Marker(5, 5, shape=shape, hollow=hollow) for shape in SHAPES for hollow in (False, True)]
    marks += [Band([0, 10], [1, 2], [3, 4], hatch="rising"), Rule(x=3), Rule(y=3), Span(2, 4, hatch="dots")]
    svg = drawn(one_panel(*marks))
    assert len([item for item in svg.iter() if item.get("class") == "marker"]) == 2 * len(SHAPES)
    dashes = [item for item in svg.iter(SVG + "path") if item.get("stroke-dasharray")]
    assert len(dashes) >= 3 + 2 + 2


def test_the_still_part_is_left_out():
    picture = one_panel(Marker(5, 5), backdrop=(Text(1, 1, "still"), Line([0, 1], [0, 1])))
    assert "still" not in overlay_svg(picture)
    assert len([item for item in drawn(picture).iter(SVG + "path")]) == 0


def test_a_marker_without_a_place_is_not_drawn():
    svg = overlay_svg(one_panel(Marker(float("nan"), 5), Text(5, float("nan"), "lost"), Rule(x=float("nan")),
                                Span(float("nan"), 3), Polygon([0, float("nan"), 1], [0, 1, 1])))
    assert "nan" not in svg and "lost" not in svg and "<circle" not in svg and "<path" not in svg


def test_a_line_has_a_gap_where_its_values_are_not_numbers():
    nan = float("nan")
    path, = drawn(one_panel(Line([0, 1, 2, 3, 4, 5], [nan, 1, 2, nan, 3, 4]))).iter(SVG + "path")
    assert path.get("d").count("M") == 2
    assert "nan" not in path.get("d")


def test_a_line_is_cut_at_the_edge_of_its_panel_and_a_marker_is_not():
    svg = drawn(one_panel(Line([0, 10], [-100, 100]), Marker(0, 0)))
    inner, = [item for item in svg if item.tag == SVG + "svg"]
    place, = places(one_panel())
    assert [float(number) for number in inner.get("viewBox").split()] == pytest.approx(
        [place.left, place.top, place.width, place.height], abs=0.01)
    assert [item.tag for item in svg if item.get("class") == "marker"] == [SVG + "circle"]


@pytest.mark.parametrize("x, anchor", [(1, "start"), (9, "end")])
def test_a_text_beside_a_moving_marker_writes_towards_the_middle(x, anchor):
    text, = drawn(one_panel(Text(x, 5, "12 MPa", anchor="auto", right=14))).iter(SVG + "text")
    place, = places(one_panel())
    assert text.get("text-anchor") == anchor
    shift = float(text.get("x")) - place.across(x)
    assert shift == pytest.approx(14 if anchor == "start" else -14, abs=0.01)


@pytest.mark.parametrize("ratio", [0.31, 0.52, 0.79])
def test_the_marker_lies_where_matplotlib_draws_it(ratio):
    for picture in demo_scene(ratio).pictures:
        svg = drawn(picture)
        circle, = svg.iter(SVG + "circle")
        density = 3
        moving = imread(io.BytesIO(static_png(Scene((picture,)), density=density)))[..., :3]
        still = imread(io.BytesIO(backdrop_png(picture, density=density)))[..., :3]
        vermillion = np.array([0xd5, 0x5e, 0x00]) / 255
        blob = (np.abs(moving - vermillion).max(axis=2) < 0.02) & (np.abs(still - vermillion).max(axis=2) > 0.02)
        down, across = np.nonzero(blob)
        assert len(across) > 200
        # Pixel centres are half a pixel in; the number written beside it may cover a corner of the marker.
        assert (across.min() + across.max() + 1) / 2 / density == pytest.approx(float(circle.get("cx")), abs=0.5)
        assert (down.min() + down.max() + 1) / 2 / density == pytest.approx(float(circle.get("cy")), abs=0.5)


def test_the_marker_lies_on_its_curve():
    ratio = 0.63
    for picture in demo_scene(ratio).pictures:
        panel, place = picture.panels[1], places(picture)[1]
        curve = next(mark for mark in panel.backdrop if isinstance(mark, Line))
        circle, = drawn(picture).iter(SVG + "circle")
        assert float(circle.get("cx")) == pytest.approx(place.across(ratio), abs=0.01)
        on_curve = np.interp(float(circle.get("cx")), place.across(curve.x), place.down(curve.y))
        assert float(circle.get("cy")) == pytest.approx(on_curve, abs=0.1)


def test_no_identifier_can_clash_with_another_picture_of_the_page():
    assert not re.search(r"\bid=|url\(#|href", overlay_svg(demo_scene(0.5).pictures[1]))
