"""The strength explorer: one line for all powders, and the search for a ratio that pours and carries."""

from gypsumkit.figures.strength_scene import LIMITS, strength_scene
from gypsumkit.live.controls import choice, powder_choice, tick_box
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl, RatioControl
from gypsumkit.mix import Mix
from gypsumkit.powders import find_powder
from gypsumkit.recipe import Recipe

LEAST_WANTED_MPA, MOST_WANTED_MPA, WANTED_STEP_MPA = 2.0, 100.0, 0.5


class StrengthExplorer(Explorer):
    """Powder, water, wanted strength, wet or dry, and data from outside; strength against porosity and the compromise.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    wanted_mpa : float
        The wanted strength at first, MPa.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, powder="model plaster", ratio=None, wanted_mpa=10.0, **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "wanted_mpa": NumberControl("Wanted strength (MPa)", wanted_mpa, LEAST_WANTED_MPA, MOST_WANTED_MPA, WANTED_STEP_MPA, "MPa",
                                        "the wanted strength", "12 MPa", decimals=1),
            "dried": choice("Tested", (("wet, 1 h", False), ("dry", True)), False),
            "industrial": tick_box("show dry industrial plasters"),
        }, LIMITS, **rest)

    def mix(self):
        """Return the mix of the present settings."""
        return Mix(Recipe(self.powder.value, self.ratio.value))

    def scene(self):
        """Return the scene of the present settings."""
        return strength_scene(self.mix(), self.wanted_mpa.value, self.dried.value, self.industrial.value, self.pins)

    def state(self):
        """Return the present mix, for a pin."""
        return self.mix()
