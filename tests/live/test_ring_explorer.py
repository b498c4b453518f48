"""The ring explorer: every control, typed nonsense, a prediction, and errors that reach the screen."""

import pytest

from gypsumkit.figures.ring_scene import RINGS
from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.explorers.ring_explorer import latest_min
from gypsumkit.live.lesson import Lesson
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem

STANDARD, SMALL, TALL = RINGS


@pytest.fixture
def explorer():
    return explorer_class("ring")(question="Where does pouring begin?")


def own_spread(explorer):
    return explorer.picture.scene.numbers.rows[0][1]


def test_every_control_changes_what_is_said(explorer):
    seen = {explorer.words()}
    for move in (lambda: setattr(explorer.ratio_slider, "value", 0.58), lambda: setattr(explorer.ring, "value", SMALL),
                 lambda: setattr(explorer.vibrated, "value", True), lambda: setattr(explorer.time_min.slider, "value", 4.0),
                 lambda: setattr(explorer.powder, "value", "dental stone")):
        move()
        assert explorer.words() not in seen
        seen.add(explorer.words())
    assert explorer.errors == []


def test_the_small_ring_makes_the_same_mix_stand(explorer):
    explorer.go_to(powder="dental stone", ratio=0.30)
    assert not own_spread(explorer).startswith("35.0")
    explorer.ring.value = SMALL
    assert own_spread(explorer).startswith("20.0 mm")


def test_waiting_stiffens_and_the_vibrator_loosens(explorer):
    explorer.ratio_slider.value = 0.58
    at_two = explorer.mix().spread_mm.value
    explorer.time_min.typed.value = "5 min"
    assert explorer.mix().spread_mm.value < at_two and "5 min after mixing" in explorer.picture.scene.words
    explorer.vibrated.value = True
    assert "on the vibrator" in explorer.picture.scene.words and explorer.mix().vibrated_spread_mm.value > at_two


@pytest.mark.parametrize("typed, said", [("soon", "cannot be read as the time"), ("-1", "goes from"), ("500", "goes from"),
                                         ("3 mL", "cannot be read as the time"), ("<i>2</i>", "cannot be read as the time")])
def test_a_time_that_cannot_be_is_answered_and_stays_typed(explorer, typed, said):
    before = explorer.picture.scene.words
    explorer.time_min.typed.value = typed
    assert said in explorer.message.value and "<i>" not in explorer.message.value
    assert explorer.time_min.typed.value == typed and explorer.picture.scene.words == before and explorer.errors == []


def test_seconds_and_a_comma_are_understood(explorer):
    explorer.time_min.typed.value = "90 s"
    assert explorer.time_min.value == pytest.approx(1.5)
    explorer.time_min.typed.value = "2,5"
    assert explorer.time_min.value == pytest.approx(2.5)


def test_a_quick_powder_moves_the_time_and_says_so(explorer):
    explorer.time_min.slider.value = 8.0
    explorer.powder.value = "impression plaster"
    assert explorer.time_min.value == POWDERS["impression plaster"].standard_time_min and "was set to" in explorer.message.value
    assert explorer.time_min.slider.max == latest_min(POWDERS["impression plaster"])


def test_an_unknown_ring_names_the_nearest(explorer):
    with pytest.raises(Problem, match="20 x 20 mm, small"):
        explorer.go_to(ring="20 x 20 mm, smal")


def test_reset_returns_to_the_start(explorer):
    start = explorer.words()
    explorer.go_to(powder="improved stone", ratio=0.28, ring=TALL, time_min=4.0, vibrated=True)
    explorer.pin()
    explorer.reset()
    assert explorer.words() == start


def test_the_prediction_of_the_lesson_is_judged_beside_the_picture(tmp_path, monkeypatch):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path))
    here = Lesson("03")
    view = here.predict("L03-P1")
    block = here.explorer("ring", prediction="L03-P1", asked={"powder": "dental stone", "ratio": 0.30, "ring": SMALL, "time_min": 2.0, "vibrated": False})
    block.compare_button.click()
    assert "First commit" in block.message.value
    view.answer("Compared with its ring, it spreads just as far.")
    block.compare_button.click()
    assert "Not as you predicted." in block.verdict.value and block.ring.value == SMALL and "20 x 20 mm" in block.picture.scene.words
