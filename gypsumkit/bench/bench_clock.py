"""The bench clock: it starts when powder meets water, says what to be doing, and keeps its time through whatever the computer does.

Three clocks are reconciled. While the kernel runs, time is counted by the computer's steady clock, which nobody can set and which
goes on while the computer sleeps (where it has one; else sleep is lost). The start instant is on disk as seconds since 1970, UTC, so
that summer time changes nothing, and after a restart of the kernel it is counted from there by the wall clock. When the wall clock
is set forward or back by more than `STEP_S` while the kernel runs, the bench clock does not follow: the start instant on disk is
moved by the same step, and the reader is told. A wall clock that is set while no kernel runs cannot be noticed, unless the start
then lies in the future; then the clock is not restored, and the reader is told.
"""

import json
import math
import sys
import time
from dataclasses import asdict, dataclass, replace
from typing import NamedTuple

from gypsumkit.bench.mix_phases import later, phases
from gypsumkit.bench.powder_shelf import load_own_powders
from gypsumkit.checks import checked_number
from gypsumkit.files import write_whole
from gypsumkit.kept import KeptFiles, move_aside
from gypsumkit.locking import reason
from gypsumkit.mix import Mix, Prediction, consistency
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered

FILE = "bench-clock.json"
SPEEDS = (1, 2, 5, 10, 30)               # of a rehearsal; 1 is true time
STEP_S = 2.0                             # a wall clock further off than this was set by someone        [gypsumkit]
LONGEST_MIN = 12 * 60.0                  # a reading beyond this was forgotten                           [gypsumkit]
UNLIKELY = (0.5, 2.0)                    # times the predicted loss of gloss: outside it is asked about  [gypsumkit]


class Unlikely(Problem):
    """What was said is possible but unlikely: it is asked about before it is believed."""


class NotSaved(Problem):
    """The clock goes on, but could not be written to disk."""


class State(NamedTuple):
    """What the mix is predicted to be at a moment, min from the start of mixing."""

    minute: float
    degree_of_hydration: Prediction
    yield_stress_pa: Prediction          # its value is not a number once it is no paste
    consistency: str
    temperature_c: Prediction


@dataclass(frozen=True)
class Kept:
    """What is on disk of a clock: nothing in it needs to be counted on.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    started_at : float or None
        When powder met water, s since 1970, UTC; None before.
    since_at, since_min, speed : float, float, int
        From this instant and this reading on it goes at this speed.
    gloss_lost_min : tuple of float
        Readings at which the gloss was said to be lost; the last one counts.
    stopped_min : float or None
        The reading at which it was stopped.
    """

    recipe: Recipe
    started_at: float = None
    since_at: float = None
    since_min: float = 0.0
    speed: int = 1
    gloss_lost_min: tuple = ()
    stopped_min: float = None


def steady_clock():
    """Return seconds of a clock that nobody sets and that goes on while the computer sleeps, where there is one."""
    if hasattr(time, "CLOCK_BOOTTIME"):
        return time.clock_gettime(time.CLOCK_BOOTTIME)
    if sys.platform == "darwin":
        return time.clock_gettime(time.CLOCK_MONOTONIC)
    return time.monotonic()


class BenchClock(KeptFiles):
    """One mix and its clock; every change is on disk at once.

    Parameters
    ----------
    recipe : Recipe
        What is mixed; a clock that still runs on disk has its own, which counts.
    folder : path, optional
        The work folder; the course's own when not given.
    now, steady : callable, optional
        The computer's wall clock and its steady clock, s.
    speed : int
        How many times as fast as true time, of `SPEEDS`; for a rehearsal.

    Raises
    ------
    Problem
        When the speed is none of `SPEEDS`.
    """

    again = "press the button again"

    def __init__(self, recipe, folder=None, now=time.time, speed=1, steady=steady_clock):
        super().__init__(folder)
        self._now, self._steady = now, steady
        self._anchor = now(), steady()
        self._seen = None
        self._kept = Kept(recipe, speed=checked_speed(speed))
        self.look_at_file()

    # What it reads -----------------------------------------------------------------------------

    @property
    def recipe(self):
        """The mix."""
        return self._kept.recipe

    @property
    def speed(self):
        """How many times as fast as true time."""
        return self._kept.speed

    @property
    def started(self):
        """Whether powder has met water."""
        return self._kept.started_at is not None

    @property
    def running(self):
        """Whether it goes on."""
        return self.started and self._kept.stopped_min is None

    @property
    def started_at(self):
        """When powder met water, s since 1970, UTC; None before."""
        return self._kept.started_at

    @property
    def gloss_lost_min(self):
        """When the gloss was said to be lost; None before."""
        return self._kept.gloss_lost_min[-1] if self._kept.gloss_lost_min else None

    def minute(self):
        """Return the minutes since powder met water, 0 before."""
        if not self.started:
            return 0.0
        if not self.running:
            return self._kept.stopped_min
        return self._reading(self._true_now())

    def phases(self):
        """Return what to be doing when, re-timed to the loss of gloss once that is known.

        Returns
        -------
        tuple of gypsumkit.bench.mix_phases.Phase
        """
        return phases(self.recipe, self.gloss_lost_min)

    def phase(self, minute=None):
        """Return the phase at a moment; now, when none is given.

        Parameters
        ----------
        minute : float, optional
            min from the start of mixing.

        Returns
        -------
        gypsumkit.bench.mix_phases.Phase
        """
        minute = self.minute() if minute is None else minute
        every = self.phases()
        return next((one for one in every if minute < one.end_min), every[-1])

    def state(self, minute=None):
        """Return what the mix is predicted to be at a moment, re-timed to the loss of gloss once that is known.

        Parameters
        ----------
        minute : float, optional
            min from the start of mixing; now, when not given.

        Returns
        -------
        State
        """
        return state(self.recipe, self.minute() if minute is None else minute, self.gloss_lost_min)

    # What is done to it ------------------------------------------------------------------------

    def start(self, recipe=None, speed=None):
        """Powder meets water: count from now.

        Parameters
        ----------
        recipe : Recipe, optional
            What is mixed, when it has changed.
        speed : int, optional
            Of `SPEEDS`, when it has changed.

        Raises
        ------
        Problem
            When it runs already.
        NotSaved
            When it runs, but could not be written to disk.
        """
        self.look()
        if self.running:
            raise Problem(f"The clock is running, at {said_minute(self.minute())}. Stop it first to begin with another mix.")
        speed = self.speed if speed is None else checked_speed(speed)
        self._anchor = self._now(), self._steady()
        self._change(Kept(recipe or self.recipe, self._anchor[0], self._anchor[0], speed=speed))

    def go_at(self, speed):
        """Go at another speed from now on; what is read now stays.

        Parameters
        ----------
        speed : int
            Of `SPEEDS`.
        """
        speed = checked_speed(speed)
        self.look()
        if self.running:
            self._change(replace(self._kept, since_min=self.minute(), since_at=self._true_now(), speed=speed))
        elif not self.started:
            self._kept = replace(self._kept, speed=speed)
        else:
            raise Problem("The clock is stopped: start the next mix, or press Undo to go on, then choose its speed.")

    def gloss_lost(self, sure=False):
        """The surface has just turned dull: every later moment is re-timed to that.

        Parameters
        ----------
        sure : bool
            Believe it although it is unlikely.

        Raises
        ------
        Problem
            When the clock does not run, or no loss of gloss is predicted that could be re-timed.
        Unlikely
            When it is far from the prediction; nothing has changed then.
        """
        self.look()
        if not self.running:
            raise Problem("The clock does not run: start it when powder meets water." if not self.started else
                          "The clock is stopped: press Undo to go on, then tell it that the gloss is lost.")
        minute = self.minute()
        predicted = _mix(self.recipe).gloss_loss_min.value
        if predicted is None:
            raise Problem("This mix is not predicted to lose its gloss within a day, so there is nothing to re-time. Note the moment by hand: "
                          f"{said_minute(minute)}.")
        least, most = (share * predicted for share in UNLIKELY)
        mixed = phases(self.recipe)[1].end_min
        why = ("before the mixing is over" if minute < mixed else "less than half of the time predicted" if minute < least
               else "more than twice the time predicted" if minute > most else "")
        if why and not sure:
            raise Unlikely(f"Gloss lost at {said_minute(minute)}? That is {why}; predicted is {said_minute(predicted)}. Is it what you see?")
        self._change(replace(self._kept, gloss_lost_min=(*self._kept.gloss_lost_min, minute)))

    def stop(self):
        """Stop and keep the reading; the mix sets on.

        Raises
        ------
        Problem
            When it does not run.
        """
        self.look()
        if not self.running:
            raise Problem("The clock does not run.")
        self._change(replace(self._kept, stopped_min=self.minute()))

    def undo(self):
        """Take back the stop, so that it has run on all the while, or else the last loss of gloss.

        Returns
        -------
        str
            What was taken back, in words.

        Raises
        ------
        Problem
            When there is nothing to take back.
        """
        self.look()
        if self.started and not self.running:
            self._change(replace(self._kept, stopped_min=None))
            return f"The stop is taken back: the clock has run on and is at {said_minute(self.minute())}."
        if self._kept.gloss_lost_min:
            taken = self._kept.gloss_lost_min[-1]
            self._change(replace(self._kept, gloss_lost_min=self._kept.gloss_lost_min[:-1]))
            return f"“Gloss lost at {said_minute(taken)}” is taken back."
        raise Problem("There is nothing to take back" + ("; to begin again, stop the clock and reset it." if self.running else "."))

    def reset(self, recipe=None):
        """Go back to 0, before powder meets water.

        Parameters
        ----------
        recipe : Recipe, optional
            What will be mixed, when it has changed.

        Raises
        ------
        Problem
            When it runs.
        """
        self.look()
        if self.running:
            raise Problem("The clock is running. Stop it first, then reset it.")
        self._change(Kept(recipe or self.recipe, speed=self.speed))

    def prepare(self, recipe):
        """Take another recipe before the start.

        Parameters
        ----------
        recipe : Recipe
            What will be mixed.

        Raises
        ------
        Problem
            When the clock has been started.
        """
        if self.started:
            raise Problem("The clock of this mix has been started; stop and reset it to prepare another.")
        self._kept = replace(self._kept, recipe=recipe)

    # Time and disk -------------------------------------------------------------------------------

    def look(self):
        """Notice a wall clock that was set, what another lesson has done to this clock, and that it was forgotten."""
        self.look_at_wall_clock()
        self.look_at_file()
        self._stop_if_forgotten()

    def look_at_wall_clock(self):
        """Notice a wall clock that was set while the kernel runs: the start on disk moves with it, and the reader is told."""
        off = self._now() - self._true_now()
        if abs(off) <= STEP_S:
            return
        self._anchor, seen = (self._now(), self._steady()), self._seen
        self.look_at_file()
        moved_by_another = self._seen != seen
        if self.started and not moved_by_another:              # a stopped one too: the stop may be taken back
            way = "forward" if off > 0 else "back"
            if self.running:
                self._tell(f"The clock of this computer was set {way} by {_long(abs(off))}; the bench clock did not follow it.")
            self._change_and_tell(replace(self._kept, started_at=self._kept.started_at + off, since_at=self._kept.since_at + off))

    def look_at_file(self):
        """Take over what another lesson, or this one before a restart, has written; a damaged file is set aside with a message."""
        path = self.folder / FILE
        try:
            seen = path.stat()
            mark = seen.st_mtime_ns, seen.st_size, seen.st_ino
            if mark == self._seen:
                return
            raw = path.read_bytes()
        except (FileNotFoundError, NotADirectoryError):
            return
        except OSError as error:
            self._tell(f"{FILE} cannot be read ({reason(error)}): a clock that ran before is not restored; the file is untouched.")
            return
        self._seen = mark
        try:
            kept = _understood(raw, self.folder)
        except (Problem, ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
            self._set_aside(path, raw, f"was damaged ({error})" if isinstance(error, Problem) else "was damaged")
            return
        self._restore(kept, raw)

    def _true_now(self):
        """The wall clock as it would be had nobody set it since this kernel began to count."""
        wall, steady = self._anchor
        return wall + (self._steady() - steady)

    def _reading(self, at):
        return max(self._kept.since_min + (at - self._kept.since_at) * self.speed / 60.0, 0.0)

    def _restore(self, kept, raw):
        if kept.started_at is None and not self.started:
            return                                       # nothing runs, here or there: this lesson's own recipe and speed stand
        before, self._kept = self._kept, kept
        if not self.running:
            return
        if kept.started_at > self._true_now() + STEP_S:
            self._kept = before
            self._set_aside(self.folder / FILE, raw, "says that powder will meet water in the future: the clock of this computer was set back meanwhile")
        else:
            self._stop_if_forgotten()

    def _stop_if_forgotten(self):
        if self.running and self.minute() > LONGEST_MIN:
            self._tell(f"This clock has run for more than {LONGEST_MIN / 60:g} hours; it is stopped.")
            self._change_and_tell(replace(self._kept, stopped_min=LONGEST_MIN))

    def _tell(self, message):
        if message not in self.messages:
            self.messages.append(message)

    def _change(self, kept):
        """Take a change and write it; it holds even where it cannot be written."""
        self._kept = kept
        path = self.folder / FILE
        try:
            with self._lock.held(FILE):
                write_whole(path, _as_bytes(kept))
                seen = path.stat()
                self._seen = seen.st_mtime_ns, seen.st_size, seen.st_ino
        except (OSError, Problem) as error:
            why = reason(error) if isinstance(error, OSError) else str(error).split(":")[0]
            raise NotSaved(f"The clock does what you asked, but could not be written to disk ({why}): it will not survive a restart. Make room or "
                           "allow writing in the work folder.") from None

    def _change_and_tell(self, kept):
        """Take a change that nobody asked for; what could not be written is told, not raised."""
        try:
            self._change(kept)
        except NotSaved as problem:
            self._tell(str(problem))

    def _set_aside(self, path, raw, why):
        """Set the file aside, unless another lesson has just written it anew: then look at that."""
        try:
            with self._lock.held(FILE):
                aside = move_aside(path, raw)
        except FileNotFoundError:                        # another lesson has just set it aside
            self._seen = None
            return
        except (OSError, Problem) as error:
            self._tell(f"{FILE} {why} and cannot be set aside ({reason(error)}): move it away by hand.")
            return
        self._seen = None
        if aside is None:
            self.look_at_file()
            return
        self._tell(f"{FILE} {why}. It is set aside as {aside.name}; start the clock again.")


def state(recipe, minute, gloss_lost_min=None):
    """Return what a mix is predicted to be at a moment.

    Once the loss of gloss is known, what was predicted for a moment is taken to come as much earlier or later as that did: a
    simple law of our own.

    Parameters
    ----------
    recipe : Recipe
        The mix.
    minute : float
        min from the start of mixing.
    gloss_lost_min : float, optional
        When the gloss was seen to be lost.

    Returns
    -------
    State
    """
    mix = _mix(recipe)
    at = minute / later(recipe, gloss_lost_min)
    if gloss_lost_min is not None and minute >= gloss_lost_min:
        at = max(at, float(mix.gloss_loss_min.value) * (1 + 1e-9))           # it is seen to be no paste any more
    line = mix.timeline([at])
    even = minute >= next(one.end_min for one in phases(recipe))
    stress = line["yield_stress_pa"].one(0)
    if not even:
        called = "powder and water, not yet a paste"
    elif math.isnan(stress.value):
        called = "no longer a paste"
    else:
        called = consistency(stress.value)
    return State(minute, line["degree_of_hydration"].one(0), stress, called, line["temperature_c"].one(0))


@remembered(8)
def _mix(recipe):
    return Mix(recipe)


def checked_speed(speed):
    """Return a speed that a clock can go at.

    Parameters
    ----------
    speed : int
        How many times as fast as true time.

    Returns
    -------
    int

    Raises
    ------
    Problem
        When it is none of `SPEEDS`.
    """
    number = checked_number(speed, "The speed of the clock", "times")
    if number not in SPEEDS:
        raise Problem(f"The speed of the clock is given as {number:g} times; it can be {', '.join(map(str, SPEEDS))}.")
    return int(number)


def said_minute(minute):
    """Return a moment as minutes and seconds, "3:20 min"."""
    seconds = math.floor(60.0 * minute + 1e-6)
    return f"{seconds // 60}:{seconds % 60:02d} min"


def _long(seconds):
    return f"{seconds:.0f} s" if seconds < 120 else f"{seconds / 60:.0f} min" if seconds < 7200 else f"{seconds / 3600:.1f} hours"


def _as_bytes(kept):
    return (json.dumps({"format": 1, **asdict(kept)}, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode("utf-8")


def _understood(raw, folder):
    """What a file says, checked: it may have been written by anyone."""
    found = json.loads(raw.decode("utf-8"))
    if found["recipe"]["powder"] not in POWDERS:
        load_own_powders(folder)
    if found.pop("format") != 1:
        raise Problem("it is of a later version of the course")

    def number(name, least=0.0):
        return None if found[name] is None else checked_number(found[name], name, "", least, 1e12)
    kept = Kept(Recipe(**found["recipe"]), number("started_at"), number("since_at"), number("since_min"), checked_speed(found["speed"]),
                tuple(checked_number(one, "gloss_lost_min", "min", 0.0, 1e6) for one in found["gloss_lost_min"]), number("stopped_min"))
    if kept.since_min is None or (kept.started_at is None) != (kept.since_at is None):
        raise Problem("its moments do not fit together")
    return kept
