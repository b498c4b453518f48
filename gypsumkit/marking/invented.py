"""An invented examination to try things out: invented candidates, papers as they are handed out, and answers drawn by chance.

Nobody sat it. The numbers come from a fixed start, so it is the same each time it is made.
"""

import csv
import io
import json
import random
from pathlib import Path

from gypsumkit.files import write_whole, writing_into
from gypsumkit.marking.blueprint import new_paper, write_paper
from gypsumkit.marking.papers import write_papers
from gypsumkit.marking.roster import FILE as ROSTER
from gypsumkit.marking.roster import HEADER
from gypsumkit.marking.scheme import Scheme
from gypsumkit.marking.task_bank import find_task
from gypsumkit.problems import Problem

TITLE = "Invented examination, to try the desk"
TASKS = ("T00-2", "T00-3", "T01-1", "T02-1", "T02-2", "T02-5", "T03-3", "T04-3")
CANDIDATES, FIRST_NUMBER, SEED = 36, 2001, 11
# A secret that everybody can read here keeps nothing secret: it is only for this examination.
SECRET = "1" * 64
WORDS = "More water is bound to leave more pores, and pores carry no load. (Invented.)"


def make_invented(folder, candidates=CANDIDATES, seed=SEED):
    """Make the invented examination in a folder that is not there yet.

    Parameters
    ----------
    folder : path
    candidates : int
    seed : int

    Returns
    -------
    pathlib.Path
        The folder.

    Raises
    ------
    Problem
        When there is such a folder already, or it cannot be written.
    """
    folder = Path(folder)
    if folder.exists():
        raise Problem(f"{folder.name} is there already: open it, or move it away first.")
    draw = random.Random(seed)
    numbers = [str(FIRST_NUMBER + i) for i in range(candidates)]
    with writing_into(folder.parent, "the folder"):
        (folder / "private").mkdir(parents=True)
        text = io.StringIO()
        csv.writer(text, lineterminator="\r\n").writerows([HEADER, *((number, f"Invented person {number}", 0) for number in numbers)])
        write_whole(folder / ROSTER, text.getvalue().encode())
        write_whole(folder / "private" / "secret.txt", SECRET.encode() + b"\n")
    write_paper(folder, new_paper(TITLE, TASKS))
    write_papers(folder)
    scheme = Scheme.load(folder)
    with writing_into(folder, "the folder"):
        for place, number in enumerate(numbers):
            if place == candidates - 1:
                continue                                     # one did not come
            content = _answered(folder, scheme, number, random.Random(f"{seed}/{number}"), draw.gauss(0, 1))
            write_whole(folder / "returned" / f"{number}.ipynb", content[:600] if place == candidates - 2 else content)     # one broke off
    return folder


def _answered(folder, scheme, number, draw, strength):
    """A paper filled in by someone of this strength: right, with a typical slip, or left empty."""
    paper = json.loads((folder / "papers" / f"{number}.ipynb").read_bytes())
    cells = {cell["id"]: cell for cell in paper["cells"]}
    for place, drawn in enumerate(scheme.drawn(number), start=1):
        chance = min(max(find_task(drawn.task_id).difficulty + 0.22 * strength, 0.03), 0.97)
        for part in drawn.parts:
            cell = cells[f"answer-{place}-{part.label}"]
            cell["source"] = cell["source"].split("\n")[0] + "\n\n" + _typed(part, draw, chance)
    return (json.dumps(paper, indent=1, ensure_ascii=False) + "\n").encode()


def _typed(part, draw, chance):
    if part.kind == "words":
        return WORDS
    if draw.random() < chance:
        return part.key
    slips = [text for text, _ in part.slips()]
    return draw.choice([*slips, *slips, ""]) if slips else ""
