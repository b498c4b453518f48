"""The chain from impression to trimmed cast: when each step is in time for this very mix, and what it costs to be early or late.

The mix is timed by the library's own clock and the phases of the bench clock. How long an impression may wait and how long a cast
may stay in it is common practice or read in abstracts that disagree; the instructions of the product always come first.
"""

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from gypsumkit.bench.bench_clock import state
from gypsumkit.bench.mix_phases import COMPUTED, OURS, PRACTICE, phases
from gypsumkit.bench.plan import MARGIN_MIN
from gypsumkit.checks import checked_number
from gypsumkit.mix import Mix, predict, predict_timeline
from gypsumkit.powders import POURS_BELOW_PA, POWDERS, VIBRATION_THINNING, named
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered
from gypsumkit.science.expansion import length_change_um
from gypsumkit.science.pores import paste_volume_cm3_per_g
from gypsumkit.science.ring import GRAVITY_M_S2, stack_of_discs_stiffness
from gypsumkit.showing import bracketed, rounded, with_unit
from gypsumkit.studies.growth import predicted_growth

HOUR_MIN, TWO_HOURS_MIN, DAY_MIN, WEEK_MIN = 60.0, 120.0, 1440.0, 10080.0
LONGEST_WAIT_MIN, LAST_MIN, LAST_POUR_MIN = 2 * WEEK_MIN, DAY_MIN, 60.0
TOOTH_ML = 0.5                       # mix in the imprint of one tooth                              [gypsumkit]
DROP_ML = 0.05                       # twenty drops a millilitre                                    [trade]
MOST_DROPS = 3
DRIES_MIN = 12 * 60.0                # from then on a cast in air is no longer wet all through       [gypsumkit]
HANG_MM = 20.0                       # of mix below the tray, when it is turned over             [gypsumkit]
SHAKEN_TIMES = 1.0 + VIBRATION_THINNING.value
LENGTH_MM = 50.0                     # across an arch, for what a change comes to                   [gypsumkit]

IN_TIME, MAY_EARLY, TOO_EARLY, MAY_LATE, TOO_LATE = "in time", "may be early", "too early", "may be late", "too late"
VERDICTS = (TOO_EARLY, MAY_EARLY, IN_TIME, MAY_LATE, TOO_LATE)
READ, MEMORY = "published", "handbook, from memory"


class Impression(NamedTuple):
    """An impression material: how long it may wait for the mix, and how long the cast may stay in it, min."""

    wait: tuple                      # the ends of `VERDICTS` but the last: too early before, may be early before, may be late after, too late after
    usual_wait_min: float            # in a planned schedule; rinsing and disinfecting are part of it
    leave: tuple                     # the cast in it: may be late after, too late after; from the start of mixing
    change_percent: tuple            # of its size, least and most; of casts from it for alginate
    change_when: str
    change_source: str               # a key of `gypsumkit.sources.SOURCES`
    early: str                       # what pouring too soon does
    late: str                        # what pouring too late does
    left: str                        # what leaving the cast in it does
    again: str                       # a second cast from the same impression
    standing: str
    sources: tuple


IMPRESSIONS = {
    "alginate": Impression(
        (0.0, 0.0, 15.0, 60.0), 10.0, (60.0, 360.0), (-0.50, 0.16), "of casts, when the impression was kept up to five days in a moist bag", "imbery_2010",
        "", "It loses water in air and shrinks. Water runs out of it even in a moist box (syneresis), and in water it swells (imbibition).",
        "The gel dries, shrinks round the teeth and pulls at the surface. The cast becomes rough and soft, and teeth break off.",
        "No second cast: the gel has torn and changed its size. Make a new impression.", READ, ("alginate_four_hours", "mousavi_casts", "pouring_time_2015", "marquezan_2012")),
    "addition silicone": Impression(
        (0.0, 60.0, WEEK_MIN, 2 * WEEK_MIN), 60.0, (math.inf, math.inf), (-0.17, -0.14), "in 24 h", "craig_handbook",
        "Some products give off hydrogen for a while: small holes all over the surface. Most newer ones may be poured at once.",
        "Little happens to its size in a week.", "", "A second cast may be poured, when nothing tore. Each one is a little less sure.", READ, ("craig_1988",)),
    "polyether": Impression(
        (0.0, 30.0, WEEK_MIN, 2 * WEEK_MIN), 30.0, (math.inf, math.inf), (-0.24, -0.19), "in 24 h", "craig_handbook",
        "It has not yet come back to its shape after it was taken out of the mouth.", "Kept dry it is steady for days. In water or a moist bag it swells.",
        "", "A second cast may be poured. It is stiff: thin teeth break when it is pulled off.", PRACTICE, ("trade",)),
    "condensation silicone": Impression(
        (0.0, 5.0, 30.0, 60.0), 15.0, (math.inf, math.inf), (-0.60, -0.38), "in 24 h", "craig_handbook",
        "It has not yet come back to its shape after it was taken out of the mouth.", "Alcohol leaves it, and it shrinks for hours.", "",
        "A second cast comes out with another size: the impression goes on shrinking.", READ, ("condensation_dies", "elastomers_2020")),
}


class Step(NamedTuple):
    """One step of the chain, judged: its moment, the moments between which it is in time, and what being early or late does."""

    name: str
    moment_min: float
    ends: tuple                      # as `Impression.wait`
    verdict: str
    why: str                         # empty when it is in time
    standing: str

    def window(self):
        """Return when it is in time, in words."""
        _, begin, end, _ = self.ends
        if not math.isfinite(begin) or end < begin:
            return "never"
        if not math.isfinite(end):
            return f"from {said(begin)} on"
        return f"up to {said(end)}" if begin <= 0 else f"{said(begin)} to {said(end)}"


@dataclass(frozen=True)
class Chain:
    """One cast from impression to trimming; moments that are not given are planned.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    impression : str
        A key of `IMPRESSIONS`.
    waits_min : float, optional
        From the mouth to the pour, rinsing and disinfecting included, min.
    drops : int
        Drops of water left in the imprint of one tooth.
    poured_min, base_min, separate_min, trim_min : float, optional
        When the pour has ended, when the base is added or the impression turned over, when it is separated, when it is trimmed; min
        from the start of mixing.

    Raises
    ------
    Problem
        When the impression is unknown or a moment out of range.
    """

    recipe: Recipe
    impression: str = "alginate"
    waits_min: float = None
    drops: int = 0
    poured_min: float = None
    base_min: float = None
    separate_min: float = None
    trim_min: float = None

    def __post_init__(self):
        object.__setattr__(self, "impression", named(self.impression, IMPRESSIONS, "no impression material"))
        drops = checked_number(self.drops, "The number of drops", "drops", 0, MOST_DROPS)
        if drops != int(drops):
            raise Problem(f"The number of drops is given as {drops:g}; drops are whole: 0 to {MOST_DROPS}.")
        object.__setattr__(self, "drops", int(drops))
        for name, what, most in (("waits_min", "The waiting of the impression", LONGEST_WAIT_MIN), ("poured_min", "The end of the pour", LAST_POUR_MIN),
                                 ("base_min", "The moment of the base", LAST_MIN), ("separate_min", "The moment of separating", LAST_MIN),
                                 ("trim_min", "The moment of trimming", LAST_MIN)):
            value = getattr(self, name)
            object.__setattr__(self, name, planned(self.recipe, self.impression)[name] if value is None else checked_number(value, what, "min", 0.0, most))


def said(minutes):
    """Say a span of time in the unit that suits it, "45 min", "6 h" or "7 days"."""
    value, unit = (minutes, "min") if minutes < 99.5 else (minutes / 60, "h") if minutes < 2 * DAY_MIN else (minutes / DAY_MIN, "days")
    return f"{value:.0f} {unit}" if abs(value - round(value)) < 1e-9 else f"{rounded(value, 2)} {unit}"


@remembered(64)
def events(recipe):
    """Return the predictions of the mix that the chain needs, by name.

    Parameters
    ----------
    recipe : Recipe
        The mix.

    Returns
    -------
    dict of str to Prediction
    """
    mix = Mix(recipe)
    return {name: getattr(mix, name) for name in ("working_time_min", "gloss_loss_min", "final_set_min", "porosity", "wet_density_g_cm3")}


def hanging_pa(recipe):
    """Return the yield stress that a mass needs to hang by its own weight, turned over, `HANG_MM` deep.

    It is the number at which a free cylinder just stands, pulled instead of pressed; that the mix sticks to the impression is left out.

    Parameters
    ----------
    recipe : Recipe
        The mix.

    Returns
    -------
    float
        Pa, at rest; shaken it needs `SHAKEN_TIMES` as much.
    """
    density = float(events(recipe)["wet_density_g_cm3"].value)
    return float(stack_of_discs_stiffness(1.0)) * 1000.0 * density * GRAVITY_M_S2 * HANG_MM / 1000.0


@remembered(64)
def hangs_shaken_min(recipe):
    """Return when the mix hangs by its own weight even while it is shaken, min; at the latest when the gloss is lost.

    Parameters
    ----------
    recipe : Recipe
        The mix.

    Returns
    -------
    float
        Infinite where the mix does not set.
    """
    gloss = _end(events(recipe)["gloss_loss_min"], "value")
    if not math.isfinite(gloss):
        return math.inf
    moments = np.linspace(0.0, gloss * (1 - 1e-9), 201)
    stress = predict_timeline(recipe.powder, recipe.water_powder_ratio, moments, recipe, ranges=False)["yield_stress_pa"].value
    return float(np.interp(np.log(SHAKEN_TIMES * hanging_pa(recipe)), np.log(np.maximum(stress, 1e-9)), moments))


def mixed_min(recipe):
    """Return when the mix is mixed, min from its start."""
    return next(phase.end_min for phase in phases(recipe) if phase.until == "it is mixed")


def _end(prediction, which):
    """An end of a prediction; infinite where it never happens."""
    value = getattr(prediction, which)
    return math.inf if prediction.value is None or value is None or not math.isfinite(value) else float(value)


def _up(minutes):
    """The next whole minute, for "not before"; what exceeds a minute by a hair does not count."""
    return math.ceil(minutes - 0.05) if math.isfinite(minutes) else minutes


def _down(minutes):
    """The tenth of a minute before, for "not after"."""
    return math.floor(10.0 * minutes) / 10.0 if math.isfinite(minutes) else minutes


@remembered(64)
def _ends(recipe, impression):
    """When each step is in time, as `Impression.wait`; trimming also waits until the cast is out, and what has just come out is still wet."""
    found, material = events(recipe), IMPRESSIONS[impression]
    gloss, final, working = found["gloss_loss_min"], found["final_set_min"], found["working_time_min"]
    dull_surely = _up(_end(gloss, "high"))
    set_surely = _up(max(_end(final, "high"), _end(final, "value") + MARGIN_MIN))
    mixed = mixed_min(recipe)
    late, too_late = (max(end, set_surely + MARGIN_MIN) for end in material.leave)
    return {
        "wait": material.wait,
        "pour": (mixed, mixed, _down(_end(working, "low")), _end(working, "value")),
        "base": (hangs_shaken_min(recipe), dull_surely, max(HOUR_MIN, dull_surely), math.inf),
        "separate": (_end(final, "value"), set_surely, late, too_late),
        "trim": (_end(final, "value"), max(HOUR_MIN, set_surely), DRIES_MIN, math.inf),
    }


@remembered(64)
def planned(recipe, impression):
    """Return the moments of a chain in which every step is in time, where that is possible.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    impression : str
        A key of `IMPRESSIONS`.

    Returns
    -------
    dict of str to float
        By the names of `Chain`, min. A mix that never sets gets the last moment that is looked at.
    """
    ends = _ends(recipe, impression)
    _, mixed, sure, likely = ends["pour"]
    # A mix that may stiffen before it is mixed is poured as soon as it is mixed.
    poured = min(sure if sure > mixed + 0.1 else max(mixed, _down(0.5 * (mixed + likely))), LAST_POUR_MIN)
    base = min(max(ends["base"][1], poured), LAST_MIN)
    separate = min(max(ends["separate"][1], base), LAST_MIN)
    return {
        "waits_min": IMPRESSIONS[impression].usual_wait_min, "poured_min": poured, "base_min": base, "separate_min": separate,
        "trim_min": min(max(ends["trim"][1], separate), LAST_MIN),
    }


def _verdict(moment, ends):
    too_early, early, late, too_late = ends
    if moment < too_early:
        return TOO_EARLY
    if moment > late:
        return TOO_LATE if moment > too_late else MAY_LATE
    return MAY_EARLY if moment < early else IN_TIME


@remembered(256)
def steps(chain):
    """Judge each step of a chain.

    Parameters
    ----------
    chain : Chain
        The cast.

    Returns
    -------
    tuple of Step
        The impression waits, the pour, the base, separating, trimming.
    """
    ends = dict(_ends(chain.recipe, chain.impression))
    ends["base"] = (max(ends["base"][0], chain.poured_min), max(ends["base"][1], chain.poured_min), *ends["base"][2:])
    too_early, early, dries, never = ends["trim"]
    ends["trim"] = (max(too_early, chain.separate_min), max(early, chain.separate_min), max(dries, chain.separate_min + HOUR_MIN), never)
    moments = {"wait": chain.waits_min, "pour": chain.poured_min, "base": chain.base_min, "separate": chain.separate_min, "trim": chain.trim_min}
    material = IMPRESSIONS[chain.impression]
    names = {"wait": ("impression waits", _why_wait, material.standing), "pour": ("pour ended", _why_pour, COMPUTED), "base": ("base added, or turned over", _why_base, PRACTICE),
             "separate": ("separated", _why_separate, OURS), "trim": ("trimmed", _why_trim, PRACTICE)}
    found = []
    for key, (name, why, standing) in names.items():
        verdict = _verdict(moments[key], ends[key])
        found.append(Step(name, moments[key], ends[key], verdict, "" if verdict == IN_TIME else why(chain, verdict), standing))
    return tuple(found)


# ---------------------------------------------------------------- what being early or late does


def _why_wait(chain, verdict):
    material = IMPRESSIONS[chain.impression]
    return material.early if verdict in (MAY_EARLY, TOO_EARLY) else material.late


def _pressure(pascal):
    return f"{rounded(pascal, 2)} Pa" if pascal < 1000 else f"{rounded(pascal / 1000, 2)} kPa"


def _why_pour(chain, verdict):
    if verdict == TOO_EARLY:
        return "It is not yet mixed."
    _, mixed, sure, _ = _ends(chain.recipe, chain.impression)["pour"]
    if verdict == MAY_LATE and sure < mixed:
        return "This mix may be too stiff to pour already when it is mixed. Mix it with more water from the start."
    if verdict == MAY_LATE:
        return "It may no longer run into the tips."
    if _end(events(chain.recipe)["working_time_min"], "value") <= mixed_min(chain.recipe):
        return f"It is too stiff to pour already when it is mixed: above {POURS_BELOW_PA.value:g} Pa a mix does not pour. Throw it away and mix a new one, with more water from the start."
    if chain.poured_min >= _end(events(chain.recipe)["gloss_loss_min"], "value"):
        return "Its gloss is lost: it is no longer a paste. Throw it away and mix a new one. More water does not help."
    stress = state(chain.recipe, chain.poured_min).yield_stress_pa.value
    return (f"It no longer pours: its yield stress is about {_pressure(stress)}, and above {POURS_BELOW_PA.value:g} Pa a mix does not pour. It stands in lumps and traps air, and "
            "its young crystals tear.")


def _why_base(chain, verdict):
    if verdict == MAY_LATE:
        drinks_ml = 10 * events(chain.recipe)["porosity"].value
        return (f"The first part has set and begins to dry. When it is dry, 10 mL of it can drink up to {rounded(drinks_ml, 2)} mL out of the new mix. Make it wet first, in water "
                "that already holds gypsum. No separating medium here: the two must hold together.")
    if chain.base_min < chain.poured_min:
        return "The impression is not yet full."
    hanging, stress = hanging_pa(chain.recipe), state(chain.recipe, chain.base_min).yield_stress_pa.value
    if verdict == TOO_EARLY and stress < hanging:
        return f"Turned over now, it sags out of the tips by its own weight: {HANG_MM:g} mm of it need {_pressure(hanging)}, and it has about {_pressure(stress)}."
    if verdict == TOO_EARLY:
        return (f"It holds its own weight at rest ({HANG_MM:g} mm of it need {_pressure(hanging)}, and it has about {_pressure(stress)}). Shaken or knocked, it has only about a sixth of "
                "that, and it sags out of the tips.")
    return "It holds its own weight, even when it is shaken. But its gloss may not be lost yet: pressed now, it moves and comes away from the impression."


def _why_separate(chain, verdict):
    if verdict in (MAY_LATE, TOO_LATE):
        return IMPRESSIONS[chain.impression].left
    share = strength_share(chain, chain.separate_min)
    has = "It is not yet a solid." if not share > 0.005 else f"It has about {_percent(share)} of its strength at 1 h."
    if verdict == MAY_EARLY:
        return f"{has} Not every mix has set by then, and edges bend or break."
    return f"{has} It has not reached its final set: it bends and breaks, and keeps no size."


def _why_trim(chain, verdict):
    if verdict == MAY_LATE:
        return "It dries by now. Dry trimming makes dust, and a dry cast drinks the slurry of the wheel: make it wet first, in water that already holds gypsum."
    if chain.trim_min < chain.separate_min:
        return "It is still in its impression."
    share = strength_share(chain, chain.trim_min)
    return f"It has about {_percent(share)} of its strength at 1 h: the wheel may tear out grains, and the jet wash the soft surface away."


def _percent(share):
    return f"{rounded(100 * share, 2)} %"


# ---------------------------------------------------------------- numbers


@remembered(64)
def _line(recipe, moments_min):
    return predict_timeline(recipe.powder, recipe.water_powder_ratio, np.array(moments_min), recipe)


def strength(chain, minute):
    """Return the wet strength of the cast at a moment, with its range.

    Parameters
    ----------
    chain : Chain
    minute : float
        min from the start of mixing.

    Returns
    -------
    Prediction
        MPa.
    """
    return _line(chain.recipe, (float(minute),))["strength_mpa"].one(0)


def strength_share(chain, minute):
    """Return the strength at a moment over that at 1 h; 0 where the mix has none by then.

    Parameters
    ----------
    chain : Chain
    minute : float
        min from the start of mixing.

    Returns
    -------
    float
    """
    at_hour = strength(chain, HOUR_MIN).value
    return float(strength(chain, minute).value / at_hour) if at_hour > 0 else 0.0


def growth_to_come_um(chain):
    """Return how much a length of `LENGTH_MM` still grows after separating, until 2 h, µm.

    Parameters
    ----------
    chain : Chain

    Returns
    -------
    float
        NaN where the mix does not set, or lies outside the ratios the clock was made for.
    """
    whole = predicted_growth(chain.recipe)
    if whole.value is None or not whole.valid:
        return math.nan
    so_far = _line(chain.recipe, (float(chain.separate_min),))["expansion_percent"].one(0).value
    return float(length_change_um(max(float(whole.value) - so_far, 0.0), LENGTH_MM))


def ratio_in_a_tooth(recipe, drops):
    """Return the water/powder ratio where drops of water have mixed into the imprint of one tooth.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    drops : int
        Drops, of `DROP_ML` each, in `TOOTH_ML` of mix.

    Returns
    -------
    float
        mL per g. That they mix evenly is our simplest assumption.
    """
    powder_g = TOOTH_ML / float(paste_volume_cm3_per_g(recipe.water_powder_ratio, POWDERS[recipe.powder].density_g_cm3.value))
    return recipe.water_powder_ratio + drops * DROP_ML / powder_g


@remembered(256)
def tooth_strength(recipe, drops):
    """Return the wet strength at 1 h of a tooth in which drops of water were left.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    drops : int
        Drops left in it.

    Returns
    -------
    Prediction or None
        None where so much water makes no paste.
    """
    ratio = ratio_in_a_tooth(recipe, drops)
    if ratio > POWDERS[recipe.powder].most_ratio:
        return None
    return predict(recipe.powder, ratio, conditions=replace(recipe, water_powder_ratio=ratio))["wet_strength_mpa"]


def tooth_words(chain):
    """Say what water left in a tooth does; empty when none is left.

    Parameters
    ----------
    chain : Chain

    Returns
    -------
    str
    """
    if not chain.drops:
        return ""
    drops = f"{chain.drops} drop{'s' * (chain.drops > 1)} ({rounded(chain.drops * DROP_ML, 2)} mL)"
    dry, wet = tooth_strength(chain.recipe, 0), tooth_strength(chain.recipe, chain.drops)
    if wet is None:
        return f"With {drops} left in a tooth no paste forms there."
    return (f"With {drops} left in the imprint of a tooth that holds {TOOTH_ML:g} mL, its ratio is {rounded(ratio_in_a_tooth(chain.recipe, chain.drops), 2)} instead of "
            f"{rounded(chain.recipe.water_powder_ratio, 2)}, and it carries {_strong(wet)} at 1 h instead of {_strong(dry)}" + ("." if wet.valid else ", extrapolated."))


def _strong(p):
    return with_unit(p.value, "MPa", 2) + bracketed(p.low, p.high)


def change_um(impression):
    """Return what the change of an impression comes to on `LENGTH_MM`, least and most, µm.

    Parameters
    ----------
    impression : str
        A key of `IMPRESSIONS`.

    Returns
    -------
    tuple of float
    """
    return tuple(float(length_change_um(percent, LENGTH_MM)) for percent in IMPRESSIONS[impression].change_percent)


def change_words(impression):
    """Say how much an impression material changes its size, and where that stands.

    Parameters
    ----------
    impression : str
        A key of `IMPRESSIONS`.

    Returns
    -------
    str
    """
    material, (least, most) = IMPRESSIONS[impression], change_um(impression)
    read = "abstract read" if material.change_source == "imbery_2010" else "from memory"
    return (f"Change of size {material.change_when}: {material.change_percent[0]:.2f} to {material.change_percent[1]:.2f} %, which is {least:.0f} to {most:.0f} µm on {LENGTH_MM:g} mm "
            f"({read}).".replace("-", "−"))


def schedule_words(chain):
    """Say the schedule of a cast in one paragraph.

    Parameters
    ----------
    chain : Chain

    Returns
    -------
    str
    """
    wait, pour, base, out, trim = steps(chain)
    return (f"Impression of {chain.impression}: rinsed, disinfected as its product says, rinsed and shaken out, poured {said(wait.moment_min)} after it left the mouth. From the "
            f"start of mixing: mixed at {said(mixed_min(chain.recipe))}, pour ended at {said(pour.moment_min)}, base added or turned over at {said(base.moment_min)}, "
            f"separated at {said(out.moment_min)}, trimmed at {said(trim.moment_min)}.")
