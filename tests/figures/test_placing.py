"""Values lie where matplotlib draws them, and panels lie inside their picture without overlap."""

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from gypsumkit.figures.matplotlib_renderer import draw_picture
from gypsumkit.figures.placing import places
from gypsumkit.figures.scene import Panel, Picture
from tests.figures.demo_scene import demo_scene


@pytest.mark.parametrize("picture", demo_scene(0.6).pictures, ids=lambda picture: picture.name)
def test_a_value_lies_where_matplotlib_puts_it(picture):
    density = 2
    figure = Figure(figsize=(picture.width / 72, picture.height / 72), dpi=72 * density)
    FigureCanvasAgg(figure)
    for axes, place in zip(draw_picture(figure, picture, moving=False), places(picture)):
        values = np.column_stack([np.linspace(*place.x_range, 7), np.linspace(*place.y_range, 7)])
        pixels = axes.transData.transform(values)
        assert place.across(values[:, 0]) * density == pytest.approx(pixels[:, 0], abs=1e-6)
        assert place.down(values[:, 1]) * density == pytest.approx(picture.height * density - pixels[:, 1], abs=1e-6)


@pytest.mark.parametrize("picture", demo_scene(0.6).pictures, ids=lambda picture: picture.name)
def test_panels_lie_inside_their_picture_one_below_the_other(picture):
    below = 0
    for place in places(picture):
        assert place.left >= 0 and place.left + place.width <= picture.width
        assert place.top >= below
        below = place.top + place.height
        assert place.width > picture.width / 2 and place.height > 40
    assert below <= picture.height


def test_equal_aspect_widens_one_range_and_keeps_the_floor():
    panel = Panel("ring", x_range=(-40, 40), y_range=(0, 50), equal_aspect=True, show_axes=False)
    place, = places(Picture("p", (panel,), "", width=400, height=150))
    assert place.y_range[0] == 0 and place.y_range[1] >= 50
    assert sum(place.x_range) == pytest.approx(0)
    across = place.across(10) - place.across(0)
    up = place.down(0) - place.down(10)
    assert across == pytest.approx(up)


def test_the_height_share_divides_the_height():
    tall, short = (Panel(name, (0, 1), (0, 1), height_share=share, show_axes=False) for name, share in
                   (("tall", 3), ("short", 1)))
    first, second = places(Picture("p", (tall, short), ""))
    assert first.height == pytest.approx(3 * second.height, rel=0.05)
