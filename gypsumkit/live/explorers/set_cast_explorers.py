"""The explorers of the set cast: what wetting takes from its surface, and what its weight says while it dries."""

import numpy as np

from gypsumkit.figures.set_cast_scene import COOL_C, DRYING_LIMITS, ETCHING_LIMITS, TOP_C, drying_scene, etching_scene, time_words
from gypsumkit.live.controls import choice, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl, WideNumberControl
from gypsumkit.studies.set_cast import (COLDEST_C, LEAST_CM2, LEAST_L, LEAST_MIN, MOST_CM2, MOST_L, MOST_MIN, WARMEST_C, WETTINGS, Soak, dryness, usual)


class EtchingExplorer(Explorer):
    """How a set cast is wetted, for how long, with how much water, how warm, and on what surface.

    Parameters
    ----------
    wetting : str
        One of `gypsumkit.studies.set_cast.WETTINGS`.
    minutes, water_l, temperature_c, area_cm2 : float
        As for `Soak`.
    powder : str
        What the cast is made of; it stays.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    can_pin = False
    stage_begins_with = 0, None         # no one number of the table is that of now

    def __init__(self, wetting=WETTINGS[0], minutes=2.0, water_l=2.0, temperature_c=20.0, area_cm2=60.0, powder="dental stone", **rest):
        start = Soak(powder, wetting, minutes, water_l, temperature_c, area_cm2)
        self.powder_name = start.powder
        super().__init__({
            "wetting": choice("Wetted by", WETTINGS, start.wetting),
            "minutes": WideNumberControl("Time in the water (min)", start.minutes, LEAST_MIN, MOST_MIN, "min", "the time in the water", "30 s or 2 h", time_words),
            "water_l": NumberControl("Water (L a minute, or L in the bowl)", start.water_l, LEAST_L, MOST_L, 0.1, "L", "the water", "500 mL", decimals=1),
            "temperature_c": NumberControl("Water temperature (°C)", start.temperature_c, COLDEST_C, WARMEST_C, 1, "°C", "the temperature of the water", "20 °C"),
            "area_cm2": NumberControl("Wetted surface (cm²)", start.area_cm2, LEAST_CM2, MOST_CM2, 5, "cm²", "the wetted surface", "60 cm²"),
        }, ETCHING_LIMITS, **rest)

    def scene(self):
        """Return the scene of the present settings."""
        return etching_scene(Soak(self.powder_name, **self.settings()))


class DryingExplorer(Explorer):
    """Powder, the weight of the cast now, and the temperature of the air it dries in.

    Parameters
    ----------
    powder : str
        The powder at first, at its recommended ratio.
    weight_percent : float
        Weight, % of the wet cast.
    air_c : float
        Temperature of the air, °C.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    can_pin = False
    stage_begins_with = 1, None         # the strength; no one number of the table is that of now

    def __init__(self, powder="dental stone", weight_percent=100.0, air_c=25.0, **rest):
        mix = usual(powder)
        super().__init__({
            "powder": powder_choice(mix.powder),
            "weight_percent": NumberControl("Weight now (% of wet)", weight_percent, self._least(mix), 100.0, 0.1, "%", "the weight of the cast", "95 %", decimals=1),
            "air_c": NumberControl("Air (°C)", air_c, COOL_C, TOP_C, 1, "°C", "the temperature of the air", "40 °C"),
        }, DRYING_LIMITS, **rest)

    @staticmethod
    def _least(mix):
        """The least weight of a mix, in the steps of the slider, %."""
        return float(np.ceil(10 * dryness(mix, 100.0).least_percent) / 10)

    def fit(self, name):
        """Fit the weight to a powder just chosen."""
        return self.weight_percent.use_limits(self._least(usual(self.powder.value)), 100.0, 100.0) if name == "powder" else ""

    def scene(self):
        """Return the scene of the present settings."""
        return drying_scene(usual(self.powder.value), self.weight_percent.value, self.air_c.value)
