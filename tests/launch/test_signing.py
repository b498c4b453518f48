"""Only the course's own lessons are trusted, to the last byte."""

import nbformat
import pytest
from nbformat.sign import NotebookNotary

from gypsumkit.launch.inside.sign import sign_unaltered
from gypsumkit.launch.workspace import lay_lessons
from tests.launch.conftest import notebook


def trusted(path):
    return NotebookNotary().check_signature(nbformat.read(path, as_version=4))


@pytest.fixture(autouse=True)
def own_signatures(tmp_path, monkeypatch):
    """Keep signatures of one test from the next."""
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))


@pytest.mark.parametrize("altered", [
    notebook("# Water", "code:import shutil"),
    notebook("# Water <button>", "code:1 + 1"),
    notebook("# Water", "code:1 + 1", outputs=[{"output_type": "display_data", "metadata": {},
                                                "data": {"text/html": "<script>alert(1)</script>"}}]),
], ids=["code", "text", "outputs"])
def test_an_altered_lesson_is_not_signed(course, tmp_path, altered):
    work = tmp_path / "work"
    lay_lessons(course, work)
    copies = work / "lessons"
    (copies / "02_water.ipynb").write_bytes(altered)
    assert sign_unaltered(course.lessons, copies) == ["00_start_here.ipynb"]
    assert trusted(copies / "00_start_here.ipynb") and not trusted(copies / "02_water.ipynb")


def test_what_else_lies_in_the_folder_is_not_signed(course, tmp_path):
    work = tmp_path / "work"
    lay_lessons(course, work)
    (work / "lessons" / "found_somewhere.ipynb").write_bytes(notebook("# Found", "code:2"))
    assert sign_unaltered(course.lessons, work / "lessons") == ["00_start_here.ipynb", "02_water.ipynb"]
    assert not trusted(work / "lessons" / "found_somewhere.ipynb")


def test_what_lab_stored_by_running_is_replaced_before_it_is_trusted(course, tmp_path):
    work = tmp_path / "work"
    lay_lessons(course, work)
    copy = work / "lessons" / "02_water.ipynb"
    copy.write_bytes(notebook("# Water", "code:1 + 1", outputs=[{"output_type": "stream", "name": "stdout", "text": "other"}]))
    lay_lessons(course, work)
    assert "02_water.ipynb" in sign_unaltered(course.lessons, work / "lessons")
    assert b"other" not in copy.read_bytes()
