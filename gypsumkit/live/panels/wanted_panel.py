"""Recipes wanted: the reader says what a mix should do, and sees which ratios of which powder do it; and how much to weigh."""

from gypsumkit.conditions import HAND_TURNS, Conditions
from gypsumkit.figures.wanted_scene import LIMITS, wanted_scene
from gypsumkit.live.block import Block, bar, paragraphs, text_area
from gypsumkit.live.form import buttons_row, chooser, field, fields_box, heading, press, style, tick
from gypsumkit.live.live_picture import LivePicture
from gypsumkit.powders import MIXING_METHODS, POWDERS, find_powder
from gypsumkit.problems import Problem
from gypsumkit.showing import rounded
from gypsumkit.studies.wanted import checked_wishes, powder_for, recipes_wanted, water_for
from gypsumkit.units import find_unit, read_number

INTRODUCTION = "Type what the mix should do; leave empty what does not matter. The picture shows the water/powder ratios that do it."


class WantedPanel(Block):
    """Wishes, the ratios that meet them, and amounts for what is there already.

    Parameters
    ----------
    set_within, strength, expansion : str
        Wishes that stand typed at first, such as "12 min", "30 MPa", "0.1 %"; empty for what does not matter.
    powder : str
        The powder of the amounts, at first.
    """

    def __init__(self, set_within="12 min", strength="30 MPa", expansion="", powder="model plaster"):
        self.pours = tick("it pours", True)
        self.set_within = field("Final set within (min)", "12 min", set_within)
        self.strength = field("Strength, at least (MPa)", "30 MPa", strength)
        self.dried = chooser("Tested", (("wet, 1 h", False), ("dry", True)), False)
        self.expansion = field("Expansion at 2 h, at most (%)", "0,10 %", expansion)
        self.mixing = chooser("Mixing", tuple(MIXING_METHODS), "spatulated by hand")
        self.turns = field("Turns of the spatula, by hand", "180")
        self.look_button = press("Look for recipes")
        self.powder = chooser("Powder", tuple(POWDERS), find_powder(powder).name)
        self.water, self.left = field("Water already in the bowl (mL)", "60 mL"), field("Powder that is left (g)", "80 g")
        self.step = field("Step of the scale or the cylinder (g or mL)", "1", "1")
        self.amount_button = press("How much?")
        self.amounts, self.amount_words = text_area(), ""
        self.picture = LivePicture(self.scene())
        super().__init__([
            style(), text_area(paragraphs(INTRODUCTION)),
            fields_box(self.pours, self.set_within, self.strength, self.dried, self.expansion, self.mixing, self.turns), buttons_row(self.look_button)])
        self.children = (*self.children, self.picture, heading("Something is there already"), fields_box(self.powder, self.water, self.left, self.step),
                         buttons_row(self.amount_button), self.amounts, text_area(f"<p><em>{LIMITS}</em></p>"))
        self.look_button.on_click(self.guard(self.look))
        self.amount_button.on_click(self.guard(self.how_much))

    # What the reader does -----------------------------------------------------------------------

    def scene(self):
        """Return the scene of what is wanted.

        Raises
        ------
        Problem
            When a wish cannot be read, or nothing is wanted.
        """
        wishes = checked_wishes(self.pours.value, _typed(self.set_within, "min"), _typed(self.strength, "MPa"), self.dried.value, _typed(self.expansion, "%"))
        turns = _typed(self.turns, None)
        if turns is not None and self.mixing.value not in HAND_TURNS:
            raise Problem(f"Turns are counted for mixing by hand; {self.mixing.value} has its own speed: leave the turns empty.")
        return wanted_scene(wishes, recipes_wanted(wishes, Conditions(mixing=self.mixing.value, turns=turns)))

    def look(self):
        """Show the recipes that are wanted."""
        self.picture.show(self.scene())

    def how_much(self):
        """Say how much powder or water goes with what is there.

        Raises
        ------
        Problem
            When nothing or both are typed, or a number cannot be read.
        """
        water, left = _typed(self.water, "mL"), _typed(self.left, "g")
        step = _typed(self.step, "g" if left is None else "mL")
        if (water is None) == (left is None):
            raise Problem("Type either the water that is in the bowl or the powder that is left, not both." if water is not None
                          else "Type the water that is in the bowl, or the powder that is left.")
        step, name = 1.0 if step is None else step, self.powder.value
        found = powder_for(name, water, step_g=step) if left is None else water_for(name, left, step_ml=step)
        there = f"{rounded(water, 3)} mL of water are in the bowl" if left is None else f"{rounded(left, 3)} g of powder are left"
        pours = f"{found.least:g} to {found.most:g} {found.unit} pour" if found.least <= found.most else f"no whole step of {step:g} {found.unit} pours"
        self.amount_words = (f"{name[0].upper()}{name[1:]}: {there}. Take {found.amount:g} {found.unit} {'of powder' if left is None else 'of water'} "
                             f"(ratio {found.ratio:.3g}, recommended {find_powder(name).recommended_ratio.value:.3g}); {pours}. "
                             + ("Always put powder into water." if left is None else "Put the water into the bowl first, the powder into it."))
        self.amounts.value = bar("told", "i", self.amount_words)

    def words(self):
        """Return the recipes and amounts in words, with their limits."""
        return "\n".join([INTRODUCTION, self.picture.words(), *([self.amount_words] if self.amount_words else []), LIMITS])

    def picture_png(self):
        """Return the picture as PNG bytes."""
        return self.picture.static_png()


def _typed(control, unit):
    """Return what was typed as a number in a unit, None when the field is empty."""
    if not control.value.strip():
        return None
    try:
        quantity = read_number(control.value if unit else control.value.strip().removesuffix("turns"), f"12 {unit}" if unit else "180")
        if unit is None:
            if quantity.unit is not None:
                raise Problem(f"{quantity.unit_typed} is {quantity.unit.kind}; turns are counted and have no unit: write it like 180.")
            return quantity.number
        return quantity.in_unit(find_unit(unit))
    except Problem as problem:
        raise Problem(f"{control.description}: {problem}") from None
