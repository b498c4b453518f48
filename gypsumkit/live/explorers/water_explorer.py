"""The main explorer: how much water, and what it does to flow, porosity and strength."""

from gypsumkit.figures.water_scene import LIMITS, water_scene
from gypsumkit.live.controls import mixing_choice, powder_choice, tick_box
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import RatioControl
from gypsumkit.mix import Mix
from gypsumkit.powders import find_powder
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
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, powder="model plaster", ratio=None, **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "mixing": mixing_choice(),
            "vibrated": tick_box("on the vibrator"),
        }, LIMITS, **rest)

    def mix(self):
        """Return the mix of the present settings."""
        return Mix(Recipe(self.powder.value, self.ratio.value, mixing=self.mixing.value))

    def state(self):
        """Return the present mix, for a pin."""
        return self.mix()

    def scene(self):
        """Return the scene of the present settings."""
        return water_scene(self.mix(), self.vibrated.value, self.pins)
