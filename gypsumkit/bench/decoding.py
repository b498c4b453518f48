"""From the bytes of a table to its text: whatever usual encoding it has, within bounds, and refused when it is no text."""

import re

from gypsumkit.problems import Problem

MOST_BYTES, MOST_LINES, LONGEST_LINE = 32_000_000, 300_000, 100_000
MEGABYTE = 1_000_000

_WORKBOOK = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")


def text_of(raw, called, size):
    """Return the text of a file and what to say about its encoding.

    Parameters
    ----------
    raw : bytes
        Its content, or the first `MOST_BYTES` + 1 of it.
    called : str
        How a message calls the file.
    size : int
        Bytes of the whole file.

    Returns
    -------
    str, list of str
        The text, its lines ended by "\\n" alone, and the messages.

    Raises
    ------
    Problem
        When it is empty, no text, or too long; names line and place.
    """
    if not raw.strip(b"\xef\xbb\xbf\xff\xfe\x00 \t\r\n"):
        raise Problem(f"{called} is empty: it should begin with a line of column names, such as powder, powder_g, water_ml.")
    if raw.startswith(_WORKBOOK):
        raise Problem(f"{called} is a workbook of a spreadsheet program, not text: save it as CSV there and read that file.")
    text, encoding = _decoded(raw)
    _refuse_binary(text, called)
    if max(size, len(raw)) > MOST_BYTES:
        longest = _first_too_long(text) if text.count("\n") <= MOST_LINES else None
        where = f"; line {longest[0]}, column {longest[1]} holds a cell of {longest[2]} or more" if longest else ""
        raise Problem(f"{called} has {max(size, len(raw)) / MEGABYTE:,.0f} MB; at most {MOST_BYTES / MEGABYTE:,.0f} MB are read{where}. "
                      "Split it into several files.")
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    if text.count("\n") > MOST_LINES:
        raise Problem(f"{called} has {text.count(chr(10)):,} lines; at most {MOST_LINES:,} are read. Split it into several files.")
    messages = [] if encoding == "UTF-8" else [f"It was read as {encoding}."]
    return text, messages


def _decoded(raw):
    for mark, encoding in ((b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")):
        if raw.startswith(mark):
            return raw[2:].decode(encoding, errors="replace"), "UTF-16"
    head = raw[:2000]
    if len(head) >= 4:
        for start, encoding in ((1, "utf-16-le"), (0, "utf-16-be")):
            if head[start::2].count(0) > 0.6 * len(head[start::2]) and head[1 - start::2].count(0) < 0.1 * len(head):
                return raw.decode(encoding, errors="replace"), "UTF-16"
    raw = raw.removeprefix(b"\xef\xbb\xbf")
    try:
        return raw.decode("utf-8"), "UTF-8"
    except UnicodeDecodeError as error:
        if len(raw) > MOST_BYTES - 4 and error.start > len(raw) - 4:      # the end of what was looked at cuts a letter in two
            return raw[:error.start].decode("utf-8"), "UTF-8"
        line, column = raw.count(b"\n", 0, error.start) + 1, error.start - raw.rfind(b"\n", 0, error.start)
        where = f"; the first such sign is in line {line}, place {column}"
    try:
        return raw.decode("cp1252"), f"Western European text (Windows-1252), since it is not UTF-8{where}: look at accents and µ"
    except UnicodeDecodeError:
        return raw.decode("latin-1"), f"Western European text (Latin-1), since it is not UTF-8{where}: look at accents and µ"


_CONTROL = re.compile(r"[\x00-\x08\x0e-\x1f\x7f\ufffd]")


def _refuse_binary(text, called):
    odd = _CONTROL.findall(text[:20_000])
    if len(odd) > max(3, 0.02 * len(text[:20_000])):
        first = _CONTROL.search(text).start()
        line = text.count("\n", 0, first) + 1
        column = first - text.rfind("\n", 0, first)
        raise Problem(f"{called} is not a text file (line {line}, place {column} holds a sign that is no letter): save the table as CSV and read that file.")


def _first_too_long(text):
    """Return line, column and size of the cell that makes a line longer than any row, or None."""
    start = line = 0
    while start < len(text):
        line += 1
        end = text.find("\n", start)
        end = len(text) if end < 0 else end
        if end - start > LONGEST_LINE:
            separator = max(",;\t", key=lambda one: text.count(one, start, start + 2000))
            before = text.count(separator, start, start + 2000)
            place = max(text.rfind(separator, start, start + 2000), start - 1)
            cell_end = text.find(separator, place + 1, end)
            long = (end if cell_end < 0 else cell_end) - place - 1
            return line, before + 1, f"{long / MEGABYTE:,.0f} MB" if long > MEGABYTE else f"{long:,} letters"
        start = end + 1
    return None
