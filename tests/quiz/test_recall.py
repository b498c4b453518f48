"""Recall brings missed questions back first, then plans: every objective comes back twice after its own lesson."""

import json
import re

import pytest

from gypsumkit.problems import Problem
from gypsumkit.quiz import bank as course_bank
from gypsumkit.quiz.bank import Bank
from gypsumkit.quiz.progress import Progress
from gypsumkit.quiz.recall import LAST_PARTS, MOST_MISSED, PLANNED, TIMES, last_recall, plan_of_recall, recall
from tests.quiz import demo_bank

LESSONS = course_bank.lessons()
PARTS = [name for name, _ in LAST_PARTS]


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


def shown(folder):
    """Return what a reader with these answers is asked, lesson by lesson, then part by part."""
    return {**{number: recall(number, Progress(folder)) for number in LESSONS}, **{f"part {part}": last_recall(part, Progress(folder)) for part in PARTS}}


# ---- the plan of the course

def test_every_objective_comes_back_twice_after_its_own_lesson(tmp_path):
    """The last lessons have no later ones: what has no room there comes back in the parts of the last recall."""
    asked = [(place, question.objective) for place, questions in shown(tmp_path).items() for question in questions]
    for objective in course_bank.objectives():
        places = [place for place, one in asked if one == objective.id]
        assert len(places) >= TIMES, f"{objective.id} comes back only in {places}"
        assert all(place.startswith("part") or place > objective.id[1:3] for place in places), objective.id


def test_lessons_have_no_free_room_while_an_objective_waits():
    """So that as much as they hold comes back in lessons, and only the rest after them."""
    plan = plan_of_recall()
    assert all(len(plan.lessons[number]) == PLANNED for number in LESSONS[2:])
    late = [objective for part in plan.parts for objective in part]
    assert min(late.count(one.id) for one in course_bank.objectives(LESSONS[0])) == 0
    assert all(late.count(one.id) == TIMES for one in course_bank.objectives(LESSONS[-1]))


def test_the_recall_of_a_lesson_reads_no_later_lesson(tmp_path):
    """So that a lesson need not wait for the making of all questions of the course."""
    bank = Bank(course_bank.the_bank().package)
    assert recall("03", Progress(tmp_path), bank=bank) and sorted(bank._lessons) == ["00", "01", "02"]
    assert all(plan_of_recall(until=number).lessons[number] == plan_of_recall().lessons[number] for number in LESSONS)


def test_no_objective_comes_back_twice_in_one_place_or_in_neighbouring_parts():
    plan = plan_of_recall()
    for objectives in (*plan.lessons.values(), *plan.parts):
        assert len(set(objectives)) == len(objectives)
    for earlier, later in zip(plan.parts, plan.parts[1:]):
        assert not set(earlier) & set(later)
    lengths = [len(part) for part in plan.parts]
    assert max(lengths) - min(lengths) <= 2


def test_a_reader_who_answers_everything_rightly_is_asked_the_same_objectives(tmp_path):
    new = {place: [question.objective for question in questions] for place, questions in shown(tmp_path).items()}
    answers = {question.id: [{"time": f"2026-03-01T10:{place % 60:02d}:00+01:00", "answer": "A", "correct": True, "fraction": 1.0}]
               for place, question in enumerate(course_bank.questions())}
    (tmp_path / "answers.json").write_text(json.dumps({"answers": answers}))
    assert {place: [question.objective for question in questions] for place, questions in shown(tmp_path).items()} == new


def test_where_an_objective_has_two_questions_both_come_back(tmp_path):
    asked = [question.id for questions in shown(tmp_path).values() for question in questions]
    for objective in course_bank.objectives():
        there = [one.id for one in course_bank.questions(objective.id[1:3]) if one.objective == objective.id and not one.at_picture]
        assert len({one for one in asked if one in there}) == min(TIMES, len(there)), objective.id


def test_an_unknown_part_is_refused(tmp_path):
    with pytest.raises(Problem, match="There is no part 9 .* 1, 2, 3, 4"):
        last_recall("9", Progress(tmp_path))


# ---- what one reader is asked

def test_an_empty_work_folder_gives_the_same_questions_every_time(bank, tmp_path):
    first = ids(recall("03", Progress(tmp_path), bank=bank))
    assert len(set(first)) == 3
    assert all(ids(recall("03", Progress(tmp_path / str(n)), bank=Bank(demo_bank))) == first for n in range(3))


def test_missed_questions_come_first_and_take_the_place_of_their_objective(bank, tmp_path):
    progress = answered(tmp_path, Q1=("2026-03-01T10:00:00+01:00", True), Q2=("2026-03-02T10:00:00+01:00", False), Q3=("2026-03-01T10:00:00+01:00", False))
    assert ids(recall("02", progress, bank=bank)) == ["L01-Q3", "L01-Q2"]


def test_missed_questions_come_on_top_of_what_is_planned(tmp_path):
    planned = ids(recall("09", Progress(tmp_path)))
    missed = next(one for one in course_bank.questions("01") if one.objective not in plan_of_recall().lessons["09"])
    progress = answered(tmp_path, **{missed.id[4:]: ("2026-03-01T10:00:00+01:00", False)})
    assert ids(recall("09", progress)) == [missed.id, *planned]


def test_not_more_are_missed_at_once_than_a_reader_can_bear(tmp_path):
    missed = {question.id: [{"time": "2026-03-01T10:00:00+01:00", "answer": "A", "correct": False, "fraction": 0.0}] for question in course_bank.questions()}
    (tmp_path / "answers.json").write_text(json.dumps({"answers": missed}))
    assert all(len(recall(number, Progress(tmp_path))) <= MOST_MISSED + PLANNED for number in LESSONS)


def test_of_the_questions_of_an_objective_the_one_longest_not_asked_comes(bank, tmp_path):
    """Times are compared across time zones."""
    progress = answered(tmp_path, Q1=("2026-03-01T10:00:00+02:00", True), Q2=("2026-03-01T09:30:00+00:00", True),
                        Q3=("2026-03-01T08:30:00+00:00", True), Q4=("2026-03-01T08:00:01+00:00", True))
    assert ids(recall("02", progress, bank=bank)) == ["L01-Q1"]
    progress = answered(tmp_path, Q1=("2026-03-01T10:00:00+01:00", True), Q2=("2026-03-02T10:00:00+01:00", True), Q4=("2026-03-02T10:00:00+01:00", True))
    assert ids(recall("02", progress, bank=bank)) == ["L01-Q3"]


def test_a_question_missed_once_and_then_answered_is_no_longer_missed(bank, tmp_path):
    attempts = [{"time": f"2026-03-0{day}T10:00:00+01:00", "answer": "A", "correct": day == 2, "fraction": 0.0} for day in (1, 2)]
    (tmp_path / "answers.json").write_text(json.dumps({"answers": {"L01-Q1": attempts}}))
    assert "L01-Q1" not in ids(recall("02", Progress(tmp_path), bank=bank))


def test_the_first_lesson_recalls_nothing(bank, tmp_path):
    assert recall("01", Progress(tmp_path), bank=bank) == []


def test_answers_that_cannot_be_read_do_not_stop_a_lesson(bank, tmp_path):
    (tmp_path / "answers.json").mkdir()
    progress = Progress(tmp_path)
    assert len(recall("02", progress, bank=bank)) == 1
    (message,) = progress.take_messages()
    assert "cannot be read" in message


def test_a_question_answered_at_a_picture_is_not_recalled_elsewhere(tmp_path):
    at_picture = {question.id for question in course_bank.questions() if question.at_picture}
    assert at_picture >= {"L05-Q5", "L08-Q4", "L09-Q5"}
    assert at_picture == {question.id for question in course_bank.questions() if re.match("Find it with", question.prompt)}
    assert not at_picture & {question.id for questions in shown(tmp_path).values() for question in questions}
    missed = {name: [{"time": "2026-03-01T10:00:00+01:00", "answer": "A", "correct": False, "fraction": 0.0}] for name in at_picture}
    (tmp_path / "answers.json").write_text(json.dumps({"answers": missed}))
    assert not at_picture & {question.id for questions in shown(tmp_path).values() for question in questions}
