"""Casts gone wrong: the signs, the causes with how likely each shows each sign, and the checks that tell causes apart.

The likelihoods are ours: five levels, never counted in any laboratory. They order the suspects, no more. Which causes make
which faults is common practice and handbooks; where a list was read, its source is named with the cause.
"""

from typing import NamedTuple

import numpy as np

from gypsumkit.powders import named
from gypsumkit.problems import Problem
from gypsumkit.studies import bayes

# How likely a cause shows a sign.                                              [gypsumkit]
LEVELS = {"hardly ever": 0.03, "rarely": 0.10, "sometimes": 0.30, "often": 0.60, "nearly always": 0.90}
# How often a cause is behind a spoiled cast of a beginner, as a weight.         [gypsumkit]
COMMON = {"uncommon": 1.0, "common": 3.0, "very common": 6.0}
# How surely a check shows what its cause should show; the rest is shared by its other outcomes.      [gypsumkit]
SURE, FAIRLY_SURE = 0.90, 0.75
MOST_SIGNS = 5


class Sign(NamedTuple):
    """Something to be seen on a cast, in the bowl or while pouring."""

    look: str


class Cause(NamedTuple):
    """One thing that goes wrong, and what it shows."""

    common: str                 # a key of `COMMON`
    shows: dict                 # sign by level; a sign that is not named is shown "hardly ever"
    how: str                    # how it does it
    avoid: str
    standing: str               # where the link of cause and fault comes from
    source: str                 # a key of `gypsumkit.sources.SOURCES`
    caution: str = ""


class Check(NamedTuple):
    """One thing to do that tells causes apart."""

    do: str
    outcomes: tuple             # the last one is what every cause shows that is not named
    shown_by: dict              # causes by outcome
    sure: float = SURE
    on_cast: bool = False       # needs a cast that has set
    caution: str = ""


SIGNS = {
    "chalky surface": Sign("the dry surface leaves powder on a dark cloth"),
    "soft after an hour": Sign("a fingernail makes a groove in the base one hour after mixing"),
    "bubbles on the tooth side": Sign("small holes on cusps, edges and margins"),
    "bubbles all through": Sign("holes also on the base and wherever it is trimmed"),
    "does not set": Sign("still plastic after twice the usual time"),
    "sets in the bowl": Sign("stiff before it can be poured"),
    "too stiff to run in": Sign("it stands in lumps on the vibrator and does not follow the impression"),
    "runs like water": Sign("it runs off the spatula and does not pile up"),
    "water stands on the base": Sign("a wet shiny film stays on top of the poured cast"),
    "distorted": Sign("it rocks on a flat glass, or a splint that fits the mouth does not fit the cast"),
    "breaks on removal": Sign("a tooth or an edge stays in the impression"),
    "die too large": Sign("the same piece made on it is loose, or a calliper says so"),
    "die too small": Sign("the same piece made on it is tight, or a calliper says so"),
    "rough against the impression": Sign("grainy where it touched the impression, smooth where it was cut"),
    "edges washed away": Sign("edges and fine lines are rounded, as if rinsed off"),
    "layers": Sign("lines or a step between two portions, and it comes apart there"),
    "lumps or streaks": Sign("grey and white streaks, or grains of dry powder"),
    "cracks while drying": Sign("fine cracks that open days later"),
}

_TRADE, _FROM_MEMORY, _READ = "common practice, no source", "handbook, from memory", "published"

CAUSES = {
    "too much water": Cause(
        "very common",
        {"nearly always": ("runs like water",), "often": ("soft after an hour", "water stands on the base", "chalky surface"),
         "sometimes": ("breaks on removal", "cracks while drying"), "rarely": ("rough against the impression", "die too small")},
        "Water that does not react leaves pores, and the pores carry nothing.", "Weigh the powder, measure the water.", _FROM_MEMORY, "craig_handbook"),
    "too little water": Cause(
        "common",
        {"nearly always": ("too stiff to run in",), "often": ("bubbles on the tooth side", "bubbles all through"),
         "sometimes": ("sets in the bowl", "die too large", "layers"), "rarely": ("lumps or streaks",)},
        "A stiff mix does not fill the tips, holds its air, and its crystals push for longer.", "Weigh the powder, measure the water. Never add powder by eye.",
        _FROM_MEMORY, "craig_handbook"),
    "wrong powder": Cause(
        "uncommon",
        {"often": ("breaks on removal",), "sometimes": ("soft after an hour", "die too large", "too stiff to run in", "runs like water", "sets in the bowl"),
         "rarely": ("chalky surface",)},
        "Each powder has its own water, its own strength and its own growth.", "Read the label before you weigh. One scoop for each tin.", _TRADE, "trade"),
    "long exposed powder": Cause(
        "common",
        {"often": ("soft after an hour", "lumps or streaks"), "sometimes": ("does not set", "chalky surface", "breaks on removal")},
        "Damp air has coated the grains with gypsum and glued them into lumps: they dissolve slowly.", "Close the tin at once. Use the oldest tin first, but not a year-old open one.",
        _FROM_MEMORY, "craig_handbook"),
    "slightly damp powder": Cause(
        "common",
        {"often": ("sets in the bowl", "too stiff to run in"), "sometimes": ("die too large",), "rarely": ("bubbles on the tooth side", "lumps or streaks")},
        "The first moisture makes small gypsum crystals in the powder: seeds.", "Dry scoop, closed tin.", _FROM_MEMORY, "craig_handbook"),
    "set gypsum left in the bowl": Cause(
        "common",
        {"nearly always": ("sets in the bowl",), "often": ("too stiff to run in",), "sometimes": ("die too large", "layers"),
         "rarely": ("lumps or streaks", "bubbles on the tooth side")},
        "Crumbs of the last mix are seeds: the new crystals begin at once and everywhere.", "Wash bowl and spatula before the mix sets on them.", _FROM_MEMORY, "craig_handbook",
        "Rinse into a bucket that settles, never down the drain."),
    "retarder left in the bowl": Cause(
        "uncommon",
        {"nearly always": ("does not set",), "often": ("soft after an hour",), "sometimes": ("chalky surface", "water stands on the base")},
        "Borax, citrate or glue sits on the growing crystals and stops them.", "A bowl for gypsum only.", _FROM_MEMORY, "craig_handbook",
        "Borax is toxic: never mix it in to try this out."),
    "warm mixing water": Cause(
        "uncommon",
        {"rarely": ("sets in the bowl", "too stiff to run in"), "hardly ever": ("does not set",)},
        "Warmth makes the crystals grow faster, but less powder dissolves beyond what gypsum leaves: the two nearly cancel. Near 97 °C nothing sets.", "Water at room temperature.", _FROM_MEMORY, "craig_handbook"),
    "too few turns": Cause(
        "common",
        {"often": ("lumps or streaks",), "sometimes": ("soft after an hour", "water stands on the base"), "rarely": ("chalky surface", "does not set")},
        "Part of the powder stays dry or in clumps, and few seeds are broken off: it sets late and unevenly.", "A full minute, 2 to 3 turns a second.", _FROM_MEMORY, "craig_handbook"),
    "too many turns": Cause(
        "uncommon",
        {"sometimes": ("sets in the bowl", "too stiff to run in", "die too large"), "rarely": ("bubbles all through", "breaks on removal")},
        "Each turn breaks growing crystals into more seeds.", "Stop after the minute. Do not stir again.", _FROM_MEMORY, "craig_handbook"),
    "beaten": Cause(
        "common",
        {"nearly always": ("bubbles all through",), "often": ("bubbles on the tooth side",), "rarely": ("breaks on removal",)},
        "Beating folds air in from above.", "Strop flat against the wall, or mix under vacuum.", _READ, "navy_14275"),
    "water poured onto the powder": Cause(
        "common",
        {"often": ("lumps or streaks", "bubbles all through"), "sometimes": ("bubbles on the tooth side",), "rarely": ("soft after an hour",)},
        "Wet skins close round dry lumps, and the lumps hold air.", "Water first, then sift the powder into it.", _READ, "navy_14275",
        "Wear a mask: sifted powder makes dust."),
    "poured too late": Cause(
        "common",
        {"often": ("too stiff to run in", "bubbles on the tooth side", "layers"), "sometimes": ("sets in the bowl", "breaks on removal", "rough against the impression"),
         "rarely": ("bubbles all through", "distorted")},
        "The network of crystals already stands; working it then tears it.", "Pour at once. What has lost its gloss is thrown away.", _TRADE, "trade"),
    "poured without vibration": Cause(
        "common",
        {"nearly always": ("bubbles on the tooth side",), "rarely": ("layers", "bubbles all through")},
        "A mix that is not shaken holds every bubble, and air stays caught in the tips.", "Let small portions run in from one end, on the vibrator.", _READ, "navy_14275"),
    "vibrated too hard": Cause(
        "uncommon",
        {"often": ("bubbles all through",), "sometimes": ("bubbles on the tooth side", "water stands on the base"), "rarely": ("distorted",)},
        "Hard shaking throws the mix about and folds air in, and it drives water to the top.", "Gently: the mix should flow, not jump.", _TRADE, "trade"),
    "waited between portions": Cause(
        "uncommon",
        {"nearly always": ("layers",), "sometimes": ("breaks on removal",), "rarely": ("bubbles on the tooth side", "cracks while drying")},
        "The first portion has lost its gloss and takes nothing on.", "Have all ready. Pour without a break.", _TRADE, "trade"),
    "impression not rinsed": Cause(
        "very common",
        {"often": ("chalky surface", "rough against the impression"), "sometimes": ("edges washed away",), "rarely": ("bubbles on the tooth side", "soft after an hour")},
        "Saliva, blood and the wet gel itself hold the set back at the surface.", "Rinse, disinfect by the product's instructions, rinse again.", _READ, "makers_questions",
        "An impression from a mouth is contaminated until it has been disinfected: gloves."),
    "water left in the impression": Cause(
        "very common",
        {"often": ("edges washed away", "chalky surface"), "sometimes": ("rough against the impression", "bubbles on the tooth side"),
         "rarely": ("water stands on the base",)},
        "A pool in the tips makes a skin with far too much water, or keeps the gypsum out.", "Shake the drops out. It should be moist, without a pool.", _READ, "makers_questions"),
    "separated too early": Cause(
        "common",
        {"nearly always": ("breaks on removal",), "sometimes": ("rough against the impression", "distorted"), "rarely": ("chalky surface",)},
        "At the final set it carries only a part of its strength.", "Wait as long as the maker says. Lesson 13 plans it.", _READ, "makers_questions"),
    "left too long in the impression": Cause(
        "common",
        {"often": ("rough against the impression", "chalky surface"), "sometimes": ("breaks on removal",), "rarely": ("edges washed away",)},
        "Alginate dries, shrinks onto the cast and draws water from its surface.", "Take it out after about an hour.", _READ, "makers_questions"),
    "soaked in tap water": Cause(
        "uncommon",
        {"nearly always": ("edges washed away",), "sometimes": ("chalky surface",), "rarely": ("die too small",)},
        "Gypsum dissolves a little, and edges go first.", "Soak only in water that already holds gypsum.", _FROM_MEMORY, "craig_handbook"),
    "dried too hot": Cause(
        "uncommon",
        {"often": ("cracks while drying", "chalky surface"), "sometimes": ("die too small",), "rarely": ("breaks on removal", "distorted")},
        "Above about 45 to 60 °C gypsum gives its bound water off again and turns to powder from the outside inwards.", "Dry it warm, below 45 °C, in moving air.",
        _FROM_MEMORY, "craig_handbook"),
    "kept wet while setting": Cause(
        "uncommon",
        {"nearly always": ("die too large",), "rarely": ("chalky surface",)},
        "Under water nothing holds the growing crystals back.", "Let it set in air.", _FROM_MEMORY, "craig_handbook"),
    "impression changed its shape": Cause(
        "common",
        {"nearly always": ("distorted",), "sometimes": ("die too large", "die too small")},
        "Alginate dries or swells, or comes off its tray; the cast copies it faithfully.", "Pour at once, and never rest the impression on its teeth.", _READ, "navy_14275"),
    "silicone poured too soon": Cause(
        "uncommon",
        {"nearly always": ("bubbles on the tooth side",), "often": ("rough against the impression",)},
        "Some impression materials give off gas for a while.", "Wait as long as its maker says.", _READ, "makers_questions"),
}

CHECKS = {
    "weigh and measure again": Check(
        "Weigh and measure one mix just as it was done, without looking at the recipe.", ("too much water", "too little water", "as the recipe says"),
        {"too much water": ("too much water",), "too little water": ("too little water",)}),
    "small mix, clean bowl": Check(
        "Mix a little from the same tin by the recipe in a new clean cup, and time the loss of gloss.", ("gloss lost too soon", "gloss lost too late", "as usual"),
        {"gloss lost too soon": ("slightly damp powder",), "gloss lost too late": ("long exposed powder", "wrong powder")}),
    "fresh powder, same bowl": Check(
        "Mix a little fresh powder in the same bowl, as it is, and time the loss of gloss.", ("gloss lost too soon", "gloss lost too late", "as usual"),
        {"gloss lost too soon": ("set gypsum left in the bowl",), "gloss lost too late": ("retarder left in the bowl",)}),
    "read the tin": Check(
        "Read the label, the opening date and the lid.", ("another powder", "open or old", "right and fresh"),
        {"another powder": ("wrong powder",), "open or old": ("long exposed powder", "slightly damp powder")}),
    "cut it and look": Check(
        "Cut the cast wet and look at the cut with a lens.", ("bubbles all through", "bubbles only near the teeth", "lumps or layers", "even, no bubbles"),
        {"bubbles all through": ("beaten", "vibrated too hard", "too little water"),
         "bubbles only near the teeth": ("poured without vibration", "silicone poured too soon"),
         "lumps or layers": ("water poured onto the powder", "too few turns", "long exposed powder", "poured too late", "waited between portions")},
        FAIRLY_SURE, True, "Saw it wet: dry dust harms the lungs. Eye protection on."),
    "scratch it after a day": Check(
        "After a day scratch the surface and a cut face with a fingernail.", ("soft inside too", "only the surface is soft", "hard everywhere"),
        {"soft inside too": ("too much water", "long exposed powder", "wrong powder", "retarder left in the bowl", "too few turns"),
         "only the surface is soft": ("impression not rinsed", "water left in the impression", "left too long in the impression", "soaked in tap water", "dried too hot")}, on_cast=True),
    "measure the arch": Check(
        "Measure about 50 mm on the cast and on the piece it copies, in three directions.", ("larger everywhere", "not the same in all directions", "the same"),
        {"larger everywhere": ("kept wet while setting", "too little water", "set gypsum left in the bowl", "slightly damp powder", "too many turns", "wrong powder"),
         "not the same in all directions": ("impression changed its shape", "separated too early")}, FAIRLY_SURE, True),
    "ask for the times": Check(
        "Ask when mixing began, when it was poured, and whether the gloss was still there.", ("poured after the gloss was lost", "a break between portions", "poured in time"),
        {"poured after the gloss was lost": ("poured too late",), "a break between portions": ("waited between portions",)}),
    "new impression, all else the same": Check(
        "Pour a new impression, rinsed and shaken out, with the same powder, bowl and hand.", ("the fault is gone", "the fault is back"),
        {"the fault is gone": ("impression not rinsed", "water left in the impression", "impression changed its shape", "silicone poured too soon", "separated too early",
                               "left too long in the impression", "soaked in tap water", "dried too hot", "kept wet while setting")}),
    "watch the next mix": Check(
        "Let the same person mix again. Count turns, feel the water, watch the hand.", ("few turns", "far too many turns", "warm water", "beaten or water last", "as taught"),
        {"few turns": ("too few turns",), "far too many turns": ("too many turns",), "warm water": ("warm mixing water",),
         "beaten or water last": ("beaten", "water poured onto the powder")}),
    "watch the next pour": Check(
        "Let the same person pour again. Watch impression and vibrator.", ("no vibrator", "the mix jumps", "a pool or no rinsing", "as taught"),
        {"no vibrator": ("poured without vibration",), "the mix jumps": ("vibrated too hard",),
         "a pool or no rinsing": ("impression not rinsed", "water left in the impression")}),
    "ask what came after": Check(
        "Ask when it was taken out, and where it has been since.", ("out before an hour", "in the impression overnight", "in water", "in the heat", "an hour, then air"),
        {"out before an hour": ("separated too early",), "in the impression overnight": ("left too long in the impression",),
         "in water": ("soaked in tap water", "kept wet while setting"), "in the heat": ("dried too hot",)}, on_cast=True),
}


# With these there is no cast that could be cut, scratched or measured.
WITHOUT_CAST = ("does not set", "sets in the bowl")


def chance(cause, sign):
    """Return how likely a cause shows a sign.

    Parameters
    ----------
    cause, sign : str
        Keys of `CAUSES` and `SIGNS`.

    Returns
    -------
    float
        One of the numbers of `LEVELS`.
    """
    return LEVELS[level(cause, sign)]


def level(cause, sign):
    """Return the same in words, a key of `LEVELS`.

    Parameters
    ----------
    cause, sign : str
        Keys of `CAUSES` and `SIGNS`.

    Returns
    -------
    str
    """
    return next((words for words, signs in CAUSES[cause].shows.items() if sign in signs), "hardly ever")


def prior():
    """Return the share of each cause before anything is seen, in the order of `CAUSES`.

    Returns
    -------
    array
        Shares that add up to 1.
    """
    weights = np.array([COMMON[cause.common] for cause in CAUSES.values()])
    return weights / weights.sum()


def outcome_table(check):
    """Return how likely each cause shows each outcome of a check.

    Parameters
    ----------
    check : str
        A key of `CHECKS`.

    Returns
    -------
    array
        One row an outcome, one column a cause; each column adds up to 1.
    """
    outcomes, shown_by, sure = CHECKS[check].outcomes, CHECKS[check].shown_by, CHECKS[check].sure
    table = np.full((len(outcomes), len(CAUSES)), (1.0 - sure) / (len(outcomes) - 1))
    for column, cause in enumerate(CAUSES):
        table[next((row for row, outcome in enumerate(outcomes) if cause in shown_by.get(outcome, ())), -1), column] = sure
    return table


class Suspect(NamedTuple):
    """A cause with its share after what was seen."""

    cause: str
    share: float


class Teller(NamedTuple):
    """A check with how much it is expected to tell, in bits."""

    check: str
    bits: float


class Reading(NamedTuple):
    """What was seen, and what follows: suspects and checks, the first ones first."""

    seen: tuple
    absent: tuple
    checked: tuple              # pairs of check and outcome
    suspects: tuple
    doubt_bits: float
    checks: tuple

    @property
    def best_check(self):
        """The check that splits the suspects best, of those not yet made that can be made."""
        return self.checks[0]

    def share(self, cause):
        """Return the share of one cause."""
        return next(one.share for one in self.suspects if one.cause == cause)


def read_faults(seen=(), absent=(), checked=()):
    """Rank the causes of a fault by Bayes' rule, and the checks by how well they split the causes.

    Parameters
    ----------
    seen : sequence of str
        Signs that are there, keys of `SIGNS`.
    absent : sequence of str
        Signs that were looked for and are not there. A sign in neither list counts for nothing.
    checked : sequence of pairs of str
        Checks made, each with its outcome.

    Returns
    -------
    Reading

    Raises
    ------
    Problem
        When a sign, a check or an outcome is not known, or a sign is said to be there and not there.
    """
    seen, absent = _signs(seen), _signs(absent)
    both = [sign for sign in seen if sign in absent]
    if both:
        raise Problem(f"“{both[0]}” is given as seen and as not there: choose one of the two.")
    if len(seen) + len(absent) > MOST_SIGNS:
        raise Problem(f"{len(seen) + len(absent)} signs are given; give the {MOST_SIGNS} clearest at most: more would count the same thing twice.")
    checked = tuple(_outcome(*pair) for pair in checked)
    repeated = [check for place, (check, _) in enumerate(checked) if check in [other for other, _ in checked[:place]]]
    if repeated:
        raise Problem(f"The check “{repeated[0]}” is given twice: give its outcome once.")
    rows = [[chance(cause, sign) for cause in CAUSES] for sign in seen]
    rows += [[1.0 - chance(cause, sign) for cause in CAUSES] for sign in absent]
    rows += [outcome_table(check)[CHECKS[check].outcomes.index(outcome)] for check, outcome in checked]
    shares = bayes.posterior(prior(), rows)
    suspects = sorted((Suspect(cause, float(share)) for cause, share in zip(CAUSES, shares)), key=lambda one: -one.share)
    cast = not any(sign in WITHOUT_CAST for sign in seen)
    open_checks = [name for name, check in CHECKS.items() if name not in [made for made, _ in checked] and (cast or not check.on_cast)]
    tellers = sorted((Teller(check, bayes.information_bits(shares, outcome_table(check))) for check in open_checks), key=lambda one: -one.bits)
    return Reading(seen, absent, checked, tuple(suspects), bayes.doubt_bits(shares), tuple(tellers))


def _signs(given):
    if isinstance(given, str):
        given = (given,)
    return tuple(dict.fromkeys(named(sign, SIGNS, "no sign") for sign in given))


def _outcome(check, outcome):
    check = named(check, CHECKS, "no check")
    return check, named(outcome, CHECKS[check].outcomes, f"no outcome of the check “{check}”")


def after(reading, check, outcome):
    """Return the reading once one more check has shown an outcome.

    Parameters
    ----------
    reading : Reading
        Before.
    check, outcome : str
        What is checked, and what it shows.

    Returns
    -------
    Reading
    """
    return read_faults(reading.seen, reading.absent, (*reading.checked, (check, outcome)))


def likelihood_words(share):
    """Say a share of suspicion in words.

    Parameters
    ----------
    share : float
        0 to 1.

    Returns
    -------
    str
        "main suspect" from one half, "likely" from one fifth, "possible" from one twentieth, else "unlikely"; rounded as whole casts in 100 are.
    """
    return "main suspect" if share >= 0.495 else "likely" if share >= 0.195 else "possible" if share >= 0.045 else "unlikely"
