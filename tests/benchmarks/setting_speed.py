"""How fast the course of setting is marched, one curve and 200 curves, against a general integrator for stiff equations.

Run it as a script; it prints times, ratios and how far the two answers lie apart, and asserts nothing on seconds.
"""

import time

import numpy as np
from scipy.integrate import solve_ivp

from gypsumkit import clock
from gypsumkit.conditions import Conditions
from gypsumkit.figures.clock_scene import clock_scene
from gypsumkit.live.live_picture import front_html
from gypsumkit.mix import predict_setting, predict_timeline
from gypsumkit.powders import POWDERS
from gypsumkit.recipe import Recipe
from gypsumkit.science import additives, heat, setting

POWDER, BATCH_G, ROOM_C, FILM_W_M2_K = POWDERS["model plaster"], 100.0, 23.0, 15.0
RATIOS = np.linspace(0.42, 0.65, 200)
LAST_MIN = 120.0
TIMES_MIN = np.linspace(1.0, 100.0, 40)


def constants(ratio):
    """Return growth resistance and cooling time of a ratio, min."""
    growth = POWDER.setting.growth_min.value * additives.spatulation_factor(180.0, ratio, POWDER.recommended_ratio.value)
    volume = (1.0 / POWDER.density_g_cm3.value + ratio) * BATCH_G
    return growth, heat.cooling_time_min(volume, setting.heat_capacity_j_g_k(ratio) * BATCH_G, FILM_W_M2_K)


def march(ratio):
    """March one ratio or many as the course does."""
    growth, cooling = constants(ratio)
    s = POWDER.setting
    return setting.setting_course(ratio, growth, s.dissolving_min.value, setting.SEED, s.heat_j_g.value, cooling, ROOM_C, ROOM_C)


def rival(ratio, tolerance):
    """Integrate one ratio with LSODA, the same equations, the same table of speeds."""
    growth, cooling = constants(ratio)
    s, capacity = POWDER.setting, float(setting.heat_capacity_j_g_k(ratio))

    def rates(_, state):
        degree, temperature = min(state[0], setting.LAST_DEGREE), state[1]
        rate = setting._speed(temperature) / (growth / 3.0 * (degree + setting.SEED) ** (-2.0 / 3.0) + s.dissolving_min.value / (1.0 - degree))
        return rate, s.heat_j_g.value / capacity * rate - (temperature - ROOM_C) / cooling
    return solve_ivp(rates, (0.0, LAST_MIN), (0.0, ROOM_C), method="LSODA", rtol=tolerance, atol=0.01 * tolerance, t_eval=TIMES_MIN)


def best_ms(job, repeats):
    """Return the best of several runs, in ms."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        job()
        times.append(1000 * (time.perf_counter() - start))
    return min(times)


def apart(course, solution):
    """Return the largest difference in degree of hydration."""
    return float(np.max(np.abs(np.interp(TIMES_MIN, course.time_min[0], course.degree[0]) - solution.y[0])))


def main():
    """Print the table.

    Returns
    -------
    int
        0
    """
    one = best_ms(lambda: march(0.5), 50)
    many = best_ms(lambda: march(RATIOS), 20)
    loose, tight = (best_ms(lambda: rival(0.5, tolerance), 10) for tolerance in (1e-3, 1e-8))
    all_loose = best_ms(lambda: [rival(ratio, 1e-3) for ratio in RATIOS[::10]], 2) * 10
    course, exact = march(0.5), rival(0.5, 1e-9)
    print("course of setting, degree and temperature in time      ms    rival / march    largest error in degree")
    print(f"  one curve, march of {setting.NODES} steps              {one:9.2f}                   {apart(course, exact):10.1e}")
    print(f"  one curve, LSODA at 1e-3 (rival)           {loose:9.2f}    {loose / one:9.1f}      {float(np.max(np.abs(rival(0.5, 1e-3).y[0] - exact.y[0]))):10.1e}")
    print(f"  one curve, LSODA at 1e-8 (rival)           {tight:9.2f}    {tight / one:9.1f}")
    print(f"  200 curves at once, march                  {many:9.2f}")
    print(f"  200 curves, LSODA at 1e-3, one by one      {all_loose:9.2f}    {all_loose / many:9.1f}")

    ratios = iter(np.linspace(0.45, 0.56, 100_000))

    def fresh(job):
        clock._march_of_one.cache_clear()
        return job()
    events = best_ms(lambda: fresh(lambda: predict_setting("model plaster", next(ratios), Conditions(turns=100))), 40)
    line = best_ms(lambda: fresh(lambda: predict_timeline("model plaster", next(ratios), np.linspace(0, 60, 81), ranges=False)), 40)
    clock_scene(Recipe("model plaster", 0.5), 15.0)
    move = best_ms(lambda: front_html(clock_scene(Recipe("model plaster", float(next(ratios))), 15.0)), 60)
    print("for a reader                                           ms      aim")
    print(f"  all events of one mix with ranges          {events:9.2f}")
    print(f"  time line of 81 moments without ranges     {line:9.2f}")
    print(f"  one slider move, prediction to markup      {move:9.2f}    under 8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
