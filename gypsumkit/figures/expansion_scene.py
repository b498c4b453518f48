"""Expansion and accuracy: how a cast grows while it sets, what that does to a die, and how it lies to the standard's limits."""

from typing import NamedTuple

import numpy as np

from gypsumkit.figures.mix_words import PIN_NAMES
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.remembering import remembered
from gypsumkit.studies.growth import growth_percent, predicted_growth, reaction_shrinkage_percent
from gypsumkit.mix import predict_timeline
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe
from gypsumkit.science import expansion, limits
from gypsumkit.showing import bracketed, range_words, rounded

PICTURE_HEIGHT = 470
PIN_DASHES = ("dashed", "dotted", "dash-dot")
LAST_MIN, TWO_HOURS_MIN, DAY_MIN = 150.0, 120.0, 1440.0
TOPS_PERCENT = (0.2, 0.4, 0.8, 1.6)
TIMES_DRAWN = 100.0                      # the die is drawn with its change so many times as large
POINTS = 61
LIMIT_TOP_PERCENT = 0.7
LOWER_LABEL_MIN = 32.0                   # where the label of the lower of two limits begins
OWN_MIX_LOWER = 0.34                     # how far below its powder the mix now stands, in rows

IN_AIR_2013, IN_AIR_1998, UNDER_WATER = "in air, limits of 2013", "in air, limits of 1998", "under water, no limit"
VIEWS = (IN_AIR_2013, IN_AIR_1998, UNDER_WATER)

LIMITS = ("Limits: the size at the recommended ratio is published, how it changes with water, turns and salts is our teaching law, and sources "
          "disagree about slurry water. Late growth is left out: measured stones went on growing for about four days. Under water is "
          "taken as twice, from memory. The standard was not read: its limits are recalled or quoted by others, so no pass is promised. The "
          "impression and the wax change their size too. For teaching only.")


class Die(NamedTuple):
    """What is looked at: a recipe, a length and where it sets."""

    recipe: Recipe
    length_mm: float
    view: str

    @property
    def edition(self):
        """The edition of the standard to judge by; None under water."""
        return {IN_AIR_2013: "2013", IN_AIR_1998: "1998"}.get(self.view)


def expansion_scene(die, pins=(), said=""):
    """Describe how a cast grows: in time, on a die, and beside the limits.

    Parameters
    ----------
    die : Die
        What is looked at now.
    pins : sequence of Die
        Up to three earlier ones.
    said : str
        What was changed about the mix, in words.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    pins = tuple(pins)[:len(PIN_NAMES)]
    return Scene((_time_picture(die, pins), _die_picture(die), _limit_picture(die)), expansion_words(die, pins, said), _numbers(die, pins))


# ---------------------------------------------------------------- what is computed, kept by recipe


@remembered(64)
def _line(recipe):
    """Moments and expansion in air, the last of them at 24 h."""
    moments = np.append(np.linspace(0.0, LAST_MIN, POINTS), DAY_MIN)
    return moments, predict_timeline(recipe.powder, recipe.water_powder_ratio, moments, recipe, ranges=False)["expansion_percent"].value


def _curve(recipe, under_water):
    moments, line = _line(recipe)
    return moments[:-1], line[:-1] * (expansion.WET_TIMES if under_water else 1.0)


def _day_over_two_hours(recipe):
    moments, line = _line(recipe)
    early = float(np.interp(TWO_HOURS_MIN, moments, line))
    return float(line[-1]) / early if early > 0 else 1.0


def verdicts(die):
    """Judge the expansion by every limit of the type in the chosen edition.

    Parameters
    ----------
    die : Die
        What is looked at.

    Returns
    -------
    list of (str, str)
        The limit with edition and standing, and how the expansion lies to it; empty under water or when it does not set.
    """
    value, low, high = growth_percent(die.recipe)
    if die.edition is None or not np.isfinite(value):
        return []
    found = []
    for limit in limits.expansion_limits(POWDERS[die.recipe.powder].iso_type, die.edition):
        later = _day_over_two_hours(die.recipe) if limit.hours > 2 else 1.0
        found.append((limits.limit_words(limit), limits.judged(limit, later * value, later * low, later * high)))
    return found


# ---------------------------------------------------------------- words and numbers


def _percent(values):
    value, low, high = values
    return f"{rounded(value, 2)} %{bracketed(low, high)}"


def _micrometres(die):
    return tuple(float(expansion.length_change_um(one, die.length_mm)) for one in growth_percent(die.recipe, die.view == UNDER_WATER))


def _micrometre_words(die):
    value, low, high = _micrometres(die)
    return f"{rounded(value, 2)} µm{bracketed(low, high)}"


def expansion_words(die, pins=(), said=""):
    """Say how a cast grows, in words.

    Parameters
    ----------
    die : Die
        What is looked at now.
    pins : sequence of Die
        Earlier ones.
    said : str
        What was changed about the mix.

    Returns
    -------
    str
    """
    recipe, ratio = die.recipe, die.recipe.water_powder_ratio
    grown = growth_percent(recipe, die.view == UNDER_WATER)
    begin = f"{recipe.powder[0].upper()}{recipe.powder[1:]} with {100 * ratio:.3g} mL of water per 100 g (ratio {ratio:.3g}), {said or 'mixed as usual'}"
    if not np.isfinite(grown[0]):
        return f"{begin}: it does not set within a day, so no expansion is predicted."
    volume, length = reaction_shrinkage_percent(recipe)
    parts = [f"{begin}, {'under water' if die.view == UNDER_WATER else 'in air'}: by 2 h it has grown by {_percent(grown)}. A length of "
             f"{die.length_mm:g} mm becomes {_micrometre_words(die)} longer. The reaction alone would shrink the volume by {rounded(volume, 2)} %, "
             f"that is {rounded(length, 2)} % of a length; this stays inside as voids."]
    parts += [f"Against {words}: {verdict}." for words, verdict in verdicts(die)]
    if die.edition is None:
        parts.append("The limits of the standard are for setting in air; none applies here.")
    if recipe.additive == "ground set gypsum" and recipe.additive_percent:
        parts.append("Sources disagree here: two studies found more expansion with slurry water, the general rule of handbooks is that "
                     "additives lower it.")
    if not predicted_growth(recipe).valid:
        parts.append(f"Outside its range: {predicted_growth(recipe).reason}.")
    parts += [f"Pinned {name}: {pin_words(pin)}." for name, pin in zip(PIN_NAMES, pins)]
    return " ".join(parts)


def pin_words(die):
    """Say a pinned die.

    Parameters
    ----------
    die : Die
        The die.

    Returns
    -------
    str
    """
    recipe = die.recipe
    how = [f"{100 * recipe.water_powder_ratio:.3g} mL per 100 g of {recipe.powder}"]
    if recipe.turns is not None:
        how.append(f"{recipe.turns:.0f} turns")
    if recipe.additive_percent:
        how.append(f"{recipe.additive_percent:.3g} % {recipe.additive}")
    grown = growth_percent(recipe, die.view == UNDER_WATER)
    where = "under water" if die.view == UNDER_WATER else "in air"
    return f"{', '.join(how)}, {where}: " + ("not predicted" if not np.isfinite(grown[0]) else
                                               f"{rounded(grown[0], 2)} %, {rounded(_micrometres(die)[0], 2)} µm on {die.length_mm:g} mm")


def _numbers(die, pins):
    def cell(one, values, unit):
        return "not predicted" if not np.isfinite(values[0]) else f"{rounded(values[0], 2)} {unit}"

    def row(words, of, unit):
        values = of(die)
        span = "" if not np.isfinite(values[0]) else range_words(values[1], values[2]) + ("" if predicted_growth(die.recipe).valid else " extrapolated")
        return (words, cell(die, values, unit), span, *(cell(pin, of(pin), unit) for pin in pins))
    rows = [row("expansion at 2 h", lambda one: growth_percent(one.recipe, one.view == UNDER_WATER), "%"),
            row("this length becomes longer by", _micrometres, "µm")]
    blank = ("",) * len(pins)
    volume, length = reaction_shrinkage_percent(die.recipe)
    rows.append(("the reaction alone, of the volume", f"−{rounded(volume, 2)} %", "", *blank))
    rows.append(("the reaction alone, of a length", f"−{rounded(length, 2)} %", "", *blank))
    rows += [(f"limit {words}", verdict, "", *blank) for words, verdict in verdicts(die)]
    return Table(("", "now", "plausible range", *(f"pinned {name}" for name in PIN_NAMES[:len(pins)])), tuple(rows), "The growth of this cast")


# ---------------------------------------------------------------- growth in time


@remembered(32)
def _limit_backdrop(iso_type, edition):
    """The limits at 2 h as bands; none under water."""
    if edition is None:
        return ()
    marks = []
    for place, limit in enumerate(one for one in limits.expansion_limits(iso_type, edition) if one.hours == 2):
        low = limit.low_percent if limit.low_percent else -0.02
        marks.append(Band([0.0, LAST_MIN], [low, low], [limit.high_percent] * 2, colour=("pale green", "pale sky")[place], edge="green",
                          edge_dash="dashed"))
        # The lower of two labels stands right of the rising curve.
        words, begin = (f"{edition}: {limit.use}", (LOWER_LABEL_MIN, 0.0)[place]) if limit.use else (f"limits of {edition}", 0.0)
        marks.append(Text(begin, limit.high_percent, words, anchor="start", height="top", right=6, up=-5, size=14))
    return tuple(marks)


def _top(curves):
    most = max(float(np.max(y)) for _, y in curves)
    return next((top for top in TOPS_PERCENT if top >= 1.3 * most), TOPS_PERCENT[-1])


def _time_picture(die, pins):
    wet, recipe = die.view == UNDER_WATER, die.recipe
    value, low, high = growth_percent(recipe, wet)
    kept = [_curve(pin.recipe, pin.view == UNDER_WATER) for pin in pins]
    marks = []
    for place, (letter, dash, line) in enumerate(zip(PIN_NAMES, PIN_DASHES, kept)):
        marks.append(Line(*line, colour="purple", width=2, dash=dash, label=letter, label_at=0.5 + 0.12 * place))
    marks.append(Line(*_curve(recipe, wet), colour="blue"))
    if np.isfinite(value):
        marks += [Line([TWO_HOURS_MIN] * 2, [low, high], colour="vermillion", width=4), Marker(TWO_HOURS_MIN, value),
                  Text(TWO_HOURS_MIN, value, f"{rounded(value, 2)} %", anchor="end", right=-14, up=-17, bold=True, size=18)]
    top = _top([_curve(recipe, wet), *kept])
    time = Panel("time", (0.0, LAST_MIN), (-0.03 * top, top), title="Growth in time", x_label="time from the start of mixing (min)",
                 y_label=f"expansion {'under water' if wet else 'in air'} (%)", height_share=1.7,
                 x_ticks=(0, 30, 60, 90, 120, 150), backdrop=_limit_backdrop(POWDERS[recipe.powder].iso_type, die.edition), moving=tuple(marks))
    length = -reaction_shrinkage_percent(recipe)[1]
    bars = [*_bar(1.0, length, "the reaction alone", "pale purple", "purple", "falling")]
    if np.isfinite(value):
        bars += _bar(0.0, value, "the cast, from outside", "pale blue", "blue", "rising")
    shrink = Panel("shrinkage", (-2.6, 2.0), (-0.5, 1.75), x_label="change of a length (%)", y_ticks=(), backdrop=(Rule(x=0.0, colour="black", dash="solid"),),
                   moving=tuple(bars))
    return Picture("time", (time, shrink), height=PICTURE_HEIGHT, words="Growth in time. " + (
        f"By 2 h {_percent((value, low, high))}; the reaction alone would shorten it by {rounded(-length, 2)} %." if np.isfinite(value)
        else "It does not set."))


def _bar(y, value, words, fill, edge, hatch):
    return [Polygon([0, value, value, 0], [y - 0.16, y - 0.16, y + 0.16, y + 0.16], fill=fill, edge=edge, hatch=hatch),
            Text(-2.6, y + 0.42, f"{words}: {'−' if value < 0 else '+'}{rounded(abs(value), 2)} %", anchor="start", right=6, bold=True, size=15)]


# ---------------------------------------------------------------- the die


DIE_X = np.array([-0.30, -0.34, -0.30, -0.18, -0.06, 0.06, 0.18, 0.30, 0.34, 0.30])
DIE_Y = np.array([0.0, 0.35, 0.75, 0.98, 0.93, 0.93, 0.98, 0.75, 0.35, 0.0])


@remembered(2)
def _tooth():
    return (Polygon([-0.75, 0.75, 0.75, -0.75], [-0.16, -0.16, 0.0, 0.0], fill="pale grey", edge="dark grey", hatch="crossed", width=1.5),
            Text(0.0, -0.21, f"change drawn {TIMES_DRAWN:.0f} times as large", height="top", size=14.5),
            Text(0.0, -0.33, "dashed: the prepared tooth", height="top", size=14.5))


def _die_picture(die):
    value = growth_percent(die.recipe, die.view == UNDER_WATER)[0]
    grown = 1.0 + TIMES_DRAWN * (value if np.isfinite(value) else 0.0) / 100.0
    shown = min(grown, 1.65)
    marks = [Polygon(shown * DIE_X, shown * DIE_Y, fill="pale orange", edge="vermillion", hatch="dots", width=3),
             Polygon(DIE_X, DIE_Y, fill=None, edge="black", dash="dashed", width=2)]
    if np.isfinite(value):
        longer = _micrometres(die)
        marks += [Line([0.68, 0.68], [0.0, 0.98], colour="black", width=2), Line([0.8, 0.8], [0.0, 0.98 * shown], colour="vermillion", width=3),
                  Text(0.0, 1.98, f"{die.length_mm:g} mm + {rounded(longer[0], 2)} µm", bold=True, size=20)]
        words = f"A length of {die.length_mm:g} mm, drawn on a die with its change {TIMES_DRAWN:.0f} times as large: {_micrometre_words(die)} longer."
        beyond = ["larger than the drawing can show"] * (shown < grown) + ["extrapolated: trust it less"] * (not predicted_growth(die.recipe).valid)
        marks += [Text(0.0, 1.86 - 0.12 * row, said, size=15) for row, said in enumerate(beyond)]
    else:
        words = "The die is not drawn: the mix does not set."
        marks = [Text(0.0, 1.98, "it does not set", bold=True, size=20)]
    panel = Panel("die", (-1.0, 1.0), (-0.45, 2.1), title="The die", show_axes=False, equal_aspect=True, backdrop=_tooth(), moving=tuple(marks))
    return Picture("die", (panel,), height=PICTURE_HEIGHT, words=words)


# ---------------------------------------------------------------- all powders beside the limits


def _shown(powder):
    """The catalogue's powders, and the reader's own one that was chosen."""
    return [name for name, kind in POWDERS.items() if not kind.parent or name == powder]


@remembered(8)
def _all_powders(edition, names):
    marks = []
    for row, name in enumerate(names):
        y, kind = len(names) - 1.0 - row, POWDERS[name]
        marks.append(Text(0.0, y + 0.36, f"{name}, type {kind.iso_type}", anchor="start", right=6, size=14.5))
        if edition is not None:
            for limit in limits.expansion_limits(kind.iso_type, edition):
                if limit.hours == 2:
                    marks.append(Polygon([limit.low_percent, limit.high_percent, limit.high_percent, limit.low_percent],
                                         [y - 0.2, y - 0.2, y + 0.2, y + 0.2], fill="pale green", edge="green", width=1.5))
        value, low, high = growth_percent(Recipe(name, kind.recommended_ratio.value), edition is None)
        marks += [Line([low, high], [y, y], colour="blue", width=3), Marker(value, y, "square", "blue", size=11, hollow=True)]
    return tuple(marks)


def _limit_picture(die):
    names = _shown(die.recipe.powder)
    row = len(names) - 1.0 - names.index(die.recipe.powder)
    value, low, high = growth_percent(die.recipe, die.view == UNDER_WATER)
    marks = []
    if np.isfinite(value):
        (left, shown, right), row = np.clip((low, value, high), 0.0, LIMIT_TOP_PERCENT).tolist(), row - OWN_MIX_LOWER
        marks = [Line([left, right], [row] * 2, colour="vermillion", width=4), Marker(shown, row),
                 Text(right if value < 0.5 else left, row, f"{rounded(value, 2)} %", bold=True, size=17,
                      **({"anchor": "start", "right": 10} if value < 0.5 else {"anchor": "end", "right": -10}))]
    below = "no limit under water" if die.edition is None else f"green: limits of {die.edition}, not read in the standard"
    panel = Panel("powders", (0.0, LIMIT_TOP_PERCENT), (-0.75, len(names) - 0.25), title="All five powders" if len(names) == 5 else "All five, and ours", x_label="expansion at 2 h (%)", y_ticks=(),
                  backdrop=(*_all_powders(die.edition, tuple(names)), Text(LIMIT_TOP_PERCENT, -0.62, below, anchor="end", right=-4, size=14)), moving=tuple(marks))
    judged = "; ".join(f"{words}: {verdict}" for words, verdict in verdicts(die))
    return Picture("powders", (panel,), height=PICTURE_HEIGHT, words="Expansion of all five powders at their recommended ratio (blue squares) and of your mix, "
                   + (f"beside the limits. Your mix: {judged}." if judged else "without limits."))
