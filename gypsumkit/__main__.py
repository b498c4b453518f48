"""The course's commands: python3 -m gypsumkit open, check and the others that it lists.

This file keeps to syntax that any Python 3 can read, so that a Python that is too old is told so
in a sentence and not in a traceback.
"""
import sys

OLDEST_PYTHON = (3, 10)


def main():
    """Turn an old Python away in one sentence; else run the command that was typed."""
    if sys.version_info[:2] < OLDEST_PYTHON:
        sys.stderr.write(
            "gypsumkit needs Python {}.{} or newer, and this is Python {}.{}: install a newer one from "
            "python.org and start the command with it.\n".format(*(OLDEST_PYTHON + tuple(sys.version_info[:2]))))
        return 2
    from gypsumkit.launch.command_line import main as run
    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
