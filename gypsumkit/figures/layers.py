"""How each part of a mass is drawn, the same in every picture: powder, crystals, water, steam, empty room."""

import numpy as np

from gypsumkit.figures.scene import Polygon, Text
from gypsumkit.showing import rounded

FILLS = {                        # fill, hatching, edge, dash
    "powder": ("pale grey", "crossed", "dark grey", "solid"),
    "crystals": ("pale orange", "rising", "dark grey", "solid"),
    "gypsum": ("pale orange", "rising", "dark grey", "solid"),
    "water": ("pale sky", "level", "dark grey", "solid"),
    "empty": ("white", "dots", "dark grey", "solid"),
    "dried": ("white", "", "dark grey", "dashed"),
    "steam": ("white", "", "dark grey", "dashed"),
    "air": ("white", "upright", "dark grey", "solid"),
}


def layer(x, low, high, kind, hatched=True):
    """Return the area of one part between two curves.

    Parameters
    ----------
    x, low, high : sequence of float
        The two curves.
    kind : str
        A key of `FILLS`.
    hatched : bool
        Without hatching the part needs its name written in it.
    """
    fill, hatch, edge, dash = FILLS[kind]
    x, low, high = (np.asarray(values, dtype=float) for values in (x, low, high))
    return Polygon(np.concatenate([x, x[::-1]]), np.concatenate([low, high[::-1]]), fill=fill, edge=edge, width=1.2,
                   hatch=hatch if hatched else "", dash=dash)


def column(left, width, parts, units_per_height):
    """Return one column of parts, from the bottom up, with their names and amounts.

    Parameters
    ----------
    left, width : float
        Where it stands, in the units of the panel.
    parts : sequence of (float, str, str)
        Amount, kind and name of each part.
    units_per_height : float
        Amount that is as high as one picture unit; tells which parts have room for their name.

    Returns
    -------
    list of marks
        The areas and their words; what is too thin for words is named above the column.
    """
    marks, bottom, above = [], 0.0, []
    for amount, kind, name in parts:
        if amount <= 1e-9:
            continue
        middle, height = bottom + 0.5 * amount, amount / units_per_height
        marks.append(layer([left, left + width], [bottom, bottom], [bottom + amount, bottom + amount], kind))
        said = rounded(amount, 3)
        if height >= 34:
            marks += [Text(left + 0.5 * width, middle, name, size=14, up=9), Text(left + 0.5 * width, middle, said, size=14.5, up=-9, bold=True)]
        else:
            above += [(said, True), (name, False)]
        bottom += amount
    marks += [Text(left + 0.5 * width, bottom, words, size=14, height="bottom", up=4 + 16 * place, bold=bold)
              for place, (words, bold) in enumerate(above)]
    return marks
