"""Where a demonstration stands: its step, what is revealed and the hands counted, kept on disk after every change."""

import json

from gypsumkit.files import write_whole, writing_into
from gypsumkit.kept import KeptFiles, move_aside
from gypsumkit.problems import Problem

FILE = "demonstration.json"


class ShowState(KeptFiles):
    """The state of one demonstration in the work folder.

    Parameters
    ----------
    folder : path, optional
        The work folder; the course's own when not given.
    """

    again = "press the button again"

    def __init__(self, folder=None):
        super().__init__(folder)
        self.step, self.revealed, self.hands = 0, [], {}
        self._read()

    def _read(self):
        path, raw = self.folder / FILE, b""
        try:
            raw = path.read_bytes()
            kept = json.loads(raw.decode("utf-8"))
            step, revealed, hands = kept["step"], kept["revealed"], kept["hands"]
            sound = (isinstance(step, int) and not isinstance(step, bool) and all(isinstance(each, str) for each in revealed)
                     and all(isinstance(name, str) and isinstance(text, str) for of in hands.values() for name, text in of.items()))
            if not sound:
                raise ValueError("not what was written")
            self.step, self.revealed, self.hands = step, list(revealed), {name: dict(of) for name, of in hands.items()}
        except FileNotFoundError:
            return
        except OSError as error:
            self.messages.append(f"Where the demonstration stood cannot be read ({error.strerror}); it begins at the first step.")
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
            self._set_aside(path, raw)

    def _set_aside(self, path, raw):
        """Set the damaged file aside, unless another page has just written it anew: then read that."""
        try:
            with self._lock.held(FILE):
                aside = move_aside(path, raw)
        except FileNotFoundError:
            return
        except (OSError, Problem):
            self.messages.append("The file that says where the demonstration stood is damaged; the first step is shown.")
            return
        if aside is None:
            self._read()
        else:
            self.messages.append(f"The file that says where the demonstration stood was damaged; it is kept as {aside.name}, and the first step is shown.")

    def save(self):
        """Write the state; a Problem when it cannot be written, and then it is kept in memory and written with the next change."""
        content = json.dumps({"step": self.step, "revealed": self.revealed, "hands": self.hands}, indent=1, ensure_ascii=False)
        with self._lock.held(FILE), writing_into(self.folder, "your work folder"):
            write_whole(self.folder / FILE, content.encode("utf-8"))

    def go_to(self, step):
        """Go to a step and keep it."""
        self.step = step
        self.save()

    def reveal(self, question_id):
        """Keep that a question is revealed."""
        if question_id not in self.revealed:
            self.revealed.append(question_id)
        self.save()

    def count(self, question_id, when, text):
        """Keep the hands of a question as they were written, before or after discussion."""
        self.hands.setdefault(question_id, {})[when] = text
        self.save()

    def begin_anew(self):
        """Set the state aside under a dated name, and begin at the first step; returns the name, or an empty text when there was none."""
        path, name = self.folder / FILE, ""
        with self._lock.held(FILE), writing_into(self.folder, "your work folder"):
            if path.exists():
                name = move_aside(path, what="of").name
        self.step, self.revealed, self.hands = 0, [], {}
        return name
