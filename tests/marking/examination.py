"""A small examination in a folder of its own, and papers answered in it, for the tests."""

import json
import os
import time

from gypsumkit.marking.blueprint import new_paper, write_paper
from gypsumkit.marking.one_paper import mark_papers
from gypsumkit.marking.papers import write_papers
from gypsumkit.marking.roster import HEADER
from gypsumkit.marking.scheme import Scheme
from gypsumkit.marking.task_bank import all_tasks, find_task

HANDED_IN = time.mktime((2027, 3, 5, 15, 0, 0, 0, 0, -1))
DUE = "2027-03-05 16:00"


def tasks_with(*kinds, most=20):
    """Return ids of tasks that have only parts of these kinds, at least one."""
    return [task.id for task in all_tasks().values() if {part.kind for part in task.parts} <= set(kinds)][:most]


def tasks_in_code():
    """Return ids of tasks that have a part in code."""
    return [task.id for task in all_tasks().values() if any(part.kind == "code" for part in task.parts)]


def examination(folder, candidates, task_ids, title="Invented paper"):
    """Make an examination with its papers and return its scheme."""
    folder.mkdir(parents=True, exist_ok=True)
    write_paper(folder, new_paper(title, task_ids, due=DUE))
    rows = [f"{number},Nobody {number},0" for number in candidates]
    (folder / "roster.csv").write_text("\r\n".join([",".join(HEADER), *rows]) + "\r\n", encoding="utf-8")
    write_papers(folder)
    return Scheme.load(folder)


def blank(folder, number):
    """Return the paper of a candidate as it was handed out, as parsed JSON."""
    return json.loads((folder / "papers" / f"{number}.ipynb").read_bytes())


def cell(paper, name):
    """Return the cell with an id."""
    return next(one for one in paper["cells"] if one["id"] == name)


def code_for(key):
    """Return code whose result is a key."""
    return f"answer = {key.partition(' ')[0]}"


def answered(folder, scheme, number, wrong=(), change=None):
    """Return a paper with the right answers, except where told: (task, label) → text."""
    wrong = dict(wrong)
    paper = blank(folder, number)
    for place, (task_id, _, _, keys) in enumerate(scheme.entries(number), start=1):
        kinds = dict(zip("abcdefgh", (part.kind for part in find_task(task_id).parts)))
        for label, key in keys.items():
            one = cell(paper, f"answer-{place}-{label}")
            text = wrong.get((place, label), code_for(key) if kinds[label] == "code" else key)
            head = one["source"].split("\n")[0]
            one["source"] = f"{head}\n\n{text}"
    if change:
        change(paper)
    return json.dumps(paper, ensure_ascii=False).encode("utf-8", errors="surrogatepass")


def hand_in(folder, name, content, at=HANDED_IN):
    """Put a file among those that came back."""
    path = folder / "returned" / name
    path.write_bytes(content)
    os.utime(path, (at, at))
    return path


def break_off(jobs):
    """Mark papers as a worker does, but end the process over the answer 4 km."""
    if any(job["answers"].get((1, "a")) == "4 km" for job in jobs):
        os._exit(3)
    return mark_papers(jobs)
