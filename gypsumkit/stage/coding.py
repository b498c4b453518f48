"""Whole numbers as a short text, and the texts of many strips as forms with rows of numbers.

A list of whole numbers becomes a text of the letters of base 64: five bits a letter, low bits first, the sixth bit says that more
follow. Numbers are folded so that small ones of either sign are short. A run of zeros is a zero and its length. What changes little
from one row to the next is kept as the difference, so it is mostly zeros.
"""

import re
from functools import lru_cache

import numpy as np

from gypsumkit.stage.slots import PLACE, RUN, SAID

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
CORNER = f"L{PLACE} {PLACE}"


def encode(numbers):
    """Return whole numbers as a short text.

    Parameters
    ----------
    numbers : sequence of int
        Of either sign.

    Returns
    -------
    str
    """
    numbers = np.array(numbers, dtype=np.int64)
    at = np.flatnonzero(numbers)
    counted = numbers[at]
    folded = np.where(counted > 0, 2 * counted, -2 * counted - 1)
    zeros = np.diff(at, prepend=-1, append=len(numbers)) - 1         # before each number, and behind the last
    letters = []
    for run, number in zip(zeros.tolist(), folded.tolist()):
        if run:
            letters.append(LETTERS[0] + _written(run))
        letters.append(_written(number))
    if zeros[-1]:
        letters.append(LETTERS[0] + _written(int(zeros[-1])))
    return "".join(letters)


@lru_cache(maxsize=4096)
def _written(number):
    letters = ""
    while number > 31:
        letters += LETTERS[number & 31 | 32]
        number >>= 5
    return letters + LETTERS[number]


def decode(text):
    """Return the whole numbers of a text made by `encode`."""
    numbers, at, number, shift, zero = [], 0, 0, 0, False
    for letter in text:
        at = LETTERS.index(letter)
        number |= (at & 31) << shift
        shift += 5
        if at > 31:
            continue
        if zero:
            numbers += [0] * number
            zero = False
        elif number == 0:
            zero = True
        else:
            numbers.append(number // 2 if number % 2 == 0 else -(number + 1) // 2)
        number = shift = 0
    return numbers


def differences(numbers):
    """Return the first of some numbers, then how far each is from the one before."""
    numbers = np.asarray(numbers, dtype=np.int64)
    return np.diff(numbers, prepend=np.zeros_like(numbers[:1]), axis=0)


def pack(strips):
    """Return strips as plain data for a page, each element stored once.

    Parameters
    ----------
    strips : sequence of Strip
        In the order in which the page counts them.

    Returns
    -------
    dict
        ``pieces``, the elements of all forms; ``forms``, each with its pieces and its rows of numbers; ``strips``, for each strip the
        number of kept steps, the kept steps and their forms. A row is found by counting the rows of its form. The first row of a form
        is kept as the difference to the numbers that each of its pieces had last, every other row as the difference to the one before.
    """
    rows, order = {}, {}
    for strip in strips:
        for form, numbers in zip(strip.forms, strip.numbers):
            order.setdefault(form, len(order))
            rows.setdefault(form, []).append(numbers)
    pieces, last, forms = {}, {}, []
    for form in order:
        table = np.array(rows[form], dtype=np.int64).reshape(len(rows[form]), -1)
        used = [pieces.setdefault(piece, len(pieces)) for piece in form]
        first, at, seen = [], 0, {}
        for piece, number in zip(form, used):
            seen[number] = seen.get(number, 0) + 1
            width, name = numbers_of(piece), (number, seen[number])
            first.append(table[0, at:at + width] - last.get(name, 0))
            last[name] = table[0, at:at + width]
            at += width
        forms.append({"pieces": encode(differences(used) - 1), "first": encode(np.concatenate(first)),
                      "rows": encode(np.diff(table, axis=0).ravel()), "height": len(table)})
    told = []
    for strip in strips:
        told += [len(strip.kept), *differences(strip.kept), *differences([order[form] for form in strip.forms])]
    return {"pieces": [shortened(piece) for piece in pieces], "forms": forms, "strips": encode(told)}


def numbers_of(piece):
    """Return how many numbers an element of a form takes."""
    return piece.count(PLACE) + 2 * piece.count(SAID)


def shortened(piece):
    """Return an element with each run of corners of a path as their count between two signs."""
    return re.sub(f"(?:L{PLACE} {PLACE}){{3,}}", lambda run: f"{RUN}{len(run.group()) // len(CORNER)}{RUN}", piece)
