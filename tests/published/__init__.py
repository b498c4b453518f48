"""Published tables, each a CSV whose first lines cite it."""

import csv
from pathlib import Path


def table(name):
    """Return the rows of a published table as dictionaries of text.

    Parameters
    ----------
    name : str
        File name without `.csv`.

    Returns
    -------
    list of dict
    """
    lines = (Path(__file__).parent / f"{name}.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))
