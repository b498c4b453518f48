"""`python3 -m gypsumkit take-home`: lessons as pages for a phone, one file each, without Python, server or network."""

import sys
import time
from pathlib import Path

from gypsumkit.commands.printing import Parser, printed
from gypsumkit.files import write_new
from gypsumkit.launch.course import this_course
from gypsumkit.live.lesson_text import read_lesson
from gypsumkit.live.take_home import page_explorers
from gypsumkit.problems import Problem
from gypsumkit.stage.page import MOST_BYTES, LessonPage, page_html


def _parser():
    parser = Parser(prog="python3 -m gypsumkit take-home", allow_abbrev=False,
                    description="Write the pictures of a lesson, with their sliders, as one file that needs no Python, no server and no network.")
    parser.add_argument("lessons", nargs="+", metavar="LESSON", help="number of a lesson, such as 02; one or several")
    parser.add_argument("--to", default=".", metavar="FOLDER", help="where the pages are written; this folder when not given")
    return parser


def find_lesson(number):
    """Return the notebook of a lesson.

    Parameters
    ----------
    number : str
        One or two digits.

    Raises
    ------
    Problem
        When there is none; says which there are.
    """
    known = {path.name[:2]: path for path in sorted((Path(this_course().folder) / "lessons").glob("[0-9][0-9]_*.ipynb"))}
    wanted = number.zfill(2) if number.isdigit() else number
    if wanted not in known:
        raise Problem(f"There is no lesson '{number[:40]}'; the lessons are {', '.join(known)}.")
    return known[wanted]


def lesson_page(path):
    """Return a lesson as one HTML file.

    Parameters
    ----------
    path : pathlib.Path
        Its notebook.

    Returns
    -------
    str

    Raises
    ------
    Problem
        When the lesson holds no picture that can be taken home.
    """
    lesson = read_lesson(path)
    explorers, left_out = page_explorers(lesson.uses)
    if not explorers:
        raise Problem(f"Lesson {lesson.number} has no picture that could be taken home.")
    left_out += [f"“{heading}” is not on this page: it is a form over your own bench, which the course keeps in your work folder." for heading in lesson.panels]
    return page_html(LessonPage(lesson.title, lesson.guiding_question, lesson.cautions, tuple(explorers), tuple(left_out), lesson.rest))


def _write(options):
    folder = Path(options.to).expanduser()
    if not folder.is_dir():
        raise Problem(f"There is no folder '{options.to}'; make it first, or leave --to away.")
    paths = {path: folder / f"take_home_{path.stem}.html" for path in dict.fromkeys(map(find_lesson, options.lessons))}
    for target in paths.values():
        if target.exists():
            raise Problem(f"{target.name} is there already and was left as it is; move it away or name another folder with --to.")
    lines = []
    for path, target in paths.items():
        begun = time.monotonic()
        content = lesson_page(path).encode("utf-8")
        if len(content) > MOST_BYTES:
            raise Problem(f"The page of {path.stem} would be {len(content) / 1e6:.1f} MB, more than a phone should have to load; please tell the makers of the course.")
        write_new(target, content)
        lines.append(f"{target}: {len(content) / 1e6:.2f} MB, made in {time.monotonic() - begun:.0f} s. Open it in any browser; it works without a network.")
    return "\n".join(lines)


def main(argv):
    """Run the command.

    Parameters
    ----------
    argv : list of str
        The words after `take-home`.

    Returns
    -------
    int
        0, or 2 after a problem, which is printed as one sentence.
    """
    return printed(lambda: _write(_parser().parse_args(argv)), "The answer")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
