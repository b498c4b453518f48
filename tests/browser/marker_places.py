"""Where matplotlib itself puts the marker and the ticks of a picture; runs in the lesson's kernel."""

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from gypsumkit.figures.matplotlib_renderer import draw_picture
from gypsumkit.figures.scene import Marker


def places_by_matplotlib(scene):
    """Return for each picture where its round marker and its ticks are, in picture units from the left and the top.

    Parameters
    ----------
    scene : Scene
        What is on the screen.

    Returns
    -------
    list of dict
        ``marker`` (x, y), and ``x_ticks`` and ``y_ticks`` as lists of (value, place).
    """
    result = []
    for picture in scene.pictures:
        figure = Figure(figsize=(picture.width / 72, picture.height / 72), dpi=72)
        FigureCanvasAgg(figure)
        drawn = draw_picture(figure, picture, moving=True)
        figure.canvas.draw()
        for axes, panel in zip(drawn, picture.panels):
            markers = [mark for mark in panel.moving if isinstance(mark, Marker) and mark.shape == "circle"]
            if markers:
                x, y = axes.transData.transform((markers[0].x, markers[0].y))
                result.append({"marker": (float(x), float(picture.height - y)),
                               "x_ticks": _ticks(axes.xaxis, 0, picture.height),
                               "y_ticks": _ticks(axes.yaxis, 1, picture.height)})
    return result


def _ticks(axis, which, height):
    places = []
    for tick in axis.get_major_ticks():
        line = tick.tick1line
        pixel = float(line.get_transform().transform(line.get_xydata())[0][which])
        places.append((float(tick.get_loc()), pixel if which == 0 else height - pixel))
    return places
