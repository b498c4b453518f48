"""The explorer of the cases: every control, typed nonsense, pins, reset, refusals, and its words."""

import pytest

from gypsumkit.bench.cases import CASES
from gypsumkit.live.explorers import explorer_class
from gypsumkit.problems import Problem


@pytest.fixture
def explorer():
    return explorer_class("cases")()


def test_five_controls_and_each_changes_what_is_said(explorer):
    assert len(explorer.controls) == 5
    seen = {explorer.words()}
    for name, control in reversed(explorer.controls.items()):
        if hasattr(control, "typed"):
            control.slider.value += 3 * control.slider.step
        else:
            choices = list(control.options)
            control.value = choices[(choices.index(control.value) + 1) % len(choices)]
        assert explorer.words() not in seen, name
        seen.add(explorer.words())
    assert explorer.errors == []


def test_every_powder_can_be_chosen_in_every_case(explorer):
    for case in CASES:
        for powder in explorer.powder.options:
            explorer.case.value, explorer.powder.value = case, powder
            assert f"Chosen: {powder} with" in explorer.words()
            for end in (explorer.ratio.slider.min, explorer.ratio.slider.max):
                explorer.ratio.slider.value = end
    assert explorer.errors == []


def test_pins_are_kept_and_reset_goes_back(explorer):
    before = explorer.words()
    explorer.pin_button.click()
    explorer.go_to(powder="model plaster", ratio=0.52)
    assert "Pinned A: improved stone with 23 mL per 100 g" in explorer.words() and "model plaster with 52 mL" in explorer.words()
    for _ in range(3):
        explorer.pin_button.click()
    assert "3 pins are the most" in explorer.message.value
    explorer.reset_button.click()
    assert explorer.words() == before and explorer.errors == []


@pytest.mark.parametrize("typed, said", [("a cup", "is not a water/powder ratio"), ("23", "looks like mL"), ("0.9", "too wet"), ("0.05", "too dry")])
def test_nonsense_is_answered_and_stays_typed(explorer, typed, said):
    before = explorer.picture.scene.words
    explorer.ratio.typed.value = typed
    assert said in explorer.message.value and explorer.ratio.typed.value == typed and explorer.picture.scene.words == before


def test_a_ratio_can_be_typed_as_the_bench_says_it(explorer):
    explorer.ratio.typed.value = "25 mL per 100 g"
    assert explorer.ratio.value == pytest.approx(0.25) and "improved stone with 25 mL per 100 g" in explorer.words()


def test_unknown_settings_are_refused_in_words(explorer):
    with pytest.raises(Problem, match="not among the choices of 'Case'; did you mean bridge dies"):
        explorer.go_to(case="bridge die")
    with pytest.raises(Problem, match="no case called"):
        explorer_class("cases")(case="a crown")
    with pytest.raises(Problem, match="no schedule called"):
        explorer_class("cases")(schedule="tomorrow")


def test_it_says_its_limits_and_that_all_is_invented(explorer):
    said = explorer.words()
    assert "invented" in said and "For teaching only." in said and explorer.limits in said
