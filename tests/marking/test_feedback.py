"""A page for each candidate: everything said, nothing runs, no name, no other candidate."""

import errno
import os

import pytest

from gypsumkit.marking import pages
from gypsumkit.marking.feedback import FINAL, FOLLOWED, PROVISIONAL, Study, feedback_page, page_name, study_of, why, write_feedback
from gypsumkit.marking.grades import standing
from gypsumkit.marking.marks import Finding, Marks, MarkRow
from gypsumkit.marking.moderation import Decisions, moderated
from gypsumkit.problems import Problem
from tests.marking.inert import seen
from tests.marking.invented_marks import invented_marks, invented_paper

PAPER = invented_paper(marks=6, boundaries=(("very good", 5), ("pass", 3)))
HOSTILE = ['<script>alert(1)</script>', '"><img src=x onerror=alert(1)>', "</td></table><h1>full marks", "<!-- ", "&lt;b&gt;", "javascript:alert(1)",
           "<svg/onload=alert(1)>", "</style><style>*{display:none}", "\u202e50 Lm", "\ud800 half a sign", "\x00\x08", "<a href='http://example.org'>x</a>", "{{7*7}}",
           "<![CDATA[<b>]]>", "<meta http-equiv=refresh content=0>"]


def one(candidate="1001", task_number=1, label="a", marks=1.0, out_of=2.0, task_id="T02-1", **rest):
    return MarkRow(candidate, task_number, task_id, label, marks, out_of, **rest)


def test_a_page_says_all_that_counts():
    marks = Marks([one(why="The unit is missing.", answer="54", file="Ines Invented.ipynb"), one(label="b", marks=2.0, followed_through=True, answer="0.54"),
                   one(task_number=2, task_id="T99-9", marks=0.0, answer="", slip="Taken per 100 mL.")],
                  [Finding("1001", "Ines Invented.ipynb", "equal answers", "They match the paper of 1002.")])
    text = " ".join(seen(feedback_page(marks, "1001", PAPER)).text)
    for said in (PAPER.title, "candidate 1001", "Total: 3 of 6 marks (50.0 %)", "Grade: pass", "The pass mark is reached", PROVISIONAL, "The unit is missing.", FOLLOWED,
                 "no answer", "Taken per 100 mL.", study_of("T02-1").title, f"Lesson {study_of('T02-1').lesson}", study_of("T02-1").objective, "(1 mark lost)"):
        assert said in text, said
    # No name, no file, nothing about anybody else.
    assert "Ines" not in text and "1002" not in text and "ipynb" not in text
    assert FINAL in feedback_page(marks, "1001", PAPER, provisional=False)


@pytest.mark.parametrize("hostile", HOSTILE)
def test_what_was_typed_is_shown_and_stays_text(hostile):
    marks = Marks([one(answer=hostile, why=hostile, slip=f"{hostile} again", changed_by=hostile), one(label=hostile[:3], answer="54 mL")])
    paper = invented_paper(hostile, 4, ((hostile, 1),))
    content = feedback_page(marks, "1001", paper, study=lambda task_id: Study(hostile, hostile, hostile))
    text = "".join(seen(content).text)
    left = pages._TURNING.sub("", pages._NOT_SHOWN.sub("\ufffd", hostile))
    assert text.count(left) >= 4 and content.encode("utf-8")
    if "<" in hostile:
        assert hostile not in content


def test_every_mark_below_full_has_a_reason():
    assert why(one()) == "No reason was written down for this mark; ask the assessor." and why(one(marks=2.0)) == "Full marks."
    assert "Waits" in why(one(marks=None, by_hand=True, why="To be marked by hand: code was not run."))
    assert "will look" in why(one(marks=0.0, by_hand=True, why="“x” is not a number."))
    assert why(one(marks=None, by_hand=True, why="To be marked by hand: Look for: Pores (1 mark).")) == "Waits for an assessor.", "what is looked for is for the assessor until the mark is given"
    decided = {"by_hand": True, "changed_by": "automatic mark none; 1 by A.B. on 2026-01-02 03:04:05: one reason of two"}
    assert why(one(marks=1.0, why="To be marked by hand: Look for: Pores (1 mark).", **decided)) == "What was looked for: Pores (1 mark). An assessor gave 1: one reason of two."
    kept = {"by_hand": True, "changed_by": "automatic mark 0; 0 by A.B. on 2026-01-02 03:04:05: wrong letter"}
    assert why(one(marks=0.0, why="Right: A", **kept)) == "Right: A. An assessor looked at it and kept 0: wrong letter."
    unread = "Not read with certainty; it counts 0 until an assessor has looked at it: “x” is not a number."
    assert why(one(marks=0.0, by_hand=True, why=unread)) == unread
    assert why(one(marks=1.0, why=unread, **decided)) == "“x” is not a number. An assessor gave 1: one reason of two."
    assert why(one(why="The step is right. Taken per 100 mL.", slip="Taken per 100 mL.")).count("Taken") == 1
    assert FOLLOWED not in why(one(followed_through=True, why="Follow-through from your 0.6."))


def test_a_mark_that_was_decided_says_why_and_not_who(tmp_path):
    marks = invented_marks(3)
    row = next(row for row in marks.rows if row.marks < row.out_of)
    decisions = Decisions(tmp_path)
    decisions.add(marks, row.candidate_number, row.task_number, row.label, row.out_of, "Q.X.", "The unit stands in the line before.")
    text = " ".join(seen(feedback_page(moderated(marks, decisions.all()), row.candidate_number, PAPER)).text)
    assert "An assessor gave" in text and "The unit stands in the line before." in text and "Q.X." not in text
    assert "1 mark was decided by an assessor" in text


def test_a_candidate_is_told_when_the_questions_are_not_the_own_ones():
    findings = [Finding("1001", "1001.ipynb", "another paper", "Every question here is that of candidate 1002."), Finding("1001", "1001 (1).ipynb", "two returns", "Two.")]
    text = " ".join(seen(feedback_page(Marks([one(marks=2.0)], findings), "1001", PAPER)).text)
    assert "not the ones that were handed out to you" in text and "More than one paper came back" in text and "1002" not in text and "ipynb" not in text
    assert "handed out to you" not in " ".join(seen(feedback_page(Marks([one(marks=2.0)]), "1001", PAPER)).text)


def test_parts_that_wait_leave_the_grade_open():
    marks = Marks([one(marks=2.0), one(label="b", marks=None, by_hand=True)])
    text = " ".join(seen(feedback_page(marks, "1001", PAPER)).text)
    assert "1 part waits" in text and "no grade yet" in text and "Grade:" not in text and "– of 2" in text
    assert standing(marks, "1001", PAPER).passed is None


@pytest.mark.parametrize("parts, grade, passed", [((2.99,), "not passed", False), ((3,), "pass", True), ((0.1,) * 30, "pass", True), ((4.999,), "pass", True),
                                                  ((5,), "very good", True), ((0,), "not passed", False)])
def test_grades_are_not_rounded(parts, grade, passed):
    marks = Marks([one(label=chr(97 + i % 26), task_number=i, marks=mark, out_of=6 / len(parts)) for i, mark in enumerate(parts, 1)])
    now = standing(marks, "1001", PAPER)
    assert (now.grade, now.passed) == (grade, passed)


def test_a_long_answer_is_cut_and_that_is_said():
    content = feedback_page(Marks([one(answer="x" * 5_000_000)]), "1001", PAPER)
    assert len(content) < 20_000 and "4,998,000 more characters" in content


def test_pages_are_written_for_all_and_the_same_each_time(tmp_path):
    marks = invented_marks(5)
    folder = write_feedback(marks, tmp_path, PAPER)
    assert folder == tmp_path / "marks" / "pages" and sorted(os.listdir(folder)) == [f"{1001 + i}.html" for i in range(5)]
    before = {path.name: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.iterdir()}
    write_feedback(marks, tmp_path, PAPER)
    assert before == {path.name: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.iterdir()}
    for path in folder.iterdir():
        others = {str(1001 + i) for i in range(5)} - {path.stem}
        assert not any(other in path.read_text(encoding="utf-8") for other in others)


def test_a_candidate_number_cannot_lead_out_of_the_folder(tmp_path):
    for odd in ("../../1001", "a/b", "con:", "", "x" * 300, "١٠٠١", "..", "1\n2"):
        name = page_name(odd)
        assert os.path.basename(name) == name and name not in ("..", ".") and name.isascii() and len(name) < 255
    write_feedback(Marks([one(candidate="../../evil")]), tmp_path / "exam", PAPER)
    assert os.listdir(tmp_path) == ["exam"] and len(os.listdir(tmp_path / "exam" / "marks" / "pages")) == 1


def test_nobody_and_a_full_disk_are_said(tmp_path, monkeypatch):
    with pytest.raises(Problem, match="No paper of candidate 9"):
        feedback_page(invented_marks(1), "9", PAPER)

    def full(*_):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    monkeypatch.setattr("gypsumkit.files.os.replace", full)
    with pytest.raises(Problem, match="disk is full"):
        write_feedback(invented_marks(1), tmp_path, PAPER)
    assert os.listdir(tmp_path / "marks" / "pages") == []
