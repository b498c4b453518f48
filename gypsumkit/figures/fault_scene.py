"""A cast gone wrong: where its signs are seen, which causes are suspected, and which check tells them apart."""

import numpy as np

from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Polygon, Scene, Table, Text
from gypsumkit.remembering import remembered
from gypsumkit.showing import rounded
from gypsumkit.studies.fault_numbers import numbers_words
from gypsumkit.studies.faults import CAUSES, CHECKS, LEVELS, SIGNS, after, level, likelihood_words

PICTURE_HEIGHT = 470
BARS, BARS_OF_CHECKS = 6, 5
MOST_BITS = 1.6
LETTERS = ("A", "B", "C", "D", "E")

LIMITS = ("Limits: every likelihood here is ours, one of five levels ({}), and so is how common a cause is. Nothing was counted in any laboratory or "
          "clinic: trust the order, not the numbers. It is assumed that one main cause is at work, and that the signs of a cause come "
          "independently of one another. A cause that is not on the list is never found. The numbers of the model are those of its own lessons, "
          "with their limits. For teaching only: nothing here decides about a patient.").format(
              "; ".join(f"{words} {100 * share:.0f} in 100" for words, share in LEVELS.items()))


def fault_scene(reading, powder):
    """Describe a cast gone wrong.

    Parameters
    ----------
    reading : gypsumkit.studies.faults.Reading
        What was seen, and what follows.
    powder : str
        The powder whose numbers are shown beside the causes.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    return Scene((_cast_picture(reading), _suspects_picture(reading), _checks_picture(reading)), fault_words(reading, powder), _numbers(reading, powder))


# ---------------------------------------------------------------- words and numbers


def in_100(share):
    """Say a share as so many casts in a hundred, whole ones.

    Parameters
    ----------
    share : float
        0 to 1.

    Returns
    -------
    str
    """
    casts = 100 * share
    return "less than 1" if casts < 1 else rounded(casts, 2 if casts >= 10 else 1)


def _listed(names):
    return ", ".join(names) if names else "none"


def seen_words(reading):
    """Say what was seen, looked for and checked.

    Parameters
    ----------
    reading : Reading

    Returns
    -------
    str
    """
    said = f"Seen: {_listed(reading.seen)}."
    if reading.absent:
        said += f" Looked for, and not there: {_listed(reading.absent)}."
    for check, outcome in reading.checked:
        said += f" Checked: {check}; it showed: {outcome}."
    return said


def suspects_words(reading):
    """Say the first suspects with their shares.

    Parameters
    ----------
    reading : Reading

    Returns
    -------
    str
    """
    first = reading.suspects[:4]
    said = "; ".join(f"{one.cause} {in_100(one.share)} ({likelihood_words(one.share)})" for one in first)
    rest = 1.0 - sum(one.share for one in first)
    return f"Of 100 such casts, by our levels: {said}; the other {len(CAUSES) - len(first)} causes together {in_100(rest)}."


def check_words(reading):
    """Say which check splits the suspects best, and what each outcome would mean.

    Parameters
    ----------
    reading : Reading

    Returns
    -------
    str
    """
    best = reading.best_check
    check = CHECKS[best.check]
    said = [f"The check that splits the suspects best: {best.check}. {check.do}", check.caution,
            f"It should take {rounded(best.bits)} of {rounded(reading.doubt_bits)} bits of doubt away (one bit halves the suspects once)."]
    for outcome in check.outcomes:
        leads = after(reading, best.check, outcome).suspects[0]
        said.append(f"If it shows “{outcome}”: {leads.cause} leads with {in_100(leads.share)} in 100.")
    return " ".join(filter(None, said))


def fault_words(reading, powder):
    """Say a cast gone wrong in words: signs, suspects, the check, cautions.

    Parameters
    ----------
    reading : Reading
        What was seen, and what follows.
    powder : str
        The powder of the numbers in the table.

    Returns
    -------
    str
    """
    cautions = [CAUSES[one.cause].caution for one in reading.suspects[:3] if CAUSES[one.cause].caution]
    return " ".join([seen_words(reading), suspects_words(reading), check_words(reading), *(f"Take care: {one}" for one in cautions),
                     f"Numbers beside the causes are those of {powder} at its recommended ratio."])


def _numbers(reading, powder):
    rows = tuple((f"{one.cause}: {in_100(one.share)} in 100. {_why_suspected(one.cause, reading)}",
                  f"{CAUSES[one.cause].how} Avoid it: {CAUSES[one.cause].avoid} [{CAUSES[one.cause].standing}]", numbers_words(one.cause, powder))
                 for one in reading.suspects[:5])
    return Table(("cause", "how it does it", "what the model computes"), rows, "The first five suspects")


def _why_suspected(cause, reading):
    """How common the cause is, and how often it shows what was seen."""
    shown = [f"{sign}: {level(cause, sign)}" for sign in (*reading.seen, *reading.absent)]
    return f"{CAUSES[cause].common.capitalize()} cause" + "".join(f"; {one}" for one in shown)


# ---------------------------------------------------------------- the cast in section

_TOOTH = np.array([(-11, 0), (-11, 12), (-7, 20), (-2, 16), (2, 16), (7, 20), (11, 12), (11, 0)], dtype=float)
_TEETH = (22.0, 50.0, 78.0)
_FOOT = 34.0
_TIPS = tuple((middle + side, _FOOT + 20.0) for middle in _TEETH for side in (-7.0, 7.0))


def _tooth(middle, scale=1.0):
    return np.column_stack([middle + scale * _TOOTH[:, 0], _FOOT + scale * _TOOTH[:, 1]])


def _outline():
    return np.vstack([[(6, 8), (6, _FOOT)], *(_tooth(middle) for middle in _TEETH), [(94, _FOOT), (94, 8)]])


def _zigzag(x0, y0, x1, y1, teeth=7, width=1.4):
    along = np.linspace(0, 1, teeth)
    off = width * np.where(np.arange(teeth) % 2, 1.0, -1.0)
    off[[0, -1]] = 0.0
    length = np.hypot(x1 - x0, y1 - y0)
    return Line(x0 + along * (x1 - x0) - off * (y1 - y0) / length, y0 + along * (y1 - y0) + off * (x1 - x0) / length, colour="vermillion", width=3)


def _ball(x, y, radius):
    turn = np.linspace(0, 2 * np.pi, 17)
    return Polygon(x + radius * np.cos(turn), y + radius * np.sin(turn), fill="white", edge="vermillion", width=2.5)


def _patch(x, y, hatch="dots"):
    return Polygon(x, y, fill="pale orange", edge="vermillion", hatch=hatch, width=2)


def _skin(x, y):
    return Line(x, y, colour="vermillion", width=5, dash="dotted")


def _said(words):
    return Text(50, 26, words, size=14.5)


def _sign_marks(sign):
    """Marks that show a sign on the cast, and where its letter stands."""
    return {
        "chalky surface": lambda: ([_skin([6, 6], [10, _FOOT]), *(_skin(*_tooth(middle)[1:-1].T) for middle in _TEETH), _skin([94, 94], [10, _FOOT])], (2, 24)),
        "soft after an hour": lambda: ([_patch([30, 36, 70, 64], [8, 22, 22, 8], "rising"), Line([44, 47, 50, 53, 56], [22, 15, 12, 15, 22], colour="vermillion", width=4)], (26, 15)),
        "bubbles on the tooth side": lambda: ([_ball(a, b - 3.5, 2.6) for a, b in _TIPS], (50, 61)),
        "bubbles all through": lambda: ([_ball(a, b, r) for a, b, r in ((12, 14, 2), (20, 26, 1.6), (31, 17, 2.3), (40, 29, 1.5), (48, 12, 1.7), (55, 24, 2.2), (66, 15, 1.6),
                                                                       (72, 29, 2.1), (84, 20, 1.7), (90, 12, 2), (22, 42, 1.6), (52, 44, 1.8), (77, 41, 1.6))], (63, 28)),
        "does not set": lambda: ([_patch([6, 94, 94, 6], [8, 8, 16, 16], "level"), Line(np.linspace(6, 94, 23), 16 + 1.5 * np.sin(np.arange(23) * 1.6), colour="vermillion")], (2, 12)),
        "sets in the bowl": lambda: ([_patch([66, 70, 78, 86, 90, 86, 70], [82, 90, 93, 90, 82, 76, 76], "crossed")], (62, 92)),
        "too stiff to run in": lambda: ([_patch([68, 74, 72, 80, 78, 88, 86, 72], [80, 85, 92, 89, 96, 86, 77, 77], "crossed")], (62, 92)),
        "runs like water": lambda: ([_patch([67, 89, 86, 70], [82, 82, 76, 76], "level"), Line([92, 94, 94], [86, 82, 68], colour="vermillion", width=4)], (97, 74)),
        "water stands on the base": lambda: ([_patch([6, 94, 94, 6], [4.6, 4.6, 8, 8], "level")], (2, 6)),
        "distorted": lambda: ([Polygon([6, 6, 94, 94], [8, _FOOT, _FOOT + 9, 17], fill=None, edge="vermillion", dash="dashed", width=3), _said("dashed: bent")], (97, 40)),
        "breaks on removal": lambda: ([_zigzag(67, 35, 89, 35), Line([78, 78], [60, 66], colour="vermillion"), Marker(78, 66, "triangle")], (92, 40)),
        "die too large": lambda: ([Polygon(*_tooth(50.0, 0.8).T, fill=None, edge="vermillion", dash="dashed", width=3), _said("dashed: the real tooth")], (50, 61)),
        "die too small": lambda: ([Polygon(*_tooth(50.0, 1.2).T, fill=None, edge="vermillion", dash="dashed", width=3), _said("dashed: the real tooth")], (50, 65)),
        "rough against the impression": lambda: ([_zigzag(a, b, c, d, 9, 1.1) for tooth in map(_tooth, _TEETH) for (a, b), (c, d) in zip(tooth[1:-2], tooth[2:-1])], (36, 56)),
        "edges washed away": lambda: ([Line(m + np.linspace(-10.5, 10.5, 13), 50 - np.abs(np.linspace(-2, 2, 13)) ** 2.5, colour="vermillion", width=4) for m in _TEETH], (36, 58)),
        "layers": lambda: ([Line(np.linspace(6, 94, 12), level + 2 * np.sin(np.linspace(0, 5, 12)), colour="vermillion", width=3) for level in (18, 28)], (2, 24)),
        "lumps or streaks": lambda: ([_patch(a + np.array([0, 4, 8, 5, 1]), b + np.array([0, 3, 1, -3, -2]), "rising") for a, b in ((12, 24), (34, 14), (52, 28), (70, 16), (82, 27))], (47, 20)),
        "cracks while drying": lambda: ([_zigzag(6, 24, 34, 18), _zigzag(94, 28, 70, 14), _zigzag(50, 8, 52, 27)], (2, 28)),
    }[sign]()


@remembered(1)
def _backdrop():
    outline = _outline()
    bowl = Polygon([62, 66, 70, 86, 90, 94], [88, 78, 74, 74, 78, 88], fill=None)
    return (Polygon(*outline.T, fill="pale grey"), bowl, Polygon([66.5, 70, 86, 89.5, 90.5, 65.5], [78, 75, 75, 78, 81, 81], fill="pale grey", width=1),
            Text(78, 69.5, "bowl", size=14.5), Text(50, 1.5, "base", size=14.5), Text(6, 61, "tooth side", anchor="start", size=14.5))


def _cast_picture(reading):
    marks = []
    for place, (letter, sign) in enumerate(zip(LETTERS, reading.seen)):
        drawn, (x, y) = _sign_marks(sign)
        marks += [*drawn, Text(x, y, letter, bold=True, size=18), Text(0, 97 - 7 * place, f"{letter}: {sign}", anchor="start", bold=True)]
    for place, sign in enumerate(reading.absent):
        marks.append(Text(0, 97 - 7 * (len(reading.seen) + place), f"not there: {sign}", anchor="start"))
    panel = Panel("cast", (0, 100), (0, 100), title="Where it is seen", show_axes=False, backdrop=_backdrop(), moving=tuple(marks))
    return Picture("cast", (panel,), height=PICTURE_HEIGHT, words="A cast in section, base down, teeth up, and the bowl beside it, with the signs marked. "
                   + " ".join(f"{letter}, {sign}: {SIGNS[sign].look}." for letter, sign in zip(LETTERS, reading.seen)))


# ---------------------------------------------------------------- suspects and checks


def _bars(rows, longest, fill, edge, hatch):
    """Bars one under the other, each with its words above it."""
    marks = []
    for place, (words, value, bold) in enumerate(rows):
        y = 84 - place * 96 / len(rows)
        length = 100 * min(value / longest, 1.0)
        marks += [Text(0, y + 9, words, anchor="start", bold=bold, size=15),
                  Polygon([0, max(length, 0.3), max(length, 0.3), 0], [y - 1, y - 1, y + 5, y + 5], fill=fill, edge=edge, hatch=hatch if bold else "")]
    return tuple(marks)


def _suspects_picture(reading):
    rows = [(f"{one.cause}: {in_100(one.share)}, {likelihood_words(one.share)}", one.share, place == 0) for place, one in enumerate(reading.suspects[:BARS])]
    panel = Panel("suspects", (0, 100), (0, 100), title="Suspects, of 100 such casts", show_axes=False, moving=_bars(rows, 1.0, "pale blue", "blue", "rising"))
    return Picture("suspects", (panel,), height=PICTURE_HEIGHT, words=suspects_words(reading))


def _checks_picture(reading):
    rows = [(f"{one.check}: {rounded(one.bits)} bit", one.bits, place == 0) for place, one in enumerate(reading.checks[:BARS_OF_CHECKS])]
    panel = Panel("checks", (0, 100), (0, 100), title="Which check splits them best?", show_axes=False, moving=_bars(rows, MOST_BITS, "pale green", "green", "falling"))
    return Picture("checks", (panel,), height=PICTURE_HEIGHT, words=f"How many bits of doubt each check should take away, of {rounded(reading.doubt_bits)}. {check_words(reading)}")
