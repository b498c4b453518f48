"""The reader's own measurements, one open file in the work folder: nothing that was entered is ever lost.

Each change is saved at once, as a whole new file that takes the place of the old one. What cannot be saved stays here and is
saved with the next change. A row is known by its number, not by its place, so that two open lessons never hit the wrong one.
A row that is changed or removed goes to a second file.
"""

import csv
import datetime
import io
import os
import pathlib

from gypsumkit.bench.columns import COLUMNS, NUMBERS
from gypsumkit.bench.records import Records
from gypsumkit.bench.sheets import as_written, sheet
from gypsumkit.files import free_name, move, write_whole
from gypsumkit.locking import FolderLock, reason
from gypsumkit.problems import Problem, nearest

BOOK_FILE, EARLIER_FILE = "bench.csv", "bench-earlier.csv"
SET_ASIDE = ("set_aside_at", "set_aside_because")


class NotSaved(Problem):
    """The change could not be saved; it is kept in the open book and saved with the next one."""


class Book:
    """The reader's bench.csv.

    Parameters
    ----------
    folder : path, optional
        The work folder; the course's own when not given.
    """

    def __init__(self, folder=None):
        if folder is None:
            from gypsumkit.launch.workspace import work_folder
            folder = work_folder()
        self.folder = pathlib.Path(folder)
        self.messages = []
        self._lock = FolderLock(self.folder, again="save again")
        self._changes = []              # not yet saved: (what, record_id, row)
        self._seen = {}                 # each row as it was last shown here, by its number

    # What the reader does -------------------------------------------------------------------

    def records(self):
        """Return every row, those that could not be saved yet included.

        Returns
        -------
        Records

        Raises
        ------
        Problem
            When the file cannot be read.
        """
        rows = _changed(self._rows(BOOK_FILE), self._changes)[0]
        self._seen = {row["record_id"]: row for row in rows}
        return Records.of_rows(rows)

    def row(self, record_id):
        """Return the row of that number as a plain dictionary.

        Parameters
        ----------
        record_id : str
            Its number.

        Raises
        ------
        Problem
            When there is none.
        """
        self.records()
        return dict(self._seen[self._known(record_id)])

    def add(self, row):
        """Add a row and save it.

        Parameters
        ----------
        row : dict
            By the names of `COLUMNS`; the book gives it its number, and a time when it has none.

        Returns
        -------
        str
            Its number.

        Raises
        ------
        NotSaved
            When it cannot be saved; it is then kept here and saved with the next change.
        Problem
            When a column is unknown or a cell is no number that can be measured; nothing is then added.
        """
        return self.add_all([row])[0]

    def add_all(self, rows):
        """Add many rows and save them at once, as `add` does one; return their numbers."""
        rows = [{"recorded_at": _now(), **_checked(row)} for row in rows]
        first = _next_number(_changed(self._rows(BOOK_FILE), self._changes)[0], self._rows(EARLIER_FILE))
        added = [("add", str(first + place), row) for place, row in enumerate(rows)]
        self._changes += added
        numbers = self._save()
        return [numbers.get(record_id, record_id) for _, record_id, _ in added]

    def replace(self, record_id, row):
        """Put another row in the place of the one of that number; the earlier one is kept in a second file.

        Parameters
        ----------
        record_id : str
            Number of the row.
        row : dict
            By the names of `COLUMNS`.

        Raises
        ------
        NotSaved
            As for `add`.
        Problem
            When there is no such row, or a cell cannot be.
        """
        row = _checked(row)
        self._change("replace", record_id, row)

    def remove(self, record_id):
        """Take the row of that number out; it is kept in a second file.

        Parameters
        ----------
        record_id : str
            Number of the row.

        Raises
        ------
        NotSaved
            As for `add`.
        Problem
            When there is no such row.
        """
        self._change("remove", record_id, None)

    @property
    def unsaved(self):
        """How many changes could not be saved yet."""
        return len(self._changes)

    def save(self):
        """Try again to save what could not be saved; without such a change nothing is written."""
        if self._changes:
            self._save()

    def take_messages(self):
        """Return what the reader should be told about the file, once."""
        messages, self.messages = self.messages, []
        return messages

    # How it is done -------------------------------------------------------------------------

    def _change(self, what, record_id, row):
        seen = dict(self._seen)
        self.records()
        record_id = self._known(record_id)
        if record_id in seen and seen[record_id] != self._seen[record_id]:
            self.messages.append(f"No. {record_id} was changed in another lesson meanwhile; that version is kept in {EARLIER_FILE}.")
        self._changes.append((what, record_id, row))
        self._save()

    def _known(self, record_id):
        record_id = str(record_id).strip()
        if record_id not in self._seen:
            there_are = f"there are {', '.join(list(self._seen)[:12])}{' and more' if len(self._seen) > 12 else ''}." if self._seen else "there is none yet."
            raise Problem(f"There is no mix No. {record_id[:20]} in your bench book; {there_are}")
        return record_id

    def _save(self):
        """Write what has changed; return the new numbers of rows whose number another lesson has taken meanwhile."""
        try:
            with self._lock.held(BOOK_FILE):
                on_disk, earlier = self._rows(BOOK_FILE), self._rows(EARLIER_FILE)
                changes, numbers = _numbered(self._changes, on_disk, earlier)
                rows, replaced = _changed(on_disk, changes)
                kept = [{**row, "set_aside_at": _now(), "set_aside_because": why} for why, row in replaced if not _is_in(row, earlier)]
                if kept:
                    self._write(EARLIER_FILE, [*earlier, *kept], (*COLUMNS, *SET_ASIDE))
                self._write(BOOK_FILE, rows, COLUMNS)
        except Problem as problem:
            raise NotSaved(str(problem)) from None
        self._changes.clear()
        self._seen = {row["record_id"]: row for row in rows}
        for old, new in numbers.items():
            self.messages.append(f"Another lesson had used No. {old} meanwhile: the new row is No. {new}.")
        return numbers

    def _rows(self, name):
        """Return the rows of a file; one that is damaged is set aside, and what can be read of it is kept."""
        path = self._place(name)
        try:
            raw = path.read_bytes()
        except FileNotFoundError:
            return []
        except OSError as error:
            raise Problem(f"{path} cannot be read ({reason(error)}): what you enter now is kept only until this lesson is closed.") from None
        rows, good = _parsed(raw, SET_ASIDE if name == EARLIER_FILE else ())
        return rows if good else self._set_aside(name, raw, rows)

    def _set_aside(self, name, raw, rows):
        with self._lock.held(BOOK_FILE):
            path = self._place(name)
            aside = free_name(path)
            try:
                if path.read_bytes() != raw:  # another lesson has just mended it
                    return self._rows(name)
                move(path, aside)
            except FileNotFoundError:
                return []
            except OSError as error:
                raise Problem(f"{path} is damaged and cannot be set aside ({reason(error)}): move it away by hand, then save again.") from None
            if rows:
                self._write(name, rows, (*COLUMNS, *SET_ASIDE) if name == EARLIER_FILE else COLUMNS)
        kept = f"The {len(rows)} rows that could be read are kept. " if rows else ""
        shown = aside if (self.folder / name).is_symlink() else aside.name
        self.messages.append(f"{name} was damaged and is set aside as {shown}. {kept}New rows are saved as usual.")
        return rows

    def _write(self, name, rows, columns):
        path = self._place(name)
        try:
            write_whole(path, sheet(columns, ([row.get(column) for column in columns] for row in rows)))
        except OSError as error:
            raise Problem(f"{path} could not be saved ({reason(error)}): what you entered is kept in this lesson and saved with the next change; "
                          "the file as last saved is untouched; make room or allow writing there, then save again.") from None

    def _place(self, name):
        """Return where a file really lies: a link in the work folder, as into a synced folder, stays a link."""
        path = self.folder / name
        return pathlib.Path(os.path.realpath(path)) if path.is_symlink() else path


def _now():
    return datetime.datetime.now().strftime("%Y-%m-%d %H:%M")


def _checked(row):
    """Return a row without what is empty, its numbers as they will stand in the file; refuse what cannot be measured."""
    checked = {}
    for name, value in row.items():
        if name not in COLUMNS:
            guess = nearest(name, COLUMNS)
            raise Problem(f"There is no column called '{name}'" + (f"; did you mean '{guess}'?" if guess else f"; there are {', '.join(COLUMNS)}."))
        if name == "record_id" or value is None or value == "" or value != value:
            continue
        checked[name] = _checked_cell(name, value)
    if not checked:
        raise Problem("This row is empty: enter at least one thing that was measured.")
    return checked


def _checked_cell(name, value):
    column = COLUMNS[name]
    if not column.is_number:
        return str(value)
    least, most = column.possible
    try:
        number = float(f"{float(value):.10g}")
    except (TypeError, ValueError):
        raise Problem(f"{column.words} must be a number in {column.unit}; '{str(value)[:40]}' is not one.") from None
    if not least <= number <= most:
        raise Problem(f"{column.words} is given as {number:g} {column.unit}; it must lie between {least:,g} and {most:,g} {column.unit}.")
    return number


def _number_of(row):
    return int(row["record_id"]) if row["record_id"].isascii() and row["record_id"].isdigit() else 0


def _next_number(rows, earlier):
    return 1 + max((_number_of(row) for row in (*rows, *earlier) if "record_id" in row), default=0)


def _numbered(changes, on_disk, earlier):
    """Return the changes with new numbers for added rows whose number is taken on the disk, and those numbers."""
    taken = {row["record_id"] for row in on_disk}
    following, numbers, result = _next_number(on_disk, earlier), {}, []
    for what, record_id, row in changes:
        if what == "add":
            if record_id in taken:
                numbers[record_id] = str(following)
            taken.add(numbers.get(record_id, record_id))
            following = max(following, int(numbers.get(record_id, record_id)) + 1)
        result.append((what, numbers.get(record_id, record_id), row))
    return result, numbers


def _changed(rows, changes):
    """Return the rows after the changes, and the rows that these took away, each with the reason."""
    by_id, gone = {row["record_id"]: row for row in rows}, []
    for what, record_id, row in changes:
        if what != "add" and record_id in by_id:
            gone.append(("removed" if what == "remove" else "changed", by_id[record_id]))
        if what == "remove":
            by_id.pop(record_id, None)
        else:
            by_id[record_id] = {"record_id": record_id, **row}
    return list(by_id.values()), gone


def _is_in(row, earlier):
    """Whether this very row was kept before, by a save that got no further."""
    return any(all(kept.get(name) == row.get(name) for name in COLUMNS) for kept in reversed(earlier[-50:]))


def _parsed(raw, more=()):
    """Return the rows in the bytes of a file, and whether all of it could be read."""
    try:
        text, good = raw.decode("utf-8-sig"), True
    except UnicodeDecodeError:
        text, good = raw.decode("utf-8-sig", errors="replace"), False
    rows, used = [], set()
    try:
        cells = csv.reader(io.StringIO(text, newline=""))
        header = next(cells, [])
        if set(header) - set(COLUMNS) - set(more) or "record_id" not in header:
            return [], not text.strip()
        for line in cells:
            row = {}
            for name, cell in zip(header, line):
                if cell:
                    try:
                        row[name] = _checked_cell(name, cell) if name in NUMBERS else as_written(cell)
                    except Problem:
                        good = False
            good = good and len(line) in (0, len(header))
            if not row:
                continue
            if not row.get("record_id") or (row["record_id"] in used and not more):
                good = False
                row["record_id"] = str(_next_number(rows, []))
            used.add(row["record_id"])
            rows.append(row)
    except csv.Error:
        good = False
    return rows, good
