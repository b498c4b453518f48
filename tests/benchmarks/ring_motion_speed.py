"""How fast the moving ring test is computed, against the thin-layer equation solved in full.

Run it as a script from the top folder; it prints times and ratios and asserts nothing on seconds.
"""

import numpy as np

from gypsumkit.figures.ring_motion_scene import ring_film
from gypsumkit.live.live_picture import front_html
from gypsumkit.live.moving_picture import film_html
from gypsumkit.mix import Mix
from gypsumkit.studies.moving_ring import MovingRing
from gypsumkit.recipe import Recipe
from gypsumkit.science import ring, ring_motion
from tests.benchmarks.mix_speed import best_ms
from tests.science.thin_layer import ThinLayer

RECIPES = (("model plaster", 0.45), ("model plaster", 0.50), ("model plaster", 0.55), ("model plaster", 0.63),
           ("dental stone", 0.30), ("improved stone", 0.23))
RADIUS_M, HEIGHT_M = 0.0175, 0.050


def thin_layer_of(flowing):
    """Return a run of the thin-layer equation to the same rest."""
    density = 1000 * flowing.density_g_cm3
    foot = density * 9.81 * HEIGHT_M
    rest = float(ring.spread_ratio(flowing.yield_stress_pa / foot))
    same_rest = 225 / 128 * HEIGHT_M / RADIUS_M * rest**-5 * foot

    def run():
        ThinLayer(np.pi * RADIUS_M**2 * HEIGHT_M, density, same_rest, flowing.plastic_viscosity_pa_s).from_mound(RADIUS_M).run(30.0)
    return run


def main():
    """Print the table.

    Returns
    -------
    int
        0
    """
    print("one run, ms                     lifted    lifted, vibrator on and off    thin layer    thin layer / lifted    film, picture to markup")
    for powder, ratio in RECIPES:
        test = MovingRing(Mix(Recipe(powder, ratio)))
        flowing = test.flowing[0]
        lifted = best_ms(lambda: ring_motion.motion(flowing), 20)
        shaken = best_ms(lambda: ring_motion.motion(flowing, switches=((0.5, True), (0.9, False), (1.2, True))), 20)
        full = best_ms(thin_layer_of(flowing), 5)
        test.lift()
        if not test.creeps() and len(ring_film(test).scenes) > 1:
            film = f"{best_ms(lambda: film_html(film_now := ring_film(test), front_html(film_now.last)), 5):22.1f}"
        else:
            film = "               nothing"
        print(f"{powder:>15} {ratio:.2f}        {lifted:9.2f} {shaken:30.2f} {full:13.2f} {full / lifted:22.1f} {film:>24}")
    print("aim: under 10 ms a run")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
