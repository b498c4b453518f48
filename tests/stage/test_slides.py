"""A picture for slides stands alone and is 1920 by 1080; numbers go into a table; nothing is written over."""

import errno
import io
from xml.etree import ElementTree

import pytest
from matplotlib.image import imread

from gypsumkit import files
from gypsumkit.figures.colours import in_room, paper
from gypsumkit.figures.differences import difference_words, differences
from gypsumkit.figures.scene import Table
from gypsumkit.figures.staging import HEIGHT, LEAST_LETTERS, LEAST_LINE, large_number, large_numbers, shown_choices, staged
from gypsumkit.figures.strength_scene import strength_scene
from gypsumkit.figures.water_scene import water_scene
from gypsumkit.mix import Mix
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.stage.slides import numbers_csv, save_new, slide_png, slide_svg


@pytest.fixture(scope="module")
def scene():
    return water_scene(Mix(Recipe("model plaster", 0.5)), False, (Mix(Recipe("model plaster", 0.6)), Mix(Recipe("dental stone", 0.3))))


@pytest.mark.parametrize("room", ["light room", "dark room"])
def test_the_svg_stands_alone_and_holds_page_and_marks(scene, room):
    text = slide_svg(staged(scene, (0, 1)), ["Now: a mix & <more>."], room).decode("utf-8")
    root = ElementTree.fromstring(text)
    assert (root.get("width"), root.get("height")) == ("1920", "1080")
    without_names = text.replace('xmlns="http://www.w3.org/2000/svg"', "")
    for outside in ("http", "href", "@import", "<script", "<image", "<style", "file:", "data:"):
        assert outside not in without_names
    said = "".join(root.itertext())
    assert "water/powder ratio (mL per g)" in said and "Now: a mix & <more>." in said and "A" in said
    for name in set(part.split(")")[0] for part in text.split("url(#")[1:]):
        assert f'id="{name}"' in text
    with in_room(room):
        assert f'height="1080" fill="{paper()}"' in text


def test_a_dark_slide_has_no_black_letters(scene):
    text = slide_svg(staged(scene, (0,)), room="dark room").decode("utf-8")
    assert 'fill="#000000"' not in text
    assert 'fill="#000000"' in slide_svg(staged(scene, (0,))).decode("utf-8")


@pytest.mark.parametrize("places", [(0,), (1, 2)])
def test_the_png_has_the_size_of_a_slide_and_something_on_it(scene, places):
    image = imread(io.BytesIO(slide_png(staged(scene, places), ["Now: a mix."])), format="png")
    assert image.shape[:2] == (1080, 1920)
    assert 0.01 < (image[..., :3].max(axis=2) < 0.5).mean() < 0.5


def test_the_numbers_come_with_what_they_belong_to_and_how_the_pinned_ones_differ(scene):
    text = numbers_csv(scene, ["Now: a mix."]).decode("utf-8-sig")
    assert text.startswith("number,now,plausible range,pinned A,pinned B\r\n")
    assert "A against now" in text and "Now: a mix." in text and "mm more" in text


def test_nothing_is_written_over(tmp_path, scene):
    first = save_new({".svg": b"1", ".png": b"2"}, "water picture", tmp_path)
    (tmp_path / "slides" / "water picture 2.png").write_bytes(b"mine")
    third = save_new({".svg": b"3", ".png": b"4"}, "water picture", tmp_path)
    assert [path.name for path in first] == ["water picture.svg", "water picture.png"]
    assert [path.name for path in third] == ["water picture 3.svg", "water picture 3.png"]
    assert (tmp_path / "slides" / "water picture 2.png").read_bytes() == b"mine" and first[0].read_bytes() == b"1"


def test_a_full_disk_is_said(tmp_path, monkeypatch):
    def full(path, content):
        raise OSError(errno.ENOSPC, "No space left on device")
    monkeypatch.setattr(files, "write_whole", full)
    with pytest.raises(Problem, match="disk is full"):
        save_new({".csv": b"1"}, "numbers", tmp_path)


# ---------------------------------------------------------------- the stage and the table

def test_a_staged_picture_is_low_and_has_no_thin_line_or_small_letter():
    whole = strength_scene(Mix(Recipe("model plaster", 0.5)), 10.0)
    shown = staged(whole, (0, 1))
    assert len(shown.pictures) == 2 and shown.words == whole.words and shown.numbers is whole.numbers
    for picture in shown.pictures:
        assert picture.height <= HEIGHT < whole.pictures[0].height
        for panel in picture.panels:
            for mark in (*panel.backdrop, *panel.moving):
                assert getattr(mark, "size", LEAST_LETTERS) >= LEAST_LETTERS or hasattr(mark, "shape")
                assert getattr(mark, "width", LEAST_LINE) >= LEAST_LINE or mark.width == 0


def test_pictures_are_chosen_one_by_one_or_as_neighbours(scene):
    assert shown_choices(scene) == {"Flow": (0,), "Porosity": (1,), "Strength": (2,), "Flow + Porosity": (0, 1), "Porosity + Strength": (1, 2)}


def test_a_large_number_has_its_name_and_range():
    table = Table(("", "now", "plausible range"), (("mix", "plaster", ""), ("spread", "40.3 mm", "35 to 47")))
    assert large_numbers(table) == {"spread": 1}
    assert large_number(table, 1) == ("spread", "40.3 mm", "35 to 47")
    assert large_number(table, 0) is None and large_number(None, 0) is None and large_number(table, 9) is None
    assert large_number(Table(("", "spread"), (("yours", "40.3 mm (35 to 47)"),)), 0) == ("yours", "40.3 mm", "35 to 47")


@pytest.mark.parametrize("now, pinned, plausible, words", [
    ("40.3 mm", "63.6 mm", (35, 47), "23.3 mm more (+58 %)"), ("40.3 mm", "45 mm", (35, 47), "4.7 mm more (+12 %), within the plausible range"),
    ("42.5 %", "48.4 %", None, "5.9 percentage points more"), ("10.3 MPa", "7.9 MPa", None, "2.4 MPa less (−23 %)"), ("5 mm", "5.0 mm", None, "the same"),
    ("pours", "stands", None, "stands instead of pours"), ("pours", "pours", None, "the same"), ("40 mm", "", None, "not known"),
    ("−2 °C", "3 °C", None, "5 °C more"),
])
def test_a_difference_in_words(now, pinned, plausible, words):
    assert difference_words(now, pinned, plausible) == words


def test_without_pins_there_is_no_difference():
    assert differences(None) is None
    assert differences(Table(("", "now"), (("spread", "4 mm"),))) is None
