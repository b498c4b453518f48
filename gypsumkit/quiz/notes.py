"""What the reader writes about, what is done at the bench, and what a lesson is for."""

import re
from dataclasses import dataclass

from gypsumkit.problems import Problem


def _check_id(given, letter):
    if not re.fullmatch(rf"(?:L\d{{2}}|PR)-{letter}\d+", given):
        raise Problem(f"{given!r} is not an id of this kind: write one like L02-{letter}1, or PR-{letter}1 in the primer.")


def _check_objectives(given, objectives):
    for objective in objectives:
        _check_id(objective, "O")
        if objective[:3] != given[:3]:
            raise Problem(f"{given} trains {objective}, which belongs to another lesson.")


@dataclass(frozen=True)
class Objective:
    """What the reader can do afterwards, begun with a verb that can be observed: id ``"L02-O1"``."""

    id: str
    text: str

    def __post_init__(self):
        _check_id(self.id, "O")


@dataclass(frozen=True)
class Note:
    """A prompt to explain something in own words, a model explanation, and the objectives it trains: id ``"L02-N1"``."""

    id: str
    prompt: str
    model_answer: str
    objectives: tuple = ()

    def __post_init__(self):
        _check_id(self.id, "N")
        _check_objectives(self.id, self.objectives)


@dataclass(frozen=True)
class BenchTask:
    """What to do with real powder, what to record, and the objectives it trains: id ``"L02-B1"``."""

    id: str
    title: str
    do: tuple
    record: tuple
    cautions: tuple = ()
    objectives: tuple = ()

    def __post_init__(self):
        _check_id(self.id, "B")
        _check_objectives(self.id, self.objectives)
        if not self.do or not self.record:
            raise Problem(f"{self.id}: a bench task needs steps to do and something to record.")
