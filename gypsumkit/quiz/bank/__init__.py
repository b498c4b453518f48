"""The question bank: one module a lesson, found by its name.

A module ``lesson_02.py`` may define the lists OBJECTIVES, QUESTIONS, PREDICTIONS, NOTES, EXERCISES and BENCH_TASKS.
"""

import importlib
import pkgutil
import re
import sys
from functools import lru_cache

from gypsumkit.problems import Problem, nearest

LISTS = ("OBJECTIVES", "QUESTIONS", "PREDICTIONS", "NOTES", "EXERCISES", "BENCH_TASKS")
_LETTERS = {"OBJECTIVES": "O", "QUESTIONS": "Q", "PREDICTIONS": "P", "NOTES": "N", "EXERCISES": "E", "BENCH_TASKS": "B"}
_KINDS = {"OBJECTIVES": "objective", "QUESTIONS": "question", "PREDICTIONS": "prediction", "NOTES": "note",
          "EXERCISES": "exercise", "BENCH_TASKS": "bench task"}


class Bank:
    """The content of all lesson modules of one package; a module is imported when first asked for.

    Parameters
    ----------
    package : module
        The package whose modules are named ``lesson_NN``.
    """

    def __init__(self, package):
        self.package = package
        self._lessons = {}

    def lessons(self):
        """Return the lesson numbers that have a module, in order, as ``["00", "02"]``."""
        names = (module.name for module in pkgutil.iter_modules(self.package.__path__))
        return sorted(name[7:] for name in names if re.fullmatch(r"lesson_\d{2}", name))

    def objectives(self, lesson=None):
        """Return the objectives of one lesson, or of all."""
        return self._all("OBJECTIVES", lesson)

    def questions(self, lesson=None):
        """Return the questions of one lesson, or of all."""
        return self._all("QUESTIONS", lesson)

    def predictions(self, lesson=None):
        """Return the predictions of one lesson, or of all."""
        return self._all("PREDICTIONS", lesson)

    def notes(self, lesson=None):
        """Return the prompts to write about of one lesson, or of all."""
        return self._all("NOTES", lesson)

    def exercises(self, lesson=None):
        """Return the exercises of one lesson, or of all."""
        return self._all("EXERCISES", lesson)

    def bench_tasks(self, lesson=None):
        """Return the bench tasks of one lesson, or of all."""
        return self._all("BENCH_TASKS", lesson)

    def question(self, question_id):
        """Return the question or prediction with this id, or raise a Problem."""
        return self._one("PREDICTIONS" if "-P" in str(question_id) else "QUESTIONS", question_id)

    def note(self, note_id):
        """Return the note with this id, or raise a Problem."""
        return self._one("NOTES", note_id)

    def exercise(self, exercise_id):
        """Return the exercise with this id, or raise a Problem."""
        return self._one("EXERCISES", exercise_id)

    def bench_task(self, task_id):
        """Return the bench task with this id, or raise a Problem."""
        return self._one("BENCH_TASKS", task_id)

    def _all(self, name, lesson):
        lessons = self.lessons() if lesson is None else [_lesson_number(lesson)]
        return [item for number in lessons for item in self._lesson(number)[name]]

    def _one(self, name, wanted):
        place = re.fullmatch(r"L(\d{2})-[A-Z]\d+", str(wanted))
        if not place:
            raise Problem(f"{wanted!r} is not an id: write one like L02-{_LETTERS[name]}1.")
        items = {item.id: item for item in self._lesson(place.group(1))[name]}
        if wanted not in items:
            guess = nearest(wanted, items)
            raise Problem(f"There is no {_KINDS[name]} {wanted}" + (f": do you mean {guess}?" if guess else f" in lesson {place.group(1)}."))
        return items[wanted]

    def _lesson(self, number):
        """Return the lists of one lesson, checked, importing its module once."""
        if number not in self._lessons:
            if number not in self.lessons():
                raise Problem(f"There is no lesson {number} in the question bank: there is {', '.join(self.lessons()) or 'none yet'}.")
            module = importlib.import_module(f"{self.package.__name__}.lesson_{number}")
            self._lessons[number] = {name: tuple(getattr(module, name, ())) for name in LISTS}
            _check_ids(number, self._lessons[number])
        return self._lessons[number]


def _lesson_number(lesson):
    if not re.fullmatch(r"\d{1,2}", str(lesson)):
        raise Problem(f"{lesson!r} is not a lesson number: write one like '02'.")
    return f"{int(lesson):02d}"


def _check_ids(number, lists):
    """Refuse ids of another lesson, of another kind, or used twice; ids of two lessons can then never be the same."""
    seen = set()
    for name, items in lists.items():
        for item in items:
            if not re.fullmatch(rf"L{number}-{_LETTERS[name]}\d+", item.id):
                raise Problem(f"{item.id} stands in {name} of lesson {number}: its id must begin with L{number}-{_LETTERS[name]}.")
            if item.id in seen:
                raise Problem(f"{item.id} is used twice in lesson {number}.")
            seen.add(item.id)


@lru_cache(maxsize=1)
def the_bank():
    """Return the bank of the course."""
    return Bank(sys.modules[__name__])


def __getattr__(name):
    """Offer the methods of the course's bank as functions: ``bank.question("L02-Q1")``."""
    if not name.startswith("_") and hasattr(Bank, name):
        return getattr(the_bank(), name)
    raise AttributeError(f"the question bank has no {name!r}")
