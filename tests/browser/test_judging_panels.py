"""Conformity, our powder and recipes wanted in the browser: nothing too wide, every control named and large enough, buttons answer."""

import pytest

from tests.browser.lesson_page import write_notebook

CELLS = ("from gypsumkit.live.panels import panel_class\n"
         "panel_class('conformity')(iso_type=1, edition='1998', typed={'fluidity': '74; 76; 71', 'strength': '5.1; 5.0; 4.8; 5.5; 3.9'})",
         "ours = panel_class('our powder')(); ours.lot.value = 'A12'; ours.sheet['final_set_min'].value = '10 to 14 min'; ours.look_button.click(); ours",
         "panel_class('recipes wanted')('16 min', '20 MPa', '0.1 %')")
UNNAMED_OR_SMALL = """() => [...document.querySelectorAll('.jp-OutputArea-output :is(input, select, button)')].filter(e => e.offsetParent)
    .filter(e => { const r = e.getBoundingClientRect(); const name = e.innerText || (e.labels && [...e.labels].map(l => l.innerText).join('')) || e.title ||
        e.getAttribute('aria-label') || (e.closest('.jupyter-widgets') || e).innerText; return !name.trim() || r.height < 24 || r.width < 24; })
    .map(e => e.outerHTML.slice(0, 120))"""


@pytest.mark.parametrize("width", [390, 1280])
async def test_the_panels_fit_and_answer(one_of_many, lab, screenshots, width):
    write_notebook(lab.lessons / f"judging-{width}.ipynb", *CELLS)
    lesson = await one_of_many.open(f"judging-{width}.ipynb", width)
    try:
        await lesson.run_all(".gypsumkit-picture")
        page = lesson.page
        assert await lesson.too_wide() == []
        content, room = await lesson.width_of_content()
        assert content <= room + 1
        assert await page.evaluate(UNNAMED_OR_SMALL) == []
        await page.get_by_label("Water already in the bowl (mL)").fill("60 mL")
        await page.get_by_label("Water already in the bowl (mL)").press("Enter")
        await page.get_by_role("button", name="How much?").click()
        await page.get_by_text("Take 120 g of powder").first.wait_for(timeout=20000)
        await page.get_by_label("Compressive strength at 1 h (MPa)").fill("5,0; x")
        await page.get_by_role("button", name="Judge this batch").click()
        await page.get_by_text("Result no. 2").first.wait_for(timeout=20000)
        assert lesson.complaints == []
        if screenshots:
            for place, cell in enumerate(await page.locator(".jp-CodeCell").all()):
                await cell.screenshot(path=screenshots / f"judging-{width}-{place}.png")
    finally:
        await lesson.close()
