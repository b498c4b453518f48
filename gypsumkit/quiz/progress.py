"""The reader's answers and notes, kept in two open, readable files of the work folder.

What is entered is never lost: it stays in memory until it is safely on disk, the last good file is replaced
only by a complete new one, and two lessons open at once add to the same file one after the other.
"""

import datetime
import json

from gypsumkit.kept import KeptFiles

ANSWERS_FILE, NOTES_FILE = "answers.json", "notes.json"


class Progress(KeptFiles):
    """What one reader has answered and written so far.

    Parameters
    ----------
    folder : path, optional
        The work folder; the course's own when not given.
    """

    again = "check again"
    cannot_read = "{path} cannot be read ({why}): what you enter now is kept only until this lesson is closed."
    cannot_save = ("{path} could not be saved ({why}): what you entered is kept in this lesson, "
                   "the file as last saved is untouched; make room or allow writing there, then check again.")
    cannot_set_aside = "{path} is damaged and cannot be set aside ({why}): move it away by hand, then answer again."

    def __init__(self, folder=None):
        super().__init__(folder)
        self._unsaved_attempts = []
        self._unsaved_notes = {}
        self._seen_notes = {}

    # Answers ---------------------------------------------------------------------------------

    def record(self, question_id, marked, committed=False):
        """Add one attempt to the answers.

        Parameters
        ----------
        question_id : str
            Id of the question.
        marked : Marked
            The judged answer.
        committed : bool
            True for a prediction that was committed to before its picture was seen.

        Raises
        ------
        Problem
            When the file cannot be written; the attempt is then kept in memory and saved with the next one.
        """
        attempt = {"time": _now(), "answer": marked.answer, "correct": marked.correct, "fraction": round(marked.fraction, 4)}
        if committed:
            attempt["committed"] = True
        self._unsaved_attempts.append((question_id, attempt))
        self._save_answers()

    def attempts(self, question_id):
        """Return all attempts at a question, oldest first; each has time, answer, correct and fraction."""
        return self.all_attempts().get(question_id, [])

    def latest(self, question_id):
        """Return the last attempt at a question, or None."""
        attempts = self.attempts(question_id)
        return attempts[-1] if attempts else None

    def all_attempts(self):
        """Return the attempts of every question answered so far, by question id."""
        attempts = {name: list(list_of) for name, list_of in self._read(ANSWERS_FILE, "answers", _is_attempts)["answers"].items()}
        for question_id, attempt in self._unsaved_attempts:
            attempts.setdefault(question_id, []).append(attempt)
        return attempts

    def _save_answers(self):
        with self._lock.held(ANSWERS_FILE):
            kept = self._read(ANSWERS_FILE, "answers", _is_attempts)
            for question_id, attempt in self._unsaved_attempts:
                kept["answers"].setdefault(question_id, []).append(attempt)
            self._write(ANSWERS_FILE, _as_bytes(kept))
            self._unsaved_attempts.clear()

    # Notes -----------------------------------------------------------------------------------

    def note(self, note_id):
        """Return what the reader wrote under this id, or an empty text."""
        if note_id in self._unsaved_notes:
            return self._unsaved_notes[note_id]
        entry = self._read(NOTES_FILE, "notes", _is_note)["notes"].get(note_id, {})
        self._seen_notes[note_id] = entry.get("text", "")
        return self._seen_notes[note_id]

    def write_note(self, note_id, text):
        """Keep what the reader wrote under this id.

        A text that another open lesson wrote under the same id meanwhile is kept beside it, under "earlier".

        Parameters
        ----------
        note_id : str
            Id of the note.
        text : str
            The whole text as it stands.

        Raises
        ------
        Problem
            When the file cannot be written; the text is then kept in memory and saved with the next change.
        """
        self._unsaved_notes[note_id] = text
        with self._lock.held(NOTES_FILE):
            kept = self._read(NOTES_FILE, "notes", _is_note)
            for name, written in self._unsaved_notes.items():
                kept["notes"][name] = self._with_earlier(name, kept["notes"].get(name), written)
            self._write(NOTES_FILE, _as_bytes(kept))
            self._seen_notes.update(self._unsaved_notes)
            self._unsaved_notes.clear()

    def _with_earlier(self, name, on_disk, written):
        entry = {"time": _now(), "text": written}
        if on_disk:
            earlier = list(on_disk.get("earlier", []))
            if on_disk["text"].strip() and on_disk["text"] not in (self._seen_notes.get(name), written):
                earlier.append({"time": on_disk.get("time"), "text": on_disk["text"]})
            if earlier:
                entry["earlier"] = earlier
        return entry

    # Files -----------------------------------------------------------------------------------

    def _read(self, name, part, is_good):
        """Return the content of a file; one that is damaged is set aside, and what can be read of it is kept."""
        raw = self._bytes(name)
        if raw is None:
            return {part: {}}
        content = _parsed(raw)
        good = _good_entries(content, part, is_good)
        if good is not None and len(good) == len(content[part]):
            return content
        return self._set_aside(name, part, is_good, raw)

    def _set_aside(self, name, part, is_good, raw):
        """Move a damaged file to a dated name, put back what could be read of it, and leave a message."""
        with self._lock.held(name):
            aside = self._put_aside(name, raw)
            if aside is None:  # another lesson has just mended it
                return self._read(name, part, is_good)
            content = _parsed(raw)
            good = _good_entries(content, part, is_good)
            readable = {part: {}} if good is None else {**content, part: good}
            if good:
                self._write(name, _as_bytes(readable))
            kept = f"The entries that could be read ({len(good)}) are kept. " if good else ""
            shown = self._shown(name, aside)
            self.messages.append(f"{name} was damaged and is set aside as {shown}. {kept}Nothing else is lost; new answers are saved as usual.")
            return readable


def _as_bytes(content):
    return (json.dumps(content, ensure_ascii=False, indent=1) + "\n").encode("utf-8", errors="replace")


def _parsed(raw):
    """Return what the bytes of a file say, or None when they are not readable."""
    try:
        return json.loads(raw.decode("utf-8"))
    except (ValueError, RecursionError):
        return None


def _good_entries(content, part, is_good):
    """Return the entries that have the right form, or None when the file as a whole has not."""
    if not isinstance(content, dict) or not isinstance(content.get(part), dict):
        return None
    return {name: value for name, value in content[part].items() if is_good(value)}


def _is_attempts(value):
    return isinstance(value, list) and all(
        isinstance(attempt, dict) and isinstance(attempt.get("correct"), bool) and isinstance(attempt.get("time"), str)
        and _is_time(attempt["time"]) and "answer" in attempt for attempt in value)


def _is_time(text):
    try:
        return datetime.datetime.fromisoformat(text).tzinfo is not None
    except ValueError:
        return False


def _is_note(value):
    return isinstance(value, dict) and isinstance(value.get("text"), str) and isinstance(value.get("earlier", []), list)


def _now():
    return datetime.datetime.now().astimezone().isoformat(timespec="seconds")
