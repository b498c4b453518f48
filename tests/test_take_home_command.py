"""The command that writes lessons to take home: a new file, or one sentence."""

import pytest

from gypsumkit.commands import take_home
from gypsumkit.commands.take_home import main


def test_a_page_is_written_and_never_written_over(tmp_path, capsys):
    assert main(["11", "--to", str(tmp_path)]) == 0
    page, = tmp_path.iterdir()
    said = capsys.readouterr().out
    assert page.name.startswith("take_home_11_") and page.suffix == ".html" and page.name in said and "MB" in said
    before = page.read_bytes()
    assert before.startswith(b"<!DOCTYPE html>")
    assert main(["11", "--to", str(tmp_path)]) == 2
    assert "is there already" in capsys.readouterr().err and page.read_bytes() == before


@pytest.mark.parametrize("argv, said", [
    (["77"], "There is no lesson '77'; the lessons are 00, 01"),
    (["water"], "There is no lesson 'water'"),
    (["02", "--to", "no-such-folder"], "There is no folder 'no-such-folder'"),
    ([], "LESSON"),
    (["02", "--loud"], "Unrecognized"),
])
def test_bad_input_is_one_sentence_and_status_2(argv, said, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(argv) == 2
    shown = capsys.readouterr()
    assert said in shown.err and shown.out == "" and len(shown.err.strip().splitlines()) == 1 and not list(tmp_path.iterdir())


def test_a_page_that_is_too_large_is_not_written(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(take_home, "MOST_BYTES", 1000)
    assert main(["11", "--to", str(tmp_path)]) == 2
    assert "more than a phone should have to load" in capsys.readouterr().err and not list(tmp_path.iterdir())
