"""The main explorer: how much water, and what it does to flow, porosity and strength."""

import ipywidgets as widgets

from gypsumkit.figures.water_scene import LIMITS, water_scene
from gypsumkit.live.controls import RatioControl, mixing_choice, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.recipe import Recipe


class WaterExplorer(Explorer):
    """A slider for the water, a choice of powder, mixing and vibrator, and three pictures side by side.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold `powder`, `ratio`, `mixing`, `vibrated`.
    """

    def __init__(self, powder="model plaster", ratio=None, **rest):
        kind = find_powder(powder)
        ratio = kind.recommended_ratio.value if ratio is None else ratio
        self._start = {"powder": kind.name, "ratio": ratio, "mixing": "spatulated by hand", "vibrated": False}
        self.powder = powder_choice(kind.name)
        self.ratio = RatioControl(kind, ratio)
        self.mixing = mixing_choice()
        self.vibrated = widgets.Checkbox(value=False, indent=False, description="on the vibrator", layout=widgets.Layout(width="auto"))
        self._moving = False
        super().__init__([self.powder, self.ratio, self.mixing, self.vibrated], LIMITS, **rest)
        self.powder.observe(self.guard(self.powder_chosen), "value")
        self.ratio.slider.observe(self.guard(self.slider_moved), "value")
        self.ratio.typed.observe(self.guard(self.ratio_typed), "value")
        self.mixing.observe(self.guard(self.update), "value")
        self.vibrated.observe(self.guard(self.update), "value")

    @property
    def ratio_slider(self):
        """The slider itself."""
        return self.ratio.slider

    def mix(self):
        """Return the mix of the present settings."""
        return Mix(Recipe(self.powder.value, self.ratio.ratio, mixing=self.mixing.value))

    def scene(self):
        """Return the scene of the present settings."""
        return water_scene(self.mix(), self.vibrated.value, self.pins)

    def state(self):
        """Return the present mix, for a pin."""
        return self.mix()

    def update(self):
        """Show the picture of the present settings, unless several are being moved at once."""
        if not self._moving:
            super().update()

    def powder_chosen(self):
        """Take on the chosen powder; say so when the ratio had to move."""
        said = self._keep_still(lambda: self.ratio.use_powder(POWDERS[self.powder.value]))
        self.update()
        if said:
            self.show_message(said)

    def slider_moved(self):
        """Follow the slider."""
        if not self._moving:
            self.ratio.from_slider()
            self.update()

    def ratio_typed(self):
        """Follow what was typed."""
        self._keep_still(self.ratio.from_typing)
        self.update()

    def go_to(self, powder=None, ratio=None, mixing=None, vibrated=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder, mixing : str, optional
            Names.
        ratio : float, optional
            mL water per g powder.
        vibrated : bool, optional
            Whether the ring stands on the vibrator.
        """
        def move():
            if powder is not None:
                self.powder.value = powder
                self.ratio.use_powder(POWDERS[powder])
            if ratio is not None:
                self.ratio.set(ratio)
            if mixing is not None:
                self.mixing.value = mixing
            if vibrated is not None:
                self.vibrated.value = vibrated
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
