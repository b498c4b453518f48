"""What a picture is made of: marks in panels, panels in a picture, pictures in a scene. Pure data.

A scene is described once and drawn by several renderers: matplotlib draws the still page and the
stored picture, SVG draws what moves. Positions are in the units of the panel's axes. Sizes (of text,
lines and markers) are in picture units: a picture is 420 units wide unless said otherwise, and grows
or shrinks as a whole with the page.

Lines, bands, spans, rules and polygons end at the edge of their panel and lie below markers and
text, which may reach over it. A mark whose position is not a number is not drawn, and a line has a
gap where its values are not numbers.
"""

from dataclasses import dataclass, fields, is_dataclass

import numpy as np

from gypsumkit.figures.colours import colour_code
from gypsumkit.problems import Problem

TITLE_SIZE = 18
LABEL_SIZE = 15.5
TICK_SIZE = 14.5

DASHES = {"solid": (), "dashed": (7, 4), "dotted": (2, 3), "dash-dot": (8, 3, 2, 3)}
HATCHES = ("", "rising", "falling", "crossed", "level", "upright", "dots")
SHAPES = ("circle", "square", "diamond", "triangle", "cross", "bar")
ANCHORS = ("start", "middle", "end", "auto")
HEIGHTS = ("top", "middle", "bottom")


def _check(what, value, allowed):
    if value not in allowed:
        raise Problem("{} cannot be {!r}: use one of {}".format(
            what, value, ", ".join(repr(choice) for choice in allowed)))


def _as_arrays(mark, *names):
    arrays = [np.atleast_1d(np.asarray(getattr(mark, name), dtype=float)) for name in names]
    if len({array.shape for array in arrays}) != 1 or arrays[0].ndim != 1:
        raise Problem("{}: {} must be lists of the same length, not {}".format(
            type(mark).__name__, " and ".join(names), " and ".join(str(array.shape) for array in arrays)))
    for name, array in zip(names, arrays):
        object.__setattr__(mark, name, array)


# ---------------------------------------------------------------- marks


@dataclass(frozen=True, eq=False)
class Line:
    """A curve through points, with an optional label beside it.

    Parameters
    ----------
    x, y : sequence of float
        The points, in the units of the axes; a gap where either is not a number.
    colour : str
        A line colour.
    width : float
        Picture units.
    dash : str
        One of `DASHES`.
    label : str
        Written beside the curve.
    label_at : float
        Where along the points the label stands: 0 the first, 1 the last.
    label_above : bool
        Above the curve, or below it.
    """

    x: object
    y: object
    colour: str = "blue"
    width: float = 3
    dash: str = "solid"
    label: str = ""
    label_at: float = 1.0
    label_above: bool = True

    def __post_init__(self):
        _as_arrays(self, "x", "y")
        colour_code(self.colour, "line")
        _check("the dash of a line", self.dash, DASHES)


@dataclass(frozen=True, eq=False)
class Band:
    """The area between two curves: a plausible range. It always has edges.

    Parameters
    ----------
    x, low, high : sequence of float
        The two curves, in the units of the axes.
    colour : str
        A fill colour.
    edge : str
        A line colour, for the two edges.
    edge_dash : str
        One of `DASHES`.
    hatch : str
        One of `HATCHES`.
    """

    x: object
    low: object
    high: object
    colour: str = "pale blue"
    edge: str = "blue"
    edge_dash: str = "dotted"
    hatch: str = ""

    def __post_init__(self):
        _as_arrays(self, "x", "low", "high")
        colour_code(self.colour)
        colour_code(self.edge, "line")
        _check("the dash of an edge", self.edge_dash, DASHES)
        _check("a hatching", self.hatch, HATCHES)


@dataclass(frozen=True, eq=False)
class Span:
    """Everything between two values of x, over the whole height: a range that pours, for example.

    Parameters
    ----------
    x0, x1 : float
        Where it begins and ends, in the units of the axis.
    colour, edge, hatch
        Fill colour, line colour and one of `HATCHES`.
    label : str
        Written inside, at its top or bottom.
    label_height : {"top", "middle", "bottom"}
        Where the label stands.
    """

    x0: float
    x1: float
    colour: str = "pale green"
    edge: str = "green"
    hatch: str = ""
    label: str = ""
    label_height: str = "top"

    def __post_init__(self):
        colour_code(self.colour)
        colour_code(self.edge, "line")
        _check("a hatching", self.hatch, HATCHES)
        _check("the height of a label", self.label_height, HEIGHTS)


@dataclass(frozen=True, eq=False)
class Rule:
    """A straight line across the whole panel, at one x or at one y.

    Parameters
    ----------
    x, y : float or None
        Exactly one of them is given, in the units of its axis.
    colour, width, dash
        Line colour, width in picture units, one of `DASHES`.
    label : str
        Written along it: at the top for an x, at the right for a y.
    label_height : {"top", "middle", "bottom"}
        Where the label of an upright rule stands.
    """

    x: float = None
    y: float = None
    colour: str = "dark grey"
    width: float = 2
    dash: str = "dashed"
    label: str = ""
    label_height: str = "top"

    def __post_init__(self):
        if (self.x is None) == (self.y is None):
            raise Problem("a rule stands at one x or at one y: give exactly one of them")
        colour_code(self.colour, "line")
        _check("the dash of a rule", self.dash, DASHES)
        _check("the height of a label", self.label_height, HEIGHTS)


@dataclass(frozen=True, eq=False)
class Marker:
    """One point.

    Parameters
    ----------
    x, y : float
        Its place, in the units of the axes.
    shape : str
        One of `SHAPES`; a ``bar`` is a short upright stroke, for the end of a measured distance.
    colour : str
        A line colour.
    size : float
        Its width, in picture units.
    hollow : bool
        White inside.
    """

    x: float
    y: float
    shape: str = "circle"
    colour: str = "vermillion"
    size: float = 14
    hollow: bool = False

    def __post_init__(self):
        colour_code(self.colour, "line")
        _check("the shape of a marker", self.shape, SHAPES)


@dataclass(frozen=True, eq=False)
class Polygon:
    """A closed area with an edge: a vessel, a ring, a heap.

    Parameters
    ----------
    x, y : sequence of float
        Its corners, in the units of the axes.
    fill : str or None
        A fill colour; None leaves it open.
    edge : str
        A line colour.
    width : float
        Width of the edge, in picture units.
    hatch : str
        One of `HATCHES`.
    dash : str
        One of `DASHES`, for the edge.
    """

    x: object
    y: object
    fill: str = "pale grey"
    edge: str = "black"
    width: float = 2
    hatch: str = ""
    dash: str = "solid"

    def __post_init__(self):
        _as_arrays(self, "x", "y")
        if self.fill is not None:
            colour_code(self.fill)
        colour_code(self.edge, "line")
        _check("a hatching", self.hatch, HATCHES)
        _check("the dash of an edge", self.dash, DASHES)


@dataclass(frozen=True, eq=False)
class Text:
    """Words at a place.

    Parameters
    ----------
    x, y : float
        The place, in the units of the axes.
    string : str
        What is written.
    anchor : {"start", "middle", "end", "auto"}
        Which part of the words is at x; ``auto`` writes towards the middle of the panel.
    height : {"top", "middle", "bottom"}
        Which part of the words is at y.
    size : float
        Height of the letters, in picture units.
    bold : bool
        Heavier letters.
    colour : str
        Black or blue.
    right, up : float
        Moved by so many picture units (with ``auto``, `right` is away from the place).
    """

    x: float
    y: float
    string: str
    anchor: str = "middle"
    height: str = "middle"
    size: float = LABEL_SIZE
    bold: bool = False
    colour: str = "black"
    right: float = 0
    up: float = 0

    def __post_init__(self):
        colour_code(self.colour, "text")
        _check("the anchor of a text", self.anchor, ANCHORS)
        _check("the height of a text", self.height, HEIGHTS)


# ---------------------------------------------------------------- panels, pictures, scenes


@dataclass(frozen=True, eq=False)
class RightAxis:
    """A second scale at the right of a panel: the left one times a factor.

    Parameters
    ----------
    label : str
        Name and unit.
    factor : float
        Value at the right for a value of 1 at the left; not zero.
    """

    label: str
    factor: float


@dataclass(frozen=True, eq=False)
class Panel:
    """One pair of axes with what stands still in it and what moves.

    Parameters
    ----------
    name : str
        Its name within the picture.
    x_range, y_range : pair of float
        What the axes span.
    title, x_label, y_label : str
        Written above, below, and at the top of the left axis; with units.
    height_share : float
        Height relative to the other panels of the picture.
    equal_aspect : bool
        One unit of x is as long as one of y. One range is then widened: x about its middle, y upwards.
    x_ticks, y_ticks : sequence of float or of (float, str), or None
        Where the ticks are and what they say; None chooses them.
    right_axis : RightAxis or None
        A second scale.
    show_axes : bool
        Axes, ticks and a light grid; False for a drawing of things.
    backdrop, moving : sequence of marks
        What stands still while a slider moves, and what moves with it.
    """

    name: str
    x_range: tuple
    y_range: tuple
    title: str = ""
    x_label: str = ""
    y_label: str = ""
    height_share: float = 1
    equal_aspect: bool = False
    x_ticks: object = None
    y_ticks: object = None
    right_axis: RightAxis = None
    show_axes: bool = True
    backdrop: tuple = ()
    moving: tuple = ()

    def __post_init__(self):
        for axis in ("x_range", "y_range"):
            low, high = getattr(self, axis)
            if not (np.isfinite(low) and np.isfinite(high) and low < high):
                raise Problem("panel {!r}: {} must run from a smaller to a larger number, not {} to {}".format(
                    self.name, axis, low, high))
        if not self.height_share > 0:
            raise Problem("panel {!r}: its height share must be above zero".format(self.name))


@dataclass(frozen=True, eq=False)
class Picture:
    """A column of panels, one above the other.

    Parameters
    ----------
    name : str
        Its name within the scene.
    panels : sequence of Panel
        From top to bottom.
    words : str
        The picture in words, for those who cannot see it; changes with what moves.
    width, height : float
        Picture units.
    """

    name: str
    panels: tuple
    words: str
    width: float = 420
    height: float = 420


@dataclass(frozen=True, eq=False)
class Table:
    """Numbers with names: the first cell of every row says what the row is about.

    Parameters
    ----------
    heads : sequence of str
        One for each column.
    rows : sequence of sequence of str
        Cells, ready to be read.
    caption : str
        What the table shows.
    """

    heads: tuple
    rows: tuple
    caption: str = ""

    def __post_init__(self):
        for row in self.rows:
            if len(row) != len(self.heads):
                raise Problem("table {!r}: the row {!r} has {} cells under {} heads".format(
                    self.caption, row[0] if row else "", len(row), len(self.heads)))


@dataclass(frozen=True, eq=False)
class Scene:
    """Pictures side by side, which wrap below each other on a narrow screen, with their numbers and words.

    Parameters
    ----------
    pictures : sequence of Picture
        From left to right, all of the same width.
    words : str
        The whole scene in words, shown below it.
    numbers : Table or None
        Shown below the pictures.
    """

    pictures: tuple
    words: str = ""
    numbers: Table = None

    def __post_init__(self):
        widths = sorted({picture.width for picture in self.pictures})
        if len(widths) != 1:
            raise Problem("the pictures of a scene need one common width, not {}".format(
                " and ".join(str(width) for width in widths) or "none at all"))


def still_part(picture):
    """Return a hashable value that is the same exactly when what stands still is the same.

    Parameters
    ----------
    picture : Picture
        The picture; its moving marks and words are left out.

    Returns
    -------
    tuple
        Sizes, axes and backdrop marks.
    """
    return (picture.width, picture.height) + tuple(_frozen(panel, without="moving") for panel in picture.panels)


def _frozen(thing, without=None):
    if isinstance(thing, np.ndarray):
        return thing.shape, thing.tobytes()
    if is_dataclass(thing):
        return (type(thing).__name__,) + tuple(
            _frozen(getattr(thing, field.name)) for field in fields(thing) if field.name != without)
    if isinstance(thing, (list, tuple)):
        return tuple(_frozen(item) for item in thing)
    return thing
