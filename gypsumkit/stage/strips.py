"""The fewest moments of a slider that tell all others: a strip of texts with what lies between them.

A strip is made by asking the library for the text at the ends of a slider and at a few moments between. Where the text between two
of them would miss what the library says, one more is kept, down to the slider's own step if need be; where the text changes its
form (a word, a mark that comes or goes) it always is. So the page steps only where the course itself steps.
"""

from dataclasses import dataclass

from gypsumkit.stage.slots import misses, take_apart

CLOSE_UNITS = 0.5         # what a place may miss, picture units; a picture is 420 wide
CLOSE_DIGITS = 1.0        # what a said number may miss, in units of its last digit
PROBES = 5                # in a cell between two kept steps; a cell of so many steps is looked at in full
FIRST_CELLS = 4
_ROUNDING = 1e-6


@dataclass(frozen=True)
class Strip:
    """The texts that are kept of one slider.

    Parameters
    ----------
    steps : int
        How many steps the slider has.
    kept : tuple of int
        The steps that are kept, rising; the first and the last are among them.
    forms : tuple of tuple of str
        The form of each.
    numbers : tuple of list of int
        The numbers of each.
    """

    steps: int
    kept: tuple
    forms: tuple
    numbers: tuple


def make_strip(text_at, steps, also=()):
    """Return the strip of one slider.

    Parameters
    ----------
    text_at : callable
        Takes a step and returns its text.
    steps : int
        How many steps the slider has, one or more; they count from 0.
    also : sequence of int
        Steps to be kept in any case.

    Returns
    -------
    Strip
    """
    known = {}

    def at(step):
        if step not in known:
            known[step] = take_apart(text_at(step))
        return known[step]

    kept = {0, steps - 1, *also, *(round(cell * (steps - 1) / FIRST_CELLS) for cell in range(FIRST_CELLS + 1))}
    cells = list(zip(sorted(kept), sorted(kept)[1:]))
    while cells:
        first, last = cells.pop()
        if last - first < 2:
            continue
        middle = (first + last) // 2
        probes = sorted({first + 1 + round(probe * (last - first - 2) / (PROBES - 1)) for probe in range(PROBES)}, key=lambda step: abs(step - middle))
        if not all(_close(at(first), at(last), (probe - first) / (last - first), at(probe)) for probe in probes):
            kept.add(middle)
            cells += [(first, middle), (middle, last)]
    kept = tuple(sorted(kept))
    return Strip(steps, kept, tuple(at(step)[0] for step in kept), tuple(at(step)[1] for step in kept))


def _close(one, other, share, truth):
    if not one[0] == other[0] == truth[0]:
        return False
    place, said = misses(one[0], one[1], other[1], share, truth[1])
    return place <= CLOSE_UNITS and said <= CLOSE_DIGITS + _ROUNDING
