"""Three pictures that follow one slider, to be raced: a bare label, our explorer, the usual way.

The label has no picture, so it is the floor: slider to kernel and back. The usual way is `interact`
with the inline backend, which draws the explorer's own figure anew with matplotlib at the explorer's
size on the screen. Each shows itself in a box of the class ``contender-NAME``.
"""

import ipywidgets as widgets

from gypsumkit.figures.matplotlib_renderer import SCENE_GAP, draw_picture
from gypsumkit.figures.scene import Marker, still_part

LAST = {}
SCREEN_WIDTH = 1440


def slider_name(made):
    """Return the name of the control whose slider is raced: the water/powder ratio, or else the first number."""
    numbers = [name for name, control in made.controls.items() if hasattr(control, "typed")]
    return "ratio" if "ratio" in numbers else numbers[0]


def label(made):
    """Return a slider like the explorer's over a number in bold."""
    slider = _slider_like(made)
    number = widgets.HTML("<b>{:.3f}</b>".format(slider.value))

    def show(change):
        LAST["label"] = change["new"]
        number.value = "<b>{:.3f}</b>".format(change["new"])

    slider.observe(show, "value")
    return _named("label", slider, number)


def explorer(made):
    """Return an explorer with its slider marked for the race."""
    slider = _slider(made)
    slider.observe(lambda change: LAST.update(explorer=change["new"]), "value")
    slider.add_class("watched-slider")
    made.add_class("contender-explorer")
    return made


def words_anew(made):
    """Return what the explorer's picture must say at the slider's value, computed anew by another explorer of its kind."""
    other = _without_drawing(made)
    other.go_to(**{**made.settings(), slider_name(made): _slider(made).value})
    scene = other.scene()
    rows = scene.numbers.rows if scene.numbers else ()
    return [picture.words for picture in scene.pictures] + [row[1] for row in rows]


def marked_everywhere(made):
    """Tell whether each picture has a marker in vermillion, whose colour can be looked for in the frames."""
    return all(any(isinstance(mark, Marker) and mark.colour == "vermillion" for panel in picture.panels for mark in panel.moving)
               for picture in made.scene().pictures)


def page_follows_slider(made):
    """Tell whether the still page is another at another value of the slider, and so is replaced on purpose."""
    other, slider, pages = _without_drawing(made), _slider(made), set()
    for share in (0.1, 0.3, 0.5, 0.7, 0.9):
        other.go_to(**{slider_name(made): slider.min + share * (slider.max - slider.min)})
        pages.add(tuple(still_part(picture) for picture in other.scene().pictures))
    return len(pages) > 1


def usual(made):
    """Show `interact` with the inline backend, drawing the same figure from the same numbers."""
    import matplotlib.pyplot as plt
    other, name = _without_drawing(made), slider_name(made)

    def draw(value):
        other.go_to(**{name: value})
        scene = other.scene()
        width = sum(picture.width for picture in scene.pictures) + SCENE_GAP * (len(scene.pictures) - 1)
        height = max(picture.height for picture in scene.pictures)
        figure = plt.figure(figsize=(width / 72, height / 72), dpi=72 * SCREEN_WIDTH / width)
        left = 0
        for picture in scene.pictures:
            draw_picture(figure, picture, moving=True, left=left)
            left += picture.width + SCENE_GAP
        plt.show()
        LAST["interact"] = value

    slider = _slider_like(made)
    slider.add_class("watched-slider")
    shown = widgets.interact(draw, value=slider)
    shown.widget.add_class("contender-interact")


def _without_drawing(made):
    """Another explorer of this kind, whose picture stays as it is: only its scene is wanted."""
    other = type(made)()
    other.update = lambda: None
    return other


def _slider(made):
    return made.controls[slider_name(made)].slider


def _slider_like(made):
    like = _slider(made)
    return widgets.FloatSlider(value=like.value, min=like.min, max=like.max, step=like.step, description=slider_name(made),
                               readout_format=".3f", layout=widgets.Layout(width="700px"))


def _named(name, slider, picture):
    slider.add_class("watched-slider")
    box = widgets.VBox([slider, picture])
    box.add_class("contender-" + name)
    return box
