"""Where a candidate stands: total, grade and pass mark; nothing is rounded in anybody's favour or disfavour."""

from typing import NamedTuple


class Standing(NamedTuple):
    """Where a candidate stands; grade and passed are None as long as a part waits for an assessor or an answer asks for a look (doubtful)."""

    candidate_number: str
    total: float
    out_of: float
    percent: float
    grade: str
    passed: bool
    waiting: int
    doubtful: int = 0


def standing(marks, candidate_number, paper):
    """Return where a candidate stands.

    Parameters
    ----------
    marks : gypsumkit.marking.marks.Marks
    candidate_number : str
    paper : gypsumkit.marking.blueprint.Paper

    Returns
    -------
    Standing
    """
    total, out_of, waiting = marks.total(candidate_number), marks.out_of(candidate_number), len(marks.waiting(candidate_number))
    doubtful = sum(row.doubtful for row in marks.by_candidate.get(candidate_number, ()))
    total = round(total, 6)              # so that three times 0.1 reaches 0.3
    percent = 100.0 * total / out_of if out_of else 0.0
    is_open = bool(waiting or doubtful)
    return Standing(candidate_number, total, out_of, percent, None if is_open else paper.grade(total), None if is_open else total >= paper.pass_mark, waiting, doubtful)
