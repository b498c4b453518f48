"""The library as a wheel: every room and every file of it is in, which an install that links the clone would not show."""

import os
import shutil
import subprocess
import sys
import zipfile

import pytest

from tests.launch.conftest import CLONE

BUILD = "from setuptools.build_meta import build_wheel; build_wheel({!r})"
IMPORT_ALL = """
import importlib, sys
for name in {names!r}:
    module = importlib.import_module(name)
    assert module.__file__.startswith({folder!r}), module.__file__
print(len({names!r}))
"""


def files_of_the_library():
    """Return the paths of all files of the library that are part of it, relative to its folder."""
    library = CLONE / "gypsumkit"
    left_out = ("__pycache__", "build", "gypsumkit.egg-info", ".ipynb_checkpoints")
    paths = [path.relative_to(library) for path in library.rglob("*") if path.is_file()]
    return sorted(path for path in paths
                  if not set(path.parts) & set(left_out) and path.name != "pyproject.toml" and not path.name.startswith("."))


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory):
    """The wheel, built from a copy so that the clone stays clean, and unpacked."""
    folder = tmp_path_factory.mktemp("wheel")
    shutil.copytree(CLONE / "gypsumkit", folder / "gypsumkit",
                    ignore=shutil.ignore_patterns("__pycache__", "build", "*.egg-info"))
    built = subprocess.run([sys.executable, "-c", BUILD.format(str(folder))], cwd=folder / "gypsumkit",
                           capture_output=True, text=True, timeout=300)
    assert built.returncode == 0, built.stderr[-2000:]
    wheel, = folder.glob("gypsumkit-*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder / "unpacked")
    return folder / "unpacked"


def test_every_file_of_the_library_is_in_the_wheel(unpacked):
    missing = [str(path) for path in files_of_the_library() if not (unpacked / "gypsumkit" / path).is_file()]
    assert not missing, "pyproject.toml does not list the room or the kind of file of: {}".format(missing)


def test_every_module_can_be_imported_from_the_wheel(unpacked, tmp_path):
    modules = [("gypsumkit",) + path.with_suffix("").parts for path in files_of_the_library()
               if path.suffix == ".py" and "config" not in path.parts]
    names = [".".join(parts).removesuffix(".__init__") for parts in modules]
    done = subprocess.run([sys.executable, "-c", IMPORT_ALL.format(names=names, folder=str(unpacked))], cwd=tmp_path,
                          env={**os.environ, "PYTHONPATH": str(unpacked)}, capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr[-2000:]
    assert int(done.stdout) == len(names) > 20
