"""The digits that the page counts: at every moment the one digit of each place that a clock of that age would show."""

import re
import xml.dom.minidom
from functools import lru_cache

import numpy as np
import pytest

from gypsumkit.figures.running_digits import HEARTBEAT, LONGEST_S, STEP_S, reading, running_digits_svg


@lru_cache
def digits_of(svg):
    """Each digit, whether it is seen at first, and its clock: begin, duration, end, key times, values."""
    found = []
    for text in xml.dom.minidom.parseString(svg).getElementsByTagName("text"):
        string = "".join(node.data for node in text.childNodes if node.nodeType == node.TEXT_NODE)
        clock = None
        for one in text.getElementsByTagName("animate"):
            begin, length, end = (float(one.getAttribute(name)[:-1]) if one.getAttribute(name) else np.inf for name in ("begin", "dur", "end"))
            clock = begin, length, end, [float(time) for time in one.getAttribute("keyTimes").split(";")], one.getAttribute("values").split(";")
        found.append((string, text.getAttribute("visibility") or "visible", clock))
    return found


def seen_after(svg, seconds):
    """Read an SVG as a browser does that has had it for so long: each digit's own clock says whether it is seen."""
    shown = []
    for string, visibility, clock in digits_of(svg):
        if clock:
            begin, length, end, times, values = clock
            share = ((min(seconds, end) - begin) % length) / length
            visibility = values[max(place for place, time in enumerate(times) if time <= share)]
        if visibility == "visible":
            shown.append(string)
    return "".join(shown)


def test_a_reading_in_minutes_and_seconds():
    assert [reading(0), reading(199.99), reading(6000), reading(1e9)] == ["00:00", "03:19", "100:00", "999:59"]
    assert [reading(0.2, down=True), reading(0, down=True), reading(60, down=True), reading(14, 10, down=True)] == ["00:01", "00:00", "01:00", "00:20"]


@pytest.mark.parametrize("down", [False, True])
@pytest.mark.parametrize("speed", STEP_S)
def test_it_reads_as_the_clock_does_from_the_first_moment_to_an_hour_later(speed, down):
    rng = np.random.default_rng(2)
    for start in (0.0, 0.4, 59.7, 61.0, 600.3, 3599.9, 5990.2, *rng.uniform(0, 9000, 6)):
        svg = running_digits_svg(start, speed, True, down)
        for after in (0.0, *rng.uniform(0, 20, 12), *rng.uniform(0, 1200 / speed, 12)):
            true = start - speed * after if down else start + speed * after
            # A millisecond of the page to either side: at the very change both readings are right.
            right = {reading(max(true + off * speed, 0.0), STEP_S[speed], down) for off in (-0.002, 0.0, 0.002)}
            if not down and start < 1800 and true >= 6000:
                continue
            assert seen_after(svg, after) in right, (start, after)


@pytest.mark.parametrize("speed", STEP_S)
def test_after_an_hour_without_a_word_from_python_it_is_less_than_a_fifth_of_a_second_off(speed):
    start, step = 1800.0, STEP_S[speed] / speed
    svg = running_digits_svg(start, speed)
    hour = min(3600.0, (LONGEST_S - start) / speed - 60.0)          # 30 times as fast the clock is at its end sooner
    changes = [hour + step * k for k in range(8)]
    for moment in changes:                         # each change comes within 0.2 s of its true moment
        true = start + speed * moment
        assert seen_after(svg, moment - 0.2) == reading(true - 0.2 * speed, STEP_S[speed])
        assert seen_after(svg, moment + 0.01) == reading(true + 0.01 * speed, STEP_S[speed])


def test_nothing_changes_more_than_three_times_a_second():
    # WCAG 2.2, success criterion 2.3.1
    assert all(speed / step <= 3 for speed, step in STEP_S.items())


def test_standing_still_it_has_no_clock_and_running_it_has_a_heartbeat():
    assert "animate" not in running_digits_svg(100.0, running=False)
    assert seen_after(running_digits_svg(100.0, running=False), 50) == "01:40"
    assert HEARTBEAT in running_digits_svg(100.0)


def test_it_is_plain_svg_that_says_nothing_to_a_screen_reader():
    for seconds in (0, 1799, 5000, 7000, LONGEST_S):
        for down in (False, True):
            svg = running_digits_svg(seconds, 1, True, down)
            xml.dom.minidom.parseString(svg)
            assert 'aria-hidden="true"' in svg and not re.search(r"<script|href|url\(", svg)
            assert len(svg) < 16_000
