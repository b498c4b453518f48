"""The glossary: each term in plain words, what it is called elsewhere, its unit, and the lesson that introduces it.

The way through this file: the terms of the tables "Words you need", the terms that stand in the text of a lesson only, and a
search that reads words as people type them. What a term is called elsewhere is common practice, from memory.
"""

import difflib
import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from gypsumkit.problems import Problem, nearest


@dataclass(frozen=True)
class Term:
    """One term of the course.

    Parameters
    ----------
    name : str
        As it stands in the table of its lesson.
    lesson : str
        Number of the lesson that introduces it.
    meaning : str
        In plain words.
    also : tuple of str
        What it, or a part of it, is called elsewhere.
    unit : str
        Of its number, where it has one.
    """

    name: str
    lesson: str
    meaning: str
    also: tuple = ()
    unit: str = ""

    @property
    def others(self):
        """The names used elsewhere that its own name does not hold already."""
        own = self.name.casefold()
        held = {own, *own.split(", ")}
        return tuple(one for one in self.also if one.casefold() not in held and one.casefold().removesuffix("s") not in held)

    def cells(self):
        """Return the term as texts: name, meaning, other names, unit, lesson."""
        return self.name, self.meaning, ", ".join(self.others), self.unit, self.lesson


HEADS = ("Term", "plain meaning", "also called", "unit", "lesson")

TERMS = (
    Term("abutment", "09", "A tooth that carries a bridge. A bridge is a fixed piece that replaces missing teeth."),
    Term("accelerator, retarder", "08", "A substance that makes a mix set faster, or more slowly.", also=("accelerator", "retarder")),
    Term("addition silicone, condensation silicone, polyether", "13", "Three impression materials like rubber. The first gives off nothing that shrinks it, the second gives off alcohol, the third swells in water.", also=("A-silicone", "polyvinyl siloxane (PVS)", "vinyl polysiloxane (VPS)", "C-silicone", "elastomers")),
    Term("alginate", "13", "An impression material, a gel of much water.", also=("irreversible hydrocolloid",)),
    Term("alginate, silicone", "10", "Two soft materials for impressions: a wet gel, and a rubber.", also=("elastic impression materials",)),
    Term("base", "13", "The lower part of a cast, which has no teeth. Often it is added as a second part of the pour.", also=("second pour",)),
    Term("to beat", "12", "One choice beats another when it is no worse in all four (strength, growth, time, cost) and better in at least one.", also=("to dominate",)),
    Term("beating", "07", "Stirring fast, as one beats an egg. It brings air in.", also=("whipping",)),
    Term("bit", "10", "One question with yes or no that halves the suspects. Four equal suspects are 2 bits of doubt.", also=("unit of information",), unit="bit"),
    Term("bound", "14", "A number that the truth cannot pass. An upper bound is the most, a lower bound the least."),
    Term("bound water", "01", "Water that is a part of the crystals: 18.6 g for 100 g of powder. It does not dry off at room temperature.", also=("combined water",), unit="g"),
    Term("cast", "00", "A copy of teeth in set gypsum, or another set piece. The model that computes is something else: the formulas behind the pictures.", also=("model", "dental cast", "dental model")),
    Term("casting shrinkage", "15", "How much smaller an alloy becomes from just solid to cold."),
    Term("cause", "10", "What was done wrong, and leads to the sign."),
    Term("chain in balance", "12", "All other steps (impression, wax, metal) bring the size back to that of the tooth. Then the stone should hardly grow."),
    Term("to chalk", "14", "To become white and dusty at the surface."),
    Term("check", "10", "One thing that you do to tell suspects apart."),
    Term("compressive strength", "05", "The pressure that crushes a piece. Its unit is the megapascal, MPa. 1 MPa is 1 newton on each square millimetre, about the weight of 100 g on 1 mm².", also=("crushing strength",), unit="MPa"),
    Term("confidence band", "11", "The band in which a fitted line may lie, 95 times in 100.", also=("confidence interval",)),
    Term("consistency", "02", "How stiff or how runny a mix is.", also=("fluidity",)),
    Term("contraction", "04", "The loss of room when powder and water turn into crystals: 7 to 10 % of what reacts, about 6 % of the whole mass with its free water.", also=("chemical shrinkage", "chemical contraction", "shrinkage of the reaction"), unit="cm³ per 100 g"),
    Term("crystal", "01", "A solid grown in good order. Gypsum grows as fine needles."),
    Term("crystal water", "14", "All the water in the crystals. Most of it is the bound water. Heat drives it off, and the crystals turn back into powder.", also=("water of crystallisation",)),
    Term("degree of hydration", "04", "The part of the powder that has set: 0 % when fresh, 100 % when all of it is crystals.", also=("degree of reaction",), unit="%"),
    Term("density", "04", "Mass divided by outer volume, in g/cm³.", also=("mass per volume",), unit="g/cm³"),
    Term("die", "06", "An exact cast of one tooth, on which work such as a crown is made and fitted."),
    Term("disinfect", "13", "To kill what could make people ill, with a product, for a given time. A rinse is no disinfection."),
    Term("to dissolve", "01", "To go into the water, as salt does."),
    Term("dry strength", "05", "Compressive strength when all free water has gone.", unit="MPa"),
    Term("equal consistency", "06", "Mixes that spread alike in the ring test. Only then is it fair to compare powders."),
    Term("etch", "14", "To take from a surface by dissolving.", also=("surface erosion",)),
    Term("explorer", "00", "A picture with controls. You move a control, and the picture follows."),
    Term("extrapolated", "00", "The model is used outside the range it was made for. Trust it less."),
    Term("final set", "08", "The heavy needle leaves no mark.", also=("final setting time",), unit="min"),
    Term("to fit a line", "05", "To choose the numbers of a line so that it comes near given values.", also=("regression", "calibration")),
    Term("flask", "12", "The box in which a denture is pressed around its working model.", also=("denture flask",)),
    Term("free water", "01", "Water that is not bound in crystals. It fills the pores until it dries off.", also=("excess water", "uncombined water", "gauging water"), unit="g"),
    Term("grain", "06", "One small piece of the powder. You see it only under a microscope.", also=("particle",)),
    Term("gypsum", "01", "A soft rock, and also what a set model is made of: calcium sulfate with two waters, CaSO₄·2H₂O. Its other name is dihydrate.", also=("dihydrate", "calcium sulfate dihydrate")),
    Term("hardness", "14", "How well a surface resists a point that is pressed into it. Knoop hardness is one way to measure it.", also=("Knoop hardness",), unit="kg/mm² (Knoop)"),
    Term("held water", "06", "Water inside porous grains and on their surfaces. It cannot make the mix flow."),
    Term("hemihydrate", "01", "The powder in the bag: calcium sulfate with half a water, CaSO₄·½H₂O. Hemi means half.", also=("plaster of Paris", "calcined gypsum", "calcium sulfate hemihydrate")),
    Term("hygroscopic expansion", "09", "The larger expansion of a mass that sets under water.", also=("expansion under water",), unit="%"),
    Term("imbibition", "13", "A gel or a rubber takes up water and swells.", also=("swelling",)),
    Term("impression", "13", "The mould of teeth and gums. The cast is poured into it.", also=("negative of the teeth",)),
    Term("imprint", "13", "The hollow that one tooth has left in the impression. Its deep end is the tip."),
    Term("improved stone", "06", "Stone made for dies: the strongest of the three, with the lowest expansion (type 4).", also=("die stone", "high-strength stone", "type 4 stone", "class II stone")),
    Term("in time", "13", "The moment lies inside its window, the minutes in which the step is right whichever end of the range is true. May be early, may be late: right only for a part of the range. Too early, too late: wrong for all of it."),
    Term("independent", "15", "When one link is off, this says nothing about the others."),
    Term("initial set", "08", "The paste is so stiff that the Vicat needle (300 g on 1 mm²) no longer reaches the bottom.", also=("initial setting time", "Vicat set"), unit="min"),
    Term("investment", "15", "The mass that becomes the mould around the wax. Gypsum-bonded for gold alloys, phosphate-bonded for alloys that melt higher."),
    Term("to jam", "06", "A mix jams when its grains touch all round. Then it can flow no more."),
    Term("level", "10", "One of five words for how likely a cause shows a sign: hardly ever (3 in 100), rarely (10), sometimes (30), often (60), nearly always (90).", also=("likelihood",)),
    Term("lift", "07", "The force that pushes a bubble up: the weight of the mix it has pushed aside.", also=("buoyancy",)),
    Term("library", "11", "The program behind this course. It computes every prediction."),
    Term("light and heavy needle", "08", "Two blunt needles, 113.4 g on a tip of 2.12 mm and 453.6 g on a tip of 1.06 mm. You look whether they leave a mark.", also=("Gillmore needles",)),
    Term("link", "15", "One step of the accuracy chain that changes the size: impression, stone, spacer, wax, setting, heating, alloy."),
    Term("loss of gloss", "08", "The surface turns from shiny to dull: the crystals have drawn the free water inside.", also=("gloss loss", "dull-out"), unit="min"),
    Term("lot", "11", "Powder of one production, named on the tin or bag.", also=("batch of a maker",)),
    Term("margin", "07", "The edge to which a tooth is ground (prepared) for a crown, and on its die the edge at which the crown ends. A hole there spoils the die."),
    Term("master cast", "14", "The cast on which the work itself is made.", also=("working cast", "working model")),
    Term("may miss", "12", "The value lies inside the wish, but a part of its range does not."),
    Term("meets", "12", "The value and its whole plausible range lie inside the wish."),
    Term("micrometre, µm", "09", "A thousandth of a millimetre. 1 % of 1 mm is 10 µm.", also=("micron", "micrometre", "µm"), unit="µm"),
    Term("misfit", "05", "How far the line lies from a value.", also=("residual",)),
    Term("misses", "12", "The value itself lies outside the wish."),
    Term("mL per 100 g", "02", "The water/powder ratio, said for 100 g of powder. A ratio of 0.50 mL/g is 50 mL per 100 g.", unit="mL per 100 g"),
    Term("mounting plaster", "09", "Plaster that fixes casts in an articulator, the frame that copies the movements of the jaw. It should hardly grow.", also=("articulating plaster",)),
    Term("outcome", "10", "What a check shows."),
    Term("outer volume", "04", "The space that the whole mass takes, with everything inside it.", unit="cm³"),
    Term("outlier", "11", "A value so far from the others that chance alone would seldom bring it.", also=("stray value",)),
    Term("outside data", "05", "Values that were not used for the fit. Only they can test it.", also=("validation data",)),
    Term("packing", "06", "How grains lie together when they touch.", also=("particle packing",)),
    Term("to pin", "00", "To keep the present mix in the picture, so that you can compare."),
    Term("plausible range", "00", "Where the library expects the true value of a prediction, about 19 times in 20: the two numbers in brackets.", also=("uncertainty interval",)),
    Term("pore", "04", "A small place in the mass that is not solid. It holds water, or it is empty."),
    Term("porosity", "02", "The part of the dried mass that is not solid: pores from water, and air.", unit="%"),
    Term("portion", "07", "The amount of mix that you add at one time."),
    Term("pours", "02", "Our word for a mix that fills a mould on the vibrator: a yield stress between 115 and 600 Pa. At its stiff end such a mix still stands when the ring is lifted without a vibrator."),
    Term("pressure at the foot", "03", "The pressure at the bottom of the full ring, from the weight of the mix above.", unit="Pa"),
    Term("recommended ratio", "02", "What the maker of the powder asks for.", also=("maker's ratio",)),
    Term("record", "11", "What was measured of one mix, with its units: one row of a table."),
    Term("relative strength", "05", "Strength divided by the strength of the same powder at its recommended ratio, in %.", unit="%"),
    Term("repeatability", "11", "The scatter when the same person does the same thing again with the same tools.", also=("within-operator precision",)),
    Term("requirement", "11", "What a standard asks of a product, such as a least strength.", also=("limit of the standard",)),
    Term("ring test", "02", "A ring, wetted inside and full of mix, stands on a plate and is lifted 2 minutes after the powder touched the water. How far the mix spreads shows its consistency.", also=("slump test", "spread test")),
    Term("room", "15", "How much longer the work is inside than the tooth. A crown with a room below zero does not go on."),
    Term("root of the sum of squares", "15", "Square each range, add, take the root: how independent ranges add up.", also=("RSS", "adding in quadrature")),
    Term("saturated", "14", "Full: water that already holds all that it can."),
    Term("saturated calcium sulfate water", "14", "Water in which set gypsum has lain for days; the clear part of it. Slurry water still has fine gypsum floating in it.", also=("saturated dihydrate solution", "SDS")),
    Term("scale", "11", "The balance on which you weigh.", also=("balance", "scales")),
    Term("scatter", "11", "How far values of the same thing lie from one another.", also=("dispersion", "spread of values")),
    Term("schedule", "12", "When the cast is separated from its impression, when it is used, and whether it dries in between."),
    Term("second cast", "13", "Another cast, poured later into the same impression.", also=("repeat pour",)),
    Term("seed", "08", "A small crystal that is already there. New crystals grow on it at once.", also=("seeds", "nucleus", "nuclei", "nucleus of crystallisation")),
    Term("separate", "13", "To take the cast out of the impression.", also=("take out", "remove the cast")),
    Term("separating medium", "13", "A thin film that keeps gypsum from holding on to gypsum.", also=("separating agent", "separator", "parting film")),
    Term("to set", "01", "To turn from a mix of powder and water into a hard mass.", also=("setting", "hardening")),
    Term("set cast", "14", "The cast after it has set and been separated.", also=("set model",)),
    Term("setting expansion", "06", "How much longer a cast becomes while it sets, in % of its length. Tests read it at 2 h.", also=("linear expansion",), unit="%"),
    Term("setting, heating", "15", "In the accuracy chain: the growth of the investment while it sets, and while it is heated."),
    Term("share", "10", "How many of 100 casts that look like yours have this cause. The shares of all suspects add up to 100.", also=("posterior probability", "relative frequency"), unit="of 100"),
    Term("sign", "10", "Something that you see on the cast, in the bowl or while pouring.", also=("symptom",)),
    Term("slump", "03", "How far the middle has sunk below the rim of the ring, in mm.", also=("sinking",), unit="mm"),
    Term("slurry water", "08", "Water with fine set gypsum in it: water full of seeds.", also=("gypsum slurry", "terra alba slurry")),
    Term("to soak", "12", "To let a cast take up water again, before the flask for example.", also=("re-wetting",)),
    Term("soaking", "07", "The dry powder takes up water by itself, before you stir.", also=("wetting",)),
    Term("solid fraction", "06", "The part of the room that the grains themselves fill. The rest is void.", also=("packing fraction", "volume fraction of solids"), unit="0 to 1"),
    Term("solubility", "01", "How much of a solid the water can hold dissolved. When it holds more than that, crystals come out. A litre holds about 2.6 g of set gypsum.", unit="g/L"),
    Term("spacer", "15", "Lacquer brushed on the die, to leave room for cement."),
    Term("span", "15", "The length between the abutments of a bridge, the teeth that carry it."),
    Term("specimen", "11", "One test piece: one bar, one cylinder."),
    Term("spread", "02", "The width of the mix at rest, in mm: the mean of two diameters at right angles.", also=("spreads", "slump flow", "diameter of the spread"), unit="mm"),
    Term("standard", "09", "A text that says what a product must do. For dental gypsum it is ISO 6873, with editions of 1998 and 2013.", also=("ISO 6873",)),
    Term("standard deviation", "11", "A number for the scatter. About two thirds of all values lie within one standard deviation of their mean.", also=("SD",), unit="that of the value"),
    Term("stiffness", "11", "In lesson 11: one number for each powder. When it is larger, a mix of the same ratio is stiffer.", also=("scale of the yield stress",), unit="Pa"),
    Term("stress", "03", "A force divided by the area it acts on. Its unit is the pascal, Pa. 1000 Pa is the pressure under about 10 cm of water.", unit="Pa"),
    Term("stropping", "07", "Wiping the mix against the wall of the bowl with the flat spatula. It presses air out."),
    Term("suspect", "10", "A cause that may be behind this cast."),
    Term("syneresis", "13", "Water runs out of a gel, even in moist air, and the gel shrinks."),
    Term("test piece", "05", "A small cylinder, cast to be crushed.", also=("cylinder",)),
    Term("the clock", "03", "It starts when the powder touches the water; the pictures say that mixing begins then. The powder soaks for half a minute, you mix for one minute, and you lift the ring at 2 min."),
    Term("theoretical water", "01", "The water that the powder binds when all of it sets: 18.6 g for 100 g of powder.", also=("water of reaction", "water needed for hydration"), unit="g per 100 g of powder"),
    Term("thickening", "03", "The mix becomes stiffer from minute to minute, because crystals begin to grow.", also=("stiffening",)),
    Term("tip", "13", "The deep end of an imprint, where a bubble or a drop is caught first."),
    Term("tooth side, base", "10", "The side of the cast with the teeth (also called occlusal side), and the flat side it stands on.", also=("occlusal side",)),
    Term("to trim", "12", "To grind a cast to its shape.", also=("trim", "grinding")),
    Term("turned over", "13", "The full impression is put upside down onto a heap of mix.", also=("inverted pour",)),
    Term("type 1 to 5", "09", "How the standard counts the powders. Here they are called impression plaster (1), model plaster (2), dental stone (3), improved stone (4) and high-expansion stone (5).", also=("product type",)),
    Term("variance", "11", "The square of the standard deviation. Variances of independent causes can be added. Standard deviations cannot.", unit="unit of the value, squared"),
    Term("vibrator", "02", "A plate that shakes, on which you pour and fill a mould."),
    Term("viscosity", "03", "How strongly a mix resists once it flows.", also=("plastic viscosity",), unit="Pa·s"),
    Term("void", "06", "Empty room: between grains that touch, or between the crystals of a set mass."),
    Term("void, bubble", "07", "A place filled with air. In the mix it is a bubble, in the set mass a hole.", also=("air inclusion", "porosity from air", "bubble")),
    Term("waste", "12", "Mix that stays in the bowl.", unit="%"),
    Term("water/powder ratio", "00", "So many mL of water for each gram of powder. 1 mL of water weighs very nearly 1 g.", also=("W/P ratio", "w/p", "liquid-to-powder ratio", "L/P ratio", "water-to-powder ratio"), unit="mL/g"),
    Term("wax pattern", "15", "The work in wax, made on the die. Metal takes its place later."),
    Term("wet strength", "02", "Compressive strength 1 hour after mixing began. The free water is still in the pores.", also=("green strength", "1-hour strength"), unit="MPa"),
    Term("wet, dry", "04", "Wet: all the free water is still there. Dry: all of it has gone, and only bound water is left."),
    Term("window", "05", "A range of ratios, from one to another."),
    Term("wish", "12", "What a cast must do, with a number: at least, or at most.", also=("demand",)),
    Term("work", "15", "What is made on the cast, such as a crown, a bridge or a denture.", also=("restoration", "prosthesis")),
    Term("working time", "08", "How long the mix still pours.", also=("manipulation time",), unit="min"),
    Term("yield stress", "03", "The stress a mix bears without flowing. Below it the mix stands like a soft solid. Above it the mix flows.", also=("yield point", "yield value"), unit="Pa"),
)


# Terms that no table explains, since the text of their lesson does.
IN_THE_TEXT = (
    Term("additive", "08", "A substance that is added in a small amount, to change how a mix sets or grows.", also=("chemical modifier",)),
    Term("alpha and beta hemihydrate", "01", "Two forms of the powder. Beta, in plaster, has rough, porous grains. Alpha, in the stones, has dense, regular grains and needs less water.",
         also=("α", "β", "α-hemihydrate", "β-hemihydrate", "autoclaved plaster")),
    Term("articulator", "09", "The frame that holds two casts and copies the movements of the jaw."),
    Term("borax", "08", "A salt that makes a mix set more slowly.", also=("sodium tetraborate",)),
    Term("bridge", "09", "Work that replaces a missing tooth and is carried by the teeth beside it.", also=("fixed partial denture",)),
    Term("our calibration", "02", "A number that we chose so that the model agrees with practice or with published values. It was not measured.", also=("calibrated", "fitted value")),
    Term("cement", "03", "The paste that fixes a crown on its tooth. It needs a thin gap between the two.", also=("luting cement", "cement film")),
    Term("common practice, no source", "00", "How a number is known: people in laboratories work so, and no study was found.", also=("trade practice",)),
    Term("crown", "06", "Work that covers one tooth."),
    Term("dental stone", "02", "A powder with denser grains than plaster (type 3). It needs less water and becomes stronger.", also=("stone", "type 3 stone", "type 3 gypsum", "class I stone")),
    Term("dust", "00", "Fine powder in the air. It harms the lungs and may hold silica: wear a mask and use the dust extraction."),
    Term("from memory", "00", "How a number is known: remembered from a book, and not read again.", also=("recalled",)),
    Term("heat of setting", "08", "A mix gives off heat while it sets. A large mass becomes hot enough to burn.", also=("heat", "exothermic reaction", "exotherm", "setting temperature", "heat of reaction")),
    Term("high-expansion stone", "09", "A strong stone that grows more than others while it sets (type 5).", also=("type 5 stone", "die stone of high expansion")),
    Term("impression plaster", "00", "A thin plaster for impressions (type 1). It belongs in licensed hands.", also=("type 1 plaster",)),
    Term("model plaster", "00", "The plaster for casts that need little strength (type 2). Its grains are porous and need much water.",
         also=("plaster", "dental plaster", "laboratory plaster", "type 2 plaster", "type 2 gypsum")),
    Term("nickel-chromium alloy", "15", "An alloy without gold. It melts higher and shrinks more than gold alloys. Its dust is harmful.", also=("base metal alloy", "NiCr")),
    Term("potassium sulfate", "08", "A salt that makes a mix set faster and grow less.", also=("K₂SO₄",)),
    Term("silica", "00", "A mineral in some powders and in investments. Its fine dust harms the lungs.", also=("quartz", "cristobalite")),
    Term("setting time", "08", "The time from the start of mixing until the mix is set. See initial set and final set.", also=("time of setting",), unit="min"),
    Term("spatula", "00", "The flat tool with which a mix is stirred by hand.", also=("spatulation",)),
    Term("study model", "02", "A cast that is looked at and kept. No work is made on it.", also=("study cast", "diagnostic cast", "diagnostic model")),
    Term("turns", "08", "How many times the spatula goes round while you mix.", also=("mixing time", "rate of mixing")),
    Term("vacuum mixing", "07", "Mixing by machine in a closed bowl from which the air is pumped.", also=("machine under vacuum", "mixing under vacuum", "mechanical mixing", "vacuum mixer")),
)

ALL_TERMS = tuple(sorted((*TERMS, *IN_THE_TEXT), key=lambda term: term.name.casefold().removeprefix("to ").removeprefix("our ")))

# Words that people type for a term, and that are no name of it.
TYPED_FOR = {
    "abrasion": ("hardness",), "scratch": ("hardness",), "brittle": ("compressive strength",), "soluble": ("solubility",), "viscous": ("viscosity",), "rheology": ("yield stress", "viscosity"),
    "thixotropy": ("yield stress", "viscosity"), "flow": ("spread", "consistency", "yield stress"), "catalyst": ("accelerator, retarder",), "temperature": ("heat of setting",), "hot": ("heat of setting",),
    "humidity": ("free water",), "moisture": ("free water",), "damp": ("free water",), "drying": ("free water", "wet, dry"), "oven": ("crystal water", "to chalk"), "microwave": ("crystal water", "to chalk"),
    "calcination": ("hemihydrate", "alpha and beta hemihydrate"), "anhydrite": ("crystal water", "hemihydrate"), "nucleation": ("seed",), "accuracy": ("link", "setting expansion", "plausible range"),
    "gips": ("gypsum", "model plaster"), "gesso": ("gypsum", "model plaster"), "yeso": ("gypsum", "model plaster"), "platre": ("gypsum", "model plaster"), "caso4": ("gypsum", "hemihydrate"),
    "safety": ("dust", "heat of setting"), "mask": ("dust",), "burn": ("heat of setting",), "semihydrate": ("hemihydrate",), "metal": ("nickel-chromium alloy", "casting shrinkage"),
    "uncertainty": ("plausible range",), "error": ("scatter", "standard deviation"), "mean": ("standard deviation", "scatter"), "average": ("standard deviation", "scatter"),
    "storage": ("study model", "lot"), "shelf life": ("lot",), "semi hydrate": ("hemihydrate",), "number": ("plausible range",), "load": ("compressive strength",),
    **{f"type {number}": ("type 1 to 5",) for number in range(1, 6)},
}
FEW_WORDS = frozenset("a an the of to for in on by and or what is how much".split())
ROMAN = {"i": "1", "ii": "2", "iii": "3", "iv": "4", "v": "5"}
# One spelling for both sides of the ocean.
SPELLINGS = (("sulph", "sulf"), ("mould", "mold"), ("grey", "gray"), (r"our\b", "or"), ("fibre", "fiber"), ("(met|lit)re", r"\1er"),
             (r"(?<=[a-z]{3})is(e|ed|es|er|ers|ing|ation)\b", r"iz\1"))
ENDINGS = ("ization", "ation", "ating", "ated", "ator", "ility", "ness", "ant", "ate", "ble", "ing", "ion", "ity", "ed", "er", "or", "y", "e")
NEAR = 0.78                # how alike two words must be written


def find_term(name):
    """Return the term of that name, or one that is also called so.

    Parameters
    ----------
    name : str
        In capital or small letters.

    Returns
    -------
    Term

    Raises
    ------
    Problem
        When there is none; names the nearest.
    """
    names = {called.casefold(): term for terms in (IN_THE_TEXT, TERMS) for term in reversed(terms) for called in (*term.also, term.name)}
    names.update({term.name.casefold(): term for term in ALL_TERMS})
    wanted = " ".join(str(name).split()).casefold()
    if wanted not in names:
        guess = nearest(wanted, names)
        raise Problem(f"“{str(name)[:40]}” is not in the glossary" + (f": do you mean {names[guess].name}?" if guess else "; type a part of the word to search."))
    return names[wanted]


def search(text):
    """Return the terms in which a text is found: in their names first, then in their meanings.

    Parameters
    ----------
    text : str
        A word or several, or a part of a word, as people type them: either spelling of English, one or many, any order, a decimal comma;
        nothing for all terms.

    Returns
    -------
    tuple of Term
    """
    wanted = _plain(text)
    if not wanted:
        return () if str(text).strip() else ALL_TERMS
    stems = {_stem(word) for word in wanted.split() if word not in FEW_WORDS}
    begins = re.compile(rf"(?<![a-z0-9]){re.escape(wanted)}").search
    alike = difflib.get_close_matches(wanted[:60], {one for term in ALL_TERMS for one in term_names(term)}, n=3, cutoff=0.88)
    ways = (
        lambda term: wanted in term_names(term),
        lambda term: wanted == _plain(term.unit),
        lambda term: stems and stems == {_stem(word) for word in term_names(term)[0].split()},
        lambda term: any(one.startswith(wanted) for one in term_names(term)),
        lambda term: any(begins(one) for one in term_names(term)),
        lambda term: term.name in TYPED_FOR.get(wanted, ()),
        lambda term: wanted.replace(" ", "") in (one.replace(" ", "") for one in term_names(term)),
        lambda term: stems and any(stems <= {_stem(word) for word in one.split()} for one in term_names(term)),
        lambda term: begins(_plain(term.meaning)),
        lambda term: set(alike) & set(term_names(term)),
        lambda term: stems and stems <= {_stem(word) for one in (*term_names(term), _plain(term.meaning)) for word in one.split()},
        lambda term: len(wanted) > 3 and any(wanted in one for one in (*term_names(term), _plain(term.meaning))),
    )
    found = {}
    for way in ways:
        found.update({term.name: term for term in ALL_TERMS if term.name not in found and way(term)})
    return tuple(found.values())


def near(text):
    """Return the terms whose names are written nearly like a text that is found nowhere, the nearest first.

    Parameters
    ----------
    text : str

    Returns
    -------
    tuple of (str, Term)
        The name that is near, and its term; a few at most.
    """
    wanted, found = _plain(text)[:60], {}
    called = {_plain(one): (one, term) for term in reversed(ALL_TERMS) for one in (*term.also, term.name)}
    for one in difflib.get_close_matches(wanted, called, n=3, cutoff=NEAR):
        found.setdefault(called[one][1].name, called[one])
    words = {word: pair for one, pair in called.items() for word in one.split() if len(word) > 2 and word not in FEW_WORDS}
    for word in sorted((word for word in wanted.split() if len(word) > 2), key=len, reverse=True):
        for one in difflib.get_close_matches(word, words, n=1, cutoff=NEAR):
            found.setdefault(words[one][1].name, words[one])
    return tuple(found.values())[:3]


def term_names(term):
    """Return all names of a term, plain, its own first."""
    return tuple(_plain(one) for one in (term.name, *term.also))


@lru_cache(maxsize=4096)
def _plain(text):
    """A text as it is compared: small letters, one spelling, no signs, a decimal point."""
    said = "".join(sign for sign in unicodedata.normalize("NFKD", str(text).replace("½", "")) if not unicodedata.combining(sign)).casefold()
    said = re.sub(r"(?<=\d)[.,](?=\d)", "·", said).replace("μ", "u").replace("α", "alpha").replace("β", "beta")
    said = re.sub(r"(?<=\d)(?=g\b|ml\b)", " ", re.sub(r"[^a-z0-9%·]+", " ", said)).replace("·", ".")
    for one, other in SPELLINGS:
        said = re.sub(one, other, said)
    said = re.sub(r"\b(type|class) ([iv]+)\b", lambda found: f"{found[1]} {ROMAN.get(found[2], found[2])}", said)
    return " ".join(said.split()).removeprefix("to ")


def _stem(word):
    """The part of a word that stays when it is one or many, a doing or a thing."""
    for many, one in (("ies", "y"), ("sses", "ss"), ("xes", "x"), ("ss", "ss"), ("us", "us"), ("s", "")):
        if word.endswith(many) and len(word) > len(many) + 2:
            word = word.removesuffix(many) + one
            break
    for ending in ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            word = word.removesuffix(ending)
            break
    return re.sub(r"(.)\1$", r"\1", word)


def term_lines(terms):
    """Return terms as lines of text.

    Parameters
    ----------
    terms : sequence of Term

    Returns
    -------
    list of str
    """
    return [f"{term.name}: {term.meaning}" + (f" Also called: {', '.join(term.others)}." if term.others else "") + (f" Unit: {term.unit}." if term.unit else "")
            + f" (lesson {term.lesson})" for term in terms]
