"""Glossary, primer, last recall and map: notebooks beside the lessons, held to the same form."""

import json
import re

import nbformat
import pytest

from gypsumkit.quiz.glossary import ALL_TERMS
from gypsumkit.quiz.primer import TOPICS
from gypsumkit.quiz.recall import LAST_PARTS
from tests.lessons.pages import CLONE, cells, name, outside_code, words
from tests.lessons.test_pattern import SETUP, START

BESIDE = [CLONE / "lessons" / f"{one}.ipynb" for one in ("glossary", "primer", "last_recall", "map")]
each = pytest.mark.parametrize("path", BESIDE, ids=name)


@each
def test_it_begins_with_one_title_and_the_start_button(path):
    first = cells(path)[0].source
    assert first.startswith("# ") and re.sub(">Start the [a-z]+<", ">Start the lesson<", first).count(START) == 1
    sizes = [line for cell in cells(path, "markdown") for line in outside_code(cell.source).splitlines() if line.startswith("# ")]
    assert len(sizes) == 1 and "menu **Run**, then **Run All Cells**" in first


@each
def test_its_code_is_folded_has_run_in_order_and_reads_without_a_kernel(path):
    code = cells(path, "code")
    assert code[0].source == SETUP.format("00") and [cell.execution_count for cell in code] == list(range(1, len(code) + 1))
    for cell in code:
        assert cell.metadata == {"jupyter": {"source_hidden": True}}
    for cell in code[1:]:
        (output,) = cell.outputs
        assert set(output["data"]) <= {"text/plain", "image/png"} and len(words(cell)) > 200
        assert "<" not in words(cell) and "object at 0x" not in words(cell)


@each
def test_links_lead_somewhere_and_nothing_comes_from_the_network(path):
    for cell in cells(path, "markdown"):
        for target in re.findall(r"\]\(([^)\s]+)\)", outside_code(cell.source)):
            assert "://" not in target and (path.parent / target).is_file(), target
        assert "://" not in cell.source


@each
def test_it_is_stored_in_the_one_form_without_widgets(path):
    text = path.read_text(encoding="utf-8")
    assert text == nbformat.writes(nbformat.reads(text, as_version=4), version=4).rstrip("\n") + "\n" and json.loads(text)["nbformat"] == 4
    assert "widget-view+json" not in text and "Your answer: " not in text


def test_each_is_linked_from_the_start():
    said = "\n".join(cell.source for cell in cells(CLONE / "lessons" / "00_start_here.ipynb", "markdown"))
    assert all(f"]({path.name})" in said for path in BESIDE)


def test_the_last_lesson_or_the_start_leads_on_to_all_of_it():
    glossary, primer, last, _ = BESIDE
    assert words(cells(glossary, "code")[1]).count("(lesson ") == len(ALL_TERMS)
    assert [re.search(r'topic="(.+?)"', cell.source).group(1) for cell in cells(primer, "code")[1:]] == list(TOPICS)
    headings = [cell.source.splitlines()[0] for cell in cells(last, "markdown")[1:-1]]
    assert headings == [f"## Part {number}: {when}" for number, when in LAST_PARTS]
    assert [re.search(r'part="(.+?)"', cell.source).group(1) for cell in cells(last, "code")[1:]] == [number for number, _ in LAST_PARTS]
