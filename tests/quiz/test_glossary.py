"""Every term of a lesson's table stands in the glossary, and every term of the glossary in the table of its lesson."""

import re

import pytest

from gypsumkit.problems import Problem
from gypsumkit.quiz.glossary import ALL_TERMS, IN_THE_TEXT, TERMS, TYPED_FOR, find_term, near, search, term_lines
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
    assert len({term.name.casefold() for term in ALL_TERMS}) == len(ALL_TERMS) == len(TERMS) + len(IN_THE_TEXT)
    for term in ALL_TERMS:
        assert term.meaning[0].isupper() and term.meaning.endswith(".") and len(term.meaning) > 10, term.name
        assert not set("*|<`$") & set(term.meaning) and term.name not in term.also, term.name


def test_a_search_finds_other_names_and_puts_names_before_meanings():
    assert search("w/p ratio")[0].name == "water/powder ratio"
    assert search("GILLMORE")[0].name == "light and heavy needle"
    names = [term.name for term in search("ring")]
    assert names[0] == "ring test" and names.index("ring test") < names.index("slump")
    assert search("") == search("  ") == ALL_TERMS and search("qqq") == ()


def test_a_term_is_found_by_every_name_it_has():
    for term in ALL_TERMS:
        assert find_term(term.name.upper()) == term and search(term.name)[0] == term
        assert all(one in (*find_term(one).also, find_term(one).name) for one in term.also)
    with pytest.raises(Problem, match="do you mean porosity"):
        find_term("porosty")


def test_a_term_without_a_table_stands_in_the_text_of_its_lesson():
    said = {path.name[:2]: " ".join(cell.source for cell in cells(path)).casefold() for path in LESSONS}
    for term in IN_THE_TEXT:
        assert any(one.casefold() in said[term.lesson] for one in (term.name, *term.also)), term.name
    assert all(find_term(name) for names in TYPED_FOR.values() for name in names)


@pytest.mark.parametrize("typed, first", [
    ("pores", "pore"), ("porosities", "porosity"), ("bubbles", "void, bubble"), ("hemihydrates", "hemihydrate"), ("dies", "die"), ("seeds", "seed"), ("standards", "standard"),
    ("die-stone", "improved stone"), ("diestone", "improved stone"), ("Type IV", "improved stone"), ("type 3", "dental stone"), ("Type V", "high-expansion stone"),
    ("micrometer", "micrometre, µm"), ("um", "micrometre, µm"), ("μm", "micrometre, µm"), ("calcium sulphate", "gypsum"), ("potassium sulphate", "potassium sulfate"),
    ("water of crystallization", "crystal water"), ("WP ratio", "water/powder ratio"), ("water-to-powder ratio", "water/powder ratio"), ("powder/water ratio", "water/powder ratio"),
    ("L/P ratio", "water/powder ratio"), ("18,6", "bound water"), ("0,50", "mL per 100 g"), ("ml/100g", "mL per 100 g"), ("“set”", "to set"), ("set.", "to set"),
    ("chalky", "to chalk"), ("trimming", "to trim"), ("disinfection", "disinfect"), ("vibration", "vibrator"), ("expansions", "setting expansion"), ("etched", "etch"),
    ("soluble", "solubility"), ("exothermic", "heat of setting"), ("surface hardness", "hardness"), ("PVS", "addition silicone, condensation silicone, polyether"),
    ("slurry", "slurry water"), ("dihydrate", "gypsum"), ("Vicat", "initial set"), ("CaSO4.2H2O", "gypsum"), ("MPa", "compressive strength"), ("Pa", "pressure at the foot"),
])
def test_a_word_is_found_as_people_type_it(typed, first):
    assert first in [term.name for term in search(typed)][:3]


@pytest.mark.parametrize("typed, meant", [("inital set", "initial set"), ("compressive strenght", "compressive strength"), ("porousity", "porosity"), ("seperate", "separate"),
                                          ("hemihidrate", "hemihydrate"), ("workin time", "working time"), ("acelerator", "accelerator, retarder"), ("temparature", "heat of setting")])
def test_a_wrong_letter_leads_to_what_is_near(typed, meant):
    assert search(typed)[:1] == (find_term(meant),) or near(typed)[0][1].name == meant
    assert near("qqqq zzzz") == () == near("") and len(near("s" * 5000)) <= 3


def test_a_short_text_is_no_piece_from_the_middle_of_words():
    assert not {"separate", "spatula", "span"} & {term.name for term in search("Pa")}
    assert "beating" not in [term.name for term in search("tin")]


def test_a_term_does_not_say_its_own_name_again():
    assert find_term("accelerator").others == () and find_term("µm").others == ("micron",)
    assert all("Also called" not in term.meaning for term in ALL_TERMS if term.also and "other name" not in term.meaning)


def test_lines_say_everything():
    (line,) = term_lines([find_term("gypsum")])
    assert line.startswith("gypsum: A soft rock") and "Also called: dihydrate" in line and line.endswith("(lesson 01)")
    assert "Unit: MPa." in term_lines([find_term("wet strength")])[0]
