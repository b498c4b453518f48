"""The explorer of packed grains: powder, water, and another handful."""

from gypsumkit.figures.packing_scene import LIMITS, packing_scene
from gypsumkit.live.controls import choice, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import RatioControl
from gypsumkit.powders import find_powder

HANDFULS = (1, 2, 3)


class PackingExplorer(Explorer):
    """Powder, water and which handful; the grains cut through, and where the water goes.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    can_pin = False

    def __init__(self, powder="model plaster", ratio=None, **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "handful": choice("Handful", [(f"number {one}", one) for one in HANDFULS], HANDFULS[0]),
        }, LIMITS, **rest)

    def scene(self):
        """Return the scene of the present settings."""
        return packing_scene(self.powder.value, self.ratio.value, self.handful.value)
