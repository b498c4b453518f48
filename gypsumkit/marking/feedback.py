"""One page of feedback for each candidate: every part with the answer as it was read, its marks and why, and what to read again.

A page knows the candidate number and nothing else of a person; it holds no other candidate's data and no file name.
"""

from pathlib import Path
from typing import NamedTuple

from gypsumkit.files import writing_into
from gypsumkit.marking import pages
from gypsumkit.marking.blueprint import read_paper
from gypsumkit.marking.grades import standing
from gypsumkit.marking.moderation import decided_words, said
from gypsumkit.marking.task_bank import find_task
from gypsumkit.marking.tasks import BY_HAND_WHY, LOOK_FOR, NOT_READ_WHY
from gypsumkit.problems import Problem
from gypsumkit.quiz import bank
from gypsumkit.remembering import remembered

FOLDER = "pages"
PROVISIONAL = "Provisional until moderated: an assessor may still change a mark."
FINAL = "Moderated: these marks are final, as far as marking goes."
FOLLOWED = "Follow-through: it is worked rightly from your own earlier result, so the marks for the method are kept."
WAITS = "Waits for an assessor."
READ_BESIDE = "The questions with your own numbers stand in your paper: read this page beside it."
MOST_TO_READ = 6
# What the candidate is told of what was found on the returned files; the rest is for the assessor.
TOLD = {
    "another paper": "In the paper that came back under your number, questions are not the ones that were handed out to you. It was marked by your own questions. Speak to the assessor.",
    "two returns": "More than one paper came back from you, and one of them was marked. If the answers below are not the ones that you meant, speak to the assessor.",
    "text changed": "The text of a question is not what was handed out. It was marked by the question as it was handed out.",
}


class Study(NamedTuple):
    """What a task is about, and where that can be read again."""

    title: str
    lesson: str
    objective: str


@remembered(maxsize=512)
def study_of(task_id):
    """Return what a task of the bank is about; its bare id where the bank has no such task."""
    try:
        task = find_task(task_id)
        objectives = {one.id: one.text for one in bank.objectives(task.lesson)}
    except Problem:
        return Study(task_id, "", "")
    return Study(task.title, task.lesson, objectives.get(task.objective, ""))


def feedback_page(marks, candidate_number, paper, study=study_of, provisional=True):
    """Return the page of one candidate.

    Parameters
    ----------
    marks : gypsumkit.marking.marks.Marks
    candidate_number : str
    paper : gypsumkit.marking.blueprint.Paper
    study : callable
        Takes a task id and returns a Study.
    provisional : bool
        Whether marks may still change.

    Returns
    -------
    str
        HTML.

    Raises
    ------
    Problem
        When this candidate has no marks.
    """
    rows = marks.by_candidate.get(candidate_number)
    if not rows:
        raise Problem(f"No paper of candidate {str(candidate_number)[:20]} is marked.")
    body = [f"<h1>{pages.safe(paper.title)}</h1>\n", pages.paragraph(f"Feedback for candidate {candidate_number}"), _total(standing(marks, candidate_number, paper)),
            pages.note(PROVISIONAL if provisional else FINAL), pages.paragraph(READ_BESIDE)]
    kinds = {one.kind for one in marks.findings_of(candidate_number)}
    body += [pages.note(words) for kind, words in TOLD.items() if kind in kinds]
    changed = sum(bool(row.changed_by) for row in rows)
    if changed:
        body.append(pages.paragraph(f"{changed} {'mark was' if changed == 1 else 'marks were'} decided by an assessor; the reason stands beside it."))
    tasks = {}
    for row in rows:
        tasks.setdefault((row.task_number, row.task_id), []).append(row)
    for (number, task_id), parts in tasks.items():
        body.append(f"<h2>Task {number}: {pages.safe(study(task_id).title)}</h2>\n")
        body.append(pages.table(f"Task {number}, {said(sum(row.marks or 0 for row in parts))} of {pages.counted(said(sum(row.out_of for row in parts)), 'mark')}",
                                ("Part", "Your answer, as it was read", "Marks", "Why"),
                                [(f"({row.label})", row.answer.strip() or "no answer", _marks(row), why(row)) for row in parts], answers=(1,)))
    body += ["<h2>What to read again</h2>\n", _to_read(rows, study)]
    return pages.page(f"Feedback for candidate {candidate_number}", "".join(body))


def _total(now):
    lines = [f"Total: {said(now.total)} of {said(now.out_of)} marks ({now.percent:.1f} %)."]
    if now.waiting:
        lines.append(f"{now.waiting} {'part waits' if now.waiting == 1 else 'parts wait'} for an assessor and {'counts' if now.waiting == 1 else 'count'} "
                     "nothing yet.")
    if now.doubtful:
        lines.append(f"An assessor still looks at {pages.counted(now.doubtful, 'other answer' if now.waiting else 'answer')}, which the program did not read with certainty.")
    if now.grade is None:
        lines.append("So there is no grade yet.")
    else:
        lines.append(f"Grade: {now.grade}. {'The pass mark is reached.' if now.passed else 'The pass mark is not reached.'}")
    return pages.paragraph(" ".join(lines))


def _marks(row):
    return f"{'–' if row.marks is None else said(row.marks)} of {said(row.out_of)}{' so far' if row.doubtful else ''}"


def _machine_why(row):
    """Return what the program wrote beside the mark, without what is meant for the assessor."""
    text = row.why.strip()
    if text.startswith(BY_HAND_WHY + LOOK_FOR):
        return "" if row.marks is None else "What was looked for: " + text.removeprefix(BY_HAND_WHY + LOOK_FOR)
    for prefix in (BY_HAND_WHY, NOT_READ_WHY if row.changed_by else BY_HAND_WHY):
        if text.startswith(prefix):
            text = text.removeprefix(prefix)
            return text[:1].upper() + text[1:]
    return text


def why(row):
    """Say why a part has its marks.

    Parameters
    ----------
    row : gypsumkit.marking.marks.MarkRow

    Returns
    -------
    str
        Never empty for a part without full marks.
    """
    given = [_machine_why(row)]
    if row.slip and row.slip.strip() not in row.why:
        given.append(row.slip.strip())
    if row.followed_through and not any(words in row.why.lower() for words in ("follow-through", "marks for the method")):
        given.append(FOLLOWED)
    if row.marks is None:
        given.append(WAITS)
    elif row.doubtful and not row.why.startswith(NOT_READ_WHY):
        given.append("An assessor will look at this answer.")
    if row.changed_by:
        given.append(decided_words(row))
    given = [one if one[-1] in ".!?…”" else one + "." for one in given if one]
    if not given:
        given = ["Full marks."] if row.marks == row.out_of else ["No reason was written down for this mark; ask the assessor."]
    return " ".join(given)


def _to_read(rows, study):
    lost = {}
    for row in rows:
        if row.marks is not None and row.marks < row.out_of:
            lost[row.task_id] = lost.get(row.task_id, 0.0) + row.out_of - row.marks
    items = {}
    for task_id, marks in sorted(lost.items(), key=lambda one: (-one[1], one[0])):
        found = study(task_id)
        words = f"Lesson {found.lesson}: {found.objective}" if found.lesson else f"What task {task_id} is about."
        items[words] = items.get(words, 0.0) + marks
    if not items:
        waits = any(row.marks is None for row in rows)
        return pages.paragraph("Nothing so far: what is marked lost no marks." if waits else "Nothing: no marks were lost.")
    best = sorted(items.items(), key=lambda one: -one[1])[:MOST_TO_READ]
    return pages.bullets([f"{words} ({pages.counted(said(marks), 'mark')} lost)" for words, marks in best])


def write_feedback(marks, exam_folder, paper=None, provisional=True):
    """Write the pages of all candidates into `marks/feedback` of an examination.

    Parameters
    ----------
    marks : gypsumkit.marking.marks.Marks
        Moderated.
    exam_folder : path
    paper : gypsumkit.marking.blueprint.Paper, optional
        The described paper; read from the folder when not given.
    provisional : bool

    Returns
    -------
    pathlib.Path
        The folder of the pages.

    Raises
    ------
    Problem
        When it cannot be written.
    """
    paper = read_paper(exam_folder) if paper is None else paper
    folder = Path(exam_folder) / "marks" / FOLDER
    with writing_into(folder, "the folder of the feedback"):
        folder.mkdir(parents=True, exist_ok=True)
        for candidate in marks.candidates:
            pages.write_page(folder / page_name(candidate), feedback_page(marks, candidate, paper, provisional=provisional))
    return folder


def page_name(candidate_number):
    """Return the file name of a candidate's page; a number that is no plain name cannot lead elsewhere."""
    if candidate_number and len(candidate_number) <= 60 and all(one.isascii() and (one.isalnum() or one in "-_") for one in candidate_number):
        return f"{candidate_number}.html"
    return "candidate-" + "-".join(f"{ord(one):x}" for one in candidate_number[:40]) + ".html"
