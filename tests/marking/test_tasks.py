"""Every task over many seeds: the key earns all marks, a slip is recognised and not accepted, and what follows rightly keeps its marks."""

import itertools
import re

import pytest

from gypsumkit.marking.task_bank import all_tasks, find_task, lessons
from gypsumkit.marking.tasks import KEY, LEVELS, NOTHING, InWords, Number, OneOf, Task, letters_of, longest_run, plain
from gypsumkit.problems import Problem
from gypsumkit.quiz import bank
from gypsumkit.quiz.questions import Option, Slip
from gypsumkit.units import say_quantity

TASKS = all_tasks()
SEEDS = 200
every_task = pytest.mark.parametrize("task_id", TASKS)


def drawn(task_id, many=SEEDS):
    return [TASKS[task_id].drawn(f"seed-{place}") for place in range(many)]


def typed(part, value):
    return say_quantity(value, part.asked.unit and part.question.unit_wanted, 6).replace(" × 10^", "e")


# ---- the bank as a whole

def test_there_are_enough_tasks_on_every_lesson_and_of_every_kind_and_level():
    assert len(TASKS) >= 40
    assert lessons() == [f"{number:02d}" for number in range(16)]
    assert all(sum(task.lesson == lesson for task in TASKS.values()) >= 3 for lesson in lessons())
    kinds = {part.kind for task in TASKS.values() for part in task.parts}
    assert kinds == {"number", "choice", "several", "order", "recipe", "code", "words"}
    assert {task.level for task in TASKS.values()} == set(LEVELS)
    assert sum(sum(isinstance(part, Number) for part in task.parts) >= 2 for task in TASKS.values()) >= 15      # derivations in steps


@every_task
def test_a_task_belongs_to_an_objective_and_says_why_its_tolerance_is_so(task_id):
    task = TASKS[task_id]
    assert task.objective in {one.id for one in bank.objectives(task.lesson)}
    for part in task.parts:
        if isinstance(part, Number):
            assert len(part.tolerance_why) >= 15 and (part.relative_tolerance > 0 or part.absolute_tolerance > 0)
            assert part.relative_tolerance <= 0.05, "what is that far off is not the same result"


# ---- every task, many seeds

@every_task
def test_the_key_earns_all_marks(task_id):
    for one in drawn(task_id):
        for mark, part in zip(one.mark(one.keys()), one.parts):
            if part.kind == "words":
                assert mark.by_hand and mark.marks == 0 and "Look for" in mark.why
            else:
                assert (mark.marks, mark.chosen, mark.by_hand, mark.followed_through) == (part.marks, KEY, False, False), (one.seed, mark)


@every_task
def test_every_slip_is_recognised_and_not_accepted(task_id):
    for one in drawn(task_id):
        for part in one.parts:
            for text, why in part.slips():
                mark = {found.label: found for found in one.mark({**one.keys(), part.label: text})}[part.label]
                assert mark.marks < part.marks and not mark.by_hand, (one.seed, text, mark)
                if part.kind in ("number", "code"):
                    assert mark.marks == 0 and mark.slip == why and re.fullmatch(r"slip \d", mark.chosen), (one.seed, text, mark)
                elif part.kind == "recipe":
                    assert mark.slip == why and why in mark.why
                else:
                    assert mark.why and (part.kind != "choice" or mark.slip == why)


@every_task
def test_texts_are_filled_and_say_their_unit_and_no_two_options_are_alike(task_id):
    for one in drawn(task_id):
        texts = [one.text, *(part.prompt for part in one.parts), *(line for part in one.parts for line in part.lines)]
        assert not any(re.search(r"[{}]|None|nan|inf\b|lambda", text) for text in texts), texts
        for part in one.parts:
            assert len({line[3:] for line in part.lines}) == len(part.lines)
            assert part.working and "{" not in part.working
            if part.kind in ("number", "code"):
                assert part.question.unit_is_stated, f"{part.id} does not say its unit"


@every_task
def test_no_result_can_be_read_from_the_text(task_id):
    for one in drawn(task_id, 60):
        shown = " ".join([one.text, *(part.prompt for part in one.parts)])
        for part in one.parts:
            if part.kind in ("number", "code"):
                key = part.key.split()[0]
                assert len(key.replace(".", "")) < 3 or not re.search(rf"(?<![\d.,]){re.escape(key)}(?![\d.,]*\d)", shown), (one.seed, key, shown)


@every_task
def test_follow_through_keeps_the_method_marks_and_only_then(task_id):
    """An earlier value that is 17 % off: what follows from it rightly is kept, the same number without it is not."""
    for one in drawn(task_id, 60):
        chain = [part for part in one.parts if part.kind in ("number", "code")]
        for place, part in enumerate(chain[:-1]):
            wrong = 1.17 * part.question.value
            later = chain[place + 1]
            own = {**later.known, part.asked.name: wrong}
            try:
                follows = later.asked.result(type(later.known)(own))
            except Problem:
                continue
            if abs(follows - later.question.value) <= 2 * later.asked.tolerance(later.question.value) or follows <= 0:
                continue                        # this part does not lean on the earlier one
            answers = {**one.keys(), part.label: typed(part, wrong), later.label: typed(later, follows)}
            marks = {mark.label: mark for mark in one.mark(answers)}
            assert marks[part.label].marks < part.marks
            mark = marks[later.label]
            assert mark.followed_through and mark.marks == (later.asked.method_marks or later.marks), (one.seed, mark)
            assert "method" in mark.why and "your own earlier value" in mark.why
            alone = {mark.label: mark for mark in one.mark({**one.keys(), later.label: typed(later, follows)})}[later.label]
            assert not alone.followed_through and alone.marks == 0, "the same number from a right earlier value is wrong"
            off = {mark.label: mark for mark in one.mark({**answers, later.label: typed(later, 1.31 * follows)})}[later.label]
            assert not off.followed_through or abs(1.31 * follows - later.question.value) <= later.asked.tolerance(later.question.value)


def test_enough_tasks_have_a_part_that_follows_through():
    """Counts the tasks for which the test above has something to look at."""
    leaning = 0
    for task in TASKS.values():
        one = task.drawn("seed-0")
        chain = [part for part in one.parts if part.kind in ("number", "code")]
        for before, later in zip(chain, chain[1:]):
            follows = later.asked.result(type(later.known)({**later.known, before.asked.name: 1.17 * before.question.value}))
            leaning += abs(follows - later.question.value) > 2 * later.asked.tolerance(later.question.value)
    assert leaning >= 25


@every_task
def test_no_answer_is_so_odd_that_marking_stops(task_id):
    odd = ["0", "-5", "1e300", "1e-300", "0 g", "1/0", "A", "H", "A, A", "A B C D E F G H", "'; --", "\x00", "\ud800", "{x}", "%s", "=1+1", "powder: stone", "powder: dental stone\nwater in mL: 0",
           "water in mL: 1e9", "water in mL: -3 mL", ":", "=", "𝟓𝟎 mL", "٣٤", "‮50 mL", "50 mL" * 2000, "(" * 3000]
    one = TASKS[task_id].drawn("odd")
    for text in odd:
        marks = one.mark({part.label: text for part in one.parts})
        assert len(marks) == len(one.parts)
        assert all(0 <= mark.marks <= mark.out_of and mark.why for mark in marks)
        mixed = one.mark({**one.keys(), "a": text})
        assert all(mark.marks == mark.out_of or mark.why for mark in mixed)


@pytest.mark.parametrize("task_id", [task.id for task in TASKS.values() if any(part.kind == "recipe" for part in task.parts)])
def test_any_recipe_is_judged_or_left_to_the_assessor(task_id):
    one = TASKS[task_id].drawn("r")
    part = one.parts[0]
    for powder in ("model plaster", "impression plaster", "improved stone"):
        for powder_g, ratio in ((0.1, 0.5), (100, 0.15), (100, 0.2), (100, 0.3), (100, 0.6), (100, 0.9), (100, 3), (99_999, 0.5), (1e6, 0.5), (0, 0.5)):
            said = {"powder": powder, "powder in g": f"{powder_g} g", "water in mL": f"{ratio * powder_g} mL", "way of mixing": "machine under vacuum"}
            (mark,) = one.mark({"a": "\n".join(f"{line} {said[line[:-1]]}" for line in part.lines)})
            assert 0 <= mark.marks <= part.marks and mark.why


# ---- marking, piece by piece

def test_method_marks_may_be_fewer_than_all_and_the_reason_is_said():
    task = Task(
        id="T99-1", objective="L02-O1", level="apply", difficulty=0.5, title="Two steps", text="There are {grams} g.",
        parameters=lambda draw: {"grams": draw.randrange(120, 190, 10)}, digits={"grams": 2},
        parts=(Number(prompt="Half of it, in g?", marks=1, name="half_g", compute=lambda p: p.grams / 2, unit="g", band=(50, 100), working="{grams} g ÷ 2 = {key}",
                      tolerance_why="plain arithmetic, up to rounding."),
               Number(prompt="A third of that half, in g?", marks=3, method_marks=2, name="third_g", compute=lambda p: p.half_g / 3, unit="g", band=(15, 35),
                      working="{half_g} g ÷ 3 = {key}", tolerance_why="plain arithmetic, up to rounding.", slips=(Slip(lambda p: p.half_g / 2, "You took a half again, not a third."),))))
    one = task.drawn("a")
    half = one.parts[0].question.value
    first, second = one.mark({"a": f"{half + 9} g", "b": f"{(half + 9) / 3:.4g} g"})
    assert (first.marks, second.marks, second.out_of, second.followed_through) == (0, 2, 3, True)
    assert f"{(half + 9) / 3:.3g} g" in second.why
    assert [mark.marks for mark in one.mark({"a": "", "b": one.parts[1].key})] == [0, 3]


def test_a_judgement_follows_from_the_candidates_own_value():
    task = find_task("T03-1")
    one = next(one for one in (task.drawn(f"s{place}") for place in range(50)) if one.parts[1].question.value < 0.45)
    stress = one.parts[1].known["stress_pa"]
    wrong_pressure = stress / 1.6                                     # so stiff that it would stand
    stands = next(line[0] for line in one.parts[2].lines if "It stands" in line)
    marks = one.mark({"a": f"{wrong_pressure:.5g} Pa", "b": "1.6", "c": stands})
    assert [mark.marks for mark in marks] == [0, 1, 1] and marks[2].followed_through
    assert [mark.marks for mark in one.mark({**one.keys(), "c": stands})] == [1, 1, 0]


@pytest.mark.parametrize("text", ["83.2 mL", "**83.2 mL**", "83,2 ml", "160 g × 0.52 mL/g = 83.2 mL", "first I multiply\n160 * 0.52 = 83.2 mL", "0.0832 L", "`83.2 mL`", "$83.2 mL$", "83.2", "> 83.2 mL",
                                  "83.2 mL\n\n", "about 83.2 mL", "83.2\u00a0mL"])
def test_a_number_is_read_as_candidates_write_it(text):
    task = Task(id="T99-2", objective="L02-O1", level="apply", difficulty=0.5, title="One", text="160 g of powder at 52 mL per 100 g.",
                parts=(Number(prompt="How much water in mL?", marks=1, name="water_ml", compute=lambda p: 160 * 0.52, unit="mL", band=(60, 120), working="160 × 0.52 = {key}",
                              tolerance_why="plain arithmetic, up to rounding."),))
    (mark,) = task.drawn("a").mark({"a": text})
    assert mark.marks == 1, mark


@pytest.mark.parametrize("text, says", [("forty mL", "not a number"), ("40 to 50 mL", "more than one number"), ("83.2 g", "is a mass"), ("83.2 furlongs", "not a unit"), ("x" * 5000, "characters"),
                                        ("<script>alert(1)</script>", ""), ("∞", ""), ("nan mL", "")])
def test_what_cannot_be_read_is_said_and_left_to_the_assessor(text, says):
    (mark,) = find_task("T02-2").drawn("a").mark({"a": text})
    assert mark.marks == 0 and mark.by_hand and says in mark.why and mark.answer


@pytest.mark.parametrize("text", ["", None, "   \n ", "**  **", "\u00a0"])
def test_no_answer_is_no_answer(text):
    (mark,) = find_task("T02-2").drawn("a").mark({"a": text})
    assert (mark.marks, mark.chosen, mark.by_hand) == (0, NOTHING, False)
    assert find_task("T02-2").drawn("a").mark({})[0].chosen == NOTHING
    blank = find_task("T12-3").drawn("a")
    assert blank.mark({"a": "\n".join(f"- {line} " for line in blank.parts[0].lines)})[0].chosen == NOTHING


@pytest.mark.parametrize("text, letters", [("b", "B"), ("(B)", "B"), ("B.", "B"), ("B)", "B"), ("B. The small batch", "B"), ("b: because", "B"), ("A, C", "A, C"), ("A and C", "A, C"), ("a c", "A, C"),
                                           ("A → C → B", "A, C, B"), ("A > C > B", "A, C, B"), ("ACB", "A, C, B"), ("A\nC\nB", "A, C, B"), ("A;C", "A, C"), ("- A\n- C", "A, C"),
                                           ("bad", "bad"), ("A small batch", "A small batch"), ("", "")])
def test_letters_are_read_as_candidates_write_them(text, letters):
    assert letters_of(plain(text)) == letters


def test_several_options_earn_nothing_for_guessing():
    one = find_task("T00-1").drawn("a")
    letters = [option.letter for option in one.parts[0].question.shown_options]
    (mark,) = one.mark({"a": ", ".join(letters)})
    right = sum(option.correct for option in one.parts[0].question.shown_options)
    assert mark.marks <= max(0, 2 * (2 * right / len(letters) - 1)) and mark.marks < 2 and "correctly" in mark.why
    key = one.keys()["a"].split(", ")
    (nearly,) = one.mark({"a": ", ".join(key[1:])})
    assert nearly.marks == 1 and "4 of 5" in nearly.why                                 # 2 x (2 x 0.8 - 1) = 1.2, whole marks


def test_an_order_earns_by_places_and_never_all_when_wrong():
    one = find_task("T02-4").drawn("a")
    right = one.keys()["a"].split()
    swapped = [right[1], right[0], *right[2:]]
    (mark,) = one.mark({"a": " ".join(swapped)})
    assert mark.marks == 1 and "3 of 5" in mark.why
    assert one.mark({"a": " ".join(reversed(right))})[0].marks == 0
    (shifted,) = one.mark({"a": " ".join([right[-1], *right[:-1]])})
    assert shifted.marks == 1 and "0 of 5 steps stand in their place; 4 follow each other correctly" in shifted.why
    every = [one.mark({"a": " ".join(order)})[0].marks for order in itertools.permutations(right)]
    assert every.count(2) == 1 and sum(every) / len(every) < 0.25, "who guesses hardly gains"
    (short,) = one.mark({"a": "A B"})
    assert short.by_hand and "needs its own place" in short.why


def test_the_longest_run_of_an_order():
    assert [longest_run(one) for one in ([0, 1, 2, 3], [3, 0, 1, 2], [1, 0, 2, 3], [2, 1, 0], [0, 2, 1, 3, 4, 5], [0])] == [4, 3, 2, 1, 3, 1]


def test_a_recipe_is_judged_by_what_the_mix_does():
    one = find_task("T12-3").drawn("a")
    form = one.keys()["a"]
    (mark,) = one.mark({"a": form})
    assert mark.marks == 5 and mark.why.count(": met") == 5
    weaker = re.sub(r"water in mL: .*", "water in mL: 200 mL", form)
    assert one.mark({"a": weaker})[0].marks < 5
    for text, says in ((form.replace("powder in g", "grams"), "not a line of the recipe"), (form.replace("spatulated by hand", "whisked"), "no way of mixing"),
                       (form + "\nwater in mL: 3", "twice"), (form.rsplit("\n", 1)[0], "not filled in"), (re.sub(r"water in mL: .*", "water in mL: 5 min", form), "is a time")):
        (mark,) = one.mark({"a": text})
        assert mark.by_hand and mark.marks == 0 and says in mark.why, mark
    other = find_task("T05-2").drawn("a")
    (mark,) = other.mark({"a": re.sub(r"powder: .*", "powder: high-expansion stone", other.keys()["a"])})
    assert mark.marks == 0 and "one of those offered: not met" in mark.why
    upside_down = re.sub(r"water in mL: .*", "water in mL: 900", form)
    (mark,) = one.mark({"a": upside_down})
    assert mark.marks == 0 and not mark.by_hand and ("too wet" in mark.why or "upside down" in mark.why)


def test_code_answers_are_what_was_printed_and_else_marked_by_hand():
    one = find_task("T01-5").drawn("a")
    value = one.parts[0].question.value
    assert one.mark({"a": f"adding up\n{value}\n"})[0].marks == 2
    assert one.mark({"a": f"the water is = {value:.2f} g"})[0].marks == 2
    (mark,) = one.mark({"a": "print(1)"}, by_hand={"a": "code is not run on this system."})
    assert mark.by_hand and mark.marks == 0 and "not run" in mark.why


def test_marking_is_the_same_each_time_and_a_task_is_drawn_again_from_its_own_seed():
    for task in TASKS.values():
        one = task.drawn("0123abcd.first")
        again = task.drawn(one.seed)
        assert one.seed.startswith("0123abcd.first.") and again.seed == one.seed
        assert (again.text, again.keys(), [part.lines for part in again.parts]) == (one.text, one.keys(), [part.lines for part in one.parts])
        assert again.mark(one.keys()) == one.mark(one.keys())


def test_options_change_their_letters_from_candidate_to_candidate_and_keep_their_name():
    task = find_task("T00-2")
    ones = [task.drawn(f"c{place}") for place in range(12)]
    assert len({one.keys()["a"] for one in ones}) > 1
    wrong = {one.mark({"a": next(text for text, why in one.parts[0].slips() if "no limit" in why)})[0].chosen for one in ones}
    assert wrong == {"option 3"}


# ---- refusals of the bank

def test_faulty_tasks_are_refused():
    good = dict(id="T99-3", objective="L02-O1", level="apply", difficulty=0.5, title="x", text="A text.", parts=(InWords(prompt="Say why it is so.", marks=1, look_for=("a",)),))
    Task(**good)
    for changed, says in ((dict(id="X1"), "not a task id"), (dict(level="hard"), "level"), (dict(difficulty=1.0), "share of marks"), (dict(parts=()), "parts"),
                          (dict(parts=(InWords(prompt="Say why it is so.", marks=2, look_for=("a",)),)), "each mark")):
        with pytest.raises(Problem, match=says):
            Task(**{**good, **changed})
    with pytest.raises(Problem, match="find_me"):
        Task(**{**good, "text": "{find_me}"}).drawn("a")
    leaking = Task(**{**good, "text": "There are 12 g.", "parts": (
        Number(prompt="Half of it in g?", marks=1, name="half_g", compute=lambda p: 6.5, unit="g", band=(5, 8), working="{key} is half of it", tolerance_why="plain arithmetic only."),
        OneOf(prompt="Which of these is it?", marks=1, shown=3, options=(Option("{half_g} g", "This is what it is.", True), Option("9 g", "This is not what it is."), Option("8 g", "This is not what it is."))))})
    with pytest.raises(Problem, match="half_g"):
        leaking.drawn("a")


def test_an_unknown_task_brings_the_nearest():
    with pytest.raises(Problem, match="perhaps T02-1"):
        find_task("T2-1")
    assert find_task(" t02-1 ").id == "T02-1"
