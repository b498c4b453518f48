"""The set cast: the depth that wetting takes from its surface, and what its weight and the warmth say while it dries."""

import numpy as np

from gypsumkit.figures.mix_words import recipe_words
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.remembering import remembered
from gypsumkit.showing import bracketed, rounded
from gypsumkit.studies.set_cast import (CEMENT_UM, EDGE_DEGREES, HOT_C, LEAST_MIN, LINE_UM, MOST_MIN, RINSE_S, RUNNING, SATURATED, WARM_C, dryness, strength_mpa,
                                        warmth_words)

PICTURE_HEIGHT = 470
SHALLOW_UM, DEEP_UM = 0.1, 1000.0
SHOWN_UM = 300.0                               # of the edge, back from its tip
MINUTE_TICKS = ((0.1, "6 s"), (1.0, "1 min"), (10.0, "10"), (60.0, "1 h"), (360.0, "6 h"), (1440.0, "1 d"))
DEPTH_TICKS = ((0.1, "0.1"), (1.0, "1"), (10.0, "10"), (100.0, "100"), (1000.0, "1000"))
COOL_C, TOP_C = 15.0, 130.0
TOPS_MPA = (20.0, 40.0, 80.0, 120.0, 240.0)
POINTS = 61

ETCHING_LIMITS = ("Limits: pure water; the surface loses alike everywhere. In truth a sharp tip may lose more, and single crystals come loose. The low bound takes the slowest "
                  "published crystal and a thick layer of resting water. The high bound takes the quickest and a thin layer. The layers are ours. How warmth changes the crystal "
                  "itself is left out. The two marks of 25 and 50 µm, and the edge of 60°, are from memory or ours. No measurement of the depth on a dental cast was found. "
                  "For teaching only.")
DRYING_LIMITS = ("Limits: the weight says how much water is left in the whole cast, not where: the core dries last. That strength returns late is a maker's guide about plaster, "
                 "reproduced by our law; dry as about twice wet is from memory. The law is the same on the way down and on the way up. The two temperatures are "
                 "common practice, no source; how fast heat drives crystal water off is not predicted. For teaching only.")


# ---------------------------------------------------------------- wetting


def etching_scene(soak):
    """Describe what wetting takes from the surface: bounds against time, and an edge drawn.

    Parameters
    ----------
    soak : gypsumkit.studies.set_cast.Soak
        Cast, water and time.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    return Scene((_depth_picture(soak), _edge_picture(soak)), etching_words(soak), _etching_numbers(soak))


def _water_words(soak):
    if soak.wetting == RUNNING:
        return f"{soak.water_l:g} L of tap water a minute run over it"
    kind = "water saturated with gypsum" if soak.wetting == SATURATED else "tap water that stands"
    return f"it lies in {soak.water_l:g} L of {kind}"


def time_words(minutes):
    """Say a time in s, min or h.

    Parameters
    ----------
    minutes : float
        min; inf when it lies beyond a day.

    Returns
    -------
    str
    """
    if not np.isfinite(minutes):
        return "never within a day"
    value, unit = (60 * minutes, "s") if minutes < 1 else (minutes, "min") if minutes < 99.5 else (minutes / 60, "h")
    return f"{value:.0f} {unit}" if abs(value - round(value)) < 1e-9 else f"{rounded(value, 2)} {unit}"


def _depth_words(low, high):
    if high <= 0:
        return "nothing"
    return _span(low, high)


def _span(low, high):
    """A least and a most depth, with one unit where they share it."""
    unit = " mm" if low >= 1000 else " µm" if high < 1000 else ""
    return f"{_depth(low).removesuffix(unit) if unit else _depth(low)} to {_depth(high)}"


def _depth(um):
    return f"{rounded(um, 2)} µm" if um < 1000 else f"{rounded(um / 1000, 2)} mm"


def _when_words(soak, depth_um):
    perhaps, certainly = soak.minutes_until(depth_um)
    if not np.isfinite(perhaps):
        return "not within a day"
    return f"perhaps after {time_words(perhaps)}, " + (f"certainly after {time_words(certainly)}" if np.isfinite(certainly) else "but not certainly within a day")


def _rinses_words(soak):
    """How many rinses take a film of cement from the tip of an edge; a tap takes as much each time."""
    depth = CEMENT_UM * soak.depth_um()[0] / soak.tip_um()[0]
    perhaps, certainly = (60.0 * minutes / RINSE_S for minutes in soak.minutes_until(depth))
    return f" At such a tip {CEMENT_UM:g} µm are gone perhaps after {rounded(perhaps, 2)} rinses of {RINSE_S:g} s" + (
        f", certainly after {rounded(certainly, 2)}." if np.isfinite(certainly) else ".")


def etching_words(soak):
    """Say a wetting in words: depth, bound by the volume of water, when the marks are reached, and what an edge loses.

    Parameters
    ----------
    soak : Soak
        Cast, water and time.

    Returns
    -------
    str
    """
    low, high = soak.depth_um()
    said = (f"A set cast of {soak.powder}, porosity {rounded(100 * soak.porosity, 3)} %, wetted surface {soak.area_cm2:g} cm². For {time_words(soak.minutes)} "
            f"{_water_words(soak)}, at {soak.temperature_c:g} °C. ")
    if soak.wetting == SATURATED:
        return said + ("The surface loses nothing: this water already holds all the gypsum that it can. True only while it is full: keep lumps of set gypsum in it. "
                       "Water that becomes warmer or colder in the vessel may take a little, or leave a little.")
    full = "every litre left" if soak.wetting == RUNNING else "all of this water became"
    return said + (f"The surface loses {_depth_words(low, high)}. If {full} full of gypsum, {_depth(soak.most_um())} would be lost: more is impossible. "
                   f"A film of cement ({CEMENT_UM:g} µm) is gone {_when_words(soak, CEMENT_UM)}. A fine line ({LINE_UM:g} µm) is gone {_when_words(soak, LINE_UM)}. "
                   f"An edge of {EDGE_DEGREES:g}° loses from both sides, so its tip moves back {round(soak.tip_um()[1] / high, 1):g} times as far: "
                   f"{_depth_words(*soak.tip_um())}.") + (_rinses_words(soak) if soak.wetting == RUNNING else "")


def _etching_numbers(soak):
    rows = []
    for minutes in sorted({1.0, 10.0, 60.0, 720.0, soak.minutes}):
        most = soak.most_um(minutes)
        rows.append((time_words(minutes), _depth_words(*soak.depth_um(minutes)), _depth_words(*soak.tip_um(minutes)), _depth(most) if most > 0 else "nothing"))
    return Table(("time", "surface", f"tip of an edge of {EDGE_DEGREES:g}°", "if all water became full"), tuple(rows), f"Lost in {soak.wetting}, at least and at most")


@remembered(32)
def _curves(soak):
    moments = np.geomspace(LEAST_MIN, MOST_MIN, POINTS)
    low, high = soak.depth_um(moments)
    return moments, low, high, soak.most_um(moments)


def _log(depth):
    return np.log10(np.clip(depth, SHALLOW_UM / 10, 10 * DEEP_UM))


def _depth_picture(soak):
    across, up = (float(np.log10(LEAST_MIN)), float(np.log10(MOST_MIN)) + 0.05), (float(np.log10(SHALLOW_UM)), float(np.log10(DEEP_UM)))
    left = across[0] + 0.05
    marks = [Rule(y=float(np.log10(LINE_UM)), colour="black"), Text(left, float(np.log10(LINE_UM)), f"line, {LINE_UM:g} µm", anchor="start", up=10),
             Rule(y=float(np.log10(CEMENT_UM)), colour="black", dash="dotted"), Text(left, float(np.log10(CEMENT_UM)), f"cement, {CEMENT_UM:g} µm", anchor="start", up=-10)]
    moving, x = [], float(np.log10(soak.minutes))
    low, high = soak.depth_um()
    if soak.wetting == SATURATED:
        moving += [Text(0.5 * sum(across), up[0] + 0.9, "saturated water takes nothing", bold=True, size=18), Marker(x, up[0], "circle"), Rule(x=x, width=1.5, dash="solid")]
    else:
        moments, lows, highs, most = _curves(soak)
        log = np.log10(moments)
        moving += [Band(log, _log(lows), _log(highs), hatch="rising"), Line(log, _log(most), colour="dark grey", dash="dashed"),
                   Text(left, up[1], "dashed: all water full", anchor="start", height="top", up=-3),
                   Rule(x=x, width=1.5, dash="solid"), Line([x, x], [_log(low), _log(high)], colour="vermillion", width=5),
                   Marker(x, float(np.clip(_log(low), *up)), "circle"), Marker(x, float(np.clip(_log(high), *up)), "square"),
                   Text(across[1] - 0.05, up[0], f"now {_span(low, high)}", anchor="end", height="bottom", bold=True, size=18, up=4)]
    panel = Panel("depth", across, up, title="Lost from the surface", x_label="time in the water (longer steps)", y_label="depth lost (µm, longer steps)",
                  x_ticks=tuple((float(np.log10(minutes)), words) for minutes, words in MINUTE_TICKS),
                  y_ticks=tuple((float(np.log10(depth)), words) for depth, words in DEPTH_TICKS), backdrop=tuple(marks), moving=tuple(moving))
    return Picture("depth", (panel,), height=PICTURE_HEIGHT, words=f"Lost from the surface in {soak.wetting}: {_depth_words(low, high)} after {time_words(soak.minutes)}.")


def _edge_picture(soak):
    """A sharp edge in section: its first outline, the outline that is certainly gone, and the one that perhaps is."""
    slope = float(np.tan(np.radians(EDGE_DEGREES / 2)))
    low, high = (min(float(back), SHOWN_UM) for back in soak.tip_um())

    def wedge(back, fill, hatch):
        half = slope * (SHOWN_UM - back)
        return [Polygon([0, half, -half], [-back, -SHOWN_UM, -SHOWN_UM], fill=fill, edge="black", hatch=hatch, width=1.5)] if SHOWN_UM - back > 1e-9 else []
    moving = [*(wedge(0.0, "white", "dots") if low > 0 else []), *(wedge(low, "pale yellow", "rising") if high > 0 else []), *wedge(high, "pale grey", "")]
    names = ["grey: stays"] if high <= 0 else ["dots: certainly lost", "hatched: perhaps lost", "grey: stays"]
    moving += [Text(-176, 76 - 24 * place, words, anchor="start") for place, words in enumerate(names)]
    if high <= 0:
        moving.append(Text(0, -0.75 * SHOWN_UM, "nothing is lost", bold=True))
    marks = tuple(mark for back in (CEMENT_UM, LINE_UM) for mark in (Line([0, 178], [-back, -back], colour="black", dash="dashed", width=2),
                                                                    Text(178, -back, f"{back:g} µm", anchor="end", up=9)))
    panel = Panel("edge", (-180.0, 180.0), (-SHOWN_UM, 90.0), title=f"An edge of {EDGE_DEGREES:g}°, cut through", y_label="back from the tip (µm)", x_ticks=(), equal_aspect=True,
                  y_ticks=tuple((-float(back), f"{back}") for back in (0, 100, 200, 300)), moving=tuple(moving) + marks)
    said = ("Nothing of it is lost." if high <= 0 else f"Its tip moves back certainly by {_depth(low)} and perhaps by {_depth(high)}{' or more' if high >= SHOWN_UM else ''}.")
    return Picture("edge", (panel,), height=PICTURE_HEIGHT, words=f"An edge of {EDGE_DEGREES:g}°, cut through, to {SHOWN_UM:g} µm below its tip. {said}")


# ---------------------------------------------------------------- drying


def drying_scene(recipe, weight_percent, air_c):
    """Describe a cast while it dries: its weight, the warmth, and its strength.

    Parameters
    ----------
    recipe : gypsumkit.recipe.Recipe
        The mix.
    weight_percent : float
        Weight now, % of the wet cast.
    air_c : float
        Temperature of the air in which it dries, °C.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    dry = dryness(recipe, weight_percent)
    return Scene((_weight_picture(recipe, weight_percent, air_c, dry), _strength_picture(recipe, weight_percent, dry)),
                 drying_words(recipe, weight_percent, air_c), _drying_numbers(recipe))


def _mpa(recipe, left):
    value, low, high = (float(one) for one in strength_mpa(recipe, left))
    return f"{rounded(value, 3)} MPa{bracketed(low, high)}"


def _state_words(recipe, dry):
    if dry.crystal_water_lost > 1e-9:
        return (f"It weighs less than dry: about {rounded(100 * dry.crystal_water_lost, 2)} % of the crystal water that heat can take has gone. The surface chalks and the cast "
                "is weaker; how much is not predicted. Water does not bring it back")
    return f"{rounded(100 * dry.free_water_left, 2)} % of its free water is left. It carries {_mpa(recipe, dry.free_water_left)}"


def drying_words(recipe, weight_percent, air_c):
    """Say a drying cast in words.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    weight_percent, air_c : float
        As for `drying_scene`.

    Returns
    -------
    str
    """
    dry = dryness(recipe, weight_percent)
    warmth = {"warm, not hot": "warm, not hot: as it should be", "in doubt": "in doubt: sources name limits from 45 to 60 °C, so stay below",
              "too hot": "too hot: gypsum gives off its crystal water, weakens and chalks"}[warmth_words(air_c)]
    return (f"{recipe_words(recipe)}. Wet, just taken out, it counts as 100 % and carries {_mpa(recipe, 1.0)}. Dry it weighs {rounded(dry.dry_percent, 3)} % and carries "
            f"{_mpa(recipe, 0.0)}. Now it weighs {weight_percent:g} %. {_state_words(recipe, dry)}. Air at {air_c:g} °C is {warmth}.")


def _drying_numbers(recipe):
    dry = dryness(recipe, 100.0)
    rows = []
    for left in (1.0, 0.5, 0.2, 0.07, 0.0):
        rows.append((f"{100 * left:.0f} %", f"{rounded(dry.dry_percent + left * (100 - dry.dry_percent), 3)} %", _mpa(recipe, left)))
    return Table(("free water left", "weight", "strength"), tuple(rows), "Weight and strength while the free water leaves, or comes back")


def _weight_ticks(lost, step):
    return tuple((float(one), f"{100 - one:g}") for one in np.arange(0, lost + 1e-9, step))


def _weight_picture(recipe, weight_percent, air_c, dry):
    lost, most = 100.0 - dry.dry_percent, 100.0 - dry.least_percent
    x = 100.0 - weight_percent

    def box(begin, end, fill, hatch):
        return Polygon([begin, end, end, begin], [0.0, 0.0, 0.5, 0.5], fill=fill, edge="black", hatch=hatch, width=1.5)
    weight = (box(0.0, lost, "pale sky", "rising"), box(lost, most, "pale vermillion", "dots"), Text(0.0, 0.62, "hatched: free water leaves", anchor="start", height="bottom"),
              Text(0.0, -0.14, "dots: crystal water leaves", anchor="start", height="top"),
              Line([x, x], [-0.1, 0.6], colour="vermillion", width=4), Marker(x, 0.25, "diamond", size=16))
    top = Panel("weight", (0.0, 36.0), (-0.75, 1.2), title="The balance", x_label="weight, % of wet", x_ticks=_weight_ticks(36, 10), y_ticks=(), moving=weight)

    def zone(begin, end, fill, hatch):
        return Polygon([begin, end, end, begin], [0.0, 0.0, 0.5, 0.5], fill=fill, edge="black", hatch=hatch, width=1.5)
    zones = (zone(COOL_C, WARM_C, "pale green", ""), zone(WARM_C, HOT_C, "pale yellow", "dots"), zone(HOT_C, TOP_C, "pale vermillion", "crossed"))
    warm = (Line([air_c, air_c], [-0.1, 0.6], colour="vermillion", width=4), Marker(air_c, 0.25, "diamond", size=16),
            Text(COOL_C, 0.66, f"{air_c:g} °C: {warmth_words(air_c)}", anchor="start", height="bottom", bold=True, size=18))
    below = Panel("warmth", (COOL_C, TOP_C), (-0.75, 1.2), title="The air", x_label="temperature (°C)", y_ticks=(),
                  backdrop=(*zones, Text(COOL_C, -0.14, "plain: warm; dots: in doubt; crossed: too hot", anchor="start", height="top")), moving=warm)
    return Picture("weight", (top, below), height=PICTURE_HEIGHT, words=f"The balance: the cast has lost {rounded(x, 2) if x else '0'} % of its wet weight; free water is "
                   f"{rounded(lost, 2)} %. The air at {air_c:g} °C: {warmth_words(air_c)}.")


@remembered(16)
def _strength_curve(recipe):
    left = np.linspace(1.0, 0.0, 81)
    return left, strength_mpa(recipe, left)


def _strength_picture(recipe, weight_percent, dry):
    left, (value, low, high) = _strength_curve(recipe)
    lost = 100.0 - dry.dry_percent
    x = (1.0 - left) * lost
    top = next((top for top in TOPS_MPA if top >= float(high.max())), TOPS_MPA[-1])
    marks = [Band(x, low, high), Line(x, value), Rule(x=lost, colour="black", dash="dotted"), Text(lost, 0.04 * top, "dry", anchor="auto", right=6)]
    if dry.crystal_water_lost > 1e-9:
        marks.append(Text(0.0, 0.92 * top, "no prediction: crystal water leaves", anchor="start", bold=True, right=6))
    else:
        now = float(strength_mpa(recipe, dry.free_water_left)[0])
        marks += [Marker(100.0 - weight_percent, now), Text(100.0 - weight_percent, now, f"{rounded(now, 3)} MPa", anchor="auto", right=14, up=-18, bold=True, size=18)]
    panel = Panel("strength", (0.0, 1.25 * lost), (0.0, top), title="Strength", x_label="weight, % of wet", y_label="compressive strength (MPa)",
                  x_ticks=_weight_ticks(1.25 * lost, 5 if lost > 12 else 2 if lost > 5 else 1), moving=tuple(marks))
    return Picture("strength", (panel,), height=PICTURE_HEIGHT, words=f"Strength against the weight. {_state_words(recipe, dry)}.")
