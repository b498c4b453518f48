"""The reader's own powder: a catalogue powder whose constants are scaled until it does what its sheet and the reader's bench say.

What was not given stays as it is in the powder it was made from, with that powder's standing. A mix at the recommended ratio
then returns the given values by construction: reproduced, not validated.
"""

import datetime
import math
import re
from dataclasses import dataclass, field, replace
from typing import NamedTuple

import numpy as np

from gypsumkit.bench.specimens import NEAR_RATIO, counted
from gypsumkit.checks import checked_number
from gypsumkit.mix import consistency, standard_values
from gypsumkit.powders import POWDERS, named
from gypsumkit.problems import Problem
from gypsumkit.recipe import checked_ratio, read_ratio
from gypsumkit.showing import range_words, rounded, with_unit
from gypsumkit.sources import Sourced
from gypsumkit.units import find_unit, read_number

SHEET, BENCH = "maker's sheet", "measured here"
SHORT = {"impression plaster": "impression plaster", "model plaster": "plaster", "dental stone": "stone", "improved stone": "improved stone",
         "high-expansion stone": "high-expansion stone"}
LONGEST_LOT = 20
FAR_FROM_PARENT = 2.5                # ours: a value so many times that of the powder it is like, or so small a part of it, is remarked on
OLD_AFTER_DAYS = 180                 # ours: an opened powder this old is remarked on
FEWEST_FOR_RANGE = 3
SEARCHED = 40.0                      # a constant is scaled by no more than this


class Value(NamedTuple):
    """What may be given of a powder: words, unit, and what is possible; bounds are ours [gypsumkit]."""

    words: str
    unit: str
    least: float
    most: float
    test: str                        # of `specimens`, where the bench measures it


RATIO = "water_powder_ratio"
VALUES = {
    RATIO: Value("recommended water/powder ratio", "mL/g", 0.05, 1.5, ""),
    "spread_mm": Value("ring spread, still", "mm", 36.0, 200.0, "spread"),
    "gloss_loss_min": Value("loss of gloss", "min", 1.0, 240.0, "gloss loss"),
    "initial_set_min": Value("initial set, Vicat needle", "min", 1.0, 240.0, "setting time"),
    "final_set_min": Value("final set, heavy needle", "min", 1.5, 480.0, "final set"),
    "setting_expansion_percent": Value("setting expansion at 2 h", "%", 0.005, 1.5, "expansion"),
    "wet_strength_mpa": Value("compressive strength, wet, 1 h", "MPa", 1.0, 120.0, "strength"),
}
# One time is met, the first of these that is given; the other times follow from it.
TIMES = ("final_set_min", "gloss_loss_min", "initial_set_min")


class Given(NamedTuple):
    """One value of the reader's own powder, with its range where one is known, and how it is known."""

    value: float
    low: float
    high: float
    standing: str
    locator: str


@dataclass(frozen=True)
class OwnPowder:
    """What the reader knows of a lot of powder.

    Parameters
    ----------
    parent : str
        The catalogue powder it is most like.
    lot : str
        Its lot, as printed on the bag.
    sheet, bench : dict of str to Given
        By the names of `VALUES`: what the maker prints, and what was measured here, which goes before.
    opened : str
        Date on which it was opened, such as "2026-10-01"; empty when not known.

    Raises
    ------
    Problem
        When a part of it cannot be; says what would be right.
    """

    parent: str
    lot: str
    sheet: dict = field(default_factory=dict)
    bench: dict = field(default_factory=dict)
    opened: str = ""

    def __post_init__(self):
        object.__setattr__(self, "parent", named(self.parent, tuple(SHORT), "no powder of the catalogue"))
        object.__setattr__(self, "lot", checked_lot(self.lot))
        object.__setattr__(self, "opened", checked_opening(self.opened))
        for name in (*self.sheet, *self.bench):
            if name not in VALUES:
                raise Problem(f"A powder has no value called '{name}'; it has {', '.join(VALUES)}.")

    @property
    def name(self):
        """The name it has among the powders."""
        return f"our {SHORT[self.parent]}, lot {self.lot}"

    @property
    def values(self):
        """What is used: the bench before the sheet."""
        return {**self.sheet, **self.bench}

    @property
    def ratio(self):
        """The ratio at which all values hold."""
        given = self.values.get(RATIO)
        return given.value if given else POWDERS[self.parent].recommended_ratio.value


def checked_lot(lot):
    """Return a lot as it is kept, or raise a Problem when it is none."""
    text = " ".join(str(lot).split())
    if not text:
        raise Problem("The lot is missing: type what is printed on the bag, such as A12.")
    if len(text) > LONGEST_LOT or not text.isprintable() or not re.fullmatch(r"[\w .,;:/+#&*()-]+", text):
        raise Problem(f"'{text[:30]}' cannot be kept as a lot: write at most {LONGEST_LOT} letters, digits and signs such as - or /.")
    return text


def checked_opening(text, today=None):
    """Return the date of opening as year-month-day, or raise a Problem when it is none; empty when nothing was typed.

    Parameters
    ----------
    text : str
        Such as "2026-10-01".
    today : datetime.date, optional
        The present day; a later date is then refused.
    """
    text = str(text or "").strip()
    if not text:
        return ""
    try:
        day = datetime.date.fromisoformat(text)
    except ValueError:
        raise Problem(f"'{text[:30]}' is not a date: write year, month and day, such as 2026-10-01.") from None
    if today is not None and day > today:
        raise Problem(f"The powder is said to have been opened on {day.isoformat()}, which is still to come: look at the year.")
    return day.isoformat()


# ---------------------------------------------------------------------------------------------
# What was given

def sheet_value(name, text):
    """Read a value from a product sheet as a person types it.

    Parameters
    ----------
    name : str
        A key of `VALUES`.
    text : str
        Such as "12 min", "0,30", "30 mL per 100 g", or a range, "10 to 14 min".

    Returns
    -------
    Given

    Raises
    ------
    Problem
        When it is no such value, or not possible.
    """
    kind = VALUES[name]
    parts = re.split(r"\s*(?:\bto\b|–|\.\.|(?<=[\w%])\s*-(?=\s*\d))\s*", str(text).strip(), maxsplit=1)
    ends = [_read(name, part) for part in _with_the_same_unit(parts)]
    low, high = (min(ends), max(ends)) if len(ends) == 2 else (None, None)
    if low is not None and ends[0] > ends[1]:
        raise Problem(f"The {kind.words} runs from {ends[0]:g} down to {ends[1]:g} {kind.unit}; write the smaller number first.")
    value = ends[0] if low is None else (low + high) / 2.0
    return Given(value, low, high, SHEET, "the maker's product sheet" + ("" if low is None else ", middle of its range"))


def _with_the_same_unit(parts):
    """Give the first end of a range the unit that was written after the second."""
    if len(parts) == 2 and re.fullmatch(r"[\d.,]+", parts[0]):
        unit = re.sub(r"^[\d.,]+", "", parts[1])
        return parts[0] + unit, parts[1]
    return parts


def _read(name, text):
    kind = VALUES[name]
    what = f"The {kind.words}"
    if name == RATIO:
        return read_ratio(text)
    try:
        quantity = read_number(text, f"12 {kind.unit}")
        value = quantity.in_unit(find_unit(kind.unit))
    except Problem as problem:
        raise Problem(f"{what}: {problem}") from None
    return checked_number(value, what, kind.unit, kind.least, kind.most)


def bench_values(records, own):
    """Return what the reader's bench says of this lot at its recommended ratio.

    Parameters
    ----------
    records : gypsumkit.bench.records.Records
        The records; those of this lot count that name the powder or the one it was made from.
    own : OwnPowder
        The powder, its sheet known.

    Returns
    -------
    tuple of (dict of str to Given, tuple of (str, str))
        Means by the names of `VALUES`; from three results on with the interval of the mean (95 %, Student's t). Then the rows of this
        lot that do not count, with the reason.

    Raises
    ------
    Problem
        When the results scatter so widely that they say nothing.
    """
    def same(column, *wanted):
        return np.array([" ".join(str(cell).split()).lower() in {one.lower() for one in wanted} for cell in records[column]], dtype=bool)
    ours = same("lot", own.lot) & same("powder", own.parent, own.name)
    far = ~(np.abs(records.water_powder_ratio / own.ratio - 1.0) <= NEAR_RATIO + 1e-9)
    by_hand = same("mixing", "", "spatulated by hand")
    more = ((far, f"it was not mixed at {own.ratio:.3g}"), (~by_hand, "it was not spatulated by hand"))
    found, left_out = {}, {}
    for name, kind in VALUES.items():
        if kind.test:
            specimens = counted(records, kind.test, POWDERS[own.parent].standard_time_min, more, ours)
            left_out.update(dict.fromkeys(specimens.left_out))
            if specimens.values:
                found[name] = _mean(name, specimens.values)
    return found, tuple(left_out)


def _mean(name, values):
    from gypsumkit.bench.statistics import summary       # it loads a large library, and every lesson looks for own powders
    kind, of_all = VALUES[name], summary(values)
    mean = checked_number(of_all.mean, f"The mean of the {kind.words} measured here", kind.unit, kind.least, kind.most)
    if of_all.count < FEWEST_FOR_RANGE:
        return Given(mean, None, None, BENCH, f"{'one result' if of_all.count == 1 else 'mean of two results'} at the own bench")
    if of_all.low <= 0:
        raise Problem(f"The {of_all.count} results for the {kind.words} scatter too widely to say anything ({rounded(mean, 3)} {kind.unit}, 95 %: "
                      f"{rounded(of_all.low, 3)} to {rounded(of_all.high, 3)}); look for the one that went wrong.")
    return Given(mean, of_all.low, of_all.high, BENCH, f"mean of {of_all.count} results at the own bench")


# ---------------------------------------------------------------------------------------------
# The powder that does it

def made(own):
    """Return the powder that does what is known of it.

    Parameters
    ----------
    own : OwnPowder
        What is known.

    Returns
    -------
    Powder

    Raises
    ------
    Problem
        When no powder of this kind can do that.
    """
    parent = POWDERS[own.parent]
    powder = replace(parent, name=own.name, parent=parent.name)
    given = own.values
    if RATIO in given:
        try:
            ratio = checked_ratio(parent, given[RATIO].value)
            for end in (given[RATIO].low, given[RATIO].high):
                checked_ratio(parent, ratio if end is None else end)
        except Problem as problem:
            in_other_units = given[RATIO].value > 1.0          # no sheet asks for more water than powder
            raise Problem(str(problem) if in_other_units else f"{problem} If the sheet says so, choose another powder to start from.") from None
        powder = replace(powder, recommended_ratio=_scaled(parent.recommended_ratio, ratio / parent.recommended_ratio.value, given[RATIO], "recommended"))
    ratio = powder.recommended_ratio.value
    if "spread_mm" in given:
        powder = replace(powder, stiffness_pa=_stiffness(powder, given["spread_mm"], ratio))
    if "wet_strength_mpa" in given:
        wanted = given["wet_strength_mpa"]
        factor = wanted.value / standard_values(powder, ratio, clocked=False)["wet_strength_mpa"]
        powder = replace(powder, strength_at_30_mpa=_scaled(parent.strength_at_30_mpa, factor, wanted, _at("wet strength", wanted, "MPa", ratio)))
    for name in TIMES:
        if name in given:
            powder = replace(powder, setting=_hastened(powder, name, given[name], ratio))
            break
    if "setting_expansion_percent" in given:
        wanted = given["setting_expansion_percent"]
        by_parent = standard_values(powder, ratio)["setting_expansion_percent"]
        if not by_parent > 0:
            raise Problem(f"A powder that sets so late has not begun to expand at 2 h, so an expansion of {rounded(wanted.value, 3)} % at 2 h is out of reach: "
                          "look at the time and the expansion.")
        factor = wanted.value / by_parent
        scaled = _scaled(parent.setting.expansion_percent, factor, wanted, _at("setting expansion at 2 h", wanted, "%", ratio))
        powder = replace(powder, setting=replace(powder.setting, expansion_percent=scaled))
    return powder


def _at(words, given, unit, ratio):
    return f"scaled to a {words} of {rounded(given.value, 3)} {unit} at ratio {ratio:.3g}"


def _scaled(constant, factor, given, why):
    """A constant times a factor, with the range of what was given, or the old range in proportion when none was."""
    value = constant.value * factor
    if given.low is None or not given.low < given.high:
        low, high, why = constant.low * factor, constant.high * factor, f"{why}; no range was given, so that of the powder it was made from is kept"
    else:
        low, high = value * given.low / given.value, value * given.high / given.value
    return Sourced(value, constant.unit, low, high, "own_bench", f"{given.locator}: {why}", given.standing)


def _stiffness(powder, given, ratio):
    """The stiffness at which the ring spreads as given, found by halving; a wider spread is a smaller stiffness."""
    def at(spread_mm):
        low, high = powder.stiffness_pa.value / SEARCHED, powder.stiffness_pa.value * SEARCHED

        def spread(stiffness):
            constant = replace(powder.stiffness_pa, value=stiffness, low=stiffness, high=stiffness)
            return standard_values(replace(powder, stiffness_pa=constant), ratio, clocked=False)["spread_mm"]
        if not spread(high) < spread_mm < spread(low):
            return None
        for _ in range(80):
            middle = math.sqrt(low * high)
            low, high = (middle, high) if spread(middle) > spread_mm else (low, middle)
        return math.sqrt(low * high)
    value = at(given.value)
    if value is None:
        raise Problem(f"A ring spread of {rounded(given.value, 3)} mm at a ratio of {ratio:.3g} is out of reach for {powder.kind}: look at both numbers, "
                      "or choose another powder to start from.")
    old = powder.stiffness_pa
    ends = [None if end is None else at(end) for end in (given.high, given.low)]
    known = None not in ends and ends[0] < ends[1]
    low, high = ends if known else (old.low / old.value * value, old.high / old.value * value)
    why = _at("ring spread", given, "mm", ratio) + ("" if known else "; no range was given, so that of the powder it was made from is kept")
    return Sourced(value, old.unit, low, high, "own_bench", f"{given.locator}: {why}", given.standing)


def _hastened(powder, name, given, ratio):
    """The setting constants with which an event comes when it was given: growth and dissolving slow down alike."""
    old, factor = powder.setting, 1.0
    for _ in range(60):
        tried = replace(old, growth_min=_times(old.growth_min, factor), dissolving_min=_times(old.dissolving_min, factor))
        comes = standard_values(replace(powder, setting=tried), ratio)[name]
        if not (math.isfinite(comes) and comes > 0):
            break
        off = given.value / comes
        factor *= off
        if not 1 / SEARCHED < factor < SEARCHED or abs(off - 1.0) < 1e-11:
            break
    if not (math.isfinite(comes) and comes > 0 and 1 / SEARCHED < factor < SEARCHED):
        raise Problem(f"A {VALUES[name].words} of {rounded(given.value, 3)} min at a ratio of {ratio:.3g} is out of reach for {powder.kind}: look at the time, "
                      "the strength and the ratio, or choose another powder to start from.")
    why = _at(VALUES[name].words, given, "min", ratio)
    return replace(old, growth_min=_scaled(old.growth_min, factor, given, why), dissolving_min=_scaled(old.dissolving_min, factor, given, why))


def _times(constant, factor):
    return replace(constant, value=constant.value * factor, low=constant.low * factor, high=constant.high * factor)


# ---------------------------------------------------------------------------------------------
# What it says

def beside_parent(own, powder):
    """Compare an own powder with the one it was made from.

    Parameters
    ----------
    own : OwnPowder
        What is known.
    powder : Powder
        As from `made`.

    Returns
    -------
    list of (str, str, str, str)
        What, the own value with its range, how it is known, and the value of the powder it was made from; each at its own recommended
        ratio.
    """
    parent, given, rows = POWDERS[own.parent], own.values, []
    ours, theirs = (standard_values(one, one.recommended_ratio.value) for one in (powder, parent))
    ours[RATIO], theirs[RATIO] = powder.recommended_ratio.value, parent.recommended_ratio.value
    met = next((name for name in TIMES if name in given), None)
    for name, kind in VALUES.items():
        one = given.get(name)
        value = with_unit(ours[name], kind.unit)
        if one is None or (name in TIMES and name != met):
            follows = name in TIMES and met is not None
            how = f"follows from the {VALUES[met].words}" if follows else f"not given: as {parent.name}"
            if one is not None:
                how += f"; the {one.standing} says {with_unit(one.value, kind.unit)}"
        else:
            within = "" if one.low is None else range_words(one.low, one.high)
            value, how = value + (f" ({within})" if within else ""), f"{one.standing}: {one.locator}"
        rows.append((kind.words, value, how, with_unit(theirs[name], kind.unit)))
    return rows


def remarks(own, powder, today=None):
    """Say what the reader should look at; nothing is changed for it.

    Parameters
    ----------
    own : OwnPowder
        What is known.
    powder : Powder
        As from `made`.
    today : datetime.date, optional
        The present day.

    Returns
    -------
    list of str
    """
    said, ratio = [], powder.recommended_ratio.value
    if own.opened:
        days = ((today or datetime.date.today()) - datetime.date.fromisoformat(own.opened)).days
        if days > OLD_AFTER_DAYS:
            said.append(f"Opened {days // 30} months ago: damp air may have changed it. Nothing was changed for that here; make a test mix, or choose a state "
                        "of the powder where an explorer offers it.")
    theirs = standard_values(POWDERS[own.parent], POWDERS[own.parent].recommended_ratio.value)
    for name, given in own.values.items():
        if name != RATIO and not 1 / FAR_FROM_PARENT <= given.value / theirs[name] <= FAR_FROM_PARENT:
            kind = VALUES[name]
            said.append(f"{kind.words[0].upper()}{kind.words[1:]}: {with_unit(given.value, kind.unit)} is far from the {with_unit(theirs[name], kind.unit)} of "
                        f"{own.parent}. Is the number right, and its unit? If so, is another powder more like it?")
    called = consistency(standard_values(powder, ratio, clocked=False)["yield_stress_pa"])
    if called != "pours":
        why = "" if "spread_mm" in own.values else "; a ring spread would put the flow right"
        said.append(f"At its own ratio of {ratio:.3g} this powder is {called} by its present constants{why}.")
    least, most = powder.setting.trusted_ratio
    if not least - 1e-9 <= ratio <= most + 1e-9:
        said.append(f"The clock was made for {own.parent} from {least:g} to {most:g}; at {ratio:.3g} it is called extrapolated.")
    for name in own.bench:
        printed, found = own.sheet.get(name), own.bench[name]
        if printed and found.low is not None and not found.low <= printed.value <= found.high:
            kind = VALUES[name]
            said.append(f"{kind.words[0].upper()}{kind.words[1:]}: the sheet says {with_unit(printed.value, kind.unit)}, your bench "
                        f"{with_unit(found.value, kind.unit)} ({range_words(found.low, found.high)}); the bench is used.")
    return said
