"""How the mix is made, beside its powder and water: spatulation, temperatures, additives, the state of the powder, the batch."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from gypsumkit.checks import checked_number
from gypsumkit.powders import ROOM_C, find_mixing, named
from gypsumkit.problems import Problem
from gypsumkit.science import additives
from gypsumkit.science.setting import POWDER_HEAT_J_G_K, SEED, WATER_HEAT_J_G_K

COLDEST_C, WARMEST_C = 2.0, 98.0
FEWEST_TURNS, MOST_TURNS = 20.0, 300.0
LEAST_BATCH_G, MOST_BATCH_G = 0.1, 100_000.0

# What a way of mixing does to the resistance of crystal growth, and its turns.        [gypsumkit]
HAND_TURNS = {"spatulated by hand": 180.0, "beaten by hand": 120.0}
MACHINE_GROWTH = 0.86            # hand 8.0, machine under vacuum 7.3 min, from memory     [craig_handbook]


class Additive(NamedTuple):
    """What a spoonful of it changes; c is its percent of the powder's mass. Sizes are ours, directions from handbooks."""

    growth: object                     # function of c: factor on the resistance of crystal growth
    most_percent: float
    strength_lost: float               # share of strength lost for each percent       [gypsumkit]
    expansion_divided: float           # expansion is divided by 1 + this x c          [gypsumkit]
    says: str


ADDITIVES = {
    "none": Additive(np.ones_like, 0.0, 0.0, 0.0, "nothing added"),
    "potassium sulfate": Additive(additives.potassium_sulfate_factor, 4.0, 0.05, 1.0, "hastens the set and lowers the expansion"),
    "sodium chloride": Additive(additives.sodium_chloride_factor, 4.0, 0.05, 0.3, "hastens up to about 2 %, then less and less"),
    "borax": Additive(additives.borax_factor, 1.0, 0.10, 0.5, "retards; toxic: simulate it, or the demonstrator handles it"),
    "sodium citrate": Additive(additives.citrate_factor, 0.1, 1.0, 3.0, "retards strongly"),
    "ground set gypsum": Additive(np.ones_like, 2.0, 0.03, -0.1, "seeds the mix, as slurry water does; sources disagree on expansion"),
}


class PowderState(NamedTuple):
    """What storage has done to the powder.   [gypsumkit]"""

    seed_percent: float
    growth: float
    dissolving: float
    strength: float
    says: str


POWDER_STATES = {
    "fresh": PowderState(0.0, 1.0, 1.0, 1.0, "kept dry and closed"),
    "slightly damp": PowderState(0.6, 1.0, 1.0, 0.95, "the first moisture seeds it: it sets too fast"),
    "long exposed": PowderState(0.6, 2.0, 2.5, 0.75, "grains are coated and lumpy: it sets slowly and stays weak"),
}


@dataclass(frozen=True, kw_only=True)
class Conditions:
    """How a mix is made.

    Parameters
    ----------
    mixing : str
        Name of a mixing method.
    turns : float, optional
        Turns of the spatula, 20 to 300, for mixing by hand; the usual number of the method when not given.
    water_temperature_c, room_temperature_c : float
        °C, 2 to 98. Flow and strength laws are made for 15 to 35 °C.
    additive : str
        A key of `ADDITIVES`.
    additive_percent : float
        % of the powder's mass, 0 to the most its law holds for.
    powder_state : str
        A key of `POWDER_STATES`.
    powder_g : float
        Powder in the batch, g, 0.1 to 100,000: a large lump keeps its heat.

    Raises
    ------
    Problem
        When something is unknown, not a number or out of range.
    """

    mixing: str = "spatulated by hand"
    turns: float = None
    water_temperature_c: float = ROOM_C
    room_temperature_c: float = ROOM_C
    additive: str = "none"
    additive_percent: float = 0.0
    powder_state: str = "fresh"
    powder_g: float = 100.0

    def __post_init__(self):
        def put(name, value):
            object.__setattr__(self, name, value)
        put("mixing", find_mixing(self.mixing))
        put("water_temperature_c", checked_number(self.water_temperature_c, "The water temperature", "°C", COLDEST_C, WARMEST_C))
        put("room_temperature_c", checked_number(self.room_temperature_c, "The room temperature", "°C", COLDEST_C, WARMEST_C))
        put("powder_g", checked_number(self.powder_g, "The weight of the powder", "g", LEAST_BATCH_G, MOST_BATCH_G))
        put("additive", named(self.additive, ADDITIVES, "no additive"))
        most = ADDITIVES[self.additive].most_percent
        percent = checked_number(self.additive_percent, f"The amount of {self.additive} added", "%", 0.0, most if most else None)
        if percent and not most:
            raise Problem(f"{percent:g} % of an additive is given, but no additive is chosen; the choice is {', '.join(list(ADDITIVES)[1:])}.")
        put("additive_percent", percent)
        put("powder_state", named(self.powder_state, POWDER_STATES, "no state of the powder"))
        if self.turns is not None:
            if self.mixing not in HAND_TURNS:
                raise Problem(f"Turns are counted for mixing by hand; {self.mixing} has its own speed: leave the turns out.")
            put("turns", checked_number(self.turns, "The number of turns", "turns", FEWEST_TURNS, MOST_TURNS))

    @property
    def standard(self):
        """True when setting runs as in the standard test, so that flow and strength need no correction; the batch does not count."""
        return self._for_setting() == Conditions()._for_setting()

    def _for_setting(self):
        return (self.turns or HAND_TURNS.get(self.mixing, self.mixing), self.water_temperature_c, self.room_temperature_c,
                self.additive if self.additive_percent else "none", self.additive_percent, self.powder_state)

    def for_clock(self, additive=True):
        """The same conditions in the one form in which those that set alike are equal; without what an additive does to growth, if wished."""
        kept = self.additive_percent > 0 and (additive or self.additive == "ground set gypsum")
        return Conditions(
            mixing=self.mixing, turns=self.turns or HAND_TURNS.get(self.mixing), water_temperature_c=self.water_temperature_c,
            room_temperature_c=self.room_temperature_c, additive=self.additive if kept else "none",
            additive_percent=self.additive_percent if kept else 0.0, powder_state=self.powder_state, powder_g=self.powder_g)

    def seed(self):
        """Crystal in the powder at the start, over the crystal at the end."""
        percent = POWDER_STATES[self.powder_state].seed_percent
        if self.additive == "ground set gypsum":
            percent += self.additive_percent
        return float(additives.seeds_with_set_gypsum(percent, SEED))

    def growth_factor(self, ratio, recommended_ratio):
        """Factor on the resistance of crystal growth."""
        if self.mixing in HAND_TURNS:
            factor = additives.spatulation_factor(self.turns or HAND_TURNS[self.mixing], ratio, recommended_ratio)
        else:
            factor = MACHINE_GROWTH * additives.spatulation_factor(additives.STANDARD_TURNS, ratio, recommended_ratio)
        factor = factor * POWDER_STATES[self.powder_state].growth * (SEED / self.seed()) ** (1.0 / 3.0)
        return factor * ADDITIVES[self.additive].growth(np.asarray(self.additive_percent))

    def dissolving_factor(self):
        """Factor on the resistance of dissolving."""
        return POWDER_STATES[self.powder_state].dissolving

    def strength_factor(self):
        """Share of the strength that additive and powder leave."""
        lost = ADDITIVES[self.additive].strength_lost * self.additive_percent
        return POWDER_STATES[self.powder_state].strength * max(1.0 - lost, 0.1)

    def expansion_factor(self):
        """What the additive makes of the setting expansion."""
        return 1.0 / (1.0 + ADDITIVES[self.additive].expansion_divided * self.additive_percent)

    def start_c(self, ratio):
        """Temperature of the mix when powder at room temperature has met the water."""
        water, powder = np.asarray(ratio, dtype=float) * WATER_HEAT_J_G_K, POWDER_HEAT_J_G_K
        return (water * self.water_temperature_c + powder * self.room_temperature_c) / (water + powder)
