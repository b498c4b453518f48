"""Practice of the primer: three questions on one topic, for reading a graph below the graph."""

from gypsumkit.live.block import Block, Words, paragraphs, text_area
from gypsumkit.live.live_picture import LivePicture
from gypsumkit.live.question_view import QuestionSet
from gypsumkit.quiz.primer import practice
from gypsumkit.quiz.progress import Progress


class PrimerPanel(Block):
    """The questions of one topic.

    Parameters
    ----------
    topic : str
        "density", "ratio", "percent" or "reading a graph".
    progress : Progress, optional
        Where answers are kept; the reader's own work folder when not given.
    """

    def __init__(self, topic="density", progress=None):
        offered = practice(topic)
        self.aim = f"After this you can: {offered.objective.text[0].lower()}{offered.objective.text[1:]}"
        self.questions = QuestionSet(offered.questions, Progress() if progress is None else progress)
        self.picture = None
        if topic == "reading a graph":
            from gypsumkit.figures.primer_scene import primer_scene
            self.picture = LivePicture(primer_scene())
        super().__init__([text_area(paragraphs(self.aim)), *([self.picture] if self.picture else []), self.questions])

    def answer(self, question_id, value):
        """Answer one of the questions and return its feedback in words."""
        return self.questions.answer(question_id, value)

    def every_option(self):
        """Return, in words, what every possible answer is told."""
        return Words(str(self.questions.every_option()))

    def picture_png(self):
        """Return the graph as PNG bytes, or None where there is none."""
        return self.picture.static_png() if self.picture else None

    def words(self):
        """Return aim, graph and questions in plain words."""
        return "\n\n".join([self.aim, *([self.picture.words()] if self.picture else []), self.questions.words()])
