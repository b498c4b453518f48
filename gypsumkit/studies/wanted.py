"""Recipes looked for backwards: which ratios of which powder meet a set of wishes, what is in the way when none does, and how much to weigh.

Each powder is predicted on a grid of ratios; where a wish begins or ceases to be met, the ratio is found again on a finer grid.
"By value" uses the predictions, "surely" the unfavourable end of their plausible ranges.
"""

import math
from typing import NamedTuple

import numpy as np

from gypsumkit.checks import checked_number
from gypsumkit.conditions import LEAST_BATCH_G, MOST_BATCH_G, Conditions
from gypsumkit.mix import pourable_ratios, predict, predict_setting
from gypsumkit.powders import POURS_ABOVE_PA, POURS_BELOW_PA, POWDERS, find_powder
from gypsumkit.problems import Problem
from gypsumkit.remembering import remembered

POINTS, FINER = 61, 17               # of the grid, and of the two finer ones between two of its ratios
FOUND_WITHIN = 1e-4                  # so near, mL/g, an end of a window is found
WISHES = ("pours", "set", "strength", "expansion")


class Wishes(NamedTuple):
    """What is wanted of a mix; None for what does not matter."""

    pours: bool = True
    set_within_min: float = None     # final set, heavy needle
    strength_mpa: float = None       # at least
    dried: bool = False              # of the dried mass, not wet at 1 h
    expansion_percent: float = None  # at most, at 2 h in air

    def asked(self):
        """Names of the wishes that are made."""
        wanted = (self.pours, self.set_within_min is not None, self.strength_mpa is not None, self.expansion_percent is not None)
        return tuple(name for name, made in zip(WISHES, wanted) if made)


class Relaxed(NamedTuple):
    """One wish that would have to give way, and how far, for the others to be met."""

    wish: str
    to: float                        # the value that can be had; None for pouring, which is had or not
    ratio: float


class Windows(NamedTuple):
    """One powder: windows of ratios (least, most) in mL/g for each wish and for all together, by value and surely."""

    powder: str
    by_wish: dict
    all: tuple
    surely_by_wish: dict
    surely: tuple
    relaxed: tuple                   # of Relaxed, when no ratio meets all
    nearest: float                   # ratio that comes nearest, when even one wish less does not help; else None
    trusted: bool                    # whether each law is used where it was made, at the ratios found


def checked_wishes(pours=True, set_within_min=None, strength_mpa=None, dried=False, expansion_percent=None):
    """Return wishes once each of them can be meant.

    Parameters
    ----------
    pours, dried : bool
        As in `Wishes`.
    set_within_min, strength_mpa, expansion_percent : float or None
        As in `Wishes`.

    Returns
    -------
    Wishes

    Raises
    ------
    Problem
        When one cannot be, or nothing is wanted.
    """
    def number(value, what, unit, least, most):
        return None if value is None else checked_number(value, what, unit, least, most)
    wishes = Wishes(bool(pours), number(set_within_min, "The time to set", "min", 1.0, 1440.0), number(strength_mpa, "The wanted strength", "MPa", 0.5, 200.0),
                    bool(dried), number(expansion_percent, "The most expansion", "%", 0.001, 2.0))
    if not wishes.asked():
        raise Problem("Nothing is wanted yet: let it pour, or type a time, a strength or an expansion.")
    return wishes


def recipes_wanted(wishes, conditions=None, powders=None):
    """Find the ratios that meet all wishes, for each powder.

    Parameters
    ----------
    wishes : Wishes
        What is wanted.
    conditions : Conditions, optional
        How it is mixed; the standard ones when not given.
    powders : sequence of str, optional
        Which powders; all of them when not given.

    Returns
    -------
    tuple of Windows
    """
    names = tuple(POWDERS) if powders is None else tuple(find_powder(name).name for name in powders)
    return tuple(_windows(name, wishes, conditions or Conditions()) for name in names)


# ---------------------------------------------------------------------------------------------
# One powder

def _predicted(powder, ratios, conditions):
    """Value, low and high of what wishes are about, and where it is trusted: arrays over the ratios."""
    flow, clock = predict(powder, ratios, conditions=conditions), predict_setting(powder, ratios, conditions)
    found = {"pours": flow["yield_stress_pa"], "wet": flow["wet_strength_mpa"], "dry": flow["dry_strength_mpa"],
             "set": clock["final_set_min"], "expansion": clock["setting_expansion_percent"]}
    def known(p, one):
        return np.where(np.isfinite(p.value), one, np.nan)         # what never happens has no range either
    return {name: tuple(known(p, np.asarray(one, dtype=float)) for one in (p.value, p.low, p.high, p.valid)) for name, p in found.items()}


@remembered(32)
def _on_grid(powder, conditions):
    kind = find_powder(powder)
    ratios = np.linspace(kind.least_ratio, kind.most_ratio, POINTS)
    return ratios, _predicted(powder, ratios, conditions)


def _strength(wishes):
    return "dry" if wishes.dried else "wet"


def _margins(found, wishes, surely):
    """How far each wish is met at each ratio, as a share of it; below 0 it is not. What is not predicted is not met."""
    value, low, high, _ = found["pours"]
    stress = (low, high) if surely else (value, value)
    margins = {"pours": np.minimum(np.log(stress[0] / POURS_ABOVE_PA.value), np.log(POURS_BELOW_PA.value / stress[1]))}
    if wishes.set_within_min is not None:
        value, _, high, _ = found["set"]
        margins["set"] = np.log(wishes.set_within_min / (high if surely else value))
    if wishes.strength_mpa is not None:
        value, low, _, _ = found[_strength(wishes)]
        margins["strength"] = np.log((low if surely else value) / wishes.strength_mpa)
    if wishes.expansion_percent is not None:
        value, _, high, _ = found["expansion"]
        margins["expansion"] = np.log(wishes.expansion_percent / np.maximum(high if surely else value, 1e-9))
    return {name: np.where(np.isfinite(margin), margin, -np.inf) for name, margin in margins.items() if name in wishes.asked()}


def _windows(powder, wishes, conditions):
    ratios, found = _on_grid(powder, conditions)
    by_wish = _found_windows(powder, wishes, conditions, ratios, _margins(found, wishes, False), False)
    surely = _found_windows(powder, wishes, conditions, ratios, _margins(found, wishes, True), True)
    together, sure = _common(by_wish.values()), _common(surely.values())
    relaxed, nearest = ((), None) if together else _in_the_way(powder, wishes, conditions, by_wish)
    trusted = not together or _trusted(_predicted(powder, np.unique(together), conditions), wishes)
    return Windows(powder, by_wish, together, surely, sure, relaxed, nearest, trusted)


def _trusted(found, wishes):
    laws = {"strength": _strength(wishes)}
    return all(bool(np.all(found[laws.get(wish, wish)][3] > 0)) for wish in wishes.asked())


def _found_windows(powder, wishes, conditions, ratios, margins, surely):
    """Windows of each wish; the ends of all wishes are refined together, so that each finer grid is one prediction."""
    edges = {name: _flips(ratios, margin) for name, margin in margins.items()}
    for _ in range(2):
        asked = [(name, place, pair) for name, pairs in edges.items() for place, pair in enumerate(pairs)]
        if not asked:
            break
        finer = np.concatenate([np.linspace(*pair, FINER) for _, _, pair in asked])
        again = _margins(_predicted(powder, finer, conditions), wishes, surely)
        for i, (name, place, pair) in enumerate(asked):
            part = slice(i * FINER, (i + 1) * FINER)
            flips = _flips(finer[part], again[name][part])
            edges[name][place] = flips[0] if flips else pair
    return {name: _between(ratios, margin, edges[name]) for name, margin in margins.items()}


def _flips(ratios, margin):
    """Pairs of neighbouring ratios between which a wish begins or ceases to be met."""
    met = margin >= 0
    return [(float(ratios[i]), float(ratios[i + 1])) for i in np.flatnonzero(met[1:] != met[:-1])]


def _between(ratios, margin, edges):
    """Windows from the state at the driest ratio and the edges; each edge is taken on its met side."""
    met, start, windows = bool(margin[0] >= 0), float(ratios[0]), []
    for low, high in edges:
        if met:
            windows.append((start, low))
        else:
            start = high
        met = not met
    if met:
        windows.append((start, float(ratios[-1])))
    return tuple(windows)


def _common(windows_of_wishes):
    """Where all wishes are met."""
    common = None
    for windows in windows_of_wishes:
        common = windows if common is None else tuple(
            (max(a, c), min(b, d)) for a, b in common for c, d in windows if max(a, c) <= min(b, d))
    return tuple(common or ())


def _in_the_way(powder, wishes, conditions, by_wish):
    """Which single wish, given up as far as needed, lets the others be met; else the ratio that comes nearest to all."""
    relaxed = []
    for name in wishes.asked():
        rest = _common(windows for other, windows in by_wish.items() if other != name) if len(by_wish) > 1 else _everywhere(powder)
        if rest:
            relaxed.append(_best(powder, wishes, conditions, name, rest))
    ratios, found = _on_grid(powder, conditions)
    worst = np.min(np.stack(list(_margins(found, wishes, False).values())), axis=0)
    return tuple(one for one in relaxed if one), None if relaxed else float(ratios[int(np.argmax(worst))])


def _everywhere(powder):
    kind = find_powder(powder)
    return ((kind.least_ratio, kind.most_ratio),)


def _best(powder, wishes, conditions, name, windows):
    """The best that can be had of one wish where the others are met; None when it is not predicted there."""
    ratios = np.unique(np.concatenate([np.linspace(low, high, FINER) for low, high in windows]))
    found = _predicted(powder, ratios, conditions)
    if name == "pours":
        margin = _margins(found, wishes, False)["pours"]
        return Relaxed(name, None, float(ratios[int(np.argmax(margin))]))
    values = found[_strength(wishes) if name == "strength" else name][0]
    if not np.any(np.isfinite(values)):
        return None
    place = int(np.nanargmax(values) if name == "strength" else np.nanargmin(values))
    return Relaxed(name, float(values[place]), float(ratios[place]))


# ---------------------------------------------------------------------------------------------
# What to weigh

class Amount(NamedTuple):
    """How much to take for what is there already: at the recommended ratio, and from the stiffest to the most fluid mix that pours."""

    amount: float
    least: float
    most: float
    unit: str
    ratio: float                     # with the rounded amount


def powder_for(powder, water_ml, ratio=None, step_g=1.0):
    """Return how much powder goes into water that is in the bowl already.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_ml : float
        mL in the bowl.
    ratio : float, optional
        mL per g; the recommended one when not given.
    step_g : float
        What the scale shows, g.

    Returns
    -------
    Amount

    Raises
    ------
    Problem
        When it is not a number, or the scale is too coarse for so little.
    """
    kind = find_powder(powder)
    water_ml = checked_number(water_ml, "The water in the bowl", "mL", 0.1, MOST_BATCH_G)
    stiff, runny = pourable_ratios(kind.name)
    wanted = kind.recommended_ratio.value if ratio is None else ratio
    amount = _rounded(water_ml / wanted, step_g, "g")
    # Ends are rounded inwards, so that what is weighed still pours.
    least, most = math.ceil(water_ml / runny / step_g - 1e-9) * step_g, math.floor(water_ml / stiff / step_g + 1e-9) * step_g
    return Amount(amount, least, most, "g", water_ml / amount)


def water_for(powder, powder_g, ratio=None, step_ml=1.0):
    """Return how much water the powder takes that is left.

    Parameters
    ----------
    powder : str
        Name of a powder.
    powder_g : float
        g.
    ratio : float, optional
        mL per g; the recommended one when not given.
    step_ml : float
        What the cylinder shows, mL.

    Returns
    -------
    Amount

    Raises
    ------
    Problem
        When it is not a number, or the cylinder is too coarse for so little.
    """
    kind = find_powder(powder)
    powder_g = checked_number(powder_g, "The powder that is left", "g", LEAST_BATCH_G, MOST_BATCH_G)
    stiff, runny = pourable_ratios(kind.name)
    wanted = kind.recommended_ratio.value if ratio is None else ratio
    amount = _rounded(powder_g * wanted, step_ml, "mL")
    least, most = math.ceil(powder_g * stiff / step_ml - 1e-9) * step_ml, math.floor(powder_g * runny / step_ml + 1e-9) * step_ml
    return Amount(amount, least, most, "mL", amount / powder_g)


def _rounded(amount, step, unit):
    step = checked_number(step, "The step of the scale", unit, 0.001, 100.0)
    rounded = round(amount / step) * step
    if rounded <= 0:
        raise Problem(f"{amount:.2g} {unit} is less than half a step of {step:g} {unit}: take a finer scale, or more of the other.")
    return rounded
