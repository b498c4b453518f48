"""The plausible range of what a picture says, from the ranges of the constants behind it."""

import numpy as np


def one_at_a_time(numbers):
    """Return each number as an array: all at their values first, then each in turn at its low and at its high.

    Parameters
    ----------
    numbers : sequence of Sourced, or of (value, low, high)
        The uncertain numbers.

    Returns
    -------
    list of array
        One for each number, all of the same length, 1 + 2 times how many there are.
    """
    triples = [(n.value, n.low, n.high) if hasattr(n, "low") else tuple(n) for n in numbers]
    if not triples:
        return []
    arrays = np.repeat(np.array([[value] for value, _, _ in triples], dtype=float), 1 + 2 * len(triples), axis=1)
    for place, (_, low, high) in enumerate(triples):
        arrays[place, 1 + 2 * place], arrays[place, 2 + 2 * place] = low, high
    return list(arrays)


def value_and_range(results):
    """Return value, low and high of what was computed from such arrays.

    Parameters
    ----------
    results : array
        Its first axis runs as in `one_at_a_time`; independent errors add as the root of the sum of their squares.

    Returns
    -------
    tuple
        Value, low, high: floats, or arrays when there are further axes.
    """
    results = np.asarray(results, dtype=float)
    change = results[1:] - results[0]
    lows, highs = change[::2], change[1::2]
    up = np.sqrt(_sum_of_squares(np.maximum(np.maximum(lows, highs), 0.0)))
    down = np.sqrt(_sum_of_squares(np.minimum(np.minimum(lows, highs), 0.0)))
    return results[0], np.maximum(results[0] - down, 0.0), results[0] + up


def _sum_of_squares(changes):
    """Sum the squares along the first axis, in the same order whether one thing was computed or many at once."""
    squares = changes ** 2
    if squares.ndim > 1 and squares.shape[-1] == 1:      # numpy adds a single column pairwise, several of them row by row
        return np.ascontiguousarray(np.moveaxis(squares, 0, -1)).sum(axis=-1)
    return squares.sum(axis=0)
