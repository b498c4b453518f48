"""The explorer of volumes: where the water goes while a mix sets and dries."""

from gypsumkit.figures.volume_scene import LIMITS, Stage, volume_scene
from gypsumkit.live.controls import RatioControl, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.powders import POWDERS, find_powder


class VolumeExplorer(Explorer):
    """Powder, water, how much has set and how much has dried off, and what fills the mass.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    set_percent, dried_percent : float
        Powder that has set and free water that has dried off, %, at first.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold the four settings above.
    """

    def __init__(self, powder="model plaster", ratio=None, set_percent=100.0, dried_percent=0.0, **rest):
        kind = find_powder(powder)
        ratio = kind.recommended_ratio.value if ratio is None else ratio
        self._start = {"powder": kind.name, "ratio": ratio, "set_percent": set_percent, "dried_percent": dried_percent}
        self.powder = powder_choice(kind.name)
        self.ratio = RatioControl(kind, ratio)
        self.set_percent = NumberControl("Powder that has set (%)", set_percent, 0, 100, 1, "%", "the part that has set", "80 %")
        self.dried_percent = NumberControl("Free water dried off (%)", dried_percent, 0, 100, 1, "%", "the part that has dried off", "93 %")
        self._moving = False
        super().__init__([self.powder, self.ratio, self.set_percent, self.dried_percent], LIMITS, **rest)
        self.powder.observe(self.guard(self.powder_chosen), "value")
        for control in (self.ratio, self.set_percent, self.dried_percent):
            control.slider.observe(self.guard(lambda control=control: self.slider_moved(control)), "value")
            control.typed.observe(self.guard(lambda control=control: self.number_typed(control)), "value")

    def state(self):
        """Return the present stage, for the picture and for a pin."""
        return Stage(self.powder.value, self.ratio.ratio, self.set_percent.value / 100.0, self.dried_percent.value / 100.0)

    def scene(self):
        """Return the scene of the present settings."""
        return volume_scene(self.state(), self.pins)

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

    def go_to(self, powder=None, ratio=None, set_percent=None, dried_percent=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder : str, optional
            Name of a powder.
        ratio : float, optional
            mL water per g powder.
        set_percent, dried_percent : float, optional
            %, 0 to 100.
        """
        def move():
            if powder is not None:
                self.powder.value = powder
                self.ratio.use_powder(POWDERS[powder])
            for control, value in ((self.ratio, ratio), (self.set_percent, set_percent), (self.dried_percent, dried_percent)):
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
