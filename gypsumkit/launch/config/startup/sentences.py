"""Run in every lesson's kernel: say in a sentence what a reader can mend, where Python would print a traceback."""

from IPython import get_ipython

from gypsumkit.problems import Problem


def _say(shell, kind, error, trace, tb_offset=None):
    if isinstance(error, Problem):
        print(error)
    elif getattr(error, "name", None) in ("here", "lesson"):
        print("This lesson is not started yet: press “Start the lesson” at the top, or choose Run, then Run All Cells.")
    else:
        shell.showtraceback((kind, error, trace), tb_offset=tb_offset)


get_ipython().set_custom_exc((NameError, Problem), _say)
