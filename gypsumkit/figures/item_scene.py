"""What the marks say about a class and its questions: how the totals lie, how difficult each part was, how it goes with the rest."""

import numpy as np

from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.marking.item_statistics import LEAST_FOR_A_VERDICT, LOW_DISCRIMINATION, reliability_words
from gypsumkit.marking.report import STEP_PERCENT, distribution, poor_words

PICTURE_HEIGHT = 420
MOST_PARTS = 16                      # in one picture, so that their names can be read
COUNT_TOPS = (5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000)

LIMITS = (f"Limits: these figures describe this class on this paper. Below {LEAST_FOR_A_VERDICT} answers no question is judged. A part that goes badly with the "
          "rest may be a good question about something else.")


def item_scene(found, stand, paper):
    """Describe the class and the questions of an examination.

    Parameters
    ----------
    found : gypsumkit.marking.item_statistics.ItemAnalysis
    stand : sequence of gypsumkit.marking.grades.Standing
    paper : gypsumkit.marking.blueprint.Paper
        Its pass mark is drawn.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    pictures = (_totals(stand, paper), _difficulty(found), _with_the_rest(found))
    return Scene(pictures, f"{reliability_words(found.reliability)} {poor_words(found)}", _table(found))


def _table(found):
    if not found.items:
        return None
    rows = [(f"{item.part.words}, {item.part.task_id}", str(item.answers), f"{item.difficulty:.2f}", _said(item.discrimination), _said(item.correlation))
            for item in found.items]
    return Table(("Part", "answers", "difficulty", "discrimination", "with the rest"), tuple(rows), "The parts")


def _said(value):
    return f"{value:.2f}" if np.isfinite(value) else "cannot be said"


def _nothing(words):
    return (Text(0.5, 0.5, words, bold=True),)


def _totals(stand, paper):
    counts = distribution(stand)
    if not stand:
        panel = Panel("totals", (0, 1), (0, 1), title="Totals", show_axes=False, moving=_nothing("no marks yet"))
        return Picture("totals", (panel,), "How the totals lie: there are no marks yet.", height=PICTURE_HEIGHT)
    top = float(next((top for top in COUNT_TOPS if top >= 1.12 * max(counts)), 1.12 * max(counts)))
    moving = []
    for i, count in enumerate(counts):
        left, right = i * STEP_PERCENT + 1, (i + 1) * STEP_PERCENT - 1
        if count:
            moving += [Polygon([left, right, right, left], [0, 0, count, count], fill="pale blue", edge="blue", hatch="rising"),
                       Text((left + right) / 2, count, str(count), up=10, size=14)]
    least = 100 * paper.pass_mark / paper.marks
    moving.append(Rule(x=least, colour="vermillion", label="pass mark"))
    panel = Panel("totals", (0, 100), (0, top), title="How the totals lie", x_label="total (% of the marks)", y_label="candidates",
                  x_ticks=tuple(range(0, 101, 20)), moving=tuple(moving))
    tenths = ", ".join(f"{count} from {i * STEP_PERCENT} %" for i, count in enumerate(counts) if count)
    return Picture("totals", (panel,), f"Candidates in each tenth of the marks: {tenths}. The pass mark is {least:.0f} %.", height=PICTURE_HEIGHT)


def _shown(found):
    return found.items[:MOST_PARTS], (f" The first {MOST_PARTS} of {len(found.items)} parts are drawn." if len(found.items) > MOST_PARTS else "")


def _rows(items):
    """The parts from top to bottom, with their names as ticks."""
    places = [len(items) - i for i in range(len(items))]
    return places, tuple((place, item.part.words) for place, item in zip(places, items))


def _difficulty(found):
    items, more = _shown(found)
    if not items:
        panel = Panel("difficulty", (0, 1), (0, 1), title="Difficulty", show_axes=False, moving=_nothing("no answers yet"))
        return Picture("difficulty", (panel,), "Difficulty of the parts: there are no answers yet.", height=PICTURE_HEIGHT)
    places, ticks = _rows(items)
    moving = [Polygon([0, max(item.difficulty, 0.002), max(item.difficulty, 0.002), 0], [place - 0.32, place - 0.32, place + 0.32, place + 0.32], fill="pale blue",
                      edge="blue") for place, item in zip(places, items)]
    panel = Panel("difficulty", (0, 1), (0.4, len(items) + 0.6), title="Share of the marks given", x_label="difficulty (1: everybody had all)", y_label="part",
                  x_ticks=(0, 0.2, 0.4, 0.6, 0.8, 1), y_ticks=ticks, moving=tuple(moving))
    words = "Share of the marks given: " + ", ".join(f"{item.part.words} {item.difficulty:.2f}" for item in items) + "." + more
    return Picture("difficulty", (panel,), words, height=PICTURE_HEIGHT)


def _with_the_rest(found):
    items, more = _shown(found)
    if not any(np.isfinite(item.correlation) for item in items):
        panel = Panel("rest", (0, 1), (0, 1), title="Each part with the rest", show_axes=False, moving=_nothing("too few answers yet"))
        return Picture("rest", (panel,), "Too few answers to compare parts with the rest.", height=PICTURE_HEIGHT)
    places, ticks = _rows(items)
    moving = [Rule(x=LOW_DISCRIMINATION, colour="black", dash="dashed")]
    for place, item in zip(places, items):
        if not np.isfinite(item.correlation):
            continue
        if np.isfinite(item.correlation_low):
            moving.append(Line([item.correlation_low, item.correlation_high], [place, place], colour="dark grey", width=2))
        doubtful = bool(item.verdict)
        moving.append(Marker(item.correlation, place, "diamond" if doubtful else "circle", "vermillion" if doubtful else "blue", size=15 if doubtful else 11, hollow=doubtful))
    panel = Panel("rest", (-1, 1), (0.4, len(items) + 0.6), title="Each part with the rest", x_label="correlation; line: 95 % sure; dashed: 0.2", y_label="part",
                  x_ticks=(-1, -0.5, 0, 0.5, 1), y_ticks=ticks, moving=tuple(moving))
    words = "Correlation of each part with the rest: " + ", ".join(f"{item.part.words} {_said(item.correlation)}" for item in items) + "."
    doubtful = [item.part.words for item in items if item.verdict]
    words += f" Diamonds, to be looked at: {', '.join(doubtful)}." if doubtful else " No part is marked as doubtful."
    return Picture("rest", (panel,), words + more, height=PICTURE_HEIGHT)
