"""How a picture says a mix: its recipe, its consistency, its numbers with their ranges, and the table under the picture."""

from gypsumkit.figures.scene import Table
from gypsumkit.showing import bracketed, range_words, rounded, with_unit

PIN_NAMES = ("A", "B", "C")


CALLED = {"too stiff to pour": "it is too stiff to pour", "pours": "it pours", "runny": "it is runny",
          "not predicted": "its flow is not predicted"}


def recipe_words(recipe):
    """Return powder and water of a recipe at the start of a sentence.

    Parameters
    ----------
    recipe : gypsumkit.recipe.Recipe

    Returns
    -------
    str
    """
    ratio = recipe.water_powder_ratio
    return f"{recipe.powder[0].upper()}{recipe.powder[1:]} with {100 * ratio:.3g} mL of water per 100 g (ratio {ratio:.3g})"


def consistency_words(mix):
    """Return how the bench would call a mix; one that pours only on the vibrator is said to stand when lifted still.

    Parameters
    ----------
    mix : gypsumkit.mix.Mix

    Returns
    -------
    str
        Such as "it pours", without a full stop.
    """
    called = mix.consistency
    if called == "pours" and mix.spread_mm.value <= mix.ring_mm[0] * 1.001:
        return "it pours on the vibrator; lifted still, it stands"
    return CALLED[called]


def said(prediction):
    """Return a prediction in words, a fraction as a percentage.

    Parameters
    ----------
    prediction : gypsumkit.mix.Prediction
        Of one recipe.

    Returns
    -------
    str
    """
    if prediction.value is None:
        return "not predicted"
    return f"{rounded(100 * prediction.value, 3)} %" if prediction.unit == "1" else with_unit(prediction.value, prediction.unit)


def said_range(prediction):
    """Return the plausible range of a prediction in words, without its unit; says when it is extrapolated.

    Parameters
    ----------
    prediction : gypsumkit.mix.Prediction
        Of one recipe.

    Returns
    -------
    str
    """
    if prediction.value is None:
        return ""
    scale = 100 if prediction.unit == "1" else 1
    within = range_words(scale * prediction.low, scale * prediction.high)
    return within if prediction.valid else (within + " extrapolated").strip()


def said_with_range(prediction):
    """Return a prediction in words with its range in brackets.

    Parameters
    ----------
    prediction : gypsumkit.mix.Prediction
        Of one recipe.

    Returns
    -------
    str
    """
    scale = 100 if prediction.unit == "1" else 1
    return said(prediction) + ("" if prediction.value is None else bracketed(scale * prediction.low, scale * prediction.high))


def mix_table(quantities, mix, pins):
    """Return the table of a mix.

    Parameters
    ----------
    quantities : sequence of (str, str)
        What each row says, and the name of its quantity.
    mix : gypsumkit.mix.Mix
        The mix now.
    pins : sequence of Mix
        Up to three pinned ones.

    Returns
    -------
    gypsumkit.figures.scene.Table
    """
    rows = tuple((words, said(getattr(mix, name)), said_range(getattr(mix, name)), *(said(getattr(pin, name)) for pin in pins))
                 for words, name in quantities)
    return Table(("", "now", "plausible range", *(f"pinned {name}" for name in PIN_NAMES[:len(pins)])), rows, "Numbers of this mix")
