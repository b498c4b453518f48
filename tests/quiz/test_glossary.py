"""Every term of a lesson's table stands in the glossary, and every term of the glossary in the table of its lesson."""

import re

import pytest

from gypsumkit.problems import Problem
from gypsumkit.quiz.glossary import TERMS, find_term, search, term_lines
from tests.lessons.pages import LESSONS, cells, name

every_lesson = pytest.mark.parametrize("path", LESSONS, ids=name)


def table_rows(path):
    """Return the rows of "Words you need" as (bold texts of the first column, of the second)."""
    (cell,) = [cell for cell in cells(path, "markdown") if cell.source.startswith("## Words you need")]
    rows = [line.split("|")[1:3] for line in cell.source.splitlines() if line.startswith("| **")]
    return [tuple(re.findall(r"\*\*(.+?)\*\*", column) for column in row) for row in rows]


@every_lesson
def test_every_bold_term_of_a_lesson_stands_in_the_glossary(path):
    rows = table_rows(path)
    assert len(rows) >= 5
    for firsts, seconds in rows:
        assert firsts
        for term in firsts + seconds:
            assert find_term(term)


def test_every_term_stands_in_the_table_of_the_lesson_it_names_and_in_no_earlier_one():
    bold = {path.name[:2]: {term.casefold() for row in table_rows(path) for column in row for term in column} for path in LESSONS}
    for term in TERMS:
        names = {term.name.casefold(), *(one.casefold() for one in term.also)}
        lessons = [number for number, there in bold.items() if there & names]
        assert lessons and lessons[0] == term.lesson, (term.name, lessons)


@every_lesson
def test_the_glossary_is_one_step_away_from_every_lesson(path):
    (cell,) = [cell for cell in cells(path, "markdown") if cell.source.startswith("## Words you need")]
    assert "](glossary.ipynb)" in cell.source


def test_no_name_stands_twice_and_every_meaning_is_a_sentence():
    assert len({term.name.casefold() for term in TERMS}) == len(TERMS)
    for term in TERMS:
        assert term.meaning[0].isupper() and term.meaning.endswith(".") and len(term.meaning) > 10, term.name
        assert not set("*|<`$") & set(term.meaning) and term.name not in term.also, term.name


def test_a_search_finds_other_names_and_puts_names_before_meanings():
    assert search("w/p ratio")[0].name == "water/powder ratio"
    assert search("GILLMORE")[0].name == "light and heavy needle"
    names = [term.name for term in search("ring")]
    assert names[0] == "ring test" and names.index("ring test") < names.index("slump")
    assert search("") == search("  ") == TERMS and search("qqq") == ()


def test_a_term_is_found_by_every_name_it_has():
    for term in TERMS:
        assert find_term(term.name.upper()) == term
        assert all(one in (*find_term(one).also, find_term(one).name) for one in term.also)
    with pytest.raises(Problem, match="do you mean porosity"):
        find_term("porosty")


def test_lines_say_everything():
    (line,) = term_lines([find_term("gypsum")])
    assert line.startswith("gypsum: A soft rock") and "Also called: dihydrate" in line and line.endswith("(lesson 01)")
    assert "Unit: MPa." in term_lines([find_term("wet strength")])[0]
