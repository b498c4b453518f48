"""What the reader writes is kept as it is written; the model explanation comes after."""

import errno
import os

import pytest

from gypsumkit.live.bench_view import BenchView
from gypsumkit.live.note_view import NoteView
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.problems import Problem
from gypsumkit.quiz.progress import Progress

NOTE = Note("L02-N1", "Why is a runny mix <weak>?", "Its surplus water leaves <pores>.")


def test_text_is_kept_as_it_is_written_and_comes_back(tmp_path):
    view = NoteView(NOTE, Progress(tmp_path))
    for text in ("P", "Po", "Pores & <b>more</b>\nsecond line"):
        view.field.value = text
        assert Progress(tmp_path).note("L02-N1") == text
    again = NoteView(NOTE, Progress(tmp_path))
    assert again.field.value == "Pores & <b>more</b>\nsecond line"
    assert "You wrote: Pores & <b>more</b>" in again.words() and "Model explanation" not in again.words()


def test_the_model_explanation_comes_only_after_writing():
    view = NoteView(NOTE)
    for nothing in ("", "   \n "):
        view.field.value = nothing
        view.button.click()
        assert "First write your own explanation" in view.message.value and view.model.value == ""
    view.field.value = "Because of pores."
    view.button.click()
    assert "&lt;pores&gt;" in view.model.value and view.message.value == ""
    assert view.words().endswith("Model explanation: Its surplus water leaves <pores>.")


def test_answer_writes_and_shows():
    view = NoteView(NOTE)
    assert repr(view.answer("")).startswith("Message: First write") and repr(view.answer("x")).startswith("Message: First write")
    assert repr(view.answer("It leaves pores.")) == "Model explanation: Its surplus water leaves <pores>."


def test_a_full_disk_is_said_and_the_text_stays(tmp_path, monkeypatch):
    progress = Progress(tmp_path)
    view = NoteView(NOTE, progress)
    with monkeypatch.context() as full:
        def no_room(*_):
            raise OSError(errno.ENOSPC, "No space left on device")
        full.setattr(os, "replace", no_room)
        view.field.value = "Because"
        assert "No space left on device" in view.message.value and view.field.value == "Because"
    view.field.value = "Because of pores"
    assert view.message.value == "" and Progress(tmp_path).note("L02-N1") == "Because of pores"
    assert view.errors == []


def test_a_damaged_notes_file_is_told(tmp_path):
    (tmp_path / "notes.json").write_text("{damaged")
    assert "notes.json was damaged and is set aside" in NoteView(NOTE, Progress(tmp_path)).message.value


def test_a_bench_task_reads_in_order():
    view = BenchView(BenchTask("L02-B1", "Lift the <ring>", ("Mix.", "Pour."), ("Spread in mm",), ("Wear a mask.",)))
    assert view.words() == "Lift the <ring>\nTake care: Wear a mask.\n1. Mix.\n2. Pour.\nWrite down: Spread in mm"
    assert "Lift the &lt;ring&gt;" in view.children[0].value and view.children[0].value.count("<li>") == 4


@pytest.mark.parametrize("write", [lambda: Note("N1", "x", "y"), lambda: Objective("L02-Q1", "x"), lambda: BenchTask("L02-B1", "x", (), ("y",)), lambda: BenchTask("L02-B1", "x", ("y",), ())])
def test_what_is_written_wrongly_is_refused(write):
    with pytest.raises(Problem):
        write()
