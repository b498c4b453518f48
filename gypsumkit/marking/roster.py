"""The roster: who sits the paper, under which number, and with how much extra time. Names stay here."""

import csv
import os
import re
import stat
import unicodedata
from pathlib import Path
from typing import NamedTuple

from gypsumkit.bench.decoding import text_of
from gypsumkit.bench.sheets import RUNS, as_written
from gypsumkit.problems import Problem

FILE = "roster.csv"
HEADER = ("candidate_number", "name", "extra_time_percent")
MOST_CANDIDATES = 20_000
MOST_BYTES = 8_000_000
LONGEST_NAME = 120
MOST_EXTRA_PERCENT = 200.0

_NUMBER = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9-]{0,18}[A-Za-z0-9])?")
_DEVICES = re.compile(r"(?:con|prn|aux|nul|com\d|lpt\d)", re.I)          # no file may have such a name on Windows
_HEADINGS = {"candidate": "candidate_number", "number": "candidate_number", "candidate no": "candidate_number", "no": "candidate_number",
             "student": "name", "extra time": "extra_time_percent", "extra time %": "extra_time_percent", "extra": "extra_time_percent"}
_LOOK_ALIKE = str.maketrans("oil", "011")


class Candidate(NamedTuple):
    """One line of the roster."""

    number: str
    name: str
    extra_time_percent: float


def candidate_number(text, where):
    """Return a candidate number once it can stand in a file name and cannot be taken for another.

    Parameters
    ----------
    text : str
        What stands there.
    where : str
        Begins a refusal, such as "roster.csv, line 3".

    Returns
    -------
    str

    Raises
    ------
    Problem
        When it is empty, too long, or has other signs than letters, digits and hyphens.
    """
    text = text.strip()
    shown = "".join(one if one.isprintable() else "?" for one in text)[:40]
    if not text:
        raise Problem(f"{where}: the candidate number is missing.")
    if not text.isascii():
        odd = next(one for one in text if not one.isascii())
        plain = unicodedata.normalize("NFKC", text)
        raise Problem(f"{where}: the candidate number “{shown}” has a sign ({unicodedata.name(odd, 'without a name').lower()}) that only looks like one "
                      f"of the keyboard; type it again with A to Z and 0 to 9" + (f": {plain}." if plain.isascii() and plain != text else "."))
    if not _NUMBER.fullmatch(text) or _DEVICES.fullmatch(text):
        raise Problem(f"{where}: “{shown}” is not a candidate number: write 1 to 20 letters, digits and hyphens, such as 1047"
                      + (f"; without the point it is {text[:-2]}." if re.fullmatch(r"\d+\.0", text) else "."))
    return text


def _alike(number):
    """Return what two numbers have in common that can be mixed up: capitals, O and 0, I, l and 1, zeros in front."""
    return number.lower().translate(_LOOK_ALIKE).lstrip("0-") or "0"


def read_roster(folder):
    """Read the roster of an examination.

    Parameters
    ----------
    folder : path
        The folder of the examination.

    Returns
    -------
    tuple of Candidate
        In the order of the file.

    Raises
    ------
    Problem
        At the first thing that is wrong; names the line.
    """
    path = Path(folder) / FILE
    try:
        about = os.stat(path)
        if not stat.S_ISREG(about.st_mode):
            raise Problem(f"{path} is no ordinary file: write the roster as a CSV file.")
        with open(path, "rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise Problem(f"There is no {FILE} in {folder}: write one with the columns {', '.join(HEADER)}.") from None
    except OSError as error:
        raise Problem(f"{path} cannot be read ({error.strerror}).") from None
    if len(raw) > MOST_BYTES:
        raise Problem(f"{FILE} has more than {MOST_BYTES // 1_000_000} MB; no roster is so long.")
    if not raw.strip(b"\xef\xbb\xbf\xff\xfe\x00 \t\r\n"):
        raise Problem(f"{FILE} is empty: begin it with the line {','.join(HEADER)}, then a line for each candidate.")
    text, _ = text_of(raw, FILE, len(raw))
    return _candidates(text)


def _candidates(text):
    rows = _rows(text)
    line, header = next(rows, (1, []))
    columns = _columns(header, line)
    found, seen = [], {}
    for line, row in rows:
        where = f"{FILE}, line {line}"
        if len(row) > len(header):
            raise Problem(f"{where}: there are {len(row)} cells, and {len(header)} columns; put a name with a comma into quotation marks.")
        cells = {name: as_written(row[place].strip()) if place < len(row) else "" for name, place in columns.items()}
        number = candidate_number(cells["candidate_number"], where)
        if _alike(number) in seen:
            earlier, earlier_line = seen[_alike(number)]
            how = "stands there twice" if number == earlier else f"is too like {earlier}: capitals, zeros in front, O and 0, I and 1 do not tell two candidates apart"
            raise Problem(f"{where}: the candidate number {number} {how} (see line {earlier_line}).")
        seen[_alike(number)] = number, line
        found.append(Candidate(number, _name(row[columns["name"]] if "name" in columns and columns["name"] < len(row) else "", where),
                               _extra_time(cells.get("extra_time_percent", ""), where)))
        if len(found) > MOST_CANDIDATES:
            raise Problem(f"{where}: more than {MOST_CANDIDATES:,} candidates; make two examinations of it.")
    if not found:
        raise Problem(f"{FILE} has no candidates yet: write a line for each below the line of names.")
    return tuple(found)


def _rows(text):
    """Yield line number and cells of every row that is not empty."""
    lines = text.split("\n")
    head = next((line for line in lines if line.strip()), "")
    reader = csv.reader(iter(f"{line}\n" for line in lines), delimiter=max(",;\t", key=head.count), strict=True)
    before = 0
    try:
        for row in reader:
            line, before = before + 1, reader.line_num
            if any(cell.strip() for cell in row):
                if before > line:
                    raise Problem(f"{FILE}, line {line}: a cell goes on in the next line; close its quotation mark.")
                yield line, row
    except csv.Error:
        raise Problem(f"{FILE}, line {before + 1}: a quotation mark is not closed, or stands inside a cell.") from None


def _columns(header, line):
    columns = {}
    for place, cell in enumerate(header):
        said = " ".join(cell.lower().replace("_", " ").split())
        name = {one.replace("_", " "): one for one in HEADER}.get(said) or _HEADINGS.get(said)
        if name in columns:
            raise Problem(f"{FILE}, line {line}: two columns say {name}.")
        if name is None and said:
            raise Problem(f"{FILE}, line {line}: “{cell.strip()[:40]}” is not a column of the roster; they are {', '.join(HEADER)}.")
        if name:
            columns[name] = place
    if "candidate_number" not in columns:
        raise Problem(f"{FILE}, line {line}: the column candidate_number is missing; the first line is {','.join(HEADER)}.")
    return columns


def _name(text, where):
    text = text.strip()
    if len(text) > LONGEST_NAME:
        raise Problem(f"{where}: the name has {len(text)} letters; at most {LONGEST_NAME} are taken.")
    if text.lstrip("'").lstrip().startswith(RUNS):
        raise Problem(f"{where}: the name begins with {text.lstrip(chr(39)).lstrip()[0]}, which a spreadsheet would run as a formula; write the name alone.")
    odd = next((one for one in text if not one.isprintable() or unicodedata.category(one) in ("Cf", "Co", "Cs")), None)
    if odd is not None:
        raise Problem(f"{where}: the name holds a sign that cannot be seen ({unicodedata.name(odd, 'a control sign').lower()}); type the name again.")
    return unicodedata.normalize("NFC", text)


def _extra_time(text, where):
    if not text:
        return 0.0
    typed = text.rstrip("% ").replace(",", ".")
    if not re.fullmatch(r"\d{1,4}(?:\.\d{1,3})?", typed, re.A) or float(typed) > MOST_EXTRA_PERCENT:
        raise Problem(f"{where}: the extra time “{text[:20]}” is not a number of percent from 0 to {MOST_EXTRA_PERCENT:g}, such as 25.")
    return float(typed)
