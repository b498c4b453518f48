"""What goes into the bowl, checked before anything is computed."""

import re
from dataclasses import dataclass

from gypsumkit.checks import checked_number
from gypsumkit.conditions import LEAST_BATCH_G, MOST_BATCH_G, Conditions
from gypsumkit.powders import find_powder
from gypsumkit.problems import Problem


@dataclass(frozen=True)
class Recipe(Conditions):
    """One mix: powder, water/powder ratio, and how it is made.

    Parameters
    ----------
    powder : str
        Name of a powder, as in `gypsumkit.powders.POWDERS`.
    water_powder_ratio : float
        mL of water per g of powder (1 mL counted as 1 g), within what makes a paste of that powder.
    **conditions
        By name: `mixing`, `water_temperature_c` and the others of `Conditions`.

    Raises
    ------
    Problem
        When a part of the recipe is unknown, not a number or out of range; says what would be right.
    """

    powder: str
    water_powder_ratio: float

    def __post_init__(self):
        powder = find_powder(self.powder)
        object.__setattr__(self, "powder", powder.name)
        super().__post_init__()
        object.__setattr__(self, "water_powder_ratio", checked_ratio(powder, self.water_powder_ratio))

    @classmethod
    def weighed(cls, powder, powder_g, water_ml, **rest):
        """Make a recipe from what was weighed and measured.

        Parameters
        ----------
        powder : str
            Name of a powder.
        powder_g : float
            g, 0.1 to 100,000.
        water_ml : float
            mL, above 0.
        **rest
            The `Conditions`, by name.

        Returns
        -------
        Recipe

        Raises
        ------
        Problem
            When a weight is not a number or out of range, or the ratio makes no paste.
        """
        powder_g = checked_number(powder_g, "The weight of the powder", "g", LEAST_BATCH_G, MOST_BATCH_G)
        water_ml = checked_number(water_ml, "The amount of water", "mL")
        if water_ml <= 0:
            raise Problem(f"The amount of water is given as {water_ml:g} mL; it must be more than 0 mL.")
        return cls(powder, water_ml / powder_g, powder_g=powder_g, **rest)


def checked_ratio(powder, water_powder_ratio):
    """Return the ratio as a number once it can make a paste of this powder.

    Parameters
    ----------
    powder : gypsumkit.powders.Powder
        The powder.
    water_powder_ratio : float or str
        mL water per g powder.

    Returns
    -------
    float

    Raises
    ------
    Problem
        When it is not a number, not above 0, given per 100 g, upside down, too dry or too wet; says what would be right.
    """
    ratio = checked_number(water_powder_ratio, "The water/powder ratio", "mL per g")
    usual = powder.recommended_ratio
    advice = f"{powder.name} is usually mixed at {usual.low:.2f} to {usual.high:.2f}"
    if ratio <= 0:
        raise Problem(f"The water/powder ratio is given as {ratio:g}; it must be more than 0, and {advice}.")
    if powder.least_ratio <= ratio <= powder.most_ratio:
        return ratio
    if powder.least_ratio <= ratio / 100 <= powder.most_ratio:
        raise Problem(f"{ratio:g} looks like mL of water per 100 g of powder; as a water/powder ratio write {ratio / 100:.4g}.")
    if ratio > 1 and usual.low <= 1 / ratio <= usual.high:
        raise Problem(f"{ratio:g} looks upside down, powder over water; water over powder would be {1 / ratio:.2f}.")
    if ratio >= 5 and ratio / 100 < 2:
        raise Problem(f"{ratio:g} looks like mL of water per 100 g of powder, a ratio of {ratio / 100:.4g}; for {powder.name} a paste "
                      f"needs {powder.least_ratio:.3f} to {powder.most_ratio:.3f}, and {advice}.")
    if ratio < powder.least_ratio:
        raise Problem(f"A ratio of {ratio:g} is too dry: below {powder.least_ratio:.3f} the water cannot wet all of the "
                      f"{powder.name}, and no paste forms; {advice}.")
    raise Problem(f"A ratio of {ratio:g} is too wet: above {powder.most_ratio:.3f} the {powder.name} settles out of the "
                  f"water, and it is no longer a paste; {advice}.")


_PER_100_G = re.compile(r"^\s*([-+]?[0-9.,]+)\s*(?:ml|g|cm3|cc)?\s*(?:of\s+)?(?:water\s*)?(?:per|/|for|to)\s*100\s*(?:g|gram|grams)"
                        r"\s*(?:of\s+)?(?:powder)?\s*$", re.IGNORECASE)
_PERCENT = re.compile(r"^\s*([-+]?[0-9.,]+)\s*(?:%|percent)\s*$", re.IGNORECASE)
_PLAIN = re.compile(r"^\s*([-+]?[0-9.,]+(?:e[-+]?[0-9]+)?)\s*(?:ml\s*(?:per|/)\s*g|w/p)?\s*$", re.IGNORECASE)


def read_ratio(text):
    """Read a water/powder ratio as a person writes it.

    Parameters
    ----------
    text : str or float
        "0.54", "0,54", "54 mL per 100 g", "54 mL/100 g", "54 %".

    Returns
    -------
    float
        mL water per g powder, not yet checked against a powder.

    Raises
    ------
    Problem
        When no ratio can be read from it.
    """
    if not isinstance(text, str):
        return checked_number(text, "The water/powder ratio", "mL per g")
    for pattern, divisor in ((_PER_100_G, 100.0), (_PERCENT, 100.0), (_PLAIN, 1.0)):
        found = pattern.match(text)
        if found:
            return checked_number(found.group(1), "The water/powder ratio", "mL per g") / divisor
    raise Problem(f"'{' '.join(text.split())[:40]}' is not a water/powder ratio; write it as 0.54 or as 54 mL per 100 g.")
