"""Draws pictures with matplotlib: the still page under what moves, and whole scenes to be stored.

One picture unit is one point of a figure at 72 dots an inch, so sizes need no conversion. pyplot is
not used: no window, no state, nothing left open.
"""

import io

import matplotlib
import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.markers import MarkerStyle
from matplotlib.path import Path
from matplotlib.patheffects import withStroke
from matplotlib.ticker import FixedLocator, FuncFormatter, MaxNLocator
from matplotlib.transforms import Affine2D

from gypsumkit.figures.colours import colour_code, paper
from gypsumkit.figures.hatching import hatch_strokes
from gypsumkit.figures.labels import label_of, start_of
from gypsumkit.figures.placing import EDGE, TICK_HEIGHT, TITLE_HEIGHT, places
from gypsumkit.figures.scene import (DASHES, LABEL_SIZE, TICK_SIZE, TITLE_SIZE, Band, Line, Marker, Polygon, Rule,
                                     Span, Text)

BACKDROP_DENSITY = 2
STORED_DENSITY = 1.25
SCENE_GAP = 12

# Whatever the reader's own matplotlib is set to, the course looks the same.
_SETTINGS = {
    **{name: value for name, value in matplotlib.rcParamsDefault.items() if not name.startswith(("backend", "date"))},
    "font.family": ["DejaVu Sans"],
    "text.parse_math": False,
    "lines.scale_dashes": False,
    "axes.formatter.useoffset": False,
}


def backdrop_png(picture, density=BACKDROP_DENSITY):
    """Return what stands still in a picture, drawn once: axes, ticks, labels and backdrop marks.

    Parameters
    ----------
    picture : Picture
        The picture; its moving marks are left out.
    density : float
        Pixels for one picture unit.

    Returns
    -------
    bytes
        A PNG image on opaque white.
    """
    with matplotlib.rc_context(_SETTINGS):
        figure = _figure(picture.width, picture.height, density)
        draw_picture(figure, picture, moving=False)
        return _png(figure, compression=1)


def static_png(scene, density=STORED_DENSITY):
    """Return a whole scene, still and moving parts together, as one image to be stored.

    Parameters
    ----------
    scene : Scene
        Its pictures are drawn side by side.
    density : float
        Pixels for one picture unit.

    Returns
    -------
    bytes
        A PNG image on opaque white, the same bytes for the same scene.
    """
    pictures = scene.pictures
    width = sum(picture.width for picture in pictures) + SCENE_GAP * (len(pictures) - 1)
    with matplotlib.rc_context(_SETTINGS):
        figure = _figure(width, max(picture.height for picture in pictures), density)
        left = 0
        for picture in pictures:
            draw_picture(figure, picture, moving=True, left=left)
            left += picture.width + SCENE_GAP
        return _png(figure, compression=6)         # 9 takes five times as long for 2 % less


def _figure(width, height, density):
    figure = Figure(figsize=(width / 72, height / 72), dpi=72 * density, facecolor=paper())
    FigureCanvasAgg(figure)
    return figure


def _png(figure, compression):
    image = io.BytesIO()
    figure.savefig(image, format="png", facecolor=paper(), edgecolor="none", dpi=figure.dpi,
                   metadata={"Software": None}, pil_kwargs={"compress_level": compression})
    return image.getvalue()


def draw_picture(figure, picture, moving, left=0):
    """Draw one picture on a matplotlib figure, its top left corner at the figure's top edge.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        Where to draw.
    picture : Picture
        What to draw.
    moving : bool
        With the marks that move, or without.
    left : float
        Distance from the figure's left edge, picture units.

    Returns
    -------
    list of matplotlib.axes.Axes
        One for each panel.
    """
    # Counts picture units from the picture's left and top.
    height = figure.get_figheight() * 72
    units = Affine2D().translate(left, -height).scale(1, -1) + Affine2D().scale(1 / 72) + figure.dpi_scale_trans
    return [_draw_panel(figure, panel, place, moving, left, height, units)
            for panel, place in zip(picture.panels, places(picture))]


def _draw_panel(figure, panel, place, moving, left, height, units):
    figure_width = figure.get_figwidth() * 72
    axes = figure.add_axes([(left + place.left) / figure_width, 1 - (place.top + place.height) / height,
                            place.width / figure_width, place.height / height], facecolor=paper())
    axes.set_xlim(place.x_range)
    axes.set_ylim(place.y_range)
    _draw_words_around(figure, panel, place, units)
    if panel.show_axes:
        _draw_axes(axes, panel)
    else:
        axes.set_axis_off()
    for layer, marks in enumerate((panel.backdrop, panel.moving if moving else ())):
        for mark in marks:
            _DRAW[type(mark)](axes, mark, place, units, 2 + 10 * layer)
            text = label_of(mark, place)
            if text is not None:
                _draw_text(axes, text, place, units, 2 + 10 * layer)
    return axes


def _draw_words_around(figure, panel, place, units):
    def write(x, y, words, size, **how):
        figure.text(x, y, words, transform=units, fontsize=size, color=colour_code("black", "text"), **how)

    top, right = place.outer_top, place.left + place.width
    if panel.title:
        write(place.outer_left, top + TITLE_SIZE, panel.title, TITLE_SIZE, weight="bold")
        top += TITLE_HEIGHT
    write(place.outer_left, top + LABEL_SIZE, panel.y_label, LABEL_SIZE)
    if panel.right_axis:
        write(right + place.left - EDGE, top + LABEL_SIZE, panel.right_axis.label, LABEL_SIZE, ha="right")
    ticks = TICK_HEIGHT if panel.show_axes else 0
    write(place.left + place.width / 2, place.top + place.height + ticks + LABEL_SIZE, panel.x_label, LABEL_SIZE,
          ha="center")


def _draw_axes(axes, panel):
    axes.set_axisbelow(True)
    axes.grid(True, color=colour_code("pale grey"), linewidth=1)
    for side, spine in axes.spines.items():
        spine.set_visible(side in ("left", "bottom"))
        spine.set_color(colour_code("dark grey"))
        spine.set_linewidth(1.5)
    axes.tick_params(labelsize=TICK_SIZE, length=5, width=1.5, pad=3, color=colour_code("dark grey"), labelcolor=colour_code("black"))
    _set_ticks(axes.xaxis, panel.x_ticks, most=5)
    _set_ticks(axes.yaxis, panel.y_ticks, most=4)
    if panel.right_axis:
        factor = panel.right_axis.factor
        right = axes.secondary_yaxis("right", functions=(lambda y: y * factor, lambda y: y / factor))
        right.tick_params(labelsize=TICK_SIZE, length=5, width=1.5, pad=3, color=colour_code("dark grey"), labelcolor=colour_code("black"))
        right.spines["right"].set_color(colour_code("dark grey"))
        right.spines["right"].set_linewidth(1.5)
        right.yaxis.set_major_locator(MaxNLocator(4, steps=[1, 2, 2.5, 5, 10]))


def _set_ticks(axis, ticks, most):
    if ticks is None:
        axis.set_major_locator(MaxNLocator(most, steps=[1, 2, 2.5, 5, 10]))
        return
    pairs = [tick if isinstance(tick, (tuple, list)) else (tick, "{:g}".format(tick)) for tick in ticks]
    words = dict(pairs)
    axis.set_major_locator(FixedLocator([value for value, _ in pairs]))
    axis.set_major_formatter(FuncFormatter(lambda value, position: words.get(value, "")))


# ---------------------------------------------------------------- marks


def _draw_line(axes, line, place, units, order):
    axes.plot(line.x, line.y, color=colour_code(line.colour, "line"), linewidth=line.width,
              linestyle=_linestyle(line.dash), zorder=order, solid_joinstyle="round", scalex=False, scaley=False)


def _draw_band(axes, band, place, units, order):
    drawn = np.isfinite(band.x) & np.isfinite(band.low) & np.isfinite(band.high)
    x, low, high = band.x[drawn], band.low[drawn], band.high[drawn]
    if len(x):
        _draw_area(axes, np.concatenate([x, x[::-1]]), np.concatenate([low, high[::-1]]), band.colour, band.edge,
                   band.hatch, place, units, order)
        for edge in (low, high):
            axes.plot(x, edge, color=colour_code(band.edge, "line"), linewidth=1.5, zorder=order,
                      linestyle=_linestyle(band.edge_dash), scalex=False, scaley=False)


def _draw_span(axes, span, place, units, order):
    if not np.isfinite(span.x0 + span.x1):
        return
    low, high = place.y_range
    _draw_area(axes, [span.x0, span.x1, span.x1, span.x0], [low, low, high, high], span.colour, span.edge, span.hatch,
               place, units, order)
    for edge in (span.x0, span.x1):
        axes.axvline(edge, color=colour_code(span.edge, "line"), linewidth=1.5, zorder=order)


def _draw_rule(axes, rule, place, units, order):
    draw, position = (axes.axvline, rule.x) if rule.y is None else (axes.axhline, rule.y)
    if np.isfinite(position):
        draw(position, color=colour_code(rule.colour, "line"), linewidth=rule.width, linestyle=_linestyle(rule.dash),
             zorder=order)


def _draw_polygon(axes, polygon, place, units, order):
    if np.isfinite(polygon.x).all() and np.isfinite(polygon.y).all():
        _draw_area(axes, polygon.x, polygon.y, polygon.fill, polygon.edge, polygon.hatch, place, units, order)
        axes.plot(np.append(polygon.x, polygon.x[0]), np.append(polygon.y, polygon.y[0]), zorder=order,
                  color=colour_code(polygon.edge, "line"), linewidth=polygon.width, linestyle=_linestyle(polygon.dash),
                  solid_joinstyle="round", scalex=False, scaley=False)


def _draw_area(axes, x, y, fill, edge, hatch, place, units, order):
    if fill is not None:
        axes.fill(x, y, facecolor=colour_code(fill), edgecolor="none", zorder=order)
    if hatch:
        strokes = hatch_strokes(place.across(np.asarray(x)), place.down(np.asarray(y)), hatch)
        axes.add_collection(LineCollection(
            strokes, colors=colour_code(edge, "line"), linewidths=3 if hatch == "dots" else 1.3, transform=units,
            capstyle="round", zorder=order, clip_on=True, snap=False), autolim=False)


_MARKERS = {
    "circle": ("o", 1.0),
    "square": ("s", 0.9),
    "diamond": (Path([(0, -1.15), (1.15, 0), (0, 1.15), (-1.15, 0), (0, -1.15)]), 1.15),
    "triangle": (Path([(-1, -0.8), (1, -0.8), (0, 1), (-1, -0.8)]), 1.0),
    "cross": ("x", 0.8),
    "bar": ("|", 1.0),
}


def _draw_marker(axes, marker, place, units, order):
    style, size = _MARKERS[marker.shape]
    code = colour_code(marker.colour, "line")
    axes.plot([marker.x], [marker.y], marker=MarkerStyle(style), markersize=marker.size * size, color=code,
              linestyle="none", markeredgewidth=2.5, markerfacecolor=paper() if marker.hollow else code,
              zorder=order + 2, clip_on=False, scalex=False, scaley=False)


def _draw_text(axes, text, place, units, order):
    across, down, anchor = start_of(text, place)
    if np.isfinite(across + down):
        axes.text(across, down, text.string, transform=units, fontsize=text.size, color=colour_code(text.colour, "text"),
                  weight="bold" if text.bold else "normal", zorder=order + 4, va="baseline", clip_on=False,
                  ha={"start": "left", "middle": "center", "end": "right"}[anchor],
                  path_effects=[withStroke(linewidth=4, foreground=paper())])


def _linestyle(dash):
    return (0, DASHES[dash]) if DASHES[dash] else "solid"


_DRAW = {Line: _draw_line, Band: _draw_band, Span: _draw_span, Rule: _draw_rule, Polygon: _draw_polygon,
         Marker: _draw_marker, Text: _draw_text}
