"""Questions need no widgets and no pictures."""

import subprocess
import sys

import pytest


@pytest.mark.parametrize("module", ["questions", "exercises", "notes", "progress", "recall", "bank"])
def test_the_quiz_room_imports_neither_widgets_nor_pictures(module):
    ask = f"import sys, gypsumkit.quiz.{module}; print(sorted({{'ipywidgets', 'matplotlib', 'IPython', 'numpy'}} & set(sys.modules)))"
    told = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True, cwd=__file__.rsplit("tests", 1)[0])
    assert told.stdout.strip() == "[]"
