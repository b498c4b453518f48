"""The bench clock on the page: large digits that the page counts by itself, what to do now and next, and how the mix should be.

The digits, the time that is left and its bar run in the page and stay true while Python is busy. Whenever Python is free they are
sent anew, about once a second and at each change of what to do; there is never more than one such tick waiting.
"""

import html
import math
import time
import weakref

import ipywidgets as widgets

from gypsumkit.bench.bench_clock import SPEEDS, BenchClock, Unlikely, said_minute, steady_clock
from gypsumkit.figures.bench_clock_scene import LIMITS, RETIMED, about, bench_clock_scene
from gypsumkit.figures.mix_words import recipe_words
from gypsumkit.figures.running_digits import STEP_S, running_digits_svg
from gypsumkit.live.block import Block, text_area
from gypsumkit.live.controls import STYLE as CONTROLS_STYLE
from gypsumkit.live.controls import choice, mixing_choice, powder_choice
from gypsumkit.live.explorer import button
from gypsumkit.live.live_picture import LivePicture, scene_in_words
from gypsumkit.live.number_control import NumberControl, RatioControl
from gypsumkit.live.stage_view import RoomView
from gypsumkit.live.timed_text import TimedText, running_loop
from gypsumkit.powders import ROOM_C, find_powder
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.showing import bracketed, rounded

LEAST_S, SOON_S = 0.8, 0.2               # between two ticks, about a second; after something was done
AHEAD_S = 0.02                           # from sending to showing: what is sent is made for that moment   [gypsumkit]
COLDEST_C, WARMEST_C = 5.0, 60.0         # of the water on the slider
PICTURE_MIN = 1 / 12                     # the marker of the time line moves in steps of 5 s
BAR_STEPS = 20                           # of the bar where little motion is wanted

STYLE = """<style>
.gypsumkit-block.gypsumkit-clock { max-width: none; }
.gypsumkit-clock-face { display: flex; flex-flow: row wrap; gap: 4px 28px; align-items: flex-start; width: 100%; }
.gypsumkit-clock-face > :first-child { flex: 1.2 1 min(100%, 44rem); min-width: 0; }
.gypsumkit-clock-face > :last-child { flex: 1 1 min(100%, 32rem); min-width: 0; }
.gypsumkit-clock .widget-html-content .gypsumkit-clock-mix p { font-size: clamp(1.05rem, 1.35vw, 1.6rem); line-height: 1.4; }
.gypsumkit-clock-digits svg { display: block; width: min(100%, 46rem); height: auto; }
.gypsumkit-clock .widget-html-content p.gypsumkit-clock-now { font-size: clamp(1.7rem, 3.2vw, 3.6rem); line-height: 1.2; margin: 6px 0; }
.gypsumkit-clock .widget-html-content p.gypsumkit-clock-do { font-size: clamp(1.15rem, 1.7vw, 2rem); line-height: 1.35; margin: 4px 0; }
.gypsumkit-clock-left { display: flex; flex-wrap: wrap; align-items: center; gap: 4px 18px; font-size: clamp(1.15rem, 1.7vw, 2rem); line-height: 1.3; }
.gypsumkit-clock-left svg.gypsumkit-digits { width: auto; height: clamp(2.2rem, 3.4vw, 4rem); }
.gypsumkit-clock-bar { display: block; width: 100%; max-width: 62rem; height: 22px; margin: 6px 0; }
.gypsumkit-clock-stepped { display: none; }
@media (prefers-reduced-motion: reduce) { .gypsumkit-clock-smooth { display: none; } .gypsumkit-clock-stepped { display: block; } }
.gypsumkit-clock .widget-html-content p.gypsumkit-clock-caution { border-left: 7px double #D55E00; padding-left: 12px; }
</style>"""

_KEEPING_UP = weakref.WeakValueDictionary()          # the panel that keeps up with the clock, by folder: the one used last


class ClockPanel(Block):
    """The bench clock with its controls.

    Parameters
    ----------
    powder : str
        Name of a powder.
    ratio : float, optional
        mL water per g powder; the recommended one when not given.
    folder : path, optional
        The work folder; the course's own when not given.
    speed : int
        How many times as fast as true time; for a rehearsal.
    now, steady : callable, optional
        The computer's wall clock and its steady clock, s.
    loop : object, optional
        What calls the tick, with `call_later`; the running event loop when not given.
    **conditions
        The other `Conditions` of the recipe, by name.
    """

    def __init__(self, powder="model plaster", ratio=None, folder=None, speed=1, now=time.time, steady=steady_clock, loop=None, **conditions):
        kind = find_powder(powder)
        self._loop, self._waiting = loop, None
        self.conditions = dict(conditions)
        self.clock = BenchClock(self._first_recipe(kind, ratio), folder, now, speed, steady)
        recipe = self.clock.recipe
        self.powder = powder_choice(recipe.powder)
        self.ratio = RatioControl(find_powder(recipe.powder), recipe.water_powder_ratio)
        self.mixing = mixing_choice(recipe.mixing)
        self.water = NumberControl("Water temperature (°C)", recipe.water_temperature_c, min(COLDEST_C, recipe.water_temperature_c),
                                   max(WARMEST_C, recipe.water_temperature_c), 1.0, "°C", "the water temperature", "23 °C")
        self.speed = choice("Speed", [("true time" if one == 1 else f"rehearsal, {one} times as fast", one) for one in SPEEDS], self.clock.speed)
        self.start_button = button("Start: powder meets water", "Start the clock at the moment at which powder meets water")
        self.gloss_button = button("Gloss lost now", "The surface has just turned dull: re-time all that follows")
        self.undo_button = button("Undo", "Take back the last “Gloss lost now”, or the stop")
        self.stop_button = button("Stop", "Stop the clock and keep its reading")
        self.reset_button = button("Reset", "Go back to 0:00, for the next mix")
        self.yes_button = button("Yes, the gloss is lost", "Believe it and re-time all that follows")
        self.no_button = button("No, it still shines", "Change nothing")
        self.asking = _row([self.yes_button, self.no_button])
        self.making = widgets.Box([self.powder, self.ratio, self.mixing, self.water])
        self.making.add_class("gypsumkit-controls")
        buttons = _row([self.start_button, self.gloss_button, self.undo_button, self.stop_button, self.reset_button, self.speed])
        buttons.add_class("gypsumkit-controls")
        self.digits = TimedText(self._digits_html)
        self.digits.add_class("gypsumkit-clock-digits")
        self.doing, self.left, self.mix_now = text_area(), TimedText(self._left_html), text_area()
        self.picture = LivePicture(self._scene(0.0))
        super().__init__()
        self.add_class("gypsumkit-clock")
        styles = [widgets.HTML(style, layout=widgets.Layout(display="none")) for style in (CONTROLS_STYLE, STYLE)]
        face = widgets.Box([widgets.VBox([self.digits, self.doing, self.left, self.mix_now]), widgets.VBox([self.picture])])
        face.add_class("gypsumkit-clock-face")
        self.children = (*styles, self.making, buttons, self.message, self.asking, face,
                         text_area(f"<p><em>{html.escape(LIMITS)}</em></p>"))
        self._wire()
        self._ask(False)
        self._shown_phase = self._pictured = None
        self.keep_up_here()
        self._tell()

    def _wire(self):
        for press, method in ((self.start_button, self.start), (self.gloss_button, self.gloss_lost), (self.undo_button, self.undo), (self.stop_button, self.stop),
                              (self.reset_button, self.reset), (self.yes_button, self.gloss_lost_for_sure), (self.no_button, self.gloss_not_lost)):
            press.on_click(self.guard(method))
        for control in (self.ratio, self.water):
            control.slider.observe(self.guard(lambda control=control: self.slid(control)), "value")
            control.typed.observe(self.guard(lambda control=control: self.was_typed(control)), "value")
        self.powder.observe(self.guard(self.powder_chosen), "value")
        self.mixing.observe(self.guard(self.recipe_changed), "value")
        self.speed.observe(self.guard(self.speed_chosen), "value")

    def _first_recipe(self, kind, ratio):
        return Recipe(kind.name, kind.recommended_ratio.value if ratio is None else ratio, **self.conditions)

    # What the reader does -------------------------------------------------------------------------

    def start(self):
        """Powder meets water."""
        self._do(lambda: self.clock.start(self.recipe(), self.speed.value))

    def gloss_lost(self):
        """The gloss is lost now; asks when that is unlikely."""
        try:
            self._do(self.clock.gloss_lost)
        except Unlikely as question:
            self._ask(True)
            self.show_message(str(question), "problem")

    def gloss_lost_for_sure(self):
        """The gloss is lost now, unlikely as it is."""
        self._do(lambda: self.clock.gloss_lost(sure=True))

    def gloss_not_lost(self):
        """It still shines: nothing changes."""
        self._ask(False)

    def undo(self):
        """Take back the stop or the last loss of gloss."""
        self.show_message(self._do(self.clock.undo))

    def stop(self):
        """Stop and keep the reading."""
        self._do(self.clock.stop)
        self.show_message("Stopped. The mix sets on; Undo goes on as if the clock had never been stopped.")

    def reset(self):
        """Go back to 0."""
        self._do(lambda: self.clock.reset(self.recipe()))

    def speed_chosen(self):
        """Go at the chosen speed from now on; one that cannot be chosen now is put back."""
        if self.speed.value != self.clock.speed:
            try:
                self._do(lambda: self.clock.go_at(self.speed.value))
            finally:
                self.speed.value = self.clock.speed

    def powder_chosen(self):
        """Take another powder; the recommended ratio of the one before gives way to its own."""
        kind, before = find_powder(self.powder.value), self.ratio.powder
        usual = abs(self.ratio.value - before.recommended_ratio.value) < 1e-9 and kind is not before
        said = self.ratio.use_powder(kind)
        if usual:
            self.ratio.set(kind.recommended_ratio.value)
            said = f"The ratio was set to {kind.recommended_ratio.value:.2f}, which is recommended for {kind.name}."
        self.recipe_changed()
        if said:
            self.show_message(said)

    def slid(self, control):
        """Take a number from its slider."""
        control.from_slider()
        self.recipe_changed()

    def was_typed(self, control):
        """Take a number that was typed."""
        control.from_typing()
        self.recipe_changed()

    def recipe_changed(self):
        """Prepare the recipe of the controls; once the clock is started they say its own."""
        if not self.clock.started:
            self.clock.prepare(self.recipe())
            self.show_all()

    def recipe(self):
        """Return the recipe of the controls.

        Returns
        -------
        Recipe
        """
        others = {name: value for name, value in self.conditions.items() if name != "turns" or self.mixing.value.endswith("by hand")}
        return Recipe(self.powder.value, self.ratio.value, **{**others, "mixing": self.mixing.value, "water_temperature_c": self.water.value})

    def _do(self, what):
        """Do something to the clock and show what came of it, also when it could not be saved."""
        self._ask(False)
        try:
            return what()
        finally:
            self.keep_up_here()
            self._tell()

    def _ask(self, asking):
        self.asking.layout.display = "" if asking else "none"

    # Keeping up with the clock ----------------------------------------------------------------------

    def keep_up_here(self):
        """Show all and tick from now on; another panel of the same clock, in this kernel, hands over."""
        key = str(self.clock.folder)
        other = _KEEPING_UP.get(key)
        if other is not None and other is not self:
            other.hand_over()
        _KEEPING_UP[key] = self
        self.show_all()
        self._wait_for_next(SOON_S)         # a page that is being built shows what it got late; soon it is set right

    def hand_over(self):
        """Tick no more: the clock is shown further on."""
        self._wait_no_more()
        if self.clock.running:
            self.show_message("This clock is now followed by the panel that was opened or used last; press any button here to follow it here.")

    def close(self):
        """End the tick and take the block from the page."""
        self._wait_no_more()
        super().close()

    def tick(self):
        """Bring everything up to date; the next tick is set only when this one is done."""
        self._waiting = None
        try:
            self.clock.look()
            if self._shown_phase != self._phase_key():
                self.show_all(digits=False)
            else:
                self.show_time()
            self._tell()
        except Problem as problem:
            self.show_message(str(problem), "problem")
        except Exception as error:
            self.errors.append(error)
            self.show_message(f"The clock could not be brought up to date ({type(error).__name__}: {error}); the digits run on.", "problem")
        self._wait_for_next()

    def seconds_to_next_tick(self, least_s=LEAST_S):
        """Return when to bring the page up to date: in the middle between two changes of the digits, so that none jumps back; at a new
        phase as it begins.

        Parameters
        ----------
        least_s : float
            Not before, s, unless a phase begins.

        Returns
        -------
        float
            s from now.
        """
        minute, speed = self.clock.minute(), self.clock.speed
        step = STEP_S[speed] / speed
        into = (60.0 * minute / speed) % step
        wait = (step / 2 - into) % step
        while wait < least_s:
            wait += step
        end = self.clock.phase().end_min
        to_change = 60.0 * (end - minute) / speed
        # When the change is near, the regular tick makes way for it; the digits are sent again with the next one.
        return to_change + 0.02 if 0 < to_change < wait else wait

    def _wait_for_next(self, least_s=LEAST_S):
        self._wait_no_more()
        loop = self._loop or running_loop()
        if self.clock.running and loop is not None and _KEEPING_UP.get(str(self.clock.folder)) is self:
            self._waiting = loop.call_later(self.seconds_to_next_tick(least_s), self.tick)

    def _wait_no_more(self):
        if self._waiting is not None:
            self._waiting.cancel()
            self._waiting = None

    def _tell(self):
        said = self.clock.take_messages()
        if said:
            self.show_message("\n".join(said))

    # What is shown ------------------------------------------------------------------------------------

    def show_all(self, digits=True):
        """Show the phase and all that goes with it.

        Parameters
        ----------
        digits : bool
            False leaves the digits as they run: at a change of phase they may be about to change themselves.
        """
        self._follow_recipe()
        self._shown_phase, self._pictured = self._phase_key(), None
        self.making.layout.display = "none" if self.clock.started else ""
        _put(self.doing, self._doing_html())
        self.show_time(digits)

    def show_time(self, digits=True):
        """Show where the clock is and how the mix should be now."""
        minute = self.clock.minute()
        if digits:
            self.digits.send_now()
        self.left.send_now()
        _put(self.mix_now, self._mix_html(minute))
        if not digits or self._pictured is None or abs(minute - self._pictured) >= PICTURE_MIN or not self.clock.running:
            self._pictured = minute
            self.picture.show(self._scene(minute))

    def project(self, room):
        """Draw the time line for a room; None draws it as on the page.

        Parameters
        ----------
        room : str or None
            One of `gypsumkit.figures.colours.ROOMS`.
        """
        self.picture.show_as(None if room is None else RoomView(room))

    def _follow_recipe(self):
        """Let the controls say the recipe of a clock that was started elsewhere or before."""
        recipe = self.clock.recipe
        if not self.clock.started or recipe == self.recipe():
            return
        self.conditions = {name: getattr(recipe, name) for name in recipe.__dataclass_fields__
                           if name not in ("powder", "water_powder_ratio", "mixing", "water_temperature_c")}
        if recipe.powder in self.powder.options:
            self.powder.value = recipe.powder
        self.ratio.use_powder(find_powder(recipe.powder))
        self.ratio.set(recipe.water_powder_ratio)
        self.mixing.value = recipe.mixing
        self.water.use_limits(min(COLDEST_C, recipe.water_temperature_c), max(WARMEST_C, recipe.water_temperature_c), ROOM_C)
        self.water.set(recipe.water_temperature_c)
        self.speed.value = self.clock.speed

    def _phase_key(self):
        clock = self.clock
        return clock.recipe, clock.started, clock.running, clock.speed, clock.gloss_lost_min, clock.phase().name

    def _scene(self, minute):
        return bench_clock_scene(self.clock.recipe, minute, self.clock.gloss_lost_min)

    def _ahead(self):
        """Seconds of the reading when what is sent now is shown."""
        clock = self.clock
        return 60.0 * clock.minute() + (AHEAD_S * clock.speed if clock.running else 0.0)

    def _digits_html(self):
        return running_digits_svg(self._ahead(), self.clock.speed, self.clock.running)

    def _doing_html(self):
        clock = self.clock
        phase = clock.phase()
        if not clock.started:
            first = f"First: {phase.name.lower()}. Have powder and water weighed; press Start as powder meets water."
            return f'<p class="gypsumkit-clock-now"><strong>Ready.</strong></p><p class="gypsumkit-clock-do">{html.escape(first)}</p>'
        stopped = f" (stopped at {html.escape(said_minute(clock.minute()))})" if not clock.running else ""
        rehearsal = ""
        if clock.speed != 1:
            steps = f", its seconds in steps of {STEP_S[clock.speed]}" if STEP_S[clock.speed] > 1 else ""
            rehearsal = f'<p class="gypsumkit-clock-do"><strong>Rehearsal:</strong> {clock.speed} times as fast as true time{steps}.</p>'
        caution = f'<p class="gypsumkit-clock-do gypsumkit-clock-caution"><strong>Caution:</strong> {html.escape(phase.caution)}</p>' if phase.caution else ""
        return (f'<div role="status">{rehearsal}<p class="gypsumkit-clock-now"><strong>Now: {html.escape(phase.name)}</strong>{stopped}</p>'
                f'<p class="gypsumkit-clock-do">{html.escape(phase.do)}</p>'
                f'<p class="gypsumkit-clock-do"><strong>How it should look:</strong> {html.escape(phase.look)}</p>{caution}</div>')

    def _left_html(self):
        clock = self.clock
        phase, every = clock.phase(), clock.phases()
        following = every[every.index(phase) + 1] if phase is not every[-1] else None
        if not clock.running or following is None or not math.isfinite(phase.end_min):
            return ""
        left = max(60.0 * phase.end_min - self._ahead(), 0.0)
        whole = 60.0 * (phase.end_min - phase.begin_min)
        said = f"when {phase.until}, about {about(phase.end_min)} min"
        if phase.end_high_min > phase.end_low_min and math.isfinite(phase.end_high_min):
            said += f" ({about(phase.end_low_min)} to {about(phase.end_high_min)})"
        return (f'<div class="gypsumkit-clock-left"><span>Next in</span>{running_digits_svg(left, clock.speed, True, down=True)}'
                f'<span><strong>{html.escape(following.name)}</strong>, {html.escape(said)}</span></div>{_bar_svg(left, whole, clock.speed)}')

    def _mix_html(self, minute):
        lines = [f"<p>{html.escape(line)}</p>" for line in self._mix_words(minute)]
        return f'<div class="gypsumkit-clock-mix">{"".join(lines)}</div>'

    def _mix_words(self, minute):
        """What the mix is predicted to be, in sentences."""
        clock = self.clock
        if not clock.started:
            return []
        now = clock.state(minute)
        degree, stress, warm = now.degree_of_hydration, now.yield_stress_pa, now.temperature_c
        flow = now.consistency
        if flow in ("pours", "runny", "too stiff to pour"):
            flow = {"pours": "it pours", "runny": "it is runny", "too stiff to pour": "it is too stiff to pour"}[flow]
            flow += f", with a yield stress of about {rounded(stress.value, 2)} Pa{bracketed(stress.low, stress.high)}"
        else:
            flow = f"it is {flow}"
        said = [recipe_words(clock.recipe) + ".",
                f"Predicted at {said_minute(minute)}: {flow}; {_percent(degree)} of the powder has set; the mass is at about "
                f"{warm.value:.0f} °C{_whole_range(warm)}."]
        if not warm.valid:
            said.append(warm.reason[0].upper() + warm.reason[1:] + ".")
        if clock.gloss_lost_min is not None:
            said.append(f"Gloss lost at {said_minute(clock.gloss_lost_min)}. {RETIMED}")
        return said

    def words(self):
        """Return the clock, what to do when, and the limits in plain words; without a time while it is not started."""
        said = scene_in_words(self._scene(0.0))
        if not self.clock.started:
            return "\n".join(["The bench clock is at 00:00; it has not been started.", said, LIMITS])
        minute, phase = self.clock.minute(), self.clock.phase()
        state = f"The bench clock {'is' if self.clock.running else 'was stopped'} at {said_minute(minute)}. Now: {phase.name}. {phase.do} {phase.caution}".rstrip()
        return "\n".join([state, *self._mix_words(minute), said, LIMITS])

    def picture_png(self):
        """Return the time line as PNG bytes."""
        return self.picture.static_png()


def _percent(part):
    """A part as a percentage with its range; in the first minutes only that it is little."""
    if part.high < 0.001:
        return "less than 0.1 %"
    low, high = (f"{100 * end:.1f}" if part.high < 0.1 else f"{100 * end:.0f}" for end in (part.low, part.high))
    value = f"{100 * part.value:.1f}" if part.high < 0.1 else f"{100 * part.value:.0f}"
    return f"{value} %" + (f" ({low} to {high})" if low != high else "")


def _whole_range(prediction):
    low, high = f"{prediction.low:.0f}", f"{prediction.high:.0f}"
    return f" ({low} to {high})" if low != high else ""


def _row(children):
    return widgets.Box(children, layout=widgets.Layout(display="flex", flex_flow="row wrap", width="100%"))


def _put(area, value):
    if area.value != value:
        area.value = value


def _bar_svg(left, whole, speed):
    """The time that is left as a bar that shrinks in the page; in steps where little motion is wanted."""
    share = min(left / whole, 1.0) if whole > 0 else 0.0
    seconds = max(left / speed, 0.001)
    steps = [share * (BAR_STEPS - step) / BAR_STEPS for step in range(BAR_STEPS + 1)]

    def bar(kind, values, mode):
        listed = ";".join(f"{1000 * value:.1f}" for value in values)
        return (f'<rect class="gypsumkit-clock-{kind}" x="0" y="3" width="{1000 * share:.1f}" height="16" style="fill:var(--gypsumkit-link, #0072B2)"><animate attributeName="width" begin="0s" '
                f'dur="{seconds:.3f}s" fill="freeze" calcMode="{mode}" values="{listed}"/></rect>')
    return ('<svg class="gypsumkit-clock-bar" aria-hidden="true" viewBox="0 0 1000 22" preserveAspectRatio="none">'
            f'{bar("smooth", (share, 0.0), "linear")}{bar("stepped", steps, "discrete")}'
            '<rect x="1" y="2" width="998" height="18" fill="none" stroke="currentColor" stroke-width="2"/></svg>')
