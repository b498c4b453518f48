"""The record panel asks before it saves, loses nothing that was typed, and takes tables made elsewhere with every doubt answered."""

import errno
import html
import json
import os

import pytest

from gypsumkit.bench.book import Book
from gypsumkit.bench.sample import FILE
from gypsumkit.live.panels import panel_class
from gypsumkit.live.panels.record_panel import DRAFT_FILE, FIELDS, RecordPanel
from gypsumkit.bench.columns import COLUMNS


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "work"


def panel(folder):
    return RecordPanel(Book(folder))


def message(made):
    return html.unescape(made.message.value)


def recorded(folder):
    records = Book(folder).records()
    return [{name: value for name, value in records.row(place).items() if name != "recorded_at"} for place in range(len(records))]


def test_it_is_found_by_name_and_an_empty_book_reads_the_same_every_day(folder):
    assert panel_class("record") is RecordPanel
    made = panel(folder)
    assert made.words() == panel(folder).words() and made.words().endswith("No mix is recorded yet.") and not folder.exists()
    assert made.errors == [] and made.message.value == ""


def test_every_column_that_a_person_fills_has_a_field_with_name_and_unit(folder):
    assert set(FIELDS) == set(COLUMNS) - {"record_id", "recorded_at"}
    for name, field in panel(folder).fields.items():
        assert field.description.startswith(COLUMNS[name].words)
        assert COLUMNS[name].unit in (None, "1") or field.description.endswith(COLUMNS[name].unit)


def test_typed_units_are_converted_and_shown_as_they_are_kept(folder):
    made = panel(folder)
    assert str(made.enter(powder="model plaster", powder_g="0,1 kg", water_ml="50 mL", spread_one_mm="6.2 cm", final_set_min="30")) == "Saved."
    assert recorded(folder) == [{"record_id": "1", "powder": "model plaster", "powder_g": 100, "water_ml": 50, "spread_one_mm": 62, "final_set_min": 30}]
    assert "<td>62</td>" in made.records_table.value and "<td>0.500</td>" in made.records_table.value
    assert "Spread, one way, mm 62" in made.words() and "Recorded at" not in made.words()


def test_what_cannot_be_read_is_named_and_stays_typed(folder):
    made = panel(folder)
    said = str(made.enter(powder_g="a lot", water_ml="50 cm", turns="180", spread_one_mm="2000"))
    assert said.startswith("Message: Nothing is saved yet.") and "Powder weighed" in said and "cm is a length" in said and "between 5 and 600" in said
    assert made.fields["powder_g"].value == "a lot" and made.fields["turns"].value == "180" and recorded(folder) == []


def test_nothing_measured_is_not_saved(folder):
    made = panel(folder)
    assert "Nothing is measured yet" in str(made.enter(powder="model plaster", made_by="bench 1")) and recorded(folder) == []


@pytest.mark.parametrize("yes, kept", [(True, 150), (False, 15)])
def test_a_spread_in_cm_is_asked_about_before_anything_is_saved(folder, yes, kept):
    made = panel(folder)
    made.fields["spread_one_mm"].value = "15"
    made.save_button.click()
    assert "is it 15 cm = 150 mm?" in made.question.words() and recorded(folder) == [] and made.question.layout.display is None
    assert (made.question.yes.description, made.question.no.description) == ("Yes, 150 mm", "No, keep 15 mm")
    assert made.fields["spread_one_mm"].value == "15"
    (made.question.yes if yes else made.question.no).click()
    assert recorded(folder) == [{"record_id": "1", "spread_one_mm": kept}] and made.question.words() == "" and "Saved as No. 1" in message(made)
    assert made.errors == []


def test_several_doubts_are_asked_one_after_the_other(folder):
    made = panel(folder)
    made.enter(powder="model plaster", powder_g="50", water_ml="100", spread_one_mm="15", gloss_loss_min="780")
    seen = []
    while made.question.words():
        seen.append(made.question.yes.description)
        assert recorded(folder) == []
        made.question.yes.click()
    assert seen == ["Yes, 150 mm", "Yes, 13 min", "Yes, swap them"]
    assert recorded(folder)[0]["powder_g"] == 100 and recorded(folder)[0]["water_ml"] == 50 and recorded(folder)[0]["gloss_loss_min"] == 13


def test_a_comma_that_reads_in_two_ways_is_asked_about(folder):
    made = panel(folder)
    made.enter(powder_g="1,234", water_ml="617 mL")
    assert "[It is 1234 g] [It is 1.234 g]" in made.question.words() and recorded(folder) == []
    made.question.yes.click()
    assert recorded(folder)[0]["powder_g"] == 1234


def test_a_doubt_without_a_guess_can_be_corrected_or_kept(folder):
    made = panel(folder)
    made.enter(spread_one_mm="62", spread_two_mm="110")
    assert "differ much" in made.question.words()
    made.question.yes.click()
    assert recorded(folder) == [] and "Correct it above" in message(made) and made.fields["spread_two_mm"].value == "110"
    made.save_button.click()
    made.question.no.click()
    assert recorded(folder)[0]["spread_two_mm"] == 110


def test_after_saving_the_bench_stays_and_the_measurements_are_free(folder):
    made = panel(folder)
    made.enter(powder="dental stone", made_by="bench 2", ring_diameter_mm="35", powder_g="100", water_ml="30")
    assert made.fields["powder"].value == "dental stone" and made.fields["made_by"].value == "bench 2" and made.fields["powder_g"].value == ""


def test_a_draft_comes_back_when_the_lesson_is_opened_again(folder):
    made = panel(folder)
    made.fields["powder"].value = "dental stone"
    for text in ("1", "10", "10 kg or so"):
        made.fields["powder_g"].value = text
        assert json.loads((folder / DRAFT_FILE).read_text(encoding="utf-8"))["typed"]["powder_g"] == text
    again = panel(folder)
    assert again.fields["powder_g"].value == "10 kg or so" and again.fields["powder"].value == "dental stone" and "is back in the form" in message(again)
    again.fields["powder_g"].value = "100"
    again.save_button.click()
    assert len(recorded(folder)) == 1 and "is back" not in message(panel(folder)) and panel(folder).fields["powder_g"].value == ""


@pytest.mark.parametrize("damage", [b"{", b"[]", b"\xff", b'{"typed": 3}', b'{"typed": {"powder_g": 3, "foo": "x"}}'])
def test_a_damaged_draft_is_left_alone(folder, damage):
    folder.mkdir()
    (folder / DRAFT_FILE).write_bytes(damage)
    made = panel(folder)
    assert made.errors == [] and str(made.enter(powder_g="100")) == "Saved."


def test_a_draft_of_a_change_remembers_which_mix_it_changes(folder):
    made = panel(folder)
    made.enter(powder_g="100", note="one")
    made.number.value = "1"
    made.change_button.click()
    made.fields["note"].value = "one again"
    again = panel(folder)
    assert again.editing == "1" and again.save_button.description == "Save the changes to No. 1"
    again.save_button.click()
    assert recorded(folder) == [{"record_id": "1", "powder_g": 100, "note": "one again"}]


def test_changing_and_removing_by_number(folder):
    made = panel(folder)
    made.enter(powder_g="1234.5678", spread_one_mm="40", note="one")
    made.enter(powder_g="101", note="two")
    for typed, says in (("", "Write the number"), ("7", "There is no mix No. 7")):
        made.number.value = typed
        made.change_button.click()
        assert says in message(made)
        made.remove_button.click()
        assert says in message(made)
    made.number.value = "No. 1"
    made.change_button.click()
    assert made.fields["powder_g"].value == "1234.5678 g" and made.stop_button.layout.display is None
    made.stop_button.click()
    assert recorded(folder)[0]["note"] == "one" and made.fields["powder_g"].value == ""
    made.change_button.click()
    made.fields["note"].value = "one again"
    made.save_button.click()
    assert recorded(folder)[0] == {"record_id": "1", "powder_g": 1234.5678, "spread_one_mm": 40, "note": "one again"}
    made.number.value = "2"
    made.remove_button.click()
    assert len(recorded(folder)) == 1 and "bench-earlier.csv" in message(made) and "two" in (folder / "bench-earlier.csv").read_text(encoding="utf-8")
    assert made.errors == []


def test_what_is_typed_is_not_lost_to_a_change_of_another_mix(folder):
    made = panel(folder)
    made.enter(powder_g="100")
    made.fields["note"].value = "not yet saved"
    made.number.value = "1"
    made.change_button.click()
    assert "not saved yet (Note)" in message(made) and made.fields["note"].value == "not yet saved"


def test_a_mix_that_lacks_what_a_prediction_needs_is_saved_and_that_is_said(folder):
    made = panel(folder)
    made.enter(powder_g="100", gloss_loss_min="9")
    assert "Saved as No. 1." in message(made) and "not written: Powder, Water measured" in message(made) and len(recorded(folder)) == 1
    made.enter(powder="dental stone", powder_g="100", water_ml="30")
    assert "Saved as No. 2." in message(made) and "not written" not in message(made)


def test_a_full_disk_is_said_and_the_mix_saved_with_the_next(folder, monkeypatch):
    made = panel(folder)
    made.enter(note="one")
    made.fields["note"].value = "two"
    with monkeypatch.context() as full:
        def no_room(*_):
            raise OSError(errno.ENOSPC, "No space left on device")
        full.setattr(os, "replace", no_room)
        made.save_button.click()
        assert "No space left on device" in message(made) and "two" in made.records_table.value
        assert len(recorded(folder)) == 1 and json.loads((folder / DRAFT_FILE).read_text())["typed"]["note"] == "two"
    made.enter(note="three")
    assert [row["note"] for row in recorded(folder)] == ["one", "two", "three"] and made.errors == []


def test_text_on_the_page_is_escaped(folder):
    made = panel(folder)
    made.enter(note="<script>alert(1)</script>", made_by="<b>x")
    assert "<script" not in made.records_table.value and "&lt;script&gt;" in made.records_table.value
    (folder / "x.csv").write_text("powder;powder_g;<i>a</i>\n<b>plaster;1o;2\n", encoding="utf-8")
    made.file_name.value = "x.csv"
    made.read_button.click()
    shown = made.file_told.value + made.file_question.text.value
    assert "<i>" not in shown and "<b>" not in shown and "&lt;i&gt;" in shown


def test_a_table_is_read_asked_about_and_added(folder):
    made = panel(folder)
    folder.mkdir()
    (folder / "class.csv").write_text("powder;Powder (g);Water (mL);Spread\nplaster;100;50;6,2\nplaster;100;55;7,1\nmodel plaster;100;x;62\n", encoding="utf-8")
    made.file_name.value = "class.csv"
    made.read_button.click()
    told = html.unescape(made.file_told.value)
    assert "class.csv: 3 mixes read." in told and "Line 4, column Water measured" in told and made.add_button.layout.display == "none"
    assert made.file_question.everywhere.description == "The same answer for all 2 of this kind"
    made.file_question.everywhere.value = True
    made.file_question.yes.click()
    made.file_question.yes.click()
    made.file_question.no.click()
    assert made.file_question.words() == "" and recorded(folder) == [] and made.add_button.description == "Add 3 mixes to your records"
    made.add_button.click()
    assert [(row["powder"], row.get("water_ml"), row["spread_one_mm"]) for row in recorded(folder)] == [
        ("model plaster", 50, 62), ("model plaster", 55, 7.1), ("model plaster", None, 62)]
    made.read_button.click()
    for _ in range(4):
        (made.file_question.yes if "6.2" in made.file_question.words() or "plaster" in made.file_question.words() else made.file_question.no).click()
    assert made.errors == []


def test_the_same_table_read_twice_counts_once(folder):
    made = panel(folder)
    for expected in ("72 mixes added", "0 mixes added to your records. 72 of them stood in your records already."):
        made.upload.value = ({"name": "class.csv", "type": "", "size": 1, "content": memoryview(FILE.read_bytes()), "last_modified": __import__("datetime").datetime(2026, 1, 1)},)
        made.upload.value = ()
        made.add_button.click()
        assert expected in message(made)
    assert len(recorded(folder)) == 72 and made.errors == []


@pytest.mark.parametrize("content, says", [(b"", "is empty"), (bytes(range(256)) * 9, "not a text file"), (b"foo\n1\n", "no column of the record")])
def test_a_file_that_is_no_table_is_said_and_nothing_changes(folder, content, says):
    made = panel(folder)
    folder.mkdir()
    (folder / "bad.csv").write_bytes(content)
    made.file_name.value = "bad.csv"
    made.read_button.click()
    assert says in message(made) and made.errors == [] and recorded(folder) == []
    made.file_name.value = "none.csv"
    made.read_button.click()
    assert "There is no file none.csv" in message(made)
    made.add_button.click()
    assert "Read a table first" in message(made)


def test_a_damaged_book_is_told_on_opening(folder):
    panel(folder).enter(powder_g="100")
    (folder / "bench.csv").write_bytes(b"\x00\x01\x02" * 99)
    assert "is set aside as bench damaged" in message(panel(folder))


def test_a_book_that_cannot_be_read_is_said(folder):
    (folder / "bench.csv").mkdir(parents=True)
    made = panel(folder)
    assert "cannot be read" in message(made) and "cannot be read" in made.words() and made.errors == []


def test_water_may_be_weighed_and_minutes_have_seconds(folder):
    made = panel(folder)
    assert str(made.enter(powder_g="100", water_ml="30,5 g", gloss_loss_min="9 min 30 s")) == "Saved."
    assert recorded(folder) == [{"record_id": "1", "powder_g": 100, "water_ml": 30.5, "gloss_loss_min": 9.5}]


def test_a_time_as_a_stop_watch_shows_it_is_told_how_to_write_it(folder):
    made = panel(folder)
    assert "If it is 9 min 30 s, write 9.5 min." in str(made.enter(gloss_loss_min="9:30")) and recorded(folder) == []


def test_a_number_that_cannot_be_measured_is_told_with_the_unit_it_may_have_had(folder):
    made = panel(folder)
    said = str(made.enter(ring_diameter_mm="3.5", cylinder_diameter_mm="2", room_temperature_c="70", powder_g="-4"))
    assert "If you mean 3.5 cm, write 35 mm." in said and "If you mean 2 cm, write 20 mm." in said and "If you mean 70 °F, write 21.1 °C." in said
    assert said.count("If you mean") == 3 and recorded(folder) == []


def test_the_same_results_twice_are_asked_about_and_the_same_weights_are_not(folder):
    made = panel(folder)
    same = {"powder": "dental stone", "powder_g": "100", "water_ml": "30", "spread_one_mm": "62", "spread_two_mm": "64"}
    made.enter(**same)
    assert "All of this stands in your records already, as No. 1. Is it a second mix?" in str(made.enter(**same)) and len(recorded(folder)) == 1
    made.answer(False)
    assert len(recorded(folder)) == 1 and "not saved again" in message(made)
    made.enter(**same)
    assert str(made.answer(True)) == "Saved." and len(recorded(folder)) == 2
    for _ in range(2):
        assert str(made.enter(powder="dental stone", powder_g="120", water_ml="36")) == "Saved."


def test_a_wet_piece_crushed_late_is_asked_about(folder):
    made = panel(folder)
    said = str(made.enter(cylinder_diameter_mm="20", crush_load_n="8000", crushed_at_h="60", crushed_state="wet"))
    assert "is it 60 min = 1 h?" in said
    made.answer(True)
    assert recorded(folder)[0]["crushed_at_h"] == 1
    assert str(made.enter(cylinder_diameter_mm="20", crush_load_n="9000", crushed_at_h="2 days", crushed_state="dry")) == "Saved."


@pytest.mark.parametrize("lot", ["12,5", "A-12/3", "7;8", "B & C"])
def test_a_lot_that_was_recorded_makes_an_own_powder(folder, lot):
    from gypsumkit.bench.own_powder import checked_lot
    panel(folder).enter(lot=lot, powder="dental stone", powder_g="100", water_ml="30")
    assert checked_lot(recorded(folder)[0]["lot"]) == lot
