"""Our powder: the values of a product sheet and the reader's own results make a powder that all pictures know."""

import datetime
import html

from gypsumkit.bench.book import Book
from gypsumkit.bench.own_powder import RATIO, SHORT, VALUES, OwnPowder, bench_values, beside_parent, checked_opening, made, remarks, sheet_value
from gypsumkit.bench.powder_shelf import FILE, Shelf, take_untold
from gypsumkit.live.block import Block, bar, paragraphs, text_area
from gypsumkit.live.form import buttons_row, chooser, field, fields_box, heading, in_lines, press, style, table, tick
from gypsumkit.problems import Problem

EXAMPLES = {RATIO: "0.30, or 28 to 30 mL per 100 g", "spread_mm": "62 mm", "gloss_loss_min": "9 min", "initial_set_min": "9 min", "final_set_min": "10 to 14 min",
            "setting_expansion_percent": "0,09 %", "wet_strength_mpa": "32 MPa"}
INTRODUCTION = ("Copy what the sheet of your product says. Leave empty what it does not say: there the powder it is most like counts. A range is written with “to”. "
                f"Your powders lie in the file {FILE} in your work folder. Lessons and explorers that are opened afterwards have them in their lists.")
LIMITS = ("Limits: the constants are scaled so that a mix at the recommended ratio does what was given; how it changes with water, temperature and mixing is "
          "that of the powder it was made from. Values of a sheet are the maker's and were not measured here. Follow the maker's instructions for real work.")
NONE = "none yet"
HEADS = ("Value at its own recommended ratio", "own powder", "how it is known", "made from")


class PowderPanel(Block):
    """A form for an own powder, what it changes beside the powder it is made from, and a way to keep and remove it.

    Parameters
    ----------
    parent : str
        The powder it is most like, at first.
    shelf : Shelf, optional
        Where powders are kept; the reader's own when not given.
    book : Book, optional
        The reader's records; the own ones when not given.
    """

    def __init__(self, parent="dental stone", shelf=None, book=None):
        self.shelf, self.book = Shelf() if shelf is None else shelf, book
        self.rows, self.remarks, self.shown = [], [], ""
        self.parent = chooser("Most like", tuple(SHORT), parent)
        self.lot, self.opened = field("Lot, as on the bag", "A12"), field("Opened on (year-month-day)", "2026-10-01")
        self.sheet = {name: field(f"{kind.words[0].upper()}{kind.words[1:]} ({kind.unit})", EXAMPLES[name]) for name, kind in VALUES.items()}
        self.with_bench = tick("use my own records of this lot too; they go before the sheet")
        self.replace = tick("replace it, if there is one of this name already")
        self.look_button, self.save_button = press("Look at it"), press("Save it")
        self.owned = chooser("Your powders", (NONE,), NONE)
        self.fetch_button, self.remove_button = press("Fetch it into the form"), press("Remove it")
        self.comparison = text_area()
        super().__init__([
            style(), text_area(paragraphs(INTRODUCTION)), fields_box(self.parent, self.lot, self.opened), heading("What the sheet says"),
            fields_box(*self.sheet.values()), fields_box(self.with_bench, self.replace), buttons_row(self.look_button, self.save_button)])
        self.children = (*self.children, self.comparison, heading("Powders that are kept"), fields_box(self.owned),
                         buttons_row(self.fetch_button, self.remove_button), text_area(paragraphs(LIMITS)))
        self.look_button.on_click(self.guard(self.look))
        self.save_button.on_click(self.guard(self.save))
        self.fetch_button.on_click(self.guard(self.fetch))
        self.remove_button.on_click(self.guard(self.remove))
        self.guard(self.begin)()

    def begin(self):
        """Show what is kept already, and what was found wrong with the file."""
        self._list(self.shelf.load())
        for message in (*take_untold(), *self.shelf.take_messages()):
            self.show_message(message)

    # What the reader does -----------------------------------------------------------------------

    def own(self):
        """Return what stands in the form.

        Returns
        -------
        OwnPowder

        Raises
        ------
        Problem
            When a value cannot be read or cannot be.
        """
        sheet = {name: sheet_value(name, control.value) for name, control in self.sheet.items() if control.value.strip()}
        own = OwnPowder(self.parent.value, self.lot.value, sheet, {}, checked_opening(self.opened.value, datetime.date.today()))
        self._left_out = ()
        if self.with_bench.value:
            made(own)                                   # a ratio that makes no paste is told first
            self.book = Book() if self.book is None else self.book
            bench, self._left_out = bench_values(self.book.records(), own)
            if not bench and not self._left_out:
                raise Problem(f"Your records have nothing of lot {own.lot} for {own.parent}: look how the lot is written there, or untick your records.")
            own = OwnPowder(own.parent, own.lot, sheet, bench, own.opened)
        return own

    def look(self):
        """Show what the powder in the form would do, beside the one it is made from."""
        self._show(self.own())

    def save(self):
        """Keep the powder in the form."""
        own = self.own()
        self.shelf.save(own, self.replace.value)
        self._show(own)
        self._list(self.shelf.load(), own.name)
        self.show_message(f"“{own.name}” is kept. Lessons and explorers that you open from now on have it in their lists.")

    def fetch(self):
        """Put a kept powder into the form."""
        own = self._chosen()
        self.parent.value, self.lot.value, self.opened.value = own.parent, own.lot, own.opened
        for name, control in self.sheet.items():
            one = own.sheet.get(name)
            unit = VALUES[name].unit
            control.value = "" if one is None else f"{one.value:.6g} {unit}" if one.low is None else f"{one.low:.6g} to {one.high:.6g} {unit}"
        self.with_bench.value, self.replace.value = bool(own.bench), True
        self._left_out = ()
        self._show(own)

    def remove(self):
        """Take a kept powder away; its values stay in the form."""
        own = self._chosen()
        self.fetch()
        self.shelf.remove(own.name)
        self._list(self.shelf.load())
        self.show_message(f"“{own.name}” is removed. Its sheet still stands in the form: save it again if that was a mistake.")

    # --------------------------------------------------------------------------------------------

    def _chosen(self):
        owned = self.shelf.load()
        if self.owned.value not in owned:
            self._list(owned)
            raise Problem("There is no own powder yet." if not owned else "Choose one of your powders first.")
        return owned[self.owned.value]

    def _list(self, owned, chosen=None):
        names = tuple(owned) or (NONE,)
        self.owned.options = names
        self.owned.value = chosen if chosen in names else names[0]

    def _show(self, own):
        powder = made(own)
        self.shown, self.rows = f"{own.name}, made from {own.parent}", beside_parent(own, powder)
        rows_of = {}
        for row, why in self._left_out:
            rows_of.setdefault(why, []).append(row)
        self.remarks = remarks(own, powder) + [f"Not counted, No. {', '.join(rows[:8])}{' and more' if len(rows) > 8 else ''}: {why}." for why, rows in rows_of.items()]
        told = "".join(bar("told", "i", one) for one in self.remarks)
        self.comparison.value = table(self.shown, HEADS, self.rows, by_key=True) + told + f"<p>{html.escape(f'Shown: {own.name}.')}</p>"

    def words(self):
        """Return the form in words and, once looked at, the powder beside the one it was made from."""
        lines = [INTRODUCTION, in_lines(self.shown, HEADS, self.rows) if self.rows else "No powder is shown yet."]
        # How long ago it was opened changes from day to day, so it is only shown.
        return "\n".join([*lines, *(one for one in self.remarks if not one.startswith("Opened")), LIMITS])
