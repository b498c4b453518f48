"""The table of limits: every type and edition is there, each limit says how well it is known, and none claims more than was read."""

import pytest

from gypsumkit.bench import requirements as r
from gypsumkit.problems import Problem
from gypsumkit.science.limits import EXPANSION_LIMITS
from gypsumkit.sources import SOURCES


@pytest.mark.parametrize("edition", r.EDITIONS)
@pytest.mark.parametrize("iso_type", range(1, 6))
def test_every_type_has_its_tests_in_both_editions(edition, iso_type):
    for iso_class in r.classes(iso_type, edition) or ("",):
        tests = {one.test for one in r.requirements(iso_type, edition, iso_class)}
        assert {"setting time", "expansion", "strength", "detail"} <= tests
        assert ("fluidity" in tests) == (iso_type == 1)


def test_each_limit_names_known_sources_a_clause_and_a_standing():
    for one in r.REQUIREMENTS:
        assert set(one.sources) <= set(SOURCES) and one.clause and one.standing in (r.SEEN, r.QUOTED, r.REMEMBERED)
        assert one.low is not None or one.high is not None
        assert r.limit_words(one) and one.standing in r.where_words(one)


def test_only_what_was_read_in_an_adoption_is_called_seen():
    """Read: GOST R 51887-2002 sections 5.2, 5.3 and YY 0462-2003 section 4.2 (edition of 1998); summary of ANSI/ADA 25 (edition of 2013)."""
    seen = {(one.edition, one.test, one.of_claim) for one in r.REQUIREMENTS if one.standing == r.SEEN}
    assert seen == {("1998", "fluidity", False), ("2013", "fluidity", False), ("1998", "setting time", False), ("2013", "setting time", False),
                    ("2013", "setting time", True)}
    assert all(len(one.sources) > 1 for one in r.REQUIREMENTS if one.standing == r.SEEN)


def test_clauses_are_those_of_the_contents_of_1998_and_unknown_else():
    """List of contents of ISO 6873:1998: 5.2 fluidity, 5.3 setting time, 5.4 linear setting expansion, 5.6 compressive strength, 5.7 detail."""
    found = {one.test: one.clause for one in r.REQUIREMENTS if one.edition == "1998"}
    assert found == {"fluidity": "clause 5.2", "setting time": "clause 5.3", "expansion": "clause 5.4", "strength": "clause 5.6", "detail": "clause 5.7"}
    assert {one.clause for one in r.REQUIREMENTS if one.edition == "2013"} == {r.CLAUSE_NOT_KNOWN}


def test_expansion_is_one_table_with_the_expansion_explorer():
    assert sum(one.test.startswith("expansion") for one in r.REQUIREMENTS) == len(EXPANSION_LIMITS)


def test_classes_of_type_2_must_be_chosen_where_the_edition_has_them():
    assert r.classes(2, "1998") == () and len(r.classes(2, "2013")) == 2
    with pytest.raises(Problem, match="choose one: class 1"):
        r.requirements(2, "2013")
    with pytest.raises(Problem, match="has no classes"):
        r.requirements(3, "2013", "class 1, mounting")


@pytest.mark.parametrize("wrong, says", [((6, "2013"), "types 1 to 5"), ((3, "1999"), "2013 or 1998")])
def test_what_is_not_there_is_said(wrong, says):
    with pytest.raises(Problem, match=says):
        r.requirements(*wrong)


def test_a_limit_of_the_reader_takes_the_place_and_says_so():
    old = next(one for one in r.requirements(4, "2013") if one.test == "strength")
    new = r.given_by_reader(old, 40.0, None)
    assert new.met_by(40.0) and not new.met_by(39.9) and r.GIVEN in r.where_words(new) and r.limit_words(new) == "40 MPa or more"
    with pytest.raises(Problem, match="at least one end"):
        r.given_by_reader(old, None, None)
    with pytest.raises(Problem, match="smaller number first"):
        r.given_by_reader(old, 50.0, 40.0)


def test_ends_belong_to_the_limit_and_a_claim_is_20_percent_each_way():
    claim = next(one for one in r.requirements(3, "2013") if one.of_claim).with_claim(10.0)
    assert claim.met_by(8.0) and claim.met_by(12.0) and not claim.met_by(7.99) and not claim.met_by(12.01)
