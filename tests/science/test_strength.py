"""Strength against porosity: what was fitted, and what was not."""

import numpy as np
import pytest

from gypsumkit import powders
from gypsumkit.powders import MIXING_METHODS, POWDERS
from gypsumkit.science import pores
from gypsumkit.science.strength import wet_strength_mpa
from tests.published import table

WATER = 0.99754
HANDBOOK = table("handbook_strength")
AIR = MIXING_METHODS["spatulated by hand"].value


def _porosity(row):
    return float(pores.porosity(float(row["water_powder_ratio"]), 1.0, POWDERS[row["powder"]].density_g_cm3.value,
                                powders.GYPSUM_DENSITY.value, WATER, AIR))


POROSITY = np.array([_porosity(row) for row in HANDBOOK])
STRENGTH = np.array([float(row["wet_strength_mpa"]) for row in HANDBOOK])


def test_the_two_constants_are_the_least_squares_fit_to_the_nine_handbook_values():
    slope, middle = np.polyfit(POROSITY - 0.30, np.log(STRENGTH), 1)
    assert powders.STRENGTH_LOSS_RATE.value == pytest.approx(-slope, rel=2e-3)
    assert powders.STRENGTH_AT_30_PERCENT.value == pytest.approx(np.exp(middle), rel=2e-3)


@pytest.mark.parametrize("row", HANDBOOK, ids=lambda row: f"{row['powder']} {row['water_powder_ratio']}")
def test_handbook_values_are_reproduced(row):
    """Reproduced, not validated: the law was fitted to these nine values, themselves from memory."""
    ours = wet_strength_mpa(_porosity(row), powders.STRENGTH_AT_30_PERCENT.value, powders.STRENGTH_LOSS_RATE.value)
    assert ours == pytest.approx(float(row["wet_strength_mpa"]), rel=0.18)


def test_exponent_against_solid_fraction_lies_in_the_published_range():
    """Sattler 1997: properties follow (1 - porosity)^n with n from 2.5 to 3.5. Fitted over all nine values we get 3.1;
    close to one powder's own ratio the handbook values fall more steeply."""
    n, _ = np.polyfit(np.log(1 - POROSITY), np.log(STRENGTH), 1)
    assert 2.5 <= n <= 3.5
    # Our exponential law, read as a power of the solid fraction over the porosities of plaster.
    plaster = np.linspace(0.38, 0.50, 30)
    law = wet_strength_mpa(plaster, powders.STRENGTH_AT_30_PERCENT.value, powders.STRENGTH_LOSS_RATE.value)
    n_plaster, _ = np.polyfit(np.log(1 - plaster), np.log(law), 1)
    assert 2.3 <= n_plaster <= 3.5


MISSED = "high-strength gypsum cement"
INDUSTRIAL = [row for row in table("industrial_plasters") if row["strength_kgf_cm2"]]
DENSITY = {"beta": POWDERS["model plaster"].density_g_cm3.value, "alpha": POWDERS["dental stone"].density_g_cm3.value}


def _strength_off(row):
    porosity = pores.porosity(float(row["water_percent"]) / 100, 1.0, DENSITY[row["hemihydrate"]], powders.GYPSUM_DENSITY.value, WATER)
    ours = powders.DRY_OVER_WET.value * wet_strength_mpa(porosity, powders.STRENGTH_AT_30_PERCENT.value,
                                                         powders.STRENGTH_LOSS_RATE.value)
    return float(ours) / (float(row["strength_kgf_cm2"]) * 0.0980665) - 1.0


@pytest.mark.parametrize("row", [row for row in INDUSTRIAL if row["product"] != MISSED], ids=lambda row: row["product"])
def test_dry_strength_of_industrial_plasters(row):
    """Outside check, nothing fitted: dry, 38 to 74 % water. Five of six lie within a fifth. The four plasters have porosities of
    0.50 to 0.54, a little beyond the range the law is trusted in."""
    assert abs(_strength_off(row)) < 0.20


def test_one_industrial_cement_is_stronger_than_the_line():
    """A miss that must stay known: the line gives 35 % less than printed; the same product is also heavier than it should be."""
    (row,) = [row for row in INDUSTRIAL if row["product"] == MISSED]
    assert -0.40 < _strength_off(row) < -0.30
