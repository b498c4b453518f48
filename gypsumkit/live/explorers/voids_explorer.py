"""The explorer of a poured portion: powder, way of mixing, depth and time on the vibrator."""

from gypsumkit.figures.voids_scene import DEPTHS_MM, LIMITS, LONGEST_S, usual_ratio, voids_scene
from gypsumkit.live.controls import choice, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.powders import find_powder
from gypsumkit.studies.voids import HABITS, find_habit


class VoidsExplorer(Explorer):
    """Powder (at its recommended water), way of mixing, depth of the portion, time on the vibrator.

    Parameters
    ----------
    powder, habit : str
        Powder and way of mixing at first.
    depth_mm, vibrated_s : float
        Depth of the portion and time on the vibrator at first.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, powder="model plaster", habit="powder into water, stropped", depth_mm=20.0, vibrated_s=0.0, **rest):
        super().__init__({
            "powder": powder_choice(find_powder(powder).name),
            "habit": choice("Mixing", HABITS, find_habit(habit)),
            "depth_mm": NumberControl("Depth of portion (mm)", depth_mm, *DEPTHS_MM, 1, "mm", "the depth of the portion", "5 mm"),
            "vibrated_s": NumberControl("Vibrated for (s)", vibrated_s, 0, LONGEST_S, 1, "s", "the time on the vibrator", "30 s"),
        }, LIMITS, **rest)

    def state(self):
        """Return the present settings, for the picture and for a pin."""
        return self.powder.value, usual_ratio(self.powder.value), self.habit.value, self.depth_mm.value, self.vibrated_s.value

    def scene(self):
        """Return the scene of the present settings."""
        return voids_scene(*self.state(), self.pins)
