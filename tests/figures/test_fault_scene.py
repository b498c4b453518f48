"""The picture of a cast gone wrong: every sign is drawn, bars are the shares, words say what the reading says."""

import numpy as np
import pytest

from gypsumkit.figures.fault_scene import MOST_BITS, fault_scene, in_100
from gypsumkit.figures.matplotlib_renderer import static_png
from gypsumkit.figures.scene import Line, Marker, Polygon, Text
from gypsumkit.figures.svg_renderer import overlay_svg
from gypsumkit.powders import POWDERS
from gypsumkit.studies.faults import CHECKS, SIGNS, read_faults


def moving(scene, name):
    (found,) = [panel for picture in scene.pictures for panel in picture.panels if panel.name == name]
    return found.moving


def strings(marks):
    return [mark.string for mark in marks if isinstance(mark, Text)]


@pytest.mark.parametrize("sign", SIGNS)
def test_every_sign_is_drawn_inside_the_picture_and_named(sign):
    scene = fault_scene(read_faults((sign,)), "model plaster")
    marks = moving(scene, "cast")
    assert "A" in strings(marks) and f"A: {sign}" in strings(marks) and SIGNS[sign].look in scene.pictures[0].words
    drawn = [mark for mark in marks if isinstance(mark, (Line, Polygon, Marker))]
    assert drawn
    for mark in drawn:
        assert np.all((np.asarray(mark.x) >= 0) & (np.asarray(mark.x) <= 100) & (np.asarray(mark.y) >= 0) & (np.asarray(mark.y) <= 100))
    assert overlay_svg(scene.pictures[0]).count("<") > 4


def test_no_two_signs_look_the_same():
    looks = [tuple((type(mark).__name__, tuple(np.ravel(mark.x)), tuple(np.ravel(mark.y))) for mark in moving(fault_scene(read_faults((sign,)), "dental stone"), "cast")
                   if not isinstance(mark, Text)) for sign in SIGNS]
    assert len(set(looks)) == len(SIGNS)


def test_bars_are_shares_and_bits_and_the_first_is_hatched():
    reading = read_faults(("chalky surface",), ("soft after an hour",))
    scene = fault_scene(reading, "model plaster")
    bars = [mark for mark in moving(scene, "suspects") if isinstance(mark, Polygon)]
    assert [float(np.max(bar.x)) for bar in bars] == pytest.approx([100 * one.share for one in reading.suspects[:len(bars)]])
    assert [bool(bar.hatch) for bar in bars] == [True] + [False] * (len(bars) - 1)
    bars = [mark for mark in moving(scene, "checks") if isinstance(mark, Polygon)]
    assert [float(np.max(bar.x)) for bar in bars] == pytest.approx([100 * one.bits / MOST_BITS for one in reading.checks[:len(bars)]])
    assert "not there: soft after an hour" in strings(moving(scene, "cast"))


def test_no_check_tells_more_than_the_bars_can_show():
    most = max(read_faults(seen).best_check.bits for seen in [(), *((sign,) for sign in SIGNS), *((a, b) for a in SIGNS for b in SIGNS if a < b)])
    assert most < MOST_BITS


def test_words_say_signs_suspects_check_outcomes_cautions():
    reading = read_faults(("chalky surface",), ("soft after an hour",), (("read the tin", "right and fresh"),))
    said = fault_scene(reading, "dental stone").words
    assert "Seen: chalky surface." in said and "not there: soft after an hour." in said and "Checked: read the tin; it showed: right and fresh." in said
    for one in reading.suspects[:4]:
        assert f"{one.cause} {in_100(one.share)} (" in said
    assert f"splits the suspects best: {reading.best_check.check}. {CHECKS[reading.best_check.check].do}" in said
    assert all(f"If it shows “{outcome}”" in said for outcome in CHECKS[reading.best_check.check].outcomes)
    assert "Take care: An impression from a mouth is contaminated" in said and "those of dental stone" in said


def test_the_caution_of_a_check_is_said():
    reading = read_faults(("too stiff to run in",))
    assert reading.best_check.check == "cut it and look" and "Saw it wet" in fault_scene(reading, "model plaster").words


@pytest.mark.parametrize("powder", POWDERS)
def test_the_table_has_five_suspects_with_what_is_computed(powder):
    reading = read_faults(("sets in the bowl",))
    table = fault_scene(reading, powder).numbers
    assert [row[0].partition(":")[0] for row in table.rows] == [one.cause for one in reading.suspects[:5]]
    assert "instead of" in table.rows[0][2] and all(row[1].endswith("]") for row in table.rows)


def test_the_table_says_why_a_cause_is_suspected():
    first, *_ = fault_scene(read_faults(("chalky surface", "soft after an hour"), ("layers",)), "model plaster").numbers.rows
    assert first[0] == "too much water: 60 in 100. Very common cause; chalky surface: often; soft after an hour: often; layers: hardly ever"


def test_nothing_seen_is_a_picture_too():
    scene = fault_scene(read_faults(), "model plaster")
    assert "Seen: none." in scene.words and static_png(scene)[:4] == b"\x89PNG"


@pytest.mark.parametrize("share, said", [(0.004, "less than 1"), (0.0126, "1"), (0.094, "9"), (0.096, "10"), (0.385, "38"), (0.997, "100")])
def test_casts_are_counted_whole(share, said):
    assert in_100(share) == said or (share == 0.385 and in_100(share) in ("38", "39"))
