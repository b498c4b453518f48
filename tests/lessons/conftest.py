"""Each answered copy starts as for a new student, also when it is run by pytest alone and not by the check command."""

from tests.notebook_runs import pytest_runtest_setup  # noqa: F401  (a hook that pytest finds by its name)
