"""Running an answer that is code: a stranger's program, shut into an empty room with limits, or not run at all."""

import contextlib
import functools
import json
import os
import secrets
import selectors
import shutil
import signal
import site
import socket
import subprocess
import sys
import sysconfig
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

import gypsumkit

LONGEST_RESULT = 1000
FIRST_OWN_USER, OWN_USERS = 2_000_000_000, 100_000_000
COURSE = "/course"
OWN_PLACE = "/own"          # the one folder to write in; not /tmp, below which Python itself may lie
LIBRARIES = ("/lib", "/lib64", "/lib32", "/usr/lib", "/usr/lib64", "/usr/lib32", "/usr/local/lib", "/etc/ld.so.cache", "/nix/store")


class Limits(NamedTuple):
    """What the code of one answer may use."""

    cpu_s: int = 5
    wall_s: float = 20.0
    memory_bytes: int = 1_000_000_000
    output_bytes: int = 64_000
    file_bytes: int = 8_000_000
    files: int = 64
    processes: int = 1


LIMITS = Limits()


class Outcome(NamedTuple):
    """What came of running code: its result as text, or the trouble in one sentence; `ran` is False where no isolation was to be had."""

    result: str
    trouble: str
    ran: bool = True


class Isolation(NamedTuple):
    """Whether this computer can shut a stranger's program in, and in one sentence why not."""

    possible: bool
    reason: str


def run_code(code, limits=LIMITS):
    """Run the code of an answer in an empty room and return its result.

    Parameters
    ----------
    code : str
        The program, in Python.
    limits : Limits
        What it may use.

    Returns
    -------
    Outcome
    """
    if sys.platform != "linux":
        return Outcome("", "This system has no empty room to run a stranger's code in.", ran=False)
    said, output, errors = _confined(code.encode("utf-8", errors="replace").decode(), limits)
    if said.get("refused") or not said.get("started"):
        return Outcome("", f"The system gave no empty room to run code in ({said.get('refused', 'it did not start')}).", ran=False)
    trouble = said.get("stopped") or _trouble(said.get("ended"), errors, limits)
    if trouble:
        return Outcome("", trouble)
    lines = [line.strip() for line in output.splitlines() if line.strip()]
    if not lines:
        return Outcome("", "The code gave no result: put the result into the name answer, or print it last.")
    return Outcome(_printable(lines[-1][:LONGEST_RESULT]), "")


def _trouble(ended, errors, limits):
    if ended == 0:
        return ""
    if ended == -signal.SIGKILL:
        return f"The code was ended: it needed more than {limits.cpu_s} s of computing, or too much memory."
    if ended is not None and ended < 0:
        return f"The code ended with signal {-ended}."
    last = ([line.strip() for line in errors.splitlines() if line.strip()] or [f"exit status {ended}"])[-1]
    return f"The code stopped: {_printable(last[:200])}."


def _printable(text):
    return "".join(one if one.isprintable() else "�" for one in text)


# ---- starting and watching

def _confined(code, limits):
    """Run code and return what its keeper said, its output and its error output."""
    room = tempfile.mkdtemp(prefix="gypsumkit-room-")
    ear, mouth = os.pipe()
    try:
        keeper = subprocess.Popen(
            [_interpreter(), "-I", "-S", str(Path(__file__).with_name("confined.py")), str(mouth)], pass_fds=(mouth,), start_new_session=True,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env={"LC_ALL": "C.UTF-8"}, cwd="/")
        os.close(mouth)
        mouth = None
        try:
            return _watched(keeper, ear, json.dumps(_order(code, room, limits)).encode(), limits)
        finally:
            _end(keeper)
    finally:
        os.close(ear)
        if mouth is not None:
            os.close(mouth)
        with contextlib.suppress(OSError):
            os.rmdir(room)


def _order(code, room, limits):
    return {
        "room": room, "own_place": OWN_PLACE, "parent": os.getpid(), "to_read": _to_read(), "program": code, "user": FIRST_OWN_USER + secrets.randbelow(OWN_USERS),
        "cpu_s": limits.cpu_s, "memory_bytes": limits.memory_bytes, "file_bytes": limits.file_bytes, "files": limits.files,
        "processes": limits.processes + (os.geteuid() != 0),          # an ordinary user's keeper counts too
        "command": [_interpreter(), "-I", "-S", "-B", COURSE + "/gypsumkit/marking/code_answer.py", "/program.py", COURSE, *_packages()],
        "surroundings": {"HOME": OWN_PLACE, "TMPDIR": OWN_PLACE, "LC_ALL": "C.UTF-8", "PYTHONUTF8": "1", "OPENBLAS_NUM_THREADS": "1",
                         "OMP_NUM_THREADS": "1", "MKL_NUM_THREADS": "1"},
    }


def _watched(keeper, ear, order, limits):
    """Read what comes until all is said, or a limit is passed."""
    until = time.monotonic() + limits.wall_s
    with contextlib.suppress(BrokenPipeError):
        keeper.stdin.write(order)
        keeper.stdin.close()
    heard = {ear: b"", keeper.stdout.fileno(): b"", keeper.stderr.fileno(): b""}
    stopped = ""
    with selectors.DefaultSelector() as waiting:
        for stream in heard:
            waiting.register(stream, selectors.EVENT_READ)
        while waiting.get_map() and not stopped:
            ready = waiting.select(max(0.0, until - time.monotonic()))
            if not ready:
                stopped = f"The code was ended: it was not done after {limits.wall_s:g} s."
            for key, _ in ready:
                part = os.read(key.fd, 65536)
                heard[key.fd] += part
                if not part:
                    waiting.unregister(key.fd)
                if len(heard[key.fd]) > limits.output_bytes:
                    stopped = f"The code was ended: it printed more than {limits.output_bytes / 1000:g} kB."
    said = {}
    for line in heard[ear].splitlines():
        said.update(json.loads(line))
    if stopped:
        said["stopped"] = stopped
    return said, *(heard[stream.fileno()].decode("utf-8", errors="replace") for stream in (keeper.stdout, keeper.stderr))


def _end(keeper):
    """End the keeper and, with it, every process in the room."""
    if keeper.poll() is None:
        with contextlib.suppress(ProcessLookupError, PermissionError):
            os.killpg(keeper.pid, signal.SIGKILL)
        keeper.kill()
    keeper.wait()
    for stream in (keeper.stdin, keeper.stdout, keeper.stderr):
        with contextlib.suppress(OSError):
            stream.close()


# ---- what the room holds

def _interpreter():
    return os.path.realpath(getattr(sys, "_base_executable", None) or sys.executable)


def _packages():
    """Return the folders of installed packages that this Python uses."""
    paths = sysconfig.get_paths()
    found = dict.fromkeys([paths["purelib"], paths["platlib"], *site.getsitepackages()])
    return [path for path in found if os.path.isdir(path)]


@functools.cache
def _to_read():
    """Return the places that the room shows for reading: Python, its packages, the libraries of the system, and gypsumkit."""
    wanted = [path for path in (*LIBRARIES, os.path.realpath(sys.base_prefix), _interpreter(), *_packages()) if os.path.lexists(path)]
    shown = []
    for path in sorted(dict.fromkeys(wanted)):
        if not any(path == above or path.startswith(above + "/") for above in shown if not os.path.islink(above)):
            shown.append(path)
    return [(path, path) for path in shown] + [(os.path.dirname(os.path.realpath(gypsumkit.__file__)), COURSE + "/gypsumkit")]


def is_shown(folder):
    """Return whether a folder lies where code could read it, or holds such a place.

    Parameters
    ----------
    folder : path
        Such as the folder of an examination.

    Returns
    -------
    bool
    """
    folder = os.path.realpath(folder)
    return any(folder == source or folder.startswith(source + "/") for source, _ in _to_read())


# ---- is it possible here?

_HOSTILE = """
import os, socket, sys
done = []
def attempt(name, what):
    try:
        what()
    except BaseException:
        return
    done.append(name)
def fork():
    if os.fork() == 0:
        os._exit(0)
def connect():
    socket.create_connection(("127.0.0.1", {port}), timeout=1).close()
attempt("read a file", lambda: open({secret!r}).read())
attempt("list the folder of a file", lambda: os.listdir({folder!r}))
attempt("see the processes", lambda: os.listdir("/proc/1"))
attempt("see another process", lambda: os.kill({process}, 0))
attempt("write beside itself", lambda: open("/course/new", "w"))
attempt("write into gypsumkit", lambda: open("/course/gypsumkit/new", "w"))
attempt("start a process", fork)
attempt("reach the network", connect)
attempt("become the master of the system", lambda: os.setuid(0))
attempt("take all memory", lambda: bytearray({memory}))
attempt("write a large file", lambda: open("large", "wb").write(bytes({large})))
if os.getuid() == 0:
    done.append("be the master of the system")
answer = "did: " + ", ".join(done)
"""


@functools.cache
def isolation_here():
    """Return whether this computer can shut a stranger's program in: a hostile one is really run.

    Returns
    -------
    Isolation
    """
    if sys.platform != "linux":
        named = {"darwin": "macOS", "win32": "Windows"}.get(sys.platform, sys.platform)
        return Isolation(False, f"{named} has no empty room that this program can shut a stranger's code in.")
    folder = tempfile.mkdtemp(prefix="gypsumkit-probe-")
    try:
        secret = os.path.join(folder, "secret.txt")
        Path(secret).write_text("a secret", encoding="ascii")
        os.chmod(folder, 0o755)
        with socket.create_server(("127.0.0.1", 0)) as listening:
            code = _HOSTILE.format(port=listening.getsockname()[1], secret=secret, folder=folder, process=os.getpid(),
                                   memory=LIMITS.memory_bytes, large=2 * LIMITS.file_bytes)
            outcome = run_code(code)
        endless = run_code("while True: pass", LIMITS._replace(cpu_s=1, wall_s=10.0)) if outcome.ran else outcome
    except OSError as error:
        return Isolation(False, f"A program could not be shut in here ({error.strerror or error}).")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    if not outcome.ran:
        return Isolation(False, outcome.trouble)
    if outcome.result != "did:":
        return Isolation(False, f"A program that was shut in here could still {outcome.result.removeprefix('did: ') or 'do what it liked'}{outcome.trouble}.")
    if "was ended" not in endless.trouble:
        return Isolation(False, "A program that never ends could not be ended here.")
    return Isolation(True, "")
