"""Three invented cases: what a cast must do, and what may be chosen for it.

The laboratory and all its wishes are invented. A wish is a number with its unit, so that a choice can be judged by computing.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from gypsumkit.powders import named
from gypsumkit.recipe import Recipe

# Left in the bowl and on the bench, as a share of what the cast takes.                               [gypsumkit]
WASTE, WASTE_RANGE = 0.10, (0.05, 0.25)
MACHINE_USE = 0.10                    # one bowl under vacuum, in the same money as the powder; invented


class Schedule(NamedTuple):
    """When a cast is separated and used, min from the start of mixing, and how fast it dries from 1 h on."""

    separated_min: float
    used_min: float
    half_dry_h: float                 # half of the free water leaves in this time; np.inf: kept wet  [gypsumkit]


# Those used after a day or more are separated at 1 h.
SCHEDULES = {
    "use at 30 min, separate at 20 min": Schedule(20.0, 30.0, np.inf),
    "use at 2 h, separate at 45 min": Schedule(45.0, 120.0, np.inf),
    "use at 24 h, kept moist": Schedule(60.0, 24 * 60.0, np.inf),
    "use at 24 h, in still air": Schedule(60.0, 24 * 60.0, 12.0),
    "use at 48 h, in moving air": Schedule(60.0, 48 * 60.0, 4.0),
    "use at 7 days, in still air": Schedule(60.0, 7 * 24 * 60.0, 12.0),
}

MIXINGS = {
    "by hand, 180 turns": {"mixing": "spatulated by hand", "turns": 180.0},
    "by hand, 300 turns": {"mixing": "spatulated by hand", "turns": 300.0},
    "beaten by hand, 120 turns": {"mixing": "beaten by hand", "turns": 120.0},
    "machine under vacuum": {"mixing": "machine under vacuum"},
}


@dataclass(frozen=True)
class Case:
    """What one kind of cast must do, in the words of the trade and in numbers."""

    name: str
    story: str
    cast_ml: float
    casts: int
    strength_mpa: float               # at least, when it is used
    soaked: bool                      # it is made wet again before it is used, so drying gains nothing
    length_mm: float                  # the length that is watched
    change_um: float                  # at most, by 2 h
    air_percent: float                # at most, by volume
    working_min: float                # at least: so long it must pour
    ready_min: float                  # used within, min from the start of mixing
    cost: float                       # at most, one cast, in invented money

    def wishes(self):
        """Return what the case asks for, one line each, as a student may copy it.

        Returns
        -------
        list of str
        """
        state = "wet: it is soaked again before it is used" if self.soaked else "as it is when it is used"
        return [f"strength at least {self.strength_mpa:g} MPa ({state})",
                f"length change at most {self.change_um:g} µm on {self.length_mm:g} mm, by 2 h",
                f"it pours, and holds at most {self.air_percent:g} % of air",
                f"it pours for at least {self.working_min:g} min",
                f"separated after the final set, and ready within {hours(self.ready_min)}",
                f"at most {self.cost:.2f} for one cast of {self.cast_ml:g} mL ({self.casts} to make)"]


def hours(minutes):
    """Say a span of time in the unit that suits it.

    Parameters
    ----------
    minutes : float
        min.

    Returns
    -------
    str
    """
    return f"{minutes:g} min" if minutes < 60 else f"{minutes / 60:g} h" if minutes <= 72 * 60 else f"{minutes / 1440:g} days"


CASES = {case.name: case for case in (
    Case("study model", "A study model of an upper jaw at a first visit. It is poured in the lecture room and trimmed today.",
         cast_ml=80, casts=24, strength_mpa=9.0, soaked=False, length_mm=60, change_um=300, air_percent=3.0, working_min=2.5, ready_min=120, cost=0.50),
    Case("working model", "A working model for a denture. It is soaked, put into the flask and pressed; it must not break.",
         cast_ml=100, casts=6, strength_mpa=22.0, soaked=True, length_mm=55, change_um=90, air_percent=3.0, working_min=2.0, ready_min=24 * 60, cost=1.25),
    Case("bridge dies", "Three dies on one cast for a bridge, poured twice, in a chain in which every other step is in balance. Wax and metal are worked on them; edges must hold.",
         cast_ml=40, casts=2, strength_mpa=45.0, soaked=False, length_mm=40, change_um=40, air_percent=1.5, working_min=2.0, ready_min=72 * 60, cost=1.00),
)}


@dataclass(frozen=True)
class Choice:
    """What the reader takes for a case.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float
        mL per g, within what makes a paste.
    mixing : str
        A key of `MIXINGS`.
    schedule : str
        A key of `SCHEDULES`.

    Raises
    ------
    Problem
        When a part of it is unknown or out of range.
    """

    powder: str
    water_powder_ratio: float
    mixing: str = "by hand, 180 turns"
    schedule: str = "use at 2 h, separate at 45 min"

    def __post_init__(self):
        object.__setattr__(self, "mixing", named(self.mixing, MIXINGS, "no way of mixing in the cases"))
        object.__setattr__(self, "schedule", named(self.schedule, SCHEDULES, "no schedule"))
        recipe = self.recipe
        object.__setattr__(self, "powder", recipe.powder)
        object.__setattr__(self, "water_powder_ratio", recipe.water_powder_ratio)

    @property
    def recipe(self):
        """The recipe of this choice."""
        return Recipe(self.powder, self.water_powder_ratio, **MIXINGS[self.mixing])

    @property
    def when(self):
        """The moments of this choice."""
        return SCHEDULES[self.schedule]

    def words(self):
        """Say the choice.

        Returns
        -------
        str
        """
        return f"{self.powder} with {100 * self.water_powder_ratio:.3g} mL per 100 g, {self.mixing}, {self.schedule}"


def find_case(name):
    """Return the case of that name.

    Parameters
    ----------
    name : str
        A key of `CASES`.

    Returns
    -------
    Case

    Raises
    ------
    Problem
        When there is no such case; names the nearest.
    """
    return CASES[named(name, CASES, "no case")]
