"""The cases: each has quite different good answers, the common wrong ones fail for the stated reason, and the numbers are the library's."""

import dataclasses

import numpy as np
import pytest

from gypsumkit.bench import case_choices
from gypsumkit.bench.case_choices import all_choices, beaten_by, best_choices, good_ratios, unbeaten
from gypsumkit.bench.case_judging import ASPECTS, MAY_MISS, MEETS, MISSES, NOT_JUDGED, Check, cost_of_a_cast, judge, strength_when_used
from gypsumkit.bench.cases import CASES, MACHINE_USE, MIXINGS, SCHEDULES, WASTE, Choice, find_case
from gypsumkit.bench.prices import INVENTED_PER_KG
from gypsumkit.mix import Mix
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.studies.ageing import first_week
from gypsumkit.studies.comparison import powder_for_a_cast_g

STUDY, WORKING, DIES = CASES["study model"], CASES["working model"], CASES["bridge dies"]
AT_2_H, AT_30_MIN = "use at 2 h, separate at 45 min", "use at 30 min, separate at 20 min"
AT_24_H, DRIED = "use at 24 h, in still air", "use at 48 h, in moving air"
VACUUM = "machine under vacuum"

GOOD = [
    (STUDY, Choice("model plaster", 0.50, schedule=AT_2_H)),
    (STUDY, Choice("dental stone", 0.32, schedule=AT_30_MIN)),
    (WORKING, Choice("dental stone", 0.28, schedule=AT_2_H)),
    (WORKING, Choice("improved stone", 0.25, schedule=AT_24_H)),
    (DIES, Choice("improved stone", 0.23, VACUUM, DRIED)),
    (DIES, Choice("dental stone", 0.305, VACUUM, DRIED)),
]


def missed(judgement):
    return {check.words for check in judgement.checks if check.verdict == MISSES}


@pytest.mark.parametrize("case, choice", GOOD)
def test_each_case_has_quite_different_good_answers(case, choice):
    assert judge(case, choice).acceptable


def test_the_good_answers_above_differ_in_the_powder():
    for case in CASES.values():
        assert len({choice.powder for one, choice in GOOD if one is case}) == 2
        assert len({choice.powder for choice in best_choices(case)}) >= 2


# Common wrong answers, each with all that it fails in and a word of the reason.
WRONG = [
    ("more water to make pouring easy", STUDY, Choice("model plaster", 0.65), {"strength when used", "yield stress"}, "runny"),
    ("less water to be strong", STUDY, Choice("model plaster", 0.43), {"yield stress", "it pours until"}, "too stiff to pour"),
    ("improved stone for everything", STUDY, Choice("improved stone", 0.23), {"cost of one cast"}, "for 1 kg"),
    ("separated before the final set", STUDY, Choice("model plaster", 0.50, schedule=AT_30_MIN), {"final set", "strength when used"}, "separated too soon"),
    ("beaten like an egg", STUDY, Choice("model plaster", 0.50, "beaten by hand, 120 turns"), {"air"}, "bubbles"),
    ("plaster that was dried, soaked again", WORKING, Choice("model plaster", 0.50, schedule=AT_24_H),
     {"strength when used", "length change on 55 mm"}, "soaked again"),
    ("more water in the stone", WORKING, Choice("dental stone", 0.36), {"strength when used", "yield stress"}, "porosity"),
    ("plaster for dies", DIES, Choice("model plaster", 0.50, VACUUM, DRIED), {"strength when used", "length change on 40 mm"}, "it grows by"),
    ("high-expansion stone in a chain in balance", DIES, Choice("high-expansion stone", 0.21, VACUUM, DRIED), {"length change on 40 mm"}, "it grows by"),
    ("a die used wet", DIES, Choice("improved stone", 0.23, VACUUM, AT_2_H), {"strength when used"}, "still wet"),
    ("a die that takes a week", DIES, Choice("improved stone", 0.23, VACUUM, "use at 7 days, in still air"), {"used at"}, "wanted earlier"),
]


@pytest.mark.parametrize("case, choice, fails, said", [one[1:] for one in WRONG], ids=[one[0] for one in WRONG])
def test_a_common_wrong_answer_fails_for_its_reason_and_no_other(case, choice, fails, said):
    judgement = judge(case, choice)
    assert missed(judgement) == {words for words in fails}
    assert not judgement.acceptable and any(said in check.reason for check in judgement.checks if check.verdict == MISSES)


# ---------------------------------------------------------------- the numbers are those of the library


@pytest.mark.parametrize("case, choice", [*GOOD, *((one[1], one[2]) for one in WRONG)])
def test_numbers_are_those_of_the_mix(case, choice):
    mix = Mix(Recipe(choice.powder, choice.water_powder_ratio, **MIXINGS[choice.mixing]))
    check = {one.words: one for one in judge(case, choice).checks}
    for words, prediction, scale in (("yield stress", mix.yield_stress_pa, 1.0), ("air", mix.air_fraction, 100.0), ("it pours until", mix.working_time_min, 1.0),
                                     ("final set", mix.final_set_min, 1.0),
                                     (f"length change on {case.length_mm:g} mm", mix.setting_expansion_percent, 10.0 * case.length_mm)):
        found = check[words]
        assert (found.value, found.low, found.high) == pytest.approx((scale * prediction.value, scale * prediction.low, scale * prediction.high), rel=1e-9), words
    grams = powder_for_a_cast_g(choice.powder, choice.water_powder_ratio, case.cast_ml, mix.air_fraction.value) * (1 + WASTE)
    machine = MACHINE_USE if choice.mixing == VACUUM else 0.0
    price = INVENTED_PER_KG[choice.powder]
    assert check["cost of one cast"].value == pytest.approx(grams / 1000 * price + machine, rel=1e-9)


def test_strength_is_that_of_the_first_week_and_its_range_the_wider_one():
    late = Choice("dental stone", 0.30, schedule=AT_24_H)
    value, low, high = strength_when_used(late)
    week = first_week(late.recipe, np.array([24 * 60.0]), 12.0)
    assert value == pytest.approx(week.strength_mpa[0]) and low <= week.strength_low_mpa[0] and high >= week.strength_high_mpa[0]
    early = Choice("model plaster", 0.50, schedule=AT_30_MIN)
    line = Mix(early.recipe).timeline(np.array([30.0]))["strength_mpa"]
    assert strength_when_used(early)[0] == pytest.approx(line.value[0])
    assert strength_when_used(early)[1:] == pytest.approx((line.low[0], line.high[0]))
    # Soaked again, drying has gained nothing.
    assert strength_when_used(late, soaked=True)[0] == pytest.approx(strength_when_used(Choice("dental stone", 0.30, schedule="use at 24 h, kept moist"))[0])


def test_the_grid_says_the_same_as_the_judgement():
    drawn = np.random.default_rng(4)
    for case in CASES.values():
        grid = all_choices(case)
        for place in [*drawn.choice(len(grid.powder), 25, replace=False), *drawn.choice(np.flatnonzero(grid.acceptable), 15)]:
            choice = grid.choice(place)
            value = {check.words: check.value for check in judge(case, choice).checks}
            assert grid.strength_mpa[place] == pytest.approx(value["strength when used"], rel=1e-6, abs=1e-6), choice
            assert grid.cost[place] == pytest.approx(value["cost of one cast"], rel=1e-6)
            assert grid.used_min[place] == value["used at"]
            change = value[f"length change on {case.length_mm:g} mm"]
            assert grid.change_um[place] == pytest.approx(change, rel=1e-6, nan_ok=True)
            if grid.acceptable[place]:
                assert judge(case, choice).acceptable, choice


# ---------------------------------------------------------------- verdicts


@pytest.mark.parametrize("value, low, high, least, most, verdict", [
    (10, 9, 11, 8, None, MEETS), (10, 7, 11, 8, None, MAY_MISS), (7, 6, 9, 8, None, MISSES), (10, 9, 11, None, 12, MEETS), (10, 9, 13, None, 12, MAY_MISS),
    (13, 11, 14, None, 12, MISSES), (10, 9, 11, 9, 11, MEETS), (10, 8, 11, 9, 11, MAY_MISS), (np.nan, np.nan, np.nan, None, 12, MISSES),
    (12, 12, 12, None, 12, MEETS), (10, 9, np.inf, None, 12, MAY_MISS)])
def test_the_value_decides_and_the_range_says_how_sure(value, low, high, least, most, verdict):
    assert Check("time", "final set", "min", value, low, high, least, most, "").verdict == verdict


def test_an_aspect_is_as_good_as_its_worst_check_and_the_whole_has_no_mark():
    judgement = judge(STUDY, Choice("model plaster", 0.65))
    assert [judgement.verdict(aspect) for aspect in ASPECTS] == [MISSES, MISSES, MEETS, MEETS]
    said = judgement.overall()
    assert said.startswith("It misses in strength and accuracy.") and "with less water would meet every wish" in said and "%" not in said and "points" not in said
    assert "Several good answers exist, with 2 of the powders." in said
    assert judge(STUDY, Choice("model plaster", 0.50)).overall().startswith("It meets every wish, with its whole range.")
    assert "in strength and accuracy the range reaches out" in judge(DIES, Choice("dental stone", 0.30, VACUUM, DRIED)).overall()
    assert "no ratio of model plaster meets every wish" in judge(DIES, Choice("model plaster", 0.50)).overall()


def test_without_a_price_the_cost_is_not_judged(monkeypatch):
    own = dataclasses.replace(POWDERS["dental stone"], name="our stone")
    monkeypatch.setitem(POWDERS, "our stone", own)
    judgement = judge(STUDY, Choice("our stone", 0.30))
    assert judgement.verdict("cost") == NOT_JUDGED and not judgement.acceptable
    assert "There is no price of our stone" in judgement.notes[0] and "The cost is not judged." in judgement.overall()
    priced = judge(STUDY, Choice("our stone", 0.30), {"our stone": "2,50"})
    assert priced.verdict("cost") == MEETS and priced.acceptable
    case_choices._all_choices.cache_clear()
    case_choices._best_choices.cache_clear()


def test_own_prices_change_the_verdict():
    cheap = judge(STUDY, Choice("improved stone", 0.23), {"improved stone": 2.0})
    assert cheap.verdict("cost") == MEETS
    assert cost_of_a_cast(STUDY, Choice("improved stone", 0.23), {"improved stone": 12.0})[0] == pytest.approx(
        2 * cost_of_a_cast(STUDY, Choice("improved stone", 0.23))[0])


# ---------------------------------------------------------------- what no other choice beats


def brute_force(losses):
    """The rows that no other row beats, row by row."""
    return np.array([not any(np.all(other <= one) and np.any(other < one) for other in losses) for one in losses])


@pytest.mark.parametrize("seed", range(5))
def test_unbeaten_is_what_brute_force_finds(seed):
    drawn = np.random.default_rng(seed)
    for losses in (drawn.normal(size=(200, 4)), drawn.integers(0, 4, size=(200, 4)).astype(float), drawn.normal(size=(200, 2)), np.ones((5, 4))):
        assert np.array_equal(unbeaten(losses), brute_force(losses))


@pytest.mark.parametrize("case", CASES.values(), ids=list(CASES))
def test_best_choices_are_what_brute_force_finds(case):
    grid = all_choices(case)
    places = np.flatnonzero(grid.acceptable)
    wanted = {grid.choice(place) for place in places[brute_force(grid.losses()[places])]}
    assert set(best_choices(case)) == wanted and len(wanted) >= 5


def test_a_choice_is_beaten_only_by_what_is_no_worse_in_all_four():
    found_some = 0
    for case in CASES.values():
        for powder in POWDERS.values():
            for ratio in np.arange(powder.least_ratio + 0.005, powder.most_ratio, 0.017):
                choice = Choice(powder.name, round(float(ratio), 3), schedule=AT_24_H)
                found = beaten_by(case, choice)
                if found is None:
                    continue
                found_some += 1
                own, other = judge(case, choice), judge(case, Choice(powder.name, found[0], schedule=AT_24_H))
                for aspect, words, sign in (("strength", "strength when used", -1), ("growth", f"length change on {case.length_mm:g} mm", 1),
                                            ("cost", "cost of one cast", 1)):
                    (mine,), (its,) = ([one.value for one in judged.checks if one.words == words] for judged in (own, other))
                    if aspect in found[1]:
                        assert sign * its < sign * mine, (choice, found)
                    else:
                        assert np.isnan(mine) or sign * its <= sign * mine + 0.002 * abs(mine), (choice, found)
    assert found_some >= 5


def test_too_little_water_is_beaten_and_says_by_what():
    dry = judge(STUDY, Choice("model plaster", 0.33, schedule=AT_24_H))
    assert dry.beaten is not None and dry.beaten[0] > 0.45 and "strength" in dry.beaten[1]
    assert "The same powder at a ratio of 0." in dry.overall() and "beats it: better in strength" in dry.overall()
    assert judge(STUDY, Choice("model plaster", 0.50)).beaten is None


def test_good_ratios_meet_and_their_neighbours_do_not():
    choice = Choice("model plaster", 0.60)
    low, high = good_ratios(STUDY, choice)
    assert 0.45 < low < high < 0.60
    for ratio, wanted in ((low, True), (high, True), (low - 0.01, False), (high + 0.01, False)):
        assert judge(STUDY, dataclasses.replace(choice, water_powder_ratio=ratio)).acceptable is wanted
    assert good_ratios(DIES, Choice("model plaster", 0.5)) is None


# ---------------------------------------------------------------- what must hold along the water


@pytest.mark.parametrize("powder, ratios", [("model plaster", (0.46, 0.50, 0.54, 0.58)), ("dental stone", (0.28, 0.30, 0.32, 0.34)),
                                            ("improved stone", (0.21, 0.23, 0.25, 0.27))])
def test_more_water_pours_longer_costs_less_grows_less_and_carries_less(powder, ratios):
    values = [{check.words: check.value for check in judge(STUDY, Choice(powder, ratio)).checks} for ratio in ratios]
    for words, sign in (("strength when used", -1), ("length change on 60 mm", -1), ("yield stress", -1), ("it pours until", 1), ("final set", 1),
                        ("cost of one cast", -1)):
        assert all(sign * (after[words] - before[words]) > 0 for before, after in zip(values, values[1:])), words


def test_the_trade_says_what_two_millilitres_do():
    before, after = (judge(DIES, Choice("improved stone", ratio, VACUUM, DRIED)) for ratio in (0.23, 0.25))
    (sentence,) = [one for one in before.trades if "more water" in one]
    change = after.checks[0].value - before.checks[0].value
    assert f"strength −{abs(change):.1f} MPa" in sentence
    # Where the setting constants do not hold, nothing is said.
    assert len(judge(DIES, Choice("improved stone", 0.215, VACUUM, DRIED)).trades) == 1


def test_a_law_used_outside_its_range_is_said():
    assert any("Extrapolated: the setting constants" in note for note in judge(DIES, Choice("improved stone", 0.19)).notes)
    assert judge(WORKING, Choice("dental stone", 0.28)).notes == ()


# ---------------------------------------------------------------- what is refused


@pytest.mark.parametrize("wrong, said", [
    (dict(powder="concrete", water_powder_ratio=0.5), "no powder called 'concrete'"), (dict(powder="model plaster", water_powder_ratio=50), "50 looks like mL"),
    (dict(powder="model plaster", water_powder_ratio=0.5, mixing="by foot"), "no way of mixing in the cases"),
    (dict(powder="model plaster", water_powder_ratio=0.5, schedule="use at 24 h"), "no schedule called")])
def test_a_wrong_choice_is_refused_in_words(wrong, said):
    with pytest.raises(Problem, match=said):
        Choice(**wrong)


def test_an_unknown_case_is_refused_and_a_case_says_its_wishes():
    with pytest.raises(Problem, match="no case called 'bridge die'; did you mean 'bridge dies'"):
        find_case("bridge die")
    assert find_case("Study Model") is STUDY
    for case in CASES.values():
        assert len(case.wishes()) == 6 and f"{case.strength_mpa:g} MPa" in case.wishes()[0]
    assert [when.separated_min <= when.used_min for when in SCHEDULES.values()] == [True] * len(SCHEDULES)


# ---------------------------------------------------------------- the lesson says the same


def test_the_table_of_the_lesson_holds_the_wishes_and_prices_of_the_cases():
    from tests.lessons.pages import CLONE, cells
    (text,) = [cell.source for cell in cells(CLONE / "lessons" / "12_choose_and_plan.ipynb", "markdown") if cell.id == "case"]
    rows = {row[0].strip(): row[1:] for row in (line.strip("|").split("|") for line in text.splitlines() if line.startswith("| "))}
    for place, case in enumerate((STUDY, WORKING, DIES)):
        said = {name: row[place].strip() for name, row in rows.items()}
        assert said["strength when used, at least"].startswith(f"{case.strength_mpa:g} MPa") and ("wet" in said["strength when used, at least"]) == case.soaked
        assert said["volume of one cast, and how many"] == f"{case.cast_ml:g} mL, {case.casts} casts"
        assert said["longer at 2 h, at most"] == f"{case.change_um:g} µm on {case.length_mm:g} mm"
        assert said["air, at most"] == f"{case.air_percent:g} %" and said["pours for at least"] == f"{case.working_min:g} min"
        assert said["ready within"] == f"{case.ready_min / 60:g} h" and said["one cast costs at most"] == f"{case.cost:.2f}"
    for powder, price in INVENTED_PER_KG.items():
        assert f"{price:.2f} ({powder})" in text
    assert f"{MACHINE_USE:.2f} for each bowl under vacuum" in text
