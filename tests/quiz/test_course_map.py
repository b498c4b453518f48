"""The map is made from the bank: nothing is left out, and an objective that nothing asks is found."""

import csv
import dataclasses
import io

from gypsumkit.quiz import bank as course_bank
from gypsumkit.quiz.bank import Bank
from gypsumkit.quiz.course_map import HEADS, course_map, map_lines, map_sheet, not_asked, unknown_objectives
from gypsumkit.quiz.notes import Objective
from tests.quiz import demo_bank


def test_no_objective_of_the_course_is_without_something_that_asks_it():
    assert not_asked(course_map()) == []


def test_an_objective_that_nothing_asks_is_found():
    bank = Bank(demo_bank)
    lists = bank._lesson("02")
    bank._lessons["02"] = {**lists, "OBJECTIVES": (*lists["OBJECTIVES"], Objective("L02-O9", "Do what nobody asks about."))}
    assert not_asked(course_map(bank=bank)) == ["L02-O9"]


def test_nothing_names_an_objective_that_is_not_there():
    assert unknown_objectives() == []
    bank = Bank(demo_bank)
    lists = bank._lesson("02")
    bank._lessons["02"] = {**lists, "QUESTIONS": (dataclasses.replace(lists["QUESTIONS"][0], objective="L02-O7"),)}
    assert unknown_objectives(bank) == [("L02-Q1", "L02-O7")]


def test_everything_in_the_bank_stands_in_the_map():
    """Also every note and every bench task: each names an objective."""
    mapped = course_map()
    shown = {one for line in mapped for one in (*line.asked, *line.notes, *line.bench_tasks)}
    kinds = (course_bank.predictions, course_bank.questions, course_bank.exercises, course_bank.notes, course_bank.bench_tasks)
    assert shown == {item.id for kind in kinds for item in kind()}
    assert [line.objective for line in mapped] == [objective.id for objective in course_bank.objectives()]


def test_one_lesson_is_a_part_of_the_whole():
    assert [line for line in course_map() if line.lesson == "05"] == list(course_map("05"))


def test_lines_and_sheet_say_the_same():
    mapped = course_map()
    said = "\n".join(map_lines(mapped))
    rows = list(csv.reader(io.StringIO(map_sheet(mapped).decode("utf-8-sig"))))
    assert rows[0] == ["lesson", *HEADS] and len(rows) == len(mapped) + 1
    for row in rows[1:]:
        assert f"  {row[1]}  {row[2]}\n" in said + "\n" and "; ".join(f"{head}: {cell}" for head, cell in zip(HEADS[2:], row[3:])) in said
    assert said.count("Lesson ") == len(course_bank.lessons())
