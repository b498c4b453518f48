"""The explorer of the two solubilities: why the mix sets, and why hardly in boiling water."""

import ipywidgets as widgets

from gypsumkit.figures.solubility_scene import COUNTED_AS, LIMITS, USUAL, solubility_scene
from gypsumkit.live.controls import full_name
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.powders import ROOM_C


class SolubilityExplorer(Explorer):
    """A slider for the temperature, and a choice of how to count what is dissolved.

    Parameters
    ----------
    temperature_c : float
        °C at first.
    counted_as : str
        How the dissolved amount is counted at first.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold the two settings above.
    """

    can_pin = False

    def __init__(self, temperature_c=ROOM_C, counted_as=USUAL, **rest):
        self._start = {"temperature_c": temperature_c, "counted_as": counted_as}
        self.temperature = NumberControl("Temperature (°C)", temperature_c, 0, 99, 1, "°C", "the temperature", "23 °C")
        self.counted_as = widgets.Dropdown(options=list(COUNTED_AS), value=counted_as, description="Count it as", **full_name())
        self._moving = False
        super().__init__([self.temperature, self.counted_as], LIMITS, **rest)
        self.temperature.slider.observe(self.guard(self.slider_moved), "value")
        self.temperature.typed.observe(self.guard(self.number_typed), "value")
        self.counted_as.observe(self.guard(self.update), "value")

    def scene(self):
        """Return the scene of the present settings."""
        return solubility_scene(self.temperature.value, self.counted_as.value)

    def update(self):
        """Show the picture of the present settings, unless several are being moved at once."""
        if not self._moving:
            super().update()

    def slider_moved(self):
        """Follow the slider."""
        if not self._moving:
            self.temperature.from_slider()
            self.update()

    def number_typed(self):
        """Follow what was typed."""
        self._keep_still(self.temperature.from_typing)
        self.update()

    def go_to(self, temperature_c=None, counted_as=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        temperature_c : float, optional
            °C, 0 to 99.
        counted_as : str, optional
            A way of counting.
        """
        def move():
            if temperature_c is not None:
                self.temperature.set(temperature_c)
            if counted_as is not None:
                self.counted_as.value = counted_as
        self._keep_still(move)
        self.update()

    def go_to_start(self):
        """Move the controls to where they began."""
        self.go_to(**self._start)

    def _keep_still(self, move):
        """Run `move` without drawing for each control it touches."""
        self._moving, before = True, self._moving
        try:
            return move()
        finally:
            self._moving = before
