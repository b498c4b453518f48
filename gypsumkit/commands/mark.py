"""`python3 -m gypsumkit mark`: marks, findings, report and feedback from the papers that came back."""

import contextlib
import sys
from collections import Counter
from pathlib import Path

from gypsumkit.checks import checked_number
from gypsumkit.commands.printing import Parser, printed
from gypsumkit.marking.dask import executor_at
from gypsumkit.marking.run import MARKS, finish, mark_folder
from gypsumkit.problems import Problem

MOST_SAID = 40
MOST_WORKERS = 1024


def _parser():
    parser = Parser(prog="python3 -m gypsumkit mark", allow_abbrev=False,
                    description="Mark the papers of an examination that came back. What is marked is kept: after an interruption the same command goes on, "
                                "and an assessor's decisions stay. Nothing in a paper is run, except an answer that is code, in an empty room of its own.")
    parser.add_argument("folder", metavar="EXAM_FOLDER", help="the folder of the examination")
    parser.add_argument("--returned", metavar="FOLDER", help="the folder, or the archive (zip), of the papers that came back; 'returned' in EXAM_FOLDER when not given")
    parser.add_argument("--workers", metavar="N", help="how many processes mark; one on each core when not given")
    parser.add_argument("--scheduler", metavar="ADDRESS", help="mark on the workers of a Dask scheduler, such as tcp://192.0.2.7:8786")
    parser.add_argument("--code", choices=("yes", "no"), default="yes", help="no: answers in code are not run but listed for marking by hand")
    return parser


def summary(marks, folder):
    """Return in lines of text what came of the marking.

    Parameters
    ----------
    marks : Marks
        All marks and findings.
    folder : pathlib.Path
        Where they were written.

    Returns
    -------
    str
    """
    waiting = sum(len(marks.waiting(one)) for one in marks.candidates)
    odd = sum(row.doubtful for row in marks.rows)
    followed = sum(row.followed_through for row in marks.rows)
    lines = [f"{len(marks.candidates):,} paper(s) marked, {len(marks.rows):,} answers",
             f"{waiting:,} answer(s) wait for an assessor; {odd:,} more were not read with certainty and should be looked at: most count 0 until then",
             f"{followed:,} answer(s) have marks for the method, worked rightly from an earlier wrong value"]
    if marks.findings:
        kinds = Counter(one.kind for one in marks.findings)
        lines += ["", f"Findings: {len(marks.findings):,} ({', '.join(f'{kind} {many:,}' for kind, many in sorted(kinds.items()))})"]
        lines += [f"  {one.file or one.candidate_number or 'all'}, {one.kind}: {one.sentence}" for one in marks.findings[:MOST_SAID]]
        lines += [f"  … and {len(marks.findings) - MOST_SAID:,} more, in findings.csv"] if len(marks.findings) > MOST_SAID else []
    return "\n".join([*lines, "", f"Written: {folder}"])


def _progress(done, total):
    """Show how far it is, in one line that is written over where there is a screen."""
    if sys.stderr.isatty():
        print(f"\r{done:,} of {total:,} papers", end="\n" if done == total else "", file=sys.stderr, flush=True)


def _text(argv, marked):
    options = _parser().parse_args(argv)
    folder = Path(options.folder).expanduser()
    workers = None if options.workers is None else checked_number(options.workers, "The number of workers", "", 1, MOST_WORKERS)
    if workers is not None and workers != int(workers):
        raise Problem(f"The number of workers must be a whole number; '{options.workers}' is not.")
    if workers and options.scheduler:
        raise Problem("Give either --workers or --scheduler: a scheduler has workers of its own.")
    with executor_at(options.scheduler) if options.scheduler else contextlib.nullcontext() as executor:
        marks = mark_folder(folder, executor, place=Path(options.returned).expanduser() if options.returned else None,
                            workers=workers and int(workers), run_code=False if options.code == "no" else None, progress=_progress)
    marks = finish(marks, folder)
    marked.append(bool(marks.candidates))
    return summary(marks, folder / MARKS)


def main(argv):
    """Run the command.

    Parameters
    ----------
    argv : list of str
        The words after `mark`.

    Returns
    -------
    int
        0; 1 when no paper came back that could be marked; 2 after a problem, which is printed as one sentence.
    """
    marked = []
    status = printed(lambda: _text(argv, marked), "The summary")
    return status or (0 if any(marked) else 1)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
