"""Run another program and keep the reader informed meanwhile."""

import os
import queue
import subprocess
import threading

_UNWANTED = ("PYTHONPATH", "PYTHONHOME", "PYTHONSTARTUP", "VIRTUAL_ENV", "JUPYTER_PATH", "JUPYTER_CONFIG_PATH",
             "JUPYTERLAB_DIR", "JUPYTERLAB_SETTINGS_DIR", "JUPYTERLAB_WORKSPACES_DIR")


def clean_surroundings(**more):
    """Return environment variables for a program of the course, without what would lead it astray.

    Parameters
    ----------
    **more : str or pathlib.Path
        Variables to set on top.

    Returns
    -------
    dict of str to str
        This program's variables, less those that point a Python at packages or settings from elsewhere.
    """
    surroundings = {name: value for name, value in os.environ.items() if name not in _UNWANTED}
    surroundings.update(PYTHONNOUSERSITE="1", PYTHONIOENCODING="utf-8")
    surroundings.update({name: str(value) for name, value in more.items()})
    return surroundings


def run_with_progress(command, log, screen, doing, describe=lambda line: None, **options):
    """Run a program, keep what it prints in a log, and show on screen what it is at.

    Parameters
    ----------
    command : list of str
        The program and its arguments; no shell takes part.
    log : pathlib.Path
        The file to which everything printed is added.
    screen : Screen
        Where progress is shown; its clock must have begun.
    doing : str
        What to show until the program says something better.
    describe : callable, optional
        Turns a printed line into what to show, or None to go on showing what stands there.
    **options
        Further arguments of `subprocess.Popen`, such as `cwd` and `env`.

    Returns
    -------
    int
        The program's exit status.
    """
    program = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                               text=True, encoding="utf-8", errors="replace", **options)
    lines = queue.Queue()
    threading.Thread(target=_pass_on, args=(program.stdout, lines), daemon=True).start()
    try:
        with open(log, "a", encoding="utf-8") as record:
            while True:
                try:
                    line = lines.get(timeout=0.5)
                except queue.Empty:
                    line = ""
                if line is None:
                    return program.wait()
                record.write(line)
                record.flush()
                doing = describe(line) or doing
                screen.show_progress(doing)
    finally:
        if program.poll() is None:
            program.kill()
        program.wait()


def _pass_on(pipe, lines):
    """Hand each line of a pipe to a queue, and None at its end."""
    with pipe:
        for line in pipe:
            lines.put(line)
    lines.put(None)


def last_lines(log, count=12):
    """Return the last lines of a log, indented for the screen.

    Parameters
    ----------
    log : pathlib.Path
        The file to read.
    count : int
        How many lines, at least 1.

    Returns
    -------
    str
        The lines, or an empty string when there is no such file.
    """
    try:
        lines = log.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return ""
    return "\n".join("    " + line for line in lines[-count:])
