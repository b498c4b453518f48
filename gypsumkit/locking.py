"""A lock for a file that several lessons may write: each in its turn; it frees itself when the program that holds it ends."""

import contextlib
import os
import pathlib
import time

from gypsumkit.problems import Problem

WAIT_FOR_LOCK_S = 5.0


class FolderLock:
    """The locks of the files in one folder.

    Parameters
    ----------
    folder : path
        Where the files lie; it is made where it is missing.
    again : str
        What the reader should do once the trouble is over, such as "save again".
    """

    def __init__(self, folder, again):
        self.folder = pathlib.Path(folder)
        self.again = again
        self._held = set()

    @contextlib.contextmanager
    def held(self, name):
        """Hold the lock of a file while it is read, changed and written; one that is held already is simply kept.

        Parameters
        ----------
        name : str
            Name of the file in the folder.

        Raises
        ------
        Problem
            When the folder cannot be written, or another program does not let go.
        """
        if name in self._held:
            yield
            return
        path = self.folder / f".{name}.lock"
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            handle = os.open(path, os.O_RDWR | os.O_CREAT)
        except OSError as error:
            raise Problem(f"{self.folder} cannot be written to ({reason(error)}): what you entered is kept in this lesson; "
                          f"make room or allow writing there, then {self.again}.") from None
        try:
            self._wait(handle, name)
            self._held.add(name)
            yield
        finally:
            self._held.discard(name)
            os.close(handle)

    def _wait(self, handle, name):
        until = time.monotonic() + WAIT_FOR_LOCK_S
        while not _try_lock(handle):
            if time.monotonic() > until:
                raise Problem(f"Another lesson has kept {name} locked for {WAIT_FOR_LOCK_S:g} s: what you entered is kept in this lesson; {self.again}.")
            time.sleep(0.02)


def _try_lock(handle):
    """Return whether the operating system gave the lock; where it has none, go on without."""
    try:
        if os.name == "nt":
            import msvcrt
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    except OSError:
        return os.name != "nt"
    return True


def reason(error):
    """Return what the operating system says of an error, in its few words."""
    return getattr(error, "strerror", None) or str(error)
