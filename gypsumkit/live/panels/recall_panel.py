"""One part of the last recall: questions from the whole course, after its last lesson."""

from gypsumkit.live.question_view import QuestionSet
from gypsumkit.quiz.progress import Progress
from gypsumkit.quiz.recall import last_recall


class RecallPanel(QuestionSet):
    """The questions of one part, asked anew.

    Parameters
    ----------
    part : str
        ``"1"`` to ``"4"``.
    progress : Progress, optional
        Where answers are kept; the reader's own work folder when not given.
    """

    def __init__(self, part="1", progress=None):
        progress = Progress() if progress is None else progress
        super().__init__(last_recall(part, progress), progress, restore=False)
