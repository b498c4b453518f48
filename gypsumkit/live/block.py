"""The block: one piece of a lesson on the page, which also reads as words and, with a picture, as an image.

Every block says what it shows in plain words (for readers without a running lesson, for screen readers, and
for the checks that compare them), and turns every error into a sentence on the page.
"""

import base64
import html

import ipywidgets as widgets

from gypsumkit.problems import Problem

STYLE = """<style>
.gypsumkit-block { width: 100%; max-width: 62rem; overflow: visible; color: #000; background: #fff; padding: 4px 8px 8px; box-sizing: border-box; }
.gypsumkit-block .widget-html, .gypsumkit-block .widget-html-content { height: auto; overflow: visible; }
.gypsumkit-block .widget-html-content { line-height: 1.45; font-size: 1rem; white-space: normal; overflow-wrap: anywhere; color: #000; }
.gypsumkit-block .widget-box { overflow: visible; }
.gypsumkit-block .gypsumkit-block { padding: 8px 0 4px; }
.gypsumkit-block .widget-html-content p { margin: 2px 0 6px; max-width: 75em; }
.gypsumkit-block .widget-html-content blockquote { margin: 2px 0 10px 14px; padding: 2px 0 2px 12px; border-left: 3px solid #0072B2; }
.gypsumkit-block .widget-html-content li { margin: 2px 0; }
.gypsumkit-block summary { padding: 4px 0; min-height: 24px; cursor: pointer; color: #0072B2; }
.gypsumkit-block button.jupyter-button { align-self: flex-start; max-width: 100%; min-height: 32px; height: auto; width: auto; padding: 4px 14px; line-height: 1.4; font-size: 1rem;
  white-space: normal; color: #0072B2; background: #fff; border: 2px solid #0072B2; border-radius: 4px; }
.gypsumkit-block button.jupyter-button:disabled { color: #000; background: #fff; border: 2px dashed #666; opacity: 1; }
.gypsumkit-block :is(button, input, select, textarea, summary):focus-visible { outline: 3px solid #000; outline-offset: 2px; }
.gypsumkit-options .widget-radio-box { display: flex; flex-direction: column; width: 100%; height: auto; margin: 0; }
.gypsumkit-options .widget-radio, .gypsumkit-options .widget-checkbox { width: 100%; height: auto; max-width: none; overflow: visible; }
.gypsumkit-options .widget-radio-box label, .gypsumkit-options .widget-checkbox label { display: flex; align-items: flex-start; gap: 10px; width: 100%;
  min-height: 28px; height: auto; padding: 5px 4px; box-sizing: border-box; white-space: normal; overflow-wrap: anywhere; text-overflow: clip; overflow: visible;
  line-height: 1.45; font-size: 1rem; color: #000; cursor: pointer; }
.gypsumkit-options .widget-radio-box label { flex-direction: row-reverse; justify-content: flex-end; }
.gypsumkit-options input[type=radio], .gypsumkit-options input[type=checkbox] { flex: none; width: 20px; height: 20px; margin: 1px 0 0; }
.gypsumkit-options label:hover { background: #eef5fa; }
.gypsumkit-places .widget-text { display: flex; flex-direction: row-reverse; justify-content: flex-end; align-items: flex-start; width: 100%; height: auto; margin: 2px 0; }
.gypsumkit-places .widget-text > label { flex: 1 1 auto; width: auto; max-width: none; height: auto; padding: 4px 0 4px 10px; text-align: left;
  white-space: normal; overflow-wrap: anywhere; overflow: visible; line-height: 1.45; font-size: 1rem; color: #000; }
.gypsumkit-places .widget-text input { flex: none; width: 72px; min-width: 72px; height: 34px; font-size: 1rem; color: #000; background: #fff; border: 1px solid #666; }
.gypsumkit-typed .widget-text { display: flex; flex-wrap: wrap; width: 100%; height: auto; }
.gypsumkit-typed .widget-text > label { width: auto; height: auto; white-space: normal; text-align: left; padding: 4px 10px 4px 0; font-size: 1rem; color: #000; }
.gypsumkit-typed .widget-text input { flex: 0 1 260px; min-width: 0; width: 260px; height: 36px; font-size: 1rem; color: #000; background: #fff; border: 1px solid #666; }
.gypsumkit-typed .widget-textarea { display: flex; flex-direction: column; align-items: stretch; width: 100%; height: auto; }
.gypsumkit-typed .widget-textarea > label { width: auto; max-width: none; height: auto; white-space: normal; text-align: left; padding: 4px 0; font-size: 1rem; color: #000; }
.gypsumkit-typed .widget-textarea textarea { width: 100%; font-size: 1rem; line-height: 1.45; color: #000; background: #fff; border: 1px solid #666; }
/* The code is folded away, so one click on the stripe at the left would take the whole block off the page, with nothing left to click. */
.jp-CodeCell:has(.gypsumkit-block) .jp-OutputCollapser { pointer-events: none; }
.gypsumkit-bar { margin: 6px 0; padding: 6px 12px; border-left: 7px solid; background: #f7f7f7; color: #000; }
.gypsumkit-bar p { margin: 0 0 4px; }
.gypsumkit-correct { border-color: #009E73; }
.gypsumkit-not-yet { border-color: #D55E00; border-left-style: double; }
.gypsumkit-told { border-color: #0072B2; border-left-style: dashed; }
.gypsumkit-problem { border-color: #CC79A7; border-left-style: dotted; }
</style>"""


def paragraphs(text):
    """Return plain text as escaped HTML, one paragraph a line; no tag in the text survives."""
    return "".join(f"<p>{html.escape(line)}</p>" for line in str(text).split("\n") if line.strip())


def bar(kind, icon, text):
    """Return a message with a coloured bar and an icon, read out by a screen reader when it appears.

    Parameters
    ----------
    kind : str
        ``"correct"``, ``"not-yet"``, ``"told"`` or ``"problem"``.
    icon : str
        One sign beside the text; it repeats what the words say.
    text : str
        Plain text; it is escaped here.

    Returns
    -------
    str
        HTML.
    """
    lines = [line for line in str(text).split("\n") if line.strip()]
    first = f'<p><span aria-hidden="true">{icon} </span>{html.escape(lines[0])}</p>' if lines else ""
    return (f'<div class="gypsumkit-bar gypsumkit-{kind}" role="status" aria-live="polite">'
            f'{first}{paragraphs(chr(10).join(lines[1:]))}</div>')


def verdict_bar(feedback):
    """Return the bar of a feedback that begins with "Correct." or "Not yet."."""
    return bar("correct", "✓", feedback) if feedback.startswith("Correct") else bar("not-yet", "↻", feedback)


def text_area(value=""):
    """Return a widget that shows HTML over the whole width."""
    return widgets.HTML(value, layout=widgets.Layout(width="100%"))


class Words:
    """Plain words, shown as they are: what a lesson's check compares."""

    def __init__(self, text):
        self.text = text

    def __repr__(self):
        return self.text

    def __str__(self):
        return self.text

    def _repr_mimebundle_(self, include=None, exclude=None):
        return {"text/plain": self.text}


class Block(widgets.VBox):
    """One piece of a lesson: widgets on the page, the same in words, and a line for messages.

    Parameters
    ----------
    children : sequence of widgets
        What is shown, from top to bottom; the message line comes after them.
    """

    def __init__(self, children=()):
        self.message = text_area()
        self.errors = []
        self._style = widgets.HTML(STYLE, layout=widgets.Layout(display="none"))
        super().__init__(layout=widgets.Layout(width="100%", overflow="visible"))
        self.add_class("gypsumkit-block")
        self.show(children)

    def show(self, children):
        """Show these widgets, with the message line after them."""
        self.children = (*children, self.message)

    def words(self):
        """Return in plain words what the block shows."""
        raise NotImplementedError("each block says what it shows")

    def picture_png(self):
        """Return the block's picture as PNG bytes, or None when it has none."""
        return None

    def show_message(self, text, kind="told"):
        """Show a sentence in the message line; an empty one clears it."""
        icon = {"problem": "!", "told": "i"}.get(kind, "")
        self.message.value = bar(kind, icon, text) if text else ""

    def guard(self, method):
        """Return the method as a callback whose errors reach the reader's screen.

        A Problem is shown as its sentence. Any other error is shown as one sentence too and kept in
        `errors`, where the checks look; what was typed stays as it is.

        Parameters
        ----------
        method : callable
            What the control does.

        Returns
        -------
        callable
            For `on_click`, `observe` or `on_msg`; its arguments are not passed on.
        """
        def guarded(*_):
            self.show_message("")
            try:
                return method()
            except Problem as problem:
                self.show_message(str(problem), "problem")
            except Exception as error:
                self.errors.append(error)
                self.show_message(f"This part of the lesson failed ({type(error).__name__}: {error}). What you entered is kept; "
                                  "run the cell again, and if it fails again tell your teacher this sentence.", "problem")
            return None
        return guarded

    def _repr_mimebundle_(self, include=None, exclude=None, **more):
        if self._style not in self.children:
            self.children = (self._style, *self.children)
        bundle = dict(super()._repr_mimebundle_(include=include, exclude=exclude, **more) or {})
        bundle["text/plain"] = self.words()
        picture = self.picture_png()
        if picture is not None:
            bundle["image/png"] = base64.b64encode(picture).decode("ascii")
        return bundle
