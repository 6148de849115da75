"""What comes off the edges of a piece: told by edge, by axis, in whole steps and exactly."""

from __future__ import annotations

from fractions import Fraction

from cutlist.model.edges import ALL_CLEAN, Edge, EdgeTrims
from cutlist.model.layout import Axis

TRIMS = EdgeTrims(1, 2, 3, 4)


def test_ends_of_an_axis() -> None:
    """The length runs from the left to the right edge, the width from the lower to the upper."""
    assert (TRIMS.x, TRIMS.y) == (TRIMS.along(Axis.X), TRIMS.along(Axis.Y)) == ((1, 2), (3, 4))
    assert TRIMS.replaced(Axis.Y, (0, 9)) == EdgeTrims(1, 2, 0, 9)
    assert TRIMS.replaced(Axis.X, (0, 9)) == EdgeTrims(0, 9, 3, 4)


def test_single_edges() -> None:
    """Each edge has its own trim, and only those that are not clean are listed as such."""
    assert [TRIMS.at(edge) for edge in Edge] == list(TRIMS.each) == [1, 2, 3, 4]
    assert EdgeTrims(upper=5).unclean == {Edge.UPPER: 5}
    assert ALL_CLEAN.unclean == {}


def test_what_is_left_inside() -> None:
    """Both ends come off a side, exactly where the lengths are exact."""
    assert TRIMS.inside(100, 50) == (97, 43)
    trims = EdgeTrims.of(Fraction(1, 3))
    assert trims.inside(Fraction(1), Fraction(2, 3)) == (Fraction(1, 3), Fraction(0))


def test_alike() -> None:
    """The same off all edges is told from unlike ones."""
    assert ALL_CLEAN.are_alike
    assert EdgeTrims.of(3).are_alike
    assert not EdgeTrims(3, 3, 3, 4).are_alike
