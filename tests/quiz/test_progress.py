"""Answers and notes survive damage, full disks, two open lessons and a program that ends half-way."""

import errno
import json
import os
import subprocess
import sys
import threading

import pytest

from gypsumkit import files, kept, locking
from gypsumkit.problems import Problem
from gypsumkit.quiz.progress import Progress
from gypsumkit.quiz.questions import Marked

WRONG = Marked(False, 0.25, "Not yet. No.", "a slip", "B")
RIGHT = Marked(True, 1.0, "Correct. Yes.", None, "A")


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "work"


def on_disk(folder, name="answers.json"):
    return json.loads((folder / name).read_text(encoding="utf-8"))


def test_every_attempt_is_kept_with_its_time(folder):
    Progress(folder).record("L02-Q1", WRONG)
    Progress(folder).record("L02-Q1", RIGHT)
    Progress(folder).record("L02-P1", WRONG, committed=True)
    again = Progress(folder)
    assert [attempt["answer"] for attempt in again.attempts("L02-Q1")] == ["B", "A"]
    assert again.latest("L02-Q1")["correct"] is True
    assert again.latest("L02-P1")["committed"] is True
    assert again.latest("L02-Q9") is None
    assert on_disk(folder)["answers"]["L02-Q1"][0]["time"].startswith("20")


def test_an_empty_folder_is_left_alone_until_something_is_entered(folder):
    progress = Progress(folder)
    assert progress.all_attempts() == {} and progress.note("L02-N1") == ""
    assert not folder.exists()


def test_files_read_well(folder):
    progress = Progress(folder)
    progress.record("L02-Q1", Marked(True, 1.0, "", None, "54 mL — größer\n<b>"))
    progress.write_note("L02-N1", "Wasser macht Poren: µm, 水")
    text = (folder / "answers.json").read_text(encoding="utf-8")
    assert "größer" in text and text.count("\n") > 5
    assert "水" in (folder / "notes.json").read_text(encoding="utf-8")


def test_the_folder_of_the_course_is_the_default(monkeypatch, tmp_path):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path / "mine"))
    pytest.importorskip("gypsumkit.launch.workspace")
    Progress().record("L02-Q1", RIGHT)
    assert on_disk(tmp_path / "mine")["answers"]["L02-Q1"][0]["correct"] is True


# Damage -------------------------------------------------------------------------------------------

@pytest.mark.parametrize("damage", [b"", b"{", b"null", b"[]", b'{"answers": []}', b"\xff\xfe\x00", b'{"answers": {"L02-Q1": [', b"[" * 100_000, b"{}"])
def test_a_damaged_file_is_set_aside_whole_and_work_goes_on(folder, damage):
    folder.mkdir()
    (folder / "answers.json").write_bytes(damage)
    Progress(folder).write_note("L02-N1", "my note")
    progress = Progress(folder)
    assert progress.attempts("L02-Q1") == []
    (message,) = progress.take_messages()
    (aside,) = folder.glob("answers damaged *.json")
    assert aside.name in message and aside.read_bytes() == damage
    assert progress.take_messages() == []
    progress.record("L02-Q1", RIGHT)
    assert [attempt["answer"] for attempt in Progress(folder).attempts("L02-Q1")] == ["A"]
    assert Progress(folder).note("L02-N1") == "my note"


def test_what_can_be_read_of_a_damaged_file_is_kept(folder):
    progress = Progress(folder)
    progress.record("L02-Q1", RIGHT)
    progress.record("L02-Q2", WRONG)
    content = on_disk(folder)
    content["answers"]["L02-Q2"] = "gone"
    content["from a later course"] = 1
    (folder / "answers.json").write_text(json.dumps(content))
    again = Progress(folder)
    assert list(again.all_attempts()) == ["L02-Q1"]
    assert "The entries that could be read (1) are kept." in again.take_messages()[0]
    assert on_disk(folder) == {"answers": {"L02-Q1": content["answers"]["L02-Q1"]}, "from a later course": 1}


def test_two_damaged_files_in_one_second_are_both_kept(folder):
    folder.mkdir()
    for damage in ("one", "two", "three"):
        (folder / "answers.json").write_text(damage)
        Progress(folder).all_attempts()
    assert sorted(path.read_text() for path in folder.glob("answers damaged *.json")) == ["one", "three", "two"]


def test_a_damaged_file_that_cannot_be_moved_is_not_overwritten(folder, monkeypatch):
    folder.mkdir()
    (folder / "answers.json").write_text("{damaged")
    monkeypatch.setattr(os, "replace", failing(errno.EACCES))
    with pytest.raises(Problem, match="cannot be set aside"):
        Progress(folder).record("L02-Q1", RIGHT)
    assert (folder / "answers.json").read_text() == "{damaged"


# Disks that fail -----------------------------------------------------------------------------------

def failing(number):
    def fail(*_arguments, **_named):
        raise OSError(number, os.strerror(number))
    return fail


def fail_at(monkeypatch, where, number=errno.ENOSPC):
    if where == "write":
        def open_full(*arguments):
            file = open(*arguments)

            class Full:
                def __enter__(self): return self
                def __exit__(self, *_): file.close()
                def write(self, content):
                    file.write(content[:10])
                    raise OSError(number, os.strerror(number))
            return Full()
        monkeypatch.setattr(files, "open", open_full, raising=False)
    elif where == "new file":
        monkeypatch.setattr(files, "open", failing(number), raising=False)
    else:
        monkeypatch.setattr(os, where, failing(number))


@pytest.mark.parametrize("where", ["write", "fsync", "replace", "new file", "open"])
def test_a_failing_disk_loses_neither_the_file_nor_the_answer(folder, monkeypatch, where):
    progress = Progress(folder)
    progress.record("L02-Q1", WRONG)
    progress.write_note("L02-N1", "first")
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    with monkeypatch.context() as broken:
        fail_at(broken, where)
        with pytest.raises(Problem, match="kept in this lesson") as caught:
            progress.record("L02-Q1", RIGHT)
        assert os.strerror(errno.ENOSPC) in str(caught.value) and "\n" not in str(caught.value)
        with pytest.raises(Problem, match="kept in this lesson"):
            progress.write_note("L02-N1", "second")
        assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
        assert progress.latest("L02-Q1")["answer"] == "A"
        assert progress.note("L02-N1") == "second"
    progress.record("L02-Q2", RIGHT)
    progress.write_note("L02-N2", "third")
    assert [attempt["answer"] for attempt in Progress(folder).attempts("L02-Q1")] == ["B", "A"]
    assert Progress(folder).note("L02-N1") == "second" and Progress(folder).note("L02-N2") == "third"
    assert sorted(os.listdir(folder)) == [".answers.json.lock", ".notes.json.lock", "answers.json", "notes.json"]


def test_a_write_protected_file_is_said_and_not_replaced(folder):
    progress = Progress(folder)
    progress.record("L02-Q1", WRONG)
    before = (folder / "answers.json").read_bytes()
    (folder / "answers.json").chmod(0o444)
    with pytest.raises(Problem, match="write-protected.*kept in this lesson"):
        progress.record("L02-Q1", RIGHT)
    assert (folder / "answers.json").read_bytes() == before
    (folder / "answers.json").chmod(0o644)
    progress.record("L02-Q2", RIGHT)
    assert [attempt["answer"] for attempt in Progress(folder).attempts("L02-Q1")] == ["B", "A"]


@pytest.mark.skipif(os.name == "nt", reason="links need a right of their own there")
def test_answers_in_a_synced_folder_stay_there_even_when_they_were_damaged(folder, tmp_path):
    synced = tmp_path / "synced"
    synced.mkdir()
    folder.mkdir()
    (folder / "answers.json").symlink_to(synced / "answers.json")
    Progress(folder).record("L02-Q1", WRONG)
    assert on_disk(synced)["answers"]["L02-Q1"][0]["answer"] == "B"
    (synced / "answers.json").write_text("{damaged")
    progress = Progress(folder)
    progress.record("L02-Q1", RIGHT)
    (aside,) = synced.glob("answers damaged *.json")
    assert aside.read_text() == "{damaged" and str(aside) in progress.take_messages()[0]
    assert (folder / "answers.json").is_symlink()
    assert on_disk(synced)["answers"]["L02-Q1"][0]["answer"] == "A"


def test_a_folder_that_cannot_be_made_is_said(tmp_path):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(Problem, match="cannot be written to"):
        Progress(tmp_path / "file" / "work").record("L02-Q1", RIGHT)


def test_a_file_that_cannot_be_read_is_said_and_left(folder):
    (folder / "answers.json").mkdir(parents=True)
    with pytest.raises(Problem, match="cannot be read"):
        Progress(folder).latest("L02-Q1")
    assert (folder / "answers.json").is_dir()


# Two lessons open at once ---------------------------------------------------------------------------

def test_two_open_lessons_keep_each_others_answers(folder):
    first, second = Progress(folder), Progress(folder)
    first.record("L02-Q1", RIGHT)
    second.record("L02-Q2", WRONG)
    first.record("L02-Q2", RIGHT)
    for progress in (first, second):
        assert [attempt["answer"] for attempt in progress.attempts("L02-Q2")] == ["B", "A"]
        assert len(progress.attempts("L02-Q1")) == 1


def record_many(folder, name):
    progress = Progress(folder)
    for number in range(15):
        progress.record("L02-Q1", Marked(True, 1.0, "", None, f"{name} {number}"))


def test_many_threads_lose_nothing(folder):
    threads = [threading.Thread(target=record_many, args=(folder, name)) for name in "abcd"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(attempt["answer"] for attempt in Progress(folder).attempts("L02-Q1")) == sorted(f"{name} {n}" for name in "abcd" for n in range(15))


RECORD_MANY = """
import sys
from gypsumkit.quiz.progress import Progress
from gypsumkit.quiz.questions import Marked
progress = Progress(sys.argv[1])
for number in range(15):
    progress.record("L02-Q1", Marked(True, 1.0, "", None, f"{sys.argv[2]} {number}"))
"""


def test_two_programs_lose_nothing(folder):
    clone = __file__.rsplit("tests", 1)[0]
    programs = [subprocess.Popen([sys.executable, "-c", RECORD_MANY, str(folder), name], cwd=clone) for name in "ab"]
    assert [program.wait(60) for program in programs] == [0, 0]
    assert len(Progress(folder).attempts("L02-Q1")) == 30


def test_a_lock_held_too_long_is_said_and_the_answer_kept(folder, monkeypatch):
    monkeypatch.setattr(locking, "WAIT_FOR_LOCK_S", 0.1)
    first, second = Progress(folder), Progress(folder)
    with first._lock.held("answers.json"):
        with pytest.raises(Problem, match="check again"):
            second.record("L02-Q1", RIGHT)
    second.record("L02-Q2", RIGHT)
    assert set(Progress(folder).all_attempts()) == {"L02-Q1", "L02-Q2"}


def test_a_note_written_in_two_open_lessons_keeps_both_texts(folder):
    first, second = Progress(folder), Progress(folder)
    assert first.note("L02-N1") == second.note("L02-N1") == ""
    for text in ("f", "fi", "first"):
        first.write_note("L02-N1", text)
    for text in ("s", "se", "second"):
        second.write_note("L02-N1", text)
    entry = on_disk(folder, "notes.json")["notes"]["L02-N1"]
    assert entry["text"] == "second"
    assert [earlier["text"] for earlier in entry["earlier"]] == ["first"]


def test_text_that_no_file_can_hold_is_still_kept(folder):
    Progress(folder).write_note("L02-N1", "half a sign \ud800 here")
    assert Progress(folder).note("L02-N1") == "half a sign ? here"


def test_huge_text_is_kept(folder):
    Progress(folder).write_note("L02-N1", "x" * 2_000_000)
    assert len(Progress(folder).note("L02-N1")) == 2_000_000


def test_a_file_mended_by_another_lesson_meanwhile_is_not_set_aside(folder, monkeypatch):
    Progress(folder).record("L02-Q1", RIGHT)
    good = (folder / "answers.json").read_text()
    (folder / "answers.json").write_text("{damaged")
    real = kept.free_name

    def mended_just_now(path, *what):
        (folder / "answers.json").write_text(good)
        return real(path, *what)
    monkeypatch.setattr(kept, "free_name", mended_just_now)
    progress = Progress(folder)
    assert progress.latest("L02-Q1")["correct"] and progress.take_messages() == []
    assert not list(folder.glob("*damaged*"))
