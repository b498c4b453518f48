"""`python3 -m gypsumkit guide`: the lecturer's guide as one page to print, whole or for some lessons; it holds the answers, so it is no part of the lessons."""

import sys
from html import escape
from pathlib import Path

from gypsumkit.commands.printing import Parser, printed
from gypsumkit.files import write_new
from gypsumkit.launch.course import this_course
from gypsumkit.launch.notebooks import read_notebook, written_in
from gypsumkit.quiz import bank, guide
from gypsumkit.quiz.primer import QUESTIONS as PRIMER
from gypsumkit.quiz.exercises import FADED, OWN
from gypsumkit.stage.demonstration import BRING, MINUTES, STEPS

NAME = "lecturers_guide.html"
WARNING = "Holds the answers: for lecturers."
LIMITS = ("The numbers are predictions of the library with their plausible ranges, in brackets: no measurement, and no property of a product. Hand them out as such. "
          "The advice is ours, from common practice, no source. The instructions of the product and the rules of your laboratory come first.")
CAUTIONS = ("Mask against dust, eye protection, no part of the body in a setting mass, hair and sleeves away from vibrator and mixer, nothing down the drain. "
            "No impression from a mouth for a demonstration.")
LOOK = """
body { font: 16px/1.45 sans-serif; color: #000; background: #fff; max-width: 60rem; margin: 1rem auto; padding: 0 1rem; overflow-wrap: anywhere; }
h1, h2, h3 { line-height: 1.2; } h2 { border-top: 3px solid #0072B2; padding-top: .5rem; }
.answers { border: 3px double #000; padding: .4rem .8rem; font-weight: bold; }
table { border-collapse: collapse; margin: .5rem 0; } caption { text-align: left; font-weight: bold; }
th, td { border: 1px solid #666; padding: .2rem .6rem; text-align: left; vertical-align: top; font-variant-numeric: tabular-nums; overflow-wrap: break-word; }
.wide { overflow-x: auto; } .right { border-left: 6px solid #0072B2; padding-left: .6rem; }
a { color: #0072B2; display: inline-block; min-height: 24px; }
@media print { body { font-size: 10pt; line-height: 1.3; max-width: none; margin: 0; } p, ul { margin: .25rem 0; } h3 { margin: .6rem 0 .2rem; } h2 { break-before: page; } h3, tr, li { break-inside: avoid; } nav { display: none; } .wide { overflow: visible; } }
"""


def lesson_heads():
    """Return number, title, minutes and guiding question of every lesson, from its first cell.

    Returns
    -------
    list of (str, str, int, str)
    """
    heads = []
    for path in sorted(this_course().lessons.glob("[0-9][0-9]_*.ipynb")):
        first = written_in(read_notebook(path.read_bytes())["cells"][0])
        question = first.partition("**Guiding question:**")[2].split("\n")[0].strip()
        heads.append((path.name[:2], first.splitlines()[0][1:].strip()[2:].strip(), guide.minutes_of(first), question))
    return heads


def guide_page(lessons=()):
    """Return the guide as one HTML page without anything from elsewhere.

    Parameters
    ----------
    lessons : sequence of str
        Numbers of the lessons whose questions and answers it holds; those of all lessons and of the primer when none is given.

    Returns
    -------
    str
    """
    heads = lesson_heads()
    parts = [f"<h1>Lecturer's guide</h1><p class='answers'>{WARNING} Do not put it where students read their lessons.</p>",
             _paragraph(LIMITS), _paragraph("Take care. " + CAUTIONS), _contents(heads, lessons), _show(), _rings(), _clock()]
    parts += [_lesson(*head) for head in heads if not lessons or head[0] in lessons]
    if not lessons:
        parts.append(f"<section id='primer'><h2>Primer</h2>{''.join(map(_question, PRIMER))}</section>")
    return (f"<!DOCTYPE html>\n<html lang='en'><head><meta charset='utf-8'><meta name='viewport' content='width=device-width, initial-scale=1'>"
            f"<title>Lecturer's guide: {WARNING}</title><style>{LOOK}</style></head><body><main>{''.join(parts)}</main></body></html>\n")


def _paragraph(text):
    return f"<p>{escape(text)}</p>"


def _list(items, tag="ul"):
    return f"<{tag}>" + "".join(f"<li>{escape(item)}</li>" for item in items) + f"</{tag}>"


def _table(caption, heads, rows):
    head = "".join(f"<th scope='col'>{escape(one)}</th>" for one in heads)
    body = "".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
    return f"<div class='wide' tabindex='0' role='region' aria-label='{escape(caption)}'><table><caption>{escape(caption)}</caption><tr>{head}</tr>{body}</table></div>"


def _contents(heads, lessons):
    total = sum(minutes for _, _, minutes, _ in heads)
    links = "".join(f"<li><a href='#lesson-{number}'>{escape(number)} {escape(title)}</a></li>" for number, title, _, _ in heads if not lessons or number in lessons)
    links += "" if lessons else "<li><a href='#primer'>Primer</a></li>"
    return (f"<nav aria-label='Contents'><ul><li><a href='#show'>The demonstration</a></li><li><a href='#rings'>When the demonstration fails</a></li><li><a href='#clock'>When the mix keeps another time</a></li>{links}</ul></nav>"
            + _table("Minutes, as each lesson says", ("lesson", "title", "minutes"), [(number, title, str(minutes)) for number, title, minutes, _ in heads] + [("", "all", str(total))])
            + _paragraph(f"Together about {total / 60:.0f} hours, for a student who works alone. Without the work at the bench, where a lesson says so. "
                         "Recall has five questions and those that were missed before."))


def _show():
    rows, begins = [], 0
    for place, step in enumerate(STEPS, 1):
        told = guide.expected(step.question) if step.question else None
        asked = "" if told is None else f"{told.prompt} Expected: {' '.join(told.answers)} {told.explanation}"
        rows.append((str(place), f"{begins} to {begins + step.minutes}", step.title, " ".join(step.do), asked))
        begins += step.minutes
    return (f"<section id='show'><h2>The demonstration of {MINUTES} minutes: what to bring, what to do, what to expect</h2><p>Bring:</p>" + _list(BRING)
            + _table("The steps of stage.ipynb", ("step", "minutes", "about", "do", "question and expected answer"), rows) + "</section>")


def _rings():
    rows = [(ring.mix, ring.still, ring.shaken, ring.called) for ring in guide.ring_data()]
    return ("<section id='rings'><h2>When the demonstration fails: five rings, and one to compare</h2>"
            + _paragraph("Ring 35 mm wide and 50 mm high, lifted 2 min after powder met water; spread in mm with its plausible range. The same five mixes as in the bench task of lesson 03.")
            + _table("Spread, computed by the library", ("mix", "lifted still", "on the vibrator", "it is said to be"), rows)
            + _paragraph("Without a picture: let the class guess each row before you read it out. Ask which two rows they could not tell apart at the bench: those whose ranges overlap.")
            + "</section>")


def _clock():
    return ("<section id='clock'><h2>When the real mix keeps another time than the picture</h2><h3>It runs ahead</h3>" + _list(guide.AHEAD) + "<h3>It runs behind</h3>" + _list(guide.BEHIND)
            + _table(f"What moves the clock: {guide.CLOCK_POWDER} at its recommended ratio, computed", ("changed", "gloss is lost", "final set"), guide.clock_data()) + "</section>")


def _lesson(number, title, minutes, question):
    parts = [f"<section id='lesson-{number}'><h2>{escape(number)} {escape(title)}</h2>", _paragraph(f"{minutes} minutes. {question}"),
             "<h3>Objectives</h3>" + _list(f"{one.id}: {one.text}" for one in bank.objectives(number)), "<h3>Predictions</h3>"]
    parts += map(_question, bank.predictions(number))
    parts += ["<h3>Questions</h3>", *map(_question, bank.questions(number))]
    parts += ["<h3>To write about</h3>", *(_paragraph(f"{note.id}: {note.prompt}") + f"<p class='right'>Model explanation: {escape(note.model_answer)}</p>" for note in bank.notes(number))]
    if bank.exercises(number):
        parts += ["<h3>Exercises</h3>", *map(_exercise, bank.exercises(number))]
    if bank.bench_tasks(number):
        parts += ["<h3>At the bench</h3>", *(_paragraph(f"{task.id}: {task.title}") + _list((*task.cautions, *task.record)) for task in bank.bench_tasks(number))]
    return "".join(parts) + "</section>"


def _question(question):
    told = guide.expected(question)
    at_picture = " (answered at a picture of its lesson)" if question.at_picture else ""
    answers = "".join(f"<p class='right'>Expected: {escape(answer)}</p>" for answer in told.answers)
    return f"<p>{escape(told.id)}{at_picture}: {escape(told.prompt)}</p>{answers}{_paragraph(told.explanation)}<p>Misconceptions:</p>{_wrong(told)}"


def _wrong(told):
    """The wrong answers of a question, each with what it shows."""
    return "<ul>" + "".join(f"<li><strong>{escape(answer)}</strong>{'' if answer.endswith(('.', '?', '!')) else ':'} {escape(why)}</li>"
                            for answer, why in told.misconceptions) + "</ul>"


def _exercise(exercise):
    parts = []
    for variant, words in ((FADED, "to finish"), (OWN, "alone")):
        case = exercise.case(variant)
        parts.append(f"<p>{escape(exercise.id)}, {words}: {escape(case.situation)}</p>")
        for step in case.steps:
            parts.append(f"<p>{step.number}. {escape(step.say)}</p><p class='right'>Expected: {escape(step.working)}</p>")
            if step.asked:
                parts.append(_wrong(guide.expected(step.question)))
    return "".join(parts)


def _numbers(lessons):
    """The numbers of lessons as they are written, each once; a Problem where there is no such lesson."""
    if not lessons:
        return ()
    from gypsumkit.commands.take_home import find_lesson
    return tuple(dict.fromkeys(find_lesson(each).name[:2] for each in lessons))


def _text(argv):
    parser = Parser(prog="python3 -m gypsumkit guide", allow_abbrev=False,
                    description="Write the lecturer's guide: minutes, expected answers, misconceptions, what to do when a mix keeps another time, ring data. " + WARNING)
    parser.add_argument("lessons", nargs="*", metavar="LESSON", help="number of a lesson, such as 02; one or several; all when none is given")
    parser.add_argument("--to", metavar="FILE", help=f"the new file; {NAME} in this folder when not given")
    options = parser.parse_args(argv)
    lessons = _numbers(options.lessons)
    path = Path("_".join([Path(NAME).stem, *lessons]) + Path(NAME).suffix if options.to is None else options.to).expanduser()
    write_new(path, guide_page(lessons).encode("utf-8"))
    return f"Written: {path}. {WARNING} Open it in any browser; it works without a network, and prints."


def main(argv):
    """Run the command.

    Parameters
    ----------
    argv : list of str
        The words after `guide`.

    Returns
    -------
    int
        0, or 2 after a problem, which is printed as one sentence.
    """
    return printed(lambda: _text(argv), "The answer")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
