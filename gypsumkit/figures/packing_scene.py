"""Packed grains cut through, spread apart by the water that is left for flow, and where the mixing water goes."""

import numpy as np

from gypsumkit.figures.circles import circles
from gypsumkit.figures.scene import Panel, Picture, Polygon, Scene, Table, Text
from gypsumkit.remembering import remembered
from gypsumkit.studies.grains import GRAINS, packed_grains, water_shares
from gypsumkit.powders import POWDERS, ROOM_C, find_powder
from gypsumkit.science import packing
from gypsumkit.science.flow import powder_volume_fraction
from gypsumkit.science.water import water_density_g_cm3
from gypsumkit.showing import rounded

PICTURE_HEIGHT = 370         # of two pictures side by side: both fit on a laptop, below their controls
WINDOW = 0.62                # of the edge of the box
SEEN_HALF = 0.8              # half of what the panel shows from left to right, in windows
CUT = 0.5
THREE = ("model plaster", "dental stone", "improved stone")
SHARES = (("fills the void", "pale sky", "level"), ("held by the grains", "pale grey", "crossed"), ("makes it flow", "pale green", "rising"))

LIMITS = ("Limits: the grains are invented shapes, balls or balls grown together, chosen so that the packing comes near the value at which our "
          "flow law lets each powder jam; they are no microscope pictures. They do not turn and have no friction. The held water is "
          "our calibration. When water spreads the grains apart, the picture moves all of them by the same share. Each handful is another "
          "random packing. For teaching only.")


def packing_scene(powder, water_powder_ratio, seed=1):
    """Describe the grains of a powder in a given amount of water.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float
        mL per g.
    seed : int
        Which handful.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    kind = find_powder(powder)
    grains, shares = packed_grains(kind.name, seed), water_shares(kind.name, water_powder_ratio, seed)
    fraction = float(powder_volume_fraction(water_powder_ratio, kind.density_g_cm3.value, float(water_density_g_cm3(ROOM_C))))
    words = packing_words(kind, water_powder_ratio, grains, shares, fraction)
    return Scene((_grains_picture(kind, grains, shares, fraction, water_powder_ratio, seed), _water_picture(kind, water_powder_ratio, shares, seed)),
                 words, _numbers(kind, water_powder_ratio, seed))


def packing_words(kind, ratio, grains, shares, fraction):
    """Say in words how the grains lie and where the water goes.

    Parameters
    ----------
    kind : Powder
        The powder.
    ratio : float
        mL per g.
    grains : Packing
        Its packed grains.
    shares : WaterShares
        Where the water goes.
    fraction : float
        Volume share of powder in this mix.

    Returns
    -------
    str
    """
    said = (f"{kind.name[0].upper()}{kind.name[1:]}, {packing.SHAPES[GRAINS[kind.kind].kind].words}. Packed until they touch, the grains fill "
            f"{rounded(100 * grains.solid_fraction)} % of the room. Of {rounded(100 * ratio, 3)} mL of water per 100 g, "
            f"{rounded(100 * shares.void)} mL fill the void between touching grains, {rounded(100 * shares.held)} mL are held in and on the grains")
    if shares.flow < 0:
        return said + f"; {rounded(-100 * shares.flow)} mL are missing, part of the void stays dry, and nothing is left to make it flow."
    return said + (f", and {rounded(100 * shares.flow)} mL are left to spread the grains apart and make the mix flow. Powder is now "
                   f"{rounded(100 * fraction)} % of the volume.")


def _numbers(kind, ratio, seed):
    def row(name, at):
        shares = water_shares(name, at, seed)
        solid = packed_grains(name, seed).solid_fraction
        jams = packing.jamming_fraction(solid, shares.held, POWDERS[name].density_g_cm3.value, float(water_density_g_cm3(ROOM_C)))
        return (f"{name} at {rounded(100 * at, 3)}", rounded(100 * shares.void, 2), rounded(100 * shares.held, 2), rounded(100 * shares.flow, 2),
                f"{rounded(100 * solid, 3)} %", f"{rounded(100 * jams, 3)} %", f"{rounded(100 * POWDERS[name].jamming_fraction.value, 3)} %")
    rows = (row(kind.name, ratio), *(row(name, POWDERS[name].recommended_ratio.value) for name in THREE))
    return Table(("mL per 100 g", "fills the void", "held", "for flow", "solid, packed", "jams at: these grains", "jams at: our flow law"), rows,
                 "Where the water goes: this mix, and three powders at the recommended water")


# ---------------------------------------------------------------- the grains, cut through


WIDE = 0.4                   # further than any panel reaches
_UNDER = (Polygon([-WIDE, WINDOW + WIDE, WINDOW + WIDE, -WIDE], [-WIDE, -WIDE, 0, 0], fill="white", edge="black", width=2),)


@remembered(2)
def _pool(dry):
    return (Polygon([-WIDE, WINDOW + WIDE, WINDOW + WIDE, -WIDE], [0, 0, WINDOW + WIDE, WINDOW + WIDE], fill="white" if dry else "pale sky",
                    edge="black", width=2),)


def _spread(grains, shares, kind):
    """How many times further apart the grains lie than packed: the cube root of the volume over that of the packing."""
    density, water = kind.density_g_cm3.value, float(water_density_g_cm3(ROOM_C))
    packed_volume = 1.0 / density + shares.void / water
    return (1.0 + max(shares.flow, 0.0) / water / packed_volume) ** (1.0 / 3.0)


def spread_circles(grains, times, window=WINDOW, height=CUT):
    """Circles in which a level cut meets grains moved apart about the middle of the window.

    Parameters
    ----------
    grains : Packing
        Packed grains.
    times : float
        How many times further apart, 1 or more.
    window, height : float
        Edge of the square that is seen, and where the box is cut.

    Returns
    -------
    array of shape (circles, 4)
        x, y, radius, number of the grain.
    """
    middle = np.array([window / 2, window / 2, height])
    away = grains.centres[:, 0] - middle
    away -= np.round(away)
    offsets = grains.centres - grains.centres[:, :1]
    offsets -= np.round(offsets)
    number = np.repeat(np.arange(len(away)), grains.radii.shape[1])
    radii = grains.radii.ravel()
    x, y, z = (times * away[:, None, :] + offsets).reshape(-1, 3).T
    found = []
    cut = np.abs(z) < radii
    around = np.sqrt(radii[cut] ** 2 - z[cut] ** 2)
    for right in (-times, 0.0, times):
        for up in (-times, 0.0, times):
            across, along = x[cut] + right, y[cut] + up
            seen = (np.abs(across) - around < SEEN_HALF * window) & (np.abs(along) - around < window / 2)
            found.append(np.stack([across[seen] + window / 2, along[seen] + window / 2, around[seen], number[cut][seen]], axis=1))
    return np.concatenate(found)


def _grains_picture(kind, grains, shares, fraction, ratio, seed):
    found = spread_circles(grains, _spread(grains, shares, kind))
    found = found[found[:, 2] > 0.004]
    several = grains.radii.shape[1] > 1
    marks = circles(found[:, 0], found[:, 1], found[:, 2], "pale orange", width=1.5, grown_together=several, corners=18)
    now = "part of the void stays dry" if shares.flow < 0 else f"now: powder {rounded(100 * fraction)} % of the volume"
    panel = Panel("grains", (0.0, WINDOW), (-0.15, WINDOW), title="Grains, cut through", show_axes=False, equal_aspect=True,
                  backdrop=_pool(shares.flow < 0), moving=(*marks, *_UNDER, Text(WINDOW / 2, -0.045, f"touching: {rounded(100 * grains.solid_fraction)} % solid",
                                                                        bold=True, size=17), Text(WINDOW / 2, -0.11, now, bold=True, size=17)))
    return Picture("grains", (panel,), height=PICTURE_HEIGHT, words=f"{len({int(one) for one in found[:, 3]})} grains of {kind.name}, handful "
                   f"{seed}, cut through. Packed they fill {rounded(100 * grains.solid_fraction)} % of the room; {now}.")


# ---------------------------------------------------------------- where the water goes


def _column(place, shares):
    marks, bottom = [], 0.0
    amounts = [100 * shares.void, 100 * shares.held, 100 * shares.flow]
    if amounts[2] < 0:                      # the void is not full
        amounts[0], amounts[2] = max(amounts[0] + amounts[2], 0.0), 0.0
    for amount, (_, fill, hatch) in zip(amounts, SHARES):
        if amount > 0:
            marks.append(Polygon([place - 0.32, place + 0.32, place + 0.32, place - 0.32], [bottom, bottom, bottom + amount, bottom + amount],
                                 fill=fill, edge="black", hatch=hatch, width=1.5))
            if amount > 4.5:
                marks.append(Text(place, bottom + amount / 2, rounded(amount), bold=True))
            bottom += amount
    return marks


@remembered(64)
def _usual_columns(seed):
    marks = []
    for place, name in enumerate(THREE, 1):
        marks += _column(place + 0.5, water_shares(name, POWDERS[name].recommended_ratio.value, seed))
    return tuple(marks) + (
        Text(2.5, 57, "at the recommended water", size=14.5),
        Text(1.0, 94, "top: makes it flow", anchor="start"), Text(1.0, 88, "grey: held by the grains", anchor="start"),
        Text(1.0, 82, "bottom: fills the void", anchor="start"))


def _water_picture(kind, ratio, shares, seed):
    panel = Panel("water", (0.0, 4.0), (0.0, 100.0), title="Where the water goes", y_label="water (mL per 100 g)",
                  x_ticks=((0.5, "now"), (1.5, "plaster"), (2.5, "stone"), (3.5, "improved")), backdrop=_usual_columns(seed),
                  moving=tuple(_column(0.5, shares)))
    return Picture("water", (panel,), height=PICTURE_HEIGHT, words=f"Of {rounded(100 * ratio, 3)} mL per 100 g of {kind.name}: void {rounded(100 * shares.void)}, "
                   f"held {rounded(100 * shares.held)}, for flow {rounded(100 * shares.flow)} mL. Beside it, three powders at the recommended water.")
