from __future__ import annotations

from fractions import Fraction

import pytest

from cutlist.drawing import theme
from cutlist.drawing.frame import content_box
from cutlist.drawing.pages.placement import Placement, place_sheet
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Box


def placed(length: float, width: float, paper: Paper, unit_mm: float = 1.0) -> Placement:
    """Place a sheet under a header of usual height."""
    return place_sheet(
        Fraction(length),
        Fraction(width),
        unit_mm=unit_mm,
        paper=paper,
        header_height=14.0,
        callouts=False,
    )


# 2440 × 1220 mm and 96 × 48 in at 1:10 are 244 × 122 and 243.8 × 121.9 mm.
@pytest.mark.parametrize(
    ("length", "width", "paper", "unit_mm", "ratio"),
    [(2440, 1220, A4, 1.0, 10), (2500, 1250, A4, 1.0, 10), (96, 48, LETTER, 25.4, 10)],
)
def test_common_sheets_come_at_one_to_ten(
    length: int, width: int, paper: Paper, unit_mm: float, ratio: int
) -> None:
    """The usual sheets fill a lying page at 1:10."""
    found = placed(length, width, paper, unit_mm)
    assert found.scale.ratio == ratio
    assert found.page_width > found.page_height
    assert found.view.sheet.width == pytest.approx(length * unit_mm / ratio)
    assert found.view.sheet.height == pytest.approx(width * unit_mm / ratio)


def test_a_tall_offcut_goes_on_an_upright_page() -> None:
    """An offcut wider across the grain than along it is drawn larger upright."""
    found = placed(500, 1100, A4)
    assert found.page_height > found.page_width


@pytest.mark.parametrize("size", [(2440, 1220), (2800, 2070), (300, 2000), (1525, 1525), (90, 60)])
@pytest.mark.parametrize("paper", [A4, LETTER])
def test_sheet_and_key_stay_inside_and_apart(size: tuple[int, int], paper: Paper) -> None:
    """Header, sheet with its dimensions, and key do not overlap and stay within the margins."""
    found = placed(*size, paper)
    content = content_box(found.page_width, found.page_height)
    sheet = found.view.sheet
    with_dimensions = Box(sheet.x - 8, sheet.y, sheet.width + 8, sheet.height + 8)
    for box in (found.header, with_dimensions, found.key):
        assert content.holds(box, 1e-6)
    assert not found.key.overlaps(with_dimensions)
    assert not found.header.overlaps(with_dimensions)
    assert content.bottom <= found.page_height - theme.MARGIN - theme.FOOTER + 1e-9
