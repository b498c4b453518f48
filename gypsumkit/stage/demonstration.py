"""The demonstration of fifty minutes: its steps, each with what to do, what to show, and a question to vote on.

The keys of the questions ask the library. The minutes are ours.
"""

from dataclasses import dataclass, field

from gypsumkit.mix import Mix
from gypsumkit.quiz.questions import Choice, Option
from gypsumkit.recipe import Recipe
from gypsumkit.studies.changes import conditions_with

FIVE = "42, 50, 55, 63 of model plaster; 30 of dental stone"
REAL_MIX = "model plaster", 0.50                     # mixed before the class, and on the bench clock
THREE = "50 of model plaster; 30 of dental stone; 23 of improved stone"
STANDS_MM, RUNS_MM = 36.0, 65.0            # of a ring 35 mm wide: up to here it stands, from here on it runs out


@dataclass(frozen=True)
class Step:
    """One step of the demonstration.

    Parameters
    ----------
    title : str
        What it is about.
    minutes : int
        How long it may take.
    do : sequence of str
        What the lecturer does, in order.
    show : tuple of str
        What stands on the screen: "explorer" or "panel", and its name.
    settings : dict
        With what it is made.
    large : tuple of int
        Which picture of the explorer and which number of its table stand on the stage at first.
    reveal : dict
        Settings, as for `go_to` of the explorer, that the reveal moves to.
    question : Choice or None
        What the class votes on.
    """

    title: str
    minutes: int
    do: tuple
    show: tuple
    settings: dict = field(default_factory=dict)
    large: tuple = (0, 0)
    reveal: dict = field(default_factory=dict)
    question: object = None


def _mix(powder, ratio_ml, **conditions):
    return Mix(Recipe(powder, ratio_ml / 100, **conditions))


def _spread(powder, ratio_ml):
    return float(_mix(powder, ratio_ml).spread_mm.value)


def _shaken(powder, ratio_ml):
    return float(_mix(powder, ratio_ml).vibrated_spread_mm.value)


def _strength(ratio_ml):
    return float(_mix("model plaster", ratio_ml).wet_strength_mpa.value)


def _porosity(ratio_ml):
    return 100 * float(_mix("model plaster", ratio_ml).porosity.value)


def _gloss(change, amount):
    return float(_mix("model plaster", 50, **conditions_with(change, amount)).gloss_loss_min.value)


def _expansion(ratio_ml):
    return float(_mix("improved stone", ratio_ml).setting_expansion_percent.value)


_QUESTIONS = {
    "ring": Choice(
        id="L99-P3", objective="L99-O1",
        prompt="Model plaster with {ratio_ml} mL of water per 100 g fills a ring 35 mm wide and 50 mm high. The ring is lifted; nothing shakes. What does "
               "the mix do?",
        parameters={"ratio_ml": 42}, computed={"spread": lambda p: _spread("model plaster", p.ratio_ml)},
        explanation="Its own weight does not overcome its yield stress: it keeps {spread:.0f} mm. More water lowers the yield stress, and the mix slumps.",
        options=(Option("It stands as a cylinder.", "The weight of the mix is too small for its yield stress.", correct=lambda p: p.spread <= STANDS_MM),
                 Option("It sinks a little, like a cake.", "That takes a lower yield stress: more water.", correct=lambda p: STANDS_MM < p.spread < RUNS_MM),
                 Option("It runs out flat.", "It does not have that much water; look at the ring with 63 mL.", correct=lambda p: p.spread >= RUNS_MM))),
    "vibrator": Choice(
        id="L99-P1", objective="L99-O1",
        prompt="The same stiff mix, {ratio_ml} mL per 100 g. Now the plate is on the vibrator while the ring is lifted. What does it do?",
        parameters={"ratio_ml": 42}, computed={"shaken": lambda p: _shaken("model plaster", p.ratio_ml), "still": lambda p: _spread("model plaster", p.ratio_ml)},
        explanation="Still it keeps {still:.0f} mm; shaken it goes to about {shaken:.0f} mm. Shaking lowers the yield stress while it lasts; it adds no water.",
        options=(Option("It stands as before: the water is the same.", "The water is the same, but shaken grains do not hold on to each other.",
                        correct=lambda p: p.shaken < p.still + 5),
                 Option("It spreads, but stays a thick heap.", "Shaking lowers the yield stress; it does not take it away.",
                        correct=lambda p: p.still + 5 <= p.shaken < 90),
                 Option("It runs out like water.", "Some yield stress is left even on the vibrator.", correct=lambda p: p.shaken >= 90))),
    "powders": Choice(
        id="L99-P2", objective="L99-O2",
        prompt="Model plaster with 50 mL, dental stone with 30 mL and improved stone with 23 mL per 100 g: very different amounts of water. Three rings are "
               "lifted. Which mix is the runniest?",
        computed={"plaster": lambda p: _spread("model plaster", 50), "stone": lambda p: _spread("dental stone", 30),
                  "improved": lambda p: _spread("improved stone", 23)},
        explanation="They spread to {plaster:.0f}, {stone:.0f} and {improved:.0f} mm: about alike. Dense, smooth grains leave less room to fill, so stone "
                    "needs less water to flow alike.",
        options=(Option("The plaster: it has by far the most water.", "Its rough, porous grains take up most of that water; little is left for flow.",
                        correct=lambda p: p.plaster > 1.3 * max(p.stone, p.improved)),
                 Option("About alike.", "Each powder was given the water that its grains need.",
                        correct=lambda p: max(p.plaster, p.stone, p.improved) <= 1.3 * min(p.plaster, p.stone, p.improved)),
                 Option("The improved stone: its grains are the smoothest.", "Smooth grains need less water; it got less, too.",
                        correct=lambda p: p.improved > 1.3 * max(p.stone, p.plaster)))),
    "pores": Choice(
        id="L99-P5", objective="L99-O2",
        prompt="A cast of model plaster from {ratio_ml} mL of water per 100 g has set and dried. How much of its volume is empty?",
        parameters={"ratio_ml": 50}, computed={"porosity": lambda p: _porosity(p.ratio_ml), "wetter": lambda p: _porosity(60)},
        explanation="About {porosity:.0f} %. Only 18 to 19 mL per 100 g can be bound; the rest leaves pores. With 60 mL it is {wetter:.0f} %.",
        options=(Option("Less than 10 %: set plaster is solid.", "Most of the water is not bound, and it leaves pores as it dries.", correct=lambda p: p.porosity < 10),
                 Option("About a quarter.", "That is what dental stone comes to.", correct=lambda p: 10 <= p.porosity < 33),
                 Option("Nearly a half.", "The water that was not bound leaves its room empty.", correct=lambda p: p.porosity >= 33))),
    "strength": Choice(
        id="L99-P4", objective="L99-O3",
        prompt="One student takes {more_ml} mL of water per 100 g of model plaster in place of {ratio_ml}, because it is easier to pour. How much of the wet "
               "strength is left?",
        parameters={"ratio_ml": 50, "more_ml": 60}, computed={"left": lambda p: 100 * _strength(p.more_ml) / _strength(p.ratio_ml),
                                                              "usual": lambda p: _strength(p.ratio_ml), "weak": lambda p: _strength(p.more_ml)},
        explanation="From {usual:.1f} to {weak:.1f} MPa: about {left:.0f} % is left. Strength falls faster than porosity rises.",
        options=(Option("Nearly all: the pores are small.", "Small or large, every pore takes away what could carry.", correct=lambda p: p.left >= 92),
                 Option("About three quarters.", "Ten mL more per 100 g cost about a quarter.", correct=lambda p: 62 <= p.left < 92),
                 Option("Less than half.", "That takes far more water; try it with the slider.", correct=lambda p: p.left < 62))),
    "clock": Choice(
        id="L99-P6", objective="L99-O3",
        prompt="The bowl was not cleaned: 1 % of ground set gypsum is in the powder. Without it the gloss is lost after about {clean:.0f} min. And now?",
        computed={"clean": lambda p: _gloss("nothing", None), "dirty": lambda p: _gloss("ground set gypsum", 1.0)},
        explanation="After about {dirty:.0f} min instead of {clean:.0f}. Crystals that are there already need not begin: the setting starts at once.",
        options=(Option("Later: old gypsum is dead matter.", "It dissolves no faster, but crystals grow on it at once.", correct=lambda p: p.dirty > 1.1 * p.clean),
                 Option("At about the same time.", "One percent is enough: it brings millions of crystals.", correct=lambda p: 0.9 * p.clean <= p.dirty <= 1.1 * p.clean),
                 Option("Much earlier.", "The old crystals are seeds on which new ones grow.", correct=lambda p: p.dirty < 0.9 * p.clean))),
    "expansion": Choice(
        id="L99-P11", objective="L99-O3",
        prompt="Improved stone is mixed with 26 mL of water per 100 g in place of 22. How does its setting expansion change?",
        computed={"thick": lambda p: _expansion(22), "thin": lambda p: _expansion(26)},
        explanation="From {thick:.3f} to {thin:.3f} %. Expansion comes from crystals that push each other; with more water they stand further apart.",
        options=(Option("It expands more: water takes up room.", "Water takes up room from the start; growth comes from crystals that push.",
                        correct=lambda p: p.thin > 1.03 * p.thick),
                 Option("It stays the same: expansion belongs to the powder.", "Powder and recipe both count.", correct=lambda p: 0.97 * p.thick <= p.thin <= 1.03 * p.thick),
                 Option("It expands less.", "The crystals stand further apart and push each other less.", correct=lambda p: p.thin < 0.97 * p.thick))),
}

BRING = (
    "model plaster and water weighed and measured for one mix of 50 mL per 100 g, and for a fresh one if you use the vibrator; bowl, spatula, clean",
    "a ring 35 mm wide and 50 mm high, a glass plate, a ruler; the vibrator",
    "model plaster, dental stone and improved stone in closed glasses",
    "a dry cast and a dropper with water",
    "two dry sticks of model plaster, of 50 and of 60 mL per 100 g, made some days before",
    "a light and a heavy needle; a crown that no longer fits its die",
    "masks, goggles, and a bin for what has set",
)

STEPS = (
    Step("The ring test", 7, ("Ask, count hands, let neighbours talk for a minute, count again.", "Then mix model plaster, 50 mL per 100 g, weighed "
         "before: start the clock as powder meets water, spatulate, fill a ring.", "Reveal. Lift the real ring at 2 min: it should look like the picture of "
         "50 mL."), ("explorer", "rings side by side"), {"recipes": FIVE}, (0, 0), {"lifted": True}, _QUESTIONS["ring"]),
    Step("On the vibrator", 6, ("Keep hair, sleeves and jewellery away from the vibrator. A real ring needs a fresh mix: the first one is too stiff by now.",
         "Ask, count, talk, count again; then reveal."), ("explorer", "rings side by side"), {"recipes": FIVE}, (0, 0), {"lifted": True, "vibrated": True},
         _QUESTIONS["vibrator"]),
    Step("Three powders", 6, ("Show the three powders. Do not breathe the dust.", "Ask, count, talk, count again; then reveal."),
         ("explorer", "rings side by side"), {"recipes": THREE}, (0, 0), {"lifted": True}, _QUESTIONS["powders"]),
    Step("Is the gloss gone?", 4, ("Look at the real mix against the light. The gloss may go before this step or after it: press Gloss lost now "
         "at that moment.", "No finger in a setting mass: it grows hot."), ("panel", "bench clock")),
    Step("Where the water goes", 6, ("Pass a dry cast round: it soaks up a drop of water.", "Ask, count, talk, count again; then reveal."),
         ("explorer", "water"), {}, (1, 2), {"powder": "model plaster", "ratio": 0.60}, _QUESTIONS["pores"]),
    Step("What extra water costs", 6, ("Break a stick of 50 mL and one of 60 mL by hand over the bench, with goggles on.", "Ask, count, talk, count again; then reveal."),
         ("explorer", "strength"), {}, (2, 1), {"powder": "model plaster", "ratio": 0.60}, _QUESTIONS["strength"]),
    Step("The setting clock", 6, ("Press the light and the heavy needle into the real mix: do they leave a mark?", "Ask, count, talk, count again; then reveal."),
         ("explorer", "clock"), {}, (2, 2), {"change": "ground set gypsum", "amount": 1.0}, _QUESTIONS["clock"]),
    Step("Does it grow?", 6, ("Show a crown that no longer fits its die.", "Ask, count, talk, count again; then reveal."),
         ("explorer", "expansion"), {"powder": "improved stone", "ratio": 0.22}, (0, 0), {"ratio": 0.26}, _QUESTIONS["expansion"]),
    Step("To take home", 3, ("One sentence each from three students: what would you weigh tomorrow, and why?", "No plaster into the drain; wipe bowls before washing."),
         ("explorer", "water"), {"powder": "dental stone"}),
)

MINUTES = sum(step.minutes for step in STEPS)
