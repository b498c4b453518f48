"""A list of recipes is read as a person writes it, or refused in a sentence."""

import pytest

from gypsumkit.problems import Problem
from gypsumkit.studies.recipe_list import read_recipes
from gypsumkit.studies.ring_row import RingRow


def _read(text, most=6):
    return [(recipe.powder, round(recipe.water_powder_ratio, 4)) for recipe in read_recipes(text, most)]


@pytest.mark.parametrize("text, recipes", [
    ("42, 50 of model plaster; 30 of dental stone", [("model plaster", 0.42), ("model plaster", 0.5), ("dental stone", 0.3)]),
    ("0.5 and 0.55 of Model Plaster", [("model plaster", 0.5), ("model plaster", 0.55)]),
    ("52,5, 60 of model plaster", [("model plaster", 0.525), ("model plaster", 0.6)]),
    ("0,50 of model plaster;", [("model plaster", 0.5)]),
    ("50 mL per 100 g of model plaster", [("model plaster", 0.5)]),
])
def test_recipes_are_read(text, recipes):
    assert _read(text) == recipes


@pytest.mark.parametrize("text, words", [
    ("", "No recipe"), ("42, 50", "names no powder"), ("of model plaster", "names no water"), ("42 of butter", "butter"), ("42,50 of model plaster", "one number or two"),
    ("wet of model plaster", "not a water/powder ratio"), ("5 of model plaster", "model plaster"), ("nan of model plaster", "not a water/powder ratio"),
    ("42, 44, 46, 48, 50, 52, 54 of model plaster", "6 are the most"),
])
def test_what_cannot_be_read_is_said(text, words):
    with pytest.raises(Problem, match=words):
        read_recipes(text, 6)


def test_rings_are_lifted_and_shaken_together():
    row = RingRow(read_recipes("42, 63 of model plaster", 6))
    assert not row.lifted
    row.lift()
    stands, runs = (test.end_mm()[0] for test in row.tests)
    assert stands == pytest.approx(35, abs=0.5) and runs > 60
    row.switch(True, 0.5)
    assert all(test.vibrating for test in row.tests) and row.tests[0].end_mm()[0] > 45
    seconds, ratios = row.courses()
    assert ratios.shape == (len(seconds), 2) and (ratios[-1] >= ratios[0]).all()
    with pytest.raises(Problem, match="up already"):
        row.lift()
