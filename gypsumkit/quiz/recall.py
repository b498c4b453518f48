"""What comes back at the start of a lesson: questions that were missed, then a planned one for objectives of earlier lessons.

The plan is made for the whole course at once, from the bank alone, so that every objective comes back twice after its own
lesson: in later lessons as far as they have room, and else in the parts of the last recall, which follows the last lesson.
Of what a lesson plans, most comes back for the first time and the rest for the second; what has waited longest comes first.
How many questions and parts there are is our choice.
"""

import datetime
import random
from dataclasses import dataclass

from gypsumkit.problems import Problem
from gypsumkit.quiz import bank as course_bank

TIMES = 2           # how often each objective comes back after its own lesson
PLANNED = 5         # planned questions of one lesson
MOST_MISSED = 3     # missed questions that come before them
LAST_PARTS = (("1", "a day after the last lesson"), ("2", "a week after it"), ("3", "a month after it"), ("4", "before you need it all"))


@dataclass(frozen=True)
class Plan:
    """In which order objectives come back.

    Parameters
    ----------
    lessons : dict of str to tuple of str
        For each lesson the objectives it recalls.
    parts : tuple of tuple of str
        For each part of the last recall the objectives it recalls.
    """

    lessons: dict
    parts: tuple

    def places(self, objective):
        """Return where an objective comes back, in order: numbers of lessons, then ``"part 1"`` and so on."""
        named = [*self.lessons.items(), *((f"part {name}", part) for (name, _), part in zip(LAST_PARTS, self.parts))]
        return tuple(place for place, objectives in named if objective in objectives)


def plan_of_recall(bank=None, how_many=PLANNED, until=None):
    """Plan the recall of the whole course, or of its beginning, which does not depend on what follows.

    Parameters
    ----------
    bank : Bank, optional
        The bank; the course's own when not given.
    how_many : int
        Planned questions of one lesson.
    until : str, optional
        The last lesson to plan for: later ones are then not even read, and there are no parts of the last recall.

    Returns
    -------
    Plan
    """
    bank = course_bank.the_bank() if bank is None else bank
    waiting, times, planned = [], {}, {}
    for number in [one for one in bank.lessons() if until is None or one < until] + ([until] if until else []):
        planned[number] = _for_one_lesson(waiting, times, how_many)
        for objective in planned[number]:
            times[objective] += 1
            waiting.remove(objective)
            waiting.append(objective)               # what came back waits anew, behind the others
        for objective in (_askable(bank, number) if number != until else ()):
            times[objective] = 0
            waiting.append(objective)
    return Plan(planned, () if until else _last_parts(waiting, times))


def _for_one_lesson(waiting, times, how_many):
    """Choose objectives: more than half for the first time, the rest for the second; free room goes to the other kind."""
    first, again = ([one for one in waiting if times[one] == count] for count in (0, 1))
    room = how_many - min(how_many // 2, len(again))
    chosen = first[:room]
    chosen += again[:how_many - len(chosen)]
    return tuple(chosen)


def _last_parts(waiting, times):
    """Share out what has not come back often enough: the same objective at least two parts apart, all parts alike in length."""
    parts = [[] for _ in LAST_PARTS]
    for objective in sorted(waiting, key=lambda one: times[one]):
        missing = TIMES - times[objective]
        if missing == 2:
            near = min(range(len(parts) - 2), key=lambda place: len(parts[place]))
            parts[near].append(objective)
            parts[near + 2].append(objective)
        elif missing == 1:
            min(parts, key=len).append(objective)
    return tuple(map(tuple, parts))


def _askable(bank, number):
    """Return the objectives of a lesson that a question without a picture asks, in their order."""
    asked = {question.objective for question in bank.questions(number) if not question.at_picture}
    return [objective.id for objective in bank.objectives(number) if objective.id in asked]


def recall(lesson, progress, how_many=PLANNED, bank=None):
    """Choose questions from earlier lessons: missed ones first, then one for each objective that is planned for this lesson.

    Parameters
    ----------
    lesson : str
        Number of the lesson that is about to begin, ``"02"``.
    progress : Progress
        What the reader has answered so far.
    how_many : int
        How many planned questions are wanted, at least 1.
    bank : Bank, optional
        The bank; the course's own when not given.

    Returns
    -------
    list of Question
        At most `MOST_MISSED` that were missed, then the planned ones; the same list for the same answers.
    """
    bank = course_bank.the_bank() if bank is None else bank
    number = f"{int(lesson):02d}"
    plan = plan_of_recall(bank, how_many, number)
    earlier = [one for one in bank.lessons() if one < number]
    return _questions(plan.lessons[number], plan, number, earlier, progress, bank)


def last_recall(part, progress, bank=None):
    """Choose the questions of one part of the last recall, as `recall` does.

    Parameters
    ----------
    part : str
        ``"1"`` to ``"4"``.
    progress : Progress
        What the reader has answered so far.
    bank : Bank, optional
        The bank; the course's own when not given.

    Returns
    -------
    list of Question

    Raises
    ------
    Problem
        When there is no such part.
    """
    names = [name for name, _ in LAST_PARTS]
    if str(part) not in names:
        raise Problem(f"There is no part {part} of the last recall: the parts are {', '.join(names)}.")
    bank = course_bank.the_bank() if bank is None else bank
    plan = plan_of_recall(bank)
    return _questions(plan.parts[names.index(str(part))], plan, f"part {part}", bank.lessons(), progress, bank)


def _questions(objectives, plan, place, earlier, progress, bank):
    """Return missed questions of earlier lessons, then one question for each objective that these do not ask already."""
    latest = {question_id: attempts[-1] for question_id, attempts in _attempts(progress).items() if attempts}
    pool = [question for number in earlier for question in bank.questions(number) if not question.at_picture]
    missed = sorted((one for one in pool if one.id in latest and not latest[one.id]["correct"]), key=lambda one: _asked_at(latest, one))
    chosen = missed[:MOST_MISSED]
    asked = {question.objective for question in chosen}
    for objective in (one for one in objectives if one not in asked):
        turns = [question for question in pool if question.objective == objective]
        random.Random(objective).shuffle(turns)
        turn = plan.places(objective).index(place) % len(turns)
        chosen.append(min(turns[turn:] + turns[:turn], key=lambda one: _asked_at(latest, one)))
    return chosen


def _asked_at(latest, question):
    """When a question was last answered, in s; 0 when never."""
    attempt = latest.get(question.id)
    return datetime.datetime.fromisoformat(attempt["time"]).timestamp() if attempt else 0.0


def _attempts(progress):
    """Return the attempts so far; where they cannot be read, none, and leave the reason as a message."""
    try:
        return progress.all_attempts()
    except Problem as problem:
        progress.messages.append(str(problem))
        return {}
