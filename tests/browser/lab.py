"""A real JupyterLab for tests: the course's own settings and functions, on folders that are thrown away."""

import socket
import sys
from contextlib import contextmanager
from pathlib import Path

from gypsumkit.launch.course import Course
from gypsumkit.launch.server import Server, lay_settings, surroundings_of_lab

CLONE = Path(__file__).resolve().parents[2]

# What only a test needs: to reach the notebook's kernel from the page.
_FOR_TESTS = "\nc.LabApp.expose_app_in_browser = True\n"

# The server as it comes, without the setting that sends every message at once.
_STOCK_CONNECTION = """
from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection
c.ServerApp.kernel_websocket_connection_class = ZMQChannelsWebsocketConnection
"""


class CourseElsewhere(Course):
    """The course of this clone, writing into another folder."""

    writes_into = None

    @property
    def dot_folder(self):
        """The folder that is written into."""
        return self.writes_into


@contextmanager
def running_lab(folder, prompt=True):
    """Run JupyterLab as the course starts it, until the block ends.

    Parameters
    ----------
    folder : pathlib.Path
        An empty folder for all that is written.
    prompt : bool
        With the course's setting that sends each message at once, or without.

    Yields
    ------
    Server
        Ready, with its lessons in ``folder / "work" / "lessons"`` and the surroundings that it runs in.
    """
    course = CourseElsewhere(CLONE)
    object.__setattr__(course, "writes_into", folder / "environment")
    work = folder / "work"
    (work / "lessons").mkdir(parents=True)
    lay_settings(course)
    with open(course.dot_folder / "jupyter" / "config" / "jupyter_server_config.py", "a", encoding="utf-8") as settings:
        settings.write(_FOR_TESTS if prompt else _FOR_TESTS + _STOCK_CONNECTION)
    surroundings = surroundings_of_lab(course, work)
    server = Server(Path(sys.executable), work / "lessons", _any_free_port(), surroundings, folder / "lab.log")
    server.surroundings = surroundings
    server.lessons = work / "lessons"
    try:
        server.wait_until_ready()
        yield server
    finally:
        server.stop()


def _any_free_port():
    # One that the system picks: two runs of the tests at the same time do not race for the course's usual one.
    with socket.socket() as trial:
        trial.bind(("127.0.0.1", 0))
        return trial.getsockname()[1]
