"""Marking an examination: everything that came back is read, every paper marked once, and the marks are the same however often it is done.

This process reads the files; workers mark them, each given one paper's answers and keys. What is done is written down at once.
"""

import concurrent.futures
import contextlib
import datetime
import functools
import hashlib
import json
import multiprocessing
import multiprocessing.connection
import os
import signal
import threading
from collections import deque
from pathlib import Path
from typing import NamedTuple

import gypsumkit
from gypsumkit.locking import FolderLock
from gypsumkit.marking import alike, incoming, one_paper, returned
from gypsumkit.marking.blueprint import read_paper
from gypsumkit.marking.feedback import write_feedback
from gypsumkit.marking.isolation import LIMITS, isolation_here, is_shown
from gypsumkit.marking.journal import Journal
from gypsumkit.marking.marks import Finding, MarkRow, Marks
from gypsumkit.marking.moderation import with_decisions
from gypsumkit.marking.one_paper import mark_papers
from gypsumkit.marking.papers import RETURNED, question_text
from gypsumkit.marking.report import write_report
from gypsumkit.marking.returned import LONGEST_ANSWER, Returned, number_in_name, quoted, read_returned
from gypsumkit.marking.scheme import Scheme, fingerprint, redrawn
from gypsumkit.marking.tasks import BY_HAND_WHY, NOTHING
from gypsumkit.problems import Problem

MARKS = "marks"
TOGETHER = 8                    # papers given to a worker at a time
FEW = 12                        # so few papers are marked here, without other processes

KINDS = {
    **incoming.KINDS, **returned.KINDS, **one_paper.KINDS, **alike.KINDS,
    "unknown candidate": "the candidate number is in no list of this examination",
    "two returns": "more than one paper of a candidate came back; the newest counts, the others are kept",
    "another paper": "the questions are those of another candidate",
    "late": "the time of the file is after the time it was due",
    "not returned": "a candidate of the examination from whom nothing came back",
    "not readable": "what came back from a candidate cannot be read; the candidate has no marks until it is sent again",
    "code by hand": "code answers were not run and wait for an assessor",
}


class _Paper(NamedTuple):
    """One returned paper of a known candidate: what was read, how far the questions are that candidate's own, and what was added to which question."""

    name: str
    time: datetime.datetime
    mark: str
    read: Returned
    own: bool
    added: dict


def mark_folder(exam_folder, executor=None, *, place=None, workers=None, run_code=None, limits=LIMITS, progress=None):
    """Mark the papers of an examination that came back.

    Parameters
    ----------
    exam_folder : path
        The folder of the examination, with its mark scheme.
    executor : concurrent.futures.Executor, optional
        Does the marking; by default one process on each core, or none for a few papers.
    place : path, optional
        The folder or archive of the papers that came back; `returned` in the folder when not given.
    workers : int, optional
        How many processes, where no executor is given.
    run_code : bool, optional
        False never runs code answers; otherwise they are run where this computer can shut them in.
    limits : Limits
        What the code of one answer may use.
    progress : function of two int, optional
        Told how many papers are marked, and of how many.

    Returns
    -------
    Marks
        As worked out, without what an assessor changed.

    Raises
    ------
    Problem
        When there is no examination, its scheme belongs to another version of the course, the disk is full, or another
        marking of it is going on. What is done by then is kept and not done again.
    """
    exam_folder = Path(exam_folder)
    scheme = Scheme.load(exam_folder)
    place = exam_folder / RETURNED if place is None else Path(place)
    with _alone(exam_folder / MARKS):
        papers, findings = _read(place, scheme, _due(exam_folder))
        why_not_run = _why_not_run(run_code, exam_folder, place) if any(paper.read.code for paper in papers) else ""
        jobs = {_key(paper, scheme, why_not_run or list(limits)): paper for paper in papers}
        journal = Journal(exam_folder / MARKS)
        try:
            _mark_the_rest(jobs, functools.partial(_job, scheme, why_not_run, limits), journal, executor, workers, progress or (lambda done, total: None))
            rows = [row for key, paper in jobs.items() for row in _rows(paper, journal.results[key][0])]
            findings += [Finding(paper.read.candidate_number, paper.name, *one) for key, paper in jobs.items() for one in journal.results[key][1]]
            journal.keep_only(jobs)
        finally:
            journal.close()
    findings += alike.alike(rows, scheme)
    if why_not_run:
        waiting = sum(bool(text) for paper in papers for text in paper.read.code.values())
        findings.append(Finding("", "", "code by hand", f"{waiting} code answer(s) were not run and wait to be marked by hand. {why_not_run}"))
    return Marks(rows, findings)


def finish(marks, exam_folder):
    """Put an assessor's decisions on top of the marks, and write marks, findings, report and feedback.

    Parameters
    ----------
    marks : Marks
        As from `mark_folder`.
    exam_folder : path
        The folder of the examination.

    Returns
    -------
    Marks
        With the decisions.
    """
    marks = with_decisions(marks, exam_folder)
    marks.save(Path(exam_folder) / MARKS)
    write_feedback(marks, exam_folder)
    write_report(marks, exam_folder)
    return marks


def _rows(paper, cells):
    names = ("task_number", "task_id", "label", "marks", "out_of", "why", "slip", "followed_through", "by_hand", "answer", "chosen")
    for one in cells:
        row = MarkRow(paper.read.candidate_number, file=paper.name, **dict(zip(names, one)))
        added = paper.added.get(row.task_number) if row.chosen == NOTHING else None
        if added:                       # nothing in the answer cell, but something was written into the question
            row = row._replace(marks=None, by_hand=True, chosen=one_paper.BY_HAND, answer=added,
                               why=f"{BY_HAND_WHY}the answer cell is empty, and this was written into the question.")
        yield row


@contextlib.contextmanager
def _alone(folder):
    """Let no second marking of the same examination begin."""
    with contextlib.ExitStack() as held:
        try:
            held.enter_context(FolderLock(folder, "mark again").held("marks"))
        except Problem as problem:
            if "locked" not in str(problem):
                raise Problem(f"{folder} cannot be written to: allow writing there, or make room, then mark again.") from problem
            raise Problem("This examination is being marked already: wait until that ends, then start again.") from problem
        yield


def _due(exam_folder):
    """Return when the papers were due, by the clock of this computer, or None."""
    due = read_paper(exam_folder).due
    return datetime.datetime.strptime(due, "%Y-%m-%d %H:%M").astimezone() if due else None


# ---- reading

def _read(place, scheme, due):
    """Return the paper of each candidate that counts, and the findings."""
    findings, returns, broken = [], {}, {}
    known = set(scheme.candidates)
    whose = _Whose(scheme)
    for one in incoming.incoming(place):
        if isinstance(one, Finding):
            findings.append(one)
            continue
        read = read_returned(one.content, one.name, one.size)
        number = _in_list(read.candidate_number, known)
        if not number:
            perhaps = "" if read.candidate_number else _in_list(number_in_name(one.name), known)
            if perhaps:
                broken.setdefault(perhaps, []).append(one.name)
            findings += [found._replace(candidate_number=perhaps) for found in read.findings]
            if read.answers or read.code or read.candidate_number:
                findings.append(Finding("", one.name, "unknown candidate", f"There is no candidate {read.candidate_number or 'named'} in this examination; the paper is not marked."))
            continue
        findings += [found._replace(candidate_number=number) for found in read.findings]
        said, own, added = whose.said(number, read, one.name)
        findings += said
        if due and one.time and one.time > due:
            findings.append(Finding(number, one.name, "late", f"The time of the file is {one.time:%Y-%m-%d %H:%M}, after {due.astimezone(one.time.tzinfo):%Y-%m-%d %H:%M}. "
                                    "It is the time that the file carries, not a proof of when it was handed in."))
        mark = hashlib.sha256(one.content).hexdigest()
        returns.setdefault(number, []).append(_Paper(one.name, one.time, mark, _only_asked(number, read, scheme), own, added))
    papers = []
    for number in scheme.candidates:
        theirs = sorted(returns.get(number, ()), key=_rank, reverse=True)
        papers += theirs[:1]
        findings += _other_returns(number, theirs)
        if not theirs and number in broken:
            findings.append(Finding(number, broken[number][0], "not readable", "What came back under this number cannot be read as a paper, so there are no marks: ask for it again."))
        elif not theirs:
            findings.append(Finding(number, "", "not returned", "No paper of this candidate came back."))
    return papers, findings


def _in_list(number, known):
    """Return the candidate number as it stands in the list, or "": 1047 also where the name of a file says 1047-final."""
    while number and number not in known:
        number = number.rpartition("-")[0]
    return number


def _rank(paper):
    """Sort the returns of one candidate: a paper with the candidate's own questions first, then the newest, then by name."""
    return paper.own, paper.time.timestamp() if paper.time else 0.0, paper.name


def _other_returns(number, theirs):
    for other in theirs[1:]:
        first = theirs[0]
        same = " Both are the same, byte for byte." if other.mark == first.mark else ""
        why = "the newest counts" if first.own == other.own else "the one with the candidate's own questions counts"
        yield Finding(number, other.name, "two returns", f"{len(theirs)} papers of this candidate came back; {why}, that is {first.name} "
                      f"({_said_time(first.time)}), not this one ({_said_time(other.time)}). This file is kept as it is.{same}")


def _said_time(time):
    return f"{time:%Y-%m-%d %H:%M:%S}" if time else "no time known"


def _only_asked(number, read, scheme):
    """Return what was read with the answers that the scheme asks for, in its order, and without the texts."""
    asked = [(place, label) for place, entry in enumerate(scheme.papers[number], start=1) for label in entry[2]]
    return Returned(number, {key: read.answers[key] for key in asked if key in read.answers}, {key: read.code[key] for key in asked if key in read.code}, {}, ())


class _Whose:
    """Compares the questions and cells of a returned paper with what the candidate was given."""

    def __init__(self, scheme):
        self._scheme = scheme

    @functools.cached_property
    def _owners(self):
        """Fingerprint of a question → the candidates who were given it."""
        owners = {}
        for number in self._scheme.candidates:
            for mark in self._scheme.fingerprints(number):
                owners.setdefault(mark, []).append(number)
        return owners

    def said(self, number, read, name):
        """Return findings about the questions and cells, whether at least one question is the candidate's own, and what was added to which question."""
        findings, others, own, added = [], {}, 0, {}
        expected = self._scheme.fingerprints(number)

        def add(kind, sentence):
            findings.append(Finding(number, name, kind, sentence))

        for place, mark in enumerate(expected, start=1):
            if place not in read.texts:
                add("cell missing", f"The question of task {place} is not there; its answers are read all the same.")
                continue
            here = fingerprint(read.texts[place])
            if here == mark:
                own += 1
                continue
            owners = self._owners.get(here, ())
            for other in owners:
                others.setdefault(other, []).append(place)
            if not owners:
                lines = self._lines_added(number, place, read)
                if lines:
                    added[place] = "\n".join(lines)[:LONGEST_ANSWER]
                add("text changed", f"The text of task {place} is not what was handed out.{self._added_to(number, place, read, lines)}")
        if others:
            other = min(others, key=lambda one: (-len(others[one]), one))
            places = others[other]
            tasks = "Every question here is" if len(places) == len(expected) else f"The question{'s' if len(places) > 1 else ''} of task {', '.join(map(str, places))} here " + ("are" if len(places) > 1 else "is")
            add("another paper", f"{tasks} that of candidate {other}, not this candidate's own. The answers are marked by this candidate's own mark scheme: find out first whose paper this is.")
        self._about_cells(number, read, add)
        return findings, own > 0 or not others, added

    def _lines_added(self, number, place, read):
        """Return the lines of a question that were not handed out."""
        handed_out = {line.strip() for line in question_text(place, redrawn(self._scheme.task_ids[place - 1], *self._scheme.papers[number][place - 1])).split("\n")}
        return [line.strip() for line in read.texts[place].split("\n") if line.strip() and line.strip() not in handed_out]

    def _added_to(self, number, place, read, lines):
        """Say which lines were added to a question, and whether an answer of the task is missing."""
        missing = [label for label in self._scheme.papers[number][place - 1][2] if not (read.answers.get((place, label)) or read.code.get((place, label)))]
        said = f" There stands: “{quoted(' / '.join(lines))}”." if lines else ""
        return f"{said} Answer {', '.join(f'({label})' for label in missing)} is empty and waits for an assessor: perhaps it stands in the question." if lines and missing else said

    def _about_cells(self, number, read, add):
        asked = {(place, label) for place, entry in enumerate(self._scheme.papers[number], start=1) for label in entry[2]}
        there = read.answers.keys() | read.code.keys()
        for place, label in sorted(asked - there):
            add("cell missing", f"The cell of answer {place} ({label}) is not there; it counts as not answered.")
        for place, label in sorted(there - asked):
            add("cell added", f"There is no answer {place} ({label}) in this candidate's paper; what stands there is not marked.")
        for place in sorted(read.texts.keys() - set(range(1, len(self._scheme.papers[number]) + 1))):
            add("cell added", f"There is no task {place} in this candidate's paper.")


# ---- marking

def _why_not_run(run_code, exam_folder, place):
    """Return why code answers are not run, or ""."""
    if run_code is False:
        return "It was asked not to run code."
    here = isolation_here()
    if not here.possible:
        return here.reason
    if is_shown(exam_folder) or is_shown(place):
        return "The examination lies among the files of Python, where code could read it: move it to another folder."
    return ""


@functools.cache
def _program():
    """Return a fingerprint of the program itself: what was marked by another version is marked again."""
    home = Path(gypsumkit.__file__).parent
    total = hashlib.sha256()
    for path in sorted(home.rglob("*.py")):
        total.update(path.relative_to(home).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return total.hexdigest()


def _key(paper, scheme, how_code):
    """Return the fingerprint of a paper with its mark scheme, the program, and how code is run."""
    text = json.dumps([paper.mark, paper.read.candidate_number, scheme.entries(paper.read.candidate_number), how_code if paper.read.code else "", _program()])
    return hashlib.sha256(text.encode()).hexdigest()


def _job(scheme, why_not_run, limits, paper):
    return {"entries": scheme.entries(paper.read.candidate_number), "answers": paper.read.answers, "code": paper.read.code, "why_not_run": why_not_run,
            "limits": limits}


def _mark_the_rest(jobs, job_of, journal, executor, workers, progress):
    """Mark every paper that the journal does not know yet."""
    left = [key for key in jobs if key not in journal.results]
    done = len(jobs) - len(left)
    progress(done, len(jobs))
    chunks = _chunks(left, jobs)

    def keep(keys, results):
        nonlocal done
        journal.add(zip(keys, results))
        journal.results.update(zip(keys, results))
        done += len(keys)
        progress(done, len(jobs))

    def work(keys):
        return [job_of(jobs[key]) for key in keys]

    if executor is not None:
        _through(executor, 64, chunks, work, keep)
    elif len(left) <= FEW or workers == 1:
        for keys in chunks:
            keep(keys, mark_papers(work(keys)))
    else:
        _with_processes(workers or cores(), chunks, work, keep)


def _chunks(left, jobs):
    """Put papers together for a worker; one with code goes alone, since it may take long."""
    chunks, now = [], []
    for key in left:
        if any(jobs[key].read.code.values()):
            chunks.append([key])
            continue
        now.append(key)
        if len(now) == TOGETHER:
            chunks.append(now)
            now = []
    return [*chunks, now] if now else chunks


def _through(executor, most_waiting, chunks, work, keep):
    """Give the chunks to an executor, never too many at a time, and keep the results as they come."""
    waiting, rest = {}, deque(chunks)
    try:
        while waiting or rest:
            while rest and len(waiting) < most_waiting:
                keys = rest.popleft()
                waiting[executor.submit(mark_papers, work(keys))] = keys
            for ready in concurrent.futures.wait(waiting, return_when=concurrent.futures.FIRST_COMPLETED).done:
                keep(waiting[ready], ready.result())
                del waiting[ready]
    finally:
        for future in waiting:
            future.cancel()


def _with_processes(many, chunks, work, keep):
    """Mark with processes of our own.

    A paper may take its process, and with it all of them, away. What is left then is halved until that paper stands alone; it is marked by hand.
    """
    kept = set()

    def keeping(keys, results):
        keep(keys, results)
        kept.update(keys)

    with contextlib.suppress(concurrent.futures.BrokenExecutor):
        with _processes(min(many, len(chunks))) as pool:
            _through(pool, 4 * many, chunks, work, keeping)
    left = [[key] for keys in chunks for key in keys if key not in kept]
    if left and left == chunks and len(left) == 1:
        keep(left[0], [_unmarked(work(left[0])[0])])
        return
    for half in (left[:len(left) // 2], left[len(left) // 2:]):
        if half:
            _with_processes(many, half, work, keep)


def _unmarked(job):
    rows = [[place, task_id, part.label, None, part.marks, BY_HAND_WHY + "the program broke off over this paper.", "", False, True,
             job["answers"].get((place, part.label), "") or job["code"].get((place, part.label), ""), one_paper.BY_HAND]
            for place, (task_id, *entry) in enumerate(job["entries"], start=1) for part in redrawn(task_id, *entry).parts]
    return [rows, [["not marked", "The program broke off over this paper: mark it by hand."]]]


@contextlib.contextmanager
def _processes(many):
    pool = concurrent.futures.ProcessPoolExecutor(many, mp_context=multiprocessing.get_context("spawn"), initializer=_begin_worker)
    try:
        yield pool
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _begin_worker():
    """Let a worker end with the process that started it, and leave Ctrl-C to that one."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()

    def follow():
        multiprocessing.connection.wait([parent.sentinel])
        os._exit(1)

    threading.Thread(target=follow, daemon=True).start()


def cores():
    """Return how many cores this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
