"""A number stays what was typed, although a browser puts the handle of the slider on the nearest step and sends that back."""

import pytest

from gypsumkit.live.number_control import NumberControl, WideNumberControl


def water():
    return NumberControl("Water (mL)", 50.0, 10.0, 300.0, 1, "mL", "the water", "50 mL")


def soaked():
    return WideNumberControl("Time (min)", 2.0, 0.1, 1440.0, "min", "the time", "30 s", "{:g} min".format)


def as_a_browser_does(control):
    """Put the handle on its nearest step, as a browser does with every number it is given, and hear of it."""
    slider = control.slider
    place = control.value if isinstance(control, NumberControl) and not isinstance(control, WideNumberControl) else None
    if place is None:
        import math
        steps = round((math.log10(control.value) - slider.min) / slider.step)
        slider.value = 10 ** (slider.min + steps * slider.step)
    else:
        slider.value = slider.min + round((place - slider.min) / slider.step) * slider.step
    control.from_slider()


@pytest.mark.parametrize("make, typed, value", [(water, "52.4 mL", 52.4), (water, "52,5", 52.5), (soaked, "10 s", 10 / 60), (soaked, "12 h", 720.0), (soaked, "2", 2.0)])
def test_a_typed_number_between_two_steps_stays(make, typed, value):
    control = make()
    control.typed.value = typed
    control.from_typing()
    as_a_browser_does(control)
    assert control.value == pytest.approx(value) and control.typed.value == typed


@pytest.mark.parametrize("typed", ["52.4 mL", "52.5 mL", "52.6 mL"])
@pytest.mark.parametrize("way", [-1, 1])
def test_a_step_of_the_reader_is_taken_from_there(typed, way):
    control = water()
    control.typed.value = typed
    control.from_typing()
    as_a_browser_does(control)
    control.slider.value += way
    control.from_slider()
    assert control.value == control.slider.value and control.typed.value == ""


def test_the_wide_slider_goes_from_end_to_end_in_two_digits_and_says_each_number():
    control = soaked()
    steps = round((control.slider.max - control.slider.min) / control.slider.step)
    seen = []
    for step in range(steps + 1):
        control.slider.value = 10 ** min(control.slider.min + step * control.slider.step, control.slider.max)
        control.from_slider()
        seen.append(control.value)
        assert control.said.value == f"{control.value:g} min"
    assert seen[0] == 0.1 and seen[-1] == 1440.0 and seen == sorted(set(seen)) and 2.0 in seen
