"""Limit analysis of a ball pushed through a mass with a yield stress: an outside check of the numbers that say what is held.

Of all ways the mass could give way, the one that costs least work per distance bounds the force from above. The ways tried are
axisymmetric stream functions of several modes, each with a cubic spline along the radius; least work is found by repeatedly
solving weighted least squares. Nothing of the library is used here.
"""

import numpy as np
from numpy.polynomial.legendre import Legendre
from scipy.interpolate import BSpline


def least_force(slips, modes=4, knots=22, farthest=3.5, rounds=60):
    """Return force / (pi radius^2 yield stress) that just moves a ball; `slips`: the mass slides along its surface freely."""
    inner = 1 + (farthest - 1) * np.linspace(0, 1, knots) ** 1.8
    spline_knots = np.concatenate([[1.0] * 3, inner, [farthest] * 3])
    splines = len(spline_knots) - 4
    gauss, gauss_weights = np.polynomial.legendre.leggauss(3)
    half = 0.5 * np.diff(inner)
    radius = (0.5 * (inner[1:] + inner[:-1])[:, None] + half[:, None] * gauss).ravel()
    radius_weights = (half[:, None] * gauss_weights).ravel()
    cosine, cosine_weights = (x[15:] for x in np.polynomial.legendre.leggauss(30))      # the other half is the mirror image
    sine = np.sqrt(1 - cosine**2)
    unit = np.eye(splines)
    values = [np.array([BSpline(spline_knots, row, 3).derivative(k)(radius) if k else BSpline(spline_knots, row, 3)(radius)
                        for row in unit]) for k in range(3)]
    r, strains = radius[:, None], []
    for n in range(1, 2 * modes, 2):
        p = Legendre.basis(n)
        p0, p1 = p(cosine), p.deriv()(cosine)
        p2 = p.deriv(2)(cosine) if n > 1 else 0 * cosine
        along, along_turn, across, across_turn = -n * (n + 1) * p0, n * (n + 1) * p1 * sine, sine * p1, cosine * p1 - sine**2 * p2
        for f, f1, f2 in zip(*values):
            f, f1, f2 = f[:, None], f1[:, None], f2[:, None]
            outward, sideward = f * along / r**2, f1 * across / r
            rr = (f1 / r**2 - 2 * f / r**3) * along
            tt, pp = f1 * across_turn / r**2 + outward / r, outward / r + f1 * p1 * cosine / r**2
            rt = 0.5 * ((f2 / r - f1 / r**2) * across - sideward / r + f * along_turn / r**3)
            strains.append(np.stack([rr, tt, pp, np.sqrt(2) * rt], axis=-1).reshape(-1, 4))
    rates = np.sqrt(2) * np.array(strains).transpose(1, 2, 0)
    volume = (4 * np.pi * radius_weights * radius**2)[:, None] * cosine_weights
    volume = volume.ravel()
    given, fixed = np.zeros(rates.shape[2]), np.zeros(rates.shape[2], bool)
    first_step = spline_knots[4] - spline_knots[3]
    for mode in range(modes):
        start = mode * splines
        fixed[[start, start + splines - 1, start + splines - 2]] = True     # as fast as the ball; at rest far away
        if not slips:
            fixed[start + 1] = True
        if mode == 0:
            given[start] = -0.5
            given[start + 1] = 0.0 if slips else -0.5 - first_step / 3
    free = rates[:, :, ~fixed].reshape(-1, int((~fixed).sum()))
    moved = (rates[:, :, fixed] @ given[fixed]).ravel()
    weight, softness = np.ones(len(volume)), 1.0
    for _ in range(rounds):
        each = np.repeat(volume / weight, 4)
        normal = free.T @ (free * each[:, None])
        normal += 1e-12 * np.trace(normal) / len(normal) * np.eye(len(normal))
        found = np.linalg.solve(normal, -free.T @ (moved * each))
        rate = np.sqrt(np.sum((free @ found + moved).reshape(-1, 4) ** 2, axis=1))
        softness = max(1e-3, 0.7 * softness)
        weight = np.sqrt(rate**2 + softness**2)
    return float(np.sum(volume * rate)) / np.pi
