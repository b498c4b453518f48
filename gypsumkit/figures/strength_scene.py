"""Strength: one curve against porosity for all powders, the compromise with flow, and what extra water costs."""

import numpy as np

from gypsumkit import powders
from gypsumkit.remembering import remembered
from gypsumkit.studies.compromise import compromise, strength_curve
from gypsumkit.figures.mix_words import PIN_NAMES, mix_table, recipe_words
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Polygon, Rule, Scene, Span, Text
from gypsumkit.figures.water_scene import RATIO_RANGE, RATIO_TICKS
from gypsumkit.studies.handbook import HANDBOOK_STRENGTHS, INDUSTRIAL_STRENGTHS, law_off_range_percent
from gypsumkit.mix import STRENGTH_TRUSTED_POROSITY, Mix, pourable_ratios, predict
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe
from gypsumkit.science import strength
from gypsumkit.showing import rounded, with_range, with_unit

PICTURE_HEIGHT = 520
POROSITY_RANGE_PERCENT = (5.0, 60.0)
STRENGTH_TOP_MPA = 100.0
RATIO_TOPS_MPA = (30.0, 60.0, 90.0, 120.0)
EXTRA_ML = (-10.0, 30.0)

# Shape and colour of each powder's handbook values.
SIGNS = {"model plaster": ("circle", "blue"), "dental stone": ("square", "green"), "improved stone": ("triangle", "purple")}

LIMITS = ("Limits: the line was fitted to the nine handbook values shown, themselves from memory, so it reproduces them and is not proved "
          "by them. Close to its own ratio each powder weakens more steeply than the line. Dry is taken as about twice wet. Strength "
          "below the pouring range, where air is trapped, is a teaching law. The plausible range is not a tolerance, and a real product "
          "differs: follow its maker. For teaching only.")

TABLE_ROWS = (
    ("porosity, dried", "porosity"),
    ("strength, wet, 1 h", "wet_strength_mpa"),
    ("strength, dry", "dry_strength_mpa"),
    ("relative strength", "relative_strength"),
)


def strength_scene(mix, wanted_mpa, dried=False, industrial=False, pins=()):
    """Describe the strength of one mix: on the common curve, in the compromise, and relative to the recommended ratio.

    Parameters
    ----------
    mix : gypsumkit.mix.Mix
        The mix now.
    wanted_mpa : float
        Wanted compressive strength, MPa, above 0.
    dried : bool
        The wanted strength is that of the dried mass, not wet at 1 h.
    industrial : bool
        Show dry strengths of industrial plasters, to which nothing was fitted.
    pins : sequence of Mix
        Up to three earlier mixes.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    pins = tuple(pins)[:len(PIN_NAMES)]
    pictures = (_porosity_picture(mix, dried, industrial, pins), _compromise_picture(mix, wanted_mpa, dried, pins),
                _relative_picture(mix, pins))
    return Scene(pictures, strength_words(mix, wanted_mpa, dried, industrial, pins), mix_table(TABLE_ROWS, mix, pins))


# ---------------------------------------------------------------- words and numbers


def strength_words(mix, wanted_mpa, dried=False, industrial=False, pins=()):
    """Say the strength of a mix and the compromise in words.

    Parameters
    ----------
    mix : Mix
        The mix now.
    wanted_mpa : float
        MPa.
    dried, industrial : bool
        As in `strength_scene`.
    pins : sequence of Mix
        Earlier mixes.

    Returns
    -------
    str
    """
    said = [f"{recipe_words(mix.recipe)}: porosity {rounded(100 * mix.porosity.value, 3)} %, wet strength at 1 h "
            f"{with_range(mix.wet_strength_mpa)}, {rounded(100 * mix.relative_strength.value, 3)} % of that at the recommended ratio; dry "
            f"{with_range(mix.dry_strength_mpa)}.",
            _compromise_words(mix, wanted_mpa, dried), _law_words()]
    if mix.powder.parent:
        times = mix.powder.strength_at_30_mpa.value / powders.STRENGTH_AT_30_PERCENT.value
        said.append(f"This own powder is {rounded(times, 3)} times as strong as the line at equal porosity, by its sheet or your bench.")
    if industrial:
        low, high = law_off_range_percent(INDUSTRIAL_STRENGTHS)
        said.append(f"Against {len(INDUSTRIAL_STRENGTHS)} dry industrial products, to which nothing was fitted, the dry line lies {_off(low)} to {_off(high)}.")
    doubtful = sorted({p.reason for name in ("wet_strength_mpa",) for p in (mix.predictions[name],) if not p.valid})
    if doubtful:
        said.append("Outside its range: " + "; ".join(doubtful) + ".")
    for name, pin in zip(PIN_NAMES, pins):
        said.append(f"Pinned {name}: {recipe_words(pin.recipe)}, wet strength {with_unit(pin.wet_strength_mpa.value, 'MPa')}.")
    return " ".join(said)


def _window(window):
    return "none" if window is None else f"{window[0]:.3f} to {window[1]:.3f} ({_in_ml(window)} mL per 100 g)"


def _in_ml(window):
    return f"{100 * window[0]:.1f} to {100 * window[1]:.1f}"


def _compromise_words(mix, wanted_mpa, dried):
    powder, ratio = mix.recipe.powder, mix.recipe.water_powder_ratio
    found = compromise(powder, wanted_mpa, dried)
    wanted = f"{wanted_mpa:g} MPa {'dry' if dried else 'wet'}"
    pours, carries = _inside(ratio, found.pours), _inside(ratio, found.carries)
    yours = {(True, True): "pours and carries it", (True, False): "pours but does not carry it",
             (False, True): "carries it but does not pour well", (False, False): "does neither"}[pours, carries]
    said = f"Wanted: {wanted}. {powder[0].upper()}{powder[1:]} pours from {_window(found.pours)}; "
    said += "no ratio of it carries that. " if found.carries is None else f"it carries that from {_window(found.carries)}. "
    if found.both is None:
        return said + f"No ratio of this powder does both; your ratio {yours}."
    sure = compromise(powder, wanted_mpa, dried, surely=True).both
    said += f"Both: {_window(found.both)}; your ratio {yours}. "
    return said + ("At the low end of the plausible range no ratio does both." if sure is None
                   else f"Even at the low end of the plausible range: {_window(sure)}.")


def _inside(ratio, window):
    return window is not None and window[0] - 1e-9 <= ratio <= window[1] + 1e-9


def _off(percent):
    return f"{abs(percent):.0f} % {'above' if percent > 0 else 'below'} them"


def _law_words():
    low, high = law_off_range_percent(HANDBOOK_STRENGTHS)
    return f"Against the nine handbook values it was fitted to, the line lies {_off(low)} to {_off(high)}."


# ---------------------------------------------------------------- strength against porosity


def law_with_range_mpa(porosity, dried=False):
    """Return the strength line over porosity with its plausible range.

    Parameters
    ----------
    porosity : array
        Volume fractions.
    dried : bool
        Dried, not wet at 1 h.

    Returns
    -------
    tuple of three arrays
        Value, low, high, MPa.
    """
    at_30, rate, dry = powders.STRENGTH_AT_30_PERCENT, powders.STRENGTH_LOSS_RATE, powders.DRY_OVER_WET
    value = strength.wet_strength_mpa(porosity, at_30.value, rate.value)
    away = np.abs(porosity - strength.MIDDLE_POROSITY)
    parts_up = [np.log(at_30.high / at_30.value), (rate.high - rate.value) * away]
    parts_down = [np.log(at_30.value / at_30.low), (rate.value - rate.low) * away]
    if dried:
        value = strength.dry_strength_mpa(value, dry.value)
        parts_up.append(np.log(dry.high / dry.value))
        parts_down.append(np.log(dry.value / dry.low))
    return value, value * np.exp(-np.sqrt(sum(p**2 for p in parts_down))), value * np.exp(np.sqrt(sum(p**2 for p in parts_up)))


def _line_marks(dried, colour, dash, label, label_at):
    low, high = (0.01 * x for x in POROSITY_RANGE_PERCENT)
    p = np.linspace(low, high, 80)
    value, least, most = law_with_range_mpa(p, dried)
    inside = (p >= STRENGTH_TRUSTED_POROSITY[0]) & (p <= STRENGTH_TRUSTED_POROSITY[1])
    top = 1.05 * STRENGTH_TOP_MPA
    return (Band(100 * p[inside], np.minimum(least, top)[inside], np.minimum(most, top)[inside], edge=colour,
                 colour=f"pale {colour}" if colour in ("blue", "green") else "pale grey"),
            Line(100 * p, np.where(value <= top, value, np.nan), colour=colour, dash="dotted", width=2),
            Line(100 * p, np.where(inside & (value <= top), value, np.nan), colour=colour, dash=dash, label=label, label_at=label_at,
                 label_above=dried))


@remembered(4)
def _porosity_backdrop(industrial):
    marks = [*_line_marks(True, "green", "dashed", "dry", 0.30), *_line_marks(False, "blue", "solid", "wet, 1 h", 0.62)]
    marks += [Marker(100 * each.porosity, each.strength_mpa, *SIGNS[each.name], size=12) for each in HANDBOOK_STRENGTHS]
    marks.append(Text(59, 96, "nine handbook values, wet:", anchor="end", size=14))
    for i, (name, (shape, colour)) in enumerate(SIGNS.items()):
        y = 89.5 - 6.5 * i
        marks += [Marker(58, y, shape, colour, size=12), Text(56, y, name, anchor="end", size=14)]
    if industrial:
        marks += [Marker(100 * each.porosity, each.strength_mpa, "square", "black", size=12, hollow=True) for each in INDUSTRIAL_STRENGTHS]
        marks += [Marker(58, 69, "square", "black", size=12, hollow=True), Text(56, 69, "industrial, dry, not fitted", anchor="end", size=14)]
    return tuple(marks)


@remembered(2)
def _misfit_backdrop():
    low, high = law_off_range_percent(HANDBOOK_STRENGTHS)
    marks = [Rule(y=0.0, colour="black", width=2, dash="solid")]
    for name, (shape, colour) in SIGNS.items():
        own = [each for each in HANDBOOK_STRENGTHS if each.name == name]
        x, y = [100 * each.porosity for each in own], [each.law_off_percent for each in own]
        marks.append(Line(x, y, colour=colour, width=1.5, dash="dotted"))
        marks += [Marker(a, b, shape, colour, size=12) for a, b in zip(x, y)]
    worst = max(HANDBOOK_STRENGTHS, key=lambda each: abs(each.law_off_percent))
    marks.append(Text(100 * worst.porosity, worst.law_off_percent, f"worst {worst.law_off_percent:+.0f} %", anchor="start", right=12, bold=True))
    marks.append(Text(59, -21, "fitted to these: reproduced, not proved", anchor="end", size=14))
    return tuple(marks)


def _porosity_picture(mix, dried, industrial, pins):
    shown = mix.dry_strength_mpa if dried else mix.wet_strength_mpa
    porosity = 100 * float(mix.porosity.value)
    moving = [Line([porosity, porosity], [shown.low, shown.high], colour="vermillion", width=4), Marker(porosity, shown.value),
              Text(porosity, shown.value, with_unit(shown.value, "MPa"), anchor="start", right=14, up=16, bold=True, size=18)]
    for name, pin in zip(PIN_NAMES, pins):
        value = (pin.dry_strength_mpa if dried else pin.wet_strength_mpa).value
        moving += [Marker(100 * pin.porosity.value, value, "diamond", "purple", hollow=True), Text(100 * pin.porosity.value, value, name, up=19, bold=True)]
    curve = Panel("porosity", POROSITY_RANGE_PERCENT, (0.0, STRENGTH_TOP_MPA), title="One line for all powders", y_label="strength (MPa)",
                  height_share=1.9, backdrop=_porosity_backdrop(industrial), moving=tuple(moving))
    misfit = Panel("misfit", POROSITY_RANGE_PERCENT, (-28.0, 28.0), x_label="porosity, dried (%)", y_label="line above handbook (%)",
                   y_ticks=(-20, 0, 20), backdrop=_misfit_backdrop(), moving=(Rule(x=porosity, colour="dark grey", width=1.5),))
    return Picture("porosity", (curve, misfit), height=PICTURE_HEIGHT, words=f"Strength against porosity, one line for all powders, with nine "
                   f"handbook values of three powders. Your mix: porosity {rounded(porosity, 3)} %, {'dry' if dried else 'wet'} strength "
                   f"{with_range(shown)}. {_law_words()}")


# ---------------------------------------------------------------- the compromise


@remembered(16)
def _usual(powder):
    return Mix(Recipe(powder, POWDERS[powder].recommended_ratio.value))


@remembered(16)
def _ratio_backdrop(powder, dried):
    ratios = np.linspace(POWDERS[powder].least_ratio, POWDERS[powder].most_ratio, 120)
    found = predict(powder, ratios)["dry_strength_mpa" if dried else "wet_strength_mpa"]
    usual = _usual(powder)
    stiff, runny = pourable_ratios(powder)
    return (Span(stiff, runny, hatch="rising"), Text(runny + 0.01, 0.98 * _ratio_top(powder, dried), "pours", anchor="start", height="top"),
            Band(ratios, found.low, found.high),
            Line(ratios, found.value),
            Marker(POWDERS[powder].recommended_ratio.value, (usual.dry_strength_mpa if dried else usual.wet_strength_mpa).value, "square", "blue",
                   size=12, hollow=True))


@remembered(16)
def _ratio_top(powder, dried):
    most = float(np.max(strength_curve(powder, dried)[1]))
    return next((top for top in RATIO_TOPS_MPA if top >= 1.2 * most), RATIO_TOPS_MPA[-1])


def _compromise_picture(mix, wanted_mpa, dried, pins):
    powder, ratio = mix.recipe.powder, mix.recipe.water_powder_ratio
    shown = mix.dry_strength_mpa if dried else mix.wet_strength_mpa
    top, found = _ratio_top(powder, dried), compromise(powder, wanted_mpa, dried)
    moving = []
    if found.both is not None:
        first, last = found.both
        moving.append(Polygon([first, last, last, first], [-0.1 * top, -0.1 * top, 1.1 * top, 1.1 * top], fill=None, edge="vermillion",
                              hatch="falling", width=3))
    if wanted_mpa <= top:
        moving.append(Rule(y=wanted_mpa, colour="black", label=f"wanted {wanted_mpa:g} MPa"))
    else:
        moving.append(Text(RATIO_RANGE[1] - 0.01, 0.87 * top, f"wanted {wanted_mpa:g} MPa lies above", anchor="end", height="top"))
    moving += [Rule(x=ratio, colour="dark grey", width=1.5), Line([ratio, ratio], [shown.low, shown.high], colour="vermillion", width=4),
               Marker(ratio, shown.value), Text(ratio, shown.value, with_unit(shown.value, "MPa"), anchor="auto", right=16, up=14, bold=True, size=18)]
    for name, pin in zip(PIN_NAMES, pins):
        value, at = (pin.dry_strength_mpa if dried else pin.wet_strength_mpa).value, pin.recipe.water_powder_ratio
        moving += [Marker(at, value, "diamond", "purple", hollow=True), Text(at, value, name, up=19, bold=True)]
    curve = Panel("ratio", RATIO_RANGE, (0.0, top), title="The compromise", x_label="water/powder ratio (mL per g)", height_share=1.9,
                  y_label=f"{'dry' if dried else 'wet'} strength (MPa)", x_ticks=RATIO_TICKS,
                  backdrop=_ratio_backdrop(powder, dried), moving=tuple(moving))
    bars = []
    for y, name, window, fill, edge, hatch in ((70, "pours", found.pours, "pale green", "green", "rising"),
                                               (38, "strong enough", found.carries, "pale blue", "blue", "level"),
                                               (6, "does both", found.both, "white", "vermillion", "falling")):
        if window is not None:
            bars.append(Polygon([window[0], window[1], window[1], window[0]], [y, y, y + 12, y + 12], fill=fill, edge=edge, hatch=hatch))
        none = "no ratio of this powder does both" if name == "does both" else f"{name}: none"
        bars.append(Text(RATIO_RANGE[0] + 0.01, y + 20, f"{name}: {_in_ml(window)} mL per 100 g" if window else none, anchor="start", bold=name == "does both", size=15))
    panel = Panel("windows", RATIO_RANGE, (0, 102), x_ticks=(), y_ticks=(), moving=(*bars, Rule(x=ratio, colour="dark grey", width=1.5)))
    return Picture("compromise", (curve, panel), height=PICTURE_HEIGHT, words=f"The compromise. {_compromise_words(mix, wanted_mpa, dried)}")


# ---------------------------------------------------------------- relative strength, wet and dry


@remembered(16)
def _relative_curve(powder):
    kind = POWDERS[powder]
    usual = kind.recommended_ratio.value
    extra = np.linspace(*EXTRA_ML, 80)
    ratios = usual + 0.01 * extra
    paste = (ratios >= kind.least_ratio) & (ratios <= kind.most_ratio)
    return extra[paste], 100 * predict(powder, ratios[paste])["relative_strength"].value


@remembered(16)
def _relative_backdrop(powder):
    marks = [Rule(x=0.0, colour="dark grey"), Rule(y=100.0, colour="dark grey")]
    dashes = {"model plaster": "solid", "dental stone": "dashed", "improved stone": "dash-dot"}
    shown = (*SIGNS, *((powder,) if powder not in SIGNS else ()))
    for name in shown:
        x, y = _relative_curve(name)
        marks.append(Line(x, y, colour=SIGNS.get(name, ("", "black"))[1], dash=dashes.get(name, "dotted"), width=4 if name == powder else 2.5))
    for i, name in enumerate(shown):
        y, colour = 156 - 9.5 * i, SIGNS.get(name, ("", "black"))[1]
        marks += [Line([2, 7], [y, y], colour=colour, dash=dashes.get(name, "dotted"), width=4 if name == powder else 2.5),
                  Text(8, y, name, anchor="start", size=14.5, bold=name == powder)]
    return tuple(marks)


def _extra(mix):
    return 100 * (mix.recipe.water_powder_ratio - POWDERS[mix.recipe.powder].recommended_ratio.value)


def _relative_picture(mix, pins):
    relative, extra = 100 * float(mix.relative_strength.value), _extra(mix)
    usual = _usual(mix.recipe.powder)
    inside = EXTRA_ML[0] <= extra <= EXTRA_ML[1]
    moving = [Marker(extra, relative), Text(extra, relative, f"{rounded(relative, 3)} %", anchor="auto", right=16, up=14, bold=True, size=18)] if inside \
        else [Text(10, 45, f"{extra:+.0f} mL lies outside this picture", size=15)]
    moving += [mark for name, pin in zip(PIN_NAMES, pins) for mark in (
        Marker(_extra(pin), 100 * pin.relative_strength.value, "diamond", "purple", hollow=True),
        Text(_extra(pin), 100 * pin.relative_strength.value, name, up=19, bold=True)) if EXTRA_ML[0] <= _extra(pin) <= EXTRA_ML[1]]
    curve = Panel("relative", EXTRA_ML, (30.0, 162.0), title="What extra water costs", x_label="water beyond the recommended (mL per 100 g)",
                  y_label="strength (% of that at the recommended ratio)", height_share=1.9, x_ticks=(-10, 0, 10, 20, 30),
                  backdrop=_relative_backdrop(mix.recipe.powder), moving=tuple(moving))
    scale = 2.6 * _ratio_top(mix.recipe.powder, False)
    bars = [*_bar(58, mix.wet_strength_mpa, scale, "wet, 1 h"), *_bar(10, mix.dry_strength_mpa, scale, "dry")]
    outlines = [_bar_outline(58, usual.wet_strength_mpa, scale), _bar_outline(10, usual.dry_strength_mpa, scale)]
    panel = Panel("bars", (0, 100), (0, 102), show_axes=False, moving=(*bars, *outlines),
                  backdrop=(Text(99, 99, "dashed: at the recommended ratio", anchor="end", size=14),))
    return Picture("relative", (curve, panel), height=PICTURE_HEIGHT, words=f"With {extra:+.3g} mL of water per 100 g beyond the recommended ratio "
                   f"the wet strength is {rounded(relative, 3)} % of that at the recommended ratio. Wet {with_range(mix.wet_strength_mpa)}; dry "
                   f"{with_range(mix.dry_strength_mpa)}.")


def _bar(bottom, prediction, scale, words):
    length, low, high = (100 * float(x) / scale for x in (prediction.value, prediction.low, prediction.high))
    return [Polygon([0, length, length, 0], [bottom, bottom, bottom + 16, bottom + 16], fill="pale blue", edge="blue", hatch="rising"),
            Line([low, high], [bottom + 8, bottom + 8], colour="vermillion", width=4),
            Text(0, bottom + 26, f"{words}: {with_range(prediction)}", anchor="start", bold=True, size=16)]


def _bar_outline(bottom, prediction, scale):
    length = 100 * float(prediction.value) / scale
    return Polygon([0, length, length, 0], [bottom, bottom, bottom + 16, bottom + 16], fill=None, edge="black", dash="dashed")
