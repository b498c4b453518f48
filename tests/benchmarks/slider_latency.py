"""How long from a move of the slider to the new picture: our explorer against a label and against `interact`.

Run it from the clone's top folder:

    python tests/benchmarks/slider_latency.py [--long] [--explorer NAME ...]

Without a name it is the water explorer that is raced. Real key presses and a real pointer in headless
Chromium, on the course's own JupyterLab, with and without the course's server setting; the three
contenders take turns on one page, two rounds each, or four longer ones.
It ends with status 1 when a frame of the explorer was blank, its picture left the page without need or
the last picture was not that of the last slider value; with 77 when there is no browser. Times depend on the machine, so they are compared with each other only.
"""

import argparse
import asyncio
import random
import statistics
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # found from anywhere, installed or not

from gypsumkit.launch.browser import find_chromium
from gypsumkit.live.explorers import EXPLORERS
from tests.browser.chromium import running_chromium
from tests.browser.lab import running_lab
from tests.browser.lesson_page import Frames, open_lesson, write_notebook

CONTENDERS = {"label": ".widget-html", "explorer": ".gypsumkit-picture", "interact": ".widget-output"}
VERMILLION = (0xd5, 0x5e, 0x00)

DRAWING_LIMIT_S = 10
NOT_RUN = 77

CELLS = ("%matplotlib inline\n"
         "from gypsumkit.live.explorers import explorer_class\n"
         "from tests.benchmarks import contenders\n"
         "made = explorer_class({!r})()",
         "contenders.label(made)",
         "contenders.explorer(made)",
         "contenders.usual(made)")


class Amounts:
    """How much is measured."""

    def __init__(self, long):
        self.rounds = 4 if long else 2
        self.presses = {"label": 40, "explorer": 40, "interact": 15} if long else {
            "label": 12, "explorer": 12, "interact": 4}
        self.filmed = ("explorer", "interact") if long else ("explorer",)
        self.drag_s = 2.0 if long else 1.2
        self.film_s = 2.5 if long else 1.5


class Measured:
    """What was measured of one contender on one server."""

    def __init__(self):
        self.latencies, self.medians, self.rates, self.settles = [], [], [], []
        self.film = {"frames": 0, "blank": 0, "looked": 0, "bare": 0, "removed": 0}
        self.shift = 0.0
        self.page_follows = False      # the still page changes with the slider, and is replaced on purpose
        self.last_shown = True

    @property
    def median(self):
        """Median latency of all rounds, ms."""
        return statistics.median(self.latencies)

    @property
    def p95(self):
        """95th percentile of the latency of all rounds, ms."""
        return sorted(self.latencies)[int(0.95 * (len(self.latencies) - 1) + 0.5)]

    @property
    def rate(self):
        """Median of the rounds' pictures a second."""
        return statistics.median(self.rates)


async def measure_round(watched, lesson, name, amounts, measured):
    """Press keys, then drag; add what was seen."""
    await watched.come_into_view()
    await watched.ask("(state.clear(), 0)")
    await watched.settle(quiet_ms=150, least=0)
    latencies = []
    for number in range(amounts.presses[name] + 2):
        latency = await watched.press("ArrowRight" if number % 3 else "ArrowLeft")
        if latency is None:
            raise SystemExit("{}: the picture did not change within 8 s of a key press".format(name))
        if number >= 2:
            latencies.append(latency)
        await lesson.page.wait_for_timeout(random.uniform(0, 25))
    measured.latencies += latencies
    measured.medians.append(statistics.median(latencies))
    seen = await watched.drag(amounts.drag_s, look=False, finished=until_drawn(watched, lesson, name))
    measured.rates.append(seen["pictures_per_second"])
    measured.settles.append(seen["settle_ms"])
    await check_last(watched, lesson, name, measured)


def until_drawn(watched, lesson, name):
    """Return what waits until the kernel has drawn the slider's last value, for a limited time."""
    async def wait():
        give_up = time.monotonic() + DRAWING_LIMIT_S
        while time.monotonic() < give_up and not await last_is_drawn(watched, lesson, name):
            await asyncio.sleep(0.03)
    return wait


async def last_is_drawn(watched, lesson, name):
    """Tell whether the kernel's last drawn value is the one that the slider shows."""
    drawn = await lesson.in_kernel("", "float(contenders.LAST[{!r}])".format(name))
    return abs(await watched.slider_value() - drawn) < 1e-6


async def check_last(watched, lesson, name, measured):
    """See whether the picture is that of the slider's last value."""
    agrees = await last_is_drawn(watched, lesson, name)
    says = await watched.picture_says()
    if name == "explorer":
        anew = await lesson.in_kernel("", "contenders.words_anew(made)")
        agrees = agrees and all(sentence in says for sentence in anew)
    elif name == "label":
        agrees = agrees and "{:.3f}".format(await watched.slider_value()) in says
    measured.last_shown = measured.last_shown and agrees


async def film(watched, lesson, name, amounts, measured):
    """Drag once more while the browser's frames are kept, and count the blank ones."""
    marked = name == "explorer" and await lesson.in_kernel("", "contenders.marked_everywhere(made)")
    await watched.come_into_view()
    areas = await watched.areas()
    async with Frames(lesson.page) as frames:
        seen = await watched.drag(amounts.film_s, finished=until_drawn(watched, lesson, name))
    measured.film["frames"] += len(frames.images)
    measured.film["blank"] += frames.blank(areas, VERMILLION if marked else None)
    measured.film["looked"] += seen["frames"]
    measured.film["bare"] += seen["bare"]
    measured.film["removed"] += seen["removed"]
    measured.shift += seen["shifts"]
    await check_last(watched, lesson, name, measured)


async def measure_server(browser, folder, prompt, amounts, explorer):
    """Return what was measured of every contender on one server, for the explorer of that name."""
    results = {name: Measured() for name in CONTENDERS}
    with running_lab(folder, prompt=prompt) as server:
        write_notebook(server.lessons / "race.ipynb", CELLS[0].format(explorer), *CELLS[1:])
        lesson = await open_lesson(browser, server, "race.ipynb")
        await lesson.run_all(".contender-interact .noUi-handle")
        watched = {name: await lesson.watch(".contender-" + name, picture) for name, picture in CONTENDERS.items()}
        for _ in range(amounts.rounds):
            for name in CONTENDERS:
                await measure_round(watched[name], lesson, name, amounts, results[name])
        results["explorer"].page_follows = await lesson.in_kernel("", "contenders.page_follows_slider(made)")
        for name in amounts.filmed:
            await film(watched[name], lesson, name, amounts, results[name])
        await lesson.close()
    return results


def print_table(results, prompt):
    """Print what was measured on one server."""
    print("Server {} the setting that sends every message at once".format("with" if prompt else "without"))
    print("{:<10}{:>9}{:>8}  {:<20}{:>11}  {:<20}{:>10}{:>8}".format(
        "", "median ms", "p95 ms", "medians of rounds", "pictures/s", "of rounds", "settle ms", "last ok"))
    for name, measured in results.items():
        print("{:<10}{:>9.0f}{:>8.0f}  {:<20}{:>11.1f}  {:<20}{:>10.0f}{:>8}".format(
            name, measured.median, measured.p95, " ".join("%.0f" % median for median in measured.medians),
            measured.rate, " ".join("%.1f" % rate for rate in measured.rates), max(measured.settles),
            "yes" if measured.last_shown else "NO"))
    for name in (name for name in results if results[name].film["frames"]):
        seen = results[name].film
        print("{}: {frames} captured frames while dragging, {blank} blank; {looked} animation frames looked at in the "
              "page, {bare} without the picture; {removed} removals of a picture from the page{why}; layout shift {shift:.3f}"
              .format(name, shift=results[name].shift, why=" (its still page follows the slider: replaced on purpose)"
                      if results[name].page_follows else "", **seen))


def print_ratios(results):
    """Print each wanted ratio and whether it was met."""
    label, explorer, interact = (results[name] for name in ("label", "explorer", "interact"))
    for words, ratio, met in (
            ("interact's median over the explorer's, at least 5", interact.median / explorer.median,
             interact.median >= 5 * explorer.median),
            ("explorer's median over the label's, at most 1.5", explorer.median / label.median,
             explorer.median <= 1.5 * label.median),
            ("explorer's pictures a second over the label's, at least 0.7", explorer.rate / label.rate,
             explorer.rate >= 0.7 * label.rate)):
        print("  {:<62}{:>6.2f}  {}".format(words, ratio, "met" if met else "missed"))


def faults(results):
    """Return one sentence for each thing that must never happen with our explorer and did."""
    seen, found = results["explorer"].film, []
    if seen["blank"] or seen["bare"]:
        found.append("{} captured and {} animation frames lacked the picture".format(seen["blank"], seen["bare"]))
    if seen["removed"] and not results["explorer"].page_follows:
        found.append("a picture was removed from the page {} times".format(seen["removed"]))
    if seen["frames"] < 10:
        found.append("only {} frames were captured, too few to say anything".format(seen["frames"]))
    for name in ("label", "explorer"):
        if not results[name].last_shown:
            found.append("{}: the last picture was not that of the last slider value".format(name))
    return found


async def main(long, explorers):
    """Measure and print; return the exit status."""
    path = find_chromium()
    if path is None:
        print("slider_latency: not run, no browser found")
        return NOT_RUN
    amounts, found = Amounts(long), []
    async with running_chromium(path) as browser:
        with tempfile.TemporaryDirectory(prefix="gypsumkit-race-", ignore_cleanup_errors=True) as folder:
            for number, explorer in enumerate(explorers):
                for prompt in (True, False):
                    place = Path(folder) / "{} {}".format(number, "prompt" if prompt else "stock")
                    place.mkdir()
                    print("\nThe {} explorer".format(explorer), flush=True)
                    results = await measure_server(browser, place, prompt, amounts, explorer)
                    print_table(results, prompt)
                    print_ratios(results)
                    found += ["{} explorer, {}".format(explorer, fault) for fault in faults(results)]
    for sentence in found:
        print("FAULT: " + sentence)
    return 1 if found else 0


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--long", action="store_true", help="more rounds and key presses, longer drags")
    parser.add_argument("--explorer", nargs="+", default=["water"], choices=[name for name in EXPLORERS if name != "ring in motion"],
                        help="which explorers are raced, one after the other")
    chosen = parser.parse_args()
    sys.exit(asyncio.run(main(chosen.long, chosen.explorer)))
