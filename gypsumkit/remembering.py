"""Results remembered for a recipe, and forgotten together when a powder changes."""

from functools import lru_cache

_MEMORIES = []


def remembered(maxsize):
    """Return a decorator that keeps the last results of a function, until `forget` is called.

    Parameters
    ----------
    maxsize : int
        How many results are kept.

    Returns
    -------
    callable
    """
    def keep(function):
        memory = lru_cache(maxsize=maxsize)(function)
        _MEMORIES.append(memory)
        return memory
    return keep


def forget():
    """Forget every remembered result: the constants behind them are no longer the same."""
    for memory in _MEMORIES:
        memory.cache_clear()
