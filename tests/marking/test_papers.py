"""Papers: plain notebooks with nothing in them that helps, the same for the same secret, never written over."""

import json
import math
import re

import pytest

from gypsumkit.marking import papers, roster
from gypsumkit.marking.blueprint import Boundary, Paper, blueprint, blueprint_lines, choose, new_paper, read_paper, write_paper
from gypsumkit.marking.drawing import SETS, seed_for
from gypsumkit.marking.scheme import Scheme, fingerprint, secret_of
from gypsumkit.marking.task_bank import all_tasks, find_task
from gypsumkit.problems import Problem

EVERY = tuple(all_tasks())
ROSTER = "candidate_number,name,extra_time_percent\n1047,Ines Invented,25\n1048,Bola Okoro,\n1049,Zoë Third,10\n"


def examination(folder, task_ids=EVERY, text=ROSTER, secret=None):
    folder.mkdir(exist_ok=True)
    write_paper(folder, new_paper("Gypsum, first paper", task_ids, 90))
    (folder / "roster.csv").write_text(text, encoding="utf-8")
    if secret:
        (folder / "private").mkdir(mode=0o700)
        (folder / "private" / "secret.txt").write_text(secret + "\n")
    return folder


def notebooks(folder):
    return {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in (folder / "papers").glob("*.ipynb")}


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """An examination of every task there is."""
    folder = examination(tmp_path_factory.mktemp("whole") / "exam")
    papers.write_papers(folder)
    return folder


# ---- form

def test_a_paper_is_a_plain_notebook(whole):
    nbformat = pytest.importorskip("nbformat")
    for number, read in notebooks(whole).items():
        nbformat.validate(nbformat.from_dict(read))
        assert set(read["metadata"]) == {"kernelspec"} and (read["nbformat"], read["nbformat_minor"]) == (4, 5)
        assert all(cell["metadata"] == {} and cell.get("outputs", []) == [] for cell in read["cells"])
        front = read["cells"][0]["source"]
        assert f"Candidate number: {number}" in front and "Gypsum, first paper" in front and "Allowed: a calculator" in front


def test_every_part_has_one_cell_for_its_answer_below_its_question(whole):
    for number, read in notebooks(whole).items():
        ids = [cell["id"] for cell in read["cells"]]
        expected = ["front"]
        for place, one in enumerate(Scheme.load(whole).drawn(number), start=1):
            expected += [f"task-{place}", *(f"answer-{place}-{part.label}" for part in one.parts)]
        assert ids == expected and len(set(ids)) == len(ids) and all(re.fullmatch(r"[a-zA-Z0-9_-]{1,64}", one) for one in ids)
        for cell in read["cells"]:
            found = re.fullmatch(r"answer-(\d+)-(\w)", cell["id"])
            if found:
                in_code = cell["cell_type"] == "code"
                assert cell["source"].split("\n")[0] == (f"# Answer {found[1]} ({found[2]}), in code:" if in_code else f"**Answer {found[1]} ({found[2]}):**")


def test_extra_time_is_noted_and_names_stay_in_the_roster(whole):
    read = notebooks(whole)
    assert "Time: 113 min (90 min and 23 min extra time)" in read["1047"]["cells"][0]["source"]     # 90 x 1.25 = 112.5, up
    assert "Time: 90 min\n" in read["1048"]["cells"][0]["source"]
    assert "Time: 99 min (90 min and 9 min extra time)" in read["1049"]["cells"][0]["source"]
    everywhere = "".join(path.read_text(encoding="utf-8") for folder in ("papers", "private") for path in (whole / folder).iterdir())
    assert not any(name in everywhere for name in ("Invented", "Bola", "Zoë"))


# ---- secrets

def test_a_paper_holds_no_secret_key_tolerance_seed_or_slip(whole):
    secret, scheme = secret_of(whole), Scheme.load(whole)
    raw = {number: (whole / "papers" / f"{number}.ipynb").read_text(encoding="utf-8") for number in scheme.candidates}
    for number, text in raw.items():
        assert secret.hex() not in text and "fingerprint" not in text
        for place, (one, (task_id, seed, mark, _)) in enumerate(zip(scheme.drawn(number), scheme.entries(number)), start=1):
            assert task_id not in text and seed.split(".")[0] not in text and mark not in text
            for part in one.parts:
                if part.kind in ("number", "code"):
                    assert part.asked.tolerance_why not in text
                    assert part.working not in text
                if part.kind == "words":
                    assert not any(line in text for line in part.asked.look_for)
                for _, why in part.slips():
                    assert why not in text
                for option in getattr(part.asked, "options", getattr(part.asked, "steps", ())):
                    assert option.why not in text
                for demand in getattr(part.asked, "demands", ()):
                    assert demand.words not in text
        # The numbers of others stand in their papers only.
        for other in set(raw) - {number}:
            assert other not in text


def test_no_result_stands_in_the_paper(whole):
    """Every result in three digits is looked for in the text of its own task."""
    scheme = Scheme.load(whole)
    for number in scheme.candidates:
        cells = {cell["id"]: cell["source"] for cell in notebooks(whole)[number]["cells"]}
        for place, one in enumerate(scheme.drawn(number), start=1):
            numbers = {float(found) for found in re.findall(r"(?<![\d.])\d+(?:\.\d+)?", cells[f"task-{place}"])}
            for part in one.parts:
                if part.kind in ("number", "code"):
                    value = part.question.value
                    if value >= 10 and value != round(value):
                        assert not any(math.isclose(value, shown, rel_tol=1e-3) for shown in numbers), (part.id, value)


def test_without_the_secret_the_numbers_of_another_cannot_be_derived():
    """A thousand secrets and as many candidates: knowing all of one's own paper leaves another's numbers as open as before."""
    task, mine = find_task("T02-2"), {}
    for place in range(1000):
        secret = place.to_bytes(32, "big")
        own = task.drawn(seed_for(secret, "1047", task.id, "first")).numbers
        other = task.drawn(seed_for(secret, "1048", task.id, "first")).numbers
        mine.setdefault(own["per_100_ml"], []).append(other["per_100_ml"])
    # For each number of mine the other candidate's number scatters over the whole range.
    often = [others for others in mine.values() if len(others) >= 20]
    assert len(often) >= 15 and all(len(set(others)) >= 10 for others in often)
    # A seed looks like chance: each of its bits is set half of the time, whatever the candidate number.
    bits = [bin(int(seed_for(b"s" * 32, str(number), "T02-2", "first").split(".")[0], 16)).count("1") for number in range(2000)]
    assert abs(sum(bits) / (2000 * 128) - 0.5) < 0.005


# ---- the same again

def test_papers_are_the_same_to_the_byte_for_the_same_secret(tmp_path):
    made = [examination(tmp_path / name, ("T02-1", "T03-1", "T10-4", "T12-3"), secret="ab" * 32) for name in ("one", "two")]
    other = examination(tmp_path / "three", ("T02-1", "T03-1", "T10-4", "T12-3"), secret="cd" * 32)
    for folder in (*made, other):
        papers.write_papers(folder)
    first, second, third = ({path.name: path.read_bytes() for part in ("papers", "private") for path in (folder / part).iterdir() if path.name != "secret.txt"}
                            for folder in (*made, other))
    assert first == second and first["1047.ipynb"] != third["1047.ipynb"] and first["scheme.json"] != third["scheme.json"]


def test_papers_handed_out_are_never_written_over(tmp_path):
    folder = examination(tmp_path / "exam", ("T02-1", "T02-4"))
    assert papers.write_papers(folder).new == ("1047", "1048", "1049")
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    with pytest.raises(Problem, match="handed out and are not written over"):
        papers.write_papers(folder)
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before


def test_a_candidate_who_comes_later_gets_a_paper_and_the_others_keep_theirs(tmp_path):
    folder = examination(tmp_path / "exam", ("T02-1", "T02-4"))
    papers.write_papers(folder)
    before = {path.name: path.read_bytes() for path in (folder / "papers").iterdir()}
    (folder / "roster.csv").write_text(ROSTER + "1050,Late Comer,\n", encoding="utf-8")
    (folder / "papers" / "1048.ipynb").unlink()                       # lost: the same paper is written again
    written = papers.write_papers(folder)
    assert written.new == ("1048", "1050") and written.kept == 2
    after = {path.name: path.read_bytes() for path in (folder / "papers").iterdir()}
    assert {name: after[name] for name in before} == before and len(after) == 4
    assert Scheme.load(folder).candidates == ["1047", "1048", "1049", "1050"]


def test_an_interrupted_writing_goes_on_where_it_stopped(tmp_path, monkeypatch):
    folder = examination(tmp_path / "exam", ("T02-1", "T02-4"), secret="ab" * 32)
    whole = examination(tmp_path / "whole", ("T02-1", "T02-4"), secret="ab" * 32)
    papers.write_papers(whole)
    write, many = papers.write_whole, []

    def full(path, content):
        if len(many) == 1:
            raise OSError(28, "No space left on device", str(path))
        many.append(path)
        write(path, content)

    monkeypatch.setattr(papers, "write_whole", full)
    with pytest.raises(Problem, match="disk is full"):
        papers.write_papers(folder)
    monkeypatch.undo()
    papers.write_papers(folder)
    for part in ("papers", "private"):
        assert {path.name: path.read_bytes() for path in (folder / part).iterdir()} == {path.name: path.read_bytes() for path in (whole / part).iterdir()}


def test_a_description_changed_after_the_papers_is_refused(tmp_path):
    folder = examination(tmp_path / "exam", ("T02-1", "T02-4"))
    papers.write_papers(folder)
    described = json.loads((folder / "paper.json").read_text())
    described["pass_mark"] = described["grades"][-1]["from_mark"] = 2                    # allowed: nothing of it stands in a paper
    (folder / "paper.json").write_text(json.dumps(described))
    with pytest.raises(Problem, match="handed out"):
        papers.write_papers(folder)
    described["minutes"] = 91
    (folder / "paper.json").write_text(json.dumps(described))
    with pytest.raises(Problem, match="was changed after papers were written"):
        papers.write_papers(folder)
    (folder / "private" / "scheme.json").unlink()
    with pytest.raises(Problem, match="no mark scheme beside them"):
        papers.write_papers(folder)


def test_the_resit_asks_the_same_with_numbers_that_the_first_paper_never_had(tmp_path):
    folder = examination(tmp_path / "exam", ("T02-1", "T02-2", "T05-1", "T08-2"), "candidate_number\n" + "\n".join(map(str, range(1000, 1060))))
    papers.write_papers(folder)
    again = papers.make_resit(folder)
    assert papers.make_resit(folder) == again                        # once made it stays
    papers.write_papers(again)
    first, second = Scheme.load(folder), Scheme.load(again)
    assert (first.set_name, second.set_name) == SETS and read_paper(again).task_ids == read_paper(folder).task_ids
    for place in range(4):
        sets = [{json.dumps([one.numbers, one.picks], sort_keys=True) for one in (scheme.drawn(number)[place] for number in scheme.candidates)} for scheme in (first, second)]
        assert not sets[0] & sets[1] and min(map(len, sets)) > 10
    with pytest.raises(Problem, match="a resit already"):
        papers.make_resit(again)


# ---- paper.json

def test_what_is_written_is_read(tmp_path):
    paper = new_paper("Prüfung 1", ("T02-1", "T05-2"), due="2027-03-05 16:00")
    write_paper(tmp_path, paper)
    assert read_paper(tmp_path) == paper and paper.marks == 8 and paper.minutes == 15
    assert [one.from_mark for one in paper.boundaries] == [7, 6, 4] and paper.pass_mark == 4
    assert [paper.grade(marks) for marks in (8, 6, 4, 3.9)] == ["very good", "good", "pass", "not passed"]
    with pytest.raises(Problem, match="not written over"):
        write_paper(tmp_path, paper)


@pytest.mark.parametrize("change, says", [
    (dict(minutes=0), "minutes"), (dict(minutes="60"), "minutes"), (dict(minutes=True), "minutes"), (dict(title=" "), "title"), (dict(title="a\nb"), "title"), (dict(set="third"), "first or resit"),
    (dict(pass_mark=99), "pass mark"), (dict(pass_mark=0), "pass mark"), (dict(pass_mark="4"), "pass mark"), (dict(pass_mark=3), "make them the same"), (dict(due="tomorrow"), "2027-03-05 16:00"), (dict(aids="a\nb"), "one line"), (dict(aids=3), "one line"),
    (dict(tasks=[]), "1 to 100 tasks"), (dict(tasks=[{"task": "T02-1", "marks": 9}]), "T02-1 has 4 marks"), (dict(tasks=[{"task": "T02-1", "marks": 4}] * 2), "twice"),
    (dict(tasks=[{"task": "T02-99", "marks": 4}]), "There is no task T02-99"), (dict(tasks=["T02-1"]), "is written as"), (dict(tasks={"a": 1}), "is a list"),
    (dict(grades=[{"grade": "good", "from_mark": 4}, {"grade": "pass", "from_mark": 6}]), "from the highest down"), (dict(grades=[{"grade": "", "from_mark": 4}]), "name of its own"),
    (dict(grades=[{"grade": "pass", "from_mark": 4}, {"grade": "pass", "from_mark": 3}]), "name of its own"), (dict(grades=[4]), "grade 1 is written as"), (dict(solution=1), "not part of a paper"),
])
def test_a_description_that_does_not_fit_is_refused_in_one_sentence(tmp_path, change, says):
    described = json.loads(new_paper("A", ("T02-1", "T05-2")).as_json())
    (tmp_path / "paper.json").write_text(json.dumps({**described, **change}))
    with pytest.raises(Problem, match=re.escape(says)) as refused:
        read_paper(tmp_path)
    assert "\n" not in str(refused.value) and "paper.json" in str(refused.value) or "no task" in str(refused.value)


@pytest.mark.parametrize("text, says", [("{", "line 1"), ("[]", "one object"), ("{}", "title is missing"), ("\xff\xfe", "not JSON"), ("[" * 100_000, "not JSON"), (None, "There is no paper.json")])
def test_what_is_no_description_is_said(tmp_path, text, says):
    if text is not None:
        (tmp_path / "paper.json").write_bytes(text.encode("latin-1"))
    with pytest.raises(Problem, match=says):
        read_paper(tmp_path)


# ---- blueprint and choice

def test_the_blueprint_adds_up():
    paper = new_paper("A", EVERY)
    made = blueprint(paper.tasks)
    assert made.marks == paper.marks == sum(made.totals.values()) == sum(sum(row.values()) for _, _, row in made.rows)
    assert made.expected == pytest.approx(sum(task.marks * task.difficulty for task in paper.tasks))
    text = "\n".join(blueprint_lines(paper))
    assert "L02-O1" in text and "by hand" in text and f"{made.marks}" in text
    assert "No task asks to recall." in blueprint(new_paper("A", ("T02-1",)).tasks).remarks
    assert any("hard" in one or "easy" in one for one in blueprint([find_task("T02-2")]).remarks)


@pytest.mark.parametrize("lessons, marks", [(("02", "05"), 20), (("2",), 9), (tuple(f"{number}" for number in range(16)), 48), (("00", "12"), 12)])
def test_tasks_are_chosen_to_add_up_and_are_spread(lessons, marks):
    chosen = choose(lessons, marks)
    tasks = [find_task(one) for one in chosen]
    assert sum(task.marks for task in tasks) == marks and len(set(chosen)) == len(chosen) and choose(lessons, marks) == chosen
    per_lesson = [sum(task.marks for task in tasks if task.lesson == f"{int(one):02d}") for one in lessons]
    assert max(per_lesson) - min(per_lesson) <= 5
    assert {task.lesson for task in tasks} == {f"{int(one):02d}" for one in lessons} and len({task.level for task in tasks}) > 1


def test_lessons_may_be_given_as_a_range():
    assert choose(("02-05", "7"), 30) == choose(("02", "03", "04", "05", "07"), 30)
    assert {find_task(one).lesson for one in choose(("2–15",), 60)} == {f"{number:02d}" for number in range(2, 16)}


@pytest.mark.parametrize("lessons, marks, says", [(("16",), 10, "no tasks on lesson 16"), (("14-17",), 10, "no tasks on lesson 16"), (("5-2",), 10, "no tasks on lesson 5-2"), (("x",), 10, "no tasks on lesson x"), (("02",), 1000, "marks together"), (("02",), 0, "cannot be chosen")])
def test_what_cannot_be_chosen_is_said(lessons, marks, says):
    with pytest.raises(Problem, match=says):
        choose(lessons, marks)


def test_extra_time_is_rounded_up():
    paper = Paper("A", ("T02-1",), 60, 2, (Boundary("pass", 2),))
    assert [paper.minutes_with(one) for one in (0, 25, 10, 33.3, 0.1)] == [60, 75, 66, 80, 61]


def test_the_front_does_not_name_the_candidate():
    paper = new_paper("A", ("T02-1",))
    assert "Ines" not in papers.front_text(paper, roster.Candidate("1047", "Ines", 0.0))
