"""The fault explorer: signs seen, a sign looked for in vain, a check made; suspects and the check that tells them apart."""

from gypsumkit.figures.fault_scene import LIMITS, fault_scene
from gypsumkit.live.controls import choice, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.powders import find_powder
from gypsumkit.studies.faults import CHECKS, SIGNS, read_faults

NONE, UNCHECKED = "none", "nothing checked yet"
OUTCOMES = {f"{name}: {outcome}": (name, outcome) for name, check in CHECKS.items() for outcome in check.outcomes}


class FaultExplorer(Explorer):
    """Powder, two signs that are seen, one that is not there, and what one check showed.

    Parameters
    ----------
    first, second : str
        Signs that are seen, keys of `gypsumkit.studies.faults.SIGNS`; the second may be "none".
    absent : str
        A sign that was looked for and is not there, or "none".
    checked : str
        A check with its outcome, such as "read the tin: another powder".
    powder : str
        The powder whose numbers stand beside the causes.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    can_pin = False

    def __init__(self, first="bubbles on the tooth side", second=NONE, absent=NONE, checked=UNCHECKED, powder="model plaster", **rest):
        super().__init__({
            "first": choice("Seen", SIGNS, first),
            "second": choice("And seen", (NONE, *SIGNS), second),
            "absent": choice("Looked for, not there", (NONE, *SIGNS), absent),
            "checked": choice("A check showed", (UNCHECKED, *OUTCOMES), checked),
            "powder": powder_choice(find_powder(powder).name),
        }, LIMITS, **rest)

    def reading(self):
        """Return what follows from the present settings.

        Raises
        ------
        Problem
            When a sign is given as seen and as not there.
        """
        seen = tuple(sign for sign in (self.first.value, self.second.value) if sign != NONE)
        absent = tuple(sign for sign in (self.absent.value,) if sign != NONE)
        return read_faults(seen, absent, tuple(OUTCOMES[one] for one in (self.checked.value,) if one != UNCHECKED))

    def scene(self):
        """Return the scene of the present settings."""
        return fault_scene(self.reading(), self.powder.value)

    def _move(self, settings):
        super()._move(settings)
        self.reading()
