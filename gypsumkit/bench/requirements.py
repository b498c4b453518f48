"""What the standard for dental gypsum products asks of each type, and how well each limit is known.

The standard itself was not read: limits were seen in national adoptions, read where others quote them, or are remembered.
So each carries its standing, and no verdict is given without it.
"""

from typing import NamedTuple

from gypsumkit.problems import Problem
from gypsumkit.science import limits
from gypsumkit.units import say_number

EDITIONS = limits.EDITIONS
SEEN, QUOTED, REMEMBERED, GIVEN = "seen in national adoptions", "as quoted by others", "from memory", "given by the reader"
CLAUSE_NOT_KNOWN = "clause not known"


class Test(NamedTuple):
    """One kind of test: what is measured, its unit, how it is done."""

    words: str
    unit: str
    specimen: str                    # what counts as a specimen
    __test__ = False                 # no test of ours


TESTS = {
    "fluidity": Test("fluidity: spread at 1 min 15 s", "mm", "a ring 35 mm wide and 50 mm high, lifted at 1 min 15 s, not vibrated"),
    "setting time": Test("setting time, Vicat needle", "min", "the initial set by the Vicat needle"),
    "expansion": Test("setting expansion at 2 h", "%", "the length change at 2 h over the length at loss of gloss"),
    "expansion at 24 h": Test("setting expansion at 24 h", "%", "the length change at 24 h over the length at loss of gloss"),
    "strength": Test("compressive strength at 1 h", "MPa", "a cylinder 20 mm wide, crushed wet at 1 h"),
    "detail": Test("finest line reproduced", "µm", "the finest of the lines of the test block that is reproduced over its whole length"),
}

# Not a number at the bench, so not judged here.
NOT_JUDGED = "quality of the powder, fracture of type 1, packaging and labels"


class Requirement(NamedTuple):
    """One limit of one type: both ends belong to it; an end that is None is open."""

    edition: str
    iso_type: int
    iso_class: str                   # "" where the type has no classes or the limit holds for both
    test: str
    low: float
    high: float
    clause: str
    standing: str
    sources: tuple                   # keys of `sources.SOURCES`
    of_claim: bool = False           # the ends are shares of what the maker claims

    def with_claim(self, claimed):
        """Return the same requirement with its ends in the unit of the test, for what the maker claims."""
        return self._replace(low=self.low * claimed, high=self.high * claimed, of_claim=False)

    def met_by(self, value):
        """Whether one specimen meets it."""
        near = 1e-9
        return (self.low is None or value >= self.low - near) and (self.high is None or value <= self.high + near)


# Clauses of 1998 from its list of contents; those of 2013 are not known to us.
_CLAUSES = {"fluidity": "5.2", "setting time": "5.3", "expansion": "5.4", "strength": "5.6", "detail": "5.7"}
_TYPES = (1, 2, 3, 4, 5)
_STRENGTH_MPA = {1: (4.0, 8.0), 2: (9.0, None), 3: (20.0, None), 4: (35.0, None), 5: (35.0, None)}
_LINE_UM = {1: 75.0, 2: 75.0, 3: 50.0, 4: 50.0, 5: 50.0}
_EXPANSION_STANDING = {"1998": REMEMBERED, "2013": QUOTED}


def _table():
    for edition in EDITIONS:
        def of(iso_type, test, low, high, standing, sources, iso_class="", of_claim=False, edition=edition):
            clause = f"clause {_CLAUSES[test]}" if edition == "1998" and test in _CLAUSES else CLAUSE_NOT_KNOWN
            return Requirement(edition, iso_type, iso_class, test, low, high, clause, standing, ("iso_6873", *sources), of_claim)

        seen_in = ("gost_51887", "yy_0462") if edition == "1998" else ("ada_25",)
        yield of(1, "fluidity", 70.0, None, SEEN, seen_in)
        yield of(1, "setting time", 2.5, 5.0, SEEN, ("gost_51887",) if edition == "1998" else ("ada_25",))
        for iso_type in _TYPES:
            standing, sources = (REMEMBERED, ()) if edition == "1998" else (SEEN, ("ada_25",))
            yield of(iso_type, "setting time", 0.8, 1.2, standing, sources, of_claim=True)
        for limit in limits.EXPANSION_LIMITS:
            if limit.edition == edition:
                iso_class = limit.use if limit.use.startswith("class") else ""
                yield of(limit.iso_type, "expansion" if limit.hours == 2 else "expansion at 24 h", limit.low_percent, limit.high_percent,
                         _EXPANSION_STANDING[edition], (), iso_class)
        for iso_type in _TYPES:
            yield of(iso_type, "strength", *_STRENGTH_MPA[iso_type], REMEMBERED, ())
        for iso_type in _TYPES:
            yield of(iso_type, "detail", None, _LINE_UM[iso_type], REMEMBERED, ())


REQUIREMENTS = tuple(_table())


def classes(iso_type, edition):
    """Return the classes of a type in an edition, empty when it has none."""
    return tuple(dict.fromkeys(one.iso_class for one in REQUIREMENTS if (one.iso_type, one.edition) == (iso_type, edition) and one.iso_class))


def requirements(iso_type, edition, iso_class=""):
    """Return what an edition asks of a type.

    Parameters
    ----------
    iso_type : int
        1 to 5.
    edition : str
        One of `EDITIONS`.
    iso_class : str
        One of `classes`, where the type has classes.

    Returns
    -------
    tuple of Requirement

    Raises
    ------
    Problem
        When there is no such type, edition or class.
    """
    if edition not in EDITIONS:
        raise Problem(f"There is no edition '{edition}' here; the choice is {' or '.join(EDITIONS)}.")
    if iso_type not in _TYPES:
        raise Problem(f"There is no type '{iso_type}'; dental gypsum has the types 1 to 5.")
    there = classes(iso_type, edition)
    if there and iso_class not in there:
        raise Problem(f"Type {iso_type} has classes in the edition of {edition}; choose one: {'; '.join(there)}.")
    if not there and iso_class:
        raise Problem(f"Type {iso_type} has no classes in the edition of {edition}; leave the class out.")
    return tuple(one for one in REQUIREMENTS if (one.iso_type, one.edition) == (iso_type, edition) and one.iso_class in ("", iso_class))


def given_by_reader(requirement, low, high):
    """Return a requirement with the ends that the reader took from an own copy of the standard.

    Parameters
    ----------
    requirement : Requirement
        The one it stands for.
    low, high : float or None
        Its ends in the unit of the test; None for an open end.

    Returns
    -------
    Requirement

    Raises
    ------
    Problem
        When both ends are open or they stand the wrong way round.
    """
    if low is None and high is None:
        raise Problem("A limit needs at least one end: type the least, the most, or both.")
    if low is not None and high is not None and low > high:
        raise Problem(f"The limit runs from {say_number(low)} down to {say_number(high)}; write the smaller number first.")
    return requirement._replace(low=low, high=high, standing=GIVEN, sources=("given",), of_claim=False)


def limit_words(requirement):
    """Say a limit in its unit, without its standing, such as "35 MPa or more"."""
    unit = TESTS[requirement.test].unit
    if requirement.of_claim:
        return "within 20 % of what the maker claims"
    low, high = (None if end is None else say_number(float(end)) for end in (requirement.low, requirement.high))
    if high is None:
        return f"{low} {unit} or more"
    return f"{high} {unit} or less" if low is None else f"{low} to {high} {unit}"


def where_words(requirement):
    """Say where a limit stands and how well it is known, such as "ISO 6873:1998, clause 5.6; from memory"."""
    if requirement.standing == GIVEN:
        return f"ISO 6873:{requirement.edition}; {GIVEN}"
    return f"ISO 6873:{requirement.edition}, {requirement.clause}; {requirement.standing}"
