"""The explorer of three powders: one consistency, and what each powder needs, gives and costs."""

from gypsumkit.comparison import INVENTED_PRICES, LEAST_SPREAD_MM, MOST_SPREAD_MM, THREE
from gypsumkit.figures.powders_scene import LIMITS, powders_scene
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl

MOST_PRICE = 100.0


class PowdersExplorer(Explorer):
    """A wanted spread on the vibrator, a volume to cast and three prices; three powders side by side.

    Parameters
    ----------
    spread_mm : float
        Wanted spread on the vibrator at first, mm.
    cast_ml : float
        Volume of the cast at first, mL.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold what `go_to` takes.
    """

    def __init__(self, spread_mm=80.0, cast_ml=60.0, **rest):
        self.spread = NumberControl("Spread on the vibrator (mm)", spread_mm, LEAST_SPREAD_MM, MOST_SPREAD_MM, 0.5, "mm", "the wanted spread",
                                    "85 mm", decimals=1)
        self.cast = NumberControl("Cast (mL)", cast_ml, 5, 300, 1, "mL", "the volume of the cast", "60 mL")
        self.prices = {powder: NumberControl(f"1 kg of {powder} costs", INVENTED_PRICES[powder], 0, MOST_PRICE, 0.1, "",
                                             f"the price of {powder}", f"{INVENTED_PRICES[powder]:g}", decimals=1) for powder in THREE}
        self._start = {"spread_mm": spread_mm, "cast_ml": cast_ml, "prices": dict(INVENTED_PRICES)}
        self._moving = False
        super().__init__([self.spread, self.cast, *self.prices.values()], LIMITS, **rest)
        for control in self.controls:
            control.slider.observe(self.guard(lambda control=control: self.slider_moved(control)), "value")
            control.typed.observe(self.guard(lambda control=control: self.number_typed(control)), "value")

    def state(self):
        """Return the present settings, for the picture and for a pin."""
        return self.spread.value, self.cast.value, {powder: control.value for powder, control in self.prices.items()}

    def scene(self):
        """Return the scene of the present settings."""
        return powders_scene(*self.state(), self.pins)

    def update(self):
        """Show the picture of the present settings, unless several are being moved at once."""
        if not self._moving:
            super().update()

    def slider_moved(self, control):
        """Follow one of the sliders."""
        if not self._moving:
            control.from_slider()
            self.update()

    def number_typed(self, control):
        """Follow what was typed beside one of the sliders."""
        self._keep_still(control.from_typing)
        self.update()

    def go_to(self, spread_mm=None, cast_ml=None, prices=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        spread_mm, cast_ml : float, optional
            mm on the vibrator, and mL.
        prices : dict of str to float, optional
            Money per kg.
        """
        def move():
            for control, value in ((self.spread, spread_mm), (self.cast, cast_ml), *((self.prices[name], price) for name, price in (prices or {}).items())):
                if value is not None:
                    control.set(value)
        self._keep_still(move)
        self.update()

    def go_to_start(self):
        """Move the controls to where they began."""
        self.go_to(**self._start)

    def _keep_still(self, move):
        """Run `move` without drawing for each control it touches."""
        self._moving, before = True, self._moving
        try:
            return move()
        finally:
            self._moving = before
