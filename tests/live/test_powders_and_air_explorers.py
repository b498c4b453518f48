"""The explorers of lessons 06 and 07: every control, typed nonsense, reset, pins."""

import pytest

from gypsumkit.live.explorers import explorer_class


@pytest.fixture(params=["powders", "packing", "bubbles", "voids"])
def explorer(request):
    return explorer_class(request.param)()


def controls_with_numbers(explorer):
    return [control for control in explorer.controls.values() if hasattr(control, "typed")]


def choices(explorer):
    return [control for control in explorer.controls.values() if hasattr(control, "options")]


def test_every_slider_moves_what_is_said_and_nothing_fails(explorer):
    for control in controls_with_numbers(explorer):
        before = explorer.words()
        control.slider.value = control.slider.min + 0.7 * (control.slider.max - control.slider.min)
        assert explorer.words() != before, control
    assert explorer.errors == [] and explorer.message.value == ""


def test_every_choice_can_be_chosen(explorer):
    for control in choices(explorer):
        said = set()
        for option in control.options:
            control.value = option[1] if isinstance(option, tuple) else option
            said.add(explorer.words())
        assert len(said) == len(control.options)
    assert explorer.errors == []


@pytest.mark.parametrize("typed", ["nonsense", "-7", "99999", "<b>5</b>", "12 MPa"])
def test_nonsense_is_answered_beside_the_control_and_nothing_is_lost(explorer, typed):
    for control in controls_with_numbers(explorer):
        before = explorer.picture.scene.words
        control.typed.value = typed
        assert explorer.message.value and "<b>5" not in explorer.message.value and "failed" not in explorer.message.value
        assert control.typed.value == typed and explorer.picture.scene.words == before
        control.typed.value = ""
    assert explorer.errors == []


def test_reset_goes_back_to_the_start(explorer):
    start = explorer.words()
    for control in controls_with_numbers(explorer):
        control.slider.value = control.slider.max
    if explorer.can_pin:
        explorer.pin_button.click()
    explorer.reset_button.click()
    assert explorer.words() == start and explorer.pins == []


def test_pins_up_to_three_then_a_sentence(explorer):
    if not explorer.can_pin:
        pytest.skip("this explorer has nothing to pin")
    slider = controls_with_numbers(explorer)[0].slider
    for share in (0.2, 0.5, 0.8, 0.9):
        slider.value = slider.min + share * (slider.max - slider.min)
        explorer.pin_button.click()
    assert "3 pins are the most" in explorer.message.value and len(explorer.pins) == 3
    assert "pinned" in explorer.picture.words() or explorer.picture.scene.numbers.heads[-1].startswith("pinned")
    explorer.clear_button.click()
    assert explorer.pins == []


def test_prices_are_the_readers_own():
    explorer = explorer_class("powders")()
    explorer.prices["improved stone"].typed.value = "20,5"
    assert explorer.state()[2]["improved stone"] == 20.5 and explorer.message.value == ""
    cost = explorer.picture.scene.numbers.rows[-1][3]
    explorer.cast_ml.typed.value = "120 mL"
    assert float(explorer.picture.scene.numbers.rows[-1][3]) == pytest.approx(2 * float(cost), rel=0.01)


def test_a_powder_whose_ratio_is_no_paste_is_said():
    for kind in ("bubbles", "packing"):
        explorer = explorer_class(kind)(ratio=0.70)
        explorer.powder.value = "improved stone"
        assert "is no paste" in explorer.message.value and "Improved stone" in explorer.picture.scene.words


def test_go_to_takes_every_setting():
    bubbles = explorer_class("bubbles")()
    bubbles.go_to(powder="dental stone", ratio=0.3, vibrated=True, diameter_mm=0.5, depth_mm=30)
    assert "0.50 mm" in bubbles.words() and "Dental stone" in bubbles.words() and "rises" in bubbles.words()
    voids = explorer_class("voids")()
    voids.go_to(powder="improved stone", habit="powder into water, beaten", depth_mm=5, vibrated_s=60)
    assert "beaten" in voids.words() and "5.0 mm deep" in voids.words()
    packing = explorer_class("packing")()
    packing.go_to(powder="dental stone", ratio=0.3, handful=3)
    assert "handful 3" in packing.picture.scene.pictures[0].words
