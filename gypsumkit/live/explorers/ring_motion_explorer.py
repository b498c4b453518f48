"""The ring test in motion: lift the ring, switch the vibrator on and off while the mix flows."""

import time

from gypsumkit.figures.ring_motion_scene import LIMITS, before_and_after, ring_film, ring_motion_scene
from gypsumkit.live.controls import powder_choice
from gypsumkit.live.explorers.ring_explorer import fit_powder_and_time, time_control
from gypsumkit.live.explorers.rings_in_motion import RingsInMotion
from gypsumkit.live.number_control import RatioControl
from gypsumkit.mix import Mix
from gypsumkit.studies.moving_ring import MovingRing
from gypsumkit.powders import find_powder
from gypsumkit.recipe import Recipe


class RingMotionExplorer(RingsInMotion):
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

    lift_said = "Lift the ring", "Raise the ring; the mix sinks and spreads"
    on_said = "Vibrator on", "Shake the plate, while the mix flows or after"
    again_said = "Again", "Fill a new ring with the same mix, vibrator off"

    def __init__(self, powder="model plaster", ratio=None, clock=time.monotonic, **rest):
        kind = find_powder(powder)
        self.powder, self.ratio, self.time_min = powder_choice(kind.name), RatioControl(kind, ratio), time_control("Minutes since mixing began", kind)
        super().__init__({"powder": self.powder, "ratio": self.ratio, "time_min": self.time_min}, LIMITS, clock, **rest)

    def mix(self):
        """Return the mix of the present settings, at its moment."""
        return Mix(Recipe(self.powder.value, self.ratio.value), self.time_min.value)

    def scene(self):
        """Return the scene of the test as it stands."""
        return ring_motion_scene(self.test, self.moment_s())

    def film(self):
        """Return the film of the test as it goes on."""
        return ring_film(self.test)

    def filled(self):
        """Return a full ring of the mix of the present settings."""
        return MovingRing(self.mix())

    def fit(self, name):
        """Fit ratio and time to a powder just chosen."""
        return fit_powder_and_time(self, name)

    def picture_png(self):
        """Return before and after side by side as PNG bytes."""
        self.picture.stored = before_and_after(self.test.mix)
        return self.picture.static_png()
