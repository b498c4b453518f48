"""The strokes of a hatched area, computed once for every renderer, so that all hatch alike."""

from math import ceil, floor

import numpy as np

SPACING = 9.0

_DIRECTIONS = {
    "rising": (45,),
    "falling": (-45,),
    "crossed": (45, -45),
    "level": (0,),
    "upright": (90,),
    "dots": (0,),
}


def hatch_strokes(x, y, pattern, spacing=SPACING):
    """Return the straight strokes that hatch the inside of a closed polygon.

    Parameters
    ----------
    x, y : array of float
        Corners, in picture units counted from the left and from the top.
    pattern : str
        ``rising``, ``falling``, ``crossed``, ``level``, ``upright`` or ``dots``; a dot is a stroke of next to
        no length, which its round ends make visible.
    spacing : float
        Distance between strokes, picture units.

    Returns
    -------
    array of shape (strokes, 2, 2)
        For every stroke its two ends, each (x, y).
    """
    corners = np.column_stack([x, y])
    if not np.isfinite(corners).all():
        return np.zeros((0, 2, 2))
    strokes = np.concatenate(
        [_parallel_strokes(corners, np.deg2rad(degrees), spacing) for degrees in _DIRECTIONS[pattern]])
    return _dots_along(strokes, spacing) if pattern == "dots" else strokes


def _parallel_strokes(corners, angle, spacing):
    # Turned so that the strokes run along the first axis; the second one counts their distance from the corner of
    # the picture, so that neighbouring areas hatch in step and a growing area does not shift its strokes.
    along = np.array([np.cos(angle), -np.sin(angle)])
    across = np.array([np.sin(angle), np.cos(angle)])
    s, t = corners @ along, corners @ across
    s_next, t_next = np.roll(s, -1), np.roll(t, -1)
    levels = np.arange(np.ceil(t.min() / spacing), np.floor(t.max() / spacing) + 1)[:, None] * spacing
    # Where every level crosses every edge; edges that are not crossed sort to the far end.
    crossed = (t <= levels) != (t_next <= levels)
    rise = np.where(t_next == t, 1, t_next - t)
    crossings = np.sort(np.where(crossed, s + (levels - t) * (s_next - s) / rise, np.inf), axis=1)
    start, end = crossings[:, :-1:2], crossings[:, 1::2]
    inside = np.isfinite(end)
    start, end, level = start[inside], end[inside], np.broadcast_to(levels, end.shape)[inside]
    base = level[:, None] * across
    return np.stack([start[:, None] * along + base, end[:, None] * along + base], axis=1)


def _dots_along(level_strokes, spacing):
    centres = [(number * spacing, y) for (start, y), (end, _) in level_strokes.tolist()
               for number in range(ceil(start / spacing), floor(end / spacing) + 1)]
    if not centres:
        return np.zeros((0, 2, 2))
    return np.stack([np.array(centres), np.array(centres) + (0.01, 0)], axis=1)
