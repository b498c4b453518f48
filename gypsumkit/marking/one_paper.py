"""Marking one paper: from the answers as text to the marks of its parts. A worker does this; it sees no other candidate's keys."""

import json

from gypsumkit.marking.isolation import LIMITS, isolation_here, run_code
from gypsumkit.marking.returned import TOO_LONG
from gypsumkit.marking.scheme import redrawn
from gypsumkit.marking.tasks import BY_HAND_WHY, NOTHING

BY_HAND = "by hand"
KINDS = {"not marked": "the program could not mark a task; it waits for an assessor"}


def mark_papers(jobs):
    """Mark several papers; what a worker is asked to do.

    Parameters
    ----------
    jobs : list of dict
        As for `mark_paper`.

    Returns
    -------
    list
        The result of each.
    """
    return [mark_paper(**job) for job in jobs]


def mark_paper(entries, answers, code, why_not_run, limits=LIMITS):
    """Mark one paper.

    Parameters
    ----------
    entries : sequence
        Of the mark scheme, one for each task, as from `Scheme.entries`.
    answers, code : dict of (int, str) to str
        By number of the task and label of the part.
    why_not_run : str
        Why code answers are not run, or "" where they are.
    limits : Limits
        What the code of one answer may use.

    Returns
    -------
    list of two lists
        The cells of each row, and (kind, sentence) of each finding; both as JSON gives them back.

    Raises
    ------
    Problem
        When the library computes another key than the mark scheme holds.
    """
    rows, findings = [], []
    for number, (task_id, seed, text, keys) in enumerate(entries, start=1):
        drawn = redrawn(task_id, seed, text, keys)
        given, by_hand, programs = {}, {}, {}
        for part in drawn.parts:
            typed = answers.get((number, part.label), "") or code.get((number, part.label), "")
            if part.kind == "code" and typed:
                programs[part.label] = typed
            given[part.label] = typed
            if typed.startswith(TOO_LONG):
                by_hand[part.label] = "the answer is longer than is read."
            elif part.label in programs:
                given[part.label], trouble = _result(typed, why_not_run, limits)
                if trouble:
                    by_hand[part.label] = trouble
        try:
            marked = [_cells(number, task_id, one, programs.get(one.label)) for one in drawn.mark(given, by_hand)]
        except Exception as error:              # no answer, however odd, may stop the others from being marked
            name = type(error).__name__
            findings.append(["not marked", f"Task {number} could not be marked by the program ({name}): mark it by hand."])
            marked = [[number, task_id, part.label, None, part.marks, f"{BY_HAND_WHY}the program could not read it ({name}).", "", False, True,
                       given[part.label], BY_HAND] for part in drawn.parts]
        rows += marked
    if all(row[-1] == NOTHING for row in rows):
        findings.append(["no answers", "No answer is written into the paper."])
    return json.loads(json.dumps([rows, findings]))


def _result(program, why_not_run, limits):
    """Return the result of a code answer, or the program itself and why it has to be looked at."""
    if not why_not_run and not isolation_here().possible:
        why_not_run = isolation_here().reason
    if why_not_run:
        return program, f"code is not run here. {why_not_run}"
    outcome = run_code(program, limits)
    if outcome.trouble:
        return program, outcome.trouble
    again = run_code(program, limits)
    if again != outcome:
        return program, "The code gives another result each time it runs."
    return outcome.result, ""


def _cells(number, task_id, one, program):
    waits = one.chosen == BY_HAND
    answer = f"{one.answer}\n{program}" if program and not waits else program or one.answer
    return [number, task_id, one.label, None if waits else one.marks, one.out_of, one.why, one.slip or "", bool(one.followed_through), bool(one.by_hand),
            answer, one.chosen]
