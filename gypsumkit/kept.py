"""Files of the reader in the work folder: read, written whole, and set aside when they are damaged; a link stays a link."""

import os
import pathlib

from gypsumkit.files import free_name, move, write_whole
from gypsumkit.locking import FolderLock, reason
from gypsumkit.problems import Problem


class KeptFiles:
    """What keeps its content in files of the work folder.

    A particular one names its files, says what their content is, and what the reader is told: `again` as for `FolderLock`, and
    `cannot_read`, `cannot_save` and `cannot_set_aside`, in which `{path}` or `{name}` stands for the file and `{why}` for the trouble.

    Parameters
    ----------
    folder : path, optional
        The work folder; the course's own when not given.
    """

    again = "save again"
    cannot_read = cannot_save = cannot_set_aside = ""

    def __init__(self, folder=None):
        if folder is None:
            from gypsumkit.launch.workspace import work_folder
            folder = work_folder()
        self.folder = pathlib.Path(folder)
        self.messages = []
        self._lock = FolderLock(self.folder, self.again)

    def take_messages(self):
        """Return what the reader should be told about the files, once."""
        messages, self.messages = self.messages, []
        return messages

    def _place(self, name):
        """Return where a file really lies: a link in the work folder, as into a synced folder, stays a link."""
        path = self.folder / name
        return pathlib.Path(os.path.realpath(path)) if path.is_symlink() else path

    def _bytes(self, name, absent=FileNotFoundError):
        """Return the bytes of a file, or None when there is none."""
        path = self._place(name)
        try:
            return path.read_bytes()
        except absent:
            return None
        except OSError as error:
            raise self._problem(self.cannot_read, path, error, name) from None

    def _write(self, name, content):
        path = self._place(name)
        try:
            write_whole(path, content)
        except OSError as error:
            raise self._problem(self.cannot_save, path, error, name) from None

    def _put_aside(self, name, raw):
        """Move a damaged file, whose lock is held, to a dated name and return that; None when it is gone or no longer what was read."""
        path = self._place(name)
        try:
            return move_aside(path, raw)
        except FileNotFoundError:
            return None
        except OSError as error:
            raise self._problem(self.cannot_set_aside, path, error, name) from None

    def _shown(self, name, aside):
        """Return what the reader is told of a file set aside: where it is, when that is not the work folder."""
        return aside if (self.folder / name).is_symlink() else aside.name

    def _problem(self, sentence, path, error, name):
        return Problem(sentence.format(path=path, name=name, why=reason(error)))


def move_aside(path, raw=None, what="damaged"):
    """Move a file to a dated name beside it.

    Parameters
    ----------
    path : pathlib.Path
        The file.
    raw : bytes, optional
        What it holds: when it holds something else, as when another lesson has just mended it, it stays.
    what : str
        What is the matter with it.

    Returns
    -------
    pathlib.Path or None
        Where it is now; None when it stays.

    Raises
    ------
    OSError
        When it cannot be moved; it is then where it was.
    """
    aside = free_name(path, what)
    if raw is not None and path.read_bytes() != raw:
        return None
    move(path, aside)
    return aside
