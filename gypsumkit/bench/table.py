"""A table on its way from lines of text to records: every cell is taken, asked about or refused, by line and column.

The header says what stands where, blocks of lines become columns of numbers, and what may be a slip becomes a question. Numbers
are read many at a time; only a cell that is not plain goes the slow way, once for each spelling.
"""

import csv
import math
import re
from dataclasses import dataclass, field

import numpy as np

from gypsumkit.bench.cells import LONGEST_TEXT, checked_number_of, factor_of, nearest_choice, number_in_unit, read_cell, said, two_ways
from gypsumkit.bench.columns import COLUMNS, NUMBERS
from gypsumkit.bench.decoding import LONGEST_LINE
from gypsumkit.bench.doubts import doubts, proposal_for
from gypsumkit.bench.headers import RATIO, column_of, nearest_column
from gypsumkit.bench.records import Records
from gypsumkit.bench.sheets import RUNS, as_written
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.recipe import read_ratio
from gypsumkit.units import say_number

MOST_COLUMNS, MOST_QUESTIONS, LONGEST_CELL_LINES, LINES_ABOVE = 500, 2000, 50, 10
MOST_UNKNOWN, MOST_GUESSED_COLUMNS, MOST_GUESSES = 20, 10, 200      # advice takes time: a broken table gets only so much of it
BLOCK = 4000            # rows that are turned into columns at a time

_SEPARATORS = {",": "comma", ";": "semicolon", "\t": "tab"}
_COMMENT = re.compile(r"\s*(?:#(?!\s*[,;\t])|sep=)")
_PLAIN = frozenset("0123456789.+-eE ")
_NUMBER_AND_UNIT = re.compile(r"[+-]?\d+(?:[.,]\d+)?\s*([^\d\s.,]\S{0,4})?$")
_USUAL_UNITS = frozenset(("", "g", "kg", "mg", "ml", "l", "mm", "cm", "m", "µm", "um", "s", "min", "h", "n", "kn", "c", "°c"))
_NEEDS_A_LOOK = ("'", "=", "+", "@", "＝", "＋", "－", "＠")      # "-" stands in dates and lots, and needs none as text
_POINT_THOUSAND = re.compile(r"^[+-]?[1-9]\d{0,2}\.\d{3}$")
_DECIMAL_COMMAS = re.compile(r"(?:^|[;\t\"])\s*[+-]?\d+,(?:\d{1,2}|\d{4,})\s*(?:$|[;\t\"])")


@dataclass(frozen=True, slots=True)
class Question:
    """One cell that was refused, or that may be a slip.

    Parameters
    ----------
    line : int
        Line of the file, the first being 1.
    column : str
        A key of `COLUMNS`, or the header as it stands.
    stands : str
        What stands in the cell.
    sentence : str
        What is wrong or asked.
    proposal : dict
        New values by column, put in by `Read.accept`; empty when there is nothing to propose.
    kept : bool
        Whether what stands there is in the records as long as there is no answer.
    kind : str
        What it may be, alike for questions that have the same answer: a unit, "swapped", "odd".
    place : int
        Of the row in the records, -1 when there is none.
    """

    line: int
    column: str
    stands: str
    sentence: str
    proposal: dict = field(default_factory=dict)
    kept: bool = False
    kind: str = "odd"
    place: int = -1

    def __str__(self):
        where = f"line {self.line}"
        words = COLUMNS[self.column].words if self.column in COLUMNS else self.column
        if words and not self.sentence.startswith(words):
            where += f", column {words}"
        return f"{where[0].upper()}{where[1:]}: {self.sentence}"

    @property
    def yes(self):
        """What the proposal would put in, as the words on a button."""
        if self.kind == "swapped":
            return "Yes, swap them"
        return "Yes, " + ", ".join(said(name, value) for name, value in self.proposal.items()) if self.proposal else "Leave it out"

    @property
    def no(self):
        """What stays without the proposal, as the words on a button."""
        if self.kind == "swapped":
            return "No, they are right"
        return f"No, keep {self.stands}" if self.kept else "No, leave it empty"


class Table:
    """One table on its way from lines to records.

    Parameters
    ----------
    lines : list of str
        Of the file; the first that names columns is the header.
    called : str
        How a message calls the file.
    messages : list of str
        What was said of it so far.
    """

    def __init__(self, lines, called, messages):
        self.lines, self.called, self.messages = lines, called, messages
        self.questions, self.refused = [], []
        self.more_refused = 0
        self.complete = True
        self.at = 0                 # next line to look at, from 0
        self.length = 0             # rows taken so far
        self.memory = {}            # what a spelling means, by column
        self.short_lines = []
        self.formulas = self.guesses = self.only_numbered = 0
        self.worked_out = False
        self.decimal_commas = any(map(_DECIMAL_COMMAS.search, lines[:2000]))

    def read(self):
        """Return records, questions, refused cells, messages, the line of each row, and whether everything is in the records."""
        header = self._header()
        self.plan = self._columns_of(header)
        parts, places = [], []
        for rows, lines in self._blocks(len(header)):
            part = self._block(rows, lines)
            parts.append(part)
            places.append(np.array(lines, dtype=np.int32))
        self.lines = ()
        records = Records.together(parts) if parts else Records()
        lines = np.concatenate(places) if places else np.zeros(0, dtype=np.int32)
        self._say(records)
        found, many = doubts(records, max(MOST_QUESTIONS - len(self.questions), 0))
        self.questions += [Question(int(lines[one.place]), one.column, said(one.column, one.value), one.sentence, one.proposal, True, one.kind, one.place)
                           for one in found]
        if many > len(found):
            self.messages.append(f"{many - len(found):,} more cells look unusual than are asked about here: perhaps a whole column has another unit; "
                                 "write it into the header, such as Spread (cm).")
        self.questions.sort(key=lambda one: one.line)
        if self.more_refused:
            self.messages.append(f"{self.more_refused:,} more cells were refused than are listed here.")
        return records, self.questions, self.refused, self.messages, lines, self.complete and not self.refused

    def _refuse(self, question):
        if len(self.refused) < MOST_QUESTIONS:
            self.refused.append(question)
        else:
            self.more_refused += 1
            self.complete = False

    # Lines -----------------------------------------------------------------------------------

    def _header(self):
        """Return the cells of the line that names the columns: the first one that names two, else the first with anything in it."""
        candidates = []
        while self.at < len(self.lines) and len(candidates) < LINES_ABOVE:
            line = self.lines[self.at]
            self.at += 1
            if line.strip(" \t,;") and not _COMMENT.match(line):
                candidates.append(self.at)
                if len(line) > LONGEST_LINE or self._names_two(line):
                    break
        if not candidates:
            raise Problem(f"{self.called} holds no line of column names: it should begin with one, such as powder, powder_g, water_ml.")
        if not self._names_two(self.lines[candidates[-1] - 1]):
            candidates = candidates[:1]
        self.header_line = self.at = candidates[-1]
        line = self.lines[self.at - 1]
        many = max(map(line.count, _SEPARATORS)) + 1
        if len(line) > LONGEST_LINE or many > MOST_COLUMNS:
            raise Problem(f"{self.called}, line {self.at}, column {MOST_COLUMNS + 1}: this line has {many:,} columns and {len(line):,} letters; "
                          f"a header has at most {MOST_COLUMNS} columns and {LONGEST_LINE:,} letters.")
        header = _split(line, self.separator)
        if len(header) > 1:
            self.messages.append(f"Cells are separated by {_SEPARATORS[self.separator]}.")
        for above in candidates[:-1]:
            self.messages.append(f"Line {above} stands above the names of the columns and is left out: “{self.lines[above - 1].strip()[:60]}”.")
        return header

    def _names_two(self, line):
        if len(line) > LONGEST_LINE:
            return False
        self.separator = max(_SEPARATORS, key=lambda one: _outside_quotes(line, one))
        return sum(_names_a_column(cell) for cell in _split(line, self.separator)[:MOST_COLUMNS]) > 1

    def _blocks(self, width):
        """Yield blocks of rows as lists of cells, each row as long as the header, with the lines where they begin."""
        rows, places = [], []
        numbered = next((place for place, name, _, _ in self.plan if name == "record_id"), None)
        separator, empty = self.separator, " \t,;\r"
        while self.at < len(self.lines):
            line, place = self.lines[self.at], self.at + 1
            self.at += 1
            if len(line) > LONGEST_LINE:
                self._refuse(Question(place, f"{self._first_long(line)} of the line", line[:40], f"this line has {len(line):,} letters and "
                                      f"{line.count(separator) + 1:,} columns; at most {LONGEST_LINE:,} letters are read. The line is left out."))
                continue
            if not line.strip(empty):
                continue
            cells = line.split(separator) if '"' not in line else self._quoted(line, width)
            if len(cells) != width:
                cells = self._to_width(cells, width, place)
                if cells is None:
                    continue
            if numbered is not None and not any(cells[:numbered]) and not any(cells[numbered + 1:]):
                self.only_numbered += 1
                self.complete = self.complete and cells[numbered].strip().isdigit()
                continue
            rows.append(cells)
            places.append(place)
            if len(rows) == BLOCK:
                yield rows, places
                rows, places = [], []
        if rows:
            yield rows, places

    def _first_long(self, line):
        before = 0
        for number, cell in enumerate(line.split(self.separator, MOST_COLUMNS), 1):
            before += len(cell)
            if before > LONGEST_LINE:
                return number
        return MOST_COLUMNS + 1

    def _quoted(self, line, width):
        """Return the cells of a line with quotation marks; a cell may go on over the following lines."""
        whole, at, length = [line], self.at, len(line)
        open_still = _open_quote(line, self.separator)
        while open_still:
            follows = self.lines[at] if at < len(self.lines) else None
            if (follows is None or len(whole) > LONGEST_CELL_LINES or length > LONGEST_LINE
                    or (width > 2 and follows.count(self.separator) >= width - 1)):
                # The mark is never closed: only this line is taken, so that no row after it is swallowed.
                return line.split(self.separator)
            whole.append(follows)
            at, length, open_still = at + 1, length + len(follows), _open_quote(follows, self.separator, True)
        self.at = at
        return _split("\n".join(whole), self.separator)

    def _to_width(self, cells, width, place):
        if len(cells) < width:
            self.short_lines.append(place)
            return cells + [""] * (width - len(cells))
        if any(cell.strip() for cell in cells[width:]):
            wide = next(number for number in range(width, len(cells)) if cells[number].strip())
            hint = " Perhaps a decimal comma: then separate the cells by semicolons." if self.separator == "," else ""
            self._refuse(Question(place, f"{wide + 1} of the line", cells[wide].strip()[:40],
                                  f"this line has {len(cells):,} cells and the header has {width}, so that nobody knows which is which. The line is left out.{hint}"))
            return None
        return cells[:width]

    # The header ------------------------------------------------------------------------------

    def _columns_of(self, header):
        """Return place, column and factor to its unit for each header that is known; say what is left out."""
        plan, used, unknown = [], set(), []
        for place, text in enumerate(header):
            text = as_written(text.strip())
            if not text:
                continue
            try:
                name, unit = column_of(text[:200])
                factor = factor_of(name, unit) if unit and name != RATIO else None
            except Problem as problem:
                self.messages.append(f"Line {self.header_line}, column {place + 1}: “{text[:40]}” is left out: {problem}")
                self.complete = False
                continue
            if name == "spread_one_mm" and name in used:
                name = "spread_two_mm"
            if name is None or name in used:
                unknown.append((place, text, name))
                continue
            used.add(name)
            plan.append((place, name, factor, unit))
            if unit and name != RATIO:
                self.messages.append(f"“{text[:40]}” is converted from {unit} to {COLUMNS[name].unit}.")
        if not plan or not used & set(NUMBERS) and len(used) < 2:
            raise Problem(f"{self.called}, line {self.header_line}, column 1: “{header[0].strip()[:40]}” is no column of the record, and the line names no other. "
                          "The first line should name the columns, such as powder, powder_g, water_ml, spread_one_mm.")
        for place, text, name in unknown[:MOST_UNKNOWN]:
            guess = None if name or len(unknown) > MOST_GUESSED_COLUMNS else nearest_column(text[:40])
            why = f"{COLUMNS[name].words if name in COLUMNS else name} stands there already" if name else "it is no column of the record"
            self.messages.append(f"Line {self.header_line}, column {place + 1}: “{text[:40]}” is left out: {why}" + (f"; did you mean {guess}?" if guess else "."))
            self.complete = False
        if len(unknown) > MOST_UNKNOWN:
            self.messages.append(f"{len(unknown) - MOST_UNKNOWN} more columns are left out.")
        return plan

    # Blocks ----------------------------------------------------------------------------------

    def _block(self, rows, lines):
        columns = list(zip(*rows))
        start, self.length = self.length, self.length + len(rows)
        made, ratios = {}, None
        for place, name, factor, unit in self.plan:
            cells = columns[place]
            if name == RATIO:
                ratios = self._ratios(cells, lines, start, unit)
            elif name in NUMBERS:
                made[name] = self._numbers(name, cells, factor, unit, lines, start)
            else:
                made[name] = self._texts(name, cells, lines, start)
        if ratios is not None:
            self._water_from(ratios, made, lines, start)
        return Records(made)

    def _numbers(self, name, cells, factor, unit, lines, start):
        values = None
        if not set("".join(cells)) - _PLAIN and not self.decimal_commas:
            try:
                values = np.array([float(cell) if cell else math.nan for cell in cells])
            except ValueError:
                pass
        if values is None:
            values = self._slow_numbers(name, cells, unit, lines, start)
        elif factor is not None:
            values *= factor
        least, most = COLUMNS[name].possible
        for place in np.flatnonzero((values < least) | (values > most)):
            self._impossible(name, cells[place], float(values[place]), factor, lines[place], start + int(place))
            values[place] = math.nan
        return values

    def _impossible(self, name, cell, value, factor, line, place):
        low, high = COLUMNS[name].usual
        written = value / factor if factor else None
        if written is not None and low <= written <= high:
            kind, proposal = "own unit", {name: float(f"{written:.10g}")}
            asks = f" Is it {said(name, written)}?"
        else:
            kind, proposal = proposal_for(name, value)
            asks = f" Is it {say_number(value, 5)} {kind} = {said(name, proposal[name])}?" if proposal else ""
        try:
            checked_number_of(name, value)
        except Problem as problem:
            self._refuse(Question(line, name, cell.strip()[:40], f"{problem}{asks}", proposal, False, kind or "odd", place))

    def _slow_numbers(self, name, cells, unit, lines, start):
        known = self.memory.setdefault(name, {})
        values = np.full(len(cells), math.nan)
        for place, cell in enumerate(cells):
            if not cell:
                continue
            found = known.get(cell)
            if found is None:
                if len(known) > 50_000:
                    known.clear()
                found = known[cell] = self._slow_number(name, cell, unit)
            if isinstance(found, float):
                values[place] = found
            else:
                self._not_plain(name, cell, found, lines[place], start + place)
        return values

    def _slow_number(self, name, cell, unit):
        """Return the number, or a tuple of sentence, proposal and kind for a cell that is not one."""
        text = as_written(cell.strip())
        if not text:
            return math.nan
        both = two_ways(text)
        if both is None and self.decimal_commas and _POINT_THOUSAND.match(text):
            both = text.replace(".", ""), text
        if both:
            return self._which_of(name, text, both, unit)
        if self.guesses > MOST_GUESSES and not _looks_like_a_number(text):
            return f"“{text[:40]}” is not a number with a unit: write it like {COLUMNS[name].example}.", {}, "odd"
        try:
            return number_in_unit(name, text, unit)
        except Problem as problem:
            self.guesses += 1
            return str(problem) if text[:20] in str(problem) else f"“{text[:40]}”: {problem}", {}, "odd"

    def _which_of(self, name, text, both, unit):
        values = []
        for one in both:
            try:
                values.append(read_cell(name, one, unit))
            except Problem:
                values.append(None)
        low, high = COLUMNS[name].usual
        usual = [value is not None and low <= value <= high for value in values]
        number = 1 if usual[1] or values[0] is None or (self.decimal_commas and not usual[0]) else 0
        if values[number] is None:
            return f"“{text}” can be read as {both[0]} or as {both[1]}, and neither can be measured here.", {}, "odd"
        return (f"“{text}” can be read as {both[0]} or as {both[1]}; is it {said(name, values[number])}?", {name: values[number]}, "comma")

    def _not_plain(self, name, cell, found, line, place):
        sentence, proposal, kind = found
        question = Question(line, name, cell.strip()[:40], sentence, dict(proposal), False, kind, place)
        if proposal and len(self.questions) < MOST_QUESTIONS:
            self.questions.append(question)
            self.complete = False
        else:
            self._refuse(question)

    def _texts(self, name, cells, lines, start):
        if name != "powder" and not COLUMNS[name].choices and _is_plain_text(cells):
            return np.array([cell.strip() for cell in cells], dtype=object)
        known = self.memory.setdefault(name, {})
        if len(known) > 50_000:
            known.clear()
        for cell in set(cells).difference(known):
            known[cell] = self._one_text(name, cell) if cell else ("", "", {}, True)
        found = [known[cell] for cell in cells]
        for place, (_, sentence, proposal, kept) in enumerate(found):
            if not sentence:
                continue
            cell = cells[place].strip()[:40]
            question = Question(lines[place], name, cell, sentence, dict(proposal), kept, f"spelling of {cell}", start + place)
            if kept and len(self.questions) < MOST_QUESTIONS:
                self.questions.append(question)
            elif not kept:
                self._refuse(question)
        values = np.empty(len(cells), dtype=object)
        values[:] = [one[0] for one in found]
        return values

    def _one_text(self, name, cell):
        """Return the text, a sentence where there is something to say, a proposal, and whether the text is kept meanwhile."""
        text = as_written(cell.strip())
        self.formulas += text.startswith(RUNS)
        try:
            value = read_cell(name, text)
        except Problem as problem:
            guess = self._guess(name, text)
            if guess:
                return "", f"{problem} Is it {guess}?", {name: guess}, False
            clean = "".join(one for one in " ".join(text.split()) if one.isprintable())[:LONGEST_TEXT] if not COLUMNS[name].choices else ""
            return "", str(problem), {name: clean} if clean else {}, False
        if name == "powder" and value not in POWDERS:
            guess = self._guess(name, value)
            if guess:
                return value, f"“{value[:40]}” is no powder of the course; is it {guess}?", {name: guess}, True
        return value, "", {}, True

    def _guess(self, name, text):
        self.guesses += 1
        return nearest_choice(name, text[:80]) if self.guesses <= MOST_GUESSES else None

    # The ratio -------------------------------------------------------------------------------

    def _ratios(self, cells, lines, start, unit):
        values = np.full(len(cells), math.nan)
        for place, cell in enumerate(cells):
            text = as_written(cell.strip())
            if not text:
                continue
            try:
                values[place] = read_ratio(f"{text} {unit}" if unit and re.fullmatch(r"[-+]?[\d.,]+", text) and "100" in unit or unit == "%" else text)
            except Problem as problem:
                self._refuse(Question(lines[place], "W/P", text[:40], str(problem)))
        return values

    def _water_from(self, ratios, made, lines, start):
        """Work the water out from the ratio and the powder where it was not measured itself."""
        powder = made.get("powder_g", np.full(len(ratios), math.nan))
        water = made.setdefault("water_ml", np.full(len(ratios), math.nan))
        least, most = COLUMNS["water_ml"].possible
        for place in np.flatnonzero(~np.isnan(ratios) & np.isnan(water)):
            line, ratio = lines[place], float(ratios[place])
            if math.isnan(powder[place]):
                self._refuse(Question(line, "W/P", f"{ratio:g}", "a ratio is kept as powder and water: write the powder that was weighed beside it."))
            elif ratio > 2:
                self._refuse(Question(line, "W/P", f"{ratio:g}", f"{ratio:g} looks like mL per 100 g: write {ratio / 100:g}, or W/P (mL per 100 g) into the header."))
            elif not least <= ratio * powder[place] <= most:
                self._refuse(Question(line, "W/P", f"{ratio:g}", "this ratio gives no amount of water that can be measured."))
            else:
                water[place] = float(f"{ratio * powder[place]:.6g}")
                self.worked_out = True

    def _say(self, records):
        if not len(records):
            self.messages.append("There is a header but no row below it.")
        if self.worked_out:
            self.messages.append("The water was worked out from W/P and the powder where it was not written.")
        if self.decimal_commas:
            self.messages.append("Numbers with a decimal comma are understood.")
        if self.short_lines:
            self.messages.append(f"{len(self.short_lines)} line(s) have fewer cells than the header (first: line {self.short_lines[0]}); what is missing is empty.")
        if self.only_numbered:
            self.messages.append(f"Lines that hold nothing but a number of a mix are left out: {self.only_numbered}.")
        if self.formulas:
            self.messages.append("Some texts begin like a formula: they are kept as text and never run.")


def _outside_quotes(line, separator):
    return re.sub(r'"[^"]*"', "", line).count(separator)


def _open_quote(line, separator, inside=False):
    """Whether a quotation mark at the beginning of a cell, of this line or of one before, is still open at the end of the line."""
    for piece in line.split(separator):
        if inside:
            inside = piece.count('"') % 2 == 0
        elif piece.startswith('"'):
            inside = piece.count('"') % 2 == 1
    return inside


def _is_plain_text(cells):
    """Whether nothing in these cells needs a look: letters only, none longer than is kept, none that a spreadsheet might run."""
    together = "".join(cells)
    return (together.isprintable() and not any(sign in together for sign in _NEEDS_A_LOOK) and max(map(len, cells)) <= LONGEST_TEXT)


def _looks_like_a_number(text):
    """Whether a text is a number, alone or with one of the usual units."""
    found = _NUMBER_AND_UNIT.match(text)
    return bool(found) and (found.group(1) or "").lower() in _USUAL_UNITS


def _names_a_column(text):
    try:
        return column_of(as_written(text.strip())[:200])[0] is not None
    except Problem:
        return True


def _split(line, separator):
    if '"' not in line:
        return line.split(separator)
    try:
        return next(csv.reader([line], delimiter=separator), [""])
    except csv.Error:
        return line.split(separator)
