"""The picture of the chain: moments and windows stand where the chain says, verdicts are told without colour, words name every slip."""

import numpy as np
import pytest

from gypsumkit.bench.cast_chain import IN_TIME, Chain, steps, strength, tooth_strength
from gypsumkit.figures.chain_scene import FIRST_MIN, LAST_MIN, SIGNS, chain_scene
from gypsumkit.figures.scene import Line, Marker, Polygon, Text
from gypsumkit.recipe import Recipe

PLASTER, STONE = Recipe("model plaster", 0.50), Recipe("dental stone", 0.30)
SHOWN = [Chain(STONE), Chain(PLASTER, "alginate", 90, 2, 5, 4, 20, 30), Chain(PLASTER, "polyether", 10, 0, 14, 120, 900, 1300), Chain(STONE, "condensation silicone", 0, 3, 1, 2, 12, 11),
         Chain(Recipe("model plaster", 0.5, water_temperature_c=98, room_temperature_c=98)), Chain(Recipe("dental stone", 0.22))]


def panels(scene):
    return {panel.name: panel for picture in scene.pictures for panel in picture.panels}


def marks(panel, kind):
    return [mark for mark in panel.moving if isinstance(mark, kind)]


@pytest.mark.parametrize("chain", SHOWN)
def test_each_moment_has_its_sign_at_its_place(chain):
    scene = chain_scene(chain)
    dots = [*marks(panels(scene)["wait"], Marker), *marks(panels(scene)["steps"], Marker)]
    for dot, step in zip(dots, steps(chain), strict=True):
        assert (dot.shape, dot.hollow) == SIGNS[step.verdict]
        assert 10**dot.x == pytest.approx(max(step.moment_min, FIRST_MIN))
    assert len({dot.y for dot in dots[1:]}) == 4


@pytest.mark.parametrize("chain", SHOWN)
def test_a_moment_lies_in_the_green_window_exactly_when_it_is_in_time(chain):
    panel = panels(chain_scene(chain))["steps"]
    green = [mark for mark in marks(panel, Polygon) if mark.edge == "green"]
    for dot, step in zip(marks(panel, Marker), steps(chain)[1:]):
        inside = any(abs(box.y.mean() - dot.y) < 0.1 and box.x.min() - 1e-9 <= dot.x <= box.x.max() + 1e-9 for box in green)
        assert inside == (step.verdict == IN_TIME), step.name
    assert all(mark.hatch for mark in marks(panel, Polygon))


@pytest.mark.parametrize("chain", SHOWN)
def test_words_tell_every_slip_and_the_table_every_step(chain):
    scene = chain_scene(chain)
    rows = {row[0]: row for row in scene.numbers.rows}
    for step in steps(chain):
        assert rows[step.name][2:4] == (step.window(), step.verdict)
        assert (step.verdict == IN_TIME) or (step.why in scene.words and step.verdict in scene.words)
    assert ("Every step is in time." in scene.words) == all(step.verdict == IN_TIME for step in steps(chain))


def test_the_strength_panel_marks_the_strength_at_both_moments():
    chain = SHOWN[1]
    panel = panels(chain_scene(chain))["strength"]
    out, trimmed = marks(panel, Marker)
    assert (out.y, trimmed.y) == pytest.approx((strength(chain, 20).value, strength(chain, 30).value)) and out.shape != trimmed.shape
    curve = marks(panel, Line)[0]
    assert 10 ** curve.x[-1] == pytest.approx(LAST_MIN) and np.interp(out.x, curve.x, curve.y) == pytest.approx(out.y, abs=0.15)


def test_the_tooth_bar_is_as_long_as_its_strength():
    cast, tooth = (mark for mark in marks(panels(chain_scene(SHOWN[1]))["tooth"], Polygon))
    assert (cast.x.max(), tooth.x.max()) == pytest.approx((tooth_strength(PLASTER, 0).value, tooth_strength(PLASTER, 2).value)) and cast.hatch != tooth.hatch


@pytest.mark.parametrize("chain", SHOWN)
def test_words_in_the_picture_do_not_reach_over_its_edge(chain):
    for picture in chain_scene(chain).pictures:
        for panel in picture.panels:
            for text in marks(panel, Text):
                assert len(text.string) * text.size * 0.58 <= 420, text.string


def test_the_table_goes_in_the_order_of_time_and_tells_what_the_clock_predicts():
    chain = SHOWN[0]
    names = [row[0] for row in chain_scene(chain).numbers.rows]
    assert names[:9] == ["impression waits", "mixed", "pour ended", "pours until", "gloss lost", "base added, or turned over", "final set", "separated", "trimmed"]
    rows = {row[0]: row for row in chain_scene(chain).numbers.rows}
    assert rows["final set"][1] == "16 min (12.1 to 19.7)" and not any("tooth" in name for name in names)
    assert any("2 drops" in row[0] for row in chain_scene(SHOWN[1]).numbers.rows)


def test_the_tooth_is_shown_where_drops_can_be_left_in_it():
    assert "tooth" in panels(chain_scene(SHOWN[0])) and "tooth" not in panels(chain_scene(SHOWN[0], tooth=False))
