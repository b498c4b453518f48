"""The parts of a form over the bench: fields and lists with their names above them, rows of buttons, a table of words."""

import html

import ipywidgets as widgets

from gypsumkit.figures.scene import Table
from gypsumkit.figures.tables import reached_by_key
from gypsumkit.live.live_picture import table_html

STYLE = """<style>
.gypsumkit-form { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 270px), 1fr)); gap: 6px 18px; width: 100%; align-items: end; }
.gypsumkit-block > .gypsumkit-form + .widget-html { margin-top: 14px; }
.gypsumkit-form .widget-text, .gypsumkit-form .widget-dropdown { display: flex; flex-flow: column nowrap; align-items: stretch; width: 100%; height: auto; margin: 0; }
.gypsumkit-form .widget-text > label, .gypsumkit-form .widget-dropdown > label { width: auto; max-width: none; height: auto; text-align: left; white-space: normal;
  padding: 0 0 2px; line-height: 1.3; font-size: 1rem; color: #000; }
.gypsumkit-form .widget-text input, .gypsumkit-form select { flex: none; width: 100%; height: 36px; font-size: 1rem; color: #000; background-color: #fff; border: 1px solid #666; }
.gypsumkit-form .widget-checkbox { width: 100%; height: auto; min-height: 36px; }
.gypsumkit-form .widget-checkbox label { font-size: 1rem; color: #000; white-space: normal; height: auto; line-height: 1.3; display: flex; gap: 8px; align-items: center; }
.gypsumkit-form input[type=checkbox] { flex: none; width: 24px; height: 24px; }
.gypsumkit-form-table:focus-visible { outline: 3px solid #000; outline-offset: 2px; }
.gypsumkit-form-buttons { display: flex; flex-flow: row wrap; gap: 8px 14px; width: 100%; margin: 6px 0; }
</style>"""


def style():
    """Return the look of a form, as a widget that takes no room."""
    return widgets.HTML(STYLE, layout=widgets.Layout(display="none"))


def field(words, example="", value=""):
    """Return a field to type into.

    Parameters
    ----------
    words : str
        Its name, with the unit.
    example : str
        What could be typed.
    value : str
        What stands in it at first.
    """
    return widgets.Text(value=value, description=words, placeholder=example, continuous_update=False, style={"description_width": "initial"},
                        layout=widgets.Layout(width="100%"))


def chooser(words, options, value):
    """Return a list to choose from.

    Parameters
    ----------
    words : str
        What is chosen.
    options : sequence
        Texts, or pairs of text and value.
    value : object
        The one chosen at first.
    """
    return widgets.Dropdown(options=list(options), value=value, description=words, style={"description_width": "initial"}, layout=widgets.Layout(width="100%"))


def tick(words, value=False):
    """Return a box to tick."""
    return widgets.Checkbox(value=value, indent=False, description=words, layout=widgets.Layout(width="100%"))


def press(words):
    """Return a button with its name in words."""
    return widgets.Button(description=words, layout=widgets.Layout(width="auto", height="auto"))


def fields_box(*children):
    """Return controls side by side, as many as the page has room for."""
    box = widgets.Box(list(children), layout=widgets.Layout(width="100%"))
    box.add_class("gypsumkit-form")
    return box


def buttons_row(*children):
    """Return buttons side by side."""
    box = widgets.Box(list(children), layout=widgets.Layout(width="100%"))
    box.add_class("gypsumkit-form-buttons")
    return box


def heading(words):
    """Return a heading within a form."""
    return widgets.HTML(f"<p><strong>{html.escape(words)}</strong></p>", layout=widgets.Layout(width="100%"))


def table(caption, heads, rows, by_key=False):
    """Return a table as HTML, every cell escaped; it scrolls by itself where the page is narrow, with `by_key` from the keyboard too."""
    box = f'{reached_by_key(caption)} class="gypsumkit-form-table"' if by_key else ""
    return table_html(Table(tuple(heads), tuple(tuple(row) for row in rows), caption), box)


def in_lines(caption, heads, rows):
    """Return a table in words, a line for each row."""
    lines = [f"{row[0]}: " + "; ".join(f"{head} {cell}" for head, cell in zip(heads[1:], row[1:]) if cell) for row in rows]
    return "\n".join([f"{caption}:", *lines])
