"""The moving picture: a live picture whose front layer can be a film that the page plays by itself.

The film is sent once, as SVG with its own clock. No JavaScript of ours runs, nothing is fetched, and it goes on while Python
is busy. Where the computer asks for no motion, the end is shown instead, with a sentence.
"""

from html import escape

from gypsumkit.figures.colours import in_room
from gypsumkit.figures.film import Film, film_svg
from gypsumkit.figures.matplotlib_renderer import static_png
from gypsumkit.figures.svg_renderer import overlay_svg
from gypsumkit.live.live_picture import LivePicture

STYLE = """<style>
.gypsumkit-instead { display: none; }
@media (prefers-reduced-motion: reduce) { .gypsumkit-moves { display: none; } .gypsumkit-instead { display: block; } }
</style>"""

INSTEAD = "Your computer asks for less motion, so the film is not played; the pictures show its end."


class MovingPicture(LivePicture):
    """A scene on the screen, or a film.

    Parameters
    ----------
    scene : Scene
        What is shown first.
    stored : Scene, optional
        What is stored as a still image in place of what is shown.
    """

    def __init__(self, scene, stored=None):
        self.stored = stored
        super().__init__(scene)

    def play(self, film):
        """Play a film from its beginning; at its end it stands.

        Parameters
        ----------
        film : Film
            A film of one scene is shown as a scene.
        """
        if film.length_s == 0.0:
            self.show(film.last)
            return
        with in_room(self._room):
            shown = Film(tuple(map(self._arranged, film.scenes)), film.seconds)
            self._show_pages(shown.last)
            self._front.value = film_html(shown, self._front_html(shown.last))
        self.scene = film.last

    def static_png(self):
        """Return the still image to be stored.

        Returns
        -------
        bytes
            A PNG image.
        """
        return static_png(self.scene if self.stored is None else self.stored)


def film_html(film, html):
    """Return the layer that moves: as for the last scene, with each picture played, and still where no motion is wanted.

    Parameters
    ----------
    film : Film
        Longer than 0 s.
    html : str
        The layer of the last scene.

    Returns
    -------
    str
        HTML, every string in it escaped.
    """
    for number, picture in enumerate(film.last.pictures):
        still = overlay_svg(picture)
        html = html.replace(still, f'<div><div class="gypsumkit-moves">{film_svg(film, number)}</div>'
                                   f'<div class="gypsumkit-instead">{still}</div></div>', 1)
    return f'{STYLE}{html}<p class="gypsumkit-instead">{escape(INSTEAD)}</p>'
