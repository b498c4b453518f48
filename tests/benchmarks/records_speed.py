"""How fast 100,000 records are read, checked and pooled, against a plain loop over `csv` and `float` that checks nothing.

Run it as a script from the top folder; each contender runs in a program of its own, so that its memory is its own. It prints
seconds and MB, and fails only when ours takes many times as long as the plain loop of the same run.
"""

import json
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from gypsumkit.bench.columns import COLUMNS
from gypsumkit.bench.sheets import sheet

MANY = 100_000
GENEROUS = 8.0                   # ours may take so many times the plain loop

TABLES = {"decimal point, commas between": None, "decimal comma, semicolons between": (",", ";")}


def write_tables(folder):
    """Write the tables of both kinds, each in a folder of its own, and return their sizes in MB."""
    from gypsumkit.bench.sample import sample_class
    class_ = sample_class()
    rows = [class_.row(place) for place in range(len(class_))]
    sizes = {}
    for number, (kind, marks) in enumerate(TABLES.items()):
        content = sheet(COLUMNS, ([row.get(name) if name != "record_id" else str(at) for name in COLUMNS]
                                  for at, row in ((at, rows[at % len(rows)]) for at in range(MANY))))
        if marks:
            content = content.replace(b",", b";").replace(b".", b",")
        place = folder / str(number)
        place.mkdir()
        (place / "class.csv").write_bytes(content)
        sizes[kind] = len(content) / 1e6
    return sizes


def ours(folder):
    """Read, check and pool."""
    from gypsumkit.bench.reading import pool_folder
    pooled = pool_folder(folder)
    assert len(pooled.records) == MANY and not pooled.files[0].read.refused
    return len(pooled.records)


def plain(folder):
    """The loop that one would write by hand: no check, no question, no unit."""
    import csv
    rows = []
    with open(folder / "class.csv", encoding="utf-8-sig", newline="") as file:
        head = file.readline()
        file.seek(0)
        for row in csv.DictReader(file, delimiter=";" if ";" in head else ","):
            for name, column in COLUMNS.items():
                if column.is_number and row.get(name):
                    row[name] = float(row[name].replace(",", "."))
            rows.append(row)
    return len(rows)


def timed(contender, folder):
    """Return seconds and MB of a contender that runs in a program of its own."""
    ran = subprocess.run([sys.executable, "-m", "tests.benchmarks.records_speed", contender, str(folder)], capture_output=True, text=True, check=True)
    return json.loads(ran.stdout)


def main(argv):
    """Print the table.

    Parameters
    ----------
    argv : list of str
        Empty; a contender and its folder when it runs in a program of its own.

    Returns
    -------
    int
        0, or 1 when ours takes more than `GENEROUS` times the plain loop.
    """
    if argv:
        import gypsumkit.bench.reading  # noqa: F401  both contenders start with what a lesson has loaded
        start = time.perf_counter()
        {"ours": ours, "plain": plain}[argv[0]](Path(argv[1]))
        print(json.dumps({"seconds": time.perf_counter() - start, "mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024}))
        return 0
    worst = 0.0
    with tempfile.TemporaryDirectory() as folder:
        sizes = write_tables(Path(folder))
        print(f"{MANY:,} records, read, checked and pooled             s        MB")
        for number, kind in enumerate(TABLES):
            place = Path(folder) / str(number)
            mine, rival = timed("ours", place), timed("plain", place)
            ratio = mine["seconds"] / rival["seconds"]
            worst = max(worst, ratio)
            print(f"{kind}, {sizes[kind]:.0f} MB")
            print(f"  ours                                        {mine['seconds']:8.2f} {mine['mb']:8.0f}    aim: under 5 s and 500 MB")
            print(f"  csv and float, nothing checked (rival)      {rival['seconds']:8.2f} {rival['mb']:8.0f}")
            print(f"  ratio ours / rival                          {ratio:8.2f} {mine['mb'] / rival['mb']:8.2f}")
    if worst > GENEROUS:
        print(f"ours takes {worst:.1f} times the plain loop; at most {GENEROUS:g} is allowed")
    return int(worst > GENEROUS)


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
