"""Everything that is predicted of a mix, each quantity with its unit, plausible range, validity and source.

The plausible range of a prediction comes from the ranges of the constants behind it: each constant in turn is set to its low
and to its high value, and the changes are added as independent errors add (root of the sum of squares, upward and downward
apart). It is deterministic, so a picture does not shiver, and it is tested against drawing all constants at random.
"""

from dataclasses import dataclass
from functools import cached_property
from math import isfinite
from typing import NamedTuple

import numpy as np

from gypsumkit import clock, powders
from gypsumkit.checks import checked_number
from gypsumkit.conditions import Conditions
from gypsumkit.powders import MIXING_METHODS, POWDERS, find_powder
from gypsumkit.plausible import one_at_a_time, value_and_range
from gypsumkit.problems import Problem
from gypsumkit.recipe import checked_ratio
from gypsumkit.remembering import remembered
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
    "relative_strength": Quantity("strength compared with that at the recommended ratio", "1", "gypsumkit", "strength"),
}

SETTING_QUANTITIES = {
    "working_time_min": Quantity("time to work: it pours until", "min", "gypsumkit", "clock"),
    "initial_set_min": Quantity("initial set, Vicat needle", "min", "iso_6873", "clock"),
    "gloss_loss_min": Quantity("loss of gloss", "min", "gypsumkit", "clock"),
    "light_needle_min": Quantity("light needle leaves no mark", "min", "darmawan_2020", "clock"),
    "final_set_min": Quantity("final set, heavy needle", "min", "darmawan_2020", "clock"),
    "peak_temperature_c": Quantity("hottest, of this batch in one lump", "°C", "kelley_1941", "clock"),
    "peak_temperature_min": Quantity("hottest at", "min", "gypsumkit", "clock"),
    "setting_expansion_percent": Quantity("setting expansion at 2 h, in air", "%", "teaching_sets", "clock"),
}

TIMELINE_QUANTITIES = {
    "degree_of_hydration": Quantity("part of the powder that has set", "1", "gypsumkit", "clock"),
    "temperature_c": Quantity("temperature of the mass", "°C", "kelley_1941", "clock"),
    "dissolved_mmol_kg": Quantity("dissolved calcium sulfate", "mmol/kg", "thermoddem", "clock"),
    "yield_stress_pa": Quantity("yield stress", "Pa", "flatt_2006", "clock"),
    "strength_mpa": Quantity("compressive strength, wet", "MPa", "gypsumkit", "clock"),
    "expansion_percent": Quantity("setting expansion, in air", "%", "gypsumkit", "clock"),
}

# Where the laws may be trusted; outside they are still computed and called extrapolated.
FLOW_TRUSTED_PA = (15.0, 2000.0)
STRENGTH_TRUSTED_POROSITY = (0.13, 0.50)
TEMPERATURE_TRUSTED_C = (15.0, 35.0)
HOTTEST_TRUSTED_C = 85.0
TIMED_LAWS = ("flow", "spread", "slump")
EARLIEST_MIN, LATEST_ASKED_MIN = 0.5, 1e6
STANDS_AFTER_GLOSS = ("spread_mm", "vibrated_spread_mm", "slump_mm", "vibrated_slump_mm")


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
            listed = x.item() if x.ndim == 0 else x.tolist()
            return [None if one != one else one for one in listed] if x.ndim else listed
        return {"value": plain(self.value), "unit": self.unit, "low": plain(self.low), "high": plain(self.high),
                "valid": plain(self.valid), "reason": self.reason, "source": self.source}


def _constants(powder, mixing):
    """The uncertain constants that bear on flow, volumes and strength of this powder."""
    return {
        "powder_density": powder.density_g_cm3,
        "gypsum_density": powders.GYPSUM_DENSITY,
        "jamming_fraction": powder.jamming_fraction,
        "stiffness": powder.stiffness_pa,
        "roughness": powder.grain_roughness,
        "thinning": powders.VIBRATION_THINNING,
        "mixing_air": MIXING_METHODS[mixing],
        "strength_at_30": powder.strength_at_30_mpa,
        "loss_rate": powders.STRENGTH_LOSS_RATE,
        "dry_over_wet": powders.DRY_OVER_WET,
    }


def _one_at_a_time(constants):
    """Columns of constants: first row all at their values, then each in turn at its low and at its high."""
    return {name: column[:, np.newaxis] for name, column in zip(constants, one_at_a_time(constants.values()))}


def _columns(constants, ranges):
    """The columns of constants, or only their first row when no ranges are wanted."""
    columns = _one_at_a_time(constants)
    return columns if ranges else {name: column[:1] for name, column in columns.items()}


def _strength(c, ratio, water_density, air_fraction):
    porosity = pores.porosity(ratio, hydration.final_degree_of_hydration(ratio), c["powder_density"], c["gypsum_density"],
                              water_density, air_fraction)
    return porosity, strength.wet_strength_mpa(porosity, c["strength_at_30"], c["loss_rate"])


def _all_quantities(c, powder, ratio, water_temperature_c, thicker=1.0, stronger=1.0, ring_mm=ring.RING_MM, mixing="spatulated by hand"):
    """Every quantity but those of the clock, for constants `c` (columns) and ratios (a row).

    `thicker` and `stronger` say what the moment and the conditions make of the standard yield stress and strength.
    """
    diameter, height = ring_mm
    water_density = water.water_density_g_cm3(water_temperature_c)
    degree = hydration.final_degree_of_hydration(ratio)
    packed = flow.powder_volume_fraction(ratio, c["powder_density"], water_density)
    crowding = np.minimum(packed / c["jamming_fraction"], 0.995)
    standard = flow.yield_stress_pa(crowding, c["stiffness"])
    trapped = air.air_fraction(c["mixing_air"], standard, powders.POURS_BELOW_PA.value)
    density = pores.wet_density_g_cm3(ratio, c["powder_density"], water_density, trapped)
    yield_stress = standard * thicker
    still = ring.spread_ratio(ring.stiffness_number(yield_stress, density, height), diameter, height)
    thinned = yield_stress / (1.0 + c["thinning"])
    shaken = ring.spread_ratio(ring.stiffness_number(thinned, density, height), diameter, height)
    porosity, wet = _strength(c, ratio, water_density, trapped)
    wet = wet * stronger

    usual = powder.recommended_ratio.value
    # A hand that leaves more air in this mix would leave more in the usual one too.
    usual_air = MIXING_METHODS["spatulated by hand"].value * c["mixing_air"] / MIXING_METHODS[mixing].value
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
            crowding, c["jamming_fraction"], c["roughness"], water.water_viscosity_pa_s(water_temperature_c)),
        "spread_mm": diameter * still,
        "slump_mm": ring.slump_mm(still, height),
        "vibrated_spread_mm": diameter * shaken,
        "vibrated_slump_mm": ring.slump_mm(shaken, height),
        "wet_strength_mpa": wet,
        "dry_strength_mpa": strength.dry_strength_mpa(wet, c["dry_over_wet"]),
        "relative_strength": wet / usual_wet,
    }


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


@remembered(128)
def _standard_gloss_loss_min(powder, mixing, ratios):
    """When each ratio loses its gloss under standard conditions, for all columns of constants; kept, since the moment does not enter."""
    kind = POWDERS[powder]
    columns = _one_at_a_time({**_constants(kind, mixing), **clock.constants_of(kind)})
    return clock.gloss_loss_min(clock.standard_march(kind, columns, np.array(ratios)[np.newaxis, :]))


def predict_timeline(powder, water_powder_ratio, time_min, conditions=None, ranges=True):
    """Predict what one mix does at many moments.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float
        mL water per g powder, within what makes a paste.
    time_min : array
        Moments, min from the start of mixing, 0 or more, rising.
    conditions : Conditions, optional
        How it is mixed; the standard ones if not given.
    ranges : bool
        False leaves the plausible ranges out, which is several times faster: low and high are then the value.

    Returns
    -------
    dict of str to Prediction
        One entry of arrays, one value a moment, for each name in `TIMELINE_QUANTITIES`; the yield stress is not a number after
        the loss of gloss. Strength grows as the square of the network's share, expansion as the share itself.

    Raises
    ------
    Problem
        When a part of the recipe is unknown or out of range.
    """
    moments = np.asarray(time_min, dtype=float)
    if moments.ndim != 1 or not moments.size or not np.all(np.isfinite(moments)) or moments[0] < 0 or np.any(np.diff(moments) < 0):
        raise Problem("The moments of a time line are a list of rising numbers of minutes, 0 or more.")
    kind, ratios, conditions, _ = _checked(powder, water_powder_ratio, None, None, conditions or Conditions())
    constants = {**_constants(kind, conditions.mixing), **clock.constants_of(kind)}
    columns = _columns(constants, ranges)
    ratio = ratios[np.newaxis, :1]
    standard = _all_quantities(columns, kind, ratio, powders.ROOM_C)
    standard_march = clock.standard_march(kind, columns, ratio)
    run = clock.timeline(kind, columns, ratios[0], conditions, moments)
    usually = clock.share_at(standard_march, clock.STANDARD_STRENGTH_MIN)
    thicker = flow.thickening(run["gloss_share"], 1.0, kind.standard_time_min, clock.gloss_loss_min(standard_march))
    shape = run["degree_of_hydration"].shape
    # A ratio far outside the clock's range has no network by the hour; then its share counts as it is.
    grown = run["network_share"] / np.where(usually > 0, usually, 1.0)
    values = {
        "degree_of_hydration": run["degree_of_hydration"],
        "temperature_c": run["temperature_c"],
        "dissolved_mmol_kg": run["dissolved_mmol_kg"],
        "yield_stress_pa": standard["yield_stress_pa"] * thicker,
        "strength_mpa": standard["wet_strength_mpa"] * conditions.strength_factor() * grown**2,
        "expansion_percent": clock.full_expansion_percent(kind, columns, ratio, conditions) * run["network_share"],
    }
    least, most = kind.setting.trusted_ratio
    trusted = np.full(shape[1], bool(least - 1e-9 <= ratios[0] <= most + 1e-9))
    reason = f"extrapolated: the setting constants are made for a ratio of {least:g} to {most:g}"
    fluid = run["gloss_share"][0] < 1.0
    result = {}
    for name, quantity in TIMELINE_QUANTITIES.items():
        value, low, high = value_and_range(np.broadcast_to(values[name], shape))
        why = reason
        if name == "yield_stress_pa":
            value, low, high = (np.where(fluid, x, np.nan) for x in (value, low, high))
            why = reason if not np.all(trusted) else "no yield stress after the loss of gloss: it is no longer a paste"
        result[name] = _told(quantity, value, low, high, trusted, why, True)
    return result


def _corrections(columns, kind, ratio, conditions, moment):
    """What the moment and the conditions make of standard yield stress and strength, and when each ratio loses its gloss.

    Under standard conditions at the standard moment nothing is corrected and nothing needs to be marched.
    """
    if conditions.standard and moment == kind.standard_time_min:
        return 1.0, 1.0, np.full(ratio.shape[1], np.inf)
    # Outside the ratios the clock was made for it would turn the driest mixes runny before the standard moment: the nearest ratio counts.
    ratio = np.clip(ratio, *kind.setting.trusted_ratio)
    if conditions.standard:
        gloss = _standard_gloss_loss_min(kind.name, conditions.mixing, tuple(ratio[0]))
        return flow.thickening(moment, gloss, kind.standard_time_min, gloss), 1.0, gloss[0]
    standard = clock.standard_march(kind, columns, ratio)
    marched = clock.march(kind, columns, ratio, conditions)
    gloss, standard_gloss = clock.gloss_loss_min(marched), clock.gloss_loss_min(standard)
    thicker = flow.thickening(moment, gloss, kind.standard_time_min, standard_gloss)
    hour = clock.STANDARD_STRENGTH_MIN
    stands, usually = clock.share_at(marched, hour), clock.share_at(standard, hour)
    # A ratio far outside the clock's range has no network by its account; then only the additive and the powder count.
    stronger = conditions.strength_factor() * np.where(usually > 0, stands / np.maximum(usually, 1e-9), 1.0) ** 2
    return thicker, stronger, gloss[0]


def _checked(powder, water_powder_ratio, mixing, water_temperature_c, conditions):
    kind = find_powder(powder)
    if conditions is None:
        conditions = Conditions(mixing=mixing, water_temperature_c=water_temperature_c)
    if np.ndim(water_powder_ratio) > 1 or not np.size(water_powder_ratio):
        raise Problem("Give one water/powder ratio or a plain list of them; the list is empty or nested.")
    ratios = np.array([checked_ratio(kind, one) for one in np.atleast_1d(water_powder_ratio)])
    return kind, ratios, conditions, np.ndim(water_powder_ratio) > 0


def _told(quantity, value, low, high, valid, reason, many):
    """A prediction of one ratio or many; what is no number is None for one, and never valid."""
    if not many:
        value, low, high, valid = value[0], low[0], high[0], bool(valid[0])
        if not isfinite(value):
            return Prediction(None, quantity.unit, None, None, False, reason, quantity.source)
        low, high = (x if isfinite(x) else np.float64(np.nan) for x in (low, high))
        return Prediction(value, quantity.unit, low, high, valid, "" if valid else reason, quantity.source)
    known = np.isfinite(value)
    valid = valid & known
    low, high = (np.where(np.isfinite(x), x, np.nan) for x in (low, high))
    return Prediction(np.where(known, value, np.nan), quantity.unit, low, high, valid, "" if np.all(valid) else reason, quantity.source)


def predict(powder, water_powder_ratio, mixing="spatulated by hand", water_temperature_c=powders.ROOM_C, time_min=None,
            ring_mm=ring.RING_MM, conditions=None):
    """Predict flow, volumes and strength of one powder at one or many water/powder ratios.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float or array
        mL water per g powder, any shape of one dimension, each within what makes a paste.
    mixing : str
        Name of a mixing method.
    water_temperature_c : float
        °C, 2 to 98.
    time_min : float, optional
        Moment for flow quantities, min from the start of mixing; the ring test's own moment if not given.
    ring_mm : tuple of float
        Inside diameter and height of the ring, mm, each 5 to 300; the standard 35 x 50 mm ring if not given.
    conditions : Conditions, optional
        How it is mixed, instead of `mixing` and `water_temperature_c`.

    Returns
    -------
    dict of str to Prediction
        One entry for each name in `QUANTITIES`; arrays when the ratio is an array.

    Raises
    ------
    Problem
        When a part of the recipe is unknown or out of range.
    """
    kind, ratios, conditions, many = _checked(powder, water_powder_ratio, mixing, water_temperature_c, conditions)
    ring_mm = checked_ring(ring_mm)
    moment = kind.standard_time_min if time_min is None else checked_number(time_min, "The moment", "min", 0.0, LATEST_ASKED_MIN)
    constants = _constants(kind, conditions.mixing)
    if not (conditions.standard and moment == kind.standard_time_min):
        constants.update(clock.constants_of(kind))
    columns = _one_at_a_time(constants)
    ratio = ratios[np.newaxis, :]
    thicker, stronger, gloss = _corrections(columns, kind, ratio, conditions, moment)
    values = _all_quantities(columns, kind, ratio, conditions.water_temperature_c, thicker, stronger, ring_mm, conditions.mixing)
    table = np.empty((1 + 2 * len(constants), len(QUANTITIES), len(ratios)))
    for place, name in enumerate(QUANTITIES):
        table[:, place] = values[name]
    ranges = zip(*value_and_range(table))        # of all quantities at once
    values = dict(zip(QUANTITIES, table.swapaxes(0, 1)))
    trust = _trust(conditions.water_temperature_c, values, ring_mm)
    too_early, too_late = moment < EARLIEST_MIN, moment >= gloss
    why_not = f"no prediction of flow at {moment:g} min: " + (
        f"the mix is not yet even before {EARLIEST_MIN:g} min" if too_early else "this mix has lost its gloss and is no longer a paste")
    result = {}
    for (name, quantity), (value, low, high) in zip(QUANTITIES.items(), ranges):
        valid, reason = trust[quantity.law]
        if quantity.law == "spread":
            low = np.maximum(low, ring_mm[0])      # a mix that stands is as wide as its ring, never narrower
        if quantity.law in TIMED_LAWS and name != "air_fraction":
            if name in STANDS_AFTER_GLOSS and not too_early:
                stands = ring_mm[0] if quantity.law == "spread" else 0.0
                value, low, high = (np.where(too_late, stands, x) for x in (value, low, high))
                valid = valid | too_late
            elif too_early or np.any(too_late):
                value = np.where(too_late | too_early, np.nan, value)
                reason = why_not
        result[name] = _told(quantity, value, low, high, valid, reason, many)
    return result


def predict_setting(powder, water_powder_ratio, conditions=None, ranges=True):
    """Predict when things happen, how hot it gets and how much it grows, at one or many water/powder ratios.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float or array
        mL water per g powder, any shape of one dimension, each within what makes a paste.
    conditions : Conditions, optional
        How it is mixed; the standard ones if not given.
    ranges : bool
        False leaves the plausible ranges out, which is faster: low and high are then the value.

    Returns
    -------
    dict of str to Prediction
        One entry for each name in `SETTING_QUANTITIES`; what never happens is None, or not a number in an array, and invalid.

    Raises
    ------
    Problem
        When a part of the recipe is unknown or out of range.
    """
    kind, ratios, conditions, many = _checked(powder, water_powder_ratio, None, None, conditions or Conditions())
    constants = {**_constants(kind, conditions.mixing), **clock.constants_of(kind)}
    columns = _columns(constants, ranges)
    ratio = ratios[np.newaxis, :]
    shape = (len(columns["growth"]), len(ratios))
    standard = _all_quantities(columns, kind, ratio, powders.ROOM_C)
    values = clock.setting_quantities(kind, columns, ratio, conditions, np.broadcast_to(standard["yield_stress_pa"], shape),
                                      np.broadcast_to(standard["wet_strength_mpa"], shape))
    least, most = kind.setting.trusted_ratio
    hottest = values["peak_temperature_c"][0]
    never = ~(values["final_set_min"][0] < clock.NEVER_MIN)
    trusted = (ratios >= least - 1e-9) & (ratios <= most + 1e-9)
    result = {}
    for name, quantity in SETTING_QUANTITIES.items():
        value, low, high = value_and_range(np.where(np.isfinite(values[name]), values[name], 1e9))
        if quantity.unit == "min" or name == "setting_expansion_percent":
            value = np.where(never, np.nan, value)
        high = np.where(high >= 1e8, np.nan, high)
        valid = trusted & ~never & (hottest < HOTTEST_TRUSTED_C)
        if np.any(never):
            reason = ("does not set within a day: near 97 °C powder and crystals dissolve alike, and nothing drives the setting"
                      if np.any(hottest > 85) else "does not set within a day")
        elif np.any(hottest >= HOTTEST_TRUSTED_C):
            reason = f"extrapolated: the mass grows hotter than {HOTTEST_TRUSTED_C:g} °C"
        else:
            reason = f"extrapolated: the setting constants are made for a ratio of {least:g} to {most:g}"
        result[name] = _told(quantity, value, low, high, valid, reason, many)
    return result


def standard_values(powder, water_powder_ratio, clocked=True):
    """Return what a powder does under standard conditions, without ranges; the powder need not be among `POWDERS`.

    Parameters
    ----------
    powder : gypsumkit.powders.Powder
        The powder.
    water_powder_ratio : float
        mL water per g powder, already checked.
    clocked : bool
        False leaves the quantities of the clock out.

    Returns
    -------
    dict of str to float
        By the names of `QUANTITIES` and `SETTING_QUANTITIES`; infinite what never happens.
    """
    columns = _columns({**_constants(powder, "spatulated by hand"), **clock.constants_of(powder)}, ranges=False)
    ratio = np.array([[float(water_powder_ratio)]])
    values = _all_quantities(columns, powder, ratio, powders.ROOM_C)
    if clocked:
        values.update(clock.setting_quantities(powder, columns, ratio, Conditions(), values["yield_stress_pa"], values["wet_strength_mpa"]))
    return {name: float(np.squeeze(value)) for name, value in values.items()}


class Mix:
    """One recipe and everything predicted of it; each quantity of `QUANTITIES` and `SETTING_QUANTITIES` is an attribute.

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
        self.predictions = predict(recipe.powder, recipe.water_powder_ratio, time_min=time_min, ring_mm=ring_mm, conditions=recipe)

    @cached_property
    def setting(self):
        """The quantities of the clock, computed when first asked for."""
        return predict_setting(self.recipe.powder, self.recipe.water_powder_ratio, self.recipe)

    def timeline(self, time_min):
        """Return what this mix does at many moments, as `predict_timeline`.

        Parameters
        ----------
        time_min : array
            Moments, min from the start of mixing, rising.

        Returns
        -------
        dict of str to Prediction
        """
        return predict_timeline(self.recipe.powder, self.recipe.water_powder_ratio, time_min, self.recipe)

    def everything(self):
        """Return all predictions, those of the clock included.

        Returns
        -------
        dict of str to Prediction
        """
        return {**self.predictions, **self.setting}

    def __getattr__(self, name):
        if name in QUANTITIES and "predictions" in self.__dict__:
            return self.predictions[name]
        if name in SETTING_QUANTITIES and "predictions" in self.__dict__:
            return self.setting[name]
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
    if yield_stress_pa is None or np.isnan(yield_stress_pa):
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
    stress = flow.yield_stress_pa(crowding, kind.stiffness_pa.value)
    if time_min is not None and time_min != kind.standard_time_min:
        few = ratios[::20]
        gloss = np.interp(ratios, few, _standard_gloss_loss_min(kind.name, "spatulated by hand", tuple(np.clip(few, *kind.setting.trusted_ratio)))[0])
        stress = stress * flow.thickening(time_min, gloss, kind.standard_time_min, gloss)
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
