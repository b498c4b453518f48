"""A prediction is valid just inside each range its law was made for and extrapolated just outside; the ends are those the words name."""

import numpy as np
import pytest

from gypsumkit.conditions import Conditions
from gypsumkit.mix import QUANTITIES, SETTING_QUANTITIES, TIMELINE_QUANTITIES, Mix, predict, predict_setting, predict_timeline
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe

OF_FLOW = [name for name, quantity in QUANTITIES.items() if quantity.law in ("flow", "spread", "slump")]
OF_STRENGTH = [name for name, quantity in QUANTITIES.items() if quantity.law == "strength"]
OF_MASS = [name for name, quantity in QUANTITIES.items() if quantity.law == "mass"]


def valid_and_why(found, names):
    """Whether all of these predictions are valid (None when they differ), and the reasons given."""
    told = {bool(found[name].valid) for name in names}
    return told.pop() if len(told) == 1 else None, {found[name].reason for name in names}


def ratio_with(powder, name, wanted):
    """The water/powder ratio at which a quantity of a powder, mixed as usual, has a wanted value."""
    low, high = POWDERS[powder].least_ratio + 1e-6, POWDERS[powder].most_ratio - 1e-6
    rises = predict(powder, high)[name].value > predict(powder, low)[name].value
    for _ in range(60):
        middle = (low + high) / 2
        below = (predict(powder, middle)[name].value < wanted) == rises
        low, high = (middle, high) if below else (low, middle)
    return (low + high) / 2


@pytest.mark.parametrize("water_c, valid", [(14.9, False), (15.0, True), (35.0, True), (35.1, False), (60.0, False)])
def test_flow_and_strength_are_made_for_water_of_15_to_35(water_c, valid):
    found = predict("model plaster", 0.50, water_temperature_c=water_c)
    for names in (OF_FLOW, OF_STRENGTH):
        told, reasons = valid_and_why(found, names)
        assert told is valid and all(("15 to 35 °C" in reason) is not valid for reason in reasons)
    assert valid_and_why(found, OF_MASS) == (True, {""})


@pytest.mark.parametrize("powder, porosity, valid", [
    ("model plaster", 0.4995, True), ("model plaster", 0.5005, False), ("model plaster", 0.55, False),
    ("improved stone", 0.1305, True), ("improved stone", 0.1295, False)])
def test_strength_is_made_for_a_porosity_of_13_to_50_percent(powder, porosity, valid):
    found = predict(powder, ratio_with(powder, "porosity", porosity))
    assert found["porosity"].value == pytest.approx(porosity, abs=1e-6)
    told, reasons = valid_and_why(found, OF_STRENGTH)
    assert told is valid and all(("0.13 to 0.50" in reason) is not valid for reason in reasons)


@pytest.mark.parametrize("stress_pa, valid", [(14.9, False), (15.1, True), (1995.0, True), (2005.0, False)])
def test_flow_is_made_for_a_yield_stress_of_15_to_2000(stress_pa, valid):
    found = predict("model plaster", ratio_with("model plaster", "yield_stress_pa", stress_pa))
    told, reasons = valid_and_why(found, OF_FLOW)
    assert told is valid and all(("15 to 2000 Pa" in reason) is not valid for reason in reasons)


@pytest.mark.parametrize("diameter_mm, valid", [(34.5, False), (35.0, True), (50.0, True), (50.5, False)])
def test_spread_is_made_for_rings_from_seven_tenths_as_wide_as_high_to_as_wide(diameter_mm, valid):
    mix = Mix(Recipe("model plaster", 0.50)).in_ring(diameter_mm, 50.0)
    for prediction in (mix.spread_mm, mix.vibrated_spread_mm):
        assert bool(prediction.valid) is valid and ("0.7 to 1 times" in prediction.reason) is not valid
    assert bool(mix.slump_mm.valid) is (diameter_mm == 35.0) and mix.yield_stress_pa.valid


def test_flow_is_predicted_from_half_a_minute_until_the_loss_of_gloss():
    mix = Mix(Recipe("model plaster", 0.50))
    gloss = mix.gloss_loss_min.value
    assert mix.at(0.49).yield_stress_pa.value is None and mix.at(0.5).yield_stress_pa.value > 0
    assert mix.at(0.999 * gloss).yield_stress_pa.value > 0 and mix.at(1.001 * gloss).yield_stress_pa.value is None


@pytest.mark.parametrize("powder, least, most", [
    ("impression plaster", 0.50, 0.75), ("model plaster", 0.42, 0.65), ("dental stone", 0.27, 0.36), ("improved stone", 0.21, 0.28),
    ("high-expansion stone", 0.19, 0.26)])
def test_the_clock_is_made_for_the_ratios_it_names(powder, least, most):
    inside, outside = [least, most], [least - 0.002, most + 0.002]
    for name in SETTING_QUANTITIES:
        assert np.all(predict_setting(powder, inside)[name].valid), name
        told = predict_setting(powder, outside)[name]
        assert not np.any(told.valid) and f"a ratio of {least:g} to {most:g}" in told.reason, name
    for ratio, valid in ((least, True), (most, True), (least - 0.002, False), (most + 0.002, False)):
        line = predict_timeline(powder, ratio, np.array([0.5, 1.0]), ranges=False)
        for name in TIMELINE_QUANTITIES:
            assert np.all(line[name].valid == valid), name


def stone_lump(start_c):
    """A lump of 1 kg of stone powder, all of it at a temperature at first."""
    return predict_setting("dental stone", 0.30, Conditions(powder_g=1000.0, water_temperature_c=start_c, room_temperature_c=start_c),
                           ranges=False)


def test_the_clock_is_trusted_until_the_mass_reaches_85_degrees():
    low, high = 40.0, 60.0
    for _ in range(30):
        middle = (low + high) / 2
        low, high = (middle, high) if stone_lump(middle)["peak_temperature_c"].value < 85.0 else (low, middle)
    below, above = stone_lump(low - 0.1), stone_lump(high + 0.1)
    assert 84.7 < below["peak_temperature_c"].value < 85.0 < above["peak_temperature_c"].value < 85.3
    for name in SETTING_QUANTITIES:
        assert below[name].valid and below[name].reason == "", name
        assert above[name].value is not None and not above[name].valid and "hotter than 85 °C" in above[name].reason, name
