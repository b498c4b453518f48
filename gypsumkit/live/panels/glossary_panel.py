"""The glossary on the page: type a part of a word, and see every term in which it is found."""

from gypsumkit.live.block import Block, paragraphs, text_area
from gypsumkit.live.form import buttons_row, field, fields_box, press, style, table
from gypsumkit.problems import Problem
from gypsumkit.quiz.glossary import HEADS, near, search, term_lines

INTRODUCTION = ("Type a word or a part of one, such as “set”, “W/P” or “MPa”, then press Enter. Names used elsewhere are found too, and a word with a wrong letter often is. "
                "An empty field shows every term.")


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
        """Show what is found, else what is written nearly so, and say it.

        Raises
        ------
        Problem
            When nothing is near.
        """
        typed = self.wanted.value.strip()
        found, like = search(typed), ()
        if not found:
            like = near(typed)
            found = tuple(term for _, term in like)
        self.found = found
        self.shown.value = table(self._caption(), HEADS, [term.cells() for term in found]) if found else ""
        if like:
            self.show_message(f"Nothing is found for “{typed[:40]}”; do you mean “{like[0][0]}”? What is written nearly so stands below.")
        elif not found:
            raise Problem(f"Nothing is found for “{typed[:40]}”: type a shorter part of the word, or another word for it.")

    def show_all(self):
        """Empty the field, and show every term."""
        self.wanted.value = ""

    def _caption(self):
        return f"{len(self.found)} {'term' if len(self.found) == 1 else 'terms'}" + (f" for “{self.wanted.value.strip()}”" if self.wanted.value.strip() else "")

    def words(self):
        """Return the terms that are shown, in plain words."""
        return "\n".join([INTRODUCTION, f"{self._caption()}:", *term_lines(self.found)])
