"""Equal papers: over thousands of seeds every set of numbers is as hard as every other, and no set is in both papers."""

import hashlib
import hmac
import json

import pytest

from gypsumkit.marking import drawing
from gypsumkit.marking.task_bank import all_tasks
from gypsumkit.marking.tasks import Number
from gypsumkit.problems import Problem

TASKS = all_tasks()
SEEDS = 1500
every_task = pytest.mark.parametrize("task_id", TASKS)


def tried(task, many=SEEDS, set_name=None):
    """Return numbers, picks and attempt of many seeds, without building the texts."""
    for place in range(many):
        for attempt in range(600):
            numbers, picks = task._tried(f"s{place}", attempt)
            if task.fault_of(numbers, picks, set_name) is None:
                yield numbers, picks, attempt
                break
        else:
            pytest.fail(f"{task.id}: no fair set for seed {place}")


@every_task
def test_every_set_is_as_hard_as_every_other(task_id):
    """Checked here anew, not by the functions that draw: digits, band, rounding, validity."""
    task, keys, attempts = TASKS[task_id], {}, 0
    for numbers, _, attempt in tried(task):
        attempts += attempt + 1
        named = task.named(numbers)
        for name, many in task.digits.items():
            if many is not None:
                assert len(f"{named[name]:.10g}".replace(".", "").strip("0")) == many and named[name] not in (1, 10, 100, 1000)
        known = type(named)(named)
        for part in task.parts:
            if isinstance(part, Number):
                known[part.name] = part.result(known)
                keys.setdefault(part.name, []).append(known[part.name])
        for prediction in task.trusted(named) if task.trusted else ():
            assert prediction.valid and prediction.reason == ""
    assert attempts < 8 * SEEDS, "most draws should serve"
    for part in task.parts:
        if isinstance(part, Number):
            least, most = min(keys[part.name]), max(keys[part.name])
            assert most / least <= drawing.WIDEST_BAND and part.band[0] <= least and most <= part.band[1]
            assert most > 0.62 * part.band[1] and least < 1.6 * part.band[0], f"{part.name}: the band {part.band} is wider than the keys {least:g} to {most:g}"


@every_task
def test_a_candidate_who_rounds_on_the_way_is_accepted(task_id):
    task = TASKS[task_id]
    for numbers, picks, _ in tried(task, 150):
        named = task.named(numbers)
        right, rounded = type(named)(named), type(named)(named)
        for part in task.parts:
            if isinstance(part, Number):
                right[part.name], value = part.result(right), part.result(rounded)
                rounded[part.name] = float(f"{value:.{part.digits}g}")
                assert abs(rounded[part.name] - right[part.name]) <= part.tolerance(right[part.name])


@every_task
def test_there_are_dozens_of_sets_and_the_two_papers_share_none(task_id):
    task, sets = TASKS[task_id], {}
    for set_name in drawing.SETS:
        sets[set_name] = {json.dumps([numbers, picks], sort_keys=True) for numbers, picks, _ in tried(task, 400, set_name)}
        assert len(sets[set_name]) >= 16, f"{len(sets[set_name])} sets in the {set_name} paper"
    assert not sets["first"] & sets["resit"]
    assert len(sets["first"] | sets["resit"]) >= 40


def test_two_candidates_seldom_share_a_set_and_never_a_whole_paper():
    secret, shared, pairs, papers = b"s" * 32, 0, 0, set()
    chosen = [TASKS[one] for one in ("T01-1", "T02-1", "T02-5", "T05-1", "T09-2", "T11-1", "T12-1")]
    drawn = {task.id: [] for task in chosen}
    for place in range(200):
        paper = []
        for task in chosen:
            one = task.drawn(drawing.seed_for(secret, str(1000 + place), task.id, "first"))
            drawn[task.id].append(json.dumps([one.numbers, one.picks], sort_keys=True))
            paper.append(drawn[task.id][-1])
        papers.add(tuple(paper))
    for sets in drawn.values():
        pairs += 199 * 200 // 2
        shared += sum(sets.count(one) - 1 for one in sets) // 2
    assert len(papers) == 200 and shared / pairs < 0.01


# ---- seeds

def test_a_seed_is_a_keyed_hash_of_candidate_task_and_set():
    secret = bytes(range(32))
    seed = drawing.seed_for(secret, "1047", "T02-1", "first")
    message = '["1047", "T02-1", "first"]'.encode()
    assert seed == hmac.new(secret, message, hashlib.sha256).hexdigest()[:32] + ".first"
    others = {drawing.seed_for(secret, *rest) for rest in (("1048", "T02-1", "first"), ("1047", "T02-2", "first"), ("1047", "T02-1", "resit"))}
    others.add(drawing.seed_for(bytes(32), "1047", "T02-1", "first"))
    assert len(others | {seed}) == 5
    # Nothing slides from one field into the next.
    assert drawing.seed_for(secret, "1", "04", "first") != drawing.seed_for(secret, "10", "4", "first")
    with pytest.raises(Problem, match="first or resit"):
        drawing.seed_for(secret, "1", "T02-1", "third")
    with pytest.raises(Problem, match="not a seed"):
        drawing.read_seed("../x")


# ---- the checks themselves can fail

@pytest.mark.parametrize("numbers, says", [({"x_g": 130.0}, None), ({"x_g": 100}, "1 digits"), ({"x_g": 250}, "too easy"), ({"x_g": 135}, "3 digits"), ({"x_g": "text"}, None)])
def test_given_numbers_are_checked(numbers, says):
    fault = drawing.fault_of_given(numbers, {"x_g": 2})
    assert fault is None if says is None else says in fault
    with pytest.raises(Problem, match="y_g"):
        drawing.fault_of_given({"y_g": 3}, {})


@pytest.mark.parametrize("value, says", [(83.2, None), (83.25, "edge"), (83.249, "edge"), (83.26, None), (9.0, "outside"), (float("nan"), "outside"), (52.1, "copied"), (10.0, "too easy"), (100.0, "too easy")])
def test_results_are_checked(value, says):
    fault = drawing.fault_of_result(value, (10, 100), {"ml": 52, "words": "x"}, 0.5)
    assert fault is None if says is None else says in fault


def test_slips_are_checked():
    def tolerance_of(value):
        return 0.01 * value
    assert drawing.fault_of_slips(100, 1, [120, 150], tolerance_of) is None
    assert "near the result" in drawing.fault_of_slips(100, 1, [101.9], tolerance_of)
    assert "two slips" in drawing.fault_of_slips(100, 1, [150, 150.5], tolerance_of)


@pytest.mark.parametrize("value, many", [(300, 1), (0.3, 1), (0.52, 2), (105, 3), (130.0, 2), (0.0912, 3)])
def test_digits_are_counted(value, many):
    assert drawing.significant_digits(value) == many
