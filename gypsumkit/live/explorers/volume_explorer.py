"""The explorer of volumes: where the water goes while a mix sets and dries."""

from gypsumkit.figures.volume_scene import LIMITS, Stage, volume_scene
from gypsumkit.live.controls import powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl, RatioControl
from gypsumkit.powders import find_powder


class VolumeExplorer(Explorer):
    """Powder, water, how much has set and how much has dried off, and what fills the mass.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    set_percent, dried_percent : float
        Powder that has set and free water that has dried off, %, at first.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, powder="model plaster", ratio=None, set_percent=100.0, dried_percent=0.0, **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "set_percent": NumberControl("Powder that has set (%)", set_percent, 0, 100, 1, "%", "the part that has set", "80 %"),
            "dried_percent": NumberControl("Free water dried off (%)", dried_percent, 0, 100, 1, "%", "the part that has dried off", "93 %"),
        }, LIMITS, **rest)

    def state(self):
        """Return the present stage, for the picture and for a pin."""
        return Stage(self.powder.value, self.ratio.value, self.set_percent.value / 100.0, self.dried_percent.value / 100.0)

    def scene(self):
        """Return the scene of the present settings."""
        return volume_scene(self.state(), self.pins)
