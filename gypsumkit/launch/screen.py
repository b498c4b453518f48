"""What the commands say while they work: whole sentences, and one line that moves while something takes long."""

import sys
import time

SECONDS_BETWEEN_LINES = 10


class Screen:
    """A place to say things, be it a terminal, a log file or a console that knows only a few letters.

    Parameters
    ----------
    stream : text file, optional
        Where the words go; the screen when not given.
    """

    def __init__(self, stream=None):
        self.stream = stream if stream is not None else sys.stdout
        if hasattr(self.stream, "reconfigure"):
            self.stream.reconfigure(errors="replace")
        self.is_terminal = self.stream.isatty()
        self._moving_width = 0
        self._started = self._last_line_at = None

    def begin(self):
        """Begin something that takes long: its clock starts now."""
        self._started, self._last_line_at = time.monotonic(), None

    def seconds(self):
        """Return the seconds since the long thing began."""
        return time.monotonic() - self._started

    def say(self, sentence):
        """Write one whole line and let it stand."""
        self._wipe()
        print(sentence, file=self.stream, flush=True)

    def show_progress(self, doing):
        """Show what is being done, and for how long all of it has taken, without filling the screen.

        Parameters
        ----------
        doing : str
            What is being done, such as "Downloading numpy".
        """
        now = time.monotonic()
        line = "  {:3.0f} s  {}".format(self.seconds(), doing)
        if self.is_terminal:
            line = line[:78]
            self.stream.write("\r" + line.ljust(self._moving_width))
            self.stream.flush()
            self._moving_width = len(line)
        elif self._last_line_at is None or now - self._last_line_at >= SECONDS_BETWEEN_LINES:
            self._last_line_at = now
            print(line, file=self.stream, flush=True)

    def _wipe(self):
        """Clear the moving line, so that the next sentence does not run into it."""
        if self._moving_width:
            self.stream.write("\r" + " " * self._moving_width + "\r")
            self._moving_width = 0
