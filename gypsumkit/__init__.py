"""gypsumkit: what plaster, stone and improved stone do in the bowl, computed from the recipe."""
# This file must stay readable to any Python, old ones included: it runs before set-up.

_PUBLIC = {
    "Mix": "gypsumkit.mix",
    "Recipe": "gypsumkit.recipe",
    "Problem": "gypsumkit.problems",
    "POWDERS": "gypsumkit.powders",
    "predict": "gypsumkit.mix",
}

__all__ = sorted(_PUBLIC)


def __getattr__(name):
    if name in _PUBLIC:
        import importlib
        return getattr(importlib.import_module(_PUBLIC[name]), name)
    raise AttributeError("gypsumkit has no name '{}'".format(name))


def __dir__():
    return sorted(list(globals()) + list(_PUBLIC))
