"""The ring test while it happens: the ring rises, the mix sinks and spreads, a vibrator may be switched on and off.

One number moves, the spread ratio: radius now over radius of the ring. Two resistances to its growth add up, that of a
tall column of discs and that of a thin pancake on the plate; where the static law of `ring` says the mix rests, the growth
is zero. It never goes back.

The ring is still partly full while it rises. What is left inside hangs in it and does not press on the foot: a ring raised
by 20 mm lets the mix spread like a ring that is 20 mm high. So the mix follows the ring.

Where the mix stops is a prediction. When it gets there is not: inertia is only bounded, and lifting is done by a hand.
"""

from dataclasses import dataclass
from math import inf, sqrt
from typing import NamedTuple

import numpy as np

from gypsumkit.science import ring
from gypsumkit.science.flow import VIBRATION_THINS_VISCOSITY

LIFT_S = 1.0                 # a hand raises the ring in about a second                       [gypsumkit]
RAISED_BY = 1.2              # how far it is raised, over its own height                      [gypsumkit]
VIBRATOR_RAMP_S = 0.5        # a vibrator comes up to full strength, and dies down, in so long [gypsumkit]
FRONT_SPEED_SHARE = 0.5      # fastest front, over the speed of a shallow wave                [gypsumkit]
WAITS_S = (0.5, 1.5, 4.5)    # watched after the last change: the first after which it rests, else the last  [gypsumkit]
STEP_S = 0.005
NEVER_SLOWER_THAN = 1e-12    # a rate below it is rest


class State(NamedTuple):
    """Where the test stands: seconds since the ring began to rise, strength of the vibrator (0 to 1), spread ratio."""

    seconds: float
    vibration: float
    spread_ratio: float


FULL_RING = State(0.0, 0.0, 1.0)


@dataclass(frozen=True)
class Flowing:
    """What of a mix decides how it moves.

    Parameters
    ----------
    yield_stress_pa : float
        Pa, of the still mix, 0 or more.
    plastic_viscosity_pa_s : float
        Pa s, of the still mix, above 0.
    density_g_cm3 : float
        g/cm3, above 0.
    vibration_thinning : float
        A full vibrator divides the yield stress by 1 + this; 0 or more.
    ring_mm : tuple of float
        Inside diameter and height of the ring, mm.
    """

    yield_stress_pa: float
    plastic_viscosity_pa_s: float
    density_g_cm3: float
    vibration_thinning: float = 5.0
    ring_mm: tuple = ring.RING_MM


@dataclass(frozen=True, eq=False)
class Motion:
    """A test from one moment to another: arrays of the same length.

    Parameters
    ----------
    seconds : array
        s since the ring began to rise.
    vibration : array
        Strength of the vibrator, 0 to 1.
    spread_ratio : array
        Radius over radius of the ring.
    """

    seconds: np.ndarray
    vibration: np.ndarray
    spread_ratio: np.ndarray

    def at(self, seconds):
        """Return the state at a moment; after the end, the state at the end.

        Parameters
        ----------
        seconds : float
            s since the ring began to rise.

        Returns
        -------
        State
        """
        moment = float(np.clip(seconds, self.seconds[0], self.seconds[-1]))
        return State(moment, float(np.interp(moment, self.seconds, self.vibration)),
                     float(np.interp(moment, self.seconds, self.spread_ratio)))

    @property
    def end(self):
        """The state at the end."""
        return self.at(inf)


# ---------------------------------------------------------------- how fast


def tall_rate_per_s(spread_ratio, density_g_cm3, plastic_viscosity_pa_s, height_mm):
    """Growth of the spread ratio of a tall column without yield stress.

    Parameters
    ----------
    spread_ratio : float or array, 1 or more
    density_g_cm3 : float or array, g/cm3, above 0
    plastic_viscosity_pa_s : float or array, Pa s, above 0
    height_mm : float or array, mm, above 0, of the full ring

    Returns
    -------
    float or array, 1/s

    Notes
    -----
    density g H / (6 viscosity s): the lowest disc bears the weight above it and widens without friction on the plate,
    stretched with three times the viscosity [trouton_1906].
    """
    weight = density_g_cm3 * ring.GRAVITY_M_S2 * height_mm
    return weight / (6.0 * plastic_viscosity_pa_s * np.asarray(spread_ratio, dtype=float))


def thin_rate_per_s(spread_ratio, density_g_cm3, plastic_viscosity_pa_s, diameter_mm, height_mm):
    """Growth of the spread ratio of a thin pancake without yield stress.

    Parameters
    ----------
    spread_ratio : float or array, 1 or more
    density_g_cm3 : float or array, g/cm3, above 0
    plastic_viscosity_pa_s : float or array, Pa s, above 0
    diameter_mm, height_mm : float or array, mm, above 0, of the full ring

    Returns
    -------
    float or array, 1/s

    Notes
    -----
    (1024/1944) (H/R)^2 density g H / viscosity s^-7: the rate of radius = 0.894 (density g V^3 / (3 viscosity))^(1/8)
    time^(1/8) [huppert_1982]. Right once the pancake is thin; surface tension left out.
    """
    weight = density_g_cm3 * ring.GRAVITY_M_S2 * height_mm
    slenderness = 2.0 * np.asarray(height_mm, dtype=float) / diameter_mm
    return 1024.0 / 1944.0 * slenderness**2 * weight / plastic_viscosity_pa_s * np.asarray(spread_ratio, dtype=float) ** -7


def fastest_rate_per_s(spread_ratio, diameter_mm, height_mm, front_speed_share=FRONT_SPEED_SHARE):
    """Growth of the spread ratio that inertia allows.

    Parameters
    ----------
    spread_ratio : float or array, 1 or more
    diameter_mm, height_mm : float or array, mm, above 0, of the full ring
    front_speed_share : float, above 0; speed of the front over sqrt(g x height of the middle)

    Returns
    -------
    float or array, 1/s

    Notes
    -----
    share sqrt(g h) / R, h the height of the middle [gypsumkit]. A bound of the right size, no law of inertia: a brisk lift of a
    thin mix may carry it beyond its rest, which is not modelled.
    """
    middle_m = 1e-3 * np.asarray(height_mm, dtype=float) * ring.middle_height_ratio(spread_ratio)
    return front_speed_share * np.sqrt(ring.GRAVITY_M_S2 * middle_m) / (0.5e-3 * diameter_mm)


def spreading_rate_per_s(spread_ratio, flowing, height_mm=None, vibration=0.0, front_speed_share=FRONT_SPEED_SHARE):
    """Growth of the spread ratio of a mix with a yield stress.

    Parameters
    ----------
    spread_ratio : float or array, 1 or more
    flowing : Flowing, the mix and its ring
    height_mm : float, mm, how far the ring is raised, at most its own height, which is taken when not given
    vibration : float, 0 (off) to 1 (strong vibrator)
    front_speed_share : float, above 0; infinite leaves inertia out

    Returns
    -------
    float or array, 1/s, 0 where the mix rests

    Notes
    -----
    1/rate = (1/tall + 1/thin) / (1 - stiffness number / `ring.resting_stiffness`) + 1/fastest: resistances add, and the
    part of the weight that the yield stress bears does not drive [gypsumkit].
    """
    diameter, full = flowing.ring_mm
    height = full if height_mm is None else height_mm
    viscosity = flowing.plastic_viscosity_pa_s / (1.0 + VIBRATION_THINS_VISCOSITY * vibration)
    stress = flowing.yield_stress_pa / (1.0 + flowing.vibration_thinning * vibration)
    number = ring.stiffness_number(stress, flowing.density_g_cm3, height)
    left = np.maximum(1.0 - number / ring.resting_stiffness(spread_ratio, diameter, height), NEVER_SLOWER_THAN)
    slow = (1.0 / tall_rate_per_s(spread_ratio, flowing.density_g_cm3, viscosity, height)
            + 1.0 / thin_rate_per_s(spread_ratio, flowing.density_g_cm3, viscosity, diameter, height))
    rate = 1.0 / (slow / left + 1.0 / fastest_rate_per_s(spread_ratio, diameter, height, front_speed_share))
    return np.where(left > NEVER_SLOWER_THAN, rate, 0.0)


# ---------------------------------------------------------------- what the hand does


def raised_mm(seconds, height_mm, lift_s=LIFT_S):
    """How far the lower edge of the ring is above the plate.

    Parameters
    ----------
    seconds : float or array, s since the ring began to rise
    height_mm : float, mm, height of the ring
    lift_s : float, s, how long the hand takes

    Returns
    -------
    float or array, mm, from 0 to 1.2 times the height of the ring

    Notes
    -----
    1.2 H (3 x^2 - 2 x^3), x the share of the lifting time: begun and ended gently, chosen [gypsumkit].
    """
    x = np.clip(np.asarray(seconds, dtype=float) / lift_s, 0.0, 1.0)
    return RAISED_BY * height_mm * x * x * (3.0 - 2.0 * x)


def vibration_course(seconds, start, switches, ramp_s=VIBRATOR_RAMP_S):
    """Strength of a vibrator that is switched on and off.

    Parameters
    ----------
    seconds : array, s, rising
    start : float, strength at the first of them, 0 to 1
    switches : sequence of (float, bool), s and whether it is switched on, in the order of time
    ramp_s : float, s, above 0, from nothing to full strength

    Returns
    -------
    array, 0 to 1

    Notes
    -----
    Straight up and straight down, chosen [gypsumkit].
    """
    seconds = np.asarray(seconds, dtype=float)
    course = np.full(seconds.shape, float(start))
    strength, begun, goal = float(start), None, float(start)
    for moment, on in [*switches, (inf, False)]:
        if begun is not None:
            course = np.where(seconds >= begun, strength + np.clip(goal - strength, -(seconds - begun) / ramp_s,
                                                                   np.maximum(seconds - begun, 0.0) / ramp_s), course)
            if moment < inf:
                strength += float(np.clip(goal - strength, -(moment - begun) / ramp_s, (moment - begun) / ramp_s))
        begun, goal = moment, float(on)
    return course


# ---------------------------------------------------------------- the run


def motion(flowing, start=FULL_RING, switches=(), until_s=None, step_s=STEP_S, lift_s=LIFT_S,
           front_speed_share=FRONT_SPEED_SHARE):
    """Let the test run from a state on.

    Parameters
    ----------
    flowing : Flowing, the mix and its ring
    start : State, where it begins
    switches : sequence of (float, bool), s since the ring began to rise and whether the vibrator is switched on, in the
        order of time, none before the start
    until_s : float, s, the end; when not given, until some time after the last change
    step_s : float, s, above 0
    lift_s : float, s, how long the hand takes; 0 for a ring that is gone at once
    front_speed_share : float, above 0; infinite leaves inertia out

    Returns
    -------
    Motion

    Notes
    -----
    `spreading_rate_per_s` integrated with backward Euler steps, which cannot run past the rest [gypsumkit]. Where the stress
    stays the same, the end is that of the static law.
    """
    last = max([start.seconds, lift_s, *(moment + VIBRATOR_RAMP_S for moment, _ in switches)])
    for wait in WAITS_S if until_s is None else (until_s - last,):
        count = max(2, int(np.ceil((last + wait - start.seconds) / step_s)) + 1)
        run = motion_at(np.linspace(start.seconds, last + wait, count), flowing, start, switches, lift_s, front_speed_share)
        if at_rest(run.end, flowing):
            break
    return run


def at_rest(state, flowing, within=1e-3):
    """Whether the mix has come to rest, the ring being away.

    Parameters
    ----------
    state : State
    flowing : Flowing, the mix and its ring
    within : float, above 0; what is left of the spread ratio

    Returns
    -------
    bool

    Notes
    -----
    Against `ring.spread_ratio` at the stress of this moment [gypsumkit].
    """
    diameter, height = flowing.ring_mm
    stress = flowing.yield_stress_pa / (1.0 + flowing.vibration_thinning * state.vibration)
    return bool(ring.spread_ratio(ring.stiffness_number(stress, flowing.density_g_cm3, height), diameter, height)
                <= state.spread_ratio + within)


def motion_at(seconds, flowing, start=FULL_RING, switches=(), lift_s=LIFT_S, front_speed_share=FRONT_SPEED_SHARE):
    """Let the test run through given moments.

    Parameters
    ----------
    seconds : array, s, rising, the first one that of the start
    flowing : Flowing, the mix and its ring
    start : State, where it begins
    switches : sequence of (float, bool), as in `motion`
    lift_s : float, s, as in `motion`
    front_speed_share : float, as in `motion`

    Returns
    -------
    Motion

    Notes
    -----
    As `motion` [gypsumkit].
    """
    seconds = np.asarray(seconds, dtype=float)
    diameter, full = flowing.ring_mm
    vibration = vibration_course(seconds, start.vibration, switches)
    height = np.minimum(raised_mm(seconds, full, lift_s), full) if lift_s > 0 else np.full(seconds.shape, full)
    height = np.maximum(height, 1e-6 * full)
    stress = flowing.yield_stress_pa / (1.0 + flowing.vibration_thinning * vibration)
    viscosity = flowing.plastic_viscosity_pa_s / (1.0 + VIBRATION_THINS_VISCOSITY * vibration)
    number = ring.stiffness_number(stress, flowing.density_g_cm3, height)
    tall = 1.0 / tall_rate_per_s(1.0, flowing.density_g_cm3, viscosity, height)
    thin = 1.0 / thin_rate_per_s(1.0, flowing.density_g_cm3, viscosity, diameter, height)
    thin_rest = 1.0 / ring.thin_spread_stiffness(1.0, diameter, height)
    inertia = (1.0 / fastest_rate_per_s(1.0, diameter, height, front_speed_share) if front_speed_share < inf
               else np.zeros(seconds.shape))
    spread = _backward_euler(seconds.tolist(), start.spread_ratio, number.tolist(), tall.tolist(), thin.tolist(),
                             thin_rest.tolist(), inertia.tolist())
    return Motion(seconds, vibration, np.array(spread))


# ---------------------------------------------------------------- the shape


def outline(spread_ratio, raised_over_height, inside=20, outside=16):
    """Section through the mix from the middle to the edge while the ring is raised, holding exactly the ring's volume.

    Parameters
    ----------
    spread_ratio : float, 1 or more
    raised_over_height : float, 0 or more; lower edge of the ring over the plate, in heights of the ring
    inside, outside : int, 4 or more, how many points to return within the ring's radius and beyond it

    Returns
    -------
    tuple of two arrays, radius over ring radius and height over ring height, each of `inside` + `outside` points

    Notes
    -----
    `ring.slumped_outline`; beyond the ring nothing stands higher than its lower edge, and what that cuts off fills the
    ring up to a level [gypsumkit]. The volume is exact, the shape indicative.
    """
    s, gap = max(float(spread_ratio), 1.0), float(raised_over_height)
    radius, height = ring.slumped_outline(s, points=600)
    area = np.append(np.linspace(0.0, 1.0, 301), np.linspace(1.0, s * s, 301))        # radius squared: equal steps, equal areas
    free = np.interp(np.sqrt(area), radius, height)
    free[300] = free[301] = np.interp(1.0, radius, height) if s > 1.0 else 1.0
    cut = np.minimum(free[301:], gap)
    within = _filled_up(area[:301], free[:301], _volume(area[301:], free[301:] - cut))
    r = np.append(np.linspace(0.0, 1.0, inside), 1.0 + (s - 1.0) * (1.0 - (1.0 - np.linspace(0.0, 1.0, outside)) ** 2))
    h = np.append(np.interp(r[:inside] ** 2, area[:301], within), np.interp(r[inside:] ** 2, area[301:], cut))
    h[inside] = cut[0]
    h[-1] = 0.0
    return r, h


def _volume(area, height):
    return float(np.sum(np.diff(area) * 0.5 * (height[1:] + height[:-1])))


def _filled_up(area, height, missing):
    """A height that falls with the radius, filled up to a level that takes what is missing."""
    if missing <= 0.0:
        return height
    slices = np.diff(area) * 0.5 * (height[1:] + height[:-1])
    outside = np.append(np.cumsum(slices[::-1])[::-1], 0.0)
    taken = height * (1.0 - area) - outside          # what filling up to the height at each radius would take
    if missing >= taken[0]:
        return np.full(height.shape, missing + outside[0])
    level = np.interp(-missing, -taken, height)
    return np.maximum(height, level)


_SQRT3 = sqrt(3.0)
_PER_UNIT = 400      # entries of the table below for each unit of the spread ratio
_INERTIA_GROWS = (1.0 / np.sqrt(ring.middle_height_ratio(np.linspace(1.0, 13.0, 12 * _PER_UNIT + 1)))).tolist()


def _rate(s, number, tall, thin, thin_rest, inertia):
    """Growth of the spread ratio, in plain numbers because it is asked thousands of times a run."""
    n = ring.JOINING_EXPONENT
    square = s * s
    fourth = square * square
    left = 1.0 - number * ((_SQRT3 * square) ** n + (thin_rest * fourth * s) ** n) ** (1.0 / n)
    if left <= NEVER_SLOWER_THAN:
        return 0.0
    place = (s - 1.0) * _PER_UNIT
    if place < 12 * _PER_UNIT:
        whole = int(place)
        below = _INERTIA_GROWS[whole]
        grows = below + (place - whole) * (_INERTIA_GROWS[whole + 1] - below)
    else:
        grows = _INERTIA_GROWS[-1] * s / 13.0
    return 1.0 / ((tall * s + thin * fourth * square * s) / left + inertia * grows)


def _backward_euler(seconds, spread, *constants):
    """March through the moments; each step ends where spread = spread before + step x rate at its end."""
    course = [spread]
    for step, *now in zip((later - earlier for earlier, later in zip(seconds, seconds[1:])), *(values[1:] for values in constants)):
        at_once = step * _rate(spread, *now)
        if at_once > 1e-12:
            spread = _step_end(spread, at_once, step, now)
        course.append(spread)
    return course


def _step_end(before, at_once, step, now):
    """The one root of s - before - step x rate(s), between standing still and running on as at first (the rate falls as s
    grows); regula falsi, with half weight for an end that stays (Illinois)."""
    low, below = before, -at_once
    high = before + at_once
    above = at_once - step * _rate(high, *now)
    stayed = 0
    while above > 1e-10:
        middle = high - above * (high - low) / (above - below)
        miss = middle - before - step * _rate(middle, *now)
        if miss >= 0.0:
            high, above = middle, miss
            below *= 0.5 if stayed == 1 else 1.0
            stayed = 1
        else:
            low, below = middle, miss
            if miss > -1e-10 or high - low < 1e-12:
                return low
            above *= 0.5 if stayed == -1 else 1.0
            stayed = -1
    return high
