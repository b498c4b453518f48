"""The clock explorer: powder, water and one change; reaction, stiffness, strength and heat in time."""

from gypsumkit.studies.changes import change_words, conditions_with
from gypsumkit.figures.clock_scene import LIMITS, clock_scene
from gypsumkit.live.controls import powder_choice
from gypsumkit.live.explorers.recipe_explorer import AmountControl, RecipeExplorer, change_choice
from gypsumkit.live.number_control import NumberControl, RatioControl
from gypsumkit.powders import find_powder
from gypsumkit.recipe import Recipe

LAST_MOMENT_MIN = 120.0


class ClockExplorer(RecipeExplorer):
    """Powder, water, one change with its amount, and a moment; four curves and the events of the clock.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    change : str
        A key of `gypsumkit.studies.changes.CHANGES`.
    amount : float, optional
        Of the change, in its unit; its usual amount when not given.
    time_min : float
        The moment looked at, min from the start of mixing.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, powder="model plaster", ratio=None, change="nothing", amount=None, time_min=10.0, **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "change": change_choice(change),
            "amount": AmountControl(change, amount),
            "time_min": NumberControl("Moment (min)", time_min, 0, LAST_MOMENT_MIN, 0.5, "min", "the moment", "12 min", decimals=1),
        }, LIMITS, **rest)

    def scene(self):
        """Return the scene of the present settings."""
        return clock_scene(self.state(), self.time_min.value, self.pins, change_words(self.change.value, self.amount.value))

    def state(self):
        """Return the present recipe, for a pin."""
        return Recipe(self.powder.value, self.ratio.value, **conditions_with(self.change.value, self.amount.value))
