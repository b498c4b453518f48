"""The map of the course on the page: for one lesson or all, each objective with what asks, trains and recalls it."""

from gypsumkit.live.block import Block, paragraphs, text_area
from gypsumkit.live.form import chooser, fields_box, style, table
from gypsumkit.quiz import bank
from gypsumkit.quiz.course_map import HEADS, READING, course_map, map_lines

EVERY = "all lessons"


class MapPanel(Block):
    """A choice of lesson, and the table of its objectives.

    Parameters
    ----------
    lesson : str
        Number of the lesson shown at first, or "all lessons".
    """

    def __init__(self, lesson=EVERY):
        self.lesson = chooser("Lesson", (EVERY, *bank.lessons()), lesson)
        self.shown = text_area()
        super().__init__([style(), text_area(paragraphs(READING)), fields_box(self.lesson), self.shown])
        self.lesson.observe(self.guard(self.look), "value")
        self.look()

    def look(self):
        """Show the map of the lesson chosen."""
        self.shown.value = table(f"Map of {self._what()}", HEADS, [one.cells() for one in self._mapped()])

    def _what(self):
        return "the course" if self.lesson.value == EVERY else f"lesson {self.lesson.value}"

    def _mapped(self):
        return course_map(None if self.lesson.value == EVERY else self.lesson.value)

    def words(self):
        """Return the map in plain words."""
        return "\n".join([f"Map of {self._what()}. {READING}", *map_lines(self._mapped())])
