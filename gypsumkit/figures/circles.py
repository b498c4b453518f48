"""Many circles as two marks: grains or bubbles that move together are drawn as fast as one."""

from functools import lru_cache

import numpy as np

from gypsumkit.figures.scene import Line, Polygon


@lru_cache(maxsize=8)
def _corners(corners):
    turn = np.linspace(0.0, 2.0 * np.pi, corners + 1)
    return np.cos(turn), np.sin(turn)


def circles(x, y, radius, fill, edge="black", width=1.6, grown_together=False, corners=16):
    """Return the marks of many filled circles with edges.

    Parameters
    ----------
    x, y, radius : sequence of float
        Middle and radius of each, in the units of a panel with equal aspect.
    fill, edge : str
        Fill colour and line colour.
    width : float
        Width of the edges, picture units.
    grown_together : bool
        Overlapping circles are one piece: no edge between them.
    corners : int
        Of each drawn circle.

    Returns
    -------
    list of marks
        Empty when there is no circle.
    """
    x, y, radius = (np.asarray(values, dtype=float)[:, None] for values in (x, y, radius))
    if not len(x):
        return []
    cosine, sine = _corners(corners)
    across, along = x + radius * cosine, y + radius * sine
    # One closed outline through all circles and back: the ways between them enclose nothing.
    way_back = slice(None, None, -1)
    area = Polygon(np.concatenate([across.ravel(), across[way_back, 0]]), np.concatenate([along.ravel(), along[way_back, 0]]), fill=fill,
                   edge=edge, width=0)
    gap = np.full((len(x), 1), np.nan)
    outline = Line(np.hstack([across, gap]).ravel(), np.hstack([along, gap]).ravel(), colour=edge, width=2 * width if grown_together else width)
    return [outline, area] if grown_together else [area, outline]
