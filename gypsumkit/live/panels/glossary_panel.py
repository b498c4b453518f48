"""The glossary on the page: type a part of a word, and see every term in which it is found."""

from gypsumkit.live.block import Block, paragraphs, text_area
from gypsumkit.live.form import buttons_row, field, fields_box, press, style, table
from gypsumkit.problems import Problem, nearest
from gypsumkit.quiz.glossary import HEADS, TERMS, search, term_lines

INTRODUCTION = "Type a part of a word, such as “set”, “W/P” or “MPa”, then press Enter. Names used elsewhere are found too. An empty field shows every term."


class GlossaryPanel(Block):
    """A field to search, and the terms found.

    Parameters
    ----------
    wanted : str
        What is searched at first.
    """

    def __init__(self, wanted=""):
        self.wanted = field("Search a term", "ring test", wanted)
        self.all_button = press("Show every term")
        self.found, self.shown = (), text_area()
        super().__init__([style(), text_area(paragraphs(INTRODUCTION)), fields_box(self.wanted), buttons_row(self.all_button)])
        # The message line stands above the table, where the reader is looking.
        self.children = (*self.children, self.shown)
        self.wanted.observe(self.guard(self.look), "value")
        self.all_button.on_click(self.guard(self.show_all))
        self.guard(self.look)()

    def look(self):
        """Show what is found.

        Raises
        ------
        Problem
            When nothing is found; names the nearest term.
        """
        found = search(self.wanted.value)
        if not found:
            self.found, self.shown.value = (), ""
            names = [one for term in TERMS for one in (term.name, *term.also)]
            guess = nearest(self.wanted.value.strip(), names)
            raise Problem(f"Nothing is found for “{self.wanted.value.strip()[:40]}”" + (f"; do you mean “{guess}”?" if guess else ": type a shorter part of the word."))
        self.found = found
        self.shown.value = table(self._caption(), HEADS, [term.cells() for term in found])

    def show_all(self):
        """Empty the field, and show every term."""
        self.wanted.value = ""

    def _caption(self):
        return f"{len(self.found)} terms" + (f" for “{self.wanted.value.strip()}”" if self.wanted.value.strip() else "")

    def words(self):
        """Return the terms that are shown, in plain words."""
        return "\n".join([INTRODUCTION, f"{self._caption()}:", *term_lines(self.found)])
