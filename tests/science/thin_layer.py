"""A thin layer of Bingham liquid spreading on a plate, solved in full: an outside check of the one-number model.

The mass is cut into rings of fixed volume, and the unknowns are their radii: no volume can be lost, and the front is
simply the outermost radius. With r the radii, h the mean height of a ring, and beta = yield stress / (density g h |slope|),

    speed = density g h^2 |slope| / (6 viscosity) (1 - beta)^2 (2 + beta)    while beta < 1, else 0

(Balmforth, Craster, Rust and Sassi, Journal of Non-Newtonian Fluid Mechanics 139 (2006) 103-127). Steps in time are linearly
implicit: one solution of a three-banded system a step, its matrix the exact derivative. Fully converged implicit steps stall
where a ring begins to yield, and higher order steps overshoot the rest, which nothing undoes.

The theory holds for layers much wider than high. A true cylinder is no such layer: its rings yield one after the other from
the rim, and large steps stop long before the rest WITHOUT any error. So the mass begins as a mound of the final kind.
"""

import numpy as np
from scipy.linalg.lapack import dgtsv

GRAVITY = 9.81
RIM = 4 / 9      # the mean height of a parabolic rim is reached at this share of its width from the edge


def mound(volumes_within, radius):
    """Radii of a mound h ~ sqrt(1 - r/radius) that enclose these shares of its volume."""
    share = np.linspace(0.0, 1.0, 4001)                           # from the edge inwards
    beyond = 2.5 * share**1.5 - 1.5 * share**2.5
    radii = radius * (1.0 - np.interp(1.0 - volumes_within, beyond, share))
    radii[0] = 0.0
    return radii


class ThinLayer:
    """A mass on a plate, SI units throughout.

    Parameters
    ----------
    volume, density, yield_stress, viscosity : float
        m3, kg/m3, Pa, Pa s.
    rings : int
        How finely it is cut.
    """

    def __init__(self, volume, density, yield_stress, viscosity, rings=40):
        self.within = 1.0 - (1.0 - np.linspace(0.0, 1.0, rings + 1)) ** 2        # thinner towards the rim
        self.slices = np.diff(self.within) * volume
        self.yield_stress = yield_stress
        self.push = 0.5 * density * GRAVITY                # of h^2, gives the stress at the plate
        self.flow = density * GRAVITY / (18.0 * viscosity)  # of h^3, gives the speed of a liquid without yield stress
        self.steps = 0

    def from_mound(self, radius):
        """Begin as a mound."""
        self.r, self.time = mound(self.within, radius), 0.0
        return self

    def from_cylinder(self, radius):
        """Begin as a true cylinder: what must not be done."""
        self.r, self.time = radius * np.sqrt(self.within), 0.0
        return self

    def speeds(self, r):
        """Speeds of all radii but the first, and their derivatives by the radius before, the same, and the one after."""
        outer, inner = r[1:], r[:-1]
        ground = (outer - inner) * (outer + inner)
        h = self.slices / (np.pi * ground)
        square, cube = h**2, h**3
        apart = np.append(0.5 * (r[2:] - r[:-2]), RIM * (r[-1] - r[-2]))
        drop2, drop3 = square.copy(), cube.copy()
        drop2[:-1] -= square[1:]
        drop3[:-1] -= cube[1:]
        stress = self.push * drop2 / apart
        beta = self.yield_stress / np.maximum(stress, self.yield_stress + 1e-30)
        moves = (1.0 - beta) ** 2 * (2.0 + beta)
        liquid = self.flow * drop3 / apart
        speed = liquid * moves

        turn = 3.0 * liquid * beta * (1.0 - beta) * (1.0 + beta)          # change of speed with the logarithm of the stress
        by_cube = 3.0 * self.flow * moves / apart * cube                  # change with the logarithm of this ring's height
        by_square = 2.0 * turn * square / np.where(drop2 > 1e-30, drop2, 1.0)
        own_in, own_out = 2.0 * inner / ground, 2.0 * outer / ground      # change of that logarithm with the radii
        next_cube = 3.0 * self.flow * moves[:-1] / apart[:-1] * cube[1:]
        next_square = 2.0 * turn[:-1] * square[1:] / np.where(drop2[:-1] > 1e-30, drop2[:-1], 1.0)
        spaced = (speed + turn) / apart
        before = (by_cube + by_square) * own_in
        same = -(by_cube + by_square) * own_out
        same[:-1] -= (next_cube + next_square) * own_in[1:]
        after = (next_cube + next_square) * own_out[1:]
        before[:-1] += 0.5 * spaced[:-1]
        after -= 0.5 * spaced[:-1]
        before[-1] += RIM * spaced[-1]
        same[-1] -= RIM * spaced[-1]
        return speed, before[1:], same, after

    def run(self, seconds, largest_move=0.05):
        """March; no radius moves more than about this share of the spread in a step. Returns times and radii of the front."""
        until = self.time + seconds
        times, fronts = [self.time], [self.r[-1]]
        step, r = 1e-7 * seconds, self.r
        speed, before, same, after = self.speeds(r)
        while self.time < until * (1 - 1e-12):
            step = min(step, until - self.time)
            moved = np.concatenate([[0.0], dgtsv(-step * before, 1.0 - step * same, -step * after, step * speed)[3]])
            share = np.abs(moved).max() / (largest_move * r[-1])
            trial = r + moved
            if share > 1.5 or trial[1] <= 0 or (np.diff(trial) / np.diff(r)).min() < 0.25:
                step *= 0.5
                if step < 1e-18:
                    raise RuntimeError("the step became nothing")
                continue
            r, self.time, self.steps = trial, self.time + step, self.steps + 1
            times.append(self.time)
            fronts.append(r[-1])
            step *= min(2.0, max(0.6, 0.9 / (share + 1e-3)))
            speed, before, same, after = self.speeds(r)
        self.r = r
        return np.array(times), np.array(fronts)
