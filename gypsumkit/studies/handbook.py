"""Published strengths that the course shows beside its own law: nine handbook values, and dry plasters from industry."""

from dataclasses import dataclass

from gypsumkit import powders
from gypsumkit.powders import MIXING_METHODS, POWDERS, ROOM_C
from gypsumkit.science import hydration, pores, strength, water

KGF_PER_CM2_IN_MPA = 0.0980665


@dataclass(frozen=True)
class PublishedStrength:
    """One published compressive strength.

    Parameters
    ----------
    name : str
        Powder of the course, or what the product is.
    water_powder_ratio : float
        mL per g.
    strength_mpa : float
        MPa.
    dried : bool
        Measured dry, not wet at 1 h.
    air_fraction : float
        Air counted in the porosity, 0 to below 1.
    density_g_cm3 : float
        Density of the powder grains, g/cm3.
    source : str
        Key into `gypsumkit.sources.SOURCES`.
    standing : str
        One of `gypsumkit.sources.STANDINGS`.
    """

    name: str
    water_powder_ratio: float
    strength_mpa: float
    dried: bool
    air_fraction: float
    density_g_cm3: float
    source: str
    standing: str

    @property
    def porosity(self):
        """Volume fraction of pores of the set mass, computed, air included."""
        ratio = self.water_powder_ratio
        return float(pores.porosity(ratio, hydration.final_degree_of_hydration(ratio), self.density_g_cm3, powders.GYPSUM_DENSITY.value,
                                    water.water_density_g_cm3(ROOM_C), self.air_fraction))

    @property
    def law_mpa(self):
        """Strength that the course's law gives at this porosity, MPa."""
        wet = float(strength.wet_strength_mpa(self.porosity, powders.STRENGTH_AT_30_PERCENT.value, powders.STRENGTH_LOSS_RATE.value))
        return wet * powders.DRY_OVER_WET.value if self.dried else wet

    @property
    def law_off_percent(self):
        """How far the law lies above the published value, in % of that value."""
        return 100.0 * (self.law_mpa / self.strength_mpa - 1.0)


def _wet(name, ratio, mpa):
    return PublishedStrength(name, ratio, mpa, False, MIXING_METHODS["spatulated by hand"].value, POWDERS[name].density_g_cm3.value,
                             "craig_handbook", "handbook, from memory")


def _dry(name, ratio, kgf_cm2, density_of):
    return PublishedStrength(name, ratio, kgf_cm2 * KGF_PER_CM2_IN_MPA, True, 0.0, POWDERS[density_of].density_g_cm3.value,
                             "plaster_table_2009", "published")


# Wet, 1 h. The strength law was fitted to these nine, so it reproduces them; they do not prove it.
HANDBOOK_STRENGTHS = (
    _wet("model plaster", 0.45, 12.5), _wet("model plaster", 0.50, 11.0), _wet("model plaster", 0.55, 9.0),
    _wet("dental stone", 0.27, 31.0), _wet("dental stone", 0.30, 20.5), _wet("dental stone", 0.50, 10.5),
    _wet("improved stone", 0.24, 38.0), _wet("improved stone", 0.30, 21.5), _wet("improved stone", 0.50, 10.5),
)

# Dry. Nothing was fitted to these; other products, other test bodies.
INDUSTRIAL_STRENGTHS = (
    _dry("pottery plaster", 0.70, 127.26, "model plaster"), _dry("moulding plaster", 0.70, 141.0, "model plaster"),
    _dry("casting plaster", 0.65, 170.0, "model plaster"), _dry("second pottery plaster", 0.74, 127.0, "model plaster"),
    _dry("low-expansion gypsum cement", 0.38, 424.0, "dental stone"), _dry("high-strength gypsum cement", 0.32, 707.0, "dental stone"),
)


def law_off_range_percent(published):
    """Return how far the law lies below and above published values.

    Parameters
    ----------
    published : sequence of PublishedStrength
        The values.

    Returns
    -------
    tuple of float
        The lowest and the highest difference, in % of the published value.
    """
    off = [each.law_off_percent for each in published]
    return min(off), max(off)
