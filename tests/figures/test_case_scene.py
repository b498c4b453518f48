"""The gauges of a case: zones and values lie where the judgement says, verdicts are told without colour, words name the reasons."""

import numpy as np
import pytest

from gypsumkit.bench.case_judging import ASPECTS, judge
from gypsumkit.bench.cases import CASES, Choice
from gypsumkit.figures.case_scene import SIGNS, case_scene
from gypsumkit.figures.scene import Line, Marker, Polygon, Text

DRIED = "use at 48 h, in moving air"
SHOWN = [(CASES["study model"], Choice("model plaster", 0.50)), (CASES["study model"], Choice("model plaster", 0.75)),
         (CASES["working model"], Choice("improved stone", 0.25)), (CASES["bridge dies"], Choice("dental stone", 0.30, "machine under vacuum", DRIED)),
         (CASES["bridge dies"], Choice("high-expansion stone", 0.15, "beaten by hand, 120 turns", "use at 30 min, separate at 20 min"))]


def panels(scene):
    return {panel.name: panel for picture in scene.pictures for panel in picture.panels}


def marks(panel, kind):
    return [mark for mark in panel.moving if isinstance(mark, kind)]


def check_of(judgement, words):
    return next(check for check in judgement.checks if check.words.startswith(words))


@pytest.mark.parametrize("case, choice", SHOWN)
@pytest.mark.parametrize("name, words", [("strength", "strength"), ("accuracy", "length"), ("cost", "cost")])
def test_the_value_stands_in_or_out_of_its_zone_as_the_verdict_says(case, choice, name, words):
    panel, check = panels(case_scene(case, choice))[name], check_of(judge(case, choice), words)
    (value,), zone = marks(panel, Marker), marks(panel, Polygon)[0]
    assert value.x == pytest.approx(min(check.value, panel.x_range[1])) and (value.shape, value.hollow) == SIGNS[check.verdict]
    assert zone.hatch and (check.verdict != "misses") == (zone.x.min() - 1e-9 <= value.x <= zone.x.max() + 1e-9)
    if check.high > check.low:
        across = [line for line in marks(panel, Line) if line.colour == "vermillion"]
        if check.low > panel.x_range[1]:
            assert not across and any("beyond" in text.string for text in marks(panel, Text))
            return
        across = across[0]
        assert (across.x.min(), across.x.max()) == pytest.approx((check.low, min(check.high, panel.x_range[1])))
    assert any(check.verdict in text.string for text in marks(panel, Text))


@pytest.mark.parametrize("case, choice", SHOWN)
def test_three_times_stand_each_on_its_own_row(case, choice):
    panel, judgement = panels(case_scene(case, choice))["time"], judge(case, choice)
    dots = marks(panel, Marker)
    wanted = [check_of(judgement, words) for words in ("it pours until", "final set", "used at")]
    assert [10 ** dot.x for dot in dots] == pytest.approx([max(check.value, 1.0) for check in wanted]) and len({dot.y for dot in dots}) == 3
    assert [dot.shape for dot in dots] == [SIGNS[check.verdict][0] for check in wanted]


@pytest.mark.parametrize("case, choice", SHOWN)
def test_words_and_table_say_every_verdict_and_why(case, choice):
    scene, judgement = case_scene(case, choice), judge(case, choice)
    assert case.story in scene.words and judgement.overall() in scene.words
    for check in judgement.checks:
        assert (check.verdict == "meets") or check.reason in scene.words
        assert (f"{check.aspect}: {check.words}", check.number(), check.wanted(), check.verdict) in scene.numbers.rows
    assert {row[0].split(":")[0] for row in scene.numbers.rows} == set(ASPECTS)


def test_pins_are_judged_for_the_same_case_and_told():
    case, (now, pin) = CASES["bridge dies"], (Choice("improved stone", 0.23), Choice("model plaster", 0.50))
    scene = case_scene(case, now, (pin,))
    assert "Pinned A: model plaster with 50 mL per 100 g" in scene.words and "accuracy misses" in scene.words
    assert len(scene.numbers.heads) == 5
    hollow = [mark for mark in marks(panels(scene)["strength"], Marker) if mark.colour == "purple"]
    assert [mark.x for mark in hollow] == [check_of(judge(case, pin), "strength").value]


def test_what_never_happens_has_no_mark_and_says_never():
    scene = case_scene(CASES["study model"], Choice("model plaster", 0.82))
    rows = {row[0]: row for row in scene.numbers.rows}
    never = [name for name, row in rows.items() if row[1] == "never"]
    dots = marks(panels(scene)["time"], Marker)
    assert len(dots) == 3 - sum(name.startswith("time") for name in never)
    assert all(np.isfinite(dot.x) for dot in dots)
