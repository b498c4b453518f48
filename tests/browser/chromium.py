"""The browser of the tests: whatever Chromium the machine has, without a window, with a closed network."""

import os
import shutil
from contextlib import asynccontextmanager

ARGUMENTS = ("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
             "--disable-component-update", "--disable-sync")


def find_chromium():
    """Return the path of a Chromium or Chrome, or None.

    Returns
    -------
    str or None
        ``GYPSUMKIT_BROWSER`` where it is set, else the first that is found.
    """
    named = os.environ.get("GYPSUMKIT_BROWSER")
    if named:
        return named
    for name in ("chromium", "chromium-browser", "google-chrome", "chrome"):
        if shutil.which(name):
            return shutil.which(name)
    return None


@asynccontextmanager
async def running_chromium(path):
    """Run the browser until the block ends.

    Parameters
    ----------
    path : str
        The program.

    Yields
    ------
    playwright.async_api.Browser
    """
    from playwright.async_api import async_playwright
    async with async_playwright() as playwright:
        browser = await playwright.chromium.launch(executable_path=path, headless=True, args=list(ARGUMENTS))
        try:
            yield browser
        finally:
            await browser.close()
