"""Every lesson, run in the browser: no error, nothing from the network, nothing too wide, every picture there."""

import shutil
import subprocess
import sys

import pytest

from tests.browser.lab import CLONE
from tests.browser.lesson_page import open_lesson
from tests.browser.loop import in_loop

LESSONS = sorted((CLONE / "lessons").glob("*.ipynb"))
WIDTHS = (390, 1280, 1920)
LAST_CELL_RAN = """() => { const cells = window.jupyterapp.shell.currentWidget.content.widgets.filter(c => c.model.type === 'code');
    return cells.length > 0 && cells.every(c => c.model.executionCount !== null && c.model.executionCount > 0); }"""


EVERYTHING_LIVES = """() => window.jupyterapp.shell.currentWidget.content.widgets.filter(c => c.model.type === 'code').slice(1)
    .every(c => c.node.querySelector('.jupyter-widgets'))"""
WATCH_SCROLLING = """() => { window.watched = document.querySelector('.jp-WindowedPanel-outer'); watched.furthest = 0;
    setInterval(() => { watched.furthest = Math.max(watched.furthest, watched.scrollTop); }, 15); }"""
MOST_SCROLLED_PX = 50
SHORTEST_SLIDER_PX = 120
OF_EACH_NUMBER = """() => [...document.querySelectorAll('.gypsumkit-explorer .gypsumkit-controls > .widget-hbox')]
    .map(e => ['.slider-container', '.widget-readout, .widget-hbox > .widget-label', '.widget-text']
        .map(part => [...e.querySelectorAll(part)].map(found => found.getBoundingClientRect()).find(box => box.width > 0)))
    .filter(parts => parts.every(part => part))
    .map(([slider, number, field]) => [slider.width, slider.right <= number.left && number.right <= field.left
                                       && Math.abs(slider.top + slider.bottom - field.top - field.bottom) < 40])"""
OF_EACH_TABLE = """() => [...document.querySelectorAll('.jp-RenderedMarkdown table')].filter(e => e.getBoundingClientRect().width > 0)
    .map(e => e.getBoundingClientRect().left - e.closest('.jp-RenderedMarkdown').getBoundingClientRect().left)"""


@pytest.fixture(scope="module", params=LESSONS, ids=lambda path: path.stem)
def lesson(request, one_of_many, lab):
    """A copy of a lesson, open and run."""
    shutil.copy(request.param, lab.lessons / request.param.name)
    lesson = in_loop(one_of_many.open(request.param.name, 1280))
    in_loop(lesson.page.evaluate("window.jupyterapp.shell.currentWidget.content.widgets.forEach(c => {"
                                 " if (c.model.type === 'code') c.model.clearExecution(); })"))
    in_loop(lesson.run_all(".jp-OutputArea .jupyter-widgets"))
    in_loop(lesson.page.wait_for_function(LAST_CELL_RAN, timeout=60000))
    in_loop(lesson.page.wait_for_timeout(800))
    yield lesson
    in_loop(lesson.close())


async def test_the_start_button_runs_everything_and_the_reader_stays_at_the_beginning(browser, lab):
    shutil.copy(LESSONS[2], lab.lessons / LESSONS[2].name)
    subprocess.run([sys.executable, "-m", "gypsumkit.launch.inside.sign", str(CLONE / "lessons"), str(lab.lessons)],
                   env=lab.surroundings, check=True, timeout=60)
    lesson = await open_lesson(browser, lab, LESSONS[2].name, width=1280)
    try:
        await lesson.page.evaluate(WATCH_SCROLLING)
        await lesson.page.get_by_role("button", name="Start the lesson").click()
        await lesson.page.wait_for_function(EVERYTHING_LIVES, timeout=60000)
        await lesson.page.wait_for_timeout(800)
        height, seen, furthest = await lesson.page.evaluate("[watched.scrollHeight, watched.clientHeight, watched.furthest]")
        assert height > 4 * seen
        assert furthest < MOST_SCROLLED_PX
        assert lesson.complaints == []
    finally:
        await lesson.close()


async def test_no_cell_fails(lesson):
    errors = lesson.page.locator("[data-mime-type='application/vnd.jupyter.error'], "
                                 "[data-mime-type='application/vnd.jupyter.stderr']")
    assert [await errors.nth(number).inner_text() for number in range(await errors.count())] == []
    assert lesson.complaints == []


async def test_every_picture_is_there(lesson):
    state = await lesson.page.evaluate(
        "[...document.querySelectorAll('.gypsumkit-picture')].map(p => [p.querySelectorAll('img').length, "
        "[...p.querySelectorAll('svg[role=img]')].filter(s => s.getAttribute('aria-label').length > 20).length, "
        "[...p.querySelectorAll('img')].every(i => i.complete && i.naturalWidth > 0)])")
    for images, named_overlays, loaded in state:
        assert images == named_overlays > 0 and loaded


async def test_a_click_beside_a_block_does_not_take_it_off_the_page(lesson):
    """With its code folded away, a cell whose output is folded as well leaves nothing that would bring it back."""
    takes_a_click = await lesson.page.evaluate("""() => [...document.querySelectorAll('.jp-CodeCell')].filter(c => c.querySelector('.gypsumkit-block'))
        .map(c => getComputedStyle(c.querySelector('.jp-OutputCollapser')).pointerEvents !== 'none')""")
    assert takes_a_click and not any(takes_a_click)


@pytest.mark.parametrize("width", WIDTHS)
async def test_nothing_is_wider_than_the_screen(lesson, screenshots, width):
    await lesson.page.set_viewport_size({"width": width, "height": 1000})
    await lesson.page.wait_for_timeout(500)
    if screenshots:
        await photograph(lesson, screenshots, width)
    assert await lesson.too_wide() == []
    content, room = await lesson.width_of_content()
    assert content <= room


@pytest.mark.parametrize("width", WIDTHS[1:])
async def test_a_slider_is_long_enough_and_its_field_beside_it(lesson, width):
    await lesson.page.set_viewport_size({"width": width, "height": 1000})
    await lesson.page.wait_for_timeout(500)
    numbers = await lesson.page.evaluate(OF_EACH_NUMBER)
    assert all(length >= SHORTEST_SLIDER_PX and beside for length, beside in numbers), numbers


async def test_a_table_stands_at_the_left_under_its_text(lesson):
    await lesson.page.set_viewport_size({"width": WIDTHS[-1], "height": 1000})
    await lesson.page.wait_for_timeout(300)
    assert all(left < 24 for left in await lesson.page.evaluate(OF_EACH_TABLE))


async def photograph(lesson, folder, width):
    """Save the whole lesson, a screen at a time."""
    name = lesson.page.url.split("/")[-1].split(".")[0]
    room = lesson.page.locator(".jp-WindowedPanel-outer").first
    height, step = await room.evaluate("e => [e.scrollHeight, e.clientHeight]")
    for number, top in enumerate(range(0, height, step)):
        await room.evaluate("(e, top) => { e.scrollTop = top; }", top)
        await lesson.page.wait_for_timeout(60)
        await lesson.page.screenshot(path=folder / "{}-{}-{:02d}.png".format(name, width, number))
    await room.evaluate("e => { e.scrollTop = 0; }")


async def test_nothing_is_asked_of_any_other_computer(lesson, lab):
    hosts = {address.split("/")[2] for address in lesson.requests if not address.startswith(("data:", "blob:"))}
    assert hosts == {lab.base.split("/")[2]}
