"""The browser of the tests: whatever Chromium the machine has, without a window, with a closed network."""

from contextlib import asynccontextmanager

ARGUMENTS = ("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
             "--disable-component-update", "--disable-sync")


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
