"""The invented examination is one like any other, and the same each time."""

import json

import pytest

from gypsumkit.marking.invented import CANDIDATES, FIRST_NUMBER, TASKS, TITLE, make_invented
from gypsumkit.marking.item_statistics import item_analysis
from gypsumkit.marking.run import mark_folder
from gypsumkit.problems import Problem


def test_it_can_be_marked_and_is_the_same_each_time(tmp_path):
    first, again = (make_invented(tmp_path / name, 8) for name in ("first", "again"))
    for number in range(FIRST_NUMBER, FIRST_NUMBER + 7):
        assert (first / "returned" / f"{number}.ipynb").read_bytes() == (again / "returned" / f"{number}.ipynb").read_bytes()
    marks = mark_folder(first)
    assert len(marks.candidates) == 6 and {one.kind for one in marks.findings} >= {"not returned"} and "nvented" in TITLE
    shares = [marks.total(one) / marks.out_of(one) for one in marks.candidates]
    assert min(shares) < max(shares) and len(item_analysis(marks).items) >= len(TASKS)
    assert marks.marks_csv() == mark_folder(again).marks_csv()


def test_papers_that_are_handed_out_are_not_changed(tmp_path):
    folder = make_invented(tmp_path / "exam", 3)
    given, back = (json.loads((folder / name / f"{FIRST_NUMBER}.ipynb").read_bytes()) for name in ("papers", "returned"))
    assert [cell["source"] for cell in given["cells"] if cell["id"].startswith("task")] == [cell["source"] for cell in back["cells"] if cell["id"].startswith("task")]
    with pytest.raises(Problem, match="already"):
        make_invented(folder)
    assert CANDIDATES > 30
