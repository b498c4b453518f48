"""The chain from impression to trimmed cast: windows in which each step is in time, the reader's moments in them, and the strength below."""

import numpy as np

from gypsumkit.bench.cast_chain import (DAY_MIN, HOUR_MIN, IMPRESSIONS, IN_TIME, LENGTH_MM, LONGEST_WAIT_MIN, MAY_EARLY, MAY_LATE, TOO_EARLY, TOO_LATE,
                                        TWO_HOURS_MIN, change_words, events, growth_to_come_um, mixed_min, ratio_in_a_tooth, said, schedule_words, steps, strength,
                                        strength_share, tooth_strength, tooth_words)
from gypsumkit.bench.mix_phases import COMPUTED, PRACTICE
from gypsumkit.figures.mix_words import recipe_words
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.mix import predict_timeline
from gypsumkit.powders import ROOM_C
from gypsumkit.remembering import remembered
from gypsumkit.showing import bracketed, rounded, with_unit

PICTURE_HEIGHT = 560
FIRST_MIN, LAST_MIN = 1.0, 1.05 * DAY_MIN
LINE_TICKS = ((1.0, "1 min"), (3.0, "3"), (10.0, "10 min"), (30.0, "30"), (60.0, "1 h"), (360.0, "6 h"), (1440.0, "1 d"))
WAIT_TICKS = ((1.0, "1 min"), (10.0, "10 min"), (60.0, "1 h"), (720.0, "12 h"), (10080.0, "7 d"))
TOPS_MPA = (10.0, 20.0, 40.0, 60.0, 80.0, 120.0, 240.0)
SIGNS = {IN_TIME: ("circle", False), MAY_EARLY: ("diamond", True), MAY_LATE: ("diamond", True), TOO_EARLY: ("cross", False), TOO_LATE: ("cross", False)}
HALF, ROW = 0.24, 1.25
POINTS = 61

LIMITS = ("Limits: pouring, gloss, set, strength and growth are computed with the library's clock, for gypsum alone, 100 g in one lump; gel, saliva and a cold impression are not in it. How "
          "long an impression may wait and a cast may stay in it: common practice, or abstracts that disagree. The instructions of your product come first, and decide. "
          "That drops mix evenly into a tooth is ours. For teaching only.")


def chain_scene(chain, tooth=True):
    """Describe a chain: the impression and a tooth of it, the steps on a line of time, and the strength of the cast.

    Parameters
    ----------
    chain : gypsumkit.bench.cast_chain.Chain
        The cast.
    tooth : bool
        Whether the tooth is shown; without drops in it there is nothing to see.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    return Scene((_before_picture(chain, tooth), _line_picture(chain)), chain_words(chain), _numbers(chain))


# ---------------------------------------------------------------- words and numbers


def chain_words(chain):
    """Say a chain: mix, what goes wrong and what that does, the numbers at separating, and the schedule.

    Parameters
    ----------
    chain : Chain
        The cast.

    Returns
    -------
    str
    """
    found = steps(chain)
    off = [step for step in found if step.verdict != IN_TIME]
    how = f"{recipe_words(chain.recipe)}, {chain.recipe.mixing}" + (f", at {chain.recipe.room_temperature_c:.0f} °C." if chain.recipe.room_temperature_c != ROOM_C else ".")
    parts = [how, _verdicts(off)]
    parts += [f"{step.name[0].upper()}{step.name[1:]} at {said(step.moment_min)}, {step.verdict} (in time: {step.window()}). {step.why}" if step.name != "impression waits" else
              f"The impression waits {said(step.moment_min)}, {step.verdict} (in time: {step.window()}). {step.why}" for step in off]
    parts += [tooth_words(chain), strength_words(chain), change_words(chain.impression), IMPRESSIONS[chain.impression].again, schedule_words(chain)]
    if any(not one.valid for one in events(chain.recipe).values()):
        reasons = sorted({one.reason for one in events(chain.recipe).values() if not one.valid})
        parts.append("Outside its range: " + "; ".join(reasons) + ".")
    return " ".join(filter(None, parts))


def _verdicts(off):
    if not off:
        return "Every step is in time."
    return f"{len(off)} of 5 steps {'is' if len(off) == 1 else 'are'} not certainly in time."


def _strong(p):
    return with_unit(p.value, "MPa", 2) + bracketed(p.low, p.high)


def strength_words(chain):
    """Say what the cast carries at separating, and how much it still grows.

    Parameters
    ----------
    chain : Chain
        The cast.

    Returns
    -------
    str
    """
    at_hour = strength(chain, HOUR_MIN)
    if events(chain.recipe)["final_set_min"].value is None or not at_hour.value > 0:
        return "The model gives it no strength within the hour."
    out = strength(chain, chain.separate_min)
    return (f"At separating it carries {_strong(out)}, {_percent(chain, chain.separate_min)} of the {_strong(at_hour)} at 1 h{_growth(chain)}.")


def _percent(chain, minute):
    percent = 100 * strength_share(chain, minute)
    return f"{rounded(percent, 2 if percent < 99.5 else 3)} %"


def _growth(chain):
    if chain.separate_min >= TWO_HOURS_MIN:
        return "; the growth until 2 h is over"
    um = growth_to_come_um(chain)
    if not np.isfinite(um):
        return "; how much it still grows is not known here"
    return f", and {LENGTH_MM:g} mm of it still grow by {um:.0f} µm until 2 h" if um >= 0.5 else f", and {LENGTH_MM:g} mm of it hardly grow any more"


def _numbers(chain):
    wait, pour, *later = ((step.name, said(step.moment_min), step.window(), step.verdict, step.standing) for step in steps(chain))
    base, out, trim = later
    found = events(chain.recipe)
    # In the order of time, with what the clock predicts of the mix between the steps.
    rows = [wait, ("mixed", said(mixed_min(chain.recipe)), "", "", PRACTICE), pour, _predicted("pours until", found["working_time_min"]),
            _predicted("gloss lost", found["gloss_loss_min"]), base, _predicted("final set", found["final_set_min"]), out, trim]
    at_hour = strength(chain, HOUR_MIN)
    if at_hour.value > 0:
        rows.append(("strength at separating", _strong(strength(chain, chain.separate_min)), "", f"{_percent(chain, chain.separate_min)} of that at 1 h", COMPUTED))
        rows.append(("strength at trimming", _strong(strength(chain, chain.trim_min)), "", f"{_percent(chain, chain.trim_min)} of that at 1 h", COMPUTED))
        rows.append(("strength at 1 h", _strong(at_hour), "", "", COMPUTED))
    if chain.drops:
        wet = tooth_strength(chain.recipe, chain.drops)
        rows.append((f"a tooth with {chain.drops} drop{'s' * (chain.drops != 1)} of water, at 1 h", "no paste" if wet is None else _strong(wet), "",
                     f"ratio {rounded(ratio_in_a_tooth(chain.recipe, chain.drops), 2)} there", COMPUTED))
    return Table(("", "now, with plausible range", "in time", "verdict", "where it comes from"), tuple(rows), "The chain of this cast, from the start of mixing")


def _predicted(name, moment):
    never = moment.value is None or not np.isfinite(moment.value)
    return (name, "never" if never else with_unit(moment.value, "min", 2) + bracketed(moment.low, moment.high), "", "", COMPUTED)


# ---------------------------------------------------------------- rows of windows


def _log(minutes, last):
    return float(np.log10(np.clip(minutes, FIRST_MIN, last)))


def _box(begin, end, y, fill, edge, hatch):
    return [Polygon([begin, end, end, begin], [y - HALF, y - HALF, y + HALF, y + HALF], fill=fill, edge=edge, hatch=hatch, width=1.5)] if end > begin + 1e-9 else []


def _row(step, y, last, label):
    """The window of a step, the doubt at its ends, its moment and its words above."""
    a, b, c, d = (_log(end, last) for end in step.ends)
    x = _log(step.moment_min, last)
    shape, hollow = SIGNS[step.verdict]
    return [*_box(a, b, y, "pale yellow", "black", "dots"), *_box(c, d, y, "pale yellow", "black", "dots"), *_box(b, c, y, "pale green", "green", "rising"),
            Line([x, x], [y - 1.5 * HALF, y + 1.2 * HALF], colour="vermillion", width=3), Marker(x, y, shape, "vermillion", size=15, hollow=hollow),
            Text(_log(FIRST_MIN, last), y + 0.32, label, anchor="start", height="bottom", right=2, size=15.5, bold=True)]


def _before_picture(chain, tooth):
    wait = steps(chain)[0]
    last = LONGEST_WAIT_MIN
    row = _row(wait, 0.0, last, f"waits {said(wait.moment_min)}: {wait.verdict}")
    key = [Text(_log(FIRST_MIN, last), -0.62, "hatched: in time; dots: may be early or late;", anchor="start", right=2, size=14.5),
           Text(_log(FIRST_MIN, last), -0.92, "white: too early or too late", anchor="start", right=2, size=14.5)]
    top = Panel("wait", (0.0, float(np.log10(last))), (-1.15, 0.85), title=f"The impression: {chain.impression}", x_label="from the mouth to the pour (longer steps)", y_ticks=(),
                x_ticks=tuple((float(np.log10(minutes)), words) for minutes, words in WAIT_TICKS), moving=tuple(row), backdrop=tuple(key))
    picture_words = f"The {chain.impression} impression waits {said(wait.moment_min)}, {wait.verdict}; in time: {wait.window()}."
    panels, height = ((top, _tooth_panel(chain)), PICTURE_HEIGHT) if tooth else ((top,), PICTURE_HEIGHT // 2)
    return Picture("before", panels, height=height, words=" ".join(filter(None, (picture_words, tooth_words(chain)))))


def _tooth_panel(chain):
    """Strength at 1 h of the cast, and of a tooth in whose imprint drops were left."""
    body, tooth = tooth_strength(chain.recipe, 0), tooth_strength(chain.recipe, chain.drops)
    top = next((top for top in TOPS_MPA if top >= body.high), TOPS_MPA[-1])
    drops = f"{chain.drops} drop{'s' * (chain.drops != 1)} left in it"
    marks = []
    for y, one, words, fill, hatch in ((1.0, body, "cast", "pale sky", ""), (0.0, tooth, f"tooth, {drops}", "pale vermillion", "dots")):
        marks.append(Text(0.0, y + 0.28, f"{words}: " + ("no paste" if one is None else with_unit(one.value, "MPa", 2)), anchor="start", height="bottom", right=3, bold=True))
        if one is not None:
            marks += [Polygon([0.0, one.value, one.value, 0.0], [y - 0.22, y - 0.22, y + 0.22, y + 0.22], fill=fill, edge="black", hatch=hatch, width=1.5),
                      Line([one.low, one.high], [y, y], colour="vermillion", width=3)]
            marks += [Line([x, x], [y - 0.1, y + 0.1], colour="vermillion", width=3) for x in (one.low, one.high)]
    return Panel("tooth", (0.0, top), (-0.45, 1.75), title="Water left in a tooth", x_label="wet strength at 1 h (MPa)", y_ticks=(), moving=tuple(marks))


@remembered(32)
def _curve(recipe):
    moments = np.geomspace(FIRST_MIN, LAST_MIN, POINTS)
    return moments, predict_timeline(recipe.powder, recipe.water_powder_ratio, moments, recipe)["strength_mpa"]


def _line_picture(chain):
    every = steps(chain)
    short = ("pour ended", "base added", "separated", "trimmed")
    across = (0.0, float(np.log10(LAST_MIN)))
    ticks = tuple((float(np.log10(minutes)), words) for minutes, words in LINE_TICKS)
    marks = [mark for place, (step, name) in enumerate(zip(every[1:], short))
             for mark in _row(step, ROW * (3 - place), LAST_MIN, f"{name} {said(step.moment_min)}: {step.verdict}")]
    top = Panel("steps", across, (-0.5, ROW * 3 + 0.85), title="The cast, from the start of mixing", y_ticks=(), x_ticks=ticks, moving=tuple(marks), height_share=1.45)
    told = "; ".join(f"{step.name} at {said(step.moment_min)}, {step.verdict}" for step in every[1:])
    return Picture("line", (top, _strength_panel(chain, across, ticks)), height=PICTURE_HEIGHT,
                   words=f"Steps with their windows on a line of time: {told}. Below, the wet strength in time. {strength_words(chain)}")


def _strength_panel(chain, across, ticks):
    moments, strong = _curve(chain.recipe)
    log = np.log10(moments)
    most = float(np.nanmax(strong.high)) if np.any(np.isfinite(strong.high)) else 1.0
    top = next((top for top in TOPS_MPA if top >= 1.02 * most), TOPS_MPA[-1])
    # Early there is no strength, so the upper left corner is free for the key.
    marks = [Band(log, strong.low, strong.high), Line(log, strong.value), Text(across[0], 0.9 * top, "100 %: at 1 h", anchor="start", right=4, size=14.5)]
    final = events(chain.recipe)["final_set_min"].value
    if final is not None and final < LAST_MIN:
        marks += [Rule(x=_log(float(final), LAST_MIN), colour="black", dash="dotted"), Text(across[0], 0.75 * top, "dotted: final set", anchor="start", right=4, size=14.5)]
    if strength(chain, HOUR_MIN).value > 0:
        for minute, shape, words, height in ((chain.separate_min, "square", "out", 0.28), (chain.trim_min, "triangle", "trimmed", 0.12)):
            x, value = _log(minute, LAST_MIN), float(strength(chain, minute).value)
            marks += [Rule(x=x, colour="vermillion", width=1.5, dash="solid"), Marker(x, value, shape, "vermillion", size=13),
                      Text(across[1], height * top, f"{words}: {_percent(chain, minute)}", anchor="end", right=-4, bold=True)]
    return Panel("strength", across, (0.0, top), y_label="wet strength (MPa)", x_label="from the start of mixing (longer steps)", x_ticks=ticks, moving=tuple(marks))
