"""`python3 -m gypsumkit predict`: what a mix will do, as a table or as JSON."""

import json
import sys

from gypsumkit.commands.printing import Parser, printed
from gypsumkit.conditions import ADDITIVES, POWDER_STATES
from gypsumkit.mix import QUANTITIES, SETTING_QUANTITIES, Mix, consistency
from gypsumkit.powders import MIXING_METHODS, POWDERS, ROOM_C
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe, read_ratio
from gypsumkit.showing import rounded, with_unit


def _parser():
    parser = Parser(prog="python3 -m gypsumkit predict", allow_abbrev=False,
                    description="Predict flow, porosity, density and strength of a gypsum mix from its recipe. "
                                "For teaching; no patient decision rests on it.")
    parser.add_argument("--powder", required=True, metavar="NAME", help="one of: " + ", ".join(POWDERS))
    parser.add_argument("--water-powder-ratio", nargs="+", action="extend", metavar="RATIO",
                        help="mL water per g powder, one or several: 0.50, or '50 mL per 100 g'")
    parser.add_argument("--powder-g", metavar="G", help="weighed powder, g (with --water-ml, instead of a ratio)")
    parser.add_argument("--water-ml", metavar="ML", help="measured water, mL")
    parser.add_argument("--mixing", default="spatulated by hand", metavar="NAME", help="one of: " + ", ".join(MIXING_METHODS))
    parser.add_argument("--water-temperature-c", default=str(ROOM_C), metavar="C", help="temperature of the water, 2 to 98")
    parser.add_argument("--turns", metavar="N", help="turns of the spatula, by hand, 20 to 300")
    parser.add_argument("--additive", default="none", metavar="NAME", help="one of: " + ", ".join(ADDITIVES))
    parser.add_argument("--additive-percent", default="0", metavar="PERCENT", help="%% of the powder's mass")
    parser.add_argument("--powder-state", default="fresh", metavar="NAME", help="one of: " + ", ".join(POWDER_STATES))
    parser.add_argument("--time-min", metavar="MIN", help="moment for the flow, min from the start of mixing")
    parser.add_argument("--json", action="store_true", help="print an object (a list for several ratios)")
    return parser


def _recipes(options):
    conditions = {name: getattr(options, name) for name in ("mixing", "water_temperature_c", "turns", "additive", "additive_percent",
                                                            "powder_state")}
    weighed = options.powder_g is not None or options.water_ml is not None
    if weighed and options.water_powder_ratio:
        raise Problem("Give either --water-powder-ratio or --powder-g with --water-ml, not both.")
    if weighed:
        if options.powder_g is None or options.water_ml is None:
            raise Problem("--powder-g and --water-ml belong together; give both.")
        return [Recipe.weighed(options.powder, options.powder_g, options.water_ml, **conditions)]
    if not options.water_powder_ratio:
        raise Problem("Give the recipe: --water-powder-ratio, or --powder-g with --water-ml.")
    return [Recipe(options.powder, read_ratio(text), **conditions) for text in options.water_powder_ratio]


def _time(options):
    if options.time_min is None:
        return None
    try:
        time_min = float(options.time_min.replace(",", "."))
    except ValueError:
        time_min = float("nan")
    if not 0 <= time_min < 1e6:
        raise Problem(f"--time-min must be a number of minutes, 0 or more; '{options.time_min[:40]}' is not one.")
    return time_min


def _given(value, unit):
    return {"value": value, "unit": unit, "low": None, "high": None, "valid": True, "reason": "", "source": "given"}


def as_object(mix):
    """Return a mix as a plain object whose keys are quantity names.

    Parameters
    ----------
    mix : Mix

    Returns
    -------
    dict
    """
    recipe = mix.recipe
    given = {"powder": _given(recipe.powder, None), "water_powder_ratio": _given(recipe.water_powder_ratio, "mL/g"),
             "mixing": _given(recipe.mixing, None), "water_temperature_c": _given(recipe.water_temperature_c, "°C"),
             "time_min": _given(mix.time_min, "min"), "additive": _given(recipe.additive, None),
             "additive_percent": _given(recipe.additive_percent, "%"), "powder_state": _given(recipe.powder_state, None)}
    return {**given, **{name: prediction.as_dict() for name, prediction in mix.everything().items()}}


def as_table(mix):
    """Return a mix as lines of text: quantity, value, plausible range and, where needed, a warning.

    Parameters
    ----------
    mix : Mix

    Returns
    -------
    str
    """
    recipe = mix.recipe
    lines = [f"{recipe.powder}, {100 * recipe.water_powder_ratio:.4g} mL water per 100 g powder "
             f"(water/powder ratio {recipe.water_powder_ratio:.4g}), {recipe.mixing}, water at {recipe.water_temperature_c:g} °C",
             f"At {mix.time_min:g} min the mix {_sentence(consistency(mix.yield_stress_pa.value))}", ""]
    reasons = []
    predictions = mix.everything()
    for name, quantity in {**QUANTITIES, **SETTING_QUANTITIES}.items():
        p = predictions[name]
        mark = ""
        if not p.valid:
            if p.reason not in reasons:
                reasons.append(p.reason)
            mark = f"[{reasons.index(p.reason) + 1}]"
        span = "" if p.value is None or rounded(p.low, 3) == rounded(p.high, 3) \
            else f"{rounded(p.low, 3)} to {rounded(p.high, 3)}"
        lines.append(f"  {quantity.words:<44} {with_unit(p.value, p.unit, 3):>14}   {span:<18} {mark}".rstrip())
    lines.append("")
    lines.extend(f"  [{i}] {reason}" for i, reason in enumerate(reasons, 1))
    lines.append("  Second column of numbers: plausible range. For teaching; follow the maker's instructions for real work.")
    lines.append("  Sources: " + "; ".join(sorted({q.source for q in {**QUANTITIES, **SETTING_QUANTITIES}.values()})) + " (gypsumkit/sources.py).")
    return "\n".join(lines)


def _sentence(name):
    return {"pours": "pours.", "runny": "is runny.", "too stiff to pour": "is too stiff to pour.",
            "not predicted": "cannot be judged: the flow is not predicted."}[name]


def main(argv):
    """Run the command.

    Parameters
    ----------
    argv : list of str
        The words after `predict`.

    Returns
    -------
    int
        0, or 2 after a problem, which is printed as one sentence.
    """
    return printed(lambda: _text(argv), "The prediction")


def _text(argv):
    options = _parser().parse_args(argv)
    mixes = [Mix(recipe, _time(options)) for recipe in _recipes(options)]
    if not options.json:
        return "\n\n".join(as_table(mix) for mix in mixes)
    objects = [as_object(mix) for mix in mixes]
    return json.dumps(objects[0] if len(objects) == 1 else objects, indent=2, allow_nan=False)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
