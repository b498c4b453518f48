"""The explorers of clock, heat, first week and growth: every control, typed nonsense, moved limits, reset and predictions."""

import pytest

from gypsumkit.figures.expansion_scene import UNDER_WATER
from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.lesson import Lesson
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.studies.changes import CHANGES

KINDS = ("clock", "heat", "week", "expansion")


@pytest.mark.parametrize("kind", KINDS)
def test_at_most_five_controls_and_each_changes_what_is_said(kind):
    explorer = explorer_class(kind)()
    assert 3 <= len(explorer.controls) <= 5
    if kind == "clock":
        explorer.change.value = "potassium sulfate"
    seen = {explorer.words()}
    for name, control in reversed(explorer.controls.items()):
        if hasattr(control, "typed"):
            control.slider.value += 3 * control.slider.step
        else:
            choices = [one[1] if isinstance(one, tuple) else one for one in control.options]
            control.value = choices[(choices.index(control.value) + 1) % len(choices)]
        assert explorer.words() not in seen, name
        seen.add(explorer.words())
    assert explorer.errors == []


@pytest.mark.parametrize("kind", KINDS)
def test_reset_pins_and_too_many_pins(kind):
    explorer = explorer_class(kind)()
    before = explorer.words()
    for _ in range(3):
        explorer.pin_button.click()
    assert "Pinned C:" in explorer.words()
    explorer.pin_button.click()
    assert "3 pins are the most" in explorer.message.value
    explorer.go_to(powder="dental stone")
    explorer.reset_button.click()
    assert explorer.words() == before and explorer.errors == []


@pytest.mark.parametrize("kind, name, typed, said", [
    ("clock", "time_min", "soon", "cannot be read as the moment"), ("clock", "time_min", "-3", "goes from"), ("clock", "time_min", "9 g", "cannot be read"),
    ("heat", "edge_mm", "1 m", "goes from"), ("heat", "edge_mm", "", None), ("week", "half_dry_h", "0", "goes from"),
    ("week", "day_h", "a day", "cannot be read"), ("expansion", "length_mm", "5 kg", "cannot be read"), ("expansion", "length_mm", "0.5", "goes from")])
def test_nonsense_is_answered_and_stays_typed(kind, name, typed, said):
    explorer = explorer_class(kind)()
    before = explorer.picture.scene.words
    explorer.controls[name].typed.value = typed
    assert explorer.picture.scene.words == before and explorer.controls[name].typed.value == typed and explorer.errors == []
    assert said is None or said in explorer.message.value


@pytest.mark.parametrize("kind, name, typed, value", [("clock", "time_min", "1 min 30 s", 1.5), ("clock", "time_min", "90 s", 1.5), ("heat", "edge_mm", "4 cm", 40.0),
                                                      ("week", "day_h", "90 min", 1.5), ("expansion", "length_mm", "1,2 cm", 12.0)])
def test_numbers_can_be_typed_with_another_unit(kind, name, typed, value):
    explorer = explorer_class(kind)()
    explorer.controls[name].typed.value = typed
    assert explorer.controls[name].value == pytest.approx(value) and explorer.controls[name].slider.value == pytest.approx(value)


def test_the_amount_follows_the_change():
    explorer = explorer_class("clock")()
    amount = explorer.amount
    assert amount.layout.display == "none"
    explorer.change.value = "turns of the spatula"
    assert amount.layout.display is None and (amount.slider.min, amount.slider.max, amount.value) == (20, 300, 100)
    amount.typed.value = "180"
    assert amount.value == 180 and "180 turns" in explorer.picture.scene.words and explorer.errors == []
    explorer.change.value = "sodium citrate"
    assert (amount.slider.min, amount.slider.max, amount.value) == (0, 0.1, 0.05)
    amount.typed.value = "0,08 %"
    assert "with 0.08 % of sodium citrate" in explorer.picture.scene.words
    amount.typed.value = "8 %"
    assert "The amount for sodium citrate is given as 8 %" in explorer.message.value and amount.value == 0.08
    explorer.change.value = "water temperature"
    assert amount.typed.value == "" and "with water of 40 °C" in explorer.picture.scene.words and explorer.errors == []


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("powder", POWDERS)
def test_every_slider_goes_to_both_ends(kind, powder):
    explorer = explorer_class(kind)(powder=powder)
    for name, control in explorer.controls.items():
        if hasattr(control, "typed") and name != "amount":
            for end in (control.slider.min, control.slider.max):
                control.slider.value = end
                assert explorer.errors == [] and "nan" not in explorer.words() and "None" not in explorer.words(), (name, end)
            explorer.go_to_start()


@pytest.mark.parametrize("before", CHANGES)
@pytest.mark.parametrize("change", ["turns of the spatula", "sodium citrate", "ground set gypsum"])
def test_what_a_browser_still_says_of_the_change_before_is_no_amount(before, change):
    explorer = explorer_class("clock")(change=before)
    late = explorer.amount.slider
    explorer.change.value = change
    if late is not explorer.amount.slider:
        late.value = late.max
    assert explorer.amount.value == explorer.amount.slider.value == CHANGES[change].usual and explorer.errors == []
    explorer.amount.slider.value = explorer.amount.slider.max
    assert explorer.amount.value == CHANGES[change].high and explorer.amount.children[0] is explorer.amount.slider


def test_a_powder_far_from_its_water_takes_its_recommended_ratio_and_says_so():
    explorer = explorer_class("clock")()
    explorer.powder.value = "improved stone"
    assert explorer.ratio.value == 0.23 and "is not mixed at 0.5" in explorer.message.value
    explorer.ratio.set(0.25)
    explorer.powder.value = "high-expansion stone"
    assert explorer.ratio.value == 0.25


def test_unknown_settings_are_refused_in_words():
    explorer = explorer_class("expansion")()
    with pytest.raises(Problem, match="no setting called 'lenght_mm'"):
        explorer.go_to(lenght_mm=12)
    with pytest.raises(Problem, match="in oil"):
        explorer.go_to(view="in oil")
    explorer.go_to(powder="model plaster", view=UNDER_WATER, length_mm=30)
    assert "under water" in explorer.picture.scene.words and "A length of 30 mm" in explorer.picture.scene.words


@pytest.mark.parametrize("number, prediction, kind, asked, said", [
    ("08", "L08-P1", "clock", {"change": "sodium chloride", "amount": 4}, "with 4 % of sodium chloride"),
    ("08", "L08-P2", "heat", {"powder": "dental stone", "edge_mm": 150}, "a cube of 150 mm"),
    ("08", "L08-P3", "week", {"day_h": 24}, "After 24 h"),
    ("09", "L09-P1", "expansion", {"powder": "model plaster", "view": UNDER_WATER}, "under water"),
    ("09", "L09-P2", "expansion", {"powder": "model plaster", "ratio": 0.45}, "45 mL")])
def test_a_prediction_is_compared_with_what_happens(number, prediction, kind, asked, said):
    here = Lesson(number)
    question = here.predict(prediction)
    explorer = here.explorer(kind, prediction=prediction, asked=asked)
    explorer.compare_button.click()
    assert "First commit to your prediction" in explorer.message.value
    question.answer("A")
    explorer.compare_button.click()
    assert said in explorer.picture.scene.words and explorer.verdict.value and explorer.errors == []
