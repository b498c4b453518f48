"""The explorers of own data and of the scale: whose data, every control, an empty and a damaged work folder, typed nonsense."""

import pytest

from gypsumkit.bench.book import Book
from gypsumkit.bench.sample import sample_class
from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.explorers import own_data_explorer
from gypsumkit.problems import Problem


@pytest.fixture(autouse=True)
def empty_work_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path))
    return tmp_path


def own_mixes(count=6, spread=80.0):
    book = Book()
    for i in range(count):
        book.add({"made_by": "bench 4", "powder": "model plaster", "powder_g": 100.0, "water_ml": 58.0 + i, "spread_one_mm": spread + 3 * i,
                  "spread_two_mm": spread + 3 * i})
    return book


# ---- own data

def test_without_own_records_the_sample_class_is_shown_and_said():
    explorer = explorer_class("own data")()
    assert "You have no own records yet, so the sample class is shown. Invented sample class" in explorer.words()
    assert explorer.errors == [] and explorer.picture_png()[:4] == b"\x89PNG"
    assert explorer.words() == explorer_class("own data")().words()


def test_every_control_changes_what_is_said():
    explorer = explorer_class("own data")()
    seen = {explorer.words()}
    for move in (lambda: setattr(explorer.without, "value", True), lambda: setattr(explorer.of_powder, "value", "dental stone"),
                 lambda: setattr(explorer.quantity, "value", "final_set_min"), lambda: setattr(explorer.whose, "value", "invented sample class"),
                 lambda: setattr(explorer.of_powder, "value", "all powders")):
        move()
        assert explorer.words() not in seen
        seen.add(explorer.words())
    assert explorer.errors == [] and len(explorer.controls) <= 5


def test_own_records_are_shown_and_read_again():
    own_mixes()
    explorer = explorer_class("own data")()
    assert "Your own records: 6 mixes." in explorer.words() and "6 of 6 measured ring spread values" in explorer.words()
    own_mixes(1)
    explorer.read_again()
    assert "Your own records: 7 mixes." in explorer.words() and "Read again: 7 mixes." in explorer.message.value
    explorer.whose.value = "invented sample class"
    assert "72" not in explorer.words().split("Limits")[0].split("Invented")[0] and "24 of 24 measured" in explorer.words()


def test_choosing_the_data_anew_reads_them_anew():
    explorer = explorer_class("own data")()
    own_mixes()
    explorer.whose.value = "invented sample class"
    explorer.whose.value = "my own records"
    assert "Your own records: 6 mixes." in explorer.words()


def test_a_missing_folder_of_the_class_is_said_and_the_sample_class_shown():
    explorer = explorer_class("own data")()
    explorer.whose.value = "a folder of the class"
    assert "There is no folder “class” in your work folder" in explorer.message.value and "so the sample class is shown" in explorer.words()
    assert explorer.errors == []


def test_a_folder_of_the_class_is_pooled(empty_work_folder):
    from gypsumkit.bench.columns import COLUMNS
    from gypsumkit.bench.sheets import sheet
    folder = empty_work_folder / "class"
    folder.mkdir()
    sample = sample_class()
    for number, rows in enumerate((range(0, 40), range(40, 72))):
        cells = [[sample.row(place).get(name) for name in COLUMNS] for place in rows]
        (folder / f"bench-{number}.csv").write_bytes(sheet(COLUMNS, cells))
    explorer = explorer_class("own data")(whose="a folder of the class", of_powder="all powders", quantity="strength_mpa")
    assert "The class: 72 mixes of 24 makers." in explorer.words() and "71 of 71 measured strength values" in explorer.words()


def test_records_that_cannot_be_read_are_said(monkeypatch):
    def broken():
        raise Problem("The file of your records cannot be read: line 3.")
    monkeypatch.setattr(own_data_explorer, "own_records", broken)
    explorer = explorer_class("own data")()
    explorer.read_again()
    assert "cannot be read: line 3" in explorer.message.value and "sample class is shown" in explorer.words() and explorer.errors == []


def test_reset_goes_back_to_the_start():
    explorer = explorer_class("own data")()
    start = explorer.words()
    explorer.go_to(quantity="strength_mpa", of_powder="all powders", without=True)
    explorer.reset()
    assert explorer.words() == start


def test_an_unknown_setting_is_refused():
    explorer = explorer_class("own data")()
    with pytest.raises(Problem, match="not among the choices"):
        explorer.go_to(quantity="colour")


# ---- the scale

@pytest.fixture
def scale():
    return explorer_class("scale")()


def test_every_control_of_the_scale_changes_what_is_said(scale):
    seen = {scale.words()}
    for move in (lambda: setattr(scale.powder_g.slider, "value", 120.0), lambda: setattr(scale.scale_step_g.slider, "value", 0.1),
                 lambda: setattr(scale.cylinder_step_ml.slider, "value", 0.5), lambda: setattr(scale.quantity, "value", "spread_mm"),
                 lambda: setattr(scale.powder, "value", "improved stone")):
        move()
        assert scale.words() not in seen
        seen.add(scale.words())
    assert scale.errors == [] and len(scale.controls) <= 5


@pytest.mark.parametrize("control, typed, value", [("powder_g", "0,12 kg", 120.0), ("scale_step_g", "100 mg", 0.1), ("scale_step_g", "0,5", 0.5),
                                                   ("cylinder_step_ml", "2 mL", 2.0),
                                                   ("cylinder_step_ml", "0.5 cm3", 0.5)])
def test_numbers_can_be_typed_with_their_unit(scale, control, typed, value):
    scale.controls[control].typed.value = typed
    assert scale.controls[control].value == pytest.approx(value) and scale.errors == [] and not scale.message.value


@pytest.mark.parametrize("control, typed, said", [("powder_g", "much", "cannot be read as the powder in the batch"), ("powder_g", "5 kg", "goes from"),
                                                  ("scale_step_g", "-1", "goes from"),
                                                  ("cylinder_step_ml", "2 g", "cannot be read")])
def test_nonsense_is_answered_and_stays_typed(scale, control, typed, said):
    before = scale.picture.scene.words
    scale.controls[control].typed.value = typed
    assert said in scale.message.value and scale.controls[control].typed.value == typed and scale.picture.scene.words == before


def test_ends_of_all_sliders(scale):
    for powder_g in (10.0, 500.0):
        for step in (0.01, 5.0):
            for cylinder in (0.1, 5.0):
                scale.powder_g.slider.value, scale.scale_step_g.slider.value, scale.cylinder_step_ml.slider.value = powder_g, step, cylinder
                assert scale.errors == []
    assert scale.picture_png()[:4] == b"\x89PNG"


def test_own_records_take_the_place_of_the_sample_class_once_there_are_enough(scale):
    assert "so the sample class is shown" in scale.words()
    own_mixes(4)
    scale.go_to(powder="model plaster", quantity="spread_mm")
    assert "so the sample class is shown" in scale.words()
    own_mixes(3)
    scale.read_again()
    assert "Scatter of your own records." in scale.words() and "7 results of model plaster" in scale.words()


def test_one_outlier_is_left_out_of_the_scatter_and_named(scale):
    scale.go_to(powder="model plaster", quantity="spread_mm")
    assert "The scatter leaves out one outlier, student 03" in scale.words()
