"""Every lesson has the same order, reads before it runs, and asks nothing of the network."""

import ast
import json
import os
import re
import subprocess
import sys

import nbformat
import pytest

from tests.lessons.pages import CLONE, LESSONS, cells, name, outside_code, words

HEADINGS = ("Recall", "Words you need", "A case", "Predict", "Observe", "Explain", "Work it out", "At the bench", "Check yourself", "Key points")
NOT_IN_THE_FIRST = ("Work it out", "At the bench")     # the first lesson shows how lessons work, and has a safety page of its own
CALLS = ("objectives", "recall", "predict", "explorer", "write", "worked", "faded", "exercise", "bench", "self_check")
ANYWHERE = ("panel",)           # forms of the bench stand where the work needs them
NOT_CALLED_IN_THE_FIRST = ("worked", "faded", "exercise", "bench")
# Running all cells would take the reader to the last one. Running all that stands under the title leaves a way back to the top at once.
START = ('<button data-commandlinker-command="apputils:run-all-enabled" data-commandlinker-args=\'{"commands":['
         '"notebook:extend-marked-cells-top","notebook:deselect-all","toc:run-cells",'
         '"notebook:extend-marked-cells-top","notebook:deselect-all"],"args":[{},{},{},{},{}]}\'>Start the lesson</button>')
SETUP = '# Set-up: click to show the code\nfrom gypsumkit.live.lesson import lesson\n\nhere = lesson("{}")'

every_lesson = pytest.mark.parametrize("path", LESSONS, ids=name)


def is_first(path):
    return path.name.startswith("00_")


def first_places(wanted, found):
    """Return the place where each wanted thing is found first."""
    missing = [one for one in wanted if one not in found]
    assert not missing, f"missing: {', '.join(missing)}"
    return [found.index(one) for one in wanted]


def calls(path):
    """Return the calls of the code cells after the set-up, as (method, first argument, cell)."""
    found = []
    for cell in cells(path, "code")[1:]:
        (statement,) = ast.parse(cell.source).body
        assert isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Call), f"{cell.id} is not one call"
        call = statement.value
        assert isinstance(call.func, ast.Attribute) and ast.unparse(call.func.value) == "here", f"{cell.id} does not call here"
        found.append((call.func.attr, call.args[0].value if call.args else None, cell))
    return found


def test_there_are_lessons():
    assert len(LESSONS) >= 2 and LESSONS[0].name == "00_start_here.ipynb"


@every_lesson
def test_sections_stand_in_the_same_order(path):
    headings = [line[3:].strip() for cell in cells(path, "markdown") for line in cell.source.splitlines() if line.startswith("## ")]
    wanted = [heading for heading in HEADINGS if not (is_first(path) and heading in NOT_IN_THE_FIRST)]
    places = first_places(wanted, headings)
    assert places == sorted(places), f"out of order: {headings}"


@every_lesson
def test_calls_stand_in_the_same_order_and_are_known(path):
    methods = [method for method, _, _ in calls(path)]
    assert set(methods) <= {*CALLS, *ANYWHERE}
    places = first_places([one for one in CALLS if not (is_first(path) and one in NOT_CALLED_IN_THE_FIRST)], methods)
    assert places == sorted(places), f"out of order: {methods}"


@every_lesson
def test_first_cell_says_number_minutes_question_and_how_to_start(path):
    first = cells(path)[0].source
    assert first.startswith(f"# {path.name[:2]}  ")
    assert re.search(r"\d+ minutes", first)
    assert "**Guiding question" in first and "?" in first
    assert START in first
    assert "menu **Run**, then **Run All Cells**" in first


@every_lesson
def test_all_stands_under_the_title(path):
    """The start button runs what stands under the first heading, so there is no second one of that size."""
    sizes = [line for cell in cells(path, "markdown") for line in outside_code(cell.source).splitlines()
             if re.match(r"#\s|=+\s*$", line) or "<h1" in line.lower()]
    assert len(sizes) == 1 and cells(path)[0].source.startswith(sizes[0])


@every_lesson
def test_code_is_folded_begins_with_a_comment_and_set_up_is_the_same(path):
    code = cells(path, "code")
    assert code[0].source == SETUP.format(path.name[:2])
    for cell in code:
        assert cell.metadata == {"jupyter": {"source_hidden": True}}, cell.id
        assert re.match(r"# [A-Z]\w.{5,}", cell.source.splitlines()[0]), cell.id


@every_lesson
def test_every_code_cell_has_run_in_order_and_reads_without_a_kernel(path):
    code = cells(path, "code")
    # A cell without a count is passed by nbval whatever it prints.
    assert [cell.execution_count for cell in code] == list(range(1, len(code) + 1))
    assert code[0].outputs == []
    for method, _, cell in calls(path):
        (output,) = cell.outputs
        assert output.output_type == "execute_result", cell.id
        allowed = {"text/plain", "image/png"} if method == "explorer" else {"text/plain"}
        assert set(output["data"]) - ({"image/png"} if method == "panel" else set()) == allowed, cell.id
        assert len(words(cell)) > 30 and "<" not in words(cell).replace("<=", "") and "object at 0x" not in words(cell), cell.id


@every_lesson
def test_no_widget_no_time_and_no_answer_is_stored(path):
    notebook = nbformat.read(path, as_version=4)
    assert set(notebook.metadata) == {"kernelspec", "language_info"}
    assert notebook.metadata.kernelspec == {"display_name": "Python 3", "language": "python", "name": "python3"}
    text = path.read_text(encoding="utf-8")
    assert "widget-view+json" not in text and "widget-state+json" not in text and '"execution": {' not in text
    assert "Your answer: " not in text and "You wrote: " not in text and "You have committed" not in text


@every_lesson
def test_nothing_comes_from_the_network_or_from_one_computer(path):
    for cell in cells(path):
        said = cell.source + (words(cell) if cell.cell_type == "code" else "")
        assert not re.search(r"""(?:src|srcset|poster|data)\s*=\s*["']?\s*(?:https?:)?//""", said), cell.id
        assert not re.search(r"!\[[^\]]*\]\(\s*(?:https?:)?//", said), cell.id
        assert not re.search(r"<(?:script|iframe|link|object|embed)\b", said, re.IGNORECASE), cell.id
        assert not re.search(r"(?<![\w.])/(?:home|work|tmp|root|Users)/|\b[A-Z]:\\|file://", said), cell.id


@every_lesson
def test_relative_links_lead_somewhere(path):
    for cell in cells(path, "markdown"):
        for target in re.findall(r"\]\(([^)\s]+)\)", outside_code(cell.source)) + re.findall(r"""href\s*=\s*["']([^"']+)""", cell.source):
            if not re.match(r"https?://|#", target):
                assert (path.parent / target.split("#")[0]).is_file(), f"{cell.id}: {target}"


@every_lesson
def test_cell_names_are_unique_and_readable(path):
    names = [cell.id for cell in cells(path)]
    assert len(set(names)) == len(names)
    assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", one) and re.search(r"[a-z]{3}", one) for one in names)


@every_lesson
def test_predictions_do_not_ask_about_the_recipe_that_is_stored(path):
    """The stored picture must not give the answer away: what is asked is another recipe than the start."""
    for method, kind, cell in calls(path):
        (call,) = [node for node in ast.walk(ast.parse(cell.source)) if isinstance(node, ast.Call)][:1]
        given = {keyword.arg: keyword.value for keyword in call.keywords}
        if method == "explorer" and "asked" in given:
            asked = ast.literal_eval(given["asked"])
            start = {key: ast.literal_eval(value) for key, value in given.items() if key in asked}
            from gypsumkit.live.explorers import explorer_class
            explorer = explorer_class(kind)(**start)
            before = explorer.words()
            explorer.go_to(**asked)
            assert explorer.words() != before, f"{cell.id} asks about the recipe it starts with"


@pytest.mark.skipif(not LESSONS, reason="no lesson")
def test_strict_nbval_notices_one_changed_number(tmp_path):
    lesson = LESSONS[0]
    notebook = nbformat.read(lesson, as_version=4)
    (cell,) = [cell for cell in notebook.cells if cell.id == "observe"]
    text = cell.outputs[0]["data"]["text/plain"]
    number = re.search(r"spreads to (\d+\.\d)", text).group(1)
    changed = f"{float(number) + 0.1:.1f}"
    cell.outputs[0]["data"]["text/plain"] = text.replace(f"spreads to {number}", f"spreads to {changed}", 1)
    nbformat.write(notebook, tmp_path / lesson.name)
    surroundings = {**os.environ, "PYTHONPATH": str(CLONE), "GYPSUMKIT_WORK": str(tmp_path / "work")}
    run = subprocess.run([sys.executable, "-m", "pytest", "--nbval", "--nbval-current-env", "-q", "-p", "no:cacheprovider",
                          f"--junitxml={tmp_path / 'report.xml'}", str(tmp_path / lesson.name)],
                         cwd=tmp_path, env=surroundings, capture_output=True, text=True, timeout=240)
    assert run.returncode == 1, run.stdout
    cells_that_run = len(cells(lesson, "code"))
    assert f"1 failed, {cells_that_run - 1} passed" in run.stdout, run.stdout
    place = [cell.id for cell in cells(lesson, "code")].index("observe")
    assert f"Cell {place}" in run.stdout and changed in run.stdout


def test_stored_files_are_in_the_one_form_that_storing_writes():
    for path in LESSONS:
        text = path.read_text(encoding="utf-8")
        assert text == nbformat.writes(nbformat.reads(text, as_version=4), version=4).rstrip("\n") + "\n", path.name
        assert json.loads(text)["nbformat"] == 4
