"""The ring test: one mix large, and five mixes of the same powder from stiff to runny, from the side and from above."""

from typing import NamedTuple

import numpy as np

from gypsumkit.figures.mix_words import PIN_NAMES, consistency_words, recipe_words
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Polygon, Rule, Scene, Span, Table, Text
from gypsumkit.figures.water_scene import AT_THE_EDGE, RATIO_RANGE, RATIO_TICKS, SECTION_HALF_WIDTH_MM, above_the_picture
from gypsumkit.mix import FLOW_TRUSTED_PA, consistency, pourable_ratios, predict, ratio_at_yield_stress
from gypsumkit.powders import POWDERS
from gypsumkit.remembering import remembered
from gypsumkit.science import ring
from gypsumkit.showing import rounded, with_range, with_unit

PICTURE_HEIGHT = 500
FULL_TURN = np.linspace(0.0, 2.0 * np.pi, 37)

# The five mixes drawn of each powder: too stiff, three that pour, runny. Of plaster these are 42, 46, 50, 55 and 63 mL per 100 g.
FIVE_YIELD_STRESSES_PA = (958.0, 539.0, 318.0, 167.0, 58.0)

LIMITS = ("Limits: no measured yield stress of dental plaster was found, so the flow constants are our calibration to practice; a real "
          "powder differs. The drawing shows where the mix stops, not how fast: a real slump follows the lifted ring and takes about "
          "a second, and this model does not predict its course. “On the vibrator” means until nothing moves any more. A real "
          "spread is never quite round. For rings of other sizes the heights are a guide only. For teaching only.")


class RingSize(NamedTuple):
    """A ring: its words, its inside size, and how much room its pictures need beside those of the standard ring."""

    words: str
    diameter_mm: float
    height_mm: float
    room: float
    widest_mm: float

    @property
    def size_mm(self):
        """Inside diameter and height, mm."""
        return self.diameter_mm, self.height_mm


RINGS = {each.words: each for each in (
    RingSize("35 x 50 mm, standard", *ring.RING_MM, room=1.0, widest_mm=160.0),
    RingSize("20 x 20 mm, small", 20.0, 20.0, room=1.0, widest_mm=80.0),
    RingSize("50 x 100 mm, tall", 50.0, 100.0, room=2.0, widest_mm=280.0),
)}


def ring_of(size_mm):
    """Return the ring of that inside size.

    Parameters
    ----------
    size_mm : tuple of float
        Inside diameter and height, mm, of one of `RINGS`.

    Returns
    -------
    RingSize
    """
    return next(each for each in RINGS.values() if each.size_mm == tuple(size_mm))


@remembered(16)
def five_ratios(powder):
    """Return the ratios of the five mixes drawn of a powder, from stiff to runny.

    Parameters
    ----------
    powder : str
        Name of a powder.

    Returns
    -------
    tuple of float
        mL per g, two decimals.
    """
    return tuple(round(float(ratio), 2) for ratio in ratio_at_yield_stress(powder, FIVE_YIELD_STRESSES_PA))


def ring_scene(mix, vibrated=False, pins=()):
    """Describe the ring test of one mix and of five others of its powder, in the same ring at the same moment.

    Parameters
    ----------
    mix : gypsumkit.mix.Mix
        The mix now; its ring is one of `RINGS`.
    vibrated : bool
        The ring stands on the vibrator.
    pins : sequence of (Mix, bool)
        Up to three earlier mixes, each with whether it stood on the vibrator.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    pins = tuple(pins)[:len(PIN_NAMES)]
    pictures = (_own_picture(mix, vibrated, pins), _side_picture(mix.recipe.powder, mix.ring_mm, mix.time_min, vibrated),
                _above_picture(mix, vibrated))
    return Scene(pictures, ring_words(mix, vibrated, pins), _numbers(mix, vibrated, pins))


# ---------------------------------------------------------------- words and numbers


def ring_words(mix, vibrated=False, pins=()):
    """Say the ring test of a mix in words, with the stresses that decide it.

    Parameters
    ----------
    mix : Mix
        The mix now.
    vibrated : bool
        On the vibrator.
    pins : sequence of (Mix, bool)
        Earlier mixes.

    Returns
    -------
    str
    """
    this, (spread, slump) = ring_of(mix.ring_mm), _result(mix, vibrated)
    start = (f"{recipe_words(mix.recipe)}, in the ring of {this.diameter_mm:.0f} x {this.height_mm:.0f} mm, {mix.time_min:g} min after mixing "
             f"began, {_how(vibrated)}: {consistency_words(mix)}.")
    if spread.value is None:
        return f"{start} {spread.reason[0].upper()}{spread.reason[1:]}."
    if mix.yield_stress_pa.value is None:
        return f"{start} {mix.yield_stress_pa.reason[0].upper()}{mix.yield_stress_pa.reason[1:]}: it stands as it was cast."
    foot = float(ring.pressure_at_foot_pa(mix.wet_density_g_cm3.value, this.height_mm))
    share = mix.yield_stress_pa.value / foot
    standing = rounded(ring.standing_stiffness(*this.size_mm), 2)
    most = FLOW_TRUSTED_PA[1]
    if mix.yield_stress_pa.value > most:
        stress = (f"Yield stress of the still mix: more than {most:g} Pa, so stiff that the model gives no number. A still mix "
                  f"stands when its yield stress is {standing} or more of the pressure at the foot, here {with_unit(foot, 'Pa')}.")
    else:
        stress = (f"Yield stress of the still mix: {with_range(mix.yield_stress_pa)}. Pressure at the foot of the full ring: "
                  f"{with_unit(foot, 'Pa')}. The yield stress is {rounded(share, 2)} of that pressure; a still mix stands at {standing} or more.")
    said = [start, stress,
            f"The mix spreads to {with_range(spread)}, {rounded(spread.value / this.diameter_mm, 3)} times its ring, and sinks by "
            f"{with_range(slump)}."]
    doubtful = sorted({part.removeprefix("extrapolated: ") for p in (spread, slump) if not p.valid for part in p.reason.split("; ")})
    if doubtful:
        said.append("Extrapolated: " + "; ".join(doubtful) + ".")
    for name, (pin, shaken) in zip(PIN_NAMES, pins):
        other = ring_of(pin.ring_mm)
        said.append(f"Pinned {name}: {recipe_words(pin.recipe)}, ring {other.diameter_mm:.0f} x {other.height_mm:.0f} mm, {pin.time_min:g} min, "
                    f"{_how(shaken)}, spread {with_unit(_result(pin, shaken)[0].value, 'mm')}.")
    return " ".join(said)


def _result(mix, vibrated):
    return (mix.vibrated_spread_mm, mix.vibrated_slump_mm) if vibrated else (mix.spread_mm, mix.slump_mm)


def _how(vibrated):
    return "on the vibrator" if vibrated else "still"


def _called(name, still_spread_mm, ring_mm):
    """The word of the bench, with what a pouring mix needs for it when it stands lifted still."""
    stands = still_spread_mm is not None and still_spread_mm <= ring_mm[0] * 1.001
    if name == "not predicted" and stands:
        return "no longer a paste"
    return "pours on the vibrator" if name == "pours" and stands else name


def _called_of_five(five, place, ring_mm):
    return _called(consistency(five["yield_stress_pa"].value[place]), five["spread_mm"].value[place], ring_mm)


def _numbers(mix, vibrated, pins):
    def row(name, spread, slump, called):
        return name, with_range(spread), with_range(slump), called

    rows = [row(f"your mix, {mix.recipe.water_powder_ratio:.3g}", *_result(mix, vibrated), _called(mix.consistency, mix.spread_mm.value, mix.ring_mm))]
    five = _five(mix.recipe.powder, mix.ring_mm, mix.time_min)
    rows += [row(f"{ratio:.2f}", *_one_of_five(five, vibrated, i), _called_of_five(five, i, mix.ring_mm))
             for i, ratio in enumerate(five_ratios(mix.recipe.powder))]
    rows += [row(f"pinned {name}", *_result(pin, shaken), _called(pin.consistency, pin.spread_mm.value, pin.ring_mm)) for name, (pin, shaken) in zip(PIN_NAMES, pins)]
    return Table(("mix", "spread", "sinks by", "at the bench"), tuple(rows), f"Ring test, {_how(vibrated)}, with plausible ranges")


# ---------------------------------------------------------------- computed once for each powder, ring and moment


@remembered(128)
def _five(powder, ring_mm, time_min):
    return predict(powder, five_ratios(powder), time_min=time_min, ring_mm=ring_mm)


def _one_of_five(five, vibrated, i):
    """Spread and slump of one of the five, as predictions of one mix."""
    names = ("vibrated_spread_mm", "vibrated_slump_mm") if vibrated else ("spread_mm", "slump_mm")
    return tuple(five[name].one(i) for name in names)


@remembered(128)
def _curve(powder, ring_mm, time_min):
    kind = POWDERS[powder]
    ratios = np.linspace(kind.least_ratio, kind.most_ratio, 40)
    return ratios, predict(powder, ratios, time_min=time_min, ring_mm=ring_mm)


@remembered(512)
def _outline(spread_mm, diameter_mm, height_mm):
    radius, height = ring.slumped_outline(round(spread_mm / diameter_mm, 4), points=18)
    r, h = 0.5 * diameter_mm * radius, height_mm * height
    return np.concatenate([-r[::-1], r]), np.concatenate([h[::-1], h])


def _on_its_plate(spread_mm, this, ring_mm):
    """The outline from the side; what runs further than the plate of `this` ring is drawn up to the edge of the plate."""
    x, y = _outline(float(spread_mm), *ring_mm)
    return np.clip(x, -SECTION_HALF_WIDTH_MM * this.room, SECTION_HALF_WIDTH_MM * this.room), y


# ---------------------------------------------------------------- your mix: section, and its place on the curve


@remembered(8)
def _plate(this):
    half, across, height = SECTION_HALF_WIDTH_MM * this.room, 0.5 * this.diameter_mm, this.height_mm
    return (
        Polygon([-half, half, half, -half], [0, 0, -4 * this.room, -4 * this.room], fill="pale sky", edge="dark grey", width=1.5),
        Polygon([-across, across, across, -across], [0, 0, height, height], fill=None, edge="dark grey", dash="dashed"),
        Text(0, height + 7 * this.room, f"ring {this.diameter_mm:.0f} x {height:.0f} mm, lifted", size=14.5),
    )


def _own_picture(mix, vibrated, pins):
    this, (spread, _) = ring_of(mix.ring_mm), _result(mix, vibrated)
    room = this.room
    drawn = []
    for pin, shaken in pins:
        value = _result(pin, shaken)[0].value
        if value is not None:
            drawn.append(Polygon(*_on_its_plate(value, this, pin.ring_mm), fill=None, edge="purple", dash="dash-dot"))
    if spread.value is not None:
        half = min(0.5 * float(spread.value), SECTION_HALF_WIDTH_MM * room)
        drawn += [Polygon(*_on_its_plate(spread.value, this, mix.ring_mm), fill="pale orange", edge="vermillion", hatch="dots", width=3),
                  Line([-half, half], [-9 * room, -9 * room], colour="black", width=2),
                  Marker(-half, -9 * room, "bar", "black", 12), Marker(half, -9 * room, "bar", "black", 12),
                  Text(0, -17 * room, f"{with_unit(spread.value, 'mm')}, {_how(vibrated)}", bold=True, size=18)]
    else:
        drawn.append(Text(0, -14 * room, "not predicted so late", bold=True, size=18))
    section = Panel("section", (-SECTION_HALF_WIDTH_MM * room, SECTION_HALF_WIDTH_MM * room), (-24 * room, 62 * room), title="Your mix", show_axes=False,
                    equal_aspect=True, backdrop=_plate(this), moving=tuple(drawn))
    curve = Panel("curve", RATIO_RANGE, (0.0, this.widest_mm), x_label="water/powder ratio (mL per g)", y_label="spread (mm)",
                  x_ticks=RATIO_TICKS, height_share=1.1, moving=tuple(_curve_marks(mix, vibrated, this, spread)))
    return Picture("own", (section, curve), height=PICTURE_HEIGHT, words=f"Your mix, seen from the side and on the curve of spread "
                   f"against water. It spreads to {with_range(spread)}, {_how(vibrated)}: {consistency_words(mix)}.")


def _curve_marks(mix, vibrated, this, spread):
    powder, ratio = mix.recipe.powder, mix.recipe.water_powder_ratio
    if spread.value is None:
        return [Rule(x=ratio, colour="dark grey", width=1.5)]
    ratios, curves = _curve(powder, mix.ring_mm, mix.time_min)
    y = curves["vibrated_spread_mm" if vibrated else "spread_mm"]
    top = 1.05 * this.widest_mm
    stiff, runny = pourable_ratios(powder, mix.time_min)
    five = _five(powder, mix.ring_mm, mix.time_min)["vibrated_spread_mm" if vibrated else "spread_mm"].value
    marks = [Span(stiff, runny, hatch="rising", label="pours", label_height="top"),
             Band(ratios, np.minimum(y.low, top), np.minimum(y.high, top)), Line(ratios, np.where(y.value <= top, y.value, np.nan))]
    edge = AT_THE_EDGE * this.widest_mm         # what lies above the picture is an arrowhead at its edge
    marks += [Marker(each, edge, "triangle", "black", 9, hollow=True) if value > this.widest_mm else Marker(each, value, "square", "black", 9, hollow=True)
              for each, value in zip(five_ratios(powder), five)]
    if spread.value > this.widest_mm:
        return [*marks, Rule(x=ratio, colour="dark grey", width=1.5), *above_the_picture(ratio, this.widest_mm, with_unit(spread.value, "mm"))]
    marks += [Rule(x=ratio, colour="dark grey", width=1.5),
              Line([ratio, ratio], [spread.low, spread.high], colour="vermillion", width=4), Marker(ratio, spread.value),
              Text(ratio, spread.value, with_unit(spread.value, "mm"), anchor="auto", right=16, up=14, bold=True, size=18)]
    return marks


# ---------------------------------------------------------------- five mixes from the side


ROW_MM = 64.0


@remembered(8)
def _rows(this):
    marks, across = [], 0.5 * this.diameter_mm
    for i in range(5):
        foot = (4 - i) * ROW_MM * this.room
        marks += [Line([-63 * this.room, 63 * this.room], [foot, foot], colour="dark grey", width=2),
                  Polygon([-across, across, across, -across], [foot, foot, foot + this.height_mm, foot + this.height_mm], fill=None,
                          edge="dark grey", dash="dashed", width=1.5)]
    return tuple(marks)


@remembered(64)
def _side_picture(powder, ring_mm, time_min, vibrated):
    this, five = ring_of(ring_mm), _five(powder, ring_mm, time_min)
    room = this.room
    marks, said = [], []
    for i, ratio in enumerate(five_ratios(powder)):
        spread, slump = _one_of_five(five, vibrated, i)
        called = _called_of_five(five, i, ring_mm)
        foot = (4 - i) * ROW_MM * room
        marks.append(Text(66 * room, foot + 40 * room, f"{ratio:.2f}: {called}", anchor="start", bold=True))
        said.append(f"{ratio:.2f}, {called}: spreads to {with_range(spread)}, sinks by {with_range(slump)}")
        if spread.value is None:
            continue
        x, y = _outline(float(spread.value), *ring_mm)
        marks += [Polygon(x, y + foot, fill="pale orange", edge="vermillion", width=2.5),
                  Text(66 * room, foot + 25 * room, f"spread {with_range(spread)}", anchor="start", size=14.5),
                  Text(66 * room, foot + 10 * room, f"sinks {with_range(slump)}", anchor="start", size=14.5)]
    panel = Panel("side", (-65 * room, 236 * room), (-6 * room, 5 * ROW_MM * room), title="Five mixes from the side", show_axes=False,
                  equal_aspect=True, backdrop=_rows(this), moving=tuple(marks))
    return Picture("side", (panel,), height=PICTURE_HEIGHT, words=f"Five mixes of {powder} from the side, {_how(vibrated)}. " + "; ".join(said) + ".")


# ---------------------------------------------------------------- the same from above


CELL_MM, CELL_HEIGHT_MM, WIDEST_DRAWN_MM = 124.0, 196.0, 122.0


def _cell(i, room):
    return (0.5 + i % 3) * CELL_MM * room, (0.5 + (1 - i // 3)) * CELL_HEIGHT_MM * room + 14 * room


def _above_picture(mix, vibrated):
    this, powder = ring_of(mix.ring_mm), mix.recipe.powder
    room, five = this.room, _five(powder, mix.ring_mm, mix.time_min)
    shown = [(f"{ratio:.2f}", _one_of_five(five, vibrated, i)[0]) for i, ratio in enumerate(five_ratios(powder))]
    shown.append(("yours", _result(mix, vibrated)[0]))
    marks, turn = [], FULL_TURN
    for i, (name, spread) in enumerate(shown):
        x, y = _cell(i, room)
        own = i == 5
        below = y - (WIDEST_DRAWN_MM / 2 + 9) * room
        if spread.value is None:
            marks.append(Text(x, below, f"{name}: not predicted", bold=own, size=14.5))
            continue
        radius = 0.5 * min(float(spread.value), WIDEST_DRAWN_MM * room)
        wider = float(spread.value) > WIDEST_DRAWN_MM * room
        marks.append(Polygon(x + radius * np.cos(turn), y + radius * np.sin(turn), fill="pale orange", edge="vermillion",
                             hatch="dots" if own else "", dash="dotted" if wider else "solid", width=3 if own else 2))
        marks.append(Polygon(x + 0.5 * this.diameter_mm * np.cos(turn), y + 0.5 * this.diameter_mm * np.sin(turn), fill=None,
                             edge="dark grey", dash="dashed", width=1.5))
        marks.append(Text(x, below, f"{name}: {with_unit(spread.value, 'mm')}", bold=own, size=15))
        if wider:
            marks.append(Text(x, y, "wider than drawn", size=14.5))
        elif own:
            marks += [Line([x - radius, x + radius], [y, y], colour="black", width=2), Line([x, x], [y - radius, y + radius], colour="black", width=2)]
            marks += [Marker(x - radius, y, "bar", "black", 10), Marker(x + radius, y, "bar", "black", 10)]
    panel = Panel("above", (0, 3 * CELL_MM * room), (0, 2 * CELL_HEIGHT_MM * room + 14 * room), title="The same from above", show_axes=False,
                  equal_aspect=True, backdrop=_above_words(room), moving=tuple(marks))
    return Picture("above", (panel,), height=PICTURE_HEIGHT, words="The same from above: " + ", ".join(
        f"{name} {with_unit(spread.value, 'mm')}" for name, spread in shown) + ". Two diameters at right angles are drawn on your mix.")


@remembered(8)
def _above_words(room):
    return (Text(1.5 * CELL_MM * room, 8 * room, "Read two diameters at right angles; take the mean.", size=14.5),)
