"""The command that prints a prediction: table, JSON, and one sentence for what cannot be."""

import json

import pytest

from gypsumkit.commands.predict import main
from gypsumkit.mix import QUANTITIES, SETTING_QUANTITIES


def run(capsys, *argv):
    code = main(list(argv))
    shown = capsys.readouterr()
    return code, shown.out, shown.err


def test_table_names_every_quantity(capsys):
    code, out, err = run(capsys, "--powder", "model plaster", "--water-powder-ratio", "0.52")
    assert code == 0 and err == ""
    assert all(quantity.words in out for quantity in {**QUANTITIES, **SETTING_QUANTITIES}.values())
    assert "52 mL water per 100 g" in out


def test_json_is_an_object_of_quantities(capsys):
    code, out, _ = run(capsys, "--powder", "model plaster", "--water-powder-ratio", "0.52", "--json")
    mix = json.loads(out)
    assert code == 0 and set(QUANTITIES) | set(SETTING_QUANTITIES) <= set(mix)
    assert all({"value", "unit", "low", "high", "valid", "source"} <= set(quantity) for quantity in mix.values())
    assert 0.42 < mix["porosity"]["value"] < 0.46 and mix["porosity"]["valid"] is True


def test_several_ratios_give_a_list(capsys):
    code, out, _ = run(capsys, "--powder", "dental stone", "--water-powder-ratio", "0.28", "30 mL per 100 g", "0,32", "--json")
    ratios = [mix["water_powder_ratio"]["value"] for mix in json.loads(out)]
    assert code == 0 and ratios == pytest.approx([0.28, 0.30, 0.32])


def test_what_is_not_predicted_is_null_with_a_reason(capsys):
    _, out, _ = run(capsys, "--powder", "dental stone", "--water-powder-ratio", "0.3", "--time-min", "30", "--json")
    stress = json.loads(out)["yield_stress_pa"]
    assert stress["value"] is None and stress["valid"] is False and "30 min" in stress["reason"]


@pytest.mark.parametrize("argv, said", [
    (["--powder", "model plaster", "--water-powder-ratio", "54"], "write 0.54"),
    (["--powder", "model plaster", "--water-powder-ratio", "-0.5"], "more than 0"),
    (["--powder", "model plaster", "--water-powder-ratio", "0"], "more than 0"),
    (["--powder", "model plaster", "--water-powder-ratio", "nan"], "not a water/powder ratio|not one"),
    (["--powder", "model plaster", "--water-powder-ratio", "wet"], "not a water/powder ratio"),
    (["--powder", "model plaster", "--water-powder-ratio", "0.1"], "too dry"),
    (["--powder", "model plaster", "--water-powder-ratio", "0.95"], "too wet"),
    (["--powder", "modal plaster", "--water-powder-ratio", "0.5"], "did you mean 'model plaster'"),
    (["--powder", "model plaster"], "Give the recipe"),
    (["--powder", "model plaster", "--powder-g", "100"], "belong together"),
    (["--powder", "model plaster", "--powder-g", "100", "--water-ml", "50", "--water-powder-ratio", "0.5"], "not both"),
    (["--water-powder-ratio", "0.5"], "--powder"),
    (["--powder", "model plaster", "--water-powder-ratio", "0.5", "--mixing", "by magic"], "way of mixing"),
    (["--powder", "model plaster", "--water-powder-ratio", "0.5", "--water-temperature-c", "hot"], "°C"),
    (["--powder", "model plaster", "--water-powder-ratio", "0.5", "--time-min", "soon"], "minutes"),
    (["--powder", "model plaster", "--water-powder-ratio", "0.5", "--loud"], "Unrecognized"),
])
def test_bad_input_is_one_sentence_and_status_2(capsys, argv, said):
    code, out, err = run(capsys, *argv)
    import re
    assert code == 2 and out == "" and re.search(said, err)
    assert len(err.strip().splitlines()) == 1 and "Traceback" not in err
