"""Every choice for a case on a grid, judged by value, and those that no other choice beats.

One choice beats another when it is no worse in strength, growth, time and cost, and better in at least one. The grid holds every ratio
that makes a paste, in steps of 0.005; acceptable are only those for which the setting constants were made.
"""

from typing import NamedTuple

import numpy as np

from gypsumkit import clock, powders
from gypsumkit.bench.cases import MACHINE_USE, MIXINGS, SCHEDULES, WASTE, Choice
from gypsumkit.bench.prices import price_list
from gypsumkit.conditions import Conditions
from gypsumkit.mix import predict, predict_setting
from gypsumkit.powders import POWDERS
from gypsumkit.remembering import remembered
from gypsumkit.science import drying, expansion, hydration, pores, strength, water
from gypsumkit.studies.ageing import free_water_left

STEP = 0.005
SAME = 1e-3                           # two numbers closer than this share count as equal


class Grid(NamedTuple):
    """Choices as columns: arrays, one value a choice."""

    powder: np.ndarray                # places in POWDERS, MIXINGS and SCHEDULES
    mixing: np.ndarray
    schedule: np.ndarray
    water_powder_ratio: np.ndarray    # mL per g
    strength_mpa: np.ndarray          # when it is used
    change_um: np.ndarray             # on the length of the case, by 2 h
    final_set_min: np.ndarray
    used_min: np.ndarray
    cost: np.ndarray                  # one cast
    acceptable: np.ndarray            # every wish of the case is met by value
    sound: np.ndarray                 # pours, pours long enough, sets before it is separated, holds little enough air

    def choice(self, place):
        """Return one choice of the grid.

        Parameters
        ----------
        place : int
            Its place in the columns.

        Returns
        -------
        Choice
        """
        return Choice(list(POWDERS)[self.powder[place]], round(float(self.water_powder_ratio[place]), 4),
                      list(MIXINGS)[self.mixing[place]], list(SCHEDULES)[self.schedule[place]])

    def losses(self):
        """Return what is better when smaller: strength (negative), growth, time and cost, one row a choice."""
        return np.stack([-self.strength_mpa, self.change_um, self.used_min, self.cost], axis=1)


def ratios_of(powder):
    """Return the ratios of the grid for a powder.

    Parameters
    ----------
    powder : Powder
        A powder of `POWDERS`.

    Returns
    -------
    array, mL per g
    """
    return STEP * np.arange(np.ceil(powder.least_ratio / STEP), np.floor(powder.most_ratio / STEP) + 1)


@remembered(32)
def _made(powder, mixing):
    """What one powder mixed in one way gives at every ratio; strength of the wet cast at the moment of each schedule."""
    kind, conditions = POWDERS[powder], Conditions(**MIXINGS[mixing])
    ratios = ratios_of(kind)
    flows, sets = predict(powder, ratios, conditions=conditions), predict_setting(powder, ratios, conditions, ranges=False)
    columns = {name: np.array([[number.value]]) for name, number in clock.constants_of(kind).items()}
    row = ratios[np.newaxis, :]
    marched = clock.march(kind, columns, row, conditions)
    hour = clock.share_at(clock.standard_march(kind, columns, row), clock.STANDARD_STRENGTH_MIN)[0]
    # As along the time line: the standard strength at this porosity, times the square of the network over the usual one at 1 h.
    usual = strength.wet_strength_mpa(flows["porosity"].value, kind.strength_at_30_mpa.value, powders.STRENGTH_LOSS_RATE.value)
    wet = {when.used_min: usual * (clock.share_at(marched, when.used_min)[0] / np.where(hour > 0, hour, 1.0)) ** 2 for when in SCHEDULES.values()}
    return ratios, flows, sets, wet


def _dried(ratios, when):
    """Strength over that of the wet cast at the moment of use."""
    end = hydration.final_degree_of_hydration(ratios)
    free = drying.free_water_g_per_g_dry(ratios, 1.0, end)
    return drying.strength_over_wet(free_water_left(when.used_min, when.half_dry_h), free, powders.DRY_OVER_WET.value)


def powder_g(powder, water_powder_ratio, cast_ml, air_fraction, waste=WASTE):
    """Return the powder that one cast takes, with what is left in the bowl.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float or array
        mL per g.
    cast_ml : float
        mL.
    air_fraction : float or array
        Trapped air, 0 to below 1.
    waste : float
        As a share of what the cast takes, 0 or more.

    Returns
    -------
    float or array, g
    """
    density = POWDERS[powder].density_g_cm3.value
    paste = pores.paste_volume_cm3_per_g(water_powder_ratio, density, float(water.water_density_g_cm3(powders.ROOM_C)), air_fraction)
    return cast_ml / paste * (1.0 + waste)


def all_choices(case, own_prices=None):
    """Compute every choice of the grid for a case.

    Parameters
    ----------
    case : Case
        One of `gypsumkit.bench.cases.CASES`.
    own_prices : dict of str to float, optional
        As for `gypsumkit.bench.prices.price_list`.

    Returns
    -------
    Grid
    """
    return _all_choices(case, _packed(own_prices))


def _packed(own_prices):
    """The price of each powder, as something that can be remembered."""
    prices = price_list(own_prices)
    return tuple((powder, prices[powder].per_kg) for powder in POWDERS if powder in prices)


@remembered(16)
def _all_choices(case, prices):
    parts, schedules = [], list(SCHEDULES.values())
    for powder, per_kg in prices:
        for mixing_place, mixing in enumerate(MIXINGS):
            ratios, flows, sets, wet = _made(powder, mixing)
            grams = powder_g(powder, ratios, case.cast_ml, flows["air_fraction"].value)
            cost = grams / 1000.0 * per_kg + (MACHINE_USE if mixing == "machine under vacuum" else 0.0)
            change = expansion.length_change_um(sets["setting_expansion_percent"].value, case.length_mm)
            least, most = POWDERS[powder].setting.trusted_ratio
            trusted = (ratios >= least - 1e-9) & (ratios <= most + 1e-9)
            pours = (flows["yield_stress_pa"].value <= powders.POURS_BELOW_PA.value) & (flows["yield_stress_pa"].value >= powders.POURS_ABOVE_PA.value)
            lasts = pours & (sets["working_time_min"].value >= case.working_min) & (100 * flows["air_fraction"].value <= case.air_percent)
            for schedule_place, when in enumerate(schedules):
                strong = wet[when.used_min] * (1.0 if case.soaked else _dried(ratios, when))
                sound = lasts & (sets["final_set_min"].value <= when.separated_min)
                good = trusted & sound & (strong >= case.strength_mpa) & (change <= case.change_um) & (cost <= case.cost) & (when.used_min <= case.ready_min)
                same = np.full(len(ratios), 1)
                parts.append((same * list(POWDERS).index(powder), same * mixing_place, same * schedule_place, ratios, strong, change,
                              sets["final_set_min"].value, same * when.used_min, cost, good, sound))
    return Grid(*(np.concatenate(column) for column in zip(*parts)))


def best_choices(case, own_prices=None):
    """Return the acceptable choices that no other acceptable choice beats.

    Parameters
    ----------
    case : Case
        One of `gypsumkit.bench.cases.CASES`.
    own_prices : dict of str to float, optional
        As for `gypsumkit.bench.prices.price_list`.

    Returns
    -------
    tuple of Choice
        In the order of the grid; several, since more of one thing costs another.
    """
    return _best_choices(case, _packed(own_prices))


@remembered(16)
def _best_choices(case, prices):
    grid = _all_choices(case, prices)
    places = np.flatnonzero(grid.acceptable)
    kept = places[unbeaten(grid.losses()[places])] if len(places) else places
    return tuple(grid.choice(place) for place in kept)


def unbeaten(losses):
    """Find the rows that no other row beats.

    Parameters
    ----------
    losses : array of shape (choices, things)
        Smaller is better.

    Returns
    -------
    array of bool

    Notes
    -----
    One row beats another when it is nowhere larger and somewhere smaller; it then comes first in the order of a dictionary. So the rows
    are taken in that order: the first that is left is unbeaten, and all that it beats fall at once.
    """
    losses = np.asarray(losses, dtype=float)
    left, kept = np.lexsort(losses.T[::-1]), np.zeros(len(losses), dtype=bool)
    while len(left):
        first, left = left[0], left[1:]
        kept[first] = True
        left = left[~(np.all(losses[first] <= losses[left], axis=1) & np.any(losses[first] < losses[left], axis=1))]
    return kept


def beaten_by(case, choice, own_prices=None):
    """Find a sound ratio of the same powder, mixed and timed alike, that beats a choice; the one that wins most.

    Parameters
    ----------
    case : Case
        One of `gypsumkit.bench.cases.CASES`.
    choice : Choice
        What is judged.
    own_prices : dict of str to float, optional
        As for `gypsumkit.bench.prices.price_list`.

    Returns
    -------
    tuple of (float, tuple of str), or None
        Its ratio, and in what it is better; None when no other ratio beats the choice.
    """
    grid, alike = _alike(case, choice, own_prices)
    if not len(alike):
        return None
    near = np.abs(grid.water_powder_ratio[alike] - choice.water_powder_ratio) < STEP - 1e-9
    if not np.any(near):
        return None
    losses = np.nan_to_num(grid.losses()[alike], nan=np.inf)
    own = losses[near].min(axis=0)             # of two neighbours on the grid the better in each
    room = SAME * np.abs(np.nan_to_num(own, posinf=0.0))
    better = losses < own - room
    winning = np.flatnonzero(np.all(losses <= own + room, axis=1) & np.any(better, axis=1) & grid.sound[alike])
    if not len(winning):
        return None
    most = winning[np.argmax(better[winning].sum(axis=1))]
    names = tuple(name for name, wins in zip(("strength", "growth", "time", "cost"), better[most]) if wins)
    return round(float(grid.water_powder_ratio[alike[most]]), 4), names


def good_ratios(case, choice, own_prices=None):
    """Return the least and the most ratio of the same powder, mixed and timed alike, that meets every wish by value.

    Parameters
    ----------
    case : Case
        One of `gypsumkit.bench.cases.CASES`.
    choice : Choice
        What is judged; its ratio does not count.
    own_prices : dict of str to float, optional
        As for `gypsumkit.bench.prices.price_list`.

    Returns
    -------
    tuple of float, or None
    """
    grid, alike = _alike(case, choice, own_prices)
    good = grid.water_powder_ratio[alike[grid.acceptable[alike]]] if len(alike) else ()
    return (round(float(min(good)), 4), round(float(max(good)), 4)) if len(good) else None


def with_other_water(case, choice, step, own_prices=None):
    """Compute a choice with a little more or less water, by the grid.

    Parameters
    ----------
    case : Case
        One of `gypsumkit.bench.cases.CASES`.
    choice : Choice
        What is changed.
    step : float
        mL per g, added to its ratio.
    own_prices : dict of str to float, optional
        As for `gypsumkit.bench.prices.price_list`.

    Returns
    -------
    dict of str to float, or None
        Strength, growth, final set and cost; None outside the ratios for which the setting constants were made, or without a price.
    """
    grid, alike = _alike(case, choice, own_prices)
    least, most = POWDERS[choice.powder].setting.trusted_ratio
    ratio = choice.water_powder_ratio + step
    if not len(alike) or not least - 1e-9 <= ratio <= most + 1e-9:
        return None
    columns = {"strength": grid.strength_mpa, "growth": grid.change_um, "final set": grid.final_set_min, "cost": grid.cost}
    return {name: float(np.interp(ratio, grid.water_powder_ratio[alike], column[alike])) for name, column in columns.items()}


def _alike(case, choice, own_prices):
    """The grid, and the places of the choices that differ from this one in the ratio only."""
    grid = all_choices(case, own_prices)
    same = ((grid.powder == list(POWDERS).index(choice.powder)) if choice.powder in POWDERS else np.zeros(len(grid.powder), dtype=bool)) \
        & (grid.mixing == list(MIXINGS).index(choice.mixing)) & (grid.schedule == list(SCHEDULES).index(choice.schedule))
    return grid, np.flatnonzero(same)
