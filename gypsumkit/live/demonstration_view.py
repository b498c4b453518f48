"""The demonstration on the screen: one step at a time, with its question, the hands of the class, and the reveal."""

import html

import ipywidgets as widgets

from gypsumkit.bench.bench_clock import BenchClock, Unlikely, said_minute
from gypsumkit.figures.hands_scene import hands_scene
from gypsumkit.figures.mix_words import recipe_words
from gypsumkit.figures.running_digits import running_digits_svg
from gypsumkit.live.block import Block, bar, text_area
from gypsumkit.live.controls import STYLE as CONTROLS_STYLE
from gypsumkit.live.controls import button
from gypsumkit.live.explorers import explorer_class
from gypsumkit.live.live_picture import LivePicture
from gypsumkit.live.panels import panel_class
from gypsumkit.live.stage import Cover
from gypsumkit.live.stage_view import StageView
from gypsumkit.live.timed_text import TimedText, running_loop
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.stage.demonstration import MINUTES, REAL_MIX, STEPS
from gypsumkit.stage.hands import EXAMPLE, Hands, normalised_gain, percent_right, read_hands
from gypsumkit.stage.show_state import ShowState

BEFORE, AFTER = "before", "after"
LOOK_AGAIN_S = 20.0                      # the time beside the buttons is sent anew so often: the page loses time while the computer sleeps   [gypsumkit]
TO_PICTURE, TO_QUESTION = "Show the picture", "Show the question"

STYLE = """<style>
.gypsumkit-block.gypsumkit-show { max-width: none; }
.gypsumkit-show .widget-html-content h2 { font-size: 1.6em; margin: 4px 0; }
.gypsumkit-show-asked { display: flex; flex-flow: row wrap; gap: 4px 28px; align-items: flex-start; width: 100%; }
.gypsumkit-show-asked > * { flex: 1 1 min(100%, 20em); min-width: 0; width: auto; }
.gypsumkit-show ol.gypsumkit-letters { list-style: upper-alpha; margin: 2px 0; padding-left: 2em; }
.gypsumkit-on-stage.gypsumkit-show .gypsumkit-show-text :is(p, li) { font-size: max(20px, 1.55vw) !important; }
.gypsumkit-on-stage.gypsumkit-show .gypsumkit-show-asked .gypsumkit-show-text :is(p, li).gypsumkit-asks { font-size: max(20px, 2.05vw) !important; }
.gypsumkit-on-stage.gypsumkit-show .gypsumkit-show-text h2 { font-size: max(24px, 2.1vw); margin: 0; }
.gypsumkit-show .gypsumkit-show-clock svg { display: block; width: auto; height: max(36px, 2.5vw); }
.gypsumkit-show ::placeholder { font-style: italic; }
.gypsumkit-on-stage.gypsumkit-show .gypsumkit-controls .gypsumkit-hands input { width: 17ch; }
.gypsumkit-on-stage.gypsumkit-show .gypsumkit-bar { margin: 0; padding: 2px 12px; }
.gypsumkit-on-stage .gypsumkit-explorer > .gypsumkit-controls { display: flex; gap: 4px 22px; margin: 0; }
.gypsumkit-controls > .gypsumkit-hands { width: auto; }
.gypsumkit-controls > .gypsumkit-long { flex: 1 1 30em !important; width: auto; }
.gypsumkit-controls .gypsumkit-long input { flex: 1 1 auto; width: 20ch !important; }
</style>"""


class DemonstrationView(Block):
    """The steps of a demonstration with buttons, votes and pictures.

    Parameters
    ----------
    steps : sequence of gypsumkit.stage.demonstration.Step
        From the first to the last.
    state : ShowState, optional
        Where it stands; that of the work folder when not given.
    projected : bool
        Whether it covers the window at once.
    """

    def __init__(self, steps=STEPS, state=None, projected=False):
        self.steps = tuple(steps)
        self.state = ShowState() if state is None else state
        if not 0 <= self.state.step < len(self.steps):
            self.state.step = 0
        self.head, self.asked, self.told = text_area(), text_area(), text_area()
        self.asked.add_class("gypsumkit-show-text")
        self.head.add_class("gypsumkit-show-text")
        self.told.add_class("gypsumkit-show-text")
        self.back_button = button("Previous step", "Go to the step before")
        self.next_button = button("Next step", "Go to the step after")
        self.reveal_button = button("Reveal", "Show the right answer and what happens")
        self.look_button = button(TO_PICTURE, "From the question to the picture, or back")
        self.anew_button = button("Begin anew", "Back to the first step for another class; what was counted is kept in a dated file")
        self.clock = BenchClock(Recipe(*REAL_MIX), self.state.folder)
        self.start_button = button("Start the clock: powder meets water", "Start the bench clock for the real mix")
        self.gloss_button = button("Gloss lost now", "The surface of the real mix has just turned dull: the bench clock re-times all that follows")
        self.clock_time = TimedText(self._clock_html)
        self.clock_time.layout.width = "auto"
        self.clock_time.add_class("gypsumkit-show-clock")
        self.fields = {when: widgets.Text(description=f"Hands {when} discussion", placeholder=EXAMPLE, continuous_update=False,
                                          style={"description_width": "initial"}) for when in (BEFORE, AFTER)}
        self.hands_picture = LivePicture(hands_scene("AB", {}, {}, ""))
        self.hands_box = widgets.VBox([self.hands_picture])
        self.hands_box.add_class("gypsumkit-show-hands")
        self.shown = widgets.VBox([], layout=widgets.Layout(width="100%"))
        for field in self.fields.values():
            field.add_class("gypsumkit-hands")
        self.piece, self._showing, self._filling, self.at_picture, self._doubted = None, None, False, False, False
        self._looking_again = None
        super().__init__()
        self.cover = Cover(self, self.follow_cover)
        self.row = widgets.Box([self.back_button, self.next_button, self.reveal_button, self.look_button, *self.fields.values(), self.start_button,
                                self.clock_time, self.gloss_button, self.cover.room_button, self.cover.button, self.anew_button])
        self.row.add_class("gypsumkit-controls")
        self.both = widgets.Box([self.asked, self.hands_box])
        self.both.add_class("gypsumkit-show-asked")
        self.add_class("gypsumkit-show")
        style = widgets.HTML(CONTROLS_STYLE + STYLE, layout=widgets.Layout(display="none"))
        self.children = (style, self.row, self.message, self.head, self.both, self.told, self.shown, self.cover.style)
        for pressed, do in ((self.back_button, self.back), (self.next_button, self.forward), (self.reveal_button, self.reveal),
                            (self.look_button, self.look), (self.anew_button, self.begin_anew), (self.start_button, self.start_clock),
                            (self.gloss_button, self.gloss_lost)):
            pressed.on_click(self.guard(do))
        for when, field in self.fields.items():
            field.observe(self.guard(lambda when=when: self.count(when)), "value")
        self.show_step()
        said = self.state.take_messages() + self.clock.take_messages()
        if said:
            self.show_message("\n".join(said))
        if projected:
            self.cover.switch()

    # Where it stands --------------------------------------------------------------------------

    @property
    def step(self):
        """The present step."""
        return self.steps[self.state.step]

    @property
    def revealed(self):
        """Whether the question of the present step is revealed."""
        return self.step.question is not None and self.step.question.id in self.state.revealed

    def hands(self):
        """Return the hands of the present question, or None for a step without one."""
        question = self.step.question
        if question is None:
            return None
        letters = tuple(option.letter for option in question.shown_options)
        right = next(option.letter for option in question.shown_options if option.correct)
        counted = {}
        for when in (BEFORE, AFTER):
            try:
                counted[when] = read_hands(self.state.hands.get(question.id, {}).get(when, ""), letters)
            except Problem:
                counted[when] = {}
        return Hands(letters, right, counted[BEFORE], counted[AFTER])

    # What the lecturer does -------------------------------------------------------------------

    def forward(self):
        """Go to the next step; a Problem at the last one."""
        self._go(self.state.step + 1, "This is the last step.")

    def back(self):
        """Go to the step before; a Problem at the first one."""
        self._go(self.state.step - 1, "This is the first step.")

    def _go(self, step, otherwise):
        if not 0 <= step < len(self.steps):
            raise Problem(otherwise)
        try:
            self.state.go_to(step)
        finally:
            self.show_step()

    def count(self, when):
        """Take the hands that were typed; what cannot be read is answered, and stays in its field.

        Parameters
        ----------
        when : str
            "before" or "after".
        """
        if self._filling or self.step.question is None:
            return
        typed = self.fields[when].value
        read_hands(typed, tuple(option.letter for option in self.step.question.shown_options))
        try:
            self.state.count(self.step.question.id, when, typed)
        finally:
            self.show_words()

    def reveal(self):
        """Show the picture, what happens in it, and the right answer; a Problem at a step without a question."""
        if self.step.question is None:
            raise Problem("This step has no question to reveal.")
        try:
            self.state.reveal(self.step.question.id)
        finally:
            self.at_picture = True
            self.show_words()
            if self.step.reveal:
                self.piece.go_to(**self.step.reveal)

    def look(self):
        """Go from the question to the picture, or back; a Problem at a step without a question."""
        if self.step.question is None:
            raise Problem("This step has no question: the picture stands below.")
        self.at_picture = not self.at_picture
        self.show_words()

    def begin_anew(self):
        """Begin at the first step for another class; what was counted is set aside under a dated name, and the bench clock is stopped."""
        name = self.state.begin_anew()
        said = [f"Begun anew; what was counted before is kept in {name}."] * bool(name)
        try:
            if self.clock.running:
                self.clock.stop()
                said.append(f"The bench clock is stopped at {said_minute(self.clock.minute())}.")
        finally:
            self.show_step()
        self.show_message("\n".join(said))

    def start_clock(self):
        """Powder meets water: start the bench clock, whatever step is shown."""
        try:
            self.clock.start()
        finally:
            self.show_clock()
        self.show_message(f"The bench clock runs: {recipe_words(self.clock.recipe)}.")

    def gloss_lost(self):
        """The gloss of the real mix is lost now; where that is unlikely, only when said twice."""
        doubted, self._doubted = self._doubted, False
        try:
            self.clock.gloss_lost(sure=doubted)
        except Unlikely as question:
            self._doubted = True
            raise Problem(f"{question} If so, press “Gloss lost now” once more.") from None
        finally:
            self.show_clock()
        self.show_message(f"Gloss lost at {said_minute(self.clock.gloss_lost_min)}: the bench clock is re-timed.")

    def show_clock(self):
        """Show the bench clock beside the buttons, or the button that starts it; on the step of the clock itself neither."""
        self.clock.look()
        said = self.clock.take_messages()
        if said:
            self.show_message("\n".join(said))
        shown = self.step.show != ("panel", "bench clock")
        for part, wanted in ((self.start_button, not self.clock.running), (self.clock_time, self.clock.running),
                             (self.gloss_button, self.clock.running and self.clock.gloss_lost_min is None)):
            part.layout.display = "" if shown and wanted else "none"
        self.clock_time.send_now()
        if self._looking_again is not None:
            self._looking_again.cancel()
            self._looking_again = None
        loop = running_loop()
        if shown and self.clock.running and loop is not None:
            in_mid_second = (0.5 - 60.0 * self.clock.minute()) % 1.0
            self._looking_again = loop.call_later(LOOK_AGAIN_S + in_mid_second, self._look_again)

    def _look_again(self):
        try:
            self.show_clock()
        except Problem as problem:
            self.show_message(str(problem), "problem")

    def _clock_html(self):
        return running_digits_svg(60.0 * self.clock.minute(), self.clock.speed, self.clock.running)

    def follow_cover(self):
        """Show what is shown as the switches say."""
        room = self.cover.room if self.cover.on else None
        self.hands_picture.show_as(None if room is None else StageView((0,), None, room, told=False))
        self._project(room)

    def _project(self, room):
        shown = getattr(self.piece, "stage", self.piece)
        if hasattr(shown, "project"):
            shown.outer_room = room
            shown.project(room)

    # What is shown ----------------------------------------------------------------------------

    def show_step(self):
        """Show the present step; its fields keep what was counted."""
        step, self.at_picture = self.step, self.revealed
        kept = {} if step.question is None else self.state.hands.get(step.question.id, {})
        self._filling = True
        try:
            for when, field in self.fields.items():
                field.value = kept.get(when, "")
        finally:
            self._filling = False
        wanted = (step.show, repr(step.settings))
        if wanted != self._showing:
            kind, name = step.show
            self.piece = (explorer_class if kind == "explorer" else panel_class)(name)(**step.settings)
            self.shown.children, self._showing = (self.piece,), wanted
            if kind == "explorer":
                self.piece.stage.begin_with(*step.large)
        elif step.show[0] == "explorer":
            self.piece.reset()
        if self.cover.on:
            self._project(self.cover.room)
        self.show_words()

    def show_words(self):
        """Show title, question, hands and, once revealed, the answer."""
        step, place = self.step, self.state.step
        self._doubted = False
        self.show_clock()
        done = sum(each.minutes for each in self.steps[:place])
        asks, pictured = step.question is not None, self.at_picture or step.question is None
        title = f"{place + 1} of {len(self.steps)}: {step.title} (minutes {done} to {done + step.minutes} of {MINUTES})"
        do = "" if asks and pictured else f"<p>{html.escape(' '.join(step.do))}</p>"
        self.head.value = f"<h2>{html.escape(title)}</h2>{do}"
        self.look_button.description = TO_QUESTION if self.at_picture else TO_PICTURE
        for part in (self.both, *self.fields.values()):
            part.layout.display = "none" if pictured else ""
        self.shown.layout.display = "" if pictured else "none"
        for pressed in (self.reveal_button, self.look_button):
            pressed.layout.display = "" if asks else "none"
        if not asks:
            self.told.value = ""
            return
        options = "".join(f'<li class="gypsumkit-asks">{html.escape(option.text)}</li>' for option in step.question.shown_options)
        self.asked.value = f'<p class="gypsumkit-asks"><strong>{html.escape(step.question.shown_prompt)}</strong></p><ol class="gypsumkit-letters">{options}</ol>'
        hands = self.hands()
        self.hands_picture.show(hands_scene(hands.letters, hands.before, hands.after, hands.words(self.revealed), hands.right if self.revealed else None,
                                            _numbers(hands) if self.revealed else ()))
        self.told.value = bar("correct", "✓", self.right_words()) if self.revealed and pictured else ""
        if self.revealed:
            self.asked.value += bar("correct", "✓", self.answer_words())

    def right_words(self):
        """Return the right answer and the explanation."""
        right = next(option for option in self.step.question.shown_options if option.correct)
        return f"Right: {right.letter}. {right.text}\n{self.step.question.shown_explanation}"

    def answer_words(self):
        """Return the right answer, why, and what the hands say."""
        right = next(option for option in self.step.question.shown_options if option.correct)
        return f"Right: {right.letter}. {right.text} {right.why}\n{self.step.question.shown_explanation}\n{self.hands().words(True)}"

    def words(self):
        """Return the outline of the demonstration and the present step in words."""
        lines = [f"The demonstration: {len(self.steps)} steps, {MINUTES} minutes."]
        lines += [f"{place}. {step.title}, {step.minutes} min: {step.question.shown_prompt if step.question else step.do[0]}"
                  for place, step in enumerate(self.steps, 1)]
        lines.append(f"Now: step {self.state.step + 1}, {self.step.title}. {' '.join(self.step.do)}")
        if self.step.question is not None:
            lines += [f"{option.letter}. {option.text}" for option in self.step.question.shown_options]
            lines.append(self.answer_words() if self.revealed else self.hands().words(False))
        return "\n".join(lines)

    def picture_png(self):
        """Return the picture of the present step as PNG bytes, or None when it has none."""
        return self.piece.picture_png() if self.piece is not None else None


def _numbers(hands):
    rows = [(f"right {when} discussion", f"{percent_right(counted, hands.right):.0f} %") for when, counted in ((BEFORE, hands.before), (AFTER, hands.after))
            if counted]
    if hands.before and hands.after:
        gain = normalised_gain(percent_right(hands.before, hands.right), percent_right(hands.after, hands.right))
        rows.append(("normalised gain", "not defined" if gain is None else f"{gain:.2f}".replace("-", "−")))
    return tuple(rows)
