"""Read what was typed and hand it to the command that does it."""

import argparse
import os
import subprocess
import sys
from importlib import import_module
from pathlib import Path

from gypsumkit.launch.course import this_course
from gypsumkit.launch.environment import ready_python, runs_inside
from gypsumkit.launch.programs import clean_surroundings
from gypsumkit.launch.screen import Screen
from gypsumkit.problems import Problem, nearest

USAGE = """\
The gypsum course. Type one of these in the course's folder (on Windows py in place of python3):

  python3 -m gypsumkit open       set the course up where needed, and open the lessons in the browser
  python3 -m gypsumkit predict    print what a mix will do, such as --powder "model plaster" --water-powder-ratio 0.52
  python3 -m gypsumkit plan       plan a session, such as --students 24 --powder "dental stone" --cast-volume-cm3 60
  python3 -m gypsumkit pool       put the measurements of a class together, such as pool class-folder --sheet class.csv
  python3 -m gypsumkit take-home  write a lesson as one page for a phone, such as 02; it needs no Python and no network
  python3 -m gypsumkit keys       write the card of the keys for the stage, one page to print
  python3 -m gypsumkit map        print the map of the course: each objective with what asks and trains it
  python3 -m gypsumkit guide      write the lecturer's guide as one page to print; it holds the answers
  python3 -m gypsumkit paper      write a paper for each candidate, such as paper exam-folder --new --title "First paper" --lessons 02 05 --marks 40
  python3 -m gypsumkit mark       mark the papers that came back, such as mark exam-folder
  python3 -m gypsumkit check      run every check of the course

Add --help behind a command for its options."""


def main(arguments):
    """Run one command.

    Parameters
    ----------
    arguments : list of str
        What was typed behind `python3 -m gypsumkit`.

    Returns
    -------
    int
        The exit status: 0 when all went well, 1 when something asked for did not work out or a check
        failed, 2 when what was typed cannot be done.
    """
    inside = ("predict", "plan", "pool", "take-home", "keys", "map", "guide", "paper", "mark")
    commands = {"open": _open, **{name: _inside(name) for name in inside}, "check": _check}
    if not arguments or arguments[0] in ("-h", "--help", "help"):
        Screen().say(USAGE)
        return 0
    try:
        name, rest = arguments[0], arguments[1:]
        if name not in commands:
            meant = nearest(name, commands)
            *most, last = commands
            raise Problem("There is no command '{}'{}; the commands are {} and {}."
                          .format(name, ", perhaps '{}' is meant".format(meant) if meant else "", ", ".join(most), last))
        return commands[name](rest)
    except Problem as problem:
        Screen(sys.stderr).say(str(problem))
        return 2
    except OSError as error:  # what no sentence was made for: the computer's own words, and no traceback
        Screen(sys.stderr).say("The computer refused{}: {}. Put that right, then start again.".format(
            " at {}".format(error.filename) if error.filename else "", error.strerror or error))
        return 2
    except KeyboardInterrupt:
        Screen(sys.stderr).say("Stopped.")
        return 130


class _Options(argparse.ArgumentParser):
    """A reader of options that says what is wrong in one sentence."""

    def error(self, message):
        """Say what is wrong and where help is to be found."""
        raise Problem("{}: {}; --help shows the options.".format(self.prog, message))


def _options(command, purpose):
    """Return a reader of options for one command, with those that all share."""
    options = _Options(prog="python3 -m gypsumkit " + command, description=purpose, allow_abbrev=False)
    options.add_argument("--wheels", metavar="FOLDER", type=_folder,
                         help="install from this folder of wheels, without a network (README says how to fill it)")
    return options


def _open(arguments):
    """Open the course."""
    options = _options("open", "Set the course up where needed, and open the lessons in the browser.")
    options.add_argument("--no-browser", action="store_true", help="only print the address, start no browser")
    options.add_argument("--port", metavar="NUMBER", type=_port, help="the port of the address; a free one when not given")
    options.add_argument("--work", metavar="FOLDER",
                         help="your work folder; gypsumkit-work in your home folder when not given")
    chosen = options.parse_args(arguments)
    from gypsumkit.launch.open_course import open_course
    return open_course(this_course(), Screen(), browser=not chosen.no_browser, port=chosen.port,
                       work=chosen.work, wheels=chosen.wheels)


def _port(text):
    """Read a port's number."""
    try:
        port = int(text)
    except ValueError:
        port = 0
    if not 1 <= port <= 65535:
        raise argparse.ArgumentTypeError("'{}' is no port: it is a whole number from 1 to 65535".format(text))
    return port


def _folder(text):
    """Read the path of a folder that must be there."""
    if not os.path.isdir(text):
        raise argparse.ArgumentTypeError("there is no folder {}".format(text))
    return Path(text).resolve()


def _check(arguments):
    """Run every check, or the tests that are named."""
    options = _options("check", "Set up what the tests need and run every check.")
    options.add_argument("--fast", action="store_true", help="leave the benchmarks out")
    options.add_argument("tests", nargs="*", metavar="TEST",
                         help="run only these tests, such as tests/launch; everything when not given")
    chosen = options.parse_args(arguments)
    from gypsumkit.launch.check import check
    course, screen = this_course(), Screen()
    python = ready_python(course, screen, chosen.wheels, with_tests=True)
    return check(course, screen, python, chosen.tests, fast=chosen.fast)


def _inside(command):
    """Return what runs a command of the room `commands` in the course's own Python, which has the packages that it takes."""
    def run(arguments):
        course = this_course()
        if runs_inside(course):
            return import_module("gypsumkit.commands." + command.replace("-", "_")).main(arguments)
        python = ready_python(course, Screen(sys.stderr), keep_working=True)
        again = [str(python), "-m", "gypsumkit", command, *arguments]
        return subprocess.call(again, env=clean_surroundings(GYPSUMKIT_INSIDE="yes", PYTHONPATH=course.folder), cwd=os.getcwd())
    return run
