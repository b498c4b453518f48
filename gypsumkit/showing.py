"""Numbers as a reader sees them: rounded to what they are worth, with their range and unit."""

import math

UNITS_IN_WORDS = {"1": "", "%": " %", "Pa": " Pa", "Pa s": " Pa·s", "mm": " mm", "MPa": " MPa", "°C": " °C", "min": " min", "g/cm3": " g/cm³", "mL/g": " mL/g"}


def rounded(value, digits=2):
    """Write a number with so many significant digits, never in powers of ten.

    Parameters
    ----------
    value : float
        Any finite number.
    digits : int
        Significant digits, 1 or more.

    Returns
    -------
    str
    """
    value = float(value)
    if value == 0 or not math.isfinite(value):
        return f"{value:g}"
    decimals = digits - 1 - math.floor(math.log10(abs(value)))
    text = f"{round(value, decimals):.{max(decimals, 0)}f}"
    # Rounding up may have gained a digit: 9.96 to two digits is 10, not 10.0.
    if decimals > 0 and len(text.replace("-", "").replace(".", "").lstrip("0")) > digits:
        text = f"{round(value, decimals - 1):.{max(decimals - 1, 0)}f}"
    return text


def with_unit(value, unit, digits=3):
    """Write a number with its unit.

    Parameters
    ----------
    value : float or None
        None is written as "not predicted".
    unit : str
        Unit as in the library, "1" for a pure number.
    digits : int
        Significant digits.

    Returns
    -------
    str
    """
    if value is None:
        return "not predicted"
    return rounded(value, digits) + UNITS_IN_WORDS.get(unit, " " + unit)


def range_words(low, high, digits=2):
    """Write a plausible range, both ends to the same decimal: so many that its width keeps `digits` digits.

    Parameters
    ----------
    low, high : float
        Its ends.
    digits : int
        Significant digits of the width.

    Returns
    -------
    str
        Such as "8.4 to 12.3", or "27 or more" where the upper end is not known; empty when the range has no width.
    """
    if math.isfinite(low) and not math.isfinite(high):
        return f"{rounded(low, digits)} or more"
    width = float(high) - float(low)
    if not width > 1e-9 * max(abs(float(high)), 1e-9):
        return ""
    decimals = max(digits - 1 - math.floor(math.log10(width)), 0)
    return f"{round(float(low), decimals):.{decimals}f} to {round(float(high), decimals):.{decimals}f}"


def bracketed(low, high):
    """Write a plausible range in brackets, to stand after a number.

    Parameters
    ----------
    low, high : float
        Its ends.

    Returns
    -------
    str
        Such as " (8.4 to 12.3)"; empty when the range has no width.
    """
    within = range_words(low, high)
    return f" ({within})" if within else ""


def with_range(prediction, digits=3):
    """Write a prediction with unit and plausible range.

    The value has one digit more than it is worth, so that two mixes can be compared; the range says what it is worth.

    Parameters
    ----------
    prediction : gypsumkit.mix.Prediction
        A prediction for one recipe.
    digits : int
        Significant digits of the value.

    Returns
    -------
    str
        Such as "10.3 MPa (8.4 to 12.3)".
    """
    if prediction.value is None:
        return "not predicted"
    return with_unit(prediction.value, prediction.unit, digits) + bracketed(prediction.low, prediction.high)
