"""The colours of every picture: the Okabe-Ito set, told apart with any kind of colour vision.

A colour has a name, and a name has a role. Text is black or blue. Lines and edges are black, dark
grey, blue, vermillion, green or purple, which all stand out from white. The others are fills, and a
fill always has a dark edge or a hatching, because a pale area alone does not stand out from white.

The same names mean other codes in a dark room, where the paper is nearly black and all that stood dark on white stands light on it.
"""

from contextlib import contextmanager
from contextvars import ContextVar

from gypsumkit.problems import Problem, nearest

WHITE = "#ffffff"
ROOMS = ("light room", "dark room")

_OKABE_ITO = {
    "black": "#000000",
    "blue": "#0072b2",
    "vermillion": "#d55e00",
    "green": "#009e73",
    "purple": "#cc79a7",
    "sky": "#56b4e9",
    "orange": "#e69f00",
    "yellow": "#f0e442",
}

TEXT_COLOURS = ("black", "blue")
LINE_COLOURS = ("black", "dark grey", "blue", "vermillion", "green", "purple")


def blend(colour, share, paper):
    """Return an opaque tint: `share` of a colour, the rest that of the paper.

    Parameters
    ----------
    colour, paper : str
        Colours written as ``#rrggbb``.
    share : float
        How much of the colour remains, 0 (the paper) to 1 (the colour itself).

    Returns
    -------
    str
        The tint, written as ``#rrggbb``.
    """
    pairs = zip(_channels(colour), _channels(paper))
    return "#" + "".join("%02x" % round(ground + share * (channel - ground)) for channel, ground in pairs)


def _channels(colour):
    return [int(colour[start:start + 2], 16) for start in (1, 3, 5)]


def blend_with_white(colour, share):
    """Return an opaque tint: `share` of a colour, the rest white.

    Parameters
    ----------
    colour : str
        A colour written as ``#rrggbb``.
    share : float
        How much of the colour remains, 0 (white) to 1 (the colour itself).

    Returns
    -------
    str
        The tint, written as ``#rrggbb``.
    """
    return blend(colour, share, WHITE)


_LIGHT = {
    **_OKABE_ITO,
    **{"pale " + name: blend_with_white(code, 0.22) for name, code in _OKABE_ITO.items() if name != "black"},
    "white": WHITE,
    "dark grey": "#4d4d4d",
    "pale grey": "#e3e3e3",
}

_DARK_PAPER = "#10151a"
_ON_DARK = {
    "black": "#ffffff",
    "blue": "#63b8f0",
    "vermillion": "#ff8a3c",
    "green": "#2fcf9d",
    "purple": "#e2a0c8",
    "sky": "#2f7fae",
    "orange": "#a06e00",
    "yellow": "#857c00",
}

_DARK = {
    **_ON_DARK,
    **{"pale " + name: blend(code, 0.22, _DARK_PAPER) for name, code in _ON_DARK.items() if name not in ("black", "sky", "orange", "yellow")},
    **{"pale " + name: blend(_ON_DARK[name], 0.45, _DARK_PAPER) for name in ("sky", "orange", "yellow")},
    "white": _DARK_PAPER,
    "dark grey": "#c2c8ce",
    "pale grey": "#3a424a",
}

_OF_ROOM = {"light room": _LIGHT, "dark room": _DARK}
_room = ContextVar("room", default="light room")

FILL_COLOURS = tuple(_LIGHT)


@contextmanager
def in_room(room):
    """Draw for a light or for a dark room while this lasts.

    Parameters
    ----------
    room : str
        One of `ROOMS`.

    Raises
    ------
    Problem
        When there is no such room.
    """
    if room not in _OF_ROOM:
        raise Problem("{!r} is not a room: use one of {}".format(room, ", ".join(ROOMS)))
    before = _room.set(room)
    try:
        yield
    finally:
        _room.reset(before)


def room_now():
    """Return the room that is drawn for."""
    return _room.get()


def paper():
    """Return the code of what pictures are drawn on: white, or nearly black in a dark room."""
    return _OF_ROOM[_room.get()]["white"]


def colour_code(name, role="fill"):
    """Return the ``#rrggbb`` code of a named colour that may be used in the given role.

    Parameters
    ----------
    name : str
        A name such as ``"blue"`` or ``"pale green"``.
    role : {"text", "line", "fill"}
        What is drawn with it.

    Returns
    -------
    str
        The code.

    Raises
    ------
    Problem
        When there is no such colour, or it does not stand out enough for this role.
    """
    allowed = {"text": TEXT_COLOURS, "line": LINE_COLOURS, "fill": FILL_COLOURS}[role]
    if name in allowed:
        return _OF_ROOM[_room.get()][name]
    guess = nearest(name, allowed)
    hint = "; did you mean {!r}?".format(guess) if guess else ""
    raise Problem("{!r} is not a {} colour: use one of {}{}".format(name, role, ", ".join(allowed), hint))


def contrast(first, second=WHITE):
    """Return the contrast ratio of two colours, as WCAG 2.2 defines it.

    Parameters
    ----------
    first, second : str
        Colours written as ``#rrggbb``.

    Returns
    -------
    float
        From 1 (no difference) to 21 (black on white).
    """
    lighter, darker = sorted((_relative_luminance(first), _relative_luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _relative_luminance(colour):
    channels = [channel / 255 for channel in _channels(colour)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
