"""Ring tests side by side: recipes typed as a list, released together, with a vibrator."""

import time

import ipywidgets as widgets

from gypsumkit.figures.ring_row_scene import LIMITS, ring_row_film, ring_row_scene
from gypsumkit.live.controls import full_name
from gypsumkit.live.explorers.rings_in_motion import RingsInMotion
from gypsumkit.studies.recipe_list import read_recipes
from gypsumkit.studies.ring_row import MOST_RINGS, RingRow

FIVE = "42, 50, 55, 63 of model plaster; 30 of dental stone"


class RingRowExplorer(RingsInMotion):
    """A list of recipes; buttons that lift all rings together and switch the vibrator.

    Parameters
    ----------
    recipes : str
        As for `gypsumkit.studies.recipe_list.read_recipes`.
    clock : callable
        Returns seconds; a test gives its own.
    **rest
        `question`, `prediction`, `asked` and `projected` as for `Explorer`.
    """

    lift_said = "Lift all rings", "Raise all rings together; the mixes sink and spread"
    on_said = "Vibrator on", "Shake the plate, while the mixes flow or after"
    again_said = "Again", "Fill new rings with the same mixes, vibrator off"

    def __init__(self, recipes=FIVE, clock=time.monotonic, **rest):
        self.recipes = widgets.Text(value=recipes, description="Mixes, mL of water per 100 g", continuous_update=False, **full_name())
        super().__init__({"recipes": self.recipes}, LIMITS, clock, **rest)
        self.recipes.add_class("gypsumkit-long")

    def scene(self):
        """Return the scene of the tests as they stand."""
        return ring_row_scene(self.test, self.moment_s())

    def film(self):
        """Return the film of the tests as they go on."""
        return ring_row_film(self.test)

    def filled(self):
        """Return full rings of the mixes as they are written."""
        return RingRow(read_recipes(self.recipes.value, MOST_RINGS))
