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
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    can_pin = False

    def __init__(self, powder="model plaster", powder_g=100.0, water_ml=50.0, **rest):
        super().__init__({
            "powder": powder_choice(find_powder(powder).name),
            "powder_g": NumberControl("Powder (g)", powder_g, 10, 500, 1, "g", "the weight of the powder", "100 g"),
            "water_ml": NumberControl("Water (mL)", water_ml, 0, 400, 0.5, "mL", "the amount of water", "50 mL", decimals=1),
        }, LIMITS, **rest)

    def scene(self):
        """Return the scene of the present settings."""
        return batch_scene(self.powder.value, self.powder_g.value, self.water_ml.value)
