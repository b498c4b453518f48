"""What came back: the files of a folder and of the archives in it, one after the other, as bytes; nothing is ever unpacked onto the disk."""

import datetime
import os
import re
import stat
import zipfile
import zlib
from pathlib import Path
from typing import NamedTuple

from gypsumkit.locking import reason
from gypsumkit.marking.marks import Finding
from gypsumkit.marking.returned import MOST_BYTES
from gypsumkit.problems import Problem

MOST_FILES = 100_000
MOST_IN_ARCHIVE = 4_000_000_000
MOST_PACKED_TIMES = 300            # a notebook shrinks to a tenth or a thirtieth; a bomb to a thousandth
LONGEST_NAME = 150
LEFT_BY_SYSTEMS = ("desktop.ini", "thumbs.db")

KINDS = {
    "left out": "a file that is no returned paper, by its name",
    "archive": "something is odd about an archive or a file in it",
    "name": "the name of a file is odd; only its last part is used, to say which file is meant",
}


class Incoming(NamedTuple):
    """One file that came back; `content` is at most its first `MOST_BYTES` + 1 bytes, `time` is None where it has none."""

    name: str
    content: bytes
    size: int
    time: datetime.datetime


def incoming(place):
    """Go through a folder, or one archive, in the order of the names.

    Parameters
    ----------
    place : path
        A folder with notebooks and archives, or one archive.

    Yields
    ------
    Incoming or Finding
        A file that is to be read, or what is to be said about one that is not.

    Raises
    ------
    Problem
        When there is no such folder or archive.
    """
    place = Path(place)
    if place.is_file():
        yield from _archive(place, "")
        return
    try:
        names = sorted(os.listdir(os.fsencode(place)))
    except OSError as error:
        raise Problem(f"The folder {place} cannot be read ({reason(error)}): name the folder, or the archive (zip), of the papers that came back.") from None
    for number, raw in enumerate(names):
        name = shown(raw.decode("utf-8", errors="replace"))
        if number >= MOST_FILES:
            yield Finding("", name, "too large", f"Only the first {MOST_FILES:,} of {len(names):,} files are read; this one and those after it are not.")
            return
        yield from _file(os.path.join(os.fsencode(place), raw), name)


def _file(path, name):
    try:
        about = os.lstat(path)
        if not stat.S_ISREG(about.st_mode):
            yield Finding("", name, "not a file", _what(about.st_mode, path))
        elif _by_system(name):
            yield Finding("", name, "left out", "The file was put there by an operating system or is hidden; it is not read.")
        elif name.lower().endswith(".zip"):
            yield from _archive(path, name + "/")
        else:
            with open(os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)), "rb") as file:
                content = file.read(MOST_BYTES + 1)
            yield Incoming(name, content, max(about.st_size, len(content)), _time(about.st_mtime))
    except OSError as error:
        yield Finding("", name, "damaged", f"The file cannot be read ({reason(error)}).")


def _what(mode, path):
    if stat.S_ISDIR(mode):
        try:
            inside = len(os.listdir(path))
        except OSError:
            inside = "its"
        return f"This is a folder; {inside} file(s) in it are not read: move them out of it."
    return "This is a link to another place and is not followed." if stat.S_ISLNK(mode) else "This is a device or a pipe, not a file; it is not read."


def _by_system(name):
    last = name.rpartition("/")[2]
    return last.startswith(".") or last.lower() in LEFT_BY_SYSTEMS or "__MACOSX" in name.split("/")


def _time(seconds):
    try:
        return datetime.datetime.fromtimestamp(seconds).astimezone()
    except (OverflowError, ValueError, OSError):
        return None


# ---- archives

def _archive(path, called):
    label = called.rstrip("/") or Path(path).name
    try:
        with zipfile.ZipFile(os.fsdecode(path)) as archive:
            yield from _members(archive, called, label)
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError, MemoryError) as error:
        yield Finding("", label, "archive", f"The archive cannot be read ({_short(error)}); ask for it again.")


def _members(archive, called, label):
    seen, total = {}, 0
    members = archive.infolist()
    if len(members) > MOST_FILES:
        yield Finding("", label, "too large", f"The archive names {len(members):,} files; only the first {MOST_FILES:,} are read.")
    for member in sorted(members[:MOST_FILES], key=lambda one: one.filename):
        name = called + shown(member.filename)
        mode = member.external_attr >> 16
        if member.is_dir():
            continue
        if _crooked(member.orig_filename):
            yield Finding("", name, "name", "The name leads out of the archive or is no plain name; nothing is written there, the paper in it is read all the same.")
        seen[name] = seen.get(name, 0) + 1
        if seen[name] > 1:
            yield Finding("", name, "archive", "The archive holds this name more than once; every one is read.")
            name = f"{name} ({seen[name]})"
        if stat.S_ISLNK(mode):
            yield Finding("", name, "not a file", "This is a link to another place and is not followed.")
        elif _by_system(name):
            yield Finding("", name, "left out", "The file was put there by an operating system or is hidden; it is not read.")
        elif name.lower().endswith((".zip", ".7z", ".rar", ".tar", ".gz")):
            yield Finding("", name, "archive", "An archive within an archive is not opened: unpack it into the folder.")
        elif member.flag_bits & 0x1:
            yield Finding("", name, "archive", "The file is locked with a password and cannot be read.")
        elif member.file_size > MOST_BYTES:
            yield Finding("", name, "too large", f"The file has {member.file_size / 1e6:,.0f} MB; at most {MOST_BYTES / 1e6:,.0f} MB are read.")
        elif member.file_size > MOST_PACKED_TIMES * max(member.compress_size, 100):
            yield Finding("", name, "archive", f"The file is packed {member.file_size // max(member.compress_size, 1):,} times smaller than it is, as no paper can be; it is not opened.")
        elif total + member.file_size > MOST_IN_ARCHIVE:
            yield Finding("", name, "too large", f"With this file the archive holds more than {MOST_IN_ARCHIVE / 1e9:g} GB; it is not read.")
        else:
            content = _content(archive, member)
            if isinstance(content, bytes):
                total += len(content)
                yield Incoming(name, content, len(content), _packed_time(member.date_time))
            else:
                yield Finding("", name, "damaged", content)


def _content(archive, member):
    try:
        with archive.open(member) as file:
            return file.read(MOST_BYTES + 1)
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError, RuntimeError, MemoryError, OverflowError) as error:
        return f"The file cannot be taken out of the archive ({_short(error)}); ask for it again."
    except Exception as error:                      # the errors of packing methods that this Python may have
        return f"The file cannot be taken out of the archive ({type(error).__name__}); ask for it again."


def _crooked(name):
    return bool(name.startswith(("/", "\\")) or "\\" in name or re.match(r"[A-Za-z]:", name) or ".." in re.split(r"[/\\]", name)
                or not name.isprintable())


def _packed_time(when):
    try:
        return datetime.datetime(*when).astimezone()
    except (ValueError, OverflowError, OSError):
        return None


def _short(error):
    return shown(str(error) or type(error).__name__)[:80]


def shown(name):
    """Return the name of a file as a report can show it: printable and not too long."""
    name = "".join(one if one.isprintable() else "�" for one in name)
    return name if len(name) <= LONGEST_NAME else name[:LONGEST_NAME // 2] + "…" + name[-LONGEST_NAME // 2:]
