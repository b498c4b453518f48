"""Hands counted in class before and after discussion, and what the discussion gained."""

import re
from dataclasses import dataclass

from gypsumkit.problems import Problem

MOST_HANDS = 2000
EXAMPLE = "A 12, B 7, C 3"


def read_hands(text, letters):
    """Return hands by letter, as counted and written down.

    Parameters
    ----------
    text : str
        Such as "A 12, B 7, C 3"; what is not named has no hands. Empty text is an empty count.
    letters : sequence of str
        Of the question's options.

    Returns
    -------
    dict of str to int
        Empty when nothing is written.

    Raises
    ------
    Problem
        When a part is no letter with a number; says which, and what would be right.
    """
    hands = {}
    for part in re.split(r"[,;]|(?<=\d)\s+(?=[A-Za-z])", text):
        written = " ".join(part.split())
        if not written:
            continue
        found = re.fullmatch(r"([A-Za-z])\s*[:=]?\s*(\d{1,6})", written)
        if not found:
            raise Problem(f"“{written[:30]}” is not a letter with a number of hands; write them like “{EXAMPLE}”.")
        letter, count = found.group(1).upper(), int(found.group(2))
        if letter not in letters:
            raise Problem(f"There is no option {letter}: this question has {letters[0]} to {letters[-1]}.")
        if letter in hands:
            raise Problem(f"{letter} is counted twice ({hands[letter]} and {count}); write it once.")
        if count > MOST_HANDS:
            raise Problem(f"{count} hands for {letter} are more than {MOST_HANDS}; count again.")
        hands[letter] = count
    if text.strip() and not sum(hands.values()):
        raise Problem("No hand is counted: at least one option needs a number above 0.")
    return {letter: hands.get(letter, 0) for letter in letters} if hands else {}


def percent_right(hands, right):
    """Return which part of the hands was up for the right option, in percent; None when none was counted."""
    total = sum(hands.values())
    return 100 * hands[right] / total if total else None


def normalised_gain(before_percent, after_percent):
    """Return the normalised gain of a class.

    Parameters
    ----------
    before_percent, after_percent : float
        Of right answers, 0 to 100.

    Returns
    -------
    float or None
        1 when everything that was still to be gained was gained; below 0 when right answers were lost; None when all were right before, since
        nothing was left to gain.

    Notes
    -----
    g = (after - before) / (100 - before); R.R. Hake, American Journal of Physics 66 (1998) 64-74. There it is worked out for whole tests of
    whole courses; of a single question it says little, and it changes by chance with a small class.
    """
    if before_percent >= 100:
        return None
    return (after_percent - before_percent) / (100 - before_percent)


@dataclass(frozen=True)
class Hands:
    """The hands of one question, before and after discussion.

    Parameters
    ----------
    letters : tuple of str
        Of the options.
    right : str
        Letter of the right one.
    before, after : dict of str to int
        As from `read_hands`; empty when not counted yet.
    """

    letters: tuple
    right: str
    before: dict
    after: dict

    def words(self, revealed):
        """Return the counts in words; the right option and the gain only once it is revealed.

        Parameters
        ----------
        revealed : bool

        Returns
        -------
        str
        """
        said = [f"{name}: " + (", ".join(f"{letter} {count}" for letter, count in hands.items()) or "not counted yet") + "."
                for name, hands in (("Before discussion", self.before), ("After discussion", self.after))]
        if not revealed:
            return " ".join(said)
        parts = [f"{name} {percent_right(hands, self.right):.0f} %" for name, hands in (("before", self.before), ("after", self.after)) if hands]
        if parts:
            said.append(f"Right ({self.right}): {', '.join(parts)}.")
        if self.before and self.after:
            said.append(gain_words(percent_right(self.before, self.right), percent_right(self.after, self.right)))
        return " ".join(said)


def gain_words(before_percent, after_percent):
    """Return the normalised gain in words."""
    gain = normalised_gain(before_percent, after_percent)
    if gain is None:
        return "Normalised gain: not defined, since all were right before and nothing was left to gain."
    return f"Normalised gain {gain:.2f}: of what was not yet right, {100 * gain:.0f} % became right.".replace("-", "−") if gain >= 0 else \
        f"Normalised gain {gain:.2f}: fewer were right after than before.".replace("-", "−")
