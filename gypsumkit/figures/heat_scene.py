"""The heat of setting: how warm a cast of a given size becomes, when, and whether it may be touched."""

import numpy as np

from gypsumkit import clock, powders
from gypsumkit.remembering import remembered
from gypsumkit.studies.cubes import peak, recipe_of_cube
from gypsumkit.figures.mix_words import PIN_NAMES
from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Polygon, Rule, Scene, Span, Table, Text
from gypsumkit.mix import predict_timeline
from gypsumkit.powders import POWDERS
from gypsumkit.science import heat, pores
from gypsumkit.showing import range_words, rounded, with_range, with_unit

PICTURE_HEIGHT = 430
PIN_DASHES = ("dashed", "dotted", "dash-dot")
SKIN_C = 45.0                            # prolonged contact may harm the skin                        [nsead_safety]
LEAST_EDGE_MM, MOST_EDGE_MM = 15.0, 250.0
LARGE_EDGE_MM = 100.0                    # called large here                                          [gypsumkit]
LAST_MIN = 180.0
TEMPERATURE_RANGE_C = (15.0, 95.0)
POINTS, SIZES = 91, 25

LIMITS = ("Limits: one temperature stands for the whole cast; in a large cast the middle is hotter than the outside, so the true middle is hotter "
          "still. The cast is a cube in still air; a rubber mould or a bowl keeps it warmer, a thin layer cools it. The heat of the reaction is "
          "computed from enthalpies, from memory; the loss to the air is ours. Never judge by this picture whether a mass is safe to touch. For "
          "teaching only.")


def heat_scene(powder, ratio, edge_mm, pins=()):
    """Describe the temperature of a cube while it sets.

    Parameters
    ----------
    powder : str
        Name of a powder.
    ratio : float
        mL water per g powder.
    edge_mm : float
        Edge of the cube, mm, 15 to 250.
    pins : sequence of (powder, ratio, edge_mm)
        Up to three earlier ones.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    pins = tuple(pins)[:len(PIN_NAMES)]
    pictures = (_time_picture(powder, ratio, edge_mm, pins), _size_picture(powder, ratio, edge_mm, pins), _cube_picture(powder, ratio, edge_mm))
    return Scene(pictures, heat_words(powder, ratio, edge_mm, pins), _numbers(powder, ratio, edge_mm, pins))


# ---------------------------------------------------------------- what is computed, kept by recipe


@remembered(64)
def _curve(powder, ratio, edge_mm):
    moments = np.linspace(0.0, LAST_MIN, POINTS)
    return moments, predict_timeline(powder, ratio, moments, recipe_of_cube(powder, ratio, edge_mm), ranges=False)["temperature_c"].value


@remembered(32)
def _peaks(powder, ratio):
    """Peak temperature over the size of the cube."""
    edges = np.geomspace(LEAST_EDGE_MM, MOST_EDGE_MM, SIZES)
    grams = (edges / 10.0) ** 3 / pores.paste_volume_cm3_per_g(ratio, POWDERS[powder].density_g_cm3.value)
    return edges, clock.peak_temperature_c(POWDERS[powder], ratio, grams)


def minutes_above(powder, ratio, edge_mm, temperature_c=SKIN_C):
    """Return how long a cube is warmer than a temperature within the first three hours.

    Parameters
    ----------
    powder : str
        Name of a powder.
    ratio : float
        mL water per g powder.
    edge_mm : float
        Edge of the cube, mm.
    temperature_c : float
        °C.

    Returns
    -------
    float
        min, to a whole minute.
    """
    moments, warm = _curve(powder, ratio, edge_mm)
    fine = np.arange(0.0, LAST_MIN + 0.5, 1.0)
    return float(np.sum(np.interp(fine, moments, warm) > temperature_c))


# ---------------------------------------------------------------- words and numbers


def heat_words(powder, ratio, edge_mm, pins=()):
    """Say how warm a cube becomes, in words, with the warning where it applies.

    Parameters
    ----------
    powder : str
        Name of a powder.
    ratio : float
        mL water per g powder.
    edge_mm : float
        Edge of the cube, mm.
    pins : sequence of (powder, ratio, edge_mm)
        Earlier ones.

    Returns
    -------
    str
    """
    recipe = recipe_of_cube(powder, ratio, edge_mm)
    hottest, when = peak(powder, ratio, edge_mm)
    said = [f"{powder[0].upper()}{powder[1:]} with {100 * ratio:.3g} mL of water per 100 g (ratio {ratio:.3g}), a cube of {edge_mm:g} mm "
            f"from {with_unit(recipe.powder_g, 'g', 2)} of powder: at the hottest {with_range(hottest)}"
            + (f"; it {when.reason}." if when.value is None else f", after {with_range(when)}.")]
    warm = minutes_above(powder, ratio, edge_mm)
    if warm:
        said.append(f"It is above {SKIN_C:g} °C for {warm:.0f} min{' or more' if warm > LAST_MIN - 5 else ''} of the first three hours: "
                    "hot enough to harm the skin if contact lasts.")
    elif hottest.high > SKIN_C:
        said.append(f"The value stays below {SKIN_C:g} °C, but its plausible range does not: treat it as hot.")
    if edge_mm >= LARGE_EDGE_MM:
        said.append("A large mass: it keeps its heat. Never enclose a finger, a hand or any part of the body in it.")
    biot = _biot(recipe, ratio)
    if biot > heat.LUMPED_BELOW_BIOT:
        said.append(f"At this size (Biot number about {rounded(biot, 1)}) the middle is hotter than the outside; one temperature no longer describes it.")
    said += [f"Pinned {name}: {pin_words(pin)}." for name, pin in zip(PIN_NAMES, pins)]
    return " ".join(said)


def _biot(recipe, ratio):
    volume = recipe.powder_g * (1.0 / POWDERS[recipe.powder].density_g_cm3.value + ratio)
    return float(heat.biot_number(volume, powders.FILM.value))


def pin_words(pin):
    """Say a pinned cube.

    Parameters
    ----------
    pin : (powder, ratio, edge_mm)
        The cube.

    Returns
    -------
    str
    """
    powder, ratio, edge_mm = pin
    return f"{edge_mm:g} mm, {100 * ratio:.3g} mL per 100 g of {powder}: {with_unit(peak(*pin)[0].value, '°C')}"


def _numbers(powder, ratio, edge_mm, pins):
    asked = (powder, ratio, edge_mm)
    rows = []
    for place, words in enumerate(("hottest", "hottest after")):
        p = peak(*asked)[place]
        span = "" if p.value is None else range_words(p.low, p.high) + ("" if p.valid else " extrapolated")
        rows.append((words, with_unit(p.value, p.unit), span, *(with_unit(peak(*pin)[place].value, p.unit) for pin in pins)))
    rows.append((f"time above {SKIN_C:g} °C, first 3 h", f"{minutes_above(*asked):.0f} min", "", *(f"{minutes_above(*pin):.0f} min" for pin in pins)))
    rows.append(("powder in it", with_unit(recipe_of_cube(*asked).powder_g, "g", 2), "",
                 *(with_unit(recipe_of_cube(*pin).powder_g, "g", 2) for pin in pins)))
    return Table(("", "now", "plausible range", *(f"pinned {name}" for name in PIN_NAMES[:len(pins)])), tuple(rows), "The heat of this cast")


# ---------------------------------------------------------------- pictures


@remembered(2)
def _skin_rule():
    return (Rule(y=SKIN_C, colour="black"), Text(LAST_MIN, TEMPERATURE_RANGE_C[1], f"dashed, {SKIN_C:g} °C: can harm the skin",
                                                 anchor="end", height="top", right=-4, up=-4))


def _time_picture(powder, ratio, edge_mm, pins):
    hottest, when = peak(powder, ratio, edge_mm)
    marks = []
    for place, (letter, dash, pin) in enumerate(zip(PIN_NAMES, PIN_DASHES, pins)):
        marks.append(Line(*_curve(*pin), colour="purple", width=2, dash=dash, label=letter, label_at=0.55 + 0.15 * place))
    marks.append(Line(*_curve(powder, ratio, edge_mm), colour="vermillion"))
    if when.value is not None:
        marks += [Line([when.value, when.value], [hottest.low, hottest.high], colour="vermillion", width=4), Marker(when.value, hottest.value),
                  Text(when.value, hottest.value, f"{with_unit(hottest.value, '°C')} at {with_unit(when.value, 'min', 2)}", anchor="auto", right=14,
                       up=16, bold=True, size=17)]
    panel = Panel("time", (0.0, LAST_MIN), TEMPERATURE_RANGE_C, title="Temperature in time", x_label="time from the start of mixing (min)",
                  y_label="temperature of the cast (°C)", x_ticks=(0, 30, 60, 90, 120, 150, 180), backdrop=_skin_rule(), moving=tuple(marks))
    return Picture("time", (panel,), height=PICTURE_HEIGHT, words=f"Temperature in time: at the hottest {with_range(hottest)}" + ("." if when.value is None else f" after {with_range(when)}."))


def _size_picture(powder, ratio, edge_mm, pins):
    hottest = peak(powder, ratio, edge_mm)[0]
    edges, peaks = _peaks(powder, ratio)
    marks = [Line(edges, peaks, colour="blue"), Rule(x=edge_mm, colour="dark grey", width=1.5),
             Line([edge_mm, edge_mm], [hottest.low, hottest.high], colour="vermillion", width=4), Marker(edge_mm, hottest.value),
             Text(edge_mm, hottest.value, with_unit(hottest.value, "°C"), anchor="auto", right=14, up=-18, bold=True, size=17)]
    for letter, pin in zip(PIN_NAMES, pins):
        marks += [Marker(pin[2], peak(*pin)[0].value, "diamond", "purple", hollow=True), Text(pin[2], peak(*pin)[0].value, letter, up=19, bold=True)]
    backdrop = (Span(LARGE_EDGE_MM, MOST_EDGE_MM, colour="pale vermillion", edge="vermillion", hatch="falling", label="a large mass",
                     label_height="bottom"), Rule(y=SKIN_C, colour="black", label=f"{SKIN_C:g} °C"))
    panel = Panel("size", (0.0, MOST_EDGE_MM), TEMPERATURE_RANGE_C, title="Hottest, by size", x_label="edge of the cube (mm)",
                  y_label="at the hottest (°C)", backdrop=backdrop, moving=tuple(marks))
    return Picture("size", (panel,), height=PICTURE_HEIGHT, words=f"Peak temperature by size. A cube of {edge_mm:g} mm reaches {with_range(hottest)}.")


@remembered(2)
def _finger():
    """A finger-wide mark beside the cube, to see the size."""
    return (Polygon([-30, -12, -12, -30], [0, 0, 70, 70], fill="pale grey", edge="dark grey"),
            Text(-34, -8, "a finger of 18 x 70 mm beside it: never in it", anchor="start", height="top", size=14.5))


def _cube_picture(powder, ratio, edge_mm):
    hottest = peak(powder, ratio, edge_mm)[0]
    fill = "pale vermillion" if hottest.value > SKIN_C else "pale orange"
    words = "hot: do not touch" if hottest.high > SKIN_C else "warm"
    marks = [Polygon([0, edge_mm, edge_mm, 0], [0, 0, edge_mm, edge_mm], fill=fill, edge="vermillion", hatch="rising" if hottest.value > SKIN_C else "", width=3),
             Text(max(edge_mm, 120) / 2, 0, f"{edge_mm:g} mm, {with_unit(hottest.value, '°C')}", height="top", up=-38, bold=True, size=18),
             Text(max(edge_mm, 120) / 2, 0, words, height="top", up=-60, bold=True, size=18)]
    panel = Panel("cube", (-50.0, 265.0), (-75.0, 262.0), title="Its size", show_axes=False, equal_aspect=True, backdrop=_finger(), moving=tuple(marks))
    return Picture("cube", (panel,), height=PICTURE_HEIGHT, words=f"The cube in its size beside a finger: {edge_mm:g} mm. {words[0].upper()}{words[1:]}.")
