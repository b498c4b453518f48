"""A scene refuses what cannot be drawn, and knows whether its still part has changed."""

import numpy as np
import pytest

from gypsumkit.figures.scene import (Line, Marker, Panel, Picture, Rule, Scene, Span, Table, Text, still_part)
from gypsumkit.problems import Problem
from tests.figures.demo_scene import demo_scene


@pytest.mark.parametrize("mistake, words", [
    (lambda: Line([1, 2], [1, 2, 3]), "same length"),
    (lambda: Line([1], [1], dash="wavy"), "solid"),
    (lambda: Rule(), "exactly one"),
    (lambda: Rule(x=1, y=2), "exactly one"),
    (lambda: Marker(0, 0, shape="star"), "circle"),
    (lambda: Text(0, 0, "a", anchor="left"), "start"),
    (lambda: Panel("p", x_range=(1, 1), y_range=(0, 1)), "smaller to a larger"),
    (lambda: Panel("p", x_range=(0, float("nan")), y_range=(0, 1)), "smaller to a larger"),
    (lambda: Panel("p", x_range=(0, 1), y_range=(0, 1), height_share=0), "above zero"),
    (lambda: Table(("a", "b"), (("only one",),)), "1 cells under 2 heads"),
    (lambda: Scene(()), "common width"),
    (lambda: Scene((Picture("a", (), "", width=420), Picture("b", (), "", width=840))), "420 and 840"),
])
def test_what_cannot_be_drawn_is_refused_in_one_sentence(mistake, words):
    with pytest.raises(Problem, match=words):
        mistake()


def test_the_still_part_stays_the_same_while_a_slider_moves():
    for before, after in zip(demo_scene(0.4).pictures, demo_scene(0.7).pictures):
        assert still_part(before) == still_part(after)
        assert hash(still_part(before)) == hash(still_part(after))


@pytest.mark.parametrize("change", [
    dict(title="other"), dict(x_range=(0, 2)), dict(y_ticks=(0, 1)), dict(show_axes=False),
    dict(backdrop=(Line([0, 1], [0, 1.001]),)), dict(backdrop=(Line([0, 1], [0, 1], dash="dotted"),)),
    dict(backdrop=()),
])
def test_any_change_of_the_still_part_is_noticed(change):
    usual = dict(name="p", x_range=(0, 1), y_range=(0, 1), backdrop=(Line([0, 1], [0, 1]),))
    assert still_part(Picture("a", (Panel(**usual),), "")) != still_part(Picture("a", (Panel(**{**usual, **change}),), ""))


def test_points_are_copied_into_numbers():
    line = Line([0, 1], np.array([1, 2]))
    assert line.y.dtype == float
    assert Span(0.5, 0.55).x1 == 0.55
