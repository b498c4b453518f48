"""The setting reaction in time: powder dissolves, crystals grow, and both share the gap between the two solubilities.

Dissolving and growing are two resistances in one line. Growth is easier the more crystal there is; dissolving becomes
harder the less powder is left. The reaction heats the mass, the heat changes its speed, and the mass loses heat to the room.
The course of one mix is marched from one degree of hydration to the next, so nothing is looked up and nothing is lost: the
heat made equals the heat kept plus the heat given away, to rounding.
"""

from typing import NamedTuple

import numpy as np

from gypsumkit.science.hydration import GYPSUM_G_PER_G_POWDER, THEORETICAL_WATER_G_PER_G
from gypsumkit.science.solubility import WARMEST_C, gypsum_solubility_mmol_kg, solubility_gap_mmol_kg

STANDARD_C = 23.0
GAS_CONSTANT_J_MOL_K = 8.314462618
ACTIVATION_J_MOL = 23_000.0              # chosen so that 20 to 50 °C hardly changes the time     [gypsumkit]
SEED = 0.005                             # crystal already in fresh powder, share of its mass      [gypsumkit]
POWDER_HEAT_J_G_K, GYPSUM_HEAT_J_G_K, WATER_HEAT_J_G_K = 0.823, 1.080, 4.18      # [kelley_1941], water [gypsumkit]
LAST_DEGREE = 0.9995                     # where the march ends: the last of the powder would take for ever
CLOSED_C = 97.0                          # where powder and crystals are in balance                 [posnjak_1938]
PASSES, HOT_PASSES, HOT_C = 2, 36, 80.0  # of time and temperature over each other: they then agree within 0.01 °C
NODES = 64
_MOST_MIN = 1.0e5


class Course(NamedTuple):
    """The course of setting: each array holds one row a mix, one column a degree of hydration."""

    degree: np.ndarray              # of hydration, 0 to the most the water allows
    time_min: np.ndarray            # from the start of mixing
    temperature_c: np.ndarray       # of the mass
    heat_made_j_g: np.ndarray       # since the start, for each g of powder
    heat_lost_j_g: np.ndarray


def _nodes(count):
    """Degrees of hydration as shares of the last one, closer together at both ends, where the resistances change fast."""
    u = np.linspace(0.0, 1.0, count)
    return (0.5 * (1.0 - np.cos(np.pi * u))) ** 1.5


def speed_factor(temperature_c):
    """How much faster the reaction runs than at 23 °C.

    Parameters
    ----------
    temperature_c : float or array, °C, 0 to 99

    Returns
    -------
    float or array, 1 at 23 °C, 0 from 97 °C on

    Raises
    ------
    Problem
        Outside 0 to 99 °C.

    Notes
    -----
    exp[-(E/R)(1/T - 1/296.15 K)] x drive(T) / drive(23 °C), E = 23 kJ/mol [gypsumkit]; drive = gap between the solubilities
    [thermoddem] less what is left of it at 97 °C, fading over 8 °C, since databases disagree where the two meet and measurement
    says 97 °C [posnjak_1938]. Warmth hastens each step but closes the gap, so the two nearly cancel up to about 50 °C.
    """
    kelvin = np.asarray(temperature_c, dtype=float) + 273.15
    arrhenius = np.exp(-ACTIVATION_J_MOL / GAS_CONSTANT_J_MOL_K * (1.0 / kelvin - 1.0 / (STANDARD_C + 273.15)))
    return arrhenius * _drive(temperature_c) / _drive(STANDARD_C)


def _drive(temperature_c):
    """The solubility gap, made to close at the temperature where powder and crystals are in balance."""
    temperature = np.asarray(temperature_c, dtype=float)
    left = solubility_gap_mmol_kg(CLOSED_C) * np.exp(-np.maximum(CLOSED_C - temperature, 0.0) / 8.0)
    return np.where(temperature < CLOSED_C, np.maximum(solubility_gap_mmol_kg(temperature) - left, 0.0), 0.0)


_TABLE_C = np.linspace(0.0, CLOSED_C, 600)
_TABLE_SPEED = speed_factor(_TABLE_C)


def _speed(temperature_c):
    return np.interp(temperature_c, _TABLE_C, _TABLE_SPEED)


def heat_capacity_j_g_k(water_powder_ratio):
    """Heat to warm the mass of 1 g of powder and its water by 1 °C, taken half way through the reaction.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, above 0

    Returns
    -------
    float or array, J per °C for each g of powder

    Notes
    -----
    Sum over powder, crystals and free water at a degree of hydration of 1/2, heat capacities [kelley_1941].
    """
    ratio = np.asarray(water_powder_ratio, dtype=float)
    half = 0.5 * np.minimum(1.0, ratio / THEORETICAL_WATER_G_PER_G)
    return ((1.0 - half) * POWDER_HEAT_J_G_K + half * GYPSUM_G_PER_G_POWDER * GYPSUM_HEAT_J_G_K
            + (ratio - half * THEORETICAL_WATER_G_PER_G) * WATER_HEAT_J_G_K)


def setting_course(water_powder_ratio, growth_min, dissolving_min, seed, heat_j_g, cooling_min, start_c, room_c, nodes=NODES):
    """March a mix from powder and water to the set mass.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder, above 0
    growth_min : float or array, min, resistance of crystal growth at 23 °C
    dissolving_min : float or array, min, resistance of dissolving at 23 °C
    seed : float or array, above 0 and below 1, crystal present at the start over the crystal at the end
    heat_j_g : float or array, J per g of powder, heat of the whole reaction
    cooling_min : float or array, min, time in which the mass loses 63 % of its warmth; np.inf for no loss
    start_c, room_c : float or array, °C, 0 to 98
    nodes : int, 40 or more, steps of the march

    Returns
    -------
    Course
        Rows for the broadcast inputs; time_min is infinite from where the mix no longer sets.

    Raises
    ------
    Problem
        When a temperature lies outside 0 to 99 °C.

    Notes
    -----
    dt/da = [ (growth/3)(a + seed)^(-2/3) + dissolving/(1 - a) ] / speed(T); integrated exactly over a step at the middle
    temperature [gypsumkit]. Heat: c dT/dt = heat da/dt - c (T - room)/cooling, exact over a step for an even release.
    Dissolving with a tail (1 - a)^1 instead of
    (1 - a)^(2/3), since powders hold grains of many sizes. Teaching law: four constants a powder, four targets.
    """
    ratio, growth, dissolving, seed, heat, cooling, start, room = (np.atleast_1d(x).astype(float) for x in np.broadcast_arrays(
        water_powder_ratio, growth_min, dissolving_min, seed, heat_j_g, cooling_min, start_c, room_c))
    end = LAST_DEGREE * np.minimum(1.0, ratio / THEORETICAL_WATER_G_PER_G)
    degree = _nodes(nodes)[:, np.newaxis] * end
    shape = degree.shape
    step = np.diff(degree, axis=0)
    resistance = growth * np.diff(np.cbrt(degree + seed), axis=0) - dissolving * np.diff(np.log1p(-degree), axis=0)
    capacity = heat_capacity_j_g_k(ratio)
    rise = heat / capacity * step
    temperature = np.broadcast_to(start, shape)
    minutes = _minutes(resistance, temperature)
    for _ in range(PASSES):
        temperature = _warmed(start, room, rise, minutes / cooling)
        minutes = _minutes(resistance, temperature)
    temperature = _warmed(start, room, rise, minutes / cooling)
    hot = np.flatnonzero(np.max(temperature, axis=0) > HOT_C)
    if hot.size:
        minutes[:, hot], temperature[:, hot] = _settled_when_hot(
            minutes[:, hot], resistance[:, hot], start[hot], room[hot], rise[:, hot], cooling[hot])
    time = np.zeros(shape)
    np.cumsum(minutes, axis=0, out=time[1:])
    lost = np.zeros(shape)
    np.cumsum(capacity * (temperature[:-1] + rise - temperature[1:]), axis=0, out=lost[1:])
    time = np.where(time >= _MOST_MIN, np.inf, time)
    return Course(*(x.T for x in (degree, time, temperature, heat * degree, lost)))


def _settled_when_hot(minutes, resistance, start, room, rise, cooling):
    """Close to where the drive ends, time and temperature would swing past each other: go half way each time."""
    for _ in range(HOT_PASSES):
        minutes = np.sqrt(minutes * _minutes(resistance, _warmed(start, room, rise, minutes / cooling)))
    return minutes, _warmed(start, room, rise, minutes / cooling)


def _minutes(resistance, temperature):
    """How long each step takes at the temperature in its middle."""
    middle = np.clip(0.5 * (temperature[1:] + temperature[:-1]), 0.0, CLOSED_C)
    return np.minimum(resistance / np.maximum(_speed(middle), 1e-12), _MOST_MIN)


def _warmed(start, room, rise, lifetimes):
    """Temperatures along the march when each step's heat is released evenly and lost in proportion to the excess over the room."""
    kept = np.exp(-lifetimes)
    added = rise * np.where(lifetimes > 1e-9, (1.0 - kept) / np.maximum(lifetimes, 1e-300), 1.0)
    excess = np.empty((len(kept) + 1, *kept.shape[1:]))
    excess[0] = start - room
    for i in range(len(kept)):
        excess[i + 1] = excess[i] * kept[i] + added[i]
    return room + excess


def dissolved_mmol_kg(degree, temperature_c, growth_min, dissolving_min, seed):
    """Calcium sulfate in the water between the grains while the mix sets.

    Parameters
    ----------
    degree : float or array, degree of hydration, 0 to below 1
    temperature_c : float or array, °C, of the mass; solubilities are taken from 0 to 99 °C
    growth_min, dissolving_min, seed : float or array, as for `setting_course`

    Returns
    -------
    float or array, mmol per kg of water, between the two solubilities

    Notes
    -----
    gypsum solubility + gap x growth resistance / (growth + dissolving resistance) [gypsumkit], solubilities [thermoddem]: high
    while crystals are few and slow to grow, low once dissolving is the slower step.
    """
    growing = growth_min / 3.0 * (np.asarray(degree, dtype=float) + seed) ** (-2.0 / 3.0)
    dissolving = dissolving_min / (1.0 - np.asarray(degree, dtype=float))
    mild = np.clip(temperature_c, 0.0, WARMEST_C)
    return gypsum_solubility_mmol_kg(mild) + solubility_gap_mmol_kg(mild) * growing / (growing + dissolving)


def time_at_degree(course, degree, rows=None):
    """When the mix reaches a degree of hydration.

    Parameters
    ----------
    course : Course
    degree : float or array, one for each row of the course, or of the shape of `rows`
    rows : array of int, optional, rows of the course to read instead, any shape

    Returns
    -------
    array, min from the start of mixing; infinite when it is never reached

    Notes
    -----
    Linear between the steps of the march [gypsumkit].
    """
    rows = np.arange(len(course.time_min)) if rows is None else rows
    wanted = np.broadcast_to(np.asarray(degree, dtype=float), rows.shape)
    # All courses step through the same shares of their last degree.
    steps = course.degree[0] / course.degree[0, -1]
    share = wanted / course.degree[rows, -1]
    place = np.clip(np.searchsorted(steps, share, side="right"), 1, len(steps) - 1)
    time0, time1 = course.time_min[rows, place - 1], course.time_min[rows, place]
    with np.errstate(invalid="ignore"):
        between = time0 + (time1 - time0) * (share - steps[place - 1]) / (steps[place] - steps[place - 1])
    return np.where(share > 1.0 + 1e-12, np.inf, np.where(np.isfinite(time1), between, np.inf))


def degree_at_time(course, time_min):
    """How far the reaction has come at a moment.

    Parameters
    ----------
    course : Course
    time_min : float or array, min from the start of mixing, one for each row

    Returns
    -------
    array, degree of hydration, one for each row

    Notes
    -----
    Linear between the steps of the march [gypsumkit].
    """
    wanted = np.broadcast_to(np.asarray(time_min, dtype=float), course.time_min.shape[:1])
    return _read(course.time_min, course.degree, wanted, course.degree[:, -1])


def temperature_at_time(course, time_min, cooling_min, room_c):
    """How warm the mass is at a moment; after the march it only cools.

    Parameters
    ----------
    course : Course
    time_min : float or array, min from the start of mixing, one for each row
    cooling_min : float or array, min, as for `setting_course`
    room_c : float or array, °C

    Returns
    -------
    array, °C, one for each row

    Notes
    -----
    Linear between the steps of the march, then Newton cooling [gypsumkit].
    """
    wanted = np.broadcast_to(np.asarray(time_min, dtype=float), course.time_min.shape[:1])
    last_min, last_c = course.time_min[:, -1], course.temperature_c[:, -1]
    since = np.maximum(wanted - np.where(np.isfinite(last_min), last_min, wanted), 0.0)
    cooled = room_c + (last_c - room_c) * np.exp(-since / cooling_min)
    return np.where(wanted > last_min, cooled, _read(course.time_min, course.temperature_c, wanted, last_c))


def _read(along, values, wanted, beyond):
    """Read each row's `values` where its rising `along` reaches `wanted`, straight between the steps."""
    place = np.clip(np.sum(along <= wanted[:, np.newaxis], axis=1), 1, along.shape[1] - 1)[:, np.newaxis]
    x0, x1 = (np.take_along_axis(along, place - k, axis=1)[:, 0] for k in (1, 0))
    y0, y1 = (np.take_along_axis(values, place - k, axis=1)[:, 0] for k in (1, 0))
    with np.errstate(invalid="ignore"):
        share = np.where(np.isfinite(x1), (wanted - x0) / np.maximum(x1 - x0, 1e-300), 0.0)
        between = np.where((share > 0.0) & np.isfinite(y0), y0 + share * (y1 - y0), y0)
    return np.where(wanted > along[:, -1], beyond, between)


def interlocking_degree(water_powder_ratio, least_water, water_taken_up):
    """Degree of hydration at which the growing needles have taken up the free water and the surface turns dull.

    Parameters
    ----------
    water_powder_ratio : float or array, g water per g powder
    least_water : float or array, g/g, ratio at which the bed of grains is full from the start
    water_taken_up : float or array, g/g, water that the growing needles can hold between them

    Returns
    -------
    float or array, above 0

    Notes
    -----
    (ratio - least water) / water taken up, with a soft floor at 0 [gypsumkit].
    """
    x = (np.asarray(water_powder_ratio, dtype=float) - least_water) / water_taken_up
    return 0.5 * (x + np.sqrt(x * x + 1.6e-5))


def network_share(degree, interlocking, final):
    """Share of the strength-giving network that stands.

    Parameters
    ----------
    degree : float or array, degree of hydration now
    interlocking : float or array, degree at loss of gloss
    final : float or array, degree at the end

    Returns
    -------
    float or array, 0 (before loss of gloss) to 1

    Notes
    -----
    (degree - interlocking) / (final - interlocking), kept between 0 and 1 [gypsumkit]; strength follows its square,
    expansion itself.
    """
    return np.clip((np.asarray(degree, dtype=float) - interlocking) / np.maximum(final - interlocking, 1e-9), 0.0, 1.0)


LIGHT_NEEDLE_MPA, HEAVY_NEEDLE_MPA = 0.315, 5.04       # Gillmore: 113.4 g on 2.12 mm, 453.6 g on 1.06 mm  [darmawan_2020]
VICAT_NEEDLE_MPA = 2.94                                 # 300 g on 1 mm2            [iso_6873]
VICAT_BEARING = 9.0                                     # needle pressure over yield stress when it just stops  [gypsumkit]
NO_MARK = 3.0                                           # a needle leaves no mark below 3 x compressive strength [gypsumkit]


def degree_at_no_mark(needle_mpa, wet_strength_mpa, interlocking, final):
    """Degree of hydration at which a needle resting on the surface leaves no mark.

    Parameters
    ----------
    needle_mpa : float, MPa, weight over area of the needle's flat end
    wet_strength_mpa : float or array, MPa, of the fully set wet mass
    interlocking, final : float or array, degrees at loss of gloss and at the end

    Returns
    -------
    float or array

    Notes
    -----
    Indentation pressure = 3 x strength so far, strength so far = wet strength x network share squared [gypsumkit]; needles
    [darmawan_2020]. The heavy needle is the usual final set.
    """
    share = np.sqrt(np.minimum(needle_mpa / (NO_MARK * np.asarray(wet_strength_mpa, dtype=float)), 1.0))
    return interlocking + (final - interlocking) * share
