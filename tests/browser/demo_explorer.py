"""An explorer of invented curves with every part that a real one has, for the tests of drawing."""

import ipywidgets as widgets

from gypsumkit.live.live_picture import LivePicture
from tests.figures.demo_scene import demo_scene


class DemoExplorer(widgets.VBox):
    """A slider, a choice and a live picture."""

    def __init__(self):
        self.ratio_slider = widgets.FloatSlider(value=0.5, min=0.3, max=0.8, step=0.001, description="ratio",
                                                readout_format=".3f", layout=widgets.Layout(width="min(700px, 98%)"))
        self.powder_choice = widgets.Dropdown(options=["plaster", "stone"], description="powder")
        self.picture = LivePicture(demo_scene(0.5))
        super().__init__([self.ratio_slider, self.powder_choice, self.picture])
        self.ratio_slider.observe(self.update, "value")
        self.powder_choice.observe(self.update, "value")

    def update(self, _=None):
        """Show what the controls say."""
        self.picture.show(demo_scene(self.ratio_slider.value, self.powder_choice.value))
