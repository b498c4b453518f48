"""Right answers count however a student writes them down, and what leaves a doubt goes to the assessor: tried with answers written by hand."""

import json

import pytest

from gypsumkit.marking.task_bank import all_tasks, find_task
from gypsumkit.marking.returned import read_returned
from gypsumkit.marking.run import mark_folder
from gypsumkit.marking.tasks import NOTHING, Number, Numbers, sole_number
from tests.marking.examination import answered, cell, examination, hand_in

SLIP, BLOCK, BOWLS = find_task("T02-5").drawn(7), find_task("T04-2").drawn(7), find_task("T12-2").drawn(7)


def marked(drawn, label, answer):
    return next(one for one in drawn.mark({label: answer}) if one.label == label)


# T02-5 (b), 17.8 mL in 60 g: 29.67 mL of water per 100 g.
@pytest.mark.parametrize("answer", [
    "29.67 mL", "29.67", "29,67 mL", "29.67 mL per 100 g", "29.67 mL/100g", "0.2967 ml/g", "The answer is 29.67 mL.", "So we have 29.67 mL of water", "- 29.67 mL",
    "| 29.67 mL |", "$29.67$ mL", r"$29.67\ \mathrm{mL}$", "17.8/60*100 = 29.67 mL", "29.67 mL (since it is per 100 g)", "**29.67 mL**", "Answer: 29.67"])
def test_a_right_number_counts_however_it_is_written(answer):
    one = marked(SLIP, "b", answer)
    assert one.marks == one.out_of == 1 and not one.by_hand


@pytest.mark.parametrize("answer", ["not 29.67 mL", "29.67 mL or 50 mL", "between 29 and 29.67 mL", "29.67 ounces", "29.67 g", "more than 29.67 mL", "29.67 mL per 50 g",
                                    "in 100 g there are 29.67 mL"])
def test_what_leaves_a_doubt_earns_nothing_by_itself_and_is_looked_at(answer):
    one = marked(SLIP, "b", answer)
    assert one.marks == 0 and one.by_hand


def test_a_minus_is_no_list_and_a_wrong_number_stays_wrong():
    assert marked(SLIP, "b", "-29.67 mL").marks == 0 and marked(SLIP, "b", "40 mL").marks == 0
    said = marked(SLIP, "b", "The answer is 40 mL.")
    assert said.marks == 0 and said.by_hand and said.why.startswith("Read as 40 mL.")


def test_a_decimal_comma_before_three_digits_is_read_as_what_can_be_meant():
    assert marked(BLOCK, "c", "1,937 g/cm³").marks == 1 and marked(BLOCK, "c", "1,937 kg/m³").marks == 1
    assert marked(BLOCK, "c", "1,318 g/cm³").marks == 0


@pytest.mark.parametrize("answer, marks", [("3", 1), ("3 impressions", 1), ("3 hours", 0), ("4 impressions", 0)])
def test_things_may_be_counted_by_name(answer, marks):
    assert marked(BOWLS, "b", answer).marks == marks


def test_a_sentence_beside_the_lines_of_a_recipe_is_no_line():
    drawn = find_task("T05-2").drawn(7)
    assert marked(drawn, "a", "I would take improved stone.\n\n" + drawn.keys()["a"]).marks == 4
    assert marked(drawn, "a", "I would take improved stone.").by_hand


@pytest.mark.parametrize("task, answers", [
    ("T02-1", lambda p: {"a": "105 g", "b": f"{p.mix_g / 1.05:.5g} g", "c": f"{p.mix_g - p.mix_g / 1.05:.5g} mL"}),
    ("T01-1", lambda p: {"b": "20 g", "c": f"{p.powder_g + p.water_ml - 20} g"}),
    ("T04-2", lambda p: {"a": "200.5 g" if p.powder_g > 300 else "900 g", "b": f"{(200.5 if p.powder_g > 300 else 900) - p.powder_g * (p.per_100_ml - 18.618) / 100:.5g} g"})])
def test_another_right_way_from_an_own_wrong_value_keeps_its_marks(task, answers):
    drawn = find_task(task).drawn(7)
    given = answers(Numbers(drawn.numbers))
    last = [one for one in drawn.mark(given) if one.label in given][-1]
    assert last.followed_through and last.marks == last.out_of


def test_every_other_way_leads_to_the_key():
    ways = 0
    for task in all_tasks().values():
        for seed in range(5):
            for part in task.drawn(seed).parts:
                for way in part.asked.other_ways if isinstance(part.asked, Number) else ():
                    known = Numbers({**part.known, **{other.asked.name: other.question.value for other in task.drawn(seed).parts if isinstance(other.asked, Number)}})
                    assert way(known) == pytest.approx(part.question.value, rel=1e-3)
                    ways += 1
    assert ways >= 15


@pytest.mark.parametrize("text", ["12 g or 13 g", "not 12 g", "12-13 g", "12 ± 1 g", "", "no number", "3 of 4 casts", "1/2 g and 3 g"])
def test_no_number_is_taken_where_there_is_a_choice(text):
    assert sole_number(text) is None


@pytest.mark.parametrize("task, label, answer", [("T02-5", "b", "40 mL"), ("T02-5", "b", ""), ("T02-5", "b", "soon"), ("T05-3", "a", "wrong letter"), ("T02-4", "a", "backwards")])
def test_beside_lost_marks_stands_what_is_right(task, label, answer):
    drawn = find_task(task).drawn(7)
    part = next(one for one in drawn.parts if one.label == label)
    answer = {"wrong letter": part.slips()[0][0] if part.kind == "choice" else "", "backwards": " ".join(reversed(part.key.split()))}.get(answer, answer)
    one = marked(drawn, label, answer)
    assert one.marks < one.out_of and one.why.endswith(" ".join(part.right.split())) and part.right
    assert part.right not in marked(drawn, label, part.key).why


def test_an_answer_in_the_question_is_quoted_in_the_finding(tmp_path):
    scheme = examination(tmp_path, ["1001", "1002"], ["T02-2", "T02-1"])
    (tmp_path / "returned").mkdir(exist_ok=True)

    def change(paper):
        cell(paper, "task-1")["source"] += "\n\nI think 117 g"
        cell(paper, "answer-1-a")["source"] = "**Answer 1 (a):**"

    hand_in(tmp_path, "1001.ipynb", answered(tmp_path, scheme, "1001", change=change))
    marks = mark_folder(tmp_path, workers=1)
    (said,) = [one.sentence for one in marks.findings if one.kind == "text changed"]
    assert "There stands: “I think 117 g”." in said and "is empty and waits for an assessor: perhaps it stands in the question" in said
    waiting, *others = marks.by_candidate["1001"]
    assert waiting.marks is None and waiting.answer == "I think 117 g" and "written into the question" in waiting.why, "no 0 before somebody has looked"
    assert all(row.marks is not None for row in others)


@pytest.mark.parametrize("text", ["?", "-", "–", "...", "…", "??"])
def test_a_sign_that_stands_for_nothing_is_no_answer(text):
    (mark,) = find_task("T02-2").drawn("a").mark({"a": text})
    assert (mark.marks, mark.chosen, mark.by_hand) == (0, NOTHING, False)
    (blank,) = find_task("T02-3").drawn("a").mark({"a": f"- water in mL: {text}"})
    assert blank.chosen == NOTHING


def test_a_thin_space_of_a_formula_is_no_comma():
    drawn = find_task("T02-2").drawn("a")
    number, unit = drawn.keys()["a"].split(" ")
    (mark,) = drawn.mark({"a": f"$$x = {number}\\,\\mathrm{{{unit}}}$$"})
    assert mark.marks == mark.out_of and mark.answer.split() == [number, unit]


@pytest.mark.parametrize("source, said", [("###### **Answer 1 (a):**\n\n", ""), ("### **Answer 1 (a):**\n\n117 g", "117 g"), ("**Answer 1 (a):** 117 g", "117 g"), ("117 g", "117 g")])
def test_a_digit_typed_beside_an_answer_cell_makes_a_heading_and_no_answer(source, said):
    """JupyterLab turns a cell that is chosen but not open into a heading when a digit is typed."""
    cells = [{"cell_type": "markdown", "id": "front", "source": "Candidate number: 1001"}, {"cell_type": "markdown", "id": "answer-1-a", "source": source}]
    assert read_returned(json.dumps({"cells": cells}).encode(), "1001.ipynb").answers == {(1, "a"): said}
