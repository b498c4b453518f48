"""What the model computes of each cause of a fault, beside the same mix made as it should be; and where it computes nothing."""

from typing import NamedTuple

import numpy as np

from gypsumkit.mix import Mix, predict_timeline
from gypsumkit.powders import POWDERS, ROOM_C, find_powder, named
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered
from gypsumkit.science import hydration, solubility
from gypsumkit.showing import bracketed, rounded, with_range, with_unit
from gypsumkit.studies import voids
from gypsumkit.studies.faults import CAUSES
from gypsumkit.studies.growth import growth_percent

MORE_WATER, LESS_WATER = 1.20, 0.92
FEW_TURNS, MANY_TURNS = 60.0, 300.0
SEEDS_PERCENT, RETARDER_PERCENT = 1.0, 0.5
WARM_WATER_C, NEAR_BALANCE_C = 45.0, 95.0          # near 97 °C powder and gypsum dissolve alike
OUT_AT_MIN, STANDARD_MIN = 30.0, 60.0
POURED_MM, VIBRATED_S = 5.0, 30.0
INSTEAD = {1: "model plaster", 2: "impression plaster", 3: "model plaster", 4: "dental stone", 5: "improved stone"}
STROPPED, LUMPED, BEATEN = list(voids.HABITS)[:3]

SHORT = {"wet_strength_mpa": "wet strength at 1 h", "gloss_loss_min": "gloss lost at", "final_set_min": "set at", "working_time_min": "pours until",
         "setting_expansion_percent": "expansion at 2 h"}
WIDE = ("gloss_loss_min", "final_set_min", "working_time_min", "setting_expansion_percent")     # worth two digits

NOT_COMPUTED = {
    "vibrated too hard": "the model lets a vibrator take air out only",
    "left too long in the impression": "the model knows no gel",
    "dried too hot": "the model dries in air up to about 45 °C only",
    "impression changed its shape": "the model knows no impression",
    "silicone poured too soon": "the model knows no gas from the impression",
    "impression not rinsed": "no law was found for saliva or blood",
}


class Numbers(NamedTuple):
    """What was computed of one cause: how it was imitated, and the findings in words."""

    imitated: str               # empty when nothing was computed
    found: str


def usual_recipe(powder):
    """Return the recipe as it should be: recommended ratio, mixed as usual.

    Parameters
    ----------
    powder : str
        Name of a powder.

    Returns
    -------
    Recipe
    """
    kind = find_powder(powder)
    return Recipe(kind.name, kind.recommended_ratio.value)


def _recipe_of(cause, powder):
    """The recipe that imitates a cause, how it does it, and which quantities tell; None where no recipe does."""
    kind = find_powder(powder)
    ratio = kind.recommended_ratio.value
    imitations = {
        "too much water": (f"{100 * (MORE_WATER - 1):.0f} % more water", dict(ratio=MORE_WATER * ratio), ("wet_strength_mpa", "gloss_loss_min", "setting_expansion_percent")),
        "too little water": (f"{100 * (1 - LESS_WATER):.0f} % less water", dict(ratio=LESS_WATER * ratio), ("working_time_min", "setting_expansion_percent")),
        "wrong powder": (f"{INSTEAD[kind.iso_type]} with its own water", dict(powder=INSTEAD[kind.iso_type], ratio=POWDERS[INSTEAD[kind.iso_type]].recommended_ratio.value),
                         ("wet_strength_mpa", "gloss_loss_min", "setting_expansion_percent")),
        "long exposed powder": ("long exposed powder", dict(powder_state="long exposed"), ("wet_strength_mpa", "final_set_min")),
        "slightly damp powder": ("slightly damp powder", dict(powder_state="slightly damp"), ("working_time_min", "gloss_loss_min", "setting_expansion_percent")),
        "set gypsum left in the bowl": (f"{SEEDS_PERCENT:g} % of set gypsum in it", dict(additive="ground set gypsum", additive_percent=SEEDS_PERCENT),
                                        ("working_time_min", "gloss_loss_min", "setting_expansion_percent")),
        "retarder left in the bowl": (f"{RETARDER_PERCENT:g} % of borax in it", dict(additive="borax", additive_percent=RETARDER_PERCENT), ("final_set_min", "wet_strength_mpa")),
        "warm mixing water": (f"water of {WARM_WATER_C:.0f} °C", dict(water_temperature_c=WARM_WATER_C), ("working_time_min", "gloss_loss_min")),
        "too few turns": (f"{FEW_TURNS:.0f} turns", dict(turns=FEW_TURNS), ("gloss_loss_min", "final_set_min", "wet_strength_mpa")),
        "too many turns": (f"{MANY_TURNS:.0f} turns", dict(turns=MANY_TURNS), ("working_time_min", "gloss_loss_min", "setting_expansion_percent")),
        "water left in the impression": (f"a skin with {100 * (MORE_WATER - 1):.0f} % more water", dict(ratio=MORE_WATER * ratio), ("wet_strength_mpa",)),
    }
    return imitations.get(cause)


@remembered(64)
def _mix(recipe):
    return Mix(recipe).everything()


def compared(cause, powder):
    """Return the predictions that tell a cause, with it and without it.

    Parameters
    ----------
    cause : str
        A key of `CAUSES`.
    powder : str
        Name of a powder.

    Returns
    -------
    dict of str to pair of Prediction
        By the name of the quantity; empty where no recipe imitates the cause.

    Raises
    ------
    Problem
        When cause or powder are unknown; names the nearest.
    """
    imitated = _recipe_of(named(cause, CAUSES, "no cause"), powder)
    if imitated is None:
        return {}
    _, changed, quantities = imitated
    kind = find_powder(powder)
    recipe = Recipe(changed.pop("powder", kind.name), changed.pop("ratio", kind.recommended_ratio.value), **changed)
    with_it, usual = _mix(recipe), _mix(usual_recipe(powder))
    return {name: (with_it[name], usual[name]) for name in quantities}


@remembered(256)
def fault_numbers(cause, powder):
    """Return in words what the model computes of a cause.

    Parameters
    ----------
    cause : str
        A key of `CAUSES`.
    powder : str
        Name of a powder.

    Returns
    -------
    Numbers

    Raises
    ------
    Problem
        When cause or powder are unknown; names the nearest.
    """
    cause, powder = named(cause, CAUSES, "no cause"), find_powder(powder).name
    if cause in NOT_COMPUTED:
        return Numbers("", f"not computed: {NOT_COMPUTED[cause]}")
    rows = [_row(name, *pair) for name, pair in compared(cause, powder).items()]
    if cause == "warm mixing water":
        rows.append(f"with water, powder and room at {NEAR_BALANCE_C:.0f} °C " + _row("final_set_min", *_near_balance(powder)))
    if rows:
        return Numbers(_recipe_of(cause, powder)[0], "; ".join(rows))
    special = {"beaten": _air, "water poured onto the powder": _air, "poured without vibration": _unshaken, "poured too late": _late,
               "waited between portions": _late, "separated too early": _early, "soaked in tap water": _soaked, "kept wet while setting": _wet}
    return special[cause](cause, powder)


def _near_balance(powder):
    usual = usual_recipe(powder)
    hot = Recipe(usual.powder, usual.water_powder_ratio, water_temperature_c=NEAR_BALANCE_C, room_temperature_c=NEAR_BALANCE_C)
    return _mix(hot)["final_set_min"], _mix(usual)["final_set_min"]


def _row(name, with_it, usual):
    digits = 2 if name in WIDE else 3
    unsure = "" if with_it.valid else " (extrapolated)"
    return f"{SHORT[name]} {with_range(with_it, digits)}{unsure} instead of {with_unit(usual.value, usual.unit, digits)}"


def _air(cause, powder):
    habit = voids.HABITS[{"beaten": BEATEN, "water poured onto the powder": LUMPED}[cause]]
    usual = voids.HABITS[STROPPED].air
    return Numbers("air at the end of mixing", f"air {rounded(100 * habit.air.value)} %{bracketed(100 * habit.air.low, 100 * habit.air.high)} instead of "
                   f"{rounded(100 * usual.value)} %")


def _hole(powder, seconds):
    """Chance of a hole on a margin, %, with the range that the air gives."""
    way, ratio = voids.HABITS[STROPPED], find_powder(powder).recommended_ratio.value
    return tuple(100 * float(voids.voids(powder, ratio, STROPPED, POURED_MM, seconds, air=air).chance_on_margin) for air in (way.air.value, way.air.low, way.air.high))


def _unshaken(cause, powder):
    (value, low, high), (usual, *_) = _hole(powder, 0.0), _hole(powder, VIBRATED_S)
    return Numbers(f"{POURED_MM:g} mm deep, vibrator off", f"chance of a hole on a margin {rounded(value)} %{bracketed(low, high)} instead of {rounded(usual)} % after "
                   f"{VIBRATED_S:.0f} s on it")


def _late(cause, powder):
    usual = _mix(usual_recipe(powder))
    return Numbers("the clock of the usual mix", f"pours until {with_range(usual['working_time_min'], 2)}, gloss lost at {with_range(usual['gloss_loss_min'], 2)}: later is too late")


def _early(cause, powder):
    recipe = usual_recipe(powder)
    line = predict_timeline(recipe.powder, recipe.water_powder_ratio, np.array([OUT_AT_MIN, STANDARD_MIN]), recipe)["strength_mpa"]
    return Numbers(f"out at {OUT_AT_MIN:.0f} min", f"wet strength {rounded(line.value[0])} MPa{bracketed(line.low[0], line.high[0])} instead of "
                   f"{rounded(line.value[1], 3)} MPa at 1 h")


def _soaked(cause, powder):
    grams = 10 * float(solubility.dissolved_g_per_100_g(solubility.gypsum_solubility_mmol_kg(ROOM_C), hydration.GYPSUM_G_MOL))
    return Numbers("a litre of fresh water", f"dissolves {rounded(grams)} g of gypsum before it is full")


def _wet(cause, powder):
    recipe = usual_recipe(powder)
    (value, low, high), (usual, *_) = growth_percent(recipe, under_water=True), growth_percent(recipe)
    return Numbers("under water", f"expansion at 2 h {rounded(value)} %{bracketed(low, high)} instead of {rounded(usual)} %")


def numbers_words(cause, powder):
    """Say what is computed of a cause in one line.

    Parameters
    ----------
    cause : str
        A key of `CAUSES`.
    powder : str
        Name of a powder.

    Returns
    -------
    str
        Such as "20 % more water: wet strength at 1 h 7.86 MPa (6.4 to 9.6) instead of 10.3 MPa".
    """
    numbers = fault_numbers(cause, powder)
    return f"{numbers.imitated}: {numbers.found}" if numbers.imitated else numbers.found

