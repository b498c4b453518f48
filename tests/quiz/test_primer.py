"""The primer: three questions on each topic, each option explained, keys checked by hand."""

import pytest

from gypsumkit.figures.primer_scene import TABLE_ML, primer_scene
from gypsumkit.live.panels import panel_class
from gypsumkit.live.panels.primer_panel import PrimerPanel
from gypsumkit.problems import Problem
from gypsumkit.quiz.notes import Objective
from gypsumkit.quiz.primer import OBJECTIVES, QUESTIONS, TOPICS, graph_mpa, practice
from gypsumkit.quiz.progress import Progress
from gypsumkit.quiz.questions import Choice

# Worked out with a pocket calculator, apart from the code; those of the graph were read from the drawn picture.
BY_HAND = {"PR-Q1": "1.2 g/cm³", "PR-Q2": "68 g", "PR-Q3": "The lighter one has the lower density.", "PR-Q4": "45 mL", "PR-Q5": "45 mL per 100 g", "PR-Q6": "Bowl 1, with 25 mL.",
           "PR-Q7": "25 %", "PR-Q8": "60 µm", "PR-Q9": "19.2 MPa.", "PR-Q10": "18 MPa", "PR-Q11": "9 MPa", "PR-Q12": "The graph does not tell. It ends at 44 mL."}


def test_each_topic_has_three_questions_and_an_objective():
    assert list(TOPICS) == ["density", "ratio", "percent", "reading a graph"] and len(QUESTIONS) == 12
    assert all(len(practice(topic).questions) == 3 for topic in TOPICS)
    assert [practice(topic).objective for topic in TOPICS] == list(OBJECTIVES)
    assert len({question.id for question in QUESTIONS}) == 12


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda one: one.id)
def test_the_answer_by_hand_is_right_and_all_others_are_explained(question):
    assert question.mark(BY_HAND[question.id]).correct
    wrong = [marked for _, marked in question.every_answer() if not marked.correct]
    assert len(wrong) >= 2 and all(len(marked.slip) > 15 for marked in wrong)
    if isinstance(question, Choice):
        assert all(option.why for option in question.shown_options)


def test_ids_of_other_kinds_are_refused():
    for bad in ("PRX-O1", "PR-Q1", "P-O1", "PR-O"):
        with pytest.raises(Problem, match="not an id of this kind"):
            Objective(bad, "Do something.")


def test_the_graph_shows_what_is_asked_and_does_not_tell_it():
    assert not {30, 36, 40} & set(TABLE_ML)
    (picture,) = primer_scene().pictures
    curve = picture.panels[0].moving[0]
    for place in (0, 32, 64):
        assert curve.y[place] == pytest.approx(graph_mpa(curve.x[place]))
    assert all(earlier > later for earlier, later in zip(curve.y, curve.y[1:]))


def test_the_panel_is_found_by_its_name_keeps_answers_and_shows_the_graph_only_where_it_is_read(tmp_path):
    for topic in TOPICS:
        panel = panel_class("primer")(topic, progress=Progress(tmp_path))
        assert isinstance(panel, PrimerPanel) and (panel.picture_png() is not None) == (topic == "reading a graph")
        for question in practice(topic).questions:
            assert question.shown_prompt in panel.words()
            assert panel.answer(question.id, BY_HAND[question.id]).text.startswith("Correct.")
            assert Progress(tmp_path).latest(question.id)["correct"]
    with pytest.raises(Problem, match="nothing on 'volume'"):
        panel_class("primer")("volume")
