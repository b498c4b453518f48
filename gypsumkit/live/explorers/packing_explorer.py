"""The explorer of packed grains: powder, water, and another handful."""

import ipywidgets as widgets

from gypsumkit.figures.packing_scene import LIMITS, packing_scene
from gypsumkit.live.controls import RatioControl, full_name, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.powders import POWDERS, find_powder

HANDFULS = (1, 2, 3)


class PackingExplorer(Explorer):
    """Powder, water and which handful; the grains cut through, and where the water goes.

    Parameters
    ----------
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold what `go_to` takes.
    """

    can_pin = False

    def __init__(self, powder="model plaster", ratio=None, **rest):
        kind = find_powder(powder)
        ratio = kind.recommended_ratio.value if ratio is None else ratio
        self._start = {"powder": kind.name, "ratio": ratio, "handful": HANDFULS[0]}
        self.powder = powder_choice(kind.name)
        self.ratio = RatioControl(kind, ratio)
        self.handful = widgets.Dropdown(options=[(f"number {one}", one) for one in HANDFULS], value=HANDFULS[0], description="Handful", **full_name())
        self._moving = False
        super().__init__([self.powder, self.ratio, self.handful], LIMITS, **rest)
        self.powder.observe(self.guard(self.powder_chosen), "value")
        self.ratio.slider.observe(self.guard(self.slider_moved), "value")
        self.ratio.typed.observe(self.guard(self.ratio_typed), "value")
        self.handful.observe(self.guard(self.update), "value")

    @property
    def ratio_slider(self):
        """The slider itself."""
        return self.ratio.slider

    def scene(self):
        """Return the scene of the present settings."""
        return packing_scene(self.powder.value, self.ratio.ratio, self.handful.value)

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

    def slider_moved(self):
        """Follow the slider."""
        if not self._moving:
            self.ratio.from_slider()
            self.update()

    def ratio_typed(self):
        """Follow what was typed."""
        self._keep_still(self.ratio.from_typing)
        self.update()

    def go_to(self, powder=None, ratio=None, handful=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder : str, optional
            Name of a powder.
        ratio : float, optional
            mL water per g powder.
        handful : int, optional
            1, 2 or 3.
        """
        def move():
            if powder is not None:
                self.powder.value = find_powder(powder).name
                self.ratio.use_powder(POWDERS[self.powder.value])
            if ratio is not None:
                self.ratio.set(ratio)
            if handful is not None:
                self.handful.value = handful
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
