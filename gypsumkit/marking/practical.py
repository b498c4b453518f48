"""The practical at the bench: what is watched while a candidate works, how the cast is judged, and the forms for it.

One or two markers fill in a form, on paper or as a table (CSV). A safety point that is not met ends the practical: what came before it
keeps its levels, and there is no total until an assessor has decided.
"""

import csv
import io
from pathlib import Path
from typing import NamedTuple

import numpy as np

from gypsumkit.bench.decoding import MOST_BYTES, text_of
from gypsumkit.bench.sheets import as_written, sheet
from gypsumkit.locking import reason
from gypsumkit.marking import pages
from gypsumkit.marking.agreement import agreement, agreement_words, kappa_words
from gypsumkit.problems import Problem, nearest

SAFETY, WATCHED, CAST = "safety", "while working", "the cast"
LEVELS = 3                           # 0, 1, 2 for every criterion that has marks
FIRST_COLUMNS = ("candidate_number", "marker")
MOST_ROWS = 20_000


class Criterion(NamedTuple):
    """One thing that a marker looks at, with what each level means, from 0 up."""

    id: str
    where: str
    words: str
    levels: tuple


def _safe(name, words, broken):
    return Criterion(name, SAFETY, words, (f"not met, the practical ends: {broken}", "met"))


# What the trade does, in our words; common practice, no source.
CRITERIA = (
    _safe("dust", "Keeps powder dust down; eyes covered, mask or dust extraction as the laboratory asks.", "powder is tipped or blown so that it clouds"),
    _safe("skin", "Puts no finger or other part of the body into setting mass.", "a finger is held in or cast into the mass"),
    _safe("machines", "Keeps hands, hair and sleeves off running vibrator and mixer; the mixer runs only closed.", "reaches into a machine that runs"),
    _safe("impression", "Treats the impression as contaminated: gloves on, disinfected as its product says before it is poured.", "pours an impression not disinfected"),
    _safe("drain", "Lets rests set and puts them into the bin; nothing goes down the drain.", "washes plaster into the drain"),
    Criterion("water", WATCHED, "Measures the water", ("poured by eye", "measured, but not read at eye level, or drops lost", "measured, read at eye level at the lowest point of the surface")),
    Criterion("powder", WATCHED, "Weighs the powder", ("by the spoon", "weighed, bowl not set to zero or powder spilt", "weighed to the step of the scale, bowl set to zero")),
    Criterion("order", WATCHED, "Powder into water", ("water onto powder", "powder into water, in one heap", "powder sifted into the water, left to soak before it is stirred")),
    Criterion("spatulation", WATCHED, "Spatulates", ("lumps are left", "smooth, but whipped so that air gets in, or too short", "smooth and even, pressed against the wall, in the time of the product")),
    Criterion("air", WATCHED, "Drives the air out", ("not done", "knocked or vibrated, bubbles still rise", "vibrated until hardly a bubble rises")),
    Criterion("ring", WATCHED, "Ring test", ("not done, or lifted askew", "lifted at another moment than 2 min, or read one way only", "full, level, lifted straight at 2 min, read both ways")),
    Criterion("vibrated", WATCHED, "Impression on the vibrator", ("poured without it", "on the vibrator, but too strong or too long", "gently vibrated while it fills, off before the base")),
    Criterion("side", WATCHED, "Poured from one side", ("from several sides, air shut in", "from one side, in lumps", "in a thin flow from one side, which drives the air before it")),
    Criterion("separated", WATCHED, "Separated after the set", ("while it is warm or soft", "after final set, but levered, or with parts broken", "after final set, in the line of the teeth, whole")),
    Criterion("base", CAST, "Base", ("too thin or loose", "thick enough, askew or rough", "even, level with the biting plane, thick enough to hold")),
    Criterion("surface", CAST, "Working surface", ("bubbles or gaps where work is fitted", "small bubbles beside the places of work, or chalky", "dense, sharp, without a bubble where work is fitted")),
    Criterion("edges", CAST, "Edges", ("edges of the impression missing or broken", "whole, partly rounded or with flash", "whole and sharp all round, turn-over trimmed")),
)
BY_ID = {criterion.id: criterion for criterion in CRITERIA}
WITH_MARKS = tuple(criterion for criterion in CRITERIA if criterion.where != SAFETY)
HEADER = (*FIRST_COLUMNS, *BY_ID)
MOST_MARKS = (LEVELS - 1) * len(WITH_MARKS)
ENDS = "Safety points come first: when one is not met, the practical ends at once and the marker says so."


# ---------------------------------------------------------------------------------------------
# Forms

def form_csv(candidates, marker=""):
    """Return an empty form as a table: a row for each candidate, a column for each criterion.

    Parameters
    ----------
    candidates : sequence of str
        Candidate numbers.
    marker : str
        Initials.

    Returns
    -------
    bytes
    """
    return sheet(HEADER, [(candidate, marker, *("" for _ in BY_ID)) for candidate in candidates])


def form_html(candidates=("",), marker=""):
    """Return the form to print, a page for each candidate, with a box for each level.

    Parameters
    ----------
    candidates : sequence of str
    marker : str

    Returns
    -------
    str
    """
    body = []
    for candidate in candidates:
        body.append(f"<h1>Practical: candidate {pages.safe(candidate or '........')}</h1>\n" + pages.paragraph(f"Marker: {marker or '........'}    Date: ........"))
        body.append(pages.note(ENDS))
        for where, title in ((SAFETY, "Safety"), (WATCHED, "While working"), (CAST, "The cast")):
            rows = [(f"{criterion.words} [{criterion.id}]", *(f"☐ {level}: {words}" for level, words in enumerate(criterion.levels))) for criterion in CRITERIA
                    if criterion.where == where]
            body.append(pages.table(title, ("What is looked at", *(f"{level}" for level in range(len(rows[0]) - 1))), rows))
        body.append(pages.paragraph("Remarks: "))
    return pages.page("Practical, form for the marker", "".join(body))


def form_text():
    """Return the form as plain text, for one candidate."""
    lines = ["PRACTICAL   candidate ........   marker ........   date ........", ENDS]
    for where, title in ((SAFETY, "SAFETY"), (WATCHED, "WHILE WORKING"), (CAST, "THE CAST")):
        lines += ["", title]
        for criterion in CRITERIA:
            if criterion.where == where:
                lines += [f"{criterion.words} [{criterion.id}]", *(f"  [ ] {level}  {words}" for level, words in enumerate(criterion.levels))]
    return "\n".join(lines) + "\n"


class Judged(NamedTuple):
    """What one marker gave one candidate: levels by criterion; None where nothing was filled in."""

    candidate_number: str
    marker: str
    levels: dict


def read_form(path):
    """Read a form that was filled in.

    Parameters
    ----------
    path : path
        A table as `form_csv` makes it: comma or semicolon, any usual encoding.

    Returns
    -------
    tuple of Judged

    Raises
    ------
    Problem
        When it cannot be read, or a cell holds no level; names line and column, and the file stays as it is.
    """
    path = Path(path)
    try:
        with open(path, "rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise Problem(f"{path.name} cannot be read ({reason(error)}).") from None
    return read_form_text(text_of(raw, path.name, len(raw))[0], path.name)


def read_form_text(text, called="The form"):
    """Read the text of a form; see `read_form`."""
    first = text.lstrip("\ufeff").split("\n", 1)[0]
    separator = max(",;\t", key=first.count)
    lines = csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=""), delimiter=separator)
    header = [as_written(cell).strip() for cell in next(lines, [])]
    missing = [name for name in FIRST_COLUMNS if name not in header]
    if missing:
        raise Problem(f"{called}, line 1: the column {missing[0]} is missing; a form begins with {', '.join(HEADER[:4])} …")
    for name in header:
        if name not in HEADER:
            guess = nearest(name, HEADER)
            raise Problem(f"{called}, line 1: there is no criterion “{name[:30]}”" + (f"; do you mean {guess}?" if guess else "."))
    if len(set(header)) != len(header):
        raise Problem(f"{called}, line 1: a column stands there twice.")
    found, seen = [], {}
    for cells in lines:
        where = f"{called}, line {lines.line_num}"
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) != len(header):
            raise Problem(f"{where} has {len(cells)} cells and not {len(header)}.")
        if len(found) >= MOST_ROWS:
            raise Problem(f"{called} has more than {MOST_ROWS:,} rows.")
        row = dict(zip(header, (as_written(cell).strip() for cell in cells)))
        judged = Judged(row.pop("candidate_number"), row.pop("marker"), {name: _level(cell, name, where) for name, cell in row.items()})
        if not judged.candidate_number or not judged.marker:
            raise Problem(f"{where}: candidate_number and marker must both be filled in.")
        if judged[:2] in seen:
            raise Problem(f"{where}: {judged.marker} judged candidate {judged.candidate_number} in line {seen[judged[:2]]} already; keep one of the two.")
        seen[judged[:2]] = lines.line_num
        found.append(judged)
    return tuple(found)


def _level(cell, name, where):
    if cell == "":
        return None
    most = len(BY_ID[name].levels) - 1
    if not cell.isascii() or not cell.isdigit() or int(cell[:3]) > most or len(cell) > 3:
        raise Problem(f"{where}, column {name}: “{cell[:20]}” is not a level; there are {', '.join(str(one) for one in range(most))} and {most}, or nothing.")
    return int(cell)


# ---------------------------------------------------------------------------------------------
# Marks and agreement

class PracticalMark(NamedTuple):
    """What a candidate has from the practical; `marks` is None where it ended at a safety point or something was not filled in."""

    candidate_number: str
    markers: tuple
    marks: float
    out_of: int
    why: str


def practical_marks(judged):
    """Return the marks of the practical: the mean of the markers, criterion by criterion.

    Parameters
    ----------
    judged : sequence of Judged
        From one or two markers.

    Returns
    -------
    tuple of PracticalMark
        In the order of candidate numbers.

    Raises
    ------
    Problem
        When more than two markers judged a candidate.
    """
    by_candidate = {}
    for one in judged:
        by_candidate.setdefault(one.candidate_number, []).append(one)
    return tuple(_mark(candidate, by_candidate[candidate]) for candidate in sorted(by_candidate))


def _mark(candidate, judged):
    markers = tuple(one.marker for one in judged)
    if len(markers) > 2:
        raise Problem(f"Candidate {candidate} was judged by {', '.join(markers)}: at most two markers count.")
    said = []
    for criterion in CRITERIA:
        levels = [one.levels.get(criterion.id) for one in judged]
        if criterion.where == SAFETY and 0 in levels:
            ended = " and ".join(one.marker for one, level in zip(judged, levels) if level == 0)
            said.append(f"ended at a safety point, {criterion.id} ({criterion.levels[0].split(': ', 1)[1]}), by {ended.rstrip('.')}")
    if said:
        return PracticalMark(candidate, markers, None, MOST_MARKS, "The practical " + "; ".join(said) + ". An assessor decides.")
    empty = [criterion.id for criterion in CRITERIA if any(one.levels.get(criterion.id) is None for one in judged)]
    if empty:
        return PracticalMark(candidate, markers, None, MOST_MARKS, f"Not filled in by every marker: {', '.join(empty)}.")
    total = sum(float(np.mean([one.levels[criterion.id] for one in judged])) for criterion in WITH_MARKS)
    lost = [f"{criterion.words.lower()} ({criterion.levels[min(levels)]})" for criterion in WITH_MARKS
            if min(levels := [one.levels[criterion.id] for one in judged]) < LEVELS - 1]
    apart = [criterion.id for criterion in WITH_MARKS if len(judged) == 2 and abs(judged[0].levels[criterion.id] - judged[1].levels[criterion.id]) > 1]
    why = ["Lost: " + "; ".join(lost) + "." if lost else "Everything at the highest level."]
    if apart:
        why.append(f"The markers are two levels apart on {', '.join(apart)}: let them look together.")
    return PracticalMark(candidate, markers, total, MOST_MARKS, " ".join(why))


def markers_agree(judged, kind="linear"):
    """Return how far the two markers agree, on all criteria with marks together and on each.

    Parameters
    ----------
    judged : sequence of Judged
        Of two markers.
    kind : {"linear", "quadratic"}
        Weights of the disagreements.

    Returns
    -------
    dict of str to Agreement
        "all", then by criterion.

    Raises
    ------
    Problem
        When there are not exactly two markers.

    Notes
    -----
    The judgements of one candidate are not independent of each other, so the interval for all criteria together is narrower than it
    should be; it is meant for many judgements.
    """
    markers = sorted({one.marker for one in judged})
    if len(markers) != 2:
        raise Problem(f"Agreement is that of two markers; here {'is' if len(markers) == 1 else 'are'} {len(markers)}: {', '.join(markers) or 'nobody'}.")
    sides = [{one.candidate_number: one.levels for one in judged if one.marker == marker} for marker in markers]
    both = sorted(set(sides[0]) & set(sides[1]))
    pairs = {criterion.id: [[side[candidate].get(criterion.id) for candidate in both] for side in sides] for criterion in WITH_MARKS}
    together = [sum((pair[side] for pair in pairs.values()), []) for side in (0, 1)]
    return {"all": agreement(*together, LEVELS, kind), **{name: agreement(*pair, LEVELS, kind) for name, pair in pairs.items()}}


def practical_csv(marks):
    """Return the marks of the practical as comma-separated text in which no cell runs as a formula."""
    return sheet(PracticalMark._fields, [(one.candidate_number, " ".join(one.markers), one.marks, one.out_of, one.why) for one in marks])


def agreement_lines(judged):
    """Say how far two markers agree: how many judgements are alike and kappa with linear weights, then kappa with quadratic weights."""
    linear, quadratic = (markers_agree(judged, kind)["all"] for kind in ("linear", "quadratic"))
    lines = [agreement_words(linear, "linear")]
    if np.isfinite(quadratic.kappa):
        words = kappa_words(quadratic, "quadratic")
        lines.append(f"{words[0].upper()}{words[1:]}. Kappa is 1 when the two agree throughout, and 0 when they agree as often as chance would have it.")
    return lines
