"""The strokes of a hatched area, computed once for every renderer, so that all hatch alike."""

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
    levels = np.arange(np.ceil(t.min() / spacing), np.floor(t.max() / spacing) + 1) * spacing
    found = []
    for level in levels:
        crossed = (t <= level) != (t_next <= level)
        share = (level - t[crossed]) / (t_next[crossed] - t[crossed])
        ends = np.sort(s[crossed] + share * (s_next[crossed] - s[crossed]))
        found.extend((level, ends[i], ends[i + 1]) for i in range(0, len(ends) - 1, 2))
    if not found:
        return np.zeros((0, 2, 2))
    level, start, end = np.array(found).T
    return np.stack([np.outer(start, along) + np.outer(level, across),
                     np.outer(end, along) + np.outer(level, across)], axis=1)


def _dots_along(level_strokes, spacing):
    centres = [(x, y) for (start, y), (end, _) in level_strokes
               for x in np.arange(np.ceil(start / spacing), np.floor(end / spacing) + 1) * spacing]
    if not centres:
        return np.zeros((0, 2, 2))
    return np.stack([np.array(centres), np.array(centres) + (0.01, 0)], axis=1)
