"""Write files so that a pulled plug leaves either the old one or the new one, never half of one."""

import datetime
import errno
import os
import secrets
import stat
import time
from contextlib import contextmanager, suppress
from pathlib import Path

from gypsumkit.problems import Problem


class WriteProtected(PermissionError):
    """The file itself may not be written, whatever its folder allows."""


def write_whole(path, content):
    """Replace a file in one step.

    A link to a file elsewhere stays a link, and the file it leads to is replaced. A file that was there keeps
    its mode; a new one gets the mode that new files have on this computer.

    Parameters
    ----------
    path : pathlib.Path
        The file to write; its folder must exist.
    content : bytes
        All of the new content.

    Raises
    ------
    OSError
        When it cannot be written; the old file is then untouched and no part of the new one is left.
    """
    target = Path(os.path.realpath(path))
    mode = _mode_of(target)
    beside = target.with_name(".writing-" + secrets.token_hex(8))
    new = open(beside, "xb")
    try:
        with new:
            new.write(content)
            new.flush()
            os.fsync(new.fileno())
        if mode is not None:
            os.chmod(beside, mode)
        move(beside, target)
    except BaseException:
        with suppress(OSError):
            os.unlink(beside)
        raise


def _mode_of(target):
    """Return the mode of the file that is to be replaced, or None where there is none yet."""
    try:
        mode = stat.S_IMODE(os.stat(target).st_mode)
    except FileNotFoundError:
        return None
    if not mode & 0o222 or not os.access(target, os.W_OK):
        raise WriteProtected(errno.EACCES, "it is write-protected", str(target))
    return mode


def move(old, new):
    """Move a file over another, waiting a little where another program holds one of them open for a moment.

    Parameters
    ----------
    old, new : pathlib.Path
        Where it is, and where it is to be; both on one disk.

    Raises
    ------
    OSError
        When it cannot be moved; it is then where it was.
    """
    for wait_s in (0.02, 0.05, 0.1, 0.2, None):
        try:
            return os.replace(old, new)
        except PermissionError:
            if wait_s is None or os.name != "nt":
                raise
            time.sleep(wait_s)


@contextmanager
def writing_into(folder, what):
    """Turn every trouble of writing into a folder into one sentence.

    Parameters
    ----------
    folder : pathlib.Path
        The folder that is written into.
    what : str
        What the reader calls it, such as "your work folder".

    Raises
    ------
    Problem
        When the disk is full, or the folder or a file in it cannot be written.
    """
    try:
        yield
    except WriteProtected as error:
        raise Problem("{} is write-protected: allow writing to it or move it away, then start again."
                      .format(error.filename)) from error
    except OSError as error:
        if error.errno in (errno.ENOSPC, getattr(errno, "EDQUOT", None)):
            raise Problem("The disk is full: make room on the disk that holds {} ({}), then start again."
                          .format(what, folder)) from error
        where, begin = error.filename or folder, what[0].upper() + what[1:]
        if isinstance(error, (PermissionError, NotADirectoryError, FileExistsError)) or error.errno == errno.EROFS:
            raise Problem("{} cannot be written ({}): choose a folder that is yours, or ask for the right to write there."
                          .format(begin, where)) from error
        raise Problem("{} cannot be used ({}: {}): choose another folder, or put right what is said here."
                      .format(begin, where, error.strerror or error)) from error


def free_name(path, what="damaged"):
    """Return a dated name beside a file under which it can be set aside.

    Parameters
    ----------
    path : pathlib.Path
        The file.
    what : str
        What is the matter with it.

    Returns
    -------
    pathlib.Path
        A name that no file has yet.
    """
    stamp = datetime.datetime.now().strftime("%Y-%m-%d %H.%M.%S")
    aside, count = path.with_name("{} {} {}{}".format(path.stem, what, stamp, path.suffix)), 2
    while aside.exists():
        aside, count = path.with_name("{} {} {} ({}){}".format(path.stem, what, stamp, count, path.suffix)), count + 1
    return aside


def unused(path):
    """Return a name that no file has yet: the one wanted, else the same with the next number.

    Parameters
    ----------
    path : pathlib.Path
        The file that is wanted.

    Returns
    -------
    pathlib.Path
    """
    found, count = path, 2
    while os.path.lexists(found):
        found, count = path.with_name("{} {}{}".format(path.stem, count, path.suffix)), count + 1
    return found


def write_new(path, content):
    """Write a file that is not there yet.

    Parameters
    ----------
    path : pathlib.Path
        The file; its folder must exist.
    content : bytes
        All of its content.

    Raises
    ------
    Problem
        When there is such a file already, which stays as it is, or it cannot be written.
    """
    if os.path.lexists(path):
        raise Problem("{} is there already and is not written over: move it away, or name another, such as {}.".format(path, unused(path).name))
    if not os.path.isdir(path.parent):
        raise Problem("There is no folder {}: make it first, or name another.".format(path.parent))
    with writing_into(path.parent, "the folder"):
        write_whole(path, content)
