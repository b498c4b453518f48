"""`python3 -m gypsumkit plan`: a session at the bench, as text or as JSON, with its printed card and its sheet."""

import json
import sys
from dataclasses import asdict
from pathlib import Path

from gypsumkit.bench.plan import FIRST, plan_session
from gypsumkit.bench.plan_words import card_name, fit_words, plan_lines, plan_sheet
from gypsumkit.commands.printing import Parser, printed
from gypsumkit.files import write_new
from gypsumkit.powders import MIXING_METHODS, POWDERS, find_powder
from gypsumkit.problems import Problem

NUMBERS = {                          # option, what it is; the names are those of `bench.plan.Session`
    "casts": "casts of each student; 1 when not given",
    "powder_g": "powder weighed for one cast, g",
    "cast_volume_cm3": "or the volume of the impression or cast, cm3",
    "waste_percent": "%% of the powder: of a volume, what stays in the bowl; of a weight, what is spilt; 10 when not given",
    "bag_kg": "powder in a bag, kg; 5 when not given",
    "group_size": "students at one bowl; 2 when not given",
    "casts_per_mix": "casts poured from one bowl; 1 when not given",
    "vibrators": "how many there are; 1 when not given",
    "mixers": "mixing machines; 1 when not given",
    "scales": "how many there are; 1 when not given",
    "session_min": "length of the session, min; 90 when not given",
    "product_says_min": "when the product's instructions let a cast be separated, min",
    "pour_min": "to vibrate and pour one cast, min; 1 when not given",
    "scale_step_g": "what the scale reads, g; 1 when not given",
    "cylinder_step_ml": "what the cylinder reads, mL; 1 when not given",
    "turns": "turns of the spatula, by hand",
    "water_temperature_c": "temperature of the water; 23 when not given",
    "room_temperature_c": "temperature of the room; 23 when not given",
}


def _parser():
    parser = Parser(prog="python3 -m gypsumkit plan", allow_abbrev=False,
                    description=f"Plan a session at the bench: what to order, weigh and pay, and who does what in which minute. {FIRST}.")
    parser.add_argument("--students", required=True, metavar="N", help="in the class")
    parser.add_argument("--powder", default="dental stone", metavar="NAME", help="one of: " + ", ".join(POWDERS) + "; dental stone when not given")
    parser.add_argument("--water-powder-ratio", metavar="RATIO", help="mL water per g powder: 0.30, or '30 mL per 100 g'; the recommended one when not given")
    for name, what in NUMBERS.items():
        parser.add_argument("--" + name.replace("_", "-"), metavar="N", help=what)
    parser.add_argument("--mixing", metavar="NAME", help="one of: " + ", ".join(MIXING_METHODS))
    parser.add_argument("--no-ring-test", dest="ring_test", action="store_false", default=None, help="no ring is filled and lifted")
    parser.add_argument("--separate-later", action="store_true", default=None, help="the casts are separated another day")
    parser.add_argument("--price", action="append", default=[], metavar="'NAME=PRICE'", help="your own price of one kg, such as 'dental stone=2,40'; may be repeated")
    parser.add_argument("--card", metavar="FOLDER", help="also write the weigh-and-measure card into this folder, as PDF")
    parser.add_argument("--paper", default="A4", metavar="NAME", help="paper of the card: A4 or Letter; A4 when not given")
    parser.add_argument("--sheet", metavar="FILE", help="also write order list and timetable into this new table (CSV) for a spreadsheet")
    parser.add_argument("--json", action="store_true", help="print an object")
    return parser


def _prices(written):
    prices = {}
    for one in written:
        powder, equals, price = one.rpartition("=")
        if not equals or not powder.strip():
            raise Problem(f"A price is written as 'dental stone=2.40', what one kg costs; '{one[:40]}' is not.")
        name = find_powder(powder).name
        if name in prices:
            raise Problem(f"Two prices are given for {name}; give one.")
        prices[name] = price
    return prices


def as_object(plan):
    """Return a plan as a plain object.

    Parameters
    ----------
    plan : SessionPlan

    Returns
    -------
    dict
    """
    def told(rows):
        return [row._asdict() for row in rows]
    return {
        "asked": asdict(plan.session), "cast_volume_cm3": plan.cast_volume_cm3, "bowls": told(plan.batches),
        "order": {"powder": plan.session.powder, "powder_kg": plan.powder_kg, "bags": plan.bags, "water_l": plan.water_l},
        "costs": told(plan.costs), "moments": plan.moments._asdict(), "turns": told(plan.turns), "timetable": told(plan.timetable),
        "end_min": plan.end_min, "fits": plan.fits, "remedies": told(plan.remedies), "said": fit_words(plan), "notes": [*plan.notes, FIRST + "."],
    }


def _text(argv):
    options = _parser().parse_args(argv)
    given = {name: value for name, value in vars(options).items()
             if value is not None and name not in ("price", "card", "paper", "sheet", "json")}
    plan = plan_session(**given, prices=_prices(options.price))
    files = []
    if options.card is not None:
        from gypsumkit.figures.weigh_card import paper_named, weigh_card_pdf
        paper = paper_named(options.paper)
        files.append((Path(options.card).expanduser() / card_name(plan, paper), weigh_card_pdf(plan, paper)))
    if options.sheet is not None:
        files.append((Path(options.sheet).expanduser(), plan_sheet(plan)))
    for path, content in files:
        write_new(path, content)
    if options.json:
        return json.dumps(as_object(plan), indent=2, allow_nan=False)
    return "\n".join([*plan_lines(plan), *(f"Written: {path}" for path, _ in files)])


def main(argv):
    """Run the command.

    Parameters
    ----------
    argv : list of str
        The words after `plan`.

    Returns
    -------
    int
        0, or 2 after a problem, which is printed as one sentence.
    """
    return printed(lambda: _text(argv), "The plan")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
