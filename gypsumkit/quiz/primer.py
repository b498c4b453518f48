"""The primer: four things from school that the lessons need, each with three questions for practice.

Its ids begin with PR. Its questions do not come back in the recall of the lessons.
"""

from types import SimpleNamespace

from gypsumkit.mix import predict
from gypsumkit.problems import Problem
from gypsumkit.quiz.notes import Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Slip

GRAPH_POWDER, GRAPH_FROM_ML, GRAPH_TO_ML = "dental stone", 28, 44       # the curve of the graph that is read


def graph_mpa(ratio_ml):
    """Return the height of the primer's curve: wet strength, MPa.

    Parameters
    ----------
    ratio_ml : float
        mL of water for 100 g of powder, 28 to 44.
    """
    return float(predict(GRAPH_POWDER, ratio_ml / 100)["wet_strength_mpa"].value)


OBJECTIVES = (
    Objective("PR-O1", "Compute a density, and a mass or a volume from it."),
    Objective("PR-O2", "Compute with a ratio, and compare two ratios."),
    Objective("PR-O3", "Compute a part in percent, and a change in percent."),
    Objective("PR-O4", "Read a value and a change from a graph, and say where it ends."),
)
TOPICS = {"density": "PR-O1", "ratio": "PR-O2", "percent": "PR-O3", "reading a graph": "PR-O4"}

QUESTIONS = (
    NumberWithUnit(
        id="PR-Q1", objective="PR-O1", prompt="A dry block of plaster weighs {mass_g} g. It takes up {volume_cm3} cm³. What is its density, in g/cm³?",
        parameters={"mass_g": 66, "volume_cm3": 55}, key=lambda p: p.mass_g / p.volume_cm3, unit="g/cm³", tolerance_why="it is exact, up to rounding.",
        relative_tolerance=0.005, slips=(Slip(lambda p: p.volume_cm3 / p.mass_g, "You divided the volume by the mass. Density is mass divided by volume."),
                                        Slip(lambda p: float(p.mass_g - p.volume_cm3), "You took the difference. Density is a division: g for each cm³.")),
        hint="How many g are in 1 cm³?", explanation="{mass_g} g ÷ {volume_cm3} cm³ = {key}."),
    NumberWithUnit(
        id="PR-Q2", objective="PR-O1", prompt="A mix has a density of {density} g/cm³. A mould holds {volume_ml} mL. How many g of mix fill it?",
        parameters={"density": 1.7, "volume_ml": 40}, key=lambda p: p.density * p.volume_ml, unit="g", relative_tolerance=0.005,
        tolerance_why="it is exact, up to rounding.", slips=(Slip(lambda p: p.volume_ml / p.density, "You divided. Each mL weighs more than 1 g, so the mass is more than {volume_ml} g."),
                                                            Slip(lambda p: float(p.volume_ml), "That would be water. Each mL of this mix weighs {density} g.")),
        hint="1 mL is 1 cm³. What does 1 mL weigh?", explanation="Each mL weighs {density} g: {volume_ml} × {density} g = {key}."),
    Choice(
        id="PR-Q3", objective="PR-O1", prompt="Two dry blocks of set plaster have the same size. One is lighter. What do you know?",
        explanation="Same volume and less mass: a lower density. In plaster that means more empty room inside.",
        options=(Option("The lighter one has the lower density.", "Its mass is smaller in the same volume.", correct=True),
                 Option("The lighter one has the higher density.", "Density is mass for each cm³. Less mass in the same volume is a lower density."),
                 Option("Both have the same density, because both are plaster.", "The crystals are the same. But the room between them counts in the volume too."))),
    NumberWithUnit(
        id="PR-Q4", objective="PR-O2", prompt="A recipe asks for {ratio} mL of water for each g of powder. You take {powder_g} g of powder. How many mL of water?",
        parameters={"ratio": 0.3, "powder_g": 150}, key=lambda p: p.ratio * p.powder_g, unit="mL", relative_tolerance=0.005, tolerance_why="it is exact, up to rounding.",
        slips=(Slip(lambda p: p.powder_g / p.ratio, "You divided. One g needs {ratio} mL, so {powder_g} g need {powder_g} times as much."),
               Slip(lambda p: 100 * p.ratio, "That is the water for 100 g. Here there are {powder_g} g.")),
        hint="What does 1 g need? And {powder_g} g?", explanation="{powder_g} × {ratio} mL = {key}."),
    NumberWithUnit(
        id="PR-Q5", objective="PR-O2", prompt="{water_ml} mL of water were mixed with {powder_g} g of powder. How much is that in mL per 100 g?",
        parameters={"water_ml": 36, "powder_g": 80}, key=lambda p: 100 * p.water_ml / p.powder_g, unit="mL per 100 g", relative_tolerance=0.005,
        tolerance_why="it is exact, up to rounding.", slips=(Slip(lambda p: 100 * p.powder_g / p.water_ml, "You divided powder by water. Water comes first: mL for each g."),
                                                            Slip(lambda p: float(p.water_ml), "That is for {powder_g} g. For 100 g it is more.")),
        hint="First the water for 1 g: {water_ml} ÷ {powder_g}. Then times 100.", explanation="{water_ml} ÷ {powder_g} × 100 = {key}."),
    Choice(
        id="PR-Q6", objective="PR-O2", prompt="In bowl 1 are 25 mL with 50 g, in bowl 2 are 60 mL with 150 g, in bowl 3 are 90 mL with 200 g. Which bowl has most water for its powder?",
        explanation="Bowl 1: 25 ÷ 50 = 0.50. Bowl 2: 60 ÷ 150 = 0.40. Bowl 3: 90 ÷ 200 = 0.45 mL/g.",
        options=(Option("Bowl 1, with 25 mL.", "It has least water in the bowl, but also least powder: 0.50 mL for each g.", correct=25 / 50 > max(60 / 150, 90 / 200)),
                 Option("Bowl 2, with 60 mL.", "60 ÷ 150 is 0.40 mL for each g: the smallest of the three ratios.", correct=60 / 150 > max(25 / 50, 90 / 200)),
                 Option("Bowl 3, with 90 mL.", "It has most water in the bowl. For each g it has 0.45 mL, less than bowl 1.", correct=90 / 200 > max(25 / 50, 60 / 150)))),
    NumberWithUnit(
        id="PR-Q7", objective="PR-O3", prompt="A wet cast weighs {wet_g} g. Dry it weighs {dry_g} g. What part of its wet mass has gone, in %?",
        parameters={"wet_g": 120, "dry_g": 90}, key=lambda p: 100 * (p.wet_g - p.dry_g) / p.wet_g, unit="%", relative_tolerance=0.005, tolerance_why="it is exact, up to rounding.",
        slips=(Slip(lambda p: 100 * (p.wet_g - p.dry_g) / p.dry_g, "You divided by the dry mass. The question asks for a part of the wet mass."),
               Slip(lambda p: 100 * p.dry_g / p.wet_g, "That is the part that is left. Take it off 100 %."),
               Slip(lambda p: float(p.wet_g - p.dry_g) + 0.0, "That is the loss in g. Divide it by the wet mass, then times 100.")),
        hint="The loss, divided by what was there before, times 100.", explanation="{wet_g} − {dry_g} is the loss in g. Divided by {wet_g}, times 100: {key}."),
    NumberWithUnit(
        id="PR-Q8", objective="PR-O3", prompt="A bar is {length_mm} mm long and grows by {percent} %. By how many µm does it grow? (1 mm is 1000 µm.)",
        parameters={"length_mm": 60, "percent": 0.1}, computed={"grown_mm": lambda p: p.length_mm * p.percent / 100}, key=lambda p: p.length_mm * 1000 * p.percent / 100, unit="µm", relative_tolerance=0.005,
        tolerance_why="it is exact, up to rounding.", slips=(Slip(lambda p: p.length_mm * 1000 * p.percent, "You forgot that percent means: of 100. Divide by 100."),
                                                            Slip(lambda p: p.length_mm * 10 * p.percent / 100, "1 mm is 1000 µm, not 10.")),
        hint="1 % of {length_mm} mm is one hundredth of it.", explanation="{percent} ÷ 100 × {length_mm} mm is {grown_mm} mm: {key}."),
    Choice(
        id="PR-Q9", objective="PR-O3", prompt="A strength of 20 MPa falls by 20 %. Then what is left rises by 20 %. What is it now?",
        explanation="20 % of 20 MPa is 4: it falls to 16 MPa. 20 % of 16 MPa is 3.2: it rises to 19.2 MPa.",
        options=(Option("19.2 MPa.", "The second 20 % are taken of 16 MPa, so they are less.", correct=True),
                 Option("20 MPa, as before.", "The two parts are not alike: the first is taken of 20 MPa, the second of 16 MPa only."),
                 Option("20.8 MPa.", "The fall is 4 MPa, the rise 3.2 MPa. So it ends below 20 MPa."))),
    NumberWithUnit(
        id="PR-Q10", objective="PR-O4", prompt="Read it from the graph: how strong is the mix with {ratio_ml} mL of water for 100 g, in MPa?",
        parameters={"ratio_ml": 36}, computed={"half": lambda p: graph_mpa(p.ratio_ml) / 2, "wrong": lambda p: graph_mpa(30)},
        key=lambda p: graph_mpa(p.ratio_ml), unit="MPa", relative_tolerance=0.06, tolerance_why="a value read from a graph is good to a few percent.",
        slips=(Slip(lambda p: float(p.ratio_ml), "That is the number on the axis below. Go up to the curve, then to the left."),
               Slip(lambda p: p.wrong, "That is the strength with 30 mL. Begin at {ratio_ml} on the axis below.")),
        hint="Find {ratio_ml} on the axis below. Go straight up to the curve, then straight to the left.", explanation="Up from {ratio_ml} to the curve, then left: about {key}."),
    NumberWithUnit(
        id="PR-Q11", objective="PR-O4", prompt="Read two values from the graph: by how many MPa does the strength fall from {low_ml} to {high_ml} mL for 100 g?",
        parameters={"low_ml": 30, "high_ml": 40}, computed={"first": lambda p: graph_mpa(p.low_ml), "second": lambda p: graph_mpa(p.high_ml)},
        key=lambda p: p.first - p.second, unit="MPa", relative_tolerance=0.1, tolerance_why="it is the difference of two values that were read.",
        slips=(Slip(lambda p: p.second, "That is the strength with {high_ml} mL. Take it off the strength with {low_ml} mL."),
               Slip(lambda p: p.first, "That is the strength with {low_ml} mL. The question asks for the fall.")),
        hint="Read both, then take the difference.", explanation="From about {first:.0f} to about {second:.0f} MPa: a fall of {key}."),
    Choice(
        id="PR-Q12", objective="PR-O4", prompt="The curve ends at {last_ml} mL for 100 g. A friend wants to know the strength with 70 mL. What do you say?",
        parameters={"last_ml": GRAPH_TO_ML}, explanation="A graph tells nothing outside its ends. To go on drawing the line is a guess, called extrapolation.",
        options=(Option("The graph does not tell. It ends at {last_ml} mL.", "What lies beyond its end was not shown. Whoever goes on drawing must say so.", correct=True),
                 Option("I draw the line on with a ruler and read it there.", "The curve is bent. Even a straight line may bend outside of what is shown."),
                 Option("It is the same as with {last_ml} mL, because there the line ends.", "That the line ends does not mean that the strength stays."))),
)


def practice(topic):
    """Return what the primer offers on a topic.

    Parameters
    ----------
    topic : str
        A key of `TOPICS`.

    Returns
    -------
    types.SimpleNamespace
        With ``objective`` and ``questions``.

    Raises
    ------
    Problem
        When there is no such topic.
    """
    if topic not in TOPICS:
        raise Problem(f"The primer has nothing on '{str(topic)[:40]}'; its topics are {', '.join(TOPICS)}.")
    (objective,) = (one for one in OBJECTIVES if one.id == TOPICS[topic])
    return SimpleNamespace(objective=objective, questions=tuple(one for one in QUESTIONS if one.objective == objective.id))
