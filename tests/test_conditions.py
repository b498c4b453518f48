"""What the way of making a mix does to it, worked by hand: its first temperature, strength and expansion left by additive and store."""

import numpy as np
import pytest

from gypsumkit.conditions import ADDITIVES, POWDER_STATES, Conditions
from gypsumkit.mix import predict_timeline

ALL_IS_OVER_MIN = np.array([1e5])


def test_warm_water_on_cold_powder_worked_by_hand():
    # 50 g of water at 60 °C and 100 g of powder at 20 °C: (50 x 4.18 x 60 + 100 x 0.823 x 20) / (50 x 4.18 + 100 x 0.823)
    # = (12540 + 1646) / (209 + 82.3) = 48.70 °C.
    made = Conditions(water_temperature_c=60.0, room_temperature_c=20.0)
    assert made.start_c(0.50) == pytest.approx(48.70, abs=0.005)
    begins = predict_timeline("model plaster", 0.50, np.array([0.0, 1.0]), made, ranges=False)["temperature_c"].value[0]
    assert begins == pytest.approx(48.70, abs=0.005)
    # The other way round, cold water and warm powder: (209 x 20 + 82.3 x 60) / 291.3 = 31.30 °C.
    assert Conditions(water_temperature_c=20.0, room_temperature_c=60.0).start_c(0.50) == pytest.approx(31.30, abs=0.005)


# Sizes are our own choice (directions from handbooks): share of strength kept, and expansion over that without the additive.
BY_HAND = [
    ("potassium sulfate", 2.0, 0.90, 1 / 3.0),           # 1 - 2 x 0.05; 1 / (1 + 2 x 1)
    ("sodium chloride", 2.0, 0.90, 1 / 1.6),             # 1 - 2 x 0.05; 1 / (1 + 2 x 0.3)
    ("borax", 0.5, 0.95, 1 / 1.25),                      # 1 - 0.5 x 0.1; 1 / (1 + 0.5 x 0.5)
    ("sodium citrate", 0.05, 0.95, 1 / 1.15),            # 1 - 0.05 x 1; 1 / (1 + 0.05 x 3)
    ("ground set gypsum", 1.0, 0.97, 1 / 0.9),           # 1 - 0.03; 1 / (1 - 0.1)
]


def test_every_additive_is_worked_by_hand():
    assert {name for name, *_ in BY_HAND} == set(ADDITIVES) - {"none"}


def at_the_end(name, conditions):
    return predict_timeline("model plaster", 0.50, ALL_IS_OVER_MIN, conditions, ranges=False)[name].value[0]


@pytest.mark.parametrize("additive, percent, strength, expansion", BY_HAND)
def test_what_an_additive_leaves_of_strength_and_expansion(additive, percent, strength, expansion):
    made = Conditions(additive=additive, additive_percent=percent)
    assert made.strength_factor() == pytest.approx(strength) and made.expansion_factor() == pytest.approx(expansion)
    kept = at_the_end("strength_mpa", made) / at_the_end("strength_mpa", Conditions())
    assert kept == pytest.approx(strength, rel=1e-6)
    grown = at_the_end("expansion_percent", made) / at_the_end("expansion_percent", Conditions())
    if additive == "ground set gypsum":                  # its seeds bring the needles closer as well
        assert grown > expansion
    else:
        assert grown == pytest.approx(expansion, rel=1e-6)


@pytest.mark.parametrize("state, strength", [("fresh", 1.0), ("slightly damp", 0.95), ("long exposed", 0.75)])
def test_what_storage_leaves_of_strength(state, strength):
    """Our own choice of sizes: damp powder sets nearly as strong, long exposed powder loses a quarter."""
    kept = at_the_end("strength_mpa", Conditions(powder_state=state)) / at_the_end("strength_mpa", Conditions())
    assert kept == pytest.approx(strength, rel=1e-6) and state in POWDER_STATES


def test_losses_of_additive_and_storage_multiply():
    made = Conditions(additive="borax", additive_percent=0.5, powder_state="long exposed")
    assert made.strength_factor() == pytest.approx(0.95 * 0.75)
