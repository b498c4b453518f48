"""What a kilogram of powder costs: an invented list, and the reader's own prices, checked.

No real price is shipped. The invented ones are only in a believable order: the finer the powder, the dearer.
"""

import re
from typing import NamedTuple

from gypsumkit.checks import checked_number
from gypsumkit.powders import find_powder
from gypsumkit.problems import Problem
from gypsumkit.studies.comparison import INVENTED_PRICES
from gypsumkit.units import read_number

MOST_PER_KG = 1e6


class Price(NamedTuple):
    """What one kilogram costs, in the reader's own money, and whether the number is invented."""

    per_kg: float
    invented: bool


INVENTED_PER_KG = {                      # in "money", invented                    [gypsumkit]
    "impression plaster": 1.50,
    **INVENTED_PRICES,
    "high-expansion stone": 6.50,
}


def read_price(price, powder="a powder"):
    """Return the price of a kilogram as a person writes it.

    Parameters
    ----------
    price : float or str
        Such as 2.4, "2,40", "€ 2.40" or "2.40 per kg".
    powder : str
        Named in a refusal.

    Returns
    -------
    float
        Money per kg, 0 or more.

    Raises
    ------
    Problem
        When no price can be read from it.
    """
    what = f"The price of {powder}"
    if isinstance(price, str):
        try:
            read = read_number(re.sub(r"\s*(?:/|\bper\b|\ba\b)\s*(?:1\s*)?kg\s*$", "", price, flags=re.IGNORECASE), "2.40")
        except Problem as problem:
            raise Problem(f"{what} cannot be read: {problem}") from None
        if read.unit is not None and read.unit.kind != "a plain number":
            raise Problem(f"{what} is given as {read.number:g} {read.unit_typed}, which is {read.unit.kind}; write what one kg costs, such as 2.40.")
        price = read.number
    return checked_number(price, what, "money per kg", 0.0, MOST_PER_KG)


def price_list(own=None):
    """Return the price of each powder: the reader's own where there is one, else the invented one.

    Parameters
    ----------
    own : dict of str to float or str, optional
        Powder to price of one kilogram, as for `read_price`.

    Returns
    -------
    dict of str to Price
        A powder of the reader's own without a price is left out.

    Raises
    ------
    Problem
        When a powder is unknown or named twice, or a price cannot be read.
    """
    prices = {powder: Price(per_kg, True) for powder, per_kg in INVENTED_PER_KG.items()}
    given = set()
    for named, price in dict(own or {}).items():
        powder = find_powder(named).name
        if powder in given:
            raise Problem(f"Two prices are given for {powder}; give one.")
        given.add(powder)
        prices[powder] = Price(read_price(price, powder), False)
    return prices
