"""What every explorer has in common: controls, a live picture, pins, reset, a prediction to compare with, its limits.

A new explorer says what its controls are, what scene they make, and how to go to given settings; see `explorers/`.
"""

import html

import ipywidgets as widgets

from gypsumkit.live.block import Block, text_area, verdict_bar
from gypsumkit.live.controls import STYLE
from gypsumkit.live.live_picture import LivePicture
from gypsumkit.problems import Problem

MOST_PINS = 3


class Explorer(Block):
    """A block in which the reader moves controls and the picture follows.

    Parameters
    ----------
    controls : sequence of widgets
        In the order powder, recipe, mixing, conditions, view; at most five.
    limits : str
        What the model behind the picture cannot say.
    question : str
        Printed beside the controls.
    prediction : QuestionView, optional
        A committed prediction that the picture can be compared with.
    asked : dict, optional
        Settings, as for `go_to`, that the prediction asks about.
    """

    can_pin = True

    def __init__(self, controls, limits, question="", prediction=None, asked=None):
        self.controls = tuple(controls)
        self.limits = limits
        self.question = question
        self.prediction = prediction
        self.asked = asked
        self.pins = []
        self.picture = self.make_picture()
        self.pin_button = _button("Pin this one", "Keep the present curve and numbers for comparison")
        self.clear_button = _button("Clear pins", "Forget the pinned ones")
        self.reset_button = _button("Reset", "Go back to the start; pins are cleared")
        self.compare_button = _button("Compare with my prediction", "Go to the recipe of the prediction and see what happens")
        self.verdict = text_area()
        buttons = [self.pin_button, self.clear_button] * self.can_pin + [self.reset_button] + [self.compare_button] * (prediction is not None)
        asked_words = f'<p class="gypsumkit-question"><strong>Look for:</strong> {html.escape(question)}</p>' if question else ""
        row = widgets.Box([*self.controls, widgets.HBox(buttons, layout=widgets.Layout(flex_flow="row wrap"))])
        row.add_class("gypsumkit-controls")
        super().__init__()
        self.add_class("gypsumkit-explorer")
        # The message line stands beside the controls, above the picture, where the reader is looking.
        self.children = (widgets.HTML(STYLE, layout=widgets.Layout(display="none")), text_area(asked_words), row, self.message,
                         self.verdict, self.picture, text_area(f"<p><em>{html.escape(limits)}</em></p>"))
        self.pin_button.on_click(self.guard(self.pin))
        self.clear_button.on_click(self.guard(self.clear_pins))
        self.reset_button.on_click(self.guard(self.reset))
        self.compare_button.on_click(self.guard(self.compare))

    # What a particular explorer says -----------------------------------------------------------

    def make_picture(self):
        """Return the picture, once, for the settings at the start."""
        return LivePicture(self.scene())

    def scene(self):
        """Return the scene of the present settings."""
        raise NotImplementedError("each explorer describes its scene")

    def state(self):
        """Return what a pin keeps of the present settings."""
        raise NotImplementedError("each explorer that pins says what it keeps")

    def go_to(self, **settings):
        """Move the controls to these settings."""
        raise NotImplementedError("each explorer knows its controls")

    def go_to_start(self):
        """Move the controls to where they began."""
        raise NotImplementedError("each explorer knows its start")

    # What the reader does -----------------------------------------------------------------------

    def update(self):
        """Show the picture of the present settings."""
        self.picture.show(self.scene())

    def pin(self):
        """Keep the present settings for comparison.

        Raises
        ------
        Problem
            When three are pinned already.
        """
        if len(self.pins) >= MOST_PINS:
            raise Problem(f"{MOST_PINS} pins are the most that stay readable; press “Clear pins” first.")
        self.pins.append(self.state())
        self.update()

    def clear_pins(self):
        """Forget the pinned settings."""
        self.pins.clear()
        self.update()

    def reset(self):
        """Go back to the start."""
        self.pins.clear()
        self.verdict.value = ""
        self.go_to_start()
        self.update()

    def compare(self):
        """Go to the settings of the prediction and judge it beside what happens.

        Raises
        ------
        Problem
            When no prediction has been committed yet.
        """
        if self.prediction is None:
            raise Problem("There is no prediction to compare with in this lesson.")
        if self.prediction.marked is None:
            raise Problem("First commit to your prediction, in the cell above; then compare.")
        if self.asked:
            self.go_to(**self.asked)
        self.update()
        self.prediction.reveal(self.result_words())
        self.verdict.value = verdict_bar(self.prediction.feedback_words())

    def result_words(self):
        """Return what happened, as the comparison with a prediction says it."""
        return self.picture.scene.words

    # What it says and stores ----------------------------------------------------------------------

    def words(self):
        """Return the picture, its numbers and its limits in plain words."""
        asked = [f"Look for: {self.question}"] if self.question else []
        return "\n".join([*asked, self.picture.words(), self.limits])

    def picture_png(self):
        """Return the present picture as PNG bytes."""
        return self.picture.static_png()


def _button(words, tooltip):
    return widgets.Button(description=words, tooltip=tooltip, layout=widgets.Layout(width="auto", height="auto"))
