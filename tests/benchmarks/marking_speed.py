"""How fast returned papers are marked, how it grows with their number, and how that compares with executing notebooks in a kernel.

Run: python tests/benchmarks/marking_speed.py [--to 20000]
Prints times, memory and ratios; exit status 1 only when marking a paper is not far faster than executing one, or grows faster than the papers.
"""

import argparse
import json
import os
import re
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

CLONE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(CLONE))

from gypsumkit.marking.run import mark_folder  # noqa: E402
from gypsumkit.marking.scheme import Scheme  # noqa: E402
from gypsumkit.marking.task_bank import all_tasks  # noqa: E402
from tests.marking.examination import answered, examination  # noqa: E402

ANSWERS, DIFFERENT = 20, 250
TIMES_FASTER_AT_LEAST = 5           # than executing a notebook; about a hundred is usual
TIMES_LINEAR_AT_MOST = 2            # time a paper, of the many over the few


def task_ids():
    """Return tasks of plain answers that have together 20 parts."""
    chosen, parts = [], 0
    for task in all_tasks().values():
        if {part.kind for part in task.parts} <= {"number", "choice", "several", "order"} and parts + len(task.parts) <= ANSWERS:
            chosen.append(task.id)
            parts += len(task.parts)
    return chosen, parts


def make(base, many):
    """Make an examination of so many candidates; from the 251st on they have the questions of the first ones again, under other numbers."""
    folder = base / f"exam {many}"
    numbers = [str(100_000 + place) for place in range(many)]
    chosen, _ = task_ids()
    scheme = examination(folder, numbers[:DIFFERENT], chosen)
    first = []
    for place, number in enumerate(numbers[:DIFFERENT]):
        wrong = {(1 + place % len(chosen), "a"): "1 km"} if place % 2 else {}
        first.append(answered(folder, scheme, number, wrong).decode())
    for place, number in enumerate(numbers):
        like = numbers[place % DIFFERENT]
        scheme.papers[number] = scheme.papers[like]
        (folder / "returned" / f"{number}.ipynb").write_text(re.sub(f"(Candidate number: ){like}", rf"\g<1>{number}", first[place % DIFFERENT]), encoding="utf-8")
    Scheme(scheme.set_name, scheme.task_ids, scheme.papers, scheme.description).save(folder)
    return folder


def timed(folder):
    """Mark in a fresh process and return seconds, MB of this process, MB of its largest worker."""
    said = subprocess.run([sys.executable, __file__, "--mark", str(folder)], capture_output=True, text=True, check=True).stdout
    return json.loads(said.splitlines()[-1])


def mark(folder):
    """Mark a folder and print what it took."""
    start = time.perf_counter()
    marks = mark_folder(folder)
    took = time.perf_counter() - start
    marks.save(Path(folder) / "marks")
    mb = [resource.getrusage(who).ru_maxrss / (1e6 if sys.platform == "darwin" else 1e3) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    print(json.dumps([took, *mb, len(marks.rows), len(marks.findings)]))


def executed(folder, many=3):
    """Return the seconds that executing one of these papers in a kernel takes, as a marker would that runs everything."""
    import nbformat
    from nbclient import NotebookClient
    paths = sorted((folder / "returned").iterdir())[:many]
    start = time.perf_counter()
    for path in paths:
        book = nbformat.read(path, as_version=4)
        book.cells.append(nbformat.v4.new_code_cell("1"))
        NotebookClient(book, timeout=120).execute()
    return (time.perf_counter() - start) / len(paths)


def main():
    """Run the benchmark."""
    options = argparse.ArgumentParser()
    options.add_argument("--mark")
    options.add_argument("--to", type=int, default=4000, help="the largest number of papers, such as 20000")
    options = options.parse_args()
    if options.mark:
        mark(options.mark)
        return 0
    _, parts = task_ids()
    each, cores = {}, len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    with tempfile.TemporaryDirectory(prefix="gypsumkit-speed-") as base:
        print(f"{'papers':>8} {'answers':>8} {'s':>8} {'ms a paper':>11} {'MB here':>8} {'MB a worker':>12}   ({parts} answers a paper, {cores} cores)")
        for many in sorted({many for many in (1000, 4000, options.to) if many <= options.to} | {min(1000, options.to)}):
            folder = make(Path(base), many)
            took, here, worker, rows, findings = timed(folder)
            each[many] = took / many
            print(f"{many:>8,} {rows:>8,} {took:>8.1f} {1000 * each[many]:>11.2f} {here:>8.0f} {worker:>12.0f}   {findings} finding(s)", flush=True)
        kernel = executed(folder)
    few, most = min(each), max(each)
    print(f"executing one in a kernel: {kernel:.2f} s, {kernel / each[few]:.0f} times as long as marking one")
    print(f"a paper among {most:,} takes {each[most] / each[few]:.2f} times as long as one among {few:,}")
    return int(kernel < TIMES_FASTER_AT_LEAST * each[few] or each[most] > TIMES_LINEAR_AT_MOST * each[few])


if __name__ == "__main__":
    sys.exit(main())
