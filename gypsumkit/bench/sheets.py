"""Tables for a spreadsheet: comma-separated text in which no cell can be taken for a formula."""

import csv
import io
import numbers
import re

# A spreadsheet runs a cell that begins like this. An apostrophe in front makes it text; a plain number is left alone.
RUNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")

# Where another separator is usual, a cell is cut in two at a semicolon, a tab or a new line, and its second part begins a cell of its own.
_SECOND_PART = re.compile(r"([;\t\r\n]\s*)(?='*[=+\-@＝＋－＠])")
_MADE_HARMLESS = re.compile(r"([;\t\r\n]\s*)'(?='*[=+\-@＝＋－＠])")


def neutral(cell):
    """Return a cell as text that a spreadsheet shows and does not run.

    Parameters
    ----------
    cell : object
        A number, a text, or None for an empty cell.

    Returns
    -------
    str
    """
    if cell is None or cell != cell:
        return ""
    if isinstance(cell, numbers.Real):
        return f"{cell:.10g}" if not isinstance(cell, numbers.Integral) else str(cell)
    text = str(cell)
    if not text.isprintable():
        text = "".join(one for one in text if one in "\t\n\r" or one.isprintable())
    text = _SECOND_PART.sub(r"\1'", text)
    return "'" + text if text.startswith("'") or text.lstrip().startswith(RUNS) or text.startswith(RUNS) else text


def as_written(text):
    """Return the text of a cell as it was before `neutral` made it harmless."""
    if text.startswith("'") and (text[1:].lstrip().startswith(RUNS) or text[1:].startswith(("'", *RUNS))):
        text = text[1:]
    return _MADE_HARMLESS.sub(r"\1", text) if "'" in text else text


def sheet(header, rows):
    """Return a table as comma-separated text for a spreadsheet, in UTF-8 with the mark that spreadsheets look for.

    Parameters
    ----------
    header : sequence of str
        Names of the columns.
    rows : iterable of sequences
        Cells as for `neutral`.

    Returns
    -------
    bytes
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([neutral(cell) for cell in header])
    writer.writerows([neutral(cell) for cell in row] for row in rows)
    return b"\xef\xbb\xbf" + text.getvalue().encode("utf-8", errors="replace")
