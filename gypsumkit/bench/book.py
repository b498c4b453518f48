"""The reader's own measurements, one open file in the work folder: nothing that was entered is ever lost.

Each change is saved at once, as a whole new file that takes the place of the old one. What cannot be saved stays here and is
saved with the next change. A row is known by its number, not by its place, so that two open lessons never hit the wrong one.
A row that is changed or removed goes to a second file.
"""

import datetime
import re

from gypsumkit.bench.cells import checked_number_of, read_cell
from gypsumkit.bench.columns import COLUMNS
from gypsumkit.bench.reading import read_bytes
from gypsumkit.bench.records import Records
from gypsumkit.bench.sheets import sheet
from gypsumkit.kept import KeptFiles
from gypsumkit.problems import Problem, nearest

BOOK_FILE, EARLIER_FILE = "bench.csv", "bench-earlier.csv"
SET_ASIDE = ("set_aside_at", "set_aside_because")


class NotSaved(Problem):
    """The change could not be saved; it is kept in the open book and saved with the next one."""


class Book(KeptFiles):
    """The reader's bench.csv.

    Parameters
    ----------
    folder : path, optional
        The work folder; the course's own when not given.
    """

    cannot_read = "{path} cannot be read ({why}): what you enter now is kept only until this lesson is closed."
    cannot_save = ("{path} could not be saved ({why}): what you entered is kept in this lesson and saved with the next change; "
                   "the file as last saved is untouched; make room or allow writing there, then save again.")
    cannot_set_aside = "{path} is damaged and cannot be set aside ({why}): move it away by hand, then save again."

    def __init__(self, folder=None):
        super().__init__(folder)
        self._changes = []              # not yet saved: (what, record_id, row)
        self._set_apart = []            # rows that are in the second file already, though the change itself is not yet saved
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
        rows = _changed(self._rows(), self._changes)[0]
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
        first = _next_number(_changed(self._rows(), self._changes)[0], self._earlier())
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
        self._change("replace", record_id, _checked(row))

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

    # How it is done -------------------------------------------------------------------------

    def _change(self, what, record_id, row):
        seen = dict(self._seen)
        self.records()
        record_id = self._known(record_id)
        if record_id in seen and seen[record_id] != self._seen[record_id]:
            self.messages.append(f"No. {record_id} was changed in another lesson meanwhile; that version is kept in {EARLIER_FILE}.")
        if row and "recorded_at" in self._seen[record_id]:
            row = {"recorded_at": self._seen[record_id]["recorded_at"], **row}
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
                on_disk, earlier = self._rows(), self._earlier()
                changes, numbers = _numbered(self._changes, on_disk, earlier)
                rows, gone = _changed(on_disk, changes)
                gone = [one for one in gone if one not in self._set_apart]
                if gone:
                    self._write(EARLIER_FILE, _with_more(earlier, gone))
                    self._set_apart += gone
                self._write(BOOK_FILE, _as_sheet(rows))
        except Problem as problem:
            raise NotSaved(str(problem)) from None
        self._changes.clear()
        self._set_apart.clear()
        self._seen = {row["record_id"]: row for row in rows}
        for old, new in numbers.items():
            self.messages.append(f"Another lesson had used No. {old} meanwhile: the new row is No. {new}.")
        return numbers

    def _rows(self):
        """Return the rows of the file; one that is damaged is set aside, and what can be read of it is kept."""
        raw = self._bytes(BOOK_FILE) or b""
        rows, why = _parsed(raw)
        return rows if not why else self._set_aside(raw, rows, why)

    def _earlier(self):
        """Return the second file as it is: it is only ever added to."""
        return self._bytes(EARLIER_FILE) or b""

    def _set_aside(self, raw, rows, why):
        with self._lock.held(BOOK_FILE):
            aside = self._put_aside(BOOK_FILE, raw)
            if aside is None:  # another lesson has just mended it
                return self._rows()
            if rows:
                self._write(BOOK_FILE, _as_sheet(rows))
        shown = self._shown(BOOK_FILE, aside)
        kept = f"The {len(rows)} rows that could be read are kept. " if rows else ""
        self.messages.append(f"{BOOK_FILE} could not be taken as it was and is set aside as {shown}: {why} {kept}New rows are saved as usual.")
        return rows


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
        cell = _checked_cell(name, value)
        if cell != "":
            checked[name] = cell
    if not checked:
        raise Problem("This row is empty: enter at least one thing that was measured.")
    return checked


def _checked_cell(name, value):
    if COLUMNS[name].is_number and not isinstance(value, str):
        try:
            value = float(value)
        except (TypeError, ValueError):
            raise Problem(f"{COLUMNS[name].words} must be a number; '{str(value)[:40]}' is not one.") from None
        return checked_number_of(name, value)
    return read_cell(name, value)


def _number_of(record_id):
    return int(record_id) if re.fullmatch(r"[0-9]{1,9}", record_id) else 0


def _next_number(rows, earlier):
    """Return the number after the highest that is or was in use."""
    return 1 + max([0, *(_number_of(row["record_id"]) for row in rows), *map(int, re.findall(rb"(?m)^([0-9]{1,9}),", earlier))])


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


def _as_sheet(rows):
    return sheet(COLUMNS, ([row.get(name) for name in COLUMNS] for row in rows))


def _with_more(earlier, gone):
    """Return the second file with more rows at its end; what stands in it is not touched."""
    added = sheet((*COLUMNS, *SET_ASIDE), ([*(row.get(name) for name in COLUMNS), _now(), why] for why, row in gone))
    if not earlier:
        return added
    return earlier + (b"" if earlier.endswith(b"\n") else b"\r\n") + added.split(b"\r\n", 1)[1]


def _parsed(raw):
    """Return the rows in the bytes of a file, and why it cannot be taken as it is, an empty text when it can."""
    if not raw.strip():
        return [], ""
    try:
        read = read_bytes(raw, BOOK_FILE)
    except Problem as problem:
        return [], str(problem)
    rows, used, unnumbered = [], set(), 0
    for place in range(len(read.records)):
        row = {name: value if isinstance(value, str) else float(value) for name, value in read.records.row(place).items()}
        if row.get("record_id", "") in ("", *used):
            row["record_id"] = ""
            unnumbered += 1
        used.add(row["record_id"])
        rows.append(row)
    following = _next_number(rows, b"")
    for row in rows:
        if not row["record_id"]:
            row["record_id"], following = str(following), following + 1
    if not read.complete:
        unread = [str(one) for one in (*read.refused, *(one for one in read.questions if not one.kept))]
        return rows, (unread or [message for message in read.messages if "left out" in message] or ["some of it could not be read."])[0]
    return rows, f"{unnumbered} row(s) had no number of their own; now they have." if unnumbered else ""
