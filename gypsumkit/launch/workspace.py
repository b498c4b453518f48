"""The student's own folder: copies of the lessons to work in, renewed without losing what the student wrote.

A copy is replaced only when what is written in it is exactly what some version of the course shipped;
what Lab stores by itself (outputs, counts, metadata) is not counted as the student's. Any other copy is the
student's work: it stays, and when the course brings a newer version of the lesson, it moves aside under a
dated name. Answers, notes and bench data lie outside the lessons and are never touched here.
"""

import datetime
import json
import os
from pathlib import Path

from gypsumkit.launch.files import write_whole, writing_into
from gypsumkit.launch.notebooks import fingerprint, without_stale_views
from gypsumkit.problems import Problem

RECORD = ".lessons-laid.json"


def work_folder():
    """Return the student's work folder: what GYPSUMKIT_WORK names, else gypsumkit-work in the home folder.

    Returns
    -------
    pathlib.Path
        The folder, which need not exist yet.
    """
    named = os.environ.get("GYPSUMKIT_WORK", "").strip()
    return Path(named).expanduser().absolute() if named else Path.home() / "gypsumkit-work"


def lay_lessons(course, work, today=None):
    """Bring the copies of the lessons in a work folder up to date.

    Parameters
    ----------
    course : Course
        The clone whose lessons are laid.
    work : pathlib.Path
        The student's work folder; it is made where missing.
    today : datetime.date, optional
        The date for the names of copies that move aside.

    Returns
    -------
    list of str
        One sentence for each copy that was not simply laid or renewed.

    Raises
    ------
    Problem
        When the folder cannot be written or the disk is full.
    """
    today = today or datetime.date.today()
    said = []
    with writing_into(work, "your work folder"):
        copies = work / "lessons"
        copies.mkdir(parents=True, exist_ok=True)
        record = _read_record(work)
        for shipped in sorted(course.lessons.glob("*.ipynb")):
            laid = record.setdefault(shipped.name, [])
            sentence = _lay_one(shipped, copies / shipped.name, laid, today)
            if sentence:
                said.append(sentence)
        write_whole(work / RECORD, json.dumps(record, indent=1).encode("utf-8"))
    return said


def _lay_one(shipped, copy, laid, today):
    """Bring one copy up to date, note the version in `laid`, and return a sentence when there is something to say."""
    newest = shipped.read_bytes()
    version = fingerprint(newest)
    sentence = None
    try:
        present = copy.read_bytes() if copy.exists() else None
        written = None if present is None else fingerprint(present)
    except ValueError:
        aside = _move_aside(copy, "damaged", today)
        sentence = "The lesson {} could not be read: it is kept as {}, and a fresh copy was laid.".format(copy.name, aside)
        present = written = None
    if written is not None and written not in (version, *laid):
        if laid and laid[-1] == version:
            _rewrite(copy, present, without_stale_views(present))
            return None
        aside = _move_aside(copy, "yours", today)
        sentence = "The course has a new {}: the copy that you changed is kept beside it as {}.".format(copy.name, aside)
    _rewrite(copy, present, newest)
    if version in laid:
        laid.remove(version)
    laid.append(version)
    return sentence


def _rewrite(copy, present, wanted):
    """Write a copy where it is not already what it should be."""
    if present != wanted or not copy.exists():
        write_whole(copy, wanted)


def _move_aside(copy, why, today):
    """Rename a copy to a dated name that is still free, and return that name."""
    number = 1
    while True:
        ending = "" if number == 1 else "-{}".format(number)
        aside = copy.with_name("{}-{}-{:%Y-%m-%d}{}{}".format(copy.stem, why, today, ending, copy.suffix))
        if not aside.exists():
            os.rename(copy, aside)
            return aside.name
        number += 1


def _read_record(work):
    """Return which versions of each lesson were laid before, the latest last; nothing where that is not known."""
    try:
        record = json.loads((work / RECORD).read_text(encoding="utf-8"))
        return {str(name): [str(version) for version in versions] for name, versions in record.items()}
    except (OSError, ValueError, AttributeError, TypeError):
        return {}


def chosen_work_folder(named):
    """Return the work folder that a command was given, or the usual one.

    Parameters
    ----------
    named : str or None
        What stood behind --work.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    Problem
        When what was named is a file.
    """
    folder = Path(named).expanduser().absolute() if named else work_folder()
    if folder.exists() and not folder.is_dir():
        raise Problem("{} is a file: --work needs a folder.".format(folder))
    return folder
