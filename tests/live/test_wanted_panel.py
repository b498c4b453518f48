"""The panel of recipes wanted: wishes, their picture in words, amounts for what is there, and typed nonsense."""

import pytest

from gypsumkit.live.panels import panel_class
from gypsumkit.live.panels.wanted_panel import WantedPanel
from gypsumkit.figures.svg_renderer import overlay_svg


@pytest.fixture(scope="module")
def shared():
    return WantedPanel()


def test_it_is_found_by_its_name_and_shows_the_wishes_it_begins_with():
    panel = panel_class("recipes wanted")()
    assert isinstance(panel, WantedPanel)
    said = panel.words()
    assert "pours, sets within 12 min (heavy needle), carries 30 MPa wet at 1 h" in said and "Limits:" in said
    assert panel.picture_png().startswith(b"\x89PNG") and panel.errors == []


def test_each_wish_changes_what_is_said():
    panel = WantedPanel("", "10 MPa")
    seen = {panel.words()}
    for change in (lambda: setattr(panel.set_within, "value", "0,5 h"), lambda: setattr(panel.strength, "value", "25"), lambda: setattr(panel.dried, "value", True),
                   lambda: setattr(panel.expansion, "value", "0,1 %"), lambda: setattr(panel.turns, "value", "60"), lambda: setattr(panel.pours, "value", False)):
        change()
        panel.look_button.click()
        assert panel.words() not in seen, panel.message.value
        seen.add(panel.words())
    assert panel.errors == [] and panel.message.value == ""


def test_bars_are_hatched_as_well_as_coloured(shared):
    panel = shared.picture.scene.pictures[0].panels[0]
    bars = [mark for mark in panel.moving if type(mark).__name__ == "Polygon"]
    assert len({bar.hatch for bar in bars if bar.fill == "pale green"} | {bar.hatch for bar in bars}) >= 3
    by_fill = {}
    for bar in bars:
        if bar.fill != "pale green":
            by_fill.setdefault(bar.fill, set()).add(bar.hatch)
    assert all(len(hatches) == 1 and "" not in hatches for hatches in by_fill.values()) and overlay_svg(shared.picture.scene.pictures[0])


def test_what_is_in_the_way_is_said():
    said = WantedPanel("12 min", "30 MPa").words()
    assert "One wish would have to give way: 13.7 MPa instead of 30 MPa" in said and "giving up one wish is not enough" in said and "extrapolated" in said


def test_how_much_for_what_is_there():
    panel = WantedPanel(powder="model plaster")
    panel.water.value = "60 mL"
    panel.amount_button.click()
    assert "Take 120 g of powder (ratio 0.5" in panel.amounts.value and "Take 120 g" in panel.words()
    panel.left.value = "80"
    panel.amount_button.click()
    assert "not both" in panel.message.value
    panel.water.value, panel.powder.value, panel.step.value = "", "dental stone", "0,5"
    panel.amount_button.click()
    assert "80.0 g of powder are left. Take 24 mL of water" in panel.amounts.value and panel.errors == []


@pytest.mark.parametrize("name, typed, says", [("set_within", "soon", "Final set"), ("set_within", "-3", "between 1 and 1,440"), ("strength", "30 mm", "Strength"),
                                               ("strength", "9e9", "wanted strength"), ("expansion", "", None), ("turns", "5", "turns"), ("turns", "<b>", "Turns"), ("turns", "90 s", "have no unit")])
def test_nonsense_is_answered_and_stays_typed(name, typed, says):
    panel = WantedPanel("20 min", "10 MPa")
    before = panel.picture.scene.words
    getattr(panel, name).value = typed
    panel.look_button.click()
    assert getattr(panel, name).value == typed and panel.errors == [] and "<b>" not in panel.message.value
    assert (says is None and panel.message.value == "") or (says in panel.message.value and panel.picture.scene.words == before)


def test_turns_with_a_machine_and_nothing_wanted(shared):
    panel = WantedPanel("", "10")
    panel.mixing.value, panel.turns.value = "machine under vacuum", "100"
    panel.look_button.click()
    assert "leave the turns empty" in panel.message.value
    panel.turns.value, panel.strength.value, panel.pours.value = "", "", False
    panel.look_button.click()
    assert "Nothing is wanted yet" in panel.message.value and panel.errors == []


@pytest.mark.parametrize("water, says", [("", "Type the water"), ("-5", "between"), ("a cup", "Water already"), ("1e9", "between")])
def test_amounts_that_cannot_be(water, says):
    panel = WantedPanel("", "10")
    panel.water.value = water
    panel.amount_button.click()
    assert says in panel.message.value and panel.errors == []
