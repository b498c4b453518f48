"""Makes the sample class: invented students of an invented laboratory, their mixes predicted by the library and scattered like work by hand.

Run `python -m tests.bench.make_sample_class` from the top folder to write `gypsumkit/bench/sample_class.csv`.
All sizes of scatter are ours. What went wrong on purpose, so that there is something to find:

- No. 27: 70 mL went into the bowl, the sheet says 50;
- No. 41: old powder that had stood open: it set slowly and stayed weak;
- a few cells are empty, as they are in a class.

What cannot be read or is doubtful as it stands lies in `tests/bench/odd_class.csv`, which no lesson shows.
"""

from pathlib import Path

import numpy as np

from gypsumkit.bench.columns import COLUMNS, NUMBERS
from gypsumkit.bench.sheets import sheet
from gypsumkit.mix import Mix
from gypsumkit.recipe import Recipe

FILE = Path(__file__).resolve().parents[2] / "gypsumkit" / "bench" / "sample_class.csv"
SEED, STUDENTS, ROUNDS = 20_260_325, 24, 3
INVENTED = "# Invented for practice: an invented class in an invented laboratory, computed and scattered by a script. Nothing here was measured."

# Powder, lot (invented), weight g, and the waters mL that the three rounds use.
POWDERS = (("model plaster", "INVENTED-P1", 100, (45, 50, 55)), ("dental stone", "INVENTED-S1", 100, (28, 30, 33)),
           ("improved stone", "INVENTED-D1", 100, (22, 23, 25)))
TOO_MUCH_WATER, OLD_POWDER = 27, 41
LEFT_EMPTY = {5: ("initial_set_min",), 12: ("crush_load_n", "cylinder_diameter_mm", "crushed_at_h", "crushed_state"), 23: ("spread_two_mm",),
              30: ("length_change_um", "gauge_length_mm"), 52: ("final_set_min",), 60: ("light_needle_min", "final_set_min")}


def rows(seed=SEED):
    """Return the mixes of the class in the order in which they were made.

    Parameters
    ----------
    seed : int
        Of the scatter.

    Returns
    -------
    list of dict
    """
    chance = np.random.default_rng(seed)
    widens, late = chance.normal(0.0, 0.03, STUDENTS), chance.normal(0.0, 0.3, STUDENTS)     # a person lifts the ring and judges the gloss in a way of their own
    made = []
    for turn in range(ROUNDS):
        for student in range(STUDENTS):
            powder, lot, powder_g, waters = POWDERS[(student + turn) % len(POWDERS)]
            number, water_ml = len(made) + 1, waters[turn]
            made.append(_one(chance, number, student, turn, powder, lot, powder_g, water_ml, widens[student], late[student]))
    return made


def _one(chance, number, student, turn, powder, lot, powder_g, water_ml, widens, late):
    in_bowl_ml = (70 if number == TOO_MUCH_WATER else water_ml) + chance.normal(0.0, 0.6)    # read on a cylinder marked in whole mL
    in_bowl_g = powder_g + chance.normal(0.0, 0.4)                                           # a kitchen scale that shows whole g
    turns = float(round(chance.normal(180, 15) / 10) * 10)
    room_c = 22.0 + turn * 0.5
    mix = Mix(Recipe(powder, in_bowl_ml / in_bowl_g, turns=turns, room_temperature_c=room_c, water_temperature_c=room_c,
                     powder_state="long exposed" if number == OLD_POWDER else "fresh"), time_min=2.0)
    value = {name: float(one.value) for name, one in mix.everything().items() if one.value is not None}
    spread = max(value["spread_mm"] * (1.0 + widens + chance.normal(0.0, 0.03)), 35.0)
    diameter = 20.0 + chance.normal(0.0, 0.05)
    load = value["wet_strength_mpa"] * np.pi / 4 * diameter**2 * (1.0 + chance.normal(0.0, 0.08))

    def seen_min(name, scatter_min, step_min=0.5):
        return round((value[name] + late + chance.normal(0.0, scatter_min)) / step_min) * step_min

    row = {
        "record_id": str(number), "recorded_at": f"2026-03-{9 + turn:02d} {9 + student // 6:02d}:{10 * (student % 6):02d}",
        "made_by": f"student {student + 1:02d}", "powder": powder, "lot": lot, "powder_g": float(powder_g), "water_ml": float(water_ml),
        "mixing": "spatulated by hand", "turns": turns, "water_temperature_c": room_c, "room_temperature_c": room_c,
        "ring_diameter_mm": 35.0, "ring_height_mm": 50.0, "ring_lifted_min": 2.0, "vibrated": "no",
        "spread_one_mm": float(max(round(spread + chance.normal(0.0, 0.8)), 35)), "spread_two_mm": float(max(round(spread + chance.normal(0.0, 0.8)), 35)),
        "initial_set_min": seen_min("initial_set_min", 0.4), "gloss_loss_min": seen_min("gloss_loss_min", 0.5),
        "light_needle_min": seen_min("light_needle_min", 0.5), "final_set_min": seen_min("final_set_min", 0.7),
        "gauge_length_mm": 100.0, "length_change_um": float(round(1000 * value["setting_expansion_percent"] + chance.normal(0.0, 8.0), -1)),
        "cylinder_diameter_mm": round(float(diameter), 1), "crush_load_n": float(round(load, -1)), "crushed_at_h": 1.0, "crushed_state": "wet",
        "note": "invented",
    }
    return {name: cell for name, cell in row.items() if name not in LEFT_EMPTY.get(number, ())}


def as_csv(made):
    """Return the rows as the bytes of the file, with a first line that says they are invented."""
    cells = [[row.get(name) for name in COLUMNS] for row in made]
    text = sheet(COLUMNS, cells).decode("utf-8-sig").replace("\r\n", "\n")
    return f"{INVENTED}\n{text}".encode()


def main():
    """Write the file.

    Returns
    -------
    int
        0
    """
    made = rows()
    FILE.write_bytes(as_csv(made))
    print(f"{len(made)} mixes, {len(NUMBERS)} columns of numbers")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
