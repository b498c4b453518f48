"""Three pictures that follow one slider, to be raced: a bare label, our explorer, the usual way.

The label has no picture, so it is the floor: slider to kernel and back. The usual way is `interact`
with the inline backend, which draws the explorer's own figure anew with matplotlib at the explorer's
size on the screen. Each shows itself in a box of the class ``contender-NAME``.
"""

import ipywidgets as widgets

from gypsumkit.figures.matplotlib_renderer import SCENE_GAP, draw_picture
from gypsumkit.figures.water_scene import water_scene
from gypsumkit.mix import Mix
from gypsumkit.recipe import Recipe

LAST = {}
SCREEN_WIDTH = 1440


def label(like):
    """Return a slider over a number in bold."""
    slider = _slider_like(like)
    number = widgets.HTML("<b>{:.3f}</b>".format(slider.value))

    def show(change):
        LAST["label"] = change["new"]
        number.value = "<b>{:.3f}</b>".format(change["new"])

    slider.observe(show, "value")
    return _named("label", slider, number)


def explorer(made):
    """Return an explorer with its slider marked for the race."""
    made.ratio_slider.observe(lambda change: LAST.update(explorer=change["new"]), "value")
    made.ratio_slider.add_class("watched-slider")
    made.add_class("contender-explorer")
    return made


def words_anew(made):
    """Return what the explorer's picture must say at the slider's value, computed anew."""
    scene = water_scene(Mix(Recipe(made.powder.value, made.ratio_slider.value, mixing=made.mixing.value)))
    return [picture.words for picture in scene.pictures] + [row[1] for row in scene.numbers.rows]


def usual(made):
    """Show `interact` with the inline backend, drawing the same figure from the same numbers."""
    import matplotlib.pyplot as plt

    def draw(ratio):
        scene = water_scene(Mix(Recipe(made.powder.value, ratio)))
        width = sum(picture.width for picture in scene.pictures) + SCENE_GAP * (len(scene.pictures) - 1)
        height = max(picture.height for picture in scene.pictures)
        figure = plt.figure(figsize=(width / 72, height / 72), dpi=72 * SCREEN_WIDTH / width)
        left = 0
        for picture in scene.pictures:
            draw_picture(figure, picture, moving=True, left=left)
            left += picture.width + SCENE_GAP
        plt.show()
        LAST["interact"] = ratio

    slider = _slider_like(made.ratio_slider)
    slider.add_class("watched-slider")
    shown = widgets.interact(draw, ratio=slider)
    shown.widget.add_class("contender-interact")


def _slider_like(like):
    return widgets.FloatSlider(value=like.value, min=like.min, max=like.max, step=like.step, description="ratio",
                               readout_format=".3f", layout=widgets.Layout(width="700px"))


def _named(name, slider, picture):
    slider.add_class("watched-slider")
    box = widgets.VBox([slider, picture])
    box.add_class("contender-" + name)
    return box
