"""Pages to read and print: plain HTML without script or anything from elsewhere, in which no typed text can be more than text."""

import html
import os
import re
import secrets
from contextlib import suppress

from gypsumkit.files import move

# Even if a tag got in, a browser would load and run nothing.
_HEAD = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title>
<style>
body {{ font: 16px/1.5 Verdana, 'DejaVu Sans', sans-serif; color: #000; background: #fff; max-width: 60rem; margin: 0 auto; padding: 16px; overflow-wrap: break-word; }}
h1 {{ font-size: 1.5rem; }} h2 {{ font-size: 1.2rem; margin: 1.6em 0 .4em; }} h3 {{ font-size: 1rem; margin: 1.2em 0 .2em; }}
table {{ border-collapse: collapse; margin: 8px 0 14px; font-variant-numeric: tabular-nums; }}
caption {{ text-align: left; font-weight: bold; padding: 4px 0; }}
th, td {{ text-align: left; vertical-align: top; padding: 4px 14px 4px 0; border-bottom: 1px solid #999; }}
thead th {{ border-bottom: 2px solid #000; }} tbody th {{ font-weight: normal; }}
.scrolls {{ overflow-x: auto; }}
.short {{ white-space: nowrap; }}
.answer {{ white-space: pre-wrap; overflow-wrap: anywhere; min-width: 8rem; }}
.note {{ border-left: 7px double #0072B2; padding: 4px 12px; margin: 10px 0; }}
.bar {{ display: inline-block; height: .8em; background: #0072B2; }}
svg {{ max-width: 100%; height: auto; }}
.write {{ min-width: 5rem; }}
@media print {{ body {{ font-size: 11pt; padding: 0; max-width: none; }} h2, tr {{ break-inside: avoid; }} }}
</style>
</head>
<body>
<main>
"""
_FOOT = "</main>\n</body>\n</html>\n"

# Signs that turn the direction of writing round, with which a line can be made to read as another.
_TURNING = re.compile("[\u200e\u200f\u202a-\u202e\u2066-\u2069\u061c]")
_NOT_SHOWN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
LONGEST_SHOWN = 2000
SHORT = 14                           # characters of a cell that is kept in one line


def counted(count, noun):
    """Return how many there are of something: "1 mark", "1.5 marks", "2,000 papers"."""
    return f"{count if isinstance(count, str) else f'{count:,}'} {noun}{'' if count in (1, '1') else 's'}"


def page(title, body):
    """Return a whole page.

    Parameters
    ----------
    title : str
        Plain text.
    body : str
        HTML whose texts are escaped.

    Returns
    -------
    str
    """
    return _HEAD.format(title=safe(title)) + body + _FOOT


def safe(text, most=LONGEST_SHOWN):
    """Return a text as HTML that shows it and does nothing else.

    Parameters
    ----------
    text : object
    most : int
        Characters shown; how many more there are is said.

    Returns
    -------
    str
    """
    text = str(text)
    more = f" … ({len(text) - most:,} more characters)" if len(text) > most else ""
    return html.escape(_TURNING.sub("", _NOT_SHOWN.sub("\ufffd", text[:most].replace("\r\n", "\n").replace("\r", "\n"))) + more)


def paragraph(text):
    """Return a paragraph of plain text."""
    return f"<p>{safe(text)}</p>\n"


def note(text):
    """Return a paragraph that stands out."""
    return f'<p class="note">{safe(text)}</p>\n'


def bullets(items):
    """Return a list of plain texts; nothing for none."""
    return "<ul>" + "".join(f"<li>{safe(item)}</li>" for item in items) + "</ul>\n" if items else ""


def table(caption, heads, rows, answers=()):
    """Return a table of plain texts; the first cell of a row names it.

    Parameters
    ----------
    caption : str
    heads : sequence of str
    rows : iterable of sequences
    answers : sequence of int
        Columns in which line breaks and blanks are kept as they were typed.

    Returns
    -------
    str
    """
    def cell(column, content):
        content = str(content)
        kind = ' class="answer"' if column in answers else ' class="short"' if len(content) <= SHORT else ""
        return f'<th scope="row"{kind}>{safe(content)}</th>' if column == 0 else f"<td{kind}>{safe(content)}</td>"

    lines = ["<tr>" + "".join(cell(column, content) for column, content in enumerate(row)) + "</tr>\n" for row in rows]
    head = "".join(f'<th scope="col">{safe(one)}</th>' for one in heads)
    return f'<div class="scrolls"><table><caption>{safe(caption)}</caption><thead><tr>{head}</tr></thead><tbody>\n{"".join(lines)}</tbody></table></div>\n'


def write_page(path, content):
    """Write a page, or any bytes, unless the same stands there already: whole or not at all.

    Nothing waits for the disk, since there may be thousands of pages and each can be made again from the marks.

    Parameters
    ----------
    path : pathlib.Path
    content : str or bytes

    Raises
    ------
    OSError
        When it cannot be written; what was there is then untouched.
    """
    content = content.encode("utf-8", errors="replace") if isinstance(content, str) else content
    with suppress(OSError):
        if path.read_bytes() == content:
            return
    beside = path.with_name(".writing-" + secrets.token_hex(8))
    try:
        beside.write_bytes(content)
        move(beside, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(beside)
        raise
