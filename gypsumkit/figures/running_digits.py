"""Minutes and seconds that the page counts by itself, up or down, in true time, without a word from Python while they run.

Each place of the reading (tens of seconds, minutes …) is a stack of digits of which an SVG clock shows one at a time. The clock of
an SVG goes on while Python is busy, while the page is hidden and where little motion is wanted: digits change, nothing moves.
"""

import math

LONGEST_S = 999 * 60 + 59
WIDTHS = {"hundreds": 100 * 60, "tens": 10 * 60, "minutes": 60, "tens of seconds": 10, "seconds": 1}
STATES = {"tens of seconds": 6}
CELL, COLON, HEIGHT, FONT_SIZE = 71, 34, 90, 100                 # units of the drawing; a digit is about 73 high
# The seconds are shown in steps, so that nothing changes more than three times a second (WCAG 2.2, 2.3.1) at any speed of rehearsal.
STEP_S = {1: 1, 2: 1, 5: 5, 10: 10, 30: 10}
HUNDREDS_FROM_S = 30 * 60                # long before they are needed, so that they appear by themselves
# Something without size that moves all the time. Chromium stops the clock of an SVG for good when the page was hidden (another tab
# of Lab, a folded output) while nothing in it moved; with this it goes on, and is right when it is shown again.
HEARTBEAT = '<rect width="0" height="0"><animate attributeName="y" values="0;1" dur="1s" repeatCount="indefinite"/></rect>'


def reading(seconds, step_s=1, down=False):
    """Return the minutes and seconds that are shown, "03:20".

    Parameters
    ----------
    seconds : float
        Since the start, or still to go; s, 0 or more.
    step_s : int
        The steps it goes in, s.
    down : bool
        It counts down, and is 0 only when nothing is left.

    Returns
    -------
    str
    """
    steps = math.ceil(seconds / step_s) if down else math.floor(seconds / step_s)
    minutes, rest = divmod(min(max(steps, 0) * step_s, LONGEST_S), 60)
    return f"{minutes:02d}:{rest:02d}"


def running_digits_svg(seconds, speed=1, running=True, down=False):
    """Return a reading as SVG text that goes on by itself.

    Parameters
    ----------
    seconds : float
        What is read when the page takes it in: since the start, or still to go; s.
    speed : int
        Seconds of the reading for each second, a key of `STEP_S`.
    running : bool
        Whether it goes on.
    down : bool
        It counts down, and stands at 0.

    Returns
    -------
    str
        One ``<svg>`` element; hidden from screen readers, to whom a changing reading says nothing.
    """
    step = STEP_S[speed]
    seconds = min(max(seconds, 0.0), LONGEST_S)
    width = 4 * CELL + COLON
    places = ["tens", "minutes", "tens of seconds", "seconds"]
    if seconds >= HUNDREDS_FROM_S:
        places.insert(0, "hundreds")
    wide = seconds >= WIDTHS["hundreds"]
    left = -CELL if "hundreds" in places else 0
    begins, parts = (left if wide else 0), []
    for place in places:
        if place == "tens of seconds":
            parts.append(f'<text x="{left + COLON / 2}" y="{HEIGHT - 9}">:</text>')
            left += COLON
        parts.append(_place_svg(place, left + CELL / 2, seconds, speed, step, running, down))
        left += CELL
    return (f'<svg xmlns="http://www.w3.org/2000/svg" class="gypsumkit-digits" aria-hidden="true" viewBox="{begins} 0 {width - begins} {HEIGHT}" '
            f'overflow="visible" font-size="{FONT_SIZE}" font-weight="bold" text-anchor="middle" fill="currentColor">'
            f'{"".join(parts)}{HEARTBEAT if running else ""}</svg>')


def _place_svg(place, x, seconds, speed, step, running, down):
    """One place of the reading: a stack of digits, one of them seen."""
    width, count = max(WIDTHS[place], step if place == "seconds" else 1), STATES.get(place, 10)
    if place == "seconds":
        count = max(10 // step, 1)
    period = width * count
    # Counting down, a digit is left when what remains is gone to the last bit: the reading is rounded up, the stack turned round.
    along = (-(seconds + step)) % period if down else seconds % period
    now = int(along // width) % count
    order = range(count - 1, -1, -1) if down else range(count)
    parts = []
    for position, digit in enumerate(order):
        shown = digit * (step if place == "seconds" else 1) % 10
        text = "" if place == "hundreds" and shown == 0 else str(shown)
        clock = ""
        if running and count > 1:
            clock = _seen(position, count, period / speed, along / speed, (seconds + step / 2) / speed if down else None)
        parts.append(f'<text class="gypsumkit-{place.replace(" ", "-")}" x="{x:g}" y="{HEIGHT - 9}" '
                     f'visibility="{"visible" if position == now else "hidden"}">{text}{clock}</text>')
    return "".join(parts)


def _seen(position, count, period_s, along_s, end_s):
    """The clock of one digit: seen for one part of each period, which began `along_s` ago."""
    times, values = [0.0], ["visible" if position == 0 else "hidden"]
    if position:
        times, values = [*times, position / count], [*values, "visible"]
    if position < count - 1:
        times, values = [*times, (position + 1) / count], [*values, "hidden"]
    end = "" if end_s is None else f' end="{end_s:.3f}s"'
    return (f'<animate attributeName="visibility" calcMode="discrete" begin="{-along_s:.3f}s" dur="{period_s:.9f}s" repeatCount="indefinite"{end} '
            f'fill="freeze" keyTimes="{";".join(f"{t:.7g}" for t in times)}" values="{";".join(values)}"/>')
