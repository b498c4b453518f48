"""Every number of the library names a source that exists and a standing."""

import pytest

from gypsumkit import mix, powders
from gypsumkit.sources import SOURCES, Sourced

NUMBERS = {f"{powder.name}, {name}": value for powder in powders.POWDERS.values() for name, value in vars(powder).items()
           if isinstance(value, Sourced)}
NUMBERS.update({f"{powder.name}, setting, {name}": value for powder in powders.POWDERS.values() for name, value in vars(powder.setting).items()
                if isinstance(value, Sourced)})
NUMBERS.update({name: value for name, value in vars(powders).items() if isinstance(value, Sourced)})
NUMBERS.update(powders.MIXING_METHODS)


@pytest.mark.parametrize("name", NUMBERS)
def test_number_carries_unit_range_and_source(name):
    number = NUMBERS[name]
    assert number.unit and number.locator and number.source in SOURCES
    assert number.low < number.high


def test_quantities_name_their_source():
    assert all(quantity.source in SOURCES for quantity in mix.QUANTITIES.values())


@pytest.mark.parametrize("wrong", [dict(source="nobody"), dict(standing="sure"), dict(low=2.0)])
def test_a_number_without_a_proper_source_is_refused(wrong):
    right = dict(value=1.0, unit="1", low=0.9, high=1.1, source="trade", locator="x", standing="our calibration")
    with pytest.raises(ValueError):
        Sourced(**{**right, **wrong})
