"""Tables for a spreadsheet: comma-separated text in which no cell can be taken for a formula."""

import csv
import io

# A spreadsheet runs a cell that begins like this. An apostrophe in front makes it text; a plain number is left alone.
RUNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


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
    if isinstance(cell, (int, float)):
        return f"{cell:.10g}" if isinstance(cell, float) else str(cell)
    text = "".join(one for one in str(cell) if one in "\t\n\r" or one.isprintable())
    return "'" + text if text.startswith(RUNS) or text.startswith("'") else text


def as_written(text):
    """Return the text of a cell as it was before `neutral` made it harmless."""
    return text[1:] if text.startswith("'") and (text[1:].startswith(RUNS) or text[1:].startswith("'")) else text


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
