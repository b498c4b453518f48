"""Read lessons and their answered copies as the checks need them."""

import re
from pathlib import Path

import nbformat

CLONE = Path(__file__).resolve().parents[2]
LESSONS = sorted((CLONE / "lessons").glob("[0-9][0-9]_*.ipynb"))
ANSWERED = sorted((CLONE / "tests" / "lessons" / "answered").glob("[0-9][0-9]_*.ipynb"))


def name(path):
    """Return how a test names a notebook."""
    return path.stem


def cells(path, kind=None):
    """Return the cells of a notebook, all or those of one kind."""
    return [cell for cell in nbformat.read(path, as_version=4).cells if kind in (None, cell.cell_type)]


def words(cell):
    """Return the words stored as the output of a code cell."""
    return "\n".join(output["data"]["text/plain"] for output in cell.outputs if "data" in output)


def outside_code(markdown):
    """Return a markdown text without the code in it."""
    return re.sub(r"`[^`]*`", "", markdown)
