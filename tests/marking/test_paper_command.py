"""The command `paper`: describes, writes, and never writes over; what is wrong is one sentence."""

import json
import shlex
from pathlib import Path

import pytest

from gypsumkit.commands.paper import main
from gypsumkit.marking.scheme import Scheme
from gypsumkit.marking.task_bank import all_tasks


@pytest.fixture
def begun(tmp_path, capsys):
    folder = tmp_path / "exam"
    assert main([str(folder), "--new", "--title", "First paper", "--tasks", "T02-1", "t05-3", "--minutes", "30"]) == 0
    (folder / "roster.csv").write_bytes((folder / "roster.csv").read_bytes() + b"1047,Ines Invented,25\r\n1048,Bola,\r\n")
    capsys.readouterr()
    return folder


def test_a_paper_is_described_then_written(tmp_path, capsys):
    folder = tmp_path / "a" / "exam"
    assert main([str(folder), "--new", "--title", "First paper", "--lessons", "02", "05", "--marks", "20", "--due", "2027-03-05 16:00"]) == 0
    said = capsys.readouterr().out
    assert "20 marks" in said and "L02-O1" in said and "explain/judge" in said and "roster.csv; put a line for each candidate" in said
    described = json.loads((folder / "paper.json").read_text())
    assert sum(one["marks"] for one in described["tasks"]) == 20 and described["due"] == "2027-03-05 16:00"
    assert main([str(folder)]) == 2
    assert "no candidates yet" in capsys.readouterr().err
    (folder / "roster.csv").write_text("candidate_number\n1047\n")
    assert main([str(folder)]) == 0
    said = capsys.readouterr().out
    assert "Written: 1 paper(s)" in said and "private to yourself" in said
    assert [path.name for path in (folder / "papers").iterdir()] == ["1047.ipynb"] and (folder / "returned").is_dir()


def test_papers_are_not_written_over_and_the_resit_has_a_folder_of_its_own(begun, capsys):
    assert main([str(begun)]) == 0
    assert main([str(begun)]) == 2
    assert "handed out and are not written over" in capsys.readouterr().err
    assert main([str(begun), "--set", "resit"]) == 0
    assert "resit set" in capsys.readouterr().out
    assert main([str(begun), "--set", "resit"]) == 2
    assert {path.name for path in (begun / "resit").iterdir()} == {"paper.json", "roster.csv", "private", "papers", "returned"}
    assert Scheme.load(begun / "resit").set_name == "resit"


def test_a_paper_described_is_not_described_anew(begun, capsys):
    assert main([str(begun), "--new", "--title", "Second", "--tasks", "T02-1"]) == 2
    assert "not written over" in capsys.readouterr().err
    assert "First paper" in (begun / "paper.json").read_text()


def test_all_tasks_are_listed(capsys):
    assert main(["--list"]) == 0
    said = capsys.readouterr().out
    assert all(one in said for one in all_tasks()) and f"{len(all_tasks())} tasks" in said


@pytest.mark.parametrize("words, says", [
    ([], "Name the folder"), (["exam"], "There is no paper.json"), (["exam", "--new"], "needs a title"), (["exam", "--new", "--title", "A"], "either which --tasks"),
    (["exam", "--new", "--title", "A", "--tasks", "T02-1", "--lessons", "02"], "either which --tasks"), (["exam", "--new", "--title", "A", "--lessons", "02"], "belong together"),
    (["exam", "--new", "--title", "A", "--tasks", "T02-1", "--marks", "5"], "belong together"), (["exam", "--new", "--title", "A", "--tasks", "T99-1"], "There is no task T99-1"),
    (["exam", "--new", "--title", "A", "--lessons", "02", "--marks", "ten"], "must be a number"), (["exam", "--new", "--title", "A", "--lessons", "02", "--marks", "9,5"], "whole number"),
    (["exam", "--new", "--title", "A", "--tasks", "T02-1", "--set", "resit"], "first set"), (["exam", "--title", "A"], "add --new"), (["exam", "--due", "x"], "add --new"),
    (["exam", "--new", "--title", "A", "--tasks", "T02-1", "--due", "x"], "not a moment"), (["exam", "--sett", "resit"], "Unrecognized"), (["exam", "--set", "third"], "invalid choice"),
    (["exam", "--new", "--title", "A", "--tasks", "T02-1", "--minutes", "9999"], "must lie between 1 and 600"),
])
def test_what_is_wrong_is_said_in_one_sentence(words, says, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    said = capsys.readouterr()
    assert says in said.err and said.err.count("\n") == 1 and not said.out
    assert not list(tmp_path.rglob("*.json"))


def test_the_paper_of_the_readme_can_be_made(tmp_path, capsys):
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    (words,) = [shlex.split(line)[4:] for line in readme.splitlines() if "gypsumkit paper" in line and "--new" in line]
    assert main([str(tmp_path / words[0]), *words[1:]]) == 0, capsys.readouterr().err
    assert (tmp_path / words[0] / "roster.csv").exists()
