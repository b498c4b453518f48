"""What a lesson's kernel says when a cell is run too early or holds a problem: a sentence, no traceback."""

import shutil

import pytest
from jupyter_client.manager import start_new_kernel

from gypsumkit.launch.course import this_course


@pytest.fixture(scope="module")
def kernel(tmp_path_factory):
    home = tmp_path_factory.mktemp("ipython")
    shutil.copytree(this_course().config / "startup", home / "profile_default" / "startup")
    import os
    manager, client = start_new_kernel(env={**os.environ, "IPYTHONDIR": str(home), "PYTHONPATH": str(this_course().folder)})
    yield client
    client.stop_channels()
    manager.shutdown_kernel(now=True)


def said(kernel, code):
    """Run a cell and return all that it prints, tracebacks included."""
    parts = []

    def listen(message):
        content = message["content"]
        parts.append(content.get("text", "") + "\n".join(content.get("traceback", ())))
    kernel.execute_interactive(code, output_hook=listen, timeout=60)
    return "".join(parts)


def test_a_cell_run_before_the_lesson_is_started_says_so(kernel):
    words = said(kernel, "here.objectives()")
    assert "press “Start the lesson”" in words and "Traceback" not in words and "NameError" not in words


def test_a_problem_is_its_sentence(kernel):
    words = said(kernel, "from gypsumkit.problems import Problem\nraise Problem('The water is missing; add 50 mL.')")
    assert words.strip() == "The water is missing; add 50 mL."


def test_other_errors_stay_visible_for_those_who_can_read_them(kernel):
    assert "ZeroDivisionError" in said(kernel, "1 / 0") and "NameError" in said(kernel, "other_name")
