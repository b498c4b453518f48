"""A session as a chart: a row for each group and for each shared machine, a bar for each step, over the minutes."""

import math

from gypsumkit.bench.plan import SEPARATE_MIN, WET_MIN
from gypsumkit.bench.plan_words import fit_words
from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Polygon, Rule, Scene, Text

LAST_SET = "last final set (predicted)"
WIDTH, ROW_HEIGHT, MOST_GROUPS, MOST_MACHINES = 460, 21, 24, 6
# Fill, edge, hatching and name of each step.
LOOKS = {
    "weigh": ("pale yellow", "black", "dots", "weigh"),
    "mix": ("pale sky", "blue", "rising", "mix, ring"),
    "pour": ("pale vermillion", "vermillion", "crossed", "pour (vibrator)"),
    "separate": ("pale green", "green", "level", "separate"),
}


def plan_scene(plan):
    """Describe the chart of a planned session.

    Parameters
    ----------
    plan : gypsumkit.bench.plan.SessionPlan

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    rows = _rows(plan)
    picture = Picture("plan", (_key(plan), _chart(plan, rows)), words=plan_picture_words(plan), width=WIDTH, height=170 + ROW_HEIGHT * len(rows))
    return Scene((picture,), plan_picture_words(plan))


def plan_picture_words(plan):
    """Say what the chart shows.

    Parameters
    ----------
    plan : SessionPlan

    Returns
    -------
    str
    """
    turns, groups = plan.turns, len(plan.session.groups)
    shown = f" The chart shows the first {MOST_GROUPS} of {groups} groups." if groups > MOST_GROUPS else ""
    return (f"One row for each group and each vibrator (V), bars for the steps. The first mix is weighed at {turns[0].weigh_min} min, the last, of group "
            f"{turns[-1].group}, at {turns[-1].weigh_min} min; no vibrator, mixer or scale serves two mixes at once. {fit_words(plan)}{shown}")


def _rows(plan):
    """Short names of the rows, from top to bottom: groups, vibrators, mixers."""
    groups = [("group", number, str(number)) for number in range(1, min(len(plan.session.groups), MOST_GROUPS) + 1)]
    machines = [("vibrator", number, f"V{number}") for number in sorted({turn.vibrator for turn in plan.turns})]
    machines += [("mixer", number, f"M{number}") for number in sorted({turn.mixer for turn in plan.turns} - {0})]
    return groups + machines[:MOST_MACHINES]


def _bar(begin, end, row, look, half=0.36):
    fill, edge, hatch, _ = LOOKS[look]
    return Polygon([begin, end, end, begin], [-row - half, -row - half, -row + half, -row + half], fill=fill, edge=edge, hatch=hatch, width=1.5)


def _chart(plan, rows):
    last = max(plan.end_min, math.ceil(plan.session.session_min)) + 4
    place = {(kind, number): row for row, (kind, number, _) in enumerate(rows)}
    marks = []
    for turn in plan.turns:
        zero, moments = turn.start_min, plan.moments
        if ("group", turn.group) in place:
            row = place["group", turn.group]
            marks += [Line([zero, plan.closing[turn.group][0]], [-row, -row], colour="dark grey", width=1.5),
                      _bar(turn.weigh_min, zero, row, "weigh"), _bar(zero, zero + moments.ring_min, row, "mix"),
                      _bar(zero + moments.ring_min, zero + moments.poured_min, row, "pour")]
            if turn.mix == len(plan.session.mixes_of_groups[turn.group - 1]):
                marks.append(Marker(zero + moments.final_set_min, -row, shape="diamond", colour="black", size=9, hollow=True))
        if ("vibrator", turn.vibrator) in place:
            marks.append(_bar(zero + moments.ring_min, zero + moments.poured_min, place["vibrator", turn.vibrator], "pour"))
        if ("mixer", turn.mixer) in place:
            marks.append(_bar(zero + WET_MIN, zero + moments.mixed_min, place["mixer", turn.mixer], "mix"))
    for group, (begin, _) in plan.closing.items():
        if ("group", group) in place and not plan.session.separate_later:
            marks.append(_bar(begin, begin + SEPARATE_MIN * len(plan.session.mixes_of_groups[group - 1]), place["group", group], "separate"))
    groups = sum(kind == "group" for kind, _, _ in rows)
    backdrop = (Rule(x=float(plan.session.session_min), colour="black", width=2), Rule(y=-(groups - 0.5), colour="dark grey", width=1, dash="dotted"))
    return Panel("chart", (0.0, float(last)), (-len(rows) + 0.4, 0.6), x_label="minutes (dashed line: end of the session)",
                 y_label="group; V: vibrator" + ("; M: mixer" if any(kind == "mixer" for kind, _, _ in rows) else ""),
                 y_ticks=tuple((-row, name) for row, (_, _, name) in enumerate(rows)), height_share=float(120 + ROW_HEIGHT * len(rows)),
                 backdrop=backdrop, moving=tuple(marks))


def _key(plan):
    """What the marks mean, above the chart, in two lines."""
    lines = (["weigh", "mix", "pour"], ["separate"] * (not plan.session.separate_later) + ["set"])
    marks = []
    for line, looks in enumerate(lines):
        x = 1.0
        for look in looks:
            name = LAST_SET if look == "set" else LOOKS[look][3]
            marks += [Marker(x + 2.0, -line, shape="diamond", colour="black", size=9, hollow=True) if look == "set" else _bar(x, x + 4.0, line, look, half=0.32),
                      Text(x + 5.5, -line, name, anchor="start", size=14)]
            x += 8.5 + 2.05 * len(name)
    return Panel("key", (0.0, 110.0), (-1.6, 0.6), show_axes=False, height_share=46.0, backdrop=tuple(marks))
