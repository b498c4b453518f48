"""`mark` marks a folder or an archive, says what it found, goes on where it stopped, and keeps an assessor's decisions."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from gypsumkit.commands.mark import main
from gypsumkit.marking.marks import Marks
from gypsumkit.marking.moderation import Decisions
from gypsumkit.marking.run import mark_folder
from tests.marking.examination import answered, examination, hand_in, tasks_in_code, tasks_with

CLONE = Path(__file__).resolve().parents[2]


@pytest.fixture
def exam(tmp_path):
    folder = tmp_path / "exam"
    scheme = examination(folder, ["1001", "1002", "1003"], [*tasks_with("number", most=2), tasks_in_code()[0]])
    hand_in(folder, "1001.ipynb", answered(folder, scheme, "1001"))
    hand_in(folder, "1002.ipynb", answered(folder, scheme, "1002", {(1, "a"): "<script>alert(1)</script>"}))
    return folder


def files_in(folder):
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file() and not path.name.startswith(".")}


def test_it_marks_and_says_what_it_found(exam, capsys):
    assert main([str(exam)]) == 0
    said = capsys.readouterr()
    assert said.err == "" and said.out.startswith("2 paper(s) marked, ")
    assert "Findings: 2 (not returned 1, script or markup 1)" in said.out and "  1003, not returned: No paper of this candidate came back." in said.out
    made = files_in(exam / "marks")
    assert {"marks.csv", "findings.csv", "report.html", "pages/1001.html", "pages/1002.html"} <= made.keys()
    assert b"<script>alert(1)" not in b"".join(content for name, content in made.items() if name.endswith(".html"))
    marks = Marks.load(exam / "marks")
    assert marks.candidates == ("1001", "1002") and marks.total("1001") == marks.out_of("1001") - sum(row.out_of for row in marks.waiting("1001"))


def test_a_second_run_writes_the_same_bytes(exam, capsys):
    main([str(exam)])
    first = files_in(exam / "marks")
    main([str(exam), "--workers", "1"])
    assert files_in(exam / "marks") == first
    (exam / "marks" / "marked.jsonl").unlink()
    main([str(exam), "--workers", "2"])
    assert files_in(exam / "marks") == first


def test_decisions_outlast_marking_again(exam, capsys):
    main([str(exam)])
    Decisions(exam / "marks").add(mark_folder(exam), "1002", 1, "a", 1, "XY", "The working in the margin is right.")
    main([str(exam)])
    (row,) = [row for row in Marks.load(exam / "marks").by_candidate["1002"] if (row.task_number, row.label) == (1, "a")]
    assert row.marks == 1 and "XY" in row.changed_by


def test_an_archive_elsewhere(exam, tmp_path, capsys):
    with zipfile.ZipFile(tmp_path / "class.zip", "w") as archive:
        archive.write(exam / "returned" / "1001.ipynb", "1001.ipynb")
    assert main([str(exam), "--returned", str(tmp_path / "class.zip")]) == 0
    assert Marks.load(exam / "marks").candidates == ("1001",)


def test_code_may_be_left_to_the_assessor(exam, capsys):
    assert main([str(exam), "--code", "no"]) == 0
    said = capsys.readouterr().out
    assert "2 answer(s) wait for an assessor" in said and "2 code answer(s) were not run and wait to be marked by hand. It was asked not to run code." in said


def test_nothing_came_back(exam, capsys):
    for path in (exam / "returned").iterdir():
        path.unlink()
    assert main([str(exam)]) == 1
    assert capsys.readouterr().out.startswith("0 paper(s) marked")


@pytest.mark.parametrize("typed, said", [
    (["--workers", "0"], "The number of workers"), (["--workers", "many"], "The number of workers"), (["--workers", "1.5"], "whole number"),
    (["--workers", "2", "--scheduler", "tcp://127.0.0.1:1"], "Give either --workers or --scheduler"), (["--code", "maybe"], "--help"),
    (["--returned", "nowhere"], "cannot be read"), (["--zzz"], "see 'python3 -m gypsumkit mark --help'"),
])
def test_what_cannot_be_done_is_one_sentence(exam, typed, said, capsys):
    assert main([str(exam), *typed]) == 2
    told = capsys.readouterr()
    assert said in told.err and told.out == "" and told.err.count("\n") == 1


def test_a_folder_that_is_no_examination(tmp_path, capsys):
    assert main([str(tmp_path)]) == 2
    assert capsys.readouterr().err.startswith("There is no mark scheme in")


def test_from_the_front_door(exam):
    run = subprocess.run([sys.executable, "-m", "gypsumkit", "mark", str(exam)], cwd=CLONE, capture_output=True, text=True, env={**os.environ, "GYPSUMKIT_INSIDE": "yes"})
    assert (run.returncode, run.stderr) == (0, "") and run.stdout.startswith("2 paper(s) marked")
