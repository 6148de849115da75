"""Stock whose edges are not alike: just what is told of each comes off."""

from __future__ import annotations

import json
import os
import random
from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.audit import Code, audit
from cutlist.model.edges import Edge, EdgeTrims
from cutlist.model.job import Grain, Job, Offcut
from cutlist.model.layout import Axis
from cutlist.model.plan import Plan, Purpose
from cutlist.nesting.allowance import Allowance
from cutlist.output.plan_json import to_document
from cutlist.planning.dividing.groups import divide
from cutlist.planning.dividing.orientation import Orientation, orientation_on
from cutlist.planning.make import make_plan
from cutlist.units.system import Units
from tests.ledger.following import edges_of
from tests.planning.jobs import job, offcut, part, planned, sheet
from tests.random_jobs import random_job, with_small_car
from tests.replay import replay

JOBS = int(os.environ.get("CUTLIST_UNLIKE_EDGES", "16"))
TRIM = Fraction(6)
#: The inside of a piece of 500 x 300 with one unclean edge, and where it begins.
INSIDE = {
    Edge.LEFT: ((494, 300), (6, 0)),
    Edge.RIGHT: ((494, 300), (0, 0)),
    Edge.LOWER: ((500, 294), (0, 6)),
    Edge.UPPER: ((500, 294), (0, 0)),
}


def with_edges(name: str, size: tuple[int, int], **trims: int) -> Offcut:
    """Return an offcut of which single edges are not clean."""
    edges = EdgeTrims(**{edge: Fraction(trim) for edge, trim in trims.items()})
    return replace(offcut(name, size), edges=edges)


def checked(plan: Plan) -> Plan:
    """Audit a plan, replay what is written of it, and return it."""
    assert audit(plan) == ()
    assert replay(json.loads(json.dumps(to_document(plan))), plan.job) == []
    return plan


@pytest.mark.parametrize("edge", Edge)
def test_nothing_comes_off_a_clean_edge(edge: Edge) -> None:
    """A panel as large as what one unclean edge leaves is cut from the piece, with one cut."""
    (length, width), place = INSIDE[edge]
    asked = job(
        [part("shelf", (length, width))], offcuts=[with_edges("rack", (500, 300), **{edge: 6})]
    )
    plan = checked(planned(asked, 50))
    assert plan.buy == ()
    (panel,) = plan.panels
    assert (panel.piece.x, panel.piece.y) == tuple(map(Fraction, place))
    assert plan.totals.cuts == 1


@pytest.mark.parametrize("edge", Edge)
def test_what_is_to_come_off_comes_off(edge: Edge) -> None:
    """A panel a millimetre larger than what is left finds no place on the piece."""
    (length, width), _ = INSIDE[edge]
    larger = (length + 1, width) if edge in (Edge.LEFT, Edge.RIGHT) else (length, width + 1)
    asked = job([part("shelf", larger)], offcuts=[with_edges("rack", (500, 300), **{edge: 6})])
    assert checked(planned(asked, 50)).totals.sheets == 1


def test_each_edge_has_its_own_trim() -> None:
    """Edges may lose different amounts; both ends of an axis, and neither of the other."""
    piece = with_edges("rack", (500, 300), left=10, right=4)
    plan = checked(planned(job([part("shelf", (486, 300))], offcuts=[piece]), 50))
    assert plan.buy == ()
    (panel,) = plan.panels
    assert (panel.piece.x, panel.piece.length) == (Fraction(10), Fraction(486))


def test_a_layout_counts_from_the_cleaner_end() -> None:
    """The cleaner end of each axis is the low one of a layout, mirrored where need be."""
    piece = with_edges("rack", (500, 300), left=10, right=4, upper=2)
    division = divide(job([part("shelf", (100, 100))], offcuts=[piece]))
    found = orientation_on(piece, division.grid, division.fence)
    assert found is not None
    unit = int(1 / division.grid.unit)
    assert found.trims == EdgeTrims(4 * unit, 10 * unit, 0, 2 * unit)
    assert found.mirrored == {Axis.X}
    assert orientation_on(offcut("plain", (500, 300)), division.grid, division.fence) is None


def test_what_the_fence_does_not_reach_across_loses_more_than_a_kerf() -> None:
    """With the fence on the far side the edge is a piece of its own; a clean one stays.

    That is where there is no guide, which is laid at any distance.
    """
    piece = with_edges("rack", (1500, 300), right=2)
    asked = job([part("shelf", (100, 100))], offcuts=[piece], reach=1000)
    guided = divide(asked)
    assert orientation_on(piece, guided.grid, guided.fence) == Orientation(
        EdgeTrims(0, 2, 0, 0), frozenset()
    )
    asked = replace(asked, saws=(asked.saw,))
    division = divide(asked)
    found = orientation_on(piece, division.grid, division.fence)
    assert found is not None
    assert found.trims.x[0] == 0
    assert found.trims.x[1] > division.fence.kerf
    assert found.trims.y == (0, 0)
    long = part("rail", (1496, 300), grain=Grain.LENGTH)
    assert checked(planned(job([long], offcuts=[piece], reach=1000), 50)).buy == ()


def test_a_piece_that_loses_everything_is_no_stock() -> None:
    """Where nothing is left between the edges the piece is left out, and nothing fails."""
    piece = with_edges("sliver", (1500, 6), upper=4, lower=1)
    plan = checked(planned(job([part("a", (60, 40))], offcuts=[piece], reach=1000), 50))
    assert plan.totals.sheets == 1


def test_leftovers_keep_the_edges_that_no_cut_made() -> None:
    """What is left of such a piece has its unclean edges, and of those only its own."""
    piece = with_edges("rack", (900, 300), right=6, upper=6)
    plan = checked(planned(job([part("a", (300, 294), grain=Grain.LENGTH)], offcuts=[piece]), 100))
    (panel,) = plan.panels
    edges = edges_of(plan)
    assert edges[panel.piece.name] == {}
    for left in plan.leftovers:
        box, found = left.piece, edges[left.piece.name]
        assert (Edge.RIGHT in found) == (box.x + box.length == 900)
        assert (Edge.UPPER in found) == (box.y + box.width == 300)
        assert not found.keys() & {Edge.LEFT, Edge.LOWER}


@pytest.mark.parametrize("edge", Edge)
def test_the_audit_looks_at_each_edge(edge: Edge) -> None:
    """A plan is refused where the job says of another edge that something has to come off."""
    (length, width), _ = INSIDE[edge]
    asked = job(
        [part("shelf", (length, width))], offcuts=[with_edges("rack", (500, 300), **{edge: 6})]
    )
    plan = planned(asked, 50)
    for other in Edge:
        edges = EdgeTrims(**{other: TRIM})
        stock = replace(asked.offcuts[0], edges=edges)
        work = replace(plan.workpieces[0], edges=edges)
        moved = replace(plan, job=replace(asked, offcuts=(stock,)), workpieces=(work,))
        codes = {finding.code for finding in audit(moved)}
        if other is edge:
            assert codes == set()
        else:
            assert Code.PANEL_FACTORY_EDGE in codes
            assert Code.OUTSIDE_USABLE_REGION in codes
            assert replay(json.loads(json.dumps(to_document(moved))), moved.job) != []
    bare = replace(plan.workpieces[0], edges=None)
    assert {f.code for f in audit(replace(plan, workpieces=(bare,)))} == {Code.STOCK_DIFFERS}


def test_a_clean_up_takes_off_what_its_edge_asks_for() -> None:
    """A cut that takes off less than its own edge has to lose is found, whatever others lose."""
    piece = with_edges("rack", (500, 300), left=6, right=20)
    plan = checked(planned(job([part("shelf", (474, 300))], offcuts=[piece]), 50))
    assert any(cut.purpose is Purpose.CLEAN_UP for one in plan.settings for cut in one.cuts)
    edges = EdgeTrims(left=Fraction(7), right=Fraction(20))
    work = replace(plan.workpieces[0], edges=edges)
    stock = replace(plan.job.offcuts[0], edges=edges)
    asked = replace(plan, job=replace(plan.job, offcuts=(stock,)), workpieces=(work,))
    assert {f.code for f in audit(asked)} >= {Code.PANEL_FACTORY_EDGE}


def with_unlike_edges(asked: Job, seed: int) -> Job:
    """Give a job an offcut more of each material, and all of them random edges."""
    rng = random.Random(seed)
    unit = 1 if asked.units is Units.MM else Fraction(1, 25)
    some = [0, 0, 4 * unit, 6 * unit, 20 * unit]
    extra = [
        Offcut(f"long {one.name}", one.material, one.thickness, one.length, one.width / 2)
        for one in asked.sheets
    ]

    def edged(piece: Offcut) -> Offcut:
        trims = EdgeTrims(*(Fraction(rng.choice(some)) for _ in Edge))
        alike = len(set(trims.each)) == 1
        return replace(piece, trim=min(trims.each), edges=None if alike else trims)

    return replace(asked, offcuts=tuple(map(edged, (*asked.offcuts, *extra))))


#: Jobs in which the fence once stood between two marks for nothing.
OFF_MARKS = (163, 450, 475)


@pytest.mark.slow
@pytest.mark.parametrize("number", [*range(JOBS), *OFF_MARKS])
def test_random_jobs(number: int) -> None:
    """Whatever edges the stock on hand has, a plan passes the audit and the second replay."""
    asked = with_unlike_edges(random_job(number), number)
    if number % 4 == 3:
        asked = with_unlike_edges(with_small_car(random_job(number), number), number)
    checked(make_plan(asked, seed=number, allowance=Allowance(steps=60)))


def test_a_mixed_stock_turns_nothing() -> None:
    """Panels are turned where none of the material's stock has a grain, and not before."""
    rail = part("rail", (200, 1100), grain=Grain.LENGTH)
    plain = sheet()
    bare = replace(plain, has_grain=False)
    piece = replace(offcut("rack", (1150, 250)), has_grain=False)
    assert planned(job([rail], [plain], [piece]), 50).totals.sheets == 1
    plan = checked(planned(job([rail], [bare], [piece]), 50))
    assert plan.totals.sheets == 0
    assert [panel.turned for panel in plan.panels] == [True]
    grained = replace(plan.workpieces[0], has_grain=True)
    said = replace(plan, workpieces=(grained,))
    assert {f.code for f in audit(said)} == {Code.STOCK_DIFFERS, Code.PANEL_GRAIN}
