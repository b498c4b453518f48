"""Every lesson as a page to take home: small, closed, and with the library's own numbers.

These need no browser. They stand here because making the pages takes minutes: so they are made once, for these and for
`test_take_home.py`.
"""

import re

import numpy as np
import pytest

from gypsumkit.live.explorers import EXPLORERS, explorer_class
from gypsumkit.live.lesson_text import as_html, read_lesson
from gypsumkit.live.take_home import LIVE, NOT_ON_THE_PAGE, RING
from gypsumkit.problems import Problem
from gypsumkit.stage.page import MOST_BYTES, Choice, Combo, Computed, LessonPage, PageExplorer, State, page_html, start_text
from gypsumkit.stage.strips import make_strip
from tests.take_home_pages import LESSONS, made_page, settings


@pytest.mark.parametrize("number", LESSONS)
def test_a_page_is_small_closed_and_complete(number):
    page = made_page(number)
    assert len(page.html.encode("utf-8")) < MOST_BYTES
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)|\bsrc=|@import|url\((?!#)|eval\(", page.html)
    assert page.text.title in page.html and "no patient decision rests on it" in page.html and "How exact is it?" in page.html
    for explorer in page.explorers:
        assert f"<h2 id=" in page.html and explorer.limits and (explorer.prediction is None or "First predict" in page.html)
    assert len(page.explorers) + sum(use["kind"] in NOT_ON_THE_PAGE for use in page.text.uses) == len(page.text.uses)
    assert len(page.left_out) == sum(use["kind"] in NOT_ON_THE_PAGE for use in page.text.uses)


@pytest.mark.parametrize("number", LESSONS)
def test_a_page_begins_with_what_the_lesson_shows(number):
    page = made_page(number)
    for place, explorer in enumerate(page.explorers):
        told = explorer.computed
        if not told.film:
            assert start_text(explorer) == _as_kept(page.library(place)(explorer.start.choices, explorer.start.numbers))


@pytest.mark.parametrize("number", LESSONS)
def test_what_is_computed_is_what_the_library_says(number):
    page, generator, looked_at = made_page(number), np.random.default_rng(7), 0
    for place, explorer in enumerate(page.explorers):
        if explorer.computed.film:
            continue
        library = page.library(place)
        for chosen, steps, values in settings(explorer.computed, generator, 12):
            try:
                text = explorer.computed.text(chosen, steps)
            except ValueError:          # lies between two that are kept; the browser looks there
                continue
            assert text == _as_kept(library(chosen, values))
            looked_at += 1
    assert looked_at >= 3


def _as_kept(text):
    from gypsumkit.stage.slots import put_together, take_apart
    return put_together(*take_apart(text))


def test_what_stays_live_are_controls_of_the_explorer():
    assert set(LIVE) | set(NOT_ON_THE_PAGE) | {RING} <= set(EXPLORERS)
    for kind, uses in LIVE.items():
        controls = explorer_class(kind)().controls
        for live in uses:
            assert set(live.choices) | set(live.stops) | ({live.fine} - {None}) <= set(controls), kind
            assert live.fine not in live.stops


def test_what_does_not_move_is_said():
    said = {use["kind"]: " ".join(explorer.stays) for number in ("01", "03", "09") for use, explorer in zip(made_page(number).uses, made_page(number).explorers)}
    assert "powder” has only a few stops" in said["batch"].replace("Powder (g)", "powder")
    assert "the ring" in said["ring"].lower() or "stays" in said["ring"]
    assert "recommended water" in said[RING]


def test_the_ring_plays_and_stands_where_no_motion_is_wanted():
    explorer = next(explorer for explorer in made_page("03").explorers if explorer.computed.film)
    assert "<animate " in explorer.computed.text((0, 1), ()) and 'class="instead"' in explorer.computed.text((0, 1), ())
    assert "<animate " not in explorer.computed.text((0, 0), ())


def test_words_of_a_lesson_cannot_run_or_lead_away():
    html = as_html('# A\n\n[b](http://c.d) <script>e</script> ![f](g.png)\n\n| h |\n|---|\n| i |')
    assert "<script" not in html and "href" not in html and "src" not in html and "&lt;script&gt;" in html and "<table>" in html and "<h3>A" in html


def test_hostile_words_stay_words():
    evil = '</script><img onerror="x">'
    told = Computed((Choice("a", evil, (evil, "b")),), None, (Combo((), ()),) * 2, tuple(make_strip(lambda _: "<p>x</p><hr><hr>", 1) for _ in range(2)))
    html = page_html(LessonPage(evil, evil, "", (PageExplorer(evil, told, State((0,), ()), evil, evil, (evil,)),), (evil,)))
    assert "<img" not in html and html.count("</script>") == 2


def test_a_file_that_is_no_lesson_is_refused(tmp_path):
    path = tmp_path / "02_x.ipynb"
    path.write_text("{}", encoding="utf-8")
    with pytest.raises(Problem, match="cannot be read as a lesson"):
        read_lesson(path)
