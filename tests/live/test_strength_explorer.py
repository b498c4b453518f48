"""The strength explorer: every control, typed nonsense, an empty window, and a prediction."""

import pytest

from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.lesson import Lesson


@pytest.fixture
def explorer():
    return explorer_class("strength")()


def test_every_control_changes_what_is_said(explorer):
    seen = {explorer.words()}
    for move in (lambda: setattr(explorer.ratio_slider, "value", 0.47), lambda: setattr(explorer.wanted_mpa.slider, "value", 11.5),
                 lambda: setattr(explorer.dried, "value", True), lambda: setattr(explorer.industrial, "value", True),
                 lambda: setattr(explorer.powder, "value", "improved stone")):
        move()
        assert explorer.words() not in seen
        seen.add(explorer.words())
    assert explorer.errors == []


@pytest.mark.parametrize("typed, mpa", [("12", 12.0), ("12,5 MPa", 12.5), ("20 N/mm2", 20.0), ("9000 kPa", 9.0)])
def test_a_wanted_strength_can_be_typed(explorer, typed, mpa):
    explorer.wanted_mpa.typed.value = typed
    assert explorer.wanted_mpa.value == pytest.approx(mpa) and explorer.wanted_mpa.slider.value == pytest.approx(mpa)
    assert f"Wanted: {mpa:g} MPa wet" in explorer.picture.scene.words


@pytest.mark.parametrize("typed, said", [("strong", "cannot be read as the wanted strength"), ("-5", "goes from"), ("5000", "goes from"),
                                         ("12 g", "cannot be read as the wanted strength")])
def test_nonsense_is_answered_and_stays_typed(explorer, typed, said):
    before = explorer.picture.scene.words
    explorer.wanted_mpa.typed.value = typed
    assert said in explorer.message.value and explorer.wanted_mpa.typed.value == typed and explorer.picture.scene.words == before


def test_no_window_is_said(explorer):
    explorer.wanted_mpa.slider.value = 30.0
    assert "No ratio of this powder does both" in explorer.words()


def test_pins_and_reset(explorer):
    start = explorer.words()
    explorer.pin()
    explorer.go_to(powder="dental stone", ratio=0.33, wanted_mpa=25.0, dried=True, industrial=True)
    assert "Pinned A: Model plaster" in explorer.words()
    explorer.reset()
    assert explorer.words() == start


def test_the_prediction_of_the_lesson_is_judged_beside_the_picture(tmp_path, monkeypatch):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path))
    here = Lesson("05")
    view = here.predict("L05-P1")
    block = here.explorer("strength", prediction="L05-P1", asked={"powder": "dental stone", "ratio": 0.30, "wanted_mpa": 27, "dried": False})
    view.answer("Yes, at the recommended ratio.")
    block.compare_button.click()
    assert "Not as you predicted." in block.verdict.value and "Wanted: 27 MPa wet" in block.picture.scene.words
