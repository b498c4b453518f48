"""The private mark scheme of an examination: what every candidate was asked, and the keys as they were when the papers were written."""

import hashlib
import json
import os
import re
from pathlib import Path

from gypsumkit.files import write_whole, writing_into
from gypsumkit.marking.task_bank import find_task
from gypsumkit.problems import Problem

PRIVATE, FILE = "private", "scheme.json"
FORM = 1
MOST_BYTES = 2_000_000_000


def fingerprint(text):
    """Return 16 letters that change when a text does; spaces at the ends of lines and the kind of line end do not count.

    Parameters
    ----------
    text : str
        Of a question as it stands in the paper.

    Returns
    -------
    str
    """
    lines = [line.rstrip() for line in str(text).replace("\r\n", "\n").replace("\r", "\n").strip().split("\n")]
    return hashlib.sha256("\n".join(lines).encode("utf-8", errors="replace")).hexdigest()[:16]


class Scheme:
    """The mark scheme.

    Parameters
    ----------
    set_name : str
        "first" or "resit".
    task_ids : sequence of str
        In the order of the paper.
    papers : dict of str to list, optional
        By candidate number, a list with an entry for each task: seed, fingerprint of the question, keys by label.
    description : str
        Fingerprint of what the papers were written from.
    """

    def __init__(self, set_name, task_ids, papers=None, description=""):
        self.set_name, self.task_ids, self.papers, self.description = set_name, list(task_ids), papers or {}, description

    @property
    def candidates(self):
        """The candidate numbers, in the order of their papers."""
        return list(self.papers)

    @property
    def tasks(self):
        """The tasks in the order of the paper."""
        return [find_task(one) for one in self.task_ids]

    def add(self, candidate_number, drawn, texts):
        """Enter the paper of one candidate.

        Parameters
        ----------
        candidate_number : str
            Whose.
        drawn : sequence of DrawnTask
            The tasks with the numbers of this candidate.
        texts : sequence of str
            Each question as it stands in the paper.
        """
        self.papers[candidate_number] = [[one.seed, fingerprint(text), one.keys()] for one, text in zip(drawn, texts)]

    def fingerprints(self, candidate_number):
        """Return the fingerprint of each question in the paper of a candidate."""
        return [mark for _, mark, _ in self._paper(candidate_number)]

    def drawn(self, candidate_number):
        """Return the tasks of a candidate as they were asked.

        Parameters
        ----------
        candidate_number : str
            Whose.

        Returns
        -------
        tuple of DrawnTask

        Raises
        ------
        Problem
            When there is no such candidate, or the library now computes another key than the one in the scheme.
        """
        return tuple(redrawn(task_id, *entry) for task_id, entry in zip(self.task_ids, self._paper(candidate_number)))

    def entries(self, candidate_number):
        """Return (task id, seed, fingerprint, keys) of each task of a candidate: what a worker needs, and nothing about others."""
        return tuple((task_id, *entry) for task_id, entry in zip(self.task_ids, self._paper(candidate_number)))

    def _paper(self, candidate_number):
        if candidate_number not in self.papers:
            raise Problem(f"There is no candidate {str(candidate_number)[:40]} in the mark scheme.")
        return self.papers[candidate_number]

    def save(self, folder):
        """Write the scheme into the private folder of an examination, readable by its owner alone.

        Parameters
        ----------
        folder : path
            The folder of the examination.
        """
        rows = ",\n".join(f"  {json.dumps(number)}: {json.dumps(paper, ensure_ascii=False)}" for number, paper in self.papers.items())
        head = {"form": FORM, "set": self.set_name, "tasks": self.task_ids, "description": self.description}
        text = json.dumps(head, indent=1)[:-2] + ',\n "papers": {\n' + rows + "\n }\n}\n"
        write_private(Path(folder), FILE, text.encode())

    @classmethod
    def load(cls, folder):
        """Read the scheme of an examination.

        Parameters
        ----------
        folder : path
            The folder of the examination.

        Returns
        -------
        Scheme

        Raises
        ------
        Problem
            When it is missing, damaged, or of another form.
        """
        path = Path(folder) / PRIVATE / FILE
        try:
            if path.stat().st_size > MOST_BYTES:
                raise Problem(f"{path} is larger than any mark scheme: make the papers again in a new folder.")
            read = json.loads(path.read_bytes())
            if read["form"] != FORM:
                raise Problem(f"{path} was written by another version of the course (form {str(read['form'])[:10]}): mark with that version.")
            scheme = cls(read["set"], read["tasks"], read["papers"], read["description"])
            if not all(_is_paper(one, len(scheme.task_ids)) for one in scheme.papers.values()):
                raise ValueError
            return scheme
        except FileNotFoundError:
            raise Problem(f"There is no mark scheme in {path.parent}: write the papers first, with the command paper.") from None
        except OSError as error:
            raise Problem(f"{path} cannot be read ({error.strerror}).") from None
        except Problem:
            raise
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
            raise Problem(f"{path} is damaged: put back the file that was written with the papers.") from None


def redrawn(task_id, seed, _, keys):
    """Return a task as it was asked, from an entry of the scheme.

    Parameters
    ----------
    task_id, seed, _, keys
        As from `Scheme.entries`.

    Returns
    -------
    DrawnTask

    Raises
    ------
    Problem
        When a key is now another one than when the paper was written.
    """
    drawn = find_task(task_id).drawn(seed)
    now = drawn.keys()
    for label in {**keys, **now}:
        if keys.get(label) != now.get(label):
            raise Problem(f"{task_id} ({label}): the key computed now is {_short(now.get(label))}, the one in the mark scheme is {_short(keys.get(label))}; "
                          "mark with the version of the course that wrote the papers.")
    return drawn


def _short(key):
    return "none" if key is None else f"“{str(key)[:40]}”"


def _is_paper(entries, many):
    return isinstance(entries, list) and len(entries) == many and all(
        isinstance(one, list) and len(one) == 3 and isinstance(one[0], str) and isinstance(one[1], str) and isinstance(one[2], dict) for one in entries)


# ---------------------------------------------------------------------------------------------
# The private folder

SECRET_FILE = "secret.txt"


def write_private(folder, name, content):
    """Write a file into the private folder of an examination, for its owner alone.

    Parameters
    ----------
    folder : pathlib.Path
        The folder of the examination.
    name : str
        Of the file.
    content : bytes
        All of it.
    """
    private = folder / PRIVATE
    with writing_into(folder, "the folder of the examination"):
        private.mkdir(mode=0o700, exist_ok=True)
        os.chmod(private, 0o700)
        path = private / name
        if not path.exists():
            os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        os.chmod(path, 0o600)
        write_whole(path, content)


def secret_of(folder):
    """Return the secret of an examination, made once.

    Parameters
    ----------
    folder : pathlib.Path
        The folder of the examination.

    Returns
    -------
    bytes

    Raises
    ------
    Problem
        When the file is there and holds no secret.
    """
    path = folder / PRIVATE / SECRET_FILE
    if not os.path.lexists(path):
        write_private(folder, SECRET_FILE, os.urandom(32).hex().encode() + b"\n")
    try:
        text = path.read_text(encoding="ascii").strip()
    except (OSError, ValueError):
        text = ""
    if not re.fullmatch(r"[0-9a-f]{64}", text):
        raise Problem(f"{path} holds no secret any more: put back the file that was there when the papers were written.")
    return bytes.fromhex(text)
