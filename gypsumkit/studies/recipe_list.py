"""Recipes written one after the other, as a person writes them: "42, 50 of model plaster; 30 of dental stone"."""

import re

from gypsumkit.powders import find_powder
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe, read_ratio

ML_FROM = 2.0            # from here on a plain number is mL per 100 g, below it is a ratio
EXAMPLE = "42, 50, 55 of model plaster; 30 of dental stone"


def read_recipes(text, most):
    """Return the recipes of a list.

    Parameters
    ----------
    text : str
        Groups apart by semicolons; in each the water in mL per 100 g (or a ratio below 2), apart by commas, then "of" and the powder.
    most : int
        How many there may be.

    Returns
    -------
    tuple of Recipe

    Raises
    ------
    Problem
        When a part cannot be read, is no paste, or there are too many; says which part and what would be right.
    """
    recipes = []
    for group in re.split(r"[;\n]", text):
        if group.strip():
            recipes += _group(group)
    if not recipes:
        raise Problem(f"No recipe is written; write them like “{EXAMPLE}”.")
    if len(recipes) > most:
        raise Problem(f"{len(recipes)} recipes are written; {most} are the most that stay readable side by side.")
    return tuple(recipes)


def _group(group):
    written = " ".join(group.split())
    waters, of, powder = (part.strip(" .,") for part in re.fullmatch(r"(.*?)(?:\b(of)\b(.*))?", written).groups(default=""))
    if not of or not powder:
        raise Problem(f"“{written[:60]}” names no powder; write it like “{EXAMPLE}”.")
    # A comma between two digits, without a space, is a decimal comma.
    parts = [part.strip() for part in re.split(r",(?!\d)|(?<!\d),|\band\b", waters) if part.strip()]
    if not parts:
        raise Problem(f"“{written[:60]}” names no water; write it like “{EXAMPLE}”.")
    kind = find_powder(powder)
    return [Recipe(kind.name, _ratio(part)) for part in parts]


def _ratio(written):
    if re.fullmatch(r"\d{2,},\d{2,}", written):
        raise Problem(f"“{written[:40]}” may be one number or two; write {written.replace(',', '.')[:40]}, or {written.replace(',', ', ')[:40]} with a space.")
    if not re.fullmatch(r"\d+(?:[.,]\d+)?", written):
        return read_ratio(written)
    number = float(written.replace(",", "."))
    return number / 100 if number >= ML_FROM else number
