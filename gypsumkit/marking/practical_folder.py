"""The practical of an examination in its folder: `practical` holds the forms, `practical/records` the record sheets of the candidates.

Filled-in forms lie in `practical` under any name; what is worked out of them goes into `marks`.
"""

from pathlib import Path
from typing import NamedTuple

from gypsumkit.bench.reading import read_file
from gypsumkit.bench.sheets import sheet
from gypsumkit.files import unused, write_new, writing_into
from gypsumkit.marking.pages import write_page
from gypsumkit.marking.practical import agreement_lines, form_csv, form_html, practical_csv, practical_marks, read_form
from gypsumkit.marking.record_sheets import RecordMark, record_marks
from gypsumkit.problems import Problem

FOLDER, RECORDS = "practical", "records"
EMPTY_FORM, PRINTED_FORM = "empty-form", "form-to-print"
MOST_FILES = 1000


class Practical(NamedTuple):
    """What was worked out: marks of the practical, marks of the record sheets as (file, mark), and sentences about them."""

    marks: tuple
    records: tuple
    said: tuple


def write_forms(exam_folder, candidates):
    """Write the forms of the practical: one to print and one to fill in as a table.

    Parameters
    ----------
    exam_folder : path
    candidates : sequence of str
        Candidate numbers.

    Returns
    -------
    tuple of pathlib.Path

    Raises
    ------
    Problem
        When they cannot be written.
    """
    folder = Path(exam_folder) / FOLDER
    with writing_into(folder, "the folder of the practical"):
        (folder / RECORDS).mkdir(parents=True, exist_ok=True)
    paths = (unused(folder / f"{PRINTED_FORM}.html"), unused(folder / f"{EMPTY_FORM}.csv"))
    for path, content in zip(paths, (form_html(candidates).encode("utf-8", errors="replace"), form_csv(candidates))):
        write_new(path, content)
    return paths


def mark_practical(exam_folder):
    """Work out the practical from the filled-in forms and the record sheets, and write `practical.csv` and `records.csv` into `marks`.

    Parameters
    ----------
    exam_folder : path

    Returns
    -------
    Practical

    Raises
    ------
    Problem
        When there is nothing filled in, a form cannot be read, or the marks cannot be written.
    """
    folder = Path(exam_folder) / FOLDER
    forms = [path for path in _tables(folder) if not path.name.startswith(EMPTY_FORM)]
    sheets = _tables(folder / RECORDS)
    if not forms and not sheets:
        raise Problem(f"Nothing is filled in yet: put forms (CSV) into the folder {FOLDER}, record sheets into {FOLDER}/{RECORDS}.")
    judged = tuple(one for path in forms for one in read_form(path))
    marks, said, records, not_read = practical_marks(judged), [], [], []
    for path in sheets:
        try:
            records += [(path.name, mark) for mark in record_marks(read_file(path))]
        except Problem as problem:
            not_read.append(f"{path.name}: {str(problem).removeprefix(path.name).lstrip(' ,:')}")
    ended = sum(one.marks is None for one in marks)
    if marks:
        said.append(f"{len(marks)} candidates were judged by {', '.join(sorted({one.marker for one in judged}))}" + (f"; {ended} have no total, see why." if ended else "."))
    if len({one.marker for one in judged}) == 2:
        said += agreement_lines(judged)
    if records:
        waiting = sum(mark.marks is None for _, mark in records)
        said.append(f"{len({name for name, _ in records})} record sheets are marked; {waiting} values wait for an assessor.")
    said += not_read
    out = Path(exam_folder) / "marks"
    with writing_into(out, "the folder of the marks"):
        out.mkdir(parents=True, exist_ok=True)
        write_page(out / "practical.csv", practical_csv(marks))
        write_page(out / "records.csv", sheet(("file", *RecordMark._fields), [(name, *mark[:6], "yes" if mark.by_hand else "") for name, mark in records]))
    return Practical(marks, tuple(records), tuple(said))


def _tables(folder):
    if not folder.is_dir():
        return []
    found = sorted(path for path in folder.iterdir() if path.suffix.lower() == ".csv" and path.is_file() and not path.name.startswith("."))
    if len(found) > MOST_FILES:
        raise Problem(f"There are more than {MOST_FILES:,} tables in {folder.name}.")
    return found
