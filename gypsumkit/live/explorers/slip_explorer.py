"""The explorer of slips: a few mL or g too much or too little, in a small or a large batch."""

import ipywidgets as widgets

from gypsumkit.figures.slip_scene import LEAST_BATCH_G, LIMITS, MOST_BATCH_G, MOST_SLIP_G, MOST_SLIP_ML, SlippedBatch, slip_scene
from gypsumkit.live.controls import powder_choice
from gypsumkit.live.explorer import Explorer


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
        self.batch = _slider(widgets.IntSlider, "Powder meant (g)", start.batch_g, LEAST_BATCH_G, MOST_BATCH_G, 5, "d")
        self.water_slip = _slider(widgets.FloatSlider, "Water too much (mL)", 0.0, -MOST_SLIP_ML, MOST_SLIP_ML, 0.5, "+.1f")
        self.powder_slip = _slider(widgets.FloatSlider, "Powder too much (g)", 0.0, -MOST_SLIP_G, MOST_SLIP_G, 0.5, "+.1f")
        self._moving = False
        super().__init__([self.powder, self.batch, self.water_slip, self.powder_slip], LIMITS, **rest)
        for control in self.controls:
            control.observe(self.guard(self.update), "value")

    def slipped(self):
        """Return the batch of the present settings."""
        return SlippedBatch(self.powder.value, self.batch.value, self.water_slip.value, self.powder_slip.value)

    def scene(self):
        """Return the scene of the present settings."""
        return slip_scene(self.slipped())

    def update(self):
        """Show the picture of the present settings, unless several are being moved at once."""
        if not self._moving:
            super().update()

    def go_to(self, powder=None, batch_g=None, water_slip_ml=None, powder_slip_g=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder : str, optional
            Name of a powder.
        batch_g : int, optional
            Powder meant, g.
        water_slip_ml, powder_slip_g : float, optional
            Too much of each; too little below 0.

        Raises
        ------
        Problem
            When a setting is out of range; nothing is moved then.
        """
        wanted = (powder, batch_g, water_slip_ml, powder_slip_g)
        values = [control.value if value is None else value for control, value in zip(self.controls, wanted)]
        SlippedBatch(*values)
        self._moving = True
        try:
            for control, value in zip(self.controls, values):
                control.value = value
        finally:
            self._moving = False
        self.update()

    def go_to_start(self):
        """Move the controls to where they began."""
        self.go_to(**self._start)


def _slider(kind, name, value, least, most, step, readout_format):
    return kind(value=value, min=least, max=most, step=step, description=name, readout_format=readout_format, continuous_update=True,
                style={"description_width": "initial"}, layout=widgets.Layout(width="min(100%, 400px)"))
