"""The command `check`: every check of the course in a row, with one count at the end."""

import os
import shutil
import subprocess
import tempfile
import time
import xml.etree.ElementTree
from dataclasses import dataclass
from pathlib import Path

from gypsumkit.launch.browser import find_chromium
from gypsumkit.launch.programs import clean_surroundings

NOT_RUN = 77  # the exit status of a benchmark that lacks something it needs, such as a browser
_OWN_FOLDERS = ("GYPSUMKIT_WORK", "JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR",
                "MPLCONFIGDIR")
# The tests run in two lanes, one for each of two cores: these rooms and then the notebooks, and all other tests beside them.
# The tests in a browser are a third lane. They mostly wait, but they look at motion: so the other two give way to them.
IN_FRONT = ("marking", "quiz", "science", "stage", "studies")
_GIVING_WAY = ("nice", "-n", "5")
_NO_NOTEBOOKS = ("-p", "no:nbval")         # it takes long to load


@dataclass
class Outcome:
    """What came of one part of the checks."""

    part: str
    passed: int = 0
    failed: int = 0
    skipped: int = 0
    remark: str = ""


def check(course, screen, python, tests=(), fast=False):
    """Run every check and say what came of it.

    Parameters
    ----------
    course : Course
        The clone to check.
    screen : Screen
        Where the sentences go; what the checks print goes to the standard output.
    python : pathlib.Path
        An interpreter that has the course's packages and the tests'.
    tests : sequence of str
        Tests to run in place of everything.
    fast : bool
        Whether to leave the benchmarks out.

    Returns
    -------
    int
        0 when nothing failed, else 1.
    """
    started = time.monotonic()
    scratch = Path(tempfile.mkdtemp(prefix="gypsumkit-check-"))
    try:
        run = _Run(course, screen, python, scratch)
        if tests:
            outcomes = [run.pytest("tests named", *tests)]
        else:
            with run.browser_tests() as browser, run.other_tests() as others:
                outcomes = [run.browser_is_there(), run.tests(), run.notebooks(), others.outcome(), browser.outcome()]
            outcomes += [] if fast else run.benchmarks()  # by themselves, on a quiet machine
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    return _conclude(screen, outcomes, time.monotonic() - started)


class _Run:
    """One run of the checks: where, with what, and the parts of it."""

    def __init__(self, course, screen, python, scratch):
        self.course, self.screen, self.python, self.scratch = course, screen, python, scratch
        self.chromium = find_chromium()
        folders = {name: scratch / name.lower() for name in _OWN_FOLDERS}
        for folder in folders.values():
            folder.mkdir()
        browser = {"GYPSUMKIT_CHROMIUM": self.chromium} if self.chromium else {}
        self.surroundings = clean_surroundings(GYPSUMKIT_INSIDE="yes", GYPSUMKIT_SCRATCH=scratch,
                                               PYTHONPATH=course.folder, **folders, **browser)

    def browser_is_there(self):
        """Say when the tests that need a browser cannot run; where the whole is judged, that is a failure."""
        outcome = Outcome("browser")
        if self.chromium is None:
            must = os.environ.get("CI") == "true"
            outcome.failed, outcome.skipped = int(must), int(not must)
            outcome.remark = "no Chromium found: what needs a browser is not run"
        return outcome

    def tests(self):
        """Run the tests of the rooms `IN_FRONT`."""
        rooms = self.rooms_in_front()
        if not rooms:
            return Outcome("tests", remark="there are none")
        return self.pytest("tests", *rooms, *_NO_NOTEBOOKS)

    def rooms_in_front(self):
        """Return those of the rooms `IN_FRONT` that there are."""
        return ["tests/" + room for room in IN_FRONT if (self.course.folder / "tests" / room).is_dir()]

    def other_tests(self):
        """Start all other tests, less the notebooks, the browser's and the benchmarks, which have parts of their own."""
        apart = ["tests/lessons/answered", "tests/benchmarks", "tests/browser", *self.rooms_in_front()]
        return _Beside(self, "other tests", ["tests", *("--ignore=" + folder for folder in apart)])

    def browser_tests(self):
        """Start the tests in a browser."""
        return _Beside(self, "tests in a browser", ["tests/browser"], of_motion=True)

    def notebooks(self):
        """Run every lesson and every answered copy, and compare each output with the stored one, in one process."""
        folders = (self.course.lessons, self.course.folder / "tests" / "lessons" / "answered")
        notebooks = [str(path.relative_to(self.course.folder)) for folder in folders for path in sorted(folder.glob("*.ipynb"))]
        if not notebooks:
            return Outcome("notebooks", remark="there are none")
        return self.pytest("notebooks", "--nbval", "--nbval-current-env", "--nbval-cell-timeout=120",
                           "-p", "tests.notebook_runs", "-p", "no:cacheprovider", "-c", "tests/pytest.ini", "--rootdir=.", *notebooks)

    def benchmarks(self):
        """Run every benchmark by itself."""
        scripts = sorted((self.course.folder / "tests" / "benchmarks").glob("*.py"))
        return [self.benchmark(script) for script in scripts
                if '__name__ == "__main__"' in script.read_text(encoding="utf-8")]

    def benchmark(self, script):
        """Run one benchmark; it fails by its exit status."""
        self.screen.say("\n== benchmark {}".format(script.stem))
        started = time.monotonic()
        status = subprocess.call([str(self.python), str(script)], cwd=self.course.folder, env=self.surroundings,
                                 stdin=subprocess.DEVNULL)
        outcome = Outcome("benchmark " + script.stem, remark="{:.0f} s".format(time.monotonic() - started))
        if status == NOT_RUN:
            outcome.skipped, outcome.remark = 1, "not run"
        else:
            outcome.passed, outcome.failed = int(status == 0), int(status != 0)
        return outcome

    def pytest(self, part, *arguments):
        """Run pytest and count from its report; a run that reports nothing is a failure."""
        self.screen.say("\n== {}".format(part))
        started = time.monotonic()
        report = self.scratch / "report.xml"
        report.unlink(missing_ok=True)
        status = subprocess.call([*giving_way(), *self.command(report, arguments)], **self.where())
        outcome = counted(part, report, status)
        outcome.remark = (outcome.remark + "  {:.0f} s".format(time.monotonic() - started)).strip()
        return outcome


    def command(self, report, arguments):
        """Return the words that start pytest and make it write a report."""
        return [str(self.python), "-m", "pytest", "-q", "-rfEs", "--junitxml={}".format(report), *arguments]

    def where(self):
        """Return folder and surroundings of a run."""
        return {"cwd": self.course.folder, "env": self.surroundings, "stdin": subprocess.DEVNULL}


class _Beside:
    """A pytest run beside the others; what it prints is kept until it has ended, and it ends with the block.

    Where the tests look at motion, what fails is tried once more when the others have ended: beside the others they have a part of
    a machine. What passes only then is said.
    """

    def __init__(self, run, part, arguments, of_motion=False):
        self.run, self.part, self.arguments, self.of_motion = run, part, arguments, of_motion
        self.report = run.scratch / "{}.xml".format(part)
        self.process = None

    def __enter__(self):
        self.started = time.monotonic()
        self.printed = (self.run.scratch / "{}.txt".format(self.part)).open("w+", encoding="utf-8", errors="replace")
        if (self.run.course.folder / self.arguments[0]).is_dir():
            words = [*([] if self.of_motion else giving_way()), *self.command()]
            self.process = subprocess.Popen(words, stdout=self.printed, stderr=self.printed, **self.run.where())
        return self

    def __exit__(self, *_):
        if self.process is not None and self.process.poll() is None:
            self.process.terminate()
            self.process.wait()
        self.printed.close()

    def command(self, *more):
        """Return the words that start this run; which tests failed is kept in the scratch folder."""
        memory = "cache_dir={}".format(self.run.scratch / "memory of {}".format(self.part))
        return self.run.command(self.report, [*self.arguments, *_NO_NOTEBOOKS, "-o", memory, *more])

    def outcome(self):
        """Wait for the end, print what was printed, try again what failed, and count."""
        if self.process is None:
            return Outcome(self.part, remark="there are none")
        status = self.process.wait()
        self.run.screen.say("\n== {}".format(self.part))
        self.printed.seek(0)
        print(self.printed.read(), flush=True)
        outcome = counted(self.part, self.report, status)
        outcome.remark = (outcome.remark + "  {:.0f} s, beside the others".format(time.monotonic() - self.started)).strip()
        return self.tried_again(outcome) if self.of_motion and status == 1 else outcome

    def tried_again(self, first):
        """Run by themselves the tests that failed, and count them as they come out now."""
        self.run.screen.say("\n== {}, {} tried again by themselves".format(self.part, first.failed))
        self.report.unlink(missing_ok=True)
        second = counted(self.part, self.report, subprocess.call(self.command("--last-failed"), **self.run.where()))
        first.passed, first.failed = first.passed + second.passed, second.failed
        first.remark += "; {} passed only when tried again by themselves".format(second.passed) if second.passed else ""
        return first


def giving_way():
    """Return the words before a command that make it give way to what is more urgent; none where a system has no such command."""
    return list(_GIVING_WAY) if shutil.which(_GIVING_WAY[0]) else []


def counted(part, report, status):
    """Count what a pytest run reports.

    Parameters
    ----------
    part : str
        What the run is called.
    report : pathlib.Path
        Its report in JUnit's form; it may be missing.
    status : int
        Its exit status.

    Returns
    -------
    Outcome
        With one failure more where the run failed in a way that its report does not show.
    """
    outcome = Outcome(part)
    try:
        for suite in xml.etree.ElementTree.parse(report).getroot().iter("testsuite"):
            outcome.failed += int(suite.get("failures")) + int(suite.get("errors"))
            outcome.skipped += int(suite.get("skipped"))
            outcome.passed += int(suite.get("tests"))
        outcome.passed -= outcome.failed + outcome.skipped
    except (OSError, xml.etree.ElementTree.ParseError):
        outcome.remark = "no report"
    if status and not outcome.failed:
        outcome.failed = 1
        outcome.remark = "no test ran" if status == 5 else "pytest ended with status {}".format(status)
    return outcome


def _conclude(screen, outcomes, seconds):
    """Say what came of each part and, alone on the last line, of all."""
    screen.say("\n== in short, after {:.0f} s".format(seconds))
    for outcome in outcomes:
        counts = "{0.passed:5d} passed {0.failed:4d} failed {0.skipped:4d} skipped".format(outcome)
        screen.say("{}  {}  {}".format(counts, outcome.part, "({})".format(outcome.remark) if outcome.remark else "").rstrip())
    passed, failed, skipped = (sum(getattr(outcome, name) for outcome in outcomes) for name in ("passed", "failed", "skipped"))
    screen.say("{} passed, {} failed{}".format(passed, failed, ", {} skipped".format(skipped) if skipped else ""))
    return 1 if failed or not passed else 0
