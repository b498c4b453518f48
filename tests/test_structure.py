"""The rooms stay apart, every public name is documented as agreed, and nothing reaches outside the project."""

import ast
import importlib
import inspect
import pkgutil
import re
import subprocess
import sys
from pathlib import Path

import pytest

import gypsumkit
from gypsumkit.sources import SOURCES

CLONE = Path(__file__).resolve().parent.parent
PACKAGE = CLONE / "gypsumkit"
MODULES = sorted(m.name for m in pkgutil.walk_packages([str(PACKAGE)], "gypsumkit.")
                 if not m.name.startswith("gypsumkit.launch.config") and not m.name.endswith("__main__"))
SCIENCE = [m for m in MODULES if m.startswith("gypsumkit.science.")]
DOCUMENTED_IN_FULL = [*SCIENCE, "gypsumkit.mix", "gypsumkit.recipe", "gypsumkit.powders", "gypsumkit.showing", "gypsumkit.sources",
                      "gypsumkit.problems"]


def fresh(code):
    """Run a line in a new interpreter and return what it prints."""
    return subprocess.run([sys.executable, "-c", code], cwd=CLONE, capture_output=True, text=True, check=True).stdout.strip()


# ---- rooms

def test_importing_the_package_is_silent_and_loads_nothing():
    loaded = fresh("import sys; before = set(sys.modules); import gypsumkit; print(sorted(set(sys.modules) - before))")
    assert loaded == "['gypsumkit']"


@pytest.mark.parametrize("room, forbidden", [
    ("gypsumkit.mix", "matplotlib ipywidgets IPython"),
    ("gypsumkit.commands.predict", "matplotlib ipywidgets IPython"),
    ("gypsumkit.bench.records", "matplotlib ipywidgets IPython"),
    ("gypsumkit.quiz.bank", "matplotlib ipywidgets IPython"),
    ("gypsumkit.quiz.progress", "numpy matplotlib ipywidgets IPython"),
    ("gypsumkit.figures.scene", "matplotlib ipywidgets IPython"),
    ("gypsumkit.figures.matplotlib_renderer", "ipywidgets IPython matplotlib.pyplot"),
    ("gypsumkit.live.lesson", "matplotlib.pyplot"),
    ("gypsumkit.launch.workspace", "numpy matplotlib ipywidgets IPython"),
])
def test_a_room_needs_nothing_from_the_rooms_above_it(room, forbidden):
    found = fresh(f"import sys, {room}; print([m for m in {forbidden.split()!r} if m in sys.modules])")
    assert found == "[]"


ORDER = ["problems", "files", "locking", "launch", "kept", "checks", "remembering", "units", "sources", "plausible", "science", "powders", "conditions", "recipe", "clock", "mix",
         "showing", "studies", "bench", "quiz", "marking", "figures", "stage", "live", "commands"]


def _room(module):
    return module.split(".")[1]


def test_every_room_has_its_place_in_the_order():
    placeless = {_room(module) for module in MODULES if "." in module} - set(ORDER)
    assert not placeless, f"say in ORDER where these stand: {sorted(placeless)}"


@pytest.mark.parametrize("module", [m for m in MODULES if "." in m])
def test_imports_point_one_way(module):
    path = PACKAGE / Path(*module.split(".")[1:])
    path = path / "__init__.py" if path.is_dir() else path.with_suffix(".py")
    imported = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("gypsumkit."):
            imported.add(_room(node.module))
        elif isinstance(node, ast.ImportFrom) and node.module == "gypsumkit":
            imported.update(alias.name for alias in node.names if alias.name in ORDER)
    above = {room for room in imported if room in ORDER and ORDER.index(room) > ORDER.index(_room(module))}
    # The bank holds content, not logic: its keys ask the library.
    allowed = {"mix", "recipe", "powders", "science", "bench"} if module.startswith("gypsumkit.quiz.bank.") else set()
    if module == "gypsumkit.launch.command_line":
        allowed = {"commands"}          # loaded when asked for: the front door opens whatever the reader names
    assert not above - allowed, f"{module} imports from {above}, a room above it"


# ---- documentation

def _public(module_name):
    module = importlib.import_module(module_name)
    for name, thing in vars(module).items():
        if name.startswith("_") or getattr(thing, "__module__", None) != module_name:
            continue
        if inspect.isfunction(thing) or inspect.isclass(thing):
            yield f"{module_name}.{name}", thing


@pytest.mark.parametrize("module_name", MODULES)
def test_every_module_and_public_name_says_what_it_is(module_name):
    module = importlib.import_module(module_name)
    assert module.__doc__, module_name
    silent = [name for name, thing in _public(module_name) if not (thing.__doc__ or "").strip()]
    assert not silent, f"no docstring: {silent}"


def _documented_parameters(doc):
    section = re.search(r"Parameters\n\s*-+\n(.*?)(?:\n\s*\n\s*(?:Returns|Raises|Notes)\n|\Z)", doc, re.DOTALL)
    if not section:
        return []
    lines = inspect.cleandoc(section.group(1)).splitlines()
    names = []
    for line in lines:
        found = re.match(r"^(\*{0,2}\w[\w, *]*?)\s*(?::|$)", line)
        if found and not line.startswith(" "):
            names += [name.strip().lstrip("*") for name in found.group(1).split(",")]
    return names


FUNCTIONS = [pair for module in DOCUMENTED_IN_FULL for pair in _public(module) if inspect.isfunction(pair[1])]


@pytest.mark.parametrize("name, function", FUNCTIONS, ids=[name for name, _ in FUNCTIONS])
def test_documented_parameters_are_those_of_the_signature(name, function):
    doc = inspect.getdoc(function)
    assert doc.splitlines()[0].endswith("."), "the summary is one sentence"
    assert _documented_parameters(doc) == list(inspect.signature(function).parameters)
    assert "Returns\n" in doc or inspect.signature(function).return_annotation is None


LAWS = [pair for module in SCIENCE for pair in _public(module) if inspect.isfunction(pair[1])]


@pytest.mark.parametrize("name, function", LAWS, ids=[name for name, _ in LAWS])
def test_every_law_names_its_equation_and_source(name, function):
    notes = inspect.getdoc(function).partition("Notes\n-----\n")[2]
    cited = re.findall(r"\[([a-z]+[a-z0-9_]*)\]", notes)
    assert cited, "a law says which source its equation has, as [key]"
    assert set(cited) <= set(SOURCES)


# ---- nothing outside

TEXTS = [p for folder in ("gypsumkit", "lessons") for p in (CLONE / folder).rglob("*")
         if p.suffix in {".py", ".ipynb", ".css", ".json", ".toml"} and "egg-info" not in str(p) and ".ipynb_checkpoints" not in str(p)]


@pytest.mark.parametrize("path", TEXTS, ids=lambda p: str(p.relative_to(CLONE)))
def test_no_remote_asset_and_no_absolute_path(path):
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"(?:src|href)=.{0,2}https?://|@import\s+url|url\(\s*['\"]?https?://|cdn\.", text)
    assert not re.search(r"/(?:home|root|Users|work|tmp)/\w", text)


def test_top_level_is_as_fixed():
    tracked = subprocess.run(["git", "ls-files"], cwd=CLONE, capture_output=True, text=True)
    if tracked.returncode:
        pytest.skip("not a git checkout")
    top = {line.split("/")[0] for line in tracked.stdout.splitlines()}
    assert {name for name in top if not name.startswith(".")} <= {
        "README.md", "DEVELOPERS.md", "requirements.txt", "lessons", "gypsumkit", "tests", "LICENSE"}


def test_public_names_load():
    assert all(getattr(gypsumkit, name) for name in gypsumkit.__all__)
