"""Plan a session: a form over the plan, its tables, its chart, and a button that writes the printed card and the sheet."""

import html

from gypsumkit.bench.plan import FIRST, LIMITS, plan_session
from gypsumkit.bench.plan_words import COST_SHORT, card_name, cost_cells, fit_words, moment_rows, order_rows, plan_lines, plan_sheet
from gypsumkit.bench.prices import INVENTED_PER_KG
from gypsumkit.figures.plan_scene import plan_scene
from gypsumkit.figures.weigh_card import PAPERS, weigh_card_pdf
from gypsumkit.files import unused, write_new, writing_into
from gypsumkit.launch.workspace import work_folder
from gypsumkit.live.block import Block, paragraphs, text_area
from gypsumkit.live.form import buttons_row, chooser, field, fields_box, heading, press, style, table, tick
from gypsumkit.live.live_picture import LivePicture
from gypsumkit.powders import MIXING_METHODS, POWDERS, find_powder
from gypsumkit.problems import Problem, nearest

INTRODUCTION = "Type what your class needs; the plan follows. Numbers may have a decimal comma and a unit. An empty field takes the usual value."
STALE = "The plan below is still the one before."

# Fields by the names of `bench.plan.Session`: what it is, an example, what stands in it at first.
CLASS = {
    "students": ("Students", "24", "12"),
    "casts": ("Casts of each student", "1", "1"),
    "group_size": ("Students at one bowl", "2", "2"),
    "casts_per_mix": ("Casts from one bowl", "1", "1"),
    "session_min": ("Length of the session (min)", "90 min", "90"),
}
MIX = {
    "water_powder_ratio": ("Water/powder ratio (mL/g)", "recommended", ""),
    "cast_volume_cm3": ("Volume of one cast (cm³)", "60 cm³", "60"),
    "powder_g": ("or powder for one cast (g)", "100 g", ""),
    "waste_percent": ("Waste (%)", "10 %", "10"),
    "turns": ("Turns of the spatula, by hand", "180", ""),
    "water_temperature_c": ("Water temperature (°C)", "23 °C", ""),
    "product_says_min": ("The product says: separate at (min)", "45 min", ""),
}
TOOLS = {
    "vibrators": ("Vibrators", "1", "1"),
    "scales": ("Scales", "2", "2"),
    "mixers": ("Mixing machines", "1", "1"),
    "scale_step_g": ("Step of the scale (g)", "1 g", "1"),
    "cylinder_step_ml": ("Step of the cylinder (mL)", "1 mL", "1"),
    "bag_kg": ("Powder in a bag (kg)", "5 kg", "5"),
    "pour_min": ("To pour one cast (min)", "1 min", "1"),
}


class PlanPanel(Block):
    """What is asked of a session, and the plan that answers it.

    Parameters
    ----------
    powder : str
        The powder at first.
    mixing : str
        The way of mixing at first.
    **typed
        What stands in the fields at first, by the names of `Session`.
    """

    def __init__(self, powder="dental stone", mixing="spatulated by hand", **typed):
        known = {**CLASS, **MIX, **TOOLS}
        for name in typed:
            if name not in known:
                guess = nearest(name, known)
                raise Problem(f"This form has no field called '{name}'; " + (f"did you mean '{guess}'?" if guess else f"it has {', '.join(known)}."))
        if "powder_g" in typed and "cast_volume_cm3" not in typed:
            typed["cast_volume_cm3"] = ""
        self.fields = {name: field(words, example, str(typed.get(name, at_first))) for name, (words, example, at_first) in known.items()}
        self.powder = chooser("Powder", tuple(POWDERS), find_powder(powder).name)
        self.mixing = chooser("Mixing", tuple(MIXING_METHODS), mixing)
        self.ring_test = tick("a ring is filled and lifted", True)
        self.separate_later = tick("casts are separated another day")
        self.prices = {name: field(f"{name[0].upper()}{name[1:]}", f"{INVENTED_PER_KG[name]:.2f} (invented)" if name in INVENTED_PER_KG else "no price")
                       for name in POWDERS}
        self.paper = chooser("Paper of the card", tuple(PAPERS), "A4")
        self.write_button = press("Write card and sheet into my work folder")
        self.tables, self.minutes = text_area(), text_area()
        self.plan = self.planned()
        self.picture = LivePicture(plan_scene(self.plan))
        super().__init__()
        self.add_class("gypsumkit-explorer")
        self.children = (
            style(), text_area(paragraphs(INTRODUCTION)), heading("Class"), self._box(CLASS, self.separate_later),
            heading("Mix"), fields_box(self.powder, self.mixing, *(self.fields[name] for name in MIX), self.ring_test), heading("Tools"), self._box(TOOLS),
            heading("Your own prices of 1 kg, in your own money"), fields_box(*self.prices.values()), self.message, self.tables, self.picture, self.minutes,
            fields_box(self.paper), buttons_row(self.write_button), text_area(f"<p><em>{html.escape(LIMITS)}</em></p><p><strong>{html.escape(FIRST)}.</strong></p>"))
        self._tell()
        for control in (*self.fields.values(), *self.prices.values(), self.powder, self.mixing, self.ring_test, self.separate_later):
            control.observe(self.guard(self.update), "value")
        self.write_button.on_click(self.guard(self.write))

    def _box(self, names, *more):
        return fields_box(*(self.fields[name] for name in names), *more)

    # What the reader does -----------------------------------------------------------------------

    def planned(self):
        """Return the plan of what stands in the form.

        Raises
        ------
        Problem
            When something in it cannot be.
        """
        asked = {name: control.value for name, control in self.fields.items() if control.value.strip()}
        if "students" not in asked:
            raise Problem("Type how many students come.")
        prices = {name: control.value for name, control in self.prices.items() if control.value.strip()}
        return plan_session(**asked, powder=self.powder.value, mixing=self.mixing.value, ring_test=self.ring_test.value,
                            separate_later=self.separate_later.value, prices=prices)

    def update(self):
        """Show the plan of what stands in the form; while something in it cannot be, the plan before stays and that is said."""
        try:
            self.plan = self.planned()
        except Problem as problem:
            raise Problem(f"{problem} {STALE}") from None
        self.picture.show(plan_scene(self.plan))
        self._tell()

    def write(self):
        """Write the card and the sheet into the work folder under names that are free, and say where.

        Raises
        ------
        Problem
            When something in the form cannot be, or the folder cannot be written.
        """
        plan, folder, paper = self.planned(), work_folder(), self.paper.value
        with writing_into(folder, "your work folder"):
            folder.mkdir(parents=True, exist_ok=True)
        written = []
        for name, content in ((card_name(plan, paper), weigh_card_pdf(plan, paper)), ("session-plan.csv", plan_sheet(plan))):
            path = unused(folder / name)
            write_new(path, content)
            written.append(path.name)
        self.show_message(f"Written into {folder}: {' and '.join(written)}.")

    def _tell(self):
        plan = self.plan
        said = "".join(f"<p>{html.escape(sentence)}</p>" for sentence in (fit_words(plan), *plan.notes))
        self.tables.value = _as_wide_as_the_page(
            table("Order and weigh", ("What", "How much"), order_rows(plan))
            + table("Each mix, from the start of mixing", ("What", "When"), moment_rows(plan))
            + table("The same casts of other powders", COST_SHORT, cost_cells(plan), by_key=True) + said)
        rows = [(str(minute), "; ".join(does)) for minute, does in plan.minutes()]
        self.minutes.value = _as_wide_as_the_page("<details><summary>Minute by minute</summary>"
                                                  + table("Minutes from the beginning of the session", ("Minute", "What begins"), rows) + "</details>")

    # What it says and stores ----------------------------------------------------------------------

    def words(self):
        """Return the plan in plain words."""
        return "\n".join([INTRODUCTION, *(line.rstrip() for line in plan_lines(self.plan) if line.strip())])

    def picture_png(self):
        """Return the chart as PNG bytes."""
        return self.picture.static_png()


def _as_wide_as_the_page(content):
    # A wide table must not widen what stands beside it: it scrolls by itself.
    return f'<div style="width:0;min-width:100%">{content}</div>'
