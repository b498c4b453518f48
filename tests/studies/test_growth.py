"""Growth under water against growth in air, and the shrinkage of the reaction itself."""

import pytest

from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe
from gypsumkit.studies.growth import growth_percent, reaction_shrinkage_percent


def usual(powder):
    return Recipe(powder, POWDERS[powder].recommended_ratio.value)


@pytest.mark.parametrize("powder", ["model plaster", "dental stone", "improved stone"])
def test_under_water_it_grows_twice_as_much_give_or_take_a_quarter(powder):
    """Handbook, from memory: about twice; our plausible range of the factor is 1.5 to 2.5."""
    air, low, high = growth_percent(usual(powder))
    wet, wet_low, wet_high = growth_percent(usual(powder), under_water=True)
    assert wet == pytest.approx(2.0 * air)
    # Errors of the growth in air and of the factor add as squares: 0.25 is half a unit of a factor of 2.
    assert (wet_high / wet - 1) ** 2 - (high / air - 1) ** 2 == pytest.approx(0.25**2)
    assert (1 - wet_low / wet) ** 2 - (1 - low / air) ** 2 == pytest.approx(0.25**2)


def test_what_does_not_set_does_not_grow():
    hot = Recipe("model plaster", 0.50, water_temperature_c=98, room_temperature_c=98)
    assert all(value != value for value in growth_percent(hot)) and all(value != value for value in growth_percent(hot, True))


def test_the_reaction_shrinks_the_paste_worked_by_hand():
    # 1 g of grains / 2.64 + 0.1862 g of water / 0.9975 = 0.5654 cm3 become 1.1862 g of crystals / 2.32 = 0.5113 cm3: 0.0541 cm3
    # less, of a paste of 1 / 2.64 + 0.50 / 0.9975 = 0.8800 cm3: 6.2 % of the volume, 2.1 % of a length.
    volume, length = reaction_shrinkage_percent(Recipe("model plaster", 0.50))
    assert volume == pytest.approx(6.15, abs=0.1) and length == pytest.approx(2.09, abs=0.04)
