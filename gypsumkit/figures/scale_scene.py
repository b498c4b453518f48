"""What the scale does: its part of the scatter of a class, how a bigger batch helps, and what weighing alone draws."""

import numpy as np

from gypsumkit.bench.own_data import MEASURED
from gypsumkit.bench.weighing import DRAWS, Tools, batch_curve, drawn_ratios, quantity_at, shares, shares_words, weighed, weighed_words
from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.powders import POWDERS
from gypsumkit.remembering import remembered
from gypsumkit.showing import rounded

PICTURE_HEIGHT = 420
LEAST_BATCH_G, MOST_BATCH_G = 10.0, 500.0
BATCHES_G = np.geomspace(LEAST_BATCH_G, MOST_BATCH_G, 60)
BATCH_TICKS_G = (10, 20, 50, 100, 200, 500)
PERCENT_TOPS = (5, 10, 20, 40, 80, 160)
CLASS_TOOLS = Tools(1.0, 1.0)       # what a class is taken to have weighed with   [gypsumkit]
BINS = 40
HALF_WIDTHS = (0.02, 0.05, 0.1, 0.2, 0.4, 0.8)      # of the picture of draws, over the value: few, so that the page behind seldom changes

PARTS = (("weighing", "weighing", "blue", "pale blue", "rising"), ("within", "hand, reading, powder", "black", "pale grey", ""),
         ("between", "between makers", "green", "pale green", "falling"))

LIMITS = ("Limits: a reading lies anywhere within half a step; a scale or a cylinder that is wrong for all mixes alike is no scatter and not part of it, nor is "
          "water left in the cylinder or powder left in the bowl. The class is taken to have weighed to 1 g and 1 mL; the rest of its scatter is kept as it "
          "was. All at the recommended ratio, made in the standard way. A share of the variance is not a share of the standard deviation. For teaching only.")


def scale_scene(compared, powder, powder_g, tools, whose="", left_out=(), left_out_words=""):
    """Describe what weighing does beside the scatter of a class.

    Parameters
    ----------
    compared : gypsumkit.bench.own_data.Comparison
        One quantity of the class.
    powder : str
        Name of a powder.
    powder_g : float
        Powder in the batch that is asked about, g.
    tools : Tools
        What it is weighed with.
    whose : str
        Whose data the scatter is, as a sentence.
    left_out : sequence of int
        Rows that the seen scatter leaves out.
    left_out_words : str
        Which they are, as a sentence.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    quantity, ratio = compared.quantity, POWDERS[powder].recommended_ratio.value
    now = weighed(powder, ratio, powder_g, tools, quantity)
    class_g = class_batch_g(compared, powder)
    of_class = _class_percent(powder, class_g, quantity)
    found = shares(compared, powder, now.percent, of_class, left_out)
    before = shares(compared, powder, of_class, of_class, left_out)
    said = " ".join(filter(None, [whose,
                                  f"{powder[0].upper()}{powder[1:]} at {ratio:g}, {powder_g:g} g of powder, scale to {tools.scale_step_g:g} g, cylinder to "
                                  f"{tools.cylinder_step_ml:g} mL.", weighed_words(now, quantity), left_out_words, shares_words(found, quantity, powder)]))
    pictures = (_shares_picture(found, before, class_g, powder_g), _batch_picture(powder, ratio, powder_g, tools, quantity, now, found, before),
                _drawn_picture(powder, ratio, powder_g, tools, quantity, now))
    return Scene(pictures, said, _table(now, found, before, of_class, class_g, powder_g, quantity))


@remembered(64)
def _class_percent(powder, class_g, quantity):
    """Scatter from weighing as the class is taken to have done, percent of the prediction."""
    return weighed(powder, POWDERS[powder].recommended_ratio.value, class_g, CLASS_TOOLS, quantity).percent


def class_batch_g(compared, powder):
    """Return the usual batch of the class, g of powder: the middle one of its rows, 100 where there is none."""
    grams = compared.records["powder_g"][compared.counted & (compared.powder == powder)]
    return float(np.median(grams)) if grams.size else 100.0


def _percent(value):
    return f"{rounded(value)} %" if np.isfinite(value) else "not enough"


def _share(value):
    return f"{value:.0f} %" if np.isfinite(value) else "not enough"


def _table(now, found, before, of_class, class_g, powder_g, quantity):
    rows = [("weighing alone, standard deviation", _percent(now.percent), _percent(of_class)),
            ("all together, standard deviation", _percent(found.expected), _percent(before.seen))]
    for name, words, *_ in PARTS:
        rows.append((f"share of the variance: {words if found.split or name != 'within' else 'all the rest'}", _share(getattr(found, name)),
                     _share(getattr(before, name))))
    return Table(("", f"{powder_g:g} g, weighed as chosen", f"{class_g:g} g, as the class did"), tuple(rows),
                 f"Scatter of the {MEASURED[quantity].words}, in % of the prediction")


# ---------------------------------------------------------------- shares


def _shares_picture(found, before, class_g, powder_g):
    moving, known = [], np.isfinite(found.weighing)
    for left, one, words in ((4, before, f"class, {class_g:g} g"), (54, found, f"chosen, {powder_g:g} g")):
        moving.append(Text(left + 21, 111, words, size=15, bold=True))
        bottom = 0.0
        for name, _, edge, fill, hatch in PARTS:
            share = getattr(one, name)
            if not np.isfinite(share) or share < 0.05:
                continue
            moving.append(Polygon([left, left + 42, left + 42, left], [bottom, bottom, bottom + share, bottom + share], fill=fill, edge=edge, hatch=hatch))
            if share >= 6:
                moving.append(Text(left + 21, bottom + share / 2, f"{share:.0f} %", bold=True, size=17))
            bottom += share
    if not known:
        moving = [Text(50, 60, "not enough results", bold=True), Text(50, 46, "of this powder to see a scatter", size=14)]
    panel = Panel("shares", (0, 100), (0, 118), title="Where the scatter comes from", y_label="share of the variance (%)", height_share=5, x_ticks=(),
                  y_ticks=(0, 20, 40, 60, 80, 100),
                  moving=tuple(moving))
    signs = []
    for i, (name, words, edge, fill, hatch) in enumerate(PARTS):
        y = 76 - 28 * i
        text = words if found.split or name != "within" else "all the rest"
        signs += [Polygon([2, 10, 10, 2], [y - 9, y - 9, y + 9, y + 9], fill=fill, edge=edge, hatch=hatch), Text(13, y, text, anchor="start", size=14.5)]
    return Picture("shares", (panel, Panel("signs", (0, 100), (0, 90), show_axes=False, moving=tuple(signs))), height=PICTURE_HEIGHT,
                   words=f"Shares of the variance with the chosen weighing: weighing {_share(found.weighing)}, hand, reading and powder {_share(found.within)}, between makers {_share(found.between)}.")


# ---------------------------------------------------------------- the batch


def _batch_picture(powder, ratio, powder_g, tools, quantity, now, found, before):
    alone = batch_curve(powder, ratio, BATCHES_G, tools, quantity)
    x = np.log(BATCHES_G)
    rest = np.sqrt(max(found.expected**2 - now.percent**2, 0.0)) if np.isfinite(found.expected) else np.nan
    together = np.hypot(alone, rest)
    here = float(np.log(powder_g))
    high = max(float(now.percent), found.expected if np.isfinite(found.expected) else 0.0, before.seen if np.isfinite(before.seen) else 0.0)
    top = float(next((top for top in PERCENT_TOPS if top >= 1.25 * high), 1.25 * high))
    moving = [Line(x, np.where(alone <= top, alone, np.nan)), Rule(x=here, colour="dark grey", width=1.5)]
    if np.isfinite(rest):
        moving += [Line(x, np.where(together <= top, together, np.nan), colour="vermillion", dash="dashed", width=3),
                   Rule(y=before.seen, colour="black", dash="dotted", label=f"class {rounded(before.seen)} %"),
                   Marker(here, found.expected, "diamond")]
    moving += [Marker(here, now.percent, "circle", "blue"), Text(here, now.percent, f"{rounded(now.percent)} %", anchor="auto", right=12, up=16,
                                                                 bold=True, size=17)]
    panel = Panel("batch", (float(x[0]), float(x[-1])), (0.0, top), title="A bigger batch helps", x_label="powder in the batch (g, longer steps)",
                  y_label="standard deviation (% of the prediction)",
                  height_share=5, x_ticks=tuple((float(np.log(tick)), str(tick)) for tick in BATCH_TICKS_G), moving=tuple(moving))
    note = Panel("note", (0, 100), (0, 90), show_axes=False, moving=(
        Line([1, 9], [76, 76]), Text(12, 76, "weighing alone", anchor="start", size=14.5),
        Line([1, 9], [48, 48], colour="vermillion", dash="dashed"), Text(12, 48, "all together, the rest as in the class", anchor="start", size=14.5),
        Line([1, 9], [20, 20], colour="black", dash="dotted"), Text(12, 20, "seen in the class", anchor="start", size=14.5)))
    twice = float(batch_curve(powder, ratio, [2 * powder_g], tools, quantity)[0])
    return Picture("batch", (panel, note), height=PICTURE_HEIGHT,
                   words=f"Scatter against the size of the batch: weighing alone gives {rounded(now.percent)} % with {powder_g:g} g and {rounded(twice)} % with twice as much.")


# ---------------------------------------------------------------- what is drawn


def _drawn_picture(powder, ratio, powder_g, tools, quantity, now):
    ratios = drawn_ratios(powder_g, ratio * powder_g, tools)
    values = quantity_at(powder, quantity, ratios)
    middle = now.value
    half = middle * next((part for part in HALF_WIDTHS if part * middle >= 4 * now.quantity.deviation), HALF_WIDTHS[-1])
    edges = np.linspace(max(middle - half, 0.0), middle + half, BINS + 1)
    heights = np.histogram(values[np.isfinite(values)], edges)[0] / values.size * 100
    x, y = np.repeat(edges, 2), np.concatenate([[0.0], np.repeat(heights, 2), [0.0]])
    top = float(next((top for top in (10, 15, 20, 30, 50, 100) if top >= 1.15 * heights.max()), 105.0))
    low, high = now.quantity.low, now.quantity.high
    moving = [Polygon(x, y, fill="pale blue", edge="blue"), Rule(x=middle, colour="black", dash="dashed"),
              Line([low, high], [0.93 * top] * 2, colour="vermillion", width=4), Text(high, 0.93 * top, "95 of 100", anchor="start", right=8, bold=True,
                                                                                      size=15)]
    what = MEASURED[quantity]
    panel = Panel("drawn", (float(edges[0]), float(edges[-1])), (0.0, top), title="Weighing alone", x_label=f"{what.words} ({what.unit})",
                  y_label="share of the mixes (%)", height_share=5,
                  moving=tuple(moving))
    note = Panel("note", (0, 100), (0, 90), show_axes=False, moving=(
        Text(2, 76, f"{DRAWS:,} mixes, weighed by chance", anchor="start", size=14.5), Text(2, 48, f"95 of 100: {low:.3g} to {high:.3g} {what.unit}",
                                                                                           anchor="start", size=14.5),
        Text(2, 20, "dashed: weighed without error", anchor="start", size=14.5)))
    return Picture("drawn", (panel, note), height=PICTURE_HEIGHT,
                   words=f"What weighing alone makes of one recipe: 95 of 100 mixes have a {what.words} of {low:.3g} to {high:.3g} {what.unit}.")
