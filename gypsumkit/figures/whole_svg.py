"""Draws a whole picture, its page and its marks, as one SVG: axes and words as matplotlib has them, hatching as patterns.

Nothing but the places of points changes while a mark moves: hatching is a pattern on the paper, not strokes cut to the mark, so
that two neighbouring pictures are the same text with other numbers.
"""

import re
from functools import lru_cache
from html import escape

import numpy as np
from matplotlib.ticker import MaxNLocator

from gypsumkit.figures.colours import colour_code, room_now
from gypsumkit.figures.hatching import SPACING
from gypsumkit.figures.labels import label_of
from gypsumkit.figures.placing import EDGE, TICK_HEIGHT, TITLE_HEIGHT, places
from gypsumkit.figures.scene import LABEL_SIZE, TICK_SIZE, TITLE_SIZE, Band, Line, Marker, Polygon, Span, Text
from gypsumkit.figures.svg_renderer import mark_svg, opening_tag, stroke

_TICK_STEPS = [1, 2, 2.5, 5, 10]
_DIAGONAL = SPACING * 2 ** 0.5
_PATTERNS = {                       # size and strokes; how far apart they are is decided in `hatching`
    "rising": (_DIAGONAL, "M0 {0}L{0} 0M-2 2L2 -2M{1} {2}L{2} {1}"),
    "falling": (_DIAGONAL, "M0 0L{0} {0}M-2 {1}L2 {2}M{1} -2L{2} 2"),
    "crossed": (_DIAGONAL, "M0 {0}L{0} 0M-2 2L2 -2M{1} {2}L{2} {1}M0 0L{0} {0}M-2 {1}L2 {2}M{1} -2L{2} 2"),
    "level": (SPACING, "M0 0H{0}M0 {0}H{0}"),
    "upright": (SPACING, "M0 0V{0}M{0} 0V{0}"),
    "dots": (SPACING, "M0 0h.01M{0} 0h.01M0 {0}h.01M{0} {0}h.01"),
}


def whole_svg(picture):
    """Return a picture with everything in it as SVG text.

    Parameters
    ----------
    picture : Picture
        The picture.

    Returns
    -------
    str
        One ``<svg>`` element, named with the picture in words. Its hatched areas point to `pattern_svg`.
    """
    parts = [opening_tag(picture)]
    for panel, place in zip(picture.panels, places(picture)):
        parts.append(_page_svg(panel.title, panel.x_label, panel.y_label, panel.right_axis and (panel.right_axis.label, panel.right_axis.factor),
                               panel.show_axes, _pairs(panel.x_ticks), _pairs(panel.y_ticks), place, room_now()))
        parts.append(_marks_svg(tuple(panel.backdrop), place, room_now()))
        parts.append(_marks_svg.__wrapped__(panel.moving, place, room_now()))
    parts.append("</svg>")
    return "".join(parts)


def pattern_svg(name):
    """Return a pattern to which hatched areas point, for the ``<defs>`` of a page.

    Parameters
    ----------
    name : str
        As an area points to it: its hatching, line colour and fill colour, joined by "--".

    Returns
    -------
    str
    """
    hatch, edge, fill = name.replace("_", " ").split("--")
    size, path = _PATTERNS[hatch]
    path = path.format(f"{size:.3f}", f"{size - 2:.3f}", f"{size + 2:.3f}")
    paper = "" if fill == "none" else f'<path d="M0 0H{size:.3f}V{size:.3f}H0Z" fill="{colour_code(fill)}"/>'
    return (f'<pattern id="{name}" width="{size:.3f}" height="{size:.3f}" patternUnits="userSpaceOnUse">{paper}<path d="{path}" fill="none" '
            f'stroke="{colour_code(edge, "line")}" stroke-width="{3 if hatch == "dots" else 1.3}" stroke-linecap="round"/></pattern>')


def pattern_names(text):
    """Return the names of all patterns that a text of pictures points to, in order."""
    return sorted(set(re.findall(r"url\(#([\w-]+)\)", text)))


# ---------------------------------------------------------------- marks


@lru_cache(maxsize=128)             # what stands still is drawn once for each room, for as long as a scene keeps it
def _marks_svg(marks, place, _room):
    parts = []
    box = f"{place.left:.2f} {place.top:.2f} {place.width:.2f} {place.height:.2f}"
    left, top, width, height = box.split()
    parts.append(f'<svg x="{left}" y="{top}" width="{width}" height="{height}" viewBox="{box}">')
    for mark in marks:
        if isinstance(mark, (Polygon, Band, Span)):
            _draw_area(mark, place, parts)
        elif not isinstance(mark, (Marker, Text)):
            parts.append(mark_svg(mark, place))
    parts.append("</svg>")
    parts += [mark_svg(mark, place) for mark in marks if isinstance(mark, Marker)]
    for mark in marks:
        text = mark if isinstance(mark, Text) else label_of(mark, place)
        if text is not None:
            parts.append(mark_svg(text, place))
    return "".join(parts)


def _draw_area(mark, place, parts):
    """An area with its edge: of a polygon all round, of a band and a span along two sides."""
    x, y = _outline(mark, place)
    if not len(x) or not np.isfinite(x + y).all():
        return
    fill = mark.fill if isinstance(mark, Polygon) else mark.colour
    paint = colour_code(fill) if fill else "none"
    if mark.hatch:
        paint = "url(#{})".format("--".join((mark.hatch, mark.edge, fill or "none")).replace(" ", "_"))
    path = "M" + "L".join(["%.2f %.2f"] * len(x)) % tuple(np.column_stack([x, y]).ravel().tolist()) + "Z"
    if isinstance(mark, Polygon):
        parts.append(f'<path d="{path}" fill="{paint}" {stroke(mark.edge, mark.width, mark.dash)}/>')
        return
    parts.append(f'<path d="{path}" fill="{paint}"/>')
    if isinstance(mark, Band):
        parts += [mark_svg(Line(mark.x, edge, mark.edge, 1.5, mark.edge_dash), place) for edge in (mark.low, mark.high)]
    else:
        bottom = place.top + place.height
        parts += [f'<path d="M{edge:.2f} {place.top:.2f}V{bottom:.2f}" {stroke(mark.edge, 1.5, "solid")}/>' for edge in (x[0], x[1])]


def _outline(mark, place):
    """The corners of a hatched area, picture units."""
    if isinstance(mark, Polygon):
        return place.across(mark.x), place.down(mark.y)
    if isinstance(mark, Band):
        drawn = np.isfinite(mark.x) & np.isfinite(mark.low) & np.isfinite(mark.high)
        x, low, high = mark.x[drawn], mark.low[drawn], mark.high[drawn]
        return place.across(np.concatenate([x, x[::-1]])), place.down(np.concatenate([low, high[::-1]]))
    left, right, bottom = place.across(mark.x0), place.across(mark.x1), place.top + place.height
    return np.array([left, right, right, left]), np.array([place.top, place.top, bottom, bottom])


# ---------------------------------------------------------------- the page: title, names, axes and ticks


def _pairs(ticks):
    if ticks is None:
        return None
    return tuple(tuple(tick) if isinstance(tick, (tuple, list)) else (float(tick), f"{tick:g}") for tick in ticks)


@lru_cache(maxsize=256)
def _page_svg(title, x_label, y_label, right_axis, show_axes, x_ticks, y_ticks, place, room):
    right, bottom, top, parts = place.left + place.width, place.top + place.height, place.outer_top, []

    def write(x, y, words, size, anchor="start", bold=False):
        if words:
            weight = ' font-weight="bold"' if bold else ""
            parts.append(f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="{size:g}"{weight} fill="{colour_code("black", "text")}">{escape(words)}</text>')

    def strokes(path, colour, width):
        parts.append(f'<path d="{path}" fill="none" stroke="{colour_code(colour)}" stroke-width="{width:g}"/>')

    if title:
        write(place.outer_left, top + TITLE_SIZE, title, TITLE_SIZE, bold=True)
        top += TITLE_HEIGHT
    write(place.outer_left, top + LABEL_SIZE, y_label, LABEL_SIZE)
    if right_axis:
        write(right + place.left - EDGE, top + LABEL_SIZE, right_axis[0], LABEL_SIZE, "end")
    write(place.left + place.width / 2, bottom + (TICK_HEIGHT if show_axes else 0) + LABEL_SIZE, x_label, LABEL_SIZE, "middle")
    if show_axes:
        across = [(place.across(value), words) for value, words in _ticks(place.x_range, x_ticks, 5)]
        down = [(place.down(value), words) for value, words in _ticks(place.y_range, y_ticks, 4)]
        strokes("".join(f"M{x:.1f} {place.top:.1f}V{bottom:.1f}" for x, _ in across)
                + "".join(f"M{place.left:.1f} {y:.1f}H{right:.1f}" for y, _ in down), "pale grey", 1)
        strokes(f"M{place.left:.1f} {place.top:.1f}V{bottom:.1f}H{right:.1f}" + "".join(f"M{x:.1f} {bottom:.1f}v5" for x, _ in across)
                + "".join(f"M{place.left:.1f} {y:.1f}h-5" for y, _ in down), "dark grey", 1.5)
        for x, words in across:
            write(x, bottom + 8 + 0.76 * TICK_SIZE, words, TICK_SIZE, "middle")
        for y, words in down:
            write(place.left - 8, y + 0.36 * TICK_SIZE, words, TICK_SIZE, "end")
        if right_axis:
            factor = right_axis[1]
            marks = [(place.down(value / factor), words) for value, words in _ticks([factor * y for y in place.y_range], None, 4)]
            strokes(f"M{right:.1f} {place.top:.1f}V{bottom:.1f}" + "".join(f"M{right:.1f} {y:.1f}h5" for y, _ in marks), "dark grey", 1.5)
            for y, words in marks:
                write(right + 8, y + 0.36 * TICK_SIZE, words, TICK_SIZE)
    return "".join(parts)


def _ticks(span, pairs, most):
    """Where the ticks are and what they say, chosen as matplotlib chooses them."""
    low, high = min(span), max(span)
    room = 1e-9 * (high - low)
    if pairs is not None:
        return [(value, words) for value, words in pairs if low - room <= value <= high + room]
    values = [value for value in MaxNLocator(most, steps=_TICK_STEPS).tick_values(low, high) if low - room <= value <= high + room]
    decimals = next(places for places in range(9) if all(abs(round(value, places) - value) <= 1e-6 * (high - low) for value in values))
    return [(value, f"{value if abs(value) > room else 0.0:.{decimals}f}".replace("-", "−")) for value in values]
