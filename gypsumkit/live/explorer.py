"""What every explorer has in common: controls that are followed, a live picture, pins, reset, a prediction to compare with, limits.

A new explorer names its controls and says what scene they make; see `explorers/`. Whatever the reader uses, slider, key, list
or typed number, the picture follows, and whatever cannot be is answered beside the controls.
"""

import html
from contextlib import ExitStack

import ipywidgets as widgets

from gypsumkit.live.block import Block, text_area, verdict_bar
from gypsumkit.live.controls import STYLE, button
from gypsumkit.live.live_picture import LivePicture
from gypsumkit.live.stage import Stage, settings_words
from gypsumkit.powders import find_powder
from gypsumkit.problems import Problem, nearest

MOST_PINS = 3
FAR_OFF = 1.15         # times outside the recommended range: then a powder just chosen says what it is usually mixed at


class Explorer(Block):
    """A block in which the reader moves controls and the picture follows.

    Parameters
    ----------
    controls : dict of str to widget
        The controls by the names `go_to` knows them by, in the order powder, recipe, mixing, conditions, view; at most five.
        Each becomes an attribute of that name. A control with `typed` and `slider` is a number, any other a choice.
    limits : str
        What the model behind the picture cannot say.
    question : str
        Printed beside the controls.
    prediction : QuestionView, optional
        A committed prediction that the picture can be compared with.
    asked : dict, optional
        Settings, as for `go_to`, that the prediction asks about.
    projected : bool
        Whether it covers the window at once, in the projector view.
    """

    can_pin = True
    stage_begins_with = 0, 0        # the picture, by its place, and the number, by its place or its name or None, that the stage shows at first

    def __init__(self, controls, limits, question="", prediction=None, asked=None, projected=False):
        self.controls = dict(controls)
        for name, control in self.controls.items():
            setattr(self, name, control)
        self._start = self.settings()
        self._moving = False
        self.limits = limits
        self.question = question
        self.prediction = prediction
        self.asked = asked
        self.pins, self.pinned_words = [], []
        self.picture = self.make_picture()
        self.pin_button = button("Pin this one", "Keep the present curve and numbers for comparison")
        self.clear_button = button("Clear pins", "Forget the pinned ones")
        self.reset_button = button("Reset", "Go back to the start; pins are cleared")
        self.compare_button = button("Compare with my prediction", "Go to the recipe of the prediction and see what happens")
        self.verdict = text_area()
        buttons = [self.pin_button, self.clear_button] * self.can_pin + [self.reset_button] + [self.compare_button] * (prediction is not None)
        self.stage = Stage(self)
        buttons.append(self.stage.button)
        asked_words = f'<p class="gypsumkit-question"><strong>Look for:</strong> {html.escape(question)}</p>' if question else ""
        self._buttons = widgets.HBox(buttons, layout=widgets.Layout(flex_flow="row wrap"))
        row = widgets.Box([*self.controls.values(), self._buttons])
        row.add_class("gypsumkit-controls")
        super().__init__()
        self.add_class("gypsumkit-explorer")
        # The message line stands beside the controls, above the picture, where the reader is looking.
        self.children = (widgets.HTML(STYLE, layout=widgets.Layout(display="none")), text_area(asked_words), row, self.stage.bar, self.message,
                         self.verdict, self.picture, text_area(f"<p><em>{html.escape(limits)}</em></p>"), self.stage.cover.style)
        for name in self.controls:
            self._follow(name)
        self.pin_button.on_click(self.guard(self.pin))
        self.clear_button.on_click(self.guard(self.clear_pins))
        self.reset_button.on_click(self.guard(self.reset))
        self.compare_button.on_click(self.guard(self.compare))
        if projected:
            self.stage.cover.switch()

    def add_buttons(self, buttons):
        """Put buttons of a particular explorer before the common ones."""
        self._buttons.children = (*buttons, *self._buttons.children)

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

    def fit(self, name):
        """Fit the other controls to a choice just made, and return a sentence for the reader when one had to move.

        Parameters
        ----------
        name : str
            The control that was chosen from.

        Returns
        -------
        str
        """
        if name != "powder" or "ratio" not in self.controls:
            return ""
        kind = find_powder(self.powder.value)
        said, usual = self.ratio.use_powder(kind), kind.recommended_ratio
        if said or usual.low / FAR_OFF <= self.ratio.value <= usual.high * FAR_OFF:
            return said
        return (f"{kind.name[0].upper()}{kind.name[1:]} is usually mixed at {usual.low:.2f} to {usual.high:.2f} (recommended "
                f"{usual.value:.2f}); {self.ratio.value:.3g} is far from it.")

    @property
    def ratio_slider(self):
        """The slider of the water/powder ratio, where there is one."""
        return self.ratio.slider

    # Following the controls ----------------------------------------------------------------------

    def _follow(self, name):
        control = self.controls[name]
        if hasattr(control, "typed"):
            control.slider.observe(self.guard(lambda: self.slid(name)), "value")
            control.typed.observe(self.guard(lambda: self.was_typed(name)), "value")
        else:
            control.observe(self.guard(lambda: self.chosen(name)), "value")

    def slid(self, name):
        """Follow a slider that the reader moved."""
        if not self._moving:
            self.controls[name].from_slider()
            self.update()

    def was_typed(self, name):
        """Follow what was typed; the slider moves along without a second drawing."""
        if not self._moving:
            self._keep_still(self.controls[name].from_typing)
            self.update()

    def chosen(self, name):
        """Follow a choice; say so when another control had to move for it."""
        if not self._moving:
            said = self._keep_still(lambda: self.fit(name))
            self.update()
            if said:
                self.show_message(said)

    def settings(self):
        """Return the present settings by name, as `go_to` takes them.

        Returns
        -------
        dict
        """
        return {name: control.value for name, control in self.controls.items()}

    def go_to(self, **settings):
        """Move the controls to these settings; what is not given, or None, stays.

        Parameters
        ----------
        **settings
            By the names of the controls.

        Raises
        ------
        Problem
            When one of them is unknown or cannot be; then nothing has moved.
        """
        unknown = [name for name in settings if name not in self.controls]
        if unknown:
            guess = nearest(unknown[0], self.controls)
            raise Problem(f"This explorer has no setting called '{unknown[0]}'; " + (f"did you mean '{guess}'? " if guess else "")
                          + f"It has {', '.join(self.controls)}.")
        before = self.settings()
        try:
            self._keep_still(lambda: self._move(settings))
        except Problem:
            self._keep_still(lambda: self._move(before))
            raise
        self.update()

    def _move(self, settings):
        given = {name: settings[name] for name in self.controls if settings.get(name) is not None}
        for name, value in given.items():
            if not hasattr(self.controls[name], "typed"):
                _choose(self.controls[name], name, value)
                self.fit(name)
        for name, value in given.items():
            if hasattr(self.controls[name], "typed"):
                self.controls[name].set(value)

    def go_to_start(self):
        """Move the controls to where they began."""
        self.go_to(**self._start)

    def _keep_still(self, move):
        """Run `move` without drawing for each control it touches."""
        self._moving, before = True, self._moving
        try:
            return move()
        finally:
            self._moving = before

    def stop_drawing(self):
        """Follow the controls without drawing from now on: for a page whose scenes are made beforehand."""
        self._moving = True

    # What the reader does -----------------------------------------------------------------------

    def update(self):
        """Show the picture of the present settings, unless several are being moved at once."""
        if not self._moving:
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
        self.pinned_words.append(settings_words(self))
        self.update()

    def clear_pins(self):
        """Forget the pinned settings."""
        self._forget_pins()
        self.update()

    def _forget_pins(self):
        self.pins.clear()
        self.pinned_words.clear()

    def pin_all(self, many, words):
        """Pin several settings at once in place of those pinned; the controls stay where they are.

        Parameters
        ----------
        many : sequence of dict
            Settings as for `go_to`, up to three.
        words : sequence of str
            What each is called.

        Raises
        ------
        Problem
            When one of them cannot be; then nothing has changed.
        """
        before, states = self.settings(), []
        with ExitStack() as unseen:                # the page need not know: a slider on the screen would answer with values of its own
            for control in self.controls.values():
                for widget in (control.slider, control.typed) if hasattr(control, "typed") else (control,):
                    unseen.enter_context(widget.hold_sync())
            try:
                for settings in many:
                    self._keep_still(lambda: self._move(settings))
                    states.append(self.state())
            finally:
                self._keep_still(lambda: self._move(before))
        self.pins[:], self.pinned_words[:] = states, words
        self.update()

    def reset(self):
        """Go back to the start."""
        self._forget_pins()
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


def _choose(control, name, value):
    """Set a list or a box, a powder by any spelling; refuse what is not among the choices."""
    if name == "powder":
        value = find_powder(value).name
    if isinstance(control, widgets.Dropdown):
        values = [option[1] if isinstance(option, tuple) else option for option in control.options]
        if value not in values:
            guess = nearest(value, map(str, values))
            raise Problem(f"'{value}' is not among the choices of '{control.description}'; "
                          f"{f'did you mean {guess}?' if guess else 'there are'} {', '.join(map(str, values))}.")
    control.value = value
