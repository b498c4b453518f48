"""Ring tests side by side: recipes typed as a list, released together, with a vibrator."""

import time

import ipywidgets as widgets

from gypsumkit.figures.film import BEGINS_S
from gypsumkit.figures.ring_motion_scene import SLOWED_DOWN
from gypsumkit.figures.ring_row_scene import LIMITS, ring_row_film, ring_row_scene
from gypsumkit.live.controls import button, full_name
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.explorers.ring_motion_explorer import AHEAD_S
from gypsumkit.live.moving_picture import MovingPicture
from gypsumkit.studies.recipe_list import read_recipes
from gypsumkit.studies.ring_row import MOST_RINGS, RingRow

FIVE = "42, 50, 55, 63 of model plaster; 30 of dental stone"


class RingRowExplorer(Explorer):
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

    can_pin = False

    def __init__(self, recipes=FIVE, clock=time.monotonic, **rest):
        self.clock = clock
        self.recipes = widgets.Text(value=recipes, description="Mixes, mL of water per 100 g", continuous_update=False, **full_name())
        self.row, self._filled_with = RingRow(read_recipes(recipes, MOST_RINGS)), recipes
        self._begun_at, self._begun_s, self._work_s = 0.0, 0.0, 0.0
        super().__init__({"recipes": self.recipes}, LIMITS, **rest)
        self.recipes.add_class("gypsumkit-long")
        hands = (("Lift all rings", "Raise all rings together; the mixes sink and spread", self.lift),
                 ("Vibrator on", "Shake the plate, while the mixes flow or after", lambda: self.switch(True)),
                 ("Vibrator off", "Stop shaking; what has spread stays spread", lambda: self.switch(False)),
                 ("Again", "Fill new rings with the same mixes, vibrator off", self.fill))
        self.lift_button, self.on_button, self.off_button, self.again_button = buttons = [button(words, tip) for words, tip, _ in hands]
        for pressed, (_, _, do) in zip(buttons, hands):
            pressed.on_click(self.guard(do))
        self.add_buttons(buttons)

    def make_picture(self):
        """Return the moving picture."""
        return MovingPicture(self.scene())

    def scene(self):
        """Return the scene of the tests as they stand."""
        return ring_row_scene(self.row, self.moment_s())

    def moment_s(self):
        """Return the moment of the tests that the screen shows now, s since the rings began to rise."""
        return self._begun_s + max(self.clock() - self._begun_at, 0.0) / SLOWED_DOWN

    def lift(self):
        """Lift all rings and play what happens; a Problem when they are up already."""
        called = self.clock()
        self.row.lift()
        self._play(called)

    def switch(self, on):
        """Switch the vibrator; all mixes go on from where they stand. A Problem when it is so already."""
        called = self.clock()
        self.row.switch(on, self.moment_s() + (self._work_s + AHEAD_S) / SLOWED_DOWN)
        if self.row.lifted:
            self._play(called)
        else:
            self.picture.show(self.scene())

    def _play(self, called):
        self.picture.play(ring_row_film(self.row))
        sent = self.clock()
        self._begun_at, self._begun_s = sent + BEGINS_S, self.row.begun_s
        self._work_s = sent - called

    def fill(self):
        """Fill new rings with the mixes as they are written; the vibrator is off.

        Raises
        ------
        Problem
            When the list cannot be read; then nothing has changed, and what was typed stays.
        """
        self.row = RingRow(read_recipes(self.recipes.value, MOST_RINGS))
        self._filled_with = self.recipes.value
        self.picture.show(self.scene())

    def update(self):
        """Fill new rings when the list is no longer that of the mixes in them, unless several are being moved at once."""
        if not self._moving and self.recipes.value != self._filled_with:
            self.fill()

    def go_to(self, lifted=False, vibrated=False, **settings):
        """Write these mixes and fill new rings.

        Parameters
        ----------
        lifted, vibrated : bool
            Whether the rings are then lifted, and shaken all the while.
        **settings
            `recipes`.
        """
        super().go_to(**settings)
        self.fill()
        if vibrated:
            self.switch(True)
        if lifted:
            self.lift()
