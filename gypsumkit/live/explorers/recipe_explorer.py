"""What the explorers of setting share: powder, water, one change with its amount, and following all controls alike."""

import ipywidgets as widgets

from gypsumkit.changes import CHANGES, conditions_with, find_change
from gypsumkit.live.controls import RatioControl, full_name, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe


class AmountControl(NumberControl):
    """The amount of a change: its name, unit and ends follow the change; hidden when there is nothing to set.

    Parameters
    ----------
    change : str
        A key of `gypsumkit.changes.CHANGES`.
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
        with self.slider.hold_trait_notifications():
            self.slider.min, self.slider.max = min(self.slider.min, kind.low), max(self.slider.max, kind.high)
            self.slider.step, self.slider.readout_format = kind.step, f".{decimals}f"
            self.slider.description = kind.amount_name or "Amount"
            self.slider.value = kind.usual
        self.slider.min, self.slider.max = kind.low, kind.high
        self.typed.placeholder, self.typed.value, self.value = self.example, "", kind.usual
        self.layout.display = "none" if kind.unit is None else None
        if amount is not None:
            self.set(amount)


class RecipeExplorer(Explorer):
    """An explorer of a recipe: `controls` that are there are followed, whichever of slider, list or field the reader uses.

    Parameters
    ----------
    start : dict
        Settings at first, as `go_to` takes them.
    numbers : dict of str to NumberControl
        The number controls besides the ratio, by the name `go_to` knows them by.
    choices : dict of str to Dropdown
        The lists besides the powder, by the name `go_to` knows them by.
    order : sequence of str
        Names of all controls as they stand on the page: "powder", "ratio" and those above.
    limits : str
        What the model cannot say.
    **rest
        As for `Explorer`.
    """

    def __init__(self, start, numbers, choices, order, limits, **rest):
        kind = find_powder(start["powder"])
        ratio = kind.recommended_ratio.value if start.get("ratio") is None else start["ratio"]
        self._start = {**start, "powder": kind.name, "ratio": ratio}
        self.powder, self.ratio = powder_choice(kind.name), RatioControl(kind, ratio)
        self.numbers, self.choices = numbers, choices
        self._moving = False
        named = {"powder": self.powder, "ratio": self.ratio, **numbers, **choices}
        super().__init__([named[name] for name in order], limits, **rest)
        self.powder.observe(self.guard(self.powder_chosen), "value")
        for name, choice in choices.items():
            choice.observe(self.guard(self.change_chosen if name == "change" else self.update), "value")
        for control in (self.ratio, *numbers.values()):
            control.slider.observe(self.guard(lambda control=control: self._follow(control.from_slider)), "value")
            control.typed.observe(self.guard(lambda control=control: self._take(control.from_typing)), "value")

    @property
    def ratio_slider(self):
        """The slider of the water/powder ratio."""
        return self.ratio.slider

    def recipe(self, **conditions):
        """Return the recipe of the present settings, with a change if there is a control for one.

        Parameters
        ----------
        **conditions
            Further conditions of `Recipe`.
        """
        changed = conditions_with(self.choices["change"].value, self.numbers["amount"].value) if "amount" in self.numbers else {}
        return Recipe(self.powder.value, self.ratio.ratio, **changed, **conditions)

    def update(self):
        """Show the picture of the present settings, unless several are being moved at once."""
        if not self._moving:
            super().update()

    def powder_chosen(self):
        """Take on the chosen powder; say so when the ratio had to move."""
        if self._moving:
            return
        said = self._keep_still(self._use_powder)
        self.update()
        if said:
            self.show_message(said)

    def change_chosen(self):
        """Take on the chosen change, with its usual amount."""
        if self._moving:
            return
        if "amount" in self.numbers:
            self._keep_still(lambda: self.numbers["amount"].use_change(self.choices["change"].value))
        self.update()

    def go_to(self, powder=None, ratio=None, **settings):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder : str, optional
            Name of a powder.
        ratio : float, optional
            mL water per g powder.
        **settings
            The other controls, by name; a change without an amount takes its usual one.

        Raises
        ------
        Problem
            When one of them is unknown or out of range.
        """
        unknown = sorted(set(settings) - set(self.numbers) - set(self.choices))
        if unknown:
            raise Problem(f"This explorer has no setting called '{unknown[0]}'; it has powder, ratio, "
                          f"{', '.join([*self.choices, *self.numbers])}.")

        def move():
            if powder is not None:
                self.powder.value = find_powder(powder).name
                self._use_powder()
            if ratio is not None:
                self.ratio.set(ratio)
            for name, value in settings.items():
                if name in self.choices:
                    self._choose(name, value)
            for name, value in settings.items():
                if name in self.numbers and value is not None:
                    self.numbers[name].set(value)
        self._keep_still(move)
        self.update()

    def _use_powder(self):
        """Fit the ratio to the powder; return a sentence when it had to move. A ratio far from what the clock is made for moves too."""
        kind = POWDERS[self.powder.value]
        before, (least, most) = self.ratio.ratio, kind.setting.trusted_ratio
        said = self.ratio.use_powder(kind)
        if said or least - 1e-9 <= before <= most + 1e-9:
            return said
        self.ratio.set(kind.recommended_ratio.value)
        return (f"{kind.name[0].upper()}{kind.name[1:]} is not mixed at {before:.3g}; the ratio was set to the recommended "
                f"{kind.recommended_ratio.value:.2f}.")

    def _choose(self, name, value):
        choice = self.choices[name]
        if value not in choice.options:
            raise Problem(f"'{value}' is not among the choices of '{choice.description}': {', '.join(choice.options)}.")
        choice.value = value
        if name == "change" and "amount" in self.numbers:
            self.numbers["amount"].use_change(value)

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
        if not self._moving:
            self._keep_still(take)
            self.update()

    def _keep_still(self, move):
        """Run `move` without drawing for each control it touches."""
        self._moving, before = True, self._moving
        try:
            return move()
        finally:
            self._moving = before


def change_choice(value):
    """Return the list of changes.

    Parameters
    ----------
    value : str
        The one chosen at first.
    """
    return widgets.Dropdown(options=list(CHANGES), value=value, description="Change", **full_name())
