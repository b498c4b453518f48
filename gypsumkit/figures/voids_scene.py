"""A poured portion with its bubbles, before and after vibrating: what is left, and what it costs in strength and surface."""

import numpy as np

from gypsumkit.figures.circles import circles
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.powders import POWDERS
from gypsumkit.remembering import remembered
from gypsumkit.science import bubbles
from gypsumkit.showing import bracketed, range_words, rounded
from gypsumkit.studies.voids import HABITS, MARGIN_MM2, find_habit, paste, voids

PICTURE_HEIGHT = 470
DEPTHS_MM = (3.0, 30.0)
LONGEST_S = 120.0
SHOWN_WIDTH_MM = 24.0
TIMES_S = np.linspace(0.0, LONGEST_S, 49)
PINS = ("A", "B", "C")

LIMITS = ("Limits: how much air each way of mixing leaves, and how large its bubbles are, is our calibration with wide ranges; only about 0.5 % "
          "in a set building gypsum was measured. Which way of mixing is best after vibrating depends on the bubble sizes that we "
          "chose. Do not judge a machine by it. Half of the air in lumps is taken to stay: our choice. Sources disagree whether mixing under "
          "vacuum makes stone stronger. On the vibrator bubbles feel no yield stress and rise at a tenth of the speed of Stokes (3 to 30 times "
          "slower): our choice. The surface counts as a cut through the mass; real bubbles also cling to an impression. The vibrator is taken "
          "to bring in no new air. For teaching only.")


def voids_scene(powder, ratio, habit, depth_mm, vibrated_s, pins=()):
    """Describe a portion mixed in one way and vibrated for a time.

    Parameters
    ----------
    powder : str
        Name of a powder.
    ratio : float
        mL per g.
    habit : str
        A key of `HABITS`.
    depth_mm, vibrated_s : float
        Depth of the portion, mm, and how long it is vibrated, s.
    pins : sequence of tuple
        The same five settings of earlier portions.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    settings = (powder, float(ratio), find_habit(habit), float(depth_mm), float(vibrated_s))
    return Scene((_portion_picture(settings), _air_picture(settings, pins), _harm_picture(settings, pins)), voids_words(*settings),
                 _numbers(settings, pins))


@remembered(256)
def _ranges(powder, ratio, habit, depth_mm, vibrated_s):
    """Low and high of everything in `Voids`, from air, bubble size, what sits fast and the speed factor, one at a time."""
    way, factor = HABITS[habit], bubbles.SLOWER_THAN_STOKES
    value = np.array(voids(powder, ratio, habit, depth_mm, vibrated_s), dtype=float)
    change = []
    for name, number in (("air", way.air), ("median_mm", way.median_mm), ("held", way.held), ("slower", factor)):
        change.append([np.array(voids(powder, ratio, habit, depth_mm, vibrated_s, **{name: one}), dtype=float) - value for one in (number.low, number.high)])
    change = np.array(change)
    up = np.sqrt(np.sum(np.maximum(change.max(axis=1), 0.0) ** 2, axis=0))
    down = np.sqrt(np.sum(np.minimum(change.min(axis=1), 0.0) ** 2, axis=0))
    most = np.array([1.0, 1.0, 1.0, np.inf, 1.0])
    return value, np.maximum(value - down, 0.0), np.minimum(value + up, most)


def voids_words(powder, ratio, habit, depth_mm, vibrated_s):
    """Say in words what is left in the portion.

    Parameters
    ----------
    powder, ratio, habit, depth_mm, vibrated_s
        As for `voids_scene`.

    Returns
    -------
    str
    """
    value, low, high = _ranges(powder, ratio, habit, depth_mm, vibrated_s)

    def percent(place, digits=2):
        return f"{rounded(100 * value[place], digits)} %{bracketed(100 * low[place], 100 * high[place])}"
    return (f"{powder[0].upper()}{powder[1:]}, {rounded(100 * ratio, 3)} mL per 100 g, {habit}: {percent(0)} air. Poured {rounded(depth_mm, 2)} mm deep and "
            f"vibrated for {rounded(vibrated_s, 3)} s, {percent(1)} air is left. The wet strength is {percent(2, 3)} of that without any air. Chance of a "
            f"bubble of {bubbles.SHOWS_FROM_MM:g} mm or more on {MARGIN_MM2:g} mm² of surface: {percent(4)}.")


def _numbers(settings, pins):
    value, low, high = _ranges(*settings)

    def cells(words, place, scale, unit, digits=2):
        return (words, f"{rounded(scale * value[place], digits)}{unit}", range_words(scale * low[place], scale * high[place]),
                *(f"{rounded(scale * _ranges(*pin)[0][place], digits)}{unit}" for pin in pins))
    rows = (cells("air after mixing", 0, 100, " %"), cells("air that is left", 1, 100, " %"), cells("strength, of that without air", 2, 100, " %", 3),
            cells("bubbles of 0.2 mm or more on 1 cm² of surface", 3, 100, ""), cells(f"chance of one on {MARGIN_MM2:g} mm²", 4, 100, " %"))
    return Table(("", "now", "plausible range", *(f"pinned {letter}" for letter in PINS[:len(pins)])), rows, "Numbers of this portion")


# ---------------------------------------------------------------- the bubbles in the portion


@remembered(64)
def _drawn_bubbles(habit, depth_mm):
    """Places and diameters of the bubbles that a cut through the portion meets, and which sit fast; the same at every moment, seeded."""
    way = HABITS[habit]
    sizes, shares = bubbles.sizes_mm(way.median_mm.value)
    expected = bubbles.cut_by_a_surface_per_mm2(way.air.value * shares, sizes) * SHOWN_WIDTH_MM * depth_mm
    shown = sizes >= 0.15
    chance = np.random.default_rng(4)
    many = int(round(expected[shown].sum()))
    diameters = chance.choice(sizes[shown], size=many, p=expected[shown] / expected[shown].sum())
    return chance.uniform(0, SHOWN_WIDTH_MM, many), chance.uniform(0, depth_mm, many), diameters, chance.uniform(size=many) < way.held.value


def _portion_picture(settings):
    powder, ratio, habit, depth, seconds = settings
    x, deep, diameters, fast = _drawn_bubbles(habit, depth)
    speed = np.where(fast, 0.0, bubbles.rise_speed_mm_s(diameters, *paste(powder, ratio), vibrated=True))
    now = deep - speed * seconds
    stays = now > 0
    top = DEPTHS_MM[1]
    marks = [Polygon([0, SHOWN_WIDTH_MM, SHOWN_WIDTH_MM, 0], [0, 0, depth, depth], fill="pale grey", edge="black", width=2)]
    marks += circles(x[stays], (depth - now)[stays], diameters[stays] / 2, "white", edge="blue", corners=8)
    marks.append(Text(SHOWN_WIDTH_MM / 2, top + 1.0, f"{int(stays.sum())} of {len(x)} bubbles still in the mix", height="bottom", bold=True))
    panel = Panel("portion", (-1, SHOWN_WIDTH_MM + 1), (-1, top + 4), title="The portion, cut through", show_axes=False, equal_aspect=True, moving=tuple(marks))
    return Picture("portion", (panel,), height=PICTURE_HEIGHT, words=f"A cut {SHOWN_WIDTH_MM:g} mm wide through the portion. {int(stays.sum())} of {len(x)} "
                   "bubbles of 0.15 mm or more are still in the mix; the small ones stay longest.")


# ---------------------------------------------------------------- air left in time


@remembered(128)
def _air_curve(powder, ratio, habit, depth):
    factor = bubbles.SLOWER_THAN_STOKES
    return tuple(100 * voids(powder, ratio, habit, depth, TIMES_S, slower=one).air_left for one in (factor.value, factor.low, factor.high))


def _air_picture(settings, pins):
    *mixed, seconds = settings
    value, quick, slow = _air_curve(*mixed)
    left = 100 * float(_ranges(*settings)[0][1])
    marks = [Band(TIMES_S, quick, slow), Line(TIMES_S, value), Rule(x=seconds, colour="dark grey", width=1.5), Marker(seconds, left),
             Text(seconds, left, f"{rounded(left, 2)} %", anchor="auto", right=16, up=16, bold=True, size=18)]
    for letter, pin in zip(PINS, pins):
        curve, at = _air_curve(*pin[:4])[0], 100 * float(_ranges(*pin)[0][1])
        marks += [Line(TIMES_S, curve, colour="purple", dash="dash-dot", width=2), Marker(pin[4], at, shape="diamond", colour="purple", hollow=True),
                  Text(pin[4], at, letter, up=17, bold=True)]
    panel = Panel("air", (0.0, LONGEST_S), (0.0, 5.0), title="Air that is left", x_label="time on the vibrator (s)", y_label="air (% of the volume)",
                  x_ticks=(0, 30, 60, 90, 120), moving=tuple(marks))
    return Picture("air", (panel,), height=PICTURE_HEIGHT, words=f"Air against time on the vibrator: {rounded(value[0], 2)} % at first, {rounded(left, 2)} % after "
                   f"{rounded(seconds, 3)} s, {rounded(value[-1], 2)} % after {LONGEST_S:g} s.")


# ---------------------------------------------------------------- what it costs


def _bar(bottom, value, low, high, words):
    value, low, high = 100 * value, 100 * low, 100 * high
    lines = [Text(0, bottom + 23 + 7 * place, line, anchor="start", bold=True, size=16) for place, line in enumerate(reversed(words))]
    return [Polygon([0, value, value, 0], [bottom, bottom, bottom + 16, bottom + 16], fill="pale blue", edge="blue", hatch="rising"),
            Line([low, high], [bottom + 8, bottom + 8], colour="vermillion", width=4), *lines]


def _harm_picture(settings, pins):
    value, low, high = _ranges(*settings)
    marks = _bar(60, value[2], low[2], high[2], (f"strength kept: {rounded(100 * value[2], 3)} %",))
    marks += _bar(8, value[4], low[4], high[4], ("chance of a hole", f"on {MARGIN_MM2:g} mm² of margin: {rounded(100 * value[4], 2)} %"))
    for letter, pin in zip(PINS, pins):
        before = _ranges(*pin)[0]
        for bottom, place in ((60, 2), (8, 4)):
            marks += [Marker(100 * before[place], bottom, shape="diamond", colour="purple", hollow=True, size=12),
                      Text(100 * before[place], bottom, letter, up=-15, size=14)]
    panel = Panel("harm", (0.0, 100.0), (0.0, 104.0), title="What it costs", x_label="%", y_ticks=(), moving=tuple(marks))
    return Picture("harm", (panel,), height=PICTURE_HEIGHT, words=f"Strength kept {rounded(100 * value[2], 3)} %. Chance of a bubble on {MARGIN_MM2:g} mm² of "
                   f"surface {rounded(100 * value[4], 2)} %.")


def usual_ratio(powder):
    """Return the recommended ratio of a powder, at which this picture mixes it.

    Parameters
    ----------
    powder : str
        Name of a powder.

    Returns
    -------
    float
        mL per g.
    """
    return POWDERS[powder].recommended_ratio.value
