"""The form that plans a session: what is typed is planned, what cannot be is said, and card and sheet go where the reader finds them."""

import errno
import math
import os
import re

import ipywidgets as widgets
import pytest

from gypsumkit.bench.plan import FIRST, LIMITS, plan_session
from gypsumkit.figures.plan_scene import MOST_GROUPS, plan_scene
from gypsumkit.figures.scene import Marker, Polygon, Text
from gypsumkit.live.panels import panel_class
from gypsumkit.live.panels.plan_panel import CLASS, MIX, STALE, TOOLS, PlanPanel
from gypsumkit.problems import Problem


@pytest.fixture(autouse=True)
def work(tmp_path, monkeypatch):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path / "work"))
    return tmp_path / "work"


@pytest.fixture
def panel():
    return PlanPanel()


def test_a_lesson_finds_it_by_name():
    assert panel_class("plan") is PlanPanel


def test_what_stands_in_the_form_is_what_is_planned(panel):
    assert panel.plan == plan_session(12, 1, cast_volume_cm3=60, scales=2, prices={})
    panel.fields["students"].value = "20"
    panel.fields["cast_volume_cm3"].value = ""
    panel.fields["powder_g"].value = "0,1 kg"
    panel.powder.value = "model plaster"
    panel.prices["model plaster"].value = "1,20"
    assert panel.message.value == "" and panel.errors == []
    assert panel.plan.session.powder_g == 100 and panel.plan.session.students == 20 and panel.plan.session.powder == "model plaster"
    assert "1.20" in panel.tables.value and "1.20 (invented)" not in panel.tables.value


@pytest.mark.parametrize("name, typed, says", [
    ("students", "", "Type how many students come."), ("students", "12.5", "must be a whole number"), ("waste_percent", "120", "between 0 and 100 %"),
    ("cast_volume_cm3", "60 g", "which is a mass; it is a volume"), ("water_powder_ratio", "50", "looks like mL of water per 100 g"), ("powder_g", "80", "not both"),
])
def test_what_cannot_be_is_said_and_the_plan_before_stays(panel, name, typed, says):
    before, words = panel.plan, panel.words()
    panel.fields[name].value = typed
    assert says in panel.message.value and STALE in panel.message.value
    assert panel.plan is before and panel.words() == words and panel.fields[name].value == typed and panel.errors == []
    with pytest.raises(Problem):
        panel.write()


def test_card_and_sheet_are_written_and_nothing_is_written_over(panel, work):
    panel.write()
    assert sorted(os.listdir(work)) == ["session-plan.csv", "weigh-card-dental-stone-A4.pdf"]
    assert "session-plan.csv" in panel.message.value
    first = (work / "session-plan.csv").read_bytes()
    panel.paper.value = "Letter"
    panel.write_button.click()
    assert {"session-plan 2.csv", "weigh-card-dental-stone-Letter.pdf"} <= set(os.listdir(work))
    assert (work / "session-plan.csv").read_bytes() == first and str(work) not in panel.words()


@pytest.mark.parametrize("number, says", [(errno.ENOSPC, "The disk is full"), (errno.EACCES, "cannot be written")])
def test_a_failing_disk_is_said_and_the_form_stays(panel, work, monkeypatch, number, says):
    def fails(*_):
        raise OSError(number, os.strerror(number), str(work)) if number == errno.ENOSPC else PermissionError(number, os.strerror(number), str(work))
    monkeypatch.setattr("gypsumkit.files.os.fsync", fails)
    panel.write_button.click()
    assert says in panel.message.value and panel.errors == [] and os.listdir(work) == []


def test_words_are_the_same_each_time_and_say_all_that_is_shown(panel):
    words = panel.words()
    assert words == PlanPanel().words() and LIMITS in words and FIRST in words
    assert "For 1 cast" in words and "Minute by minute" in words and "vibrate and pour (vibrator 1)" in words
    shown = re.sub(r"<[^>]+>", " ", panel.tables.value)
    for cell in ("12 students in 6 groups", "not before 31 min", "fits into 90 min"):
        assert cell in words and cell in shown


def test_every_control_has_a_name_and_what_is_typed_is_escaped(panel):
    def all_of(widget):
        yield widget
        for child in getattr(widget, "children", ()):
            yield from all_of(child)
    controls = [one for one in all_of(panel) if isinstance(one, (widgets.Text, widgets.Dropdown, widgets.Checkbox, widgets.Button))]
    assert len(controls) >= len({**CLASS, **MIX, **TOOLS}) + 9 and all(control.description.strip() for control in controls)
    panel.fields["students"].value = "<b>many</b>"
    assert "<b>many" not in panel.message.value and "&lt;b&gt;many" in panel.message.value


def test_settings_of_a_lesson_stand_in_the_fields_and_unknown_ones_are_refused():
    panel = PlanPanel(powder="improved stone", mixing="machine under vacuum", students=8, powder_g=90)
    assert panel.plan.session.students == 8 and panel.plan.session.powder_g == 90 and panel.fields["cast_volume_cm3"].value == ""
    with pytest.raises(Problem, match="did you mean 'students'"):
        PlanPanel(student=8)


# ---- the chart

def test_bars_of_one_machine_never_overlap_and_every_mix_has_its_bars():
    plan = plan_session(24, 2, cast_volume_cm3=60, mixing="machine under vacuum", scales=2)
    chart = plan_scene(plan).pictures[0].panels[1]
    rows = {}
    for bar in (mark for mark in chart.moving if isinstance(mark, Polygon)):
        rows.setdefault(round(float(sum(bar.y)) / 4, 6), []).append((float(min(bar.x)), float(max(bar.x))))
        assert bar.hatch and bar.edge
    assert len(rows) == 12 + 2
    for spans in rows.values():
        spans.sort()
        assert all(later[0] >= earlier[1] - 1e-9 for earlier, later in zip(spans, spans[1:]))
    assert sum(len(spans) for spans in rows.values()) == 48 * 3 + 12 + 48 + 48
    assert max(span[1] for spans in rows.values() for span in spans) <= chart.x_range[1]


def test_a_large_class_is_shown_in_part_and_that_is_said():
    plan = plan_session(100, 1, powder_g=100, scales=4)
    scene = plan_scene(plan)
    assert f"first {MOST_GROUPS} of 50 groups" in scene.words
    assert len(scene.pictures[0].panels[1].y_ticks) == MOST_GROUPS + 1


def test_the_key_names_each_kind_of_bar_and_stays_within_the_picture():
    key = plan_scene(plan_session(4, powder_g=100)).pictures[0].panels[0]
    names = [mark.string for mark in key.backdrop if isinstance(mark, Text)]
    assert names == ["weigh", "mix, ring", "pour (vibrator)", "separate", "last final set (predicted)"]
    # A letter is about 0.6 of its height wide: from its place each name ends before the edge.
    per_unit = 444 / 110
    assert all(mark.x + 0.62 * mark.size * len(mark.string) / per_unit <= 114 for mark in key.backdrop if isinstance(mark, Text))
    assert sum(isinstance(mark, Marker) for mark in key.backdrop) == 1 and math.isfinite(key.height_share)


def test_the_costs_stand_in_three_columns_that_scroll_by_key():
    made = PlanPanel()
    assert '<div tabindex="0" role="region" aria-label="The same casts of other powders"' in made.tables.value
    assert "2.97, at 2.50 (invented) for 1 kg; whole bags 12.50" in made.tables.value and "Cost of whole bags" in made.words()
