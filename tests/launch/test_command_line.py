"""The front door: what is typed, and one sentence when it cannot be done."""

import ast
import collections
import os
import subprocess
import sys
from pathlib import Path

import pytest

import gypsumkit.__main__ as front
from gypsumkit.launch.command_line import main
from gypsumkit.launch.course import Course, this_course
from tests.launch.conftest import CLONE


@pytest.mark.parametrize("arguments", [[], ["--help"], ["-h"], ["help"]])
def test_without_a_command_the_commands_are_told(capsys, arguments):
    assert main(arguments) == 0
    told = capsys.readouterr().out
    assert all("gypsumkit " + command in told for command in ("open", "predict", "plan", "pool", "take-home", "keys", "map", "guide", "paper", "mark", "check"))
    assert len(told.splitlines()) < 17


@pytest.mark.parametrize("typed, meant", [("opne", "open"), ("Check", "check"), ("prediction", "predict"), ("plans", "plan"), ("takehome", "take-home"),
                                          ("papers", "paper"), ("marc", "mark")])
def test_an_unknown_command_brings_the_nearest(capsys, typed, meant):
    assert main([typed]) == 2
    said = capsys.readouterr().err
    assert "'{}'".format(typed) in said and "perhaps '{}' is meant".format(meant) in said and said.count("\n") == 1


@pytest.mark.parametrize("arguments, words", [
    (["zzz"], "the commands are open, predict, plan, pool, take-home, keys, map, guide, paper, mark and check"),
    (["open", "--port", "99999"], "'99999' is no port"),
    (["open", "--port", "8o88"], "'8o88' is no port"),
    (["open", "--wat"], "unrecognized arguments: --wat"),
    (["open", "--wheels"], "expected one argument"),
    (["open", "--wheels", "/nowhere/at/all"], "there is no folder /nowhere/at/all"),
    (["open", "--wheels", "x" * 300], "there is no folder xxx"),
    (["open", "--work", "~nosuch-reader/x"], "home folder in '~nosuch-reader/x' is not known"),
    (["open", "--work", "x" * 300], "cannot be a work folder"),
])
def test_what_cannot_be_done_is_said_in_one_line(capsys, arguments, words):
    assert main(arguments) == 2
    said = capsys.readouterr().err
    assert words in said and said.count("\n") == 1


@pytest.mark.parametrize("error, sentence", [
    (OSError(5, "Input/output error", "disk/lab.log"), "The computer refused at disk/lab.log: Input/output error. "),
    (OSError("odd"), "The computer refused: odd. "),
])
def test_what_the_computer_refuses_is_no_traceback(capsys, monkeypatch, error, sentence):
    def refused(*given, **more):
        raise error

    monkeypatch.setattr("gypsumkit.launch.open_course.open_course", refused)
    assert main(["open"]) == 2
    assert capsys.readouterr().err == sentence + "Put that right, then start again.\n"


def test_a_stop_by_the_keyboard_is_no_traceback(capsys, monkeypatch):
    def interrupted(*given, **more):
        raise KeyboardInterrupt

    monkeypatch.setattr("gypsumkit.launch.open_course.open_course", interrupted)
    assert main(["open"]) == 130
    assert capsys.readouterr().err == "Stopped.\n"


def test_an_old_python_is_turned_away_in_a_sentence(capsys, monkeypatch):
    version = collections.namedtuple("version", "major minor micro releaselevel serial")
    monkeypatch.setattr(front.sys, "version_info", version(3, 8, 2, "final", 0))
    assert front.main() == 2
    said = capsys.readouterr().err
    assert "needs Python 3.10 or newer" in said and "this is Python 3.8" in said and said.count("\n") == 1


@pytest.mark.parametrize("name", ["__init__.py", "__main__.py"])
def test_an_old_python_can_read_far_enough_to_be_turned_away(name):
    tree = ast.parse((CLONE / "gypsumkit" / name).read_text(encoding="utf-8"), feature_version=(3, 5))
    too_new = (ast.JoinedStr, ast.AnnAssign, ast.NamedExpr, ast.Match)
    assert not [node for node in ast.walk(tree) if isinstance(node, too_new)]
    assert not [node for node in ast.walk(tree) if isinstance(node, (ast.arguments,)) and node.posonlyargs]


def test_until_set_up_only_python_itself_is_needed():
    names = sorted((CLONE / "gypsumkit" / "launch").glob("*.py"))
    code = "import sys, importlib; before = set(sys.modules)\nfor name in {!r}: importlib.import_module('gypsumkit.launch.' + name)\n" \
           "print(*sorted({{m.split('.')[0] for m in set(sys.modules) - before}} - set(sys.stdlib_module_names)))".format(
               [path.stem for path in names if path.stem != "__init__"])
    found = subprocess.run([sys.executable, "-S", "-c", code], cwd=CLONE, capture_output=True, text=True,
                           env={"PATH": os.environ["PATH"], "PYTHONPATH": str(CLONE)}, check=True)
    assert found.stdout.split() == ["gypsumkit"]


def test_the_course_is_found_from_its_own_files():
    assert this_course() == Course(CLONE)
    assert Path(this_course().config, "jupyter_server_config.py").is_file()
