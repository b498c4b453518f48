"""The setting clock: how far the reaction has come, how stiff and strong the mass is, how warm, and when what happens."""

import numpy as np

from gypsumkit import powders
from gypsumkit.figures.mix_words import PIN_NAMES, recipe_words
from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.mix import predict_setting, predict_timeline
from gypsumkit.remembering import remembered
from gypsumkit.science import setting
from gypsumkit.science.solubility import gypsum_solubility_mmol_kg, hemihydrate_solubility_mmol_kg
from gypsumkit.showing import range_words, rounded, with_range, with_unit

PICTURE_HEIGHT = 520
PIN_DASHES = ("dashed", "dotted", "dash-dot")
LAST_MOMENTS_MIN = (60.0, 120.0, 240.0, 480.0, 960.0)
STRENGTH_TOPS_MPA = (5.0, 10.0, 20.0, 40.0, 80.0)
TEMPERATURE_RANGES_C = ((10.0, 70.0), (0.0, 110.0))
DISSOLVED_TOP_MMOL_KG = 85.0
WIDE_SHARE = 0.10                        # a range wider than this share of its value is worth two digits of it
YIELD_RANGE = (1.5, 6.75)                # powers of ten of Pa
VICAT_PA = 1e6 * setting.VICAT_NEEDLE_MPA / setting.VICAT_BEARING
POINTS = 81
HOUR_MIN = 60.0

EVENTS = (
    ("working_time_min", "stops pouring", "triangle"),
    ("initial_set_min", "Vicat needle", "diamond"),
    ("gloss_loss_min", "gloss is lost", "circle"),
    ("light_needle_min", "light needle", "square"),
    ("final_set_min", "heavy needle", "square"),
)

TABLE_ROWS = (
    ("stops pouring", "working_time_min"),
    ("initial set, Vicat needle", "initial_set_min"),
    ("loss of gloss", "gloss_loss_min"),
    ("light needle leaves no mark", "light_needle_min"),
    ("final set, heavy needle leaves no mark", "final_set_min"),
    ("hottest, 100 g of powder in one lump", "peak_temperature_c"),
    ("setting expansion at 2 h, in air", "setting_expansion_percent"),
)

LIMITS = ("Limits: the clock is a teaching model. Its constants were chosen so that each powder loses its gloss and is set when practice says "
          "(plaster 13 and 30 min, stones 10 and 15 to 16), so these times are no proof. The sizes of the effects of turns, salts and damp "
          "powder are ours, from a few handbook times, from memory; a real product differs, follow its maker. Flow and strength are made for 15 to "
          "35 °C. Borax is toxic for reproduction: it exists here only. For teaching only.")


def clock_scene(recipe, time_min, pins=(), said=""):
    """Describe how one mix sets: reaction, stiffness, strength and temperature in time, and the events of the clock.

    Parameters
    ----------
    recipe : gypsumkit.recipe.Recipe
        The mix now.
    time_min : float
        The moment looked at, min from the start of mixing, 0 or more.
    pins : sequence of Recipe
        Up to three earlier mixes.
    said : str
        What was changed about the mix, in words.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    pins = tuple(pins)[:len(PIN_NAMES)]
    last = max(_last_moment(recipe, time_min), *(_last_moment(pin, 0.0) for pin in pins), 0.0)
    now, kept = _curves(recipe, last), tuple(_curves(pin, last) for pin in pins)
    pictures = (_reaction_picture(now, kept, time_min, last), _paste_picture(recipe, now, kept, time_min, last),
                _clock_picture(recipe, pins, now, kept, time_min, last))
    return Scene(pictures, clock_words(recipe, time_min, pins, said), _numbers(recipe, pins))


# ---------------------------------------------------------------- what is computed, kept by recipe


@remembered(128)
def _events(recipe):
    return predict_setting(recipe.powder, recipe.water_powder_ratio, recipe)


@remembered(32)
def _curves(recipe, last):
    """Moments and curves from the start to the last moment; the hour is always among them."""
    moments = np.unique(np.append(np.linspace(0.0, last, POINTS), HOUR_MIN))
    line = {name: p.value for name, p in predict_timeline(recipe.powder, recipe.water_powder_ratio, moments, recipe, ranges=False).items()}
    line["time_min"] = moments
    return line


def strength_at_hour_mpa(recipe):
    """Return the wet strength at 1 h.

    Parameters
    ----------
    recipe : Recipe
        The mix.

    Returns
    -------
    float
        MPa.
    """
    return _at(_curves(recipe, _last_moment(recipe, HOUR_MIN)), "strength_mpa", HOUR_MIN)


@remembered(64)
def _hour_range_words(recipe):
    strength = predict_timeline(recipe.powder, recipe.water_powder_ratio, np.array([HOUR_MIN]), recipe)["strength_mpa"]
    return range_words(strength.low[0], strength.high[0])


def _last_moment(recipe, time_min):
    final = _events(recipe)["final_set_min"].value
    needed = max(HOUR_MIN if final is None else 1.5 * final, time_min)
    return next((last for last in LAST_MOMENTS_MIN if last >= needed), LAST_MOMENTS_MIN[-1])


def _at(line, name, time_min):
    """The value of a curve at a moment; stiffness is read on its scale of powers of ten."""
    values = line[name]
    if name == "yield_stress_pa":
        return float(10.0 ** np.interp(time_min, line["time_min"], np.log10(values)))
    return float(np.interp(time_min, line["time_min"], values))


# ---------------------------------------------------------------- words and numbers


def clock_words(recipe, time_min, pins=(), said=""):
    """Say how a mix sets, in words.

    Parameters
    ----------
    recipe : Recipe
        The mix now.
    time_min : float
        The moment looked at, min.
    pins : sequence of Recipe
        Earlier mixes.
    said : str
        What was changed about it.

    Returns
    -------
    str
    """
    events = _events(recipe)
    parts = [f"{recipe_words(recipe)}, {said or 'mixed as usual'}: {_event_words(events)} "
             f"Wet strength at 1 h: {with_unit(strength_at_hour_mpa(recipe), 'MPa')}.", _cursor_words(recipe, time_min), _price_words(recipe)]
    doubtful = sorted({p.reason for p in events.values() if not p.valid})
    if doubtful:
        parts.append("Outside its range: " + "; ".join(doubtful) + ".")
    parts += [f"Pinned {name}: {pin_words(pin)}." for name, pin in zip(PIN_NAMES, pins)]
    return " ".join(filter(None, parts))


def _digits(p):
    """How many digits of a prediction are worth saying: two where its range is wide."""
    return 2 if p.value is not None and not p.high - p.low <= WIDE_SHARE * abs(p.value) else 3


def _said(p):
    return with_unit(p.value, p.unit, _digits(p))


def _said_with_range(p):
    return with_range(p, _digits(p))


def _event_words(events):
    if events["final_set_min"].value is None:
        return "it does not set within a day."
    return (f"it stops pouring at {_said_with_range(events['working_time_min'])}, the Vicat needle stops at "
            f"{_said_with_range(events['initial_set_min'])}, the gloss is lost at {_said_with_range(events['gloss_loss_min'])}, and it is set, by the "
            f"heavy needle, at {_said_with_range(events['final_set_min'])}.")


def _cursor_words(recipe, time_min):
    line = _curves(recipe, _last_moment(recipe, max(time_min, HOUR_MIN)))
    degree, warm, dissolved, stress, strength = (_at(line, name, time_min) for name in (
        "degree_of_hydration", "temperature_c", "dissolved_mmol_kg", "yield_stress_pa", "strength_mpa"))
    stiff = (f"it is still a paste, with a yield stress of about {_pressure(stress)}" if np.isfinite(stress)
             else f"it is no longer a paste, with a wet strength of about {with_unit(strength, 'MPa', 2)}")
    return (f"At {time_min:g} min {100 * degree:.0f} % of the powder has set, the water holds about {dissolved:.0f} mmol/kg of calcium sulfate, "
            f"the mass is at about {warm:.0f} °C, and {stiff}.")


def _pressure(pascal):
    return f"{rounded(pascal, 2)} Pa" if pascal < 1000 else f"{rounded(pascal / 1000, 2)} kPa"


@remembered(64)
def _price_words(recipe):
    """What a change costs against the same mix made as usual; nothing is said of a mix made as usual."""
    if recipe.standard:
        return ""
    usual = _as_usual(recipe)
    events = _events(recipe)
    if events["final_set_min"].value is None:
        return ""
    before = predict_setting(usual.powder, usual.water_powder_ratio, usual, ranges=False)
    return (f"Mixed as usual it would lose its gloss at {with_unit(before['gloss_loss_min'].value, 'min', 2)} and be set at "
            f"{with_unit(before['final_set_min'].value, 'min', 2)}. The change leaves {100 * recipe.strength_factor():.0f} % of the usual strength once all has "
            f"set, and an expansion of {with_unit(events['setting_expansion_percent'].value, '%', 2)} at 2 h instead of "
            f"{with_unit(before['setting_expansion_percent'].value, '%', 2)}.")


def _as_usual(recipe):
    return type(recipe)(recipe.powder, recipe.water_powder_ratio, powder_g=recipe.powder_g)


def pin_words(recipe):
    """Say the main events of a pinned mix.

    Parameters
    ----------
    recipe : Recipe
        The mix.

    Returns
    -------
    str
    """
    events = _events(recipe)
    how = [f"{100 * recipe.water_powder_ratio:.3g} mL per 100 g of {recipe.powder}"]
    if recipe.turns is not None:
        how.append(f"{recipe.turns:.0f} turns")
    if recipe.additive_percent:
        how.append(f"{recipe.additive_percent:.3g} % {recipe.additive}")
    if recipe.powder_state != "fresh":
        how.append(recipe.powder_state)
    if recipe.water_temperature_c != powders.ROOM_C:
        how.append(f"water {recipe.water_temperature_c:.0f} °C")
    if recipe.room_temperature_c != powders.ROOM_C:
        how.append(f"room {recipe.room_temperature_c:.0f} °C")
    return (f"{', '.join(how)}: gloss {_said(events['gloss_loss_min'])}, set {_said(events['final_set_min'])}")


def _numbers(recipe, pins):
    def cell(one, name):
        return _said(_events(one)[name])

    def span(name):
        p = _events(recipe)[name]
        if p.value is None:
            return "none"
        text = range_words(p.low, p.high)
        return text if p.valid else text + " extrapolated"
    rows = tuple((words, cell(recipe, name), span(name), *(cell(pin, name) for pin in pins)) for words, name in TABLE_ROWS)
    rows += (("wet strength at 1 h", with_unit(strength_at_hour_mpa(recipe), "MPa"), _hour_range_words(recipe),
              *(with_unit(strength_at_hour_mpa(pin), "MPa") for pin in pins)),)
    return Table(("", "now", "plausible range", *(f"pinned {name}" for name in PIN_NAMES[:len(pins)])), rows, "The clock of this mix")


# ---------------------------------------------------------------- marks used by every panel


def _cursor(time_min):
    return Rule(x=time_min, colour="dark grey", width=1.5, dash="solid")


def _curve(line, name, kept, colour, scale=1.0):
    """Curve now and the pinned ones; the pins differ from it, and from one another, by dash and letter."""
    marks = []
    for place, (letter, dash, pin) in enumerate(zip(PIN_NAMES, PIN_DASHES, kept)):
        marks.append(Line(pin["time_min"], scale * pin[name], colour="purple", width=2, dash=dash, label=letter, label_at=0.4 + 0.15 * place))
    return [*marks, Line(line["time_min"], scale * line[name], colour=colour)]


def _dot(time_min, value, words, up=14):
    return [Marker(time_min, value), Text(time_min, value, words, anchor="auto", right=14, up=up, bold=True, size=17)]


def _time_panel(name, last, y_range, y_label, marks, backdrop=(), **rest):
    return Panel(name, (0.0, last), y_range, y_label=y_label, backdrop=backdrop, moving=tuple(marks), **rest)


# ---------------------------------------------------------------- the reaction


def _solubilities(temperature_c):
    """How far powder and gypsum dissolve at the temperature of the mass at the moment looked at."""
    gypsum = float(gypsum_solubility_mmol_kg(temperature_c))
    return [Rule(y=gypsum, colour="black"),
            Text(0.0, gypsum, f"gypsum dissolves so far ({temperature_c:.0f} °C)", anchor="start", height="top", right=6, up=-4),
            Rule(y=float(hemihydrate_solubility_mmol_kg(temperature_c)), colour="black", label=f"powder dissolves so far ({temperature_c:.0f} °C)")]


def _reaction_picture(line, kept, time_min, last):
    degree, dissolved, warm = 100 * _at(line, "degree_of_hydration", time_min), _at(line, "dissolved_mmol_kg", time_min), _at(line, "temperature_c", time_min)
    top = _time_panel("degree", last, (0.0, 105.0), "powder that has set (%)", [
        *_curve(line, "degree_of_hydration", kept, "blue", 100.0), _cursor(time_min), *_dot(time_min, degree, f"{degree:.0f} %")],
        title="The reaction", height_share=1.15)
    bottom = _time_panel("dissolved", last, (0.0, DISSOLVED_TOP_MMOL_KG), "dissolved calcium sulfate (mmol/kg)", [
        *_solubilities(warm), *_curve(line, "dissolved_mmol_kg", kept, "green"), _cursor(time_min), *_dot(time_min, dissolved, f"{dissolved:.0f}", -18)],
        x_label="time from the start of mixing (min)")
    return Picture("reaction", (top, bottom), height=PICTURE_HEIGHT, words=f"The reaction in time. At {time_min:g} min {degree:.0f} % of the powder "
                   f"has set, and the water holds {dissolved:.0f} mmol/kg of calcium sulfate. Dashed: how far powder and gypsum dissolve at the {warm:.0f} °C of this moment.")


# ---------------------------------------------------------------- from paste to stone


@remembered(2)
def _stiffness_rules():
    return (Rule(y=float(np.log10(powders.POURS_BELOW_PA.value)), colour="black", label="pours only below this"),
            Rule(y=float(np.log10(VICAT_PA)), colour="black", label="Vicat needle stops"))


def _strength_top(lines):
    most = max(float(np.max(line["strength_mpa"])) for line in lines)
    return next((top for top in STRENGTH_TOPS_MPA if top >= 1.1 * most), 1.1 * most)


def _paste_picture(recipe, line, kept, time_min, last):
    logs = tuple({**each, "log": np.log10(np.where(np.isfinite(each["yield_stress_pa"]), each["yield_stress_pa"], np.nan))}
                 for each in (line, *kept))
    stress, strength = _at(line, "yield_stress_pa", time_min), _at(line, "strength_mpa", time_min)
    gloss = _events(recipe)["gloss_loss_min"].value
    marks = [*_curve(logs[0], "log", logs[1:], "blue"), _cursor(time_min)]
    if gloss is not None and gloss <= last:
        marks += [Rule(x=gloss, colour="vermillion", dash="dotted", label="gloss is lost", label_height="bottom")]
    if np.isfinite(stress):
        marks += _dot(time_min, max(np.log10(stress), YIELD_RANGE[0]), _pressure(stress))       # a mix like water rests on the axis
    top = _time_panel("stiffness", last, YIELD_RANGE, "yield stress of the paste (Pa)", marks, _stiffness_rules(), title="From paste to stone",
                      height_share=1.15, y_ticks=((2, "100"), (3, "1000"), (4, "10⁴"), (5, "10⁵"), (6, "10⁶")))
    strong = [*_curve(line, "strength_mpa", kept, "green"), _cursor(time_min), *_dot(time_min, strength, with_unit(strength, "MPa", 2), 22)]
    final = _events(recipe)["final_set_min"].value
    if final is not None and final <= last:
        at_set = _at(line, "strength_mpa", final)
        strong += [Marker(final, at_set, "square", "green", size=13), Text(final, at_set, "heavy needle: set", anchor="start", right=12, up=-4)]
    bottom = _time_panel("strength", last, (0.0, _strength_top((line, *kept))), "wet strength (MPa)", strong,
                         x_label="time from the start of mixing (min)")
    return Picture("paste", (top, bottom), height=PICTURE_HEIGHT, words="Stiffness of the paste until the gloss is lost, then wet strength. " + (
        f"At {time_min:g} min its yield stress is {_pressure(stress)}." if np.isfinite(stress)
        else f"At {time_min:g} min its wet strength is {with_unit(strength, 'MPa', 2)}."))


# ---------------------------------------------------------------- the clock and the heat


def _clock_picture(recipe, pins, line, kept, time_min, last):
    events = _events(recipe)
    marks = [_cursor(time_min)]
    for row, (name, words, shape) in enumerate(EVENTS):
        y, p = 4.6 - row, events[name]
        said = "never" if p.value is None else _said(p)
        beyond = p.value is not None and p.value > last
        marks.append(Text(0.0, y + 0.4, f"{words}: {said}{' →' if beyond else ''}", anchor="start", right=5, bold=True))
        for letter, pin in zip(PIN_NAMES, pins):
            value = _events(pin)[name].value
            if value is not None and value <= last:
                marks += [Marker(value, y, "diamond", "purple", size=11, hollow=True),
                          Text(value, y, letter, anchor="start", right=8, size=14, bold=True)]
        if p.value is None or beyond:
            continue
        high = min(p.high, last) if np.isfinite(p.high) else last
        marks += [Polygon([p.low, high, high, p.low], [y - 0.15, y - 0.15, y + 0.15, y + 0.15], fill="pale orange", edge="vermillion", width=1.5),
                  Marker(p.value, y, shape, size=13, hollow=name == "light_needle_min")]
    strip = Panel("events", (0.0, last), (-0.1, 5.5), title="The clock", height_share=1.5, y_ticks=(), moving=tuple(marks))
    warm = _at(line, "temperature_c", time_min)
    hottest = max(float(np.max(each["temperature_c"])) for each in (line, *kept))
    coldest = min(float(np.min(each["temperature_c"])) for each in (line, *kept))
    low, high = TEMPERATURE_RANGES_C[0]
    heat = _time_panel("heat", last, TEMPERATURE_RANGES_C[0 if low <= coldest and hottest <= high else 1], "temperature (°C)", [
        *_curve(line, "temperature_c", kept, "vermillion"), _cursor(time_min), *_dot(time_min, warm, f"{warm:.0f} °C")],
        x_label="time from the start of mixing (min)")
    return Picture("clock", (strip, heat), height=PICTURE_HEIGHT, words=f"The events of the clock with their plausible ranges: {_event_words(events)} "
                   f"Below them the temperature of 100 g of powder in one lump: at {time_min:g} min {warm:.0f} °C, at the hottest "
                   f"{_said_with_range(events['peak_temperature_c'])}.")
