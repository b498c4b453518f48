"""`pool` puts a class's tables together, names every doubt by file, line and column, and never writes over a file."""

import shutil

import pytest

from gypsumkit.bench.reading import read_file
from gypsumkit.bench.sample import FILE
from gypsumkit.commands.pool import main


@pytest.fixture
def folder(tmp_path):
    folder = tmp_path / "class"
    folder.mkdir()
    shutil.copy(FILE, folder / "a.csv")
    (folder / "b.csv").write_text("powder;powder_g;water_ml;spread\nmodel plaster;100;50;15\nmodel plaster;1o;50;60\n", encoding="utf-8")
    return folder


def test_the_report_counts_and_names(folder, capsys):
    assert main([str(folder)]) == 0
    said = capsys.readouterr().out
    assert said.startswith("2 tables, 74 mixes\n") and "model plaster: 26 mixes" in said and "improved stone: 24 mixes" in said
    assert "b.csv, line 2: Spread, one way: 15 mm is narrower than the ring of 35 mm; is it 15 cm = 150 mm?" in said
    assert "Refused, not counted: 1\n  b.csv, line 3, column Powder weighed: “1o”" in said
    assert "whatever their water" in said


def test_mean_and_standard_deviation_are_those_of_the_rows(folder, capsys):
    (folder / "a.csv").unlink()
    (folder / "b.csv").write_text("powder,powder_g,water_ml\nmodel plaster,100,50\n")
    main([str(folder)])
    assert capsys.readouterr().out.startswith("1 table, 1 mix\n\nmodel plaster: 1 mix\n")
    (folder / "b.csv").write_text("powder,powder_g,water_ml,spread\n" + "".join(f"model plaster,100,50,{x}\n" for x in (60, 62, 64, 66)))
    main([str(folder)])
    (line,) = [line for line in capsys.readouterr().out.splitlines() if "ring spread" in line]
    assert line.split() == ["ring", "spread,", "mm", "4", "63.0", "2.6"]            # 2.582 with n - 1


def test_the_pooled_table_reads_again_and_is_never_written_over(folder, tmp_path, capsys):
    target = tmp_path / "all.csv"
    assert main([str(folder), "--sheet", str(target)]) == 0
    raw = target.read_bytes()
    again = read_file(target)
    assert len(again.records) == 74 and again.complete and set(again.records["made_by"]) >= {"student 01", "b"}
    assert main([str(folder), "--sheet", str(target)]) == 2
    assert "is not written over" in capsys.readouterr().err and target.read_bytes() == raw
    assert main([str(folder), "--sheet", str(tmp_path / "none" / "all.csv")]) == 2
    assert "There is no folder" in capsys.readouterr().err


@pytest.mark.parametrize("words, says", [([], "required"), (["none"], "cannot be read"), (["none", "--shet", "x"], "Unrecognized")])
def test_what_is_wrong_is_said_in_one_sentence(words, says, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    said = capsys.readouterr()
    assert says in said.err and said.err.count("\n") == 1 and not said.out
