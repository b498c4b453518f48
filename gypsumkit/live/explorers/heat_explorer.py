"""The heat explorer: how warm a cast of a given size becomes."""

from gypsumkit.figures.heat_scene import LEAST_EDGE_MM, LIMITS, MOST_EDGE_MM, heat_scene
from gypsumkit.live.explorers.recipe_explorer import RecipeExplorer
from gypsumkit.live.number_control import NumberControl


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
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold the settings above.
    """

    def __init__(self, powder="model plaster", ratio=None, edge_mm=40.0, **rest):
        edge = NumberControl("Edge of the cube (mm)", edge_mm, LEAST_EDGE_MM, MOST_EDGE_MM, 5, "mm", "the edge of the cube", "40 mm")
        super().__init__({"powder": powder, "ratio": ratio, "edge_mm": edge_mm}, {"edge_mm": edge}, {}, ("powder", "ratio", "edge_mm"), LIMITS, **rest)

    def scene(self):
        """Return the scene of the present settings."""
        return heat_scene(*self.state(), self.pins)

    def state(self):
        """Return powder, ratio and edge, for the picture and for a pin."""
        return self.powder.value, self.ratio.ratio, self.numbers["edge_mm"].value
