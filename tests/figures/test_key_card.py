"""The card of keys is one page of its paper, and is never written over another file."""

import re

import pytest

from gypsumkit.commands.keys import main
from gypsumkit.figures.key_card import key_card_pdf
from gypsumkit.problems import Problem


@pytest.mark.parametrize("paper, size", [("A4", (595.28, 841.89)), ("letter", (612, 792))])
def test_the_card_is_one_page_of_its_paper(paper, size):
    card = key_card_pdf(paper)
    assert len(re.findall(rb"/Type /Page\b(?!s)", card)) == 1
    box = [float(number) for number in re.search(rb"/MediaBox \[ ([\d. ]+) \]", card).group(1).split()]
    assert box[2:] == pytest.approx(size, abs=0.5)
    assert card == key_card_pdf(paper)


def test_an_unknown_paper_is_refused():
    with pytest.raises(Problem, match="no paper"):
        key_card_pdf("A5")


def test_the_command_writes_the_card_once(tmp_path, capsys):
    assert main(["--paper", "Letter", "--folder", str(tmp_path)]) == 0
    assert (tmp_path / "keys-Letter.pdf").read_bytes().startswith(b"%PDF")
    assert main(["--paper", "Letter", "--folder", str(tmp_path)]) == 2
    assert "not written over" in capsys.readouterr().err
