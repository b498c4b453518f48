"""Why it sets: water holds more calcium sulfate beside the powder than beside the crystals."""

import numpy as np

from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Rule, Scene, Table, Text
from gypsumkit.powders import ROOM_C
from gypsumkit.problems import Problem, nearest
from gypsumkit.remembering import remembered
from gypsumkit.science import solubility
from gypsumkit.science.hydration import ANHYDROUS_G_MOL, GYPSUM_G_MOL, HEMIHYDRATE_G_MOL
from gypsumkit.showing import range_words, rounded

PICTURE_HEIGHT = 440

# How the dissolved amount can be counted: factor on mmol/kg, unit, top of the axis.
COUNTED_AS = {
    "calcium sulfate, CaSO₄": (ANHYDROUS_G_MOL / 1e4, "g per 100 g", 2.0),
    "powder, CaSO₄·½H₂O": (HEMIHYDRATE_G_MOL / 1e4, "g per 100 g", 2.0),
    "gypsum, CaSO₄·2H₂O": (GYPSUM_G_MOL / 1e4, "g per 100 g", 2.5),
    "millimoles": (1.0, "mmol per kg", 150.0),
}
USUAL = "calcium sulfate, CaSO₄"

LIMITS = ("Limits: pure water, and time enough to reach the balance; beside powder that time never comes, because crystals form first. "
          "For the crystals the sources agree within about 5 % from 20 to 40 °C. For the powder they differ by a factor of two: that is "
          "the grey band. Where exactly the curves meet, near 100 °C, the sources disagree as well. The gap alone does not tell how fast "
          "it sets: in warm water everything also moves faster. For teaching only.")


def solubility_scene(temperature_c, counted_as=USUAL):
    """Describe the two solubilities against temperature and the gap between them.

    Parameters
    ----------
    temperature_c : float
        °C, 0 to 99.
    counted_as : str
        A key of `COUNTED_AS`.

    Returns
    -------
    gypsumkit.figures.scene.Scene

    Raises
    ------
    Problem
        When the temperature is out of range or the way of counting unknown.
    """
    if counted_as not in COUNTED_AS:
        guess = nearest(counted_as, COUNTED_AS)
        raise Problem(f"'{counted_as}' is no way of counting here; " + (f"did you mean '{guess}'?" if guess else f"choose {', '.join(COUNTED_AS)}."))
    factor, unit, _ = COUNTED_AS[counted_as]
    powder = float(factor * solubility.hemihydrate_solubility_mmol_kg(temperature_c))
    crystals = float(factor * solubility.gypsum_solubility_mmol_kg(temperature_c))
    words = _words(temperature_c, counted_as, powder, crystals)
    return Scene((_curves_picture(temperature_c, counted_as, powder, crystals), _gap_picture(temperature_c)), words,
                 _numbers(temperature_c, unit, powder, crystals))


def gap_percent(temperature_c):
    """Return the gap between the solubilities, % of the gap at 23 °C.

    Parameters
    ----------
    temperature_c : float or array
        °C, 0 to 99.

    Returns
    -------
    float or array
    """
    return 100.0 * solubility.solubility_gap_mmol_kg(temperature_c) / float(solubility.solubility_gap_mmol_kg(ROOM_C))


def _words(temperature_c, counted_as, powder, crystals):
    unit = "g" if counted_as != "millimoles" else "mmol"
    water = "100 g of water hold" if unit == "g" else "1 kg of water holds"
    ending = ("The two are nearly equal: hardly anything drives the setting." if powder < 1.35 * crystals else
              f"The difference, {rounded(powder - crystals, 2)} {unit}, cannot stay dissolved: it comes out as crystals, and more powder dissolves.")
    return (f"At {temperature_c:g} °C {water} {rounded(powder, 3)} {unit} beside powder, but only {rounded(crystals, 3)} {unit} beside crystals, "
            f"counted as {counted_as}. {ending} The gap is {rounded(gap_percent(temperature_c), 2)} % of the gap at {ROOM_C:g} °C.")


def _numbers(temperature_c, unit, powder, crystals):
    def row(words, value, factors):
        return words, f"{rounded(value, 3)} {unit}", range_words(value * factors[0], value * factors[1])
    low = powder * solubility.HEMIHYDRATE_RANGE[0] - crystals * solubility.GYPSUM_RANGE[1]
    high = powder * solubility.HEMIHYDRATE_RANGE[1] - crystals * solubility.GYPSUM_RANGE[0]
    gap = powder - crystals
    times = powder / crystals
    return Table(("", "now", "plausible range"), (
        row("water holds, beside powder", powder, solubility.HEMIHYDRATE_RANGE),
        row("water holds, beside crystals", crystals, solubility.GYPSUM_RANGE),
        ("gap", f"{rounded(gap, 2)} {unit}", range_words(low, high)),
        ("beside powder it holds", f"{rounded(times, 2)} times as much",
         f"{rounded(times * solubility.HEMIHYDRATE_RANGE[0] / solubility.GYPSUM_RANGE[1])} to "
         f"{rounded(times * solubility.HEMIHYDRATE_RANGE[1] / solubility.GYPSUM_RANGE[0])}"),
    ), f"Dissolved in water at {temperature_c:g} °C")


@remembered(8)
def _curves_backdrop(counted_as):
    factor, _, top = COUNTED_AS[counted_as]
    t = np.linspace(solubility.COLDEST_C, solubility.WARMEST_C, 100)
    powder = factor * solubility.hemihydrate_solubility_mmol_kg(t)
    crystals = factor * solubility.gypsum_solubility_mmol_kg(t)
    return (Band(t, solubility.HEMIHYDRATE_RANGE[0] * powder, solubility.HEMIHYDRATE_RANGE[1] * powder, colour="pale grey", edge="dark grey"),
            Band(t, solubility.GYPSUM_RANGE[0] * crystals, solubility.GYPSUM_RANGE[1] * crystals, colour="pale orange", edge="green"),
            Line(t, powder, colour="black"), Line(t, crystals, colour="green", dash="dashed"),
            Text(46, 0.68 * top, "beside powder", anchor="start"), Text(46, 0.615 * top, "grey: the sources differ", anchor="start", size=14.5),
            Text(3, 0.05 * top, "beside crystals", anchor="start"))


def _curves_picture(temperature_c, counted_as, powder, crystals):
    _, unit, top = COUNTED_AS[counted_as]
    anchor, right = ("end", -8) if temperature_c > 60 else ("start", 8)
    moving = (Rule(x=temperature_c, width=1.5), Line([temperature_c] * 2, [crystals, powder], colour="vermillion", width=6),
              Marker(temperature_c, powder), Marker(temperature_c, crystals, shape="square"),
              Text(temperature_c, 0.94 * top, f"{temperature_c:g} °C", anchor=anchor, right=right, bold=True, size=18),
              Text(temperature_c, 0.86 * top, f"gap {rounded(powder - crystals, 2)}", anchor=anchor, right=right, bold=True, size=18))
    panel = Panel("solubility", (0.0, 100.0), (0.0, top), title="What water holds", x_label="temperature (°C)",
                  y_label=f"dissolved ({unit} of water)", backdrop=_curves_backdrop(counted_as), moving=moving)
    return Picture("solubility", (panel,), height=PICTURE_HEIGHT, words=(
        f"What water holds against temperature, {unit} of water. At {temperature_c:g} °C {rounded(powder, 3)} beside powder and "
        f"{rounded(crystals, 3)} beside crystals. The curve of the powder falls steeply, that of the crystals is almost level; they meet near 100 °C."))


@remembered(1)
def _gap_backdrop():
    t = np.linspace(solubility.COLDEST_C, solubility.WARMEST_C, 100)
    return (Rule(y=100.0, label=f"at {ROOM_C:g} °C"), Line(t, gap_percent(t)))


def _gap_picture(temperature_c):
    gap = float(gap_percent(temperature_c))
    moving = (Rule(x=temperature_c, width=1.5), Marker(temperature_c, gap),
              Text(temperature_c, gap, f"{rounded(gap, 2)} %", anchor="auto", right=14, up=16, bold=True, size=18))
    panel = Panel("gap", (0.0, 100.0), (0.0, 180.0), title="What drives the setting", x_label="temperature (°C)",
                  y_label=f"gap (% of that at {ROOM_C:g} °C)", backdrop=_gap_backdrop(), moving=moving)
    return Picture("gap", (panel,), height=PICTURE_HEIGHT, words=(
        f"The gap against temperature. At {temperature_c:g} °C it is {rounded(gap, 2)} % of the gap at {ROOM_C:g} °C. It falls all the way and is "
        "nearly nothing near 100 °C."))
