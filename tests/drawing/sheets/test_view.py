"""How the frame of a sheet lies on paper."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutlist.drawing.primitives import Box
from cutlist.drawing.sheets.view import View, unit_mm
from cutlist.model.plan import Piece
from cutlist.units.system import Units

#: 2440 × 1220 mm at 1:10, its upper left corner at (20, 30).
VIEW = View(Fraction(2440), Fraction(1220), Box(20, 30, 244, 122))


def test_the_origin_is_the_lower_left_corner() -> None:
    """A piece at the origin lies at the lower left of the sheet on paper."""
    box = VIEW.box(Piece("A1", Fraction(0), Fraction(0), Fraction(500), Fraction(300)))
    assert [box.x, box.bottom] == pytest.approx([20, 152])
    assert [box.width, box.height] == pytest.approx([50, 30])


def test_y_runs_up_the_page() -> None:
    """What has the larger y in the sheet's frame stands higher on paper."""
    assert VIEW.x(Fraction(1000)) == pytest.approx(120)
    assert VIEW.y(Fraction(1000)) == pytest.approx(52)
    assert VIEW.y(Fraction(0)) > VIEW.y(Fraction(1))
    assert VIEW.across(Fraction(10)) == pytest.approx(1)


def test_a_strip_may_be_drawn_thicker() -> None:
    """Each direction has the scale of its own side: 20 mm across are 4 mm on paper here."""
    view = View(Fraction(2000), Fraction(20), Box(0, 0, 20, 4))
    box = view.box(Piece("A1", Fraction(500), Fraction(5), Fraction(1000), Fraction(10)))
    assert [box.x, box.y, box.width, box.height] == pytest.approx([5, 1, 10, 2])


def test_an_inch_is_25_4_mm() -> None:
    """The international inch (NIST SP 811, appendix B)."""
    assert unit_mm(Units.INCH) == 25.4
    assert unit_mm(Units.MM) == 1.0
