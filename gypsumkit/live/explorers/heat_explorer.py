"""The heat explorer: how warm a cast of a given size becomes."""

from gypsumkit.figures.heat_scene import LEAST_EDGE_MM, LIMITS, MOST_EDGE_MM, heat_scene
from gypsumkit.live.controls import powder_choice
from gypsumkit.live.explorers.recipe_explorer import RecipeExplorer
from gypsumkit.live.number_control import NumberControl, RatioControl
from gypsumkit.powders import find_powder


class HeatExplorer(RecipeExplorer):
    """Powder, water and the size of the cast; its temperature in time.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    edge_mm : float
        Edge of the cube at first, mm, 15 to 250.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, powder="model plaster", ratio=None, edge_mm=40.0, **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "edge_mm": NumberControl("Edge of the cube (mm)", edge_mm, LEAST_EDGE_MM, MOST_EDGE_MM, 5, "mm", "the edge of the cube", "40 mm"),
        }, LIMITS, **rest)

    def scene(self):
        """Return the scene of the present settings."""
        return heat_scene(*self.state(), self.pins)

    def state(self):
        """Return powder, ratio and edge, for the picture and for a pin."""
        return self.powder.value, self.ratio.value, self.edge_mm.value
