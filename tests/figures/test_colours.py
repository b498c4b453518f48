"""Everything drawn stands out from white, by the contrast that WCAG 2.2 asks for."""

import pytest

from gypsumkit.figures.colours import (FILL_COLOURS, LINE_COLOURS, TEXT_COLOURS, blend_with_white, colour_code, in_room, paper,
                                       contrast, room_now)
from gypsumkit.figures.scene import Line, Marker, Polygon, Text
from gypsumkit.problems import Problem


def test_contrast_agrees_with_the_published_extremes():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777") == pytest.approx(4.48, abs=0.01)  # the well-known grey that just fails for text


@pytest.mark.parametrize("name", TEXT_COLOURS)
def test_text_stands_out_on_white_and_on_every_pale_fill(name):
    assert contrast(colour_code(name, "text")) >= 4.5
    for fill in FILL_COLOURS:
        if fill.startswith("pale"):
            assert contrast(colour_code("black", "text"), colour_code(fill)) >= 4.5


@pytest.mark.parametrize("name", LINE_COLOURS)
def test_lines_stand_out_on_white(name):
    assert contrast(colour_code(name, "line")) >= 3


def test_a_fill_too_pale_to_stand_alone_has_a_dark_edge():
    assert contrast(colour_code("yellow")) < 3
    assert contrast(colour_code(Polygon([0, 1], [0, 1], fill="yellow").edge, "line")) >= 3


def test_a_tint_lies_between_the_colour_and_white():
    assert blend_with_white("#000000", 0.5) == "#808080"
    assert blend_with_white("#0072b2", 1) == "#0072b2"


@pytest.mark.parametrize("mark", [
    lambda: Text(0, 0, "words", colour="orange"),
    lambda: Line([0], [0], colour="yellow"),
    lambda: Marker(0, 0, colour="sky"),
])
def test_a_colour_that_does_not_stand_out_is_refused(mark):
    with pytest.raises(Problem, match="use one of"):
        mark()


def test_a_mistyped_colour_gets_a_suggestion():
    with pytest.raises(Problem, match="did you mean 'vermillion'"):
        Marker(0, 0, colour="vermilion")


# ---------------------------------------------------------------- a dark room

@pytest.fixture
def dark_room():
    with in_room("dark room"):
        yield paper()


@pytest.mark.parametrize("name", TEXT_COLOURS)
def test_in_a_dark_room_text_stands_out_from_the_paper_and_from_every_fill_it_may_cross(dark_room, name):
    assert contrast(colour_code(name, "text"), dark_room) >= 4.5
    for fill in FILL_COLOURS:
        if fill.startswith("pale") and name == "black":
            assert contrast(colour_code("black", "text"), colour_code(fill)) >= 4.5, fill


@pytest.mark.parametrize("name", LINE_COLOURS)
def test_in_a_dark_room_lines_stand_out_from_the_paper(dark_room, name):
    assert contrast(colour_code(name, "line"), dark_room) >= 3


def test_in_a_dark_room_edges_stand_out_from_the_fills_they_hold(dark_room):
    for fill in FILL_COLOURS:
        if fill.startswith("pale"):
            assert contrast(colour_code("dark grey", "line"), colour_code(fill)) >= 3, fill


def test_the_colours_of_a_room_end_with_it():
    with in_room("dark room"):
        assert paper() != "#ffffff"
    assert (paper(), room_now(), colour_code("black")) == ("#ffffff", "light room", "#000000")


def test_an_unknown_room_is_refused():
    with pytest.raises(Problem, match="is not a room"):
        with in_room("kitchen"):
            pass
