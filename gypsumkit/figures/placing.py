"""Where each panel lies on its picture, and where a value lies on its panel.

Every renderer places marks by this one rule, so that what moves lies exactly on what stands still.
Lengths are in picture units, counted from the left and from the top.
"""

from dataclasses import dataclass

from gypsumkit.figures.scene import LABEL_SIZE, TICK_SIZE, TITLE_SIZE

EDGE = 8
TITLE_HEIGHT = TITLE_SIZE + 9
LABEL_HEIGHT = LABEL_SIZE + 8
LEFT_TICKS = 3.2 * TICK_SIZE
RIGHT_TICKS = 3.0 * TICK_SIZE
RIGHT_ROOM = 14
TICK_HEIGHT = TICK_SIZE + 9
GAP = 10


@dataclass(frozen=True)
class Place:
    """The rectangle of one panel's axes on its picture, and the values it spans.

    Parameters
    ----------
    outer_left, outer_top : float
        The corner of the room that holds title, labels and axes, picture units.
    left, top, width, height : float
        The axes, picture units.
    x_range, y_range : pair of float
        Values at the edges of the axes; they differ from the panel's own where equal aspect widened them.
    """

    outer_left: float
    outer_top: float
    left: float
    top: float
    width: float
    height: float
    x_range: tuple
    y_range: tuple

    def across(self, x):
        """Return how far from the picture's left edge a value of x lies.

        Parameters
        ----------
        x : float or array
            In the units of the axis.

        Returns
        -------
        float or array
            Picture units.
        """
        low, high = self.x_range
        return self.left + (x - low) * (self.width / (high - low))

    def down(self, y):
        """Return how far from the picture's top edge a value of y lies.

        Parameters
        ----------
        y : float or array
            In the units of the axis.

        Returns
        -------
        float or array
            Picture units.
        """
        low, high = self.y_range
        return self.top + (high - y) * (self.height / (high - low))


def places(picture):
    """Return the place of every panel of a picture, from top to bottom.

    Parameters
    ----------
    picture : Picture
        What is to be placed.

    Returns
    -------
    list of Place
        One for each panel.
    """
    room = picture.height - 2 * EDGE - GAP * (len(picture.panels) - 1)
    shares = sum(panel.height_share for panel in picture.panels)
    result, outer_top = [], EDGE
    for panel in picture.panels:
        outer_height = room * panel.height_share / shares
        result.append(_place(panel, picture.width, outer_top, outer_height))
        outer_top += outer_height + GAP
    return result


def _place(panel, picture_width, outer_top, outer_height):
    above = (TITLE_HEIGHT if panel.title else 0) + (LABEL_HEIGHT if panel.y_label or panel.right_axis else 0)
    below, left, right = 2, EDGE, EDGE
    if panel.show_axes:
        above += TICK_SIZE / 2
        left, below = EDGE + LEFT_TICKS, TICK_HEIGHT
        right = EDGE + (RIGHT_TICKS if panel.right_axis else RIGHT_ROOM)
    below += LABEL_HEIGHT if panel.x_label else 0
    width, height = picture_width - left - right, outer_height - above - below
    x_range, y_range = tuple(panel.x_range), tuple(panel.y_range)
    if panel.equal_aspect:
        x_range, y_range = _with_equal_aspect(x_range, y_range, width, height)
    return Place(EDGE, outer_top, left, outer_top + above, width, height, x_range, y_range)


def _with_equal_aspect(x_range, y_range, width, height):
    per_unit = max((x_range[1] - x_range[0]) / width, (y_range[1] - y_range[0]) / height)
    middle, half = (x_range[0] + x_range[1]) / 2, width * per_unit / 2
    return (middle - half, middle + half), (y_range[0], y_range[0] + height * per_unit)
