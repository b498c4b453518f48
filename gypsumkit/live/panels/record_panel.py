"""The reader's own measurements: a form, the table of what was recorded, and a way in for a table made elsewhere.

Nothing is saved before every question about it is answered, and nothing typed is lost: what is not yet saved is kept in a
small file as it is typed, and comes back when the lesson is opened again.
"""

import html
import json
import pathlib

import ipywidgets as widgets

from gypsumkit.bench.book import Book, NotSaved
from gypsumkit.bench.cells import nearest_choice, number_in_unit, read_cell, said, two_ways
from gypsumkit.bench.columns import COLUMNS, NUMBERS
from gypsumkit.bench.doubts import Doubt, doubts, proposal_for
from gypsumkit.bench.reading import read_bytes, read_file
from gypsumkit.bench.records import Records
from gypsumkit.files import write_whole
from gypsumkit.live.block import Block, Words, bar, paragraphs, text_area
from gypsumkit.locking import reason
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.showing import rounded

DRAFT_FILE = "bench-draft.json"
MOST_SHOWN = 200

GROUPS = (
    ("Who and what", ("made_by", "powder", "lot", "room_temperature_c")),
    ("The bowl", ("powder_g", "water_ml", "water_temperature_c", "mixing", "turns")),
    ("The ring", ("ring_diameter_mm", "ring_height_mm", "ring_lifted_min", "vibrated", "spread_one_mm", "spread_two_mm")),
    ("The clock, from the start of mixing", ("initial_set_min", "gloss_loss_min", "light_needle_min", "final_set_min")),
    ("The length", ("gauge_length_mm", "length_change_um")),
    ("The crushing", ("cylinder_diameter_mm", "crush_load_n", "crushed_at_h", "crushed_state")),
    ("Anything else", ("note",)),
)
FIELDS = tuple(name for _, names in GROUPS for name in names)
# What mostly stays the same from one mix to the next stands in the form after saving.
STAYS = ("made_by", "powder", "lot", "room_temperature_c", "water_temperature_c", "mixing", "ring_diameter_mm", "ring_height_mm",
         "vibrated", "gauge_length_mm", "crushed_state")

# Two mixes may well have the same weights and turns. The same in one of these as well is rare.
FOUND = ("spread_one_mm", "spread_two_mm", "initial_set_min", "gloss_loss_min", "light_needle_min", "final_set_min", "length_change_um", "crush_load_n")
ALIKE = "alike"

WORKED_OUT = {
    "water_powder_ratio": ("Water/powder ratio", "mL/g"), "spread_mm": ("Spread, mean", "mm"),
    "strength_mpa": ("Strength", "MPa"), "expansion_percent": ("Expansion", "%"),
}

STYLE = """<style>
.gypsumkit-record { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 260px), 1fr)); gap: 6px 18px; width: 100%; }
.gypsumkit-block > .gypsumkit-record + .widget-html { margin-top: 14px; }
.gypsumkit-record .widget-text, .gypsumkit-record .widget-dropdown { display: flex; flex-flow: column nowrap; align-items: stretch; width: 100%; height: auto; margin: 0; }
.gypsumkit-record .widget-text > label, .gypsumkit-record .widget-dropdown > label { width: auto; max-width: none; height: auto; text-align: left; white-space: normal;
  padding: 0 0 2px; line-height: 1.3; font-size: 1rem; color: #000; }
.gypsumkit-record .widget-text input, .gypsumkit-record select { flex: none; width: 100%; height: 36px; font-size: 1rem; color: #000; background-color: #fff; border: 1px solid #666; }
.gypsumkit-record-buttons { display: flex; flex-flow: row wrap; gap: 8px 14px; align-items: flex-end; width: 100%; margin: 6px 0; }
.gypsumkit-record-buttons .widget-text { flex: 0 1 300px; }
.gypsumkit-block .gypsumkit-record-buttons button.jupyter-button { align-self: flex-end; margin-bottom: 2px; }
.gypsumkit-record-table { overflow-x: auto; max-width: 100%; margin-top: 8px; }
.gypsumkit-record-table table { border-collapse: collapse; margin: 0; font-size: 0.95rem; color: #000; }
.gypsumkit-record-table th, .gypsumkit-record-table td { border: 1px solid #999; padding: 3px 8px; text-align: left; white-space: nowrap; background: #fff; }
.gypsumkit-record-table:focus-visible { outline: 3px solid #000; outline-offset: 2px; }
</style>"""

INTRODUCTION = ("Write down each mix of your own. A number may have its unit, such as 6.2 cm; without one it counts in the unit that is named. "
                "Leave empty what you did not measure. Your records lie in the file bench.csv in your work folder.")


class RecordPanel(Block):
    """A form for the reader's own mixes and the table of them.

    Parameters
    ----------
    book : Book, optional
        Where the rows are kept; the reader's own when not given.
    """

    def __init__(self, book=None):
        self.book = Book() if book is None else book
        self.editing = None         # number of the row that is being changed
        self.confirmed = set()      # (column, value) that the reader said is right
        self.found = None           # what was read of a table, until it is added
        self.busy = False           # while the form is filled by the program
        self.fields = {name: _field(name) for name in FIELDS}
        self.save_button = _button("Save this mix")
        self.stop_button = _button("Stop changing it", shown=False)
        self.question = Asked()
        self.records_table = text_area()
        self.number = widgets.Text(description="Mix No.", placeholder="1")
        self.change_button, self.remove_button = _button("Change this mix"), _button("Remove this mix")
        self.upload = widgets.FileUpload(accept=".csv,.txt,.tsv", multiple=False, description="Choose a table (CSV)", layout=widgets.Layout(width="auto", height="auto"))
        self.file_name = widgets.Text(description="or name a file in your work folder", placeholder="class.csv")
        self.read_button, self.add_button = _button("Read this file"), _button("Add these mixes", shown=False)
        self.file_told, self.file_question = text_area(), Asked()
        self.beside = {part: widgets.VBox(layout=widgets.Layout(width="100%")) for part in ("form", "records", "table")}     # where the message stands
        super().__init__()
        self.children = self._layout()
        self._speak_beside("form")
        self._wire()
        self.guard(self.begin)()

    def _layout(self):
        groups = []
        for title, names in GROUPS:
            box = widgets.Box([self.fields[name] for name in names], layout=widgets.Layout(width="100%"))
            box.add_class("gypsumkit-record")
            groups += [text_area(f"<p><strong>{html.escape(title)}</strong></p>"), box]
        return [widgets.HTML(STYLE, layout=widgets.Layout(display="none")), text_area(paragraphs(INTRODUCTION)), *groups,
                _row(self.save_button, self.stop_button), self.beside["form"], self.question,
                text_area("<p><strong>Your records</strong></p>"), self.records_table, _row(self.number, self.change_button, self.remove_button),
                self.beside["records"], text_area("<p><strong>Read a table made elsewhere</strong></p>"), _row(self.upload, self.file_name, self.read_button),
                self.beside["table"], self.file_told, self.file_question, _row(self.add_button)]

    def _wire(self):
        for control in self.fields.values():
            control.observe(self.guard(self.keep_draft), "value")
        self.save_button.on_click(self._in("form", self.save))
        self.stop_button.on_click(self._in("form", self.stop_changing))
        self.change_button.on_click(self._in("records", self.change))
        self.remove_button.on_click(self._in("records", self.remove))
        self.read_button.on_click(self._in("table", self.read_named))
        self.upload.observe(self._in("table", self.read_uploaded), "value")
        self.add_button.on_click(self._in("table", self.add_found))
        self.question.wire(lambda method: self._in("form", method), self.answer_form)
        self.file_question.wire(lambda method: self._in("table", method), self.answer_file)

    def _in(self, part, method):
        """Return the method as a guarded callback whose message stands beside its part of the page."""
        guarded = self.guard(method)

        def there(*_):
            self._speak_beside(part)
            guarded()
        return there

    def _speak_beside(self, part):
        for name, box in self.beside.items():
            box.children = (self.message,) if name == part else ()

    # The form ---------------------------------------------------------------------------------

    def begin(self):
        """Show what was recorded, and put back what was typed and not yet saved."""
        self.show_records()
        self.restore_draft()

    def save(self):
        """Save what is typed as one mix, once every question about it is answered.

        Raises
        ------
        Problem
            When a field cannot be read, nothing is typed, or the file cannot be written; what is typed stays.
        """
        self.question.clear()
        row = self._typed_row()
        if row is None:
            return
        doubt = next((one for one in doubts(Records.of_rows([row]))[0] if (one.column, one.value) not in self.confirmed), None)
        doubt = doubt or self._recorded_before(row)
        if doubt is not None:
            self._ask(doubt)
            return
        try:
            if self.editing is None:
                number = self.book.add(row)
                told = f"Saved as No. {number}."
            else:
                self.book.replace(self.editing, row)
                told = f"No. {self.editing} is changed; what it was before is kept in bench-earlier.csv."
        except NotSaved as problem:
            # The book has the row and saves it with the next change: the form is free again, and the draft on the disk still holds it.
            self._free_form(forget_draft=False)
            self.show_records()
            raise Problem(f"{problem} It stands in the table below.") from None
        self._free_form()
        self.show_records()
        lacks = [COLUMNS[name].words for name in ("powder", "powder_g", "water_ml") if name not in row]
        if lacks:
            told += f" It cannot be compared with a prediction as long as this is not written: {', '.join(lacks)}."
        self.show_message(" ".join([told, *self.book.take_messages()]))

    def _recorded_before(self, row):
        """Return the question whether a mix with the same results as a recorded one is a second mix, or None."""
        if self.editing is not None or not any(name in row for name in FOUND):
            return None
        records = self.book.records()
        same = next((str(one["record_id"]) for one in map(records.row, range(len(records))) if {name: one[name] for name in FIELDS if name in one} == row), None)
        if same is None or (ALIKE, same) in self.confirmed:
            return None
        return Doubt(0, ALIKE, same, ALIKE, f"All of this stands in your records already, as No. {same}. Is it a second mix?", {})

    def _typed_row(self):
        """Return what is typed as a row; None when a comma has to be asked about first."""
        row, wrong = {}, []
        for name, control in self.fields.items():
            typed = (control.value or "").strip()
            if not typed:
                continue
            both = two_ways(typed) if name in NUMBERS else None
            if both:
                self._ask_which(name, typed, both)
                return None
            try:
                row[name] = read_cell(name, typed)
            except Problem as problem:
                text = str(problem)
                wrong.append((text if text.startswith(COLUMNS[name].words) else f"{COLUMNS[name].words}: {text}") + _meant_words(name, typed))
        if wrong:
            raise Problem("Nothing is saved yet. " + " ".join(wrong))
        if not any(name not in STAYS for name in row):
            raise Problem("Nothing is measured yet: write at least one number or a note, then save.")
        return row

    def _ask(self, doubt):
        if doubt.kind == ALIKE:
            yes, no = "Yes, save it as a second mix", "No, do not save it"
        elif doubt.kind == "swapped":
            yes, no = "Yes, swap them", "No, they are right"
        elif doubt.proposal:
            yes, no = f"Yes, {said(doubt.column, doubt.proposal[doubt.column])}", f"No, keep {said(doubt.column, doubt.value)}"
        else:
            yes, no = "I will correct it", f"It is right, keep {said(doubt.column, doubt.value)}"
        self.question.ask(doubt.sentence + " Nothing is saved until you answer.", yes, no, doubt)

    def _ask_which(self, name, typed, both):
        whole, part = (said(name, read_or_none(name, one)) if read_or_none(name, one) is not None else None for one in both)
        if not (whole or part):
            raise Problem(f"{COLUMNS[name].words}: “{typed}” can be read as {both[0]} or as {both[1]}, and neither can be measured.")
        choices = [(text, words) for text, words in zip(both, (whole, part)) if words]
        yes, no = choices[0], choices[1] if len(choices) > 1 else (None, "I will correct it")
        self.question.ask(f"{COLUMNS[name].words}: “{typed}” can be read in two ways. Nothing is saved until you answer.",
                          f"It is {yes[1]}", f"It is {no[1]}" if no[0] else no[1], (name, yes[0], no[0]))

    def answer_form(self, yes, everywhere=False):
        """Take the answer to the question about the form, then go on saving.

        Parameters
        ----------
        yes : bool
            Which of the two buttons.
        everywhere : bool
            Not used here.
        """
        about = self.question.about
        self.question.clear()
        if about is None:
            raise Problem("There is no question to answer here.")
        if isinstance(about, tuple) and not hasattr(about, "sentence"):
            name, *texts = about
            text = texts[0 if yes else 1]
            if text is None:
                return
            self._put({name: text})
        elif about.kind == ALIKE and not yes:
            self.show_message(f"It is not saved again. It stands in your records as No. {about.value}.")
            return
        elif about.kind == ALIKE:
            self.confirmed.add((about.column, about.value))
        elif yes and about.proposal:
            self._put({name: said(name, value) for name, value in about.proposal.items()})
        elif yes:
            self.show_message("Correct it above, then save.")
            return
        else:
            self.confirmed.add((about.column, about.value))
        self.save()

    def change(self):
        """Put a recorded mix into the form to change it."""
        number = self._number()
        row = self.book.row(number)
        if self._unsaved():
            typed = ", ".join(COLUMNS[name].words for name in self._unsaved())
            raise Problem(f"What you typed is not saved yet ({typed}): save it first or empty these fields, then change another mix.")
        self.editing = number
        self.confirmed.clear()
        # What was recorded has been asked about before.
        self.confirmed.update((name, value) for name, value in row.items() if name in NUMBERS)
        self._put({name: said(name, row[name], 10) if name in row else "" for name in FIELDS})
        self._show_buttons()
        self.show_message(f"No. {number} stands in the form: change it there and save.")

    def stop_changing(self):
        """Empty the form without saving; the mix stays as it was."""
        number = self.editing
        self._free_form()
        self.show_message(f"No. {number} stays as it was.")

    def remove(self):
        """Take a mix out of the table; it is kept in a second file."""
        number = self._number()
        try:
            self.book.remove(number)
        finally:
            self.show_records()
        if self.editing == number:
            self._free_form()
        self.number.value = ""
        self.show_message(" ".join([f"No. {number} is removed; it is kept in bench-earlier.csv.", *self.book.take_messages()]))

    def _number(self):
        number = self.number.value.strip().removeprefix("No.").strip()
        if not number:
            raise Problem("Write the number of the mix, as it stands in the column No., such as 1.")
        return number

    def _unsaved(self):
        return [name for name in FIELDS if name not in STAYS and (self.fields[name].value or "").strip()]

    def _free_form(self, forget_draft=True):
        self.editing = None
        self.confirmed.clear()
        self.question.clear()
        self._put({name: "" for name in FIELDS if name not in STAYS}, forget_draft)
        self._show_buttons()

    def _put(self, typed, keep=True):
        self.busy = True
        try:
            for name, text in typed.items():
                control = self.fields[name]
                if isinstance(control, widgets.Dropdown) and text not in [value for _, value in control.options]:
                    control.options = [*control.options, (text, text)]
                control.value = text
        finally:
            self.busy = False
        if keep:
            self.keep_draft()

    def _show_buttons(self):
        self.save_button.description = "Save this mix" if self.editing is None else f"Save the changes to No. {self.editing}"
        self.stop_button.layout.display = "none" if self.editing is None else None

    # What is typed and not yet saved ------------------------------------------------------------

    def keep_draft(self):
        """Keep what is typed in a small file, so that it comes back after the lesson was closed."""
        if self.busy:
            return
        typed = {name: control.value for name, control in self.fields.items() if (control.value or "").strip()}
        draft = {"editing": self.editing, "typed": typed}
        path = self.book.folder / DRAFT_FILE
        if not typed and not path.exists():
            return
        try:
            self.book.folder.mkdir(parents=True, exist_ok=True)
            write_whole(path, json.dumps(draft, ensure_ascii=False, indent=1).encode("utf-8", errors="replace"))
        except OSError as error:
            raise Problem(f"What you type cannot be kept in {DRAFT_FILE} ({reason(error)}): it stands here as long as this lesson is open.") from None

    def restore_draft(self):
        """Put back what was typed and not yet saved; a file that cannot be read is left alone."""
        path = self.book.folder / DRAFT_FILE
        try:
            draft = json.loads(path.read_text(encoding="utf-8"))
            typed = {name: text for name, text in draft["typed"].items() if name in self.fields and isinstance(text, str)}
            editing = draft.get("editing")
        except FileNotFoundError:
            return
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            self.show_message(f"{DRAFT_FILE} could not be read; what was typed and not saved has to be typed again. Your records are not touched.")
            return
        if editing is not None:
            try:
                self.book.row(editing)
                self.editing = str(editing)
            except Problem:
                self.show_message(f"No. {str(editing)[:20]} is no longer in your records; what you typed would be saved as a new mix.")
        if typed:
            self._put(typed, keep=False)
            if self._unsaved() and not self.message.value:
                self.show_message("What you typed before and did not save is back in the form.")
        self._show_buttons()

    # A table made elsewhere ---------------------------------------------------------------------

    def read_named(self):
        """Read the table whose name is typed; a name alone is looked for in the work folder."""
        typed = self.file_name.value.strip().strip('"')
        if not typed:
            raise Problem("Write the name of the file, such as class.csv; it is looked for in your work folder.")
        path = pathlib.Path(typed).expanduser()
        self._take(read_file(path if path.is_absolute() else self.book.folder / path), path.name)

    def read_uploaded(self):
        """Read the table that was chosen."""
        if self.upload.value:
            chosen = self.upload.value[0]
            self._take(read_bytes(bytes(chosen["content"]), str(chosen["name"])), str(chosen["name"]))

    def _take(self, read, name):
        self.found, self.found_name = read, name
        self._show_found()

    def _show_found(self):
        read = self.found
        without = [one for one in read.refused if not one.proposal]
        lines = [f"{self.found_name}: {_mixes(len(read.records))} read.", *read.messages]
        if without:
            lines.append(f"Cells or lines that cannot be taken: {len(without)}. Correct them in the file and read it again, or go on without them.")
            lines += [str(one) for one in without[:20]] + (["… and more."] if len(without) > 20 else [])
        self.file_told.value = bar("told", "i", "\n".join(lines))
        question = next(iter(self._open_questions()), None)
        if question is None:
            self.file_question.clear()
        else:
            alike = len(read.alike(question))
            left = len(self._open_questions())
            everywhere = f"The same answer for all {alike} of this kind" if alike > 1 else ""
            no = question.no if question.proposal else "It is right, keep it"
            yes = question.yes if question.proposal else "Leave the cell empty"
            self.file_question.ask(f"{question} ({left} to answer.)", yes, no, question, everywhere)
        self.add_button.description = f"Add {_mixes(len(read.records))} to your records"
        self.add_button.layout.display = None if question is None and len(read.records) else "none"

    def _open_questions(self):
        return [*self.found.questions, *(one for one in self.found.refused if one.proposal)] if self.found else []

    def answer_file(self, yes, everywhere=False):
        """Take the answer to a question about the table that was read.

        Parameters
        ----------
        yes : bool
            True puts the proposal in (or empties a cell that has none), False leaves what stands there.
        everywhere : bool
            The same answer for every question of this kind.
        """
        question = self.file_question.about
        if self.found is None or question is None:
            raise Problem("There is no question to answer here: read a table first.")
        if not yes:
            self.found.keep(question, everywhere)
        elif question.proposal:
            self.found.accept(question, everywhere)
        else:
            self.found.empty(question, everywhere)
        self._show_found()

    def add_found(self):
        """Add the mixes of the table that was read, once every question is answered."""
        if self.found is None:
            raise Problem("Read a table first.")
        if self._open_questions():
            raise Problem("First answer the questions about this table.")
        records = self.found.records
        rows = _rows_of(records)
        fresh = _not_among(rows, _rows_of(self.book.records()))
        told = [] if len(fresh) == len(rows) else [f"{len(rows) - len(fresh)} of them stood in your records already."]
        try:
            if fresh:
                self.book.add_all(fresh)
        finally:
            self.found = None
            self.file_told.value = ""
            self.file_question.clear()
            self.add_button.layout.display = "none"
            self.show_records()
        self.show_message(" ".join([f"{_mixes(len(fresh))} added to your records.", *told, *self.book.take_messages()]))

    # What is shown ------------------------------------------------------------------------------

    def show_records(self):
        """Show the table of what is recorded."""
        records = self.book.records()
        header, rows = _table(records)
        self.records_table.value = _table_html(header, rows[-MOST_SHOWN:], len(rows)) if rows else paragraphs("No mix is recorded yet.")
        for message in self.book.take_messages():
            self.show_message(message)

    def enter(self, **typed):
        """Type into the form as the reader would, save, and return in words what the page answers.

        Parameters
        ----------
        **typed
            What is typed, by the names of the columns.
        """
        self.show_message("")
        unknown = set(typed) - set(FIELDS)
        if unknown:
            return Words(f"Message: There is no field called '{sorted(unknown)[0]}'; there are {', '.join(FIELDS)}.")
        try:
            self._put({name: self._as_option(name, str(text)) for name, text in typed.items()})
            self.save()
        except Problem as problem:
            self.show_message(str(problem), "problem")
            return Words(f"Message: {problem}")
        return Words(self.question.words() or "Saved.")

    def _as_option(self, name, text):
        control = self.fields[name]
        if not isinstance(control, widgets.Dropdown) or text in [value for _, value in control.options]:
            return text
        guess = nearest_choice(name, text)
        raise Problem(f"There is no choice of “{COLUMNS[name].words}” called '{text[:40]}'" + (f"; did you mean '{guess}'?" if guess else "."))

    def answer(self, yes):
        """Answer the question about the form and return in words what the page says then.

        Parameters
        ----------
        yes : bool
            True for the first of its two buttons.
        """
        self.guard(lambda: self.answer_form(yes))()
        return Words(self.question.words() or "Saved.")

    def words(self):
        """Return the form and the records in plain words; without the time of recording, so that they are the same every day."""
        lines = [INTRODUCTION]
        for title, names in GROUPS:
            lines.append(f"{title}: {'; '.join(_name_with_unit(name) for name in names)}")
        typed = [f"{COLUMNS[name].words} {self.fields[name].value}" for name in FIELDS if (self.fields[name].value or "").strip()]
        if typed:
            lines.append(f"Typed: {'; '.join(typed)}")
        if self.question.words():
            lines.append(self.question.words())
        try:
            header, rows = _table(self.book.records())
        except Problem as problem:
            return "\n".join([*lines, str(problem)])
        if not rows:
            return "\n".join([*lines, "No mix is recorded yet."])
        lines.append(f"Your records: {len(rows)}")
        left_out = header.index(COLUMNS["recorded_at"].words) if COLUMNS["recorded_at"].words in header else None
        for row in rows[-MOST_SHOWN:]:
            lines.append("; ".join(f"{name} {cell}" for place, (name, cell) in enumerate(zip(header, row)) if cell and place != left_out))
        return "\n".join(lines)


class Asked(widgets.VBox):
    """A question with two buttons, and a third that answers all of its kind."""

    def __init__(self):
        self.about = None
        self._words = ""
        self.text = text_area()
        self.yes, self.no = _button("Yes"), _button("No")
        self.everywhere = widgets.Checkbox(value=False, indent=False, description="", layout=widgets.Layout(width="auto"))
        super().__init__([self.text, self.everywhere, _row(self.yes, self.no)], layout=widgets.Layout(display="none", width="100%"))
        self.add_class("gypsumkit-options")

    def wire(self, guard, answers):
        """Let the buttons answer: `answers` takes yes or no, and whether it holds for all of the kind."""
        def take_yes():
            answers(True, self.everywhere.value)

        def take_no():
            answers(False, self.everywhere.value)
        self.yes.on_click(guard(take_yes))
        self.no.on_click(guard(take_no))

    def ask(self, sentence, yes, no, about, everywhere=""):
        """Show a question.

        Parameters
        ----------
        sentence, yes, no : str
            The question and its two answers.
        about : object
            What it is about, for whoever takes the answer.
        everywhere : str
            Words of the box that answers all of its kind; none is shown without them.
        """
        self.about, self._words = about, f"{sentence} [{yes}] [{no}]"
        self.text.value = bar("not-yet", "?", sentence)
        self.yes.description, self.no.description = yes, no
        self.everywhere.value, self.everywhere.description = False, everywhere
        self.everywhere.layout.display = None if everywhere else "none"
        self.layout.display = None

    def clear(self):
        """Show nothing."""
        self.about, self._words, self.text.value = None, "", ""
        self.layout.display = "none"

    def words(self):
        """Return the question and its answers, or an empty text."""
        return self._words


def read_or_none(name, text):
    """Return what a cell says, or None where it cannot be."""
    try:
        return read_cell(name, text)
    except Problem:
        return None


def _mixes(many):
    return "1 mix" if many == 1 else f"{many:,} mixes"


def _name_with_unit(name):
    column = COLUMNS[name]
    return f"{column.words}, {column.unit}" if column.unit not in (None, "1") else column.words


def _field(name):
    column = COLUMNS[name]
    choices = tuple(POWDERS) if name == "powder" else column.choices
    if choices:
        return widgets.Dropdown(options=[("not written", ""), *((one, one) for one in choices)], value="", description=_name_with_unit(name),
                                style={"description_width": "initial"}, layout=widgets.Layout(width="auto"))
    return widgets.Text(description=_name_with_unit(name), placeholder=column.example, style={"description_width": "initial"}, layout=widgets.Layout(width="auto"))


def _meant_words(name, typed):
    """Say what a number that cannot be measured may have meant in another unit; empty when nothing fits."""
    try:
        number = number_in_unit(name, typed) if name in NUMBERS else None
    except Problem:
        return ""
    unit, proposal = proposal_for(name, number) if number is not None else (None, {})
    if not proposal:
        return ""
    meant = said(name, proposal[name])
    return f" If you mean {said(name, number).removesuffix(f' {COLUMNS[name].unit}')} {unit}, write {meant}."


def _button(words, shown=True):
    return widgets.Button(description=words, layout=widgets.Layout(width="auto", height="auto", display=None if shown else "none"))


def _row(*controls):
    row = widgets.Box(controls, layout=widgets.Layout(width="100%"))
    row.add_class("gypsumkit-record-buttons")
    row.add_class("gypsumkit-typed")
    return row


def _rows_of(records):
    """Return the rows without their numbers, which are given anew."""
    return [{name: value for name, value in records.row(place).items() if name != "record_id"} for place in range(len(records))]


def _not_among(rows, have):
    marks = {tuple(sorted(row.items())) for row in have}
    return [row for row in rows if tuple(sorted(row.items())) not in marks]


def _table(records):
    """Return header and rows of texts: what was recorded in any mix, and what is worked out from it."""
    used = [name for name in COLUMNS if any(value != "" and value == value for value in records[name])]
    made = {name: getattr(records, name) for name in WORKED_OUT}
    worked = [name for name in WORKED_OUT if any(value == value for value in made[name])]
    header = [_name_with_unit(name) for name in used] + [f"{WORKED_OUT[name][0]}, {WORKED_OUT[name][1]}" for name in worked]
    rows = []
    for place in range(len(records)):
        cells = [_cell(name, records[name][place]) for name in used]
        rows.append(cells + ["" if made[name][place] != made[name][place] else rounded(made[name][place], 3) for name in worked])
    return header, rows


def _cell(name, value):
    if value == "" or value != value:
        return ""
    return str(value) if name not in NUMBERS else said(name, float(value)).removesuffix(f" {COLUMNS[name].unit}")


def _table_html(header, rows, many):
    head = "".join(f'<th scope="col">{html.escape(cell)}</th>' for cell in header)
    body = "".join("<tr>" + "".join(f"<td>{html.escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
    less = paragraphs(f"The last {len(rows)} of {many} mixes are shown; all are in bench.csv.") if many > len(rows) else ""
    return (f'{less}<div class="gypsumkit-record-table" tabindex="0" role="region" aria-label="Your records">'
            f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>")
