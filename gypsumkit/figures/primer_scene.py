"""The graph that the primer reads: one curve of the library, with a grid to read it by."""

import numpy as np

from gypsumkit.figures.scene import Line, Panel, Picture, Scene, Table
from gypsumkit.quiz.primer import GRAPH_FROM_ML, GRAPH_POWDER, GRAPH_TO_ML, graph_mpa

TABLE_ML = (29, 32, 34, 38, 42)         # what is asked for is not told
LIMITS = "The curve is a best guess of the model, without its range. It is here to be read, and is no property of a product."


def primer_scene():
    """Describe the graph.

    Returns
    -------
    Scene
    """
    ratios = np.linspace(GRAPH_FROM_ML, GRAPH_TO_ML, 65)
    strengths = np.array([graph_mpa(ratio) for ratio in ratios])
    top = 10 * np.ceil(strengths.max() / 10)
    grid = [Line((x, x), (0, top), colour="dark grey", width=0.8, dash="dotted") for x in range(GRAPH_FROM_ML, GRAPH_TO_ML + 1, 2)]
    grid += [Line((GRAPH_FROM_ML, GRAPH_TO_ML), (y, y), colour="dark grey", width=0.8, dash="dotted") for y in np.arange(0, top + 1, 5)]
    panel = Panel("graph", (GRAPH_FROM_ML, GRAPH_TO_ML), (0, top), title=f"Wet strength of {GRAPH_POWDER}", x_label="water (mL per 100 g of powder)",
                  y_label="wet strength (MPa)", x_ticks=tuple((float(x), str(x)) for x in range(GRAPH_FROM_ML, GRAPH_TO_ML + 1, 2)), backdrop=tuple(grid), moving=(Line(ratios, strengths, colour="blue"),))
    words = (f"A curve that falls from left to right. Axis below: water in mL per 100 g, from {GRAPH_FROM_ML} to {GRAPH_TO_ML}. Axis at the left: wet strength in MPa, "
             f"from 0 to {top:.0f}. Some points: " + "; ".join(f"at {ratio} mL about {graph_mpa(ratio):.0f} MPa" for ratio in TABLE_ML) + ". " + LIMITS)
    table = Table(("Water (mL per 100 g)", "wet strength (MPa)"), tuple((str(ratio), f"{graph_mpa(ratio):.0f}") for ratio in TABLE_ML), "Some points of the curve")
    return Scene((Picture("The graph to read", (panel,), words, height=380),), words, table)
