"""Which column of the record a header means, in the spellings of students and spreadsheets, and the unit written in it."""

import re

from gypsumkit.bench.cells import factor_of
from gypsumkit.bench.columns import COLUMNS
from gypsumkit.problems import Problem, nearest
from gypsumkit.units import find_unit

RATIO = "water_powder_ratio"        # no column of its own: the water is worked out from it

# Other names in use at the bench; common practice, no source.
_OTHER_NAMES = {
    "record_id": "no, nr, number, id, mix, mix no, mix number",
    "recorded_at": "date, time, when, date and time, recorded",
    "made_by": "name, student, by, who, group, bench, mixed by",
    "powder": "product, material, gypsum, kind of powder, powder name",
    "lot": "batch, lot number, charge",
    "powder_g": "powder weight, powder mass, weight of powder, mass of powder, weight, powder used",
    "water_ml": "water, water volume, volume of water, amount of water, water used",
    "mixing": "mixed, method, mixing method, way of mixing",
    "turns": "spatula turns, number of turns, rotations, strokes",
    "water_temperature_c": "water temp, temperature of the water, t water",
    "room_temperature_c": "room temp, temperature, temp, temperature of the room, t room",
    "ring_diameter_mm": "ring diameter, ring, diameter of the ring, ring width, ring inside",
    "ring_height_mm": "ring height",
    "ring_lifted_min": "lifted, lifted at, ring lifted, ring lift",
    "vibrated": "vibrator, vibration, vibrated",
    "spread_one_mm": "spread, spread 1, spread one, spread a, diameter 1, spread diameter, ring spread, slump diameter",
    "spread_two_mm": "spread 2, spread two, spread b, diameter 2, spread across",
    "gloss_loss_min": "gloss, gloss loss, gloss gone, dull, dull at",
    "initial_set_min": "initial set, initial setting time, vicat, vicat needle, initial",
    "light_needle_min": "light needle, light gillmore",
    "final_set_min": "final set, final setting time, heavy needle, heavy gillmore, final, setting time",
    "gauge_length_mm": "gauge length, start length, length, first length",
    "length_change_um": "length change, expansion, dial, dial reading, change of length",
    "cylinder_diameter_mm": "cylinder diameter, cylinder, specimen diameter",
    "crush_load_n": "load, crush load, crushing load, force, breaking load, load at break",
    "crushed_at_h": "crushed at, age, age at crushing",
    "crushed_state": "state, wet or dry, crushed wet or dry",
    "note": "notes, remark, remarks, comment, comments",
    RATIO: "w/p, wp, w/p ratio, water powder ratio, water/powder, water/powder ratio, ratio, water to powder",
}


def _plain(text):
    return re.sub(r"[^a-z0-9]+", " ", text.lower()).strip()


def _known():
    known = {}
    for name, others in _OTHER_NAMES.items():
        column = COLUMNS.get(name)
        own = [name, *((column.words,) if column else ())]
        for spelling in (*own, *others.split(",")):
            known.setdefault(_plain(spelling), name)
        if column and column.is_number and column.unit != "1":
            known.setdefault(_plain(name.rpartition("_")[0]), name)
    known["powder"] = "powder"
    return known


_KNOWN = _known()


def column_of(header):
    """Return the column that a header means and the unit written in it.

    Parameters
    ----------
    header : str
        Such as "powder_g", "Powder (g)", "Spread [cm]", "water, mL" or "W/P".

    Returns
    -------
    str or None, str or None
        A key of `COLUMNS` or `RATIO`, None when it means none of them; the unit where one is written that is not the column's own.

    Raises
    ------
    Problem
        When the unit is of another kind than the column.
    """
    text = " ".join(header.split())
    name = _KNOWN.get(_plain(text))
    if name:
        return name, None
    for pattern in (r"^(.*?)\s*[(\[](.+?)[)\]]\s*$", r"^(.*\S)\s*[,;/:]\s*(\S.*)$", r"^(.*\S)\s+in\s+(\S.*)$", r"^(.*[^\W_])[ _](\S+)$"):
        found = re.match(pattern, text)
        if not found:
            continue
        before, unit = _plain(found.group(1)), found.group(2).strip()
        name = _KNOWN.get(before)
        if before in ("powder", "plaster", "stone", "gypsum") and _is_unit(unit):
            name = "powder_g"
        if name == RATIO:
            return name, unit
        if name in COLUMNS and COLUMNS[name].unit in (None, "1"):
            return name, None
        if name in COLUMNS and _is_unit(unit):
            factor_of(name, unit)
            return name, None if unit == COLUMNS[name].unit else unit
    return None, None


def _is_unit(text):
    try:
        find_unit(text)
        return True
    except Problem:
        return False


def nearest_column(header):
    """Return the words of the column that an unknown header most resembles, or None."""
    guess = nearest(_plain(header), _KNOWN)
    return None if guess is None else COLUMNS[_KNOWN[guess]].words if _KNOWN[guess] in COLUMNS else "W/P"
