"""A choice judged for a case: four gauges, each with what is wanted, what is predicted and how sure it is."""

import numpy as np

from gypsumkit.bench.case_judging import MAY_MISS, MEETS, MISSES, POURS, judge
from gypsumkit.bench.cases import MACHINE_USE, WASTE, hours
from gypsumkit.figures.mix_words import PIN_NAMES
from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Polygon, Scene, Table, Text
from gypsumkit.remembering import remembered
from gypsumkit.showing import rounded

PICTURE_HEIGHT = 470
TOPS = {"MPa": (20.0, 50.0, 100.0, 150.0, 300.0), "µm": (50.0, 100.0, 150.0, 200.0, 400.0, 1000.0), "money": (0.1, 0.2, 0.5, 1.0, 1.5, 2.0, 5.0, 10.0)}
FIRST_MIN, LAST_MIN = 1.0, 20000.0
TIME_TICKS = ((1.0, "1 min"), (10.0, "10 min"), (60.0, "1 h"), (360.0, "6 h"), (1440.0, "1 d"), (10080.0, "7 d"))
SIGNS = {MEETS: ("circle", False), MAY_MISS: ("diamond", True), MISSES: ("cross", False)}
HALF = 0.26

LIMITS = ("Limits: the laboratory, the cases, their wishes and all prices are invented. Growth ends here at 2 h; a real cast grows on for days. Too few "
          "turns leave lumps and many hands leave more air: the model does not know yours. Waste, drying and the price of the machine are ours. "
          "Hardness, wear and fine detail are not judged. “Meets” means the computed range lies inside the wish, no more. For teaching only.")


def case_scene(case, choice, pins=()):
    """Describe how a choice does in a case.

    Parameters
    ----------
    case : gypsumkit.bench.cases.Case
        What is wanted.
    choice : gypsumkit.bench.cases.Choice
        What is taken.
    pins : sequence of Choice
        Up to three earlier choices, judged for the same case.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    now, kept = judged(case, choice), tuple(judged(case, pin) for pin in tuple(pins)[:len(PIN_NAMES)])
    pictures = (_use_picture(now, kept), _work_picture(now, kept))
    return Scene(pictures, case_words(now, kept), _numbers(now, kept))


@remembered(64)
def judged(case, choice):
    """Judge a choice with the invented prices; kept, since a pin is judged again with every step.

    Parameters
    ----------
    case : gypsumkit.bench.cases.Case
    choice : gypsumkit.bench.cases.Choice

    Returns
    -------
    gypsumkit.bench.case_judging.Judgement
    """
    return judge(case, choice)


def case_words(now, kept=()):
    """Say a judgement in words: the case, the choice, the whole, then what is not met and why, and what the water would change.

    Parameters
    ----------
    now : Judgement
        The present choice.
    kept : sequence of Judgement
        Pinned ones.

    Returns
    -------
    str
    """
    case, words = now.case, now.choice.words()
    said = [f"{case.name[0].upper()}{case.name[1:]}: {case.story}", f"Chosen: {words}.", now.overall()]
    for verdict, begin in ((MISSES, "Missed"), (MAY_MISS, "Not sure")):
        found = [check.sentence() for check in now.checks if check.verdict == verdict]
        if found:
            said.append(f"{begin}: {'; '.join(found)}.")
    said += [*now.notes, *now.trades]
    said += [f"Pinned {name}: {one.choice.words()}; {verdict_words(one)}." for name, one in zip(PIN_NAMES, kept)]
    return " ".join(said)


def verdict_words(judgement):
    """Say the four verdicts in a few words.

    Parameters
    ----------
    judgement : Judgement

    Returns
    -------
    str
    """
    return ", ".join(f"{aspect} {judgement.verdict(aspect)}" for aspect in ("strength", "accuracy", "time", "cost"))


def _numbers(now, kept):
    rows = []
    for place, check in enumerate(now.checks):
        rows.append((f"{check.aspect}: {check.words}", check.number(), check.wanted(), check.verdict,
                     *(f"{one.checks[place].number()}, {one.checks[place].verdict}" for one in kept)))
    heads = ("", "now, with plausible range", "wanted", "verdict", *(f"pinned {name}" for name in PIN_NAMES[:len(kept)]))
    caption = f"What this choice does in the case of the {now.case.name}; cost in invented money, {100 * WASTE:.0f} % left in the bowl"
    return Table(heads, tuple(rows), caption + (f", {MACHINE_USE:.2f} for the machine" if now.choice.mixing == "machine under vacuum" else ""))


# ---------------------------------------------------------------- gauges


def _zone(left, right, y, edge_left, edge_right):
    """What is wanted, as a hatched strip; an open end has no edge of its own."""
    marks = [Polygon([left, right, right, left], [y - HALF, y - HALF, y + HALF, y + HALF], fill="pale green", edge="green", hatch="rising", width=1.5)]
    return marks + [Line([x, x], [y - 1.4 * HALF, y + 1.4 * HALF], colour="green", width=4) for x, drawn in ((left, edge_left), (right, edge_right)) if drawn]


def _pointer(check, y, across, last):
    """The value with its range on the strip: filled where it meets, hollow where it may miss, a cross where it misses."""
    if not np.isfinite(check.value):
        return []
    low, value, high = (float(np.clip(across(one), *last)) for one in (check.low, check.value, check.high))
    shape, hollow = SIGNS[check.verdict]
    marks = [Line([low, high], [y, y], colour="vermillion", width=4)] if high > low else []
    marks += [Line([x, x], [y - 0.1, y + 0.1], colour="vermillion", width=3) for x in ((low, high) if high > low else ())]
    return [*marks, Marker(value, y, shape, "vermillion", size=16, hollow=hollow)]


def _pinned(kept, place, y, across, last):
    """The pinned values; those that lie nearly in one place share their letters."""
    found = []
    for letter, one in zip(PIN_NAMES, kept):
        value = one.checks[place].value
        if np.isfinite(value):
            x = float(np.clip(across(value), *last))
            alike = next((each for each in found if abs(each[0] - x) < 0.07 * (last[1] - last[0])), None)
            if alike is None:
                found.append([x, letter])
            else:
                alike[1] += f" {letter}"
    return [mark for x, letters in found for mark in (Marker(x, y, "diamond", "purple", size=10, hollow=True),
                                                      Text(x, y, letters, anchor="auto", right=9, size=14))]


def _row(check, kept, place, y, across, last, label):
    """One row of a gauge: its zone, its value, its pins and its words above it."""
    if np.isfinite(check.value) and not last[0] <= across(check.value) <= last[1]:
        label += ", beyond"
    left = last[0] if check.least is None else max(across(check.least), last[0])
    right = last[1] if check.most is None else min(across(check.most), last[1])
    return [*_zone(left, right, y, check.least is not None, check.most is not None and across(check.most) <= last[1]),
            *_pointer(check, y, across, last), *_pinned(kept, place, y - 0.42, across, last),
            Text(last[0], y + 0.34, label, anchor="start", height="bottom", right=2, size=15.5, bold=True)]


def _of(now, words):
    return next(((place, check) for place, check in enumerate(now.checks) if check.words.startswith(words)), (None, None))


def _gauge(name, title, now, kept, words, unit, x_label, more=()):
    """A panel with one row over a plain scale, and further checks in words under it."""
    place, check = _of(now, words)
    if check is None:
        return Panel(name, (0.0, 1.0), (-0.5, 1.0), title=title, x_label=x_label, y_ticks=(), moving=(Text(0.5, 0.25, "not judged: no price"),))
    shown = [one for judgement in (now, *kept) for one in (judgement.checks[place].high, judgement.checks[place].value) if np.isfinite(one)]
    most = max([*shown, 1.15 * (check.most or 0.0), 1.15 * (check.least or 0.0)])
    top = next((top for top in TOPS[unit] if top >= most), TOPS[unit][-1])
    row = _row(check, kept, place, 0.0, lambda x: x, (0.0, top), f"{_short(check)}: {check.verdict}")
    if name == "strength":
        row.append(Text(top, 0.34, "hatched: wanted", anchor="end", height="bottom", right=-2, size=14))
    lines = [Text(0.0, -0.78 - 0.3 * line, text, anchor="start", height="middle", right=2, size=15) for line, text in enumerate(more)]
    return Panel(name, (0.0, top), (-0.62 - 0.32 * len(more) if more else -0.75, 0.75), title=title, x_label=x_label, y_ticks=(), moving=(*row, *lines),
                 height_share=1.0 + 0.13 * len(more))


def _short(check):
    if check.number() in ("never", "not at all"):
        return check.number()
    if check.unit == "money":
        return f"{check.value:.2f}"
    return hours(check.value) if check.low == check.high else f"{rounded(check.value, 2)} {check.unit}"


def _use_picture(now, kept):
    strength = _gauge("strength", "Strength when used", now, kept, "strength", "MPa", "compressive strength (MPa)")
    flow, air = _of(now, "yield stress")[1], _of(now, "air")[1]
    called = "not predicted" if not np.isfinite(flow.value) else "too stiff" if flow.value > flow.most else "runny" if flow.value < flow.least else "it pours"
    accuracy = _gauge("accuracy", "Accuracy", now, kept, "length", "µm", f"longer by (µm on {now.case.length_mm:g} mm)",
                      (f"{called}: {flow.verdict}", f"air {_short(air)}: {air.verdict}"))
    return Picture("use", (strength, accuracy), height=PICTURE_HEIGHT, words="Strength and accuracy, green hatched: what is wanted. "
                   + "; ".join(check.sentence() for check in now.checks if check.aspect in ("strength", "accuracy")) + ".")


def _work_picture(now, kept):
    last = (float(np.log10(FIRST_MIN)), float(np.log10(LAST_MIN)))
    marks = []
    for y, words, label in ((2.0, POURS, "pours until"), (1.0, "final set", "final set"), (0.0, "used at", "used at")):
        place, check = _of(now, words)
        marks += _row(check, kept, place, y * 1.25, lambda x: float(np.log10(max(x, 1e-9))), last, f"{label} {_short(check)}: {check.verdict}")
    time = Panel("time", last, (-0.7, 3.3), title="Time", x_label="from the start of mixing (longer steps)", y_ticks=(), height_share=1.75,
                 x_ticks=tuple((float(np.log10(minutes)), words) for minutes, words in TIME_TICKS), moving=tuple(marks))
    cost = _gauge("cost", "Cost of one cast", now, kept, "cost", "money", "invented money")
    return Picture("work", (time, cost), height=PICTURE_HEIGHT, words="Time and cost, green hatched: what is wanted. "
                   + "; ".join(check.sentence() for check in now.checks if check.aspect in ("time", "cost")) + ".")
