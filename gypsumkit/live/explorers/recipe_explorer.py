"""What the explorers of setting share: one change with its amount, and a ratio within what the clock is made for."""

from gypsumkit.studies.changes import CHANGES, find_change
from gypsumkit.live.controls import choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.powders import POWDERS


class AmountControl(NumberControl):
    """The amount of a change: its name, unit and ends follow the change; hidden when there is nothing to set.

    Parameters
    ----------
    change : str
        A key of `gypsumkit.studies.changes.CHANGES`.
    amount : float, optional
        In the unit of the change; its usual amount when not given.
    """

    def __init__(self, change, amount=None):
        super().__init__("Amount", 0.0, 0.0, 1.0, 1.0, "", "the amount", "1")
        # Each change has a slider of its own: what a browser still says of the one before cannot become the amount of the next.
        self.sliders = {name: self._slider_of(kind) for name, kind in CHANGES.items()}
        self.use_change(change, amount)

    def _slider_of(self, kind):
        self.value, self.low, self.high = kind.usual, kind.low, kind.high
        decimals = 0 if kind.step >= 1 else 1 if kind.step >= 0.1 else 3 if kind.step < 0.01 else 2
        return self.make_slider(kind.step, readout_format=f".{decimals}f", continuous_update=True, description=kind.amount_name or "Amount",
                                style={"description_width": "initial"}, layout=self.slider.layout)

    def use_change(self, change, amount=None):
        """Take on a change, at its usual amount unless one is given.

        Parameters
        ----------
        change : str
            A key of `CHANGES`.
        amount : float, optional
            In the unit of the change.
        """
        kind = find_change(change)
        self.change, self.unit, self.slider = change, kind.unit or "", self.sliders[change]
        self.low, self.high, self.what = kind.low, kind.high, f"the amount for {change}"
        self.example = f"{kind.usual:g} {self.unit}".strip()
        self.value = self.slider.value = kind.usual
        self.typed.placeholder, self.typed.value = self.example, ""
        self.children = (self.slider, self.typed)
        self.layout.display = "none" if kind.unit is None else None
        if amount is not None:
            self.set(amount)


class RecipeExplorer(Explorer):
    """An explorer of setting: when the powder changes, a ratio far from what the clock is made for moves as well."""

    def _follow(self, name):
        super()._follow(name)
        for slider in getattr(self.controls[name], "sliders", {}).values():
            if slider is not self.controls[name].slider:
                slider.observe(self.guard(lambda: self.slid(name)), "value")

    def fit(self, name):
        """Fit the ratio to a powder, or the amount to a change, just chosen."""
        if name == "change":
            self.amount.use_change(self.change.value)
        if name != "powder":
            return ""
        kind = POWDERS[self.powder.value]
        before, (least, most) = self.ratio.value, kind.setting.trusted_ratio
        said = self.ratio.use_powder(kind)
        if said or least - 1e-9 <= before <= most + 1e-9:
            return said
        self.ratio.set(kind.recommended_ratio.value)
        return (f"{kind.name[0].upper()}{kind.name[1:]} is not mixed at {before:.3g}; the ratio was set to the recommended "
                f"{kind.recommended_ratio.value:.2f}.")


def change_choice(value):
    """Return the list of changes.

    Parameters
    ----------
    value : str
        The one chosen at first.
    """
    return choice("Change", CHANGES, value)
