"""Three powders at one consistency, side by side: water, porosity, strength, expansion, price."""

from gypsumkit.remembering import remembered
from gypsumkit.studies.comparison import THREE, at_equal_consistency
from gypsumkit.figures.scene import Line, Marker, Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.science.hydration import THEORETICAL_WATER_G_PER_G
from gypsumkit.showing import bracketed, rounded, with_range, with_unit

PICTURE_HEIGHT = 480
SHORT = {"model plaster": "plaster", "dental stone": "stone", "improved stone": "improved"}
LOOKS = {"model plaster": ("pale grey", "black", "square"), "dental stone": ("pale sky", "blue", "circle"),
         "improved stone": ("pale orange", "vermillion", "diamond")}
COST_TOPS = (0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 50000)
WIDTH = 0.56

LIMITS = ("Limits: equal spread on the vibrator is taken as equal consistency; the flow constants are our calibration to practice. "
          "The strength line meets nine handbook values, from memory, within 18 %. Expansion: published for the recommended water; how it "
          "changes with water is our teaching law. Prices are yours to type; those at the start are invented. Hardness, fine detail and "
          "wear are not in this picture. For teaching only.")


def powders_scene(spread_mm, cast_cm3, prices, pins=()):
    """Describe three powders mixed to the same spread on the vibrator.

    Parameters
    ----------
    spread_mm : float
        mm.
    cast_cm3 : float
        Volume of the cast, mL.
    prices : dict of str to float
        Money per kg.
    pins : sequence of (float, float, dict)
        Earlier settings kept for comparison.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    casts = at_equal_consistency(spread_mm, cast_cm3, prices)
    kept = tuple(at_equal_consistency(*pin) for pin in pins)
    return Scene((_water_picture(casts, kept), _use_picture(casts, kept), _price_picture(casts, kept)),
                 powders_words(spread_mm, cast_cm3, casts), _numbers(casts, kept))


def powders_words(spread_mm, cast_cm3, casts):
    """Say the comparison in words, with its main numbers.

    Parameters
    ----------
    spread_mm, cast_cm3 : float
        mm and mL.
    casts : sequence of Cast
        As from `at_equal_consistency`.

    Returns
    -------
    str
    """
    said = [f"All three spread to {rounded(spread_mm, 3)} mm on the vibrator; a cast of {rounded(cast_cm3, 3)} mL."]
    for cast in casts:
        p = cast.predictions
        said.append(f"{cast.powder[0].upper()}{cast.powder[1:]}: {rounded(100 * cast.ratio, 3)} mL of water per 100 g, porosity "
                    f"{rounded(100 * p['porosity'].value, 3)} %, wet strength {with_range(p['wet_strength_mpa'])}, expansion "
                    f"{with_unit(p['setting_expansion_percent'].value, '%', 2)}, {rounded(cast.powder_g, 3)} g of powder, cost "
                    f"{money(cast.cost)}.")
    outside = [f"{SHORT[cast.powder]}: {prediction.reason}" for cast in casts for prediction in cast.predictions.values() if not prediction.valid]
    if outside:
        said.append("Outside its range: " + "; ".join(dict.fromkeys(outside)) + ".")
    return " ".join(said)


def money(amount):
    """Write an amount of money, in whatever currency the prices are.

    Parameters
    ----------
    amount : float
        0 or more.

    Returns
    -------
    str
    """
    return f"{amount:.2f}" if amount < 100 else f"{amount:.0f}"


def _numbers(casts, kept):
    def cells(words, of, ranged=lambda cast: ""):
        return (words, *(of(cast) + ranged(cast) for cast in casts), *(", ".join(of(cast) for cast in pin) for pin in kept))

    def span(name, scale=1.0):
        def said(cast):
            p = cast.predictions[name]
            return bracketed(scale * p.low, scale * p.high) + ("" if p.valid else " extrapolated")
        return said

    rows = (
        cells("water, mL per 100 g", lambda c: rounded(100 * c.ratio, 3)),
        cells("porosity, dried, %", lambda c: rounded(100 * c.predictions["porosity"].value, 3), span("porosity", 100.0)),
        cells("strength, wet, 1 h, MPa", lambda c: rounded(c.predictions["wet_strength_mpa"].value, 3), span("wet_strength_mpa")),
        cells("strength, dry, MPa", lambda c: rounded(c.predictions["dry_strength_mpa"].value, 3), span("dry_strength_mpa")),
        cells("expansion, 2 h, %", lambda c: rounded(c.predictions["setting_expansion_percent"].value, 2), span("setting_expansion_percent")),
        cells("powder in the cast, g", lambda c: rounded(c.powder_g, 3)),
        cells("cost of the cast, your money", lambda c: money(c.cost)),
    )
    heads = ("", *THREE, *(f"pinned {name} (in this order)" for name in ("A", "B", "C")[:len(kept)]))
    return Table(heads, rows, "Three powders at one consistency")


# ---------------------------------------------------------------- bars


def _bars(name, title, y_label, top, casts, kept, value_of, say, spread_of=None, backdrop=()):
    marks = []
    for place, cast in enumerate(casts):
        fill, _, _ = LOOKS[cast.powder]
        value, left, right = value_of(cast), place + 0.5 - WIDTH / 2, place + 0.5 + WIDTH / 2
        marks.append(Polygon([left, right, right, left], [0, 0, value, value], fill=fill, edge="black"))
        highest = value
        if spread_of is not None:
            low, high = spread_of(cast)
            highest = max(high, value)
            marks.append(Line([place + 0.5, place + 0.5], [low, high], colour="vermillion", width=4))
        marks.append(Text(place + 0.5, min(highest, 0.93 * top), say(value), height="bottom", up=4, bold=True, size=16.5))
        for letter, pin in zip("ABC", kept):
            before = value_of(pin[place])
            marks += [Marker(right, before, shape="diamond", colour="purple", hollow=True, size=11), Text(right, before, letter, right=13, size=14)]
    return Panel(name, (0.0, 3.0), (0.0, top), title=title, y_label=y_label,
                 x_ticks=tuple((place + 0.5, SHORT[powder]) for place, powder in enumerate(THREE)), backdrop=backdrop, moving=tuple(marks))


@remembered(1)
def _bound_water():
    return (Rule(y=100 * THEORETICAL_WATER_G_PER_G, colour="black"), Text(1.0, 100 * THEORETICAL_WATER_G_PER_G, "bound", height="bottom", up=4))


def _span(name, scale=1.0):
    return lambda cast: (scale * cast.predictions[name].low, scale * cast.predictions[name].high)


def _water_picture(casts, kept):
    water = _bars("water", "Water and pores", "water (mL per 100 g)", 75.0, casts, kept, lambda c: 100 * c.ratio, lambda v: rounded(v, 3),
                  backdrop=_bound_water())
    pores = _bars("porosity", "", "porosity, dried (%)", 65.0, casts, kept, lambda c: 100 * c.predictions["porosity"].value,
                  lambda v: rounded(v, 3), _span("porosity", 100.0))
    return Picture("water", (water, pores), height=PICTURE_HEIGHT, words="Water and porosity. " + "; ".join(
        f"{SHORT[c.powder]} {rounded(100 * c.ratio, 3)} mL per 100 g, porosity {rounded(100 * c.predictions['porosity'].value, 3)} %" for c in casts)
        + f". A dashed line marks the {rounded(100 * THEORETICAL_WATER_G_PER_G, 3)} g that are bound.")


def _use_picture(casts, kept):
    strength = _bars("strength", "Strength and growth", "wet strength, 1 h (MPa)", 60.0, casts, kept,
                     lambda c: c.predictions["wet_strength_mpa"].value, lambda v: rounded(v, 3), _span("wet_strength_mpa"))
    growth = _bars("expansion", "", "setting expansion (%)", 0.42, casts, kept, lambda c: c.predictions["setting_expansion_percent"].value,
                   lambda v: rounded(v, 2), _span("setting_expansion_percent"))
    return Picture("use", (strength, growth), height=PICTURE_HEIGHT, words="Strength and expansion. " + "; ".join(
        f"{SHORT[c.powder]} {with_unit(c.predictions['wet_strength_mpa'].value, 'MPa')}, "
        f"{with_unit(c.predictions['setting_expansion_percent'].value, '%', 2)}" for c in casts) + ".")


def _price_picture(casts, kept):
    most = max(cast.cost for casts_of in (casts, *kept) for cast in casts_of)
    top = next((top for top in COST_TOPS if top >= 1.15 * most), 1.15 * most)
    cost = _bars("cost", "Price", "cost of the cast (your money)", float(top), casts, kept, lambda c: c.cost, money)
    marks = []
    for cast in casts:
        _, colour, shape = LOOKS[cast.powder]
        wet = cast.predictions["wet_strength_mpa"]
        marks += [Line([cast.cost, cast.cost], [wet.low, wet.high], colour="dark grey", width=2.5),
                  Marker(cast.cost, wet.value, shape=shape, colour=colour, size=15),
                  Text(cast.cost, wet.value, SHORT[cast.powder], anchor="auto", right=13, bold=True)]
    for letter, pin in zip("ABC", kept):
        for cast in pin:
            wet = cast.predictions["wet_strength_mpa"].value
            marks += [Marker(cast.cost, wet, shape="diamond", colour="purple", hollow=True, size=11), Text(cast.cost, wet, letter, up=14, size=14)]
    worth = Panel("worth", (0.0, float(top)), (0.0, 60.0), x_label="cost of the cast (your money)", y_label="wet strength, 1 h (MPa)",
                  moving=tuple(marks))
    return Picture("price", (cost, worth), height=PICTURE_HEIGHT, words="Price. " + "; ".join(
        f"{SHORT[c.powder]} costs {money(c.cost)} and carries {with_unit(c.predictions['wet_strength_mpa'].value, 'MPa')} wet" for c in casts) + ".")
