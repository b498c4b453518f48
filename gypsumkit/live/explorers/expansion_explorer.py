"""The expansion explorer: how much a cast grows, what it does to a die, and how it lies to the limits."""

from gypsumkit.studies.changes import change_words, conditions_with
from gypsumkit.figures.expansion_scene import IN_AIR_2013, LIMITS, VIEWS, Die, expansion_scene
from gypsumkit.live.controls import choice, powder_choice
from gypsumkit.live.explorers.recipe_explorer import RecipeExplorer
from gypsumkit.live.number_control import NumberControl, RatioControl
from gypsumkit.powders import find_powder
from gypsumkit.recipe import Recipe

# How the mix is made, as the list says it: a change and its amount.
MADE = {
    "as usual, 180 turns": ("nothing", None),
    "20 turns of the spatula": ("turns of the spatula", 20.0),
    "300 turns of the spatula": ("turns of the spatula", 300.0),
    "1 % potassium sulfate": ("potassium sulfate", 1.0),
    "2 % potassium sulfate": ("potassium sulfate", 2.0),
    "4 % potassium sulfate": ("potassium sulfate", 4.0),
    "2 % sodium chloride": ("sodium chloride", 2.0),
    "0.5 % borax, toxic: only here": ("borax, toxic: only here", 0.5),
    "0.05 % sodium citrate": ("sodium citrate", 0.05),
    "1 % ground set gypsum": ("ground set gypsum", 1.0),
}


class ExpansionExplorer(RecipeExplorer):
    """Powder, water, how it is made, a length, and where it sets; growth in time, the die and the limits.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    made : str
        A key of `MADE`.
    length_mm : float
        Length at first, mm, 1 to 100.
    view : str
        In air with the edition of the limits, or under water: one of `gypsumkit.figures.expansion_scene.VIEWS`.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, powder="improved stone", ratio=None, made="as usual, 180 turns", length_mm=10.0, view=IN_AIR_2013, **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "made": choice("Made", MADE, made),
            "length_mm": NumberControl("Length (mm)", length_mm, 1, 100, 1, "mm", "the length", "10 mm"),
            "view": choice("It sets", VIEWS, view),
        }, LIMITS, **rest)

    def scene(self):
        """Return the scene of the present settings."""
        return expansion_scene(self.state(), self.pins, change_words(*MADE[self.made.value]))

    def state(self):
        """Return what is looked at, for the picture and for a pin."""
        recipe = Recipe(self.powder.value, self.ratio.value, **conditions_with(*MADE[self.made.value]))
        return Die(recipe, self.length_mm.value, self.view.value)
