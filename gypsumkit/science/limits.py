"""What the standard allows a gypsum product to expand while it sets, by type and edition, and how a prediction is judged by it.

None of the limits was read in the standard itself: those of 1998 are recalled, those of 2013 were read as others quote them.
So no verdict is given without saying so.
"""

from typing import NamedTuple

EDITIONS = ("2013", "1998")
STANDING = {"1998": "limit from memory", "2013": "limit as quoted by others, standard not read"}


class ExpansionLimit(NamedTuple):
    """One limit of linear setting expansion, in air.   [iso_6873]"""

    edition: str
    iso_type: int
    use: str                    # where one type has several limits
    hours: float                # after mixing
    low_percent: float
    high_percent: float


EXPANSION_LIMITS = (
    ExpansionLimit("1998", 1, "", 2, 0.0, 0.15),
    ExpansionLimit("1998", 2, "", 2, 0.0, 0.30),
    ExpansionLimit("1998", 3, "", 2, 0.0, 0.20),
    ExpansionLimit("1998", 4, "", 2, 0.0, 0.15),
    ExpansionLimit("1998", 5, "", 2, 0.16, 0.30),
    ExpansionLimit("2013", 1, "", 2, 0.0, 0.15),
    ExpansionLimit("2013", 2, "class 1, mounting", 2, 0.0, 0.05),
    ExpansionLimit("2013", 2, "class 2, models", 2, 0.06, 0.30),
    ExpansionLimit("2013", 3, "", 2, 0.0, 0.20),
    ExpansionLimit("2013", 4, "", 2, 0.0, 0.15),
    ExpansionLimit("2013", 4, "at 24 h", 24, 0.0, 0.18),
    ExpansionLimit("2013", 5, "", 2, 0.16, 0.30),
)


def expansion_limits(iso_type, edition):
    """Return the limits of expansion of one type in one edition.

    Parameters
    ----------
    iso_type : int
        1 to 5.
    edition : str
        One of `EDITIONS`.

    Returns
    -------
    tuple of ExpansionLimit

    Notes
    -----
    A choice out of the table above [iso_6873].
    """
    return tuple(limit for limit in EXPANSION_LIMITS if limit.iso_type == iso_type and limit.edition == edition)


def judged(limit, value_percent, low_percent, high_percent):
    """Say how a predicted expansion lies to a limit; never a pass without its reserves.

    Parameters
    ----------
    limit : ExpansionLimit
        The limit.
    value_percent, low_percent, high_percent : float
        Predicted expansion and its plausible range, %.

    Returns
    -------
    str
        Such as "inside it, but the plausible range reaches above".

    Notes
    -----
    Comparison of value, low and high with the two ends of the limit [gypsumkit]; the limits [iso_6873].
    """
    if value_percent < limit.low_percent:
        return "below it" if high_percent < limit.low_percent else "below it, but the plausible range reaches into it"
    if value_percent > limit.high_percent:
        return "above it" if low_percent > limit.high_percent else "above it, but the plausible range reaches into it"
    reaches = [words for words, out in (("below", low_percent < limit.low_percent), ("above", high_percent > limit.high_percent)) if out]
    return f"inside it, but the plausible range reaches {' and '.join(reaches)}" if reaches else "inside it, with its plausible range"


def limit_words(limit):
    """Say a limit with its edition and standing.

    Parameters
    ----------
    limit : ExpansionLimit
        The limit.

    Returns
    -------
    str

    Notes
    -----
    The two ends, with what is known of where they come from [iso_6873].
    """
    use = f", {limit.use}" if limit.use else ""
    return (f"{limit.low_percent:.2f} to {limit.high_percent:.2f} % (ISO 6873:{limit.edition}, type {limit.iso_type}{use}; "
            f"{STANDING[limit.edition]})")
