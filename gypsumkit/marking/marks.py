"""The marks of an examination: one row for each part that a candidate answered, and what was found on the returned files."""

import csv
import io
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

from gypsumkit.bench.sheets import as_written, sheet
from gypsumkit.files import write_whole, writing_into
from gypsumkit.locking import reason
from gypsumkit.problems import Problem

MARKS_FILE, FINDINGS_FILE = "marks.csv", "findings.csv"
LONGEST_CELL = 32_000               # a spreadsheet cuts a longer one


class MarkRow(NamedTuple):
    """The mark of one part of one candidate.

    `marks` is None as long as it waits for an assessor. `chosen` names the same choice in every paper, as in `tasks.PartMark`.
    """

    candidate_number: str
    task_number: int
    task_id: str
    label: str
    marks: float
    out_of: float
    why: str = ""
    slip: str = ""
    followed_through: bool = False
    by_hand: bool = False
    answer: str = ""
    file: str = ""
    changed_by: str = ""
    chosen: str = ""

    @property
    def doubtful(self):
        """Whether it has a mark that an assessor should still look at, such as 0 for an answer that was not read with certainty."""
        return self.marks is not None and self.by_hand and not self.changed_by


class Finding(NamedTuple):
    """Something an assessor should know about a returned file; `candidate_number` is "" where it is not known."""

    candidate_number: str
    file: str
    kind: str
    sentence: str


_NUMBERS, _FLAGS = {"task_number": int, "marks": float, "out_of": float}, ("followed_through", "by_hand")


class Marks:
    """The marks of an examination, in the order of candidate number, task and part.

    Parameters
    ----------
    rows : iterable of MarkRow
        One for each part of each returned paper that counts.
    findings : iterable of Finding
        What was found on the returned files.
    """

    def __init__(self, rows=(), findings=()):
        self.rows = tuple(sorted(rows, key=lambda row: (row.candidate_number, row.task_number, row.label)))
        self.findings = tuple(sorted(findings))

    @cached_property
    def by_candidate(self):
        """Candidate number → its rows, in the order of the paper."""
        found = {}
        for row in self.rows:
            found.setdefault(row.candidate_number, []).append(row)
        return {candidate: tuple(rows) for candidate, rows in found.items()}

    @property
    def candidates(self):
        """The candidate numbers that have marks, in order."""
        return tuple(self.by_candidate)

    def findings_of(self, candidate_number):
        """Return what was found on the files of one candidate."""
        return tuple(one for one in self.findings if one.candidate_number == candidate_number)

    def total(self, candidate_number):
        """Return the sum of the marks given so far to a candidate; parts that wait for an assessor count nothing yet."""
        return sum(row.marks for row in self.by_candidate.get(candidate_number, ()) if row.marks is not None)

    def out_of(self, candidate_number):
        """Return the marks that a candidate could have, parts that wait among them."""
        return sum(row.out_of for row in self.by_candidate.get(candidate_number, ()))

    def waiting(self, candidate_number):
        """Return the rows of a candidate that wait for an assessor."""
        return tuple(row for row in self.by_candidate.get(candidate_number, ()) if row.marks is None)

    def marks_csv(self):
        """Return the rows as comma-separated text in which no cell runs as a formula."""
        return sheet(MarkRow._fields, (_cells(row) for row in self.rows))

    def findings_csv(self):
        """Return the findings as comma-separated text in which no cell runs as a formula."""
        return sheet(Finding._fields, (_cells(row) for row in self.findings))

    def save(self, folder):
        """Write `marks.csv` and `findings.csv` into a folder, each whole or not at all.

        Parameters
        ----------
        folder : path
            The folder, such as `marks` of the examination; it is made where it is missing.

        Raises
        ------
        Problem
            When it cannot be written.
        """
        folder = Path(folder)
        with writing_into(folder, "the folder of the marks"):
            folder.mkdir(parents=True, exist_ok=True)
            write_whole(folder / FINDINGS_FILE, self.findings_csv())
            write_whole(folder / MARKS_FILE, self.marks_csv())

    @classmethod
    def load(cls, folder):
        """Read what `save` wrote.

        Parameters
        ----------
        folder : path
            The folder with `marks.csv` and `findings.csv`.

        Returns
        -------
        Marks

        Raises
        ------
        Problem
            When a file is missing or is not such a table; names line and column.
        """
        folder = Path(folder)
        return cls(_read(folder / MARKS_FILE, MarkRow), _read(folder / FINDINGS_FILE, Finding))


def _cells(row):
    for name, value in zip(row._fields, row):
        yield ("yes" if value else "") if name in _FLAGS else value[:LONGEST_CELL] if isinstance(value, str) else value


def _read(path, kind):
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise Problem(f"There is no {path.name} in {path.parent}: mark the examination first.") from None
    except UnicodeDecodeError:
        raise Problem(f"{path.name} is not UTF-8 text: mark the examination again.") from None
    except OSError as error:
        raise Problem(f"{path.name} cannot be read ({reason(error)}).") from None
    lines = csv.reader(io.StringIO(text, newline=""))
    if next(lines, None) != list(kind._fields):
        raise Problem(f"{path.name} does not begin with the columns {', '.join(kind._fields)}: mark the examination again.")
    return [_row(cells, kind, f"{path.name}, line {lines.line_num}") for cells in lines if cells]


def _row(cells, kind, where):
    if len(cells) != len(kind._fields):
        raise Problem(f"{where} has {len(cells)} cells and not {len(kind._fields)}.")
    values = {}
    for name, cell in zip(kind._fields, map(as_written, cells)):
        if name in _FLAGS:
            values[name] = cell == "yes"
        elif name in _NUMBERS:
            try:
                values[name] = None if cell == "" else _NUMBERS[name](cell)
            except ValueError:
                raise Problem(f"{where}, column {name}: “{cell[:40]}” is not a number.") from None
        else:
            values[name] = cell
    return kind(**values)
