"""The ring test in motion: lift the ring, switch the vibrator on and off while the mix flows."""

import time

import ipywidgets as widgets

from gypsumkit.figures.film import BEGINS_S
from gypsumkit.figures.ring_motion_scene import LIMITS, SLOWED_DOWN, before_and_after, ring_film, ring_motion_scene
from gypsumkit.live.controls import RatioControl, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.explorers.ring_explorer import TIME_STEP_MIN, latest_min
from gypsumkit.live.moving_picture import MovingPicture
from gypsumkit.live.number_control import NumberControl
from gypsumkit.mix import EARLIEST_MIN, Mix
from gypsumkit.moving_ring import MovingRing
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.recipe import Recipe


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
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold what `go_to` takes.
    """

    can_pin = False

    def __init__(self, powder="model plaster", ratio=None, clock=time.monotonic, **rest):
        kind = find_powder(powder)
        ratio = kind.recommended_ratio.value if ratio is None else ratio
        self._start = {"powder": kind.name, "ratio": ratio, "time_min": kind.standard_time_min, "lifted": False, "vibrated": False}
        self.clock = clock
        self.powder = powder_choice(kind.name)
        self.ratio = RatioControl(kind, ratio)
        self.time = NumberControl("Age of mix (min)", kind.standard_time_min, EARLIEST_MIN, latest_min(kind), TIME_STEP_MIN,
                                  "min", "the time since mixing began", "2 min", decimals=2)
        self.lift_button, self.on_button, self.off_button, self.again_button = buttons = [
            widgets.Button(description=words, tooltip=tip, layout=widgets.Layout(width="auto", height="auto")) for words, tip in (
                ("Lift the ring", "Raise the ring; the mix sinks and spreads"),
                ("Vibrator on", "Shake the plate, while the mix flows or after"),
                ("Vibrator off", "Stop shaking; what has spread stays spread"),
                ("Again", "Fill a new ring with the same mix, vibrator off"))]
        hand = widgets.HBox(buttons, layout=widgets.Layout(flex_flow="row wrap"))
        self._moving = False
        self.test, self._filled_with = MovingRing(self.mix()), self._settings()
        self._begun_at, self._begun_s, self._work_s = 0.0, 0.0, 0.0
        super().__init__([self.powder, self.ratio, self.time, hand], LIMITS, **rest)
        self.powder.observe(self.guard(self.powder_chosen), "value")
        self.ratio.slider.observe(self.guard(lambda: self._follow(self.ratio.from_slider)), "value")
        self.ratio.typed.observe(self.guard(lambda: self._take(self.ratio.from_typing)), "value")
        self.time.slider.observe(self.guard(lambda: self._follow(self.time.from_slider)), "value")
        self.time.typed.observe(self.guard(lambda: self._take(self.time.from_typing)), "value")
        self.lift_button.on_click(self.guard(self.lift))
        self.on_button.on_click(self.guard(lambda: self.switch(True)))
        self.off_button.on_click(self.guard(lambda: self.switch(False)))
        self.again_button.on_click(self.guard(self.fill))

    def make_picture(self):
        """Return the moving picture."""
        return MovingPicture(self.scene())

    @property
    def ratio_slider(self):
        """The slider of the water/powder ratio."""
        return self.ratio.slider

    def mix(self):
        """Return the mix of the present settings, at its moment."""
        return Mix(Recipe(self.powder.value, self.ratio.ratio), self.time.value)

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
        self.test.switch(on, self.moment_s() + self._work_s / SLOWED_DOWN)
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
        self._filled_with = self._settings()
        self.picture.show(self.scene())

    def update(self):
        """Fill a new ring when the settings are no longer those of the mix in it, unless several are being moved at once."""
        if not self._moving and self._settings() != self._filled_with:
            self.fill()

    def _settings(self):
        return self.powder.value, self.ratio.ratio, self.time.value

    # Settings -------------------------------------------------------------------------------------

    def powder_chosen(self):
        """Take on the chosen powder; say so when the ratio or the time had to move."""
        said = self._keep_still(lambda: self._use_powder(POWDERS[self.powder.value]))
        self.update()
        if said:
            self.show_message(said)

    def go_to(self, powder=None, ratio=None, time_min=None, lifted=False, vibrated=False):
        """Move the controls to these settings and fill a new ring; what is not given stays.

        Parameters
        ----------
        powder : str, optional
            Name of a powder.
        ratio : float, optional
            mL water per g powder.
        time_min : float, optional
            min from the start of mixing.
        lifted, vibrated : bool
            Whether the ring is then lifted, and shaken all the while.

        Raises
        ------
        Problem
            When one of them is unknown or out of range.
        """
        def move():
            if powder is not None:
                self.powder.value = find_powder(powder).name
                self._use_powder(POWDERS[self.powder.value])
            if ratio is not None:
                self.ratio.set(ratio)
            if time_min is not None:
                self.time.set(time_min)
        self._keep_still(move)
        self.fill()
        if vibrated:
            self.switch(True)
        if lifted:
            self.lift()

    def go_to_start(self):
        """Move the controls to where they began."""
        self.go_to(**self._start)

    def _use_powder(self, kind):
        said = self.ratio.use_powder(kind), self.time.use_limits(EARLIEST_MIN, latest_min(kind), kind.standard_time_min)
        return " ".join(filter(None, said))

    def _follow(self, take):
        """Follow a slider that the reader moved."""
        if not self._moving:
            take()
            self.update()

    def _take(self, take):
        """Follow what was typed; the slider moves along without a second drawing."""
        self._keep_still(take)
        self.update()

    def _keep_still(self, move):
        """Run `move` without drawing for each control it touches."""
        self._moving, before = True, self._moving
        try:
            return move()
        finally:
            self._moving = before

    # What it says and stores ------------------------------------------------------------------------

    def picture_png(self):
        """Return before and after side by side as PNG bytes."""
        self.picture.stored = before_and_after(self.test.mix)
        return self.picture.static_png()
