"""Where words stand: the labels that marks carry, and the exact start of every text.

Letters are placed by their baseline, so that every renderer puts them at the same height.
"""

import numpy as np

from gypsumkit.figures.scene import Line, Rule, Span, Text

INSET = 6


def label_of(mark, place):
    """Return the label of a mark as a text of its own.

    Parameters
    ----------
    mark : mark
        Any mark.
    place : Place
        Where its panel lies.

    Returns
    -------
    Text or None
        None when the mark carries no label.
    """
    words = getattr(mark, "label", "")
    if not words:
        return None
    if isinstance(mark, Line):
        return _line_label(mark, words)
    if isinstance(mark, Span):
        middle = (max(mark.x0, place.x_range[0]) + min(mark.x1, place.x_range[1])) / 2
        return _label_at_height(middle, words, mark, place, anchor="middle")
    if isinstance(mark, Rule) and mark.y is None:
        return _label_at_height(mark.x, words, mark, place, anchor="auto", right=INSET)
    if isinstance(mark, Rule):
        return Text(place.x_range[1], mark.y, words, anchor="end", height="bottom", right=-INSET, up=3)
    return None


def _line_label(line, words):
    drawn = np.flatnonzero(np.isfinite(line.x) & np.isfinite(line.y))
    if not len(drawn):
        return None
    point = drawn[int(round(line.label_at * (len(drawn) - 1)))]
    apart = line.width / 2 + 4
    return Text(line.x[point], line.y[point], words, anchor="auto",
                height="bottom" if line.label_above else "top",
                up=apart if line.label_above else -apart,
                colour="blue" if line.colour == "blue" else "black")


def _label_at_height(x, words, mark, place, anchor, right=0):
    low, high = place.y_range
    y, up = {"top": (high, -INSET), "middle": ((low + high) / 2, 0), "bottom": (low, INSET)}[mark.label_height]
    return Text(x, y, words, anchor=anchor, height=mark.label_height, right=right, up=up)


def start_of(text, place):
    """Return where the baseline of a text begins, is centred or ends.

    Parameters
    ----------
    text : Text
        The text.
    place : Place
        Where its panel lies.

    Returns
    -------
    across, down : float
        Picture units from the left and from the top.
    anchor : {"start", "middle", "end"}
        What of the text is there.
    """
    across, down, right, anchor = place.across(text.x), place.down(text.y), text.right, text.anchor
    if anchor == "auto":
        anchor = "start" if across <= place.left + place.width / 2 else "end"
        right = right if anchor == "start" else -right
    below = {"top": 0.76, "middle": 0.36, "bottom": -0.06}[text.height] * text.size
    return across + right, down - text.up + below, anchor
