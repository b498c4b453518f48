"""Start JupyterLab on the student's lessons with the course's own settings, and end it cleanly."""

import json
import os
import secrets
import shutil
import signal
import socket
import subprocess
import time
import urllib.error
import urllib.parse
import urllib.request
from contextlib import contextmanager

from gypsumkit.launch.programs import clean_surroundings, last_lines
from gypsumkit.problems import Problem

HOST = "127.0.0.1"
USUAL_PORT = 8888
PORTS_TRIED = 50
START_LIMIT_S = 120
STOP_LIMIT_S = 15

# a proxy has no part in talking to this very computer
_direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))


class PortTaken(Problem):
    """The port went to another program."""


def start_lab(python, lessons, port, surroundings, log):
    """Start JupyterLab and wait until it answers.

    Parameters
    ----------
    python : pathlib.Path
        The environment's interpreter.
    lessons : pathlib.Path
        The folder that the student sees.
    port : int or None
        The port to use, 1 to 65535; a free one when None.
    surroundings : dict of str to str
        The environment variables from `surroundings_of_lab`.
    log : pathlib.Path
        The file for what Lab prints.

    Returns
    -------
    Server

    Raises
    ------
    Problem
        When it does not start, or the port that was named is taken.
    """
    for tries_left in reversed(range(5)):
        server = Server(python, lessons, usable_port(port), surroundings, log)
        try:
            server.wait_until_ready()
            return server
        except PortTaken:  # between looking and starting: look again, unless that very port was named
            if port or not tries_left:
                raise
        except BaseException:
            with stop_signals_ignored():
                server.stop()
            raise


class Server:
    """One running JupyterLab; it starts when this is made.

    Parameters
    ----------
    python : pathlib.Path
        The environment's interpreter.
    lessons : pathlib.Path
        The folder that the student sees.
    port : int
        A free port, 1 to 65535.
    surroundings : dict of str to str
        The environment variables from `surroundings_of_lab`.
    log : pathlib.Path
        The file for what Lab prints.
    """

    def __init__(self, python, lessons, port, surroundings, log):
        self.port = port
        self.log = log
        self.base = "http://{}:{}".format(HOST, port)
        self.token = secrets.token_hex(24)
        command = [str(python), "-m", "jupyterlab", "--no-browser", "--ServerApp.ip=" + HOST,
                   "--ServerApp.port={}".format(port), "--ServerApp.port_retries=0",
                   "--ServerApp.root_dir={}".format(lessons)]
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            command.append("--allow-root")
        apart = ({"creationflags": subprocess.CREATE_NEW_PROCESS_GROUP} if os.name == "nt"
                 else {"start_new_session": True})  # Ctrl-C reaches this program, which then closes Lab in order
        with open(log, "wb") as record:
            self._process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=record, stderr=record,
                                             cwd=lessons, env={**surroundings, "JUPYTER_TOKEN": self.token}, **apart)

    def address(self, lesson=None):
        """Return the address to open in a browser, with the token that lets its reader in and tabs of before closed.

        Parameters
        ----------
        lesson : str, optional
            The name of the lesson to show.

        Returns
        -------
        str
        """
        place = "/lab/tree/" + urllib.parse.quote(lesson) if lesson else "/lab"
        return "{}{}?reset&token={}".format(self.base, place, self.token)

    def wait_until_ready(self):
        """Wait until Lab answers.

        Raises
        ------
        Problem
            When it ends or stays silent instead.
        PortTaken
            When another program has its port.
        """
        give_up = time.monotonic() + START_LIMIT_S
        while time.monotonic() < give_up:
            if self._process.poll() is not None:
                if "in use" in self.log.read_text(encoding="utf-8", errors="replace"):
                    raise _port_taken(self.port)
                raise Problem("JupyterLab did not start; {} has it all, and it ends so:\n{}"
                              .format(self.log, last_lines(self.log)))
            if answers(self.base, self.token):
                return
            time.sleep(0.1)
        raise Problem("JupyterLab did not answer within {} s; {} has what it printed.".format(START_LIMIT_S, self.log))

    def wait_until_closed(self, screen):
        """Wait until Lab is closed from within, and say how it ended.

        Parameters
        ----------
        screen : Screen
            Where the sentence goes.

        Returns
        -------
        int
            0 when it was closed in order, else 1.
        """
        while self._process.poll() is None:
            time.sleep(0.2)
        if self._process.returncode == 0:
            screen.say("The course was closed.")
            return 0
        screen.say("JupyterLab ended by itself; {} has it all, and it ends so:\n{}".format(self.log, last_lines(self.log)))
        return 1

    def stop(self):
        """End Lab and the lessons that run in it: by asking, and by force where that does not help."""
        if self._process.poll() is None:
            try:
                request = urllib.request.Request(self.base + "/api/shutdown", data=b"", method="POST",
                                                 headers={"Authorization": "token " + self.token})
                _direct.open(request, timeout=5).close()
            except (OSError, ValueError):
                self._process.terminate()
        for last_resort in (self._process.terminate, self._process.kill):
            try:
                self._process.wait(STOP_LIMIT_S)
                return
            except subprocess.TimeoutExpired:
                last_resort()
        self._process.wait()


def answers(base, token):
    """Tell whether a Lab answers at an address and knows the token.

    Parameters
    ----------
    base : str
        The address without a path.
    token : str
        The token that lets in.

    Returns
    -------
    bool
    """
    request = urllib.request.Request(base + "/api/status", headers={"Authorization": "token " + token})
    try:
        with _direct.open(request, timeout=5) as answer:
            return answer.status == 200
    except (OSError, ValueError):
        return False


def usable_port(wanted=None):
    """Return a free port of this computer.

    Parameters
    ----------
    wanted : int, optional
        The one to use, 1 to 65535; the first free one from 8888 on when not given.

    Returns
    -------
    int

    Raises
    ------
    Problem
        When the wanted one is taken or none is free.
    """
    for port in [wanted] if wanted else range(USUAL_PORT, USUAL_PORT + PORTS_TRIED):
        with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as trial:
            if os.name != "nt":  # there it would mean sharing the port with whoever has it
                trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                trial.bind((HOST, port))
                return port
            except OSError:
                continue
    raise _port_taken(wanted)


def _port_taken(port):
    """Return the problem of a port that cannot be had."""
    if port is None:
        return PortTaken("No port from {} to {} is free: name a free one with --port NUMBER."
                       .format(USUAL_PORT, USUAL_PORT + PORTS_TRIED - 1))
    return PortTaken("Port {} is taken by another program or not allowed: name another with --port NUMBER, "
                   "or leave --port out and a free one is found.".format(port))


def surroundings_of_lab(course, work):
    """Return environment variables that keep all that Lab writes inside the clone's dot-folder.

    Parameters
    ----------
    course : Course
        The clone.
    work : pathlib.Path
        The student's work folder.

    Returns
    -------
    dict of str to str
    """
    own = course.dot_folder / "jupyter"
    return clean_surroundings(
        GYPSUMKIT_WORK=work, GYPSUMKIT_INSIDE="yes", PYTHONPATH=course.folder,
        JUPYTER_CONFIG_DIR=own / "config", JUPYTER_DATA_DIR=own / "data", JUPYTER_RUNTIME_DIR=own / "runtime",
        IPYTHONDIR=own / "ipython", MPLCONFIGDIR=own / "matplotlib", XDG_CACHE_HOME=own / "cache",
        JUPYTER_PREFER_ENV_PATH="1", JUPYTER_PLATFORM_DIRS="0")


def lay_settings(course):
    """Put the course's settings where Lab reads them; what the student set in Lab stays beside them.

    Parameters
    ----------
    course : Course
        The clone.
    """
    own = course.dot_folder / "jupyter"
    shutil.copytree(course.config, own / "config", dirs_exist_ok=True, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("data", "runtime", "ipython", "matplotlib", "cache"):
        (own / name).mkdir(parents=True, exist_ok=True)
    startup = own / "ipython" / "profile_default" / "startup"
    shutil.copytree(course.config / "startup", startup, dirs_exist_ok=True, ignore=shutil.ignore_patterns("__pycache__"))


def already_open(course, work):
    """Return the address of a course that is open already on the same work folder, or None.

    Parameters
    ----------
    course : Course
        The clone.
    work : pathlib.Path
        The student's work folder.

    Returns
    -------
    str or None
    """
    for file in (course.dot_folder / "jupyter" / "runtime").glob("jpserver-*.json"):
        try:
            running = json.loads(file.read_text(encoding="utf-8"))
            base, token, root = running["url"].rstrip("/"), running["token"], running["root_dir"]
        except (OSError, ValueError, RecursionError, KeyError, TypeError, AttributeError):
            continue
        if os.path.realpath(root) == os.path.realpath(work / "lessons") and answers(base, token):
            return "{}/lab?token={}".format(base, token)
    return None


def stop_signals_raise():
    """Let everything that asks this program to end do so as Ctrl-C does, so that Lab is closed in order."""
    for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.default_int_handler)


@contextmanager
def stop_signals_ignored():
    """Let nobody interrupt the closing of Lab."""
    names = [name for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK") if hasattr(signal, name)]
    before = {name: signal.signal(getattr(signal, name), signal.SIG_IGN) for name in names}
    try:
        yield
    finally:
        for name, handler in before.items():
            signal.signal(getattr(signal, name), handler)
