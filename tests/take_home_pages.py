"""Pages to take home, made once for all tests of a run; with few options in each list, so that all lessons can be looked at."""

from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path

import ipywidgets as widgets

import gypsumkit.live.take_home as take_home
from gypsumkit.live.lesson_text import read_lesson
from gypsumkit.problems import Problem
from gypsumkit.stage.page import LessonPage, page_html, problem_text, scene_text
from gypsumkit.stage.slots import misses, take_apart

LESSONS = {path.name[:2]: path for path in sorted((Path(__file__).resolve().parent.parent / "lessons").glob("[0-9][0-9]_*.ipynb"))}
FEW = 1
OPTIONS = take_home._options


@contextmanager
def few_options(uses):
    """Let each list keep its first option and those that the lesson's explorers begin with or ask for."""
    kept = set()
    for use in uses:
        if use["kind"] not in take_home.NOT_ON_THE_PAGE:
            made = take_home._made(use)
            kept |= {*made.settings().values(), *(value for value in (use["settings"].get("asked") or {}).values())}

    def few(control):
        found = OPTIONS(control)
        return found if isinstance(control, widgets.Checkbox) else [one for place, one in enumerate(found) if place < FEW or one[1] in kept]

    take_home._options = few
    try:
        yield
    finally:
        take_home._options = OPTIONS


class MadePage:
    """A lesson's page with what it was made from.

    Parameters
    ----------
    number : str
        Of the lesson.
    """

    def __init__(self, number):
        self.text = read_lesson(LESSONS[number])
        self.uses = [use for use in self.text.uses if use["kind"] not in take_home.NOT_ON_THE_PAGE]
        with few_options(self.text.uses):
            self.explorers, self.left_out = take_home.page_explorers(self.text.uses)
        self.html = page_html(LessonPage(self.text.title, self.text.guiding_question, self.text.cautions, tuple(self.explorers),
                                         tuple(self.left_out), self.text.rest))

    def library(self, place):
        """Return a function that gives the library's text at settings of the explorer at this place."""
        use, told = self.uses[place], self.explorers[place].computed
        with few_options(self.text.uses):
            explorer = take_home._made(use)
            explorer.stop_drawing()
            options = [take_home._options(explorer.controls[choice.name]) for choice in told.choices]
        start = explorer.settings()

        def at(chosen, values):
            explorer.go_to(**start)
            for choice, option, one in zip(told.choices, options, chosen):
                explorer.go_to(**{choice.name: option[one][1]})
            for number, value in zip(told.numbers, values):
                explorer.controls[number.name].set(value)
            try:
                return scene_text(explorer.scene())
            except Problem as problem:
                return problem_text(problem)
        return at


@lru_cache(maxsize=None)
def made_page(number):
    """Return the page of a lesson, made once."""
    return MadePage(number)


def settings(told, generator, many):
    """Return settings of what is computed, drawn at random: options of the choices, steps and values of the sliders, and whether kept."""
    found = []
    for _ in range(many):
        chosen = tuple(int(generator.integers(choice.count)) for choice in told.choices)
        place = 0
        for choice, one in zip(told.choices, chosen):
            place = place * choice.count + one
        axes = told.combos[place].axes
        steps = tuple(int(generator.integers(len(axis))) for axis in axes)
        found.append((chosen, steps, tuple(axis[step] for axis, step in zip(axes, steps))))
    return found


def apart(page, library):
    """Return how far a text of the page is from the library's: whether its form is another, places (picture units), said numbers (digits)."""
    (form, numbers), (right_form, right_numbers) = take_apart(page), take_apart(library)
    if form != right_form:
        return True, 0.0, 0.0
    return (False, *misses(form, numbers, numbers, 0.0, right_numbers))
