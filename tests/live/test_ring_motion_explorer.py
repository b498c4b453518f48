"""The ring test in motion: what each button does, at which moment it does it, and what is said."""

import re
import xml.dom.minidom

import numpy as np
import pytest

from gypsumkit.figures import ring_motion_scene
from gypsumkit.figures.film import BEGINS_S, Film, film_svg
from gypsumkit.figures.placing import places
from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.explorers.rings_in_motion import AHEAD_S
from gypsumkit.live.question_view import QuestionView
from gypsumkit.mix import Mix
from gypsumkit.studies.moving_ring import MovingRing
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.quiz.questions import Choice, Option
from gypsumkit.recipe import Recipe
from gypsumkit.science import ring_motion

SLOWED_DOWN = ring_motion_scene.SLOWED_DOWN


class Clock:
    """A clock that a test sets."""

    def __init__(self):
        self.now = 5000.0

    def __call__(self):
        return self.now

    def wait_on_screen(self, seconds):
        self.now += seconds


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def explorer(clock):
    return explorer_class("ring in motion")(ratio=0.58, clock=clock, question="Where does it stop?")


def shown(explorer):
    return explorer.picture._front.value


def said(explorer):
    return explorer.picture.scene.words


# ---------------------------------------------------------------- the clock


def test_the_moment_follows_the_clock_slowed_down(explorer, clock):
    explorer.lift_button.click()
    assert explorer.moment_s() == 0.0
    clock.wait_on_screen(BEGINS_S)
    assert explorer.moment_s() == pytest.approx(0.0)
    clock.wait_on_screen(2.0)
    assert explorer.moment_s() == pytest.approx(2.0 / SLOWED_DOWN)


def test_a_vibrator_switched_on_takes_the_mix_where_it_stands_at_that_moment(explorer, clock):
    explorer.lift_button.click()
    still = explorer.test.run
    clock.wait_on_screen(BEGINS_S + 2.2)
    explorer.on_button.click()
    run, moment = explorer.test.run, (2.2 + AHEAD_S) / SLOWED_DOWN
    assert run.seconds[0] == pytest.approx(moment) and run.vibration[0] == 0.0 and run.vibration[-1] == 1.0
    assert run.spread_ratio[0] == pytest.approx(still.at(moment).spread_ratio)
    assert 1.0 < run.spread_ratio[0] < still.end.spread_ratio < run.end.spread_ratio
    assert explorer.moment_s() == pytest.approx(moment), "the film on the screen begins at the moment of the switch"
    clock.wait_on_screen(BEGINS_S + 0.4)
    explorer.off_button.click()
    assert explorer.test.run.seconds[0] == pytest.approx(moment + (0.4 + AHEAD_S) / SLOWED_DOWN)
    assert run.spread_ratio[0] <= explorer.test.run.spread_ratio[0] <= run.end.spread_ratio


def test_a_long_wait_changes_nothing_more(explorer, clock):
    explorer.lift_button.click()
    clock.wait_on_screen(3600.0)
    end = explorer.test.run.end
    explorer.on_button.click()
    assert explorer.test.run.seconds[0] == pytest.approx(end.seconds) and explorer.test.run.spread_ratio[0] == end.spread_ratio


def test_the_next_film_begins_where_the_old_one_will_be_when_it_is_ready(explorer, clock, monkeypatch):
    def slow(test, make=ring_motion_scene.ring_film):
        clock.wait_on_screen(0.08)      # the work of making the film
        return make(test)
    monkeypatch.setattr("gypsumkit.live.explorers.ring_motion_explorer.ring_film", slow)
    explorer.lift_button.click()
    clock.wait_on_screen(BEGINS_S + 2.0)
    explorer.on_button.click()
    assert explorer.test.run.seconds[0] == pytest.approx((2.08 + AHEAD_S) / SLOWED_DOWN)


# ---------------------------------------------------------------- the buttons


def test_off_leaves_what_has_spread(explorer, clock):
    explorer.lift_button.click()
    clock.wait_on_screen(60)
    explorer.on_button.click()
    clock.wait_on_screen(60)
    wide = explorer.test.end_mm()[0]
    explorer.off_button.click()
    assert explorer.test.end_mm()[0] == wide and "It does not draw back." in said(explorer)
    assert "<animate" not in shown(explorer), "nothing moves"
    assert "vibrator off" in shown(explorer)


def test_a_vibrator_may_run_before_the_ring_is_lifted(explorer):
    explorer.on_button.click()
    assert "The ring is full and stands on the plate; the vibrator is on." in said(explorer) and "<animate" not in shown(explorer)
    explorer.lift_button.click()
    assert explorer.test.end_mm()[0] == pytest.approx(explorer.mix().vibrated_spread_mm.value, abs=0.2)


def test_again_fills_a_new_ring_with_the_same_mix(explorer):
    before = explorer.words()
    explorer.lift_button.click()
    explorer.on_button.click()
    explorer.again_button.click()
    assert explorer.words() == before and "<animate" not in shown(explorer) and not explorer.test.vibrating


@pytest.mark.parametrize("buttons, sentence", [
    (("lift_button", "lift_button"), "The ring is up already; press “Again” to fill a new one."),
    (("on_button", "on_button"), "The vibrator is on already."),
    (("off_button",), "The vibrator is off already."),
])
def test_what_is_done_already_is_answered_in_a_sentence_and_the_film_goes_on(explorer, buttons, sentence):
    for button in buttons[:-1]:
        getattr(explorer, button).click()
    before = shown(explorer)
    getattr(explorer, buttons[-1]).click()
    assert sentence in explorer.message.value and shown(explorer) == before and explorer.errors == []


def test_another_recipe_fills_a_new_ring(explorer):
    explorer.lift_button.click()
    explorer.ratio_slider.value = 0.50
    assert not explorer.test.lifted and "50 mL of water" in said(explorer)
    explorer.lift_button.click()
    explorer.time_min.slider.value = 5.0
    assert not explorer.test.lifted and "5 min after mixing" in said(explorer)
    explorer.ratio_slider.value = 0.70
    explorer.lift_button.click()
    explorer.powder.value = "improved stone"
    assert not explorer.test.lifted and "is no paste" in explorer.message.value


@pytest.mark.parametrize("typed", ["nonsense", "-1", "0.1", "<b>0.5</b>"])
def test_nonsense_is_answered_and_the_film_goes_on(explorer, typed):
    explorer.lift_button.click()
    before = shown(explorer)
    explorer.ratio.typed.value = typed
    assert "gypsumkit-problem" in explorer.message.value and "<b>" not in explorer.message.value
    assert explorer.ratio.typed.value == typed and shown(explorer) == before


def test_reset_goes_back_to_the_start(explorer):
    start = explorer.words()
    explorer.powder.value = "dental stone"
    explorer.lift_button.click()
    explorer.reset_button.click()
    assert explorer.words() == start


def test_a_prediction_is_compared_with_a_ring_that_is_lifted(clock):
    question = Choice(id="L03-P9", objective="L03-O1", prompt="How far does it spread?", explanation="The yield stress decides.",
                      options=(Option("it spreads", "Right: it flows under its own weight.", correct=True), Option("it stands", "Its weight is too much for that."),
                               Option("it sets", "Not within a second.")))
    view = QuestionView(question, commit=True)
    explorer = explorer_class("ring in motion")(prediction=view, asked={"ratio": 0.60, "lifted": True}, clock=clock)
    explorer.compare_button.click()
    assert "commit to your prediction" in explorer.message.value
    view.answer("it spreads")
    explorer.compare_button.click()
    assert "<animate" in shown(explorer) and "60 mL of water" in view.feedback_words() and "The mix spreads from 35.0 mm" in view.feedback_words()


def test_an_error_in_a_button_reaches_the_screen(explorer, monkeypatch):
    monkeypatch.setattr("gypsumkit.live.explorers.ring_motion_explorer.ring_film", lambda test: 1 / 0)
    explorer.lift_button.click()
    assert "This part of the lesson failed" in explorer.message.value and [type(e) for e in explorer.errors] == [ZeroDivisionError]


# ---------------------------------------------------------------- words and numbers


@pytest.mark.parametrize("powder", POWDERS)
def test_start_end_and_range_are_said_and_are_those_of_the_mix(powder):
    mix = Mix(Recipe(powder, POWDERS[powder].recommended_ratio.value))
    test = MovingRing(mix)
    test.lift()
    value, low, high = test.end_mm()
    for ours, predicted in ((value, mix.spread_mm.value), (low, mix.spread_mm.low), (high, mix.spread_mm.high)):
        assert ours == pytest.approx(float(predicted), abs=0.3)
    words = ring_motion_scene.motion_words(test)
    start, end = map(float, re.search(r"from ([\d.]+) mm to ([\d.]+) mm", words).groups())
    assert start == 35.0 and end == pytest.approx(value, abs=0.06)
    test.switch(True, np.inf)
    for ours, predicted in zip(test.end_mm(), (mix.vibrated_spread_mm.value, mix.vibrated_spread_mm.low, mix.vibrated_spread_mm.high)):
        assert ours == pytest.approx(float(predicted), rel=0.01)
    assert all(ring_motion_scene.done_words(test) in words for words in ring_motion_scene.picture_words(test))


def test_limits_and_slowing_down_stand_beside_the_picture(explorer):
    words = explorer.words()
    assert "how fast it gets there is not" in words and "slowed down 4 times" in words
    assert all("slowed down" in picture.words for picture in explorer.picture.scene.pictures)
    assert all("times slower" in panel.title for picture in explorer.picture.scene.pictures for panel in picture.panels)


def test_a_very_runny_mix_is_said_to_be_extrapolated_and_wider_than_drawn(clock):
    explorer = explorer_class("ring in motion")(ratio=0.82, clock=clock)
    explorer.on_button.click()
    explorer.lift_button.click()
    assert "xtrapolated" in said(explorer) and "wider than drawn" in shown(explorer) and "where it still creeps" in said(explorer)


def test_the_stored_picture_is_before_and_after(explorer):
    before = explorer.picture_png()
    explorer.lift_button.click()
    assert explorer.picture_png() == before and before.startswith(b"\x89PNG")
    scene = ring_motion_scene.before_and_after(explorer.mix())
    widths = [np.ptp(picture.panels[0].moving[0].x) for picture in scene.pictures]
    for picture in scene.pictures:
        scales = [place.width / np.ptp(place.x_range) for place in places(picture)]
        assert scales[0] == pytest.approx(scales[1], rel=0.01), "side and above to one scale"
    mix = explorer.mix()
    assert widths == pytest.approx([35.0, mix.spread_mm.value, mix.vibrated_spread_mm.value], abs=0.2)


@pytest.mark.parametrize("powder", POWDERS)
def test_a_mass_that_has_lost_its_gloss_stands_and_it_is_said(powder):
    test = MovingRing(Mix(Recipe(powder, POWDERS[powder].recommended_ratio.value), 60.0))
    test.switch(True)
    test.lift()
    assert test.end_mm() == (35.0, 35.0, 35.0) and "it is no longer a paste, and it stands" in ring_motion_scene.motion_words(test)


def test_the_driest_mix_at_the_last_moment_of_the_slider_is_no_error(explorer):
    for powder in POWDERS:
        explorer.powder.value = powder
        explorer.ratio_slider.value = explorer.ratio_slider.min
        explorer.time_min.slider.value = explorer.time_min.slider.max
        explorer.lift_button.click()
        assert explorer.errors == [] and explorer.message.value == ""
        assert f"{explorer.time_min.value:g} min after mixing" in said(explorer) and explorer.test.lifted


# ---------------------------------------------------------------- the film


@pytest.fixture(params=[("model plaster", 0.58), ("model plaster", 0.50), ("dental stone", 0.34)], ids=str)
def lifted(request):
    test = MovingRing(Mix(Recipe(*request.param)))
    test.lift()
    return test


def test_the_film_keeps_close_to_the_computed_run(lifted):
    moments = ring_motion_scene.moments_of_film(lifted)
    run, radius = lifted.run, 17.5
    drawn = np.interp(run.seconds, moments, [radius * run.at(moment).spread_ratio for moment in moments])
    assert np.abs(drawn - radius * run.spread_ratio).max() <= 2 * ring_motion_scene.CLOSE_MM
    raised = ring_motion.raised_mm(run.seconds, 50.0)
    assert np.abs(np.interp(run.seconds, moments, ring_motion.raised_mm(moments, 50.0)) - raised).max() <= 2 * ring_motion_scene.CLOSE_MM
    assert moments[0] == 0.0 and len(moments) < 60
    assert np.diff(moments).max() <= ring_motion_scene.LONGEST_CUT_S / SLOWED_DOWN + 0.006


def test_between_two_scenes_the_outline_is_nearly_that_of_the_model(lifted):
    film = ring_motion_scene.ring_film(lifted)
    for number, moment in enumerate(zip(film.seconds, film.seconds[1:])):
        mix_at = [film.scenes[number + each].pictures[0].panels[0].moving[0] for each in (0, 1)]
        halfway = 0.5 * (np.column_stack([mix_at[0].x, mix_at[0].y]) + np.column_stack([mix_at[1].x, mix_at[1].y]))
        true = ring_motion_scene.ring_motion_scene(lifted, np.mean(moment) / SLOWED_DOWN).pictures[0].panels[0].moving[0]
        along = np.linspace(0, len(true.x) - 1, 40 * len(true.x))
        places = np.arange(len(true.x))
        outline = np.column_stack([np.interp(along, places, true.x), np.interp(along, places, true.y)])
        apart = np.hypot(*(halfway[:, np.newaxis, :] - outline[np.newaxis, :, :]).transpose(2, 0, 1)).min(axis=1)
        assert apart.max() < 1.0      # mm: two pixels


def test_the_film_ends_as_the_model_does(lifted):
    film = ring_motion_scene.ring_film(lifted)
    mix = film.last.pictures[0].panels[0].moving[0]
    assert np.ptp(mix.x) == pytest.approx(lifted.end_mm()[0], abs=0.1)
    assert np.ptp(film.last.pictures[1].panels[0].moving[0].x) == pytest.approx(lifted.end_mm()[0], abs=0.1)
    values = re.findall(r'values="([^"]*)"', shown_svg(film))
    assert values and all(len(each.split(";")) == len(film.scenes) for each in values if "," in each)


def shown_svg(film):
    return film_svg(film, 0) + film_svg(film, 1)


def test_a_film_is_safe_markup_with_no_script_and_nothing_from_elsewhere(explorer):
    explorer.lift_button.click()
    html = shown(explorer)
    assert "<script" not in html and "href" not in html and "url(" not in html and "prefers-reduced-motion" in html
    for number in (0, 1):
        root = xml.dom.minidom.parseString(film_svg(ring_motion_scene.ring_film(explorer.test), number)).documentElement
        assert root.getAttribute("role") == "img" and "spreads from 35.0 mm" in root.getAttribute("aria-label")
        seen = [each for each in root.getElementsByTagName("animate") if each.getAttribute("attributeName") == "visibility"]
        assert seen, "the width is written while it grows"


def test_a_film_needs_a_moment_for_each_scene(explorer):
    scene = explorer.picture.scene
    for scenes, seconds in (((scene, scene), (0.0,)), ((), ()), ((scene, scene), (0.0, 0.0)), ((scene,), (1.0,))):
        with pytest.raises(Problem, match="one moment for each scene"):
            Film(scenes, seconds)
