"""The explorers of the set cast: every control is heard, nonsense is answered, reset and prediction work, pictures and words agree."""

import pytest

from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.question_view import QuestionView
from gypsumkit.problems import Problem
from gypsumkit.quiz import bank


@pytest.mark.parametrize("kind, moves", [
    ("etching", ({"wetting": "still tap water"}, {"minutes": 60}, {"water_l": 5}, {"temperature_c": 40}, {"area_cm2": 20}, {"wetting": "saturated water"})),
    ("drying", ({"weight_percent": 93.0}, {"air_c": 70}, {"powder": "model plaster"}, {"weight_percent": 70.0})),
])
def test_every_control_is_heard_and_reset_goes_back(kind, moves):
    explorer = explorer_class(kind)()
    start = explorer.words()
    seen = {start}
    for move in moves:
        explorer.go_to(**move)
        assert explorer.words() not in seen, move
        seen.add(explorer.words())
    explorer.reset()
    assert explorer.words() == start
    assert explorer.picture_png().startswith(b"\x89PNG")


@pytest.mark.parametrize("kind, name, typed, said", [
    ("etching", "minutes", "2 kg", "the time in the water"), ("etching", "minutes", "3 days", "0.1 to 1440|cannot be read"), ("etching", "water_l", "much", "the water"),
    ("etching", "area_cm2", "-3", "5 to 200"), ("drying", "weight_percent", "120 %", "100 %"), ("drying", "air_c", "warm", "the temperature of the air"),
])
def test_typed_nonsense_is_answered_in_a_sentence(kind, name, typed, said):
    explorer = explorer_class(kind)()
    control, before = explorer.controls[name], explorer.words()
    with explorer.controls[name].typed.hold_trait_notifications():
        explorer._moving = True
        control.typed.value = typed
        explorer._moving = False
    with pytest.raises(Problem, match=said):
        explorer.was_typed(name)
    assert explorer.words() == before and control.typed.value == typed


def test_typed_units_are_understood():
    explorer = explorer_class("etching")(wetting="still tap water")
    explorer.controls["minutes"].typed.value = "1,5 h"
    explorer.controls["water_l"].typed.value = "500 mL"
    explorer.controls["area_cm2"].typed.value = "3000 mm²"
    assert explorer.settings()["minutes"] == 90 and explorer.settings()["water_l"] == 0.5 and explorer.settings()["area_cm2"] == 30


def test_a_weight_that_another_powder_cannot_have_is_moved_with_a_sentence():
    explorer = explorer_class("drying")(powder="model plaster", weight_percent=70.0)
    explorer.controls["powder"].value = "improved stone"
    assert explorer.settings()["weight_percent"] == 100.0 and "was 70 %" in explorer.message.value


def test_below_dry_nothing_is_predicted():
    explorer = explorer_class("drying")(weight_percent=85.0)
    assert "how much is not predicted" in explorer.words() and "carries" not in explorer.words().split("Now it weighs")[1].split("Air at")[0]


@pytest.mark.parametrize("kind, question, asked", [("etching", "L14-P1", {"minutes": 30, "water_l": 2}), ("drying", "L14-P2", {"weight_percent": 95.6})])
def test_the_prediction_is_compared_at_its_own_settings(kind, question, asked):
    view = QuestionView(bank.question(question), None, commit=True)
    explorer = explorer_class(kind)(prediction=view, asked=asked)
    with pytest.raises(Problem, match="First commit"):
        explorer.compare()
    view.answer(next(option.letter for option in view.question.shown_options if option.correct))
    explorer.compare()
    assert all(explorer.settings()[name] == value for name, value in asked.items()) and "Correct" in explorer.verdict.value


def test_an_edge_moves_back_twice_as_far_and_a_tap_says_how_many_rinses():
    explorer = explorer_class("etching")()
    assert "moves back 2 times as far" in explorer.words() and "rinses of 10 s" in explorer.words()
    explorer.go_to(wetting="still tap water")
    assert "rinses" not in explorer.words()


def test_what_the_rinses_take_together_is_a_film_of_cement():
    import re
    from gypsumkit.studies.set_cast import Soak
    words = explorer_class("etching")().words()
    perhaps, certainly = (float(one) for one in re.search(r"perhaps after (\d+) rinses of 10 s, certainly after (\d+)", words).groups())
    assert perhaps * Soak(minutes=10 / 60).tip_um()[1] == pytest.approx(25.0, rel=0.05)
    assert certainly * Soak(minutes=10 / 60).tip_um()[0] == pytest.approx(25.0, rel=0.05)
