"""The few names a lesson's cells call. They stay as they are, so that old copies of a lesson keep running."""

import html

from gypsumkit.bench.powder_shelf import load_own_powders
from gypsumkit.live.bench_view import BenchView
from gypsumkit.live.block import Block, text_area
from gypsumkit.live.exercise_view import ExerciseView
from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.note_view import NoteView
from gypsumkit.live.panels import panel_class
from gypsumkit.live.question_view import QuestionSet, QuestionView
from gypsumkit.quiz import bank
from gypsumkit.quiz.progress import Progress
from gypsumkit.quiz.recall import PLANNED, recall


def lesson(number):
    """Begin a lesson; the reader's own powders join those of the catalogue.

    Parameters
    ----------
    number : str
        Two digits, as in "02".

    Returns
    -------
    Lesson
    """
    load_own_powders()
    return Lesson(number)


class Lesson:
    """One lesson: each method returns a block for one cell.

    Parameters
    ----------
    number : str
        Two digits, as in "02".
    progress : Progress, optional
        Where answers are kept; the reader's own work folder when not given.
    """

    def __init__(self, number, progress=None):
        self.number = f"{int(number):02d}"
        self.progress = Progress() if progress is None else progress
        self._predictions = {}

    def objectives(self):
        """What the reader will be able to do after the lesson."""
        return ListBlock("After this lesson you can", [objective.text for objective in bank.objectives(self.number)])

    def recall(self, how_many=PLANNED):
        """Questions from earlier lessons; missed ones come back first."""
        return QuestionSet(recall(self.number, self.progress, how_many), self.progress, restore=False,
                           nothing="This is the first lesson: there is nothing to recall yet.")

    def predict(self, prediction_id):
        """A prediction to commit to before the picture is shown."""
        view = QuestionView(bank.question(prediction_id), self.progress, commit=True)
        self._predictions[prediction_id] = view
        return view

    def explorer(self, kind, prediction=None, **settings):
        """Controls and a live picture.

        Parameters
        ----------
        kind : str
            Name of the explorer.
        prediction : str, optional
            Id of a prediction, shown in an earlier cell.
        **settings
            Passed on to the explorer.
        """
        view = None
        if prediction is not None:
            # Without its cell the prediction is still known from the reader's answers, if it was ever committed.
            view = self._predictions.get(prediction) or self.predict(prediction)
        return explorer_class(kind)(prediction=view, **settings)

    def panel(self, kind, **settings):
        """A form over the bench: plan, record, judge.

        Parameters
        ----------
        kind : str
            Name of the panel.
        **settings
            Passed on to the panel.
        """
        return panel_class(kind)(**settings)

    def write(self, note_id):
        """Room for the reader's own explanation, then the model explanation."""
        return NoteView(bank.note(note_id), self.progress)

    def worked(self, exercise_id):
        """The worked example of an exercise."""
        return ExerciseView(bank.exercise(exercise_id), "worked", self.progress)

    def faded(self, exercise_id):
        """The same exercise with other numbers; the last steps are the reader's."""
        return ExerciseView(bank.exercise(exercise_id), "faded", self.progress)

    def exercise(self, exercise_id):
        """The same exercise with other numbers; all steps are the reader's."""
        return ExerciseView(bank.exercise(exercise_id), "own", self.progress)

    def bench(self, task_id):
        """What to do with real powder, and what to record."""
        return BenchView(bank.bench_task(task_id))

    def self_check(self):
        """The questions of this lesson."""
        return QuestionSet(bank.questions(self.number), self.progress)


class ListBlock(Block):
    """A heading and a list.

    Parameters
    ----------
    heading : str
        Said first.
    items : sequence of str
        The list.
    """

    def __init__(self, heading, items):
        self._words = "\n".join([f"{heading}:", *(f"- {item}" for item in items)])
        entries = "".join(f"<li>{html.escape(item)}</li>" for item in items)
        super().__init__([text_area(f"<p><strong>{html.escape(heading)}</strong></p><ul>{entries}</ul>")])

    def words(self):
        """Return the list in plain words."""
        return self._words
