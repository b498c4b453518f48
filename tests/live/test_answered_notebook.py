"""A notebook of answered blocks passes the strict comparison of its words, and fails when one word changes."""

import json
import os
import pathlib
import subprocess
import sys

import nbformat
import pytest

CLONE = pathlib.Path(__file__).parents[2]
CELLS = [
    "from tests.quiz import demo_bank\nfrom gypsumkit.quiz.bank import Bank\nfrom gypsumkit.quiz.progress import Progress\n"
    "from gypsumkit.live.question_view import QuestionSet, QuestionView\nfrom gypsumkit.live.exercise_view import ExerciseView\n"
    "from gypsumkit.live.note_view import NoteView\nimport tempfile\nbank, progress = Bank(demo_bank), Progress(tempfile.mkdtemp())",
    "questions = QuestionSet(bank.questions('02'), progress); questions",
    "questions.answer('L02-Q2', '0,54 ml/g')",
    "questions.answer('L02-Q2', '185 mL per 100 g')",
    "questions.answer('L02-Q2', 'plenty')",
    "questions.every_option()",
    "questions",
    "ExerciseView(bank.exercise('L02-E1'), 'worked', progress)",
    "NoteView(bank.note('L02-N1'), progress).answer('It leaves pores.')",
]


def run(*command, folder):
    environment = {**os.environ, "PYTHONPATH": str(CLONE)}
    return subprocess.run([sys.executable, "-m", *command], cwd=folder, env=environment, capture_output=True, text=True)


@pytest.fixture(scope="module")
def stored(tmp_path_factory):
    """Return the path of the notebook, run once and stored without its live views."""
    folder = tmp_path_factory.mktemp("answered")
    path = folder / "answered.ipynb"
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell) for cell in CELLS],
                                        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}})
    nbformat.write(notebook, path)
    told = run("nbconvert", "--to", "notebook", "--execute", "--inplace", "--ExecutePreprocessor.store_widget_state=False",
               "--ExecutePreprocessor.record_timing=False", path.name, folder=folder)
    assert told.returncode == 0, told.stderr
    content = json.loads(path.read_text())
    for cell in content["cells"]:
        for output in cell["outputs"]:
            output["data"].pop("application/vnd.jupyter.widget-view+json", None)
    path.write_text(json.dumps(content))
    return path


def strictly(path):
    return run("pytest", "--nbval", "-p", "no:cacheprovider", path.name, folder=path.parent)


def test_every_cell_stores_its_words(stored):
    cells = json.loads(stored.read_text())["cells"]
    words = ["".join(output["data"]["text/plain"]) for cell in cells[1:] for output in cell["outputs"]]
    assert len(words) == len(CELLS) - 1 and all(cell["execution_count"] for cell in cells)
    assert words[1].startswith("Correct. 0,54 ml/g is 54 mL per 100 g.")
    assert words[2].startswith("Not yet. The ratio is upside down")
    assert words[3].startswith("Message: “plenty” is not a number")
    assert "Your answer" not in words[5]        # what could not be read has no verdict, and no older one stands in its place


def test_the_strict_comparison_passes(stored):
    told = strictly(stored)
    assert told.returncode == 0, told.stdout
    assert f"{len(CELLS)} passed" in told.stdout


def test_the_strict_comparison_fails_when_a_number_in_the_words_changes(stored):
    changed = stored.with_name("changed.ipynb")
    text = stored.read_text()
    assert "is 54 mL per 100 g" in text
    changed.write_text(text.replace("is 54 mL per 100 g", "is 55 mL per 100 g", 1))
    assert strictly(changed).returncode == 1
