"""Classes that a lesson asks for by a plain name, imported when first asked for."""

import importlib

from gypsumkit.problems import Problem, nearest


def find(kind, known, package, what):
    """Return the class of that name.

    Parameters
    ----------
    kind : str
        A key of `known`.
    known : dict of str to (str, str)
        Module and class by name.
    package : str
        Where the modules lie.
    what : str
        What it is called in a sentence, such as "explorer".

    Raises
    ------
    Problem
        When there is none; names the nearest.
    """
    if kind not in known:
        guess = nearest(kind, known)
        raise Problem(f"There is no {what} called '{kind}'; {f'did you mean {guess}?' if guess else 'there are'} {', '.join(known)}.")
    module, name = known[kind]
    return getattr(importlib.import_module(f"{package}.{module}"), name)
