"""The tasks of a paper: what they ask, how their numbers are drawn for one candidate, and how an answer is marked.

A task has one or more parts. A part that computes a number may use the results of earlier parts; when a candidate got one of those
wrong, the later part is worked again from the candidate's own value, and keeps its method marks when it agrees (follow-through).
Every key is computed by the library. Reading down: what marking gives back, the kinds of part, the task, the drawn task.
"""

import math
import random
import re
import string
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from gypsumkit.marking import drawing
from gypsumkit.mix import Mix
from gypsumkit.powders import find_mixing, find_powder
from gypsumkit.problems import Problem, nearest
from gypsumkit.quiz.questions import LETTERS, NOT_YET, Choice, Numbers, NumberWithUnit, PutInOrder, SeveralChoices, draw, fill
from gypsumkit.recipe import Recipe
from gypsumkit.remembering import remembered
from gypsumkit.units import find_unit, read_number, say_quantity

KINDS = ("number", "choice", "several", "order", "recipe", "code", "words")
LEVELS = ("recall", "apply", "explain/judge")
DRAWS = 600                     # how often numbers are drawn again before a task is refused
LONGEST_READ = 4000             # letters of a plain answer that are looked at
NEAR_OWN = 0.1                  # of a result that follows from an own value: no tolerance is wider
PART_LABELS = "abcdefgh"
KEY, OTHER, NOTHING = "key", "other", "nothing"
BY_HAND_WHY, LOOK_FOR = "To be marked by hand: ", "Look for: "      # how the why of an answer begins that an assessor marks
NOT_READ_WHY = "Not read with certainty; it counts 0 until an assessor has looked at it: "


# ---------------------------------------------------------------------------------------------
# What marking gives back

@dataclass(frozen=True)
class PartMark:
    """The marks of one part and why.

    `slip` is the why of a recognised slip, else None. `by_hand` says that the assessor has to look. `answer` is what was read.
    `chosen` names the same choice in every paper, whatever its order and numbers: "key", "slip 2", "option 3", "other" or "nothing".
    """

    label: str
    marks: int
    out_of: int
    why: str
    slip: str = None
    followed_through: bool = False
    by_hand: bool = False
    answer: str = ""
    chosen: str = OTHER


# ---------------------------------------------------------------------------------------------
# The kinds of part, as they are written in the bank

@dataclass(frozen=True, kw_only=True)
class Asked:
    """What every part has: a prompt, with the drawn numbers in braces, and its marks."""

    prompt: str
    marks: int

    kind = ""

    def check(self, where):
        """Refuse a part that cannot be marked."""
        if not isinstance(self.marks, int) or not 1 <= self.marks <= 10:
            raise Problem(f"{where}: a part has 1 to 10 marks, as a whole number.")

    def drawn_from(self, draw):
        """Return what is drawn for this part beside the numbers of the task; it counts as one of them."""
        return None


@dataclass(frozen=True, kw_only=True)
class Number(Asked):
    """A number with its unit, computed from the numbers and from the results of earlier parts.

    Parameters
    ----------
    name : str
        Name of the result, for later parts.
    compute : function of the numbers
        The key, in `unit`.
    unit : str
        Stated in the prompt; "" for a plain number.
    band : pair of float
        Where the keys of all candidates lie.
    working : str
        How it is worked; {key} is the result with its unit.
    tolerance_why : str
        Why answers this far off still count.
    relative_tolerance, absolute_tolerance : float
        The accepted distance, the larger of the two.
    slips : sequence of Slip
        Typical slips.
    method_marks : int, optional
        Marks for right work from an earlier wrong value; all marks when not given.
    digits : int
        How many digits a candidate writes down and goes on with.
    also_unit : str
        Another unit in which the same number may be written, such as "mL per 100 g" where the prompt asks for mL and says "per 100 g".
    other_ways : sequence of function of the numbers
        Other right ways to the key, which use other earlier results; for work from an own earlier value.
    """

    name: str
    compute: Callable
    unit: str
    band: tuple
    working: str
    tolerance_why: str
    relative_tolerance: float = 0.01
    absolute_tolerance: float = 0.0
    slips: tuple = ()
    method_marks: int = None
    digits: int = 3
    also_unit: str = ""
    other_ways: tuple = ()

    kind = "number"

    def check(self, where):
        """Refuse a part that cannot be marked."""
        super().check(where)
        least, most = self.band
        if not 0 < least < most <= drawing.WIDEST_BAND * least:
            raise Problem(f"{where}: the band goes from above 0 to at most {drawing.WIDEST_BAND:g} times that.")
        if self.method_marks is not None and not 0 < self.method_marks <= self.marks:
            raise Problem(f"{where}: method marks are a part of the marks.")

    def tolerance(self, value):
        """Return the accepted distance from a value."""
        return max(self.relative_tolerance * abs(value), self.absolute_tolerance)

    def result(self, numbers):
        """Return the result for these numbers and earlier results."""
        value = self.compute(numbers)
        return float(value.item() if hasattr(value, "item") else value)


@dataclass(frozen=True, kw_only=True)
class Coded(Number):
    """A number that the candidate works out in code: what the code prints last is the answer."""

    kind = "code"


@dataclass(frozen=True, kw_only=True)
class OneOf(Asked):
    """One right option among those shown; see `quiz.questions.Option`.

    Parameters
    ----------
    options : sequence of Option
        All there are. Whether one is right may depend on the numbers and on earlier results.
    shown : int
        How many are shown: one right one, drawn where several are, and others.
    """

    options: tuple
    shown: int = 4

    kind = "choice"

    def drawn_from(self, draw):
        """Return the order in which options are taken until enough are shown."""
        if all(not callable(option.correct) for option in self.options) and len(self.options) > self.shown:
            right = draw.choice([place for place, option in enumerate(self.options) if option.correct])
            wrong = draw.sample([place for place, option in enumerate(self.options) if not option.correct], self.shown - 1)
            return [right, *sorted(wrong)]
        return list(range(len(self.options)))


@dataclass(frozen=True, kw_only=True)
class AllThatApply(Asked):
    """Every option is judged, true or not; half judged correctly is what guessing gives and earns nothing.

    Parameters
    ----------
    options : sequence of Option
        All there are.
    shown : int
        How many are shown; at least two of them apply and two do not.
    """

    options: tuple
    shown: int = 5

    kind = "several"

    def drawn_from(self, draw):
        """Return the places of the options shown."""
        if len(self.options) <= self.shown or any(callable(option.correct) for option in self.options):
            return list(range(len(self.options)))
        right = [place for place, option in enumerate(self.options) if option.correct]
        wrong = [place for place, option in enumerate(self.options) if not option.correct]
        many = draw.randint(max(2, self.shown - len(wrong)), min(len(right), self.shown - 2))
        return sorted(draw.sample(right, many) + draw.sample(wrong, self.shown - many))


@dataclass(frozen=True, kw_only=True)
class InOrder(Asked):
    """Steps to be put in order.

    Parameters
    ----------
    steps : sequence of Place
        All there are, in the right order; `shown` of them are drawn.
    shown : int
        How many are shown.
    """

    steps: tuple
    shown: int = 5

    kind = "order"

    def drawn_from(self, draw):
        """Return the places of the steps shown."""
        return sorted(draw.sample(range(len(self.steps)), min(self.shown, len(self.steps))))


@dataclass(frozen=True)
class Demand:
    """One thing that a recipe is asked for: words, whether a mix meets it, what the library says of the mix, and its marks."""

    words: str
    holds: Callable                # function of the Mix and the numbers
    said: Callable                 # the same, a sentence
    marks: int = 1
    leans_on: str = ""             # the quantity of the library that decides, if one does
    needed: bool = False           # without it the recipe earns nothing


@dataclass(frozen=True, kw_only=True)
class FillRecipe(Asked):
    """A recipe to be filled in; the library makes the mix and looks whether it does what is asked.

    Parameters
    ----------
    fields : sequence of str
        What is to be filled in, keys of `RECIPE_FIELDS`.
    demands : sequence of Demand
        Their marks add up to the marks of the part.
    solution : function of the numbers
        A recipe that meets every demand, found with the library.
    given : mapping
        What the task gives: values, or functions of the numbers.
    slips : sequence of (function of the numbers, str)
        Recipes that typical slips lead to, and why.
    """

    fields: tuple
    demands: tuple
    solution: Callable
    given: Mapping = field(default_factory=dict)
    slips: tuple = ()

    kind = "recipe"

    def check(self, where):
        """Refuse a part that cannot be marked."""
        super().check(where)
        if sum(demand.marks for demand in self.demands) != self.marks:
            raise Problem(f"{where}: the marks of the demands add up to the marks of the part.")


@dataclass(frozen=True, kw_only=True)
class InWords(Asked):
    """An answer in words, marked by hand: `look_for` is what the assessor looks for, a line for each mark."""

    look_for: tuple

    kind = "words"

    def check(self, where):
        """Refuse a part that cannot be marked."""
        super().check(where)
        if len(self.look_for) < self.marks:
            raise Problem(f"{where}: say for each mark what to look for.")


# ---------------------------------------------------------------------------------------------
# The task

@dataclass(frozen=True, kw_only=True)
class Task:
    """A task written once; every candidate gets numbers of their own.

    Parameters
    ----------
    id : str
        ``"T02-1"``: lesson and number, never used again for another task.
    objective : str
        Id of the objective it tests, as in `quiz.bank.objectives`.
    level : str
        One of `LEVELS`.
    difficulty : float
        The share of the marks that candidates are expected to reach, 0 to 1.
    title : str
        Stands above it in the paper.
    text : str
        The situation, with the drawn numbers in braces.
    parts : sequence of Asked
        One to eight.
    parameters : function of a ``random.Random``
        Draws the numbers.
    digits : mapping of str to int
        How many significant digits each drawn number has, the same for everybody; computed ones may be named as well.
    computed : mapping of str to function of the numbers
        Further numbers that the texts name.
    trusted : function of the numbers, optional
        The predictions that the task stands on: all must lie where the library may be trusted.
    clear : function of the numbers, optional
        Whether a judgement asked for is clear, not on the edge.
    """

    id: str
    objective: str
    level: str
    difficulty: float
    title: str
    text: str
    parts: tuple
    parameters: Callable = lambda draw: {}
    digits: Mapping = field(default_factory=dict)
    computed: Mapping = field(default_factory=dict)
    trusted: Callable = None
    clear: Callable = None

    def __post_init__(self):
        if not re.fullmatch(r"T\d{2}-\d+", self.id):
            raise Problem(f"{self.id!r} is not a task id: write one like T02-1.")
        if self.level not in LEVELS:
            raise Problem(f"{self.id}: the level is one of {', '.join(LEVELS)}.")
        if not 0.05 <= self.difficulty <= 0.95:
            raise Problem(f"{self.id}: the share of marks expected lies between 0.05 and 0.95.")
        if not 1 <= len(self.parts) <= len(PART_LABELS):
            raise Problem(f"{self.id}: a task has one to {len(PART_LABELS)} parts.")
        for label, part in zip(PART_LABELS, self.parts):
            part.check(f"{self.id} ({label})")

    @cached_property
    def read_names(self):
        """The names of the numbers that a candidate reads."""
        texts = [self.text, *(part.prompt for part in self.parts)]
        return {name for text in texts for _, name, _, _ in string.Formatter().parse(text) if name}

    @property
    def marks(self):
        """Marks of all parts."""
        return sum(part.marks for part in self.parts)

    @property
    def lesson(self):
        """Number of the lesson, ``"02"``."""
        return self.id[1:3]

    def drawn(self, seed):
        """Return the task with the numbers of one candidate.

        Parameters
        ----------
        seed : str or int
            As from `drawing.seed_for`, or the seed of a DrawnTask, which gives the same again at once.

        Returns
        -------
        DrawnTask

        Raises
        ------
        Problem
            When no fair set of numbers is found.
        """
        base, set_name, attempt = drawing.read_seed(seed)
        if attempt is not None:
            return self._drawn(*self._tried(base, attempt), f"{base}.{set_name}.{attempt}" if set_name else f"{base}.{attempt}")
        fault = "nothing was drawn"
        for attempt in range(DRAWS):
            numbers, picks = self._tried(base, attempt)
            fault = self.fault_of(numbers, picks, set_name)
            if fault is None:
                return self._drawn(numbers, picks, f"{base}.{set_name}.{attempt}" if set_name else f"{base}.{attempt}")
        raise Problem(f"{self.id}: no fair set of numbers was found; the last was refused since {fault}")

    def _tried(self, base, attempt):
        """Return the numbers and the picks of one attempt, fair or not."""
        source = random.Random(f"{self.id}/{base}/{attempt}")
        numbers = draw(lambda _: self.parameters(source), {}, 0)
        return numbers, [part.drawn_from(source) for part in self.parts]

    def named(self, numbers):
        """Return the numbers that the texts may name: the drawn ones and those computed of them."""
        return draw(numbers, self.computed, 0)

    def fault_of(self, numbers, picks, set_name=None):
        """Return in words why these numbers would not be fair, or None.

        Parameters
        ----------
        numbers : mapping
            The drawn numbers.
        picks : list
            What was drawn for the parts.
        set_name : str, optional
            The set that they have to belong to.

        Returns
        -------
        str or None
        """
        if set_name is not None and drawing.set_of(self.id, [dict(numbers), picks]) != set_name:
            return "they belong to the other set."
        named = self.named(numbers)
        fault = drawing.fault_of_given({**numbers, **{name: named[name] for name in self.digits}}, self.digits)
        if fault:
            return fault
        if self.trusted and not all(one.value is not None and bool(one.valid) for one in self.trusted(named)):
            return "the library is not made for them."
        given = {name: one for name, one in named.items() if name in self.read_names}
        known, rounded = Numbers(named), Numbers(named)
        for part in self.parts:
            if not isinstance(part, Number):
                continue
            key = part.result(known)
            fault = (drawing.fault_of_result(key, part.band, given, part.tolerance(key), part.digits)
                     or drawing.fault_of_slips(key, part.tolerance(key), [float(slip.value(known)) for slip in part.slips], part.tolerance))
            on_the_way = part.result(rounded)
            if not fault and abs(on_the_way - key) > 0.6 * part.tolerance(key):
                fault = f"who rounds on the way gets {on_the_way:g} in place of {key:g}."
            if fault:
                return fault
            known[part.name], rounded[part.name] = key, drawing.written_down(on_the_way, part.digits)
        if self.clear and not self.clear(known):
            return "the judgement lies on an edge."
        return None

    def _drawn(self, numbers, picks, seed):
        named, parts = self.named(numbers), []
        known = Numbers(named)
        for label, asked, pick in zip(PART_LABELS, self.parts, picks):
            parts.append(_PARTS[type(asked)](self, label, asked, named, Numbers(known), pick, seed))
            if isinstance(asked, Number):
                known[asked.name] = parts[-1].question.value
        return DrawnTask(self.id, seed, self.title, fill(self.text, named), tuple(parts), dict(numbers), picks)


# ---------------------------------------------------------------------------------------------
# The parts with the numbers of one candidate

class Part:
    """One part as a candidate reads it, and as it is marked.

    `label` is "a", "b" …; `lines` are the options, steps or blanks below the prompt; `key` is a right answer as a candidate types it.
    """

    def __init__(self, task, label, asked, named, known, pick, seed):
        self.task, self.label, self.asked, self.named, self.known, self.pick = task, label, asked, named, known, pick
        self.kind, self.marks = asked.kind, asked.marks
        self.prompt = fill(asked.prompt, named)
        self.id = f"{task.id}-{label}"
        self.shuffle = f"/{seed}"
        self.lines = ()
        self.make()

    def make(self):
        """Make what is shown and what judges."""

    @property
    def key(self):
        """A right answer as a candidate types it."""
        raise NotImplementedError

    @property
    def working(self):
        """How the right answer is found, in words."""
        return ""

    def slips(self):
        """Return typical wrong answers with the reason that is given for each, as (text, why) pairs."""
        return []

    def read(self, text):
        """Return the answer in a text, without the marks of typing; empty where nothing was written."""
        return plain(text)

    def mark(self, answer, own):
        """Return the PartMark of an answer; `own` are the results with the candidate's earlier values, None where they are ours."""
        raise NotImplementedError

    @property
    def right(self):
        """What a candidate reads beside lost marks: the right answer, and how it is found."""
        return ""

    def value(self, answer):
        """Return the number of an answer, in the unit asked for, or None."""
        return None

    def given(self, marks, why, **rest):
        """Return a PartMark of this part."""
        return PartMark(self.label, marks, self.marks, " ".join(why.split("\n")).strip(), **rest)

    def _shared(self, prompt=None):
        return {"id": self.id, "objective": self.task.objective, "prompt": prompt or self.asked.prompt, "shuffle": self.shuffle,
                "explanation": "The explanation stands with each option."}


class NumberPart(Part):
    """A number with its unit."""

    def make(self):
        """Make the question that judges."""
        self.question = self._question(self.known, self.asked.slips, self.asked.absolute_tolerance)

    def _question(self, numbers, slips, absolute_tolerance, key=None):
        asked = self.asked
        return NumberWithUnit(
            **{**self._shared(), "explanation": asked.working}, parameters=dict(numbers), key=key or asked.result, unit=asked.unit, slips=slips, relative_tolerance=asked.relative_tolerance,
            absolute_tolerance=absolute_tolerance, tolerance_why=asked.tolerance_why)

    @property
    def key(self):
        """The key with its unit, in four digits."""
        return say_quantity(self.question.value, self.asked.unit and self.question.unit_wanted, 4).replace(" × 10^", "e")

    @property
    def working(self):
        """How it is worked."""
        return self.question.shown_explanation

    @property
    def right(self):
        """How it is worked, with the candidate's numbers."""
        return f"Worked: {self.working}"

    def slips(self):
        """Return what each slip leads to."""
        return [(say_quantity(value, self.asked.unit and self.question.unit_wanted, 6).replace(" × 10^", "e"), fill(slip.why, self.question.numbers))
                for slip, value in self.question.slip_values]

    def read(self, text):
        """Return the last line that is not empty, from its last equals sign on."""
        lines = [line for line in without_formula_signs(plain(text)).split("\n") if line.strip()]
        return _BULLET.sub("", lines[-1].rpartition("=")[2]).strip() if lines else ""

    def understood(self, typed):
        """Return what was read as a number with its unit alone, where words around it leave one way to read it, else the text itself.

        Parameters
        ----------
        typed : str
            As from `read`.

        Returns
        -------
        str
        """
        number = sole_number(typed)
        for text in (typed, number and f"{number[0]} {number[1]}".strip()):
            plainly = text and (self._in_the_unit(text) or self._in_the_unit(self._one_comma(text)))
            if plainly and (text == typed or number[1] or not number[2] or not self.asked.unit):
                return plainly
        return typed

    def _in_the_unit(self, text):
        """Return a text that reads as a number in the unit asked for, or None."""
        try:
            read = read_number(text)
        except Problem:
            return None
        if read.unit is None or read.unit.kind == self.question.unit_wanted.kind:
            return text
        if self.asked.also_unit and read.unit.kind == find_unit(self.asked.also_unit).kind:
            return f"{read.in_unit(find_unit(self.asked.also_unit)):.10g} {self.asked.unit}"
        return None

    def _one_comma(self, text):
        """Return "1,318" as the number that can be meant: one of its two readings is a thousand times off."""
        found = re.match(r"[1-9]\d{0,2},\d{3}(?![\d.,])", text)
        if not found:
            return text
        def off(number):
            return abs(math.log(read_number(number + text[found.end():]).in_unit(self.question.unit_wanted) / self.question.value))
        try:
            return min(found.group().replace(",", "."), found.group().replace(",", ""), key=off) + text[found.end():]
        except Problem:
            return text

    def value(self, answer):
        """Return the number typed, in the unit asked for, or None."""
        try:
            value = read_number(self.understood(self.read(answer))).in_unit(self.question.unit_wanted)
        except Problem:
            return None
        return value if math.isfinite(value) else None

    def mark(self, answer, own):
        """Judge the number, and work it again from the candidate's own earlier values where it is not right."""
        typed = self.read(answer)
        plainly = self.understood(typed)
        marked = self.question.mark(plainly)
        read = "" if plainly == typed else f"Read as {plainly}. "
        if marked.correct:
            return self.given(self.marks, read + marked.feedback, answer=typed, chosen=KEY)
        follows = own is not None and self._follows(plainly, own)
        if follows:
            earned = self.marks if self.asked.method_marks is None else self.asked.method_marks
            why = (f"{read}Rightly worked from your own earlier value, which gives {follows}: the marks for the method are kept. "
                   f"With the right value it would be {self.question.say(self.question.value)}.")
            return self.given(earned, why, answer=typed, followed_through=True)
        chosen = next((f"slip {place + 1}" for place, slip in enumerate(self.asked.slips) if marked.slip == fill(slip.why, self.question.numbers)), OTHER)
        return self.given(0, read + _why_not(marked), slip=marked.slip, answer=typed, chosen=chosen, by_hand=bool(read))

    def _follows(self, typed, own):
        """Return in words the result that follows from the candidate's own values when the answer agrees with it, else None."""
        for way in (self.asked.result, *self.asked.other_ways):
            try:                             # what follows may be a small number, beside which the tolerance would be wide
                near = min(self.asked.absolute_tolerance, NEAR_OWN * abs(way(own)))
                again = self._question(own, (), near, way)
                if again.mark(typed).correct:
                    return again.say(again.value)
            except (Problem, ArithmeticError, ValueError):      # their value leads to no number: nothing can follow from it
                continue
        return None


class CodePart(NumberPart):
    """A number that code prints: the answer is what was printed."""

    @property
    def key(self):
        """Code that prints the key."""
        return f"{self.question.value:.6g}"


class ChoicePart(Part):
    """One of the options."""

    def make(self):
        """Make the question and its lettered lines; an option may not name a result."""
        self.question = self._question(self.known)
        for place in self.pick:
            fill(self.asked.options[place].text, self.named)
        self.lines = tuple(f"{option.letter}. {option.text}" for option in self.question.shown_options)

    def _question(self, numbers):
        return Choice(**self._shared(), parameters=dict(numbers), options=tuple(self.asked.options[place] for place in self.pick))

    @property
    def key(self):
        """The letter of the right option."""
        return next(option.letter for option in self.question.shown_options if option.correct)

    @property
    def working(self):
        """Why the right option is right."""
        return next(option.why for option in self.question.shown_options if option.correct)

    @property
    def right(self):
        """The letters of what is right, and why."""
        return f"Right: {self.key}. {self.working}"

    def slips(self):
        """Return every wrong option with its why."""
        return [(option.letter, option.why) for option in self.question.shown_options if not option.correct]

    def read(self, text):
        """Return the letter where one is written, else the text."""
        return letters_of(plain(text))

    def _place(self, text):
        """Return which option of the bank a shown text is, counted from 1."""
        return next(place + 1 for place in self.pick if fill(self.asked.options[place].text, self.known) == text)

    def mark(self, answer, own):
        """Judge the option, also from the candidate's own earlier values."""
        typed = self.read(answer)
        marked = self.question.mark(typed)
        letter = self.question.option(typed).letter
        chosen = f"option {self._place(marked.answer)}"
        said = {"answer": f"{letter}. {marked.answer}", "chosen": KEY if marked.correct else chosen}
        if marked.correct:
            return self.given(self.marks, marked.feedback, **said)
        if own is not None and self._follows(letter, own):
            return self.given(self.marks, "Rightly judged from your own earlier value: the marks for the method are kept.", followed_through=True, **said)
        return self.given(0, _why_not(marked), slip=marked.slip, **said)

    def _follows(self, letter, own):
        try:
            return self._question(own).mark(letter).correct
        except Problem:
            return False


class SeveralPart(ChoicePart):
    """All options that apply."""

    def _question(self, numbers):
        return SeveralChoices(**self._shared(), parameters=dict(numbers), options=tuple(self.asked.options[place] for place in self.pick))

    @property
    def key(self):
        """The letters of all options that apply."""
        return ", ".join(option.letter for option in self.question.shown_options if option.correct)

    @property
    def working(self):
        """Why each option that applies does."""
        return " ".join(f"{option.letter}: {option.why}" for option in self.question.shown_options if option.correct)

    def slips(self):
        """Return each wrong judgement of one option alone."""
        found = []
        for option in self.question.shown_options:
            ticked = [one.letter for one in self.question.shown_options if one.correct != (one is option)]
            if ticked:
                found.append((", ".join(ticked), option.why))
        return found

    def mark(self, answer, own):
        """Judge every option; half judged correctly is guessing."""
        typed = self.read(answer)
        marked = self.question.mark(typed)
        places = sorted(self._place(text) for text in marked.answer)
        said = {"answer": typed, "chosen": KEY if marked.correct else "options " + " ".join(map(str, places))}
        if marked.correct:
            return self.given(self.marks, marked.feedback, **said)
        earned = math.floor(self.marks * max(0.0, 2.0 * marked.fraction - 1.0) + 1e-9)
        why = _why_not(marked)
        return self.given(earned, why + (" Half judged correctly is what guessing gives, and earns nothing." if marked.fraction <= 0.5 else ""), slip=marked.slip, **said)


class OrderPart(Part):
    """Steps in their order."""

    def make(self):
        """Make the question and its lettered lines."""
        self.question = PutInOrder(**self._shared(), parameters=dict(self.known), steps=tuple(self.asked.steps[place] for place in self.pick))
        self.lines = tuple(f"{letter}. {text}" for letter, text in zip(LETTERS, self.question.shown_steps))

    def _letters(self, texts):
        return " ".join(LETTERS[self.question.shown_steps.index(text)] for text in texts)

    @property
    def key(self):
        """The letters in the right order."""
        return self._letters(self.question.right_order)

    @property
    def right(self):
        """The letters in the right order."""
        return f"Right order: {self.key}."

    @property
    def working(self):
        """Why each step stands where it stands."""
        return " ".join(f"{place}. {text} {fill(self.asked.steps[step].why, self.known)}" for place, (text, step) in
                        enumerate(zip(self.question.right_order, self.pick), start=1))

    def slips(self):
        """Return every order in which two neighbours are swapped."""
        right, found = list(self.question.right_order), []
        for place in range(len(right) - 1):
            swapped = [*right[:place], right[place + 1], right[place], *right[place + 2:]]
            found.append((self._letters(swapped), self.question.mark(swapped).feedback))
        return found

    def read(self, text):
        """Return the letters."""
        return letters_of(plain(text))

    def mark(self, answer, own):
        """Judge the order by the steps in their own place, or by the longest run that goes on correctly, whichever is more.

        Who puts one step wrong shifts others: these still follow each other as they should. Marks go with the share, rounded down; full marks
        are for the whole order.
        """
        typed = self.read(answer)
        marked = self.question.mark(typed)
        if marked.correct:
            return self.given(self.marks, marked.feedback, answer=typed, chosen=KEY)
        many = len(self.pick)
        stand, run = round(marked.fraction * many), longest_run([self.question.right_order.index(text) for text in marked.answer])
        earned = min(self.marks * max(stand, run) // many, self.marks - 1)
        row = f"; {run} follow each other correctly" if run > max(stand, 1) else ""
        why = f"{stand} of {many} steps stand in their place{row}. {_why_not(marked)}"
        return self.given(earned, why, slip=why, answer=typed)


def _why_not(marked):
    """Return the feedback of an answer that is not right, without the words that invite to try again: a paper is answered once."""
    return marked.feedback.removeprefix(f"{NOT_YET} ")


def longest_run(places):
    """Return how many steps, of those that stand next to each other, go on as they should at most.

    Parameters
    ----------
    places : sequence of int
        The right place of each step, in the order of the answer.

    Returns
    -------
    int

    Examples
    --------
    >>> longest_run([4, 0, 1, 2, 3]), longest_run([1, 0, 2, 3]), longest_run([2, 1, 0])
    (4, 2, 1)
    """
    longest = now = 1
    for before, after in zip(places, places[1:]):
        now = now + 1 if after == before + 1 else 1
        longest = max(longest, now)
    return longest


# How a recipe is asked for on a paper: the words of each line, and the unit of its number.
RECIPE_FIELDS = {"powder": ("powder", None), "powder_g": ("powder in g", "g"), "water_ml": ("water in mL", "mL"), "mixing": ("way of mixing", None)}


class RecipePart(Part):
    """A recipe to be filled in."""

    def make(self):
        """Make the blanks."""
        self.lines = tuple(f"{RECIPE_FIELDS[name][0]}:" for name in self.asked.fields)

    def _form(self, recipe):
        said = {name: one if isinstance(one, str) else f"{one:.6g} {RECIPE_FIELDS[name][1]}" for name, one in recipe.items()}
        return "\n".join(f"{RECIPE_FIELDS[name][0]}: {said[name]}" for name in self.asked.fields)

    @property
    def key(self):
        """A recipe that does what is asked; many others do."""
        return self._form(self.asked.solution(self.known))

    @property
    def working(self):
        """What is asked of the recipe, and one that does it."""
        return f"One of many right recipes: {self.key.replace(chr(10), ', ')}."

    def slips(self):
        """Return the recipes of typical slips."""
        return [(self._form(recipe(self.known)), why) for recipe, why in self.asked.slips]

    def read(self, text):
        """Return the lines, or nothing where no blank is filled in."""
        lines = [re.sub(r"^\s*(?:[-+•]|\d+[.)])\s*", "", line).strip() for line in plain(text).split("\n")]
        lines = [line for line in lines if line]
        filled = [line for line in lines if re.search(r"[:=\d]", line)]        # a sentence beside the lines fills in nothing
        lines = filled if len(filled) >= len(self.lines) else lines
        return "" if all(_BLANK.search(line) for line in lines) else "\n".join(lines)

    def recipe(self, answer):
        """Return what was filled in, with what the task gives, as arguments of `Recipe.weighed`, or raise a Problem."""
        filled, words = {}, {RECIPE_FIELDS[name][0].lower(): name for name in self.asked.fields}
        for line in self.read(answer).split("\n"):
            before, mark, after = re.match(r"([^:=]*)([:=]?)(.*)", line, re.S).groups()
            name = words.get(" ".join(before.lower().split()))
            if not mark or name is None:
                guess = nearest(before, words)
                raise Problem(f"“{line[:40]}” is not a line of the recipe: begin with one of {', '.join(RECIPE_FIELDS[one][0] for one in self.asked.fields)}"
                              + (f"; perhaps “{RECIPE_FIELDS[words[guess]][0]}” is meant." if guess else "."))
            if name in filled:
                raise Problem(f"The line “{before.strip()}” stands there twice.")
            filled[name] = after.strip()
        for name in self.asked.fields:
            if not filled.get(name):
                raise Problem(f"The line “{RECIPE_FIELDS[name][0]}” is not filled in.")
            unit = RECIPE_FIELDS[name][1]
            filled[name] = read_number(filled[name]).in_unit(find_unit(unit)) if unit else find_powder(filled[name]).name if name == "powder" \
                else find_mixing(filled[name])
        given = {name: one(self.known) if callable(one) else one for name, one in self.asked.given.items()}
        return {**given, **filled}

    def mark(self, answer, own):
        """Make the mix and look at every demand."""
        typed = self.read(answer)
        recipe = self.recipe(answer)
        slip = next((f"slip {place + 1}" for place, (wrong, _) in enumerate(self.asked.slips) if _same_recipe(recipe, wrong(self.known))), None)
        slip_why = self.asked.slips[int(slip[5:]) - 1][1] if slip else None
        said = {"slip": slip_why, "answer": typed.replace("\n", "; ")}
        try:
            mix = mix_of(**recipe)
        except Problem as problem:
            return self.given(0, f"{slip_why or ''} {problem}", chosen=slip or OTHER, **said)
        earned, whys, lacking = 0, [], False
        for demand in self.asked.demands:
            met = bool(demand.holds(mix, self.known))
            earned += demand.marks if met else 0
            lacking = lacking or demand.needed and not met
            whys.append(f"{fill(demand.words, self.known)}: {'met' if met else 'not met'}, {demand.said(mix, self.known)}.")
        earned = 0 if lacking else earned
        whys = ([slip_why] if slip_why and earned < self.marks else []) + whys
        doubts = [doubt for doubt in (getattr(mix, demand.leans_on).reason for demand in self.asked.demands if demand.leans_on) if doubt]
        if doubts:
            whys.append(f"The library is not made for this mix ({doubts[0]}): the assessor looks at it.")
        return self.given(earned, " ".join(whys), chosen=KEY if earned == self.marks else slip or OTHER, by_hand=bool(doubts), **said)


def _same_recipe(one, other):
    return all(name in one and (one[name] == value if isinstance(value, str) else abs(one[name] - value) <= 0.01 * abs(value)) for name, value in other.items())


@remembered(4096)
def mix_of(powder, powder_g, water_ml, **rest):
    """Return the Mix of what was weighed and measured, kept, since many candidates weigh the same."""
    return Mix(Recipe.weighed(powder, powder_g, water_ml, **rest))


class WordsPart(Part):
    """Words, marked by hand."""

    @property
    def key(self):
        """What the assessor looks for."""
        return " ".join(self.asked.look_for)

    @property
    def working(self):
        """What the assessor looks for."""
        return self.key

    def mark(self, answer, own):
        """Hand the answer to the assessor."""
        typed = self.read(answer)
        return self.given(0, f"{BY_HAND_WHY}{LOOK_FOR}{' '.join(fill(one, self.known) for one in self.asked.look_for)}", by_hand=True, answer=typed,
                          chosen="by hand")


_PARTS = {Number: NumberPart, Coded: CodePart, OneOf: ChoicePart, AllThatApply: SeveralPart, InOrder: OrderPart, FillRecipe: RecipePart, InWords: WordsPart}


# ---------------------------------------------------------------------------------------------
# What was typed

_DRESSING = re.compile(r"\*\*|__|`|^\s*>+\s?|^#+\s+|\\(?=[^\w\s,;!])", re.M)
_NO_ANSWER, _BLANK = re.compile(r"[\s?.…\-–—_/*]+"), re.compile(r"[:=][\s?.…\-–—_/*]*$")       # signs that stand for nothing, alone or in a line of a recipe


def plain(text):
    """Return a typed answer without the signs that only dress it up, in Markdown or out of it.

    Parameters
    ----------
    text : str or None
        What stands in the answer cell.

    Returns
    -------
    str
    """
    text = str(text or "")[:LONGEST_READ].replace("\r\n", "\n").replace("\r", "\n").replace("\N{NO-BREAK SPACE}", " ")
    text = _DRESSING.sub("", text)
    lines = [re.sub(r"^\s*\$(.*)\$\s*$|^\s*_(.*)_\s*$|^\s*\*(.*)\*\s*$", lambda found: next(filter(None, found.groups()), ""), line).strip() for line in text.split("\n")]
    return "\n".join(lines).strip()


_BULLET = re.compile(r"^\s*[-+•]\s+(?=\S)")                # a list in Markdown: no minus
_FORMULA_WORD = re.compile(r"\\(?:mathrm|textrm|text|mbox|rm)\s*\{([^{}]*)\}")
_A_NUMBER = re.compile(r"(?<![\w.,/^])[+-]?\d[\d.,]*(?<![.,])(?:[eE][+-]?\d+)?")
_NO_ASSERTION = re.compile(r"\b(?:not|no|never|isn.?t|or|between|less|more|under|over|below|above|least|most|than|minus|from|to|wrong)\b|[<>±?×*÷+^~–—]|\d\s*[-/]\s*\d", re.I)


def without_formula_signs(text):
    """Return a text without the signs of a formula in dollar signs and without the bars of a table: "$59.5$ g" is 59.5 g.

    Parameters
    ----------
    text : str
        As from `plain`.

    Returns
    -------
    str
    """
    text = re.sub(r"\\[ ,;!]", " ", re.sub(r"\$([^$\n]*)\$", r"\1", text))
    text = re.sub(r"\^\s*\{?\s*(\d)\s*\}?", r"^\1", _FORMULA_WORD.sub(r" \1", text))
    return "\n".join(line.strip(" |\t") for line in text.split("\n"))


def sole_number(text):
    """Return the one number that a sentence states, its unit, and the words after it where no unit is known; None where there is a choice or a doubt.

    Parameters
    ----------
    text : str
        Such as "The answer is 126 g.", "3 impressions" or "173.9 mL (because it is per 100 g)".

    Returns
    -------
    tuple of str or None
        Number, unit and words, all as written; "" where there are none.

    Examples
    --------
    >>> sole_number("So we need 63.97 mL of water.")
    ('63.97', 'mL of water', '')
    >>> sole_number("3 impressions"), sole_number("not 12 g"), sole_number("12 g or 13 g")
    (('3', '', 'impressions'), None, None)
    """
    text = re.sub(r"\s*\([^()]*\)\s*\.?\s*$", "", text)
    found = [one for one in _A_NUMBER.finditer(text) if not re.search(r"(?:/|\bper)\s*$", text[:one.start()])]
    if len(found) != 1 or _NO_ASSERTION.search(text):
        return None
    words = text[found[0].end():].split()
    for many in range(len(words), 0, -1):
        unit = " ".join(words[:many]).rstrip(".,;:!")
        try:
            find_unit(unit)
        except Problem:
            continue
        return found[0].group(), unit, ""
    return found[0].group(), "", " ".join(words).strip(" .,;:!")


def letters_of(text):
    """Return the letters of options as "A, C" where that is what a text says, else the text.

    Parameters
    ----------
    text : str
        Such as "b", "(B)", "B.", "B. The small batch", "A and C", "A > C > B", one letter a line.

    Returns
    -------
    str
    """
    one = re.fullmatch(r"\(?([A-Ha-h])(?:[.):]\s*\S.*|\s+[-–—]\s+\S.*)", text.strip())
    if one and "\n" not in text.strip():
        return one.group(1).upper()
    tidy = re.sub(r"[()\[\].:]", " ", re.sub(r"->|=>|[→>,;/&+–—-]|\band\b|\bthen\b", " ", text))
    found = tidy.split()
    if len(found) == 1 and re.fullmatch(r"[A-Ha-h]{2,8}", found[0]) and len(set(found[0].upper())) == len(found[0]) and found[0] == found[0].upper():
        found = list(found[0])
    if found and all(re.fullmatch(r"[A-Ha-h]", one) for one in found):
        return ", ".join(one.upper() for one in found)
    return text.strip()


# ---------------------------------------------------------------------------------------------
# The drawn task

@dataclass(frozen=True)
class DrawnTask:
    """A task with the numbers of one candidate: `seed` draws it again, `numbers` and `picks` are what was drawn."""

    task_id: str
    seed: str
    title: str
    text: str
    parts: tuple
    numbers: Mapping = field(default_factory=dict)
    picks: list = field(default_factory=list)

    @property
    def marks(self):
        """Marks of all parts."""
        return sum(part.marks for part in self.parts)

    def keys(self):
        """Return a right answer to every part, by label, as a candidate types it."""
        return {part.label: part.key for part in self.parts}

    def mark(self, answers, by_hand=None):
        """Mark the answers of one candidate to this task.

        Parameters
        ----------
        answers : mapping of str to str
            By label. For code it is what the code printed. A label that is missing was not answered.
        by_hand : mapping of str to str, optional
            Labels of parts that cannot be marked here, such as code that was not run, and why.

        Returns
        -------
        tuple of PartMark
            One for each part, in order.
        """
        marks, theirs, differs = [], {}, False
        for part in self.parts:
            answer = answers.get(part.label)
            own = Numbers({**part.known, **theirs}) if differs else None
            marks.append(self._one(part, answer, own, (by_hand or {}).get(part.label)))
            value = part.value(answer) if isinstance(part.asked, Number) else None
            if value is not None:
                theirs[part.asked.name] = value
                differs = differs or marks[-1].chosen != KEY
        return tuple(marks)

    @classmethod
    def _one(cls, part, answer, own, why_by_hand):
        marked = cls._marked(part, answer, own, why_by_hand)
        if part.right and marked.marks < marked.out_of and not marked.followed_through and why_by_hand is None:
            return replace(marked, why=f"{marked.why} {' '.join(part.right.split())}".strip())
        return marked

    @staticmethod
    def _marked(part, answer, own, why_by_hand):
        if why_by_hand is not None:
            return part.given(0, BY_HAND_WHY + why_by_hand, by_hand=True, answer=plain(answer), chosen="by hand")
        if not part.read(answer) or _NO_ANSWER.fullmatch(plain(answer)):
            return part.given(0, "No answer was given.", chosen=NOTHING, answer=plain(answer))
        try:
            return part.mark(answer, own)
        except Problem as problem:
            return part.given(0, NOT_READ_WHY + str(problem), by_hand=True, answer=plain(answer))
