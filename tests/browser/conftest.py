"""Browser tests are coroutines that share one browser and one JupyterLab; without a browser they are not run."""

import inspect
import os
from pathlib import Path

import pytest

from gypsumkit.launch.browser import find_chromium
from tests.browser.chromium import running_chromium
from tests.browser.lab import running_lab
from tests.browser.lesson_page import open_for_many
from tests.browser.loop import in_loop

MEANWHILE = ("test_desk_panel.py", "test_judging_panels.py", "test_plan_panel.py")


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items):
    """Put the tests that wait for two real minutes of the bench clock behind those of the panels, which run meanwhile."""
    late = [item for item in items if "two_minutes_later" in getattr(item, "fixturenames", ())]
    if late:
        meanwhile = [item for item in items if item.path.name in MEANWHILE]
        others = [item for item in items if item not in late + meanwhile]
        place = max((place for place, item in enumerate(others, 1) if item.path == late[0].path), default=0)
        items[:] = others[:place] + meanwhile + late + others[place:]


@pytest.hookimpl(tryfirst=True)
def pytest_pyfunc_call(pyfuncitem):
    """Run a test that is a coroutine on the loop of the browser."""
    if inspect.iscoroutinefunction(pyfuncitem.obj):
        names = inspect.signature(pyfuncitem.obj).parameters
        in_loop(pyfuncitem.obj(**{name: pyfuncitem.funcargs[name] for name in names}))
        return True


@pytest.fixture(scope="session")
def browser():
    """The browser, or a skipped test where the machine has none (a failed one where CI is set)."""
    path = find_chromium()
    if path is None:
        if os.environ.get("CI"):
            pytest.fail("no browser found, and CI must have one")
        pytest.skip("no browser found")
    running = running_chromium(path)
    yield in_loop(running.__aenter__())
    in_loop(running.__aexit__(None, None, None))


@pytest.fixture(scope="session")
def lab(browser, tmp_path_factory):
    """JupyterLab as the course starts it, on folders of its own."""
    with running_lab(tmp_path_factory.mktemp("lab")) as server:
        yield server


@pytest.fixture(scope="session")
def one_of_many(browser, lab):
    """A page of Lab in which one notebook after another is opened, each with a kernel of its own."""
    lesson = in_loop(open_for_many(browser, lab))
    yield lesson
    in_loop(lesson.page.context.close())


@pytest.fixture(scope="session")
def screenshots():
    """The folder for screenshots that ``GYPSUMKIT_SCREENSHOTS`` names, or None: taking them takes time."""
    named = os.environ.get("GYPSUMKIT_SCREENSHOTS")
    if not named:
        return None
    Path(named).mkdir(parents=True, exist_ok=True)
    return Path(named)
