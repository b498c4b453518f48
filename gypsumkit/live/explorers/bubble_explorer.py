"""The explorer of one bubble: mix, vibrator, diameter, depth; held or rising."""

from gypsumkit.figures.bubble_scene import DEPTHS_MM, DIAMETERS_MM, LIMITS, Bubble, bubble_scene
from gypsumkit.live.controls import powder_choice, tick_box
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl, RatioControl
from gypsumkit.powders import find_powder


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
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, powder="model plaster", ratio=None, vibrated=False, diameter_mm=2.0, depth_mm=15.0, **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "vibrated": tick_box("vibrator running", vibrated),
            "diameter_mm": NumberControl("Bubble (mm across)", diameter_mm, *DIAMETERS_MM, 0.05, "mm", "the diameter of the bubble", "0.5 mm",
                                         decimals=2),
            "depth_mm": NumberControl("Depth (mm)", depth_mm, *DEPTHS_MM, 1, "mm", "the depth of the bubble", "15 mm"),
        }, LIMITS, **rest)

    def state(self):
        """Return the present bubble, for the picture and for a pin."""
        return Bubble(*self.settings().values())

    def scene(self):
        """Return the scene of the present settings."""
        return bubble_scene(self.state(), self.pins)
