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
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    can_pin = False

    def __init__(self, powder="model plaster", batch_g=100, **rest):
        start = SlippedBatch(powder, batch_g)
        super().__init__({
            "powder": powder_choice(start.powder),
            "batch_g": NumberControl("Powder meant (g)", start.batch_g, LEAST_BATCH_G, MOST_BATCH_G, 5, "g", "the powder meant", "120 g"),
            "water_slip_ml": NumberControl("Water too much (mL)", 0.0, -MOST_SLIP_ML, MOST_SLIP_ML, 0.5, "mL", "the water too much", "1.5 mL", 1),
            "powder_slip_g": NumberControl("Powder too much (g)", 0.0, -MOST_SLIP_G, MOST_SLIP_G, 0.5, "g", "the powder too much", "1.5 g", 1),
        }, LIMITS, **rest)

    def slipped(self):
        """Return the batch of the present settings."""
        return SlippedBatch(**self.settings())

    def scene(self):
        """Return the scene of the present settings."""
        return slip_scene(self.slipped())
