"""No cell of a sheet runs in a spreadsheet, whatever separator it expects, and every text comes back as it was written.

How a cell comes to run, and the apostrophe against it: OWASP Foundation, "CSV Injection" (signs = + - @ tab and carriage return at
the beginning of a cell, also after a separator within a text).
"""

import csv
import io
import random
import re

import numpy as np
import pytest

from gypsumkit.bench.sheets import RUNS, as_written, neutral, sheet

FORMULAS = ["=1+1", "+1", "-5", "@SUM(A1)", "=cmd|' /C calc'!A0", "\t=1", "\r=1", "  =1+1", "＝1+1", "a;=1+1", "a\n=1+1", "a\t+1", "a; @x", "'=1", "';'=1"]


@pytest.mark.parametrize("text", FORMULAS)
def test_a_formula_becomes_text_and_comes_back(text):
    made = neutral(text)
    assert made.startswith("'") or not made.lstrip().startswith(RUNS)
    assert as_written(made) == text


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("text", FORMULAS)
def test_no_cell_runs_whatever_separator_a_spreadsheet_expects(text, separator):
    content = sheet(("note", "powder_g"), [(text, 100), ("x", -5)]).decode("utf-8-sig")
    cells = [cell for line in csv.reader(io.StringIO(content, newline=""), delimiter=separator) for cell in line]
    # A reader that ignores quotation marks cuts at every separator and every line.
    cells += [cell.strip('"') for cell in re.split(f"[{separator}\r\n]", content)]
    running = [cell for cell in cells if cell.lstrip().startswith(("=", "+", "-", "@", "＝")) and cell != "-5" and not cell.startswith("-5,")]
    assert not running


def test_numbers_stay_numbers():
    assert [neutral(x) for x in (-5, -5.25, np.float64(-0.1), np.int64(-3), 1e-7, None, float("nan"))] == ["-5", "-5.25", "-0.1", "-3", "1e-07", "", ""]
    assert neutral("-5") == "'-5" and as_written("'-5") == "-5"


def test_any_text_comes_back():
    chance = random.Random(5)
    for _ in range(5000):
        text = "".join(chance.choice("=+-@';,\t\n\"aé 1＝") for _ in range(chance.randint(0, 9)))
        assert as_written(neutral(text)) == text
        assert next(csv.reader(io.StringIO(sheet((text, "end"), []).decode("utf-8-sig"), newline=""))) == [neutral(text), "end"]


def test_signs_that_are_no_letters_are_dropped():
    assert neutral("a\x00b\x1b[31mc") == "ab[31mc"


def test_half_a_letter_does_not_stop_the_sheet():
    assert sheet(("note",), [("half \ud800 sign",)]).decode("utf-8-sig").startswith("note")
