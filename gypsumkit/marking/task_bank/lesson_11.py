"""Tasks on lesson 11, bench day."""

import math

import numpy as np

from gypsumkit.marking.task_bank.asking import EXACT, PEOPLE, ROUNDED, THREE, usual
from gypsumkit.marking.tasks import AllThatApply, Coded, InWords, Number, OneOf, Task
from gypsumkit.quiz.questions import Option, Slip


def _session(draw):
    return {"students": draw.choice([14, 16, 18, 22, 24, 26, 28]), "powder_g": draw.choice([65, 75, 85, 95, 110, 120, 130]), "waste_percent": draw.choice([12, 14, 15, 16, 18]),
            "powder": draw.choice(THREE), "vibrate_s": draw.choice([35, 40, 45, 55, 70, 80])}


def _crushing(draw):
    middle = draw.randrange(3200, 9800, 100)
    return {f"load_{place}_n": middle + draw.choice([-1, 1]) * draw.randrange(110, 690, 10) for place in range(1, 6)}


def _loads(p):
    return np.array([p[f"load_{place}_n"] for place in range(1, 6)], dtype=float)


AREA_MM2 = math.pi / 4 * 20 ** 2


def _spread_percent(p, ddof=1):
    return float(100 * np.std(_loads(p), ddof=ddof) / np.mean(_loads(p)))


def _far_off(draw):
    start = draw.randrange(56, 70)
    return {"low_mm": start, "high_mm": start + draw.choice([6, 7, 8, 9]), "far_mm": start + draw.choice([34, 36, 38, 42, 44]), "groups": draw.choice([7, 8, 9, 11, 12])}


def _typed(draw):
    return {"who": draw.choice(PEOPLE), "typed": draw.choice([5.8, 6.1, 6.2, 6.3, 6.4, 6.6, 6.7, 6.8, 6.9, 7.1, 7.2, 7.3, 7.4])}


TASKS = [
    Task(
        id="T11-1", objective="L11-O1", level="apply", difficulty=0.6, title="Powder, water and the vibrator",
        text="{students} students each make one cast of {powder}: {powder_g} g of powder, {per_100_ml} mL of water per 100 g. {waste_percent} % is added for what stays in the bowl. There is one "
             "vibrator, and each cast needs it for {vibrate_s} s.",
        parameters=_session, digits={"students": 2, "powder_g": 2, "waste_percent": 2, "vibrate_s": None}, computed={"per_100_ml": lambda p: round(100 * usual(p.powder))},
        parts=(
            Number(prompt="How much powder in kg is needed, waste included?", marks=1, name="powder_kg", compute=lambda p: p.students * p.powder_g * (1 + p.waste_percent / 100) / 1000, unit="kg",
                   band=(1.0, 4.4), relative_tolerance=0.015, tolerance_why=EXACT, working="{students} × {powder_g} g × (1 + {waste_percent} ÷ 100) ÷ 1000 = {key}",
                   slips=(Slip(lambda p: p.students * p.powder_g / 1000, "Add the waste on top."),
                          Slip(lambda p: p.students * p.powder_g * (1 + p.waste_percent / 100), "That is in g. 1000 g are 1 kg."))),
            Number(prompt="How much water in L?", marks=1, name="water_l", compute=lambda p: p.powder_kg * p.per_100_ml / 100, unit="L", band=(0.32, 1.8), relative_tolerance=0.02,
                   tolerance_why=ROUNDED, working="{powder_kg} kg × {per_100_ml} ÷ 100 = {key}",
                   slips=(Slip(lambda p: p.powder_kg * 100 / p.per_100_ml, "Upside down: there is less water than powder."),)),
            Number(prompt="All are ready to pour at the same minute. For how many minutes (min) does the last one wait for the vibrator?", marks=2, name="wait_min",
                   compute=lambda p: (p.students - 1) * p.vibrate_s / 60, unit="min", band=(7, 37), relative_tolerance=0.012, tolerance_why=ROUNDED,
                   working="({students} − 1) × {vibrate_s} s ÷ 60 = {key}",
                   slips=(Slip(lambda p: p.students * p.vibrate_s / 60, "The last one does not wait for the own turn: one less."),
                          Slip(lambda p: (p.students - 1) * p.vibrate_s, "That is in s. 60 s are 1 min."))),
        )),
    Task(
        id="T11-2", objective="L11-O3", level="apply", difficulty=0.5, title="Five cylinders",
        text="Five wet cylinders of one mix, 20 mm in diameter, break at {load_1_n} N, {load_2_n} N, {load_3_n} N, {load_4_n} N and {load_5_n} N. 1 MPa is 1 N/mm².",
        parameters=_crushing, digits={f"load_{place}_n": None for place in range(1, 6)},
        parts=(
            Coded(prompt="What is the mean strength in MPa?", marks=2, name="mean_mpa", compute=lambda p: float(np.mean(_loads(p))) / AREA_MM2, unit="MPa", band=(9, 34), relative_tolerance=0.006,
                  tolerance_why="π may be taken as 3.14.", working="the mean of the five loads ÷ (π ÷ 4 × 20² mm²) = {key}",
                  slips=(Slip(lambda p: float(np.mean(_loads(p))) / (4 * AREA_MM2), "You took the diameter for the radius."),
                         Slip(lambda p: float(np.sum(_loads(p))) / AREA_MM2, "That is the sum of the five. Divide by 5."))),
            Coded(prompt="What is the standard deviation of the strengths as a part of their mean, in %? (Divide the sum of squares by 4.)", marks=2, name="scatter_percent",
                  compute=_spread_percent, unit="%", band=(3.4, 14), relative_tolerance=0.02, tolerance_why="code does not round on the way.",
                  working="standard deviation of the loads ÷ their mean × 100 = {key}",
                  slips=(Slip(lambda p: _spread_percent(p, 0), "You divided by 5. The mean was worked out from the same five values: divide by 4."),)),
        )),
    Task(
        id="T11-3", objective="L11-O2", level="explain/judge", difficulty=0.8, title="A cell that looks wrong",
        text="The ring is 35 mm wide inside. In the column “Spread (mm)” of a table {who} has typed {typed}.",
        parameters=_typed, digits={"typed": 2},
        parts=(OneOf(prompt="What does a good record do?", marks=1, options=(
            Option("It asks whether the spread was {typed} cm.", "A spread cannot be narrower than the ring. Whoever held the ruler knows.", correct=True),
            Option("It changes the cell to ten times as much without a word.", "It may as well be two digits misread. A silent change hides that nobody asked."),
            Option("It deletes the whole mix.", "The powder, the water and the times of this mix are still good."),
            Option("It keeps the number: a table takes what is typed.", "Then every mean made from it is wrong, and nobody sees why."),
        )),)),
    Task(
        id="T11-4", objective="L11-O4", level="recall", difficulty=0.6, title="Where the scatter comes from",
        text="A class mixes one recipe, and the spreads scatter more than the scales and the cylinders can explain.",
        parts=(AllThatApply(prompt="Which of these can make the scatter of the spreads **smaller**?", marks=2, options=(
            Option("Everybody lifts the ring at the same second.", "A mix thickens from minute to minute.", correct=True),
            Option("Everybody gives the same number of turns.", "Turns change the air and the speed of setting.", correct=True),
            Option("The spread is read in two directions, and the mean is taken.", "A spread that is not round is read too wide or too narrow in one direction.", correct=True),
            Option("All use water of the same temperature.", "The clock of the mix goes with it, a little.", correct=True),
            Option("All take powder from the same tin.", "An open tin and a fresh one differ.", correct=True),
            Option("A scale that reads to 0.001 g.", "The scale was not the reason."),
            Option("The two values farthest off are left out each time.", "Then it only looks smaller. The next mix will scatter as before."),
            Option("The spreads are written down with two more digits.", "Digits that were not measured add nothing."),
            Option("Every group mixes a recipe of its own.", "Then the spreads differ because the recipes do."),
        )),)),
    Task(
        id="T11-5", objective="L11-O3", level="explain/judge", difficulty=0.55, title="One value far off",
        text="{groups} groups mix the same recipe. All spreads but one lie between {low_mm} and {high_mm} mm. One is {far_mm} mm.",
        parameters=_far_off, digits={"low_mm": None, "high_mm": None, "far_mm": None, "groups": None},
        parts=(InWords(prompt="What do you do with the one value, and why is it not simply left out?", marks=3, look_for=(
            "Asks that group for weights, water and the moment of the lift, or looks for a cause (1 mark).",
            "Keeps it in the table with a remark, or shows the results with and without it (1 mark).",
            "Reason: without a cause it may be a true value or the best warning of the day; leaving it out hides that (1 mark).")),)),
]
