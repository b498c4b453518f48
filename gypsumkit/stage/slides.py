"""A picture for slides: 1920 by 1080, as SVG that stands alone and as PNG, and its numbers as a table for a spreadsheet."""

import textwrap
from html import escape
from io import BytesIO

import matplotlib
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from gypsumkit.bench.sheets import sheet
from gypsumkit.figures.colours import colour_code, in_room, paper
from gypsumkit.figures.differences import differences
from gypsumkit.figures.matplotlib_renderer import _SETTINGS, draw_picture
from gypsumkit.figures.svg_renderer import FONT
from gypsumkit.figures.whole_svg import pattern_names, pattern_svg, whole_svg
from gypsumkit.files import unused, write_new, writing_into
from gypsumkit.problems import Problem

WIDTH_PX, HEIGHT_PX = 1920, 1080
EDGE_PX, GAP_PX, LETTERS_PX, LINE_PX = 24, 24, 26, 34
LETTERS_A_LINE = 136
FOLDER = "slides"
STANDING = "Predicted by gypsumkit, with plausible ranges where drawn; for teaching only."


class _Layout:
    """Where the pictures of a slide stand: as large as they can, in a row, with the lines of text below."""

    def __init__(self, scene, said):
        self.lines = [line for text in (*said, STANDING) for line in textwrap.wrap(text, LETTERS_A_LINE)]
        width = sum(picture.width for picture in scene.pictures)
        tallest = max(picture.height for picture in scene.pictures)
        self.text_top = HEIGHT_PX - EDGE_PX - LINE_PX * len(self.lines)
        across = WIDTH_PX - 2 * EDGE_PX - GAP_PX * (len(scene.pictures) - 1)
        self.scale = min(across / width, self.text_top / tallest)
        left = (WIDTH_PX - self.scale * width - GAP_PX * (len(scene.pictures) - 1)) / 2
        self.lefts = []
        for picture in scene.pictures:
            self.lefts.append(left)
            left += self.scale * picture.width + GAP_PX


def slide_svg(scene, said=(), room="light room"):
    """Return a scene as one SVG file: axes, marks and words in it, nothing fetched from elsewhere.

    Parameters
    ----------
    scene : Scene
        One picture or a few, made ready for the stage.
    said : sequence of str
        Written below, a line or more each.
    room : str
        One of `gypsumkit.figures.colours.ROOMS`.

    Returns
    -------
    bytes
    """
    layout = _Layout(scene, said)
    with in_room(room):
        drawn = [whole_svg(picture).replace("display:block;width:100%;height:auto", "overflow:visible") for picture in scene.pictures]
        patterns = "".join(map(pattern_svg, pattern_names("".join(drawn))))
        ink = colour_code("black", "text")
        parts = [f'<?xml version="1.0" encoding="UTF-8"?>\n<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH_PX}" height="{HEIGHT_PX}" '
                 f'viewBox="0 0 {WIDTH_PX} {HEIGHT_PX}" font-family="{escape(FONT)}"><title>{escape(scene.words or scene.pictures[0].words)}</title>'
                 f'<defs>{patterns}</defs><rect width="{WIDTH_PX}" height="{HEIGHT_PX}" fill="{paper()}"/>']
        parts += [f'<g transform="translate({left:.2f}) scale({layout.scale:.4f})">{each}</g>' for left, each in zip(layout.lefts, drawn)]
        parts += [f'<text x="{EDGE_PX}" y="{layout.text_top + LINE_PX * place + LETTERS_PX}" font-size="{LETTERS_PX}" fill="{ink}">{escape(line)}</text>'
                  for place, line in enumerate(layout.lines)]
    return "".join([*parts, "</svg>\n"]).encode("utf-8")


def slide_png(scene, said=(), room="light room"):
    """Return the same slide as a PNG image of 1920 by 1080 pixels; see `slide_svg`."""
    layout = _Layout(scene, said)
    with in_room(room), matplotlib.rc_context(_SETTINGS):
        figure = Figure(figsize=(WIDTH_PX / layout.scale / 72, HEIGHT_PX / layout.scale / 72), dpi=72 * layout.scale, facecolor=paper())
        FigureCanvasAgg(figure)
        for left, picture in zip(layout.lefts, scene.pictures):
            draw_picture(figure, picture, moving=True, left=left / layout.scale)
        for place, line in enumerate(layout.lines):
            figure.text(EDGE_PX / WIDTH_PX, 1 - (layout.text_top + LINE_PX * place + LETTERS_PX) / HEIGHT_PX, line, fontsize=LETTERS_PX / layout.scale,
                        color=colour_code("black", "text"), va="baseline")
        image = BytesIO()
        figure.savefig(image, format="png", facecolor=paper(), edgecolor="none", dpi=figure.dpi, metadata={"Software": None})
    return image.getvalue()


def numbers_csv(scene, said=()):
    """Return the numbers of a scene, and how the pinned ones differ, as a table for a spreadsheet.

    Parameters
    ----------
    scene : Scene
        Its table is written.
    said : sequence of str
        Written first: what the numbers belong to.

    Returns
    -------
    bytes

    Raises
    ------
    Problem
        When the scene has no table.
    """
    if scene.numbers is None:
        raise Problem("This picture has no table of numbers to save.")
    apart = differences(scene.numbers)
    rows = [*scene.numbers.rows] + ([(), (apart.caption,), apart.heads, *apart.rows] if apart is not None else [])
    return sheet([scene.numbers.heads[0] or "number", *scene.numbers.heads[1:]], [*rows, (), *((line,) for line in (*said, STANDING))])


def save_new(contents, name, folder):
    """Write files that belong together into the folder of slides, under a name that none of them has yet.

    Parameters
    ----------
    contents : dict of str to bytes
        Content by the end of the file's name, such as ".svg".
    name : str
        Name without its end.
    folder : pathlib.Path
        The work folder.

    Returns
    -------
    list of pathlib.Path
        The files written; nothing is ever written over.

    Raises
    ------
    Problem
        When the disk is full or the folder cannot be written.
    """
    folder = folder / FOLDER
    with writing_into(folder, "the folder of slides"):
        folder.mkdir(parents=True, exist_ok=True)
    stem, count = name, 2
    while any(unused(folder / f"{stem}{end}").name != f"{stem}{end}" for end in contents):
        stem, count = f"{name} {count}", count + 1
    written = []
    for end, content in contents.items():
        write_new(folder / f"{stem}{end}", content)
        written.append(folder / f"{stem}{end}")
    return written
