"""One batch from the rock to the dried cast, by mass and by volume."""

import numpy as np

from gypsumkit.figures.layers import column
from gypsumkit.plausible import one_at_a_time, value_and_range
from gypsumkit.figures.scene import Panel, Picture, Rule, Scene, Table
from gypsumkit.powders import GYPSUM_DENSITY, ROOM_C, find_powder
from gypsumkit.science.batch import Batch, batch
from gypsumkit.science.hydration import THEORETICAL_WATER_G_PER_G
from gypsumkit.science.water import water_density_g_cm3
from gypsumkit.showing import bracketed, rounded

PICTURE_HEIGHT = 440
STAGES = ("rock", "powder", "fresh", "set", "dried")
COLUMN_WIDTH = 0.86
TOPS = (15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 175, 200, 250, 300, 350, 400, 500, 600, 800, 1000, 1200)
PANEL_UNITS_HIGH = 340          # about how high the panel is, in picture units: tells where words fit

LIMITS = ("Limits: the powder counts as pure hemihydrate; real powders hold a few per cent of other minerals and additives. Volumes "
          "are those of the grains and of water at 23 °C, without air bubbles: a heap of powder takes more room. 1 mL of water is "
          "counted as 1 g. The outer volume is taken to stay as it was when fresh; the small setting expansion is left out. "
          "For teaching only.")


def batch_scene(powder, powder_g, water_ml):
    """Describe one batch at five stages, by mass and by volume.

    Parameters
    ----------
    powder : str
        Name of a powder; only the density of its grains matters here.
    powder_g : float
        g, above 0.
    water_ml : float
        mL, counted as g, 0 or more.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    kind = find_powder(powder)
    made, spans = _balanced(kind, float(powder_g), float(water_ml))
    return Scene((_mass_picture(made), _volume_picture(made)), batch_words(kind, made, spans), _numbers(made, spans))


def _balanced(kind, powder_g, water_ml):
    """The batch, and of each amount its low and high from the densities."""
    powder_density, gypsum_density = one_at_a_time((kind.density_g_cm3, GYPSUM_DENSITY))
    rows = batch(powder_g, water_ml, powder_density, gypsum_density, float(water_density_g_cm3(ROOM_C)))
    columns = np.empty((len(powder_density), len(Batch._fields)))
    for place, amounts in enumerate(rows):
        columns[:, place] = amounts
    value, low, high = (row.tolist() for row in value_and_range(columns))
    return Batch(*value), dict(zip(Batch._fields, zip(low, high)))


# ---------------------------------------------------------------- words and numbers


def batch_words(kind, made, spans):
    """Say the batch in words.

    Parameters
    ----------
    kind : Powder
        The powder.
    made : Batch
        Its amounts.
    spans : dict of str to (float, float)
        Low and high of each amount.

    Returns
    -------
    str
    """
    low, high = spans["voids_cm3"]
    said = [f"{_g(made.powder_g)} of {kind.name} was {_g(made.rock_g)} of gypsum rock; heating drove off {_g(made.steam_g)} of steam. "
            f"With {_g(made.water_g)} of water (ratio {rounded(made.water_g / made.powder_g, 3)}) the fresh mix weighs "
            f"{_g(made.powder_g + made.water_g)}.",
            _ending(kind, made),
            f"Set and dried it weighs {_g(made.crystals_g + made.powder_left_g)}. The outside keeps {_cm3(made.outer_cm3)}; inside, "
            f"{_cm3(made.voids_cm3)}{bracketed(low, high)} become empty."]
    return " ".join(said)


def _ending(kind, made):
    ratio = made.water_g / made.powder_g
    binds = f"The crystals bind {_g(made.bound_water_g)} of water, {_g(made.free_water_g)} stay free."
    if ratio < THEORETICAL_WATER_G_PER_G - 1e-9:
        return (f"That is too little water: {_g(made.theoretical_water_g)} are needed to set all of it. {_g(made.powder_left_g)} of powder "
                f"stay powder.")
    if ratio < kind.least_ratio:
        return f"{binds} The sum is right, but at the bench so little water cannot wet all the grains: no paste forms."
    if ratio > kind.most_ratio:
        return f"{binds} The sum is right, but at the bench so much water lets the powder sink to the bottom: it is no paste."
    return binds


def _g(amount):
    return f"{rounded(amount, 3)} g"


def _cm3(amount):
    return f"{rounded(amount, 3)} cm³"


def _numbers(made, spans):
    def room(name):
        value, (low, high) = getattr(made, name), spans[name]
        low, high = rounded(low, 3), rounded(high, 3)
        return _cm3(value) + (f" ({low} to {high})" if low != high else "")

    rows = [("gypsum rock that was heated", _g(made.rock_g), room("rock_cm3")),
            ("steam driven off", _g(made.steam_g), ""),
            ("powder (its grains)", _g(made.powder_g), room("powder_cm3")),
            ("water", _g(made.water_g), room("water_cm3")),
            ("fresh mix", _g(made.powder_g + made.water_g), room("outer_cm3")),
            ("water bound in crystals", _g(made.bound_water_g), ""),
            ("crystals", _g(made.crystals_g), room("crystals_cm3")),
            ("powder left over", _g(made.powder_left_g), room("powder_left_cm3")),
            ("free water", _g(made.free_water_g), room("free_water_cm3")),
            ("empty room opened inside", "0 g", room("voids_cm3"))]
    return Table(("", "by mass", "by volume (plausible range)"), tuple(rows), "Numbers of this batch")


# ---------------------------------------------------------------- by mass and by volume


def _stages(name, title, unit, columns, highest, words, extra=()):
    top = next((top for top in TOPS if top >= 1.13 * highest), TOPS[-1])
    marks = list(extra)
    for place, parts in enumerate(columns):
        marks += column(place + 0.5 * (1 - COLUMN_WIDTH), COLUMN_WIDTH, parts, top / PANEL_UNITS_HIGH)
    panel = Panel(name, (0.0, float(len(STAGES))), (0.0, float(top)), title=title, y_label=unit,
                  x_ticks=tuple((place + 0.5, stage) for place, stage in enumerate(STAGES)), moving=tuple(marks))
    return Picture(name, (panel,), words, height=PICTURE_HEIGHT)


def _mass_picture(made):
    columns = (
        [(made.rock_g, "gypsum", "gypsum")],
        [(made.powder_g, "powder", "powder"), (made.steam_g, "steam", "steam")],
        [(made.powder_g, "powder", "powder"), (made.water_g, "water", "water")],
        [(made.powder_left_g, "powder", "powder"), (made.crystals_g, "crystals", "crystals"), (made.free_water_g, "water", "water")],
        [(made.powder_left_g, "powder", "powder"), (made.crystals_g, "crystals", "crystals"), (made.free_water_g, "dried", "gone")],
    )
    level = (Rule(y=made.rock_g, colour="blue", width=2, dash="dotted"),)
    words = (f"By mass: rock {_g(made.rock_g)}; powder {_g(made.powder_g)} and steam {_g(made.steam_g)}; fresh mix "
             f"{_g(made.powder_g + made.water_g)}; set, crystals {_g(made.crystals_g)}, powder left {_g(made.powder_left_g)}, free water "
             f"{_g(made.free_water_g)}; dried {_g(made.crystals_g + made.powder_left_g)}. A dotted line marks the mass of the rock.")
    return _stages("mass", "By mass", "mass (g)", columns, max(made.rock_g, made.powder_g + made.water_g), words, level)


def _volume_picture(made):
    columns = (
        [(made.rock_cm3, "gypsum", "gypsum")],
        [(made.powder_cm3, "powder", "powder")],
        [(made.powder_cm3, "powder", "powder"), (made.water_cm3, "water", "water")],
        [(made.powder_left_cm3, "powder", "powder"), (made.crystals_cm3, "crystals", "crystals"), (made.free_water_cm3, "water", "water"),
         (made.voids_cm3, "empty", "empty")],
        [(made.powder_left_cm3, "powder", "powder"), (made.crystals_cm3, "crystals", "crystals"),
         (made.free_water_cm3 + made.voids_cm3, "empty", "empty")],
    )
    level = (Rule(y=made.outer_cm3, colour="blue", width=2, dash="dotted"),)
    words = (f"By volume: rock {_cm3(made.rock_cm3)}; powder grains {_cm3(made.powder_cm3)}; fresh mix {_cm3(made.outer_cm3)}; set, crystals "
             f"{_cm3(made.crystals_cm3)}, free water {_cm3(made.free_water_cm3)}, empty {_cm3(made.voids_cm3)}; the outer volume stays. "
             "A dotted line marks it.")
    return _stages("volume", "By volume", "volume (cm³)", columns, max(made.outer_cm3, made.rock_cm3), words, level)
