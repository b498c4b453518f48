"""The report on a class: how the marks lie, what the questions are worth, what was found on the files, and what an assessor changed.

It is plain HTML and two tables (CSV). Nothing in it judges a person: equal answers are reported, not judged, and a question is called
poor only where the number of answers allows it.
"""

import re
from collections import Counter
from pathlib import Path

import numpy as np

from gypsumkit.bench.conformity import share_interval
from gypsumkit.bench.sheets import sheet
from gypsumkit.files import writing_into
from gypsumkit.marking import pages
from gypsumkit.marking.blueprint import read_paper
from gypsumkit.marking.feedback import PROVISIONAL
from gypsumkit.marking.grades import standing
from gypsumkit.marking.item_statistics import LEAST_FOR_A_VERDICT, distractor_tables, item_analysis, reliability_words
from gypsumkit.marking.moderation import Decisions, by_question, changes_words, open_rows, said
from gypsumkit.marking.task_bank import find_task
from gypsumkit.marking.tasks import BY_HAND_WHY, NOT_READ_WHY
from gypsumkit.problems import Problem
from gypsumkit.showing import rounded

REPORT_FILE, CANDIDATES_FILE, ITEMS_FILE = "report.html", "report.csv", "items.csv"
MOST_FINDINGS = 40                   # of one kind, in the report; all of them stand in findings.csv
MOST_LISTED = 60                     # of other long lists
MOST_OF_A_QUESTION = 20              # answers to look at, in the report; all of them stand in marks.csv
STEP_PERCENT = 10                    # of the distribution
LONG_ANSWER, LEAST_EQUAL_PARTS, LONGEST_ANSWER_SHOWN = 40, 3, 400
EQUAL_WORDS = "Reported, not judged: equal answers may have many reasons, and nothing was taken away for them."
NOT_RUN = "code by hand"
NAMED = ("Options and slips as they stand in the bank, whatever their letter was in a paper; a name in braces stands for a number of each candidate's own. A wrong "
         "option that the best take more often than the last may be right.")
ITEM_HEADS = ("Part", "task", "marks", "answers", "difficulty", "discrimination", "with the rest", "95 % sure", "to look at")
DEFINITIONS = (
    "Difficulty: mean share of the marks, 1 when everybody has full marks. Discrimination: difficulty among the best 27 % less that among the last 27 % "
    "(Kelley 1939). With the rest: correlation of the part with the sum of all other parts, the point-biserial correlation where a part is right or wrong "
    "(Henrysson 1963). Cronbach's alpha (1951) and formula 20 of Kuder and Richardson (1937) say how alike the parts rank the candidates. These figures "
    "describe this class on this paper, not the questions for ever.")


# ---------------------------------------------------------------------------------------------
# What the bank knows of a part

def part_of(task_id, label):
    """Return a part as it is written in the bank, or None where the bank has none."""
    try:
        parts = find_task(task_id).parts
    except Problem:
        return None
    place = ord(label[0]) - ord("a") if label else -1
    return parts[place] if 0 <= place < len(parts) else None


def has_options(task_id, label):
    """Return whether a part has options or known slips, so that its wrong answers can be counted."""
    part = part_of(task_id, label)
    return part is not None and part.kind in ("choice", "several", "number", "code")


def answer_words(task_id, label, chosen):
    """Say an answer as it is called in the marks: "option 3" with the words of the option, "slip 2" with the reason."""
    part, found = part_of(task_id, label), re.fullmatch(r"(option|slip) (\d+)", chosen)
    if chosen == "key":
        return "the right answer"
    if chosen == "nothing":
        return "no answer"
    if part is None or not found:
        return chosen
    listed, place = getattr(part, "options" if found[1] == "option" else "slips", ()), int(found[2]) - 1
    if not 0 <= place < len(listed):
        return chosen
    text = getattr(listed[place], "text", None) or getattr(listed[place], "why", "")
    return f"{chosen}: {text}"


# ---------------------------------------------------------------------------------------------
# Equal answers

def equal_answers(marks):
    """Return groups of papers with equal answers, for the assessor's eye.

    Parameters
    ----------
    marks : gypsumkit.marking.marks.Marks

    Returns
    -------
    tuple of (str, tuple of str)
        What is equal, and the candidate numbers.

    Notes
    -----
    Numbers differ from paper to paper, so two papers with the same numbers and texts throughout are unusual; so is the same long text.
    Capitals and blanks are not looked at, nor are answers chosen or put in order from what the paper offers: those are often alike.
    """
    whole, long, offered = {}, {}, {}
    for candidate, rows in marks.by_candidate.items():
        typed = []
        for row in rows:
            key = row.task_id, row.label
            if key not in offered:
                offered[key] = getattr(part_of(*key), "kind", "") in ("choice", "several", "order")
            text = "" if offered[key] or row.chosen.startswith("option") else " ".join(row.answer.lower().split())
            if text:
                typed.append((row.task_number, row.label, text))
        if len(typed) >= LEAST_EQUAL_PARTS:
            whole.setdefault(tuple(typed), []).append(candidate)
        for one in typed:
            if len(one[2]) >= LONG_ANSWER:
                long.setdefault(one, []).append(candidate)
    all_equal = {tuple(group) for group in whole.values() if len(group) > 1}
    found = [("all answers are equal", group) for group in sorted(all_equal)]
    for (number, label, _), group in sorted(long.items()):
        if len(group) > 1 and tuple(group) not in all_equal:
            found.append((f"the same long text in task {number} ({label})", tuple(group)))
    return tuple(found)


# ---------------------------------------------------------------------------------------------
# The report

def report_html(marks, paper, decisions=(), provisional=True, pictures=""):
    """Return the report on a class.

    Parameters
    ----------
    marks : gypsumkit.marking.marks.Marks
        Moderated.
    paper : gypsumkit.marking.blueprint.Paper
    decisions : iterable of gypsumkit.marking.moderation.Decision
    provisional : bool
        Whether marks may still change.
    pictures : str
        SVG drawn by our own renderer, put in as it is.

    Returns
    -------
    str
        HTML.
    """
    stand = [standing(marks, candidate, paper) for candidate in marks.candidates]
    found = item_analysis(marks)
    body = [f"<h1>{pages.safe(paper.title)}: report on the class</h1>\n"]
    if provisional:
        body.append(pages.note(PROVISIONAL))
    body += _class(stand, marks, paper, found), _distribution(stand), _boundaries(stand, paper, found)
    if pictures:
        body.append(f"<h2>Pictures</h2>\n{pictures}\n")
    body += [_questions(found), _distractors(marks), _open(marks), _equal(marks), _findings(marks), _changes(tuple(decisions)), _list(stand, marks)]
    return pages.page(f"{paper.title}: report on the class", "".join(body))


def _class(stand, marks, paper, found):
    away = [f"; {kind}: {many}" for kind in ("not returned", "not readable") if (many := sum(one.kind == kind for one in marks.findings))]
    said_first = [f"Marked: {pages.counted(len(stand), 'paper')}{''.join(away)}."]
    settled = [one for one in stand if one.passed is not None]
    waiting = len(stand) - len(settled)
    if waiting:
        said_first.append(f"With an answer that an assessor has to look at: {waiting}. Such papers have no grade yet and are left out of the pass rate; what waits counts nothing "
                          "yet, and what was not read with certainty counts 0.")
    if stand:
        percent = np.array([one.percent for one in stand])
        spread = f", standard deviation {np.std(percent, ddof=1):.1f}" if len(percent) > 1 else ""
        said_first.append(f"Total in percent: mean {percent.mean():.1f}{spread}, middle one {np.median(percent):.1f}, lowest {percent.min():.1f}, "
                          f"highest {percent.max():.1f}.")
    if settled:
        passed = sum(one.passed for one in settled)
        low, high = share_interval(passed, len(settled))
        said_first.append(f"{passed} of {len(settled)} reach the pass mark of {paper.pass_mark:g} marks: {100 * passed / len(settled):.0f} % (as a sample of many "
                          f"such candidates 95 % sure {100 * low:.0f} to {100 * high:.0f} %).")
    return "<h2>The class</h2>\n" + "".join(pages.paragraph(one) for one in said_first) + pages.paragraph(reliability_words(found.reliability))


def _distribution(stand):
    if not stand:
        return ""
    counts = distribution(stand)
    most = max(counts) or 1
    rows = "".join(f'<tr><th scope="row">{low} to {"100" if low == 90 else f"under {low + STEP_PERCENT}"} %</th><td>{count}</td><td><span class="bar" style="width:'
                   f'{18 * count / most:.2f}rem" aria-hidden="true"></span></td></tr>\n' for low, count in zip(range(0, 100, STEP_PERCENT), counts))
    return ('<div class="scrolls"><table><caption>How the totals lie</caption><thead><tr><th scope="col">Total</th><th scope="col">candidates</th><th scope="col">as a bar</th></tr></thead>'
            f"<tbody>\n{rows}</tbody></table></div>\n")


def distribution(stand):
    """Return how many candidates lie in each tenth of the marks; 100 % counts in the last."""
    counts = [0] * (100 // STEP_PERCENT)
    for one in stand:
        counts[min(int((one.percent + 1e-9) // STEP_PERCENT), len(counts) - 1)] += 1
    return counts


def _boundaries(stand, paper, found):
    settled = [one for one in stand if one.passed is not None]
    given = [one.grade for one in settled]
    named = [(grade, f"{from_mark:g}") for grade, from_mark in paper.boundaries]
    named += [(grade, "") for grade in sorted(set(given) - {grade for grade, _ in named})]
    rows = [(grade, from_mark, given.count(grade)) for grade, from_mark in named]
    if len(settled) < len(stand):
        rows.append(("no grade yet", "", len(stand) - len(settled)))
    words = pages.table("Grades", ("Grade", "from marks", "candidates"), rows)
    error = found.reliability.standard_error
    if np.isfinite(error) and error > 0:
        near = [one.candidate_number for one in settled if abs(one.total - paper.pass_mark) <= error]
        if near:
            words += pages.paragraph(f"{len(near)} {'total lies' if len(near) == 1 else 'totals lie'} within one standard error of measurement ({error:.1f} marks) of "
                                     f"the pass mark ({paper.pass_mark:g} marks); look at these papers first: {_some(near)}.")
    return "<h2>Grades</h2>\n" + words


def item_rows(found):
    """Return the item statistics as rows of words under `ITEM_HEADS`.

    Parameters
    ----------
    found : gypsumkit.marking.item_statistics.ItemAnalysis

    Returns
    -------
    list of tuple
    """
    return [(item.part.words, item.part.task_id, said(item.part.out_of), str(item.answers), _number(item.difficulty), _number(item.discrimination),
             _number(item.correlation), f"{item.correlation_low:.2f} to {item.correlation_high:.2f}" if np.isfinite(item.correlation_low) else "", item.verdict)
            for item in found.items]


def _number(value):
    return f"{value:.2f}" if np.isfinite(value) else "cannot be said"


def poor_words(found):
    """Say which questions to look at; or that the answers are too few to say.

    Parameters
    ----------
    found : gypsumkit.marking.item_statistics.ItemAnalysis

    Returns
    -------
    str
    """
    if found.reliability.candidates < LEAST_FOR_A_VERDICT:
        return (f"No question is judged: {found.reliability.candidates} answers are fewer than {LEAST_FOR_A_VERDICT}, and with so few these figures say little.")
    doubtful = [f"{item.part.words}: {item.verdict}" for item in found.items if item.verdict]
    return ("Questions to look at before the marks are final: " + "; ".join(doubtful) + "." if doubtful
            else f"Nothing speaks against a question, from {found.reliability.candidates} answers.")


def _questions(found):
    words = "<h2>The questions</h2>\n" + pages.note(poor_words(found)) + pages.table("What the answers say about each part", ITEM_HEADS, item_rows(found))
    if found.left_out:
        words += pages.paragraph(f"Left out, since they wait for an assessor: {', '.join(part.words for part in found.left_out)}.")
    if found.not_counted:
        words += pages.paragraph(f"With a part that waits: {pages.counted(found.not_counted, 'candidate')}, counted for the difficulty only.")
    return words + pages.paragraph(DEFINITIONS)


def _distractors(marks):
    words = []
    for part, rows in distractor_tables(marks, has_options).items():
        if all(row.answer in ("key", "nothing", "other") for row in rows):
            continue
        words.append(pages.table(
            f"Answers to {part.words}, {part.task_id}", ("Answer", "candidates", "share", "of the best 27 %", "of the last 27 %", "their share of the other marks"),
            [(answer_words(part.task_id, part.label, row.answer), row.count, f"{100 * row.share:.0f} %", f"{100 * row.upper:.0f} %", f"{100 * row.lower:.0f} %",
              f"{100 * row.mean_rest:.0f} %") for row in rows]))
    return "<h2>Wrong answers</h2>\n" + pages.paragraph(NAMED) + "".join(words) if words else ""


def _open(marks):
    rows = open_rows(marks)
    if not rows:
        return ""
    words = ["<h2>For an assessor to look at</h2>\n" + pages.paragraph(f"{pages.counted(len(rows), 'answer')}, question by question.")]
    for (number, label), asked in by_question(rows).items():
        whys = [mark_why(row) for row in asked]
        often, times = Counter(whys).most_common(1)[0]
        same = often if times > 1 else ""
        all_same = times == len(asked) > 1
        heads = ("Candidate", "mark now", "answer", *(() if all_same else ("why",)))
        shown = [(row.candidate_number, "waits" if row.marks is None else f"{said(row.marks)} so far", row.answer.strip()[:LONGEST_ANSWER_SHOWN] or "no answer",
                  *(() if all_same else ("as above" if why == same else why,))) for row, why in list(zip(asked, whys))[:MOST_OF_A_QUESTION]]
        words.append(f"<h3>Task {number} ({pages.safe(label)}), of {pages.counted(said(asked[0].out_of), 'mark')}: {pages.counted(len(asked), 'answer')}</h3>\n")
        words.append((pages.paragraph(same) if same else "") + pages.table("Answers", heads, shown, answers=(2,)))
        if len(asked) > MOST_OF_A_QUESTION:
            words.append(pages.paragraph(f"and {len(asked) - MOST_OF_A_QUESTION:,} more, in marks.csv"))
    return "".join(words)


def mark_why(row):
    """Return why an answer is to be looked at, without the words that the place where it stands says already."""
    text = row.why or row.slip
    for prefix in (BY_HAND_WHY, NOT_READ_WHY):
        if text.startswith(prefix):
            text = text.removeprefix(prefix)
            return text[:1].upper() + text[1:]
    return text


def _equal(marks):
    found = equal_answers(marks)
    if not found:
        return ""
    return ("<h2>Equal answers</h2>\n" + pages.note(EQUAL_WORDS)
            + pages.bullets([f"{_some(group)}: {what}" for what, group in found[:MOST_LISTED]])
            + (pages.paragraph(f"and {len(found) - MOST_LISTED:,} more groups") if len(found) > MOST_LISTED else ""))


def _findings(marks):
    kinds = {}
    for one in marks.findings:
        kinds.setdefault(one.kind, []).append(one)
    if not kinds:
        return "<h2>The returned files</h2>\n" + pages.paragraph("Nothing unusual was found on them.")
    words = ["<h2>The returned files</h2>\n"]
    for kind in sorted(kinds, key=lambda kind: (kind != NOT_RUN, kind)):
        found = kinds[kind]
        words.append(f"<h3>{pages.safe(kind)}: {len(found):,}</h3>\n")
        words.append(pages.bullets([": ".join(filter(None, [one.candidate_number or one.file, one.sentence])) for one in found[:MOST_FINDINGS]]))
        if len(found) > MOST_FINDINGS:
            words.append(pages.paragraph(f"and {len(found) - MOST_FINDINGS:,} more, in findings.csv"))
    return "".join(words)


def _changes(decisions):
    if not decisions:
        return ""
    more = pages.paragraph(f"and {len(decisions) - MOST_LISTED:,} earlier ones, in decisions.csv") if len(decisions) > MOST_LISTED else ""
    return "<h2>What assessors changed, the latest first</h2>\n" + pages.bullets([changes_words(one) for one in reversed(decisions[-MOST_LISTED:])]) + more


def _list(stand, marks):
    rows = []
    for one in stand:
        changed = [row for row in marks.by_candidate[one.candidate_number] if row.changed_by]
        rows.append((one.candidate_number, f"{said(one.total)} of {said(one.out_of)}", f"{one.percent:.2f} %", one.grade or not_yet(one),
                     "" if one.passed is None else "yes" if one.passed else "no", "; ".join(f"{row.task_number} ({row.label}) {row.changed_by}" for row in changed)))
    return "<h2>Marks</h2>\n" + pages.table("By candidate number", ("Candidate", "total", "percent", "grade", "passed", "changed by an assessor"), rows)


def not_yet(stand):
    """Say why a candidate has no grade yet: "not yet: 3 to be marked, 1 to be looked at"."""
    return "not yet: " + ", ".join(filter(None, [stand.waiting and f"{stand.waiting} to be marked", stand.doubtful and f"{stand.doubtful} to be looked at"]))


def _some(names):
    names = list(names)
    return ", ".join(names[:MOST_LISTED]) + (f" and {len(names) - MOST_LISTED} more" if len(names) > MOST_LISTED else "")


# ---------------------------------------------------------------------------------------------
# Tables and files

def candidates_csv(marks, paper):
    """Return a row for each candidate as comma-separated text in which no cell runs as a formula."""
    header = ("candidate_number", "total", "out_of", "percent", "grade", "passed", "parts_waiting", "to_look_at", "marks_changed", "findings")
    of = {}
    for one in marks.findings:
        of[one.candidate_number] = of.get(one.candidate_number, 0) + 1
    rows = []
    for candidate in marks.candidates:
        now = standing(marks, candidate, paper)
        rows.append((candidate, now.total, now.out_of, round(now.percent, 2), now.grade or "", "" if now.passed is None else "yes" if now.passed else "no", now.waiting, now.doubtful,
                     sum(bool(row.changed_by) for row in marks.by_candidate[candidate]), of.get(candidate, 0)))
    return sheet(header, rows)


def items_csv(found):
    """Return a row for each part as comma-separated text in which no cell runs as a formula."""
    header = ("task_number", "label", "task_id", "out_of", "answers", "difficulty", "discrimination", "correlation_with_rest", "correlation_low", "correlation_high",
              "verdict")
    return sheet(header, [(item.part.task_number, item.part.label, item.part.task_id, item.part.out_of, item.answers, *map(
        _short, (item.difficulty, item.discrimination, item.correlation, item.correlation_low, item.correlation_high)), item.verdict) for item in found.items])


def _short(value):
    return float(rounded(value, 4)) if np.isfinite(value) else None


def write_report(marks, exam_folder, paper=None, provisional=True, pictures=""):
    """Write the report and its tables into the folder `marks` of an examination.

    Parameters
    ----------
    marks : gypsumkit.marking.marks.Marks
        Moderated.
    exam_folder : path
    paper : gypsumkit.marking.blueprint.Paper, optional
        The described paper; read from the folder when not given.
    provisional : bool
    pictures : str
        SVG drawn by our own renderer.

    Returns
    -------
    pathlib.Path
        The report.

    Raises
    ------
    Problem
        When it cannot be written.
    """
    paper = read_paper(exam_folder) if paper is None else paper
    folder = Path(exam_folder) / "marks"
    content = report_html(marks, paper, Decisions(folder).all(), provisional, pictures)
    with writing_into(folder, "the folder of the marks"):
        folder.mkdir(parents=True, exist_ok=True)
        pages.write_page(folder / REPORT_FILE, content)
        pages.write_page(folder / CANDIDATES_FILE, candidates_csv(marks, paper))
        pages.write_page(folder / ITEMS_FILE, items_csv(item_analysis(marks)))
    return folder / REPORT_FILE
