"""No number that a lesson shows sits on the edge between two roundings, where another computer may show the other one."""

import ast
import math
import re
import sys

import pytest

from gypsumkit import showing, units
from gypsumkit.live import live_picture
from gypsumkit.live.block import Block
from gypsumkit.quiz import bank, questions
from tests.lessons.pages import ANSWERED, LESSONS, cells, words

EDGE = 1e-6                 # as a share of the number; far more than two computers differ by
EDGE_OF_LONG_NUMBERS = 1e-9 # for five digits and more, which only plain arithmetic gets


def distance_from_edge(value, decimals):
    """Return how far a number is from where its rounding changes, as a share of the number itself."""
    scaled = abs(value) * 10.0 ** decimals
    return abs(scaled - math.floor(scaled) - 0.5) / max(scaled, 1e-300)


def is_on_edge(value, decimals):
    """Return whether a number, rounded to so many decimals, sits on an edge."""
    digits = decimals + (math.floor(math.log10(abs(value))) + 1 if value else 1)
    return distance_from_edge(value, decimals) < (EDGE if digits <= 4 else EDGE_OF_LONG_NUMBERS)


def is_said(value, decimals, text):
    """Return whether either rounding of a number stands in a text as a number of its own."""
    scale = 10.0 ** decimals
    either = {f"{step(value * scale) / scale:.{max(decimals, 0)}f}" for step in (math.floor, math.ceil)}
    return any(re.search(rf"(?<![\d.]){re.escape(one)}(?![\d]|\.\d)", text) for one in either)


def test_the_distance_is_that_from_the_edge():
    assert distance_from_edge(0.5625, 3) < 1e-12
    assert distance_from_edge(10.25, 1) < 1e-12
    assert distance_from_edge(10.25001, 1) == pytest.approx(1e-6, rel=0.05)
    assert distance_from_edge(-0.05, 0) > 1
    assert is_said(23.25, 1, "bind 23.2 g") and is_said(116.5, 0, "117, no more") and not is_said(116.5, 0, "1160 or 116.5 or 2117")
    assert is_on_edge(0.5625, 3) and is_on_edge(1.23456500000001, 5) and not is_on_edge(0.47619047619, 6) and not is_on_edge(0.0, 1)


@pytest.fixture
def shown(monkeypatch, tmp_path):
    """Collect every (number, decimals) that is rounded to be shown, as lessons run from an empty work folder."""
    collected = []

    def recording_round(value, decimals=0):
        collected.append((value, decimals))
        return round(value, decimals)

    say_number, format_field = units.say_number, questions._Template.format_field

    def recording_say(value, digits=3):
        if isinstance(value, float) and value and math.isfinite(value):
            exponent = math.floor(math.log10(abs(value)))
            collected.append((value, max(0, digits - 1 - exponent) if -4 <= exponent < 6 else digits - 1 - exponent))
        return say_number(value, digits)

    def recording_format(self, value, how):
        fixed = re.fullmatch(r"[+ ]?\.(\d)f", how)
        if fixed:
            collected.append((value, int(fixed.group(1))))
        return format_field(self, value, how)

    monkeypatch.setattr(showing, "round", recording_round, raising=False)
    for module in (units, questions):
        monkeypatch.setattr(module, "say_number", recording_say)
    monkeypatch.setattr(questions._Template, "format_field", recording_format)
    # Questions keep their texts once made, so the bank is made afresh.
    for module in [one for one in sys.modules if re.fullmatch(r"gypsumkit\.quiz\.bank\.lesson_\d\d", one)]:
        monkeypatch.delitem(sys.modules, module)
    bank.the_bank.cache_clear()
    yield collected
    bank.the_bank.cache_clear()


@pytest.mark.parametrize("path", [*LESSONS, *ANSWERED], ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_no_shown_number_sits_on_an_edge(path, shown, monkeypatch, tmp_path):
    monkeypatch.setenv("GYPSUMKIT_WORK", str(tmp_path))
    monkeypatch.setattr(live_picture.LivePicture, "_blank", True)     # only words are looked at here
    names, pages = {}, []
    for cell in cells(path, "code"):
        body = ast.parse(cell.source).body
        last = body.pop() if isinstance(body[-1], ast.Expr) else None
        exec(compile(ast.Module(body, []), path.name, "exec"), names)
        if last is not None:
            value = eval(compile(ast.Expression(last.value), path.name, "eval"), names)
            said = value.words() if isinstance(value, Block) else str(value)
            assert said == words(cell), f"{cell.id} says something else than what is stored"
            pages.append(said)
    assert len(shown) > 10, "nothing was collected: the numbers are shown in a way that this test does not see"
    on_edge = sorted({(value, decimals) for value, decimals in shown
                      if is_on_edge(value, decimals) and is_said(value, decimals, "\n".join(pages))})
    assert not on_edge, f"(number, decimals) on an edge: {on_edge}"
