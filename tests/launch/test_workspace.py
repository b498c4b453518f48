"""The student's copies: renewed when they are the course's, kept when they are the student's."""

import datetime
import errno
import json
import os
from pathlib import Path

import pytest

from gypsumkit import files
from gypsumkit.launch import workspace
from gypsumkit.launch.notebooks import WIDGET_VIEW, fingerprint
from gypsumkit.launch.workspace import DROPPED, RECORD, chosen_work_folder, lay_lessons, work_folder
from gypsumkit.problems import Problem
from tests.launch.conftest import notebook

TODAY = datetime.date(2026, 3, 9)
WATER = "02_water.ipynb"
SECOND = notebook("# Water, second version", "code:2 + 2")
THIRD = notebook("# Water, third version", "code:3 + 3")
EDITED = notebook("# Water", "code:1 + 1  # what if?")


needs_links = pytest.mark.skipif(os.name == "nt", reason="links need a right of their own there")


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


def test_a_lesson_that_goes_back_to_an_earlier_version_is_known_once(course, work):
    first = (course.lessons / WATER).read_bytes()
    for newest in (first, SECOND, first, first):
        (course.lessons / WATER).write_bytes(newest)
        assert lay_lessons(course, work, TODAY) == []
        assert (work / "lessons" / WATER).read_bytes() == newest
    assert json.loads((work / RECORD).read_bytes())[WATER] == [fingerprint(SECOND), fingerprint(first)]
    (work / "lessons" / WATER).write_bytes(EDITED)
    assert lay_lessons(course, work, TODAY) == []
    assert (work / "lessons" / WATER).read_bytes() == EDITED


def test_of_a_dropped_lesson_an_untouched_copy_moves_out_of_sight(course, work):
    lay_lessons(course, work, TODAY)
    shipped = (course.lessons / WATER).read_bytes()
    (course.lessons / WATER).rename(course.lessons / "02_wet.ipynb")
    (sentence,) = lay_lessons(course, work, TODAY)
    aside = work / DROPPED / "02_water-as-shipped-2026-03-09.ipynb"
    assert "no longer has the lesson 02_water.ipynb" in sentence and str(aside) in sentence
    assert aside.read_bytes() == shipped
    assert names(work) == ["00_start_here.ipynb", "02_wet.ipynb"]
    assert lay_lessons(course, work, TODAY) == []


@pytest.mark.parametrize("own", [EDITED, EDITED[:40]], ids=["edited", "damaged"])
def test_of_a_dropped_lesson_a_copy_that_was_changed_stays(course, work, own):
    lay_lessons(course, work, TODAY)
    (work / "lessons" / WATER).write_bytes(own)
    (course.lessons / WATER).unlink()
    (sentence,) = lay_lessons(course, work, TODAY)
    assert "no longer has the lesson 02_water.ipynb" in sentence and "stays where it is" in sentence
    assert lay_lessons(course, work, TODAY) == []
    assert (work / "lessons" / WATER).read_bytes() == own and not (work / DROPPED).exists()


def test_the_students_own_files_are_no_dropped_lessons(course, work):
    lay_lessons(course, work, TODAY)
    (work / "lessons" / "mine.ipynb").write_bytes(SECOND)
    (work / "lessons" / WATER).unlink()
    (course.lessons / WATER).unlink()
    assert lay_lessons(course, work, TODAY) == []
    assert names(work) == ["00_start_here.ipynb", "mine.ipynb"]


NESTED = b"[" * 100_000


@pytest.mark.parametrize("record", [None, b"{", b"[]", b'{"02_water.ipynb": 3}', NESTED, b'{"a": ' + NESTED],
                         ids=["none", "torn", "list", "number", "nested", "nested entry"])
def test_without_its_record_an_unknown_copy_is_kept(course, work, record):
    lay_lessons(course, work, TODAY)
    (work / "lessons" / WATER).write_bytes(EDITED)
    (work / RECORD).unlink()
    if record is not None:
        (work / RECORD).write_bytes(record)
    assert len(lay_lessons(course, work, TODAY)) == 1
    assert (work / "lessons" / "02_water-yours-2026-03-09.ipynb").read_bytes() == EDITED


@pytest.mark.parametrize("torn", [EDITED[:40], NESTED, b'{"cells": ' + NESTED], ids=["torn", "nested", "nested cells"])
def test_a_damaged_copy_is_set_aside(course, work, torn):
    lay_lessons(course, work, TODAY)
    (work / "lessons" / WATER).write_bytes(torn)
    said = lay_lessons(course, work, TODAY)
    assert len(said) == 1 and "could not be read" in said[0]
    assert (work / "lessons" / "02_water-damaged-2026-03-09.ipynb").read_bytes() == torn
    assert (work / "lessons" / WATER).read_bytes() == (course.lessons / WATER).read_bytes()


def test_a_folder_in_place_of_a_lesson_is_set_aside(course, work):
    (work / "lessons" / WATER).mkdir(parents=True)
    (work / "lessons" / WATER / "mine.txt").write_text("kept")
    (sentence,) = lay_lessons(course, work, TODAY)
    assert "02_water-in-the-way-2026-03-09.ipynb" in sentence
    assert (work / "lessons" / "02_water-in-the-way-2026-03-09.ipynb" / "mine.txt").read_text() == "kept"
    assert (work / "lessons" / WATER).read_bytes() == (course.lessons / WATER).read_bytes()


def test_a_folder_in_place_of_the_record_is_set_aside(course, work):
    (work / RECORD / "inner").mkdir(parents=True)
    (sentence,) = lay_lessons(course, work, TODAY)
    assert ".lessons-laid-in-the-way-2026-03-09.json" in sentence
    assert (work / ".lessons-laid-in-the-way-2026-03-09.json" / "inner").is_dir() and (work / RECORD).is_file()


@needs_links
@pytest.mark.parametrize("leads_to", ["nowhere", WATER])
def test_a_link_that_leads_nowhere_in_place_of_a_lesson_is_set_aside(course, work, leads_to):
    (work / "lessons").mkdir(parents=True)
    (work / "lessons" / WATER).symlink_to(leads_to)
    assert len(lay_lessons(course, work, TODAY)) == 1
    assert (work / "lessons" / "02_water-in-the-way-2026-03-09.ipynb").is_symlink()
    assert (work / "lessons" / WATER).read_bytes() == (course.lessons / WATER).read_bytes()


@needs_links
def test_a_copy_that_lies_elsewhere_is_renewed_there(course, work, tmp_path):
    lay_lessons(course, work, TODAY)
    synced = (work / "lessons" / WATER).rename(tmp_path / "synced.ipynb")
    (work / "lessons" / WATER).symlink_to(synced)
    (course.lessons / WATER).write_bytes(SECOND)
    assert lay_lessons(course, work, TODAY) == []
    assert (work / "lessons" / WATER).is_symlink() and synced.read_bytes() == SECOND


def test_a_write_protected_copy_is_said_and_stays(course, work):
    lay_lessons(course, work, TODAY)
    copy = work / "lessons" / WATER
    before = copy.read_bytes()
    copy.chmod(0o444)
    (course.lessons / WATER).write_bytes(SECOND)
    with pytest.raises(Problem, match="02_water.ipynb is write-protected: allow writing"):
        lay_lessons(course, work, TODAY)
    assert copy.read_bytes() == before
    copy.chmod(0o644)


@pytest.mark.parametrize("content", [b"{", NESTED, None], ids=["torn", "nested", "folder"])
def test_a_lesson_of_the_course_that_cannot_be_read_is_said(course, work, content):
    (course.lessons / WATER).unlink()
    (course.lessons / WATER).mkdir() if content is None else (course.lessons / WATER).write_bytes(content)
    with pytest.raises(Problem, match="own lesson .*02_water.ipynb cannot be read: fetch the course again"):
        lay_lessons(course, work, TODAY)


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
    lay_lessons(course, work, TODAY)
    for lesson in course.lessons.iterdir():
        lesson.unlink()
    course.lessons.rmdir()
    assert lay_lessons(course, work, TODAY) == []
    assert names(work) == ["00_start_here.ipynb", WATER]


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


@pytest.mark.parametrize("named, words", [
    ("~nosuch-reader/x", "home folder in '~nosuch-reader/x' is not known"),
    ("x" * 300, "x cannot be a work folder .*: name another one"),
])
def test_a_name_that_no_folder_can_have_is_said(monkeypatch, named, words):
    with pytest.raises(Problem, match=words):
        chosen_work_folder(named)
    monkeypatch.setenv("GYPSUMKIT_WORK", named)
    with pytest.raises(Problem, match=words):
        chosen_work_folder(None)


@needs_links
@pytest.mark.parametrize("leads_to", ["nowhere", "link"])
def test_a_link_that_leads_nowhere_as_work_folder_is_said(course, tmp_path, leads_to):
    (tmp_path / "link").symlink_to(leads_to)
    with pytest.raises(Problem, match="link is a link that leads nowhere"):
        chosen_work_folder(str(tmp_path / "link"))
    with pytest.raises(Problem):
        lay_lessons(course, tmp_path / "link", TODAY)


def test_any_other_trouble_of_the_computer_is_said_too(course, work, monkeypatch):
    def broken(path, content):
        raise OSError(errno.EIO, os.strerror(errno.EIO), str(path))

    monkeypatch.setattr(workspace, "write_whole", broken)
    with pytest.raises(Problem, match="Your work folder cannot be used .*00_start_here.*{}".format(os.strerror(errno.EIO))):
        lay_lessons(course, work, TODAY)


@pytest.mark.skipif(not os.path.isdir("/proc/self"), reason="only Linux has such a folder")
def test_a_folder_that_the_computer_makes_up_is_said(course):
    with pytest.raises(Problem, match="Your work folder cannot be used .*/proc/"):
        lay_lessons(course, Path("/proc/gypsumkit-work"), TODAY)
