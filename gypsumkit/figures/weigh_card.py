"""The weigh-and-measure card: one printed page to stand beside the bowl, and to write on."""

import io
import textwrap
import warnings

import matplotlib
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_pdf import FigureCanvasPdf
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.lines import Line2D
from matplotlib.textpath import TextPath

from gypsumkit.bench.plan import CAUTIONS, FIRST, WET_MIN
from gypsumkit.bench.plan_words import amount, counted
from gypsumkit.conditions import HAND_TURNS
from gypsumkit.figures.colours import colour_code
from gypsumkit.figures.matplotlib_renderer import _SETTINGS
from gypsumkit.powders import named
from gypsumkit.showing import rounded

PAPERS = {"A4": (595.276, 841.890), "Letter": (612.0, 792.0)}          # points, 1/72 inch
MARGIN = 40.0
TITLE, LARGE, TEXT, SMALL = 27.0, 21.0, 13.0, 10.5
UNIT_WIDTH = 50.0
MOST_ROWS = 4


def paper_named(name):
    """Return the usual spelling of a paper.

    Parameters
    ----------
    name : str
        "A4" or "Letter"; capitals do not matter.

    Raises
    ------
    Problem
        When there is none of that name.
    """
    usual = {paper.lower(): paper for paper in PAPERS}
    return usual[named(name, usual, "no paper")]


class _Page:
    """A page that is written from top to bottom, in points."""

    def __init__(self, paper):
        self.width, self.height = PAPERS[paper]
        self.figure = Figure(figsize=(self.width / 72, self.height / 72), dpi=72, facecolor="white")
        self.top = self.height - MARGIN
        self.right = self.width - MARGIN

    def down(self, points):
        self.top -= points

    def write(self, text, size=TEXT, x=MARGIN, bold=False, colour="black", align="left", width=None):
        """Write one line with its top at the present height; made smaller where it would be too wide."""
        font = FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal")
        width = width or self.right - MARGIN
        long = TextPath((0, 0), text, size=size, prop=font).get_extents().width if text.strip() else 0
        self.figure.text(x / self.width, self.top / self.height, text, fontsize=size * min(1.0, 0.97 * width / long) if long else size, va="top", ha=align,
                         weight="bold" if bold else "normal", color=colour_code(colour, "text"))

    def rule(self, x0=MARGIN, x1=None, below=0.0, width=1.0):
        y = (self.top - below) / self.height
        self.figure.add_artist(Line2D([x0 / self.width, (x1 or self.right) / self.width], [y, y], linewidth=width, color=colour_code("black", "line")))

    def field(self, name, x, x1, size=TEXT):
        """A name and a line to write on."""
        self.write(name, size, x, width=x1 - x)
        long = TextPath((0, 0), name, size=size, prop=FontProperties(family="DejaVu Sans")).get_extents().width
        self.rule(x + long + 6, x1, below=size + 2, width=0.8)


def _steps(plan):
    """What is done, when, and what the student writes beside it."""
    asked, moments = plan.session, plan.moments
    turns = f"{asked.turns or HAND_TURNS[asked.mixing]:.0f} turns" if not asked.by_machine else "by the machine"

    def minutes(value, digits=3):
        return amount(float(rounded(value, digits)))
    yield "Powder into the water, let it get wet", f"{minutes(WET_MIN)} min", ""
    how = "Spatulate" if asked.mixing == "spatulated by hand" else "Mix"
    yield f"{how}: {turns}", f"until {minutes(moments.mixed_min)} min", "s" if asked.by_machine else "turns"
    if asked.ring_test:
        yield "Fill the ring, lift it", f"at {minutes(moments.ring_min)} min", "mm, mm"
    yield "Vibrate and pour", f"by {minutes(moments.poured_min)} min", "min"
    yield "It no longer pours (predicted)", f"about {minutes(moments.pours_until_min, 2)} min", "min"
    yield "Loss of gloss (predicted)", f"about {moments.gloss_loss_min:.0f} min", "min"
    yield "Final set (predicted)", f"about {moments.final_set_min:.0f} min", "min"
    yield "Separate", f"not before {moments.separate_min} min", "min"


def card_figure(plan, paper="A4"):
    """Return the card as a figure of one page.

    Parameters
    ----------
    plan : gypsumkit.bench.plan.SessionPlan
        The session.
    paper : str
        "A4" or "Letter".

    Returns
    -------
    matplotlib.figure.Figure
    """
    with matplotlib.rc_context(_SETTINGS), warnings.catch_warnings():
        warnings.simplefilter("ignore")                   # a letter that the font lacks is drawn as a box
        return _card(plan, paper_named(paper))


def _card(plan, paper):
    page, asked = _Page(paper), plan.session
    half = MARGIN + (page.right - MARGIN) / 2
    page.write(asked.powder[0].upper() + asked.powder[1:], TITLE, bold=True)
    page.down(TITLE + 9)
    page.write(f"{100 * asked.water_powder_ratio:.3g} mL water to 100 g powder, {asked.mixing}, water at {asked.water_temperature_c:g} °C", TEXT)
    page.down(TEXT + 12)
    third = (page.right - MARGIN) / 3
    for place, name in enumerate(("Lot", "Date", "Group")):
        page.field(name, MARGIN + place * third, MARGIN + (place + 1) * third - (12 if place < 2 else 0))
    page.down(TEXT + 14)

    _batches(page, plan)

    page.write("From the start of mixing (powder meets water)", TEXT, bold=True)
    page.write("written by me", SMALL, page.right, align="right")
    page.down(TEXT + 7)
    page.rule()
    page.down(7)
    when, mine = MARGIN + 255, page.right - 122
    for does, moment, unit in _steps(plan):
        page.write(does, TEXT, width=when - MARGIN - 6)
        page.write(moment, TEXT, when, bold=True, width=mine - when - 8)
        if unit:
            page.rule(mine, page.right - UNIT_WIDTH - 4, below=TEXT + 2, width=0.8)
            page.write(unit, SMALL, page.right - UNIT_WIDTH, width=UNIT_WIDTH)
        page.down(TEXT + 10.5)
    page.down(1)
    page.rule()
    page.down(9)
    for left, right in (("Powder weighed (g)", "Water measured (mL)"), ("Water (°C)", "Room (°C)"), ("What I saw", None)):
        page.field(left, MARGIN, half - 12 if right else page.right)
        if right:
            page.field(right, half, page.right)
        page.down(TEXT + 13)
    page.write("Take care", TEXT, bold=True)
    page.down(TEXT + 5)
    why = f"Separate: {plan.moments.separate_why}. Times marked predicted have constants of our own."
    for said in (*CAUTIONS, *plan.notes, why):
        for place, line in enumerate(textwrap.wrap(said, 96)):
            page.write(("•  " if place == 0 else "    ") + line, SMALL)
            page.down(SMALL + 3)
    page.top = MARGIN + TEXT
    page.write(FIRST + ".", TEXT, bold=True, colour="blue")
    return page.figure


def _batches(page, plan):
    """The table of bowls: large numbers, to be read over a bowl."""
    columns = (MARGIN, MARGIN + 150, MARGIN + 300, page.right)
    for name, x, align in (("A bowl (◄ today) for", columns[0], "left"), ("Powder", columns[1], "left"), ("Water", columns[2], "left"), ("Ratio", columns[3], "right")):
        page.write(name, TEXT, x, align=align, width=140)
    page.down(TEXT + 6)
    page.rule(width=1.5)
    page.down(8)
    shown = [batch for batch in plan.batches if batch.casts <= 3 or batch is plan.batch][-MOST_ROWS:]
    for batch in shown:
        used = batch is plan.batch
        page.write(counted(batch.casts, "cast") + ("  ◄" if used else ""), LARGE, columns[0], bold=used, width=140)
        page.write(f"{amount(batch.powder_g)} g", LARGE, columns[1], bold=True, width=140)
        page.write(f"{amount(batch.water_ml)} mL", LARGE, columns[2], bold=True, width=140)
        page.write(f"{batch.water_powder_ratio:.3f}", TEXT + 2, columns[3], align="right")
        page.down(LARGE + 9)
    page.rule(width=1.5)
    page.down(16)


def weigh_card_pdf(plan, paper="A4"):
    """Return the card as a PDF of one page, always the same for the same plan.

    Parameters
    ----------
    plan : SessionPlan
    paper : str
        "A4" or "Letter".

    Returns
    -------
    bytes
    """
    return _saved(plan, paper, FigureCanvasPdf, format="pdf", metadata={
        "Title": f"Weigh-and-measure card: {plan.session.powder}", "Creator": "gypsumkit", "Producer": "gypsumkit", "CreationDate": None})


def weigh_card_png(plan, paper="A4", density=1.5):
    """Return the card as a picture.

    Parameters
    ----------
    plan : SessionPlan
    paper : str
        "A4" or "Letter".
    density : float
        Pixels a point.

    Returns
    -------
    bytes
    """
    return _saved(plan, paper, FigureCanvasAgg, format="png", dpi=72 * density)


def _saved(plan, paper, canvas, **how):
    figure, saved = card_figure(plan, paper), io.BytesIO()
    with matplotlib.rc_context(_SETTINGS), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        canvas(figure).print_figure(saved, facecolor="white", **how)
    return saved.getvalue()
