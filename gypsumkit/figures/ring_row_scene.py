"""Ring tests side by side: each cylinder from the side and from above, labelled by its recipe, and the film of all of them."""

import numpy as np

from gypsumkit.figures.ring_motion_scene import SLOWED_DOWN, above_marks, cut_marks, done_words, film_of
from gypsumkit.figures.scene import Line, Panel, Picture, Polygon, Scene, Table, Text
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
    words, table = row_words(row), row_table(row)
    return film_of(row, lambda moment: _scene(row, moment, words, table))


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
    side, wide = cut_marks(test, seconds)
    zigzag = np.linspace(-20, 20, 17)
    side += [Line(zigzag, -8.5 + 2.0 * (-1.0) ** np.arange(17) if test.vibrating else np.full(17, np.nan), colour="black", width=2),
             Text(0, 124, f"{2 * wide:.0f}", bold=True, size=44), Text(0, 119, "mm", anchor="start", right=48, size=17.5)]
    powder, ratio = test.mix.powder.name, 100 * test.mix.recipe.water_powder_ratio
    above = above_marks(test, wide)
    above.append(Text(0, -HALF_MM, "wider than drawn" if wide > HALF_MM else "", height="bottom", size=17.5))
    plate = (Polygon([-HALF_MM, HALF_MM, HALF_MM, -HALF_MM], [0, 0, -4, -4], fill="pale sky", edge="dark grey", width=1.6),
             Text(-HALF_MM, 169, f"{ratio:.3g} mL", anchor="start", bold=True, size=24), Text(-HALF_MM, 150, powder, anchor="start", size=17.5 if len(powder) <= 16 else 16))
    panels = (Panel("side", (-HALF_MM, HALF_MM), (-14, 180), show_axes=False, equal_aspect=True, backdrop=plate, moving=tuple(side), height_share=194),
              Panel("above", (-HALF_MM, HALF_MM), (-HALF_MM, HALF_MM), show_axes=False, equal_aspect=True, moving=tuple(above), height_share=124))
    return Picture(f"{ratio:.3g} {powder}", panels, f"{ratio:.3g} mL of water per 100 g of {powder}. {done_words(test)}", width=WIDTH, height=HEIGHT)
