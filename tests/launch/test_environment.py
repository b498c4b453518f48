"""The environment: built when it must be, kept when a build fails, and every usual trouble said in a sentence."""

import collections
import errno
import importlib.util
import json
import os
import shutil
import subprocess
import sys
import zipfile

import pytest

from gypsumkit.launch import environment
from gypsumkit.launch.course import Course
from gypsumkit.launch.environment import ready_python, runs_inside, stamp
from gypsumkit.problems import Problem
from tests.launch.conftest import make_course

OFFLINE = {"PIP_CONFIG_FILE": os.devnull, "PIP_INDEX_URL": "http://127.0.0.1:9/simple", "PIP_RETRIES": "0"}
PREDICT = """
import json, sys

def main(arguments):
    import plaster_trial
    print(json.dumps([sys.prefix, arguments, plaster_trial.VALUE]))
    return 5
"""


def make_wheel(folder, name, version, code):
    """Put a wheel of one small module into a folder."""
    folder.mkdir(exist_ok=True)
    about = "{}-{}.dist-info/".format(name, version)
    with zipfile.ZipFile(folder / "{}-{}-py3-none-any.whl".format(name, version), "w") as wheel:
        wheel.writestr(name + ".py", code)
        wheel.writestr(about + "METADATA", "Metadata-Version: 2.1\nName: {}\nVersion: {}\n".format(name, version))
        wheel.writestr(about + "WHEEL", "Wheel-Version: 1.0\nGenerator: tests\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        wheel.writestr(about + "RECORD", "")


@pytest.fixture
def outside(monkeypatch):
    """Run as a Python that is not the course's own, and that no network helps."""
    monkeypatch.delenv("GYPSUMKIT_INSIDE", raising=False)
    for name, value in OFFLINE.items():
        monkeypatch.setenv(name, value)


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """A course that was set up, for real, from a folder of wheels; and that folder."""
    folder = tmp_path_factory.mktemp("built")
    course = make_course(folder / "my cöurse")
    commands = course.folder / "gypsumkit" / "commands"
    commands.mkdir()
    (commands / "__init__.py").write_text("", encoding="utf-8")
    (commands / "predict.py").write_text(PREDICT, encoding="utf-8")
    make_wheel(folder / "whe els", "plaster_trial", "1.2", "VALUE = 'from the wheel'\n")
    said = run_command(course, "predict", "--help-me", wheels=folder / "whe els")
    return course, folder / "whe els", said


@pytest.fixture(scope="module")
def only_pip(built, tmp_path_factory):
    """A folder that holds the pip of a real environment and nothing else."""
    course, _, _ = built
    (pip,) = course.dot_folder.glob("python-*/[Ll]ib/**/site-packages/pip")
    folder = tmp_path_factory.mktemp("only_pip")
    shutil.copytree(pip, folder / "pip")
    return folder


@pytest.fixture
def quickly_bare(only_pip, monkeypatch):
    """Make environments that share one pip; unpacking it anew, which `built` has tried, takes most of the time."""
    def make_bare(course, screen, folder):
        subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(folder)], check=True)
        packages = subprocess.check_output([str(environment.python_of(folder)), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"],
                                           text=True).strip()
        with open(os.path.join(packages, "shared.pth"), "w", encoding="ascii") as link:
            link.write("import sys; sys.path.append({})\n".format(ascii(str(only_pip))))

    monkeypatch.setattr(environment, "_make_bare", make_bare)


def run_command(course, *arguments, wheels=None, **more):
    """Run a command of a clone as a reader would, from its top folder, and return what came of it."""
    surroundings = {key: value for key, value in os.environ.items() if key != "GYPSUMKIT_INSIDE"}
    surroundings.update(OFFLINE, PYTHONIOENCODING="ascii", **more)
    if wheels is not None:
        surroundings.update(PIP_NO_INDEX="1", PIP_FIND_LINKS=wheels.as_uri())
    return subprocess.run([sys.executable, "-m", "gypsumkit", *arguments], cwd=course.folder, env=surroundings,
                          capture_output=True, encoding="ascii", timeout=300, stdin=subprocess.DEVNULL)


def test_predict_sets_up_and_runs_in_the_environment(built):
    course, _, said = built
    prefix, arguments, value = json.loads(said.stdout)
    assert (os.path.dirname(prefix), arguments, value) == (str(course.dot_folder), ["--help-me"], "from the wheel")
    assert said.returncode == 5
    assert "Setting up the course" in said.stderr and "The course is set up" in said.stderr


def test_the_second_time_nothing_is_set_up_and_arguments_pass_unchanged(built):
    course, _, _ = built
    said = run_command(course, "predict", "--powder", "model pläster", "", "a 'b' \"c\" $d *")
    assert json.loads(said.stdout)[1] == ["--powder", "model pläster", "", "a 'b' \"c\" $d *"]
    assert said.stderr == "" and said.returncode == 5


def test_in_the_environments_own_python_a_command_does_not_start_another(built, outside):
    course, _, _ = built
    python = ready_python(course, screen=None)
    code = "import os, sys; sys.path.insert(0, {!r}); from gypsumkit.launch.course import this_course; " \
           "from gypsumkit.launch.environment import runs_inside; print(runs_inside(this_course()))".format(str(course.folder))
    assert subprocess.run([str(python), "-c", code], capture_output=True, text=True).stdout.strip() == "True"
    assert not runs_inside(course)


def test_an_update_that_fails_leaves_what_worked(built, outside, quickly_bare, screen):
    course, _, _ = built
    before = ready_python(course, screen)
    asked_for = course.requirements.read_bytes()
    try:
        course.requirements.write_bytes(asked_for + b"plaster-extra\n")
        assert ready_python(course, screen, keep_working=True) == before
        assert "no network" in screen.stream.getvalue() and "installed before is used" in screen.stream.getvalue()
        assert subprocess.run([str(before), "-c", "import plaster_trial, gypsumkit.problems"]).returncode == 0
        assert len(list(course.dot_folder.glob("python-*"))) == 1
    finally:
        course.requirements.write_bytes(asked_for)


def test_an_update_that_works_takes_the_place_of_the_old(outside, quickly_bare, tmp_path, screen):
    course = make_course(tmp_path / "clone")
    wheels = tmp_path / "wheels"
    make_wheel(wheels, "plaster_trial", "1.2", "VALUE = 1\n")
    old = ready_python(course, screen, wheels)
    make_wheel(wheels, "plaster_trial", "1.3", "VALUE = 2\n")
    course.requirements.write_text("-e ./gypsumkit\nplaster-trial>=1.3\n", encoding="utf-8")
    (course.folder / "tests").mkdir()
    course.test_requirements.write_text("plaster-tool\n", encoding="utf-8")
    make_wheel(wheels, "plaster_tool", "1.0", "")
    new = ready_python(course, screen, wheels, with_tests=True)
    assert subprocess.check_output([str(new), "-c", "import plaster_trial, plaster_tool; print(plaster_trial.VALUE)"]) == b"2\n"
    assert new != old and not old.exists()


def test_a_wheel_that_is_missing_is_named(built, outside, quickly_bare, screen, tmp_path):
    _, wheels, _ = built
    course = make_course(tmp_path / "clone")
    course.requirements.write_text("plaster-trial\nstone-trial>=2\n", encoding="utf-8")
    with pytest.raises(Problem, match=r"holds no wheel for stone-trial"):
        ready_python(course, screen, wheels)
    assert not list(course.dot_folder.glob("python-*"))


def test_the_stamp_follows_packages_place_and_python_but_not_line_ends(course, tmp_path):
    before = stamp(course)
    text = course.requirements.read_bytes()
    course.requirements.write_bytes(text.replace(b"\n", b"\r\n"))
    assert stamp(course) == before
    course.requirements.write_bytes(text + b"numpy\n")
    assert stamp(course)["packages"] != before["packages"]
    course.requirements.write_bytes(text)
    course.project_file.write_text("changed", encoding="utf-8")
    assert stamp(course)["packages"] != before["packages"]
    moved = Course(course.folder.rename(tmp_path / "moved"))
    assert stamp(moved)["clone"] != before["clone"]
    assert before["python"] == "{}.{}".format(*sys.version_info[:2])


@pytest.mark.parametrize("torn", [None, "", "{", "[]", '{"clone": "elsewhere"}', "[" * 100_000],
                         ids=["none", "empty", "torn", "list", "elsewhere", "nested"])
def test_an_environment_without_a_whole_stamp_does_not_count(course, torn, outside, monkeypatch, screen):
    half = course.dot_folder / "python-half"
    python = environment.python_of(half)
    python.parent.mkdir(parents=True)
    python.write_text("")
    if torn is not None:
        (half / "stamp.json").write_text(torn)
    monkeypatch.setattr(environment, "_build", lambda *given: course.dot_folder / "python-built")
    assert ready_python(course, screen) == environment.python_of(course.dot_folder / "python-built")


def test_too_little_room_is_said_before_anything_is_made(course, outside, monkeypatch, screen):
    usage = collections.namedtuple("usage", "total used free")
    monkeypatch.setattr(environment.shutil, "disk_usage", lambda folder: usage(10**12, 10**12 - 5 * 10**7, 5 * 10**7))
    with pytest.raises(Problem, match="disk is too full.*50 MB are free"):
        ready_python(course, screen)
    assert not list(course.dot_folder.glob("python-*"))


def test_a_disk_that_fills_meanwhile_is_said_and_nothing_half_stays(course, outside, monkeypatch, screen):
    def full(*given):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(environment, "_make_bare", full)
    with pytest.raises(Problem, match="disk is full"):
        ready_python(course, screen)
    assert not list(course.dot_folder.glob("python-*"))


@pytest.mark.parametrize("part", ["venv", "ensurepip"])
def test_a_python_without_its_parts_is_said(course, outside, monkeypatch, screen, part):
    find = importlib.util.find_spec
    monkeypatch.setattr(environment.importlib.util, "find_spec", lambda name: None if name == part else find(name))
    with pytest.raises(Problem, match="without its '{}' module.*python3-venv".format(part)):
        ready_python(course, screen)


@pytest.mark.parametrize("printed, sentence", [
    ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "disk is full"),
    ("WARNING: Retrying (NewConnectionError('<x>: Failed to establish a new connection: [Errno 101] Network is unreachable'))\n"
     "ERROR: No matching distribution found for numpy<3", "there is no network"),
    ("SSLError(SSLCertVerificationError(1, '[SSL: CERTIFICATE_VERIFY_FAILED]'))", "Install Certificates"),
    ("error: metadata-generation-failed\nhint: See above", "it ends so:\n    error: metadata-generation-failed\n    hint"),
])
def test_what_the_installer_prints_becomes_a_sentence(tmp_path, printed, sentence):
    log = tmp_path / "setup.log"
    log.write_text(printed, encoding="utf-8")
    assert sentence in environment._why_it_failed(log, None)


@pytest.mark.parametrize("line, words", [
    ("Collecting numpy<3,>=1.26 (from -r x.txt (line 4))", "Looking up numpy"),
    ("Collecting jupyterlab~=4.6", "Looking up jupyterlab"),
    ("  Downloading numpy-2.4.6-cp311-cp311-manylinux_2_28_x86_64.whl (16.6 MB)", "Fetching numpy 2.4.6 (16.6 MB)"),
    ("  Using cached https://files.example/packages/ab/six-1.17.0-py2.py3-none-any.whl (11 kB)", "Fetching six 1.17.0 (11 kB)"),
    ("Processing /media/stick/my wheels/six-1.17.0-py2.py3-none-any.whl", "Fetching six 1.17.0"),
    ("Installing collected packages: six, numpy, attrs", "Installing 3 packages, the longest step"),
    ("Requirement already satisfied: pip", None),
    ("", None),
])
def test_progress_says_what_is_being_done(line, words):
    assert environment._what_pip_does(line) == words
