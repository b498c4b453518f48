"""The few names that the cells of the lecturer's notebook call."""

from gypsumkit.bench.powder_shelf import load_own_powders
from gypsumkit.live.demonstration_view import DemonstrationView
from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.panels import panel_class


def stage():
    """Begin the lecturer's notebook; own powders join those of the catalogue.

    Returns
    -------
    StageNotebook
    """
    load_own_powders()
    return StageNotebook()


class StageNotebook:
    """The lecturer's notebook: each method returns a block for one cell."""

    def demonstration(self, **settings):
        """The demonstration of fifty minutes, step by step."""
        return DemonstrationView(**settings)

    def explorer(self, kind, **settings):
        """Controls and a live picture; `projected=True` covers the window at once."""
        return explorer_class(kind)(**settings)

    def panel(self, kind, **settings):
        """A panel of the bench, such as "bench clock"."""
        return panel_class(kind)(**settings)
