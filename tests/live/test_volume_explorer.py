"""The explorer of volumes: every control, powders that cannot keep the ratio, pins, nonsense, prediction."""

import pytest

from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.lesson import Lesson


@pytest.fixture
def explorer():
    return explorer_class("volume")()


def test_every_slider_moves_what_is_said(explorer):
    said = {explorer.words()}
    for slider, value in ((explorer.ratio.slider, 0.6), (explorer.set_percent.slider, 40), (explorer.dried_percent.slider, 70)):
        slider.value = value
        said.add(explorer.words())
    assert len(said) == 4 and explorer.errors == [] and explorer.message.value == ""
    assert "ratio 0.6, 40.0 % of the powder set, 70.0 % of the free water dried off" in explorer.words()


def test_another_powder_says_so_when_the_ratio_had_to_move(explorer):
    explorer.ratio.slider.value = 0.7
    explorer.powder.value = "improved stone"
    assert "is no paste" in explorer.message.value and explorer.words().startswith("Improved stone at ratio 0.23")


@pytest.mark.parametrize("control, typed, said", [("ratio", "50", "write 0.5"), ("set_percent", "120 %", "0 to 100 %"), ("set_percent", "half", "write it like 80 %"),
                                                  ("dried_percent", "-1", "0 to 100 %"), ("dried_percent", "5 g", "write it like 93 %")])
def test_nonsense_is_answered_and_nothing_is_lost(explorer, control, typed, said):
    before = explorer.picture.scene.words
    getattr(explorer, control).typed.value = typed
    assert said in explorer.message.value and explorer.picture.scene.words == before
    assert getattr(explorer, control).typed.value == typed and explorer.errors == []


@pytest.mark.parametrize("typed", ["93", "93 %", "0.93 fraction"])
def test_per_cent_can_be_typed(explorer, typed):
    explorer.dried_percent.typed.value = typed
    assert explorer.dried_percent.value == pytest.approx(93) and "93.0 % of the free water dried off" in explorer.words()


def test_pins_are_kept_cleared_and_limited(explorer):
    for ratio in (0.45, 0.5, 0.55):
        explorer.go_to(ratio=ratio)
        explorer.pin_button.click()
    assert "Pinned C: Model plaster at ratio 0.55" in explorer.words()
    explorer.pin_button.click()
    assert "3 pins" in explorer.message.value
    explorer.clear_button.click()
    assert "Pinned" not in explorer.words()


def test_predictions_are_compared_at_their_own_mix():
    here = Lesson("04")
    here.predict("L04-P2").answer("Hardly stronger than wet.")
    block = here.explorer("volume", prediction="L04-P2", powder="dental stone", ratio=0.30,
                          asked={"powder": "model plaster", "ratio": 0.55, "set_percent": 100, "dried_percent": 60})
    assert block.words().startswith("Dental stone at ratio 0.3")
    block.compare()
    assert block.powder.value == "model plaster" and block.dried_percent.value == 60
    assert "Correct" in block.prediction.feedback_words()
    block.reset()
    assert block.words().startswith("Dental stone at ratio 0.3")
