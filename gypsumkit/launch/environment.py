"""The course's own Python environment: found when it fits, built beside the old one when not.

Each build gets a folder of its own in the clone's dot-folder, and counts only once its stamp is written,
which is the last act of building. So a build that fails, or a plug that is pulled, leaves the environment
that worked before, and an environment that a lesson is using is never changed under it.

The library itself is not installed but linked: one line in the environment points at the clone. That needs
no build tools, so it works without a network, and an edit of the library holds at once.
"""

import hashlib
import importlib.util
import json
import os
import re
import shutil
import sys
import tempfile
import time
from pathlib import Path

from gypsumkit.files import write_whole, writing_into
from gypsumkit.launch.programs import clean_surroundings, last_lines, run_with_progress
from gypsumkit.problems import Problem

ROOM_NEEDED_MB = 700
STAMP = "stamp.json"
ABANDONED_AFTER_S = 24 * 3600

_NO_NETWORK = ("NewConnectionError", "Failed to establish a new connection", "name resolution", "getaddrinfo failed",
               "Network is unreachable", "ConnectTimeoutError", "Read timed out", "ProxyError", "Connection refused",
               "Connection aborted", "nodename nor servname")
_NO_CERTIFICATES = ("CERTIFICATE_VERIFY_FAILED", "SSLCertVerificationError")
_NO_SPACE = ("No space left on device", "not enough space on the disk")


def ready_python(course, screen, wheels=None, with_tests=False, keep_working=False):
    """Return the Python of an environment that fits the course, building one where none does.

    Parameters
    ----------
    course : Course
        The clone the environment is for.
    screen : Screen
        Where progress is shown.
    wheels : pathlib.Path, optional
        An existing folder of wheels to install from, without a network.
    with_tests : bool
        Whether what only the tests need is to be there too.
    keep_working : bool
        Whether an environment of before will do, with a sentence, when the new one cannot be built.

    Returns
    -------
    pathlib.Path
        The interpreter to start programs of the course with.

    Raises
    ------
    Problem
        When nothing fits and nothing can be built; the sentence says why.
    """
    if runs_inside(course):
        return Path(sys.executable)
    wanted = stamp(course)
    found = _finished(course, wanted)
    if found is None:
        try:
            found = _build(course, screen, wheels, wanted, with_tests)
        except Problem as problem:
            found = _finished(course, wanted, but_for="packages") if keep_working else None
            if found is None:
                raise
            screen.say("{}\nThe update is put off: what was installed before is used."
                       .format(problem))
    if with_tests and _read_stamp(found).get("test_packages") != _digest(course.test_requirements):
        screen.begin()
        screen.say("Installing what the tests need.")
        _install(course, screen, wheels, found, with_tests=True)
        _write_stamp(course, found, wanted, with_tests=True)
    return python_of(found)


def runs_inside(course):
    """Tell whether the Python at work is the course's own already.

    Parameters
    ----------
    course : Course
        The clone whose environment is meant.

    Returns
    -------
    bool
        True in the environment's Python, and wherever GYPSUMKIT_INSIDE=yes says that the Python
        at work has all that is needed.
    """
    if os.environ.get("GYPSUMKIT_INSIDE") == "yes":
        return True
    found = _finished(course, stamp(course))
    return found is not None and found.resolve() == Path(sys.prefix).resolve()


def stamp(course):
    """Return what an environment must have been built from to fit the course as it is now.

    Parameters
    ----------
    course : Course
        The clone the environment is for.

    Returns
    -------
    dict of str to str
        The packages asked for, the place of the clone and the version of Python.
    """
    return {
        "packages": _digest(course.requirements) + _digest(course.project_file),
        "clone": str(course.folder),
        "python": "{}.{}".format(*sys.version_info[:2]),
    }


def python_of(environment):
    """Return the interpreter of an environment, as each system names it.

    Parameters
    ----------
    environment : pathlib.Path
        The environment's folder.

    Returns
    -------
    pathlib.Path
    """
    return environment / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _digest(path):
    """Return a fingerprint of a text file that does not depend on how its lines end."""
    return hashlib.sha256(path.read_bytes().replace(b"\r\n", b"\n")).hexdigest()[:16] if path.is_file() else ""


def _finished(course, wanted, but_for=None):
    """Return the newest finished environment whose stamp is as wanted, or None."""
    wanted = {key: value for key, value in wanted.items() if key != but_for}
    fitting = [folder for folder in _environments(course)
               if wanted.items() <= _read_stamp(folder).items() and python_of(folder).exists()]
    return max(fitting, key=lambda folder: (folder / STAMP).stat().st_mtime, default=None)


def _environments(course):
    """Return the folders of all environments of a clone, finished or not."""
    return sorted(course.dot_folder.glob("python-*"))


def _read_stamp(environment):
    """Return an environment's stamp, empty where it was never finished."""
    try:
        found = json.loads((environment / STAMP).read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def _write_stamp(course, environment, wanted, with_tests):
    """Mark an environment as finished."""
    tests = _digest(course.test_requirements) if with_tests else ""
    write_whole(environment / STAMP, json.dumps({**wanted, "test_packages": tests}, indent=1).encode("utf-8"))


def _build(course, screen, wheels, wanted, with_tests):
    """Build an environment in a folder of its own, and clear those before it away."""
    _check_python_is_whole()
    screen.begin()
    screen.say("Setting up the course in {}. {}".format(
        course.dot_folder, "It is installed from {}.".format(wheels) if wheels else
        "The first time this fetches about 90 MB and takes some minutes; afterwards no network is needed."))
    with writing_into(course.dot_folder, "the folder of the course"):
        course.dot_folder.mkdir(exist_ok=True)
        _check_room(course.dot_folder)
        environment = Path(tempfile.mkdtemp(prefix="python-", dir=course.dot_folder))
        try:
            _make_bare(course, screen, environment)
            _install(course, screen, wheels, environment, with_tests)
            _link_library(course, environment)
            _write_stamp(course, environment, wanted, with_tests)
        except BaseException:
            shutil.rmtree(environment, ignore_errors=True)
            raise
    _clear_away(course, environment)
    screen.say("The course is set up ({:.0f} s).".format(screen.seconds()))
    return environment


def _check_python_is_whole():
    """Say so when this Python came without what builds environments."""
    for part in ("venv", "ensurepip"):
        if importlib.util.find_spec(part) is None:
            raise Problem("This Python came without its '{}' module: on Debian and Ubuntu install it with "
                          "'sudo apt install python3-venv', elsewhere install Python from python.org.".format(part))


def _check_room(folder):
    """Say so before anything is fetched when the disk has too little room."""
    free_mb = shutil.disk_usage(folder).free / 1e6
    if free_mb < ROOM_NEEDED_MB:
        raise Problem("The disk is too full: setting up needs {} MB on the disk that holds {}, and {:.0f} MB are free."
                      .format(ROOM_NEEDED_MB, folder, free_mb))


def _make_bare(course, screen, environment):
    """Make an environment that holds pip and nothing else."""
    log = _fresh_log(course)
    status = run_with_progress([sys.executable, "-m", "venv", str(environment)], log, screen,
                               "Making a Python environment", cwd=course.folder, env=clean_surroundings())
    if status:
        raise Problem(_why_it_failed(log, None))


def _install(course, screen, wheels, environment, with_tests):
    """Install the packages that the course asks for."""
    log = _fresh_log(course)
    asked_for = environment / "packages.txt"
    asked_for.write_text(_without_library(course.requirements), encoding="utf-8")
    command = [str(python_of(environment)), "-m", "pip", "install", "--no-input", "--disable-pip-version-check",
               "--progress-bar", "off", "--retries", "2", "--cache-dir", str(course.dot_folder / "downloads"),
               "--requirement", str(asked_for)]
    if with_tests and course.test_requirements.is_file():
        command += ["--requirement", str(course.test_requirements)]
    if wheels is not None:
        command += ["--no-index", "--find-links", str(wheels)]
    status = run_with_progress(command, log, screen, "Looking up the packages", _what_pip_does,
                               cwd=course.folder, env=clean_surroundings())
    if status:
        raise Problem(_why_it_failed(log, wheels))


def _fresh_log(course):
    """Return the file that keeps what the installers print, emptied."""
    log = course.dot_folder / "setup.log"
    log.write_text("", encoding="utf-8")
    return log


def _without_library(requirements):
    """Return the requirements less the library itself, which is linked and not installed."""
    lines = requirements.read_text(encoding="utf-8").splitlines()
    return "\n".join(line for line in lines if not line.strip().startswith("-e")) + "\n"


def _what_pip_does(line):
    """Put a line of pip's into words for the screen, or return None when it says nothing new."""
    word, _, rest = line.strip().partition(" ")
    if word == "Collecting":
        return "Looking up " + re.split(r"[\s<>=!~;\[(]", rest, maxsplit=1)[0]
    if word in ("Downloading", "Using", "Processing") and ".whl" in rest:
        name = re.split(r"[\\/\s]", rest.split(".whl")[0])[-1].split("-")
        return "Fetching " + " ".join(name[:2]) + "".join(re.findall(r" \([\d.]+ [kM]B\)", rest))
    if line.startswith("Installing collected packages"):
        return "Installing {} packages, the longest step".format(line.count(",") + 1)
    return None


def _why_it_failed(log, wheels):
    """Put what went wrong into one sentence, with the end of the log where it is not a usual trouble."""
    printed = log.read_text(encoding="utf-8", errors="replace")
    missing = re.search(r"No matching distribution found for (\S+)", printed)
    if any(sign in printed for sign in _NO_SPACE):
        return "The disk is full: make room on the disk that holds {}, then start again.".format(log.parent)
    if any(sign in printed for sign in _NO_CERTIFICATES):
        return ("The package index was reached but this Python holds no certificates to trust it by: on macOS run "
                "'Install Certificates.command' from Python's folder in Applications, then start again.")
    if any(sign in printed for sign in _NO_NETWORK):
        return ("The packages could not be fetched because there is no network: connect once and start again, "
                "or give a folder of wheels with --wheels FOLDER.")
    if wheels is not None and missing:
        return ("The folder {} holds no wheel for {} that fits this computer and Python {}.{}: fill it on a computer of "
                "the same kind, as README says.".format(wheels, missing.group(1), *sys.version_info[:2]))
    return "The installation failed; {} has it all, and it ends so:\n{}".format(log, last_lines(log))


def _link_library(course, environment):
    """Let the environment's Python find the library in the clone, whatever letters its path holds."""
    packages = environment / "Lib" if os.name == "nt" else environment / "lib" / "python{}.{}".format(*sys.version_info[:2])
    link = packages / "site-packages" / "gypsumkit-course.pth"
    if sys.version_info >= (3, 13):
        link.write_text(str(course.folder) + "\n", encoding="utf-8")
    else:  # older Pythons read this file in the letters of the system, so keep to plain ones
        link.write_text("import sys; sys.path.append({})\n".format(ascii(str(course.folder))), encoding="ascii")


def _clear_away(course, kept):
    """Remove the environments that the new one replaces, and what was fetched for it."""
    for folder in _environments(course):
        abandoned = time.time() - folder.stat().st_mtime > ABANDONED_AFTER_S
        if folder != kept and (_read_stamp(folder) or abandoned):
            shutil.rmtree(folder, ignore_errors=True)
    shutil.rmtree(course.dot_folder / "downloads", ignore_errors=True)
