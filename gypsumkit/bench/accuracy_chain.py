"""The chain of sizes from tooth to casting: each link changes a length by some percent, with a range, and all of them add up to a fit."""

import re
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from gypsumkit.bench.cast_chain import IMPRESSIONS
from gypsumkit.checks import checked_number
from gypsumkit.powders import POWDERS, find_powder, named
from gypsumkit.problems import Problem, nearest
from gypsumkit.recipe import Recipe
from gypsumkit.sources import Sourced
from gypsumkit.studies.growth import growth_percent
from gypsumkit.units import find_unit, read_number

SHORTEST_MM, LONGEST_MM = 4.0, 60.0
MOST_OWN_PERCENT = 5.0
READER = "own_bench"


def _remembered(value, low, high, source, what, unit="%"):
    return Sourced(value, unit, low, high, source, what, "handbook, from memory")


SPACER_UM = _remembered(50.0, 40.0, 80.0, "fixed_handbook", "lacquer on the die, both sides", "µm")
WAX = _remembered(-0.2, -0.4, 0.0, "fixed_handbook", "pattern cools and springs")
GYPSUM_BONDED = (_remembered(0.40, 0.30, 0.50, "fixed_handbook", "gypsum-bonded investment, setting"),
                 _remembered(1.15, 1.00, 1.30, "fixed_handbook", "gypsum-bonded investment, heating"))
PHOSPHATE_BONDED = (_remembered(0.95, 0.70, 1.20, "fixed_handbook", "phosphate-bonded investment, setting"),
                    _remembered(1.20, 1.00, 1.40, "fixed_handbook", "phosphate-bonded investment, heating"))
GOLD = _remembered(-1.50, -1.65, -1.35, "hollenback_1946", "gold alloy, casting shrinkage")
NICKEL_CHROMIUM = _remembered(-2.3, -2.5, -2.1, "hollenback_1946", "nickel-chromium alloy, casting shrinkage")

CROWN_ROOM_UM = (50.0, 100.0)          # a cement gap of 25 to 50 µm on either side                    [fixed_handbook]
SPAN_ROOM_UM = (-50.0, 50.0)           # what two abutments, or a cast, may be off: ours               [gypsumkit]


class Work(NamedTuple):
    """What is made: which links follow the cast, and the room that is wanted."""

    casting: tuple                     # setting and heating of the investment, and the alloy; empty when the cast is the end
    lacquer: bool                      # whether the die gets a spacer
    wanted_um: tuple
    wanted_words: str


_CROWN, _SPAN = "25 to 50 µm of cement on either side", "no more than 50 µm off either way"
WORKS = {
    "crown, gold alloy": Work((*GYPSUM_BONDED, GOLD), True, CROWN_ROOM_UM, _CROWN),
    "crown, nickel-chromium": Work((*PHOSPHATE_BONDED, NICKEL_CHROMIUM), True, CROWN_ROOM_UM, _CROWN),
    "bridge span, gold alloy": Work((*GYPSUM_BONDED, GOLD), False, SPAN_ROOM_UM, _SPAN),
    "bridge span, nickel-chromium": Work((*PHOSPHATE_BONDED, NICKEL_CHROMIUM), False, SPAN_ROOM_UM, _SPAN),
    "the cast alone": Work((), False, SPAN_ROOM_UM, _SPAN),
}
LINKS = ("impression", "stone", "spacer", "wax", "setting", "heating", "alloy")
FITS, MAY_FIT, TIGHT, WIDE = "fits", "may fit", "too small", "too large"


class Link(NamedTuple):
    """One link: what it does to the length that the links before it have left."""

    name: str
    percent: Sourced
    step_um: float                     # the change of the whole length
    low_um: float                      # the same with this link alone at the low end of its range
    high_um: float


def read_own(text, length_mm):
    """Read the reader's own values of links, such as "stone 0,12 %; wax -15 µm".

    Parameters
    ----------
    text : str
        Name of a link, number and unit; several with a semicolon between; may be empty.
    length_mm : float
        The length that µm are counted on.

    Returns
    -------
    dict of str to float
        % by name of link.

    Raises
    ------
    Problem
        When a name, a number or a unit cannot be read, or a change is larger than 5 %.
    """
    own = {}
    for part in filter(None, (one.strip() for one in str(text).split(";"))):
        found = re.match(r"[A-Za-z]+", part)
        name = found.group().lower() if found else ""
        if name not in LINKS:
            guess = nearest(name, LINKS)
            raise Problem(f"“{part[:40]}” does not begin with a link; " + (f"did you mean {guess}? T" if guess else "t") +
                          f"he links are {', '.join(LINKS)}: write for example stone 0.12 %.")
        if name in own:
            raise Problem(f"The link {name} is given twice: write it once.")
        own[name] = _own_percent(name, part[found.end():].lstrip(" :="), length_mm)
    return own


def _own_percent(name, text, length_mm):
    as_ratio = re.fullmatch(r"(.+?)\s*mm\s*/\s*mm", text.strip())
    try:
        typed = read_number(as_ratio.group(1) if as_ratio else text)
    except Problem:
        raise Problem(f"Your value of the link {name}, “{text[:40]}”, cannot be read; write one number with %, µm or mm/mm, for example {name} 0.12 %, and a semicolon between two links.") from None
    if as_ratio and typed.unit is None:
        percent = 100.0 * typed.number
    elif typed.unit is not None and typed.unit.kind == "a share of the whole":
        percent = typed.in_unit(find_unit("%"))
    elif typed.unit is not None and typed.unit.kind == "a length":
        percent = typed.in_unit(find_unit("µm")) / (10.0 * length_mm)
    else:
        raise Problem(f"Your value of the link {name}, “{text[:40]}”, needs a unit: % of the length, µm on your length, or mm/mm.")
    if not abs(percent) <= MOST_OWN_PERCENT:
        raise Problem(f"Your value of the link {name} comes to {percent:.3g} % of the length; a link changes it by {MOST_OWN_PERCENT:g} % at most, plus or minus.")
    return percent


@dataclass(frozen=True)
class Sizes:
    """One length on its way from the tooth to the work.

    Parameters
    ----------
    impression : str
        A key of `gypsumkit.bench.cast_chain.IMPRESSIONS`.
    stone : str
        Name of a powder, at its recommended ratio.
    work : str
        A key of `WORKS`.
    length_mm : float
        The length on the tooth, or between teeth, mm.
    own : tuple of (str, float)
        The reader's values, % by link.

    Raises
    ------
    Problem
        When a name is unknown or the length out of range.
    """

    impression: str = "addition silicone"
    stone: str = "improved stone"
    work: str = "crown, gold alloy"
    length_mm: float = 8.0
    own: tuple = ()

    def __post_init__(self):
        object.__setattr__(self, "impression", named(self.impression, IMPRESSIONS, "no impression material"))
        object.__setattr__(self, "stone", find_powder(self.stone).name)
        object.__setattr__(self, "work", named(self.work, WORKS, "no work"))
        object.__setattr__(self, "length_mm", checked_number(self.length_mm, "The length", "mm", SHORTEST_MM, LONGEST_MM))
        for name, _ in self.own:
            if name not in self.names():
                raise Problem(f"There is no link {name} in “{self.work}”; its links are {', '.join(self.names())}.")

    def names(self):
        """Return the names of the links of this work, in order."""
        work = WORKS[self.work]
        return tuple(name for name in LINKS if name in ("impression", "stone") or work.casting and (name != "spacer" or work.lacquer))

    def _percent(self, name):
        """The change of a link, % of the length, with range, source and standing."""
        own = dict(self.own)
        if name in own:
            return Sourced(own[name], "%", own[name], own[name], READER, f"own value of the link {name}", "measured here")
        if name == "impression":
            low, high = IMPRESSIONS[self.impression].change_percent
            source = IMPRESSIONS[self.impression].change_source
            return Sourced(0.5 * (low + high), "%", low, high, source, self.impression, "handbook, from memory" if source == "craig_handbook" else "published")
        if name == "stone":
            value, low, high = growth_percent(Recipe(self.stone, POWDERS[self.stone].recommended_ratio.value))
            return Sourced(value, "%", low, high, "gypsumkit", f"{self.stone}, setting expansion at 2 h, in air", "our calibration")
        if name == "spacer":
            value, low, high = (um / (10.0 * self.length_mm) for um in (SPACER_UM.value, SPACER_UM.low, SPACER_UM.high))
            return Sourced(value, "%", low, high, SPACER_UM.source, SPACER_UM.locator, SPACER_UM.standing)
        return WAX if name == "wax" else WORKS[self.work].casting[("setting", "heating", "alloy").index(name)]

    def links(self):
        """Return the links in order.

        Returns
        -------
        list of Link

        Notes
        -----
        Each link works on the length that the ones before it have left, so the steps add up exactly to the end.
        """
        found, length_um = [], 1000.0 * self.length_mm
        for name in self.names():
            percent = self._percent(name)
            low, step, high = (length_um * one / 100.0 for one in (percent.low, percent.value, percent.high))
            found.append(Link(name, percent, step, low, high))
            length_um += step
        return found

    def room_um(self):
        """Return how much longer the work is than the tooth, µm.

        Returns
        -------
        tuple of float
            Value, low and high.

        Notes
        -----
        Sum of the steps; ranges added as independent errors, root of the sum of squares, upward and downward apart [gum].
        """
        links = self.links()
        value = sum(link.step_um for link in links)
        down = np.sqrt(sum((link.step_um - link.low_um) ** 2 for link in links))
        up = np.sqrt(sum((link.high_um - link.step_um) ** 2 for link in links))
        return float(value), float(value - down), float(value + up)

    def worst_um(self):
        """Return the room with every link at the same bad end, µm: least and most."""
        links = self.links()
        return float(sum(link.low_um for link in links)), float(sum(link.high_um for link in links))

    def doubt_shares(self):
        """Return what part of the squared doubt each link holds, by name.

        Returns
        -------
        dict of str to float
            0 to 1; all 0 when every link is exact.
        """
        squares = {link.name: (link.high_um - link.low_um) ** 2 for link in self.links()}
        total = sum(squares.values())
        return {name: square / total if total else 0.0 for name, square in squares.items()}

    def verdict(self):
        """Judge the room against what is wanted, in words."""
        value, low, high = self.room_um()
        least, most = WORKS[self.work].wanted_um
        if least <= low and high <= most:
            return FITS
        if high < least:
            return TIGHT
        return WIDE if low > most else MAY_FIT
