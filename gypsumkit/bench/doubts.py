"""What in a record may be a slip: each doubt as a question with a proposal; nothing is put right without an answer.

Bounds and rules are ours [gypsumkit]: they only decide when to ask.
"""

from typing import NamedTuple

import numpy as np

from gypsumkit.bench.cells import said
from gypsumkit.bench.columns import COLUMNS, NUMBERS

# Units that people measure in and forget to write, with their size in the unit of the column.
MEANT = {
    "mm": (("cm", 10.0), ("m", 1000.0), ("µm", 0.001)),
    "µm": (("mm", 1000.0),),
    "g": (("kg", 1000.0), ("mg", 0.001)),
    "mL": (("L", 1000.0),),
    "min": (("s", 1 / 60), ("h", 60.0)),
    "h": (("min", 1 / 60), ("days", 24.0)),
    "N": (("kN", 1000.0),),
}
DRIEST_RATIO, WETTEST_RATIO = 0.12, 1.0
USUAL_RING_MM, RING_READ_WITHIN_MM = 35.0, 1.0
SPREADS_DIFFER = 1.4
DIAL_IN_MM_BELOW_UM = 0.5
WET_CRUSHED_BEFORE_H = 24.0


class Doubt(NamedTuple):
    """A cell that may be a slip, with the question to ask and what it may have meant."""

    place: int          # of the row in the records
    column: str
    value: float
    kind: str           # what it may be: a unit, "swapped", "odd"
    sentence: str
    proposal: dict      # new values by column; empty when there is none


def doubts(records, most=None):
    """Return what should be asked about these records, row by row.

    Parameters
    ----------
    records : Records
        Numbers in the units of their columns.
    most : int, optional
        Only so many are put into words.

    Returns
    -------
    list of Doubt, int
        The doubts, and how many there are in all.
    """
    found = []          # (place, order of the column, how to word it)
    asked = {}
    for order, name in enumerate(NUMBERS):
        value = records[name]
        low, high = COLUMNS[name].usual
        odd = (value < low) | (value > high)
        if name == "length_change_um":
            odd |= (value != 0) & (np.abs(value) <= DIAL_IN_MM_BELOW_UM)
        if name in ("spread_one_mm", "spread_two_mm"):
            ring = np.where(np.isnan(records["ring_diameter_mm"]), USUAL_RING_MM, records["ring_diameter_mm"])
            narrow = value < ring - RING_READ_WITHIN_MM
            found += [(place, order, _narrow, name, float(ring[place])) for place in np.flatnonzero(narrow)]
            found += [(place, order, _unusual, name, None) for place in np.flatnonzero(odd & ~narrow)]
            asked[name] = odd | narrow
        else:
            found += [(place, order, _unusual, name, None) for place in np.flatnonzero(odd)]
            asked[name] = odd
    order = len(NUMBERS)
    powder, water = records["powder_g"], records["water_ml"]
    ratio = water / powder
    odd = ((ratio > WETTEST_RATIO) | (ratio < DRIEST_RATIO)) & ~asked["powder_g"] & ~asked["water_ml"]
    found += [(place, order, _ratio, "water_ml", None) for place in np.flatnonzero(odd)]
    one, two = records["spread_one_mm"], records["spread_two_mm"]
    odd = (np.maximum(one, two) > SPREADS_DIFFER * np.minimum(one, two)) & ~asked["spread_one_mm"] & ~asked["spread_two_mm"]
    found += [(place, order + 1, _spreads, "spread_two_mm", None) for place in np.flatnonzero(odd)]
    late, taken = records["final_set_min"], asked["final_set_min"].copy()
    for name in ("gloss_loss_min", "initial_set_min", "light_needle_min"):
        odd = (records[name] > late) & ~taken & ~asked[name]
        taken |= odd
        found += [(place, order + 2, _order, "final_set_min", name) for place in np.flatnonzero(odd)]
    at = records["crushed_at_h"]
    odd = (records["crushed_state"] == "wet") & (at > WET_CRUSHED_BEFORE_H) & ~asked["crushed_at_h"]
    found += [(place, list(NUMBERS).index("crushed_at_h"), _late_and_wet, "crushed_at_h", None) for place in np.flatnonzero(odd)]
    found.sort(key=lambda one: one[:2])
    worded = [make(records, int(place), name, more) for place, _, make, name, more in found[:most]]
    return worded, len(found)


def _meant(name, value):
    """Return the unit that would make a value usual, and the value it would then be, or None twice."""
    column = COLUMNS[name]
    low, high = column.usual
    for unit, factor in MEANT.get(column.unit, ()):
        if low <= value * factor <= high and column.possible[0] <= value * factor <= column.possible[1]:
            return unit, float(f"{value * factor:.6g}")
    if column.unit == "°C" and low <= (value - 32.0) / 1.8 <= high:
        return "°F", float(f"{(value - 32.0) / 1.8:.3g}")
    return None, None


def proposal_for(name, value):
    """Return what a number outside the usual may have meant: the unit, and the new value by column (empty when nothing fits)."""
    unit, meant = _meant(name, value)
    return unit, {} if meant is None else {name: meant}


def _asked(name, value, unit, proposal):
    if not proposal:
        return "is it right?"
    number = said(name, value).removesuffix(f" {COLUMNS[name].unit}")
    return f"is it {number} {unit} = {said(name, proposal[name])}?"


def _unusual(records, place, name, _):
    value, column = float(records[name][place]), COLUMNS[name]
    unit, proposal = proposal_for(name, value)
    low, high = column.usual
    sentence = (f"{column.words}: {said(name, value)} is not what a class usually meets, {low:g} to {said(name, high)}; "
                f"{_asked(name, value, unit, proposal)}")
    return Doubt(place, name, value, unit or "odd", sentence, proposal)


def _narrow(records, place, name, ring_mm):
    value = float(records[name][place])
    unit, proposal = proposal_for(name, value)
    sentence = (f"{COLUMNS[name].words}: {said(name, value)} is narrower than the ring of {said(name, ring_mm)}; "
                f"{_asked(name, value, unit, proposal)}")
    return Doubt(place, name, value, unit or "odd", sentence, proposal)


def _late_and_wet(records, place, name, _):
    value = float(records[name][place])
    unit, proposal = proposal_for(name, value)
    sentence = f"{COLUMNS[name].words}: {said(name, value)} is late for a piece that is still wet; {_asked(name, value, unit, proposal)}"
    return Doubt(place, name, value, unit or "odd", sentence, proposal)


def _ratio(records, place, name, _):
    powder, water = float(records["powder_g"][place]), float(records["water_ml"][place])
    if water > powder and COLUMNS["water_ml"].possible[0] <= powder and DRIEST_RATIO <= powder / water <= WETTEST_RATIO:
        proposal = {"powder_g": water, "water_ml": powder}
        sentence = f"{said('water_ml', water)} of water and {said('powder_g', powder)} of powder: there is more water than powder; are the two swapped?"
        return Doubt(place, name, water, "swapped", sentence, proposal)
    how = "wetter" if water > powder else "drier"
    sentence = f"{said('water_ml', water)} of water and {said('powder_g', powder)} of powder: that is {how} than any mix of the course; is it right?"
    return Doubt(place, name, water, "odd", sentence, {})


def _spreads(records, place, name, _):
    one, two = float(records["spread_one_mm"][place]), float(records[name][place])
    sentence = f"Spread: {said(name, one)} one way and {said(name, two)} across differ much; is one of them misread?"
    return Doubt(place, name, two, "odd", sentence, {})


def _order(records, place, name, earlier):
    late, early = float(records[name][place]), float(records[earlier][place])
    sentence = (f"{COLUMNS[name].words}: {said(name, late)} comes before {COLUMNS[earlier].words.lower()} at {said(earlier, early)}; "
                "are the two swapped?")
    return Doubt(place, name, late, "swapped", sentence, {name: early, earlier: late})
