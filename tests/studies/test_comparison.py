"""Three powders at one consistency: equal spread indeed, the order the trade knows, money by hand, sentences for nonsense."""

import numpy as np
import pytest

from gypsumkit.studies import comparison
from gypsumkit.mix import Mix
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe

SPREADS = (65.0, 72.3, 80.0, 91.7, 100.0)


@pytest.mark.parametrize("spread", SPREADS)
def test_all_three_really_spread_alike(spread):
    for cast in comparison.at_equal_consistency(spread):
        assert Mix(Recipe(cast.powder, cast.ratio)).vibrated_spread_mm.value == pytest.approx(spread, abs=0.1)


@pytest.mark.parametrize("spread", SPREADS)
@pytest.mark.parametrize("name", ["porosity", "wet_strength_mpa", "dry_strength_mpa", "setting_expansion_percent", "air_fraction"])
def test_what_is_said_is_what_the_mix_predicts(spread, name):
    for cast in comparison.at_equal_consistency(spread):
        mix, said = getattr(Mix(Recipe(cast.powder, cast.ratio)), name), cast.predictions[name]
        assert said.value == pytest.approx(mix.value, rel=0.01) and said.unit == mix.unit
        assert (said.low, said.high) == (pytest.approx(mix.low, rel=0.03), pytest.approx(mix.high, rel=0.03))


@pytest.mark.parametrize("spread", SPREADS)
def test_the_order_of_the_powders_is_that_of_the_trade(spread):
    """Plaster needs most water and is weakest and most porous and grows most; improved stone the other way round."""
    plaster, stone, improved = comparison.at_equal_consistency(spread)
    assert plaster.ratio > stone.ratio > improved.ratio
    for name, sign in (("porosity", 1), ("wet_strength_mpa", -1), ("setting_expansion_percent", 1)):
        values = [sign * cast.predictions[name].value for cast in (plaster, stone, improved)]
        assert values[0] > values[1] > values[2], name


def test_a_usual_consistency_gives_the_usual_water():
    """Common practice, no source: plaster 50 to 55, stone about 30, improved stone 22 to 24 mL per 100 g are of like consistency."""
    plaster, stone, improved = comparison.at_equal_consistency(80.0)
    assert 0.50 <= plaster.ratio <= 0.55 and 0.28 <= stone.ratio <= 0.32 and 0.22 <= improved.ratio <= 0.24


def test_powder_and_cost_by_hand():
    # 100 g of grains of 2.64 g/cm3 and 50 mL of water give 87.9 mL: 60 mL take 68.3 g, at 3 for 1 kg 0.205.
    grams = comparison.powder_for_a_cast_g("model plaster", 0.50, 60.0)
    assert grams == pytest.approx(68.3, abs=0.2) and grams / 1000 * 3 == pytest.approx(0.205, abs=0.001)
    cheap = comparison.at_equal_consistency(80.0, 60.0, dict.fromkeys(comparison.THREE, 1.0))
    dear = comparison.at_equal_consistency(80.0, 120.0, dict.fromkeys(comparison.THREE, 2.0))
    assert [one.cost for one in dear] == pytest.approx([4 * one.cost for one in cheap])
    for cast in cheap:
        assert cast.water_ml == pytest.approx(cast.powder_g * cast.ratio) and cast.cost == pytest.approx(cast.powder_g / 1000)


def test_ratio_and_spread_are_inverse_over_the_whole_range():
    spreads = np.linspace(comparison.LEAST_SPREAD_MM, comparison.MOST_SPREAD_MM, 15)
    for powder in comparison.THREE:
        assert np.all(np.diff(comparison.ratio_at_vibrated_spread(powder, spreads)) > 0)


@pytest.mark.parametrize("wrong, said", [
    (lambda: comparison.at_equal_consistency(30.0), "65 mm"), (lambda: comparison.at_equal_consistency(float("nan")), "65 mm"),
    (lambda: comparison.at_equal_consistency(80.0, 0.0), "more than 0 mL"),
    (lambda: comparison.at_equal_consistency(80.0, 60.0, dict.fromkeys(comparison.THREE, -1.0)), "0 or more"),
    (lambda: comparison.ratio_at_vibrated_spread("model plastr", 80.0), "model plaster"),
])
def test_nonsense_is_refused_in_a_sentence(wrong, said):
    with pytest.raises(Problem, match=said):
        wrong()
