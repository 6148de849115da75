"""Which saw gets which cut, in a shop with a table saw, a sled and a track saw."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cutlist.model.job import SawKind
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.sequencing.choice import Chooser
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, glance
from cutlist.sequencing.tools import Tool

TABLE = Tool(3, 650, kind=SawKind.TABLE_SAW, longest_cut=1500, smallest_piece=300)
SLED = Tool(3, 1200, kind=SawKind.SLED, longest_cut=600, smallest_piece=150)
TRACK = Tool(2, kind=SawKind.TRACK_SAW, smallest_piece=200)
SHOP = Fence(3, tools=(TABLE, SLED, TRACK))


def test_each_cut_gets_a_saw_that_makes_it_safely() -> None:
    """Wide rips go to the track saw, strips are crosscut on the sled, the rest rides the fence."""
    chooser = Chooser(SHOP)
    assert chooser.pick(900, 2440, 1220) == 2
    assert chooser.pick(400, 2440, 1220) == 2
    assert chooser.pick(400, 1400, 1220) == 0
    assert chooser.pick(700, 400, 2440) == 1
    assert chooser.pick(700, 1220, 2440) == 2


def test_a_cut_that_is_safe_on_none_goes_to_the_one_least_at_fault() -> None:
    """Better a piece that is small for the saw than one that turns, or a cut it cannot make."""
    chooser = Chooser(Fence(3, tools=(TABLE, SLED)))
    assert chooser.pick(60, 100, 120) == 1
    assert chooser.pick(700, 900, 2440) == 1
    assert chooser.pick(400, 900, 2440) == 0


def test_a_strip_gets_shorter_while_it_is_cut() -> None:
    """A saw that is safe at the strip's beginning only is not taken where another one always is."""
    careful = replace(TRACK, smallest_piece=100)
    chooser = Chooser(Fence(3, tools=(TABLE, SLED, careful)))
    assert chooser.pick(160, 400, 900) == 1
    assert chooser.pick(120, 400, 900) == 2
    assert Chooser(Fence(3, tools=(TABLE, SLED))).pick(120, 400, 900) == 1
    # What is known to stay beside the panel keeps the piece large enough for the sled.
    assert chooser.pick(120, 400, 900, 200) == 1


def test_cuts_at_one_distance_share_a_saw_where_they_can() -> None:
    """A cut that two saws make goes to the one that the other cuts at this distance need."""
    first = Chooser(SHOP)
    assert first.pick(400, 450, 450) == 0
    assert first.pick(400, 300, 2440) == 1
    assert Chooser(SHOP, first).pick(400, 450, 450) == 1
    assert Chooser(SHOP, first).pick(401, 450, 450) == 0


def test_the_saw_that_is_set_up_sooner() -> None:
    """Where several saws would do, minutes decide, then the kind."""
    assert Chooser(SHOP).pick(400, 500, 450) == 0
    slow = replace(TABLE, minutes=Fraction(3))
    quick = replace(SLED, minutes=Fraction(1))
    assert Chooser(Fence(3, tools=(slow, quick))).pick(400, 500, 450) == 1


def test_reach_depends_on_the_length_of_the_cut() -> None:
    """The sled reaches farther than the fence, but on short cuts only."""
    chooser = Chooser(Fence(3, 650, tools=(TABLE, SLED)))
    assert (chooser.within(900, 600), chooser.within(900, 601)) == (True, False)
    assert (chooser.farthest(600), chooser.farthest(601)) == (1200, 650)
    assert chooser.within(650, 3000)
    assert Chooser(SHOP).farthest(3000) is None


def test_one_saw_is_always_the_one() -> None:
    """The table saw alone makes every cut."""
    assert Chooser(Fence(3, 650)).pick(400, 300, 2440) == 0
    assert Chooser(Fence(3, 650)).within(650, 10**6)


def test_what_is_safe_on_no_saw_is_told() -> None:
    """Cuts that are not safe are remembered, each kind once; with one saw nobody asks."""
    chooser = Chooser(Fence(3, tools=(TABLE, SLED)))
    chooser.pick(400, 900, 2440)
    chooser.pick(400, 900, 2440)
    chooser.pick(400, 450, 450)
    assert chooser.unsafe == {(400, 900, 2440)}


def test_layouts_without_unsafe_cuts_are_preferred() -> None:
    """Two rows that need one setting more weigh less than a sheet crosscut along the fence.

    With a table saw and a sled a sheet of 1400 x 1000 is crosscut nowhere safely, its rows are.
    """
    fence = Fence(3, tools=(TABLE, SLED))
    across = Strip(Axis.X, 1400, 1000, tuple(Cell(0, 450, 1000) for _ in range(3)))
    row = Strip(Axis.X, 1400, 497, tuple(Cell(1, 450, 497) for _ in range(3)))
    along = Strip(Axis.Y, 1400, 1000, (row, row))
    looks = [glance([StockLayout(Layout(0, root))], fence) for root in (across, along)]
    assert looks[1] < 20 < looks[0]
