"""Own measurements: on the library's band, against their own prediction, and the own line with its bands; outliers are shown and named."""

import numpy as np

from gypsumkit.bench.own_data import ALL_POWDERS, MEASURED, comparison_words, makers_off, precision_words, row_name, suspect_words
from gypsumkit.bench.own_lines import flow_curve, flow_curve_words, strength_line, strength_line_words
from gypsumkit.bench.statistics import summary
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Rule, Scene, Table, Text
from gypsumkit.figures.strength_scene import law_with_range_mpa
from gypsumkit.mix import STRENGTH_TRUSTED_POROSITY, predict, predict_setting
from gypsumkit.powders import POWDERS, STRENGTH_AT_30_PERCENT, STRENGTH_LOSS_RATE, VIBRATION_THINNING
from gypsumkit.problems import Problem
from gypsumkit.remembering import remembered
from gypsumkit.science import flow
from gypsumkit.showing import bracketed, range_words, rounded

PICTURE_HEIGHT = 450
MOST_MARKS = 400                   # so many points stay quick and readable
MOST_RANGES = 30                   # up to so many points each shows its own plausible range
MOST_MAKERS = 40
SIGNS = {"impression plaster": ("diamond", "dark grey"), "model plaster": ("circle", "blue"), "dental stone": ("square", "green"),
         "improved stone": ("triangle", "purple"), "high-expansion stone": ("bar", "black")}
TOPS = (0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.5, 2, 3, 5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 120, 150, 200, 300, 400, 600, 1000, 2000)
LEAST_TOP = {"spread_mm": 55.0, "strength_mpa": 4.0, "expansion_percent": 0.1, **dict.fromkeys(("gloss_loss_min", "initial_set_min", "light_needle_min",
                                                                                                "final_set_min"), 9.0)}
STRESS_TICKS_PA = (10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
STRENGTH_TICKS_MPA = (1, 2, 5, 10, 20, 50, 100, 200)

LIMITS = ("Limits: the plausible range of a prediction says how well its constants are known. It is no tolerance for your mix, and a value inside "
          "it proves nothing. Porosity is predicted from what was weighed, not measured. The own flow curve takes the form of the library's. The "
          "tests suppose that the other values scatter like chance (normal). Dust, hot masses and load frames can hurt: follow the "
          "instructions of product and laboratory. For teaching only.")


def own_data_scene(compared, powder=ALL_POWDERS, whose="", without=False):
    """Describe own data beside the library.

    Parameters
    ----------
    compared : gypsumkit.bench.own_data.Comparison
        One quantity of all mixes.
    powder : str
        A powder, or `ALL_POWDERS`.
    whose : str
        Whose data they are, as a sentence.
    without : bool
        Means and fits leave out the outlier; it stays in the picture.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    shown = compared.of_powder(powder)
    suspect = shown.suspect()
    own, suspect_of_fit, needed = _fit(shown, powder, ())
    outliers = tuple(sorted({found.place for found in (suspect, suspect_of_fit) if found is not None and found.outlier}))
    left_out = outliers if without else ()
    if left_out and own is not None:
        own, _, needed = _fit(shown, powder, left_out)
    marks = _points(shown, outliers)
    pictures = (_with_water(shown, powder, marks, outliers), _against(shown, marks, outliers), _third(shown, compared, powder, own, outliers, left_out))
    return Scene(pictures, _words(shown, compared, powder, whose, suspect, suspect_of_fit, own, needed, left_out), _table(shown, compared, powder, own,
                                                                                                                          left_out))


def _fit(shown, powder, left_out):
    """The own line or curve of this quantity, its suspect, or what would be needed for it."""
    try:
        if shown.quantity == "strength_mpa":
            own = strength_line(shown, left_out)
            return own, own.suspect(), ""
        if shown.quantity == "spread_mm" and powder != ALL_POWDERS:
            own = flow_curve(shown, powder, left_out)
            return own, own.suspect, ""
    except Problem as problem:
        return None, None, str(problem)
    return None, None, ("" if shown.quantity != "spread_mm" else "Choose one powder to see its own flow curve.")


# ---------------------------------------------------------------- words and numbers


def _words(shown, compared, powder, whose, suspect, suspect_of_fit, own, needed, left_out):
    elsewhere = _measured_of_others(shown, compared)
    if elsewhere:
        return f"{whose} No {MEASURED[shown.quantity].words} of {powder} was measured, but {elsewhere}: choose that powder."
    said = [whose, f"{powder[0].upper()}{powder[1:]}.", comparison_words(shown), suspect_words(shown, suspect)]
    if suspect_of_fit is not None and suspect_of_fit.place not in (suspect.place, -1):
        said.append("From the own line: " + suspect_words(shown, suspect_of_fit, fit=True))
    if left_out:
        names = " and ".join(row_name(shown, place) for place in left_out)
        said.append(f"What follows leaves out {names}; the picture still shows it.")
    if own is not None:
        said.append(strength_line_words(own) if shown.quantity == "strength_mpa" else flow_curve_words(own))
    elif needed:
        said.append(needed[0].upper() + needed[1:])
    said.append(_precision(shown, compared, powder, left_out)[1])
    if int(np.sum(shown.compared)) > MOST_MARKS:
        said.append(f"Of so many points {MOST_MARKS} are drawn, all are counted.")
    return " ".join(one for one in said if one)


def _measured_of_others(shown, compared):
    """Of which other powders this was measured, such as "2 of dental stone"; empty where there is something to show, or nothing at all."""
    if np.any(np.isfinite(shown.measured)):
        return ""
    powders = [str(name) for name in compared.powder[np.isfinite(compared.measured)] if str(name)]
    return ", ".join(f"{powders.count(name)} of {name}" for name in dict.fromkeys(powders))


def _precision(shown, compared, powder, left_out):
    """Scatter within and between makers; over all powders where no maker made one powder twice."""
    found = shown.precision(left_out)
    if powder != ALL_POWDERS and not np.isfinite(found.repeatability):
        every = compared.precision(np.flatnonzero(compared.powder == powder)[list(left_out)])
        if np.isfinite(every.repeatability):
            return every, "Nobody made two mixes of this powder. So this is over all powders, in percent of the prediction. " + precision_words(every)
    return found, precision_words(found)


def _table(shown, compared, powder, own, left_out):
    off = shown.off_percent.copy()
    off[list(left_out)] = np.nan
    mean, found = summary(off), _precision(shown, compared, powder, left_out)[0]

    def number(value, unit=""):
        return f"{rounded(value)}{unit}" if np.isfinite(value) else "not enough"
    sure = range_words(mean.low, mean.high) if mean.count > 1 else ""
    rows = [("measured above prediction, mean", number(mean.mean, " %"), f"{sure} %" if sure else "", "0 %"),
            ("single mixes, standard deviation", number(mean.standard_deviation, " %"), "", ""),
            ("the same maker again, standard deviation", number(found.repeatability, " %"), "", ""),
            ("any maker, standard deviation", number(found.reproducibility, " %"), "", "")]
    if own is not None and shown.quantity == "strength_mpa":
        at, low, high = own.at_30_mpa
        rate, slow, fast = own.loss_rate
        library, loss = own.library_at_30, STRENGTH_LOSS_RATE
        rows += [("strength at 30 % pores" + (" (extrapolated)" if own.extrapolated else ""), f"{rounded(at, 3)} MPa", range_words(low, high),
                  f"{rounded(library.value, 3)} MPa{bracketed(library.low, library.high)}"),
                 ("lost by each further 1 % of pores", f"{rounded(rate)} %", range_words(slow, fast),
                  f"{rounded(loss.value)} %{bracketed(loss.low, loss.high)}")]
    elif own is not None:
        library = POWDERS[own.powder].stiffness_pa
        rows.append((f"stiffness of {own.powder}", f"{rounded(own.stiffness_pa[0], 3)} Pa", f"{rounded(own.stiffness_pa[1], 3)} to {rounded(own.stiffness_pa[2], 3)}",
                     f"{rounded(library.value)} Pa ({rounded(library.low)} to {rounded(library.high)})"))
    return Table(("", "own data", "95 % sure", "library (plausible range)"), tuple(rows),
                 f"{MEASURED[shown.quantity].words[0].upper()}{MEASURED[shown.quantity].words[1:]}, {powder}")


# ---------------------------------------------------------------- points


def sign_of(powder):
    """Return shape and colour of a powder's points; a powder of the reader's own looks like the one it was made from."""
    return SIGNS.get(POWDERS[powder].kind, ("cross", "black"))


def _points(shown, outliers):
    """Which rows are drawn: all of them, or evenly picked ones with the outliers among them."""
    places = np.flatnonzero(shown.compared)
    if places.size > MOST_MARKS:
        kept = places[np.linspace(0, places.size - 1, MOST_MARKS).astype(int)]
        places = np.union1d(kept, np.array(outliers, dtype=int))
    return places


def _mark(shown, place, x, y):
    shape, colour = sign_of(shown.powder[place])
    return Marker(x, y, shape, colour, size=9, hollow=not bool(shown.inside[place]))


def _ringed(shown, place, x, y, number):
    """A large open diamond round an outlier, and its name."""
    name = str(shown.records["made_by"][place]).strip() or "no name"
    return (Marker(x, y, "diamond", "vermillion", size=26, hollow=True), _mark(shown, place, x, y),
            Text(x, y, f"outlier: {name[:16]}", anchor="auto", right=18, up=6 + 14 * number, bold=True, size=14.5))


def _marks(shown, places, x, y, outliers):
    marks = [_mark(shown, place, float(x[place]), float(y[place])) for place in places if place not in outliers and np.isfinite(y[place])]
    for number, place in enumerate(outliers):
        if np.isfinite(x[place]) and np.isfinite(y[place]):
            marks += _ringed(shown, place, float(x[place]), float(y[place]), number)
    return marks


def _legend(shown, top):
    """Which sign is which powder, and what hollow means; in a panel of its own."""
    names = [name for name in POWDERS if name in set(shown.powder[shown.compared])]
    marks = []
    for i, name in enumerate(names[:6]):
        shape, colour = sign_of(name)
        x, y = (2, 52)[i % 2], top - 22 * (i // 2)
        marks += [Marker(x, y, shape, colour, size=11), Text(x + 3, y, name[:20], anchor="start", size=14)]
    y = top - 22 * ((len(names[:6]) + 1) // 2)
    return (*marks, Marker(2, y, "circle", "black", size=11, hollow=True), Text(5, y, "hollow: outside its own plausible range", anchor="start", size=14))


# ---------------------------------------------------------------- with the water


def _top(values, least=0.0):
    most = max([least, *[float(v) for v in values if np.isfinite(v)]])
    return float(next((top for top in TOPS if top >= 1.05 * most), 1.1 * most))


def _x_range(shown, powder):
    ratio = shown.ratio[shown.compared]
    if powder != ALL_POWDERS:
        ratio = np.concatenate([ratio, POWDERS[powder].setting.trusted_ratio])
    if not ratio.size:
        return 0.15, 0.70
    return round(np.floor((ratio.min() - 0.02) / 0.05) * 0.05, 3), round(np.ceil((ratio.max() + 0.02) / 0.05) * 0.05, 3)


@remembered(64)
def _band(powder, quantity):
    """The library's band of a quantity over the water, made in the standard way."""
    kind = POWDERS[powder]
    low, high = kind.setting.trusted_ratio
    ratios = np.linspace(max(low - 0.01, kind.least_ratio), min(high + 0.01, kind.most_ratio), 40)
    found = (predict if quantity in ("spread_mm", "strength_mpa") else predict_setting)(powder, ratios)[MEASURED[quantity].predicted]
    return ratios, found.value, found.low, np.where(np.isfinite(found.high), found.high, 2 * found.value)


def _with_water(shown, powder, places, outliers):
    names = [name for name in POWDERS if name in set(shown.powder[shown.compared])] if powder == ALL_POWDERS else [powder]
    bands = {name: _band(name, shown.quantity) for name in names}
    top = _top(np.concatenate([shown.measured[shown.compared], *[band[3] for band in bands.values()]]) if bands else [], LEAST_TOP[shown.quantity])
    x_range, bottom = _x_range(shown, powder), _bottom(shown)
    across = _side_by_side(shown, places, 0.012 * (x_range[1] - x_range[0]))
    backdrop = []
    for ratios, value, low, high in bands.values():
        backdrop += [Band(ratios, low, high), Line(ratios, value)]
    marks = []
    if shown.quantity == "spread_mm" and places.size <= 100:
        one, two = shown.records["spread_one_mm"], shown.records["spread_two_mm"]
        marks += [Line([across[p], across[p]], [one[p], two[p]], colour="dark grey", width=2) for p in places if np.isfinite(one[p] + two[p])]
    marks += _marks(shown, places, across, shown.measured, outliers)
    if not places.size:
        marks.append(_nothing(x_range, (bottom, top)))
    what = MEASURED[shown.quantity]
    panel = Panel("water", x_range, (bottom, top), title="On the library's band", x_label="water/powder ratio (mL per g)",
                  y_label=f"{what.words} ({what.unit})", height_share=5, backdrop=tuple(backdrop), moving=tuple(marks))
    legend = Panel("signs", (0, 100), (0, 90), show_axes=False, moving=_legend(shown, 78))
    bars = " A grey bar joins the two directions." if shown.quantity == "spread_mm" else ""
    bars += " Points of one ratio stand side by side."
    return Picture("water", (panel, legend), height=PICTURE_HEIGHT,
                   words=f"{what.words[0].upper()}{what.words[1:]} against water, {len(places)} points on the library's band for "
                   f"mixes made in the standard way. {int(np.sum(shown.inside))} lie within their own plausible range.{bars}")


def _bottom(shown):
    """Where the axis of the measured quantity begins: a spread is never narrower than its ring."""
    values = np.concatenate([shown.measured[shown.compared], shown.predicted[shown.compared], [np.inf]])
    return 30.0 if shown.quantity == "spread_mm" and values.min() >= 32.0 else min(0.0, float(np.floor(values.min() / 0.05) * 0.05))


def _side_by_side(shown, places, step):
    """Ratios at which the points are drawn: those of one powder and ratio stand side by side, three abreast."""
    across, seen = shown.ratio.copy(), {}
    for place in sorted(places, key=lambda place: shown.measured[place]):
        key = shown.powder[place], round(float(shown.ratio[place]), 3)
        seen[key] = seen.get(key, -1) + 1
        across[place] += step * (0, -1, 1)[seen[key] % 3]
    return across


def _nothing(x_range, y_range):
    return Text(sum(x_range) / 2, sum(y_range) / 2, "nothing measured yet", bold=True)


# ---------------------------------------------------------------- measured against predicted


def _against(shown, places, outliers):
    what = MEASURED[shown.quantity]
    top = _top(np.concatenate([shown.measured[shown.compared], shown.predicted[shown.compared]]), LEAST_TOP[shown.quantity])
    bottom, marks = _bottom(shown), []
    if places.size <= MOST_RANGES:
        marks += [Line([shown.low[p], shown.high[p] if np.isfinite(shown.high[p]) else top], [shown.measured[p]] * 2, colour="dark grey",
                       width=1.5) for p in places]
    marks += _marks(shown, places, shown.predicted, shown.measured, outliers)
    if not places.size:
        marks.append(_nothing((bottom, top), (bottom, top)))
    panel = Panel("against", (bottom, top), (bottom, top), title="Measured against predicted", x_label=f"predicted ({what.unit})",
                  y_label=f"measured ({what.unit})",
                  height_share=5, moving=tuple(marks), backdrop=(Line([bottom, top], [bottom, top], colour="black", dash="dashed", width=2),
                  Text(bottom + 0.8 * (top - bottom), bottom + 0.8 * (top - bottom), "alike", anchor="start", right=8, up=-12, size=14.5)))
    ranges = "grey bars: plausible ranges" if places.size <= MOST_RANGES else "above the dashed line: more than predicted"
    note = Panel("note", (0, 100), (0, 90), show_axes=False, moving=(Text(2, 78, ranges, anchor="start", size=14),
                 Text(2, 52, "each mix at its own recipe: turns, moment,", anchor="start", size=14), Text(2, 30, "temperatures, ring, vibrator",
                                                                                                          anchor="start", size=14)))
    return Picture("against", (panel, note), height=PICTURE_HEIGHT,
                   words=f"Measured against predicted {what.words}, each mix at its own recipe. {comparison_words(shown)}")


# ---------------------------------------------------------------- the own line


def _third(shown, compared, powder, own, outliers, left_out):
    if own is None:
        return _makers(shown, outliers)
    return _strength_picture(shown, own, outliers, left_out) if shown.quantity == "strength_mpa" else _flow_picture(shown, own, outliers, left_out)


def _log_ticks(ticks, low, high):
    return tuple((float(np.log(tick)), f"{tick:g}") for tick in ticks if low <= np.log(tick) <= high)


def _own_marks(x, middle, band, one_more, inside):
    """The own line: solid where measured, dashed beyond; hatched the band of the line, dotted that of one more point."""
    return [Band(x, *band, colour="pale orange", edge="vermillion", edge_dash="solid", hatch="rising"),
            Line(x, one_more[0], colour="vermillion", dash="dotted", width=2), Line(x, one_more[1], colour="vermillion", dash="dotted", width=2),
            Line(x, middle, colour="vermillion", dash="dashed", width=2), Line(x, np.where(inside, middle, np.nan), colour="vermillion", width=3.5)]


def _explained(of_one):
    return Panel("lines", (0, 100), (0, 90), show_axes=False, moving=(
        Line([1, 9], [82, 82], colour="vermillion", width=3.5), Text(11, 82, "own line; hatched: 95 % sure of it", anchor="start", size=14),
        Line([1, 9], [59, 59], colour="vermillion", dash="dashed", width=2), Text(11, 59, "extrapolated: not measured there", anchor="start", size=14),
        Line([1, 9], [36, 36], colour="vermillion", dash="dotted", width=2), Text(11, 36, f"between: 95 of 100 further {of_one}", anchor="start", size=14),
        Line([1, 9], [13, 13], colour="blue"), Text(11, 13, "library, pale: plausible range", anchor="start", size=14)))


@remembered(8)
def _strength_law(at_30, low, high):
    p = np.linspace(*STRENGTH_TRUSTED_POROSITY, 60)
    value, least, most = law_with_range_mpa(p)
    common = STRENGTH_AT_30_PERCENT
    return p, np.log(value * at_30 / common.value), np.log(least * low / common.low), np.log(most * high / common.high)


def _strength_picture(shown, own, outliers, left_out):
    at_30 = own.library_at_30
    p, value, least, most = _strength_law(at_30.value, at_30.low, at_30.high)
    everywhere = strength_line(shown, ()) if left_out else own
    x_of = dict(zip(everywhere.places, 100 * everywhere.porosity))
    low = 100 * min(own.porosity.min(), p[0]) - 2
    high = 100 * max(own.porosity.max(), p[-1]) + 2
    bottom, top = float(min(np.log(shown.measured[everywhere.places]).min(),
                            least.min())) - 0.2, float(max(np.log(shown.measured[everywhere.places]).max(), most.max())) + 0.2
    x = np.linspace(low, high, 80)
    middle, *band = (np.log(one) for one in own.at(x / 100))
    moving = _own_marks(x, middle, band, [np.log(one) for one in own.one_more(x / 100)], own.line.inside(x / 100))
    y_of = np.log(np.where(shown.measured > 0, shown.measured, np.nan))
    drawn = [place for place in everywhere.places if place not in outliers]
    step = max(1, len(drawn) // MOST_MARKS)
    moving += [_mark(shown, place, x_of[place], float(y_of[place])) for place in drawn[::step]]
    for number, place in enumerate(place for place in outliers if place in x_of):
        moving += _ringed(shown, place, x_of[place], float(y_of[place]), number)
    panel = Panel("own", (low, high), (bottom, top), title="The own strength line", x_label="porosity, predicted from the water (%)",
                  y_label="wet strength (MPa, longer steps)",
                  height_share=5, y_ticks=_log_ticks(STRENGTH_TICKS_MPA, bottom, top), backdrop=(Band(100 * p, least, most), Line(100 * p, value)),
                  moving=tuple(moving))
    return Picture("own", (panel, _explained("strengths")), height=PICTURE_HEIGHT,
                   words="Own strength against predicted porosity. " + strength_line_words(own))


@remembered(32)
def _flow_law(powder):
    kind = POWDERS[powder]
    fraction = np.linspace(0.62, 0.95, 80) * kind.jamming_fraction.value
    shape = flow.yield_stress_pa(fraction / kind.jamming_fraction.value, 1.0)
    return fraction, shape


def _flow_picture(shown, own, outliers, left_out):
    kind = POWDERS[own.powder]
    everywhere = flow_curve(shown, own.powder, ()) if left_out else own
    margin = 0.02
    low, high = float(everywhere.fraction.min()) - margin, min(float(everywhere.fraction.max()) + margin, 0.95 * kind.jamming_fraction.value)
    fraction, shape = _flow_law(own.powder)
    x = np.linspace(max(low, 0.58 * kind.jamming_fraction.value), high, 80)
    middle, *band = (np.log(one) for one in own.at(x))
    value = np.log(kind.stiffness_pa.value * shape)
    y_of = np.log(everywhere.stress_pa)
    bottom, top = float(min(y_of.min(), middle.min())) - 0.6, float(max(y_of.max(), middle.max())) + 0.6
    moving = _own_marks(100 * x, middle, band, [np.log(one) for one in own.one_more(x)], own.inside(x))
    by_place = dict(zip(everywhere.places, zip(100 * everywhere.fraction, y_of)))
    moving += [_mark(shown, place, float(by_place[place][0]), float(by_place[place][1])) for place in list(by_place)[:: max(1,
                                                                                                                            len(by_place) // MOST_MARKS)] if place not in outliers]
    for number, place in enumerate(place for place in outliers if place in by_place):
        moving += _ringed(shown, place, float(by_place[place][0]), float(by_place[place][1]), number)
    backdrop = (Band(100 * fraction, np.log(kind.stiffness_pa.low * shape), np.log(kind.stiffness_pa.high * shape)), Line(100 * fraction, value))
    panel = Panel("own", (100 * low, 100 * high), (bottom, top), title="The own flow curve", x_label="powder in the mix, by volume (%)",
                  y_label="yield stress (Pa, longer steps)",
                  height_share=5, y_ticks=_log_ticks(STRESS_TICKS_PA, bottom, top), backdrop=backdrop, moving=tuple(moving))
    return Picture("own", (panel, _explained("mixes")), height=PICTURE_HEIGHT,
                   words="Own yield stress, read from the spread, against the powder in the mix. " + flow_curve_words(own)
                   + f" On the vibrator the yield stress is taken as {1 + VIBRATION_THINNING.value:g} times smaller.")


def _makers(shown, outliers):
    """How far each maker is off the prediction: the same hand again, and other hands."""
    by_maker = makers_off(shown)
    names = sorted(by_maker, key=lambda name: (-by_maker[name].size, name))[:MOST_MAKERS]
    names = sorted(names)
    top, bottom = (_top([sign * value for name in names for value in by_maker[name]], 20.0) for sign in (1, -1))
    moving = [Rule(y=0.0, colour="black", dash="solid")]
    for i, name in enumerate(names, 1):
        values = by_maker[name]
        moving.append(Line([i, i], [values.min(), values.max()], colour="dark grey", width=2))
        moving += [Marker(i, float(value), "circle", "blue", size=9, hollow=True) for value in values[:20]]
        moving.append(Line([i - 0.35, i + 0.35], [values.mean()] * 2, colour="vermillion", width=4))
    for number, place in enumerate(outliers):
        name = str(shown.records["made_by"][place]).strip()
        if name in names:
            x, y = names.index(name) + 1, float(shown.off_percent[place])
            moving += [Marker(x, y, "diamond", "vermillion", size=24, hollow=True), Marker(x, y, "circle", "blue", size=9, hollow=True),
                       Text(x, y, f"outlier: {name[:16]}", anchor="auto", right=16, up=6 + 14 * number, bold=True, size=14.5)]
    if not names:
        moving = [_nothing((0, 10), (-bottom, top))]
    panel = Panel("makers", (0, max(len(names), 9) + 1), (-bottom, top), title="Hands: the same and others", x_label="makers, in alphabetical order",
                  y_label="measured above predicted (%)", height_share=5, moving=tuple(moving))
    more = len(by_maker) - len(names)
    note = Panel("note", (0, 100), (0, 90), show_axes=False, moving=(
        Marker(5, 78, "circle", "blue", size=9, hollow=True), Text(11, 78, "one mix; grey: the same maker's", anchor="start", size=14),
        Line([1, 9], [54, 54], colour="vermillion", width=4), Text(11, 54, "mean of a maker", anchor="start", size=14),
        Text(2, 30, f"{more} more makers are not drawn" if more else "", anchor="start", size=14)))
    return Picture("makers", (panel, note), height=PICTURE_HEIGHT,
                   words=f"How far the mixes of {len(by_maker)} makers are off their prediction. " + precision_words(shown.precision()))
