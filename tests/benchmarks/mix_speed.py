"""How fast a mix is predicted, with all ranges, against the scalar loop one would write by hand.

Three depths are timed apart: flow, volumes and strength alone (`predict`); the clock alone (`predict_setting`), which marches
each ratio through its setting; and both (`Mix.everything`). A mix asked again finds its march kept, so a mix not seen before is
timed beside it.

Run it as a script; it prints times and ratios and asserts nothing on seconds.
"""

import time

import numpy as np

from gypsumkit import predict
from gypsumkit.figures.water_scene import water_scene
from gypsumkit.live.live_picture import front_html
from gypsumkit.mix import Mix, predict_setting
from gypsumkit.recipe import Recipe

RATIOS = np.linspace(0.35, 0.80, 200)


def best_ms(job, repeats):
    """Return the best of several runs, in ms."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        job()
        times.append(1000 * (time.perf_counter() - start))
    return min(times)


def main():
    """Print the table.

    Returns
    -------
    int
        0
    """
    one = best_ms(lambda: predict("model plaster", 0.52), 50)
    many = best_ms(lambda: predict("model plaster", RATIOS), 20)
    loop = best_ms(lambda: [predict("model plaster", ratio) for ratio in RATIOS], 3)
    fresh = iter(np.linspace(0.43, 0.64, 31))
    whole = best_ms(lambda: Mix(Recipe("model plaster", float(next(fresh)))).everything(), 30)
    again = best_ms(lambda: Mix(Recipe("model plaster", 0.52)).everything(), 30)
    shifts = iter(np.linspace(0.0, 0.001, 3))          # other ratios each time, or the kept march would be timed
    clock = best_ms(lambda: predict_setting("model plaster", RATIOS + next(shifts)), 3)
    water_scene(Mix(Recipe("model plaster", 0.5)))
    ratios = iter(np.linspace(0.45, 0.60, 61))
    move = best_ms(lambda: front_html(water_scene(Mix(Recipe("model plaster", float(next(ratios)))))), 60)
    print("with all ranges, model plaster                    ms      aim")
    print("flow, volumes and strength (predict)")
    print(f"  one ratio                                  {one:8.2f}    under 5")
    print(f"  200 ratios at once                         {many:8.2f}    under 50")
    print(f"  200 ratios, one at a time (rival)          {loop:8.2f}")
    print(f"  ratio rival / at once                      {loop / many:8.1f}")
    print("the clock as well: times, heat, expansion")
    print(f"  one new mix, everything                    {whole:8.2f}")
    print(f"  the same mix again, its march kept         {again:8.2f}")
    print(f"  200 ratios, the clock alone                {clock:8.2f}")
    print("the water explorer, which needs no clock")
    print(f"  one slider move, prediction to markup      {move:8.2f}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
