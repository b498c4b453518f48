"""The controls of the explorers: named in full, usable by slider, keyboard and typing, never clamping in silence."""

import math

import ipywidgets as widgets

from gypsumkit.powders import MIXING_METHODS, POWDERS
from gypsumkit.recipe import checked_ratio, read_ratio

STYLE = """<style>
.gypsumkit-block.gypsumkit-explorer { max-width: none; }
.gypsumkit-controls { display: flex; flex-flow: row wrap; gap: 8px 22px; align-items: flex-end; width: 100%; margin: 4px 0 8px; }
.gypsumkit-controls > .widget-inline-hbox, .gypsumkit-controls > .widget-box { height: auto; max-width: 100%; margin: 0; }
.gypsumkit-controls .widget-label { width: auto; max-width: none; font-size: 1rem; color: #000; height: auto; text-align: left; padding-right: 10px; }
.gypsumkit-controls select, .gypsumkit-controls input[type=text] { height: 36px; font-size: 1rem; color: #000; background-color: #fff; border: 1px solid #666; }
.gypsumkit-controls .widget-text input { width: 24ch; }
.gypsumkit-controls .widget-readout { font-size: 1rem; color: #000; min-width: 4.5ch; }
.gypsumkit-controls .widget-checkbox label { font-size: 1rem; color: #000; }
.gypsumkit-controls input[type=checkbox] { width: 20px; height: 20px; }
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
    return widgets.Dropdown(options=list(POWDERS), value=value, description="Powder", **full_name())


def mixing_choice(value="spatulated by hand"):
    """Return the list of ways to mix.

    Parameters
    ----------
    value : str
        The one chosen at first.
    """
    return widgets.Dropdown(options=list(MIXING_METHODS), value=value, description="Mixing", **full_name())


class RatioControl(widgets.HBox):
    """The water/powder ratio, by slider or typed; it always holds a ratio that makes a paste of its powder.

    Parameters
    ----------
    powder : Powder
        Sets the ends of the slider.
    ratio : float
        mL water per g powder at first.
    """

    STEP = 0.005

    def __init__(self, powder, ratio):
        self.ratio = ratio
        self.slider = widgets.FloatSlider(value=ratio, min=0.0, max=1.0, step=self.STEP, readout_format=".3f", continuous_update=True,
                                          description="Water/powder ratio", style={"description_width": "initial"},
                                          layout=widgets.Layout(flex="1 1 420px", width="auto", min_width="0"))
        self.typed = widgets.Text(description="or type it", placeholder="0.50 or 50 mL per 100 g", continuous_update=False, **full_name())
        super().__init__([self.slider, self.typed], layout=widgets.Layout(flex="1 1 620px", flex_flow="row wrap", max_width="100%"))
        self.use_powder(powder)

    def use_powder(self, powder):
        """Take on another powder and return a sentence when the ratio had to move for it, else an empty one.

        Parameters
        ----------
        powder : Powder
            The new powder.

        Returns
        -------
        str
        """
        self.powder = powder
        low = math.ceil(powder.least_ratio / self.STEP) * self.STEP
        high = math.floor(powder.most_ratio / self.STEP) * self.STEP
        said = ""
        if not low <= self.ratio <= high:
            said = (f"At {self.ratio:.3g} {powder.name} is no paste; the ratio was set to the recommended "
                    f"{powder.recommended_ratio.value:.2f}.")
            self.ratio = powder.recommended_ratio.value
        ratio = self.ratio
        with self.slider.hold_trait_notifications():
            self.slider.min, self.slider.max, self.slider.value = min(low, self.slider.min), max(high, self.slider.max), ratio
        self.slider.min, self.slider.max = low, high
        self.ratio = ratio
        return said

    def from_slider(self):
        """Take the ratio from the slider."""
        if abs(self.slider.value - self.ratio) > 1e-9:
            self.ratio = self.slider.value
            self.typed.value = ""

    def from_typing(self):
        """Take the ratio from what was typed; what was typed stays.

        Raises
        ------
        Problem
            When it is not a ratio that makes a paste of this powder.
        """
        if self.typed.value.strip():
            self.ratio = checked_ratio(self.powder, read_ratio(self.typed.value))
            self.slider.value = self.ratio

    def set(self, ratio):
        """Put the ratio to a value that makes a paste of this powder."""
        self.ratio = checked_ratio(self.powder, ratio)
        self.typed.value = ""
        self.slider.value = self.ratio
