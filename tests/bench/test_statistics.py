"""Statistics against certified data sets, published worked examples and general reference libraries."""

import numpy as np
import pytest
import scipy.stats
import statsmodels.api as sm
from statsmodels.stats.outliers_influence import OLSInfluence

from gypsumkit.bench.statistics import REPEATABILITY_LIMIT, Line, chance_of_t, grubbs, grubbs_critical, precision, student, summary
from gypsumkit.problems import Problem

# NIST Statistical Reference Datasets, itl.nist.gov/div898/strd: data and certified values, seen as transcribed in public test suites.
NORRIS_X = [0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1,
            995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5]
NORRIS_Y = [0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3,
            998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2]
SILVER = [[107.8681568, 107.8681465, 107.8681572, 107.8681785, 107.8681446, 107.8681903, 107.8681526, 107.8681494, 107.8681616, 107.8681587,
           107.8681519, 107.8681486, 107.8681419, 107.8681569, 107.8681508, 107.8681672, 107.8681385, 107.8681518, 107.8681662, 107.8681424,
           107.8681360, 107.8681333, 107.8681610, 107.8681477],
          [107.8681079, 107.8681344, 107.8681513, 107.8681197, 107.8681604, 107.8681385, 107.8681642, 107.8681365, 107.8681151, 107.8681082,
           107.8681517, 107.8681448, 107.8681198, 107.8681482, 107.8681334, 107.8681609, 107.8681101, 107.8681512, 107.8681469, 107.8681360,
           107.8681254, 107.8681261, 107.8681450, 107.8681368]]
# JCGM 100:2008, H.5: a voltage standard on ten days, five readings a day; means and standard deviations of the days, seen as transcribed.
VOLTS = [10.000172, 10.000116, 10.000013, 10.000144, 10.000106, 10.000031, 10.000060, 10.000125, 10.000163, 10.000041]
MICROVOLTS_WITHIN = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86]
# NIST/SEMATECH e-Handbook 1.3.5.17.1: eight measurements of a uranium isotope, seen as quoted in several places.
URANIUM = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]


def with_deviation(mean, deviation, count):
    """Values with exactly this mean and standard deviation."""
    x = np.arange(count) - (count - 1) / 2
    return mean + deviation * x / np.std(x, ddof=1)


# ---- one heap

def test_mean_and_deviation_of_large_numbers_keep_their_digits():
    """NIST StRD NumAcc3: certified mean 1000000.2, standard deviation 0.1, both exact."""
    found = summary([1000000.2] + [1000000.1, 1000000.3] * 500)
    assert found.mean == pytest.approx(1000000.2, rel=1e-15)
    assert found.standard_deviation == pytest.approx(0.1, rel=1e-8)


@pytest.mark.parametrize("confidence", [0.9, 0.95, 0.99])
def test_confidence_interval_is_that_of_scipy_stats(confidence):
    x = np.random.default_rng(5).normal(12.0, 2.0, 7)
    found = summary([*x, np.nan], confidence)
    low, high = scipy.stats.t.interval(confidence, 6, loc=np.mean(x), scale=scipy.stats.sem(x))
    assert (found.count, found.low, found.high) == (7, pytest.approx(low), pytest.approx(high))


def test_student_is_that_of_tables():
    """Tables of Student's t: 12.706, 2.776 and 2.042 at 95 % two-sided for 1, 4 and 30 degrees of freedom."""
    assert [round(float(student(0.975, freedom)), 3) for freedom in (1, 4, 30)] == [12.706, 2.776, 2.042]
    assert chance_of_t(2.776, 4) == pytest.approx(0.05, abs=1e-4)


@pytest.mark.parametrize("values, said, mean", [([], "no value", None), ([np.nan], "no value", None), ([3.0], "one value", 3.0),
                                                ([3.0, 5.0], "2 values", 4.0)])
def test_too_few_values_are_said(values, said, mean):
    found = summary(values)
    assert said in found.reason
    assert np.isnan(found.mean) if mean is None else found.mean == mean
    assert np.isfinite(found.standard_deviation) == (len(values) == 2)


@pytest.mark.parametrize("share", [0.0, 1.0, 95.0, -0.1])
def test_a_confidence_outside_its_range_is_refused(share):
    with pytest.raises(Problem, match="between 0 and 1"):
        summary([1, 2, 3], share)


# ---- repeatability

def test_analysis_of_variance_is_the_certified_one():
    """NIST StRD AtmWtAg: certified F 15.9467335677930, residual standard deviation 1.51048314446410E-05."""
    found = precision(np.concatenate(SILVER), ["one"] * 24 + ["two"] * 24)
    assert found.variance_ratio == pytest.approx(15.9467335677930, rel=1e-5)       # the data keep ten digits, seven of them alike
    assert found.repeatability == pytest.approx(1.51048314446410e-05, rel=1e-6)
    assert found.within_freedom == 46


def test_worked_example_of_the_guide():
    """JCGM 100:2008, H.5: s within 85 µV, F 2.25, scatter between days 43 µV (the last from memory)."""
    values = np.concatenate([with_deviation(1e6 * (volt - 10), s, 5) for volt, s in zip(VOLTS, MICROVOLTS_WITHIN)])
    found = precision(values, np.repeat([f"day {i}" for i in range(10)], 5))
    assert found.mean == pytest.approx(97, abs=0.5)
    assert found.repeatability == pytest.approx(85, abs=0.5)
    assert found.variance_ratio == pytest.approx(2.25, abs=0.03)
    assert found.between == pytest.approx(43, abs=0.5)


def test_unequal_groups_against_scipy_and_a_mixed_model():
    chance = np.random.default_rng(11)
    sizes = [2, 5, 3, 8]
    groups = [chance.normal(10 + shift, 1.0, size) for shift, size in zip((0, 3, -1, 2), sizes)]
    found = precision(np.concatenate(groups), np.repeat(list("abcd"), sizes))
    assert found.variance_ratio == pytest.approx(scipy.stats.f_oneway(*groups).statistic)
    equal = [chance.normal(10 + shift, 1.0, 6) for shift in (0, 3, -1, 2, -4)]
    found = precision(np.concatenate(equal), np.repeat(list("abcde"), 6))
    fitted = sm.MixedLM(np.concatenate(equal), np.ones(30), groups=np.repeat(list("abcde"), 6)).fit(reml=True)
    assert found.repeatability**2 == pytest.approx(fitted.scale, rel=1e-4)          # equal groups: the same estimates
    assert found.between**2 == pytest.approx(float(np.asarray(fitted.cov_re)[0, 0]), rel=1e-3)


def test_limits_and_sums():
    found = precision([1, 2, 5, 6, 3, 4], list("aabbcc"))
    assert found.reproducibility == pytest.approx(np.hypot(found.repeatability, found.between))
    assert found.repeatability_limit == pytest.approx(2.8 * found.repeatability) and REPEATABILITY_LIMIT == 2.8
    assert 1.96 * np.sqrt(2) == pytest.approx(REPEATABILITY_LIMIT, abs=0.03)        # where the 2.8 comes from


def test_makers_who_scatter_less_than_chance_are_not_given_a_negative_variance():
    found = precision([1, 3, 2, 2.1, 1.9, 2.0], list("aabbcc"))
    assert found.between == 0.0 and found.reproducibility == found.repeatability


@pytest.mark.parametrize("values, makers, said", [([], [], "no value"), ([1, 2, 3], list("abc"), "no maker made it twice"),
                                                  ([1, 2, 3], list("aaa"), "one maker only"), ([1, 2, 3, 5], list("aabb"), "fewer than 3")])
def test_too_few_repeats_are_said(values, makers, said):
    assert said in precision(values, makers).reason


def test_one_maker_for_each_value():
    with pytest.raises(Problem, match="one maker for each value"):
        precision([1, 2, 3], ["a"])


# ---- outliers

def test_grubbs_worked_example():
    """NIST/SEMATECH e-Handbook 1.3.5.17.1: G = 2.4687, critical value 2.032 at 0.05 for a largest value named beforehand."""
    found = grubbs(URANIUM)
    assert found.statistic == pytest.approx(2.4687, abs=1e-4) and found.place == 7 and found.value == 245.57 and found.outlier
    assert grubbs_critical(8, 0.05, sides=1) == pytest.approx(2.032, abs=5e-4)
    assert found.critical == pytest.approx(2.1266, abs=1e-4)      # two-sided, as another library's documentation prints for these data


@pytest.mark.parametrize("count, critical", [(3, 1.1531), (5, 1.6714), (8, 2.0317), (10, 2.1761), (20, 2.5566)])
def test_grubbs_critical_values_are_those_of_the_tables(count, critical):
    """One-sided critical values at 0.05 as tabulated (ASTM E178), seen as transcribed."""
    assert grubbs_critical(count, 0.05, sides=1) == pytest.approx(critical, abs=2e-4)


def test_grubbs_calls_a_normal_heap_an_outlier_one_time_in_twenty():
    chance = np.random.default_rng(3)
    called = np.mean([grubbs(heap).outlier for heap in chance.normal(size=(2000, 8))])
    assert called == pytest.approx(0.05, abs=3 * np.sqrt(0.05 * 0.95 / 2000))


def test_grubbs_counts_places_as_given_and_says_what_it_cannot():
    assert grubbs([np.nan, 1, 1.1, 0.9, np.nan, 9, 1.0, 1.05]).place == 5
    assert "2 of at least 3" in grubbs([1, 2, np.nan]).reason
    assert "alike" in grubbs([2, 2, 2]).reason and grubbs([2, 2, 2]).place == -1


# ---- a line

def test_line_is_the_certified_one():
    """NIST StRD Norris: certified to 15 digits."""
    line = Line(NORRIS_X, NORRIS_Y)
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-13)
    assert line.intercept == pytest.approx(-0.262323073774029, rel=1e-11)
    assert line.slope_error == pytest.approx(0.429796848199937e-03, rel=1e-11)
    assert line.intercept_error == pytest.approx(0.232818234301152, rel=1e-11)
    assert line.residual_deviation**2 == pytest.approx(0.782864662630069, rel=1e-11)


@pytest.mark.parametrize("confidence", [0.9, 0.95])
def test_bands_are_those_of_statsmodels(confidence):
    fitted = sm.OLS(NORRIS_Y, sm.add_constant(NORRIS_X)).fit()
    at = np.array([-100.0, 0.0, 300.0, 1500.0])
    frame = fitted.get_prediction(sm.add_constant(at)).summary_frame(alpha=1 - confidence)
    line = Line(NORRIS_X, NORRIS_Y, confidence)
    assert np.allclose(line.at(at), frame["mean"], rtol=1e-10)
    assert np.allclose(line.confidence_band(at), frame[["mean_ci_lower", "mean_ci_upper"]].T, rtol=1e-9)
    assert np.allclose(line.prediction_band(at), frame[["obs_ci_lower", "obs_ci_upper"]].T, rtol=1e-9)
    assert np.allclose(line.slope_range, fitted.conf_int(1 - confidence)[1])


def test_studentised_residuals_and_the_suspect_are_those_of_statsmodels():
    y = np.array(NORRIS_Y)
    y[9] += 8.0
    fitted = sm.OLS(y, sm.add_constant(NORRIS_X)).fit()
    line = Line(NORRIS_X, y)
    assert np.allclose(line.studentised(), OLSInfluence(fitted).resid_studentized_external, rtol=1e-8)
    suspect = line.suspect()
    table = np.asarray(fitted.outlier_test())
    assert suspect.place == 9 and suspect.outlier and suspect.statistic == pytest.approx(np.abs(table[:, 0]).max())
    assert table[9, 2] < 0.05                               # Bonferroni
    untouched = np.asarray(sm.OLS(NORRIS_Y, sm.add_constant(NORRIS_X)).fit().outlier_test())
    assert Line(NORRIS_X, NORRIS_Y).suspect().outlier == (untouched[:, 2].min() < 0.05)


def test_inside_is_what_was_measured():
    line = Line([1, 2, 3], [1, 2.1, 2.9])
    assert list(line.inside([0.9, 1.0, 3.0, 3.1])) == [False, True, True, False]


@pytest.mark.parametrize("x, y, said", [([1, 2], [1, 2], "at least 3 points; there are 2"), ([], [], "there are 0"), ([1, np.nan, 2], [1, 1, 2],
                                                                                                                      "there are 2"),
                                        ([2, 2, 2], [1, 2, 3], "same x"), ([1, 2, 3], [1, 2], "one y for each x")])
def test_what_makes_no_line_is_said(x, y, said):
    with pytest.raises(Problem, match=said):
        Line(x, y)


def test_few_or_exact_points_have_no_suspect():
    assert "3 of at least 4" in Line([1, 2, 3], [1, 2.1, 2.9]).suspect().reason
    exact = Line([1, 2, 3, 4, 5], [1, 2, 3, 4, 5]).suspect()
    assert not exact.outlier and exact.place == -1
