"""Numbers for every candidate: drawn from a secret, and only taken when they are as hard as everybody else's.

A set of numbers is fair when its given numbers have the digits that the task declares and are not round, its results lie in the
band that the task declares and away from a rounding edge, a candidate who rounds on the way is still accepted, no slip comes near
a right answer, no result can be copied from the text, and the library may be trusted there.
"""

import hashlib
import hmac
import json
import math
import re

from gypsumkit.problems import Problem

SETS = ("first", "resit")
WIDEST_BAND = 6.0          # the largest result of a task over its smallest                     ours
EDGE = 0.05                # of a unit of the last digit: nearer to the edge it could be rounded either way
SLIP_MARGIN = 2.0          # a slip lies at least so many tolerances from the key
ROUND_NUMBERS = (1, 10, 50, 100, 200, 250, 500, 1000)     # too easy where others draw 170

_SEED = re.compile(r"([0-9A-Za-z_-]+)(?:\.(first|resit))?(?:\.(\d+))?")


def seed_for(secret, candidate_number, task_id, set_name):
    """Return what the numbers of one candidate in one task are drawn from.

    Parameters
    ----------
    secret : bytes
        Of the examination; without it no seed can be computed from another.
    candidate_number, task_id : str
        Whose, and in which task.
    set_name : str
        One of `SETS`.

    Returns
    -------
    str
        128 bits in hexadecimal, then the set.
    """
    if set_name not in SETS:
        raise Problem(f"There is no set of numbers called '{set_name}': it is first or resit.")
    message = json.dumps([candidate_number, task_id, set_name]).encode()
    return f"{hmac.new(secret, message, hashlib.sha256).hexdigest()[:32]}.{set_name}"


def read_seed(seed):
    """Return the three parts of a seed: what is drawn from, the set or None, and the attempt that was taken or None."""
    found = _SEED.fullmatch(str(seed))
    if not found:
        raise Problem(f"'{str(seed)[:40]}' is not a seed of a task.")
    base, set_name, attempt = found.groups()
    return base, set_name, None if attempt is None else int(attempt)


def set_of(task_id, what_was_drawn):
    """Return the set that these numbers belong to: each belongs to one, so the resit shares none with the first paper."""
    text = json.dumps([task_id, what_was_drawn], sort_keys=True)
    return SETS[hashlib.sha256(text.encode()).digest()[0] & 1]


def significant_digits(value):
    """Return how many digits of a number have to be worked with: 1 for 300 and 0.3, 2 for 0.52, 3 for 105."""
    digits = f"{abs(value):.12g}".partition("e")[0].replace(".", "").strip("0")
    return max(len(digits), 1)


def fault_of_given(numbers, digits):
    """Return in words why the given numbers are not as hard as those of others, or None.

    Parameters
    ----------
    numbers : mapping
        The drawn numbers.
    digits : mapping of str to int
        For every drawn number, how many digits it has; None where that makes it no harder, as for a limit that is only compared.

    Returns
    -------
    str or None
    """
    for name, value in numbers.items():
        if isinstance(value, str):
            continue
        if name not in digits:
            raise Problem(f"say in digits how many digits {name} has.")
        if digits[name] is None:
            continue
        if significant_digits(value) != digits[name]:
            return f"{name} = {value:g} has {significant_digits(value)} digits, others have {digits[name]}."
        if digits[name] > 1 and value in ROUND_NUMBERS or value == 1:
            return f"{name} = {value:g} makes it too easy."
    return None


def fault_of_result(value, band, given, tolerance, digits=3):
    """Return in words why a result is not as hard as those of others, or None.

    Parameters
    ----------
    value : float
        The key.
    band : pair of float
        Where the keys of this part lie.
    given : mapping
        The numbers that the candidate reads.
    tolerance : float
        The accepted distance.
    digits : int
        How many digits of it are written down.

    Returns
    -------
    str or None
    """
    if not math.isfinite(value) or not band[0] <= value <= band[1]:
        return f"the result {value:g} lies outside {band[0]:g} to {band[1]:g}."
    if math.log10(abs(value)).is_integer():
        return f"the result {value:g} is too easy."
    unit = 10.0 ** (math.floor(math.log10(abs(value))) + 1 - digits)
    if abs(value / unit % 1 - 0.5) < EDGE:
        return f"the result {value:g} lies on the edge of rounding to {digits} digits."
    if any(isinstance(one, (int, float)) and abs(one - value) <= tolerance for one in given.values()):
        return f"the result {value:g} can be copied from the text."
    return None


def fault_of_slips(key, tolerance, slips, tolerance_of):
    """Return in words which slip lies too near the key or another slip, or None.

    Parameters
    ----------
    key, tolerance : float
        The right answer, and how far off it may be.
    slips : sequence of float
        What the slips lead to.
    tolerance_of : function of a float
        The tolerance round a slip.

    Returns
    -------
    str or None
    """
    for place, slip in enumerate(slips):
        if abs(slip - key) <= SLIP_MARGIN * max(tolerance, tolerance_of(slip)):
            return f"the slip {slip:g} lies near the result {key:g}."
        if any(abs(slip - other) <= tolerance_of(slip) for other in slips[:place]):
            return f"two slips lie near {slip:g}."
    return None


def written_down(value, digits):
    """Return a result as a candidate writes it down on the way: in so many digits."""
    return float(f"{value:.{digits}g}")
