"""`python3 -m gypsumkit keys`: the printed card of the keys for the stage."""

import sys
from pathlib import Path

from gypsumkit.commands.printing import Parser, printed
from gypsumkit.files import write_new


def _text(argv):
    parser = Parser(prog="python3 -m gypsumkit keys", allow_abbrev=False, description="Write the card of the keys for the stage, one page to print, as PDF.")
    parser.add_argument("--paper", default="A4", metavar="NAME", help="A4 or Letter; A4 when not given")
    parser.add_argument("--folder", default=".", metavar="FOLDER", help="where it is written; the present folder when not given")
    options = parser.parse_args(argv)
    from gypsumkit.figures.key_card import key_card_pdf
    from gypsumkit.figures.weigh_card import paper_named
    paper = paper_named(options.paper)
    path = Path(options.folder).expanduser() / f"keys-{paper}.pdf"
    write_new(path, key_card_pdf(paper))
    return f"Written: {path}"


def main(argv):
    """Run the command.

    Parameters
    ----------
    argv : list of str
        The words after `keys`.

    Returns
    -------
    int
        0, or 2 after a problem, which is printed as one sentence.
    """
    return printed(lambda: _text(argv), "The card of keys")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
