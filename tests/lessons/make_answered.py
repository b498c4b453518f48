"""Make the answered copy of a lesson: its own cells, answered with the literal answers of `answers/NN.json`.

    python -m tests.lessons.make_answered            every lesson that has answers, then store their outputs
    python -m tests.lessons.make_answered 02         that one
    python -m tests.lessons.make_answered --draft 02 write a first answers/02.json, to be read and corrected by hand

The answers are typed text. Nothing here or in the copies computes one, so a key that changes in the library makes the copy fail.
"""

import json
import re
import sys
from pathlib import Path

import nbformat

from tests.lessons import store_outputs

ANSWERS = Path(__file__).parent / "answers"
CALL = re.compile(r"^here\.(\w+)\((?:\"([^\"]*)\")?", re.MULTILINE)
SHOW_KEPT = '''# What the file of answers holds now
Words("\\n".join(f"{name}: {attempts[-1]['answer']!r}, {'correct' if attempts[-1]['correct'] else 'not correct'}"
                for name, attempts in sorted(here.progress.all_attempts().items())))'''


def lesson_path(number):
    """Return the notebook of a lesson."""
    return next(iter(store_outputs.LESSONS.glob(f"{number}_*.ipynb")))


def literal_answers(number):
    """Return the answers of a lesson, as they are typed."""
    return json.loads((ANSWERS / f"{number}.json").read_text(encoding="utf-8"))


def numbers_with_answers():
    """Return the numbers of the lessons that have answers."""
    return sorted(path.stem for path in ANSWERS.glob("*.json"))


def typed(answer):
    """Return an answer as Python source: text, or a list of texts."""
    return json.dumps(answer, ensure_ascii=False)


def answered_cells(source, cell_id, answers):
    """Return the cells that one code cell of a lesson becomes, as (id, source) pairs.

    Parameters
    ----------
    source : str
        Source of the lesson's cell.
    cell_id : str
        Its id.
    answers : dict
        The lesson's answers.

    Returns
    -------
    list of (str, str)

    Raises
    ------
    KeyError
        When something in the cell has no answer.
    """
    call = CALL.search(source)
    if call is None:
        return [(cell_id, source.replace("import lesson\n", "import lesson\nfrom gypsumkit.live.block import Words\n", 1))]
    method, wanted = call.groups()
    if method == "predict":
        more = [f"block.answer({typed(answers['predictions'][wanted])})", "block.every_option()"]
    elif method == "explorer" and "prediction=" in source:
        more = ["block.compare()\nWords(block.prediction.feedback_words())", "Words(block.words())"]
    elif method == "write":
        more = [f"block.answer({typed(answers['notes'][wanted])})"]
    elif method in ("faded", "exercise"):
        steps = answers["exercises"][wanted][{"faded": "faded", "exercise": "own"}[method]]
        more = [f"block.answer({step}, {typed(answer)})" for step, answer in steps.items()] + ["block.every_option()"]
    elif method == "self_check":
        more = [f"block.answer({typed(name)}, {typed(answer)})" for name, answer in answers["questions"].items()] + ["block.every_option()"]
    else:
        return [(cell_id, source)]
    first = CALL.sub(lambda found: "block = " + found.group(0), source, count=1)
    return [(cell_id, f"{first}\n{more[0]}")] + [(f"{cell_id}-{place}", said) for place, said in enumerate(more[1:], 2)]


def answered_notebook(number):
    """Return the answered copy of a lesson, not yet run."""
    lesson = nbformat.read(lesson_path(number), as_version=4)
    answers = literal_answers(number)
    pairs = [pair for cell in lesson.cells if cell.cell_type == "code" for pair in answered_cells(cell.source, cell.id, answers)]
    cells = [nbformat.v4.new_code_cell(source, id=cell_id) for cell_id, source in [*pairs, ("kept", SHOW_KEPT)]]
    title = nbformat.v4.new_markdown_cell(f"Answered copy of lesson {number}, for the checks only. Made by tests/lessons/make_answered.py.",
                                          id="title")
    return nbformat.v4.new_notebook(cells=[title, *cells], metadata=store_outputs.KERNEL)


def make(number):
    """Write the answered copy of a lesson and store its outputs."""
    path = store_outputs.ANSWERED / lesson_path(number).name
    path.parent.mkdir(exist_ok=True)
    path.write_text(nbformat.writes(answered_notebook(number), version=4).rstrip("\n") + "\n", encoding="utf-8", newline="\n")
    return store_outputs.main([str(path)])


def draft(number):
    """Write a first file of answers from the bank, for its author to read, correct by hand and commit."""
    from gypsumkit.quiz import bank
    from gypsumkit.quiz.questions import Choice, NumberWithUnit, PutInOrder

    def right(question):
        if isinstance(question, PutInOrder):
            return list(question.right_order)
        if isinstance(question, NumberWithUnit):
            return question.say(question.value)
        texts = [option.text for option in question.shown_options if option.correct]
        return texts[0] if isinstance(question, Choice) else texts

    def steps(exercise, variant):
        return {str(step.number): step.answer for step in exercise.case(variant).asked}
    path = ANSWERS / f"{number}.json"
    if path.exists():
        raise SystemExit(f"{path} is there already; a draft does not overwrite answers.")
    path.parent.mkdir(exist_ok=True)
    path.write_text(json.dumps({
        "predictions": {question.id: right(question) for question in bank.predictions(number)},
        "notes": {note.id: f"What a reader might write about this: {note.prompt}" for note in bank.notes(number)},
        "exercises": {exercise.id: {variant: steps(exercise, variant) for variant in ("faded", "own")} for exercise in bank.exercises(number)},
        "questions": {question.id: right(question) for question in bank.questions(number)},
    }, ensure_ascii=False, indent=1) + "\n", encoding="utf-8", newline="\n")


def main(arguments):
    """Do what the command line asks; return the exit status."""
    if arguments[:1] == ["--draft"]:
        for number in arguments[1:]:
            draft(number)
        return 0
    return max([make(number) for number in arguments or numbers_with_answers()], default=0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
