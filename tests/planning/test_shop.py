"""A job's saws in grid units, and the one that stands for them all."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cutlist.model.job import USUAL_MINUTES, Match, Remainders, Saw, SawKind, layout_saw
from cutlist.model.sawing import Device
from cutlist.planning.dividing.groups import divide
from cutlist.planning.dividing.shop import fence_of
from cutlist.sequencing.fence import Together
from cutlist.units.grid import Grid
from cutlist.units.system import Units
from tests.planning.jobs import job, part

TABLE = Saw(
    Fraction(3),
    Fraction(650),
    Fraction(1, 2),
    longest_cut=Fraction(1500),
    smallest_piece=Fraction(300),
    thinnest_strip=Fraction(10),
)
SLED = Saw(
    Fraction(3),
    Fraction(1200),
    name="sled",
    kind=SawKind.SLED,
    longest_cut=Fraction(600),
    minutes_per_setup=Fraction(1),
)
TRACK = Saw(
    Fraction(11, 5), name="track saw", kind=SawKind.TRACK_SAW, longest_cut=Fraction(10001, 4)
)
ASKED = job([part("board", (400, 100))])


def test_the_table_saw_alone() -> None:
    """Without a list it stands for a fence, a stop and a guide, and the guide reaches anywhere."""
    short = replace(ASKED, saw=replace(ASKED.saw, max_rip=Fraction(750)))
    fence = fence_of(short, Grid(Fraction(1)))
    devices = [(tool.device, tool.reach, tool.serves_one_cut) for tool in fence.tools]
    assert devices == [
        (Device.FENCE, 750, False),
        (Device.STOP, 1200, False),
        (Device.GUIDE, None, True),
    ]
    assert (fence.kerf, fence.reach) == (3, None)
    assert fence.keeps_remainders
    assert not fence_of(
        replace(ASKED, remainders=Remainders.CUT), Grid(Fraction(1))
    ).keeps_remainders


def test_a_sliver_is_a_length_that_can_be_set() -> None:
    """One millimetre, or 1/32 in, however fine the grid is; with a kerf of 3 mm 4 mm go off."""
    fence = fence_of(ASKED, Grid(Fraction(1, 10)))
    assert (fence.sliver, fence.least_off) == (10, 40)
    inch = replace(ASKED, units=Units.INCH)
    assert fence_of(inch, Grid(Fraction(1, 64))).sliver == 2
    assert fence_of(replace(ASKED, saws=(TABLE, SLED)), Grid(Fraction(1, 4))).sliver == 4


def test_limits_say_the_same_on_the_grid() -> None:
    """A longest cut of 2500.25 mm is one of 25002 tenths: no whole number of them lies between."""
    saws = (TABLE, SLED, TRACK)
    fence = fence_of(replace(ASKED, saws=saws), Grid(Fraction(1, 10)))
    assert [tool.kerf for tool in fence.tools] == [30, 30, 22]
    assert [tool.longest_cut for tool in fence.tools] == [15000, 6000, 25002]
    assert (fence.tools[0].smallest_piece, fence.tools[0].thinnest_strip) == (3000, 100)
    usual = [USUAL_MINUTES[Device.FENCE], 1, USUAL_MINUTES[Device.GUIDE]]
    assert [tool.weight for tool in fence.tools] == usual
    quick = replace(ASKED, saws=saws, minutes_per_setup=Fraction(5, 2))
    fence = fence_of(quick, Grid(Fraction(1, 10)))
    assert ([tool.weight for tool in fence.tools], fence.minute) == ([5, 2, 5], 2)


def test_reach_is_that_of_the_saw_for_the_longest_cut() -> None:
    """Of table saw and sled the fence counts; a track saw as long as the sheet has no limit."""
    grid = Grid(Fraction(1, 10))
    assert fence_of(replace(ASKED, saws=(TABLE, SLED)), grid).reach == 6500
    assert fence_of(replace(ASKED, saws=(TABLE, SLED, TRACK)), grid).reach is None
    short = replace(TRACK, longest_cut=Fraction(1400))
    assert fence_of(replace(ASKED, saws=(TABLE, SLED, short)), grid).reach == 6500


def test_sheets_are_divided_for_the_widest_blade() -> None:
    """The grid holds every kerf and scale; the problem has the widest kerf."""
    saws = (TRACK, TABLE)
    division = divide(replace(ASKED, saw=layout_saw(saws), saws=saws))
    assert division.grid.unit == Fraction(1, 10)
    assert division.groups[0].problem.kerf == 30
    assert division.groups[0].problem.reach is None
    # A limited reach leaves room for what thinner blades leave over.
    saws = (replace(TRACK, max_rip=Fraction(900)), replace(TABLE, longest_cut=None))
    division = divide(replace(ASKED, saw=layout_saw(saws), saws=saws))
    assert (division.fence.reach, division.groups[0].problem.reach) == (9000, 9000 - 60)


def test_what_has_to_match_is_asked_for_by_index() -> None:
    """Parts by their place in the job, sizes in grid steps; what no saw can be set to is not."""
    parts = [part("shelf", (600, 300), 2), part("side", (900, 300), 2), part("top", (600, 320))]
    matches = (
        Match("depth", Fraction(300), ("shelf", "side")),
        Match("width", Fraction(600), ("top", "shelf")),
    )
    asked = replace(job(parts), matches=matches)
    grid = Grid(Fraction(1, 2))
    depth, width = Together(600, frozenset({0, 1})), Together(1200, frozenset({0, 2}))
    assert fence_of(asked, grid).together == (depth, width)
    short = replace(TABLE, max_rip=Fraction(500))
    assert fence_of(replace(asked, saws=(short,)), grid).together == (depth,)
    some = replace(asked, parts=(parts[2],))
    assert fence_of(some, grid).together == (Together(1200, frozenset({0})),)
