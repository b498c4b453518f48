"""Moderation: an assessor changes a mark and says why; nothing is ever taken out of the list of decisions.

The decisions are a table of their own, `decisions.csv`. Marking again leaves it alone: the marks are worked out anew, and the decisions
are put on top of them.
"""

import csv
import datetime
import io
import re
from pathlib import Path
from typing import NamedTuple

from gypsumkit.bench.sheets import as_written, sheet
from gypsumkit.checks import checked_number
from gypsumkit.files import write_whole, writing_into
from gypsumkit.locking import FolderLock, reason
from gypsumkit.marking.marks import Finding, Marks
from gypsumkit.problems import Problem, nearest

DECISIONS_FILE = "decisions.csv"
KIND = "moderation"
LONGEST_WHY, LONGEST_NAME = 500, 12
_AUTOMATIC = re.compile(r"automatic mark (none|[\d.]+); ")
_CHANGED = re.compile(r"automatic mark (?P<automatic>none|[\d.]+); (?P<marks>[\d.]+) by .{1,12} on \d{4}-\d\d-\d\d \d\d:\d\d:\d\d: (?P<why>.*)", re.S)


class Decision(NamedTuple):
    """One change of a mark: when, by whom, which, what it was worked out as, what it was and became, and why."""

    when: str
    who: str
    candidate_number: str
    task_number: int
    task_id: str
    label: str
    automatic: float                 # what the machine had given at that time; None where it waited for an assessor
    marks_from: float
    marks_to: float
    why: str


def said(marks):
    """Return a mark in words: "1.5", or "none" where it waits."""
    return "none" if marks is None else f"{marks:.4g}"


class Decisions:
    """The decisions on one examination.

    Parameters
    ----------
    folder : path
        The folder of its marks.
    """

    def __init__(self, folder):
        self.folder = Path(folder)
        self.path = self.folder / DECISIONS_FILE

    def all(self):
        """Return every decision, in the order they were taken.

        Raises
        ------
        Problem
            When the table cannot be read, or a line of it is not a decision; the table is left as it is.
        """
        return _parsed(self._bytes())

    def add(self, automatic, candidate_number, task_number, label, marks, who, why, now=None):
        """Change one mark.

        Parameters
        ----------
        automatic : Marks
            As the machine gave them.
        candidate_number, label : str
            Whose mark, and of which part.
        task_number : int or str
        marks : float or str
            What it becomes; a decimal comma is understood.
        who : str
            Initials of the assessor.
        why : str
            In a few words.
        now : datetime.datetime, optional
            The present moment when not given.

        Returns
        -------
        Decision

        Raises
        ------
        Problem
            When something given cannot be, or the table cannot be written; then nothing has changed.
        """
        row = _row_of(automatic, candidate_number, task_number, label)
        who, why = _name(who), _why(why)
        marks = round(checked_number(marks, f"The mark of task {row.task_number} ({row.label})", "", 0, row.out_of), 4)
        with FolderLock(self.folder, "save again").held(DECISIONS_FILE):
            before = self._bytes()
            decisions = _parsed(before)
            standing = [one.marks_to for one in decisions if _key(one) == _key(row)]
            now_has = standing[-1] if standing else row.marks
            if now_has == marks and not (row.by_hand and not standing):
                raise Problem(f"Task {row.task_number} ({row.label}) of {row.candidate_number} has {said(marks)} already: nothing is changed.")
            when = (now or datetime.datetime.now()).strftime("%Y-%m-%d %H:%M:%S")
            decision = Decision(when, who, row.candidate_number, row.task_number, row.task_id, row.label, row.marks, now_has, marks, why)
            with writing_into(self.folder, "the folder of the marks"):
                write_whole(self.path, _with_one_more(before, decision))
        return decision

    def _bytes(self):
        try:
            return self.path.read_bytes()
        except FileNotFoundError:
            return b""
        except OSError as error:
            raise Problem(f"{DECISIONS_FILE} cannot be read ({reason(error)}).") from None


def _key(row):
    return row.candidate_number, row.task_number, row.label


def _with_one_more(before, decision):
    table = sheet(Decision._fields, [decision])
    if not before:
        return table
    line = table.split(b"\r\n", 1)[1]
    return before + (b"" if before.endswith(b"\n") else b"\r\n") + line


def _parsed(raw):
    if not raw:
        return ()
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Problem(f"{DECISIONS_FILE} is not UTF-8 text: put back an earlier copy of it, or save it as CSV in UTF-8.") from None
    lines = csv.reader(io.StringIO(text, newline=""))
    if next(lines, None) != list(Decision._fields):
        raise Problem(f"{DECISIONS_FILE} does not begin with the columns {', '.join(Decision._fields)}: put back an earlier copy of it.")
    return tuple(_decision(cells, f"{DECISIONS_FILE}, line {lines.line_num}") for cells in lines if cells)


def _decision(cells, where):
    if len(cells) != len(Decision._fields):
        raise Problem(f"{where} has {len(cells)} cells and not {len(Decision._fields)}.")
    values = dict(zip(Decision._fields, map(as_written, cells)))
    for name in ("automatic", "marks_from", "marks_to"):
        values[name] = None if values[name] == "" and name != "marks_to" else checked_number(values[name], f"{where}, column {name},", "", 0)
    values["task_number"] = int(checked_number(values["task_number"], f"{where}, column task_number,", "", 1))
    return Decision(**values)


# ---------------------------------------------------------------------------------------------
# What is typed

def _row_of(marks, candidate_number, task_number, label):
    candidate_number = str(candidate_number).strip()
    if not candidate_number:
        raise Problem("Type the candidate number of the mark.")
    rows = marks.by_candidate.get(candidate_number)
    if rows is None:
        guess = nearest(candidate_number, marks.candidates)
        raise Problem(f"No paper of candidate {candidate_number[:20]} is marked" + (f"; do you mean {guess}?" if guess else "."))
    task_number = int(checked_number(task_number, "The number of the task", "", 1))
    label = str(label).strip().strip("()").lower()
    for row in rows:
        if row.task_number == task_number and row.label.lower() == label:
            return row
    parts = ", ".join(f"{row.task_number} ({row.label})" for row in rows)
    raise Problem(f"The paper of {candidate_number} has no part {task_number} ({label[:10]}); it has {parts}.")


def _name(who):
    who = " ".join(str(who).split())
    if not who:
        raise Problem("Type your initials, so that it can be seen who changed the mark.")
    if len(who) > LONGEST_NAME or not any(one.isalpha() for one in who):
        raise Problem(f"“{who[:20]}” is not a set of initials: type one to {LONGEST_NAME} characters, such as A.B.")
    return who


def _why(why):
    why = " ".join(str(why).split())
    if sum(one.isalnum() for one in why) < 3:
        raise Problem("Type why the mark is changed, in a few words: it stands in the list of marks.")
    if len(why) > LONGEST_WHY:
        raise Problem(f"The reason has {len(why)} characters; keep it to {LONGEST_WHY}.")
    return why


# ---------------------------------------------------------------------------------------------
# Putting decisions on top of the marks

def moderated(automatic, decisions):
    """Return the marks with the last decision on each put on top, and findings about decisions that need another look.

    Parameters
    ----------
    automatic : Marks
        As the machine gave them, now.
    decisions : iterable of Decision

    Returns
    -------
    Marks
    """
    last = {_key(decision): decision for decision in decisions}
    rows, findings = [], [one for one in automatic.findings if one.kind != KIND]
    for row in automatic.rows:
        decision = last.pop(_key(row), None)
        rows.append(row if decision is None else row._replace(marks=min(decision.marks_to, row.out_of), changed_by=_changed_by(row, decision)))
        if decision is None:
            continue
        where = f"Task {row.task_number} ({row.label}) of {row.candidate_number}: {decision.who} gave {said(decision.marks_to)} on {decision.when}"
        if decision.automatic != row.marks:
            findings.append(Finding(row.candidate_number, row.file, KIND, f"{where}, when the automatic mark was {said(decision.automatic)}; it is now "
                                    f"{said(row.marks)}. The decision is kept; look at it again."))
        if decision.marks_to > row.out_of:
            findings.append(Finding(row.candidate_number, row.file, KIND, f"{where}, more than the {said(row.out_of)} of the paper as it is now; "
                                    f"{said(row.out_of)} are counted."))
    for decision in last.values():
        findings.append(Finding(decision.candidate_number, "", KIND, f"{decision.who} gave {said(decision.marks_to)} for task {decision.task_number} "
                                f"({decision.label}) of {decision.candidate_number} on {decision.when}; there is no such part among the marks now. "
                                "The decision is kept."))
    return Marks(rows, findings)


def _changed_by(row, decision):
    automatic = "none" if row.marks is None else f"{row.marks:.10g}"
    return f"automatic mark {automatic}; {said(decision.marks_to)} by {decision.who} on {decision.when}: {decision.why}"


def with_decisions(automatic, exam_folder):
    """Return the marks of an examination with the decisions in its folder put on top.

    Parameters
    ----------
    automatic : Marks
        As the machine gave them.
    exam_folder : path

    Returns
    -------
    Marks

    Raises
    ------
    Problem
        When the decisions cannot be read.
    """
    return moderated(automatic, Decisions(Path(exam_folder) / "marks").all())


def decided_words(row):
    """Say what an assessor decided about a mark, without saying who; empty where nobody did."""
    found = _CHANGED.fullmatch(row.changed_by)
    if not found:
        return "An assessor decided this mark." if row.changed_by else ""
    before, why = found["automatic"], found["why"]
    if before != "none" and float(before) == float(found["marks"]):
        return f"An assessor looked at it and kept {found['marks']}: {why}"
    return f"An assessor gave {found['marks']}" + (f" where the automatic mark was {before}" if before != "none" else "") + f": {why}"


def automatic_marks(marks):
    """Return moderated marks as the machine had given them.

    Parameters
    ----------
    marks : Marks

    Returns
    -------
    Marks

    Raises
    ------
    Problem
        When what stands beside a changed mark was itself changed and does not say the automatic one.
    """
    rows = []
    for row in marks.rows:
        if not row.changed_by:
            rows.append(row)
            continue
        found = _AUTOMATIC.match(row.changed_by)
        if not found:
            raise Problem(f"Task {row.task_number} ({row.label}) of {row.candidate_number} does not say its automatic mark any more: mark again.")
        rows.append(row._replace(marks=None if found[1] == "none" else float(found[1]), changed_by=""))
    return Marks(rows, [one for one in marks.findings if one.kind != KIND])


def open_rows(marks):
    """Return the rows that an assessor should still look at: those that wait, and those flagged and not decided yet."""
    return tuple(row for row in marks.rows if row.marks is None or row.doubtful)


def by_question(rows):
    """Return rows by question, as an assessor works through them: the answers of all candidates to one question, then the next question.

    Parameters
    ----------
    rows : iterable of gypsumkit.marking.marks.MarkRow

    Returns
    -------
    dict of (int, str) to tuple of MarkRow
    """
    found = {}
    for row in rows:
        found.setdefault((row.task_number, row.label), []).append(row)
    return {question: tuple(found[question]) for question in sorted(found)}


def changes_words(decision):
    """Say one decision as a line of the list of changes."""
    return (f"{decision.when}, {decision.who}: candidate {decision.candidate_number}, task {decision.task_number} ({decision.label}), "
            f"{said(decision.marks_from)} → {said(decision.marks_to)}. {decision.why}")
