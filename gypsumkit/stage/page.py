"""A lesson to take home: one HTML file that needs no Python, no server and no network.

The library computes beforehand what its explorers show, at the settings that the page holds; a small script of our own finds the
texts on both sides of a slider and shows what lies between. What is decided here:

- **Which controls stay.** A full grid of five controls is too large. Lists and boxes stay where they fit, one slider is *fine* (it
  goes through all of its steps), the other sliders go in *stops* of which each is computed. What does not fit stays at its start,
  and the page says so (`gypsumkit.live.take_home` decides for each explorer).
- **What is interpolated.** Along the fine slider the points of all marks and all numbers that are said lie on the straight line between two
  computed settings (`slots`); these stand so close that the error is at most what `HOW_EXACT` says (`strips`). Words, and
  marks that come or go, step, and only where the course steps too. Nothing is interpolated between stops or choices.
- **How it is stored.** Pictures are the SVG of `figures.whole_svg`, table and words are HTML. Neighbours are one text with other
  numbers, so only the changes of the numbers are kept, as short letters (`coding`). The whole is compressed with zlib.
- **What it may do.** A policy in the file itself forbids everything from outside; the script is known by its hash, nothing is
  evaluated. Every string is escaped where it becomes HTML; the data are letters of base 64, in which no tag can begin.
"""

import base64
import hashlib
import json
import zlib
from dataclasses import dataclass
from html import escape
from itertools import product
from pathlib import Path

from gypsumkit.figures.film import film_svg
from gypsumkit.figures.tables import table_html
from gypsumkit.figures.whole_svg import pattern_names, pattern_svg, whole_svg
from gypsumkit.stage.coding import pack
from gypsumkit.stage.slots import put_together
from gypsumkit.stage.strips import CLOSE_UNITS

MOST_BYTES = 2_000_000
FOR_TEACHING = "For teaching; no patient decision rests on it."
HOW_EXACT = (f"How exact is it? The library of the course computed this page beforehand. Between two computed settings of a slider the page draws on in "
             f"a straight line. There a point of a picture is at most {2 * CLOSE_UNITS:g} of 420 parts of the width of a picture from what the library "
             "says, and a number at most 2 units of its last digit, or of its third digit where it has more. Words step where the course steps. "
             "Lists, and sliders with few stops, show only computed settings.")
CUT = "<hr>"
_HERE = Path(__file__).parent


# ---------------------------------------------------------------- what is shown, as text


def scene_text(scene):
    """Return a scene as the page shows it: pictures, table and words, with `CUT` between them."""
    return _told("".join(map(whole_svg, scene.pictures)), scene)


def film_text(film, still):
    """Return a film as the page shows it: each picture plays once over its page; still where no motion is wanted.

    Parameters
    ----------
    film : Film
        Longer than 0 s.
    still : sequence of Picture
        The pictures of the film without what moves.
    """
    return _told("".join(
        f'<div><div class="moves"><div class="layers"><div aria-hidden="true">{whole_svg(page)}</div>{film_svg(film, number)}</div></div>'
        f'<div class="instead">{whole_svg(film.last.pictures[number])}</div></div>' for number, page in enumerate(still)), film.last)


def problem_text(problem):
    """Return a refusal of the library as the page shows it."""
    return f"{CUT}{CUT}<p>{escape(str(problem))}</p>"


def _told(pictures, scene):
    words = scene.words or "\n".join(picture.words for picture in scene.pictures)
    return CUT.join((pictures, table_html(scene.numbers) if scene.numbers else "", f"<p>{escape(words)}</p>"))


# ---------------------------------------------------------------- what stands on the page


@dataclass(frozen=True)
class Choice:
    """A list, or a box to tick.

    Parameters
    ----------
    name, label : str
        Its name in the explorer, and what the reader sees.
    options : tuple of str
        What there is; of a box, nothing.
    """

    name: str
    label: str
    options: tuple = ()

    @property
    def count(self):
        """How many settings it has."""
        return len(self.options) or 2


@dataclass(frozen=True)
class Number:
    """A slider with a field to type in.

    Parameters
    ----------
    name, label : str
        Its name in the explorer, and what the reader sees, with unit.
    unit, what, example : str
        As for `gypsumkit.live.number_control.NumberControl`.
    decimals : int
        Shown behind the point.
    """

    name: str
    label: str
    unit: str
    what: str
    example: str
    decimals: int


@dataclass(frozen=True)
class Combo:
    """What the sliders can be at one setting of all choices.

    Parameters
    ----------
    axes : tuple of tuple of float
        The values of each slider, rising.
    rest : tuple of float
        Where each slider goes when it cannot stay.
    """

    axes: tuple
    rest: tuple


@dataclass(frozen=True)
class Computed:
    """Everything that an explorer shows on the page.

    Parameters
    ----------
    controls : tuple of Choice or Number
        In the order of the explorer.
    fine : str or None
        Name of the slider that is interpolated.
    combos : tuple of Combo
        One for each setting of all choices, the last choice running fastest.
    strips : tuple of Strip
        For each of these, one for each setting of the other sliders, the last running fastest.
    film : bool
        Whether something plays.
    """

    controls: tuple
    fine: str
    combos: tuple
    strips: tuple
    film: bool = False

    @property
    def choices(self):
        """The lists and boxes among the controls."""
        return tuple(control for control in self.controls if isinstance(control, Choice))

    @property
    def numbers(self):
        """The sliders among the controls."""
        return tuple(control for control in self.controls if isinstance(control, Number))

    def text(self, chosen, steps):
        """Return the text at one setting that is computed.

        Parameters
        ----------
        chosen : sequence of int
            The option of each choice.
        steps : sequence of int
            The step of each slider.
        """
        first = 0
        for combo, place in zip(self.combos, product(*(range(choice.count) for choice in self.choices))):
            stops = [len(axis) for axis, number in zip(combo.axes, self.numbers) if number.name != self.fine]
            if place == tuple(chosen):
                at = 0
                for count, step in zip(stops, (step for step, number in zip(steps, self.numbers) if number.name != self.fine)):
                    at = at * count + step
                strip = self.strips[first + at]
                step = next((step for step, number in zip(steps, self.numbers) if number.name == self.fine), 0)
                kept = strip.kept.index(step)
                return put_together(strip.forms[kept], strip.numbers[kept])
            first += _product(stops)
        raise ValueError("there is no such setting")

    def as_data(self):
        """Return it as plain data for the script."""
        axes, names = {}, [number.name for number in self.numbers]
        combos = [{"axes": [axes.setdefault(axis, len(axes)) for axis in combo.axes], "rest": combo.rest} for combo in self.combos]
        return {"choices": [choice.count for choice in self.choices], "fine": names.index(self.fine) if self.fine else -1,
                "combos": combos, "axes": list(axes), "packed": pack(self.strips)}


def _product(numbers):
    result = 1
    for number in numbers:
        result *= number
    return result


@dataclass(frozen=True)
class State:
    """The settings of an explorer on the page: the option of each choice, the value of each slider."""

    choices: tuple
    numbers: tuple


@dataclass(frozen=True)
class PageExplorer:
    """One explorer of a lesson, with what is asked and said about it.

    Parameters
    ----------
    heading : str
        Its heading.
    computed : Computed
        What it shows; may be shared with another.
    start : State
        Where it begins; a setting that is computed.
    question, limits : str
        What to look for, and what the model cannot say.
    stays : sequence of str
        Sentences about what stays as it is on this page.
    asked : State or None
        The settings of the prediction, where the page holds them.
    prediction : gypsumkit.quiz.questions.Question or None
        Asked before the picture.
    moves : str
        HTML: what to try.
    """

    heading: str
    computed: Computed
    start: State
    question: str = ""
    limits: str = ""
    stays: tuple = ()
    asked: State = None
    prediction: object = None
    moves: str = ""


@dataclass(frozen=True)
class LessonPage:
    """A lesson to take home.

    Parameters
    ----------
    title, guiding_question : str
        As in the lesson.
    cautions : str
        HTML: what can hurt.
    explorers : sequence of PageExplorer
        In the order of the lesson.
    left_out : sequence of str
        Sentences about what of the lesson is not on the page.
    rest : str
        HTML: key points and sources.
    """

    title: str
    guiding_question: str
    cautions: str
    explorers: tuple
    left_out: tuple = ()
    rest: str = ""


# ---------------------------------------------------------------- the page


def page_html(lesson):
    """Return a lesson as one HTML file.

    Parameters
    ----------
    lesson : LessonPage
        What stands on it.

    Returns
    -------
    str
    """
    script = (_HERE / "page.js").read_text(encoding="utf-8")
    style = (_HERE / "page.css").read_text(encoding="utf-8")
    known = base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")
    policy = f"default-src 'none'; script-src 'sha256-{known}'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'"
    sets = list(dict.fromkeys(id(explorer.computed) for explorer in lesson.explorers))
    computed = {id(explorer.computed): explorer.computed for explorer in lesson.explorers}
    data = {"sets": [computed[name].as_data() for name in sets],
            "explorers": [_explorer_data(number, explorer, sets) for number, explorer in enumerate(lesson.explorers)]}
    told = json.dumps(data, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    packed = base64.b64encode(zlib.compress(told.encode("utf-8"), 9)).decode("ascii")
    contents = "".join(f'<li><a href="#{_id(number)}">{escape(explorer.heading)}</a></li>' for number, explorer in enumerate(lesson.explorers))
    sections = "".join(_section(number, explorer) for number, explorer in enumerate(lesson.explorers))
    left_out = "".join(f"<p>{escape(sentence)}</p>" for sentence in lesson.left_out)
    patterns = "".join(map(pattern_svg, pattern_names(told)))
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escape(lesson.title)}</title>
<style>
{style}</style>
</head>
<body>
<svg width="0" height="0" aria-hidden="true" focusable="false" style="position:absolute"><defs>{patterns}</defs></svg>
<main>
<h1>{escape(lesson.title)}</h1>
<p><strong>Guiding question:</strong> {escape(lesson.guiding_question)}</p>
<p><strong>{FOR_TEACHING}</strong></p>
{lesson.cautions}
<p class="needs-script" role="status">The sliders need JavaScript. If this sentence stays, your browser does not run it: open this file in another browser.</p>
<nav aria-label="Pictures of this lesson"><ul>{contents}</ul></nav>
{sections}
<section><h2>About this page</h2>
{left_out}
<p>{HOW_EXACT}</p>
<p>Pins, answers that are kept, exercises and your own measurements are in the course itself. Nothing that you do here is stored or sent.</p>
</section>
{lesson.rest}
<p><strong>{FOR_TEACHING}</strong> Follow the maker of your product and your laboratory.</p>
</main>
<script type="text/plain" id="page-data">{packed}</script>
<script>{script}</script>
</body>
</html>
"""


def _id(number):
    return f"explorer-{number + 1}"


def _explorer_data(number, explorer, sets):
    def told(state):
        return None if state is None else {"choices": state.choices, "numbers": state.numbers}
    numbers = [{"name": one.name, "unit": one.unit, "what": one.what, "example": one.example, "decimals": one.decimals, "per100": one.unit == "mL/g"}
               for one in explorer.computed.numbers]
    return {"id": _id(number), "set": sets.index(id(explorer.computed)), "start": told(explorer.start), "asked": told(explorer.asked), "numbers": numbers}


def _section(number, explorer):
    name, computed, start = _id(number), explorer.computed, explorer.start
    pictures, table, words = start_text(explorer).split(CUT)
    controls = "".join(_control(name, control, start, computed) for control in computed.controls if control.name != computed.fine)
    fine = "".join(_control(name, control, start, computed) for control in computed.controls if control.name == computed.fine)
    buttons = '<button type="button" class="reset">Reset</button>' + ('<button type="button" class="again">Play again</button>' if computed.film else "")
    look = f"<p><strong>Look for:</strong> {escape(explorer.question)}</p>" if explorer.question else ""
    stays = "".join(f"<li>{escape(sentence)}</li>" for sentence in explorer.stays)
    return f"""<section id="{name}" aria-labelledby="{name}-heading">
<h2 id="{name}-heading">{escape(explorer.heading)}</h2>
{_prediction(name, explorer)}
{look}
<div class="controls">{controls}</div>
<div>{buttons}</div>
<div class="fine">{fine}<p class="message" role="status" aria-live="polite"></p></div>
<div class="pictures">{pictures}</div>
<div class="table" tabindex="0" role="region" aria-label="Numbers">{table}</div>
<div class="words" aria-live="polite">{words}</div>
<p class="small"><em>{escape(explorer.limits)}</em></p>
{f'<ul class="small">{stays}</ul>' if stays else ""}
{explorer.moves}
</section>
"""


def start_text(explorer):
    """Return what an explorer shows before anything is moved."""
    computed, start = explorer.computed, explorer.start
    combo = dict(zip(product(*(range(choice.count) for choice in computed.choices)), computed.combos))[tuple(start.choices)]
    return computed.text(start.choices, [axis.index(value) for axis, value in zip(combo.axes, start.numbers)])


def _control(section, control, start, computed):
    name = f"{section}-{control.name}"
    if isinstance(control, Choice):
        chosen = start.choices[computed.choices.index(control)]
        if not control.options:
            ticked = " checked" if chosen else ""
            return (f'<div class="control choice"><label class="tick"><input type="checkbox" id="{name}" data-choice{ticked}>{escape(control.label)}</label></div>')
        options = "".join(f"<option{' selected' if place == chosen else ''}>{escape(option)}</option>" for place, option in enumerate(control.options))
        return (f'<div class="control choice"><label for="{name}">{escape(control.label)}</label>'
                f'<select id="{name}" data-choice autocomplete="off">{options}</select></div>')
    value = f"{start.numbers[computed.numbers.index(control)]:.{control.decimals}f} {control.unit}".strip()
    return (f'<div class="control number" data-number="{control.name}"><label for="{name}">{escape(control.label)}: <output for="{name}">{escape(value)}</output></label>'
            f'<input type="range" id="{name}" min="0" max="0" step="1" value="0" autocomplete="off" aria-label="{escape(control.label)}">'
            f'<div class="type-it"><label for="{name}-typed">or type it</label><input type="text" id="{name}-typed" inputmode="decimal" autocomplete="off" '
            f'placeholder="{escape(control.example.split(" or ")[0])}" aria-label="or type it: {escape(control.what)}"></div></div>')


def _prediction(section, explorer):
    question = explorer.prediction
    if question is None:
        return ""
    options = "".join(f'<label><input type="radio" name="{section}-prediction" autocomplete="off">{escape(f"{option.letter}. {option.text}")}</label>'
                      for option in question.shown_options)
    whys = "".join(f"<li><strong>{option.letter}{', this one' if option.correct else ''}.</strong> {escape(option.why)}</li>" for option in question.shown_options)
    asked = '<button type="button" class="asked">Show the mix of this question</button>' if explorer.asked is not None else ""
    return (f'<h3>First predict</h3><fieldset><legend>{escape(question.shown_prompt)}</legend>{options}</fieldset>'
            f'<details><summary>Only after you have chosen: what the model says</summary><p>{escape(question.shown_explanation)}</p><ul>{whys}</ul>{asked}</details>')


