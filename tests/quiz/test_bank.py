"""The bank finds its lessons by itself; every question shipped is tried with every answer."""

import re
import types

import pytest

from gypsumkit.problems import Problem
from gypsumkit.quiz import bank as course_bank
from gypsumkit.quiz.bank import Bank
from gypsumkit.quiz.exercises import VARIANTS
from gypsumkit.quiz.questions import Choice, NumberWithUnit
from gypsumkit.units import say_quantity
from tests.quiz import demo_bank

SEEDS = ("lesson", *range(12))


@pytest.fixture
def bank():
    return Bank(demo_bank)


def faults_of(bank):
    """Return every fault of a bank in words: an id used twice, an objective that is not there, a key refused, a wrong answer not explained."""
    faults, seen = [], set()
    for name in ("objectives", "questions", "predictions", "notes", "exercises", "bench_tasks"):
        for item in getattr(bank, name)():
            faults += [f"{item.id} is used twice"] if item.id in seen else []
            seen.add(item.id)
            if hasattr(item, "objective") and item.objective not in {objective.id for objective in bank.objectives(item.id[1:3])}:
                faults.append(f"{item.id} tests {item.objective}, which its lesson does not list")
    asked = [*bank.questions(), *bank.predictions()]
    asked = [question.for_seed(seed) for question in asked for seed in (SEEDS if callable(question.parameters) else SEEDS[:1])]
    asked += [step.question for exercise in bank.exercises() for seed in SEEDS for variant in VARIANTS for step in exercise.case(variant, seed).steps]
    for question in asked:
        told = question.every_answer()
        if sum(marked.correct for _, marked in told) != 1:
            faults.append(f"{question.id} (seed {question.seed}) accepts {sum(marked.correct for _, marked in told)} of its answers")
        faults += [f"{question.id} does not explain {answer}" for answer, marked in told if not marked.correct and not marked.slip]
        if isinstance(question, NumberWithUnit):
            said = say_quantity(question.value, question.unit and question.unit_wanted, 3).replace(" × 10^", "e")
            faults += [] if question.mark(said).correct else [f"{question.id} refuses its own key {said}"]
            faults += [] if question.mark(said.replace(".", ",", 1)).correct or re.search(r"[1-9]\d{0,2}\.\d{3}\b", said) else [f"{question.id} refuses a decimal comma"]
    return faults


def test_the_shipped_bank_has_no_fault():
    assert faults_of(course_bank.the_bank()) == []


def test_the_demonstration_bank_has_no_fault(bank):
    assert faults_of(bank) == []


def test_a_fault_is_found(bank):
    bank._lesson("02")
    bank._lessons["02"]["OBJECTIVES"] = bank._lessons["02"]["OBJECTIVES"][:1]
    assert faults_of(bank) == [f"{name} tests L02-O2, which its lesson does not list" for name in ("L02-Q3", "L02-Q4", "L02-P1")]


def test_correct_options_of_the_shipped_bank_do_not_all_stand_in_one_place():
    places = [[option.correct for option in question.shown_options].index(True)
              for question in course_bank.questions() if isinstance(question, Choice)]
    if len(places) >= 8:
        assert max(places.count(place) for place in range(4)) <= 0.7 * len(places)


def test_lessons_are_found_by_their_names(bank):
    assert bank.lessons() == ["01", "02"]
    assert [question.id for question in bank.questions("02")] == ["L02-Q1", "L02-Q2", "L02-Q3", "L02-Q4", "L02-Q5"]
    assert bank.questions(2) == bank.questions("02")
    assert len(bank.questions()) == 9
    assert bank.exercises("01") == [] and bank.predictions("01") == []


def test_items_are_found_by_their_ids(bank):
    assert bank.question("L02-Q3").id == "L02-Q3"
    assert bank.question("L02-P1").id == "L02-P1"
    assert bank.exercise("L02-E1").id == "L02-E1"
    assert bank.note("L01-N1").model_answer.startswith("Setting gives off heat")
    assert bank.bench_task("L01-B1").do == ("Mix 50 g.", "Hold the bowl.")
    assert bank.objectives("01")[0].id == "L01-O1"


@pytest.mark.parametrize("ask, says", [
    (lambda bank: bank.question("L02-Q9"), "There is no question L02-Q9"),
    (lambda bank: bank.question("L07-Q1"), "There is no lesson 07 in the question bank: there is 01, 02"),
    (lambda bank: bank.question("question one"), "is not an id: write one like L02-Q1"),
    (lambda bank: bank.question(None), "is not an id"),
    (lambda bank: bank.exercise("L02-Q1"), "There is no exercise L02-Q1"),
    (lambda bank: bank.questions("two"), "is not a lesson number"),
    (lambda bank: bank.questions("../etc"), "is not a lesson number"),
])
def test_what_is_not_there_is_said(bank, ask, says):
    with pytest.raises(Problem) as caught:
        ask(bank)
    assert says in str(caught.value)


@pytest.mark.parametrize("content, says", [
    ("QUESTIONS = [Objective('L03-O1', 'x')]", "must begin with L03-Q"),
    ("NOTES = [Note('L04-N1', 'x', 'y')]", "must begin with L03-N"),
    ("NOTES = [Note('L03-N1', 'x', 'y'), Note('L03-N1', 'x', 'y')]", "used twice"),
])
def test_ids_of_another_lesson_or_used_twice_are_refused(tmp_path, monkeypatch, content, says):
    package = tmp_path / f"a_bank_{abs(hash(content))}"
    package.mkdir()
    (package / "__init__.py").write_text("")
    (package / "lesson_03.py").write_text("from gypsumkit.quiz.notes import Note, Objective\n" + content)
    monkeypatch.syspath_prepend(tmp_path)
    module = __import__(package.name)
    assert isinstance(module, types.ModuleType)
    with pytest.raises(Problem, match=says):
        Bank(module).notes("03")


def test_the_course_bank_is_asked_by_plain_functions():
    assert course_bank.lessons() == course_bank.the_bank().lessons()
    with pytest.raises(AttributeError):
        course_bank.nothing_of_this_name
