"""The assessor's desk: what is typed is checked, marking runs beside the page, marks change with a reason, nothing typed becomes more than text."""

import os
import threading

import ipywidgets as widgets
import pytest

from gypsumkit.figures.item_scene import LIMITS
from gypsumkit.live.panels import panel_class
from gypsumkit.live.panels.desk_panel import BY_CANDIDATE, CHANGES, FINDINGS, INVENTED_FOLDER, NOTHING_OPEN, TO_LOOK_AT, VIEWS, DeskPanel
from gypsumkit.marking.invented import FIRST_NUMBER, TITLE, make_invented
from gypsumkit.marking.marks import Marks
from gypsumkit.marking.moderation import Decisions, open_rows
from gypsumkit.marking.practical import form_csv
from gypsumkit.marking.run import finish, mark_folder

COUNT = 10


@pytest.fixture(autouse=True)
def work(tmp_path, monkeypatch):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path / "work"))
    return tmp_path / "work"


@pytest.fixture
def exam(work):
    return make_invented(work / "small", COUNT)


@pytest.fixture
def desk(exam):
    panel = DeskPanel("small")
    panel.mark_button.click()
    panel.wait(60)
    assert panel.errors == [] and "papers are marked" in panel.message.value
    return panel


def test_with_no_examination_it_says_so_and_the_same_each_time():
    panel = panel_class("desk")()
    assert isinstance(panel, DeskPanel) and panel.words() == DeskPanel().words() and NOTHING_OPEN in panel.words() and LIMITS in panel.words()
    assert panel.picture_png() is None and "image/png" not in panel._repr_mimebundle_()
    for button in (panel.mark_button, panel.change_button, panel.write_button, panel.next_button, panel.forms_button, panel.practical_button):
        button.click()
        assert "Open an examination first" in panel.message.value
    panel.view.value = CHANGES
    assert panel.errors == [] and NOTHING_OPEN in panel.told.value


@pytest.mark.parametrize("typed, says", [("", "Type the folder"), ("nowhere", "There is no folder “nowhere”"), ("smal", "do you mean “small”?"), ("small/paper.json", "is a file"),
                                         ("small/marks-not-there", "There is no folder"), ("small/returned", "There is no paper.json"), ("a\x00b", "not a path"),
                                         ("<b>bold</b>", "&lt;b&gt;bold")])
def test_a_folder_that_cannot_be_opened_is_said_and_the_one_before_stays(exam, typed, says):
    panel = DeskPanel("small")
    panel.folder.value = typed
    panel.open_button.click()
    assert says in panel.message.value and panel.exam == exam and panel.errors == [] and "<b>bold" not in panel.message.value


def test_it_is_found_in_the_list_and_by_its_path(exam, tmp_path):
    panel = DeskPanel()
    assert "small" in panel.listed.options
    panel.listed.value = "small"
    assert panel.exam == exam and panel.paper.title == TITLE
    panel = DeskPanel(str(exam))
    assert panel.exam == exam and str(exam) not in panel.words()


def test_marking_runs_beside_the_page_and_gives_what_the_command_gives(desk, exam, work):
    again = make_invented(work / "again", COUNT)
    wanted = finish(mark_folder(again, workers=1), again)
    assert desk.marks.marks_csv() == wanted.marks_csv() and (exam / "marks" / "marks.csv").read_bytes() == (again / "marks" / "marks.csv").read_bytes()
    assert desk.progress.value == desk.progress.max == COUNT - 2 and not desk.mark_button.disabled and desk.stop_button.disabled
    assert f"{COUNT - 2} papers marked" in desk.words() and "not returned" in {row[0] for row in desk._findings()[1]}
    for view in VIEWS:
        desk.view.value = view
        assert desk.errors == [] and view[1:] in desk.told.value
    assert desk.picture_png()[:4] == b"\x89PNG"


def test_it_can_be_stopped_and_goes_on(exam, monkeypatch):
    panel = DeskPanel("small")
    begun, go_on = threading.Event(), threading.Event()
    step = panel._step

    def slow(done, total):
        begun.set()
        go_on.wait(30)
        step(done, total)
    monkeypatch.setattr(panel, "_step", slow)
    panel.mark()
    assert begun.wait(30)
    panel.mark_button.disabled = False
    panel.mark_button.click()
    assert "Marking is going on" in panel.message.value
    panel.open_button.click()
    assert "Marking is going on" in panel.message.value
    panel.view.value = FINDINGS                      # the page is alive meanwhile
    panel.stop_button.click()
    go_on.set()
    panel.wait(60)
    assert "Stopped after" in panel.message.value and panel.marks.candidates == () and panel.errors == []
    monkeypatch.setattr(panel, "_step", step)
    panel.mark()
    panel.wait(60)
    assert len(panel.marks.candidates) == COUNT - 2


def test_an_answer_to_look_at_is_taken_shown_and_decided(desk, exam):
    many = len(open_rows(desk.marks))
    desk.next_button.click()
    first = desk.candidate.value, desk.task.value, desk.part.value
    assert "waits for a mark" in desk.answer.value and "carry no load" in desk.answer.value
    desk.next_button.click()
    assert (desk.candidate.value, desk.task.value, desk.part.value) != first
    desk.new_marks.value, desk.who.value = "2,5", "A.B."
    desk.change_button.click()
    assert "Type why" in desk.message.value and desk.new_marks.value == "2,5" and desk.who.value == "A.B."
    desk.why.value = "Two of the three points are named."
    desk.change_button.click()
    assert "Changed: " in desk.message.value and len(open_rows(desk.marks)) == many - 1 and "Asked:" in desk.answer.value
    assert Marks.load(exam / "marks").rows == desk.marks.rows and len(Decisions(exam / "marks").all()) == 1
    desk.view.value = CHANGES
    assert "Two of the three points are named." in desk.words()
    # Another desk on the same folder, and marking again, keep it.
    other = DeskPanel("small")
    assert other.marks.rows == desk.marks.rows and other.automatic.rows == desk.automatic.rows
    other.mark()
    other.wait(60)
    assert other.marks.rows == desk.marks.rows


def test_reports_are_written_and_final_only_when_nothing_waits(desk, exam):
    desk.finished.value = True
    desk.write_button.click()
    assert "still wait for a mark" in desk.message.value
    desk.finished.value = False
    desk.write_button.click()
    page = (exam / "marks" / "report.html").read_text(encoding="utf-8")
    assert "Written into" in desk.message.value and "Provisional until moderated" in page and page.count('src="data:image/png;base64,') == 1 and "<script" not in page
    assert len(os.listdir(exam / "marks" / "pages")) == COUNT - 2
    for row in [row for row in desk.marks.rows if row.marks is None or row.doubtful]:
        Decisions(exam / "marks").add(desk.automatic, row.candidate_number, row.task_number, row.label, 1, "A.B.", "One point is named.")
    desk.open_button.click()
    desk.finished.value = True
    desk.write_button.click()
    assert "Provisional" not in (exam / "marks" / "report.html").read_text(encoding="utf-8")
    assert "final" in (exam / "marks" / "pages" / f"{FIRST_NUMBER}.html").read_text(encoding="utf-8")


def test_a_marker_works_through_all_answers_to_one_question(desk):
    desk.automatic = desk.marks = Marks([row._replace(marks=None, by_hand=True) if row.task_number in (3, 5) else row for row in desk.automatic.rows])
    desk._show()
    rows = open_rows(desk.marks)
    places = [(row.task_number, row.label, row.candidate_number) for row in rows]
    assert len({place[:2] for place in places}) > 1 and places != sorted(places), "by candidate they stand in another order"
    taken = []
    for _ in rows:
        desk.next_button.click()
        taken.append((int(desk.task.value), desk.part.value, desk.candidate.value))
    assert taken == sorted(places)
    desk.view.value = TO_LOOK_AT
    assert [row[0] for row in desk._to_look_at()[1]] == [f"{task}\N{NO-BREAK SPACE}({part})" for task, part, _ in sorted(places)][:60]
    task, part, _ = taken[-1]
    desk.question.value = f"task {task} ({part})"
    desk.next_button.click()
    assert (int(desk.task.value), desk.part.value) == (task, part) and {row[0] for row in desk._to_look_at()[1]} == {f"{task}\N{NO-BREAK SPACE}({part})"}
    before = desk.candidate.value
    desk.new_marks.value, desk.who.value, desk.why.value = "1", "A.B.", "One point of three is named."
    desk.change_next_button.click()
    assert desk.candidate.value != before and (int(desk.task.value), desk.part.value) == (task, part) and desk.new_marks.value == "" and desk.who.value == "A.B."


def test_marks_of_answers_not_read_surely_are_kept_together_with_one_reason(desk, exam):
    first = [row for row in desk.automatic.rows if row.task_number == 2 and row.label == "a"][:3]
    desk.automatic = desk.marks = Marks([row._replace(marks=0.0, by_hand=True, why="Not read with certainty; it counts 0 until an assessor has looked at it: “x” is not a number.")
                                         if row in first else row for row in desk.automatic.rows])
    desk.task.value, desk.part.value, desk.candidate.value = "2", "a", first[0].candidate_number
    desk.who.value, desk.why.value = "A.B.", ""
    desk.keep_button.click()
    assert "Type why" in desk.message.value and Decisions(exam / "marks").all() == ()
    desk.why.value = "No number is meant."
    desk.keep_button.click()
    assert "Kept: the marks of 3 answers to task 2 (a)" in desk.message.value and not any(row.doubtful for row in desk.marks.rows if row.task_number == 2 and row.label == "a")
    desk.keep_button.click()
    assert "each is decided" in desk.message.value


def test_the_practical(desk, exam):
    desk.practical_button.click()
    assert "Nothing is filled in yet" in desk.message.value
    desk.forms_button.click()
    assert "form-to-print.html" in desk.message.value and f"{FIRST_NUMBER},".encode() in (exam / "practical" / "empty-form.csv").read_bytes()
    form = form_csv(["2001"], "A.B.").decode("utf-8-sig").replace("2001,A.B.,,,,,", "2001,A.B.,1,0,1,1,1")
    (exam / "practical" / "AB.csv").write_text(form, encoding="utf-8")
    desk.practical_button.click()
    assert "ended at a safety point, skin" in desk.practical_told.value and desk.errors == []


def test_the_invented_examination_is_made_once(work):
    panel = DeskPanel()
    panel.invented_button.click()
    assert panel.exam == work / INVENTED_FOLDER and "nobody sat it" in panel.message.value and INVENTED_FOLDER in panel.listed.options
    panel.invented_button.click()
    assert "there already" in panel.message.value and panel.errors == []


def test_answers_are_shown_as_text(desk):
    hostile = "<img src=x onerror=alert(1)>"
    desk.automatic = Marks([row._replace(answer=hostile, why=hostile, marks=None, by_hand=True) if row.task_number == 2 else row for row in desk.automatic.rows])
    desk.marks = desk.automatic
    desk.candidate.value = ""
    desk.next_button.click()
    for view in (TO_LOOK_AT, BY_CANDIDATE):
        desk.view.value = view
        assert "<img" not in desk.told.value + desk.answer.value
    assert "&lt;img" in desk.answer.value


def test_every_control_has_a_name():
    def all_of(widget):
        yield widget
        for child in getattr(widget, "children", ()):
            yield from all_of(child)
    controls = [one for one in all_of(DeskPanel()) if isinstance(one, (widgets.Text, widgets.Dropdown, widgets.Checkbox, widgets.Button, widgets.IntProgress))]
    assert len(controls) >= 20 and all(control.description.strip() for control in controls)
