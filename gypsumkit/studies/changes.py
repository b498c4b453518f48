"""What a reader may change about a mix beside its powder and water, one thing at a time, each with its amount."""

from typing import NamedTuple

from gypsumkit.conditions import ADDITIVES, COLDEST_C, FEWEST_TURNS, MOST_TURNS, WARMEST_C
from gypsumkit.powders import named
from gypsumkit.problems import Problem


class Change(NamedTuple):
    """One change: which conditions it sets, and the amount it takes."""

    sets: tuple                 # names of `Conditions` that take the amount
    fixed: dict                 # names of `Conditions` that take a fixed value
    unit: str                   # of the amount; None when there is none
    low: float
    high: float
    step: float
    usual: float                # the amount at first
    amount_name: str            # as beside a control
    says: str                   # in words, with {amount}


def _additive(name, usual, step, says):
    return Change(("additive_percent",), {"additive": name}, "%", 0.0, ADDITIVES[name].most_percent, step, usual,
                  "Amount (% of the powder)", says)


CHANGES = {
    "nothing": Change((), {}, None, 0.0, 1.0, 1.0, 0.0, "", "mixed as usual"),
    "turns of the spatula": Change(("turns",), {}, "", FEWEST_TURNS, MOST_TURNS, 5.0, 100.0, "Turns of the spatula",
                                   "{amount:.0f} turns of the spatula"),
    "potassium sulfate": _additive("potassium sulfate", 2.0, 0.1, "with {amount:.3g} % of potassium sulfate"),
    "sodium chloride": _additive("sodium chloride", 2.0, 0.1, "with {amount:.3g} % of sodium chloride"),
    "borax, toxic: only here": _additive("borax", 0.5, 0.05, "with {amount:.3g} % of borax"),
    "sodium citrate": _additive("sodium citrate", 0.05, 0.005, "with {amount:.3g} % of sodium citrate"),
    "ground set gypsum": _additive("ground set gypsum", 1.0, 0.1, "with {amount:.3g} % of ground set gypsum"),
    "slightly damp powder": Change((), {"powder_state": "slightly damp"}, None, 0.0, 1.0, 1.0, 0.0, "", "from slightly damp powder"),
    "long exposed powder": Change((), {"powder_state": "long exposed"}, None, 0.0, 1.0, 1.0, 0.0, "", "from long exposed powder"),
    "water temperature": Change(("water_temperature_c",), {}, "°C", COLDEST_C, WARMEST_C, 1.0, 40.0, "Water (°C)",
                                "with water of {amount:.0f} °C"),
    "temperature of everything": Change(("water_temperature_c", "room_temperature_c"), {}, "°C", COLDEST_C, WARMEST_C, 1.0, 40.0,
                                        "Water, powder and room (°C)", "with water, powder and room at {amount:.0f} °C"),
}


def find_change(name):
    """Return the change of that name.

    Parameters
    ----------
    name : str
        A key of `CHANGES`.

    Returns
    -------
    Change

    Raises
    ------
    Problem
        When there is no such change; names the nearest.
    """
    return CHANGES[named(name, CHANGES, "no change")]


def conditions_with(name, amount=None):
    """Return the conditions that a change sets, by name, as `Recipe` and `Conditions` take them.

    Parameters
    ----------
    name : str
        A key of `CHANGES`.
    amount : float, optional
        In the unit of the change; its usual amount when not given.

    Returns
    -------
    dict

    Raises
    ------
    Problem
        When the change is unknown or the amount out of its range.
    """
    change = find_change(name)
    amount = change.usual if amount is None else amount
    if change.unit is not None and not change.low <= amount <= change.high:
        raise Problem(f"The amount for {name} is given as {amount:g} {change.unit}; it goes from {change.low:g} to {change.high:g} "
                      f"{change.unit}.".replace(" ;", ";").replace(" .", "."))
    return {**change.fixed, **{one: float(amount) for one in change.sets}}


def change_words(name, amount=None):
    """Say a change in words.

    Parameters
    ----------
    name : str
        A key of `CHANGES`.
    amount : float, optional
        In the unit of the change; its usual amount when not given.

    Returns
    -------
    str
    """
    change = find_change(name)
    return change.says.format(amount=change.usual if amount is None else amount)
