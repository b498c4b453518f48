"""The explorer of the two solubilities: why the mix sets, and why hardly in boiling water."""

from gypsumkit.figures.solubility_scene import COUNTED_AS, LIMITS, USUAL, solubility_scene
from gypsumkit.live.controls import choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.powders import ROOM_C


class SolubilityExplorer(Explorer):
    """A slider for the temperature, and a choice of how to count what is dissolved.

    Parameters
    ----------
    temperature_c : float
        °C at first.
    counted_as : str
        How the dissolved amount is counted at first.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    can_pin = False

    def __init__(self, temperature_c=ROOM_C, counted_as=USUAL, **rest):
        super().__init__({
            "temperature_c": NumberControl("Temperature (°C)", temperature_c, 0, 99, 1, "°C", "the temperature", "23 °C"),
            "counted_as": choice("Count it as", COUNTED_AS, counted_as),
        }, LIMITS, **rest)

    def scene(self):
        """Return the scene of the present settings."""
        return solubility_scene(self.temperature_c.value, self.counted_as.value)
