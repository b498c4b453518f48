"""Ring tests side by side: each cylinder from the side and from above, labelled by its recipe, and the film of all of them."""

import numpy as np

from gypsumkit.figures.film import Film
from gypsumkit.figures.ring_motion_scene import CLOSE_MM, LONGEST_CUT_S, SLOWED_DOWN, TURN, WALL_MM, done_words
from gypsumkit.figures.scene import Line, Panel, Picture, Polygon, Scene, Table, Text
from gypsumkit.science import ring_motion
from gypsumkit.showing import bracketed, with_range, with_unit
from gypsumkit.studies.ring_row import label_of

WIDTH, HEIGHT = 190, 388
HALF_MM = 62.0                # what a picture shows to either side
LIMITS = (f"Limits: where each mix stops is predicted; how fast it gets there is not. The film is slowed down {SLOWED_DOWN} times. The flow constants "
          "are our calibration to practice, since no measured yield stress of dental plaster was found. A real hand never lifts all rings at "
          "once. For teaching only.")


def ring_row_scene(row, seconds=0.0):
    """Describe a row of ring tests at a moment.

    Parameters
    ----------
    row : gypsumkit.studies.ring_row.RingRow
        The tests.
    seconds : float
        s since the rings began to rise; of no account while they stand.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    return _scene(row, seconds, row_words(row), row_table(row))


def _scene(row, seconds, words, table):
    pictures = tuple(_picture(test, seconds) for test in row.tests)
    return Scene(pictures, words, table)


def ring_row_film(row):
    """Describe the motion of all tests since they were lifted or the vibrator last switched, until nothing moves.

    Parameters
    ----------
    row : RingRow
        Tests whose rings have been lifted.

    Returns
    -------
    Film
        With one scene only when nothing moves.
    """
    moments = moments_of_film(row)
    words, table = row_words(row), row_table(row)
    return Film(tuple(_scene(row, moment, words, table) for moment in moments),
                tuple(round(SLOWED_DOWN * (moment - moments[0]), 4) for moment in moments))


def moments_of_film(row):
    """Return the moments whose scenes make a film: the fewest that keep every cylinder close to its computed run.

    Parameters
    ----------
    row : RingRow
        Tests whose rings have been lifted.

    Returns
    -------
    list of float
        s since the rings began to rise.
    """
    seconds, ratios = row.courses()
    diameter, height = row.tests[0].mix.ring_mm
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


def row_words(row):
    """Say the row in words: what is in each ring, what was done, and where each goes.

    Parameters
    ----------
    row : RingRow
        The tests.

    Returns
    -------
    str
    """
    mix = row.tests[0].mix
    said = [f"{len(row.tests)} ring tests side by side, {mix.time_min:g} min after mixing began, rings of {mix.ring_mm[0]:.0f} x {mix.ring_mm[1]:.0f} mm."]
    if not row.lifted:
        return " ".join([*said, f"The rings are full; the vibrator is {'on' if row.vibrating else 'off'}. From left to right: "
                         + "; ".join(label_of(test.mix.recipe) for test in row.tests) + "."])
    said.append(f"The rings are up, the vibrator is {'on' if row.vibrating else 'off'}.")
    said += [f"{label_of(test.mix.recipe)}: to {with_unit(test.end_mm()[0], 'mm')}{bracketed(*test.end_mm()[1:])}." for test in row.tests]
    return " ".join(said)


def row_table(row):
    """Return where each test stops: still, on the vibrator, and as it goes on now.

    Parameters
    ----------
    row : RingRow
        The tests.

    Returns
    -------
    Table
    """
    rows = []
    for test in row.tests:
        value, low, high = test.end_mm()
        now = f"{with_unit(value, 'mm')}{bracketed(low, high)}" if test.lifted else f"{with_unit(value, 'mm')}, full ring"
        rows.append((label_of(test.mix.recipe), now, with_range(test.mix.spread_mm), with_range(test.mix.vibrated_spread_mm)))
    return Table(("mix", "this test, as it goes on now", "lifted, never shaken", "on the vibrator to the end"), tuple(rows), "Where they stop (plausible range)")


# ---------------------------------------------------------------- one cylinder


def _picture(test, seconds):
    diameter, height = test.mix.ring_mm
    across = 0.5 * diameter
    spread, raised = 1.0, 0.0
    if test.lifted:
        spread, raised = test.run.at(seconds).spread_ratio, float(ring_motion.raised_mm(seconds, height))
    r, h = ring_motion.outline(spread, raised / height)
    wide = across * spread
    x, y = across * np.append(-r[::-1], r), height * np.append(h[::-1], h)
    side = [Polygon(x, y, fill="pale orange", edge="vermillion", width=3)]
    for left in (-1, 1):
        inner, outer = left * across, left * (across + WALL_MM)
        side.append(Polygon([inner, outer, outer, inner], [raised, raised, raised + height, raised + height], fill="pale grey", edge="black"))
    zigzag = np.linspace(-20, 20, 17)
    side += [Line(zigzag, -8.5 + 2.0 * (-1.0) ** np.arange(17) if test.vibrating else np.full(17, np.nan), colour="black", width=2),
             Text(0, 124, f"{2 * wide:.0f}", bold=True, size=44), Text(0, 119, "mm", anchor="start", right=48, size=17.5)]
    powder, ratio = test.mix.powder.name, 100 * test.mix.recipe.water_powder_ratio
    circle = np.cos(TURN), np.sin(TURN)
    above = [Polygon(wide * circle[0], wide * circle[1], fill="pale orange", edge="vermillion", width=3)]
    above += [Polygon(size * circle[0], size * circle[1], fill=None, edge="black", width=2) for size in (across, across + WALL_MM)]
    above.append(Text(0, -HALF_MM, "wider than drawn" if wide > HALF_MM else "", height="bottom", size=17.5))
    plate = (Polygon([-HALF_MM, HALF_MM, HALF_MM, -HALF_MM], [0, 0, -4, -4], fill="pale sky", edge="dark grey", width=1.6),
             Text(-HALF_MM, 169, f"{ratio:.3g} mL", anchor="start", bold=True, size=24), Text(-HALF_MM, 150, powder, anchor="start", size=17.5 if len(powder) <= 16 else 16))
    panels = (Panel("side", (-HALF_MM, HALF_MM), (-14, 180), show_axes=False, equal_aspect=True, backdrop=plate, moving=tuple(side), height_share=194),
              Panel("above", (-HALF_MM, HALF_MM), (-HALF_MM, HALF_MM), show_axes=False, equal_aspect=True, moving=tuple(above), height_share=124))
    return Picture(f"{ratio:.3g} {powder}", panels, f"{ratio:.3g} mL of water per 100 g of {powder}. {done_words(test)}", width=WIDTH, height=HEIGHT)
