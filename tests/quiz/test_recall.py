"""Recall brings missed questions back first, then those longest not asked."""

import json

import pytest

from gypsumkit.quiz.bank import Bank
from gypsumkit.quiz.progress import Progress
from gypsumkit.quiz.recall import recall
from tests.quiz import demo_bank

EARLIER = {"L01-Q1", "L01-Q2", "L01-Q3", "L01-Q4"}


@pytest.fixture
def bank():
    return Bank(demo_bank)


def answered(folder, **attempts):
    """Write answers as (time, correct) by question number of lesson 01."""
    answers = {f"L01-{name}": [{"time": time, "answer": "A", "correct": correct, "fraction": float(correct)}] for name, (time, correct) in attempts.items()}
    (folder / "answers.json").write_text(json.dumps({"answers": answers}))
    return Progress(folder)


def ids(questions):
    return [question.id for question in questions]


def test_an_empty_work_folder_gives_the_same_questions_every_time(bank, tmp_path):
    first = ids(recall("02", Progress(tmp_path), bank=bank))
    assert len(set(first)) == 3 and set(first) < EARLIER
    assert all(ids(recall("02", Progress(tmp_path / str(n)), bank=Bank(demo_bank))) == first for n in range(3))


def test_missed_questions_come_first_then_never_asked_then_the_oldest(bank, tmp_path):
    progress = answered(tmp_path, Q1=("2026-03-01T10:00:00+01:00", True), Q2=("2026-03-02T10:00:00+01:00", True), Q3=("2026-03-03T10:00:00+01:00", False))
    assert ids(recall("02", progress, how_many=4, bank=bank)) == ["L01-Q3", "L01-Q4", "L01-Q1", "L01-Q2"]


def test_times_are_compared_across_time_zones(bank, tmp_path):
    progress = answered(tmp_path, Q1=("2026-03-01T10:00:00+02:00", True), Q2=("2026-03-01T09:30:00+00:00", True),
                        Q3=("2026-03-01T08:30:00+00:00", True), Q4=("2026-03-01T08:00:01+00:00", True))
    assert ids(recall("02", progress, how_many=4, bank=bank)) == ["L01-Q1", "L01-Q4", "L01-Q3", "L01-Q2"]


def test_a_question_missed_once_and_then_answered_is_no_longer_missed(bank, tmp_path):
    attempts = [{"time": f"2026-03-0{day}T10:00:00+01:00", "answer": "A", "correct": day == 2, "fraction": 0.0} for day in (1, 2)]
    (tmp_path / "answers.json").write_text(json.dumps({"answers": {"L01-Q1": attempts}}))
    assert ids(recall("02", Progress(tmp_path), how_many=4, bank=bank))[-1] == "L01-Q1"


def test_the_first_lesson_recalls_nothing(bank, tmp_path):
    assert recall("01", Progress(tmp_path), bank=bank) == []


def test_earlier_lessons_take_turns(bank, tmp_path):
    lessons = [question.id[:3] for question in recall("03", Progress(tmp_path), how_many=4, bank=bank)]
    assert lessons == ["L02", "L01", "L02", "L01"]


def test_answers_that_cannot_be_read_do_not_stop_a_lesson(bank, tmp_path):
    (tmp_path / "answers.json").mkdir()
    progress = Progress(tmp_path)
    assert len(recall("02", progress, bank=bank)) == 3
    (message,) = progress.take_messages()
    assert "cannot be read" in message


def test_a_question_answered_at_a_picture_is_not_recalled_elsewhere(tmp_path):
    from gypsumkit.quiz import bank as course_bank
    at_picture = {question.id for question in course_bank.questions() if question.at_picture}
    assert at_picture >= {"L05-Q5", "L08-Q4", "L09-Q5"}
    assert at_picture == {question.id for question in course_bank.questions() if question.prompt.startswith("Find it with")}
    everything = {question.id for question in recall("99", Progress(tmp_path), how_many=1000)}
    assert len(everything) == len(course_bank.questions()) - len(at_picture) and not everything & at_picture
