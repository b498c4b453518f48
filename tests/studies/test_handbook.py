"""The published strengths that lessons show: the same as the tables of the tests, and what the law makes of them."""

import pytest

from gypsumkit.studies.handbook import HANDBOOK_STRENGTHS, INDUSTRIAL_STRENGTHS, KGF_PER_CM2_IN_MPA, law_off_range_percent
from gypsumkit.mix import Mix
from gypsumkit.recipe import Recipe
from gypsumkit.sources import SOURCES, STANDINGS
from tests.published import table


def test_the_nine_values_are_those_of_the_published_table():
    ours = {(each.name, each.water_powder_ratio): each.strength_mpa for each in HANDBOOK_STRENGTHS}
    theirs = {(row["powder"], float(row["water_powder_ratio"])): float(row["wet_strength_mpa"]) for row in table("handbook_strength")}
    assert ours == theirs and len(ours) == 9


def test_the_industrial_values_are_those_of_the_published_table():
    ours = {each.name: (each.water_powder_ratio, each.strength_mpa) for each in INDUSTRIAL_STRENGTHS}
    theirs = {row["product"]: (float(row["water_percent"]) / 100, float(row["strength_kgf_cm2"]) * KGF_PER_CM2_IN_MPA)
              for row in table("industrial_plasters") if row["strength_kgf_cm2"]}
    assert ours.keys() == theirs.keys()
    for name, values in ours.items():
        assert values == pytest.approx(theirs[name])


def test_every_value_names_its_source_and_standing():
    for each in (*HANDBOOK_STRENGTHS, *INDUSTRIAL_STRENGTHS):
        assert each.source in SOURCES and each.standing in STANDINGS
    assert {each.standing for each in HANDBOOK_STRENGTHS} == {"handbook, from memory"}


@pytest.mark.parametrize("each", [h for h in HANDBOOK_STRENGTHS if h.water_powder_ratio < 0.5 or h.name == "model plaster"],
                         ids=lambda each: f"{each.name} {each.water_powder_ratio}")
def test_the_law_beside_a_handbook_value_is_the_mix_of_that_recipe(each):
    mix = Mix(Recipe(each.name, each.water_powder_ratio))
    if mix.consistency != "too stiff to pour":          # stiffer mixes trap air, which the handbook's test pieces do not
        assert each.law_mpa == pytest.approx(mix.wet_strength_mpa.value, rel=0.03)


def test_the_largest_misfits_are_those_the_lesson_says():
    low, high = law_off_range_percent(HANDBOOK_STRENGTHS)
    assert (round(low), round(high)) == (-11, 17)


def test_close_to_its_own_ratio_each_stone_falls_more_steeply_than_the_law():
    for powder in ("dental stone", "improved stone"):
        dry, wet = sorted((h for h in HANDBOOK_STRENGTHS if h.name == powder), key=lambda h: h.water_powder_ratio)[:2]
        assert wet.strength_mpa / dry.strength_mpa < wet.law_mpa / dry.law_mpa
