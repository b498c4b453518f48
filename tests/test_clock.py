"""The clock kept and without ranges is the same clock; what its lessons say of it is what it does."""

import numpy as np
import pytest

from gypsumkit import clock
from gypsumkit.conditions import Conditions
from gypsumkit.studies.cubes import recipe_of_cube
from gypsumkit.mix import Mix, predict, predict_setting, predict_timeline
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe

CONDITIONS = (Conditions(), Conditions(turns=60), Conditions(mixing="machine under vacuum"), Conditions(additive="borax", additive_percent=0.5),
              Conditions(additive="ground set gypsum", additive_percent=1.0), Conditions(powder_state="long exposed", powder_g=700.0))


@pytest.mark.parametrize("conditions", CONDITIONS)
def test_without_ranges_the_values_are_the_same(conditions):
    moments = np.linspace(0, 90, 31)
    for whole, bare in ((predict_setting("model plaster", 0.5, conditions), predict_setting("model plaster", 0.5, conditions, ranges=False)),
                        (predict_timeline("model plaster", 0.5, moments, conditions),
                         predict_timeline("model plaster", 0.5, moments, conditions, ranges=False))):
        for name in whole:
            assert np.array_equal(whole[name].value, bare[name].value, equal_nan=True), name


@pytest.mark.parametrize("conditions", CONDITIONS)
def test_a_kept_march_is_the_march_made_anew(conditions):
    """One ratio alone is kept; the same ratio among others is marched anew."""
    alone = predict_setting("model plaster", 0.5, conditions)
    among = predict_setting("model plaster", [0.45, 0.5], conditions)
    for name in alone:
        assert alone[name].value == pytest.approx(among[name].value[1], rel=1e-12), name


def test_conditions_that_set_alike_are_the_same_key():
    assert Conditions().for_clock() == Recipe("model plaster", 0.5).for_clock() == Conditions(turns=180.0).for_clock()
    salted = Conditions(additive="sodium chloride", additive_percent=1.0)
    assert salted.for_clock() != Conditions().for_clock() == salted.for_clock(additive=False)
    assert Conditions(additive="borax", additive_percent=0.0).for_clock() == Conditions().for_clock()
    seeded = Conditions(additive="ground set gypsum", additive_percent=1.0)
    assert seeded.for_clock(additive=False) == seeded.for_clock()


def test_peak_temperature_of_many_sizes_is_that_of_each():
    edges = np.array([20.0, 60.0, 200.0])
    grams = [recipe_of_cube("dental stone", 0.30, edge).powder_g for edge in edges]
    many = clock.peak_temperature_c(POWDERS["dental stone"], 0.30, grams)
    for warm, weight in zip(many, grams):
        one = predict_setting("dental stone", 0.30, Conditions(powder_g=weight))["peak_temperature_c"].value
        assert warm == pytest.approx(one, rel=1e-9)
    assert np.all(np.diff(many) > 0)


@pytest.mark.parametrize("powder", ["model plaster", "dental stone", "improved stone"])
def test_the_signs_come_in_the_order_that_the_lesson_teaches(powder):
    mix = Mix(Recipe(powder, POWDERS[powder].recommended_ratio.value))
    signs = [getattr(mix, name).value for name in ("working_time_min", "initial_set_min", "gloss_loss_min", "light_needle_min", "final_set_min")]
    assert signs == sorted(signs) and len(set(signs)) == 5


@pytest.mark.parametrize("conditions", CONDITIONS)
def test_strength_grows_as_the_square_of_the_network(conditions):
    """The network is what has set since the loss of gloss, of what is to set after it."""
    gloss = predict_setting("model plaster", 0.5, conditions, ranges=False)["gloss_loss_min"].value
    line = predict_timeline("model plaster", 0.5, np.array([gloss, 1.2 * gloss, 1.5 * gloss, 2.0 * gloss, 1e5]), conditions, ranges=False)
    degree, strength, grown = (line[name].value for name in ("degree_of_hydration", "strength_mpa", "expansion_percent"))
    network = (degree - degree[0]) / (degree[-1] - degree[0])
    assert np.all(np.diff(network) > 0.001) and network[1] < 0.6        # far from where a square and a line agree
    assert strength / strength[-1] == pytest.approx(network**2, abs=1e-9)
    assert grown / grown[-1] == pytest.approx(network, abs=1e-9)


@pytest.mark.parametrize("conditions", CONDITIONS)
def test_strength_at_an_hour_and_at_the_final_set_lie_on_the_line_of_strength(conditions):
    final = predict_setting("model plaster", 0.5, conditions, ranges=False)["final_set_min"].value
    at_set, at_hour = (predict_timeline("model plaster", 0.5, np.array([moment]), conditions, ranges=False)["strength_mpa"].value[0]
                       for moment in (final, 60.0))
    # The heavy needle, 453.6 g on a flat end of 1.06 mm, presses with 5.04 MPa and leaves no mark on what bears a third of it.
    assert at_set == pytest.approx(5.04 / 3, rel=0.01)
    assert at_hour == pytest.approx(predict("model plaster", 0.5, conditions=conditions)["wet_strength_mpa"].value, rel=0.002)


def test_a_ratio_far_too_wet_gives_no_nonsense():
    most = POWDERS["model plaster"].most_ratio
    with np.errstate(all="raise"):
        line = predict_timeline("model plaster", most, np.array([5.0, 60.0, 600.0]), ranges=False)
    assert np.all(np.isfinite(line["strength_mpa"].value)) and np.all(line["strength_mpa"].value >= 0)
