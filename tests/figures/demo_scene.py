"""A scene as heavy as a real explorer, for the tests of drawing: three pictures of two panels each."""

import numpy as np

from gypsumkit.figures.scene import (Band, Line, Marker, Panel, Picture, Polygon, RightAxis, Rule, Scene, Span, Table,
                                     Text)

RATIOS = np.linspace(0.3, 0.8, 200)


def spread(ratio):
    """Return an invented curve that rises."""
    return 30 + 90 / (1 + np.exp(-(ratio - 0.55) * 18))


def pores(ratio):
    """Return an invented curve that rises slowly."""
    return 100 * (1 - 0.55 / (0.45 + ratio))


def strength(ratio):
    """Return an invented curve that falls."""
    return 40 * np.exp(-4 * (ratio - 0.3))


def _curve(name, law, ratio, y_label, y_range, right_axis=None):
    curve = law(RATIOS)
    return Panel(
        name, x_range=(0.3, 0.8), y_range=y_range, y_label=y_label, x_label="water/powder ratio (mL/g)", title="",
        right_axis=right_axis,
        backdrop=(Span(0.5, 0.55, label="pours", label_height="top"), Band(RATIOS, curve * 0.9, curve * 1.1),
                  Line(RATIOS, curve), Rule(x=0.186 * 2, label="theory", label_height="bottom")),
        moving=(Rule(x=ratio, dash="dotted", colour="black"), Marker(ratio, law(ratio)),
                Text(ratio, law(ratio), "%.1f" % law(ratio), anchor="auto", right=14, bold=True, size=17)))


def demo_scene(ratio, powder="plaster"):
    """Return the scene at one water/powder ratio; another powder changes what stands still."""
    diameter, share = spread(ratio), pores(ratio) / 100
    heap_x = np.linspace(-diameter / 2, diameter / 2, 40)
    heap_y = 30 * (35 / diameter) ** 0.8 * np.sqrt(np.maximum(0, 1 - (2 * heap_x / diameter) ** 2))
    ring = Panel("ring", x_range=(-65, 65), y_range=(-6, 56), title="Flow: ring test of " + powder, equal_aspect=True,
                 show_axes=False, backdrop=(Polygon([-64, 64, 64, -64], [-4, -4, 0, 0], hatch="rising"),),
                 moving=(Polygon(heap_x, heap_y, fill="pale blue", edge="blue"),
                         Polygon([-17.5, 17.5, 17.5, -17.5], [0, 0, 50, 50], fill=None, dash="dashed"),
                         Text(0, heap_y.max(), "%.0f mm" % diameter, height="bottom", up=4, bold=True)))
    vessel = Panel("vessel", x_range=(0, 10), y_range=(0, 1), title="Pores", show_axes=False,
                   backdrop=(Polygon([3, 7, 7, 3], [0, 0, 1, 1], fill=None, width=3),),
                   moving=(Polygon([3, 7, 7, 3], [0, 0, 1 - share, 1 - share], fill="white", hatch="crossed"),
                           Polygon([3, 7, 7, 3], [1 - share, 1 - share, 1, 1], fill="sky", hatch="dots"),
                           Text(7, 1 - share / 2, "pores %.0f %%" % (100 * share), anchor="start", right=8),
                           Text(7, (1 - share) / 2, "crystals", anchor="start", right=8)))
    bars = Panel("bars", x_range=(0, 45), y_range=(0, 1), title="Strength", show_axes=False,
                 moving=(Polygon([0, strength(ratio), strength(ratio), 0], [0.2, 0.2, 0.7, 0.7], fill="orange"),
                         Text(strength(ratio), 0.45, "%.0f MPa" % strength(ratio), anchor="auto", right=8)))
    pictures = (
        Picture("flow", (ring, _curve("spread", spread, ratio, "spread (mm)", (0, 130))),
                "Spread of {:.0f} mm at a ratio of {:.3f}.".format(diameter, ratio)),
        Picture("pores", (vessel, _curve("porosity", pores, ratio, "porosity (%)", (0, 70))),
                "Porosity of {:.0f} % at a ratio of {:.3f}.".format(100 * share, ratio)),
        Picture("strength", (bars, _curve("force", strength, ratio, "strength (MPa)", (0, 45),
                                          RightAxis("relative (%)", 100 / 40))),
                "Strength of {:.0f} MPa at a ratio of {:.3f}.".format(strength(ratio), ratio)))
    numbers = Table(("quantity", "now", "plausible"), (
        ("spread", "%.0f mm" % diameter, "%.0f to %.0f mm" % (0.9 * diameter, 1.1 * diameter)),
        ("porosity", "%.0f %%" % (100 * share), "%.0f to %.0f %%" % (90 * share, 110 * share)),
        ("strength", "%.0f MPa" % strength(ratio), "%.0f to %.0f MPa" % (0.9 * strength(ratio), 1.1 * strength(ratio)))))
    return Scene(pictures, " ".join(picture.words for picture in pictures), numbers)
