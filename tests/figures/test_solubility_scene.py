"""The picture of the solubilities: its markers lie on its curves, and the basis of counting is said."""

import numpy as np
import pytest

from gypsumkit.figures.scene import Line, Marker
from gypsumkit.figures.solubility_scene import COUNTED_AS, gap_percent, solubility_scene
from gypsumkit.problems import Problem


@pytest.mark.parametrize("counted_as", COUNTED_AS)
@pytest.mark.parametrize("temperature_c", [0, 23, 60, 99])
def test_markers_lie_on_the_curves(counted_as, temperature_c):
    scene = solubility_scene(temperature_c, counted_as)
    (panel,) = scene.pictures[0].panels
    curves = [mark for mark in panel.backdrop if isinstance(mark, Line)]
    markers = [mark for mark in panel.moving if isinstance(mark, Marker)]
    for curve, marker in zip(curves, markers):
        assert marker.y == pytest.approx(np.interp(marker.x, curve.x, curve.y), rel=1e-3)
    assert counted_as in scene.words


def test_the_same_amount_is_more_grams_when_more_is_counted():
    shown = [float(solubility_scene(25, counted_as).numbers.rows[1][1].split()[0]) for counted_as in list(COUNTED_AS)[:3]]
    assert shown == pytest.approx([0.207, 0.220, 0.261], abs=0.002)


def test_gap_is_measured_against_room_temperature():
    assert gap_percent(23.0) == pytest.approx(100.0)
    assert "nearly equal" in solubility_scene(95).words and "comes out as crystals" in solubility_scene(23).words


def test_unknown_ways_of_counting_and_temperatures_are_refused():
    with pytest.raises(Problem, match="did you mean 'millimoles'"):
        solubility_scene(23, "milimoles")
    with pytest.raises(Problem, match="0 to 99"):
        solubility_scene(120)
