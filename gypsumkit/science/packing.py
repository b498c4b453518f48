"""Grains really packed in three dimensions: how much void they leave, and what is left of the water to make the mix flow.

A grain is one sphere or several grown together. A few hundred of them, of random size and turned at random, grow in a box
whose walls are joined (what leaves on one side enters on the other) and push one another apart without turning, as rough grains
do, until they jam. The same pushing for all kinds; only shape and range of sizes differ.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

GRAINS_IN_BOX = 240
STEPS = 600
FIRST_FRACTION = 0.40        # volume of all spheres over that of the box at the start        [gypsumkit]
OVERLAP_ALLOWED = 0.004      # mean overlap of touching spheres over the sum of their radii   [gypsumkit]
FASTEST_GROWTH, SLOWEST_GROWTH = 1.2e-2, 3e-4     # of the size, in one step                   [gypsumkit]
MOMENTUM = 0.9               # share of the last step that a grain keeps while it is pushed on [gypsumkit]
NEIGHBOURS_EVERY = 12
SAMPLES_ACROSS = 64          # sample points along one edge of the box


class Shape(NamedTuple):
    """One kind of grains: a middle sphere of radius 1, others grown to it, and how much the sizes differ."""

    words: str
    spheres: int             # in one grain
    apart: float             # distance of the others from the middle one
    least_radius: float      # of the others
    in_a_row: bool           # on both sides of the middle one, or in any direction
    size_spread: float       # standard deviation of the logarithm of the size


SHAPES = {
    "equal spheres": Shape("equal spheres, for comparison", 1, 0.0, 1.0, True, 0.0),
    "irregular": Shape("irregular, lumpy grains of similar size", 3, 0.75, 0.60, False, 0.15),
    "prisms": Shape("short prisms of several sizes", 3, 0.35, 0.90, True, 0.60),
    "compact": Shape("compact, rounded grains of many sizes", 1, 0.0, 1.0, True, 0.90),
}


class Packing(NamedTuple):
    """Grains in a box of edge 1: places of all spheres (grains, spheres, 3), their radii, and how full the box is."""

    centres: np.ndarray
    radii: np.ndarray
    solid_fraction: float
    mean_overlap: float      # of touching spheres, over the sum of their radii


@lru_cache(maxsize=16)
def packed(kind, seed=1, steps=STEPS, grains=GRAINS_IN_BOX):
    """Pack grains of one kind until they jam.

    Parameters
    ----------
    kind : str, a key of `SHAPES`
    seed : int, another seed is another handful of the same powder
    steps : int, 100 or more; more steps let the grains slide into a closer packing
    grains : int, 20 to 500

    Returns
    -------
    Packing

    Notes
    -----
    Each step moves every pair of overlapping spheres apart, shared by the grains' masses, and grows all grains as long as the
    mean overlap stays under 0.004; the growth slows down by a factor of 40 from first to last step. Our own simplification of
    packing by growing spheres [gypsumkit]. Equal spheres come to 0.60 to 0.64; poured and shaken balls: 0.60 and 0.637
    [scott_1969]. The solid fraction is sampled on a grid of 64 x 64 x 64 points.
    """
    chance = np.random.default_rng(seed)
    offsets, radii = _grains(SHAPES[kind], grains, chance)
    places = chance.random((grains, 3))
    places, size, overlap = _pushed_apart(places, offsets, radii, steps)
    centres = (places[:, None, :] + size * offsets) % 1.0
    return Packing(centres, size * radii, _sampled_fraction(centres, size * radii), overlap)


def _grains(shape, grains, chance):
    """Offsets and radii of the spheres of every grain, about the grain's middle."""
    others = shape.spheres - 1
    directions = chance.normal(size=(grains, 1 if shape.in_a_row else max(others, 1), 3))
    directions /= np.linalg.norm(directions, axis=2, keepdims=True)
    if shape.in_a_row:
        directions = np.concatenate([directions, -directions], axis=1)
    radii = np.concatenate([np.ones((grains, 1)), chance.uniform(shape.least_radius, 1.0, (grains, others))], axis=1)
    offsets = np.concatenate([np.zeros((grains, 1, 3)), shape.apart * directions[:, :others]], axis=1)
    sizes = np.exp(shape.size_spread * np.clip(chance.normal(size=grains), -2.0, 2.0))
    return offsets * sizes[:, None, None], radii * sizes[:, None]


def _neighbours(places, offsets, radii, reach, size, skin):
    """Pairs of spheres, as places in the flat list of spheres, of different grains that touch or nearly touch."""
    apart = places[:, None, :] - places[None, :, :]
    apart -= np.round(apart)
    near = np.einsum("ijk,ijk->ij", apart, apart) < (size * (reach[:, None] + reach[None, :]) + skin) ** 2
    one, other = np.nonzero(np.triu(near, 1))
    spheres = radii.shape[1]
    first = (one[:, None, None] * spheres + np.arange(spheres)[None, :, None] + np.zeros((1, 1, spheres), int)).ravel()
    second = (other[:, None, None] * spheres + np.arange(spheres)[None, None, :] + np.zeros((1, spheres, 1), int)).ravel()
    if spheres == 1:
        return first, second
    centres = (places[:, None, :] + size * offsets).reshape(-1, 3)
    between = centres[first] - centres[second]
    between -= np.round(between)
    close = np.einsum("ij,ij->i", between, between) < (size * (radii.ravel()[first] + radii.ravel()[second]) + skin) ** 2
    return first[close], second[close]


def _pushed_apart(places, offsets, radii, steps):
    """Grow the grains and push them apart; return their places, their size and the mean overlap of those that touch."""
    grains, spheres = radii.shape
    reach = np.max(np.linalg.norm(offsets, axis=2) + radii, axis=1)
    lightness, flat_radii, flat_offsets = reach ** -3.0, radii.ravel(), offsets.reshape(-1, 3)
    size = (FIRST_FRACTION / np.sum(4.0 / 3.0 * np.pi * flat_radii**3)) ** (1.0 / 3.0)
    moving = np.zeros_like(places)
    for step in range(steps):
        if step % NEIGHBOURS_EVERY == 0:
            skin = (0.25 if step < steps / 2 else 0.12) * reach.mean() * size
            first, second = _neighbours(places, offsets, radii, reach, size, skin)
            one, other = first // spheres, second // spheres
            share = lightness[one] / (lightness[one] + lightness[other])
            sums, from_middle = flat_radii[first] + flat_radii[second], flat_offsets[first] - flat_offsets[second]
        between = places[one] - places[other] + size * from_middle
        between -= np.round(between)
        distance = np.sqrt(np.einsum("ij,ij->i", between, between))
        overlap = np.maximum(size * sums - distance, 0.0)
        push = between * (overlap / np.maximum(distance, 1e-9))[:, None]
        touching = overlap > 0
        contacts = np.bincount(one[touching], minlength=grains) + np.bincount(other[touching], minlength=grains)
        pushed = np.stack([np.bincount(one, push[:, axis] * share, grains) - np.bincount(other, push[:, axis] * (1.0 - share), grains)
                           for axis in range(3)], axis=1) / np.sqrt(np.maximum(contacts, 1))[:, None]
        moving = MOMENTUM * moving * (np.einsum("ij,ij->i", moving, pushed) > 0)[:, None] + pushed
        places = places + moving
        relative = overlap / (size * sums)
        growth = FASTEST_GROWTH * (SLOWEST_GROWTH / FASTEST_GROWTH) ** (step / steps)
        size *= 1.0 + growth * np.clip(1.0 - np.sum(relative) / (3.0 * grains) / OVERLAP_ALLOWED, -1.0, 1.0)
    return places % 1.0, size, float(relative[touching].mean()) if np.any(touching) else 0.0


def _sampled_fraction(centres, radii, across=SAMPLES_ACROSS):
    """Share of the points of a grid that lie inside a grain."""
    inside = np.zeros((across, across, across), dtype=bool)
    for centre, radius in zip(centres.reshape(-1, 3), radii.ravel()):
        steps = np.arange(-int(np.ceil(radius * across)) - 1, int(np.ceil(radius * across)) + 2)
        points = np.floor(centre * across).astype(int)[:, None] + steps
        x, y, z = ((points + 0.5) / across - centre[:, None]) ** 2
        near = x[:, None, None] + y[None, :, None] + z[None, None, :] < radius**2
        inside[np.ix_(*(points % across))] |= near
    return float(inside.mean())


def slice_circles(packing, height, window=1.0):
    """Circles in which a level cut meets the spheres.

    Parameters
    ----------
    packing : Packing
    height : float, 0 to 1, where the box is cut
    window : float, 0 to 1, edge of the square that is looked at, in the corner of the box

    Returns
    -------
    array of shape (circles, 4)
        x and y of the middle, radius, and the number of the grain; a circle that reaches over the edge of the box is there twice.

    Notes
    -----
    radius^2 = sphere radius^2 - distance from the cut^2, a theorem of Pythagoras [gypsumkit].
    """
    grains = np.repeat(np.arange(len(packing.radii)), packing.radii.shape[1])
    centres, radii = packing.centres.reshape(-1, 3), packing.radii.ravel()
    away = centres[:, 2] - height
    away -= np.round(away)
    cut = np.abs(away) < radii
    around = np.sqrt(radii[cut] ** 2 - away[cut] ** 2)
    found = []
    for right in (-1.0, 0.0, 1.0):
        for up in (-1.0, 0.0, 1.0):
            x, y = centres[cut, 0] + right, centres[cut, 1] + up
            seen = (x + around > 0) & (x - around < window) & (y + around > 0) & (y - around < window)
            found.append(np.stack([x[seen], y[seen], around[seen], grains[cut][seen]], axis=1))
    return np.concatenate(found)


def void_water_ml_g(solid_fraction, powder_density_g_cm3, water_density_g_cm3):
    """Water that fills the void between grains that touch.

    Parameters
    ----------
    solid_fraction : float or array, above 0 to 1, of packed grains
    powder_density_g_cm3, water_density_g_cm3 : float or array, g/cm3

    Returns
    -------
    float or array, g (mL) of water for 1 g of powder

    Notes
    -----
    (1/fraction - 1) water density / powder density, a volume balance [gypsumkit].
    """
    return (1.0 / np.asarray(solid_fraction, dtype=float) - 1.0) * water_density_g_cm3 / powder_density_g_cm3


def flow_water_ml_g(water_powder_ratio, void_water, held_water):
    """Water that is left to keep the grains apart and make the mix flow.

    Parameters
    ----------
    water_powder_ratio : float or array, mL/g
    void_water : float or array, mL/g, from `void_water_ml_g`
    held_water : float or array, mL/g, soaked into porous grains and held on their surfaces

    Returns
    -------
    float or array, mL/g; negative: so much is missing to fill the void

    Notes
    -----
    ratio - void water - held water [gypsumkit]: the void is filled first.
    """
    return np.asarray(water_powder_ratio, dtype=float) - void_water - held_water


def jamming_fraction(solid_fraction, held_water, powder_density_g_cm3, water_density_g_cm3):
    """Volume share of powder in a paste whose grains just touch, held water counted with the water.

    Parameters
    ----------
    solid_fraction : float or array, above 0 to 1, of packed grains
    held_water : float or array, mL/g
    powder_density_g_cm3, water_density_g_cm3 : float or array, g/cm3

    Returns
    -------
    float or array, 0 to 1

    Notes
    -----
    1 / (1/fraction + held water x powder density / water density), a volume balance [gypsumkit].
    """
    return 1.0 / (1.0 / np.asarray(solid_fraction, dtype=float) + held_water * powder_density_g_cm3 / water_density_g_cm3)
