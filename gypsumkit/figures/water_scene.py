"""The main picture of the course: what the water does to flow, porosity and strength of one powder."""

import numpy as np

from gypsumkit.figures.mix_words import PIN_NAMES, consistency_words, mix_table, recipe_words, said_with_range
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Polygon, RightAxis, Rule, Scene, Span, Text
from gypsumkit.mix import Mix, pourable_ratios, predict
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered
from gypsumkit.science import ring
from gypsumkit.science.hydration import THEORETICAL_WATER_G_PER_G
from gypsumkit.showing import rounded, with_range, with_unit

PICTURE_HEIGHT = 470
RATIO_RANGE = (0.10, 0.85)
RATIO_TICKS = (0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8)
SPREAD_RANGE_MM = (0.0, 160.0)
AT_THE_EDGE = 0.95              # of the height of a picture: where a value stands that lies above it
SECTION_HALF_WIDTH_MM = 85.0
STRENGTH_TOPS_MPA = (20.0, 40.0, 60.0, 80.0)

LIMITS = ("Limits: the numbers of flow are our calibration to practice, since no measurement of dental plaster was found. A real powder "
          "differs: follow its maker. Strength follows one line through nine handbook values, from memory, which it meets within 18 %. "
          "Ranges are plausible ranges, not tolerances. For teaching only.")

TABLE_ROWS = (
    ("ring spread, still", "spread_mm"),
    ("ring spread, on the vibrator", "vibrated_spread_mm"),
    ("porosity, dried", "porosity"),
    ("free water, of the wet mass", "free_water_percent"),
    ("strength, wet, 1 h", "wet_strength_mpa"),
    ("strength, dry", "dry_strength_mpa"),
    ("strength compared with that at the recommended ratio", "relative_strength"),
)


def water_scene(mix, vibrated=False, pins=()):
    """Describe what one mix does, side by side: flow, porosity, strength.

    Parameters
    ----------
    mix : gypsumkit.mix.Mix
        The mix now.
    vibrated : bool
        Draw the ring test on the vibrator.
    pins : sequence of Mix
        Up to three earlier mixes kept for comparison.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    pins = tuple(pins)[:len(PIN_NAMES)]
    pictures = (_flow_picture(mix, vibrated, pins), _porosity_picture(mix, pins), _strength_picture(mix, pins))
    return Scene(pictures, water_words(mix, pins), mix_table(TABLE_ROWS, mix, pins))


def water_words(mix, pins=()):
    """Say the picture in words, with its main numbers.

    Parameters
    ----------
    mix : Mix
        The mix now.
    pins : sequence of Mix
        Earlier mixes kept for comparison.

    Returns
    -------
    str
    """
    said = [f"{recipe_words(mix.recipe)}: {consistency_words(mix)}. "
            f"Released from the ring it spreads to {with_range(mix.spread_mm)}; on the vibrator to "
            f"{with_range(mix.vibrated_spread_mm)}. Porosity when dried: {said_with_range(mix.porosity)}. "
            f"Wet strength at 1 h: {with_range(mix.wet_strength_mpa)}, {said_with_range(mix.relative_strength)} of that at the "
            f"recommended ratio."]
    doubtful = sorted({part.removeprefix("extrapolated: ") for p in mix.predictions.values() if not p.valid for part in p.reason.split("; ")})
    if doubtful:
        said.append("Outside its range: " + "; ".join(doubtful) + ".")
    for name, pin in zip(PIN_NAMES, pins):
        said.append(f"Pinned {name}: {recipe_words(pin.recipe)}, spread {with_unit(pin.spread_mm.value, 'mm')}, porosity "
                    f"{rounded(100 * pin.porosity.value, 3)} %, wet strength {with_unit(pin.wet_strength_mpa.value, 'MPa')}.")
    return " ".join(said)


# ---------------------------------------------------------------- curves, computed once for each powder and condition


@remembered(64)
def _curves(powder, mixing, temperature_c):
    kind = POWDERS[powder]
    ratios = np.linspace(kind.least_ratio, kind.most_ratio, 120)
    return ratios, predict(powder, ratios, mixing, temperature_c)


def _curves_of(mix):
    recipe = mix.recipe
    return _curves(recipe.powder, recipe.mixing, recipe.water_temperature_c)


@remembered(16)
def _usual_mix(powder):
    return Mix(Recipe(powder, POWDERS[powder].recommended_ratio.value))


def _ratio_panel(name, y_range, y_label, backdrop, moving, **rest):
    return Panel(name, RATIO_RANGE, y_range, x_label="water/powder ratio (mL per g)", y_label=y_label, x_ticks=RATIO_TICKS,
                 height_share=1.45, backdrop=backdrop, moving=moving, **rest)


def above_the_picture(ratio, top, label):
    """Return the marks of a value that lies above its picture: an arrowhead at the edge, with its number."""
    edge = AT_THE_EDGE * top
    return [Marker(ratio, edge, shape="triangle"), Text(ratio, edge, label, anchor="auto", right=16, up=20, bold=True, size=18)]


def _now(ratio, value, low, high, label, pins, top=float("inf")):
    """The moving marks of one curve: a rule at the recipe, the range as a bar, the point, its number on the side free of pins.

    A value above the top of the picture is an arrowhead at its edge.
    """
    marks = [Rule(x=ratio, colour="dark grey", width=1.5)]
    if value is None:
        return marks
    if value > top:
        return [*marks, *above_the_picture(ratio, top, label)]
    marks += [Line([ratio, ratio], [low, high], colour="vermillion", width=4),
              Marker(ratio, value),
              Text(ratio, value, label, **_free_side(ratio, pins), up=14, bold=True, size=18)]
    return marks


def _free_side(ratio, pins):
    beside = [pin.recipe.water_powder_ratio - ratio for pin in pins if abs(pin.recipe.water_powder_ratio - ratio) < 0.25]
    if not beside:
        return {"anchor": "auto", "right": 16}
    return {"anchor": "start", "right": 16} if sum(beside) < 0 else {"anchor": "end", "right": -16}


def _pin_marks(pins, value_of, top=float("inf")):
    marks = []
    for name, pin in zip(PIN_NAMES, pins):
        ratio, value = pin.recipe.water_powder_ratio, value_of(pin)
        if value is not None and value > top:
            marks += [Marker(ratio, AT_THE_EDGE * top, shape="triangle", colour="purple", hollow=True),
                      Text(ratio, AT_THE_EDGE * top, name, up=-19, bold=True)]
        elif value is not None:
            marks += [Marker(ratio, value, shape="diamond", colour="purple", hollow=True),
                      Text(ratio, value, name, up=19, bold=True)]
    return marks


# ---------------------------------------------------------------- flow


@remembered(64)
def _flow_backdrop(powder, mixing, temperature_c):
    ratios, curves = _curves(powder, mixing, temperature_c)
    stiff, runny = pourable_ratios(powder)
    still, shaken = curves["spread_mm"], curves["vibrated_spread_mm"]
    top = SPREAD_RANGE_MM[1]

    def cut(y):
        return np.where(np.asarray(y) <= 1.05 * top, y, np.nan)

    def label_at(y, height):
        return float(np.interp(height, np.asarray(y), np.linspace(0, 1, len(y))) / np.interp(1.05 * top, y, np.linspace(0, 1, len(y))))
    return (
        Span(stiff, runny, hatch="rising", label="pours", label_height="bottom"),
        Band(ratios, cut(still.low), cut(still.high)),
        Line(ratios, cut(still.value), label="still", label_at=min(label_at(still.value, 138.0), 1.0), label_above=False),
        Line(ratios, cut(shaken.value), colour="green", dash="dashed", label="vibrated",
             label_at=min(label_at(shaken.value, 138.0), 1.0), label_above=True),
    )


@remembered(4)
def _plate():
    half, height, across = SECTION_HALF_WIDTH_MM, ring.RING_HEIGHT_MM, 0.5 * ring.RING_DIAMETER_MM
    return (
        Polygon([-half, half, half, -half], [0, 0, -4, -4], fill="pale sky", edge="dark grey", width=1.5),
        Polygon([-across, across, across, -across], [0, 0, height, height], fill=None, edge="dark grey", dash="dashed"),
        Text(0, height + 6.5, f"ring {ring.RING_DIAMETER_MM:.0f} x {height:.0f} mm, lifted", size=14.5),
    )


def _outline(spread_mm):
    radius, height = ring.slumped_outline(round(spread_mm / ring.RING_DIAMETER_MM, 4), points=24)
    r, h = 0.5 * ring.RING_DIAMETER_MM * radius, ring.RING_HEIGHT_MM * height
    # What runs further than the plate is drawn up to the edge of the plate.
    x, y = np.concatenate([-r[::-1], r]), np.concatenate([h[::-1], h])
    return np.clip(x, -SECTION_HALF_WIDTH_MM, SECTION_HALF_WIDTH_MM), y


def _flow_picture(mix, vibrated, pins):
    recipe = mix.recipe
    shown = mix.vibrated_spread_mm if vibrated else mix.spread_mm
    section = []
    for name, pin in zip(PIN_NAMES, pins):
        spread = pin.vibrated_spread_mm.value if vibrated else pin.spread_mm.value
        if spread is not None:
            x, y = _outline(spread)
            section.append(Polygon(x, y, fill=None, edge="purple", dash="dash-dot"))
    if shown.value is not None:
        x, y = _outline(shown.value)
        half = 0.5 * min(shown.value, 2 * SECTION_HALF_WIDTH_MM)
        section += [
            Polygon(x, y, fill="pale orange", edge="vermillion", hatch="dots", width=3),
            Line([-half, half], [-9, -9], colour="black", width=2), Marker(-half, -9, "bar", "black", 12), Marker(half, -9, "bar", "black", 12),
            Text(0, -17, f"{with_unit(shown.value, 'mm')}, {'on the vibrator' if vibrated else 'still'}", bold=True, size=18),
        ]
    curve = _ratio_panel(
        "spread", SPREAD_RANGE_MM, "spread of the ring (mm)",
        _flow_backdrop(recipe.powder, recipe.mixing, recipe.water_temperature_c),
        tuple(_now(recipe.water_powder_ratio, shown.value, shown.low, shown.high, with_unit(shown.value, "mm"), pins, SPREAD_RANGE_MM[1])
              + _pin_marks(pins, lambda pin: (pin.vibrated_spread_mm if vibrated else pin.spread_mm).value, SPREAD_RANGE_MM[1])),
        title="Flow")
    ring_section = Panel("section", (-SECTION_HALF_WIDTH_MM, SECTION_HALF_WIDTH_MM), (-22, 62), show_axes=False,
                         equal_aspect=True, backdrop=_plate(), moving=tuple(section))
    return Picture("flow", (curve, ring_section), height=PICTURE_HEIGHT, words="Flow. " + (
        f"The mix spreads to {with_range(shown)} {'on the vibrator' if vibrated else 'still'}; {consistency_words(mix)}."))


# ---------------------------------------------------------------- porosity


@remembered(64)
def _porosity_backdrop(powder, mixing, temperature_c):
    ratios, curves = _curves(powder, mixing, temperature_c)
    porosity = curves["porosity"]
    stiff, runny = pourable_ratios(powder)
    return (
        Span(stiff, runny, hatch="rising", label="pours", label_height="bottom"),
        Rule(x=THEORETICAL_WATER_G_PER_G, colour="black", label="water that is bound"),
        Band(ratios, 100 * porosity.low, 100 * porosity.high),
        Line(ratios, 100 * porosity.value),
    )


@remembered(4)
def _empty_vessels():
    marks = []
    for left, name in ((0, "fresh"), (50, "set")):
        marks += [Polygon([left, left, left + 24, left + 24], [106, 0, 0, 106], fill=None, edge="black", width=3),
                  Text(left + 12, -9, name)]
    return tuple(marks)


def _stack(left, parts):
    """A vessel filled from the bottom; the names beside it keep apart where the layers are thin."""
    marks, bottom, name_above = [], 0.0, -10.0
    for share, words, fill, hatch in parts:
        top = bottom + 100 * share
        marks.append(Polygon([left, left + 24, left + 24, left], [bottom, bottom, top, top], fill=fill, edge="dark grey", width=1,
                             hatch=hatch))
        if share > 0.09:
            marks.append(Text(left + 12, 0.5 * (bottom + top), f"{100 * share:.0f} %", bold=True))
        if share > 0.005:
            name_above = max(0.5 * (bottom + top), name_above + 9.0)
            named = words if share > 0.09 else f"{words} {100 * share:.0f} %"
            marks.append(Text(left + 25.5, name_above, named, anchor="start", size=14.5))
        bottom = top
    return marks


def _porosity_picture(mix, pins):
    recipe, porosity = mix.recipe, mix.porosity
    fresh, after = mix.volumes(0.0), mix.volumes()
    vessels = _stack(0, ((float(fresh.powder), "powder", "pale grey", "crossed"), (float(fresh.free_water), "water", "pale sky", "level"),
                         (float(fresh.air), "air", "white", ""))) \
        + _stack(50, ((float(after.powder), "powder left", "pale grey", "crossed"), (float(after.crystals), "crystals", "pale orange", "rising"),
                      (float(after.free_water), "free water", "pale sky", "level"),
                      (float(after.contraction_voids + after.air), "empty", "white", "dots")))
    curve = _ratio_panel(
        "porosity", (0.0, 70.0), "porosity, dried (%)", _porosity_backdrop(recipe.powder, recipe.mixing, recipe.water_temperature_c),
        tuple(_now(recipe.water_powder_ratio, 100 * porosity.value, 100 * porosity.low, 100 * porosity.high,
                   f"{rounded(100 * porosity.value, 3)} %", pins)
              + _pin_marks(pins, lambda pin: 100 * pin.porosity.value)),
        title="Porosity")
    vessel = Panel("vessel", (-2, 104), (-14, 112), show_axes=False, backdrop=_empty_vessels(), moving=tuple(vessels))
    return Picture("porosity", (curve, vessel), height=PICTURE_HEIGHT, words=f"Porosity. When dried {said_with_range(porosity)} of the volume is not solid. By volume, "
                   f"fresh: powder {100 * float(fresh.powder):.0f} %, water {100 * float(fresh.free_water):.0f} %; set: crystals "
                   f"{100 * float(after.crystals):.0f} %, free water {100 * float(after.free_water):.0f} %, empty "
                   f"{100 * float(after.contraction_voids + after.air):.0f} %.")


# ---------------------------------------------------------------- strength


def _top_of(mixes):
    """The lowest of a few round tops that holds the curves of all these mixes."""
    most = max(np.max(_curves_of(m)[1]["wet_strength_mpa"].value) for m in mixes)
    return next((top for top in STRENGTH_TOPS_MPA if top >= 1.2 * most), STRENGTH_TOPS_MPA[-1])


@remembered(64)
def _strength_backdrop(powder, mixing, temperature_c):
    ratios, curves = _curves(powder, mixing, temperature_c)
    wet = curves["wet_strength_mpa"]
    stiff, runny = pourable_ratios(powder)
    usual = POWDERS[powder].recommended_ratio.value
    return (
        Span(stiff, runny, hatch="rising", label="pours", label_height="bottom"),
        Band(ratios, wet.low, wet.high),
        Line(ratios, wet.value),
        Marker(usual, _usual_mix(powder).wet_strength_mpa.value, shape="square", colour="blue", hollow=True, size=12),
    )


def _strength_picture(mix, pins):
    recipe, wet, dry = mix.recipe, mix.wet_strength_mpa, mix.dry_strength_mpa
    usual = _usual_mix(recipe.powder)
    top = _top_of((mix, *pins))
    curve = _ratio_panel(
        "strength", (0.0, top), "wet strength, 1 h (MPa)",
        _strength_backdrop(recipe.powder, recipe.mixing, recipe.water_temperature_c),
        tuple(_now(recipe.water_powder_ratio, wet.value, wet.low, wet.high, with_unit(wet.value, "MPa"), pins)
              + _pin_marks(pins, lambda pin: pin.wet_strength_mpa.value)),
        title="Strength", right_axis=RightAxis("% of recommended", 100.0 / float(usual.wet_strength_mpa.value)))
    scale = 2.3 * top
    bars = [*_bar(66, wet, scale, f"wet: {with_unit(wet.value, 'MPa')}, {rounded(100 * mix.relative_strength.value, 3)} % of recommended"),
            *_bar(22, dry, scale, f"dry: {with_unit(dry.value, 'MPa')}")]
    outline = [_bar_outline(66, usual.wet_strength_mpa, scale), _bar_outline(22, usual.dry_strength_mpa, scale)]
    panel = Panel("bars", (0, 100), (0, 112), show_axes=False, moving=tuple(bars), backdrop=(
        *outline, Text(0, 108, f"dashed: at the recommended {POWDERS[recipe.powder].recommended_ratio.value:.2f}", anchor="start", size=14.5)))
    return Picture("strength", (curve, panel), height=PICTURE_HEIGHT, words=f"Strength. Wet {with_range(wet)}, {said_with_range(mix.relative_strength)} of that at the "
                   f"recommended ratio; dry {with_range(dry)}.")


def _bar(bottom, prediction, scale, words):
    length, low, high = (100 * float(x) / scale for x in (prediction.value, prediction.low, prediction.high))
    return [Polygon([0, length, length, 0], [bottom, bottom, bottom + 16, bottom + 16], fill="pale blue", edge="blue", hatch="rising"),
            Line([low, high], [bottom + 8, bottom + 8], colour="vermillion", width=4),
            Text(0, bottom + 25, words, anchor="start", bold=True, size=16)]


def _bar_outline(bottom, prediction, scale):
    length = 100 * float(prediction.value) / scale
    return Polygon([0, length, length, 0], [bottom, bottom, bottom + 16, bottom + 16], fill=None, edge="dark grey", dash="dashed")
