from __future__ import annotations

import pytest

from cutlist.drawing.paper import A4, LETTER, PT_MM, Paper, usual_paper
from cutlist.units.system import Units


@pytest.mark.parametrize(
    ("paper", "size"),
    [
        # ISO 216, main A series: A4 is 210 mm by 297 mm.
        (A4, (210.0, 297.0)),
        # ASME Y14.1, size A (quoted from memory): 8.5 in by 11 in.
        (LETTER, (8.5 * 25.4, 11 * 25.4)),
    ],
)
def test_paper_has_its_standard_size(paper: Paper, size: tuple[float, float]) -> None:
    """The two papers have the sizes of their standards, upright and lying."""
    assert paper.size_mm(landscape=False) == pytest.approx(size)
    assert paper.size_mm(landscape=True) == pytest.approx(size[::-1])


def test_a4_is_the_sheet_whose_halves_keep_its_shape() -> None:
    """ISO 216 defines the ratio of the sides as the square root of two, to whole millimetres."""
    assert A4.long_mm / A4.short_mm == pytest.approx(2**0.5, abs=0.5 / A4.short_mm)


def test_a_point_is_a_72nd_of_an_inch() -> None:
    """PDF user space, ISO 32000-1 clause 8.3.2.3: 1/72 in."""
    assert pytest.approx(25.4) == 72 * PT_MM


def test_paper_follows_the_unit() -> None:
    """Inches go with Letter, millimetres with A4."""
    assert usual_paper(Units.INCH) is LETTER
    assert usual_paper(Units.MM) is A4
