"""The command `check` counts what ran, and never takes silence for success."""

import os
import subprocess
import sys

import pytest

from gypsumkit.launch.browser import find_chromium
from gypsumkit.launch.check import IN_FRONT, NOT_RUN, check, counted
from tests.launch.conftest import CLONE, notebook

REPORT = '<testsuites><testsuite tests="{}" failures="{}" errors="{}" skipped="{}"/></testsuites>'
SHOWN = [{"output_type": "execute_result", "data": {"text/plain": "2"}, "metadata": {}, "execution_count": 1}]


@pytest.mark.parametrize("report, status, expected", [
    (REPORT.format(9, 0, 0, 2), 0, (7, 0, 2)),
    (REPORT.format(9, 1, 2, 0), 1, (6, 3, 0)),
    (REPORT.format(0, 0, 0, 0), 5, (0, 1, 0)),
    (REPORT.format(9, 0, 0, 0), 3, (9, 1, 0)),
    ("<testsuites><tests", 2, (0, 1, 0)),
    (None, -9, (0, 1, 0)),
])
def test_the_report_and_the_status_are_both_heard(tmp_path, report, status, expected):
    path = tmp_path / "report.xml"
    if report is not None:
        path.write_text(report)
    outcome = counted("tests", path, status)
    assert (outcome.passed, outcome.failed, outcome.skipped) == expected


def write_checks(course, tests, lesson, benchmark):
    """Give a course one test file, one lesson with a stored output, and one benchmark."""
    (course.folder / "tests" / "benchmarks").mkdir(parents=True)
    for name in ("__init__.py", "notebook_runs.py", "pytest.ini"):
        (course.folder / "tests" / name).write_bytes((CLONE / "tests" / name).read_bytes())
    (course.folder / "tests" / "test_all.py").write_text(tests, encoding="utf-8")
    (course.folder / "tests" / "benchmarks" / "speed.py").write_text(benchmark, encoding="utf-8")
    (course.folder / "tests" / "benchmarks" / "helper.py").write_text("raise SystemExit(1)\n", encoding="utf-8")
    (course.lessons / "00_start_here.ipynb").unlink()
    (course.lessons / "02_water.ipynb").write_bytes(lesson)


def run_check(course, *arguments, **more):
    """Run the command in a course of its own."""
    surroundings = {**os.environ, "GYPSUMKIT_INSIDE": "yes", "CI": "", **more}
    done = subprocess.run([sys.executable, "-m", "gypsumkit", "check", *arguments], cwd=course.folder, env=surroundings,
                          capture_output=True, text=True, timeout=300)
    return done.returncode, done.stdout.splitlines()


def test_all_kinds_of_checks_are_run_and_counted_and_each_notebook_starts_with_an_empty_work_folder(course):
    code = ("code:import os, pathlib\nfolder = pathlib.Path(os.environ['GYPSUMKIT_WORK'])\nbefore = len(list(folder.iterdir()))\n"
            "(folder / 'answers.json').write_text('{}')\nbefore")
    nothing = [{**SHOWN[0], "data": {"text/plain": "0"}}]
    write_checks(course, "import pytest\ndef test_a(): pass\ndef test_b(): pass\n@pytest.mark.skip\ndef test_c(): pass\n",
                 notebook("# Water", code, outputs=nothing), 'if __name__ == "__main__":\n    print("fast enough")\n')
    (course.lessons / "03_next.ipynb").write_bytes(notebook("# Next", code, outputs=nothing))
    status, printed = run_check(course)
    assert status == 0 and "fast enough" in printed
    assert printed[-1] == "5 passed, 0 failed, {} skipped".format(1 if find_chromium() else 2)
    made = {path.name for path in course.folder.iterdir()} - {".environment"}
    assert made == {"gypsumkit", "lessons", "requirements.txt", "tests"}


def test_each_kind_of_failure_fails_the_check(course):
    write_checks(course, "def test_a(): pass\ndef test_b(): assert False\n",
                 notebook("# Water", "code:1 + 2", outputs=SHOWN), 'if __name__ == "__main__":\n    raise SystemExit("too slow")\n')
    status, printed = run_check(course, GYPSUMKIT_CHROMIUM="/nowhere", CI="true")
    assert status == 1
    assert printed[-1] == "1 passed, 4 failed"


def test_named_tests_run_alone_and_nothing_found_is_a_failure(course):
    write_checks(course, "def test_a(): pass\ndef test_b(): assert False\n", notebook("# Water"), "raise SystemExit(1)\n")
    without_notebooks = {"PYTEST_ADDOPTS": "-p no:nbval"}  # what runs notebooks takes long to load
    assert run_check(course, "tests/test_all.py::test_a", **without_notebooks)[0] == 0
    status, printed = run_check(course, "tests/benchmarks", **without_notebooks)
    assert status == 1 and printed[-1] == "0 passed, 1 failed"


def test_a_benchmark_that_lacks_something_is_not_run_and_never_passed(course, screen, monkeypatch):
    write_checks(course, "def test_a(): pass\n", notebook("# Water"),
                 'import sys\nif __name__ == "__main__":\n    sys.exit({})\n'.format(NOT_RUN))
    (course.lessons / "02_water.ipynb").unlink()
    monkeypatch.setattr("gypsumkit.launch.check._Run.tests", lambda run: counted("tests", course.folder / "none", 1))
    assert check(course, screen, sys.executable) == 1
    said = screen.stream.getvalue()
    assert "0 passed    0 failed    1 skipped  benchmark speed  (not run)" in said


def test_the_browser_is_the_one_that_is_named(monkeypatch, tmp_path):
    browser = tmp_path / "browser"
    monkeypatch.setenv("GYPSUMKIT_CHROMIUM", str(browser))
    assert find_chromium() is None
    browser.write_text("")
    assert find_chromium() == str(browser)


def test_the_rooms_all_other_tests_and_those_in_a_browser_run_beside_each_other_and_each_is_counted_once(course):
    write_checks(course, "def test_a(): pass\n", notebook("# Water"), "")
    for room in ("browser", IN_FRONT[0]):
        (course.folder / "tests" / room).mkdir()
    (course.folder / "tests" / "browser" / "test_page.py").write_text("def test_seen(): pass\ndef test_unseen(): assert False, 'the page is bare'\n")
    (course.folder / "tests" / IN_FRONT[0] / "test_room.py").write_text("def test_warm(): pass\ndef test_dry(): pass\ndef test_cold(): assert False, 'a cold room'\n")
    status, lines = run_check(course)
    assert status == 1 and any("tests in a browser" in line and "1 passed    1 failed" in line for line in lines)
    assert any("  tests  (" in line and "2 passed    1 failed" in line for line in lines) and any("other tests" in line and "1 passed    0 failed" in line for line in lines)
    assert any("the page is bare" in line for line in lines) and any("a cold room" in line for line in lines)


def test_what_fails_in_a_browser_beside_the_others_is_tried_again_by_itself_and_that_is_said(course, tmp_path):
    write_checks(course, "def test_a(): pass\n", notebook("# Water", "code:1 + 1", outputs=SHOWN), "")
    (course.folder / "tests" / "browser").mkdir()
    (course.folder / "tests" / "browser" / "test_page.py").write_text(
        "import pathlib\nseen = pathlib.Path({!r})\ndef test_steady(): pass\n"
        "def test_hurried():\n    late = not seen.exists()\n    seen.touch()\n    assert not late, 'too late'\n".format(str(tmp_path / "seen")))
    status, lines = run_check(course)
    assert status == 0 and any("too late" in line for line in lines), "the first failure is printed"
    (line,) = [line for line in lines if "  tests in a browser" in line]
    assert "2 passed    0 failed" in line and "1 passed only when tried again by themselves" in line
