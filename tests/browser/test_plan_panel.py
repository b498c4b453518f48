"""The plan of a session in the browser: nothing too wide, every control named and large enough, the plan follows what is typed."""

import pytest

from tests.browser.lesson_page import write_notebook
from tests.browser.test_judging_panels import UNNAMED_OR_SMALL


@pytest.mark.parametrize("width", [390, 1280])
async def test_the_plan_fits_and_follows(one_of_many, lab, screenshots, width):
    write_notebook(lab.lessons / f"plan-{width}.ipynb", "from gypsumkit.live.panels import panel_class\npanel_class('plan')()")
    lesson = await one_of_many.open(f"plan-{width}.ipynb", width)
    try:
        await lesson.run_all(".gypsumkit-picture")
        page = lesson.page
        assert await lesson.too_wide() == []
        content, room = await lesson.width_of_content()
        assert content <= room + 1
        assert await page.evaluate(UNNAMED_OR_SMALL) == []
        students = page.get_by_label("Students", exact=True)
        await students.fill("24,5")
        await students.press("Enter")
        await page.get_by_text("must be a whole number").first.wait_for(timeout=20000)
        await students.fill("24")
        await students.press("Enter")
        await page.get_by_text("24 students in 12 groups").first.wait_for(timeout=20000)
        await page.get_by_text("Minute by minute").first.click()
        await page.get_by_text("group 12, mix 2: weigh and measure").first.wait_for(timeout=20000)
        assert await lesson.too_wide() == [] and lesson.complaints == []
        if screenshots:
            await page.locator(".jp-CodeCell").first.screenshot(path=screenshots / f"plan-{width}.png")
    finally:
        await lesson.close()
