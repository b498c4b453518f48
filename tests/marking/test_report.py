"""The report on a class: counts that agree with the marks, questions judged only on enough answers, nobody judged at all."""

import csv
import io
import os
import re
from types import SimpleNamespace

import pytest

from gypsumkit.marking.item_statistics import item_analysis
from gypsumkit.marking.marks import Finding, MarkRow, Marks
from gypsumkit.marking.moderation import Decisions, moderated
from gypsumkit.marking.report import (EQUAL_WORDS, MOST_FINDINGS, answer_words, candidates_csv, distribution, equal_answers, has_options, items_csv, part_of, poor_words,
                                      report_html, write_report)
from gypsumkit.marking.grades import standing
from gypsumkit.marking.task_bank import all_tasks
from tests.marking.inert import seen
from tests.marking.invented_marks import invented_marks, invented_paper
from tests.marking.test_feedback import HOSTILE

PAPER = invented_paper()


def text_of(content, more=()):
    return re.sub(r"\s+", " ", " ".join(seen(content, more).text))


def table(raw):
    return list(csv.DictReader(io.StringIO(raw.decode("utf-8-sig"))))


def test_counts_agree_with_the_marks():
    marks = invented_marks(80)
    stand = [standing(marks, candidate, PAPER) for candidate in marks.candidates]
    text = text_of(report_html(marks, PAPER))
    passed = sum(marks.total(candidate) >= 0.5 * 13 for candidate in marks.candidates)
    assert "Marked: 80 papers." in text and f"{passed} of 80 reach the pass mark of 6.5 marks" in text
    assert sum(distribution(stand)) == 80 and distribution(stand)[9] == sum(one.percent >= 90 for one in stand)
    rows = table(candidates_csv(marks, PAPER))
    assert [float(row["total"]) for row in rows] == [marks.total(candidate) for candidate in marks.candidates]
    assert sum(row["passed"] == "yes" for row in rows) == passed
    assert [int(row["answers"]) for row in table(items_csv(item_analysis(marks)))] == [80] * 6


def test_poor_questions_are_named_only_on_enough_answers():
    few, many = invented_marks(12), invented_marks(150)
    assert "No question is judged: 12 answers are fewer than 30" in text_of(report_html(few, PAPER))
    words = poor_words(item_analysis(many))
    assert words.startswith("Questions to look at") and "3 (a)" in words and "1 (a)" not in words and words in text_of(report_html(many, PAPER))


@pytest.mark.parametrize("hostile", HOSTILE)
def test_nothing_typed_is_more_than_text(hostile):
    marks = invented_marks(4, answers={(1, "a"): hostile}, findings=[Finding(hostile, hostile, hostile, hostile), Finding("", hostile, "code by hand", hostile)])
    marks = Marks([row._replace(why=hostile, by_hand=True, task_id=hostile) for row in marks.rows], marks.findings)
    paper = invented_paper(hostile, 13, ((hostile, 1),))
    content = report_html(marks, paper)
    seen(content)
    assert content.encode("utf-8") and ("<" not in hostile or hostile not in content)
    for raw in (candidates_csv(marks, paper), items_csv(item_analysis(marks))):
        assert not any(cell.startswith(("=", "+", "@")) for row in csv.reader(io.StringIO(raw.decode("utf-8-sig"))) for cell in row)


def test_findings_are_grouped_and_none_is_lost_from_the_count():
    findings = [Finding(str(i), f"{i}.ipynb", "late", f"It came {i} days late.") for i in range(MOST_FINDINGS + 5)]
    findings += [Finding("1001", "1001.ipynb", "code by hand", "This system has no isolation; mark it by hand."), Finding("1009", "", "not returned", "Nothing came.")]
    text = text_of(report_html(invented_marks(3, findings=findings), PAPER))
    assert f"late: {MOST_FINDINGS + 5}" in text and "and 5 more, in findings.csv" in text and "not returned: 1." in text
    assert text.index("code by hand: 1") < text.index("late: ") and "mark it by hand" in text


def test_equal_papers_are_reported_and_not_judged():
    marks = invented_marks(6)
    rows = []
    for row in marks.rows:
        if row.candidate_number in ("1002", "1005"):
            rows.append(row._replace(answer=f"{row.task_number}7 ML  {row.label}" if row.candidate_number == "1002" else f"{row.task_number}7 ml {row.label}"))
        elif row.candidate_number in ("1001", "1003") and row.label == "b" and row.task_number == 2:
            rows.append(row._replace(answer="because the water that is not bound leaves pores behind it"))
        else:
            rows.append(row._replace(answer=f"{row.candidate_number} mL"))
    found = equal_answers(Marks(rows))
    assert found == (("all answers are equal", ("1002", "1005")), ("the same long text in task 2 (b)", ("1001", "1003")))
    text = text_of(report_html(Marks(rows), PAPER))
    assert EQUAL_WORDS in text and "1002, 1005: all answers are equal" in text
    assert all(row.marks == was.marks for row, was in zip(Marks(rows).rows, marks.rows))
    # Nothing typed at all, or a chosen option, is no equality.
    assert equal_answers(Marks([row._replace(answer="") for row in marks.rows])) == ()
    assert equal_answers(Marks([row._replace(answer="the same option " * 5, chosen="option 2") for row in marks.rows])) == ()


def test_right_answers_from_what_the_paper_offers_are_no_equality():
    offered = [task.id for task in all_tasks().values() if {part.kind for part in task.parts} <= {"choice", "several", "order"}][:6]
    assert len(offered) >= 4
    rows = [MarkRow(str(1001 + i), place, task_id, "a", 1.0, 1.0, answer="A. " + "the right option in full words " * 3, chosen="key")
            for i in range(5) for place, task_id in enumerate(offered, 1)]
    assert equal_answers(Marks(rows)) == ()


def test_wrong_answers_are_counted_under_the_same_name_in_every_paper(monkeypatch):
    options = (SimpleNamespace(text="It gets stronger."), SimpleNamespace(text="It gets <b>weaker</b>."))
    task = SimpleNamespace(parts=(SimpleNamespace(kind="words"), SimpleNamespace(kind="choice", options=options)))
    monkeypatch.setattr("gypsumkit.marking.report.find_task", {"T05-1": task}.__getitem__)
    assert has_options("T05-1", "b") and not has_options("T05-1", "a") and answer_words("T05-1", "b", "option 2") == f"option 2: {options[1].text}"
    assert answer_words("T05-1", "b", "option 99") == "option 99" and answer_words("T05-1", "b", "key") == "the right answer"
    marks = Marks([row._replace(label="b", chosen="key" if row.marks else "option 2", answer="C. whatever")
                   for row in invented_marks(40).rows if row.task_number == 3])
    text = text_of(report_html(marks, PAPER))
    wrong = sum(row.marks == 0 for row in marks.rows)
    assert "Answers to 3 (b), T05-1" in text and f"option 2: It gets <b>weaker</b>. {wrong} {100 * wrong / 40:.0f} %" in text


def test_parts_of_the_bank_are_found_by_their_label():
    task = next(iter(all_tasks().values()))
    assert part_of(task.id, "a") is task.parts[0] and part_of(task.id, "z") is None and part_of("T99-9", "a") is None and not has_options("T99-9", "a")


def test_changes_and_provisional_state_are_said(tmp_path):
    marks = invented_marks(4)
    row = next(row for row in marks.rows if row.marks < row.out_of)
    decisions = Decisions(tmp_path)
    decisions.add(marks, row.candidate_number, row.task_number, row.label, row.out_of, "A.B.", "Rightly worked, other unit.")
    content = report_html(moderated(marks, decisions.all()), PAPER, decisions.all())
    text = text_of(content)
    assert text.count("Rightly worked, other unit.") == 2 and "What assessors changed" in text and "Provisional until moderated" in text
    assert "Provisional" not in report_html(marks, PAPER, provisional=False)


def test_an_empty_class_has_a_report_too():
    assert "Marked: 0 papers." in text_of(report_html(Marks(), PAPER))
    waiting = Marks([row._replace(marks=None, by_hand=True) for row in invented_marks(2).rows])
    text = text_of(report_html(waiting, PAPER))
    assert "With an answer that an assessor has to look at: 2." in text and "no grade yet 2" in " ".join(text.split())


def test_what_is_to_be_looked_at_stands_by_question_and_says_a_common_reason_once():
    look = "To be marked by hand: Look for: The extra water is free water (1 mark)."
    rows = [row._replace(marks=None, by_hand=True, why=look, answer=f"words of {row.candidate_number}") if (row.task_number, row.label) == (1, "b") else row for row in invented_marks(4).rows]
    rows = [row._replace(marks=0.0, by_hand=True, why="Not read with certainty; it counts 0 until an assessor has looked at it: “x” is not a number.") if row == rows[0] else row for row in rows]
    text = " ".join(text_of(report_html(Marks(rows), PAPER)).split())
    other = [row._replace(why="To be marked by hand: the answer is longer than is read.") if row.marks is None and row.candidate_number == "1003" else row for row in rows]
    assert " ".join(text_of(report_html(Marks(other), PAPER)).split()).count("Look for:") == 1, "one reason of its own repeats no other"
    part = text.split("For an assessor to look at")[1].split("The returned files")[0]
    assert part.count("Look for:") == 1 and all(f"words of {row.candidate_number}" in part for row in rows if row.marks is None)
    assert "0 so far" in part and "“x” is not a number." in part and part.index("Task 1 (a)") < part.index("Task 1 (b)")
    assert text.count("not yet: 1 to be marked") == 4 and "not yet: 1 to be marked, 1 to be looked at" in text


def test_files_are_written_and_the_same_each_time(tmp_path):
    marks = invented_marks(35)
    path = write_report(marks, tmp_path, PAPER)
    assert sorted(os.listdir(tmp_path / "marks")) == ["items.csv", "report.csv", "report.html"] and path.name == "report.html"
    before = {one.name: one.read_bytes() for one in path.parent.iterdir()}
    write_report(Marks(reversed(marks.rows)), tmp_path, PAPER)
    assert before == {one.name: one.read_bytes() for one in path.parent.iterdir()}
    text_of(report_html(marks, PAPER, pictures='<svg viewBox="0 0 1 1"></svg>'), more={"svg"})
