"""What every command has in common: options refused in one sentence, and a text printed whole or not at all."""

import argparse
import os
import sys

from gypsumkit.bench.powder_shelf import load_own_powders
from gypsumkit.problems import Problem


class Parser(argparse.ArgumentParser):
    """A reader of options that says what is wrong in one sentence."""

    def error(self, message):
        """Say what is wrong and where help is to be found."""
        raise Problem(f"{message[0].upper()}{message[1:]}; see '{self.prog} --help'.")


def printed(make, what):
    """Print what a command makes, with the reader's own powders beside those of the catalogue.

    Parameters
    ----------
    make : callable
        Returns the text; a Problem that it raises is printed as its sentence.
    what : str
        What is printed, at the start of a sentence.

    Returns
    -------
    int
        0, or 2 after a problem.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    for message in load_own_powders():
        print(message, file=sys.stderr)
    try:
        text = make()
    except Problem as problem:
        print(problem, file=sys.stderr)
        return 2
    try:
        print(text, flush=True)
    except BrokenPipeError:                     # the reader closed the page early, as `| head` does
        sys.stdout = open(os.devnull, "w", encoding="utf-8")
    except OSError as error:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")
        print(f"{what} could not be written: {error.strerror}.", file=sys.stderr)
        return 2
    return 0
