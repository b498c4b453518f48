"""What the scale and the cylinder do to a mix: their steps drawn at random, carried through the library, and set against the scatter of a class."""

from typing import NamedTuple

import numpy as np
from scipy.special import chdtri

from gypsumkit.bench.own_data import ALL_POWDERS, MEASURED
from gypsumkit.bench.statistics import CONFIDENCE, finite
from gypsumkit.checks import checked_number
from gypsumkit.mix import predict, predict_setting
from gypsumkit.powders import find_powder
from gypsumkit.problems import Problem
from gypsumkit.recipe import checked_ratio
from gypsumkit.remembering import remembered

SEED = 20_261
DRAWS = 10_000
MOST_DRAWS = 1_000_000
RATIO_STEPS = 201                   # the library is asked at so many ratios; between them a straight line (error below 0.1 %)   [gypsumkit]
SURE_FREEDOM = 2                    # fewer degrees of freedom tell nothing of a scatter
LEAST_SEEN = 5                      # results that a share needs


class Tools(NamedTuple):
    """What is weighed and measured with; a step is the smallest difference that can be read."""

    scale_step_g: float = 1.0
    cylinder_step_ml: float = 1.0
    scale_repeatability_g: float = 0.0


def checked_tools(tools):
    """Return the tools once their steps can be.

    Raises
    ------
    Problem
        When a step is not a number, or out of range.
    """
    return Tools(checked_number(tools.scale_step_g, "The step of the scale", "g", 0.0, 1000.0),
                 checked_number(tools.cylinder_step_ml, "The step of the cylinder", "mL", 0.0, 1000.0),
                 checked_number(tools.scale_repeatability_g, "The repeatability of the scale", "g", 0.0, 1000.0))


# ---------------------------------------------------------------------------------------------
# Drawing at random

class Drawn(NamedTuple):
    """What came out of many random draws."""

    mean: float
    deviation: float                 # standard deviation: the standard uncertainty
    deviation_error: float           # how far that itself is off by chance, one standard error
    low: float                       # the middle 95 of 100
    high: float
    draws: int


def monte_carlo(model, inputs, draws=DRAWS, seed=SEED):
    """Carry random errors of the inputs through a model.

    Parameters
    ----------
    model : callable
        Takes one array for each input, by name, and returns an array.
    inputs : dict of str to (str, float, float)
        For each input its kind, its middle and its width: ("rectangular", middle, half width) or ("normal", middle, standard deviation).
    draws : int
        How many, 100 to 1,000,000.
    seed : int
        Of the random numbers: the same seed gives the same result.

    Returns
    -------
    Drawn

    Raises
    ------
    Problem
        When a kind is unknown or the number of draws out of range.

    Notes
    -----
    Propagation of distributions [gum_monte_carlo]. The standard error of the standard deviation s of n draws is
    sqrt[(m4 - s^4) / n] / (2 s), m4 the fourth moment about the mean; the interval has an equal share of 2.5 % on each side.
    """
    draws = int(checked_number(draws, "The number of draws", "", 100, MOST_DRAWS))
    chance = np.random.default_rng(seed)
    drawn = {}
    for name, (kind, middle, width) in inputs.items():
        if kind == "rectangular":
            drawn[name] = middle + width * chance.uniform(-1.0, 1.0, draws)
        elif kind == "normal":
            drawn[name] = middle + width * chance.standard_normal(draws)
        else:
            raise Problem(f"An input is 'rectangular' or 'normal', not '{kind}'.")
    return described(model(**drawn))


def described(results):
    """Return mean, standard deviation with its standard error, and the middle 95 of 100 of drawn results."""
    x = np.asarray(results, dtype=float)
    mean = float(np.mean(x))
    away = x - mean
    deviation = float(np.sqrt(np.sum(away**2) / (x.size - 1)))
    if deviation < 1e-12 * abs(mean):
        deviation = 0.0              # all alike but for the last digits of the computer
    error = float(np.sqrt(max(np.mean(away**4) - deviation**4, 0.0) / x.size) / (2.0 * deviation)) if deviation > 0 else 0.0
    low, high = np.quantile(x, [0.5 - CONFIDENCE / 2, 0.5 + CONFIDENCE / 2])
    return Drawn(mean, deviation, error, float(low), float(high), x.size)


@remembered(4)
def _chances(draws, seed):
    """Random errors for a weighing, once for all sliders: load and zero of the scale, its own scatter, the cylinder."""
    chance = np.random.default_rng(seed)
    return chance.uniform(-0.5, 0.5, (3, draws)), chance.standard_normal(draws)


def drawn_ratios(powder_g, water_ml, tools, draws=DRAWS, seed=SEED):
    """Draw the ratios that are really in the bowl when the sheet says so much powder and water.

    Parameters
    ----------
    powder_g, water_ml : float
        As weighed and measured, g and mL.
    tools : Tools
    draws, seed : int

    Returns
    -------
    array

    Notes
    -----
    A reading lies anywhere within half a step [gum]. The scale is read twice, at zero with the empty bowl and with the powder, the
    cylinder once. What all mixes share (a scale that is wrong, a cylinder marked wrongly) is no scatter and not part of it.
    """
    (loaded, zero, level), own = _chances(int(draws), int(seed))
    powder = powder_g + tools.scale_step_g * (loaded - zero) + tools.scale_repeatability_g * own
    if np.any(powder <= 0):
        raise Problem(f"A scale that reads to {tools.scale_step_g:g} g cannot weigh {powder_g:g} g: weigh more, or on a finer scale.")
    return np.maximum(water_ml + tools.cylinder_step_ml * level, 0.0) / powder


def ratio_deviation(powder_g, water_ml, tools):
    """Standard deviation of the ratio by first-order propagation, without drawing.

    Parameters
    ----------
    powder_g, water_ml : float
    tools : Tools

    Returns
    -------
    float
        mL per g.

    Notes
    -----
    w sqrt[(u_powder / powder)^2 + (u_water / water)^2] with u_powder^2 = step^2 / 6 + repeatability^2 (two readings) and
    u_water^2 = step^2 / 12 [gum].
    """
    powder = np.sqrt(tools.scale_step_g**2 / 6.0 + tools.scale_repeatability_g**2) / powder_g
    water = tools.cylinder_step_ml / np.sqrt(12.0) / water_ml
    return float(water_ml / powder_g * np.hypot(powder, water))


# ---------------------------------------------------------------------------------------------
# Through the library

@remembered(32)
def _curve(powder, quantity):
    """The library's prediction of a quantity over all ratios that make a paste, made in the standard way."""
    kind = find_powder(powder)
    ratios = np.linspace(kind.least_ratio, kind.most_ratio, RATIO_STEPS)
    name = MEASURED[quantity].predicted
    found = predict(powder, ratios) if quantity in ("spread_mm", "strength_mpa") else predict_setting(powder, ratios, ranges=False)
    values = np.asarray(found[name].value, dtype=float)
    known = np.isfinite(values)
    return ratios[known], values[known]


def quantity_at(powder, quantity, ratios):
    """Return the library's prediction of a quantity at many ratios, read from its curve; not a number where there is no paste.

    Parameters
    ----------
    powder : str
    quantity : str
        A key of `gypsumkit.bench.own_data.MEASURED`.
    ratios : array

    Returns
    -------
    array
    """
    at, values = _curve(find_powder(powder).name, quantity)
    return np.interp(ratios, at, values, left=np.nan, right=np.nan)


class Weighed(NamedTuple):
    """What weighing alone does to one recipe."""

    ratio: Drawn
    quantity: Drawn
    value: float                     # predicted where nothing is weighed wrongly
    first_order: float               # standard deviation of the quantity by first-order propagation
    outside: float                   # share of draws that make no paste and were left out

    @property
    def percent(self):
        """Standard deviation of the quantity, in percent of the predicted value."""
        return 100.0 * self.quantity.deviation / self.value


def weighed(powder, ratio, powder_g, tools, quantity="spread_mm", draws=DRAWS, seed=SEED):
    """Carry the steps of scale and cylinder through the library.

    Parameters
    ----------
    powder : str
        Name of a powder.
    ratio : float
        The recipe, mL per g.
    powder_g : float
        Powder in the batch, g, 1 to 100,000.
    tools : Tools
        What it is weighed and measured with.
    quantity : str
        A key of `gypsumkit.bench.own_data.MEASURED`.
    draws, seed : int
        How many random draws, and where they start.

    Returns
    -------
    Weighed

    Raises
    ------
    Problem
        When the recipe makes no paste, or the tools cannot weigh it.

    Notes
    -----
    Drawn at random [gum_monte_carlo], and by first order, |slope at the ratio| x `ratio_deviation` [gum], for comparison.
    """
    if quantity not in MEASURED:
        raise Problem(f"'{quantity}' is not among what is compared; there are {', '.join(MEASURED)}.")
    kind = find_powder(powder)
    ratio = checked_ratio(kind, ratio)
    powder_g = checked_number(powder_g, "The weight of the powder", "g", 1.0, 100_000.0)
    tools = checked_tools(tools)
    draws = int(checked_number(draws, "The number of draws", "", 100, MOST_DRAWS))
    water_ml = ratio * powder_g
    ratios = drawn_ratios(powder_g, water_ml, tools, draws, seed)
    at, values = _curve(kind.name, quantity)
    paste = (ratios >= at[0]) & (ratios <= at[-1])
    if np.mean(paste) < 0.5:
        raise Problem(f"With a scale step of {tools.scale_step_g:g} g and a cylinder step of {tools.cylinder_step_ml:g} mL most batches of {powder_g:g} g "
                      "would be no paste: take a bigger batch or finer tools.")
    ratio_off = ratio_deviation(powder_g, water_ml, tools)
    near = 0.5 * (at[1] - at[0])
    slope = (np.interp(ratio + near, at, values) - np.interp(ratio - near, at, values)) / (min(ratio + near, at[-1]) - max(ratio - near, at[0]))
    return Weighed(described(ratios), described(np.interp(ratios[paste], at, values)), float(np.interp(ratio, at, values)),
                   abs(float(slope)) * ratio_off, float(1.0 - np.mean(paste)))


def batch_curve(powder, ratio, batches_g, tools, quantity="spread_mm"):
    """Return the scatter from weighing for many sizes of batch, in percent of the predicted value, by first-order propagation.

    Parameters
    ----------
    powder : str
    ratio : float
        mL per g.
    batches_g : array
        Powder in the batch, g.
    tools : Tools
    quantity : str

    Returns
    -------
    array
        In percent; it falls as one over the size of the batch.
    """
    one = weighed(powder, ratio, float(batches_g[0]), tools, quantity, draws=100)
    alone = ratio_deviation(float(batches_g[0]), ratio * float(batches_g[0]), tools)
    per_ratio = one.first_order / alone if alone > 0 else 0.0
    return np.array([100.0 * per_ratio * ratio_deviation(float(grams), ratio * float(grams), tools) / one.value for grams in batches_g])


# ---------------------------------------------------------------------------------------------
# Against the scatter of a class

class Shares(NamedTuple):
    """What part of the variance each cause has, in percent; what cannot be said is not a number, and `reason` tells why."""

    count: int
    seen: float                      # standard deviation seen in the class, percent of the prediction
    expected: float                  # the same with the weighing that is asked about, all else as in the class
    weighing: float                  # share of weighing
    weighing_low: float              # the same with the seen scatter at the ends of its own 95 % range
    weighing_high: float
    within: float                    # share of what one maker does differently from mix to mix, beyond weighing
    between: float                   # share of what makers do differently from each other
    split: bool                      # whether within and between could be told apart; else `within` holds both
    reason: str


def shares(compared, powder, weighing_percent, class_percent=None, leave_out=()):
    """Split the variance of a class into weighing and the rest.

    Parameters
    ----------
    compared : Comparison
        Own or class data of one quantity.
    powder : str
        Which powder's scatter is seen.
    weighing_percent : float
        Standard deviation that weighing alone would give, in percent of the predicted value.
    class_percent : float, optional
        The same for the weighing with which the class was made, when another one is asked about: the rest of the scatter is then
        kept and the weighing exchanged.
    leave_out : sequence of int
        Rows left out of the seen scatter.

    Returns
    -------
    Shares

    Notes
    -----
    Variances of independent causes add [gum]. What makers have in common with themselves comes from all powders together, where a
    maker made one mix of each [iso_5725]. The range of the share takes the chi-squared range of the seen variance [nist_handbook].
    When the weighing of the class would scatter more than was seen, nothing is left for the rest, and that is said.
    """
    nothing = np.nan
    off = compared.off_percent.copy()
    off[list(leave_out)] = np.nan
    own = finite(off[compared.powder == powder]) if powder != ALL_POWDERS else finite(off)
    if own.size < LEAST_SEEN:
        return Shares(own.size, *[nothing] * 7, False, f"not enough: {own.size} results of {powder}; at least {LEAST_SEEN} are needed to see a scatter")
    freedom, seen = own.size - 1, float(np.var(own, ddof=1))
    if seen == 0:
        return Shares(own.size, 0.0, *[nothing] * 6, False, "all results are alike: there is no scatter to split")
    mine = weighing_percent**2
    of_class = mine if class_percent is None else class_percent**2

    def share(variance):
        total = max(variance - of_class, 0.0) + mine
        return 100.0 * mine / total if total > 0 else 0.0
    low, high = (freedom * seen / chdtri(freedom, above) for above in (0.5 - CONFIDENCE / 2, 0.5 + CONFIDENCE / 2))
    rest = max(seen - of_class, 0.0)
    found, between, split = compared.precision(leave_out), 0.0, False
    if np.isfinite(found.between) and found.within_freedom >= SURE_FREEDOM and found.reproducibility > 0:
        split, between = True, min(rest, seen * (found.between / found.reproducibility) ** 2)
    total = rest + mine
    reason = "weighing as the class is taken to have done would scatter more than was seen: it weighed better than that" if of_class > seen else ""
    parts = (100.0 * (rest - between) / total, 100.0 * between / total) if total > 0 else (0.0, 0.0)
    return Shares(own.size, float(np.sqrt(seen)), float(np.sqrt(total)), share(seen), *sorted((share(low), share(high))), *parts, split, reason)


# ---------------------------------------------------------------------------------------------
# In words

def weighed_words(done, quantity):
    """Say what weighing alone does.

    Parameters
    ----------
    done : Weighed
    quantity : str

    Returns
    -------
    str
    """
    what = MEASURED[quantity]
    return (f"From weighing alone the ratio has a standard deviation of {done.ratio.deviation:.2g} about {done.ratio.mean:.3f}. The {what.words} has one of "
            f"{done.quantity.deviation:.2g} {what.unit}, which is {done.percent:.2g} % of {done.value:.3g} {what.unit}. 95 of 100 mixes lie from {done.quantity.low:.3g} to "
            f"{done.quantity.high:.3g} {what.unit}. The computer weighed {done.quantity.draws:,} mixes by chance, always the same ones; with others the standard deviation would "
            f"differ by about {100 * done.quantity.deviation_error / done.quantity.deviation if done.quantity.deviation else 0:.1g} %. Worked out with a formula, it is "
            f"{done.first_order:.2g} {what.unit}.")


def shares_words(found, quantity, powder):
    """Say what part of the seen scatter is weighing.

    Parameters
    ----------
    found : Shares
    quantity : str
    powder : str

    Returns
    -------
    str
    """
    if not np.isfinite(found.weighing):
        return f"Shares: {found.reason}."
    text = (f"The {MEASURED[quantity].words} of the {found.count} results of {powder} has a standard deviation of {found.seen:.2g} % of the prediction. "
            f"Weighed as chosen, with all else the same, it would be {found.expected:.2g} %. Of this variance weighing makes {found.weighing:.0f} % (95 % sure: "
            f"{found.weighing_low:.0f} to {found.weighing_high:.0f} %)")
    text += (f", hand, reading and powder from mix to mix make {found.within:.0f} %, and differences between makers {found.between:.0f} %." if found.split
             else f". The rest, {found.within:.0f} %, is hand, reading and powder; makers cannot be told apart with these data.")
    return text + (f" ({found.reason[0].upper()}{found.reason[1:]}.)" if found.reason else "")
