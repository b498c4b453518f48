"""The nearest name is the one that the standard library would find, also where comparing is left out because a word is far too long."""

import difflib
import random

from gypsumkit.problems import nearest


def test_a_word_too_long_to_be_alike_is_not_compared_and_nothing_else_changes():
    draw = random.Random(3)
    found = 0
    for _ in range(3000):
        names = ["".join(draw.choice("abAB ") for _ in range(draw.randint(0, 6))) for _ in range(draw.randint(0, 5))]
        word = "".join(draw.choice("abAB ") for _ in range(draw.randint(0, 22)))
        by_lower_case = {name.lower(): name for name in names}
        right = difflib.get_close_matches(word.lower(), by_lower_case, n=1, cutoff=0.5)
        assert nearest(word, names) == (by_lower_case[right[0]] if right else None)
        found += bool(right)
    assert found > 500 and nearest("mL50" * 100_000, ["mL", "g"]) is None
