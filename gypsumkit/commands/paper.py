"""`python3 -m gypsumkit paper`: one paper for each candidate of a roster, and the private mark scheme."""

import sys
from pathlib import Path

from gypsumkit.checks import checked_number
from gypsumkit.commands.printing import Parser, printed
from gypsumkit.files import write_new, writing_into
from gypsumkit.marking.blueprint import FILE, MOST_MINUTES, blueprint_lines, choose, new_paper, read_paper, write_paper
from gypsumkit.marking.papers import make_resit, write_papers
from gypsumkit.marking.roster import FILE as ROSTER
from gypsumkit.marking.roster import HEADER
from gypsumkit.marking.scheme import PRIVATE
from gypsumkit.marking.task_bank import all_tasks
from gypsumkit.problems import Problem


def _parser():
    parser = Parser(prog="python3 -m gypsumkit paper", allow_abbrev=False,
                    description="Write a paper for each candidate, with numbers of their own. First --new describes the paper; then fill in roster.csv, "
                                "and run the command again without --new. What lies in the folder 'private' is never handed out.")
    parser.add_argument("folder", metavar="EXAM_FOLDER", nargs="?", help="the folder of the examination, away from the course's own folder")
    parser.add_argument("--new", action="store_true", help=f"describe a new paper in {FILE}, which can be edited, and begin a roster")
    parser.add_argument("--title", metavar="TEXT", help="with --new: the title of the paper")
    parser.add_argument("--tasks", nargs="+", metavar="T02-1", help="with --new: the tasks, in their order")
    parser.add_argument("--lessons", nargs="+", metavar="02", help="or the lessons that tasks are chosen from, such as 02 05 or 02-09")
    parser.add_argument("--marks", metavar="N", help="with --lessons: marks of the whole paper")
    parser.add_argument("--minutes", metavar="N", help="with --new: how long it lasts; one and a half for each mark when not given")
    parser.add_argument("--due", metavar="'2027-03-05 16:00'", default="", help="with --new: when papers have to be back")
    parser.add_argument("--set", choices=("first", "resit"), default="first", help="resit: a second set of numbers, in a folder of its own inside the first")
    parser.add_argument("--list", action="store_true", help="print all tasks that there are")
    return parser


def _whole(text, what, most):
    number = checked_number(text, what, "", 1, most)
    if number != int(number):
        raise Problem(f"{what} must be a whole number; '{text}' is not.")
    return int(number)


def task_lines():
    """Return all tasks as lines of text: id, marks, level, expected share of marks, title."""
    lines = [f"{'task':<8} {'marks':>5}  {'level':<14} {'expected':>8}  title"]
    lines += [f"{task.id:<8} {task.marks:>5}  {task.level:<14} {100 * task.difficulty:>6.0f} %  {task.title}" for task in all_tasks().values()]
    return [*lines, f"{len(all_tasks())} tasks, {sum(task.marks for task in all_tasks().values())} marks"]


def _begin(folder, options):
    if options.title is None:
        raise Problem("A new paper needs a title: add --title \"Gypsum, first paper\".")
    if (options.tasks is None) == (options.lessons is None):
        raise Problem("Say either which --tasks the paper has, or from which --lessons they are chosen; --list shows the tasks.")
    if (options.lessons is None) != (options.marks is None):
        raise Problem("--lessons and --marks belong together: say from which lessons tasks are chosen, and how many marks the paper has.")
    chosen = options.tasks or choose(options.lessons, _whole(options.marks, "The marks of the paper", 1000))
    minutes = None if options.minutes is None else _whole(options.minutes, "The minutes of the paper", MOST_MINUTES)
    paper = new_paper(options.title, chosen, minutes, due=options.due)
    with writing_into(folder, "the folder of the examination"):
        folder.mkdir(parents=True, exist_ok=True)
    write_paper(folder, paper)
    lines = [*blueprint_lines(paper), "", f"Written: {folder / FILE}; edit pass mark, grades and what is allowed (aids) there, where others are wanted."]
    if (folder / ROSTER).exists():
        return [*lines, "Now write the papers: the same command with the folder alone."]
    write_new(folder / ROSTER, (",".join(HEADER) + "\r\n").encode())
    return [*lines, f"Written: {folder / ROSTER}; put a line for each candidate there, such as 1047,Ines Invented,25. Then the same command with the folder alone."]


def _text(argv):
    options = _parser().parse_args(argv)
    if options.list:
        return "\n".join(task_lines())
    if options.folder is None:
        raise Problem("Name the folder of the examination; see 'python3 -m gypsumkit paper --help'.")
    folder = Path(options.folder).expanduser()
    if options.new:
        if options.set != "first":
            raise Problem("A new paper is the first set; make the resit from it afterwards, with --set resit and without --new.")
        return "\n".join(_begin(folder, options))
    for name in ("title", "tasks", "lessons", "marks", "minutes"):
        if getattr(options, name) is not None:
            raise Problem(f"--{name} describes a new paper: add --new, or edit {FILE}.")
    if options.due:
        raise Problem(f"--due describes a new paper: add --new, or edit {FILE}.")
    if options.set == "resit":
        folder = make_resit(folder)
    written = write_papers(folder)
    kept = f"; {written.kept} were there already and stay as they are" if written.kept else ""
    return "\n".join([*blueprint_lines(read_paper(folder)), "", f"Written: {len(written.new)} paper(s) in {written.folder}{kept}.",
                      f"Keep {folder / PRIVATE} to yourself: it holds the secret and the mark scheme. Hand out only what lies in {written.folder}."])


def main(argv):
    """Run the command.

    Parameters
    ----------
    argv : list of str
        The words after `paper`.

    Returns
    -------
    int
        0, or 2 after a problem, which is printed as one sentence.
    """
    return printed(lambda: _text(argv), "The report")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
