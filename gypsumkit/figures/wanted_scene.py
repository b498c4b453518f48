"""Recipes wanted: one row a powder, a bar of ratios for each wish, and below them the ratios that meet all."""

from gypsumkit.figures.scene import Panel, Picture, Polygon, Rule, Scene, Table, Text
from gypsumkit.powders import POWDERS
from gypsumkit.showing import rounded

RATIO_RANGE = (0.10, 0.85)
RATIO_TICKS = (0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8)
# Fill, edge and hatching of each wish, and the letter before its bar.
LOOKS = {"pours": ("P", "pale sky", "blue", "rising"), "set": ("T", "pale orange", "vermillion", "level"),
         "strength": ("S", "pale grey", "black", "falling"), "expansion": ("E", "pale purple", "purple", "upright")}
NAMES = {"pours": "it pours", "set": "it sets in time", "strength": "it is strong enough", "expansion": "it grows little enough"}
SHORT = {"pours": "pours", "set": "in time", "strength": "strong", "expansion": "little growth"}
ROW_HEIGHT = 104

LIMITS = ("Limits: the predictions are those of the other pictures, with their limits: constants chosen by us, a strength line that meets nine "
          "handbook values from memory within 18 %. “Certain” uses the unfavourable end of each plausible range; it is no guarantee. A real "
          "product differs: follow its maker, and make a test mix. For teaching only.")


def wanted_scene(wishes, found):
    """Describe which recipes meet a set of wishes.

    Parameters
    ----------
    wishes : gypsumkit.studies.wanted.Wishes
        What is wanted.
    found : sequence of gypsumkit.studies.wanted.Windows
        One for each powder.

    Returns
    -------
    gypsumkit.figures.scene.Scene
    """
    picture = Picture("wanted", (_panel(wishes, found),), words=f"One row a powder; bars of the ratios that meet each wish. {_in_short(found)}",
                      height=110 + ROW_HEIGHT * len(found))
    return Scene((picture,), wanted_words(wishes, found), _numbers(wishes, found))


def wish_words(wishes):
    """Say what is wanted, such as "it pours, sets within 12 min"."""
    said = []
    if wishes.pours:
        said.append("pours")
    if wishes.set_within_min is not None:
        said.append(f"sets within {wishes.set_within_min:g} min (heavy needle)")
    if wishes.strength_mpa is not None:
        said.append(f"carries {wishes.strength_mpa:g} MPa " + ("dry" if wishes.dried else "wet at 1 h"))
    if wishes.expansion_percent is not None:
        said.append(f"grows by {wishes.expansion_percent:g} % at most")
    return ", ".join(said)


def window_words(windows):
    """Say windows of ratios, such as "0.260 to 0.300"; "none" when there is none."""
    return " and ".join(f"{low:.3f} to {high:.3f}" for low, high in windows) or "none"


def wanted_words(wishes, found):
    """Say which powders meet the wishes, and what is in the way of the others.

    Parameters
    ----------
    wishes : Wishes
    found : sequence of Windows

    Returns
    -------
    str
    """
    return " ".join([f"Wanted: a mix that {wish_words(wishes)}.", *(_powder_words(wishes, one) for one in found)])


def _powder_words(wishes, one):
    name = f"{one.powder[0].upper()}{one.powder[1:]}"
    if one.all:
        sure = f"certainly {window_words(one.surely)}" if one.surely else "but no ratio is certain: the plausible ranges reach beyond"
        doubt = "" if one.trusted else "; a part of it is extrapolated"
        return f"{name}: ratio {window_words(one.all)}, {sure}{doubt}."
    if one.relaxed:
        return f"{name}: no ratio meets all. One wish would have to give way: {' or '.join(_relaxed_words(wishes, relaxed) for relaxed in one.relaxed)}."
    return f"{name}: no ratio meets all, and giving up one wish is not enough; nearest comes {one.nearest:.3f}."


def _relaxed_words(wishes, relaxed):
    at = f"at ratio {relaxed.ratio:.3f}"
    if relaxed.wish == "pours":
        return f"it does not pour, {at}"
    wanted, unit = {"set": (wishes.set_within_min, "min"), "strength": (wishes.strength_mpa, "MPa"), "expansion": (wishes.expansion_percent, "%")}[relaxed.wish]
    said = next((text for text in (rounded(relaxed.to, digits) for digits in (3, 4, 5)) if float(text) != wanted), f"almost {wanted:g}")
    return f"{said} {unit} instead of {wanted:g} {unit}, {at}"


def _in_short(found):
    meeting = [one.powder for one in found if one.all]
    return f"All wishes are met with {', '.join(meeting)}." if meeting else "No powder meets all wishes."


def _numbers(wishes, found):
    asked = wishes.asked()
    rows = tuple((one.powder, *(window_words(one.by_wish[wish]) for wish in asked), window_words(one.all), window_words(one.surely)) for one in found)
    return Table(("ratio, mL/g", *(NAMES[wish] for wish in asked), "all, by value", "all, certain"), rows, "Ratios that meet the wishes")


def _bar(low, high, y, height, fill, edge, hatch, width=1.5):
    # A window that is almost a point still shows.
    low, high = (low, high) if high - low > 0.003 else ((low + high) / 2 - 0.0015, (low + high) / 2 + 0.0015)
    return Polygon([low, high, high, low], [y, y, y + height, y + height], fill=fill, edge=edge, hatch=hatch, width=width)


def _row_name(powder):
    """The powder, with its usual ratios where there is room for them."""
    usual = POWDERS[powder].recommended_ratio
    with_usual = f"{powder}, usually {usual.low:.2f} to {usual.high:.2f}"
    return with_usual if len(with_usual) <= 44 else powder if len(powder) <= 44 else powder[:43] + "…"


def _panel(wishes, found):
    asked, marks, rows = wishes.asked(), [], len(found)
    thin = 0.44 / max(len(asked), 1)
    for row, one in enumerate(found):
        bottom = rows - 1.0 - row
        marks.append(Text(RATIO_RANGE[0], bottom + 0.9, _row_name(one.powder), anchor="start", right=4, size=14.5))
        for place, wish in enumerate(asked):
            letter, fill, edge, hatch = LOOKS[wish]
            y = bottom + 0.78 - (place + 1) * thin
            marks.append(Text(RATIO_RANGE[0], y + thin / 2, letter, anchor="start", right=5, size=12))
            marks += [_bar(low, high, y, 0.8 * thin, fill, edge, hatch) for low, high in one.by_wish[wish]]
        marks.append(Text(RATIO_RANGE[0], bottom + 0.2, "all", anchor="start", right=5, size=14, bold=True))
        marks += [_bar(low, high, bottom + 0.1, 0.2, "pale green", "green", "", 3) for low, high in one.all]
        marks += [_bar(low, high, bottom + 0.1, 0.2, "pale green", "green", "crossed", 3) for low, high in one.surely]
        if not one.all:
            marks.append(Text(RATIO_RANGE[0] + 0.08, bottom + 0.2, "no ratio meets all", anchor="start", size=14))
    lines = tuple(Rule(y=float(row), colour="dark grey", width=1, dash="solid") for row in range(1, rows))
    legend = ", ".join(f"{LOOKS[wish][0]} {SHORT[wish]}" for wish in asked)
    return Panel("wanted", RATIO_RANGE, (0.0, float(rows)), title="Recipes wanted", x_label="water/powder ratio (mL/g); crossed bar: certain",
                 y_label=legend, x_ticks=RATIO_TICKS, y_ticks=(), backdrop=lines, moving=tuple(marks))
