"""Sound plans with one thing wrong about an edge, and the codes that the audit gives."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from cutlist.model.job import FactoryEdge, Offcut
from cutlist.model.plan import Cut, Direction, Piece, Plan, Purpose
from cutlist.planning.instructions.instruct import instructed
from tests.audit import plans
from tests.audit.edits import (
    renumbered,
    with_bounds,
    with_cut,
    with_item,
    with_job,
    with_sheet,
    with_store,
    with_totals,
    without,
)
from tests.audit.plans import by_device, f

Edit = Callable[[Plan], Plan]


def _rough_at_the_fence(plan: Plan) -> Plan:
    """Have a straight edge ride that is not: a sheet whose edges have to be cleaned first."""
    return with_cut(with_sheet(plan, 0, factory_edge=FactoryEdge.ROUGH), 4, purpose=Purpose.PART)


def _store_edge_at_the_fence(plan: Plan, purpose: Purpose = Purpose.PART) -> Plan:
    """Cut the strip with the store's edge off the right half from that edge itself."""
    first, second, third, last = plan.settings
    cut = third.cuts[1]
    assert cut.rest is not None
    turned = replace(cut, kept=cut.rest, rest=cut.kept, purpose=purpose)
    apart = replace(third, distance=cut.rest.length, cuts=(turned,))
    settings = [first, second, replace(third, cuts=third.cuts[:1]), apart, last]
    totals = {"setups": 4, "setups_by_device": by_device(fence=4), "minutes": f(19)}
    return instructed(with_totals(renumbered(plan, settings), **totals))


def _on_hand_at_the_fence(plan: Plan) -> Plan:
    """Have the board on hand, whose edges nobody calls straight, and let one ride."""
    sheet = plan.job.sheets[0]
    board = Offcut(
        "rack", sheet.material, sheet.thickness, sheet.length, sheet.width, trim=sheet.trim
    )
    plan = with_item(with_job(plan, offcuts=(board,)), "workpieces", 0, stock="rack", bought=False)
    plan = with_totals(without(plan, "buy", 0), sheets=0, cost=Decimal(0))
    plan = with_bounds(plan, cost=Decimal(0), sheets=0)
    return with_cut(plan, 4, purpose=Purpose.PART)


def _sliver_below_the_trim(plan: Plan) -> Plan:
    """Saw a sliver of 1 mm with the factory edge off an end piece: with the kerf 4 mm of 5."""
    end = plan.leftovers[1]
    sliver = Piece("F1", f(999), f(255), f(1), f(240))
    rest = Piece("F2", f(906), f(255), f(90), f(240))
    extra = Cut(10, "E2", Direction.CROSSCUT, Purpose.CLEAN_UP, sliver, rest)
    plan = with_item(plan, "leftovers", 1, piece=rest)
    totals = {"setups": 5, "setups_by_device": by_device(fence=2, stop=3), "minutes": f(22)}
    return replace(
        with_totals(plan, **totals, cuts=10, kept_offcut_area=f(90720), waste_percent=f(5.056)),
        setups=(*plan.settings, plans.setting(5, 1, 3, extra, tool="sled")),
        leftovers=(*plan.leftovers, replace(end, piece=sliver, keep=False)),
    )


BROKEN_EDGES: list[tuple[str, str, Edit, set[int]]] = [
    (
        "trim deeper than the cuts",
        "trimmed_edges",
        lambda p: with_item(with_sheet(p, 0, trim=f(13)), "workpieces", 0, trim=f(13)),
        {407, 501, 504},
    ),
    (
        "panel keeps a factory edge",
        "plain",
        lambda p: with_item(with_sheet(p, 0, trim=f(0.25)), "workpieces", 0, trim=f(0.25)),
        {407, 501},
    ),
    (
        "panel keeps a store edge",
        "store_and_vehicle",
        lambda p: with_store(p, accuracy=f(1.0625)),
        {502, 504},
    ),
    (
        "rough edge at the fence",
        "trimmed_edges",
        _rough_at_the_fence,
        {503},
    ),
    ("store's edge at the fence", "store_and_vehicle", _store_edge_at_the_fence, {503}),
    ("edge of stock on hand at the fence", "trimmed_edges", _on_hand_at_the_fence, {503}),
    (
        "clean-up below the trim",
        "trimmed_edges",
        lambda p: with_item(with_sheet(p, 0, trim=f(5.25)), "workpieces", 0, trim=f(5.25)),
        {501, 504, 407},
    ),
    ("sliver below the trim", "trimmed_edges", _sliver_below_the_trim, {504}),
    (
        "clean-up below the accuracy",
        "store_and_vehicle",
        lambda p: with_store(p, accuracy=f(0.375)),
        {504},
    ),
]

SOUND_EDGES: list[tuple[str, str, Edit]] = [
    (
        "straight edge at the fence",
        "trimmed_edges",
        lambda p: with_cut(p, 4, purpose=Purpose.PART),
    ),
    (
        "store's edge rides in a rough cut",
        "store_and_vehicle",
        lambda p: _store_edge_at_the_fence(p, Purpose.CLEAN_UP),
    ),
]
