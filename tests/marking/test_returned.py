"""A returned notebook is read as text: answers by cell, whose it is, and every oddity as a kind and a sentence."""

import json
import time

import pytest

from gypsumkit.marking import returned
from gypsumkit.marking.incoming import Incoming, incoming
from gypsumkit.marking.marks import Finding
from gypsumkit.marking.returned import KINDS, read_returned
from gypsumkit.problems import Problem


def cell(name, source, kind="markdown"):
    return {"cell_type": kind, "id": name, "metadata": {}, "source": source}


def notebook(*cells, number="1047"):
    front = [cell("front", f"# Paper\n\nCandidate number: {number}\n\nTime: 30 min")] if number else []
    return {"cells": [*front, *map(dict, cells)], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}


def read(made, name="1047.ipynb"):
    return read_returned(made if isinstance(made, bytes) else json.dumps(made).encode(), name)


def kinds(read):
    return [one.kind for one in read.findings]


TASK = cell("task-1", "## Task 1 — Water\n\nText")
ANSWER = cell("answer-1-a", "**Answer 1 (a):**\n\n42 mL")


def test_a_whole_paper():
    found = read(notebook(TASK, ANSWER, cell("answer-1-b", "# Answer 1 (b), in code:\nanswer = 6 * 7\n", "code")))
    assert found == ("1047", {(1, "a"): "42 mL"}, {(1, "b"): "answer = 6 * 7"}, {1: TASK["source"]}, ())


@pytest.mark.parametrize("source, answer", [
    ("**Answer 1 (a):** 42 mL", "42 mL"), ("**Answer 1 (a):**\n\n100 × 0.42\n= 42 mL\n", "100 × 0.42\n= 42 mL"), ("42 mL", "42 mL"),
    (["**Answer 1 (a):**\n", "\n", "42 mL"], "42 mL"), ("Answer 1 (a): 42 mL", "42 mL"), ("**Answer 1 (a):**\r\n\r\n42 mL", "42 mL"), ("**Answer 1 (a):**", "")])
def test_the_answer_stands_below_its_line_or_behind_it(source, answer):
    assert read(notebook(TASK, cell("answer-1-a", source))).answers == {(1, "a"): answer}


def test_without_ids_the_first_line_says_which_cell_it_is():
    made = notebook(TASK, ANSWER, cell("x", "# Answer 1 (b), in code:\n7", "code"))
    for one in made["cells"]:
        del one["id"]
    found = read(made)
    assert found.answers == {(1, "a"): "42 mL"} and found.code == {(1, "b"): "7"} and 1 in found.texts and found.candidate_number == "1047"


def test_a_copied_cell_does_not_take_the_place_of_the_one_that_was_handed_out():
    found = read(notebook(TASK, cell("other", "**Answer 1 (a):**\n\n1 mL"), ANSWER))
    assert found.answers == {(1, "a"): "42 mL"} and kinds(found) == ["cell twice"]


def test_twice_with_different_answers_says_both():
    found = read(notebook(TASK, ANSWER, cell("answer-1-a", "**Answer 1 (a):**\n\n43 mL")))
    assert found.answers == {(1, "a"): "42 mL"} and "“43 mL”" in found.findings[0].sentence
    blank_first = read(notebook(TASK, cell("answer-1-a", "**Answer 1 (a):**"), ANSWER))
    assert blank_first.answers == {(1, "a"): "42 mL"}


def test_added_cells_are_quoted_and_not_marked():
    found = read(notebook(TASK, ANSWER, cell("mine", "My answer is 7"), cell("empty", "")))
    assert kinds(found) == ["cell added"] and "“My answer is 7”" in found.findings[0].sentence


def test_a_cell_turned_to_code_is_read_as_text_all_the_same():
    found = read(notebook(TASK, cell("answer-1-a", "**Answer 1 (a):**\n\n42 mL", "code")))
    assert found.answers == {(1, "a"): "42 mL"} and found.code == {} and kinds(found) == ["cell of another kind"]


def test_the_name_of_the_file_says_whose_it_is_only_where_the_paper_does_not():
    found = read(notebook(TASK, ANSWER, number=""), "a folder/1052.ipynb")
    assert found.candidate_number == "1052" and kinds(found) == ["no number"]
    assert read(notebook(TASK, ANSWER), "1052.ipynb").candidate_number == "1047"
    assert read(notebook(TASK, cell("answer-1-a", "Candidate number: 1052"))).candidate_number == "1047"


def test_hidden_and_broken_signs_are_said():
    made = json.dumps(notebook(TASK, cell("answer-1-a", "**Answer 1 (a):**\n\n4\u200b2 \ud800mL\u202e"))).encode()
    assert b"\\ud800" in made
    found = read(made)
    assert found.answers == {(1, "a"): "42 \ufffdmL"} and kinds(found) == ["hidden signs", "broken signs"]
    assert "2 sign(s)" in found.findings[0].sentence and "1 broken" in found.findings[1].sentence


def test_an_answer_that_is_too_long_is_not_read_and_not_lost():
    found = read(notebook(TASK, cell("answer-1-a", "**Answer 1 (a):** " + "x" * 5000)))
    assert found.answers[(1, "a")].startswith(returned.TOO_LONG) and kinds(found) == ["too long"] and "5,000" in found.findings[0].sentence


def test_duplicate_keys_the_last_counts():
    made = json.dumps(notebook(TASK, ANSWER)).encode().replace(b'"**Answer 1 (a):**\\n\\n42 mL"', b'"first", "source": "second"')
    found = read(made)
    assert found.answers == {(1, "a"): "second"} and kinds(found) == ["said twice"] and "“source”" in found.findings[0].sentence


@pytest.mark.parametrize("made, kind", [
    (b"", "empty"), (b"\xef\xbb\xbf \n", "empty"), (b"{", "damaged"), (b'{"cells": [', "damaged"), (b'{"cells": ["x', "damaged"), (b"hello", "not a notebook"),
    (b"[]", "not a notebook"), (b"null", "not a notebook"), (b'{"cells": 7}', "not a notebook"), (b'{"cells": NaN}', "damaged"),
    (b'{"cells": [' + b"[" * 50 + b"]" * 51 + b"}", "nested deeply"), (b'{"cells": [' + b"0," * 1000 + b"0]}", "too large"), (b"PK\x03\x04abc", "not a notebook"),
])
def test_what_is_no_paper(made, kind):
    found = read(made)
    assert found[:4] == ("", {}, {}, {}) and kinds(found) == [kind] and found.findings[0].file == "1047.ipynb"


def test_brackets_in_answers_are_not_nesting():
    assert read(notebook(TASK, cell("answer-1-a", "**Answer 1 (a):** " + "[{" * 100 + '\\"' * 9))).findings == ()


def test_more_bytes_than_are_read_are_said():
    found = read_returned(b"{" * 10, "x.ipynb", size=104_000_000)
    assert kinds(found) == ["too large"] and "104 MB" in found.findings[0].sentence


@pytest.mark.parametrize("encoding, said", [("utf-8", []), ("utf-8-sig", []), ("utf-16", ["encoding"]), ("utf-16-le", ["encoding"]), ("utf-16-be", ["encoding"])])
def test_other_encodings_are_read_and_said(encoding, said):
    found = read(json.dumps(notebook(TASK, cell("answer-1-a", "**Answer 1 (a):** 42 µL")), ensure_ascii=False).encode(encoding))
    assert found.answers == {(1, "a"): "42 µL"} and kinds(found) == said


def test_reading_grows_with_the_length_and_no_faster():
    """Against a rival of the same run: four times as much text takes about four times as long, not sixteen times."""
    def seconds(many):
        made = json.dumps(notebook(TASK, *(cell(f"c{place}", '"[{\\' * 500) for place in range(many)))).encode()
        return min(_timed(made) for _ in range(3))

    def _timed(made):
        start = time.perf_counter()
        read(made)
        return time.perf_counter() - start

    assert seconds(400) < 12 * seconds(100)


def test_every_kind_is_explained():
    import inspect
    import re
    used = set(re.findall(r'(?:_Refused|found\.add)\(\s*"([a-z ]+)"', inspect.getsource(returned)))
    assert used and used <= set(KINDS)


# ---- what came back

def test_a_folder_is_gone_through_by_name(tmp_path):
    for name in ("b.ipynb", "a.ipynb"):
        (tmp_path / name).write_bytes(name.encode())
    (tmp_path / "folder").mkdir()
    found = list(incoming(tmp_path))
    assert [one.name for one in found if isinstance(one, Incoming)] == ["a.ipynb", "b.ipynb"]
    assert [(one.file, one.kind) for one in found if isinstance(one, Finding)] == [("folder", "not a file")]


def test_an_archive_is_read_in_the_folder_or_alone_and_never_unpacked(tmp_path):
    import zipfile
    with zipfile.ZipFile(tmp_path / "all.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(zipfile.ZipInfo("class/1047.ipynb", (2027, 3, 5, 15, 0, 0)), b"{}")
        archive.writestr("__MACOSX/._1047.ipynb", b"x")
    (inside,) = [one for one in incoming(tmp_path) if isinstance(one, Incoming)]
    assert (inside.name, inside.content, f"{inside.time:%Y-%m-%d %H:%M}") == ("all.zip/class/1047.ipynb", b"{}", "2027-03-05 15:00")
    assert [one.name for one in incoming(tmp_path / "all.zip") if isinstance(one, Incoming)] == ["class/1047.ipynb"]
    assert [path.name for path in tmp_path.iterdir()] == ["all.zip"]


def test_a_folder_that_is_not_there_is_one_sentence(tmp_path):
    with pytest.raises(Problem, match="cannot be read"):
        list(incoming(tmp_path / "nowhere"))
