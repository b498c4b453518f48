"""Wrong answers that are the right ones of another paper: reported for a talk with the candidate, never judged."""

import math
from collections import Counter

import numpy as np

from gypsumkit.marking.marks import Finding
from gypsumkit.problems import Problem
from gypsumkit.units import find_unit, read_number

KIND = "another paper's numbers"
KINDS = {KIND: "several wrong answers are the right answers of another candidate"}

SAME = 0.006                # keys have four digits, answers mostly three                        ours
CHANCE_OF_ONE = 0.02        # least chance that a wrong answer meets the key of one other paper   ours
RARE = 0.01                 # reported when chance alone would do it in fewer classes than this   ours


def alike(rows, scheme):
    """Look through the wrong numbers of all candidates for the keys of others.

    Parameters
    ----------
    rows : iterable of MarkRow
        The rows of all candidates.
    scheme : Scheme
        The mark scheme.

    Returns
    -------
    list of Finding
    """
    keys = _Keys(scheme)
    wrong = {}
    for row in rows:
        if row.marks == 0 and not row.followed_through and row.answer:
            wrong.setdefault((row.candidate_number, row.file), []).append(row)
    return [Finding(candidate, file, KIND, sentence) for (candidate, file), theirs in wrong.items() for sentence in _sentences(candidate, theirs, keys)]


def _sentences(candidate, rows, keys):
    met, weight, many = Counter(), {}, 0
    for row in rows:
        others, chance = keys.met_by(row)
        many += others is not None
        for other in () if others is None else others:
            met[other] += 1
            weight.setdefault(other, []).append(chance)
    found = [(number, other) for other, number in met.items() if number >= 2 and other != keys.place(candidate)
             and math.comb(many, number) * math.prod(weight[other]) * len(keys.candidates) < RARE]
    if not found:
        return
    most = max(number for number, _ in found)
    names = sorted(keys.candidates[other] for number, other in found if number == most)
    yield (f"{most} of {many} wrong numbers are the right ones of candidate {' or '.join(names[:3])}{' and others' if len(names) > 3 else ''}. "
           "It may be chance or a mix-up of papers: it changes no mark.")


class _Keys:
    """The keys of all candidates that are numbers, sorted for each part when first asked for."""

    def __init__(self, scheme):
        self.candidates, self._scheme, self._sorted = scheme.candidates, scheme, {}
        self._places = {number: place for place, number in enumerate(self.candidates)}

    def place(self, candidate):
        return self._places.get(candidate)

    def met_by(self, row):
        """Return the candidates whose key an answer meets, and the chance of one such meeting; None where it is no number."""
        part = (row.task_number, row.label)
        if part not in self._sorted:
            self._sorted[part] = self._of(*part)
        if self._sorted[part] is None:
            return None, 0.0
        values, order, unit = self._sorted[part]
        try:
            value = read_number(row.answer.partition("\n")[0].rpartition("=")[2].strip()).in_unit(unit)
        except Problem:
            return None, 0.0
        if not math.isfinite(value):
            return None, 0.0
        low, high = sorted((value * (1 - SAME), value * (1 + SAME)))
        first, last = np.searchsorted(values, (low, high))
        return order[first:last].tolist(), max(CHANCE_OF_ONE, (last - first - 1) / max(1, len(values) - 1))

    def _of(self, task_number, label):
        values, unit = [], None
        for candidate in self.candidates:
            number, _, symbol = str(self._scheme.papers[candidate][task_number - 1][2].get(label, "")).partition(" ")
            try:
                values.append(float(number))
                unit = unit or find_unit(symbol or "")
            except (ValueError, Problem):
                return None
        values = np.array(values)
        order = np.argsort(values, kind="stable")
        return values[order], order, unit
