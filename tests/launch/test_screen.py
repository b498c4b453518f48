"""What the commands say can be read on any console, and a long wait is never silent."""

import io
import sys

from gypsumkit.launch import screen as screens
from gypsumkit.launch.programs import last_lines, run_with_progress
from gypsumkit.launch.screen import Screen


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self):
        return True


def test_letters_that_a_console_lacks_do_not_end_the_command():
    console = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    Screen(console).say("C:\\Users\\Zoë is set up")
    console.flush()
    assert console.buffer.getvalue().splitlines() == [b"C:\\Users\\Zo? is set up"]


def test_a_terminal_shows_one_moving_line_that_the_next_sentence_wipes():
    screen = Screen(Terminal())
    screen.begin()
    screen.show_progress("Fetching " + "a very long name " * 20)
    screen.show_progress("Fetching b")
    screen.say("Done.")
    shown = screen.stream.getvalue()
    assert shown.count("\n") == 1 and shown.endswith("\rDone.\n")
    assert max(len(part) for part in shown.split("\r")) <= 78


def test_a_log_gets_a_line_now_and_then(monkeypatch):
    clock = [0.0]
    monkeypatch.setattr(screens.time, "monotonic", lambda: clock[0])
    screen = Screen(io.StringIO())
    screen.begin()
    for clock[0] in range(25):
        screen.show_progress("Installing")
    assert screen.stream.getvalue().splitlines() == ["    0 s  Installing", "   10 s  Installing", "   20 s  Installing"]


def test_a_program_is_logged_shown_and_its_status_passed_on(tmp_path, screen):
    log = tmp_path / "setup.log"
    screen.begin()
    code = "import sys; print('Collecting p\\u00e4ste'); print('trouble', file=sys.stderr); sys.exit(3)"
    status = run_with_progress([sys.executable, "-X", "utf8", "-c", code], log, screen, "Starting")
    assert status == 3
    assert sorted(log.read_text(encoding="utf-8").split("\n")) == ["", "Collecting päste", "trouble"]
    assert last_lines(log, 1).startswith("    ") and last_lines(tmp_path / "none") == ""
