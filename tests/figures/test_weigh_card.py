"""The printed card: one page of the right size, everything on it inside the margins, the same file each time."""

import re
import zlib

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.transforms import Affine2D

from gypsumkit.bench.plan import CAUTIONS, FIRST, plan_session
from gypsumkit.figures.weigh_card import MARGIN, PAPERS, card_figure, paper_named, weigh_card_pdf, weigh_card_png
from gypsumkit.powders import POWDERS
from gypsumkit.problems import Problem

PLAN = plan_session(24, 1, cast_volume_cm3=60, product_says_min=45)


def boxes_of(figure):
    """Where each text lies, in points; measured finely, since a coarse screen rounds the width of each letter."""
    FigureCanvasAgg(figure)
    figure.set_dpi(720)
    return [(text.get_text(), text.get_window_extent().transformed(figure.dpi_scale_trans.inverted()).transformed(Affine2D().scale(72)))
            for text in figure.texts if text.get_text().strip()]


def texts(figure):
    return [text.get_text() for text in figure.texts]


@pytest.mark.parametrize("paper, size", [("A4", (595.276, 841.890)), ("Letter", (612.0, 792.0))])
def test_the_file_is_one_page_of_that_paper(paper, size):
    """Outside check: A4 is 210 x 297 mm (ISO 216), Letter 8.5 x 11 inches; a point is 1/72 inch."""
    pdf = weigh_card_pdf(PLAN, paper)
    assert pdf.startswith(b"%PDF-") and pdf.rstrip().endswith(b"%%EOF")
    assert len(re.findall(rb"/Type /Page\b(?!s)", pdf)) == 1
    (box,) = re.findall(rb"/MediaBox \[ ([\d. ]+) \]", pdf)
    assert [float(one) for one in box.split()] == pytest.approx([0, 0, *size], abs=0.01)
    in_mm = {"A4": (210.0, 297.0), "Letter": (8.5 * 25.4, 11 * 25.4)}[paper]
    assert np.array(size) / 72 * 25.4 == pytest.approx(in_mm, abs=0.01)


def test_the_same_plan_gives_the_same_file_without_date():
    pdf = weigh_card_pdf(PLAN)
    assert pdf == weigh_card_pdf(PLAN) and b"CreationDate" not in pdf
    assert any(b"Tf" in zlib.decompress(stream) for stream in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL) if stream[:1] == b"x")


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("asked", [
    {}, *({"powder": powder} for powder in POWDERS), {"mixing": "machine under vacuum"}, {"casts": 6, "casts_per_mix": 6},
    {"cast_volume_cm3": 4999, "casts_per_mix": 3, "casts": 3}, {"ring_test": False}, {"product_says_min": 1440}, {"water_temperature_c": 34.5},
], ids=str)
def test_every_text_lies_inside_the_margins_and_on_no_other(paper, asked):
    boxes = boxes_of(card_figure(plan_session(**{"students": 12, "cast_volume_cm3": 60, **asked}), paper))
    width, height = PAPERS[paper]
    for text, box in boxes:
        assert box.x0 >= MARGIN - 2 and box.x1 <= width - MARGIN + 2 and box.y0 >= MARGIN - 8 and box.y1 <= height - MARGIN + 2, text
    for place, (text, one) in enumerate(boxes):
        for other_text, other in boxes[:place]:
            across = min(one.x1, other.x1) - max(one.x0, other.x0)
            down = min(one.y1, other.y1) - max(one.y0, other.y0)
            assert across < 1 or down < 2, (text, other_text)


def test_the_card_says_amounts_moments_cautions_and_whose_word_comes_first():
    written = texts(card_figure(PLAN))
    assert {f"{PLAN.batch.powder_g:g} g", f"{PLAN.batch.water_ml:g} mL", "at 2 min", "not before 45 min", "Lot", FIRST + "."} <= set(written)
    together = " ".join(" ".join(written).replace("•", "").split())
    assert all(caution in together for caution in CAUTIONS)
    assert FIRST == "For teaching; the maker's instructions come first"


def test_a_powder_of_a_very_long_name_stays_on_the_page(monkeypatch):
    from dataclasses import replace
    name = "our $very$ hard stone of the third bench, second lot, opened in autumn"
    monkeypatch.setitem(POWDERS, name, replace(POWDERS["dental stone"], name=name))
    (written, box), *_ = boxes_of(card_figure(plan_session(4, powder=name, powder_g=100)))
    assert written.lower() == name and 400 < box.width and box.x1 <= PAPERS["A4"][0] - MARGIN + 2


def test_the_picture_is_a_picture_and_an_unknown_paper_is_refused():
    assert weigh_card_png(PLAN, "Letter")[:8] == b"\x89PNG\r\n\x1a\n"
    assert paper_named("letter") == "Letter" and paper_named("a4") == "A4"
    with pytest.raises(Problem, match="no paper called 'A5'"):
        weigh_card_pdf(PLAN, "A5")
