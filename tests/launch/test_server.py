"""The server: its settings, its port, and a whole course opened, read and closed as a reader would."""

import json
import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request

import pytest
from traitlets.config.loader import PyFileConfigLoader

from gypsumkit.launch import server
from gypsumkit.launch.course import Course
from gypsumkit.launch.server import already_open, lay_settings, surroundings_of_lab, usable_port
from gypsumkit.problems import Problem
from tests.launch.conftest import CLONE, notebook

CONFIG = CLONE / "gypsumkit" / "launch" / "config"


def read_settings():
    return PyFileConfigLoader("jupyter_server_config.py", path=str(CONFIG)).load_config()


def test_the_prompt_connection_loads_and_sends_at_once(monkeypatch):
    from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection as Usual
    Prompt = read_settings().ServerApp.kernel_websocket_connection_class
    assert issubclass(Prompt, Usual)
    done = []
    monkeypatch.setattr(Usual, "connect", lambda self: done.append("connected"))

    class Handler:
        def set_nodelay(self, value):
            done.append(value)

    connection = Prompt.__new__(Prompt)
    monkeypatch.setattr(Prompt, "websocket_handler", Handler())
    connection.connect()
    assert done == [True, "connected"]
    monkeypatch.setattr(Prompt, "websocket_handler", None)
    connection.connect()
    assert done == [True, "connected", "connected"]


def test_without_the_prompt_connection_the_settings_load_all_the_same(monkeypatch):
    monkeypatch.setitem(sys.modules, "jupyter_server.services.kernels.connection.channels", None)
    settings = read_settings()
    assert "kernel_websocket_connection_class" not in settings.ServerApp and settings.LabApp.custom_css is True


def test_the_settings_are_known_to_lab():
    """Each setting that is overridden is one that this JupyterLab has."""
    overrides = json.loads((CONFIG / "labconfig" / "default_setting_overrides.json").read_text(encoding="utf-8"))
    schemas = os.path.join(sys.prefix, "share", "jupyter", "lab", "schemas")
    for plugin, settings in overrides.items():
        package, _, name = plugin.partition(":")
        with open(os.path.join(schemas, package, name + ".json"), encoding="utf-8") as schema:
            assert set(settings) <= set(json.load(schema)["properties"]), plugin


def test_a_taken_port_is_said():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(Problem, match="Port {} is taken".format(port)):
            usable_port(port)
    assert usable_port(port) == port


def test_without_a_wish_a_free_port_is_found(monkeypatch):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        monkeypatch.setattr("gypsumkit.launch.server.USUAL_PORT", taken.getsockname()[1])
        assert usable_port() > taken.getsockname()[1]


def test_a_port_that_goes_between_looking_and_starting_is_looked_for_again(monkeypatch):
    begun = []

    class Taken:
        def __init__(self, python, lessons, port, surroundings, log):
            begun.append(port)

        def wait_until_ready(self):
            if len(begun) < 3:
                raise server.PortTaken("taken")

    monkeypatch.setattr(server, "Server", Taken)
    monkeypatch.setattr(server, "usable_port", lambda wish=None: wish or 9000 + len(begun))
    server.start_lab(None, None, None, None, None)
    assert begun == [9000, 9001, 9002]
    begun.clear()
    with pytest.raises(Problem):
        server.start_lab(None, None, 9500, None, None)
    assert begun == [9500]


def test_settings_of_the_student_stay_beside_the_courses(course):
    lay_settings(course)
    config = course.dot_folder / "jupyter" / "config"
    (config / "lab").mkdir()
    (config / "lab" / "mine.json").write_text("{}")
    (config / "custom" / "custom.css").write_text("old")
    lay_settings(course)
    assert (config / "lab" / "mine.json").read_text() == "{}"
    assert (config / "custom" / "custom.css").read_bytes() == (CONFIG / "custom" / "custom.css").read_bytes()


def test_all_that_lab_writes_goes_into_the_dot_folder(course, tmp_path, monkeypatch):
    monkeypatch.setenv("JUPYTER_PATH", "/elsewhere")
    monkeypatch.setenv("PYTHONPATH", "/elsewhere")
    around = surroundings_of_lab(course, tmp_path)
    for name in ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR", "MPLCONFIGDIR"):
        assert around[name].startswith(str(course.dot_folder)), name
    assert "/elsewhere" not in around.values()


@pytest.mark.parametrize("torn", ["", "{", "[]", '{"url": 3}', "[" * 100_000], ids=["empty", "torn", "list", "number", "nested"])
def test_a_torn_note_of_a_running_course_is_no_running_course(course, tmp_path, torn):
    runtime = course.dot_folder / "jupyter" / "runtime"
    runtime.mkdir(parents=True)
    (runtime / "jpserver-1.json").write_text(torn)
    assert already_open(course, tmp_path) is None


class Opened:
    """A course opened by its command, with a home folder of its own."""

    def __init__(self, course, home, *arguments):
        home.mkdir()
        self.home = home
        self.course = course
        self.surroundings = {**os.environ, "HOME": str(home), "USERPROFILE": str(home), "GYPSUMKIT_INSIDE": "yes",
                             "PYTHONIOENCODING": "ascii", "PYTHONUNBUFFERED": "1"}
        for name in ("GYPSUMKIT_WORK", "XDG_CACHE_HOME"):
            self.surroundings.pop(name, None)
        self.said = home.parent / "said.txt"
        with open(self.said, "wb") as said:
            self.program = subprocess.Popen([sys.executable, "-m", "gypsumkit", "open", "--no-browser", *arguments],
                                            cwd=course.folder, env=self.surroundings, stdin=subprocess.DEVNULL,
                                            stdout=said, stderr=subprocess.STDOUT)

    def text(self):
        return self.said.read_text(encoding="ascii")

    def address(self):
        give_up = time.monotonic() + 180
        while "Leave this window open; Ctrl-C here ends the course." not in self.text():
            assert self.program.poll() is None and time.monotonic() < give_up, self.text()
            time.sleep(0.1)
        return re.search(r"http://\S+", self.text()).group()

    def stop(self, how=signal.SIGINT):
        self.program.send_signal(how)
        return self.program.wait(90)


def status(address):
    try:
        with urllib.request.urlopen(address, timeout=10) as answer:
            return answer.status, answer.geturl()
    except urllib.error.HTTPError as error:
        return error.code, address


@pytest.mark.skipif(os.name == "nt", reason="sends the signals of Linux and macOS")
def test_a_course_is_opened_read_and_closed(course, tmp_path):
    opened = Opened(course, tmp_path / "home")
    try:
        address = opened.address()
        base, token = address.split("/lab")[0], address.split("token=")[1]
        # let in with the token only, and straight to the first lesson
        assert status(address)[0] == 200 and "/lab/tree/00_start_here.ipynb" in address
        assert "/login" in status(base + "/lab")[1]
        assert status(base + "/api/contents")[0] == 403
        # only the lessons are in sight
        with urllib.request.urlopen("{}/api/contents?token={}".format(base, token), timeout=10) as answer:
            assert sorted(item["name"] for item in json.load(answer)["content"]) == ["00_start_here.ipynb", "02_water.ipynb"]
        # the first lesson ran and is trusted, its kernel waits for the page; the second is trusted and as shipped
        for name, trusted in (("00_start_here.ipynb", True), ("02_water.ipynb", True)):
            with urllib.request.urlopen("{}/api/contents/{}?token={}".format(base, name, token), timeout=10) as answer:
                lesson = json.load(answer)["content"]
            assert all(cell["metadata"]["trusted"] is trusted for cell in lesson["cells"] if cell["cell_type"] == "code")
        lessons = opened.home / "gypsumkit-work" / "lessons"
        assert b"the lesson runs" in (lessons / "00_start_here.ipynb").read_bytes().split(b'"outputs"')[1]
        assert (lessons / "02_water.ipynb").read_bytes() == (course.lessons / "02_water.ipynb").read_bytes()
        with urllib.request.urlopen("{}/api/sessions?token={}".format(base, token), timeout=10) as answer:
            assert [session["path"] for session in json.load(answer)] == ["00_start_here.ipynb"]
        # a second one finds the first
        again = subprocess.run([sys.executable, "-m", "gypsumkit", "open", "--no-browser"], cwd=course.folder,
                               env=opened.surroundings, capture_output=True, text=True, timeout=60)
        assert again.returncode == 0 and "open already" in again.stdout and base in again.stdout
        assert opened.stop() == 0
    finally:
        if opened.program.poll() is None:
            opened.stop(signal.SIGTERM)
    assert "Traceback" not in opened.text()
    assert already_open(Course(course.folder), opened.home / "gypsumkit-work") is None
    assert status_refused(base)
    # nothing in the home folder but the work folder, nothing in the clone but the dot-folder
    assert [path.name for path in opened.home.iterdir()] == ["gypsumkit-work"]
    assert sorted(path.name for path in course.folder.iterdir()) == [".environment", "gypsumkit", "lessons", "requirements.txt"]


def status_refused(base):
    try:
        urllib.request.urlopen(base, timeout=5)
    except urllib.error.URLError:
        return True
    return False


@pytest.mark.skipif(os.name == "nt", reason="sends the signals of Linux and macOS")
def test_a_first_lesson_that_fails_is_left_as_it_was_and_the_course_opens(course, tmp_path):
    broken = notebook("# Start", "code:raise RuntimeError('no')")
    (course.lessons / "00_start_here.ipynb").write_bytes(broken)
    opened = Opened(course, tmp_path / "home", "--work", str(tmp_path / "elsewhere"))
    try:
        base = opened.address().split("/lab")[0]
        token = opened.address().split("token=")[1]
        assert "did not run by itself" in opened.text()
        assert (tmp_path / "elsewhere" / "lessons" / "00_start_here.ipynb").read_bytes() == broken
        with urllib.request.urlopen("{}/api/sessions?token={}".format(base, token), timeout=10) as answer:
            assert json.load(answer) == []
    finally:
        assert opened.stop(signal.SIGTERM) == 0
    assert not (opened.home / "gypsumkit-work").exists()


def test_a_taken_port_ends_the_command_with_a_sentence(course, tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        opened = Opened(course, tmp_path / "home", "--port", str(taken.getsockname()[1]))
        assert opened.program.wait(90) == 2
    assert "is taken" in opened.text() and opened.text().count("\n") == 1
