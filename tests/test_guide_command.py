"""The lecturer's guide: minutes as the lessons say them, every answer and misconception, nothing from elsewhere, never in the students' folder."""

import html
import re
from html.parser import HTMLParser

import pytest

from gypsumkit.commands.guide import WARNING, guide_page, lesson_heads, main
from gypsumkit.mix import Mix
from gypsumkit.quiz import bank, guide
from gypsumkit.quiz.questions import Choice
from gypsumkit.recipe import Recipe
from gypsumkit.problems import Problem
from gypsumkit.stage.demonstration import BRING, STEPS
from tests.lessons.pages import CLONE, LESSONS, cells


@pytest.fixture(autouse=True)
def empty_work_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path / "work"))


@pytest.fixture(scope="module")
def page():
    return guide_page()


@pytest.fixture(scope="module")
def said(page):
    return html.unescape(re.sub(r"<[^>]+>", " ", page))


def test_minutes_are_those_of_the_lessons_and_their_sum_is_right(page):
    heads = lesson_heads()
    wanted = {path.name[:2]: int(re.search(r"About (\d+) minutes|(\d+) minutes", cells(path)[0].source).group(0).split()[-2]) for path in LESSONS}
    assert {number: minutes for number, _, minutes, _ in heads} == wanted
    for number, title, minutes, question in heads:
        assert f"<td>{number}</td><td>{html.escape(title)}</td><td>{minutes}</td>" in page and f"{minutes} minutes. {html.escape(question)}" in page
        assert title and question.endswith("?")
    assert f"<td>all</td><td>{sum(wanted.values())}</td>" in page
    with pytest.raises(Problem, match="does not say"):
        guide.minutes_of("# A lesson without a time")


def test_every_answer_and_every_misconception_stands_in_it(said):
    for question in (*bank.predictions(), *bank.questions()):
        told = guide.expected(question)
        assert told.answers and told.misconceptions and told.prompt in said
        for text in (*told.answers, *(part for pair in told.misconceptions for part in pair)):
            assert text in said, (question.id, text)
    for note in bank.notes():
        assert note.model_answer in said
    for exercise in bank.exercises():
        for variant in ("faded", "own"):
            assert all(step.working in said for step in exercise.case(variant).steps)
            for step in exercise.case(variant).asked:
                for wrong, why in guide.expected(step.question).misconceptions:
                    assert re.search(re.escape(wrong) + r"\s*:?\s+" + re.escape(why), said), (exercise.id, wrong)


def test_the_steps_of_the_demonstration_stand_in_it_with_their_answers(said):
    for step in STEPS:
        assert step.title in said and " ".join(step.do) in said
        if step.question:
            assert all(text in said for text in (step.question.shown_prompt, *guide.expected(step.question).answers, step.question.shown_explanation))
    assert all(thing in said for thing in BRING)


def test_what_is_expected_is_marked_right_and_what_is_a_misconception_is_not():
    for question in (*bank.predictions(), *bank.questions()):
        if isinstance(question, Choice):
            told = guide.expected(question)
            assert [question.mark(answer).correct for answer in told.answers] == [True]
            assert not any(question.mark(answer).correct for answer, _ in told.misconceptions)


def test_the_ring_data_are_those_of_the_library(said):
    rings = guide.ring_data()
    assert len(rings) == 6 and [ring.mix[:13] for ring in rings[:5]] == ["model plaster"] * 5
    for ring, (powder, ratio_ml) in zip(rings, (*guide.RING_ML, guide.COMPARED_WITH)):
        spread = Mix(Recipe(powder, ratio_ml / 100)).spread_mm
        assert float(ring.still.split()[0]) == pytest.approx(float(spread.value), rel=0.02)
        assert ring.mix in said and ring.still in said and ring.shaken in said
    assert rings[0].called.endswith("lifted still, it stands") and rings[4].called == "runny"
    assert [ring.mix for ring in rings[:5]] == [f"model plaster, {ml} mL per 100 g" for ml in re.findall(r"(\d\d)(?=,| and| mL)", bank.bench_task("L03-B1").do[1])[:5]]


def test_the_clock_says_which_change_hurries_and_which_delays(said):
    rows = {words: float(gloss.split()[0]) for words, gloss, _ in guide.clock_data()}
    usual = rows["as usual"]
    assert min(rows, key=rows.get).startswith("1 % of crumbs") and rows["powder from an old, open tin"] > usual < rows["only 60 turns"]
    assert "Never add water" in said and all(words in said for words in rows)


def test_it_is_one_whole_page_without_anything_from_elsewhere(page):
    assert page.count(WARNING) >= 2 and not re.search(r"(?:src|href)\s*=\s*['\"](?!#)|url\(|@import|<script", page)
    assert not re.search(r"/(?:home|work|root|tmp)/", page)

    class Tags(HTMLParser):
        open_tags, ids, targets = [], [], []

        def handle_starttag(self, tag, attributes):
            given = dict(attributes)
            self.ids.append(given.get("id"))
            self.targets.append(given.get("href"))
            if tag not in ("meta", "br"):
                self.open_tags.append(tag)

        def handle_endtag(self, tag):
            assert self.open_tags.pop() == tag
    tags = Tags()
    tags.feed(page)
    assert tags.open_tags == []
    assert {target[1:] for target in tags.targets if target} <= set(tags.ids)


def test_what_stands_in_the_bank_cannot_become_a_tag():
    from gypsumkit.commands import guide as command
    question = Choice(id="L02-Q99", objective="L02-O1", prompt="Is <b>this</b> a tag & bold?", explanation="It is <i>text</i> only, escaped.", options=tuple(
        guide_option(text) for text in ("<u>right</u>", "<s>wrong</s>", "<q>also wrong</q>")))
    shown = command._question(question)
    assert not re.search(r"<(?:b|i|u|s|q)>", shown) and "&lt;u&gt;right" in shown


def guide_option(text):
    from gypsumkit.quiz.questions import Option
    return Option(text, "Because it is <em>so</em>, by decision.", correct="right" in text)


def test_the_file_is_new_and_lies_where_it_was_asked_for(capsys, tmp_path, page):
    path = tmp_path / "guide.html"
    assert main(["--to", str(path)]) == 0
    assert f"Written: {path}" in capsys.readouterr().out and path.read_text(encoding="utf-8") == page
    assert main(["--to", str(path)]) == 2
    shown = capsys.readouterr()
    assert shown.out == "" and shown.err.count("\n") == 1
    assert not list((CLONE / "lessons").glob("*.html"))


def test_a_guide_of_some_lessons_holds_the_demonstration_and_only_these_lessons(capsys, tmp_path, monkeypatch, page):
    monkeypatch.chdir(tmp_path)
    assert main(["2", "05", "02"]) == 0
    part = (tmp_path / "lecturers_guide_02_05.html").read_text(encoding="utf-8")
    assert re.findall("<section id='([^']+)", part) == ["show", "rings", "clock", "lesson-02", "lesson-05"]
    assert set(re.findall("href='#([^']+)", part)) == {"show", "rings", "clock", "lesson-02", "lesson-05"}
    for section in re.findall("<section id='(?:show|lesson-05)'.*?</section>", part, re.DOTALL):
        assert section in page


@pytest.mark.parametrize("argv", [["--two", "x"], ["99"], ["2x"], ["--to"], ["--to", "no/such/folder/x.html"]])
def test_what_cannot_be_done_is_one_sentence(capsys, argv, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(argv) == 2
    shown = capsys.readouterr()
    assert shown.out == "" and shown.err.count("\n") == 1
