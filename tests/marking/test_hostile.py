"""The hostile corpus: all is reported, the computer is untouched, and the marks of the other papers are what they are without it."""

import hashlib
import os
import socket
import stat
import sys
import threading
from pathlib import Path

import pytest

import gypsumkit
from gypsumkit.marking.isolation import Limits, isolation_here
from gypsumkit.marking.run import KINDS, mark_folder
from gypsumkit.marking.marks import Marks
from gypsumkit.marking.task_bank import find_task
from tests.marking import hostile
from tests.marking.examination import answered, examination, hand_in, tasks_in_code, tasks_with

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the corpus has pipes and links")

LIMITS = Limits(cpu_s=1, wall_s=3.0, memory_bytes=400_000_000)
HONEST = [str(1000 + place) for place in range(10)]


def pictured(*folders):
    """Return every path below folders with its kind, mode, time and content."""
    found = {}
    for folder in folders:
        for path in sorted(Path(folder).rglob("*")):
            about = path.lstat()
            content = hashlib.sha256(path.read_bytes()).hexdigest() if stat.S_ISREG(about.st_mode) and "__pycache__" not in path.parts else ""
            if "__pycache__" not in path.parts:
                found[str(path)] = (about.st_mode, about.st_mtime_ns if content else 0, content)
    return found


class Listener:
    """A socket that counts who calls."""

    def __init__(self):
        self.calls, self.socket = 0, socket.create_server(("127.0.0.1", 0))
        self.port = self.socket.getsockname()[1]
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self):
        while True:
            try:
                self.socket.accept()[0].close()
            except OSError:
                return
            self.calls += 1


class Corpus:
    """The corpus marked once, beside the honest papers marked alone."""

    def __init__(self, base):
        self.folder, self.canary = base / "exam", base / "canary"
        self.canary.mkdir()
        for name in ("a.txt", "b.txt"):
            (self.canary / name).write_text(name, encoding="ascii")
        numbers, self.of = iter(range(2000, 3000)), {}
        for table in (hostile.CODE, hostile.TEXT, hostile.PAPER):
            self.of.update({name: str(next(numbers)) for name in table})
        plain = tasks_with("number", most=3)
        self.task_ids = [*plain, tasks_in_code()[0]]
        self.code_key = (4, next(label for label, part in zip("abcdefgh", find_task(self.task_ids[3]).parts) if part.kind == "code"))
        self.spare = "1900"
        self.scheme = examination(self.folder, [*HONEST, self.spare, *self.of.values()], self.task_ids)
        for place, number in enumerate(HONEST):
            hand_in(self.folder, f"{number}.ipynb", answered(self.folder, self.scheme, number, {(1, "a"): "1 mL"} if place % 2 else {}))
        self.alone = mark_folder(self.folder, limits=LIMITS)
        self.listener = Listener()
        self._hand_in_the_corpus()
        self.watched = (self.canary, self.folder / "private", self.folder / "papers", Path(gypsumkit.__file__).parent)
        before = pictured(*self.watched, self.folder / "returned")
        self.marks = mark_folder(self.folder, limits=LIMITS)
        after = pictured(*self.watched, self.folder / "returned")
        self.changed = {path for path in after.keys() | before.keys() if after.get(path) != before.get(path)}

    def _hand_in_the_corpus(self):
        words = {"canary": str(self.canary), "scheme": str(self.folder / "private" / "scheme.json"), "papers": str(self.folder / "papers"),
                 "port": self.listener.port, "marker": os.getpid()}
        for name, code in hostile.CODE.items():
            self._paper(name, {self.code_key: hostile.ATTEMPT + code.format(**words)})
        for name, text in hostile.TEXT.items():
            self._paper(name, {(1, "a"): text})
        for name, (change, _) in hostile.PAPER.items():
            self._paper(name, {}, change)
        right = answered(self.folder, self.scheme, self.spare)
        for name, (made, _) in hostile.FILES.items():
            hand_in(self.folder, f"file {name}.ipynb", made(right))
        hostile.huge(self.folder / "returned" / "file huge.ipynb")
        self.odd = hostile.odd_places(self.folder / "returned")
        self.archives = hostile.archives(right)
        for name, (content, _, _) in self.archives.items():
            hand_in(self.folder, name, content)

    def _paper(self, name, wrong, change=None):
        number = self.of[name]
        hand_in(self.folder, f"{number}.ipynb", answered(self.folder, self.scheme, number, wrong, change))

    def kinds_of(self, file):
        return {one.kind for one in self.marks.findings if one.file == file}

    def row(self, name, key):
        return next(row for row in self.marks.by_candidate[self.of[name]] if (row.task_number, row.label) == key)


@pytest.fixture(scope="module")
def corpus(tmp_path_factory):
    corpus = Corpus(tmp_path_factory.mktemp("hostile"))
    yield corpus
    corpus.listener.socket.close()


def test_there_are_many_kinds():
    kinds = [*hostile.CODE, *hostile.TEXT, *hostile.PAPER, *hostile.FILES]
    assert len(set(kinds)) >= 60


def test_the_computer_is_untouched(corpus):
    assert corpus.changed == set()
    assert corpus.listener.calls == 0


def test_the_marks_of_the_others_are_unchanged(corpus):
    assert len(corpus.alone.rows) > 0 and {row.marks == row.out_of for row in corpus.alone.rows} == {True, False}
    theirs = [row for row in corpus.marks.rows if row.candidate_number in HONEST]
    assert theirs == list(corpus.alone.rows)


def test_every_candidate_who_handed_something_in_is_in_the_list(corpus):
    assert set(corpus.marks.candidates) >= {*HONEST, *corpus.of.values()} - {corpus.of["impostor"]}


@pytest.mark.parametrize("name", hostile.CODE)
def test_code_gets_nothing_and_is_reported(corpus, name):
    row = corpus.row(name, corpus.code_key)
    assert not row.answer.startswith("GOT") and "GOT" not in row.why
    assert row.marks is None or row.marks == 0
    assert len(row.why) > 20 and row.why.isprintable()
    if not isolation_here().possible:
        assert row.marks is None and "not run" in row.why


@pytest.mark.parametrize("name", hostile.TEXT)
def test_text_is_read_as_text(corpus, name):
    row = corpus.row(name, (1, "a"))
    assert row.marks == 0 or row.marks is None or name in ("signs nobody sees",)
    assert len(row.why) > 10
    others = [one for one in corpus.marks.by_candidate[corpus.of[name]] if one.task_number in (2, 3)]
    assert others and all(one.marks == one.out_of for one in others)


@pytest.mark.parametrize("name", hostile.PAPER)
def test_a_paper_that_was_changed_is_reported(corpus, name):
    assert hostile.PAPER[name][1] in corpus.kinds_of(f"{corpus.of[name]}.ipynb")


@pytest.mark.parametrize("name", hostile.FILES)
def test_a_file_that_is_no_paper_is_reported(corpus, name):
    assert hostile.FILES[name][1] in corpus.kinds_of(f"file {name}.ipynb")


def test_a_cell_of_100_mb_is_reported(corpus):
    assert corpus.kinds_of("file huge.ipynb") == {"too large"}


def test_what_is_no_file_is_reported(corpus):
    assert {name: kind for name, kind in corpus.odd.items() if kind not in corpus.kinds_of(name)} == {}


def test_archives_are_reported(corpus):
    for name, (_, member, kinds) in corpus.archives.items():
        found = corpus.kinds_of(f"{name}/{member}" if member else name)
        assert found & set(kinds.split("|")), (name, found)


def test_the_tables_hold_no_cell_that_runs(corpus):
    import csv
    for table in (corpus.marks.marks_csv(), corpus.marks.findings_csv()):
        for row in csv.reader(table.decode("utf-8-sig").splitlines(keepends=True)):
            for cell in row:
                assert not cell.lstrip().startswith(("=", "@", "+")) and "\x1b" not in cell and "\u202e" not in cell and "\x00" not in cell


def test_the_tables_read_again(corpus, tmp_path):
    corpus.marks.save(tmp_path)
    again = Marks.load(tmp_path)
    assert len(again.rows) == len(corpus.marks.rows) and again.marks_csv() == corpus.marks.marks_csv()


def test_every_kind_of_finding_is_explained(corpus):
    assert {one.kind for one in corpus.marks.findings} <= set(KINDS)
    assert all(one.sentence.endswith((".", "”")) and one.sentence.isprintable() and one.file.isprintable() for one in corpus.marks.findings)
