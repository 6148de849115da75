from __future__ import annotations

from fractions import Fraction

from cutlist.drawing.story import read_story
from cutlist.model.plan import Direction
from tests.drawing.plans import all_plans, european, small


def test_every_piece_has_one_fate() -> None:
    """A piece is divided, a panel, or left over: exactly one of the three."""
    for plan in all_plans().values():
        story = read_story(plan)
        for name in story.pieces:
            fates = (name in story.divided_by, name in story.panel_of, name in story.leftover_of)
            assert sum(fates) == 1, name


def test_a_cut_line_is_the_middle_of_its_kerf() -> None:
    """Half a kerf beyond what is kept, on the side away from the fence."""
    story = read_story(small())
    first = story.lines["A"][0]
    assert first.direction is Direction.RIP
    # Kept 196 mm from the edge, kerf 3.2 mm.
    assert first.middle == Fraction(196) + Fraction(16, 5) / 2
    assert (first.start, first.end, first.depth) == (Fraction(0), Fraction(600), 0)
    trimmed = read_story(european()).lines["A"][0]
    # 10 mm of factory edge come off at the origin: kept is the far side.
    assert trimmed.middle == trimmed.cut.kept.y - Fraction(16, 5) / 2
