"""What has been marked so far: a file that only grows while marking runs, so that an interrupted run goes on where it stopped."""

import hashlib
import json
import os
from pathlib import Path

from gypsumkit.files import write_whole, writing_into

FILE = "marked.jsonl"
SIGNS_OF_SUM = 12


class Journal:
    """Results by key, one checked line each; what follows a torn or damaged line is dropped and worked out again.

    Parameters
    ----------
    folder : path
        The folder of the marks; it is made where it is missing.
    """

    def __init__(self, folder):
        self.folder = Path(folder)
        self.path = self.folder / FILE
        self.results = {}
        with self._writing():
            self.folder.mkdir(parents=True, exist_ok=True)
            self._file = os.open(self.path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o600)
            self._end = self._read()
            os.ftruncate(self._file, self._end)

    def _writing(self):
        return writing_into(self.folder, "the folder of the marks")

    def _read(self):
        """Take in every line up to the first that is torn or damaged, and return where that begins."""
        end = 0
        with os.fdopen(os.dup(self._file), "rb") as lines:
            for line in lines:
                total, _, text = line.rstrip(b"\n").partition(b" ")
                if not line.endswith(b"\n") or total != _sum(text):
                    break
                key, result = json.loads(text)
                self.results[key] = result
                end += len(line)
        return end

    def add(self, results):
        """Write results down before anything else is done with them.

        Parameters
        ----------
        results : iterable of (str, object)
            Keys, and results that can be written as JSON.

        Raises
        ------
        Problem
            When the disk is full or the file cannot be written; what was written before stays whole.
        """
        lines = b"".join(_line(key, result) for key, result in results)
        with self._writing():
            try:
                os.lseek(self._file, self._end, os.SEEK_SET)
                written = 0
                while written < len(lines):
                    written += os.write(self._file, lines[written:])
                os.fsync(self._file)
            except BaseException:
                os.ftruncate(self._file, self._end)
                raise
        self._end += len(lines)

    def keep_only(self, keys):
        """Leave out the results that are not used any more, when there are any; the file is replaced whole."""
        keys = dict.fromkeys(keys)
        if keys.keys() < self.results.keys():
            self.results = {key: self.results[key] for key in keys}
            self.close()
            with self._writing():
                write_whole(self.path, b"".join(_line(key, result) for key, result in self.results.items()))

    def close(self):
        """Let go of the file."""
        if self._file is not None:
            os.close(self._file)
            self._file = None


def _line(key, result):
    text = json.dumps([key, result], separators=(",", ":")).encode("ascii")
    return _sum(text) + b" " + text + b"\n"


def _sum(text):
    return hashlib.sha256(text).hexdigest()[:SIGNS_OF_SUM].encode("ascii")
