"""Tasks on lesson 01, from rock to powder and back."""

from gypsumkit.marking.task_bank.asking import BY_BALANCE, ROUNDED
from gypsumkit.marking.tasks import AllThatApply, Coded, InOrder, Number, Task
from gypsumkit.quiz.questions import Option, Place, Slip
from gypsumkit.science import calcination, hydration

BOUND = "18.6 g for 100 g is itself rounded."


def _weighed(draw):
    return {"powder_g": draw.randrange(110, 390, 10), "water_ml": draw.randrange(62, 190)}


def _bound(powder_g):
    return float(hydration.theoretical_water_g(powder_g))


def _bags(draw):
    return {f"bag_{place}_g": draw.randrange(210, 990, 10) for place in range(1, 6)}


def _all_bags(p):
    return sum(p[f"bag_{place}_g"] for place in range(1, 6))


TASKS = [
    Task(
        id="T01-1", objective="L01-O2", level="apply", difficulty=0.7, title="Bound water, free water and the dry model",
        text="{powder_g} g of model plaster are mixed with {water_ml} mL of water, and all of the powder sets. 100 g of powder bind 18.6 g of water. Count 1 mL of water as 1 g.",
        parameters=_weighed, digits={"powder_g": 2, "water_ml": None},
        clear=lambda p: 0.44 <= p.water_ml / p.powder_g <= 0.58,
        parts=(
            Number(prompt="How much water in g do the crystals bind?", marks=1, name="bound_g", compute=lambda p: _bound(p.powder_g), unit="g", band=(20, 75),
                   tolerance_why=BOUND, working="{powder_g} g × 18.6 g ÷ 100 g = {key}",
                   slips=(Slip(lambda p: calcination.steam_g(p.powder_g), "15.7 g belongs to 100 g of rock. 100 g of powder bind 18.6 g."),
                          Slip(lambda p: 0.186 * p.water_ml, "You took 18.6 % of the water. It is 18.6 g for 100 g of powder."))),
            Number(prompt="How much water in g stays free?", marks=1, name="free_g", compute=lambda p: p.water_ml - p.bound_g, unit="g", band=(30, 150),
                   relative_tolerance=0.015, tolerance_why=ROUNDED, working="{water_ml} g − {bound_g} g = {key}",
                   slips=(Slip(lambda p: p.water_ml + p.bound_g, "You added. Bound water is a part of the water that was poured in: take it off."),)),
            Number(prompt="What does the model weigh in g when it is set and dry?", marks=2, method_marks=2, name="dry_g", compute=lambda p: p.powder_g + p.bound_g, unit="g",
                   other_ways=(lambda p: p.powder_g + p.water_ml - p.free_g,),
                   band=(120, 480), relative_tolerance=0.008, tolerance_why=BY_BALANCE, working="{powder_g} g + {bound_g} g = {key}",
                   slips=(Slip(lambda p: p.powder_g + p.water_ml, "That is the weight of the fresh mix. The free water has dried off."),
                          Slip(lambda p: p.powder_g + p.free_g, "You kept the free water and took off the bound water. It is the other way round."))),
        )),
    Task(
        id="T01-2", objective="L01-O2", level="apply", difficulty=0.65, title="From the mill into the bowl",
        text="A mill heats {rock_kg} kg of pure gypsum rock until all of it is powder. 100 g of rock lose 15.7 g of water as steam. The powder is mixed with "
             "{per_100_ml} mL of water per 100 g.",
        parameters=lambda draw: {"rock_kg": draw.randrange(22, 98), "per_100_ml": draw.randrange(44, 58)}, digits={"rock_kg": 2, "per_100_ml": 2},
        parts=(
            Number(prompt="How much steam in kg leaves the rock?", marks=1, name="steam_kg", compute=lambda p: float(calcination.steam_g(p.rock_kg)), unit="kg", band=(3.3, 16),
                   tolerance_why="15.7 is itself rounded.", working="{rock_kg} kg × 15.7 ÷ 100 = {key}",
                   slips=(Slip(lambda p: _bound(p.rock_kg), "18.6 belongs to 100 g of powder. 100 g of rock lose 15.7 g."),)),
            Number(prompt="How much powder in kg is left?", marks=1, name="powder_kg", compute=lambda p: p.rock_kg - p.steam_kg, unit="kg", band=(18, 84),
                   tolerance_why=ROUNDED, working="{rock_kg} kg − {steam_kg} kg = {key}",
                   slips=(Slip(lambda p: p.rock_kg + p.steam_kg, "You added the steam. It has left the rock."),)),
            Number(prompt="How much water in L does this powder get? Count 1 L as 1 kg.", marks=1, name="water_l", compute=lambda p: p.powder_kg * p.per_100_ml / 100, unit="L",
                   band=(8, 48), relative_tolerance=0.015, tolerance_why=ROUNDED, working="{powder_kg} kg × {per_100_ml} ÷ 100 = {key}",
                   slips=(Slip(lambda p: p.rock_kg * p.per_100_ml / 100, "You took the water for the rock. Take it for the powder."),
                          Slip(lambda p: p.powder_kg * 100 / p.per_100_ml, "Upside down: there is less water than powder."))),
        )),
    Task(
        id="T01-3", objective="L01-O3", level="recall", difficulty=0.7, title="What happens after powder meets water",
        text="Powder is sifted into water, mixed and left alone.",
        parts=(InOrder(prompt="Put these events in order: the first one first.", marks=2, shown=5, steps=(
            Place("Water runs into the room between the grains.", "The grains must be wet before anything can dissolve."),
            Place("Powder begins to dissolve.", "Nothing can crystallise before something is dissolved."),
            Place("The water holds more than crystals allow.", "Beside powder, water holds more than beside crystals."),
            Place("The first gypsum crystals form.", "What is too much comes out of the water."),
            Place("The crystals grow, and more powder dissolves.", "Each gram that comes out makes room for more powder to dissolve."),
            Place("The needles touch and lock into each other.", "Needles that have grown long enough meet."),
            Place("The mass is hard and cools down.", "Hardness comes with the locked needles; it cools when little reacts any more."),
            Place("The free water dries off.", "What was not bound leaves last, over days."),
        )),)),
    Task(
        id="T01-4", objective="L01-O4", level="explain/judge", difficulty=0.6, title="What sets and what does not",
        text="Think of model plaster and of what its reaction needs: enough water, and a gap between two solubilities.",
        parts=(AllThatApply(prompt="Which of these statements are true?", marks=2, options=(
            Option("With 12 g of water for 100 g of powder a part of the powder cannot set.", "All of it would bind 18.6 g.", correct=True),
            Option("In water near 100 °C nothing drives the setting any more.", "There powder and crystals dissolve alike.", correct=True),
            Option("A mix can set under water.", "It needs no air: it takes its water from around the grains.", correct=True),
            Option("In an oven at 120 °C a model loses bound water and turns soft.", "Heat does to the model what it did to the rock.", correct=True),
            Option("More water than 18.6 g for 100 g leaves free water in the mass.", "What is not bound stays between the crystals.", correct=True),
            Option("A mix sets because its water dries off.", "It sets because crystals grow. It sets in a closed tin as well."),
            Option("Twice as much water lets each gram of powder bind twice as much.", "The bound water is fixed by the chemistry."),
            Option("In boiling water the powder sets fastest.", "Near 100 °C the gap between the solubilities is gone."),
            Option("Setting stops as soon as the first crystals touch.", "They go on growing, and only then the mass becomes hard."),
            Option("A dry model weighs as much as its powder.", "It keeps the bound water: 118.6 g for 100 g of powder."),
        )),)),
    Task(
        id="T01-5", objective="L01-O2", level="apply", difficulty=0.6, title="Five batches, added up",
        text="In one afternoon these weights of powder were mixed and have set completely: {bag_1_g} g, {bag_2_g} g, {bag_3_g} g, {bag_4_g} g and {bag_5_g} g. "
             "100 g of powder bind 18.6 g of water.",
        parameters=_bags, digits={f"bag_{place}_g": 2 for place in range(1, 6)},
        parts=(Coded(prompt="How much water in g did all five bind together?", marks=2, name="bound_g", compute=lambda p: _bound(_all_bags(p)), unit="g", band=(240, 920),
                     tolerance_why=BOUND, working="the sum of the five weights × 18.6 ÷ 100 = {key}",
                     slips=(Slip(lambda p: _bound(_all_bags(p)) / 5, "That is the mean of the five. Asked is the sum."),
                            Slip(lambda p: float(calcination.steam_g(_all_bags(p))), "15.7 g belongs to 100 g of rock. 100 g of powder bind 18.6 g."),
                            Slip(lambda p: 1.186 * _all_bags(p), "That is powder and bound water together. Asked is the water alone."))),)),
]
