"""Reading a returned notebook: a stranger's file, taken as text within bounds and never run.

Every oddity becomes a finding, a kind and a sentence; nothing here raises because of what a file holds.
"""

import json
import re
import unicodedata
from collections import Counter
from typing import NamedTuple

from gypsumkit.marking.marks import Finding

MOST_BYTES = 8_000_000
DEEPEST = 40
MOST_CELLS = 1000
LONGEST_ANSWER = 4000
LONGEST_QUOTE = 60
LONGEST_NUMBER = 40

KINDS = {
    "not a notebook": "the file is something else, or its inner form is not that of a notebook",
    "not a file": "a folder, a link or a device in place of a file",
    "too large": "more bytes, cells or signs than are read",
    "empty": "nothing stands in the file",
    "damaged": "the file ends too early or is not readable",
    "encoding": "the text is written in another way than UTF-8",
    "broken signs": "signs that are no text, read as �",
    "hidden signs": "signs that nobody sees, or that turn the direction of writing; left out before marking",
    "said twice": "one name stands twice in one place of the file; the last counts",
    "nested deeply": "brackets within brackets beyond any notebook",
    "script or markup": "an answer holds HTML or a script; shown as plain text and never run",
    "text changed": "the text of a question is not what was handed out",
    "cell missing": "a cell of the paper is not there",
    "cell twice": "a cell of the paper is there more than once",
    "cell added": "a cell that the paper did not have holds text; it is not marked",
    "cell of another kind": "an answer cell was turned from text to code or back",
    "too long": "an answer is longer than is read",
    "no number": "the paper does not say whose it is",
    "two numbers": "the paper names more than one candidate",
    "no answers": "nothing was written into any answer cell, or there is none",
}


class Returned(NamedTuple):
    """What a returned notebook holds: whose it is, the answers as text, the texts of the questions, and what was found."""

    candidate_number: str
    answers: dict
    code: dict
    texts: dict
    findings: tuple


_NUMBER_LINE = re.compile(r"Candidate number:\s*\**\s*([^\s*]{1,40})")
_TASK_ID, _ANSWER_ID = re.compile(r"task-(\d{1,3})"), re.compile(r"answer-(\d{1,3})-([a-z]{1,2})")
_TASK_LINE = re.compile(r"##\s*Task\s+(\d{1,3})\b")
_ANSWER_LINE = re.compile(r"\s*#*\s*\**\s*Answer\s+(\d{1,3})\s*\(([a-z]{1,2})\)\s*:?\s*\**\s*:?[ \t]*")
_CODE_LINE = re.compile(r"\s*#\s*Answer\s+(\d{1,3})\s*\(([a-z]{1,2})\)\s*,?\s*in code\s*:?[ \t]*")
_STRING = re.compile(rb'"(?:[^"\\]|\\.)*"?', re.DOTALL)
_BRACKET = re.compile(rb"[\[\]{}]")
_MARKUP = re.compile(r"<\s*/?\s*(?:script|iframe|img|svg|style|object|embed|a|link|meta|form|input|div|span|body|html)\b|javascript:|\bon\w+\s*=\s*[\"']", re.I)
_HIDDEN = re.compile("[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb\U000e0000-\U000e007f\x00-\x08\x0b-\x1f\x7f-\x9f]")
_SURROGATE = re.compile("[\ud800-\udfff]")


class _Refused(Exception):
    """The file cannot be read as a notebook: kind and sentence."""


def read_returned(content, name, size=None):
    """Read a returned notebook.

    Parameters
    ----------
    content : bytes
        The file, or at least its first `MOST_BYTES` + 1 bytes.
    name : str
        Its name, for the findings; it says whose paper it is where the paper itself does not.
    size : int, optional
        Bytes of the whole file, when `content` is only its beginning.

    Returns
    -------
    Returned
        With candidate number "" and no answers when the file cannot be read.
    """
    found = _Findings()
    try:
        cells = _cells(_parsed(content, len(content) if size is None else size, found), found)
    except _Refused as refused:
        found.add(*refused.args)
        return Returned("", {}, {}, {}, found.for_file("", name))
    return _Reading(cells, name, found).returned()


class _Findings:
    """Findings of one file, each said once."""

    def __init__(self):
        self._said = {}

    def add(self, kind, sentence):
        self._said.setdefault((kind, sentence))

    def for_file(self, candidate_number, name):
        return tuple(Finding(candidate_number, name, kind, sentence) for kind, sentence in self._said)


# ---- from bytes to cells

def _parsed(content, size, found):
    if size > MOST_BYTES:
        raise _Refused("too large", f"The file has {size / 1e6:,.0f} MB; at most {MOST_BYTES / 1e6:,.0f} MB are read. Ask for the paper without pictures.")
    if not content.strip(b"\xef\xbb\xbf\xff\xfe\x00 \t\r\n"):
        raise _Refused("empty", "The file is empty.")
    text = _text(content, found)
    _look_at_depth(text.encode("utf-8", errors="replace"))
    twice = []

    def once(pairs):
        made = dict(pairs)
        if len(made) < len(pairs):
            twice.extend(name for name, count in Counter(name for name, _ in pairs).items() if count > 1)
        return made

    try:
        parsed = json.loads(text, object_pairs_hook=once, parse_int=_whole_number, parse_constant=_no_number)
    except json.JSONDecodeError as error:
        if not text.lstrip().startswith("{"):
            raise _Refused("not a notebook", f"The file is not a notebook: it begins with “{quoted(text.strip())}”.") from None
        at_end = error.pos >= len(text.rstrip()) or "Unterminated" in error.msg
        what = "ends too early" if at_end else f"is damaged in line {error.lineno}, place {error.colno}"
        raise _Refused("damaged", f"The file {what}: ask for it again.") from None
    except (RecursionError, ValueError, MemoryError):
        raise _Refused("damaged", "The file cannot be read: ask for it again.") from None
    if twice:
        found.add("said twice", f"“{quoted(twice[0])}” stands twice in one place of the file; the last one counts.")
    return parsed


def _text(content, found):
    for mark, encoding in ((b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")):
        if content.startswith(mark):
            found.add("encoding", "The file is written in UTF-16 and not in UTF-8, as by a text editor.")
            return content[2:].decode(encoding, errors="replace")
    if content[:2] in (b"{\x00", b"\x00{"):
        found.add("encoding", "The file is written in UTF-16 and not in UTF-8, as by a text editor.")
        return content.decode("utf-16-le" if content[1] == 0 else "utf-16-be", errors="replace")
    if content.startswith(b"PK\x03\x04"):
        raise _Refused("not a notebook", "The file is an archive or an office document, not a notebook.")
    content = content.removeprefix(b"\xef\xbb\xbf")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        text = content.decode("utf-8", errors="replace")
        line = content.count(b"\n", 0, error.start) + 1
        if text.lstrip().startswith("{"):
            found.add("broken signs", f"The file is not whole UTF-8 text; the first broken sign is in line {line}. Such signs are read as �.")
        return text


def _look_at_depth(content):
    depth = 0
    for bracket in _BRACKET.findall(_STRING.sub(b"", content)):
        depth += 1 if bracket in b"[{" else -1
        if depth > DEEPEST:
            raise _Refused("nested deeply", f"The file has more than {DEEPEST} brackets within brackets: it is no paper of ours.")


def _whole_number(text):
    return int(text) if len(text) <= LONGEST_NUMBER else None


def _no_number(text):
    raise _Refused("damaged", f"{text} stands in the file where a number is wanted: no notebook has that.")


def _cells(parsed, found):
    cells = parsed.get("cells") if isinstance(parsed, dict) else None
    if not isinstance(cells, list):
        raise _Refused("not a notebook", "The file is not a notebook: it has no list of cells.")
    if len(cells) > MOST_CELLS:
        raise _Refused("too large", f"The notebook has {len(cells):,} cells; at most {MOST_CELLS:,} are read.")
    whole = []
    for place, cell in enumerate(cells, start=1):
        source = cell.get("source") if isinstance(cell, dict) else None
        if isinstance(source, list) and all(isinstance(line, str) for line in source):
            source = "".join(source)
        if not isinstance(source, str):
            found.add("damaged", f"Cell {place} has no text and is left out.")
            continue
        cell_id = cell.get("id")
        whole.append((cell_id if isinstance(cell_id, str) else "", cell.get("cell_type") == "code", source))
    return whole


# ---- from cells to answers

class _Reading:
    """Finds the answers and the texts of the questions among the cells."""

    def __init__(self, cells, name, found):
        self.name, self.found = name, found
        self.answers, self.code, self.texts, self.numbers = {}, {}, {}, []
        self._heading_seen = False
        places = [self._place(*cell) for cell in cells]
        by_id = {(kind, key) for kind, key, sure in places if sure}
        handed_out = {source.strip() for (_, _, sure), (_, _, source) in zip(places, cells) if sure}
        for (kind, key, sure), (cell_id, is_code, source) in zip(places, cells):
            if not sure and (kind, key) in by_id:
                # a copy of a cell that is there: its first line is the same, its id is not
                there = f" In the copy stands “{quoted(source.strip())}”." if kind == "answer" and source.strip() not in handed_out else ""
                self.found.add("cell twice", f"{_called(key)} is there twice; the one that was handed out counts.{there}")
                continue
            getattr(self, "_" + kind)(key, is_code, source)

    def _place(self, cell_id, is_code, source):
        """Return what a cell is, which, and whether its id says so."""
        for pattern, kind in ((_ANSWER_ID, "answer"), (_TASK_ID, "task")):
            match = pattern.fullmatch(cell_id)
            if match:
                return kind, _key(match), True
        match = (_CODE_LINE if is_code else _ANSWER_LINE).match(source) or _CODE_LINE.match(source)
        if match:
            return "answer", _key(match), False
        match = _TASK_LINE.match(source)
        if match:
            return "task", _key(match), False
        return ("heading" if _NUMBER_LINE.search(source) and not is_code else "added"), None, False

    def _heading(self, key, is_code, source):
        self.numbers += [_shown(number) for number in _NUMBER_LINE.findall(source)]

    def _task(self, key, is_code, source):
        if key in self.texts:
            self.found.add("cell twice", f"{_called(key)} is there twice; the first counts.")
            return
        self.texts[key] = source

    def _answer(self, key, is_code, source):
        code_head, head = _CODE_LINE.match(source), _ANSWER_LINE.match(source)
        asked_in_code = bool(code_head) or (is_code and not head)
        if asked_in_code != is_code:
            self.found.add("cell of another kind", f"{_called(key)} was turned from {'text to code' if is_code else 'code to text'}; it is read all the same.")
        into, head = (self.code if asked_in_code else self.answers), code_head or head
        if head and _key(head) == key:
            source = source[head.end():]
        text = self._clean(key, source, into is self.code)
        for known in (self.answers, self.code):
            if key in known:
                if text and text != known[key]:
                    self.found.add("cell twice", f"{_called(key)} is there twice with different answers; the first with an answer counts, "
                                                 f"the other is “{quoted(text if known[key] else known[key])}”.")
                else:
                    self.found.add("cell twice", f"{_called(key)} is there twice; the first with an answer counts.")
                if known[key]:
                    return
                del known[key]
                break
        into[key] = text

    def _added(self, key, is_code, source):
        if source.strip():
            self.found.add("cell added", f"A cell that the paper did not have is not marked: “{quoted(source.strip())}”.")

    def _clean(self, key, text, is_code):
        text = text.replace("\r\n", "\n").replace("\r", "\n")
        if len(text) > LONGEST_ANSWER * (5 if is_code else 1):
            self.found.add("too long", f"{_called(key)} has {len(text):,} signs and is not marked by itself: read it in the file.")
            return TOO_LONG + quoted(_readable(text[:LONGEST_ANSWER])[0]) + "”"
        text, hidden, broken = _readable(text)
        if hidden:
            self.found.add("hidden signs", f"{_called(key)} holds {hidden} sign(s) that nobody sees or that turn the direction of writing; they are left out.")
        if broken:
            self.found.add("broken signs", f"{_called(key)} holds {broken} broken sign(s), read as �.")
        if not is_code and _MARKUP.search(text):
            self.found.add("script or markup", f"{_called(key)} holds HTML or a script; it is shown as plain text and never run.")
        return text.rstrip().lstrip("\n") if is_code else text.strip()

    def returned(self):
        """Return what was read."""
        numbers = list(dict.fromkeys(self.numbers))
        number = numbers[0] if numbers else ""
        if len(numbers) > 1:
            self.found.add("two numbers", f"The paper names the candidates {' and '.join(numbers[:3])}; the first counts.")
        if not numbers:
            number = number_in_name(self.name)
            self.found.add("no number", f"The paper does not say whose it is; the name of the file says {number or 'nothing'}.")
        if not self.answers and not self.code:
            self.found.add("no answers", "The notebook has no answer cell of a paper.")
        return Returned(number, self.answers, self.code, self.texts, self.found.for_file(number, self.name))


def number_in_name(name):
    """Return the candidate number that the name of a file begins with, or ""."""
    stem = re.match(r"[A-Za-z0-9-]{1,40}", name.rpartition("/")[2])
    return stem.group() if stem else ""


TOO_LONG = "(too long, read it in the file) “"


def _key(match):
    return (int(match[1]), match[2]) if match.re.groups == 2 else int(match[1])


def _called(key):
    return f"Answer {key[0]} ({key[1]})" if isinstance(key, tuple) else f"Task {key}"


def _readable(text):
    """Return a text without what nobody sees, and how many signs were hidden and how many broken."""
    if text.isascii() and text.isprintable():
        return text, 0, 0
    text, hidden = _HIDDEN.subn("", text)
    text, broken = _SURROGATE.subn("�", text)
    return unicodedata.normalize("NFC", text), hidden, broken + text.count("�") - broken


def _shown(text):
    return "".join(one if one.isprintable() else "�" for one in text)[:LONGEST_NUMBER]


def quoted(text):
    """Return the beginning of a stranger's text in one line of signs that can be seen, for a finding."""
    text = " ".join("".join(one if one.isprintable() else " " for one in text[:LONGEST_QUOTE * 4]).split())
    return text if len(text) <= LONGEST_QUOTE else text[:LONGEST_QUOTE - 1] + "…"
