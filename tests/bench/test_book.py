"""The reader's bench book survives damage, full disks, two open lessons and a program that ends half-way."""

import errno
import os
import subprocess
import sys

import pytest

from gypsumkit import files, locking
from gypsumkit.bench.book import BOOK_FILE, EARLIER_FILE, Book, NotSaved
from gypsumkit.bench.reading import read_file
from gypsumkit.bench.sample import sample_class
from gypsumkit.problems import Problem

ROW = {"powder": "model plaster", "powder_g": 100, "water_ml": 50, "note": "first"}


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "work"


def rows(folder):
    """What another lesson, opened now, would find: notes by number."""
    records = Book(folder).records()
    return {records["record_id"][place]: records["note"][place] for place in range(len(records))}


def test_a_row_is_saved_at_once_as_open_text_with_units_in_the_names(folder):
    book = Book(folder)
    assert len(book.records()) == 0 and not folder.exists()
    assert book.add(ROW) == "1"
    text = (folder / BOOK_FILE).read_text(encoding="utf-8-sig")
    assert text.startswith("record_id,recorded_at,") and "powder_g,water_ml" in text and "model plaster" in text
    assert Book(folder).row("1") == {**book.row("1")} and Book(folder).row("1")["powder_g"] == 100
    assert read_file(folder / BOOK_FILE).complete


def test_every_cell_comes_back_as_it_was_entered(folder):
    class_ = sample_class()
    given = [class_.row(place) for place in range(len(class_))]
    given.append({"note": "=cmd|' /C calc'!A0; -5 é\u00b5 \"x\"", "powder_g": 1 / 3 * 100, "length_change_um": -12.5})
    numbers = Book(folder).add_all(given)
    assert numbers == [str(number) for number in range(1, 74)]
    again = Book(folder).records()
    for place, row in enumerate(given):
        got = {name: value for name, value in again.row(place).items() if name not in ("record_id", "recorded_at")}
        want = {name: value for name, value in row.items() if name not in ("record_id", "recorded_at")}
        assert got == {name: pytest.approx(value, rel=1e-9) if not isinstance(value, str) else value for name, value in want.items()}


def test_what_cannot_be_measured_is_refused_and_nothing_added(folder):
    book = Book(folder)
    for row, says in (({"powder_g": -1}, "must lie between"), ({"powder_g": "much"}, "is not a number"), ({"powder_gg": 1}, "did you mean 'powder_g'"),
                      ({}, "is empty"), ({"note": "  ", "powder_g": None}, "is empty"), ({"mixing": "stirred by foot"}, "no choice"), ({"powder_g": float("inf")}, "must lie between")):
        with pytest.raises(Problem, match=says):
            book.add(row)
    assert len(book.records()) == 0 and book.unsaved == 0
    with pytest.raises(Problem, match="There is no mix No. 4 .* none yet"):
        book.remove("4")


def test_changing_and_removing_keep_what_was_there(folder):
    book = Book(folder)
    for note in ("one", "two", "three"):
        book.add({**ROW, "note": note})
    book.replace("2", {"powder_g": 90, "note": "two again"})
    book.remove(1)
    assert rows(folder) == {"2": "two again", "3": "three"}
    earlier = (folder / EARLIER_FILE).read_text(encoding="utf-8-sig").splitlines()
    assert len(earlier) == 3 and "two" in earlier[1] and earlier[1].endswith("changed") and "one" in earlier[2] and earlier[2].endswith("removed")
    assert Book(folder).add({"note": "four"}) == "4", "a number is never used twice"
    book.remove("4")
    assert Book(folder).add({"note": "five"}) == "5"


def failing(number):
    def fail(*_, **__):
        raise OSError(number, os.strerror(number))
    return fail


def fail_at(monkeypatch, where, number=errno.ENOSPC):
    """Let the disk fail at one step of saving."""
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


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO, errno.EROFS])
@pytest.mark.parametrize("where", ["write", "fsync", "replace", "new file", "open"])
def test_a_failing_disk_loses_neither_the_file_nor_the_row(folder, monkeypatch, where, number):
    book = Book(folder)
    book.add({"note": "one"})
    book.add({"note": "two"})
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    with monkeypatch.context() as broken:
        fail_at(broken, where, number)
        for change in (lambda: book.add({"note": "three"}), lambda: book.replace("1", {"note": "one again"}), lambda: book.remove("2")):
            with pytest.raises(NotSaved, match="kept in this lesson") as caught:
                change()
            assert os.strerror(number) in str(caught.value) and "\n" not in str(caught.value)
        assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
        assert list(book.records()["note"]) == ["one again", "three"] and book.unsaved == 3
    assert rows(folder) == {"1": "one", "2": "two"}
    book.add({"note": "four"})
    assert rows(folder) == {"1": "one again", "3": "three", "4": "four"} and book.unsaved == 0
    assert (folder / EARLIER_FILE).read_text(encoding="utf-8-sig").count("\n") == 3


def test_what_was_put_into_the_second_file_stands_there_once_when_the_first_fails(folder, monkeypatch):
    book = Book(folder)
    book.add({"note": "one"})
    real, calls = files.move, []

    def second_fails(old, new):
        calls.append(new)
        if len(calls) == 2:
            raise OSError(errno.ENOSPC, "No space left on device")
        return real(old, new)
    monkeypatch.setattr(files, "move", second_fails)
    with pytest.raises(NotSaved):
        book.remove("1")
    assert rows(folder) == {"1": "one"}, "what is removed is kept before it is taken away"
    book.save()
    assert rows(folder) == {} and (folder / EARLIER_FILE).read_text(encoding="utf-8-sig").count("removed") == 1


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="needs a reader who may not write everywhere")
def test_a_read_only_folder_is_said(folder):
    folder.mkdir()
    folder.chmod(0o500)
    with pytest.raises(NotSaved, match="cannot be written to"):
        Book(folder).add(ROW)
    folder.chmod(0o700)


def test_a_write_protected_file_is_said_and_stays(folder):
    book = Book(folder)
    book.add(ROW)
    (folder / BOOK_FILE).chmod(0o400)
    with pytest.raises(NotSaved, match="write-protected"):
        book.add(ROW)
    (folder / BOOK_FILE).chmod(0o600)
    book.save()
    assert len(rows(folder)) == 2


def test_two_open_lessons_lose_nothing_and_never_hit_the_wrong_row(folder):
    first, second = Book(folder), Book(folder)
    first.add({"note": "one"})
    first.add({"note": "two"})
    second.records()
    first.remove("1")
    second.replace("2", {"note": "two again"})
    assert rows(folder) == {"2": "two again"}
    first.replace("2", {"note": "two of the first"})
    assert "changed in another lesson meanwhile" in first.take_messages()[0]
    assert "two again" in (folder / EARLIER_FILE).read_text(encoding="utf-8-sig")
    with pytest.raises(Problem, match="There is no mix No. 1"):
        second.remove("1")


def test_a_number_that_another_lesson_took_meanwhile_is_given_anew_and_said(folder, monkeypatch):
    book = Book(folder)
    with monkeypatch.context() as broken:
        fail_at(broken, "replace")
        with pytest.raises(NotSaved):
            book.add({"note": "mine"})
        with pytest.raises(NotSaved):
            book.replace("1", {"note": "mine again"})
    Book(folder).add({"note": "theirs"})
    book.save()
    assert rows(folder) == {"1": "theirs", "2": "mine again"} and "new row is No. 2" in book.take_messages()[0]


ADD_MANY = """
import sys
from gypsumkit.bench.book import Book
book = Book(sys.argv[1])
for number in range(15):
    book.add({"note": f"{sys.argv[2]} {number}"})
"""


def test_two_programs_lose_nothing(folder):
    clone = __file__.rsplit("tests", 1)[0]
    programs = [subprocess.Popen([sys.executable, "-c", ADD_MANY, str(folder), name], cwd=clone) for name in "ab"]
    assert [program.wait(60) for program in programs] == [0, 0]
    found = rows(folder)
    assert sorted(found, key=int) == [str(number) for number in range(1, 31)] and len(set(found.values())) == 30


def test_a_lock_held_too_long_is_said_and_the_row_kept(folder, monkeypatch):
    monkeypatch.setattr(locking, "WAIT_FOR_LOCK_S", 0.1)
    first, second = Book(folder), Book(folder)
    with first._lock.held(BOOK_FILE):
        with pytest.raises(NotSaved, match="save again"):
            second.add({"note": "waits"})
    second.add({"note": "next"})
    assert rows(folder) == {"1": "waits", "2": "next"}


DAMAGES = {
    "cut": (lambda raw: raw[:-20], 2), "binary": (lambda raw: bytes(range(256)) * 40, 0), "empty line of junk": (lambda raw: raw + b"\xff\xfe;;\"\r\n", 2),
    "a header changed": (lambda raw: raw.replace(b"note", b"mood"), 2), "a cell that cannot be": (lambda raw: raw.replace(b",100,", b",-5,", 1), 2),
    "a number twice": (lambda raw: raw.replace(b"\n2,", b"\n1,"), 2), "no numbers": (lambda raw: raw.replace(b"\n2,", b"\n,"), 2),
    "another workbook": (lambda raw: b"PK\x03\x04" + raw, 0),
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_file_is_set_aside_and_what_is_readable_kept(folder, damage):
    Book(folder).add_all([ROW, {**ROW, "note": "second"}])
    raw = (folder / BOOK_FILE).read_bytes()
    hurt, readable = DAMAGES[damage]
    (folder / BOOK_FILE).write_bytes(hurt(raw))
    if hurt(raw) == raw[:-20] and len(Book(folder).records()) == 2 and not list(folder.glob("*damaged*")):
        return                                  # only empty cells at the end were cut: nothing is lost
    book = Book(folder)
    assert len(book.records()) == readable
    (aside,) = folder.glob("bench damaged *.csv")
    assert aside.read_bytes() == hurt(raw)
    if readable:                                # the message goes to whoever read it first
        assert read_file(folder / BOOK_FILE).complete
    book.add({"note": "third"})
    assert len(rows(folder)) == readable + 1 and len(set(rows(folder))) == readable + 1
    assert len(list(folder.glob("bench damaged *.csv"))) == 1


def test_a_damaged_file_is_said_in_one_message(folder):
    Book(folder).add(ROW)
    (folder / BOOK_FILE).write_bytes((folder / BOOK_FILE).read_bytes().replace(b",100,", b",-5,"))
    book = Book(folder)
    book.records()
    (message,) = book.take_messages()
    assert message.startswith("bench.csv could not be taken as it was and is set aside as bench damaged") and "-5" in message and "1 rows" in message


def test_a_spreadsheet_may_save_the_file_in_its_own_way(folder):
    Book(folder).add_all([ROW, {**ROW, "note": "second", "water_ml": 50.5}])
    text = (folder / BOOK_FILE).read_text(encoding="utf-8-sig")
    (folder / BOOK_FILE).write_text(text.replace(",", ";").replace("50.5", "50,5"), encoding="cp1252")
    book = Book(folder)
    assert list(book.records()["water_ml"]) == [50, 50.5] and not book.take_messages() and not list(folder.glob("*damaged*"))


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_a_link_into_another_folder_stays_a_link(folder, tmp_path):
    folder.mkdir()
    (tmp_path / "synced.csv").write_bytes(b"")
    (folder / BOOK_FILE).symlink_to(tmp_path / "synced.csv")
    Book(folder).add(ROW)
    assert (folder / BOOK_FILE).is_symlink() and b"model plaster" in (tmp_path / "synced.csv").read_bytes()


def test_a_file_that_cannot_be_read_is_said(folder):
    (folder / BOOK_FILE).mkdir(parents=True)
    with pytest.raises(Problem, match="cannot be read"):
        Book(folder).records()


def test_the_second_file_is_only_ever_added_to(folder):
    folder.mkdir()
    (folder / EARLIER_FILE).write_bytes(b"something of the reader's own, \xff damaged")
    book = Book(folder)
    book.add(ROW)
    book.remove("1")
    raw = (folder / EARLIER_FILE).read_bytes()
    assert raw.startswith(b"something of the reader's own, \xff damaged\r\n1,") and b"removed" in raw
