"""The paper as the assessor describes it: its tasks, its blueprint (objective by level by marks), pass mark and grade boundaries."""

import datetime
import json
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from gypsumkit.files import write_new
from gypsumkit.marking.drawing import SETS
from gypsumkit.marking.task_bank import all_tasks, find_task
from gypsumkit.marking.tasks import LEVELS
from gypsumkit.problems import Problem
from gypsumkit.quiz import bank

FILE = "paper.json"
MOST_TASKS = 100
MOST_MINUTES = 600
MINUTES_PER_MARK = 1.5                       # what a paper gets when nobody says how long it lasts: ours
GRADES = (("very good", 0.85), ("good", 0.70), ("pass", 0.50))      # shares of the marks, until the assessor writes others: ours
AIDS = "a calculator, and the lessons of the course"
MOST_BYTES = 1_000_000


class Boundary(NamedTuple):
    """A grade, and the mark from which on it is given."""

    grade: str
    from_mark: float


@dataclass(frozen=True)
class Paper:
    """A paper as described in ``paper.json``, checked.

    Parameters
    ----------
    title : str
        Of the paper.
    task_ids : tuple of str
        In their order.
    minutes : int
        Without extra time.
    pass_mark : float
        Marks from which on it is passed.
    boundaries : tuple of Boundary
        From the highest grade down; the lowest begins at the pass mark.
    set_name : str
        "first" or "resit".
    due : str
        When papers have to be back, ``"2027-03-05 16:00"``, or empty.
    aids : str
        What candidates may use, printed on every paper, or empty.
    """

    title: str
    task_ids: tuple
    minutes: int
    pass_mark: float
    boundaries: tuple
    set_name: str = "first"
    due: str = ""
    aids: str = ""
    marks: int = field(init=False)

    def __post_init__(self):
        if not isinstance(self.title, str) or not self.title.strip() or len(self.title) > 120 or not self.title.isprintable():
            raise Problem("The title of the paper is one line of 1 to 120 letters.")
        if not isinstance(self.minutes, int) or isinstance(self.minutes, bool) or not 1 <= self.minutes <= MOST_MINUTES:
            raise Problem(f"The minutes of the paper are a whole number from 1 to {MOST_MINUTES}.")
        if not isinstance(self.aids, str) or len(self.aids) > 200 or self.aids and not self.aids.isprintable():
            raise Problem("What candidates may use (aids) is one line of at most 200 letters.")
        if self.set_name not in SETS:
            raise Problem(f"The set of the paper is {' or '.join(SETS)}, not “{str(self.set_name)[:20]}”.")
        if not 1 <= len(self.task_ids) <= MOST_TASKS:
            raise Problem(f"A paper has 1 to {MOST_TASKS} tasks.")
        twice = next((one for one in self.task_ids if self.task_ids.count(one) > 1), None)
        if twice:
            raise Problem(f"{twice} stands in the paper twice.")
        object.__setattr__(self, "marks", sum(task.marks for task in self.tasks))
        if self.due:
            try:
                datetime.datetime.strptime(self.due, "%Y-%m-%d %H:%M")
            except (ValueError, TypeError):
                raise Problem(f"“{str(self.due)[:30]}” is not a moment: write when papers are due as 2027-03-05 16:00.") from None
        self._check_grades()

    def _check_grades(self):
        for what, mark in (("pass mark", self.pass_mark), *((f"boundary of “{one.grade}”", one.from_mark) for one in self.boundaries)):
            if isinstance(mark, bool) or not isinstance(mark, (int, float)) or not 0 < mark <= self.marks:
                raise Problem(f"The {what} is a number above 0 and at most {self.marks}, the marks of the paper; {str(mark)[:20]} is not.")
        names = [one.grade for one in self.boundaries]
        if any(not isinstance(one, str) or not one.strip() or len(one) > 40 for one in names) or len(set(names)) != len(names):
            raise Problem("Every grade has a name of its own, of at most 40 letters.")
        for higher, lower in zip(self.boundaries, self.boundaries[1:]):
            if not higher.from_mark > lower.from_mark:
                raise Problem(f"The grades go from the highest down: “{higher.grade}” from {higher.from_mark:g} marks must begin above “{lower.grade}” from {lower.from_mark:g}.")
        if self.boundaries and self.boundaries[-1].from_mark != self.pass_mark:
            raise Problem(f"The lowest grade, “{self.boundaries[-1].grade}”, begins at {self.boundaries[-1].from_mark:g} marks, the pass mark is {self.pass_mark:g}: make them the same.")

    @property
    def tasks(self):
        """The tasks in their order."""
        return [find_task(one) for one in self.task_ids]

    def grade(self, marks):
        """Return the grade of so many marks, "not passed" below the pass mark."""
        named = next((one.grade for one in self.boundaries if marks >= one.from_mark), None)
        return named or ("pass" if marks >= self.pass_mark else "not passed")

    def minutes_with(self, extra_time_percent):
        """Return the minutes of a candidate, extra time rounded up to whole minutes."""
        return -int(-self.minutes * (100 + extra_time_percent) // 100)

    def as_json(self):
        """Return the text of ``paper.json``."""
        return json.dumps({
            "title": self.title, "set": self.set_name, "minutes": self.minutes, "due": self.due, "aids": self.aids,
            "tasks": [{"task": task.id, "marks": task.marks} for task in self.tasks],
            "pass_mark": self.pass_mark, "grades": [{"grade": one.grade, "from_mark": one.from_mark} for one in self.boundaries],
        }, indent=1, ensure_ascii=False) + "\n"


def new_paper(title, task_ids, minutes=None, set_name="first", due="", aids=AIDS):
    """Return a paper with the usual pass mark and grades.

    Parameters
    ----------
    title : str
        Of the paper.
    task_ids : sequence of str
        In their order.
    minutes : int, optional
        One and a half for each mark when not given.
    set_name, due, aids : str
        As in `Paper`.

    Returns
    -------
    Paper
    """
    task_ids = tuple(find_task(one).id for one in task_ids)
    marks = sum(find_task(one).marks for one in task_ids)
    minutes = max(5, -int(-MINUTES_PER_MARK * marks // 5) * 5) if minutes is None else minutes
    starts = {}
    for grade, share in GRADES:
        starts.setdefault(-int(-share * marks // 1), grade)
    boundaries = tuple(Boundary(grade, start) for start, grade in sorted(starts.items(), reverse=True))
    return Paper(title, task_ids, minutes, boundaries[-1].from_mark, boundaries, set_name, due, aids)


def read_paper(folder):
    """Read ``paper.json`` of an examination.

    Parameters
    ----------
    folder : path
        The folder of the examination.

    Returns
    -------
    Paper

    Raises
    ------
    Problem
        When it is missing, or something in it is not as it must be.
    """
    path = Path(folder) / FILE
    try:
        if path.stat().st_size > MOST_BYTES:
            raise Problem(f"{path} has more than {MOST_BYTES // 1_000_000} MB; no paper is described in so many words.")
        read = json.loads(path.read_text(encoding="utf-8-sig"))
    except FileNotFoundError:
        raise Problem(f"There is no {FILE} in {folder}: begin with 'python3 -m gypsumkit paper {folder} --new --title … --tasks …'.") from None
    except OSError as error:
        raise Problem(f"{path} cannot be read ({error.strerror}).") from None
    except json.JSONDecodeError as error:
        raise Problem(f"{FILE}, line {error.lineno}: this is not JSON ({error.msg.lower()}); a comma or a quotation mark may be missing.") from None
    except (ValueError, RecursionError):
        raise Problem(f"{FILE} is not JSON in UTF-8: write it anew with --new in another folder, and compare.") from None
    return _described(read)


_KEYS = ("title", "set", "minutes", "due", "aids", "tasks", "pass_mark", "grades")


def _described(read):
    if not isinstance(read, dict):
        raise Problem(f"{FILE} holds one object with {', '.join(_KEYS)}.")
    for name in read:
        if name not in _KEYS:
            raise Problem(f"{FILE}: “{str(name)[:40]}” is not part of a paper; it has {', '.join(_KEYS)}.")
    for name in _KEYS:
        if name not in read and name not in ("due", "set", "aids"):
            raise Problem(f"{FILE}: {name} is missing.")
    task_ids = []
    for place, one in enumerate(_list(read, "tasks"), start=1):
        if not isinstance(one, dict) or set(one) != {"task", "marks"}:
            raise Problem(f'{FILE}: task {place} is written as {{"task": "T02-1", "marks": 4}}.')
        task = find_task(one["task"])
        if one["marks"] != task.marks:
            raise Problem(f"{FILE}: {task.id} has {task.marks} marks, those of its parts; {str(one['marks'])[:10]} is written there.")
        task_ids.append(task.id)
    boundaries = []
    for place, one in enumerate(_list(read, "grades"), start=1):
        if not isinstance(one, dict) or set(one) != {"grade", "from_mark"}:
            raise Problem(f'{FILE}: grade {place} is written as {{"grade": "good", "from_mark": 28}}.')
        boundaries.append(Boundary(one["grade"], one["from_mark"]))
    try:
        return Paper(read["title"], tuple(task_ids), read["minutes"], read["pass_mark"], tuple(boundaries), read.get("set", "first"), read.get("due", ""), read.get("aids", ""))
    except Problem as problem:
        raise Problem(f"{FILE}: {str(problem)[0].lower()}{str(problem)[1:]}") from None


def _list(read, name):
    if not isinstance(read[name], list):
        raise Problem(f"{FILE}: {name} is a list.")
    return read[name]


def write_paper(folder, paper):
    """Write ``paper.json`` into a folder where none is yet."""
    write_new(Path(folder) / FILE, paper.as_json().encode())


# ---------------------------------------------------------------------------------------------
# The blueprint

class Blueprint(NamedTuple):
    """Marks by objective and level.

    `rows` has (objective id, its words, {level: marks}) in the order of lessons; `totals` the marks of each level; `expected` the
    marks that candidates are expected to reach; `remarks` what the assessor may want to know.
    """

    rows: tuple
    totals: dict
    marks: int
    expected: float
    remarks: tuple


def blueprint(tasks):
    """Return the blueprint of a choice of tasks.

    Parameters
    ----------
    tasks : sequence of Task
        The tasks of a paper.

    Returns
    -------
    Blueprint
    """
    words, rows = {one.id: one.text for one in bank.objectives()}, {}
    for task in tasks:
        if task.objective not in words:
            raise Problem(f"{task.id}: there is no objective {task.objective}.")
        rows.setdefault(task.objective, dict.fromkeys(LEVELS, 0))[task.level] += task.marks
    totals = {level: sum(row[level] for row in rows.values()) for level in LEVELS}
    marks = sum(totals.values())
    expected = sum(task.marks * task.difficulty for task in tasks)
    remarks = [f"No task asks to {level}." for level in LEVELS if not totals[level]]
    by_hand = sum(part.marks for task in tasks for part in task.parts if part.kind == "words")
    if by_hand:
        remarks.append(f"{by_hand} of {marks} marks are given by hand: answers in words.")
    in_code = sum(part.marks for task in tasks for part in task.parts if part.kind == "code")
    if in_code:
        remarks.append(f"{in_code} of {marks} marks are for answers in code, which run apart from everything else, or are marked by hand.")
    if marks and not 0.45 <= expected / marks <= 0.80:
        remarks.append(f"Candidates are expected to reach {100 * expected / marks:.0f} % of the marks: rather {'hard' if expected / marks < 0.45 else 'easy'}.")
    return Blueprint(tuple((one, words[one], rows[one]) for one in sorted(rows)), totals, marks, expected, tuple(remarks))


def blueprint_lines(paper):
    """Return the blueprint of a paper as lines of text, with pass mark and grades."""
    made = blueprint(paper.tasks)
    head = f"{'objective':<9} " + " ".join(f"{level:>13}" for level in LEVELS) + f" {'marks':>6}"
    lines = [f"{paper.title}: {len(paper.task_ids)} tasks, {paper.marks} marks, {paper.minutes} min, {paper.set_name} set", "", head]
    for objective, words, row in made.rows:
        lines.append(f"{objective:<9} " + " ".join(f"{row[level] or '':>13}" for level in LEVELS) + f" {sum(row.values()):>6}  {words}")
    lines.append(f"{'all':<9} " + " ".join(f"{made.totals[level]:>13}" for level in LEVELS) + f" {made.marks:>6}")
    grades = ", ".join(f"{one.grade} from {one.from_mark:g}" for one in paper.boundaries)
    lines += ["", f"Passed from {paper.pass_mark:g} of {paper.marks} marks" + (f"; {grades}." if grades else "."),
              f"Expected by the difficulty intended: {made.expected:.0f} marks."]
    return [*lines, *made.remarks]


def choose(lessons, marks):
    """Choose tasks from some lessons that add up to a number of marks, spread over lessons and levels as evenly as can be.

    Parameters
    ----------
    lessons : sequence of str
        Such as ``["02", "5", "7-9"]``.
    marks : int
        Wanted.

    Returns
    -------
    tuple of str
        Task ids, lesson by lesson.

    Raises
    ------
    Problem
        When a lesson has no tasks, or they cannot add up to it.
    """
    wanted, single = [], []
    for one in lessons:
        span = re.fullmatch(r"(\d{1,2})\s*[-–]\s*(\d{1,2})", str(one), re.A)
        single += [f"{number:02d}" for number in range(int(span[1]), int(span[2]) + 1)] if span and int(span[1]) <= int(span[2]) else [one]
    for one in single:
        if not re.fullmatch(r"\d{1,2}", str(one), re.A) or not any(task.lesson == f"{int(one):02d}" for task in all_tasks().values()):
            raise Problem(f"There are no tasks on lesson {str(one)[:20]}: there are some on {', '.join(sorted({task.lesson for task in all_tasks().values()}))}.")
        if f"{int(one):02d}" not in wanted:
            wanted.append(f"{int(one):02d}")
    offered = [task for task in all_tasks().values() if task.lesson in wanted]
    most = sum(task.marks for task in offered)
    if not isinstance(marks, int) or not 1 <= marks <= most:
        raise Problem(f"The tasks on these lessons have {most} marks together; {marks} cannot be chosen from them.")
    taken = _spread(offered, marks)
    if taken is None:
        raise Problem(f"The tasks on these lessons cannot add up to {marks} marks; try {marks - 1} or {marks + 1}.")
    return tuple(task.id for task in offered if task in taken)


def _spread(offered, marks):
    """Take the task whose lesson, then level, has the fewest marks so far, as long as what is left can still be made up."""
    taken, left = [], marks
    while left:
        rest = [task for task in offered if task not in taken]

        def so_far(task):
            by_lesson = sum(one.marks for one in taken if one.lesson == task.lesson)
            by_level = sum(one.marks for one in taken if one.level == task.level)
            by_objective = sum(one.marks for one in taken if one.objective == task.objective)
            return by_lesson, by_objective, by_level, offered.index(task)
        fitting = [task for task in rest if task.marks <= left and left - task.marks in _sums([one.marks for one in rest if one is not task])]
        if not fitting:
            return None
        taken.append(min(fitting, key=so_far))
        left -= taken[-1].marks
    return taken


def _sums(numbers):
    """Return every sum that some of these numbers make."""
    sums = {0}
    for number in numbers:
        sums |= {one + number for one in sums}
    return sums
