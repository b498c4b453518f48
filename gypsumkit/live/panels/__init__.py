"""The panels of the bench, one module each, found by their name in a lesson: forms over what `bench` works out."""

from gypsumkit.live.found_by_name import find

PANELS = {
    "plan": ("plan_panel", "PlanPanel"),
    "record": ("record_panel", "RecordPanel"),
    "conformity": ("conformity_panel", "ConformityPanel"),
    "our powder": ("powder_panel", "PowderPanel"),
    "recipes wanted": ("wanted_panel", "WantedPanel"),
    "bench clock": ("clock_panel", "ClockPanel"),
    "map": ("map_panel", "MapPanel"),
    "glossary": ("glossary_panel", "GlossaryPanel"),
    "primer": ("primer_panel", "PrimerPanel"),
    "last recall": ("recall_panel", "RecallPanel"),
    "desk": ("desk_panel", "DeskPanel"),
}


def panel_class(kind):
    """Return the panel of that name, imported when first asked for.

    Parameters
    ----------
    kind : str
        A key of `PANELS`.

    Raises
    ------
    Problem
        When there is none; names the nearest.
    """
    return find(kind, PANELS, __name__, "panel")
