"""Draws what moves as one small SVG, which lies exactly on the still page that matplotlib drew."""

from functools import lru_cache
from html import escape

import numpy as np

from gypsumkit.figures.colours import colour_code, paper, room_now
from gypsumkit.figures.hatching import hatch_strokes
from gypsumkit.figures.labels import label_of, start_of
from gypsumkit.figures.placing import places
from gypsumkit.figures.scene import DASHES, Band, Line, Marker, Polygon, Rule, Span, Text

FONT = "'DejaVu Sans', Verdana, Arial, sans-serif"


def overlay_svg(picture):
    """Return the moving marks of a picture as SVG text that scales with the page.

    Parameters
    ----------
    picture : Picture
        The picture; its backdrop is left out.

    Returns
    -------
    str
        One ``<svg>`` element with the picture in words as its name.
    """
    return _overlay_svg(picture, room_now())


@lru_cache(maxsize=24)      # a picture is never changed, and some stay while others of their scene move
def _overlay_svg(picture, room):
    parts = [opening_tag(picture)]
    for panel, place in zip(picture.panels, places(picture)):
        if panel.moving:
            _draw_panel(panel.moving, place, parts)
    parts.append("</svg>")
    return "".join(parts)


def opening_tag(picture):
    """Return the tag that opens the SVG of a picture, with the picture in words as its name."""
    return ('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {:g} {:g}" width="{:g}" height="{:g}" role="img" '
            'aria-label="{}" style="display:block;width:100%;height:auto" font-family="{}">'.format(
                picture.width, picture.height, picture.width, picture.height, escape(picture.words), escape(FONT)))


def mark_svg(mark, place):
    """Return one mark as SVG text.

    Parameters
    ----------
    mark : a mark of a scene
        Any mark.
    place : Place
        Where its panel lies.

    Returns
    -------
    str
        Elements, or nothing for a mark that is not drawn.
    """
    parts = []
    {Text: _draw_text, Marker: _draw_marker, **_BELOW}[type(mark)](mark, place, parts)
    return "".join(parts)


def _draw_panel(marks, place, parts):
    box = "{:.2f} {:.2f} {:.2f} {:.2f}".format(place.left, place.top, place.width, place.height)
    parts.append('<svg x="{0}" y="{1}" width="{2}" height="{3}" viewBox="{box}">'.format(*box.split(), box=box))
    for mark in marks:
        draw = _BELOW.get(type(mark))
        if draw:
            draw(mark, place, parts)
    parts.append("</svg>")
    for mark in marks:
        if isinstance(mark, Marker):
            _draw_marker(mark, place, parts)
    for mark in marks:
        text = mark if isinstance(mark, Text) else label_of(mark, place)
        if text is not None:
            _draw_text(text, place, parts)


# ---------------------------------------------------------------- marks that end at the edge of the panel


def _draw_line(line, place, parts):
    path = _open_path(place.across(line.x), place.down(line.y))
    if path:
        parts.append('<path d="{}" fill="none" {}/>'.format(path, stroke(line.colour, line.width, line.dash)))


def _draw_band(band, place, parts):
    drawn = np.isfinite(band.x) & np.isfinite(band.low) & np.isfinite(band.high)
    x = place.across(band.x[drawn])
    low, high = place.down(band.low[drawn]), place.down(band.high[drawn])
    if len(x):
        _draw_area(np.concatenate([x, x[::-1]]), np.concatenate([low, high[::-1]]), band.colour, band.edge, band.hatch,
                   parts)
        for edge in (low, high):
            parts.append('<path d="{}" fill="none" {}/>'.format(
                _open_path(x, edge), stroke(band.edge, 1.5, band.edge_dash)))


def _draw_span(span, place, parts):
    left, right = place.across(span.x0), place.across(span.x1)
    if not np.isfinite(left + right):
        return
    bottom = place.top + place.height
    _draw_area(np.array([left, right, right, left]), np.array([place.top, place.top, bottom, bottom]), span.colour,
               span.edge, span.hatch, parts)
    for edge in (left, right):
        parts.append('<path d="M{0:.2f} {1:.2f}V{2:.2f}" {3}/>'.format(
            edge, place.top, bottom, stroke(span.edge, 1.5, "solid")))


def _draw_rule(rule, place, parts):
    if rule.y is None:
        position, path = place.across(rule.x), "M{0:.2f} {1:.2f}V{2:.2f}"
        start, end = place.top, place.top + place.height
    else:
        position, path = place.down(rule.y), "M{1:.2f} {0:.2f}H{2:.2f}"
        start, end = place.left, place.left + place.width
    if np.isfinite(position):
        parts.append('<path d="{}" {}/>'.format(
            path.format(position, start, end), stroke(rule.colour, rule.width, rule.dash)))


def _draw_polygon(polygon, place, parts):
    x, y = place.across(polygon.x), place.down(polygon.y)
    if np.isfinite(x).all() and np.isfinite(y).all():
        _draw_area(x, y, polygon.fill, polygon.edge, polygon.hatch, parts)
        parts.append('<path d="{}Z" fill="none" {}/>'.format(
            _open_path(x, y), stroke(polygon.edge, polygon.width, polygon.dash)))


_BELOW = {Line: _draw_line, Band: _draw_band, Span: _draw_span, Rule: _draw_rule, Polygon: _draw_polygon}


def _draw_area(x, y, fill, edge, hatch, parts):
    if fill is not None:
        parts.append('<path d="{}Z" fill="{}"/>'.format(_open_path(x, y), colour_code(fill)))
    if hatch:
        strokes = np.round(hatch_strokes(x, y, hatch), 2).tolist()
        path = "".join("M%s %sL%s %s" % (*start, *end) for start, end in strokes)
        parts.append('<path d="{}" stroke="{}" stroke-width="{}" stroke-linecap="round"/>'.format(
            path, colour_code(edge, "line"), 3 if hatch == "dots" else 1.3))


# ---------------------------------------------------------------- marks that may reach over the edge


def _draw_marker(marker, place, parts):
    x, y, half = place.across(marker.x), place.down(marker.y), marker.size / 2
    if not np.isfinite(x + y):
        return
    code = colour_code(marker.colour, "line")
    fill = paper() if marker.hollow else code
    if marker.shape == "circle":
        shape = '<circle cx="{:.2f}" cy="{:.2f}" r="{:.2f}"'.format(x, y, half)
    else:
        corners = MARKER_CORNERS[marker.shape]
        path = "".join("{}{:.2f} {:.2f}".format(letter, x + half * right, y - half * up)
                       for letter, right, up in corners)
        shape = '<path d="{}"'.format(path + ("" if marker.shape in OPEN_SHAPES else "Z"))
    parts.append('{} fill="{}" stroke="{}" stroke-width="2.5" class="marker"/>'.format(shape, fill, code))


OPEN_SHAPES = ("cross", "bar")
# Corners of every shape but the circle: right and up from the centre, in halves of the size.
MARKER_CORNERS = {
    "square": (("M", -0.9, -0.9), ("L", 0.9, -0.9), ("L", 0.9, 0.9), ("L", -0.9, 0.9)),
    "diamond": (("M", 0, -1.15), ("L", 1.15, 0), ("L", 0, 1.15), ("L", -1.15, 0)),
    "triangle": (("M", -1, -0.8), ("L", 1, -0.8), ("L", 0, 1)),
    "cross": (("M", -0.8, -0.8), ("L", 0.8, 0.8), ("M", -0.8, 0.8), ("L", 0.8, -0.8)),
    "bar": (("M", 0, -1), ("L", 0, 1)),
}


def _draw_text(text, place, parts):
    across, down, anchor = start_of(text, place)
    if np.isfinite(across + down):
        parts.append(
            '<text x="{:.2f}" y="{:.2f}" text-anchor="{}" font-size="{:g}"{} fill="{}" stroke="{}" stroke-width="4" '
            'stroke-linejoin="round" paint-order="stroke">{}</text>'.format(
                across, down, anchor, text.size, ' font-weight="bold"' if text.bold else "",
                colour_code(text.colour, "text"), paper(), escape(text.string)))


# ---------------------------------------------------------------- pieces


def _open_path(x, y):
    points = np.round(np.column_stack([x, y]), 2)
    gaps = np.flatnonzero(~np.isfinite(points).all(axis=1))
    runs = np.split(points, gaps) if len(gaps) else [points]
    pieces = []
    for run in runs:
        if len(run) and not np.isfinite(run[0]).all():
            run = run[1:]
        if len(run):
            pieces.append("M" + "L".join(["%s %s"] * len(run)) % tuple(run.ravel().tolist()))
    return "".join(pieces)


def stroke(colour, width, dash):
    """Return the attributes of a line of a colour, a width and a dash."""
    pattern = DASHES[dash]
    dashes = ' stroke-dasharray="{}"'.format(" ".join(map(str, pattern))) if pattern else ""
    return 'stroke="{}" stroke-width="{:g}" stroke-linejoin="round"{}'.format(colour_code(colour, "line"), width, dashes)
