"""A lesson on the screen, and the reader's hand and eye on it."""

import ast
import asyncio
import io
import time
from base64 import b64decode
from pathlib import Path

import nbformat
import numpy as np

PROBE = Path(__file__).with_name("probe.js").read_text(encoding="utf-8")

_KERNEL_IS_READY = """() => { const shown = window.jupyterapp && window.jupyterapp.shell.currentWidget;
    const kernel = shown && shown.sessionContext && shown.sessionContext.session && shown.sessionContext.session.kernel;
    return kernel && kernel.connectionStatus === 'connected' && kernel.status === 'idle'; }"""


def write_notebook(path, *cells):
    """Write a notebook of code cells.

    Parameters
    ----------
    path : pathlib.Path
        Where.
    cells : str
        One for each cell.
    """
    notebook = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(cell) for cell in cells],
        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}})
    path.write_text(nbformat.writes(notebook), encoding="utf-8")


class LessonPage:
    """One notebook open in JupyterLab; made by `open_lesson`."""

    def __init__(self, page, requests, complaints):
        self.page = page
        self.requests = requests
        self.complaints = complaints

    async def run_all(self, wait_for=".noUi-handle"):
        """Run every cell and wait until something is on the screen and the kernel is idle."""
        await self.page.evaluate("window.jupyterapp.commands.execute('notebook:run-all-cells')")
        error = "[data-mime-type='application/vnd.jupyter.error'], [data-mime-type='application/vnd.jupyter.stderr']"
        await self.page.wait_for_selector("{}, {}".format(wait_for, error), timeout=60000)
        if await self.page.locator(error).count():
            raise AssertionError("a cell failed: " + (await self.page.locator(error).first.inner_text())[-2000:])
        await self.page.wait_for_selector(wait_for, timeout=60000)
        await self.page.wait_for_function(_KERNEL_IS_READY, timeout=60000)
        await self.page.wait_for_timeout(500)

    async def in_kernel(self, code, value="None"):
        """Run code in the lesson's kernel and return the value of an expression of plain Python data."""
        reply = await self.page.evaluate("""async ([code, value]) => {
            const kernel = window.jupyterapp.shell.currentWidget.sessionContext.session.kernel;
            const future = kernel.requestExecute({code, user_expressions: {value}, store_history: false});
            return (await future.done).content; }""", [code, value])
        if reply["status"] != "ok":
            raise AssertionError("{}: {}".format(reply["ename"], reply["evalue"]))
        result = reply["user_expressions"]["value"]
        if result["status"] != "ok":
            raise AssertionError("{}: {}".format(result["ename"], result["evalue"]))
        return ast.literal_eval(result["data"]["text/plain"])

    async def watch(self, root, picture):
        """Watch one picture; `root` holds it and its slider (of class ``watched-slider``)."""
        await self.page.evaluate("([root, picture]) => { probe.of[root] = probe.watch(root, picture); }", [root, picture])
        return Watched(self.page, root)

    async def width_of_content(self):
        """Return how wide the notebook's content is, and how wide the room for it."""
        return await self.page.evaluate("""() => { const room = document.querySelector('.jp-WindowedPanel-outer') ||
            document.querySelector('.jp-Notebook'); return [room.scrollWidth, room.clientWidth]; }""")

    async def too_wide(self):
        """Return what reaches over the right edge of the screen; what scrolls within itself is not looked into."""
        return await self.page.evaluate("""() => {
            const rightOf = e => e.getBoundingClientRect().right;
            const scrolls = e => { for (let p = e.parentElement; p && !p.matches('.jp-WindowedPanel-outer'); p = p.parentElement)
                if (['auto', 'scroll'].includes(getComputedStyle(p).overflowX) && rightOf(p) <= innerWidth + 1) return true;
                return false; };
            return [...document.querySelectorAll('.jp-RenderedHTMLCommon *, .jp-OutputArea-output .jupyter-widgets, ' +
                                                 '.jp-OutputArea-output .jupyter-widgets *')]
                .filter(e => !e.closest('svg') || e.matches('svg[role=img]'))
                .filter(e => { const r = e.getBoundingClientRect(); return r.width > 1 && r.height > 1; })
                .filter(e => rightOf(e) > innerWidth + 1 && !scrolls(e))
                .map(e => Math.round(rightOf(e)) + ' px: ' + e.tagName + ' ' + e.className + ' ' + (e.innerText || '').slice(0, 60)); }""")

    async def close(self):
        """Close the page and end its kernel."""
        try:
            await self.page.evaluate("window.jupyterapp.shell.currentWidget.sessionContext.shutdown()")
        finally:
            await self.page.context.close()


class OneOfMany(LessonPage):
    """One notebook after another in the same Lab, as a reader goes on to the next lesson; loading Lab anew takes most of the time.

    Its requests and complaints are those since it was opened.
    """

    async def open(self, name, width, height=1000):
        """Open a notebook and wait until its kernel is ready; return this page."""
        await self.page.set_viewport_size({"width": width, "height": height})
        self.requests.clear()
        self.complaints.clear()
        await self.page.evaluate("async name => { await window.jupyterapp.commands.execute('docmanager:open', {path: name}); }", name)
        await self.page.wait_for_function("name => window.jupyterapp.shell.currentWidget.context?.path === name", arg=name, timeout=60000)
        await self.page.wait_for_function(_KERNEL_IS_READY, timeout=90000)
        await self.page.wait_for_timeout(300)
        return self

    async def close(self):
        """Close the notebook without a question and end its kernel; the page stays for the next."""
        await self.page.evaluate("""async () => { const shown = window.jupyterapp.shell.currentWidget;
            try { await shown.sessionContext.shutdown(); } finally { shown.dispose(); } }""")


class Watched:
    """One picture of the page with its slider, under watch."""

    def __init__(self, page, root):
        self.page = page
        self.root = root

    async def ask(self, expression):
        """Return the value of a JavaScript expression in which `state` is the watch."""
        return await self.page.evaluate("root => { const state = probe.of[root]; return %s; }" % expression, self.root)

    async def settle(self, quiet_ms=80, limit_ms=8000, least=1):
        """Wait until at least so many changes were shown and then none for a while."""
        return await self.ask("state.settled({}, {}, {})".format(quiet_ms, limit_ms, least))

    async def come_into_view(self):
        """Scroll to it and give its slider the focus."""
        await self.ask("(state.root.scrollIntoView({block: 'start'}), state.handle.focus({preventScroll: true}), 0)")
        await self.page.wait_for_timeout(150)

    async def slider_value(self):
        """Return the value that the slider on the screen has."""
        return await self.ask("+state.handle.getAttribute('aria-valuetext')")

    async def picture_says(self):
        """Return all that the picture says: its texts and the words for those who cannot see it."""
        return await self.ask("state.picture().innerText + ' ' + [...state.picture().querySelectorAll('[aria-label]')]"
                              ".map(e => e.getAttribute('aria-label')).join(' ')")

    async def areas(self):
        """Return the left, top, right and bottom of each picture on the screen, pixels."""
        return await self.ask("state.images().filter(e => !(e.tagName === 'IMG' && state.root.querySelector('svg[role=img]')))"
                              ".map(e => { const r = e.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom]; })")

    async def press(self, key):
        """Press a key on the slider; return the milliseconds until the changed picture was shown, or None."""
        await self.ask("(state.clear(), state.handle.focus({preventScroll: true}), 0)")
        await self.page.keyboard.press(key)
        await self.settle(quiet_ms=50)
        keys, shown = await self.ask("[state.keys, state.shown]")
        return shown[-1] - keys[0] if keys and shown else None

    async def hold(self, look):
        """Take hold of the slider's handle; return where it is and where the slider lies, in pixels."""
        x, y, left, width = await self.ask(
            "(() => { const h = state.handle.getBoundingClientRect(), s = state.handle.closest('.noUi-target')"
            ".getBoundingClientRect(); return [h.x + h.width / 2, h.y + h.height / 2, s.x, s.width]; })()")
        await self.page.mouse.move(x, y)
        await self.page.mouse.down()
        await self.page.wait_for_timeout(120)
        await self.ask("(state.clear(), state.look({}), 0)".format("true" if look else "false"))
        return x, y, left, width

    async def drag(self, seconds, moves_per_second=60, sweep_s=1.2, look=True, finished=None):
        """Drag the slider to and fro with a real pointer and let go; return what was seen.

        Parameters
        ----------
        seconds : float
            How long.
        moves_per_second : float
            How many pointer positions are sent, whether or not the page keeps up.
        sweep_s : float
            Time for the way from one side to the other.
        look : bool
            Look at the picture in every animation frame, which takes the page some time.
        finished : coroutine function or None
            Awaited after letting go, until the kernel has drawn the last value.

        Returns
        -------
        dict
            Pictures a second, the time from letting go to the last picture (ms), and what the frames held.
        """
        x, y, left, width = await self.hold(look)
        low, high = left + 0.1 * width, left + 0.9 * width
        hand = await self.page.context.new_cdp_session(self.page)
        sent, begun = [], time.perf_counter()
        offset = (x - low) / (high - low)
        while time.perf_counter() - begun < seconds:
            phase = (offset + (time.perf_counter() - begun) / sweep_s) % 2
            x = low + (high - low) * (phase if phase <= 1 else 2 - phase)
            sent.append(asyncio.create_task(hand.send("Input.dispatchMouseEvent", {
                "type": "mouseMoved", "x": x, "y": y, "button": "left", "buttons": 1})))
            await asyncio.sleep(max(0, begun + len(sent) / moves_per_second - time.perf_counter()))
        await asyncio.gather(*sent)
        await hand.send("Input.dispatchMouseEvent", {"type": "mouseReleased", "x": x, "y": y, "button": "left",
                                                     "buttons": 0, "clickCount": 1})
        if finished is not None:
            await finished()
        await self.settle(quiet_ms=250, least=1)
        seen = await self.ask("({start: state.start, shown: state.shown, values: state.values, released: state.released, "
                              "removed: state.removed, frames: state.frames, bare: state.bare, shifts: state.shifts, "
                              "lowest: Math.min(...state.heights), highest: Math.max(...state.heights)})")
        await self.ask("(state.look(false), 0)")
        await hand.detach()
        released = seen.pop("released")
        first = seen["values"][0][0] if seen["values"] else seen["start"]
        seen["slider_values"] = len(seen.pop("values"))
        shown = seen.pop("shown")
        seen["pictures_per_second"] = sum(first <= moment <= released for moment in shown) / ((released - first) / 1000)
        seen["settle_ms"] = max(0, max(shown, default=released) - released)
        return seen


class Frames:
    """The frames that the browser's compositor put out while something was done."""

    def __init__(self, page):
        self.page = page
        self.images = []

    async def __aenter__(self):
        self.session = await self.page.context.new_cdp_session(self.page)
        self.session.on("Page.screencastFrame", self._keep)
        await self.session.send("Page.startScreencast", {"format": "jpeg", "quality": 85, "everyNthFrame": 1})
        await self.page.wait_for_timeout(150)
        return self

    async def __aexit__(self, *_):
        await self.session.send("Page.stopScreencast")
        await self.session.detach()

    def _keep(self, event):
        self.images.append(b64decode(event["data"]))
        asyncio.ensure_future(self._confirm(event["sessionId"]))

    async def _confirm(self, number):
        try:
            await self.session.send("Page.screencastFrameAck", {"sessionId": number})
        except Exception:  # the screencast may have been ended meanwhile
            pass

    def blank(self, areas, colour=None):
        """Return how many frames miss a picture, or the marker in it.

        Parameters
        ----------
        areas : sequence of (float, float, float, float)
            Left, top, right, bottom of each picture on the screen.
        colour : (int, int, int) or None
            The colour of the marker in each of these areas, red, green, blue from 0 to 255.

        Returns
        -------
        int
            A frame is blank when in any area the dark pixels fall below 35 % of what a full frame has (the 95th
            percentile of all frames), or none of the marker's colour is left.
        """
        from matplotlib.image import imread
        scale = None
        ink, marked = [], []
        for image in self.images:
            frame = imread(io.BytesIO(image), format="jpeg")
            scale = scale or frame.shape[1] / self.page.viewport_size["width"]
            cuts = [frame[int(top):int(bottom):2, int(left):int(right):2]
                    for left, top, right, bottom in np.asarray(areas) * scale]
            ink.append([(cut.max(axis=2) < 140).mean() for cut in cuts])
            if colour is not None:
                low, high = np.clip(np.array(colour) - 45, 0, 255), np.clip(np.array(colour) + 45, 0, 255)
                marked.append([((cut >= low) & (cut <= high)).all(axis=2).sum() >= 4 for cut in cuts])
        ink = np.array(ink)
        blank = (ink < 0.35 * np.percentile(ink, 95, axis=0)).any(axis=1)
        if colour is not None:
            blank |= ~np.all(marked, axis=1)
        return int(blank.sum())


async def open_lesson(browser, server, name, width=1600, height=1000):
    """Open a notebook in the Lab of a server.

    Parameters
    ----------
    browser : playwright.async_api.Browser
        The browser; the page gets a profile of its own.
    server : Server
        The running Lab.
    name : str
        The notebook's file name.
    width, height : int
        Of the screen, pixels.

    Returns
    -------
    LessonPage
        With its kernel ready; nothing has been run yet.
    """
    page, requests, complaints = await _open_lab(browser, server.address(name), width, height)
    await page.wait_for_function(_KERNEL_IS_READY, timeout=90000)
    await page.evaluate("window.jupyterapp.shell.collapseLeft()")
    await page.wait_for_timeout(300)
    return LessonPage(page, requests, complaints)


async def open_for_many(browser, server):
    """Open a Lab in which one notebook after another is looked at.

    Parameters
    ----------
    browser : playwright.async_api.Browser
        The browser; the page gets a profile of its own.
    server : Server
        The running Lab.

    Returns
    -------
    OneOfMany
        With no notebook open yet.
    """
    page, requests, complaints = await _open_lab(browser, server.address(), 1280, 1000)
    await page.wait_for_function("() => window.jupyterapp && window.jupyterapp.shell.currentWidget", timeout=90000)
    await page.evaluate("window.jupyterapp.shell.collapseLeft()")
    return OneOfMany(page, requests, complaints)


async def _open_lab(browser, address, width, height):
    """Return a page with a Lab on its way, and the lists that its requests and complaints go into."""
    context = await browser.new_context(viewport={"width": width, "height": height})
    await context.add_init_script(PROBE)
    page = await context.new_page()
    requests, complaints = [], []
    page.on("request", lambda request: requests.append(request.url))
    page.on("websocket", lambda socket: requests.append(socket.url))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    await page.goto(address)
    return page, requests, complaints
