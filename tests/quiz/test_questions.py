"""The four kinds of question: what they refuse when written, and how they are marked."""

import dataclasses
import math

import pytest

from gypsumkit.problems import Problem
from gypsumkit.quiz.questions import Choice, NumberWithUnit, Option, Place, PutInOrder, SeveralChoices, Slip, fill
from tests.quiz.demo_bank.lesson_02 import LONG, ORDER, POROUS, RATIO, SEVERAL, WATER

WHY = "This is why it is so."


def choice(**changes):
    parts = dict(id="L09-Q1", objective="L09-O1", prompt="Which of these holds here?", explanation="Because it was built so.",
                 options=(Option("one", WHY, True), Option("two", WHY), Option("three", WHY)))
    return Choice(**{**parts, **changes})


def number(**changes):
    parts = dict(id="L09-Q2", objective="L09-O1", prompt="How much water in mL for {powder_g} g?", explanation="It comes to {key} here.",
                 parameters={"powder_g": 200.0}, key=lambda p: p.powder_g * 0.5, unit="mL", relative_tolerance=0.02,
                 tolerance_why="read to about two per cent.")
    return NumberWithUnit(**{**parts, **changes})


def order(**changes):
    parts = dict(id="L09-Q3", objective="L09-O1", prompt="In which order is it done?", explanation="Because it was built so.",
                 steps=(Place("first", WHY), Place("second", WHY), Place("third", WHY)))
    return PutInOrder(**{**parts, **changes})


# Written wrongly ----------------------------------------------------------------------------------

@pytest.mark.parametrize("write, says", [
    (lambda: choice(id="Q1"), "not a question id"),
    (lambda: choice(id="L9-Q1"), "not a question id"),
    (lambda: choice(objective="O1"), "not an objective id"),
    (lambda: choice(prompt="?"), "the prompt has fewer than"),
    (lambda: choice(explanation=""), "the explanation has fewer than"),
    (lambda: choice(options=(Option("one", WHY), Option("two", WHY), Option("three", WHY))), "has 0"),
    (lambda: choice(options=(Option("one", WHY, True), Option("two", WHY, True), Option("three", WHY))), "has 2"),
    (lambda: choice(options=(Option("one", WHY, True), Option("two", WHY))), "three or four options"),
    (lambda: choice(options=tuple(Option(f"{n}", WHY, n == 1) for n in range(5))), "three or four options"),
    (lambda: choice(options=(Option("one", WHY, True), Option("two", "no"), Option("three", WHY))), "the why of “two” has fewer"),
    (lambda: choice(options=(Option("one", WHY, True), Option("one", WHY), Option("three", WHY))), "the same text"),
    (lambda: choice(prompt="How many {grams} are there?"), "no number named 'grams'"),
    (lambda: number(prompt="How much water in mL for {powder} g?"), "do you mean 'powder_g'?"),
    (lambda: number(explanation="It comes to {key:.1f} in the end."), "cannot be filled in"),
    (lambda: number(key=100.0), "the key is typed in"),
    (lambda: number(key=lambda p: p.powder), "do you mean 'powder_g'?"),
    (lambda: number(key=lambda p: math.inf), "not a finite number"),
    (lambda: number(key=lambda p: "100"), "must be a number"),
    (lambda: number(key=lambda p: 1 / 0), "ZeroDivisionError"),
    (lambda: number(unit="furlong"), "is not a unit known here"),
    (lambda: number(relative_tolerance=0.0), "tolerance must be above zero"),
    (lambda: number(relative_tolerance=0.5), "at most 0.25"),
    (lambda: number(relative_tolerance=0.0001, key=lambda p: 123.456), "so tight"),
    (lambda: number(tolerance_why=""), "tolerance_why has fewer"),
    (lambda: number(slips=(Slip(lambda p: p.powder_g * 0.505, WHY),)), "which the tolerance accepts as right"),
    (lambda: number(slips=(Slip(lambda p: 50.0, WHY), Slip(lambda p: 50.0, WHY))), "two slips give the same number"),
    (lambda: number(slips=(Slip(lambda p: 50.0, "no"),)), "the why of the slip"),
    (lambda: number(slips=(Slip(lambda p: math.nan, WHY),)), "not a finite number"),
    (lambda: order(steps=(Place("first", WHY), Place("second", WHY))), "three to seven steps"),
    (lambda: order(steps=(Place("first", WHY), Place("first", WHY), Place("third", WHY))), "two steps have the same text"),
    (lambda: order(steps=(Place("first", ""), Place("second", WHY), Place("third", WHY))), "the why of “first”"),
    (lambda: SeveralChoices(**{**vars_of(choice()), "options": tuple(Option(t, WHY, True) for t in "abc")}), "at least one correct and one incorrect"),
])
def test_a_question_written_wrongly_is_refused(write, says):
    with pytest.raises(Problem) as caught:
        write()
    assert says in str(caught.value)


def vars_of(question):
    return {field.name: getattr(question, field.name) for field in dataclasses.fields(question)}


def test_the_refusal_names_the_question():
    with pytest.raises(Problem, match="L09-Q2"):
        number(key=lambda p: math.nan)


def test_questions_cannot_be_changed():
    with pytest.raises(dataclasses.FrozenInstanceError):
        WATER.prompt = "another"
    with pytest.raises(dataclasses.FrozenInstanceError):
        WATER.mark("44 mL").correct = True


# Choice -------------------------------------------------------------------------------------------

def test_each_option_gives_its_own_why():
    verdicts = {option.text: POROUS.mark(option.text) for option in POROUS.shown_options}
    assert [text for text, marked in verdicts.items() if marked.correct] == [LONG]
    for option in POROUS.shown_options:
        marked = verdicts[option.text]
        assert option.why in marked.feedback
        assert marked.feedback.startswith("Correct." if option.correct else "Not yet.")
        assert marked.fraction == (1.0 if option.correct else 0.0)
        assert marked.slip == (None if option.correct else option.why)
        assert POROUS.mark(option.letter) == POROUS.mark(option.letter.lower()) == marked
    assert len({marked.feedback for marked in verdicts.values()}) == 4


@pytest.mark.parametrize("answer, says", [(None, "Nothing is chosen yet"), ("", "Nothing is chosen yet"), ("E", "choose one of A to D"),
                                          ("<img src=x>", "not one of the options"), ("z" * 100_000, "not one of the options"), (3, "not one of the options")])
def test_no_option_is_a_problem(answer, says):
    with pytest.raises(Problem) as caught:
        POROUS.mark(answer)
    assert says in str(caught.value) and len(str(caught.value)) < 120


def test_the_correct_option_is_not_always_first_and_its_place_is_stable():
    places = [[option.correct for option in choice(id=f"L09-Q{n}").shown_options].index(True) for n in range(1, 61)]
    assert all(10 <= places.count(place) <= 30 for place in range(3))
    again = [[option.correct for option in choice(id=f"L09-Q{n}").shown_options].index(True) for n in range(1, 61)]
    assert places == again


def test_the_library_can_decide_which_option_is_correct():
    grows = choice(parameters=lambda draw: {"after": draw.choice([40, 60])}, options=(
        Option("more", WHY, lambda p: p.after > 50), Option("less", WHY, lambda p: p.after < 50), Option("the same", WHY)))
    keys = {grows.for_seed(seed).numbers.after: [o.text for o in grows.for_seed(seed).shown_options if o.correct] for seed in range(20)}
    assert keys == {40: ["less"], 60: ["more"]}


# Several choices ----------------------------------------------------------------------------------

def test_every_option_is_judged_ticked_or_not():
    marked = SEVERAL.mark(["Porosity", "Dry strength"])
    assert not marked.correct and marked.fraction == 0.5
    lines = marked.feedback.split("\n")
    assert lines[0] == "Not yet. You judged 2 of 4 options correctly."
    said = dict(zip([option.text for option in SEVERAL.shown_options], lines[1:]))
    assert "correctly ticked" in said["Porosity"]
    assert "ticked, but does not apply" in said["Dry strength"]
    assert "left out, but applies" in said["Spread in the ring test"]
    assert "correctly left out" in said["Theoretical water"]


def test_only_the_whole_right_set_is_correct():
    right = [option.letter for option in SEVERAL.shown_options if option.correct]
    for answer in (right, ", ".join(right), "".join(right).lower(), right[::-1]):
        assert SEVERAL.mark(answer).correct
    assert not SEVERAL.mark(right[:1]).correct
    assert not SEVERAL.mark("A B C D").correct


@pytest.mark.parametrize("answer", [None, "", [], ()])
def test_nothing_ticked_is_a_problem(answer):
    with pytest.raises(Problem, match="Nothing is ticked"):
        SEVERAL.mark(answer)


# Numbers ------------------------------------------------------------------------------------------

def test_the_key_is_computed_and_accepted_in_every_unit():
    for answer in ("100 mL", "100", "0,1 L", "100 cm³", "98.1 mL", "101.9", 100):
        assert number().mark(answer).correct, answer
    for answer in ("97.9 mL", "102.1 mL", "-100 mL", "0 mL", "1e9"):
        assert not number().mark(answer).correct, answer


def test_absolute_tolerance_counts_when_larger():
    loose = number(relative_tolerance=0.001, absolute_tolerance=5.0)
    assert loose.mark("104.9 mL").correct and not loose.mark("105.1 mL").correct


def test_a_bare_number_needs_a_prompt_that_states_the_unit():
    assert "Read as 100 mL, the unit asked for." in number().mark("100").feedback
    silent = number(prompt="How much water does this batch need?")
    with pytest.raises(Problem, match="“100” has no unit: write it as well, for example 100 mL"):
        silent.mark("100")
    assert silent.mark("100 mL").correct
    lookalike = number(prompt="How many mLx of water does it need?")
    with pytest.raises(Problem, match="has no unit"):
        lookalike.mark("100")


def test_slips_are_recognised_and_explained():
    upside_down, not_scaled = RATIO.slips
    assert upside_down.why in RATIO.mark("185 mL per 100 g").feedback
    assert RATIO.mark("27 mL per 100 g").slip == "That is the water for 50 g; the ratio is given for 100 g."
    assert RATIO.mark("60 mL per 100 g").slip is None
    assert "larger than what these numbers give" in RATIO.mark("60 mL per 100 g").feedback
    assert "smaller than what these numbers give" in RATIO.mark("40 mL per 100 g").feedback


def test_a_right_number_in_another_unit_is_recognised():
    share = number(prompt="Which share in % is water?", unit="%", key=lambda p: 42.0)
    assert "right in fraction; the question asks for %" in share.mark("0.42").feedback
    assert "right in fraction, but the unit written is %" in share.mark("0.42 %").feedback
    assert share.mark("0.42 as a fraction").correct
    assert "right in L; the question asks for mL" in number().mark("0.1").feedback


def test_an_accepted_answer_that_is_not_exact_says_the_exact_value():
    assert "The exact value is 100 mL" in number().mark("101 mL").feedback
    assert "The exact value" not in number().mark("100 mL").feedback


def test_plain_numbers_need_no_unit():
    times = number(prompt="How many times as strong is it?", unit="", key=lambda p: 3.0)
    assert times.mark("3").feedback == "Correct."
    assert times.mark("3 times").correct
    with pytest.raises(Problem, match="this answer is a plain number"):
        times.mark("3 mL")


def test_nonsense_is_a_problem_and_never_another_error():
    for answer in ("", None, "nan", "inf mL", "<script>", "5 g", "x" * 100_000, [], object()):
        with pytest.raises(Problem):
            number().mark(answer)


def test_numbers_are_drawn_from_the_seed_and_texts_follow():
    drawn = [WATER.for_seed(seed) for seed in range(30)]
    assert len({tuple(question.numbers.items()) for question in drawn}) > 5
    for question in drawn:
        assert question.value == question.numbers.powder_g * question.numbers.ratio
        assert f"{question.numbers.powder_g} g of powder" in question.shown_prompt
        assert question.mark(f"{question.value} mL").correct
        assert question.for_seed(question.seed) == question
        assert WATER.for_seed(question.seed).numbers == question.numbers
    assert WATER.numbers == WATER.for_seed("lesson").numbers


# Order --------------------------------------------------------------------------------------------

def test_the_right_order_is_correct_and_never_the_one_shown():
    assert ORDER.mark(ORDER.right_order).correct
    for n in range(1, 40):
        question = order(id=f"L09-Q{n}")
        assert question.shown_steps != question.right_order
        assert sorted(question.shown_steps) == sorted(question.right_order)


def test_the_first_misplaced_step_is_explained():
    first, second, third, fourth = ORDER.right_order
    marked = ORDER.mark([first, third, second, fourth])
    assert not marked.correct and marked.fraction == 0.5
    assert marked.feedback == ("Not yet. The first step is right. “Let it soak, then stir by hand” comes too early in place 2: "
                               "Soaking lets air out of the powder before it is stirred in.")
    assert ORDER.mark([fourth, second, third, first]).slip == "Only a stirred mix can be poured."


@pytest.mark.parametrize("answer, says", [([], "No order is given"), (None, "No order is given"), ("A B", "its own place, once"), ("A A B C", "its own place, once"),
                                          ("A B C E", "not one of the steps"), (["<b>"] * 4, "not one of the steps"), ("A B C D A", "its own place, once")])
def test_an_incomplete_order_is_a_problem(answer, says):
    with pytest.raises(Problem) as caught:
        ORDER.mark(answer)
    assert says in str(caught.value)


# All kinds ----------------------------------------------------------------------------------------

@pytest.mark.parametrize("question", [WATER, RATIO, POROUS, SEVERAL, ORDER], ids=lambda question: question.id)
def test_every_answer_has_exactly_one_that_is_correct(question):
    told = question.every_answer()
    assert sum(marked.correct for _, marked in told) == 1
    assert len({marked.feedback for _, marked in told}) == len(told)
    assert all(marked.feedback.startswith("Correct." if marked.correct else "Not yet.") for _, marked in told)


def test_texts_are_filled_with_few_digits():
    assert fill("{x} of {name}, {x:.1f}", {"x": 1 / 3, "name": "all"}) == "0.333 of all, 0.3"
    assert fill("a set {{braces}}", {}) == "a set {braces}"
    for text in ("{", "{}", "{0}", "{x.y}", "{x:q}"):
        with pytest.raises(Problem):
            fill(text, {"x": 1.0})


def test_numbers_whose_slip_would_look_right_are_drawn_again():
    question = number(parameters=lambda draw: {"powder_g": draw.choice([100, 101, 150, 200])}, key=lambda p: p.powder_g * 0.5,
                      slips=(Slip(lambda p: 50.0, "That is the water of 100 g of powder."),))
    assert {question.for_seed(seed).numbers.powder_g for seed in range(40)} == {150, 200}
    with pytest.raises(Problem, match="which the tolerance accepts as right"):
        dataclasses.replace(question, parameters=lambda draw: {"powder_g": draw.choice([100, 101])})


def test_of_two_slips_the_nearer_one_is_explained():
    question = number(relative_tolerance=0.1, slips=(Slip(lambda p: 50.0, "You took half of the water."), Slip(lambda p: 54.0, "You took the ratio for the water.")))
    assert question.mark("51.5 mL").slip == "You took half of the water."
    assert question.mark("52.5 mL").slip == "You took the ratio for the water."
