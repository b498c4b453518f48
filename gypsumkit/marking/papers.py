"""The papers themselves: one notebook for each candidate, and the mark scheme that stays behind.

A paper is a plain notebook. It holds the questions and room for answers; no key, no seed, nothing about another candidate.
"""

import json
import os
from pathlib import Path
from typing import NamedTuple

from gypsumkit.files import write_whole, writing_into
from gypsumkit.marking import blueprint, roster
from gypsumkit.marking.drawing import seed_for
from gypsumkit.marking.scheme import FILE as SCHEME_FILE
from gypsumkit.marking.scheme import PRIVATE, Scheme, fingerprint, secret_of
from gypsumkit.problems import Problem

PAPERS, RETURNED, RESIT = "papers", "returned", "resit"
KERNEL = {"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"}}

RULES = """\
- Your numbers are your own: another candidate has others, and works just as long.
- Write every answer into its own cell, **below** the line that names it. Double-click a cell, or choose it and press Enter, to write in it.
- A number: write the result with its unit in the last line of the cell. You may write your working above it; it is not needed.
- A choice: write the letter. An order: write the letters, the first step first.
- Part marks: all that apply earns by what is judged correctly beyond guessing; an order by the steps in their place, or by the longest row of steps that follow each other correctly.
- A later part is worked from your own earlier result: if that was wrong, you can still have the marks for the method.
- Change nothing else, and do not rename the file. Save it, and hand it in."""

HOW = {
    "number": "", "choice": "Write one letter.", "several": "Write the letters of all that apply.", "order": "Write all letters in order.",
    "recipe": "Use the lines in the answer cell.", "code": "Answer in code, in the cell below: let it print your result last.",
    "words": "Answer in one or two sentences.",
}


def answer_line(task_number, label, in_code=False):
    """Return the first line of an answer cell."""
    return f"# Answer {task_number} ({label}), in code:" if in_code else f"**Answer {task_number} ({label}):**"


def _marks(many):
    return f"{many} mark" if many == 1 else f"{many} marks"


def question_text(task_number, drawn):
    """Return a question as it stands in the paper, in Markdown.

    Parameters
    ----------
    task_number : int
        Its place in the paper, from 1.
    drawn : DrawnTask
        The task with the numbers of the candidate.

    Returns
    -------
    str
    """
    lines = [f"## Task {task_number} — {drawn.title}", "", drawn.text]
    for part in drawn.parts:
        how = f" {HOW[part.kind]}" if HOW[part.kind] else ""
        lines += ["", f"**({part.label})** {part.prompt}{how} *({_marks(part.marks)})*"]
        if part.lines and part.kind != "recipe":
            lines += ["", *(f"- {line}" for line in part.lines)]
    return "\n".join(lines)


def front_text(paper, candidate):
    """Return the first cell of a paper, in Markdown.

    Parameters
    ----------
    paper : Paper
        What is written.
    candidate : Candidate
        For whom; the name is not used.

    Returns
    -------
    str
    """
    minutes = paper.minutes_with(candidate.extra_time_percent)
    extra = f" ({paper.minutes} min and {minutes - paper.minutes} min extra time)" if minutes > paper.minutes else ""
    aids = f"\n\nAllowed: {paper.aids}" if paper.aids else ""
    due = f"\n\nHand in by: {paper.due}" if paper.due else ""
    return (f"# {paper.title}\n\nCandidate number: {candidate.number}\n\nTime: {minutes} min{extra}\n\n"
            f"{len(paper.task_ids)} tasks, {_marks(paper.marks)}{aids}{due}\n\n{RULES}")


def _text_cell(name, text):
    return {"cell_type": "markdown", "id": name, "metadata": {}, "source": text}


def _answer_cell(task_number, part):
    name, first = f"answer-{task_number}-{part.label}", answer_line(task_number, part.label, part.kind == "code")
    if part.kind == "code":
        return {"cell_type": "code", "execution_count": None, "id": name, "metadata": {}, "outputs": [], "source": first + "\n"}
    blanks = "".join(f"- {line} \n" for line in part.lines) if part.kind == "recipe" else ""
    return _text_cell(name, f"{first}\n\n{blanks}")


def notebook(paper, candidate, drawn):
    """Return a paper as the text of a notebook.

    Parameters
    ----------
    paper : Paper
        What is written.
    candidate : Candidate
        For whom.
    drawn : sequence of DrawnTask
        The tasks with the numbers of this candidate.

    Returns
    -------
    bytes
    """
    cells = [_text_cell("front", front_text(paper, candidate))]
    for number, task in enumerate(drawn, start=1):
        cells.append(_text_cell(f"task-{number}", question_text(number, task)))
        cells += [_answer_cell(number, part) for part in task.parts]
    made = {"cells": cells, "metadata": KERNEL, "nbformat": 4, "nbformat_minor": 5}
    return (json.dumps(made, indent=1, ensure_ascii=False) + "\n").encode()


class Written(NamedTuple):
    """What was written: numbers of new papers, how many were there already, and where."""

    new: tuple
    kept: int
    folder: Path


def described(paper):
    """Return the fingerprint of what the papers of all candidates share; pass mark and grades are not part of it."""
    return fingerprint(json.dumps([paper.title, paper.set_name, paper.minutes, paper.due, paper.aids, list(paper.task_ids)]))


def write_papers(folder):
    """Write the papers and the mark scheme of an examination; papers that are there already stay as they are.

    Parameters
    ----------
    folder : path
        The folder of the examination, with ``paper.json`` and ``roster.csv``.

    Returns
    -------
    Written

    Raises
    ------
    Problem
        When the description or the roster is not as it must be, when it was changed after papers were written, or when every
        candidate has a paper already.
    """
    folder = Path(folder)
    paper, candidates = blueprint.read_paper(folder), roster.read_roster(folder)
    papers = folder / PAPERS
    there = {path.stem for path in papers.glob("*.ipynb")} if papers.is_dir() else set()
    scheme = _scheme_of(folder, paper, there)
    missing = [one for one in candidates if one.number not in there]
    if not missing:
        raise Problem(f"The papers in {papers} are handed out and are not written over: make a new folder for a new examination, or --set resit for a second set.")
    secret = secret_of(folder)
    made = {}
    for candidate in missing:
        if candidate.number in scheme.papers:                # written before, and moved away: the same paper again
            made[candidate.number] = notebook(paper, candidate, scheme.drawn(candidate.number))
            continue
        drawn = [task.drawn(seed_for(secret, candidate.number, task.id, paper.set_name)) for task in paper.tasks]
        scheme.add(candidate.number, drawn, [question_text(number, task) for number, task in enumerate(drawn, start=1)])
        made[candidate.number] = notebook(paper, candidate, drawn)
    scheme.save(folder)
    with writing_into(papers, "the folder of the papers"):
        papers.mkdir(exist_ok=True)
        (folder / RETURNED).mkdir(exist_ok=True)
        for number, content in made.items():
            write_whole(papers / f"{number}.ipynb", content)
    return Written(tuple(made), len(there & {one.number for one in candidates}), papers)


def _scheme_of(folder, paper, there):
    """Return the mark scheme that papers are added to, once it fits what is described now."""
    path = folder / PRIVATE / SCHEME_FILE
    if os.path.lexists(path):
        scheme = Scheme.load(folder)
        if scheme.description != described(paper):
            raise Problem(f"{blueprint.FILE} was changed after papers were written (title, tasks, minutes, set, aids or due): put it back as it was, make a new folder, "
                          f"or, if nothing was handed out, take away {path} and the papers.")
        return scheme
    if there:
        raise Problem(f"There are papers in {folder / PAPERS} and no mark scheme beside them: put the private folder back, or begin in a new folder.")
    return Scheme(paper.set_name, paper.task_ids, {}, described(paper))


def make_resit(folder):
    """Make the folder of the resit inside that of an examination: the same tasks and roster, other numbers.

    Parameters
    ----------
    folder : path
        The folder of the first examination.

    Returns
    -------
    pathlib.Path
        The folder of the resit, an examination of its own. Where it is there already it stays as it is.
    """
    folder = Path(folder)
    first, again = blueprint.read_paper(folder), folder / RESIT
    if first.set_name == RESIT:
        raise Problem(f"{folder} is the folder of a resit already: give the folder of the first examination.")
    roster.read_roster(folder)
    with writing_into(folder, "the folder of the examination"):
        again.mkdir(exist_ok=True)
    if not os.path.lexists(again / blueprint.FILE):
        blueprint.write_paper(again, blueprint.Paper(f"{first.title} (resit)"[:120], first.task_ids, first.minutes, first.pass_mark, first.boundaries, RESIT, "", first.aids))
    if not os.path.lexists(again / roster.FILE):
        with writing_into(again, "the folder of the resit"):
            write_whole(again / roster.FILE, (folder / roster.FILE).read_bytes())
    return again
