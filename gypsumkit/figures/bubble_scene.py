"""One bubble in a portion of mix: held or rising, how fast, how long, and the smallest one that a still mix lets go."""

import numpy as np

from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Polygon, Rule, Scene, Span, Table, Text
from gypsumkit.mix import consistency, pourable_ratios
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.remembering import remembered
from gypsumkit.science import bubbles
from gypsumkit.showing import bracketed, rounded
from gypsumkit.studies.voids import paste

PICTURE_HEIGHT = 470
DIAMETERS_MM = (0.1, 5.0)
DEPTHS_MM = (2.0, 60.0)
REAL_BUBBLES_MM = (0.05, 5.0)
TIME_RANGE = (-1.0, 5.0)               # powers of ten, s
TIME_PANEL_POWERS = (-1.05, 0.75)      # powers of ten, mm
SIZE_RANGE = (-1.4, 3.0)               # powers of ten, mm
RATIO_RANGE = (0.10, 0.85)
VIBRATES_S = 30.0                      # how long a portion is usually vibrated        [trade]
TIME_TICKS = ((-1, "0.1 s"), (0, "1 s"), (1, "10 s"), (1.778, "1 min"), (2.778, "10 min"), (3.556, "1 h"), (4.937, "1 day"))
DIAMETER_TICKS = ((-1, "0.1"), (-0.523, "0.3"), (0, "1"), (0.477, "3"))
SIZE_TICKS = ((-1, "0.1"), (0, "1"), (1, "10"), (2, "100"), (3, "1000"))
PINS = ("A", "B", "C")

LIMITS = ("Limits: a simplification. On the running vibrator a bubble feels no yield stress at all, and its speed is that of Stokes divided by "
          "10 (3 to 30): both are our choice, fitted to what laboratories see. The thinning that fits the ring test would hold every bubble. "
          "A weak vibrator, a bubble caught on an impression, and a mix that has begun to set are not in the picture. For teaching only.")


class Bubble:
    """One bubble in one mix, with everything the picture says of it.

    Parameters
    ----------
    powder : str
        Name of a powder.
    ratio : float
        mL per g.
    vibrated : bool
        The vibrator runs.
    diameter_mm, depth_mm : float
        Of the bubble, and how far below the surface it starts.
    """

    def __init__(self, powder, ratio, vibrated, diameter_mm, depth_mm):
        self.powder, self.ratio, self.vibrated = find_powder(powder).name, float(ratio), bool(vibrated)
        self.diameter_mm, self.depth_mm = float(diameter_mm), float(depth_mm)
        self.paste = paste(self.powder, self.ratio)
        number = bubbles.CRITICAL_NUMBER
        self.smallest_mm = tuple(float(bubbles.smallest_rising_mm(*self.paste[:2], one)) for one in (number.value, number.high, number.low))
        self.speed_mm_s = self._speed(bubbles.SLOWER_THAN_STOKES.value)
        self.seconds = float(bubbles.seconds_to_surface(self.depth_mm, self.speed_mm_s))
        factor = bubbles.SLOWER_THAN_STOKES
        self.seconds_range = self.seconds * factor.low / factor.value, self.seconds * factor.high / factor.value

    def _speed(self, slower, diameters=None):
        return bubbles.rise_speed_mm_s(self.diameter_mm if diameters is None else diameters, *self.paste, vibrated=self.vibrated, slower=slower)[()]

    @property
    def rises(self):
        """Whether it moves at all."""
        return self.speed_mm_s > 0

    def seconds_of(self, diameters):
        """Return the time to the surface of other bubbles in the same place."""
        return bubbles.seconds_to_surface(self.depth_mm, self._speed(bubbles.SLOWER_THAN_STOKES.value, diameters))


def bubble_scene(bubble, pins=()):
    """Describe one bubble.

    Parameters
    ----------
    bubble : Bubble
        The bubble now.
    pins : sequence of Bubble
        Earlier ones kept for comparison.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    return Scene((_portion_picture(bubble), _time_picture(bubble, pins), _smallest_picture(bubble)), bubble_words(bubble), _numbers(bubble, pins))


def duration(seconds):
    """Write a time as a person says it.

    Parameters
    ----------
    seconds : float
        0 or more; infinite is "never".

    Returns
    -------
    str
    """
    if not np.isfinite(seconds):
        return "never"
    if seconds < 100:
        return f"{rounded(seconds, 2)} s"
    if seconds < 6000:
        return f"{rounded(seconds / 60, 2)} min"
    return f"{rounded(seconds / 3600, 2)} h" if seconds < 100 * 3600 else "days"


def bubble_words(bubble):
    """Say in words what becomes of the bubble.

    Parameters
    ----------
    bubble : Bubble
        The bubble.

    Returns
    -------
    str
    """
    stress = float(bubble.paste.yield_stress_pa)
    name = consistency(stress)
    mix = (f"{bubble.powder[0].upper()}{bubble.powder[1:]} with {rounded(100 * bubble.ratio, 3)} mL of water per 100 g ({name}), "
           f"vibrator {'running' if bubble.vibrated else 'off'}.")
    low, high = (rounded(x) for x in bubble.smallest_mm[1:])
    held = (f"A still mix with this yield stress, {rounded(stress, 3)} Pa, holds every bubble smaller than {rounded(bubble.smallest_mm[0])} mm "
            f"({low} to {high}).")
    size = f"A bubble of {rounded(bubble.diameter_mm, 2)} mm, {rounded(bubble.depth_mm, 2)} mm below the surface,"
    if not bubble.rises:
        return f"{mix} {size} is held: it does not rise. {held}"
    fastest, slowest = (duration(one) for one in bubble.seconds_range)
    return (f"{mix} {size} rises at {rounded(bubble.speed_mm_s, 2)} mm/s and reaches the surface after {duration(bubble.seconds)} "
            f"({fastest} to {slowest}). {held}")


def _numbers(bubble, pins):
    def column(one):
        return (f"{one.powder}, {rounded(100 * one.ratio, 3)} mL per 100 g", "running" if one.vibrated else "off", f"{rounded(one.diameter_mm, 2)} mm",
                f"{rounded(one.depth_mm, 2)} mm", f"{rounded(float(one.paste.yield_stress_pa), 3)} Pa", f"{rounded(float(one.paste.viscosity_pa_s), 2)} Pa·s",
                f"{rounded(one.smallest_mm[0])} mm{bracketed(one.smallest_mm[1], one.smallest_mm[2])}",
                "rises" if one.rises else "held", f"{rounded(one.speed_mm_s, 2)} mm/s",
                duration(one.seconds) + (f" ({duration(one.seconds_range[0])} to {duration(one.seconds_range[1])})" if one.rises else ""))
    names = ("mix", "vibrator", "bubble", "depth", "yield stress, vibrator off", "viscosity, vibrator off", "smallest that rises, vibrator off", "this bubble", "speed",
             "time to the surface")
    columns = (names, column(bubble), *(column(pin) for pin in pins))
    return Table(("", "now", *(f"pinned {letter}" for letter in PINS[:len(pins)])), tuple(zip(*columns)), "Numbers of this bubble")


# ---------------------------------------------------------------- the portion


@remembered(1)
def _vessel():
    return (Polygon([-32, 32, 32, -32], [0, 0, -DEPTHS_MM[1] - 4, -DEPTHS_MM[1] - 4], fill="pale grey", edge="black", hatch="", width=2),
            Text(0, 4, "surface", height="bottom"))


def _portion_picture(bubble):
    turn = np.linspace(0, 2 * np.pi, 24, endpoint=False)
    drawn = max(bubble.diameter_mm, 1.6)
    y = -bubble.depth_mm
    marks = [Polygon(drawn / 2 * np.cos(turn), y + drawn / 2 * np.sin(turn), fill="white", edge="blue", width=3),
             Text(0, y, f"{rounded(bubble.diameter_mm, 2)} mm", anchor="start", right=18, up=9 if drawn > bubble.diameter_mm else 0)]
    if drawn > bubble.diameter_mm:
        marks.append(Text(0, y, "drawn larger", anchor="start", right=18, up=-9))
    if bubble.rises:
        length = min(max(bubble.depth_mm - 2.5, 1.0), VIBRATES_S * bubble.speed_mm_s)
        top = min(y + drawn / 2 + length, 0.0)
        marks += [Line([0, 0], [y + drawn / 2, top], colour="vermillion", width=4),
                  Marker(0, top, shape="triangle", colour="vermillion", size=15),
                  Text(0, -DEPTHS_MM[1] - 11, f"the arrow: what it rises in {VIBRATES_S:g} s" if top < -1.5 else f"at the surface in {duration(bubble.seconds)}", bold=True)]
    else:
        marks.append(Text(0, -DEPTHS_MM[1] - 11, "held: it stays where it is", bold=True))
    marks.append(Text(0, 13, "vibrator running" if bubble.vibrated else "vibrator off", bold=True, size=17))
    panel = Panel("portion", (-36, 36), (-DEPTHS_MM[1] - 16, 19), title="The bubble", show_axes=False, equal_aspect=True,
                  backdrop=_vessel(), moving=tuple(marks))
    return Picture("portion", (panel,), height=PICTURE_HEIGHT, words=f"A bubble of {rounded(bubble.diameter_mm, 2)} mm lies "
                   f"{rounded(bubble.depth_mm, 2)} mm below the surface; " + (f"it rises {rounded(bubble.speed_mm_s, 2)} mm each second." if bubble.rises
                                                                            else "it is held."))


# ---------------------------------------------------------------- how long it takes


@remembered(1)
def _usual_time():
    return (Rule(y=float(np.log10(VIBRATES_S)), colour="black"),)


def _time_picture(bubble, pins):
    diameters = np.geomspace(*DIAMETERS_MM, 50)
    x = np.log10(diameters)
    factor = bubbles.SLOWER_THAN_STOKES
    marks = []
    with np.errstate(divide="ignore", invalid="ignore"):
        y = np.log10(bubble.seconds_of(diameters))
    y = np.where(np.isfinite(y), y, np.nan)
    if np.any(np.isfinite(y)):
        marks += [Band(x, y + np.log10(factor.low / factor.value), y + np.log10(factor.high / factor.value)), Line(x, y)]
        if bubble.rises:
            now = float(np.log10(bubble.seconds))
            low, high = np.log10(bubble.seconds_range)
            at = float(np.log10(bubble.diameter_mm))
            shortest, longest = TIME_RANGE
            if now > longest:
                marks.append(Text(at, longest, "this bubble: more than a day", anchor="auto", height="top", right=8, up=-22, bold=True, size=17))
            elif now < shortest:
                marks.append(Text(at, shortest, f"this bubble: less than {10**shortest:g} s", anchor="auto", height="bottom", right=8, up=8, bold=True, size=17))
            else:
                marks += [Line([at, at], [max(low, shortest), min(high, longest)], colour="vermillion", width=4), Marker(at, now),
                          Text(at, now, duration(bubble.seconds), anchor="auto", right=16, up=14, bold=True, size=18)]
    marks.append(Text(TIME_PANEL_POWERS[1], float(np.log10(VIBRATES_S)), f"{VIBRATES_S:g} s of vibrating", anchor="end", right=-6, up=11))
    if not bubble.rises:
        marks.append(Text(-0.15, 3.0, "held: no time is long enough", bold=True, size=17))
    for letter, pin in zip(PINS, pins):
        if pin.rises:
            at, when = float(np.log10(pin.diameter_mm)), float(np.log10(pin.seconds))
            marks += [Marker(at, when, shape="diamond", colour="purple", hollow=True), Text(at, when, letter, up=18, bold=True)]
    panel = Panel("time", TIME_PANEL_POWERS, TIME_RANGE, title="Time to the surface", x_label="diameter of the bubble (mm)", y_label="time",
                  x_ticks=DIAMETER_TICKS, y_ticks=TIME_TICKS, backdrop=_usual_time(), moving=tuple(marks))
    said = f"after {duration(bubble.seconds)}" if bubble.rises else "never"
    return Picture("time", (panel,), height=PICTURE_HEIGHT, words=f"Time to the surface against diameter, both scales in powers of ten. This bubble arrives {said}.")


# ---------------------------------------------------------------- the smallest one that a still mix lets go


@remembered(8)
def _smallest_backdrop(powder):
    kind = POWDERS[powder]
    number = bubbles.CRITICAL_NUMBER
    ratios = np.linspace(kind.least_ratio, kind.most_ratio - 1e-6, 90)
    mixes = paste(powder, ratios)
    value, low, high = (np.log10(np.maximum(bubbles.smallest_rising_mm(*mixes[:2], one), 1e-3)) for one in (number.value, number.high, number.low))
    stiff, runny = pourable_ratios(powder)
    real = np.log10(REAL_BUBBLES_MM)
    return (Polygon([RATIO_RANGE[0], RATIO_RANGE[1], RATIO_RANGE[1], RATIO_RANGE[0]], [SIZE_RANGE[0], SIZE_RANGE[0], real[1], real[1]],
                    fill="pale yellow", edge="dark grey", width=1, dash="dotted"),
            Span(stiff, runny, hatch="rising", label="pours", label_height="bottom"),
            Text(RATIO_RANGE[0], real[1], "real bubbles", anchor="start", height="top", right=8, up=-6),
            Band(ratios, low, high), Line(ratios, value),
            Text(RATIO_RANGE[0], 1.85, "blue: smallest", anchor="start", right=8), Text(RATIO_RANGE[0], 1.55, "bubble that rises,", anchor="start", right=8),
            Text(RATIO_RANGE[0], 1.25, "vibrator off", anchor="start", right=8))


def _smallest_picture(bubble):
    value, low, high = (float(np.log10(max(one, 1e-3))) for one in bubble.smallest_mm)
    at, top = bubble.ratio, SIZE_RANGE[1]
    if value > top:
        smallest = (Text(at, top, f"more than {10**top:g} mm", anchor="auto", height="top", right=8, up=-8, bold=True, size=17),)
    else:
        smallest = (Line([at, at], [low, min(high, top)], colour="vermillion", width=4), Marker(at, value),
                    Text(at, value, f"{rounded(bubble.smallest_mm[0])} mm", anchor="auto", right=16, up=14, bold=True, size=18))
    marks = (Rule(x=at, colour="dark grey", width=1.5), *smallest,
             Marker(at, float(np.log10(bubble.diameter_mm)), shape="square", colour="blue", hollow=True, size=13),
             Text(at, float(np.log10(bubble.diameter_mm)), "this bubble", anchor="auto", right=14))
    panel = Panel("smallest", RATIO_RANGE, SIZE_RANGE, title="What a still mix holds", x_label="water/powder ratio (mL per g)",
                  y_label="diameter (mm)", x_ticks=(0.2, 0.4, 0.6, 0.8), y_ticks=SIZE_TICKS, backdrop=_smallest_backdrop(bubble.powder), moving=marks)
    return Picture("smallest", (panel,), height=PICTURE_HEIGHT, words="The smallest bubble that rises in the still mix, against the water. Here "
                   f"{rounded(bubble.smallest_mm[0])} mm; this bubble has {rounded(bubble.diameter_mm, 2)} mm. Real bubbles are up to about 5 mm.")
