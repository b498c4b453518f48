"""A choice judged for a case: strength, accuracy, time and cost, each with its range, its reason and what it costs elsewhere."""

from dataclasses import dataclass

import numpy as np

from gypsumkit import powders
from gypsumkit.bench.case_choices import beaten_by, best_choices, good_ratios, powder_g, with_other_water
from gypsumkit.bench.cases import MACHINE_USE, WASTE, WASTE_RANGE, Choice, hours
from gypsumkit.bench.prices import price_list
from gypsumkit.mix import EARLIEST_MIN, Mix
from gypsumkit.problems import Problem
from gypsumkit.science.expansion import length_change_um
from gypsumkit.showing import bracketed, rounded
from gypsumkit.studies.ageing import first_week

MEETS, MAY_MISS, MISSES, NOT_JUDGED = "meets", "may miss", "misses", "not judged"
WORST_FIRST = (MISSES, NOT_JUDGED, MAY_MISS, MEETS)
ASPECTS = ("strength", "accuracy", "time", "cost")
POURS = "it pours until"
TRADE_STEP = 0.02                     # mL per g: two mL of water per 100 g more or less


@dataclass(frozen=True)
class Check:
    """One number of a choice beside what the case wants of it.

    `least` or `most` is None where the case sets no such limit; `value` is not a number where it never happens.
    """

    aspect: str
    words: str
    unit: str
    value: float
    low: float
    high: float
    least: float
    most: float
    reason: str

    @property
    def verdict(self):
        """One of the verdicts: the value decides, and the range says whether it is sure."""
        least, most = (-np.inf if self.least is None else self.least), (np.inf if self.most is None else self.most)
        if not least <= self.value <= most:
            return MISSES
        return MEETS if least <= self.low and self.high <= most else MAY_MISS

    def number(self):
        """Say the value with its range and unit."""
        if not np.isfinite(self.value):
            return "never"
        if self.words == POURS and self.value < EARLIEST_MIN:
            return "not at all"
        if self.unit == "money":
            return f"{self.value:.2f} ({self.low:.2f} to {self.high:.2f})" if self.high > self.low else f"{self.value:.2f}"
        if self.unit == "min" and self.high == self.low:
            return hours(self.value)
        return f"{rounded(self.value, 2 if self.unit == '%' else 3)} {self.unit}{bracketed(self.low, self.high)}"

    def wanted(self):
        """Say what the case wants of it."""
        def said(number):
            return f"{number:.2f}" if self.unit == "money" else hours(number) if self.unit == "min" else f"{number:g} {self.unit}"
        if self.least is not None and self.most is not None:
            return f"{self.least:g} to {said(self.most)}"
        return f"at least {said(self.least)}" if self.most is None else f"at most {said(self.most)}"

    def sentence(self):
        """Say number, wish, verdict and reason in one sentence."""
        return f"{self.words} {self.number()}, wanted {self.wanted()}: {self.verdict}" + (f" ({self.reason})" if self.reason else "")


@dataclass(frozen=True)
class Judgement:
    """What becomes of a choice in a case."""

    case: object
    choice: Choice
    checks: tuple                     # of Check, in the order of ASPECTS
    notes: tuple                      # where a law is used outside its range, or a price is missing
    beaten: tuple                     # (ratio, in what it is better), or None
    good: tuple                       # least and most ratio of the same powder that meet every wish, or None
    powders_that_do: int              # how many of the powders have an acceptable choice
    trades: tuple                     # sentences: what a little less and a little more water would do

    def of(self, aspect):
        """Return the checks of one aspect.

        Parameters
        ----------
        aspect : str
            One of `ASPECTS`.
        """
        return tuple(check for check in self.checks if check.aspect == aspect)

    def verdict(self, aspect):
        """Return the verdict of one aspect: the worst of its checks.

        Parameters
        ----------
        aspect : str
            One of `ASPECTS`.
        """
        found = [check.verdict for check in self.of(aspect)] or [NOT_JUDGED]
        return min(found, key=WORST_FIRST.index)

    @property
    def acceptable(self):
        """Whether every wish is met, by value at least."""
        return all(self.verdict(aspect) in (MEETS, MAY_MISS) for aspect in ASPECTS)

    def overall(self):
        """Say the whole in words, without a mark: several good answers exist.

        Returns
        -------
        str
        """
        by_verdict = {verdict: [aspect for aspect in ASPECTS if self.verdict(aspect) == verdict] for verdict in WORST_FIRST}
        said = []
        if by_verdict[MISSES]:
            said.append(f"It misses in {_and(by_verdict[MISSES])}.")
        elif by_verdict[MAY_MISS]:
            said.append(f"It meets every wish by its value, but in {_and(by_verdict[MAY_MISS])} the range reaches out: try it before you rely on it.")
        elif not by_verdict[NOT_JUDGED]:
            said.append("It meets every wish, with its whole range.")
        if by_verdict[NOT_JUDGED]:
            said.append(f"The {_and(by_verdict[NOT_JUDGED])} is not judged.")
        if by_verdict[MISSES]:
            ratio = self.choice.water_powder_ratio
            if self.good is None:
                said.append(f"With this mixing and this schedule no ratio of {self.choice.powder} meets every wish: change something else.")
            elif not self.good[0] <= ratio <= self.good[1]:
                said.append(f"The same powder with {'more' if ratio < self.good[0] else 'less'} water would meet every wish.")
        if self.beaten is not None:
            said.append(f"The same powder at a ratio of {self.beaten[0]:.3g} beats it: better in {_and(self.beaten[1])}, no worse in the others.")
        many = self.powders_that_do
        said.append(f"Several good answers exist, with {many} of the powders." if many > 1 else "Good answers exist, with one powder."
                    if many else "No choice meets every wish.")
        return " ".join(said)


def judge(case, choice, own_prices=None):
    """Judge a choice for a case.

    Parameters
    ----------
    case : Case
        One of `gypsumkit.bench.cases.CASES`.
    choice : Choice
        What the reader takes.
    own_prices : dict of str to float, optional
        As for `gypsumkit.bench.prices.price_list`; invented prices else.

    Returns
    -------
    Judgement
    """
    checks, notes = _checks(case, choice, own_prices)
    able = {one.powder for one in best_choices(case, own_prices)}
    return Judgement(case, choice, checks, notes, beaten_by(case, choice, own_prices), good_ratios(case, choice, own_prices), len(able),
                     _trades(case, choice, checks, own_prices))


def strength_when_used(choice, soaked=False):
    """Predict the compressive strength of the cast at the moment of use.

    Parameters
    ----------
    choice : Choice
        The cast.
    soaked : bool
        It is made wet again first, so drying gains nothing.

    Returns
    -------
    tuple of float
        Value, low, high, MPa. The range is the wider one of the two that the library gives: while it sets, and while it dries.
    """
    moment = np.array([choice.when.used_min])
    week = first_week(choice.recipe, moment, np.inf if soaked else choice.when.half_dry_h)
    setting = Mix(choice.recipe).timeline(moment)["strength_mpa"]
    value, wet = float(week.strength_mpa[0]), float(setting.value[0])
    low = min(float(week.strength_low_mpa[0]), value * float(setting.low[0]) / wet) if wet > 0 else 0.0
    high = max(float(week.strength_high_mpa[0]), value * float(setting.high[0]) / wet) if wet > 0 else float(setting.high[0])
    return value, low, high


def cost_of_a_cast(case, choice, own_prices=None):
    """Compute what one cast costs: its powder with waste, and the use of the machine.

    Parameters
    ----------
    case : Case
        Says how large the cast is.
    choice : Choice
        What it is made of.
    own_prices : dict of str to float, optional
        As for `gypsumkit.bench.prices.price_list`.

    Returns
    -------
    tuple of float
        Value, low, high, in the money of the price list; the range is that of the waste.

    Raises
    ------
    Problem
        When there is no price of this powder.
    """
    prices = price_list(own_prices)
    if choice.powder not in prices:
        raise Problem(f"There is no price of {choice.powder}; type one.")
    air = float(Mix(choice.recipe).air_fraction.value)
    machine = MACHINE_USE if choice.mixing == "machine under vacuum" else 0.0
    grams = [float(powder_g(choice.powder, choice.water_powder_ratio, case.cast_ml, air, waste)) for waste in (WASTE, *WASTE_RANGE)]
    return tuple(one / 1000.0 * prices[choice.powder].per_kg + machine for one in grams)


def _numbers(prediction, scale=1.0):
    """Value, low and high of a prediction; not a number where it never happens."""
    if prediction.value is None:
        return np.nan, np.nan, np.nan
    high = np.inf if prediction.high is None or np.isnan(prediction.high) else prediction.high
    return tuple(float(scale * one) for one in (prediction.value, prediction.low, high))


def _checks(case, choice, own_prices):
    mix, when = Mix(choice.recipe), choice.when
    checks, notes = [], []

    def check(aspect, words, unit, numbers, least, most, why_low="", why_high="", why_never=""):
        value = numbers[0]
        why = why_never if not np.isfinite(value) else why_low if least is not None and value < least else why_high if most is not None and value > most else ""
        checks.append(Check(aspect, words, unit, *numbers, least, most, why))
    wet_words = f"a porosity of {rounded(100 * float(mix.porosity.value), 2)} %"
    drying = " and soaked again" if case.soaked else "" if when.half_dry_h < np.inf else " and still wet"
    check("strength", "strength when used", "MPa", strength_when_used(choice, case.soaked), case.strength_mpa, None, why_low=wet_words + drying)
    growth = _numbers(mix.setting_expansion_percent)
    change = tuple(float(length_change_um(one, case.length_mm)) for one in growth)
    check("accuracy", f"length change on {case.length_mm:g} mm", "µm", change, None, case.change_um,
          why_high=f"it grows by {rounded(growth[0], 2)} %" if np.isfinite(growth[0]) else "", why_never="it does not set")
    check("accuracy", "yield stress", "Pa", _numbers(mix.yield_stress_pa), powders.POURS_ABOVE_PA.value, powders.POURS_BELOW_PA.value,
          why_low="runny: the powder settles, and the surface becomes soft", why_high="too stiff to pour: it bridges over details and traps air",
          why_never="it no longer flows when it is poured")
    check("accuracy", "air", "%", _numbers(mix.air_fraction, 100.0), None, case.air_percent, why_high="this way of mixing leaves bubbles, at edges too")
    check("time", POURS, "min", _numbers(mix.working_time_min), case.working_min, None, why_low="it stiffens before all is poured",
          why_never="it does not set")
    check("time", "final set", "min", _numbers(mix.final_set_min), None, when.separated_min,
          why_high="separated too soon: it bends or breaks, and keeps no size", why_never="it does not become hard within a day")
    check("time", "used at", "min", (when.used_min,) * 3, None, case.ready_min, why_high="it is wanted earlier")
    try:
        check("cost", "cost of one cast", "money", cost_of_a_cast(case, choice, own_prices), None, case.cost,
              why_high=f"{price_list(own_prices)[choice.powder].per_kg:.2f} for 1 kg" if choice.powder in price_list(own_prices) else "")
    except Problem as problem:
        notes.append(str(problem))
    told = {**mix.predictions, **mix.setting}
    used = ("yield_stress_pa", "wet_strength_mpa", "setting_expansion_percent")
    notes += dict.fromkeys(f"{told[name].reason[0].upper()}{told[name].reason[1:]}." for name in used if not told[name].valid and told[name].reason)
    return tuple(checks), tuple(notes)


def _trades(case, choice, checks, own_prices):
    """Say what a little less and a little more water would do, each with what it costs elsewhere."""
    before = {check.words: check.value for check in checks}
    words = {"strength": ("strength when used", " MPa", 1), "growth": (f"length change on {case.length_mm:g} mm", " µm", 0), "final set": ("final set", " min", 1),
             "cost": ("cost of one cast", "", 2)}
    said = []
    for way, step in (("less", -TRADE_STEP), ("more", TRADE_STEP)):
        after = with_other_water(case, choice, step, own_prices)
        if after is not None:
            changes = [(name, _signed(after[name] - before[key], digits), unit) for name, (key, unit, digits) in words.items() if key in before]
            parts = [f"{name} {change}{unit}" if change else f"{name} the same" for name, change, unit in changes]
            said.append(f"With 2 mL {way} water per 100 g: {', '.join(parts)}.")
    return tuple(said)


def _signed(change, digits):
    text = f"{abs(round(change, digits)):.{digits}f}"
    return "" if not float(text) else ("+" if change > 0 else "−") + text


def _and(names):
    names = list(names)
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
