"""Which rows of the records are specimens of a test, and why the others are not."""

from typing import NamedTuple

import numpy as np

from gypsumkit.science.ring import RING_MM

# How near to the conditions of the test a row has to be; the size of the cylinder is the standard's, the rest is ours.
CYLINDER_MM, CYLINDER_NEAR_MM = 20.0, 0.2
CRUSHED_H, CRUSHED_NEAR_H = 1.0, 5.0 / 60.0
RING_NEAR_MM, LIFTED_NEAR_MIN = 0.5, 0.1
FLUIDITY_LIFTED_MIN = 1.25
NEAR_RATIO = 0.02                    # as a share of the ratio that is asked for


class Counted(NamedTuple):
    """The specimens of one test among the records, in their order, and the rows that were left out."""

    values: tuple
    rows: tuple                      # names of the rows that count
    left_out: tuple                  # (name of the row, why it does not count)


def row_name(records, place):
    """Return how a row is called: its own number, else its place."""
    return str(records["record_id"][place]).strip() or str(place + 1)


def _off(values, wanted, near):
    return ~(np.abs(values - wanted) <= near + 1e-9)


def _spread(records, lifted_min):
    ring = _off(records["ring_diameter_mm"], RING_MM[0], RING_NEAR_MM) | _off(records["ring_height_mm"], RING_MM[1], RING_NEAR_MM)
    return records.spread_mm, [
        (records["vibrated"] == "yes", "it was spread on the vibrator"),
        (ring, "its ring is not 35 mm wide and 50 mm high, or that is not said"),
        (_off(records["ring_lifted_min"], lifted_min, LIFTED_NEAR_MIN), f"its ring was not lifted at {lifted_min:g} min, or that is not said")]


def _strength(records):
    return records.strength_mpa, [
        (records["crushed_state"] == "dry", "it was crushed dry"),
        (records["crushed_state"] != "wet", "it is not said whether it was crushed wet or dry"),
        (_off(records["cylinder_diameter_mm"], CYLINDER_MM, CYLINDER_NEAR_MM), "its cylinder is not 20 mm wide"),
        (_off(records["crushed_at_h"], CRUSHED_H, CRUSHED_NEAR_H), "it was not crushed at 1 h, or that is not said")]


_FOUND = {
    "fluidity": lambda records: _spread(records, FLUIDITY_LIFTED_MIN),
    "setting time": lambda records: (records["initial_set_min"], []),
    "expansion": lambda records: (records.expansion_percent, []),
    "strength": _strength,
    "gloss loss": lambda records: (records["gloss_loss_min"], []),
    "final set": lambda records: (records["final_set_min"], []),
}


def recorded(test):
    """Whether the records have a column for this test at all."""
    return test in _FOUND or test == "spread"


def counted(records, test, lifted_min=FLUIDITY_LIFTED_MIN, more=(), among=None):
    """Return the specimens of a test among the records.

    Parameters
    ----------
    records : gypsumkit.bench.records.Records
        The records, in the order in which they were made.
    test : str
        "spread", or a key of `requirements.TESTS` that the records have a column for, or "gloss loss", "final set".
    lifted_min : float
        For "spread": when the ring has to be lifted, min.
    more : sequence of (array of bool, str)
        More reasons why a row does not count.
    among : array of bool, optional
        The rows that are looked at; all of them when not given.

    Returns
    -------
    Counted
        A row in which nothing of this test was measured is in neither list.
    """
    values, reasons = _spread(records, lifted_min) if test == "spread" else _FOUND[test](records) if test in _FOUND else (np.full(len(records), np.nan), [])
    there = np.flatnonzero(~np.isnan(values) & (True if among is None else among))
    kept, names, left_out = [], [], []
    for place in there:
        why = next((words for wrong, words in (*more, *reasons) if wrong[place]), None)
        if why:
            left_out.append((row_name(records, place), why))
        else:
            kept.append(float(values[place]))
            names.append(row_name(records, place))
    return Counted(tuple(kept), tuple(names), tuple(left_out))
