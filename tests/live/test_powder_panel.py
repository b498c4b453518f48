"""The panel of the own powder: what it changes stands beside the parent; it is kept, fetched, removed, and nothing typed is lost."""

import pytest

from gypsumkit.bench import powder_shelf
from gypsumkit.bench.powder_shelf import FILE, Shelf, take_untold
from gypsumkit.bench.records import Records
from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.panels import panel_class
from gypsumkit.live.panels.powder_panel import NONE, PowderPanel
from gypsumkit.powders import POWDERS


class Kept:
    """A book of these rows."""

    def __init__(self, *rows):
        self.rows = rows

    def records(self):
        return Records.of_rows(self.rows)


ROW = {"powder": "dental stone", "lot": "A12", "powder_g": 100.0, "water_ml": 30.0, "final_set_min": 14.0}


@pytest.fixture
def panel(tmp_path):
    yield PowderPanel(shelf=Shelf(tmp_path), book=Kept(ROW, {**ROW, "final_set_min": 14.4}, {**ROW, "final_set_min": 14.2}, {**ROW, "water_ml": 45.0}))
    powder_shelf._put_out({})
    take_untold()


def filled(panel, lot="A12", **sheet):
    panel.lot.value = lot
    for name, typed in sheet.items():
        panel.sheet[name].value = typed
    return panel


def test_it_is_found_by_its_name():
    assert panel_class("our powder") is PowderPanel


def test_looking_shows_it_beside_the_parent_and_keeps_nothing(panel):
    assert "No powder is shown yet" in panel.words()
    filled(panel, wet_strength_mpa="30 MPa").look_button.click()
    assert "own powder 30.0 MPa; how it is known maker's sheet: the maker's product sheet; made from 24.0 MPa" in panel.words()
    assert "not given: as dental stone" in panel.words() and "30.0 MPa" in panel.comparison.value
    assert len(POWDERS) == 5 and not (panel.shelf.folder / FILE).exists() and panel.errors == []


def test_saved_it_is_in_the_lists_of_new_explorers_and_removed_it_is_gone(panel):
    filled(panel, wet_strength_mpa="30").save_button.click()
    name = "our stone, lot A12"
    assert "is kept" in panel.message.value and panel.owned.value == name and name in explorer_class("water")().powder.options
    panel.save_button.click()
    assert "replace it" in panel.message.value
    panel.replace.value, panel.sheet["wet_strength_mpa"].value = True, "32"
    panel.save_button.click()
    assert "is kept" in panel.message.value
    open_one = explorer_class("water")(powder=name)
    panel.remove_button.click()
    assert "is removed" in panel.message.value and len(POWDERS) == 5 and panel.owned.options == (NONE,) and panel.sheet["wet_strength_mpa"].value == "32 MPa"
    open_one.ratio.slider.value += 0.01
    assert "no powder called" in open_one.message.value and open_one.errors == []
    panel.remove_button.click()
    assert "no own powder yet" in panel.message.value and panel.errors == []


def test_a_kept_powder_is_fetched_into_an_empty_form(panel):
    filled(panel, wet_strength_mpa="30", final_set_min="10 to 14 min", water_powder_ratio="0.28 to 0.30")
    panel.opened.value = "2026-01-05"
    panel.save_button.click()
    other = PowderPanel("model plaster", Shelf(panel.shelf.folder))
    assert other.owned.value == "our stone, lot A12"
    other.fetch_button.click()
    assert (other.parent.value, other.lot.value, other.opened.value) == ("dental stone", "A12", "2026-01-05") and other.sheet["final_set_min"].value == "10 to 14 min"
    assert other.sheet["water_powder_ratio"].value == "0.28 to 0.3 mL/g"
    before = POWDERS["our stone, lot A12"]
    other.save_button.click()
    assert POWDERS["our stone, lot A12"] == before and other.errors == []


def test_bench_results_go_before_the_sheet_and_rows_left_out_are_named(panel):
    panel.with_bench.value = True
    filled(panel, final_set_min="10 min").look_button.click()
    said = panel.words()
    assert "measured here: mean of 3 results at the own bench" in said and "own powder 14.2 min (13.70 to 14.70)" in said
    assert "the sheet says 10.0 min, your bench 14.2 min" in said and "Not counted, No. 4: it was not mixed at 0.3." in said
    panel.lot.value = "Z9"
    panel.look_button.click()
    assert "have nothing of lot Z9" in panel.message.value and panel.errors == []


def test_an_old_opening_is_shown_but_not_said_in_words(panel):
    panel.opened.value = "2020-02-01"
    filled(panel).look_button.click()
    assert "months ago" in panel.comparison.value and "months ago" not in panel.words()


@pytest.mark.parametrize("name, typed, says", [
    ("wet_strength_mpa", "300 MPa", "between 1 and 120"), ("water_powder_ratio", "30", "mL of water per 100 g"), ("final_set_min", "0", "between"),
    ("spread_mm", "wide", "ring spread"), ("wet_strength_mpa", "<i>3</i>", "compressive strength")])
def test_bad_values_are_answered_and_stay_typed(panel, name, typed, says):
    filled(panel, **{name: typed}).save_button.click()
    assert says in panel.message.value and panel.sheet[name].value == typed and len(POWDERS) == 5 and panel.errors == [] and "<i>" not in panel.message.value


def test_a_date_to_come_is_answered(panel):
    panel.opened.value = "2999-01-01"
    filled(panel).save_button.click()
    assert "still to come" in panel.message.value and len(POWDERS) == 5


def test_without_a_lot_it_is_asked_for(panel):
    panel.look_button.click()
    assert "The lot is missing" in panel.message.value


def test_a_damaged_file_is_told(tmp_path):
    (tmp_path / FILE).write_bytes(b"{not json")
    panel = PowderPanel(shelf=Shelf(tmp_path))
    assert "set aside" in panel.message.value and panel.errors == []
