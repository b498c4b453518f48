"""The explorer of slips: a few mL or g too much or too little, in a small or a large batch."""

from gypsumkit.figures.slip_scene import LEAST_BATCH_G, LIMITS, MOST_BATCH_G, MOST_SLIP_G, MOST_SLIP_ML, SlippedBatch, slip_scene
from gypsumkit.live.controls import powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl


class SlipExplorer(Explorer):
    """A choice of powder, the size of the batch, and how much water and powder are wrong.

    Parameters
    ----------
    powder : str
        The powder at first.
    batch_g : float
        Powder meant at first, g.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold `powder`, `batch_g`, `water_slip_ml`, `powder_slip_g`.
    """

    can_pin = False

    def __init__(self, powder="model plaster", batch_g=100, **rest):
        start = SlippedBatch(powder, batch_g)
        self._start = {"powder": start.powder, "batch_g": start.batch_g, "water_slip_ml": 0.0, "powder_slip_g": 0.0}
        self.powder = powder_choice(start.powder)
        self.batch = NumberControl("Powder meant (g)", start.batch_g, LEAST_BATCH_G, MOST_BATCH_G, 5, "g", "the powder meant", "120 g")
        self.water_slip = NumberControl("Water too much (mL)", 0.0, -MOST_SLIP_ML, MOST_SLIP_ML, 0.5, "mL", "the water too much", "1.5 mL", 1)
        self.powder_slip = NumberControl("Powder too much (g)", 0.0, -MOST_SLIP_G, MOST_SLIP_G, 0.5, "g", "the powder too much", "1.5 g", 1)
        self.numbers = (self.batch, self.water_slip, self.powder_slip)
        self._moving = False
        super().__init__([self.powder, *self.numbers], LIMITS, **rest)
        self.powder.observe(self.guard(self.update), "value")
        for control in self.numbers:
            control.slider.observe(self.guard(self.slider_moved), "value")
            control.typed.observe(self.guard(self.number_typed), "value")

    def slipped(self):
        """Return the batch of the present settings."""
        return SlippedBatch(self.powder.value, *(control.value for control in self.numbers))

    def scene(self):
        """Return the scene of the present settings."""
        return slip_scene(self.slipped())

    def update(self):
        """Show the picture of the present settings, unless several are being moved at once."""
        if not self._moving:
            super().update()

    def slider_moved(self):
        """Follow the sliders."""
        if not self._moving:
            for control in self.numbers:
                control.from_slider()
            self.update()

    def number_typed(self):
        """Follow what was typed."""
        self._keep_still(lambda: [control.from_typing() for control in self.numbers])
        self.update()

    def go_to(self, powder=None, batch_g=None, water_slip_ml=None, powder_slip_g=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder : str, optional
            Name of a powder.
        batch_g : float, optional
            Powder meant, g.
        water_slip_ml, powder_slip_g : float, optional
            Too much of each; too little below 0.

        Raises
        ------
        Problem
            When a setting is out of range; nothing is moved then.
        """
        wanted = [control.value if given is None else given
                  for control, given in zip((self.powder, *self.numbers), (powder, batch_g, water_slip_ml, powder_slip_g))]
        checked = SlippedBatch(*wanted)

        def move():
            self.powder.value = checked.powder
            for control, value in zip(self.numbers, wanted[1:]):
                control.set(value)
        self._keep_still(move)
        self.update()

    def go_to_start(self):
        """Move the controls to where they began."""
        self.go_to(**self._start)

    def _keep_still(self, move):
        """Run `move` without drawing for each control it touches."""
        self._moving = True
        try:
            move()
        finally:
            self._moving = False
