"""The command that prints the map: text, sheet, and one sentence for what cannot be."""

import csv

import pytest

from gypsumkit.commands.map import main
from gypsumkit.quiz import bank


@pytest.fixture(autouse=True)
def empty_work_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path / "work"))


def test_the_map_is_printed_with_every_objective(capsys):
    assert main([]) == 0
    shown = capsys.readouterr()
    assert shown.err == "" and all(f"  {one.id}  {one.text}" in shown.out for one in bank.objectives())


def test_the_sheet_is_new_and_opens_in_a_spreadsheet(capsys, tmp_path):
    path = tmp_path / "map.csv"
    assert main(["--sheet", str(path)]) == 0
    assert f"Written: {path}" in capsys.readouterr().out
    with path.open(encoding="utf-8-sig", newline="") as file:
        assert len(list(csv.reader(file))) == len(bank.objectives()) + 1
    before = path.read_bytes()
    assert main(["--sheet", str(path)]) == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1 and path.read_bytes() == before


@pytest.mark.parametrize("argv", [["--shet", "x"], ["02"], ["--sheet"]])
def test_what_cannot_be_read_is_one_sentence(capsys, argv):
    assert main(argv) == 2
    shown = capsys.readouterr()
    assert shown.out == "" and shown.err.count("\n") == 1 and "--help" in shown.err
