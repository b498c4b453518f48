"""What a slip in weighing or measuring does, and why a small batch suffers more."""

from dataclasses import dataclass

import numpy as np

from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Rule, Scene, Table, Text
from gypsumkit.mix import Mix, consistency, pourable_ratios, predict
from gypsumkit.powders import POWDERS, find_powder
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered
from gypsumkit.showing import rounded, with_range, with_unit

LEAST_BATCH_G, MOST_BATCH_G = 25, 500
BATCHES_G = (25, 50, 100, 200, 400)
MOST_SLIP_ML = MOST_SLIP_G = 3.0
PICTURE_HEIGHT = 330
SPREAD_RANGE_MM = (15.0, 130.0)
SHARE_RANGE_PERCENT = (40.0, 140.0)

LIMITS = ("Limits: the picture moves only the ratio. A real slip also changes how fast the mix sets. One balance and one cylinder "
          "may be wrong by 1 g and 1 mL without anybody noticing. Flow and strength are those of the picture of the water/powder "
          "ratio, with the same doubts. For teaching only.")


@dataclass(frozen=True)
class SlippedBatch:
    """A batch meant for the recommended ratio, and what was really weighed and measured.

    Parameters
    ----------
    powder : str
        Name of a powder.
    batch_g : float
        Powder meant, g, 25 to 500.
    water_slip_ml : float
        Water poured too much, mL, -3 to 3; too little below 0.
    powder_slip_g : float
        Powder weighed too much, g, -3 to 3; too little below 0.

    Raises
    ------
    Problem
        When the powder is unknown or a number lies out of range.
    """

    powder: str
    batch_g: float = 100.0
    water_slip_ml: float = 0.0
    powder_slip_g: float = 0.0

    def __post_init__(self):
        object.__setattr__(self, "powder", find_powder(self.powder).name)
        for name, words, unit, least, most in (("batch_g", "The powder of the batch", "g", LEAST_BATCH_G, MOST_BATCH_G),
                                               ("water_slip_ml", "The slip of the water", "mL", -MOST_SLIP_ML, MOST_SLIP_ML),
                                               ("powder_slip_g", "The slip of the powder", "g", -MOST_SLIP_G, MOST_SLIP_G)):
            value = getattr(self, name)
            if not least <= value <= most:
                raise Problem(f"{words} is given as {value:g} {unit}; this picture shows {least:g} to {most:g} {unit}.")

    @property
    def meant_ratio(self):
        """The ratio meant, mL per g: the recommended one."""
        return POWDERS[self.powder].recommended_ratio.value

    @property
    def is_exact(self):
        """Whether there is no slip at all."""
        return self.water_slip_ml == 0 and self.powder_slip_g == 0

    def weighed_g(self, batch_g=None):
        """Powder really weighed for a batch, g."""
        return (self.batch_g if batch_g is None else batch_g) + self.powder_slip_g

    def measured_ml(self, batch_g=None):
        """Water really measured for a batch, mL."""
        return self.meant_ratio * (self.batch_g if batch_g is None else batch_g) + self.water_slip_ml

    def ratio(self, batch_g=None):
        """Ratio really mixed for a batch, mL per g.

        Parameters
        ----------
        batch_g : float or array, optional
            Powder meant, g; this batch when not given.

        Returns
        -------
        float or array
        """
        return self.measured_ml(batch_g) / self.weighed_g(batch_g)

    def mix(self, batch_g=None):
        """Return the mix that the slip leaves, or None when it is no paste."""
        try:
            return Mix(Recipe(self.powder, self.ratio(batch_g)))
        except Problem:
            return None


def slip_scene(slipped):
    """Describe what a slip does to ratio, spread and strength, for this batch and for all sizes of batch.

    Parameters
    ----------
    slipped : SlippedBatch
        The batch now.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    mix, sizes = slipped.mix(), _all_sizes(slipped)
    pictures = (_ratio_picture(slipped, sizes), _spread_picture(slipped, mix, sizes), _strength_picture(slipped, mix, sizes))
    return Scene(pictures, slip_words(slipped, mix), _numbers(slipped, sizes))


def slip_words(slipped, mix):
    """Say the picture in words, with its main numbers.

    Parameters
    ----------
    slipped : SlippedBatch
        The batch now.
    mix : Mix or None
        What the slip leaves; None when it is no paste.

    Returns
    -------
    str
    """
    meant = _meant_mix(slipped.powder)
    said = (f"{slipped.powder[0].upper()}{slipped.powder[1:]}, meant: {slipped.batch_g:g} g of powder and "
            f"{rounded(slipped.meant_ratio * slipped.batch_g, 3)} mL of water, {_per_100(slipped.meant_ratio)} mL per 100 g. ")
    if slipped.is_exact:
        said += "No slip: weighed and measured as meant. "
    else:
        said += (f"Really {slipped.weighed_g():g} g and {rounded(slipped.measured_ml(), 3)} mL: {_per_100(slipped.ratio())} mL per 100 g. ")
    if mix is None:
        return said + f"This is no paste any more: {_why_no_paste(slipped)}."
    return said + (f"The mix {_does(mix)}. It spreads to {with_range(mix.spread_mm)}; meant {with_unit(meant.spread_mm.value, 'mm')}. "
                   f"Porosity {rounded(100 * mix.porosity.value, 3)} %; meant {rounded(100 * meant.porosity.value, 3)} %. "
                   f"Wet strength {with_range(mix.wet_strength_mpa)}, {rounded(100 * mix.relative_strength.value, 3)} % of what was meant.")


def _why_no_paste(slipped):
    dry = slipped.ratio() < POWDERS[slipped.powder].least_ratio
    return "the water cannot wet all of the powder" if dry else "the powder settles out of so much water"


def _does(mix):
    return {"too stiff to pour": "is too stiff to pour", "pours": "pours", "runny": "is runny"}[mix.consistency]


def _per_100(ratio):
    return rounded(100 * ratio, 3)


def _numbers(slipped, sizes):
    rows = []
    for batch_g in BATCHES_G:
        at = int(np.searchsorted(sizes.batch_g, batch_g))
        ratio = f"{rounded(sizes.ratio_ml[at], 3)} mL"
        if np.isnan(sizes.yield_stress_pa[at]):
            rows.append((f"{batch_g} g", ratio, "no paste", "no paste", "no paste", "no paste"))
        else:
            rows.append((f"{batch_g} g", ratio, consistency(sizes.yield_stress_pa[at]), with_unit(sizes.spread_mm[at], "mm"),
                         f"{rounded(sizes.porosity_percent[at], 3)} %", f"{rounded(sizes.share_percent[at], 3)} %"))
    return Table(("powder", "water per 100\u00a0g", "mix", "spread", "porosity", "strength"), tuple(rows),
                 "The same slip in batches of five sizes; strength as a share of what was meant")


# ---------------------------------------------------------------- curves against the size of the batch


@remembered(16)
def _meant_mix(powder):
    return Mix(Recipe(powder, POWDERS[powder].recommended_ratio.value))


def _place(batch_g):
    """Where a size of batch stands on the axis: every doubling is one step of equal length."""
    return np.log2(batch_g)


@dataclass(frozen=True)
class _Sizes:
    """The same slip in batches of many sizes; not a number where there is no paste."""

    batch_g: np.ndarray
    ratio_ml: np.ndarray
    yield_stress_pa: np.ndarray
    spread_mm: np.ndarray
    porosity_percent: np.ndarray
    share_percent: np.ndarray


def _all_sizes(slipped):
    powder = POWDERS[slipped.powder]
    batch_g = np.unique(np.concatenate([np.geomspace(LEAST_BATCH_G, MOST_BATCH_G, 40), BATCHES_G, [slipped.batch_g]]))
    ratio = slipped.ratio(batch_g)
    paste = (ratio >= powder.least_ratio) & (ratio <= powder.most_ratio)
    predicted = predict(slipped.powder, ratio[paste]) if paste.any() else {}

    def of(name, scale=1.0):
        values = np.full(len(batch_g), np.nan)
        if predicted:
            values[paste] = scale * predicted[name].value
        return values
    return _Sizes(batch_g, 100 * ratio, of("yield_stress_pa"), of("spread_mm"), of("porosity", 100), of("relative_strength", 100))


def _panel(name, y_range, y_label, title, backdrop, moving):
    ticks = tuple((float(_place(size)), f"{size}") for size in BATCHES_G)
    low, high = _place(LEAST_BATCH_G), _place(MOST_BATCH_G)
    return Panel(name, (float(low) - 0.1, float(high) + 0.1), y_range, title=title, x_label="powder meant (g)", y_label=y_label,
                 x_ticks=ticks, backdrop=backdrop, moving=moving)


def _meant(value):
    """The rule at what was meant, named at the left, where a slip takes the curve away from it."""
    return (Rule(y=value), Text(float(_place(LEAST_BATCH_G)), value, "meant", anchor="start", up=-11, right=4))


def _now(slipped, sizes, values, value, label, y_range):
    """The curve of this slip, and the batch of now on it."""
    place = float(_place(slipped.batch_g))
    marks = [Line(_place(sizes.batch_g), values), Rule(x=place, width=1.5)]
    if value is None:
        marks.append(Text(place, 0.5 * sum(y_range), "no paste", anchor="auto", right=10, bold=True, size=18))
    elif y_range[0] <= value <= y_range[1]:
        rises = values[-1] > value + 1e-9
        marks += [Marker(place, value), Text(place, value, label, anchor="auto", right=14, up=-20 if rises else 18, bold=True, size=18)]
    else:
        above = value > y_range[1]
        marks.append(Text(place, y_range[1 if above else 0], f"{label}, off the picture", anchor="auto", right=10, bold=True,
                          height="top" if above else "bottom"))
    return tuple(marks)


@remembered(8)
def _ratio_backdrop(powder):
    stiff, runny = (100 * ratio for ratio in pourable_ratios(powder))
    right = float(_place(MOST_BATCH_G))
    return (Rule(y=stiff, colour="green", dash="dotted"), Text(right, stiff, "too stiff", anchor="end", up=-11),
            Rule(y=runny, colour="green", dash="dotted"), Text(right, runny, "runny", anchor="end", up=11),
            *_meant(100 * POWDERS[powder].recommended_ratio.value))


def _ratio_picture(slipped, sizes):
    meant, value = 100 * slipped.meant_ratio, 100 * slipped.ratio()
    y_range = (max(meant - 18, 0.0), meant + 22)
    panel = _panel("ratio", y_range, "water (mL per 100 g)", "Ratio", _ratio_backdrop(slipped.powder),
                   _now(slipped, sizes, sizes.ratio_ml, value, f"{rounded(value, 3)} mL", y_range))
    return Picture("ratio", (panel,), height=PICTURE_HEIGHT, words=f"Ratio. Meant {rounded(meant, 3)} mL per 100 g, really "
                   f"{rounded(value, 3)} mL per 100 g in a batch of {slipped.batch_g:g} g.")


@remembered(8)
def _spread_backdrop(powder):
    return _meant(float(_meant_mix(powder).spread_mm.value))


def _spread_picture(slipped, mix, sizes):
    value = None if mix is None else mix.spread_mm.value
    panel = _panel("spread", SPREAD_RANGE_MM, "spread of the ring, still (mm)", "Flow", _spread_backdrop(slipped.powder),
                   _now(slipped, sizes, sizes.spread_mm, value, with_unit(value, "mm"), SPREAD_RANGE_MM))
    said = "No paste." if mix is None else f"The mix spreads to {with_range(mix.spread_mm)}; it {_does(mix)}."
    return Picture("spread", (panel,), height=PICTURE_HEIGHT, words=f"Flow. {said}")


@remembered(8)
def _strength_backdrop(powder):
    return _meant(100.0)


def _strength_picture(slipped, mix, sizes):
    value = None if mix is None else 100 * mix.relative_strength.value
    label = "" if value is None else f"{rounded(value, 3)} %"
    panel = _panel("strength", SHARE_RANGE_PERCENT, "wet strength (% of what was meant)", "Strength", _strength_backdrop(slipped.powder),
                   _now(slipped, sizes, sizes.share_percent, value, label, SHARE_RANGE_PERCENT))
    said = "No paste." if mix is None else f"Wet strength {with_range(mix.wet_strength_mpa)}, {label} of what was meant."
    return Picture("strength", (panel,), height=PICTURE_HEIGHT, words=f"Strength. {said}")
