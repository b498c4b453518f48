"""The command that plans a session: text, JSON, the card and the sheet, and one sentence for what cannot be."""

import csv
import errno
import json
import os
import re

import pytest

from gypsumkit.bench.plan import FIRST, plan_session
from gypsumkit.commands.plan import main

ASKED = ("--students", "24", "--casts", "1", "--powder", "dental stone", "--cast-volume-cm3", "60", "--water-powder-ratio", "0,30", "--waste-percent", "15")


@pytest.fixture(autouse=True)
def empty_work_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path / "work"))


def run(capsys, *argv):
    code = main(list(argv))
    shown = capsys.readouterr()
    return code, shown.out, shown.err


def test_the_plan_is_printed_with_order_costs_and_minutes(capsys):
    code, out, err = run(capsys, *ASKED, "--price", "dental stone=2,40")
    assert code == 0 and err == ""
    assert "2.47 kg dental stone: 1 bag of 5 kg" in out and "103 g powder and 31 mL water, a ratio of 0.301" in out
    assert "2.40 " in out and out.count("(invented)") == 4
    assert "group 12, mix 2: vibrate and pour (vibrator 1)" in out and "does not fit into 90 min" in out and "use 2 scales instead of 1" in out
    assert FIRST in out and "constants of our own" in out


def test_json_holds_what_planning_gives(capsys):
    code, out, _ = run(capsys, *ASKED, "--scales", "3", "--mixing", "machine under vacuum", "--no-ring-test", "--json")
    told = json.loads(out)
    plan = plan_session(24, 1, cast_volume_cm3=60, water_powder_ratio=0.30, waste_percent=15, scales=3, mixing="machine under vacuum", ring_test=False)
    assert code == 0 and told["order"]["powder_kg"] == pytest.approx(plan.powder_kg) and told["end_min"] == plan.end_min
    assert len(told["timetable"]) == len(plan.timetable) and told["asked"]["ring_test"] is False and told["turns"][0]["mixer"] == 1


def test_card_and_sheet_are_written_and_named(capsys, tmp_path):
    sheet = tmp_path / "plan.csv"
    code, out, _ = run(capsys, *ASKED, "--card", str(tmp_path), "--paper", "letter", "--sheet", str(sheet))
    card = tmp_path / "weigh-card-dental-stone-Letter.pdf"
    assert code == 0 and f"Written: {card}" in out and f"Written: {sheet}" in out
    assert card.read_bytes().startswith(b"%PDF") and b"612 792" in card.read_bytes()
    rows = list(csv.DictReader(sheet.read_text(encoding="utf-8-sig").splitlines()))
    powder = next(row for row in rows if row["Part"] == "order" and row["What"] == "dental stone")
    assert float(powder["Amount"]) == pytest.approx(2.472) and powder["Unit"] == "kg"
    assert sum(row["What"] == "vibrate and pour" for row in rows) == 24


def test_a_file_that_is_there_is_not_written_over(capsys, tmp_path):
    mine = tmp_path / "plan.csv"
    mine.write_text("mine")
    code, out, err = run(capsys, *ASKED, "--sheet", str(mine))
    assert code == 2 and out == "" and "is there already and is not written over" in err and "plan 2.csv" in err
    assert mine.read_text() == "mine" and os.listdir(tmp_path) == ["plan.csv"]


@pytest.mark.parametrize("number, says", [(errno.ENOSPC, "The disk is full"), (errno.EROFS, "cannot be written"), (errno.EIO, "cannot be used")])
def test_a_failing_disk_is_one_sentence(capsys, tmp_path, monkeypatch, number, says):
    def fails(*_):
        raise OSError(number, os.strerror(number))
    monkeypatch.setattr("gypsumkit.files.os.fsync", fails)
    code, out, err = run(capsys, *ASKED, "--sheet", str(tmp_path / "plan.csv"))
    assert code == 2 and says in err and len(err.strip().splitlines()) == 1 and os.listdir(tmp_path) == []


@pytest.mark.parametrize("argv, said", [
    (["--powder-g", "100"], "--students"),
    (["--students", "0", "--powder-g", "100"], "whole number from 1"),
    (["--students", "7.5", "--powder-g", "100"], "7.5; it must be a whole number"),
    (["--students", "12"], "either as powder in g or as volume"),
    (["--students", "12", "--powder-g", "100", "--cast-volume-cm3", "60"], "not both"),
    (["--students", "12", "--powder-g", "100", "--water-powder-ratio", "50"], "mL of water per 100 g"),
    (["--students", "12", "--powder-g", "100", "--waste-percent", "120"], "between 0 and 100"),
    (["--students", "12", "--powder-g", "100", "--price", "2,40"], "'dental stone=2.40'"),
    (["--students", "12", "--powder-g", "100", "--price", "chalk=2"], "no powder called 'chalk'"),
    (["--students", "12", "--powder-g", "100", "--price", "dental stone=dear"], "price of dental stone cannot be read"),
    (["--students", "12", "--powder-g", "100", "--price", "dental stone=1", "--price", "Dental Stone=2"], "Two prices"),
    (["--students", "12", "--powder-g", "100", "--paper", "A5", "--card", "."], "no paper called 'A5'"),
    (["--students", "12", "--powder-g", "100", "--sheet", "nowhere/at/all.csv"], "There is no folder"),
    (["--students", "12", "--powder-g", "100", "--card", "nowhere"], "There is no folder"),
    (["--students", "12", "--powder-g", "100", "--loud"], "Unrecognized"),
    (["--students", "12", "--powder-g", "-5"], "between 1 and 5,000 g|Argument --powder-g"),
])
def test_bad_input_is_one_sentence_and_status_2(capsys, argv, said):
    code, out, err = run(capsys, *argv)
    assert code == 2 and out == "" and re.search(said, err)
    assert len(err.strip().splitlines()) == 1 and "Traceback" not in err
