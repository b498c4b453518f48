"""Code of an answer runs in an empty room within limits, or it does not run; where no room is to be had, that is found by trying."""

import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from gypsumkit.marking import isolation
from gypsumkit.marking.isolation import LIMITS, Isolation, Outcome, is_shown, isolation_here, run_code

CLONE = Path(__file__).resolve().parents[2]
needs_a_room = pytest.mark.skipif(not isolation_here().possible, reason=isolation_here().reason)


@needs_a_room
@pytest.mark.parametrize("code, result", [
    ("answer = 2 * 21", "42"),
    ("answer = 1\n2", "1"),
    ("1\n2", "2"),
    ("print('so')\nprint('7 mL')", "7 mL"),
    ("print(5)\nx = 6", "5"),
    ("import math\nmath.sqrt(16)", "4.0"),
    ("import numpy\nanswer = numpy.arange(4).sum()", "6"),
    ("from gypsumkit.recipe import Recipe\nanswer = Recipe.weighed('dental stone', 100, 30).water_powder_ratio", "0.3"),
    ("open('/own/a', 'w').write('9')\nanswer = open('/own/a').read()", "9"),
])
def test_the_result_is_the_answer_else_the_last_value_else_the_last_line(code, result):
    assert run_code(code) == Outcome(result, "")


@needs_a_room
@pytest.mark.parametrize("code, said", [
    ("x = 1", "gave no result"),
    ("1 / 0", "ZeroDivisionError"),
    ("answer = ", "SyntaxError"),
    ("while True: pass", "1 s of computing"),
    ("import time; time.sleep(60)", "not done after 4 s"),
    ("while True: print('x' * 1000)", "more than 64 kB"),
    ("bytearray(2_000_000_000)", "MemoryError"),
    ("import os; os.fork()", "BlockingIOError"),
    ("open('/own/a', 'wb').write(bytes(9_000_000))", "too large"),
])
def test_what_goes_wrong_is_one_sentence(code, said):
    outcome = run_code(code, LIMITS._replace(cpu_s=1, wall_s=4.0))
    assert outcome.ran and outcome.result == "" and said in outcome.trouble and "\n" not in outcome.trouble


@needs_a_room
def test_nothing_of_the_computer_is_in_the_room(tmp_path):
    scheme = tmp_path / "private" / "scheme.json"
    scheme.parent.mkdir()
    scheme.write_text("the keys", encoding="ascii")
    os.chmod(tmp_path, 0o755)
    seen = run_code(f"import os\nanswer = [os.path.exists({str(scheme)!r}), os.path.exists('/proc'), os.path.exists('/dev'), os.getpid(), os.getuid() == 0,"
                    " os.access('/', os.W_OK), sorted(os.listdir('/own')), [n for n in os.environ if 'GYPSUM' in n]]").result
    assert seen == "[False, False, False, 1, False, False, [], []]"


@needs_a_room
def test_the_room_is_gone_afterwards_and_so_is_every_process(tmp_path, monkeypatch):
    monkeypatch.setattr(isolation.tempfile, "tempdir", str(tmp_path))
    before = time.monotonic()
    run_code("import os, time\nos.setsid()\ntime.sleep(1000)", LIMITS._replace(wall_s=1.0))
    assert time.monotonic() - before < 60
    assert list(tmp_path.iterdir()) == []
    if shutil.which("ps"):
        assert "code_answer.py /program.py" not in subprocess.run(["ps", "-eo", "ppid,args"], capture_output=True, text=True).stdout


@needs_a_room
def test_a_room_ends_with_the_process_that_opened_it():
    code = ("from gypsumkit.marking.isolation import *\nimport threading, os, time\n"
            "threading.Thread(target=run_code, args=('import time\\nwhile True: time.sleep(1)',)).start()\ntime.sleep(1.5)\nos._exit(9)")
    ended = subprocess.run([sys.executable, "-c", code], cwd=CLONE, timeout=60, env={**os.environ, "PYTHONPATH": str(CLONE)})
    assert ended.returncode == 9
    until = time.monotonic() + 5
    while time.monotonic() < until and _rooms():
        time.sleep(0.2)
    assert not _rooms()


def _rooms():
    found = []
    for path in Path("/proc").glob("[0-9]*/cmdline"):
        try:
            if b"code_answer.py\0/program.py" in path.read_bytes():
                found.append(path)
        except OSError:
            pass
    return found


@pytest.mark.skipif(sys.platform != "linux" or not hasattr(os, "geteuid") or os.geteuid() != 0 or not shutil.which("setpriv"), reason="needs the master of a Linux system")
def test_an_ordinary_user_has_the_room_too_and_a_user_without_the_right_is_told(tmp_path):
    python = "/usr/bin/python3"
    copied = tmp_path / "course"
    shutil.copytree(CLONE / "gypsumkit", copied / "gypsumkit", ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
    for path in (*tmp_path.parents, tmp_path):
        if path.stat().st_uid == 0 and path.stat().st_mode & 0o005 != 0o005:
            os.chmod(path, path.stat().st_mode | 0o055)
    if subprocess.run([python, "-c", "import sys; sys.exit(sys.version_info < (3, 10))"], capture_output=True).returncode:
        pytest.skip("no other Python for the test")

    def isolated(*user):
        code = "from gypsumkit.marking.isolation import isolation_here as here; print(*here())"
        return subprocess.run(["setpriv", *user, python, "-B", "-c", code], cwd=copied, capture_output=True, text=True, timeout=60).stdout.strip()

    assert isolated("--reuid", "65534", "--regid", "65534", "--clear-groups") == "True"
    without = isolated("--bounding-set", "-sys_admin", "--inh-caps", "-sys_admin")
    assert without.startswith("False The system gave no empty room to run code in") and "not permitted" in without


@pytest.mark.parametrize("platform, named", [("darwin", "macOS"), ("win32", "Windows")])
def test_other_systems_run_no_code(platform, named, monkeypatch):
    monkeypatch.setattr(isolation.sys, "platform", platform)
    isolation_here.cache_clear()
    try:
        assert isolation_here().possible is False and named in isolation_here().reason
        assert run_code("answer = 1").ran is False
    finally:
        isolation_here.cache_clear()


@pytest.mark.parametrize("did, said", [("did: read a file", "could still read a file"), ("did: start a process, reach the network", "start a process, reach the network")])
def test_a_room_with_a_hole_is_found(did, said, monkeypatch):
    monkeypatch.setattr(isolation.sys, "platform", "linux")
    monkeypatch.setattr(isolation, "run_code", lambda code, limits=None: Outcome(did, ""))
    isolation_here.cache_clear()
    try:
        here = isolation_here()
        assert not here.possible and said in here.reason
    finally:
        isolation_here.cache_clear()


def test_the_hostile_program_gets_through_where_there_is_no_room(tmp_path):
    """The probe can fail: run plainly it succeeds, so its silence in the room means something."""
    import socket
    secret = tmp_path / "secret.txt"
    secret.write_text("x", encoding="ascii")
    with socket.create_server(("127.0.0.1", 0)) as listening:
        code = isolation._HOSTILE.format(port=listening.getsockname()[1], secret=str(secret), folder=str(tmp_path), process=os.getpid(), memory=1000, large=1000)
        code = code.replace("/course", str(tmp_path))
        (tmp_path / "gypsumkit").mkdir()
        (tmp_path / "probe.py").write_text(code + "\nprint(answer)", encoding="utf-8")
        said = subprocess.run([sys.executable, str(tmp_path / "probe.py")], cwd=tmp_path, capture_output=True, text=True, timeout=60).stdout
    for what in ("read a file", "list the folder of a file", "see another process", "write beside itself", "start a process", "reach the network",
                 "take all memory", "write a large file"):
        assert what in said


def test_an_examination_among_the_files_of_python_is_seen(tmp_path):
    assert is_shown(CLONE / "gypsumkit" / "marking") and not is_shown(tmp_path)
    assert isinstance(isolation_here(), Isolation)
