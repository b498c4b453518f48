"""The pictures of own data and of the scale: marks where the data are, outliers marked by shape and name, few and many points, nothing at all."""

import numpy as np
import pytest

from gypsumkit.bench.own_data import ALL_POWDERS, MEASURED, compare
from gypsumkit.bench.records import Records
from gypsumkit.bench.sample import sample_class
from gypsumkit.bench.weighing import Tools
from gypsumkit.figures.matplotlib_renderer import static_png
from gypsumkit.figures.own_data_scene import MOST_MARKS, own_data_scene, sign_of
from gypsumkit.figures.scale_scene import scale_scene
from gypsumkit.figures.scene import Band, Marker, Text, still_part
from gypsumkit.figures.svg_renderer import overlay_svg
from gypsumkit.powders import POWDERS


def marks(scene, picture, kind):
    return [mark for panel in scene.pictures[picture].panels for mark in panel.moving if isinstance(mark, kind)]


def scene_of(quantity, powder=ALL_POWDERS, **more):
    return own_data_scene(compare(sample_class(), quantity), powder, "Invented.", **more)


@pytest.mark.parametrize("quantity", list(MEASURED))
@pytest.mark.parametrize("powder", [ALL_POWDERS, "model plaster", "impression plaster"])
def test_every_choice_draws_and_says_itself(quantity, powder):
    scene = scene_of(quantity, powder)
    assert len(scene.pictures) == 3 and scene.words.startswith("Invented. ") and "nan" not in scene.words.lower().replace("nance", "")
    for picture in scene.pictures:
        assert picture.words and overlay_svg(picture).startswith("<svg")
    assert all("nan" not in cell for row in scene.numbers.rows for cell in row)


def test_each_point_is_at_its_measured_value_in_the_sign_of_its_powder():
    compared = compare(sample_class(), "final_set_min")
    drawn = marks(own_data_scene(compared, "dental stone"), 1, Marker)
    rows = compared.of_powder("dental stone")
    expected = {(round(float(x), 6), round(float(y), 6)) for x, y in zip(rows.predicted, rows.measured) if np.isfinite(x)}
    assert expected <= {(round(mark.x, 6), round(mark.y, 6)) for mark in drawn}
    shape, colour = sign_of("dental stone")
    assert {(mark.shape, mark.colour) for mark in drawn} <= {(shape, colour), ("diamond", "vermillion")}


def test_signs_differ_in_shape_not_in_colour_alone():
    assert len({sign_of(powder)[0] for powder in POWDERS}) == len(POWDERS)


def test_an_outlier_is_marked_by_shape_and_name_in_every_picture():
    scene = scene_of("spread_mm", "model plaster")
    for picture in range(3):
        assert any(mark.shape == "diamond" and mark.hollow for mark in marks(scene, picture, Marker))
        assert any("outlier: student 03" in text.string for text in marks(scene, picture, Text))
    assert "It stays" in scene.words


def test_the_outlier_stays_in_the_picture_when_the_fit_leaves_it_out():
    with_it, without = scene_of("spread_mm", "model plaster"), scene_of("spread_mm", "model plaster", without=True)
    assert len(marks(with_it, 2, Marker)) == len(marks(without, 2, Marker))
    assert "leaves out student 03" in without.words and "leaves out" not in with_it.words

    def width(scene):
        band = marks(scene, 2, Band)[0]
        return float(np.mean(band.high - band.low))
    assert width(without) < 0.5 * width(with_it)


def test_hollow_is_outside_its_own_range():
    compared = compare(sample_class(), "strength_mpa").of_powder("model plaster")
    drawn = [mark for mark in marks(own_data_scene(compared, "model plaster"), 1, Marker) if mark.colour == "blue"]
    hollow = {round(mark.y, 6) for mark in drawn if mark.hollow}
    assert hollow == {round(float(y), 6) for y, inside in zip(compared.measured, compared.inside) if not inside}


def test_one_ratio_draws_a_flow_curve_and_no_strength_line():
    rows = [{"powder": "model plaster", "powder_g": 100, "water_ml": 60, "made_by": "a", "spread_one_mm": 60 + i, "crush_load_n": 2500 + 10 * i,
             "cylinder_diameter_mm": 20}
            for i in range(4)]
    spread, strength = (own_data_scene(compare(Records.of_rows(rows), quantity), "model plaster") for quantity in ("spread_mm", "strength_mpa"))
    assert spread.pictures[2].name == "own" and "form of the curve is not tested" in spread.words
    assert strength.pictures[2].name == "makers" and "two or more ratios" in strength.words


@pytest.mark.parametrize("records", [Records(), Records.of_rows([{"powder": "model plaster", "powder_g": 100, "water_ml": 55, "spread_one_mm": 52}])])
def test_nothing_and_one_value_draw_and_say_so(records):
    for quantity in ("spread_mm", "strength_mpa", "final_set_min"):
        for powder in (ALL_POWDERS, "model plaster"):
            scene = own_data_scene(compare(records, quantity), powder)
            assert "not enough" in scene.words or "was measured" in scene.words
            assert all(overlay_svg(picture) for picture in scene.pictures)


def test_many_points_are_thinned_and_that_is_said():
    records = Records.together([sample_class()] * 20)
    scene = own_data_scene(compare(records, "strength_mpa"))
    assert MOST_MARKS <= len(marks(scene, 1, Marker)) < 2 * MOST_MARKS and f"{MOST_MARKS} are drawn, all are counted" in scene.words


def test_names_that_are_markup_stay_text():
    rows = [{"powder": "model plaster", "powder_g": 100, "water_ml": 55, "made_by": "<b>x</b>", "final_set_min": value} for value in (30, 31, 32, 30, 31, 90)]
    scene = own_data_scene(compare(Records.of_rows(rows), "final_set_min"), "model plaster")
    assert "outlier: <b>x</b>" in [text.string for text in marks(scene, 1, Text)]
    assert "<b>" not in overlay_svg(scene.pictures[1])


def test_it_is_drawn_as_an_image():
    assert static_png(scene_of("strength_mpa"))[:4] == b"\x89PNG"


# ---- the scale

def scale(quantity="strength_mpa", powder="dental stone", powder_g=50.0, tools=Tools()):
    return scale_scene(compare(sample_class(), quantity), powder, powder_g, tools, "Invented.")


def test_the_bars_show_the_shares_that_are_said():
    scene = scale()
    shown = [text.string for text in marks(scene, 0, Text)]
    weighing = next(row for row in scene.numbers.rows if row[0].endswith("weighing"))
    assert weighing[1] in shown and f"weighing makes {weighing[1]}" in scene.words


def test_a_bigger_batch_has_a_smaller_share_of_weighing():
    def share(scene):
        return float(next(row for row in scene.numbers.rows if row[0].endswith("weighing"))[1].split()[0])
    assert share(scale(powder_g=25.0)) > share(scale(powder_g=100.0)) > share(scale(powder_g=400.0))


def test_only_what_moves_changes_with_a_small_step():
    one, other = scale(powder_g=50.0), scale(powder_g=52.0)
    assert [still_part(picture) for picture in one.pictures] == [still_part(picture) for picture in other.pictures]
    assert one.words != other.words


def test_the_draws_are_all_in_the_picture_and_the_same_each_time():
    one, other = scale(), scale()
    assert one.words == other.words and overlay_svg(one.pictures[2]) == overlay_svg(other.pictures[2])
    polygon = one.pictures[2].panels[0].moving[0]
    assert np.sum(polygon.y[1:-1:2]) == pytest.approx(100.0, abs=0.1)


def test_a_powder_without_results_says_so_and_still_shows_weighing():
    scene = scale("gloss_loss_min", "impression plaster")
    assert "at least 5 are needed" in scene.words and "From weighing alone" in scene.words
    assert static_png(scene)[:4] == b"\x89PNG"


def test_data_of_another_powder_are_named_where_the_chosen_one_has_none():
    records = Records.of_rows([{"powder": "dental stone", "powder_g": 100.0, "water_ml": 30.0, "spread_one_mm": 60.0 + one, "spread_two_mm": 62.0} for one in range(2)])
    words = own_data_scene(compare(records, "spread_mm"), "model plaster", "Your own records: 2 mixes.").words
    assert words == "Your own records: 2 mixes. No ring spread of model plaster was measured, but 2 of dental stone: choose that powder."
