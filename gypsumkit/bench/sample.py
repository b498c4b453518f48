"""The sample class: mixes to practise on, invented and marked so."""

import csv
from pathlib import Path

from gypsumkit.bench.columns import NUMBERS
from gypsumkit.bench.records import Records

FILE = Path(__file__).with_name("sample_class.csv")


def sample_class():
    """Return the invented class: 24 students, three powders, 72 mixes.

    Made by a script from the library's own predictions and scatter of ours: it is there to practise on, and confirms nothing.

    Returns
    -------
    Records
    """
    with open(FILE, encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    return Records.of_rows([{name: float(cell) if name in NUMBERS else cell for name, cell in row.items() if cell} for row in rows])
