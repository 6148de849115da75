"""From layouts to cuts on small examples worked out by hand: edges, reach, remainders."""

from __future__ import annotations

import pytest

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Purpose
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import Sequenced, StockLayout, sequence
from cutlist.sequencing.strips import extent
from cutlist.sequencing.tools import Tool


def row(length: int, *sizes: int, width: int = 5) -> Strip:
    """Return a strip along x."""
    return Strip(Axis.X, length, width, tuple(Cell(0, size, width) for size in sizes))


def made(root: Strip | Cell, fence: Fence, trim: int = 0) -> Sequenced:
    """Sequence one layout."""
    return sequence([StockLayout(Layout(0, root), EdgeTrims.of(trim))], fence)


def distances(root: Strip | Cell, fence: Fence, trim: int = 0) -> list[int]:
    """Return the distances of all settings in order."""
    return [setting.distance for setting in made(root, fence, trim).settings]


def purposes(root: Strip | Cell, fence: Fence, trim: int = 0) -> list[Purpose]:
    """Return the purposes of all cuts in order."""
    return [cut.purpose for setting in made(root, fence, trim).settings for cut in setting.cuts]


def test_whole_sheet_needs_no_cut() -> None:
    """A part as large as its sheet is a panel at once."""
    done = made(Cell(3, 20, 10), Fence(1))
    assert done.settings == ()
    assert [(piece.part, piece.box.name) for piece in done.pieces] == [(3, "A")]
    assert done.bound == 0


def test_last_child_is_what_remains() -> None:
    """Without waste one child needs no cut: 4 + kerf + 6 = 11."""
    assert len(distances(row(11, 4, 6), Fence(1))) == 1


def test_waste_needs_a_cut_for_every_child() -> None:
    """With waste every distinct size is set."""
    assert sorted(distances(row(20, 4, 6), Fence(1))) == [4, 6]


def test_waste_no_wider_than_the_blade() -> None:
    """Where less than a kerf is left of the last child's piece, the cut leaves no rest."""
    done = made(row(13, 4, 6), Fence(3))
    assert sorted(setting.distance for setting in done.settings) == [4]
    done = made(row(12, 6), Fence(7))
    assert [cut.rest for setting in done.settings for cut in setting.cuts] == [None]


def test_waste_cut_at_a_setting_in_use() -> None:
    """A waste of a size that is set anyway is cut off, and a child remains: no setting for it.

    Two sheets: one holds 4 and 6 with a waste of 4 beside them, the other 4s alone.
    """
    layouts = [
        StockLayout(Layout(0, row(4 + 1 + 6 + 1 + 4, 4, 6))),
        StockLayout(Layout(0, row(14, 4, 4, 4))),
    ]
    done = sequence(layouts, Fence(1))
    assert [setting.distance for setting in done.settings] == [4]
    assert done.bound == 1


def test_factory_edges_within_reach() -> None:
    """Along both axes a panel comes off too wide, and is cut to size when it is turned."""
    done = made(Cell(0, 20, 10), Fence(1), trim=2)
    cuts = [(setting.distance, cut) for setting in done.settings for cut in setting.cuts]
    assert sorted((distance, cut.purpose) for distance, cut in cuts) == [
        (10, Purpose.PART),
        (12, Purpose.ROUGH),
        (20, Purpose.PART),
        (22, Purpose.ROUGH),
    ]
    assert (cuts[-1][1].kept.x, cuts[-1][1].kept.y) == (2, 2)


def test_factory_edge_beyond_reach() -> None:
    """Where the fence does not reach over the sheet, a child is cut oversize, turned, cut again.

    Children 20 and 20 on 41 with a trim of 2: nothing can be set at 43, so a first child comes off
    at 22 or more with the factory edge at the fence.
    """
    root = Strip(Axis.X, 41, 10, (Cell(0, 20, 10), Cell(0, 20, 10)))
    done = made(root, Fence(1, 30), trim=2)
    rough = [
        (setting.distance, cut)
        for setting in done.settings
        for cut in setting.cuts
        if cut.purpose is Purpose.ROUGH and cut.axis is Axis.X
    ]
    assert len(rough) == 1
    assert rough[0][0] >= 22
    assert (rough[0][1].kept.x, rough[0][1].axis) == (0, Axis.X)


def test_child_beyond_reach_is_what_remains() -> None:
    """A child longer than the reach is never at the fence: what lies beyond it is peeled off."""
    assert distances(row(60, 40, 9), Fence(1, 20)) == [9]
    done = made(row(60, 40, 9), Fence(1, 20))
    assert sorted(piece.box.length for piece in done.pieces if piece.part == 0) == [9, 40]


def test_long_waste_beside_a_child_beyond_reach_is_peeled_in_steps() -> None:
    """Waste wider than the reach comes off in pieces the fence can reach, and no sliver is left."""
    done = made(row(100, 40), Fence(1, 20))
    assert all(setting.distance <= 20 for setting in done.settings)
    panels = [piece.box for piece in done.pieces if piece.part == 0]
    assert [(box.x, box.length) for box in panels] == [(0, 40)]
    wastes = sum(piece.box.length for piece in done.pieces if piece.part != 0)
    assert wastes + 40 + sum(len(setting.cuts) for setting in done.settings) == 100


def test_factory_edge_beside_a_child_beyond_reach_is_shed() -> None:
    """Where no clean edge can be made first, the factory edge itself is cut off at the fence."""
    assert Purpose.CLEAN_UP in purposes(Cell(0, 50, 10), Fence(1, 30), trim=4)
    done = made(Cell(0, 50, 10), Fence(1, 30), trim=4)
    panel = next(piece.box for piece in done.pieces if piece.part == 0)
    assert (panel.x, panel.y, panel.length, panel.width) == (4, 4, 50, 10)


def test_extent() -> None:
    """Sizes are told apart by axis."""
    assert (extent(Cell(0, 3, 7), Axis.X), extent(Cell(0, 3, 7), Axis.Y)) == (3, 7)


@pytest.mark.parametrize(("distance", "down"), [(0, 0), (1, 0), (4, 4), (9, 8)])
def test_marks_of_the_fence(distance: int, down: int) -> None:
    """A saw with marks every 4 steps gives the mark at a distance or below."""
    tool = Tool(1, 40, 4)
    assert tool.down(distance) == down


def test_reach_of_the_fence() -> None:
    """The fence stands at most at its reach, and never at nothing."""
    assert Fence(1, 40).reaches(40)
    assert not Fence(1, 40).reaches(41)
    assert not Fence(1, 40).reaches(0)
    assert Fence(1).reaches(10**9)
