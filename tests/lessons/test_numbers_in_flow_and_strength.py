"""The few model numbers that lessons 03 and 05 print in their prose are those of the library."""

import re

import nbformat
import numpy as np
import pytest

from gypsumkit.studies.handbook import HANDBOOK_STRENGTHS, INDUSTRIAL_STRENGTHS, law_off_range_percent
from gypsumkit.mix import STRENGTH_TRUSTED_POROSITY
from gypsumkit.powders import DRY_OVER_WET, VIBRATION_THINNING
from gypsumkit.science.ring import RING_MM, standing_stiffness
from tests.lessons.store_outputs import LESSONS


def prose(number):
    lesson = nbformat.read(next(LESSONS.glob(f"{number}_*.ipynb")), as_version=4)
    return " ".join(cell.source for cell in lesson.cells if cell.cell_type == "markdown")


@pytest.mark.parametrize("number, pattern, computed", [
    ("03", r"stands when \$B\$ is more than about ([\d.]+)\.", lambda: f"{standing_stiffness(*RING_MM):.2f}"),
    ("03", r"divides the yield stress by about (\d+)", lambda: f"{1 + VIBRATION_THINNING.value:.0f}"),
    ("03", r"Size of the ring, (\d+) x", lambda: f"{RING_MM[0]:.0f}"),
    ("05", r"up to (\d+) % above one of them", lambda: f"{law_off_range_percent(HANDBOOK_STRENGTHS)[1]:.0f}"),
    ("05", r"above one of them and (\d+) % below", lambda: f"{-law_off_range_percent(HANDBOOK_STRENGTHS)[0]:.0f}"),
    ("05", r"lie somewhere from ([\d.]+) to", lambda: f"{DRY_OVER_WET.low}"),
    ("05", r"lie somewhere from [\d.]+ to ([\d.]+)\.", lambda: f"{DRY_OVER_WET.high}"),
])
def test_a_number_in_the_prose_is_the_library_s(number, pattern, computed):
    found = re.search(pattern, prose(number))
    assert found, f"lesson {number} no longer says this: {pattern}"
    assert found.group(1) == computed()


def test_the_power_of_the_solid_part_is_what_the_nine_values_give():
    porosity, strength = np.array([(each.porosity, each.strength_mpa) for each in HANDBOOK_STRENGTHS]).T
    power, _ = np.polyfit(np.log(1 - porosity), np.log(strength), 1)
    assert f"$n$ of about {power:.1f}" in prose("05")


def test_four_of_the_six_industrial_products_lie_beyond_the_trusted_porosity_and_one_is_missed():
    beyond = sum(each.porosity > STRENGTH_TRUSTED_POROSITY[1] for each in INDUSTRIAL_STRENGTHS)
    assert (beyond, len(INDUSTRIAL_STRENGTHS)) == (4, 6) and "Four of them lie beyond the porosity" in prose("05")
    off = sorted(each.law_off_percent for each in INDUSTRIAL_STRENGTHS)
    assert -40 < off[0] < -30 and off[1] > -20 and "the line gives about two thirds of its strength" in prose("05")
