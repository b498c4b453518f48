"""Plausible ranges: one constant at a time against drawing all of them at random."""

import numpy as np
import pytest

from gypsumkit.plausible import one_at_a_time, value_and_range


def test_against_random_draws():
    numbers = ((2.64, 2.60, 2.68), (2.32, 2.30, 2.34), (0.02, 0.01, 0.03))
    a, b, c = one_at_a_time(numbers)
    value, low, high = value_and_range(a / b + c)
    rng = np.random.default_rng(42)
    drawn = [rng.normal(middle, (top - bottom) / 4, 100_000) for middle, bottom, top in numbers]
    expected = np.quantile(drawn[0] / drawn[1] + drawn[2], [0.0228, 0.9772])
    assert value == pytest.approx(2.64 / 2.32 + 0.02)
    assert (low, high) == pytest.approx(tuple(expected), abs=4e-4)


def test_many_results_at_once():
    (a,) = one_at_a_time(((1.0, 0.5, 2.0),))
    value, low, high = value_and_range(np.column_stack([a, 3 - a]))
    assert value.tolist() == [1, 2] and low.tolist() == [0.5, 1] and high.tolist() == [2, 2.5]
