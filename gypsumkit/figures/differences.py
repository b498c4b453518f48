"""What differs between the mix now and the pinned ones, in words, read from the numbers that the table shows."""

import re

from gypsumkit.figures.scene import Table

PINNED = "pinned "
_NUMBER = re.compile(r"\s*([-−+]?\d+(?:\.\d+)?)\s*(.*?)\s*(?:\(.*\))?\s*$", re.DOTALL)
_RANGE = re.compile(r"([-−]?\d+(?:\.\d+)?) to ([-−]?\d+(?:\.\d+)?)")


def differences(table):
    """Return how each pinned mix differs from the mix now.

    Parameters
    ----------
    table : Table or None
        The numbers of a scene; its columns named "pinned A" and so on are compared with the first one.

    Returns
    -------
    Table or None
        None where nothing is pinned.
    """
    if table is None:
        return None
    pins = [column for column, head in enumerate(table.heads) if head.startswith(PINNED)]
    if not pins:
        return None
    rows = tuple((row[0], *(difference_words(row[1], row[column], _range_of(table, row)) for column in pins)) for row in table.rows)
    heads = ("", *(f"{table.heads[column][len(PINNED):]} against now" for column in pins))
    return Table(heads, rows, "How the pinned ones differ")


def _range_of(table, row):
    column = next((column for column, head in enumerate(table.heads) if "plausible range" in head), None)
    found = None if column is None else _RANGE.search(row[column])
    return None if found is None else tuple(_float(text) for text in found.groups())


def difference_words(now, pinned, plausible=None):
    """Say how a pinned cell differs from the one now.

    Parameters
    ----------
    now, pinned : str
        Cells of a table, such as "40.3 mm".
    plausible : pair of float, optional
        The plausible range of the number now: a pinned value inside it is a difference that may not be there at the bench.

    Returns
    -------
    str
    """
    here, there = _NUMBER.match(now), _NUMBER.match(pinned)
    if not here or not there or here.group(2) != there.group(2):
        return "the same" if now == pinned else f"{pinned} instead of {now}" if now and pinned else pinned or "not known"
    decimals = max(len(found.group(1).partition(".")[2]) for found in (here, there))
    value, other, unit = _float(here.group(1)), _float(there.group(1)), here.group(2)
    apart = round(abs(other - value), decimals)
    if apart == 0:
        return "the same"
    said = f"{apart:.{decimals}f} {'percentage points' if unit == '%' else unit}".strip() + (" more" if other > value else " less")
    if value > 0 and unit not in ("%", "°C") and other > 0:
        said += f" ({100 * (other / value - 1):+.0f} %)".replace("-", "−")
    if plausible is not None and plausible[0] <= other <= plausible[1]:
        said += ", within the plausible range"
    return said


def _float(text):
    return float(text.replace("−", "-"))
