"""Record sheets: what a student measured, marked against the student's own written recipe with the library.

A value outside the plausible range is not called wrong, since it may be a real effect: its mark waits for the assessor.
"""

from typing import NamedTuple

import numpy as np

from gypsumkit.bench.columns import COLUMNS
from gypsumkit.bench.own_data import MEASURED, compare, measured_values
from gypsumkit.conditions import HAND_TURNS
from gypsumkit.showing import rounded

RECIPE = ("powder", "powder_g", "water_ml", "mixing", "water_temperature_c")


class RecordMark(NamedTuple):
    """The mark of one criterion of one row; `marks` is None where it waits for the assessor, `by_hand` asks for a look."""

    row: str
    made_by: str
    criterion: str
    marks: int
    out_of: int
    why: str
    by_hand: bool = False


def record_marks(read):
    """Mark the rows of a record sheet.

    Parameters
    ----------
    read : gypsumkit.bench.reading.Read
        As read, with what was doubtful and refused.

    Returns
    -------
    tuple of RecordMark
        Row by row: recipe complete (2), units and cells readable (1), spread measured both ways (1), and each measured quantity inside the
        plausible range of its own recipe (1).
    """
    records = read.records
    compared = {name: compare(records, name) for name in MEASURED}
    asked = {}
    for question in (*read.questions, *read.refused):
        asked.setdefault(question.place, []).append(question)
    found = []
    for place in range(len(records)):
        name, maker = str(records["record_id"][place]).strip() or str(place + 1), str(records["made_by"][place]).strip()
        row = records.row(place)
        found += [RecordMark(name, maker, *mark) for mark in (_recipe(row), _units(asked.get(place, ())), _both_ways(row)) if mark]
        found += [RecordMark(name, maker, *mark) for mark in _inside(compared, place)]
    return tuple(found)


def _recipe(row):
    wanted = [*RECIPE, "turns"] if str(row.get("mixing", "")) in HAND_TURNS else list(RECIPE)
    missing = [COLUMNS[name].words.lower() for name in wanted if name not in row]
    why = "The recipe can be repeated from what is written." if not missing else f"Not written down: {', '.join(missing)}."
    return "recipe complete", max(2 - len(missing), 0), 2, why


def _units(questions):
    if not questions:
        return "units and cells", 1, 1, "Every cell could be read with its unit."
    return "units and cells", 0, 1, " ".join(str(one) for one in questions[:3]) + (f" And {len(questions) - 3} more." if len(questions) > 3 else ""), True


def _both_ways(row):
    there = [name for name in ("spread_one_mm", "spread_two_mm") if name in row]
    if not there:
        return None
    return ("spread both ways", int(len(there) == 2), 1, "Read in two directions." if len(there) == 2 else "Read in one direction only.")


def _inside(compared, place):
    for quantity, found in compared.items():
        measured = float(measured_values(found.records, quantity)[place])
        if not np.isfinite(measured):
            continue
        what = MEASURED[quantity]
        value = f"{rounded(measured, 3)} {what.unit}"
        if not found.compared[place]:
            yield f"{what.words} in range", None, 1, f"{value} could not be compared: {str(found.why[place]).rstrip('.')}.", True
            continue
        span = f"{rounded(found.low[place], 3)} to {rounded(found.high[place], 3)} {what.unit}"
        if found.inside[place]:
            yield f"{what.words} in range", 1, 1, f"{value} lies within {span}, predicted of the recipe as written."
        else:
            yield (f"{what.words} in range", None, 1, f"{value} lies outside {span}, predicted of the recipe as written: a slip in measuring or writing, or a real effect.", True)
