"""A question on the page: answered, checked, explained, and remembered."""

import html

import ipywidgets as widgets

from gypsumkit.live.block import Block, Words, bar, paragraphs, text_area, verdict_bar
from gypsumkit.problems import Problem
from gypsumkit.quiz.questions import Choice, LETTERS, NOT_YET, NumberWithUnit, PutInOrder, SeveralChoices

NOT_ANSWERED = "Not answered yet."
COMMITTED = "You have committed to this prediction. Now look at what happens."


# ---------------------------------------------------------------------------------------------
# The controls of each kind: read the answer, put one in, lock.

class _ChoiceControls(widgets.VBox):
    """One button an option, none chosen at first."""

    def __init__(self, question):
        self.question = question
        labels = [(f"{option.letter}.  {option.text}", option.text) for option in question.shown_options]
        self.buttons = widgets.RadioButtons(options=labels, index=None, layout=widgets.Layout(width="100%"))
        super().__init__([self.buttons], layout=widgets.Layout(width="100%"))
        self.add_class("gypsumkit-options")

    def read(self):
        return self.buttons.value

    def put(self, answer):
        self.buttons.value = self.question.option(answer).text

    def lock(self):
        self.buttons.disabled = True

    def words(self):
        return [f"{option.letter}. {option.text}" for option in self.question.shown_options]


class _SeveralControls(widgets.VBox):
    """One box to tick an option."""

    def __init__(self, question):
        self.question = question
        self.boxes = [widgets.Checkbox(description=f"{option.letter}.  {option.text}", value=False, indent=False,
                                       layout=widgets.Layout(width="100%")) for option in question.shown_options]
        super().__init__(self.boxes, layout=widgets.Layout(width="100%"))
        self.add_class("gypsumkit-options")

    def read(self):
        return [option.text for option, box in zip(self.question.shown_options, self.boxes) if box.value]

    def put(self, answer):
        ticked = set(self.question.mark(answer).answer)
        for option, box in zip(self.question.shown_options, self.boxes):
            box.value = option.text in ticked

    def lock(self):
        for box in self.boxes:
            box.disabled = True

    def words(self):
        return [f"{option.letter}. {option.text}" for option in self.question.shown_options]


class _NumberControls(widgets.VBox):
    """One field for a number with its unit; Enter checks it."""

    def __init__(self, question):
        self.question = question
        self.field = widgets.Text(description="Your answer:", placeholder="number and unit" if question.unit else "number",
                                  style={"description_width": "auto"}, layout=widgets.Layout(width="100%"))
        super().__init__([self.field], layout=widgets.Layout(width="100%"))
        self.add_class("gypsumkit-typed")

    def read(self):
        return self.field.value

    def put(self, answer):
        self.field.value = str(answer)

    def lock(self):
        self.field.disabled = True

    def words(self):
        return []


class _OrderControls(widgets.VBox):
    """One field a step for its place, empty at first; digits typed in a field are safe from the page's own shortcuts."""

    def __init__(self, question):
        self.question = question
        self.places = [widgets.Text(description=text, placeholder=f"1 to {len(question.steps)}", style={"description_width": "auto"},
                                    layout=widgets.Layout(width="100%")) for text in question.shown_steps]
        super().__init__(self.places, layout=widgets.Layout(width="100%"))
        self.add_class("gypsumkit-places")

    def read(self):
        written = [(place.value.strip(" ."), text) for place, text in zip(self.places, self.question.shown_steps)]
        if not any(place for place, _ in written):
            return []
        known = [str(place) for place in range(1, len(written) + 1)]
        for place, text in written:
            if not place:
                raise Problem(f"“{text}” has no place yet: give every step its place, then check.")
            if place not in known:
                raise Problem(f"“{place[:20]}” is not a place: write a number from 1 to {len(known)}.")
        for place in known:
            here = [text for given, text in written if given == place]
            if len(here) > 1:
                raise Problem(f"“{here[0]}” and “{here[1]}” both have place {place}: give every step a place of its own.")
        return [text for _, text in sorted(written)]

    def put(self, answer):
        order = self.question.mark(answer).answer
        for place, text in zip(self.places, self.question.shown_steps):
            place.value = str(order.index(text) + 1)

    def lock(self):
        for place in self.places:
            place.disabled = True

    def words(self):
        return [f"{letter}. {text}" for letter, text in zip(LETTERS, self.question.shown_steps)]


_CONTROLS = {Choice: _ChoiceControls, SeveralChoices: _SeveralControls, NumberWithUnit: _NumberControls, PutInOrder: _OrderControls}
_HOW = {Choice: "Choose one.", SeveralChoices: "Tick all that apply.", NumberWithUnit: "", PutInOrder: "Write the place of every step: 1 comes first."}


# ---------------------------------------------------------------------------------------------

class QuestionView(Block):
    """A question with its controls, its Check button and its feedback.

    Parameters
    ----------
    question : Question
        Of any kind.
    progress : Progress, optional
        Where answers are kept; without it they are forgotten with the page.
    commit : bool
        True for a prediction: the answer is locked in and judged only by `reveal`.
    restore : bool
        Whether the reader's earlier answer is shown again; recall asks anew.
    heading : str
        Text before the question, for example ``"Question 1"``.
    """

    def __init__(self, question, progress=None, commit=False, restore=True, heading=""):
        self.question = question
        self.progress = progress
        self.commit = commit
        self.heading = heading
        self.marked = None
        self.revealed = ""
        self.controls = _CONTROLS[type(question)](question)
        self.button = widgets.Button(description="Commit to this prediction" if commit else "Check",
                                     layout=widgets.Layout(width="auto", height="auto"))
        self.feedback = text_area()
        super().__init__([text_area(self._prompt_html()), self.controls, self.button, self.feedback])
        self.button.on_click(self.guard(self.check))
        if isinstance(question, NumberWithUnit):
            self.controls.field.on_msg(self._on_field_message)
        if restore and progress is not None:
            self.guard(self.restore)()

    # What the reader does ---------------------------------------------------------------------

    def check(self):
        """Judge what stands in the controls, show the feedback, then keep the answer.

        Raises
        ------
        Problem
            When there is no answer to judge, or the answer cannot be kept.
        """
        if self.commit and self.marked is not None:
            return
        # What cannot be read has no verdict; an earlier one must not stand beside the message.
        self.marked, self.feedback.value = None, ""
        marked = self.question.mark(self.controls.read())
        self._show(marked)
        if self.progress is not None:
            self.progress.record(self.question.id, marked, committed=self.commit)

    def reveal(self, result_words):
        """Judge a committed prediction beside what happened.

        Parameters
        ----------
        result_words : str
            What the picture shows, in words.

        Raises
        ------
        Problem
            When no prediction has been committed yet.
        """
        if self.marked is None:
            raise Problem("First commit to a prediction, then look at what happens.")
        self.revealed = str(result_words)
        self._show(self.marked)

    def restore(self):
        """Put the reader's earlier answer back; one that no longer fits the question is left in the file."""
        latest = self.progress.latest(self.question.id)
        for message in self.progress.take_messages():
            self.show_message(message)
        if latest is None or (self.commit and not latest.get("committed")):
            return
        try:
            self.controls.put(latest["answer"])
            self._show(self.question.mark(latest["answer"]))
        except Problem:
            self.show_message("This question has changed since you answered it; your earlier answer is kept in your answers file.")

    def answer(self, value):
        """Answer as the reader would and return the feedback in words.

        Parameters
        ----------
        value : str, number or sequence of str
            A letter or text, several of them, what would be typed, or the steps in their order.

        Returns
        -------
        Words
            The feedback, or the sentence that says why there is none.
        """
        self.show_message("")
        try:
            self.controls.put(value)
            self.check()
        except Problem as problem:
            self.show_message(str(problem), "problem")
            return Words(f"Message: {problem}")
        return Words(self.feedback_words())

    def every_option(self):
        """Return, in words, what every possible answer is told: options, slips and the key."""
        lines = [self.question.shown_prompt]
        lines += [f"{answer} → {marked.feedback}" for answer, marked in self.question.every_answer()]
        return Words("\n".join(lines))

    # What is shown ----------------------------------------------------------------------------

    def _on_field_message(self, _widget, content, _buffers):
        if content.get("event") == "submit":
            self.guard(self.check)()

    def _show(self, marked):
        self.marked = marked
        if self.commit:
            self.controls.lock()
            self.button.disabled = True
        words = self.feedback_words()
        self.feedback.value = bar("told", "●", words) if self.commit and not self.revealed else verdict_bar(words)

    def feedback_words(self):
        """Return the feedback shown at present, in plain words."""
        if self.marked is None:
            return NOT_ANSWERED
        if self.commit and not self.revealed:
            return f"{COMMITTED}\nYour prediction: {self._said()}"
        # A prediction is not tried again.
        judged = self.marked.feedback.replace(NOT_YET, "Not as you predicted.", 1) if self.commit else self.marked.feedback
        lines = [judged]
        if self.revealed:
            lines += [f"Your prediction: {self._said()}", f"What happened: {self.revealed}"]
        if self.marked.correct or self.commit:
            lines.append(self.question.shown_explanation)
        return "\n".join(lines)

    def _said(self):
        answer = self.marked.answer
        return answer if isinstance(answer, str) else "; ".join(map(str, answer))

    def _prompt_html(self):
        prompt = paragraphs(self.question.shown_prompt)
        if self.heading:
            prompt = prompt.replace("<p>", f"<p><strong>{html.escape(self.heading)}.</strong> ", 1)
        how = _HOW[type(self.question)]
        return prompt + (f"<p><em>{how}</em></p>" if how else "")

    def words(self):
        """Return the question, its options and the state of its answer, in plain words."""
        how = [_HOW[type(self.question)]] if _HOW[type(self.question)] else []
        prompt = f"{self.heading}. {self.question.shown_prompt}" if self.heading else self.question.shown_prompt
        said = [] if self.marked is None or self.commit else [f"Your answer: {self._said()}"]
        return "\n".join([prompt, *how, *self.controls.words(), *said, self.feedback_words()])


class QuestionSet(Block):
    """Several questions, one under the other.

    Parameters
    ----------
    questions : sequence of Question
        In the order shown.
    progress : Progress, optional
        Where answers are kept.
    restore : bool
        Whether earlier answers are shown again.
    nothing : str
        What is said when there are no questions.
    """

    def __init__(self, questions, progress=None, restore=True, nothing="There is no question here yet."):
        self.nothing = nothing
        self.views = [QuestionView(question, progress, restore=restore, heading=f"Question {number}")
                      for number, question in enumerate(questions, 1)]
        super().__init__(self.views or [text_area(paragraphs(nothing))])
        for message in progress.take_messages() if progress is not None else ():
            self.show_message(message)

    def view(self, question_id):
        """Return the view of the question with this id, or raise a Problem."""
        for view in self.views:
            if view.question.id == question_id:
                return view
        raise Problem(f"{question_id} is not among these questions: {', '.join(view.question.id for view in self.views)}.")

    def answer(self, question_id, value):
        """Answer one of the questions and return its feedback in words."""
        return self.view(question_id).answer(value)

    def every_option(self):
        """Return, in words, what every possible answer to every question is told."""
        return Words("\n\n".join(f"{view.heading}. {view.every_option()}" for view in self.views) or self.nothing)

    def words(self):
        """Return all questions with the state of their answers, in plain words."""
        return "\n\n".join(view.words() for view in self.views) or self.nothing
