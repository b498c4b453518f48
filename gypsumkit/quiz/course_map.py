"""The map of the course, made from the bank: each objective with all that asks or trains it, and where it comes back."""

from dataclasses import dataclass

from gypsumkit.bench.sheets import sheet
from gypsumkit.quiz import bank as course_bank
from gypsumkit.quiz.recall import plan_of_recall

HEADS = ("Objective", "in words", "predictions", "questions", "exercises", "to write about", "at the bench", "comes back in")
READING = ("An objective is what a student can do after the lesson. Predictions, questions and exercises test it. Writing and the work at the bench train it. "
           "“Comes back in” names the lessons, and the parts of the last recall, that ask for it again.")


@dataclass(frozen=True)
class Mapped:
    """One objective and everything in the bank that serves it, by id.

    Parameters
    ----------
    objective, text, lesson : str
        Its id, its words and the number of its lesson.
    predictions, questions, exercises, notes, bench_tasks : tuple of str
        Ids.
    recalled : tuple of str
        Where it comes back.
    """

    objective: str
    text: str
    lesson: str
    predictions: tuple
    questions: tuple
    exercises: tuple
    notes: tuple
    bench_tasks: tuple
    recalled: tuple

    @property
    def asked(self):
        """The ids of all that asks for it with an answer that is judged."""
        return self.predictions + self.questions + self.exercises

    def cells(self):
        """Return the line as texts, one for each of `HEADS`."""
        recalled = tuple(place if place.startswith("part") else f"lesson {place}" for place in self.recalled)
        lists = (self.predictions, self.questions, self.exercises, self.notes, self.bench_tasks, recalled)
        return (self.objective, self.text, *(", ".join(one) or "none" for one in lists))


def course_map(lesson=None, bank=None):
    """Return the map of one lesson, or of the course.

    Parameters
    ----------
    lesson : str, optional
        Its number; all lessons when not given.
    bank : Bank, optional
        The bank; the course's own when not given.

    Returns
    -------
    tuple of Mapped
        One for each objective, in the order of the course.
    """
    bank = course_bank.the_bank() if bank is None else bank
    plan = plan_of_recall(bank)
    return tuple(_mapped(objective, objective.id[1:3], bank, plan) for objective in bank.objectives(lesson))


def _mapped(objective, lesson, bank, plan):
    def asking(items):
        return tuple(item.id for item in items if item.objective == objective.id)

    def training(items):
        return tuple(item.id for item in items if objective.id in item.objectives)
    return Mapped(objective.id, objective.text, lesson, asking(bank.predictions(lesson)), asking(bank.questions(lesson)), asking(bank.exercises(lesson)),
                  training(bank.notes(lesson)), training(bank.bench_tasks(lesson)), plan.places(objective.id))


def not_asked(mapped):
    """Return the ids of the objectives that nothing asks.

    Parameters
    ----------
    mapped : sequence of Mapped

    Returns
    -------
    list of str
    """
    return [one.objective for one in mapped if not one.asked]


def unknown_objectives(bank=None):
    """Return what in the bank names an objective that its lesson does not have, as (id, objective) pairs.

    Parameters
    ----------
    bank : Bank, optional
        The bank; the course's own when not given.

    Returns
    -------
    list of (str, str)
    """
    bank = course_bank.the_bank() if bank is None else bank
    known = {objective.id for objective in bank.objectives()}
    asking = [(one.id, one.objective) for one in (*bank.predictions(), *bank.questions(), *bank.exercises())]
    training = [(one.id, objective) for one in (*bank.notes(), *bank.bench_tasks()) for objective in one.objectives]
    return [pair for pair in asking + training if pair[1] not in known]


def map_lines(mapped):
    """Return a map as lines of text, a heading for each lesson.

    Parameters
    ----------
    mapped : sequence of Mapped

    Returns
    -------
    list of str
    """
    lines, lesson = [], None
    for one in mapped:
        if one.lesson != lesson:
            lesson = one.lesson
            lines.append(f"Lesson {lesson}")
        objective, text, *lists = one.cells()
        lines.append(f"  {objective}  {text}")
        lines.append("    " + "; ".join(f"{head}: {cell}" for head, cell in zip(HEADS[2:], lists)))
    return lines


def map_sheet(mapped):
    """Return a map as a table for a spreadsheet.

    Parameters
    ----------
    mapped : sequence of Mapped

    Returns
    -------
    bytes
    """
    return sheet(("lesson", *HEADS), [(one.lesson, *one.cells()) for one in mapped])
