"""Everything that is predicted of a mix, each quantity with its unit, plausible range, validity and source.

The plausible range of a prediction comes from the ranges of the constants behind it: each constant in turn is set to its low
and to its high value, and the changes are added as independent errors add (root of the sum of squares, upward and downward
apart). It is deterministic, so a picture does not shiver, and it is tested against drawing all constants at random.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from gypsumkit import powders
from gypsumkit.powders import MIXING_METHODS, POWDERS, find_mixing, find_powder
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe, checked_ratio, checked_temperature
from gypsumkit.science import air, flow, hydration, pores, ring, strength, water


class Quantity(NamedTuple):
    """What a predicted quantity is: words for the reader, unit, source, and which law's range it belongs to."""

    words: str
    unit: str
    source: str
    law: str


QUANTITIES = {
    "degree_of_hydration": Quantity("part of the powder that sets", "1", "iupac_weights", "mass"),
    "free_water_percent": Quantity("water left free, of the wet mass", "%", "iupac_weights", "mass"),
    "powder_volume_fraction": Quantity("powder in the fresh mix, by volume", "1", "gypsumkit", "mass"),
    "air_fraction": Quantity("trapped air, by volume", "1", "gypsumkit", "flow"),
    "porosity": Quantity("porosity, dried", "1", "gypsumkit", "mass"),
    "dry_density_g_cm3": Quantity("density, dried", "g/cm3", "gypsumkit", "mass"),
    "wet_density_g_cm3": Quantity("density, wet", "g/cm3", "gypsumkit", "mass"),
    "yield_stress_pa": Quantity("yield stress", "Pa", "flatt_2006", "flow"),
    "plastic_viscosity_pa_s": Quantity("plastic viscosity", "Pa s", "krieger_1959", "flow"),
    "spread_mm": Quantity("ring spread, still", "mm", "roussel_2005", "spread"),
    "slump_mm": Quantity("slump, still", "mm", "gypsumkit", "slump"),
    "vibrated_spread_mm": Quantity("ring spread, on the vibrator", "mm", "roussel_2005", "spread"),
    "vibrated_slump_mm": Quantity("slump, on the vibrator", "mm", "gypsumkit", "slump"),
    "wet_strength_mpa": Quantity("compressive strength, wet, 1 h", "MPa", "ryshkewitch_1953", "strength"),
    "dry_strength_mpa": Quantity("compressive strength, dry", "MPa", "ryshkewitch_1953", "strength"),
    "relative_strength": Quantity("strength over that at the recommended ratio", "1", "gypsumkit", "strength"),
}

# Where the laws may be trusted; outside they are still computed and called extrapolated.
FLOW_TRUSTED_PA = (15.0, 2000.0)
STRENGTH_TRUSTED_POROSITY = (0.13, 0.50)
TEMPERATURE_TRUSTED_C = (15.0, 35.0)
TIMED_LAWS = ("flow", "spread", "slump")
LATEST_SHARE_OF_GLOSS = 0.85
EARLIEST_MIN = 0.5


@dataclass(frozen=True)
class Prediction:
    """One predicted quantity, for one ratio or for an array of them.

    Parameters
    ----------
    value, low, high : float or array
        The prediction and its plausible range, in `unit`; None when it cannot be predicted.
    unit : str
        Unit, "1" for a pure number.
    valid : bool or array
        False when the law is used outside the range it was made for.
    reason : str
        Why it is not valid, else empty.
    source : str
        Key into `gypsumkit.sources.SOURCES`.
    """

    value: object
    unit: str
    low: object
    high: object
    valid: object
    reason: str
    source: str

    def one(self, place):
        """Return the prediction of one ratio out of an array of them.

        Parameters
        ----------
        place : int
            Its place in the array.

        Returns
        -------
        Prediction
        """
        valid = bool(self.valid[place])
        return Prediction(self.value[place], self.unit, self.low[place], self.high[place], valid, "" if valid else self.reason, self.source)

    def as_dict(self):
        """Return a plain dictionary with value, unit, low, high, valid, reason and source, fit for JSON.

        Returns
        -------
        dict
        """
        def plain(x):
            x = np.asarray(x)
            return x.item() if x.ndim == 0 else x.tolist()
        return {"value": plain(self.value), "unit": self.unit, "low": plain(self.low), "high": plain(self.high),
                "valid": plain(self.valid), "reason": self.reason, "source": self.source}


def _constants(powder, mixing):
    """The uncertain constants that bear on this powder."""
    return {
        "powder_density": powder.density_g_cm3,
        "gypsum_density": powders.GYPSUM_DENSITY,
        "jamming_fraction": powder.jamming_fraction,
        "stiffness": powder.stiffness_pa,
        "roughness": powder.grain_roughness,
        "thinning": powders.VIBRATION_THINNING,
        "mixing_air": MIXING_METHODS[mixing],
        "gloss_loss": powder.gloss_loss_min,
        "strength_at_30": powders.STRENGTH_AT_30_PERCENT,
        "loss_rate": powders.STRENGTH_LOSS_RATE,
        "dry_over_wet": powders.DRY_OVER_WET,
    }


def _one_at_a_time(constants):
    """Columns of constants: first row all at their values, then each in turn at its low and at its high."""
    columns = {}
    for i, (name, number) in enumerate(constants.items()):
        column = np.full((1 + 2 * len(constants), 1), float(number.value))
        column[1 + 2 * i], column[2 + 2 * i] = number.low, number.high
        columns[name] = column
    return columns


def _strength(c, ratio, water_density, air_fraction):
    porosity = pores.porosity(ratio, hydration.final_degree_of_hydration(ratio), c["powder_density"], c["gypsum_density"],
                              water_density, air_fraction)
    return porosity, strength.wet_strength_mpa(porosity, c["strength_at_30"], c["loss_rate"])


def _all_quantities(c, powder, ratio, temperature_c, time_min, ring_mm=ring.RING_MM):
    """Every quantity, for constants `c` (columns) and ratios (a row)."""
    diameter, height = ring_mm
    water_density = water.water_density_g_cm3(temperature_c)
    degree = hydration.final_degree_of_hydration(ratio)
    packed = flow.powder_volume_fraction(ratio, c["powder_density"], water_density)
    crowding = np.minimum(packed / c["jamming_fraction"], 0.995)
    standard = flow.yield_stress_pa(crowding, c["stiffness"])
    thicker = flow.thickening(time_min, c["gloss_loss"], powder.standard_time_min)
    trapped = air.air_fraction(c["mixing_air"], standard, powders.POURS_BELOW_PA.value)
    density = pores.wet_density_g_cm3(ratio, c["powder_density"], water_density, trapped)
    yield_stress = standard * thicker
    still = ring.spread_ratio(ring.stiffness_number(yield_stress, density, height), diameter, height)
    thinned = yield_stress / (1.0 + c["thinning"])
    shaken = ring.spread_ratio(ring.stiffness_number(thinned, density, height), diameter, height)
    porosity, wet = _strength(c, ratio, water_density, trapped)

    usual = powder.recommended_ratio.value
    usual_air = air.air_fraction(MIXING_METHODS["spatulated by hand"].value, 0.0, powders.POURS_BELOW_PA.value)
    _, usual_wet = _strength(c, usual, water.water_density_g_cm3(powders.ROOM_C), usual_air)
    return {
        "degree_of_hydration": degree,
        "free_water_percent": 100.0 * hydration.free_water_fraction(ratio, degree),
        "powder_volume_fraction": packed,
        "air_fraction": trapped,
        "porosity": porosity,
        "dry_density_g_cm3": pores.dry_density_g_cm3(ratio, degree, c["powder_density"], water_density, trapped),
        "wet_density_g_cm3": density,
        "yield_stress_pa": yield_stress,
        "plastic_viscosity_pa_s": thicker * flow.plastic_viscosity_pa_s(
            crowding, c["jamming_fraction"], c["roughness"], water.water_viscosity_pa_s(temperature_c)),
        "spread_mm": diameter * still,
        "slump_mm": ring.slump_mm(still, height),
        "vibrated_spread_mm": diameter * shaken,
        "vibrated_slump_mm": ring.slump_mm(shaken, height),
        "wet_strength_mpa": wet,
        "dry_strength_mpa": strength.dry_strength_mpa(wet, c["dry_over_wet"]),
        "relative_strength": wet / usual_wet,
    }


def _range(rows):
    """Value, low and high from one row of values and pairs of rows with one constant moved."""
    value = rows[0]
    change = rows[1:].reshape(-1, 2, rows.shape[1]) - value
    up = np.sqrt(np.sum(np.maximum(change.max(axis=1), 0.0) ** 2, axis=0))
    down = np.sqrt(np.sum(np.minimum(change.min(axis=1), 0.0) ** 2, axis=0))
    return value, np.maximum(value - down, 0.0), value + up


def _trust(temperature_c, values, ring_mm=ring.RING_MM):
    """Where each law may be trusted, and what to say where not."""
    warm = TEMPERATURE_TRUSTED_C[0] <= temperature_c <= TEMPERATURE_TRUSTED_C[1]
    stress, porosity = values["yield_stress_pa"][0], values["porosity"][0]
    at_room = "" if warm else f"; water at {temperature_c:g} °C, made for 15 to 35 °C"
    flows = (stress >= FLOW_TRUSTED_PA[0]) & (stress <= FLOW_TRUSTED_PA[1]) & warm
    of_flow = "" if np.all(flows) else "extrapolated: the flow law is made for a yield stress of 15 to 2000 Pa" + at_room
    least, most = ring.COMPARED_WIDTH_OVER_HEIGHT
    compared = least <= ring_mm[0] / ring_mm[1] <= most
    of_shape = "" if compared else f"extrapolated: the ring law was compared for rings {least:g} to {most:g} times as wide as high"
    standard = tuple(ring_mm) == ring.RING_MM
    of_height = "" if standard else "extrapolated: heights were read for the 35 x 50 mm ring"
    return {
        "mass": (np.ones_like(stress, dtype=bool), ""),
        "flow": (flows, of_flow),
        "spread": (flows & compared, "; ".join(filter(None, (of_flow, of_shape)))),
        "slump": (flows & standard, "; ".join(filter(None, (of_flow, of_height)))),
        "strength": ((porosity >= STRENGTH_TRUSTED_POROSITY[0]) & (porosity <= STRENGTH_TRUSTED_POROSITY[1]) & warm,
                     "extrapolated: the strength law is made for a porosity of 0.13 to 0.50" + at_room),
    }


def predict(powder, water_powder_ratio, mixing="spatulated by hand", water_temperature_c=powders.ROOM_C, time_min=None,
            ring_mm=ring.RING_MM):
    """Predict everything of one powder at one or many water/powder ratios.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float or array
        mL water per g powder, any shape of one dimension, each within what makes a paste.
    mixing : str
        Name of a mixing method.
    water_temperature_c : float
        °C, 5 to 50.
    time_min : float, optional
        Moment for flow quantities, min from the start of mixing; the ring test's own moment if not given.
    ring_mm : tuple of float
        Inside diameter and height of the ring, mm, each 5 to 300; the standard 35 x 50 mm ring if not given.

    Returns
    -------
    dict of str to Prediction
        One entry for each name in `QUANTITIES`; arrays when the ratio is an array.

    Raises
    ------
    Problem
        When a part of the recipe is unknown or out of range.
    """
    kind, mixing, temperature = find_powder(powder), find_mixing(mixing), checked_temperature(water_temperature_c)
    ring_mm = checked_ring(ring_mm)
    many = np.ndim(water_powder_ratio) > 0
    ratios = np.array([checked_ratio(kind, one) for one in np.atleast_1d(water_powder_ratio)])
    moment = kind.standard_time_min if time_min is None else float(time_min)
    latest = LATEST_SHARE_OF_GLOSS * kind.gloss_loss_min.value
    in_time = EARLIEST_MIN <= moment <= latest
    computed_at = moment if in_time else kind.standard_time_min

    columns = _one_at_a_time(_constants(kind, mixing))
    values = _all_quantities(columns, kind, ratios[np.newaxis, :], temperature, computed_at, ring_mm)
    values = {name: np.broadcast_to(rows, (len(columns) * 2 + 1, len(ratios))) for name, rows in values.items()}
    trust = _trust(temperature, values, ring_mm)
    timed = {name for name, q in QUANTITIES.items() if q.law in TIMED_LAWS} - {"air_fraction"}
    shape = (lambda x: x) if many else (lambda x: x[0])
    result = {}
    for name, quantity in QUANTITIES.items():
        valid, reason = trust[quantity.law]
        if name in timed and not in_time:
            nothing = np.full(len(ratios), None)
            why = f"no prediction of flow at {moment:g} min: it is made for {EARLIEST_MIN:g} to {latest:.3g} min after mixing starts"
            result[name] = Prediction(shape(nothing), quantity.unit, shape(nothing), shape(nothing),
                                      shape(np.zeros(len(ratios), bool)), why, quantity.source)
            continue
        value, low, high = _range(values[name])
        if quantity.law == "spread":
            low = np.maximum(low, ring_mm[0])      # a mix that stands is as wide as its ring, never narrower
        result[name] = Prediction(shape(value), quantity.unit, shape(low), shape(high), shape(valid),
                                  "" if np.all(valid) else reason, quantity.source)
    return result


class Mix:
    """One recipe and everything predicted of it; each quantity of `QUANTITIES` is an attribute.

    Parameters
    ----------
    recipe : Recipe
        What goes into the bowl.
    time_min : float, optional
        Moment for flow quantities, min from the start of mixing; the ring test's own moment if not given.
    ring_mm : tuple of float
        Inside diameter and height of the ring, mm; the standard 35 x 50 mm ring if not given.

    Raises
    ------
    Problem
        When the recipe or the ring is out of range.
    """

    def __init__(self, recipe, time_min=None, ring_mm=ring.RING_MM):
        self.recipe = recipe
        self.powder = POWDERS[recipe.powder]
        self.time_min = self.powder.standard_time_min if time_min is None else time_min
        self.ring_mm = checked_ring(ring_mm)
        self.predictions = predict(recipe.powder, recipe.water_powder_ratio, recipe.mixing, recipe.water_temperature_c, time_min,
                                   ring_mm)

    def __getattr__(self, name):
        if name in QUANTITIES and "predictions" in self.__dict__:
            return self.predictions[name]
        raise AttributeError(f"A mix has no quantity called '{name}'.")

    def at(self, time_min):
        """Return the same mix at another moment.

        Parameters
        ----------
        time_min : float
            min from the start of mixing.

        Returns
        -------
        Mix
        """
        return Mix(self.recipe, time_min, self.ring_mm)

    def in_ring(self, diameter_mm, height_mm):
        """Return the same mix tested in another ring.

        Parameters
        ----------
        diameter_mm, height_mm : float
            Inside size of the ring, mm, each 5 to 300.

        Returns
        -------
        Mix

        Raises
        ------
        Problem
            When the size is out of range.
        """
        return Mix(self.recipe, self.time_min, (diameter_mm, height_mm))

    def volumes(self, degree_of_hydration=None):
        """Return what fills the mass by volume, fresh (0), part set, or fully set (the default).

        Parameters
        ----------
        degree_of_hydration : float, optional
            0 to the most this mix can reach.

        Returns
        -------
        gypsumkit.science.pores.Volumes
        """
        most = float(self.degree_of_hydration.value)
        degree = most if degree_of_hydration is None else min(float(degree_of_hydration), most)
        return pores.volumes(self.recipe.water_powder_ratio, degree, self.powder.density_g_cm3.value,
                             powders.GYPSUM_DENSITY.value, float(water.water_density_g_cm3(self.recipe.water_temperature_c)),
                             float(self.air_fraction.value))

    @property
    def consistency(self):
        """How the mix would be called at the bench, from its yield stress."""
        return consistency(self.yield_stress_pa.value)


def consistency(yield_stress_pa):
    """Name the consistency of a mix as the bench would.

    Parameters
    ----------
    yield_stress_pa : float
        Pa, of the still mix; None when it cannot be predicted.

    Returns
    -------
    str
        "too stiff to pour", "pours" or "runny"; "not predicted" for None.
    """
    if yield_stress_pa is None:
        return "not predicted"
    if yield_stress_pa > powders.POURS_BELOW_PA.value:
        return "too stiff to pour"
    return "pours" if yield_stress_pa >= powders.POURS_ABOVE_PA.value else "runny"


def ratio_at_yield_stress(powder, yield_stress_pa, time_min=None):
    """Return the water/powder ratio at which a powder, at 23 °C, has a wanted yield stress.

    Parameters
    ----------
    powder : str
        Name of a powder.
    yield_stress_pa : float or array
        Pa, above 0.
    time_min : float, optional
        min from the start of mixing; the ring test's own moment if not given.

    Returns
    -------
    float or array
        mL per g; the driest or the wettest paste when no paste is so stiff or so runny.

    Raises
    ------
    Problem
        When the powder is unknown.
    """
    kind = find_powder(powder)
    ratios = np.linspace(kind.least_ratio, kind.most_ratio, 2000)
    crowding = flow.powder_volume_fraction(ratios, kind.density_g_cm3.value, water.water_density_g_cm3(powders.ROOM_C)) \
        / kind.jamming_fraction.value
    moment = kind.standard_time_min if time_min is None else time_min
    stress = flow.yield_stress_pa(crowding, kind.stiffness_pa.value) \
        * flow.thickening(moment, kind.gloss_loss_min.value, kind.standard_time_min)
    return np.interp(-np.asarray(yield_stress_pa, dtype=float), -stress, ratios)


def pourable_ratios(powder, time_min=None):
    """Return the least and the most water/powder ratio at which a powder pours, at 23 °C.

    Parameters
    ----------
    powder : str
        Name of a powder.
    time_min : float, optional
        min from the start of mixing; the ring test's own moment if not given.

    Returns
    -------
    tuple of float
        mL per g: the ratio at the stiff end and at the runny end.

    Raises
    ------
    Problem
        When the powder is unknown.
    """
    limits = [powders.POURS_BELOW_PA.value, powders.POURS_ABOVE_PA.value]
    stiff, runny = ratio_at_yield_stress(powder, limits, time_min)
    return float(stiff), float(runny)


def checked_ring(ring_mm):
    """Return the inside diameter and height of a ring once both are in range.

    Parameters
    ----------
    ring_mm : pair of float
        Diameter and height, mm, each 5 to 300.

    Returns
    -------
    tuple of float

    Raises
    ------
    Problem
        When it is not two such numbers.
    """
    try:
        diameter, height = (float(one) for one in ring_mm)
    except (TypeError, ValueError):
        raise Problem(f"A ring is given by two numbers, inside diameter and height in mm, as (35, 50); {ring_mm!r} is not.") from None
    for name, size in (("diameter", diameter), ("height", height)):
        if not 5.0 <= size <= 300.0:
            raise Problem(f"The {name} of the ring is given as {size:g} mm; this course computes rings of 5 to 300 mm.")
    return diameter, height
