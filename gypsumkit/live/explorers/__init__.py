"""The explorers of the course, one module each, found by their name in a lesson."""

from gypsumkit.live.found_by_name import find

EXPLORERS = {
    "batch": ("batch_explorer", "BatchExplorer"),
    "bubbles": ("bubble_explorer", "BubbleExplorer"),
    "packing": ("packing_explorer", "PackingExplorer"),
    "powders": ("powders_explorer", "PowdersExplorer"),
    "voids": ("voids_explorer", "VoidsExplorer"),
    "solubility": ("solubility_explorer", "SolubilityExplorer"),
    "volume": ("volume_explorer", "VolumeExplorer"),
    "water": ("water_explorer", "WaterExplorer"),
    "ring": ("ring_explorer", "RingExplorer"),
    "ring in motion": ("ring_motion_explorer", "RingMotionExplorer"),
    "rings side by side": ("ring_row_explorer", "RingRowExplorer"),
    "strength": ("strength_explorer", "StrengthExplorer"),
    "slip": ("slip_explorer", "SlipExplorer"),
    "clock": ("clock_explorer", "ClockExplorer"),
    "heat": ("heat_explorer", "HeatExplorer"),
    "week": ("week_explorer", "WeekExplorer"),
    "expansion": ("expansion_explorer", "ExpansionExplorer"),
    "own data": ("own_data_explorer", "OwnDataExplorer"),
    "scale": ("scale_explorer", "ScaleExplorer"),
    "faults": ("fault_explorer", "FaultExplorer"),
    "cases": ("case_explorer", "CaseExplorer"),
    "schedule": ("chain_explorers", "ScheduleExplorer"),
    "pour": ("chain_explorers", "PourExplorer"),
    "separate": ("chain_explorers", "SeparateExplorer"),
    "etching": ("set_cast_explorers", "EtchingExplorer"),
    "drying": ("set_cast_explorers", "DryingExplorer"),
    "accuracy": ("accuracy_explorer", "AccuracyExplorer"),
}


def explorer_class(kind):
    """Return the explorer of that name, imported when first asked for.

    Parameters
    ----------
    kind : str
        A key of `EXPLORERS`.

    Raises
    ------
    Problem
        When there is none; names the nearest.
    """
    return find(kind, EXPLORERS, __name__, "explorer")
