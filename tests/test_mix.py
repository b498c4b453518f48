"""What is predicted of a mix: facts of the trade, ranges, directions, arrays, and recipes that cannot be."""

import numpy as np
import pytest

from gypsumkit import Mix, Problem, Recipe, predict
from gypsumkit.conditions import ADDITIVES, POWDER_STATES, Conditions
from gypsumkit.mix import QUANTITIES, _all_quantities, _constants, pourable_ratios, predict_setting, predict_timeline
from gypsumkit.powders import MIXING_METHODS, POWDERS
from gypsumkit.science import ring


def mix(powder, ratio, **rest):
    return Mix(Recipe(powder, ratio, **rest))


# ---- common practice, no source: nothing but the trade stands behind these; the flow constants were chosen to meet them

@pytest.mark.parametrize("powder, ratio, expected", [
    ("model plaster", 0.50, "pours"), ("model plaster", 0.55, "pours"),
    ("model plaster", 0.42, "too stiff to pour"), ("model plaster", 0.63, "runny"),
    ("dental stone", 0.30, "pours"), ("improved stone", 0.22, "pours"), ("improved stone", 0.24, "pours"),
])
def test_practice_knows_which_mixes_pour(powder, ratio, expected):
    assert mix(powder, ratio).consistency == expected


def test_practice_plaster_at_50_slumps_a_little_and_at_42_stands_when_the_ring_is_lifted():
    assert mix("model plaster", 0.42).spread_mm.value == pytest.approx(35.0, abs=0.5)
    assert 1 < mix("model plaster", 0.50).slump_mm.value < 12          # of 50 mm: slightly
    assert mix("model plaster", 0.55).spread_mm.value < 60             # without spreading wide
    assert mix("model plaster", 0.63).spread_mm.value > 65


def test_practice_three_powders_at_their_own_ratio_are_of_like_consistency():
    spreads = [mix("model plaster", 0.52).spread_mm.value, mix("dental stone", 0.30).spread_mm.value,
               mix("improved stone", 0.23).spread_mm.value]
    assert max(spreads) - min(spreads) < 6


def test_practice_a_runny_mix_is_weak():
    assert mix("model plaster", 0.63).relative_strength.value < 0.8


def test_less_water_stops_helping_once_the_mix_no_longer_pours():
    strengths = [mix("model plaster", ratio).wet_strength_mpa.value for ratio in (0.36, 0.41, 0.50)]
    assert strengths[1] > strengths[0] and strengths[1] > strengths[2]


# ---- requirements of ISO 6873, from memory: a standard product mixed as recommended meets its type

@pytest.mark.parametrize("powder, least_mpa", [("model plaster", 9.0), ("dental stone", 20.0), ("improved stone", 35.0),
                                               ("high-expansion stone", 35.0)])
def test_recommended_mix_meets_the_strength_of_its_type(powder, least_mpa):
    usual = mix(powder, POWDERS[powder].recommended_ratio.value)
    assert usual.wet_strength_mpa.value >= least_mpa


def test_impression_plaster_meets_its_type():
    usual = mix("impression plaster", 0.60)
    assert 4.0 <= usual.wet_strength_mpa.value <= 8.0
    assert usual.time_min == 1.25 and usual.spread_mm.value >= 70.0


# ---- ranges, directions, arrays

@pytest.mark.parametrize("powder", POWDERS)
def test_ranges_hold_the_value_and_match_drawing_all_constants_at_random(powder):
    kind = POWDERS[powder]
    ratio = kind.recommended_ratio.value
    ours = predict(powder, ratio)
    rng = np.random.default_rng(20)
    draws = {}
    for name, number in _constants(kind, "spatulated by hand").items():
        up, down = (number.high - number.value) / 2, (number.value - number.low) / 2     # low and high as two standard errors
        z = rng.standard_normal((4000, 1))
        draws[name] = number.value + np.where(z > 0, up * z, down * z)
    random = _all_quantities(draws, kind, np.array([[ratio]]), 23.0)
    for name in QUANTITIES:
        p = ours[name]
        assert p.low <= p.value <= p.high
        rows = np.broadcast_to(random[name], (4000, 1))
        low, high = np.percentile(rows, [2.3, 97.7])
        width = max(high - low, 1e-9)
        if p.high - p.low > 1e-6:
            assert abs(p.low - low) < 0.25 * width and abs(p.high - high) < 0.25 * width, name


@pytest.mark.parametrize("powder", POWDERS)
def test_more_water_spreads_wider_and_weakens_within_what_pours(powder):
    stiff, runny = pourable_ratios(powder)
    many = predict(powder, np.linspace(stiff, runny, 40))
    assert np.all(np.diff(many["spread_mm"].value) >= 0)
    assert np.all(np.diff(many["vibrated_spread_mm"].value) > 0)
    assert np.all(many["vibrated_spread_mm"].value >= many["spread_mm"].value)
    assert np.all(np.diff(many["porosity"].value) > 0)
    assert np.all(np.diff(many["wet_strength_mpa"].value) < 0)


def test_the_vibrator_divides_the_yield_stress_by_six():
    """Our own calibration: on the vibrator a mix spreads as a still one of a sixth of its yield stress would."""
    for ratio in (0.46, 0.50, 0.55):
        usual = mix("model plaster", ratio)
        sixth = ring.spread_mm(usual.yield_stress_pa.value / 6, usual.wet_density_g_cm3.value)
        assert usual.vibrated_spread_mm.value == pytest.approx(sixth, rel=1e-6) and sixth > 1.2 * usual.spread_mm.value


def test_many_ratios_at_once_equal_one_at_a_time():
    ratios = np.linspace(0.35, 0.80, 25)
    many = predict("model plaster", ratios)
    for i, ratio in enumerate(ratios):
        one = predict("model plaster", ratio)
        for name in QUANTITIES:
            assert many[name].value[i] == one[name].value and many[name].high[i] == pytest.approx(one[name].high, rel=1e-12)
            assert bool(many[name].valid[i]) == bool(one[name].valid)


def test_beaten_air_costs_strength_and_a_vacuum_machine_saves_it():
    strength = {mixing: mix("dental stone", 0.30, mixing=mixing).wet_strength_mpa.value
                for mixing in ("machine under vacuum", "spatulated by hand", "beaten by hand")}
    assert strength["machine under vacuum"] > strength["spatulated by hand"] > strength["beaten by hand"]


def test_waiting_stiffens_the_mix_until_it_only_stands():
    fresh = mix("model plaster", 0.50)
    assert fresh.at(3.0).spread_mm.value < fresh.spread_mm.value
    late = fresh.at(14.0)
    assert late.yield_stress_pa.value is None and not late.yield_stress_pa.valid and "14 min" in late.yield_stress_pa.reason
    assert late.spread_mm.value == 35.0 and late.slump_mm.value == 0.0
    assert late.wet_strength_mpa.value == pytest.approx(fresh.wet_strength_mpa.value, rel=1e-12)
    assert late.consistency == "not predicted"
    assert fresh.at(0.1).spread_mm.value is None and "not yet even" in fresh.at(0.1).spread_mm.reason


def test_what_hastens_the_set_shortens_the_time_to_work():
    usual = mix("model plaster", 0.50)
    for change in (dict(additive="potassium sulfate", additive_percent=2), dict(additive="ground set gypsum", additive_percent=1),
                   dict(turns=300), dict(powder_state="slightly damp")):
        hastened = mix("model plaster", 0.50, **change)
        assert hastened.working_time_min.value < usual.working_time_min.value, change
        assert hastened.spread_mm.value <= usual.spread_mm.value, change
    for change in (dict(additive="borax", additive_percent=0.5), dict(additive="sodium citrate", additive_percent=0.05),
                   dict(powder_state="long exposed")):
        retarded = mix("model plaster", 0.50, **change)
        assert retarded.final_set_min.value > usual.final_set_min.value and retarded.wet_strength_mpa.value < usual.wet_strength_mpa.value


def test_events_come_in_their_order():
    for powder, kind in POWDERS.items():
        s = mix(powder, kind.recommended_ratio.value).setting
        order = [s[name].value for name in ("working_time_min", "initial_set_min", "gloss_loss_min", "light_needle_min", "final_set_min")]
        assert order == sorted(order) and all(s[name].low <= s[name].value <= s[name].high for name in s)


def test_vicat_time_follows_from_flow_as_the_handbook_has_it():
    """Handbook, from memory: initial Vicat 11 min for plaster at 0.50. Thin: gloss loss was chosen, thickening is our own law, and
    that the needle stops when its pressure over nine equals the yield stress is our assumption; only the number 11 is outside."""
    assert mix("model plaster", 0.50).initial_set_min.value == pytest.approx(11.0, rel=0.15)


def test_a_large_lump_grows_hotter():
    peaks = [mix("dental stone", 0.30, powder_g=grams).peak_temperature_c.value for grams in (20, 100, 2000, 20000)]
    assert peaks == sorted(peaks) and peaks[-1] > 60


def test_near_boiling_nothing_sets_and_the_reason_is_given():
    hot = mix("model plaster", 0.50, water_temperature_c=98, room_temperature_c=98)
    assert hot.final_set_min.value is None and not hot.final_set_min.valid and "97 °C" in hot.final_set_min.reason
    assert hot.final_set_min.as_dict()["value"] is None


def test_extrapolation_is_said():
    far = mix("improved stone", 0.50)
    assert not far.spread_mm.valid and "extrapolated" in far.spread_mm.reason
    assert mix("model plaster", 0.50).spread_mm.valid


def random_conditions(rng):
    additive = rng.choice(list(ADDITIVES))
    return Conditions(mixing=rng.choice(list(MIXING_METHODS)), water_temperature_c=rng.uniform(2, 98), room_temperature_c=rng.uniform(2, 98),
                      additive=additive, additive_percent=rng.uniform(0, ADDITIVES[additive].most_percent),
                      powder_state=rng.choice(list(POWDER_STATES)), powder_g=10 ** rng.uniform(0, 4.5))


def are_numbers_or_reasons(found, seen):
    for name, p in found.items():
        number = np.isfinite(p.value)
        assert not np.any(p.valid & ~number), (name, seen)
        assert np.all(number & p.valid) or p.reason, (name, seen)
        assert np.all((p.low <= p.value + 1e-9)[number]), (name, seen)
        known = number & np.isfinite(p.high)
        assert np.all((p.value <= p.high + 1e-9)[known]), (name, seen)


def test_ten_thousand_random_recipes_give_numbers_or_reasons():
    """500 times another powder, mixing, additive, temperature, state, batch and moment, each at 20 ratios; the clock, which costs
    most, with its ranges for every fifth, and its time line for every tenth."""
    rng = np.random.default_rng(4)
    for turn in range(500):
        powder, made = rng.choice(list(POWDERS)), random_conditions(rng)
        kind = POWDERS[powder]
        ratios, moment = rng.uniform(kind.least_ratio, kind.most_ratio, 20), rng.uniform(0.0, 20.0)
        seen = (turn, powder, made, moment)
        are_numbers_or_reasons(predict(powder, ratios, time_min=moment, conditions=made), seen)
        are_numbers_or_reasons(predict_setting(powder, ratios, made, ranges=turn % 5 == 0), seen)
        if turn % 10 == 0:
            line = predict_timeline(powder, ratios[0], np.sort(rng.uniform(0.0, 300.0, 20)), made)
            stress = line.pop("yield_stress_pa")             # a paste at first, then no longer one
            assert np.all(np.diff(np.isfinite(stress.value).astype(int)) <= 0), seen
            assert all(np.all(np.isfinite(p.value)) for p in line.values()), seen
            are_numbers_or_reasons(line, seen)


# ---- recipes that cannot be

@pytest.mark.parametrize("powder, ratio, said", [
    ("model plaster", 54, "write 0.54"), ("model plaster", 0, "more than 0"), ("model plaster", -0.5, "more than 0"),
    ("model plaster", float("nan"), "not one"), ("model plaster", "lots", "not one"), ("model plaster", None, "must be a number"),
    ("model plaster", True, "not yes or no"), ("model plaster", 0.15, "too dry"), ("model plaster", 0.95, "too wet"),
    ("dental stone", 3.33, "upside down"), ("plaster stone", 0.5, "did you mean"), ("", 0.5, "choice is"),
])
def test_a_recipe_that_cannot_be_is_refused_in_one_sentence(powder, ratio, said):
    with pytest.raises(Problem, match=said) as problem:
        Recipe(powder, ratio)
    assert "\n" not in str(problem.value) and len(str(problem.value)) < 260


@pytest.mark.parametrize("powder_g, water_ml, said", [(0, 50, "between"), (100, 0, "more than 0"), ("x", 50, "must be a number"),
                                                      (100, float("inf"), "ordinary number"), (50, 100, "upside down|too wet")])
def test_weighing_that_cannot_be_is_refused(powder_g, water_ml, said):
    with pytest.raises(Problem, match=said):
        Recipe.weighed("model plaster", powder_g, water_ml)


def test_weighed_recipe_and_forgiving_names():
    assert Recipe.weighed("Model  Plaster", 150, 78).water_powder_ratio == pytest.approx(0.52)
    with pytest.raises(Problem, match="between 2 and 98"):
        Recipe("model plaster", 0.5, water_temperature_c=99)
