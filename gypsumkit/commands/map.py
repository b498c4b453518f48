"""`python3 -m gypsumkit map`: the map of the course, each objective with what asks, trains and recalls it."""

import sys
from pathlib import Path

from gypsumkit.commands.printing import Parser, printed
from gypsumkit.files import write_new
from gypsumkit.quiz.course_map import READING, course_map, map_lines, map_sheet


def _text(argv):
    parser = Parser(prog="python3 -m gypsumkit map", allow_abbrev=False,
                    description="Print the map of the course: objective, prediction, question, exercise, note, bench task, recall.")
    parser.add_argument("--sheet", metavar="FILE", help="also write the map into this new table (CSV) for a spreadsheet")
    options = parser.parse_args(argv)
    mapped, written = course_map(), []
    if options.sheet is not None:
        path = Path(options.sheet).expanduser()
        write_new(path, map_sheet(mapped))
        written = [f"Written: {path}"]
    return "\n".join([READING, *map_lines(mapped), *written])


def main(argv):
    """Run the command.

    Parameters
    ----------
    argv : list of str
        The words after `map`.

    Returns
    -------
    int
        0, or 2 after a problem, which is printed as one sentence.
    """
    return printed(lambda: _text(argv), "The map")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
