"""What the moving ring tests have in common: the hand that lifts and shakes, and the film that plays what follows."""

from gypsumkit.figures.film import BEGINS_S
from gypsumkit.figures.ring_motion_scene import SLOWED_DOWN
from gypsumkit.live.controls import button
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.moving_picture import MovingPicture

# A film made anew begins so much ahead of the moment it should: a motion that skips a little reads as motion, one that jumps back as
# a fault, and how long a message takes to the screen varies.
AHEAD_S = 0.05


class RingsInMotion(Explorer):
    """Full rings on a plate; buttons that lift them, switch the vibrator and fill new ones.

    A particular one names its controls, says what its buttons are called (`lift_said`, `on_said`, `off_said`, `again_said`: words
    and tip), what is filled, and what its scene and its film are.

    Parameters
    ----------
    controls, limits, **rest
        As for `Explorer`.
    clock : callable
        Returns seconds.
    """

    can_pin = False
    off_said = "Vibrator off", "Stop shaking; what has spread stays spread"

    def __init__(self, controls, limits, clock, **rest):
        self.controls, self.clock = controls, clock
        self.test, self._filled_with = self.filled(), self.settings()
        self._begun_at, self._begun_s, self._work_s = 0.0, 0.0, 0.0
        super().__init__(controls, limits, **rest)
        self.lift_button, self.on_button, self.off_button, self.again_button = buttons = [
            button(*said) for said in (self.lift_said, self.on_said, self.off_said, self.again_said)]
        for pressed, do in zip(buttons, (self.lift, lambda: self.switch(True), lambda: self.switch(False), self.fill)):
            pressed.on_click(self.guard(do))
        self.add_buttons(buttons)

    # What a particular one says ------------------------------------------------------------------

    def filled(self):
        """Return new tests of the present settings, as a `MovingRing` or a `RingRow`; a Problem when they cannot be filled."""
        raise NotImplementedError("each one says what it fills")

    def film(self):
        """Return the film of the tests as they go on."""
        raise NotImplementedError("each one describes its film")

    # What the reader's hand does -----------------------------------------------------------------

    def make_picture(self):
        """Return the moving picture."""
        return MovingPicture(self.scene())

    def moment_s(self):
        """Return the moment of the test that the screen shows now, s since the rings began to rise."""
        return self._begun_s + max(self.clock() - self._begun_at, 0.0) / SLOWED_DOWN

    def lift(self):
        """Lift the rings and play what happens; a Problem when they are up already."""
        called = self.clock()
        self.test.lift()
        self._play(called)

    def switch(self, on):
        """Switch the vibrator; every mix goes on from where it stands at this moment.

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
        self.picture.play(self.film())
        sent = self.clock()
        self._begun_at, self._begun_s = sent + BEGINS_S, self.test.begun_s
        self._work_s = sent - called      # the film on the screen runs on while the next one is made

    def fill(self):
        """Fill new rings with the mixes of the present settings, vibrator off; a Problem when it cannot be, and nothing has changed."""
        self.test = self.filled()
        self._filled_with = self.settings()
        self.picture.show(self.scene())

    def update(self):
        """Fill new rings when the settings are no longer those of the mixes in them, unless several are being moved at once."""
        if not self._moving and self.settings() != self._filled_with:
            self.fill()

    def go_to(self, lifted=False, vibrated=False, **settings):
        """Move the controls to these settings and fill new rings; what is not given stays.

        Parameters
        ----------
        lifted, vibrated : bool
            Whether the rings are then lifted, and shaken all the while.
        **settings
            By the names of the controls.

        Raises
        ------
        Problem
            When one of them is unknown or cannot be.
        """
        super().go_to(**settings)
        self.fill()
        if vibrated:
            self.switch(True)
        if lifted:
            self.lift()
