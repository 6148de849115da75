"""Sound plans with one thing changed, and the codes that the audit has to give for each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from cutlist.model.job import Grain, KeepFrom, Offcut, Vehicle
from cutlist.model.plan import Direction, Piece, Place, Plan, Purpose
from cutlist.model.sawing import Caution, Device, Hazard
from tests.audit import plans
from tests.audit.broken_edges import BROKEN_EDGES, SOUND_EDGES
from tests.audit.broken_settings import BROKEN_SETTINGS
from tests.audit.broken_weights import BROKEN_WEIGHTS, SOUND_WEIGHTS
from tests.audit.edits import (
    cut_of,
    moved,
    renumbered,
    with_bounds,
    with_cut,
    with_item,
    with_job,
    with_kept,
    with_part,
    with_rest,
    with_saw,
    with_setting,
    with_sheet,
    with_store,
    with_totals,
    without,
)
from tests.audit.plans import by_device, f

Edit = Callable[[Plan], Plan]


def _pieces_swapped(plan: Plan) -> Plan:
    """Cut a strip to length before it is cut off the sheet."""
    first, second, third = plan.settings
    return renumbered(plan, [second, first, third])


def _rest_renamed(plan: Plan) -> Plan:
    rest = cut_of(plan, 6).rest
    assert rest is not None
    return with_cut(plan, 6, rest=replace(rest, name="A1b2"))


def _panel_on_leftover(plan: Plan) -> Plan:
    """Let a panel name a leftover, at its own place."""
    panel = plan.panels[3]
    return with_item(plan, "panels", 3, piece=replace(panel.piece, name="A1b2"))


def _panel_copied(plan: Plan, to: Piece) -> Plan:
    return with_item(plan, "panels", 3, piece=to)


def _moved_to_second_sheet(plan: Plan) -> Plan:
    """Buy a second sheet that nothing is cut from, and account for it."""
    line = plan.buy[0]
    sheet = plan.job.sheets[0]
    extra = plans.bought(sheet, "Z")
    whole = Piece("Z", f(0), f(0), sheet.length, sheet.width)
    area = sheet.length * sheet.width
    kept = plan.totals.kept_offcut_area + area
    return replace(
        with_totals(
            plan,
            sheets=2,
            cost=Decimal(148),
            sheet_area=2 * area,
            kept_offcut_area=kept,
            waste_percent=100 * (2 * area - plan.totals.part_area - kept) / (2 * area),
        ),
        buy=(replace(line, count=2, cost=Decimal(148)),),
        workpieces=plan.workpieces + extra,
        leftovers=plan.leftovers + plans.leftovers(sheet, True, whole),
        bounds=replace(plan.bounds, cost_proven=False),
    )


def _store_last(plan: Plan) -> Plan:
    """Let the store make the last cuts instead of the first."""
    plan = with_setting(plan, 4, place=Place.STORE, tool="panel saw", device=Device.STORE)
    totals = {"setups": 2, "setups_by_device": by_device(fence=2), "store_setups": 2}
    return with_bounds(with_totals(plan, **totals, minutes=f(9)), setups_proven=True)


def sheet_on_hand(plan: Plan) -> Plan:
    """Have the sheet on hand instead of buying it."""
    sheet = plan.job.sheets[0]
    on_hand = Offcut("rack", sheet.material, sheet.thickness, sheet.length, sheet.width)
    plan = with_item(
        with_job(plan, offcuts=(on_hand,)), "workpieces", 0, stock="rack", bought=False
    )
    plan = with_totals(without(plan, "buy", 0), sheets=0, cost=Decimal("0.50"))
    return with_bounds(plan, cost=Decimal(0), sheets=0)


def _only_stock_on_hand(plan: Plan) -> Plan:
    """Have the sheet on hand and pay nothing."""
    return with_bounds(with_totals(sheet_on_hand(plan), cost=Decimal(0)), cost_proven=True)


BROKEN: list[tuple[str, str, Edit, set[int]]] = [
    # 1xx pieces
    ("name taken", "plain", _rest_renamed, {101, 107, 109}),
    (
        "name empty",
        "plain",
        lambda p: with_item(
            with_cut(p, 2, rest=replace(cut_of(p, 2).kept, name="", y=f(29.25), width=f(18.75))),
            "leftovers",
            0,
            piece=replace(p.leftovers[0].piece, name=""),
        ),
        {102},
    ),
    ("piece never made", "plain", lambda p: with_cut(p, 3, piece="Q"), {103, 106}),
    ("cut before it exists", "plain", _pieces_swapped, {103, 106}),
    ("piece cut twice", "plain", lambda p: with_cut(p, 4, piece="A1"), {104, 106, 202}),
    (
        "rest without size",
        "blade_takes_the_rest",
        lambda p: with_cut(p, 2, rest=Piece("A9", f(0), f(0), f(0), f(12))),
        {105, 106, 208},
    ),
    ("leftover not listed", "plain", lambda p: without(p, "leftovers", 0), {106, 708, 709}),
    (
        "offcut that is not there",
        "plain",
        lambda p: with_item(p, "leftovers", 0, piece=replace(p.leftovers[0].piece, name="A2")),
        {106, 107},
    ),
    ("panel names a leftover", "plain", _panel_on_leftover, {106, 108, 109}),
    (
        "leftover elsewhere",
        "plain",
        lambda p: with_item(p, "leftovers", 0, piece=moved(p.leftovers[0].piece, y=-0.0625)),
        {109, 409},
    ),
    (
        "panel elsewhere",
        "plain",
        lambda p: with_item(p, "panels", 0, piece=moved(p.panels[0].piece, x=1)),
        {109, 408},
    ),
    (
        "keep mark missing",
        "trimmed_edges",
        lambda p: with_job(p, keep_from=KeepFrom(f(95), f(230))),
        {110},
    ),
    (
        "offcut of another material",
        "plain",
        lambda p: with_item(p, "leftovers", 0, material="oak"),
        {111},
    ),
    # 2xx cuts
    ("cut number skipped", "plain", lambda p: with_cut(p, 6, number=7), {201}),
    ("kept short of the edge", "plain", lambda p: with_kept(p, 5, width=-1), {109, 202}),
    ("rest short of the edge", "plain", lambda p: with_rest(p, 5, width=-1), {109, 202}),
    ("direction", "plain", lambda p: with_cut(p, 1, direction=Direction.CROSSCUT), {203, 309}),
    ("kept in the middle", "plain", lambda p: with_kept(p, 5, x=1), {109, 204}),
    ("kept not at the distance", "plain", lambda p: with_setting(p, 3, distance=f(29)), {205}),
    ("rest starts too near", "plain", lambda p: with_rest(p, 5, x=-0.0625), {109, 206}),
    ("rest too long", "plain", lambda p: with_rest(p, 5, length=0.125), {109, 206}),
    (
        "rest missing",
        "plain",
        lambda p: without(with_cut(p, 5, rest=None), "leftovers", 1),
        {207, 708, 709},
    ),
    (
        "rest where the kerf takes all",
        "blade_takes_the_rest",
        lambda p: with_cut(p, 1, rest=Piece("A9", f(0), f(12.0625), f(24.125), f("1/16"))),
        {106, 208},
    ),
    (
        "nothing taken off",
        "blade_takes_the_rest",
        lambda p: with_kept(with_setting(p, 1, distance=f(12.0625)), 1, width=0.0625),
        {202, 209},
    ),
    (
        "break-down at the shop",
        "plain",
        lambda p: with_cut(p, 1, purpose=Purpose.BREAK_DOWN),
        {210},
    ),
    ("rough cut is the last", "plain", lambda p: with_cut(p, 3, purpose=Purpose.ROUGH), {211}),
    *BROKEN_SETTINGS,
    # 4xx panels
    ("part of no job", "plain", lambda p: with_item(p, "panels", 3, part="lid"), {401, 403}),
    ("copy twice", "plain", lambda p: with_item(p, "panels", 3, copy=1), {402}),
    ("copy too high", "plain", lambda p: with_item(p, "panels", 3, copy=3), {402}),
    ("one too few asked", "plain", lambda p: with_part(p, 1, qty=1), {402, 403}),
    ("one too many asked", "plain", lambda p: with_part(p, 1, qty=3), {403}),
    ("part larger", "plain", lambda p: with_part(p, 1, length=f(30.03125)), {404}),
    ("grain the other way", "plain", lambda p: with_part(p, 1, grain=Grain.WIDTH), {405}),
    (
        "grain of a turned part",
        "turned_panels",
        lambda p: with_part(p, 1, grain=Grain.LENGTH),
        {405},
    ),
    ("turned mark", "turned_panels", lambda p: with_item(p, "panels", 2, turned=False), {405}),
    ("part of another material", "plain", lambda p: with_part(p, 1, material="oak"), {406}),
    ("part of another thickness", "plain", lambda p: with_part(p, 1, thickness=f(1)), {406}),
    (
        "panel in the trim",
        "trimmed_edges",
        lambda p: with_item(p, "panels", 3, piece=moved(p.panels[3].piece, y=-8)),
        {109, 407, 408},
    ),
    (
        "panels overlap",
        "plain",
        lambda p: _panel_copied(p, moved(p.panels[3].piece, y=-3)),
        {109, 408},
    ),
    (
        "panels touch",
        "plain",
        lambda p: _panel_copied(p, moved(p.panels[3].piece, y=-0.125)),
        {109, 409},
    ),
    ("match untold", "matching", lambda p: without(p, "matches", 1), {410}),
    ("match not asked for", "matching", lambda p: with_job(p, matches=p.job.matches[:1]), {410}),
    (
        "match at another size",
        "matching",
        lambda p: with_item(p, "matches", 0, distance=f(15)),
        {411},
    ),
    ("match of fewer panels", "matching", lambda p: with_item(p, "matches", 0, panels=3), {412}),
    (
        "match from another visit",
        "matching",
        lambda p: with_item(p, "matches", 0, settings=(1, 2)),
        {413},
    ),
    ("match from no setting", "matching", lambda p: with_item(p, "matches", 1, settings=()), {413}),
    ("match that nobody set", "matching", lambda p: with_item(p, "matches", 0, unset=1), {414}),
    (
        "two visits told as one",
        "matching_apart",
        lambda p: with_item(p, "matches", 0, settings=(2,)),
        {413},
    ),
    *BROKEN_EDGES,
    # 6xx stock and purchase
    ("unknown sheet", "plain", lambda p: with_item(p, "workpieces", 0, stock="pine"), {601, 603}),
    (
        "bought offcut",
        "two_materials",
        lambda p: with_item(p, "workpieces", 2, bought=True),
        {601, 603, 701},
    ),
    ("sheet of another size", "plain", lambda p: with_sheet(p, 0, length=f(97)), {602, 606}),
    ("trim not the sheet's", "plain", lambda p: with_sheet(p, 0, trim=f(0.25)), {602}),
    (
        "one bought too many",
        "plain",
        lambda p: with_totals(
            with_item(p, "buy", 0, count=2, cost=Decimal(148)), cost=Decimal(148)
        ),
        {603, 712},
    ),
    (
        "nothing bought",
        "plain",
        lambda p: with_totals(without(p, "buy", 0), cost=Decimal(0)),
        {603, 711, 712},
    ),
    (
        "more than in stock",
        "plain",
        lambda p: with_sheet(_moved_to_second_sheet(p), 0, in_stock=1),
        {604},
    ),
    (
        "more than on hand",
        "two_materials",
        lambda p: with_job(p, offcuts=(replace(p.job.offcuts[0], qty=0),)),
        {605},
    ),
    ("price not the sheet's", "plain", lambda p: with_sheet(p, 0, price=Decimal(70)), {606}),
    (
        "cost not the price",
        "plain",
        lambda p: with_totals(with_item(p, "buy", 0, cost=Decimal(75)), cost=Decimal(75)),
        {607, 712},
    ),
    (
        "bought on two lines",
        "plain",
        lambda p: replace(_moved_to_second_sheet(p), buy=(p.buy[0], p.buy[0])),
        {608},
    ),
    # 7xx totals and bounds
    ("sheets", "plain", lambda p: with_totals(p, sheets=2), {701}),
    ("cost", "plain", lambda p: with_totals(p, cost=Decimal("74.01")), {702, 712}),
    ("store charge", "store_and_vehicle", lambda p: with_store(p, free_cuts=1), {702}),
    ("setups", "plain", lambda p: with_totals(p, setups=4), {703, 715}),
    (
        "set-ups of another device",
        "plain",
        lambda p: with_totals(p, setups_by_device=by_device(fence=2, stop=1)),
        {716},
    ),
    (
        "set-ups of no device",
        "plain",
        lambda p: with_totals(p, setups_by_device=()),
        {716},
    ),
    (
        "the store's set-ups",
        "store_and_vehicle",
        lambda p: with_totals(p, store_setups=0),
        {717},
    ),
    ("minutes", "plain", lambda p: with_totals(p, minutes=f(14)), {718}),
    ("minutes of a saw", "plain", lambda p: with_saw(p, minutes_per_setup=f(4)), {718}),
    ("minutes of the job", "plain", lambda p: with_job(p, minutes_per_setup=f(4)), {718}),
    ("cuts", "plain", lambda p: with_totals(p, cuts=5), {704}),
    ("parts", "plain", lambda p: with_totals(p, parts=5), {705}),
    ("part area", "plain", lambda p: with_totals(p, part_area=f(1870)), {706}),
    ("sheet area", "plain", lambda p: with_totals(p, sheet_area=f(4607)), {707}),
    ("kept area", "plain", lambda p: with_item(p, "leftovers", 0, keep=False), {708, 709}),
    ("waste", "plain", lambda p: with_totals(p, waste_percent=f("0.6781684")), {709}),
    ("cost bound", "plain", lambda p: with_bounds(p, cost=Decimal(75)), {711, 712}),
    ("cost proven", "plain", lambda p: with_bounds(p, cost_proven=False), {712}),
    ("sheets bound", "plain", lambda p: with_bounds(p, sheets=2), {713}),
    ("setups bound", "plain", lambda p: with_bounds(p, setups=4), {714, 715}),
    ("setups proven", "trimmed_edges", lambda p: with_bounds(p, setups_proven=True), {715}),
    # 8xx store and vehicle
    (
        "no store",
        "store_and_vehicle",
        lambda p: with_totals(with_job(p, store=None), cost=Decimal(74)),
        {712, 801},
    ),
    ("store cuts late", "store_and_vehicle", _store_last, {502, 702, 802, 803}),
    ("too many store cuts", "store_and_vehicle", lambda p: with_store(p, max_cuts=0), {803}),
    ("store cuts what is on hand", "store_and_vehicle", sheet_on_hand, {804}),
    (
        "vehicle too small",
        "store_and_vehicle",
        lambda p: with_job(p, vehicle=Vehicle(f(60), f(47.9375))),
        {805},
    ),
    (
        "neither bed nor second opening",
        "store_and_vehicle",
        lambda p: with_job(p, vehicle=Vehicle(f(60), f(47), None, (f(96), f(47.9375)))),
        {805},
    ),
    (
        "whole sheet in the vehicle",
        "plain",
        lambda p: with_job(p, vehicle=Vehicle(f(90), f(48))),
        {805},
    ),
    *BROKEN_WEIGHTS,
]

STILL_SOUND: list[tuple[str, str, Edit]] = [
    *SOUND_EDGES,
    ("reach", "plain", lambda p: with_saw(p, max_rip=f(14.5))),
    ("stock", "plain", lambda p: with_sheet(p, 0, in_stock=1)),
    ("store cuts", "store_and_vehicle", lambda p: with_store(p, max_cuts=1)),
    (
        "free cuts",
        "store_and_vehicle",
        lambda p: with_bounds(
            with_totals(with_store(p, free_cuts=1), cost=Decimal(74)), cost_proven=True
        ),
    ),
    (
        "more free cuts than cuts",
        "store_and_vehicle",
        lambda p: with_bounds(
            with_totals(with_store(p, free_cuts=3), cost=Decimal(74)), cost_proven=True
        ),
    ),
    ("accuracy", "store_and_vehicle", lambda p: with_store(p, accuracy=f(0.25))),
    (
        "unsafe where no guide is",
        "plain",
        lambda p: with_cut(
            with_cut(
                with_saw(p, smallest_piece=f(97)),
                1,
                hazards=(Hazard.TOO_SMALL,),
                cautions=(Caution.UNSAFE, Caution.SUPPORT),
            ),
            2,
            hazards=(Hazard.TOO_SMALL,),
            cautions=(Caution.UNSAFE, Caution.SUPPORT),
        ),
    ),
    (
        "sizes worth keeping",
        "trimmed_edges",
        lambda p: with_job(p, keep_from=KeepFrom(f(94), f(240))),
    ),
    ("vehicle", "plain", lambda p: with_job(p, vehicle=Vehicle(f(48), f(96)))),
    (
        "second opening",
        "plain",
        lambda p: with_job(p, vehicle=Vehicle(f(60), f(40), None, (f(48), f(96)))),
    ),
    (
        "one half by each opening",
        "store_and_vehicle",
        lambda p: with_job(p, vehicle=Vehicle(f(47.875), f(48), None, (f(48), f(48)))),
    ),
    *SOUND_WEIGHTS,
    ("stock on hand cut at the shop", "plain", _only_stock_on_hand),
    (
        "stock on hand needs no vehicle",
        "plain",
        lambda p: with_job(_only_stock_on_hand(p), vehicle=Vehicle(f(10), f(10))),
    ),
]
"""Sound plans with one thing changed that leaves them sound, mostly a limit met exactly."""
