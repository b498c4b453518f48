"""The colours of every picture: the Okabe-Ito set, told apart with any kind of colour vision.

A colour has a name, and a name has a role. Text is black or blue. Lines and edges are black, dark
grey, blue, vermillion, green or purple, which all stand out from white. The others are fills, and a
fill always has a dark edge or a hatching, because a pale area alone does not stand out from white.
"""

from gypsumkit.problems import Problem, nearest

WHITE = "#ffffff"

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
    channels = [int(colour[start:start + 2], 16) for start in (1, 3, 5)]
    return "#" + "".join("%02x" % round(255 + share * (channel - 255)) for channel in channels)


_CODES = {
    **_OKABE_ITO,
    **{"pale " + name: blend_with_white(code, 0.22) for name, code in _OKABE_ITO.items() if name != "black"},
    "white": WHITE,
    "dark grey": "#4d4d4d",
    "pale grey": "#e3e3e3",
}

FILL_COLOURS = tuple(_CODES)


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
        return _CODES[name]
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
    channels = [int(colour[start:start + 2], 16) / 255 for start in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
