"""Prices: invented ones are marked, own ones are read and checked."""

import pytest

from gypsumkit.bench.prices import INVENTED_PER_KG, Price, price_list, read_price
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem


def test_the_five_powders_have_an_invented_price_marked_so():
    assert set(INVENTED_PER_KG) == {"impression plaster", "model plaster", "dental stone", "improved stone", "high-expansion stone"} <= set(POWDERS)
    assert all(price.invented and price.per_kg > 0 for price in price_list().values())


def test_an_own_price_takes_the_place_of_the_invented_one_and_of_no_other():
    prices = price_list({"Dental Stone": "2,40"})
    assert prices["dental stone"] == Price(2.4, False)
    assert prices["model plaster"] == price_list()["model plaster"]


@pytest.mark.parametrize("written, value", [(2.4, 2.4), ("2,40", 2.4), ("€ 2.40", 2.4), ("2.40 per kg", 2.4), ("3 $/kg", 3.0), ("0", 0.0),
                                            (" 1 250.5 ", 1250.5)])
def test_a_price_is_read_as_a_person_writes_it(written, value):
    assert read_price(written) == value


@pytest.mark.parametrize("written, says", [
    ("-1", "between 0"), ("dear", "cannot be read"), ("2.40 kg", "which is a mass"), ("1e9", "between 0"), (float("nan"), "ordinary number"), (True, "not yes or no"),
    (None, "must be a number"), ("", "cannot be read"), ("2.40 per g", "cannot be read"), ("2 to 3", "more than one number"),
])
def test_what_is_no_price_is_refused_in_one_sentence_that_names_the_powder(written, says):
    with pytest.raises(Problem, match=says) as refused:
        read_price(written, "dental stone")
    assert str(refused.value).startswith("The price of dental stone") and "\n" not in str(refused.value)


def test_an_unknown_powder_and_one_named_twice_are_refused():
    with pytest.raises(Problem, match="did you mean 'dental stone'"):
        price_list({"dental stones": 2})
    with pytest.raises(Problem, match="Two prices are given for dental stone"):
        price_list({"dental stone": 2, "Dental stone": 3})
