"""From marks to a grade: pass mark and boundaries of the paper, nothing rounded in anybody's disfavour or favour."""

from typing import NamedTuple

NO_GRADE = "below the lowest grade"
_NEAR = 1e-9                         # so that 40 of 100 reaches 40 %, whatever the computer makes of the last digit


class Standing(NamedTuple):
    """Where a candidate stands; grade and passed are None as long as a part waits for an assessor."""

    candidate_number: str
    total: float
    out_of: float
    percent: float
    grade: str
    passed: bool
    waiting: int


def reaches(total, out_of, percent):
    """Return whether a total reaches so many percent of what could be had."""
    return 100.0 * total >= percent * out_of - _NEAR


def grade_of(total, out_of, boundaries):
    """Return the best grade whose boundary a total reaches.

    Parameters
    ----------
    total, out_of : float
    boundaries : iterable of (str, float)
        Grades and the least percent of each.

    Returns
    -------
    str
    """
    reached = [(percent, grade) for grade, percent in boundaries if reaches(total, out_of, percent)]
    return max(reached, key=lambda one: one[0])[1] if reached else NO_GRADE


def standing(marks, candidate_number, paper):
    """Return where a candidate stands.

    Parameters
    ----------
    marks : gypsumkit.marking.marks.Marks
    candidate_number : str
    paper : object with `pass_percent` and `boundaries`

    Returns
    -------
    Standing
    """
    total, out_of, waiting = marks.total(candidate_number), marks.out_of(candidate_number), len(marks.waiting(candidate_number))
    percent = 100.0 * total / out_of if out_of else 0.0
    settled = not waiting
    return Standing(candidate_number, total, out_of, percent, grade_of(total, out_of, paper.boundaries) if settled else None,
                    reaches(total, out_of, paper.pass_percent) if settled else None, waiting)


def marks_for(out_of, percent):
    """Return the marks that a boundary asks for, in words that hold for whole and for part marks: "12" or "12.5"."""
    return f"{percent * out_of / 100:.4g}"
