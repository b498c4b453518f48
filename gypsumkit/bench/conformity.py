"""Whether a batch meets the requirements of its type: pass, fail, or not decided with this many specimens, and how sure that is.

The rule: a first series of five specimens. Four or five that meet the limit are a pass, two or fewer a fail. With three, a second
series of five is made, and all of it has to meet the limit. It is remembered from standards of other dental materials; whether
the gypsum standard asks the same of each test was not seen.
"""

from typing import NamedTuple

from scipy import special

from gypsumkit.bench.requirements import GIVEN, QUOTED, REMEMBERED, SEEN, TESTS, limit_words, requirements
from gypsumkit.bench.specimens import NEAR_RATIO, counted, recorded
from gypsumkit.bench.statistics import summary
from gypsumkit.problems import Problem
from gypsumkit.showing import rounded
from gypsumkit.units import find_unit, read_number

SERIES, ENOUGH, SECOND_SERIES_AT = 5, 4, 3
PASS, FAIL, OPEN = "pass", "fail", "not decided"
RULE = ("The rule used: five specimens. Four or five that meet the limit: pass. Two or fewer: fail. Three: five more are made, and all five have to meet it. "
        "It is remembered from standards of other dental materials; look up what your standard asks of each test.")
MOST_SPECIMENS = 10_000


class Verdict(NamedTuple):
    """One requirement and what the specimens say of it."""

    requirement: object
    values: tuple
    meeting: int                     # specimens that meet the limit
    outcome: str                     # `PASS`, `FAIL` or `OPEN`
    words: str                       # the outcome with its reserve
    reason: str
    how_sure: str
    left_out: tuple = ()             # (row, why it does not count)


def outcome(met):
    """Return the outcome of a series of specimens by the rule, and why.

    Parameters
    ----------
    met : sequence of bool
        Whether each specimen meets the limit, in the order in which they were made.

    Returns
    -------
    tuple of (str, str)
    """
    met = [bool(one) for one in met]
    first, second = met[:SERIES], met[SERIES:2 * SERIES]
    good, bad = sum(first), len(first) - sum(first)
    if bad > SERIES - SECOND_SERIES_AT:
        return FAIL, f"{bad} of the first {len(first)} do not meet it; at most {SERIES - SECOND_SERIES_AT} of five may"
    if len(first) < SERIES:
        missing = SERIES - len(first)
        return OPEN, f"the rule asks for {SERIES} specimens; {len(first)} {_are(len(first))} there, make {missing} more"
    if good >= ENOUGH:
        return PASS, f"{good} of the first {SERIES} meet it"
    if not all(second):
        return FAIL, f"{good} of the first {SERIES} meet it, and in the second series one did not"
    if len(second) < SERIES:
        return OPEN, f"{good} of the first {SERIES} meet it, so a second series of {SERIES} decides; make {SERIES - len(second)} more"
    return PASS, f"{good} of the first {SERIES} meet it, and so do all {SERIES} of the second series"


def _are(count):
    return "is" if count == 1 else "are"


def chance_of_passing(share):
    """Return how often a batch passes of which this share of specimens meets the limit.

    Parameters
    ----------
    share : float
        0 to 1.

    Returns
    -------
    float
    """
    at_once = special.bdtrc(ENOUGH - 1, SERIES, share)
    three = special.bdtr(SECOND_SERIES_AT, SERIES, share) - special.bdtr(SECOND_SERIES_AT - 1, SERIES, share)
    return float(at_once + three * share**SERIES)


def share_interval(meeting, specimens, confidence=0.95):
    """Return the exact interval for the share of such specimens that meet a limit, after Clopper and Pearson.

    Parameters
    ----------
    meeting, specimens : int
        How many meet it, of how many.
    confidence : float
        0 to 1.

    Returns
    -------
    tuple of float
    """
    tail = (1.0 - confidence) / 2.0
    low = 0.0 if meeting == 0 else float(special.betaincinv(meeting, specimens - meeting + 1, tail))
    high = 1.0 if meeting == specimens else float(special.betaincinv(meeting + 1, specimens - meeting, 1.0 - tail))
    return low, high


_RESERVE = {
    (PASS, GIVEN): "pass, by the limit you typed",
    (PASS, SEEN): "meets the limit as national adoptions print it; look it up in the standard",
    (PASS, QUOTED): "meets the limit as others quote it; look it up",
    (PASS, REMEMBERED): "meets the limit we remember; look it up",
    (FAIL, GIVEN): "fail, by the limit you typed",
    (FAIL, SEEN): "fails the limit as national adoptions print it; look it up in the standard",
    (FAIL, QUOTED): "fails the limit as others quote it; look it up",
    (FAIL, REMEMBERED): "fails the limit we remember; look it up",
}


def judge(requirement, values, claimed=None, left_out=()):
    """Judge specimens by one requirement.

    Parameters
    ----------
    requirement : Requirement
        What is asked.
    values : sequence of float
        Results of the specimens, in the unit of the test, in the order in which they were made.
    claimed : float, optional
        What the maker claims, where the requirement asks for it; the middle where the maker claims a range.
    left_out : tuple
        Rows that do not count, with the reason.

    Returns
    -------
    Verdict
    """
    values = tuple(float(one) for one in values)
    if requirement.of_claim:
        if claimed is None:
            return Verdict(requirement, values, 0, OPEN, OPEN, "the setting time that the maker claims is not given", "", left_out)
        requirement = requirement.with_claim(claimed)
    met = [requirement.met_by(one) for one in values]
    found, reason = outcome(met)
    if not values:
        reason = "nothing of this test was measured" if not left_out else "none of the rows is a specimen of this test"
        return Verdict(requirement, values, 0, OPEN, OPEN, reason, "", left_out)
    words = OPEN if found == OPEN else _RESERVE[found, requirement.standing]
    return Verdict(requirement, values, sum(met), found, words, reason, _how_sure(requirement, values, sum(met), found), left_out)


def _how_sure(requirement, values, meeting, found):
    """What the specimens say of all such specimens: by count, and by their mean."""
    low, high = share_interval(meeting, len(values))
    unit = TESTS[requirement.test].unit
    said = [f"{meeting} of {len(values)} meet it: with 95 % confidence, {_percents(low, high)} % of all such specimens would"]
    if len(values) > 1:
        of_all = summary(values)
        said.append(f"mean {rounded(of_all.mean, 3)} {unit} (95 %: {rounded(of_all.low, 3)} to {rounded(of_all.high, 3)})")
        if found == FAIL and requirement.met_by(of_all.mean):
            said.append("the mean meets the limit, but the rule counts specimens, not their mean")
    return "; ".join(said)


def _percents(low, high):
    """An interval in percent, with as many decimals as keep it from looking like none, or all, for sure."""
    digits = next(digits for digits in range(6) if round(100 * low, digits) < 100 and round(100 * high, digits) > 0)
    return f"{_to_decimals(100 * low, digits)} to {_to_decimals(100 * high, digits)}"


def _to_decimals(percent, digits):
    """A percentage to so many decimals; the ends of the scale have none."""
    return f"{percent:.0f}" if percent in (0.0, 100.0) else f"{percent:.{digits}f}"


def judge_records(records, iso_type, edition, iso_class="", claimed=None, given=None, ratio=None):
    """Judge a batch by everything an edition asks of its type.

    Parameters
    ----------
    records : gypsumkit.bench.records.Records
        The rows of one batch.
    iso_type, edition, iso_class
        As for `requirements.requirements`.
    claimed : float, optional
        Setting time that the maker claims, min.
    given : dict of str to Requirement, optional
        Limits typed in by the reader, by the name of their test; they replace those that stand there.
    ratio : float, optional
        Water/powder ratio that the maker recommends, mL/g; then only specimens mixed at it count.

    Returns
    -------
    tuple of Verdict
    """
    verdicts, more = [], ()
    if ratio is not None:
        more = ((~(abs(records.water_powder_ratio / ratio - 1.0) <= NEAR_RATIO + 1e-9), f"it was not mixed at {ratio:.3g}"),)
    for requirement in _asked(iso_type, edition, iso_class, given):
        found = counted(records, requirement.test, more=more)
        verdict = judge(requirement, found.values, claimed, found.left_out)
        if not recorded(requirement.test):
            verdict = verdict._replace(reason="the record has no column for it: type the results")
        verdicts.append(verdict)
    return tuple(verdicts)


def _asked(iso_type, edition, iso_class, given):
    """What an edition asks, with the limits of the reader in their places; the 20 % of a claim give way only where nothing else stands."""
    given, asked = dict(given or {}), requirements(iso_type, edition, iso_class)
    plain = {one.test for one in asked if not one.of_claim}
    return [given.get(one.test, one) if not one.of_claim or one.test not in plain else one for one in asked]


def judge_values(values, iso_type, edition, iso_class="", claimed=None, given=None):
    """Judge results that were typed.

    Parameters
    ----------
    values : dict of str to sequence of float
        By the name of the test.
    iso_type, edition, iso_class, claimed, given
        As for `judge_records`.

    Returns
    -------
    tuple of Verdict
        For the tests that were typed.
    """
    return tuple(judge(one, values[one.test], claimed) for one in _asked(iso_type, edition, iso_class, given) if one.test in values)


def read_values(text, test, called=None):
    """Read results as a person types them, one behind the other.

    Parameters
    ----------
    text : str
        Such as "21.3; 19,8; 22 MPa"; the marks between them are semicolons or new lines.
    test : str
        A key of `TESTS`, which gives the unit.
    called : str, optional
        What it is called in a message where it is no result, such as "The limit".

    Returns
    -------
    tuple of float
        In the unit of the test.

    Raises
    ------
    Problem
        Naming the one that cannot be read.
    """
    kind = TESTS[test]
    pieces = [piece.strip() for piece in str(text).replace("\n", ";").split(";")]
    pieces = [piece for piece in pieces if piece]
    if len(pieces) > MOST_SPECIMENS:
        raise Problem(f"{len(pieces)} results are typed; {MOST_SPECIMENS:,} are the most that are judged.")
    values = []
    for number, piece in enumerate(pieces, 1):
        name = called or f"Result no. {number} of the {kind.words.split(':')[0]}"
        try:
            quantity = read_number(piece, f"12 {kind.unit}")
            value = quantity.number if quantity.unit is None else _in_unit(quantity, kind)
        except Problem as problem:
            between = "" if called or "more than one" not in str(problem) else " Between two results write a semicolon, such as 21.5; 23,0; 22.1."
            raise Problem(f"{name}: {problem}{between}") from None
        if value < 0 and not test.startswith("expansion"):
            raise Problem(f"{name} is {value:g} {kind.unit}; it cannot be below 0.")
        if abs(value) > _MOST[test]:
            raise Problem(f"{name} is {value:g} {kind.unit}; that cannot be, {_MOST[test]:g} {kind.unit} is the most.")
        values.append(value)
    return tuple(values)


_MOST = {"fluidity": 600.0, "setting time": 1440.0, "expansion": 5.0, "expansion at 24 h": 5.0, "strength": 150.0, "detail": 1000.0}


def _in_unit(quantity, kind):
    return quantity.in_unit(find_unit(kind.unit))


def verdict_words(verdict):
    """Say a verdict in one sentence.

    Parameters
    ----------
    verdict : Verdict

    Returns
    -------
    str
    """
    kind = TESTS[verdict.requirement.test]
    said = f"{kind.words[0].upper()}{kind.words[1:]}, {limit_words(verdict.requirement)}: {verdict.words}, since {verdict.reason}."
    return said if not verdict.how_sure else f"{said} {verdict.how_sure[0].upper()}{verdict.how_sure[1:]}."
