"""The lists and boxes of the explorers, named in full, and how a row of controls looks; numbers are in `number_control`."""

import ipywidgets as widgets

from gypsumkit.powders import MIXING_METHODS, POWDERS

STYLE = """<style>
.gypsumkit-block.gypsumkit-explorer { max-width: none; }
.gypsumkit-controls { display: flex; flex-flow: row wrap; gap: 8px 22px; align-items: flex-start; width: 100%; margin: 4px 0 8px; }
.gypsumkit-controls > .widget-inline-hbox, .gypsumkit-controls > .widget-box { height: auto; max-width: 100%; margin: 0; }
.gypsumkit-controls .widget-label { width: auto; max-width: none; font-size: 1rem; color: #000; height: auto; text-align: left; padding-right: 10px; }
.gypsumkit-controls select, .gypsumkit-controls input[type=text] { height: 36px; font-size: 1rem; color: #000; background-color: #fff; border: 1px solid #666; }
.gypsumkit-controls .widget-text input { width: 24ch; }
.gypsumkit-controls .widget-readout { font-size: 1rem; color: #000; min-width: 4.5ch; margin-left: 0.6rem; }
.gypsumkit-controls .widget-checkbox label { font-size: 1rem; color: #000; }
.gypsumkit-controls input[type=checkbox] { width: 20px; height: 20px; }
@media (min-width: 1000px) {
  /* Slider and field stay on one line, and the slider long enough to be set; what does not fit beside goes below as a whole. */
  .gypsumkit-controls:not(.gypsumkit-on-stage *) > .widget-hbox:has(.widget-slider) { flex-flow: row nowrap !important; }
  .gypsumkit-controls:not(.gypsumkit-on-stage *) .widget-slider { min-width: min-content !important; }
  .gypsumkit-controls .widget-slider > .widget-label { white-space: nowrap !important; }
  .gypsumkit-controls:not(.gypsumkit-on-stage *) .slider-container { min-width: 9em; }
  .gypsumkit-controls:not(.gypsumkit-on-stage *) .widget-readout { flex: none; width: auto; min-width: 4.5ch; margin-right: 0.4rem; }
  .gypsumkit-controls:not(.gypsumkit-on-stage *) > .widget-hbox > .widget-label { flex: none; min-width: 3.6em; margin-left: 0.9rem; }
}
.gypsumkit-question { font-size: 1.05rem; margin: 4px 0; }
</style>"""


def full_name(width="auto"):
    """Layout and style that let a control show its whole name."""
    return {"style": {"description_width": "initial"}, "layout": widgets.Layout(width=width)}


def powder_choice(value):
    """Return the list of powders.

    Parameters
    ----------
    value : str
        The one chosen at first.
    """
    return choice("Powder", POWDERS, value)


def mixing_choice(value="spatulated by hand"):
    """Return the list of ways to mix.

    Parameters
    ----------
    value : str
        The one chosen at first.
    """
    return choice("Mixing", MIXING_METHODS, value)


def tick_box(words, value=False):
    """Return a box to tick.

    Parameters
    ----------
    words : str
        What is so when it is ticked.
    value : bool
        Whether it is ticked at first.
    """
    return widgets.Checkbox(value=value, indent=False, description=words, layout=widgets.Layout(width="auto"))


def choice(words, options, value):
    """Return a list to choose from.

    Parameters
    ----------
    words : str
        What is chosen.
    options : sequence
        What there is, as texts or as pairs of text and value.
    value : object
        The one chosen at first.
    """
    return widgets.Dropdown(options=list(options), value=value, description=words, **full_name())


def button(words, tooltip):
    """Return a button with its name in words and what it does as a hint."""
    return widgets.Button(description=words, tooltip=tooltip, layout=widgets.Layout(width="auto", height="auto"))
