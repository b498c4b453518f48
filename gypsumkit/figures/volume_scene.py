"""Where the water goes: what fills a mass by volume, against water, reaction and drying."""

import numpy as np

from gypsumkit.figures.layers import column, layer
from gypsumkit.plausible import one_at_a_time, value_and_range
from gypsumkit.figures.mix_words import PIN_NAMES
from gypsumkit.figures.scene import Band, Line, Marker, Panel, Picture, Rule, Scene, Table, Text
from gypsumkit.mix import Mix, predict
from gypsumkit.powders import DRY_OVER_WET, GYPSUM_DENSITY, POWDERS, ROOM_C
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered
from gypsumkit.science import drying, pores
from gypsumkit.science.hydration import THEORETICAL_WATER_G_PER_G, final_degree_of_hydration
from gypsumkit.science.water import water_density_g_cm3
from gypsumkit.showing import bracketed, range_words, rounded, with_unit

PICTURE_HEIGHT = 470
RATIO_RANGE = (0.10, 0.85)
RATIO_TICKS = (0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8)
PERCENT_TICKS = (0, 25, 50, 75, 100)
STRENGTH_TOPS_MPA = (30.0, 60.0, 100.0, 150.0)
GUIDE_PERCENT_GONE = 93.0        # [drying_guide]
LEAST_AIR_NAMED = 0.11           # of the outer volume: a thinner layer has no room for its name

LIMITS = ("Limits: the outer volume is taken to stay that of the fresh mix; the small setting expansion is left out. The powder counts as "
          "pure. In truth a model dries only after it has set; here the two sliders move separately, to show one thing at a time. "
          "The strength while drying is our teaching law, chosen so that plaster gains little before about 93 % of the free water has gone, "
          "as a maker's drying guide says. Dry strength is about twice wet strength, from a handbook, from memory. For teaching only.")


class Stage:
    """One mix at one moment: how much has set and how much free water has dried off.

    Parameters
    ----------
    powder : str
        Name of a powder.
    water_powder_ratio : float
        mL per g, within what makes a paste.
    degree_of_hydration : float
        0 (fresh) to 1; more than the water allows counts as all that the water allows.
    water_gone : float
        Share of the free water that has dried off, 0 to 1.
    """

    def __init__(self, powder, water_powder_ratio, degree_of_hydration=1.0, water_gone=0.0):
        self.mix = _mix(powder, water_powder_ratio)
        self.asked_degree, self.water_gone = float(degree_of_hydration), float(water_gone)
        self.most = float(self.mix.degree_of_hydration.value)
        self.degree = min(self.asked_degree, self.most)
        self.shares = _shares(powder, water_powder_ratio, self.degree)

    @property
    def ratio(self):
        """Water/powder ratio, mL per g."""
        return self.mix.recipe.water_powder_ratio

    @property
    def fully_set(self):
        """Whether all has set that the water allows."""
        return self.degree >= self.most - 1e-9

    @property
    def bound_ml(self):
        """Water bound, mL for 100 g of powder."""
        return 100.0 * THEORETICAL_WATER_G_PER_G * self.degree

    @property
    def free_ml(self):
        """Free water still there, mL for 100 g of powder."""
        return 100.0 * (self.ratio - THEORETICAL_WATER_G_PER_G * self.degree) * (1.0 - self.water_gone)

    @property
    def weight_left(self):
        """Weight of a cast that weighed 100 g when wet, in g."""
        return 100.0 * float(drying.share_of_wet_mass(self.ratio, 1.0 - self.water_gone, self.degree))

    @property
    def density(self):
        """Density now, value, low and high, g/cm3."""
        wet = self.mix.wet_density_g_cm3
        return tuple(float(x) * self.weight_left / 100.0 for x in (wet.value, wet.low, wet.high))

    @property
    def strength(self):
        """Compressive strength now, value, low and high, MPa; None while it sets."""
        if not self.fully_set:
            return None
        return tuple(float(x[0]) for x in _strength_on_drying(self.mix, np.array([self.water_gone])))


@remembered(512)
def _mix(powder, ratio):
    return Mix(Recipe(powder, ratio))


@remembered(512)
def _shares(powder, ratio, degree):
    """Percent of the outer volume, each as value, low, high: powder, crystals, water, voids, air."""
    mix = _mix(powder, ratio)
    powder_density, gypsum_density, air = one_at_a_time((mix.powder.density_g_cm3, GYPSUM_DENSITY, (
        float(mix.air_fraction.value), float(mix.air_fraction.low), float(mix.air_fraction.high))))
    rows = pores.volumes(ratio, degree, powder_density, gypsum_density, float(water_density_g_cm3(ROOM_C)), air)
    value, low, high = value_and_range(100.0 * np.column_stack(rows))
    return {name: (float(value[i]), float(low[i]), float(high[i])) for i, name in enumerate(("powder", "crystals", "water", "voids", "air"))}


def _strength_on_drying(mix, gone):
    """Value, low and high of the strength at shares of the free water gone."""
    wet = mix.wet_strength_mpa
    free = float(drying.free_water_g_per_g_dry(mix.recipe.water_powder_ratio, 1.0, float(mix.degree_of_hydration.value)))
    dry_over_wet, last_water, as_wet = one_at_a_time((DRY_OVER_WET, (drying.LAST_WATER_G_PER_G, *drying.LAST_WATER_RANGE), (
        float(wet.value), float(wet.low), float(wet.high))))
    rows = drying.strength_over_wet(1.0 - gone[np.newaxis, :], free, dry_over_wet[:, np.newaxis], last_water[:, np.newaxis]) * as_wet[:, np.newaxis]
    return value_and_range(rows)


def volume_scene(stage, pins=()):
    """Describe what fills a mass: against water, against the reaction, and while it dries.

    Parameters
    ----------
    stage : Stage
        The mix now.
    pins : sequence of Stage
        Up to three earlier ones kept for comparison.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    pins = tuple(pins)[:len(PIN_NAMES)]
    return Scene((_water_picture(stage), _reaction_picture(stage), _drying_picture(stage, pins)), volume_words(stage, pins),
                 _numbers(stage, pins))


# ---------------------------------------------------------------- words and numbers


def volume_words(stage, pins=()):
    """Say the picture in words.

    Parameters
    ----------
    stage : Stage
        The mix now.
    pins : sequence of Stage
        Earlier ones.

    Returns
    -------
    str
    """
    shares = {name: rounded(value[0], 3) for name, value in stage.shares.items()}
    said = [f"{_recipe(stage)}, {_progress(stage)}. Of the outer volume {shares['crystals']} % are crystals, {shares['powder']} % powder, "
            f"{_water_percent(stage)} % free water, {shares['voids']} % empty room that the reaction opened, {shares['air']} % air bubbles"
            + (f", {_dried_percent(stage)} % pores that drying has emptied" if stage.water_gone > 0 else "")
            + f". Of the {100 * stage.ratio:.3g} mL of water for 100 g of powder {rounded(stage.bound_ml, 3)} mL are bound and "
              f"{rounded(stage.free_ml, 3)} mL are free. A cast that weighed 100 g when wet weighs {rounded(stage.weight_left, 3)} g; its "
              f"outside has not changed."]
    if stage.asked_degree > stage.most + 1e-9:
        said.append(f"There is water for only {rounded(100 * stage.most, 3)} % of the powder; the rest stays powder.")
    said.append(_strength_words(stage))
    for name, pin in zip(PIN_NAMES, pins):
        said.append(f"Pinned {name}: {_recipe(pin)}, {_progress(pin)}, crystals {rounded(pin.shares['crystals'][0], 3)} %.")
    return " ".join(said)


def _recipe(stage):
    name = stage.mix.recipe.powder
    return f"{name[0].upper()}{name[1:]} at ratio {stage.ratio:.3g}"


def _progress(stage):
    said = f"{rounded(100 * stage.degree, 3)} % of the powder set"
    return said + (f", {rounded(100 * stage.water_gone, 3)} % of the free water dried off" if stage.water_gone > 0 else ", not dried")


def _strength_words(stage):
    strength = stage.strength
    if strength is None:
        return "It is still setting: no strength is predicted yet."
    value, low, high = strength
    return f"Strength now: {with_unit(value, 'MPa')}{bracketed(low, high)}."


def _water_percent(stage):
    return rounded(stage.shares["water"][0] * (1.0 - stage.water_gone), 3)


def _dried_percent(stage):
    return rounded(stage.shares["water"][0] * stage.water_gone, 3)


def _numbers(stage, pins):
    def spanned(triple, unit):
        value, low, high = triple
        return with_unit(value, unit), range_words(low, high)

    def share(of, name, factor=1.0):
        return tuple(factor * x for x in of.shares[name])

    def cells(of):
        strength = of.strength
        porosity = of.mix.porosity
        return (
            ("powder not yet set", spanned(share(of, "powder"), "%")),
            ("crystals", spanned(share(of, "crystals"), "%")),
            ("free water", spanned(share(of, "water", 1.0 - of.water_gone), "%")),
            ("empty: opened by the reaction", spanned(share(of, "voids"), "%")),
            ("empty: left by drying", spanned(share(of, "water", of.water_gone), "%")),
            ("air bubbles", spanned(share(of, "air"), "%")),
            ("bound water, per 100 g of powder", (f"{rounded(of.bound_ml, 3)} mL", "")),
            ("free water, per 100 g of powder", (f"{rounded(of.free_ml, 3)} mL", "")),
            ("a cast of 100 g (when wet) now weighs", (f"{rounded(of.weight_left, 3)} g", "")),
            ("density now", spanned(of.density, "g/cm3")),
            ("density, set and dried", spanned((of.mix.dry_density_g_cm3.value, of.mix.dry_density_g_cm3.low, of.mix.dry_density_g_cm3.high), "g/cm3")),
            ("porosity, set and dried", spanned(tuple(100 * x for x in (porosity.value, porosity.low, porosity.high)), "%")),
            ("compressive strength now", spanned(strength, "MPa") if strength else ("not yet: it is setting", "")),
        )

    pinned = [cells(pin) for pin in pins]
    rows = tuple((words, now, span, *(pin[i][1][0] for pin in pinned)) for i, (words, (now, span)) in enumerate(cells(stage)))
    return Table(("", "now", "plausible range", *(f"pinned {name}" for name in PIN_NAMES[:len(pins)])), rows,
                 "Shares of the outer volume, and numbers of the mass")


# ---------------------------------------------------------------- against the water


@remembered(8)
def _paste_ratios(powder):
    kind = POWDERS[powder]
    ratios = np.linspace(kind.least_ratio, kind.most_ratio, 25)
    return ratios, np.asarray(predict(powder, ratios)["air_fraction"].value)


def _stacked(shares, x, water_gone):
    """The parts as areas one on the other, from volumes in percent."""
    water = shares.free_water
    parts = (("powder", shares.powder), ("crystals", shares.crystals), ("water", water * (1.0 - water_gone)),
             ("dried", water * water_gone), ("empty", shares.contraction_voids), ("air", shares.air))
    marks, bottom = [], np.zeros_like(x)
    for kind, part in parts:
        top = bottom + 100.0 * part
        if np.max(part) > 1e-4:
            marks.append(layer(x, bottom, top, kind, hatched=False))
        bottom = top
    return marks


def _water_picture(stage):
    mix, powder = stage.mix, stage.mix.recipe.powder
    ratios, air = _paste_ratios(powder)
    degrees = np.minimum(stage.asked_degree, final_degree_of_hydration(ratios))
    shares = pores.volumes(ratios, degrees, mix.powder.density_g_cm3.value, GYPSUM_DENSITY.value, float(water_density_g_cm3(ROOM_C)), air)
    marks = _stacked(shares, ratios, stage.water_gone) + _names_in(shares, ratios, stage.water_gone)
    if air[0] > LEAST_AIR_NAMED:             # a mix too stiff to pour traps it
        marks.append(Text(ratios[0], 100.0 - 35.0 * air[0], "air", anchor="start", right=3, size=13.5))
    marks += [Rule(x=THEORETICAL_WATER_G_PER_G, colour="black", label="bound", label_height="bottom"),
              Rule(x=stage.ratio, colour="vermillion", width=3, dash="solid")]
    areas = Panel("against water", RATIO_RANGE, (0.0, 100.0), title="More or less water", x_label="water/powder ratio (mL per g)",
                  y_label="share of the outer volume (%)", x_ticks=RATIO_TICKS, y_ticks=PERCENT_TICKS, height_share=1.35, moving=tuple(marks))
    fresh, after = (_shares(powder, stage.ratio, degree) for degree in (0.0, stage.most))
    water = stage.shares["water"][0]
    fresh_parts = [(fresh["powder"][0], "powder", "powder"), (fresh["water"][0], "water", "water"), (fresh["air"][0], "air", "air")]
    now_parts = [(stage.shares["powder"][0], "powder", "powder"), (stage.shares["crystals"][0], "crystals", "crystals"),
                 (water * (1 - stage.water_gone), "water", "water"), (water * stage.water_gone, "dried", "dried out"),
                 (stage.shares["voids"][0], "empty", "empty"), (stage.shares["air"][0], "air", "air")]
    dry_parts = [(after["powder"][0], "powder", "powder"), (after["crystals"][0], "crystals", "crystals"),
                 (after["water"][0] + after["voids"][0] + after["air"][0], "dried", "empty")]
    vessels = [*column(4, 17, fresh_parts, 0.8), *_vessel(36, 17, now_parts), *column(81, 17, dry_parts, 0.8)]
    panel = Panel("vessels", (0.0, 100.0), (-12.0, 136.0), show_axes=False, moving=tuple(vessels), backdrop=tuple(
        Text(middle, -9, name) for middle, name in ((12.5, "fresh"), (44.5, "now"), (89.5, "set, dry"))))
    said = "; ".join(f"{name}: " + ", ".join(f"{words} {rounded(amount, 2)} %" for amount, _, words in parts if amount > 0.05)
                     for name, parts in (("fresh", fresh_parts), ("now", now_parts), ("set and dry", dry_parts)))
    return Picture("water", (areas, panel), height=PICTURE_HEIGHT, words=f"What fills the outer volume. {said}.")


def _names_in(shares, ratios, water_gone):
    """The names of the areas that have room for one, where the paste is neither stiff nor runny."""
    place = len(ratios) * 5 // 9
    parts = (("powder", shares.powder), ("crystals", shares.crystals), ("free water", shares.free_water * (1.0 - water_gone)),
             ("dried out", shares.free_water * water_gone))
    marks, bottom = [], 0.0
    for name, part in parts:
        share = 100.0 * float(part[place])
        if share > 11.0:
            marks.append(Text(ratios[place], bottom + 0.5 * share, name, bold=True, size=14.5))
        bottom += share
    return marks


def _vessel(left, width, parts):
    """A vessel with its parts, amounts inside and names beside, kept apart where the layers are thin."""
    marks, bottom, name_at = [], 0.0, -10.5
    for amount, kind, words in parts:
        if amount < 0.05:
            continue
        marks.append(layer([left, left + width], [bottom, bottom], [bottom + amount, bottom + amount], kind))
        thick = amount > 9.0
        if thick:
            marks.append(Text(left + 0.5 * width, bottom + 0.5 * amount, f"{amount:.0f}", bold=True))
        name_at = max(bottom + 0.5 * amount, name_at + 10.5)
        marks.append(Text(left + width + 1, name_at, words if thick else f"{words} {rounded(amount, 2)}", anchor="start", size=13.5))
        bottom += amount
    return marks


# ---------------------------------------------------------------- against the reaction


def _reaction_picture(stage):
    mix = stage.mix
    degrees = np.array([0.0, stage.most])
    shares = pores.volumes(stage.ratio, degrees, mix.powder.density_g_cm3.value, GYPSUM_DENSITY.value, float(water_density_g_cm3(ROOM_C)),
                           float(mix.air_fraction.value))
    marks = _stacked(shares, 100.0 * degrees, 0.0)
    half = pores.Volumes(*(float(np.mean(100.0 * part)) for part in shares))
    at = 50.0 * stage.most
    marks += [Text(0.44 * at, 0.5 * half.powder, "powder", bold=True),
              Text(1.55 * at, 0.33 * (half.powder + half.crystals), "crystals", bold=True),
              Text(0.55 * at, half.powder + half.crystals + 0.55 * half.free_water, "free water", bold=True),
              Text(2.0 * at, 104.5 - 100.0 * float(shares.air[0]), "empty", anchor="end"),
              Rule(x=100.0 * stage.degree, colour="vermillion", width=3, dash="solid")]
    if shares.air[0] > LEAST_AIR_NAMED:
        marks.append(Text(0.55 * at, 100.0 - 50.0 * float(shares.air[0]), "air", bold=True))
    areas = Panel("against reaction", (0.0, 100.0), (0.0, 110.0), title="While it sets", x_label="powder that has set (%)",
                  y_label="share of the outer volume (%)", x_ticks=PERCENT_TICKS, y_ticks=PERCENT_TICKS, height_share=1.35, moving=tuple(marks))
    panel, said = _contraction_panel(stage)
    return Picture("reaction", (areas, panel), height=PICTURE_HEIGHT, words=(
        "What fills the outer volume against how much has set: powder and free water fall, crystals rise, and a thin wedge of empty room "
        f"opens at the top. {said}"))


def _contraction_panel(stage):
    """What reacted, before and after, for 100 g of powder: the missing room is the empty room inside."""
    per_g = 100.0 * stage.degree
    powder_density, gypsum_density = one_at_a_time((stage.mix.powder.density_g_cm3, GYPSUM_DENSITY))
    water_density = float(water_density_g_cm3(ROOM_C))
    powder = per_g / powder_density
    water = np.full_like(powder, per_g * THEORETICAL_WATER_G_PER_G / water_density)
    share = 100.0 * pores.chemical_contraction_fraction(powder_density, gypsum_density, water_density)
    crystals = powder + water - (powder + water) * share / 100.0
    if stage.degree < 0.005:
        marks = (Text(50, 50, "nothing has reacted yet"),)
        return Panel("contraction", (0.0, 100.0), (-12.0, 112.0), show_axes=False, moving=marks), "Nothing has reacted yet."
    value, low, high = value_and_range(share)
    scale = 96.0 / float((powder + water)[0])         # the first column is always as high as the panel: its numbers change
    before = [(float(powder[0]) * scale, "powder"), (float(water[0]) * scale, "water")]
    after = [(float(crystals[0]) * scale, "crystals"), (float((powder + water - crystals)[0]) * scale, "empty")]
    marks = []
    for left, parts in ((2.0, before), (52.0, after)):
        bottom = 0.0
        for height, kind in parts:
            marks.append(layer([left, left + 16], [bottom, bottom], [bottom + height, bottom + height], kind))
            bottom += height
    marks += [Line([2, 68], [96.0, 96.0], colour="blue", dash="dotted", width=2),
              Text(19.5, 0.5 * before[0][0], f"powder {rounded(powder[0], 3)}", anchor="start", size=14),
              Text(19.5, before[0][0] + 0.5 * before[1][0], f"water {rounded(water[0], 3)}", anchor="start", size=14),
              Text(69.5, 0.5 * after[0][0], f"crystals {rounded(crystals[0], 3)}", anchor="start", size=14),
              Text(69.5, 96.0 - 0.5 * after[1][0], f"missing {value:.1f} %", anchor="start", size=14, bold=True)]
    words = f"What reacted of 100 g, in cm³: powder {rounded(powder[0], 3)} and water {rounded(water[0], 3)} became crystals {rounded(crystals[0], 3)}; "\
            f"{value:.1f} %{bracketed(low, high)} of the room is missing."
    panel = Panel("contraction", (0.0, 100.0), (-12.0, 112.0), show_axes=False, moving=tuple(marks), backdrop=(
        Text(10, -8, "reacted"), Text(60, -8, "became"), Text(100, 107, "cm³, of 100 g powder", anchor="end", size=14)))
    return panel, words


# ---------------------------------------------------------------- drying


@remembered(16)
def _tops(powder):
    most = float(np.max(predict(powder, _paste_ratios(powder)[0])["dry_strength_mpa"].high))
    return next((top for top in STRENGTH_TOPS_MPA if top >= 0.9 * most), STRENGTH_TOPS_MPA[-1])


_GONE = 1.0 - np.concatenate([np.linspace(1.0, 0.3, 8), np.geomspace(0.25, 0.004, 24), [0.0]])


@remembered(256)
def _drying_curves(powder, ratio):
    mix = _mix(powder, ratio)
    value, low, high = _strength_on_drying(mix, _GONE)
    wet = float(mix.wet_density_g_cm3.value)
    density = wet * drying.share_of_wet_mass(ratio, 1.0 - _GONE, float(mix.degree_of_hydration.value))
    return (Line([0, 100], [density[0], density[-1]]),), (Band(100 * _GONE, low, high), Line(100 * _GONE, value))


def _drying_picture(stage, pins):
    recipe, gone = stage.mix.recipe, 100.0 * stage.water_gone
    density_curve, strength_curve = _drying_curves(recipe.powder, stage.ratio)
    density, low, high = stage.density
    weight = [*density_curve, Rule(x=gone, width=1.5), Line([gone, gone], [low, high], colour="vermillion", width=4), Marker(gone, density),
              Text(gone, density, with_unit(density, "g/cm3"), anchor="auto", right=14, up=16, bold=True, size=17)]
    strength = [Rule(x=gone, width=1.5)]
    if stage.strength is None:
        strength.append(Text(50, 0.5 * _tops(recipe.powder), "still setting: no strength yet"))
    else:
        now, least, most = stage.strength
        strength += [*strength_curve, Line([gone, gone], [least, most], colour="vermillion", width=4), Marker(gone, now),
                     Text(gone, now, with_unit(now, "MPa"), anchor="auto", right=16, up=16, bold=True, size=17)]
    for name, pin in zip(PIN_NAMES, pins):
        at = 100.0 * pin.water_gone
        weight += [Marker(at, pin.density[0], shape="diamond", colour="purple", hollow=True), Text(at, pin.density[0], name, anchor="auto", right=12, up=-12, bold=True)]
        if pin.strength is not None:
            strength += [Marker(at, pin.strength[0], shape="diamond", colour="purple", hollow=True),
                         Text(at, pin.strength[0], name, anchor="auto", right=12, up=12, bold=True)]
    x_label = "free water dried off (%)"
    upper = Panel("density", (0.0, 100.0), (0.8, 2.4), title="While it dries", y_label="density (g/cm³)", x_label=x_label,
                  x_ticks=PERCENT_TICKS, moving=tuple(weight))
    lower = Panel("strength", (0.0, 100.0), (0.0, _tops(recipe.powder)), y_label="strength, set (MPa)", x_label=x_label, x_ticks=PERCENT_TICKS,
                  height_share=1.1, moving=tuple(strength), backdrop=(Rule(x=GUIDE_PERCENT_GONE, colour="black", label="93 % gone"),))
    said = "still setting, no strength yet" if stage.strength is None else f"strength {with_unit(stage.strength[0], 'MPa')}"
    return Picture("drying", (upper, lower), height=PICTURE_HEIGHT, words=(
        f"Drying. {rounded(gone, 3)} % of the free water has gone: density {with_unit(density, 'g/cm3')}, {said}. The density falls evenly; "
        "the strength stays low until most of the water has gone, then rises steeply."))
