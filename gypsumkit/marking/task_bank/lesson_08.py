"""Tasks on lesson 08, the setting clock."""

from gypsumkit import powders
from gypsumkit.marking.task_bank.asking import EXACT, PEOPLE, ROUNDED, THREE, predicted, usual, value
from gypsumkit.marking.tasks import AllThatApply, Coded, InOrder, Number, OneOf, Task
from gypsumkit.powders import POWDERS
from gypsumkit.quiz.questions import Option, Place, Slip
from gypsumkit.science import setting
from gypsumkit.studies.ageing import free_water_left

CHANGES = (("potassium sulfate", (0.6, 0.8, 1.2, 1.4, 1.6)), ("sodium chloride", (0.6, 0.8, 1.2, 1.4, 1.6)), ("ground set gypsum", (0.6, 0.7, 0.8, 0.9, 1.2)))


def _heat(draw):
    return {"powder": draw.choice(THREE), "powder_g": draw.randrange(120, 480, 10)}


def _capacity(powder):
    return round(float(setting.heat_capacity_j_g_k(usual(powder))), 2)


def _additive(draw):
    additive, percents = draw.choice(CHANGES)
    return {"powder": draw.choice(THREE), "additive": additive, "percent": draw.choice(percents), "powder_g": draw.randrange(130, 480, 10)}


def _final(p):
    return predicted("final_set_min", p.powder, usual(p.powder), additive=p.additive, additive_percent=p.percent)


TASKS = [
    Task(
        id="T08-1", objective="L08-O3", level="apply", difficulty=0.55, title="How warm can it become?",
        text="{powder_g} g of {powder} are mixed with {per_100_ml} mL of water per 100 g, all at {room_c:.0f} °C. Each gram of powder makes {heat_j_g} J of heat while it sets. To warm one gram of powder "
             "with its water by 1 °C takes {capacity} J.",
        parameters=_heat, digits={"powder_g": 2},
        computed={"per_100_ml": lambda p: round(100 * usual(p.powder)), "room_c": lambda p: powders.ROOM_C, "heat_j_g": lambda p: round(POWDERS[p.powder].setting.heat_j_g.value + 1e-6),
                  "capacity": lambda p: _capacity(p.powder)},
        parts=(
            Number(prompt="How much heat in kJ does the whole batch make?", marks=1, name="heat_kj", compute=lambda p: p.powder_g * p.heat_j_g / 1000, unit="kJ", band=(13, 65),
                   tolerance_why=EXACT, working="{powder_g} g × {heat_j_g} J/g ÷ 1000 = {key}",
                   slips=(Slip(lambda p: p.powder_g / p.heat_j_g, "You divided. Each gram makes so much: multiply."),)),
            Number(prompt="By how many °C would the mass warm up if no heat were lost?", marks=2, name="rise_c", compute=lambda p: 1000 * p.heat_kj / (p.capacity * p.powder_g), unit="°C",
                   band=(46, 76), relative_tolerance=0.02, tolerance_why=ROUNDED, working="{heat_kj} kJ ÷ ({capacity} J × {powder_g} g) = {key}", slips=()),
            Number(prompt="How warm in °C would it then become?", marks=1, name="hottest_c", compute=lambda p: p.room_c + p.rise_c, unit="°C", band=(68, 100), relative_tolerance=0.015,
                   tolerance_why=ROUNDED, working="{room_c:.0f} °C + {rise_c} °C = {key}",
                   slips=(Slip(lambda p: p.rise_c - p.room_c, "You took the room off. It starts at {room_c:.0f} °C and warms up from there."),)),
            OneOf(prompt="What follows for a hand that is enclosed in such a mass?", marks=1, shown=3, options=(
                Option("It may be burnt, and it cannot be pulled out: never do it.", "Skin is harmed from about 45 °C on when the contact lasts, and the hard mass holds it.", correct=True),
                Option("It is in danger when it stays in too long, and by then it is held fast: never do it.", "Both are true: the heat and the hold come together.", correct=True),
                Option("Nothing, since heat is always lost to the air.", "Some is lost. A large lump still becomes far hotter than skin bears."),
                Option("Nothing, when the water is taken cold.", "Cold water takes off a few degrees, no more."),
                Option("Nothing, when the skin is greased.", "Grease keeps neither heat nor hold away."),
            )),
        )),
    Task(
        id="T08-2", objective="L08-O1", level="recall", difficulty=0.7, title="The signs of setting in their order",
        text="{who} makes a hand mix of {powder} with the recommended water and watches it.",
        parameters=lambda draw: {"powder": draw.choice(THREE), "who": draw.choice(PEOPLE)},
        parts=(InOrder(prompt="Put what is seen in order: the first one first.", marks=2, shown=5, steps=(
            Place("The grains soak up water.", "It begins as soon as powder meets water."),
            Place("The mix is smooth and pours from the spatula.", "That is the time to work."),
            Place("It no longer pours.", "It has thickened, but is not hard yet."),
            Place("The surface loses its gloss.", "The growing needles take up the water."),
            Place("The light needle leaves no mark.", "The light needle presses less than the heavy one."),
            Place("The heavy needle leaves no mark.", "The final set: it asks for more strength than the light needle."),
            Place("The mass is cold again.", "Little reacts any more."),
            Place("The cast is dry.", "The free water takes days to leave."),
        )),)),
    Task(
        id="T08-3", objective="L08-O2", level="apply", difficulty=0.65, title="An additive, weighed and judged",
        text="{powder_g} g of {powder} get {percent} % of {additive}, of the mass of the powder. In the model the final set then comes at {changed_min} min in place of {usual_min} min.",
        parameters=_additive, digits={"percent": None, "powder_g": 2},
        computed={"usual_min": lambda p: round(value("final_set_min", p.powder, usual(p.powder)), 1), "changed_min": lambda p: round(float(_final(p).value), 1)},
        trusted=lambda p: (_final(p), predicted("final_set_min", p.powder, usual(p.powder))),
        parts=(
            Number(prompt="How much of the additive in g do you weigh?", marks=1, name="additive_g", compute=lambda p: p.powder_g * p.percent / 100, unit="g", band=(1.2, 7),
                   tolerance_why=EXACT, working="{powder_g} g × {percent} ÷ 100 = {key}",
                   slips=(Slip(lambda p: p.powder_g * p.percent, "{percent} % are {percent} g for 100 g: divide by 100."),)),
            Number(prompt="By what part in % of the usual time is the set earlier?", marks=2, name="earlier_percent", compute=lambda p: 100 * (p.usual_min - p.changed_min) / p.usual_min, unit="%",
                   band=(12, 62), relative_tolerance=0.03, tolerance_why=ROUNDED, working="({usual_min} − {changed_min}) min ÷ {usual_min} min × 100 = {key}",
                   slips=(Slip(lambda p: 100 * (p.usual_min - p.changed_min) / p.changed_min, "You divided by the new time. Divide by the usual one."),
                          Slip(lambda p: 100 * p.changed_min / p.usual_min, "That is the part of the time that is left."))),
        )),
    Task(
        id="T08-4", objective="L08-O2", level="recall", difficulty=0.6, title="What moves the clock forward",
        text="A mix of model plaster sets too slowly for the lesson.",
        parts=(AllThatApply(prompt="Which of these make it set **sooner**?", marks=2, options=(
            Option("Less water for the same powder.", "The crystals start closer together and meet sooner.", correct=True),
            Option("More turns of the spatula.", "They break the first crystals into more seeds.", correct=True),
            Option("2 % of potassium sulfate.", "It makes the crystals grow faster.", correct=True),
            Option("A little ground set gypsum.", "Each crumb is a seed.", correct=True),
            Option("2 % of sodium chloride.", "Up to about 2 % it makes the crystals grow faster.", correct=True),
            Option("Borax.", "It sits on the crystals and retards. It is toxic as well."),
            Option("More water for the same powder.", "The crystals start further apart and meet later."),
            Option("Sodium citrate.", "It retards strongly."),
            Option("Water near 100 °C.", "There powder and crystals dissolve alike, and nothing drives the setting."),
            Option("An old tin that has stood open for a year.", "Its grains are coated: it sets slowly and stays weak."),
        )),)),
    Task(
        id="T08-5", objective="L08-O4", level="apply", difficulty=0.5, title="How dry is it by now?",
        text="A cast is taken out of its mould 1 h after mixing. From then on half of the free water that is left goes every {half_h} h.",
        parameters=lambda draw: {"half_h": draw.choice([5.5, 6.5, 7.5, 8.5, 9.5, 11, 12, 13, 14]), "later_h": draw.randrange(14, 37)}, digits={"half_h": 2, "later_h": None},
        parts=(Coded(prompt="What part in % of the free water is still in it {later_h} h after it was taken out?", marks=2, name="left_percent",
                     compute=lambda p: 100 * float(free_water_left(60.0 * (1 + p.later_h), p.half_h)), unit="%", band=(6.5, 38), relative_tolerance=0.02,
                     tolerance_why="code does not round on the way.", working="100 % × 0.5 to the power of ({later_h} ÷ {half_h}) = {key}",
                     slips=(Slip(lambda p: 100 - 100 * float(free_water_left(60.0 * (1 + p.later_h), p.half_h)), "That is the part that has gone. Asked is what is left."),
                            Slip(lambda p: 50 * p.half_h / p.later_h, "You took it in proportion. Each {half_h} h take half of what is left."))),)),
]
