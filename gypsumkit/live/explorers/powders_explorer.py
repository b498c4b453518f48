"""The explorer of three powders: one consistency, and what each powder needs, gives and costs."""

from gypsumkit.studies.comparison import INVENTED_PRICES, LEAST_SPREAD_MM, MOST_SPREAD_MM, THREE
from gypsumkit.figures.powders_scene import LIMITS, SHORT, powders_scene
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.problems import Problem
from gypsumkit.units import read_number

MOST_PRICE = 100.0


class PriceControl(NumberControl):
    """The price of 1 kg of a powder, in whatever money the reader counts; typed without a unit.

    Parameters
    ----------
    powder : str
        Name of the powder.
    price : float
        At first.
    """

    def __init__(self, powder, price):
        super().__init__(f"1 kg {SHORT[powder]} costs", price, 0, MOST_PRICE, 0.1, "", f"the price of {powder}", f"{price:g}", decimals=1)

    def read(self):
        """Return the price that was typed; refused when it is no number or carries a unit."""
        try:
            typed = read_number(self.typed.value)
        except Problem:
            typed = None
        if typed is None or typed.unit is not None:
            raise Problem(f"“{' '.join(self.typed.value.split())[:40]}” cannot be read as {self.what}; write only the number, like {self.example}.")
        return typed.number

    def checked(self, value):
        """Return the price once it lies between the ends, else raise a Problem that says them."""
        if not self.low <= value <= self.high:
            raise Problem(f"{self.what[0].upper()}{self.what[1:]} is given as {value:g} for 1 kg; this picture goes from {self.low:g} to "
                          f"{self.high:g}. For higher prices count all three in hundreds or in thousands.")
        return float(value)


class PowdersExplorer(Explorer):
    """A wanted spread on the vibrator, a volume to cast and three prices; three powders side by side.

    Parameters
    ----------
    spread_mm : float
        Wanted spread on the vibrator at first, mm.
    cast_ml : float
        Volume of the cast at first, mL.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, spread_mm=80.0, cast_ml=60.0, **rest):
        self.prices = {powder: PriceControl(powder, INVENTED_PRICES[powder]) for powder in THREE}
        super().__init__({
            "spread_mm": NumberControl("Vibrated spread (mm)", spread_mm, LEAST_SPREAD_MM, MOST_SPREAD_MM, 0.5, "mm", "the wanted spread",
                                       "85 mm", decimals=1),
            "cast_ml": NumberControl("Cast (mL)", cast_ml, 5, 300, 1, "mL", "the volume of the cast", "60 mL"),
            **{f"price_{place}": control for place, control in enumerate(self.prices.values(), 1)},
        }, LIMITS, **rest)

    def state(self):
        """Return the present settings, for the picture and for a pin."""
        return self.spread_mm.value, self.cast_ml.value, {powder: control.value for powder, control in self.prices.items()}

    def scene(self):
        """Return the scene of the present settings."""
        return powders_scene(*self.state(), self.pins)
