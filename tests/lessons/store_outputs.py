"""Run lessons as a new student would and store their outputs: words and still pictures, no widgets that need a kernel.

    python -m tests.lessons.store_outputs                    all lessons and answered copies
    python -m tests.lessons.store_outputs lessons/02_*.ipynb those named

A notebook is written back only when something changed, always in the same form.
"""

import os
import sys
import tempfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError

CLONE = Path(__file__).resolve().parents[2]
LESSONS = CLONE / "lessons"
ANSWERED = CLONE / "tests" / "lessons" / "answered"
WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"
KERNEL = {"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"}, "language_info": {"name": "python"}}
OWN_FOLDERS = ("GYPSUMKIT_WORK", "IPYTHONDIR", "MPLCONFIGDIR", "JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR")


def notebooks():
    """Return all lessons, then all answered copies."""
    return [*sorted(LESSONS.glob("*.ipynb")), *sorted(ANSWERED.glob("*.ipynb"))]


def run(notebook, folder):
    """Execute every cell, in order, in a fresh kernel with an empty work folder.

    Parameters
    ----------
    notebook : nbformat.NotebookNode
        It is changed in place.
    folder : path
        The folder the cells run in.

    Raises
    ------
    nbclient.exceptions.CellExecutionError
        When a cell fails.
    """
    with tempfile.TemporaryDirectory(prefix="gypsumkit-store-") as scratch:
        surroundings = {**os.environ, "PYTHONPATH": str(CLONE)}
        for name in OWN_FOLDERS:
            surroundings[name] = os.path.join(scratch, name.lower())
            os.mkdir(surroundings[name])
        client = NotebookClient(notebook, kernel_name="python3", timeout=120, record_timing=False, store_widget_state=False,
                                resources={"metadata": {"path": str(folder)}})
        client.execute(env=surroundings)


def clean(notebook):
    """Take out what changes from run to run or needs a living kernel; counts, words and pictures stay.

    Parameters
    ----------
    notebook : nbformat.NotebookNode
        It is changed in place.

    Raises
    ------
    ValueError
        When a cell warned or printed to the error stream.
    """
    notebook.metadata = nbformat.from_dict(KERNEL)
    for cell in notebook.cells:
        cell.metadata = nbformat.from_dict({key: value for key, value in cell.metadata.items() if key in ("jupyter", "tags")})
        for output in cell.get("outputs", []):
            if output.output_type == "stream" and output.name == "stderr":
                raise ValueError(f"cell {cell.id} warned: {output.text}")
            if "data" in output:
                output.data.pop(WIDGET_VIEW, None)
                output.metadata = nbformat.from_dict({})
        if "outputs" in cell:
            cell.outputs = [output for output in cell.outputs if output.get("data") != {}]


def store(path):
    """Run one notebook and write its outputs back.

    Parameters
    ----------
    path : pathlib.Path
        The notebook.

    Returns
    -------
    bool
        Whether the file changed.
    """
    before = path.read_text(encoding="utf-8")
    notebook = nbformat.reads(before, as_version=4)
    run(notebook, path.parent)
    clean(notebook)
    nbformat.validate(notebook)
    after = nbformat.writes(notebook, version=4).rstrip("\n") + "\n"
    if after == before:
        return False
    path.write_text(after, encoding="utf-8", newline="\n")
    return True


def main(arguments):
    """Store the outputs of the notebooks named, or of all; return the exit status."""
    failed = 0
    for path in [Path(name).resolve() for name in arguments] or notebooks():
        try:
            said = "stored" if store(path) else "unchanged"
        except (CellExecutionError, ValueError) as error:
            failed, said = 1, f"NOT stored: {error}"
        print(f"{path.name}: {said}", flush=True)
    return failed


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
