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
        self.use_change(change, amount)

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
        self.change, self.unit = change, kind.unit or ""
        self.low, self.high, self.what = kind.low, kind.high, f"the amount for {change}"
        decimals = 0 if kind.step >= 1 else 1 if kind.step >= 0.1 else 3 if kind.step < 0.01 else 2
        self.example = f"{kind.usual:g} {self.unit}".strip()
        # The browser rounds a number to the steps and ends it knows, and sends it back: at no moment may the number lie off them.
        slider = self.slider
        slider.min, slider.max, slider.step = min(slider.min, kind.low), max(slider.max, kind.high), min(slider.step, kind.step)
        slider.value = kind.usual
        slider.min, slider.max, slider.step = kind.low, kind.high, kind.step
        slider.readout_format, slider.description = f".{decimals}f", kind.amount_name or "Amount"
        self.typed.placeholder, self.typed.value, self.value = self.example, "", kind.usual
        self.layout.display = "none" if kind.unit is None else None
        if amount is not None:
            self.set(amount)


class RecipeExplorer(Explorer):
    """An explorer of setting: when the powder changes, a ratio far from what the clock is made for moves as well."""

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
