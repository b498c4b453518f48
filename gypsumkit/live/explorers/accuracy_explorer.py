"""The explorer of the accuracy chain: impression, stone, work, length, and the reader's own values."""

import ipywidgets as widgets

from gypsumkit.bench.accuracy_chain import LONGEST_MM, SHORTEST_MM, WORKS, Sizes, read_own
from gypsumkit.bench.cast_chain import IMPRESSIONS
from gypsumkit.figures.accuracy_scene import LIMITS, accuracy_scene
from gypsumkit.live.controls import choice, full_name, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import NumberControl
from gypsumkit.problems import Problem


class AccuracyExplorer(Explorer):
    """Impression, powder, work, length, and own values of links; what cannot be read is answered and stays written.

    Parameters
    ----------
    impression, stone, work, length_mm
        As for `gypsumkit.bench.accuracy_chain.Sizes`; `powder` is the stone.
    own : str
        The reader's own values at first, such as "stone 0.12 %; wax -15 µm".
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    can_pin = False

    def __init__(self, impression="addition silicone", powder="improved stone", work="crown, gold alloy", length_mm=8.0, own="", **rest):
        start = Sizes(impression, powder, work, length_mm, tuple(read_own(own, length_mm).items()))
        self.own_text = own                     # the last text that could be read for a chain
        super().__init__({
            "impression": choice("Impression", IMPRESSIONS, start.impression),
            "powder": powder_choice(start.stone),
            "work": choice("Work", WORKS, start.work),
            "length_mm": NumberControl("Length (mm)", start.length_mm, SHORTEST_MM, LONGEST_MM, 1, "mm", "the length", "8 mm"),
            "own": widgets.Text(value=own, description="Own values", placeholder="stone 0.12 %; wax -15 µm", continuous_update=False, **full_name()),
        }, LIMITS, **rest)

    def sizes(self, own=None):
        """Return the chain of the present settings, with the own values of a text.

        Parameters
        ----------
        own : str, optional
            The last text that could be read when not given.

        Raises
        ------
        Problem
            When the text cannot be read or names a link that this work has not.
        """
        length = self.length_mm.value
        return Sizes(self.impression.value, self.powder.value, self.work.value, length, tuple(read_own(self.own_text if own is None else own, length).items()))

    def update(self):
        """Draw the chain; own values that cannot be used are left out of the picture, and said so in one sentence."""
        try:
            self.sizes(self.own.value)
            self.own_text = self.own.value
        except Problem as unread:
            self.own_text = ""
            super().update()
            raise Problem(f"{unread} Until then the picture is without own values.") from None
        super().update()

    def scene(self):
        """Return the scene of the present settings."""
        return accuracy_scene(self.sizes())
