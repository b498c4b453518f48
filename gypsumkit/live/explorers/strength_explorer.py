"""The strength explorer: one line for all powders, and the search for a ratio that pours and carries."""

import ipywidgets as widgets

from gypsumkit.figures.strength_scene import LIMITS, strength_scene
from gypsumkit.live.controls import RatioControl, full_name, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.recipe import Recipe

WET, DRY = "wet, 1 h", "dry"
LEAST_WANTED_MPA, MOST_WANTED_MPA, WANTED_STEP_MPA = 2.0, 100.0, 0.5


class StrengthExplorer(Explorer):
    """Powder, water, wanted strength, wet or dry, and data from outside; strength against porosity and the compromise.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    wanted_mpa : float
        The wanted strength at first, MPa.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold what `go_to` takes.
    """

    def __init__(self, powder="model plaster", ratio=None, wanted_mpa=10.0, **rest):
        kind = find_powder(powder)
        ratio = kind.recommended_ratio.value if ratio is None else ratio
        self._start = {"powder": kind.name, "ratio": ratio, "wanted_mpa": wanted_mpa, "dried": False, "industrial": False}
        self.powder = powder_choice(kind.name)
        self.ratio = RatioControl(kind, ratio)
        self.wanted = NumberControl("Wanted strength (MPa)", wanted_mpa, LEAST_WANTED_MPA, MOST_WANTED_MPA, WANTED_STEP_MPA, "MPa",
                                    "the wanted strength", "12 MPa", decimals=1)
        self.state_of = widgets.Dropdown(options=[WET, DRY], value=WET, description="Tested", **full_name())
        self.industrial = widgets.Checkbox(value=False, indent=False, description="show dry industrial plasters", layout=widgets.Layout(width="auto"))
        self._moving = False
        super().__init__([self.powder, self.ratio, self.wanted, self.state_of, self.industrial], LIMITS, **rest)
        self.powder.observe(self.guard(self.powder_chosen), "value")
        for control in (self.ratio, self.wanted):
            control.slider.observe(self.guard(lambda control=control: self._follow(control.from_slider)), "value")
            control.typed.observe(self.guard(lambda control=control: self._take(control.from_typing)), "value")
        self.state_of.observe(self.guard(self.update), "value")
        self.industrial.observe(self.guard(self.update), "value")

    @property
    def ratio_slider(self):
        """The slider of the water/powder ratio."""
        return self.ratio.slider

    def mix(self):
        """Return the mix of the present settings."""
        return Mix(Recipe(self.powder.value, self.ratio.ratio))

    def scene(self):
        """Return the scene of the present settings."""
        return strength_scene(self.mix(), self.wanted.value, self.state_of.value == DRY, self.industrial.value, self.pins)

    def state(self):
        """Return the present mix, for a pin."""
        return self.mix()

    def update(self):
        """Show the picture of the present settings, unless several are being moved at once."""
        if not self._moving:
            super().update()

    def powder_chosen(self):
        """Take on the chosen powder; say so when the ratio had to move."""
        said = self._keep_still(lambda: self.ratio.use_powder(POWDERS[self.powder.value]))
        self.update()
        if said:
            self.show_message(said)

    def go_to(self, powder=None, ratio=None, wanted_mpa=None, dried=None, industrial=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder : str, optional
            Name of a powder.
        ratio : float, optional
            mL water per g powder.
        wanted_mpa : float, optional
            MPa, 2 to 100.
        dried : bool, optional
            Tested dry.
        industrial : bool, optional
            Show the dry industrial plasters.

        Raises
        ------
        Problem
            When one of them is unknown or out of range.
        """
        def move():
            if powder is not None:
                self.powder.value = find_powder(powder).name
                self.ratio.use_powder(POWDERS[self.powder.value])
            if ratio is not None:
                self.ratio.set(ratio)
            if wanted_mpa is not None:
                self.wanted.set(wanted_mpa)
            if dried is not None:
                self.state_of.value = DRY if dried else WET
            if industrial is not None:
                self.industrial.value = industrial
        self._keep_still(move)
        self.update()

    def go_to_start(self):
        """Move the controls to where they began."""
        self.go_to(**self._start)

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
