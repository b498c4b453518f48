"""A mark is changed with a reason; nothing is lost by marking again, and bad input is refused in a sentence."""

import csv
import datetime
import errno
import io
import os

import pytest

from gypsumkit.marking.marks import Finding, Marks
from gypsumkit.marking.moderation import DECISIONS_FILE, Decision, Decisions, automatic_marks, changes_words, moderated, open_rows
from gypsumkit.problems import Problem
from tests.marking.invented_marks import invented_marks

NOON = datetime.datetime(2026, 11, 25, 12, 0, 0)


@pytest.fixture
def marks():
    rows = [row._replace(marks=1.0) if row.task_number == 1 and row.label == "b" else row for row in invented_marks(6).rows]
    return Marks(rows, [Finding("1001", "1001.ipynb", "late", "It came a day late.")])


@pytest.fixture
def decisions(tmp_path):
    return Decisions(tmp_path / "marks")


def mark_of(marks, candidate, task_number, label):
    return next(row for row in marks.by_candidate[candidate] if (row.task_number, row.label) == (task_number, label))


def test_a_changed_mark_says_who_when_and_why(marks, decisions):
    decisions.add(marks, "1002", 1, "b", "1,5", "A.B.", "The unit is there, in words.", NOON)
    row = mark_of(moderated(marks, decisions.all()), "1002", 1, "b")
    assert row.marks == 1.5
    assert row.changed_by == "automatic mark 1; 1.5 by A.B. on 2026-11-25 12:00:00: The unit is there, in words."
    assert changes_words(decisions.all()[0]).startswith("2026-11-25 12:00:00, A.B.: candidate 1002, task 1 (b), 1 → 1.5.")
    others = [one for one in moderated(marks, decisions.all()).rows if one.changed_by == ""]
    assert len(others) == len(marks.rows) - 1 and set(others) <= set(marks.rows)


def test_marking_again_keeps_decisions_and_says_when_the_automatic_mark_changed(marks, decisions):
    decisions.add(marks, "1002", 1, "b", 2, "AB", "Rightly worked.", NOON)
    assert [one.kind for one in moderated(marks, decisions.all()).findings] == ["late"]
    again = Marks([row._replace(marks=0.0) if row.candidate_number == "1002" and row.label == "b" and row.task_number == 1 else row for row in marks.rows],
                  marks.findings)
    found = moderated(again, decisions.all())
    assert mark_of(found, "1002", 1, "b").marks == 2
    said = [one.sentence for one in found.findings if one.kind == "moderation"]
    assert len(said) == 1 and "when the automatic mark was 1; it is now 0" in said[0]
    assert moderated(automatic_marks(found), decisions.all()).marks_csv() == found.marks_csv()


def test_the_automatic_marks_come_back_through_the_table(marks, decisions, tmp_path):
    waiting = Marks([row._replace(marks=None, by_hand=True) if row.task_number == 4 else row for row in marks.rows])
    decisions.add(waiting, "1001", 4, "a", 3, "AB", "Read by hand.", NOON)
    moderated(waiting, decisions.all()).save(tmp_path)
    loaded = Marks.load(tmp_path)
    assert mark_of(loaded, "1001", 4, "a").marks == 3
    assert automatic_marks(loaded).rows == waiting.rows
    spoilt = Marks([row._replace(changed_by="me") for row in waiting.rows])
    with pytest.raises(Problem, match="mark again"):
        automatic_marks(spoilt)


def test_decisions_are_only_ever_added_to(marks, decisions):
    decisions.add(marks, "1002", 1, "b", 2, "AB", "Rightly worked.", NOON)
    first = decisions.path.read_bytes()
    decisions.add(marks, "1002", 1, "b", 0.5, "CD", "Not the whole way.", NOON)
    decisions.add(marks, "1003", 1, "b", 2, "CD", "As for 1002.", NOON)
    assert decisions.path.read_bytes().startswith(first) and len(decisions.all()) == 3
    assert [one.marks_from for one in decisions.all()] == [1, 2, 1] and [one.automatic for one in decisions.all()] == [1, 1, 1]
    assert mark_of(moderated(marks, decisions.all()), "1002", 1, "b").marks == 0.5
    # An open table: any reader of CSV finds the same.
    rows = list(csv.DictReader(io.StringIO(decisions.path.read_bytes().decode("utf-8-sig"))))
    assert rows[2]["candidate_number"] == "1003" and rows[2]["why"] == "As for 1002."


@pytest.mark.parametrize("given, says", [
    (dict(candidate_number="100"), "do you mean"), (dict(candidate_number=" "), "Type the candidate number"), (dict(task_number="nine"), "must be a number"),
    (dict(label="z"), "has no part 1 (z); it has 1 (a), 1 (b)"), (dict(marks="3"), "between 0 and 2"), (dict(marks="-1"), "between 0 and 2"),
    (dict(marks="two"), "'two' is not one"), (dict(marks="nan"), "ordinary number"), (dict(who=""), "initials"), (dict(who="<script>alert(1)</script>"), "initials"),
    (dict(why=" - "), "Type why"), (dict(why="x" * 501), "501 characters"), (dict(marks="1"), "has 1 already"),
])
def test_bad_input_is_refused_in_one_sentence_and_changes_nothing(marks, decisions, given, says):
    right = dict(candidate_number="1002", task_number=1, label="b", marks=2, who="AB", why="Rightly worked.")
    with pytest.raises(Problem) as refused:
        decisions.add(marks, **{**right, **given})
    assert says in str(refused.value) and "\n" not in str(refused.value)
    assert decisions.all() == () and not decisions.path.exists()


def test_a_flagged_mark_may_be_confirmed_and_is_then_no_longer_open(marks, decisions):
    flagged = Marks([row._replace(by_hand=True) if (row.candidate_number, row.task_number, row.label) == ("1002", 1, "b") else row for row in marks.rows])
    assert [row.candidate_number for row in open_rows(flagged)] == ["1002"]
    decisions.add(flagged, "1002", 1, "(B)", 1, "AB", "Looked at; the mark stands.")
    assert open_rows(moderated(flagged, decisions.all())) == ()


def test_a_cell_runs_nowhere_and_comes_back_as_typed(marks, decisions):
    decisions.add(marks, "1002", 1, "b", 2, "AB", '=HYPERLINK("http://example.org")', NOON)
    assert b',"\'=HYPERLINK' in decisions.path.read_bytes()
    assert decisions.all()[0].why == '=HYPERLINK("http://example.org")'


def test_a_part_that_is_gone_keeps_its_decision(marks, decisions):
    decisions.add(marks, "1002", 1, "b", 2, "AB", "Rightly worked.", NOON)
    left = Marks([row for row in marks.rows if row.candidate_number != "1002"])
    assert "no such part" in moderated(left, decisions.all()).findings[0].sentence and len(decisions.all()) == 1


@pytest.mark.parametrize("raw, says", [(b"when,who\r\n", "does not begin"), (b"\xff\xfe", "UTF-8"),
                                       (",".join(Decision._fields).encode() + b"\r\n1,2\r\n", "line 2 has 2 cells"),
                                       (",".join(Decision._fields).encode() + b"\r\nx,AB,1002,1,T,b,1,1,two,why\r\n", "column marks_to")])
def test_a_damaged_table_is_said_and_never_written_over(marks, decisions, raw, says):
    decisions.folder.mkdir()
    decisions.path.write_bytes(raw)
    with pytest.raises(Problem, match=says):
        decisions.add(marks, "1002", 1, "b", 2, "AB", "Rightly worked.")
    assert decisions.path.read_bytes() == raw


def test_a_full_disk_is_said_and_the_table_stays(marks, decisions, monkeypatch):
    decisions.add(marks, "1002", 1, "b", 2, "AB", "Rightly worked.", NOON)
    before = decisions.path.read_bytes()

    def full(*_):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    monkeypatch.setattr("gypsumkit.files.os.fsync", full)
    with pytest.raises(Problem, match="disk is full"):
        decisions.add(marks, "1003", 1, "b", 2, "AB", "Rightly worked.")
    assert decisions.path.read_bytes() == before and DECISIONS_FILE in os.listdir(decisions.folder)
