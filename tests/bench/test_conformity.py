"""Batches are judged by the rule, only proper specimens count, and nothing that is remembered passes without its reserve."""

import numpy as np
import pytest
from scipy import stats

from gypsumkit.bench import conformity as c
from gypsumkit.bench import requirements as r
from gypsumkit.bench.records import Records
from gypsumkit.problems import Problem


def asked(test, iso_type=4, edition="2013"):
    return next(one for one in r.requirements(iso_type, edition) if one.test == test)


# Worked by hand, 35 MPa or more.
CASES = [
    ([36, 37, 36, 38, 35], c.PASS, "5 of the first 5"),
    ([36, 37, 36, 38, 34], c.PASS, "4 of the first 5"),
    ([36, 37, 36, 34, 34], c.OPEN, "make 5 more"),
    ([36, 37, 36, 34, 34, 36, 36], c.OPEN, "make 3 more"),
    ([36, 37, 36, 34, 34, 36, 36, 36, 36, 36], c.PASS, "all 5 of the second"),
    ([36, 37, 36, 34, 34, 36, 36, 34.9], c.FAIL, "second series one did not"),
    ([36, 37, 34, 34, 34], c.FAIL, "3 of the first 5 do not"),
    ([34, 34, 34], c.FAIL, "3 of the first 3 do not"),
    ([36, 37, 36, 38], c.OPEN, "make 1 more"),
    ([36], c.OPEN, "1 is there, make 4 more"),
    ([], c.OPEN, "nothing of this test"),
    ([36, 37, 36, 38, 35, 10, 10, 10], c.PASS, "first 5"),
]


@pytest.mark.parametrize("values, outcome, reason", CASES)
def test_the_rule_on_cases_worked_by_hand(values, outcome, reason):
    verdict = c.judge(asked("strength"), values)
    assert verdict.outcome == outcome and reason in verdict.reason


@pytest.mark.parametrize("standing, words", [(r.REMEMBERED, "we remember; look it up"), (r.QUOTED, "others quote it; look it up"),
                                             (r.SEEN, "look it up in the standard"), (r.GIVEN, "the limit you typed")])
def test_no_pass_and_no_fail_without_its_reserve(standing, words):
    limit = asked("strength")._replace(standing=standing)
    for values in ([40] * 5, [30] * 5):
        said = c.judge(limit, values)
        assert words in said.words and said.words not in ("pass", "fail")
        assert said.words in c.verdict_words(said)


def test_every_requirement_that_is_met_is_told_with_a_reserve():
    for one in r.REQUIREMENTS:
        one = one.with_claim(10.0) if one.of_claim else one
        middle = one.low if one.high is None else one.high
        verdict = c.judge(one, [middle] * 5)
        assert verdict.outcome == c.PASS and "look it up" in verdict.words


@pytest.mark.parametrize("meeting, specimens", [(0, 5), (1, 5), (3, 5), (4, 5), (5, 5), (17, 40)])
def test_share_interval_against_scipy(meeting, specimens):
    """Exact (Clopper-Pearson) interval of scipy.stats.binomtest."""
    theirs = stats.binomtest(meeting, specimens).proportion_ci(0.95, method="exact")
    assert c.share_interval(meeting, specimens) == pytest.approx((theirs.low, theirs.high), abs=1e-9)


def test_share_interval_against_the_statement_worked_by_hand():
    """Five of five: the low end p has p^5 = 0.025, so p = 0.478."""
    assert c.share_interval(5, 5)[0] == pytest.approx(0.025 ** (1 / 5))
    assert "48 to 100 %" in c.judge(asked("strength"), [36] * 5).how_sure


@pytest.mark.parametrize("share", [0.0, 0.3, 0.5, 0.8, 0.95, 1.0])
def test_chance_of_passing_against_scipy_and_by_drawing(share):
    """P(4 or 5 of 5) + P(3 of 5) x share^5 from scipy.stats.binom; drawn batches of the rule itself agree."""
    binomial = stats.binom(5, share)
    assert c.chance_of_passing(share) == pytest.approx(binomial.sf(3) + binomial.pmf(3) * share**5, abs=1e-12)
    drawn = np.random.default_rng(3).random((4000, 10)) < share
    assert np.mean([c.outcome(one)[0] == c.PASS for one in drawn]) == pytest.approx(c.chance_of_passing(share), abs=0.03)


def test_chance_of_passing_worked_by_hand():
    """0.8: 0.8^5 + 5 x 0.8^4 x 0.2 = 0.73728; three of five 0.2048, times 0.8^5 = 0.32768: together 0.80439."""
    assert c.chance_of_passing(0.8) == pytest.approx(0.80439, abs=1e-5)


def test_the_mean_is_told_with_its_interval_by_student():
    """Against scipy.stats.t.interval: mean 20.88, 95 % 19.84 to 21.92."""
    values = [21.3, 19.8, 22.0, 20.4, 20.9]
    low, high = stats.t.interval(0.95, 4, loc=np.mean(values), scale=stats.sem(values))
    assert f"mean 20.9 MPa (95 %: {low:.1f} to {high:.1f})" in c.judge(asked("strength", 3), values).how_sure


def test_the_mean_may_meet_where_specimens_do_not():
    said = c.judge(asked("strength"), [60, 60, 34, 34, 34])
    assert said.outcome == c.FAIL and "the rule counts specimens" in said.how_sure


ROW = {"powder": "improved stone", "crush_load_n": 11500.0, "cylinder_diameter_mm": 20.0, "crushed_at_h": 1.0, "crushed_state": "wet",
       "gauge_length_mm": 100.0, "length_change_um": 80.0, "initial_set_min": 9.0}


def test_only_specimens_of_the_kind_asked_count_and_the_others_are_named():
    rows = [ROW] * 5 + [{**ROW, "crushed_state": "dry"}, {**ROW, "cylinder_diameter_mm": 25.0}, {**ROW, "crushed_at_h": 24.0},
                        {name: cell for name, cell in ROW.items() if name != "crushed_state"}, {"note": "spilled"}]
    by_test = {one.requirement.test: one for one in c.judge_records(Records.of_rows(rows), 4, "2013", claimed=10.0)}
    strength = by_test["strength"]
    assert len(strength.values) == 5 and strength.values[0] == pytest.approx(11500 / (np.pi * 100), rel=1e-9)
    assert strength.left_out == (("6", "it was crushed dry"), ("7", "its cylinder is not 20 mm wide"), ("8", "it was not crushed at 1 h, or that is not said"),
                                 ("9", "it is not said whether it was crushed wet or dry"))
    assert strength.outcome == c.PASS and by_test["expansion"].outcome == c.PASS and by_test["setting time"].outcome == c.PASS
    assert by_test["detail"].outcome == c.OPEN and "no column" in by_test["detail"].reason
    assert by_test["expansion at 24 h"].outcome == c.OPEN


def test_fluidity_counts_only_the_ring_of_the_standard_at_its_moment():
    ring = {"ring_diameter_mm": 35.0, "ring_height_mm": 50.0, "ring_lifted_min": 1.25, "vibrated": "no", "spread_one_mm": 74.0, "spread_two_mm": 76.0}
    rows = [ring, {**ring, "ring_lifted_min": 2.0}, {**ring, "vibrated": "yes"}, {**ring, "ring_height_mm": 35.0}]
    fluidity = c.judge_records(Records.of_rows(rows), 1, "1998")[0]
    assert fluidity.values == (75.0,) and [name for name, _ in fluidity.left_out] == ["2", "3", "4"] and fluidity.outcome == c.OPEN


def test_a_missing_claim_is_said_and_a_limit_of_the_reader_replaces_only_its_own():
    records = Records.of_rows([{**ROW, "initial_set_min": 4.0}] * 5)
    claim = next(one for one in c.judge_records(records, 1, "2013") if one.requirement.of_claim)
    assert claim.outcome == c.OPEN and "claims is not given" in claim.reason
    typed = r.given_by_reader(asked("setting time", 1), 5.0, 6.0)
    of_time = [one for one in c.judge_records(records, 1, "2013", given={"setting time": typed}) if one.requirement.test == "setting time"]
    assert [one.outcome for one in of_time] == [c.FAIL, c.OPEN]


@pytest.mark.parametrize("text, test, values", [
    ("21.3; 19,8; 22 MPa", "strength", (21.3, 19.8, 22.0)), ("0,12 %\n0.13", "expansion", (0.12, 0.13)), ("7 cm", "fluidity", (70.0,)), ("", "strength", ()),
    ("150 s; 3", "setting time", (2.5, 3.0)), ("-0.01", "expansion", (-0.01,))])
def test_results_are_read_as_a_person_types_them(text, test, values):
    assert c.read_values(text, test) == pytest.approx(values)


@pytest.mark.parametrize("text, test, says", [
    ("21; abc", "strength", "no. 2"), ("21 mm", "strength", "no. 1"), ("-4", "strength", "below 0"), ("300", "strength", "cannot be"),
    ("21 22", "strength", "more than one number"), ("1e400", "strength", "no. 1"), ("12", "expansion", "cannot be"),
    ("21.5, 23.0, 22.1", "strength", "write a semicolon"), ("215", "strength", "cannot be"), ("abc", "setting time", "for example 12 min")])
def test_what_cannot_be_a_result_is_refused_by_its_number(text, test, says):
    with pytest.raises(Problem, match=says):
        c.read_values(text, test)


@pytest.mark.parametrize("meeting, of, said", [(1000, 1000, "99.6 to 100 %"), (0, 1000, "0 to 0.4 %"), (5, 5, "48 to 100 %"), (3, 5, "15 to 95 %")])
def test_an_interval_never_reads_as_if_all_or_none_were_sure(meeting, of, said):
    assert said in c.judge(asked("strength", 3), [30.0] * meeting + [1.0] * (of - meeting)).how_sure
