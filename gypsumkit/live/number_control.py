"""A number set by slider, by keyboard or by typing it with its unit; it never clamps in silence."""

import math

import ipywidgets as widgets

from gypsumkit.live.controls import full_name
from gypsumkit.problems import Problem
from gypsumkit.units import find_unit, read_number
from gypsumkit.recipe import checked_ratio, read_ratio


class NumberControl(widgets.HBox):
    """A slider and a field for the same number.

    Parameters
    ----------
    name : str
        What it is, with its unit, as the reader sees it.
    value, low, high, step : float
        The number at first, the ends of the slider and its step, in `unit`.
    unit : str
        Unit, as in `gypsumkit.units`.
    what : str
        How a message calls it, such as "the weight of the powder".
    example : str
        What could be typed.
    decimals : int
        Shown beside the slider.
    """

    def __init__(self, name, value, low, high, step, unit, what, example, decimals=0):
        self.value, self.low, self.high, self.unit, self.what, self.example = value, low, high, unit, what, example
        self._rests = (None, None)         # a number between two steps, and where the browser has put the handle for it
        self.slider = self.make_slider(step, readout_format=f".{decimals}f", continuous_update=True, description=name,
                                       style={"description_width": "initial"}, layout=widgets.Layout(flex="1 1 420px", width="auto", min_width="0"))
        self.typed = widgets.Text(description="or type it", placeholder=example, continuous_update=False, **full_name())
        super().__init__([self.slider, self.typed], layout=widgets.Layout(flex="1 1 620px", flex_flow="row wrap", max_width="100%"))

    def make_slider(self, step, **said):
        """Return the slider."""
        return widgets.FloatSlider(value=self.value, min=self.low, max=self.high, step=step, **said)

    def from_slider(self):
        """Take the number from the slider; what was typed before no longer holds and is cleared.

        A browser puts the handle on the nearest step and sends this back. It is no move of the reader: the number stays.
        """
        place = self.slider.value
        if self.steps_moved() <= 0.5 + 1e-6 and (self._rests[0] != self.value or self._rests[1] == place):
            self._rests = (self.value, place)
            return
        self.value, self._rests = place, (None, None)
        self.typed.value = ""

    def steps_moved(self):
        """Return how many steps the handle of the slider stands away from the number."""
        return abs(self.slider.value - self.value) / self.slider.step

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
            return read_number(self.typed.value).in_unit(find_unit(self.unit or "times"))
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
        self._use_ends(low, high, value)
        if said:
            self.typed.value = ""
        return said

    def _use_ends(self, low, high, value):
        """Move ends and number together, so that the slider clamps neither."""
        self.low, self.high, self.value = low, high, value
        with self.slider.hold_trait_notifications():
            self.slider.min, self.slider.max, self.slider.value = min(low, self.slider.min), max(high, self.slider.max), value
        self.slider.min, self.slider.max = low, high
        self.value = value

    def checked(self, value):
        """Return the number once it lies between the ends, else raise a Problem that says them."""
        if not self.low <= value <= self.high:
            raise Problem(f"{self.what[0].upper()}{self.what[1:]} is given as {value:g} {self.unit}; this picture goes from {self.low:g} "
                          f"to {self.high:g} {self.unit}.")
        return float(value)


class WideNumberControl(NumberControl):
    """A number from seconds to days: its slider goes by shares of the number, 20 steps for ten times as much, to two digits.

    Parameters are those of `NumberControl`, without `step`, and:

    Parameters
    ----------
    shown : callable
        Says the number beside the slider.
    """

    STEP = 0.05

    def __init__(self, name, value, low, high, unit, what, example, shown):
        super().__init__(name, value, low, high, self.STEP, unit, what, example)
        self.shown, self.said = shown, widgets.Label(value=shown(value))
        self.children = (self.slider, self.said, self.typed)

    def make_slider(self, step, **said):
        """Return the slider; the number itself stands beside it, since the handle can only be near it."""
        return widgets.FloatLogSlider(value=self.value, base=10, min=math.log10(self.low), max=math.log10(self.high), step=step, **{**said, "readout": False})

    def from_slider(self):
        """Take the number from the slider, to two digits; the ends as they are."""
        before = self.value
        super().from_slider()
        if self.value != before:
            ends = [end for end in (self.low, self.high) if abs(math.log10(self.value / end)) < self.STEP / 2]
            self.value = ends[0] if ends else float(f"{self.value:.2g}")
        self.said.value = self.shown(self.value)

    def from_typing(self):
        """Take the number from what was typed."""
        super().from_typing()
        self.said.value = self.shown(self.value)

    def set(self, value):
        """Put the number to a value between its ends."""
        super().set(value)
        self.said.value = self.shown(self.value)

    def steps_moved(self):
        """Return how many steps the handle of the slider stands away from the number."""
        return abs(math.log10(self.slider.value / self.value)) / self.STEP


class RatioControl(NumberControl):
    """The water/powder ratio; it always holds one that makes a paste of its powder.

    Parameters
    ----------
    powder : Powder
        Sets the ends of the slider.
    ratio : float, optional
        mL water per g powder at first; the recommended one when not given.
    """

    STEP = 0.005

    def __init__(self, powder, ratio=None):
        self.powder = powder
        super().__init__("Water/powder ratio", powder.recommended_ratio.value if ratio is None else ratio, *self._ends(powder), self.STEP,
                         "mL/g", "the water/powder ratio", "0.50 or 50 mL per 100 g", decimals=3)

    def _ends(self, powder):
        """Whole steps of the slider between which a paste forms."""
        return math.ceil(powder.least_ratio / self.STEP) * self.STEP, math.floor(powder.most_ratio / self.STEP) * self.STEP

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
        low, high = self._ends(powder)
        said, ratio = "", self.value
        if not low <= ratio <= high:
            usual = powder.recommended_ratio.value
            said = f"At {ratio:.3g} {powder.name} is no paste; the ratio was set to the recommended {usual:.2f}."
            ratio = usual
        self._use_ends(low, high, ratio)
        return said

    def read(self):
        """Return the ratio that was typed, in mL per g."""
        return read_ratio(self.typed.value)

    def checked(self, value):
        """Return the ratio once it makes a paste of this powder, else raise a Problem that says what would be right."""
        return checked_ratio(self.powder, value)
