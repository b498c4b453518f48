"""Several ring tests side by side: filled alike, released together, on one plate that can be shaken."""

import numpy as np

from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.studies.moving_ring import MovingRing

MOST_RINGS = 6


class RingRow:
    """Full rings of several mixes, which are lifted and shaken together.

    Parameters
    ----------
    recipes : sequence of Recipe
        From left to right.
    time_min : float
        Age of every mix, min from the start of mixing.

    Raises
    ------
    Problem
        When the spread of one of them cannot be predicted; says of which.
    """

    def __init__(self, recipes, time_min=2.0):
        self.tests = []
        for recipe in recipes:
            try:
                self.tests.append(MovingRing(Mix(recipe, time_min)))
            except Problem as problem:
                raise Problem(f"{label_of(recipe)}: {problem}") from None

    @property
    def vibrating(self):
        """Whether the vibrator is on."""
        return self.tests[0].vibrating

    @property
    def lifted(self):
        """Whether the rings have been lifted."""
        return self.tests[0].lifted

    @property
    def begun_s(self):
        """The moment at which the present motion begins, s since the rings began to rise."""
        return self.tests[0].begun_s

    @property
    def ring_mm(self):
        """Diameter and height of every ring, mm."""
        return self.tests[0].ring_mm

    def lift(self):
        """Lift all rings together; a Problem when they are up already."""
        if self.lifted:
            raise Problem("The rings are up already; press “Again” to fill new ones.")
        for test in self.tests:
            test.lift()

    def switch(self, on, seconds=0.0):
        """Switch the vibrator under all of them; a Problem when it is so already."""
        for test in self.tests:
            test.switch(on, seconds)

    def courses(self):
        """Return the moments of the present motion and the spread ratio of every test at them.

        Returns
        -------
        seconds : array
            s since the rings began to rise.
        spread_ratios : array
            One row for each moment, one column for each test.
        """
        longest = max((test.run for test in self.tests), key=lambda run: run.seconds[-1])
        return longest.seconds, np.column_stack([np.interp(longest.seconds, test.run.seconds, test.run.spread_ratio) for test in self.tests])


def label_of(recipe):
    """Return a recipe as short as a label: water in mL per 100 g, and the powder."""
    return f"{100 * recipe.water_powder_ratio:.3g} mL, {POWDERS[recipe.powder].name}"
