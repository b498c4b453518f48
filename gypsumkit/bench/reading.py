"""Reading tables that students and spreadsheets wrote: one file, or a class's folder of them.

Nothing is put right in silence: what may be a slip comes back as a question with line, column and a proposal.
"""

import hashlib
import os
import pathlib
import stat
from collections import Counter
from itertools import chain
from typing import NamedTuple

import numpy as np

from gypsumkit.bench.columns import NUMBERS, TEXTS
from gypsumkit.bench.decoding import MOST_BYTES, text_of
from gypsumkit.bench.records import Records
from gypsumkit.bench.table import Table
from gypsumkit.locking import reason
from gypsumkit.problems import Problem

MOST_FILES, MOST_POOLED = 1000, 500_000
TABLE_ENDINGS = (".csv", ".txt", ".tsv")
LEFT_OUT = ("bench-earlier.csv",)          # rows that were changed or removed


class Read:
    """What was read of a table.

    Parameters
    ----------
    records : Records
        Every row; a refused cell is empty, a doubtful one is as it stands.
    questions : list of Question
        What may be a slip; `accept` puts the proposal in, `keep` leaves the cell as it is.
    refused : list of Question
        Cells and lines that could not be taken; one with a proposal can be accepted too.
    messages : list of str
        What was taken for what.
    lines : array
        Line of each row.
    complete : bool
        Whether every cell and column that holds something is in the records.
    """

    def __init__(self, records, questions=(), refused=(), messages=(), lines=(), complete=True):
        self.records, self.questions, self.refused, self.messages = records, list(questions), list(refused), list(messages)
        self.lines, self.complete = lines, complete

    def accept(self, question, everywhere=False):
        """Put the proposal of a question into the records.

        Parameters
        ----------
        question : Question
            One of `questions` or `refused` with a proposal.
        everywhere : bool
            Also answer every question of this column that is of the same kind, each with its own proposal.

        Returns
        -------
        int
            How many questions were answered.

        Raises
        ------
        Problem
            When there is nothing to accept.
        """
        if not question.proposal:
            raise Problem(f"{question} There is nothing to put in: correct it in the file and read it again.")
        answered = self.alike(question) if everywhere else [question]
        for one in answered:
            for name, value in one.proposal.items():
                self.records[name][one.place] = value
            self._drop(one)
        return len(answered)

    def keep(self, question, everywhere=False):
        """Leave what stands there as it is, and ask no more; return how many questions were answered."""
        answered = self.alike(question) if everywhere else [question]
        for one in answered:
            self._drop(one)
        return len(answered)

    def empty(self, question, everywhere=False):
        """Leave out what stands there; return how many questions were answered."""
        answered = self.alike(question) if everywhere else [question]
        for one in answered:
            if one.kept and one.column in self.records.row(one.place):
                self.records[one.column][one.place] = np.nan if one.column in NUMBERS else ""
            self._drop(one)
        return len(answered)

    def alike(self, question):
        """Return the open questions about the same column and of the same kind, this one among them."""
        return [one for one in (*self.questions, *self.refused) if bool(one.proposal) == bool(question.proposal)
                and (one.column, one.kind, one.kept) == (question.column, question.kind, question.kept)] or [question]

    def _drop(self, question):
        for asked in (self.questions, self.refused):
            if question in asked:
                asked.remove(question)
                return
        raise Problem(f"{question} This question has been answered already.")



def read_file(path):
    """Read a table of measurements: comma, semicolon or tab, decimal point or comma, any usual encoding.

    Parameters
    ----------
    path : path
        The file.

    Returns
    -------
    Read

    Raises
    ------
    Problem
        When it cannot be read at all; names line and column where it can.
    """
    path = pathlib.Path(path)
    raw, size = _bytes_of(path)
    return read_bytes(raw, path.name, size)


def _bytes_of(path):
    """Return as much of a file as is ever read, and how long it is."""
    try:
        about = os.stat(path)
        if not stat.S_ISREG(about.st_mode):
            raise Problem(f"{path.name} is {'a folder' if stat.S_ISDIR(about.st_mode) else 'no ordinary file'}: give the name of a CSV file.")
        with open(path, "rb") as file:
            return file.read(MOST_BYTES + 1), about.st_size
    except FileNotFoundError:
        raise Problem(f"There is no file {path.name} in {path.parent}: look how its name is written.") from None
    except Problem:
        raise
    except (OSError, ValueError) as error:
        raise Problem(f"{path.name} cannot be read ({reason(error)}).") from None


def read_bytes(raw, called="The file", size=None):
    """Read a table from the bytes of a file, as `read_file`.

    Parameters
    ----------
    raw : bytes
        Its content.
    called : str
        How a message calls it.
    size : int, optional
        Length of the whole file, when `raw` is only its beginning.
    """
    size = len(raw) if size is None else size
    text, messages = text_of(raw, called, size)
    lines = text.split("\n")
    del raw, text
    return Read(*Table(lines, called, messages).read())


class PooledFile(NamedTuple):
    """One file of a folder: its name, its rows that count, and what was read of it (None when it could not be read)."""

    name: str
    rows: int
    read: Read


class Pooled(NamedTuple):
    """The measurements of a class: all rows, the files they came from, and what is to be said about them."""

    records: Records
    files: list
    messages: list


def pool_folder(folder):
    """Read every table in a folder and put the rows together, file by file in the order of their names.

    A row that stands in two places with the same number and the same content counts once. Where nobody is named, the name of
    the file says who made the mix. What may be a slip stands as it is; the questions are with each file.

    Parameters
    ----------
    folder : path
        The folder; folders inside it are not looked into.

    Returns
    -------
    Pooled

    Raises
    ------
    Problem
        When there is no such folder, or no table in it that can be read.
    """
    folder = pathlib.Path(folder)
    paths, messages = _tables_in(folder)
    files, known, tables = [], {}, []
    for path in paths:
        try:
            same_as, read = _read_once(path, known)
        except Problem as problem:
            messages.append(f"{path.name} is left out: {problem}")
            files.append(PooledFile(path.name, 0, None))
            continue
        if same_as:
            messages.append(f"{path.name} is the same file as {same_as} and counts once.")
        elif sum(len(one.records) for _, one in tables) + len(read.records) > MOST_POOLED:
            messages.append(f"{path.name} is left out: with it there would be more than {MOST_POOLED:,} rows.")
            files.append(PooledFile(path.name, 0, None))
        else:
            tables.append((path, read))
    if not tables:
        raise Problem(f"No table in {folder.name} could be read. " + " ".join(messages[:3]))
    parts, seen = [], set()
    often = _more_than_once([read.records["record_id"] for _, read in tables])
    for path, read in tables:
        again = _seen_before(read.records, often, seen)
        if again:
            messages.append(f"{path.name}: {len(again)} row(s) stand elsewhere with the same number and content and count once.")
        records = read.records.where(np.delete(np.arange(len(read.records)), again)) if again else read.records
        parts.append(_named(records, path.stem))
        files.append(PooledFile(path.name, len(records), read))
    return Pooled(Records.together(parts), sorted(files, key=lambda file: (file.name.casefold(), file.name)), messages)


def _tables_in(folder):
    """Return the tables of a folder in the order of their names, and what is left out and why."""
    try:
        names = sorted(os.listdir(folder), key=lambda name: (name.casefold(), name))
    except OSError as error:
        raise Problem(f"The folder {folder} cannot be read ({reason(error)}): give the folder in which the tables of the class lie.") from None
    inside, paths, messages, folders = os.path.realpath(folder), [], [], 0
    for name in names:
        path = folder / name
        if name.startswith("."):
            continue
        if path.is_dir():
            folders += 1
        elif not name.lower().endswith(TABLE_ENDINGS):
            messages.append(f"{name} is left out: its name does not end in {', '.join(TABLE_ENDINGS)}.")
        elif name in LEFT_OUT:
            messages.append(f"{name} is left out: it keeps rows that were changed or removed.")
        elif os.path.dirname(os.path.realpath(path)) != inside:
            messages.append(f"{name} is left out: it is a link to a place outside the folder.")
        else:
            paths.append(path)
    if folders:
        messages.append(f"{folders} folder(s) inside are not looked into.")
    if len(paths) > MOST_FILES:
        messages.append(f"Only the first {MOST_FILES:,} of {len(paths):,} tables are read.")
    if not paths:
        raise Problem(f"There is no table in {folder.name}: put files there whose names end in {', '.join(TABLE_ENDINGS)}.")
    return paths[:MOST_FILES], messages


def _read_once(path, seen):
    """Return the name of a file with the same content, or what was read of this one."""
    raw, size = _bytes_of(path)
    mark = hashlib.sha256(raw).digest() if size <= MOST_BYTES else None
    if mark in seen:
        return seen[mark], None
    read = read_bytes(raw, path.name, size)
    if mark:
        seen[mark] = path.name
    return None, read


def _more_than_once(columns):
    """Return the numbers of mixes that stand more than once in all of the tables."""
    counted = Counter(chain.from_iterable(columns))
    return {number for number, many in counted.items() if number and many > 1}


def _seen_before(records, often, seen):
    """Return the places of rows that stood before with the same number and content; note all rows whose number is not the only one."""
    again = []
    if not often:
        return again
    for place, number in enumerate(records["record_id"]):
        if number in often:
            mark = tuple(sorted(records.row(place).items()))
            if mark in seen:
                again.append(place)
            seen.add(mark)
    return again


def _named(records, name):
    """Return the records with the name of their file where nobody is named."""
    made_by = records["made_by"]
    if all(made_by):
        return records
    columns = {column: records[column] for column in (*NUMBERS, *TEXTS)}
    columns["made_by"] = np.array([one or name for one in made_by], dtype=object)
    return Records(columns)
