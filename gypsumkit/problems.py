"""The one kind of error a reader ever sees: a clear sentence."""

import difflib


class Problem(ValueError):
    """What was wrong, where, and what would be right, in one sentence a reader can act on."""


def nearest(name, names):
    """Return the entry of `names` that `name` most resembles, or None when none does.

    Parameters
    ----------
    name : str
        What was typed.
    names : iterable of str
        What would have been right.

    Returns
    -------
    str or None
        The nearest name, compared without regard to capitals.
    """
    by_lower_case = {known.lower(): known for known in names}
    found = difflib.get_close_matches(str(name).lower(), by_lower_case, n=1, cutoff=0.5)
    return by_lower_case[found[0]] if found else None
