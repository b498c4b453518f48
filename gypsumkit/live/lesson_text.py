"""What a lesson's notebook says, for a page that is made from it: its head, what to try, and which blocks it calls."""

import ast
import json
import re
from dataclasses import dataclass

import mistune

from gypsumkit.problems import Problem
from gypsumkit.quiz import bank


class _Plain(mistune.HTMLRenderer):
    """Markdown as HTML that leads nowhere: no tag of the text survives, links keep only their words, headings begin at the third."""

    def __init__(self):
        super().__init__(escape=True)

    def link(self, text, url, title=None):
        """Keep the words of a link."""
        return text

    def image(self, text, url, title=None):
        """Keep the words of an image."""
        return text

    def heading(self, text, level, **attributes):
        """Begin headings at the third rank, below the explorer's own."""
        return f"<h{max(level, 3)}>{text}</h{max(level, 3)}>\n"


_markdown = mistune.create_markdown(renderer=_Plain(), plugins=["table"])


def as_html(text):
    """Return Markdown as HTML in which nothing can run and nothing leads away.

    Parameters
    ----------
    text : str
        Markdown.

    Returns
    -------
    str
    """
    return _markdown(text).replace("<table>", '<div class="table" tabindex="0" role="region" aria-label="Table to fill in"><table>').replace("</table>", "</table></div>")


@dataclass(frozen=True)
class LessonText:
    """A lesson as its notebook tells it.

    Parameters
    ----------
    number, title, guiding_question : str
        As in its first cell.
    cautions, rest : str
        HTML: the cautions of the first cell; key points, and sources.
    uses : tuple of dict
        For each explorer: ``kind``, ``heading``, ``settings``, ``prediction``, ``moves``.
    panels : tuple of str
        The headings of forms that a page cannot hold.
    """

    number: str
    title: str
    guiding_question: str
    cautions: str
    rest: str
    uses: tuple
    panels: tuple


def read_lesson(path):
    """Return what a notebook says.

    Parameters
    ----------
    path : pathlib.Path
        A lesson of the course.

    Returns
    -------
    LessonText

    Raises
    ------
    Problem
        When it is no lesson.
    """
    try:
        cells = [(cell["cell_type"], "".join(cell["source"])) for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]]
        first = next(text for kind, text in cells if kind == "markdown")
    except (OSError, ValueError, KeyError, StopIteration, UnicodeDecodeError):
        raise Problem(f"{path.name} cannot be read as a lesson of the course.") from None
    title, question = re.search(r"^# (.+)$", first, re.M), re.search(r"\*\*Guiding question:\*\* *(.+)", first)
    uses, panels = [], []
    for place, (kind, text) in enumerate(cells):
        called = re.search(r"^here\.(explorer|panel)\(", text, re.M) if kind == "code" else None
        if called:
            heading = text.splitlines()[0].lstrip("# ").strip()
            call = ast.parse(text[called.start():]).body[0].value
            if called.group(1) == "panel":
                panels.append(heading)
                continue
            settings = {word.arg: ast.literal_eval(word.value) for word in call.keywords}
            prediction = bank.question(settings["prediction"]) if settings.get("prediction") else None
            uses.append({"kind": ast.literal_eval(call.args[0]), "heading": heading, "settings": settings, "prediction": prediction,
                         "moves": _moves(cells[place + 1:])})
    whole = "\n\n".join(text for kind, text in cells if kind == "markdown")
    rest = "".join(f"<section>{as_html(part)}</section>" for part in (_part(whole, "Key points"), _part(whole, "Sources")) if part)
    return LessonText(path.name[:2], title.group(1).strip() if title else path.stem, question.group(1).strip() if question else "",
                      as_html("\n\n".join(_quotes(first))), rest, tuple(uses), tuple(panels))


def _moves(cells):
    """The text right after an explorer, as HTML, unless it begins another part of the lesson."""
    if not cells or cells[0][0] != "markdown" or re.search(r"^#{1,2} ", cells[0][1], re.M) or "$$" in cells[0][1] or "<button" in cells[0][1]:
        return ""
    return as_html(cells[0][1])


def _quotes(text):
    return re.findall(r"(?:^>.*(?:\n|$))+", text, re.M)


def _part(text, heading):
    """One part of a text, from its heading to the next."""
    found = re.search(rf"^#+ {heading}\n.*?(?=^#+ |\Z)", text, re.M | re.S)
    return "" if not found else re.sub(r"^\*\*Sources:\*\*.*$", "", found.group(), flags=re.M)
