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
    arrays = []
    for place, (value, low, high) in enumerate(triples):
        array = np.full(1 + 2 * len(triples), float(value))
        array[1 + 2 * place:3 + 2 * place] = low, high
        arrays.append(array)
    return arrays


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
    change = (results[1:] - results[0]).reshape(-1, 2, *results.shape[1:])
    up = np.sqrt(np.sum(np.maximum(change.max(axis=1), 0.0) ** 2, axis=0))
    down = np.sqrt(np.sum(np.minimum(change.min(axis=1), 0.0) ** 2, axis=0))
    return results[0], np.maximum(results[0] - down, 0.0), results[0] + up
