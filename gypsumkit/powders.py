"""The five powders, the ways to mix them, and every constant with its source.

To add a powder, add a `Powder` to `POWDERS`; nothing else needs to know. The reader's own powders join them there.
"""

from dataclasses import dataclass
from functools import cached_property

from gypsumkit.problems import Problem, nearest
from gypsumkit.science import flow
from gypsumkit.sources import Sourced

ROOM_C = 23.0                 # temperature of the standard tests


def _ours(value, unit, low, high, why):
    return Sourced(value, unit, low, high, "gypsumkit", why, "our calibration")


def _trade(value, unit, low, high, why):
    return Sourced(value, unit, low, high, "trade", why, "common practice, no source")


# The strength line of all powders but those of the reader's own.
STRENGTH_AT_30_PERCENT = _ours(18.04, "MPa", 15.2, 21.4, "fit to nine handbook values; range: the largest misfit of one value")


@dataclass(frozen=True)
class Setting:
    """How one powder sets: the constants of `science.setting` and `science.expansion`, for mixing by hand."""

    growth_min: Sourced               # resistance of crystal growth at 23 °C
    dissolving_min: Sourced           # resistance of dissolving at 23 °C
    least_water: Sourced              # ratio at which the bed of grains is full from the start
    water_taken_up: Sourced           # water that the growing needles hold between them
    heat_j_g: Sourced                 # heat of the whole reaction
    expansion_percent: Sourced        # full setting expansion at the recommended ratio, in air
    trusted_ratio: tuple              # range of ratios the constants were chosen in


@dataclass(frozen=True)
class Powder:
    """One kind of powder: what it is for, and the constants that make it differ from the others."""

    name: str
    iso_type: int
    used_for: str
    density_g_cm3: Sourced            # of the grains
    recommended_ratio: Sourced        # value: the ratio used as reference; low and high: the recommended range
    jamming_fraction: Sourced         # volume share of powder at which the grains jam; grows with regular, dense grains
    stiffness_pa: Sourced             # scale of the yield stress at the standard moment
    grain_roughness: Sourced          # exponent of the viscosity law
    standard_time_min: float          # moment of the ring test
    setting: Setting
    strength_at_30_mpa: Sourced = STRENGTH_AT_30_PERCENT    # wet strength at a porosity of 0.30
    parent: str = ""                  # of the reader's own powder: the one it was made from

    @property
    def kind(self):
        """Name of the kind of powder: its own, or that of the powder it was made from."""
        return self.parent or self.name

    @cached_property
    def least_ratio(self):
        """Ratio below which part of the powder stays dry (mL per g, at 23 °C)."""
        return self._ratio_at(flow.TIGHTEST_CROWDING)

    @cached_property
    def most_ratio(self):
        """Ratio above which the grains settle out and the mix is no longer a paste (mL per g, at 23 °C)."""
        return self._ratio_at(flow.LOOSEST_CROWDING + 0.01)

    def _ratio_at(self, crowding):
        water_density = 0.99754
        return float(flow.ratio_at_crowding(crowding, self.jamming_fraction.value, self.density_g_cm3.value, water_density))


_BETA_DENSITY = Sourced(2.64, "g/cm3", 2.62, 2.66, "singh_2007", "beta hemihydrate", "handbook, from memory")
_ALPHA_DENSITY = Sourced(2.76, "g/cm3", 2.73, 2.78, "singh_2007", "alpha hemihydrate", "handbook, from memory")
_FROM_RING = "chosen so that the mix behaves in the ring as practice says; no table of yield stress was found"

_FROM_CLOCK = "chosen so that gloss loss, final set and their change with water are those of practice and handbook"
_BETA_HEAT = Sourced(132.5, "J/g", 125.0, 140.0, "nbs_1982", "formation enthalpies of beta hemihydrate, gypsum, water", "handbook, from memory")
_ALPHA_HEAT = Sourced(118.1, "J/g", 112.0, 124.0, "nbs_1982", "formation enthalpies of alpha hemihydrate, gypsum, water",
                      "handbook, from memory")


def _setting(growth, dissolving, least_water, taken_up, heat, expansion, trusted):
    return Setting(
        growth_min=_ours(growth, "min", round(0.75 * growth, 3), round(1.3 * growth, 3), _FROM_CLOCK),
        dissolving_min=_ours(dissolving, "min", 0.6 * dissolving, 1.6 * dissolving, _FROM_CLOCK),
        least_water=_ours(least_water, "mL/g", least_water - 0.005, least_water + 0.005, _FROM_CLOCK),
        water_taken_up=_ours(taken_up, "mL/g", round(0.9 * taken_up, 4), round(1.1 * taken_up, 4), _FROM_CLOCK),
        heat_j_g=heat, expansion_percent=expansion, trusted_ratio=trusted)


POWDERS = {powder.name: powder for powder in (
    Powder(
        "impression plaster", 1, "impressions, thin and in licensed hands only",
        density_g_cm3=_BETA_DENSITY,
        recommended_ratio=_trade(0.60, "mL/g", 0.50, 0.75, "maker's range; 0.60 chosen so that a type 1 meets its standard"),
        jamming_fraction=_ours(0.56, "1", 0.555, 0.565, _FROM_RING),
        stiffness_pa=_ours(1100.0, "Pa", 770.0, 1540.0, "spread of 70 mm or more at 1 min 15 s at ratio 0.60 [iso_6873]"),
        grain_roughness=_ours(6.0, "1", 5.0, 7.0, "angular grains"),
        standard_time_min=1.25,
        setting=_setting(growth=5.417, dissolving=1.0, least_water=0.3816, taken_up=0.6354, heat=_BETA_HEAT, trusted=(0.50, 0.75),
                         expansion=_ours(0.12, "%", 0.06, 0.15, "chosen within the limit of its type [iso_6873]")),
    ),
    Powder(
        "model plaster", 2, "study models, mounting, flasking",
        density_g_cm3=_BETA_DENSITY,
        recommended_ratio=Sourced(0.50, "mL/g", 0.45, 0.55, "teaching_sets", "45-50 mL; the trade goes on to 55", "published"),
        jamming_fraction=_ours(0.56, "1", 0.555, 0.565, _FROM_RING),
        stiffness_pa=_ours(2000.0, "Pa", 1400.0, 2800.0, _FROM_RING),
        grain_roughness=_ours(6.0, "1", 5.0, 7.0, "angular, porous grains"),
        standard_time_min=2.0,
        setting=_setting(growth=43.22, dissolving=10.0, least_water=0.3567, taken_up=1.6166, heat=_BETA_HEAT, trusted=(0.42, 0.65),
                         expansion=Sourced(0.25, "%", 0.20, 0.30, "teaching_sets", "plaster 0.2-0.3", "published")),
    ),
    Powder(
        "dental stone", 3, "working models, denture models",
        density_g_cm3=_ALPHA_DENSITY,
        recommended_ratio=Sourced(0.30, "mL/g", 0.25, 0.32, "powers_table_8_2", "25-30 g; the trade mixes about 30 mL", "published"),
        jamming_fraction=_ours(0.66, "1", 0.655, 0.665, _FROM_RING),
        stiffness_pa=_ours(740.0, "Pa", 520.0, 1040.0, _FROM_RING),
        grain_roughness=_ours(4.5, "1", 4.0, 5.0, "prismatic grains"),
        standard_time_min=2.0,
        setting=_setting(growth=23.52, dissolving=6.0, least_water=0.2458, taken_up=0.3186, heat=_ALPHA_HEAT, trusted=(0.27, 0.36),
                         expansion=Sourced(0.09, "%", 0.08, 0.10, "teaching_sets", "stone 0.08-0.10", "published")),
    ),
    Powder(
        "improved stone", 4, "dies: high strength, low expansion",
        density_g_cm3=_ALPHA_DENSITY,
        recommended_ratio=Sourced(0.23, "mL/g", 0.19, 0.24, "powers_table_8_2", "19-24 g; the trade mixes 22-24 mL", "published"),
        jamming_fraction=_ours(0.73, "1", 0.725, 0.735, _FROM_RING),
        stiffness_pa=_ours(640.0, "Pa", 450.0, 900.0, _FROM_RING),
        grain_roughness=_ours(3.5, "1", 3.0, 4.0, "dense, compact grains"),
        standard_time_min=2.0,
        setting=_setting(growth=26.61, dissolving=6.0, least_water=0.1802, taken_up=0.3612, heat=_ALPHA_HEAT, trusted=(0.21, 0.28),
                         expansion=Sourced(0.06, "%", 0.05, 0.07, "teaching_sets", "improved stone 0.05-0.07", "published")),
    ),
    Powder(
        "high-expansion stone", 5, "dies for castings that shrink more: high strength, high expansion",
        density_g_cm3=_ALPHA_DENSITY,
        recommended_ratio=_trade(0.21, "mL/g", 0.18, 0.22, "maker's range"),
        jamming_fraction=_ours(0.75, "1", 0.745, 0.755, _FROM_RING),
        stiffness_pa=_ours(640.0, "Pa", 450.0, 900.0, _FROM_RING),
        grain_roughness=_ours(3.5, "1", 3.0, 4.0, "dense, compact grains"),
        standard_time_min=2.0,
        setting=_setting(growth=27.65, dissolving=6.0, least_water=0.1587, taken_up=0.3981, heat=_ALPHA_HEAT, trusted=(0.19, 0.26),
                         expansion=_ours(0.22, "%", 0.16, 0.30, "chosen within the limits of its type [iso_6873]")),
    ),
)}

# What each way of mixing leaves as air in a mix that pours.
MIXING_METHODS = {
    "spatulated by hand": _ours(0.010, "1", 0.004, 0.025, "powder into water, wetted first, stropped for a minute"),
    "beaten by hand": _ours(0.040, "1", 0.020, 0.080, "stirred like an egg: the habit to break"),
    "machine under vacuum": _ours(0.004, "1", 0.001, 0.010, "less than the 0.5 % seen in a set building gypsum [fracture_2017]"),
}

# Constants shared by all powders.
GYPSUM_DENSITY = Sourced(2.32, "g/cm3", 2.31, 2.33, "gypsum_density", "density", "published")
STRENGTH_LOSS_RATE = _ours(4.523, "1", 3.92, 5.12, "same fit; range: two standard errors")
DRY_OVER_WET = Sourced(2.0, "1", 1.7, 2.3, "craig_handbook", "about twice", "handbook, from memory")
VIBRATION_THINNING = _ours(5.0, "1", 3.0, 8.0, "a strong vibrator divides the yield stress by six")

FILM = _ours(15.0, "W/m2 K", 8.0, 25.0, "heat given to still air and a bench, radiation included")

# Between these yield stresses a mix pours: stiffer no longer fills a mould, even on the vibrator, and traps air; thinner is runny.
POURS_BELOW_PA = _ours(600.0, "Pa", 450.0, 800.0, "plaster pours from about 45 mL per 100 g, and at 42 does not")
POURS_ABOVE_PA = _ours(115.0, "Pa", 80.0, 160.0, "plaster pours up to about 58 mL per 100 g, and at 63 is runny")


def named(name, choices, what):
    """Return the usual spelling of a name out of a choice.

    Parameters
    ----------
    name : str
        What was given; capitals do not matter.
    choices : dict or sequence of str
        What there is.
    what : str
        Begins the sentence of refusal after "There is", such as "no powder".

    Returns
    -------
    str

    Raises
    ------
    Problem
        When it is not among them; names the nearest.
    """
    wanted = " ".join(str(name).lower().split())
    if wanted in choices:
        return wanted
    for choice in choices:
        if choice.lower() == wanted:
            return choice
    text = " ".join(str(name).split())
    shown = text if len(text) <= 40 else text[:40] + "..."
    guess = nearest(name, choices)
    printable = "".join(one if one.isprintable() else "?" for one in shown)
    raise Problem(f"There is {what} called '{printable}'" + (f"; did you mean '{guess}'?" if guess else ".")
                  + f" The choice is {', '.join(choices)}.")


def find_powder(name):
    """Return the powder of that name.

    Parameters
    ----------
    name : str
        One of the names in `POWDERS`; capitals do not matter.

    Returns
    -------
    Powder

    Raises
    ------
    Problem
        When there is no such powder; names the nearest.
    """
    return POWDERS[named(name, POWDERS, "no powder")]


def find_mixing(name):
    """Return the usual name of a mixing method.

    Parameters
    ----------
    name : str
        One of the names in `MIXING_METHODS`; capitals do not matter.

    Returns
    -------
    str

    Raises
    ------
    Problem
        When there is no such method; names the nearest.
    """
    return named(name, MIXING_METHODS, "no way of mixing")
