"""A file is written whole or not at all, where it really lies, and as open to others as it was."""

import errno
import os
import stat

import pytest

from gypsumkit import files
from gypsumkit.files import WriteProtected, move, write_whole, writing_into
from gypsumkit.problems import Problem

on_linux_and_macos = pytest.mark.skipif(os.name == "nt", reason="Windows has no such modes, and links need a right of their own")


def mode_of(path):
    return stat.S_IMODE(path.stat().st_mode)


def test_a_file_is_made_and_replaced_and_nothing_else_is_left(tmp_path):
    for content in (b"first", b"second\r\n"):
        write_whole(tmp_path / "file", content)
        assert (tmp_path / "file").read_bytes() == content
    assert os.listdir(tmp_path) == ["file"]


@pytest.mark.parametrize("where", ["fsync", "replace", "chmod"])
def test_what_fails_half_way_leaves_the_old_file_and_no_part_of_the_new(tmp_path, monkeypatch, where):
    def fail(*_given):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    (tmp_path / "file").write_bytes(b"old")
    monkeypatch.setattr(files.os, where, fail)
    with pytest.raises(OSError):
        write_whole(tmp_path / "file", b"new")
    assert (tmp_path / "file").read_bytes() == b"old" and os.listdir(tmp_path) == ["file"]


def test_the_new_content_is_on_the_disk_before_it_takes_the_old_ones_place(tmp_path, monkeypatch):
    done = []
    for name in ("fsync", "replace"):
        real = getattr(os, name)
        monkeypatch.setattr(files.os, name, lambda *given, name=name, real=real: (done.append(name), real(*given)))
    write_whole(tmp_path / "file", b"new")
    assert done == ["fsync", "replace"]


@on_linux_and_macos
@pytest.mark.parametrize("there", [True, False], ids=["file there", "file not yet there"])
def test_a_link_stays_a_link_and_its_file_is_written(tmp_path, there):
    synced = tmp_path / "synced"
    synced.mkdir()
    if there:
        (synced / "answers.json").write_bytes(b"old")
    (tmp_path / "answers.json").symlink_to(os.path.join("synced", "answers.json"))
    write_whole(tmp_path / "answers.json", b"new")
    assert (tmp_path / "answers.json").is_symlink()
    assert (synced / "answers.json").read_bytes() == b"new" and not (synced / "answers.json").is_symlink()
    assert os.listdir(synced) == ["answers.json"]


@on_linux_and_macos
def test_a_link_that_leads_in_a_circle_is_refused(tmp_path):
    (tmp_path / "circle").symlink_to("circle")
    with pytest.raises(OSError):
        write_whole(tmp_path / "circle", b"new")
    assert os.listdir(tmp_path) == ["circle"] and (tmp_path / "circle").is_symlink()


@on_linux_and_macos
@pytest.mark.parametrize("mask, mode", [(0o022, 0o644), (0o002, 0o664), (0o077, 0o600)])
def test_a_new_file_gets_the_mode_of_new_files(tmp_path, mask, mode):
    before = os.umask(mask)
    try:
        write_whole(tmp_path / "file", b"new")
    finally:
        os.umask(before)
    assert mode_of(tmp_path / "file") == mode


@on_linux_and_macos
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o666])
def test_a_file_keeps_its_mode(tmp_path, mode):
    (tmp_path / "file").write_bytes(b"old")
    (tmp_path / "file").chmod(mode)
    write_whole(tmp_path / "file", b"new")
    assert mode_of(tmp_path / "file") == mode and (tmp_path / "file").read_bytes() == b"new"


def test_a_write_protected_file_is_not_replaced(tmp_path):
    (tmp_path / "file").write_bytes(b"old")
    (tmp_path / "file").chmod(0o444)
    with pytest.raises(WriteProtected) as caught:
        write_whole(tmp_path / "file", b"new")
    assert caught.value.filename == str(tmp_path / "file")
    assert (tmp_path / "file").read_bytes() == b"old" and os.listdir(tmp_path) == ["file"]
    (tmp_path / "file").chmod(0o644)


def test_a_folder_is_not_replaced(tmp_path):
    (tmp_path / "file").mkdir()
    with pytest.raises(OSError):
        write_whole(tmp_path / "file", b"new")
    assert os.listdir(tmp_path) == ["file"]


def test_a_file_held_open_for_a_moment_is_waited_for_only_where_that_happens(tmp_path, monkeypatch):
    calls, real = [], os.replace

    def held(old, new):
        calls.append(old)
        if len(calls) < 3:
            raise PermissionError(errno.EACCES, "held")
        real(old, new)

    (tmp_path / "old").write_bytes(b"x")
    monkeypatch.setattr(files.os, "replace", held)
    with pytest.raises(PermissionError):
        move(tmp_path / "old", tmp_path / "new")
    assert len(calls) == 1
    with monkeypatch.context() as windows:
        windows.setattr(files.os, "name", "nt")
        move(str(tmp_path / "old"), str(tmp_path / "new"))
    assert len(calls) == 3 and (tmp_path / "new").read_bytes() == b"x"


@pytest.mark.parametrize("error, sentence", [
    (OSError(errno.ENOSPC, "full"), "The disk is full: make room on the disk that holds your work folder"),
    (PermissionError(errno.EACCES, "no", "there"), "Your work folder cannot be written (there): choose a folder that is yours"),
    (OSError(errno.EROFS, "no", "there"), "Your work folder cannot be written (there)"),
    (WriteProtected(errno.EACCES, "no", "there"), "there is write-protected: allow writing to it"),
    (OSError(errno.ELOOP, "too many links", "there"), "Your work folder cannot be used (there: too many links)"),
    (OSError("odd"), "Your work folder cannot be used (folder: odd)"),
])
def test_every_trouble_of_writing_becomes_one_sentence(error, sentence):
    with pytest.raises(Problem) as caught:
        with writing_into("folder", "your work folder"):
            raise error
    assert str(caught.value).startswith(sentence) and "\n" not in str(caught.value)


def test_a_new_file_never_takes_the_place_of_another(tmp_path):
    from gypsumkit.files import unused, write_new
    from gypsumkit.problems import Problem
    path = tmp_path / "card.pdf"
    write_new(path, b"one")
    with pytest.raises(Problem, match="card 2.pdf"):
        write_new(path, b"two")
    write_new(unused(path), b"two")
    assert (path.read_bytes(), (tmp_path / "card 2.pdf").read_bytes(), unused(path).name) == (b"one", b"two", "card 3.pdf")
    with pytest.raises(Problem, match="There is no folder"):
        write_new(tmp_path / "none" / "card.pdf", b"")
