"""Pages to take home on a phone without a network: the page's own script beside the library, touch, typing, keys, and its width."""

import numpy as np
import pytest

from gypsumkit.stage.page import CUT
from tests.take_home_pages import LESSONS, apart, made_page, settings

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}
LAPTOP = {"viewport": {"width": 1280, "height": 800}}
CLOSE_UNITS, CLOSE_DIGITS = 1.0, 2.0      # what the page itself says
MANY = 12


async def opened(browser, tmp_path, number, device):
    """Open a page from its file, with the network off; return it with what it complained of and asked for."""
    path = tmp_path / f"{number}.html"
    path.write_text(made_page(number).html, encoding="utf-8")
    context = await browser.new_context(**device, offline=True)
    page = await context.new_page()
    complaints = []
    page.on("console", lambda message: complaints.append(message.text) if message.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("request", lambda request: None if request.url.startswith("file:") else complaints.append(request.url))
    await page.goto(path.as_uri())
    await page.wait_for_selector("html.ready")
    return page, complaints


@pytest.mark.parametrize("number", LESSONS)
async def test_the_page_says_what_the_library_says(browser, tmp_path, number, screenshots):
    page, complaints = await opened(browser, tmp_path, number, PHONE)
    made, generator = made_page(number), np.random.default_rng(int(number) + 11)
    for place, explorer in enumerate(made.explorers):
        assert await page.evaluate("place => takeHome[place].pictures.querySelectorAll('svg[role=img]').length", place) > 0
        if explorer.computed.film:
            continue
        library = made.library(place)
        drawn = settings(explorer.computed, generator, MANY)
        said = await page.evaluate("([place, all]) => all.map(([chosen, steps]) => takeHome[place].set.text(chosen, steps))",
                                   [place, [one[:2] for one in drawn]])
        for (chosen, steps, values), shown in zip(drawn, said, strict=True):
            other_form, units, digits = apart(shown, library(chosen, values))
            assert not other_form and units <= CLOSE_UNITS and digits <= CLOSE_DIGITS + 1e-6, (made.uses[place]["kind"], chosen, values, units, digits)
    for device in (PHONE, LAPTOP):
        await page.set_viewport_size(device["viewport"])
        assert await page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        if screenshots:
            await page.screenshot(path=screenshots / f"take_home_{number}_{device['viewport']['width']}.png", full_page=True)
    assert not complaints
    await page.context.close()


async def test_touch_typing_keys_and_choices_on_a_phone(browser, tmp_path):
    page, complaints = await opened(browser, tmp_path, "02", PHONE)
    made = made_page("02")
    library, told = made.library(0), made.explorers[0].computed
    box = page.locator("#explorer-1")
    slider, typed, shown = box.locator("input[type=range]"), box.locator("input[type=text]"), box.locator("output")
    message, words = box.locator(".message"), box.locator(".words")

    async def agrees():
        """Whether the words on the screen are, within what the page says, those of the library at what the slider shows."""
        await page.wait_for_timeout(450)
        chosen = await page.evaluate("takeHome[0].chosenOnes()")
        value = float((await shown.inner_text()).split()[0])
        right = library(chosen, (value,)).split(CUT)[2]
        other_form, _, digits = apart(await words.evaluate("element => element.innerHTML"), right)
        return not other_form and digits <= CLOSE_DIGITS + 1e-6

    assert await agrees()
    # A finger drags the slider: what counts is that the page follows and agrees with the library where it lands.
    await slider.scroll_into_view_if_needed()
    place, client = await slider.bounding_box(), await page.context.new_cdp_session(page)
    before, pictures = await shown.inner_text(), await box.locator(".pictures").inner_html()
    thumb = place["x"] + 18 + (place["width"] - 36) * await slider.evaluate("one => one.value / one.max")
    for kind, x in (("touchStart", thumb), ("touchMove", thumb + 15), ("touchMove", thumb + 60), ("touchMove", thumb + 90), ("touchEnd", None)):
        points = [] if x is None else [{"x": x, "y": place["y"] + place["height"] / 2}]
        await client.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        await page.wait_for_timeout(40)
    assert float((await shown.inner_text()).split()[0]) > float(before.split()[0]) + 0.05
    assert await box.locator(".pictures").inner_html() != pictures and await agrees()
    # Typed with a decimal comma, and per 100 g.
    for text, value in (("0,47", "0.47 mL/g"), ("55 mL per 100 g", "0.55 mL/g"), ("0.613", "0.61 mL/g")):
        await typed.fill(text)
        await typed.press("Enter")
        assert await shown.inner_text() == value and await agrees()
    assert "0.61 mL/g is the nearest to 0.613" in await message.inner_text()
    # Nonsense gets a sentence and changes nothing; what was typed stays.
    for text, said in (("wet", "cannot be read as the water/powder ratio"), ("54", "write 0.54"), ("-1", "here it goes from"), ("0.5 g", "cannot be read"),
                       ("<b>", "“<b>” cannot be read")):
        await typed.fill(text)
        await typed.press("Enter")
        assert said in await message.inner_text() and await shown.inner_text() == "0.61 mL/g" and await typed.input_value() == text
    # Keys.
    await slider.focus()
    await slider.press("ArrowRight")
    assert await shown.inner_text() == "0.62 mL/g" and await typed.input_value() == "" and await message.inner_text() == "" and await agrees()
    assert await slider.get_attribute("aria-valuetext") == "0.62 mL/g"
    # A powder that cannot be mixed so says what was set in its place.
    powder = box.locator("select").first
    options = await powder.locator("option").all_inner_texts()
    await slider.press("End")
    await powder.select_option(index=options.index("dental stone"))
    assert "was set to 0.30 mL/g" in await message.inner_text() and await agrees()
    await box.locator("input[type=checkbox]").check()
    assert await agrees()
    await box.locator(".reset").click()
    assert await powder.input_value() == "model plaster" and await shown.inner_text() == "0.50 mL/g" and await agrees()
    # The mix of the prediction.
    await box.locator("summary").click()
    await box.locator(".asked").click()
    assert await shown.inner_text() == "0.35 mL/g" and await powder.input_value() == "dental stone" and await agrees()
    assert told.fine == "ratio" and not complaints
    await page.context.close()


async def test_targets_names_and_focus(browser, tmp_path):
    page, _ = await opened(browser, tmp_path, "03", PHONE)
    small = await page.evaluate("""() => [...document.querySelectorAll('button, select, summary, nav a, input[type=range], input[type=text], label.tick, fieldset label')]
        .filter(one => one.offsetParent && one.getBoundingClientRect().height < 44).map(one => one.outerHTML.slice(0, 90))""")
    assert not small
    nameless = await page.evaluate("""() => [...document.querySelectorAll('input, select')].filter(one => !one.labels.length && !one.getAttribute('aria-label'))
        .map(one => one.outerHTML.slice(0, 90))""")
    assert not nameless
    assert await page.evaluate("""() => [...document.querySelectorAll('svg[role=img]')].every(one => one.getAttribute('aria-label').length > 3)""")
    slider = page.locator("#explorer-1 input[type=range]").first
    await page.locator("#explorer-1 input[type=checkbox]").focus()
    await page.keyboard.press("Tab")
    await page.keyboard.press("Tab")
    await page.keyboard.press("Tab")
    assert await slider.evaluate("one => [one, one.closest('.control').querySelector('input[type=text]')].includes(document.activeElement)")
    assert await page.evaluate("parseFloat(getComputedStyle(document.activeElement).outlineWidth)") >= 2
    await page.context.close()


async def test_the_film_plays_and_stands_where_no_motion_is_wanted(browser, tmp_path):
    page, complaints = await opened(browser, tmp_path, "03", LAPTOP)
    box = page.locator("#explorer-3")
    await box.locator("select").nth(1).select_option(label="is lifted")
    # An outline is read from the animated points, twice.
    outline = """() => { const one = document.querySelector('#explorer-3 .moves :is(polygon, polyline):has(animate)');
        return [...one.animatedPoints].map(point => point.x + ',' + point.y).join(' '); }"""
    first = await page.evaluate(outline)
    await page.wait_for_timeout(900)
    assert await page.evaluate(outline) != first
    await page.emulate_media(reduced_motion="reduce")
    assert await box.locator(".instead").first.is_visible() and not await box.locator(".moves").first.is_visible()
    assert not complaints
    await page.context.close()


async def test_what_the_page_would_fetch_is_forbidden_by_the_page(browser, tmp_path):
    page, complaints = await opened(browser, tmp_path, "11", LAPTOP)
    await page.evaluate("""() => { const one = document.createElement('img'); one.src = 'http://localhost:9/x.png'; document.body.append(one);
        const two = document.createElement('script'); two.textContent = 'window.ran = true'; document.body.append(two); }""")
    await page.wait_for_timeout(200)
    assert any("Content Security Policy" in complaint for complaint in complaints) and not await page.evaluate("Boolean(window.ran)")
    await page.context.close()
