"""Lesson 13, pour, wait, separate: what it asks, explains and sets as work."""

from gypsumkit.bench.cast_chain import DAY_MIN, DROP_ML, HOUR_MIN, IMPRESSIONS, TOOTH_ML, Chain, ratio_in_a_tooth, steps, strength, strength_share, tooth_strength
from gypsumkit.bench.plan import MARGIN_MIN
from gypsumkit.mix import predict_setting, predict_timeline
from gypsumkit.powders import POWDERS
from gypsumkit.quiz.exercises import Exercise, Step
from gypsumkit.quiz.notes import BenchTask, Note, Objective
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip
from gypsumkit.recipe import Recipe
from gypsumkit.science.expansion import length_change_um
from gypsumkit.studies.voids import voids
from gypsumkit.units import say_number

WATER_ML = {"model plaster": 52, "dental stone": 28, "improved stone": 23}       # for 100 g
STROPPED = "powder into water, stropped"


def _usual(powder):
    return Recipe(powder, POWDERS[powder].recommended_ratio.value)


def _share_percent(powder, minute):
    return 100 * strength_share(Chain(_usual(powder)), minute)


def _separate_from(powder, ratio, temperature_c):
    return steps(Chain(Recipe(powder, ratio, water_temperature_c=temperature_c, room_temperature_c=temperature_c)))[3].ends[1]


def _air_left_percent(powder, depth_mm):
    return 100 * float(voids(powder, POWDERS[powder].recommended_ratio.value, STROPPED, depth_mm, 30.0).air_left)


def _as_said(value):
    """A result as it is printed, so that the next step can be done with a calculator."""
    return float(say_number(value))


def _out(powder, out_min, length_mm):
    """What the model says of a cast at separating, as it is told to the reader."""
    recipe = _usual(powder)
    line = predict_timeline(recipe.powder, recipe.water_powder_ratio, [float(out_min), HOUR_MIN, 120.0], recipe, ranges=False)
    final = predict_setting(recipe.powder, recipe.water_powder_ratio, recipe)["final_set_min"]
    strong, grown = line["strength_mpa"].value, line["expansion_percent"].value
    return {"powder": powder, "out_min": out_min, "length_mm": length_mm, "margin": MARGIN_MIN, "final": round(float(final.value), 1), "final_high": round(float(final.high), 1),
            "out_mpa": round(float(strong[0]), 1), "hour_mpa": round(float(strong[1]), 1), "out_percent": round(float(grown[0]), 3), "end_percent": round(float(grown[2]), 3)}


OBJECTIVES = [
    Objective("L13-O1", "Say how long an impression of each material may wait, why, and whose instructions decide."),
    Objective("L13-O2", "Pour an impression without bubbles and soft spots, and say what each slip of pouring does."),
    Objective("L13-O3", "Make a schedule from impression to trimmed cast for a given mix, with the safe end of each range."),
    Objective("L13-O4", "Say what goes wrong when a cast is separated too early or too late, and where a separating medium belongs."),
    Objective("L13-O5", "Compute the ratio in a wet tooth, the part of the strength at separating, and the growth still to come."),
]

PREDICTIONS = [
    Choice(
        id="L13-P1", objective="L13-O2",
        prompt="Improved stone, 23 mL per 100 g. The impression was rinsed but hardly shaken: {drops} drops of water ({water:.2f} mL) stay in the imprint of one tooth, which holds {tooth} mL of mix. "
               "How strong is this tooth at 1 h, compared with the rest of the cast?",
        parameters={"drops": 2, "water": 2 * DROP_ML, "tooth": TOOTH_ML},
        computed={"cast": lambda p: float(tooth_strength(_usual("improved stone"), 0).value), "wet": lambda p: float(tooth_strength(_usual("improved stone"), p.drops).value),
                  "ratio": lambda p: 100 * ratio_in_a_tooth(_usual("improved stone"), p.drops)},
        explanation="There the mix has {ratio:.0f} mL per 100 g. It carries {wet:.0f} MPa, and the cast {cast:.0f} MPa.",
        options=(
            Option("About the same: two drops are nothing.", "They are nothing beside a whole bowl. But they stay in one tooth, and that tooth holds very little mix.", correct=lambda p: p.wet > 0.9 * p.cast),
            Option("About three quarters.", "Count again: how many grams of powder does half a mL of mix hold?", correct=lambda p: 0.65 < p.wet / p.cast <= 0.9),
            Option("About half.", "Half a mL of mix holds less than a gram of powder. Two drops are a lot of water for it.", correct=lambda p: 0.4 < p.wet / p.cast <= 0.65),
            Option("It does not set at all.", "It sets: stone makes a paste even with much more water. But it is weak.", correct=lambda p: p.wet / p.cast <= 0.4),
        )),
    Choice(
        id="L13-P2", objective="L13-O4",
        prompt="Dental stone, 30 mL per 100 g. The heavy needle left no mark at {final:.0f} min. Ines separates at {out} min. What part of its strength at 1 h does the cast have by then?",
        parameters={"out": 20},
        computed={"final": lambda p: float(predict_setting("dental stone", 0.30)["final_set_min"].value), "at_final": lambda p: float(strength(Chain(_usual("dental stone")), p.final).value),
                  "share": lambda p: _share_percent("dental stone", p.out),
                  "planned": lambda p: _share_percent("dental stone", steps(Chain(_usual("dental stone")))[3].ends[1])},
        explanation="It has {share:.0f} % of it. At the planned moment it has {planned:.0f} %. Final set means that a needle leaves no mark. It does not mean that the cast is strong.",
        options=(
            Option("Nearly all: it is set.", "Set is not strong. At {final:.0f} min, when the needle leaves no mark, it carries about {at_final:.1f} MPa.", correct=lambda p: p.share > 85),
            Option("About half.", "Strength grows as the square of the part of the network that stands. Half a network is a quarter of the strength.", correct=lambda p: 38 < p.share <= 85),
            Option("About a quarter.", "The network is half there, and strength goes with its square.", correct=lambda p: 15 < p.share <= 38),
            Option("Next to nothing.", "Then the heavy needle would still leave a mark.", correct=lambda p: p.share <= 15),
        )),
]

NOTES = [
    Note("L13-N1",
         "Explain to a friend: why must an alginate impression be poured soon, and why must the cast come out of it after about an hour, when an addition silicone may wait for days? Use the words water, "
         "shrink and surface.",
         "Alginate is a gel, and most of it is water. In air the water leaves and the gel shrinks. Even in a moist box some water runs out of it, and in water it swells. So the impression no longer has the "
         "size of the mouth. When the cast stays in it, the gel dries round the teeth, pulls at them, and its liquid spoils the surface: rough and soft. A set addition silicone holds no water and gives off "
         "nothing that makes it shrink, so it keeps its size for days. In both cases the instructions of the product come first: some products need a wait, and some alginates are made to wait.", objectives=("L13-O1", "L13-O4")),
    Note("L13-N2",
         "Mr Okoro says: “For the pour I take the early end of the range. For separating I take the late end.” Explain why, with the numbers of one powder from the schedule.",
         "The model does not know my product and my hand, so each moment has a range. Dental stone pours until 3.6 min, but perhaps only until 2.7 min: I have to be finished by then, or a part of my casts has "
         "bubbles and layers. Its final set comes at 16 min, but perhaps only at 20 min, and set is not strong: I wait 15 min more and separate at 31 min. If I am early at the pour and late at separating, the cast is "
         "good in both cases. Only in alginate too late is wrong as well, so there I have to be out after about an hour.", objectives=("L13-O3",)),
]

EXERCISES = [
    Exercise(
        id="L13-E1", objective="L13-O5", fade=2,
        situation="{powder}, {per_100_ml} mL of water per 100 g; its grains have a density of {density} g/cm³. The imprint of a tooth holds {tooth_ml} mL. {drops} drops of water, {drop_ml} mL each, were left in it. "
                  "They mix evenly with the mix that fills the tooth. Air is not counted.",
        parameters=lambda draw: (lambda powder: {
            "powder": powder[0].upper() + powder[1:], "per_100_ml": WATER_ML[powder], "density": POWDERS[powder].density_g_cm3.value,
            "tooth_ml": draw.choice([0.5, 0.6]), "drops": draw.choice([2, 3]), "drop_ml": DROP_ML})(draw.choice(list(WATER_ML))),
        steps=(
            Step(name="of_100_ml", say="How many mL of mix do 100 g of powder give?", compute=lambda p: _as_said(100 / p.density + p.per_100_ml), unit="mL",
                 working="100 g ÷ {density} g/cm³ + {per_100_ml} mL = {answer}", hint="The volume of the grains and the volume of the water.",
                 slips=(Slip(lambda p: 100 + p.per_100_ml, "That adds grams. Divide the powder by its density first."), Slip(lambda p: 100 / p.density, "You left out the water."))),
            Step(name="powder_g", say="How many g of powder are in the tooth?", compute=lambda p: _as_said(100 * p.tooth_ml / p.of_100_ml), unit="g",
                 working="{tooth_ml} mL ÷ {of_100_ml} mL × 100 g = {answer}", hint="{of_100_ml} mL of mix hold 100 g of powder.",
                 slips=(Slip(lambda p: p.tooth_ml, "That counts 1 g of powder for each mL of mix."),)),
            Step(name="water_ml", say="How many mL of water are in the tooth, the drops included?", compute=lambda p: _as_said(p.powder_g * p.per_100_ml / 100 + p.drops * p.drop_ml), unit="mL",
                 working="{powder_g} g × {per_100_ml} mL ÷ 100 g + {drops} × {drop_ml} mL = {answer}", hint="The water of the mix and the water of the drops.", relative_tolerance=0.015,
                 slips=(Slip(lambda p: p.powder_g * p.per_100_ml / 100, "The drops are missing."), Slip(lambda p: p.drops * p.drop_ml, "The water of the mix is missing."))),
            Step(name="ratio_ml", say="How many mL of water per 100 g of powder is that?", compute=lambda p: 100 * p.water_ml / p.powder_g, unit="mL",
                 working="{water_ml} mL ÷ {powder_g} g × 100 g = {answer}", hint="All the water, divided by the powder, times 100 g.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.per_100_ml, "That is the mix in the bowl."), Slip(lambda p: p.per_100_ml + 100 * p.drops * p.drop_ml, "You added the drops as if the tooth held 1 g of powder."))),
        )),
    Exercise(
        id="L13-E2", objective="L13-O3", fade=2,
        situation="A cast of {powder}. By the model its final set comes at {final} min, at the latest at {final_high} min. At {out_min} min it carries {out_mpa} MPa and has grown by {out_percent} %. At 1 h it carries "
                  "{hour_mpa} MPa. At 2 h it has grown by {end_percent} %. A length of {length_mm} mm is watched. The laboratory separates {margin} min after the final set, and never before the latest final set.",
        parameters=lambda draw: _out(*draw.choice([("dental stone", 20, 40), ("improved stone", 20, 35), ("model plaster", 35, 50), ("high-expansion stone", 25, 30)])),
        steps=(
            Step(name="separate_min", say="From which moment on may the cast be separated, in min?", compute=lambda p: max(p.final + p.margin, p.final_high), unit="min",
                 working="the later one of {final} min + {margin} min and {final_high} min = {answer}", hint="Two rules. Both must hold: take the later moment.",
                 slips=(Slip(lambda p: p.final, "That is the final set itself. Set is not strong: wait."), Slip(lambda p: p.final_high, "That is the latest final set. The other rule asks for more."))),
            Step(name="share_percent", say="What part of its strength at 1 h does it have at {out_min} min, in %?", compute=lambda p: 100 * p.out_mpa / p.hour_mpa, unit="%",
                 working="{out_mpa} MPa ÷ {hour_mpa} MPa = {answer}", hint="The strength then, divided by that at 1 h.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: 100 - 100 * p.out_mpa / p.hour_mpa, "That is the part that is still missing."),)),
            Step(name="to_come_percent", say="By how many % does it still grow after {out_min} min, until 2 h?", compute=lambda p: p.end_percent - p.out_percent, unit="%",
                 working="{end_percent} % − {out_percent} % = {answer}", hint="What it has at the end, less what it has already.", relative_tolerance=0.02,
                 slips=(Slip(lambda p: p.end_percent, "That is the whole growth. A part of it is already done."),)),
            Step(name="to_come_um", say="How many µm is that on {length_mm} mm?", compute=lambda p: float(length_change_um(p.to_come_percent, p.length_mm)), unit="µm",
                 working="10 × {to_come_percent} × {length_mm} = {answer}", hint="1 % of 1 mm is 10 µm.", relative_tolerance=0.03,
                 slips=(Slip(lambda p: float(length_change_um(p.end_percent, p.length_mm)), "That is the whole growth. Take what is still to come."),
                        Slip(lambda p: 100 * float(length_change_um(p.to_come_percent, p.length_mm)), "The growth is in percent: divide by 100."))),
        )),
]

QUESTIONS = [
    SeveralChoices(
        id="L13-Q1", objective="L13-O1",
        prompt="Which impressions may wait until tomorrow, by the times of lesson 13, when their product allows it?",
        explanation="Water leaves alginate and alcohol leaves condensation silicone. The other two give off nothing that makes them shrink.",
        options=(
            Option("alginate, in an open tray", "It loses water in air and shrinks within minutes.", correct=lambda p: IMPRESSIONS["alginate"].wait[2] >= DAY_MIN),
            Option("addition silicone", "It keeps its size for days.", correct=lambda p: IMPRESSIONS["addition silicone"].wait[2] >= DAY_MIN),
            Option("condensation silicone", "Alcohol leaves it, and it shrinks for hours.", correct=lambda p: IMPRESSIONS["condensation silicone"].wait[2] >= DAY_MIN),
            Option("polyether, kept dry", "Kept dry, it is steady for days. It swells only in water or in a moist bag.", correct=lambda p: IMPRESSIONS["polyether"].wait[2] >= DAY_MIN),
        )),
    Choice(
        id="L13-Q2", objective="L13-O1",
        prompt="An impression comes from the mouth. It has been rinsed. Which disinfection does it get, and for how long?",
        explanation="The wrong liquid, or the right one for too long, changes the size of the impression and the surface of the cast. Too short leaves it contaminated.",
        options=(
            Option("The liquid and the minutes that the instructions of the impression product and of the disinfectant give.", "Both must fit each other. Local rules decide, and a licensed person is responsible.", correct=True),
            Option("Hot water: heat kills everything.", "Heat spoils the impression, and a rinse is no disinfection."),
            Option("Any strong liquid, overnight, to be sure.", "Overnight it swells or is eaten away. Strong and long is not safer: it spoils the impression."),
            Option("None: the gypsum covers it anyway.", "Then the cast, the wheel and its water are contaminated, and so are your hands."),
        )),
    Choice(
        id="L13-Q3", objective="L13-O2",
        prompt="Model plaster, stropped, vibrated for 30 s. One student lets portions of 5 mm run in, another fills 20 mm in one go. What does the model say about the air that is left?",
        parameters={}, computed={"thin": lambda p: _air_left_percent("model plaster", 5.0), "deep": lambda p: _air_left_percent("model plaster", 20.0)},
        explanation="It leaves {thin:.1f} % in the small portions and {deep:.1f} % in the large one. A bubble has to reach the top, and 20 mm are four times as far.",
        options=(
            Option("The same: the vibrator shakes both alike.", "It shakes both alike. But how far must a bubble rise in each?", correct=lambda p: p.deep / p.thin < 1.2),
            Option("Two to four times as much in the large portion.", "The small bubbles of the large portion do not reach the top in time.", correct=lambda p: 2 <= p.deep / p.thin <= 4),
            Option("More in the small portions: each one folds air in.", "It can, when a portion is thrown in. A portion that runs in from one side pushes the air before it.", correct=lambda p: p.deep < p.thin),
        )),
    NumberWithUnit(
        id="L13-Q4", at_picture=True, objective="L13-O3",
        prompt="Find it with the explorer of the schedule: model plaster, {per_100_ml} mL per 100 g, spatulated by hand, everything at {warm} °C, in alginate. From which minute on is it in time to separate?",
        parameters={"per_100_ml": 60, "warm": 18},
        key=lambda p: _separate_from("model plaster", p.per_100_ml / 100, p.warm), unit="min", absolute_tolerance=0.6, tolerance_why="the schedule goes in whole minutes.",
        slips=(Slip(lambda p: _separate_from("model plaster", 0.50, p.warm), "That is for 50 mL per 100 g. Set the ratio to 0.60."),),
        hint="Set all five controls. The row “separated” of the table gives the window.", explanation="It is in time from {key} on. More water makes it later here. The cold hardly does."),
    Choice(
        id="L13-Q5", objective="L13-O4",
        prompt="A cast of stone was left in alginate overnight. What do the studies that were read say, and what follows?",
        explanation="Detail was lower after 9 and after 12 hours. On hardness one study found more and two found less. After 6 hours one study found no loss of detail.",
        options=(
            Option("It gets stronger in the wet gel: leave it.", "It would set as well outside. The gel dries, pulls at the teeth, and its liquid spoils the surface."),
            Option("Surface detail suffers after many hours; about hardness they disagree. Take it out after about an hour.", "Detail is what an impression is made for. An hour is enough.", correct=True),
            Option("Nothing changes: gypsum that is set is set.", "Inside, yes. But the surface touches a wet gel that dries and shrinks."),
        )),
    Choice(
        id="L13-Q6", objective="L13-O4",
        prompt="Where does a separating medium belong?",
        explanation="Gypsum holds on to gypsum: the new crystals grow into the pores of the old ones. A medium closes the pores where two pieces must come apart.",
        options=(
            Option("Between the first part of a cast and its base.", "These two must hold together. There you want rough knobs and a wet surface."),
            Option("Between a set cast and the gypsum that is poured against it, when the two must come apart.", "Without it they become one piece. A thin film is enough: a thick one hides detail.", correct=True),
            Option("In every impression, so that the cast comes out easily.", "Alginate and silicones come off by themselves. A film would cover fine lines."),
            Option("Into the mix, a few drops.", "Soap in the mix makes foam, and other media hold back the set."),
        )),
    PutInOrder(
        id="L13-Q7", objective="L13-O3",
        prompt="From the mouth to the trimmed cast: put the steps in order.",
        explanation="Clean first, then disinfect, then dry of drops. The base waits until the gloss is lost. The wheel waits for the hour.",
        steps=(
            Place("Rinse the impression.", "Saliva and blood keep a disinfectant away from the surface, and hold back the set of the gypsum."),
            Place("Disinfect it by the instructions of its product.", "Before that it is contaminated, and so is everything that it touches."),
            Place("Rinse again and shake the drops out.", "Drops, and what is left of the disinfectant, spoil the surface."),
            Place("Let small portions run in from one side, on the vibrator.", "From one side the mix pushes the air before it."),
            Place("Add the base when the gloss is lost.", "Turned over before that, the mix sags out of the tips."),
            Place("Separate after the final set and a wait.", "At the final set it has only a small part of its strength."),
            Place("Trim it wet, from 1 h on.", "Before that the wheel tears out grains. Dry trimming makes dust."),
        )),
    NumberWithUnit(
        id="L13-Q8", objective="L13-O5",
        prompt="A cast is separated when it has grown by {out_percent} %. At 2 h it has grown by {end_percent} %. By how many µm do {length_mm} mm of it still grow after separating?",
        parameters=lambda draw: draw.choice([{"out_percent": 0.04, "end_percent": 0.09, "length_mm": 60}, {"out_percent": 0.12, "end_percent": 0.25, "length_mm": 40}]),
        key=lambda p: float(length_change_um(p.end_percent - p.out_percent, p.length_mm)), unit="µm", relative_tolerance=0.02, tolerance_why="plain arithmetic.",
        slips=(Slip(lambda p: float(length_change_um(p.end_percent, p.length_mm)), "That is the whole growth. A part of it was done in the impression."),
               Slip(lambda p: 100 * float(length_change_um(p.end_percent - p.out_percent, p.length_mm)), "The growth is in percent: divide by 100.")),
        hint="1 % of 1 mm is 10 µm.", explanation="{end_percent} % less {out_percent} %, on {length_mm} mm: {key}."),
]

BENCH_TASKS = [
    BenchTask(
        "L13-B1", "Three small casts and a clock",
        do=(
            "Take three equal rubber or silicone moulds with a tip, which your laboratory owns. No impression from a mouth. Rinse and shake them out.",
            "Put two drops of water into the tip of mould 2. The others stay free of drops.",
            "Look up your schedule: model plaster or dental stone at its recommended ratio. Write down, before you mix: pour ended by, base from, separate from, trim from.",
            "Mix 100 g. Let small portions run in from one side, on the vibrator, into moulds 1, 2 and 3. Write down when the pour has ended.",
            "Write down when the gloss is lost. Only then add a base to mould 1, on rough knobs.",
            "Take cast 3 out when the heavy needle leaves no mark in what is left in the bowl. Take casts 1 and 2 out at your planned minute.",
            "At 1 h scratch the tips and the sides of all three with a wooden stick, the same push each time. Then look at the edges with a lens.",
            "Trim cast 1 on the wheel, wet, with the demonstrator.",
        ),
        record=(
            "Planned and real: end of the pour, loss of gloss, final set, separating, trimming; with powder, ratio, turns and the temperature of the water",
            "For each cast: edges broken, bent or whole; which tip is scratched most easily; bubbles of each tip",
            "Did the base hold? Where would you have needed a separating medium?",
            "Your clock against the model: earlier or later, and by how many minutes? What would you plan next time?",
        ),
        cautions=(
            "Wear a mask and eye protection. Powder into water, slowly.",
            "Never put a finger, a hand or any part of the body into a setting mass: it gets hot. Feel a mould from outside before you open it.",
            "Vibrator and wheel: dry hands, hair and sleeves tied back. The wheel only with the demonstrator, wet, with guard and goggles. No fingertips near it.",
            "An impression from a mouth is contaminated until it has been disinfected by the instructions of its product: not for this task.",
            "Left-over mix and the mud of the wheel go where your laboratory says, never down the drain.",
            "The instructions of the product and of your laboratory come first.",
        ), objectives=("L13-O2", "L13-O3", "L13-O4")),
]
