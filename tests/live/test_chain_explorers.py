"""The explorers of the chain: every control, typed nonsense, reset, refusals, and what they plan."""

import pytest

from gypsumkit.bench.cast_chain import IMPRESSIONS, Chain, planned
from gypsumkit.live.explorers import explorer_class
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe

KINDS = ("schedule", "pour", "separate")


@pytest.mark.parametrize("kind", KINDS)
def test_five_controls_and_each_changes_what_is_said(kind):
    explorer = explorer_class(kind)()
    assert len(explorer.controls) == 5
    seen = {explorer.words()}
    for name, control in reversed(explorer.controls.items()):
        if hasattr(control, "typed"):
            control.slider.value += (1 if name == "drops" else 3) * control.slider.step
        else:
            choices = list(control.options)
            control.value = choices[(choices.index(control.value) + 1) % len(choices)]
        assert explorer.words() not in seen, name
        seen.add(explorer.words())
    assert explorer.errors == []


@pytest.mark.parametrize("kind", KINDS)
def test_every_powder_and_impression_works_to_both_ends_and_reset_goes_back(kind):
    explorer = explorer_class(kind)()
    before = explorer.words()
    for powder in explorer.powder.options:
        explorer.powder.value = powder
        for impression in IMPRESSIONS:
            explorer.impression.value = impression
            assert f"Impression of {impression}" in explorer.words()
        for control in explorer.controls.values():
            if hasattr(control, "typed"):
                for end in (control.slider.min, control.slider.max):
                    control.slider.value = end
    assert explorer.errors == []
    explorer.reset_button.click()
    assert explorer.words() == before


def test_the_schedule_is_the_planned_one_for_powder_water_mixing_and_warmth():
    explorer = explorer_class("schedule")(powder="model plaster", ratio=0.55, mixing="machine under vacuum", temperature_c=30, impression="polyether")
    recipe = Recipe("model plaster", 0.55, mixing="machine under vacuum", water_temperature_c=30, room_temperature_c=30)
    assert explorer.chain() == Chain(recipe, "polyether") and explorer.chain().separate_min == planned(recipe, "polyether")["separate_min"]
    assert "machine under vacuum, at 30 °C" in explorer.words() and "Every step is in time." in explorer.words()


def test_what_the_reader_sets_is_what_is_judged():
    explorer = explorer_class("separate")(powder="dental stone")
    explorer.separate_min.typed.value = "12 h"
    explorer.trim_min.typed.value = "11 h"
    assert explorer.chain() == Chain(Recipe("dental stone", POWDERS["dental stone"].recommended_ratio.value), separate_min=720, trim_min=660)
    assert "Separated at 12 h, too late" in explorer.words() and "still in its impression" in explorer.words()
    assert explorer.separate_min.typed.value == "12 h" and explorer.errors == []


@pytest.mark.parametrize("kind, control, typed, said", [
    ("pour", "drops", "1,5", "is counted"), ("pour", "drops", "7", "goes from 0"), ("pour", "waits_min", "a while", "cannot be read as the waiting"),
    ("pour", "poured_min", "3 g", "cannot be read"), ("separate", "separate_min", "72 h", "goes from 5"), ("pour", "drops", "2 mL", "a plain number"), ("schedule", "temperature_c", "90", "goes from 15"),
    ("schedule", "ratio", "30", "looks like mL")])
def test_nonsense_is_answered_and_stays_typed(kind, control, typed, said):
    explorer = explorer_class(kind)()
    before = explorer.picture.scene.words
    explorer.controls[control].typed.value = typed
    assert said in explorer.message.value and explorer.controls[control].typed.value == typed and explorer.picture.scene.words == before


def test_unknown_settings_are_refused_in_words():
    with pytest.raises(Problem, match="no impression material"):
        explorer_class("pour")(impression="wax")
    with pytest.raises(Problem, match="not among the choices of 'Impression'"):
        explorer_class("schedule")().go_to(impression="agar")


@pytest.mark.parametrize("kind", KINDS)
def test_it_says_whose_instructions_decide(kind):
    assert "instructions of your product come first" in explorer_class(kind)().words()


def test_a_hand_can_set_the_usual_minutes_and_a_typed_time_may_be_much_longer():
    explorer = explorer_class("pour")(waits_min=45)
    waits = explorer.waits_min
    assert waits.slider.max - waits.slider.min <= 30 * waits.slider.step                 # a step of the slider is some pixels wide
    waits.typed.value = "2 days"
    assert waits.value == waits.slider.value == waits.slider.max == 2880 and "waits 2 days" in explorer.words()
    waits.slider.value = 1000
    assert waits.value == 1000 and waits.typed.value == ""
    explorer.reset_button.click()
    assert waits.value == waits.slider.value == 45 and waits.slider.max == waits.usual and explorer.errors == []
    waits.typed.value = "15 days"
    assert "goes from 0 to 20160 min" in explorer.message.value and waits.value == 45


def test_drops_may_be_typed_with_their_name():
    explorer = explorer_class("pour")()
    explorer.drops.typed.value = "2 drops"
    assert explorer.drops.value == 2 and explorer.errors == []


def test_the_comparison_tells_only_what_was_asked():
    pour, out = explorer_class("pour")(drops=2), explorer_class("separate")(powder="dental stone", separate_min=20)
    assert "2 drops" in pour.result_words() and "Change of size" not in pour.result_words()
    assert "Separated at 20 min. At separating it carries" in out.result_words() and "Impression of" not in out.result_words()
    assert explorer_class("pour")().result_words() == explorer_class("pour")().picture.scene.words
