"""The tasks of papers: one module a lesson, each with a list TASKS, found by its name."""

import importlib
import pkgutil
import re
from functools import lru_cache

from gypsumkit.problems import Problem, nearest


@lru_cache(maxsize=1)
def all_tasks():
    """Return every task by its id, lesson by lesson.

    Returns
    -------
    dict of str to Task
    """
    found = {}
    for number in lessons():
        for task in importlib.import_module(f"{__name__}.lesson_{number}").TASKS:
            if task.lesson != number or task.objective[1:3] != number:
                raise Problem(f"{task.id} stands in lesson {number}: its id begins with T{number}, its objective with L{number}.")
            if task.id in found:
                raise Problem(f"{task.id} is used twice.")
            found[task.id] = task
    return found


def lessons():
    """Return the numbers of the lessons that have tasks, in order, as ``["00", "01"]``."""
    return sorted(module.name[7:] for module in pkgutil.iter_modules(__path__) if re.fullmatch(r"lesson_\d{2}", module.name))


def find_task(task_id):
    """Return the task with this id, or raise a Problem that names the nearest."""
    tasks = all_tasks()
    wanted = str(task_id).strip().upper()
    if wanted not in tasks:
        short = re.fullmatch(r"T?(\d{1,2})-0*(\d{1,3})", wanted, re.A)
        meant = f"T{int(short[1]):02d}-{short[2]}" if short else None
        guess = meant if meant in tasks else nearest(wanted, tasks)
        shown = "".join(one if one.isprintable() else "?" for one in wanted[:40])
        raise Problem(f"There is no task {shown}" + (f"; perhaps {guess} is meant." if guess else "; a task is named like T02-1."))
    return tasks[wanted]
