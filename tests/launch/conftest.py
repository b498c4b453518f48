"""Small courses to launch: a clone in a temporary folder, with lessons of a few cells."""

import io
import json
import shutil
from pathlib import Path

import pytest

from gypsumkit.launch.course import Course
from gypsumkit.launch.screen import Screen

CLONE = Path(__file__).resolve().parents[2]


def notebook(*cells, outputs=(), **metadata):
    """Return the content of a notebook: cells of text, code where they begin with "code:"."""
    made = []
    for number, text in enumerate(cells):
        if text.startswith("code:"):
            made.append({"cell_type": "code", "id": "c{}".format(number), "metadata": {}, "source": text[5:].splitlines(True),
                         "execution_count": 1, "outputs": list(outputs)})
        else:
            made.append({"cell_type": "markdown", "id": "c{}".format(number), "metadata": {}, "source": text.splitlines(True)})
    kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
    content = {"cells": made, "metadata": {**kernel, **metadata}, "nbformat": 4, "nbformat_minor": 5}
    return (json.dumps(content, indent=1, ensure_ascii=False) + "\n").encode("utf-8")


@pytest.fixture
def course(tmp_path):
    """A clone with two lessons and the real launcher, in a folder whose name has a space and a letter from abroad."""
    return make_course(tmp_path / "my cöurse")


def make_course(folder):
    """Make a clone with two lessons and the real launcher, and return its course."""
    library = folder / "gypsumkit"
    shutil.copytree(CLONE / "gypsumkit" / "launch", library / "launch", ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("__init__.py", "__main__.py", "files.py", "problems.py", "pyproject.toml"):
        shutil.copy(CLONE / "gypsumkit" / name, library / name)
    (folder / "requirements.txt").write_text("-e ./gypsumkit\nplaster-trial>=1,<2\n", encoding="utf-8")
    (folder / "lessons").mkdir()
    (folder / "lessons" / "00_start_here.ipynb").write_bytes(notebook("# Start here", "code:print('the lesson runs')"))
    (folder / "lessons" / "02_water.ipynb").write_bytes(notebook("# Water", "code:1 + 1"))
    return Course(folder)


@pytest.fixture
def screen():
    """A screen whose words can be read with `screen.stream.getvalue()`."""
    return Screen(io.StringIO())
