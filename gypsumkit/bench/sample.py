"""The sample class: mixes to practise on, invented and marked so."""

from pathlib import Path

from gypsumkit.bench.reading import read_file

FILE = Path(__file__).with_name("sample_class.csv")


def sample_class():
    """Return the invented class: 24 students, three powders, 72 mixes.

    Made by a script from the library's own predictions and scatter of ours: it is there to practise on, and confirms nothing.

    Returns
    -------
    Records
    """
    return read_file(FILE).records
