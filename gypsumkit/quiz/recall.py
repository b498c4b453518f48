"""Which questions of earlier lessons come back at the start of a lesson."""

import datetime
import random

from gypsumkit.problems import Problem
from gypsumkit.quiz import bank as course_bank


def recall(lesson, progress, how_many=3, bank=None):
    """Choose questions from earlier lessons: missed ones first, then those not asked for the longest time.

    Parameters
    ----------
    lesson : str
        Number of the lesson that is about to begin, ``"02"``.
    progress : Progress
        What the reader has answered so far.
    how_many : int
        How many questions are wanted, at least 1.
    bank : Bank, optional
        The bank; the course's own when not given.

    Returns
    -------
    list of Question
        As many as there are, at most `how_many`; the same list for the same answers.
    """
    bank = course_bank.the_bank() if bank is None else bank
    latest = {question_id: attempts[-1] for question_id, attempts in _attempts(progress).items() if attempts}

    def urgency(question):
        attempt = latest.get(question.id)
        missed = attempt is not None and not attempt["correct"]
        asked_at = datetime.datetime.fromisoformat(attempt["time"]).timestamp() if attempt else 0.0
        return (not missed, asked_at)

    return sorted(_earlier_questions(f"{int(lesson):02d}", bank), key=urgency)[:how_many]


def _attempts(progress):
    """Return the attempts so far; where they cannot be read, none, and leave the reason as a message."""
    try:
        return progress.all_attempts()
    except Problem as problem:
        progress.messages.append(str(problem))
        return {}


def _earlier_questions(lesson, bank):
    """Return the questions of earlier lessons that need no picture, one of each lesson in turn, the nearest lesson first."""
    piles = []
    for earlier in sorted((number for number in bank.lessons() if number < lesson), reverse=True):
        pile = list(bank.questions(earlier))
        random.Random(f"{lesson} recalls {earlier}").shuffle(pile)
        piles.append([question for question in pile if not question.at_picture])
    longest = max(map(len, piles), default=0)
    return [pile[place] for place in range(longest) for pile in piles if place < len(pile)]
