"""The ring explorer: one mix and five others, in three rings, at any moment, still or on the vibrator."""

import ipywidgets as widgets

from gypsumkit.figures.ring_scene import LIMITS, RINGS, ring_scene
from gypsumkit.live.controls import RatioControl, full_name, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.mix import Mix, predict_setting
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.problems import Problem, nearest
from gypsumkit.recipe import Recipe

STANDARD_RING = next(iter(RINGS))
EARLIEST_MIN = 1.0                # the time it takes to mix
LATEST_SHARE_OF_GLOSS = 0.85      # later the mix only stands
TIME_STEP_MIN = 0.25


class RingExplorer(Explorer):
    """Powder, water, ring, minutes since mixing began and vibrator; the ring test from the side and from above.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold what `go_to` takes.
    """

    def __init__(self, powder="model plaster", ratio=None, **rest):
        kind = find_powder(powder)
        ratio = kind.recommended_ratio.value if ratio is None else ratio
        self._start = {"powder": kind.name, "ratio": ratio, "ring": STANDARD_RING, "time_min": kind.standard_time_min, "vibrated": False}
        self.powder = powder_choice(kind.name)
        self.ratio = RatioControl(kind, ratio)
        self.ring = widgets.Dropdown(options=list(RINGS), value=STANDARD_RING, description="Ring", **full_name())
        self.time = NumberControl("Minutes since mixing began", kind.standard_time_min, EARLIEST_MIN, latest_min(kind), TIME_STEP_MIN,
                                  "min", "the time since mixing began", "2 min", decimals=2)
        self.vibrated = widgets.Checkbox(value=False, indent=False, description="on the vibrator", layout=widgets.Layout(width="auto"))
        self._moving = False
        super().__init__([self.powder, self.ratio, self.ring, self.time, self.vibrated], LIMITS, **rest)
        self.powder.observe(self.guard(self.powder_chosen), "value")
        self.ratio.slider.observe(self.guard(lambda: self._follow(self.ratio.from_slider)), "value")
        self.ratio.typed.observe(self.guard(lambda: self._take(self.ratio.from_typing)), "value")
        self.ring.observe(self.guard(self.update), "value")
        self.time.slider.observe(self.guard(lambda: self._follow(self.time.from_slider)), "value")
        self.time.typed.observe(self.guard(lambda: self._take(self.time.from_typing)), "value")
        self.vibrated.observe(self.guard(self.update), "value")

    @property
    def ratio_slider(self):
        """The slider of the water/powder ratio."""
        return self.ratio.slider

    def mix(self):
        """Return the mix of the present settings, in its ring at its moment."""
        return Mix(Recipe(self.powder.value, self.ratio.ratio), self.time.value, RINGS[self.ring.value].size_mm)

    def scene(self):
        """Return the scene of the present settings."""
        return ring_scene(self.mix(), self.vibrated.value, self.pins)

    def state(self):
        """Return the present mix and whether it stands on the vibrator, for a pin."""
        return self.mix(), self.vibrated.value

    def update(self):
        """Show the picture of the present settings, unless several are being moved at once."""
        if not self._moving:
            super().update()

    def powder_chosen(self):
        """Take on the chosen powder; say so when the ratio or the time had to move."""
        said = self._keep_still(lambda: self._use_powder(POWDERS[self.powder.value]))
        self.update()
        if said:
            self.show_message(said)

    def go_to(self, powder=None, ratio=None, ring=None, time_min=None, vibrated=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder : str, optional
            Name of a powder.
        ratio : float, optional
            mL water per g powder.
        ring : str, optional
            One of `gypsumkit.figures.ring_scene.RINGS`.
        time_min : float, optional
            min from the start of mixing.
        vibrated : bool, optional
            Whether the ring stands on the vibrator.

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
            if ring is not None:
                if ring not in RINGS:
                    guess = nearest(ring, RINGS)
                    raise Problem(f"There is no ring called '{ring}'; {f'did you mean {guess}?' if guess else 'there are: '} "
                                  f"{'; '.join(RINGS)}.")
                self.ring.value = ring
            if time_min is not None:
                self.time.set(time_min)
            if vibrated is not None:
                self.vibrated.value = vibrated
        self._keep_still(move)
        self.update()

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


def latest_min(kind):
    """Return the last moment of the slider for a powder.

    Parameters
    ----------
    kind : Powder
        The powder.

    Returns
    -------
    float
        min, a whole number of steps.
    """
    gloss_min = predict_setting(kind.name, kind.recommended_ratio.value)["gloss_loss_min"].value
    return int(LATEST_SHARE_OF_GLOSS * gloss_min / TIME_STEP_MIN) * TIME_STEP_MIN
