"""Own measurements against the library's prediction of the same recipe.

What was not written down is taken as in the standard test and counted, so that it can be said. A row that cannot be predicted
keeps its place and says why.
"""

from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from gypsumkit import powders
from gypsumkit.bench.columns import COLUMNS
from gypsumkit.bench.records import Records
from gypsumkit.bench.statistics import finite, grubbs, precision, summary
from gypsumkit.conditions import HAND_TURNS, Conditions
from gypsumkit.mix import QUANTITIES, predict, predict_setting
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.problems import Problem
from gypsumkit.recipe import checked_ratio
from gypsumkit.science import ring
from gypsumkit.showing import range_words, rounded

ALL_POWDERS = "all powders"


class Measured(NamedTuple):
    """One measured quantity: words, unit, what holds it in the records, and the prediction it is compared with."""

    words: str
    unit: str
    column: str
    predicted: str


MEASURED = {
    "spread_mm": Measured("ring spread", "mm", "spread_mm", "spread_mm"),
    "strength_mpa": Measured("strength", "MPa", "strength_mpa", "wet_strength_mpa"),
    "gloss_loss_min": Measured("loss of gloss", "min", "gloss_loss_min", "gloss_loss_min"),
    "initial_set_min": Measured("initial set", "min", "initial_set_min", "initial_set_min"),
    "light_needle_min": Measured("light needle", "min", "light_needle_min", "light_needle_min"),
    "final_set_min": Measured("final set", "min", "final_set_min", "final_set_min"),
    "expansion_percent": Measured("expansion", "%", "expansion_percent", "setting_expansion_percent"),
}

# Rows with nearly the same conditions are predicted together: rounding them so moves a prediction by less than 0.5 %.   [gypsumkit]
_STEPS = {"turns": 2.0, "water_temperature_c": 0.5, "room_temperature_c": 0.5, "ring_lifted_min": 0.1}
ONE_HOUR = (0.75, 2.0)               # a wet strength measured within these hours is compared with that at 1 h   [gypsumkit]
STANDS_WITHIN = 1.03                 # a spread this close to the ring's own width only says that the mix stands  [gypsumkit]
STANDARD = {"mixing": "spatulated by hand", "water_temperature_c": powders.ROOM_C, "room_temperature_c": powders.ROOM_C,
            "vibrated": "no", "crushed_state": "wet", "crushed_at_h": 1.0,
            "ring_diameter_mm": ring.RING_DIAMETER_MM, "ring_height_mm": ring.RING_HEIGHT_MM}
_MIXED = ("mixing", "turns", "water_temperature_c", "room_temperature_c")
_RING = ("ring_diameter_mm", "ring_height_mm", "ring_lifted_min", "vibrated")


def measured_values(records, quantity):
    """Return a measured quantity of all records, not a number where it was not measured."""
    column = MEASURED[quantity].column
    return np.asarray(getattr(records, column) if column in ("spread_mm", "strength_mpa", "expansion_percent") else records[column], dtype=float)


# ---------------------------------------------------------------------------------------------
# Predicting many rows

@dataclass(frozen=True, eq=False)
class Predicted:
    """What is predicted of many rows: columns of value, low and high by name, and why not where there is none."""

    value: dict
    low: dict
    high: dict
    trusted: dict
    powder: object
    standard: object                 # made in the standard way, so that the prediction depends on powder and water alone
    why: object                      # a sentence for a row without prediction, else ""
    taken: dict                      # how often a column was not written and the standard was taken


def predict_rows(records, names, of_the_ring=False):
    """Predict every row at its own recipe.

    Parameters
    ----------
    records : Records
        What was made.
    names : sequence of str
        Quantities of `gypsumkit.mix`.
    of_the_ring : bool
        The moment, the ring and the vibrator count too.

    Returns
    -------
    Predicted

    Notes
    -----
    Rows of one powder and one way of making are predicted in one call. For that, turns are rounded to 2, temperatures to 0.5 °C and
    the moment to 0.1 min; the size of the batch, which moves these quantities by less than 0.3 %, is left out. Turns count for mixing
    by hand only.
    """
    count = len(records)
    columns = {part: {name: np.full(count, np.nan) for name in names} for part in ("value", "low", "high")}
    trusted = {name: np.zeros(count, dtype=bool) for name in names}
    standard, ratio = np.zeros(count, dtype=bool), records.water_powder_ratio
    powder, why = _named(records["powder"])
    why[(why == "") & ~np.isfinite(ratio)] = "powder or water was not written down"
    possible = np.flatnonzero(why == "")
    cells, taken = _ways({name: records[name][possible] for name in (*_MIXED, *(_RING if of_the_ring else ()))})
    for group in _alike([powder[possible], *cells.values()]):
        made = {name: column[group[0]] for name, column in cells.items()}
        _predict_group(powder[possible[group[0]]], made, possible[group], ratio, names, columns, trusted, standard, why)
    return Predicted(columns["value"], columns["low"], columns["high"], trusted, powder, standard, why, taken)


def _named(written):
    """The powder of each row by its usual name, and why there is none."""
    names, back = np.unique(np.array([str(name) for name in written], dtype=object), return_inverse=True)
    found = [_found(name) for name in names]
    powder, why = (np.array([one[part] for one in found], dtype=object) for part in (0, 1))
    return (powder[back], why[back]) if len(names) else (np.array([], dtype=object), np.array([], dtype=object))


def _found(named):
    if not named.strip():
        return "", "no powder was written down"
    try:
        return find_powder(named).name, ""
    except Problem as problem:
        return "", str(problem)


def _ways(cells):
    """How rows were made, rounded, with the standard where nothing was written; and how often that was so."""
    full, taken = {}, {}
    for name, column in cells.items():
        text = column.dtype == object
        empty = column == "" if text else np.isnan(column)
        if name == "turns":
            by_hand = np.isin(full["mixing"].astype(str), list(HAND_TURNS))
            column, empty = np.where(by_hand, column, np.nan), empty & by_hand
        if np.any(empty):
            taken[name] = int(np.sum(empty))
        if name in STANDARD:
            column = np.where(empty, STANDARD[name], column)
        step = _STEPS.get(name)
        full[name] = np.round(np.round(column / step) * step, 6) if step else column
    return full, taken


def _alike(columns):
    """Groups of places at which all columns are alike."""
    code = np.zeros(len(columns[0]), dtype=np.int64)
    for column in columns:
        values, back = np.unique(column, return_inverse=True)
        _, code = np.unique(code * len(values) + back, return_inverse=True)
    order = np.argsort(code, kind="stable")
    return np.split(order, np.flatnonzero(np.diff(code[order])) + 1) if len(code) else []


def _predict_group(powder, made, places, ratio, names, columns, trusted, standard, why):
    """Predict the rows of one powder made in one way; fills the columns at their places."""
    kind = POWDERS[powder]
    made = {name: None if value != value else value for name, value in made.items()}
    paste = (ratio[places] >= kind.least_ratio) & (ratio[places] <= kind.most_ratio)
    for place in places[~paste]:
        try:
            checked_ratio(kind, ratio[place])
        except Problem as problem:
            why[place] = str(problem)
    places = places[paste]
    if not places.size:
        return
    distinct, back = np.unique(ratio[places], return_inverse=True)
    moment = made.get("ring_lifted_min")
    size = (made.get("ring_diameter_mm", ring.RING_DIAMETER_MM), made.get("ring_height_mm", ring.RING_HEIGHT_MM))
    try:
        conditions = Conditions(**{name: made[name] for name in _MIXED})
        found = {}
        if set(names) & set(QUANTITIES):
            found.update(predict(powder, distinct, time_min=moment, ring_mm=size, conditions=conditions))
        if set(names) - set(QUANTITIES):
            found.update(predict_setting(powder, distinct, conditions))
    except Problem as problem:
        why[places] = str(problem)
        return
    standard[places] = (conditions.standard and moment in (None, kind.standard_time_min) and size == ring.RING_MM
                        and made.get("vibrated", "no") == "no")
    for name in names:
        one = found[name]
        for part in ("value", "low", "high"):
            columns[part][name][places] = np.asarray(getattr(one, part))[back]
        trusted[name][places] = np.asarray(one.valid)[back]
        lost = places[~np.isfinite(columns["value"][name][places])]
        why[lost] = one.reason or "not predicted"


# ---------------------------------------------------------------------------------------------
# Against the prediction

@dataclass(frozen=True, eq=False)
class Comparison:
    """Own measurements beside the prediction of the same recipes, row for row.

    Where `why` is not empty the row could not be compared, for that reason.
    """

    records: Records
    quantity: str
    powder: object
    ratio: object
    measured: object
    predicted: object
    low: object
    high: object
    trusted: object
    standard: object
    stands: object                   # a spread that only says that the mix stands: compared, and left out of the scatter
    why: object
    taken: dict

    @cached_property
    def compared(self):
        """Which rows have both a measured and a predicted number."""
        return self.why == ""

    @cached_property
    def counted(self):
        """Which rows count for scatter and fits."""
        return self.compared & ~self.stands

    @cached_property
    def off_percent(self):
        """Measured above predicted, in percent of the prediction; not a number where it does not count."""
        with np.errstate(invalid="ignore", divide="ignore"):
            return np.where(self.counted, 100.0 * (self.measured / self.predicted - 1.0), np.nan)

    @cached_property
    def inside(self):
        """Which rows lie within the plausible range of their prediction."""
        with np.errstate(invalid="ignore"):
            return self.compared & (self.measured >= self.low - 1e-9) & ~(self.measured > self.high + 1e-9)

    def where(self, chosen):
        """Return some of the rows, with the counts of what was taken as standard left as they are."""
        chosen = np.asarray(chosen)
        parts = {name: getattr(self, name)[chosen] for name in ("powder", "ratio", "measured", "predicted", "low", "high", "trusted", "standard",
                                                                "stands", "why")}
        return Comparison(self.records.where(chosen), self.quantity, taken=self.taken, **parts)

    def of_powder(self, powder):
        """Return the measured rows of one powder, or all rows for `ALL_POWDERS`."""
        return self if powder == ALL_POWDERS else self.where(self.powder == powder)

    def suspect(self):
        """Return the row farthest from the others, by how far it is off its prediction; its place is that of the row."""
        return grubbs(self.off_percent)

    def precision(self, leave_out=()):
        """Return the scatter within and between makers of how far they are off, in percent of the prediction.

        Parameters
        ----------
        leave_out : sequence of int
            Rows left out of the count; they stay in the picture.

        Returns
        -------
        Precision
        """
        off = self.off_percent.copy()
        off[list(leave_out)] = np.nan
        named = np.array([str(maker).strip() != "" for maker in self.records["made_by"]], dtype=bool)
        found = precision(np.where(named, off, np.nan), self.records["made_by"])
        return found if found.count or not np.any(np.isfinite(off)) else found._replace(reason="not enough: nobody is named as the maker of a mix")


def compare(records, quantity):
    """Compare own measurements with the prediction of their own recipes.

    Parameters
    ----------
    records : Records
        What was made and measured.
    quantity : str
        A key of `MEASURED`.

    Returns
    -------
    Comparison

    Raises
    ------
    Problem
        When there is no such quantity.
    """
    if quantity not in MEASURED:
        raise Problem(f"'{quantity}' is not among what is compared; there are {', '.join(MEASURED)}.")
    measured = measured_values(records, quantity)
    of_ring, crushed = quantity == "spread_mm", quantity == "strength_mpa"
    names = {"spread_mm": ("spread_mm", "vibrated_spread_mm"), "strength_mpa": ("wet_strength_mpa", "dry_strength_mpa")}.get(
        quantity, (MEASURED[quantity].predicted,))
    there = np.flatnonzero(np.isfinite(measured))
    found = predict_rows(records.where(there), names, of_ring)
    count = len(records)
    why = np.full(count, "not measured", dtype=object)
    why[there] = found.why
    taken = dict(found.taken)
    columns = {part: np.full(count, np.nan) for part in ("value", "low", "high")}
    trusted, standard, powder = np.zeros(count, dtype=bool), np.zeros(count, dtype=bool), np.full(count, "", dtype=object)
    powder[there], standard[there] = found.powder, found.standard
    other = _second_kind(records.where(there), quantity, taken, why, there)
    for part in columns:
        columns[part][there] = np.where(other, getattr(found, part)[names[-1]], getattr(found, part)[names[0]])
    trusted[there] = np.where(other, found.trusted[names[-1]], found.trusted[names[0]])
    if crushed:
        standard[there] &= ~other
    stands = np.zeros(count, dtype=bool)
    if of_ring:
        width = np.where(np.isnan(records["ring_diameter_mm"]), ring.RING_DIAMETER_MM, records["ring_diameter_mm"])
        with np.errstate(invalid="ignore"):
            stands = measured <= STANDS_WITHIN * width
    gone = (why != "")
    for part in columns:
        columns[part][gone] = np.nan
    return Comparison(records, quantity, powder, records.water_powder_ratio, measured, columns["value"], columns["low"], columns["high"],
                      trusted, standard, stands & ~gone, why, taken)


def _second_kind(records, quantity, taken, why, there):
    """Which rows are on the vibrator, or dry; marks a strength of another hour as not predicted."""
    if quantity == "spread_mm":
        return records["vibrated"] == "yes"
    if quantity != "strength_mpa":
        return np.zeros(len(records), dtype=bool)
    state, hours = records["crushed_state"], records["crushed_at_h"]
    for name, empty in (("crushed_state", state == ""), ("crushed_at_h", np.isnan(hours) & (state != "dry"))):
        if np.any(empty):
            taken[name] = int(np.sum(empty))
    with np.errstate(invalid="ignore"):
        another = (state != "dry") & ((hours < ONE_HOUR[0]) | (hours > ONE_HOUR[1]))
    for place in np.flatnonzero(another):
        if not why[there[place]]:
            why[there[place]] = f"crushed wet at {hours[place]:g} h; the wet strength is predicted at 1 h"
    return state == "dry"


# ---------------------------------------------------------------------------------------------
# In words

def comparison_words(compared):
    """Say how own measurements lie against the prediction.

    Parameters
    ----------
    compared : Comparison

    Returns
    -------
    str
    """
    what, count = MEASURED[compared.quantity], int(np.sum(compared.compared))
    measured = int(np.sum(np.isfinite(compared.measured)))
    if not measured:
        return f"No {what.words} was measured in these mixes."
    said = [f"{count} of {measured} measured {what.words} values can be compared."]
    if count:
        said.append(f"{int(np.sum(compared.inside))} of {count} lie within the plausible range of their own prediction.")
    off = summary(compared.off_percent)
    if off.count >= 2:
        side, sure = f"{rounded(abs(off.mean))} % {'above' if off.mean > 0 else 'below'} the predicted one", range_words(off.low, off.high)
        if sure:
            said.append(f"On average the measured value lies {side}, 95 % sure {sure} %"
                        + (": by chance it may be no difference at all." if off.low < 0 < off.high else ".")
                        + f" Single mixes scatter by {rounded(off.standard_deviation)} % (standard deviation).")
        else:
            said.append(f"The measured values lie {side}, all alike: without scatter nothing can be said of chance. Were they read finely enough?")
    elif off.reason:
        said.append(f"Mean and scatter: {off.reason}.")
    stands = int(np.sum(compared.stands))
    if stands:
        said.append(f"{stands} stood as cast: that says no more than “stiff”, so they do not count for the scatter.")
    doubtful = int(np.sum(compared.compared & ~compared.trusted))
    if doubtful:
        said.append(f"{doubtful} predictions are used outside the range of their law.")
    return " ".join([*said, why_not_words(compared), taken_words(compared.taken)]).strip()


def why_not_words(compared):
    """Say which measured rows could not be compared, and why; empty when there is none."""
    reasons = Counter(reason for reason, value in zip(compared.why, compared.measured) if reason and np.isfinite(value))
    if not reasons:
        return ""
    first = "; ".join(f"{count} × {reason.rstrip('.')}" for reason, count in reasons.most_common(3))
    more = f"; and {len(reasons) - 3} other reasons" if len(reasons) > 3 else ""
    return f"Not compared: {first}{more}."


def taken_words(taken):
    """Say what was not written down and taken as in the standard test; empty when all was written."""
    if not taken:
        return ""
    return ("Not written down, so taken as in the standard test: "
            + ", ".join(f"{COLUMNS[name].words.lower()} in {count}" for name, count in sorted(taken.items())) + ".")


def row_name(compared, place):
    """Return how a row is called: who made it, with which water; the number of the row in brackets."""
    maker = str(compared.records["made_by"][place]).strip() or "no name"
    maker = "".join(one if one.isprintable() else "?" for one in maker)[:24]
    return f"{maker}, {compared.powder[place]} at {compared.ratio[place]:.3g}"


def suspect_words(compared, suspect, fit=False):
    """Say which value lies far out and what to do about it.

    Parameters
    ----------
    compared : Comparison
    suspect : Suspect
        Its place is a row of `compared`.
    fit : bool
        It was found by its distance from a fitted line.

    Returns
    -------
    str
    """
    of = "the line of the others" if fit else "the mean"
    if suspect.place < 0:
        return f"Outliers: {suspect.reason}."
    unit = "standard deviations"
    where = f"{row_name(compared, suspect.place)} lies {rounded(suspect.statistic, 3)} {unit} from {of}"
    limit = f"{rounded(suspect.critical, 3)} is what chance gives 1 time in 20 to the farthest of so many"
    if not suspect.outlier:
        return f"No outlier: the farthest, {where}; {limit}. {suspect.reason}".rstrip(" .") + "."
    return (f"Outlier: {where}; {limit}. It stays. Look for a reason (wrong water, old powder, a typing slip); without one, report with and "
            "without it. (One suspect at a time: two can hide each other.)")


def precision_words(found, unit="%"):
    """Say the scatter within and between makers.

    Parameters
    ----------
    found : Precision
    unit : str
        Unit of the values.

    Returns
    -------
    str
    """
    def said(value):
        return f"{rounded(value)} {unit}"
    if not np.isfinite(found.repeatability):
        return f"Repeatability: {found.reason}."
    text = (f"Repeatability, the same maker again: standard deviation {said(found.repeatability)}; two mixes of one maker differ by more than "
            f"{said(found.repeatability_limit)} only 1 time in 20.")
    if np.isfinite(found.between):
        text += (f" The {found.makers} makers differ by {said(found.between)} besides, which makes {said(found.reproducibility)} for any maker." if found.between > 0
                 else f" Between the {found.makers} makers no difference beyond that is seen.")
    return text + (f" ({found.reason[0].upper()}{found.reason[1:]}.)" if found.reason else "")


def makers_off(compared):
    """Return each maker's results, in percent off the prediction.

    Parameters
    ----------
    compared : Comparison

    Returns
    -------
    dict of str to array
        In alphabetical order; makers without a result are left out.
    """
    off, makers = compared.off_percent, compared.records["made_by"]
    names = sorted({str(maker).strip() for maker in makers} - {""})
    found = {name: finite(off[np.array([str(maker).strip() == name for maker in makers], dtype=bool)]) for name in names}
    return {name: values for name, values in found.items() if values.size}
