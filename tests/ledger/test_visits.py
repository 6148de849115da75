"""Visits to each distance, and what the later ones waited for."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings

from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.visits import Dimension, Visit, Wait, dimensions
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Cut, Direction, Piece, Place, SawSetup
from cutlist.sequencing.cutting import PlacedBox, SettingStep
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, sequence
from tests.audit.plans import SOUND
from tests.sequencing.cut_layouts import Bench, benches

SAW = "table saw"


def as_settings(steps: tuple[SettingStep, ...]) -> list[SawSetup]:
    """Return settings of the plan from those of the sequencing, a grid unit being one."""
    made = []
    number = 0
    for index, step in enumerate(steps, start=1):
        cuts = []
        for cut in step.cuts:
            number += 1
            direction = Direction.CROSSCUT if cut.axis is Axis.X else Direction.RIP
            rest = as_piece(cut.rest) if cut.rest else None
            cuts.append(Cut(number, cut.piece, direction, cut.purpose, as_piece(cut.kept), rest))
        distance = Fraction(step.distance)
        made.append(
            SawSetup(index, Place.SHOP, SAW, distance, Fraction(1), tuple(cuts), mark=distance)
        )
    return made


def as_piece(box: PlacedBox) -> Piece:
    """Return a box as a piece of the plan."""
    return Piece(
        box.name, Fraction(box.x), Fraction(box.y), Fraction(box.length), Fraction(box.width)
    )


def visits_of(*made: SawSetup) -> tuple[Dimension, ...]:
    """Return the dimensions of set-ups alone, as those of a plan with just the stock they need."""
    plan = SOUND["plain"]()
    cuts = [cut for setting in made for cut in setting.cuts]
    there = {piece.name for cut in cuts for piece in cut.makes}
    stock = dict.fromkeys(cut.piece for cut in cuts if cut.piece not in there)
    work = tuple(replace(plan.workpieces[0], piece=name) for name in stock)
    bare = replace(plan, workpieces=work, setups=made, panels=(), leftovers=())
    return dimensions(read_ledger(bare))


def test_no_settings_no_dimensions() -> None:
    """A job without cuts has no distances."""
    assert visits_of() == ()


def test_a_piece_that_needs_its_distance_twice() -> None:
    """A strip 8 wide gives a piece 13 long, that a strip 3 wide, and that a panel 8 long."""
    narrow = Strip(Axis.X, 13, 3, (Cell(0, 8, 3),))
    short = Strip(Axis.Y, 13, 8, (narrow,))
    root = Strip(Axis.Y, 30, 20, (Strip(Axis.X, 30, 8, (short,)),))
    made = sequence([StockLayout(Layout(0, root))], Fence(1))
    found = visits_of(*as_settings(made.settings))
    assert found[0] == Dimension(
        Fraction(8),
        (
            Visit(1, Place.SHOP, SAW, (1,), ()),
            Visit(4, Place.SHOP, SAW, (4,), (Wait("A1a1", (2, 3), is_own=True),)),
        ),
    )
    assert [one.is_revisited for one in found] == [True, False, False]


def test_a_visit_for_the_sake_of_other_pieces() -> None:
    """One sheet wants 5 before 8, another 8 before 5: one is revisited, no piece asks for it."""
    first = Strip(Axis.Y, 30, 20, (Strip(Axis.X, 30, 8, (Cell(0, 5, 8),)),))
    second = Strip(Axis.Y, 30, 20, (Strip(Axis.X, 30, 5, (Cell(0, 8, 5),)),))
    layouts = [StockLayout(Layout(0, root)) for root in (first, second)]
    found = visits_of(*as_settings(sequence(layouts, Fence(1)).settings))
    (again,) = [one for one in found if one.is_revisited]
    assert [len(visit.waits) for visit in again.visits] == [0, 1]
    (wait,) = again.visits[1].waits
    assert not wait.is_own
    assert len(wait.cuts) == 1


def test_another_tool_waits_for_nothing() -> None:
    """The first visit of another tool at the same distance names no piece it waited for."""
    made = sequence([StockLayout(Layout(0, Strip(Axis.X, 30, 8, (Cell(0, 8, 8),))))], Fence(1))
    (one,) = as_settings(made.settings)
    other = replace(one, number=2, tool="sled")
    (found,) = visits_of(one, other)
    assert [(visit.tool, visit.waits) for visit in found.visits] == [(SAW, ()), ("sled", ())]


@pytest.mark.slow
@given(benches())
@settings(
    max_examples=150,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
def test_every_visit_is_told_once_and_every_later_one_waited(bench: Bench) -> None:
    """All settings and cuts are there, and a later visit cuts only pieces that it waited for."""
    made = as_settings(sequence(bench.layouts, bench.fence, expansions=200).settings)
    found = visits_of(*made)
    visits = [visit for one in found for visit in one.visits]
    assert sorted(visit.setting for visit in visits) == [one.number for one in made]
    by_number = {one.number: one for one in made}
    for one in found:
        for earlier, visit in zip(one.visits, one.visits[1:], strict=False):
            cuts = by_number[visit.setting].cuts
            assert by_number[visit.setting].distance == one.distance
            assert tuple(cut.number for cut in cuts) == visit.cuts
            inside = {piece.name for cut in cuts for piece in (cut.kept, cut.rest) if piece}
            waiting = {cut.piece for cut in cuts} - inside
            assert {wait.piece for wait in visit.waits} == waiting
            for wait in visit.waits:
                assert list(wait.cuts) == sorted(wait.cuts)
                assert max(earlier.cuts) < wait.cuts[0] <= wait.cuts[-1] < min(visit.cuts)
