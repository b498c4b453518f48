"""A planned session as a reader sees it: sentences, rows of tables, and a sheet for a spreadsheet."""

import re

from gypsumkit.bench.plan import FIRST, LIMITS
from gypsumkit.bench.sheets import sheet
from gypsumkit.conditions import HAND_TURNS
from gypsumkit.showing import rounded

COST_HEAD = ("Powder", "mL per 100 g", "Powder (kg)", "Bags", "Price of 1 kg", "Cost of the powder", "Cost of whole bags")
COST_SHORT = ("Powder", "Cost", "Needed")
SHEET_HEAD = ("Part", "From (min)", "To (min)", "Group", "Mix", "What", "At", "Amount", "Unit")


def counted(number, thing):
    """Return "1 cast" or "3 casts"."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}es" if thing.endswith("x") else f"{number} {thing}s"


def amount(value):
    """Return grams, millilitres or money per kg without needless digits."""
    return f"{value:.6g}"


def batch_words(batch):
    """Say what one bowl holds."""
    return (f"{amount(batch.powder_g)} g powder and {amount(batch.water_ml)} mL water, a ratio of {batch.water_powder_ratio:.3f} "
            f"({100 * batch.water_powder_ratio:.1f} mL per 100 g)")


def order_rows(plan):
    """Return what to order and to weigh.

    Parameters
    ----------
    plan : SessionPlan

    Returns
    -------
    list of (str, str)
        What, and how much.
    """
    asked = plan.session
    rows = [("Class", f"{counted(asked.students, 'student')} in {counted(len(asked.groups), 'group')}, {counted(asked.casts, 'cast')} each: "
                      f"{counted(asked.mixes, 'mix')} in all"),
            ("Order", f"{rounded(plan.powder_kg, 3)} kg {asked.powder}: {counted(plan.bags, 'bag')} of {amount(asked.bag_kg)} kg"),
            ("Water", f"{rounded(plan.water_l, 3)} L"),
            ("Volume of a cast", f"{rounded(plan.cast_volume_cm3, 3)} cm³ of mix, trapped air counted")]
    return rows + [(f"For {counted(batch.casts, 'cast')}", batch_words(batch)) for batch in plan.batches]


def moment_rows(plan):
    """Return when what happens to each mix, from the start of mixing.

    Parameters
    ----------
    plan : SessionPlan

    Returns
    -------
    list of (str, str)
        What, and when.
    """
    asked, moments = plan.session, plan.moments
    mixed = "by the machine" if asked.by_machine else f"{(asked.turns or HAND_TURNS[asked.mixing]):.0f} turns"
    rows = [("Mixed", f"at {amount(round(moments.mixed_min, 2))} min, {mixed}")]
    rows += [("Ring lifted", f"at {amount(round(moments.ring_min, 2))} min")] * asked.ring_test
    return rows + [
        ("Poured", f"by {amount(round(moments.poured_min, 2))} min; pours until about {rounded(moments.pours_until_min, 2)} min"),
        ("Loss of gloss", f"about {moments.gloss_loss_min:.0f} min"),
        ("Final set", f"about {moments.final_set_min:.1f} min"),
        ("Separate", f"not before {moments.separate_min} min ({moments.separate_why})"),
    ]


def cost_rows(plan):
    """Return the cells of the costs under `COST_HEAD`, powder by powder.

    Parameters
    ----------
    plan : SessionPlan

    Returns
    -------
    list of tuple of str
    """
    rows = []
    for cost in plan.costs:
        price, money, for_bags = ((f"{cost.price_per_kg:.2f}" + " (invented)" * cost.invented, f"{cost.money:.2f}", f"{cost.money_for_bags:.2f}")
                                  if cost.price_per_kg is not None else ("no price given", "not known", "not known"))
        rows.append((cost.powder + " (this plan)" * cost.planned, f"{100 * cost.water_powder_ratio:.3g}", f"{cost.powder_kg:.2f}", str(cost.bags),
                     price, money, for_bags))
    return rows


def cost_cells(plan):
    """Return the same in three cells under `COST_SHORT`, for a page that may be narrow.

    Parameters
    ----------
    plan : SessionPlan

    Returns
    -------
    list of tuple of str
    """
    rows = []
    for cost, (powder, per_100, kg, bags, price, money, for_bags) in zip(plan.costs, cost_rows(plan)):
        cost_words = price if cost.price_per_kg is None else f"{money}, at {price} for 1 kg; whole bags {for_bags}"
        rows.append((powder, cost_words, f"{kg} kg, {counted(cost.bags, 'bag')}, {per_100} mL per 100 g"))
    return rows


def fit_words(plan):
    """Say whether the session fits, and what would make it fit.

    Parameters
    ----------
    plan : SessionPlan

    Returns
    -------
    str
    """
    length = f"{plan.session.session_min:g} min"
    if plan.fits:
        return f"The session takes {plan.end_min} min and fits into {length}."
    *remedies, unchanged = plan.remedies
    said = "; ".join(f"{remedy.words} ({remedy.end_min} min)" for remedy in remedies)
    return (f"The session takes {plan.end_min} min and does not fit into {length}. "
            + (f"It would fit with one of these: {said}." if remedies else "No small change makes it fit: plan fewer students or a longer session."))


def plan_lines(plan, with_minutes=True):
    """Return the whole plan as lines of text.

    Parameters
    ----------
    plan : SessionPlan
    with_minutes : bool
        False leaves the minutes out.

    Returns
    -------
    list of str
    """
    def table(rows):
        return [f"  {name:<18} {value}" for name, value in rows]
    widths = [max(len(row[column]) for row in (COST_HEAD, *cost_rows(plan))) for column in range(len(COST_HEAD))]
    costs = ["  " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths)).rstrip() for row in (COST_HEAD, *cost_rows(plan))]
    ratio = plan.session.water_powder_ratio
    lines = [f"Session with {plan.session.powder}, {100 * ratio:.4g} mL water per 100 g powder, {plan.session.mixing}", "",
             "Order and weigh", *table(order_rows(plan)), "", "Each mix, from the start of mixing", *table(moment_rows(plan)), "",
             "The same casts of other powders, in your own money", *costs, "", fit_words(plan), *plan.notes]
    if with_minutes:
        lines += ["", "When powder meets water, minutes from the beginning of the session"]
        lines += [f"  {f'group {group}':<10}{', '.join(map(str, minutes))}" for group, minutes in plan.beginnings()]
        lines += ["", "Minute by minute, from the beginning of the session"]
        for minute, does in plan.minutes():
            lines += [f"  {minute:>4}  {does[0]}", *(f"        {each}" for each in does[1:])]
    return [*lines, "", LIMITS, FIRST + "."]


def plan_sheet(plan):
    """Return order list, costs and timetable as one table for a spreadsheet.

    Parameters
    ----------
    plan : SessionPlan

    Returns
    -------
    bytes
        Comma-separated text.
    """
    asked, moments = plan.session, plan.moments

    def row(part, what, number, unit, at=""):
        return part, None, None, None, None, what, at, number, unit
    rows = [row("order", asked.powder, round(plan.powder_kg, 3), "kg"), row("order", f"bags of {amount(asked.bag_kg)} kg", plan.bags, "bags"),
            row("order", "water", round(plan.water_l, 3), "L")]
    for batch in plan.batches:
        bowl = f"for {counted(batch.casts, 'cast')}"
        rows += [row("weigh", f"powder {bowl}", batch.powder_g, "g"), row("weigh", f"water {bowl}", batch.water_ml, "mL"),
                 row("weigh", f"ratio {bowl}", round(batch.water_powder_ratio, 4), "mL/g")]
    for cost in plan.costs:
        if cost.money is not None:
            rows.append(row("cost", cost.powder, round(cost.money, 2), "money, price invented" if cost.invented else "money", f"{cost.powder_kg:.3f} kg"))
    rows += [row("mix", name, round(value, 1), "min from the start of mixing") for name, value in (
        ("pours until, predicted", moments.pours_until_min), ("loss of gloss, predicted", moments.gloss_loss_min),
        ("final set, predicted", moments.final_set_min), ("separate not before", moments.separate_min))]
    rows += [("timetable", round(entry.begin_min, 2), round(entry.end_min, 2), entry.group, entry.mix or None, entry.does, entry.with_machine, None, None)
             for entry in plan.timetable]
    return sheet(SHEET_HEAD, [*rows, row("note", LIMITS, None, None), row("note", FIRST, None, None)])


def card_name(plan, paper):
    """Return the file name of a card: powder and paper, in letters that every disk takes.

    Parameters
    ----------
    plan : SessionPlan
    paper : str

    Returns
    -------
    str
    """
    return f"weigh-card-{re.sub(r'[^A-Za-z0-9]+', '-', plan.session.powder).strip('-').lower() or 'powder'}-{paper}.pdf"
