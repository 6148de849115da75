"""What a plan does to the rack: which pieces leave, which enter, and with which edges."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from cutlist.errors import RackFileError
from cutlist.model.edges import Edge, EdgeTrims
from cutlist.model.job import Job, Store
from cutlist.model.plan import Cut, Direction, Piece, Place, Plan, Purpose, SawSetup, Workpiece
from cutlist.model.rack import RackGrain
from cutlist.rack import add, book, booking_text, read_booking, undo
from tests.ledger.following import edges_of
from tests.planning.jobs import job as small_job
from tests.planning.jobs import part
from tests.planning.jobs import planned as small_plan
from tests.rack.plans import INCH, job, planned
from tests.rack.racks import DAY, piece


@pytest.fixture
def plan(tmp_path: Path) -> Plan:
    """Return a plan that takes a strip from the rack and buys a sheet with a trim."""
    return planned(job(tmp_path))


def test_a_plan_without_a_rack_books_nothing() -> None:
    """A job that lists its offcuts has no rack to change."""
    assert book(small_plan(small_job([part("shelf", (900, 300))]), 20)) is None


def test_what_leaves_and_what_enters(plan: Plan) -> None:
    """Pieces of the rack that are cut up leave it; leftovers to keep enter it exactly as cut."""
    booking = book(plan)
    assert booking is not None
    used = {one.stock for one in plan.workpieces if not one.bought}
    assert {one.name for one in booking.leaving} == used == {"strip"}
    kept = [one for one in plan.leftovers if one.keep]
    assert [one.name for one in booking.entering] == [one.piece.name for one in kept]
    assert booking.entering
    for entering, left in zip(booking.entering, kept, strict=True):
        assert (entering.length, entering.width) == (
            left.piece.length * INCH,
            left.piece.width * INCH,
        )
        assert (entering.material, entering.thickness, entering.job) == (
            "birch ply",
            Fraction(18),
            "Bench",
        )


def test_factory_edges_stay_marked(plan: Plan) -> None:
    """A leftover has a factory edge just where it reaches the edge of a sheet with a trim."""
    booking = book(plan)
    assert booking is not None
    stock = {one.piece: one for one in plan.workpieces}
    for entering in booking.entering:
        left = next(one.piece for one in plan.leftovers if one.piece.name == entering.name)
        sheet = next(one for name, one in stock.items() if entering.name.startswith(name))
        expected = {
            edge
            for edge, at_edge in (
                (Edge.LEFT, left.x == 0),
                (Edge.RIGHT, left.x + left.length == sheet.length),
                (Edge.LOWER, left.y == 0),
                (Edge.UPPER, left.y + left.width == sheet.width),
            )
            if at_edge and sheet.trim
        }
        assert set(entering.edges) == expected
        assert entering.trim == (INCH / 4 if expected else 0)


def test_planning_again_after_a_change_is_another_plan(tmp_path: Path) -> None:
    """The same plan has the same digest as long as the rack is the same, and only so long."""
    first, again = book(planned(job(tmp_path))), book(planned(job(tmp_path)))
    assert first is not None
    assert first == again
    rack = tmp_path / "rack.db"
    add(rack, [piece("other", material="MDF")], day=DAY)
    changed = book(planned(job(tmp_path)))
    undo(rack)
    back = book(planned(job(tmp_path)))
    assert changed is not None
    assert back is not None
    assert len({first.plan, changed.plan, back.plan}) == 3


def test_a_booking_is_read_again(plan: Plan, tmp_path: Path) -> None:
    """What is written is read again as it was, lengths exactly."""
    booking = book(plan)
    assert booking is not None
    path = tmp_path / "rack.json"
    path.write_text(booking_text(booking), encoding="utf-8")
    assert read_booking(path) == booking


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("format", "other/1"),
        ("leaving", None),
        ("leaving", [{"number": "x", "name": "a"}]),
        ("entering", [{}]),
    ],
)
def test_other_files_are_refused(key: str, value: object, plan: Plan, tmp_path: Path) -> None:
    """A file that was written otherwise, or edited to nonsense, is refused."""
    booking = book(plan)
    assert booking is not None
    document = json.loads(booking_text(booking)) | {key: value}
    path = tmp_path / "rack.json"
    for text in (json.dumps(document), "[]", "{", '{"format": "cutlist-rack/1"}'):
        path.write_text(text, encoding="utf-8")
        with pytest.raises(RackFileError, match="plan the job again"):
            read_booking(path)
    with pytest.raises(RackFileError, match="No such file"):
        read_booking(tmp_path / "away.json")


def f(value: int) -> Fraction:
    """Return a whole length."""
    return Fraction(value)


def at(name: str, x: int, y: int, length: int, width: int) -> Piece:
    """Return a piece at its place."""
    return Piece(name, f(x), f(y), f(length), f(width))


def by_hand(asked: Job, *, bought: bool, place: Place) -> Plan:
    """Return a plan of one piece of 1000 x 500, ripped at 203 and then crosscut at 303."""
    rip = Cut(
        1,
        "A",
        Direction.RIP,
        Purpose.BREAK_DOWN,
        at("A1", 0, 203, 1000, 297),
        at("A2", 0, 0, 1000, 200),
    )
    cross = Cut(
        2,
        "A2",
        Direction.CROSSCUT,
        Purpose.PART,
        at("A2a", 0, 0, 300, 200),
        at("A2b", 303, 0, 697, 200),
    )
    stock = Workpiece("A", "strip", bought, "birch ply", f(18), f(1000), f(500), f(6))
    settings = (
        SawSetup(1, place, "saw", f(297), f(3), (rip,), mark=f(1)),
        SawSetup(2, Place.SHOP, "saw", f(300), f(3), (cross,), mark=f(1)),
    )
    base = small_plan(small_job([part("shelf", (900, 300))]), 20)
    return replace(base, job=asked, workpieces=(stock,), setups=settings)


def test_edges_by_hand() -> None:
    """Each cut makes two clean edges, whichever side is kept; the others are what they were."""
    asked = small_job([part("shelf", (900, 300))])
    edges = edges_of(by_hand(asked, bought=True, place=Place.SHOP))
    assert edges["A1"] == dict.fromkeys((Edge.LEFT, Edge.RIGHT, Edge.UPPER), f(6))
    assert edges["A2a"] == dict.fromkeys((Edge.LEFT, Edge.LOWER), f(6))
    assert edges["A2b"] == dict.fromkeys((Edge.RIGHT, Edge.LOWER), f(6))


def test_edges_that_the_store_cut() -> None:
    """An edge from the store's saw is rough by its accuracy, until it is cut away."""
    asked = replace(small_job([part("shelf", (900, 300))]), store=Store(f(3), accuracy=f(4)))
    edges = edges_of(by_hand(asked, bought=True, place=Place.STORE))
    assert edges["A1"][Edge.LOWER] == 4
    assert edges["A2a"] == {Edge.LEFT: 6, Edge.LOWER: 6, Edge.UPPER: 4}


def test_edges_of_a_piece_from_the_rack() -> None:
    """Such a piece brings the edges that are told of it, and no others."""
    asked = small_job([part("shelf", (900, 300))])
    plan = by_hand(asked, bought=False, place=Place.SHOP)
    stock = replace(plan.workpieces[0], trim=f(0), edges=EdgeTrims(lower=f(6)))
    edges = edges_of(replace(plan, workpieces=(stock,)))
    assert edges["A1"] == {}
    assert edges["A2a"] == {Edge.LOWER: 6}


def test_leftovers_have_a_grain_where_their_stock_has_one(tmp_path: Path) -> None:
    """What is left of a material without a grain is noted so, whether bought or from the rack."""
    asked = job(tmp_path)
    for has_grain in (True, False):
        sheets = tuple(replace(sheet, has_grain=has_grain) for sheet in asked.sheets)
        offcuts = tuple(replace(offcut, has_grain=has_grain) for offcut in asked.offcuts)
        booking = book(planned(replace(asked, sheets=sheets, offcuts=offcuts)))
        assert booking is not None
        grain = RackGrain.LENGTH if has_grain else RackGrain.NONE
        assert {one.grain for one in booking.entering} == {grain}
