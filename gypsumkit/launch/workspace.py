"""The student's own folder: copies of the lessons to work in, renewed without losing what the student wrote.

A copy is replaced only when what is written in it is exactly what some version of the course shipped;
what Lab stores by itself (outputs, counts, metadata) is not counted as the student's. Any other copy is the
student's work: it stays, and when the course brings a newer version of the lesson, it moves aside under a
dated name. When the course drops a lesson, a copy that the student did not change moves out of sight, into a
folder beside the lessons, and one that was changed stays. Nothing is deleted. Answers, notes and bench data
lie outside the lessons and are never touched here.
"""

import datetime
import json
import os
from pathlib import Path

from gypsumkit.files import write_whole, writing_into
from gypsumkit.launch.notebooks import fingerprint, without_stale_views
from gypsumkit.problems import Problem

RECORD = ".lessons-laid.json"
DROPPED = "lessons-no-longer-in-the-course"


def work_folder():
    """Return the student's work folder: what GYPSUMKIT_WORK names, else gypsumkit-work in the home folder.

    Returns
    -------
    pathlib.Path
        The folder, which need not exist yet.

    Raises
    ------
    Problem
        When the home folder that is meant is not known.
    """
    return _folder_named(os.environ.get("GYPSUMKIT_WORK", "").strip() or os.path.join("~", "gypsumkit-work"))


def _folder_named(named):
    """Return the folder that a name means, where ~ is a home folder."""
    try:
        return Path(named).expanduser().absolute()
    except RuntimeError:
        raise Problem("The home folder in '{}' is not known to this computer: write the folder's whole path."
                      .format(named)) from None


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
    with writing_into(work, "your work folder"):
        copies = work / "lessons"
        copies.mkdir(parents=True, exist_ok=True)
        said = [_clear_the_way(work / RECORD, today)]
        record = _read_record(work)
        lessons = sorted(course.lessons.glob("*.ipynb"))
        for shipped in lessons:
            said.append(_lay_one(shipped, copies / shipped.name, record.setdefault(shipped.name, []), today))
        if lessons:
            for name in sorted(record.keys() - {shipped.name for shipped in lessons}):
                said.append(_drop_one(copies / name, record.pop(name), work / DROPPED, today))
        write_whole(work / RECORD, json.dumps(record, indent=1).encode("utf-8"))
    return [sentence for sentence in said if sentence]


def _lay_one(shipped, copy, laid, today):
    """Bring one copy up to date, note the version in `laid`, and return a sentence when there is something to say."""
    newest, version = _shipped(shipped)
    sentence = _clear_the_way(copy, today)
    try:
        present = copy.read_bytes() if copy.exists() else None
        written = None if present is None else fingerprint(present)
    except ValueError:
        aside = _move_aside(copy, copy.parent, "damaged", today)
        sentence = "The lesson {} could not be read: it is kept as {}, and a fresh copy was laid.".format(copy.name, aside)
        present = written = None
    if written is not None and written not in (version, *laid):
        if laid and laid[-1] == version:
            _rewrite(copy, present, without_stale_views(present))
            return None
        aside = _move_aside(copy, copy.parent, "yours", today)
        sentence = "The course has a new {}: the copy that you changed is kept beside it as {}.".format(copy.name, aside)
    _rewrite(copy, present, newest)
    if version in laid:
        laid.remove(version)
    laid.append(version)
    return sentence


def _shipped(lesson):
    """Return the content of a lesson as the course ships it, and its fingerprint."""
    try:
        content = lesson.read_bytes()
        return content, fingerprint(content)
    except (OSError, ValueError):
        raise Problem("The course's own lesson {} cannot be read: fetch the course again.".format(lesson)) from None


def _drop_one(copy, laid, dropped, today):
    """Move the copy of a lesson that the course no longer has out of sight, unless the student changed it."""
    if not copy.is_file():
        return None
    try:
        untouched = fingerprint(copy.read_bytes()) in laid
    except ValueError:
        untouched = False
    begin = "The course no longer has the lesson {}: ".format(copy.name)
    if not untouched:
        return begin + "the copy that you changed stays where it is."
    dropped.mkdir(exist_ok=True)
    aside = _move_aside(copy, dropped, "as-shipped", today)
    return begin + "your copy, which is as it was shipped, now lies at {}.".format(dropped / aside)


def _clear_the_way(path, today):
    """Move a folder, or a link that leads nowhere, away from where a file belongs, and return a sentence about it."""
    if path.is_file() or not os.path.lexists(path):
        return None
    aside = _move_aside(path, path.parent, "in-the-way", today)
    return "In place of the file {} lay something else: it is kept beside it as {}.".format(path, aside)


def _rewrite(copy, present, wanted):
    """Write a copy where it is not already what it should be."""
    if present != wanted or not copy.exists():
        write_whole(copy, wanted)


def _move_aside(copy, folder, why, today):
    """Move a file to a dated name that is still free in a folder, and return that name."""
    number = 1
    while True:
        ending = "" if number == 1 else "-{}".format(number)
        aside = folder / "{}-{}-{:%Y-%m-%d}{}{}".format(copy.stem, why, today, ending, copy.suffix)
        if not os.path.lexists(aside):
            os.rename(copy, aside)
            return aside.name
        number += 1


def _read_record(work):
    """Return which versions of each lesson were laid before, the latest last; nothing where that is not known."""
    try:
        record = json.loads((work / RECORD).read_text(encoding="utf-8"))
        return {str(name): [str(version) for version in versions] for name, versions in record.items()}
    except (FileNotFoundError, ValueError, RecursionError, AttributeError, TypeError):
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
        When what was named is a file, or cannot be the name of a folder.
    """
    folder = _folder_named(named) if named else work_folder()
    try:
        in_the_way = not folder.is_dir() and os.path.lexists(folder)
    except OSError as error:
        raise Problem("{} cannot be a work folder ({}): name another one with --work FOLDER."
                      .format(folder, error.strerror or error)) from None
    if in_the_way:
        raise Problem("{} is a {}: --work needs a folder.".format(
            folder, "link that leads nowhere" if folder.is_symlink() else "file"))
    return folder
