"""The main explorer in a real lesson page, moved by a real hand: the picture follows, and never goes away."""

import io

import numpy as np
import pytest

from tests.browser.lesson_page import Frames, open_lesson, write_notebook
from tests.browser.loop import in_loop

VERMILLION = (0xd5, 0x5e, 0x00)
WIDTHS = (390, 1280, 1920)
NOTEBOOK = """from gypsumkit.live.explorers.water_explorer import WaterExplorer
from tests.benchmarks.contenders import words_anew
from tests.browser.marker_places import places_by_matplotlib
explorer = WaterExplorer(question="What does more water do?")
explorer.add_class("watched")
explorer.ratio_slider.add_class("watched-slider")
explorer"""


@pytest.fixture(scope="module")
def lesson(browser, lab):
    """A notebook with the main explorer, run, on a screen of 1600 by 1000 pixels."""
    write_notebook(lab.lessons / "explorer.ipynb", NOTEBOOK)
    lesson = in_loop(open_lesson(browser, lab, "explorer.ipynb"))
    in_loop(lesson.run_all(".watched img"))
    yield lesson
    in_loop(lesson.close())


@pytest.fixture(scope="module")
def watched(lesson):
    """The explorer under watch."""
    return in_loop(lesson.watch(".watched", ".gypsumkit-picture"))


@pytest.fixture(autouse=True)
def from_the_start(lesson, watched):
    """Begin each test with the explorer as it was at first, in view."""
    in_loop(lesson.page.set_viewport_size({"width": 1600, "height": 1000}))
    in_loop(lesson.in_kernel("explorer.reset()"))
    in_loop(watched.come_into_view())
    in_loop(lesson.page.wait_for_timeout(150))


async def settled(lesson, watched):
    """Wait until the kernel has the slider's value and the page shows what came of it."""
    for _ in range(200):
        if abs(await lesson.in_kernel("", "explorer.ratio_slider.value") - await watched.slider_value()) < 1e-6:
            break
        await lesson.page.wait_for_timeout(20)
    await lesson.page.wait_for_timeout(200)


async def says_what_is_computed_anew(lesson, watched):
    says = await watched.picture_says()
    expected = await lesson.in_kernel("", "words_anew(explorer)")
    return [words for words in expected if words not in says] == [] and len(expected) > 3


async def test_after_a_drag_the_picture_is_that_of_the_last_value(lesson, watched):
    before = await watched.slider_value()
    seen = await watched.drag(1.0)
    await settled(lesson, watched)
    assert seen["slider_values"] > 5 and await watched.slider_value() != before
    assert await says_what_is_computed_anew(lesson, watched)


@pytest.mark.parametrize("key, change", [("ArrowRight", 1), ("ArrowLeft", -1), ("PageUp", 5), ("PageDown", -5)])
async def test_keys_move_the_picture(lesson, watched, key, change):
    before = await watched.slider_value()
    assert await watched.press(key) is not None
    await settled(lesson, watched)
    step = await lesson.in_kernel("", "explorer.ratio_slider.step")
    assert await watched.slider_value() == pytest.approx(before + change * step, abs=0.6 * step)
    assert await says_what_is_computed_anew(lesson, watched)


async def test_a_number_typed_into_the_readout_moves_the_picture(lesson, watched):
    readout = lesson.page.locator(".watched .watched-slider .widget-readout")
    await readout.click()
    await lesson.page.keyboard.press("Control+A")
    await lesson.page.keyboard.type("0.60")
    await lesson.page.keyboard.press("Enter")
    await lesson.page.wait_for_timeout(200)
    await settled(lesson, watched)
    assert await lesson.in_kernel("", "explorer.ratio_slider.value") == pytest.approx(0.6)
    assert await says_what_is_computed_anew(lesson, watched)


async def test_a_number_typed_into_its_field_moves_slider_and_picture(lesson, watched):
    field = lesson.page.locator(".watched input[type=text]").first
    await field.fill("55 mL per 100 g")
    await field.press("Enter")
    await lesson.page.wait_for_function("() => probe.of['.watched'].handle.getAttribute('aria-valuetext').startsWith('0.55')")
    await settled(lesson, watched)
    assert await watched.slider_value() == pytest.approx(0.55)
    assert await says_what_is_computed_anew(lesson, watched)


async def test_a_wrong_number_gets_a_sentence_on_the_screen_and_is_not_lost(lesson, watched):
    field = lesson.page.locator(".watched input[type=text]").first
    await field.fill("minus three")
    await field.press("Enter")
    await lesson.page.wait_for_selector(".watched .gypsumkit-problem")
    assert len(await lesson.page.inner_text(".watched .gypsumkit-problem")) > 20
    assert await field.input_value() == "minus three"


async def test_the_words_for_those_who_cannot_see_it_follow(lesson, watched):
    labels = "[...state.picture().querySelectorAll('svg[role=img]')].map(e => e.getAttribute('aria-label'))"
    before = await watched.ask(labels)
    await watched.press("PageUp")
    await settled(lesson, watched)
    after = await watched.ask(labels)
    assert len(after) == 3 and all(old != new for old, new in zip(before, after))
    assert after == await lesson.in_kernel("", "[picture.words for picture in explorer.picture.scene.pictures]")


async def test_the_picture_never_goes_away_during_a_drag(lesson, watched, record_property):
    areas = await watched.areas()
    assert len(areas) == 3
    async with Frames(lesson.page) as frames:
        seen = await watched.drag(2.0)
    blank = frames.blank(areas, VERMILLION)
    record_property("captured frames", len(frames.images))
    print("captured frames: {}, blank: {}; animation frames: {}, without the picture: {}".format(
        len(frames.images), blank, seen["frames"], seen["bare"]))
    assert len(frames.images) >= 10 and seen["frames"] >= 20
    assert blank == 0 and seen["bare"] == 0
    assert seen["removed"] == 0
    assert seen["shifts"] < 0.001  # of the whole screen: the width of a digit in the table, at most
    assert seen["highest"] - seen["lowest"] <= 60  # the words below may take a line more or less


async def test_the_count_of_blank_frames_notices_a_picture_that_goes_away(lesson, watched):
    areas = await watched.areas()
    flicker = """e => { const f = document.querySelectorAll('.watched .gypsumkit-picture svg[role=img]');
        f.forEach(s => s.style.visibility = 'hidden'); setTimeout(() => f.forEach(s => s.style.visibility = ''), 150); }"""
    async with Frames(lesson.page) as frames:
        for _ in range(3):
            await lesson.page.evaluate(flicker)
            await lesson.page.wait_for_timeout(300)
    assert frames.blank(areas, VERMILLION) >= 1


async def test_another_powder_changes_the_page_behind_without_a_blank(lesson, watched):
    areas = await watched.areas()
    choice = lesson.page.locator(".watched select").first
    async with Frames(lesson.page) as frames:
        for powder in ("dental stone", "model plaster", "dental stone"):
            await choice.select_option(powder)
            await lesson.page.wait_for_timeout(700)
    assert len(frames.images) >= 3
    assert frames.blank(areas) == 0
    assert "ental stone" in await watched.picture_says()
    await choice.select_option("model plaster")
    await lesson.page.wait_for_timeout(300)


async def test_an_exception_in_a_control_reaches_the_screen(lesson, watched):
    await lesson.in_kernel("explorer.mix = lambda: 1 / 0")
    try:
        await lesson.page.keyboard.press("ArrowRight")
        await lesson.page.wait_for_selector(".watched .gypsumkit-problem:has-text('ZeroDivisionError')")
        assert await lesson.in_kernel("", "[type(error).__name__ for error in explorer.errors]") == ["ZeroDivisionError"]
    finally:
        await lesson.in_kernel("del explorer.mix; explorer.errors.clear()")
    await watched.press("ArrowRight")
    await settled(lesson, watched)
    assert await says_what_is_computed_anew(lesson, watched)


@pytest.mark.parametrize("width", WIDTHS)
async def test_every_width_shows_all_of_it(lesson, watched, screenshots, width):
    await lesson.page.set_viewport_size({"width": width, "height": 1000})
    await lesson.page.wait_for_timeout(500)
    await watched.come_into_view()
    if screenshots:
        await lesson.page.screenshot(path=screenshots / "explorer-{}.png".format(width))
    areas = await watched.areas()
    assert len(areas) == 3
    for left, top, right, bottom in areas:
        assert left >= 0 and right <= width
        assert right - left >= min(290, 0.75 * width)
    assert len({round(top) for _, top, _, _ in areas}) == (3 if width == 390 else 1)
    content, room = await lesson.width_of_content()
    assert content <= room
    assert await lesson.too_wide() == []


@pytest.mark.parametrize("pins", [0, 3])
@pytest.mark.parametrize("width", WIDTHS)
async def test_both_layers_and_the_marker_lie_where_they_must(lesson, watched, width, pins):
    await lesson.page.set_viewport_size({"width": width, "height": 1000})
    for _ in range(pins):  # each makes the table of numbers wider
        await watched.press("PageUp")
        await lesson.page.get_by_role("button", name="Pin this one").click()
    for _ in range(3):
        await watched.press("ArrowRight")
    await settled(lesson, watched)
    boxes = ("[...state.picture().querySelectorAll('{}')].map(e => {{ const r = e.getBoundingClientRect(); "
             "return [r.left, r.top, r.right, r.bottom]; }})")
    pages, overlays = np.array(await watched.ask(boxes.format("img"))), await watched.ask(boxes.format("svg[role=img]"))
    assert pages == pytest.approx(np.array(overlays), abs=0.5)
    circles = np.array(await watched.ask(boxes.format("circle.marker")))
    markers = np.column_stack([circles[:, [0, 2]].mean(axis=1), circles[:, [1, 3]].mean(axis=1)])
    assert len(markers) == 3
    width_units = await lesson.in_kernel("", "explorer.picture.scene.pictures[0].width")
    drawn = await lesson.in_kernel("", "places_by_matplotlib(explorer.picture.scene)")
    model = await lesson.in_kernel("", "(lambda mix: [float(mix.spread_mm.value), 100 * float(mix.porosity.value), "
                                       "float(mix.wet_strength_mpa.value)])(explorer.mix())")
    ratio = await watched.slider_value()
    for page, marker, place, value in zip(pages, markers, drawn, model):
        scale = (page[2] - page[0]) / width_units
        in_units = (marker - page[:2]) / scale
        # matplotlib's own draw of the same marker
        assert in_units * scale == pytest.approx(np.array(place["marker"]) * scale, abs=1)
        # the value of the model, read off the ticks
        assert in_units[0] * scale == pytest.approx(read_off(place["x_ticks"], ratio) * scale, abs=1)
        assert in_units[1] * scale == pytest.approx(read_off(place["y_ticks"], value) * scale, abs=1)


def read_off(ticks, value):
    """Return where a value lies, from the places of the first and the last tick."""
    (first, start), (last, end) = ticks[0], ticks[-1]
    return start + (value - first) * (end - start) / (last - first)


@pytest.mark.parametrize("width", WIDTHS)
async def test_on_the_screen_the_marker_covers_the_drawn_curve(lesson, watched, width):
    """The blue curve of the page behind, found in the pixels of the screen, runs through the marker's middle."""
    from matplotlib.image import imread
    await lesson.page.set_viewport_size({"width": width, "height": 1000})
    await lesson.page.wait_for_timeout(300)
    for _ in range(2):
        await watched.press("PageUp")
    await settled(lesson, watched)
    for number in range(3):
        await lesson.page.locator(".watched svg[role=img]").nth(number).scroll_into_view_if_needed()
        box = await lesson.page.locator(".watched circle.marker").nth(number).bounding_box()
        middle_x, middle_y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        hide = await lesson.page.add_style_tag(content=".watched .gypsumkit-picture svg { visibility: hidden }")
        screen = imread(io.BytesIO(await lesson.page.screenshot()), format="png")[..., :3]
        await hide.evaluate("e => e.remove()")
        column = int(middle_x)
        # the curve falls or rises little from one column to the next: the mean of three is that of the middle one
        rows = np.arange(int(middle_y) - 12, int(middle_y) + 13)
        blueness = np.clip(1 - np.abs(screen[rows, column - 1:column + 2] - np.array([0, 0x72, 0xb2]) / 255).max(axis=2) / 0.5, 0, 1)
        weight = blueness.mean(axis=1)
        near = np.abs(rows + 0.5 - middle_y) < 5
        assert weight[near].max() > 0.5, "no curve under the marker"
        found = np.average(rows[near] + 0.5, weights=weight[near] ** 2)
        assert found == pytest.approx(middle_y, abs=1)


async def test_nothing_is_asked_of_any_other_computer(lesson, lab):
    hosts = {address.split("/")[2] for address in lesson.requests if not address.startswith(("data:", "blob:"))}
    assert hosts == {lab.base.split("/")[2]}
    assert len(lesson.requests) > 20


async def test_the_page_has_no_error_of_its_own(lesson):
    assert lesson.complaints == []
