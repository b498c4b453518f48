"""Where the reader writes an explanation first and then compares it with the model explanation."""

import ipywidgets as widgets

from gypsumkit.live.block import Block, Words, bar, paragraphs, text_area
from gypsumkit.problems import Problem


FEWEST_WORDS = 3


class NoteView(Block):
    """A prompt, a field that is kept as the reader writes, and the model explanation on request.

    Parameters
    ----------
    note : Note
        The prompt and its model explanation.
    progress : Progress, optional
        Where the text is kept; without it, it is forgotten with the page.
    """

    def __init__(self, note, progress=None):
        self.note = note
        self.progress = progress
        self.field = widgets.Textarea(description="In your own words (kept as you write):", rows=5,
                                      style={"description_width": "auto"}, layout=widgets.Layout(width="100%"))
        field_box = widgets.VBox([self.field], layout=widgets.Layout(width="100%"))
        field_box.add_class("gypsumkit-typed")
        self.button = widgets.Button(description="Show the model explanation", layout=widgets.Layout(width="auto", height="auto"))
        self.model = text_area()
        super().__init__([text_area(paragraphs(note.prompt)), field_box, self.button, self.model])
        if progress is not None:
            self.guard(self.restore)()
        self.field.observe(self.guard(self.keep), "value")
        self.button.on_click(self.guard(self.show_model))

    def restore(self):
        """Put back what the reader wrote earlier."""
        self.field.value = self.progress.note(self.note.id)
        for message in self.progress.take_messages():
            self.show_message(message)

    def keep(self):
        """Keep the text as it stands."""
        if self.progress is not None:
            self.progress.write_note(self.note.id, self.field.value)

    def show_model(self):
        """Show the model explanation, once something has been written.

        Raises
        ------
        Problem
            When less than a short sentence has been written.
        """
        if len(self.field.value.split()) < FEWEST_WORDS:
            raise Problem("First write your own explanation, if only one short sentence; then the model explanation is shown.")
        self.model.value = bar("told", "●", f"Model explanation, to compare with yours:\n{self.note.model_answer}")

    def answer(self, text):
        """Write a text, ask for the model explanation and return it in words."""
        self.show_message("")
        try:
            self.field.value = text
            self.show_model()
        except Problem as problem:
            self.show_message(str(problem), "problem")
            return Words(f"Message: {problem}")
        return Words(f"Model explanation: {self.note.model_answer}")

    def words(self):
        """Return the prompt, what was written and, once shown, the model explanation."""
        written = self.field.value.strip()
        lines = [self.note.prompt, f"You wrote: {written}" if written else "Nothing written yet."]
        if self.model.value:
            lines.append(f"Model explanation: {self.note.model_answer}")
        return "\n".join(lines)
