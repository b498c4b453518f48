"""The explorer of the cases: choose powder, water, mixing and schedule for an invented case, and see what is met."""

from gypsumkit.bench.cases import CASES, MIXINGS, SCHEDULES, Choice, find_case
from gypsumkit.figures.case_scene import LIMITS, case_scene
from gypsumkit.live.controls import choice, powder_choice
from gypsumkit.live.explorer import Explorer
from gypsumkit.live.number_control import RatioControl
from gypsumkit.powders import find_powder


class CaseExplorer(Explorer):
    """A case, and what is chosen for it; four gauges with what is wanted, and the reasons in words.

    Parameters
    ----------
    case : str
        A key of `gypsumkit.bench.cases.CASES`.
    powder : str
        The powder at first.
    ratio : float, optional
        The water/powder ratio at first, mL per g; the recommended one when not given.
    mixing : str
        A key of `gypsumkit.bench.cases.MIXINGS`.
    schedule : str
        A key of `gypsumkit.bench.cases.SCHEDULES`.
    **rest
        `question`, `prediction` and `asked` as for `Explorer`.
    """

    def __init__(self, case="study model", powder="improved stone", ratio=None, mixing="by hand, 180 turns", schedule="use at 2 h, separate at 45 min",
                 **rest):
        kind = find_powder(powder)
        super().__init__({
            "powder": powder_choice(kind.name),
            "ratio": RatioControl(kind, ratio),
            "mixing": choice("Mixing", MIXINGS, Choice(kind.name, kind.recommended_ratio.value, mixing).mixing),
            "schedule": choice("Schedule", SCHEDULES, Choice(kind.name, kind.recommended_ratio.value, schedule=schedule).schedule),
            "case": choice("Case", CASES, find_case(case).name),
        }, LIMITS, **rest)

    def state(self):
        """Return the present choice, for a pin."""
        return Choice(self.powder.value, self.ratio.value, self.mixing.value, self.schedule.value)

    def scene(self):
        """Return the scene of the present settings."""
        return case_scene(CASES[self.case.value], self.state(), self.pins)
