"""The panels of the map and of the last recall: found by name, everything escaped, the same in words."""

import html

import pytest

from gypsumkit.live.panels import panel_class
from gypsumkit.live.panels.map_panel import EVERY, MapPanel
from gypsumkit.live.panels.recall_panel import RecallPanel
from gypsumkit.problems import Problem
from gypsumkit.quiz import bank
from gypsumkit.quiz.course_map import course_map
from gypsumkit.quiz.progress import Progress
from gypsumkit.quiz.recall import LAST_PARTS, last_recall


def test_the_map_is_found_by_its_name_and_shows_every_objective():
    panel = panel_class("map")()
    assert isinstance(panel, MapPanel) and panel.errors == []
    for one in bank.objectives():
        assert html.escape(one.text) in panel.shown.value and one.text in panel.words()


def test_a_lesson_chosen_is_shown_alone():
    panel = MapPanel()
    panel.lesson.value = "05"
    assert "L05-O1" in panel.shown.value and "L04-O1" not in panel.shown.value
    assert panel.words().count("\n  L") == len(course_map("05"))
    panel.lesson.value = EVERY
    assert "L04-O1" in panel.shown.value and panel.errors == []


def test_what_stands_in_the_bank_cannot_become_a_tag(monkeypatch):
    import dataclasses
    bad = dataclasses.replace(course_map("02")[0], text="<b onclick=x>2 < 3</b>")
    monkeypatch.setattr("gypsumkit.live.panels.map_panel.course_map", lambda lesson=None: (bad,))
    panel = MapPanel()
    assert "<b onclick" not in panel.shown.value and "&lt;b onclick=x&gt;2 &lt; 3" in panel.shown.value


def test_each_part_of_the_last_recall_asks_what_is_planned_and_keeps_answers(tmp_path):
    for name, _ in LAST_PARTS:
        panel = RecallPanel(name, Progress(tmp_path))
        assert [view.question.id for view in panel.views] == [question.id for question in last_recall(name, Progress(tmp_path))]
    first = panel.views[0].question
    words = first.every_answer()[0][0]
    with pytest.raises(Problem):
        panel.answer("L00-Q99", words)
    panel.answer(first.id, first.every_answer()[0][1].answer)
    assert Progress(tmp_path).attempts(first.id)


def test_a_part_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(Problem, match="no part 7"):
        RecallPanel("7", Progress(tmp_path))
