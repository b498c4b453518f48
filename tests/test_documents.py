"""README and DEVELOPERS stay true: links lead somewhere, every lesson and every quantity is named."""

import re
from pathlib import Path

import pytest

from gypsumkit.mix import QUANTITIES, SETTING_QUANTITIES, TIMELINE_QUANTITIES

CLONE = Path(__file__).resolve().parent.parent
README, DEVELOPERS = ((CLONE / name).read_text(encoding="utf-8") for name in ("README.md", "DEVELOPERS.md"))


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_every_relative_link_leads_somewhere(name):
    text = (CLONE / name).read_text(encoding="utf-8")
    links = [link for link in re.findall(r"\]\(([^)]+)\)", text) if "://" not in link and not link.startswith("#")]
    missing = [link for link in links if not (CLONE / link).exists()]
    assert not missing


def test_readme_opens_with_the_job_and_the_two_commands():
    first_block = README.split("```")[1]
    assert [line.split("#")[0].strip() for line in first_block.strip().splitlines()] == ["python3 -m gypsumkit open", "python3 -m gypsumkit check"]
    assert len(re.split(r"\n\s*\n", README.split("```")[0].strip())) == 2          # the title and one paragraph


def test_readme_lists_every_lesson():
    listed = re.findall(r"^\| (\d\d) ", README, flags=re.MULTILINE)
    assert listed == sorted(path.name[:2] for path in (CLONE / "lessons").glob("[0-9][0-9]_*.ipynb"))


def test_every_quantity_stands_in_the_nomenclature():
    table = DEVELOPERS.split("## Nomenclature")[1].split("\n## ")[0]
    names = {name.removeprefix("vibrated_") for name in {**QUANTITIES, **SETTING_QUANTITIES, **TIMELINE_QUANTITIES}}
    assert [name for name in sorted(names) if f"`{name}`" not in table] == []


def test_every_room_is_described():
    rooms = {path.name for path in (CLONE / "gypsumkit").iterdir() if path.is_dir() and (path / "__init__.py").exists()}
    files = {path.name for path in (CLONE / "gypsumkit").glob("*.py")} - {"__init__.py", "__main__.py"}
    assert [one for one in sorted(rooms) if f"`{one}/" not in DEVELOPERS] == []
    assert [one for one in sorted(files) if f"`{one}`" not in DEVELOPERS] == []
