"""The explorer of one bubble: mix, vibrator, diameter, depth; held or rising."""

import ipywidgets as widgets

from gypsumkit.figures.bubble_scene import DEPTHS_MM, DIAMETERS_MM, LIMITS, Bubble, bubble_scene
from gypsumkit.live.controls import RatioControl, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.powders import POWDERS, find_powder


class BubbleExplorer(Explorer):
    """Powder, water, vibrator, and one bubble.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    vibrated : bool
        Whether the vibrator runs at first.
    diameter_mm, depth_mm : float
        The bubble at first.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold what `go_to` takes.
    """

    def __init__(self, powder="model plaster", ratio=None, vibrated=False, diameter_mm=2.0, depth_mm=15.0, **rest):
        kind = find_powder(powder)
        ratio = kind.recommended_ratio.value if ratio is None else ratio
        self._start = {"powder": kind.name, "ratio": ratio, "vibrated": vibrated, "diameter_mm": diameter_mm, "depth_mm": depth_mm}
        self.powder = powder_choice(kind.name)
        self.ratio = RatioControl(kind, ratio)
        self.vibrated = widgets.Checkbox(value=vibrated, indent=False, description="vibrator running", layout=widgets.Layout(width="auto"))
        self.diameter = NumberControl("Bubble (mm across)", diameter_mm, *DIAMETERS_MM, 0.05, "mm", "the diameter of the bubble", "0.5 mm", decimals=2)
        self.depth = NumberControl("Depth (mm)", depth_mm, *DEPTHS_MM, 1, "mm", "the depth of the bubble", "15 mm")
        self._moving = False
        super().__init__([self.powder, self.ratio, self.vibrated, self.diameter, self.depth], LIMITS, **rest)
        self.powder.observe(self.guard(self.powder_chosen), "value")
        self.vibrated.observe(self.guard(self.update), "value")
        for control in (self.ratio, self.diameter, self.depth):
            control.slider.observe(self.guard(lambda control=control: self.slider_moved(control)), "value")
            control.typed.observe(self.guard(lambda control=control: self.number_typed(control)), "value")

    @property
    def ratio_slider(self):
        """The slider of the water/powder ratio."""
        return self.ratio.slider

    def state(self):
        """Return the present bubble, for the picture and for a pin."""
        return Bubble(self.powder.value, self.ratio.ratio, self.vibrated.value, self.diameter.value, self.depth.value)

    def scene(self):
        """Return the scene of the present settings."""
        return bubble_scene(self.state(), self.pins)

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

    def slider_moved(self, control):
        """Follow one of the sliders."""
        if not self._moving:
            control.from_slider()
            self.update()

    def number_typed(self, control):
        """Follow what was typed beside one of the sliders."""
        self._keep_still(control.from_typing)
        self.update()

    def go_to(self, powder=None, ratio=None, vibrated=None, diameter_mm=None, depth_mm=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder : str, optional
            Name of a powder.
        ratio : float, optional
            mL water per g powder.
        vibrated : bool, optional
            Whether the vibrator runs.
        diameter_mm, depth_mm : float, optional
            mm.
        """
        def move():
            if powder is not None:
                self.powder.value = find_powder(powder).name
                self.ratio.use_powder(POWDERS[self.powder.value])
            if vibrated is not None:
                self.vibrated.value = vibrated
            for control, value in ((self.ratio, ratio), (self.diameter, diameter_mm), (self.depth, depth_mm)):
                if value is not None:
                    control.set(value)
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
