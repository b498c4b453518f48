"""What the marks say about the questions: difficulty, discrimination, reliability, wrong options; always with the number of answers.

Below about 30 answers only the numbers are shown and no question is judged: they would change too much with another class.
"""

from collections import Counter
from typing import NamedTuple

import numpy as np
from scipy.special import fdtri, ndtri

LEAST_FOR_A_VERDICT = 30             # answers; below it a correlation of 0.2 cannot be told from none at all                  [gypsumkit]
GROUP_SHARE = 0.27                   # of the candidates, in the upper and in the lower group                                 [kelley_1939]
LOW_DISCRIMINATION = 0.2             # below it a question hardly tells strong and weak candidates apart                      [ebel_1991]
TOO_HARD, TOO_EASY = 0.1, 0.95       # share of the marks beyond which it cannot tell them apart                              [gypsumkit]
MOST_WAITING = 0.1                   # a part for which more of the answers still wait for an assessor is left out            [gypsumkit]
CONFIDENCE = 0.95
MOST_OPTIONS = 8                     # the distinct answers that are shown one by one; others are counted together            [gypsumkit]


class PaperPart(NamedTuple):
    """One part of the paper: the place it has there, the task it comes from and its marks."""

    task_number: int
    task_id: str
    label: str
    out_of: float

    @property
    def words(self):
        """How it is called."""
        return f"{self.task_number} ({self.label})"


class ItemStatistics(NamedTuple):
    """What the answers say about one part; not a number where it cannot be worked out, an empty verdict where nothing stands against it."""

    part: PaperPart
    answers: int
    difficulty: float
    discrimination: float
    correlation: float
    correlation_low: float
    correlation_high: float
    verdict: str


class Reliability(NamedTuple):
    """How well the paper as a whole tells candidates apart."""

    candidates: int
    parts: int
    alpha: float
    alpha_low: float
    alpha_high: float
    kr20: float                      # not a number unless every part was marked all or nothing
    standard_deviation: float
    standard_error: float
    reason: str                      # why there is no number; else ""


class Distractor(NamedTuple):
    """One answer to a question with options: who gave it."""

    answer: str
    full_marks: bool                 # most of those who gave it were given full marks
    count: int
    share: float
    upper: float                     # of the upper group, its share that gave it
    lower: float
    mean_rest: float                 # mean share of the marks on the other parts, of those who gave it


class ItemAnalysis(NamedTuple):
    """All of it together."""

    items: tuple
    reliability: Reliability
    left_out: tuple                  # parts that still wait for an assessor
    not_counted: int                 # candidates with a part that waits, who count for the difficulty only


# ---------------------------------------------------------------------------------------------
# Pure statistics on a table of marks: a row for each candidate, a column for each part

def difficulty(marks, out_of):
    """Share of the marks that was given, part for part: the larger, the easier.

    Parameters
    ----------
    marks : array, candidates by parts
        Not a number where nothing is marked yet.
    out_of : array
        Marks of each part.

    Returns
    -------
    array

    Notes
    -----
    Mean of the marks over the most that could be had; for a part marked 0 or 1 the share who are right. Definition as in [ebel_1991].
    """
    marks = np.asarray(marks, dtype=float)
    there = np.isfinite(marks)
    count = there.sum(axis=0)
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.where(count > 0, np.where(there, marks, 0.0).sum(axis=0) / count, np.nan) / np.asarray(out_of, dtype=float)


def groups(totals, share=GROUP_SHARE):
    """How much each candidate belongs to the upper and to the lower group.

    Parameters
    ----------
    totals : array
        Total of each candidate.
    share : float
        Of the candidates, in each group.

    Returns
    -------
    (array, array)
        Weights from 0 to 1, each adding up to the size of a group.

    Notes
    -----
    Groups of 27 % [kelley_1939], rounded to whole candidates, at least one. Candidates with equal totals at the edge of a group share
    the places that are left, so that nothing depends on the order of the list (ours).
    """
    totals = np.asarray(totals, dtype=float)
    size = min(max(int(np.floor(share * totals.size + 0.5)), 1), totals.size)
    return _highest(totals, size), _highest(-totals, size)


def _highest(totals, size):
    edge = np.partition(totals, totals.size - size)[totals.size - size]
    above, at = totals > edge, totals == edge
    return above + at * ((size - above.sum()) / at.sum())


def discrimination(marks, out_of, share=GROUP_SHARE):
    """Difficulty in the upper group less that in the lower group, from -1 to 1.

    Parameters
    ----------
    marks : array, candidates by parts, all marked
    out_of : array
        Marks of each part.
    share : float
        Of the candidates, in each group.

    Returns
    -------
    array

    Notes
    -----
    Upper and lower 27 % by total [kelley_1939]. Read as in [ebel_1991]: 0.4 and more very good, below 0.2 poor.
    """
    marks = np.asarray(marks, dtype=float)
    if len(marks) < 2:
        return np.full(marks.shape[1], np.nan)
    upper, lower = groups(marks.sum(axis=1), share)
    return (upper @ marks / upper.sum() - lower @ marks / lower.sum()) / np.asarray(out_of, dtype=float)


def point_biserial(marks):
    """Correlation of each part with the sum of the other parts.

    Parameters
    ----------
    marks : array, candidates by parts, all marked

    Returns
    -------
    array
        Not a number where all candidates have the same marks.

    Notes
    -----
    The product-moment correlation of the part with the total less the part itself; with a part marked 0 or 1 this is the point-biserial
    correlation. Without leaving the part out it would correlate with itself [henrysson_1963].
    """
    marks = np.asarray(marks, dtype=float)
    if len(marks) < 3:
        return np.full(marks.shape[1], np.nan)
    away = marks - marks.mean(axis=0)
    rest = away.sum(axis=1, keepdims=True) - away
    own, other = (away**2).sum(axis=0), (rest**2).sum(axis=0)
    least = 1e-12 * max(float((marks**2).sum()), 1e-300)
    with np.errstate(invalid="ignore", divide="ignore"):
        found = np.where((own > least) & (other > least), (away * rest).sum(axis=0) / np.sqrt(own * other), np.nan)
    return np.clip(found, -1.0, 1.0)


def correlation_range(correlation, count, confidence=CONFIDENCE):
    """Return low and high between which the correlation of very many such candidates lies.

    Parameters
    ----------
    correlation : float or array
    count : int
        Candidates.
    confidence : float

    Returns
    -------
    (array, array)
        Not numbers with fewer than 4 candidates.

    Notes
    -----
    tanh(artanh r ± z / sqrt(n - 3)) [fisher_1921].
    """
    correlation = np.asarray(correlation, dtype=float)
    if count < 4:
        return np.full(correlation.shape, np.nan), np.full(correlation.shape, np.nan)
    half = ndtri(0.5 + confidence / 2) / np.sqrt(count - 3)
    middle = np.arctanh(np.clip(correlation, -1 + 1e-12, 1 - 1e-12))
    return np.tanh(middle - half), np.tanh(middle + half)


def cronbach_alpha(marks):
    """Cronbach's alpha: reliability of the total, from how the parts vary together.

    Parameters
    ----------
    marks : array, candidates by parts, all marked

    Returns
    -------
    float
        1 or less; not a number with fewer than two parts or where all totals are equal.

    Notes
    -----
    k/(k - 1) (1 - sum of the variances of the parts / variance of the totals) [cronbach_1951].
    """
    marks = np.asarray(marks, dtype=float)
    parts = marks.shape[1]
    if parts < 2 or len(marks) < 2:
        return np.nan
    of_total = float(np.var(marks.sum(axis=1)))
    if of_total <= 1e-12 * max(float(np.mean(marks**2)), 1e-300):
        return np.nan
    return parts / (parts - 1) * (1.0 - float(np.var(marks, axis=0).sum()) / of_total)


def kr20(right):
    """Kuder and Richardson's formula 20: reliability of a paper whose parts are right or wrong.

    Parameters
    ----------
    right : array, candidates by parts
        1 where right, 0 where wrong.

    Returns
    -------
    float

    Notes
    -----
    k/(k - 1) (1 - sum of p q / variance of the totals), p the share who are right, q the others; all variances over n, not n - 1
    [kuder_1937]. The same as Cronbach's alpha of such a table.
    """
    right = np.asarray(right, dtype=float)
    if right.shape[1] < 2 or len(right) < 2 or not np.isin(right, (0.0, 1.0)).all():
        return np.nan
    p, of_total = right.mean(axis=0), float(np.var(right.sum(axis=1)))
    return right.shape[1] / (right.shape[1] - 1) * (1.0 - float((p * (1 - p)).sum()) / of_total) if of_total > 0 else np.nan


def alpha_range(alpha, candidates, parts, confidence=CONFIDENCE):
    """Return low and high between which the alpha of very many such candidates lies.

    Parameters
    ----------
    alpha : float
    candidates, parts : int
    confidence : float

    Returns
    -------
    (float, float)

    Notes
    -----
    (1 - alpha) over (1 - the sample's alpha) follows F with n - 1 and (n - 1)(k - 1) degrees of freedom [feldt_1965].
    """
    if not np.isfinite(alpha) or candidates < 2 or parts < 2:
        return np.nan, np.nan
    freedom, more = candidates - 1, (candidates - 1) * (parts - 1)
    return tuple(float(1.0 - (1.0 - alpha) * fdtri(freedom, more, share)) for share in (0.5 + confidence / 2, 0.5 - confidence / 2))


def standard_error(standard_deviation, alpha):
    """Standard error of measurement of a total, in marks.

    Parameters
    ----------
    standard_deviation : float
        Of the totals.
    alpha : float
        Reliability; below 0 it counts as 0.

    Returns
    -------
    float

    Notes
    -----
    s sqrt(1 - reliability) [lord_1968]: about two thirds of the candidates would have a total within one such step of the one they
    have, were they asked again with equal questions.
    """
    return float(standard_deviation * np.sqrt(1.0 - max(alpha, 0.0)))


def reliability(marks, out_of):
    """Reliability of a table of marks.

    Parameters
    ----------
    marks : array, candidates by parts, all marked
    out_of : array
        Marks of each part.

    Returns
    -------
    Reliability
    """
    marks, out_of = np.asarray(marks, dtype=float), np.asarray(out_of, dtype=float)
    candidates, parts = marks.shape
    missing = (f"not enough: {candidates} of at least 2 candidates" if candidates < 2 else f"not enough: {parts} of at least 2 parts" if parts < 2 else "")
    if missing:
        return Reliability(candidates, parts, *(np.nan,) * 6, missing)
    alpha = cronbach_alpha(marks)
    deviation = float(np.std(marks.sum(axis=1), ddof=1))
    if not np.isfinite(alpha):
        return Reliability(candidates, parts, *(np.nan,) * 4, deviation, np.nan, "all candidates have the same total")
    shares = marks / out_of
    whole = np.isin(shares, (0.0, 1.0)).all() and np.ptp(out_of) == 0
    return Reliability(candidates, parts, alpha, *alpha_range(alpha, candidates, parts), kr20(shares) if whole else np.nan, deviation,
                       standard_error(deviation, alpha), "")


def distractors(answers, shares, rest):
    """Who gave which answer to a question with options.

    Parameters
    ----------
    answers : sequence of str
        The answer of each candidate as it was read; "" where nothing was answered.
    shares : array
        Share of the marks that each was given.
    rest : array
        Share of the marks of the other parts that each was given.

    Returns
    -------
    tuple of Distractor
        The commonest first; more than eight different ones are put together as "other answers".

    Notes
    -----
    A wrong option that nobody takes helps nobody; one that the upper group takes more often than the lower is perhaps right
    [ebel_1991].
    """
    answers = np.array([" ".join(str(answer).split()) or "no answer" for answer in answers], dtype=object)
    shares, rest = np.asarray(shares, dtype=float), np.asarray(rest, dtype=float)
    if not answers.size:
        return ()
    often = Counter(answers.tolist())
    shown = sorted(often, key=lambda answer: (-often[answer], answer))
    if len(shown) > MOST_OPTIONS:
        kept = set(shown[:MOST_OPTIONS - 1])
        answers = np.array([answer if answer in kept else "other answers" for answer in answers], dtype=object)
        shown = [*shown[:MOST_OPTIONS - 1], "other answers"]
    upper, lower = groups(rest)
    found = []
    for answer in shown:
        gave = answers == answer
        found.append(Distractor(answer, bool(np.mean(shares[gave] >= 1.0) > 0.5), int(gave.sum()), float(gave.mean()),
                                float(upper @ gave / upper.sum()), float(lower @ gave / lower.sum()), float(rest[gave].mean())))
    return tuple(found)


# ---------------------------------------------------------------------------------------------
# The marks of an examination

def table_of_marks(marks):
    """Return the marks of an examination as a table.

    Parameters
    ----------
    marks : gypsumkit.marking.marks.Marks

    Returns
    -------
    (tuple of str, tuple of PaperPart, array)
        Candidate numbers, parts in the order of the paper, marks of candidates by parts: not a number where a mark waits or is missing.
    """
    candidates = marks.candidates
    parts = sorted({(row.task_number, row.task_id, row.label, row.out_of) for row in marks.rows})
    parts = tuple(PaperPart(*part) for part in parts)
    row_of, column_of = {candidate: i for i, candidate in enumerate(candidates)}, {part: i for i, part in enumerate(parts)}
    table = np.full((len(candidates), len(parts)), np.nan)
    for row in marks.rows:
        if row.marks is not None:
            table[row_of[row.candidate_number], column_of[row.task_number, row.task_id, row.label, row.out_of]] = row.marks
    return candidates, parts, table


def item_analysis(marks):
    """Work out what the marks of an examination say about its parts.

    Parameters
    ----------
    marks : gypsumkit.marking.marks.Marks

    Returns
    -------
    ItemAnalysis

    Notes
    -----
    Parts of which more than a tenth of the answers wait for an assessor are left out and named. Of the rest, candidates with a part that
    waits count for its difficulty elsewhere, and not for what compares parts with totals.
    """
    _, parts, table = table_of_marks(marks)
    if not parts:
        return ItemAnalysis((), Reliability(0, 0, *(np.nan,) * 6, "not enough: nobody has marks yet"), (), 0)
    waits = np.isnan(table)
    used = waits.mean(axis=0) <= MOST_WAITING
    left_out = tuple(part for part, use in zip(parts, used) if not use)
    parts = tuple(part for part, use in zip(parts, used) if use)
    table, out_of = table[:, used], np.array([part.out_of for part in parts])
    if not parts:
        return ItemAnalysis((), Reliability(len(table), 0, *(np.nan,) * 6, "every part still waits for an assessor"), left_out, len(table))
    whole = table[~np.isnan(table).any(axis=1)]
    easy = difficulty(table, out_of)
    count = np.isfinite(table).sum(axis=0)
    told_apart, correlation = discrimination(whole, out_of), point_biserial(whole)
    low, high = correlation_range(correlation, len(whole))
    items = tuple(ItemStatistics(part, int(count[i]), float(easy[i]), float(told_apart[i]), float(correlation[i]), float(low[i]), float(high[i]),
                                 verdict(easy[i], correlation[i], low[i], high[i], len(whole)))
                  for i, part in enumerate(parts))
    return ItemAnalysis(items, reliability(whole, out_of), left_out, len(table) - len(whole))


def verdict(easy, correlation, low, high, answers):
    """Say what is doubtful about a question; nothing below 30 answers.

    Parameters
    ----------
    easy : float
        Its difficulty.
    correlation, low, high : float
        Its correlation with the rest, and the range of that.
    answers : int
        How many there are.

    Returns
    -------
    str
        Empty where nothing stands against it, or where the answers are too few to say.

    Notes
    -----
    Poor only where even the upper end of the range lies below 0.2 [ebel_1991]; else by chance it may be a good one. Ours.
    """
    if answers < LEAST_FOR_A_VERDICT:
        return ""
    if easy > TOO_EASY:
        return "too easy to tell candidates apart"
    if easy < TOO_HARD:
        return "too hard to tell candidates apart, or its key is wrong"
    if not np.isfinite(correlation):
        return ""
    if high < LOW_DISCRIMINATION:
        return ("poor: those who did well elsewhere did worse here; look at its key first" if high < 0
                else "poor: it hardly tells strong and weak candidates apart")
    return "look at it again: it tells candidates apart weakly, which may be chance" if correlation < LOW_DISCRIMINATION else ""


def distractor_tables(marks, with_options):
    """Return who gave which answer, for the parts with options; an answer is called as in `MarkRow.chosen` where that is known.

    Parameters
    ----------
    marks : gypsumkit.marking.marks.Marks
    with_options : callable
        Takes a task id and a label, and returns whether that part has options.

    Returns
    -------
    dict of PaperPart to tuple of Distractor
    """
    candidates, parts, table = table_of_marks(marks)
    chosen = [i for i, part in enumerate(parts) if with_options(part.task_id, part.label)]
    if not chosen:
        return {}
    answers = {(row.candidate_number, row.task_number, row.label): row.chosen or row.answer for row in marks.rows}
    out_of = np.array([part.out_of for part in parts])
    there = np.isfinite(table)
    sums, most = np.where(there, table, 0.0).sum(axis=1), (there * out_of).sum(axis=1)
    found = {}
    for i in chosen:
        gave = there[:, i]
        left = most[gave] - out_of[i]
        rest = np.divide(sums[gave] - table[gave, i], left, out=np.zeros(int(gave.sum())), where=left > 0)
        typed = [answers[candidate, parts[i].task_number, parts[i].label] for candidate, was_marked in zip(candidates, gave) if was_marked]
        found[parts[i]] = distractors(typed, table[gave, i] / out_of[i], rest)
    return found


# ---------------------------------------------------------------------------------------------
# In words

def reliability_words(found):
    """Say how well a paper tells candidates apart.

    Parameters
    ----------
    found : Reliability

    Returns
    -------
    str
    """
    if found.reason:
        return f"Reliability: {found.reason}."
    few = "" if found.candidates >= LEAST_FOR_A_VERDICT else (f" {found.candidates} candidates are fewer than {LEAST_FOR_A_VERDICT}: "
                                                             "with another class this may be quite different.")
    formula = f" By Kuder and Richardson's formula 20 it is {found.kr20:.2f}." if np.isfinite(found.kr20) else ""
    return (f"Reliability of the total (Cronbach's alpha) {found.alpha:.2f}, 95 % sure {found.alpha_low:.2f} to {found.alpha_high:.2f}, from "
            f"{found.candidates} candidates and {found.parts} parts.{formula} Standard error of measurement {found.standard_error:.1f} marks: "
            f"a total is known to about that much.{few}")
