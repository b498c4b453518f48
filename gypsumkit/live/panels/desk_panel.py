"""The assessor's desk: open an examination, mark it, look at the questions, change a mark with a reason, write the reports.

It calls the same functions as the commands. Marking runs beside the page, so that everything on it can be used meanwhile.
"""

import base64
import html
import threading
from pathlib import Path

import ipywidgets as widgets

from gypsumkit.figures.item_scene import LIMITS, item_scene
from gypsumkit.figures.matplotlib_renderer import static_png
from gypsumkit.launch.workspace import work_folder
from gypsumkit.live.block import Block, paragraphs, text_area
from gypsumkit.live.form import buttons_row, chooser, field, fields_box, heading, in_lines, press, style, table, tick
from gypsumkit.live.live_picture import LivePicture, scene_in_words
from gypsumkit.marking.blueprint import FILE as PAPER_FILE
from gypsumkit.marking.blueprint import read_paper
from gypsumkit.marking.feedback import write_feedback
from gypsumkit.marking.grades import standing
from gypsumkit.marking.invented import make_invented
from gypsumkit.marking.item_statistics import item_analysis
from gypsumkit.marking.marks import MARKS_FILE, Marks
from gypsumkit.marking.moderation import Decisions, automatic_marks, by_question, changes_words, open_rows, said, with_decisions
from gypsumkit.marking.pages import counted
from gypsumkit.marking.practical_folder import mark_practical, write_forms
from gypsumkit.marking.report import equal_answers, mark_why, not_yet, write_report
from gypsumkit.marking.roster import read_roster
from gypsumkit.marking.run import MARKS, finish, mark_folder
from gypsumkit.marking.scheme import Scheme
from gypsumkit.problems import Problem, nearest

INTRODUCTION = ("For the assessor. Open the folder of an examination, mark what came back, and look at every line that is asked about. Marks stay provisional "
                "until you say that moderation is finished. Names stay in the roster: here a candidate is a number.")
NOTHING_OPEN = "No examination is open."
INVENTED_FOLDER = "invented-examination"
BY_CANDIDATE, TO_LOOK_AT, FINDINGS, EQUAL, CHANGES = VIEWS = ("marks by candidate number", "answers to look at", "findings on the files", "equal answers", "changes of marks")
MOST_SHOWN = 60
MOST_LISTED_FOLDERS = 200
NONE_CHOSEN = "none chosen"
ALL_QUESTIONS = "all questions"


class Stopped(Problem):
    """The assessor stopped the marking; what was marked by then is kept."""


class DeskPanel(Block):
    """An examination on the desk.

    Parameters
    ----------
    folder : str
        The folder that is opened at first; none when not given.
    """

    def __init__(self, folder=""):
        self.exam = self.paper = None
        self.automatic = self.marks = Marks()
        self._working, self._stop = None, threading.Event()
        self._asked = {}
        self.folder = field("Folder of the examination (its path, or its name in my work folder)", INVENTED_FOLDER, folder)
        self.listed = chooser("or one found in my work folder", (NONE_CHOSEN,), NONE_CHOSEN)
        self.open_button, self.look_button = press("Open this folder"), press("Look for examinations again")
        self.invented_button = press("Make an invented examination to try")
        self.mark_button, self.stop_button = press("Mark what came back"), press("Stop")
        self.progress = widgets.IntProgress(0, 0, 1, description="Papers marked", style={"description_width": "initial"}, layout=widgets.Layout(width="100%"))
        self.done_words = text_area()
        self.view = chooser("Show", VIEWS, BY_CANDIDATE)
        self.question = chooser("Answers to look at: which question", (ALL_QUESTIONS,), ALL_QUESTIONS)
        self.told = text_area()
        self.next_button = press("Take the next answer to look at")
        self.answer = text_area()
        self.candidate, self.task, self.part = field("Candidate number", "2001"), field("Task", "2"), field("Part", "b")
        self.new_marks, self.who, self.why = field("Marks it becomes", "1.5"), field("Your initials", "A.B."), field("Why", "The unit stands in the line before.")
        self.change_button, self.change_next_button = press("Change this mark"), press("Change this mark and take the next answer")
        self.keep_button = press("Keep the marks of all answers to this question that were not read with certainty")
        self.finished = tick("moderation is finished: pages no longer say “provisional”")
        self.write_button = press("Write report and feedback")
        self.forms_button, self.practical_button = press("Write empty forms"), press("Mark the filled-in forms and record sheets")
        self.practical_told = text_area()
        self.picture = LivePicture(self.scene())
        self.stop_button.disabled = True
        self.beside = {part: widgets.VBox(layout=widgets.Layout(width="100%")) for part in ("examination", "marking", "change", "reports", "practical")}
        super().__init__()
        self.add_class("gypsumkit-explorer")
        self.children = (
            style(), text_area(paragraphs(INTRODUCTION)),
            heading("The examination"), fields_box(self.folder, self.listed), buttons_row(self.open_button, self.look_button, self.invented_button),
            self.beside["examination"], heading("Mark"), buttons_row(self.mark_button, self.stop_button), self.progress, self.done_words, self.beside["marking"],
            heading("Marks"), fields_box(self.view, self.question), self.told,
            heading("Give or change a mark"), buttons_row(self.next_button), self.answer, fields_box(self.candidate, self.task, self.part, self.new_marks, self.who, self.why),
            buttons_row(self.change_next_button, self.change_button, self.keep_button), self.beside["change"], heading("Reports"), fields_box(self.finished), buttons_row(self.write_button), self.beside["reports"],
            heading("The practical"), buttons_row(self.forms_button, self.practical_button), self.beside["practical"], self.practical_told,
            heading("The questions"), self.picture, text_area(f"<p><em>{html.escape(LIMITS)}</em></p>"))
        self._speak_beside("examination")
        self._wire()
        self.look()
        self._tell()
        if folder:
            self.guard(self.open_typed)()

    def _wire(self):
        self.listed.observe(self._in("examination", self.take_listed), "value")
        self.view.observe(self.guard(self._tell), "value")
        self.question.observe(self.guard(self._tell), "value")
        for part, button, method in (
                ("examination", self.open_button, self.open_typed), ("examination", self.look_button, self.look), ("examination", self.invented_button, self.make_invented),
                ("marking", self.mark_button, self.mark), ("marking", self.stop_button, self.stop), ("change", self.next_button, self.take_next),
                ("change", self.change_button, self.change), ("change", self.change_next_button, self.change_and_take_next),
                ("change", self.keep_button, self.keep_the_rest), ("reports", self.write_button, self.write), ("practical", self.forms_button, self.write_practical_forms),
                ("practical", self.practical_button, self.mark_the_practical)):
            button.on_click(self._in(part, method))

    def _in(self, part, method):
        """Return the method as a guarded callback whose message stands beside its part of the page, where the assessor is looking."""
        guarded = self.guard(method)

        def there(*_):
            self._speak_beside(part)
            guarded()
        return there

    def _speak_beside(self, part):
        for name, box in self.beside.items():
            box.children = (self.message,) if name == part else ()

    # Which examination ----------------------------------------------------------------------------

    def look(self):
        """List the examinations in the work folder, those in their folders too."""
        found, work = [], work_folder()
        if work.is_dir():
            found = sorted(path.parent.relative_to(work).as_posix() for pattern in ("*", "*/*") for path in work.glob(f"{pattern}/{PAPER_FILE}"))
        options = (NONE_CHOSEN, *found[:MOST_LISTED_FOLDERS])
        if self.listed.options != options:
            self.listed.options = options

    def take_listed(self):
        """Open the examination that was chosen from the list."""
        if self.listed.value != NONE_CHOSEN:
            self.folder.value = self.listed.value
            self.open_typed()

    def open_typed(self):
        """Open the folder whose path stands in the field; while it cannot be opened, the one before stays open.

        Raises
        ------
        Problem
            When there is no such folder, or no examination in it.
        """
        self._not_while_marking()
        exam = self._folder_typed()
        paper = read_paper(exam)
        marks = Marks.load(exam / MARKS) if (exam / MARKS / MARKS_FILE).exists() else Marks()
        automatic = automatic_marks(marks)
        marks = with_decisions(automatic, exam)
        self.exam, self.paper, self.automatic, self.marks = exam, paper, automatic, marks
        self._count(0, 1, f"{len(marks.candidates)} papers are marked." if marks.candidates else "Nothing is marked yet.")
        self.answer.value = self.practical_told.value = ""
        self._asked.clear()
        self._show()

    def _folder_typed(self):
        typed = self.folder.value.strip()
        if not typed:
            raise Problem("Type the folder of the examination, or choose one from the list.")
        if "\x00" in typed or len(typed) > 1000:
            raise Problem("This is not a path: type the folder of the examination.")
        exam = Path(typed).expanduser() if typed.startswith("~") else Path(typed)
        exam = exam if exam.is_absolute() else work_folder() / exam
        if exam.is_file():
            raise Problem(f"“{typed}” is a file: type the folder that it lies in.")
        if not exam.is_dir():
            guess = nearest(typed, [name for name in self.listed.options if name != NONE_CHOSEN])
            raise Problem(f"There is no folder “{typed}”" + (f"; do you mean “{guess}”?" if guess else ": a name alone is looked for in your work folder."))
        return exam

    def make_invented(self):
        """Make the invented examination in the work folder, and open it."""
        self._not_while_marking()
        make_invented(work_folder() / INVENTED_FOLDER)
        self.folder.value = INVENTED_FOLDER
        self.look()
        self.open_typed()
        self.show_message("An invented examination is open: nobody sat it. Press “Mark what came back”.")

    def _opened(self):
        if self.exam is None:
            raise Problem("Open an examination first.")
        return self.exam

    def _marked(self):
        exam = self._opened()
        if not self.marks.candidates:
            raise Problem("Nothing is marked yet: press “Mark what came back” first.")
        return exam

    # Marking --------------------------------------------------------------------------------------

    def _not_while_marking(self):
        if self._working is not None and self._working.is_alive():
            raise Problem("Marking is going on: wait until it ends, or press “Stop”.")

    def mark(self):
        """Begin to mark what came back, beside the page."""
        exam = self._opened()
        self._not_while_marking()
        self._stop.clear()
        self.mark_button.disabled, self.stop_button.disabled = True, False
        self._working = threading.Thread(target=self._mark_beside, args=(exam,), daemon=True)
        self._working.start()

    def _mark_beside(self, exam):
        try:
            self._in("marking", lambda: self._mark_now(exam))()
        finally:
            self.mark_button.disabled, self.stop_button.disabled = False, True

    def _mark_now(self, exam):
        self._count(0, 1, "Reading what came back …")
        automatic = mark_folder(exam, progress=self._step)
        self.marks, self.automatic = finish(automatic, exam), automatic
        self._show()
        waiting = len(open_rows(self.marks))
        self.show_message(f"{len(self.marks.candidates)} papers are marked; {waiting} answers ask for a look. Marks, report and feedback are written; they are provisional.")

    def _step(self, done, total):
        if self._stop.is_set():
            raise Stopped(f"Stopped after {done} of {total} papers. What is marked is kept: “Mark what came back” goes on from there.")
        self._count(done, total, f"{done} of {total} papers are marked.")

    def _count(self, done, total, words):
        self.progress.max, self.progress.value = max(total, 1), done
        self.done_words.value = paragraphs(words)

    def stop(self):
        """Stop the marking at the next paper."""
        self._stop.set()

    def wait(self, seconds=None):
        """Wait until the marking has ended."""
        if self._working is not None:
            self._working.join(seconds)

    # Moderation -----------------------------------------------------------------------------------

    def _to_look_at_now(self):
        """The answers that ask for a look, question by question: of the question that is chosen, or of all."""
        found = by_question(open_rows(self.marks))
        chosen = [rows for question, rows in found.items() if self.question.value in (ALL_QUESTIONS, _called(*question))]
        return [row for rows in chosen for row in rows]

    def take_next(self):
        """Put the next answer that asks for a look into the fields, and show it: first all answers to one question, then the next question."""
        self._marked()
        rows = self._to_look_at_now()
        if not rows:
            raise Problem("No answer asks for a look any more." if self.question.value == ALL_QUESTIONS else f"No answer to {self.question.value} asks for a look any more.")
        here = self._here()
        places = [(row.task_number, row.label, row.candidate_number) for row in rows]
        row = next((row for place, row in zip(places, rows) if here and place > here), rows[0])
        self.candidate.value, self.task.value, self.part.value = row.candidate_number, str(row.task_number), row.label
        self.new_marks.value = self.why.value = ""
        self._show_answer(row)

    def _here(self):
        """The place of the answer in the fields, or None where they name none."""
        task = self.task.value.strip()
        return (int(task), self.part.value.strip(), self.candidate.value.strip()) if task.isascii() and task.isdigit() and len(task) < 6 else None

    def _show_answer(self, row):
        same = [one for one in open_rows(self.marks) if (one.task_number, one.label) == (row.task_number, row.label)]
        now = "waits for a mark" if row.marks is None else f"has {said(row.marks)} of {said(row.out_of)} so far"
        left = f" {len(same)} answers to this question ask for a look." if len(same) > 1 else ""
        asked = self._asked_of(row)
        self.answer.value = _as_wide_as_the_page(
            f"<p>Task {row.task_number} ({html.escape(row.label)}), of {counted(said(row.out_of), 'mark')}.{left}</p>" + (f"<p><em>Asked:</em></p>{paragraphs(asked)}" if asked else "")
            + f"<p>{html.escape(mark_why(row))}</p><p><strong>Candidate {html.escape(row.candidate_number)}</strong> {now}:</p>"
            f"<blockquote>{paragraphs(row.answer) or '<p>no answer</p>'}</blockquote>")

    def _asked_of(self, row):
        """What the candidate was asked, with the own numbers; empty where the mark scheme does not say."""
        key = row.candidate_number, row.task_number
        if key not in self._asked:
            try:
                if "scheme" not in self._asked:
                    self._asked["scheme"] = Scheme.load(self.exam)
                self._asked[key] = self._asked["scheme"].drawn(row.candidate_number)[row.task_number - 1]
            except (Problem, IndexError):
                self._asked[key] = None
        drawn = self._asked[key]
        part = next((part for part in drawn.parts if part.label == row.label), None) if drawn else None
        return "\n".join([drawn.text, part.prompt, *part.lines]) if part else ""

    def change(self):
        """Change the mark that is named in the fields, and save it.

        Raises
        ------
        Problem
            When something typed cannot be; then nothing has changed.
        """
        exam = self._marked()
        self._not_while_marking()
        decision = Decisions(exam / MARKS).add(self.automatic, self.candidate.value, self.task.value, self.part.value, self.new_marks.value, self.who.value, self.why.value)
        self.marks = with_decisions(self.automatic, exam)
        self.marks.save(exam / MARKS)
        self._show()
        self.show_message(f"Changed: {changes_words(decision).rstrip('.')}. Write report and feedback again when you have done.")

    def change_and_take_next(self):
        """Change the mark that is named in the fields, and show the next answer that asks for a look."""
        self.change()
        if self._to_look_at_now():
            self.take_next()

    def keep_the_rest(self):
        """Keep, with one reason, the marks of all answers to the question in the fields that were not read with certainty.

        Raises
        ------
        Problem
            When there is none, or initials or reason are missing; then nothing has changed.
        """
        exam = self._marked()
        self._not_while_marking()
        here = self._here()
        rows = [row for row in self.marks.rows if row.doubtful and here and (row.task_number, row.label) == here[:2]]
        if not rows:
            raise Problem("No answer to the question in the fields was read with doubt, or each is decided: take an answer to look at first.")
        decisions = Decisions(exam / MARKS)
        for row in rows:
            decisions.add(self.automatic, row.candidate_number, row.task_number, row.label, row.marks, self.who.value, self.why.value)
        self.marks = with_decisions(self.automatic, exam)
        self.marks.save(exam / MARKS)
        self._show()
        self.show_message(f"Kept: the marks of {len(rows)} {'answer' if len(rows) == 1 else 'answers'} to {_called(*here[:2])}.")

    # Writing --------------------------------------------------------------------------------------

    def write(self):
        """Write the report on the class, with its pictures, and all pages of feedback."""
        exam = self._marked()
        self._not_while_marking()
        provisional, waiting, doubtful = not self.finished.value, sum(row.marks is None for row in self.marks.rows), sum(row.doubtful for row in self.marks.rows)
        if not provisional and (waiting or doubtful):
            raise Problem(f"{waiting} answers still wait for a mark, and {doubtful} that were not read with certainty are not decided: moderation is not finished.")
        picture = base64.b64encode(static_png(self.picture.scene)).decode("ascii")
        words = " ".join(one.words for one in self.picture.scene.pictures)
        pictures = f'<p><img style="max-width:100%" alt="{html.escape(words)}" src="data:image/png;base64,{picture}"></p>'
        report = write_report(self.marks, exam, self.paper, provisional, pictures)
        feedback = write_feedback(self.marks, exam, self.paper, provisional)
        self.show_message(f"Written into {report.parent}: {report.name}, and {len(self.marks.candidates)} pages in {feedback.name}.")

    def write_practical_forms(self):
        """Write the empty forms of the practical for every candidate of the roster."""
        exam = self._opened()
        paths = write_forms(exam, [one.number for one in read_roster(exam)])
        self.show_message(f"Written into {paths[0].parent}: {' and '.join(path.name for path in paths)}.")

    def mark_the_practical(self):
        """Work out the practical from the forms and record sheets that were filled in."""
        exam = self._opened()
        found = mark_practical(exam)
        rows = [(one.candidate_number, " ".join(one.markers), "no total" if one.marks is None else f"{said(one.marks)} of {one.out_of}", one.why) for one in found.marks[:MOST_SHOWN]]
        self.practical_told.value = _as_wide_as_the_page(paragraphs("\n".join(found.said)) + (table("The practical", ("Candidate", "markers", "marks", "why"), rows) if rows else ""))
        self.show_message("The practical is worked out; practical.csv and records.csv lie beside the marks.")

    # What it shows and says -----------------------------------------------------------------------

    def scene(self):
        """Return the pictures of the item statistics."""
        stand = [standing(self.marks, candidate, self.paper) for candidate in self.marks.candidates]
        return item_scene(item_analysis(self.marks), stand, self.paper)

    def _show(self):
        self.picture.show(self.scene())
        options = (ALL_QUESTIONS, *(_called(*question) for question in by_question(open_rows(self.marks))))
        if self.question.options != options:
            chosen = self.question.value
            with self.question.hold_trait_notifications():
                self.question.options = options
                self.question.value = chosen if chosen in options else ALL_QUESTIONS
        self._tell()

    def _tell(self):
        if self.exam is None:
            self.told.value = paragraphs(NOTHING_OPEN)
            return
        caption, heads, rows, more = self._table()
        shown = _scrolling(caption, table(caption, heads, rows)) if rows else paragraphs(f"{caption}: none.")
        self.told.value = _as_wide_as_the_page(paragraphs(self._summary()) + shown + paragraphs(more))

    def _summary(self):
        stand = [standing(self.marks, candidate, self.paper) for candidate in self.marks.candidates]
        settled = [one for one in stand if one.passed is not None]
        passed = sum(one.passed for one in settled)
        return (f"{self.paper.title}: {len(stand)} papers marked, {len(settled)} with a grade, {passed} at or above the pass mark of {self.paper.pass_mark:g} of "
                f"{self.paper.marks} marks; {len(open_rows(self.marks))} answers to look at; {len(self.marks.findings)} findings.")

    def _table(self):
        """The table that is chosen: caption, heads, the rows that are shown, and how many more there are."""
        heads, rows, many = {BY_CANDIDATE: self._by_candidate, TO_LOOK_AT: self._to_look_at, FINDINGS: self._findings, EQUAL: self._equal,
                             CHANGES: self._changes}[self.view.value]()
        more = f"and {many - MOST_SHOWN:,} more; all of them stand in the files beside the marks" if many > MOST_SHOWN else ""
        return f"{self.view.value[0].upper()}{self.view.value[1:]}", heads, rows, more

    def _by_candidate(self):
        rows = []
        for candidate in self.marks.candidates[:MOST_SHOWN]:
            now, found = standing(self.marks, candidate, self.paper), self.marks.findings_of(candidate)
            changed = sum(bool(row.changed_by) for row in self.marks.by_candidate[candidate])
            rows.append((candidate, f"{said(now.total)} of {said(now.out_of)}", now.grade or not_yet(now), str(changed or ""),
                         "; ".join(sorted({one.kind for one in found}))))
        return ("Candidate", "total", "grade", "changed", "findings"), rows, len(self.marks.candidates)

    def _to_look_at(self):
        found, rows, before = self._to_look_at_now(), [], None
        for row in found[:MOST_SHOWN]:
            why = mark_why(row)
            same = (row.task_number, row.label, why)
            rows.append((f"{row.task_number}\N{NO-BREAK SPACE}({row.label})", row.candidate_number, "waits" if row.marks is None else f"{said(row.marks)} of {said(row.out_of)} so far",
                         row.answer[:200] or "no answer", "as above" if same == before else why))
            before = same
        return ("Part", "candidate", "mark now", "answer", "why"), rows, len(found)

    def _findings(self):
        found = self.marks.findings
        return ("Kind", "candidate", "file", "what was found"), [(one.kind, one.candidate_number, one.file, one.sentence) for one in found[:MOST_SHOWN]], len(found)

    def _equal(self):
        found = equal_answers(self.marks)
        return ("Candidates", "what is equal (reported, not judged)"), [(", ".join(group[:20]), what) for what, group in found[:MOST_SHOWN]], len(found)

    def _changes(self):
        decisions = Decisions(self.exam / MARKS).all()
        return ("When", "who", "candidate", "part", "change", "why"), [
            (one.when, one.who, one.candidate_number, f"{one.task_number} ({one.label})", f"{said(one.marks_from)} → {said(one.marks_to)}", one.why)
            for one in decisions[:-MOST_SHOWN - 1:-1]], len(decisions)

    def words(self):
        """Return what lies on the desk in plain words."""
        if self.exam is None:
            return "\n".join([INTRODUCTION, NOTHING_OPEN, LIMITS])
        caption, heads, rows, more = self._table()
        lines = [INTRODUCTION, self._summary(), in_lines(caption, heads, rows) if rows else f"{caption}: none."]
        return "\n".join([*lines, *([more] if more else []), scene_in_words(self.picture.scene), LIMITS])

    def picture_png(self):
        """Return the pictures as PNG bytes, or None when no examination is open."""
        return None if self.exam is None else self.picture.static_png()


def _called(task_number, label):
    return f"task {task_number} ({label})"


def _scrolling(name, content):
    # A long table scrolls by itself, with the keys too, so that what stands below is near.
    return f'<div tabindex="0" role="region" aria-label="{html.escape(name)}" style="max-height:24rem;overflow:auto">{content}</div>'


def _as_wide_as_the_page(content):
    return f'<div style="width:0;min-width:100%">{content}</div>'
