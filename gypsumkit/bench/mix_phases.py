"""What to be doing with a mix and what it should look like, from powder meeting water until it is separated, for this very recipe.

The work of the hands is common practice; the moments of pouring, gloss and needles are the library's own clock for this powder,
ratio, temperature, mixing and additive. Phases follow one another without gap or overlap; what a fast mix leaves no time for is
left out, and said.
"""

import math
from typing import NamedTuple

from gypsumkit.bench.plan import MACHINE_MIN, MARGIN_MIN, TURNS_PER_MIN, WET_MIN
from gypsumkit.conditions import HAND_TURNS
from gypsumkit.mix import predict_setting
from gypsumkit.powders import POWDERS
from gypsumkit.remembering import remembered

PRACTICE, COMPUTED, SEEN, OURS = "common practice, no source", "calculated", "measured here", "our calibration"
FILL_MIN = 0.25                          # to fill the ring                                              [trade]
LIFT_MIN = 10 / 60                       # to lift it and read the spread                                [gypsumkit]
QUICK_WET_MIN = 0.25                     # of a powder whose ring is lifted before 2 min                 [gypsumkit]
HURTS_C = 45.0                           # prolonged contact may harm the skin                           [nsead_safety]

DUST = "Do not raise dust: pour the powder low. Mask and goggles."
MIXER = "No hand, hair or sleeve near a running mixer; lid closed under vacuum."
VIBRATOR = "Vibrator: dry hands, hair and sleeves tied back."
HOT = "A setting mass grows hot: no finger, hand or any part of the body in it."
SINK = "No gypsum into the sink. Impressions only after disinfection, as their maker says."


class Phase(NamedTuple):
    """One thing to do, min from the start of mixing; the last one has no end."""

    name: str
    do: str
    look: str                            # what the mix should look like meanwhile
    begin_min: float
    end_min: float                       # infinite where nothing ends it
    end_low_min: float                   # plausible range of the end; the end itself where it is not predicted
    end_high_min: float
    standing: str                        # of its end
    until: str                           # what ends it, in words
    caution: str


def later(recipe, gloss_lost_min):
    """Return how many times as late as predicted everything comes, from when the gloss was lost; 1 while that is not known.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    gloss_lost_min : float or None
        When the gloss was seen to be lost.

    Returns
    -------
    float
    """
    predicted = _events(recipe)["gloss_loss_min"].value
    return 1.0 if gloss_lost_min is None or predicted is None else max(gloss_lost_min, 1e-3) / float(predicted)


@remembered(32)
def phases(recipe, gloss_lost_min=None):
    """Return what to be doing when.

    Once the loss of gloss is seen, each later moment is its predicted one times the seen over the predicted loss of gloss: a simple
    law of our own. Ranges are multiplied alike; they still hold the doubt about the gloss itself and are wider than need be.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    gloss_lost_min : float, optional
        When the gloss was seen to be lost.

    Returns
    -------
    tuple of Phase
    """
    found, begin = [], 0.0
    for step in _steps(recipe, gloss_lost_min):
        if gloss_lost_min is not None and step.by_hand:
            step = _ended_by_gloss(step, gloss_lost_min)
        if step.end_min > begin + 1e-9:
            low, high = (step.end_min, step.end_min) if step.low is None else (max(step.low, begin), max(step.high, step.end_min))
            found.append(Phase(step.name, step.do, step.look, begin, step.end_min, low, high, step.standing, step.until, step.caution))
            begin = step.end_min
    return tuple(found)


def left_out(recipe):
    """Return what a fast mix leaves no time for, in a sentence; empty when it leaves time for all.

    Parameters
    ----------
    recipe : Recipe
        The mix.

    Returns
    -------
    str
    """
    names = {one.name for one in phases(recipe)}
    said = []
    if _events(recipe)["gloss_loss_min"].value is None:
        said.append(f"This mix {_events(recipe)['gloss_loss_min'].reason}: nothing after the ring is predicted.")
    if "Pour and vibrate" not in names:
        said.append("It no longer pours once the ring is lifted: leave the ring out and pour at once, or choose a slower mix.")
    wet, mixed, ring = _hands(recipe)
    usual = POWDERS[recipe.powder].standard_time_min
    if ring > usual:
        said.append(f"So many turns take until {60 * mixed:.0f} s: the ring is lifted after its usual {usual:g} min.")
    elif recipe.mixing in HAND_TURNS and mixed - wet < (recipe.turns or HAND_TURNS[recipe.mixing]) / TURNS_PER_MIN - 1e-9:
        said.append(f"Before the ring is lifted at {usual:g} min there is time for about {TURNS_PER_MIN * (mixed - wet):.0f} turns at three a second; "
                    f"what is computed is for {recipe.turns or HAND_TURNS[recipe.mixing]:.0f}.")
    return " ".join(said)


class _Step(NamedTuple):
    """A phase before it is fitted between its neighbours."""

    name: str
    do: str
    look: str
    end_min: float
    low: float
    high: float
    standing: str
    until: str
    caution: str
    by_hand: bool = False


def _ended_by_gloss(step, gloss_lost_min):
    """A step of the hands, which the loss of gloss ends where it comes first."""
    if step.end_min > gloss_lost_min:
        return step._replace(end_min=gloss_lost_min, low=None, high=None, standing=SEEN, until="the gloss is lost")
    return step if step.high is None else step._replace(high=min(step.high, gloss_lost_min))


@remembered(32)
def _events(recipe):
    return predict_setting(recipe.powder, recipe.water_powder_ratio, recipe)


def _hands(recipe):
    """When the powder is wet, when the mix is mixed, and when the ring is lifted, min."""
    usual = POWDERS[recipe.powder].standard_time_min
    wet = WET_MIN if usual >= 2.0 else QUICK_WET_MIN
    mixing = (recipe.turns or HAND_TURNS[recipe.mixing]) / TURNS_PER_MIN if recipe.mixing in HAND_TURNS else MACHINE_MIN
    mixed = wet + mixing
    if mixed + FILL_MIN > usual and recipe.turns is None:
        mixed = usual - FILL_MIN              # as many turns as there is time for: the ring has its moment
    return wet, mixed, max(usual, mixed + FILL_MIN)


def _steps(recipe, gloss_lost_min):
    wet, mixed, ring = _hands(recipe)
    events, factor = _events(recipe), later(recipe, gloss_lost_min)
    seen = gloss_lost_min is not None and events["gloss_loss_min"].value is not None

    def predicted(name, margin=0.0, factor=factor):
        one = events[name]
        if one.value is None:
            return math.inf, math.inf, math.inf
        return tuple(factor * float(end) + margin if math.isfinite(end) else math.inf for end in (one.value, one.low, one.high))
    yield _Step("Soak the powder", "Sift the powder into the water. Let it soak; do not stir yet.",
                "The powder darkens and sinks; at the end no dry island is left.", wet, None, None, PRACTICE, "it is soaked", DUST, True)
    if recipe.mixing in HAND_TURNS:
        beaten = recipe.mixing == "beaten by hand"
        yield _Step("Spatulate", "Stir like an egg, as the habit is: see how much air it takes in." if beaten else
                    "Wipe the mix against the wall of the bowl, three turns a second. Do not beat air in.",
                    "Full of bubbles, soon even in colour." if beaten else "Smooth and creamy, one colour, no lumps.", mixed, None, None, PRACTICE,
                    "it is mixed", DUST, True)
    else:
        yield _Step("Mix by machine", "Close the lid, start pump and mixer.", "Smooth, shining, almost without bubbles.", mixed, None, None, PRACTICE, "it is mixed",
                    MIXER, True)
    yield _Step("Fill the ring", "Fill the ring on its glass plate and wipe it level.", "Level with the rim, shining, no holes.", ring, None, None, PRACTICE,
                "the ring's moment", "", True)
    yield _Step("Lift the ring", "Lift it straight up, now. Read how far the mix spreads.", "It sinks and spreads, or stands, as its consistency says.",
                ring + LIFT_MIN, None, None, PRACTICE, "the spread is read", "", True)
    until = predicted("working_time_min", factor=1.0)
    yield _Step("Pour and vibrate", "Let small portions run in from one side, on the vibrator.", "It runs when shaken, shines, and bubbles rise and burst.", *until,
                COMPUTED, "it stops pouring", VIBRATOR + " " + SINK, True)
    gloss = (gloss_lost_min,) * 3 if seen else predicted("gloss_loss_min")
    yield _Step("Wait for the gloss to go", "Leave it in peace. Press “Gloss lost now” the moment the shine is gone.",
                "It shines, and grows stiff; then the surface turns dull.", *gloss, SEEN if seen else COMPUTED, "the gloss is lost", HOT)
    still = "" if seen else "Still shining? Wait, and press “Gloss lost now” when the shine goes. "
    yield _Step("Light needle", still + "Set the light needle down gently, each half minute, at a new place.",
                "Dull, firm; the needle leaves less and less of a mark.", *predicted("light_needle_min"), COMPUTED, "the light needle leaves no mark", HOT)
    yield _Step("Heavy needle", "Now the heavy needle, each minute, at a new place.", "Hard to the nail, growing warm.", *predicted("final_set_min"), COMPUTED,
                "the heavy needle leaves no mark: final set", HOT)
    hottest = _events(recipe)["peak_temperature_c"]
    hurts = hottest.high is not None and hottest.high >= HURTS_C
    heat = f"It can reach {hottest.high:.0f} °C in one lump of {recipe.powder_g:g} g of powder: do not touch. " if hurts else ""
    yield _Step("Leave it alone", "Do not separate yet. Clean bowl and spatula.", "Hard, warm to hot, then cooling.", *predicted("final_set_min", MARGIN_MIN), OURS,
                f"{MARGIN_MIN} min after the final set", heat + HOT)
    yield _Step("Separate", "Not before now, and not before the product's instructions say. Hold a hand near it first, not on it: is it still hot?",
                "Hard, cool, dull all over.", math.inf, None, None, PRACTICE, "", "Gloves and goggles; edges break and cut. " + SINK)
