"""The bench clock in a real lesson page: its digits against the true time, whatever the kernel does, over two real minutes.

The two minutes pass while other tests run in pages of their own (`conftest.py` puts what waits for them behind these).
"""

import asyncio
import json
import time

import pytest

from gypsumkit.bench.mix_phases import phases
from gypsumkit.figures.running_digits import STEP_S
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe
from tests.browser.lesson_page import _KERNEL_IS_READY, open_lesson, write_notebook
from tests.browser.loop import in_loop

NOTEBOOK = """from gypsumkit.live.panels import panel_class
panel = panel_class("bench clock")("dental stone", folder={folder!r})
panel.add_class("watched")
panel"""

ALLOWED_S = 0.2
SET_RIGHT_MS = 1500                  # a page that has just been built is set right with the first tick after that
REAL_S = 112.0                       # so long the clock runs at least until the last look at it

# In every animation frame: the wall clock of this computer, and the digits that are seen.
SAMPLER = """() => {
    const seen = window.seen = []; window.sampling = true;
    const digits = () => { const svg = document.querySelector('.watched .gypsumkit-clock-digits svg.gypsumkit-digits');
        return svg && svg.checkVisibility() ? [...svg.querySelectorAll('text')].filter(e => getComputedStyle(e).visibility === 'visible').map(e => e.textContent).join('') : ''; };
    const look = () => { seen.push([Date.now() / 1000, digits()]); if (window.sampling) requestAnimationFrame(look); };
    requestAnimationFrame(look); }"""


@pytest.fixture(scope="session")
def lesson(browser, lab, tmp_path_factory):
    """A notebook with the bench clock on a work folder of its own, run."""
    folder = tmp_path_factory.mktemp("clock")
    write_notebook(lab.lessons / "bench_clock.ipynb", NOTEBOOK.format(folder=str(folder)))
    lesson = in_loop(open_lesson(browser, lab, "bench_clock.ipynb", width=1920, height=1080))
    lesson.kept = folder / "bench-clock.json"
    in_loop(lesson.run_all(".watched .gypsumkit-digits"))
    yield lesson
    in_loop(lesson.close())


@pytest.fixture
def started(lesson):
    """The clock, started by an earlier test or, where one is run by itself, now."""
    if not lesson.kept.exists() or not started_at(lesson):
        in_loop(start(lesson))
    return lesson


@pytest.fixture
def two_minutes_later(started):
    """The clock, two real minutes after its start; the tests that ask for it are run behind others (`conftest.py`)."""
    in_loop(started.page.wait_for_timeout(1000 * max(0.0, REAL_S - (time.time() - started_at(started)))))
    return started


async def start(lesson):
    """Start the clock from the keyboard."""
    await lesson.page.get_by_role("button", name="Start: powder meets water").focus()
    await lesson.page.keyboard.press("Enter")
    await lesson.page.wait_for_function("() => document.querySelector('.watched').innerText.includes('Now: Soak the powder')")


def on_disk(lesson):
    """What the file of the clock says."""
    return json.loads(lesson.kept.read_text("utf-8"))


def started_at(lesson):
    """The start instant that is on disk, s since 1970, UTC."""
    return on_disk(lesson)["started_at"]


def due(kept, reading):
    """When the clock on disk comes to a reading "03:20", s since 1970, UTC."""
    minutes, seconds = map(int, reading.split(":"))
    return kept["since_at"] + (60 * minutes + seconds - 60 * kept["since_min"]) / kept["speed"]


async def sampled(lesson, seconds):
    """Return what each animation frame showed for some time, and stop."""
    await lesson.page.evaluate(SAMPLER)
    await lesson.page.wait_for_timeout(1000 * seconds)
    return await lesson.page.evaluate("() => { window.sampling = false; return window.seen; }")


def errors_of(lesson, seen, least=2):
    """Return how late each change of the digits was against the start on disk, s, after checking each against 0.2 s and its frame."""
    kept, errors = on_disk(lesson), []
    for (before, earlier), (moment, reading) in zip(seen, seen[1:]):
        if reading == earlier or not reading or not earlier:
            continue
        late = moment - due(kept, reading)
        errors.append(late)
        assert -ALLOWED_S <= late <= ALLOWED_S + (moment - before), f"{reading} came {late:.3f} s late"
        assert reading > earlier, "no digit jumps back"
    longest = max(after - before for (before, _), (after, _) in zip(seen, seen[1:]))
    for moment, reading in seen:
        assert not reading or -ALLOWED_S <= moment - due(kept, reading) <= STEP_S[kept["speed"]] / kept["speed"] + ALLOWED_S + longest
    assert len(errors) >= least
    print(f"changes of the digits came {min(errors):+.3f} to {max(errors):+.3f} s late, over {len(errors)}")
    return errors


async def test_before_the_start_it_stands_at_zero_and_the_digits_are_large(lesson, screenshots):
    seen = await sampled(lesson, 0.4)
    assert {reading for _, reading in seen} == {"00:00"}
    heights = {}
    for width, height in ((1920, 1080), (1280, 720), (390, 844)):
        await lesson.page.set_viewport_size({"width": width, "height": height})
        await lesson.page.wait_for_timeout(300)
        # The box of an SVG text has room above and below; a digit of this font is 0.73 of its size high.
        heights[width] = await lesson.page.evaluate("""() => { const svg = document.querySelector('.watched .gypsumkit-clock-digits svg');
            return 0.73 * parseFloat(svg.getAttribute('font-size')) * svg.getScreenCTM().a; }""")
        content, room = await lesson.width_of_content()
        assert content <= room, f"nothing reaches beyond the page at {width}"
    print("digits high, px:", {width: round(height) for width, height in heights.items()})
    assert heights[1920] >= 96 and heights[1280] >= 96 and heights[390] >= 60
    await lesson.page.set_viewport_size({"width": 1920, "height": 1080})


async def test_started_from_the_keyboard_it_shows_the_true_time(lesson):
    await start(lesson)
    assert abs(time.time() - started_at(lesson)) < 3
    errors_of(lesson, await sampled(lesson, 4.5), least=3)


async def test_it_shows_the_true_time_while_the_kernel_sleeps_and_after_it_was_hidden(started):
    lesson = started
    busy = asyncio.create_task(lesson.in_kernel("import time; time.sleep(8)"))
    await lesson.page.wait_for_timeout(1200)
    errors_of(lesson, await sampled(lesson, 3.2), least=2)
    # As when another tab of Lab is looked at meanwhile.
    await lesson.page.evaluate("() => { document.querySelector('.watched').style.display = 'none'; }")
    await lesson.page.wait_for_timeout(1300)
    await lesson.page.evaluate("() => { document.querySelector('.watched').style.display = ''; }")
    errors_of(lesson, await sampled(lesson, 1.7), least=1)
    assert not busy.done(), "the kernel was busy all the while"
    await busy
    errors_of(lesson, await sampled(lesson, 1.5), least=1)


async def test_after_a_reload_of_the_page_it_shows_the_true_time(started):
    lesson = started
    await lesson.page.evaluate("() => window.jupyterapp.commands.execute('docmanager:save')")
    await lesson.page.wait_for_timeout(500)
    await lesson.page.reload()
    await lesson.page.wait_for_function(_KERNEL_IS_READY, timeout=90000)
    await lesson.page.wait_for_selector(".watched .gypsumkit-digits", timeout=60000)
    await lesson.page.wait_for_timeout(SET_RIGHT_MS)
    errors_of(lesson, await sampled(lesson, 2.5), least=2)


async def test_after_a_restart_of_the_kernel_it_shows_the_true_time_and_phase(started):
    lesson = started
    before = started_at(lesson)
    await lesson.page.evaluate("() => window.jupyterapp.shell.currentWidget.sessionContext.session.kernel.restart()")
    await lesson.page.wait_for_function(_KERNEL_IS_READY, timeout=90000)
    await lesson.page.evaluate("() => document.querySelectorAll('.watched').forEach(e => e.remove())")
    await lesson.run_all(".watched .gypsumkit-digits")
    assert started_at(lesson) == before
    assert await lesson.in_kernel("", "panel.errors") == []
    await lesson.page.wait_for_timeout(SET_RIGHT_MS)
    errors_of(lesson, await sampled(lesson, 2.5), least=2)


async def test_where_less_motion_is_asked_for_the_digits_still_change_and_the_bar_goes_in_steps(started):
    lesson = started
    await lesson.page.emulate_media(reduced_motion="reduce")
    try:
        errors_of(lesson, await sampled(lesson, 2.2), least=1)
        seen = await lesson.page.evaluate("() => ['smooth', 'stepped'].map(e => document.querySelector('.gypsumkit-clock-' + e).checkVisibility())")
        assert seen == [False, True]
    finally:
        await lesson.page.emulate_media(reduced_motion="no-preference")


async def test_over_two_real_minutes_it_does_not_drift_and_the_phase_follows(two_minutes_later, screenshots):
    lesson = two_minutes_later
    for width, height in ((1920, 1080), (1280, 720), (390, 844)):
        await lesson.page.set_viewport_size({"width": width, "height": height})
        await lesson.page.evaluate("() => document.querySelector('.watched').scrollIntoView({block: 'start'})")
        await lesson.page.wait_for_timeout(300)
        content, room = await lesson.width_of_content()
        assert content <= room
        if screenshots:
            await lesson.page.screenshot(path=screenshots / f"bench-clock-{width}.png")
    await lesson.page.set_viewport_size({"width": 1920, "height": 1080})
    errors_of(lesson, await sampled(lesson, 3.3), least=2)
    at = time.time() - started_at(lesson)
    said = await lesson.page.inner_text(".watched")
    assert at > REAL_S and "Now: Soak the powder" not in said
    assert f"Now: {phase_at(at - 1)}" in said or f"Now: {phase_at(at + 1)}" in said


def phase_at(seconds):
    """What is to be done so many seconds after powder met water, as the library plans it."""
    every = phases(Recipe("dental stone", POWDERS["dental stone"].recommended_ratio.value))
    return next((one for one in every if seconds / 60 < one.end_min), every[-1]).name


async def test_a_rehearsal_ten_times_as_fast_keeps_time_as_well(two_minutes_later):
    lesson = two_minutes_later
    await lesson.page.locator(".watched select").last.select_option(label="rehearsal, 10 times as fast")
    await lesson.page.wait_for_function("() => document.querySelector('.watched').innerText.includes('Rehearsal:')")
    assert on_disk(lesson)["speed"] == 10
    await lesson.page.wait_for_timeout(SET_RIGHT_MS)
    errors_of(lesson, await sampled(lesson, 3.3), least=2)


async def test_nothing_is_asked_of_any_other_computer_and_the_page_has_no_error(two_minutes_later, lab):
    lesson = two_minutes_later
    hosts = {address.split("/")[2] for address in lesson.requests if not address.startswith(("data:", "blob:"))}
    assert hosts == {lab.base.split("/")[2]}
    assert lesson.complaints == []
