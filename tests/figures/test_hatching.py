"""Hatching stays inside its area, evenly spaced, and does not crawl when the area grows."""

import numpy as np
import pytest

from gypsumkit.figures.hatching import SPACING, hatch_strokes

SQUARE_X, SQUARE_Y = np.array([10.0, 90, 90, 10]), np.array([20.0, 20, 80, 80])


@pytest.mark.parametrize("pattern", ["rising", "falling", "crossed", "level", "upright", "dots"])
def test_strokes_stay_inside_a_rectangle_and_cover_it(pattern):
    strokes = hatch_strokes(SQUARE_X, SQUARE_Y, pattern)
    assert strokes[..., 0].min() >= 10 - 1e-9 and strokes[..., 0].max() <= 90 + 0.02
    assert strokes[..., 1].min() >= 20 - 1e-9 and strokes[..., 1].max() <= 80 + 1e-9
    middles = strokes.mean(axis=1)
    for corner in ((10, 20), (90, 20), (90, 80), (10, 80)):
        assert np.min(np.hypot(*(np.concatenate([middles, strokes[:, 0], strokes[:, 1]]) - corner).T)) < 1.5 * SPACING


def test_rising_strokes_rise_and_falling_ones_fall():
    (left, low), (right, high) = hatch_strokes(SQUARE_X, SQUARE_Y, "rising")[3]
    assert (right - left) * (high - low) < 0  # down is counted from the top
    (left, low), (right, high) = hatch_strokes(SQUARE_X, SQUARE_Y, "falling")[3]
    assert (right - left) * (high - low) > 0


def test_a_notch_stays_empty():
    x, y = np.array([0.0, 100, 100, 60, 60, 40, 40, 0]), np.array([100.0, 100, 0, 0, 60, 60, 0, 0])
    for start, end in hatch_strokes(x, y, "level"):
        if start[1] < 60:
            assert not (start[0] < 50 < end[0])


def test_strokes_keep_their_place_when_the_area_grows():
    before = {round(start[1], 6) for start, _ in hatch_strokes(SQUARE_X, SQUARE_Y, "level")}
    after = {round(start[1], 6) for start, _ in hatch_strokes(SQUARE_X, SQUARE_Y + [-3, -3, 0, 0], "level")}
    assert before <= after


def test_nothing_is_hatched_in_an_area_without_place_or_size():
    assert len(hatch_strokes(np.array([0.0, np.nan, 1]), np.array([0.0, 1, 1]), "level")) == 0
    assert len(hatch_strokes(np.array([1.0, 2, 2]), np.array([1.0, 1, 2]), "dots")) == 0
