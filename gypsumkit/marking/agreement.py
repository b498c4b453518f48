"""How far two markers agree who judged the same things in levels: weighted kappa with its interval."""

from typing import NamedTuple

import numpy as np
from scipy.special import ndtri

CONFIDENCE = 0.95
LEAST_FOR_INTERVAL = 20              # judgements; the interval is one for many, and below this it is not shown       [gypsumkit]


class Agreement(NamedTuple):
    """How far two markers agree; not a number where it cannot be worked out, with the reason."""

    judgements: int
    same: int                        # judged alike
    kappa: float
    standard_error: float
    low: float
    high: float
    reason: str


def weights_of(levels, kind):
    """How much of an agreement two levels count for: 1 on the diagonal, 0 from the first to the last.

    Parameters
    ----------
    levels : int
        How many there are.
    kind : {"linear", "quadratic", "none"}

    Returns
    -------
    array

    Notes
    -----
    1 - |i - j| / (k - 1), or the same with squares; "none" counts only what is judged alike, Cohen's kappa without weights
    [cohen_1968].
    """
    away = np.abs(np.subtract.outer(np.arange(levels), np.arange(levels))) / max(levels - 1, 1)
    return {"linear": 1.0 - away, "quadratic": 1.0 - away**2, "none": (away == 0).astype(float)}[kind]


def agreement(first, second, levels, kind="linear"):
    """How far two markers agree.

    Parameters
    ----------
    first, second : sequence of int
        Their levels of the same things, from 0; where either is missing (None, or not a number) the pair is left out.
    levels : int
        How many levels there are.
    kind : str
        As in `weights_of`.

    Returns
    -------
    Agreement
    """
    first, second = (np.array([np.nan if one is None else one for one in side], dtype=float) for side in (first, second))
    both = np.isfinite(first) & np.isfinite(second)
    table = np.zeros((levels, levels))
    np.add.at(table, (first[both].astype(int), second[both].astype(int)), 1.0)
    return agreement_of_table(table, weights_of(levels, kind))


def agreement_of_table(table, weights, confidence=CONFIDENCE):
    """How far two markers agree, from the table of their judgements.

    Parameters
    ----------
    table : array, levels by levels
        How often the first gave the level of the row and the second that of the column.
    weights : array
        As from `weights_of`.
    confidence : float

    Returns
    -------
    Agreement

    Notes
    -----
    kappa = (p_o - p_c) / (1 - p_c) with p_o the weighted share judged alike and p_c what chance would give with the same totals
    [cohen_1968]; its standard error for many judgements [fleiss_1969].
    """
    table, weights = np.asarray(table, dtype=float), np.asarray(weights, dtype=float)
    count = float(table.sum())
    same = int(round(float(np.trace(table))))
    if not count:
        return Agreement(0, 0, *(np.nan,) * 4, "not enough: nothing was judged by both")
    share = table / count
    rows, columns = share.sum(axis=1), share.sum(axis=0)
    observed, by_chance = float((weights * share).sum()), float(rows @ weights @ columns)
    left = 1.0 - by_chance
    if left < 1e-12:
        return Agreement(int(count), same, *(np.nan,) * 4, "both gave the same level throughout: nothing can be told apart from chance")
    kappa = (observed - by_chance) / left
    mean = (weights @ columns)[:, None] + (rows @ weights)[None, :]
    inner = float((share * (weights * left - mean * (1.0 - observed)) ** 2).sum()) - (observed * by_chance - 2 * by_chance + observed) ** 2
    error = float(np.sqrt(max(inner, 0.0) / count)) / left**2
    if count < LEAST_FOR_INTERVAL:
        return Agreement(int(count), same, kappa, error, np.nan, np.nan, f"fewer than {LEAST_FOR_INTERVAL} judgements: no interval")
    half = float(ndtri(0.5 + confidence / 2)) * error
    return Agreement(int(count), same, kappa, error, max(kappa - half, -1.0), min(kappa + half, 1.0), "")


def agreement_words(found, kind):
    """Say how far two markers agree.

    Parameters
    ----------
    found : Agreement
    kind : str
        Of the weights.

    Returns
    -------
    str
    """
    if not np.isfinite(found.kappa):
        return f"Agreement of the two markers: {found.reason}."
    return f"{found.same} of {found.judgements} judgements are alike; {kappa_words(found, kind)}."


def kappa_words(found, kind):
    """Say kappa with its range: "kappa with linear weights 0.76, 95 % sure 0.68 to 0.85"."""
    interval = f", 95 % sure {found.low:.2f} to {found.high:.2f}" if not found.reason else f" ({found.reason})"
    return f"kappa with {kind} weights {found.kappa:.2f}{interval}"
