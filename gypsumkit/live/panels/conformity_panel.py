"""Conformity: does a batch meet what the standard asks of its type? Results from the reader's records, or typed."""

from gypsumkit.bench import conformity
from gypsumkit.bench.book import Book
from gypsumkit.bench.requirements import EDITIONS, NOT_JUDGED, TESTS, classes, given_by_reader, limit_words, requirements, where_words
from gypsumkit.bench.sample import sample_class
from gypsumkit.live.block import Block, bar, paragraphs, text_area
from gypsumkit.live.form import buttons_row, chooser, field, fields_box, heading, in_lines, press, style, table
from gypsumkit.problems import Problem
from gypsumkit.recipe import read_ratio
from gypsumkit.sources import SOURCES

TYPED, RECORDS, SAMPLE = "results typed here", "my own records", "the sample class, invented"
TYPES = (("1, impression plaster", 1), ("2, model plaster", 2), ("3, dental stone", 3), ("4, improved stone", 4), ("5, high-expansion stone", 5))
EXAMPLES = {"fluidity": "72; 74; 71 mm", "setting time": "9; 9.5; 8,5 min", "expansion": "0.08; 0,10 %", "expansion at 24 h": "0.12; 0,14 %",
            "strength": "36.3; 34,8; 38 MPa", "detail": "20; 50 µm"}
INTRODUCTION = ("Choose type and edition. Then type the results of your specimens, with a semicolon between them, or take them from records. "
                "We have not read the standard itself: each limit says how well it is known. If you have a copy, type its limit.")
HEADS = ("Requirement", "limit", "where it stands", "verdict", "why", "how sure", "not counted")


class ConformityPanel(Block):
    """Choice of type, edition and class; results; the limits of the reader's own copy; the verdicts.

    Parameters
    ----------
    iso_type : int
        Type at first.
    edition : str
        Edition at first.
    typed : dict of str to str, optional
        Results that stand typed at first, by the name of their test; they are judged at once.
    claimed : str
        Setting time that the maker claims, as typed.
    book : Book, optional
        The reader's records; the own ones when not given.
    """

    def __init__(self, iso_type=4, edition="2013", typed=None, claimed="", book=None):
        self.book, self.limits, self.rows = book, {}, []
        self.iso_type = chooser("Type", TYPES, iso_type)
        self.edition = chooser("Edition of ISO 6873", EDITIONS, edition)
        self.iso_class = chooser("Class", ("no classes",), "no classes")
        self.source = chooser("Results from", (TYPED, RECORDS, SAMPLE), TYPED)
        self.batch = chooser("Batch", ("none",), "none")
        self.claimed = field("Setting time that the maker claims (min)", "10 min", claimed)
        self.ratio = field("Ratio that the maker recommends (mL/g), for records", "0.30")
        self.results = {test: field(f"{kind.words[0].upper()}{kind.words[1:]} ({kind.unit})", EXAMPLES[test], (typed or {}).get(test, "")) for test, kind in TESTS.items()}
        self.of_test = chooser("Limit of", [(kind.words, test) for test, kind in TESTS.items()], "strength")
        self.least, self.most = field("At least, in your copy", "35"), field("At most, in your copy", "")
        self.use_button, self.forget_button = press("Use this limit"), press("Use the limits of the course again")
        self.judge_button = press("Judge this batch")
        self.typed_box, self.told, self.verdicts = fields_box(), text_area(), text_area()
        super().__init__([
            style(), text_area(paragraphs(INTRODUCTION)), fields_box(self.iso_type, self.edition, self.iso_class, self.source, self.batch, self.claimed,
                                                                   self.ratio),
            self.typed_box, heading("A limit from your own copy of the standard"), fields_box(self.of_test, self.least, self.most),
            buttons_row(self.use_button, self.forget_button), self.told, buttons_row(self.judge_button)])
        # The message line stands above the table, where the reader is looking.
        self.children = (*self.children, self.verdicts, text_area(paragraphs(f"{conformity.RULE} Not judged here: {NOT_JUDGED}.")))
        for control in (self.iso_type, self.edition):
            control.observe(self.guard(self.fit), "value")
        self.source.observe(self.guard(self.find_batches), "value")
        self.use_button.on_click(self.guard(self.use_limit))
        self.forget_button.on_click(self.guard(self.forget_limits))
        self.judge_button.on_click(self.guard(self.judge))
        self.fit()
        if typed:
            self.guard(self.judge)()

    # What the reader does -----------------------------------------------------------------------

    def fit(self):
        """Show the classes and tests of the type; limits of the reader's copy belonged to the old one and are forgotten."""
        there = classes(self.iso_type.value, self.edition.value)
        self.iso_class.options = there or ("no classes",)
        self.iso_class.value = there[-1] if there else "no classes"
        had = bool(self.limits)
        self.limits = {}
        self._tell_limits()
        self.rows = []
        self.verdicts.value = ""
        self._show_fields()
        if had:
            self.show_message("The limits from your own copy were for another type or edition: type them again.")

    def find_batches(self):
        """Offer the batches among the records.

        Raises
        ------
        Problem
            When there are no records.
        """
        self._show_fields()
        if self.source.value == TYPED:
            return
        records = self._records()
        batches = list(dict.fromkeys(zip(map(str, records["powder"]), map(str, records["lot"]))))
        if not batches:
            self.batch.options, self.batch.value = ("none",), "none"
            raise Problem("There are no records yet: record your mixes first, or type the results here.")
        named = [(f"{powder or 'powder not named'}, {'lot ' + lot if lot else 'lot not named'}", (powder, lot)) for powder, lot in batches]
        self.batch.options = named
        self.batch.value = named[0][1]

    def use_limit(self):
        """Take a limit from the reader's copy.

        Raises
        ------
        Problem
            When it is none, or the type is not asked for it.
        """
        test = self.of_test.value
        asked = [one for one in requirements(*self._choice()) if one.test == test]
        if not asked:
            raise Problem(f"In the edition of {self.edition.value}, type {self.iso_type.value} is not asked for: {TESTS[test].words}.")
        ends = [self._end(one, test) for one in (self.least, self.most)]
        self.limits[test] = given_by_reader(next((one for one in asked if not one.of_claim), asked[0]), *ends)
        self._tell_limits()

    def forget_limits(self):
        """Go back to the limits of the course."""
        self.limits = {}
        self._tell_limits()

    def judge(self):
        """Judge the batch.

        Raises
        ------
        Problem
            When a result cannot be read, or there is nothing to judge.
        """
        claimed = None
        if self.claimed.value.strip():
            times = conformity.read_values(self.claimed.value, "setting time", "The setting time that the maker claims")
            if len(times) != 1 or not times[0] > 0:
                raise Problem("The maker claims one setting time above 0 min; where the sheet gives a range, type its middle.")
            claimed = times[0]
        if self.source.value == TYPED:
            typed = {test: conformity.read_values(self.results[test].value, test) for test in self._asked() if self.results[test].value.strip()}
            if not typed:
                raise Problem("No result is typed yet: write those of your specimens, such as 36.3; 34,8; 38.")
            verdicts = conformity.judge_values(typed, *self._choice(), claimed, self.limits)
        else:
            ratio, records = self._ratio(), self._batch()
            verdicts = conformity.judge_records(records, *self._choice(), claimed, self.limits, ratio)
            self._remark_on_ratios(records, ratio)
        self.rows = [_row(one) for one in verdicts]
        read = sorted({key for one in verdicts for key in one.requirement.sources if key != "given"})
        self.verdicts.value = table(self._caption(), *self._columns(), by_key=True) + paragraphs("Sources. " + " ".join(SOURCES[key] for key in read))

    # --------------------------------------------------------------------------------------------

    def _choice(self):
        return self.iso_type.value, self.edition.value, "" if self.iso_class.value == "no classes" else self.iso_class.value

    def _asked(self):
        return tuple(dict.fromkeys(one.test for one in requirements(*self._choice())))

    def _show_fields(self):
        self.typed_box.children = tuple(self.results[test] for test in self._asked()) if self.source.value == TYPED else ()
        self.batch.disabled = self.source.value == TYPED

    def _records(self):
        if self.source.value == SAMPLE:
            return sample_class()
        self.book = Book() if self.book is None else self.book
        return self.book.records()

    def _batch(self):
        if self.batch.value == "none":
            raise Problem("There are no records yet: record your mixes first, or type the results here.")
        records, (powder, lot) = self._records(), self.batch.value
        return records.where([place for place in range(len(records)) if (str(records["powder"][place]), str(records["lot"][place])) == (powder, lot)])

    def _ratio(self):
        if not self.ratio.value.strip():
            return None
        ratio = read_ratio(self.ratio.value)
        if not 0.05 <= ratio <= 1.5:
            raise Problem(f"The recommended ratio is given as {ratio:g}; it must lie between 0.05 and 1.5 mL/g, such as 0.30 or 30 mL per 100 g.")
        return ratio

    def _remark_on_ratios(self, records, ratio):
        ratios = sorted(one for one in records.water_powder_ratio if one == one)
        if ratio is None and ratios and ratios[-1] > 1.02 * ratios[0]:
            self.show_message(f"These mixes were made at ratios from {ratios[0]:.3g} to {ratios[-1]:.3g}. A product is tested at the ratio of its maker: type that ratio, "
                              "and only mixes made at it count.")

    def _end(self, control, test):
        if not control.value.strip():
            return None
        values = conformity.read_values(control.value, test, "The limit")
        if len(values) != 1:
            raise Problem("Type one number for each end of a limit.")
        return values[0]

    def _tell_limits(self):
        said = "; ".join(f"{TESTS[test].words}: {limit_words(one)}" for test, one in self.limits.items())
        self.told.value = bar("told", "i", f"Limits you typed: {said}.") if said else ""

    def _columns(self):
        """Heads and rows, without the last column where everything counts."""
        shown = len(HEADS) - (not any(row[-1] for row in self.rows))
        return HEADS[:shown], [row[:shown] for row in self.rows]

    def _caption(self):
        said = f"Type {self.iso_type.value}" + (f", {self.iso_class.value}" if self._choice()[2] else "") + f", edition {self.edition.value}, {self.source.value}"
        if self.source.value != TYPED:
            powder, lot = self.batch.value
            said += f": {powder or 'powder not named'}, {'lot ' + lot if lot else 'lot not named'}"
        return said

    def words(self):
        """Return what can be judged and, once it was, the verdicts, with the rule."""
        lines = [INTRODUCTION, in_lines(self._caption(), *self._columns()) if self.rows else "Nothing is judged yet."]
        return "\n".join([*lines, conformity.RULE, f"Not judged here: {NOT_JUDGED}."])


def _row(verdict):
    one = verdict.requirement
    kind = TESTS[one.test]
    rows_of = {}
    for row, why in verdict.left_out:
        rows_of.setdefault(why, []).append(row)
    left_out = "; ".join(f"No. {', '.join(rows[:8])}{' and more' if len(rows) > 8 else ''}: {why}" for why, rows in rows_of.items())
    mark = {conformity.PASS: "✓ ", conformity.FAIL: "✗ ", conformity.OPEN: "? "}[verdict.outcome]
    return (f"{kind.words[0].upper()}{kind.words[1:]}", limit_words(one), where_words(one), mark + verdict.words, verdict.reason, verdict.how_sure, left_out)
