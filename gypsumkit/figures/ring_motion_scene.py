"""The moving ring test: its picture at one moment, the film from one moment to rest, and before and after side by side."""

from dataclasses import replace

import numpy as np

from gypsumkit.figures.film import Film
from gypsumkit.figures.scene import Line, Panel, Picture, Polygon, Scene, Table, Text
from gypsumkit.studies.moving_ring import MovingRing
from gypsumkit.science import ring_motion
from gypsumkit.showing import bracketed, with_range, with_unit

SLOWED_DOWN = 4              # a second of the test takes so many on the screen
HALF_MM = 84.0               # what the pictures show to either side
PICTURE_HEIGHT = 450
WALL_MM = 2.5
LONGEST_CUT_S = 0.2          # on the screen, between two scenes of a film
CLOSE_MM = 0.08              # how far the film may be from the computed run between two scenes

LIMITS = (f"Limits: where the mix stops is predicted; how fast it gets there is not. The film is slowed down {SLOWED_DOWN} times and "
          "takes a ring raised in one second and a vibrator that needs half a second to come up: both are chosen. A real slump has "
          "inertia and follows your hand. No measured yield stress of dental plaster was found, so the flow constants are our "
          "calibration to practice. The outline holds the right volume; its shape is indicative. A real spread is never quite "
          "round. For teaching only.")

TURN = np.linspace(0.0, 2.0 * np.pi, 37)


# ---------------------------------------------------------------- one moment


def ring_motion_scene(test, seconds=0.0):
    """Describe a ring test at a moment.

    Parameters
    ----------
    test : gypsumkit.studies.moving_ring.MovingRing
        The test.
    seconds : float
        s since the ring began to rise; of no account while it stands.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    return _scene(test, seconds, picture_words(test), motion_words(test), numbers(test))


def _scene(test, seconds, said, words, table):
    pictures = (Picture("side", (_side(test, seconds),), said[0], height=PICTURE_HEIGHT),
                Picture("above", (_above(test, seconds),), said[1], height=PICTURE_HEIGHT))
    return Scene(pictures, words, table)


def before_and_after(mix):
    """Describe the full ring, the mix after the ring is lifted, and the mix after the vibrator, side by side.

    Parameters
    ----------
    mix : gypsumkit.mix.Mix
        What is in the ring.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    test, pictures = MovingRing(mix), []
    for title, do in (("Before", lambda: None), ("Ring lifted", test.lift), ("On the vibrator", lambda: test.switch(True, np.inf))):
        do()
        panels = (replace(_side(test, np.inf, title), height_share=431), replace(_above(test, np.inf, "", 64.0), height_share=311))
        pictures.append(Picture(title, panels, title, height=770))       # the shares give both panels one scale
    return Scene(tuple(pictures), motion_words(test), numbers(test))


# ---------------------------------------------------------------- the film


def ring_film(test):
    """Describe the motion of a test since it was lifted or the vibrator last switched, until nothing moves.

    Parameters
    ----------
    test : MovingRing
        A test whose ring has been lifted.

    Returns
    -------
    Film
        With one scene only when nothing moves.
    """
    said, words, table = picture_words(test), motion_words(test), numbers(test)
    return film_of(test, lambda moment: _scene(test, moment, said, words, table))


def film_of(test, scene):
    """Return the film of one ring test or of a row of them.

    Parameters
    ----------
    test : MovingRing or gypsumkit.studies.ring_row.RingRow
        Lifted.
    scene : callable
        Returns the scene at a moment, s since the ring began to rise.

    Returns
    -------
    Film
    """
    moments = moments_of_film(test)
    return Film(tuple(scene(moment) for moment in moments), tuple(round(SLOWED_DOWN * (moment - moments[0]), 4) for moment in moments))


def moments_of_film(test):
    """Return the moments whose scenes make a film: the fewest that keep every mix close to its computed run.

    Parameters
    ----------
    test : MovingRing or gypsumkit.studies.ring_row.RingRow
        Lifted.

    Returns
    -------
    list of float
        s since the ring began to rise.
    """
    (seconds, ratios), (diameter, height) = test.courses(), test.ring_mm
    courses = np.column_stack([0.5 * diameter * ratios, ring_motion.raised_mm(seconds, height)])
    moving = np.flatnonzero(np.abs(courses - courses[-1]).max(axis=1) > 0.02)
    if not len(moving):
        return [float(seconds[-1])]
    last = min(moving[-1] + 1, len(courses) - 1)
    longest = max(1, int(LONGEST_CUT_S / SLOWED_DOWN / (seconds[1] - seconds[0])))
    kept, open_cuts = {0, last}, [(0, last)]
    while open_cuts:
        first, after = open_cuts.pop()
        if after - first < 2:
            continue
        share = np.linspace(0.0, 1.0, after - first + 1)[:, np.newaxis]
        off = np.abs(courses[first] + share * (courses[after] - courses[first]) - courses[first:after + 1]).max(axis=1)
        if off.max() > CLOSE_MM or after - first > longest:
            middle = first + int(np.argmax(off)) if off.max() > CLOSE_MM else (first + after) // 2
            kept.add(middle)
            open_cuts += [(first, middle), (middle, after)]
    return [float(seconds[place]) for place in sorted(kept)]


# ---------------------------------------------------------------- words and numbers


def motion_words(test):
    """Say a test in words: what is in the ring, what was done, where the mix goes and how sure that is.

    Parameters
    ----------
    test : MovingRing
        The test.

    Returns
    -------
    str
    """
    mix = test.mix
    ratio, (diameter, height) = mix.recipe.water_powder_ratio, mix.ring_mm
    said = [f"{mix.recipe.powder[0].upper()}{mix.recipe.powder[1:]} with {100 * ratio:.3g} mL of water per 100 g (ratio {ratio:.3g}), "
            f"{mix.time_min:g} min after mixing began, in the ring of {diameter:.0f} x {height:.0f} mm.", done_words(test)]
    if not test.is_paste:
        said.append("This mix has lost its gloss: it is no longer a paste, and it stands.")
    if not mix.spread_mm.valid:
        said.append(f"{mix.spread_mm.reason[0].upper()}{mix.spread_mm.reason[1:]}.")
    return " ".join(said)


def done_words(test):
    """Say what was done to a test and where the mix goes, from where to where, with its range.

    Parameters
    ----------
    test : MovingRing
        The test.

    Returns
    -------
    str
    """
    vibrator = "on" if test.vibrating else "off"
    if not test.lifted:
        return f"The ring is full and stands on the plate; the vibrator is {vibrator}."
    value, low, high = test.end_mm()
    start = test.mix.ring_mm[0] * float(test.run.spread_ratio[0])
    first = "The ring is lifted" if test.run.seconds[0] == 0.0 else "The ring is up"
    begun = f"{first}, the vibrator is {vibrator}."
    if value - start < 0.1:
        why = " It does not draw back." if start > test.mix.ring_mm[0] + 0.1 else ""
        return f"{begun} The mix stays as it is, {with_unit(value, 'mm')} wide{bracketed(low, high)}.{why}"
    end = "where it still creeps" if test.creeps() else "where it stops"
    return (f"{begun} The mix spreads from {with_unit(start, 'mm')} to {with_unit(value, 'mm')}"
            f"{bracketed(low, high)}, {end}.")


def picture_words(test):
    """Say the two pictures in words.

    Parameters
    ----------
    test : MovingRing
        The test.

    Returns
    -------
    tuple of str
        From the side, from above.
    """
    return (f"The ring test cut through, from the side, slowed down {SLOWED_DOWN} times. {done_words(test)}",
            f"The ring test from above, slowed down {SLOWED_DOWN} times. {done_words(test)}")


def numbers(test):
    """Return the numbers of a test: spread still and on the vibrator, and where it stands or goes now.

    Parameters
    ----------
    test : MovingRing
        The test.

    Returns
    -------
    Table
    """
    mix = test.mix
    value, low, high = test.end_mm()
    this = f"{with_unit(value, 'mm')}{bracketed(low, high)}" if test.lifted else f"{with_unit(value, 'mm')}, the full ring"
    return Table(("in the end", "spread (plausible range)"), (
        ("this test, as it goes on now", this),
        ("lifted, never shaken", with_range(mix.spread_mm)),
        ("on the vibrator to the end", with_range(mix.vibrated_spread_mm))), "Where it stops")


# ---------------------------------------------------------------- from the side


def _state(test, seconds):
    """Spread ratio, and height of the ring's lower edge in mm, at a moment."""
    if not test.lifted:
        return 1.0, 0.0
    state = test.run.at(seconds)
    return state.spread_ratio, float(ring_motion.raised_mm(seconds, test.mix.ring_mm[1]))


def cut_marks(test, seconds):
    """Draw the mix and the ring's two walls, cut through, at a moment.

    Parameters
    ----------
    test : MovingRing
        The test.
    seconds : float
        s since the ring began to rise.

    Returns
    -------
    marks : list of gypsumkit.figures.scene.Polygon
        The mix, the left and the right wall.
    wide : float
        How far the mix reaches to either side, mm.
    """
    diameter, height = test.ring_mm
    across = 0.5 * diameter
    spread, raised = _state(test, seconds)
    r, h = ring_motion.outline(spread, raised / height)
    marks = [Polygon(across * np.append(-r[::-1], r), height * np.append(h[::-1], h), fill="pale orange", edge="vermillion", width=3)]
    for side in (-1, 1):
        inner, outer = side * across, side * (across + WALL_MM)
        marks.append(Polygon([inner, outer, outer, inner], [raised, raised, raised + height, raised + height], fill="pale grey", edge="black"))
    return marks, across * spread


def _side_backdrop(across, height):
    return (Polygon([-HALF_MM, HALF_MM, HALF_MM, -HALF_MM], [0, 0, -4, -4], fill="pale sky", edge="dark grey", width=1.5),
            Polygon([-across, across, across, -across], [0, 0, height, height], fill=None, edge="dark grey", dash="dashed", width=1.5))


def _side(test, seconds, title=f"From the side, {SLOWED_DOWN} times slower"):
    marks, wide = cut_marks(test, seconds)
    marks += [Line([-wide, wide], [-13, -13], colour="black", width=2), Line([-wide, -wide], [-10, -16], colour="black", width=2),
              Line([wide, wide], [-10, -16], colour="black", width=2),
              Text(0, -22, _width_words(2 * wide), bold=True, size=18)]
    on = test.vibrating
    for left in (-HALF_MM + 4, HALF_MM - 24):
        zigzag = np.linspace(left, left + 20, 9)
        marks.append(Line(zigzag, -7.5 + 1.8 * (-1.0) ** np.arange(9) if on else np.full(9, np.nan), colour="black", width=2))
    marks.append(Text(0, 131, f"vibrator {'on' if on else 'off'}", bold=on))
    return Panel("side", (-HALF_MM, HALF_MM), (-28, 139), title=title, show_axes=False, equal_aspect=True,
                 backdrop=_side_backdrop(0.5 * test.ring_mm[0], test.ring_mm[1]), moving=tuple(marks))


def _width_words(width_mm):
    text = f"{width_mm:.0f} mm"
    return text if width_mm < 2 * HALF_MM else f"{text}, wider than drawn"


# ---------------------------------------------------------------- from above


def above_marks(test, wide):
    """Draw the mix, which reaches so many mm to either side, and the ring from above.

    Parameters
    ----------
    test : MovingRing
        The test.
    wide : float
        As `cut_marks` returns it.

    Returns
    -------
    list of gypsumkit.figures.scene.Polygon
    """
    across, circle = 0.5 * test.ring_mm[0], (np.cos(TURN), np.sin(TURN))
    marks = [Polygon(wide * circle[0], wide * circle[1], fill="pale orange", edge="vermillion", width=3)]
    return marks + [Polygon(size * circle[0], size * circle[1], fill=None, edge="black", width=2) for size in (across, across + WALL_MM)]


def _above(test, seconds, title=f"From above, {SLOWED_DOWN} times slower", half_mm=HALF_MM):
    wide = 0.5 * test.ring_mm[0] * _state(test, seconds)[0]
    marks = above_marks(test, wide)
    marks += [Line([-wide, wide], [0, 0], colour="black", width=2), Line([0, 0], [-wide, wide], colour="black", width=2),
              Text(0, 5 - half_mm, _width_words(2 * wide), bold=True, size=18)]
    return Panel("above", (-HALF_MM, HALF_MM), (-half_mm, half_mm), title=title, show_axes=False, equal_aspect=True, moving=tuple(marks))
