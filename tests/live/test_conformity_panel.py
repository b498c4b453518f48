"""The conformity panel: typed results, records, limits of the reader's own copy; nothing that is remembered passes without its reserve."""

import pytest

from gypsumkit.bench.records import Records
from gypsumkit.live.panels import panel_class
from gypsumkit.live.panels.conformity_panel import RECORDS, SAMPLE, TYPED, ConformityPanel


class Kept:
    """A book of these rows."""

    def __init__(self, *rows):
        self.rows = rows

    def records(self):
        return Records.of_rows(self.rows)


ROW = {"powder": "dental stone", "lot": "A12", "powder_g": 100.0, "water_ml": 30.0, "crush_load_n": 7000.0, "cylinder_diameter_mm": 20.0, "crushed_at_h": 1.0,
       "crushed_state": "wet"}


def verdicts(panel):
    return {row[0]: row for row in panel.rows}


def test_it_is_found_by_its_name_and_says_what_it_is_before_anything_is_typed():
    panel = panel_class("conformity")()
    assert isinstance(panel, ConformityPanel) and "Nothing is judged yet" in panel.words() and "The rule used" in panel.words()
    panel.judge_button.click()
    assert "No result is typed yet" in panel.message.value and panel.errors == []


def test_typed_results_are_judged_in_words():
    panel = ConformityPanel(3, "1998", {"strength": "21.3; 19,8; 22; 20.4; 20.9"})
    said = panel.words()
    assert "✓ meets the limit we remember; look it up; why 4 of the first 5 meet it" in said and "28 to 99 %" in said and panel.errors == []
    assert "pass;" not in said and "clause 5.6; from memory" in said
    panel.results["strength"].value = "19; 19; 18"
    panel.judge_button.click()
    assert "✗ fails the limit we remember" in panel.words()


def test_a_limit_of_the_readers_copy_takes_the_place_until_the_type_changes():
    panel = ConformityPanel(3, "2013", {"strength": "21; 22; 23; 24; 25"})
    panel.least.value = "26 MPa"
    panel.use_button.click()
    panel.judge_button.click()
    row = verdicts(panel)["Compressive strength at 1 h"]
    assert "fail, by the limit you typed" in row[3] and row[1] == "26 MPa or more" and "given by the reader" in row[2] and "26 MPa or more" in panel.told.value
    panel.iso_type.value = 4
    assert panel.limits == {} and "type them again" in panel.message.value and panel.told.value == "" and panel.rows == []
    assert panel.results["strength"].value == "21; 22; 23; 24; 25"
    panel.least.value = ""
    panel.use_button.click()
    assert "at least one end" in panel.message.value
    panel.of_test.value, panel.least.value = "fluidity", "70"
    panel.use_button.click()
    assert "is not asked for" in panel.message.value


def test_classes_and_fields_follow_the_type():
    panel = ConformityPanel(2, "2013")
    assert len(panel.iso_class.options) == 2 and panel.results["fluidity"] not in panel.typed_box.children
    panel.iso_type.value = 1
    assert panel.iso_class.options == ("no classes",) and panel.results["fluidity"] in panel.typed_box.children and panel.errors == []


def test_records_of_one_batch_are_judged_and_the_rows_left_out_are_named():
    panel = ConformityPanel(3, "2013", book=Kept(*[ROW] * 5, {**ROW, "crushed_state": "dry"}, {**ROW, "lot": "B7"}, {**ROW, "water_ml": 40.0}))
    panel.source.value = RECORDS
    assert [text for text, _ in panel.batch.options] == ["dental stone, lot A12", "dental stone, lot B7"] and panel.typed_box.children == ()
    panel.judge_button.click()
    assert "ratios from 0.3 to 0.4" in panel.message.value
    panel.ratio.value, panel.claimed.value = "30 mL per 100 g", "10 min"
    panel.judge_button.click()
    row = verdicts(panel)["Compressive strength at 1 h"]
    assert "5 of the first 5" in row[4] and row[6] == "No. 6: it was crushed dry; No. 7: it was not mixed at 0.3" and panel.message.value == ""
    assert panel.errors == []


def test_no_records_and_the_sample_class():
    panel = ConformityPanel(3, "2013", book=Kept())
    panel.source.value = RECORDS
    assert "no records yet" in panel.message.value
    panel.judge_button.click()
    assert "no records yet" in panel.message.value
    panel.source.value = SAMPLE
    panel.judge_button.click()
    assert "invented" in panel.words() and len(panel.rows) == 4
    panel.source.value = TYPED
    assert panel.typed_box.children and panel.errors == []


@pytest.mark.parametrize("name, typed, says", [("claimed", "soon", "setting time"), ("claimed", "9; 10", "one setting time"), ("claimed", "0", "above 0"),
                                               ("strength", "21; oops", "no. 2"), ("strength", "<b>x</b>", "no. 1")])
def test_what_cannot_be_read_is_answered_and_stays_typed(name, typed, says):
    panel = ConformityPanel(3, "2013", {"strength": "21; 22"})
    before, control = panel.rows, panel.claimed if name == "claimed" else panel.results[name]
    control.value = typed
    panel.judge_button.click()
    assert says in panel.message.value and control.value == typed and panel.rows == before and panel.errors == [] and "<b>" not in panel.message.value


def test_a_lot_with_signs_of_markup_is_shown_as_text():
    panel = ConformityPanel(3, "2013", book=Kept({**ROW, "lot": "<script>"}))
    panel.source.value = RECORDS
    panel.judge_button.click()
    assert panel.rows and "<script>" not in panel.verdicts.value and "&lt;script&gt;" in panel.verdicts.value
