"""The first week of a cast: strength while it sets and dries, the water still in it, and what it weighs."""

import numpy as np

from gypsumkit.remembering import remembered
from gypsumkit.studies.ageing import TAKEN_OUT_MIN, first_week
from gypsumkit.figures.mix_words import PIN_NAMES
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Rule, Scene, Table, Text
from gypsumkit.showing import bracketed, range_words, with_unit

PICTURE_HEIGHT = 430
PIN_DASHES = ("dashed", "dotted", "dash-dot")
FIRST_MIN, LAST_MIN = 10.0, 7 * 24 * 60.0
TICKS_MIN = ((10.0, "10 min"), (60.0, "1 h"), (360.0, "6 h"), (1440.0, "1 d"), (4320.0, "3 d"), (10080.0, "7 d"))
STRENGTH_TOPS_MPA = (20.0, 40.0, 80.0, 120.0, 240.0)
MOMENTS = ((60.0, "1 h"), (24 * 60.0, "24 h"), (7 * 24 * 60.0, "7 days"))
POINTS = 81

LIMITS = ("Limits: drying is our simplest assumption. From 1 h on each hour takes the same share of the water that is left, and the cast is one "
          "whole, not dry outside and wet inside. A real cast dries by its size, the air and the warmth: weigh it. That strength comes late "
          "is from a maker's guide, and our law gives it back; that dry is about twice wet is from memory. For teaching only.")


def week_scene(recipe, half_dry_h, day_h, pins=()):
    """Describe the first week of a cast.

    Parameters
    ----------
    recipe : gypsumkit.recipe.Recipe
        The mix.
    half_dry_h : float
        h in which half of the free water leaves, above 0.
    day_h : float
        The moment looked at, h from the start of mixing, 0.2 to 168.
    pins : sequence of (Recipe, half_dry_h)
        Up to three earlier ones.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    pins = tuple(pins)[:len(PIN_NAMES)]
    now, kept = _week(recipe, half_dry_h), tuple(_week(*pin) for pin in pins)
    pictures = (_strength_picture(now, kept, recipe, half_dry_h, day_h), _water_picture(now, kept, recipe, half_dry_h, day_h))
    return Scene(pictures, week_words(recipe, half_dry_h, day_h, pins), _numbers(recipe, half_dry_h, pins))


@remembered(64)
def _week(recipe, half_dry_h):
    return first_week(recipe, np.geomspace(FIRST_MIN, LAST_MIN, POINTS), half_dry_h)


@remembered(64)
def _told(recipe, half_dry_h):
    """The cast at 1 h, 24 h and 7 days."""
    return first_week(recipe, np.array([minutes for minutes, _ in MOMENTS]), half_dry_h)


def _at(week, name, minutes):
    return float(np.interp(np.log(minutes), np.log(week.time_min), getattr(week, name)))


def _strength(week, place):
    return with_unit(week.strength_mpa[place], "MPa") + bracketed(week.strength_low_mpa[place], week.strength_high_mpa[place])


def week_words(recipe, half_dry_h, day_h, pins=()):
    """Say the first week in words.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    half_dry_h : float
        h in which half of the free water leaves.
    day_h : float
        The moment looked at, h.
    pins : sequence of (Recipe, half_dry_h)
        Earlier ones.

    Returns
    -------
    str
    """
    told, week = _told(recipe, half_dry_h), _week(recipe, half_dry_h)
    strong = ", ".join(f"{_strength(told, place)} at {words}" for place, (_, words) in enumerate(MOMENTS))
    ratio = recipe.water_powder_ratio
    said = [f"{recipe.powder[0].upper()}{recipe.powder[1:]} with {100 * ratio:.3g} mL of water per 100 g (ratio {ratio:.3g}), half of its free "
            f"water gone every {half_dry_h:g} h from 1 h on: {strong}.",
            f"After {day_h:g} h {100 * _at(week, 'free_water_left', 60 * day_h):.0f} % of the free water is left, the cast weighs "
            f"{100 * _at(week, 'weight_share', 60 * day_h):.0f} % of what it weighed wet, and it carries about "
            f"{with_unit(_at(week, 'strength_mpa', 60 * day_h), 'MPa', 2)}."]
    said += [f"Pinned {name}: {pin_words(pin)}." for name, pin in zip(PIN_NAMES, pins)]
    return " ".join(said)


def pin_words(pin):
    """Say a pinned cast.

    Parameters
    ----------
    pin : (Recipe, half_dry_h)
        The cast.

    Returns
    -------
    str
    """
    recipe, half_dry_h = pin
    told = _told(*pin)
    return (f"{100 * recipe.water_powder_ratio:.3g} mL per 100 g of {recipe.powder}, half dry in {half_dry_h:g} h: "
            + ", ".join(f"{with_unit(told.strength_mpa[place], 'MPa')} at {words}" for place, (_, words) in enumerate(MOMENTS)))


def _numbers(recipe, half_dry_h, pins):
    told, kept = _told(recipe, half_dry_h), [_told(*pin) for pin in pins]
    rows = []
    for place, (_, words) in enumerate(MOMENTS):
        rows.append((f"compressive strength at {words}", with_unit(told.strength_mpa[place], "MPa"),
                     range_words(told.strength_low_mpa[place], told.strength_high_mpa[place]),
                     *(with_unit(each.strength_mpa[place], "MPa") for each in kept)))
    for place, (_, words) in enumerate(MOMENTS):
        rows.append((f"weight at {words}, of the wet weight", f"{100 * told.weight_share[place]:.0f} %", "",
                     *(f"{100 * each.weight_share[place]:.0f} %" for each in kept)))
    return Table(("", "now", "plausible range", *(f"pinned {name}" for name in PIN_NAMES[:len(pins)])), tuple(rows), "The first week of this cast")


def _panel(name, y_range, title, y_label, marks, backdrop=()):
    """A panel over time, each step to the right so many times longer; the ticks say the time."""
    return Panel(name, (np.log10(FIRST_MIN), np.log10(1.15 * LAST_MIN)), y_range, title=title, y_label=y_label,
                 x_label="time (each step to the right is longer)",
                 x_ticks=tuple((float(np.log10(minutes)), words) for minutes, words in TICKS_MIN), backdrop=backdrop, moving=tuple(marks))


def _out():
    return (Rule(x=float(np.log10(TAKEN_OUT_MIN)), colour="black", label="drying begins", label_height="top"),)


def _curves(week, kept, name, colour, scale=1.0):
    marks = [Line(np.log10(each.time_min), scale * getattr(each, name), colour="purple", width=2, dash=dash, label=letter, label_at=0.5 + 0.12 * place)
             for place, (letter, dash, each) in enumerate(zip(PIN_NAMES, PIN_DASHES, kept))]
    return [*marks, Line(np.log10(week.time_min), scale * getattr(week, name), colour=colour)]


def _dot(day_h, value, words):
    x = float(np.log10(60 * day_h))
    return [Rule(x=x, colour="dark grey", width=1.5, dash="solid"), Marker(x, value), Text(x, value, words, anchor="auto", right=14, up=16, bold=True, size=17)]


def _strength_picture(week, kept, recipe, half_dry_h, day_h):
    most = max(float(np.max(each.strength_high_mpa)) for each in (week, *kept))
    top = next((top for top in STRENGTH_TOPS_MPA if top >= most), 1.1 * most)
    value = _at(week, "strength_mpa", 60 * day_h)
    marks = [Band(np.log10(week.time_min), week.strength_low_mpa, week.strength_high_mpa), *_curves(week, kept, "strength_mpa", "blue"),
             *_dot(day_h, value, with_unit(value, "MPa", 2))]
    return Picture("strength", (_panel("strength", (0.0, top), "Strength in the first week", "compressive strength (MPa)", marks, _out()),),
                   height=PICTURE_HEIGHT, words=f"Strength in the first week, with its plausible range. After {day_h:g} h about {with_unit(value, 'MPa', 2)}.")


def _water_picture(week, kept, recipe, half_dry_h, day_h):
    value = 100 * _at(week, "free_water_left", 60 * day_h)
    marks = [*_curves(week, kept, "free_water_left", "green", 100.0), *_dot(day_h, value, f"{value:.0f} % left")]
    begin = float(np.log10(TAKEN_OUT_MIN))
    backdrop = (Rule(x=begin, colour="black"), Rule(y=7.0, colour="black"),
                Text(begin, 7.0, "93 % gone:", anchor="start", height="bottom", right=8, up=3, size=14.5),
                Text(begin, 7.0, "plaster grows strong", anchor="start", height="top", right=8, up=-3, size=14.5))
    return Picture("water", (_panel("water", (0.0, 110.0), "Water still in it", "free water left (%)", marks, backdrop),), height=PICTURE_HEIGHT,
                   words=f"Free water still in the cast: after {day_h:g} h {value:.0f} %.")
