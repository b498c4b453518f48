"""The explorers of one batch and of the solubilities: own numbers, nonsense, reset, prediction."""

import pytest

from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.lesson import Lesson


@pytest.fixture
def batch():
    return explorer_class("batch")(question="Where does the water go?")


def test_both_sliders_move_what_is_said(batch):
    batch.powder_g.slider.value = 130
    assert batch.picture.scene.words.startswith("130 g of model plaster")
    batch.water_ml.slider.value = 70
    assert "With 70.0 g of water" in batch.picture.scene.words
    batch.powder.value = "dental stone"
    assert "of dental stone" in batch.words() and batch.errors == [] and "Look for:" in batch.words()


@pytest.mark.parametrize("typed, grams", [("85", 85), ("85 g", 85), ("0,085 kg", 85), ("120,5", 120.5)])
def test_own_numbers_can_be_typed(batch, typed, grams):
    batch.powder_g.typed.value = typed
    assert batch.powder_g.value == pytest.approx(grams) and batch.powder_g.slider.value == pytest.approx(grams)
    assert batch.powder_g.typed.value == typed


@pytest.mark.parametrize("typed, said", [("lots", "write it like 100 g"), ("-5", "10 to 500 g"), ("9999 g", "10 to 500 g"), ("50 mL", "cannot be read as the weight of the powder"),
                                         ("<b>5</b>", "&lt;b&gt;"), ("1e999", "write it like 100 g")])
def test_nonsense_is_answered_and_nothing_is_lost(batch, typed, said):
    before = batch.picture.scene.words
    batch.powder_g.typed.value = typed
    assert said in batch.message.value and "<b>" not in batch.message.value
    assert batch.powder_g.typed.value == typed and batch.powder_g.value == 100 and batch.picture.scene.words == before
    batch.water_ml.slider.value = 55
    assert batch.message.value == "" and batch.errors == []


def test_reset_goes_back_and_forgets_what_was_typed(batch):
    batch.go_to(powder="improved stone", powder_g=200, water_ml=44)
    batch.water_ml.typed.value = "60 mL"
    batch.reset()
    assert (batch.powder.value, batch.powder_g.value, batch.water_ml.value, batch.water_ml.typed.value) == ("model plaster", 100, 50, "")


def test_the_prediction_is_compared_at_its_own_batch():
    here = Lesson("01")
    here.predict("L01-P1").answer("150 g: all the water dries off.")
    block = here.explorer("batch", prediction="L01-P1", asked={"powder": "model plaster", "powder_g": 150, "water_ml": 60})
    block.compare()
    assert block.powder_g.value == 150 and "weighs 178 g" in block.picture.scene.words
    assert "Not as you predicted." in block.prediction.feedback_words()


def test_temperature_by_slider_and_by_typing():
    block = explorer_class("solubility")()
    block.temperature_c.slider.value = 60
    assert block.words().startswith("At 60 °C")
    block.temperature_c.typed.value = "95 °C"
    assert "nearly equal" in block.words()
    block.counted_as.value = "millimoles"
    assert "mmol per kg" in block.words()
    block.temperature_c.typed.value = "hot"
    assert "write it like 23 °C" in block.message.value and block.temperature_c.value == 95
    block.reset()
    assert block.words().startswith("At 23 °C") and block.counted_as.value.startswith("calcium sulfate") and block.errors == []
