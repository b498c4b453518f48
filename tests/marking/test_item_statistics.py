"""Item statistics against published worked examples and general libraries; no verdict on few answers."""

import importlib
import inspect
import re

import numpy as np
import pytest
import scipy.stats

from gypsumkit.marking.item_statistics import (LEAST_FOR_A_VERDICT, PaperPart, alpha_range, correlation_range, cronbach_alpha, difficulty, discrimination,
                                               distractor_tables, distractors, groups, item_analysis, kr20, point_biserial, reliability,
                                               reliability_words, standard_error, table_of_marks, verdict)
from gypsumkit.marking.marks import Marks
from gypsumkit.sources import SOURCES
from tests.marking.invented_marks import PARTS, invented_marks

# Real Statistics Using Excel, "Kuder and Richardson Formula 20", example 1: 12 candidates, 11 questions, 0.738.
TWELVE = np.array([[int(mark) for mark in row] for row in (
    "11111111111 11111111010 10111111100 11101101100 11111000100 01101111000 11110010000 11111000000 01011000010 10010100000 11100000000 10010000000").split()])

# P.E. Shrout and J.L. Fleiss, Intraclass correlations, Psychological Bulletin 86 (1979) 420-428, table 2: six targets, four judges. Its
# ICC(3,4), 0.91, is Cronbach's alpha of the judges.
SHROUT = np.array([[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]], dtype=float)


# ---- published worked examples

def test_kr20_of_the_published_example():
    assert kr20(TWELVE) == pytest.approx(0.738, abs=0.0005)
    assert cronbach_alpha(TWELVE) == pytest.approx(kr20(TWELVE), abs=1e-12)


def test_alpha_of_a_published_table():
    assert cronbach_alpha(SHROUT) == pytest.approx(0.91, abs=0.005)
    # The same from its analysis of variance as printed there: between targets 11.24, residual 1.02.
    assert cronbach_alpha(SHROUT) == pytest.approx((11.24 - 1.02) / 11.24, abs=0.001)
    assert np.isnan(kr20(SHROUT))


def test_point_biserial_of_the_scipy_documentation():
    # scipy.stats.pointbiserialr: 0 0 0 1 1 1 1 with 0 to 6 gives 0.8660254. The second column is what is left of the total.
    table = np.column_stack([[0, 0, 0, 1, 1, 1, 1], np.arange(7)])
    assert point_biserial(table)[0] == pytest.approx(0.8660254, abs=1e-7)


def test_discrimination_by_hand():
    # 27 % of 12 is 3.24, so three: the first three rows (11, 9, 8 right) and the last three (3, 3, 2 right).
    found = discrimination(TWELVE, np.ones(11))
    assert found[[0, 1, 2, 10]] == pytest.approx([3 / 3 - 3 / 3, 2 / 3 - 1 / 3, 3 / 3 - 1 / 3, 1 / 3 - 0 / 3])
    assert difficulty(TWELVE, np.ones(11))[0] == pytest.approx(10 / 12)


# ---- general libraries

@pytest.mark.parametrize("seed", range(5))
def test_correlation_with_the_rest_is_that_of_scipy(seed):
    draw = np.random.default_rng(seed)
    table = (draw.normal(size=(60, 1)) + draw.normal(size=(60, 9)) > 0).astype(float)
    rest = table.sum(axis=1, keepdims=True) - table
    wanted = [scipy.stats.pointbiserialr(table[:, i], rest[:, i]).statistic for i in range(9)]
    assert point_biserial(table) == pytest.approx(wanted, abs=1e-12)
    assert np.all(point_biserial(table) < [np.corrcoef(table[:, i], table.sum(axis=1))[0, 1] for i in range(9)]), "a part helps its own total"


def test_ranges_are_those_of_scipy():
    x, y = np.random.default_rng(1).normal(size=(2, 50))
    y = y + x
    wanted = scipy.stats.pearsonr(x, y)
    interval = wanted.confidence_interval(0.95)
    assert correlation_range(wanted.statistic, 50) == pytest.approx((interval.low, interval.high), abs=1e-9)
    low, high = alpha_range(0.8, 40, 10)
    assert low == pytest.approx(1 - 0.2 * scipy.stats.f.ppf(0.975, 39, 39 * 9)) and high == pytest.approx(1 - 0.2 * scipy.stats.f.ppf(0.025, 39, 39 * 9))


def test_the_range_of_alpha_holds_what_is_true_as_often_as_it_says():
    # Parallel parts: true score variance 1, error variance 4, 8 parts: alpha 8 / (8 + 4).
    draw, held = np.random.default_rng(3), 0
    for _ in range(400):
        table = draw.normal(size=(40, 1)) + 2 * draw.normal(size=(40, 8))
        low, high = alpha_range(cronbach_alpha(table), 40, 8)
        held += low <= 8 / 12 <= high
    assert 0.92 <= held / 400 <= 0.98


def test_the_standard_error_is_how_far_totals_lie_from_true_ones():
    draw = np.random.default_rng(4)
    true = draw.normal(scale=3, size=(4000, 1))
    table = true / 10 + draw.normal(scale=0.4, size=(4000, 10))
    away = np.std(table.sum(axis=1) - true[:, 0])
    assert standard_error(np.std(table.sum(axis=1), ddof=1), cronbach_alpha(table)) == pytest.approx(away, rel=0.05)


# ---- what must not depend on chance

def test_the_order_of_the_list_changes_nothing():
    table = np.array([[1, 0], [0, 1], [1, 0], [0, 1], [1, 1], [0, 0], [1, 0], [0, 1]], dtype=float)
    for _ in range(5):
        shuffled = np.random.default_rng(_).permutation(table)
        assert discrimination(shuffled, np.ones(2)) == pytest.approx(discrimination(table, np.ones(2)))


@pytest.mark.parametrize("count, size", [(2, 1), (10, 3), (37, 10), (100, 27)])
def test_groups_hold_27_of_100(count, size):
    upper, lower = groups(np.arange(count))
    assert upper.sum() == size and lower.sum() == size and upper[-1] == 1 and lower[0] == 1


def test_what_cannot_be_worked_out_is_not_a_number():
    same = np.ones((5, 3))
    assert np.isnan(point_biserial(same)).all() and np.isnan(cronbach_alpha(same)) and np.isnan(kr20(same))
    assert reliability(same, np.ones(3)).reason == "all candidates have the same total"
    assert "2 candidates" in reliability(np.ones((1, 3)), np.ones(3)).reason and "2 parts" in reliability(np.ones((4, 1)), np.ones(1)).reason
    assert np.isnan(difficulty(np.full((3, 1), np.nan), [1.0])[0])
    assert item_analysis(Marks()).items == () and "nobody" in item_analysis(Marks()).reliability.reason


# ---- verdicts

def test_no_verdict_on_few_answers():
    few, many = (item_analysis(invented_marks(count, seed=11)) for count in (LEAST_FOR_A_VERDICT - 1, 200))
    assert all(item.verdict == "" and item.answers == LEAST_FOR_A_VERDICT - 1 for item in few.items)
    assert {item.part.words for item in many.items if item.verdict} == {"3 (a)"}
    assert "fewer than 30" in reliability_words(few.reliability) and "fewer" not in reliability_words(many.reliability)


def test_verdicts_say_what_is_doubtful():
    assert verdict(0.5, -0.4, -0.6, -0.1, 60).startswith("poor: those who did well")
    assert verdict(0.5, 0.0, -0.1, 0.1, 400).startswith("poor: it hardly")
    assert "chance" in verdict(0.5, 0.1, -0.2, 0.35, 40) and verdict(0.5, 0.4, 0.2, 0.6, 60) == ""
    assert "too easy" in verdict(0.99, 0.1, -0.1, 0.3, 60) and "key" in verdict(0.02, 0.1, -0.1, 0.3, 60)


# ---- the marks of an examination

def test_parts_that_wait_are_left_out_and_named():
    marks = invented_marks(40)
    rows = [row._replace(marks=None, by_hand=True) if row.task_number == 4 else row for row in marks.rows]
    rows = [row._replace(marks=None) if row.candidate_number == "1003" and row.task_number == 1 and row.label == "a" else row for row in rows]
    found = item_analysis(Marks(rows))
    assert [part.words for part in found.left_out] == ["4 (a)"] and found.not_counted == 1
    assert [item.answers for item in found.items] == [39, 40, 40, 40, 40] and found.reliability.candidates == 39


def test_the_table_is_that_of_the_rows():
    marks = invented_marks(5)
    candidates, parts, table = table_of_marks(marks)
    assert parts == tuple(PaperPart(*part) for part in PARTS) and candidates == marks.candidates
    assert table.sum(axis=1) == pytest.approx([marks.total(candidate) for candidate in candidates])


def test_distractors_say_who_gave_which_answer():
    found = distractors(["A", "B", "A", "A", "C", ""], [1, 0, 1, 1, 0, 0], [0.9, 0.2, 0.8, 0.7, 0.4, 0.1])
    assert [(one.answer, one.count, one.full_marks) for one in found] == [("A", 3, True), ("B", 1, False), ("C", 1, False), ("no answer", 1, False)]
    assert found[0].upper == 1 and found[0].lower == 0 and found[0].mean_rest == pytest.approx(0.8)
    assert sum(one.share for one in found) == pytest.approx(1)
    many = distractors([str(i) for i in range(20)], np.zeros(20), np.zeros(20))
    assert len(many) == 8 and many[-1].answer == "other answers" and sum(one.count for one in many) == 20
    tables = distractor_tables(invented_marks(12), lambda task_id, label: task_id == "T05-1")
    assert [part.words for part in tables] == ["3 (a)"] and tables[PaperPart(3, "T05-1", "a", 1.0)][0].count == 12


@pytest.mark.parametrize("module", ["item_statistics", "agreement"])
def test_every_statistic_names_its_source(module):
    found = importlib.import_module(f"gypsumkit.marking.{module}")
    text = inspect.getsource(found)
    keys = set(re.findall(r"\[([a-z]+_\d{4})\]", text))
    assert keys and keys <= set(SOURCES), keys - set(SOURCES)
    for name in {"item_statistics": ("difficulty", "groups", "discrimination", "point_biserial", "correlation_range", "cronbach_alpha", "kr20", "alpha_range",
                                     "standard_error", "distractors"), "agreement": ("weights_of", "agreement_of_table")}[module]:
        assert re.search(r"\[[a-z]+_\d{4}\]", getattr(found, name).__doc__), f"{name} names no source"
