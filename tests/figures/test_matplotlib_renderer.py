"""The still page and the stored picture: opaque, complete, the same every time, without pyplot."""

import io
import subprocess
import sys

import matplotlib
import numpy as np
import pytest
from matplotlib.image import imread

from gypsumkit.figures.matplotlib_renderer import backdrop_png, static_png
from gypsumkit.figures.placing import places
from gypsumkit.figures.scene import (DASHES, HATCHES, SHAPES, Band, Line, Marker, Panel, Picture, Polygon, RightAxis,
                                     Rule, Scene, Span, Text)
from tests.figures.demo_scene import demo_scene


def pixels(png):
    return imread(io.BytesIO(png))


def test_the_same_scene_gives_the_same_bytes():
    assert static_png(demo_scene(0.52)) == static_png(demo_scene(0.52))
    assert static_png(demo_scene(0.52)) != static_png(demo_scene(0.521))


def test_the_page_has_two_pixels_a_unit_and_is_opaque_white():
    page = pixels(backdrop_png(demo_scene(0.5).pictures[0]))
    assert page.shape[:2] == (840, 840)
    assert page.shape[2] == 3 or (page[..., 3] == 1).all()
    assert (page[0, :, :3] == 1).all() and (page[-1, :, :3] == 1).all()


def test_the_page_does_not_depend_on_what_moves():
    assert backdrop_png(demo_scene(0.4).pictures[2]) == backdrop_png(demo_scene(0.7).pictures[2])


def test_the_readers_own_settings_change_nothing():
    usual = static_png(demo_scene(0.5))
    with matplotlib.rc_context({"font.family": ["serif"], "lines.scale_dashes": True, "axes.facecolor": "black",
                                "figure.facecolor": "black", "savefig.bbox": "tight", "text.color": "red",
                                "axes.labelcolor": "red", "xtick.labelcolor": "red", "ytick.color": "red",
                                "grid.color": "red", "axes.grid": True, "axes.linewidth": 4,
                                "lines.marker": "o", "xtick.direction": "in", "axes.spines.top": False}):
        assert static_png(demo_scene(0.5)) == usual


def test_nothing_written_reaches_the_edge_of_the_page():
    for picture in demo_scene(0.5).pictures:
        page = pixels(backdrop_png(picture))[..., :3]
        for border in (page[:, :4], page[:, -4:], page[:4], page[-4:]):
            assert (border == 1).all()


def test_every_kind_of_mark_and_every_look_is_drawn():
    marks = [Line([0, 5, 10], [1, 2, 3], dash=dash, label=dash) for dash in DASHES]
    marks += [Polygon([1, 4, 4], [1, 1, 4], hatch=hatch) for hatch in HATCHES]
    marks += [Marker(5, 5, shape=shape, hollow=hollow) for shape in SHAPES for hollow in (False, True)]
    marks += [Band([0, 10], [1, 2], [3, 4], hatch="rising"), Rule(x=3, label="x"), Rule(y=3, label="y"),
              Span(2, 4, hatch="dots", label="span"), Text(5, 5, "<b> $x$ & no formula", bold=True)]
    empty = Panel("p", (0, 10), (0, 10))
    blank = backdrop_png(Picture("none", (empty,), ""))
    for mark in marks:
        assert backdrop_png(Picture("one", (Panel("p", (0, 10), (0, 10), backdrop=(mark,)),), "")) != blank


def test_marks_without_a_place_are_left_out():
    nan = float("nan")
    marks = (Marker(nan, 5), Text(5, nan, "lost"), Rule(x=nan), Span(nan, 3), Polygon([0, nan, 1], [0, 1, 1]),
             Line([nan], [nan], label="lost"), Band([nan], [0], [1]))
    assert backdrop_png(Picture("one", (Panel("p", (0, 10), (0, 10), backdrop=marks),), "")) == \
        backdrop_png(Picture("one", (Panel("p", (0, 10), (0, 10)),), ""))


def test_the_right_axis_is_the_left_one_times_its_factor():
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure
    from gypsumkit.figures.matplotlib_renderer import draw_picture
    picture = Picture("one", (Panel("p", (0, 1), (0, 40), y_label="strength (MPa)",
                                    right_axis=RightAxis("relative (%)", 2.5)),), "")
    figure = Figure(figsize=(420 / 72, 420 / 72), dpi=72)
    FigureCanvasAgg(figure).draw()
    axes, = draw_picture(figure, picture, moving=False)
    figure.canvas.draw()
    right, = axes.child_axes
    assert right.get_ylim() == pytest.approx((0, 100))


def test_given_ticks_say_what_they_were_told_to_say():
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure
    from gypsumkit.figures.matplotlib_renderer import draw_picture
    picture = Picture("one", (Panel("p", (0, 1), (0, 1), x_ticks=(0.25, (0.5, "half")), y_ticks=()),), "")
    figure = Figure()
    FigureCanvasAgg(figure)
    axes, = draw_picture(figure, picture, moving=False)
    figure.canvas.draw()
    assert [label.get_text() for label in axes.get_xticklabels()] == ["0.25", "half"]
    assert len(axes.get_yticks()) == 0


def test_a_filled_rectangle_fills_exactly_its_place():
    picture = Picture("one", (Panel("p", (0, 10), (0, 10), show_axes=False, backdrop=(
        Polygon([2, 6, 6, 2], [3, 3, 8, 8], fill="orange"),)),), "")
    page, (place,) = pixels(backdrop_png(picture))[..., :3], places(picture)
    down, across = np.nonzero(np.abs(page - np.array([0xe6, 0x9f, 0x00]) / 255).max(axis=2) < 0.01)
    # The edge, two units wide, covers one unit of the fill on every side.
    assert across.min() / 2 == pytest.approx(place.across(2) + 1, abs=1)
    assert (across.max() + 1) / 2 == pytest.approx(place.across(6) - 1, abs=1)
    assert down.min() / 2 == pytest.approx(place.down(8) + 1, abs=1)
    assert (down.max() + 1) / 2 == pytest.approx(place.down(3) - 1, abs=1)


def test_pyplot_is_never_loaded():
    code = ("import sys; from gypsumkit.figures import matplotlib_renderer; from gypsumkit.live import live_picture; "
            "sys.exit('matplotlib.pyplot' in sys.modules)")
    assert subprocess.run([sys.executable, "-c", code], cwd=clone_root()).returncode == 0


def test_describing_a_scene_needs_no_drawing_library():
    code = ("import sys; from gypsumkit.figures import scene, placing, labels, hatching, svg_renderer; "
            "sys.exit('matplotlib' in sys.modules or 'ipywidgets' in sys.modules)")
    assert subprocess.run([sys.executable, "-c", code], cwd=clone_root()).returncode == 0


def clone_root():
    """Return the clone's root, from which a fresh interpreter finds the library."""
    from pathlib import Path
    return Path(__file__).parents[2]


def test_pictures_of_a_scene_stand_side_by_side():
    left, right = (Picture(name, (Panel("p", (0, 1), (0, 1), show_axes=False, backdrop=(
        Polygon([0.2, 0.8, 0.8, 0.2], [0.2, 0.2, 0.8, 0.8], fill=fill),)),), "") for name, fill in
        (("left", "orange"), ("right", "sky")))
    image = pixels(static_png(Scene((left, right)), density=1))[..., :3]
    assert image.shape[:2] == (420, 852)
    for start, code in ((0, (0xe6, 0x9f, 0x00)), (432, (0x56, 0xb4, 0xe9))):
        middle = image[210, start + 210]
        assert middle == pytest.approx(np.array(code) / 255, abs=0.01)
