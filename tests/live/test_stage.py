"""The projector view of every explorer, and the demonstration, without a browser."""

import asyncio
import errno

import pytest

from gypsumkit.bench.accuracy_chain import WORKS
from gypsumkit.figures.colours import in_room, paper
from gypsumkit.figures.scene import Text
from gypsumkit.figures.staging import LEAST_LETTERS, NARROW, large_numbers, shown_choices, staged
from gypsumkit.live import demonstration_view
from gypsumkit.live import stage as stage_module
from gypsumkit.live.demonstration_view import TO_PICTURE, TO_QUESTION, DemonstrationView
from gypsumkit.live.explorers import EXPLORERS, explorer_class
from gypsumkit.live.explorers.ring_row_explorer import RingRowExplorer
from gypsumkit.live.stage import GO, LEAVE
from gypsumkit.live.stage_view import DARK, ON_STAGE
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.stage import show_state
from gypsumkit.stage.demonstration import MINUTES, REAL_MIX, STEPS
from gypsumkit.stage.show_state import ShowState


@pytest.fixture(autouse=True)
def work(tmp_path, monkeypatch):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path))
    return tmp_path


@pytest.mark.parametrize("kind", EXPLORERS)
def test_every_explorer_goes_to_the_stage_and_back(kind):
    explorer = explorer_class(kind)()
    before, words, picture = explorer.picture._front.value, explorer.words(), explorer.picture
    explorer.stage.button.click()
    assert ON_STAGE in explorer._dom_classes and explorer.stage.button.description == LEAVE
    assert "gypsumkit-stage-pictures" in picture._front.value and "gypsumkit-stage-pictures" in picture._back.value
    assert explorer.words() == words
    explorer.stage.cover.room_button.click()
    assert DARK in explorer._dom_classes
    with in_room("dark room"):
        assert paper() in picture._front.value or not any(isinstance(mark, Text) for panel in explorer.picture.scene.pictures[0].panels for mark in panel.moving)
    for place in range(len(explorer.stage.shown.options)):
        explorer.stage.shown.index = place
    assert 'fill="#000000"' not in picture._front.value
    explorer.stage.button.click()
    assert ON_STAGE not in explorer._dom_classes and explorer.stage.button.description == GO
    assert picture._front.value == before and not explorer.errors


@pytest.mark.parametrize("kind", EXPLORERS)
def test_no_letter_or_line_of_any_explorer_is_too_small_on_the_stage(kind):
    # a unit is 2 px or more where the screen is 1920 px wide: 14 units are 28 px, 1.5 units 3 px
    scene = explorer_class(kind)().picture.scene
    for places in shown_choices(scene).values():
        for picture in staged(scene, places).pictures:
            assert (1920 - 60) / 2 / picture.width >= 2 or picture.width < NARROW
            for mark in (mark for panel in picture.panels for mark in (*panel.backdrop, *panel.moving)):
                if isinstance(mark, Text):
                    assert mark.size >= LEAST_LETTERS
                elif hasattr(mark, "width"):
                    assert mark.width >= 1.5 or mark.width == 0


def test_an_explorer_may_begin_on_the_stage():
    explorer = explorer_class("water")(projected=True)
    assert ON_STAGE in explorer._dom_classes


def test_the_large_number_follows_the_slider():
    explorer = explorer_class("water")(projected=True)
    explorer.ratio.slider.value = 0.6
    assert "63.6 mm" in explorer.picture._front.value.split("gypsumkit-large")[1][:80]
    explorer.stage.number.value = None
    assert "gypsumkit-large\"" not in explorer.picture._front.value


def test_the_large_number_keeps_its_row_by_name_when_rows_come_and_go():
    explorer = explorer_class("accuracy")(projected=True, work="crown, gold alloy")
    explorer.stage.number.value = large_numbers(explorer.picture.scene.numbers)["in all"]
    for work in WORKS:
        explorer.work.value = work
        shown = explorer.picture._front.value.split("gypsumkit-large-name")[1][:60]
        assert "in all" in shown, (work, shown)


def test_recipes_are_compared_at_once_and_the_controls_stay():
    explorer = explorer_class("strength")(projected=True)
    before = explorer.settings()
    explorer.stage.recipes.value = "45, 60 of model plaster; 30 of dental stone"
    assert explorer.settings() == before and len(explorer.pins) == len(explorer.pinned_words) == 3
    assert "A against now" in explorer.picture._front.value and "MPa less" in explorer.picture._front.value
    explorer.stage.recipes.value = "45, 46, 47, 48 of model plaster"
    assert "3 are the most" in explorer.message.value and len(explorer.pins) == 3 and explorer.settings() == before
    explorer.stage.recipes.value = "45 of butter"
    assert "butter" in explorer.message.value and not explorer.errors and explorer.settings() == before
    explorer.clear_pins()
    assert explorer.pinned_words == [] and "against now" not in explorer.picture._front.value


def test_picture_and_numbers_are_saved_and_never_over_others(work):
    explorer = explorer_class("ring in motion")(projected=True)
    explorer.stage.picture_button.click()
    explorer.stage.picture_button.click()
    explorer.stage.numbers_button.click()
    assert sorted(path.name for path in (work / "slides").iterdir()) == [
        "ring motion numbers.csv", "ring motion picture 2.png", "ring motion picture 2.svg", "ring motion picture.png", "ring motion picture.svg"]
    assert "ring motion numbers.csv" in explorer.message.value and not explorer.errors


def test_a_full_disk_reaches_the_screen_as_a_sentence(monkeypatch):
    def full(*_):
        raise Problem("The disk is full: make room.")
    monkeypatch.setattr(stage_module, "save_new", full)
    explorer = explorer_class("water")(projected=True)
    explorer.stage.picture_button.click()
    assert "disk is full" in explorer.message.value and not explorer.errors


# ---------------------------------------------------------------- rings side by side

def test_the_rings_are_one_film_on_the_stage_too():
    explorer = RingRowExplorer(projected=True)
    explorer.lift_button.click()
    film = explorer.picture._front.value
    assert film.count('role="img"') >= 5 and "<animate" in film and "gypsumkit-stage-pictures" in film
    explorer.on_button.click()
    assert explorer.test.vibrating and "<animate" in explorer.picture._front.value
    explorer.recipes.value = "42, lots of model plaster"
    assert "not a water/powder ratio" in explorer.message.value and explorer.test.lifted
    explorer.recipes.value = "50 of model plaster; 30 of dental stone"
    assert len(explorer.test.tests) == 2 and not explorer.test.lifted and not explorer.errors


# ---------------------------------------------------------------- the demonstration

def test_the_demonstration_takes_fifty_minutes_and_every_option_says_why():
    assert MINUTES == 50 and 8 <= len(STEPS) <= 10
    for step in STEPS:
        if step.question is not None:
            assert sum(option.correct for option in step.question.shown_options) == 1
    assert len({next(o.letter for o in step.question.shown_options if o.correct) for step in STEPS if step.question}) == 3


def test_every_step_is_shown_revealed_and_left_without_an_error():
    show = DemonstrationView()
    for step in STEPS:
        if step.question is not None:
            assert show.look_button.description == TO_PICTURE
            show.reveal_button.click()
            assert "Right:" in show.told.value and show.look_button.description == TO_QUESTION
            for name, value in step.reveal.items():
                if name not in ("lifted", "vibrated"):
                    assert show.piece.settings()[name] == pytest.approx(value) if isinstance(value, float) else show.piece.settings()[name] == value
        show.next_button.click()
    assert "last step" in show.message.value and not show.errors


def test_hands_and_step_outlast_a_restart_of_the_kernel(work):
    show = DemonstrationView()
    show.fields["before"].value = "A 12, B 7, C 3"
    show.next_button.click()
    show.fields["before"].value = "A 1"
    show.reveal_button.click()
    again = DemonstrationView()
    assert again.state.step == 1 and again.revealed and again.fields["before"].value == "A 1" and again.at_picture
    again.back_button.click()
    assert again.fields["before"].value == "A 12, B 7, C 3" and "A 12, B 7, C 3" in again.words() and not again.revealed


def test_nonsense_in_the_counts_gets_a_sentence_and_stays_in_its_field():
    show = DemonstrationView()
    show.fields["before"].value = "A 5"
    show.fields["before"].value = "many"
    assert "not a letter with a number" in show.message.value and show.fields["before"].value == "many"
    assert show.hands().before["A"] == 5


def test_the_buttons_stay_the_same_so_that_they_keep_the_focus():
    show = DemonstrationView()
    before = show.row.children
    show.next_button.click()
    show.reveal_button.click()
    assert show.row.children is before and not any(getattr(each, "disabled", False) for each in before)


def test_a_damaged_file_is_set_aside_and_said(work):
    (work / show_state.FILE).write_text('{"step": "x"', encoding="utf-8")
    show = DemonstrationView()
    assert "damaged" in show.message.value and show.state.step == 0
    assert len(list(work.glob("demonstration damaged *.json"))) == 1


def test_a_file_that_was_mended_meanwhile_is_read_not_set_aside(work, monkeypatch):
    ShowState().go_to(3)
    sound = (work / show_state.FILE).read_bytes()
    (work / show_state.FILE).write_bytes(b"[" * 50_000)
    move_aside = show_state.move_aside

    def mended_just_before(path, raw):
        path.write_bytes(sound)
        return move_aside(path, raw)
    monkeypatch.setattr(show_state, "move_aside", mended_just_before)
    state = ShowState()
    assert state.step == 3 and state.messages == [] and not list(work.glob("*damaged*"))


def test_the_bench_clock_is_started_and_retimed_from_every_step(work):
    show = DemonstrationView()

    def seen(part):
        return part.layout.display != "none"
    assert seen(show.start_button) and not seen(show.clock_time) and not seen(show.gloss_button)
    show.start_button.click()
    assert show.clock.running and show.clock.recipe == Recipe(*REAL_MIX) and "50 mL" in show.message.value
    assert seen(show.clock_time) and "gypsumkit-digits" in show.clock_time.value and seen(show.gloss_button) and not seen(show.start_button)
    show.gloss_button.click()
    assert show.clock.gloss_lost_min is None and "once more" in show.message.value, "right after the start it is asked about"
    show.next_button.click()
    show.gloss_button.click()
    assert show.clock.gloss_lost_min is None, "another step was shown between"
    show.gloss_button.click()
    assert show.clock.gloss_lost_min is not None and not seen(show.gloss_button)
    at_clock = next(place for place, step in enumerate(STEPS) if step.show == ("panel", "bench clock"))
    while show.state.step < at_clock:
        show.next_button.click()
    assert show.piece.clock.running and show.piece.clock.gloss_lost_min == show.clock.gloss_lost_min
    assert not seen(show.start_button) and not seen(show.clock_time)
    show.piece.stop()
    show.next_button.click()
    assert seen(show.start_button) and not seen(show.clock_time) and not show.errors
    show.start_button.click()
    show.anew_button.click()
    assert not show.clock.running and "clock is stopped at 0:00" in show.message.value and seen(show.start_button) and not show.errors


def test_the_time_beside_the_buttons_is_sent_anew_by_itself(monkeypatch):
    monkeypatch.setattr(demonstration_view, "LOOK_AGAIN_S", 0.0)

    async def some_seconds():
        show, sent = DemonstrationView(), []
        show.start_button.click()
        monkeypatch.setattr(show.clock_time, "send_now", lambda: sent.append(1))
        await asyncio.sleep(1.3)
        message = show.message.value
        show.clock.stop()
        await asyncio.sleep(1.3)
        assert sent and "runs" in message and show._looking_again is None and not show.errors
    asyncio.run(some_seconds())


def test_the_bench_clock_follows_the_room():
    show = DemonstrationView()
    while show.step.show != ("panel", "bench clock"):
        show.next_button.click()
    light = show.piece.picture._back.value
    show.cover.button.click()
    show.cover.room_button.click()
    assert show.piece.picture._back.value != light
    show.cover.button.click()
    assert show.piece.picture._back.value == light and not show.errors


def test_what_cannot_be_saved_is_kept_and_said(monkeypatch):
    show = DemonstrationView()
    def full(path, content):
        raise OSError(errno.ENOSPC, "No space left on device")
    monkeypatch.setattr(show_state, "write_whole", full)
    show.fields["before"].value = "A 4"
    show.next_button.click()
    assert "disk is full" in show.message.value and show.state.step == 1 and not show.errors
    monkeypatch.undo()
    show.back_button.click()
    assert ShowState(show.state.folder).hands == {STEPS[0].question.id: {"before": "A 4"}}


def test_beginning_anew_keeps_what_was_counted(work):
    show = DemonstrationView()
    show.fields["before"].value = "A 4"
    show.anew_button.click()
    assert "demonstration of" in show.message.value and show.fields["before"].value == ""
    assert len(list(work.glob("demonstration of *.json"))) == 1


def test_the_stage_of_the_demonstration_covers_its_pieces():
    show = DemonstrationView(projected=True)
    show.reveal_button.click()
    assert "gypsumkit-stage-pictures" in show.piece.picture._front.value
    show.cover.button.click()
    assert "gypsumkit-stage-pictures" not in show.piece.picture._front.value and not show.errors


def test_letters_of_the_rings_are_large_enough():
    for picture in RingRowExplorer().picture.scene.pictures:
        assert all(mark.size >= LEAST_LETTERS for panel in picture.panels for mark in (*panel.backdrop, *panel.moving) if isinstance(mark, Text))
