"""One cell of the record: read as a person writes it, in the unit of its column, refused when it cannot have been measured."""

import math
import re

from gypsumkit.bench.columns import COLUMNS
from gypsumkit.powders import POWDERS, named
from gypsumkit.problems import Problem, nearest
from gypsumkit.units import find_unit, read_number, say_number

LONGEST_TEXT = 2000

# "1,234" is 1234 to one writer and 1.234 to another; nobody but the writer knows.
_TWO_WAYS = re.compile(r"^([+-]?[1-9]\d{0,2}),(\d{3})(?!\d)\s*(\D.*)?$")
# "2 min 30 s" is 2.5 min; "2:30", as a stop-watch shows it, may also be hours.
_MIN_AND_S = re.compile(r"^(\d{1,4})\s*min\.?,?\s*([0-5]?\d)\s*s(?:ec)?\.?$", re.I)
_STOP_WATCH = re.compile(r"^(\d{1,4}):([0-5]\d)(?:\s*(?:min|m:s|mm:ss))?$", re.I)
_YES, _NO = ("yes", "y", "true", "1", "x", "on"), ("no", "n", "false", "0", "off")


def read_cell(name, text, unit=None):
    """Return what a cell says.

    Parameters
    ----------
    name : str
        A key of `COLUMNS`.
    text : str or float
        What stands in the cell, with or without its unit; a decimal comma is understood.
    unit : str, optional
        Unit of a number without one; that of the column when not given.

    Returns
    -------
    float or str
        A number in the unit of the column, or a text.

    Raises
    ------
    Problem
        When it is no number, one of another kind, one that cannot be measured, or not among the choices.
    """
    column = COLUMNS[name]
    return checked_number_of(name, number_in_unit(name, text, unit)) if column.is_number else _text(name, str(text))


def checked_number_of(name, number):
    """Return a number, to ten digits, once it can be measured in this column; else raise a Problem that says what can."""
    column = COLUMNS[name]
    least, most = column.possible
    number = float(f"{number:.10g}")
    if not (math.isfinite(number) and least <= number <= most):
        raise Problem(f"{column.words} is given as {said(name, number)}; it must lie between {least:,g} and {said(name, most)}.")
    return number


def said(name, value, digits=5):
    """Return a value of this column with its unit, as a reader writes it, a number to so many digits."""
    column = COLUMNS[name]
    if not column.is_number:
        return str(value)
    number = f"{value:,.0f}" if 10_000 <= abs(value) < 1e9 and value == round(value) else say_number(float(value), digits)
    return number + ("" if column.unit == "1" else f" {column.unit}")


def two_ways(text):
    """Return both readings of a comma that may part thousands or decimals, as texts ("1234 g", "1.234 g"), or None.

    Parameters
    ----------
    text : str
        A cell.
    """
    found = _TWO_WAYS.match(text.strip())
    if not found:
        return None
    whole, part, unit = found.groups()
    return tuple(number + (f" {unit.strip()}" if unit else "") for number in (whole + part, f"{whole}.{part}"))


def factor_of(name, unit):
    """Return how many units of its column one of another unit is.

    Parameters
    ----------
    name : str
        A column of numbers.
    unit : str
        A unit in any usual spelling.

    Raises
    ------
    Problem
        When the unit is unknown or measures something else.
    """
    column = COLUMNS[name]
    if column.unit == "1":
        raise Problem(f"{column.words} is counted and has no unit.")
    given = find_unit(unit)
    wanted = _counted_in(name, given)
    if given.kind != wanted.kind:
        raise Problem(f"{unit} is {given.kind}; {column.words} is {wanted.kind}, in {column.unit}.")
    return given.factor / wanted.factor


def _counted_in(name, given):
    """Return the unit that a column counts in; of water on a scale 1 g counts as 1 mL, as everywhere in the course."""
    gram = find_unit("g")
    return gram if name == "water_ml" and given.kind == gram.kind else find_unit(COLUMNS[name].unit)


def number_in_unit(name, text, unit=None):
    """Return the number that a cell says, in the unit of its column, whether it can have been measured or not.

    Parameters
    ----------
    name, text, unit
        As for `read_cell`.

    Returns
    -------
    float

    Raises
    ------
    Problem
        When it is no number, or one of another kind.
    """
    column = COLUMNS[name]
    if column.unit == "1":
        text = re.sub(r"\s*(?:turns?|times)$", "", str(text).strip(), flags=re.I)
    if column.unit == "min":
        text = _minutes(column.words, str(text).strip())
    quantity = read_number(text, column.example)
    if column.unit == "1":
        if quantity.unit is not None and quantity.unit.kind != "a plain number":
            raise Problem(f"{column.words} is counted and has no unit; write it like {column.example}.")
        return quantity.number
    if quantity.unit is None:
        return quantity.number if unit is None else quantity.number * factor_of(name, unit)
    wanted = _counted_in(name, quantity.unit)
    if quantity.unit.kind != wanted.kind:
        raise Problem(f"{quantity.unit_typed} is {quantity.unit.kind}; {column.words} is {wanted.kind}: write it like {column.example}.")
    return quantity.number * (quantity.unit.factor / wanted.factor)


def _minutes(what, text):
    """Minutes and seconds as a number of minutes; a time as a stop-watch shows it is asked about."""
    found = _MIN_AND_S.match(text)
    if found:
        return f"{int(found[1]) + int(found[2]) / 60:.6g} min"
    found = _STOP_WATCH.match(text)
    if found:
        number = f"{int(found[1]) + int(found[2]) / 60:.4g} min"
        raise Problem(f"{what}: “{text}” is not a number. If it is {found[1]} min {int(found[2])} s, write {number}.")
    return text


def _text(name, text):
    text = " ".join(text.split()) if not text.isprintable() else text.strip()
    odd = next((one for one in text if not one.isprintable()), None)
    if odd is not None:
        raise Problem(f"{COLUMNS[name].words} holds a sign that is not a letter (code {ord(odd)}): write it again.")
    if len(text) > LONGEST_TEXT:
        raise Problem(f"{COLUMNS[name].words} has {len(text):,} letters; at most {LONGEST_TEXT:,} are kept in a cell.")
    choices = COLUMNS[name].choices
    if name == "powder":
        plain = " ".join(text.lower().split())
        return plain if plain in POWDERS else text
    if choices == ("no", "yes"):
        answer = text.lower()
        return "yes" if answer in _YES else "no" if answer in _NO else named(text, choices, f"no answer to “{COLUMNS[name].words}”")
    return named(text, choices, f"no choice of “{COLUMNS[name].words}”") if choices else text


def nearest_choice(name, text):
    """Return the choice (or the powder of the course) that a text most resembles, or None."""
    choices = tuple(POWDERS) if name == "powder" else COLUMNS[name].choices
    plain = " ".join(str(text).lower().split())
    if not plain or not choices:
        return None
    holding = [one for one in choices if plain in one]
    return holding[0] if len(holding) == 1 else nearest(plain, choices)
