"""The key card: one printed page that says which key does what on the stage."""

import io
import warnings

import matplotlib
from matplotlib.backends.backend_pdf import FigureCanvasPdf

from gypsumkit.figures.matplotlib_renderer import _SETTINGS
from gypsumkit.figures.weigh_card import LARGE, MARGIN, SMALL, TEXT, TITLE, _Page, paper_named

KEYS_AT = MARGIN + 240

ROWS = (
    ("Everywhere", (
        ("go to the next control", "Tab"), ("go back to the one before", "Shift + Tab"), ("press a button, tick a box", "space bar"),
        ("choose from a list", "arrow up, arrow down"), ("type a number or a list", "type, then Enter"))),
    ("A slider", (("one step", "arrow left, arrow right"), ("a large step", "Page Up, Page Down"), ("to an end", "Home, End"))),
    ("On the stage (the button, then the space bar; it keeps the focus)", (
        ("cover the window, or leave", "Projector view; Esc leaves"), ("white on black, or back", "Dark room"), ("keep this one to compare", "Pin this one"),
        ("several recipes at once", "Compare recipes: 42, 50 of model plaster"), ("back to the start", "Reset"), ("for your slides", "Save picture, Save numbers"))),
    ("In the demonstration", (
        ("the step after, the step before", "Next step, Previous step"), ("what happens, and the answer", "Reveal"), ("question or picture", "Show the question"),
        ("hands before and after", "A 12, B 7, C 3, then Enter"),
        ("the real mix", "Start the clock, Gloss lost now"), ("the rings", "Lift all rings, Vibrator on, Again"), ("for another class", "Begin anew"))),
)


def key_card_pdf(paper="A4"):
    """Return the card as a PDF of one page.

    Parameters
    ----------
    paper : str
        "A4" or "Letter".

    Returns
    -------
    bytes
    """
    page = _Page(paper_named(paper))
    page.write("Keys for the stage", TITLE, bold=True)
    page.down(TITLE + 16)
    for heading, rows in ROWS:
        page.write(heading, LARGE - 5, bold=True)
        page.down(LARGE + 3)
        for what, keys in rows:
            page.write(what, TEXT, MARGIN, width=KEYS_AT - MARGIN - 10)
            page.write(keys, TEXT, KEYS_AT, bold=True, width=page.right - KEYS_AT)
            page.rule(below=17, width=0.5)
            page.down(23)
        page.down(12)
    page.write("Numbers may have a point or a comma, and a unit. Nothing that you save is written over.", SMALL)
    content = io.BytesIO()
    with matplotlib.rc_context(_SETTINGS), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        FigureCanvasPdf(page.figure).print_figure(content, facecolor="white", format="pdf", metadata={
            "Title": "Keys for the stage", "Creator": "gypsumkit", "Producer": "gypsumkit", "CreationDate": None})
    return content.getvalue()
