"""Marks of an invented class, for tests: nobody sat this paper."""

from types import SimpleNamespace

import numpy as np

from gypsumkit.marking.blueprint import Boundary, Paper
from gypsumkit.marking.marks import Marks, MarkRow

PARTS = ((1, "T01-1", "a", 1.0), (1, "T01-1", "b", 2.0), (2, "T02-1", "a", 3.0), (2, "T02-1", "b", 2.0), (3, "T05-1", "a", 1.0), (4, "T08-1", "a", 4.0))


def invented_marks(candidates=40, seed=7, answers=None, findings=()):
    """Return the marks of an invented class: stronger candidates are given more, and part 3 (a) is marked at random."""
    draw = np.random.default_rng(seed)
    strength = draw.normal(size=candidates)
    rows = []
    for i in range(candidates):
        for task_number, task_id, label, out_of in PARTS:
            luck = draw.normal() * (0.8 if task_number != 3 else 0) + (strength[i] if task_number != 3 else draw.normal())
            marks = float(np.clip(np.round(out_of * (0.5 + 0.4 * luck)), 0, out_of))
            answer = (answers or {}).get((task_number, label), f"{54 + task_number} mL")
            rows.append(MarkRow(str(1001 + i), task_number, task_id, label, marks, out_of, why="" if marks == out_of else "The step before was taken wrongly.",
                                answer=answer, file=f"{1001 + i}.ipynb"))
    return Marks(rows, findings)


def invented_paper(title="Gypsum, first paper (invented)", marks=13, boundaries=(("very good", 11), ("good", 9), ("pass", 6.5))):
    """Return the paper that these marks belong to; its grades are given as those of a real one."""
    paper = SimpleNamespace(title=title, marks=marks, pass_mark=boundaries[-1][1], boundaries=tuple(Boundary(*one) for one in boundaries))
    paper.grade = lambda total: Paper.grade(paper, total)
    return paper
