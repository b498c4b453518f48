"""The chain of sizes: a picture of steps from the tooth to the work, each with its range, and the room at the end against what is wanted."""

from gypsumkit.bench.accuracy_chain import FITS, MAY_FIT, TIGHT, WORKS, Sizes
from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.powders import POWDERS
from gypsumkit.showing import bracketed, rounded
from gypsumkit.units import say_number

PICTURE_HEIGHT = 480
SCALES_UM = (50, 75, 100, 150, 200, 300, 400, 600, 800, 1000, 1300, 1600, 2400, 3200, 6400)
HALF = 0.3
LEFT = 1.4                             # room for names at the left, in scales

LIMITS = ("Limits: all links but the stone are ranges from memory or from abstracts, not your products; replace them by your own. The change of an impression is that of free material. "
          "Held by a tray with adhesive it shrinks towards the tray, and the hollow of one tooth becomes wider: then the sign turns round. Sizes only, the same in all "
          "directions: warping, rough castings, late growth and a half-seated crown are left out. The range takes the links as independent. The wanted room is from memory or ours. "
          "For teaching only.")


def accuracy_scene(sizes):
    """Describe a chain of sizes.

    Parameters
    ----------
    sizes : gypsumkit.bench.accuracy_chain.Sizes
        The chain.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    return Scene((_steps_picture(sizes), _room_picture(sizes)), accuracy_words(sizes), _numbers(sizes))


def _um(value):
    return f"{'−' if round(value) < 0 else '+' if round(value) > 0 else ''}{abs(round(value)):.0f} µm"


def _percent(value):
    return f"{'−' if value < 0 else '+'}{say_number(abs(value))} %" if value else "0 %"


def _range(low, high):
    return f" ({'−' if round(low) < 0 else ''}{abs(round(low)):.0f} to {'−' if round(high) < 0 else ''}{abs(round(high)):.0f})" if high - low > 1e-9 else ""


def _verdict_words(sizes):
    work, verdict = WORKS[sizes.work], sizes.verdict()
    least, most = work.wanted_um
    wanted = f"Wanted: {work.wanted_words}, so {'−' if least < 0 else ''}{abs(least):g} to {most:g} µm in all."
    end = {FITS: "The whole range lies inside: it fits, as far as these numbers are true.", MAY_FIT: "The range lies partly outside: it may fit.",
           TIGHT: "The whole range lies below: it is too small."}.get(verdict, "The whole range lies above: it is too large.")
    return f"{wanted} {end}"


def accuracy_words(sizes):
    """Say a chain in words: its links, the room and its range, the verdict and the largest doubt.

    Parameters
    ----------
    sizes : Sizes
        The chain.

    Returns
    -------
    str
    """
    value, low, high = sizes.room_um()
    worst = sizes.worst_um()
    own = f" Your own values: {', '.join(name for name, _ in sizes.own)}, taken as exact." if sizes.own else ""
    shares = sizes.doubt_shares()
    most = max(shares, key=shares.get)
    doubt = f"The largest doubt is in one link, {most}: {rounded(100 * shares[most], 2)} % of the squared range." if shares[most] else "No link has a range."
    steps = ", ".join(f"{link.name} {_um(link.step_um)}" for link in sizes.links())
    return (f"{sizes.work[0].upper()}{sizes.work[1:]}, {sizes.length_mm:g} mm, impression of {sizes.impression}, die of {sizes.stone}.{own} Step by step: {steps}. "
            f"In the end the work differs from the tooth by {_um(value)}{_range(low, high)}; with every link at its worst end {_range(*worst).strip(' ()')} µm. "
            f"{_verdict_words(sizes)} {doubt}")


def _numbers(sizes):
    rows = [(link.name, f"{_percent(link.percent.value)}{bracketed(link.percent.low, link.percent.high).replace('-', '−')}", f"{_um(link.step_um)}{_range(link.low_um, link.high_um)}", link.percent.standing)
            for link in sizes.links()]
    value, low, high = sizes.room_um()
    rows.append(("in all", _percent(value / (10 * sizes.length_mm)), f"{_um(value)}{_range(low, high)}", "calculated"))
    return Table(("link", "change", "on your length", "standing"), tuple(rows), f"The links, on {sizes.length_mm:g} mm")


def _scale(reach):
    return next((scale for scale in SCALES_UM if scale >= 1.12 * reach), SCALES_UM[-1])


def _steps_picture(sizes):
    links, at, ends = sizes.links(), 0.0, [0.0]
    for link in links:
        ends += [at + link.low_um, at + link.high_um]
        at += link.step_um
    scale = _scale(max(abs(end) for end in ends))
    marks, at, count = [], 0.0, len(links)
    for place, link in enumerate(links):
        y, low, high = float(count - place), *sorted((at, at + link.step_um))
        grows = link.step_um >= 0
        marks += [Polygon([low, high, high, low], [y - HALF, y - HALF, y + HALF, y + HALF], fill="pale sky" if grows else "pale vermillion", edge="black",
                          hatch="" if grows else "rising", width=1.5),
                  Line([at + link.low_um, at + link.high_um], [y, y], colour="black", width=3),
                  *(Line([x, x], [y - 0.14, y + 0.14], colour="black", width=3) for x in (at + link.low_um, at + link.high_um)),
                  Text(-LEFT * scale, y, f"{link.name} {_um(link.step_um)}", anchor="start", right=4, bold=True)]
        at += link.step_um
        if place < count - 1:
            marks.append(Line([at, at], [y - HALF, y - 1 + HALF], colour="dark grey", width=1.5, dash="dotted"))
    panel = Panel("steps", (-LEFT * scale, float(scale)), (0.3, count + 0.8), title="From the tooth, step by step", x_label="longer than the tooth (µm)", y_ticks=(),
                  backdrop=(Rule(x=0.0, colour="black", dash="solid", width=1.5),), moving=tuple(marks))
    return Picture("steps", (panel,), height=PICTURE_HEIGHT, words="Steps from the tooth to the work: " + ", ".join(f"{link.name} {_um(link.step_um)}" for link in links)
                   + ". Plain bars grow, hatched ones shrink; black lines are the ranges.")


def _room_picture(sizes):
    """The room of all five powders in this chain, the chosen one marked, against what is wanted."""
    rows = [(stone, Sizes(sizes.impression, stone, sizes.work, sizes.length_mm, sizes.own)) for stone in POWDERS if stone != "impression plaster" or stone == sizes.stone]
    rooms = [(stone, *one.room_um()) for stone, one in rows]
    least, most = WORKS[sizes.work].wanted_um
    scale = _scale(max(abs(end) for _, value, low, high in rooms for end in (low, high, least, most)))
    count = len(rooms)
    marks = [Polygon([least, most, most, least], [0.3, 0.3, count + 0.9, count + 0.9], fill="pale green", edge="green", hatch="rising", width=1.5),
             Rule(x=0.0, colour="black", dash="solid", width=1.5)]
    for place, (stone, value, low, high) in enumerate(rooms):
        y, now = float(count - place), stone == sizes.stone
        colour = "vermillion" if now else "blue"
        marks += [Line([low, high], [y, y], colour=colour, width=4 if now else 3), *(Line([x, x], [y - 0.1, y + 0.1], colour=colour, width=3) for x in (low, high)),
                  Marker(value, y, "circle" if now else "square", colour, size=15 if now else 12),
                  Text(-LEFT * scale, y + 0.2, f"{stone} {_um(value)}", anchor="start", height="bottom", right=4, bold=now)]
    panel = Panel("room", (-LEFT * scale, float(scale)), (0.3, count + 0.9), title="In the end, by powder", x_label="longer than the tooth (µm)", y_ticks=(), moving=tuple(marks))
    value, low, high = sizes.room_um()
    return Picture("room", (panel,), height=PICTURE_HEIGHT, words=f"In the end, by powder; green and hatched is what is wanted. {sizes.stone[0].upper()}{sizes.stone[1:]}: "
                   f"{_um(value)}{_range(low, high)}, {sizes.verdict()}.")
