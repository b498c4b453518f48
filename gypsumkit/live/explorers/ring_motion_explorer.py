"""The ring test in motion: lift the ring, switch the vibrator on and off while the mix flows."""

import time

from gypsumkit.figures.film import BEGINS_S
from gypsumkit.figures.ring_motion_scene import LIMITS, SLOWED_DOWN, before_and_after, ring_film, ring_motion_scene
from gypsumkit.live.controls import powder_choice
from gypsumkit.live.explorer import Explorer, button
from gypsumkit.live.explorers.ring_explorer import fit_powder_and_time, time_control
from gypsumkit.live.moving_picture import MovingPicture
from gypsumkit.live.number_control import RatioControl
from gypsumkit.mix import Mix
from gypsumkit.studies.moving_ring import MovingRing
from gypsumkit.powders import find_powder
from gypsumkit.recipe import Recipe


# A film made anew begins so much ahead of the moment it should: a motion that skips a little reads as motion, one that jumps back as
# a fault, and how long a message takes to the screen varies.
AHEAD_S = 0.05


class RingMotionExplorer(Explorer):
    """Powder, water and minutes since mixing began; buttons that lift the ring and switch the vibrator.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    clock : callable
        Returns seconds; a test gives its own.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may also hold `lifted` and `vibrated`.
    """

    can_pin = False

    def __init__(self, powder="model plaster", ratio=None, clock=time.monotonic, **rest):
        kind = find_powder(powder)
        self.clock = clock
        self.powder, self.ratio, self.time_min = powder_choice(kind.name), RatioControl(kind, ratio), time_control("Age of mix (min)", kind)
        self.test, self._filled_with = MovingRing(self.mix()), self._mixed()
        self._begun_at, self._begun_s, self._work_s = 0.0, 0.0, 0.0
        super().__init__({"powder": self.powder, "ratio": self.ratio, "time_min": self.time_min}, LIMITS, **rest)
        hands = (("Lift the ring", "Raise the ring; the mix sinks and spreads", self.lift),
                 ("Vibrator on", "Shake the plate, while the mix flows or after", lambda: self.switch(True)),
                 ("Vibrator off", "Stop shaking; what has spread stays spread", lambda: self.switch(False)),
                 ("Again", "Fill a new ring with the same mix, vibrator off", self.fill))
        self.lift_button, self.on_button, self.off_button, self.again_button = buttons = [button(words, tip) for words, tip, _ in hands]
        for pressed, (_, _, do) in zip(buttons, hands):
            pressed.on_click(self.guard(do))
        self.add_buttons(buttons)

    def make_picture(self):
        """Return the moving picture."""
        return MovingPicture(self.scene())

    def mix(self):
        """Return the mix of the present settings, at its moment."""
        return Mix(Recipe(self.powder.value, self.ratio.value), self.time_min.value)

    def scene(self):
        """Return the scene of the test as it stands."""
        return ring_motion_scene(self.test, self.moment_s())

    # What the reader's hand does -----------------------------------------------------------------

    def moment_s(self):
        """Return the moment of the test that the screen shows now, s since the ring began to rise."""
        return self._begun_s + max(self.clock() - self._begun_at, 0.0) / SLOWED_DOWN

    def lift(self):
        """Lift the ring and play what happens.

        Raises
        ------
        Problem
            When it is up already.
        """
        called = self.clock()
        self.test.lift()
        self._play(called)

    def switch(self, on):
        """Switch the vibrator; the mix goes on from where it stands at this moment.

        Parameters
        ----------
        on : bool
            On or off.

        Raises
        ------
        Problem
            When it is so already.
        """
        called = self.clock()
        self.test.switch(on, self.moment_s() + (self._work_s + AHEAD_S) / SLOWED_DOWN)
        if self.test.lifted:
            self._play(called)
        else:
            self.picture.show(self.scene())

    def _play(self, called):
        self.picture.play(ring_film(self.test))
        sent = self.clock()
        self._begun_at, self._begun_s = sent + BEGINS_S, float(self.test.run.seconds[0])
        self._work_s = sent - called      # the film on the screen runs on while the next one is made

    def fill(self):
        """Fill a new ring with the mix of the present settings; the vibrator is off."""
        self.test = MovingRing(self.mix())
        self._filled_with = self._mixed()
        self.picture.show(self.scene())

    def update(self):
        """Fill a new ring when the settings are no longer those of the mix in it, unless several are being moved at once."""
        if not self._moving and self._mixed() != self._filled_with:
            self.fill()

    def _mixed(self):
        return self.powder.value, self.ratio.value, self.time_min.value

    # Settings -------------------------------------------------------------------------------------

    def fit(self, name):
        """Fit ratio and time to a powder just chosen."""
        return fit_powder_and_time(self, name)

    def go_to(self, lifted=False, vibrated=False, **settings):
        """Move the controls to these settings and fill a new ring; what is not given stays.

        Parameters
        ----------
        lifted, vibrated : bool
            Whether the ring is then lifted, and shaken all the while.
        **settings
            By the names of the controls.

        Raises
        ------
        Problem
            When one of them is unknown or out of range.
        """
        super().go_to(**settings)
        self.fill()
        if vibrated:
            self.switch(True)
        if lifted:
            self.lift()

    # What it says and stores ------------------------------------------------------------------------

    def picture_png(self):
        """Return before and after side by side as PNG bytes."""
        self.picture.stored = before_and_after(self.test.mix)
        return self.picture.static_png()
