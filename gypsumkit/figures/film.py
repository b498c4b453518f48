"""A film: scenes one after the other, played by the page itself, without a word from Python while it runs.

Each mark that changes becomes one SVG shape with an `animate` element. Between two scenes its points move straight, so the
page shows as many pictures a second as the screen can, however busy the kernel is. At the end the film stands.
"""

from dataclasses import dataclass

import numpy as np

from gypsumkit.figures.colours import colour_code
from gypsumkit.figures.placing import places
from gypsumkit.figures.scene import Line, Polygon, Scene, Text
from gypsumkit.figures.svg_renderer import mark_svg, opening_tag, stroke
from gypsumkit.problems import Problem

# A film waits so long before it moves. Chromium leaves shapes at rest for good when their motion begins in the very frame in
# which they come to the page, before they were laid out.
BEGINS_S = 0.1


@dataclass(frozen=True, eq=False)
class Film:
    """Scenes of the same pictures, panels and marks, and when each is reached.

    Parameters
    ----------
    scenes : sequence of Scene
        From the first to the last; only points of lines and polygons and the strings of texts differ.
    seconds : sequence of float
        When each is reached on the screen, s, rising from 0.
    """

    scenes: tuple
    seconds: tuple

    def __post_init__(self):
        if len(self.scenes) != len(self.seconds) or not self.scenes or self.seconds[0] != 0 or np.any(np.diff(self.seconds) <= 0):
            raise Problem("a film has one moment for each scene, rising from 0")

    @property
    def last(self) -> Scene:
        """The scene at which it stands at the end."""
        return self.scenes[-1]

    @property
    def length_s(self):
        """How long it runs on the screen, s."""
        return float(self.seconds[-1])


def film_svg(film, number):
    """Return one picture of a film as SVG text; it begins when the page takes it in.

    Parameters
    ----------
    film : Film
        The film, longer than 0 s.
    number : int
        Which of its pictures.

    Returns
    -------
    str
        One ``<svg>`` element, named with the words of the last scene.
    """
    pictures = [scene.pictures[number] for scene in film.scenes]
    clock = _Clock(film)
    parts = [opening_tag(pictures[-1])]
    for place_number, place in enumerate(places(pictures[-1])):
        courses = list(zip(*(picture.panels[place_number].moving for picture in pictures), strict=True))
        box = f"{place.left:.2f} {place.top:.2f} {place.width:.2f} {place.height:.2f}"
        left, top, width, height = box.split()
        parts.append(f'<svg x="{left}" y="{top}" width="{width}" height="{height}" viewBox="{box}">')
        parts += [_course_svg(course, place, clock) for course in courses if not isinstance(course[0], Text)]
        parts.append("</svg>")
        parts += [_text_svg(course, place, clock) for course in courses if isinstance(course[0], Text)]
    parts.append("</svg>")
    return "".join(parts)


class _Clock:
    """Writes the `animate` elements of one film."""

    def __init__(self, film):
        self.shares = [round(second / film.length_s, 5) for second in film.seconds]
        self.length = f"{film.length_s:.3f}s"

    def between(self, values):
        """Run through values, one for each scene, straight from one to the next."""
        times = ";".join(f"{share:g}" for share in self.shares)
        return (f'<animate attributeName="points" begin="{BEGINS_S:g}s" dur="{self.length}" fill="freeze" calcMode="linear" '
                f'keyTimes="{times}" values="{";".join(values)}"/>')

    def visible(self, first, after):
        """Be seen from one scene on until another (which may lie beyond the last)."""
        values, times = (["visible"], [0]) if first == 0 else (["hidden", "visible"], [0, self.shares[first]])
        if after < len(self.shares):
            values.append("hidden")
            times.append(self.shares[after])
        if len(values) == 1:
            return ""
        return (f'<animate attributeName="visibility" begin="{BEGINS_S:g}s" dur="{self.length}" fill="freeze" calcMode="discrete" '
                f'keyTimes="{";".join(f"{time:g}" for time in times)}" values="{";".join(values)}"/>')


def _course_svg(course, place, clock):
    """One mark through all scenes."""
    mark = course[0]
    if isinstance(mark, (Line, Polygon)):
        points = [_points(each, place) for each in course]
        if any(each != points[0] for each in points):
            if isinstance(mark, Polygon):
                fill = colour_code(mark.fill) if mark.fill else "none"
                return (f'<polygon points="{points[0]}" fill="{fill}" {stroke(mark.edge, mark.width, mark.dash)}>'
                        f'{clock.between(points)}</polygon>')
            return (f'<polyline points="{points[0]}" fill="none" {stroke(mark.colour, mark.width, mark.dash)}>'
                    f'{clock.between(points)}</polyline>')
    return mark_svg(mark, place)


def _points(mark, place):
    across, down = place.across(mark.x), place.down(mark.y)
    if not np.isfinite(across + down).all():
        return ""
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in zip(across.tolist(), down.tolist()))


def _text_svg(course, place, clock):
    """Words that change: one text for each run of equal strings, seen in its time."""
    parts, first = [], 0
    while first < len(course):
        after = first + 1
        while after < len(course) and course[after].string == course[first].string:
            after += 1
        drawn, seen = mark_svg(course[first], place), clock.visible(first, after)
        if seen:
            hidden = ' visibility="hidden"' if first else ""
            drawn = drawn.replace("<text ", f"<text{hidden} ", 1).replace("</text>", f"{seen}</text>")
        parts.append(drawn)
        first = after
    return "".join(parts)
