"""The command `open`: from a clone to a lesson on the screen, and cleanly back."""

import subprocess
import webbrowser

from gypsumkit.files import writing_into
from gypsumkit.launch.course import FIRST_LESSON
from gypsumkit.launch.environment import ready_python
from gypsumkit.launch.server import (already_open, lay_settings, start_lab, stop_signals_ignored, stop_signals_raise,
                                     surroundings_of_lab, usable_port)
from gypsumkit.launch.workspace import chosen_work_folder, lay_lessons

FIRST_RUN_LIMIT_S = 90


def open_course(course, screen, browser=True, port=None, work=None, wheels=None):
    """Open the course and keep it open until Ctrl-C.

    Parameters
    ----------
    course : Course
        The clone to open.
    screen : Screen
        Where sentences for the reader go.
    browser : bool
        Whether to start the browser.
    port : int, optional
        The port to use, 1 to 65535; a free one when not given.
    work : str, optional
        The student's work folder; the usual one when not given.
    wheels : pathlib.Path, optional
        A folder of wheels to install from, without a network.

    Returns
    -------
    int
        The exit status: 0 when the course was closed, 1 when the server ended by a fault of its own.

    Raises
    ------
    Problem
        When it cannot be opened; the sentence says why.
    """
    work = chosen_work_folder(work)
    address = already_open(course, work)
    if address:
        screen.say("The course is open already, in another window: {}".format(address))
        _show(address, browser, screen)
        return 0
    stop_signals_raise()
    if port:
        usable_port(port)  # say so now and not after minutes of setting up
    for sentence in lay_lessons(course, work):
        screen.say(sentence)
    python = ready_python(course, screen, wheels, keep_working=True)
    with writing_into(course.dot_folder, "the folder of the course"):
        lay_settings(course)
        surroundings = surroundings_of_lab(course, work)
    screen.say("Starting JupyterLab ...")
    inside = _Inside(course, python, surroundings)
    inside.sign(work, screen)
    server = start_lab(python, work / "lessons", port, surroundings, course.dot_folder / "lab.log")
    try:
        lesson = FIRST_LESSON if (work / "lessons" / FIRST_LESSON).is_file() else None
        if lesson:
            inside.run_first_lesson(work, server, screen)
        address = server.address(lesson)
        screen.say("The course is open at {}".format(address))
        screen.say("Leave this window open; Ctrl-C here ends the course.")
        _show(address, browser, screen)
        return server.wait_until_closed(screen)
    except KeyboardInterrupt:
        screen.say("Closing the course ...")
        return 0
    finally:
        with stop_signals_ignored():
            server.stop()


def _show(address, browser, screen):
    """Start the browser where one is wanted, and say so where none starts."""
    if browser and not webbrowser.open(address):
        screen.say("No browser could be started: copy the address above into one.")


class _Inside:
    """What the launcher has done by the environment's own Python, because it needs the packages there."""

    def __init__(self, course, python, surroundings):
        self.course, self.python, self.surroundings = course, python, surroundings

    def sign(self, work, screen):
        """Let Lab trust the copies that are the course's own, so that it asks no question about them."""
        if not self._run("sign", str(self.course.lessons), str(work / "lessons")):
            screen.say("The lessons could not be marked as the course's own: Lab asks before it runs them; say yes.")

    def run_first_lesson(self, work, server, screen):
        """Run the first lesson where it is as shipped, so that its pictures live as soon as it shows."""
        shipped, copy = self.course.lessons / FIRST_LESSON, work / "lessons" / FIRST_LESSON
        if shipped.is_file() and shipped.read_bytes() == copy.read_bytes():
            if not self._run("first_run", server.base, str(copy), JUPYTER_TOKEN=server.token):
                screen.say("The first lesson did not run by itself: press its start button.")

    def _run(self, program, *arguments, **more):
        """Run one of the programs in `inside`, and tell whether it went well."""
        with open(self.course.dot_folder / (program + ".log"), "wb") as log:
            try:
                return subprocess.call([str(self.python), "-m", "gypsumkit.launch.inside." + program, *arguments],
                                       stdin=subprocess.DEVNULL, stdout=log, stderr=log, cwd=self.course.folder,
                                       env={**self.surroundings, **more}, timeout=FIRST_RUN_LIMIT_S) == 0
            except subprocess.TimeoutExpired:
                return False
