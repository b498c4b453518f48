"""Reading a typed number: what students write, what is refused and in which words."""

import math
import random
import re

import pytest

from gypsumkit.problems import Problem
from gypsumkit.units import UNITS, find_unit, read_number, say_number, say_quantity

READABLE = [
    ("54", 54, None), ("54.", 54, None), (".5", 0.5, None), ("0,54", 0.54, None), ("  54  ", 54, None),
    ("+54 g", 54, "g"), ("-3,5 %", -3.5, "%"), ("−3.5 °C", -3.5, "°C"), ("–2 mm", -2, "mm"),
    ("54g", 54, "g"), ("54 grams", 54, "g"), ("54 GRAMS.", 54, "g"), ("2 kg", 2, "kg"), ("7 mg", 7, "mg"),
    ("54 ml", 54, "mL"), ("54 ML", 54, "mL"), ("54 cc", 54, "mL"), ("54 millilitres", 54, "mL"), ("54 milliliters", 54, "mL"),
    ("0.5 l", 0.5, "L"), ("5 cm3", 5, "cm³"), ("5 cm³", 5, "cm³"), ("5 cm^3", 5, "cm³"),
    ("3 MPa", 3, "MPa"), ("3 mpa", 3, "MPa"), ("3 N/mm2", 3, "MPa"), ("3 N/mm²", 3, "MPa"), ("3 N per mm2", 3, "MPa"),
    ("12 kPa", 12, "kPa"), ("2 m", 2, "m"), ("20 µm", 20, "µm"), ("20 μm", 20, "µm"), ("20 um", 20, "µm"), ("20 microns", 20, "µm"),
    ("42 per cent", 42, "%"), ("42 pct", 42, "%"), ("0.42 as a fraction", 0.42, "fraction"), ("18.6 per 100", 18.6, "per 100"), ("69 of 100", 69, "per 100"), ("69 out of 100 casts", 69, "per 100"),
    ("3 bits", 3, "times"), ("55 casts", 55, "times"),
    ("20 degrees C", 20, "°C"), ("20 C", 20, "°C"), ("20℃", 20, "°C"),
    ("54 mL per 100 g", 54, "mL per 100 g"), ("54 ml/100 g", 54, "mL per 100 g"), ("54 mL : 100 g", 54, "mL per 100 g"),
    ("54 ml of water to 100g of powder", 54, "mL per 100 g"), ("54 cm3 per 100 g", 54, "mL per 100 g"),
    ("27 mL per 50 g", 27, "mL per 50 g"), ("0.54 mL g-1", 0.54, "mL/g"), ("0.54 mL g⁻¹", 0.54, "mL/g"),
    ("2,3 g/cm3", 2.3, "g/cm³"), ("2.3 g/mL", 2.3, "g/cm³"), ("2300 kg m⁻³", 2300, "kg/m³"), ("2.3 kg/L", 2.3, "g/cm³"),
    ("18.6 g per 100 g", 18.6, "g per 100 g"), ("2.5 mPa s", 2.5, "mPa·s"), ("2.5 Pa·s", 2.5, "Pa·s"),
    ("1.2e3 Pa", 1200, "Pa"), ("1.2E-3", 0.0012, None), ("1.2×10³ Pa", 1200, "Pa"), ("1.2 x 10^3 Pa", 1200, "Pa"),
    ("1,2*10**-3", 0.0012, None), ("10⁵ Pa", 1e5, "Pa"), ("10^5 Pa", 1e5, "Pa"),
    ("1/2", 0.5, None), ("54/100", 0.54, None), ("½", 0.5, None), ("1½ min", 1.5, "min"), ("1 1/2 min", 1.5, "min"), ("-1 1/2", -1.5, None),
    ("2 min 30 s", 2.5, "min"), ("1 h 15 min", 1.25, "h"),
    ("1 250 g", 1250, "g"), ("1\u00a0250,5 g", 1250.5, "g"), ("1.250,5 g", 1250.5, "g"), ("1,250.5 g", 1250.5, "g"),
    ("1,250,000", 1250000, None), ("1'250 g", 1250, "g"), ("0,250 g", 0.25, "g"), ("1.250 g", 1.25, "g"),
    ("0.51 €", 0.51, "€"), ("€0,51", 0.51, "€"), ("$ 1.20", 1.2, "€"), ("1,20 euros", 1.2, "€"), ("about £3", 3, "€"),
    ("0.4 mm/s", 0.4, "mm/s"), ("0.4 mm per second", 0.4, "mm/s"), ("0.4 mm in 1 s", 0.4, "mm/s"), ("0.4 mm s⁻¹", 0.4, "mm/s"), ("4 cm/s", 4, "cm/s"),
    ("W/P = 0.54", 0.54, None), ("about 54 mL", 54, "mL"), ("≈ 54 mL", 54, "mL"), ("= 54 mL", 54, "mL"), (54, 54, None), (0.54, 0.54, None),
]


@pytest.mark.parametrize("typed, number, symbol", READABLE)
def test_what_students_write_is_read(typed, number, symbol):
    quantity = read_number(typed)
    assert quantity.number == pytest.approx(number, rel=1e-12)
    assert (quantity.unit.symbol if quantity.unit else None) == symbol


REFUSED = [
    ("", "Nothing is written yet"), ("   ", "Nothing is written yet"), ("plenty", "is not a number"), ("mL", "without a number"),
    ("nan", "not a number that can be measured"), ("NaN mL", "not a number that can be measured"), ("inf", "can be measured"),
    ("-inf g", "can be measured"), ("Infinity", "can be measured"), ("∞", "can be measured"), ("1e400", "outside any number"),
    ("1e-999999999999999999", "outside any number"), ("9" * 110 + "e300", "too large"),
    ("50-55 mL", "more than one number"), ("50 to 55 mL", "more than one number"), ("54:100", "more than one number"),
    ("54 ± 2 mL", "more than one number"), ("54 10", "more than one number"), ("54*100", "calculation"), ("(54)", "does not begin with its number"),
    ("54/0", "divides by zero"), ("5 mL per 0 g", "divides by zero"), ("1.2.3", "more than one decimal point"), ("1,2.3,4", "not a number"),
    ("1,250 g", "1250 or as 1.250"), ("54 mLL", "do you mean mL?"), ("54 grms", "do you mean g?"), ("54 furlongs per fortnight", "is not a unit known here"),
    ("3 mPa", "do you mean MPa?"), ("<b>54</b>", "does not begin with its number"), ("54 <script>alert(1)</script>", "is not a unit known here"),
    ("< 54 mL", "does not begin with its number"), ("x" * 10_000, "10000 characters long"), ("5" * 10_000, "10000 characters long"),
    (None, "a number with its unit"), (True, "a number with its unit"), (["54"], "a number with its unit"), (float("nan"), "can be measured"), (float("inf"), "can be measured"),
]


def test_as_many_of_100_are_a_share_and_a_number():
    assert read_number("69 of 100").in_unit(find_unit("%")) == pytest.approx(69)
    assert read_number("69 of 100").in_unit(find_unit("times")) == 69


@pytest.mark.parametrize("example, said", [("54 °C", "write a number with its unit, for example 54 °C."), ("54", "write a number, for example 54.")])
def test_the_example_has_the_unit_that_is_asked_for(example, said):
    with pytest.raises(Problem) as refused:
        read_number("", example)
    assert str(refused.value).endswith(said)


@pytest.mark.parametrize("typed, says", REFUSED)
def test_what_cannot_be_read_is_refused_in_one_sentence(typed, says):
    with pytest.raises(Problem) as caught:
        read_number(typed)
    sentence = str(caught.value)
    assert says in sentence
    assert "\n" not in sentence and len(sentence) < 220


def test_no_text_whatever_gives_another_error():
    draw = random.Random(7)
    alphabet = "0123456789.,-+eE /:^*x×()<>% gmLlPakNs°Cµ²³½∞−nainf'\u00a0\t\n\ud800٣"
    read = 0
    for _ in range(20_000):
        text = "".join(draw.choice(alphabet) for _ in range(draw.randrange(12)))
        try:
            quantity = read_number(text)
        except Problem:
            continue
        assert math.isfinite(quantity.number)
        read += 1
    assert read > 500


@pytest.mark.parametrize("typed, wanted, value", [
    ("54 g", "kg", 0.054), ("0,5 L", "mL", 500), ("5 cm³", "mL", 5), ("100 µm", "mm", 0.1), ("2 m", "mm", 2000), ("90 s", "min", 1.5),
    ("54 mL per 100 g", "mL/g", 0.54), ("27 mL per 50 g", "mL per 100 g", 54), ("0.54 L/kg", "mL/g", 0.54), ("42 %", "fraction", 0.42),
    ("18.6 g per 100 g", "%", 18.6), ("2300 kg/m3", "g/cm³", 2.3), ("12 kPa", "MPa", 0.012), ("30 N/mm²", "MPa", 30), ("3000 N/cm2", "MPa", 30),
    ("30 kN/m2", "kPa", 30), ("2 µm/mm", "%", 0.2), ("3 kJ/kg", "J/g", 3), ("145 g/mol", "g/mol", 145), ("0.04 cm/s", "mm/s", 0.4),
    ("24 mm/min", "mm/s", 0.4), ("0.51 €", "times", 0.51), ("2500 mPa s", "Pa·s", 2.5), ("20", "°C", 20),
])
def test_units_are_converted(typed, wanted, value):
    assert read_number(typed).in_unit(find_unit(wanted)) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize("typed, wanted, says", [
    ("54 mL", "g", "mL is a volume; this answer is a mass, in g."),
    ("54 kg/L", "mL", "kg/L is a density; this answer is a volume, in mL."),
    ("1.85 g/mL", "mL/g", "Is it upside down?"),
    ("54 %", "mL per 100 g", "% is a share of the whole; this answer is a water/powder ratio, in mL per 100 g."),
    ("54 €", "mL", "€ is a plain number; this answer is a volume, in mL."), ("€54", "mL", "this answer is a volume, in mL."),
    ("0.4 mm", "mm/s", "mm is a length; this answer is a speed, in mm/s."),
    ("5 min", "times", "min is a time; this answer is a plain number."),
])
def test_a_unit_of_another_kind_is_named(typed, wanted, says):
    with pytest.raises(Problem) as caught:
        read_number(typed).in_unit(find_unit(wanted))
    assert says in str(caught.value)


def test_every_unit_reads_its_own_symbol_and_spellings():
    for unit in UNITS:
        for spelling in (unit.symbol, *unit.spellings):
            assert read_number(f"7 {spelling}").in_unit(unit) == pytest.approx(7), spelling


@pytest.mark.parametrize("value, said", [
    (0, "0"), (0.0, "0"), (54, "54"), (54.0, "54"), (0.5400001, "0.54"), (18.6123, "18.6"), (1250.4, "1250"), (123456, "123456"),
    (0.00123, "0.00123"), (1.2e7, "1.2 × 10^7"), (-3.456e-6, "-3.46 × 10^-6"), (99.96, "100"), (-0.25, "-0.25"),
])
def test_numbers_are_said_in_three_digits(value, said):
    assert say_number(value) == said


def test_what_is_said_can_be_read_again():
    for value in (0.54, 18.6, 1250.0, 1.2e7, -3.46e-6):
        quantity = read_number(say_quantity(value, "Pa"))
        assert quantity.number == pytest.approx(value) and quantity.unit.symbol == "Pa"


@pytest.mark.parametrize("typed, meant", [("5O mL", "50 mL"), ("1O0", "100"), ("O.5", "0.5"), ("O,52 mL/g", "0,52 mL/g"), ("2o", "20")])
def test_a_letter_o_among_digits_is_asked_about(typed, meant):
    with pytest.raises(Problem, match=re.escape(f"do you mean {meant}?")):
        read_number(typed)


@pytest.mark.parametrize("typed", ["oz 5", "over 50", "O", "or 5 mL"])
def test_other_words_with_an_o_are_not_called_a_number_with_a_letter(typed):
    with pytest.raises(Problem) as told:
        read_number(typed)
    assert "letter O" not in str(told.value)
