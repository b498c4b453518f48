"""`python3 -m gypsumkit pool`: the measurements of a class, put together from a folder of tables."""

import argparse
import os
import sys
from pathlib import Path

import numpy as np

from gypsumkit.bench.columns import COLUMNS
from gypsumkit.bench.reading import pool_folder
from gypsumkit.bench.sheets import sheet
from gypsumkit.files import write_whole
from gypsumkit.locking import reason
from gypsumkit.problems import Problem
from gypsumkit.showing import rounded

MOST_SAID = 40
USUAL = "Cells are separated by comma."

SUMMARY = {
    "water_powder_ratio": ("water/powder ratio", "mL/g"), "spread_mm": ("ring spread", "mm"), "gloss_loss_min": ("loss of gloss", "min"),
    "final_set_min": ("final set", "min"), "expansion_percent": ("expansion at 2 h", "%"), "strength_mpa": ("compressive strength", "MPa"),
}


class _Parser(argparse.ArgumentParser):
    def error(self, message):
        raise Problem(f"{message[0].upper()}{message[1:]}; see 'python3 -m gypsumkit pool --help'.")


def _parser():
    parser = _Parser(prog="python3 -m gypsumkit pool", allow_abbrev=False,
                     description="Put the measurements of a class together from the tables in a folder. Doubtful cells are named and counted as they stand.")
    parser.add_argument("folder", metavar="FOLDER", help="the folder with one table (CSV) from each student or bench")
    parser.add_argument("--sheet", metavar="FILE", help="also write all rows into one new table for a spreadsheet")
    return parser


def report(pooled):
    """Return the pooled data as lines of text: files, rows, a summary for each powder, what was asked and refused.

    Parameters
    ----------
    pooled : Pooled
        What was read.

    Returns
    -------
    str
    """
    records = pooled.records
    good = [file for file in pooled.files if file.read is not None]
    lines = [f"{len(good)} table(s), {len(records):,} mixes", ""]
    for powder in sorted(set(records["powder"])):
        lines += _of_powder(powder or "powder not named", records.where(records["powder"] == powder))
    lines += _named("Doubtful, counted as it stands", [(file.name, one) for file in good for one in file.read.questions if one.kept])
    lines += _named("Refused, not counted", [(file.name, one) for file in good for one in (*file.read.refused, *file.read.questions) if not one.kept])
    lines += [*pooled.messages, *(f"{file.name}: {message}" for file in good for message in file.read.messages if message != USUAL)]
    return "\n".join(lines).rstrip()


def _of_powder(powder, records):
    lines = [f"{powder}: {len(records):,} mixes", f"  {'':<26} {'n':>6} {'mean':>10} {'standard deviation':>20}"]
    for name, (words, unit) in SUMMARY.items():
        value = records[name] if name in COLUMNS else getattr(records, name)
        value = value[np.isfinite(value)]
        if value.size:
            spread = rounded(np.std(value, ddof=1), 2) if value.size > 1 else "one only"
            lines.append(f"  {words + ', ' + unit:<26} {value.size:>6} {rounded(np.mean(value), 3):>10} {spread:>20}")
    return [*lines, "  All mixes of this powder together, whatever their water: compare mixes of the same ratio before you judge.", ""]


def _named(title, found):
    if not found:
        return []
    more = [f"  … and {len(found) - MOST_SAID:,} more"] if len(found) > MOST_SAID else []
    return [f"{title}: {len(found):,}", *(f"  {name}, {str(one)[0].lower()}{str(one)[1:]}" for name, one in found[:MOST_SAID]), *more, ""]


def _write(path, records):
    path = Path(path).expanduser()
    if path.exists():
        raise Problem(f"{path} is there already and is not written over: give another name, or move it away.")
    names = [name for name in COLUMNS if np.any([value != "" and value == value for value in records[name]])]
    content = sheet(names, zip(*(records[name] for name in names)))
    try:
        write_whole(path, content)
    except OSError as error:
        raise Problem(f"{path} could not be written ({reason(error)}): choose another place.") from None
    return f"All rows are in {path}."


def main(argv):
    """Run the command.

    Parameters
    ----------
    argv : list of str
        The words after `pool`.

    Returns
    -------
    int
        0, or 2 after a problem, which is printed as one sentence.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        options = _parser().parse_args(argv)
        pooled = pool_folder(Path(options.folder).expanduser())
        text = report(pooled)
        if options.sheet is not None:
            text += "\n" + _write(options.sheet, pooled.records)
    except Problem as problem:
        print(problem, file=sys.stderr)
        return 2
    try:
        print(text, flush=True)
    except BrokenPipeError:                     # the reader closed the page early, as `| head` does
        sys.stdout = open(os.devnull, "w", encoding="utf-8")
    except OSError as error:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")
        print(f"The report could not be written: {error.strerror}.", file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
