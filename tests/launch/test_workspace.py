"""The student's copies: renewed when they are the course's, kept when they are the student's."""

import datetime
import errno
import os
from pathlib import Path

import pytest

from gypsumkit.launch import files, workspace
from gypsumkit.launch.notebooks import WIDGET_VIEW
from gypsumkit.launch.workspace import RECORD, chosen_work_folder, lay_lessons, work_folder
from gypsumkit.problems import Problem
from tests.launch.conftest import notebook

TODAY = datetime.date(2026, 3, 9)
WATER = "02_water.ipynb"
SECOND = notebook("# Water, second version", "code:2 + 2")
THIRD = notebook("# Water, third version", "code:3 + 3")
EDITED = notebook("# Water", "code:1 + 1  # what if?")


@pytest.fixture
def work(tmp_path):
    return tmp_path / "work"


def names(work):
    return sorted(path.name for path in (work / "lessons").iterdir())


def test_work_folder_is_what_the_variable_names(monkeypatch, tmp_path):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path / "mine"))
    assert work_folder() == tmp_path / "mine"
    monkeypatch.setenv("GYPSUMKIT_WORK", "")
    assert work_folder() == Path.home() / "gypsumkit-work"


def test_first_time_all_lessons_are_laid(course, work):
    assert lay_lessons(course, work, TODAY) == []
    for shipped in course.lessons.iterdir():
        assert (work / "lessons" / shipped.name).read_bytes() == shipped.read_bytes()


def test_an_untouched_copy_is_renewed(course, work):
    lay_lessons(course, work, TODAY)
    (course.lessons / WATER).write_bytes(SECOND)
    assert lay_lessons(course, work, TODAY) == []
    assert (work / "lessons" / WATER).read_bytes() == SECOND
    assert names(work) == ["00_start_here.ipynb", WATER]


def test_a_copy_that_only_ran_is_renewed(course, work):
    lay_lessons(course, work, TODAY)
    ran = [{"output_type": "execute_result", "data": {"text/plain": "2", WIDGET_VIEW: {"model_id": "1"}}, "metadata": {},
            "execution_count": 1}]
    (work / "lessons" / WATER).write_bytes(notebook("# Water", "code:1 + 1", outputs=ran))
    (course.lessons / WATER).write_bytes(SECOND)
    assert lay_lessons(course, work, TODAY) == []
    assert (work / "lessons" / WATER).read_bytes() == SECOND


def test_an_edited_copy_stays_while_the_lesson_is_the_same(course, work):
    lay_lessons(course, work, TODAY)
    (work / "lessons" / WATER).write_bytes(EDITED)
    for _ in range(2):
        assert lay_lessons(course, work, TODAY) == []
        assert (work / "lessons" / WATER).read_bytes() == EDITED
    assert names(work) == ["00_start_here.ipynb", WATER]


def test_an_edited_copy_loses_only_its_stale_views(course, work):
    lay_lessons(course, work, TODAY)
    view = [{"output_type": "display_data", "data": {"text/plain": "words", WIDGET_VIEW: {"model_id": "1"}}, "metadata": {}}]
    (work / "lessons" / WATER).write_bytes(notebook("my text", "code:1", outputs=view))
    lay_lessons(course, work, TODAY)
    kept = (work / "lessons" / WATER).read_text(encoding="utf-8")
    assert WIDGET_VIEW not in kept and "my text" in kept and "words" in kept


def test_an_edited_copy_moves_aside_for_a_newer_lesson(course, work):
    lay_lessons(course, work, TODAY)
    (work / "lessons" / WATER).write_bytes(EDITED)
    (course.lessons / WATER).write_bytes(SECOND)
    said = lay_lessons(course, work, TODAY)
    assert len(said) == 1 and "02_water-yours-2026-03-09.ipynb" in said[0]
    assert (work / "lessons" / "02_water-yours-2026-03-09.ipynb").read_bytes() == EDITED
    assert (work / "lessons" / WATER).read_bytes() == SECOND


def test_two_edited_copies_of_one_day_are_both_kept(course, work):
    lay_lessons(course, work, TODAY)
    for newest in (SECOND, THIRD):
        (work / "lessons" / WATER).write_bytes(EDITED)
        (course.lessons / WATER).write_bytes(newest)
        lay_lessons(course, work, TODAY)
    assert names(work) == ["00_start_here.ipynb", "02_water-yours-2026-03-09-2.ipynb", "02_water-yours-2026-03-09.ipynb", WATER]


def test_a_copy_from_two_versions_ago_is_renewed(course, work):
    lay_lessons(course, work, TODAY)
    old = (work / "lessons" / WATER).read_bytes()
    for newest in (SECOND, THIRD):
        (course.lessons / WATER).write_bytes(newest)
        lay_lessons(course, work, TODAY)
    (work / "lessons" / WATER).write_bytes(old)
    assert lay_lessons(course, work, TODAY) == []
    assert (work / "lessons" / WATER).read_bytes() == THIRD


@pytest.mark.parametrize("record", [None, b"{", b"[]", b'{"02_water.ipynb": 3}'])
def test_without_its_record_an_unknown_copy_is_kept(course, work, record):
    lay_lessons(course, work, TODAY)
    (work / "lessons" / WATER).write_bytes(EDITED)
    (work / RECORD).unlink()
    if record is not None:
        (work / RECORD).write_bytes(record)
    assert len(lay_lessons(course, work, TODAY)) == 1
    assert (work / "lessons" / "02_water-yours-2026-03-09.ipynb").read_bytes() == EDITED


def test_a_damaged_copy_is_set_aside(course, work):
    lay_lessons(course, work, TODAY)
    torn = (work / "lessons" / WATER).read_bytes()[:40]
    (work / "lessons" / WATER).write_bytes(torn)
    said = lay_lessons(course, work, TODAY)
    assert len(said) == 1 and "could not be read" in said[0]
    assert (work / "lessons" / "02_water-damaged-2026-03-09.ipynb").read_bytes() == torn
    assert (work / "lessons" / WATER).read_bytes() == (course.lessons / WATER).read_bytes()


def test_answers_notes_and_bench_data_are_not_touched(course, work):
    (work / "bench").mkdir(parents=True)
    own = {work / "answers.json": b'{"L02-Q1": "x"}', work / "notes.json": b"{torn", work / "bench" / "ring.csv": b"1,2\r\n"}
    for path, content in own.items():
        path.write_bytes(content)
        os.utime(path, (1e9, 1e9))
    lay_lessons(course, work, TODAY)
    (course.lessons / WATER).write_bytes(SECOND)
    lay_lessons(course, work, TODAY)
    assert {path: path.read_bytes() for path in own} == own
    assert all(path.stat().st_mtime == 1e9 for path in own)


def test_a_course_without_lessons_is_no_trouble(course, work):
    for lesson in course.lessons.iterdir():
        lesson.unlink()
    course.lessons.rmdir()
    assert lay_lessons(course, work, TODAY) == []


def test_a_full_disk_is_said_and_the_copy_survives(course, work, monkeypatch):
    lay_lessons(course, work, TODAY)
    before = (work / "lessons" / WATER).read_bytes()
    (course.lessons / WATER).write_bytes(SECOND)

    def full(descriptor):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(files.os, "fsync", full)
    with pytest.raises(Problem, match="disk is full"):
        lay_lessons(course, work, TODAY)
    assert (work / "lessons" / WATER).read_bytes() == before
    assert names(work) == ["00_start_here.ipynb", WATER]


def test_a_work_folder_that_may_not_be_written_is_said(course, work, monkeypatch):
    def refused(path, content):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))

    monkeypatch.setattr(workspace, "write_whole", refused)
    with pytest.raises(Problem, match="cannot be written.*00_start_here"):
        lay_lessons(course, work, TODAY)


def test_a_file_in_place_of_the_work_folder_is_said(course, tmp_path):
    (tmp_path / "file").write_text("mine")
    with pytest.raises(Problem, match="is a file"):
        chosen_work_folder(str(tmp_path / "file"))
    with pytest.raises(Problem, match="cannot be written"):
        lay_lessons(course, tmp_path / "file" / "inner", TODAY)
    assert (tmp_path / "file").read_text() == "mine"
