"""A number set by slider, by keyboard or by typing it with its unit; it never clamps in silence."""

import ipywidgets as widgets

from gypsumkit.live.controls import full_name
from gypsumkit.problems import Problem
from gypsumkit.quiz.numbers import find_unit, read_number


class NumberControl(widgets.HBox):
    """A slider and a field for the same number.

    Parameters
    ----------
    name : str
        What it is, with its unit, as the reader sees it.
    value, low, high, step : float
        The number at first, the ends of the slider and its step, in `unit`.
    unit : str
        Unit, as in `gypsumkit.quiz.numbers`.
    what : str
        How a message calls it, such as "the weight of the powder".
    example : str
        What could be typed.
    decimals : int
        Shown beside the slider.
    """

    def __init__(self, name, value, low, high, step, unit, what, example, decimals=0):
        self.value, self.low, self.high, self.unit, self.what, self.example = value, low, high, unit, what, example
        self.slider = widgets.FloatSlider(value=value, min=low, max=high, step=step, readout_format=f".{decimals}f", continuous_update=True,
                                          description=name, style={"description_width": "initial"},
                                          layout=widgets.Layout(width="min(100%, 420px)"))
        self.typed = widgets.Text(description="or type it", placeholder=example, continuous_update=False, **full_name())
        super().__init__([self.slider, self.typed], layout=widgets.Layout(flex_flow="row wrap", max_width="100%"))

    def from_slider(self):
        """Take the number from the slider; what was typed before no longer holds and is cleared."""
        if abs(self.slider.value - self.value) > 1e-9:
            self.value = self.slider.value
            self.typed.value = ""

    def from_typing(self):
        """Take the number from what was typed; what was typed stays.

        Raises
        ------
        Problem
            When it is not a number, of another kind, or outside the ends of the slider.
        """
        if self.typed.value.strip():
            self.value = self.checked(self.read())
            self.slider.value = self.value

    def read(self):
        """Return what was typed as a number in the unit of this control.

        Raises
        ------
        Problem
            When it is no number, or one with a unit of another kind; says what would be right.
        """
        try:
            return read_number(self.typed.value).in_unit(find_unit(self.unit))
        except Problem:
            typed = " ".join(self.typed.value.split())
            raise Problem(f"“{typed[:40]}” cannot be read as {self.what}; write it like {self.example}.") from None

    def set(self, value):
        """Put the number to a value between the ends of the slider."""
        self.value = self.checked(value)
        self.typed.value = ""
        self.slider.value = self.value

    def use_limits(self, low, high, otherwise):
        """Take on other ends and return a sentence when the number had to move for them, else an empty one.

        Parameters
        ----------
        low, high : float
            The new ends, in `unit`.
        otherwise : float
            The number taken when the present one lies outside them.

        Returns
        -------
        str
        """
        said, value = "", self.value
        if not low <= value <= high:
            said = (f"{self.what[0].upper()}{self.what[1:]} was {value:g} {self.unit}; this picture goes from {low:g} to {high:g} "
                    f"{self.unit} now, so it was set to {otherwise:g} {self.unit}.")
            value = float(otherwise)
        self.low, self.high, self.value = low, high, value
        with self.slider.hold_trait_notifications():
            self.slider.min, self.slider.max, self.slider.value = min(low, self.slider.min), max(high, self.slider.max), value
        self.slider.min, self.slider.max = low, high
        if said:
            self.typed.value = ""
        return said

    def checked(self, value):
        """Return the number once it lies between the ends, else raise a Problem that says them."""
        if not self.low <= value <= self.high:
            raise Problem(f"{self.what[0].upper()}{self.what[1:]} is given as {value:g} {self.unit}; this picture goes from {self.low:g} "
                          f"to {self.high:g} {self.unit}.")
        return float(value)
