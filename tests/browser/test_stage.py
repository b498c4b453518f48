"""The stage in a real lesson page: large enough, dark enough, wholly from the keyboard, as quick as the page, and the film plays while Python is busy."""

import asyncio
import shutil
import statistics
from importlib.resources import files
from pathlib import Path

import pytest

from tests.browser.lab import CLONE
from tests.browser.lesson_page import open_lesson, write_notebook
from tests.browser.loop import in_loop
from tests.browser.test_ring_motion import pictures_per_second

MEASURES = Path(__file__).with_name("stage.js").read_text(encoding="utf-8")
CHECKER = (files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")
NOTEBOOK = """from gypsumkit.live.stage_notebook import stage
here = stage()
explorer = here.explorer("water", question="What does more water do?")
explorer.add_class("watched")
explorer.ratio_slider.add_class("watched-slider")
explorer"""
SHOW = """show = here.demonstration()
show.add_class("show")
show"""
SIZES = ((1920, 1080), (1280, 720), (390, 844))
LETTERS_PX, TICKS_PX, LINES_PX = 28, 22, 3

# What the toolkit leaves undone, found by the checker; a fault that is gone fails the test, so that it is taken off the list.
OF_THE_TOOLKIT = {"aria-input-field-name"}          # the handle of a slider has no name; each slider has a field with a name that does the same
SERIOUS = ("serious", "critical")


@pytest.fixture(scope="module")
def lesson(browser, lab):
    """A notebook with an explorer and the demonstration, run."""
    write_notebook(lab.lessons / "on_stage.ipynb", NOTEBOOK, SHOW)
    lesson = in_loop(open_lesson(browser, lab, "on_stage.ipynb", width=1920, height=1080))
    in_loop(lesson.run_all(".show"))
    in_loop(lesson.page.evaluate(MEASURES))
    yield lesson
    in_loop(lesson.close())


@pytest.fixture
def staged(lesson):
    """The explorer on the stage, as at first, for a light room; afterwards it leaves."""
    in_loop(_on_stage(lesson, "explorer.reset(); explorer.stage.cover.switch()", True))
    yield lesson
    in_loop(_on_stage(lesson, "explorer.stage.cover.room == 'dark room' and explorer.stage.cover.switch_room(); "
                              "explorer.stage.cover.on and explorer.stage.cover.switch(); explorer.stage.shown.index = 0", False))


@pytest.fixture
def shown(lesson):
    """The demonstration on the stage at its first step; afterwards it leaves."""
    in_loop(_on_stage(lesson, "show.begin_anew(); show.cover.switch()", True))
    yield lesson
    in_loop(_on_stage(lesson, "show.cover.on and show.cover.switch()", False))


@pytest.fixture(params=["explorer", "demonstration"])
def either(request):
    """The explorer, then the demonstration, on the stage."""
    return request.getfixturevalue({"explorer": "staged", "demonstration": "shown"}[request.param])


async def _on_stage(lesson, code, on):
    await lesson.page.set_viewport_size({"width": 1920, "height": 1080})
    await lesson.in_kernel(code)
    await lesson.page.wait_for_function("on => !!document.querySelector('.gypsumkit-on-stage') === on", arg=on)
    await lesson.page.wait_for_timeout(300)


async def _screenshot(lesson, screenshots, name):
    if screenshots:
        await lesson.page.screenshot(path=str(screenshots / f"stage {name}.png"))


# ---------------------------------------------------------------- large enough

async def test_letters_ticks_and_lines_are_large_enough_for_the_back_row(staged, screenshots):
    await staged.in_kernel("explorer.pin()")
    for pictures in range(5):
        await staged.in_kernel(f"explorer.stage.shown.index = {pictures}")
        await staged.page.wait_for_function("count => stage.ticks().length === count", arg=1 if pictures < 3 else 2)
        await staged.page.wait_for_timeout(200)
        letters, ticks, lines = await staged.page.evaluate("[stage.letters(), stage.ticks(), stage.lines()]")
        assert min(letters) >= LETTERS_PX and min(ticks) >= TICKS_PX and min(lines) >= LINES_PX
        side, large = await staged.page.evaluate("[stage.written('.gypsumkit-stage-side :is(td, th, p)'), stage.written('.gypsumkit-large')]")
        assert min(side) >= LETTERS_PX and large[0] >= 100
        await _screenshot(staged, screenshots, f"pictures {pictures}")


async def test_the_stage_covers_the_window_and_nothing_of_the_notebook_is_left(staged):
    covered = await staged.page.evaluate("""() => { const r = stage.root().getBoundingClientRect(), corners = [[2, 2], [innerWidth - 20, 2],
        [2, innerHeight - 2], [innerWidth / 2, innerHeight / 2]];
        return [r.left, r.top, r.right >= innerWidth, r.bottom >= innerHeight, corners.every(([x, y]) => stage.root().contains(document.elementFromPoint(x, y)))]; }""")
    assert covered == [0, 0, True, True, True]
    assert await staged.page.locator(".jp-Cell-inputWrapper, .jp-NotebookPanel-toolbar, #jp-top-panel").evaluate_all(
        "all => all.filter(e => e.checkVisibility({visibilityProperty: true})).length") == 0


@pytest.mark.parametrize("width, height", SIZES[:2])
async def test_a_picture_alone_is_wholly_in_the_window_with_its_controls_and_the_large_number_beside_it(staged, width, height):
    await staged.page.set_viewport_size({"width": width, "height": height})
    await staged.page.wait_for_timeout(300)
    picture, controls, number = await staged.page.evaluate("""() => { const box = e => { const r = e.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom]; };
        return [box(stage.picture()[0]), stage.controls().filter(e => !e.matches('.gypsumkit-stage-scroll')).map(box), box(document.querySelector('.gypsumkit-large'))]; }""")
    assert picture[1] >= 0 and picture[3] <= height and number[3] <= height
    assert all(left >= picture[2] - 1 and bottom <= height for left, _, _, bottom in controls)


async def test_escape_leaves_the_projector_view(either):
    await either.page.keyboard.press("Escape")
    await either.page.wait_for_function("() => !document.querySelector('.gypsumkit-on-stage')", timeout=5000)
    assert await either.in_kernel("", "explorer.stage.cover.on or show.cover.on") is False


@pytest.mark.parametrize("width, height", SIZES)
async def test_at_every_size_nothing_is_lost(either, width, height, screenshots):
    explorer = await either.page.locator(".gypsumkit-on-stage.watched").count()
    await either.page.set_viewport_size({"width": width, "height": height})
    await either.in_kernel("show.cover.on and setattr(show.fields['before'], 'value', 'A 12, B 7, C 3')")
    for picture in (False, True):
        if picture:
            await either.in_kernel("show.cover.on and show.reveal()")
        await either.page.wait_for_timeout(400)
        await _screenshot(either, screenshots, f"{'explorer' if explorer else 'demonstration'} {width}{' picture' if picture else ''}")
        outside, overlapping, wide = await either.page.evaluate("[stage.outside(), stage.overlapping(), stage.root().scrollWidth - stage.root().clientWidth]")
        assert outside == [] and overlapping == [] and wide <= 0
        assert min(await either.page.evaluate("stage.letters()")) >= (LETTERS_PX * width / 1920 - 0.5 if width > 900 else 11)
    said = await either.page.evaluate("stage.root().innerText")
    for words in ("strength, wet, 1 h", "Limits:", "Water/powder ratio") if explorer else ("63 mL, model plaster", "Limits:", "Lift all rings", "Right:"):
        assert words in said


# ---------------------------------------------------------------- contrast

@pytest.mark.parametrize("room", ["light", "dark"])
@pytest.mark.parametrize("which", ["explorer", "show", "show with the clock"])
async def test_text_and_lines_stand_out_in_light_and_dark(lesson, room, which, screenshots):
    cover = "explorer.stage.cover" if which == "explorer" else "show.cover"
    extra = {"explorer": "explorer.pin()", "show": "show.begin_anew(); show.fields['before'].value = 'A 3, B 4'; show.reveal()",
             "show with the clock": "show.begin_anew(); show.forward(); show.forward(); show.forward()"}[which]
    await _on_stage(lesson, f"{extra}; {cover}.switch(); '{room}' == 'dark' and {cover}.switch_room()", True)
    try:
        texts, lines = await lesson.page.evaluate("[stage.textContrasts(), stage.lineContrasts()]")
        assert len(texts) > 12 and len(lines) > 8
        assert [each for each in texts if each[0] < 4.5] == []
        assert [each for each in lines if each[0] < 3] == []
        await _screenshot(lesson, screenshots, f"{which} {room}")
    finally:
        await _on_stage(lesson, f"'{room}' == 'dark' and {cover}.switch_room(); {cover}.switch()", False)


# ---------------------------------------------------------------- the keyboard alone

async def _walk(lesson, most=80):
    """Press Tab from the first control on; return what was reached, in order, until it begins again or leaves the stage."""
    await lesson.page.evaluate("stage.controls()[0].focus()")
    seen = []
    for _ in range(most):
        at = await lesson.page.evaluate("stage.focus()")
        if not at["inside"] or at["number"] in [each["number"] for each in seen]:
            break
        seen.append(at)
        await lesson.page.keyboard.press("Tab")
    return seen


async def test_every_control_is_reached_by_tab_and_shows_that_it_has_the_focus(either):
    lesson, wanted = either, set(await either.page.evaluate("stage.numbers()"))
    reached = await _walk(lesson)
    missing = wanted - {each["number"] for each in reached}
    assert missing == set(), await lesson.page.evaluate("all => stage.controls().filter(e => all.includes(e.dataset.number)).map(e => e.outerHTML.slice(0, 90))", list(missing))
    assert [each["what"] for each in reached if each["outline"] < 3 or each["style"] == "none" or each["contrast"] < 3] == []


async def _focus(lesson, selector):
    await lesson.page.locator(selector).first.focus()


async def test_the_explorer_is_worked_by_keys_alone(staged):
    page, keys = staged.page, staged.page.keyboard
    large = page.locator(".gypsumkit-large")

    async def says(words):
        await page.wait_for_function("words => document.querySelector('.gypsumkit-on-stage').innerText.includes(words)", arg=words, timeout=5000)
    before = await large.inner_text()
    await _focus(staged, ".watched-slider .noUi-handle")
    await keys.press("ArrowRight")
    await page.wait_for_function("before => document.querySelector('.gypsumkit-large').innerText !== before", arg=before, timeout=5000)
    await _focus(staged, ".gypsumkit-on-stage input[placeholder^='0.50 or']")
    await keys.type("60 mL per 100 g")
    await keys.press("Enter")
    await says("63.6 mm")
    await page.get_by_role("button", name="Pin this one").focus()
    await keys.press("Space")
    await says("A against now")
    await page.get_by_label("Compare recipes").focus()
    await keys.type("45, 50 of model plaster")
    await keys.press("Enter")
    await says("B against now")
    await page.get_by_label("Picture").focus()
    await keys.press("ArrowDown")
    await page.wait_for_function("() => document.querySelector('.gypsumkit-on-stage svg[role=img]').getAttribute('aria-label').includes('orosity')")
    await page.get_by_role("button", name="Dark room").focus()
    await keys.press("Enter")
    await page.wait_for_selector(".gypsumkit-dark")
    assert (await page.evaluate("document.activeElement.innerText")) == "Light room"
    await page.get_by_role("button", name="Reset").focus()
    await keys.press("Space")
    await says("40.3 mm")
    await page.get_by_role("button", name="Leave projector view").focus()
    await keys.press("Space")
    await page.wait_for_function("() => !document.querySelector('.gypsumkit-on-stage')")
    assert await page.evaluate("document.activeElement.innerText") == "Projector view"


async def test_the_whole_demonstration_is_rehearsed_by_keys_alone(shown, screenshots):
    page, keys, steps = shown.page, shown.page.keyboard, await shown.in_kernel("", "len(show.steps)")
    await page.get_by_role("button", name="Next step").focus()
    for step in range(1, steps + 1):
        await page.wait_for_function("step => document.querySelector('.gypsumkit-on-stage h2').innerText.startsWith(step)", arg=f"{step} of {steps}", timeout=10000)
        if await shown.in_kernel("", "show.step.question is not None"):
            await page.wait_for_selector(".gypsumkit-on-stage .gypsumkit-letters:visible")
            for hands, count in (("before", "A 12, B 7, C 3"), ("after", "A 3, B 17, C 2")):
                field = page.get_by_label(f"Hands {hands} discussion")
                await field.focus()
                await keys.press("Control+A")
                await keys.type(count)
                await keys.press("Enter")
            await page.wait_for_function("() => [...document.querySelectorAll('.gypsumkit-on-stage svg[role=img]')].some(e => e.textContent.includes('17'))")
            await _screenshot(shown, screenshots, f"step {step} question")
            await page.get_by_role("button", name="Reveal").focus()
            await keys.press("Space")
            await page.wait_for_selector(".gypsumkit-on-stage .gypsumkit-correct:visible")
            assert await page.evaluate("document.activeElement.innerText") == "Reveal"
            await page.wait_for_timeout(900 if screenshots else 100)
        await _screenshot(shown, screenshots, f"step {step}")
        await page.get_by_role("button", name="Next step").focus()
        await keys.press("Space")
        assert await page.evaluate("document.activeElement.innerText") == "Next step"
    await page.wait_for_function("() => document.querySelector('.gypsumkit-on-stage').innerText.includes('This is the last step')")
    assert await shown.in_kernel("", "show.errors == [] and len(show.state.revealed)") == 8 - 1
    await page.get_by_role("button", name="Previous step").focus()
    await keys.press("Enter")
    await page.wait_for_function("step => document.querySelector('.gypsumkit-on-stage h2').innerText.startsWith(step)", arg=f"{steps - 1} of {steps}")


# ---------------------------------------------------------------- the film, and how quick the stage is

SAMPLER = """() => { const seen = window.seen = []; window.sampling = true;
    const look = () => { const all = [...document.querySelectorAll('.gypsumkit-on-stage .gypsumkit-many svg[role=img]')].filter(e => e.checkVisibility());
        seen.push([performance.now(), ...all.map(svg => { const shape = svg.querySelector('svg polygon');
            return shape ? shape.getBBox().width : 0; }), ...all.map(svg => { const ring = svg.querySelectorAll('svg polygon')[1]; return ring ? ring.getBBox().y : 0; })]);
        if (window.sampling) requestAnimationFrame(look); };
    requestAnimationFrame(look); }"""


async def test_five_cylinders_play_at_25_pictures_a_second_while_python_is_busy(shown, record_property):
    await shown.in_kernel("show.look()")
    await shown.page.wait_for_timeout(300)
    assert await shown.page.locator(".gypsumkit-on-stage .gypsumkit-many svg[role=img]").count() == 5
    await shown.in_kernel("show.piece.lift()")
    await shown.page.wait_for_selector(".gypsumkit-on-stage .gypsumkit-moves animate", state="attached", timeout=5000)
    busy = asyncio.ensure_future(shown.page.evaluate("""async () => { const kernel = window.jupyterapp.shell.currentWidget.sessionContext.session.kernel;
        await kernel.requestExecute({code: 'import time\\nend = time.time() + 4\\nwhile time.time() < end: pass', store_history: false}).done; return 1; }"""))
    await shown.page.evaluate(SAMPLER)
    await shown.page.wait_for_timeout(3000)
    seen = await shown.page.evaluate("() => { window.sampling = false; return window.seen; }")
    assert not busy.done(), "Python was busy all the while"
    await busy
    rate = pictures_per_second(seen)
    record_property("pictures a second", rate)
    print(f"five cylinders: {rate:.0f} different pictures a second")
    assert all(len(each) == 11 for each in seen) and rate >= 25
    widths = seen[-1][1:6]
    assert widths[0] == pytest.approx(seen[0][1], rel=0.02) and widths[3] > 1.6 * widths[0], "42 mL stands, 63 mL runs"


async def test_a_slider_is_about_as_quick_on_the_stage_as_on_the_page(lesson, record_property):
    async def latencies():
        watched = await lesson.watch(".watched", ".gypsumkit-picture")
        await watched.ask("(state.root.scrollIntoView({block: 'start'}), 0)")
        times = [await watched.press("ArrowRight" if turn % 2 else "ArrowLeft") for turn in range(24)]
        return statistics.median(each for each in times[4:] if each is not None)
    await lesson.page.set_viewport_size({"width": 1920, "height": 1080})
    await lesson.in_kernel("explorer.reset()")
    on_page = await latencies()
    await _on_stage(lesson, "explorer.stage.cover.switch()", True)
    try:
        on_stage = await latencies()
    finally:
        await _on_stage(lesson, "explorer.stage.cover.switch()", False)
    record_property("stage over page", on_stage / on_page)
    print(f"page {on_page:.0f} ms, stage {on_stage:.0f} ms: {on_stage / on_page:.2f} times")
    assert on_stage < 2.5 * on_page


# ---------------------------------------------------------------- the accessibility checker

async def _serious(page, within):
    """Return the serious findings of the checker within our own output, by rule: the pieces of the page they are about."""
    await page.evaluate(CHECKER)
    found = await page.evaluate("""within => axe.run({include: within, exclude: []}, {resultTypes: ['violations']}).then(r =>
        r.violations.map(v => [v.id, v.impact, v.nodes.map(n => n.html.slice(0, 160))]))""", within)
    return {rule: nodes for rule, impact, nodes in found if impact in SERIOUS}


def _judge(found):
    ours = {rule: nodes for rule, nodes in found.items() if rule not in OF_THE_TOOLKIT or any("noUi-handle" not in node for node in nodes)}
    assert ours == {}
    assert set(found) == OF_THE_TOOLKIT, "a fault of the toolkit is gone: take it off the list"


async def test_the_checker_finds_nothing_serious_on_the_stage(either):
    await either.in_kernel("show.cover.on and (show.forward(), show.forward(), show.forward(), show.forward(), show.reveal())")
    await either.page.wait_for_timeout(500)
    _judge(await _serious(either.page, [".gypsumkit-on-stage"]))


async def test_the_checker_finds_nothing_serious_in_lesson_02(browser, lab):
    shutil.copy(CLONE / "lessons" / "02_water_powder_ratio.ipynb", lab.lessons / "checked.ipynb")
    lesson = await open_lesson(browser, lab, "checked.ipynb", width=1280)
    try:
        await lesson.run_all(".gypsumkit-explorer")
        await lesson.page.wait_for_timeout(500)
        _judge(await _serious(lesson.page, [".gypsumkit-block"]))
    finally:
        await lesson.close()


async def test_every_slider_has_a_named_field_that_does_the_same(lesson):
    names = await lesson.page.evaluate("""() => [...document.querySelectorAll('.gypsumkit-block .widget-slider')].map(slider => {
        const field = slider.parentElement.querySelector('input[type=text]:not(.widget-readout)'); return field ? field.labels[0] && field.labels[0].innerText : null; })""")
    assert names and all(names)


async def test_a_stage_whose_kernel_has_gone_lets_the_page_free(browser, lab):
    write_notebook(lab.lessons / "left_alone.ipynb", NOTEBOOK)
    lesson = await open_lesson(browser, lab, "left_alone.ipynb", width=1280)
    menu = "() => document.querySelector('#jp-menu-panel').checkVisibility({visibilityProperty: true})"
    try:
        await lesson.run_all(".gypsumkit-explorer")
        await lesson.in_kernel("explorer.stage.cover.switch(); explorer.stage.cover.switch_room()")
        await lesson.page.wait_for_function(f"() => !({menu})()")
        await lesson.page.evaluate("() => { window.jupyterapp.shell.currentWidget.sessionContext.session.kernel.restart(); }")
        await lesson.page.wait_for_function(menu, timeout=20000)
        said = await lesson.page.evaluate("""() => [...document.querySelectorAll('.jupyter-widgets-disconnected')]
            .map(e => getComputedStyle(e, '::before').content).filter(words => words !== 'none')""")
        assert len(said) == 1 and "press the button at the top" in said[0]
        await lesson.run_all(".gypsumkit-explorer:not(.jupyter-widgets-disconnected)")
    finally:
        await lesson.close()
