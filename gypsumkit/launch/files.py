"""Write files so that a pulled plug leaves either the old one or the new one, never half of one."""

import errno
import os
import tempfile
from contextlib import contextmanager
from pathlib import Path

from gypsumkit.problems import Problem


def write_whole(path, content):
    """Replace a file in one step.

    Parameters
    ----------
    path : pathlib.Path
        The file to write; its folder must exist.
    content : bytes
        All of the new content.
    """
    handle, beside = tempfile.mkstemp(prefix=".writing-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as new:
            new.write(content)
            new.flush()
            os.fsync(new.fileno())
        os.replace(beside, path)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise


@contextmanager
def writing_into(folder, what):
    """Turn the usual troubles of writing into a folder into one sentence each.

    Parameters
    ----------
    folder : pathlib.Path
        The folder that is written into.
    what : str
        What the reader calls it, such as "your work folder".

    Raises
    ------
    Problem
        When the disk is full or the folder may not be written.
    """
    try:
        yield
    except OSError as error:
        if error.errno == errno.ENOSPC:
            raise Problem("The disk is full: make room on the disk that holds {} ({}), then start again."
                          .format(what, folder)) from error
        if isinstance(error, (PermissionError, NotADirectoryError, FileExistsError)) or error.errno == errno.EROFS:
            raise Problem("{} cannot be written ({}): choose a folder that is yours, or ask for the right to write there."
                          .format(what[0].upper() + what[1:], error.filename or folder)) from error
        raise
