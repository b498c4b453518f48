"""The explorers of the chain from impression to trimmed cast: its schedule, the pour, and what comes after."""

import re

from gypsumkit.bench.cast_chain import IMPRESSIONS, LAST_MIN, LONGEST_WAIT_MIN, MOST_DROPS, Chain, said, tooth_words
from gypsumkit.figures.chain_scene import LIMITS, chain_scene, strength_words
from gypsumkit.figures.mix_words import recipe_words
from gypsumkit.live.controls import choice, mixing_choice, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl, RatioControl, WideNumberControl
from gypsumkit.mix import TEMPERATURE_TRUSTED_C
from gypsumkit.powders import POWDERS, ROOM_C, find_mixing, find_powder
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.units import read_number


def _impression_choice(value, recipe):
    return choice("Impression", IMPRESSIONS, Chain(recipe, value).impression)


def _usual(powder):
    """The mix of a powder as it should be."""
    return Recipe(powder, POWDERS[powder].recommended_ratio.value)


class CountControl(NumberControl):
    """A number that is counted: a typed one with a unit, or one that is not whole, is refused."""

    def read(self):
        """Return what was typed as a plain number."""
        try:
            typed = read_number(re.sub(r"\s*drops?\s*$", "", self.typed.value, flags=re.I))
        except Problem:
            typed = None
        if typed is None or typed.unit is not None:
            raise Problem(f"“{' '.join(self.typed.value.split())[:40]}” cannot be read as {self.what}; write a plain number like {self.example}.")
        return typed.number

    def checked(self, value):
        """Return the number once it is whole and between the ends."""
        value = super().checked(value)
        if value != round(value):
            raise Problem(f"{self.what[0].upper()}{self.what[1:]} is given as {value:g}; it is counted: write a whole number like {self.example}.")
        return value


class _ChainExplorer(Explorer):
    """An explorer of a chain; a particular one says the chain of its settings."""

    can_pin = False
    shows_tooth = False

    def chain(self):
        """Return the chain of the present settings."""
        raise NotImplementedError("each explorer of the chain says its chain")

    def scene(self):
        """Return the scene of the present settings."""
        return chain_scene(self.chain(), self.shows_tooth)


class ScheduleExplorer(_ChainExplorer):
    """Powder, water, mixing, temperature and impression; all moments are planned for them.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    mixing : str
        Name of a mixing method.
    temperature_c : float
        Of water, powder and room, °C.
    impression : str
        A key of `gypsumkit.bench.cast_chain.IMPRESSIONS`.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    stage_begins_with = 1, "pours until"

    def __init__(self, powder="dental stone", ratio=None, mixing="spatulated by hand", temperature_c=ROOM_C, impression="alginate", **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "mixing": mixing_choice(find_mixing(mixing)),
            "temperature_c": NumberControl("Water, powder and room (°C)", temperature_c, *TEMPERATURE_TRUSTED_C, 1, "°C", "the temperature", "20 °C"),
            "impression": _impression_choice(impression, _usual(kind.name)),
        }, LIMITS, **rest)

    def chain(self):
        """Return the planned chain of the present settings."""
        warm = self.temperature_c.value
        return Chain(Recipe(self.powder.value, self.ratio.value, mixing=self.mixing.value, water_temperature_c=warm, room_temperature_c=warm), self.impression.value)


class PourExplorer(_ChainExplorer):
    """Powder, impression, its waiting, drops left in a tooth, and when the pour has ended; what comes after is planned.

    Parameters
    ----------
    powder : str
        The powder at first, at its recommended ratio.
    impression : str
        A key of `gypsumkit.bench.cast_chain.IMPRESSIONS`.
    waits_min : float
        From the mouth to the pour, min.
    drops : int
        Drops of water left in the imprint of a tooth.
    poured_min : float
        When the pour has ended, min from the start of mixing.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    shows_tooth = True

    def __init__(self, powder="model plaster", impression="alginate", waits_min=10.0, drops=0, poured_min=2.5, **rest):
        kind = find_powder(powder)
        start = Chain(_usual(kind.name), impression, waits_min, drops, poured_min)
        super().__init__({
            "powder": powder_choice(kind.name),
            "impression": _impression_choice(impression, start.recipe),
            "waits_min": WideNumberControl("Impression waits (min)", start.waits_min, 1, LONGEST_WAIT_MIN, "min", "the waiting of the impression", "20 min or 2 days", said),
            "drops": CountControl("Drops left in a tooth", start.drops, 0, MOST_DROPS, 1, "", "the number of drops", "1"),
            "poured_min": NumberControl("Pour ended (min)", start.poured_min, 0.5, 20, 0.1, "min", "the end of the pour", "2.5 min", decimals=1),
        }, LIMITS, **rest)

    def chain(self):
        """Return the chain of the present settings."""
        return Chain(_usual(self.powder.value), self.impression.value, self.waits_min.value, self.drops.value, self.poured_min.value)

    def result_words(self):
        """Return what happened to the tooth, or all that is said where no drops are left in it."""
        chain = self.chain()
        return f"{_mix_words(chain)} {tooth_words(chain)}" if chain.drops else super().result_words()


class SeparateExplorer(_ChainExplorer):
    """Powder, impression, and the moments of the base, of separating and of trimming; what comes before is planned.

    Parameters
    ----------
    powder : str
        The powder at first, at its recommended ratio.
    impression : str
        A key of `gypsumkit.bench.cast_chain.IMPRESSIONS`.
    base_min, separate_min, trim_min : float, optional
        min from the start of mixing; planned when not given.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    stage_begins_with = 1, "strength at separating"

    def __init__(self, powder="dental stone", impression="alginate", base_min=None, separate_min=None, trim_min=None, **rest):
        kind = find_powder(powder)
        start = Chain(_usual(kind.name), impression, None, 0, None, base_min, separate_min, trim_min)
        super().__init__({
            "powder": powder_choice(kind.name),
            "impression": _impression_choice(impression, start.recipe),
            "base_min": WideNumberControl("Base added, or turned over (min)", start.base_min, 1, 240, "min", "the moment of the base", "15 min", said),
            "separate_min": WideNumberControl("Separated (min)", start.separate_min, 5, LAST_MIN, "min", "the moment of separating", "45 min or 12 h", said),
            "trim_min": WideNumberControl("Trimmed (min)", start.trim_min, 5, LAST_MIN, "min", "the moment of trimming", "60 min or 12 h", said),
        }, LIMITS, **rest)

    def chain(self):
        """Return the chain of the present settings."""
        return Chain(_usual(self.powder.value), self.impression.value, None, 0, None, self.base_min.value, self.separate_min.value, self.trim_min.value)

    def result_words(self):
        """Return what the cast carries when it comes out."""
        chain = self.chain()
        return f"{_mix_words(chain)} Separated at {said(chain.separate_min)}. {strength_words(chain)}"


def _mix_words(chain):
    return f"{recipe_words(chain.recipe)}, {chain.recipe.mixing}."
