"""The one kind of error a reader ever sees: a clear sentence."""

import difflib

_ALIKE = 0.5                        # twice the letters in common, over all letters of both
_LONGER_AT_MOST = 2 / _ALIKE - 1    # times: what is longer than that cannot be so much alike, and comparing it would take long


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
    typed = str(name).lower()
    if len(typed) > _LONGER_AT_MOST * max(map(len, by_lower_case), default=0):
        return None
    found = difflib.get_close_matches(typed, by_lower_case, n=1, cutoff=_ALIKE)
    return by_lower_case[found[0]] if found else None
