"""The practical: agreement against published examples, forms that come back as filled in, safety that ends it, record sheets."""

import csv
import io

import numpy as np
import pytest
from statsmodels.stats.inter_rater import cohens_kappa

from gypsumkit.bench.reading import read_bytes
from gypsumkit.marking.agreement import agreement, agreement_of_table, agreement_words, weights_of
from gypsumkit.marking.practical import (BY_ID, CRITERIA, ENDS, HEADER, MOST_MARKS, SAFETY, WITH_MARKS, Judged, agreement_lines, form_csv, form_html, form_text,
                                         markers_agree, practical_csv, practical_marks, read_form, read_form_text)
from gypsumkit.marking.practical_folder import mark_practical, write_forms
from gypsumkit.marking.record_sheets import record_marks
from gypsumkit.mix import predict
from gypsumkit.problems import Problem
from tests.marking.inert import seen

# J. Cohen, Weighted kappa, Psychological Bulletin 70 (1968) 213-220, table 1: 200 cases, three kinds, disagreements weighted 1, 3 and 6.
COHEN = np.array([[88, 10, 2], [14, 40, 6], [18, 10, 12]])
COHEN_AWAY = np.array([[0, 1, 3], [1, 0, 6], [3, 6, 0]])
# Two readers of 19, linear weights: a printout of the FREQ procedure of SAS, as kept among the tests of statsmodels (test_inter_rater.py).
SAS = np.array([[0, 4, 1], [0, 8, 0], [0, 1, 5]])
# Ratings of anxiety of 20 persons by raters 2 and 3, with the results of the package irr for R, as kept among the tests of statsmodels. Nobody
# was given level 5, which irr leaves out.
ANXIETY = np.array([[3, 6, 4, 6, 2, 4, 2, 4, 3, 3, 2, 3, 3, 3, 2, 2, 1, 3, 3, 4], [2, 1, 4, 4, 3, 2, 1, 6, 1, 1, 1, 2, 3, 3, 1, 1, 3, 3, 2, 2]])


# ---- agreement

def test_the_published_example_of_weighted_kappa():
    found = agreement_of_table(COHEN, 1 - COHEN_AWAY / 6)
    assert found.kappa == pytest.approx(0.348, abs=0.0005) and found.judgements == 200 and found.same == 140
    assert agreement_of_table(COHEN, np.eye(3)).kappa == pytest.approx(0.492, abs=0.0005)


def test_a_published_printout_with_its_interval():
    found = agreement_of_table(SAS, weights_of(3, "linear"))
    assert (found.kappa, found.standard_error) == pytest.approx((0.4701, 0.1457), abs=0.00005)
    whole = agreement_of_table(SAS, np.eye(3))
    assert (whole.kappa, whole.standard_error) == pytest.approx((0.4842, 0.1380), abs=0.00005)
    # 19 are fewer than 20: no interval is shown. As if there were the same twice, its standard error is smaller by the square root of 2.
    assert np.isnan(found.low) and "fewer than 20" in found.reason
    twice = agreement_of_table(2 * SAS, weights_of(3, "linear"))
    half = (0.7558 - 0.1845) / 2 / np.sqrt(2)
    assert (twice.low, twice.high) == pytest.approx((0.4701 - half, 0.4701 + half), abs=0.0001)


@pytest.mark.parametrize("kind, kappa", [("none", -0.006289308), ("linear", 0.1459075), ("quadratic", 0.2520325)])
def test_published_ratings_with_each_kind_of_weights(kind, kappa):
    first, second = np.where(ANXIETY == 6, 5, ANXIETY) - 1
    assert agreement(first, second, 5, kind).kappa == pytest.approx(kappa, abs=5e-8)


@pytest.mark.parametrize("kind", ["linear", "quadratic", "none"])
@pytest.mark.parametrize("seed", range(4))
def test_a_general_library_gives_the_same(kind, seed):
    draw = np.random.default_rng(seed)
    first = draw.integers(0, 4, 90)
    second = np.clip(first + draw.integers(-1, 2, 90), 0, 3)
    table = np.zeros((4, 4))
    np.add.at(table, (first, second), 1)
    wanted = cohens_kappa(table, wt=None if kind == "none" else kind)
    found = agreement(first, second, 4, kind)
    assert (found.kappa, found.standard_error) == pytest.approx((wanted.kappa, wanted.std_kappa), abs=1e-12)
    assert (found.low, found.high) == pytest.approx((max(wanted.kappa_low, -1), min(wanted.kappa_upp, 1)), abs=1e-9)


def test_the_interval_holds_what_is_true_as_often_as_it_says():
    draw = np.random.default_rng(2)
    share = np.array([[0.25, 0.06, 0.02], [0.05, 0.24, 0.07], [0.01, 0.05, 0.25]])
    true = agreement_of_table(1e6 * share, weights_of(3, "quadratic")).kappa
    held = 0
    for _ in range(600):
        found = agreement_of_table(draw.multinomial(120, share.ravel()).reshape(3, 3), weights_of(3, "quadratic"))
        held += found.low <= true <= found.high
    assert 0.91 <= held / 600 <= 0.98


def test_what_cannot_be_said_is_said():
    assert "nothing was judged by both" in agreement([None, 1], [1, None], 3).reason
    assert "same level throughout" in agreement([2] * 30, [2] * 30, 3).reason
    assert agreement_words(agreement([2] * 30, [2] * 30, 3), "linear").startswith("Agreement of the two markers: both gave")
    assert agreement([0, 1, 2] * 10, [0, 1, 2] * 10, 3).kappa == 1


# ---- forms

def level_of(criterion, level):
    return len(criterion.levels) - 1 if criterion.where == SAFETY else level


def judged(candidate, marker, level=2, **changed):
    return Judged(candidate, marker, {**{criterion.id: level_of(criterion, level) for criterion in CRITERIA}, **changed})


def filled(rows, separator=","):
    text = io.StringIO()
    writer = csv.writer(text, delimiter=separator)
    writer.writerow(HEADER)
    writer.writerows([(one.candidate_number, one.marker, *("" if one.levels[name] is None else one.levels[name] for name in BY_ID)) for one in rows])
    return text.getvalue()


def test_criteria_are_those_of_the_bench():
    assert len(BY_ID) == len(CRITERIA) and {"water", "order", "spatulation", "air", "ring", "vibrated", "side", "separated", "base", "surface", "edges"} <= set(BY_ID)
    assert all(len(criterion.levels) == (2 if criterion.where == SAFETY else 3) and len(set(criterion.levels)) == len(criterion.levels) for criterion in CRITERIA)
    assert all("ends" in criterion.levels[0] for criterion in CRITERIA if criterion.where == SAFETY)


def test_forms_hold_every_criterion_and_every_level():
    page, text = " ".join(seen(form_html(("1001", "<b>1002"), "A.B.")).text), form_text()
    for criterion in CRITERIA:
        assert page.count(criterion.words) >= 2 and criterion.words in text and all(level in page and level in text for level in criterion.levels)
    assert ENDS in page and ENDS in text and "<b>1002" in page
    rows = list(csv.reader(io.StringIO(form_csv(["1001", "=1+1"], "A.B.").decode("utf-8-sig"))))
    assert tuple(rows[0]) == HEADER and rows[2][0] == "'=1+1"


@pytest.mark.parametrize("separator", [",", ";"])
def test_a_form_comes_back_as_it_was_filled_in(tmp_path, separator):
    rows = (judged("1001", "A.B."), judged("1002", "A.B.", 1, ring=0, edges=None))
    path = tmp_path / "form.csv"
    path.write_text(filled(rows, separator), encoding="utf-8-sig")
    assert read_form(path) == rows
    assert read_form_text(form_csv(["1001"], "A.B.").decode("utf-8-sig"))[0].levels["water"] is None


@pytest.mark.parametrize("change, says", [
    (lambda text: text.replace("water", "watre"), "no criterion “watre”; do you mean water?"), (lambda text: text.replace("marker", "who"), "column marker is missing"),
    (lambda text: text.replace("1001,A.B.,1", "1001,A.B.,3"), "line 2, column dust: “3” is not a level"), (lambda text: text.replace("1001,A.B.,1", "1001,A.B.,²"), "not a level"),
    (lambda text: text + text.split("\r\n", 1)[1], "in line 2 already"), (lambda text: text.replace("1001,A.B.", "1001,"), "must both be filled in"),
    (lambda text: text + "1,2\r\n", "has 2 cells"), (lambda text: "", "is missing"),
])
def test_a_form_that_cannot_be_is_refused_in_a_sentence(change, says):
    with pytest.raises(Problem) as refused:
        read_form_text(change(filled([judged("1001", "A.B.")])), "form.csv")
    assert says in str(refused.value) and "\n" not in str(refused.value)


def test_a_missing_file_is_said(tmp_path):
    with pytest.raises(Problem, match="cannot be read"):
        read_form(tmp_path / "none.csv")


# ---- marks

def test_marks_are_the_mean_of_the_markers():
    found = practical_marks([judged("1001", "A.B."), judged("1002", "A.B.", ring=1), judged("1002", "C.D.", ring=2, air=1)])
    assert [one.marks for one in found] == [MOST_MARKS, MOST_MARKS - 1] and MOST_MARKS == 2 * len(WITH_MARKS)
    assert found[0].why == "Everything at the highest level." and "ring test (lifted at another moment" in found[1].why and "drives the air out" in found[1].why


def test_a_safety_point_ends_the_practical():
    one, two, half = practical_marks([judged("1001", "A.B.", skin=0), judged("1002", "A.B."), judged("1002", "C.D.", drain=0), judged("1003", "A.B.", water=None)])
    assert one.marks is None and "ended at a safety point, skin" in one.why and "An assessor decides" in one.why
    assert two.marks is None and "by C.D." in two.why
    assert half.marks is None and "Not filled in by every marker: water" in half.why
    assert b"ended at a safety point" in practical_csv([one])


def test_markers_far_apart_are_sent_to_look_together():
    found = practical_marks([judged("1001", "A.B.", surface=0), judged("1001", "C.D.")])[0]
    assert "two levels apart on surface" in found.why
    with pytest.raises(Problem, match="at most two"):
        practical_marks([judged("1001", one) for one in "ABC"])


def test_agreement_is_over_all_candidates_and_criteria():
    draw = np.random.default_rng(5)
    rows, table = [], np.zeros((3, 3))
    for i in range(8):
        first = {criterion.id: int(draw.integers(0, 3)) for criterion in WITH_MARKS}
        second = {name: int(np.clip(level + draw.integers(-1, 2), 0, 2)) for name, level in first.items()}
        rows += [judged(str(i), "A.B.", **first), judged(str(i), "C.D.", **second)]
        np.add.at(table, (list(first.values()), list(second.values())), 1)
    for kind in ("linear", "quadratic"):
        assert markers_agree(rows, kind)["all"].kappa == pytest.approx(cohens_kappa(table, wt=kind).kappa)
    assert markers_agree(rows)["ring"].judgements == 8 and len(agreement_lines(rows)) == 2 and "quadratic" in agreement_lines(rows)[1]
    assert " ".join(agreement_lines(rows)).count("judgements are alike") == 1, "the same count is said once"
    with pytest.raises(Problem, match="two markers"):
        markers_agree(rows[:1])


# ---- record sheets

SHEET = ("record_id,made_by,powder,powder_g,water_ml,mixing,turns,water_temperature_c,spread_one_mm,spread_two_mm,final_set_min\n"
         "1,bench 4,dental stone,100,30,spatulated by hand,180,22,{},{},{}\n")


def marks_of(*cells):
    return {one.criterion: one for one in record_marks(read_bytes(SHEET.format(*cells).encode()))}


def test_a_whole_sheet_has_all_marks():
    spread = round(float(predict("dental stone", [0.30])["spread_mm"].value[0]), 1)
    found = marks_of(spread, spread, 15)
    assert all(one.marks == one.out_of for one in found.values()) and set(found) == {"recipe complete", "units and cells", "spread both ways", "ring spread in range", "final set in range"}
    assert f"{spread:g} mm lies within" in found["ring spread in range"].why


def test_what_is_missing_or_outside_is_said():
    found = marks_of(150, "", 13)
    assert found["spread both ways"].marks == 0 and "one direction" in found["spread both ways"].why
    assert found["ring spread in range"].marks is None and found["ring spread in range"].by_hand and "150 mm lies outside" in found["ring spread in range"].why
    broken = SHEET.replace("spatulated by hand,180,22", ",,").format(40, 40, 13)
    recipe = next(one for one in record_marks(read_bytes(broken.encode())) if one.criterion == "recipe complete")
    assert recipe.marks == 0 and "mixing, water temperature" in recipe.why
    doubtful = {one.criterion: one for one in record_marks(read_bytes(SHEET.replace(",30,", ",0.3 kg per,").format(40, 40, 13).encode()))}
    assert doubtful["units and cells"].marks == 0 and "Line 2" in doubtful["units and cells"].why and doubtful["units and cells"].by_hand
    assert doubtful["ring spread in range"].marks is None and "could not be compared" in doubtful["ring spread in range"].why


# ---- in the folder of an examination

def test_forms_and_record_sheets_lie_in_the_folder(tmp_path):
    with pytest.raises(Problem, match="Nothing is filled in yet"):
        mark_practical(tmp_path)
    printed, empty = write_forms(tmp_path, ["1001", "1002"])
    assert printed.suffix == ".html" and empty.read_bytes() == form_csv(["1001", "1002"])
    with pytest.raises(Problem, match="Nothing is filled in yet"):
        mark_practical(tmp_path)
    write_forms(tmp_path, ["1001"])
    assert empty.read_bytes() == form_csv(["1001", "1002"]), "a form that is there is not written over"
    for marker in ("A.B.", "C.D."):
        (tmp_path / "practical" / f"{marker}csv").write_text(filled([judged("1001", marker), judged("1002", marker, 1, ring=0)]), encoding="utf-8")
    (tmp_path / "practical" / "records" / "1001.csv").write_text(SHEET.format(150, 150, 15), encoding="utf-8")
    (tmp_path / "practical" / "records" / "1002.csv").write_bytes(b"\x00\x01\x02")
    found = mark_practical(tmp_path)
    assert [one.marks for one in found.marks] == [MOST_MARKS, len(WITH_MARKS) - 1]
    assert found.said[0].startswith("2 candidates were judged by A.B., C.D.")
    assert any("Kappa with quadratic weights 1.00" in one for one in found.said) and found.said[-1].startswith("1002.csv: ") and found.said[-1].count("1002.csv") == 1
    assert any("1 record sheets are marked; 1 values wait" in one for one in found.said)
    assert (tmp_path / "marks" / "practical.csv").is_file() and b"ring spread in range" in (tmp_path / "marks" / "records.csv").read_bytes()
