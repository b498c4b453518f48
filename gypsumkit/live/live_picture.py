"""The live picture: a still page drawn by matplotlib, and over it what moves, drawn as SVG.

Both layers are one cell of a grid and hold the same row of pictures, so they wrap alike at every
width. Moving a slider sends one short text, the front layer; the page behind is sent again only when
it changes.
"""

import base64
from collections import OrderedDict
from contextlib import contextmanager
from html import escape

import ipywidgets as widgets

from gypsumkit.figures import tables
from gypsumkit.figures.colours import in_room
from gypsumkit.figures.matplotlib_renderer import backdrop_png, static_png
from gypsumkit.figures.scene import still_part
from gypsumkit.figures.svg_renderer import overlay_svg

NARROWEST = 0.66          # three pictures then stand side by side on a laptop of 1280 px with the list of lessons open
WIDEST = 1.6
STILL_LARGE = 1.25        # pictures larger than this become smaller again where they would not fit below their controls
CONTROLS_PX = 310         # of a window's height: Lab's bars and the controls
PAGES_KEPT = 96           # of all pictures of a kernel together; some 50 kB each

_SAME_CELL = "1 / 1 / 2 / 2"
_CELL = "padding:3px 12px 3px 0;text-align:left;vertical-align:top;line-height:1.4;white-space:normal"
_TABLE_STYLES = {"table": "border-collapse:collapse;margin:0;overflow-wrap:normal;font-variant-numeric:tabular-nums",
                 "caption": "text-align:left;font-weight:bold;padding:2px 0", "head": f"{_CELL};border-bottom:2px solid currentColor",
                 "row": f"{_CELL};font-weight:normal", "cell": f"{_CELL};min-width:5em"}


class LivePicture(widgets.GridBox):
    """A scene on the screen that changes within the time of a slider step.

    Parameters
    ----------
    scene : Scene
        What is shown first.
    """

    _pages = OrderedDict()          # by room and what stands still: of two pictures that begin alike the page is drawn once
    _blank = False

    def __init__(self, scene):
        self._back = widgets.HTML(layout=widgets.Layout(grid_area=_SAME_CELL, margin="0", width="auto"))
        self._front = widgets.HTML(layout=widgets.Layout(grid_area=_SAME_CELL, margin="0", width="auto"))
        self._pages_shown = None
        self._view = None
        super().__init__(
            [self._back, self._front],
            layout=widgets.Layout(grid_template_columns="minmax(0, 1fr)", width="100%", overflow="hidden"))
        self.add_class("gypsumkit-picture")
        self.show(scene)

    def show(self, scene):
        """Show a scene: what moves at once, what stands still only where it differs from before.

        Parameters
        ----------
        scene : Scene
            What is shown from now on.
        """
        with in_room(self._room):
            shown = self._arranged(scene)
            front = self._front_html(shown)
            self._show_pages(shown)
        self._front.value = front
        self.scene = scene

    def show_as(self, view):
        """Show the same scene another way from now on.

        Parameters
        ----------
        view : StageView or None
            How it is arranged and written, for which room; None for the page.
        """
        self._view, self._pages_shown = view, None
        self.show(self.scene)

    @property
    def _room(self):
        return "light room" if self._view is None else self._view.room

    def _arranged(self, scene):
        return scene if self._view is None else self._view.arranged(scene)

    def _front_html(self, shown):
        return front_html(shown) if self._view is None else self._view.front_html(shown)

    def _show_pages(self, shown):
        """Send what stands still, where it differs from before."""
        pages = tuple(still_part(picture) for picture in shown.pictures)
        if pages != self._pages_shown:
            make = back_html if self._view is None else self._view.back_html
            self._back.value = make(shown, [self._page((self._room, key), picture) for key, picture in zip(pages, shown.pictures)])
            self._pages_shown = pages

    def words(self):
        """Return what is shown in words, its numbers included.

        Returns
        -------
        str
            The words of the scene, or of its pictures when it has none of its own, then the table of numbers.
        """
        return scene_in_words(self.scene)

    def static_png(self):
        """Return what is shown as one image to be stored.

        Returns
        -------
        bytes
            A PNG image.
        """
        return static_png(self.scene)

    def _page(self, key, picture):
        if self._blank:
            return ""
        if key not in self._pages:
            self._pages[key] = base64.b64encode(backdrop_png(picture)).decode("ascii")
            while len(self._pages) > PAGES_KEPT:
                self._pages.popitem(last=False)
        self._pages.move_to_end(key)
        return self._pages[key]


@contextmanager
def pages_left_blank():
    """Make pictures without the page behind while the block runs: for explorers of which only the scenes are wanted."""
    before, LivePicture._blank = LivePicture._blank, True
    try:
        yield
    finally:
        LivePicture._blank = before


def back_html(scene, pages):
    """Return the layer that stands still.

    Parameters
    ----------
    scene : Scene
        Its pictures.
    pages : sequence of str
        One PNG image for each picture, in base64.

    Returns
    -------
    str
        HTML.
    """
    images = "".join(
        '<img alt="" decoding="sync" draggable="false" width="{:g}" height="{:g}" '
        'style="display:block;width:100%;height:auto;margin:0" src="data:image/png;base64,{}">'.format(
            picture.width, picture.height, page)
        for picture, page in zip(scene.pictures, pages))
    return _as_wide_as_the_page(_row(scene, images))


def front_html(scene):
    """Return the layer that moves: the moving marks, the numbers and the words.

    Parameters
    ----------
    scene : Scene
        What it shows.

    Returns
    -------
    str
        HTML, every string in it escaped.
    """
    parts = [_row(scene, "".join(overlay_svg(picture) for picture in scene.pictures))]
    if scene.numbers is not None:
        parts.append(table_html(scene.numbers))
    if scene.words:
        parts.append('<p style="margin:10px 0 4px;max-width:75em;line-height:1.45">{}</p>'.format(escape(scene.words)))
    return _as_wide_as_the_page("".join(parts))


def table_html(table, box=""):
    """Return a table of numbers that looks the same wherever it stands, and scrolls by itself where the page is narrow.

    Parameters
    ----------
    table : Table
        What it says.
    box : str
        More attributes of the box that scrolls.

    Returns
    -------
    str
        HTML, every string in it escaped.
    """
    return f'<div {box}{" " * bool(box)}style="overflow-x:auto;margin-top:8px">{tables.table_html(table, _TABLE_STYLES)}</div>'


def scene_in_words(scene):
    """Return a scene as plain text: the words, then the numbers, one line each.

    Parameters
    ----------
    scene : Scene
        What is said.

    Returns
    -------
    str
        Lines of text.
    """
    lines = [scene.words] if scene.words else [picture.words for picture in scene.pictures]
    if scene.numbers is not None:
        heads = scene.numbers.heads[1:]
        lines += ["{}: {}".format(row[0], "; ".join(
            text if place == 0 else "{} {}".format(head, text)
            for place, (head, text) in enumerate(zip(heads, row[1:])) if text)) for row in scene.numbers.rows]
    return "\n".join(lines)


def _row(scene, items):
    width, count = scene.pictures[0].width, len(scene.pictures)
    least, most = (count * (width * times + 12) for times in (STILL_LARGE, WIDEST))
    shape = count * width / max(picture.height for picture in scene.pictures)
    return ('<div style="display:grid;gap:12px;align-items:start;line-height:0;'
            'max-width:max({:.0f}px,min({:.0f}px,calc((100vh - {}px)*{:.4f})));'
            'grid-template-columns:repeat(auto-fit,minmax(min(100%,{:.0f}px),1fr))">{}</div>'.format(
                least, most, CONTROLS_PX, shape, width * NARROWEST, items))


def _as_wide_as_the_page(content):
    # Without a width of its own, so that no wide table makes one layer wider than the other: they must agree.
    return '<div style="width:0;min-width:100%">{}</div>'.format(content)
