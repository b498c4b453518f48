"""Numbers as they are given, checked once and refused in one sentence."""

import math

from gypsumkit.problems import Problem


def _plain(text):
    """A typed number with a decimal point; underscores and digits of other scripts, which Python would take, are refused."""
    plain = text.strip().replace(",", ".")
    if not plain.isascii() or "_" in plain:
        raise ValueError(text)
    return plain


def checked_number(value, what, unit, least=None, most=None):
    """Return what was given as an ordinary number.

    Parameters
    ----------
    value : float or str
        What was given; a decimal comma is understood.
    what : str
        Name of it at the start of a sentence, "The amount of water".
    unit : str
        Unit it is expected in.
    least, most : float, optional
        The range it must lie in.

    Returns
    -------
    float

    Raises
    ------
    Problem
        When it is not a number, or out of range.
    """
    in_unit = f" in {unit}" if unit else ""
    if isinstance(value, bool):
        raise Problem(f"{what} must be a number{in_unit}, not yes or no.")
    try:
        number = float(_plain(value)) if isinstance(value, str) else float(value)
    except (TypeError, ValueError):
        raise Problem(f"{what} must be a number{in_unit}; '{str(value)[:40]}' is not one.") from None
    if not math.isfinite(number):
        raise Problem(f"{what} must be an ordinary number{in_unit}; '{str(value)[:40]}' is not one.")
    if (least is not None and number < least) or (most is not None and number > most):
        space = f" {unit}" if unit else ""
        must = f"lie between {least:,g} and {most:,g}{space}" if most is not None else f"be at least {least:,g}{space}"
        raise Problem(f"{what} is given as {number:g}{space}; it must {must}.")
    return number
