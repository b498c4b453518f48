"""When things happen in a mix: loss of gloss, needles, working time, heat and expansion, each with its plausible range.

The constants stand in columns, one row for each constant moved (see `mix`), the ratios in a row; the march is made once for
each different row of setting constants.
"""

from typing import NamedTuple

import numpy as np

from gypsumkit import powders
from gypsumkit.conditions import Conditions
from gypsumkit.remembering import remembered
from gypsumkit.science import expansion, flow, heat, pores, setting

SETTING_CONSTANTS = ("growth", "dissolving", "least_water", "taken_up", "heat", "film")
STANDARD_STRENGTH_MIN, STANDARD_EXPANSION_MIN = 60.0, 120.0
NEVER_MIN = 24 * 60.0                    # what takes longer than a day is said not to set


class Marched(NamedTuple):
    """The march of every different row of setting constants at every ratio, and which of them each row of constants has."""

    course: setting.Course               # one row for each different constants and ratio
    meets: np.ndarray                    # degree at loss of gloss
    cooling_min: np.ndarray
    growth_min: np.ndarray
    dissolving_min: np.ndarray
    seed: float
    rows: np.ndarray                     # of the march, for each row of constants and each ratio

    def unfold(self, values):
        """Return one value a marched row as rows of constants by ratios."""
        return np.asarray(values)[self.rows]


def constants_of(powder):
    """The uncertain constants of the setting of a powder, by the names the march uses."""
    s = powder.setting
    return {"growth": s.growth_min, "dissolving": s.dissolving_min, "least_water": s.least_water, "taken_up": s.water_taken_up,
            "heat": s.heat_j_g, "film": powders.FILM, "expansion": s.expansion_percent}


def march(powder, c, ratio, conditions, additive=True):
    """March every row of constants at every ratio.

    Parameters
    ----------
    powder : Powder
    c : dict of columns
    ratio : array of shape (1, n)
    conditions : Conditions
    additive : bool
        False leaves the additive's own effect out.

    Returns
    -------
    Marched
    """
    ratio = np.asarray(ratio, dtype=float)
    columns = np.column_stack([np.broadcast_to(c[name], c["growth"].shape)[:, 0] for name in SETTING_CONSTANTS])
    kept = _march_of_one if ratio.size == 1 else _march_of_many
    return kept(powder, columns.shape, columns.tobytes(), ratio.tobytes(), conditions.for_clock(additive))


def _march_packed(powder, shape, packed, ratios, conditions):
    columns = np.frombuffer(packed).reshape(shape)
    return _march(powder, columns, np.frombuffer(ratios)[np.newaxis, :], conditions)


# Marches are kept: a reader who moves a slider or looks at another moment asks for the same ones again, and one prediction
# needs the same march as it is, under standard conditions, and without its additive.
_march_of_one = remembered(64)(_march_packed)
_march_of_many = remembered(3)(_march_packed)


def _march(powder, columns, ratio, conditions):
    different, which = np.unique(columns, axis=0, return_inverse=True)
    k = {name: different[:, i:i + 1] for i, name in enumerate(SETTING_CONSTANTS)}
    shape = (len(different), ratio.shape[1])

    def flat(x):
        return np.broadcast_to(x, shape).ravel()
    volume = pores.paste_volume_cm3_per_g(ratio, powder.density_g_cm3.value) * conditions.powder_g
    cooling = heat.cooling_time_min(volume, setting.heat_capacity_j_g_k(ratio) * conditions.powder_g, k["film"])
    growth = k["growth"] * conditions.growth_factor(ratio, powder.recommended_ratio.value)
    dissolving, cooling = flat(k["dissolving"] * conditions.dissolving_factor()), flat(cooling)
    course = setting.setting_course(flat(ratio), flat(growth), dissolving, conditions.seed(), flat(k["heat"]), cooling,
                                    flat(conditions.start_c(ratio)), conditions.room_temperature_c)
    meets = flat(setting.interlocking_degree(ratio, k["least_water"], k["taken_up"]))
    rows = which.ravel()[:, np.newaxis] * ratio.shape[1] + np.arange(ratio.shape[1])
    return Marched(course, meets, cooling, flat(growth), dissolving, conditions.seed(), rows)


def peak_temperature_c(powder, ratio, powder_g):
    """How warm lumps of many sizes become, made as usual, with all constants at their values.

    Parameters
    ----------
    powder : Powder
    ratio : float, mL water per g powder
    powder_g : array, g of powder in each lump

    Returns
    -------
    array, °C
    """
    s, usual, grams = powder.setting, Conditions(), np.asarray(powder_g, dtype=float)
    volume = pores.paste_volume_cm3_per_g(ratio, powder.density_g_cm3.value) * grams
    cooling = heat.cooling_time_min(volume, setting.heat_capacity_j_g_k(ratio) * grams, powders.FILM.value)
    course = setting.setting_course(ratio, s.growth_min.value * usual.growth_factor(ratio, powder.recommended_ratio.value),
                                    s.dissolving_min.value, usual.seed(), s.heat_j_g.value, cooling, usual.start_c(ratio), powders.ROOM_C)
    return np.max(course.temperature_c, axis=1)


def gloss_loss_min(marched):
    """When each row loses its gloss."""
    return marched.unfold(setting.time_at_degree(marched.course, marched.meets))


def share_at(marched, time_min):
    """Share of the network that stands at a moment, for each row."""
    degree = setting.degree_at_time(marched.course, time_min)
    return marched.unfold(setting.network_share(degree, marched.meets, marched.course.degree[:, -1]))


def standard_march(powder, c, ratio):
    """March under standard conditions, to which flow and strength constants belong."""
    return march(powder, c, ratio, Conditions())


def _moment_of_yield_stress(wanted_over_standard, gloss_min, standard_gloss_min, standard_min):
    """When thickening has multiplied the standard yield stress by so much; 0 when it began stiffer."""
    share = np.linspace(0.0, 1.0, 400)
    grown = np.log(flow.thickening(share, 1.0, 0.0, 1.0))
    at_standard = np.interp(standard_min / standard_gloss_min, share, grown)
    needed = np.log(np.maximum(wanted_over_standard, 1e-12)) + at_standard
    return np.where(needed <= 0.0, 0.0, np.interp(needed, grown, share) * gloss_min)


def full_expansion_percent(powder, c, ratio, conditions):
    """Setting expansion once the reaction is over, rows of constants by ratios; the gloss that counts leaves the additive out."""
    usual = gloss_loss_min(standard_march(powder, c, np.array([[powder.recommended_ratio.value]])))
    gloss = gloss_loss_min(march(powder, c, ratio, conditions, additive=False))
    return expansion.setting_expansion_percent(c["expansion"], usual, gloss, 1.0, conditions.expansion_factor())


def setting_quantities(powder, c, ratio, conditions, standard_yield_stress_pa, wet_strength_mpa):
    """Every setting quantity, rows of constants by ratios.

    Parameters
    ----------
    powder : Powder
    c : dict of columns
    ratio : array of shape (1, n)
    conditions : Conditions
    standard_yield_stress_pa, wet_strength_mpa : arrays of the shape of the result
        At the standard moments, under standard conditions.

    Returns
    -------
    dict of str to array
        Infinite where it never happens.
    """
    marched = march(powder, c, ratio, conditions)
    course, meets = marched.course, marched.unfold(marched.meets)
    last = marched.unfold(course.degree[:, -1])
    gloss = gloss_loss_min(marched)
    standard = standard_march(powder, c, ratio)
    standard_gloss, usually = gloss_loss_min(standard), share_at(standard, STANDARD_STRENGTH_MIN)
    # Strength once all has set: that of 1 h over the square of the share that then stands, as along the time line.
    strength = wet_strength_mpa * conditions.strength_factor() / np.where(usually > 0, usually, 1.0) ** 2

    def when(needle_mpa):
        return setting.time_at_degree(course, setting.degree_at_no_mark(needle_mpa, strength, meets, last), marched.rows)

    def stiff_to(yield_stress_pa):
        return _moment_of_yield_stress(yield_stress_pa / np.maximum(standard_yield_stress_pa, 1e-9), gloss, standard_gloss,
                                       powder.standard_time_min)
    hottest = np.argmax(course.temperature_c, axis=1)
    rows = np.arange(len(hottest))
    grown = full_expansion_percent(powder, c, ratio, conditions) * share_at(marched, STANDARD_EXPANSION_MIN)
    return {
        "gloss_loss_min": gloss,
        "working_time_min": stiff_to(powders.POURS_BELOW_PA.value),
        "initial_set_min": stiff_to(1e6 * setting.VICAT_NEEDLE_MPA / setting.VICAT_BEARING),
        "light_needle_min": when(setting.LIGHT_NEEDLE_MPA),
        "final_set_min": when(setting.HEAVY_NEEDLE_MPA),
        "peak_temperature_c": marched.unfold(course.temperature_c[rows, hottest]),
        "peak_temperature_min": marched.unfold(course.time_min[rows, hottest]),
        "setting_expansion_percent": np.where(np.isfinite(gloss), grown, 0.0),
    }


def timeline(powder, c, ratio, conditions, time_min):
    """What one mix does at many moments, rows of constants by moments.

    Parameters
    ----------
    powder : Powder
    c : dict of columns
    ratio : float
    conditions : Conditions
    time_min : array of moments, min

    Returns
    -------
    dict of str to array
        degree of hydration, temperature, dissolved calcium sulfate, network share, share of the way to loss of gloss.
    """
    marched = march(powder, c, np.array([[float(ratio)]]), conditions)
    course, moments, room = marched.course, np.asarray(time_min, dtype=float), conditions.room_temperature_c
    ends = np.minimum(course.time_min, 1e7)

    def read(values):
        return np.array([np.interp(moments, t, v) for t, v in zip(ends, values)])
    degree = read(course.degree)
    after = np.maximum(moments - ends[:, -1:], 0.0)
    cooled = room + (course.temperature_c[:, -1:] - room) * np.exp(-after / marched.cooling_min[:, np.newaxis])
    temperature = np.where(after > 0, cooled, read(course.temperature_c))
    gloss = setting.time_at_degree(course, marched.meets)[:, np.newaxis]
    found = {
        "degree_of_hydration": degree,
        "temperature_c": temperature,
        "dissolved_mmol_kg": setting.dissolved_mmol_kg(degree, temperature, marched.growth_min[:, np.newaxis],
                                                       marched.dissolving_min[:, np.newaxis], marched.seed),
        "network_share": setting.network_share(degree, marched.meets[:, np.newaxis], course.degree[:, -1:]),
        "gloss_share": moments / gloss,
    }
    return {name: values[marched.rows[:, 0]] for name, values in found.items()}
