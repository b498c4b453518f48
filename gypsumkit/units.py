"""Reading a number as students type it: decimal point or comma, unit in many spellings, clear refusals.

The way through this file: a table of units, finding a unit by what was written, reading the number
before it, and saying a number back in few digits.
"""

import math
import re
import unicodedata
from dataclasses import dataclass

from gypsumkit.problems import Problem, nearest

LONGEST_ANSWER = 120


# ---------------------------------------------------------------------------------------------
# Units: every unit has a kind (what it measures) and a factor to the base unit of that kind. The base
# units (g, mL, mm, mm², N, MPa, J, s) are chosen so that their quotients are base units as well.

@dataclass(frozen=True)
class Unit:
    """One unit: how it is shown, what it measures, and how many base units it is."""

    symbol: str
    kind: str
    factor: float
    spellings: tuple = ()


def _unit(symbol, kind, factor, spellings=""):
    return Unit(symbol, kind, factor, tuple(s.strip() for s in spellings.split(",") if s.strip()))


UNITS = (
    _unit("g", "a mass", 1.0, "gram, grams, gramme, grammes, gr, gm, gms"),
    _unit("kg", "a mass", 1000.0, "kilogram, kilograms, kilo, kilos"),
    _unit("mg", "a mass", 0.001, "milligram, milligrams"),
    _unit("mL", "a volume", 1.0, "millilitre, millilitres, milliliter, milliliters, cc, ccm, mls"),
    _unit("L", "a volume", 1000.0, "l, litre, litres, liter, liters, dm3"),
    _unit("cm³", "a volume", 1.0, "cm3, cubic centimetre, cubic centimetres, cubic centimeter, cubic centimeters"),
    _unit("mm³", "a volume", 0.001, "mm3, cubic millimetre, cubic millimetres, µL"),
    _unit("m³", "a volume", 1e6, "m3, cubic metre, cubic metres"),
    _unit("mm", "a length", 1.0, "millimetre, millimetres, millimeter, millimeters"),
    _unit("cm", "a length", 10.0, "centimetre, centimetres, centimeter, centimeters"),
    _unit("m", "a length", 1000.0, "metre, metres, meter, meters"),
    _unit("µm", "a length", 0.001, "um, micrometre, micrometres, micrometer, micrometers, micron, microns, mikrometer"),
    _unit("mm²", "an area", 1.0, "mm2, square millimetre, square millimetres"),
    _unit("cm²", "an area", 100.0, "cm2, square centimetre, square centimetres"),
    _unit("m²", "an area", 1e6, "m2, square metre, square metres"),
    _unit("N", "a force", 1.0, "newton, newtons"),
    _unit("kN", "a force", 1000.0, "kilonewton, kilonewtons"),
    _unit("MPa", "a stress or strength", 1.0, "megapascal, megapascals, N/mm2, N/mm²"),
    _unit("kPa", "a stress or strength", 1e-3, "kilopascal, kilopascals"),
    _unit("Pa", "a stress or strength", 1e-6, "pascal, pascals"),
    _unit("fraction", "a share of the whole", 1.0, "as a fraction, share"),
    _unit("%", "a share of the whole", 0.01, "percent, per cent, pct, procent, prozent, percentage"),
    _unit("g per 100 g", "a share of the whole", 0.01),
    _unit("mL/g", "a water/powder ratio", 1.0),
    _unit("mL per 100 g", "a water/powder ratio", 0.01),
    _unit("g/cm³", "a density", 1.0),
    _unit("kg/m³", "a density", 0.001),
    _unit("g/mol", "a molar mass", 1.0),
    _unit("mol", "an amount of substance", 1.0, "mole, moles"),
    _unit("J", "a heat", 1.0, "joule, joules"),
    _unit("kJ", "a heat", 1000.0, "kilojoule, kilojoules"),
    _unit("J/g", "a heat per mass", 1.0),
    _unit("s", "a time", 1.0, "sec, secs, second, seconds"),
    _unit("min", "a time", 60.0, "mins, minute, minutes"),
    _unit("h", "a time", 3600.0, "hr, hrs, hour, hours"),
    _unit("days", "a time", 86400.0, "d, day"),
    _unit("°C", "a temperature", 1.0, "C, °c, deg C, degC, degree C, degrees C, degrees Celsius, degree Celsius, celsius, ° C"),
    _unit("Pa·s", "a viscosity", 1.0, "Pa s, Pas, pascal second, pascal seconds, pascal-second"),
    _unit("mPa·s", "a viscosity", 0.001, "mPa s, mPas, millipascal second, millipascal seconds, cP"),
    _unit("mm/s", "a speed", 1.0),
    _unit("times", "a plain number", 1.0, "fold, x, ×, bit, bits, cast, casts"),
    _unit("€", "a plain number", 1.0, "$, £, ¥, euro, euros, dollar, dollars"),      # a price is asked as a number in the reader's own money
)

# What one kind divided by another measures; the factors of both sides carry over.
RATIO_KINDS = {
    ("a volume", "a mass"): "a water/powder ratio",
    ("a mass", "a volume"): "a density",
    ("a mass", "a mass"): "a share of the whole",
    ("a volume", "a volume"): "a share of the whole",
    ("a length", "a length"): "a share of the whole",
    ("a force", "an area"): "a stress or strength",
    ("a mass", "an amount of substance"): "a molar mass",
    ("a heat", "a mass"): "a heat per mass",
    ("a length", "a time"): "a speed",
}
UPSIDE_DOWN = {("a density", "a water/powder ratio"), ("a water/powder ratio", "a density")}

_BY_SPELLING = {spelling: unit for unit in UNITS for spelling in (unit.symbol, *unit.spellings)}
_BY_LOWER_CASE = {}
for _spelling, _found in _BY_SPELLING.items():
    _BY_LOWER_CASE.setdefault(_spelling.lower(), _found)

# Words a student adds that change nothing: "54 mL of water per 100 g of powder".
_FILLERS = re.compile(r"\b(?:of|the|water|powder|plaster|stone|gypsum|parts?|by mass|by weight|by volume)\b", re.I)


# "69 of 100": a share, and as many as a question wants that asks how many of 100.
_OF_SO_MANY = re.compile(r"\s*(?:out\s+of|of|in)\s+(\d+)(?:\s+casts)?\s*", re.I)


def _tidy_unit(text):
    so_many = _OF_SO_MANY.fullmatch(text)
    text = f"per {so_many.group(1)}" if so_many else text
    text = text.replace("^", "").replace("μ", "µ").replace("·", " ").replace("*", " ")
    text = _FILLERS.sub(" ", text)
    text = re.sub(r"\s+", " ", text).strip(" .,;")
    return text


def find_unit(text):
    """Return the unit a student wrote.

    Parameters
    ----------
    text : str
        A unit in any usual spelling, for example ``"ml"``, ``"N/mm2"`` or ``"mL per 50 g"``.

    Returns
    -------
    Unit
        The unit, a known one or one composed of two known ones.

    Raises
    ------
    Problem
        When no unit is meant by the text; the nearest known one is named.

    Examples
    --------
    >>> find_unit("millilitres").symbol
    'mL'
    >>> find_unit("mL per 50 g").factor
    0.02
    """
    tidy = _tidy_unit(text)
    if tidy == "mPa":
        raise Problem("“mPa” would be thousandths of a pascal: do you mean MPa?")
    known = _BY_SPELLING.get(tidy) or _BY_LOWER_CASE.get(tidy.lower()) or _quotient(tidy)
    if known is None:
        suggestion = nearest(tidy, _BY_SPELLING)
        if suggestion is None:
            raise Problem(f"“{_shorten(tidy or text)}” is not a unit known here: write for example g, mL, mm, min, MPa or %.")
        raise Problem(f"“{_shorten(tidy)}” is not a unit known here: do you mean {_BY_SPELLING[suggestion].symbol}?")
    return known


def _quotient(tidy):
    """Return the unit of "mL/100 g", "kg m-3" or "N per mm2", or None when it is no quotient of known units."""
    inverse_power = re.fullmatch(r"(\S+) ?([A-Za-zµ]+)-([123])", tidy)
    if inverse_power:
        above, below, power = inverse_power.groups()
        tidy = f"{above}/{below}{power if power != '1' else ''}"
    sides = re.split(r"\s*/\s*|\s+(?:per|to|in|for|on|:)\s+|^per\s+|\s*:\s*", tidy, maxsplit=1, flags=re.I)
    if len(sides) != 2:
        return None
    above, below = sides
    counted = re.match(r"(\d+(?:[.,]\d+)?)\s*", below)
    count = float(counted.group(1).replace(",", ".")) if counted else 1.0
    below = below[counted.end():] if counted else below
    if count == 0:
        raise Problem(f"“{_shorten(tidy)}” divides by zero: write for example mL per 100 g.")
    if not above and not below and counted:
        return Unit(f"per {say_number(count)}", "a share of the whole", 1.0 / count)
    upper = _BY_SPELLING.get(above) or _BY_LOWER_CASE.get(above.lower())
    lower = _BY_SPELLING.get(below) or _BY_LOWER_CASE.get(below.lower())
    if upper is None or lower is None or (upper.kind, lower.kind) not in RATIO_KINDS:
        return None
    kind = RATIO_KINDS[upper.kind, lower.kind]
    factor = upper.factor / (count * lower.factor)
    same = [unit for unit in UNITS if unit.kind == kind and math.isclose(unit.factor, factor)]
    written = f"{upper.symbol}/{lower.symbol}" if count == 1 else f"{upper.symbol} per {say_number(count)} {lower.symbol}"
    return Unit(same[0].symbol if same and count in (1, 100) else written, kind, factor)


def units_of_kind(kind):
    """Return the known units that measure this kind of quantity."""
    return tuple(unit for unit in UNITS if unit.kind == kind)


# ---------------------------------------------------------------------------------------------
# Numbers

@dataclass(frozen=True)
class Quantity:
    """A number as it was typed, with the unit that was typed after it (None when there was none)."""

    number: float
    unit: Unit = None
    typed: str = ""
    unit_typed: str = ""

    def in_unit(self, wanted):
        """Return the number converted to the wanted Unit, or raise a Problem when it measures something else."""
        if self.unit is None:
            return self.number
        if self.unit.symbol == "per 100" and wanted.kind == "a plain number":
            return self.number
        if self.unit.kind != wanted.kind:
            upside_down = " Is it upside down?" if (self.unit.kind, wanted.kind) in UPSIDE_DOWN else ""
            raise Problem(f"{self.unit_typed} is {self.unit.kind}; this answer is "
                          f"{wanted.kind}{_in_words(wanted)}.{upside_down}")
        return self.number * (self.unit.factor / wanted.factor)


def _in_words(unit):
    """Return ", in mL" for a unit, and nothing for a plain number."""
    return "" if unit.kind == "a plain number" else f", in {unit.symbol}"


_MINUS_SIGNS = dict.fromkeys(map(ord, "−–—‒﹣－"), "-")
_SUPERSCRIPTS = {"⁰": "0", "¹": "1", "²": "2", "³": "3", "⁴": "4", "⁵": "5", "⁶": "6", "⁷": "7", "⁸": "8", "⁹": "9",
                 "⁻": "-", "⁺": "+"}
_VULGAR_FRACTIONS = "¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_LEADING_WORDS = re.compile(r"^(?:[~≈=]|about|approximately|approx\.?|roughly|circa|ca\.?|around|it is|water|powder)\s*", re.I)

_GROUPED = r"\d{1,3}(?:[ '’]\d{3})+(?!\d)(?:[.,]\d+)?"
_NUMBER = re.compile(rf"[+-]?\s*(?:{_GROUPED}|\d[\d.,]*|[.,]\d+)")
_POWER_OF_TEN = re.compile(r"[eE]\s*([+-]?\d+)(?![\d.])|\s*[x×*·]\s*10\s*(?:\^|\*\*)\s*([+-]?\d+)|\s*[x×*·]\s*10([+-]\d+)")
# Digits among which stands a letter O: "5O mL", "1O0", "O.5".
_LETTER_O = re.compile(r"[+-]?(?=[\d.,Oo]*\d)(?=[\d.,]*[Oo])[\dOo][\d.,Oo]*(?![A-Za-z])")
_OVER = re.compile(r"\s*/\s*(\d+(?:[.,]\d+)?)(?![\d.,])")


def read_number(text, example=None):
    """Read a number and its unit as a student types them.

    Parameters
    ----------
    text : str or float
        For example ``"54 mL per 100 g"``, ``"0,54 ml/g"``, ``"1.2e3 Pa"``, ``"−3,5 %"``, ``"1/2"``.
    example : str, optional
        What is right here, for the message when it cannot be read, such as "12 min".

    Returns
    -------
    Quantity
        The number with its unit, None where no unit was written.

    Raises
    ------
    Problem
        When there is no number, more than one, one that is not finite, or an unknown unit.

    Examples
    --------
    >>> read_number("0,54 ml/g").number
    0.54
    >>> read_number("54 mL per 100 g").unit.symbol
    'mL per 100 g'
    """
    if example is None:
        return _read_number(text)
    try:
        return _read_number(text)
    except Problem as problem:
        said = re.sub(r"for example 54 [^\s.:;]+", lambda _: f"for example {example}", str(problem))
        raise Problem(said.replace(" with its unit", "") if example.isdigit() else said) from None


def _read_number(text):
    if isinstance(text, (int, float)) and not isinstance(text, bool):
        text = repr(text)
    if not isinstance(text, str):
        raise Problem("An answer is a number with its unit, for example 54 mL.")
    if len(text) > LONGEST_ANSWER:
        raise Problem(f"This answer is {len(text)} characters long: write one number with its unit, for example 54 mL.")
    typed = _shorten(text)
    rest = _plain_characters(text)
    if not rest:
        raise Problem("Nothing is written yet: write a number with its unit, for example 54 mL.")
    rest = _without_what_stands_before(rest)
    if re.match(r"[+-]?\s*(?:nan|inf|infinity|∞)\b|[+-]?∞", rest, re.I):
        raise Problem(f"“{typed}” is not a number that can be measured: write a finite one, for example 54 mL.")
    with_o = _LETTER_O.match(rest)
    if with_o:
        meant = re.sub(r"[Oo]", "0", with_o.group()) + rest[with_o.end():]
        raise Problem(f"“{typed}” has the letter O where a zero should be: do you mean {_shorten(meant)}?")
    found = _NUMBER.match(rest)
    if not found:
        raise Problem(_why_no_number(rest, typed))
    number, rest = _plain_number(found.group(), typed), rest[found.end():]
    number, rest = _with_power_or_fraction(number, found.group(), rest, typed)
    if not math.isfinite(number):
        raise Problem(f"“{typed}” is too large to be measured: write a finite number, for example 54 mL.")
    return _with_unit(number, rest.strip(), typed)


def _plain_characters(text):
    """Return the text with plain minus signs, spaces, digits and powers, in one line."""
    for fraction in _VULGAR_FRACTIONS:
        text = text.replace(fraction, f" {unicodedata.normalize('NFKC', fraction)}")
    text = re.sub(f"[{''.join(_SUPERSCRIPTS)}]+", lambda run: "^" + "".join(_SUPERSCRIPTS[c] for c in run.group()), text)
    text = unicodedata.normalize("NFKC", text.translate(_MINUS_SIGNS)).replace("⁄", "/").replace("μ", "µ")
    return re.sub(r"\s+", " ", text).strip()


def _without_what_stands_before(text):
    """Drop "about", "~" or "W/P =" before the number, and put a currency sign after it."""
    before, equals, after = text.partition("=")
    if equals and after.strip() and not re.search(r"\d", before):
        text = after.strip()
    while True:
        shorter = _LEADING_WORDS.sub("", text).strip()
        if shorter == text or not shorter:
            return re.sub(r"^([€$£¥]) ?(?=[\d.,])(.*)$", r"\2 \1", text)
        text = shorter


def _why_no_number(rest, typed):
    if re.search(r"\d", rest):
        return f"“{typed}” does not begin with its number: write the number first, then the unit, for example 54 mL."
    try:
        unit = find_unit(rest)
    except Problem:
        return f"“{typed}” is not a number: write it in digits with its unit, for example 54 mL."
    return f"“{typed}” is a unit without a number: write the number before it, for example 54 {unit.symbol}."


def _plain_number(written, typed):
    """Return the float of digits with a decimal point or comma and perhaps groups of three."""
    digits = re.sub(r"[ '’]", "", written).rstrip(".,")
    points, commas = digits.count("."), digits.count(",")
    grouped = re.fullmatch(r"[+-]?\d{1,3}(?:[.,]\d{3})+", digits)
    if points and commas:
        decimal = max(".,", key=digits.rfind)
        thousands = "," if decimal == "." else "."
        whole, _, part = digits.rpartition(decimal)
        if decimal in whole or not re.fullmatch(rf"[+-]?\d{{1,3}}(?:{re.escape(thousands)}\d{{3}})+", whole):
            raise Problem(f"“{typed}” has points and commas in an order that is not a number: write for example 1250.5.")
        digits = whole.replace(thousands, "") + "." + part
    elif points > 1 or commas > 1:
        if not grouped:
            raise Problem(f"“{typed}” has more than one decimal point: write for example 1250.5.")
        digits = digits.replace(".", "").replace(",", "")
    elif commas and re.fullmatch(r"[+-]?[1-9]\d{0,2},\d{3}", digits):
        raise Problem(f"“{typed}” can be read as {digits.replace(',', '')} or as {digits.replace(',', '.')}: "
                      "write it in one of these two ways.")
    return float(digits.replace(",", "."))


def _with_power_or_fraction(number, written, rest, typed):
    """Return the number times its power of ten or divided by what stands under it, and the text left."""
    power = re.match(r"\s*\^\s*([+-]?\d+)", rest)
    if power and number == 10:
        return _ten_to(power.group(1), typed), rest[power.end():]
    power = _POWER_OF_TEN.match(rest)
    if power:
        return number * _ten_to(next(filter(None, power.groups())), typed), rest[power.end():]
    mixed = re.match(r"\s+(\d+)\s*/\s*(\d+)(?![\d.,])", rest)
    if mixed and number == int(number):
        number, rest = abs(number), rest[mixed.end():]
        part = _divided(float(mixed.group(1)), float(mixed.group(2)), typed)
        return math.copysign(number + part, -1 if written.lstrip().startswith("-") else 1), rest
    below = _OVER.match(rest)
    if below:
        return _divided(number, float(below.group(1).replace(",", ".")), typed), rest[below.end():]
    return number, rest


def _ten_to(exponent, typed):
    if abs(int(exponent[:6])) > 300:
        raise Problem(f"“{typed}” is outside any number that can be measured: write for example 1.2e3.")
    return 10.0 ** int(exponent)


def _divided(above, below, typed):
    if below == 0:
        raise Problem(f"“{typed}” divides by zero: write the result as one number, for example 0.5.")
    return above / below


def _with_unit(number, rest, typed):
    if not rest.strip(" .,;"):
        return Quantity(number, None, typed)
    second_part = re.fullmatch(r"([A-Za-z]+)\s*(\d+(?:[.,]\d+)?)\s*([A-Za-z]+)", rest)
    if second_part:
        units = [_BY_LOWER_CASE.get(second_part.group(place).lower()) for place in (1, 3)]
        if all(unit and unit.kind == "a time" for unit in units) and units[1].factor < units[0].factor:
            smaller = float(second_part.group(2).replace(",", "."))
            return Quantity(number + smaller * units[1].factor / units[0].factor, units[0], typed, units[0].symbol)
    if re.match(r"(?:-|to\b|:|±|\+/-|and\b|or\b|\.\.)?\s*[+-]?\d", rest):
        raise Problem(f"“{typed}” holds more than one number: write one number with its unit, for example 54 mL.")
    if re.match(r"[x*+/()^÷:-]\s*[\d(]", rest):
        raise Problem(f"“{typed}” is a calculation: write its result as one number with its unit, for example 54 mL.")
    return Quantity(number, find_unit(rest), typed, _tidy_unit(rest))


# ---------------------------------------------------------------------------------------------
# Saying

def say_number(value, digits=3):
    """Return a number in few digits, as a reader would write it.

    Parameters
    ----------
    value : int or float
        A finite number.
    digits : int
        Significant digits kept; whole digits before the point are never dropped.

    Returns
    -------
    str
        For example ``"0.54"``, ``"1250"``, ``"1.2 × 10^7"``.

    Examples
    --------
    >>> say_number(0.5400001), say_number(18.6123), say_number(1250.4)
    ('0.54', '18.6', '1250')
    """
    if isinstance(value, int):
        return str(value)
    value = float(value)
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else str(value)
    exponent = math.floor(math.log10(abs(value)))
    if not -4 <= exponent < 6:
        mantissa, _, power = f"{value:.{digits - 1}e}".partition("e")
        mantissa = mantissa.rstrip("0").rstrip(".") if "." in mantissa else mantissa
        return f"{mantissa} × 10^{int(power)}"
    text = f"{value:.{max(0, digits - 1 - exponent)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def say_quantity(value, unit, digits=3):
    """Return a number with its unit: ``"54 mL per 100 g"``, ``"42 %"``, ``"0.42"`` for a plain fraction.

    Parameters
    ----------
    value : float
        The number, in the unit.
    unit : Unit or str
        The unit.
    digits : int
        Significant digits kept.

    Returns
    -------
    str
        The number and the unit's symbol.
    """
    symbol = unit if isinstance(unit, str) else unit.symbol
    return say_number(value, digits) if symbol == "" else f"{say_number(value, digits)} {symbol}"


def _shorten(text, longest=40):
    text = re.sub(r"\s+", " ", str(text)).strip()
    return text if len(text) <= longest else text[:longest - 1] + "…"
