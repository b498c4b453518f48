"""The explorers of the chain: every control, typed nonsense, reset, refusals, and what they plan."""

import math

import pytest

from gypsumkit.bench.cast_chain import IMPRESSIONS, Chain, planned
from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.number_control import WideNumberControl
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
            steps = (1 if name == "drops" else 3) * control.slider.step
            control.slider.value = control.slider.value * 10**steps if isinstance(control, WideNumberControl) else control.slider.value + steps
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


@pytest.mark.parametrize("kind, name, minutes", [("pour", "waits_min", (5, 10, 15, 45)), ("separate", "separate_min", (15, 20, 30, 45, 720)), ("separate", "trim_min", (20, 40, 60, 720)),
                                                 ("separate", "base_min", (3, 6, 12, 17))])
def test_a_hand_comes_near_the_minutes_of_the_moves_and_a_typed_time_is_exact(kind, name, minutes):
    explorer = explorer_class(kind)()
    control = explorer.controls[name]
    for minute in minutes:
        step = control.slider.step
        control.slider.value = 10 ** (control.slider.min + step * round((math.log10(minute) - control.slider.min) / step))    # where the handle can stand
        assert control.value == pytest.approx(minute, rel=0.1)
        control.typed.value = f"{minute} min"
        assert control.value == minute
    control.typed.value = "3 h"
    assert control.value == 180 and explorer.errors == []


def test_an_impression_may_be_typed_to_wait_for_days():
    explorer = explorer_class("pour")(waits_min=45)
    explorer.waits_min.typed.value = "2 days"
    assert explorer.waits_min.value == 2880 and "waits 2 days" in explorer.words()
    explorer.waits_min.typed.value = "15 days"
    assert "goes from 1 to 20160 min" in explorer.message.value and explorer.waits_min.value == 2880
    explorer.reset_button.click()
    assert explorer.waits_min.value == 45 and explorer.errors == []


def test_drops_may_be_typed_with_their_name():
    explorer = explorer_class("pour")()
    explorer.drops.typed.value = "2 drops"
    assert explorer.drops.value == 2 and explorer.errors == []


def test_the_comparison_tells_only_what_was_asked():
    pour, out = explorer_class("pour")(drops=2), explorer_class("separate")(powder="dental stone", separate_min=20)
    assert "2 drops" in pour.result_words() and "Change of size" not in pour.result_words()
    assert "Separated at 20 min. At separating it carries" in out.result_words() and "Impression of" not in out.result_words()
    assert explorer_class("pour")().result_words() == explorer_class("pour")().picture.scene.words


@pytest.mark.parametrize("kind, picture, number", [("schedule", "The cast, from the start of mixing", "pours until"), ("pour", "The impression: alginate", "impression waits"),
                                                   ("separate", "The cast, from the start of mixing", "strength at separating")])
def test_the_stage_begins_with_what_the_controls_move(kind, picture, number):
    explorer = explorer_class(kind)(projected=True)
    assert explorer.stage.shown.value == picture
    assert dict((value, name) for name, value in explorer.stage.number.options)[explorer.stage.number.value] == number
