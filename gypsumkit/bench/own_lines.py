"""The own strength-porosity line and the own flow curve, each with its bands and beside the library's."""

from dataclasses import dataclass

import numpy as np

from gypsumkit import powders
from gypsumkit.bench.own_data import STANDARD, predict_rows
from gypsumkit.bench.statistics import CONFIDENCE, Line, Suspect, grubbs, student, summary
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.problems import Problem
from gypsumkit.science import flow, ring
from gypsumkit.showing import range_words, rounded


@dataclass(frozen=True, eq=False)
class StrengthLine:
    """Logarithm of the own wet strength against the predicted porosity of what was weighed, as a straight line."""

    porosity: object
    strength_mpa: object
    powder: object
    places: object                   # of the points in the records
    line: Line
    left_out: tuple

    def at(self, porosity):
        """Return strength, low and high of the line, MPa, at a porosity."""
        low, high = self.line.confidence_band(porosity)
        return np.exp(self.line.at(porosity)), np.exp(low), np.exp(high)

    def one_more(self, porosity):
        """Return low and high between which one more strength would lie, MPa."""
        return tuple(np.exp(one) for one in self.line.prediction_band(porosity))

    @property
    def loss_rate(self):
        """How fast strength falls with porosity: value, low, high."""
        low, high = self.line.slope_range
        return -self.line.slope, -high, -low

    @property
    def at_30_mpa(self):
        """Strength at a porosity of 0.30: value, low, high."""
        return tuple(float(one) for one in self.at(0.30))

    @property
    def library_at_30(self):
        """The library's strength at a porosity of 0.30: of the powder where there is one only, else of all."""
        names = set(self.powder)
        return POWDERS[names.pop()].strength_at_30_mpa if len(names) == 1 else powders.STRENGTH_AT_30_PERCENT

    @property
    def extrapolated(self):
        """Whether a porosity of 0.30 lies outside what was measured."""
        return not bool(self.line.inside(0.30))

    def suspect(self):
        """Return the point farthest from the line of the others; its place is that in the records."""
        found = self.line.suspect()
        return found if found.place < 0 else found._replace(place=int(self.places[found.place]), value=float(np.exp(found.value)))


def strength_line(compared, leave_out=()):
    """Fit the own strength-porosity line.

    Parameters
    ----------
    compared : Comparison
        Of the strength.
    leave_out : sequence of int
        Rows left out of the fit; they stay in the picture.

    Returns
    -------
    StrengthLine

    Raises
    ------
    Problem
        When there are too few strengths or all at one porosity; says what would be needed.

    Notes
    -----
    ln strength against porosity is a straight line in the law of [ryshkewitch_1953]. The porosity is not measured: it is predicted from
    the ratio that was weighed, so an error of weighing is an error in x, which this fit takes for one in y.
    """
    wet = compared.counted & (compared.records["crushed_state"] != "dry") & (compared.measured > 0)
    places = np.flatnonzero(wet & ~np.isin(np.arange(len(wet)), list(leave_out)))
    if places.size < 3:
        raise Problem(f"not enough: a line of strength against porosity needs at least 3 wet strengths; there {_are(places.size)}.")
    porosity = predict_rows(compared.records.where(places), ("porosity",)).value["porosity"]
    strength = compared.measured[places]
    try:
        line = Line(porosity, np.log(strength))
    except Problem:
        raise Problem("not enough: all strengths are of one water/powder ratio; a line needs two or more ratios.") from None
    return StrengthLine(porosity, strength, compared.powder[places], places, line, tuple(leave_out))


def _are(count):
    return f"{'is' if count == 1 else 'are'} {count}"


@dataclass(frozen=True, eq=False)
class FlowCurve:
    """Own yield stress against the part of powder in the mix, and the own stiffness constant fitted to it."""

    powder: str
    fraction: object                 # powder in the fresh mix, by volume
    stress_pa: object                # brought to the standard moment and way of mixing, still
    places: object
    stiffness_pa: tuple              # value, low, high
    spread_of_one: float             # factor between which one more point lies
    suspect: Suspect                 # by the logarithm of its own constant; its place is that in the records
    left_out: tuple

    def at(self, fraction):
        """Return yield stress, low and high of the own curve, Pa, at a part of powder."""
        shape = self._shape(fraction)
        return tuple(one * shape for one in self.stiffness_pa)

    def one_more(self, fraction):
        """Return low and high between which one more mix would lie, Pa."""
        middle = self.stiffness_pa[0] * self._shape(fraction)
        return middle / self.spread_of_one, middle * self.spread_of_one

    def _shape(self, fraction):
        return flow.yield_stress_pa(np.minimum(np.asarray(fraction) / POWDERS[self.powder].jamming_fraction.value, 0.995), 1.0)

    def inside(self, fraction):
        """Return whether a part of powder lies within what was measured."""
        return (np.asarray(fraction) >= self.fraction.min() - 1e-12) & (np.asarray(fraction) <= self.fraction.max() + 1e-12)


def flow_curve(compared, powder, leave_out=()):
    """Fit the own stiffness constant of a powder to own ring spreads.

    Parameters
    ----------
    compared : Comparison
        Of the spread.
    powder : str
        Which powder.
    leave_out : sequence of int
        Rows left out of the fit; they stay in the picture.

    Returns
    -------
    FlowCurve

    Raises
    ------
    Problem
        When there are fewer than 3 spreads of it beyond the ring; says what would be needed.

    Notes
    -----
    The spread gives the stiffness number by `ring.resting_stiffness`, times density x gravity x height the yield stress
    [gypsumkit]. Moment, turns, temperature and vibrator are taken out by the factor that the library predicts for them. The form
    of the curve and the fraction at which the grains jam are the library's [flatt_2006]; only the stiffness is fitted, as the
    mean of its logarithm with Student's interval.
    """
    kind = find_powder(powder)
    rows = compared.counted & (compared.powder == kind.name)
    places = np.flatnonzero(rows & ~np.isin(np.arange(len(rows)), list(leave_out)))
    if places.size < 3:
        stood = int(np.sum(compared.stands & (compared.powder == kind.name)))
        raise Problem(f"not enough: a flow curve needs at least 3 spreads of {kind.name} wider than the ring, better at 2 or more ratios; "
                      f"there {_are(places.size)}" + (f" ({stood} more stood as they were cast)." if stood else "."))
    records = compared.records.where(places)
    found = predict_rows(records, ("yield_stress_pa", "wet_density_g_cm3", "powder_volume_fraction"), of_the_ring=True)
    width, height = (np.where(np.isnan(records[name]), STANDARD[name], records[name]) for name in ("ring_diameter_mm", "ring_height_mm"))
    number = ring.resting_stiffness(np.maximum(records.spread_mm / width, 1.0), width, height)
    here = number * ring.pressure_at_foot_pa(found.value["wet_density_g_cm3"], height)
    expected = found.value["yield_stress_pa"] / np.where(records["vibrated"] == "yes", 1.0 + powders.VIBRATION_THINNING.value, 1.0)
    own = np.log(kind.stiffness_pa.value * here / expected)
    middle = summary(own)
    fraction = found.value["powder_volume_fraction"]
    shape = flow.yield_stress_pa(np.minimum(fraction / kind.jamming_fraction.value, 0.995), 1.0)
    one_more = float(student(0.5 + CONFIDENCE / 2, middle.count - 1)) * middle.standard_deviation * np.sqrt(1.0 + 1.0 / middle.count)
    far = grubbs(own)
    far = far if far.place < 0 else far._replace(place=int(places[far.place]), value=float(np.exp(far.value)))
    return FlowCurve(kind.name, fraction, np.exp(own) * shape, places, tuple(float(np.exp(one)) for one in (middle.mean, middle.low, middle.high)),
                     float(np.exp(one_more)), far, tuple(leave_out))


# ---------------------------------------------------------------------------------------------
# In words

def strength_line_words(own):
    """Say the own strength line beside the library's.

    Parameters
    ----------
    own : StrengthLine

    Returns
    -------
    str
    """
    rate, at_30 = powders.STRENGTH_LOSS_RATE, own.library_at_30
    value, low, high = own.loss_rate
    mine, least, most = own.at_30_mpa
    beyond = " (extrapolated: no such porosity was measured)" if own.extrapolated else ""
    return (f"Own line through {own.line.count} strengths at a porosity of {100 * own.porosity.min():.0f} to {100 * own.porosity.max():.0f} %: at 30 % "
            f"{rounded(mine, 3)} MPa, 95 % sure {range_words(least, most)}{beyond}; library {at_30.value:.3g} ({range_words(at_30.low, at_30.high)}). Each "
            f"further 1 % of pores takes {rounded(value, 2)} %, 95 % sure {range_words(low, high)}; library {rounded(rate.value, 2)} "
            f"({range_words(rate.low, rate.high)}).")


def flow_curve_words(own):
    """Say the own stiffness beside the library's.

    Parameters
    ----------
    own : FlowCurve

    Returns
    -------
    str
    """
    library = POWDERS[own.powder].stiffness_pa
    value, low, high = own.stiffness_pa
    text = (f"Own flow curve of {own.powder}, through {len(own.places)} spreads: stiffness {rounded(value, 3)} Pa, 95 % sure {rounded(low, 3)} to "
            f"{rounded(high, 3)}; library {rounded(library.value)} ({rounded(library.low)} to {rounded(library.high)}).")
    return text + (" All at one ratio: the form of the curve is not tested." if np.ptp(own.fraction) < 0.005 else "")
