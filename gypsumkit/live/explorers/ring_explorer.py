"""The ring explorer: one mix and five others, in three rings, at any moment, still or on the vibrator."""

from gypsumkit.figures.ring_scene import LIMITS, RINGS, ring_scene
from gypsumkit.live.controls import choice, powder_choice, tick_box
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl, RatioControl
from gypsumkit.mix import Mix, predict_setting
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.recipe import Recipe

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
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, powder="model plaster", ratio=None, **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "ring": choice("Ring", RINGS, next(iter(RINGS))),
            "time_min": time_control("Minutes since mixing began", kind),
            "vibrated": tick_box("on the vibrator"),
        }, LIMITS, **rest)

    def mix(self):
        """Return the mix of the present settings, in its ring at its moment."""
        return Mix(Recipe(self.powder.value, self.ratio.value), self.time_min.value, RINGS[self.ring.value].size_mm)

    def scene(self):
        """Return the scene of the present settings."""
        return ring_scene(self.mix(), self.vibrated.value, self.pins)

    def state(self):
        """Return the present mix and whether it stands on the vibrator, for a pin."""
        return self.mix(), self.vibrated.value

    def fit(self, name):
        """Fit ratio and time to a powder just chosen."""
        return fit_powder_and_time(self, name)


def time_control(words, kind):
    """Return the control of the minutes since mixing began.

    Parameters
    ----------
    words : str
        Its name on the page.
    kind : Powder
        Sets its end.
    """
    return NumberControl(words, kind.standard_time_min, EARLIEST_MIN, latest_min(kind), TIME_STEP_MIN, "min", "the time since mixing began",
                         "2 min", decimals=2)


def fit_powder_and_time(explorer, name):
    """Fit ratio and time of an explorer to a powder just chosen, and return a sentence when one had to move.

    Parameters
    ----------
    explorer : Explorer
        With the controls powder, ratio and time_min.
    name : str
        The control that was chosen from.
    """
    if name != "powder":
        return ""
    kind = POWDERS[explorer.powder.value]
    said = explorer.ratio.use_powder(kind), explorer.time_min.use_limits(EARLIEST_MIN, latest_min(kind), kind.standard_time_min)
    return " ".join(filter(None, said))


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
