"""The time line of one mix at the bench: what to be doing when, and where the clock stands."""

import math

from gypsumkit.bench.bench_clock import said_minute
from gypsumkit.bench.mix_phases import SEEN, left_out, phases
from gypsumkit.figures.mix_words import recipe_words
from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.powders import ROOM_C

WIDTH, ROW = 560, 34
WIDE = 0.55                              # of the panel: a bar so wide holds its name
FIRST_LAST_MIN = 5.0                     # of the first minutes, where nothing else ends them
# Neighbours differ in colour and in pattern.
LOOKS = {
    "Soak the powder": ("pale blue", "dots", "blue"), "Spatulate": ("pale orange", "rising", "vermillion"), "Mix by machine": ("pale orange", "rising", "vermillion"),
    "Fill the ring": ("pale green", "level", "green"), "Lift the ring": ("vermillion", "", "black"), "Pour and vibrate": ("pale purple", "falling", "purple"),
    "Wait for the gloss to go": ("pale yellow", "upright", "black"), "Light needle": ("pale sky", "dots", "blue"),
    "Heavy needle": ("pale orange", "crossed", "vermillion"), "Leave it alone": ("pale grey", "falling", "black"), "Separate": ("pale green", "level", "green"),
}
RETIMED = ("Re-timed to the gloss that was seen: each later moment is its predicted one times the seen over the predicted loss of gloss. That is a simple "
           "law of ours; the ranges still hold the doubt about the gloss and are wider than need be.")
LIMITS = ("Limits: the work of the hands is common practice; pouring, gloss and needles are predicted, with constants of our own, for this recipe and "
          "these temperatures. Your product and your mix may differ: watch the mix, not only the clock. The product's instructions come first. For teaching only.")


def bench_clock_scene(recipe, minute=0.0, gloss_lost_min=None):
    """Describe the time line.

    Parameters
    ----------
    recipe : gypsumkit.recipe.Recipe
        The mix.
    minute : float
        Where the clock stands, min.
    gloss_lost_min : float, optional
        When the gloss was seen to be lost.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    every = phases(recipe, gloss_lost_min)
    count = next((place for place, one in enumerate(every) if one.name == "Wait for the gloss to go"), None)
    if count is None:
        count = next((place for place, one in enumerate(every) if one.name in ("Light needle", "Heavy needle")), len(every))
    groups = [part for part in (every[:count], every[count:]) if part]
    panels = tuple(_panel(part, minute, first=part is groups[0], last=part is groups[-1]) for part in groups)
    height = sum(ROW * len(part) for part in groups) + 78 * len(groups)
    picture = Picture("time line", panels, _picture_words(every, minute), width=WIDTH, height=height)
    return Scene((picture,), time_line_words(recipe, gloss_lost_min), phase_table(recipe, gloss_lost_min))


def time_line_words(recipe, gloss_lost_min=None):
    """Say the recipe, what was left out and whether it was re-timed.

    Parameters
    ----------
    recipe : gypsumkit.recipe.Recipe
        The mix.
    gloss_lost_min : float, optional
        When the gloss was seen to be lost.

    Returns
    -------
    str
    """
    how = [recipe.mixing] + ([f"{recipe.turns:.0f} turns"] if recipe.turns else [])
    how += [f"water at {recipe.water_temperature_c:.3g} °C"] + [f"room at {recipe.room_temperature_c:.3g} °C"] * (recipe.room_temperature_c != ROOM_C)
    how += [f"{recipe.additive_percent:.3g} % {recipe.additive}"] * bool(recipe.additive_percent) + [recipe.powder_state] * (recipe.powder_state != "fresh")
    said = [f"{recipe_words(recipe)}, {', '.join(how)}.", left_out(recipe)]
    if gloss_lost_min is not None:
        said.append(f"Gloss lost at {said_minute(gloss_lost_min)}. {RETIMED}")
    return " ".join(filter(None, said))


def phase_table(recipe, gloss_lost_min=None):
    """Return what to be doing when, as a table.

    Parameters
    ----------
    recipe : gypsumkit.recipe.Recipe
        The mix.
    gloss_lost_min : float, optional
        When the gloss was seen to be lost.

    Returns
    -------
    gypsumkit.figures.scene.Table
    """
    rows = tuple((one.name, about(one.begin_min), about(one.end_min), _range(one), one.until, one.standing if one.until else "")
                 for one in phases(recipe, gloss_lost_min))
    return Table(("what to do", "from (min)", "to (min)", "plausible end (min)", "until", "standing of the end"), rows, "What to be doing when")


def about(minute):
    """Return a moment as precisely as it is worth: to 5 s in the first ten minutes, to half a minute later; empty for never."""
    if not math.isfinite(minute):
        return ""
    step = 5 if minute < 10 - 1e-9 else 30
    seconds = step * math.floor(60 * minute / step + 0.5 + 1e-9)
    return f"{seconds // 60}:{seconds % 60:02d}"


def _range(one):
    if one.end_low_min == one.end_high_min:
        return ""
    return f"{about(one.end_low_min)} to {about(one.end_high_min)}" if math.isfinite(one.end_high_min) else f"{about(one.end_low_min)} or later"


def _panel(part, minute, first, last):
    ends = [one.end_min for one in part if math.isfinite(one.end_min)]
    low = 0.0 if first else math.floor(part[0].begin_min)
    most = max([*ends, part[-1].begin_min])
    reach = max([most, *(one.end_high_min for one in part[:-1] if math.isfinite(one.end_high_min))])
    high = max(FIRST_LAST_MIN, math.ceil(1.02 * reach)) if first and not last else math.ceil(low + 1.12 * (max(reach, low + 2.0) - low))
    marks = []
    for row, one in enumerate(part):
        marks += _bar(one, len(part) - 1 - row, low, high)
    now = Rule(x=minute, colour="black", width=4, dash="solid"), Marker(minute, len(part) - 0.42, "triangle", "vermillion", size=17)
    title = "The first minutes" if first else "Until it is separated"
    return Panel(title, (low, high), (-0.55, len(part) - 0.4), title=title, x_label="time since powder met water (min)", y_ticks=(), height_share=len(part) + 1.5,
                 backdrop=tuple(marks), moving=now if low <= minute <= high else ())


def _bar(one, y, low, high):
    """A bar with its name beside it, on the side with more room, or in it; and the plausible range of its end."""
    end = min(one.end_min, high)
    fill, hatch, edge = LOOKS[one.name]
    inside = end - one.begin_min > WIDE * (high - low)
    hatch = "" if inside else hatch          # the name stands there instead
    x = [one.begin_min, end, end, one.begin_min]
    marks = [Polygon(x, [y - 0.3, y - 0.3, y + 0.3, y + 0.3], fill=fill, edge=edge, width=1.5, hatch=hatch)]
    right = end
    if one.end_low_min != one.end_high_min:
        right = min(one.end_high_min, high)
        marks.append(Line([one.end_low_min, right], [y, y], colour="black", width=2.5))
        marks += [Marker(x, y, "bar", "black", size=12) for x in (one.end_low_min, right)]
    elif one.standing == SEEN:
        marks.append(Marker(end, y, "diamond", "black", size=14))
    if inside:
        marks.append(Text(one.begin_min, y, one.name, anchor="start", right=9))
    elif high - right >= one.begin_min - low:
        marks.append(Text(right, y, one.name, anchor="start", right=15 if one.standing == SEEN else 9))
    else:
        marks.append(Text(one.begin_min, y, one.name, anchor="end", right=-9))
    return marks


def _picture_words(every, minute):
    said = "; ".join(f"{one.name.lower()} until {about(one.end_min)} min" if math.isfinite(one.end_min) else f"then {one.name.lower()}" for one in every)
    return f"The time line of this mix: {said}. The clock stands at {said_minute(minute)}."
