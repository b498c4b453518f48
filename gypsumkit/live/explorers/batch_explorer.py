"""The explorer of one batch: rock, powder, fresh, set and dried, by mass and by volume."""

from gypsumkit.figures.batch_scene import LIMITS, batch_scene
from gypsumkit.live.controls import powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.powders import find_powder


class BatchExplorer(Explorer):
    """The reader's own grams and millilitres, balanced.

    Parameters
    ----------
    powder : str
        The powder at first.
    powder_g, water_ml : float
        What is weighed and measured at first.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold the three settings above.
    """

    can_pin = False

    def __init__(self, powder="model plaster", powder_g=100.0, water_ml=50.0, **rest):
        self._start = {"powder": find_powder(powder).name, "powder_g": powder_g, "water_ml": water_ml}
        self.powder = powder_choice(self._start["powder"])
        self.powder_g = NumberControl("Powder (g)", powder_g, 10, 500, 1, "g", "the weight of the powder", "100 g")
        self.water_ml = NumberControl("Water (mL)", water_ml, 0, 400, 0.5, "mL", "the amount of water", "50 mL", decimals=1)
        self._moving = False
        numbers = (self.powder_g, self.water_ml)
        super().__init__([self.powder, *numbers], LIMITS, **rest)
        self.powder.observe(self.guard(self.update), "value")
        for control in numbers:
            control.slider.observe(self.guard(lambda control=control: self.slider_moved(control)), "value")
            control.typed.observe(self.guard(lambda control=control: self.number_typed(control)), "value")

    def scene(self):
        """Return the scene of the present settings."""
        return batch_scene(self.powder.value, self.powder_g.value, self.water_ml.value)

    def update(self):
        """Show the picture of the present settings, unless several are being moved at once."""
        if not self._moving:
            super().update()

    def slider_moved(self, control):
        """Follow one of the sliders."""
        if not self._moving:
            control.from_slider()
            self.update()

    def number_typed(self, control):
        """Follow what was typed beside one of the sliders."""
        self._keep_still(control.from_typing)
        self.update()

    def go_to(self, powder=None, powder_g=None, water_ml=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder : str, optional
            Name of a powder.
        powder_g, water_ml : float, optional
            g and mL.
        """
        def move():
            if powder is not None:
                self.powder.value = powder
            for control, value in ((self.powder_g, powder_g), (self.water_ml, water_ml)):
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
