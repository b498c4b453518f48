"""`python3 -m gypsumkit pool`: the measurements of a class, put together from a folder of tables."""

import sys
from pathlib import Path

import numpy as np

from gypsumkit.bench.columns import COLUMNS
from gypsumkit.bench.reading import pool_folder
from gypsumkit.bench.sheets import sheet
from gypsumkit.commands.printing import Parser, printed
from gypsumkit.files import write_new
from gypsumkit.showing import rounded

MOST_SAID = 40
USUAL = "Cells are separated by comma."

SUMMARY = {
    "water_powder_ratio": ("water/powder ratio", "mL/g"), "spread_mm": ("ring spread", "mm"), "gloss_loss_min": ("loss of gloss", "min"),
    "final_set_min": ("final set", "min"), "expansion_percent": ("expansion at 2 h", "%"), "strength_mpa": ("compressive strength", "MPa"),
}


def _parser():
    parser = Parser(prog="python3 -m gypsumkit pool", allow_abbrev=False,
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
    lines = [f"{_counted(len(good), 'table')}, {_counted(len(records), 'mix', 'es')}", ""]
    for powder in sorted(set(records["powder"])):
        lines += _of_powder(powder or "powder not named", records.where(records["powder"] == powder))
    lines += _named("Doubtful, counted as it stands", [(file.name, one) for file in good for one in file.read.questions if one.kept])
    lines += _named("Refused, not counted", [(file.name, one) for file in good for one in (*file.read.refused, *file.read.questions) if not one.kept])
    lines += [*pooled.messages, *(f"{file.name}: {message}" for file in good for message in file.read.messages if message != USUAL)]
    return "\n".join(lines).rstrip()


def _counted(many, one, ending="s"):
    return f"{many:,} {one}{'' if many == 1 else ending}"


def _of_powder(powder, records):
    lines = [f"{powder}: {_counted(len(records), 'mix', 'es')}", f"  {'':<26} {'n':>6} {'mean':>10} {'standard deviation':>20}"]
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


def _text(argv):
    options = _parser().parse_args(argv)
    pooled = pool_folder(Path(options.folder).expanduser())
    if options.sheet is None:
        return report(pooled)
    path, records = Path(options.sheet).expanduser(), pooled.records
    names = [name for name in COLUMNS if any(value != "" and value == value for value in records[name])]
    write_new(path, sheet(names, zip(*(records[name] for name in names))))
    return f"{report(pooled)}\nWritten: {path}"


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
    return printed(lambda: _text(argv), "The report")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
