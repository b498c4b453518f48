"""The answered copies: typed answers only, none left out, every key accepted, every wrong option explained.

What the copies print is compared by nbval; here it is checked that they ask for everything and that the print says what it should.
"""

import ast
import re

import pytest

from gypsumkit.quiz import bank
from tests.lessons import make_answered
from tests.lessons.pages import ANSWERED, LESSONS, cells, name, words

every_copy = pytest.mark.parametrize("path", ANSWERED, ids=name)


def answers_in(path):
    """Return (what is answered, typed answer, stored words) for every cell that answers, in order."""
    found = []
    asked = None
    for cell in cells(path, "code"):
        for statement in ast.parse(cell.source).body:
            call = getattr(statement, "value", None)
            if not (isinstance(call, ast.Call) and isinstance(call.func, ast.Attribute)):
                continue
            owner, method = ast.unparse(call.func.value), call.func.attr
            if owner == "here":
                asked = (method, ast.literal_eval(call.args[0]) if call.args else None)
            elif owner == "block" and method == "answer":
                found.append((asked, [ast.literal_eval(argument) for argument in call.args], words(cell)))
            elif owner == "block" and method == "every_option":
                found.append((asked, "every option", words(cell)))
            elif owner == "block" and method == "compare":
                found.append((asked, "compare", words(cell)))
    return found


def number(path):
    return path.name[:2]


def test_every_lesson_of_the_bank_has_a_notebook_and_an_answered_copy():
    assert bank.lessons() == [number(path) for path in LESSONS]
    assert [path.name for path in ANSWERED] == [path.name for path in LESSONS]


@every_copy
def test_the_copy_is_what_its_lesson_and_its_answers_make(path):
    made = make_answered.answered_notebook(number(path))
    assert [(cell.id, cell.source) for cell in made.cells] == [(cell.id, cell.source) for cell in cells(path)]


@every_copy
def test_every_cell_has_run_or_nbval_would_pass_it(path):
    code = cells(path, "code")
    assert [cell.execution_count for cell in code] == list(range(1, len(code) + 1))
    assert all(words(cell) for cell in code[1:])


@every_copy
def test_nothing_is_left_out(path):
    answered = answers_in(path)
    lesson = number(path)
    typed = [(asked, value) for asked, value, _ in answered if isinstance(value, list)]
    assert [asked[1] for asked, _ in typed if asked[0] == "predict"] == [question.id for question in bank.predictions(lesson)]
    assert [asked[1] for asked, _ in typed if asked[0] == "write"] == [note.id for note in bank.notes(lesson)]
    assert [value[0] for asked, value in typed if asked[0] == "self_check"] == [question.id for question in bank.questions(lesson)]
    steps = [(asked[0], asked[1], value[0]) for asked, value in typed if asked[0] in ("faded", "exercise")]
    wanted = [(method, exercise.id, step.number) for exercise in bank.exercises(lesson)
              for method, variant in (("faded", "faded"), ("exercise", "own")) for step in exercise.case(variant).asked]
    assert sorted(steps) == sorted(wanted)
    source = "\n".join(cell.source for cell in cells(path, "code"))
    for shown in (*bank.exercises(lesson), *bank.bench_tasks(lesson)):
        assert f'here.worked("{shown.id}")' in source or f'here.bench("{shown.id}")' in source, shown.id


@every_copy
def test_every_typed_answer_is_told_correct(path):
    for asked, value, said in answers_in(path):
        if isinstance(value, list) and asked[0] in ("faded", "exercise", "self_check"):
            assert said.startswith("Correct."), (asked, value, said)
        elif isinstance(value, list) and asked[0] == "predict":
            assert said.startswith("You have committed to this prediction."), said
        elif isinstance(value, list) and asked[0] == "write":
            assert said.startswith("Model explanation: "), said
        elif value == "compare":
            assert said.startswith("Correct.") and "\nWhat happened: " in said, said


@every_copy
def test_every_option_is_printed_with_why(path):
    """One right answer a question, and every wrong one explained, as stored."""
    lesson = number(path)
    printed = [said for _, value, said in answers_in(path) if value == "every option"]
    asked = [*bank.predictions(lesson), *bank.questions(lesson),
             *(step.question for exercise in bank.exercises(lesson) for variant in ("faded", "own") for step in exercise.case(variant).asked)]
    assert "\n".join(printed).count("→ ") == sum(len(question.every_answer()) for question in asked)
    for said in printed:
        for line in said.splitlines():
            if "→ " in line:
                verdict = line.split("→ ", 1)[1]
                assert re.match(r"Correct\.|Not yet\. .{15,}", verdict), line
    assert "\n".join(printed).count("→ Correct.") == len(asked)
