"""How fast own data are compared with the prediction of their own recipes, against predicting row by row; and how fast the scale answers.

Run it as a script; it prints times and ratios and asserts nothing on seconds.
"""

import time

import numpy as np

from gypsumkit.bench.columns import COLUMNS
from gypsumkit.bench.own_data import compare
from gypsumkit.bench.records import Records
from gypsumkit.bench.sample import sample_class
from gypsumkit.bench.weighing import Tools
from gypsumkit.figures.own_data_scene import own_data_scene
from gypsumkit.figures.scale_scene import scale_scene
from gypsumkit.live.live_picture import front_html
from gypsumkit.mix import Mix
from gypsumkit.recipe import Recipe

ROWS, BY_HAND = (72, 2000, 100_000), 200


def class_of(rows):
    """Return a class of so many mixes: those of the sample with the water changed by some mL."""
    chance = np.random.default_rng(0)
    picked = sample_class().where(chance.integers(0, 72, rows))
    columns = {name: picked[name].copy() for name in COLUMNS}
    columns["water_ml"] = np.round(columns["water_ml"] + chance.normal(0.0, 1.0, rows))
    return Records(columns)


def seconds(job):
    """Return how long one run takes."""
    start = time.perf_counter()
    job()
    return time.perf_counter() - start


def row_by_row(records):
    """Predict each row by itself, as one would write it first."""
    for place in range(len(records)):
        row = records.row(place)
        recipe = Recipe(row["powder"], row["water_ml"] / row["powder_g"], turns=row["turns"], water_temperature_c=row["water_temperature_c"],
                        room_temperature_c=row["room_temperature_c"])
        Mix(recipe, row["ring_lifted_min"]).spread_mm


def main():
    """Print the table.

    Returns
    -------
    int
        0
    """
    print("spread compared with its own recipe            ms     per row µs")
    for rows in ROWS:
        records = class_of(rows)
        taken = seconds(lambda: compare(records, "spread_mm"))
        print(f"  {rows:7d} rows                         {1e3 * taken:9.0f} {1e6 * taken / rows:10.0f}")
    few = class_of(BY_HAND)
    together, alone = seconds(lambda: compare(few, "spread_mm")), seconds(lambda: row_by_row(few))
    print(f"  {BY_HAND} rows, row by row (rival)         {1e3 * alone:9.0f} {1e6 * alone / BY_HAND:10.0f}")
    print(f"  ratio rival / together                 {alone / together:9.1f}")
    compared = compare(class_of(100_000), "strength_mpa")
    print(f"picture of 100,000 strengths                {1e3 * seconds(lambda: own_data_scene(compared)):9.0f}")
    seen = compare(sample_class(), "strength_mpa")
    scale_scene(seen, "dental stone", 50.0, Tools())
    moves = [seconds(lambda grams=grams: front_html(scale_scene(seen, "dental stone", grams, Tools()))) for grams in np.arange(50.0, 150.0, 5.0)]
    print(f"one slider move of the scale                {1e3 * np.median(moves):9.1f}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
