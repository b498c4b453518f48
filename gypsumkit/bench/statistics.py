"""What repeated measurements say: mean, scatter, repeatability, a straight line with its bands, and which value lies far out.

Nothing here deletes a value. What lies far out is named, with the reason, and stays. Where there are too few values to say
something, the result says so in `reason` and the number is not a number.
"""

from typing import NamedTuple

import numpy as np
from scipy.special import stdtr, stdtrit

from gypsumkit.problems import Problem

CONFIDENCE = 0.95
REPEATABILITY_LIMIT = 2.8           # times the standard deviation: two results of one maker differ by more 1 time in 20   [iso_5725]


def finite(values):
    """Return the values that are numbers, as an array; what was not measured is left out."""
    values = np.asarray(values, dtype=float).ravel()
    return values[np.isfinite(values)]


def student(share_below, freedom):
    """Return the value of Student's t below which a share of the results lies.

    Parameters
    ----------
    share_below : float or array, 0 to 1
    freedom : float or array, degrees of freedom, 1 or more

    Returns
    -------
    float or array

    Notes
    -----
    Inverse of the cumulative distribution [nist_handbook].
    """
    return stdtrit(freedom, share_below)


# ---------------------------------------------------------------------------------------------
# One heap of values

class Summary(NamedTuple):
    """Mean and scatter of some values; what cannot be said with so few is not a number, and `reason` tells why."""

    count: int
    mean: float
    standard_deviation: float
    standard_error: float
    low: float                       # confidence interval of the mean
    high: float
    confidence: float
    reason: str


def summary(values, confidence=CONFIDENCE):
    """Mean, standard deviation, and the confidence interval of the mean.

    Parameters
    ----------
    values : array
        Measurements of the same thing; what is not a number is left out.
    confidence : float
        How sure the interval is, 0 to 1.

    Returns
    -------
    Summary

    Raises
    ------
    Problem
        When the confidence does not lie between 0 and 1.

    Notes
    -----
    s = sqrt(sum (x - mean)^2 / (n - 1)), standard error s / sqrt(n), interval mean ± t(n - 1) s / sqrt(n) [nist_handbook]. The
    sum of squares is taken about the mean, so that large numbers with small differences keep their digits [nist_strd].
    """
    _check_share(confidence, "The confidence")
    x = finite(values)
    nothing = np.nan
    if x.size == 0:
        return Summary(0, nothing, nothing, nothing, nothing, nothing, confidence, "not enough: no value was measured")
    middle = x[0] + np.mean(x - x[0])
    if x.size == 1:
        return Summary(1, float(middle), nothing, nothing, nothing, nothing, confidence,
                       "not enough: one value says nothing about scatter; measure at least 3")
    s = float(np.sqrt(np.sum((x - middle) ** 2) / (x.size - 1)))
    error = s / np.sqrt(x.size)
    half = float(student(0.5 + confidence / 2, x.size - 1)) * error
    reason = "few: with 2 values the interval is very wide; measure at least 3" if x.size == 2 else ""
    return Summary(x.size, float(middle), s, float(error), float(middle - half), float(middle + half), confidence, reason)


def _check_share(share, what):
    if not 0.0 < share < 1.0:
        raise Problem(f"{what} is given as {share:g}; it must lie between 0 and 1, such as 0.95.")


# ---------------------------------------------------------------------------------------------
# Repeatability

class Precision(NamedTuple):
    """Scatter within one maker and between makers; what cannot be said is not a number, and `reason` tells why."""

    count: int
    makers: int
    mean: float
    repeatability: float             # standard deviation within one maker
    between: float                   # standard deviation between makers, beyond that
    reproducibility: float           # standard deviation of one result of any maker
    repeatability_limit: float       # two results of one maker seldom differ by more
    reproducibility_limit: float     # two results of two makers seldom differ by more
    variance_ratio: float            # mean square between over mean square within (F)
    within_freedom: int
    reason: str


def precision(values, makers):
    """Repeatability within makers and scatter between them, by analysis of variance with one factor.

    Parameters
    ----------
    values : array
        One number for each result, of the same thing; what is not a number is left out.
    makers : sequence
        Who made each result: a maker here stands for what the standard calls a laboratory.

    Returns
    -------
    Precision

    Raises
    ------
    Problem
        When there is not one maker for each value.

    Notes
    -----
    s_r^2 is the mean square within; s_L^2 = (mean square between - s_r^2) / n, 0 where that is below 0, with n the usual mean
    number of results, [sum n_i - sum n_i^2 / sum n_i] / (makers - 1); s_R^2 = s_r^2 + s_L^2 [iso_5725]. Limits are 2.8 times the
    standard deviations. Benches of one class share room and powder: their s_R is smaller than that of different laboratories.
    """
    values = np.asarray(values, dtype=float).ravel()
    makers = np.asarray([str(maker) for maker in makers], dtype=object)
    if len(makers) != len(values):
        raise Problem(f"There are {len(values)} values and {len(makers)} makers: give one maker for each value.")
    known = np.isfinite(values)
    x, (names, place) = values[known], np.unique(makers[known], return_inverse=True)
    count, groups, nothing = x.size, len(names), np.nan
    if count == 0:
        return Precision(0, 0, *[nothing] * 7, 0, "not enough: no value was measured")
    start = x[0]
    x = x - start
    sizes = np.bincount(place, minlength=groups)
    means = np.bincount(place, x, minlength=groups) / sizes
    mean = float(np.mean(x))
    freedom = count - groups
    if freedom < 1:
        return Precision(count, groups, mean + start, *[nothing] * 6, 0,
                         "not enough: no maker made it twice, so nothing is known of repeatability; each makes at least 2")
    within = float(np.sum((x - means[place]) ** 2)) / freedom
    repeatability = np.sqrt(within)
    if groups < 2:
        return Precision(count, groups, mean + start, repeatability, nothing, nothing, REPEATABILITY_LIMIT * repeatability, nothing, nothing, freedom,
                         "one maker only: nothing is known of the scatter between makers")
    across = float(np.sum(sizes * (means - mean) ** 2)) / (groups - 1)
    usual_size = (count - np.sum(sizes**2) / count) / (groups - 1)
    between = np.sqrt(max(across - within, 0.0) / usual_size)
    together = np.hypot(repeatability, between)
    reason = "" if freedom >= 3 else "few: fewer than 3 repeats in all, so the repeatability is only roughly known"
    return Precision(count, groups, mean + start, repeatability, between, together, REPEATABILITY_LIMIT * repeatability,
                     REPEATABILITY_LIMIT * together, across / within if within > 0 else np.inf, freedom, reason)


# ---------------------------------------------------------------------------------------------
# What lies far out

class Suspect(NamedTuple):
    """The value farthest from the others, and whether a chance as small as the significance would put it there."""

    place: int                       # in the values as given; -1 when nothing can be said
    value: float
    statistic: float
    critical: float
    outlier: bool
    reason: str


def grubbs_critical(count, significance=0.05, sides=2):
    """How many standard deviations from the mean the farthest of so many values may lie by chance.

    Parameters
    ----------
    count : int, 3 or more
    significance : float, 0 to 1, how often a value of a normal heap would be called an outlier
    sides : int, 2 when either end is suspected, 1 when one end was named beforehand

    Returns
    -------
    float

    Notes
    -----
    (n - 1)/sqrt(n) sqrt(t^2 / (n - 2 + t^2)) with t of n - 2 degrees of freedom at significance / (sides n) [nist_handbook].
    """
    t = student(1.0 - significance / (sides * count), count - 2)
    return float((count - 1) / np.sqrt(count) * np.sqrt(t**2 / (count - 2 + t**2)))


def grubbs(values, significance=0.05):
    """Ask whether the value farthest from the mean is an outlier: Grubbs' test for one suspect, at either end.

    Parameters
    ----------
    values : array
        Measurements of the same thing; what is not a number is left out.
    significance : float
        How often a value of a normal heap without outlier would be called one.

    Returns
    -------
    Suspect

    Raises
    ------
    Problem
        When the significance does not lie between 0 and 1.

    Notes
    -----
    G = largest |x - mean| / s against `grubbs_critical` [nist_handbook]. For one suspect only: two that lie far out alike hide each
    other. It supposes that the others are normal. It names a value; whether there is a reason to leave it out, the bench decides.
    """
    _check_share(significance, "The significance")
    values = np.asarray(values, dtype=float).ravel()
    known = np.flatnonzero(np.isfinite(values))
    x = values[known]
    if x.size < 3:
        return Suspect(-1, np.nan, np.nan, np.nan, False, f"not enough: {x.size} of at least 3 values")
    middle = summary(x)
    if middle.standard_deviation == 0:
        return Suspect(-1, np.nan, 0.0, grubbs_critical(x.size, significance), False, "all values are alike")
    away = np.abs(x - middle.mean) / middle.standard_deviation
    farthest = int(np.argmax(away))
    critical = grubbs_critical(x.size, significance)
    reason = "few: with fewer than 7 values only a very distant one is noticed" if x.size < 7 else ""
    return Suspect(int(known[farthest]), float(x[farthest]), float(away[farthest]), critical, bool(away[farthest] > critical), reason)


# ---------------------------------------------------------------------------------------------
# A straight line

class Line:
    """A straight line through points by least squares; all error is taken to be in y.

    Parameters
    ----------
    x, y : array
        The points; one that is not a number is left out.
    confidence : float
        How sure its bands and ranges are, 0 to 1.

    Raises
    ------
    Problem
        When there are fewer than 3 points, or all at the same x.

    Notes
    -----
    slope = Sxy / Sxx, s^2 = sum of squared residuals / (n - 2); confidence band of the line t s sqrt(1/n + (x - mean)^2 / Sxx),
    prediction band of one more point t s sqrt(1 + 1/n + ...) [nist_handbook].
    """

    def __init__(self, x, y, confidence=CONFIDENCE):
        _check_share(confidence, "The confidence")
        x, y = np.asarray(x, dtype=float).ravel(), np.asarray(y, dtype=float).ravel()
        if x.size != y.size:
            raise Problem(f"A line needs one y for each x; there are {x.size} x and {y.size} y.")
        self.places = np.flatnonzero(np.isfinite(x) & np.isfinite(y))
        self.x, self.y, self.confidence = x[self.places], y[self.places], confidence
        self.count = self.x.size
        if self.count < 3:
            raise Problem(f"not enough: a line with its uncertainty needs at least 3 points; there {'is' if self.count == 1 else 'are'} {self.count}.")
        self.x_mean, self.y_mean = self.x[0] + np.mean(self.x - self.x[0]), self.y[0] + np.mean(self.y - self.y[0])
        away = self.x - self.x_mean
        self._sxx = float(np.sum(away**2))
        if self._sxx <= (1e-9 * max(abs(self.x_mean), 1e-300)) ** 2 * self.count:
            raise Problem("not enough: all points have the same x, so they give no slope; measure at two or more that differ.")
        self.slope = float(np.sum(away * (self.y - self.y_mean)) / self._sxx)
        self.intercept = float(self.y_mean - self.slope * self.x_mean)
        self.residuals = self.y - self.y_mean - self.slope * away
        self.freedom = self.count - 2
        self.residual_deviation = float(np.sqrt(np.sum(self.residuals**2) / self.freedom))
        self.slope_error = float(self.residual_deviation / np.sqrt(self._sxx))
        self.intercept_error = float(self.residual_deviation * np.sqrt(1.0 / self.count + self.x_mean**2 / self._sxx))

    @property
    def t(self):
        """Student's t of the bands."""
        return float(student(0.5 + self.confidence / 2, self.freedom))

    @property
    def slope_range(self):
        """Confidence interval of the slope, low and high."""
        return self.slope - self.t * self.slope_error, self.slope + self.t * self.slope_error

    def at(self, x):
        """Return the line at x."""
        return self.y_mean + self.slope * (np.asarray(x, dtype=float) - self.x_mean)

    def confidence_band(self, x):
        """Return low and high between which the line lies at x."""
        return self._band(x, 0.0)

    def prediction_band(self, x):
        """Return low and high between which one more point at x would lie."""
        return self._band(x, 1.0)

    def _band(self, x, one_more):
        middle = self.at(x)
        away = np.asarray(x, dtype=float) - self.x_mean
        half = self.t * self.residual_deviation * np.sqrt(one_more + 1.0 / self.count + away**2 / self._sxx)
        return middle - half, middle + half

    def inside(self, x):
        """Return whether x lies within the points that were measured; outside it is extrapolated."""
        x = np.asarray(x, dtype=float)
        return (x >= self.x.min() - 1e-12) & (x <= self.x.max() + 1e-12)

    def studentised(self):
        """Return how many standard deviations each point lies from the line fitted to the others.

        Returns
        -------
        array
            Not a number with fewer than 4 points, or where a point alone carries the slope.

        Notes
        -----
        r sqrt[(n - 3) / (n - 2 - r^2)] with r = residual / (s sqrt(1 - leverage)), the externally studentised residual [cook_1982].
        """
        if self.count < 4:
            return np.full(self.count, np.nan)
        free = 1.0 - 1.0 / self.count - (self.x - self.x_mean) ** 2 / self._sxx
        scale = self.residual_deviation if self.residual_deviation > 1e-12 * max(np.max(np.abs(self.y)), 1e-300) else np.nan
        with np.errstate(invalid="ignore", divide="ignore"):
            r = np.where(free > 1e-9, self.residuals / (scale * np.sqrt(np.maximum(free, 1e-12))), np.nan)
            left = np.maximum(self.count - 2 - r**2, 1e-12)
            return r * np.sqrt((self.count - 3) / left)

    def suspect(self, significance=0.05):
        """Ask whether the point farthest from the line of the others is an outlier.

        Parameters
        ----------
        significance : float
            How often a point of a line without outlier would be called one.

        Returns
        -------
        Suspect
            `place` counts in the points as they were given.

        Notes
        -----
        The largest studentised residual against Student's t with n - 3 degrees of freedom at significance / (2 n), since the
        farthest of n was picked [cook_1982]. For one suspect at a time.
        """
        _check_share(significance, "The significance")
        away = np.abs(self.studentised())
        if not np.any(np.isfinite(away)):
            return Suspect(-1, np.nan, np.nan, np.nan, False, f"not enough: {self.count} of at least 4 points that do not lie exactly on the line")
        farthest = int(np.nanargmax(away))
        critical = float(student(1.0 - significance / (2 * self.count), self.count - 3))
        return Suspect(int(self.places[farthest]), float(self.y[farthest]), float(away[farthest]), critical, bool(away[farthest] > critical), "")


def chance_of_t(t, freedom):
    """Chance that a Student's t lies at least so far from 0 on either side.

    Parameters
    ----------
    t : float or array
    freedom : float, degrees of freedom, 1 or more

    Returns
    -------
    float or array, 0 to 1

    Notes
    -----
    Twice the lower tail at -|t| [nist_handbook].
    """
    return 2.0 * stdtr(freedom, -np.abs(t))
