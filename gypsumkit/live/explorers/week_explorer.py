"""The explorer of the first week: strength while a cast sets and dries."""

from gypsumkit.figures.week_scene import LIMITS, week_scene
from gypsumkit.live.controls import powder_choice
from gypsumkit.live.explorers.recipe_explorer import RecipeExplorer
from gypsumkit.live.number_control import NumberControl, RatioControl
from gypsumkit.powders import find_powder
from gypsumkit.recipe import Recipe


class WeekExplorer(RecipeExplorer):
    """Powder, water, how fast it dries, and a moment; strength and water left over the first week.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    half_dry_h : float
        h in which half of the free water leaves, 1 to 200, at first.
    day_h : float
        The moment looked at, h, at first.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, powder="model plaster", ratio=None, half_dry_h=12.0, day_h=24.0, **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "half_dry_h": NumberControl("Half dry in (h)", half_dry_h, 1, 200, 1, "h", "the time in which half of the water leaves", "12 h"),
            "day_h": NumberControl("Moment (h)", day_h, 0.5, 168, 0.5, "h", "the moment", "24 h", decimals=1),
        }, LIMITS, **rest)

    def scene(self):
        """Return the scene of the present settings."""
        recipe, half_dry_h = self.state()
        return week_scene(recipe, half_dry_h, self.day_h.value, self.pins)

    def state(self):
        """Return the recipe and how fast it dries, for the picture and for a pin."""
        return Recipe(self.powder.value, self.ratio.value), self.half_dry_h.value
