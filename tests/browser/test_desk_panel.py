"""The assessor's desk in the browser: an examination is made, marked and moderated with the keyboard alone, and the page stays alive."""

import pytest

from tests.browser.lesson_page import write_notebook
from tests.browser.test_judging_panels import UNNAMED_OR_SMALL


async def press_by_key(page, name):
    """Press a button with the keyboard."""
    button = page.get_by_role("button", name=name, exact=True)
    await button.focus()
    await page.keyboard.press("Enter")


@pytest.mark.parametrize("width", [390, 1280])
async def test_an_examination_is_marked_with_the_keyboard(one_of_many, lab, screenshots, width):
    write_notebook(lab.lessons / f"desk-{width}.ipynb", f"import os, tempfile\nos.environ['GYPSUMKIT_WORK'] = tempfile.mkdtemp(prefix='desk-{width}-')\n"
                   "from gypsumkit.live.panels import panel_class\npanel_class('desk')()")
    lesson = await one_of_many.open(f"desk-{width}.ipynb", width)
    try:
        await lesson.run_all(".gypsumkit-picture")
        page = lesson.page
        assert await lesson.too_wide() == [] and await page.evaluate(UNNAMED_OR_SMALL) == []
        await press_by_key(page, "Mark what came back")
        await page.get_by_text("Open an examination first").first.wait_for(timeout=20000)
        await press_by_key(page, "Make an invented examination to try")
        await page.get_by_text("nobody sat it").first.wait_for(timeout=60000)
        await press_by_key(page, "Mark what came back")
        await page.get_by_text("answers ask for a look").first.wait_for(timeout=120000)
        await press_by_key(page, "Take the next answer to look at")
        await page.get_by_text("carry no load").first.wait_for(timeout=20000)
        for name, typed in (("Marks it becomes", "2"), ("Your initials", "A.B."), ("Why", "Two points are named.")):
            await page.get_by_label(name, exact=True).focus()
            await page.keyboard.type(typed)
            await page.keyboard.press("Tab")
        await press_by_key(page, "Change this mark")
        await page.get_by_text("Changed: ").first.wait_for(timeout=20000)
        await page.get_by_label("Show", exact=True).select_option("changes of marks")
        await page.get_by_text("Two points are named.").first.wait_for(timeout=20000)
        content, room = await lesson.width_of_content()
        assert content <= room + 1 and await lesson.too_wide() == [] and await page.evaluate(UNNAMED_OR_SMALL) == [] and lesson.complaints == []
        if screenshots:
            await page.get_by_label("Show", exact=True).select_option("marks by candidate number")
            await page.wait_for_timeout(800)
            await page.locator(".gypsumkit-block").first.screenshot(path=screenshots / f"desk-{width}.png")
    finally:
        await lesson.close()
