"""What may be measured of one mix: each column of the record with its unit, what is possible and what is usual."""

from typing import NamedTuple

from gypsumkit.powders import MIXING_METHODS


class Column(NamedTuple):
    """One thing that is recorded of a mix.

    A number outside `possible` is refused; one outside `usual` is asked about. A column with `choices` takes one of them,
    a column without unit and choices takes any text.
    """

    words: str                       # as the reader sees it
    unit: str = None                 # as in `gypsumkit.units`; "1" for a plain number; None for what is no number
    possible: tuple = None           # least and most that can be measured at all
    usual: tuple = None              # least and most that a class meets
    choices: tuple = ()
    example: str = ""

    @property
    def is_number(self):
        """Whether numbers stand in it."""
        return self.unit is not None


# In the order of the work: who and what, the bowl, the ring, the clock, the length, the crushing. Bounds are ours [gypsumkit].
COLUMNS = {
    "record_id": Column("No.", example="1"),
    "recorded_at": Column("Recorded at", example="2026-11-25 10:30"),
    "made_by": Column("Made by", example="bench 4"),
    "powder": Column("Powder", example="model plaster"),
    "lot": Column("Lot", example="A12"),
    "powder_g": Column("Powder weighed", "g", (0.1, 100_000.0), (5.0, 2000.0), example="100 g"),
    "water_ml": Column("Water measured", "mL", (0.01, 100_000.0), (1.0, 1200.0), example="50 mL"),
    "mixing": Column("Mixing", choices=tuple(MIXING_METHODS), example="spatulated by hand"),
    "turns": Column("Turns of the spatula", "1", (1.0, 1000.0), (20.0, 300.0), example="180"),
    "water_temperature_c": Column("Water temperature", "°C", (0.0, 100.0), (10.0, 40.0), example="23 °C"),
    "room_temperature_c": Column("Room temperature", "°C", (-10.0, 60.0), (10.0, 35.0), example="23 °C"),
    "ring_diameter_mm": Column("Inside diameter of the ring", "mm", (5.0, 300.0), (20.0, 60.0), example="35 mm"),
    "ring_height_mm": Column("Height of the ring", "mm", (5.0, 300.0), (20.0, 80.0), example="50 mm"),
    "ring_lifted_min": Column("Ring lifted at", "min", (0.1, 120.0), (1.0, 5.0), example="2 min"),
    "vibrated": Column("On the vibrator", choices=("no", "yes"), example="no"),
    "spread_one_mm": Column("Spread, one way", "mm", (5.0, 600.0), (30.0, 200.0), example="62 mm"),
    "spread_two_mm": Column("Spread, across", "mm", (5.0, 600.0), (30.0, 200.0), example="64 mm"),
    "gloss_loss_min": Column("Loss of gloss", "min", (0.2, 1440.0), (2.0, 40.0), example="13 min"),
    "initial_set_min": Column("Initial set, Vicat needle", "min", (0.2, 1440.0), (2.0, 40.0), example="11 min"),
    "light_needle_min": Column("Light needle leaves no mark", "min", (0.2, 1440.0), (2.0, 60.0), example="16 min"),
    "final_set_min": Column("Final set, heavy needle", "min", (0.2, 1440.0), (3.0, 90.0), example="30 min"),
    "gauge_length_mm": Column("Length at loss of gloss", "mm", (5.0, 1000.0), (20.0, 200.0), example="100 mm"),
    "length_change_um": Column("Length change at 2 h", "µm", (-5000.0, 10_000.0), (-50.0, 500.0), example="120 µm"),
    "cylinder_diameter_mm": Column("Diameter of the cylinder", "mm", (5.0, 200.0), (15.0, 40.0), example="20.0 mm"),
    "crush_load_n": Column("Load at crushing", "N", (1.0, 2_000_000.0), (300.0, 60_000.0), example="3500 N"),
    "crushed_at_h": Column("Crushed at", "h", (0.1, 10_000.0), (0.5, 200.0), example="1 h"),
    "crushed_state": Column("Crushed", choices=("wet", "dry"), example="wet"),
    "note": Column("Note", example="lumps at first"),
}

NUMBERS = tuple(name for name, column in COLUMNS.items() if column.is_number)
TEXTS = tuple(name for name in COLUMNS if name not in NUMBERS)
