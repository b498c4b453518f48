"""Changes of a mix one at a time: what they set, what they refuse, and which way they move the clock."""

import pytest

from gypsumkit.studies.changes import CHANGES, change_words, conditions_with, find_change
from gypsumkit.conditions import ADDITIVES, POWDER_STATES, Conditions
from gypsumkit.mix import predict_setting
from gypsumkit.problems import Problem


def event(name, change="nothing", amount=None, powder="model plaster", ratio=0.50):
    return predict_setting(powder, ratio, Conditions(**conditions_with(change, amount)), ranges=False)[name].value


@pytest.mark.parametrize("name", CHANGES)
def test_every_change_can_be_made_at_both_its_ends(name):
    change = find_change(name)
    for amount in (change.low, change.usual, change.high):
        conditions = Conditions(**conditions_with(name, amount))
        assert change_words(name, amount)
        if change.unit is not None:
            assert all(getattr(conditions, one) == amount for one in change.sets)


def test_every_additive_and_every_state_of_the_powder_is_among_them():
    made = [Conditions(**conditions_with(name)) for name in CHANGES]
    assert {one.additive for one in made} == set(ADDITIVES) and {one.powder_state for one in made} == set(POWDER_STATES)


@pytest.mark.parametrize("name, amount, said", [("potassium sulfate", 9, "goes from 0 to 4 %"), ("turns of the spatula", 5, "goes from 20 to 300"),
                                                ("water temperature", 120, "goes from 2 to 98 °C")])
def test_an_amount_out_of_range_is_refused(name, amount, said):
    with pytest.raises(Problem, match=said):
        conditions_with(name, amount)


def test_an_unknown_change_names_the_nearest():
    with pytest.raises(Problem, match="potassium sulfate"):
        find_change("potasium sulfate")


def test_which_way_the_changes_move_the_clock():
    usual = event("gloss_loss_min")
    assert event("gloss_loss_min", "potassium sulfate", 2) < event("gloss_loss_min", "sodium chloride", 2) < usual
    assert event("gloss_loss_min", "ground set gypsum") < usual < event("gloss_loss_min", "turns of the spatula", 60)
    assert event("gloss_loss_min", "borax, toxic: only here") > usual and event("gloss_loss_min", "sodium citrate") > usual
    assert event("gloss_loss_min", "slightly damp powder") < usual < event("gloss_loss_min", "long exposed powder")
    assert event("final_set_min", "sodium chloride", 4) > event("final_set_min", "sodium chloride", 2)
    assert event("final_set_min", "temperature of everything", 98) is None


def test_no_free_lunch():
    """Every additive costs strength, and all but seeds lower the expansion."""
    for name in ADDITIVES:
        if name != "none":
            changed = [one for one in CHANGES if conditions_with(one).get("additive") == name][0]
            assert Conditions(**conditions_with(changed)).strength_factor() < 1
            grown = event("setting_expansion_percent", changed)
            assert (grown > event("setting_expansion_percent")) == (name == "ground set gypsum")
