"""The explorer of a poured portion: powder, way of mixing, depth and time on the vibrator."""

import ipywidgets as widgets

from gypsumkit.figures.voids_scene import DEPTHS_MM, LIMITS, LONGEST_S, usual_ratio, voids_scene
from gypsumkit.live.controls import full_name, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.powders import find_powder
from gypsumkit.voids import HABITS, find_habit


class VoidsExplorer(Explorer):
    """Powder (at its recommended water), way of mixing, depth of the portion, time on the vibrator.

    Parameters
    ----------
    powder, habit : str
        Powder and way of mixing at first.
    depth_mm, vibrated_s : float
        Depth of the portion and time on the vibrator at first.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`; `asked` may hold what `go_to` takes.
    """

    def __init__(self, powder="model plaster", habit="powder into water, stropped", depth_mm=20.0, vibrated_s=0.0, **rest):
        self._start = {"powder": find_powder(powder).name, "habit": find_habit(habit), "depth_mm": depth_mm, "vibrated_s": vibrated_s}
        self.powder = powder_choice(self._start["powder"])
        self.habit = widgets.Dropdown(options=list(HABITS), value=self._start["habit"], description="Mixing", **full_name())
        self.depth = NumberControl("Portion deep (mm)", depth_mm, *DEPTHS_MM, 1, "mm", "the depth of the portion", "5 mm")
        self.time = NumberControl("Vibrated for (s)", vibrated_s, 0, LONGEST_S, 1, "s", "the time on the vibrator", "30 s")
        self._moving = False
        super().__init__([self.powder, self.habit, self.depth, self.time], LIMITS, **rest)
        self.powder.observe(self.guard(self.update), "value")
        self.habit.observe(self.guard(self.update), "value")
        for control in (self.depth, self.time):
            control.slider.observe(self.guard(lambda control=control: self.slider_moved(control)), "value")
            control.typed.observe(self.guard(lambda control=control: self.number_typed(control)), "value")

    def state(self):
        """Return the present settings, for the picture and for a pin."""
        return self.powder.value, usual_ratio(self.powder.value), self.habit.value, self.depth.value, self.time.value

    def scene(self):
        """Return the scene of the present settings."""
        return voids_scene(*self.state(), self.pins)

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

    def go_to(self, powder=None, habit=None, depth_mm=None, vibrated_s=None):
        """Move the controls to these settings; what is not given stays.

        Parameters
        ----------
        powder, habit : str, optional
            Names.
        depth_mm, vibrated_s : float, optional
            mm and s.
        """
        def move():
            if powder is not None:
                self.powder.value = find_powder(powder).name
            if habit is not None:
                self.habit.value = find_habit(habit)
            for control, value in ((self.depth, depth_mm), (self.time, vibrated_s)):
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
