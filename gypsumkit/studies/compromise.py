"""The compromise: which ratios of a powder pour, which carry a wanted strength, and which do both."""

from typing import NamedTuple

import numpy as np

from gypsumkit.mix import pourable_ratios, predict
from gypsumkit.powders import find_powder
from gypsumkit.problems import Problem
from gypsumkit.remembering import remembered

POINTS = 400


class Compromise(NamedTuple):
    """Three windows of water/powder ratios, each (least, most) in mL per g, or None when it is empty."""

    pours: tuple
    carries: tuple
    both: tuple


def compromise(powder, wanted_mpa, dried=False, surely=False):
    """Find the ratios of a powder that pour and carry a wanted compressive strength.

    Parameters
    ----------
    powder : str
        Name of a powder.
    wanted_mpa : float
        Wanted compressive strength, MPa, above 0.
    dried : bool
        Of the dried mass, not wet at 1 h.
    surely : bool
        The low end of the plausible range has to carry it, not only the value.

    Returns
    -------
    Compromise

    Raises
    ------
    Problem
        When the powder is unknown or the wanted strength is not above 0.
    """
    kind = find_powder(powder)
    if not (np.isfinite(wanted_mpa) and wanted_mpa > 0):
        raise Problem(f"The wanted strength is given as {wanted_mpa:g} MPa; it must be more than 0 MPa.")
    ratios, value, low = strength_curve(kind.name, dried)
    pours, strong = pourable_ratios(kind.name), low if surely else value
    enough = np.flatnonzero(strong >= wanted_mpa)
    if len(enough) == 0:
        return Compromise(pours, None, None)
    carries = _edge(ratios, strong, enough[0], -1, wanted_mpa), _edge(ratios, strong, enough[-1], 1, wanted_mpa)
    both = max(pours[0], carries[0]), min(pours[1], carries[1])
    return Compromise(pours, carries, both if both[0] < both[1] else None)


def strength_curve(powder, dried=False):
    """Return the compressive strength of a powder over all ratios that make a paste, mixed by hand.

    Parameters
    ----------
    powder : str
        Name of a powder.
    dried : bool
        Of the dried mass, not wet at 1 h.

    Returns
    -------
    tuple of three arrays
        Ratio (mL per g), strength and the low end of its plausible range (MPa).
    """
    return _strength_curve(find_powder(powder).name, bool(dried))


@remembered(16)
def _strength_curve(powder, dried):
    kind = find_powder(powder)
    ratios = np.linspace(kind.least_ratio, kind.most_ratio, POINTS)
    found = predict(powder, ratios)["dry_strength_mpa" if dried else "wet_strength_mpa"]
    return ratios, found.value, found.low


def _edge(ratios, strong, place, step, wanted):
    """The ratio between this point, strong enough, and the next one outwards, which is not."""
    beyond = place + step
    if not 0 <= beyond < len(ratios):
        return float(ratios[place])
    share = (strong[place] - wanted) / (strong[place] - strong[beyond])
    return float(ratios[place] + share * (ratios[beyond] - ratios[place]))
