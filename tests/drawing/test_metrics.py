from __future__ import annotations

import pytest
from reportlab.pdfbase import pdfmetrics

from cutlist.drawing.metrics import (
    FRACTION_FROM_PT,
    cap_height,
    font_name,
    legible,
    runs,
    text_box,
    text_width,
)
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Text


def test_width_agrees_with_the_pdf_library() -> None:
    """The width of plain text is the one that the PDF library sets."""
    expected = pdfmetrics.stringWidth("end 1 of 2", font_name(True), 9) * PT_MM
    assert text_width("end 1 of 2", 9, True) == pytest.approx(expected, rel=1e-3)


def test_small_fractions_stay_on_the_line() -> None:
    """Below the limit a fraction would be illegible if set small."""
    assert len(runs('23 5/8"', 8)) == 1


def test_large_fractions_are_set_as_such() -> None:
    """Numerator raised, both figures smaller but never under 7 pt, text unchanged when joined."""
    found = runs('≈ 23 5/8" × 14 11/32"', 30)
    assert "".join(run.content for run in found) == '≈ 23 5/8" × 14 11/32"'
    raised = [run for run in found if run.rise_pt > 0]
    assert [run.content for run in raised] == ["5", "11"]
    assert all(run.size_pt < 30 for run in raised)
    assert min(run.size_pt for run in runs("1/2", FRACTION_FROM_PT)) > 7


@pytest.mark.parametrize("content", ["3/4/5", "1.5/2", "and/or"])
def test_what_is_no_fraction_is_left_alone(content: str) -> None:
    """A slash alone makes no fraction."""
    assert len(runs(content, 20)) == 1


@pytest.mark.parametrize("content", ["×", "≈", "½", "Größe", "m²", "façade, Łódź"])
def test_the_face_has_what_plans_need(content: str) -> None:
    """Signs of the trade and Western names are drawn as they are, or by the base letter."""
    assert "?" not in legible(content)


def test_unknown_letters_are_replaced_visibly() -> None:
    """What the face cannot draw is a question mark, an accent too many is dropped."""
    assert legible("полка") == "?????"
    assert legible("ạ") == "a"


def test_text_box_follows_anchor_and_direction() -> None:
    """The box of a text lies where its anchor says, turned or not."""
    width = text_width("waste", 10)
    level = text_box(Text(50, 40, "waste", 10, anchor=Anchor.END))
    assert level.right == pytest.approx(50)
    assert level.width == pytest.approx(width)
    assert level.y == pytest.approx(40 - cap_height(10))
    turned = text_box(Text(50, 40, "waste", 10, anchor=Anchor.MIDDLE, upwards=True))
    assert turned.height == pytest.approx(width)
    assert turned.y + turned.height / 2 == pytest.approx(40)
    start = text_box(Text(50, 40, "waste", 10, upwards=True))
    assert start.bottom == pytest.approx(40)
