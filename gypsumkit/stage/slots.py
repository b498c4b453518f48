"""A text taken apart into its form and its numbers, so that two neighbouring pictures differ in numbers only.

A *form* is a text with a sign in place of each number that may change. There are two kinds. A *place* is a coordinate, kept in
tenths of a picture unit. A *said* number is one that the reader sees, kept as it is written: its digits and how many of them
stand behind the point. Between two texts of one form lies a third: places lie on the straight line between theirs; a said number
too, and it is rounded as its neighbours are. Texts of different forms have nothing between them.
"""

import math
import re
from functools import lru_cache

import numpy as np

PLACE, SAID, RUN = "¦", "¬", "¨"            # they stand in no text of the course
PLACES_PER_UNIT = 10
DIGITS_THAT_COUNT = 3

_ELEMENT = re.compile(r"<[^>]*>[^<]*|[^<]+")
_ATTRIBUTE = re.compile(r'( (?:d|x|y|cx|cy|r|aria-label)=")([^"]*)')
_NUMBER_OF_A_PATH = re.compile(r"-?\d+(?:\.\d+)?(?:e-\d+)?")
_NUMBER_IN_WORDS = re.compile(r"(?<![\w#&.])-?\d+(?:\.\d+)?(?!\w)")


def take_apart(text):
    """Return the form of a text and its numbers.

    Parameters
    ----------
    text : str
        HTML with SVG.

    Returns
    -------
    form : tuple of str
        Its elements, each with a sign in place of every number that may change.
    numbers : list of int
        One for a place, two for a said number: its digits, and how many stand behind the point.
    """
    if PLACE in text or SAID in text or RUN in text:
        raise ValueError(f"the signs {PLACE}, {SAID} and {RUN} stand for numbers here; a text may not hold them")
    form, numbers = [], []
    for element in _ELEMENT.findall(text):
        piece, found = _element(element)
        form.append(piece)
        numbers += found
    return tuple(form), numbers


@lru_cache(maxsize=20000)
def _element(element):
    numbers = []

    def said(found):
        whole, _, behind = found.group().partition(".")
        numbers.extend((int(whole + behind), len(behind)))
        return SAID

    def attribute(found):
        name, value = found.groups()
        if "aria" in name:
            return name + _NUMBER_IN_WORDS.sub(said, value)
        numbers.extend([round(PLACES_PER_UNIT * float(number)) for number in _NUMBER_OF_A_PATH.findall(value)])
        return name + _NUMBER_OF_A_PATH.sub(PLACE, value)

    if not element.startswith("<"):
        return _NUMBER_IN_WORDS.sub(said, element), tuple(numbers)
    tag, _, words = element.partition(">")
    piece = _ATTRIBUTE.sub(attribute, tag) + ">"
    return piece + _NUMBER_IN_WORDS.sub(said, words), tuple(numbers)


def put_together(form, numbers):
    """Return the text of a form with these numbers.

    Parameters
    ----------
    form : tuple of str
        As from `take_apart`.
    numbers : sequence of int
        As from `take_apart`.

    Returns
    -------
    str
    """
    left = iter(numbers)

    def written(sign):
        number = next(left)
        if sign.group() == PLACE:
            return f"{number / PLACES_PER_UNIT:.10g}"
        behind = next(left)
        return f"{number / 10 ** behind:.{behind}f}"
    return re.sub(f"[{PLACE}{SAID}]", written, "".join(form))


def said_between(one, other, share):
    """Return the number between two said numbers, written as they are.

    Parameters
    ----------
    one, other : pair of int
        Digits, and how many stand behind the point.
    share : float
        0 is the one, 1 the other.

    Returns
    -------
    str
    """
    (digits, behind), (other_digits, other_behind) = one, other
    low, high = digits / 10 ** behind, other_digits / 10 ** other_behind
    value = low + (high - low) * share
    if behind == other_behind:
        return f"{value:.{behind}f}"
    most = max(behind, other_behind)
    if low and high and value and behind + _power(low) == other_behind + _power(high):
        # As many digits that count on both sides: 9.96 and 10.1 have 10.0 between them.
        return f"{value:.{min(max(behind + _power(low) - _power(value), min(behind, other_behind)), most)}f}"
    return f"{value:.{most}f}".rstrip("0").rstrip(".")


def _power(value):
    return math.floor(math.log10(abs(value)))


@lru_cache(maxsize=4096)
def kinds(form):
    """Return where the places and where the digits of said numbers stand among the numbers of a form, as two arrays."""
    places, digits, at = [], [], 0
    for sign in re.findall(f"[{PLACE}{SAID}]", "".join(form)):
        (places if sign == PLACE else digits).append(at)
        at += 1 if sign == PLACE else 2
    return np.array(places, dtype=int), np.array(digits, dtype=int)


def misses(form, one, other, share, truth):
    """Return how far the text between two others is from a third of the same form.

    Parameters
    ----------
    form : tuple of str
        Of all three.
    one, other, truth : sequence of int
        Their numbers.
    share : float
        Where between the one and the other the third should lie.

    Returns
    -------
    place : float
        The largest distance of a coordinate, picture units.
    said : float
        The largest difference of a said number, in units of the last digit that both show, or of its third digit where it has more.
    """
    places, digits = kinds(form)
    one, other, truth = (np.asarray(numbers, dtype=float) for numbers in (one, other, truth))
    between = one[places] + (other[places] - one[places]) * share
    place = float(np.abs(between - truth[places]).max(initial=0.0)) / PLACES_PER_UNIT
    said = 0.0
    for at in digits[(one[digits] != truth[digits]) | (other[digits] != truth[digits]) | (one[digits + 1] != other[digits + 1])]:
        shown = said_between((one[at], int(one[at + 1])), (other[at], int(other[at + 1])), share)
        right = truth[at] / 10 ** truth[at + 1]
        behind = min(int(truth[at + 1]), len(shown.partition(".")[2]), DIGITS_THAT_COUNT - 1 - _power(right) if right else 99)
        said = max(said, abs(float(shown) - right) * 10.0 ** behind)
    return place, said
