"""Marks are the same however they are made: again, with any number of workers, on a Dask cluster, and after every kind of interruption."""

import concurrent.futures
import errno
import importlib.util
import multiprocessing
import os
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import pytest

from gypsumkit.marking import journal, one_paper, run
from gypsumkit.marking.dask import executor_at
from gypsumkit.marking.journal import Journal
from gypsumkit.marking.marks import Marks
from gypsumkit.marking.run import finish, mark_folder
from gypsumkit.marking.scheme import Scheme
from gypsumkit.marking.task_bank import find_task
from gypsumkit.problems import Problem
from tests.marking.examination import HANDED_IN, answered, blank, break_off, cell, examination, hand_in, tasks_in_code, tasks_with

CLONE = Path(__file__).resolve().parents[2]
NUMBERS = [str(1000 + place) for place in range(24)]


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """An examination of plain answers in which some are wrong, marked in this process alone."""
    folder = tmp_path_factory.mktemp("made") / "exam"
    scheme = examination(folder, NUMBERS, tasks_with("number", "choice", most=5))
    for place, number in enumerate(NUMBERS):
        hand_in(folder, f"{number}.ipynb", answered(folder, scheme, number, {(1 + place % 5, "a"): f"{place} km"} if place % 3 else {}))
    marks = mark_folder(folder, workers=1)
    return folder, scheme, marks


@pytest.fixture
def exam(made, tmp_path):
    """A copy of it in which nothing is marked yet."""
    folder, scheme, marks = made
    shutil.copytree(folder, tmp_path / "exam", ignore=lambda at, names: {"marks"} & set(names))
    return tmp_path / "exam", scheme, marks


def kinds(marks):
    return [one.kind for one in marks.findings]


def test_right_answers_have_all_marks_and_wrong_ones_a_reason(made):
    _, scheme, marks = made
    assert marks.candidates == tuple(NUMBERS) and marks.findings == ()
    assert marks.total("1000") == marks.out_of("1000") > 0 and marks.total("1001") < marks.out_of("1001")
    assert all(row.why for row in marks.rows) and {row.file for row in marks.by_candidate["1003"]} == {"1003.ipynb"}
    assert [row.task_id for row in marks.by_candidate["1000"] if row.label == "a"] == scheme.task_ids


# ---- the same marks, however

def same(marks, other):
    return marks.marks_csv() == other.marks_csv() and marks.findings_csv() == other.findings_csv()


@pytest.mark.parametrize("workers", [1, 2, 3])
def test_any_number_of_processes_gives_the_same_bytes(exam, workers):
    folder, _, marks = exam
    assert same(mark_folder(folder, workers=workers), marks)
    assert same(mark_folder(folder), marks)                             # all from the journal


def test_any_executor_will_do(exam):
    folder, _, marks = exam
    with concurrent.futures.ThreadPoolExecutor(3) as threads:
        assert same(mark_folder(folder, threads), marks)
    (folder / "marks" / journal.FILE).unlink()
    with concurrent.futures.ProcessPoolExecutor(2, mp_context=multiprocessing.get_context("spawn")) as processes:
        assert same(mark_folder(folder, processes), marks)


def test_two_workers_of_a_dask_cluster_give_the_same_bytes(exam):
    distributed = pytest.importorskip("distributed")
    folder, _, marks = exam
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as cluster:
        with executor_at(cluster.scheduler_address) as executor:
            with distributed.Client(cluster.scheduler_address) as client:
                assert len(client.scheduler_info()["workers"]) == 2
                assert len(set(client.run(os.getpid).values()) | {os.getpid()}) == 3
            assert same(mark_folder(folder, executor), marks)


def test_without_dask_or_a_scheduler_it_is_one_sentence(monkeypatch):
    if importlib.util.find_spec("distributed"):
        with pytest.raises(Problem, match="No scheduler answers at tcp://127.0.0.1:1"):
            with executor_at("tcp://127.0.0.1:1", wait_s=0.5):
                pass
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(Problem, match="needs the package distributed"):
        with executor_at("tcp://127.0.0.1:1"):
            pass


def test_dask_is_loaded_only_when_asked_for():
    code = "import sys, gypsumkit.commands.mark; print('distributed' in sys.modules, 'dask' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], cwd=CLONE, capture_output=True, text=True).stdout.strip() == "False False"


# ---- interrupted

def test_ctrl_c_keeps_what_is_done(exam):
    folder, _, marks = exam

    def stop(done, total):
        if done >= 8:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        mark_folder(folder, workers=1, progress=stop)
    assert lines_in(folder) == 8
    counted = []
    assert same(mark_folder(folder, workers=1, progress=lambda done, total: counted.append((done, total))), marks)
    assert counted[0] == (8, 24) and counted[-1] == (24, 24)


def lines_in(folder):
    return (folder / "marks" / journal.FILE).read_bytes().count(b"\n")


SLOWLY = ("import sys, time, gypsumkit.marking.run as run\n"
          "keep = run.Journal.add\n"
          "def slowly(journal, results):\n    keep(journal, results)\n    time.sleep(0.5)\n"
          "run.Journal.add = slowly\n"
          "if __name__ == '__main__':\n    run.mark_folder(sys.argv[1], workers=2)\n")


@pytest.mark.parametrize("how", ["SIGKILL", "SIGINT", "SIGTERM"])
@pytest.mark.skipif(os.name == "nt", reason="the signals are those of Unix")
def test_killed_at_once_it_goes_on_and_leaves_no_worker_behind(exam, tmp_path, how):
    folder, _, marks = exam
    (tmp_path / "slowly.py").write_text(SLOWLY, encoding="ascii")
    running = subprocess.Popen([sys.executable, str(tmp_path / "slowly.py"), str(folder)], env={**os.environ, "PYTHONPATH": str(CLONE)},
                               start_new_session=True, stderr=subprocess.DEVNULL)
    until = time.monotonic() + 60
    while time.monotonic() < until and not ((folder / "marks" / journal.FILE).exists() and lines_in(folder)):
        time.sleep(0.02)
    time.sleep(0.2)                                    # its first results are safely down
    os.kill(running.pid, getattr(signal, how))
    running.wait(60)
    assert 0 < lines_in(folder) < 24
    until = time.monotonic() + 20
    while time.monotonic() < until and _of_group(running.pid):
        time.sleep(0.1)
    assert not _of_group(running.pid)
    assert same(mark_folder(folder), marks)


def _of_group(group):
    try:
        os.killpg(group, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.mark.parametrize("spoil", [
    lambda content: content[:-30],                                              # torn in the last line
    lambda content: content[:len(content) // 2] + b"\x00" * 500,
    lambda content: content.replace(b'"a"', b'"b"', 1),                         # one changed sign
    lambda content: b"",
    lambda content: b"no journal\n" + content,
])
def test_a_torn_journal_costs_only_time(exam, spoil):
    folder, _, marks = exam
    mark_folder(folder, workers=1)
    path = folder / "marks" / journal.FILE
    whole = path.read_bytes()
    path.write_bytes(spoil(whole))
    assert same(mark_folder(folder, workers=1), marks)
    assert sorted(path.read_bytes().splitlines()) == sorted(whole.splitlines())


@pytest.mark.parametrize("share", [0, 1e-4, 0.3, 0.99])
def test_a_full_disk_is_one_sentence_and_nothing_done_is_lost(made, exam, share, monkeypatch):
    folder, _, marks = exam
    left, really = [int(share * (made[0] / "marks" / journal.FILE).stat().st_size)], os.write

    def write(file, content):
        if not left[0]:
            raise OSError(errno.ENOSPC, "No space left on device")
        written = really(file, content[:left[0]])
        left[0] -= written
        return written

    monkeypatch.setattr(journal.os, "write", write)
    with pytest.raises(Problem, match="The disk is full"):
        mark_folder(folder, workers=1)
    monkeypatch.undo()
    assert (folder / "marks" / journal.FILE).read_bytes()[-1:] in (b"\n", b"")
    assert same(mark_folder(folder, workers=1), marks)


def test_a_full_disk_leaves_the_old_marks_whole(exam, monkeypatch):
    folder, _, marks = exam
    finish(mark_folder(folder, workers=1), folder)
    old = (folder / "marks" / "marks.csv").read_bytes()

    def full(file):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("gypsumkit.files.os.fsync", full)
    with pytest.raises(Problem, match="The disk is full"):
        finish(Marks(), folder)
    monkeypatch.undo()
    assert (folder / "marks" / "marks.csv").read_bytes() == old and not list((folder / "marks").glob(".writing*"))


def test_what_another_version_marked_is_marked_again(exam, monkeypatch):
    folder, _, marks = exam
    mark_folder(folder, workers=1)
    monkeypatch.setattr(run, "_program", lambda: "another")
    counted = []
    assert same(mark_folder(folder, workers=1, progress=lambda done, total: counted.append(done)), marks)
    assert counted[0] == 0 and lines_in(folder) == 24                    # the unused results are gone


def test_two_markings_at_once_are_refused(exam, monkeypatch):
    folder, _, _ = exam
    monkeypatch.setattr("gypsumkit.locking.WAIT_FOR_LOCK_S", 0.1)
    with run._alone(folder / "marks"), pytest.raises(Problem, match="being marked already"):
        mark_folder(folder)


def test_a_paper_that_takes_its_worker_with_it_waits_for_an_assessor(exam, monkeypatch):
    folder, scheme, marks = exam
    hand_in(folder, "1005.ipynb", answered(folder, scheme, "1005", {(1, "a"): "4 km"}))
    monkeypatch.setattr(run, "mark_papers", break_off)
    found = mark_folder(folder, workers=2)
    assert {row.marks for row in found.by_candidate["1005"]} == {None} and kinds(found) == ["not marked"]
    assert found.out_of("1005") == marks.out_of("1005")
    assert [row for row in found.rows if row.candidate_number != "1005"] == [row for row in marks.rows if row.candidate_number != "1005"]


def test_a_task_that_cannot_be_marked_waits_for_an_assessor(exam, monkeypatch):
    from gypsumkit.marking.tasks import DrawnTask
    folder, scheme, marks = exam
    right = DrawnTask.mark

    def mark(self, answers, by_hand=None):
        if self.task_id == scheme.task_ids[1]:
            raise ZeroDivisionError
        return right(self, answers, by_hand)

    monkeypatch.setattr(DrawnTask, "mark", mark)
    found = mark_folder(folder, workers=1)
    assert {row.marks for row in found.rows if row.task_number == 2} == {None} and kinds(found) == ["not marked"] * 24
    assert [row for row in found.rows if row.task_number != 2] == [row for row in marks.rows if row.task_number != 2]


def test_a_key_that_changed_is_refused(exam):
    folder, scheme, _ = exam
    changed = Scheme.load(folder)
    changed.papers["1003"][0][2]["a"] = "1 mL"
    changed.save(folder)
    with pytest.raises(Problem, match="the one in the mark scheme is “1 mL”"):
        mark_folder(folder, workers=1)


# ---- which papers count

def test_the_newest_return_counts_and_all_are_said(exam):
    folder, scheme, marks = exam
    hand_in(folder, "1000 again.ipynb", answered(folder, scheme, "1000", {(1, "a"): "1 km"}), HANDED_IN + 60)
    hand_in(folder, "1000 old.ipynb", answered(folder, scheme, "1000", {(2, "a"): "1 km"}), HANDED_IN - 60)
    found = mark_folder(folder, workers=1)
    assert {row.file for row in found.by_candidate["1000"]} == {"1000 again.ipynb"} and found.total("1000") < marks.total("1000")
    assert [(one.kind, one.file) for one in found.findings] == [("two returns", "1000 old.ipynb"), ("two returns", "1000.ipynb")]
    assert "1000 again.ipynb (2027-03-05 15:01:00)" in found.findings[0].sentence and (folder / "returned" / "1000 old.ipynb").exists()


def test_a_newer_paper_with_the_questions_of_another_does_not_take_the_place(exam):
    folder, scheme, marks = exam
    forged = answered(folder, scheme, "1001").replace(b"Candidate number: 1001", b"Candidate number: 1000")
    hand_in(folder, "zzz.ipynb", forged, HANDED_IN + 600)
    found = mark_folder(folder, workers=1)
    assert found.total("1000") == marks.total("1000") and sorted(kinds(found)) == ["another paper", "two returns"]


def test_late_is_said_as_the_time_of_the_file(exam):
    folder, scheme, marks = exam
    hand_in(folder, "1002.ipynb", (folder / "returned" / "1002.ipynb").read_bytes(), HANDED_IN + 3700)
    found = mark_folder(folder, workers=1)
    assert kinds(found) == ["late"] and "2027-03-05 16:01, after 2027-03-05 16:00" in found.findings[0].sentence and found.rows == marks.rows


def test_who_returned_nothing_and_who_wrote_nothing(exam):
    folder, scheme, _ = exam
    (folder / "returned" / "1004.ipynb").unlink()
    hand_in(folder, "1005.ipynb", (folder / "papers" / "1005.ipynb").read_bytes())
    found = mark_folder(folder, workers=1)
    assert [(one.candidate_number, one.kind) for one in found.findings] == [("1004", "not returned"), ("1005", "no answers")]
    assert "1004" not in found.candidates and found.total("1005") == 0


def test_an_archive_gives_the_same_marks(exam, tmp_path):
    folder, _, marks = exam
    with zipfile.ZipFile(tmp_path / "class.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted((folder / "returned").iterdir()):
            archive.writestr(zipfile.ZipInfo(path.name, (2027, 3, 5, 15, 0, 0)), path.read_bytes())
    assert same(mark_folder(folder, place=tmp_path / "class.zip", workers=1), marks)


def test_answers_of_another_paper_are_reported_and_change_no_mark(exam):
    folder, scheme, marks = exam
    theirs = {(place, label): key for place, (_, _, _, keys) in enumerate(scheme.entries("1006"), start=1) for label, key in keys.items()}
    hand_in(folder, "1009.ipynb", answered(folder, scheme, "1009", theirs))
    found = mark_folder(folder, workers=1)
    (said,) = [one for one in found.findings if one.kind == "another paper's numbers"]
    assert said.candidate_number == "1009" and "right ones of candidate 1006" in said.sentence and "changes no mark" in said.sentence
    assert [row for row in found.rows if row.candidate_number != "1009"] == [row for row in marks.rows if row.candidate_number != "1009"]


# ---- code

@pytest.fixture
def with_code(tmp_path):
    folder = tmp_path / "exam"
    scheme = examination(folder, ["1", "2"], [*tasks_with("number", most=1), *tasks_in_code()[:1]])
    hand_in(folder, "1.ipynb", answered(folder, scheme, "1"))
    return folder, scheme


@pytest.mark.parametrize("name, content", [("1002.ipynb", b'{"cells": ['), ("1002-final (2).ipynb", b""), ("1002.docx", b"PK\x03\x04")])
def test_a_candidate_whose_file_cannot_be_read_is_not_called_not_returned(tmp_path, name, content):
    scheme = examination(tmp_path, ["1001", "1002"], ["T02-2"])
    hand_in(tmp_path, "1001.ipynb", answered(tmp_path, scheme, "1001"))
    (tmp_path / "returned" / name).write_bytes(content)
    kinds = {one.kind for one in mark_folder(tmp_path, workers=1).findings if one.candidate_number == "1002"}
    assert "not readable" in kinds and "not returned" not in kinds and len(kinds) == 2


def test_code_is_run_where_it_can_be_shut_in(with_code):
    folder, scheme = with_code
    label = next(label for label, part in zip("abcdefgh", find_task(scheme.task_ids[1]).parts) if part.kind == "code")
    hand_in(folder, "2.ipynb", answered(folder, scheme, "2", {(2, label): f"open({str(folder / 'private' / 'scheme.json')!r}).read()"}))
    marks = mark_folder(folder)
    rows = {row.candidate_number: row for row in marks.rows if (row.task_number, row.label) == (2, label)}
    assert rows["2"].marks is None and rows["2"].by_hand
    if run.isolation_here().possible:
        assert rows["1"].marks == rows["1"].out_of and "answer = " in rows["1"].answer and "No such file" in rows["2"].why


@pytest.mark.parametrize("why", ["asked", "no room", "in the way"])
def test_code_that_is_not_run_is_listed_for_marking_by_hand(with_code, why, monkeypatch):
    folder, scheme = with_code
    if why == "no room":
        monkeypatch.setattr(run, "isolation_here", lambda: run.isolation_here.__class__ and type("Here", (), {"possible": False, "reason": "No room here."})())
    if why == "in the way":
        monkeypatch.setattr(run, "is_shown", lambda folder: True)
    monkeypatch.setattr(one_paper, "run_code", lambda *given: pytest.fail("it was run"))
    marks = mark_folder(folder, run_code=False if why == "asked" else None)
    (row,) = [row for row in marks.rows if row.candidate_number == "1" and row.chosen == "by hand"]
    assert row.marks is None and row.by_hand and "not run" in row.why and "answer = " in row.answer
    (said,) = [one for one in marks.findings if one.kind == "code by hand"]
    assert said.sentence.startswith("1 code answer(s) were not run")


def test_a_journal_reads_what_it_wrote(tmp_path):
    first = Journal(tmp_path)
    first.add([("a", [[1, "ö\ud800"], []]), ("b", [])])
    first.close()
    again = Journal(tmp_path)
    assert again.results == {"a": [[1, "ö\ud800"], []], "b": []}
    again.keep_only(["b"])
    again.close()
    assert Journal(tmp_path).results == {"b": []}


def test_a_blank_paper_has_a_cell_for_every_key(made):
    folder, scheme, _ = made
    paper = blank(folder, "1000")
    assert all(cell(paper, f"answer-{place}-{label}") for place, (_, _, _, keys) in enumerate(scheme.entries("1000"), start=1) for label in keys)
