"""A question on the page: nothing chosen at first, judged in words, kept, and shown again."""

import errno
import json
import os

import pytest

from gypsumkit.live.question_view import COMMITTED, NOT_ANSWERED, QuestionSet, QuestionView
from gypsumkit.problems import Problem
from gypsumkit.quiz.bank import Bank
from gypsumkit.quiz.progress import Progress
from tests.quiz import demo_bank
from tests.quiz.demo_bank.lesson_02 import LONG, ORDER, POROUS, RATIO, SEVERAL, WATER

KINDS = [WATER, RATIO, POROUS, SEVERAL, ORDER]
each_kind = pytest.mark.parametrize("question", KINDS, ids=lambda question: type(question).__name__)


@pytest.fixture
def progress(tmp_path):
    return Progress(tmp_path)


def right_answer(question):
    return next(marked.answer for _, marked in question.every_answer() if marked.correct)


def wrong_answer(question):
    return next(marked.answer for _, marked in question.every_answer() if not marked.correct)


# At first -----------------------------------------------------------------------------------------

def test_nothing_is_chosen_at_first():
    assert QuestionView(POROUS).controls.buttons.index is None
    assert not any(box.value for box in QuestionView(SEVERAL).controls.boxes)
    assert QuestionView(WATER).controls.field.value == ""
    assert all(place.value == "" for place in QuestionView(ORDER).controls.places)


@each_kind
def test_the_words_hold_the_question_but_no_verdict(question):
    words = QuestionView(question, heading="Question 1").words()
    assert words.startswith(f"Question 1. {question.shown_prompt}")
    assert words.endswith(NOT_ANSWERED)
    assert "Correct" not in words and "Not yet." not in words
    assert question.shown_explanation not in words


def test_all_options_are_in_the_words_and_none_is_cut():
    words = QuestionView(POROUS).words()
    assert LONG in words
    assert [line[:2] for line in words.split("\n")[2:6]] == ["A.", "B.", "C.", "D."]
    assert any(LONG in label for label, _ in QuestionView(POROUS).controls.buttons.options)


@each_kind
def test_checking_without_an_answer_asks_for_one_and_keeps_nothing(question, progress):
    view = QuestionView(question, progress)
    view.button.click()
    assert "yet" in view.message.value and view.feedback.value == "" and view.marked is None
    assert view.errors == [] and progress.all_attempts() == {}


# Answering ----------------------------------------------------------------------------------------

@each_kind
def test_a_wrong_answer_is_explained_and_may_be_tried_again(question, progress):
    view = QuestionView(question, progress)
    view.controls.put(wrong_answer(question))
    view.button.click()
    assert "Not yet." in view.feedback.value and "gypsumkit-not-yet" in view.feedback.value
    assert question.shown_explanation not in view.feedback_words()
    assert not view.button.disabled
    view.controls.put(right_answer(question))
    view.button.click()
    assert "Correct." in view.feedback.value and view.feedback_words().endswith(question.shown_explanation)
    assert [attempt["correct"] for attempt in progress.attempts(question.id)] == [False, True]
    assert view.errors == []


@each_kind
def test_the_answer_is_shown_again_when_the_lesson_is_opened_again(question, progress):
    QuestionView(question, progress).answer(right_answer(question))
    again = QuestionView(question, Progress(progress.folder))
    assert again.marked.correct and "Correct." in again.feedback.value
    assert question.mark(again.controls.read()).correct
    assert len(progress.attempts(question.id)) == 1
    fresh = QuestionView(question, Progress(progress.folder), restore=False)
    assert fresh.marked is None and fresh.feedback.value == ""


@each_kind
def test_every_option_says_what_each_answer_is_told(question):
    said = str(QuestionView(question).every_option())
    for answer, marked in question.every_answer():
        assert f"{answer} → {marked.feedback}" in said


@each_kind
def test_answer_gives_the_words_of_the_feedback(question):
    view = QuestionView(question)
    told = view.answer(right_answer(question))
    assert repr(told) == view.feedback_words() and repr(told).startswith("Correct.")


def test_enter_in_the_number_field_checks_it(progress):
    view = QuestionView(WATER, progress)
    view.controls.field.value = f"{WATER.value} mL"
    view.controls.field._handle_custom_msg({"event": "submit"}, [])
    assert "Correct." in view.feedback.value
    view.controls.field._handle_custom_msg({"event": "something else"}, [])
    assert len(progress.attempts("L02-Q1")) == 1


@pytest.mark.parametrize("typed, says", [("plenty", "is not a number"), ("54 g", "this answer is a volume, in mL"), ("nan", "not a number that can be measured"),
                                         ("<img src=x onerror=alert(1)>", "does not begin with its number"), ("x" * 100_000, "100000 characters long")])
def test_nonsense_gets_a_sentence_and_stays_in_the_field(progress, typed, says):
    view = QuestionView(WATER, progress)
    view.controls.field.value = typed
    view.button.click()
    assert says in view.message.value and "<img" not in view.message.value and len(view.message.value) < 500
    assert view.controls.field.value == typed
    assert view.errors == [] and progress.all_attempts() == {}
    assert repr(view.answer(typed)).startswith("Message: ")


def test_nonsense_after_a_good_answer_keeps_the_good_one_and_shows_no_old_verdict(progress):
    view = QuestionView(WATER, progress)
    view.answer(f"{WATER.value} mL")
    view.answer("nonsense")
    assert view.feedback.value == "" and view.marked is None and view.message.value
    assert progress.latest("L02-Q1")["correct"]


@pytest.mark.parametrize("answer", ["E", "<b>", None, 7, "z" * 10_000])
def test_an_option_that_is_not_there_is_a_message(answer):
    for question in (POROUS, SEVERAL, ORDER):
        assert repr(QuestionView(question).answer(answer)).startswith("Message: ")


def test_html_in_an_option_or_answer_is_shown_as_text():
    view = QuestionView(POROUS)
    assert "It sets <b>faster</b> & harder" in view.words()
    view.answer(next(option.letter for option in POROUS.shown_options if "<b>" in option.text))
    assert "<b>faster" not in view.feedback.value


# Order --------------------------------------------------------------------------------------------

def place(view, *numbers):
    for control, number in zip(view.controls.places, numbers):
        control.value = str(number)


def test_order_is_given_by_places():
    view = QuestionView(ORDER)
    place(view, *(ORDER.right_order.index(text) + 1 for text in ORDER.shown_steps))
    view.button.click()
    assert "Correct." in view.feedback.value


def test_a_missing_or_doubled_place_is_named():
    view = QuestionView(ORDER)
    place(view, 1, 2, 3, "")
    view.button.click()
    assert f"{ORDER.shown_steps[3]}” has no place yet" in view.message.value
    place(view, 1, 2, 3, 3)
    view.button.click()
    assert "both have place 3" in view.message.value and view.marked is None


@pytest.mark.parametrize("written", ["0", "5", "-1", "1.5", "first", "<b>", "9" * 1000])
def test_a_place_that_is_none_is_refused_and_stays_in_the_field(written):
    view = QuestionView(ORDER)
    place(view, 1, 2, 3, written)
    view.button.click()
    assert "is not a place: write a number from 1 to 4." in view.message.value and "<b>" not in view.message.value
    assert view.controls.places[3].value == written and view.marked is None and view.errors == []


# Files that fail ----------------------------------------------------------------------------------

def test_a_full_disk_is_said_beside_the_feedback(progress, monkeypatch):
    view = QuestionView(WATER, progress)
    with monkeypatch.context() as full:
        def no_room(*_):
            raise OSError(errno.ENOSPC, "No space left on device")
        full.setattr(os, "fsync", no_room)
        view.controls.field.value = f"{WATER.value} mL"
        view.button.click()
        assert "Correct." in view.feedback.value and "No space left on device" in view.message.value
    view.button.click()
    assert view.message.value == ""
    assert len(Progress(progress.folder).attempts("L02-Q1")) == 2


def test_a_damaged_answers_file_is_told_in_the_block(progress):
    (progress.folder / "answers.json").write_text("{damaged")
    view = QuestionView(WATER, progress)
    assert "answers.json was damaged and is set aside as" in view.message.value
    assert QuestionView(RATIO, progress).message.value == ""


def test_an_answer_to_an_earlier_wording_is_left_in_the_file(progress):
    attempt = {"time": "2026-03-01T10:00:00+01:00", "answer": "an option of last year", "correct": True, "fraction": 1.0}
    (progress.folder / "answers.json").write_text(json.dumps({"answers": {"L02-Q3": [attempt]}}))
    view = QuestionView(POROUS, progress)
    assert "has changed since you answered" in view.message.value and view.marked is None
    assert progress.attempts("L02-Q3") == [attempt]


@each_kind
@pytest.mark.parametrize("kept", [None, 7, [], {}, [None], "", {"a": 1}, [["A"]], True])
def test_a_strange_kept_answer_breaks_nothing(question, progress, kept):
    attempt = {"time": "2026-03-01T10:00:00+01:00", "answer": kept, "correct": True, "fraction": 1.0}
    (progress.folder / "answers.json").write_text(json.dumps({"answers": {question.id: [attempt]}}))
    assert QuestionView(question, progress).errors == []


# Predictions --------------------------------------------------------------------------------------

@pytest.fixture
def prediction():
    return Bank(demo_bank).question("L02-P1")


@pytest.mark.parametrize("text, verdict", [("Grow", "Correct."), ("Shrink", "Not as you predicted.")])
def test_a_prediction_is_judged_only_when_revealed(progress, prediction, text, verdict):
    view = QuestionView(prediction, progress, commit=True)
    assert view.button.description == "Commit to this prediction"
    view.controls.put(text)
    view.button.click()
    for shown in (view.feedback.value, view.words(), repr(view.answer(text))):
        assert COMMITTED in shown and f"Your prediction: {text}" in shown
        assert "Correct" not in shown and "predicted." not in shown and prediction.shown_explanation not in shown
    assert view.button.disabled and view.controls.buttons.disabled
    view.reveal("The spread grew from 80 to <95> mm.")
    assert verdict in view.feedback.value and "&lt;95&gt;" in view.feedback.value
    assert view.feedback_words() == "\n".join([prediction.mark(text).feedback.replace("Not yet.", "Not as you predicted."), f"Your prediction: {text}",
                                               "What happened: The spread grew from 80 to <95> mm.", prediction.shown_explanation])


def test_a_committed_prediction_stays_committed(progress, prediction):
    view = QuestionView(prediction, progress, commit=True)
    view.answer("Shrink")
    view.controls.put("Grow")
    view.check()
    assert [attempt["answer"] for attempt in progress.attempts("L02-P1")] == ["Shrink"]
    assert progress.latest("L02-P1")["committed"] and progress.latest("L02-P1")["time"]
    again = QuestionView(prediction, Progress(progress.folder), commit=True)
    assert again.button.disabled and "Your prediction: Shrink" in again.words()
    assert "Correct" not in again.words() and "predicted." not in again.words()


def test_nothing_is_revealed_before_a_prediction(prediction):
    view = QuestionView(prediction, commit=True)
    view.button.click()
    assert "Nothing is chosen yet" in view.message.value and not view.button.disabled
    with pytest.raises(Problem, match="First commit"):
        view.reveal("The spread grew.")


# Sets ---------------------------------------------------------------------------------------------

def test_a_set_shows_its_questions_in_order(progress):
    block = QuestionSet([WATER, POROUS], progress)
    words = block.words()
    assert words.index("Question 1. " + WATER.shown_prompt) < words.index("Question 2. " + POROUS.shown_prompt)
    assert repr(block.answer("L02-Q3", LONG)).startswith("Correct.")
    assert "Your answer: " + LONG in block.words()
    assert all(marked.feedback in str(block.every_option()) for question in (WATER, POROUS) for _, marked in question.every_answer())
    with pytest.raises(Problem, match="L02-Q9 is not among these questions: L02-Q1, L02-Q3"):
        block.answer("L02-Q9", "A")


def test_an_empty_set_says_so():
    block = QuestionSet([], nothing="No earlier lesson yet.")
    assert block.words() == "No earlier lesson yet." and "No earlier lesson yet." in block.children[0].value


def test_a_set_that_restores_nothing_still_tells_what_happened_to_the_file(progress):
    (progress.folder / "answers.json").write_text("{damaged")
    progress.all_attempts()
    block = QuestionSet([WATER], progress, restore=False)
    assert "answers.json was damaged" in block.message.value
