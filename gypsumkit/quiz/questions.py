"""The four kinds of question, and how each is marked: pure data and logic.

A question is written once with {names} in its text. Its numbers are fixed, or drawn from a seed, so that
every reader can have numbers of their own. The key of a numeric question is computed, never typed in.
"""

import dataclasses
import math
import random
import re
import string
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from gypsumkit.problems import Problem, nearest
from gypsumkit.units import find_unit, read_number, say_number, say_quantity, units_of_kind

LESSON_SEED = "lesson"
SHORTEST_WHY = 15
DRAWS = 50  # how often numbers are drawn again before a question is refused
LETTERS = "ABCDEFGH"


# ---------------------------------------------------------------------------------------------
# The numbers of a question and the texts that name them

class Numbers(dict):
    """The named numbers of a question, read as ``p.powder_g`` or ``p["powder_g"]``."""

    def __getattr__(self, name):
        if name.startswith("__"):
            raise AttributeError(name)
        if name not in self:
            raise Problem(_unknown_name(name, self))
        return self[name]


class _Template(string.Formatter):
    """Fill {names} in; a number without a format is said in three digits."""

    def get_value(self, name, arguments, numbers):
        if name not in numbers:
            raise Problem(_unknown_name(name, numbers))
        return numbers[name]

    def format_field(self, value, how):
        if how == "" and isinstance(value, (int, float)) and not isinstance(value, bool):
            return say_number(value)
        return super().format_field(value, how)


def _unknown_name(name, numbers):
    guess = nearest(name, numbers)
    return f"there is no number named {name!r}" + (f": do you mean {guess!r}?" if guess else f" among {', '.join(numbers) or 'none'}.")


def fill(template, numbers):
    """Return the text with every {name} replaced by the number of that name.

    Parameters
    ----------
    template : str
        Text; a literal brace is written twice.
    numbers : mapping of str to number or str
        What the names stand for.

    Returns
    -------
    str
        The text as the reader sees it.

    Raises
    ------
    Problem
        When the text names a number that is not there.

    Examples
    --------
    >>> fill("{powder_g} g of powder", {"powder_g": 100.0})
    '100 g of powder'
    """
    try:
        return _Template().vformat(template, (), numbers)
    except Problem as problem:
        raise Problem(f"In “{template[:60]}” {problem}") from None
    except (ValueError, IndexError, AttributeError, KeyError, TypeError) as error:
        raise Problem(f"“{template[:60]}” cannot be filled in: {error}.") from None


def draw(parameters, computed, seed):
    """Return the Numbers that these parameters give for this seed, the computed ones included."""
    drawn = parameters(random.Random(seed)) if callable(parameters) else dict(parameters)
    numbers = Numbers({name: _plain(value) for name, value in drawn.items()})
    for name, compute in computed.items():
        numbers[name] = _plain(compute(numbers))
    return numbers


def _plain(value):
    """Return numpy numbers as Python numbers, refuse those that are not finite, pass text through."""
    if hasattr(value, "item") and getattr(value, "ndim", 0) == 0:
        value = value.item()
    if isinstance(value, float) and not math.isfinite(value):
        raise Problem(f"{value} is not a finite number.")
    return value


# ---------------------------------------------------------------------------------------------
# What marking gives back

@dataclass(frozen=True)
class Marked:
    """The judgement of one answer.

    `answer` is the answer as it is kept in the reader's file: text, a list of texts, or what was typed.
    """

    correct: bool
    fraction: float
    feedback: str
    slip: str = None
    answer: object = None


NOT_YET = "Not yet."         # how the feedback of a wrong answer begins


def _correct(text):
    return f"Correct. {text}".strip()


def _not_yet(text):
    return f"{NOT_YET} {text}".strip()


# ---------------------------------------------------------------------------------------------
# What all questions share

@dataclass(frozen=True, kw_only=True)
class Question:
    """What every kind of question has.

    Parameters
    ----------
    id : str
        ``"L02-Q1"`` for a question, ``"L02-P1"`` for a prediction, ``"PR-Q1"`` in the primer; never used again for another question.
    objective : str
        Id of the objective it tests, ``"L02-O1"``.
    prompt : str
        The question; may name numbers in braces.
    explanation : str
        Shown after a correct answer; may name numbers in braces.
    parameters : mapping, or function of a ``random.Random``
        The numbers of the question, fixed or drawn.
    computed : mapping of str to function of the numbers
        Further numbers to name in texts, computed by the library.
    hint : str
        Added to the feedback on an answer that is not yet right.
    seed : str or int
        What the numbers are drawn from; lessons keep the default.
    at_picture : bool
        True when it is answered at a picture of its own lesson: other lessons then do not recall it.
    shuffle : str
        What the order of options or steps depends on, beside the id; papers give every candidate an order of their own.
    """

    id: str
    objective: str
    prompt: str
    explanation: str
    parameters: Mapping | Callable = field(default_factory=dict)
    computed: Mapping = field(default_factory=dict)
    hint: str = ""
    seed: object = LESSON_SEED
    at_picture: bool = False
    shuffle: str = ""

    def __post_init__(self):
        if not re.fullmatch(r"PR-Q\d+|L\d{2}-(?:[QP]\d+|E\d+-[a-z]+-\d+)|T\d{2}-\d+-[a-h]", self.id):
            raise Problem(f"{self.id!r} is not a question id: write one like L02-Q1, L02-P1 for a prediction, or PR-Q1 in the primer.")
        if not re.fullmatch(r"(?:L\d{2}|PR)-O\d+", self.objective):
            raise Problem(f"{self.id}: {self.objective!r} is not an objective id: write one like L02-O1.")
        _long_enough(self.id, "the prompt", self.prompt)
        _long_enough(self.id, "the explanation", self.explanation)
        try:
            self._check()
            self.shown_prompt, self.shown_explanation, self.shown_hint
        except Problem as problem:
            raise Problem(f"{self.id}: {problem}") from None
        except Exception as error:
            raise Problem(f"{self.id}: its numbers could not be computed ({type(error).__name__}: {error}).") from error

    def _check(self):
        raise NotImplementedError("each kind of question checks itself")

    def for_seed(self, seed):
        """Return the same question with the numbers drawn from this seed."""
        return dataclasses.replace(self, seed=seed)

    @cached_property
    def numbers(self):
        """The numbers of the question, drawn from its seed, again where they would not serve."""
        for attempt in range(DRAWS if callable(self.parameters) else 1):
            numbers = draw(self.parameters, self.computed, f"{self.id}/{self.seed}/{attempt}")
            if self._serve(numbers):
                break
        return numbers

    def _serve(self, numbers):
        """Return whether these numbers make a fair question."""
        return True

    @property
    def names_in_text(self):
        """The numbers that the texts may name."""
        return self.numbers

    @cached_property
    def shown_prompt(self):
        """The question with its numbers filled in."""
        return fill(self.prompt, self.numbers)

    @cached_property
    def shown_explanation(self):
        """The explanation with its numbers filled in."""
        return fill(self.explanation, self.names_in_text)

    @cached_property
    def shown_hint(self):
        """The hint with its numbers filled in."""
        return fill(self.hint, self.numbers)

    def _shuffled(self, items):
        """Return the items in an order that depends on the id, and on `shuffle` where it is given."""
        shuffled = list(items)
        random.Random(f"{self.id}/order{self.shuffle}").shuffle(shuffled)
        return shuffled


def _long_enough(where, what, text, shortest=SHORTEST_WHY):
    if not isinstance(text, str) or len(text.strip()) < shortest:
        raise Problem(f"{where}: {what} has fewer than {shortest} characters ({text!r}).")


# ---------------------------------------------------------------------------------------------
# Choosing

@dataclass(frozen=True)
class Option:
    """One option: its text, why it is right or which misconception it shows, and whether it is correct.

    `correct` is True or False, or a function of the question's numbers, so that the library decides.
    """

    text: str
    why: str
    correct: bool | Callable = False


@dataclass(frozen=True)
class ShownOption:
    """An option as the reader sees it: with its letter and its numbers filled in."""

    letter: str
    text: str
    why: str
    correct: bool


@dataclass(frozen=True, kw_only=True)
class _WithOptions(Question):
    options: tuple

    def _check(self):
        texts = [option.text for option in self.shown_options]
        if len(set(texts)) != len(texts):
            raise Problem("two options have the same text.")
        for option in self.shown_options:
            _long_enough("option", f"the why of “{option.text[:40]}”", option.why)

    @cached_property
    def shown_options(self):
        """The options in the order shown, which depends on the id alone."""
        judged = []
        for option in self._shuffled(self.options):
            correct = option.correct(self.numbers) if callable(option.correct) else option.correct
            judged.append((fill(option.text, self.numbers), fill(option.why, self.numbers), bool(correct)))
        return tuple(ShownOption(letter, *parts) for letter, parts in zip(LETTERS, judged))

    def option(self, answer):
        """Return the shown option meant by its letter or its text, or raise a Problem."""
        wanted = str(answer).strip()
        for option in self.shown_options:
            if wanted == option.text or wanted.upper() == option.letter:
                return option
        letters = f"{self.shown_options[0].letter} to {self.shown_options[-1].letter}"
        raise Problem(f"“{wanted[:40]}” is not one of the options: choose one of {letters}.")


@dataclass(frozen=True, kw_only=True)
class Choice(_WithOptions):
    """One correct option among three or four plausible ones; see Question for what else it takes.

    Parameters
    ----------
    options : sequence of Option
        Three or four, exactly one of them correct.
    """

    def _check(self):
        super()._check()
        if not 3 <= len(self.options) <= 4:
            raise Problem(f"a choice has three or four options, this one has {len(self.options)}.")
        right = [option for option in self.shown_options if option.correct]
        if len(right) != 1:
            raise Problem(f"a choice has exactly one correct option, this one has {len(right)}.")

    def mark(self, answer):
        """Judge the option chosen.

        Parameters
        ----------
        answer : str
            The option's letter or its whole text.

        Returns
        -------
        Marked
            With the option's own why in the feedback.

        Raises
        ------
        Problem
            When nothing is chosen, or no option is meant.
        """
        if answer is None or not str(answer).strip():
            raise Problem("Nothing is chosen yet: choose one option, then check.")
        chosen = self.option(answer)
        if chosen.correct:
            return Marked(True, 1.0, _correct(chosen.why), None, chosen.text)
        return Marked(False, 0.0, _not_yet(f"{chosen.why} {self.shown_hint}"), chosen.why, chosen.text)

    def every_answer(self):
        """Return every possible answer with its judgement, as (words, Marked) pairs."""
        return [(f"{option.letter}. {option.text}", self.mark(option.text)) for option in self.shown_options]


@dataclass(frozen=True, kw_only=True)
class SeveralChoices(_WithOptions):
    """Tick all that apply; see Question for what else it takes.

    Parameters
    ----------
    options : sequence of Option
        Three to six, at least one of them correct and at least one not.
    """

    def _check(self):
        super()._check()
        if not 3 <= len(self.options) <= 6:
            raise Problem(f"a question with several choices has three to six options, this one has {len(self.options)}.")
        if len({option.correct for option in self.shown_options}) != 2:
            raise Problem("several choices need at least one correct and one incorrect option.")

    def mark(self, answer):
        """Judge every option, ticked or not.

        Parameters
        ----------
        answer : iterable of str, or str
            Letters or whole texts of the ticked options; one string may hold letters, as in ``"A, C"``.

        Returns
        -------
        Marked
            Its fraction is the share of options judged correctly; its feedback has a line an option.

        Raises
        ------
        Problem
            When nothing is ticked, or an option is not known.
        """
        ticked = {self.option(part) for part in _parts(answer)}
        if not ticked:
            raise Problem("Nothing is ticked yet: tick every option that applies, then check.")
        lines = [_judged(option, option in ticked) for option in self.shown_options]
        right = sum((option in ticked) == option.correct for option in self.shown_options)
        kept = [option.text for option in self.shown_options if option in ticked]
        if right == len(lines):
            return Marked(True, 1.0, "\n".join([_correct(f"You judged all {right} options correctly."), *lines]), None, kept)
        wrong = next(option.why for option in self.shown_options if (option in ticked) != option.correct)
        first = _not_yet(f"You judged {right} of {len(lines)} options correctly. {self.shown_hint}")
        return Marked(False, right / len(lines), "\n".join([first, *lines]), wrong, kept)

    def every_answer(self):
        """Return each option ticked alone, then the whole right answer, as (words, Marked) pairs."""
        alone = [(f"only {option.letter}. {option.text}", self.mark([option.text])) for option in self.shown_options]
        right = [option.text for option in self.shown_options if option.correct]
        letters = ", ".join(option.letter for option in self.shown_options if option.correct)
        return [*alone, (f"all that apply: {letters}", self.mark(right))]


def _judged(option, ticked):
    verdict = {(True, True): "correctly ticked", (True, False): "ticked, but does not apply",
               (False, True): "left out, but applies", (False, False): "correctly left out"}[ticked, option.correct]
    return f"{option.letter}. {verdict}: {option.why}"


def _parts(answer):
    """Return the separate letters or texts of an answer."""
    if answer is None:
        return []
    if isinstance(answer, str):
        letters = re.fullmatch(rf"\s*[{LETTERS}{LETTERS.lower()}](?:[\s,;]*[{LETTERS}{LETTERS.lower()}])*\s*", answer)
        return re.findall(r"[A-Za-z]", answer) if letters else [answer] if answer.strip() else []
    if not isinstance(answer, Iterable):
        raise Problem(f"“{str(answer)[:40]}” is not an answer here: give letters, as in A, C.")
    return list(answer)


# ---------------------------------------------------------------------------------------------
# A number with its unit

@dataclass(frozen=True)
class Slip:
    """A typical slip: the value it leads to (a function of the numbers), and why it is a slip."""

    value: Callable
    why: str


@dataclass(frozen=True, kw_only=True)
class NumberWithUnit(Question):
    """A number computed by the library, answered with its unit; see Question for what else it takes.

    Parameters
    ----------
    key : function of the numbers
        Computes the right answer, in `unit`.
    unit : str
        Unit of the key, ``""`` for a plain number. When the prompt states it, a bare number is accepted.
    relative_tolerance : float
        Accepted distance as a share of the key, 0 to 0.25.
    absolute_tolerance : float
        Accepted distance in `unit`; the larger of the two counts.
    tolerance_why : str
        Why answers this far off still count.
    slips : sequence of Slip
        Typical slips, each recognised and explained.
    """

    key: Callable
    unit: str
    tolerance_why: str
    relative_tolerance: float = 0.0
    absolute_tolerance: float = 0.0
    slips: tuple = ()

    def _check(self):
        _long_enough("tolerance", "tolerance_why", self.tolerance_why)
        if not callable(self.key):
            raise Problem("the key is typed in: give a function that computes it from the numbers.")
        if not (0 <= self.relative_tolerance <= 0.25 and 0 <= self.absolute_tolerance < math.inf and self.tolerance > 0):
            raise Problem("the tolerance must be above zero, its relative part at most 0.25.")
        if not self._accepts(float(say_number(self.value, 3)) if "×" not in say_number(self.value) else self.value):
            raise Problem(f"the tolerance is so tight that the key in three digits ({say_number(self.value)}) fails.")
        for slip, value in self.slip_values:
            _long_enough("slip", f"the why of the slip {say_number(value)}", fill(slip.why, self.numbers))
        fault = self._fault_of_slips(self.value, self.slip_values)
        if fault:
            raise Problem(fault)

    def _serve(self, numbers):
        return self._fault_of_slips(self._key_of(numbers), self._slips_of(numbers)) is None

    def _fault_of_slips(self, key, slip_values):
        """Return in words which slip cannot be told from the key or from another slip, or None."""
        for slip, value in slip_values:
            if abs(value - key) <= self._tolerance_of(key) * (1 + 1e-9):
                return f"the slip “{slip.why[:40]}” gives {say_number(value)}, which the tolerance accepts as right."
        if len({value for _, value in slip_values}) != len(slip_values):
            return "two slips give the same number."
        return None

    def _key_of(self, numbers):
        value = _plain(self.key(numbers))
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise Problem(f"the key must be a number, it is {value!r}.")
        return float(value)

    def _slips_of(self, numbers):
        return tuple((slip, float(_plain(slip.value(numbers)))) for slip in self.slips)

    def _tolerance_of(self, value):
        return max(self.relative_tolerance * abs(value), self.absolute_tolerance)

    @cached_property
    def unit_wanted(self):
        """The Unit the answer is asked in."""
        return find_unit(self.unit or "times")

    @cached_property
    def value(self):
        """The key, in the unit asked for."""
        return self._key_of(self.numbers)

    @cached_property
    def slip_values(self):
        """Each slip with the number it leads to."""
        return self._slips_of(self.numbers)

    @property
    def tolerance(self):
        """The accepted distance from the key, in the unit asked for."""
        return self._tolerance_of(self.value)

    @property
    def unit_is_stated(self):
        """Whether the prompt says the unit, so that a bare number will do."""
        if self.unit == "":
            return True
        return re.search(rf"(?<!\w){re.escape(self.unit)}(?!\w)", self.shown_prompt) is not None

    @property
    def names_in_text(self):
        """The numbers that the explanation may name: also {key}, said with its unit."""
        return {**self.numbers, "key": self.say(self.value)}

    def say(self, value):
        """Return a value with the unit of this question."""
        return say_quantity(value, self.unit and self.unit_wanted)

    def mark(self, answer):
        """Judge the number typed.

        Parameters
        ----------
        answer : str or float
            What was typed, for example ``"54 mL"`` or ``"0,054 L"``.

        Returns
        -------
        Marked
            With the slip explained where one is recognised.

        Raises
        ------
        Problem
            When there is no number, the unit is missing and not stated, unknown, or of another kind.
        """
        quantity = read_number("" if answer is None else answer, example=f"54 {self.unit}".strip())
        value = quantity.in_unit(self.unit_wanted)
        if quantity.unit is None and not self.unit_is_stated:
            raise Problem(f"“{quantity.typed}” has no unit: write it as well, for example {quantity.typed} {self.unit_wanted.symbol}.")
        read_as = self._read_as(quantity, value)
        if self._accepts(value):
            return Marked(True, 1.0, _correct(f"{read_as}{self._how_exact(value)}"), None, quantity.typed)
        slip = self._slip_of(value) or self._unit_slip(quantity)
        if slip:
            return Marked(False, 0.0, _not_yet(f"{read_as}{slip} {self.shown_hint}"), slip, quantity.typed)
        side = "larger" if value > self.value else "smaller"
        text = f"{read_as}{'That' if read_as else self.say(value)} is {side} than what these numbers give. {self.shown_hint}"
        return Marked(False, 0.0, _not_yet(text), None, quantity.typed)

    def _accepts(self, value):
        return abs(value - self.value) <= self.tolerance * (1 + 1e-9)

    def _read_as(self, quantity, value):
        """Return in words how the typed text was read, where that is not plain to see."""
        if self.unit == "":
            return ""
        if quantity.unit is None:
            return f"Read as {self.say(value)}, the unit asked for. "
        if quantity.unit.symbol != self.unit_wanted.symbol:
            return f"{quantity.typed} is {self.say(value)}. "
        return ""

    def _how_exact(self, value):
        if say_number(value) == say_number(self.value):
            return ""
        return f"The exact value is {self.say(self.value)}; yours counts too: {self.tolerance_why}"

    def _slip_of(self, value):
        """Return the why of the nearest slip within its tolerance, or None."""
        near = [(abs(value - slipped), slip.why) for slip, slipped in self.slip_values
                if abs(value - slipped) <= max(self._tolerance_of(slipped), 1e-9 * abs(slipped))]
        return fill(min(near)[1], self.numbers) if near else None

    def _unit_slip(self, quantity):
        """Return words for a number that would be right in another unit of the same kind, or None."""
        for other in units_of_kind(self.unit_wanted.kind):
            if other.factor != self.unit_wanted.factor and self._accepts(quantity.number * other.factor / self.unit_wanted.factor):
                if quantity.unit is None:
                    return f"Your number would be right in {other.symbol}; the question asks for {self.unit_wanted.symbol}."
                return f"The number would be right in {other.symbol}, but the unit written is {quantity.unit.symbol}."
        return None

    def every_answer(self):
        """Return the key and every slip, typed with the unit, with their judgements, as (words, Marked) pairs."""
        typed = [self.say(self.value)] + [say_quantity(value, self.unit and self.unit_wanted, 6) for _, value in self.slip_values]
        return [(text, self.mark(text.replace(" × 10^", "e"))) for text in typed]


# ---------------------------------------------------------------------------------------------
# Putting in order

@dataclass(frozen=True)
class Place:
    """One step of a sequence: its text, and why it stands where it stands."""

    text: str
    why: str


@dataclass(frozen=True, kw_only=True)
class PutInOrder(Question):
    """Steps to be put in order; see Question for what else it takes.

    Parameters
    ----------
    steps : sequence of Place
        Three to seven, written in the right order.
    """

    steps: tuple

    def _check(self):
        if not 3 <= len(self.steps) <= 7:
            raise Problem(f"a sequence has three to seven steps, this one has {len(self.steps)}.")
        if len(set(self.right_order)) != len(self.steps):
            raise Problem("two steps have the same text.")
        for step in self.steps:
            _long_enough("step", f"the why of “{step.text[:40]}”", fill(step.why, self.numbers))

    @cached_property
    def right_order(self):
        """The texts in the right order."""
        return tuple(fill(step.text, self.numbers) for step in self.steps)

    @cached_property
    def shown_steps(self):
        """The texts as shown at first: in an order that depends on the id alone and is not the right one."""
        shown = tuple(self._shuffled(self.right_order))
        return shown if shown != self.right_order else shown[1:] + shown[:1]

    def mark(self, answer):
        """Judge an order.

        Parameters
        ----------
        answer : sequence of str, or str
            All texts, or the letters of the steps as shown, in the chosen order.

        Returns
        -------
        Marked
            Its fraction is the share of steps in their right place; the first misplaced step is explained.

        Raises
        ------
        Problem
            When a step is missing, twice there or not known.
        """
        chosen = tuple(self._text(part) for part in _parts(answer))
        if not chosen:
            raise Problem("No order is given yet: give every step its place, then check.")
        if sorted(chosen) != sorted(self.right_order):
            raise Problem(f"Every one of the {len(self.steps)} steps needs its own place, once.")
        if chosen == self.right_order:
            return Marked(True, 1.0, _correct("Every step is in its place."), None, list(chosen))
        fraction = sum(mine == right for mine, right in zip(chosen, self.right_order)) / len(chosen)
        first = next(place for place, text in enumerate(chosen) if text != self.right_order[place])
        why = fill(self.steps[self.right_order.index(chosen[first])].why, self.numbers)
        before = {0: "", 1: "The first step is right. "}.get(first, f"The first {first} steps are right. ")
        text = f"{before}“{chosen[first]}” comes too early in place {first + 1}: {why} {self.shown_hint}"
        return Marked(False, fraction, _not_yet(text), why, list(chosen))

    def _text(self, part):
        part = str(part).strip()
        for letter, text in zip(LETTERS, self.shown_steps):
            if part == text or part.upper() == letter:
                return text
        raise Problem(f"“{part[:40]}” is not one of the steps.")

    def every_answer(self):
        """Return the right order, then each step moved to the front or swapped with its neighbour, as (words, Marked) pairs."""
        orders = [self.right_order]
        for place in range(len(self.steps) - 1):
            swapped = list(self.right_order)
            swapped[place], swapped[place + 1] = swapped[place + 1], swapped[place]
            orders.append(tuple(swapped))
        letter = dict(zip(self.shown_steps, LETTERS))
        return [(" ".join(letter[text] for text in order), self.mark(order)) for order in orders]
