"""Own measurements against the library's prediction of the same recipe, and the lines fitted to them.

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
from gypsumkit.bench.statistics import CONFIDENCE, Line, Suspect, finite, grubbs, precision, student, summary
from gypsumkit.conditions import HAND_TURNS, Conditions
from gypsumkit.mix import QUANTITIES, predict, predict_setting
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.problems import Problem
from gypsumkit.recipe import checked_ratio
from gypsumkit.science import flow, ring
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
_CRUSHED = ("crushed_state", "crushed_at_h")


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
        return precision(np.where(named, off, np.nan), self.records["made_by"])


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
# Own lines

@dataclass(frozen=True, eq=False)
class StrengthLine:
    """Logarithm of the own wet strength against the predicted porosity of what was weighed, as a straight line."""

    porosity: object
    strength_mpa: object
    powder: object
    places: object                   # of the points in the records
    line: Line
    left_out: tuple

    def at(self, porosity):
        """Return strength, low and high of the line, MPa, at a porosity."""
        low, high = self.line.confidence_band(porosity)
        return np.exp(self.line.at(porosity)), np.exp(low), np.exp(high)

    def one_more(self, porosity):
        """Return low and high between which one more strength would lie, MPa."""
        return tuple(np.exp(one) for one in self.line.prediction_band(porosity))

    @property
    def loss_rate(self):
        """How fast strength falls with porosity: value, low, high."""
        low, high = self.line.slope_range
        return -self.line.slope, -high, -low

    @property
    def at_30_mpa(self):
        """Strength at a porosity of 0.30: value, low, high."""
        return tuple(float(one) for one in self.at(0.30))

    @property
    def library_at_30(self):
        """The library's strength at a porosity of 0.30: of the powder where there is one only, else of all."""
        names = set(self.powder)
        return POWDERS[names.pop()].strength_at_30_mpa if len(names) == 1 else powders.STRENGTH_AT_30_PERCENT

    @property
    def extrapolated(self):
        """Whether a porosity of 0.30 lies outside what was measured."""
        return not bool(self.line.inside(0.30))

    def suspect(self):
        """Return the point farthest from the line of the others; its place is that in the records."""
        found = self.line.suspect()
        return found if found.place < 0 else found._replace(place=int(self.places[found.place]), value=float(np.exp(found.value)))


def strength_line(compared, leave_out=()):
    """Fit the own strength-porosity line.

    Parameters
    ----------
    compared : Comparison
        Of the strength.
    leave_out : sequence of int
        Rows left out of the fit; they stay in the picture.

    Returns
    -------
    StrengthLine

    Raises
    ------
    Problem
        When there are too few strengths or all at one porosity; says what would be needed.

    Notes
    -----
    ln strength against porosity is a straight line in the law of [ryshkewitch_1953]. The porosity is not measured: it is predicted from
    the ratio that was weighed, so an error of weighing is an error in x, which this fit takes for one in y.
    """
    wet = compared.counted & (compared.records["crushed_state"] != "dry") & (compared.measured > 0)
    places = np.flatnonzero(wet & ~np.isin(np.arange(len(wet)), list(leave_out)))
    if places.size < 3:
        raise Problem(f"not enough: a line of strength against porosity needs at least 3 wet strengths; there {_are(places.size)}.")
    porosity = predict_rows(compared.records.where(places), ("porosity",)).value["porosity"]
    strength = compared.measured[places]
    try:
        line = Line(porosity, np.log(strength))
    except Problem:
        raise Problem("not enough: all strengths are of one water/powder ratio; a line needs two or more ratios.") from None
    return StrengthLine(porosity, strength, compared.powder[places], places, line, tuple(leave_out))


def _are(count):
    return f"{'is' if count == 1 else 'are'} {count}"


@dataclass(frozen=True, eq=False)
class FlowCurve:
    """Own yield stress against the part of powder in the mix, and the own stiffness constant fitted to it."""

    powder: str
    fraction: object                 # powder in the fresh mix, by volume
    stress_pa: object                # brought to the standard moment and way of mixing, still
    places: object
    stiffness_pa: tuple              # value, low, high
    spread_of_one: float             # factor between which one more point lies
    suspect: Suspect                 # by the logarithm of its own constant; its place is that in the records
    left_out: tuple

    def at(self, fraction):
        """Return yield stress, low and high of the own curve, Pa, at a part of powder."""
        shape = self._shape(fraction)
        return tuple(one * shape for one in self.stiffness_pa)

    def one_more(self, fraction):
        """Return low and high between which one more mix would lie, Pa."""
        middle = self.stiffness_pa[0] * self._shape(fraction)
        return middle / self.spread_of_one, middle * self.spread_of_one

    def _shape(self, fraction):
        return flow.yield_stress_pa(np.minimum(np.asarray(fraction) / POWDERS[self.powder].jamming_fraction.value, 0.995), 1.0)

    def inside(self, fraction):
        """Return whether a part of powder lies within what was measured."""
        return (np.asarray(fraction) >= self.fraction.min() - 1e-12) & (np.asarray(fraction) <= self.fraction.max() + 1e-12)


def flow_curve(compared, powder, leave_out=()):
    """Fit the own stiffness constant of a powder to own ring spreads.

    Parameters
    ----------
    compared : Comparison
        Of the spread.
    powder : str
        Which powder.
    leave_out : sequence of int
        Rows left out of the fit; they stay in the picture.

    Returns
    -------
    FlowCurve

    Raises
    ------
    Problem
        When there are fewer than 3 spreads of it beyond the ring; says what would be needed.

    Notes
    -----
    The spread gives the stiffness number by `ring.resting_stiffness`, times density x gravity x height the yield stress
    [gypsumkit]. Moment, turns, temperature and vibrator are taken out by the factor that the library predicts for them. The form
    of the curve and the fraction at which the grains jam are the library's [flatt_2006]; only the stiffness is fitted, as the
    mean of its logarithm with Student's interval.
    """
    kind = find_powder(powder)
    rows = compared.counted & (compared.powder == kind.name)
    places = np.flatnonzero(rows & ~np.isin(np.arange(len(rows)), list(leave_out)))
    if places.size < 3:
        stood = int(np.sum(compared.stands & (compared.powder == kind.name)))
        raise Problem(f"not enough: a flow curve needs at least 3 spreads of {kind.name} wider than the ring, better at 2 or more ratios; "
                      f"there {_are(places.size)}" + (f" ({stood} more stood as they were cast)." if stood else "."))
    records = compared.records.where(places)
    found = predict_rows(records, ("yield_stress_pa", "wet_density_g_cm3", "powder_volume_fraction"), of_the_ring=True)
    width, height = (np.where(np.isnan(records[name]), STANDARD[name], records[name]) for name in ("ring_diameter_mm", "ring_height_mm"))
    number = ring.resting_stiffness(np.maximum(records.spread_mm / width, 1.0), width, height)
    here = number * ring.pressure_at_foot_pa(found.value["wet_density_g_cm3"], height)
    expected = found.value["yield_stress_pa"] / np.where(records["vibrated"] == "yes", 1.0 + powders.VIBRATION_THINNING.value, 1.0)
    own = np.log(kind.stiffness_pa.value * here / expected)
    middle = summary(own)
    fraction = found.value["powder_volume_fraction"]
    shape = flow.yield_stress_pa(np.minimum(fraction / kind.jamming_fraction.value, 0.995), 1.0)
    one_more = float(student(0.5 + CONFIDENCE / 2, middle.count - 1)) * middle.standard_deviation * np.sqrt(1.0 + 1.0 / middle.count)
    far = grubbs(own)
    far = far if far.place < 0 else far._replace(place=int(places[far.place]), value=float(np.exp(far.value)))
    return FlowCurve(kind.name, fraction, np.exp(own) * shape, places, tuple(float(np.exp(one)) for one in (middle.mean, middle.low, middle.high)),
                     float(np.exp(one_more)), far, tuple(leave_out))


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
        return f"No {what.words} was measured in these {len(compared.records)} mixes."
    said = [f"{count} of {measured} measured {what.words} values can be compared."]
    if count:
        said.append(f"{int(np.sum(compared.inside))} of {count} lie within the plausible range of their own prediction.")
    off = summary(compared.off_percent)
    if off.count >= 2:
        side = f"{rounded(abs(off.mean))} % {'above' if off.mean > 0 else 'below'} the predicted one, 95 % sure {range_words(off.low, off.high)} %"
        said.append(f"On average the measured value lies {side}" + (": by chance it may be no difference at all." if off.low < 0 < off.high else ".")
                    + f" Single mixes scatter by {rounded(off.standard_deviation)} % (standard deviation).")
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
            "without it. The test is made for one suspect at a time: two can hide each other.")


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
        text += f" Between the {found.makers} makers: {said(found.between)} more; any maker: {said(found.reproducibility)}."
    return text + (f" ({found.reason[0].upper()}{found.reason[1:]}.)" if found.reason else "")


def strength_line_words(own):
    """Say the own strength line beside the library's.

    Parameters
    ----------
    own : StrengthLine

    Returns
    -------
    str
    """
    rate, at_30 = powders.STRENGTH_LOSS_RATE, own.library_at_30
    value, low, high = own.loss_rate
    mine, least, most = own.at_30_mpa
    beyond = " (extrapolated: no such porosity was measured)" if own.extrapolated else ""
    return (f"Own line through {own.line.count} strengths at a porosity of {100 * own.porosity.min():.0f} to {100 * own.porosity.max():.0f} %: at 30 % "
            f"{rounded(mine, 3)} MPa, 95 % sure {range_words(least, most)}{beyond}; library {at_30.value:.3g} ({range_words(at_30.low, at_30.high)}). Each "
            f"further 1 % of pores takes {rounded(value, 2)} %, 95 % sure {range_words(low, high)}; library {rounded(rate.value, 2)} "
            f"({range_words(rate.low, rate.high)}).")


def flow_curve_words(own):
    """Say the own stiffness beside the library's.

    Parameters
    ----------
    own : FlowCurve

    Returns
    -------
    str
    """
    library = POWDERS[own.powder].stiffness_pa
    value, low, high = own.stiffness_pa
    text = (f"Own flow curve of {own.powder}, through {len(own.places)} spreads: stiffness {rounded(value, 2)} Pa, 95 % sure {rounded(low)} to "
            f"{rounded(high)}; library {rounded(library.value)} ({rounded(library.low)} to {rounded(library.high)}).")
    return text + (" All at one ratio: the form of the curve is not tested." if np.ptp(own.fraction) < 0.005 else "")


def share_inside_percent(compared):
    """Return how many percent of the compared rows lie within their plausible range; not a number when none was compared."""
    count = int(np.sum(compared.compared))
    return 100.0 * int(np.sum(compared.inside)) / count if count else float("nan")


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
